package plane

import (
	"math"
	"slices"
)

// Part is a diagram and the factor it counts with.
type Part struct {
	Diagram *Diagram
	Factor  float64
}

// Combine fills d with the sum of the parts, exactly: the breaks of all of them,
// and the polynomials added. A quantity that one part lacks is left out. The
// parts must be of one member (ErrMismatch) and d none of them.
func (d *Diagram) Combine(parts ...Part) error {
	d.segments, d.known, d.floor = d.segments[:0], [quantities]bool{}, [quantities]float64{}
	if err := oneMember(parts); err != nil {
		return err
	}
	breaks := merge(nil, parts)
	for q := range quantities {
		d.known[q] = true
		for _, p := range parts {
			d.known[q] = d.known[q] && p.Diagram.known[q]
			d.floor[q] += math.Abs(p.Factor) * p.Diagram.floor[q]
		}
	}
	for i := range len(breaks) - 1 {
		g := segment{from: breaks[i], to: breaks[i+1]}
		for _, p := range parts {
			for q := range quantities {
				moved := p.Diagram.over(q, g.from)
				g.of[q].add(&moved, p.Factor)
			}
		}
		d.segments = append(d.segments, g)
	}
	return d.check()
}

// Envelope is what is always there, the arrangements of which each may be
// there or not, and loads that may stand anywhere: at every place and for each
// sense, only the unfavourable ones count, and each load stands where it is
// worst. Factors are of either sign. The zero Envelope is ready for its lists;
// it keeps scratch, so one Envelope serves one goroutine.
type Envelope struct {
	Permanent []Part
	Variable  []Part
	Moving    []Moving // by the member that they stand on

	breaks    []float64
	polys     []poly
	cuts      []float64
	high, low search
	away      []Moving // on other members
	trial     search
}

// Peak is an extreme of an Envelope with what acts together there.
type Peak struct {
	Extreme
	Forces Forces // N, V and M at the place under the same arrangements
	On     []bool // which of Variable are there
}

// Range is the largest and the smallest value of q between two places under the
// arrangements that make it so; the places are split where an arrangement
// changes sign, so the extremes are exact. Of Deflection and Sway each load that
// moves adds its own worst, wherever that is: never less than all together.
// ErrMismatch where the parts are not of one member or there are none,
// ErrStiffness where one lacks q.
func (e *Envelope) Range(q Quantity, from, to float64) (largest, smallest Extreme, err error) {
	if err := e.check(q, from, to); err != nil {
		return largest, smallest, err
	}
	e.breaks = merge(merge(e.breaks[:0], e.Permanent), e.Variable)
	if e.moves() {
		for i := range e.Moving {
			if e.Moving[i].acts() {
				e.breaks = append(e.breaks, e.Moving[i].Influence.breaks...)
			}
		}
		slices.Sort(e.breaks)
		e.breaks = slices.Compact(e.breaks)
	}
	lo, hi := e.breaks[0], e.breaks[len(e.breaks)-1]
	from, to = max(lo, min(from, hi)), max(lo, min(to, hi))
	e.high.seen, e.low.seen = e.high.seen[:0], e.low.seen[:0]
	for i := range len(e.breaks) - 1 {
		lo, hi := max(e.breaks[i], from), min(e.breaks[i+1], to)
		if hi < lo || hi == lo && from < to {
			continue
		}
		e.stretch(q, lo, hi)
	}
	largest, smallest = e.high.largest(), e.low.smallest()
	if e.moves() && q > Moment {
		up, down, err := e.reach(func(in *Influence) (float64, float64, error) { return in.Bends(q, from, to) })
		if err != nil {
			return largest, smallest, err
		}
		largest.Value, smallest.Value = largest.Value+up, smallest.Value+down
	}
	return largest, smallest, nil
}

// At is the largest and the smallest value of q at one side of s.
func (e *Envelope) At(q Quantity, s float64, side Side) (largest, smallest Peak, err error) {
	if err := e.check(q, s, s); err != nil {
		return largest, smallest, err
	}
	at := Extreme{At: s, Side: side}
	largest, smallest = e.peak(q, at, 1), e.peak(q, at, -1)
	largest.Value, smallest.Value = e.sum(q, s, side, largest.On), e.sum(q, s, side, smallest.On)
	if !e.moves() {
		return largest, smallest, nil
	}
	up, down, err := e.reach(func(in *Influence) (float64, float64, error) {
		if q > Moment {
			return in.BendsAt(q, s, side)
		}
		return in.Worst(q, s, side, 1).Value, in.Worst(q, s, side, -1).Value, nil
	})
	largest.Value, smallest.Value = largest.Value+up, smallest.Value+down
	return largest, smallest, err
}

// Unfavourable is the largest and the smallest sum of what is always there and
// any of the variable values, of a reaction for one.
func Unfavourable(permanent float64, variable ...float64) (largest, smallest float64) {
	largest, smallest = permanent, permanent
	for _, v := range variable {
		largest += math.Max(0, v)
		smallest += math.Min(0, v)
	}
	return largest, smallest
}

