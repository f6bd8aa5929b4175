package statics

import (
	"errors"
	"fmt"
	"math"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
)

// Force is a force in space, N; Z is up.
type Force struct{ X, Y, Z float64 }

func (f *Force) add(g Force)  { f.X += g.X; f.Y += g.Y; f.Z += g.Z }
func (f Force) minus() Force  { return Force{-f.X, -f.Y, -f.Z} }
func (f Force) size() float64 { return max(math.Abs(f.X), math.Abs(f.Y), math.Abs(f.Z)) }

// TakeDown is the loads of a frame taken down to the ground, case by case. Reactions are pushes of the support on the
// piece. It keeps what is needed to work out the effects in any piece, not the effects themselves.
type TakeDown struct {
	*Input
	Remarks []Remark

	own      *ownLoads
	kept     []bool         // of Again, by piece: taken over; nil: none
	frozen   []bool         // likewise: what is passed to it is taken over
	only     map[int32]bool // pieces whose own loads count; nil: all
	whole    *TakeDown      // of a Part: the take-down that it is part of
	cases    int
	reaction []Force // by support and case
	unsolved []int32 // by piece: index into reasons; 0 is solved
	reasons  []string
	known    map[string]int32 // reasons by their text
	passed   map[int32][]item // loads that bedded pieces pass on, by the piece that they land on
	pulls    map[int32][]pull // pulls of ties, by rafter
	tension  map[int32][]float64
	headPush map[int32][]Force // by strut: what must hold its head sideways
	ground   map[int32][]Force // by ground piece: what has arrived

	Applied    []Force   // by case
	Arrived    []Force   // by case
	Unresolved []Force   // by case: stopped at pieces that could not be solved
	Held       []Force   // by case: sideways, held at the heads of struts by what they prop
	scale      []float64 // by case: the size of all loads, upwards or downwards
}

// item is a load on a piece in space: a line between two places, or a point. Forces are per length or whole.
type item struct {
	kase     int32
	from, to float64
	f0, f1   Force
}

// pull is the pull of a tie on a rafter at one place, in the rafter's own plane, by case.
type pull struct {
	at   float64
	tie  int32 // piece; -1 where nothing stands that would take it
	u, z []float64
}

// Run takes the loads of a frame down. It never fails: a piece that cannot be solved passes nothing on, and says why.
func Run(in *Input) *TakeDown {
	t := newTakeDown(in, in.ownLoads())
	t.Remarks = t.own.notes
	t.run()
	return t
}

func newTakeDown(in *Input, own *ownLoads) *TakeDown {
	t := &TakeDown{Input: in, own: own, cases: len(in.Cases), reasons: []string{""}}
	f := in.Frame
	t.reaction = make([]Force, len(f.Supports)*t.cases)
	t.unsolved, t.known = make([]int32, len(f.Pieces)), map[string]int32{}
	t.passed, t.pulls = map[int32][]item{}, map[int32][]pull{}
	t.tension, t.headPush, t.ground = map[int32][]float64{}, map[int32][]Force{}, map[int32][]Force{}
	t.Applied, t.Arrived = make([]Force, t.cases), make([]Force, t.cases)
	t.Unresolved, t.Held = make([]Force, t.cases), make([]Force, t.cases)
	t.scale = make([]float64, t.cases)
	return t
}

// run takes up the pieces in their order.
func (t *TakeDown) run() {
	f := t.Frame
	w := newWorker(t)
	done := make([]bool, len(f.Pieces))
	for _, piece := range f.Order {
		t.apply(piece)
		if t.kept != nil && t.kept[piece] {
			done[piece] = true
			continue
		}
		if c := f.CoupleOf(piece); c != nil {
			other := c.Rafters[0]
			if other == piece {
				other = c.Rafters[1]
			}
			done[piece] = true
			if done[other] {
				w.couple(c)
			}
			continue
		}
		done[piece] = true
		w.solve(piece)
	}
	for i := range f.Pieces {
		if piece := int32(i); !done[i] {
			t.apply(piece)
			w.gather(piece)
			w.stop(piece, "it rests, hop by hop, on itself")
		} else if c := f.CoupleOf(piece); c != nil && !(done[c.Rafters[0]] && done[c.Rafters[1]]) {
			w.gather(piece)
			w.stop(piece, "the rafter that it leans on could not be solved")
		}
	}
}

