package facts

import (
	"math"
	"slices"

	"example.com/scantling/engine/statics"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// summary is what the effects in one class of pieces come to. Each part is filled when a fact first needs it.
type summary struct {
	supports              []supportSummary // by support of the piece
	total                 numberValue
	tieForce              numberValue
	footThrust            numberValue
	footThrustService     numberValue
	draws                 []draw // on the ties of a couple's rafter, in the order of the couple
	thrust, headPush      float64
	moment, shear         numberValue
	tension, compression  numberValue
	deflection            numberValue
	deflectionRatio       numberValue
	roller                numberValue
	kinkMoment, kinkAxial numberValue
	kinkShear             numberValue
}

// supportSummary is the reactions of one support.
type supportSummary struct {
	down, service, uplift, upliftService, push, pushService numberValue
}

// effect is a part of the summaries.
type effect int

const (
	ofNone effect = iota
	ofReactions
	ofForces
	ofDeflection
	ofBends
	ofArrivals // what the reactions bring to the ground
	effects
)

const (
	noCombinations = "without a region there are no combinations for strength"
	noInside       = "nothing inside it is worked out: it lies along what carries it, or stands on the ground"
	noBend         = "it has no bend"
)

// classesAtATime is how many classes one goroutine takes at a time.
const classesAtATime = 64

// workOut fills a part of the summaries, once.
func (w *work) workOut(part effect) {
	if part == ofNone || w.worked[part] {
		return
	}
	w.worked[part] = true
	if part == ofArrivals {
		w.land()
		return
	}
	inParts(len(w.Classes.First), classesAtATime, func() func(_, from, to int) {
		a := w.down.NewAnalyst()
		return func(_, from, to int) {
			for class := from; class < to; class++ {
				if from := w.summaryOf(part, int32(class)); from != nil {
					w.summary[class].take(part, from)
				} else {
					w.summarise(a, part, w.Classes.First[class], &w.summary[class])
				}
			}
		}
	})
}

// summarise works out a part for one class.
func (w *work) summarise(a *statics.Analyst, part effect, piece int32, s *summary) {
	if part == ofReactions {
		e := a.Reactions(piece)
		s.supports = w.reactions(e, piece)
		s.total = w.totalLoad(piece)
		s.thrust, s.headPush = w.thrust(e, piece), w.headPush(w.strongest(), piece)
		s.footThrust, s.footThrustService = w.footThrust(e, piece, w.strong), w.footThrust(e, piece, w.service)
		s.draws = w.draws(a, piece)
		s.tieForce = w.tieForce(piece, s.draws)
		return
	}
	sh := w.frame.Shape(piece)
	none := noNumber(noInside)
	switch part {
	case ofForces:
		s.moment, s.shear, s.tension, s.compression = none, none, none, none
	case ofDeflection:
		s.deflection, s.deflectionRatio = none, none
	case ofBends:
		s.roller = num(0)
		if sh.Kinks == 0 {
			none = noNumber(noBend)
		} else if !w.frame.Member(piece).Thrust {
			s.roller = none
		}
		s.kinkMoment, s.kinkAxial, s.kinkShear = none, none, none
		if sh.Kinks == 0 {
			return
		}
	}
	e := a.Effects(piece)
	if e.Unsolved != "" || e.Bedded || len(e.Supports) == 0 || w.frame.Member(piece).Ground {
		return
	}
	if w.unmoved(e) > 0 {
		none := noNumber(notMoved)
		s.moment, s.shear, s.tension, s.compression, s.deflection, s.deflectionRatio = none, none, none, none, none, none
		s.roller, s.kinkMoment, s.kinkAxial, s.kinkShear = none, none, none, none
		return
	}
	switch part {
	case ofForces:
		w.forces(e, s, sh.Length)
	case ofDeflection:
		w.deflections(e, s, sh.Length)
	case ofBends:
		w.kinks(e, s, sh.S)
		if !w.frame.Member(piece).Thrust {
			s.roller = w.rollerMovement(e)
		}
	}
}

// draw is what may stand anywhere on the rafters of a couple brings to one of its ties.
type draw struct {
	of  statics.Draw
	why string // it is not worked out
}

// draws is what draws each tie of a rafter's couple.
func (w *work) draws(a *statics.Analyst, piece int32) []draw {
	c := w.frame.CoupleOf(piece)
	if c == nil {
		return nil
	}
	out := make([]draw, len(c.Ties))
	for i, t := range c.Ties {
		if t.Piece < 0 {
			continue
		}
		of, err := a.Draw(t.Piece)
		switch {
		case err != nil, of.Instead() > 0 && !w.moves:
			out[i].why = notMoved
		default:
			out[i].of = of
		}
	}
	return out
}

// tension is the largest pull in a tie in any of some combinations, what may stand anywhere on the rafters counted.
func (w *work) tension(combinations []int, tie int32, d *draw) numberValue {
	out := w.worstOf(combinations, w.down.Tension(tie))
	switch {
	case out.why != "":
		return out
	case d.why != "":
		return noNumber(d.why)
	}
	pull := w.down.Tension(tie)
	for _, k := range combinations {
		comb := &w.Source.Combinations[k]
		most, _ := d.of.Range(comb)
		out.v = max(out.v, most+w.sum(comb, func(c int) float64 { return pull[c] }))
	}
	return out
}

// tieForce is the largest tension in what ties a couple's rafter.
func (w *work) tieForce(piece int32, draws []draw) numberValue {
	c := w.frame.CoupleOf(piece)
	if c == nil {
		return noNumber("it is no rafter of a couple")
	}
	out := noNumber("nothing ties it")
	for i, t := range c.Ties {
		if t.Piece < 0 {
			continue
		}
		force := w.tension(w.strong, t.Piece, &draws[i])
		if force.why != "" {
			return force
		}
		out = num(max(out.v, force.v))
	}
	return out
}

// footThrust is what a hip whose head nothing holds up pushes at its foot in the worst of some combinations.
func (w *work) footThrust(e *statics.Effects, piece int32, combinations []int) numberValue {
	slope := w.frame.Shape(piece).Slope
	held, found := headHeld(w.frame, piece, topEnd(w.frame, piece))
	switch {
	case w.frame.Member(piece).Role != model.RoleHipRafter || slope <= 0:
		return noNumber("it is no hip rafter that slopes")
	case !found:
		return noNumber(noHead)
	case held:
		return noNumber("its head is held up")
	}
	out := w.headReaction(e, piece, combinations)
	if out.why == "" {
		out.v /= math.Tan(slope)
	}
	return out
}

// forces fills the largest moment, shear and axial forces of any combination for strength.
func (w *work) forces(e *statics.Effects, s *summary, length float64) {
	if len(w.strong) == 0 {
		none := noNumber(noCombinations)
		s.moment, s.shear, s.tension, s.compression = none, none, none, none
		return
	}
	s.moment, s.shear, s.tension, s.compression = num(0), num(0), num(0), num(0)
	alike := e.Alike(w.Source.Combinations)
	for _, k := range w.strong {
		if alike[k] != k {
			continue
		}
		comb := &w.Source.Combinations[k]
		if hi, lo, ok := e.Range(comb, plane.Moment, 0, length); ok {
			s.moment.v = max(s.moment.v, math.Abs(hi.Value), math.Abs(lo.Value))
		}
		if hi, lo, ok := e.Range(comb, plane.Shear, 0, length); ok {
			s.shear.v = max(s.shear.v, math.Abs(hi.Value), math.Abs(lo.Value))
		}
		if hi, lo, ok := e.Range(comb, plane.Axial, 0, length); ok {
			s.tension.v = max(s.tension.v, hi.Value)
			s.compression.v = max(s.compression.v, -lo.Value)
		}
	}
}

// deflections fills the largest deflection of any characteristic combination, and over its span.
func (w *work) deflections(e *statics.Effects, s *summary, length float64) {
	switch {
	case e.NoStiff != "":
		s.deflection = noNumber("its stiffness is not known: state a section and a grade")
		s.deflectionRatio = s.deflection
		return
	case len(w.service) == 0:
		s.deflection, s.deflectionRatio = noNumber(noCombinations), noNumber(noCombinations)
		return
	}
	s.deflection, s.deflectionRatio = num(0), num(0)
	spans := e.Spans
	if len(spans) == 0 {
		spans = []plane.Span{{To: length}}
	}
	alike := e.Alike(w.Source.Combinations)
	for _, k := range w.service {
		if alike[k] != k {
			continue
		}
		for _, span := range spans {
			if d, ok := e.Sag(&w.Source.Combinations[k], span); ok {
				s.deflection.v = max(s.deflection.v, d)
				if l := span.To - span.From; l > 0 {
					s.deflectionRatio.v = max(s.deflectionRatio.v, d/l)
				}
			}
		}
	}
}

// kinks fills the largest moment at a bend, with what acts there with it.
func (w *work) kinks(e *statics.Effects, s *summary, places []float64) {
	if len(w.strong) == 0 {
		none := noNumber(noCombinations)
		s.kinkMoment, s.kinkAxial, s.kinkShear = none, none, none
		return
	}
	s.kinkMoment, s.kinkAxial, s.kinkShear = num(0), num(0), num(0)
	for _, k := range w.strong {
		for _, at := range places[1 : len(places)-1] {
			comb := &w.Source.Combinations[k]
			for _, side := range [2]plane.Side{plane.Before, plane.After} {
				hi, lo, ok := e.At(comb, plane.Moment, at, side)
				if !ok {
					continue
				}
				for _, p := range [2]plane.Peak{hi, lo} {
					s.bend(math.Abs(p.Value), p.Forces.N, math.Abs(p.Forces.V))
				}
			}
		}
	}
}

// sameBend is how near two moments are one, as a part of them: those on the two sides of a bend.
const sameBend = 1e-9

// bend takes the forces on one side of a bend where its moment is larger than those before; of the two sides of one bend the larger
// force.
func (s *summary) bend(moment, axial, shear float64) {
	switch most := s.kinkMoment.v; {
	case moment > most*(1+sameBend):
		s.kinkMoment.v, s.kinkAxial.v, s.kinkShear.v = moment, axial, shear
	case moment >= most*(1-sameBend):
		if math.Abs(axial) > math.Abs(s.kinkAxial.v) {
			s.kinkAxial.v = axial
		}
		s.kinkShear.v = max(s.kinkShear.v, shear)
	}
}

func (w *work) rollerMovement(e *statics.Effects) numberValue {
	if e.NoStiff != "" {
		return noNumber("its stiffness is not known")
	}
	worst := 0.0
	for _, k := range w.service {
		for _, i := range e.Supports {
			if hi, lo, ok := e.At(&w.Source.Combinations[k], plane.Sway, w.frame.Supports[i].At, plane.After); ok {
				worst = max(worst, math.Abs(hi.Value), math.Abs(lo.Value))
			}
		}
	}
	return num(worst)
}

// reactions fills what each support of a piece pushes and is pushed. Pieces whose inside is not worked out (posts on
// several supports, bedded pieces) go by their cases alone.
func (w *work) reactions(e *statics.Effects, piece int32) []supportSummary {
	supports, from := w.frame.SupportsOf(piece)
	out := make([]supportSummary, len(supports))
	for k := range supports {
		none := noNumber(noCombinations)
		out[k] = supportSummary{down: none, service: none, uplift: none, upliftService: none, push: none, pushService: none}
		index := -1
		for j, i := range e.Supports {
			if i == from+int32(k) && e.Unsolved == "" {
				index = j
			}
		}
		both := func(comb *region.Combination) (down, up, along float64) {
			if index >= 0 {
				down, up, along = e.Reaction(comb, index)
				up = -up
			} else {
				down, up, along = w.caseReaction(comb, from+int32(k))
			}
			if !e.Moves() { // what may stand anywhere may all come down here
				down += w.down.Moving(w.frame.Pieces[piece].Member, comb)
			}
			if supports[k].Against { // one push holds the one head up and presses the other down
				down = max(down, up)
			}
			return down, up, along
		}
		if index >= 0 && w.unmoved(e) > 0 && e.Moves() {
			none := noNumber(notMoved)
			out[k].down, out[k].service, out[k].push, out[k].pushService = none, none, none, none
			continue
		}
		push := func(comb *region.Combination) float64 {
			push := w.casePush(comb, from+int32(k))
			if index >= 0 {
				push += e.Sideways(comb, index)
			}
			return push
		}
		for _, c := range w.strong {
			d, _, along := both(&w.Source.Combinations[c])
			out[k].down = atLeast(out[k].down, d)
			out[k].push = atLeast(out[k].push, max(math.Abs(along), push(&w.Source.Combinations[c])))
		}
		for _, c := range w.service {
			d, up, along := both(&w.Source.Combinations[c])
			out[k].service = atLeast(out[k].service, d)
			out[k].pushService = atLeast(out[k].pushService, max(math.Abs(along), push(&w.Source.Combinations[c])))
			out[k].upliftService = atLeast(out[k].upliftService, up)
		}
		for _, c := range w.steady {
			_, up, _ := both(&w.Source.Combinations[c])
			out[k].uplift = atLeast(out[k].uplift, up)
		}
		if len(w.strong) == 0 {
			out[k].push = noNumber(noCombinations)
			for _, c := range w.service {
				out[k].push = atLeast(out[k].push, push(&w.Source.Combinations[c]))
			}
		}
	}
	return out
}

// unmoved is what may stand anywhere on a piece, on a rafter that leans on it or on one that it ties, and is in none of its forces, N: where
// that is not worked out inside it, or no combination has a factor for it.
func (w *work) unmoved(e *statics.Effects) float64 {
	if w.moves {
		return e.Unmoved
	}
	return e.Unmoved + e.Instead() + e.Drawn()
}

// notMoved is why forces are absent on which such a load has a part.
const notMoved = "a load may stand anywhere along it, and what that does is not worked out: ask the engineer for its worst place"

// atLeast is the larger of a number that may be absent and v, never below 0.
func atLeast(n numberValue, v float64) numberValue {
	if n.why != "" {
		n = num(0)
	}
	n.v = max(n.v, v)
	return n
}

// caseReaction sums a support's reactions over the cases, the unfavourable ones each way.
func (w *work) caseReaction(k *region.Combination, support int32) (down, up, along float64) {
	sh := w.frame.Shape(w.frame.Supports[support].Piece)
	for c := range w.down.Cases {
		f := k.Factors[c]
		r := w.down.Reaction(support, c)
		z := f * r.Z
		switch {
		case w.down.Cases[c].Permanent:
			down, up = down+z, up-z
			along += f * (r.X*sh.DirX + r.Y*sh.DirY)
		case z > 0:
			down += z
			along += f * (r.X*sh.DirX + r.Y*sh.DirY)
		default:
			up -= z
		}
	}
	return down, up, along
}

// casePush is the largest level part of a support's reaction in a combination, N: variable cases count where they add to
// it, along the piece and across it.
func (w *work) casePush(k *region.Combination, support int32) float64 {
	sh := w.frame.Shape(w.frame.Supports[support].Piece)
	x, y := sh.DirX, sh.DirY
	if x == 0 && y == 0 {
		x = 1
	}
	along := w.largest(k, func(c int) float64 { r := w.down.Reaction(support, c); return r.X*x + r.Y*y })
	across := w.largest(k, func(c int) float64 { r := w.down.Reaction(support, c); return r.Y*x - r.X*y })
	return math.Hypot(along, across)
}

// largest is the larger of the sums of a quantity in a combination either way.
func (w *work) largest(k *region.Combination, byCase func(kase int) float64) float64 {
	return max(0, w.sum(k, byCase), w.sum(k, func(c int) float64 { return -byCase(c) }))
}

// sum is a quantity in a combination; variable cases count where they add to it.
func (w *work) sum(k *region.Combination, byCase func(kase int) float64) float64 {
	sum := 0.0
	for c := range w.down.Cases {
		v := k.Factors[c] * byCase(c)
		if w.down.Cases[c].Permanent || v > 0 {
			sum += v
		}
	}
	return sum
}

// worstOf is the largest of a quantity given by case in any of some combinations; variable cases count where they add.
func (w *work) worstOf(combinations []int, byCase []float64) numberValue {
	if byCase == nil {
		return noNumber("it could not be worked out")
	}
	if len(combinations) == 0 {
		return noNumber(noCombinations)
	}
	worst := 0.0
	for _, k := range combinations {
		worst = max(worst, w.sum(&w.Source.Combinations[k], func(c int) float64 { return byCase[c] }))
	}
	return num(worst)
}

// thrust is the largest push sideways at the feet of a rafter, N: what its own ties do not take.
func (w *work) thrust(e *statics.Effects, piece int32) float64 {
	if !slopes(w.frame.Shape(piece)) {
		return 0
	}
	worst := 0.0
	supports, from := w.frame.SupportsOf(piece)
	for k := range supports {
		if !supports[k].Holds() {
			continue
		}
		for _, c := range w.strongest() {
			push := w.casePush(&w.Source.Combinations[c], from+int32(k))
			if j := slices.Index(e.Supports, from+int32(k)); j >= 0 {
				push += e.Sideways(&w.Source.Combinations[c], j)
			}
			worst = max(worst, push)
		}
	}
	return worst
}

// headPush is the largest push that must hold the head of a sloping strut sideways in any of some combinations, N; 0 for others.
func (w *work) headPush(combinations []int, piece int32) float64 {
	push := w.down.HeadPush(piece)
	if push == nil {
		return 0
	}
	sh, worst := w.frame.Shape(piece), 0.0
	for _, c := range combinations {
		worst = max(worst, w.largest(&w.Source.Combinations[c], func(c int) float64 { return push[c].X*sh.DirX + push[c].Y*sh.DirY }))
	}
	return worst
}

// strongest is the combinations for strength, or those for service where there are none.
func (w *work) strongest() []int {
	if len(w.strong) > 0 {
		return w.strong
	}
	return w.service
}

// headReaction is the largest push down at the head of a piece in any of some combinations.
func (w *work) headReaction(e *statics.Effects, piece int32, combinations []int) numberValue {
	isHead := topEnd(w.frame, piece)
	out := noNumber(noCombinations)
	for j, i := range e.Supports {
		if !isHead(w.frame.Supports[i].At) {
			continue
		}
		for _, c := range combinations {
			d, _, _ := e.Reaction(&w.Source.Combinations[c], j)
			out = atLeast(out, d)
		}
	}
	return out
}

// totalLoad is all that the piece carries in the worst characteristic combination, its own weight and what may stand anywhere on
// it counted, N.
func (w *work) totalLoad(piece int32) numberValue {
	if len(w.service) == 0 {
		return noNumber(noCombinations)
	}
	worst := 0.0
	for _, k := range w.service {
		comb := &w.Source.Combinations[k]
		worst = max(worst, w.resting(piece, comb)+w.down.Moving(w.frame.Pieces[piece].Member, comb))
	}
	return num(worst)
}

// Borne is all that a piece carries in the worst characteristic combination and passes on, N: without what may stand anywhere on
// it.
func (f *Filled) Borne(piece int32) float64 {
	worst := 0.0
	for _, k := range f.work.service {
		worst = max(worst, f.work.resting(piece, &f.Source.Combinations[k]))
	}
	return worst
}

// resting is what the supports of a piece push up in a combination, N.
func (w *work) resting(piece int32, k *region.Combination) float64 {
	supports, from := w.frame.SupportsOf(piece)
	return w.sum(k, func(c int) float64 {
		up := 0.0
		for i := range supports {
			up += w.down.Reaction(from+int32(i), c).Z
		}
		return up
	})
}
