package loadpath_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/handover"
	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/engine/loadpath"
	"example.com/scantling/engine/order"
	"example.com/scantling/engine/report/trace"
)

// A beam of 4 m on piers A and C runs on 2 m past C. A joist of 4 m brings half of its 4 kN/m to the middle of the span,
// a post 3 kN to the free end and a stud of no weight nothing. By the lever about A and C:
//
//	joist: 8 kN at 2 m of 4 m     A 4.0, C 4.0
//	post:  3 kN at 6 m            A 3 (4 - 6) / 4 = -1.5, C 4.5
//	beam:  0.5 kN/m on 6 m, 3 kN at 3 m    A 0.75, C 2.25
const overhang = `{"framing": 1, "title": "overhang", "units": "metric", "self_weight": false, "members": {
	"J": {"role": "floor joist", "section": "47x195", "path": [[2000, 0, 0], [2000, 4000, 0]], "supports": [{"on": "B"}, {"on": "W"}],
		"loads": [{"action": "imposed", "line": 4}]},
	"P": {"role": "post", "section": "97x97", "path": [[6000, 0, 0], [6000, 0, 2000]], "supports": [{"on": "B"}],
		"loads": [{"action": "dead", "point": 1, "at": 2000}, {"action": "imposed", "point": 2, "at": 2000}]},
	"S": {"role": "stud", "section": "47x97", "path": [[1000, 0, 0], [1000, 0, 2000]], "supports": [{"on": "B"}]},
	"B": {"role": "beam", "section": "97x295", "path": [[0, 0, 0], [6000, 0, 0]], "supports": [{"on": "A", "at": 0}, {"on": "C", "at": 4000}],
		"loads": [{"action": "dead", "line": 0.5}]},
	"W": {"role": "wall", "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]},
	"A": {"role": "pier", "ground": true, "path": [[-100, 0, 0], [100, 0, 0]]},
	"C": {"role": "pier", "ground": true, "path": [[3900, 0, 0], [4100, 0, 0]]}}}`

func TestTraceSharesAreThoseOfTheLever(t *testing.T) {
	run := fixture.TakenDown(t, overhang)
	for _, c := range []struct {
		say          string
		mark, at     string
		total        float64 // all in place, kN
		through, own float64
	}{
		{"half of the joist's load on the beam goes to A", "J", "A", 3.25, 4, 4},
		{"the post at the free end takes load off A", "P", "A", 3.25, -1.5, -1.5},
		{"and presses C all the more", "P", "C", 10.75, 4.5, 4.5},
		{"through the beam goes all that reaches A, a little of it its own", "B", "A", 3.25, 3.25, 0.75},
		{"half of the joist goes to the wall and not through the beam", "J", "W", 8, 8, 8},
	} {
		t.Run(c.say, func(t *testing.T) {
			s, err := loadpath.Trace(run, c.mark)
			require.NoError(t, err)
			found := false
			for _, a := range s.Ground {
				if a.Mark == c.at {
					found = true
					assert.InDelta(t, c.total, kN(a.Total.Cases), 1e-9)
					assert.InDelta(t, c.through, kN(a.Through.Cases), 1e-9)
					assert.InDelta(t, c.own, kN(a.Own.Cases), 1e-9)
				}
			}
			assert.True(t, found, "%s is reached", c.at)
		})
	}
}

// The worst at A is dead + imposed with the post's imposed load away and the joist's there, as the take-down of one
// piece arranges it: dead 0.75 - 0.5 = 0.25, joist 8 / 2 = 4.
func TestTheHardestPlaceTakesVariableLoadWhereItIsWorst(t *testing.T) {
	s, err := loadpath.Trace(fixture.TakenDown(t, overhang), "B")
	require.NoError(t, err)
	a := hop(t, s.Down, "B", "A")
	assert.InDelta(t, 3250, a.Load.Most.Value, 1e-6, "all of a case in place")
	assert.InDelta(t, 4250, a.Hardest.Most.Value, 1e-6, "load on the overhang left out")
	assert.Equal(t, "dead + imposed", a.Hardest.Most.Under)
	assert.InDelta(t, -750, a.Hardest.Least.Value, 1e-6, "load on the overhang alone lifts A: 0.25 - 1")
}

