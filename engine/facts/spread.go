package facts

import (
	"cmp"
	"math"
	"slices"

	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// spreadAngle is how load spreads in masonry and in a stone on it, to the level: common practice, no source; Figure 6.2 and 6.1.3(6)
// of EN 1996-1-1 have the same.
const spreadAngle = math.Pi / 3

// spreadOver is how far to each side a load has spread so much further down, mm.
func spreadOver(height float64) float64 { return height / math.Tan(spreadAngle) }

// spread is the loads on a wall spread down to the middle of its height, where all that reaches a place adds up.
type spread struct {
	aside  float64 // how far a load spreads to each side, mm
	length float64 // of the wall, mm
	panels []stretch
	looks  []float64 // where any case is looked at
	loads  []profile // by case, N/mm
	turns  []profile // by case: the loads by how far from the middle of the leaf each presses, N mm/mm
}

// stretch is a part of a wall, mm along it.
type stretch struct{ from, to float64 }

// even is a load per length over a stretch, N/mm.
type even struct {
	stretch
	per float64
}

// profile is what a wall carries along its length in one case: loads, or what they turn it by.
type profile struct {
	pushes []even    // loads at one place, spread
	lines  []even    // loads along the wall, not spread yet
	at     []float64 // places, in order, such that the sum is largest at one of them
	tree   []float64 // of maxima: each is the larger of the two at twice its place; the last half are the sums at those places
}

func newSpread(m *model.Member, length, height float64, cases int) *spread {
	return &spread{aside: spreadOver(height / 2), length: length, panels: panelsOf(m, length),
		loads: make([]profile, cases), turns: make([]profile, cases)}
}

// panelsOf is what stands of a wall between its ends and openings.
func panelsOf(m *model.Member, length float64) []stretch {
	const least = 1 // mm
	openings := slices.Clone(m.More().Openings)
	slices.SortFunc(openings, func(a, b model.Opening) int { return cmp.Compare(a.From.Value, b.From.Value) })
	var out []stretch
	from := 0.0
	for _, o := range openings {
		if to := min(o.From.Value, length); to-from > least {
			out = append(out, stretch{from, to})
		}
		from = max(from, o.To.Value)
	}
	if length-from > least {
		out = append(out, stretch{from, length})
	}
	return out
}

// openingAt is the opening in a wall over which a place along it lies, or nil.
func openingAt(m *model.Member, at float64) *model.Opening {
	openings := m.More().Openings
	for i := range openings {
		if o := &openings[i]; at > o.From.Value && at < o.To.Value {
			return o
		}
	}
	return nil
}

// reach is where a load at a place, of so long a foot, has spread to; not ok where no wall stands there.
func (w *spread) reach(at, foot float64) (reach stretch, ok bool) {
	for _, p := range w.panels {
		if at >= p.from && at <= p.to {
			return p.around(at, foot/2+w.aside), true
		}
	}
	return stretch{}, false
}

// look has the reach of a load looked at in every case, whether it presses there or not.
func (w *spread) look(at, foot float64) {
	if r, ok := w.reach(at, foot); ok {
		w.looks = append(w.looks, r.from, r.to)
	}
}

// put adds a load that presses so far off the middle of the leaf, to either side.
func (w *spread) put(l statics.Pressing, foot, off float64) {
	w.add(&w.loads[l.Case], l, foot)
	if off > 0 {
		l.First, l.Last = l.First*off, l.Last*off
		w.add(&w.turns[l.Case], l, foot)
	}
}

// add adds a load to a profile. One of uneven size counts in strips, each as large as its larger end. What lifts does not
// relieve what stands beside it.
func (w *spread) add(p *profile, l statics.Pressing, foot float64) {
	if l.To <= l.From {
		if l.First > 0 {
			w.push(p, min(max(0, l.From), w.length), foot, l.First)
		}
		return
	}
	strips := 8.0
	if l.First == l.Last {
		strips = 1
	}
	for k := range int(strips) {
		a, b := float64(k)/strips, float64(k+1)/strips
		most := max(l.First+a*(l.Last-l.First), l.First+b*(l.Last-l.First))
		if most > 0 {
			w.line(p, even{stretch{l.From + a*(l.To-l.From), l.From + b*(l.To-l.From)}, most})
		}
	}
}

// push spreads a load at one place. Over an opening it goes to the two edges by the lever, as over a lintel.
func (w *spread) push(p *profile, at, foot, force float64) {
	if r, ok := w.reach(at, foot); ok {
		p.pushes = append(p.pushes, even{r, force / r.length()})
		return
	}
	left, right := -1, -1
	for i, q := range w.panels {
		if q.to < at {
			left = i
		} else if right < 0 {
			right = i
		}
	}
	switch {
	case left >= 0 && right >= 0:
		a, b := w.panels[left].to, w.panels[right].from
		w.push(p, a, 0, force*(b-at)/(b-a))
		w.push(p, b, 0, force*(at-a)/(b-a))
	case left >= 0:
		w.push(p, w.panels[left].to, 0, force)
	case right >= 0:
		w.push(p, w.panels[right].from, 0, force)
	}
}

// line cuts a load along the wall at its openings; what lies over one goes to its edges.
func (w *spread) line(p *profile, l even) {
	l.from, l.to = max(0, l.from), min(l.to, w.length)
	over := func(from, to float64) {
		if to > from {
			w.push(p, (from+to)/2, 0, (to-from)*l.per)
		}
	}
	from := l.from
	for _, q := range w.panels {
		over(from, min(q.from, l.to))
		from = max(from, min(q.from, l.to))
		if to := min(q.to, l.to); to > from {
			p.lines = append(p.lines, even{stretch{from, to}, l.per})
			from = to
		}
	}
	over(from, l.to)
}

// sum adds up what has been put, case by case.
func (w *spread) sum() {
	for _, profiles := range [2][]profile{w.loads, w.turns} {
		for c := range profiles {
			w.sumUp(&profiles[c])
		}
	}
}

func (w *spread) sumUp(p *profile) {
	if len(p.pushes)+len(p.lines) == 0 {
		return
	}
	w.places(p)
	p.tree = make([]float64, 2*len(p.at))
	sums := p.tree[len(p.at):]
	p.sumPushes(sums)
	w.sumLines(p, sums)
	for i := len(p.at) - 1; i > 0; i-- {
		p.tree[i] = max(p.tree[2*i], p.tree[2*i+1])
	}
}

// places are the ends of all that is even, between which the sum rises or falls in one sense.
func (w *spread) places(p *profile) {
	p.at = slices.Clone(w.looks)
	for _, q := range p.pushes {
		p.at = append(p.at, q.from, q.to)
	}
	edges := make([]float64, 0, 2*len(w.panels)+2*len(p.lines))
	for _, q := range w.panels {
		p.at, edges = append(p.at, q.from, q.to), append(edges, q.from, q.to)
	}
	for _, l := range p.lines {
		edges = append(edges, l.from, l.to)
	}
	for _, e := range edges {
		p.at = append(p.at, e-w.aside, e+w.aside)
	}
	slices.Sort(p.at)
	p.at = slices.Compact(p.at)
}

// sumPushes adds the loads at one place to the sums at the profile's places.
func (p *profile) sumPushes(sums []float64) {
	begin, end := slices.Clone(p.pushes), slices.Clone(p.pushes)
	slices.SortFunc(begin, func(a, b even) int { return cmp.Compare(a.from, b.from) })
	slices.SortFunc(end, func(a, b even) int { return cmp.Compare(a.to, b.to) })
	now := 0.0
	for i, at := range p.at {
		for len(begin) > 0 && begin[0].from <= at {
			now += begin[0].per
			begin = begin[1:]
		}
		for len(end) > 0 && end[0].to < at {
			now -= end[0].per
			end = end[1:]
		}
		sums[i] += now
	}
}

// sumLines adds the loads along the wall: at a place the mean of what stands within reach of it in its panel.
func (w *spread) sumLines(p *profile, sums []float64) {
	if len(p.lines) == 0 {
		return
	}
	total := runningTotal(p.lines)
	q := 0
	for i, at := range p.at {
		for q < len(w.panels) && w.panels[q].to < at {
			q++
		}
		if q < len(w.panels) && at >= w.panels[q].from {
			window := w.panels[q].around(at, w.aside)
			sums[i] += (total(window.to) - total(window.from)) / window.length()
		}
	}
}

// runningTotal is how much stands before a place along the wall, N.
func runningTotal(lines []even) func(at float64) float64 {
	type knot struct{ at, step, slope, sum float64 }
	knots := make([]knot, 0, 2*len(lines))
	for _, l := range lines {
		knots = append(knots, knot{at: l.from, step: l.per}, knot{at: l.to, step: -l.per})
	}
	slices.SortFunc(knots, func(a, b knot) int { return cmp.Compare(a.at, b.at) })
	var last knot
	for i := range knots {
		k := &knots[i]
		k.slope, k.sum = last.slope+k.step, last.sum+last.slope*(k.at-last.at)
		last = *k
	}
	return func(at float64) float64 {
		i, _ := slices.BinarySearchFunc(knots, at, func(k knot, at float64) int { return cmp.Compare(k.at, at) })
		if i == 0 {
			return 0
		}
		return knots[i-1].sum + knots[i-1].slope*(at-knots[i-1].at)
	}
}

// most is the largest sum within a stretch that has been looked at, N/mm.
func (p *profile) most(within stretch) float64 {
	n := len(p.at)
	from, _ := slices.BinarySearch(p.at, within.from)
	to, found := slices.BinarySearch(p.at, within.to)
	if found {
		to++
	}
	most := 0.0
	for i, j := from+n, to+n; i < j; i, j = i/2, j/2 {
		if i%2 == 1 {
			most = max(most, p.tree[i])
			i++
		}
		if j%2 == 1 {
			j--
			most = max(most, p.tree[j])
		}
	}
	return most
}

// around is the part of a stretch within so much of a place.
func (s stretch) around(at, half float64) stretch {
	return stretch{max(s.from, at-half), min(s.to, at+half)}
}

func (s stretch) length() float64 { return s.to - s.from }
