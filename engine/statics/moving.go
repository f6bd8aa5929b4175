package statics

import (
	"math"
	"slices"

	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// mover is a load that may stand anywhere along a member. It is judged in that member, at its supports and in
// what ties it (Draw), where it is worst for each thing that is asked, and belongs to no balance: it is passed on to nothing further.
type mover struct {
	kase   int32 // the case that a load of the document belongs to; instead for what stands there in place of the imposed load
	weight float64
	stated bool // the document gives it to the member itself, not to an area that it carries
}

// instead is the case of what acts in place of the imposed load: Combination.Moving is its factor.
const instead = -1

// weigh is the part of a combination in the weight of a load, N.
func (m *mover) weigh(k *region.Combination) float64 {
	if m.kase == instead {
		return m.weight * k.Moving
	}
	return m.weight * k.Factors[m.kase]
}

// Moving is what may stand anywhere along a member in a combination, all of it in one place, N.
func (t *TakeDown) Moving(member int32, k *region.Combination) float64 {
	sum := 0.0
	for i := range t.own.movers[member] {
		sum += t.own.movers[member][i].weigh(k)
	}
	return sum
}

// Instead is what may stand anywhere along a member in place of the imposed load, N.
func (t *TakeDown) Instead(member int32) float64 {
	sum := 0.0
	for _, m := range t.own.movers[member] {
		if m.kase == instead {
			sum += m.weight
		}
	}
	return sum
}

// Movers is what may stand anywhere along a member by case, N, the last that in place of the imposed load; nil: nothing.
func (t *TakeDown) Movers(member int32) []float64 {
	movers := t.own.movers[member]
	if movers == nil {
		return nil
	}
	out := make([]float64, t.cases+1)
	for _, m := range movers {
		if m.kase == instead {
			out[t.cases] += m.weight
		} else {
			out[m.kase] += m.weight
		}
	}
	return out
}

// areasMove says whether the area of some member has a load that may stand anywhere.
func (t *TakeDown) areasMove() bool {
	for _, movers := range t.own.movers {
		if slices.ContainsFunc(movers, func(m mover) bool { return !m.stated }) {
			return true
		}
	}
	return false
}

func (o *ownLoads) move(member int32, m mover) {
	if m.weight == 0 {
		return
	}
	if o.movers == nil {
		o.movers = map[int32][]mover{}
	}
	o.movers[member] = append(o.movers[member], m)
}

// stand notes the heaviest of those that may stand on a member in place of its imposed load: the person that the document
// gives it, or the point loads of the areas that it carries.
func (in *Input) stand(o *ownLoads, i int32, m *model.Member) {
	own := math.Abs(m.More().MovableLoad.Value)
	heaviest := mover{instead, own, own > 0}
	for k := range m.Carries {
		area := in.Frame.Document.Area(m.Carries[k].Area)
		if area == nil {
			continue
		}
		if weight := in.pointOn(area, m); weight > heaviest.weight {
			heaviest = mover{instead, weight, false}
		}
	}
	if heaviest.stated {
		o.stays(i, "the person that may stand anywhere on it")
	}
	o.move(i, heaviest)
}

// stays remarks that a load is passed on to nothing.
func (o *ownLoads) stays(member int32, what string) {
	o.notes = append(o.notes, Remark{Member: member, Lost: true, Stays: true,
		Text: what + " is judged in the member and at its supports, and passed on to nothing further"})
}

// pointOn is the point load of an area that one piece of a member must bear: the region's, else what the document states.
func (in *Input) pointOn(area *model.Area, m *model.Member) float64 {
	weight, said := 0.0, false
	for _, l := range in.Implied {
		if l.Area != area.ID || l.Point == 0 {
			continue
		}
		said = true
		if deck := area.Deck.Value + m.More().Deck.Value; !l.Shared || deck == 0 || !m.InRun() {
			weight = max(weight, l.Point)
		}
	}
	if !said {
		return area.PointLoad.Value
	}
	return weight
}

// roam works out what the loads that may stand anywhere do to the piece. Where it stands upright, lies along what carries
// it or props, that is not worked out inside it, and what the document gives it is noted as not moved.
func (a *Analyst) roam(piece int32, divided bool) error {
	e, w := &a.effects, a.w
	e.movers = a.t.own.movers[a.t.Frame.Pieces[piece].Member]
	if len(e.movers) == 0 || a.t.only != nil {
		e.movers = nil
		return nil
	}
	answer := plane.Answer(w.member.Answer)
	switch {
	case !divided, a.t.headPush[piece] != nil, a.t.Frame.Shape(piece).Upright:
		for _, m := range e.movers {
			if m.stated {
				e.Unmoved += m.weight
			}
		}
		e.movers = nil
		return nil
	case a.coupled(piece):
		answer = a.leaning(piece)
	}
	if err := w.member.Influence(&e.influence, answer); err != nil {
		return err
	}
	e.moving = &e.influence
	e.pushes = e.pushes[:0]
	for j := range e.Supports {
		e.pushes = append(e.pushes, e.influence.Push(j))
	}
	return nil
}

// leaning is what answers a load of 1 N on a rafter of a couple: its foot, its head and the pulls of ties.
func (a *Analyst) leaning(piece int32) plane.Answer {
	w, f := a.w, a.t.Frame
	lean := w.lean(f.CoupleOf(piece))
	k := 0
	if lean.sides[1].piece == piece {
		k = 1
	}
	s := &lean.sides[k]
	return func(dst []plane.Load, at float64) ([]plane.Load, error) {
		var loads [2][]plane.Load
		loads[k] = []plane.Load{plane.Force(s.place(at), 0, -1)}
		forces, err := w.pair.Forces(loads)
		if err != nil {
			return dst, err
		}
		foot, head, pulls := forces.Feet[k], forces.Heads[k], w.pair.Pulls(nil, k, forces)
		if lean.virtual {
			for _, p := range pulls {
				foot.U, foot.Z = foot.U+p.U0, foot.Z+p.Z0
			}
			pulls = nil
		}
		for _, i := range a.effects.Supports {
			push := foot
			if i == s.head {
				push = head
			}
			dst = append(dst, plane.Force(f.Supports[i].At, push.U*s.sign, push.Z))
		}
		for _, p := range pulls {
			dst = append(dst, plane.Force(s.place(p.From), p.U0*s.sign, p.Z0))
		}
		return dst, nil
	}
}

// Moves says whether a load that may stand anywhere is among what acts inside the piece.
func (e *Effects) Moves() bool { return e.moving != nil }

// Sag is the largest size of the deflection in a stretch in a combination, mm; false where nothing acts or it is not known. What
// may stand anywhere counts on an overhang where it bends it down: from the span behind it lifts the end, and nothing sags.
func (e *Effects) Sag(k *region.Combination, span plane.Span) (float64, bool) {
	down, up, ok := e.Range(k, plane.Deflection, span.From, span.To)
	if ok && span.Overhang && e.weight(k) != 0 {
		still := region.Combination{Factors: k.Factors}
		_, up, _ = e.Range(&still, plane.Deflection, span.From, span.To)
	}
	return max(math.Abs(down.Value), math.Abs(up.Value)), ok
}

// Weighs says whether what may stand anywhere on the piece is there in a combination.
func (e *Effects) Weighs(k *region.Combination) bool { return e.weight(k) != 0 }

// Pushes is what 1 N that may stand anywhere on the piece brings to each of its supports, in the order of the frame: where that
// is not worked out, all of it to any one.
func (a *Analyst) Pushes(piece int32) []plane.Push {
	e := a.Reactions(piece)
	supports, first := a.t.Frame.SupportsOf(piece)
	out := make([]plane.Push, len(supports))
	for k := range out {
		out[k] = plane.Push{Up: 1}
		if j := slices.Index(e.Supports, first+int32(k)); j >= 0 && e.Moves() {
			out[k] = e.pushes[j]
		}
	}
	return out
}

// weight is the size of what may stand anywhere on the piece in a combination, N, where it is worked out.
func (e *Effects) weight(k *region.Combination) float64 {
	sum := 0.0
	for i := range e.movers {
		sum += e.movers[i].weigh(k)
	}
	return sum
}

// stood is what the load of 1 N that may stand anywhere brings to the place that Forces was last asked about, where it is
// worst for a quantity.
func (e *Effects) stood(q plane.Quantity, sense float64) plane.Forces {
	side := 0
	if sense < 0 {
		side = 1
	}
	if s := &e.standing[q][side]; !s.known {
		s.known, s.forces = true, e.moving.Worst(q, e.place.s, e.place.side, sense).Forces
	}
	return e.standing[q][side].forces
}

// standing is a memory of one answer of stood.
type standing struct {
	known  bool
	forces plane.Forces
}
