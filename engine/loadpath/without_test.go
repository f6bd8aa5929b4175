package loadpath_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/engine/loadpath"
	"example.com/scantling/engine/report/trace"
)

// A beam of two spans of 3 m with 2 kN/m on posts A, M and Z, and a stud of 1 kN on a header that two trimming studs
// hold up and that carries nothing else.
const spans = `{"framing": 1, "title": "spans", "units": "metric", "self_weight": false,
	"grades": {"G": {"material": "timber", "E": 11000, "G": 690, "density": 420, "by": "test"}}, "members": {
	"B": {"role": "beam", "section": "97x295", "grade": "G", "path": [[0, 0, 0], [6000, 0, 0]],
		"supports": [{"on": "A"}, {"on": "M", "at": 3000}, {"on": "Z"}], "loads": [{"action": "dead", "line": 2}]},
	"A": {"role": "post", "section": "97x97", "path": [[0, 0, -2000], [0, 0, 0]], "supports": [{"on": "F", "at": 0}]},
	"M": {"role": "post", "section": "97x97", "path": [[3000, 0, -2000], [3000, 0, 0]], "supports": [{"on": "F", "at": 0}]},
	"Z": {"role": "post", "section": "97x97", "path": [[6000, 0, -2000], [6000, 0, 0]], "supports": [{"on": "F", "at": 0}]},
	"S": {"role": "stud", "section": "47x97", "path": [[1000, 500, 0], [1000, 500, 2000]], "supports": [{"on": "H", "at": 0}],
		"loads": [{"action": "dead", "point": 1, "at": 2000}]},
	"H": {"role": "beam", "section": "97x195", "path": [[0, 500, 0], [2000, 500, 0]], "supports": [{"on": "T1"}, {"on": "T2"}]},
	"T1": {"role": "stud", "section": "47x97", "path": [[0, 500, -2000], [0, 500, 0]], "supports": [{"on": "F", "at": 0}]},
	"T2": {"role": "stud", "section": "47x97", "path": [[2000, 500, -2000], [2000, 500, 0]], "supports": [{"on": "F", "at": 0}]},
	"F": {"role": "foundation", "material": "concrete", "width": 2000, "ground": true, "path": [[-100, 250, -2000], [6100, 250, -2000]]}}}`

// Two equal spans: the middle takes 1.25 w l, each end 0.375 w l (any handbook, memory); without the middle each end
// takes the half of 2 w l. w l = 6 kN.
func TestWithoutAMiddlePostTheEndsTakeItsLoad(t *testing.T) {
	r, err := loadpath.Without(fixture.TakenDown(t, spans), "M")
	require.NoError(t, err)
	require.Len(t, r.Loose, 1)
	assert.Equal(t, trace.Loose{Mark: "B", Role: "beam", Pieces: []string{"B"}, Lost: []string{"the support on M"}, Held: []string{"A", "Z"}}, r.Loose[0])
	for _, mark := range []string{"A", "Z"} {
		c := change(t, r.Changes, "B", mark)
		assert.InDelta(t, 2250, c.Before.Most.Value, 1e-3)
		assert.InDelta(t, 6000, c.After.Most.Value, 1e-3)
	}
	assert.Empty(t, r.Stops.Most.Under, "all load still reaches the ground")
	assert.Empty(t, r.Ground, "and all of it the same foundation")
	assert.Empty(t, r.Idle)
}

func TestWithoutAPieceOfARunAllOfItGoesAndThatIsSaid(t *testing.T) {
	const run = `{"framing": 1, "title": "run", "self_weight": false, "members": {
		"J": {"role": "floor joist", "section": "47x195", "path": [[0, 0, 0], [0, 3000, 0]], "repeat": {"count": 3, "step": [400, 0, 0]},
			"supports": [{"on": "A"}, {"on": "B"}], "loads": [{"action": "dead", "line": 2}]},
		"A": {"role": "wall", "ground": true, "path": [[-100, 0, 0], [1000, 0, 0]]}, "B": {"role": "wall", "ground": true, "path": [[-100, 3000, 0], [1000, 3000, 0]]}}}`
	r, err := loadpath.Without(fixture.TakenDown(t, run), "J#2")
	require.NoError(t, err)
	assert.Contains(t, r.Notes, "All 3 pieces of J are taken out together.")
	assert.InDelta(t, 3*6000, r.Own.Most.Value, 1e-6)
}

