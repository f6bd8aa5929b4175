package statics

import (
	"errors"
	"slices"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/plugins/region"
)

// Effects is what happens inside one piece: forces and deflections per case, and per arrangement of the variable ones.
// It belongs to its Analyst and holds until the next piece.
type Effects struct {
	Piece    int32
	Supports []int32      // that hold the piece; of a couple's rafter the head comes last
	Spans    []plane.Span // stretches between supports, overhangs included; empty for posts and bedded pieces
	Cases    []CaseEffect
	Bedded   bool    // lies along what carries it: nothing to work out inside
	Unsolved string  // why there are none
	NoStiff  string  // why there is no deflection
	Unmoved  float64 // of what the document lets stand anywhere on it, what the forces do not hold, N

	permanent   []bool    // by case
	combination []float64 // factors that envelope is set for
	acting      []Acting
	envelope    plane.Envelope
	alike       map[uint64][]int // by the cases that act, as bits: for the combinations of alikeOf
	alikeOf     []region.Combination

	roaming    Roaming
	influences [2]plane.Influence // of 1 N, by roaming
	pushes     [2][]plane.Push    // scratch of roaming
	drawn      Draw               // on what it ties
	unit       Arrangement        // under 1 N of tension, where it ties
	place      struct {
		s    float64
		side plane.Side
	}
	standing [2][plane.Moment + 1][2]standing // at place, by roaming, quantity and sense
}

// CaseEffect is the effects of one case.
type CaseEffect struct {
	Acts      bool // the case loads the piece
	Full      plane.Diagram
	Reactions []plane.Reaction // by support, in the piece's own plane

	// Parts are the arrangements that may be there or not, each on its own; one for a permanent case or a single span.
	Parts []Arrangement
}

// Arrangement is a case's load on one stretch of a piece.
type Arrangement struct {
	Diagram   *plane.Diagram
	Reactions []plane.Reaction
}

// Analyst works out effects piece by piece and keeps its scratch between them. One Analyst serves one goroutine.
type Analyst struct {
	t       *TakeDown
	w       *worker
	effects Effects
	part    []plane.Load
	spare   []*plane.Diagram
	used    int
	outside bool // diagrams are not wanted
}

// NewAnalyst is an Analyst of a finished take-down.
func (t *TakeDown) NewAnalyst() *Analyst {
	permanent := make([]bool, t.cases)
	for c := range t.Cases {
		permanent[c] = t.Cases[c].Permanent
	}
	return &Analyst{t: t, w: newWorker(t), effects: Effects{Cases: make([]CaseEffect, t.cases), permanent: permanent}}
}

// Effects works out one piece.
func (a *Analyst) Effects(piece int32) *Effects {
	a.outside = false
	return a.solve(piece)
}

// Reactions is Effects without what happens inside the piece: reactions, spans and what acts.
func (a *Analyst) Reactions(piece int32) *Effects {
	a.outside = true
	return a.solve(piece)
}

func (a *Analyst) solve(piece int32) *Effects {
	e, t, w := &a.effects, a.t, a.w
	e.Piece, e.Supports, e.Spans, e.Bedded, e.Unsolved, e.NoStiff = piece, e.Supports[:0], nil, false, t.Unsolved(piece), ""
	e.combination, e.drawn, e.Unmoved = nil, nil, 0
	e.clear()
	a.used = 0
	for c := range e.Cases {
		e.Cases[c].Acts, e.Cases[c].Parts, e.Cases[c].Reactions = false, e.Cases[c].Parts[:0], e.Cases[c].Reactions[:0]
	}
	if e.Unsolved != "" || t.Frame.Member(piece).Ground {
		return e
	}
	w.gather(piece)
	a.hold(piece)
	if e.Bedded || len(w.holding) == 0 {
		_ = a.roam(piece, false)
		return e
	}
	if err := a.set(piece); err != nil {
		e.Unsolved = saying(err)
		return e
	}
	a.actions(piece)
	divisible := a.solvesAlone(piece)
	if divisible {
		e.Spans = append(e.Spans, w.member.Spans()...)
	}
	for c := range e.Cases {
		if len(w.loads[c]) == 0 && !a.leansIn(piece, c) {
			continue
		}
		if err := a.solveCase(piece, c, divisible && len(e.Spans) > 1); err != nil {
			e.Unsolved = saying(err)
			return e
		}
	}
	if err := a.tie(piece); err != nil {
		e.Unsolved = saying(err)
		return e
	}
	if err := a.roam(piece, true); err != nil {
		e.Unsolved = saying(err)
		e.clear()
	}
	return e
}

