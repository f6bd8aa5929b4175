package expression

import "example.com/scantling/rules/vocabulary"

// rows binds a collection. What it returns is read before the next evaluation; filters keep theirs in the run's scratch.
func (b *Binder) rows(n *node) func(*Run) []int32 {
	if n.op == opFilter {
		return b.filter(n)
	}
	way, link := b.reach(n.path), b.facts.Links[n.path.many.ID()]
	return func(r *Run) []int32 {
		row, why := way.row(r)
		if why != 0 {
			r.stop(why, n)
			return nil
		}
		if link == nil {
			return nil
		}
		return link.Reached(row)
	}
}

// filter keeps rows in the run's scratch. All are asked before the first is used, as in expr.
func (b *Binder) filter(n *node) func(*Run) []int32 {
	rows, keep, level, step := b.rows(n.args[0]), branch(b, n, 1, b.truth(n.args[1])), n.level, b.step(n)
	return func(r *Run) []int32 {
		list := rows(r)
		from := len(r.scratch)
		for _, row := range list {
			if !step(r) {
				return nil
			}
			r.rows[level] = row
			if keep(r) {
				r.scratch = append(r.scratch, row)
			}
			if r.Absent != 0 {
				return nil
			}
		}
		return r.scratch[from:]
	}
}

// step counts one element against the run's budget, weighed by the size of what is asked of it.
func (b *Binder) step(n *node) func(*Run) bool {
	weight, spent := 1, b.spent
	for _, a := range n.args[1:] {
		a.walk(func(*node) { weight++ })
	}
	return func(r *Run) bool {
		if r.steps -= weight; r.steps < 0 {
			r.stop(spent, n)
			r.Spent = true
			return false
		}
		return true
	}
}

// quantify binds all, any, none and one.
func (b *Binder) quantify(n *node) func(*Run) bool {
	rows, holds, level, step := b.rows(n.args[0]), branch(b, n, 1, b.truth(n.args[1])), n.level, b.step(n)
	// most is how many elements may hold before the answer is sure; of all it is those that do not hold.
	decide := func(list []int32, r *Run) int {
		count := 0
		for _, row := range list {
			if !step(r) {
				return 0
			}
			r.rows[level] = row
			held := holds(r)
			if r.Absent != 0 {
				return 0
			}
			if held != (n.op == opAll) {
				count++
				if n.op != opOne {
					return count
				}
			}
		}
		return count
	}
	return func(r *Run) bool {
		from := len(r.scratch)
		list := rows(r)
		count := decide(list, r)
		r.scratch = r.scratch[:from]
		if r.Absent != 0 {
			return false
		}
		switch n.op {
		case opAny, opOne:
			return count == 1
		}
		return count == 0
	}
}

// count binds count(c, cond) and len(c).
func (b *Binder) count(n *node) func(*Run) float64 {
	rows := b.rows(n.args[0])
	if len(n.args) == 1 {
		return func(r *Run) float64 {
			from := len(r.scratch)
			v := float64(len(rows(r)))
			r.scratch = r.scratch[:from]
			return v
		}
	}
	holds, level, step := branch(b, n, 1, b.truth(n.args[1])), n.level, b.step(n)
	return func(r *Run) float64 {
		from, count := len(r.scratch), 0
		for _, row := range rows(r) {
			if !step(r) {
				return 0
			}
			r.rows[level] = row
			if holds(r) {
				count++
			}
			if r.Absent != 0 {
				return 0
			}
		}
		r.scratch = r.scratch[:from]
		return float64(count)
	}
}

