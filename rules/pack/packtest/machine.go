// Package packtest holds rules to expr's own machine, which is the judge of what expressions mean: for the tests of packs,
// shipped or not. It must not share with the closures how expressions are evaluated, nor how names resolve.
package packtest

import (
	"errors"
	"math"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/checker"
	"github.com/expr-lang/expr/compiler"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/vm"

	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/table"
	"example.com/scantling/rules/vocabulary"
)

// Machine is an expression on expr's own machine. Names become calls of a getter that raises absent, comparisons become
// calls that know the tolerance, and arithmetic is wrapped so that what is not finite is raised; order, short circuit,
// choices, collections and texts are left to the machine.
type Machine struct {
	book     *vocabulary.Book
	subject  vocabulary.Subject
	names    expression.Names
	facts    *vocabulary.Facts
	elements []vocabulary.Subject // of the predicates around what is being rewritten
	row      int32
	paths    []path
	tables   []lookupOf
	program  *vm.Program
}

// path is the way from a row to a fact, to rows, or to one row.
type path struct {
	steps []*vocabulary.Relation
	many  *vocabulary.Relation
	fact  *vocabulary.Fact
	to    vocabulary.Subject
}

type lookupOf struct {
	table  *table.Table
	column int
}

type raised struct{ why string }

func (r raised) Error() string { return r.why }

// outOfTable begins the reason of a look-up that found nothing.
const outOfTable = "table "

const notFinite = "the number is not finite"

// NewMachine compiles an expression that has passed the check.
func NewMachine(text string, subject vocabulary.Subject, names expression.Names, facts *vocabulary.Facts) (*Machine, error) {
	r := &Machine{book: facts.Book, subject: subject, names: names, facts: facts}
	config := conf.CreateNew()
	config.Optimize = false
	functions := map[string]func(args ...any) (any, error){
		"fact_": r.fact, "rows_": r.rows, "known_": r.known, "lookup_": r.lookup,
		"ge_": compareWith(func(a, b float64) bool { return a > b || equalWithin(a, b) }),
		"gt_": compareWith(func(a, b float64) bool { return a > b && !equalWithin(a, b) }),
		"le_": compareWith(func(a, b float64) bool { return a < b || equalWithin(a, b) }),
		"lt_": compareWith(func(a, b float64) bool { return a < b && !equalWithin(a, b) }),
		"eq_": func(args ...any) (any, error) {
			if a, ok := args[0].(float64); ok {
				return compareWith(equalWithin)(a, args[1])
			}
			return args[0] == args[1], nil
		},
		"in_": func(args ...any) (any, error) {
			for _, v := range args[1].([]any) {
				a, isNumber := args[0].(float64)
				if isNumber && equalWithin(a, v.(float64)) || !isNumber && v == args[0] {
					return true, nil
				}
			}
			return false, nil
		},
		"finite_": func(args ...any) (any, error) {
			v := asFloat(args[0])
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, raised{notFinite}
			}
			return v, nil
		},
		"some_": func(args ...any) (any, error) {
			if len(args[0].([]any)) == 0 {
				return nil, raised{"the collection is empty: it has no least and no most"}
			}
			return args[0], nil
		},
		"mod_": func(args ...any) (any, error) { return math.Mod(args[0].(float64), args[1].(float64)), nil },
	}
	for name, f := range functions {
		config.Functions[name] = &builtin.Function{Name: name, Func: f}
	}
	for name, f := range map[string]func(float64) float64{
		"sqrt": math.Sqrt, "sin": math.Sin, "cos": math.Cos, "tan": math.Tan, "asin": math.Asin, "acos": math.Acos, "atan": math.Atan,
	} {
		config.Functions[name] = &builtin.Function{Name: name, Func: func(args ...any) (any, error) { return f(args[0].(float64)), nil }}
	}
	tree, err := parser.Parse(text)
	if err != nil {
		return nil, err
	}
	tree.Node = r.rewrite(tree.Node)
	if _, err := checker.Check(tree, config); err != nil {
		return nil, err
	}
	r.program, err = compiler.Compile(tree, config)
	return r, err
}