// Acting is all that acts on a piece but its supports, by case, in its own plane: loads, pulls of ties, the push at a
// strut's head. It holds until the next call.
func (a *Analyst) Acting(piece int32) [][]plane.Load {
	a.w.gather(piece)
	a.effects.Supports = a.effects.Supports[:0]
	if a.hold(piece); len(a.w.holding) > 0 {
		a.actions(piece)
	}
	return a.w.loads
}

// hold lists the supports that the piece's diagrams are drawn on.
func (a *Analyst) hold(piece int32) {
	w, f, e := a.w, a.t.Frame, &a.effects
	supports, from := f.SupportsOf(piece)
	w.holding = w.holding[:0]
	head := int32(-1)
	for k := range supports {
		s := &supports[k]
		switch {
		case s.Holds():
			w.holding = append(w.holding, from+int32(k))
			e.Bedded = e.Bedded || s.Continuous
		case s.Against && f.CoupleOf(piece) != nil:
			head = from + int32(k)
		}
	}
	if head >= 0 && a.coupled(piece) {
		w.holding = append(w.holding, head)
	}
	e.Supports = append(e.Supports, w.holding...)
}

// coupled says whether a rafter was solved as part of its couple, so that its head counts.
func (a *Analyst) coupled(piece int32) bool {
	c := a.t.Frame.CoupleOf(piece)
	if c == nil {
		return false
	}
	for _, head := range c.Heads {
		for k := range a.t.cases {
			if a.t.Reaction(head, k) != (Force{}) {
				return true
			}
		}
	}
	return false
}

// leansIn says whether a case acts in a rafter of a couple by what its supports push alone: the load is on the other, and no tie
// pulls.
func (a *Analyst) leansIn(piece int32, c int) bool {
	return a.coupled(piece) && slices.ContainsFunc(a.effects.Supports, func(i int32) bool { return a.t.Reaction(i, c) != (Force{}) })
}

// set gives the plane solver the piece; posts are drawn upright on their foot.
func (a *Analyst) set(piece int32) error {
	w, f := a.w, a.t.Frame
	sh := f.Shape(piece)
	if !sh.Upright {
		return w.set(piece)
	}
	w.points, w.supports = w.points[:0], w.supports[:0]
	for _, p := range sh.Points {
		w.points = append(w.points, plane.Point{Z: p.Z - sh.Points[0].Z})
	}
	for _, i := range w.holding {
		w.supports = append(w.supports, plane.Support{At: f.Supports[i].At, Horizontal: true})
	}
	return w.member.Set(w.points, w.supports, a.t.Stiffness(f.Pieces[piece].Member))
}

// actions adds what acts on the piece besides its loads: pulls of ties, the tension in a tie, the push at a strut's
// head.
func (a *Analyst) actions(piece int32) {
	t, w := a.t, a.w
	sh := t.Frame.Shape(piece)
	for _, p := range t.pulls[piece] {
		for c := range t.cases {
			if p.u[c] != 0 || p.z[c] != 0 {
				w.loads[c] = append(w.loads[c], plane.Force(p.at, p.u[c], p.z[c]))
			}
		}
	}
	if pull := t.tension[piece]; pull != nil {
		for c, n := range pull {
			if n != 0 {
				w.loads[c] = appendTension(w.loads[c], sh, n)
			}
		}
	}
	if push := t.headPush[piece]; push != nil {
		head := sh.Length
		if t.Frame.Supports[w.holding[0]].At > sh.Length/2 {
			head = 0
		}
		for c, f := range push {
			w.loads[c] = append(w.loads[c], plane.Force(head, f.X*sh.DirX+f.Y*sh.DirY, 0))
		}
	}
}

