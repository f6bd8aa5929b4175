package model

import (
	"math"
	"strconv"
	"strings"
)

// UsualDigits is how many significant digits a reader is given.
const UsualDigits = 4

// mostDigits is how many significant digits two values that rules tell apart can need: a relative 1e-9 is the same.
const mostDigits = 11

// Format prints a value (internal units) for a reader, in the document's units: metric in mm, kN, kN/m, kN/m2 or
// N/mm2, kNm, kg and degrees; US in feet and inches, lb, lb/ft, psf or psi, lb ft and degrees.
func Format(value float64, d Dimension, u Units) string { return FormatTo(UsualDigits, value, d, u) }

// Apart is how many significant digits two values must be printed with to be told apart; the usual ones where these do,
// or where the values are the same.
func Apart(a, b float64, d Dimension, u Units) int {
	digits := UsualDigits
	for digits < mostDigits && math.Abs(a-b) > 1e-9*math.Max(math.Abs(a), math.Abs(b)) && FormatTo(digits, a, d, u) == FormatTo(digits, b, d, u) {
		digits++
	}
	return digits
}

// FormatTo is Format with another number of significant digits. Lengths in feet and inches come to a sixteenth with the
// usual ones, and in inches with more.
func FormatTo(digits int, value float64, d Dimension, u Units) string {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return "no figure"
	}
	if u == US && d == Length {
		if digits > UsualDigits {
			return formatNumber(value/inch, digits) + " in"
		}
		return formatInches(value / inch)
	}
	printed := printedUnit(value, d, u)
	return strings.TrimRight(formatNumber(value/printed.size, digits)+" "+printed.name, " ")
}

// FormatRatio prints a ratio to a hundredth, finer where that would hide on which side of 1 it is.
func FormatRatio(v float64) string { return besideLimit(v, 1, 2) }

// FormatPercent prints a part in whole per cent, finer where that would hide on which side of 100 it is.
func FormatPercent(v float64) string { return besideLimit(100*v, 100, 0) }

// besideLimit prints with so many decimals, or with more where the limit would be printed and the value is not that.
func besideLimit(v, limit float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	atLimit := strconv.FormatFloat(limit, 'f', decimals, 64)
	if text != atLimit || math.Abs(v-limit) <= 1e-9*limit {
		return text
	}
	return besideLimit(v, limit, decimals+1)
}

// Figure is a value (internal units) as JSON prints it, with its unit: always mm, kN, kN/m, kNm, N/mm2, degrees, kg or
// powers of these; a plain number is a "ratio".
func Figure(value float64, d Dimension) (float64, string) {
	u, ok := figureUnits[d]
	if !ok {
		return value, d.String()
	}
	return value / u.size, u.name
}

// Restate gives a figure that was worked out in some unit in that of a document: one in metric units in inches, pounds and
// their like where the document is in these, else forces in kN and moments in kNm. What has no unit, or one that is not
// known here, stays as it is.
func Restate(value float64, name string, u Units) (float64, string) {
	readings := parseUnit(name)
	if name == "" || len(readings) == 0 {
		return value, name
	}
	from := readings[0]
	var to writtenUnit
	switch {
	case u == US && from.dimension == Length:
		to = MeasureLength.us
	case u == US:
		to = usUnits[from.dimension]
	case from.dimension == Force || from.dimension == Moment:
		to = figureUnits[from.dimension]
	}
	if to.name == "" {
		return value, name
	}
	return value * from.size / to.size, to.name
}

var figureUnits = map[Dimension]writtenUnit{
	Plain:     {"ratio", 1},
	Length:    MeasureLength.metric,
	Surface:   MeasureSurface.metric,
	Modulus:   MeasureModulus.metric,
	Inertia:   MeasureInertia.metric,
	Warping:   {"mm6", 1},
	Force:     MeasureForce.metric,
	Moment:    MeasureMoment.metric,
	LineLoad:  MeasureLineLoad.metric,
	Stress:    MeasureStress.metric,
	Stiffness: {"kNm2", 1e9},
	Mass:      MeasureMass.metric,
	LineMass:  MeasureLineMass.metric,
	Density:   MeasureDensity.metric,
	Angle:     MeasureAngle.metric,
}

