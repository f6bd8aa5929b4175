package plane

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Member is one member on its supports, ready to be loaded case by case. The
// zero Member is ready for Set. It keeps scratch between calls, so one Member
// serves one goroutine; a solved Diagram stands by itself.
type Member struct {
	axis      Axis
	supports  []Support // the caller's order, places moved onto the axis' points
	stiffness Stiffness
	stations  []float64 // ends, kinks and supports in order

	along   []int  // the supports in order along the axis
	holds   []hold // what they hold, in the same order
	primary basis  // holds that balance any load that can be balanced
	spans   []Span
	frame   redundants

	loads  []Load // scratch: the case's loads, moved onto the stations
	breaks []float64
	points []pointAction
	trial  Diagram
}

// hold is one component that one support holds.
type hold struct {
	support int
	part    part
	wrench  wrench
}

// Span is the stretch between two supports next to each other, or an overhang.
type Span struct {
	From, To float64 // mm along the axis
	Overhang bool    // one end is free
}

// NewMember is a Member set on its supports.
func NewMember(axis []Point, supports []Support, k Stiffness) (*Member, error) {
	m := new(Member)
	if err := m.Set(axis, supports, k); err != nil {
		return nil, err
	}
	return m, nil
}

// Set takes another member in place of the one before and reuses its memory.
// Everything wrong is returned at once, as joined *Error values of kind
// ErrNotFinite, ErrLength, ErrBeyond, ErrCoincident, ErrStiffness (a negative
// one) or ErrMechanism (no support). A stiffness that is not known is no error
// until something needs it.
// After an error the Member holds nothing.
func (m *Member) Set(axis []Point, supports []Support, k Stiffness) error {
	err := m.set(axis, supports, k)
	if err != nil {
		*m = Member{}
	}
	return err
}

func (m *Member) set(axis []Point, supports []Support, k Stiffness) error {
	m.supports, m.along, m.holds, m.spans = m.supports[:0], m.along[:0], m.holds[:0], m.spans[:0]
	m.primary, m.stiffness = basis{}, k
	m.frame.reset()
	errs := m.axis.Set(axis)
	if err := k.check(); err != nil {
		errs = errors.Join(errs, err)
	}
	if errs != nil {
		return errs
	}
	if len(supports) == 0 {
		return &Error{Kind: ErrMechanism, Text: "no support holds the member"}
	}
	for i, s := range supports {
		at, on := m.axis.onto(m.axis.at, s.At)
		switch {
		case !finite(s.At):
			errs = errors.Join(errs, &Error{Kind: ErrNotFinite, Of: "support", Index: i, Text: "give its place in mm along the axis"})
		case !on:
			errs = errors.Join(errs, &Error{Kind: ErrBeyond, Of: "support", Index: i, At: s.At, Text: fmt.Sprintf("it stands at %g mm of a member %g mm long", s.At, m.axis.Length())})
		}
		s.At = at
		m.supports = append(m.supports, s)
		m.along = append(m.along, i)
	}
	if errs != nil {
		return errs
	}
	slices.SortStableFunc(m.along, func(i, j int) int { return cmp.Compare(m.supports[i].At, m.supports[j].At) })
	for i := 1; i < len(m.along); i++ {
		before, here := m.supports[m.along[i-1]], m.supports[m.along[i]]
		if here.At-before.At <= samePlace*m.axis.Length() {
			errs = errors.Join(errs, &Error{Kind: ErrCoincident, Of: "support", Index: m.along[i], At: here.At, Text: fmt.Sprintf("support %d stands there too: make them one", m.along[i-1]+1)})
		}
	}
	if errs != nil {
		return errs
	}
	m.stations = append(m.stations[:0], m.axis.at...)
	for _, s := range m.supports {
		m.stations = append(m.stations, s.At)
	}
	slices.Sort(m.stations)
	m.stations = slices.Compact(m.stations)
	m.hold()
	m.divide()
	m.frame.find(m)
	return nil
}

// Axis of the member; it changes with the next Set.
func (m *Member) Axis() *Axis { return &m.axis }

// Spans along the axis, overhangs included; the slice changes with the next Set.
func (m *Member) Spans() []Span { return m.spans }