func asFloat(v any) float64 {
	if n, ok := v.(int); ok {
		return float64(n)
	}
	return v.(float64)
}

func equalWithin(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b))
}

func compareWith(holds func(a, b float64) bool) func(...any) (any, error) {
	return func(args ...any) (any, error) {
		a, b := args[0].(float64), args[1].(float64)
		if d := a - b; math.IsNaN(d) || math.IsInf(d, 0) {
			return nil, raised{notFinite}
		}
		return holds(a, b), nil
	}
}

// Evaluate is the value on a row, or why it is absent.
func (r *Machine) Evaluate(row int32) (value any, absent string, err error) {
	r.row = row
	value, err = vm.Run(r.program, nil)
	var a raised
	if errors.As(err, &a) {
		return nil, a.why, nil
	}
	return value, "", err
}

// from is the row that a getter starts at: the judged row, or the element that it was given.
func (r *Machine) from(args []any) int32 {
	if len(args) > 1 {
		return args[1].(int32)
	}
	return r.row
}

// follow goes along a path's relations by looking at the links.
func (r *Machine) follow(p path, row int32) (int32, string) {
	for _, s := range p.steps {
		l := r.facts.Links[s.ID()]
		if l == nil {
			return 0, "nothing in this run says it: " + s.Text
		}
		reached := l.Reached(row)
		if len(reached) == 0 {
			if l.Absent != nil && l.Absent[row] != 0 {
				return 0, r.facts.Explain(l.Absent[row])
			}
			return 0, "there is none: " + s.Text
		}
		row = reached[0]
	}
	return row, ""
}

func (r *Machine) fact(args ...any) (any, error) {
	p := r.paths[args[0].(int)]
	row, why := r.follow(p, r.from(args))
	if why != "" {
		return nil, raised{why}
	}
	var v any
	var reason vocabulary.Reason
	switch p.fact.Type {
	case vocabulary.Number:
		v, reason = r.facts.Number(p.fact, row)
	case vocabulary.Text:
		v, reason = r.facts.Text(p.fact, row)
	default:
		v, reason = r.facts.Truth(p.fact, row)
	}
	if reason != 0 {
		return nil, raised{r.facts.Explain(reason)}
	}
	return v, nil
}

func (r *Machine) known(args ...any) (any, error) {
	p := r.paths[args[0].(int)]
	if p.fact == nil {
		_, why := r.follow(p, r.from(args))
		return why == "", nil
	}
	_, err := r.fact(args...)
	return err == nil, nil
}

func (r *Machine) rows(args ...any) (any, error) {
	p := r.paths[args[0].(int)]
	row, why := r.follow(p, r.from(args))
	if why != "" {
		return nil, raised{why}
	}
	out := []any{}
	if l := r.facts.Links[p.many.ID()]; l != nil {
		for _, to := range l.Reached(row) {
			out = append(out, to)
		}
	}
	return out, nil
}

func (r *Machine) lookup(args ...any) (any, error) {
	of := r.tables[args[0].(int)]
	var c table.Cursor
	for i, arg := range args[1:] {
		var miss table.Miss
		if s, ok := arg.(string); ok {
			miss = of.table.Text(&c, i, s)
		} else {
			miss = of.table.Number(&c, i, arg.(float64))
		}
		if miss != table.Hit {
			return nil, raised{outOfTable + of.table.Name}
		}
	}
	if of.table.Values[of.column].IsText {
		s, miss := of.table.Word(&c, of.column)
		if miss != table.Hit {
			return nil, raised{outOfTable + of.table.Name}
		}
		return s, nil
	}
	v, miss := of.table.Figure(&c, of.column)
	if miss != table.Hit {
		return nil, raised{outOfTable + of.table.Name}
	}
	return v, nil
}