// appendTension adds the pull of a tension at either end of a piece.
func appendTension(dst []plane.Load, sh *frame.Shape, tension float64) []plane.Load {
	cos, sin := sh.SlopeAt(0)
	endCos, endSin := sh.SlopeAt(sh.Length)
	return append(dst, plane.Force(0, -tension*cos, -tension*sin), plane.Force(sh.Length, tension*endCos, tension*endSin))
}

// solveCase fills one case: the whole, and where the load of a variable case can be on some stretches and not on
// others, each stretch alone.
func (a *Analyst) solveCase(piece int32, c int, arranged bool) error {
	e, t, w := &a.effects, a.t, a.w
	k := &e.Cases[c]
	k.Acts = true
	if a.solvesAlone(piece) {
		out, err := w.member.Reactions(k.Reactions, w.loads[c])
		if err != nil {
			return err
		}
		k.Reactions = out
	} else {
		for _, i := range e.Supports {
			k.Reactions = append(k.Reactions, a.inPlane(piece, i, c))
		}
	}
	if err := a.draw(&k.Full, w.loads[c], k.Reactions); err != nil {
		return err
	}
	if !arranged || t.Cases[c].Permanent {
		k.Parts = append(k.Parts, Arrangement{Diagram: &k.Full, Reactions: k.Reactions})
		return nil
	}
	for _, span := range e.Spans {
		a.part = a.part[:0]
		for i := range w.loads[c] {
			a.part = appendClipped(a.part, w.loads[c][i], span.From, span.To, span.To >= t.Frame.Shape(piece).Length)
		}
		if len(a.part) == 0 {
			continue
		}
		reactions, err := w.member.Reactions(nil, a.part)
		if err != nil {
			return err
		}
		d := a.diagram()
		if err := a.draw(d, a.part, reactions); err != nil {
			return err
		}
		k.Parts = append(k.Parts, Arrangement{Diagram: d, Reactions: reactions})
	}
	return nil
}

// solvesAlone says whether the plane solver finds the piece's reactions; those of posts, struts and couples are known.
func (a *Analyst) solvesAlone(piece int32) bool {
	return !a.t.Frame.Shape(piece).Upright && a.t.headPush[piece] == nil && !a.coupled(piece)
}

// draw fills a diagram, with the deflection where the stiffness is known.
func (a *Analyst) draw(d *plane.Diagram, loads []plane.Load, reactions []plane.Reaction) error {
	if a.outside {
		return nil
	}
	if err := a.w.member.Diagram(d, loads, reactions); err != nil {
		return err
	}
	switch err := a.w.member.Deflect(d); {
	case errors.Is(err, plane.ErrStiffness):
		a.effects.NoStiff = "its stiffness is not known"
	case err != nil:
		a.effects.NoStiff = saying(err)
	}
	return nil
}

func (a *Analyst) diagram() *plane.Diagram {
	if a.used == len(a.spare) {
		a.spare = append(a.spare, &plane.Diagram{})
	}
	a.used++
	return a.spare[a.used-1]
}

// inPlane is a support's push in the piece's own plane.
func (a *Analyst) inPlane(piece, support int32, c int) plane.Reaction {
	sh := a.t.Frame.Shape(piece)
	r := a.t.Reaction(support, c)
	out := plane.Reaction{Z: r.Z}
	if !sh.Upright {
		out.U = r.X*sh.DirX + r.Y*sh.DirY
	}
	return out
}

