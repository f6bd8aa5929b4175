package sheet

import "strings"

// Problem is one thing that keeps a spreadsheet from being used.
type Problem struct {
	File    string
	Sheet   string // empty in a CSV file
	Cell    string // such as "D7"; empty where no one cell is to blame
	Message string
	Fix     string // what to do
}

// Error is the problem in one line: file: sheet!cell: message; what to do.
func (p Problem) Error() string {
	place := p.Cell
	if p.Sheet != "" {
		place = p.Sheet
		if p.Cell != "" {
			place += "!" + p.Cell
		}
	}
	text := p.Message
	if p.Fix != "" {
		text += "; " + p.Fix
	}
	for _, before := range []string{place, p.File} {
		if before != "" {
			text = before + ": " + text
		}
	}
	return text
}

// Problems are all problems of a spreadsheet, sheet by sheet and row by row.
type Problems []Problem

// Error is one line per problem.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}
