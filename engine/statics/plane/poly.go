package plane

import "math"

// poly is c[0] + c[1] x + ... + c[5] x^5 over a stretch of the axis, x in mm from its start.
type poly [6]float64

func (p *poly) at(x float64) float64 {
	return p[0] + x*(p[1]+x*(p[2]+x*(p[3]+x*(p[4]+x*p[5]))))
}

func (p *poly) add(q *poly, factor float64) {
	for i := range p {
		p[i] += factor * q[i]
	}
}

// shifted is q with q(x) = p(x + by), by repeated synthetic division.
func (p *poly) shifted(by float64) poly {
	q := *p
	if by == 0 {
		return q
	}
	for i := range q {
		for j := len(q) - 2; j >= i; j-- {
			q[j] += by * q[j+1]
		}
	}
	return q
}

// stretched is q with q(t) = p(h t).
func (p *poly) stretched(h float64) poly {
	q, power := *p, 1.0
	for i := range q {
		q[i] *= power
		power *= h
	}
	return q
}

func (p *poly) derivative() poly {
	var d poly
	for i := 1; i < len(p); i++ {
		d[i-1] = float64(i) * p[i]
	}
	return d
}

// bound is not less than |p| anywhere on [0, h].
func (p *poly) bound(h float64) float64 {
	b, power := 0.0, 1.0
	for _, c := range p {
		b += math.Abs(c) * power
		power *= h
	}
	return b
}

// places holds the few places of one polynomial.
type places struct {
	n int
	x [5]float64
}

func (r *places) add(x float64) {
	r.x[r.n] = x
	r.n++
}

// crossings are the places inside (0, h) where p changes sign, in order.
func (p *poly) crossings(h float64) places {
	q := p.stretched(h)
	r := q.unitCrossings()
	for i := range r.x[:r.n] {
		r.x[i] *= h
	}
	return r
}

// stationary are the places inside (0, h) where p turns, in order.
func (p *poly) stationary(h float64) places {
	d := p.derivative()
	return d.crossings(h)
}

// unitCrossings finds the sign changes inside (0, 1). Between two turning
// points a polynomial is monotone, so the crossings of its derivative bracket
// every crossing of its own.
func (p *poly) unitCrossings() (r places) {
	switch {
	case p[3] == 0 && p[4] == 0 && p[5] == 0 && p[2] == 0:
		if t := -p[0] / p[1]; t > 0 && t < 1 {
			r.add(t)
		}
		return r
	case p[3] == 0 && p[4] == 0 && p[5] == 0:
		return quadraticCrossings(p[0], p[1], p[2])
	}
	d := p.derivative()
	turns := d.unitCrossings()
	lo, atLo := 0.0, p[0]
	for i := 0; i <= turns.n; i++ {
		hi := 1.0
		if i < turns.n {
			hi = turns.x[i]
		}
		atHi := p.at(hi)
		if (atLo < 0 && atHi > 0) || (atLo > 0 && atHi < 0) {
			r.add(p.root(&d, lo, hi, atLo))
		} else if atHi == 0 && hi < 1 && atLo != 0 {
			// A crossing that falls exactly on a turning point of p's slope
			// belongs to the stretch before it.
			r.add(hi)
		}
		lo, atLo = hi, atHi
	}
	return r
}

// root is the one root between lo and hi: Newton, with bisection where it would leave.
func (p *poly) root(d *poly, lo, hi, atLo float64) float64 {
	t := (lo + hi) / 2
	for range 100 {
		v := p.at(t)
		if v == 0 {
			return t
		}
		if (v < 0) == (atLo < 0) {
			lo = t
		} else {
			hi = t
		}
		next := t - v/d.at(t)
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-t) <= 1e-16 || next == lo || next == hi {
			return next
		}
		t = next
	}
	return t
}

func quadraticCrossings(c, b, a float64) (r places) {
	disc := b*b - 4*a*c
	if !(disc > 0) {
		return r
	}
	q := -(b + math.Copysign(math.Sqrt(disc), b)) / 2
	t1, t2 := q/a, c/q
	if t2 < t1 {
		t1, t2 = t2, t1
	}
	if t1 > 0 && t1 < 1 {
		r.add(t1)
	}
	if t2 > 0 && t2 < 1 && t2 != t1 {
		r.add(t2)
	}
	return r
}
