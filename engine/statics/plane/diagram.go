package plane

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"sync"
)

// Quantity is what a Diagram shows along the axis.
type Quantity uint8

// The quantities. Sway is the movement along +u, the sideways movement of a
// roller among others; it and Deflection are known after Member.Deflect.
const (
	Axial      Quantity = iota // N, tension positive
	Shear                      // N
	Moment                     // N mm, sagging positive
	Deflection                 // mm, down positive
	Sway                       // mm along +u
	quantities
)

// Side of a place where a quantity jumps.
type Side int8

// The sides: just after the place, or just before it. At an end both mean inside.
const (
	After  Side = 0
	Before Side = -1
)

// Forces are the internal forces at one place.
type Forces struct {
	N, V float64 // N
	M    float64 // N mm
}

// Extreme is an extreme value and where it is.
type Extreme struct {
	Value float64 // in the quantity's unit
	At    float64 // mm along the axis; of equals within 1e-6 the smallest place
	Side  Side    // the side of At where the value is taken
}

// Range holds the largest and the smallest value.
type Range struct{ Max, Min Extreme }

// Diagram is the course of each quantity along the axis, exact: one polynomial a
// stretch, split at kinks, supports, the ends of loads and points. The zero
// Diagram is ready to be filled, and filling it again reuses its memory.
type Diagram struct {
	segments []segment
	known    [quantities]bool
	floor    [quantities]float64 // values up to here are rounding
}

type segment struct {
	from, to float64
	of       [quantities]poly
}

// snap is the part of what acts below which a value is rounding.
const snap = 1e-11

// equal is the relative difference below which two extremes count as equals.
const equal = 1e-6

// Known tells that the diagram holds the quantity.
func (d *Diagram) Known(q Quantity) bool { return q < quantities && d.known[q] }

// At are the internal forces at s, clamped to the ends.
func (d *Diagram) At(s float64, side Side) Forces {
	n, _ := d.Value(Axial, s, side)
	v, _ := d.Value(Shear, s, side)
	m, _ := d.Value(Moment, s, side)
	return Forces{N: n, V: v, M: m}
}

// Value of one quantity at s, clamped to the ends; false when it is not known or s
// is no number.
func (d *Diagram) Value(q Quantity, s float64, side Side) (float64, bool) {
	if !d.Known(q) || math.IsNaN(s) {
		return 0, false
	}
	g := &d.segments[d.find(s, side)]
	x := math.Max(0, math.Min(s-g.from, g.to-g.from))
	return d.tidy(q, g.of[q].at(x)), true
}

// Breaks are the places where the polynomials change, both ends included.
func (d *Diagram) Breaks() []float64 {
	var b []float64
	for i := range d.segments {
		b = append(b, d.segments[i].from)
	}
	if n := len(d.segments); n > 0 {
		b = append(b, d.segments[n-1].to)
	}
	return b
}

// Range along the whole axis; false when the quantity is not known.
func (d *Diagram) Range(q Quantity) (Range, bool) {
	if !d.Known(q) {
		return Range{}, false
	}
	return d.Within(q, d.segments[0].from, d.segments[len(d.segments)-1].to)
}

// Within is Range between two places, the values just outside them left out.
// Stationary points are solved, and both sides of every jump are looked at.
func (d *Diagram) Within(q Quantity, from, to float64) (Range, bool) {
	if !d.Known(q) || math.IsNaN(from) || math.IsNaN(to) {
		return Range{}, false
	}
	s := searches.Get().(*search)
	defer searches.Put(s)
	s.seen = s.seen[:0]
	for i := d.find(from, After); i < len(d.segments); i++ {
		g := &d.segments[i]
		if g.from >= to && g.from > from {
			break
		}
		lo, hi := math.Max(g.from, from), math.Min(g.to, to)
		p := g.of[q].shifted(lo - g.from)
		s.stretch(&p, lo, math.Max(lo, hi), d.floor[q])
	}
	return Range{s.largest(), s.smallest()}, true
}

// find is the segment that holds s on that side.
func (d *Diagram) find(s float64, side Side) int {
	n := sort.Search(len(d.segments), func(i int) bool {
		to := d.segments[i].to
		return to > s || side != After && to == s
	})
	return min(n, len(d.segments)-1)
}

func (d *Diagram) tidy(q Quantity, v float64) float64 {
	if math.Abs(v) <= d.floor[q] {
		return 0
	}
	return v
}

func (d *Diagram) check() error {
	for i := range d.segments {
		g := &d.segments[i]
		for q := range g.of {
			if !finite(g.of[q].bound(g.to - g.from)) {
				return &Error{Kind: ErrNotFinite, At: g.from, Text: "loads and lengths are too large to be added up"}
			}
		}
	}
	return nil
}

// pointAction is a force or a turn at one place.
type pointAction struct{ at, u, z, moment float64 }

