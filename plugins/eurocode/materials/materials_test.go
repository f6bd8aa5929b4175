package materials_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/eurocode/internal/reference"
	"example.com/scantling/plugins/eurocode/materials"
)

// The reference file says itself which classes were read in public texts and which are memory.
func TestClassesAgreeWithTheReferenceFile(t *testing.T) {
	rows := reference.Rows(t, "en338.csv")
	require.Len(t, rows, 23)
	for _, row := range rows {
		t.Run(row["cls"], func(t *testing.T) {
			grade, absent := materials.FindTimber(row["cls"])
			require.Empty(t, absent)
			for column, got := range map[string]float64{
				"fmk": grade.FmK, "ft0k": grade.Ft0K, "ft90k": grade.Ft90K, "fc0k": grade.Fc0K, "fc90k": grade.Fc90K, "fvk": grade.FvK,
				"E0mean": grade.E0Mean / 1000, "E005": grade.E005 / 1000, "E90mean": grade.E90Mean / 1000, "Gmean": grade.GMean / 1000,
				"rhok": grade.RhoK, "rhomean": grade.RhoMean,
			} {
				assert.InDelta(t, reference.Number(t, row[column]), got, 1e-9, column)
			}
			assert.Contains(t, grade.Source, row["std"])
		})
	}
}

// EN 384:2016 derives the secondary values of a class of solid timber from strength, stiffness and density (memory); the
// standard rounds, hence the widths: half a unit of the last place printed, and one where a relation is itself rounded.
func TestSolidClassesHoldToTheRelationsOfEN384(t *testing.T) {
	for _, row := range reference.Rows(t, "en338.csv") {
		if row["std"] != "EN 338:2016" {
			continue
		}
		t.Run(row["cls"], func(t *testing.T) {
			g, absent := materials.FindTimber(row["cls"])
			require.Empty(t, absent)
			soft := g.Kind == materials.Softwood
			pick := func(softwood, hardwood float64) float64 {
				if soft {
					return softwood
				}
				return hardwood
			}
			assert.InDelta(t, 4.3*math.Sqrt(g.FmK), g.Fc0K, 0.6, "fc0_k")
			assert.InDelta(t, pick(-3.07+0.73*g.FmK, 0.6*g.FmK), g.Ft0K, 0.51, "ft0_k")
			assert.InDelta(t, pick(math.Min(1.6+0.1*g.FmK, 4), math.Min(3+0.03*g.FmK, 5)), g.FvK, 0.06, "fv_k")
			heavy := 0.010
			if g.RhoK > 699 {
				heavy = 0.015
			}
			assert.InDelta(t, pick(0.007*g.RhoK, heavy*g.RhoK), g.Fc90K, 0.06, "fc90_k")
			assert.InDelta(t, pick(0.67, 0.84)*g.E0Mean, g.E005, 60, "E005")
			assert.InDelta(t, g.E0Mean/pick(30, 15), g.E90Mean, 6, "E90")
			assert.InDelta(t, g.E0Mean/16, g.GMean, 6, "G")
			assert.InDelta(t, 1.2*g.RhoK, g.RhoMean, 10, "mean density")
		})
	}
}

// EN 14080:2013 gives homogeneous glulam ft0 = 0.8 fm but for GL28h's rounding, and fc0 = fm; G and G005 are the same for
// all classes. Combined glulam is never stronger than the homogeneous class of its name.
func TestGlulamClasses(t *testing.T) {
	for _, grade := range []string{"20", "22", "24", "26", "28", "30", "32"} {
		h, absent := materials.FindTimber("GL" + grade + "h")
		require.Empty(t, absent)
		c, absent := materials.FindTimber("GL" + grade + "c")
		require.Empty(t, absent)
		assert.Equal(t, reference.Number(t, grade), h.FmK)
		assert.Equal(t, h.FmK, c.FmK)
		assert.InDelta(t, 0.8*h.FmK, h.Ft0K, 0.11)
		assert.Equal(t, h.FmK, h.Fc0K)
		assert.LessOrEqual(t, c.Ft0K, h.Ft0K)
		assert.LessOrEqual(t, c.Fc0K, h.Fc0K)
		assert.Equal(t, materials.Glulam, c.Kind)
		assert.InDelta(t, 0.83, h.E005/h.E0Mean, 0.01)
		assert.InDelta(t, 0.83, c.E005/c.E0Mean, 0.01)
	}
}

func TestAGradeThatIsNotKnownSaysWhatToDo(t *testing.T) {
	_, absent := materials.FindTimber("C99")
	assert.EqualValues(t, "grade C99 is neither in EN 338 nor in EN 14080; name a class or declare its values under grades", absent)
	_, absent = materials.FindSteel("S999", materials.Rolled)
	assert.EqualValues(t, "steel grade S999 is not known; name S235, S275 or S355", absent)
}

