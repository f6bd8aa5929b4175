package ec1_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/eurocode/ec1"
	"example.com/scantling/plugins/eurocode/internal/reference"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

func gb(t testing.TB) *national.Choices {
	t.Helper()
	c, absent := national.For("GB-ENG")
	require.Empty(t, absent)
	return c
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

// UK annex to EN 1991-1-1: Table NA.3 (floors), Table NA.7 (roofs), and the ceilings of UK practice (ec5_factors.csv).
func TestImposedLoads(t *testing.T) {
	c := gb(t)
	floor, absent := ec1.Floor(c, "A1", nil)
	require.Empty(t, absent)
	assert.Equal(t, ec1.Load{Area: 1.5e-3, Point: 2000}, floor)
	ceiling, absent := ec1.Ceiling(c, nil)
	require.Empty(t, absent)
	assert.Equal(t, ec1.Load{Area: 0.25e-3, Point: 900}, ceiling)

	for name, row := range map[string]struct{ pitch, area float64 }{
		"a flat roof carries it whole":          {0, 0.6e-3},
		"so does one of 30 degrees":             {30, 0.6e-3},
		"45 degrees carries half":               {45, 0.3e-3},
		"50 degrees carries a third":            {50, 0.2e-3},
		"60 degrees carries none":               {60, 0},
		"what is steeper carries none, no less": {75, 0},
	} {
		t.Run(name, func(t *testing.T) {
			roof, absent := ec1.Roof(c, degrees(row.pitch), nil)
			require.Empty(t, absent)
			assert.InDelta(t, row.area, roof.Area, 1e-12)
			assert.Equal(t, 900.0, roof.Point)
		})
	}
}

func TestPartitions(t *testing.T) {
	for line, area := range map[float64]float64{0.7: 0.5e-3, 1: 0.5e-3, 1.5: 0.8e-3, 3: 1.2e-3} { // EN 1991-1-1 6.3.1.2(8)
		got, absent := ec1.Partitions(line)
		require.Empty(t, absent)
		assert.Equal(t, area, got)
	}
	_, absent := ec1.Partitions(3.01)
	assert.Contains(t, string(absent), "state it as a line load")
}

func TestSnowShape(t *testing.T) {
	for name, row := range map[string]struct {
		on ec1.SnowOn
		mu float64
	}{
		"up to 30 degrees (EN 1991-1-3 Table 5.2)":       {ec1.SnowOn{Pitch: degrees(30)}, 0.8},
		"at 45 degrees half of it slides":                {ec1.SnowOn{Pitch: degrees(45)}, 0.4},
		"from 60 degrees none stays":                     {ec1.SnowOn{Pitch: degrees(60)}, 0},
		"behind a snow guard it all stays (5.3.2(2))":    {ec1.SnowOn{Pitch: degrees(50), Held: true}, 0.8},
		"a pitch in between goes with (60 - alpha) / 30": {ec1.SnowOn{Pitch: degrees(40)}, 0.8 * 20 / 30},
	} {
		t.Run(name, func(t *testing.T) {
			mu, absent := row.on.Shape(nil)
			require.Empty(t, absent)
			assert.InDelta(t, row.mu, mu, 1e-12)
		})
	}
}

// Example EC1-SNOW-1: a public sheet on portal frames (SX029), read in a public text. Below 30 degrees the pitch is all one.
func TestSnowOnTheFrameOfThePublicSheet(t *testing.T) {
	example := reference.Find(t, "EC1-SNOW-1")
	var sheet working.Sheet
	s, absent := ec1.Snow(gb(t), ec1.SnowOn{Pitch: degrees(6)}, example.In(t, "sk")*1e-3, &sheet)
	require.Empty(t, absent)
	example.Agrees(t, "s", s*1e3)
	example.Agrees(t, "s_line", s*1e3*example.In(t, "spacing"))
	symbols := []string{}
	for _, step := range sheet.Steps {
		symbols = append(symbols, step.Symbol)
		assert.NotEmpty(t, step.Clause)
	}
	assert.Equal(t, []string{"s_k", "mu_1", "C_e", "C_t", "s"}, symbols)
}

// The UK formula by hand: zone 3 at 100 m gives 0.15 + (0.3 + 0.05) = 0.50 kN/m2; 105 m higher adds 0.20 (NA.2.8).
func TestGroundSnow(t *testing.T) {
	for altitude, want := range map[float64]float64{100: 0.50e-3, 205: 0.70e-3} {
		got, absent := ec1.GroundSnow(gb(t), 3, altitude, nil)
		require.Empty(t, absent)
		assert.InDelta(t, want, got, 1e-12)
	}
}

func TestLoadsThatAreNotKnown(t *testing.T) {
	ireland, absent := national.For("IE")
	require.Empty(t, absent)
	for name, reason := range map[string]func() working.Absence{
		"a floor of a country without sources":   func() working.Absence { _, a := ec1.Floor(ireland, "A1", nil); return a },
		"a ceiling of a country without sources": func() working.Absence { _, a := ec1.Ceiling(ireland, nil); return a },
		"a roof of a country without sources":    func() working.Absence { _, a := ec1.Roof(ireland, 0.1, nil); return a },
		"snow in a country without sources":      func() working.Absence { _, a := ec1.Snow(ireland, ec1.SnowOn{}, 1e-3, nil); return a },
		"ground snow in one":                     func() working.Absence { _, a := ec1.GroundSnow(ireland, 3, 100, nil); return a },
		"a category that is not there":           func() working.Absence { _, a := ec1.Floor(gb(t), "Z9", nil); return a },
		"a roof that leans over":                 func() working.Absence { _, a := ec1.Roof(gb(t), degrees(95), nil); return a },
		"a pitch that is no number":              func() working.Absence { _, a := ec1.SnowOn{Pitch: math.NaN()}.Shape(nil); return a },
		"snow that is no number":                 func() working.Absence { _, a := ec1.Snow(gb(t), ec1.SnowOn{}, math.NaN(), nil); return a },
		"no zone":                                func() working.Absence { _, a := ec1.GroundSnow(gb(t), 0, 100, nil); return a },
		"a site above the formula's range":       func() working.Absence { _, a := ec1.GroundSnow(gb(t), 3, 1600, nil); return a },
	} {
		t.Run(name, func(t *testing.T) { assert.NotEmpty(t, reason()) })
	}
}
