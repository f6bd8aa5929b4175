package expression

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/scantling/rules/vocabulary"
)

// Binder binds expressions to the columns of one set of facts, with the params as they are set now.
type Binder struct {
	facts  *vocabulary.Facts
	trace  *Trace
	lazy   bool
	strict vocabulary.Reason // not finite
	spent  vocabulary.Reason
}

// NewBinder is a binder over facts. With a trace, what is bound records what it touches and reaches, at some cost.
func NewBinder(f *vocabulary.Facts, trace *Trace) *Binder {
	return &Binder{facts: f, trace: trace, strict: f.Reason("the number is not finite"), spent: f.Reason("it took too many steps")}
}

// Lazily is a binder over the same facts that binds a truth, and what stands after an and or an or in it, when it is first
// evaluated.
func (b *Binder) Lazily() *Binder {
	lazy := *b
	lazy.lazy = true
	return &lazy
}

// Truth binds an expression of kind Truth. What is bound returns false when the run was stopped.
func (b *Binder) Truth(x *Expression) func(*Run) bool { return b.part(x.root) }

// Later is Truth, bound when it is first evaluated: facts that only it reads are not worked out before.
func (b *Binder) Later(x *Expression) func(*Run) bool { return b.later(x.root) }

// part is a truth, put off where the binder is lazy.
func (b *Binder) part(n *node) func(*Run) bool {
	if b.lazy {
		return b.later(n)
	}
	return b.truth(n)
}

func (b *Binder) later(n *node) func(*Run) bool {
	var bound func(*Run) bool
	return func(r *Run) bool {
		if bound == nil {
			bound = b.truth(n)
		}
		return bound(r)
	}
}

// Number binds an expression of kind Number, in internal units.
func (b *Binder) Number(x *Expression) func(*Run) float64 { return b.number(x.root) }

// Text binds an expression of kind Text.
func (b *Binder) Text(x *Expression) func(*Run) string { return b.text(x.root) }

// reason interns a reason when expressions are bound, so that evaluation does not.
func (b *Binder) reason(format string, args ...any) vocabulary.Reason {
	return b.facts.Reason(fmt.Sprintf(format, args...))
}

func (b *Binder) number(n *node) func(*Run) float64 {
	if v, ok := n.constant(); ok {
		return func(*Run) float64 { return v.Number }
	}
	switch n.op {
	case opFact:
		return b.numberFact(n)
	case opNegate:
		a := b.number(n.args[0])
		return func(r *Run) float64 { return -a(r) }
	case opScale:
		size := n.number
		return b.apply(n, func(v float64) float64 { return v * size })
	case opAdd, opSubtract, opMultiply, opDivide, opRemainder, opPower:
		return b.arithmetic(n)
	case opCall:
		return b.apply(n, functions[n.name].call)
	case opLeast, opMost:
		return b.extreme(n)
	case opLeastOf, opMostOf, opSum:
		return b.reduce(n)
	case opCount:
		return b.count(n)
	case opLookup:
		return b.figure(n)
	case opIf:
		return choose(b, n, b.number)
	}
	panic("expression: " + n.name + " gives no number")
}

// apply binds a function of one number; what it takes and gives is finite, or the run stops.
func (b *Binder) apply(n *node, call func(float64) float64) func(*Run) float64 {
	a, strict := b.number(n.args[0]), b.strict
	return func(r *Run) float64 {
		p := a(r)
		if r.Absent != 0 {
			return 0
		}
		v := call(p)
		if !finite((p - p) + v) {
			r.stop(strict, n)
		}
		return v
	}
}

func (b *Binder) numberFact(n *node) func(*Run) float64 {
	c, column := b.cell(n.path)
	values := column.Numbers
	if c.plain() {
		which := c.which
		return traced(b, n, c, func(r *Run) float64 { return values[r.judged[which]] })
	}
	return traced(b, n, c, func(r *Run) float64 {
		i, why := c.index(r)
		if why != 0 {
			r.stop(why, n)
			return 0
		}
		return values[i]
	})
}