// appendClipped adds what of a load stands on a stretch; a point at the joint of two stretches belongs to the later.
func appendClipped(out []plane.Load, l plane.Load, from, to float64, last bool) []plane.Load {
	if l.To <= l.From {
		if l.From >= from && (l.From < to || last && l.From <= to) {
			out = append(out, l)
		}
		return out
	}
	a, b := max(l.From, from), min(l.To, to)
	if b <= a {
		return out
	}
	at := func(s, v0, v1 float64) float64 { return v0 + (v1-v0)*(s-l.From)/(l.To-l.From) }
	return append(out, plane.Load{From: a, To: b,
		U0: at(a, l.U0, l.U1), U1: at(b, l.U0, l.U1), Z0: at(a, l.Z0, l.Z1), Z1: at(b, l.Z0, l.Z1)})
}

// Range is the largest and the smallest value of a quantity between two places of the piece in a combination. Variable
// load counts where it makes things worse. ok is false where nothing acts or the quantity is not known.
func (e *Effects) Range(k *region.Combination, q plane.Quantity, from, to float64) (largest, smallest plane.Extreme, ok bool) {
	if !e.use(k) {
		return largest, smallest, false
	}
	largest, smallest, err := e.envelope.Range(q, from, to)
	return largest, smallest, err == nil
}

// At is Range at one side of one place, with the forces that act together there.
func (e *Effects) At(k *region.Combination, q plane.Quantity, s float64, side plane.Side) (largest, smallest plane.Peak, ok bool) {
	if !e.use(k) {
		return largest, smallest, false
	}
	largest, smallest, err := e.envelope.At(q, s, side)
	return largest, smallest, err == nil
}

// Acting is the forces of one arrangement of one case at one place.
type Acting struct {
	Case   int // unitTension: of 1 N in what ties a couple
	Forces plane.Forces
}

const unitTension = -1

// Forces is what each arrangement of each case brings to one side of a place. The slice holds until the next call.
func (e *Effects) Forces(s float64, side plane.Side) []Acting {
	e.acting = e.acting[:0]
	e.place.s, e.place.side, e.standing = s, side, [2][plane.Moment + 1][2]standing{}
	for c := range e.Cases {
		if !e.Cases[c].Acts {
			continue
		}
		for _, part := range e.Cases[c].Parts {
			e.acting = append(e.acting, Acting{c, part.Diagram.At(s, side)})
		}
	}
	if len(e.drawn) > 0 {
		e.acting = append(e.acting, Acting{Forces: e.unit.Diagram.At(s, side), Case: unitTension})
	}
	return e.acting
}

// Together sums forces at the place that Forces was last asked about in a combination: the variable ones count where they
// make a quantity larger (sense +1) or smaller (sense -1), and what may stand anywhere stands where it does so most.
func (e *Effects) Together(k *region.Combination, acting []Acting, q plane.Quantity, sense float64) plane.Forces {
	var sum plane.Forces
	for i := range acting {
		a := &acting[i]
		v := a.Forces.M
		switch q {
		case plane.Axial:
			v = a.Forces.N
		case plane.Shear:
			v = a.Forces.V
		}
		add := func(factor float64) {
			sum.N, sum.V, sum.M = sum.N+factor*a.Forces.N, sum.V+factor*a.Forces.V, sum.M+factor*a.Forces.M
		}
		if a.Case == unitTension {
			for _, factor := range e.drawing(k) {
				if v*factor*sense > 0 {
					add(factor)
				}
			}
		} else if factor := k.Factors[a.Case]; factor != 0 && (e.permanent[a.Case] || v*factor*sense > 0) {
			add(factor)
		}
	}
	sum.Add(e.stood(k, q, sense), 1)
	return sum
}

