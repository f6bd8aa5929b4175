// Package expression is the language of rules: an expression is parsed by expr-lang, checked for names, types and
// dimensions against the vocabulary, and bound to the columns of one run as Go closures that allocate nothing. It must
// not know what a rule, a pack or a layer is.
package expression

import (
	"fmt"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/pack/table"
	"example.com/scantling/rules/vocabulary"
)

// Source is the text of an expression and where it stands.
type Source struct {
	Text  string
	Place problem.Place             // of its first character
	At    func(n int) problem.Place // of its n-th character, from 0; nil: Place
}

// Character is the place of the n-th character, from 0.
func (s *Source) Character(n int) problem.Place {
	if s.At == nil {
		return s.Place
	}
	return s.At(n)
}

// Kind is the kind of a value.
type Kind uint8

// The kinds.
const (
	Number Kind = iota
	Text
	Truth
	Row     // one row of a subject
	Rows    // rows of a subject
	Numbers // numbers mapped from rows
	List    // constants, on the right of in
)

// String is the kind in a reader's words.
func (k Kind) String() string {
	return [...]string{"number", "text", "truth", "row", "collection", "collection of numbers", "list"}[k]
}

// Type is the kind of a value with what belongs to it.
type Type struct {
	Kind      Kind
	Dimension model.Dimension    // of a Number, of Numbers and of the numbers of a List
	Subject   vocabulary.Subject // of a Row and of Rows
	Of        Kind               // of a List: Number or Text
	Free      bool               // the constant 0, which goes with every dimension
}

// String is the type as a message names it.
func (t Type) String() string {
	switch {
	case t.Kind == Number && t.Dimension == model.Plain:
		return "plain number"
	case t.Kind == Number:
		return t.Dimension.String()
	case t.Kind == Row:
		return t.Subject.String()
	case t.Kind == Rows:
		return "collection of " + t.Subject.String() + "s"
	case t.Kind == List && t.Of == Text:
		return "list of texts"
	case t.Kind == List:
		return "list of " + Type{Dimension: t.Dimension}.String() + "s"
	}
	return t.Kind.String()
}

// phrase is the type with its article.
func (t Type) phrase() string {
	s := t.String()
	switch s[0] {
	case 'a', 'e', 'i', 'o', 'u':
		return "an " + s
	}
	return "a " + s
}

// Constant is the value of a param: of Type.Kind Number (internal units), Text, Truth or List.
type Constant struct {
	Type   Type
	Number float64
	Text   string
	Truth  bool
	List   []Constant
}

// Param is a named constant that packs may set until an expression is bound.
type Param struct {
	Name  string
	Value Constant
	Place problem.Place // of what set the value
}

// Names is what an expression can name beside the vocabulary.
type Names struct {
	Params  map[string]*Param
	Defines map[string]*Source
	Tables  map[string]*table.Table // nil: one that could not be read, whose problem has been said
}

// Expression is a checked expression.
type Expression struct {
	Type   Type
	Source *Source

	root    *node
	subject vocabulary.Subject
}

// Facts lists every fact that the expression can touch, each once, in order of appearance.
func (x *Expression) Facts() []*vocabulary.Fact {
	var out []*vocabulary.Fact
	seen := map[*vocabulary.Fact]bool{}
	x.root.walk(func(n *node) {
		if n.path != nil && n.path.fact != nil && !seen[n.path.fact] {
			seen[n.path.fact] = true
			out = append(out, n.path.fact)
		}
	})
	return out
}

// Fact is the fact that the expression is and nothing else, or nil.
func (x *Expression) Fact() *vocabulary.Fact {
	if x.root.op != opFact {
		return nil
	}
	return x.root.path.fact
}

// Reach is how many relations away from its own row the expression looks at the most.
func (x *Expression) Reach() int { return x.root.reach() }

func (n *node) reach() int {
	own := 0
	if n.path != nil {
		own = len(n.path.steps)
		if n.path.many != nil {
			own++
		}
	}
	most, all := 0, 0
	for _, a := range n.args {
		r := a.reach()
		most, all = max(most, r), all+r
	}
	if n.level > 0 { // a predicate looks on from what its collection reaches
		return own + all
	}
	return own + most
}

// Params lists every param that the expression names, each once, in order of appearance.
func (x *Expression) Params() []*Param {
	var out []*Param
	seen := map[*Param]bool{}
	x.root.walk(func(n *node) {
		if n.param != nil && !seen[n.param] {
			seen[n.param] = true
			out = append(out, n.param)
		}
	})
	return out
}

// op is what a node does.
type op uint8

const (
	opConstant op = iota
	opParam
	opFact
	opKnown
	opRows   // a relation to many
	opFilter // args: rows, condition
	opMap    // args: rows, number
	opElement
	opNegate
	opAdd
	opSubtract
	opMultiply
	opDivide
	opRemainder
	opPower
	opCall    // a function of one number
	opScale   // a unit: the argument times number
	opLeast   // args: numbers
	opMost    // args: numbers
	opLeastOf // args: a collection of numbers
	opMostOf
	opSum   // args: a collection of numbers
	opCount // args: rows, condition or nothing
	opAll   // args: rows, condition
	opAny
	opNone
	opOne
	opLookup
	opCompare // sign says which
	opSame    // texts or truths; not inverts
	opIn
	opContains
	opStartsWith
	opEndsWith
	opMatches
	opNot
	opAnd // args: two or more
	opOr
	opIf // args: condition, then, else
)

// node is a part of a checked expression.
type node struct {
	op     op
	typ    Type
	at     int // characters before it in src
	src    *Source
	args   []*node
	value  Constant
	number float64 // of opScale
	name   string  // operator or function as written
	path   *path
	param  *Param
	table  *table.Table
	column int
	match  func(string) bool
	level  int // of a predicate: how many surround its body, itself counted
}

// path is the way from a row in scope to a fact or to further rows.
type path struct {
	level int // 0: the row that is judged; otherwise the element of the predicate at that depth
	start vocabulary.Subject
	steps []*vocabulary.Relation // to one row each
	many  *vocabulary.Relation   // to rows, or nil
	fact  *vocabulary.Fact       // or nil
	text  string                 // as a reader names it
}

func (n *node) walk(visit func(*node)) {
	visit(n)
	for _, a := range n.args {
		a.walk(visit)
	}
}

// constant is the node's value where it does not depend on facts. Params count as they are set now.
func (n *node) constant() (Constant, bool) {
	switch n.op {
	case opConstant:
		return n.value, n.typ.Kind != List
	case opParam:
		return n.param.Value, true
	case opScale:
		if c, ok := n.args[0].constant(); ok {
			return Constant{Type: n.typ, Number: c.Number * n.number}, true
		}
	case opNegate:
		if c, ok := n.args[0].constant(); ok {
			return Constant{Type: n.typ, Number: -c.Number}, true
		}
	}
	return Constant{}, false
}

// list is the constants of a list, with params as they are set now. A number that is not finite equals nothing.
func (n *node) list() []Constant {
	if n.op == opParam {
		return n.param.Value.List
	}
	var out []Constant
	for _, a := range n.args {
		if v, _ := a.constant(); finite(v.Number) {
			out = append(out, v)
		}
	}
	return out
}

// depends is whether any fact stands in the node.
func (n *node) depends() bool {
	found := false
	n.walk(func(m *node) { found = found || m.path != nil })
	return found
}

// String is the node as it stands in its source, for messages about a part of an expression.
func (n *node) String() string {
	if n.path != nil {
		return n.path.text
	}
	return fmt.Sprintf("%q", n.name)
}
