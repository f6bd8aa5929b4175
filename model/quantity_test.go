package model_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
)

// Conversions are held against published factors: NIST SP 811 Appendix B (1 lbf = 4.448222 N, 1 psi = 6.894757 kPa,
// 1 psf = 47.88026 Pa, 1 lbf/ft = 14.59390 N/m, 1 lbf ft = 1.355818 N m, 1 lb/ft3 = 16.01846 kg/m3; memory).
func TestQuantitiesAreReadInTheirUnits(t *testing.T) {
	for _, c := range []struct {
		text string
		want model.Dimension
		is   float64 // mm, N, N/mm2, kg, rad
	}{
		{"90 mm", model.Length, 90},
		{"90mm", model.Length, 90},
		{"  2.4 m ", model.Length, 2400},
		{"-150 mm", model.Length, -150},
		{"5.5 in", model.Length, 139.7},
		{"5 1/2 in", model.Length, 139.7},
		{"5-1/2 in", model.Length, 139.7},
		{"1/2 in", model.Length, 12.7},
		{`3.5"`, model.Length, 88.9},
		{"13 ft 6 in", model.Length, 4114.8},
		{`12'-6"`, model.Length, 3810},
		{`12' 6 1/2"`, model.Length, 3822.7},
		{"-1 ft 6 in", model.Length, -457.2},
		{"1e3 mm", model.Length, 1000},
		{"2.0 kN", model.Force, 2000},
		{"450 lb", model.Force, 450 * 4.448222},
		{"1.5 kip", model.Force, 1500 * 4.448222},
		{"25 kg", model.Mass, 25},
		{"55 lb", model.Mass, 55 * 0.45359237},
		{"0.75 kN/m2", model.Stress, 0.75e-3},
		{"0.75 kN/m²", model.Stress, 0.75e-3},
		{"0.75 kN/m^2", model.Stress, 0.75e-3},
		{"30 psf", model.Stress, 30 * 47.88026e-6},
		{"30 lb/ft2", model.Stress, 30 * 47.88026e-6},
		{"1500 psi", model.Stress, 1500 * 6.894757e-3},
		{"1.6 Mpsi", model.Stress, math.NaN()},
		{"1600 ksi", model.Stress, 1600 * 6.894757},
		{"12 N/mm2", model.Stress, 12},
		{"11 GPa", model.Stress, 11000},
		{"1.2 kN/m", model.LineLoad, 1.2},
		{"40 lb/ft", model.LineLoad, 40 * 14.59390e-3},
		{"40 plf", model.LineLoad, 40 * 14.59390e-3},
		{"23 kg/m", model.LineMass, 0.023},
		{"18 lb/ft", model.LineMass, 18 * 0.45359237 / 304.8},
		{"350 kg/m3", model.Density, 350e-9},
		{"22 pcf", model.Density, 22 * 16.01846e-9},
		{"3.5 kNm", model.Moment, 3.5e6},
		{"3.5 kN m", model.Moment, 3.5e6},
		{"2500 lb ft", model.Moment, 2500 * 1.355818e3},
		{"2500 ft-lb", model.Moment, 2500 * 1.355818e3},
		{"2904 cm4", model.Inertia, 2904e4},
		{"47.63 in4", model.Inertia, 47.63 * 416231.4},
		{"35 deg", model.Angle, 35 * math.Pi / 180},
		{"35°", model.Angle, 35 * math.Pi / 180},
		{"0.5 rad", model.Angle, 0.5},
		{"6:12", model.Angle, math.Atan(0.5)},
		{"4.5/12", model.Angle, math.Atan(0.375)},
		{" 3 in 12 ", model.Angle, math.Atan(0.25)},
		{"-1 : 40", model.Angle, -math.Atan(0.025)},
		{"1.5", model.Plain, 1.5},
		{"40 %", model.Plain, 0.4},
	} {
		t.Run(c.text, func(t *testing.T) {
			v, err := model.ParseQuantity(c.text, c.want)
			if math.IsNaN(c.is) {
				require.Error(t, err, "an invented unit is refused")
				return
			}
			require.NoError(t, err)
			assert.InEpsilon(t, c.is, v, 1e-6)
		})
	}
}

