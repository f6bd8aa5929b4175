package report_test

import (
	"encoding/xml"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// runs are those that the published schemas must hold for.
func runs() map[string]report.Run {
	return map[string]report.Run{
		"everything": {Results: []*finding.Result{sample(), clean()}, Problems: []report.Problem{problem()}},
		"clean":      {Results: []*finding.Result{clean()}},
		"problem":    {Problems: []report.Problem{problem()}},
		"nothing":    {List: true},
	}
}

func TestJUnitKeepsToItsSchema(t *testing.T) {
	tool, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("skipped: xmllint is not installed (Debian: apt-get install libxml2-utils)")
	}
	check := func(text string) ([]byte, error) {
		command := exec.Command(tool, "--noout", "--nonet", "--schema", filepath.Join("testdata", "schema", "jenkins-junit.xsd"), "-")
		command.Stdin = strings.NewReader(text)
		return command.CombinedOutput()
	}
	for name, run := range runs() {
		out, err := check(printed(t, "junit", report.Options{}, run))
		assert.NoError(t, err, "%s: %s", name, out)
	}
	_, err = check(`<testsuites><testcase/></testsuites>`)
	assert.Error(t, err, "the schema does hold")
}

func TestJUnitCountsWhatItHolds(t *testing.T) {
	var suites struct {
		Tests    int `xml:"tests,attr"`
		Failures int `xml:"failures,attr"`
		Errors   int `xml:"errors,attr"`
		Suites   []struct {
			Skipped int `xml:"skipped,attr"`
			Cases   []struct {
				Failure *struct{} `xml:"failure"`
				Error   *struct{} `xml:"error"`
				Skipped *string   `xml:"skipped"`
			} `xml:"testcase"`
		} `xml:"testsuite"`
	}
	run := report.Run{Results: []*finding.Result{sample(), clean()}, Problems: []report.Problem{problem()}}
	require.NoError(t, xml.Unmarshal([]byte(printed(t, "junit", report.Options{}, run)), &suites))
	tests, failures, failed := 0, 0, 0
	for _, s := range suites.Suites {
		skipped := 0
		for _, c := range s.Cases {
			tests++
			switch {
			case c.Failure != nil:
				failures++
			case c.Error != nil:
				failed++
			case c.Skipped != nil:
				skipped++
			}
		}
		assert.Equal(t, skipped, s.Skipped)
	}
	assert.Equal(t, []int{tests, failures, failed}, []int{suites.Tests, suites.Failures, suites.Errors})
	assert.Equal(t, []int{1, 4}, []int{failures, failed}, "a stop; two that could not be checked, an incomplete run and bad input")
}
