package report

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"io"

	"example.com/scantling/engine/finding"
)

// junitPrinter prints JUnit XML as its readers in CI take it: a suite for each model, a case for each finding and one
// for the run itself.
//
// What is not met and stops the work is a failure. What could not be checked and would stop it is an error, as is a run
// that is incomplete: unknown is no pass. All else that people must look at is skipped, with the reason, so that it is
// seen and does not fail the build; so is what an earlier result held already. Nothing carries a time, so that the same input gives the same bytes.
type junitPrinter struct{}

type junitSuites struct {
	XMLName  xml.Name     `xml:"testsuites"`
	Name     string       `xml:"name,attr"`
	Tests    int          `xml:"tests,attr"`
	Failures int          `xml:"failures,attr"`
	Errors   int          `xml:"errors,attr"`
	Suites   []junitSuite `xml:"testsuite"`
}

type junitSuite struct {
	Name       string          `xml:"name,attr"`
	Tests      int             `xml:"tests,attr"`
	Failures   int             `xml:"failures,attr"`
	Errors     int             `xml:"errors,attr"`
	Skipped    int             `xml:"skipped,attr"`
	Properties []junitProperty `xml:"properties>property"`
	Cases      []junitCase     `xml:"testcase"`
	Out        string          `xml:"system-out,omitempty"`
}

type junitProperty struct {
	Name  string `xml:"name,attr"`
	Value string `xml:"value,attr"`
}

type junitCase struct {
	Name    string        `xml:"name,attr"`
	Class   string        `xml:"classname,attr"`
	Failure *junitVerdict `xml:"failure"`
	Error   *junitVerdict `xml:"error"`
	Skipped string        `xml:"skipped,omitempty"` // the schema allows it text, and no attributes
}

type junitVerdict struct {
	Type    string `xml:"type,attr"`
	Message string `xml:"message,attr"`
	Text    string `xml:",chardata"`
}

func (junitPrinter) Print(w io.Writer, run Run) error {
	suites := junitSuites{Name: "scantling"}
	for _, r := range run.Results {
		suites.add(suiteOf(r))
	}
	for _, p := range run.Problems {
		s := junitSuite{Name: cmp.Or(Clean(p.Place.File), "input"), Properties: cautioned()}
		s.add(junitCase{Name: "the input can be used", Class: "scantling",
			Error: &junitVerdict{"problem", Clean(problemWords(p)), position(p.Place)}})
		suites.add(s)
	}
	if len(suites.Suites) == 0 {
		suites.add(junitSuite{Name: "nothing to check", Properties: cautioned()})
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	encoder := xml.NewEncoder(w)
	encoder.Indent("", "  ")
	if err := encoder.Encode(suites); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

func (s *junitSuites) add(suite junitSuite) {
	s.Suites = append(s.Suites, suite)
	s.Tests += suite.Tests
	s.Failures += suite.Failures
	s.Errors += suite.Errors
}

func (s *junitSuite) add(c junitCase) {
	s.Cases = append(s.Cases, c)
	s.Tests++
	switch {
	case c.Failure != nil:
		s.Failures++
	case c.Error != nil:
		s.Errors++
	case c.Skipped != "":
		s.Skipped++
	}
}

func suiteOf(r *finding.Result) junitSuite {
	s := junitSuite{Name: Clean(cmp.Or(r.Model.File, r.Model.Title)), Properties: cautioned(), Out: finding.Caution}
	property := func(name, value string) {
		s.Properties = append(s.Properties, junitProperty{name, Clean(value)})
	}
	property("title", r.Model.Title)
	property("sha256", r.Model.SHA256)
	property("version", r.Version)
	property("region", RegionWords(r.Region))
	for _, p := range r.Packs {
		property("pack", p.ID+" "+p.Edition)
	}
	for _, l := range r.Loosened {
		property("loosened", LoosenedWords(l))
	}
	for _, note := range r.Notes {
		property("note", note)
	}
	property("summary", SummaryWords(r.Summary))
	if r.Since != nil {
		property("since", SinceWords(r.Since))
	}
	whole := junitCase{Name: "the run is complete", Class: "scantling"}
	if !r.Summary.Complete {
		whole.Error = &junitVerdict{"incomplete", "not everything was checked that should have been", ""}
		for _, reason := range r.Lacking() {
			whole.Error.Text += Clean(reason) + "\n"
		}
	}
	s.add(whole)
	for i := range r.Findings {
		s.add(caseOf(&r.Findings[i], r))
	}
	return s
}

func caseOf(f *finding.Finding, r *finding.Result) junitCase {
	c := junitCase{Name: Clean(f.Where() + ": " + cmp.Or(f.Title, f.Rule)), Class: Clean(f.Rule)}
	verdict := &junitVerdict{Type: string(f.Severity), Message: Clean(f.Message), Text: detail(f, r)}
	first := verdict.Type + ": " + verdict.Message + "\n"
	if f.Outcome == finding.Unchecked {
		verdict.Type, verdict.Message = "unchecked", Clean("not checked: "+f.Reason)
		first = verdict.Message + "\n"
	}
	switch {
	case Accepted(f):
		c.Skipped = "accepted, " + first + Clean(SignoffWords(f.Signoff)) + "\n" + verdict.Text
	case f.Standing == finding.Before:
		c.Skipped = "stood before, " + first + verdict.Text
	case f.Severity != finding.Stop:
		c.Skipped = first + verdict.Text
	case f.Outcome == finding.Unchecked:
		c.Error = verdict
	default:
		c.Failure = verdict
	}
	return c
}

// detail is what a reader of the CI log needs, a line each.
func detail(f *finding.Finding, r *finding.Result) string {
	text := ""
	add := func(label, value string) {
		if value != "" {
			text += fmt.Sprintf("%s: %s\n", label, Clean(value))
		}
	}
	for _, figure := range FigureLines(f, Units(r.Model)) {
		add(figure[0], figure[1])
	}
	add("do", f.Action)
	add("pieces", PiecesWords(f))
	add("drawing", f.Drawing)
	add("source", f.Source)
	add("place", PlaceWords(f.Place))
	add("before", f.Was)
	return text
}

func cautioned() []junitProperty { return []junitProperty{{"caution", finding.Caution}} }
