package eurocode

import (
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/region"
)

// point is what one combination does at one place of a piece: forces in N and N mm that act together.
type point struct {
	n, v, m, out float64
	at           float64
	combination  int
	under
}

// under is what must be the same for one point to outdo another.
type under struct {
	duration national.Duration
	span     int // row of the batch's spans, -1: none
	weakened int // station of a notch or hole, -1: none
}

func (p *point) governing() governing { return governing{p.combination, -1, p.at} }

// front keeps the points that no other one outdoes: every check of a section rises with the size of each force as long as its
// sign, the duration and the way the place is held stay the same. It spares the checks all the rest.
type front []point

func (f *front) add(p *point) {
	points := *f
	for k := range points {
		if p.outdoneBy(&points[k]) {
			return // then it outdoes none of the others
		}
	}
	kept := 0
	for k := range points {
		if points[k].outdoneBy(p) {
			continue
		}
		if kept < k {
			points[kept] = points[k]
		}
		kept++
	}
	*f = append(points[:kept], *p)
}

func (p *point) outdoneBy(q *point) bool {
	return p.under == q.under && within(p.m, q.m) && within(p.v, q.v) && within(p.n, q.n) && within(p.out, q.out)
}

// within says that a is of b's sign, or 0, and no larger.
func within(a, b float64) bool {
	return a == 0 || a > 0 && a <= b || a < 0 && a >= b
}

// gather sorts what happens in a piece under the combinations for strength into the fronts of the checks.
func (j *judge) gather(m *member, timber bool) {
	j.bends, j.shears, j.pulls, j.pushes, j.both = j.bends[:0], j.shears[:0], j.pulls[:0], j.pushes[:0], j.both[:0]
	s, count := &j.b.Stations, int(j.b.Combinations)
	for r := m.stations.from; r < m.stations.to; r++ {
		here := under{span: -1, weakened: -1}
		if at := m.spans.from + int(s.Span[r]); s.Span[r] >= 0 && at < m.spans.to {
			here.span = at
		}
		if s.Kind[r]&(region.StationNotch|region.StationHole) != 0 {
			here.weakened = r
		}
		row, last := r*count, -1
		for _, c := range j.strength {
			k := row + c
			if last >= 0 && j.alike(row+last, k) && j.durations[last] == j.durations[c] {
				continue // what outdoes the last one outdoes it too; most combinations differ in what does not load the piece
			}
			last = c
			p := point{n: s.N[k], v: s.V[k], m: s.M[k], out: s.MomentOut[k], combination: c, at: s.At[r], under: here}
			if timber {
				p.duration = j.durations[c]
			}
			j.sort(p, timber)
		}
	}
}

// alike says whether two entries of the stations' columns are of equal forces.
func (j *judge) alike(a, b int) bool {
	s := &j.b.Stations
	return s.M[a] == s.M[b] && s.V[a] == s.V[b] && s.N[a] == s.N[b] && s.MomentOut[a] == s.MomentOut[b]
}

// sort hands a point to the fronts that it can matter to. Steel's shear lessens its bending, so that both stay together there.
func (j *judge) sort(p point, timber bool) {
	n, v, m, out := p.n, p.v, p.m, p.out
	beside := v // what shear is kept beside bending
	if timber {
		beside = 0
	}
	give := func(f *front, n, v, m, out float64) {
		p.n, p.v, p.m, p.out = n, v, m, out
		f.add(&p)
	}
	if m != 0 || out != 0 {
		give(&j.bends, 0, beside, m, out)
	}
	if v != 0 {
		give(&j.shears, 0, math.Abs(v), 0, 0)
	}
	if n > 0 {
		give(&j.pulls, n, 0, 0, 0)
	}
	if n < 0 {
		give(&j.pushes, n, 0, 0, 0)
	}
	if n != 0 {
		give(&j.both, n, beside, m, out)
	}
}
