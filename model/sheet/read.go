package sheet

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
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
	u.old, u.units, u.tree = doc, doc.Units, treeOf(doc)
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

// takeModel takes the one row that is about the document itself.
func (u *update) takeModel(t *rows) {
	for r := 1; r < len(t.grid.rows); r++ {
		if t.isEmpty(r) {
			continue
		}
		if at, cell := t.cell(r, "Units"); cell != "" && at.row > 0 {
			switch {
			case cell != "metric" && cell != "us":
				u.wrong(at, fmt.Sprintf("%q are no units that are known", cell), "write metric or us")
			case u.old != nil && (cell == "us") != (u.units == model.US):
				u.wrong(at, "a sheet cannot change the units of a model: every other figure would mean something else", "leave the units as they are")
			case cell == "us":
				u.units = model.US
			default:
				u.units = model.Metric
			}
		}
		u.fill(t, r, u.patch, u.tree, "")
		return
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
		pointer := "/" + key + "/" + escape(name)
		u.cells[pointer] = at
		old := u.tree.object(key, name)
		one := map[string]any{}
		u.fill(t, r, one, old, pointer)
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

// fill puts the cells of a row that differ from what the document has into an object of the patch.
func (u *update) fill(t *rows, r int, into map[string]any, old tree, pointer string) {
	for i := range t.form.columns {
		c := &t.form.columns[i]
		at, cell := t.cell(r, c.title)
		if c.key == "" || at.col < 0 {
			continue
		}
		place := pointer + "/" + strings.ReplaceAll(c.key, ".", "/")
		was := old.at(c.key)
		v, ok := u.value(c, cell, was, at)
		if !ok {
			continue
		}
		u.note(place, at)
		if pointer != "" || c.key != "units" || u.old == nil {
			put(into, c.key, v)
		}
	}
	dropEmpty(into, old)
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

// takeSupports makes the lists of supports of the members that have rows. A row with the number of a support that is
// there keeps what its cells do not show.
func (u *update) takeSupports(t *rows) {
	byMark := map[string][]int{}
	var marks []string
	for r := 1; r < len(t.grid.rows); r++ {
		if t.isEmpty(r) {
			continue
		}
		at, name := t.cell(r, "Mark")
		if name == "" {
			u.wrong(at, "the row has no mark", "name the member that is supported, or clear the row")
			continue
		}
		if u.tree.object("members", name) == nil && !u.rowed[name] {
			fix := "add it under Members"
			if near := model.Nearest(name, u.marks()); near != "" {
				fix = fmt.Sprintf("write %q if that is meant, or %s", near, fix)
			}
			u.wrong(at, fmt.Sprintf("no member is called %q", name), fix)
			continue
		}
		if byMark[name] == nil {
			marks = append(marks, name)
		}
		byMark[name] = append(byMark[name], r)
	}
	for _, name := range marks {
		u.supportsOf(t, name, byMark[name])
	}
}

func (u *update) supportsOf(t *rows, name string, from []int) {
	old := u.tree.object("members", name).supports()
	list := make([]any, 0, len(from))
	same := len(from) == len(old)
	used := map[int]bool{}
	for i, r := range from {
		was := tree(nil)
		if at, cell := t.cell(r, "No."); cell != "" {
			k, err := strconv.Atoi(cell)
			switch {
			case err != nil || k < 1:
				u.wrong(at, fmt.Sprintf("%q is no number of a support", cell), "leave the numbers as they are, and empty in new rows")
			case used[k]:
				u.wrong(at, fmt.Sprintf("%s has support %d already", name, k), "leave the number of a new row empty")
			case k <= len(old):
				was = old[k-1]
				same = same && k == i+1
			}
			used[k] = true
		}
		pointer := fmt.Sprintf("/members/%s/supports/%d", escape(name), i)
		u.cells[pointer] = ref{t.grid.name, r, max(0, t.places[0])}
		changes := map[string]any{}
		u.fill(t, r, changes, was, pointer)
		same = same && was != nil && len(changes) == 0
		list = append(list, merged(was, changes))
	}
	if same {
		return
	}
	members, _ := u.patch["members"].(map[string]any)
	if members == nil {
		members = map[string]any{}
		u.patch["members"] = members
	}
	one, there := members[name].(ordered)
	if !there {
		one = ordered{map[string]any{}, len(members)}
		members[name] = one
	}
	one.value["supports"] = list
	if u.tree.object("members", name) != nil && !slices.Contains(u.Changed, name) {
		u.Changed = append(u.Changed, name)
	}
}

// merged is an object with changes, nil taking a key away.
func merged(was tree, changes map[string]any) map[string]any {
	out := map[string]any{}
	for k, v := range was {
		out[k] = v
	}
	for k, v := range changes {
		within, isObject := v.(map[string]any)
		switch {
		case v == nil:
			delete(out, k)
		case isObject:
			before, _ := out[k].(map[string]any)
			out[k] = merged(before, within)
		default:
			out[k] = v
		}
	}
	return out
}

// marks are those of the document and of the sheet.
func (u *update) marks() []string {
	var out []string
	if u.old != nil {
		for i := range u.old.Members {
			out = append(out, u.old.Members[i].Mark)
		}
	}
	for mark := range u.rowed {
		out = append(out, mark)
	}
	return out
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

// escape is a name within a JSON pointer (RFC 6901).
func escape(name string) string {
	return strings.NewReplacer("~", "~0", "/", "~1").Replace(name)
}
