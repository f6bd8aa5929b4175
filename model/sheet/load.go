package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"example.com/scantling/model"
)

// Bounds of what is read.
const (
	mostBytes   = 32 << 20  // of a file
	mostUnzip   = 128 << 20 // of an XLSX file, unzipped
	mostPart    = 16 << 20  // of one part of it that is kept in memory
	mostRows    = 100_000   // of a sheet
	mostColumns = 200
)

// grid is a sheet as it is read: rows of texts, the first being the headings.
type grid struct {
	name string // empty in a CSV file
	rows [][]string
}

// load reads the sheets of an XLSX file, or the one of a CSV file: what begins like a ZIP file is the former.
func load(data []byte, file string) ([]grid, Problems) {
	if len(data) > mostBytes {
		return nil, Problems{{File: file, Message: fmt.Sprintf("the file has more than %d MiB", mostBytes>>20), Fix: "leave out what is no framing schedule"}}
	}
	if bytes.HasPrefix(data, []byte("PK")) {
		return loadXLSX(data, file)
	}
	return loadCSV(data, file)
}

func loadXLSX(data []byte, file string) (grids []grid, problems Problems) {
	unusable := func(why string) Problems {
		return Problems{{File: file, Message: "this is no spreadsheet that can be read: " + why, Fix: "save it as XLSX or CSV again"}}
	}
	options := excelize.Options{RawCellValue: true, UnzipSizeLimit: mostUnzip, UnzipXMLSizeLimit: mostPart}
	// The library is fed files that anybody may have made: what it panics on is a file that cannot be read.
	defer func() {
		if p := recover(); p != nil {
			grids, problems = nil, unusable("its parts do not fit together")
		}
	}()
	// The library writes large parts to files, and forgets them where a part is damaged. Without a folder for them it reads
	// them in memory.
	if large, err := os.MkdirTemp("", "scantling-"); err == nil {
		options.TmpDir = large
		defer func() { _ = os.RemoveAll(large) }()
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), options)
	if err != nil {
		return nil, unusable(err.Error())
	}
	defer f.Close()
	problems, err = unsaved(data, file)
	if err != nil {
		return nil, unusable(err.Error())
	}
	for _, name := range f.GetSheetList() {
		if formOf(name) == nil {
			continue
		}
		g, err := readSheet(f, name)
		if err != nil {
			problems = append(problems, Problem{File: file, Sheet: name, Message: err.Error(), Fix: "keep to one row a member, with the headings in row 1"})
			continue
		}
		grids = append(grids, g)
	}
	if len(grids) == 0 && len(problems) == 0 {
		problems = Problems{{File: file, Message: "no sheet is called Members, Supports, Areas or Model", Fix: "fill in a workbook that the schedule command wrote"}}
	}
	return grids, problems
}

// readSheet reads row by row, so that a sheet that claims to be vast is left early.
func readSheet(f *excelize.File, name string) (grid, error) {
	g := grid{name: name}
	rows, err := f.Rows(name)
	if err != nil {
		return g, err
	}
	defer rows.Close()
	for rows.Next() {
		cells, err := rows.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return g, err
		}
		if len(cells) > mostColumns {
			return g, fmt.Errorf("row %d has more than %d columns", len(g.rows)+1, mostColumns)
		}
		if len(g.rows) >= mostRows {
			return g, fmt.Errorf("it has more than %d rows", mostRows)
		}
		g.rows = append(g.rows, cells)
	}
	return g, rows.Error()
}

func loadCSV(data []byte, file string) ([]grid, Problems) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	r.FieldsPerRecord = -1
	if head, _, _ := bytes.Cut(data, []byte("\n")); bytes.Count(head, []byte(";")) > bytes.Count(head, []byte(",")) {
		r.Comma = ';' // as spreadsheets write where the comma is the decimal point
	}
	var g grid
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil && (len(cells) > mostColumns || len(g.rows) >= mostRows) {
			err = fmt.Errorf("it has more than %d rows or %d columns", mostRows, mostColumns)
		}
		if err != nil {
			return nil, Problems{{File: file, Message: "this is no table that can be read: " + err.Error(), Fix: "save it as CSV again, with commas and quotes"}}
		}
		for i, c := range cells {
			if after, cut := strings.CutPrefix(c, "'"); cut && formula(after) {
				cells[i] = after
			}
		}
		// The reader of CSV passes over empty lines: put them back, so that rows keep their numbers.
		line, _ := r.FieldPos(0)
		for len(g.rows) < min(line-1, mostRows) {
			g.rows = append(g.rows, nil)
		}
		g.rows = append(g.rows, cells)
	}
	if len(g.rows) == 0 {
		return nil, Problems{{File: file, Message: "the file is empty", Fix: "fill in a table that the schedule command wrote"}}
	}
	return []grid{g}, nil
}

var allForms = []*form{&modelForm, &areasForm, &membersForm, &supportsForm}

// formOf is the form that a sheet's name calls for, or nil.
func formOf(name string) *form {
	i := slices.IndexFunc(allForms, func(f *form) bool { return strings.EqualFold(f.name, strings.TrimSpace(name)) })
	if i < 0 {
		return nil
	}
	return allForms[i]
}

// likeliest is the form whose headings a CSV file has most of.
func likeliest(headings []string) *form {
	best, most := &membersForm, 0
	for _, f := range allForms {
		n := 0
		for _, h := range headings {
			if title, _ := cutUnit(h); f.find(title) >= 0 {
				n++
			}
		}
		if n > most {
			best, most = f, n
		}
	}
	return best
}

// find is the place of the column of a title, or -1.
func (f *form) find(title string) int {
	return slices.IndexFunc(f.columns, func(c column) bool { return strings.EqualFold(c.title, title) })
}

func (f *form) titles() []string {
	out := make([]string, len(f.columns))
	for i := range f.columns {
		out[i] = f.columns[i].title
	}
	return out
}

// cutUnit parts "Bearing (mm)".
func cutUnit(heading string) (title, unit string) {
	heading = strings.TrimSpace(heading)
	if open := strings.LastIndexByte(heading, '('); open > 0 && strings.HasSuffix(heading, ")") {
		return strings.TrimSpace(heading[:open]), strings.TrimSpace(heading[open+1 : len(heading)-1])
	}
	return heading, ""
}

// otherUnits says whether a heading's unit is not that of the document.
func (c *column) otherUnits(unit string, u model.Units) bool {
	return unit != "" && c.measure != nil && unit != c.unit(u)
}
