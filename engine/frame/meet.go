package frame

import (
	"math"

	"example.com/scantling/model"
)

// meeting is where two axes come closest in plan.
type meeting struct {
	s, t     float64 // along the first and the second axis, mm
	distance float64 // in plan, mm
	level    float64 // of the first above the second, mm
}

// better orders meetings: nearer in plan first, then nearer in level, then the end that the order of supports suggests.
func (m meeting) better(o meeting, last bool) bool {
	if d := m.distance - o.distance; math.Abs(d) > nearby {
		return d < 0
	}
	if d := math.Abs(m.level) - math.Abs(o.level); math.Abs(d) > nearby {
		return d < 0
	}
	if last {
		return m.s > o.s
	}
	return m.s < o.s
}

// meet finds where the axis a, moved by da, comes closest in plan to b, moved by db. Where the two run together, last
// chooses the later end.
func meet(a *Shape, da model.Point, b *Shape, db model.Point, last bool) meeting {
	best := meeting{distance: math.Inf(1)}
	for i := 0; i+1 < len(a.Points); i++ {
		p0, p1 := add(a.Points[i], da), add(a.Points[i+1], da)
		for j := 0; j+1 < len(b.Points); j++ {
			q0, q1 := add(b.Points[j], db), add(b.Points[j+1], db)
			found := candidates(p0, p1, q0, q1)
			for _, c := range found.at[:found.n] {
				m := meeting{
					s: a.S[i] + c[0]*(a.S[i+1]-a.S[i]),
					t: b.S[j] + c[1]*(b.S[j+1]-b.S[j]),
				}
				p, q := between(p0, p1, c[0]), between(q0, q1, c[1])
				m.distance = math.Hypot(p.X-q.X, p.Y-q.Y)
				m.level = p.Z - q.Z
				if m.better(best, last) {
					best = m
				}
			}
		}
	}
	return best
}

// pairs is a short list of parameters along two stretches, kept off the heap.
type pairs struct {
	at [9][2]float64
	n  int
}

func (p *pairs) add(s, t float64) {
	p.at[p.n] = [2]float64{s, t}
	p.n++
}

// candidates are the pairs of parameters at which two stretches can be closest in plan: their crossing, and each end
// against the other stretch.
func candidates(p0, p1, q0, q1 model.Point) (out pairs) {
	ux, uy := p1.X-p0.X, p1.Y-p0.Y
	vx, vy := q1.X-q0.X, q1.Y-q0.Y
	if det := ux*vy - uy*vx; math.Abs(det) > 1e-9*(math.Hypot(ux, uy)*math.Hypot(vx, vy)+1e-9) {
		wx, wy := q0.X-p0.X, q0.Y-p0.Y
		s, t := (wx*vy-wy*vx)/det, (wx*uy-wy*ux)/det
		if s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			out.add(s, t)
		}
	}
	for _, end := range [2]float64{0, 1} {
		for _, t := range falls(q0, q1, between(p0, p1, end)) {
			if t >= 0 {
				out.add(end, t)
			}
		}
		for _, s := range falls(p0, p1, between(q0, q1, end)) {
			if s >= 0 {
				out.add(s, end)
			}
		}
	}
	return out
}

// falls is where a point falls on a stretch in plan; of an upright stretch it is either end. Below 0: no second place.
func falls(a, b, p model.Point) [2]float64 {
	ux, uy := b.X-a.X, b.Y-a.Y
	if h := ux*ux + uy*uy; h > nearby*nearby {
		return [2]float64{clamp(((p.X-a.X)*ux + (p.Y-a.Y)*uy) / h), -1}
	}
	return [2]float64{0, 1}
}

// nearest is where a point comes closest in plan to an axis moved by d, and how far it lies past the axis's end.
func nearest(sh *Shape, d, p model.Point) (m meeting, past float64) {
	m.distance = math.Inf(1)
	for i := 0; i+1 < len(sh.Points); i++ {
		a, b := add(sh.Points[i], d), add(sh.Points[i+1], d)
		beyond := 0.0
		if i == 0 || i+2 == len(sh.Points) {
			beyond = pastEnd(a, b, p, i == 0, i+2 == len(sh.Points))
		}
		for _, t := range falls(a, b, p) {
			if t < 0 {
				continue
			}
			q := between(a, b, t)
			c := meeting{t: sh.S[i] + t*(sh.S[i+1]-sh.S[i]), distance: math.Hypot(p.X-q.X, p.Y-q.Y), level: p.Z - q.Z}
			if c.better(m, false) {
				m, past = c, beyond
			}
		}
	}
	return m, past
}

// pastEnd is how far in plan a point lies before the start or beyond the end of a stretch; 0 beside it.
func pastEnd(a, b, p model.Point, first, last bool) float64 {
	ux, uy := b.X-a.X, b.Y-a.Y
	h := math.Hypot(ux, uy)
	if h <= nearby {
		return 0
	}
	along := ((p.X-a.X)*ux + (p.Y-a.Y)*uy) / h
	switch {
	case first && along < 0:
		return -along
	case last && along > h:
		return along - h
	}
	return 0
}

// overlap is the stretch of axis a, in its own distances, that runs along b in plan; ok is false where none does.
func overlap(a *Shape, da model.Point, b *Shape, db model.Point) (from, to float64, ok bool) {
	from, to = math.Inf(1), math.Inf(-1)
	for i := 0; i+1 < len(a.Points); i++ {
		p0, p1 := add(a.Points[i], da), add(a.Points[i+1], da)
		ux, uy := p1.X-p0.X, p1.Y-p0.Y
		h := math.Hypot(ux, uy)
		if h < nearby {
			continue
		}
		for j := 0; j+1 < len(b.Points); j++ {
			q0, q1 := add(b.Points[j], db), add(b.Points[j+1], db)
			vx, vy := q1.X-q0.X, q1.Y-q0.Y
			w := math.Hypot(vx, vy)
			if w < nearby || math.Abs(ux*vy-uy*vx) > 0.05*h*w { // runs along: within three degrees
				continue
			}
			if math.Abs((q0.X-p0.X)*uy-(q0.Y-p0.Y)*ux) > alongside*h { // another leg of what turns a corner
				continue
			}
			t0 := ((q0.X-p0.X)*ux + (q0.Y-p0.Y)*uy) / (h * h)
			t1 := ((q1.X-p0.X)*ux + (q1.Y-p0.Y)*uy) / (h * h)
			lo, hi := max(0, min(t0, t1)), min(1, max(t0, t1))
			if hi-lo <= 0 {
				continue
			}
			span := a.S[i+1] - a.S[i]
			from, to, ok = min(from, a.S[i]+lo*span), max(to, a.S[i]+hi*span), true
		}
	}
	return from, to, ok
}

// alongside is how far aside, in mm in plan, one axis still runs along another: more than any wall is thick, less than a room is
// wide.
const alongside = 600

func between(a, b model.Point, t float64) model.Point {
	return model.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y), Z: a.Z + t*(b.Z-a.Z)}
}

func clamp(t float64) float64 { return min(1, max(0, t)) }
