package nds_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/us/nds"
)

// Table 4A (NELMA grading rules, section 8, Table A: document, but Stud, Construction and Utility: memory).
func TestSizeFactor(t *testing.T) {
	for _, row := range []struct {
		grade, section string
		fb, ft, fc     float64
	}{
		{"DFL #2", "2x4", 1.5, 1.5, 1.15}, {"DFL #2", "2x5", 1.4, 1.4, 1.1}, {"DFL #2", "2x6", 1.3, 1.3, 1.1},
		{"HF SS", "2x8", 1.2, 1.2, 1.05}, {"SPF #3", "2x10", 1.1, 1.1, 1}, {"SPF #1", "2x12", 1, 1, 1},
		{"DFL #1", "2x14", 0.9, 0.9, 0.9}, {"DFL #1", "4x8", 1.3, 1.2, 1.05}, {"DFL #1", "4x10", 1.2, 1.1, 1},
		{"DFL #1", "4x12", 1.1, 1, 1}, {"DFL #1", "4x14", 1, 0.9, 0.9},
		{"SPF Stud", "2x4", 1.1, 1.1, 1.05}, {"SPF Stud", "2x6", 1, 1, 1}, {"SPF Construction", "2x4", 1, 1, 1},
		{"SP #2", "2x4", 1, 1, 1}, {"SP #2", "2x10", 1, 1, 1}, {"SP #2", "4x10", 1.1, 1, 1},
	} {
		m := member(t, row.grade, row.section, nds.Service{})
		for p, want := range map[nds.Property]float64{nds.Fb: row.fb, nds.Ft: row.ft, nds.Fc: row.fc, nds.Fv: 1, nds.E: 1} {
			got, err := nds.SizeFactor(p, m.Grade, m.Section)
			require.NoError(t, err)
			assert.Equal(t, want, got, "%s %s %s", row.grade, row.section, p)
		}
	}
	for _, none := range [][2]string{{"SPF Stud", "2x8"}, {"SPF Construction", "2x6"}, {"SPF Utility", "2x3"}} {
		m := member(t, none[0], none[1], nds.Service{})
		_, err := m.Bending(nds.Bending{Moment: 1, Duration: nds.TenYears, Bracing: nds.Bracing{Full: true}})
		requireAbsence(t, err, none[0])
	}
}

// NDS Tables 4A, 2.3.3, 4.3.8 (memory).
func TestServiceFactors(t *testing.T) {
	assert.Equal(t, 0.85, nds.WetServiceFactor(nds.Fb, 1151*nds.PSI))
	assert.Equal(t, 1.0, nds.WetServiceFactor(nds.Fb, 1150*nds.PSI), "at the limit")
	assert.Equal(t, 0.8, nds.WetServiceFactor(nds.Fc, 751*nds.PSI))
	assert.Equal(t, 1.0, nds.WetServiceFactor(nds.Fc, 750*nds.PSI), "at the limit")
	for p, want := range map[nds.Property]float64{nds.Ft: 1, nds.Fv: 0.97, nds.FcPerp: 0.67, nds.E: 0.9, nds.Emin: 0.9} {
		assert.Equal(t, want, nds.WetServiceFactor(p, 1), p.String())
	}
	for _, row := range []struct {
		fahrenheit float64
		wet        bool
		e, fb      float64
	}{{70, true, 1, 1}, {100, true, 1, 1}, {101, false, 0.9, 0.8}, {125, true, 0.9, 0.7}, {126, false, 0.9, 0.7}, {150, true, 0.9, 0.5}} {
		celsius := (row.fahrenheit - 32) * 5 / 9
		e, err := nds.TemperatureFactor(nds.E, celsius, row.wet)
		require.NoError(t, err)
		fb, err := nds.TemperatureFactor(nds.Fb, celsius, row.wet)
		require.NoError(t, err)
		assert.Equal(t, [2]float64{row.e, row.fb}, [2]float64{e, fb}, "%v", row)
	}
	for _, celsius := range []float64{66, math.NaN(), math.Inf(1)} {
		_, err := nds.TemperatureFactor(nds.Fb, celsius, false)
		requireAbsence(t, err, "ends at 150 F")
	}
	assert.Equal(t, [3]float64{0.95, 0.8, 1}, [3]float64{nds.IncisingFactor(nds.E), nds.IncisingFactor(nds.Fv), nds.IncisingFactor(nds.FcPerp)})
	for section, want := range map[string]float64{"2x3": 1, "2x4": 1.1, "2x6": 1.15, "2x8": 1.15, "2x10": 1.2, "4x4": 1, "4x6": 1.05, "4x12": 1.1} {
		s, err := nds.ParseSection(section)
		require.NoError(t, err)
		assert.Equal(t, want, nds.FlatUseFactor(s), section)
	}
}

// NDS Table 3.10.4 (memory) prints Cb for a few lengths, rounded up in the second decimal.
func TestBearingAreaFactor(t *testing.T) {
	for length, want := range map[float64]float64{0.5: 1.75, 1: 1.38, 1.5: 1.25, 2: 1.19, 3: 1.13, 4: 1.10, 6: 1} {
		cb := nds.BearingAreaFactor(length*inch, 3*inch)
		assert.InDelta(t, want, math.Ceil(cb*100-1e-9)/100, 1e-12, "%g in", length)
		assert.Equal(t, 1.0, nds.BearingAreaFactor(length*inch, 2.9*inch), "too near the end")
	}
}

// Table 3.3.3 switches formula at lu/d = 7 and 14.3 where its lines cross to the second decimal: a wrong figure on
// either side would show as a jump.
func TestEffectiveLengthDoesNotJump(t *testing.T) {
	const d = 235.0
	for l := nds.AnyLoading; l <= nds.CantileverTip; l++ {
		for _, at := range []float64{7, 14.3} {
			below, above := nds.EffectiveLength(l, at*d*(1-1e-9), d), nds.EffectiveLength(l, at*d*(1+1e-9), d)
			assert.InDelta(t, below, above, 0.011*d, "loading %d at lu/d = %g", l, at)
		}
	}
	assert.InDelta(t, 1.63*2000+3*d, nds.EffectiveLength(nds.UniformLoad, 2000, d), 1e-9)
	assert.Equal(t, 1.11*2000, nds.EffectiveLength(nds.CentrePointHeld, 2000, d))
}

// The stability factors by a second way: the equations as the NDS prints them, and their limits, which are the
// strength of a stocky member and the critical stress of a slender one.
func TestStabilityFactors(t *testing.T) {
	for _, r := range []float64{0.01, 0.1, 0.5, 0.9, 1, 1.1, 2, 10, 100} {
		a, b := (1+r)/1.9, (1+r)/1.6
		assert.InDelta(t, a-math.Sqrt(a*a-r/0.95), nds.BeamStabilityFactor(r, 1), 1e-12)
		assert.InDelta(t, b-math.Sqrt(b*b-r/0.8), nds.ColumnStabilityFactor(r, 1), 1e-12)
		assert.Less(t, nds.ColumnStabilityFactor(r, 1), math.Min(r, 1))
		assert.Less(t, nds.ColumnStabilityFactor(r, 1), nds.BeamStabilityFactor(r, 1), "c = 0.8 against 0.95")
	}
	assert.InDelta(t, 1, nds.ColumnStabilityFactor(1e12, 1), 1e-9, "stocky")
	assert.InEpsilon(t, 1e-9, nds.ColumnStabilityFactor(1e-9, 1), 1e-6, "slender")
}
