package frame_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
)

// rafters is a couple of 8 m span and 3 m rise, so of two slopes 5 m long (3-4-5), with a board's breadth between their
// heads; more stands for what either says besides.
func rafters(more string) string {
	return `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WL"}, {"against": "R"}]` + more + `},
		"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WR"}, {"against": "L"}]` + more + `},` + feet
}

const feet = `"WL": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 9000, 0]]},
	"WR": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 9000, 0]]}`

const (
	run    = `, "repeat": {"count": 5, "step": [0, 600, 0]}`
	ahead  = `"supports": [{"on": "WL"}, {"against": "R"}]`
	behind = `"supports": [{"on": "WR"}, {"against": "L"}]`
)

// pairs is who leans on whom, by name, each couple once.
func pairs(f *frame.Frame) [][2]string {
	var out [][2]string
	for _, c := range f.Couples {
		out = append(out, [2]string{f.Name(c.Rafters[0]), f.Name(c.Rafters[1])})
	}
	return out
}

func TestPairing(t *testing.T) {
	for _, row := range []struct {
		say     string
		members string
		want    [][2]string
		wrong   frame.Problem // of the first head
	}{
		{"two that lean on each other", rafters(""), [][2]string{{"L", "R"}}, frame.Sound},
		{"runs pair piece by piece", rafters(run), [][2]string{{"L#1", "R#1"}, {"L#2", "R#2"}, {"L#3", "R#3"}, {"L#4", "R#4"}, {"L#5", "R#5"}}, frame.Sound},
		{"a run that counts the other way pairs by its place",
			`"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "repeat": {"count": 3, "step": [0, 600, 0]}, ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, 1200, 0], [4000, 1200, 3000]], "repeat": {"count": 3, "step": [0, -600, 0]}, ` + behind + `},` + feet,
			[][2]string{{"L#1", "R#3"}, {"L#2", "R#2"}, {"L#3", "R#1"}}, frame.Sound},
		{"of a longer run some stay alone",
			`"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, -600, 0], [4000, -600, 3000]], "repeat": {"count": 3, "step": [0, 600, 0]}, ` + behind + `},` + feet,
			[][2]string{{"L", "R#2"}}, frame.Sound},
		{"one drawn from its head down",
			`"L": {"role": "rafter", "path": [[4000, 0, 3000], [0, 0, 0]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], ` + behind + `},` + feet,
			[][2]string{{"L", "R"}}, frame.Sound},
		{"both drawn from their heads down",
			`"L": {"role": "rafter", "path": [[4000, 0, 3000], [0, 0, 0]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[4000, 0, 3000], [8000, 0, 0]], ` + behind + `},` + feet,
			[][2]string{{"L", "R"}}, frame.Sound},
		{"unequal slopes in one plane",
			`"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[9000, 0, 500], [4040, 0, 3000]], ` + behind + `},` + feet,
			[][2]string{{"L", "R"}}, frame.Sound},
		{"lapping past each other by 50", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, 50, 0], [4000, 50, 3000]], ` + behind + `},` + feet, [][2]string{{"L", "R"}}, frame.Sound},
		{"150 apart they are not in one plane", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, 150, 0], [4000, 150, 3000]], ` + behind + `},` + feet, nil, frame.NoPartner},
		{"heads half a metre apart do not meet", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, 0, 0], [4500, 0, 3000]], ` + behind + `},` + feet, nil, frame.NoPartner},
		{"at right angles nothing opposes", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[4000, 4000, 0], [4000, 0, 3000]], ` + behind + `},` + feet, nil, frame.NoPartner},
		{"one that does not lean back", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WR"}]},` + feet, nil, frame.NoPartner},
		{"one that leans elsewhere", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WR"}, {"against": "M"}]},` + feet, nil, frame.NoPartner},
		{"a mark that the model lacks", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},` + feet, nil, frame.NamesNoMark},
		{"itself", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"against": "L"}]},` + feet, nil, frame.NamesItself},
		{"one that goes", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "phase": "removed", "path": [[8000, 0, 0], [4000, 0, 3000]], ` + behind + `},` + feet, nil, frame.NamesGone},
		{"one that stands on the ground leans on nobody", `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "ground": true, "path": [[8000, 0, 0], [4000, 0, 3000]], ` + behind + `},` + feet, nil, frame.NoPartner},
		{"by length and pitch they pair in order",
			`"L": {"role": "rafter", "length": 5000, "pitch": 36.8699, "repeat": {"count": 2, "step": [0, 600, 0]}, "supports": [{"on": "WL", "at": 0}, {"against": "R"}]},
			"R": {"role": "rafter", "length": 5000, "pitch": 36.8699, "repeat": {"count": 2, "step": [0, 600, 0]}, "supports": [{"on": "WR", "at": 0}, {"against": "L"}]},` + feet,
			[][2]string{{"L#1", "R#1"}, {"L#2", "R#2"}}, frame.Sound},
		{"without any length too",
			`"L": {"role": "rafter", ` + ahead + `}, "R": {"role": "rafter", ` + behind + `},` + feet, [][2]string{{"L", "R"}}, frame.Sound},
		{"three cannot lean on one: the third has no partner", `"A": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WL"}, {"against": "R"}, {"against": "R"}]},
			"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], ` + ahead + `},
			"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WR"}, {"against": "A"}, {"against": "L"}]},` + feet,
			[][2]string{{"A", "R"}}, frame.Sound},
	} {
		t.Run(row.say, func(t *testing.T) {
			f := assemble(t, row.members)
			assert.Equal(t, row.want, pairs(f))
			for _, s := range f.Supports {
				if s.Against {
					assert.Equal(t, row.wrong, s.Problem)
					assert.Equal(t, row.wrong == frame.Sound, s.On >= 0)
					break
				}
			}
			assert.Len(t, f.Order, len(f.Pieces), "every piece is ordered")
		})
	}
}

// By length and pitch both would rise along x: the second is laid to face the first, so that their thrusts oppose.
func TestRaftersWithoutPathsFaceEachOther(t *testing.T) {
	for _, row := range []struct{ say, l, r string }{
		{"both by length", `"length": 5000, "pitch": 36.8699`, `"length": 5000, "pitch": 36.8699`},
		{"one placed", `"path": [[0, 0, 0], [0, 4000, 3000]]`, `"length": 5000, "pitch": 36.8699`},
		{"one placed, written after", `"length": 5000, "pitch": 36.8699`, `"path": [[0, 0, 0], [0, 4000, 3000]]`},
	} {
		t.Run(row.say, func(t *testing.T) {
			f := assemble(t, `"L": {"role": "rafter", `+row.l+`, `+ahead+`}, "R": {"role": "rafter", `+row.r+`, `+behind+`},`+feet)
			require.Len(t, f.Couples, 1)
			l, r := f.Shapes[0], f.Shapes[1]
			assert.InDelta(t, -1, l.DirX*r.DirX+l.DirY*r.DirY, 1e-9)
			for i := range 2 {
				rise := f.Shapes[i].At(5000)
				assert.InDelta(t, 4000*f.Shapes[i].DirX, rise.X, 1e-2)
				assert.InDelta(t, 4000*f.Shapes[i].DirY, rise.Y, 1e-2)
				assert.InDelta(t, 3000, rise.Z, 1e-2)
			}
		})
	}
}

func TestTiesMeetBothRafters(t *testing.T) {
	for _, row := range []struct {
		say string
		tie string // of T
		by  string // how the rafters name it
		at  [2]float64
	}{
		{"at the feet", `"path": [[0, 0, 0], [8000, 0, 0]], "supports": [{"on": "WL"}, {"on": "WR"}]`, `, "tied_by": ["T"]`, [2]float64{0, 0}},
		{"nailed beside the feet, 100 up", `"path": [[0, 50, 100], [8000, 50, 100]], "supports": [{"on": "WL"}, {"on": "WR"}]`, `, "tied_by": ["T"]`, [2]float64{0, 0}},
		// 1500 of the 3000 up is half of the 5 m.
		{"raised to half the rise", `"path": [[2000, 0, 1500], [6000, 0, 1500]]`, `, "tied_by": ["T"]`, [2]float64{2500, 2500}},
		{"where the document says", `"path": [[2000, 0, 1500], [6000, 0, 1500]]`, `, "tied_by": [{"on": "T", "at": 2400}]`, [2]float64{2400, 2400}},
		{"where it says, no further than the head", `"path": [[2000, 0, 1500], [6000, 0, 1500]]`, `, "tied_by": [{"on": "T", "at": 9000}]`, [2]float64{5000, 5000}},
		{"without a path at the feet", `"length": 8000, "supports": [{"on": "WL", "at": 0}, {"on": "WR", "at": 8000}]`, `, "tied_by": ["T"]`, [2]float64{0, 0}},
	} {
		t.Run(row.say, func(t *testing.T) {
			f := assemble(t, rafters(row.by)+`, "T": {"role": "tie", `+row.tie+`}`)
			require.Len(t, f.Couples, 1)
			require.Len(t, f.Couples[0].Ties, 1)
			tie := f.Couples[0].Ties[0]
			assert.Equal(t, "T", f.Name(tie.Piece))
			assert.Equal(t, [2]int32{0, 0}, tie.Named)
			assert.InDelta(t, row.at[0], tie.At[0], 1e-6)
			assert.InDelta(t, row.at[1], tie.At[1], 1e-6)
		})
	}
}

func TestATieOfARunIsThatInTheRaftersPlane(t *testing.T) {
	f := assemble(t, rafters(`, "tied_by": ["T"]`+run)+`, "T": {"role": "ceiling joist", "path": [[0, -550, 0], [8000, -550, 0]],
		"repeat": {"count": 7, "step": [0, 600, 0]}, "supports": [{"on": "WL"}, {"on": "WR"}]}`)
	require.Len(t, f.Couples, 5)
	for k, c := range f.Couples {
		require.Len(t, c.Ties, 1)
		assert.EqualValues(t, k+1, f.Pieces[c.Ties[0].Piece].Index, "T#1 is outside, 50 before each rafter lies one more")
	}
}

func TestATieThatOneRafterNames(t *testing.T) {
	f := assemble(t, `"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "tied_by": ["T", "X"], `+ahead+`},
		"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], `+behind+`},`+feet+`,
		"T": {"role": "collar", "path": [[2000, 0, 1500], [6000, 0, 1500]]}`)
	require.Len(t, f.Couples, 1)
	require.Len(t, f.Couples[0].Ties, 2)
	tie, missing := f.Couples[0].Ties[0], f.Couples[0].Ties[1]
	assert.Equal(t, [2]int32{0, -1}, tie.Named, "the other rafter is tied all the same")
	assert.InDelta(t, 2500, tie.At[1], 1e-6)
	assert.EqualValues(t, -1, missing.Piece, "what is named and does not stand is kept, and ties nothing")
}

// A collar names no support: it hangs from both rafters, half up each, whichever way it is drawn.
func TestCollarsHangFromTheirRafters(t *testing.T) {
	for _, path := range []string{`[[2000, 0, 1500], [6000, 0, 1500]]`, `[[6000, 0, 1500], [2000, 0, 1500]]`} {
		f := assemble(t, rafters(`, "tied_by": ["T"]`)+`, "T": {"role": "collar", "path": `+path+`}`)
		s := supportsOf(t, f, "T")
		require.Len(t, s, 2)
		for k := range s {
			assert.EqualValues(t, -1, s[k].Document, "the document does not say it")
			assert.InDelta(t, 2500, s[k].OnAt, 1e-6)
			x := f.Point(s[k].Piece, s[k].At).X
			assert.InDelta(t, map[string]float64{"L": 2000, "R": 6000}[on(f, &s[k])], x, 1e-6)
		}
		before(t, f)
	}
}

// A board along five couples at 600, from 300 before the first to 500 past the last: each couple takes the length nearest
// to it, 600 and at the ends 600 and 800, half on either rafter.
func TestARidgeBoardLiesOnTheHeads(t *testing.T) {
	f := assemble(t, rafters(run)+`, "RB": {"role": "ridge board", "path": [[4000, -300, 3000], [4000, 2900, 3000]]}`)
	s := supportsOf(t, f, "RB")
	require.Len(t, s, 10)
	share := map[string]float64{}
	reached := 0.0
	for k := range s {
		assert.InDelta(t, reached, s[k].From, 1e-6, "stretch after stretch")
		reached = s[k].To
		share[on(f, &s[k])] += s[k].To - s[k].From
		assert.InDelta(t, 5000, s[k].OnAt, 1e-6)
	}
	assert.InDelta(t, 3200, reached, 1e-6)
	for name, want := range map[string]float64{"L#1": 300, "R#1": 300, "L#3": 300, "R#3": 300, "L#5": 400, "R#5": 400} {
		assert.InDelta(t, want, share[name], 1e-6, name)
	}
	before(t, f)
}

func TestARidgeBoardAloneLiesOnNothing(t *testing.T) {
	f := assemble(t, `"RB": {"role": "ridge board", "path": [[4000, 0, 3000], [4000, 2900, 3000]]}`)
	assert.Empty(t, supportsOf(t, f, "RB"))
	f = assemble(t, rafters("")+`, "RB": {"role": "ridge board", "path": [[4000, 2000, 3000], [4000, 2900, 3000]]}`)
	assert.Empty(t, supportsOf(t, f, "RB"), "2 m from the only couple")
	f = assemble(t, `"L": {"role": "rafter", `+ahead+`}, "R": {"role": "rafter", `+behind+`},`+feet+`, "RB": {"role": "ridge board", "path": [[0, 0, 0], [0, 900, 0]]}`)
	assert.Empty(t, supportsOf(t, f, "RB"), "heads without a place are nowhere near")
}