// Determinate tells that equilibrium alone gives the reactions.
func (m *Member) Determinate() bool { return len(m.frame.states) == 0 }

// Reactions under one case, appended to dst in the caller's order of supports.
// Of a determinate member they come from equilibrium alone, in closed form.
// Otherwise the force method gives the redundants: what is over-held is
// resolved into small self-stresses between neighbouring supports, whose
// displacements are closed by exact integration of M/EI and N/EA; the
// flexibilities are factorised once for all cases.
//
// Errors are of kind ErrLoad, ErrBeyond, ErrNotFinite, ErrDrift (the loads have
// a horizontal sum and no support is Horizontal), ErrMechanism and ErrStiffness.
func (m *Member) Reactions(dst []Reaction, loads []Load) ([]Reaction, error) {
	if err := m.take(loads); err != nil {
		return dst, err
	}
	var sum wrench
	var size float64
	for i := range m.loads {
		w, s := m.axis.resultant(&m.loads[i])
		sum.add(&w, 1)
		size += s
	}
	push, rest := m.primary.resolve(sum)
	if !finite(size) || !finite(dot(&rest, &rest)) {
		return dst, &Error{Kind: ErrNotFinite, Text: "the loads are too large to add up"}
	}
	if err := m.unbalanced(sum, rest, size); err != nil {
		return dst, err
	}
	base := len(dst)
	for range m.supports {
		dst = append(dst, Reaction{})
	}
	out := dst[base:]
	for i := range m.primary.n {
		m.push(out, m.primary.index[i], -push[i])
	}
	if err := m.frame.close(m, out); err != nil {
		return dst[:base], err
	}
	for i := range out {
		if !finite(out[i].U) || !finite(out[i].Z) || !finite(out[i].Moment) {
			return dst[:base], &Error{Kind: ErrNotFinite, Of: "support", Index: i, Text: "its reaction is too large to be a number"}
		}
	}
	return dst, nil
}

// Diagram fills d with the internal forces under the loads and the reactions to
// them, which must balance. Errors are of kind ErrLoad, ErrBeyond, ErrNotFinite
// and ErrMismatch.
func (m *Member) Diagram(d *Diagram, loads []Load, reactions []Reaction) error {
	if err := m.take(loads); err != nil {
		return err
	}
	if len(reactions) != len(m.supports) {
		return &Error{Kind: ErrMismatch, Text: fmt.Sprintf("%d reactions of %d supports", len(reactions), len(m.supports))}
	}
	m.draw(d, m.loads, reactions)
	return d.check()
}

// Solve is Reactions, Diagram and, where the stiffness allows it, Deflect in one
// go, for one case. The deflection is left out of d when ErrStiffness stands in
// its way.
func (m *Member) Solve(d *Diagram, dst []Reaction, loads []Load) ([]Reaction, error) {
	base := len(dst)
	dst, err := m.Reactions(dst, loads)
	if err != nil {
		return dst, err
	}
	if err := m.Diagram(d, loads, dst[base:]); err != nil {
		return dst, err
	}
	if err := m.Deflect(d); err != nil && !errors.Is(err, ErrStiffness) {
		return dst, err
	}
	return dst, nil
}

// hold lists what the supports hold and picks the primary ones, those of the
// outermost supports first because their lever is longest.
func (m *Member) hold() {
	for _, i := range m.along {
		s := m.supports[i]
		if s.Horizontal {
			m.holds = append(m.holds, hold{i, pushU, m.axis.wrenchOf(pushU, s.At)})
		}
		m.holds = append(m.holds, hold{i, pushZ, m.axis.wrenchOf(pushZ, s.At)})
		if s.Fixed {
			m.holds = append(m.holds, hold{i, turn, m.axis.wrenchOf(turn, s.At)})
		}
	}
	first, last := m.along[0], m.along[len(m.along)-1]
	outer := func(h hold) bool { return h.support == first || h.support == last }
	for _, want := range [2]bool{true, false} {
		for i, h := range m.holds {
			if outer(h) == want {
				m.primary.add(i, h.wrench)
			}
		}
	}
}

