package pack

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"example.com/scantling/rules/pack/problem"
)

// The bounds of a pack's file. They are held before the parser sees the text.
const (
	maxFile    = 1 << 18 // bytes
	maxNesting = 200     // brackets open at once, in prose too
	maxDashes  = 20      // list marks one after the other
	maxKeys    = 1000    // keys of one mapping
)

// form is the form of a YAML value.
type form uint8

const (
	scalar form = iota
	null
	mapping
	list
	broken // its problem has been said
)

// item is a YAML value with its place.
type item struct {
	form   form
	text   string
	bare   bool // a scalar without quotes
	number bool // a bare scalar that YAML reads as a number
	truth  bool // a bare scalar that YAML reads as true or false
	keys   []entry
	items  []*item
	place  problem.Place
	file   *yamlFile
}

// entry is a key with its value.
type entry struct {
	key   *item
	value *item
}

// yamlFile is the text that items stand in.
type yamlFile struct {
	name  string
	runes []rune
	lines []int // index of each line's first rune
}

func newYAMLFile(name string, data []byte) *yamlFile {
	f := &yamlFile{name: name, runes: []rune(string(data)), lines: []int{0}}
	for i, r := range f.runes {
		if r == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
	return f
}

// parseYAML reads one document. A pack of the house is read by the parser that says best what is wrong and where. Packs
// that ship, or come with a region, have been read by that in their authors' tests: another takes less than half the time
// over them, and leaves to the first whatever it is not sure of.
func parseYAML(name string, data []byte, layer Layer) (root *item, problems problem.Problems) {
	at := func(line, column int) problem.Place { return problem.Place{File: name, Line: line, Column: column} }
	refuse := func(place problem.Place, message, fix string) (*item, problem.Problems) {
		return nil, problem.Problems{{Place: place, Message: message, Fix: fix}}
	}
	if len(data) > maxFile {
		return refuse(at(1, 1), fmt.Sprintf("the file is larger than %d bytes", maxFile), "split the pack")
	}
	if !utf8.Valid(data) {
		return refuse(at(1, 1), "the file is not UTF-8 text", "save it as UTF-8")
	}
	data = bytes.ReplaceAll(bytes.TrimPrefix(data, []byte("\ufeff")), []byte("\r\n"), []byte("\n"))
	if line, message := bounded(data); line > 0 {
		return refuse(at(line, 1), message, "one pack a file; close brackets that are open, and split what is long")
	}
	f := newYAMLFile(name, data)
	if layer != House {
		if root = f.quick(data); root != nil {
			return root, nil
		}
	}
	// The parser belongs to others and reads what anybody writes: a panic in it is a file that cannot be read.
	defer func() {
		if p := recover(); p != nil {
			root, problems = refuse(at(1, 1), "the file cannot be read as YAML", "look for brackets and quotes that are not closed")
		}
	}()
	file, err := parser.ParseBytes(data, 0, parser.AllowDuplicateMapKey())
	var wrong yaml.Error
	switch {
	case errors.As(err, &wrong) && wrong.GetToken() != nil:
		p, fix := wrong.GetToken().Position, "quote a text that holds \": \" or \" #\", or begins with a bracket, and line up what belongs together"
		if strings.Contains(wrong.GetMessage(), "'\t'") {
			fix = "indent with spaces, not with tabs"
		}
		return refuse(at(p.Line, p.Column), "this is not YAML: "+wrong.GetMessage(), fix)
	case err != nil:
		return refuse(at(1, 1), "this is not YAML: "+err.Error(), "")
	}
	var body ast.Node
	for _, d := range file.Docs {
		if d.Body == nil {
			continue
		}
		if body != nil {
			return refuse(at(d.Body.GetToken().Position.Line, 1), "the file holds more than one document", "one pack a file")
		}
		body = d.Body
	}
	if body == nil {
		return refuse(at(1, 1), "the file is empty", "`scantling pack new` writes a pack to start from")
	}
	t := treeReader{file: f}
	root = t.item(body)
	return root, t.problems
}

// bounded holds a file to what any pack needs: the YAML parser recurses into brackets and list marks, and its time grows
// with the square of the keys of a mapping and of the documents of a file. It returns the line of what is too much, or 0.
func bounded(data []byte) (line int, message string) {
	depth, documents := 0, 0
	keys := map[int]int{} // lines that begin at an indent, since the last line that began before it
	for row := range bytes.Lines(data) {
		line++
		rest := bytes.TrimLeft(row, " ")
		indent := len(row) - len(rest)
		if bytes.HasPrefix(row, []byte("---")) {
			documents++
		}
		if len(bytes.TrimSpace(rest)) > 0 && rest[0] != '#' {
			for other := range keys {
				if other > indent {
					delete(keys, other)
				}
			}
			keys[indent]++
			if rest[0] == '-' {
				keys[indent] = 0
			}
		}
		for dashes := 0; len(rest) > 1 && (rest[0] == '-' || rest[0] == '?' || rest[0] == ':') && rest[1] == ' '; dashes++ {
			if rest = bytes.TrimLeft(rest[1:], " "); dashes > maxDashes {
				return line, "values stand too deep inside each other here"
			}
		}
		for _, c := range row {
			switch c {
			case '[', '{':
				depth++
			case ']', '}':
				depth = max(0, depth-1)
			}
		}
		switch {
		case depth > maxNesting || indent > maxNesting:
			return line, "values stand too deep inside each other here"
		case documents > 1:
			return line, "the file holds more than one document"
		case keys[indent] > maxKeys:
			return line, fmt.Sprintf("more than %d keys or lines stand side by side here", maxKeys)
		}
	}
	return 0, ""
}

// treeReader turns the parser's tree into items.
type treeReader struct {
	file     *yamlFile
	problems problem.Problems
}

func (t *treeReader) place(n ast.Node) problem.Place {
	p := problem.Place{File: t.file.name, Line: 1, Column: 1}
	if token := n.GetToken(); token != nil && token.Position != nil {
		p.Line, p.Column = max(1, token.Position.Line), max(1, token.Position.Column)
	}
	return p
}

func (t *treeReader) item(n ast.Node) *item {
	out := &item{place: t.place(n), file: t.file}
	switch n := n.(type) {
	case *ast.NullNode:
		out.form = null
	case *ast.BoolNode:
		out.text, out.bare, out.truth = n.Token.Value, true, true
	case *ast.IntegerNode:
		out.text, out.bare, out.number = n.Token.Value, true, true
	case *ast.FloatNode:
		out.text, out.bare, out.number = n.Token.Value, true, true
	case *ast.InfinityNode, *ast.NanNode:
		out.text, out.bare = n.GetToken().Value, true
	case *ast.StringNode:
		out.text = n.Value
		out.bare = n.Token.Value == n.Value && !strings.ContainsAny(t.firstRune(out.place), `"'`)
	case *ast.LiteralNode:
		out.text = strings.TrimRight(n.Value.Value, "\n")
	case *ast.MappingNode:
		out.form = mapping
		for _, v := range n.Values {
			t.entry(out, v)
		}
	case *ast.MappingValueNode:
		out.form = mapping
		t.entry(out, n)
	case *ast.SequenceNode:
		out.form = list
		for _, v := range n.Values {
			out.items = append(out.items, t.item(v))
		}
	default:
		out.form = broken
		t.problems = append(t.problems, problem.Problem{
			Place: out.place, Message: "anchors, aliases, merges and tags are not read in a pack", Fix: "write the value out, or name it under define or params",
		})
	}
	if out.form == mapping && len(out.keys) > 0 {
		out.place = out.keys[0].key.place
	}
	return out
}

func (t *treeReader) entry(m *item, v *ast.MappingValueNode) {
	key, scalarKey := v.Key.(ast.ScalarNode)
	if !scalarKey {
		t.problems = append(t.problems, problem.Problem{Place: t.place(v.Key), Message: "a key is a plain word", Fix: ""})
		return
	}
	k := t.item(key)
	if _, isNull := key.(*ast.NullNode); isNull {
		k.form = scalar
	}
	value := &item{form: null, place: k.place, file: t.file}
	if v.Value != nil {
		value = t.item(v.Value)
	}
	m.keys = append(m.keys, entry{k, value})
}

// firstRune is the text's character at a place.
func (t *treeReader) firstRune(p problem.Place) string {
	if i := t.file.index(p); i < len(t.file.runes) {
		return string(t.file.runes[i])
	}
	return ""
}

// index is the index of a place in the file's runes.
func (f *yamlFile) index(p problem.Place) int {
	if p.Line < 1 || p.Line > len(f.lines) {
		return len(f.runes)
	}
	return min(len(f.runes), f.lines[p.Line-1]+p.Column-1)
}

// at is the place in the file of the n-th character of a scalar, however it is quoted, folded or indented.
func (i *item) at(n int) problem.Place {
	f := i.file
	value := []rune(i.text)
	from := f.index(i.place)
	if from < len(f.runes) && (f.runes[from] == '|' || f.runes[from] == '>') {
		for from < len(f.runes) && f.runes[from] != '\n' {
			from++
		}
	}
	at := from
	for k := 0; k <= n && k < len(value); k++ {
		if unicode.IsSpace(value[k]) {
			continue
		}
		for at < len(f.runes) && f.runes[at] != value[k] {
			at++
		}
		if at == len(f.runes) {
			return i.place
		}
		if k == n {
			break
		}
		at++
	}
	line := 0
	for line+1 < len(f.lines) && f.lines[line+1] <= at {
		line++
	}
	return problem.Place{File: f.name, Line: line + 1, Column: at - f.lines[line] + 1}
}
