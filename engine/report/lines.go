package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"

	"example.com/scantling/engine/finding"
)

// linePrinter prints file:line:column: severity: message, one finding a line, for editors and for annotations in CI.
// Columns are in code points. The caution closes it.
type linePrinter struct{}

func (linePrinter) Print(w io.Writer, run Run) error {
	out := bufio.NewWriter(w)
	for _, r := range run.Results {
		listed := Listed(r.Findings)
		for i := range listed {
			f := &listed[i]
			place := f.Place
			if place.File == "" {
				place.File = r.Model.File
			}
			fmt.Fprintf(out, "%s: %s\n", position(place), Clean(lineOf(f)))
		}
		for _, reason := range r.Lacking() {
			fmt.Fprintf(out, "%s: incomplete: %s\n", position(finding.Place{File: r.Model.File}), Clean(reason))
		}
		for _, l := range r.Loosened {
			fmt.Fprintf(out, "%s: loosened: %s\n", position(l.Place), Clean(LoosenedWords(l)))
		}
		if r.Since != nil {
			fmt.Fprintf(out, "%s: since: %s\n", position(finding.Place{File: r.Model.File}), Clean(SinceWords(r.Since)))
		}
	}
	for _, p := range run.Problems {
		fmt.Fprintf(out, "%s: problem: %s\n", position(p.Place), Clean(problemWords(p)))
	}
	fmt.Fprintf(out, "caution: %s\n", finding.Caution)
	return out.Flush()
}

// lineOf is a finding in one line, its severity first.
func lineOf(f *finding.Finding) string {
	text := string(f.Severity) + ": " + f.Message
	switch {
	case Accepted(f):
		text = "accepted: " + f.Message
	case f.Outcome == finding.Unchecked:
		text = fmt.Sprintf("%s: %s: %s: not checked, %s", f.Severity, f.Where(), cmp.Or(f.Title, f.Rule), f.Reason)
	}
	return text + countWords(f) + " [" + f.Rule + "]" + wasWords(f)
}

// position is file:line:column, 1 where the place in the file is not known.
func position(p finding.Place) string {
	file := p.File
	if file == "" {
		file = "-"
	}
	return fmt.Sprintf("%s:%d:%d", Clean(file), max(p.Line, 1), max(p.Column, 1))
}

func problemWords(p Problem) string {
	if p.Action == "" {
		return p.Message
	}
	return p.Message + "; " + p.Action
}
