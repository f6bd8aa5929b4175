package statics_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/statics"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/region"
)

// run takes a document of some members down. Walls W1 (x = 0) and W2 (x = span) stand ready.
func run(t *testing.T, text string) *statics.TakeDown {
	t.Helper()
	doc, problems := read.Document([]byte(text), "hand")
	require.Empty(t, problems)
	down := statics.Run(input(doc))
	assert.Less(t, down.Imbalance(), 1e-12)
	return down
}

const walls = `"W1": {"role": "wall", "material": "masonry", "width": 100, "ground": true, "path": [[0, -5000, 0], [0, 5000, 0]]},
  "W2": {"role": "wall", "material": "masonry", "width": 100, "ground": true, "path": [[4000, -5000, 3000], [4000, 5000, 3000]]}`

// sloped is a rafter from W1 to W2: 4 m in plan, 3 m up, 5 m along; cos 0.8, sin 0.6.
func sloped(areas, rafter string) string {
	return `{"framing": 1, "title": "hand", "units": "metric", "self_weight": false, "areas": {` + areas + `},
 "members": {` + walls + `, "R": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 3000]],
  "supports": [{"on": "W1", "bearing": 50}, {"on": "W2", "bearing": 50}], ` + rafter + `}}}`
}

// reaction is a support's push on its member in one case: along its plan direction and up, N.
func reaction(t *testing.T, l *statics.Listing, mark string, support int, kase string) (u, z float64) {
	t.Helper()
	p := pieceOf(t, l, mark)
	c := caseIndex(t, l, kase)
	return p.Supports[support].Horizontal[c], p.Supports[support].Vertical[c]
}

func TestWind(t *testing.T) {
	// Suction of 0.5 kN/m2 on a strip 600 wide, square to the slope: q = 0.3 N/mm over 5000 mm, 1500 N in all, pointing up
	// and outwards: (-0.6, 0.8) * 1500 = (-900, +1200) N. The lower end alone holds the level part: +900 N. Moments
	// about the lower end, through which the reaction passes: the load acts at mid-length with lever 2500 mm, 3.75 kNm;
	// the upper reaction is upright at 4000 mm in plan: -3.75e6 / 4000 = -937.5 N. The lower: -1200 + 937.5 = -262.5 N.
	t.Run("suction square to a slope", func(t *testing.T) {
		l := run(t, sloped(`"roof": {"kind": "roof", "wind": -0.5}`, `"carries": [{"area": "roof", "width": 600}]`)).List()
		u, z := reaction(t, l, "R", 0, "wind")
		assert.InDelta(t, 900, u, 1e-9)
		assert.InDelta(t, -262.5, z, 1e-9)
		u, z = reaction(t, l, "R", 1, "wind")
		assert.InDelta(t, 0, u, 1e-9)
		assert.InDelta(t, -937.5, z, 1e-9)
		// Across the axis it is a beam of 5 m under 0.3 N/mm upwards: M = -0.3 * 5000^2 / 8 = -937,500 N mm.
		assert.InDelta(t, -937500, pieceOf(t, l, "R").Moment[caseIndex(t, l, "wind")].Min, 1e-6)
	})
	// Two winds of one area are two cases; a level joist under the uplift of 0.4 kN/m2 on a strip of 500 takes 0.2 N/mm
	// upwards over 4000 mm: 400 N at either end, nothing level.
	t.Run("named winds are cases of their own", func(t *testing.T) {
		l := run(t, `{"framing": 1, "title": "hand", "self_weight": false, "areas": {"flat": {"kind": "roof", "wind": {"west": -0.4, "east": 0.2}}},
 "members": {"A": {"role": "wall", "ground": true}, "B": {"role": "wall", "ground": true},
  "J": {"role": "beam", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 0]], "carries": [{"area": "flat", "width": 500}],
   "supports": [{"on": "A"}, {"on": "B"}]}}}`).List()
		u, z := reaction(t, l, "J", 0, "wind:west")
		assert.InDelta(t, 0, u, 1e-9)
		assert.InDelta(t, -400, z, 1e-9)
		_, z = reaction(t, l, "J", 1, "wind:east")
		assert.InDelta(t, 200, z, 1e-9)
	})
}

