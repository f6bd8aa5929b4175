package eurocode_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/eurocode/internal/reference"
	"example.com/scantling/plugins/region"
)

func prepared(t *testing.T, site *region.Site) *region.Preparation {
	t.Helper()
	p, err := eurocode.New().Prepare(context.Background(), site)
	require.NoError(t, err)
	return p
}

func area(id, kind string, slope float64, loads ...model.AreaLoad) region.Area {
	return region.Area{Area: model.Area{ID: id, Kind: kind, Loads: loads}, Slope: slope * math.Pi / 180}
}

func dead(value float64) model.AreaLoad { return model.AreaLoad{Action: model.Dead, Value: value} }

// Loads of EN 1991-1-1 with the UK annex; snow by EN 1991-1-3 5.3: mu_1 = 0.8, falling from 30 to 60 degrees.
func TestLoadsThatASiteImplies(t *testing.T) {
	site := &region.Site{Code: "GB-ENG", GroundSnow: model.Given(0.5e-3), Areas: []region.Area{
		area("floor", "floor", 0, dead(0.5e-3)),
		area("loft", "loft", 0, dead(0.25e-3)),
		area("flat", "roof", 0, dead(0.5e-3)),
		area("steep", "roof", 45, dead(0.5e-3)),
		area("stated", "roof", 30, dead(0.5e-3), model.AreaLoad{Action: model.RoofImposed, Value: 0.75e-3}, model.AreaLoad{Action: model.Snow, Value: 0.9e-3}),
	}}
	p := prepared(t, site)
	for _, row := range []struct {
		area         string
		action       model.Action
		value, point float64 // kN/m2, kN
	}{
		{"floor", model.Imposed, 1.5, 2},
		{"loft", model.Imposed, 0.25, 0.9},
		{"flat", model.RoofImposed, 0.6, 0.9},
		{"flat", model.Snow, 0.4, 0},           // 0.8 x 0.5
		{"steep", model.RoofImposed, 0.3, 0.9}, // 0.6 x (60 - 45) / 30
		{"steep", model.Snow, 0.2, 0},          // 0.8 x (60 - 45) / 30 x 0.5
		{"stated", model.RoofImposed, 0.75, 0.9},
	} {
		i := slices.IndexFunc(p.Areas, func(l region.AreaLoad) bool { return l.Area == row.area && l.Action == row.action })
		require.GreaterOrEqual(t, i, 0, "%s on %s", row.action, row.area)
		assert.InDelta(t, row.value*1e-3, p.Areas[i].Value, 1e-12, "%s on %s", row.action, row.area)
		assert.InDelta(t, row.point*1e3, p.Areas[i].Point, 1e-9, "%s on %s", row.action, row.area)
		assert.NotEmpty(t, p.Areas[i].Note)
	}
	assert.False(t, slices.ContainsFunc(p.Areas, func(l region.AreaLoad) bool { return l.Area == "stated" && l.Action == model.Snow }),
		"snow that is stated stays as it is")
	for _, a := range p.Assumptions {
		assert.NotEmpty(t, a.Pointer, a.Text)
	}
}