func TestTraceGoesUpAndDownHopByHop(t *testing.T) {
	run := fixture.TakenDown(t, overhang)
	s, err := loadpath.Trace(run, "B")
	require.NoError(t, err)
	assert.Len(t, s.Up, 3, "joist, post and the idle stud")
	assert.InDelta(t, 3000, hop(t, s.Up, "P", "B").Load.Most.Value, 1e-6)
	assert.InDelta(t, 11, kN(s.Landed.Cases), 1e-9)
	assert.InDelta(t, 3, kN(s.Own.Cases), 1e-9)

	s, err = loadpath.Trace(run, "S")
	require.NoError(t, err)
	assert.Len(t, s.Down, 3, "the way of a member without load is shown all the same: S on B, B on A and on C")
	assert.Empty(t, s.Ground)

	_, err = loadpath.Trace(run, "b")
	assert.ErrorContains(t, err, "did you mean B?")
}

// A couple of two rafters, each with W on its slope, tied at the feet: half-span a 3 m, rise h 2 m, W = 1 kN/m of plan
// on 3 m. Moments about the far foot give 3/4 of W to a rafter's own foot and 1/4 to the other's; its share of the tie is
// half of H = W a / (2 h) = 3 x 3 / 4 = 2.25 kN.
const couple = `{"framing": 1, "title": "couple", "units": "metric", "self_weight": false, "members": {
	"R1": {"role": "rafter", "section": "47x147", "path": [[0, 0, 0], [3000, 0, 2000]], "supports": [{"on": "W1"}, {"against": "R2"}],
		"tied_by": [{"on": "T"}], "loads": [{"action": "dead", "line": 1, "per": "plan"}]},
	"R2": {"role": "rafter", "section": "47x147", "path": [[6000, 0, 0], [3000, 0, 2000]], "supports": [{"on": "W2"}, {"against": "R1"}],
		"tied_by": [{"on": "T"}], "loads": [{"action": "dead", "line": 1, "per": "plan"}]},
	"T": {"role": "tie", "section": "47x147", "path": [[0, 0, 0], [6000, 0, 0]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]},
	"W2": {"role": "wall", "ground": true, "path": [[6000, -500, 0], [6000, 500, 0]]}}}`

func TestACoupleSharesItsLoadBetweenBothFeet(t *testing.T) {
	run := fixture.TakenDown(t, couple)
	s, err := loadpath.Trace(run, "R1")
	require.NoError(t, err)
	assert.InDelta(t, 2.25, kN(hop(t, s.Down, "R1", "W1").Own.Cases), 1e-9)
	assert.InDelta(t, 0.75, kN(hop(t, s.Down, "R2", "W2").Own.Cases), 1e-9)
	lean := hop(t, s.Down, "R1", "R2")
	assert.Equal(t, trace.Leans, lean.Way)
	assert.InDelta(t, 2.25, kN(lean.Load.Cases), 1e-9)
	tie := hop(t, s.Down, "R1", "T")
	assert.Equal(t, trace.Pulls, tie.Way)
	assert.InDelta(t, 2.25, kN(tie.Load.Cases), 1e-9)
	assert.InDelta(t, 1.125, kN(tie.Own.Cases), 1e-9)

	s, err = loadpath.Trace(run, "T")
	require.NoError(t, err)
	assert.Equal(t, trace.Pulls, hop(t, s.Up, "R1", "T").Way)
}

// By superposition the own shares of all members make up what arrives at every ground member, in every case; and all
// that goes through a member is what acts on it.
func TestSharesOfAllMembersMakeUpTheGround(t *testing.T) {
	for _, file := range []string{"quillmere.json", "larkrun-porch.json"} {
		t.Run(file, func(t *testing.T) {
			run := fixture.TakenDown(t, fixture.Text(t, file))
			sum, total := map[string][]float64{}, map[string][]float64{}
			for i := range run.Source.Document.Members {
				s, err := loadpath.Trace(run, run.Source.Document.Members[i].Mark)
				require.NoError(t, err)
				through := make([]float64, len(s.Cases))
				for _, a := range s.Ground {
					total[a.Mark] = a.Total.Cases
					if sum[a.Mark] == nil {
						sum[a.Mark] = make([]float64, len(s.Cases))
					}
					for c := range s.Cases {
						sum[a.Mark][c] += a.Own.Cases[c]
						through[c] += a.Through.Cases[c]
					}
				}
				if len(s.Notes) > 0 {
					continue // some of it stops on the way
				}
				for c := range s.Cases {
					assert.InDelta(t, s.Own.Cases[c]+s.Landed.Cases[c], through[c], 1e-5, "%s, %s", s.Name, s.Cases[c])
				}
			}
			require.NotEmpty(t, total)
			for mark, want := range total {
				for c := range want {
					assert.InDelta(t, want[c], sum[mark][c], 1e-5*(1+math.Abs(want[c])), "%s, case %d", mark, c)
				}
			}
		})
	}
}

