package ec3

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Piece is the steel that a check is about. Its section must be complete (see Section.Complete); several of one section side
// by side share the load. The y axis is the one about which it bends under load in its depth.
type Piece struct {
	Section *Section
	Grade   *materials.Steel
	Choices *national.Steel
	Count   int // 0 is one
}

// count is the number of sections as a factor.
func (p *Piece) count() float64 { return float64(max(p.Count, 1)) }

// strength is what every check needs: the yield strength over gamma_M0 in N/mm2, and the yield strength itself.
func (p *Piece) strength(sheet *working.Sheet) (design, fy float64, absent working.Absence) {
	switch {
	case p.Section == nil:
		return 0, 0, "the steel section is not known"
	case p.Grade == nil:
		return 0, 0, "the steel grade is not known: name S275 or S355"
	case p.Choices == nil:
		return 0, 0, "the national choices are not known: state the region of the site"
	case !(p.Section.A > 0 && p.Section.Wely > 0 && p.Section.Wply > 0 && p.Section.Welz > 0 && p.Section.Wplz > 0):
		return 0, 0, "the properties of the steel section are not complete"
	}
	fy, source, absent := p.Grade.Yield(p.Section.thickest())
	if absent != "" {
		return 0, 0, absent
	}
	gamma, absent := p.Choices.GammaM0.Get()
	if absent != "" {
		return 0, 0, absent
	}
	sheet.Step("f_y", fy, "N/mm2", source)
	sheet.Step("gamma_M0", gamma, "", p.Choices.GammaM0.Source)
	return fy / gamma, fy, ""
}

// Class is the class of a cross-section, EN 1993-1-1 5.5.2: 1 and 2 reach the plastic moment, 3 the elastic, 4 buckles before.
type Class int

// class is the worse of flange and web under bending about the strong axis with this compression in N (tension negative);
// the bending is left out where the section is only compressed. EN 1993-1-1 Table 5.2.
func (p *Piece) class(fy, compression float64, bends bool, sheet *working.Sheet) Class {
	s := p.Section
	epsilon := math.Sqrt(235 / fy)
	sheet.Step("epsilon", epsilon, "", "EN 1993-1-1 Table 5.2")
	var worst Class
	switch s.Shape {
	case CHS:
		slender := s.H / s.Tw / (epsilon * epsilon)
		sheet.Step("d/t", s.H/s.Tw, "", "EN 1993-1-1 Table 5.2")
		worst = limits(slender, 50, 70, 90)
	case RHS:
		flange, web := (s.B-3*s.Tw)/s.Tw, (s.H-3*s.Tw)/s.Tw
		sheet.Step("c/t_f", flange, "", "EN 1993-1-1 Table 5.2")
		sheet.Step("c/t_w", web, "", "EN 1993-1-1 Table 5.2")
		worst = max(internal(flange, epsilon, 1, 1), p.web(web, 2*s.Tw*(s.H-3*s.Tw), fy, epsilon, compression, bends))
	default:
		outstand := (s.B - s.Tw - 2*s.R) / 2 / s.Tf
		if s.Shape == Channel {
			outstand = (s.B - s.Tw - s.R) / s.Tf
		}
		depth := s.H - 2*(s.Tf+s.R)
		sheet.Step("c/t_f", outstand, "", "EN 1993-1-1 Table 5.2")
		sheet.Step("c/t_w", depth/s.Tw, "", "EN 1993-1-1 Table 5.2")
		worst = max(limits(outstand/epsilon, 9, 10, 14), p.web(depth/s.Tw, depth*s.Tw, fy, epsilon, compression, bends))
	}
	sheet.Step("class", float64(worst), "", "EN 1993-1-1 5.5.2(6)")
	return worst
}

// limits is the class of a part by the limits of classes 1 to 3.
func limits(slender, one, two, three float64) Class {
	switch {
	case slender <= one:
		return 1
	case slender <= two:
		return 2
	case slender <= three:
		return 3
	}
	return 4
}

// web is the class of the web, whose area is given, under the compression and the bending.
func (p *Piece) web(slender, area, fy, epsilon, compression float64, bends bool) Class {
	if !bends {
		return internal(slender, epsilon, 1, 1)
	}
	push := math.Max(compression, 0) / p.count()
	plastic := math.Min(0.5*(1+push/(area*fy)), 1)     // alpha: the part in compression when all yields
	elastic := math.Max(2*push/(p.Section.A*fy)-1, -1) // psi: the stress at the one edge over that at the other
	return internal(slender, epsilon, plastic, min(elastic, 1))
}

// internal is the class of a part held at both edges, by the part alpha in compression and the ratio psi of the edge stresses.
func internal(slender, epsilon, alpha, psi float64) Class {
	one, two := 396/(13*alpha-1), 456/(13*alpha-1)
	if alpha <= 0.5 {
		one, two = 36/alpha, 41.5/alpha
	}
	return limits(slender/epsilon, one, two, 42/(0.67+0.33*psi))
}

// slenderSection is the reason of a class that the checks do not reach.
const slenderSection working.Absence = "the section is of class 4: it buckles in its own walls before it yields, which is not worked here (EN 1993-1-5)"

// modulusName is the symbol of the modulus about y that modulus gives.
func modulusName(class Class) string {
	if class <= 2 {
		return "W_pl,y"
	}
	return "W_el,y"
}

// modulus is the section modulus that goes with the class, mm3 of one section.
func modulus(class Class, elastic, plastic float64) float64 {
	if class <= 2 {
		return plastic
	}
	return elastic
}
