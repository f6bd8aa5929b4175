package sheet

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// tree is a document as plain JSON values.
type tree map[string]any

// treeOf is a document in its usual notation.
func treeOf(doc *model.Document) tree { return treeIn(read.Write(doc)) }

// treeIn is a text that the reader or writer of documents knows to be JSON.
func treeIn(text []byte) tree {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	var t tree
	if err := d.Decode(&t); err != nil {
		return tree{}
	}
	return t
}

// at is the value at a key with dots, or nil.
func (t tree) at(key string) any {
	name, rest, deeper := strings.Cut(key, ".")
	if !deeper {
		return t[name]
	}
	within, ok := t[name].(map[string]any)
	if !ok {
		return nil
	}
	return tree(within).at(rest)
}

// object is the object at a name of an object within.
func (t tree) object(key, name string) tree {
	all, _ := t[key].(map[string]any)
	one, _ := all[name].(map[string]any)
	return one
}

// supports are a member's supports.
func (t tree) supports() []tree {
	items, _ := t["supports"].([]any)
	out := make([]tree, 0, len(items))
	for _, item := range items {
		one, _ := item.(map[string]any)
		out = append(out, one)
	}
	return out
}

// forms are the tables that can be filled in.
func forms(doc *model.Document) []Table {
	t := treeOf(doc)
	u := doc.Units
	out := []Table{
		{Model, modelForm.headings(u), [][]Cell{modelForm.row(t)}},
		{Name: Areas, Columns: areasForm.headings(u)},
		{Name: Members, Columns: membersForm.headings(u)},
		{Name: Supports, Columns: supportsForm.headings(u)},
	}
	for i := range doc.Areas {
		id := doc.Areas[i].ID
		out[1].Rows = append(out[1].Rows, areasForm.named(id, t.object("areas", id)))
	}
	for i := range doc.Members {
		mark := doc.Members[i].Mark
		m := t.object("members", mark)
		out[2].Rows = append(out[2].Rows, membersForm.named(mark, m))
		for k, s := range m.supports() {
			out[3].Rows = append(out[3].Rows, supportRow(mark, k, s))
		}
	}
	return out
}

func supportRow(mark string, k int, s tree) []Cell {
	row := supportsForm.named(mark, s)
	row[1] = Cell{Text: strconv.Itoa(k + 1), Figure: true}
	return row
}

// row is an object's cells; columns without a key stay empty.
func (f *form) row(t tree) []Cell {
	out := make([]Cell, len(f.columns))
	for i := range f.columns {
		switch c := &f.columns[i]; {
		case c.kind == others:
			out[i] = moreCell(f.more(t))
		case c.key != "":
			out[i] = c.cell(t.at(c.key))
		}
	}
	return out
}

// named is an object's cells with its name first.
func (f *form) named(name string, t tree) []Cell {
	out := f.row(t)
	out[0] = text(name)
	return out
}
