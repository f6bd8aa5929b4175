package frame_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Eight joists at 400 run north from x = 0 to 2800.
const joists = `"J": {"role": "floor joist", "path": [[0, 0, 0], [0, 4000, 0]], "repeat": {"count": 8, "step": [400, 0, 0]}}`

func TestOneOfARunIsTheNearest(t *testing.T) {
	for _, row := range []struct {
		say     string
		members string
		piece   string
		index   int
		on      string
		onAt    float64
		off     float64 // distance in plan of the axes
	}{
		{"each of a run lands where it is on a wall", `"W": {"role": "wall", "ground": true, "path": [[-1000, 0, 0], [4000, 0, 0]]},
			"R": {"role": "rafter", "path": [[0, 0, 0], [0, 3000, 0]], "repeat": {"count": 8, "step": [400, 0, 0]}, "supports": [{"on": "W"}]}`, "R#8", 0, "W", 3800, 0},
		{"a run on a run, piece on piece", `"P": {"role": "stud", "path": [[0, 1000, 0], [0, 1000, 2000]], "repeat": {"count": 8, "step": [400, 0, 0]}, "supports": [{"on": "J"}]},` + joists,
			"P#6", 0, "J#6", 1000, 0},
		{"100 aside the same piece is nearest", `"P": {"role": "stud", "path": [[100, 1000, 0], [100, 1000, 2000]], "repeat": {"count": 7, "step": [400, 0, 0]}, "supports": [{"on": "J"}]},` + joists,
			"P#6", 0, "J#6", 1000, 100},
		{"300 aside it is the next", `"P": {"role": "stud", "path": [[300, 1000, 0], [300, 1000, 2000]], "repeat": {"count": 7, "step": [400, 0, 0]}, "supports": [{"on": "J"}]},` + joists,
			"P#6", 0, "J#7", 1000, 100},
		{"a run that counts the other way", `"P": {"role": "stud", "path": [[2800, 1000, 0], [2800, 1000, 2000]], "repeat": {"count": 8, "step": [-400, 0, 0]}, "supports": [{"on": "J"}]},` + joists,
			"P#1", 0, "J#8", 1000, 0},
		{"beyond the run the last one is nearest", `"P": {"role": "stud", "path": [[3500, 1000, 0], [3500, 1000, 2000]], "supports": [{"on": "J"}]},` + joists,
			"P", 0, "J#8", 1000, 700},
		{"before it the first", `"P": {"role": "stud", "path": [[-500, 1000, 0], [-500, 1000, 2000]], "supports": [{"on": "J"}]},` + joists,
			"P", 0, "J#1", 1000, 500},
		{"a step of nothing leaves the first", `"P": {"role": "stud", "path": [[0, 1000, 0], [0, 1000, 2000]], "supports": [{"on": "K"}]},
			"K": {"role": "floor joist", "path": [[0, 0, 0], [0, 4000, 0]], "repeat": {"count": 3, "step": [0, 0, 0]}}`, "P", 0, "K#1", 1000, 0},
		// A bearer over all eight lies on the first and on the last.
		{"two supports on one run: the first piece", `"B": {"role": "beam", "path": [[0, 2000, 0], [2800, 2000, 0]], "supports": [{"on": "J"}, {"on": "J"}]},` + joists, "B", 0, "J#1", 2000, 0},
		{"and the last piece", `"B": {"role": "beam", "path": [[0, 2000, 0], [2800, 2000, 0]], "supports": [{"on": "J"}, {"on": "J"}]},` + joists, "B", 1, "J#8", 2000, 0},
		{"a place that is said is on the piece beneath it", `"B": {"role": "beam", "path": [[0, 2000, 0], [2800, 2000, 0]], "supports": [{"on": "J", "at": 1210}]},` + joists, "B", 0, "J#4", 2000, 10},
		// Joists askew at 45 degrees, 400 apart along x: J#3 passes (800 + 1500, 1500).
		{"a run askew to its step", `"P": {"role": "stud", "path": [[2300, 1500, 0], [2300, 1500, 2000]], "supports": [{"on": "K"}]},
			"K": {"role": "floor joist", "path": [[0, 0, 0], [3000, 3000, 0]], "repeat": {"count": 8, "step": [400, 0, 0]}}`, "P", 0, "K#3", 2121.3203436, 0},
		{"plates end to end: the one that it stands on", `"P": {"role": "stud", "path": [[5000, 0, 0], [5000, 0, 2000]], "supports": [{"on": "K"}]},
			"K": {"role": "sole plate", "path": [[0, 0, 0], [2000, 0, 0]], "repeat": {"count": 4, "step": [2000, 0, 0]}}`, "P", 0, "K#3", 1000, 0},
		{"rails over each other: the one at its level", `"P": {"role": "beam", "path": [[1000, 0, 1210], [1000, 2000, 1210]], "supports": [{"on": "K"}]},
			"K": {"role": "beam", "path": [[0, 0, 0], [2000, 0, 0]], "repeat": {"count": 4, "step": [0, 0, 600]}}`, "P", 0, "K#3", 1000, 0},
		// The second stretch of the K's runs north at x = 1000 + 400 k.
		{"a run of kinked pieces", `"P": {"role": "stud", "path": [[2200, 500, 0], [2200, 500, 2000]], "supports": [{"on": "K"}]},
			"K": {"role": "beam", "path": [[0, -1000, 0], [1000, 0, 0], [1000, 2000, 0]], "repeat": {"count": 6, "step": [400, 0, 0]}}`, "P", 0, "K#4", 1414.2135624 + 500, 0},
		{"posts in a row: the one beneath", `"B": {"role": "beam", "path": [[0, 0, 2000], [2400, 0, 2000]], "supports": [{"on": "K", "at": 1180}]},
			"K": {"role": "post", "path": [[0, 0, 0], [0, 0, 2000]], "repeat": {"count": 3, "step": [1200, 0, 0]}}`, "B", 0, "K#2", 2000, 20},
	} {
		t.Run(row.say, func(t *testing.T) {
			f := assemble(t, row.members)
			s := supportsOf(t, f, row.piece)[row.index]
			assert.Equal(t, row.on, on(f, &s))
			assert.InDelta(t, row.onAt, s.OnAt, 1e-6)
			assert.InDelta(t, row.off, s.Eccentric, 1e-6)
		})
	}
}

// Ten thousand studs on ten thousand joists, each on its own, whichever way either counts.
func TestLongRuns(t *testing.T) {
	const count = 10_000
	for _, sign := range []int{1, -1} {
		f := assemble(t, fmt.Sprintf(`
			"P": {"role": "stud", "path": [[0, 1000, 0], [0, 1000, 2000]], "repeat": {"count": %[1]d, "step": [400, 0, 0]}, "supports": [{"on": "J"}]},
			"J": {"role": "floor joist", "path": [[%[2]d, 0, 0], [%[2]d, 4000, 0]], "repeat": {"count": %[1]d, "step": [%[3]d, 0, 0]}}`,
			count, (count-1)*400*(1-sign)/2, 400*sign))
		for k := range int32(count) {
			s, _ := f.SupportsOf(k)
			want := k
			if sign < 0 {
				want = count - 1 - k
			}
			require.Equal(t, want, f.Pieces[s[0].On].Index)
			require.InDelta(t, 0, s[0].Eccentric, 1e-6)
		}
	}
}