// reduce binds min, max and sum of a mapped collection.
func (b *Binder) reduce(n *node) func(*Run) float64 {
	mapped := n.args[0]
	rows, value, level, step := b.rows(mapped.args[0]), branch(b, mapped, 1, b.number(mapped.args[1])), mapped.level, b.step(mapped)
	none, strict := b.reason("the collection is empty: it has no least and no most"), b.strict
	return func(r *Run) float64 {
		from := len(r.scratch)
		list := rows(r)
		total := 0.0
		for i, row := range list {
			if !step(r) {
				return 0
			}
			r.rows[level] = row
			v := value(r)
			if r.Absent != 0 {
				return 0
			}
			switch {
			case n.op == opSum:
				total += v
			case i == 0, n.op == opLeastOf && v < total, n.op == opMostOf && v > total:
				total = v
			}
			if !finite(v) || !finite(total) {
				r.stop(strict, n)
				return 0
			}
		}
		r.scratch = r.scratch[:from]
		if len(list) == 0 && n.op != opSum && r.Absent == 0 {
			r.stop(none, n)
		}
		return total
	}
}

// branch records, with a trace, that an operand was reached.
func branch[T any](b *Binder, n *node, operand int, f func(*Run) T) func(*Run) T {
	if b.trace == nil {
		return f
	}
	trace := b.trace
	return func(r *Run) T {
		trace.reached[place{n.src, n.args[operand].at}] = true
		return f(r)
	}
}

// traced records, with a trace, that a fact was touched.
func traced[T any](b *Binder, n *node, c *cell, f func(*Run) T) func(*Run) T {
	if b.trace == nil {
		return f
	}
	return func(r *Run) T {
		b.trace.touch(b.facts, n.path, r, c)
		return f(r)
	}
}

// place is a part of an expression: definitions that are read twice are the same part.
type place struct {
	src *Source
	at  int
}

// Trace records what evaluations touch and reach.
type Trace struct {
	Touched []Touch // in order, each fact of each row once

	seen    map[touchKey]bool
	reached map[place]bool
}

type touchKey struct {
	fact int
	row  int32
	path string // where there is no row
}

// Touch is a fact that was read, or asked for, of a row of its subject.
type Touch struct {
	Fact    *vocabulary.Fact
	Row     int32
	Path    string            // as the rule reaches it: bearing, on.material, .bearing
	Missing vocabulary.Reason // why there is no row, where the way to it ends
}

// NewTrace is an empty trace.
func NewTrace() *Trace { return &Trace{seen: map[touchKey]bool{}, reached: map[place]bool{}} }

// Forget drops what was touched, not what was reached.
func (t *Trace) Forget() {
	t.Touched = nil
	clear(t.seen)
}

func (t *Trace) touch(f *vocabulary.Facts, p *path, r *Run, c *cell) {
	row, why := c.reach.row(r)
	if why != 0 {
		row = -1
	}
	key := touchKey{fact: p.fact.ID(), row: row}
	if row < 0 {
		key.path = p.text
	}
	if t.seen[key] {
		return
	}
	t.seen[key] = true
	t.Touched = append(t.Touched, Touch{Fact: p.fact, Row: row, Path: p.text, Missing: why})
}

// Reach records that an expression was evaluated.
func (t *Trace) Reach(x *Expression) { t.reached[place{x.Source, -1}] = true }

// Reached is whether an expression was recorded as evaluated.
func (t *Trace) Reached(x *Expression) bool { return t.reached[place{x.Source, -1}] }

// Branch is a part of an expression that is evaluated only where something before it asks for it.
type Branch struct {
	Source *Source
	At     int // characters before it
	Text   string
}

// Unreached lists the branches of an expression that no traced evaluation has reached.
func (t *Trace) Unreached(x *Expression) []Branch {
	var out []Branch
	seen := map[place]bool{}
	x.root.walk(func(n *node) {
		first := len(n.args)
		switch n.op {
		case opAnd, opOr, opIf, opAll, opAny, opNone, opOne, opFilter, opMap, opCount:
			first = 1
		}
		for i := first; i < len(n.args); i++ {
			p := place{n.src, n.args[i].at}
			if !t.reached[p] && !seen[p] {
				seen[p] = true
				out = append(out, Branch{Source: n.src, At: p.at, Text: n.name})
			}
		}
	})
	return out
}
