package nds

import "math"

// Duration is the load duration factor CD of NDS Table 2.3.2, that of the shortest load in a combination. It does not
// apply to E, Emin or compression perpendicular to grain.
type Duration float64

// Load durations (0.9 and 1.15 by document; 1.25 and 1.0 by the span cells; 1.6 and 2.0 memory).
const (
	Permanent  Duration = 0.9  // dead load
	TenYears   Duration = 1.0  // floor live load
	TwoMonths  Duration = 1.15 // snow
	SevenDays  Duration = 1.25 // construction and roof live load
	TenMinutes Duration = 1.6  // wind, earthquake
	Impact     Duration = 2.0
)

// hair is the relative slack at the limits of a table: a figure that is exactly the limit, but for the last bit, is on it.
const hair = 1e-9

// RepetitiveMember is Cr on Fb: three or more members at not more than 24 in, joined by what shares the load
// (NDS 4.3.9; by document).
const RepetitiveMember = 1.15

// MostRepetitiveSpacing is the widest spacing at which Cr may be taken, mm (NDS 4.3.9).
const MostRepetitiveSpacing = 24 * Inch

// SizeFactor is CF (NDS 4.3.6, Table 4A). Southern pine has its widths in the values themselves, and 1.1 on Fb for
// 4 in thickness from 8 in up (Table 4B; memory). Stud grade: 1.1 on Fb and Ft and 1.05 on Fc up to 4 in, and 1.0 for
// 5 and 6 in (memory; a grading rule was reported with 1.1 there, the lower is taken). The rest is by document.
func SizeFactor(p Property, g Grade, s Section) (float64, error) {
	if p != Fb && p != Ft && p != Fc {
		return 1, nil
	}
	if g.sizeSpecific() {
		if p == Fb && s.NominalThickness == 4 && s.NominalWidth >= 8 {
			return 1.1, nil
		}
		return 1, nil
	}
	rows, ok := sizeFactors[g.Name]
	if !ok {
		rows = sizeFactors["structural"]
	}
	for _, r := range rows {
		if s.NominalWidth > r.most {
			continue
		}
		switch {
		case p == Fc:
			return r.fc, nil
		case p == Fb && s.NominalThickness == 4:
			return r.fb4, nil
		default:
			return r.fb, nil // the table gives Ft the figures of Fb for 2 and 3 in thickness
		}
	}
	return 0, absent("CF of "+g.String()+" in "+s.String(), "the grade has no size factor for this width")
}

// sizeFactors is Table 4A, by grade: up to a nominal width, the factor on Fb (2 and 3 in thick; also on Ft), on Fb
// for 4 in thickness, and on Fc.
var sizeFactors = map[string][]struct {
	most        int
	fb, fb4, fc float64
}{
	"structural": {
		{4, 1.5, 1.5, 1.15}, {5, 1.4, 1.4, 1.1}, {6, 1.3, 1.3, 1.1}, {8, 1.2, 1.3, 1.05},
		{10, 1.1, 1.2, 1.0}, {12, 1.0, 1.1, 1.0}, {math.MaxInt, 0.9, 1.0, 0.9},
	},
	"Stud":         {{4, 1.1, 1.1, 1.05}, {6, 1, 1, 1}},
	"Construction": {{4, 1, 1, 1}},
	"Standard":     {{4, 1, 1, 1}},
	"Utility":      {{4, 1, 1, 1}},
}

// FlatUseFactor is Cfu on Fb of a member bent about its weak axis, by nominal size (NDS 4.3.7, Tables 4A and 4B; memory).
func FlatUseFactor(s Section) float64 {
	thick := s.NominalThickness == 4
	for _, r := range []struct {
		most      int
		cfu, cfu4 float64
	}{{3, 1, 1}, {4, 1.1, 1}, {5, 1.1, 1.05}, {8, 1.15, 1.05}, {math.MaxInt, 1.2, 1.1}} {
		if s.NominalWidth <= r.most {
			if thick {
				return r.cfu4
			}
			return r.cfu
		}
	}
	return 1
}

// WetServiceFactor is CM where the moisture content exceeds 19 % for long (NDS 4.3.3, Tables 4A and 4B; memory).
// sized is the reference value times CF, N/mm2: low values of Fb and Fc are not reduced.
func WetServiceFactor(p Property, sized float64) float64 {
	switch p {
	case Fb:
		if sized <= 1150*PSI*(1+hair) {
			return 1
		}
		return 0.85
	case Fv:
		return 0.97
	case FcPerp:
		return 0.67
	case Fc:
		if sized <= 750*PSI*(1+hair) {
			return 1
		}
		return 0.8
	case E, Emin:
		return 0.9
	}
	return 1
}

