package read

import (
	"fmt"
	"slices"
	"strings"
)

// Problem is one thing that keeps a document from being used.
type Problem struct {
	File    string
	Line    int    // from 1; 0 when the problem has no place
	Column  int    // from 1, in characters
	Offset  int64  // in bytes from the start of the file
	Pointer string // JSON pointer (RFC 6901)
	Mark    string // the member, where it is in one
	Message string
	Fix     string // what to do
}

// Error is the problem in one line: file:line:column: message; what to do.
func (p Problem) Error() string {
	text := p.Message
	if p.Fix != "" {
		text += "; " + p.Fix
	}
	if p.Line > 0 {
		text = fmt.Sprintf("%d:%d: %s", p.Line, p.Column, text)
		if p.File != "" {
			return p.File + ":" + text
		}
		return text
	}
	if p.File != "" {
		return p.File + ": " + text
	}
	return text
}

// Problems are all problems of a document in the order of their places. Beyond mostProblems only their number is
// told, by a last problem without a place.
type Problems []Problem

// mostProblems are told one by one.
const mostProblems = 100

// Error is one line per problem.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives each problem as an error of its own.
func (ps Problems) Unwrap() []error {
	errs := make([]error, len(ps))
	for i, p := range ps {
		errs[i] = p
	}
	return errs
}

// problems collects while reading.
type problems struct {
	list []Problem
	more int
}

func (ps *problems) add(p Problem) {
	if len(ps.list) >= mostProblems {
		ps.more++
		return
	}
	ps.list = append(ps.list, p)
}

// in gives the problems with their places in the source, sorted.
func (ps *problems) in(name string, src []byte) Problems {
	if len(ps.list) == 0 {
		return nil
	}
	list := slices.Clone(ps.list)
	slices.SortStableFunc(list, func(a, b Problem) int { return int(a.Offset - b.Offset) })
	lines := NewPlaces(src)
	for i := range list {
		at := lines.at(list[i].Offset)
		list[i].File, list[i].Line, list[i].Column = name, at.Line, at.Column
	}
	if ps.more > 0 {
		list = append(list, Problem{File: name, Message: fmt.Sprintf("%d more problems", ps.more), Fix: "mend those above first"})
	}
	return list
}