// Reaction is the push of a support on its piece in one case.
func (t *TakeDown) Reaction(support int32, kase int) Force {
	return t.reaction[int(support)*t.cases+kase]
}

// Unsolved is why a piece's reactions could not be worked out, or empty.
func (t *TakeDown) Unsolved(piece int32) string { return t.reasons[t.unsolved[piece]] }

// ArrivedAt is what has arrived at a ground piece in one case.
func (t *TakeDown) ArrivedAt(piece int32, kase int) Force {
	if g := t.ground[piece]; g != nil {
		return g[kase]
	}
	return Force{}
}

// LoadOn is all that acts down on a piece in one case: its own loads and weight, and what lands on it, N.
func (t *TakeDown) LoadOn(piece int32, kase int) float64 {
	p := t.Frame.Pieces[piece]
	sum := 0.0
	for _, o := range t.own.of(p.Member) {
		if int(o.kase) == kase {
			sum -= total(&t.Frame.Shapes[p.Member], &o.load).Z
		}
	}
	for _, i := range t.Frame.LandingsOn(piece) {
		sum += t.Reaction(i, kase).Z
	}
	return sum
}

// Tension is the pull in a piece that ties couples, by case; nil for others.
func (t *TakeDown) Tension(piece int32) []float64 { return t.tension[piece] }

// HeadPush is what must hold a strut's head sideways, by case; nil for others.
func (t *TakeDown) HeadPush(piece int32) []Force { return t.headPush[piece] }

// Imbalance is the largest difference between what was applied and what is accounted for, in any case and direction,
// relative to what was applied.
func (t *TakeDown) Imbalance() float64 {
	worst := 0.0
	for c := range t.cases {
		rest := t.Applied[c]
		rest.add(t.Arrived[c].minus())
		rest.add(t.Unresolved[c].minus())
		rest.add(t.Held[c].minus())
		if size := t.scale[c]; size > 0 {
			worst = max(worst, rest.size()/size)
		}
	}
	return worst
}

// apply counts a piece's own loads as applied, straight from the loads and not from any reaction.
func (t *TakeDown) apply(piece int32) {
	sh := t.Frame.Shape(piece)
	for _, o := range t.ownOf(piece) {
		t.Applied[o.kase].add(total(sh, &o.load))
		t.scale[o.kase] += gross(&o.load)
	}
}

// ownOf is the loads of a piece itself.
func (t *TakeDown) ownOf(piece int32) []own {
	if t.only != nil && !t.only[piece] {
		return nil
	}
	return t.own.of(t.Frame.Pieces[piece].Member)
}

// total is the resultant of a load in a member's plane, in space.
func total(sh *frame.Shape, l *plane.Load) Force {
	u, z := l.U0, l.Z0
	if l.To > l.From {
		u, z = (l.U0+l.U1)/2*(l.To-l.From), (l.Z0+l.Z1)/2*(l.To-l.From)
	}
	return Force{u * sh.DirX, u * sh.DirY, z}
}

// gross is the size of a load, of one that changes sign on its way both parts of it.
func gross(l *plane.Load) float64 {
	if l.To > l.From {
		return (math.Abs(l.U0) + math.Abs(l.U1) + math.Abs(l.Z0) + math.Abs(l.Z1)) / 2 * (l.To - l.From)
	}
	return math.Abs(l.U0) + math.Abs(l.Z0)
}

