package sheet

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// Options say what a spreadsheet is read into.
type Options struct {
	Base  *read.Source // the document that it updates; nil: it makes a new one
	Units model.Units  // of a new document, where no sheet says
}

// Result is what came of a spreadsheet.
type Result struct {
	Document *model.Document
	Text     []byte   // the document as JSON; of an update, in the layout of what was updated
	Added    []string // marks that are new
	Changed  []string // marks of which cells differ
	Missing  []string // marks that have no row: they stay as they are
}

// Read makes a document from a filled-in XLSX or CSV file, or updates one. A cell that is as it was written changes
// nothing, an empty one takes the key away; what the sheets do not show stays, and so do members without a row and the
// supports of members that have no row under Supports. Spreadsheets keep fifteen digits of a figure. Either the result is without problems and is given, or the
// problems are: all of them, each with its sheet and cell.
func Read(data []byte, file string, o Options) (*Result, Problems) {
	u := &update{file: file, cells: map[string]ref{}, patch: map[string]any{}}
	if problems := u.open(o); problems != nil {
		return nil, problems
	}
	grids, problems := load(data, file)
	if problems != nil {
		return nil, problems
	}
	// Sheets are taken up in one order, whatever theirs is: units before figures, members before their supports.
	tables := map[*form]*rows{}
	for i := range grids {
		f := formOf(grids[i].name)
		if f == nil {
			f = likeliest(grids[i].rows[0])
		}
		tables[f] = &rows{grid: &grids[i], form: f}
	}
	for _, f := range allForms {
		if t := tables[f]; t != nil {
			u.take(t)
		}
	}
	return u.finish()
}

// ref is a cell.
type ref struct {
	sheet string
	row   int // from 0
	col   int
}

// update is a merge patch in the making.
type update struct {
	file     string
	base     read.Source
	old      *model.Document // nil: a new one is made
	tree     tree            // of old
	written  tree            // of old, as its author wrote it
	units    model.Units
	patch    map[string]any
	cells    map[string]ref // by JSON pointer, what it came from
	problems Problems
	rowed    map[string]bool // marks with a row under Members
	Result
}

// open takes the document that is updated, or begins a new one.
func (u *update) open(o Options) Problems {
	u.units = o.Units
	u.tree = tree{}
	if o.Base == nil {
		name := "metric"
		if o.Units == model.US {
			name = "us"
		}
		u.base = read.Source{Name: u.file, Text: fmt.Appendf(nil, `{"framing": %d, "units": %q, "members": {}}`, read.Version, name)}
		return nil
	}
	u.base = *o.Base
	doc, problems := read.Document(o.Base.Text, o.Base.Name)
	if problems != nil {
		out := make(Problems, len(problems))
		for i, p := range problems {
			out[i] = Problem{Message: p.Error()}
		}
		return out
	}
	u.old, u.units, u.tree, u.written = doc, doc.Units, treeOf(doc), treeIn(o.Base.Text)
	return nil
}

func (u *update) wrong(at ref, message, fix string) {
	u.problems = append(u.problems, Problem{u.file, at.sheet, cellName(at), message, fix})
}

func cellName(at ref) string {
	name, err := excelize.CoordinatesToCellName(at.col+1, at.row+1)
	if err != nil {
		return "row " + strconv.Itoa(at.row+1)
	}
	return name
}

// take puts one sheet into the patch.
func (u *update) take(t *rows) {
	if !u.head(t) {
		return
	}
	switch t.form {
	case &modelForm:
		u.takeModel(t)
	case &supportsForm:
		u.takeSupports(t)
	case &areasForm:
		u.takeNamed(t, "areas")
	case &membersForm:
		u.rowed = map[string]bool{}
		u.takeNamed(t, "members")
	}
}

// finish applies the patch, and puts what the reader of documents finds where it came from.
func (u *update) finish() (*Result, Problems) {
	text, err := json.Marshal(inOrder(u.patch))
	if err != nil {
		u.problems = append(u.problems, Problem{File: u.file, Message: err.Error(), Fix: "save the sheet again"})
	}
	p, found := read.Patch(u.base, read.Source{Name: u.file, Text: text})
	for _, f := range found {
		u.blame(f)
	}
	if len(u.problems) > 0 {
		slices.SortStableFunc(u.problems, func(a, b Problem) int {
			return cmp.Or(cmp.Compare(sheetOrder(a.Sheet), sheetOrder(b.Sheet)), cmp.Compare(rowOf(a.Cell), rowOf(b.Cell)))
		})
		return nil, u.problems
	}
	u.Document, u.Text = p.Document, append(slices.Clip(p.Text), '\n')
	if u.old == nil {
		u.Text = read.Write(p.Document)
	} else if u.rowed != nil {
		for i := range u.old.Members {
			if mark := u.old.Members[i].Mark; !u.rowed[mark] {
				u.Missing = append(u.Missing, mark)
			}
		}
	}
	return &u.Result, nil
}

func sheetOrder(name string) int {
	return slices.IndexFunc(allForms, func(f *form) bool { return strings.EqualFold(f.name, name) })
}

func rowOf(cell string) int {
	_, row, _ := excelize.CellNameToCoordinates(cell)
	return row
}

// blame finds the cell that a problem's pointer came from: the longest beginning of the pointer that a cell wrote.
func (u *update) blame(p read.Problem) {
	for pointer := p.Pointer; pointer != ""; pointer = pointer[:strings.LastIndexByte(pointer, '/')] {
		if at, ok := u.cells[pointer]; ok {
			u.wrong(at, p.Message, p.Fix)
			return
		}
	}
	u.problems = append(u.problems, Problem{File: u.file, Message: p.Message, Fix: p.Fix})
}
