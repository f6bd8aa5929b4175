package expression

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.com/scantling/rules/pack/table"
)

// Tables lists the tables that the expression looks up.
func (x *Expression) Tables() []*table.Table {
	var out []*table.Table
	x.root.walk(func(n *node) {
		if n.table != nil {
			out = append(out, n.table)
		}
	})
	return out
}

// Sources lists the sources that the expression is made of: its own and those of its definitions.
func (x *Expression) Sources() []*Source {
	var out []*Source
	seen := map[*Source]bool{}
	x.root.walk(func(n *node) {
		if !seen[n.src] {
			seen[n.src] = true
			out = append(out, n.src)
		}
	})
	return out
}

// part is a node as an expression of its own.
func (x *Expression) part(n *node) *Expression {
	return &Expression{Type: n.typ, Source: n.src, root: n, subject: x.subject}
}

// Conjuncts are the conditions that the expression joins by and; it alone where it joins none.
func (x *Expression) Conjuncts() []*Expression {
	if x.root.op != opAnd {
		return []*Expression{x}
	}
	out := make([]*Expression, len(x.root.args))
	for i, a := range x.root.args {
		out[i] = x.part(a)
	}
	return out
}

// Comparison is a comparison of numbers, turned so that Found is what facts say and Need what it is held against.
type Comparison struct {
	Found, Need *Expression
	Operator    string // from Found to Need
}

// Counts is whether the expression is a number of things: all that it is made of are, and nothing of it is a ratio.
func (x *Expression) Counts() bool {
	counts, ratio := false, false
	x.root.walk(func(n *node) {
		switch {
		case n.op == opCount, n.op == opFact && n.path.fact.Counts:
			counts = true
		case n.op == opDivide, n.op == opFact && n.typ.Kind == Number:
			ratio = true
		}
	})
	return counts && !ratio
}

var turned = map[string]string{"<": ">", "<=": ">=", ">": "<", ">=": "<=", "==": "==", "!=": "!="}

// Comparison is the expression as one comparison of numbers, or false.
func (x *Expression) Comparison() (Comparison, bool) {
	if x.root.op != opCompare {
		return Comparison{}, false
	}
	a, b := x.root.args[0], x.root.args[1]
	if !a.depends() && b.depends() {
		return Comparison{x.part(b), x.part(a), turned[x.root.name]}, true
	}
	return Comparison{x.part(a), x.part(b), x.root.name}, true
}

// Against is the operator from what the expression finds to what it needs, where a comparison that must hold, or one of
// several of which one must, has need on one side of it; empty where none has.
func (x *Expression) Against(need *Expression) string { return x.root.against(need.root) }

func (n *node) against(need *node) string {
	switch n.op {
	case opCompare:
		switch {
		case same(n.args[1], need):
			return n.name
		case same(n.args[0], need):
			return turned[n.name]
		}
	case opAnd, opOr, opAll, opAny:
		for _, a := range n.args {
			if operator := a.against(need); operator != "" {
				return operator
			}
		}
	}
	return ""
}

// same says whether two parts are the same sum of the same facts, params and constants.
func same(a, b *node) bool {
	return a.op == b.op && a.name == b.name && a.number == b.number && a.param == b.param && a.table == b.table && a.column == b.column &&
		reflect.DeepEqual(a.value, b.value) && reflect.DeepEqual(a.path, b.path) && slices.EqualFunc(a.args, b.args, same)
}

// Key is a test of a text of the judged row that leads an expression: where it fails, the expression is false.
type Key struct {
	Name  string      // the same for tests of the same text
	Fact  *Expression // the text
	Texts []string    // those that pass
	Rest  *Expression // what else must hold, or nil
}

// Key is the test that leads the expression, or false. Params count as they are set now.
func (x *Expression) Key() (Key, bool) {
	lead, rest := x.root, (*Expression)(nil)
	if lead.op == opAnd {
		others := lead.args[1:]
		if len(others) == 1 {
			rest = x.part(others[0])
		} else {
			tail := *lead
			tail.args = others
			rest = x.part(&tail)
		}
		lead = lead.args[0]
	}
	if len(lead.args) != 2 || lead.args[0].op != opFact || lead.args[0].typ.Kind != Text {
		return Key{}, false
	}
	fact := lead.args[0]
	k := Key{Fact: x.part(fact), Rest: rest, Name: fmt.Sprint(fact.path.fact.ID())}
	for _, r := range fact.path.steps {
		k.Name += fmt.Sprintf("<%d", r.ID())
	}
	switch {
	case lead.op == opSame && lead.name == "==":
		v, constant := lead.args[1].constant()
		if !constant {
			return Key{}, false
		}
		k.Texts = []string{v.Text}
	case lead.op == opIn:
		for _, v := range lead.args[1].list() {
			k.Texts = append(k.Texts, v.Text)
		}
	default:
		return Key{}, false
	}
	return k, true
}

// Template is a text with expressions in braces.
type Template struct {
	parts []part
}

type part struct {
	text string
	expr *Expression // or nil
}

// Expressions are those in the template's braces.
func (t *Template) Expressions() []*Expression {
	var out []*Expression
	for _, p := range t.parts {
		if p.expr != nil {
			out = append(out, p.expr)
		}
	}
	return out
}

// Fill writes the template with each expression as print gives it.
func (t *Template) Fill(print func(*Expression) string) string {
	var b strings.Builder
	for _, p := range t.parts {
		if p.expr != nil {
			b.WriteString(print(p.expr))
		} else {
			b.WriteString(p.text)
		}
	}
	return b.String()
}