// A roof without a wind is named, also where another has one; so is an area that does not say what it is.
func TestRoofsWithoutAWindAreNamed(t *testing.T) {
	wind := model.AreaLoad{Action: model.Wind, Value: -0.5e-3}
	texts := func(areas ...region.Area) (out []string) {
		for _, a := range prepared(t, &region.Site{Code: "GB-ENG", GroundSnow: model.Given(0.5e-3), Areas: areas}).Assumptions {
			if a.Pointer == "/areas" || a.Pointer == "/areas/x" {
				out = append(out, a.Text)
			}
		}
		return out
	}
	main, porch := area("main", "roof", 35, dead(0.7e-3)), area("porch", "roof", 20, dead(0.7e-3))
	assert.Equal(t, []string{"no roof states a wind: nothing is checked for uplift or wind"}, texts(main, porch))
	main.Loads = append(main.Loads, wind)
	assert.Equal(t, []string{"porch: no wind is stated, so that nothing of it is checked for uplift or wind"}, texts(main, porch))
	porch.Loads = append(porch.Loads, wind)
	assert.Empty(t, texts(main, porch))
	x := withImposed(area("x", "", 0, dead(1e-3)), 1.5e-3)
	assert.Equal(t, []string{"x does not say what it is (roof, ceiling, floor, loft, deck): no load is filled in for it",
		"plaster or plasterboard is taken to hang beneath x, whose finish is not stated: the stricter limits of deflection count"}, texts(x))
	x = area("x", "floor", 0, dead(1e-3))
	x.Finish = "none"
	assert.Empty(t, texts(withImposed(x, 1.5e-3))[1:])
	assert.Contains(t, texts(withImposed(x, 0.15e-3))[1], "x is stated to carry 0.15 kN/m2, and that counts, though it is less than the 1.50 kN/m2 of imposed load of a floor of category A1")
	assert.Equal(t, []string{"the floor x is taken for the floor of a dwelling (category A)", "x carries 1.50 kN/m2: imposed load of a floor of category A1, UK NA to EN 1991-1-1 Table NA.3 (memory; 1.5 kN/m2 read in Design of timber floor joists)"}, texts(x))
}

func withImposed(a region.Area, value float64) region.Area {
	a.Loads = append(slices.Clone(a.Loads), model.AreaLoad{Action: model.Imposed, Value: value})
	return a
}

// Without the ground snow the UK formula serves: s_k = 0.15 + (0.1 Z + 0.05) + (A - 100) / 525, EN 1991-1-3 NA.2.8: zone 3 at
// 100 m gives 0.5 kN/m2.
func TestSnowByZoneAndAltitude(t *testing.T) {
	site := &region.Site{Code: "GB-ENG", SnowZone: 3, Altitude: model.Given(100e3), Areas: []region.Area{area("roof", "roof", 0, dead(0.5e-3))}}
	i := slices.IndexFunc(prepared(t, site).Areas, func(l region.AreaLoad) bool { return l.Action == model.Snow })
	require.GreaterOrEqual(t, i, 0)
	assert.InDelta(t, 0.8*0.5e-3, prepared(t, site).Areas[i].Value, 1e-9)
}

func TestGrades(t *testing.T) {
	site := &region.Site{Code: "GB-ENG", Grades: []region.GradeName{
		named("C24"), named("GL24h"), {Name: "S355J2H", Steel: true}, named("S275"), named("hard as nails"), {Name: "C24", Steel: true},
		declared(model.Grade{Name: "LVL 48 P", Material: "LVL", E: model.Given(13800), G: model.Given(600), Density: model.Given(510e-9),
			Region: []model.Named{{Name: "fm_k", Value: 44}}}),
		declared(model.Grade{Name: "old oak", Material: "hardwood", E: model.Given(9000)}),
		declared(model.Grade{Name: "PC", Material: "concrete", E: model.Given(30000), G: model.Given(12500), Density: model.Given(2400e-9)}),
		declared(model.Grade{Name: "wrong", Material: "LVL", E: model.Given(13800), Region: []model.Named{{Name: "fm", Value: 44}}}),
	}}
	grades := prepared(t, site).Grades
	for i, row := range []struct {
		says     string
		material string
		e, g     float64 // N/mm2
		density  float64 // kg/m3
		reason   string
	}{
		{"EN 338 C24", "timber", 11000, 690, 420, ""},
		{"EN 14080 GL24h", "glulam", 11500, 650, 420, ""},
		{"a steel with the letters of its toughness", "steel", 210000, 81000, 7850, ""},
		{"a steel that a plate names", "steel", 210000, 81000, 7850, ""},
		{"a name that nobody knows", "", 0, 0, 0, "neither in EN 338 nor in EN 14080"},
		{"a timber named by a steel section", "", 0, 0, 0, "steel grade C24 is not known"},
		{"what a maker declares", "LVL", 13800, 600, 510, ""},
		{"what is declared in part", "timber", 9000, 0, 0, "states no G, density"},
		{"concrete, which is not judged here but weighs", "concrete", 30000, 12500, 2400, ""},
		{"a declaration with a value that means nothing", "", 0, 0, 0, "is no value that this region uses"},
	} {
		assert.Equal(t, row.material, grades[i].Material, row.says)
		assert.InDelta(t, row.e, grades[i].E, 1e-9, row.says)
		assert.InDelta(t, row.g, grades[i].G, 1e-9, row.says)
		assert.InDelta(t, row.density*1e-9, grades[i].Density, 1e-15, row.says)
		if row.reason == "" {
			assert.Empty(t, grades[i].Reason, row.says)
		} else {
			assert.Contains(t, grades[i].Reason, row.reason, row.says)
		}
	}
}

