package report_test

import (
	"bytes"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

var update = flag.Bool("update", false, "write the golden files anew; read them before they are committed")

// printed is a run in a format.
func printed(t *testing.T, format string, o report.Options, run report.Run) string {
	t.Helper()
	printer, err := report.Checks.Printer(format, o)
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, printer.Print(&out, run))
	return out.String()
}

// golden compares with a file that someone has read.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

func texts(name string) []byte {
	if name == file {
		return []byte(source)
	}
	return nil
}

func TestGolden(t *testing.T) {
	one := report.Run{Results: []*finding.Result{sample()}}
	two := report.Run{Results: []*finding.Result{sample(), clean()}, Problems: []report.Problem{problem()}}
	bad := report.Run{Problems: []report.Problem{problem()}}
	for _, row := range []struct {
		file, format string
		options      report.Options
		run          report.Run
	}{
		{"one.txt", "text", report.Options{}, one},
		{"one-working.txt", "text", report.Options{Working: true}, one},
		{"clean.txt", "text", report.Options{}, report.Run{Results: []*finding.Result{clean()}}},
		{"problem.txt", "text", report.Options{}, bad},
		{"one.json", "json", report.Options{}, one},
		{"two.json", "json", report.Options{}, two},
		{"problem.json", "json", report.Options{}, bad},
		{"two.jsonl", "json-lines", report.Options{Working: true}, two},
		{"two.lines", "lines", report.Options{}, two},
		{"two.sarif", "sarif", report.Options{Text: texts}, two},
		{"two.junit.xml", "junit", report.Options{}, two},
	} {
		t.Run(row.file, func(t *testing.T) { golden(t, row.file, printed(t, row.format, row.options, row.run)) })
	}
}

func TestEveryFormatCarriesTheCautionAndGivesTheSameBytes(t *testing.T) {
	runs := map[string]report.Run{
		"one":     {Results: []*finding.Result{sample()}},
		"several": {Results: []*finding.Result{sample(), clean()}},
		"problem": {Problems: []report.Problem{problem()}},
		"nothing": {List: true},
	}
	for _, format := range report.Checks.Names() {
		for name, run := range runs {
			first := printed(t, format, report.Options{}, run)
			assert.Contains(t, strings.Join(strings.Fields(first), " "), "an aid to checking", "%s of %s", format, name)
			assert.Equal(t, first, printed(t, format, report.Options{}, run), "%s of %s", format, name)
			assert.True(t, strings.HasSuffix(first, "\n"), "%s of %s ends its last line", format, name)
		}
	}
}

// A line that begins with the mark does not name it before that, and one that leaves out where it is says so first.
func TestAMarkIsNamedOnceInALine(t *testing.T) {
	one := func(mark, on, message string) finding.Finding {
		f := finding.Finding{Rule: "practice/x", Outcome: finding.NotMet, Severity: finding.Note, Member: mark, Count: 1, Message: message}
		if on != "" {
			f.Support = &finding.Support{On: on}
		}
		return f
	}
	text := printed(t, "text", report.Options{}, report.Run{Results: []*finding.Result{{Summary: finding.Summary{Note: 4}, Findings: []finding.Finding{
		one("J1", "", "J1 is long"), one("J2", "B1", "J2 hangs on B1"), one("J3", "B1", "J3 hangs"), one("", "", "Two of a kind")}}}})
	for _, want := range []string{"- J1 is long [", "- J2 hangs on B1 [", "- J3 on B1: J3 hangs [", "- frame: Two of a kind ["} {
		assert.Contains(t, text, want)
	}
}

func TestUnknownFormatNamesTheKnownOnes(t *testing.T) {
	_, err := report.Checks.Printer("xml", report.Options{})
	var unknown *report.UnknownFormat
	require.ErrorAs(t, err, &unknown)
	assert.EqualError(t, err, `format "xml" is not known; use json, json-lines, junit, lines, sarif, text`)
	assert.IsIncreasing(t, report.Checks.Names())
}

func TestTextFitsEightyColumns(t *testing.T) {
	r := sample()
	r.Model.Title = strings.Repeat("unbroken", 40) + " 木造の屋根" + strings.Repeat("木", 90)
	r.Findings[0].Message = strings.Repeat("word ", 90)
	r.Findings[1].Reason = strings.Repeat("x", 200)
	for _, line := range strings.Split(printed(t, "text", report.Options{Working: true}, report.Run{Results: []*finding.Result{r}}), "\n") {
		wide := utf8.RuneCountInString(line) + strings.Count(line, "木") + strings.Count(line, "\U0001F332")
		assert.LessOrEqual(t, wide, 80, line)
	}
}

func TestTextSaysNothingInColourAlone(t *testing.T) {
	run := report.Run{Results: []*finding.Result{sample()}}
	bare, coloured := printed(t, "text", report.Options{}, run), printed(t, "text", report.Options{Colour: true}, run)
	assert.NotContains(t, bare, "\x1b")
	assert.Contains(t, coloured, "\x1b[1;31mSTOP")
	for _, code := range []string{"0", "1", "1;31", "1;33", "1;35"} {
		coloured = strings.ReplaceAll(coloured, "\x1b["+code+"m", "")
	}
	assert.Equal(t, bare, coloured)
}

func TestColouredOnATerminalOnly(t *testing.T) {
	none := func(string) string { return "" }
	read, write, err := os.Pipe()
	require.NoError(t, err)
	defer read.Close()
	defer write.Close()
	assert.False(t, report.Coloured(write, none), "a pipe")
	assert.False(t, report.Coloured(&bytes.Buffer{}, none), "memory")
	// The null device stands in for a terminal: both are character devices.
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	require.NoError(t, err)
	defer null.Close()
	assert.True(t, report.Coloured(null, none))
	assert.False(t, report.Coloured(null, func(k string) string { return map[string]string{"NO_COLOR": "1"}[k] }))
	assert.False(t, report.Coloured(null, func(k string) string { return map[string]string{"TERM": "dumb"}[k] }))
}

func TestControlCharactersOfADocumentReachNoTerminal(t *testing.T) {
	r := sample()
	hostile := "\x1b]0;owned\x07\x1b[2J\r\nB1\u202egnp\u0000"
	r.Model.Title, r.Findings[0].Message, r.Findings[0].Member, r.Findings[1].Reason = hostile, hostile, hostile, hostile
	r.Loosened[0].Reason, r.Signoffs[0].Who, r.Notes[0], r.Incomplete[0] = hostile, hostile, hostile, hostile
	run := report.Run{Results: []*finding.Result{r}, Problems: []report.Problem{{Message: hostile}}}
	for _, format := range []string{"text", "lines", "junit"} {
		out := printed(t, format, report.Options{}, run)
		assert.NotContains(t, out, "\x1b", format)
		assert.NotContains(t, out, "\u202e", format)
		assert.NotContains(t, out, "\x00", format)
		assert.NotContains(t, out, "\r", format)
	}
}

type full struct{}

var errFull = errors.New("disk full")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestAPrinterReportsThatItCouldNotWrite(t *testing.T) {
	for _, format := range report.Checks.Names() {
		printer, err := report.Checks.Printer(format, report.Options{})
		require.NoError(t, err)
		assert.ErrorIs(t, printer.Print(io.Writer(full{}), report.Run{Results: []*finding.Result{sample()}}), errFull, format)
	}
}
