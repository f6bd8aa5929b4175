package expression

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/expr-lang/expr/ast"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/pack/table"
	"example.com/scantling/rules/vocabulary"
)

// Check parses an expression and checks its names, types and dimensions in the scope of a subject. The expression is nil
// when there are problems. Size is the number of parts that were read, those of definitions each time they were.
func Check(src *Source, book *vocabulary.Book, subject vocabulary.Subject, names Names) (x *Expression, size int, problems problem.Problems) {
	c := &checker{book: book, subject: subject, names: names, src: src, trees: map[*Source]ast.Node{}}
	root := c.source()
	if len(c.problems) > 0 || root == nil {
		return nil, c.nodes, c.problems
	}
	return &Expression{Type: root.typ, Source: src, root: root, subject: subject}, c.nodes, nil
}

// maxPredicates is how deep predicates may stand inside each other.
const maxPredicates = 6

// checker turns a parsed tree into a checked one. A nil node means that a problem has been said.
type checker struct {
	book     *vocabulary.Book
	subject  vocabulary.Subject
	names    Names
	src      *Source
	elements []vocabulary.Subject // of the predicates around, outermost first
	defining []string             // definitions being read
	trees    map[*Source]ast.Node // parsed already: a definition may be named often
	nodes    int
	problems problem.Problems
}

// source parses and checks the checker's source.
func (c *checker) source() *node {
	tree, known := c.trees[c.src]
	if !known {
		var wrong *problem.Problem
		if tree, wrong = parse(c.src); wrong != nil {
			c.problems = append(c.problems, *wrong)
			return nil
		}
		c.trees[c.src] = tree
	}
	return c.check(tree)
}

func (c *checker) problem(at ast.Node, fix, format string, args ...any) *node {
	from := at.Location().From
	c.problems = append(c.problems, problem.Problem{
		Place: c.src.Character(from), Message: fmt.Sprintf(format, args...), Fix: fix, Expression: c.src.Text, Caret: from,
	})
	return nil
}

// make is a node of the checked tree.
func (c *checker) make(at ast.Node, o op, t Type, name string, args ...*node) *node {
	return &node{op: o, typ: t, at: at.Location().From, src: c.src, name: name, args: args}
}

func (c *checker) check(at ast.Node) *node {
	if c.nodes++; c.nodes == maxNodes {
		return c.problem(at, "say it in fewer words, or in several rules", "with its definitions put in, the expression has more than %d parts", maxNodes)
	}
	if c.nodes > maxNodes {
		return nil
	}
	switch n := at.(type) {
	case *ast.IntegerNode:
		if n.Value > 1<<53 {
			return c.problem(at, "", "%d is too large a number", n.Value)
		}
		return c.number(at, float64(n.Value))
	case *ast.FloatNode:
		return c.number(at, n.Value)
	case *ast.StringNode:
		return c.constant(at, Constant{Type: Type{Kind: Text}, Text: n.Value}, strconv.Quote(n.Value))
	case *ast.BoolNode:
		return c.constant(at, Constant{Type: Type{Kind: Truth}, Truth: n.Value}, strconv.FormatBool(n.Value))
	case *ast.UnaryNode:
		return c.unary(n)
	case *ast.BinaryNode:
		return c.binary(n)
	case *ast.ConditionalNode:
		return c.conditional(n)
	case *ast.IdentifierNode, *ast.MemberNode, *ast.PointerNode:
		return c.name(at)
	case *ast.BuiltinNode:
		return c.call(at, n.Name, n.Arguments)
	case *ast.CallNode:
		return c.callee(n)
	case *ast.ArrayNode:
		return c.problem(at, `write for example role in ["rafter", "purlin"]`, "a list stands on the right of in, and nowhere else")
	case *ast.NilNode:
		return c.problem(at, "ask known(bearing) or not known(bearing)", "nil is no value here")
	case *ast.ChainNode:
		return c.problem(at, "ask known(on.material) first, then write on.material", "?. is not read")
	case *ast.SliceNode:
		return c.problem(at, "say which are meant with filter(...)", "parts of a collection or text cannot be taken by number")
	case *ast.VariableDeclaratorNode:
		return c.problem(at, "name it under define", "let is not read")
	case *ast.SequenceNode:
		return c.problem(at, "join conditions with and", "one expression, not several")
	case *ast.MapNode:
		return c.problem(at, "", "a mapping is no value here")
	}
	return c.problem(at, "", "this is not part of the language of rules")
}

