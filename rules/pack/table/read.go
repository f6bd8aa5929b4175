package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/problem"
)

// Cell is a text of a table with its place.
type Cell struct {
	Text  string
	Place problem.Place
}

// ReadCSV reads a table from CSV. The first row that is no comment is the header.
func ReadCSV(name, file string, data []byte) (*Table, problem.Problems) {
	at := func(line, column int) problem.Place { return problem.Place{File: file, Line: line, Column: column} }
	if !utf8.Valid(data) {
		return nil, problem.Problems{{Place: at(1, 1), Message: "the table is not UTF-8 text", Fix: "save it as UTF-8"}}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	lines := bytes.Split(data, []byte("\n"))
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment = '#'
	r.TrimLeadingSpace = true
	r.FieldsPerRecord = -1
	var records [][]Cell
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			return nil, problem.Problems{{
				Place: at(wrong.Line, wrong.Column), Message: "this line is not CSV: " + wrong.Err.Error(),
				Fix: "quote a cell that holds a comma or a quote, and close the quotes",
			}}
		}
		if err != nil {
			return nil, problem.Problems{{Place: at(0, 0), Message: err.Error()}}
		}
		if len(records) > maxRows {
			return nil, problem.Problems{{Place: at(0, 0), Message: fmt.Sprintf("the table has more than %d rows", maxRows)}}
		}
		cells := make([]Cell, len(record))
		for i, text := range record {
			line, column := r.FieldPos(i)
			if line <= len(lines) && column-1 <= len(lines[line-1]) {
				column = 1 + utf8.RuneCount(lines[line-1][:column-1])
			}
			cells[i] = Cell{strings.TrimSpace(text), at(line, column)}
		}
		records = append(records, cells)
	}
	if len(records) == 0 {
		return nil, problem.Problems{{Place: at(1, 1), Message: "the table is empty", Fix: "begin with a header such as " + headerExample}}
	}
	return New(name, records[0], records[1:])
}

const headerExample = `"section text exact, load [kN/m2] next up, span [mm]"`

// New builds a table from a header and rows of cells. All problems are returned; the table is nil when there are any.
func New(name string, header []Cell, rows [][]Cell) (*Table, problem.Problems) {
	var problems problem.Problems
	columns := make([]Column, len(header))
	for i, cell := range header {
		column, err := parseHeader(cell.Text)
		if err != nil {
			problems = append(problems, problem.Problem{Place: cell.Place, Message: err.Error(), Fix: "a header reads " + headerExample})
		}
		for _, other := range columns[:i] {
			if other.Name == column.Name {
				problems = append(problems, problem.Problem{Place: cell.Place, Message: fmt.Sprintf("two columns are called %q", column.Name), Fix: "give each its own name"})
			}
		}
		columns[i] = column
	}
	if len(problems) > 0 {
		return nil, problems
	}
	b := builder{table: &Table{Name: name, Rows: len(rows)}, columns: columns}
	b.check(header, rows)
	b.read(rows)
	if len(b.problems) == 0 {
		b.fill(rows)
	}
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	return b.table, nil
}

