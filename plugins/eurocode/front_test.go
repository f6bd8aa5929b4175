package eurocode

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/eurocode/ec5"
	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
)

// What the front lets go never governs: of many random states of a rafter, of every duration and both signs, the worst is the same
// whether all are judged or only those of the front.
func TestFrontKeepsWhatGoverns(t *testing.T) {
	choices, absent := national.For("GB-ENG")
	require.Empty(t, absent)
	grade, absent := materials.FindTimber("C24")
	require.Empty(t, absent)
	piece := ec5.Piece{Grade: grade, Choices: &choices.Timber, Breadth: 47, Depth: 145, ServiceClass: 2}
	used := func(p *point) float64 {
		edge := ec5.Lateral{Full: p.m > 0, Length: 2400}
		ratio, known := piece.Combined(&ec5.Combined{
			Bending: ec5.Bending{Duration: p.duration, My: p.m, Mz: p.out, Lateral: edge},
			Axial:   ec5.Axial{Duration: p.duration, N: p.n, BucklingY: 2400, BucklingZ: 600},
		}, nil).Ratio()
		require.True(t, known)
		return ratio
	}
	random := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var kept front
		worst := 0.0
		for range 1 + random.IntN(60) {
			p := point{n: random.NormFloat64() * 3000, m: random.NormFloat64() * 8e5, out: random.NormFloat64() * 1e5, under: under{duration: national.Durations[random.IntN(5)]}}
			if random.IntN(3) == 0 {
				p.n, p.out = 0, 0
			}
			worst = max(worst, used(&p))
			kept.add(&p)
		}
		most := 0.0
		for i := range kept {
			most = max(most, used(&kept[i]))
		}
		assert.Equal(t, worst, most)
	}
}