func TestWrongQuantitiesSayWhatWouldBeRight(t *testing.T) {
	for _, c := range []struct {
		text    string
		want    model.Dimension
		message string
		fix     string
	}{
		{"", model.Length, "an empty text is no quantity", "90 mm"},
		{"90", model.Length, `"90" has no unit`, "90 mm"},
		{"5.5 kN", model.Length, `"5.5 kN" is a force, where a length is wanted`, "90 mm"},
		{"25 kg", model.Force, `"25 kg" is a mass, where a force is wanted`, "2.0 kN"},
		{"35 deg", model.Force, `"35 deg" is an angle, where a force is wanted`, "2.0 kN"},
		{"5 cubits", model.Length, `"cubits" is not a unit that is known here`, "90 mm"},
		{"ninety mm", model.Length, `"ninety mm" is not a number with a unit`, "90 mm"},
		{"6 in 2 ft", model.Length, `"6 in 2 ft" is not one quantity`, "90 mm"},
		{"2 kN 3 kN", model.Force, `"2 kN 3 kN" is not one quantity`, "2.0 kN"},
		{"1,500 mm", model.Length, `",500 mm" is not a unit that is known here`, "90 mm"},
		{"1e999 mm", model.Length, `"1e999 mm" is not a number with a unit`, "90 mm"},
		{"1e308 km", model.Length, `"1e308 km" is too large a number`, "90 mm"},
		{"NaN mm", model.Length, `"NaN mm" is not a number with a unit`, "90 mm"},
		{"1/0 in", model.Length, `"/0 in" is not a unit that is known here`, "90 mm"},
		{"3 kN/", model.Force, `"kN/" is not a unit that is known here`, "2.0 kN"},
	} {
		t.Run(c.text, func(t *testing.T) {
			_, err := model.ParseQuantity(c.text, c.want)
			var wrong *model.TextError
			require.ErrorAs(t, err, &wrong)
			assert.Contains(t, wrong.Message, c.message)
			assert.Contains(t, wrong.Fix, c.fix)
		})
	}
}

func TestValuesArePrintedForTheirReader(t *testing.T) {
	for _, c := range []struct {
		value float64
		d     model.Dimension
		u     model.Units
		is    string
	}{
		{90, model.Length, model.Metric, "90 mm"},
		{89.96, model.Length, model.Metric, "89.96 mm"},
		{3400.04, model.Length, model.Metric, "3400 mm"},
		{12345.6, model.Length, model.Metric, "12346 mm"},
		{0, model.Length, model.Metric, "0 mm"},
		{1500, model.Force, model.Metric, "1.5 kN"},
		{-80, model.Force, model.Metric, "-0.08 kN"},
		{0.75e-3, model.Stress, model.Metric, "0.75 kN/m2"},
		{24, model.Stress, model.Metric, "24 N/mm2"},
		{2.4e6, model.Moment, model.Metric, "2.4 kNm"},
		{1.2, model.LineLoad, model.Metric, "1.2 kN/m"},
		{9165, model.Surface, model.Metric, "9165 mm2"},
		{8.64e6, model.Surface, model.Metric, "8.64 m2"},
		{3 * 929030.4, model.Surface, model.US, "30 sq ft"},
		{29.04e6, model.Inertia, model.Metric, "29040000 mm4"},
		{350e-9, model.Density, model.Metric, "350 kg/m3"},
		{math.Pi / 6, model.Angle, model.Metric, "30 degrees"},
		{0.61, model.Plain, model.Metric, "0.61"},
		{88.9, model.Length, model.US, "3 1/2 in"},
		{406.4, model.Length, model.US, "16 in"},
		{609.6, model.Length, model.US, "24 in"},
		{4114.8, model.Length, model.US, "13 ft 6 in"},
		{487.68, model.Length, model.US, "19.2 in"},
		{30.48, model.Length, model.US, "1 3/16 in"}, // a cut is marked out with a rule
		{139.7, model.Length, model.US, "5 1/2 in"},
		{2491.74, model.Length, model.US, "8 ft 2 1/8 in"},
		{3861.2, model.Length, model.US, "12 ft 8 in"},
		{3657.6, model.Length, model.US, "12 ft"},
		{-457.2, model.Length, model.US, "-18 in"},
		{12.7, model.Length, model.US, "1/2 in"},
		{3.2, model.Length, model.US, "0.126 in"},
		{0, model.Length, model.US, "0 in"},
		{math.Copysign(0, -1), model.Length, model.US, "0 in"},
		{-1e-9, model.Length, model.US, "0 in"},
		{4448.2216, model.Force, model.US, "1000 lb"},
		{30 * 47.88026e-6, model.Stress, model.US, "30 psf"},
		{10.342135, model.Stress, model.US, "1500 psi"},
		{math.Inf(1), model.Force, model.Metric, "no figure"},
		{math.NaN(), model.Plain, model.US, "no figure"},
		{3, model.Dimension{Force: 3}, model.Metric, "3 N^3"},
	} {
		t.Run(fmt.Sprint(c.is, c.u), func(t *testing.T) {
			assert.Equal(t, c.is, model.Format(c.value, c.d, c.u))
		})
	}
}

