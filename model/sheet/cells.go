package sheet

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// takeModel takes the one row that is about the document itself.
func (u *update) takeModel(t *rows) {
	taken := false
	for r := 1; r < len(t.grid.rows); r++ {
		if t.isEmpty(r) {
			continue
		}
		if taken {
			first := slices.IndexFunc(t.grid.rows[r], func(cell string) bool { return strings.TrimSpace(cell) != "" })
			u.wrong(ref{t.grid.name, r, first}, "the model has one row, and this is another", "clear it, or move what it says to row 2")
			continue
		}
		taken = true
		if at, cell := t.cell(r, "Units"); cell != "" && at.row > 0 {
			switch {
			case cell != "metric" && cell != "us": // the document's reader says so
			case u.old != nil && (cell == "us") != (u.units == model.US):
				u.wrong(at, "a sheet cannot change the units of a model: every other figure would mean something else", "leave the units as they are")
			case cell == "us":
				u.units = model.US
			default:
				u.units = model.Metric
			}
		}
		u.fill(t, r, u.patch, about{u.tree, u.written, ""})
	}
}

// takeNamed takes rows that are each about one area or member.
func (u *update) takeNamed(t *rows, key string) {
	all := map[string]any{}
	seen := map[string]int{}
	for r := 1; r < len(t.grid.rows); r++ {
		if t.isEmpty(r) {
			continue
		}
		at, name := t.cell(r, t.form.columns[0].title)
		switch first, twice := seen[name]; {
		case name == "":
			u.wrong(at, "the row has no "+strings.ToLower(t.form.columns[0].title), "name what the row is about, or clear the row")
			continue
		case twice:
			u.wrong(at, fmt.Sprintf("%q stands in row %d already", name, first+1), "give each row a mark of its own; several equal pieces are one row with a count")
			continue
		}
		seen[name] = r
		pointer := read.Pointer(key, name)
		u.cells[pointer] = at
		old := u.tree.object(key, name)
		one := map[string]any{}
		u.fill(t, r, one, about{old, u.written.object(key, name), pointer})
		if key == "members" {
			u.rowed[name] = true
			switch {
			case old == nil:
				u.Added = append(u.Added, name)
			case len(one) > 0:
				u.Changed = append(u.Changed, name)
			}
		}
		if old == nil || len(one) > 0 {
			all[name] = ordered{one, r}
		}
	}
	if len(all) > 0 {
		u.patch[key] = all
	}
}

// about is what a row is about.
type about struct {
	old     tree // what the document has of it, in its usual notation
	written tree // as its author wrote it
	pointer string
}

// fill puts the cells of a row that differ from what the document has into an object of the patch.
func (u *update) fill(t *rows, r int, into map[string]any, o about) {
	added := u.fillMore(t, r, into, o)
	for i := range t.form.columns {
		c := &t.form.columns[i]
		at, cell := t.cell(r, c.title)
		if c.key == "" || at.col < 0 {
			continue
		}
		place := o.pointer + "/" + strings.ReplaceAll(c.key, ".", "/")
		if cell == Kept && added.at(c.key) != nil {
			continue // it stands under More
		}
		v, ok := u.value(c, cell, o.old.at(c.key), at)
		if !ok {
			continue
		}
		u.note(place, at)
		if o.pointer != "" || c.key != "units" || u.old == nil {
			put(into, c.key, v)
		}
	}
	dropEmpty(into, o.old)
}

// note keeps where a pointer came from; of several cells within one object, the first stands for it.
func (u *update) note(place string, at ref) {
	u.cells[place] = at
	if parent := place[:strings.LastIndexByte(place, '/')]; parent != "" {
		if _, there := u.cells[parent]; !there {
			u.cells[parent] = at
		}
	}
}

// value is what a cell says as JSON, nil for nothing; ok is false where it says what the document has anyway.
func (u *update) value(c *column, cell string, was any, at ref) (v any, ok bool) {
	before := c.cell(was)
	switch {
	case cell == before.Text:
		return nil, false
	case cell == Kept:
		u.wrong(at, Kept+" stands where the model has nothing to keep", "write what is meant, or clear the cell")
		return nil, false
	case cell == "":
		return nil, true
	}
	v, fix := c.value(cell)
	if fix != "" {
		u.wrong(at, fmt.Sprintf("%q cannot be read", cell), fix)
		return nil, false
	}
	if before.Text != "" && before.Text != Kept {
		if old, _ := c.value(before.Text); near(v, old) {
			return nil, false
		}
	}
	return v, true
}

// near says whether two values are the same but for the last digits, which spreadsheets lose.
func near(a, b any) bool {
	x, isX := a.(json.Number)
	y, isY := b.(json.Number)
	if isX && isY {
		p, _ := x.Float64()
		q, _ := y.Float64()
		return math.Abs(p-q) <= 1e-13*math.Max(math.Abs(p), math.Abs(q))
	}
	p, isP := a.([]any)
	q, isQ := b.([]any)
	if isP && isQ && len(p) == len(q) {
		for i := range p {
			if !near(p[i], q[i]) {
				return false
			}
		}
		return true
	}
	return reflect.DeepEqual(a, b)
}

// put sets the value at a key with dots.
func put(into map[string]any, key string, v any) {
	name, rest, deeper := strings.Cut(key, ".")
	if !deeper {
		into[name] = v
		return
	}
	within, ok := into[name].(map[string]any)
	if !ok {
		within = map[string]any{}
		into[name] = within
	}
	put(within, rest, v)
}

// dropEmpty takes away objects of which nothing would be left.
func dropEmpty(patch map[string]any, old tree) {
	for name, v := range patch {
		within, ok := v.(map[string]any)
		if !ok {
			continue
		}
		left := map[string]bool{}
		if was, ok := old[name].(map[string]any); ok {
			for k := range was {
				left[k] = true
			}
		}
		for k, v := range within {
			left[k] = v != nil
		}
		for k, stays := range left {
			if !stays {
				delete(left, k)
			}
		}
		if len(left) == 0 {
			patch[name] = nil
		}
	}
}
