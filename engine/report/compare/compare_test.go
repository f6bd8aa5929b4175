package compare_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/compare"
)

var update = flag.Bool("update", false, "write the golden files anew; read them before they are committed")

// sample is one change of each verdict, a rule that is broken, and loads that are others.
func sample() *asbuilt.Comparison {
	model := finding.Model{Title: "Loft over the reading room", File: "loft.json", Units: "metric"}
	built := model
	built.File = "built.json"
	at := func(line int) finding.Place {
		return finding.Place{File: "built.json", Line: line, Column: 5, Offset: -1}
	}
	note := func(id string, s finding.Severity, o finding.Outcome, mark, message, do string) finding.Finding {
		f := finding.Finding{ID: id, Rule: "changes/" + id, Outcome: o, Severity: s, Member: mark, Count: 1, Message: message, Action: do, Source: "common practice, no source"}
		if o == finding.Unchecked {
			f.Reason = "without a region nothing is known of the strength of a grade"
		}
		return f
	}
	return &asbuilt.Comparison{
		Drawn: &finding.Result{Model: model, Summary: finding.Summary{Ask: 2, Met: 40, Complete: true}},
		Built: &finding.Result{Model: built, Summary: finding.Summary{Stop: 1, Ask: 2, Met: 39, Complete: true}},
		Changes: []asbuilt.Change{
			{What: asbuilt.Properties, Mark: "B1", Key: "section", Was: "47x195", Now: "47x170", Lower: []string{"depth"}, Strength: asbuilt.Known(0.76),
				Stiffness: asbuilt.Known(0.6626), RulesWorse: 1, Evidence: "seen by site agent, 2026-04-02", Verdict: asbuilt.Stop, Findings: []string{"weaker"}, Place: at(3)},
			{What: asbuilt.Rule, Mark: "B1", Rule: "practice/deep-enough", Was: "met", Now: "not_met", OutcomeDrawn: "met", OutcomeBuilt: "not_met", Verdict: asbuilt.Stop, Place: at(3)},
			{What: asbuilt.Properties, Mark: "J1", Key: "grade", Was: "C16", Now: "C24", Unranked: "without a region nothing is known of the strength of a grade",
				Verdict: asbuilt.Unchecked, Findings: []string{"no-worse"}, Place: at(4)},
			{What: asbuilt.Bearing, Mark: "J2", Support: &finding.Support{On: "W1"}, Was: "100 mm", Now: "120 mm", BearingLess: asbuilt.Known(-20), Verdict: asbuilt.None, Place: at(5)},
			{What: asbuilt.Load, Mark: "W1", Was: "10 kN", Now: "10.2 kN", Verdict: asbuilt.None},
			{What: asbuilt.Support, Mark: "P1", Support: &finding.Support{On: "B1"}, Moved: asbuilt.Known(60), Verdict: asbuilt.Ask, Findings: []string{"support-moved"}, Place: at(6)},
			{What: asbuilt.Properties, Mark: "R1", Key: "section, fire_protection", Was: "47x145, none", Now: "47x170, boarded", Higher: []string{"depth", "fire protection"},
				Strength: asbuilt.Known(1.37), Stiffness: asbuilt.Known(1.61), Verdict: asbuilt.Note, Findings: []string{"better"}, Place: at(7)},
		},
		KnockOn: asbuilt.KnockOn{
			Reactions: []asbuilt.Shift{{Mark: "B1", On: "W1", Drawn: asbuilt.Known(4000), Built: asbuilt.Known(5000)}, {Mark: "B9", On: "W1", Drawn: asbuilt.Unknown("not there"), Built: asbuilt.Known(700)}},
			Ground:    []asbuilt.Shift{{Mark: "W1", Drawn: asbuilt.Known(10000), Built: asbuilt.Known(10200)}},
			Phase:     []asbuilt.Staged{{Mark: "W1", Before: asbuilt.Known(8000), Drawn: asbuilt.Known(10000), Built: asbuilt.Known(10200)}},
			Rules: []asbuilt.RuleShift{
				{Rule: "practice/deep-enough", Title: "Depth of a beam", Mark: "B1", Drawn: "met", Built: "not_met", Message: "B1 is 170 mm deep; 180 mm is needed"},
				{Rule: "practice/notch", Title: "Notch", Mark: "J2", Drawn: "not_applicable", Built: "met"},
				{Rule: "practice/seen", Title: "What is covered", Mark: "J2", Drawn: "not_met", Built: "met"},
			},
		},
		Result: &finding.Result{Version: "0", Model: built, Region: finding.Region{ID: "eurocode", Code: "GB-ENG"}, Summary: finding.Summary{Stop: 1, Ask: 1, Note: 1, Unchecked: 1},
			Incomplete: []string{"as built: the region failed"},
			Findings: []finding.Finding{
				note("weaker", finding.Stop, finding.NotMet, "B1", "B1: section was 47x195 and is 47x170. Worse: depth", "Stop, and ask the engineer."),
				note("no-worse", finding.Note, finding.Unchecked, "J1", "", "Show it to the engineer."),
				note("support-moved", finding.Ask, finding.NotMet, "P1", "P1: a support or an end was built 60 mm from where it was drawn", "Ask the engineer before it is loaded."),
				note("better", finding.Note, finding.NotMet, "R1", "R1: no worse by calculation", "Show it to the engineer."),
			}},
	}
}

