package expression

import "math"

// Comparisons as the set of orders that they accept.
const (
	less = 1 << iota
	equal
	more
)

var accepted = map[string]int{"<": less, "<=": less | equal, ">": more, ">=": more | equal, "==": equal, "!=": less | more}

// order is how p stands to q, within the tolerance.
func order(p, q float64) int {
	switch {
	case near(p, q):
		return equal
	case p < q:
		return less
	}
	return more
}

// compare binds a comparison of two numbers. Both sides are read before they are compared.
func (b *Binder) compare(n *node) func(*Run) bool {
	if c, ok := n.args[1].constant(); ok && finite(c.Number) {
		return b.within(n, c.Number)
	}
	x, y, strict, accept := b.number(n.args[0]), b.number(n.args[1]), b.strict, accepted[n.name]
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
		return order(p, q)&accept != 0
	}
}

// within binds a comparison with a constant: whether a number lies in an interval, or outside it. The interval's ends
// are worked out once, the tolerance with them, so that every comparison is two tests.
func (b *Binder) within(n *node, limit float64) func(*Run) bool {
	least, most := math.Inf(-1), math.Inf(1)
	accept := accepted[n.name]
	inverse := accept == less|more
	if inverse {
		accept = equal
	}
	switch accept {
	case less:
		most = math.Nextafter(lowest(limit), math.Inf(-1))
	case less | equal:
		most = -lowest(-limit)
	case more:
		least = math.Nextafter(-lowest(-limit), math.Inf(1))
	case more | equal:
		least = lowest(limit)
	case equal:
		least, most = lowest(limit), -lowest(-limit)
	}
	strict := b.strict
	if n.args[0].op == opFact && b.trace == nil {
		if c, column := b.cell(n.args[0].path); c.plain() {
			values, which := column.Numbers, c.which
			return func(r *Run) bool {
				v := values[r.judged[which]]
				if v-v != 0 {
					r.stop(strict, n)
					return false
				}
				return (v >= least && v <= most) != inverse
			}
		}
	}
	x := b.number(n.args[0])
	return func(r *Run) bool {
		v := x(r)
		if r.Absent != 0 {
			return false
		}
		if v-v != 0 {
			r.stop(strict, n)
			return false
		}
		return (v >= least && v <= most) != inverse
	}
}

// lowest is the smallest number that is the limit within the tolerance.
func lowest(limit float64) float64 {
	low := limit - tolerance*math.Abs(limit)
	for near(math.Nextafter(low, math.Inf(-1)), limit) {
		low = math.Nextafter(low, math.Inf(-1))
	}
	for !near(low, limit) {
		low = math.Nextafter(low, math.Inf(1))
	}
	return low
}