// worker holds the scratch of one run.
type worker struct {
	t        *TakeDown
	member   plane.Member
	pair     plane.Couple
	loads    [][]plane.Load // by case, in the piece's own plane
	lateral  [][]sideways   // by case
	loose    []Force        // by case: level force on a piece that has no direction in plan
	applied  []Force        // by case: all that acts on the piece
	points   []plane.Point
	supports []plane.Support
	holding  []int32 // supports of the piece that hold it
	out      []plane.Reaction
	nowhere  bool // a load lands at a place that nobody says
}

// sideways is a level force square to a piece's plane.
type sideways struct{ at, v float64 }

func newWorker(t *TakeDown) *worker {
	return &worker{t: t, loads: make([][]plane.Load, t.cases), lateral: make([][]sideways, t.cases),
		loose: make([]Force, t.cases), applied: make([]Force, t.cases)}
}

// gather collects everything that acts on a piece: its own loads, what lands on it, and what bedded pieces pass on.
func (w *worker) gather(piece int32) {
	t := w.t
	f := t.Frame
	sh := f.Shape(piece)
	for c := range t.cases {
		w.loads[c], w.lateral[c] = w.loads[c][:0], w.lateral[c][:0]
		w.loose[c], w.applied[c] = Force{}, Force{}
	}
	w.nowhere = false
	for _, o := range t.ownOf(piece) {
		w.loads[o.kase] = append(w.loads[o.kase], o.load)
		w.applied[o.kase].add(total(sh, &o.load))
	}
	for _, i := range f.LandingsOn(piece) {
		s := &f.Supports[i]
		if s.Continuous {
			continue // comes through passed
		}
		at := s.OnAt
		if at < 0 && !sh.Upright && !f.Member(piece).Ground {
			w.nowhere = true
			at = 0
		}
		for c := range t.cases {
			if r := t.Reaction(i, c); r != (Force{}) {
				w.land(sh, item{kase: int32(c), from: at, to: at, f0: r.minus()})
			}
		}
	}
	for _, p := range t.passed[piece] {
		if p.from < 0 && !sh.Upright && !f.Member(piece).Ground {
			w.nowhere = true
		}
		w.land(sh, p)
	}
}

// land adds a load in space to a piece.
func (w *worker) land(sh *frame.Shape, p item) {
	c := p.kase
	resultant := p.resultant()
	l := plane.Load{From: p.from, To: p.to, Z0: p.f0.Z}
	l.U0 = p.f0.X*sh.DirX + p.f0.Y*sh.DirY
	v := p.f0.Y*sh.DirX - p.f0.X*sh.DirY
	if p.to > p.from {
		l.Z1 = p.f1.Z
		l.U1 = p.f1.X*sh.DirX + p.f1.Y*sh.DirY
		v = resultant.Y*sh.DirX - resultant.X*sh.DirY
	} else if sh.Known {
		l.From = min(max(0, l.From), sh.Length)
		l.To = l.From
	}
	w.applied[c].add(resultant)
	if sh.DirX == 0 && sh.DirY == 0 { // upright, or a ring
		w.loose[c].X += resultant.X
		w.loose[c].Y += resultant.Y
		l.U0, l.U1 = 0, 0
	} else if v != 0 {
		w.lateral[c] = append(w.lateral[c], sideways{(p.from + p.to) / 2, v})
	}
	if l.Z0 != 0 || l.Z1 != 0 || l.U0 != 0 || l.U1 != 0 {
		w.loads[c] = append(w.loads[c], l)
	}
}

// stop records that a piece passes nothing on.
func (w *worker) stop(piece int32, why string) {
	t := w.t
	index, known := t.known[why]
	if !known {
		index = int32(len(t.reasons))
		t.reasons, t.known[why] = append(t.reasons, why), index
	}
	t.unsolved[piece] = index
	supports, from := t.Frame.SupportsOf(piece)
	clear(t.reaction[int(from)*t.cases : (int(from)+len(supports))*t.cases])
	for c := range t.cases {
		t.Unresolved[c].add(w.applied[c])
	}
}

