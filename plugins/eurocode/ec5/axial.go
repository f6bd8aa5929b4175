package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Axial is the force along a piece in one combination, with the lengths over which it could buckle.
type Axial struct {
	Duration national.Duration
	N        float64 // N, tension positive
	Net      float64 // mm2, the area left at the weakest place; 0 is the whole section
	Length   float64 // mm, of the piece: only LVL in tension asks for it

	// BucklingY and BucklingZ are the effective lengths in mm for buckling about the y axis (in the depth) and about the z axis.
	BucklingY, BucklingZ float64
}

// Tension is demand over capacity in tension along the grain, 6.1; 0 for a piece in compression.
func (p *Piece) Tension(in *Axial, sheet *working.Sheet) working.Outcome {
	basic, absent := p.basic(in.Duration, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	ratio, absent := p.tension(in, basic, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 6.1")
	return working.Found(ratio)
}

// Compression is demand over capacity in compression along the grain with buckling, 6.2 and 6.3.2; 0 for a piece in tension.
func (p *Piece) Compression(in *Axial, sheet *working.Sheet) working.Outcome {
	basic, absent := p.basic(in.Duration, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	c, absent := p.compression(in, basic, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	ratio := max(c.stress/(c.kcy*c.strength), c.stress/(c.kcz*c.strength), in.netRatio(&c, p))
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 6.2, 6.23, 6.24")
	return working.Found(ratio)
}

// tension is sigma_t,0,d / f_t,0,d.
func (p *Piece) tension(in *Axial, basic float64, sheet *working.Sheet) (ratio float64, absent working.Absence) {
	if in.N <= 0 {
		return 0, ""
	}
	if p.Grade.Ft0K == 0 {
		return 0, p.unstated("ft0_k")
	}
	if !(in.Net >= 0) {
		return 0, netBelowZero
	}
	size, clause := 1.0, "EN 1995-1-1 3.2(3), 3.3(3)"
	if p.Grade.Kind == materials.LVL {
		size, absent = lengthFactor(p.Grade, in.Length)
		clause = "EN 1995-1-1 3.4(4)"
	} else {
		size, absent = Kh(p.Grade, math.Max(p.Breadth, p.Depth))
	}
	if absent != "" {
		return 0, absent
	}
	sheet.Step("k_h", size, "", clause)
	strength := basic * size * p.shared(sheet) * p.Grade.Ft0K
	stress := in.N / p.netArea(in)
	sheet.Step("f_t,0,k", p.Grade.Ft0K, "N/mm2", p.Grade.Source)
	sheet.Step("f_t,0,d", strength, "N/mm2", "EN 1995-1-1 2.14")
	sheet.Step("A_net", p.netArea(in), "mm2", "EN 1995-1-1 5.2")
	sheet.Step("sigma_t,0,d", stress, "N/mm2", "EN 1995-1-1 6.1.2")
	return stress / strength, ""
}

// lengthFactor is k_l of LVL in tension, EN 1995-1-1 3.4.
func lengthFactor(grade *materials.Timber, length float64) (float64, working.Absence) {
	switch {
	case grade.SizeExponent == 0:
		return 0, working.Absence("grade " + grade.Name + " states no size_exp: add the size effect exponent s of the maker")
	case !(length > 0):
		return 0, "the length of the piece is not known, and LVL in tension depends on it (EN 1995-1-1 3.4)"
	}
	return math.Min(math.Pow(3000/length, grade.SizeExponent/2), 1.1), ""
}

// squeezed is a state of compression along the grain.
type squeezed struct {
	stress, strength float64 // N/mm2
	kcy, kcz         float64
	stocky           bool // both relative slendernesses are at most 0.3, so that 6.2.4 holds in place of 6.3.2(3)
}

func (p *Piece) compression(in *Axial, basic float64, sheet *working.Sheet) (c squeezed, absent working.Absence) {
	c.kcy, c.kcz, c.strength = 1, 1, 1
	if in.N >= 0 {
		return c, ""
	}
	switch {
	case !(in.Net >= 0):
		return c, netBelowZero
	case p.Grade.Fc0K == 0:
		return c, p.unstated("fc0_k")
	case p.Grade.E005 == 0:
		return c, p.unstated("E005")
	case !(in.BucklingY > 0 && in.BucklingZ > 0):
		return c, "the lengths over which the piece could buckle are not known: state how it is held"
	}
	c.stress = -in.N / p.area()
	c.strength = basic * p.shared(sheet) * p.Grade.Fc0K
	sheet.Step("f_c,0,k", p.Grade.Fc0K, "N/mm2", p.Grade.Source)
	sheet.Step("E_0,05", p.Grade.E005, "N/mm2", p.Grade.Source)
	var slenderY, slenderZ float64
	c.kcy, slenderY = p.buckling(in.BucklingY, p.Depth, "y", sheet)
	c.kcz, slenderZ = p.buckling(in.BucklingZ, p.Breadth, "z", sheet)
	c.stocky = slenderY <= stockyLimit && slenderZ <= stockyLimit
	sheet.Step("f_c,0,d", c.strength, "N/mm2", "EN 1995-1-1 2.14")
	sheet.Step("A", p.area(), "mm2", "n b h, n plies")
	sheet.Step("sigma_c,0,d", c.stress, "N/mm2", "EN 1995-1-1 6.1.4")
	return c, ""
}

// stockyLimit is the relative slenderness up to which a piece does not buckle, EN 1995-1-1 6.3.2(2).
const stockyLimit = 0.3

// buckling is k_c and lambda_rel about one axis: 6.21 to 6.29. The radius of gyration is that of one ply, whose side in the
// direction of buckling is given: about z the plies slide, and what they carry is the sum of the single ones.
func (p *Piece) buckling(length, side float64, axis string, sheet *working.Sheet) (kc, relative float64) {
	slender := length * math.Sqrt(12) / side
	relative = slender / math.Pi * math.Sqrt(p.Grade.Fc0K/p.Grade.E005)
	kc = 1.0
	if relative > stockyLimit {
		k := 0.5 * (1 + BetaC(p.Grade.Kind)*(relative-stockyLimit) + relative*relative)
		kc = 1 / (k + math.Sqrt(k*k-relative*relative))
	}
	if sheet != nil {
		sheet.Step("l_ef,"+axis, length, "mm", "EN 1995-1-1 6.3.2(1)")
		sheet.Step("lambda_"+axis, slender, "", "EN 1995-1-1 6.3.2(1)")
		sheet.Step("lambda_rel,"+axis, relative, "", "EN 1995-1-1 6.21, 6.22")
		sheet.Step("k_c,"+axis, kc, "", "EN 1995-1-1 6.25 to 6.29")
	}
	return kc, relative
}

// netBelowZero is the reason of a net area that cannot be.
const netBelowZero working.Absence = "the area left at the weakest place is below 0"

// netArea is the area that tension has, and compression at the weakest place.
func (p *Piece) netArea(in *Axial) float64 {
	if in.Net > 0 {
		return math.Min(in.Net, p.area())
	}
	return p.area()
}

// netRatio is compression on the weakest place, which does not buckle by itself.
func (in *Axial) netRatio(c *squeezed, p *Piece) float64 {
	return c.stress * p.area() / p.netArea(in) / c.strength
}
