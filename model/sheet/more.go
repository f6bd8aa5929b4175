package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"example.com/scantling/model/read"
)

// mostInCell is how many characters a cell of a spreadsheet holds.
const mostInCell = 32767

// more is what an object has beyond what the columns show, so that a sheet holds the whole of it.
func (f *form) more(t tree) tree {
	out := tree(copied(t))
	for i := range f.columns {
		c := &f.columns[i]
		if v := t.at(c.key); c.key != "" && v != nil && c.cell(v).Text != Kept {
			remove(out, c.key)
		}
	}
	for _, key := range f.elsewhere() {
		delete(out, key)
	}
	return out
}

// elsewhere are keys that other sheets hold.
func (f *form) elsewhere() []string {
	switch f {
	case &modelForm:
		return []string{"framing", "areas", "members"}
	case &membersForm:
		return []string{"supports"}
	}
	return nil
}

// moreCell is the rest of an object as one line of JSON.
func moreCell(t tree) Cell {
	if len(t) == 0 {
		return Cell{}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(t); err != nil || b.Len() > mostInCell {
		return Cell{Text: Kept}
	}
	return text(strings.TrimSpace(b.String()))
}

// fillMore puts what stands under More otherwise than in the document into an object of the patch, and returns all that
// stands there.
func (u *update) fillMore(t *rows, r int, into map[string]any, o about) tree {
	at, cell := t.cell(r, more.title)
	before := t.form.more(o.old)
	if at.col < 0 || cell == moreCell(before).Text {
		return before
	}
	now := tree{}
	switch cell {
	case "":
	case Kept:
		if len(before) == 0 {
			u.wrong(at, Kept+" stands where the model has nothing to keep", "write what is meant, or clear the cell")
		}
		return before
	default:
		d := json.NewDecoder(strings.NewReader(cell))
		d.UseNumber()
		err := d.Decode(&now)
		if err == nil {
			if _, end := d.Token(); end != io.EOF {
				err = fmt.Errorf("something follows it")
			}
		}
		if err != nil || now == nil {
			u.wrong(at, "this is no JSON object", `write the keys that no column holds like {"restraint": {"top": "full"}}, or clear the cell`)
			return before
		}
	}
	for i := range t.form.columns {
		c := &t.form.columns[i]
		if c.key == "" || now.at(c.key) == nil {
			continue
		}
		if held, text := t.cell(r, c.title); held.col >= 0 && text != Kept {
			u.wrong(at, fmt.Sprintf("%q is what the column %s holds", c.key, c.title), "write it there")
			return before
		}
	}
	for _, key := range t.form.elsewhere() {
		if now[key] != nil {
			u.wrong(at, fmt.Sprintf("%q has no place here", key), "take it out; areas, members and supports have sheets of their own")
			return before
		}
	}
	t.form.differ(into, before, now, o.written)
	for key := range now {
		u.note(o.pointer+read.Pointer(key), at)
	}
	return now
}

// differ makes a merge patch of what was and what is under More. Objects that columns hold parts of are gone through key
// by key; of others, keys that their author wrote and that are not there any more are taken away.
func (f *form) differ(into map[string]any, was, now, written tree) {
	for _, key := range slices.Sorted(maps.Keys(union(was, now))) {
		parts := slices.ContainsFunc(f.columns, func(c column) bool { return strings.HasPrefix(c.key, key+".") })
		a, _ := was[key].(map[string]any)
		b, isObject := now[key].(map[string]any)
		switch {
		case near(was[key], now[key]):
		case parts && (isObject || now[key] == nil):
			for name := range union(a, b) {
				if !near(a[name], b[name]) {
					put(into, key+"."+name, b[name])
				}
			}
		default:
			into[key] = replacing(written[key], now[key])
		}
	}
}

// replacing is a value that takes the place of another in a merge patch: keys that the new one lacks are taken away.
func replacing(was, now any) any {
	a, isA := was.(map[string]any)
	b, isB := now.(map[string]any)
	if !isA || !isB { // a new value takes the place of one that is no object
		return now
	}
	out := map[string]any{}
	for key := range union(a, b) {
		out[key] = replacing(a[key], b[key])
	}
	return out
}

func union(a, b map[string]any) map[string]any {
	out := maps.Clone(a)
	if out == nil {
		out = map[string]any{}
	}
	maps.Copy(out, b)
	return out
}

// copied is an object with copies of the objects within.
func copied(t map[string]any) map[string]any {
	out := maps.Clone(t)
	for key, v := range out {
		if within, ok := v.(map[string]any); ok {
			out[key] = copied(within)
		}
	}
	return out
}

// remove takes a key with dots away, and objects of which nothing is left.
func remove(t map[string]any, key string) {
	name, rest, deeper := strings.Cut(key, ".")
	if !deeper {
		delete(t, name)
		return
	}
	if within, ok := t[name].(map[string]any); ok {
		remove(within, rest)
		if len(within) == 0 {
			delete(t, name)
		}
	}
}