// TemperatureFactor is Ct of wood held for long at a temperature in degrees Celsius (NDS 2.3.3, Table 2.3.3; memory).
// Ordinary use, to 100 F, is 1. Above 150 F the NDS gives none: an *Absence.
func TemperatureFactor(p Property, celsius float64, wet bool) (float64, error) {
	fahrenheit := celsius*9/5 + 32
	switch {
	case fahrenheit <= 100+hair:
		return 1, nil
	case !(fahrenheit <= 150+hair):
		return 0, absent("Ct", "NDS Table 2.3.3 ends at 150 F (65.6 degrees Celsius)")
	case p == Ft || p == E || p == Emin:
		return 0.9, nil
	case fahrenheit <= 125+hair:
		if wet {
			return 0.7, nil
		}
		return 0.8, nil
	case wet:
		return 0.5, nil
	}
	return 0.7, nil
}

// IncisingFactor is Ci of lumber incised for treatment with the pattern of NDS 4.3.8 (memory).
func IncisingFactor(p Property) float64 {
	switch p {
	case E, Emin:
		return 0.95
	case FcPerp:
		return 1
	}
	return 0.8
}

// BearingAreaFactor is Cb of a bearing of a length, mm, whose nearer edge is fromEnd, mm, from the member's end
// (NDS 3.10.4, equation 3.10-2): bearings under 6 in and not nearer than 3 in to an end may spread.
func BearingAreaFactor(length, fromEnd float64) float64 {
	if length >= 6*Inch*(1-hair) || fromEnd < 3*Inch*(1-hair) {
		return 1
	}
	return (length + 0.375*Inch) / length
}

// BeamStabilityFactor is CL (NDS 3.3.3.8, equation 3.3-6) from the critical buckling stress FbE and Fb*, N/mm2.
func BeamStabilityFactor(fbE, fbStar float64) float64 {
	return stability(fbE/fbStar, 0.95)
}

// ColumnStabilityFactor is CP of sawn lumber, c = 0.8 (NDS 3.7.1.5, equation 3.7-1), from FcE and Fc*, N/mm2.
func ColumnStabilityFactor(fcE, fcStar float64) float64 {
	return stability(fcE/fcStar, 0.8)
}

// stability is the smaller root of c x^2 - (1 + r) x + r = 0, which both equations are, in the form that does not
// cancel when the member is stocky.
func stability(r, c float64) float64 {
	a := (1 + r) / (2 * c)
	return r / c / (a + math.Sqrt(a*a-r/c))
}

// Loading is the pattern of load by which Table 3.3.3 turns an unbraced length into an effective one. The zero value
// is the table's own rule for a pattern not listed.
type Loading int

// The rows of Table 3.3.3 (memory).
const (
	AnyLoading        Loading = iota
	UniformLoad               // single span
	CentrePoint               // single span, no lateral support at the load
	CentrePointHeld           // single span, laterally supported at the load
	ThirdPoints               // two equal loads, laterally supported at them
	EqualEndMoments           // single span
	CantileverUniform         //
	CantileverTip             // one load at the free end
)

// EffectiveLength is le of Table 3.3.3 for an unbraced length and a depth, mm.
func EffectiveLength(l Loading, unbraced, depth float64) float64 {
	slender := unbraced / depth
	switch l {
	case UniformLoad:
		return either(slender < 7, 2.06*unbraced, 1.63*unbraced+3*depth)
	case CentrePoint:
		return either(slender < 7, 1.80*unbraced, 1.37*unbraced+3*depth)
	case CentrePointHeld:
		return 1.11 * unbraced
	case ThirdPoints:
		return 1.68 * unbraced
	case EqualEndMoments:
		return 1.84 * unbraced
	case CantileverUniform:
		return either(slender < 7, 1.33*unbraced, 0.90*unbraced+3*depth)
	case CantileverTip:
		return either(slender < 7, 1.87*unbraced, 1.44*unbraced+3*depth)
	}
	if slender > 14.3 {
		return 1.84 * unbraced
	}
	return either(slender < 7, 2.06*unbraced, 1.63*unbraced+3*depth)
}

func either(short bool, a, b float64) float64 {
	if short {
		return a
	}
	return b
}
