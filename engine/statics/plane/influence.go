package plane

import (
	"math"
	"slices"
)

// Influence is what a load of 1 N, straight down, does to a member wherever it stands on it, or on another that leans on
// it. What answers the load (the pushes of the supports, the pulls of ties) is a polynomial of its place between one support
// or kink and the next, of degree three at most, so that six places a stretch settle it exactly; by equilibrium it settles
// all forces inside. The zero Influence is ready for Member.Influence and Member.InfluenceFrom, and holds until that member
// is set anew. It serves one goroutine.
type Influence struct {
	member  *Member
	answer  Answer
	away    bool      // the load stands on another member
	places  []float64 // of what answers, mm along the axis; the supports come first
	breaks  []float64 // of what is drawn of the member: supports, kinks, ends and the places of what else answers, in order
	runs    []run     // of the load's way
	scratch []Load
	bent    []Diagram // under the load at six places of each run, once they are wanted
	drawn   Diagram
	tried   []trial
	known   []bends // what Bends was asked already: combinations ask for the same stretches
}

// trial is what the load makes of a deflection from one place.
type trial struct{ load, value float64 }

// bends is one answer of Bends.
type bends struct {
	of                Quantity
	from, to          float64
	largest, smallest float64
}

// Answer appends to dst all that acts on the member besides a load of 1 N down that stands at a place, mm along the axis:
// the push of each support in the order of the member, then what else there is, always in one order and at one place each.
type Answer func(dst []Load, at float64) ([]Load, error)

// run is a stretch of the load's way between two neighbouring breaks.
type run struct {
	from, to float64
	answers  []answered
}

// answered is one of the answers as the load moves, x from the start of the run.
type answered struct{ u, z, moment poly }

// Standing is the load where it is worst for something.
type Standing struct {
	Load   float64 // place of the load, mm along the axis of the member that it stands on
	Forces Forces  // that it brings to the section there
	Value  float64

	before bool // it stands before the section
}

// Answer is what holds a load of 1 N that stands at a place where the supports alone do. Errors are those of Reactions.
func (m *Member) Answer(dst []Load, at float64) ([]Load, error) {
	pushes, err := m.Reactions(nil, []Load{Force(at, 0, -1)})
	if err != nil {
		return dst, err
	}
	for i, r := range pushes {
		l := Force(m.supports[i].At, r.U, r.Z)
		l.Moment = r.Moment
		dst = append(dst, l)
	}
	return dst, nil
}

// Influence fills in from what answers the load at each place; errors are those of answer.
func (m *Member) Influence(in *Influence, answer Answer) error { return m.influence(in, nil, answer) }

// InfluenceFrom is Influence of a load on another member, at places along that member. way is where the runs of the load's
// way end, in order: supports, kinks, ends and what else answers there, of the other member (Couple.Way).
func (m *Member) InfluenceFrom(in *Influence, way []float64, answer Answer) error {
	return m.influence(in, way, answer)
}

func (m *Member) influence(in *Influence, way []float64, answer Answer) error {
	in.member, in.answer, in.away = m, answer, way != nil
	in.places, in.runs, in.bent, in.known = in.places[:0], in.runs[:0], in.bent[:0], in.known[:0]
	middle := m.axis.Length() / 2
	if in.away {
		middle = (way[0] + way[len(way)-1]) / 2
	}
	acting, err := answer(in.scratch[:0], middle)
	if err != nil {
		return err
	}
	in.breaks = append(in.breaks[:0], m.stations...)
	for _, l := range acting {
		at, _ := m.axis.onto(in.breaks, l.From)
		in.places, in.breaks = append(in.places, at), append(in.breaks, at)
	}
	slices.Sort(in.breaks)
	in.breaks = slices.Compact(in.breaks)
	in.scratch = acting
	if !in.away {
		way = in.breaks
	}
	for i := range len(way) - 1 {
		r := run{from: way[i], to: way[i+1]}
		h := r.to - r.from
		var ordinates [][3][6]float64
		for k, t := range fitPlaces {
			acting, err := answer(in.scratch[:0], r.from+t*h)
			if err != nil {
				return err
			}
			in.scratch = acting
			if ordinates == nil {
				ordinates = make([][3][6]float64, len(acting))
			}
			for j := range acting {
				ordinates[j][0][k], ordinates[j][1][k], ordinates[j][2][k] = acting[j].U0, acting[j].Z0, acting[j].Moment
			}
		}
		for j := range ordinates {
			along := func(v [6]float64) poly { p := fit(v); return p.stretched(1 / h) }
			r.answers = append(r.answers, answered{along(ordinates[j][0]), along(ordinates[j][1]), along(ordinates[j][2])})
		}
		in.runs = append(in.runs, r)
	}
	return nil
}