func (m *Member) divide() {
	at := 0.0
	for n, i := range m.along {
		if s := m.supports[i].At; s > at {
			m.spans = append(m.spans, Span{From: at, To: s, Overhang: n == 0})
			at = s
		}
	}
	if l := m.axis.Length(); l > at {
		m.spans = append(m.spans, Span{From: at, To: l, Overhang: true})
	}
}

// push adds a force of the size of a hold's unit to its support's reaction.
func (m *Member) push(r []Reaction, hold int, size float64) {
	h := m.holds[hold]
	switch h.part {
	case pushU:
		r[h.support].U += size
	case pushZ:
		r[h.support].Z += size
	case turn:
		r[h.support].Moment += size * m.axis.Length()
	}
}

// unbalanced tells what swings, drifts or slides where the supports cannot
// balance the loads.
func (m *Member) unbalanced(sum, rest wrench, size float64) error {
	if math.Sqrt(dot(&rest, &rest)) <= negligible*size {
		return nil
	}
	held := slices.ContainsFunc(m.supports, func(s Support) bool { return s.Horizontal })
	if !held && math.Abs(sum[0]) > negligible*size {
		return &Error{Kind: ErrDrift, Text: fmt.Sprintf("%g N pushes it along its plan direction: let one support hold the horizontal", sum[0])}
	}
	if len(m.supports) == 1 {
		return &Error{Kind: ErrMechanism, Of: "support", Index: 0, At: m.supports[0].At, Text: "the member swings about its only support: add a support or fix this one"}
	}
	return &Error{Kind: ErrMechanism, Text: "the member swings: its supports stand above one another or their pushes meet in one point"}
}

// take checks the loads and keeps them with their places moved onto the stations.
func (m *Member) take(loads []Load) error {
	m.loads = m.loads[:0]
	if len(m.supports) == 0 {
		return &Error{Kind: ErrMechanism, Text: "the member is not set on any support"}
	}
	var errs error
	for i := range loads {
		l := loads[i]
		if err := m.place(&l, i); err != nil {
			errs = errors.Join(errs, err)
			continue
		}
		m.loads = append(m.loads, l)
	}
	return errs
}

// place checks one load and moves its places onto the stations, its sum kept.
func (m *Member) place(l *Load, index int) error {
	fault := func(kind error, text string) error {
		return &Error{Kind: kind, Of: "load", Index: index, At: l.From, Text: text}
	}
	for _, x := range [...]float64{l.From, l.To, l.U0, l.U1, l.Z0, l.Z1, l.Moment} {
		if !finite(x) {
			return fault(ErrNotFinite, "give its places in mm and its size in N, N/mm or N mm")
		}
	}
	point := l.From == l.To
	switch {
	case l.From > l.To:
		return fault(ErrLoad, "it ends before it starts")
	case point && (l.U1 != 0 || l.Z1 != 0):
		return fault(ErrLoad, "a point load has no second intensity")
	case !point && l.Moment != 0:
		return fault(ErrLoad, "a moment acts at a point")
	}
	from, on := m.axis.onto(m.stations, l.From)
	to, onToo := m.axis.onto(m.stations, l.To)
	if !on || !onToo {
		return fault(ErrBeyond, fmt.Sprintf("it reaches from %g to %g mm of a member %g mm long", l.From, l.To, m.axis.Length()))
	}
	switch length := l.To - l.From; {
	case point:
	case from == to:
		*l = Force(from, (l.U0+l.U1)/2*length, (l.Z0+l.Z1)/2*length)
	default:
		r := length / (to - from)
		l.U0, l.U1, l.Z0, l.Z1 = l.U0*r, l.U1*r, l.Z0*r, l.Z1*r
	}
	l.From, l.To = from, to
	return nil
}

func (k Stiffness) check() error {
	if !finite(k.EA) || !finite(k.EI) {
		return &Error{Kind: ErrNotFinite, Text: "give the stiffness as EA in N and EI in N mm2, or zero where it is not known"}
	}
	if k.EA < 0 || k.EI < 0 {
		return &Error{Kind: ErrStiffness, Text: "a stiffness is not negative"}
	}
	return nil
}