func (c *checker) constant(at ast.Node, v Constant, name string) *node {
	n := c.make(at, opConstant, v.Type, name)
	n.value = v
	return n
}

func (c *checker) number(at ast.Node, v float64) *node {
	return c.constant(at, Constant{Type: Type{Kind: Number, Free: v == 0}, Number: v}, strconv.FormatFloat(v, 'g', -1, 64))
}

// want is a checked node of a kind, or nil with a problem.
func (c *checker) want(at ast.Node, kind Kind, whose string) *node {
	n := c.check(at)
	if n == nil || n.typ.Kind == kind {
		return n
	}
	fix := ""
	switch {
	case kind == Truth:
		fix = "write a comparison or a truth"
	case kind == Number && n.typ.Kind == Numbers:
		fix = "take its min, max or sum"
	case kind == Rows:
		fix = "name a collection: " + strings.Join(c.collections(), ", ")
	case kind == Number && n.typ.Kind == Text:
		fix = "write the number without quotes, with its unit: mm(90)"
	}
	return c.problem(at, fix, "%s takes a %s, and this is %s", whose, kind, n.typ.phrase())
}

func (c *checker) collections() []string {
	var names []string
	for _, s := range append([]vocabulary.Subject{c.subject}, c.elements...) {
		for _, r := range c.book.Relations(s) {
			if r.Many {
				names = append(names, r.Name)
			}
		}
	}
	return names
}

func (c *checker) unary(n *ast.UnaryNode) *node {
	switch n.Operator {
	case "not", "!":
		if a := c.want(n.Node, Truth, n.Operator); a != nil {
			return c.make(n, opNot, Type{Kind: Truth}, n.Operator, a)
		}
	case "-":
		if a := c.want(n.Node, Number, n.Operator); a != nil {
			return c.make(n, opNegate, a.typ, n.Operator, a)
		}
	case "+":
		return c.want(n.Node, Number, n.Operator)
	}
	return nil
}

func (c *checker) conditional(n *ast.ConditionalNode) *node {
	cond, then, otherwise := c.want(n.Cond, Truth, "the condition of a choice"), c.check(n.Exp1), c.check(n.Exp2)
	if cond == nil || then == nil || otherwise == nil {
		return nil
	}
	t, ok := c.alike(n.Exp2, then, otherwise, "the two sides of a choice are")
	if !ok {
		return nil
	}
	if t.Kind > Truth {
		return c.problem(n.Exp1, "choose between numbers, texts or truths", "a choice between collections is not read")
	}
	out := c.make(n.Cond, opIf, t, "?", cond, then, otherwise)
	return out
}

// alike is the type that two nodes share, or false with a problem.
func (c *checker) alike(at ast.Node, a, b *node, what string) (Type, bool) {
	switch {
	case a.typ.Kind != b.typ.Kind:
		fix := ""
		if a.typ.Kind == Number && b.typ.Kind == Text || a.typ.Kind == Text && b.typ.Kind == Number {
			fix = "write quantities without quotes: mm(90)"
		}
		c.problem(at, fix, "%s %s and %s", what, a.typ.phrase(), b.typ.phrase())
		return Type{}, false
	case a.typ.Kind != Number, a.typ.Dimension == b.typ.Dimension && !a.typ.Free:
		return a.typ, true
	case a.typ.Free:
		return b.typ, true
	case b.typ.Free:
		return a.typ, true
	}
	c.problem(at, unitFix(a, b), "%s %s and %s", what, a.typ.phrase(), b.typ.phrase())
	return Type{}, false
}

// unitFix is the unit that a bare number lacks, where one of two nodes is one.
func unitFix(a, b *node) string {
	for _, pair := range [][2]*node{{a, b}, {b, a}} {
		v, constant := pair[0].constant()
		if form, ok := suggested[pair[1].typ.Dimension]; ok && constant && pair[0].typ.Dimension == model.Plain {
			text := strconv.FormatFloat(v.Number, 'g', -1, 64)
			if pair[0].op == opParam {
				return fmt.Sprintf("give the param %s its unit where it is set: a %s", pair[0].name, pair[1].typ)
			}
			return "give the number its unit: " + strings.ReplaceAll(form, "%s", text)
		}
	}
	if a.typ.Dimension == model.Plain || b.typ.Dimension == model.Plain {
		return "multiply or divide so that both have the same dimension"
	}
	return "only quantities of the same dimension go together"
}

