package statics

import (
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics/plane"
)

// bedded passes each load on a piece that lies along what carries it straight down at the same place in plan. Load
// outside the stretches that are bedded goes to the nearest edge of one.
func (w *worker) bedded(piece int32) {
	sh := w.t.Frame.Shape(piece)
	for c := range w.t.cases {
		for i := range w.loads[c] {
			w.spread(sh, c, &w.loads[c][i])
		}
		for _, l := range w.lateral[c] {
			w.pass(w.nearestBed(l.at), item{kase: int32(c), from: l.at, to: l.at, f0: aside(sh, l.v).minus()})
		}
		if w.loose[c] != (Force{}) {
			w.pass(w.holding[0], item{kase: int32(c), f0: w.loose[c]})
		}
	}
}

// spread divides a load between the stretches that are bedded.
func (w *worker) spread(sh *frame.Shape, c int, l *plane.Load) {
	space := func(u, z float64) Force { return Force{u * sh.DirX, u * sh.DirY, z} }
	if l.To <= l.From {
		w.pass(w.nearestBed(l.From), item{kase: int32(c), from: l.From, to: l.From, f0: space(l.U0, l.Z0)})
		return
	}
	at := func(s float64) (u, z float64) {
		t := (s - l.From) / (l.To - l.From)
		return l.U0 + t*(l.U1-l.U0), l.Z0 + t*(l.Z1-l.Z0)
	}
	part := func(support int32, a, b float64, onBed bool) {
		if b <= a {
			return
		}
		u0, z0 := at(a)
		u1, z1 := at(b)
		if onBed {
			w.pass(support, item{kase: int32(c), from: a, to: b, f0: space(u0, z0), f1: space(u1, z1)})
			return
		}
		h := (b - a) / 2
		edge := w.nearestOf(support, (a+b)/2)
		w.pass(support, item{kase: int32(c), from: edge, to: edge, f0: space((u0+u1)*h, (z0+z1)*h)})
	}
	s := l.From
	for s < l.To {
		support := w.nearestBed(s + 1e-9)
		from, to := w.bed(support)
		end := l.To
		switch {
		case s < from-1e-9: // before the bed: to its edge
			end = min(end, from)
		case s < to-1e-9:
			end = min(end, to)
			part(support, s, end, true)
			s = end
			continue
		default: // beyond it: until another is nearer
			for _, i := range w.holding {
				if next, _ := w.bed(i); next > s {
					half := (to + next) / 2
					if half <= s {
						half = next
					}
					end = min(end, half)
				}
			}
		}
		part(support, s, end, false)
		s = end
	}
}

// bed is the stretch of a piece that lies on a support, of one that is not continuous its place alone.
func (w *worker) bed(support int32) (from, to float64) {
	b := &w.t.Frame.Supports[support]
	if !b.Continuous {
		return b.At, b.At
	}
	return b.From, b.To
}

// nearestBed is the support whose bedded stretch holds s or is nearest to it.
func (w *worker) nearestBed(s float64) int32 {
	best, gap := w.holding[0], -1.0
	for _, i := range w.holding {
		from, to := w.bed(i)
		d := max(from-s, s-to, 0)
		if gap < 0 || d < gap {
			best, gap = i, d
		}
	}
	return best
}

// nearestOf is the place of a bed that is nearest to s.
func (w *worker) nearestOf(support int32, s float64) float64 {
	from, to := w.bed(support)
	return min(max(s, from), to)
}

// pass puts a load, in distances of the piece, on what carries it.
func (w *worker) pass(support int32, p item) {
	t := w.t
	s := &t.Frame.Supports[support]
	r := &t.reaction[int(support)*t.cases+int(p.kase)]
	sum := p.resultant()
	r.add(sum.minus())
	if !s.Continuous {
		return // lands like any other reaction
	}
	if t.frozen != nil && t.frozen[s.On] {
		return // there already
	}
	if !s.Placed { // below 0 where nobody says
		p.from, p.to, p.f0, p.f1 = s.OnAt, s.OnAt, sum, Force{}
		t.passed[s.On] = append(t.passed[s.On], p)
		return
	}
	a, b := t.Frame.Under(support, p.from), t.Frame.Under(support, p.to)
	switch {
	case p.to > p.from && b < a: // what carries it is drawn the other way round
		scale := (p.to - p.from) / (a - b)
		p.from, p.to, p.f0, p.f1 = b, a, p.f1.times(scale), p.f0.times(scale)
	case p.to > p.from && b > a:
		scale := (p.to - p.from) / (b - a)
		p.from, p.to, p.f0, p.f1 = a, b, p.f0.times(scale), p.f1.times(scale)
	default: // a point, or a crossing
		p.from, p.to, p.f0, p.f1 = a, a, sum, Force{}
	}
	t.passed[s.On] = append(t.passed[s.On], p)
}

func (f Force) times(k float64) Force { return Force{f.X * k, f.Y * k, f.Z * k} }
