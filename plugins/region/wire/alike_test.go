package wire_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/plugins/region/wire"
	"example.com/scantling/testdata/regions/oakshire"
)

// beams is a batch of beams of which many combinations do the same.
func beams(t testing.TB, number int) *region.Batch {
	site := &region.Site{Sections: make([]region.Section, 1), Grades: []region.GradeName{{Name: "H20"}}}
	p, err := oakshire.New().Prepare(t.Context(), site)
	require.NoError(t, err)
	list := make([]kit.Beam, number)
	for i := range list {
		list[i] = kit.Beam{Span: 2000 + 100*float64(i), Load: 0.3 + float64(i)/10, Multiplicity: 1}
	}
	return kit.Batch(site, p, list, nil)
}

func TestForcesThatAreAlikeCrossOnce(t *testing.T) {
	b := beams(t, 5)
	require.NoError(t, b.Check())
	own := 0
	for _, like := range b.Pieces.Alike {
		if like == 0 {
			own++
		}
	}
	require.Less(t, own, len(b.Pieces.Alike)/2, "of these beams most combinations are alike")
	m := crossed(t, wire.PackBatch(b), &wire.Batch{})
	assert.Len(t, m.GetStations().GetM(), 3*own, "three stations a beam")
	assert.Len(t, m.GetContacts().GetDown(), 2*own, "two supports a beam")
	got, err := wire.UnpackBatch(m, b.Site, b.Preparation)
	require.NoError(t, err)
	sameRows(t, b, got)
}

func sameRows(t *testing.T, want, got *region.Batch) {
	t.Helper()
	require.Equal(t, want.Pieces, got.Pieces)
	require.Equal(t, want.Contacts, got.Contacts)
	require.Equal(t, want.Stations, got.Stations)
	require.Equal(t, want.Spans, got.Spans)
}

// TestAnyPatternOfAlikeCrosses gives each piece rows and combinations alike at random.
func TestAnyPatternOfAlikeCrosses(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 11))
	for range 100 {
		b := beams(t, 4)
		n := int(b.Combinations)
		for i := range b.Pieces.ID {
			alike := b.Pieces.Alike[i*n : (i+1)*n]
			for k := range alike {
				alike[k] = 0
				if k > 0 && r.IntN(2) == 0 {
					if j := r.IntN(k); alike[j] == 0 {
						alike[k] = int32(j) + 1
					}
				}
			}
			same := func(column []float64, from, to int32) {
				for row := from; row < to; row++ {
					for k := range alike {
						column[int(row)*n+k] = r.NormFloat64()
						if alike[k] > 0 {
							column[int(row)*n+k] = column[int(row)*n+int(alike[k])-1]
						}
					}
				}
			}
			p, c, s := &b.Pieces, &b.Contacts, &b.Stations
			for _, column := range [][]float64{c.Down, c.Up, c.Along} {
				same(column, p.ContactStart[i], p.ContactStart[i+1])
			}
			for _, column := range [][]float64{s.N, s.V, s.M, s.MomentOut} {
				same(column, p.StationStart[i], p.StationStart[i+1])
			}
			same(b.Spans.Deflection, p.SpanStart[i], p.SpanStart[i+1])
		}
		got, err := wire.UnpackBatch(crossed(t, wire.PackBatch(b), &wire.Batch{}), b.Site, b.Preparation)
		require.NoError(t, err)
		sameRows(t, b, got)
	}
}

func TestForcesThatDoNotFitWhatIsAlikeAreRefused(t *testing.T) {
	b := beams(t, 2)
	for _, row := range []struct {
		what  string
		spoil func(*wire.Batch)
		says  string
	}{
		{"alike to itself", func(m *wire.Batch) { m.Pieces.Alike[0] = 1 }, "Pieces.Alike[0] is 1, which is not the first of its like before combination 0"},
		{"alike to a later one", func(m *wire.Batch) { m.Pieces.Alike[0] = 3 }, "Pieces.Alike[0] is 3"},
		{"alike to one that is alike to another", func(m *wire.Batch) {
			copy(m.Pieces.Alike, []int32{0, 1, 2})
		}, "Pieces.Alike[2] is 2"},
		{"less than none", func(m *wire.Batch) { m.Pieces.Alike[1] = -1 }, "Pieces.Alike[1] is -1"},
		{"a combination short", func(m *wire.Batch) { m.Pieces.Alike = m.Pieces.Alike[1:] }, "Pieces.Alike has 19 entries instead of 20"},
		{"forces that are not alike left out", func(m *wire.Batch) { m.Stations.V = m.Stations.V[1:] }, "Stations.V has"},
		{"all forces sent though some are alike", func(m *wire.Batch) { m.Pieces.Alike = nil }, "Contacts.Down has"},
		{"starts that fall", func(m *wire.Batch) { m.Pieces.StationStart[1] = -5 }, "Pieces.StationStart[1] is -5 after 0"},
	} {
		t.Run(row.what, func(t *testing.T) {
			m := crossed(t, wire.PackBatch(b), &wire.Batch{})
			row.spoil(m)
			_, err := wire.UnpackBatch(m, b.Site, b.Preparation)
			assert.ErrorContains(t, err, row.says)
		})
	}
}