func call(name string, args ...ast.Node) ast.Node {
	return &ast.CallNode{Callee: &ast.IdentifierNode{Value: name}, Arguments: args}
}

func (r *Machine) getter(name string, p path, element bool) ast.Node {
	r.paths = append(r.paths, p)
	args := []ast.Node{&ast.IntegerNode{Value: len(r.paths) - 1}}
	if element {
		args = append(args, &ast.PointerNode{})
	}
	return call(name, args...)
}

func (r *Machine) rewrite(at ast.Node) ast.Node {
	switch n := at.(type) {
	case *ast.IntegerNode:
		return &ast.FloatNode{Value: float64(n.Value)}
	case *ast.IdentifierNode, *ast.MemberNode, *ast.PointerNode:
		return r.name(at)
	case *ast.UnaryNode:
		return &ast.UnaryNode{Operator: n.Operator, Node: r.rewrite(n.Node)}
	case *ast.ConditionalNode:
		return &ast.ConditionalNode{Ternary: n.Ternary, Cond: r.rewrite(n.Cond), Exp1: r.rewrite(n.Exp1), Exp2: r.rewrite(n.Exp2)}
	case *ast.ArrayNode:
		out := &ast.ArrayNode{}
		for _, v := range n.Nodes {
			out.Nodes = append(out.Nodes, r.rewrite(v))
		}
		return out
	case *ast.BinaryNode:
		a, b := r.rewrite(n.Left), r.rewrite(n.Right)
		switch n.Operator {
		case "<", "<=", ">", ">=", "==", "in":
			return call(map[string]string{"<": "lt_", "<=": "le_", ">": "gt_", ">=": "ge_", "==": "eq_", "in": "in_"}[n.Operator], a, b)
		case "!=":
			return &ast.UnaryNode{Operator: "not", Node: call("eq_", a, b)}
		case "%":
			return call("finite_", call("mod_", a, b))
		case "+", "-", "*", "/", "**", "^":
			return call("finite_", &ast.BinaryNode{Operator: n.Operator, Left: a, Right: b})
		}
		return &ast.BinaryNode{Operator: n.Operator, Left: a, Right: b}
	case *ast.BuiltinNode:
		return r.builtin(n)
	case *ast.CallNode:
		return r.call(n)
	}
	return at
}

// name rewrites a name as a literal, a definition or the call of a getter.
func (r *Machine) name(at ast.Node) ast.Node {
	parts, element := split(at)
	name := strings.Join(parts, ".")
	p, known := r.resolve(parts, element)
	switch {
	case known && p.many != nil:
		return r.getter("rows_", p, element)
	case known:
		return r.getter("fact_", p, element)
	case r.names.Params[name] != nil:
		return literal(r.names.Params[name].Value)
	case r.names.Defines[name] != nil:
		tree, err := parser.Parse(r.names.Defines[name].Text)
		if err != nil {
			return &ast.NilNode{}
		}
		elements := r.elements
		r.elements = nil
		defer func() { r.elements = elements }()
		return r.rewrite(tree.Node)
	}
	return &ast.NilNode{}
}

// split is a dotted name in parts, and whether it begins at the element of a predicate.
func split(at ast.Node) (parts []string, element bool) {
	switch n := at.(type) {
	case *ast.IdentifierNode:
		return []string{n.Value}, false
	case *ast.MemberNode:
		parts, element = split(n.Node)
		return append(parts, n.Property.(*ast.StringNode).Value), element
	}
	return nil, true
}

