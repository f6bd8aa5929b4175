package eurocode

import (
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/region"
)

// point is what one combination does at one place of a piece: forces in N and N mm that act together.
type point struct {
	n, v, m, out float64
	combination  int
	duration     national.Duration
	at           float64
	station      int
	span         int // row of the batch's spans, -1: none
	weakened     bool
}

func (p *point) governing() governing { return governing{p.combination, -1, p.at} }

// front keeps the points that no other one outdoes: every check of a section rises with the size of each force as long as its
// sign, the duration and the way the place is held stay the same. It spares the checks all the rest.
type front []point

func (f *front) add(p *point) {
	kept := (*f)[:0]
	for k := range *f {
		q := &(*f)[k]
		if p.outdoneBy(q) {
			return // then it outdoes none of the others, and all of them stand where they stood
		}
		if !q.outdoneBy(p) {
			kept = append(kept, *q)
		}
	}
	*f = append(kept, *p)
}

func (p *point) outdoneBy(q *point) bool {
	return p.duration == q.duration && p.span == q.span && p.weakened == q.weakened && (!p.weakened || p.station == q.station) &&
		within(p.m, q.m) && within(p.n, q.n) && within(p.v, q.v) && within(p.out, q.out)
}

// within says that a is of b's sign, or 0, and no larger.
func within(a, b float64) bool {
	return a == 0 || math.Abs(a) <= math.Abs(b) && (a > 0) == (b > 0)
}

// gather sorts what happens in a piece under the combinations for strength into the fronts of the checks.
func (j *judge) gather(m *member, timber bool) {
	j.bends, j.shears, j.pulls, j.pushes, j.both = j.bends[:0], j.shears[:0], j.pulls[:0], j.pushes[:0], j.both[:0]
	s, count := &j.b.Stations, int(j.b.Combinations)
	weight := j.gammaQ * m.person * math.Cos(m.slope)
	for r := m.stations.from; r < m.stations.to; r++ {
		span := -1
		if at := m.spans.from + int(s.Span[r]); s.Span[r] >= 0 && at < m.spans.to {
			span = at
		}
		weakened := s.Kind[r]&(region.StationNotch|region.StationHole) != 0
		for _, c := range j.strength {
			k := r*count + c
			p := point{n: s.N[k], v: s.V[k], m: s.M[k], out: s.MomentOut[k], combination: c, at: s.At[r], station: r, span: span, weakened: weakened}
			if timber {
				p.duration = j.durations[c]
			}
			if j.person[c] {
				j.stand(&p, weight)
			}
			j.sort(p, timber)
		}
	}
}

// sort hands a point to the fronts that it can matter to. Steel's shear lessens its bending, so that both stay together there.
func (j *judge) sort(p point, timber bool) {
	add := func(f *front, n, v, m, out float64) {
		if n != 0 || v != 0 || m != 0 || out != 0 {
			q := p
			q.n, q.v, q.m, q.out = n, v, m, out
			f.add(&q)
		}
	}
	v := p.v
	if timber {
		v = 0
	}
	if p.m != 0 || p.out != 0 {
		add(&j.bends, 0, v, p.m, p.out)
	}
	add(&j.shears, 0, math.Abs(p.v), 0, 0)
	add(&j.pulls, max(p.n, 0), 0, 0, 0)
	add(&j.pushes, min(p.n, 0), 0, 0, 0)
	if p.n != 0 {
		add(&j.both, p.n, v, p.m, p.out)
	}
}