// solve works out one piece and passes its load on.
func (w *worker) solve(piece int32) {
	f := w.t.Frame
	w.gather(piece)
	if f.Member(piece).Ground {
		w.arrive(piece)
		return
	}
	if whole := w.t.whole; whole != nil && whole.unsolved[piece] != 0 {
		w.stop(piece, whole.Unsolved(piece))
		return
	}
	w.alone(piece, w.hold(piece))
}

// hold lists the supports that hold a piece, and says whether it lies along one.
func (w *worker) hold(piece int32) (bedded bool) {
	w.holding = w.holding[:0]
	supports, from := w.t.Frame.SupportsOf(piece)
	for k := range supports {
		if supports[k].Holds() {
			w.holding = append(w.holding, from+int32(k))
			bedded = bedded || supports[k].Continuous
		}
	}
	return bedded
}

// alone works out a piece that leans on nothing, on the supports that hold it.
func (w *worker) alone(piece int32, bedded bool) {
	m, sh := w.t.Frame.Member(piece), w.t.Frame.Shape(piece)
	switch {
	case len(w.holding) == 0:
		w.stop(piece, "nothing holds it up")
	case !sh.Known:
		w.stop(piece, "it has neither a path nor a length")
	case w.nowhere:
		w.stop(piece, "a load lands on it at a place that neither a path nor the document tells")
	case bedded:
		w.bedded(piece)
	case folds(m, sh) != "":
		w.stop(piece, folds(m, sh))
	case sh.Upright:
		w.upright(piece)
	case w.isStrut(m, sh):
		w.strut(piece)
	default:
		w.beam(piece)
	}
}

// folds says why a piece with a joint between its ends that is a hinge, or may be one, is not worked out: taken for one stiff length
// it would seem to stand where it folds. A hinge at an end is what the statics takes every end for.
func folds(m *model.Member, sh *frame.Shape) string {
	for _, j := range m.More().Joints {
		atEnd := j.At.Known && (j.At.Value < onePlace || j.At.Value > sh.Length-onePlace)
		if j.Kind == "rigid" || atEnd {
			continue
		}
		where := ", and where is not stated"
		if j.At.Known {
			where = fmt.Sprintf(" %.0f mm along", j.At.Value)
		}
		if j.Kind == "hinge" {
			return "it has a hinge" + where + ": make it two members, of which one rests on the other there"
		}
		return "it has a joint" + where + ", and nobody says whether it is rigid or a hinge at which the member folds"
	}
	return ""
}

// isStrut says whether a member that slopes stands on one support and is held at its head by what it props.
func (w *worker) isStrut(m *model.Member, sh *frame.Shape) bool {
	if len(w.holding) != 1 || sh.Upright || sh.Slope < 0.1 {
		return false
	}
	if d := w.t.Frame.Supports[w.holding[0]].Document; d >= 0 && m.Supports[d].Fixed {
		return false
	}
	return m.Role == model.RoleStrut || m.Role == model.RolePost || m.Role == model.RoleStud
}

// arrive takes in what has come to a ground piece.
func (w *worker) arrive(piece int32) {
	g := make([]Force, w.t.cases)
	copy(g, w.applied)
	w.t.ground[piece] = g
	for c := range g {
		w.t.Arrived[c].add(g[c])
	}
}

// upright passes everything on to the lowest support. A post is an axial member: what pushes its head sideways goes
// down with the rest and is a fact that packs judge.
func (w *worker) upright(piece int32) {
	t, f := w.t, w.t.Frame
	lowest := w.holding[0]
	for _, i := range w.holding[1:] {
		if f.Point(piece, f.Supports[i].At).Z < f.Point(piece, f.Supports[lowest].At).Z {
			lowest = i
		}
	}
	for c := range t.cases {
		t.reaction[int(lowest)*t.cases+c] = w.applied[c].minus()
	}
}

