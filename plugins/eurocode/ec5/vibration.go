package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Floor is a floor of joists in a dwelling, as its vibration sees it. The joists span between two supports.
type Floor struct {
	Span    float64 // mm, of the joists
	Width   float64 // mm, across the joists; 0 is not known: the worst of any width counts
	Centres float64 // mm, of the joists
	Mass    float64 // kg/mm2, of the floor by its dead load alone (EN 1995-1-1 7.3.3(3))

	// DeckRigidity is E I of the deck for a strip across the joists in N mm2 for each mm of its width.
	DeckRigidity float64
	// CeilingRigidity is the same of a ceiling fixed straight to the joists; 0 leaves it out.
	CeilingRigidity float64

	Strutted   bool // one row of strutting or more
	Continuous bool // the joists run on over a third support
}

// Vibration is the worst of three: the least frequency over the floor's own, the deflection under 1 kN over its limit, and the
// velocity under a unit impulse over its limit: EN 1995-1-1 7.3.3 with the annex.
func (p *Piece) Vibration(in *Floor, sheet *working.Sheet) working.Outcome {
	if absent := p.usable(); absent != "" {
		return working.Missing(absent)
	}
	rules, absent := p.Choices.Vibration.Get()
	if absent != "" {
		return working.Missing(absent)
	}
	switch {
	case p.Grade.E0Mean == 0:
		return working.Missing(p.unstated("E"))
	case in.Continuous:
		return working.Missing("joists that run over a third support need a k_amp of their own, of which no source was at hand: ask the engineer")
	case !(in.Span > 0 && in.Centres > 0):
		return working.Missing("the span or the centres of the joists are not known")
	case !(in.Width >= 0):
		return working.Missing("the width of the floor across its joists is below 0")
	case !(in.Mass > 0):
		return working.Missing("the mass of the floor is not known")
	case !(in.DeckRigidity > 0):
		return working.Missing("the stiffness of the deck across the joists is not known: state the deck's thickness and what it is made of")
	}
	v := vibrating{Floor: in, rules: &rules, clause: p.Choices.Vibration.Source,
		joist: p.Rigidity(), along: p.Rigidity() / in.Centres, across: in.DeckRigidity + math.Max(in.CeilingRigidity, 0)}
	f1 := v.frequency(sheet)
	a := v.deflection(sheet)
	velocity := v.velocity(f1, a, sheet)
	ratio := max(rules.LeastFrequency/f1, a/v.deflectionLimit(sheet), velocity)
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 7.3.3")
	return working.Found(ratio)
}

// vibrating is a floor with what its three figures share.
type vibrating struct {
	*Floor
	rules         *national.Vibration
	clause        string
	joist         float64 // N mm2, of one joist
	along, across float64 // N mm2 for each mm of width, EI_l and EI_b
}

// frequency is f_1 in Hz, 7.5. 1 N is 1000 kg mm/s2.
func (v *vibrating) frequency(sheet *working.Sheet) float64 {
	f1 := math.Pi / (2 * v.Span * v.Span) * math.Sqrt(1000*v.along/v.Mass)
	sheet.Step("m", v.Mass*1e6, "kg/m2", "EN 1995-1-1 7.3.3(3)")
	sheet.Step("(EI)_l", v.along, "N mm2/mm", "EN 1995-1-1 7.3.3(4)")
	sheet.Step("f_1", f1, "Hz", "EN 1995-1-1 7.5")
	return f1
}

// deflection is a in mm under 1 kN on one joist of the floor: 1000 k_dist L^3 k_amp / (48 EI). The annex writes EI_b for a
// metre of floor, hence its 1000.
func (v *vibrating) deflection(sheet *working.Sheet) float64 {
	kstrut := 1.0
	if v.Strutted {
		kstrut = v.rules.Kstrut
	}
	s := v.Centres
	kdist := math.Max(kstrut*(0.38-0.08*math.Log(14*1000*v.across/(s*s*s*s))), v.rules.KdistLeast)
	a := 1000 * kdist * v.Span * v.Span * v.Span * v.rules.Kamp / (48 * v.joist)
	sheet.Step("(EI)_b", v.across, "N mm2/mm", "EN 1995-1-1 7.3.3(5)")
	sheet.Step("k_strut", kstrut, "", v.clause)
	sheet.Step("k_dist", kdist, "", v.clause)
	sheet.Step("k_amp", v.rules.Kamp, "", v.clause)
	sheet.Step("a", a, "mm/kN", v.clause)
	return a
}

func (v *vibrating) deflectionLimit(sheet *working.Sheet) float64 {
	limit := v.rules.ShortLimit
	if v.Span > v.rules.ShortSpan {
		limit = v.rules.LongCoefficient / math.Pow(v.Span, v.rules.LongExponent)
	}
	sheet.Step("a_limit", limit, "mm/kN", v.clause)
	return limit
}

// velocity is v over its limit b^(f_1 zeta - 1), 7.4 with 7.6 and 7.7; lengths in m there.
func (v *vibrating) velocity(f1, a float64, sheet *working.Sheet) float64 {
	const knee = 40 // Hz
	width, span := v.Width/1000, v.Span/1000
	modes := 0.0 // for each m of width
	if f1 < knee {
		modes = math.Pow((knee/f1*knee/f1-1)*v.along/v.across, 0.25) / span
	}
	// The speed runs one way from a narrow floor to a wide one, so that one of the two ends is the worst of any width.
	speed := max(4*0.4/200, 4*0.6*modes/(v.Mass*1e6*span))
	if width > 0 {
		speed = 4 * (0.4 + 0.6*modes*width) / (v.Mass*1e6*width*span + 200)
		sheet.Step("n_40", modes*width, "", "EN 1995-1-1 7.7")
	}
	b := 180 - 60*a // EN 1995-1-1 Figure 7.2: from 150 at 0.5 mm/kN to 120 at 1, and on to 80 at 2
	if a > v.rules.VelocityBreak {
		b = 160 - 40*a
	}
	b = math.Max(b, 50) // the least of the figure, which turns once more at 2 mm/kN: beyond any limit of a
	limit := math.Pow(b, f1*v.rules.Damping-1)
	sheet.Step("v", speed, "m/(N s2)", "EN 1995-1-1 7.6")
	sheet.Step("v_limit", limit, "m/(N s2)", "EN 1995-1-1 7.4")
	return speed / limit
}
