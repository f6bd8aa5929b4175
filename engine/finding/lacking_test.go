package finding_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/engine/finding"
)

func TestARunSaysWhyItIsIncomplete(t *testing.T) {
	unchecked := func(rule, member, reason string, s finding.Severity) finding.Finding {
		return finding.Finding{Rule: rule, Member: member, Reason: reason, Severity: s, Outcome: finding.Unchecked}
	}
	bearing := unchecked("practice/bearing", "J1", "no bearing is stated", finding.Stop)
	bearing.Support = &finding.Support{On: "W1"}
	old := unchecked("practice/bearing", "J9", "no bearing is stated", finding.Stop)
	old.Standing = finding.Before
	many := finding.Result{}
	for _, mark := range []string{"R1", "R2", "R3", "R4", "R5", "R6", "R7"} {
		many.Findings = append(many.Findings, unchecked("eurocode/bending", mark, "no grade is stated", finding.Stop))
	}
	cases := []struct {
		what   string
		result finding.Result
		lacks  []string
	}{
		{"nothing is left out", finding.Result{Findings: []finding.Finding{{Rule: "practice/x", Outcome: finding.NotMet, Severity: finding.Stop}}}, nil},
		{"what failed comes first", finding.Result{Incomplete: []string{"the region failed"}, Findings: []finding.Finding{bearing}},
			[]string{"the region failed", "practice/bearing could not be checked on J1 on W1: no bearing is stated"}},
		{"and is not told again of each rule", finding.Result{Incomplete: []string{"eurocode: it ended"}, Findings: []finding.Finding{
			unchecked("eurocode/bending", "J1", "the region failed: eurocode: it ended", finding.Stop)}}, []string{"eurocode: it ended"}},
		{"one line for one rule and reason", finding.Result{Findings: []finding.Finding{bearing, unchecked("practice/bearing", "J2", "no bearing is stated", finding.Stop),
			unchecked("practice/bearing", "J3", "its place is not known", finding.Stop)}},
			[]string{"practice/bearing could not be checked on J1 on W1, J2: no bearing is stated", "practice/bearing could not be checked on J3: its place is not known"}},
		{"of many the first few", many, []string{"eurocode/bending could not be checked on R1, R2, R3, R4, R5 and 2 more: no grade is stated"}},
		{"what would be a question does not count at stop", finding.Result{Findings: []finding.Finding{unchecked("practice/x", "J1", "why", finding.Ask)}}, nil},
		{"it does at ask", finding.Result{AtLeast: finding.Ask, Findings: []finding.Finding{unchecked("practice/x", "J1", "why", finding.Ask)}},
			[]string{"practice/x could not be checked on J1: why"}},
		{"what stood before does not count", finding.Result{Findings: []finding.Finding{old}}, nil},
	}
	for _, c := range cases {
		t.Run(c.what, func(t *testing.T) {
			finding.Count(&c.result)
			assert.Equal(t, c.lacks, c.result.Lacking())
			assert.Equal(t, len(c.lacks) == 0, c.result.Summary.Complete, "complete exactly where nothing is lacking")
		})
	}
}
