package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Factors of EN 1995-1-1 that are the same in every country.
const (
	Ksys = 1.1 // 6.6(2)
	Km   = 0.7 // 6.1.6(2), rectangular sections
)

// kmod is Table 3.1, the rows of solid timber, glulam and LVL, by service class and duration.
var kmod = [3][5]float64{
	{0.60, 0.70, 0.80, 0.90, 1.10},
	{0.60, 0.70, 0.80, 0.90, 1.10},
	{0.50, 0.55, 0.65, 0.70, 0.90},
}

// Kmod is k_mod, EN 1995-1-1 Table 3.1.
func Kmod(serviceClass int, duration national.Duration) (float64, working.Absence) {
	if serviceClass < 1 || serviceClass > 3 {
		return 0, "the service class is not 1, 2 or 3"
	}
	if duration < national.Permanent || duration > national.Instantaneous {
		return 0, "the combination has no load-duration class"
	}
	return kmod[serviceClass-1][duration-national.Permanent], ""
}

// Kdef is k_def of solid timber, glulam and LVL, EN 1995-1-1 Table 3.2; timber put in near fibre saturation, to dry out under
// load, has 1.0 more (3.2(4)).
func Kdef(serviceClass int, wet bool) (float64, working.Absence) {
	if serviceClass < 1 || serviceClass > 3 {
		return 0, "the service class is not 1, 2 or 3"
	}
	k := [3]float64{0.60, 0.80, 2.00}[serviceClass-1]
	if wet {
		k++
	}
	return k, ""
}

// Kh is the size factor in bending for this depth in mm (in tension: for the larger side): EN 1995-1-1 3.1 solid timber of up
// to 700 kg/m3, 3.2 glulam, 3.3 LVL on edge. LVL that states no size exponent is absent.
func Kh(grade *materials.Timber, depth float64) (float64, working.Absence) {
	const densest = 700 // kg/m3
	switch grade.Kind {
	case materials.Glulam:
		return sizeFactor(600, depth, 0.1, 1.1), ""
	case materials.LVL:
		if grade.SizeExponent == 0 {
			return 0, working.Absence("grade " + grade.Name + " states no size_exp: add the size effect exponent s of the maker")
		}
		return math.Min(math.Pow(300/depth, grade.SizeExponent), 1.2), ""
	}
	if grade.RhoK == 0 || grade.RhoK > densest {
		return 1, "" // without a density the bonus is not claimed
	}
	return sizeFactor(150, depth, 0.2, 1.3), ""
}

// sizeFactor is the bonus of what is smaller than the reference size; there is no loss for what is larger.
func sizeFactor(reference, size, power, most float64) float64 {
	if size >= reference {
		return 1
	}
	return math.Min(math.Pow(reference/size, power), most)
}

// BetaC is beta_c of 6.29, for straightness within the limits of section 10.
func BetaC(kind materials.Kind) float64 {
	if kind == materials.Glulam || kind == materials.LVL {
		return 0.1
	}
	return 0.2
}

// Kn is k_n of 6.63.
func Kn(kind materials.Kind) float64 {
	switch kind {
	case materials.LVL:
		return 4.5
	case materials.Glulam:
		return 6.5
	}
	return 5
}

// GammaM is the partial factor of the material, a national choice in EN 1995-1-1 Table 2.3.
func GammaM(kind materials.Kind, choices *national.Timber) *national.Value {
	switch kind {
	case materials.LVL:
		return &choices.GammaMLVL
	case materials.Glulam:
		return &choices.GammaMGlulam
	}
	return &choices.GammaMSolid
}

// Kcr is the factor for cracks in shear, a national choice in EN 1995-1-1 6.1.7(2).
func Kcr(kind materials.Kind, choices *national.Timber) *national.Value {
	switch kind {
	case materials.LVL:
		return &choices.KcrLVL
	case materials.Glulam:
		return &choices.KcrGlulam
	}
	return &choices.KcrSolid
}

// basic is k_mod / gamma_M, which every design strength carries (2.14).
func (p *Piece) basic(duration national.Duration, sheet *working.Sheet) (float64, working.Absence) {
	if absent := p.usable(); absent != "" {
		return 0, absent
	}
	k, absent := Kmod(p.ServiceClass, duration)
	if absent != "" {
		return 0, absent
	}
	partial := GammaM(p.Grade.Kind, p.Choices)
	gamma, absent := partial.Get()
	if absent != "" {
		return 0, absent
	}
	sheet.Step("k_mod", k, "", "EN 1995-1-1 Table 3.1")
	sheet.Step("gamma_M", gamma, "", partial.Source)
	return k / gamma, ""
}

// shared is k_sys where the piece shares its load, else 1.
func (p *Piece) shared(sheet *working.Sheet) float64 {
	if !p.Sharing {
		return 1
	}
	sheet.Step("k_sys", Ksys, "", "EN 1995-1-1 6.6(2)")
	return Ksys
}
