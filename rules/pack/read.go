package pack

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/pack/table"
)

// Open reads a pack from a file. Its tables are opened within the file's own folder, and nowhere else.
func Open(file string, layer Layer) (*Pack, error) {
	root, err := os.OpenRoot(filepath.Dir(file))
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return read(root.FS(), filepath.Base(file), file, layer)
}

// Read reads a pack from a file system, such as the packs that are embedded.
func Read(files fs.FS, file string, layer Layer) (*Pack, error) {
	return read(files, file, file, layer)
}

// Parse reads a pack from its text. It has no tables in files.
func Parse(data []byte, name string, layer Layer) (*Pack, error) {
	return readData(nil, name, name, data, layer)
}

// read reads a pack; shown is the file's name in problems. The pack is returned with its problems where it could be read
// at all, so that Vet can say all of them.
func read(files fs.FS, file, shown string, layer Layer) (*Pack, error) {
	data, err := readCapped(files, file, maxFile)
	if err != nil {
		fix := "name a pack's YAML file"
		if errors.Is(err, fs.ErrNotExist) {
			fix = "mend the path, or take the pack off --pack or out of the settings"
		}
		return nil, problem.Problems{{Place: problem.Place{File: shown}, Message: err.Error(), Fix: fix}}
	}
	return readData(files, file, shown, data, layer)
}

func readData(files fs.FS, file, shown string, data []byte, layer Layer) (*Pack, error) {
	p := &Pack{Layer: layer, File: shown, defines: map[string]*expression.Source{}, tables: map[string]*table.Table{}, about: map[string]tableText{}}
	p.place = problem.Place{File: shown, Line: 1, Column: 1}
	digest := sha256.New()
	digest.Write(data)
	root, problems := parseYAML(shown, data, layer)
	r := reader{pack: p, files: files, folder: path.Dir(file), digest: digest, problems: problems}
	if root != nil {
		r.read(root)
	}
	p.SHA256 = hex.EncodeToString(digest.Sum(nil))
	p.problems = r.problems.Sorted()
	if more := len(p.problems) - maxProblems; more > 0 {
		p.problems = append(p.problems[:maxProblems], problem.Problem{Place: p.place, Message: fmt.Sprintf("%d more problems are not shown", more)})
	}
	return p, p.problems.Err()
}

// maxProblems bounds the problems of one file that are told.
const maxProblems = 200

// maxTable bounds the file of a table, in bytes.
const maxTable = 4 << 20

// readCapped reads a file that is not larger than a bound. Its errors do not name the file.
func readCapped(files fs.FS, name string, most int64) ([]byte, error) {
	f, err := files.Open(name)
	if err != nil {
		var p *fs.PathError
		if errors.As(err, &p) {
			err = p.Err
		}
		return nil, fmt.Errorf("the file cannot be opened: %w", err)
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && !info.Mode().IsRegular() {
		return nil, errors.New("this is a folder, or no ordinary file")
	}
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("the file cannot be read: %w", err)
	case int64(len(data)) > most:
		return nil, fmt.Errorf("the file is larger than %d bytes", most)
	}
	return data, nil
}

const idFix = "write lower case letters, digits and hyphens, such as bearing-on-masonry"

func (r *reader) read(root *item) {
	p := r.pack
	in := r.fields(root, "a pack", packKeys...)
	if in == nil {
		return
	}
	p.place = root.place
	p.ID = r.text(in, root, "the pack", "pack", true)
	if p.ID != "" && !idForm.MatchString(p.ID) {
		r.problem(in["pack"].place, idFix, "%q is no id of a pack", p.ID)
	}
	p.Edition = r.text(in, root, "the pack", "edition", true)
	p.Title = r.text(in, root, "the pack", "title", true)
	if format := r.text(in, root, "the pack", "format", true); format != "" && format != "1" {
		r.problem(in["format"].place, "write format: 1, or use a version that reads it", "format %s is not read here", format)
	}
	r.needs(in["needs"])
	r.params(in["params"])
	r.tables(in["tables"])
	r.defines(in["define"])
	for _, n := range r.list(in["rules"], "rules") {
		r.readRule(n)
	}
	r.rule = ""
	r.changes(in)
	if p.rules == nil && p.set == nil && p.change == nil && p.off == nil && p.params == nil && len(r.problems) == 0 {
		r.problem(root.place, "add rules", "the pack holds no rules and changes none")
	}
}

func (r *reader) needs(n *item) {
	for _, i := range r.list(n, "needs") {
		in := r.fields(i, "an entry of needs", "pack", "edition")
		if in == nil {
			continue
		}
		r.pack.needs = append(r.pack.needs, need{
			pack: r.text(in, i, "the entry", "pack", true), edition: r.text(in, i, "the entry", "edition", false), place: i.place,
		})
	}
}