// strut is a sloping prop on one support: two forces in line but for its own weight, so that its head must be held
// sideways by what it props. Moments about the foot give that push.
func (w *worker) strut(piece int32) {
	t, f := w.t, w.t.Frame
	sh := f.Shape(piece)
	foot := w.holding[0]
	at := f.Supports[foot].At
	head := sh.Length
	if at > sh.Length/2 {
		head = 0
	}
	p, q := sh.At(at), sh.At(head)
	rise := q.Z - p.Z
	if math.Abs(rise) < 1 {
		w.stop(piece, "it lies level on one support: it would swing")
		return
	}
	push := make([]Force, t.cases)
	for c := range t.cases {
		moment := 0.0 // of all loads about the foot, clockwise seen with u to the right
		for i := range w.loads[c] {
			moment += momentAbout(sh, &w.loads[c][i], p)
		}
		// A level push h at the head balances: h * rise + moment = 0.
		h := -moment / rise
		push[c] = Force{h * sh.DirX, h * sh.DirY, 0}
		r := w.applied[c]
		r.add(push[c])
		t.reaction[int(foot)*t.cases+c] = r.minus()
		t.Held[c].add(push[c].minus())
	}
	t.headPush[piece] = push
}

// momentAbout is the clockwise moment of a load about a point of the member's axis (u to the right), N mm.
func momentAbout(sh *frame.Shape, l *plane.Load, about model.Point) float64 {
	at := func(s float64) (u, z float64) {
		p := sh.At(s)
		return (p.X-about.X)*sh.DirX + (p.Y-about.Y)*sh.DirY, p.Z - about.Z
	}
	if l.To <= l.From {
		u, z := at(l.From)
		return l.U0*z - l.Z0*u
	}
	// Simpson's rule is exact for a trapezoid on a straight axis.
	mid := (l.From + l.To) / 2
	sum := 0.0
	for _, p := range [3]struct{ s, weight, u, z float64 }{
		{l.From, 1, l.U0, l.Z0}, {mid, 4, (l.U0 + l.U1) / 2, (l.Z0 + l.Z1) / 2}, {l.To, 1, l.U1, l.Z1},
	} {
		u, z := at(p.s)
		sum += p.weight * (p.u*z - p.z*u)
	}
	return sum * (l.To - l.From) / 6
}

// beam solves a piece in its own upright plane.
func (w *worker) beam(piece int32) {
	t, f := w.t, w.t.Frame
	if err := w.set(piece); err != nil {
		w.stop(piece, saying(err))
		return
	}
	for c := range t.cases {
		if w.loose[c] != (Force{}) {
			w.stop(piece, "it is pushed sideways, and a path that ends where it began has no plane to solve that in")
			return
		}
		if len(w.loads[c]) == 0 && len(w.lateral[c]) == 0 {
			continue
		}
		out, err := w.member.Reactions(w.out[:0], w.loads[c])
		w.out = out
		if err != nil {
			w.stop(piece, saying(err))
			return
		}
		sh := f.Shape(piece)
		for k, i := range w.holding {
			r := &t.reaction[int(i)*t.cases+c]
			r.add(Force{out[k].U * sh.DirX, out[k].U * sh.DirY, out[k].Z})
		}
		w.sideways(piece, c)
	}
}

// aside is the push that holds a level force square to a piece's plane.
func aside(sh *frame.Shape, v float64) Force { return Force{v * sh.DirY, -v * sh.DirX, 0} }

// sideways shares level forces square to a piece's plane between the supports on either side, by the lever.
func (w *worker) sideways(piece int32, c int) {
	t, f := w.t, w.t.Frame
	sh := f.Shape(piece)
	give := func(support int32, v float64) { t.reaction[int(support)*t.cases+c].add(aside(sh, v)) }
	for _, l := range w.lateral[c] {
		before, after := int32(-1), int32(-1)
		for _, i := range w.holding {
			at := f.Supports[i].At
			if at <= l.at && (before < 0 || at > f.Supports[before].At) {
				before = i
			}
			if at > l.at && (after < 0 || at < f.Supports[after].At) {
				after = i
			}
		}
		switch {
		case before < 0:
			give(after, l.v)
		case after < 0:
			give(before, l.v)
		default:
			a, b := f.Supports[before].At, f.Supports[after].At
			part := (l.at - a) / (b - a)
			give(before, l.v*(1-part))
			give(after, l.v*part)
		}
	}
}

