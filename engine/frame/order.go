package frame

import (
	"math"
	"slices"
)

// sort orders the pieces so that each comes before all that it rests on, and gathers the members that rest on
// themselves. What lies under a circle is still ordered: the circle alone is left out. What stands on the ground waits
// for what lands on it and rests on nothing, whatever it says.
func (f *Frame) sort() {
	o := order{frame: f, waiting: make([]int32, len(f.Pieces)), out: make([]int32, 0, len(f.Pieces))}
	for i := range f.Pieces {
		for _, k := range f.LandingsOn(int32(i)) {
			if !f.Member(f.Supports[k].Piece).Ground {
				o.waiting[i]++
			}
		}
	}
	for i := range f.Pieces {
		if o.waiting[i] == 0 {
			o.out = append(o.out, int32(i))
		}
	}
	o.run()
	if len(o.out) < len(f.Pieces) {
		o.leaveOut(f.findCircles(o.waiting))
		o.run()
	}
	f.Order = o.out
}

// never is a count of what a piece still waits for that does not run out: pieces of a circle are not ordered.
const never = math.MaxInt32

// order is the work of sort: what each piece still waits for, and the order so far.
type order struct {
	frame   *Frame
	waiting []int32 // supports of others that land on the piece and are not done
	out     []int32
	next    int
}

// run takes up what is due, until nothing is.
func (o *order) run() {
	for ; o.next < len(o.out); o.next++ {
		piece := o.out[o.next]
		c := o.frame.CoupleOf(piece)
		switch {
		case c == nil || o.waiting[c.Other(piece)] == never:
			o.release(piece)
		case !c.ordered: // a couple is solved as one: nothing below either rafter is due before both are
			c.ordered = true
		default:
			o.release(c.Rafters[0])
			o.release(c.Rafters[1])
		}
	}
}

// leaveOut takes the pieces of circles out of the order, and lets what they rest on wait for them no longer. A rafter that
// was only waiting for its partner waits no longer either.
func (o *order) leaveOut(circle []int32) {
	for _, piece := range circle {
		o.waiting[piece] = never
	}
	o.out = slices.DeleteFunc(o.out, func(piece int32) bool { return o.waiting[piece] == never })
	o.next = len(o.out)
	for _, piece := range circle {
		o.release(piece)
		if c := o.frame.CoupleOf(piece); c != nil && o.waiting[c.Other(piece)] == 0 {
			o.release(c.Other(piece))
		}
	}
}

// release lets what a piece rests on wait for one thing less, and queues what is due.
func (o *order) release(piece int32) {
	if o.frame.Member(piece).Ground {
		return
	}
	supports, _ := o.frame.SupportsOf(piece)
	for k := range supports {
		if s := &supports[k]; s.carries() {
			o.waiting[s.On]--
			if o.waiting[s.On] == 0 {
				o.out = append(o.out, s.On)
			}
		}
	}
}

// findCircles names the circles among the pieces that could not be ordered. Pieces that merely rest on a circle or
// carry one are not part of it: only the strongly connected components are (Tarjan's algorithm, without recursion). The
// rafters of a couple lean on each other, so that a way goes from either to the other. It returns the pieces of all circles.
func (f *Frame) findCircles(waiting []int32) (inCircle []int32) {
	const unseen = -1
	n := len(f.Pieces)
	order, low := make([]int32, n), make([]int32, n)
	onStack := make([]bool, n)
	for i := range order {
		order[i] = unseen
	}
	var stack []int32
	var clock int32
	type frame struct{ piece, next int32 }
	for start := range f.Pieces {
		if waiting[start] == 0 || order[start] != unseen {
			continue
		}
		calls := []frame{{piece: int32(start)}}
		for len(calls) > 0 {
			c := &calls[len(calls)-1]
			v := c.piece
			if c.next == 0 {
				order[v], low[v] = clock, clock
				clock++
				stack = append(stack, v)
				onStack[v] = true
			}
			supports, _ := f.SupportsOf(v)
			descended := false
			for int(c.next) < len(supports) {
				s := &supports[c.next]
				c.next++
				if s.On < 0 || f.Member(v).Ground {
					continue
				}
				if w := s.On; order[w] == unseen {
					calls = append(calls, frame{piece: w})
					descended = true
					break
				} else if onStack[w] {
					low[v] = min(low[v], order[w])
				}
			}
			if descended {
				continue
			}
			if low[v] == order[v] {
				inCircle = append(inCircle, f.popCircle(&stack, onStack, v)...)
			}
			calls = calls[:len(calls)-1]
			if len(calls) > 0 {
				parent := calls[len(calls)-1].piece
				low[parent] = min(low[parent], low[v])
			}
		}
	}
	return inCircle
}

// popCircle takes a component off the stack and records its members. Pieces that rest on none of it and bear none of it
// are no part of the circle: a rafter that merely leans on one that is.
func (f *Frame) popCircle(stack *[]int32, onStack []bool, root int32) []int32 {
	from := len(*stack) - 1
	for (*stack)[from] != root {
		from--
	}
	pieces := slices.Clone((*stack)[from:])
	*stack = (*stack)[:from]
	if len(pieces) == 1 { // most are: no piece rests on itself
		onStack[root] = false
		return nil
	}
	within, bound := map[int32]bool{}, map[int32]bool{}
	for _, v := range pieces {
		onStack[v] = false
		within[v] = true
	}
	for _, v := range pieces {
		supports, _ := f.SupportsOf(v)
		for k := range supports {
			if s := &supports[k]; s.carries() && within[s.On] {
				bound[v], bound[s.On] = true, true
			}
		}
	}
	pieces = slices.DeleteFunc(pieces, func(v int32) bool { return !bound[v] })
	if len(pieces) == 0 { // a couple
		return nil
	}
	// The stack holds the way down: each member rests on the next, or leans on it.
	var members []int32
	for _, v := range pieces {
		if m := f.Pieces[v].Member; len(members) == 0 || members[len(members)-1] != m {
			members = append(members, m)
		}
	}
	f.Circles = append(f.Circles, members)
	return pieces
}