// named reads a mapping of names that the pack gives.
func (r *reader) named(n *item, key string, each func(name *item, value *item)) {
	if n == nil || n.form == null || n.form == broken {
		return
	}
	if n.form != mapping {
		r.problem(n.place, "", "%s is a mapping of names", key)
		return
	}
	seen := map[string]problem.Place{}
	for _, e := range n.keys {
		name := e.key.text
		if first, twice := seen[name]; twice {
			r.problems = append(r.problems, problem.Problem{Place: e.key.place, Related: &first, Message: fmt.Sprintf("the name %s is given twice", name), Fix: "leave one of them out"})
			continue
		}
		seen[name] = e.key.place
		if !nameForm.MatchString(name) {
			r.problem(e.key.place, "write lower case letters, digits and underscores", "%q is no name", name)
			continue
		}
		each(e.key, e.value)
	}
}

func (r *reader) params(n *item) {
	r.named(n, "params", func(name, value *item) {
		if value.form != mapping {
			r.problem(value.place, "write {value: 90 mm, safe: higher, text: what it is}", "the param %s is a mapping", name.text)
			return
		}
		in := r.fields(value, "a param", paramKeys...)
		p := param{name: name.text, text: r.text(in, name, "the param "+name.text, "text", true), place: name.place}
		if in["value"] == nil {
			r.problem(name.place, "write value: 90 mm", "the param %s has no value", name.text)
			return
		}
		ok := false
		if p.value, p.written, ok = r.constant(in["value"]); !ok {
			return
		}
		if word := r.text(in, name, "", "safe", false); word != "" {
			if p.safe, ok = safes[word]; !ok {
				r.problem(in["safe"].place, "write higher or lower", "safe is higher or lower, not %q", word)
			} else if p.value.Type.Kind != expression.Number {
				r.problem(in["safe"].place, "leave safe out", "only a number has a safe side")
			}
		}
		r.pack.params = append(r.pack.params, p)
	})
}

// constant reads a param's value, and how it is written.
func (r *reader) constant(n *item) (expression.Constant, string, bool) {
	switch n.form {
	case scalar:
		return scalarConstant(n), n.text, true
	case list:
		if len(n.items) == 0 {
			r.problem(n.place, "put something in the list", "the list is empty")
			return expression.Constant{}, "", false
		}
		out := expression.Constant{Type: expression.Type{Kind: expression.List}}
		var written []string
		for i, entry := range n.items {
			v := scalarConstant(entry)
			switch {
			case entry.form != scalar || v.Type.Kind > expression.Text:
				r.problem(entry.place, "", "a list holds texts or quantities")
				return expression.Constant{}, "", false
			case i == 0:
				out.Type.Of, out.Type.Dimension = v.Type.Kind, v.Type.Dimension
			case v.Type.Kind != out.Type.Of || v.Type.Dimension != out.Type.Dimension:
				r.problem(entry.place, "", "the list mixes texts and quantities, or quantities of several dimensions")
				return expression.Constant{}, "", false
			}
			out.List = append(out.List, v)
			written = append(written, entry.text)
		}
		return out, strings.Join(written, ", "), true
	}
	r.problem(n.place, "write a quantity with its unit, a number, a text, true or false, or a list", "this is no value of a param")
	return expression.Constant{}, "", false
}

// scalarConstant is a scalar as a quantity, a truth or a text.
func scalarConstant(n *item) expression.Constant {
	if n.truth {
		return expression.Constant{Type: expression.Type{Kind: expression.Truth}, Truth: n.text == "true"}
	}
	if v, err := strconv.ParseFloat(n.text, 64); n.number && err == nil && !math.IsInf(v, 0) && !math.IsNaN(v) {
		return expression.Constant{Type: expression.Type{Kind: expression.Number}, Number: v}
	}
	if v, d, ok := table.Quantity(n.text); ok {
		return expression.Constant{Type: expression.Type{Kind: expression.Number, Dimension: d}, Number: v}
	}
	return expression.Constant{Type: expression.Type{Kind: expression.Text}, Text: n.text}
}

func (r *reader) tables(n *item) {
	r.named(n, "tables", func(name, value *item) {
		in := r.fields(value, "a table", tableKeys...)
		if in == nil {
			return
		}
		r.pack.about[name.text] = tableText{text: r.text(in, name, "", "text", false), place: name.place}
		var t *table.Table
		var problems problem.Problems
		switch {
		case in["file"] != nil && (in["columns"] != nil || in["rows"] != nil):
			r.problem(value.place, "leave one of them out", "the table %s is a file or has rows, not both", name.text)
			return
		case in["file"] != nil:
			t, problems = r.tableFile(name.text, in["file"])
		case in["columns"] != nil && in["rows"] != nil:
			t, problems = r.tableRows(name.text, in["columns"], in["rows"])
		default:
			r.problem(value.place, "write {file: "+name.text+".csv}, or columns and rows", "the table %s has neither a file nor columns and rows", name.text)
			return
		}
		r.problems = append(r.problems, problems...)
		r.pack.tables[name.text] = t
	})
}

