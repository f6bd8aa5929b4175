package ec3

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/working"
)

// Lateral is demand over capacity in bending about the strong axis where the compression flange may turn over sideways, 6.54.
// Square and round tubes do not turn over (6.3.2.1(2)), nor does what is held along its whole length: there it is the moment
// capacity of the section.
func (p *Piece) Lateral(in *Forces, held *Held, sheet *working.Sheet) working.Outcome {
	c, absent := p.crossSection(in, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	l, absent := p.turning(&c, held, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	ratio := math.Abs(in.My) / math.Min(l.capacity, c.my)
	sheet.Step("ratio", ratio, "", "EN 1993-1-1 6.54")
	return working.Found(ratio)
}

// turning is M_b,Rd in N mm, and whether the piece can turn over at all.
type turning struct {
	capacity float64
	prone    bool
}

func (p *Piece) turning(c *crossSection, held *Held, sheet *working.Sheet) (l turning, absent working.Absence) {
	s := p.Section
	gamma, absent := p.Choices.GammaM1.Get()
	if absent != "" {
		return l, absent
	}
	wy := modulus(c.class, s.Wely, s.Wply)
	whole := p.count() * wy * c.fy / gamma
	if held.Full || s.Shape == CHS || (s.Shape == RHS && s.H <= s.B) {
		sheet.Step("chi_LT", 1, "", "EN 1993-1-1 6.3.2.1(2)")
		return turning{capacity: whole}, ""
	}
	critical, absent := p.criticalMoment(held)
	if absent != "" {
		return l, absent
	}
	curve, absent := p.lateralCurve()
	if absent != "" {
		return l, absent
	}
	slender := math.Sqrt(wy * c.fy / critical)
	phi := 0.5 * (1 + curve.alpha*(slender-curve.lambda0) + curve.beta*slender*slender)
	chi := 1.0
	if slender > curve.plateau {
		chi = min(1/(phi+math.Sqrt(math.Max(phi*phi-curve.beta*slender*slender, 0))), 1, 1/(slender*slender))
	}
	sheet.Step("gamma_M1", gamma, "", p.Choices.GammaM1.Source)
	sheet.Step("M_cr", critical, "N mm", "elastic theory for a doubly symmetric section, k = k_w = 1; EN 1993-1-1 6.3.2.2(2)")
	sheet.Step("lambda_LT", slender, "", "EN 1993-1-1 6.3.2.2(1)")
	sheet.Step("phi_LT", phi, "", curve.clause)
	sheet.Step("chi_LT", chi, "", curve.clause)
	l = turning{capacity: chi * whole, prone: slender > curve.plateau}
	sheet.Step("M_b,Rd", l.capacity, "N mm", "EN 1993-1-1 6.55")
	return l, ""
}

// criticalMoment is M_cr of one section in N mm, for ends that are held against twisting and free to turn and warp. A channel
// is worked as if it were symmetric about both axes, loaded through its shear centre.
func (p *Piece) criticalMoment(held *Held) (critical float64, absent working.Absence) {
	s := p.Section
	switch {
	case !(held.LateralLength > 0):
		return 0, "how the flange in compression is held sideways is not known: state the restraint"
	case !(s.Iz > 0 && s.It > 0 && (s.hollow() || s.Iw > 0)):
		return 0, "the properties of the steel section are not complete"
	case !(held.Moment.C1 > 0 && held.Moment.C2 >= 0):
		return 0, "the shape of the moment between the points that hold the flange is not known"
	}
	length := held.LateralLength
	sideways := math.Pi * math.Pi * materials.SteelE * s.Iz / (length * length)
	above := held.Moment.C2 * held.LoadAbove
	return held.Moment.C1 * sideways * (math.Sqrt(s.Iw/s.Iz+materials.SteelG*s.It/sideways+above*above) - above), ""
}

// lateralCurve is how a moment capacity falls with slenderness, from the end of the plateau on.
type lateralCurve struct {
	plateau              float64
	alpha, lambda0, beta float64
	clause               string
}

// lateralCurve picks 6.3.2.3 for rolled I sections, whose curve goes by depth over breadth as the country chooses, and the
// general case 6.3.2.2 with curve d for the rest (Table 6.4). The plateau is that of 6.3.2.3 in both (6.3.2.2(4)).
func (p *Piece) lateralCurve() (c lateralCurve, absent working.Absence) {
	s := p.Section
	if c.plateau, absent = p.Choices.LambdaLT0.Get(); absent != "" {
		return c, absent
	}
	if s.Shape != ISection {
		c.alpha, c.lambda0, c.beta, c.clause = curveD, 0.2, 1, "EN 1993-1-1 6.56"
		return c, ""
	}
	c.lambda0, c.clause = c.plateau, "EN 1993-1-1 6.57"
	if c.beta, absent = p.Choices.BetaLT.Get(); absent != "" {
		return c, absent
	}
	steps, absent := p.Choices.CurvesLT.Get()
	if absent != "" {
		return c, absent
	}
	for _, step := range steps {
		if step.To == 0 || s.H/s.B <= step.To {
			if alpha, ok := curves[step.Curve]; ok {
				c.alpha = alpha
				return c, ""
			}
		}
	}
	return c, "the national choices name no buckling curve for a section of this depth and breadth"
}
