package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/working"
)

// Ratios of effective length to span, EN 1995-1-1 Table 6.1, for beams held against twisting at their supports.
const (
	RatioConstantMoment    = 1.0
	RatioUniform           = 0.9
	RatioMidPoint          = 0.8
	RatioCantileverUniform = 0.5
	RatioCantileverTip     = 0.8
)

// Edge is where across the depth the load acts; the zero Edge is the worst.
type Edge int

// The edges.
const (
	CompressionEdge Edge = iota
	MidDepth
	TensionEdge
)

// Lateral is how the edge in compression is held sideways. The zero Lateral says nothing, and a check that needs it is absent.
type Lateral struct {
	Full   bool    // along its whole length, and against twisting at the supports
	Length float64 // mm, between the points that hold it: the span where there are none but the supports
	Ratio  float64 // of effective length to Length; 0 is that of a constant moment, the worst
	LoadAt Edge
}

// EffectiveLength is l_ef in mm for a depth in mm: Table 6.1 with its notes, 2h more for load on the compression edge and
// 0.5h less for load on the tension edge.
func (l *Lateral) EffectiveLength(depth float64) float64 {
	ratio := l.Ratio
	if ratio == 0 {
		ratio = RatioConstantMoment
	}
	length := ratio * l.Length
	switch l.LoadAt {
	case CompressionEdge:
		length += 2 * depth
	case TensionEdge:
		length -= 0.5 * depth
	}
	return length
}

// kcrit is 6.34. Plies slide on one another, so that each buckles by itself.
func (p *Piece) kcrit(l *Lateral, sheet *working.Sheet) (float64, working.Absence) {
	if l.Full {
		sheet.Step("k_crit", 1, "", "EN 1995-1-1 6.3.3(5)")
		return 1, ""
	}
	if !(l.Length > 0 && l.Ratio >= 0) {
		return 0, "how the edge in compression is held sideways is not known: state the restraint"
	}
	length := l.EffectiveLength(p.Depth)
	if length <= 0 { // a beam so deep and short, hung from its tension edge, that it cannot turn over
		sheet.Step("k_crit", 1, "", "EN 1995-1-1 6.3.3(4)")
		return 1, ""
	}
	critical, clause, absent := p.criticalStress(length)
	if absent != "" {
		return 0, absent
	}
	slender := math.Sqrt(p.Grade.FmK / critical)
	k := 1.0
	switch {
	case slender > 1.4:
		k = 1 / (slender * slender)
	case slender > 0.75:
		k = 1.56 - 0.75*slender
	}
	sheet.Step("l_ef", length, "mm", "EN 1995-1-1 Table 6.1")
	sheet.Step("sigma_m,crit", critical, "N/mm2", clause)
	sheet.Step("lambda_rel,m", slender, "", "EN 1995-1-1 6.30")
	sheet.Step("k_crit", k, "", "EN 1995-1-1 6.34")
	return k, ""
}

// criticalStress is sigma_m,crit in N/mm2: 6.32 for rectangles of solid softwood and glulam, 6.31 for the rest.
func (p *Piece) criticalStress(length float64) (stress float64, clause string, absent working.Absence) {
	b, h := p.Breadth, p.Depth
	if p.Grade.E005 == 0 {
		return 0, "", p.unstated("E005")
	}
	if p.Grade.Kind == materials.Softwood || p.Grade.Kind == materials.Glulam {
		return 0.78 * b * b * p.Grade.E005 / (h * length), "EN 1995-1-1 6.32", ""
	}
	if p.Grade.G005 == 0 {
		return 0, "", p.unstated("G005")
	}
	second := h * b * b * b / 12
	thin, wide := math.Min(b, h), math.Max(b, h)
	torsion := wide * thin * thin * thin / 3 * (1 - 0.63*thin/wide)
	moment := math.Pi * math.Sqrt(p.Grade.E005*second*p.Grade.G005*torsion) / length
	return moment / (b * h * h / 6), "EN 1995-1-1 6.31", ""
}
