package plane

import "math"

// Deflect adds Deflection and Sway to a diagram of this member, by integrating
// M/EI and N/EA from its start and moving the whole so that the supports that
// settle the balance stay put. Where nothing holds the plan direction the lowest
// support is taken for the fixed point of it, and where nothing holds the turn
// of a member on one support it is taken not to turn.
//
// EI must be known, or ErrStiffness; EA too, unless the member is straight and
// level, when without it Sway alone is left out.
func (m *Member) Deflect(d *Diagram) error {
	if len(d.segments) == 0 || d.segments[len(d.segments)-1].to != m.axis.Length() {
		return &Error{Kind: ErrMismatch, Text: "the diagram is not of this member"}
	}
	d.known[Deflection], d.known[Sway] = false, false
	level := m.axis.Straight() && m.axis.dir[0].Z == 0
	switch {
	case m.stiffness.EI == 0:
		return &Error{Kind: ErrStiffness, Text: "EI is needed for the deflection"}
	case m.stiffness.EA == 0 && !level:
		return &Error{Kind: ErrStiffness, Text: "EA is needed for the deflection of a member that is not level"}
	}
	m.bend(d)
	m.settle(d)
	d.known[Deflection], d.known[Sway] = true, m.stiffness.EA > 0
	return d.check()
}

// bend integrates from a start that neither moves nor turns. Deflection then
// holds the displacement square to the axis (upwards), Sway that along it.
func (m *Member) bend(d *Diagram) {
	bend, stretch := 1/m.stiffness.EI, 0.0
	if m.stiffness.EA > 0 {
		stretch = 1 / m.stiffness.EA
	}
	var u, z, slope float64
	for i := range d.segments {
		g := &d.segments[i]
		c, s := m.axis.Direction(g.from)
		w, a := poly{z*c - u*s, slope}, poly{u*c + z*s}
		for k := range 4 {
			w[k+2] = g.of[Moment][k] * bend / float64((k+1)*(k+2))
			a[k+1] = g.of[Axial][k] * stretch / float64(k+1)
		}
		h := g.to - g.from
		across, along, turned := w.at(h), a.at(h), w.derivative()
		u, z, slope = along*c-across*s, along*s+across*c, turned.at(h)
		g.of[Deflection], g.of[Sway] = w, a
	}
}

// settle moves the bent line back onto its supports.
func (m *Member) settle(d *Diagram) {
	datum, at := m.datum()
	var work [3]float64
	size := 0.0
	for i, h := range at[:datum.n] {
		u, z, slope := m.displaced(d, m.supports[h.support].At)
		size = math.Max(size, math.Hypot(u, z))
		switch h.part {
		case pushU:
			work[i] = -u
		case pushZ:
			work[i] = -z
		case turn:
			work[i] = slope * m.axis.Length()
		}
	}
	move := datum.movement(work)
	turned := move[2] / m.axis.Length()
	straight := m.axis.Straight()
	for i := range d.segments {
		g := &d.segments[i]
		c, s := m.axis.Direction(g.from)
		p, p0 := m.axis.At(g.from), m.axis.points[0]
		u, z := move[0]-turned*(p.Z-p0.Z), move[1]+turned*(p.U-p0.U)
		w, a := g.of[Deflection], g.of[Sway]
		w[0] += z*c - u*s
		w[1] += turned
		a[0] += u*c + z*s
		var down, sway poly
		sway.add(&a, c)
		sway.add(&w, -s)
		if straight {
			down.add(&w, -1)
		} else {
			down.add(&w, -c)
			down.add(&a, -s)
		}
		g.of[Deflection], g.of[Sway] = down, sway
	}
	d.floor[Deflection], d.floor[Sway] = snap*size, snap*size
}

// datum is three holds that fix the member's place: the primary ones, and what
// is taken to hold where they leave something free.
func (m *Member) datum() (basis, [3]hold) {
	var b basis
	var at [3]hold
	take := func(h hold) {
		if n := b.n; b.add(n, h.wrench) {
			at[n] = h
		}
	}
	for i := range m.primary.n {
		take(m.holds[m.primary.index[i]])
	}
	lowest := 0
	for i := range m.supports {
		if m.axis.At(m.supports[i].At).Z < m.axis.At(m.supports[lowest].At).Z {
			lowest = i
		}
	}
	for _, p := range [...]part{pushU, turn} {
		take(hold{lowest, p, m.axis.wrenchOf(p, m.supports[lowest].At)})
	}
	return b, at
}

// displaced is the displacement at s after bend, along u, up, and the slope.
func (m *Member) displaced(d *Diagram, s float64) (u, z, slope float64) {
	g := &d.segments[d.find(s, After)]
	x := s - g.from
	cos, sin := m.axis.Direction(g.from)
	across, along, turned := g.of[Deflection].at(x), g.of[Sway].at(x), g.of[Deflection].derivative()
	return along*cos - across*sin, along*sin + across*cos, turned.at(x)
}
