package trace_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/trace"
	"example.com/scantling/engine/statics"
)

// force is a load of one case, N.
func force(v float64) trace.Force {
	f := trace.Force{Cases: []float64{v}, Most: trace.Extreme{Value: v, Under: "G"}}
	if v < 0 {
		f.Least = trace.Extreme{Value: v, Under: "G"}
	}
	return f
}

func share(v float64) trace.Share { return trace.Share{Cases: []float64{v}, Most: v} }

func hop(from, to string, load, through, own float64) trace.Hop {
	return trace.Hop{From: from, To: to, Way: trace.Rests, Places: 1, At: 0, Load: force(load), Through: share(through), Own: share(own),
		Sideways: []float64{0}, Hardest: trace.Place{Piece: from, Most: trace.Extreme{Value: load, Under: "G"}}}
}

func sheet(down ...trace.Hop) trace.Sheet {
	return trace.Sheet{Model: finding.Model{Title: "Test", File: "test.json"}, Cases: []string{"dead"}, Name: "P", Own: force(1000), Landed: force(0),
		Member: statics.ListedMember{Mark: "P", Role: "post", Pieces: []statics.ListedPiece{{Piece: "P"}}}, Down: down}
}

func print[T any](t *testing.T, formats report.Formats[T], name string, v T) string {
	t.Helper()
	printer, err := formats.Printer(name, report.Options{})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, printer.Print(&out, v))
	for _, line := range strings.Split(out.String(), "\n") {
		if name == "text" {
			assert.LessOrEqual(t, len([]rune(line)), 80, line)
		}
	}
	return out.String()
}

func TestSharesAreSaidInWords(t *testing.T) {
	for _, c := range []struct {
		say                string
		load, through, own float64
		words              string
	}{
		{"all of it", 2000, 2000, 2000, "P on B at 0 mm: 2.00 under G, all of it through P"},
		{"all of it, some its own", 2000, 2000, 500, "2.00 under G, all of it through P, 0.50 its own"},
		{"a part", 2000, 500, 500, "2.00 under G, 0.50 of it through P (25%)"},
		{"a part, some its own", 2000, 500, 100, "2.00 under G, 0.50 of it through P (25%), 0.10 its own"},
		{"all but a little", 20000, 19980, 19980, "20.00 under G, 19.98 of it through P (99.9%)"},
		{"next to nothing", 20000, 50, 50, "20.00 under G, 0.05 of it through P (less than 1%)"},
		{"more than there is, since others lift", 2000, 2500, 2500, "2.00 under G, 2.50 of it through P, less what others take off"},
		{"it lifts what others press", 2000, -500, -500, "2.00 under G, 0.50 less because of P"},
		{"nothing in the worst combination", 2000, 0, 0, "2.00 under G, nothing of it through P in that combination"},
		{"no load at all", 0, 0, 0, "P on B at 0 mm: 0.00 under G"},
	} {
		t.Run(c.say, func(t *testing.T) {
			text := print(t, trace.Formats, "text", sheet(hop("P", "B", c.load, c.through, c.own)))
			under := " dead"
			if c.load == 0 {
				under = " On P rests"
			}
			assert.Contains(t, strings.Join(strings.Fields(text), " "), c.words+under, "and nothing more in that line")
		})
	}
}

func TestUpliftIsSaid(t *testing.T) {
	assert.Contains(t, print(t, trace.Formats, "text", sheet(hop("P", "B", -700, -700, -700))), "lifts by up to 0.70 under G")
}

// P rests on A and B, both rest on C, C on ground G and, in a circle, on A again: every hop stands once.
func TestEveryHopStandsOnceWhereWaysMeet(t *testing.T) {
	text := print(t, trace.Formats, "text", sheet(hop("P", "A", 1, 1, 1), hop("P", "B", 1, 1, 1), hop("A", "C", 1, 1, 1), hop("B", "C", 1, 1, 1),
		hop("C", "G", 2, 2, 2), hop("C", "A", 1, 1, 1)))
	for _, c := range []struct{ line, say string }{
		{"  P on A", "the first hop"}, {"    A on C", "a hop further"}, {"      C on G", "and further"}, {"    B on C", "the other way to C"},
	} {
		assert.Equal(t, 1, strings.Count(text, "\n"+c.line), c.say)
	}
	assert.Contains(t, strings.Join(strings.Fields(text), " "), "B on C at 0 mm: 0.00 under G; on from C as above")
	assert.Equal(t, 1, strings.Count(text, "C on A"), "the circle is walked once")
}

