package ec3

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/working"
)

// Held is how a piece is held against buckling. A length of 0 is not known, and a check that needs it is absent.
type Held struct {
	BucklingY, BucklingZ float64 // mm, effective lengths for buckling about each axis

	// Full says that the flange in compression is held along its whole length. Else LateralLength is the length in mm between
	// the points where it is, and Moment and LoadAbove go with the moment between them.
	Full          bool
	LateralLength float64
	Moment        MomentShape
	LoadAbove     float64 // mm, z_g: of the load above the shear centre, below it negative
}

// MomentShape are the factors of M_cr for the shape of the moment between two points that hold the flange: C1 for the shape,
// C2 for the height of the load. The zero MomentShape is not known.
type MomentShape struct {
	C1, C2 float64
}

// Shapes between ends that are held sideways and free to turn. ConstantMoment is the worst where no load acts between them.
var (
	ConstantMoment = MomentShape{1, 0}
	UniformLoad    = MomentShape{1.127, 0.454} // as in the multi-storey guide's example A.1
	MidPointLoad   = MomentShape{1.348, 0.630} // public sheet SN003 on M_cr (memory)
)

// curves are the imperfection factors of the buckling curves, EN 1993-1-1 Table 6.1 and 6.3.
var curves = map[string]float64{"a0": 0.13, "a": 0.21, "b": 0.34, "c": 0.49, "d": 0.76}

// Curves of Table 6.2, spelled as their factors.
const (
	curveA = 0.21
	curveB = 0.34
	curveC = 0.49
	curveD = 0.76
)

// Buckling is demand over capacity in compression, 6.2.4 and 6.3.1; 0 for a piece in tension, which Combined holds.
func (p *Piece) Buckling(in *Forces, held *Held, sheet *working.Sheet) working.Outcome {
	design, fy, absent := p.strength(sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	if in.N >= 0 {
		sheet.Step("ratio", 0, "", "EN 1993-1-1 6.3.1")
		return working.Found(0)
	}
	if p.class(fy, -in.N, false, sheet) == 4 {
		return working.Missing(slenderSection)
	}
	sheet.Step("A", p.count()*p.Section.A, "mm2", "of the section")
	sheet.Step("N_c,Rd", p.count()*p.Section.A*design, "N", "EN 1993-1-1 6.10")
	b, absent := p.flexural(fy, held, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	ratio := -in.N / min(b.ny, b.nz, p.count()*p.Section.A*design)
	sheet.Step("ratio", ratio, "", "EN 1993-1-1 6.46")
	return working.Found(ratio)
}

// buckling is what a piece bears before it buckles about each axis, N, with the slenderness.
type buckling struct {
	ny, nz             float64
	slenderY, slenderZ float64
}

// flexural is N_b,Rd about both axes, 6.47 to 6.49.
func (p *Piece) flexural(fy float64, held *Held, sheet *working.Sheet) (b buckling, absent working.Absence) {
	s := p.Section
	switch {
	case s.Shape == Channel:
		return b, "a channel in compression also twists as it buckles, which is not worked here: ask the engineer (EN 1993-1-1 6.3.1.4)"
	case !(held.BucklingY > 0 && held.BucklingZ > 0):
		return b, "the lengths over which the steel could buckle are not known: state how it is held"
	case !(s.Iy > 0 && s.Iz > 0):
		return b, "the properties of the steel section are not complete"
	}
	gamma, absent := p.Choices.GammaM1.Get()
	if absent != "" {
		return b, absent
	}
	sheet.Step("gamma_M1", gamma, "", p.Choices.GammaM1.Source)
	alphaY, alphaZ := s.bucklingCurves()
	squash := s.A * fy
	one := func(second, length, alpha float64, axis string) (capacity, slender float64) {
		critical := math.Pi * math.Pi * materials.SteelE * second / (length * length)
		slender = math.Sqrt(squash / critical)
		phi := 0.5 * (1 + alpha*(slender-0.2) + slender*slender)
		chi := math.Min(1/(phi+math.Sqrt(math.Max(phi*phi-slender*slender, 0))), 1)
		if sheet != nil {
			sheet.Step("L_cr,"+axis, length, "mm", "EN 1993-1-1 6.3.1.3")
			sheet.Step("I_"+axis, second, "mm4", "of the section")
			sheet.Step("N_cr,"+axis, critical, "N", "EN 1993-1-1 6.3.1.2(1)")
			sheet.Step("lambda_"+axis, slender, "", "EN 1993-1-1 6.50")
			sheet.Step("phi_"+axis, phi, "", "EN 1993-1-1 6.49")
			sheet.Step("chi_"+axis, chi, "", "EN 1993-1-1 6.49")
			sheet.Step("N_b,"+axis+",Rd", p.count()*chi*squash/gamma, "N", "EN 1993-1-1 6.47")
		}
		return p.count() * chi * squash / gamma, slender
	}
	b.ny, b.slenderY = one(s.Iy, held.BucklingY, alphaY, "y")
	b.nz, b.slenderZ = one(s.Iz, held.BucklingZ, alphaZ, "z")
	return b, ""
}

// bucklingCurves are the imperfection factors about y and z, EN 1993-1-1 Table 6.2, for flanges up to 40 mm and grades up to
// S420.
func (s *Section) bucklingCurves() (y, z float64) {
	switch {
	case s.hollow() && s.Hot:
		return curveA, curveA
	case s.hollow():
		return curveC, curveC
	case s.H/s.B > 1.2 && s.Tf <= 40:
		return curveA, curveB
	case s.Tf <= 100:
		return curveB, curveC
	}
	return curveD, curveD
}
