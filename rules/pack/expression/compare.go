package expression

import "example.com/scantling/rules/vocabulary"

// compare binds a comparison of two numbers. The commonest, a fact of the row that is judged against a constant, takes
// no further call; the others read both sides first.
func (b *Binder) compare(n *node) func(*Run) bool {
	if c, ok := n.args[1].constant(); ok && b.trace == nil {
		if f := b.compareFact(n, c.Number); f != nil {
			return f
		}
	}
	x, y, strict := b.number(n.args[0]), b.number(n.args[1]), b.strict
	holds := comparisons[n.name]
	return func(r *Run) bool {
		p := x(r)
		if r.Absent != 0 {
			return false
		}
		q := y(r)
		if r.Absent != 0 {
			return false
		}
		if !finite(p - q) {
			r.stop(strict, n)
			return false
		}
		return holds(p, q)
	}
}

var comparisons = map[string]func(p, q float64) bool{
	"<":  func(p, q float64) bool { return !atLeast(p, q) },
	"<=": func(p, q float64) bool { return atLeast(q, p) },
	">":  func(p, q float64) bool { return !atLeast(q, p) },
	">=": atLeast,
	"==": near,
	"!=": func(p, q float64) bool { return !near(p, q) },
}

// compareFact binds the comparison of a fact of the judged row with a constant, or nil where it is something else.
func (b *Binder) compareFact(n *node, limit float64) func(*Run) bool {
	if n.args[0].op != opFact {
		return nil
	}
	c, column := b.cell(n.args[0].path)
	if !c.direct || c.missing != 0 || !finite(limit) {
		return nil
	}
	fact, values, absent, strict := n.args[0], column.Numbers, column.Absent, b.strict
	shared := c.document != nil
	read := func(r *Run) (float64, bool) {
		i := r.rows[0]
		if shared {
			i = r.document
		}
		if absent != nil && absent[i] != vocabulary.Reason(0) {
			r.stop(absent[i], fact)
			return 0, false
		}
		if !finite(values[i] - limit) {
			r.stop(strict, n)
			return 0, false
		}
		return values[i], true
	}
	switch n.name {
	case "<":
		return func(r *Run) bool { v, ok := read(r); return ok && !atLeast(v, limit) }
	case "<=":
		return func(r *Run) bool { v, ok := read(r); return ok && atLeast(limit, v) }
	case ">":
		return func(r *Run) bool { v, ok := read(r); return ok && !atLeast(limit, v) }
	case ">=":
		return func(r *Run) bool { v, ok := read(r); return ok && atLeast(v, limit) }
	case "==":
		return func(r *Run) bool { v, ok := read(r); return ok && near(v, limit) }
	}
	return func(r *Run) bool { v, ok := read(r); return ok && !near(v, limit) }
}