func TestSelfWeight(t *testing.T) {
	// 50x150 C24 at 420 kg/m3 (EN 338): 0.0075 m2 * 420 = 3.15 kg/m; 4 m weigh 12.6 kg = 123.5638 N, half at either end.
	t.Run("of a level timber", func(t *testing.T) {
		l := run(t, `{"framing": 1, "title": "hand", "members": {"A": {"role": "wall", "ground": true}, "B": {"role": "wall", "ground": true},
  "J": {"role": "beam", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}, {"on": "B"}]}}}`).List()
		_, z := reaction(t, l, "J", 0, "dead")
		assert.InDelta(t, 12.6*9.80665/2, z, 1e-9)
	})
	// A post of 100x100 C24, 3 m: 0.01 * 420 * 3 = 12.6 kg on the middle of a steel beam of 203x133x25 UB, 25.1 kg/m, 6 m:
	// 150.6 kg. Each wall takes half of 163.2 kg.
	t.Run("of a post on a steel", func(t *testing.T) {
		down := run(t, `{"framing": 1, "title": "hand", "members": {"A": {"role": "wall", "ground": true}, "B": {"role": "wall", "ground": true},
  "S": {"role": "beam", "section": "203x133x25 UB", "grade": "S275", "path": [[0, 0, 0], [6000, 0, 0]], "supports": [{"on": "A"}, {"on": "B"}]},
  "P": {"role": "post", "section": "100x100", "grade": "C24", "path": [[3000, 0, 0], [3000, 0, 3000]], "supports": [{"on": "S"}]}}}`)
		l := down.List()
		assert.InDelta(t, 163.2*9.80665/2, groundOf(l, "A", "dead"), 1e-6)
		assert.InDelta(t, 12.6*9.80665, -pieceOf(t, l, "P").Axial[caseIndex(t, l, "dead")].Min, 1e-6, "compression at the foot")
	})
}

// A wall over a lintel that does not say what it weighs is a load left out, unlike one that does, and one on the ground.
func TestWallThatDoesNotSayWhatItWeighs(t *testing.T) {
	said := func(wall string) []string {
		var out []string
		down := run(t, `{"framing": 1, "title": "hand", "members": {`+walls+`,
  "L": {"role": "lintel", "section": {"width": 100, "depth": 140, "mass": 30}, "path": [[0, 0, 0], [4000, 0, 0]],
    "supports": [{"on": "W1", "bearing": 150}, {"on": "W2", "bearing": 150}]},
  "W3": {"role": "wall", "material": "masonry", "width": 100, "path": [[0, 0, 2070], [4000, 0, 2070]]`+wall+`, "supports": [{"on": "L", "continuous": true}]}}}`)
		for i := range down.Remarks {
			if r := &down.Remarks[i]; r.LeftOut() {
				out = append(out, down.Frame.Document.Members[r.Member].Mark)
			}
		}
		return out
	}
	assert.Equal(t, []string{"W3"}, said(""))
	assert.Equal(t, []string{"W3"}, said(`, "height": 2000`))
	assert.Empty(t, said(`, "height": 2000, "weight": 2`))
}

func TestCarries(t *testing.T) {
	// Dead 0.75 kN/m2 on the slope, snow 0.6 kN/m2 on plan, strip 600: dead 0.45 N/mm along 5000 mm = 2250 N; snow
	// 0.36 N/mm over 4000 mm of plan = 1440 N. Half at either end, upright.
	t.Run("dead by the slope, snow by the plan", func(t *testing.T) {
		l := run(t, sloped(`"roof": {"kind": "roof", "dead": 0.75, "snow": 0.6}`, `"centres": 600, "carries": ["roof"]`)).List()
		for support := range 2 {
			u, z := reaction(t, l, "R", support, "dead")
			assert.InDelta(t, 0, u, 1e-9)
			assert.InDelta(t, 1125, z, 1e-9)
			_, z = reaction(t, l, "R", support, "snow")
			assert.InDelta(t, 720, z, 1e-9)
		}
	})
	// A level purlin under a roof of 60 degrees: each metre of plan has two metres of slope, so dead 0.5 kN/m2 on a strip
	// 1000 wide in plan is 1.0 N/mm: 4000 N, and with "dead_on": "plan" half of that.
	t.Run("an area's pitch serves a level member", func(t *testing.T) {
		for dead, want := range map[string]float64{"slope": 2000, "plan": 1000} {
			l := run(t, `{"framing": 1, "title": "hand", "self_weight": false, "areas": {"roof": {"kind": "roof", "dead": 0.5, "pitch": 60, "dead_on": "`+dead+`"}},
 "members": {"A": {"role": "wall", "ground": true}, "B": {"role": "wall", "ground": true},
  "P": {"role": "purlin", "section": "75x225", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 0]], "carries": [{"area": "roof", "width": 1000}],
   "supports": [{"on": "A"}, {"on": "B"}]}}}`).List()
			_, z := reaction(t, l, "P", 0, "dead")
			assert.InDelta(t, want, z, 1e-9, dead)
		}
	})
}

