package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Deflection is what a span bends under the serviceability combinations, worked with the mean moduli. Its zero limits are the
// national ones.
type Deflection struct {
	Span           float64 // mm; of a cantilever, its length
	Cantilever     bool
	Characteristic float64 // mm, at once under the characteristic combination, either sign
	QuasiPermanent float64 // mm, at once under the quasi-permanent combination, at the same place

	// ShearCharacteristic and ShearQuasiPermanent are the moments in N mm at that place above the line that joins the moments
	// at the two supports, where the deflections above leave the timber's shear out; 0 where they hold it.
	ShearCharacteristic, ShearQuasiPermanent float64

	Plastered bool    // a ceiling of plaster or plasterboard hangs below
	Wet       bool    // put in near fibre saturation, EN 1995-1-1 3.2(4)
	Camber    float64 // mm, built in against the load, taken off the final deflection
	Limit     float64 // n of span / n; 0 is the national one
}

// ShearDeflection is what the shear of the timber adds in mm, for the moment in N mm above the line between the moments at the
// supports. In a rectangle the shear strain is 1.2 V / (G A), whose integral from a support is 1.2 M / (G A).
func (p *Piece) ShearDeflection(moment float64) (deflection float64, absent working.Absence) {
	if moment == 0 {
		return 0, ""
	}
	if absent := p.usable(); absent != "" {
		return 0, absent
	}
	if p.Grade.GMean == 0 {
		return 0, p.unstated("G")
	}
	return 1.2 * moment / (p.Grade.GMean * p.area()), ""
}

// DeflectionInstant is the deflection at once over its limit: EN 1995-1-1 2.2.3(2), 7.2.
func (p *Piece) DeflectionInstant(in *Deflection, sheet *working.Sheet) working.Outcome {
	if absent := p.bendable(in); absent != "" {
		return working.Missing(absent)
	}
	limit, clause, absent := in.limit(pick(in.Cantilever, &p.Choices.InstantCantilever, &p.Choices.Instant))
	if absent != "" {
		return working.Missing("no national limit is set on the deflection at once: set one as a param (EN 1995-1-1 7.2)")
	}
	shear, absent := p.ShearDeflection(in.ShearCharacteristic)
	if absent != "" {
		return working.Missing(absent)
	}
	w := math.Abs(in.Characteristic + shear)
	ratio := w / limit
	p.stiffness(in, sheet)
	sheet.Step("w_v", shear, "mm", "statics, 1.2 M / (G A)")
	sheet.Step("w_inst", w, "mm", "EN 1995-1-1 2.2.3(2)")
	sheet.Step("w_limit", limit, "mm", clause)
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 7.2")
	return working.Found(ratio)
}

// DeflectionFinal is the deflection in the end over its limit. The factors 1 + k_def, 1 + psi_2 k_def and psi_0 + psi_2 k_def
// of 2.2.3(5) make it what bends at once under the characteristic combination and k_def times what does under the
// quasi-permanent one.
func (p *Piece) DeflectionFinal(in *Deflection, sheet *working.Sheet) working.Outcome {
	if absent := p.bendable(in); absent != "" {
		return working.Missing(absent)
	}
	c := p.Choices
	bare := pick(in.Cantilever, &c.FinalBareCantilever, &c.FinalBare)
	plastered := pick(in.Cantilever, &c.FinalPlasteredCantilever, &c.FinalPlastered)
	limit, clause, absent := in.limit(pick(in.Plastered, plastered, bare))
	if absent != "" {
		return working.Missing(absent)
	}
	creep, absent := Kdef(p.ServiceClass, in.Wet)
	if absent != "" {
		return working.Missing(absent)
	}
	shear, absent := p.ShearDeflection(in.ShearCharacteristic)
	if absent != "" {
		return working.Missing(absent)
	}
	lasting, absent := p.ShearDeflection(in.ShearQuasiPermanent)
	if absent != "" {
		return working.Missing(absent)
	}
	final := in.Characteristic + shear + creep*(in.QuasiPermanent+lasting)
	net := math.Max(math.Abs(final)-math.Max(in.Camber, 0), 0)
	ratio := net / limit
	p.stiffness(in, sheet)
	sheet.Step("k_def", creep, "", "EN 1995-1-1 Table 3.2")
	sheet.Step("w_v", shear, "mm", "statics, 1.2 M / (G A)")
	sheet.Step("w_inst", in.Characteristic+shear, "mm", "EN 1995-1-1 2.2.3(2)")
	sheet.Step("w_creep", creep*(in.QuasiPermanent+lasting), "mm", "EN 1995-1-1 2.2.3(3), (5)")
	sheet.Step("w_net,fin", net, "mm", "EN 1995-1-1 7.2(2)")
	sheet.Step("w_limit", limit, "mm", clause)
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 7.2")
	return working.Found(ratio)
}

// stiffness writes what a deflection is worked with.
func (p *Piece) stiffness(in *Deflection, sheet *working.Sheet) {
	sheet.Step("l", in.Span, "mm", "statics")
	sheet.Step("E_0,mean", p.Grade.E0Mean, "N/mm2", p.Grade.Source)
	sheet.Step("I_y", p.plies()*p.Breadth*p.Depth*p.Depth*p.Depth/12, "mm4", "n b h^3 / 12, n plies")
}

func (p *Piece) bendable(in *Deflection) working.Absence {
	if absent := p.usable(); absent != "" {
		return absent
	}
	if !(in.Span > 0) {
		return "the span is not known"
	}
	return ""
}

// limit is the most that the span may bend, mm.
func (in *Deflection) limit(value *national.Value) (limit float64, clause string, absent working.Absence) {
	if in.Limit > 0 {
		return in.Span / in.Limit, "param", ""
	}
	n, absent := value.Get()
	return in.Span / n, value.Source, absent
}

func pick[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}