func TestGolden(t *testing.T) {
	for _, format := range []struct{ name, file string }{{"text", "loft.txt"}, {"json", "loft.json"}} {
		t.Run(format.name, func(t *testing.T) {
			out := printed(t, format.name, sample())
			file := filepath.Join("testdata", format.file)
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(out), 0o644))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), out)
		})
	}
}

func TestTextFitsEightyColumnsAndCarriesTheCaution(t *testing.T) {
	c := sample()
	c.KnockOn.Reactions[1].Mark = "TRIMMING-JOIST-12"
	out := printed(t, "text", c)
	assert.Regexp(t, `(?m)^  TRIMMING-JOIST-12 on W1\n +not there +0.7 kN`, out)
	for _, line := range strings.Split(out, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
	}
	assert.Contains(t, strings.Join(strings.Fields(out), " "), finding.Caution)
}

func TestNothingDiffersIsSaid(t *testing.T) {
	c := sample()
	c.Changes, c.KnockOn, c.Result.Findings = nil, asbuilt.KnockOn{}, nil
	assert.Contains(t, printed(t, "text", c), "Nothing differs")
	var out map[string]any
	require.NoError(t, json.Unmarshal([]byte(printed(t, "json", c)), &out))
	assert.Equal(t, []any{}, out["changes"])
	assert.Equal(t, map[string]any{"reactions": []any{}, "ground": []any{}, "phase": []any{}, "rules": []any{}}, out["knock_on"])
	assert.Equal(t, finding.Caution, out["caution"])
}

func TestWhatSeveralRulesLackIsSaidOnceByTheGravest(t *testing.T) {
	c := sample()
	j1 := &c.Changes[2]
	require.Equal(t, "J1", j1.Mark)
	weaker := c.Result.Findings[1]
	weaker.ID, weaker.Rule, weaker.Severity, weaker.Action = "weaker too", "changes/weaker", finding.Stop, "Stop, and prop it."
	j1.Findings = append(j1.Findings, weaker.ID)
	c.Result.Findings = append(c.Result.Findings, weaker)
	out := strings.Join(strings.Fields(printed(t, "text", c)), " ")
	assert.Equal(t, 1, strings.Count(out, "Not checked (would be"))
	assert.Contains(t, out, "Not checked (would be stop), because without a region nothing is known of the strength of a grade do Stop, and prop it.")
	assert.Contains(t, out, "changes/weaker, changes/no-worse")
	assert.NotContains(t, out, "prop it. Show it")
}

func TestSupportsOnTheSameAreToldApart(t *testing.T) {
	c := sample()
	again := c.KnockOn.Reactions[0]
	again.Nth = 1
	c.KnockOn.Reactions = append(c.KnockOn.Reactions, again)
	assert.Regexp(t, `(?m)^  B1 on W1 +4 kN`, printed(t, "text", c))
	assert.Regexp(t, `(?m)^  B1 on W1 \(support 2\) +4 kN`, printed(t, "text", c))
}

func TestAHeadingHasSomethingUnderIt(t *testing.T) {
	c := sample()
	c.KnockOn = asbuilt.KnockOn{Rules: []asbuilt.RuleShift{{Rule: "practice/deep-enough", Title: "Depth of a beam", Mark: "B1", Drawn: "met", Built: "not_met"}}}
	assert.NotContains(t, printed(t, "text", c), "KNOCK-ON", "the only rule that comes out otherwise stands above")
	c.KnockOn.Rules[0].Built = "not_applicable"
	out := printed(t, "text", c)
	assert.Contains(t, out, "Depth of a beam")
	assert.NotContains(t, out, "Loads are characteristic")
}

func printed(t *testing.T, format string, c *asbuilt.Comparison) string {
	t.Helper()
	p, err := compare.Formats.Printer(format, report.Options{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, p.Print(&b, c))
	return b.String()
}
