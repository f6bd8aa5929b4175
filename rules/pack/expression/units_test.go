package expression

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestUnitsAreTheModels holds every unit function to the model's own reading, and some to what they are by definition
// (international yard and pound, 1959; g of ISO 80000-3).
func TestUnitsAreTheModels(t *testing.T) {
	for name, u := range units {
		require.Greater(t, u.size(), 0.0, name)
		require.False(t, u.size() != u.size(), name)
	}
	const pound = 0.45359237 * 9.80665
	for name, want := range map[string]float64{
		"kN": 5000. / 5, "mm": 1, "inch": 25.4, "ft": 304.8, "lb": pound, "psf": pound / (304.8 * 304.8), "psi": pound / (25.4 * 25.4),
		"plf": pound / 304.8, "lb_ft": pound / 304.8, "kN_m2": 1e-3, "kN_m": 1, "N_mm2": 1, "kNm": 1e6, "deg": 3.141592653589793 / 180, "kg_m3": 1e-9,
	} {
		require.InEpsilon(t, want, units[name].size(), 1e-12, name)
	}
	for d, forms := range suggested {
		for _, form := range strings.Split(strings.ReplaceAll(forms, " or ", ", "), ", ") {
			u, known := units[strings.TrimSuffix(form, "(%s)")]
			require.True(t, known, form)
			require.Equal(t, d, u.dimension, form)
		}
	}
}
