package handover_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/handover"
	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/model"
)

// The page of the faulty demo, checked by the neutral packs.
func TestThePageShowsWhatTheRunFound(t *testing.T) {
	src := fixture.File(t, "quillmere-faulty.json")
	session := engine.NewSession(nil, nil)
	run, err := session.Check(context.Background(), src, engine.Options{Matrix: true})
	require.NoError(t, err)
	accepted := -1
	for i := range run.Result.Findings {
		if run.Result.Findings[i].Outcome == finding.NotMet && run.Result.Findings[i].Member != "" {
			accepted = i
			break
		}
	}
	require.GreaterOrEqual(t, accepted, 0)
	f := run.Result.Findings[accepted]
	run, err = session.Check(context.Background(), src, engine.Options{Matrix: true, Today: "2026-05-01", Signed: []finding.Signoff{
		{Rule: f.Rule, Mark: f.Member, Finding: f.ID, Reason: "seen", Who: "someone", Authority: "engineer", Date: "2026-04-01", Digest: finding.Digest(&f)}}})
	require.NoError(t, err)
	p := handover.Page(run)

	require.Len(t, p.Signoffs, 1)
	assert.Equal(t, "someone", p.Signoffs[0].Who)
	worst := map[string]draw.State{}
	for i := range run.Result.Findings {
		f := &run.Result.Findings[i]
		if f.Outcome == finding.NotMet && f.Severity == finding.Stop && (f.Signoff == nil || f.Signoff.Lapsed != "") {
			worst[f.Member] = draw.Stop
		}
	}
	require.NotEmpty(t, worst)
	for _, m := range p.Frame.Members {
		if worst[m.Mark] == draw.Stop {
			assert.Equal(t, draw.Stop, m.State, m.Mark)
		} else {
			assert.NotEqual(t, draw.Stop, m.State, m.Mark)
		}
		assert.NotEqual(t, draw.Unjudged, m.State, "%s: some rule applies to every member of the demo", m.Mark)
	}
	require.NotEmpty(t, p.Covered)
	for _, c := range p.Covered {
		assert.NotEmpty(t, c.What, c.Member)
		assert.NotEmpty(t, c.Before, c.Member)
	}
	assert.Nil(t, p.Against, "nothing was compared")
}

// What the hops bring to ground members, with what these weigh themselves, is what has arrived there.
func TestHopsOfTheDrawingBringAllLoadToGround(t *testing.T) {
	run := fixture.TakenDown(t, fixture.Text(t, "quillmere.json"))
	f := handover.Drawn(run)
	ground, marks := map[string]bool{}, map[string]string{}
	for _, m := range f.Members {
		for _, p := range m.Pieces {
			marks[p.Name] = m.Mark
			ground[p.Name] = m.Ground
		}
	}
	got := map[string][]float64{}
	for _, h := range f.Hops {
		require.Contains(t, marks, h.From)
		require.Contains(t, marks, h.To)
		if ground[h.To] {
			if got[h.To] == nil {
				got[h.To] = make([]float64, len(f.Cases))
			}
			for c, v := range h.Load {
				got[h.To][c] += v
			}
		}
	}
	for _, g := range run.Down.List().Ground {
		for c := range f.Cases {
			want := g.Total[c]
			for _, from := range g.From {
				if from.Piece == g.Mark {
					want -= from.Vertical[c]
				}
			}
			if got[g.Mark] == nil {
				assert.InDelta(t, 0, want, 1e-6, g.Mark)
				continue
			}
			assert.InDelta(t, want, got[g.Mark][c], 1e-6, g.Mark)
		}
	}
}

func TestPiecesAreDrawnWhereTheyStand(t *testing.T) {
	f := handover.Drawn(fixture.TakenDown(t, `{"framing": 1, "title": "drawn", "units": "metric", "members": {
		"J": {"role": "floor joist", "section": "47x195", "path": [[0, 0, 100], [0, 3000, 100]], "repeat": {"count": 3, "step": [400, 0, 0]},
			"supports": [{"on": "W"}, {"on": "V"}], "drawing": "S-1"},
		"N": {"role": "floor joist", "section": "47x195", "length": 2000, "supports": [{"on": "W", "at": 0}, {"on": "W", "at": 2000}]},
		"W": {"role": "wall", "ground": true, "width": 100, "path": [[0, 0, 0], [4000, 0, 0]]},
		"V": {"role": "wall", "ground": true, "width": 100, "path": [[0, 3000, 0], [4000, 3000, 0]]}}, "drawings": {"S-1": {"title": "Floor"}}}`))
	require.Len(t, f.Members, 4)
	assert.Equal(t, []model.Point{{X: 800, Z: 100}, {X: 800, Y: 3000, Z: 100}}, f.Members[0].Pieces[2].Axis, "a piece of a run, moved by two steps")
	assert.Equal(t, []string{"S-1"}, f.Members[0].Drawings)
	assert.Nil(t, f.Members[1].Pieces[0].Axis, "without a path it is listed and not drawn")
	assert.Equal(t, 100.0, f.Members[2].Width)
	assert.Equal(t, draw.Unjudged, f.Members[0].State, "a take-down judges nothing")
	for _, h := range f.Hops {
		if h.From == "J#3" && h.To == "V" {
			assert.Equal(t, model.Point{X: 800, Y: 3000, Z: 100}, h.At)
		}
	}
}