func (e *Envelope) check(q Quantity, from, to float64) error {
	if math.IsNaN(from) || math.IsNaN(to) || from > to {
		return &Error{Kind: ErrMismatch, At: from, Text: "a stretch ends before it starts"}
	}
	if e.moves() && len(e.Permanent)+len(e.Variable) == 0 {
		return nil
	}
	if err := oneMember(e.Permanent, e.Variable); err != nil {
		return err
	}
	i := 0
	for _, parts := range [2][]Part{e.Permanent, e.Variable} {
		for _, p := range parts {
			if !p.Diagram.Known(q) {
				return &Error{Kind: ErrStiffness, Of: "diagram", Index: i, Text: "it does not hold this quantity"}
			}
			i++
		}
	}
	return nil
}

// stretch looks at a stretch in which every part is one polynomial.
func (e *Envelope) stretch(q Quantity, lo, hi float64) {
	h := hi - lo
	var always poly
	floor := 0.0
	for _, p := range e.Permanent {
		moved := p.Diagram.over(q, lo)
		always.add(&moved, p.Factor)
		floor += math.Abs(p.Factor) * p.Diagram.floor[q]
	}
	e.polys, e.cuts = e.polys[:0], append(e.cuts[:0], 0, h)
	for _, p := range e.Variable {
		moved := p.Diagram.over(q, lo)
		var v poly
		v.add(&moved, p.Factor)
		e.polys = append(e.polys, v)
		cross := v.crossings(h)
		e.cuts = append(e.cuts, cross.x[:cross.n]...)
		floor += math.Abs(p.Factor) * p.Diagram.floor[q]
	}
	slices.Sort(e.cuts)
	for i := range len(e.cuts) - 1 {
		a, b := e.cuts[i], e.cuts[i+1]
		if a == b && h > 0 {
			continue
		}
		most, least := always, always
		for j := range e.polys {
			if p := &e.polys[j]; p.at((a+b)/2) > 0 {
				most.add(p, 1)
			} else {
				least.add(p, 1)
			}
		}
		most, least = most.shifted(a), least.shifted(a)
		e.high.stretch(&most, lo+a, lo+b, floor)
		e.low.stretch(&least, lo+a, lo+b, floor)
		if e.moves() && q <= Moment && b > a {
			e.climbs(&most, &least, q, lo+a, lo+b)
		}
	}
}

// peak says what is on at an extreme of q, and what acts there with it.
func (e *Envelope) peak(q Quantity, x Extreme, sense float64) Peak {
	p := Peak{Extreme: x, On: make([]bool, len(e.Variable))}
	for i, v := range e.Variable {
		value, _ := v.Diagram.Value(q, x.At, x.Side)
		p.On[i] = sense*v.Factor*value > 0
	}
	p.Forces = Forces{
		N: e.sum(Axial, x.At, x.Side, p.On),
		V: e.sum(Shear, x.At, x.Side, p.On),
		M: e.sum(Moment, x.At, x.Side, p.On),
	}
	if e.moves() && q <= Moment {
		p.Forces.Add(e.Stood(q, sense, func(i int) Forces { return e.Moving[i].Influence.Worst(q, x.At, x.Side, sense).Forces }), 1)
	}
	return p
}

func (e *Envelope) sum(q Quantity, s float64, side Side, on []bool) float64 {
	total := 0.0
	for _, p := range e.Permanent {
		v, _ := p.Diagram.Value(q, s, side)
		total += p.Factor * v
	}
	for i, p := range e.Variable {
		if on[i] {
			v, _ := p.Diagram.Value(q, s, side)
			total += p.Factor * v
		}
	}
	return total
}

// over is the polynomial of q just after a place, x from that place.
func (d *Diagram) over(q Quantity, from float64) poly {
	g := &d.segments[d.find(from, After)]
	return g.of[q].shifted(from - g.from)
}

// merge appends the breaks of the parts, in order and each once.
func merge(breaks []float64, parts []Part) []float64 {
	for _, p := range parts {
		for i := range p.Diagram.segments {
			breaks = append(breaks, p.Diagram.segments[i].from)
		}
		breaks = append(breaks, p.Diagram.segments[len(p.Diagram.segments)-1].to)
	}
	slices.Sort(breaks)
	return slices.Compact(breaks)
}

// oneMember holds that there are parts, all of one member.
func oneMember(lists ...[]Part) error {
	end, i := math.NaN(), 0
	for _, parts := range lists {
		for _, p := range parts {
			switch {
			case !finite(p.Factor):
				return &Error{Kind: ErrNotFinite, Of: "diagram", Index: i, Text: "its factor"}
			case p.Diagram == nil || len(p.Diagram.segments) == 0:
				return &Error{Kind: ErrMismatch, Of: "diagram", Index: i, Text: "it is empty"}
			case i > 0 && p.Diagram.end() != end:
				return &Error{Kind: ErrMismatch, Of: "diagram", Index: i, Text: "its member has another length"}
			}
			end = p.Diagram.end()
			i++
		}
	}
	if i == 0 {
		return &Error{Kind: ErrMismatch, Text: "there is nothing to add"}
	}
	return nil
}

func (d *Diagram) end() float64 { return d.segments[len(d.segments)-1].to }