func (b *Binder) textFact(n *node) func(*Run) string {
	c, column := b.cell(n.path)
	values := column.Texts
	if c.plain() {
		which := c.which
		return traced(b, n, c, func(r *Run) string { return values[r.judged[which]] })
	}
	return traced(b, n, c, func(r *Run) string {
		i, why := c.index(r)
		if why != 0 {
			r.stop(why, n)
			return ""
		}
		return values[i]
	})
}

func (b *Binder) truthFact(n *node) func(*Run) bool {
	c, column := b.cell(n.path)
	values := column.Truths
	if c.plain() {
		which := c.which
		return traced(b, n, c, func(r *Run) bool { return values[r.judged[which]] })
	}
	return traced(b, n, c, func(r *Run) bool {
		i, why := c.index(r)
		if why != 0 {
			r.stop(why, n)
			return false
		}
		return values[i]
	})
}

func (b *Binder) arithmetic(n *node) func(*Run) float64 {
	x, y, strict, o := b.number(n.args[0]), b.number(n.args[1]), b.strict, n.op
	if c, ok := n.args[1].constant(); ok && finite(c.Number) {
		q := c.Number
		return func(r *Run) float64 {
			p := x(r)
			if r.Absent != 0 {
				return 0
			}
			v := calculate(o, p, q)
			if !finite((p - p) + v) {
				r.stop(strict, n)
			}
			return v
		}
	}
	// Both sides are read before either is used, so that the first absence from the left is the one that is told.
	return func(r *Run) float64 {
		p := x(r)
		if r.Absent != 0 {
			return 0
		}
		q := y(r)
		if r.Absent != 0 {
			return 0
		}
		v := calculate(o, p, q)
		if !finite((p - p) + (q - q) + v) {
			r.stop(strict, n)
		}
		return v
	}
}

func calculate(o op, p, q float64) float64 {
	switch o {
	case opAdd:
		return p + q
	case opSubtract:
		return p - q
	case opMultiply:
		return p * q
	case opDivide:
		return p / q
	case opRemainder:
		return math.Mod(p, q)
	}
	return math.Pow(p, q)
}

func (b *Binder) extreme(n *node) func(*Run) float64 {
	args := make([]func(*Run) float64, len(n.args))
	for i, a := range n.args {
		args[i] = b.number(a)
	}
	strict, most := b.strict, n.op == opMost
	return func(r *Run) float64 {
		best := 0.0
		for i, a := range args {
			v := a(r)
			if r.Absent != 0 {
				return 0
			}
			if !finite(v) {
				r.stop(strict, n)
				return 0
			}
			if i == 0 || most && v > best || !most && v < best {
				best = v
			}
		}
		return best
	}
}

func (b *Binder) text(n *node) func(*Run) string {
	if v, ok := n.constant(); ok {
		return func(*Run) string { return v.Text }
	}
	switch n.op {
	case opFact:
		return b.textFact(n)
	case opLookup:
		return b.word(n)
	case opIf:
		return choose(b, n, b.text)
	}
	panic("expression: " + n.name + " gives no text")
}

// choose binds cond ? a : b.
func choose[T any](b *Binder, n *node, bind func(*node) func(*Run) T) func(*Run) T {
	cond, then, otherwise := b.truth(n.args[0]), branch(b, n, 1, bind(n.args[1])), branch(b, n, 2, bind(n.args[2]))
	return func(r *Run) T {
		if cond(r) {
			return then(r)
		}
		if r.Absent != 0 {
			var none T
			return none
		}
		return otherwise(r)
	}
}

func (b *Binder) truth(n *node) func(*Run) bool {
	if v, ok := n.constant(); ok {
		return func(*Run) bool { return v.Truth }
	}
	switch n.op {
	case opFact:
		return b.truthFact(n)
	case opKnown:
		return b.known(n)
	case opCompare:
		return b.compare(n)
	case opSame:
		return b.same(n)
	case opIn:
		return b.in(n)
	case opContains, opStartsWith, opEndsWith, opMatches:
		return b.textTest(n)
	case opNot:
		a := b.truth(n.args[0])
		return func(r *Run) bool { return !a(r) && r.Absent == 0 }
	case opAnd, opOr:
		return b.logic(n)
	case opAll, opAny, opNone, opOne:
		return b.quantify(n)
	case opIf:
		return choose(b, n, b.truth)
	}
	panic("expression: " + n.name + " gives no truth")
}

