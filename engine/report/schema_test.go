package report_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
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
		"held":       {Results: []*finding.Result{held()}},
	}
}

func TestSARIFKeepsToItsSchema(t *testing.T) {
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat()
	text, err := os.ReadFile(filepath.Join("testdata", "schema", "sarif-2.1.0-rtm.5.json"))
	require.NoError(t, err)
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	require.NoError(t, compiler.AddResource("sarif.json", document))
	schema, err := compiler.Compile("sarif.json")
	require.NoError(t, err)
	for name, run := range runs() {
		for _, o := range []report.Options{{}, {Text: texts}} {
			log, err := jsonschema.UnmarshalJSON(strings.NewReader(printed(t, "sarif", o, run)))
			require.NoError(t, err)
			assert.NoError(t, schema.Validate(log), name)
		}
	}
	broken, err := jsonschema.UnmarshalJSON(strings.NewReader(`{"version": "2.1.0", "runs": [{"results": []}]}`))
	require.NoError(t, err)
	assert.Error(t, schema.Validate(broken), "a run without its tool: the schema does hold")
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

// sarifLog is what the tests read of a log.
type sarifLog struct {
	Runs []struct {
		ColumnKind string
		Tool       struct {
			Driver struct{ Rules []struct{ ID string } }
		}
		Invocations []struct {
			ExecutionSuccessful        bool
			ToolExecutionNotifications []struct {
				Level   string
				Message struct{ Text string }
			}
		}
		Results []struct {
			RuleID, Kind, Level string
			RuleIndex           int
			PartialFingerprints map[string]string
			Suppressions        []struct{ Kind, Status, Justification string }
			Locations           []struct {
				PhysicalLocation struct {
					ArtifactLocation struct{ URI, URIBaseID string }
					Region           struct{ StartLine, StartColumn int }
				}
				LogicalLocations []struct{ Name, FullyQualifiedName string }
			}
		}
	}
}

func logOf(t *testing.T, o report.Options, results ...*finding.Result) sarifLog {
	t.Helper()
	var log sarifLog
	require.NoError(t, json.Unmarshal([]byte(printed(t, "sarif", o, report.Run{Results: results})), &log))
	return log
}

func TestSARIFSaysWhatWasFound(t *testing.T) {
	run := logOf(t, report.Options{Text: texts}, sample()).Runs[0]
	var kinds []string
	for _, r := range run.Results {
		kinds = append(kinds, r.Kind+" "+r.Level)
		assert.Equal(t, r.RuleID, run.Tool.Driver.Rules[r.RuleIndex].ID)
		require.NotNil(t, r.Suppressions, "on all results or on none (SARIF 2.1.0, 3.27.23)")
	}
	// A kind that is not "fail" has the level "none" (SARIF 2.1.0, 3.27.10).
	assert.Equal(t, []string{"fail error", "fail warning", "open none", "open none", "open none", "fail note", "fail error"}, kinds)
	assert.Empty(t, run.Results[1].Suppressions, "a sign-off that has lapsed suppresses nothing")
	accepted := run.Results[6].Suppressions
	require.Len(t, accepted, 1)
	assert.Equal(t, "external accepted", accepted[0].Kind+" "+accepted[0].Status)
	assert.Contains(t, accepted[0].Justification, "plated both sides")
	assert.False(t, run.Invocations[0].ExecutionSuccessful)
	first := run.Results[0].Locations[0]
	assert.Equal(t, "models/quillmere%20reading.json", first.PhysicalLocation.ArtifactLocation.URI)
	assert.Equal(t, "%SRCROOT%", first.PhysicalLocation.ArtifactLocation.URIBaseID)
	assert.Equal(t, "B\U0001F332e\u0301", first.LogicalLocations[0].Name)

	empty := printed(t, "sarif", report.Options{}, report.Run{Results: []*finding.Result{clean()}})
	assert.Contains(t, empty, `"results": []`, "the list is there though nothing was found")
}

// Readers count columns in UTF-16 code units or in code points, whichever the run names; bytes are neither.
func TestSARIFCountsColumnsAsItSays(t *testing.T) {
	for _, row := range []struct {
		name   string
		text   func(string) []byte
		kind   string
		column int
	}{
		// The member's mark before the place is one letter outside the basic plane, "e" and a mark that combines: three
		// code points, four code units.
		{"with the text at hand, UTF-16 code units", texts, "utf16CodeUnits", 29},
		{"without it, code points", nil, "unicodeCodePoints", 28},
		{"with the text of no file, code points", func(string) []byte { return nil }, "unicodeCodePoints", 28},
	} {
		run := logOf(t, report.Options{Text: row.text}, sample()).Runs[0]
		region := run.Results[0].Locations[0].PhysicalLocation.Region
		assert.Equal(t, row.kind, run.ColumnKind, row.name)
		assert.Equal(t, row.column, region.StartColumn, row.name)
		assert.Equal(t, 4, region.StartLine, row.name)
	}
}

func TestFingerprintsSurviveEditsElsewhere(t *testing.T) {
	before := logOf(t, report.Options{}, sample()).Runs[0]
	edited := sample()
	edited.Findings = edited.Findings[1:] // one is mended, and the rest move down by twelve lines
	for i := range edited.Findings {
		edited.Findings[i].Place.Line += 12
		edited.Findings[i].Place.Column += 2
	}
	after := logOf(t, report.Options{}, edited).Runs[0]
	seen := map[string]bool{}
	for i, r := range after.Results {
		assert.Equal(t, before.Results[i+1].PartialFingerprints, r.PartialFingerprints)
		id := r.PartialFingerprints["scantlingFinding/v1"]
		assert.False(t, seen[id] || id == "", "each finding has its own")
		seen[id] = true
	}
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
