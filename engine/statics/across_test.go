package statics_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/statics"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/plugins/region"
)

// leaning is a couple on walls 8 m apart whose ridge is 3 m over the feet and some way along, with eaves of a tenth beyond them.
type leaning struct {
	name  string
	ridge float64 // mm along
	eaves float64 // as a part of the rafter
	down  bool    // the second rafter is drawn from its head down
	ties  string  // that both name
}

// document has loads on the first and the second rafter.
func (l *leaning) document(first, second string) string {
	path := func(foot float64, down bool) string {
		head, e := [2]float64{l.ridge, 3000}, l.eaves
		tail := [2]float64{foot - e*(head[0]-foot), -e * head[1]}
		if down {
			head, tail = tail, head
		}
		return fmt.Sprintf("[[%g, 0, %g], [%g, 0, %g]]", tail[0], tail[1], head[0], head[1])
	}
	ties := ""
	if l.ties != "" {
		ties = `, "tied_by": [` + l.ties + `]`
	}
	return `{"framing": 1, "title": "across", "self_weight": false, "members": {
  "A": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "B": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 500, 0]]},
  "R1": {"role": "rafter", "section": "50x150", "grade": "C24", "path": ` + path(0, false) + ties + `,
   "supports": [{"on": "A"}, {"against": "R2"}], "loads": [` + first + `]},
  "R2": {"role": "rafter", "section": "75x200", "grade": "C24", "path": ` + path(8000, l.down) + ties + `,
   "supports": [{"on": "B"}, {"against": "R1"}], "loads": [` + second + `]},
  "T": {"role": "ceiling joist", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [8000, 0, 0]], "supports": [{"on": "A"}, {"on": "B"}]},
  "C": {"role": "collar", "section": "50x100", "grade": "C24", "path": [` + fmt.Sprintf("[%g, 0, 1500], [%g, 0, 1500]", l.ridge/2, (l.ridge+8000)/2) + `]}}}`
}

var leanings = []leaning{
	{name: "equal, tied at the feet", ridge: 4000, ties: `"T"`},
	{name: "unequal, tied at the feet, with eaves", ridge: 3000, eaves: 0.1, ties: `"T"`},
	{name: "unequal, a collar, the second drawn from its head", ridge: 5000, down: true, eaves: 0.1, ties: `"C"`},
	{name: "a tie and a collar share the thrust", ridge: 3500, eaves: 0.1, ties: `"T", "C"`},
	{name: "nothing ties them", ridge: 4500, down: true, eaves: 0.1},
}

const standing = `{"action": "dead", "line": 0.4}`

// sums is dead and imposed load together.
func sums(down *statics.TakeDown) *region.Combination {
	k := &region.Combination{State: region.Strength, Factors: make([]float64, len(down.Cases))}
	for c := range down.Cases {
		k.Factors[c] = map[string]float64{"dead": 1.2, "imposed": 1.5}[down.Cases[c].ID]
	}
	return k
}

