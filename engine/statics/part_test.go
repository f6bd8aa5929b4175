package statics_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// A joist of 4 m with 1 kN/m on a wall and on the beam at its 2.5 m; the beam is 10 m on two piers with 0.5 kN/m of its
// own; a post stands on the beam at 7.5 m with 6 kN.
const joistPostBeam = `{"framing": 1, "title": "part", "units": "metric", "self_weight": false, "members": {
	"J": {"role": "floor joist", "section": "47x195", "path": [[2500, 0, 0], [2500, 4000, 0]], "supports": [{"on": "B"}, {"on": "W"}],
		"loads": [{"action": "dead", "line": 1}]},
	"P": {"role": "post", "section": "97x97", "path": [[7500, 0, 0], [7500, 0, 2000]], "supports": [{"on": "B"}],
		"loads": [{"action": "dead", "point": 6, "at": 2000}]},
	"B": {"role": "beam", "section": "97x295", "path": [[0, 0, 0], [10000, 0, 0]], "supports": [{"on": "A"}, {"on": "C"}],
		"loads": [{"action": "dead", "line": 0.5}]},
	"W": {"role": "wall", "ground": true, "path": [[0, 4000, 0], [10000, 4000, 0]]},
	"A": {"role": "pier", "ground": true, "path": [[-100, 0, 0], [100, 0, 0]]},
	"C": {"role": "pier", "ground": true, "path": [[9900, 0, 0], [10100, 0, 0]]}}}`

func TestPartsAreThoseOfTheLever(t *testing.T) {
	doc, problems := read.Document([]byte(joistPostBeam), "part.json")
	require.Empty(t, problems)
	down := statics.Run(&statics.Input{Frame: frame.Assemble(doc, frame.After), Cases: statics.DefaultCases(doc), Materials: make([]statics.Material, len(doc.Members))})
	arrives := func(d *statics.TakeDown, mark string) float64 {
		from, _ := d.Frame.PiecesOf(int32(doc.Index(mark)))
		return -d.ArrivedAt(from, 0).Z
	}
	part := func(mark string, landed bool) *statics.TakeDown {
		from, _ := down.Frame.PiecesOf(int32(doc.Index(mark)))
		return down.Part([]int32{from}, landed)
	}
	for _, c := range []struct {
		say     string
		mark    string
		landed  bool
		a, c, w float64 // kN
	}{
		// The joist brings 4 x 1 / 2 = 2 to wall and beam each; of that on the beam (10 - 2.5) / 10 goes to A.
		{"a joist's own load goes by half to the wall, by three eighths to A", "J", false, 1.5, 0.5, 2},
		{"nothing rests on the joist: the same goes through it", "J", true, 1.5, 0.5, 2},
		{"of the post's 6 a quarter goes to A", "P", false, 1.5, 4.5, 0},
		{"the beam's own 10 x 0.5 goes by half to each end", "B", false, 2.5, 2.5, 0},
		{"through the beam goes its own load, half the joist's, and the post's", "B", true, 5.5, 7.5, 0},
	} {
		t.Run(c.say, func(t *testing.T) {
			p := part(c.mark, c.landed)
			assert.InDelta(t, c.a*1e3, arrives(p, "A"), 1e-6)
			assert.InDelta(t, c.c*1e3, arrives(p, "C"), 1e-6)
			assert.InDelta(t, c.w*1e3, arrives(p, "W"), 1e-6)
			assert.Less(t, p.Imbalance(), 1e-12)
		})
	}
}

// Superposition over a whole hipped house: the parts of all members' own loads add up to every reaction, and what goes
// through a member is what its supports take in the whole.
func TestPartsOfAllMembersAddUpToTheWhole(t *testing.T) {
	doc := demo(t)
	down := statics.Run(&statics.Input{Frame: frame.Assemble(doc, frame.After), Cases: statics.DefaultCases(doc), Materials: stiff(doc)})
	sum := make([]statics.Force, len(down.Frame.Supports)*len(down.Cases))
	each := func(d *statics.TakeDown, do func(i int, f statics.Force)) {
		for i := range d.Frame.Supports {
			for c := range d.Cases {
				do(i*len(d.Cases)+c, d.Reaction(int32(i), c))
			}
		}
	}
	for m := range doc.Members {
		pieces := piecesOf(down.Frame, int32(m))
		each(down.Part(pieces, false), func(i int, f statics.Force) {
			sum[i].X, sum[i].Y, sum[i].Z = sum[i].X+f.X, sum[i].Y+f.Y, sum[i].Z+f.Z
		})
		through := down.Part(pieces, true)
		assert.Less(t, through.Imbalance(), 1e-9, doc.Members[m].Mark)
		for _, piece := range pieces {
			if down.Frame.CoupleOf(piece) != nil {
				continue // a foot of a couple takes part of what its partner carries
			}
			supports, from := down.Frame.SupportsOf(piece)
			for k := range supports {
				for c := range down.Cases {
					near(t, down.Reaction(from+int32(k), c), through.Reaction(from+int32(k), c), doc.Members[m].Mark)
				}
			}
		}
	}
	each(down, func(i int, f statics.Force) { near(t, f, sum[i], "sum of parts") })
}

func near(t *testing.T, want, got statics.Force, what string) {
	t.Helper()
	if d := math.Abs(want.X-got.X) + math.Abs(want.Y-got.Y) + math.Abs(want.Z-got.Z); d > 1e-6*(1+math.Abs(want.Z)) {
		t.Errorf("%s: want %v, got %v", what, want, got)
	}
}

func piecesOf(f *frame.Frame, member int32) []int32 {
	var out []int32
	from, to := f.PiecesOf(member)
	for p := from; p < to; p++ {
		out = append(out, p)
	}
	return out
}

// stiff is a material that lets every member be solved: what it is does not matter here.
func stiff(doc *model.Document) []statics.Material {
	out := make([]statics.Material, len(doc.Members))
	for i := range out {
		out[i] = statics.Material{E: 11000, G: 690, Density: 420e-9}
	}
	return out
}
