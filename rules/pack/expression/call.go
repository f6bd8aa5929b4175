package expression

import (
	"errors"
	"fmt"
	"regexp"
	"sort"
	"strings"

	"github.com/expr-lang/expr/ast"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/pack/table"
)

// longestPattern bounds a pattern, in bytes.
const longestPattern = 200

// compilePattern compiles a pattern of matches; Go's matching takes linear time.
func compilePattern(text string) (func(string) bool, error) {
	if len(text) > longestPattern {
		return nil, fmt.Errorf("it is longer than %d bytes", longestPattern)
	}
	r, err := regexp.Compile(text)
	if err != nil {
		return nil, errors.New(strings.TrimPrefix(err.Error(), "error parsing regexp: "))
	}
	return r.MatchString, nil
}

// callee resolves what a call calls: a function, a unit or a table.
func (c *checker) callee(n *ast.CallNode) *node {
	switch callee := n.Callee.(type) {
	case *ast.IdentifierNode:
		return c.call(n, callee.Value, n.Arguments)
	case *ast.MemberNode:
		if parts, level, ok := c.parts(callee); ok && level == 0 && len(parts) == 2 {
			if t, ok := c.names.Tables[parts[0]]; ok {
				return c.lookup(n, parts[0], t, parts[1], n.Arguments)
			}
			return c.problem(n, problem.DidYouMean(parts[0], c.functions(), ""), "%s is no table", parts[0])
		} else if !ok {
			return nil
		}
	}
	return c.problem(n, "", "only functions, units and tables are called")
}