func TestMarksOfADocumentCannotSteerATerminal(t *testing.T) {
	s := sheet(hop("P", "B\x1b[31m", 1000, 1000, 1000))
	assert.NotContains(t, print(t, trace.Formats, "text", s), "\x1b")
	assert.NotContains(t, print(t, trace.Removals, "text", trace.Removal{Mark: "\x1b]0;x"}), "\x1b")
}

func TestUSModelsArePrintedInPounds(t *testing.T) {
	s := sheet(hop("P", "B", 4448.2216, 4448.2216, 4448.2216))
	s.Model.Units = "us"
	assert.Contains(t, print(t, trace.Formats, "text", s), "P on B at 0 in: 1000 under G")
}

func TestTraceAsDataIsInKN(t *testing.T) {
	s := sheet(hop("P", "B", 2000, 500, 100))
	s.Ground = []trace.Arrival{{Mark: "G", Total: force(9000), Through: share(500), Own: share(100)}}
	s.Up = []trace.Hop{{From: "R", To: "P", Way: trace.Pulls, Places: 3, At: -1, Load: force(-400)}}
	var out map[string]any
	require.NoError(t, json.Unmarshal([]byte(print(t, trace.Formats, "json", s)), &out))
	down := out["down"].([]any)[0].(map[string]any)
	assert.Equal(t, map[string]any{"cases": map[string]any{"dead": 2.0}, "most": map[string]any{"value": 2.0, "under": "G"}}, down["load"])
	assert.Equal(t, map[string]any{"cases": map[string]any{"dead": 0.5}, "most": 0.5}, down["through"])
	up := out["up"].([]any)[0].(map[string]any)
	assert.Equal(t, "is tied by", up["way"])
	assert.NotContains(t, up, "at")
	assert.NotContains(t, up, "through", "what rests on a member has no share of it")
	assert.Equal(t, map[string]any{"value": 0.4, "under": "G"}, up["load"].(map[string]any)["lift"])
	assert.Equal(t, 0.1, out["ground"].([]any)[0].(map[string]any)["own"].(map[string]any)["most"])
	assert.Equal(t, finding.Caution, out["caution"])
}

func TestARemovalSaysWhatFallsFollowsAndHolds(t *testing.T) {
	r := trace.Removal{
		Model: finding.Model{Title: "Test", File: "test.json"}, Cases: []string{"dead"}, Mark: "M", Role: "post", Own: force(100), Stops: force(3000),
		Loose: []trace.Loose{
			{Mark: "B", Pieces: []string{"B"}, Lost: []string{"the support on M"}, Falls: "nothing holds it up"},
			{Mark: "J", Pieces: []string{"J#1", "J#2", "J#3"}, Follows: true},
			{Mark: "K", Pieces: []string{"K"}, Follows: true},
			{Mark: "R", Pieces: []string{"R#1", "R#2"}, Lost: []string{"the tie M"}, Held: []string{"W"}, Push: trace.Extreme{Value: 450, Under: "G"}},
		},
		Changes: []trace.Change{{From: "D", To: "W", Way: trace.Rests, Places: 2, At: -1, Before: force(1000), After: force(1500)}},
		Ground:  []trace.Change{{To: "W", At: -1, Before: force(-200), After: force(300)}},
		Idle:    []trace.Idle{{Mark: "F", Role: "beam", Served: []string{"M"}}},
	}
	text := print(t, trace.Removals, "text", r)
	for _, want := range []string{
		"  B: without the support on M, cannot stand: nothing holds it up\n",
		"  J#1 to J#3, K: on what then falls\n",
		"  R#1, R#2: without the tie M, still held by W, pushes sideways with up to\n    0.45 a piece under G\n",
		"  Load that would then reach nothing: 3.00 under G. It is counted nowhere below.\n",
		"  D on W, 2 places: 1.00 before, 1.50 after (+50%)\n",
		"  W: -0.20 before, 0.30 after; lifts by 0.20 before, 0.00 after\n",
		"  F (beam): it holds up M alone\n",
	} {
		assert.Contains(t, text, want)
	}
	var out map[string]any
	require.NoError(t, json.Unmarshal([]byte(print(t, trace.Removals, "json", r)), &out))
	loose := out["loose"].([]any)
	assert.Equal(t, false, loose[1].(map[string]any)["reaches_ground"])
	assert.Equal(t, true, loose[3].(map[string]any)["reaches_ground"])
	assert.Equal(t, map[string]any{"value": 0.45, "under": "G"}, loose[3].(map[string]any)["push"])
}
