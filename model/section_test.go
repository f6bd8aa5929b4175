package model_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
)

func section(t testing.TB, text string, u model.Units) *model.Section {
	t.Helper()
	s, err := model.ParseSection(text, u)
	require.NoError(t, err)
	return s
}

// Printed values of section tables as collected in testdata/reference/eurocode/sections.csv. Hollow sections there are
// hot finished (EN 10210); rolled ones are of EN 10365.
func TestSectionsAgreeWithPublishedTables(t *testing.T) {
	f, err := os.Open(filepath.Join("..", "testdata", "reference", "eurocode", "sections.csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 70)
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for _, row := range rows[1:] {
		kind, name := row[column["kind"]], row[column["name"]]
		t.Run(name+" "+kind, func(t *testing.T) {
			s := section(t, name+" "+kind, model.Metric)
			tolerance := 1e-9 // listed sections carry the printed values themselves
			if kind == "SHS" || kind == "RHS" {
				s, err = model.Finished(s, "hot")
				require.NoError(t, err)
				assertNear(t, row[column["calc_It"]], s.It/1e4, 0.005, "It (calculated apart)")
			}
			assertNear(t, row[column["A"]], s.Area/1e2, tolerance, "A")
			assertNear(t, row[column["Iy"]], s.Iy/1e4, tolerance, "Iy")
			assertNear(t, row[column["Iz"]], s.Iz/1e4, tolerance, "Iz")
			assertNear(t, row[column["Wely"]], s.Wy/1e3, tolerance, "Wely")
			assertNear(t, row[column["Welz"]], s.Wz/1e3, tolerance, "Welz")
			assertNear(t, row[column["Wply"]], s.Wply/1e3, tolerance, "Wply")
			assertNear(t, row[column["Wplz"]], s.Wplz/1e3, tolerance, "Wplz")
			assertNear(t, row[column["It"]], s.It/1e4, tolerance, "It")
			assertNear(t, row[column["mass"]], s.Mass*1e3, tolerance, "mass")
		})
	}
}

func assertNear(t *testing.T, printed string, v, tolerance float64, what string) {
	t.Helper()
	if printed == "" {
		return
	}
	want, err := strconv.ParseFloat(printed, 64)
	require.NoError(t, err)
	assert.InEpsilon(t, want, v, tolerance, what)
}

// Values recalled from the tables named; they are not the ones that the program holds.
func TestComputedPropertiesAgreeWithRecalledTables(t *testing.T) {
	const in = 25.4
	for _, c := range []struct {
		text      string
		what      string
		of        func(*model.Section) float64
		is        float64
		tolerance float64
		source    string
	}{
		{"100x100x5 SHS cold", "area", func(s *model.Section) float64 { return s.Area / 1e2 }, 18.4, 0.005, "EN 10219-2 (memory)"},
		{"100x100x5 SHS cold", "Iy", func(s *model.Section) float64 { return s.Iy / 1e4 }, 271, 0.005, "EN 10219-2 (memory)"},
		{"100x100x8 SHS cold", "area", func(s *model.Section) float64 { return s.Area / 1e2 }, 27.2, 0.005, "EN 10219-2 (memory)"},
		{"100x100x8 SHS cold", "Iy", func(s *model.Section) float64 { return s.Iy / 1e4 }, 366, 0.005, "EN 10219-2 (memory)"},
		{"139.7x5 CHS", "area", func(s *model.Section) float64 { return s.Area / 1e2 }, 21.2, 0.005, "EN 10219-2 (memory)"},
		{"139.7x5 CHS", "Iy", func(s *model.Section) float64 { return s.Iy / 1e4 }, 481, 0.005, "EN 10219-2 (memory)"},
		{"139.7x5 CHS", "Wply", func(s *model.Section) float64 { return s.Wply / 1e3 }, 90.8, 0.005, "EN 10219-2 (memory)"},
		{"203x133x25 UB", "Iw", func(s *model.Section) float64 { return s.Iw / 1e12 }, 0.0294, 0.01, "UK section tables, dm6 (memory)"},
		{"152x152x23 UC", "Iw", func(s *model.Section) float64 { return s.Iw / 1e12 }, 0.0212, 0.01, "UK section tables, dm6 (memory)"},
		{"150x75x18 PFC", "Iy", func(s *model.Section) float64 { return s.Iy / 1e4 }, 861, 0.01, "UK section tables (memory)"},
		{"150x75x18 PFC", "Iz", func(s *model.Section) float64 { return s.Iz / 1e4 }, 131, 0.01, "UK section tables (memory)"},
		{"150x75x18 PFC", "Wz", func(s *model.Section) float64 { return s.Wz / 1e3 }, 26.6, 0.01, "UK section tables (memory)"},
		{"150x75x18 PFC", "Wply", func(s *model.Section) float64 { return s.Wply / 1e3 }, 132, 0.01, "UK section tables (memory)"},
		{"150x75x18 PFC", "Wplz", func(s *model.Section) float64 { return s.Wplz / 1e3 }, 47.2, 0.01, "UK section tables (memory)"},
		{"150x75x18 PFC", "It", func(s *model.Section) float64 { return s.It / 1e4 }, 6.10, 0.02, "UK section tables (memory)"},
		{"150x75x18 PFC", "Iw", func(s *model.Section) float64 { return s.Iw / 1e12 }, 0.00467, 0.01, "UK section tables, dm6 (memory)"},
		{"200x90x30 PFC", "Iy", func(s *model.Section) float64 { return s.Iy / 1e4 }, 2520, 0.01, "UK section tables (memory)"},
		{"200x90x30 PFC", "Wply", func(s *model.Section) float64 { return s.Wply / 1e3 }, 291, 0.01, "UK section tables (memory)"},
		{"W8x18", "area", func(s *model.Section) float64 { return s.Area / (in * in) }, 5.26, 0.01, "US steel manual, in2 (memory)"},
		{"W8x18", "Ix", func(s *model.Section) float64 { return s.Iy / (in * in * in * in) }, 61.9, 0.01, "US steel manual, in4 (memory)"},
		{"W8x18", "Iy", func(s *model.Section) float64 { return s.Iz / (in * in * in * in) }, 7.97, 0.01, "US steel manual, in4 (memory)"},
		{"W8x18", "Zx", func(s *model.Section) float64 { return s.Wply / (in * in * in) }, 17.0, 0.01, "US steel manual, in3 (memory)"},
		{"W10x33", "Ix", func(s *model.Section) float64 { return s.Iy / (in * in * in * in) }, 171, 0.01, "US steel manual, in4 (memory)"},
		{"W12x26", "Ix", func(s *model.Section) float64 { return s.Iy / (in * in * in * in) }, 204, 0.01, "US steel manual, in4 (memory)"},
		{"W16x26", "Zx", func(s *model.Section) float64 { return s.Wply / (in * in * in) }, 44.2, 0.01, "US steel manual, in3 (memory)"},
	} {
		t.Run(c.text+" "+c.what, func(t *testing.T) {
			name, finish, _ := strings.Cut(c.text, " SHS ")
			if finish != "" {
				cold, err := model.Finished(section(t, name+" SHS", model.Metric), finish)
				require.NoError(t, err)
				assert.InEpsilon(t, c.is, c.of(cold), c.tolerance, c.source)
				return
			}
			assert.InEpsilon(t, c.is, c.of(section(t, c.text, model.Metric)), c.tolerance, c.source)
		})
	}
}

// The weight in a rolled section's name is its nominal mass, so that it checks the sizes in the table.
func TestRolledSectionsWeighWhatTheirNamesSay(t *testing.T) {
	for _, name := range model.SectionNames() {
		s := section(t, name, model.Metric)
		if name[0] == 'W' {
			var depth, pounds float64
			_, err := fmt.Sscanf(name, "W%fx%f", &depth, &pounds)
			require.NoError(t, err)
			assert.InEpsilon(t, pounds*0.45359237/0.3048, s.Area*7850e-6, 0.015, name)
			assert.InEpsilon(t, depth*25.4, s.Depth, 0.07, name)
			continue
		}
		assert.InEpsilon(t, s.Mass*1e3, s.Area*7850e-6, 0.012, name)
	}
}

// Dressed sizes of dry lumber in inches: American Softwood Lumber Standard PS 20; section properties of 2x8 from the
// NDS Supplement, Table 1B (memory).
func TestNominalLumberHasItsDressedSize(t *testing.T) {
	const in = 25.4
	for _, c := range []struct {
		text         string
		width, depth float64 // in
		plies        int
	}{
		{"2x4", 1.5, 3.5, 1}, {"2x6", 1.5, 5.5, 1}, {"2x8", 1.5, 7.25, 1}, {"2x10", 1.5, 9.25, 1}, {"2x12", 1.5, 11.25, 1},
		{"2/2x8", 1.5, 7.25, 2}, {"3/2x10", 1.5, 9.25, 3}, {"1x6", 0.75, 5.5, 1}, {"4x4", 3.5, 3.5, 1}, {"4x8", 3.5, 7.25, 1}, {"6x6", 5.5, 5.5, 1},
		{"1.75x11.875", 1.75, 11.875, 1}, {"2/1.75x9.5", 1.75, 9.5, 2}, {"2x8 in", 2, 8, 1},
		{"38x184 mm", 38 / in, 184 / in, 1},
	} {
		t.Run(c.text, func(t *testing.T) {
			s := section(t, c.text, model.US)
			assert.InEpsilon(t, c.width*in, s.Width, 1e-12)
			assert.InEpsilon(t, c.depth*in, s.Depth, 1e-12)
			assert.Equal(t, c.plies, s.Plies)
		})
	}
	s := section(t, "2x8", model.US)
	assert.Equal(t, "2x8", s.Nominal)
	assert.InEpsilon(t, 10.88, s.Area/math.Pow(in, 2), 0.001)
	assert.InEpsilon(t, 47.63, s.Iy/math.Pow(in, 4), 0.001)
	assert.InEpsilon(t, 13.14, s.Wy/math.Pow(in, 3), 0.001)
}

func TestTimberIsWidthByDepth(t *testing.T) {
	s := section(t, "47x195", model.Metric)
	assert.Equal(t, 47.0, s.Width)
	assert.Equal(t, 195.0, s.Depth)
	assert.InEpsilon(t, 47*195*195*195/12.0, s.Iy, 1e-12)
	assert.InEpsilon(t, 47*195*195/6.0, s.Wy, 1e-12)
	assert.Zero(t, s.Mass, "a timber's mass is its grade's")
	// Torsion of a square of side a: 0.1406 a^4 (Timoshenko and Goodier, Theory of Elasticity, section 109).
	assert.InEpsilon(t, 0.1406, section(t, "100x100", model.Metric).It/1e8, 0.002)
}

func TestPliesAddUpSingly(t *testing.T) {
	one, two := section(t, "47x195", model.Metric), section(t, "2/47x195", model.Metric)
	assert.InEpsilon(t, 2*one.Area, two.Area, 1e-12)
	assert.InEpsilon(t, 2*one.Iy, two.Iy, 1e-12)
	assert.InEpsilon(t, 2*one.Iz, two.Iz, 1e-12, "about the upright axis no joint between plies is assumed")
	assert.Equal(t, 94.0, two.Breadth())
	beams := section(t, "2/152x89x16 UB", model.Metric)
	assert.InEpsilon(t, 2*834e4, beams.Iy, 1e-9)
	assert.InEpsilon(t, 32e-3, beams.Mass, 1e-9)
	assert.True(t, beams.SteelByDefault)
}

func TestFlatLaysASectionDown(t *testing.T) {
	flat := model.Flat(section(t, "2/47x195", model.Metric))
	assert.Equal(t, 195.0, flat.Width)
	assert.Equal(t, 94.0, flat.Depth)
	assert.Equal(t, 195.0, flat.Breadth())
	assert.InEpsilon(t, 2*195*math.Pow(47, 3)/12, flat.Iy, 1e-12, "plies on each other still bend singly")
	assert.Equal(t, section(t, "2/47x195", model.Metric), model.Flat(flat), "turned twice it stands again")
}

func TestLayersOfOneGradeAndTwoSizesAreUnequalPlies(t *testing.T) {
	sandwich := model.NewLayered([]model.Layer{{Width: 47, Depth: 195, Grade: "C24"}, {Width: 10, Depth: 180, Grade: "S275"}, {Width: 47, Depth: 195, Grade: "C24"}})
	assert.False(t, sandwich.UnequalPlies)
	assert.Equal(t, 104.0, sandwich.Breadth())
	assert.Equal(t, 195.0, sandwich.Depth)
	assert.Zero(t, sandwich.Iy, "it depends on the layers' grades")
	assert.True(t, model.NewLayered([]model.Layer{{Width: 47, Depth: 195, Grade: "C24"}, {Width: 47, Depth: 170, Grade: "C24"}}).UnequalPlies)
}

func TestWrongSectionsNameWhatIsNear(t *testing.T) {
	for _, c := range []struct {
		text         string
		units        model.Units
		message, fix string
	}{
		{"203x133x24 UB", model.Metric, `"203x133x24 UB" is no section that is known here`, `the nearest known is "203x133x25 UB"`},
		{"152x152x24 UC", model.Metric, "no section that is known here", `"152x152x23 UC"`},
		{"W8x19", model.Metric, "no section that is known here", `"W8x1`},
		{"47y195", model.Metric, "no section that is known here", `write "47x195"`},
		{"", model.Metric, "no section that is known here", `write "47x195"`},
		{"2x8", model.Metric, `"2x8" is a section of less than 5 mm`, `"units": "us"`},
		{"47x195", model.US, `"47x195" is no nominal lumber size`, `"47x195 mm"`},
		{"2x7", model.US, `"2x7" is no nominal lumber size`, `"2x8"`},
		{"47x19500", model.Metric, "has a side of 19500 mm", "up to 5000 mm"},
		{"0x195", model.Metric, "less than 5 mm", "width x depth"},
		{"-47x195", model.Metric, "no section that is known here", "47x195"},
		{"100x100 SHS", model.Metric, `"100x100 SHS" is not a hollow section`, "depth x width x wall"},
		{"100x50x5 SHS", model.Metric, `"100x50x5 SHS" is not a hollow section`, "RHS"},
		{"40x40x20 SHS", model.Metric, "a wall too thick for its sides", "depth x width x wall"},
		{"60x30 CHS", model.Metric, "a wall too thick for its diameter", "diameter x wall"},
		{"0/47x195", model.Metric, "has 0 plies", "1 to 20 plies"},
		{"99/47x195", model.Metric, "has 99 plies", "1 to 20 plies"},
		{"a/47x195", model.Metric, "no section that is known here", "2/47x195"},
		{"47x195x3", model.Metric, "no section that is known here", "47x195"},
		{"NaNxInf", model.Metric, "no section that is known here", "47x195"},
		{"1e400x5", model.Metric, "no section that is known here", "47x195"},
	} {
		t.Run(c.text, func(t *testing.T) {
			_, err := model.ParseSection(c.text, c.units)
			var wrong *model.TextError
			require.ErrorAs(t, err, &wrong)
			assert.Contains(t, wrong.Message, c.message)
			assert.Contains(t, wrong.Fix, c.fix)
		})
	}
}

func TestOnlyHollowSectionsHaveAFinish(t *testing.T) {
	_, err := model.Finished(section(t, "47x195", model.Metric), "hot")
	assert.ErrorContains(t, err, "is not a hollow section")
	_, err = model.Finished(section(t, "100x100x8 SHS", model.Metric), "warm")
	assert.ErrorContains(t, err, `"warm" is no finish`)
	unsaid := section(t, "2/100x100x8 SHS", model.Metric)
	cold, err := model.Finished(unsaid, "cold")
	require.NoError(t, err)
	assert.Less(t, cold.Iy, unsaid.Iy, "a size without a finish is that of the hot finished tables")
	hot, err := model.Finished(cold, "hot")
	require.NoError(t, err)
	assert.Greater(t, hot.Area, cold.Area, "tighter corners hold more steel")
	assert.Equal(t, 2, hot.Plies)
	back, err := model.Finished(hot, "cold")
	require.NoError(t, err)
	assert.Equal(t, cold, back)
}

func TestNearestWord(t *testing.T) {
	known := []string{"section", "sections", "supports", "title"}
	assert.Equal(t, "section", model.Nearest("sektion", known))
	assert.Equal(t, "title", model.Nearest("titel", known))
	assert.Equal(t, "supports", model.Nearest("SUPPORTS", known))
	assert.Empty(t, model.Nearest("zzz", known))
}

func FuzzSection(f *testing.F) {
	for _, s := range []string{"47x195", "2/47x195", "100x100x8 SHS", "200x100x8 RHS", "139.7x5 CHS", "203x133x25 UB", "W8x18", "2x8", "2/1.75x11.875", "150x75x18 PFC", "1.5x7.25 in", "//", "x"} {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, text string, us bool) {
		u := model.Metric
		if us {
			u = model.US
		}
		s, err := model.ParseSection(text, u)
		if err != nil {
			var wrong *model.TextError
			require.ErrorAs(t, err, &wrong)
			return
		}
		for _, v := range []float64{s.Width, s.Depth, s.Area, s.Iy, s.Iz, s.Wy, s.Wz, s.Wply, s.Wplz, s.It} {
			require.True(t, v > 0 && !math.IsInf(v, 0), "%q: %+v", text, s)
		}
		require.GreaterOrEqual(t, s.Wply, s.Wy*(1-1e-9), "a plastic modulus is no less than an elastic one")
		require.GreaterOrEqual(t, s.Wplz, s.Wz*(1-1e-9))
		require.Equal(t, s, model.Flat(model.Flat(s)))
	})
}