func (b *Binder) known(n *node) func(*Run) bool {
	if n.path.fact == nil {
		way := b.reach(n.path)
		return func(r *Run) bool {
			_, why := way.row(r)
			return why == 0
		}
	}
	c, _ := b.cell(n.path)
	known := func(r *Run) bool {
		_, why := c.index(r)
		return why == 0
	}
	if b.trace == nil {
		return known
	}
	return func(r *Run) bool {
		b.trace.touch(b.facts, n.path, r, c)
		return known(r)
	}
}

// logic binds a chain of and, or of or.
func (b *Binder) logic(n *node) func(*Run) bool {
	args := make([]func(*Run) bool, len(n.args))
	for i, a := range n.args {
		if i == 0 {
			args[i] = branch(b, n, i, b.truth(a))
		} else {
			args[i] = branch(b, n, i, b.part(a))
		}
	}
	switch {
	case n.op == opAnd && len(args) == 2:
		x, y := args[0], args[1]
		return func(r *Run) bool { return x(r) && y(r) }
	case n.op == opAnd && len(args) == 3:
		x, y, z := args[0], args[1], args[2]
		return func(r *Run) bool { return x(r) && y(r) && z(r) }
	case n.op == opAnd:
		return func(r *Run) bool {
			for _, a := range args {
				if !a(r) {
					return false
				}
			}
			return true
		}
	}
	return func(r *Run) bool {
		for _, a := range args {
			if a(r) {
				return true
			}
			if r.Absent != 0 {
				return false
			}
		}
		return false
	}
}

func (b *Binder) same(n *node) func(*Run) bool {
	inverse := n.name == "!="
	if n.args[0].typ.Kind == Truth {
		x, y := b.truth(n.args[0]), b.truth(n.args[1])
		return func(r *Run) bool {
			p := x(r)
			if r.Absent != 0 {
				return false
			}
			q := y(r)
			return r.Absent == 0 && (p == q) != inverse
		}
	}
	x, y := b.text(n.args[0]), b.text(n.args[1])
	if v, ok := n.args[1].constant(); ok {
		want := v.Text
		if n.args[0].op == opFact && b.trace == nil {
			if c, column := b.cell(n.args[0].path); c.plain() {
				values, which := column.Texts, c.which
				return func(r *Run) bool { return (values[r.judged[which]] == want) != inverse }
			}
		}
		return func(r *Run) bool {
			p := x(r)
			return r.Absent == 0 && (p == want) != inverse
		}
	}
	return func(r *Run) bool {
		p := x(r)
		if r.Absent != 0 {
			return false
		}
		q := y(r)
		return r.Absent == 0 && (p == q) != inverse
	}
}

func (b *Binder) in(n *node) func(*Run) bool {
	list := n.args[1].list()
	if n.args[1].typ.Of == Text {
		x := b.text(n.args[0])
		texts := make([]string, len(list))
		for i, v := range list {
			texts[i] = v.Text
		}
		return func(r *Run) bool {
			p := x(r)
			return r.Absent == 0 && slices.Contains(texts, p)
		}
	}
	x, strict := b.number(n.args[0]), b.strict
	return func(r *Run) bool {
		p := x(r)
		if r.Absent != 0 {
			return false
		}
		if !finite(p) {
			r.stop(strict, n)
			return false
		}
		for i := range list {
			if near(p, list[i].Number) {
				return true
			}
		}
		return false
	}
}

func (b *Binder) textTest(n *node) func(*Run) bool {
	x := b.text(n.args[0])
	if n.op == opMatches {
		match := n.match
		return func(r *Run) bool {
			p := x(r)
			return r.Absent == 0 && match(p)
		}
	}
	y := b.text(n.args[1])
	test := map[op]func(s, t string) bool{opContains: strings.Contains, opStartsWith: strings.HasPrefix, opEndsWith: strings.HasSuffix}[n.op]
	return func(r *Run) bool {
		p := x(r)
		if r.Absent != 0 {
			return false
		}
		q := y(r)
		return r.Absent == 0 && test(p, q)
	}
}