var (
	headerForm = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9_]*)(?:\s+(text)|\s*\[([^\]]*)\])?(?:\s+(exact|next up|next down|between))?$`)
	matches    = map[string]Match{"": Value, "exact": Exact, "next up": NextUp, "next down": NextDown, "between": Between}
)

// dimensions are tried in this order where a unit fits several (a pound is a force before it is a mass).
var dimensions = []model.Dimension{
	model.Plain, model.Length, model.Force, model.Stress, model.LineLoad, model.Moment, model.Angle, model.Mass, model.Density,
	model.LineMass, model.Surface, model.Modulus, model.Inertia, model.Warping, model.Stiffness,
}

// Quantity reads a quantity of any dimension with its unit.
func Quantity(text string) (float64, model.Dimension, bool) {
	for _, d := range dimensions {
		if v, err := model.ParseQuantity(text, d); err == nil {
			return v, d, true
		}
	}
	return 0, model.Plain, false
}

func parseHeader(text string) (Column, error) {
	m := headerForm.FindStringSubmatch(strings.Join(strings.Fields(text), " "))
	if m == nil {
		return Column{}, fmt.Errorf("%q is no header", text)
	}
	c := Column{Name: m[1], IsText: m[2] != "", Unit: strings.TrimSpace(m[3]), Match: matches[m[4]], size: 1}
	if c.IsText && c.Match > Exact {
		return c, fmt.Errorf("texts are matched exact, not %s", c.Match)
	}
	if c.Unit != "" {
		size, d, ok := Quantity("1 " + c.Unit)
		if !ok {
			return c, fmt.Errorf("%q is not a unit", c.Unit)
		}
		c.size, c.Dimension = size, d
	}
	return c, nil
}

// builder fills a table; columns are in the order of the header.
type builder struct {
	table    *Table
	columns  []Column
	problems problem.Problems
	figures  [][]float64 // by row and column; NaN where a cell is empty
}

func (b *builder) problem(at problem.Place, fix, format string, args ...any) {
	b.problems = append(b.problems, problem.Problem{Place: at, Message: fmt.Sprintf(format, args...), Fix: fix})
}

// check holds the table to its bounds before anything is built from it.
func (b *builder) check(header []Cell, rows [][]Cell) {
	t, between := b.table, 0
	for _, c := range b.columns {
		if c.Match == Value {
			t.Values = append(t.Values, c)
			continue
		}
		t.Keys = append(t.Keys, c)
		if c.Match == Between {
			between++
		}
	}
	at := header[0].Place
	switch {
	case len(t.Keys) == 0:
		b.problem(at, "say of the keys: exact, next up, next down or between", "the table %s has no key column", t.Name)
	case len(t.Values) == 0:
		b.problem(at, "leave exact, next or between out of the column that is looked up", "the table %s has no value column", t.Name)
	case len(t.Keys) > maxKeys:
		b.problem(at, "split the table", "the table %s has more than %d keys", t.Name, maxKeys)
	case between > maxBetween:
		b.problem(at, "match some of them next", "the table %s has more than %d keys that are matched between", t.Name, maxBetween)
	case len(rows) == 0:
		b.problem(at, "add rows beneath the header", "the table %s has no rows", t.Name)
	case len(rows) > maxRows:
		b.problem(at, "split the table", "the table %s has more than %d rows", t.Name, maxRows)
	case between > 0 && slices.ContainsFunc(t.Values, func(c Column) bool { return c.IsText }):
		b.problem(at, "match the keys exact or next", "there is nothing between two texts: the table %s has a column of texts to look up", t.Name)
	}
	for _, row := range rows {
		if len(row) != len(b.columns) {
			b.problem(row[0].Place, "leave a cell empty, or write -, where there is no value", "the header has %d columns, this row %d", len(b.columns), len(row))
		}
	}
}

// read turns cells into figures and gathers the keys of each key column.
func (b *builder) read(rows [][]Cell) {
	t := b.table
	b.figures = make([][]float64, len(rows))
	keys, texts, listed := map[int][]float64{}, map[int]map[string]int32{}, map[int][]string{}
	for r, row := range rows {
		if len(row) != len(b.columns) {
			continue // said by check
		}
		b.figures[r] = make([]float64, len(row))
		for i, cell := range row {
			c := b.columns[i]
			blank := cell.Text == "" || cell.Text == "-"
			b.figures[r][i] = math.NaN()
			switch {
			case blank && c.Match != Value:
				b.problem(cell.Place, "each row says all its keys", "the key %s is empty", c.Name)
			case blank:
			case c.IsText && c.Match != Value:
				if texts[i] == nil {
					texts[i] = map[string]int32{}
				}
				if _, known := texts[i][cell.Text]; !known {
					texts[i][cell.Text] = int32(len(listed[i]))
					listed[i] = append(listed[i], cell.Text)
				}
			case c.IsText:
			default:
				v, err := strconv.ParseFloat(cell.Text, 64)
				if v *= c.size; err != nil || v-v != 0 {
					b.problem(cell.Place, "write a number; its unit stands in the header", "%q is not a number", cell.Text)
					continue
				}
				b.figures[r][i] = v
				keys[i] = append(keys[i], v)
			}
		}
	}
	for i, c := range b.columns {
		if c.Match == Value {
			continue
		}
		sorted := keys[i]
		slices.Sort(sorted)
		sorted = slices.CompactFunc(sorted, func(x, y float64) bool { return atLeast(x, y) && atLeast(y, x) })
		t.numbers = append(t.numbers, sorted)
		t.texts = append(t.texts, texts[i])
		t.listed = append(t.listed, listed[i])
	}
}

// fill lays the values out densely over all combinations of keys.
func (b *builder) fill(rows [][]Cell) {
	t, size := b.table, 1
	t.strides = make([]int, len(t.Keys))
	for k := len(t.Keys) - 1; k >= 0; k-- {
		t.strides[k] = size
		if size *= len(t.numbers[k]) + len(t.listed[k]); size > maxCells {
			b.problem(rows[0][0].Place, "split the table", "all combinations of the keys of %s are more than %d", t.Name, maxCells)
			return
		}
	}
	for _, c := range t.Values {
		var cells []float64
		var words []string
		if c.IsText {
			words = make([]string, size)
		} else {
			cells = make([]float64, size)
			for i := range cells {
				cells[i] = math.NaN()
			}
		}
		t.cells, t.words = append(t.cells, cells), append(t.words, words)
	}
	first := map[int]problem.Place{}
	for r, row := range rows {
		at := b.place(r, row)
		if other, twice := first[at]; twice {
			b.problems = append(b.problems, problem.Problem{
				Place: row[0].Place, Related: &other, Message: "two rows have the same keys", Fix: "leave one of them out",
			})
			continue
		}
		first[at] = row[0].Place
		value := 0
		for i, c := range b.columns {
			switch {
			case c.Match != Value:
				continue
			case c.IsText && row[i].Text != "-":
				t.words[value][at] = row[i].Text
			case !c.IsText:
				t.cells[value][at] = b.figures[r][i]
			}
			value++
		}
	}
}

// place is the index of a row's cell in the dense arrays.
func (b *builder) place(r int, row []Cell) int {
	at, key := 0, 0
	for i, c := range b.columns {
		if c.Match == Value {
			continue
		}
		if c.IsText {
			at += int(b.table.texts[key][row[i].Text]) * b.table.strides[key]
		} else {
			keys := b.table.numbers[key]
			n, _ := slices.BinarySearchFunc(keys, b.figures[r][i], func(k, v float64) int {
				if atLeast(k, v) {
					if atLeast(v, k) {
						return 0
					}
					return 1
				}
				return -1
			})
			at += n * b.table.strides[key]
		}
		key++
	}
	return at
}
