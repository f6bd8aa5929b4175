package report_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// held is the sample held against an earlier result: the first finding is worse, the second new, the rest stood before.
func held() *finding.Result {
	r := sample()
	r.Since = &finding.Since{File: "old.json", SHA256: "cc33", Known: true, New: finding.Tally{Stop: 1, Ask: 1},
		Before: finding.Tally{Note: 1, Accepted: 1, Unchecked: 3}, Gone: 2}
	for i := range r.Findings {
		r.Findings[i].Standing = finding.Before
	}
	r.Findings[0].Standing, r.Findings[0].Was = finding.Worse, "of 3 pieces"
	r.Findings[1].Standing = finding.New
	return r
}

func TestOnlyWhatIsNewIsListedForPeople(t *testing.T) {
	run := report.Run{Results: []*finding.Result{held()}}
	said := strings.Join(strings.Fields(printed(t, "text", report.Options{}, run)), " ")
	assert.Contains(t, said, "Since old.json: 2 new or worse, listed here. 5 stood before and stay: 0 stop, 0 ask, 1 note, 3 not checked, 1 accepted. 2 that stood then are gone.")
	assert.Contains(t, said, "before of 3 pieces")
	assert.Contains(t, said, "B3 lifts off W1")
	assert.NotContains(t, said, "NOT CHECKED")
	assert.NotContains(t, said, "ACCEPTED")

	lines := printed(t, "lines", report.Options{}, run)
	assert.Equal(t, 1, strings.Count(lines, "[practice/bearing-on-masonry] (before: of 3 pieces)"))
	assert.NotContains(t, lines, "practice/spacing")
	assert.Contains(t, lines, "since: Since old.json: 2 new")

	unknown := held()
	unknown.Since.Known = false
	assert.Contains(t, printed(t, "lines", report.Options{}, report.Run{Results: []*finding.Result{unknown}}),
		"it says nothing of this model under this name, so all 2 are new")
}

func TestMachinesGetAllFindingsWithTheirStanding(t *testing.T) {
	run := report.Run{Results: []*finding.Result{held()}}
	var result struct {
		Since struct {
			File        string
			Known       bool
			New, Before finding.Tally
			Gone        int
		}
		Findings []struct{ Since, Was string }
	}
	require.NoError(t, json.Unmarshal([]byte(printed(t, "json", report.Options{}, run)), &result))
	assert.Equal(t, "old.json", result.Since.File)
	assert.Equal(t, finding.Tally{Note: 1, Accepted: 1, Unchecked: 3}, result.Since.Before)
	require.Len(t, result.Findings, len(sample().Findings))
	assert.Equal(t, "worse", result.Findings[0].Since)
	assert.Equal(t, "of 3 pieces", result.Findings[0].Was)
	assert.Equal(t, "before", result.Findings[2].Since)

	// SARIF 2.1.0, 3.27.24: the values of baselineState.
	var log struct {
		Runs []struct {
			Results []struct{ BaselineState string }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(printed(t, "sarif", report.Options{}, run)), &log))
	var states []string
	for _, r := range log.Runs[0].Results {
		states = append(states, r.BaselineState)
	}
	assert.Equal(t, []string{"updated", "new", "unchanged", "unchanged", "unchanged", "unchanged", "unchanged"}, states)

	junit := printed(t, "junit", report.Options{}, run)
	assert.Contains(t, junit, "stood before, not checked: no grade is stated")
	assert.Contains(t, junit, `failures="1"`, "what got worse")
}
