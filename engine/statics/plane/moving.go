package plane

import "math"

// Moving is a weight that may stand anywhere on one member, each part of it where it is worst or nowhere.
type Moving struct {
	Influence *Influence
	Weight    float64 // N, there at once with what moves elsewhere
	Lone      float64 // N, of what stands on one member at a time: where it is on another, it is not here
}

// acts says whether there is any weight.
func (m *Moving) acts() bool { return m.Weight != 0 || m.Lone != 0 }

// moves says whether a load that may stand anywhere is part of the sum.
func (e *Envelope) moves() bool {
	for i := range e.Moving {
		if e.Moving[i].acts() {
			return true
		}
	}
	return false
}

// reach is how far all that moves takes a quantity up and down, from how far 1 N does.
func (e *Envelope) reach(of func(*Influence) (up, down float64, err error)) (up, down float64, err error) {
	var most, least float64 // of what stands on one member at a time
	for i := range e.Moving {
		m := &e.Moving[i]
		if !m.acts() {
			continue
		}
		a, b, err := of(m.Influence)
		if err != nil {
			return 0, 0, err
		}
		up, down = up+m.Weight*a, down+m.Weight*b
		most, least = math.Max(most, m.Lone*a), math.Min(least, m.Lone*b)
	}
	return up + most, down + least, nil
}

// Stood is what all that moves brings to a section where it is worst for Axial, Shear or Moment, largest (sense 1) or
// smallest (sense -1), from what 1 N of each of Moving brings there.
func (e *Envelope) Stood(q Quantity, sense float64, of func(moving int) Forces) (sum Forces) {
	var lone Forces
	for i := range e.Moving {
		m := &e.Moving[i]
		if !m.acts() {
			continue
		}
		f := of(i)
		sum.Add(f, m.Weight)
		if sense*m.Lone*f.of(q) > sense*lone.of(q) {
			lone = Forces{}
			lone.Add(f, m.Lone)
		}
	}
	sum.Add(lone, 1)
	return sum
}

// Add adds forces by a factor.
func (f *Forces) Add(g Forces, factor float64) {
	f.N, f.V, f.M = f.N+factor*g.N, f.V+factor*g.V, f.M+factor*g.M
}

// of is the force of that kind.
func (f *Forces) of(q Quantity) float64 {
	switch q {
	case Axial:
		return f.N
	case Shear:
		return f.V
	}
	return f.M
}

// climbs looks for the extremes of two sums with what moves over a stretch without a support or kink inside, the lone weight
// on each member in turn.
func (e *Envelope) climbs(most, least *poly, q Quantity, lo, hi float64) {
	alone := false
	for i := range e.Moving {
		if e.Moving[i].Lone != 0 {
			alone = true
			e.climb(&e.high, most, q, lo, hi, 1, i)
			e.climb(&e.low, least, q, lo, hi, -1, i)
		}
	}
	if !alone {
		e.climb(&e.high, most, q, lo, hi, 1, -1)
		e.climb(&e.low, least, q, lo, hi, -1, -1)
	}
}

// climb looks for the largest (sense 1) or smallest value of base, x from lo, with what moves, from lo to hi, the lone weight
// being that of one of Moving. Loads on other members stand where they are worst for a section, then the section goes where
// it is worst under them as they stand, in turns until neither moves.
func (e *Envelope) climb(found *search, base *poly, q Quantity, lo, hi, sense float64, lone int) {
	e.away = e.away[:0]
	var here Moving
	for i := range e.Moving {
		m := Moving{Influence: e.Moving[i].Influence, Weight: e.Moving[i].Weight}
		if i == lone {
			m.Weight += e.Moving[i].Lone
		}
		switch {
		case m.Weight == 0:
		case m.Influence.away:
			e.away = append(e.away, m)
		default:
			here = m
		}
	}
	if len(e.away) == 0 {
		here.Influence.climb(found, base, q, lo, hi, here.Weight, sense)
		return
	}
	h := hi - lo
	starts := base.stationary(h)
	starts.around(h, func(x float64) {
		at := Extreme{Value: math.Inf(-1), At: lo + x}
		if x == h {
			at.Side = Before
		}
		for range mostTurns {
			sum := *base
			for i := range e.away {
				e.away[i].over(&sum, q, at, lo, sense)
			}
			e.trial.seen = e.trial.seen[:0]
			e.trial.stretch(&sum, lo, hi, 0)
			if here.Weight != 0 {
				here.Influence.climb(&e.trial, &sum, q, lo, hi, here.Weight, sense)
			}
			top := e.trial.largest()
			if sense < 0 {
				top = e.trial.smallest()
			}
			found.value(top.Value, top.At, top.Side, 0)
			gain := sense*top.Value - at.Value
			at = Extreme{Value: sense * top.Value, At: top.At, Side: top.Side}
			if gain <= rounding*math.Abs(top.Value) {
				break
			}
		}
	})
}

// over adds what a load on another member brings to a stretch, x from lo, where it is worst for a place in it.
func (m *Moving) over(sum *poly, q Quantity, at Extreme, lo, sense float64) {
	stands := m.Influence.Worst(q, at.At, at.Side, sense)
	if q != Moment {
		sum[0] += m.Weight * stands.Value
		return
	}
	sum[0] += m.Weight * (stands.Forces.M - stands.Forces.V*(at.At-lo))
	sum[1] += m.Weight * stands.Forces.V
}