// resolve finds the way that a dotted name goes.
func (r *Machine) resolve(parts []string, element bool) (path, bool) {
	s := r.subject
	if element {
		s = r.elements[len(r.elements)-1]
	} else if parts[0] == s.String() && r.book.Relation(s, parts[0]) == nil {
		parts = parts[1:]
	}
	p := path{to: s}
	for len(parts) > 0 {
		if f := r.book.Fact(s, strings.Join(parts, ".")); f != nil {
			p.fact = f
			return p, true
		}
		relation := r.book.Relation(s, parts[0])
		if relation == nil {
			return path{}, false
		}
		s, p.to, parts = relation.To, relation.To, parts[1:]
		if relation.Many {
			p.many = relation
			return p, len(parts) == 0
		}
		p.steps = append(p.steps, relation)
	}
	return p, true
}

func literal(c expression.Constant) ast.Node {
	switch c.Type.Kind {
	case expression.Number:
		return &ast.FloatNode{Value: c.Number}
	case expression.Text:
		return &ast.StringNode{Value: c.Text}
	case expression.Truth:
		return &ast.BoolNode{Value: c.Truth}
	}
	out := &ast.ArrayNode{}
	for _, v := range c.List {
		out.Nodes = append(out.Nodes, literal(v))
	}
	return out
}

func (r *Machine) builtin(n *ast.BuiltinNode) ast.Node {
	out := &ast.BuiltinNode{Name: n.Name}
	if len(n.Arguments) == 0 {
		return out
	}
	out.Arguments = append(out.Arguments, r.rewrite(n.Arguments[0]))
	for _, arg := range n.Arguments[1:] {
		if p, ok := arg.(*ast.PredicateNode); ok {
			r.elements = append(r.elements, r.reached(n.Arguments[0]))
			out.Arguments = append(out.Arguments, &ast.PredicateNode{Node: r.rewrite(p.Node)})
			r.elements = r.elements[:len(r.elements)-1]
		} else {
			out.Arguments = append(out.Arguments, r.rewrite(arg))
		}
	}
	switch n.Name {
	case "min", "max":
		if len(out.Arguments) == 1 {
			out.Arguments[0] = call("some_", out.Arguments[0])
		}
		return call("finite_", out)
	case "sum", "count", "len", "abs", "floor", "ceil", "round":
		return call("finite_", out)
	}
	return out
}

// reached is the subject of a collection's elements.
func (r *Machine) reached(at ast.Node) vocabulary.Subject {
	if b, ok := at.(*ast.BuiltinNode); ok {
		return r.reached(b.Arguments[0])
	}
	parts, element := split(at)
	p, _ := r.resolve(parts, element)
	return p.to
}

func (r *Machine) call(n *ast.CallNode) ast.Node {
	args := make([]ast.Node, len(n.Arguments))
	if id, ok := n.Callee.(*ast.IdentifierNode); ok && id.Value == "known" {
		parts, element := split(n.Arguments[0])
		p, _ := r.resolve(parts, element)
		return r.getter("known_", p, element)
	}
	for i, a := range n.Arguments {
		args[i] = r.rewrite(a)
	}
	switch callee := n.Callee.(type) {
	case *ast.IdentifierNode:
		if t := r.names.Tables[callee.Value]; t != nil {
			return r.table(t, 0, args)
		}
		// A unit is what the model reads: kN_m2 is kN/m2.
		if size, _, ok := table.Quantity("1 " + strings.ReplaceAll(callee.Value, "_", "/")); ok {
			return call("finite_", &ast.BinaryNode{Operator: "*", Left: args[0], Right: &ast.FloatNode{Value: size}})
		}
		return call("finite_", call(callee.Value, args...))
	case *ast.MemberNode:
		t := r.names.Tables[callee.Node.(*ast.IdentifierNode).Value]
		return r.table(t, t.Column(callee.Property.(*ast.StringNode).Value), args)
	}
	return n
}

func (r *Machine) table(t *table.Table, column int, args []ast.Node) ast.Node {
	r.tables = append(r.tables, lookupOf{t, column})
	return call("lookup_", append([]ast.Node{&ast.IntegerNode{Value: len(r.tables) - 1}}, args...)...)
}
