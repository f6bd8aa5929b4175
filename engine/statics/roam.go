package statics

import (
	"math"
	"slices"

	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/plugins/region"
)

// roaming is what may stand anywhere on one member, and what 1 N of it pushes each support of a piece by.
type roaming struct {
	movers []mover
	pushes []plane.Push
}

// weights is what stands there in a combination, N: at once with what stands elsewhere, and in place of the imposed load on one
// member at a time.
func (r *roaming) weights(k *region.Combination) (with, lone float64) {
	for i := range r.movers {
		if m := &r.movers[i]; m.kase == instead {
			lone += m.weigh(k)
		} else {
			with += m.weigh(k)
		}
	}
	return with, lone
}

// Roaming is what may stand anywhere on a piece, and of a couple's rafter on the one that it leans on: loads of the document's
// own cases on both at once, of what stands there in place of the imposed load (a person) one on one rafter.
type Roaming []roaming

// Push is what a support is pushed by in a combination, N, by its index, where each load is worst.
func (r Roaming) Push(k *region.Combination, support int) (sum plane.Push) {
	var lone plane.Push
	for i := range r {
		with, one := r[i].weights(k)
		p := &r[i].pushes[support]
		sum = plane.Push{Up: sum.Up + with*p.Up, Down: sum.Down + with*p.Down, Along: sum.Along + with*p.Along, Sideways: sum.Sideways + with*p.Sideways}
		if one*p.Up > lone.Up {
			lone.Up, lone.Along = one*p.Up, one*p.Along
		}
		lone.Down, lone.Sideways = min(lone.Down, one*p.Down), max(lone.Sideways, one*p.Sideways)
	}
	return plane.Push{Up: sum.Up + lone.Up, Down: sum.Down + lone.Down, Along: sum.Along + lone.Along, Sideways: sum.Sideways + lone.Sideways}
}

// Instead is the heaviest of it that stands there in place of the imposed load, N.
func (r Roaming) Instead() float64 {
	most := 0.0
	for i := range r {
		most = max(most, heaviest(r[i].movers))
	}
	return most
}

// roam works out what the loads that may stand anywhere do to the piece. Where it stands upright, lies along what carries
// it or props, that is not worked out inside it, and what the document gives it is noted as not moved.
func (a *Analyst) roam(piece int32, divided bool) error {
	e, t := &a.effects, a.t
	movers := t.moversOn(piece)
	switch {
	case t.only != nil:
		return nil
	case !divided, t.headPush[piece] != nil, t.Frame.Shape(piece).Upright:
		for _, m := range movers {
			if m.stated {
				e.Unmoved += m.weight
			}
		}
		return nil
	case a.coupled(piece):
		return a.leaning(piece)
	case len(movers) == 0:
		return nil
	}
	in := e.stand(movers)
	if err := a.w.member.Influence(in, a.w.member.Answer); err != nil {
		return err
	}
	e.push()
	return nil
}

// clear takes away all that may stand anywhere.
func (e *Effects) clear() { e.roaming, e.envelope.Moving = e.roaming[:0], e.envelope.Moving[:0] }

// stand adds a member on which loads may stand anywhere, and gives the influence that is to hold what 1 N there does.
func (e *Effects) stand(movers []mover) *plane.Influence {
	i := len(e.roaming)
	in := &e.influences[i]
	e.roaming = append(e.roaming, roaming{movers, e.pushes[i][:0]})
	e.envelope.Moving = append(e.envelope.Moving, plane.Moving{Influence: in})
	return in
}

// push notes what 1 N on the member that was added last pushes the supports by.
func (e *Effects) push() {
	i := len(e.roaming) - 1
	r := &e.roaming[i]
	for j := range e.Supports {
		r.pushes = append(r.pushes, e.influences[i].Push(j))
	}
	e.pushes[i] = r.pushes
}

// leaning works out what the loads that may stand anywhere on either rafter of a couple do to one.
func (a *Analyst) leaning(piece int32) error {
	if !a.t.Roams(piece) {
		return nil
	}
	l := a.w.lean(a.t.Frame.CoupleOf(piece))
	here := 0
	if l.sides[1].piece == piece {
		here = 1
	}
	for _, on := range [2]int{here, 1 - here} {
		movers := a.t.moversOn(l.sides[on].piece)
		if len(movers) == 0 {
			continue
		}
		in := a.effects.stand(movers)
		answer := a.answering(&l, here, on)
		var err error
		if on == here {
			err = a.w.member.Influence(in, answer)
		} else {
			err = a.w.member.InfluenceFrom(in, a.w.pair.Way(on), answer)
		}
		if err != nil {
			return err
		}
		a.effects.push()
	}
	return nil
}

