package expression

import (
	"strconv"
	"strings"

	"example.com/scantling/model"
)

// Words says an expression in words, with quantities as print gives them. Facts go by their names, and params by their
// names with the value that they have now.
func (x *Expression) Words(print func(value float64, d model.Dimension) string) string {
	return words{print}.say(x.root)
}

type words struct {
	print func(float64, model.Dimension) string
}

var operatorWords = map[string]string{
	"<": "is less than", "<=": "is at most", ">": "is more than", ">=": "is at least", "==": "is", "!=": "is not",
	"contains": "contains", "startsWith": "begins with", "endsWith": "ends with", "matches": "matches",
	"+": "plus", "-": "less", "*": "times", "/": "over", "%": "modulo", "**": "to the power of", "^": "to the power of",
	"and": "and", "or": "or", "all": "for each of", "any": "for at least one of", "none": "for none of", "one": "for exactly one of",
}

func (w words) say(n *node) string {
	arg := func(i int) string { return w.group(n.args[i]) }
	switch n.op {
	case opConstant:
		return w.constant(n)
	case opParam:
		return spaced(n.param.Name) + " (" + w.value(n.param.Value) + ")"
	case opFact, opElement, opRows:
		return w.path(n.path)
	case opKnown:
		return w.path(n.path) + " is known"
	case opNot:
		if n.args[0].op == opKnown {
			return w.path(n.args[0].path) + " is not known"
		}
		return "not " + arg(0)
	case opAnd, opOr:
		parts := make([]string, len(n.args))
		for i := range n.args {
			parts[i] = arg(i)
		}
		return strings.Join(parts, " "+n.name+" ")
	case opCompare, opSame:
		return w.side(n.args[0]) + " " + operatorWords[n.name] + " " + w.side(n.args[1])
	case opContains, opStartsWith, opEndsWith, opMatches, opAdd, opSubtract, opMultiply, opDivide, opRemainder, opPower:
		return arg(0) + " " + operatorWords[n.name] + " " + arg(1)
	case opIn:
		return arg(0) + " is one of " + w.say(n.args[1])
	case opNegate:
		return "minus " + arg(0)
	case opScale:
		return w.print1(n)
	case opIf:
		return arg(1) + " if " + arg(0) + ", otherwise " + arg(2)
	case opAll, opAny, opNone, opOne:
		return operatorWords[n.name] + " " + w.say(n.args[0]) + ": " + arg(1)
	case opCount:
		if len(n.args) == 1 {
			return "the number of " + w.say(n.args[0])
		}
		return "the number of " + w.say(n.args[0]) + " with " + arg(1)
	case opFilter:
		return w.say(n.args[0]) + " with " + arg(1)
	case opMap:
		return w.say(n.args[1]) + " of " + w.say(n.args[0])
	case opLeastOf, opLeast:
		return "the least of " + w.several(n)
	case opMostOf, opMost:
		return "the most of " + w.several(n)
	case opSum:
		return "the sum of " + w.several(n)
	case opLookup:
		return "what the table " + spaced(n.name) + " gives for " + w.several(n)
	}
	return n.name + " of " + w.several(n)
}

// side is one side of a comparison, which binds less than arithmetic.
func (w words) side(n *node) string {
	switch n.op {
	case opAdd, opSubtract, opMultiply, opDivide, opRemainder, opPower:
		return w.say(n)
	}
	return w.group(n)
}

// group is a node in words, in brackets where its words would run into those around it.
func (w words) group(n *node) string {
	s := w.say(n)
	switch n.op {
	case opAnd, opOr, opIf, opAdd, opSubtract, opMultiply, opDivide, opRemainder, opPower:
		return "(" + s + ")"
	}
	return s
}

func (w words) several(n *node) string {
	parts := make([]string, len(n.args))
	for i, a := range n.args {
		parts[i] = w.say(a)
	}
	return strings.Join(parts, ", ")
}

func (w words) constant(n *node) string {
	if n.typ.Kind != List {
		return w.value(n.value)
	}
	return w.several(n)
}

// print1 is a number with its unit.
func (w words) print1(n *node) string {
	if v, ok := n.constant(); ok {
		return w.print(v.Number, n.typ.Dimension)
	}
	return w.group(n.args[0]) + " " + n.name
}

func (w words) value(v Constant) string {
	switch v.Type.Kind {
	case Number:
		return w.print(v.Number, v.Type.Dimension)
	case Text:
		return v.Text
	case Truth:
		return strconv.FormatBool(v.Truth)
	}
	parts := make([]string, len(v.List))
	for i, c := range v.List {
		parts[i] = w.value(c)
	}
	return strings.Join(parts, ", ")
}

// path is a fact in words: "bearing", "material of on".
func (w words) path(p *path) string {
	var last string
	switch {
	case p.fact != nil:
		last = spaced(p.fact.Name)
	case p.many != nil:
		last = spaced(p.many.Name)
	}
	var owners []string
	for i := len(p.steps) - 1; i >= 0; i-- {
		owners = append(owners, relationWords(p.steps[i].Text))
	}
	if last != "" {
		owners = append([]string{last}, owners...)
	}
	return strings.Join(owners, " of ")
}

// relationWords is what a relation reaches, without what is said of it beside.
func relationWords(text string) string {
	before, _, _ := strings.Cut(text, ":")
	return before
}

func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }
