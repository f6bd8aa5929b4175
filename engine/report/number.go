package report

import (
	"math"
	"strconv"
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
