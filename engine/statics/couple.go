package statics

import (
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics/plane"
)

// side is one rafter of a couple, as the plane solver wants it: drawn from its lower end to its head.
type side struct {
	piece  int32
	foot   int32 // support
	head   int32 // support
	turned bool  // the document draws it from the head down
	sign   float64
	length float64
	shape  *frame.Shape
	loads  [][]plane.Load // by case
	aside  []float64      // by case: level force square to the plane, which the foot holds
}

// place turns a distance along the member into one from the rafter's lower end, or back.
func (s *side) place(at float64) float64 {
	if s.turned {
		return s.length - at
	}
	return at
}

// couple solves two rafters that lean on each other. Its feet carry upright load only; ties take the thrust. Where
// nothing ties them, the feet push sideways on what they stand on, which is a fact that packs judge.
func (w *worker) couple(c *frame.Couple) {
	lean := w.lean(c)
	if lean.why != "" {
		w.apart(c, lean.why)
		return
	}
	forces := make([]plane.CoupleForces, w.t.cases)
	for kase := range forces {
		var err error
		if forces[kase], err = w.pair.Forces([2][]plane.Load{lean.sides[0].loads[kase], lean.sides[1].loads[kase]}); err != nil {
			w.apart(c, saying(err))
			return
		}
	}
	for kase := range forces {
		w.record(&lean.sides, kase, forces[kase], lean.ties, lean.virtual)
	}
}

// lean is a couple as the worker's pair was set for it.
type lean struct {
	sides   [2]side
	ties    []int32 // pieces
	virtual bool    // nothing ties it: what the ties would take pushes on what the feet stand on
	why     string  // why it cannot be solved; empty where it can
}

// lean sets the worker's pair for a couple, with the loads of both rafters.
func (w *worker) lean(c *frame.Couple) (l lean) {
	t, f := w.t, w.t.Frame
	for k, piece := range c.Rafters {
		w.gather(piece)
		if l.why = w.side(&l.sides[k], piece, c.Heads[k]); l.why != "" {
			return l
		}
	}
	ties, named := w.ties(c, &l.sides)
	l.ties, l.virtual = named, len(ties) == 0
	if l.virtual {
		ties = []plane.Tie{{At: [2]float64{l.sides[0].place(f.Supports[l.sides[0].foot].At), l.sides[1].place(f.Supports[l.sides[1].foot].At)}}}
	}
	drift := 0
	if s := &f.Supports[l.sides[1].foot]; f.Member(s.Piece).Supports[s.Document].Horizontal {
		drift = 1
	}
	var rafters [2]plane.Rafter
	for k := range l.sides {
		s := &l.sides[k]
		rafters[k] = plane.Rafter{Axis: s.axis(), Foot: s.place(f.Supports[s.foot].At), Stiffness: t.Stiffness(f.Pieces[s.piece].Member)}
	}
	if err := w.pair.Set(rafters, ties, plane.CoupleOptions{Drift: drift}); err != nil {
		l.why = saying(err)
	}
	return l
}

// apart solves the rafters of a couple each by itself: where one has more supports than a foot, its head leans on
// nothing; where it cannot stand alone either, it passes nothing on.
func (w *worker) apart(c *frame.Couple, why string) {
	t, f := w.t, w.t.Frame
	for _, piece := range c.Rafters {
		w.gather(piece)
		if bedded := w.hold(piece); len(w.holding) > 1 || bedded {
			w.alone(piece, bedded)
			t.Remarks = append(t.Remarks, Remark{Member: f.Pieces[piece].Member, Text: "is taken to stand on its supports alone: " + why})
			continue
		}
		w.stop(piece, why)
	}
}

