package nds

import "math"

// Deflection is what a member sags by, worked out with the reference E.
type Deflection struct {
	LongTerm   float64 // from load that stays, mm
	ShortTerm  float64 // from the rest, mm
	Limit      float64 // mm
	Unseasoned bool    // put in green
}

// Deflection checks the sag with creep, Kcr = 1.5 for seasoned lumber used dry and 2.0 otherwise (NDS 3.5.2), and with
// the adjusted E. Where a limit is on live load only, LongTerm is 0.
func (m Member) Deflection(d Deflection) (Check, error) {
	const name = "deflection"
	if err := finite(name, d.LongTerm, d.ShortTerm); err != nil {
		return Check{}, err
	}
	if err := positive(name, "the limit", d.Limit); err != nil {
		return Check{}, err
	}
	reference, err := m.Grade.Value(E, m.Section)
	if err != nil {
		return Check{}, err
	}
	w := m.begin()
	adjusted, err := m.adjusted(&w, E, 0)
	if err != nil {
		return Check{}, err
	}
	kcr := 1.5
	if m.Service.Wet || d.Unseasoned {
		kcr = 2.0
	}
	softer := reference / adjusted
	kcr = w.set("Kcr", kcr, "", "NDS 3.5.2", "")
	lt := w.set("Delta_LT", d.LongTerm*softer, "mm", "NDS 3.5.2", "with E'")
	st := w.set("Delta_ST", d.ShortTerm*softer, "mm", "NDS 3.5.2", "with E'")
	total := w.set("Delta_T", kcr*lt+st, "mm", "NDS 3.5.2 (3.5-1)", "")
	limit := w.set("limit", d.Limit, "mm", "", "")
	return w.check(name, "NDS 3.5", math.Abs(total)/limit)
}
