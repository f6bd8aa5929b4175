package us_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/us"
)

func prepare(t *testing.T, site *region.Site) *region.Preparation {
	t.Helper()
	p, err := us.New().Prepare(context.Background(), site)
	require.NoError(t, err)
	require.NoError(t, host.CheckPreparation(site, p))
	return p
}

// E of the NDS Supplement, G a sixteenth, weight by its formula at 19 %; steels 29,000 ksi and 490 lb/ft3 (AISC; memory).
func TestGrades(t *testing.T) {
	const pcf = 0.45359237 / (foot * foot * foot)
	p := prepare(t, &region.Site{Grades: []region.GradeName{
		{Name: "DFL #2"}, {Name: "sp no. 2"}, {Name: "A992", Steel: true}, {Name: "ASTM A500 Gr C", Steel: true}, {Name: "C24"}, {Name: "S355", Steel: true},
		{Name: "LVL 2.0", Declared: &model.Grade{Name: "LVL 2.0", Material: "LVL", E: model.Given(13800), Density: model.Given(6e-7)}},
		{Name: "old pine", Declared: &model.Grade{Name: "old pine"}},
	}})
	for i, want := range []struct {
		material string
		e, g     float64 // psi
		weight   float64 // lb/ft3
		reason   string
	}{
		{"timber", 1.6e6, 1e5, 34.20, ""}, // 0.5 / (1 + 0.0855) x 1.19 x 62.4
		{"timber", 1.4e6, 87500, 37.33, ""},
		{"steel", 29e6, 11.2e6, 490, ""},
		{"steel", 29e6, 11.2e6, 490, ""},
		{"", 0, 0, 0, "write species group and grade"},
		{"", 0, 0, 0, "no steel"},
		{"LVL", 13800 / psi, 13800 / psi / 16, 6e-7 / pcf, ""},
		{"", 0, 0, 0, "without its material"},
	} {
		g := p.Grades[i]
		assert.Equal(t, want.material, g.Material)
		assert.InDelta(t, want.e*psi, g.E, 1e-6)
		assert.InDelta(t, want.g*psi, g.G, 1e-6)
		assert.InDelta(t, want.weight*pcf, g.Density, 0.01*pcf)
		if want.reason == "" {
			assert.Empty(t, g.Reason)
		} else {
			assert.Contains(t, g.Reason, want.reason)
		}
	}
}

// A porch that states winds from fewer sides than the house is said to be still in the others; one that states a single wind bears
// that in every one.
func TestWindsOfSomeAreasOnly(t *testing.T) {
	wind := func(name string) model.AreaLoad {
		return model.AreaLoad{Action: model.Wind, Name: name, Value: -10 * psf}
	}
	still := func(porch model.AreaLoad) []string {
		var out []string
		site := &region.Site{Areas: []region.Area{
			{Area: model.Area{ID: "house", Kind: "roof", Loads: []model.AreaLoad{wind("west"), wind("south")}}},
			{Area: model.Area{ID: "porch", Kind: "roof", Loads: []model.AreaLoad{porch}}},
		}}
		for _, a := range prepare(t, site).Assumptions {
			if strings.Contains(a.Text, "of the name") {
				out = append(out, a.Text)
			}
		}
		return out
	}
	assert.Equal(t, []string{"porch states no wind of the name south: none of that acts on it while it acts elsewhere"}, still(wind("west")))
	assert.Empty(t, still(wind("")))
}

// The combinations of ASCE 7-16 2.4.1 with gravity and wind, each with the factor of its shortest load (memory).
func TestCombinations(t *testing.T) {
	p := prepare(t, &region.Site{})
	var got []string
	for _, k := range p.Combinations {
		assert.Equal(t, region.Allowable, k.State)
		got = append(got, fmt.Sprintf("%s, %s: %v", k.ID, k.Duration, k.Factors))
	}
	assert.Equal(t, []string{ // factors of dead, imposed, roof_imposed, snow, wind
		"dead, permanent: [1 0 0 0 0]",
		"dead + imposed, ten years: [1 1 0 0 0]",
		"dead + roof imposed, seven days: [1 0 1 0 0]",
		"dead + snow, two months: [1 0 0 1 0]",
		"dead + 0.75 imposed + 0.75 roof imposed, seven days: [1 0.75 0.75 0 0]",
		"dead + 0.75 imposed + 0.75 snow, two months: [1 0.75 0 0.75 0]",
		"dead + 0.6 wind, ten minutes: [1 0 0 0 0.6]",
		"dead + 0.75 imposed + 0.45 wind + 0.75 roof imposed, ten minutes: [1 0.75 0.75 0 0.45]",
		"dead + 0.75 imposed + 0.45 wind + 0.75 snow, ten minutes: [1 0.75 0 0.75 0.45]",
		"0.6 dead + 0.6 wind, ten minutes: [0.6 0 0 0 0.6]",
	}, got)
	for i, action := range model.Actions {
		assert.Equal(t, string(action), p.Cases[i].ID, "the default case has the action's name")
	}
}