func (c *checker) binary(n *ast.BinaryNode) *node {
	switch n.Operator {
	case "and", "&&":
		return c.logic(n, opAnd, "and")
	case "or", "||":
		return c.logic(n, opOr, "or")
	case "<", "<=", ">", ">=":
		return c.comparison(n)
	case "==", "!=":
		return c.equality(n)
	case "in":
		return c.in(n)
	case "contains", "startsWith", "endsWith", "matches":
		return c.textTest(n)
	case "+", "-", "*", "/", "%", "**", "^":
		return c.arithmetic(n)
	case "??":
		return c.problem(n, "ask first: known(x) ? x : y", "?? would hide that a fact is not known")
	case "..":
		return c.problem(n, "write 1 <= x and x <= 3", "a range is not read")
	}
	return c.problem(n, "", "the operator %s is not read", n.Operator)
}

// logic gathers a chain of and, or of or, into one node.
func (c *checker) logic(n *ast.BinaryNode, o op, name string) *node {
	var args []*node
	sound := true
	for _, side := range []ast.Node{n.Left, n.Right} {
		a := c.want(side, Truth, name)
		switch {
		case a == nil:
			sound = false
		case a.op == o && a.src == c.src:
			args = append(args, a.args...)
		default:
			args = append(args, a)
		}
	}
	if !sound {
		return nil
	}
	return c.make(n, o, Type{Kind: Truth}, name, args...)
}

func (c *checker) comparison(n *ast.BinaryNode) *node {
	a, b := c.check(n.Left), c.check(n.Right)
	if a == nil || b == nil {
		return nil
	}
	for _, side := range []*node{a, b} {
		if side.typ.Kind != Number {
			fix := "compare texts and truths with == or !="
			if _, d, quantity := table.Quantity(side.value.Text); side.op == opConstant && side.typ.Kind == Text && quantity {
				fix = "write the quantity without quotes: " + strings.ReplaceAll(suggested[d], "%s", "...")
			}
			return c.problem(n, fix, "%s compares numbers, and one side is %s", n.Operator, side.typ.phrase())
		}
	}
	if _, ok := c.alike(n, a, b, n.Operator+" compares"); !ok {
		return nil
	}
	return c.make(n, opCompare, Type{Kind: Truth}, n.Operator, a, b)
}

func (c *checker) equality(n *ast.BinaryNode) *node {
	a, b := c.check(n.Left), c.check(n.Right)
	if a == nil || b == nil {
		return nil
	}
	t, ok := c.alike(n, a, b, n.Operator+" compares")
	switch {
	case !ok:
		return nil
	case t.Kind == Number:
		return c.make(n, opCompare, Type{Kind: Truth}, n.Operator, a, b)
	case t.Kind > Truth:
		return c.problem(n, "compare facts of it, or use any(...) or all(...)", "%s does not compare %s", n.Operator, t.phrase())
	case t.Kind == Text && !(c.spelled(a, b, false) && c.spelled(b, a, false)):
		return nil
	}
	return c.make(n, opSame, Type{Kind: Truth}, n.Operator, a, b)
}

func (c *checker) in(n *ast.BinaryNode) *node {
	a, list := c.check(n.Left), c.list(n.Right)
	if a == nil || list == nil {
		return nil
	}
	switch {
	case a.typ.Kind == Number && list.typ.Of == Number && (a.typ.Dimension == list.typ.Dimension || a.typ.Free || list.typ.Free):
	case a.typ.Kind == Text && list.typ.Of == Text:
	default:
		fix := "look for texts among texts, and for quantities among those of their dimension"
		if len(list.args) > 0 && list.typ.Of == Number && a.typ.Kind == Number {
			fix = unitFix(a, list.args[0])
		}
		return c.problem(n, fix, "in looks for %s in a %s", a.typ.phrase(), list.typ)
	}
	if !c.spelled(a, list, false) {
		return nil
	}
	return c.make(n, opIn, Type{Kind: Truth}, "in", a, list)
}