// side prepares one rafter; why says what stands in the way.
func (w *worker) side(s *side, piece, head int32) (why string) {
	t, f := w.t, w.t.Frame
	sh := f.Shape(piece)
	*s = side{piece: piece, head: head, foot: -1, shape: sh, length: sh.Length, sign: 1}
	supports, from := f.SupportsOf(piece)
	for k := range supports {
		if supports[k].Holds() {
			if s.foot >= 0 {
				return "a rafter of the couple has more supports than its foot"
			}
			if supports[k].Continuous {
				return "a rafter of the couple lies along what carries it"
			}
			s.foot = from + int32(k)
		}
	}
	switch {
	case !sh.Known || sh.Upright:
		return "a rafter of the couple has no slope to lean with"
	case s.foot < 0:
		return "a rafter of the couple has no foot"
	case w.nowhere:
		return "a load lands on it at a place that neither a path nor the document tells"
	case folds(f.Member(piece), sh) != "":
		return "of a rafter of the couple: " + folds(f.Member(piece), sh)
	}
	if f.Supports[head].At < sh.Length/2 {
		s.turned, s.sign = true, -1
	}
	for c := range t.cases {
		var own []plane.Load
		for _, l := range w.loads[c] {
			if s.turned {
				l.From, l.To, l.U0, l.U1, l.Z0, l.Z1 = s.length-l.To, s.length-l.From, -l.U1, -l.U0, l.Z1, l.Z0
				if l.From == l.To {
					l.U0, l.U1, l.Z0, l.Z1 = l.U1, 0, l.Z1, 0
				}
			}
			own = append(own, l)
		}
		s.loads = append(s.loads, own)
		aside := 0.0
		for _, l := range w.lateral[c] {
			aside += l.v
		}
		s.aside = append(s.aside, aside)
	}
	return ""
}

// axis is the rafter's axis from its lower end.
func (s *side) axis() []plane.Point {
	points := appendPlane(nil, s.shape)
	if !s.turned {
		return points
	}
	last := points[len(points)-1]
	out := make([]plane.Point, len(points))
	for i, p := range points {
		out[len(points)-1-i] = plane.Point{U: last.U - p.U, Z: p.Z - last.Z}
	}
	return out
}

// ties are those that stand, with their pieces.
func (w *worker) ties(c *frame.Couple, sides *[2]side) (out []plane.Tie, pieces []int32) {
	f := w.t.Frame
	for _, tie := range c.Ties {
		if tie.Piece < 0 {
			continue
		}
		out = append(out, plane.Tie{
			At: [2]float64{sides[0].place(tie.At[0]), sides[1].place(tie.At[1])},
			EA: w.t.Stiffness(f.Pieces[tie.Piece].Member).EA,
		})
		pieces = append(pieces, tie.Piece)
	}
	return out, pieces
}

// record keeps the forces of one case: reactions at feet and heads, pulls of ties on the rafters and in the ties.
func (w *worker) record(sides *[2]side, kase int, forces plane.CoupleForces, named []int32, virtual bool) {
	t := w.t
	for k := range sides {
		s := &sides[k]
		dir := func(u float64) Force { return Force{u * s.sign * s.shape.DirX, u * s.sign * s.shape.DirY, 0} }
		foot, head := dir(forces.Feet[k].U), dir(forces.Heads[k].U)
		foot.Z, head.Z = forces.Feet[k].Z, forces.Heads[k].Z
		foot.add(aside(s.shape, s.aside[kase]))
		pulls := w.pair.Pulls(nil, k, forces)
		for i, p := range pulls {
			if virtual { // nothing takes the thrust: the foot does
				foot.add(dir(p.U0))
				foot.Z += p.Z0
				continue
			}
			w.keepPull(s, i, named[i], kase, p)
		}
		t.reaction[int(s.foot)*t.cases+kase] = foot
		t.reaction[int(s.head)*t.cases+kase] = head
	}
	if virtual {
		return
	}
	for i, piece := range named {
		if t.tension[piece] == nil {
			t.tension[piece] = make([]float64, t.cases)
		}
		t.tension[piece][kase] += forces.Ties[i]
	}
}

// keepPull notes the pull of a tie on a rafter, in the member's own direction.
func (w *worker) keepPull(s *side, index int, tie int32, kase int, p plane.Load) {
	t := w.t
	if len(t.pulls[s.piece]) <= index {
		t.pulls[s.piece] = append(t.pulls[s.piece], pull{at: s.place(p.From), tie: tie,
			u: make([]float64, t.cases), z: make([]float64, t.cases)})
	}
	t.pulls[s.piece][index].u[kase] = p.U0 * s.sign
	t.pulls[s.piece][index].z[kase] = p.Z0
}