var usUnits = map[Dimension]writtenUnit{
	Plain:     MeasureNumber.us,
	Surface:   MeasureSurface.us,
	Modulus:   MeasureModulus.us,
	Inertia:   MeasureInertia.us,
	Warping:   {"in6", inch * inch * inch * inch * inch * inch},
	Force:     MeasureForce.us,
	Moment:    MeasureMoment.us,
	LineLoad:  MeasureLineLoad.us,
	Stress:    MeasureStress.us,
	Stiffness: {"lb in2", pound * inch * inch},
	Mass:      MeasureMass.us,
	LineMass:  MeasureLineMass.us,
	Density:   MeasureDensity.us,
	Angle:     MeasureAngle.us,
}

// printedUnit is the unit that a reader expects. A stress below 0.1 N/mm2 is most likely a load on an area, and a surface
// from 1 m2 that of a floor or roof, not of a section.
func printedUnit(value float64, d Dimension, u Units) writtenUnit {
	switch {
	case d == Stress && math.Abs(value) < 0.1:
		return MeasureAreaLoad.in(u)
	case d == Surface && math.Abs(value) >= 1e6 && u == US:
		return writtenUnit{"sq ft", 144 * inch * inch}
	case d == Surface && math.Abs(value) >= 1e6:
		return writtenUnit{"m2", 1e6}
	case d == Plain:
		return writtenUnit{"", 1}
	}
	table := figureUnits
	if u == US {
		table = usUnits
	}
	if printed, ok := table[d]; ok {
		return printed
	}
	return writtenUnit{d.String(), 1}
}

// formatNumber keeps some significant digits and every digit before the point, and drops zeros at the end.
func formatNumber(v float64, digits int) string {
	size := math.Abs(v)
	if size == 0 {
		return "0"
	}
	if size < 1e-6 || size >= 1e15 {
		return strconv.FormatFloat(v, 'g', digits, 64)
	}
	decimals := max(0, digits-1-int(math.Floor(math.Log10(size))))
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// formatInches prints "5 1/2 in" up to two feet, and "13 ft 6 in" above, to a sixteenth of an inch. What is smaller
// than an inch and no sixteenth is printed as a decimal, so that small deflections do not vanish, and so are centres of
// 19.2 in, the fifth part of an 8 ft sheet, which the trade writes like that.
func formatInches(v float64) string {
	sign := ""
	if v*16 < -1e-6 {
		sign = "-"
	}
	v = math.Abs(v)
	sixteenths := math.Round(v * 16)
	odd := math.Abs(v*16-sixteenths) > 1e-6
	fifth := math.Abs(v-96.0/5) < 1e-6
	if odd && (v < 1 || fifth) || sixteenths > 1e12 {
		return sign + formatNumber(v, UsualDigits) + " in"
	}
	whole := math.Floor(sixteenths / 16)
	part := fraction(int(sixteenths - 16*whole))
	if whole <= 24 && (whole < 24 || part == "") {
		return sign + mixed(whole, part) + " in"
	}
	feet := math.Floor(whole / 12)
	text := sign + strconv.FormatFloat(feet, 'f', -1, 64) + " ft"
	if rest := whole - 12*feet; rest > 0 || part != "" {
		text += " " + mixed(rest, part) + " in"
	}
	return text
}

func mixed(whole float64, part string) string {
	switch {
	case part == "":
		return strconv.FormatFloat(whole, 'f', -1, 64)
	case whole == 0:
		return part
	}
	return strconv.FormatFloat(whole, 'f', -1, 64) + " " + part
}

// fraction writes sixteenths of an inch in lowest terms; empty for none.
func fraction(sixteenths int) string {
	if sixteenths == 0 {
		return ""
	}
	denominator := 16
	for sixteenths%2 == 0 {
		sixteenths, denominator = sixteenths/2, denominator/2
	}
	return strconv.Itoa(sixteenths) + "/" + strconv.Itoa(denominator)
}