// Push is what a support pushes wherever the load stands or stands not, N for 1 N.
type Push struct {
	Up, Down float64 // largest and smallest upwards
	Along    float64 // along +u, with the largest upwards
	Sideways float64 // largest size along u
}

// Push of a support, by its index.
func (in *Influence) Push(support int) (p Push) {
	for i := range in.runs {
		r := &in.runs[i]
		u, z, h := &r.answers[support].u, &r.answers[support].z, r.to-r.from
		turns := z.stationary(h)
		turns.around(h, func(x float64) {
			switch v := z.at(x); {
			case v > p.Up && v > negligible:
				p.Up, p.Along = v, u.at(x)
			case v < p.Down && v < -negligible:
				p.Down = v
			}
		})
	}
	along := in.level(support)
	p.Sideways = math.Max(along.Largest, -along.Smallest)
	return p
}

// level is how far the part along u of one of the answers reaches.
func (in *Influence) level(answer int) (reach Reach) {
	for i := range in.runs {
		u, h := &in.runs[i].answers[answer].u, in.runs[i].to-in.runs[i].from
		turns := u.stationary(h)
		turns.around(h, func(x float64) {
			switch v := u.at(x); {
			case v > negligible:
				reach.Largest = math.Max(reach.Largest, v)
			case v < -negligible:
				reach.Smallest = math.Min(reach.Smallest, v)
			}
		})
	}
	return reach
}

// around yields the start of a stretch, the places and the end.
func (r *places) around(h float64, yield func(x float64)) {
	yield(0)
	for _, x := range r.x[:r.n] {
		yield(x)
	}
	yield(h)
}

// Worst is the load where it makes Axial, Shear or Moment at one side of a place largest (sense 1) or smallest (sense -1).
// A load that helps wherever it stands is not there.
func (in *Influence) Worst(q Quantity, s float64, side Side, sense float64) Standing {
	var worst Standing
	least := negligible
	if q == Moment {
		least *= in.member.axis.Length()
	}
	for i := range in.runs {
		in.pass(&in.runs[i], s, side, func(from, to float64, before bool, of *[3]poly) {
			turns := of[q].stationary(to - from)
			turns.around(to-from, func(x float64) {
				if v := of[q].at(x); sense*v > sense*worst.Value && sense*v > least {
					worst = Standing{from + x, Forces{of[Axial].at(x), of[Shear].at(x), of[Moment].at(x)}, v, before}
				}
			})
		})
	}
	return worst
}

// pass yields the forces at a section as the load goes along a run, x from where each part of its way starts: before the
// section, and past it. A load on another member is nowhere before it.
func (in *Influence) pass(r *run, s float64, side Side, yield func(from, to float64, before bool, of *[3]poly)) {
	a := &in.member.axis
	here := a.At(s)
	cos, sin := a.directionAt(s, side)
	var u, z, moment poly
	for k, at := range in.places {
		if at > s || at == s && side == Before {
			continue
		}
		p, by := a.At(at), &r.answers[k]
		u.add(&by.u, 1)
		z.add(&by.z, 1)
		moment.add(&by.moment, 1)
		moment.add(&by.z, here.U-p.U)
		moment.add(&by.u, p.Z-here.Z)
	}
	share := func(from, to float64, before bool) {
		u, z, moment := u.shifted(from-r.from), z.shifted(from-r.from), moment.shifted(from-r.from)
		if before {
			run, _ := a.Direction(r.from)
			z[0]--
			moment[0] -= here.U - a.At(from).U
			moment[1] += run
		}
		var of [3]poly
		of[Axial].add(&u, -cos)
		of[Axial].add(&z, -sin)
		of[Shear].add(&z, cos)
		of[Shear].add(&u, -sin)
		of[Moment] = moment
		yield(from, to, before, &of)
	}
	if in.away {
		share(r.from, r.to, false)
		return
	}
	if r.from < s {
		share(r.from, math.Min(s, r.to), true)
	}
	if s < r.to {
		share(math.Max(s, r.from), r.to, false)
	}
}

// directionAt is the cosine and sine of the slope at one side of s.
func (a *Axis) directionAt(s float64, side Side) (cos, sin float64) {
	i := a.piece(s)
	if side == Before && i > 0 && s == a.at[i] {
		i--
	}
	return a.dir[i].U, a.dir[i].Z
}

