// Package problem is what is wrong with a pack and where: file, line, column, the expression with a caret under the
// fault, and what would be right. It must not know what a pack holds.
package problem

import (
	"fmt"
	"sort"
	"strings"
)

// Place is a place in a file. Line and Column count from 1, Column in characters; 0 where there is none.
type Place struct {
	File         string
	Line, Column int
}

// String is the place as editors read it: file:line:column.
func (p Place) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Problem is one mistake.
type Problem struct {
	Place      Place
	Rule       string // id of the rule, where it is in one
	Message    string // what is wrong
	Fix        string // what would be right
	Expression string // the expression that holds the mistake, or empty
	Caret      int    // characters before the mistake in Expression
	Related    *Place // the other place that a mistake has to do with
}

// Error is the problem in one or more lines.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.Place.String())
	b.WriteString(": ")
	if p.Rule != "" {
		fmt.Fprintf(&b, "rule %s: ", p.Rule)
	}
	b.WriteString(p.Message)
	if p.Related != nil {
		fmt.Fprintf(&b, " (see %s)", p.Related)
	}
	if p.Expression != "" {
		line, caret := lineAround(p.Expression, p.Caret)
		fmt.Fprintf(&b, "\n    %s\n    %s^", line, strings.Repeat(" ", caret))
	}
	if p.Fix != "" {
		b.WriteString("\n    " + p.Fix)
	}
	return b.String()
}

// widest is the most of an expression's line that is shown, in characters.
const widest = 100

// lineAround is the line of a text that holds a caret, cut to what can be read, and the caret's place in it.
func lineAround(text string, caret int) (string, int) {
	runes := []rune(strings.ReplaceAll(text, "\t", " "))
	caret = max(0, min(caret, len(runes)))
	from, to := caret, caret
	for from > 0 && runes[from-1] != '\n' {
		from--
	}
	for to < len(runes) && runes[to] != '\n' {
		to++
	}
	before, after := "", ""
	if caret-from > widest/2 && to-from > widest {
		from, before = caret-widest/2, "... "
	}
	if to-from > widest {
		to, after = from+widest, " ..."
	}
	return before + string(runes[from:to]) + after, caret - from + len(before)
}

// Problems are all mistakes that were found, as an error.
type Problems []Problem

// Error is one problem after the other.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i := range p {
		lines[i] = p[i].Error()
	}
	return strings.Join(lines, "\n")
}

// Sorted is the problems by file and place, each once.
func (p Problems) Sorted() Problems {
	out := append(Problems(nil), p...)
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i].Place, out[j].Place
		switch {
		case a.File != b.File:
			return a.File < b.File
		case a.Line != b.Line:
			return a.Line < b.Line
		default:
			return a.Column < b.Column
		}
	})
	seen := map[string]bool{}
	kept := out[:0]
	for _, q := range out {
		if text := q.Error(); !seen[text] {
			seen[text] = true
			kept = append(kept, q)
		}
	}
	return kept
}

// Err is the problems as an error, or nil when there are none.
func (p Problems) Err() error {
	if len(p) == 0 {
		return nil
	}
	return p
}
