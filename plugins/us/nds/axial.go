package nds

import "math"

// Tension is a pull along the grain.
type Tension struct {
	Force    float64 // N; its sign is not read
	Lost     float64 // area of holes and cuts, mm2
	Duration Duration
}

// Tension checks the net section (NDS 3.8.1).
func (m Member) Tension(t Tension) (Check, error) {
	const name = "tension"
	if err := finite(name, t.Force); err != nil {
		return Check{}, err
	}
	if !(t.Lost >= 0 && t.Lost < m.Section.Area()) {
		return Check{}, absent(name, "the area lost must be 0 or more and less than the section")
	}
	w := m.begin()
	force := w.set("P", math.Abs(t.Force), "N", "", "")
	net := w.set("An", m.Section.Area()-t.Lost, "mm2", "NDS 3.1.2", "")
	stress := w.set("ft", force/net, "N/mm2", "NDS 3.8.1", "")
	capacity, err := m.adjusted(&w, Ft, t.Duration)
	if err != nil {
		return Check{}, err
	}
	return w.check(name, "NDS 3.8.1", stress/capacity)
}

// Compression is a thrust along the grain, in the middle of the section. The lengths are effective ones, Ke l (NDS
// Appendix G): those of a post with pinned ends are the distances between its holds.
type Compression struct {
	Force        float64 // N; its sign is not read
	AlongDepth   Bracing // against buckling in the direction of the depth
	AlongBreadth Bracing // and of the breadth; plies are taken to buckle each for itself
	Duration     Duration
}

// Compression checks a column (NDS 3.6, 3.7). A slenderness above 50 is not met, whatever the stress.
func (m Member) Compression(c Compression) (Check, error) {
	const name = "compression"
	if err := finite(name, c.Force); err != nil {
		return Check{}, err
	}
	w := m.begin()
	stress := m.axialStress(&w, "P", "fc", c.Force)
	col, err := m.column(&w, c.AlongDepth, c.AlongBreadth, c.Duration)
	if err != nil {
		return Check{}, err
	}
	return w.check(name, "NDS 3.6.3", math.Max(stress/col.capacity, col.over))
}

func (m Member) axialStress(w *working, force, stress string, n float64) float64 {
	n = w.set(force, math.Abs(n), "N", "", "")
	a := w.set("A", m.Section.Area(), "mm2", "", "")
	return w.set(stress, n/a, "N/mm2", "", "")
}

// column is a member that may buckle: its F'c, the two critical stresses (infinite where held), and
// tooSlender of the worse slenderness.
type column struct {
	capacity, alongDepth, alongBreadth, over float64
}

func (m Member) column(w *working, depth, breadth Bracing, d Duration) (column, error) {
	star, err := m.adjusted(w, Fc, d)
	if err != nil {
		return column{}, err
	}
	ply := ""
	if m.Section.Plies > 1 {
		ply = "one ply for itself"
	}
	s1, err := slender(w, "le1/d1", depth, m.Section.Depth(), "")
	if err != nil {
		return column{}, err
	}
	s2, err := slender(w, "le2/d2", breadth, m.Section.PlyBreadth(), ply)
	if err != nil {
		return column{}, err
	}
	worst := math.Max(s1, s2)
	if worst == 0 {
		w.set("CP", 1, "", "NDS 3.7.1.1", "held throughout")
		return column{w.set("Fc'", star, "N/mm2", "NDS Table 4.3.1", ""), math.Inf(1), math.Inf(1), 0}, nil
	}
	emin, err := m.adjusted(w, Emin, 0)
	if err != nil {
		return column{}, err
	}
	critical := func(s float64) float64 { return 0.822 * emin / (s * s) }
	fcE := w.set("FcE", critical(worst), "N/mm2", "NDS 3.7.1.5", "")
	cp := w.set("CP", ColumnStabilityFactor(fcE, star), "", "NDS 3.7.1.5 (3.7-1)", "")
	return column{
		capacity:   w.set("Fc'", star*cp, "N/mm2", "NDS Table 4.3.1", ""),
		alongDepth: critical(s1), alongBreadth: critical(s2), over: tooSlender(worst),
	}, nil
}