func TestOnePieceOfARunIsTracedByItsName(t *testing.T) {
	run := fixture.TakenDown(t, fixture.Text(t, "quillmere.json"))
	all, err := loadpath.Trace(run, "GJ4")
	require.NoError(t, err)
	one, err := loadpath.Trace(run, "GJ4#3")
	require.NoError(t, err)
	assert.Len(t, all.Member.Pieces, 5)
	assert.Len(t, one.Member.Pieces, 1)
	assert.InDelta(t, kN(all.Own.Cases)/5, kN(one.Own.Cases), 1e-9)
	assert.Equal(t, 1, hop(t, one.Down, "GJ4", "TR1").Places)
	_, err = loadpath.Trace(run, "GJ4#6")
	assert.ErrorContains(t, err, "its pieces run from GJ4#1 to GJ4#5")
}

func hop(t *testing.T, list []trace.Hop, from, to string) trace.Hop {
	t.Helper()
	for _, h := range list {
		if h.From == from && h.To == to {
			return h
		}
	}
	require.Fail(t, "no hop from "+from+" to "+to)
	return trace.Hop{}
}

// kN is the sum of all cases.
func kN(cases []float64) float64 {
	sum := 0.0
	for _, v := range cases {
		sum += v / 1e3
	}
	return sum
}

// Whatever is wrong with a model, its members can be traced and taken out, and no figure is printed that is none.
func TestFaultyFramesAreTracedAsFarAsTheyGo(t *testing.T) {
	circle := `{"framing": 1, "title": "circle", "units": "metric", "members": {
		"A": {"role": "beam", "section": "97x195", "path": [[0, 0, 0], [2000, 0, 0]], "supports": [{"on": "B"}, {"on": "W"}], "loads": [{"action": "dead", "line": 1}]},
		"B": {"role": "beam", "section": "97x195", "path": [[0, 0, 0], [0, 2000, 0]], "supports": [{"on": "A"}, {"on": "W"}]},
		"P": {"role": "post", "section": "97x97", "path": [[1000, 0, 0], [1000, 0, 2000]], "supports": [{"on": "A"}, {"on": "nowhere"}], "loads": [{"action": "dead", "point": 1, "at": 0}]},
		"T": {"role": "rafter", "section": "47x97", "path": [[0, 0, 0], [1000, 0, 1000]], "supports": [{"on": "W"}, {"against": "T"}]},
		"N": {"role": "rafter", "section": "47x97"},
		"W": {"role": "wall", "path": [[0, 0, 0], [2000, 2000, 0]], "ground": true}}}`
	for _, text := range []string{circle, fixture.Text(t, "quillmere-faulty.json")} {
		run := fixture.TakenDown(t, text)
		for i := range run.Source.Document.Members {
			mark := run.Source.Document.Members[i].Mark
			s, err := loadpath.Trace(run, mark)
			require.NoError(t, err)
			for _, h := range append(s.Down, s.Up...) {
				assert.False(t, math.IsNaN(kN(h.Load.Cases)+kN(h.Through.Cases)+h.Hardest.Most.Value), mark)
			}
			_, err = loadpath.Without(run, mark)
			require.NoError(t, err)
		}
		order.Works(run)
		handover.Drawn(run)
	}
	s, err := loadpath.Trace(fixture.TakenDown(t, circle), "P")
	require.NoError(t, err)
	assert.Contains(t, s.Notes, "A passes nothing on: it rests, hop by hop, on itself.")
}