// list is a list of constants or a param that is one.
func (c *checker) list(at ast.Node) *node {
	array, ok := at.(*ast.ArrayNode)
	if !ok {
		n := c.check(at)
		if n != nil && n.typ.Kind != List {
			return c.problem(at, `write a list in brackets: ["rafter", "purlin"]`, "in looks in a list, and this is %s", n.typ.phrase())
		}
		return n
	}
	if len(array.Nodes) == 0 {
		return c.problem(at, "put what is looked for in the brackets", "the list is empty")
	}
	out := c.make(at, opConstant, Type{Kind: List, Free: true}, "list")
	for i, item := range array.Nodes {
		n := c.check(item)
		if n == nil {
			return nil
		}
		_, constant := n.constant()
		switch {
		case !constant || n.typ.Kind > Text:
			return c.problem(item, "use == and or for what is not constant", "a list holds constant texts or numbers")
		case i == 0:
			out.typ.Of, out.typ.Dimension, out.typ.Free = n.typ.Kind, n.typ.Dimension, n.typ.Free
		case n.typ.Kind != out.typ.Of, n.typ.Dimension != out.typ.Dimension && !n.typ.Free && !out.typ.Free:
			return c.problem(item, "", "the list mixes %s and %s", Type{Kind: out.typ.Of, Dimension: out.typ.Dimension}.phrase(), n.typ.phrase())
		case out.typ.Free:
			out.typ.Dimension, out.typ.Free = n.typ.Dimension, n.typ.Free
		}
		out.args = append(out.args, n)
	}
	return out
}

func (c *checker) arithmetic(n *ast.BinaryNode) *node {
	a, b := c.check(n.Left), c.check(n.Right)
	if a == nil || b == nil {
		return nil
	}
	if n.Operator == "+" && a.typ.Kind == Text && b.typ.Kind == Text {
		return c.problem(n, "write the words in say: \"{a} {b}\"", "texts are not joined")
	}
	for i, side := range []*node{a, b} {
		if side.typ.Kind != Number {
			return c.problem([]ast.Node{n.Left, n.Right}[i], "", "%s takes numbers, and this is %s", n.Operator, side.typ.phrase())
		}
	}
	t := Type{Kind: Number}
	ok := true
	var o op
	switch n.Operator {
	case "+", "-":
		t, ok = c.alike(n, a, b, map[string]string{"+": "+ adds", "-": "- takes the difference of"}[n.Operator])
		o = map[string]op{"+": opAdd, "-": opSubtract}[n.Operator]
	case "%":
		t, ok = c.alike(n, a, b, "% divides")
		o = opRemainder
	case "*":
		t.Dimension, o = a.typ.Dimension.Times(b.typ.Dimension), opMultiply
	case "/":
		t.Dimension, o = a.typ.Dimension.Over(b.typ.Dimension), opDivide
	default:
		t.Dimension, ok = c.power(n, a, b)
		o = opPower
	}
	if !ok {
		return nil
	}
	return c.sane(n, c.make(n, o, t, n.Operator, a, b))
}

// highest is the highest exponent of a dimension that a rule can mean.
const highest = 16

func (c *checker) sane(at ast.Node, n *node) *node {
	d := n.typ.Dimension
	for _, exponent := range []int8{d.Force, d.Length, d.Mass, d.Angle} {
		if exponent > highest || exponent < -highest {
			return c.problem(at, "", "no quantity has such a dimension")
		}
	}
	return n
}

// power is the dimension of a power: of a quantity only by a whole constant.
func (c *checker) power(at *ast.BinaryNode, base, exponent *node) (model.Dimension, bool) {
	v, constant := exponent.constant()
	whole := constant && v.Number == math.Trunc(v.Number) && math.Abs(v.Number) <= 6
	switch {
	case exponent.typ.Dimension != model.Plain:
		c.problem(at.Right, "", "an exponent is a plain number, and this is %s", exponent.typ.phrase())
	case base.typ.Dimension == model.Plain:
		return model.Plain, true
	case !whole || exponent.op == opParam:
		c.problem(at.Right, "write ** 2, or sqrt(...)", "%s is raised to a whole constant from -6 to 6 only", base.typ.phrase())
	default:
		return base.typ.Dimension.Power(int8(v.Number)), true
	}
	return model.Plain, false
}

func (c *checker) textTest(n *ast.BinaryNode) *node {
	a, b := c.want(n.Left, Text, n.Operator), c.want(n.Right, Text, n.Operator)
	if a == nil || b == nil {
		return nil
	}
	o := map[string]op{"contains": opContains, "startsWith": opStartsWith, "endsWith": opEndsWith, "matches": opMatches}[n.Operator]
	out := c.make(n, o, Type{Kind: Truth}, n.Operator, a, b)
	if o == opMatches {
		if b.op != opConstant {
			return c.problem(n.Right, "write the pattern in quotes", "matches takes a constant pattern")
		}
		match, err := compilePattern(b.value.Text)
		if err != nil {
			return c.problem(n.Right, "", "the pattern cannot be read: %s", err)
		}
		out.match = match
	} else if !c.spelled(a, b, true) {
		return nil
	}
	return out
}
