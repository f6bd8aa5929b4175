package sheet

import (
	"bufio"
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/scantling/model"
)

// remark begins a row that is no data: it is passed over when a table is read.
const remark = "# "

// pageWidth is what a line of text holds, in characters.
const pageWidth = 80

// WriteText prints tables for the screen, columns that are empty left out, with a caution at the end. A table that is
// wider than a page is printed row by row, each figure behind its heading.
func WriteText(w io.Writer, tables []Table, caution string) error {
	out := bufio.NewWriter(w)
	for i := range tables {
		t := tables[i].filled()
		if i > 0 {
			out.WriteByte('\n')
		}
		out.WriteString(t.Name + "\n")
		if widths := t.widths(); total(widths) <= pageWidth {
			t.grid(out, widths)
		} else {
			t.records(out)
		}
	}
	if caution != "" {
		out.WriteByte('\n')
		wrapped(out, "", "", caution)
	}
	return out.Flush()
}

// widths is the characters that each column needs.
func (t *Table) widths() []int {
	widths := make([]int, len(t.Columns))
	for k, c := range t.Columns {
		widths[k] = utf8.RuneCountInString(c.Heading())
		for _, row := range t.Rows {
			widths[k] = max(widths[k], utf8.RuneCountInString(clean(row[k].Text)))
		}
	}
	return widths
}

func total(widths []int) int {
	sum := 0
	for _, w := range widths {
		sum += 2 + w
	}
	return sum
}

// grid prints a heading and a line a row.
func (t *Table) grid(out *bufio.Writer, widths []int) {
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

// records prints each row as its first text, and under it the rest, each behind its heading.
func (t *Table) records(out *bufio.Writer) {
	for _, row := range t.Rows {
		wrapped(out, "  ", "    ", clean(row[0].Text))
		var rest []string
		for k, c := range row[1:] {
			if c.Text != "" {
				column := t.Columns[k+1]
				text := strings.ToLower(column.Title) + " " + clean(c.Text)
				if column.Unit != "" {
					text += " " + column.Unit
				}
				rest = append(rest, text)
			}
		}
		wrapped(out, "      ", "      ", strings.Join(rest, "; "))
	}
}

// wrapped prints a text in lines that fit the page, the first behind one lead and the others behind another.
func wrapped(out *bufio.Writer, first, others, text string) {
	line := first
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > pageWidth {
			out.WriteString(line + "\n")
			line, empty = others, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	out.WriteString(line + "\n")
}

// filled is the table as a reader wants it: without the columns in which every cell is empty, and with inches as feet and
// inches.
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
		inFeet := c.Unit == model.MeasureLength.Unit(model.US)
		if inFeet {
			c.Unit = ""
		}
		out.Columns = append(out.Columns, c)
		for i, row := range t.Rows {
			cell := row[k]
			if inFeet {
				cell = feet(cell)
			}
			out.Rows[i] = append(out.Rows[i], cell)
		}
	}
	return out
}

// feet is a figure in inches as feet and inches.
func feet(c Cell) Cell {
	if v, err := strconv.ParseFloat(c.Text, 64); err == nil && c.Figure {
		c.Text = model.Format(v*model.MeasureLength.Size(model.US), model.Length, model.US)
	}
	return c
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