// answering is what answers on one rafter of a couple a load of 1 N on it, or at a place of the solver's on the other: its foot,
// its head and the pulls of ties.
func (a *Analyst) answering(l *lean, here, on int) plane.Answer {
	w, f, s := a.w, a.t.Frame, &l.sides[here]
	return func(dst []plane.Load, at float64) ([]plane.Load, error) {
		if on == here {
			at = s.place(at)
		}
		var loads [2][]plane.Load
		loads[on] = []plane.Load{plane.Force(at, 0, -1)}
		forces, err := w.pair.Forces(loads)
		if err != nil {
			return dst, err
		}
		foot, head, pulls := forces.Feet[here], forces.Heads[here], w.pair.Pulls(nil, here, forces)
		if l.virtual {
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

// Moves says whether a load that may stand anywhere on the piece, or on a rafter that leans on it, is among what acts inside it.
func (e *Effects) Moves() bool { return len(e.roaming) > 0 }

// Instead is the heaviest of such loads that stands there in place of the imposed load, N.
func (e *Effects) Instead() float64 { return e.roaming.Instead() }

// Sag is the largest size of the deflection in a stretch in a combination, mm; false where nothing acts or it is not known. What
// may stand anywhere counts on an overhang where it bends it down: from the span behind it lifts the end, and nothing sags.
func (e *Effects) Sag(k *region.Combination, span plane.Span) (float64, bool) {
	down, up, ok := e.Range(k, plane.Deflection, span.From, span.To)
	if ok && span.Overhang && e.Weighs(k) {
		still := region.Combination{Factors: k.Factors}
		_, up, _ = e.Range(&still, plane.Deflection, span.From, span.To)
	}
	return max(math.Abs(down.Value), math.Abs(up.Value)), ok
}

// Weighs says whether such a load is there in a combination.
func (e *Effects) Weighs(k *region.Combination) bool { return e.weights(k) != [2]weights{} }

// Roaming is what such loads bring to the supports of a piece, in the order of the frame: where that is not worked out, all of what
// may stand on the piece to any one.
func (a *Analyst) Roaming(piece int32) Roaming {
	e := a.Reactions(piece)
	supports, first := a.t.Frame.SupportsOf(piece)
	if !e.Moves() {
		all := roaming{movers: a.t.moversOn(piece)}
		for range supports {
			all.pushes = append(all.pushes, plane.Push{Up: 1})
		}
		return Roaming{all}
	}
	out := slices.Clone(e.roaming)
	for i := range out {
		pushes := out[i].pushes
		out[i].pushes = make([]plane.Push, len(supports))
		for k := range supports {
			out[i].pushes[k] = plane.Push{Up: 1}
			if j := slices.Index(e.Supports, first+int32(k)); j >= 0 {
				out[i].pushes[k] = pushes[j]
			}
		}
	}
	return out
}

// weights is the sizes of what may stand anywhere in a combination, N, where it is worked out: by the member that it stands on.
func (e *Effects) weights(k *region.Combination) (out [2]weights) {
	for i := range e.roaming {
		out[i].with, out[i].lone = e.roaming[i].weights(k)
	}
	return out
}

type weights struct{ with, lone float64 }

// weigh sets what moves for a combination, and says whether anything does.
func (e *Effects) weigh(k *region.Combination) (acts bool) {
	for i := range e.roaming {
		m := &e.envelope.Moving[i]
		m.Weight, m.Lone = e.roaming[i].weights(k)
		acts = acts || m.Weight != 0 || m.Lone != 0
	}
	return acts
}

// stood is what the loads that may stand anywhere bring in a combination to the place that Forces was last asked about, each where
// it is worst for a quantity.
func (e *Effects) stood(k *region.Combination, q plane.Quantity, sense float64) plane.Forces {
	if !e.weigh(k) {
		return plane.Forces{}
	}
	side := 0
	if sense < 0 {
		side = 1
	}
	return e.envelope.Stood(q, sense, func(moving int) plane.Forces {
		s := &e.standing[moving][q][side]
		if !s.known {
			s.known, s.forces = true, e.influences[moving].Worst(q, e.place.s, e.place.side, sense).Forces
		}
		return s.forces
	})
}

// standing is a memory of what 1 N brings where it is worst.
type standing struct {
	known  bool
	forces plane.Forces
}