// set hands a piece to the plane solver.
func (w *worker) set(piece int32) error {
	t, f := w.t, w.t.Frame
	p := f.Pieces[piece]
	m, sh := f.Member(piece), f.Shape(piece)
	w.points = appendPlane(w.points[:0], sh)
	w.supports = w.supports[:0]
	lowest, said := -1, false
	for k, i := range w.holding {
		s := &f.Supports[i]
		ps := plane.Support{At: s.At}
		if s.Document >= 0 {
			ps.Horizontal, ps.Fixed = m.Supports[s.Document].Horizontal, m.Supports[s.Document].Fixed
		}
		for j := range w.supports {
			if math.Abs(w.supports[j].At-ps.At) < onePlace {
				return &plane.Error{Kind: plane.ErrCoincident, Of: "support", Index: k, At: ps.At, Text: fmt.Sprintf("support %d stands there too: make them one", j+1)}
			}
		}
		said = said || ps.Horizontal || ps.Fixed
		if lowest < 0 || sh.At(s.At).Z < sh.At(f.Supports[w.holding[lowest]].At).Z-1e-6 {
			lowest = k
		}
		w.supports = append(w.supports, ps)
	}
	if m.Thrust && len(w.supports) > 1 {
		first, last := 0, 0
		for k := range w.supports {
			if w.supports[k].At < w.supports[first].At {
				first = k
			}
			if w.supports[k].At > w.supports[last].At {
				last = k
			}
		}
		w.supports[first].Horizontal, w.supports[last].Horizontal = true, true
	} else if !said {
		w.supports[lowest].Horizontal = true
	}
	for k := range w.supports {
		if w.supports[k].Fixed {
			w.supports[k].Horizontal = true
		}
	}
	return w.member.Set(w.points, w.supports, t.Stiffness(p.Member))
}

// onePlace is how near two supports are one, mm: nothing is built to hold by a lever of less.
const onePlace = 1

// appendPlane unfolds an axis into its own upright plane.
func appendPlane(points []plane.Point, sh *frame.Shape) []plane.Point {
	u := 0.0
	for i, p := range sh.Points {
		if i > 0 && !sh.Upright {
			u += math.Hypot(p.X-sh.Points[i-1].X, p.Y-sh.Points[i-1].Y)
		}
		points = append(points, plane.Point{U: u, Z: p.Z - sh.Points[0].Z})
	}
	return points
}

// Stiffness is a member's, from its mean short-term modulus, N and N mm2; zero where it is not known. The layers of a sandwich bend together, each by its own
// modulus, about one level axis at mid-depth.
func (t *TakeDown) Stiffness(member int32) plane.Stiffness {
	s := t.Frame.Document.Members[member].Section
	if s == nil {
		return plane.Stiffness{}
	}
	if s.Shape == model.Layered {
		var k plane.Stiffness
		for _, l := range s.Layers {
			g := t.Grades[l.Grade]
			if g.E <= 0 {
				return plane.Stiffness{}
			}
			k.EA += g.E * l.Width * l.Depth
			k.EI += g.E * l.Width * l.Depth * l.Depth * l.Depth / 12
		}
		return k
	}
	e := t.Materials[member].E
	if e <= 0 {
		return plane.Stiffness{}
	}
	return plane.Stiffness{EA: e * s.Area, EI: e * s.Iy}
}

// saying is the solver's error as a take-down prints it.
func saying(err error) string {
	var e *plane.Error
	switch {
	case errors.Is(err, plane.ErrStiffness):
		return "it is held at more places than equilibrium can tell apart, and its stiffness is not known"
	case errors.As(err, &e) && errors.Is(err, plane.ErrMechanism):
		return e.Text
	case errors.As(err, &e):
		return e.Error()
	}
	return err.Error()
}
