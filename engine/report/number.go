package report

import (
	"math"
	"strconv"

	"example.com/scantling/engine/finding"
)

// Number is a figure as JSON prints it: ten significant digits, so that the last bits of a sum, which differ between
// processors, never show; null when it is not finite, since such a figure proves nothing.
type Number float64

// MarshalJSON writes the number.
func (n Number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	if v == 0 {
		return []byte("0"), nil // not "-0"
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 9, 64), 64)
	if err != nil {
		return nil, err
	}
	if size := math.Abs(rounded); size < 1e-6 || size >= 1e15 {
		return strconv.AppendFloat(nil, rounded, 'e', -1, 64), nil
	}
	return strconv.AppendFloat(nil, rounded, 'f', -1, 64), nil
}

// Figure is a number with its unit: mm, kN, kN/m, kNm, N/mm2, kg, degrees or a power of these, "ratio" of one over
// another. A word, and a number of things, has the unit "".
type Figure struct {
	Value any    `json:"value"`
	Unit  string `json:"unit"`
}

// FigureOf is a figure as JSON prints it; nil where there is none.
func FigureOf(f *finding.Figure) *Figure {
	switch {
	case f == nil:
		return nil
	case f.Text != "":
		return &Figure{f.Text, ""}
	}
	value, unit := f.Restated()
	return &Figure{Number(value), unit}
}