func TestRepeat(t *testing.T) {
	// Four joists at 1000 centres from x = 1000 on a beam of 6 m, 1 kN on the middle of each: 500 N a joist on the beam.
	// R_A = 500 * (5 + 4 + 3 + 2) / 6 = 1166.67 N, R_B = 500 * (1 + 2 + 3 + 4) / 6 = 833.33 N.
	// V is 166.67 before the third joist and -333.33 after it, so M is largest there: 1166.67 * 3000 - 500 * (2000 + 1000)
	// = 2,000,000 N mm.
	t.Run("each piece lands where its own geometry says", func(t *testing.T) {
		l := run(t, `{"framing": 1, "title": "hand", "self_weight": false, "members": {"A": {"role": "wall", "ground": true}, "B": {"role": "wall", "ground": true},
  "C": {"role": "wall", "ground": true, "path": [[0, 3000, 0], [6000, 3000, 0]]},
  "S": {"role": "beam", "section": "75x225", "grade": "C24", "path": [[0, 0, 0], [6000, 0, 0]], "supports": [{"on": "A"}, {"on": "B"}]},
  "J": {"role": "floor joist", "section": "47x195", "grade": "C24", "path": [[1000, 0, 0], [1000, 3000, 0]], "repeat": {"count": 4, "step": [1000, 0, 0]},
   "supports": [{"on": "S"}, {"on": "C"}], "loads": [{"action": "imposed", "point": 1, "at": 1500}]}}}`).List()
		assert.InDelta(t, 500*14.0/6, groundOf(l, "A", "imposed"), 1e-9)
		assert.InDelta(t, 500*10.0/6, groundOf(l, "B", "imposed"), 1e-9)
		assert.InDelta(t, 2000, groundOf(l, "C", "imposed"), 1e-9)
		m := pieceOf(t, l, "S").Moment[caseIndex(t, l, "imposed")]
		assert.InDelta(t, 500*14.0/6*3000-500*3000, m.Max, 1e-6)
		assert.InDelta(t, 3000, m.MaxAt, 1e-9)
	})
	// Posts in a run stand on the pieces of a run: each on its own.
	t.Run("a run rests on a run piece by piece", func(t *testing.T) {
		down := run(t, `{"framing": 1, "title": "hand", "self_weight": false, "members": {"A": {"role": "wall", "ground": true, "path": [[0, 0, 0], [0, 9000, 0]]},
  "B": {"role": "wall", "ground": true, "path": [[2000, 0, 0], [2000, 9000, 0]]},
  "J": {"role": "floor joist", "section": "47x195", "grade": "C24", "path": [[0, 500, 0], [2000, 500, 0]], "repeat": {"count": 9, "step": [0, 400, 0]},
   "supports": [{"on": "A"}, {"on": "B"}]},
  "P": {"role": "post", "section": "100x100", "grade": "C24", "path": [[500, 900, 0], [500, 900, 2000]], "repeat": {"count": 3, "step": [0, 800, 0]},
   "supports": [{"on": "J"}], "loads": [{"action": "imposed", "point": 4, "at": 2000}]}}}`)
		joists := down.List().Members[0]
		c := caseIndex(t, down.List(), "imposed")
		for i, p := range joists.Pieces { // P#1 at y = 900 stands on J#2, P#2 at 1700 on J#4, P#3 at 2500 on J#6
			want := 0.0
			if i == 1 || i == 3 || i == 5 {
				want = 3000
			}
			assert.InDelta(t, want, p.Supports[0].Vertical[c], 1e-9, p.Piece)
		}
	})
}