// Alike says for each combination which is the first that acts in the same way on the piece: only the cases that load it
// tell combinations apart. It must not be changed.
func (e *Effects) Alike(combinations []region.Combination) []int {
	if len(combinations) == 0 || len(e.Cases) > 64 || len(e.roaming) > 0 || len(e.drawn) > 0 {
		return e.tellApart(combinations)
	}
	if len(e.alikeOf) != len(combinations) || &e.alikeOf[0] != &combinations[0] {
		e.alike, e.alikeOf = map[uint64][]int{}, combinations
	}
	acts := uint64(0)
	for c := range e.Cases {
		if e.Cases[c].Acts {
			acts |= 1 << c
		}
	}
	known, ok := e.alike[acts]
	if !ok {
		known = e.tellApart(combinations)
		e.alike[acts] = known
	}
	return known
}

func (e *Effects) tellApart(combinations []region.Combination) []int {
	out := make([]int, len(combinations))
	for k := range combinations {
		out[k] = k
		for j := range k {
			if out[j] == j && combinations[j].State == combinations[k].State && e.same(combinations[j].Factors, combinations[k].Factors) &&
				e.weights(&combinations[j]) == e.weights(&combinations[k]) && e.drawing(&combinations[j]) == e.drawing(&combinations[k]) {
				out[k] = j
				break
			}
		}
	}
	return out
}

func (e *Effects) same(a, b []float64) bool {
	for c := range e.Cases {
		if e.Cases[c].Acts && a[c] != b[c] {
			return false
		}
	}
	return true
}

// use sets the envelope for a combination, and says whether anything acts in it.
func (e *Effects) use(k *region.Combination) bool {
	moves := e.weigh(k)
	acts := func() bool { return len(e.envelope.Permanent)+len(e.envelope.Variable) > 0 || moves }
	if len(e.drawn) == 0 && len(k.Factors) == len(e.combination) && len(k.Factors) > 0 && &k.Factors[0] == &e.combination[0] {
		return acts()
	}
	e.combination = k.Factors
	e.envelope.Permanent, e.envelope.Variable = e.envelope.Permanent[:0], e.envelope.Variable[:0]
	for c := range e.Cases {
		factor := k.Factors[c]
		if factor == 0 || !e.Cases[c].Acts {
			continue
		}
		for _, part := range e.Cases[c].Parts {
			p := plane.Part{Diagram: part.Diagram, Factor: factor}
			if e.permanent[c] {
				e.envelope.Permanent = append(e.envelope.Permanent, p)
			} else {
				e.envelope.Variable = append(e.envelope.Variable, p)
			}
		}
	}
	for _, factor := range e.drawing(k) {
		if factor != 0 {
			e.envelope.Variable = append(e.envelope.Variable, plane.Part{Diagram: e.unit.Diagram, Factor: factor})
		}
	}
	return acts()
}

// Reaction is the largest and the smallest upward push of a support on the piece in a combination, N, and the push
// along the piece's plan direction that goes with the largest.
func (e *Effects) Reaction(k *region.Combination, support int) (largest, smallest, along float64) {
	for c := range e.Cases {
		factor := k.Factors[c]
		if factor == 0 || !e.Cases[c].Acts {
			continue
		}
		for _, part := range e.Cases[c].Parts {
			r := part.Reactions[support]
			z := factor * r.Z
			switch {
			case e.permanent[c]:
				largest, smallest, along = largest+z, smallest+z, along+factor*r.U
			case z > 0:
				largest, along = largest+z, along+factor*r.U
			default:
				smallest += z
			}
		}
	}
	for _, factor := range e.drawing(k) {
		if factor != 0 { // of a bent tie alone
			z := factor * e.unit.Reactions[support].Z
			largest, smallest = largest+max(0, z), smallest+min(0, z)
		}
	}
	p := e.roaming.Push(k, support)
	return largest + p.Up, smallest + p.Down, along + p.Along
}

// Sideways is the most that what may stand anywhere pushes a support along the piece's plan direction in a combination, N.
func (e *Effects) Sideways(k *region.Combination, support int) float64 {
	return e.roaming.Push(k, support).Sideways
}
