package sheet

import (
	"bufio"
	"encoding/csv"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// remark begins a row that is no data: it is passed over when a table is read.
const remark = "# "

// WriteText prints tables for the screen, columns that are empty left out, with a caution at the end.
func WriteText(w io.Writer, tables []Table, caution string) error {
	out := bufio.NewWriter(w)
	for i := range tables {
		t := tables[i].filled()
		if i > 0 {
			out.WriteByte('\n')
		}
		out.WriteString(t.Name + "\n")
		widths := make([]int, len(t.Columns))
		for k, c := range t.Columns {
			widths[k] = utf8.RuneCountInString(c.Heading())
			for _, row := range t.Rows {
				widths[k] = max(widths[k], utf8.RuneCountInString(clean(row[k].Text)))
			}
		}
		heading := make([]Cell, len(t.Columns))
		for k, c := range t.Columns {
			heading[k] = Cell{Text: c.Heading(), Figure: len(t.Rows) > 0 && t.Rows[0][k].Figure}
		}
		for _, row := range append([][]Cell{heading}, t.Rows...) {
			line := ""
			for k, c := range row {
				gap := strings.Repeat(" ", widths[k]-utf8.RuneCountInString(clean(c.Text)))
				if c.Figure {
					line += "  " + gap + clean(c.Text)
				} else {
					line += "  " + clean(c.Text) + gap
				}
			}
			out.WriteString(strings.TrimRight(line, " ") + "\n")
		}
	}
	if caution != "" {
		out.WriteString("\n" + caution + "\n")
	}
	return out.Flush()
}

// filled is the table without the columns in which every cell is empty.
func (t *Table) filled() Table {
	out := Table{Name: t.Name, Rows: make([][]Cell, len(t.Rows))}
	for k, c := range t.Columns {
		used := false
		for _, row := range t.Rows {
			used = used || row[k].Text != ""
		}
		if !used {
			continue
		}
		out.Columns = append(out.Columns, c)
		for i, row := range t.Rows {
			out.Rows[i] = append(out.Rows[i], row[k])
		}
	}
	return out
}

// clean keeps a text on its line, and keeps what would steer a terminal out of it.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
}

// WriteCSV writes one table; its last row is the caution. A text that a spreadsheet would take for a formula gets an
// apostrophe in front, which reading takes off again.
func WriteCSV(w io.Writer, t *Table, caution string) error {
	out := csv.NewWriter(w)
	row := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		row[i] = c.Heading()
	}
	_ = out.Write(row) // its error is kept, and given at the end
	for _, cells := range t.Rows {
		for i, c := range cells {
			row[i] = c.Text
			if !c.Figure && formula(c.Text) {
				row[i] = "'" + c.Text
			}
		}
		_ = out.Write(row)
	}
	if caution != "" {
		last := make([]string, len(t.Columns))
		last[0] = remark + caution
		_ = out.Write(last)
	}
	out.Flush()
	return out.Error()
}

// formula says whether a spreadsheet would take a text for a formula.
func formula(s string) bool {
	return s != "" && strings.ContainsRune("=+-@", rune(s[0]))
}
