package nds

import (
	"fmt"
	"math"
)

// Member is what all checks of one piece share.
type Member struct {
	Section Section
	Grade   Grade
	Service Service
	Quiet   bool // leave the working out of what the checks answer
}

func (m Member) begin() working { return working{quiet: m.Quiet} }

// Service is where and how the member works. The zero value is dry, at ordinary temperature, plain and alone.
type Service struct {
	Wet         bool    // moisture content above 19 % for long
	Temperature float64 // sustained, degrees Celsius; 37.8 and below is ordinary
	Incised     bool
	Repetitive  bool // three or more, at most 24 in apart, joined by sheathing or the like
}

// Bracing says how far apart the lateral holds of a member are. The zero value says nothing, and checks that need it
// are then absent.
type Bracing struct {
	Full   bool    // held throughout; Length is then not read
	Length float64 // unbraced length, mm
}

// Adjusted is a design value with every factor of Table 4.3.1 that needs no stability: Fb without CL, Fc without CP,
// N/mm2, with its working.
func (m Member) Adjusted(p Property, d Duration) (float64, []Step, error) {
	w := m.begin()
	v, err := m.adjusted(&w, p, d)
	return v, w.steps, err
}

func (m Member) adjusted(w *working, p Property, d Duration) (float64, error) {
	if p == Fb {
		return m.bendingValue(w, d, m.Section.Flat, m.Service.Repetitive)
	}
	return m.value(w, p, d, p.String()+starred(p))
}

// starred marks a value from which the stability factor is still missing, as the NDS writes it.
func starred(p Property) string {
	if p == Fb || p == Fc {
		return "*"
	}
	return "'"
}

// bendingValue is Fb* of bending about one axis: flat asks for the flat use factor, repetitive for Cr.
func (m Member) bendingValue(w *working, d Duration, flat, repetitive bool) (float64, error) {
	v, err := m.value(w, Fb, d, "")
	if err != nil {
		return 0, err
	}
	cfu, cr := 1.0, 1.0
	if flat {
		cfu = FlatUseFactor(m.Section)
	}
	if repetitive {
		cr = RepetitiveMember
	}
	v *= w.set("Cfu", cfu, "", "NDS 4.3.7", "")
	v *= w.set("Cr", cr, "", "NDS 4.3.9", "")
	return w.set("Fb*", v, "N/mm2", "NDS Table 4.3.1", ""), nil
}

// value multiplies the reference value by CD, CM, Ct, CF and Ci, and records the product under a symbol, if any.
func (m Member) value(w *working, p Property, d Duration, symbol string) (float64, error) {
	ref, err := m.Grade.Value(p, m.Section)
	if err != nil {
		return 0, err
	}
	cf, err := SizeFactor(p, m.Grade, m.Section)
	if err != nil {
		return 0, err
	}
	ct, err := TemperatureFactor(p, m.Service.Temperature, m.Service.Wet)
	if err != nil {
		return 0, err
	}
	origin, err := m.Grade.Origin(m.Section)
	if err != nil {
		return 0, err
	}
	text := ""
	if !w.quiet {
		text = fmt.Sprintf("%s %s, edition %s: %s", m.Section, m.Grade, m.Grade.Edition, origin)
	}
	v := w.set(p.String(), ref, "N/mm2", m.table(), text)
	if takesDuration(p) {
		if !(d > 0 && d <= Impact) {
			return 0, absent(p.String()+"'", "the load duration factor must be stated, above 0 and at most 2 (NDS Table 2.3.2)")
		}
		v *= w.set("CD", float64(d), "", "NDS Table 2.3.2", "")
	}
	cm := 1.0
	if m.Service.Wet {
		cm = WetServiceFactor(p, ref*cf)
	}
	v *= w.set("CM", cm, "", "NDS 4.3.3", "")
	v *= w.set("Ct", ct, "", "NDS Table 2.3.3", "")
	if p == Fb || p == Ft || p == Fc {
		v *= w.set("CF", cf, "", "NDS 4.3.6", "")
	}
	ci := 1.0
	if m.Service.Incised {
		ci = IncisingFactor(p)
	}
	v *= w.set("Ci", ci, "", "NDS 4.3.8", "")
	if symbol != "" {
		w.set(symbol, v, "N/mm2", "NDS Table 4.3.1", "")
	}
	return v, nil
}

func takesDuration(p Property) bool { return p == Fb || p == Ft || p == Fv || p == Fc }

func (m Member) table() string {
	if m.Grade.sizeSpecific() {
		return "NDS Supplement Table 4B"
	}
	return "NDS Supplement Table 4A"
}

// tooSlender is a slenderness over the limit of beams (3.3.3.7) and columns (3.7.1.4), and 0 up to the limit: it fails
// a member, and never becomes the ratio of one that it does not fail.
func tooSlender(s float64) float64 {
	const most = 50
	if s <= most*(1+hair) {
		return 0
	}
	return s / most
}

// beamStability works out CL, and FbE for the combined checks: infinite where the member cannot roll over. over is
// tooSlender of RB.
func (m Member) beamStability(w *working, b Bracing, l Loading, fbStar float64) (cl, fbE, over float64, err error) {
	s := m.Section
	if s.Depth() <= s.PlyBreadth() {
		return w.set("CL", 1, "", "NDS 3.3.3.1", "no deeper than broad"), math.Inf(1), 0, nil
	}
	if b.Full {
		return w.set("CL", 1, "", "NDS 3.3.3.3", "compression edge held throughout"), math.Inf(1), 0, nil
	}
	if err := positive("CL", "the unbraced length of the compression edge", b.Length); err != nil {
		return 0, 0, 0, err
	}
	lu := w.set("lu", b.Length, "mm", "NDS 3.3.3.4", "")
	le := w.set("le", EffectiveLength(l, lu, s.Depth()), "mm", "NDS Table 3.3.3", "")
	ply := ""
	if s.Plies > 1 {
		ply = "breadth of one ply"
	}
	rb := w.set("RB", math.Sqrt(le*s.Depth()/(s.PlyBreadth()*s.PlyBreadth())), "", "NDS 3.3.3.6 (3.3-5)", ply)
	emin, err := m.adjusted(w, Emin, 0)
	if err != nil {
		return 0, 0, 0, err
	}
	fbE = w.set("FbE", 1.20*emin/(rb*rb), "N/mm2", "NDS 3.3.3.8", "")
	return w.set("CL", BeamStabilityFactor(fbE, fbStar), "", "NDS 3.3.3.8 (3.3-6)", ""), fbE, tooSlender(rb), nil
}

// slender is the effective length over the size in the direction of buckling, 0 where held throughout.
func slender(w *working, symbol string, b Bracing, size float64, text string) (float64, error) {
	if b.Full {
		return w.set(symbol, 0, "", "NDS 3.7.1", "held throughout"), nil
	}
	if err := positive("CP", "the effective length "+symbol[:3], b.Length); err != nil {
		return 0, err
	}
	return w.set(symbol, b.Length/size, "", "NDS 3.7.1.3", text), nil
}
