package plane

import (
	"fmt"
	"math"
)

// Moving is what a point load that may stand anywhere does at its worst places.
type Moving struct {
	Moment, Shear MovingRange
	Reactions     []MovingRange // vertical, by support in the caller's order; At is the support
}

// MovingRange is the largest and the smallest value over all places of the load.
type MovingRange struct{ Max, Min MovingPeak }

// MovingPeak is an extreme and the place of the load that brings it. Where the
// value jumps as the load passes (a support), it is the limit.
type MovingPeak struct {
	Load float64 // place of the load, mm along the axis; of equals the smallest
	Extreme
}

// Move finds the worst places of a point load of u, z N that moves between two
// places. Between supports and kinks every effect of the load is a polynomial of
// its place, of degree four at most (M under the load; reactions, and M at a
// support, three), so that six places a stretch settle it exactly and its
// stationary points are solved. With the load standing, M and V are extreme at
// supports, kinks, ends or the load. Errors are those of Reactions.
func (m *Member) Move(u, z, from, to float64) (Moving, error) {
	lo, on := m.axis.onto(m.stations, from)
	hi, onToo := m.axis.onto(m.stations, to)
	if !on || !onToo || !(lo < hi) {
		return Moving{}, &Error{Kind: ErrBeyond, At: from, Text: fmt.Sprintf("the load moves from %g to %g mm of a member %g mm long", from, to, m.axis.Length())}
	}
	effects := effectsAt(m.stations, len(m.supports))
	c := course{u: u, z: z}
	for i := range len(m.stations) - 1 {
		if a, b := math.Max(m.stations[i], lo), math.Min(m.stations[i+1], hi); a < b {
			if err := c.pass(m, effects, a, b); err != nil {
				return Moving{}, err
			}
		}
	}
	result := Moving{Reactions: make([]MovingRange, len(m.supports))}
	var moments, shears []MovingPeak
	for _, e := range effects {
		switch e.quantity {
		case Moment:
			moments = append(moments, e.peaks...)
		case Shear:
			shears = append(shears, e.peaks...)
		default:
			for i := range e.peaks {
				e.peaks[i].At = m.supports[e.support].At
			}
			result.Reactions[e.support] = rangeOf(e.peaks)
		}
	}
	result.Moment, result.Shear = rangeOf(moments), rangeOf(shears)
	return result, nil
}

// effect is one effect of the load as it moves.
type effect struct {
	quantity Quantity // Moment or Shear; quantities for the reaction of a support
	support  int
	under    bool    // taken at the load itself
	at       float64 // where it is taken otherwise
	side     Side

	ordinates [6]float64
	peaks     []MovingPeak
}

func effectsAt(stations []float64, supports int) []effect {
	var e []effect
	for _, q := range [...]Quantity{Moment, Shear} {
		for _, side := range [...]Side{Before, After} {
			for _, at := range stations {
				e = append(e, effect{quantity: q, at: at, side: side})
			}
			e = append(e, effect{quantity: q, under: true, side: side})
		}
	}
	for i := range supports {
		e = append(e, effect{quantity: quantities, support: i})
	}
	return e
}

// course is the load on its way.
type course struct {
	u, z    float64
	load    [1]Load
	pushes  []Reaction
	diagram Diagram
}

// pass moves the load from lo to hi and adds the peaks of every effect.
func (c *course) pass(m *Member, effects []effect, lo, hi float64) error {
	h := hi - lo
	for i, t := range fitPlaces {
		at := lo + t*h
		c.load[0] = Force(at, c.u, c.z)
		var err error
		if c.pushes, err = m.Reactions(c.pushes[:0], c.load[:]); err != nil {
			return err
		}
		if err = m.Diagram(&c.diagram, c.load[:], c.pushes); err != nil {
			return err
		}
		for j := range effects {
			effects[j].ordinates[i] = effects[j].read(c, at)
		}
	}
	for j := range effects {
		e := &effects[j]
		p := fit(e.ordinates)
		turns := p.stationary(1)
		e.peak(&p, lo, h, 0)
		for _, t := range turns.x[:turns.n] {
			e.peak(&p, lo, h, t)
		}
		e.peak(&p, lo, h, 1)
	}
	return nil
}

func (e *effect) read(c *course, load float64) float64 {
	if e.quantity == quantities {
		return c.pushes[e.support].Z
	}
	at := e.at
	if e.under {
		at = load
	}
	v, _ := c.diagram.Value(e.quantity, at, e.side)
	return v
}

func (e *effect) peak(p *poly, lo, h, t float64) {
	load := lo + t*h
	at := e.at
	if e.under {
		at = load
	}
	e.peaks = append(e.peaks, MovingPeak{Load: load, Extreme: Extreme{Value: p.at(t), At: at, Side: e.side}})
}

func rangeOf(peaks []MovingPeak) MovingRange {
	high, low := math.Inf(-1), math.Inf(1)
	for _, p := range peaks {
		high, low = math.Max(high, p.Value), math.Min(low, p.Value)
	}
	// A value that ought to be nought carries the rounding of the fit.
	small := negligible * math.Max(math.Abs(high), math.Abs(low))
	return MovingRange{
		Max: firstOf(peaks, func(v float64) bool { return v >= high-equal*math.Abs(high)-small }),
		Min: firstOf(peaks, func(v float64) bool { return v <= low+equal*math.Abs(low)+small }),
	}
}

// firstOf is the smallest place of the load, then of the effect, of those that will do.
func firstOf(peaks []MovingPeak, will func(v float64) bool) MovingPeak {
	var best MovingPeak
	found := false
	for _, p := range peaks {
		if will(p.Value) && (!found || p.Load < best.Load || p.Load == best.Load && p.At < best.At) {
			best, found = p, true
		}
	}
	return best
}

// fitPlaces spread over a stretch as Chebyshev's nodes, none at an end.
var fitPlaces = func() (t [6]float64) {
	for i := range t {
		t[i] = (1 - math.Cos(math.Pi*(2*float64(i)+1)/float64(2*len(t)))) / 2
	}
	return t
}()

// fit is the one polynomial of degree five through the ordinates at fitPlaces,
// over [0, 1], by Newton's divided differences.
func fit(v [6]float64) (p poly) {
	for k := 1; k < len(v); k++ {
		for i := len(v) - 1; i >= k; i-- {
			v[i] = (v[i] - v[i-1]) / (fitPlaces[i] - fitPlaces[i-k])
		}
	}
	for i := len(v) - 1; i >= 0; i-- {
		for j := len(p) - 1; j > 0; j-- {
			p[j] = p[j-1] - fitPlaces[i]*p[j]
		}
		p[0] = v[i] - fitPlaces[i]*p[0]
	}
	return p
}
