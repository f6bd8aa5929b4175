package ec3

import (
	"math"

	"example.com/scantling/plugins/eurocode/working"
)

// Forces are what one combination does at one place: moments in N mm and shear in N of either sign, the force along the piece
// with tension positive.
type Forces struct {
	My, Mz float64
	Vz     float64 // in the depth
	N      float64
}

// Shear is demand over capacity in shear in the depth, 6.2.6. A web so slender that it buckles in shear is absent.
func (p *Piece) Shear(in *Forces, sheet *working.Sheet) working.Outcome {
	design, fy, absent := p.strength(sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	plastic, absent := p.shearResistance(design, fy, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	ratio := math.Abs(in.Vz) / plastic
	sheet.Step("ratio", ratio, "", "EN 1993-1-1 6.17")
	return working.Found(ratio)
}

// shearResistance is V_pl,Rd in N.
func (p *Piece) shearResistance(design, fy float64, sheet *working.Sheet) (plastic float64, absent working.Absence) {
	s := p.Section
	eta, absent := p.Choices.Eta.Get()
	if absent != "" {
		return 0, absent
	}
	area := 0.0
	switch s.Shape {
	case ISection:
		area = math.Max(s.A-2*s.B*s.Tf+(s.Tw+2*s.R)*s.Tf, eta*(s.H-2*s.Tf)*s.Tw)
	case Channel:
		area = s.A - 2*s.B*s.Tf + (s.Tw+s.R)*s.Tf
	case RHS:
		area = s.A * s.H / (s.B + s.H)
	case CHS:
		area = 2 * s.A / math.Pi
	default:
		return 0, "the shape of the steel section is not known"
	}
	if web := s.clearWeb() / s.Tw; web > 72*math.Sqrt(235/fy)/eta {
		return 0, "the web is so slender that it buckles in shear, which is not worked here (EN 1993-1-1 6.2.6(6), EN 1993-1-5)"
	}
	plastic = p.count() * area * design / math.Sqrt(3)
	sheet.Step("A_v", area, "mm2", "EN 1993-1-1 6.2.6(3)")
	sheet.Step("V_pl,Rd", plastic, "N", "EN 1993-1-1 6.18")
	return plastic, ""
}

// clearWeb is the clear depth of the web in mm; a tube has none.
func (s *Section) clearWeb() float64 {
	switch s.Shape {
	case RHS:
		return s.H - 3*s.Tw
	case CHS:
		return 0
	}
	return s.H - 2*s.Tf
}

// Bending is demand over capacity of the cross-section in bending about both axes, added in line (6.2.1(7)), the moment
// capacity lessened where the shear beside it is more than half of what the section bears (6.2.8).
func (p *Piece) Bending(in *Forces, sheet *working.Sheet) working.Outcome {
	c, absent := p.crossSection(in, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	ratio := math.Abs(in.My)/c.my + math.Abs(in.Mz)/c.mz
	sheet.Step("ratio", ratio, "", "EN 1993-1-1 6.12, 6.2.8, 6.2.1(7)")
	return working.Found(ratio)
}

// crossSection is what the cross-section bears: N and N mm.
type crossSection struct {
	n, my, mz  float64
	design, fy float64 // N/mm2
	class      Class
}

func (p *Piece) crossSection(in *Forces, sheet *working.Sheet) (c crossSection, absent working.Absence) {
	c.design, c.fy, absent = p.strength(sheet)
	if absent != "" {
		return c, absent
	}
	s := p.Section
	c.class = p.class(c.fy, -in.N, in.My != 0 || in.Mz != 0, sheet)
	if in.Mz != 0 && s.Shape != ISection { // a wall that bending about z compresses is classed as if squeezed all over
		c.class = max(c.class, p.class(c.fy, -in.N, false, nil))
	}
	if c.class == 4 {
		return c, slenderSection
	}
	plastic, absent := p.shearResistance(c.design, c.fy, sheet)
	if absent != "" {
		return c, absent
	}
	wy := modulus(c.class, s.Wely, s.Wply)
	if used := math.Abs(in.Vz) / plastic; !(used <= 0.5) {
		rho := (2*used - 1) * (2*used - 1)
		sheet.Step("rho", rho, "", "EN 1993-1-1 6.29")
		if rho >= 1 {
			return c, "the shear alone is more than the section bears, so that no moment capacity is left (EN 1993-1-1 6.2.8)"
		}
		wy = s.besideShear(c.class, wy, rho)
	}
	sheet.Step(modulusName(c.class), p.count()*wy, "mm3", "of the section")
	c.n = p.count() * s.A * c.design
	c.my = p.count() * wy * c.design
	c.mz = p.count() * modulus(c.class, s.Welz, s.Wplz) * c.design
	sheet.Step("M_c,y,Rd", c.my, "N mm", "EN 1993-1-1 6.13, 6.14, 6.30")
	if in.Mz != 0 {
		sheet.Step("M_z,Ed", in.Mz, "N mm", "EN 1990 6.4.3.2")
		sheet.Step("M_c,z,Rd", c.mz, "N mm", "EN 1993-1-1 6.13, 6.14")
	}
	return c, ""
}

// besideShear is the modulus in mm3 that is left beside a large shear: 6.30 for an I section, and for the rest the whole of it
// by 1 - rho, which is on the safe side of lessening the shear area alone.
func (s *Section) besideShear(class Class, modulus, rho float64) float64 {
	if s.Shape != ISection || class > 2 {
		return modulus * (1 - rho)
	}
	web := (s.H - 2*s.Tf) * s.Tw
	return math.Min(s.Wply-rho*web*web/(4*s.Tw), modulus)
}
