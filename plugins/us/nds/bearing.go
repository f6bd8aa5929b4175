package nds

import "math"

// Bearing is a reaction or a load on the side of a member.
type Bearing struct {
	Force    float64  // N; its sign is not read
	Length   float64  // along the member, mm
	Width    float64  // across it, mm; 0: the whole breadth
	FromEnd  float64  // from the member's end to the nearer edge of the bearing, mm
	Tilt     float64  // of the force from the square to the grain, radians; a seat cut of a rafter has its pitch
	Duration Duration // read only where there is a tilt
}

// Bearing checks compression perpendicular to grain, or at an angle to it (NDS 3.10.2, 3.10.3, 3.10.4).
func (m Member) Bearing(b Bearing) (Check, error) {
	const name = "bearing"
	if err := finite(name, b.Force, b.FromEnd, b.Width); err != nil {
		return Check{}, err
	}
	if err := positive(name, "the length of bearing", b.Length); err != nil {
		return Check{}, err
	}
	if !(math.Abs(b.Tilt) < math.Pi/2) || b.Width < 0 || b.FromEnd < 0 {
		return Check{}, absent(name, "tilt must be under a right angle, width and distance to the end not below zero")
	}
	w := m.begin()
	r := w.set("R", math.Abs(b.Force), "N", "", "")
	lb := w.set("lb", b.Length, "mm", "", "")
	width := m.Section.Breadth()
	if b.Width > 0 {
		width = math.Min(width, b.Width)
	}
	width = w.set("b", width, "mm", "", "")
	stress := w.set("fc_perp", r/(lb*width), "N/mm2", "NDS 3.10.2", "")
	perp, err := m.value(&w, FcPerp, 0, "")
	if err != nil {
		return Check{}, err
	}
	perp *= w.set("Cb", BearingAreaFactor(lb, b.FromEnd), "", "NDS 3.10.4 (3.10-2)", "")
	w.set("Fc_perp'", perp, "N/mm2", "NDS Table 4.3.1", "")
	if b.Tilt == 0 {
		return w.check(name, "NDS 3.10.2", stress/perp)
	}
	along, err := m.adjusted(&w, Fc, b.Duration)
	if err != nil {
		return Check{}, err
	}
	theta := w.set("theta", math.Pi/2-math.Abs(b.Tilt), "rad", "NDS 3.10.3", "between the force and the grain")
	sin, cos := math.Sincos(theta)
	at := w.set("F_theta'", along*perp/(along*sin*sin+perp*cos*cos), "N/mm2", "NDS 3.10.3 (3.10-1)", "")
	return w.check("bearing at an angle to grain", "NDS 3.10.3", stress/at)
}

// EndBearing is a push on the end grain of a member.
type EndBearing struct {
	Force    float64 // N; its sign is not read
	Area     float64 // of contact, mm2
	Duration Duration
}

// EndBearing checks compression on the end grain, before any buckling (NDS 3.10.1).
func (m Member) EndBearing(b EndBearing) (Check, error) {
	const name = "bearing on end grain"
	if err := finite(name, b.Force); err != nil {
		return Check{}, err
	}
	if err := positive(name, "the area of contact", b.Area); err != nil {
		return Check{}, err
	}
	w := m.begin()
	r := w.set("R", math.Abs(b.Force), "N", "", "")
	area := w.set("A", math.Min(b.Area, m.Section.Area()), "mm2", "", "")
	stress := w.set("fc", r/area, "N/mm2", "NDS 3.10.1.1", "")
	capacity, err := m.adjusted(&w, Fc, b.Duration)
	if err != nil {
		return Check{}, err
	}
	return w.check(name, "NDS 3.10.1.1", stress/capacity)
}