func TestCases(t *testing.T) {
	floor, ceiling := area("f", "floor", 0), area("c", "ceiling", 0)
	roof := area("r", "roof", 30, model.AreaLoad{Action: model.Wind, Name: "west", Value: -1e-3}, model.AreaLoad{Action: model.Wind, Name: "south", Value: -1e-3})
	for _, row := range []struct {
		says  string
		areas []region.Area
		ids   []string
	}{
		{"every action is there, since a member may state any", nil, []string{"dead", "imposed", "roof_imposed", "snow", "wind"}},
		{"lofts last longer than floors", []region.Area{floor, ceiling}, []string{"dead", "imposed", "imposed (ceiling)", "roof_imposed", "snow", "wind"}},
		{"without a floor the loft has the case to itself", []region.Area{ceiling}, []string{"dead", "imposed", "roof_imposed", "snow", "wind"}},
		{"named winds are cases of their own", []region.Area{roof}, []string{"dead", "imposed", "roof_imposed", "snow", "wind", "wind:west", "wind:south"}},
	} {
		var ids []string
		p := prepared(t, &region.Site{Code: "GB-ENG", GroundSnow: model.Given(0.5e-3), Areas: row.areas})
		for _, k := range p.Cases {
			ids = append(ids, k.ID)
			assert.Equal(t, k.Action == model.Dead, k.Permanent)
		}
		assert.Equal(t, row.ids, ids, row.says)
	}
	p := prepared(t, &region.Site{Code: "GB-ENG", Areas: []region.Area{roof}, GroundSnow: model.Given(0.5e-3)})
	west, south := p.Cases[5], p.Cases[6]
	require.Equal(t, []string{"west", "south"}, []string{west.Name, south.Name})
	for _, row := range p.Combinations {
		assert.False(t, row.Factors[5] != 0 && row.Factors[6] != 0, "%s has winds from two sides", row.ID)
		assert.Equal(t, max(row.Factors[5], row.Factors[6]), row.Factors[4], "%s: a wind without a name acts with any", row.ID)
	}
}

// Where the factors of a place are not sourced its plain sums are held to the same: a wind without a name acts with any.
func TestWindWithoutANameActsInPlainSums(t *testing.T) {
	roof := area("r", "roof", 30, dead(0.5e-3), model.AreaLoad{Action: model.Wind, Name: "west", Value: -1e-3}, model.AreaLoad{Action: model.Wind, Name: "south", Value: -1e-3})
	p := prepared(t, &region.Site{Code: "IE", Areas: []region.Area{roof}, GroundSnow: model.Given(0.5e-3)})
	sums := map[string][]float64{} // over dead, imposed, roof_imposed, snow, wind, wind:west, wind:south
	for _, row := range p.Combinations {
		sums[row.ID] = row.Factors
	}
	assert.Equal(t, []float64{1, 0, 0, 0, 1, 1, 0}, sums["dead + wind:west"])
	assert.Equal(t, []float64{1, 0, 0, 0, 1, 0, 1}, sums["dead + wind:south"])
	assert.Equal(t, []float64{1, 0, 0, 0, 1, 0, 0}, sums["dead + wind"])
	assert.Equal(t, []float64{1, 0, 0, 1, 0, 0, 0}, sums["dead + snow"])
}