func TestInclinedStrut(t *testing.T) {
	const frame = `{"framing": 1, "title": "hand", "self_weight": false, "members": {"A": {"role": "wall", "ground": true, "path": [[0, -100, 0], [0, 100, 0]]},
  "C": {"role": "wall", "ground": true}, "D": {"role": "wall", "ground": true},
  "S": {"role": "strut", "section": "75x100", "grade": "C24", "path": [[0, 0, 0], [1500, 0, 2000]], "supports": [{"on": "A"}]},
  "P": {"role": "purlin", "section": "75x225", "grade": "C24", "path": [[1500, -2000, 2000], [1500, 2000, 2000]],
   "supports": [{"on": "C", "at": 0}, {"on": "S", "at": 2000}, {"on": "D", "at": 4000}], "loads": [%s]}}}`
	// The purlin runs over two spans of 2 m with 3 N/mm: the middle takes 10/8 of a span's load, 1.25 * 3 * 2000 = 7500 N
	// (Steel Designers' Manual, continuous beams, from memory). The strut rises 2 m over 1.5 m: with 7500 N on its head its
	// head must be held by 7500 * 1.5 / 2 = 5625 N sideways, and its foot pushes back as much; its axial force is
	// 7500 / 0.8 = 9375 N compression.
	t.Run("under a continuous purlin", func(t *testing.T) {
		down := run(t, replaceFirst(frame, "%s", `{"action": "dead", "line": 3}`))
		l := down.List()
		u, z := reaction(t, l, "S", 0, "dead")
		assert.InDelta(t, 7500, z, 1e-6)
		assert.InDelta(t, 5625, u, 1e-6, "the foot is pushed towards the purlin")
		push := down.HeadPush(pieceIndex(down, "S"))
		require.NotNil(t, push)
		assert.InDelta(t, -5625, push[caseIndex(t, l, "dead")].X, 1e-6)
		axial := pieceOf(t, l, "S").Axial[caseIndex(t, l, "dead")]
		assert.InDelta(t, -9375, axial.Min, 1e-6)
		assert.InDelta(t, -9375, axial.Max, 1e-6)
	})
	// Loaded itself by 1 kN upright at mid-length and nothing else: moments about the foot, 1000 * 750 = h * 2000, so the
	// head is held by 375 N; the foot takes 1000 N up and 375 N across.
	t.Run("with a load of its own", func(t *testing.T) {
		down := run(t, `{"framing": 1, "title": "hand", "self_weight": false, "members": {"A": {"role": "wall", "ground": true, "path": [[0, -100, 0], [0, 100, 0]]},
  "S": {"role": "strut", "section": "75x100", "grade": "C24", "path": [[0, 0, 0], [1500, 0, 2000]], "supports": [{"on": "A"}],
   "loads": [{"action": "dead", "point": 1, "at": 1250}]}}}`)
		l := down.List()
		u, z := reaction(t, l, "S", 0, "dead")
		assert.InDelta(t, 1000, z, 1e-9)
		assert.InDelta(t, 375, u, 1e-9)
		// At mid-length the bending moment is that of a beam 2500 long under the part of 1 kN square to it, 600 N:
		// 600 * 2500 / 4 = 375,000 N mm.
		assert.InDelta(t, 375000, pieceOf(t, l, "S").Moment[caseIndex(t, l, "dead")].Max, 1e-6)
	})
}

// couple is two rafters of 3 m in plan and 3 m up on walls 6 m apart, tied at a level.
func couple(level, load string) string {
	return `{"framing": 1, "title": "hand", "self_weight": false, "members": {
  "A": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "B": {"role": "wall", "ground": true, "path": [[6000, -500, 0], [6000, 500, 0]]},
  "R1": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [3000, 0, 3000]], "tied_by": "T",
   "supports": [{"on": "A"}, {"against": "R2"}], "loads": [` + load + `]},
  "R2": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[6000, 0, 0], [3000, 0, 3000]], "tied_by": "T",
   "supports": [{"on": "B"}, {"against": "R1"}], "loads": [` + load + `]},
  "T": {"role": "collar", "section": "50x100", "grade": "C24", "path": [[` + level + `, 0, ` + level + `], [` + opposite(level) + `, 0, ` + level + `]]}}}`
}

func opposite(level string) string {
	return map[string]string{"1000": "5000", "1500": "4500"}[level]
}