// Loads of two names exclude each other, and both act beside what has no name.
func TestNamedLoadsAreAlternatives(t *testing.T) {
	roof := func(id string, loads ...model.AreaLoad) region.Area {
		return region.Area{Area: model.Area{ID: id, Kind: "roof", Loads: loads}}
	}
	p := prepare(t, &region.Site{Areas: []region.Area{
		roof("main", model.AreaLoad{Action: model.Wind, Name: "north", Value: -1e-3}, model.AreaLoad{Action: model.Wind, Name: "south", Value: 1e-3}),
		roof("porch", model.AreaLoad{Action: model.Wind, Value: -1e-3}),
	}})
	at := map[string]int{}
	for i, c := range p.Cases {
		at[c.ID] = i
	}
	seen := map[string]bool{}
	for _, k := range p.Combinations {
		assert.False(t, k.Factors[at["wind:north"]] != 0 && k.Factors[at["wind:south"]] != 0, k.ID)
		if k.Factors[at["wind:north"]] != 0 || k.Factors[at["wind:south"]] != 0 {
			assert.NotZero(t, k.Factors[at["wind"]], k.ID)
		}
		seen[k.ID] = true
	}
	assert.True(t, seen["0.6 dead + 0.6 wind (north)"] && seen["0.6 dead + 0.6 wind (south)"])
}

// R301.5 and R301.6 (memory; rooms and attics also in table titles): 40 psf on floors, 30 where people sleep, 10 and 20 in attics;
// roofs 20 psf under 4 in 12, 16 under 12 in 12, 12 from there. What is stated stays.
func TestImpliedLoads(t *testing.T) {
	area := func(id, kind, category string, slope float64, stated ...model.Action) region.Area {
		a := region.Area{Area: model.Area{ID: id, Kind: kind, Category: category}, Slope: slope}
		for _, s := range stated {
			a.Loads = append(a.Loads, model.AreaLoad{Action: s, Value: 1e-3})
		}
		return a
	}
	p := prepare(t, &region.Site{GroundSnow: model.Given(35 * psf), Areas: []region.Area{
		area("parlour", "floor", "", 0), area("bedroom", "floor", "sleeping room", 0), area("workshop", "floor", "workshop", 0), area("stated", "floor", "", 0, model.Imposed),
		area("ceiling", "ceiling", "", 0), area("attic", "loft", "", 0), area("deck", "deck", "", 0),
		area("low", "roof", "", math.Atan(3.0/12)), area("middle", "roof", "", math.Atan(6.0/12), model.Snow), area("steep", "roof", "", math.Atan(1)),
	}})
	got := map[string]string{}
	for _, l := range p.Areas {
		got[l.Area+" "+string(l.Action)] = fmt.Sprintf("%.6g", l.Value/psf)
		assert.NotEmpty(t, l.Note)
	}
	assert.Equal(t, map[string]string{
		"parlour imposed": "40", "bedroom imposed": "30", "workshop imposed": "40", "ceiling imposed": "10", "attic imposed": "20", "deck imposed": "40",
		"low roof_imposed": "20", "middle roof_imposed": "16", "steep roof_imposed": "12", "low snow": "35", "steep snow": "35",
	}, got)
}

func TestAssumptionsNameWhatIsMissing(t *testing.T) {
	pointers := func(site *region.Site) map[string]bool {
		out := map[string]bool{}
		for _, a := range prepare(t, site).Assumptions {
			out[a.Pointer] = true
		}
		return out
	}
	roof := []region.Area{{Area: model.Area{ID: "roof", Kind: "roof"}}}
	assert.Equal(t, map[string]bool{"": true, "/site/service_class": true, "/areas": true}, pointers(&region.Site{Areas: roof}))
	assert.Equal(t, map[string]bool{"": true, "/areas": true}, pointers(&region.Site{ServiceClass: 1, GroundSnow: model.Given(0), Areas: roof}))
}