// A load of 1 kN that may stand anywhere on one rafter does to the other what it does, standing still, at the worst of the places
// along its own: the couple is solved anew for each of them.
func TestLoadOnARafterWorksInTheOther(t *testing.T) {
	const places = 250
	for _, l := range leanings {
		t.Run(l.name, func(t *testing.T) {
			moves := run(t, l.document(standing, standing+`, {"action": "imposed", "point": 1, "movable": true}`))
			e := moves.NewAnalyst().Effects(pieceIndex(moves, "R1"))
			require.Empty(t, e.Unsolved)
			require.True(t, e.Moves())
			k := sums(moves)
			var most, least [plane.Sway]float64
			for q := range most {
				most[q], least[q] = math.Inf(-1), math.Inf(1)
			}
			type push struct{ up, down, sideways float64 }
			pushes := make([]push, len(e.Supports))
			for j := range pushes {
				pushes[j] = push{math.Inf(-1), math.Inf(1), 0}
			}
			sh := moves.Frame.Shape(pieceIndex(moves, "R1"))
			far := moves.Frame.Shape(pieceIndex(moves, "R2")).Length
			for i := -1; i <= places; i++ {
				load := standing
				if i >= 0 {
					load += fmt.Sprintf(`, {"action": "imposed", "point": 1, "at": %g}`, far*float64(i)/places)
				}
				still := run(t, l.document(standing, load))
				s := still.NewAnalyst().Effects(pieceIndex(still, "R1"))
				comb := sums(still)
				imposed := slices.IndexFunc(still.Cases, func(k region.Case) bool { return k.ID == "imposed" })
				for q := range plane.Sway {
					hi, lo, ok := s.Range(comb, q, 0, sh.Length)
					require.True(t, ok)
					most[q], least[q] = max(most[q], hi.Value), min(least[q], lo.Value)
				}
				for j := range s.Supports {
					up, down, _ := s.Reaction(comb, j)
					pushes[j].up, pushes[j].down = max(pushes[j].up, up), min(pushes[j].down, down)
					if i >= 0 {
						pushes[j].sideways = max(pushes[j].sideways, 1.5*math.Abs(still.Reaction(s.Supports[j], imposed).X))
					}
				}
			}
			for q := range plane.Sway {
				hi, lo, ok := e.Range(k, q, 0, sh.Length)
				require.True(t, ok)
				size := max(math.Abs(hi.Value), math.Abs(lo.Value))
				assert.GreaterOrEqual(t, hi.Value, most[q]-1e-6*size, "quantity %d", q)
				assert.LessOrEqual(t, lo.Value, least[q]+1e-6*size, "quantity %d", q)
				if q < plane.Deflection { // of which the two need not be worst at one place
					assert.InDelta(t, most[q], hi.Value, 1e-3*size, "quantity %d", q)
					assert.InDelta(t, least[q], lo.Value, 1e-3*size, "quantity %d", q)
				}
			}
			for j := range pushes {
				up, down, _ := e.Reaction(k, j)
				assert.InDelta(t, pushes[j].up, up, 1e-3, "support %d", j)
				assert.InDelta(t, pushes[j].down, down, 1e-3, "support %d", j)
				assert.InDelta(t, pushes[j].sideways, e.Sideways(k, j), 1e-3, "support %d", j)
			}
		})
	}
}

// Loads of their own cases are on both rafters at once, and what each brings to the supports of one adds up. A couple that is its own
// mirror image does to either rafter what it does to the other.
func TestLoadsOnBothRaftersAddUp(t *testing.T) {
	const here, there = `{"action": "imposed", "point": 0.7, "movable": true}`, `{"action": "imposed", "point": 1.3, "movable": true}`
	pushed := func(l *leaning, first, second, mark string) (out []plane.Push) {
		down := run(t, l.document(standing+first, standing+second))
		e := down.NewAnalyst().Effects(pieceIndex(down, mark))
		k := sums(down)
		for j := range e.Supports {
			up, low, along := e.Reaction(k, j)
			out = append(out, plane.Push{Up: up, Down: low, Along: along, Sideways: e.Sideways(k, j)})
		}
		return out
	}
	for _, l := range leanings {
		none, own := pushed(&l, "", "", "R1"), pushed(&l, ", "+here, "", "R1")
		far, both := pushed(&l, "", ", "+there, "R1"), pushed(&l, ", "+here, ", "+there, "R1")
		for j := range none {
			assert.InDelta(t, own[j].Up+far[j].Up-none[j].Up, both[j].Up, 1e-6, l.name)
			assert.InDelta(t, own[j].Down+far[j].Down-none[j].Down, both[j].Down, 1e-6, l.name)
			assert.InDelta(t, own[j].Sideways+far[j].Sideways, both[j].Sideways, 1e-6, l.name)
		}
	}
	first, second := pushed(&leanings[0], "", ", "+there, "R1"), pushed(&leanings[0], ", "+there, "", "R2")
	require.Len(t, second, len(first))
	for j := range first {
		assert.InDelta(t, first[j].Up, second[j].Up, 1e-6)
		assert.InDelta(t, first[j].Down, second[j].Down, 1e-6)
	}
}

// A person is on one rafter at a time: of one here and one there the worse counts.
func TestAPersonStandsOnOneRafterAtATime(t *testing.T) {
	pushed := func(first, second float64) float64 {
		person := func(weight float64) string {
			return standing + fmt.Sprintf(`], "movable_load": %g, "notches": [`, weight)
		}
		l := run(t, leanings[0].document(person(first), person(second)))
		e := l.NewAnalyst().Reactions(pieceIndex(l, "R1"))
		k := sums(l)
		k.Moving = 1.5
		up, _, _ := e.Reaction(k, 0)
		return up
	}
	dead := 1.2 * 0.4 * 5000
	for _, r := range []struct{ here, there, foot float64 }{
		{1, 0, 1500}, {0, 1, 750}, {1, 1, 1500}, {0.2, 1, 750}, // half of what is on the ridge comes down at either foot
	} {
		assert.InDelta(t, dead+r.foot, pushed(r.here, r.there), 1e-6, "%g here and %g there", r.here, r.there)
	}
}