func TestRaisedCollar(t *testing.T) {
	// 2 kN a metre of plan on both rafters, 6 kN each. One rafter, moments about its head for a tie T at height c above
	// the foot and a rise r: V * 3000 - 6000 * 1500 - T * (r - c) = 0 with V = 6000, so T = 9e6 / (3000 - c).
	// c = 1000: T = 4500 N. c = 1500: T = 6000 N. On the roller below the collar the rafter bends: M there is
	// V * x - w x^2 / 2 with x = c: at 1000, 6e6 - 1e6 = 5e6 N mm; at 1500, 9e6 - 2.25e6 = 6.75e6 N mm.
	for level, want := range map[string]struct{ tie, moment float64 }{"1000": {4500, 5e6}, "1500": {6000, 6.75e6}} {
		t.Run("at "+level, func(t *testing.T) {
			down := run(t, couple(level, `{"action": "dead", "line": 2, "per": "plan"}`))
			l := down.List()
			c := caseIndex(t, l, "dead")
			assert.InDelta(t, want.tie, pieceOf(t, l, "T").Axial[c].Max, 1e-6)
			for _, mark := range []string{"R1", "R2"} {
				u, z := reaction(t, l, mark, 0, "dead")
				assert.InDelta(t, 6000, z, 1e-6, mark)
				assert.InDelta(t, 0, u, 1e-6, "the collar alone takes the thrust")
				e := down.NewAnalyst().Effects(pieceIndex(down, mark))
				at := math.Sqrt2 * map[string]float64{"1000": 1000, "1500": 1500}[level]
				assert.InDelta(t, want.moment, valueOf(t, e, c, at), 1e-3, mark)
			}
		})
	}
	// Snow on one side only, 6 kN on R1: the feet take 6 * 4.5 / 6 = 4.5 kN and 1.5 kN. Moments about the head of the bare
	// rafter R2: 1500 * 3000 = T * 2000 for a collar at 1000: T = 2250 N.
	t.Run("loaded on one side", func(t *testing.T) {
		text := couple("1000", "")
		text = replaceFirst(text, `"loads": []`, `"loads": [{"action": "snow", "line": 2, "per": "plan"}]`)
		l := run(t, text).List()
		_, z := reaction(t, l, "R1", 0, "snow")
		assert.InDelta(t, 4500, z, 1e-6)
		_, z = reaction(t, l, "R2", 0, "snow")
		assert.InDelta(t, 1500, z, 1e-6)
		assert.InDelta(t, 2250, pieceOf(t, l, "T").Axial[caseIndex(t, l, "snow")].Max, 1e-6)
	})
	// Untied, the same couple pushes its feet apart with H = W * (half span / 2) / rise = 6000 * 1500 / 3000 = 3000 N.
	t.Run("untied, the feet push on what they stand on", func(t *testing.T) {
		text := couple("1000", `{"action": "dead", "line": 2, "per": "plan"}`)
		text = replaceFirst(replaceFirst(text, `"tied_by": "T",`, ``), `"tied_by": "T",`, ``)
		l := run(t, replaceFirst(text, `"role": "collar"`, `"ground": true, "role": "collar"`)).List()
		for support, mark := range []string{"R1", "R2"} {
			u, z := reaction(t, l, mark, 0, "dead")
			assert.InDelta(t, 6000, z, 1e-6)
			assert.InDelta(t, 3000, u, 1e-6, "foot %d is pushed back towards the head", support)
		}
	})
}

func replaceFirst(text, old, with string) string { return strings.Replace(text, old, with, 1) }

// valueOf is the moment at a place of a piece in one case, N mm.
func valueOf(t *testing.T, e *statics.Effects, kase int, at float64) float64 {
	t.Helper()
	v, ok := e.Cases[kase].Full.Value(plane.Moment, at, plane.Before)
	require.True(t, ok)
	return v
}