func (r *reader) tableFile(name string, n *item) (*table.Table, problem.Problems) {
	file := n.text
	if n.form != scalar || !fs.ValidPath(file) || strings.ContainsAny(file, `\:`) {
		r.problem(n.place, "name a file beside the pack, such as "+name+".csv", "a table is a file in the pack's own folder")
		return nil, nil
	}
	if r.files == nil {
		r.problem(n.place, "write columns and rows in the pack", "a pack that is not in a folder has no files of tables")
		return nil, nil
	}
	data, err := readCapped(r.files, path.Join(r.folder, file), maxTable)
	if err != nil {
		r.problem(n.place, "name a file beside the pack, such as "+name+".csv", "%s: %s", file, err)
		return nil, nil
	}
	_, _ = r.digest.Write(data) // a hash takes all
	return table.ReadCSV(name, path.Join(path.Dir(filepath.ToSlash(r.pack.File)), file), data)
}

func (r *reader) tableRows(name string, columns, rows *item) (*table.Table, problem.Problems) {
	cells := func(n *item) []table.Cell {
		var out []table.Cell
		for _, c := range r.list(n, "a row of a table") {
			if c.form > null {
				r.problem(c.place, "", "a cell is a number or a text")
			}
			out = append(out, table.Cell{Text: c.text, Place: c.place})
		}
		return out
	}
	before := len(r.problems)
	header := cells(columns)
	var body [][]table.Cell
	for _, row := range r.list(rows, "rows") {
		if cs := cells(row); len(cs) > 0 {
			body = append(body, cs)
		} else {
			r.problem(row.place, "", "the row is empty")
		}
	}
	if len(header) == 0 {
		r.problem(columns.place, `write for example ["load [kN/m2] next up", "span [mm]"]`, "the table %s has no columns", name)
	}
	if len(r.problems) > before {
		return nil, nil
	}
	return table.New(name, header, body)
}

func (r *reader) defines(n *item) {
	r.named(n, "define", func(name, value *item) {
		if src := r.source(value, "the definition of "+name.text); src != nil {
			r.pack.defines[name.text] = src
		}
	})
}

// changes reads what the pack changes of others.
func (r *reader) changes(in map[string]*item) {
	entry := func(n *item, what string, keys ...string) (map[string]string, bool) {
		fields := r.fields(n, what, append(keys, "reason")...)
		out := map[string]string{}
		ok := fields != nil
		if !ok {
			return nil, false
		}
		for _, key := range append(keys, "reason") {
			if key == "value" {
				continue
			}
			if out[key] = r.text(fields, n, "the entry", key, true); out[key] == "" {
				ok = false
			}
		}
		return out, ok
	}
	for _, n := range r.list(in["set"], "set") {
		e, ok := entry(n, "an entry of set", "pack", "param", "value")
		if !ok {
			continue
		}
		value := n.value("value")
		if value == nil {
			r.problem(n.place, "write value: 100 mm", "the entry has no value")
			continue
		}
		if v, written, ok := r.constant(value); ok {
			r.pack.set = append(r.pack.set, setting{pack: e["pack"], param: e["param"], reason: e["reason"], value: v, written: written, place: n.place})
		}
	}
	for _, n := range r.list(in["change"], "change") {
		if e, ok := entry(n, "an entry of change", "rule", "severity"); ok {
			s, known := severities[e["severity"]]
			if !known {
				r.problem(n.value("severity").place, "write stop, ask or note", "%q is no severity", e["severity"])
			}
			r.pack.change = append(r.pack.change, change{rule: e["rule"], severity: s, reason: e["reason"], place: n.place})
		}
	}
	for _, n := range r.list(in["off"], "off") {
		if e, ok := entry(n, "an entry of off", "rule"); ok {
			r.pack.off = append(r.pack.off, switching{rule: e["rule"], reason: e["reason"], place: n.place})
		}
	}
}

// value is the value of a key of a mapping, or nil.
func (i *item) value(key string) *item {
	for _, e := range i.keys {
		if e.key.text == key {
			return e.value
		}
	}
	return nil
}

// dimensionName is a dimension as a message names it.
func dimensionName(d model.Dimension) string {
	if d == model.Plain {
		return "plain number"
	}
	return d.String()
}
