package expression

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/table"
	"example.com/scantling/rules/vocabulary"
)

// Binder binds expressions to the columns of one set of facts, with the params as they are set now.
type Binder struct {
	facts  *vocabulary.Facts
	trace  *Trace
	strict vocabulary.Reason // not finite
	spent  vocabulary.Reason
}

// NewBinder is a binder over facts. With a trace, what is bound records what it touches and reaches, at some cost.
func NewBinder(f *vocabulary.Facts, trace *Trace) *Binder {
	return &Binder{facts: f, trace: trace, strict: f.Reason("the number is not finite"), spent: f.Reason("it took too many steps")}
}

// Truth binds an expression of kind Truth. What is bound returns false when the run was stopped.
func (b *Binder) Truth(x *Expression) func(*Run) bool { return b.truth(x.root) }

// Number binds an expression of kind Number, in internal units.
func (b *Binder) Number(x *Expression) func(*Run) float64 { return b.number(x.root) }

// Text binds an expression of kind Text.
func (b *Binder) Text(x *Expression) func(*Run) string { return b.text(x.root) }

// reason interns a reason when expressions are bound, so that evaluation does not.
func (b *Binder) reason(format string, args ...any) vocabulary.Reason {
	return b.facts.Reason(fmt.Sprintf(format, args...))
}

// reach is the row that a path's steps lead to from its level.
type reach struct {
	level int
	steps []step
}

type step struct {
	link *vocabulary.Link
	none vocabulary.Reason
}

func (b *Binder) reach(p *path) reach {
	out := reach{level: p.level}
	for _, r := range p.steps {
		s := step{link: b.facts.Links[r.ID()], none: b.reason("there is none: %s", r.Text)}
		if s.link == nil {
			s.none = b.reason("nothing in this run says it: %s", r.Text)
		}
		out.steps = append(out.steps, s)
	}
	return out
}

// row follows the steps; a reason other than 0 says where they end.
func (w *reach) row(r *Run) (int32, vocabulary.Reason) {
	row := r.rows[w.level]
	for i := range w.steps {
		s := &w.steps[i]
		if s.link == nil {
			return 0, s.none
		}
		from := s.link.Start[row]
		if from == s.link.Start[row+1] {
			if s.link.Absent != nil && s.link.Absent[row] != 0 {
				return 0, s.link.Absent[row]
			}
			return 0, s.none
		}
		row = s.link.Rows[from]
	}
	return row, 0
}

// cell is where a fact of a path is read: its index in the column, or the reason why there is none.
type cell struct {
	reach    reach
	direct   bool // of the row that is judged
	which    int  // of a direct cell: 0 for the row, 1 for its document row
	document []int32
	absent   []vocabulary.Reason
	missing  vocabulary.Reason // the fact has no column
}

func (b *Binder) cell(p *path) (*cell, *vocabulary.Column) {
	c := &cell{reach: b.reach(p), direct: p.level == 0 && len(p.steps) == 0}
	column := b.facts.Columns[p.fact.ID()]
	if column == nil {
		c.missing = b.facts.Missing(p.fact)
		return c, &vocabulary.Column{}
	}
	c.absent = column.Absent
	if column.Shared {
		if c.document = b.facts.Tables[p.fact.Subject].Document; c.document != nil {
			c.which = 1
		}
	}
	return c, column
}

// plain is whether the cell of every judged row holds a value, so that reading it needs no more than its index.
func (c *cell) plain() bool { return c.direct && c.missing == 0 && c.absent == nil }

func (c *cell) index(r *Run) (int32, vocabulary.Reason) {
	row, why := r.rows[0], vocabulary.Reason(0)
	if !c.direct {
		if row, why = c.reach.row(r); why != 0 {
			return 0, why
		}
	}
	if c.missing != 0 {
		return 0, c.missing
	}
	if c.document != nil {
		row = c.document[row]
	}
	if c.absent != nil && c.absent[row] != 0 {
		return 0, c.absent[row]
	}
	return row, 0
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

// figure is a look-up of a number in a table.
func (b *Binder) figure(n *node) func(*Run) float64 {
	place, t, column := b.place(n), n.table, n.column
	empty := b.reason("the table %s has no value there", t.Name)
	return func(r *Run) float64 {
		var c table.Cursor
		if !place(r, &c) {
			return 0
		}
		v, miss := t.Figure(&c, column)
		if miss != table.Hit {
			r.stop(empty, n)
		}
		return v
	}
}

// word is a look-up of a text in a table.
func (b *Binder) word(n *node) func(*Run) string {
	place, t, column := b.place(n), n.table, n.column
	empty := b.reason("the table %s has no value there", t.Name)
	return func(r *Run) string {
		var c table.Cursor
		if !place(r, &c) {
			return ""
		}
		s, miss := t.Word(&c, column)
		if miss != table.Hit {
			r.stop(empty, n)
		}
		return s
	}
}

// place puts a cursor at the keys of a look-up; false: the run was stopped.
func (b *Binder) place(n *node) func(*Run, *table.Cursor) bool {
	t := n.table
	numbers, texts := make([]func(*Run) float64, len(n.args)), make([]func(*Run) string, len(n.args))
	outside := make([][4]vocabulary.Reason, len(n.args))
	for i, key := range t.Keys {
		if key.IsText {
			texts[i] = b.text(n.args[i])
			outside[i][table.NotListed] = b.reason("%s is not listed in the table %s", key.Name, t.Name)
			continue
		}
		numbers[i] = b.number(n.args[i])
		least, most := t.Range(i)
		outside[i][table.NotListed] = b.reason("%s is not listed in the table %s", key.Name, t.Name)
		outside[i][table.TooLow] = b.reason("%s is below the table %s, which begins at %s", key.Name, t.Name, model.Format(least, key.Dimension, model.Metric))
		outside[i][table.TooHigh] = b.reason("%s is above the table %s, which ends at %s", key.Name, t.Name, model.Format(most, key.Dimension, model.Metric))
	}
	strict := b.strict
	// All keys are read before the first is looked up, as the arguments of any function are.
	return func(r *Run, c *table.Cursor) bool {
		missed := vocabulary.Reason(0)
		for i := range numbers {
			var miss table.Miss
			if texts[i] != nil {
				s := texts[i](r)
				if r.Absent != 0 {
					return false
				}
				miss = t.Text(c, i, s)
			} else {
				v := numbers[i](r)
				if r.Absent == 0 && !finite(v) {
					r.stop(strict, n)
				}
				if r.Absent != 0 {
					return false
				}
				miss = t.Number(c, i, v)
			}
			if miss != table.Hit && missed == 0 {
				missed = outside[i][miss]
			}
		}
		if missed != 0 {
			r.stop(missed, n)
		}
		return missed == 0
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
		args[i] = branch(b, n, i, b.truth(a))
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
