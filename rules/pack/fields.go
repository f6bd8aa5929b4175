package pack

import (
	"fmt"
	"io"
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/problem"
)

// reader reads the items of a pack's file.
type reader struct {
	pack     *Pack
	files    fs.FS
	folder   string
	digest   io.Writer
	rule     string // the rule that is being read
	problems problem.Problems
}

func (r *reader) problem(at problem.Place, fix, format string, args ...any) {
	r.problems = append(r.problems, problem.Problem{Place: at, Rule: r.rule, Message: fmt.Sprintf(format, args...), Fix: fix})
}

// fields reads a mapping whose keys are known; the values that are there are returned by key.
func (r *reader) fields(n *item, what string, keys ...string) map[string]*item {
	if n.form == broken {
		return nil
	}
	if n.form != mapping {
		r.problem(n.place, "write keys with values: "+strings.Join(keys, ", "), "%s is a mapping", what)
		return nil
	}
	out := map[string]*item{}
	places := map[string]problem.Place{}
	for _, e := range n.keys {
		name := e.key.text
		switch first, twice := places[name]; {
		case !slices.Contains(keys, name):
			r.problem(e.key.place, problem.DidYouMean(name, keys, "it has "+strings.Join(keys, ", ")), "%s has no key %q", what, name)
		case twice:
			r.problems = append(r.problems, problem.Problem{Place: e.key.place, Rule: r.rule, Related: &first, Message: fmt.Sprintf("the key %s is written twice", name), Fix: "leave one of them out"})
		default:
			out[name], places[name] = e.value, e.key.place
		}
	}
	return out
}

// text is the scalar of a key; where it must be there and is not, that is a problem.
func (r *reader) text(in map[string]*item, owner *item, what, key string, must bool) string {
	n := in[key]
	switch {
	case n == nil:
		if must {
			r.problem(owner.place, "", "%s has no %s", what, key)
		}
		return ""
	case n.form == broken:
		return ""
	case n.form != scalar:
		r.problem(n.place, "", "%s is a text", key)
		return ""
	case strings.TrimSpace(n.text) == "" && must:
		r.problem(n.place, "", "%s is empty", key)
	}
	return strings.TrimSpace(n.text)
}

// source is the expression of a key, or nil.
func (r *reader) source(n *item, key string) *expression.Source {
	if n == nil || n.form == broken {
		return nil
	}
	if n.form != scalar {
		r.problem(n.place, "write it in one text; quote it where it begins with a bracket", "%s is an expression", key)
		return nil
	}
	return &expression.Source{Text: n.text, Place: n.place, At: n.at}
}

// list is the items of a key that holds a list.
func (r *reader) list(n *item, key string) []*item {
	if n == nil || n.form == null || n.form == broken {
		return nil
	}
	if n.form != list {
		r.problem(n.place, "begin each entry with -", "%s is a list", key)
		return nil
	}
	return n.items
}

// texts is a list of scalars.
func (r *reader) texts(n *item, key string) []string {
	var out []string
	for _, i := range r.list(n, key) {
		if i.form != scalar {
			r.problem(i.place, "", "%s is a list of texts", key)
			continue
		}
		out = append(out, i.text)
	}
	return out
}

var (
	idForm   = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	nameForm = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
)

// The keys of a pack's parts. The JSON Schema has the same; a test holds it.
var (
	packKeys    = []string{"pack", "format", "edition", "title", "needs", "params", "tables", "define", "rules", "set", "change", "off"}
	paramKeys   = []string{"value", "safe", "text"}
	tableKeys   = []string{"file", "columns", "rows", "text"}
	ruleKeys    = []string{"id", "title", "judges", "where", "require", "found", "need", "severity", "say", "do", "source", "why", "was", "keys", "examples"}
	exampleKeys = []string{"met", "not_met", "unchecked", "not_applicable", "text"}
)