// A porch that states winds from fewer sides than the house is said to be still in the others; one that states a single wind
// bears that in every one.
func TestWindsOfSomeAreasOnly(t *testing.T) {
	wind := func(name string) model.AreaLoad { return model.AreaLoad{Action: model.Wind, Name: name, Value: -1e-3} }
	still := func(porch region.Area) []string {
		house := area("house", "roof", 30, dead(0.5e-3), wind("west"), wind("south"))
		var out []string
		for _, a := range prepared(t, &region.Site{Code: "GB-ENG", GroundSnow: model.Given(0.5e-3), Areas: []region.Area{house, porch}}).Assumptions {
			if strings.Contains(a.Text, "of the name") {
				out = append(out, a.Pointer+" "+a.Text)
			}
		}
		return out
	}
	assert.Equal(t, []string{"/areas/porch porch states no wind of the name south: none acts on it while that acts elsewhere"}, still(area("porch", "roof", 20, dead(0.5e-3), wind("west"))))
	assert.Empty(t, still(area("porch", "roof", 20, dead(0.5e-3), wind(""))))
}

// EC0-COMB-1: the multi-storey guide's roof beam: 1.35 G + 1.5 S down, 1.0 G + 1.5 W up.
func TestCombinationsOfAPublishedRoof(t *testing.T) {
	e := reference.Find(t, "EC0-COMB-1")
	p := prepared(t, &region.Site{Code: "GB-ENG"})
	lines := map[string]float64{"dead": e.Out(t, "Gk"), "snow": e.Out(t, "Qs"), "wind": e.Out(t, "Qw")} // kN/m
	most, least := math.Inf(-1), math.Inf(1)
	for _, row := range p.Combinations {
		if row.State != region.Strength {
			continue
		}
		down, up := 0.0, 0.0
		for c, factor := range row.Factors {
			q := factor * lines[p.Cases[c].ID]
			if p.Cases[c].Permanent || q > 0 {
				down += q
			}
			if p.Cases[c].Permanent || q < 0 {
				up += q
			}
		}
		most, least = max(most, down), min(least, up)
	}
	e.Agrees(t, "c1", most)
	e.Agrees(t, "c2", least)
}

func TestWhatIsNotSourcedIsNotJudged(t *testing.T) {
	for _, row := range []struct {
		says   string
		s      sketch
		reason string
	}{
		{"a country whose annex nobody has read", sketch{code: "IE", section: "47x195", grade: named("C24"), span: 3000}, "the factors of combination for IE: not sourced"},
		{"a roof whose snow nobody states", sketch{section: "47x195", grade: named("C24"), span: 3000,
			areas: []region.Area{area("tiles", "roof", 35, dead(0.75e-3))}}, "the snow on area tiles is not known: state ground_snow"},
		{"a use for which no load is sourced", sketch{section: "47x195", grade: named("C24"), span: 3000,
			areas: []region.Area{{Area: model.Area{ID: "archive", Kind: "floor", Category: "E"}}}}, "the imposed load of the area archive is not stated"},
	} {
		j := row.s.judge(t)
		for _, fact := range []string{"ec5.bending", "ec5.shear", "ec5.bearing", "ec5.tension", "ec5.deflection_final", "ec6.bearing", "ec0.judged"} {
			assert.Contains(t, j.reason(fact), row.reason, "%s: %s", row.says, fact)
		}
		assert.NotEmpty(t, j.preparation.Combinations, "loads still go to the ground")
	}
}
