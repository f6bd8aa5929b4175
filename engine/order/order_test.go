package order_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/engine/order"
	"example.com/scantling/engine/report/works"
)

// A wall goes and a beam on two new piers takes its place under joists that stay, one of which nobody has vouched for;
// a stud wall stands on the new beam, and plasterboard hides the beam.
const alteration = `{"framing": 1, "title": "knock through", "units": "metric", "site": {"temporary_work": "the contractor's engineer"}, "members": {
	"OJ": {"role": "floor joist", "section": "47x195", "phase": "existing", "path": [[500, 0, 2500], [500, 3000, 2500]],
		"repeat": {"count": 4, "step": [500, 0, 0]}, "supports": [{"on": "OW", "at": 0}, {"on": "OW2"}, {"on": "NB", "at": 0, "bearing": 50}],
		"loads": [{"action": "dead", "phase": "existing", "line": 1}]},
	"OW": {"role": "wall", "material": "masonry", "phase": "removed", "ground": true, "width": 100, "path": [[0, 0, 2400], [2500, 0, 2400]],
		"brace_removed": true},
	"OW2": {"role": "wall", "material": "masonry", "phase": "existing", "condition": "unverified", "ground": true, "width": 100, "path": [[0, 3000, 2400], [2500, 3000, 2400]]},
	"NB": {"role": "beam", "section": "203x133x25 UB", "grade": "S355", "path": [[0, 0, 2300], [2500, 0, 2300]],
		"supports": [{"on": "NP1", "bearing": 150, "by": "bolted", "seat": {"kind": "padstone", "size": "300x140x100"}}, {"on": "NP2", "bearing": 150, "by": "bolted"}],
		"covered_by": "two layers of plasterboard", "weld": "shop made", "drawing": "S-1"},
	"NP1": {"role": "pier", "material": "masonry", "ground": true, "width": 215, "path": [[-100, 0, 2200], [100, 0, 2200]]},
	"NP2": {"role": "pier", "material": "masonry", "ground": true, "width": 215, "path": [[2400, 0, 2200], [2600, 0, 2200]]},
	"ST": {"role": "stud", "section": "47x97", "path": [[1000, 0, 2400], [1000, 0, 4800]], "supports": [{"on": "NB", "by": "nailed"}],
		"loads": [{"action": "dead", "point": 1, "at": 2400}]},
	"NJ": {"role": "floor joist", "section": "47x195", "path": [[750, 0, 2500], [750, 3000, 2500]], "supports": [{"on": "NB", "by": "hanger"}, {"on": "OW2"}],
		"loads": [{"action": "dead", "line": 1}]}
	}, "drawings": {"S-1": {"title": "Steel", "by": "engineer"}}}`

func TestWorksBeginWithPropsAndEndWithCovering(t *testing.T) {
	s := order.Works(fixture.TakenDown(t, alteration))
	var titles []string
	for _, step := range s.Steps {
		titles = append(titles, step.Title+": "+strings.Join(step.Marks(), " "))
	}
	assert.Equal(t, []string{
		"Temporary support of what rests on: OW",
		"Take out: OW",
		"Walls and piers: NP1 NP2",
		"Posts and beams: NB ST",
		"Floor joists and trimmers: NJ",
		"Take the temporary support away from: OJ",
		"Cover with two layers of plasterboard: NB",
	}, titles)
	assert.Equal(t, []string{"dealt with by the contractor's engineer"}, s.Steps[0].With)
	assert.Equal(t, []string{"padstone, 300 mm along x 140 mm across x 100 mm high on NP1 under NB"}, s.Steps[2].With)

	assert.Equal(t, []string{"once these carry them, packed tight: NB"}, s.Steps[5].With)

	require.Len(t, s.Points, 3)
	props, open, hidden := s.Points[0], s.Points[1], s.Points[2]
	assert.Equal(t, works.Point{Step: 1, Member: "OW", Role: "wall", Pieces: 1, Before: "it is taken out",
		// Four joists of 3 m with 1 kN/m bring half of 3 kN each.
		See: []string{"props or needles under OJ, which brought 6 kN to it under dead", "what braces the building in its place"}}, props)
	assert.Equal(t, "OW2", open.Member)
	assert.Equal(t, "anything new stands on it", open.Before)
	assert.Equal(t, 1, open.Step, "before any new work")
	assert.Equal(t, "it is hidden by two layers of plasterboard", hidden.Before)
	assert.Equal(t, 5, hidden.Step, "the hanger on it is hidden with it, so its joist goes in first")
	assert.Equal(t, []string{"NP1", "NP2"}, hidden.In)
	assert.Equal(t, []string{
		"size and grade: 203x133x25 UB S355",
		"bearing on NP1: 150 mm; bolts to NP1, with washers and tight",
		"padstone, 300 mm along x 140 mm across x 100 mm high on NP1",
		"bearing on NP2: 150 mm; bolts to NP2, with washers and tight",
		"joint at its crank or splice: shop made",
		"hangers on it: NJ",
		"nailed to it: ST",
	}, hidden.See)
	assert.Equal(t, "S-1", hidden.Drawing)
}

// What a document leaves out of a joint, strap or block leaves no gap in the words for it.
func TestWhatIsNotStatedLeavesNoGap(t *testing.T) {
	s := order.Works(fixture.TakenDown(t, strings.Replace(alteration, `"weld": "shop made"`, `"joints": [{"at": 1200, "detail": "bolted splice"}, {"kind": "rigid"}, {}],
		"straps": [{"size": "30x5"}, {"kind": "lateral", "to": "OW2"}], "blocking": [{"at": 600}, {"kind": "block"}], "seen": {"date": "2026-03-01"}`, 1)))
	hidden := s.Points[2]
	for _, want := range []string{"joint at 1200 mm: bolted splice", "rigid joint", "joint", "straps: 30x5", "lateral straps to OW2", "blocking at 600 mm", "block"} {
		assert.Contains(t, hidden.See, want)
	}
	assert.Equal(t, "2026-03-01", hidden.Seen)
}

// Nothing goes in before all that it rests on, in any model: the order of the steps is held against the frame itself.
func TestNothingGoesInBeforeWhatItRestsOn(t *testing.T) {
	for _, file := range []string{"quillmere.json", "quillmere-faulty.json", "larkrun-porch.json"} {
		t.Run(file, func(t *testing.T) {
			run := fixture.TakenDown(t, fixture.Text(t, file))
			s := order.Works(run)
			at, listed := map[string]int{}, 0
			for _, step := range s.Steps {
				if strings.HasPrefix(step.Title, "Cover") || strings.HasPrefix(step.Title, "Order not known") {
					continue
				}
				for _, mark := range step.Marks() {
					listed++
					at[mark] = listed
				}
			}
			assert.Len(t, at, listed, "no member goes in twice")
			f := run.Down.Frame
			for i := range f.Supports {
				sp := &f.Supports[i]
				if sp.Holds() && sp.Document >= 0 && at[f.Member(sp.Piece).Mark] > 0 {
					up, down := f.Member(sp.Piece).Mark, f.Member(sp.On).Mark
					assert.Less(t, at[down], at[up], "%s rests on %s", up, down)
				}
			}
			for _, p := range s.Points {
				assert.NotEmpty(t, p.See)
			}
		})
	}
}