func TestNoRoundingHidesOnWhichSideOfALimitAFigureIs(t *testing.T) {
	for _, c := range []struct {
		found, limit float64
		d            model.Dimension
		u            model.Units
		is, against  string
	}{
		{60, 90, model.Length, model.Metric, "60 mm", "90 mm"},
		{2000.3, 2000, model.Length, model.Metric, "2000.3 mm", "2000 mm"},
		{1.0003, 1, model.Plain, model.Metric, "1.0003", "1"},
		{5, 5, model.Length, model.Metric, "5 mm", "5 mm"},
		{5 * (1 + 1e-10), 5, model.Length, model.Metric, "5 mm", "5 mm"}, // the same to a rule
		{3505.3, 3505.2, model.Length, model.US, "138.004 in", "138 in"},
	} {
		digits := model.Apart(c.found, c.limit, c.d, c.u)
		assert.Equal(t, c.is, model.FormatTo(digits, c.found, c.d, c.u))
		assert.Equal(t, c.against, model.FormatTo(digits, c.limit, c.d, c.u))
	}
	for v, is := range map[float64]string{0.8: "0.80", 1.397: "1.40", 1: "1.00", 1 + 1e-12: "1.00", 1.003: "1.003", 1.0003: "1.0003", 0.998: "0.998", 0: "0.00"} {
		assert.Equal(t, is, model.FormatRatio(v))
	}
	for v, is := range map[float64]string{0.8: "80", 1: "100", 1.003: "100.3", 0.997: "99.7", 1.48: "148"} {
		assert.Equal(t, is, model.FormatPercent(v))
	}
}

func TestFiguresOfJSONAreAlwaysMetric(t *testing.T) {
	for _, c := range []struct {
		value float64
		d     model.Dimension
		is    float64
		unit  string
	}{
		{60, model.Length, 60, "mm"},
		{1500, model.Force, 1.5, "kN"},
		{1.2, model.LineLoad, 1.2, "kN/m"},
		{2.4e6, model.Moment, 2.4, "kNm"},
		{0.75e-3, model.Stress, 0.75e-3, "N/mm2"},
		{math.Pi / 4, model.Angle, 45, "degrees"},
		{25, model.Mass, 25, "kg"},
		{0.61, model.Plain, 0.61, "ratio"},
		{9165, model.Surface, 9165, "mm2"},
	} {
		v, unit := model.Figure(c.value, c.d)
		assert.InDelta(t, c.is, v, 1e-12)
		assert.Equal(t, c.unit, unit)
	}
}

// What is printed with four digits is read back within half of the last digit.
func FuzzQuantity(f *testing.F) {
	for _, s := range []string{"90 mm", "13 ft 6 in", `12'-6 1/2"`, "30 psf", "-0.75 kN/m2", "1e3 N mm2", "/", "1/", "5 5 5", "- 3 m", "1/0 in", "3 lb-ft/in2"} {
		f.Add(s)
	}
	dimensions := []model.Dimension{model.Plain, model.Length, model.Force, model.Stress, model.LineLoad, model.Moment, model.Mass, model.Density, model.Angle}
	f.Fuzz(func(t *testing.T, text string) {
		for _, d := range dimensions {
			v, err := model.ParseQuantity(text, d)
			if err != nil {
				var wrong *model.TextError
				require.ErrorAs(t, err, &wrong)
				continue
			}
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0))
			if size := math.Abs(v); size < 1e-5 || size > 1e12 {
				continue
			}
			printed := model.Format(v, d, model.Metric)
			again, err := model.ParseQuantity(printed, d)
			require.NoError(t, err, printed)
			require.InEpsilon(t, v, again, 1e-3, printed)
		}
	})
}

func TestRestate(t *testing.T) {
	for _, c := range []struct {
		value float64
		unit  string
		u     model.Units
		want  float64
		is    string
	}{
		{6.205, "N/mm2", model.Metric, 6.205, "N/mm2"},
		{15236, "N", model.Metric, 15.236, "kN"},
		{7.1888e6, "N mm", model.Metric, 7.1888, "kNm"},
		{25.4, "mm", model.Metric, 25.4, "mm"},
		{6.2053, "N/mm2", model.US, 900.0, "psi"},
		{25.4, "mm", model.US, 1, "in"},
		{16387.064, "mm3", model.US, 1, "in3"},
		{135581.8, "N mm", model.US, 100, "lb ft"},
		{4448.222, "N", model.US, 1000, "lb"},
		{1.15, "", model.US, 1.15, ""},
		{3, "rows", model.US, 3, "rows"},
		{900, "psi", model.US, 900, "psi"},
	} {
		got, unit := model.Restate(c.value, c.unit, c.u)
		assert.InEpsilon(t, c.want, got, 1e-4, c.is)
		assert.Equal(t, c.is, unit)
	}
}
