package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
)

// A sign-off that no longer counts is said in words whatever it was on: a stop, a question, a note, or what could not be
// checked, which nobody can sign for.
func TestTextSaysThatASignoffHasLapsed(t *testing.T) {
	for _, c := range []struct {
		severity finding.Severity
		outcome  finding.Outcome
	}{{finding.Stop, finding.NotMet}, {finding.Ask, finding.NotMet}, {finding.Note, finding.NotMet}, {finding.Stop, finding.Unchecked}} {
		t.Run(string(c.severity)+" "+string(c.outcome), func(t *testing.T) {
			f := finding.Finding{Rule: "practice/x", Member: "B1", Severity: c.severity, Outcome: c.outcome, Count: 1, Message: "B1 is short",
				Reason: "no grade is stated", Signoff: &finding.Signoff{Who: "M. Elder", Authority: "letter", Lapsed: "what it covered has changed"}}
			r := &finding.Result{Findings: []finding.Finding{f}}
			printer, err := Checks.Printer("text", Options{})
			require.NoError(t, err)
			var lapsed, never bytes.Buffer
			require.NoError(t, printer.Print(&lapsed, Run{Results: []*finding.Result{r}}))
			assert.Contains(t, words(lapsed.String()), "what it covered has changed")
			r.Findings[0].Signoff = nil
			require.NoError(t, printer.Print(&never, Run{Results: []*finding.Result{r}}))
			assert.NotContains(t, words(never.String()), "what it covered has changed")
		})
	}
}

// words is a text without its line breaks.
func words(text string) string { return strings.Join(strings.Fields(text), " ") }
