// Package sheet writes a document and its cutting and ordering lists as tables, for spreadsheets (XLSX, CSV) and for
// the screen, and reads a filled-in spreadsheet back into a document. It moves text and figures between cells and the
// document's own JSON, which the reader of documents judges; it must not know what a frame is.
package sheet

import (
	"slices"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/model/cutting"
)

// The tables. The first four can be filled in and read back; the rest are made anew each time.
const (
	Model    = "Model"
	Areas    = "Areas"
	Members  = "Members"
	Supports = "Supports"
	Cutting  = "Cutting"
	Ordering = "Ordering"
	Plan     = "Plan"
)

// Kept is what a cell says where the document holds more than a cell can: the document keeps what it has.
const Kept = "(as in the model)"

// Table is a heading and rows of cells.
type Table struct {
	Name    string
	Columns []Column
	Rows    [][]Cell
}

// Column is the heading of one column, with the unit of its figures.
type Column struct {
	Title string
	Unit  string
	Width float64 // characters
}

// Heading is the title with its unit.
func (c Column) Heading() string {
	if c.Unit == "" {
		return c.Title
	}
	return c.Title + " (" + c.Unit + ")"
}

// Cell is what one cell holds. The zero value is an empty cell.
type Cell struct {
	Text   string // as it is shown; of a figure, its digits
	Figure bool
	Truth  bool // Text is TRUE or FALSE
}

// Find is the table of that name, or nil. Case does not matter.
func Find(tables []Table, name string) *Table {
	i := slices.IndexFunc(tables, func(t Table) bool { return strings.EqualFold(t.Name, name) })
	if i < 0 {
		return nil
	}
	return &tables[i]
}

// Tables are all tables of a document with its schedule: those to fill in, then the lists.
func Tables(doc *model.Document, s *cutting.Schedule) []Table {
	return append(forms(doc), lists(s)...)
}

func text(s string) Cell { return Cell{Text: s} }