// A wall of 2 kN/m2 and 2.4 m under a beam that brings 4 kN and half its weight (20000 mm2 x 4 m x 420 kg/m3: 164.75
// N) to its middle, a wall along it of 3 N/mm and its own load of 1 N/mm on a part:
// what presses on it is all of that but its own weight.
func TestPressing(t *testing.T) {
	down := run(t, `{"framing": 1, "title": "hand", "units": "metric", "members": {
		"W": {"role": "wall", "material": "masonry", "width": 100, "height": 2400, "weight": 2, "ground": true, "path": [[0, 0, 0], [6000, 0, 0]], "loads": [{"action": "imposed", "line": 1, "from": 1000, "to": 2000}]},
		"X": {"role": "wall", "material": "masonry", "width": 100, "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]},
		"U": {"role": "wall", "material": "masonry", "width": 100, "height": 1500, "weight": 2, "path": [[0, 0, 1500], [6000, 0, 1500]], "supports": [{"on": "W", "continuous": true}]},
		"B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[3000, 0, 0], [3000, 4000, 0]], "supports": [{"on": "W"}, {"on": "X"}], "loads": [{"action": "dead", "line": 2}]}}}`)
	f := down.Frame
	wall, _ := f.PiecesOf(int32(f.Document.Index("W")))
	beam, _ := f.PiecesOf(int32(f.Document.Index("B")))
	_, support := f.SupportsOf(beam)
	dead, imposed := 0, 1
	assert.ElementsMatch(t, []statics.Pressing{
		{Case: imposed, Support: -1, From: 1000, To: 2000, First: 1, Last: 1},
		{Case: dead, Support: support, From: 3000, To: 3000, First: 4000 + 20000*2000*420e-9*9.80665},
		{Case: dead, Support: -1, From: 0, To: 6000, First: 3, Last: 3},
	}, down.Pressing(wall))
}

// An area counts with what it states, 0 included; what it does not state the region fills in.
func TestLoadThatAnAreaCountsWith(t *testing.T) {
	in := &statics.Input{Implied: []region.AreaLoad{{Area: "a", Action: model.Imposed, Value: 1.5e-3}, {Area: "b", Action: model.Imposed, Value: 1.5e-3}}}
	area := func(id string, loads ...model.AreaLoad) *model.Area { return &model.Area{ID: id, Loads: loads} }
	assert.Equal(t, 1.5e-3, in.LoadOf(area("a", model.AreaLoad{Action: model.Dead, Value: 9e-3}), model.Imposed))
	assert.Equal(t, 4e-3, in.LoadOf(area("b", model.AreaLoad{Action: model.Imposed, Value: 4e-3}), model.Imposed))
	assert.Zero(t, in.LoadOf(area("b", model.AreaLoad{Action: model.Imposed}), model.Imposed))
	assert.Zero(t, in.LoadOf(area("c"), model.Imposed))
}

// A strut leans 1500 over 3000 under a purlin of two spans of 2 m at 2 N/mm: 10/8 * 2 * 2000 = 5000 N, and 2500 N level, from its
// foot in the middle of a beam along x towards +y. Either end of the beam is held across by half, and either wall is pushed so.
func TestListingOfWhatActsAcross(t *testing.T) {
	doc, problems := read.Document([]byte(`{"framing": 1, "self_weight": false, "members": {
		"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[4000, -500, 0], [4000, 500, 0]]},
		"A1": {"role": "wall", "ground": true, "path": [[0, -2000, 3000], [0, -1000, 3000]]}, "A2": {"role": "wall", "ground": true, "path": [[4000, -2000, 3000], [4000, -1000, 3000]]},
		"B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "W1"}, {"on": "W2"}]},
		"P": {"role": "purlin", "section": "75x200", "grade": "C24", "path": [[0, -1500, 3000], [4000, -1500, 3000]], "supports": [{"on": "A1"}, {"on": "S"}, {"on": "A2"}], "loads": [{"action": "dead", "line": 2}]},
		"S": {"role": "strut", "section": "75x75", "grade": "C24", "path": [[2000, 0, 0], [2000, -1500, 3000]], "supports": [{"on": "B", "holds": "horizontal"}]}}}`), "hand")
	require.Empty(t, problems)
	list := statics.Run(input(doc)).List()
	for _, m := range list.Members {
		if m.Mark != "B" {
			continue
		}
		for _, s := range m.Pieces[0].Supports {
			assert.InDelta(t, 2500, s.Vertical[0], 1e-6)
			assert.InDelta(t, 0, s.Horizontal[0], 1e-6)
			assert.InDelta(t, -1250, s.Across[0], 1e-6)
		}
	}
	for _, g := range list.Ground[:2] {
		assert.InDelta(t, 2500, g.Total[0], 1e-6, g.Mark)
		assert.InDelta(t, 0, g.X[0], 1e-6, g.Mark)
		assert.InDelta(t, 1250, g.Y[0], 1e-6, g.Mark)
	}
}