func TestYieldByThickness(t *testing.T) {
	for name, row := range map[string]struct {
		grade     string
		form      materials.Form
		thickness float64
		fy        float64
	}{
		"S275 up to 16 mm (ec5_factors.csv)":              {"S275", materials.Rolled, 16, 275},
		"S275 over 16 mm (ec5_factors.csv)":               {"S275", materials.Rolled, 16.1, 265},
		"S355 up to 16 mm (ec5_factors.csv)":              {"S355", materials.Rolled, 11, 355},
		"S355 over 16 mm (ec5_factors.csv)":               {"S355", materials.Rolled, 40, 345},
		"S235 as in the multi-storey guide, example A.1":  {"S235", materials.Rolled, 11.5, 235},
		"letters for toughness make no difference":        {"S355JR", materials.Rolled, 10, 355},
		"a cold formed hollow section":                    {"S355J2H", materials.ColdHollow, 8, 355},
		"a hot finished one, thick (EN 10210-1, memory)":  {"S275J0H", materials.HotHollow, 20, 265},
		"plate between 40 and 63 mm (EN 10025-2, memory)": {"S355J2", materials.Rolled, 50, 335},
	} {
		t.Run(name, func(t *testing.T) {
			steel, absent := materials.FindSteel(row.grade, row.form)
			require.Empty(t, absent)
			fy, source, absent := steel.Yield(row.thickness)
			require.Empty(t, absent)
			assert.Equal(t, row.fy, fy)
			assert.Contains(t, source, "EN 10")
		})
	}
	steel, _ := materials.FindSteel("S275", materials.Rolled)
	for _, thickness := range []float64{0, -3, 120, math.NaN()} {
		_, _, absent := steel.Yield(thickness)
		assert.NotEmpty(t, absent)
	}
}

// The values are those of LVL 48 P in the LVL handbook's joist example (EC5-JOIST-1).
func lvl48() materials.Declared {
	return materials.Declared{Name: "LVL 48 P", Material: "LVL", E: 13800, G: 600, Density: 510, By: "maker's declaration",
		Region: map[string]float64{"fm_k": 44, "fv_k": 4.2, "fc90_k": 6, "size_exp": 0.15}}
}

func TestDeclare(t *testing.T) {
	grade, err := materials.Declare(lvl48())
	require.NoError(t, err)
	assert.Equal(t, &materials.Timber{Name: "LVL 48 P", Kind: materials.LVL, FmK: 44, FvK: 4.2, Fc90K: 6, SizeExponent: 0.15,
		E0Mean: 13800, GMean: 600, RhoMean: 510, Source: "maker's declaration"}, grade)

	t.Run("every name that may be declared sets a value of its own", func(t *testing.T) {
		seen := map[float64]bool{}
		all := map[string]float64{}
		for name := range materials.Declarable {
			all[name] = float64(len(all) + 1)
		}
		full := lvl48()
		full.Region = all
		grade, err := materials.Declare(full)
		require.NoError(t, err)
		for name, into := range materials.Declarable {
			assert.Equal(t, all[name], *into(grade), name)
			assert.False(t, seen[*into(grade)], name)
			seen[*into(grade)] = true
		}
	})

	t.Run("all faults are told at once, in the order of their names", func(t *testing.T) {
		bad := lvl48()
		bad.Material, bad.E = "granite", -1
		bad.Region = map[string]float64{"fm_k": math.NaN(), "strength": 3, "E005": math.Inf(1)}
		_, err := materials.Declare(bad)
		require.Error(t, err)
		lines := strings.Split(err.Error(), "\n")
		require.Len(t, lines, 5)
		for i, says := range []string{"material granite", "E is -1", "E005 is +Inf", "fm_k is NaN", "strength is no value"} {
			assert.Contains(t, lines[i], says)
			assert.Contains(t, lines[i], "grade LVL 48 P")
		}
	})
}

// Whatever is declared, Declare answers with a timber of finite, positive or unstated values, or with an error of one line
// a fault.
func FuzzDeclare(f *testing.F) {
	f.Add("LVL 48 P", "LVL", 13800.0, 600.0, 510.0, "fm_k", 44.0, "fv_k", 4.2)
	f.Add("old purlin", "timber", 0.0, 0.0, 0.0, "fm_k", -1.0, "grade", 1.0)
	f.Add("\x00\n", "", math.NaN(), math.Inf(1), math.Copysign(0, -1), "", 0.0, "E005", 1e300)
	f.Fuzz(func(t *testing.T, name, material string, e, g, density float64, key string, value float64, key2 string, value2 float64) {
		grade, err := materials.Declare(materials.Declared{Name: name, Material: material, E: e, G: g, Density: density,
			Region: map[string]float64{key: value, key2: value2}})
		if err != nil {
			require.Nil(t, grade)
			for line := range strings.SplitSeq(err.Error(), "\n") {
				require.True(t, strings.HasPrefix(line, "grade "), "%q", err)
			}
			return
		}
		values := []float64{grade.E0Mean, grade.GMean, grade.RhoMean}
		for _, into := range materials.Declarable {
			values = append(values, *into(grade))
		}
		for _, v := range values {
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0) || v < 0)
		}
	})
}