// draw fills d with N, V and M, sweeping what acts before each place along the axis.
func (m *Member) draw(d *Diagram, loads []Load, reactions []Reaction) {
	l := m.axis.Length()
	m.breaks = append(m.breaks[:0], m.axis.at...)
	m.points = m.points[:0]
	size, turning := 0.0, 0.0
	for i, r := range reactions {
		at := m.supports[i].At
		m.breaks = append(m.breaks, at)
		m.points = append(m.points, pointAction{at, r.U, r.Z, r.Moment})
		size += math.Abs(r.U) + math.Abs(r.Z)
		turning += math.Abs(r.Moment)
	}
	spread := 0
	for i, p := range loads {
		m.breaks = append(m.breaks, p.From, p.To)
		if p.From == p.To {
			m.points = append(m.points, pointAction{p.From, p.U0, p.Z0, p.Moment})
			size += math.Abs(p.U0) + math.Abs(p.Z0)
			turning += math.Abs(p.Moment)
			continue
		}
		size += (math.Abs(p.U0) + math.Abs(p.U1) + math.Abs(p.Z0) + math.Abs(p.Z1)) / 2 * (p.To - p.From)
		loads[spread], loads[i] = loads[i], loads[spread]
		spread++
	}
	slices.Sort(m.breaks)
	m.breaks = slices.Compact(m.breaks)
	slices.SortFunc(m.points, func(a, b pointAction) int { return cmp.Compare(a.at, b.at) })

	d.segments = d.segments[:0]
	d.known = [quantities]bool{Axial: true, Shear: true, Moment: true}
	force := snap * (size + turning/l)
	d.floor = [quantities]float64{Axial: force, Shear: force, Moment: force * l}

	var u, z, moment float64 // what acts before the place, the moment about the place
	next := 0
	for i, from := range m.breaks[:len(m.breaks)-1] {
		to := m.breaks[i+1]
		for ; next < len(m.points) && m.points[next].at <= from; next++ {
			p := &m.points[next]
			u, z, moment = u+p.u, z+p.z, moment+p.moment
		}
		var u0, z0, u1, z1 float64
		for j := range loads[:spread] {
			if p := &loads[j]; p.From <= from && p.To >= to {
				au, az := p.intensity(from)
				bu, bz := p.intensity(to)
				u0, z0, u1, z1 = u0+au, z0+az, u1+bu, z1+bz
			}
		}
		h := to - from
		c, s := m.axis.Direction(from)
		across, alongside := z0*c-u0*s, u0*c+z0*s
		across1, alongside1 := ((z1-z0)*c-(u1-u0)*s)/h, ((u1-u0)*c+(z1-z0)*s)/h
		g := segment{from: from, to: to}
		g.of[Axial] = poly{-(u*c + z*s), -alongside, -alongside1 / 2}
		g.of[Shear] = poly{z*c - u*s, across, across1 / 2}
		g.of[Moment] = poly{moment, g.of[Shear][0], across / 2, across1 / 6}
		d.segments = append(d.segments, g)
		u, z, moment = u+(u0+u1)/2*h, z+(z0+z1)/2*h, g.of[Moment].at(h)
	}
}

// search looks for the largest and the smallest value among the few where one can be: the ends of stretches and the
// places where they turn, in order along the axis.
type search struct{ seen []Extreme }

// searches are those of Diagrams, which have no scratch of their own: any goroutine may read them.
var searches = sync.Pool{New: func() any { return new(search) }}

// stretch looks at p from lo to hi, x from lo.
func (s *search) stretch(p *poly, lo, hi, floor float64) {
	s.value(p[0], lo, After, floor)
	h := hi - lo
	if turns := p.stationary(h); turns.n > 0 {
		for _, x := range turns.x[:turns.n] {
			s.value(p.at(x), lo+x, After, floor)
		}
	}
	s.value(p.at(h), hi, Before, floor)
}

func (s *search) value(v, at float64, side Side, floor float64) {
	if math.Abs(v) <= floor {
		v = 0
	}
	s.seen = append(s.seen, Extreme{v, at, side})
}

// largest is the largest value, at the first place among its equals.
func (s *search) largest() Extreme {
	top := math.Inf(-1)
	for i := range s.seen {
		top = max(top, s.seen[i].Value)
	}
	for _, x := range s.seen {
		if x.Value >= top-equal*math.Abs(top) {
			return Extreme{top, x.At, x.Side}
		}
	}
	return Extreme{Value: top}
}

// smallest is the smallest value, at the first place among its equals.
func (s *search) smallest() Extreme {
	low := math.Inf(1)
	for i := range s.seen {
		low = min(low, s.seen[i].Value)
	}
	for _, x := range s.seen {
		if x.Value <= low+equal*math.Abs(low) {
			return Extreme{low, x.At, x.Side}
		}
	}
	return Extreme{Value: low}
}