func TestWithoutAPostOfTwoWhatStandsOnItFalls(t *testing.T) {
	r, err := loadpath.Without(fixture.TakenDown(t, spans), "T1")
	require.NoError(t, err)
	require.Len(t, r.Loose, 2)
	assert.Equal(t, "H", r.Loose[0].Mark)
	assert.Contains(t, r.Loose[0].Falls, "swings")
	assert.Equal(t, "S", r.Loose[1].Mark)
	assert.True(t, r.Loose[1].Follows)
	assert.Empty(t, r.Loose[1].Lost)
	assert.InDelta(t, 1000, r.Stops.Most.Value, 1e-6, "the stud's load reaches nothing")
	ground := change(t, r.Ground, "", "F")
	assert.InDelta(t, 13000, ground.Before.Most.Value, 1e-3)
	assert.InDelta(t, 12000, ground.After.Most.Value, 1e-3)
}

func TestMembersThatServedOnlyWhatIsGoneServeNothing(t *testing.T) {
	for _, c := range []struct {
		say       string
		old, now  string
		idle      []string
		servedBy1 []string
	}{
		{"the header and its trimming studs held up one stud alone", "", "", []string{"H", "T1", "T2"}, []string{"S"}},
		{"a header that carries a load of its own still serves", `"H": {"role": "beam",`, `"H": {"role": "beam", "loads": [{"action": "dead", "line": 1}],`, nil, nil},
		{"so does one that a strap holds to", `"B": {"role": "beam",`, `"B": {"role": "beam", "straps": [{"kind": "lateral", "to": "H"}],`, nil, nil},
		{"and one that holds up something else", `"B": {"role": "beam",`, `"S2": {"role": "stud", "section": "47x97", "path": [[1500, 500, 0], [1500, 500, 2000]], "supports": [{"on": "H", "at": 0}]}, "B": {"role": "beam",`, nil, nil},
	} {
		t.Run(c.say, func(t *testing.T) {
			r, err := loadpath.Without(fixture.TakenDown(t, fixture.Replaced(t, spans, c.old, c.now)), "S")
			require.NoError(t, err)
			var marks []string
			for _, i := range r.Idle {
				marks = append(marks, i.Mark)
			}
			assert.Equal(t, c.idle, marks)
			if len(r.Idle) > 0 {
				assert.Equal(t, c.servedBy1, r.Idle[0].Served)
			}
			assert.Empty(t, r.Loose, "nothing stood on the stud")
			assert.InDelta(t, 1000, r.Own.Most.Value, 1e-6)
		})
	}
}

// The thrust of a couple without its tie is H = W a / (2 h) = 3 x 3 / 4 = 2.25 kN at each foot.
func TestWithoutTheirTieRaftersPushTheWallsOut(t *testing.T) {
	r, err := loadpath.Without(fixture.TakenDown(t, couple), "T")
	require.NoError(t, err)
	require.Len(t, r.Loose, 2)
	for i, mark := range []string{"R1", "R2"} {
		assert.Equal(t, mark, r.Loose[i].Mark)
		assert.Equal(t, []string{"the tie T"}, r.Loose[i].Lost)
		assert.InDelta(t, 2250, r.Loose[i].Push.Value, 1e-6)
		assert.Empty(t, r.Loose[i].Falls)
	}
	r, err = loadpath.Without(fixture.TakenDown(t, couple), "R2")
	require.NoError(t, err)
	require.Len(t, r.Loose, 1)
	assert.Equal(t, []string{"the head of R2 to lean on"}, r.Loose[0].Lost)
	assert.NotEmpty(t, r.Loose[0].Falls)
}

func TestWhatNeverStoodCannotBeTakenOut(t *testing.T) {
	_, err := loadpath.Without(fixture.TakenDown(t, fixture.Replaced(t, spans, `"S": {"role": "stud",`, `"S": {"role": "stud", "phase": "removed",`)), "S")
	assert.ErrorContains(t, err, "does not stand after the work")
	_, err = loadpath.Without(fixture.TakenDown(t, spans), "Q")
	assert.ErrorContains(t, err, "no member Q")
}

// Load is neither made nor lost: whichever member goes, the ground and what stops short lose what it carried itself.
func TestWhateverIsTakenOutTheLoadsStillAddUp(t *testing.T) {
	for _, file := range []string{"quillmere.json", "larkrun-porch.json"} {
		run := fixture.TakenDown(t, fixture.Text(t, file))
		for i := range run.Source.Document.Members {
			m := &run.Source.Document.Members[i]
			r, err := loadpath.Without(run, m.Mark)
			require.NoError(t, err)
			if m.Ground {
				continue // what reached it and no longer can is no change at any ground that is left
			}
			lost := -kN(r.Stops.Cases)
			for _, g := range r.Ground {
				lost += kN(g.Before.Cases) - kN(g.After.Cases)
			}
			assert.InDelta(t, kN(r.Own.Cases), lost, 0.02, m.Mark)
		}
	}
}

func change(t *testing.T, list []trace.Change, from, to string) trace.Change {
	t.Helper()
	for _, c := range list {
		if c.From == from && c.To == to {
			return c
		}
	}
	require.Fail(t, "no change from "+from+" to "+to)
	return trace.Change{}
}