// climb looks for the largest (sense 1) or smallest value of base, x from lo, and w times the load, from lo to hi: a
// stretch without a support or kink inside. Right under the load the sum is one polynomial more, which is solved; away
// from it, place and load are moved in turns, each to where the sum with the other is largest, until neither moves. A sum
// that reaches its largest value at neither starts from there.
func (in *Influence) climb(found *search, base *poly, q Quantity, lo, hi, w, sense float64) {
	h := hi - lo
	starts := base.stationary(h)
	begin := append([]float64{0, h}, starts.x[:starts.n]...)
	begin = append(begin, in.ridge(base, q, lo, hi, w)...)
	for _, x := range begin {
		side := After
		if x == h {
			side = Before
		}
		last := math.Inf(-1)
		for range mostTurns {
			at := in.Worst(q, lo+x, side, sense)
			value := base.at(x) + w*at.Value
			found.value(value, lo+x, side, 0)
			if sense*value <= last+rounding*math.Abs(last) {
				break
			}
			last = sense * value
			x, side = in.step(base, q, x, at, lo, hi, w, sense)
		}
	}
}

// mostTurns bounds the turns of a climb; rounding is the gain below which it has come to its end.
const (
	mostTurns = 50
	rounding  = 1e-13
)

// step is the place from lo where base and the load that stands where it does are largest together.
func (in *Influence) step(base *poly, q Quantity, x float64, at Standing, lo, hi, w, sense float64) (float64, Side) {
	from, to := 0.0, hi-lo
	if at.Load > lo && at.Load < hi { // it stays on its side of the section
		if at.before {
			from = at.Load - lo
		} else {
			to = at.Load - lo
		}
	}
	sum := *base
	switch q {
	case Moment:
		sum[0] += w * (at.Forces.M - at.Forces.V*x)
		sum[1] += w * at.Forces.V
	default:
		sum[0] += w * at.Value
	}
	best := x
	sum = sum.shifted(from)
	turns := sum.stationary(to - from)
	turns.around(to-from, func(t float64) {
		if sense*sum.at(t) > sense*sum.at(best-from) {
			best = from + t
		}
	})
	if best == hi-lo {
		return best, Before
	}
	return best, After
}

// ridge is the places from lo where base and the load that stands right there turn together.
func (in *Influence) ridge(base *poly, q Quantity, lo, hi, w float64) []float64 {
	var out []float64
	h := hi - lo
	for i := range in.runs {
		r := &in.runs[i]
		if lo < r.from || hi > r.to {
			continue
		}
		for _, before := range [2]bool{true, false} {
			var v [6]float64
			for k, t := range fitPlaces {
				s := lo + t*h
				in.pass(r, s, After, func(from, to float64, is bool, of *[3]poly) {
					switch {
					case is && before:
						v[k] = of[q].at(to - from)
					case !is && !before:
						v[k] = of[q][0]
					}
				})
			}
			p := fit(v)
			sum := p.stretched(1 / h)
			for j := range sum {
				sum[j] = w*sum[j] + base[j]
			}
			turns := sum.stationary(h)
			out = append(out, turns.x[:turns.n]...)
		}
	}
	return out
}

// Bends is the largest and the smallest Deflection or Sway between two places wherever the load stands or stands not, mm for
// 1 N: the load on six places and the ends of each run, then nearer to those about as good as the best, each beside a top. Of
// a load on another member whose answers are straight the ends alone tell: the largest of what is straight each is worst at one.
func (in *Influence) Bends(q Quantity, from, to float64) (largest, smallest float64, err error) {
	for i := range in.known {
		if k := &in.known[i]; k.of == q && k.from == from && k.to == to {
			return k.largest, k.smallest, nil
		}
	}
	straight := in.away && in.straight()
	if !straight {
		if err := in.bend(); err != nil {
			return 0, 0, err
		}
	}
	of := func(d *Diagram, sense float64) float64 {
		r, _ := d.Within(q, from, to)
		if sense < 0 {
			return -r.Min.Value
		}
		return r.Max.Value
	}
	under := func(load, sense float64) float64 {
		if err = in.draw(&in.drawn, load); err != nil {
			return 0
		}
		return of(&in.drawn, sense)
	}
	reach := func(sense float64) float64 {
		in.tried = in.tried[:0]
		for i := range in.runs {
			r := &in.runs[i]
			if i == 0 {
				in.tried = append(in.tried, trial{r.from, under(r.from, sense)})
			}
			for k, t := range fitPlaces {
				if !straight {
					in.tried = append(in.tried, trial{r.from + t*(r.to-r.from), of(&in.bent[len(fitPlaces)*i+k], sense)})
				}
			}
			in.tried = append(in.tried, trial{r.to, under(r.to, sense)})
		}
		best := 0.0
		for i := range in.tried {
			best = math.Max(best, in.tried[i].value)
		}
		if straight {
			return best
		}
		least := nearBest * best
		for i := range in.tried {
			t, lo, hi := &in.tried[i], &in.tried[max(0, i-1)], &in.tried[min(i+1, len(in.tried)-1)]
			if t.value > least && t.value >= lo.value && t.value >= hi.value {
				best = math.Max(best, in.top(lo.load, hi.load, t, func(load float64) float64 { return under(load, sense) }))
			}
		}
		return best
	}
	largest = reach(1)
	smallest = -reach(-1)
	if err == nil {
		in.known = append(in.known, bends{q, from, to, largest, smallest})
	}
	return largest, smallest, err
}

