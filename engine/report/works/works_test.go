package works_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/works"
)

func TestHoldPointsStandUnderTheStepThatTheyFollow(t *testing.T) {
	s := works.Sheet{
		Model: finding.Model{Title: "Test", File: "test.json"},
		Steps: []works.Step{{Title: "Walls and piers", Lifts: [][]string{{"W1", "W2", "W3"}}, With: []string{"padstone on W1 under B1"}}, {Title: "Posts and beams", Lifts: [][]string{{"B1", "B2", "B3"}, {"A1", "A2"}}}},
		Points: []works.Point{
			{Step: 1, Member: "W1", Role: "wall", Pieces: 1, Before: "anything new stands on it", See: []string{"soundness"}},
			{Step: 2, Member: "B1", Role: "beam", Pieces: 3, Before: "plaster hides it", In: []string{"W1", "W2"}, See: []string{"bearing on W1: 90 mm", "bolts"},
				Drawing: "S-1", Seen: "site agent, 2026-01-02"},
		},
		Notes: []string{"A note."},
	}
	printed := func(name string) string {
		printer, err := works.Formats.Printer(name, report.Options{})
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, printer.Print(&out, s))
		return out.String()
	}
	text := printed("text")
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len(line), 80)
	}
	assert.Contains(t, text, ` 1  Walls and piers: W1 to W3
    - padstone on W1 under B1
    [ ] Hold. See W1 (wall) before anything new stands on it
          - soundness

 2  Posts and beams: B1 to B3; then A1, A2
    [x] Hold. See B1, 3 pieces (beam) before plaster hides it
          in first: W1, W2
          - bearing on W1: 90 mm
          - bolts
          drawing S-1
          seen: site agent, 2026-01-02

A note.
Photograph each thing to be seen`)
	assert.Contains(t, text, "This is an aid to checking.")

	var out map[string]any
	require.NoError(t, json.Unmarshal([]byte(printed("json")), &out))
	assert.Len(t, out["steps"], 2)
	point := out["hold_points"].([]any)[1].(map[string]any)
	assert.Equal(t, []any{"W1", "W2"}, point["in"])
	assert.Equal(t, 2.0, point["step"])
	assert.Equal(t, "bearing on W1: 90 mm; bolts", s.Points[1].What())
}