// functions lists what can be called.
func (c *checker) functions() []string {
	names := []string{"known"}
	for n := range builtins {
		names = append(names, n)
	}
	for n := range functions {
		names = append(names, n)
	}
	for n := range units {
		names = append(names, n)
	}
	for n := range c.names.Tables {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}

func (c *checker) call(at ast.Node, name string, args []ast.Node) *node {
	if f, ok := functions[name]; ok {
		return c.function(at, name, f, args)
	}
	if u, ok := units[name]; ok {
		return c.unit(at, name, u, args)
	}
	switch name {
	case "known":
		return c.knows(at, args)
	case "min", "max":
		return c.extreme(at, name, args)
	case "sum":
		return c.sum(at, args)
	case "all", "any", "none", "one", "count", "filter", "map", "len":
		return c.collection(at, name, args)
	}
	if t, ok := c.names.Tables[name]; ok {
		return c.lookup(at, name, t, "", args)
	}
	return c.problem(at, problem.DidYouMean(name, c.functions(), "the functions are "+strings.Join(sorted(functions, builtins), ", ")), "%s is no function, unit or table", name)
}

// arity holds a call to its number of arguments.
func (c *checker) arity(at ast.Node, name string, args []ast.Node, n int) bool {
	if len(args) != n {
		c.problem(at, "", "%s takes %d arguments, and here are %d", name, n, len(args))
		return false
	}
	return true
}

func (c *checker) function(at ast.Node, name string, f function, args []ast.Node) *node {
	if !c.arity(at, name, args, 1) {
		return nil
	}
	a := c.want(args[0], Number, name)
	if a == nil {
		return nil
	}
	d, t := a.typ.Dimension, Type{Kind: Number, Dimension: f.gives}
	switch {
	case f.keeps:
		t = a.typ
	case f.halves:
		if d.Force%2 != 0 || d.Length%2 != 0 || d.Mass%2 != 0 || d.Angle%2 != 0 {
			return c.problem(args[0], "", "%s has no square root", a.typ.phrase())
		}
		t.Dimension = model.Dimension{Force: d.Force / 2, Length: d.Length / 2, Mass: d.Mass / 2, Angle: d.Angle / 2}
	case d != f.takes && !a.typ.Free:
		fix := fmt.Sprintf("divide by its unit first: %s(x / mm(1))", name)
		if f.takes == model.Angle {
			fix = fmt.Sprintf("give the number its unit: %s(deg(30))", name)
		}
		return c.problem(args[0], fix, "%s takes %s, and this is %s", name, Type{Kind: Number, Dimension: f.takes}.phrase(), a.typ.phrase())
	}
	return c.make(at, opCall, t, name, a)
}

func (c *checker) unit(at ast.Node, name string, u unit, args []ast.Node) *node {
	if !c.arity(at, name, args, 1) {
		return nil
	}
	a := c.want(args[0], Number, name)
	if a == nil {
		return nil
	}
	if a.typ.Dimension != model.Plain {
		return c.problem(args[0], "leave "+name+"(...) out", "%s makes a quantity of a plain number, and this is %s already", name, a.typ.phrase())
	}
	n := c.make(at, opScale, Type{Kind: Number, Dimension: u.dimension}, name, a)
	n.number = u.size()
	return n
}

func (c *checker) knows(at ast.Node, args []ast.Node) *node {
	if !c.arity(at, "known", args, 1) {
		return nil
	}
	a := c.check(args[0])
	switch {
	case a == nil:
		return nil
	case a.op != opFact && (a.op != opElement || len(a.path.steps) == 0):
		return c.problem(args[0], "ask it of each fact: known(a) and known(b)", "known asks about a fact, or about the one row of a relation")
	}
	n := c.make(at, opKnown, Type{Kind: Truth}, "known")
	n.path = a.path
	return n
}

// extreme is min and max: of two or more numbers, or of a mapped collection.
func (c *checker) extreme(at ast.Node, name string, args []ast.Node) *node {
	of, several := opLeastOf, opLeast
	if name == "max" {
		of, several = opMostOf, opMost
	}
	if len(args) == 1 {
		a := c.check(args[0])
		switch {
		case a == nil:
			return nil
		case a.typ.Kind == Numbers:
			return c.make(at, of, Type{Kind: Number, Dimension: a.typ.Dimension}, name, a)
		case a.typ.Kind == Rows:
			return c.problem(args[0], fmt.Sprintf("say of what: %s(map(%s, .bearing))", name, a), "%s takes numbers, and this is %s", name, a.typ.phrase())
		}
	}
	if len(args) < 2 {
		return c.problem(at, "", "%s takes two numbers or more, or a mapped collection", name)
	}
	var nodes []*node
	t := Type{Kind: Number, Free: true}
	for _, arg := range args {
		a := c.want(arg, Number, name)
		if a == nil {
			return nil
		}
		if len(nodes) > 0 {
			shared, ok := c.alike(arg, &node{typ: t}, a, name+" compares")
			if !ok {
				return nil
			}
			t = shared
		} else {
			t = a.typ
		}
		nodes = append(nodes, a)
	}
	return c.make(at, several, t, name, nodes...)
}

// sum is sum(map(c, x)) or sum(c, x).
func (c *checker) sum(at ast.Node, args []ast.Node) *node {
	var numbers *node
	switch len(args) {
	case 1:
		numbers = c.check(args[0])
		if numbers != nil && numbers.typ.Kind != Numbers {
			return c.problem(args[0], "say of what: sum(supports, .reaction)", "sum takes a mapped collection, and this is %s", numbers.typ.phrase())
		}
	case 2:
		numbers = c.collection(at, "map", args)
	default:
		return c.problem(at, "write for example sum(supports, .reaction)", "sum takes a collection and what to sum")
	}
	if numbers == nil {
		return nil
	}
	return c.make(at, opSum, Type{Kind: Number, Dimension: numbers.typ.Dimension}, "sum", numbers)
}

// collection is a function of a collection with a predicate.
func (c *checker) collection(at ast.Node, name string, args []ast.Node) *node {
	wanted := 2
	if name == "len" {
		wanted = 1
	}
	if name == "count" && len(args) == 1 {
		return c.problem(at, "write len(c) for how many there are", "count takes a collection and a condition")
	}
	if !c.arity(at, name, args, wanted) {
		return nil
	}
	rows := c.want(args[0], Rows, name)
	if rows == nil {
		return nil
	}
	if name == "len" {
		return c.make(at, opCount, Type{Kind: Number}, name, rows)
	}
	if len(c.elements) == maxPredicates {
		return c.problem(at, "split it into rules that judge the parts", "conditions over collections stand more than %d inside each other", maxPredicates)
	}
	predicate, ok := args[1].(*ast.PredicateNode)
	if !ok {
		return c.problem(args[1], "", "%s takes a condition of each element", name)
	}
	c.elements = append(c.elements, rows.typ.Subject)
	kind := Truth
	if name == "map" {
		kind = Number
	}
	body := c.want(predicate.Node, kind, name)
	level := len(c.elements)
	c.elements = c.elements[:level-1]
	if body == nil {
		return nil
	}
	shape := map[string]struct {
		op  op
		typ Type
	}{
		"all": {opAll, Type{Kind: Truth}}, "any": {opAny, Type{Kind: Truth}}, "none": {opNone, Type{Kind: Truth}}, "one": {opOne, Type{Kind: Truth}},
		"count": {opCount, Type{Kind: Number}}, "filter": {opFilter, rows.typ}, "map": {opMap, Type{Kind: Numbers, Dimension: body.typ.Dimension}},
	}[name]
	n := c.make(at, shape.op, shape.typ, name, rows, body)
	n.level = level
	return n
}

// lookup is a table called with its keys.
func (c *checker) lookup(at ast.Node, name string, t *table.Table, column string, args []ast.Node) *node {
	if t == nil {
		return nil // its own problem has been said
	}
	at0, usage := 0, c.usage(name)
	values := make([]string, len(t.Values))
	for i, v := range t.Values {
		values[i] = v.Name
	}
	switch {
	case column == "" && len(t.Values) > 1:
		return c.problem(at, "say which: "+name+"."+strings.Join(values, "(...) or "+name+".")+"(...)", "the table %s has several value columns", name)
	case column != "":
		if at0 = t.Column(column); at0 < 0 {
			return c.problem(at, problem.DidYouMean(column, values, "it has "+strings.Join(values, ", ")), "the table %s has no value column %s", name, column)
		}
	}
	if len(args) != len(t.Keys) {
		return c.problem(at, "write "+usage, "the table %s has %d keys, and here are %d", name, len(t.Keys), len(args))
	}
	v := t.Values[at0]
	n := c.make(at, opLookup, Type{Kind: Number, Dimension: v.Dimension}, name)
	if v.IsText {
		n.typ = Type{Kind: Text}
	}
	n.table, n.column = t, at0
	for i, arg := range args {
		key := t.Keys[i]
		wanted := Type{Kind: Number, Dimension: key.Dimension}
		if key.IsText {
			wanted = Type{Kind: Text}
		}
		a := c.check(arg)
		if a == nil {
			return nil
		}
		if a.typ.Kind != wanted.Kind || wanted.Kind == Number && a.typ.Dimension != wanted.Dimension && !a.typ.Free {
			return c.problem(arg, "write "+usage+unitHint(a, wanted), "the key %s of the table %s is %s, and this is %s", key.Name, name, wanted.phrase(), a.typ.phrase())
		}
		n.args = append(n.args, a)
	}
	return n
}

func unitHint(a *node, wanted Type) string {
	if a.typ.Kind != Number || wanted.Kind != Number {
		return ""
	}
	if fix := unitFix(a, &node{typ: wanted}); strings.HasPrefix(fix, "give") {
		return "; " + fix
	}
	return ""
}
