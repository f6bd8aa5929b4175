package sheet

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/scantling/model"
)

// rows is a sheet with its columns found.
type rows struct {
	grid   *grid
	form   *form
	places []int // by column of the form: which column of the sheet, or -1
}

// head finds the columns by their headings. It is false where the rows cannot be told what they are about.
func (u *update) head(t *rows) bool {
	t.places = make([]int, len(t.form.columns))
	for i := range t.places {
		t.places[i] = -1
	}
	if len(t.grid.rows) == 0 {
		return false
	}
	for col, heading := range t.grid.rows[0] {
		title, unit := cutUnit(heading)
		if title == "" {
			continue
		}
		at := ref{t.grid.name, 0, col}
		i := t.form.find(title)
		switch {
		case i < 0:
			fix := "clear the column, or use one of: " + strings.Join(t.form.titles(), ", ")
			if near := model.Nearest(title, t.form.titles()); near != "" {
				fix = fmt.Sprintf("write %q if that is meant, or clear the column", near)
			}
			u.wrong(at, fmt.Sprintf("no column is called %q", title), fix)
		case t.places[i] >= 0:
			u.wrong(at, fmt.Sprintf("the column %q is there twice", title), "keep one of the two")
		default:
			t.places[i] = col
			if c := &t.form.columns[i]; t.form != &modelForm && c.otherUnits(unit, u.units) {
				u.wrong(at, fmt.Sprintf("the heading gives %q, and the model is in %q", unit, c.unit(u.units)), "write them in the model's units, or write the unit into each cell")
			}
		}
	}
	if t.form != &modelForm && t.places[0] < 0 {
		u.wrong(ref{t.grid.name, 0, 0}, fmt.Sprintf("there is no column %q", t.form.columns[0].title), "put the headings into row 1")
		return false
	}
	u.strays(t)
	return true
}

// strays reports what stands in a column without a heading, and so in no key.
func (u *update) strays(t *rows) {
	headings := t.grid.rows[0]
	for row := 1; row < len(t.grid.rows); row++ {
		if t.isEmpty(row) {
			continue
		}
		for col, text := range t.grid.rows[row] {
			if text = strings.TrimSpace(text); text != "" && (col >= len(headings) || strings.TrimSpace(headings[col]) == "") {
				u.wrong(ref{t.grid.name, row, col}, fmt.Sprintf("%q stands under no heading", text), "give the column its heading, or clear the cell")
			}
		}
	}
}

// cell is what stands in a row under a title, and where. The column is -1 where the sheet has none of that title.
func (t *rows) cell(row int, title string) (ref, string) {
	at := ref{t.grid.name, row, t.places[t.form.find(title)]}
	if cells := t.grid.rows[row]; at.col >= 0 && at.col < len(cells) {
		return at, strings.TrimSpace(cells[at.col])
	}
	return at, ""
}

// isEmpty says whether a row says nothing, or is a remark.
func (t *rows) isEmpty(row int) bool {
	cells := t.grid.rows[row]
	if len(cells) > 0 && strings.HasPrefix(cells[0], remark) {
		return true
	}
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

// ordered is an object of the patch with the place that it has among its like.
type ordered struct {
	value map[string]any
	row   int
}

// inOrder is an object as JSON whose named objects keep the order of their rows.
type inOrder map[string]any

// MarshalJSON writes objects that have a place in the order of their places, and other keys by name.
func (o inOrder) MarshalJSON() ([]byte, error) {
	keys := slices.SortedFunc(maps.Keys(o), func(a, b string) int {
		x, _ := o[a].(ordered)
		y, _ := o[b].(ordered)
		return cmp.Or(cmp.Compare(x.row, y.row), cmp.Compare(a, b))
	})
	var out bytes.Buffer
	out.WriteByte('{')
	for i, k := range keys {
		if i > 0 {
			out.WriteByte(',')
		}
		name, err := json.Marshal(k)
		if err != nil {
			return nil, err
		}
		v := o[k]
		switch w := v.(type) {
		case ordered:
			v = inOrder(w.value)
		case map[string]any:
			v = inOrder(w)
		}
		value, err := json.Marshal(v)
		if err != nil {
			return nil, err
		}
		out.Write(name)
		out.WriteByte(':')
		out.Write(value)
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}
