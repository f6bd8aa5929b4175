package nds

import "math"

// Bending is what a member is bent by, along its depth.
type Bending struct {
	Moment   float64 // N mm; its sign is not read
	Duration Duration
	Bracing  Bracing // of the compression edge
	Loading  Loading
}

// Bending checks fb against F'b (NDS 3.3). A slenderness RB above 50 is not met, whatever the stress.
func (m Member) Bending(b Bending) (Check, error) {
	const name, clause = "bending", "NDS 3.3.1"
	if err := finite(name, b.Moment); err != nil {
		return Check{}, err
	}
	w := m.begin()
	fb := m.bendingStress(&w, b.Moment)
	star, err := m.adjusted(&w, Fb, b.Duration)
	if err != nil {
		return Check{}, err
	}
	cl, _, over, err := m.beamStability(&w, b.Bracing, b.Loading, star)
	if err != nil {
		return Check{}, err
	}
	capacity := w.set("Fb'", star*cl, "N/mm2", "NDS Table 4.3.1", "")
	return w.check(name, clause, math.Max(fb/capacity, over))
}

func (m Member) bendingStress(w *working, moment float64) float64 {
	moment = w.set("M", math.Abs(moment), "N mm", "", "")
	s := w.set("S", m.Section.Modulus(), "mm3", "NDS 3.3.2.1", "")
	return w.set("fb", moment/s, "N/mm2", "NDS 3.3.2.1 (3.3-1)", "")
}
