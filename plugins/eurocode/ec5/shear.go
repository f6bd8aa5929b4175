package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Shear are the shear forces of one combination at one place. A point load on the top face within the depth from the edge of a
// support may be left out (EN 1995-1-1 6.1.7(3)), at a notched end only where the notch is in the top; whoever works the forces decides.
type Shear struct {
	Duration national.Duration
	Vz, Vy   float64 // N, either sign: in the depth, and across the breadth
}

// Shear is demand over capacity in shear, 6.13, with the breadth lessened for cracks, 6.13a. The two directions are taken
// together as a resultant, since both stress the same fibres.
func (p *Piece) Shear(in *Shear, sheet *working.Sheet) working.Outcome {
	strength, kcr, absent := p.shearStrength(in.Duration, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	stress := 1.5 * math.Hypot(in.Vz, in.Vy) / (kcr * p.area())
	ratio := stress / strength
	sheet.Step("A", p.area(), "mm2", "n b h, n plies")
	sheet.Step("tau_d", stress, "N/mm2", "EN 1995-1-1 6.1.7, 6.13a")
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 6.13")
	return working.Found(ratio)
}

// shearStrength is f_v,d in N/mm2 with the k_cr that goes with it.
func (p *Piece) shearStrength(duration national.Duration, sheet *working.Sheet) (strength, kcr float64, absent working.Absence) {
	basic, absent := p.basic(duration, sheet)
	if absent != "" {
		return 0, 0, absent
	}
	if p.Grade.FvK == 0 {
		return 0, 0, p.unstated("fv_k")
	}
	crack := Kcr(p.Grade.Kind, p.Choices)
	if kcr, absent = crack.Get(); absent != "" {
		return 0, 0, absent
	}
	strength = basic * p.shared(sheet) * p.Grade.FvK
	sheet.Step("k_cr", kcr, "", crack.Source)
	sheet.Step("f_v,k", p.Grade.FvK, "N/mm2", p.Grade.Source)
	sheet.Step("f_v,d", strength, "N/mm2", "EN 1995-1-1 2.14")
	return strength, kcr, ""
}

// Notch is an end of a piece cut down at its support, with the shear force there.
type Notch struct {
	Duration   national.Duration
	V          float64 // N, either sign
	Cut        float64 // mm, depth of the notch square to the axis
	ToReaction float64 // mm, x: from the line of the reaction to the corner of the notch
	Slope      float64 // i: length of the sloping part for each mm of the cut; 0 for a square corner
	Top        bool    // cut into the face away from the support, where nothing splits
}

// Notch is demand over capacity in shear at a notched end: 6.60 to 6.63.
func (p *Piece) Notch(in *Notch, sheet *working.Sheet) working.Outcome {
	strength, kcr, absent := p.shearStrength(in.Duration, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	switch {
	case !(in.Cut >= 0 && in.ToReaction >= 0 && in.Slope >= 0):
		return working.Missing("the notch has a size below 0")
	case in.Cut >= p.Depth:
		return working.Missing("the notch is as deep as the piece")
	}
	left := p.Depth - in.Cut
	kv := 1.0
	if alpha := left / p.Depth; !in.Top && alpha < 1 {
		slope := 1 + 1.1*math.Pow(in.Slope, 1.5)/math.Sqrt(p.Depth)
		split := math.Sqrt(p.Depth) * (math.Sqrt(alpha*(1-alpha)) + 0.8*in.ToReaction/p.Depth*math.Sqrt(1/alpha-alpha*alpha))
		kv = math.Min(1, Kn(p.Grade.Kind)*slope/split)
		sheet.Step("alpha", alpha, "", "EN 1995-1-1 6.5.2")
		sheet.Step("k_n", Kn(p.Grade.Kind), "", "EN 1995-1-1 6.63")
	}
	stress := 1.5 * math.Abs(in.V) / (kcr * p.plies() * p.Breadth * left)
	ratio := stress / (kv * strength)
	sheet.Step("k_v", kv, "", "EN 1995-1-1 6.61, 6.62")
	sheet.Step("h_ef", left, "mm", "EN 1995-1-1 6.5.2")
	sheet.Step("tau_d", stress, "N/mm2", "EN 1995-1-1 6.60, with b_ef of 6.13a")
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 6.60")
	return working.Found(ratio)
}