// straight says whether all that answers the load goes straight along each run, to rounding.
func (in *Influence) straight() bool {
	for i := range in.runs {
		r := &in.runs[i]
		h := r.to - r.from
		for j := range r.answers {
			for _, p := range [2]*poly{&r.answers[j].u, &r.answers[j].z} {
				bent := *p
				bent[0], bent[1] = 0, 0
				if bent.bound(h) > negligible {
					return false
				}
			}
		}
	}
	return true
}

// top is the largest value between two places on either side of a place that has more than they have.
func (in *Influence) top(lo, hi float64, of *trial, under func(load float64) float64) float64 {
	best, near := of.value, nearTop*in.member.axis.Length()
	switch {
	case lo == of.load && under(math.Min(lo+near, hi)) <= best, hi == of.load && under(math.Max(hi-near, lo)) <= best:
		return best // it falls from the end
	}
	a, b := lo+(hi-lo)*goldenCut, hi-(hi-lo)*goldenCut
	atA, atB := under(a), under(b)
	for range mostTurns {
		best = math.Max(best, math.Max(atA, atB))
		if hi-lo <= near {
			break
		}
		if atA > atB {
			hi, b, atB = b, a, atA
			a = lo + (hi-lo)*goldenCut
			atA = under(a)
		} else {
			lo, a, atA = a, b, atB
			b = hi - (hi-lo)*goldenCut
			atB = under(b)
		}
	}
	return best
}

// nearBest is the part of the best trial from which another may lie beside a higher top: between two trials a sag rises by less.
const nearBest = 0.75

// nearTop is how near the load comes to its worst place, as a part of the length: a smooth top is flat there, so that its
// height errs by the square of that.
const nearTop = 1e-4

// goldenCut is the smaller part of a golden cut.
var goldenCut = (3 - math.Sqrt(5)) / 2

// BendsAt is Bends at one side of a support or kink, by the load's place.
func (in *Influence) BendsAt(q Quantity, s float64, side Side) (largest, smallest float64, err error) {
	if err := in.bend(); err != nil {
		return 0, 0, err
	}
	for i := range in.runs {
		var v [6]float64
		for k := range v {
			v[k], _ = in.bent[len(fitPlaces)*i+k].Value(q, s, side)
		}
		p := fit(v)
		turns := p.stationary(1)
		turns.around(1, func(t float64) {
			largest, smallest = math.Max(largest, p.at(t)), math.Min(smallest, p.at(t))
		})
	}
	return largest, smallest, nil
}

// bend draws the member under the load at six places of each run.
func (in *Influence) bend() error {
	if len(in.bent) > 0 {
		return nil
	}
	in.bent = make([]Diagram, len(fitPlaces)*len(in.runs))
	for i := range in.runs {
		for k, t := range fitPlaces {
			if err := in.draw(&in.bent[len(fitPlaces)*i+k], in.runs[i].from+t*(in.runs[i].to-in.runs[i].from)); err != nil {
				in.bent = nil
				return err
			}
		}
	}
	return nil
}

// draw draws the bent member under the load at a place.
func (in *Influence) draw(d *Diagram, at float64) error {
	acting, err := in.answer(in.scratch[:0], at)
	if err != nil {
		return err
	}
	if !in.away {
		acting = append(acting, Force(at, 0, -1))
	}
	in.scratch = acting
	pushes := make([]Reaction, len(in.member.supports)) // they are among what acts
	if err := in.member.Diagram(d, in.scratch, pushes); err != nil {
		return err
	}
	return in.member.Deflect(d)
}

// fitPlaces spread over a stretch as Chebyshev's nodes, none at an end.
var fitPlaces = func() (t [6]float64) {
	for i := range t {
		t[i] = (1 - math.Cos(math.Pi*(2*float64(i)+1)/float64(2*len(t)))) / 2
	}
	return t
}()

// fit is the one polynomial of degree five through the ordinates at fitPlaces,
// over [0, 1], by Newton's divided differences.
func fit(v [6]float64) (p poly) {
	for k := 1; k < len(v); k++ {
		for i := len(v) - 1; i >= k; i-- {
			v[i] = (v[i] - v[i-1]) / (fitPlaces[i] - fitPlaces[i-k])
		}
	}
	for i := len(v) - 1; i >= 0; i-- {
		for j := len(p) - 1; j > 0; j-- {
			p[j] = p[j-1] - fitPlaces[i]*p[j]
		}
		p[0] = v[i] - fitPlaces[i]*p[0]
	}
	return p
}
