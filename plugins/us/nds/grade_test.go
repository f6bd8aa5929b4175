package nds_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/us/nds"
)

var widths = map[string]int{"(2x4)": 4, "(2x6)": 6, "(2x8)": 8, "(2x10)": 10, "(2x12)": 12}

// Every row of the reference table must come back through Lookup, figure by figure, with its origin.
func TestDesignValuesAreThoseOfTheReference(t *testing.T) {
	file, err := os.Open("../../../testdata/reference/us/nds_values.csv")
	require.NoError(t, err)
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	columns := map[int]nds.Property{3: nds.Fb, 4: nds.Ft, 5: nds.Fv, 6: nds.FcPerp, 7: nds.Fc, 8: nds.E, 9: nds.Emin, 10: nds.SpecificGravity}
	figures := 0
	for _, rec := range records[1:] {
		species, edition := rec[0], nds.Supplement2018
		if s, old := strings.CutSuffix(species, "-old"); old {
			species, edition = s, nds.Tables2018
		}
		if s, old := strings.CutSuffix(species, "-pre2013"); old {
			species, edition = s, nds.Tables2012
		}
		width := 4
		for mark, w := range widths {
			if strings.HasSuffix(rec[2], mark) {
				width = w
			}
		}
		g, err := nds.Lookup(edition, species+" "+rec[1])
		require.NoError(t, err)
		s, err := nds.NominalSection(2, width, 1)
		require.NoError(t, err)
		for column, p := range columns {
			v, err := g.Value(p, s)
			if rec[column] == "" {
				requireAbsence(t, err, "does not hold it")
				continue
			}
			require.NoError(t, err, "%v", rec)
			want, err := strconv.ParseFloat(rec[column], 64)
			require.NoError(t, err)
			if p != nds.SpecificGravity {
				v = inPSI(v)
			}
			assert.InEpsilon(t, want, v, 1e-12, "%s %s %s", g, s, p)
			figures++
		}
		origin, err := g.Origin(s)
		require.NoError(t, err)
		assert.Equal(t, rec[11], origin)
	}
	assert.Len(t, records, 1+95)
	assert.Equal(t, 76*8+4*2+8*5+7*2, figures, "76 full rows, 4 inferred ones, 8 southern pine rows with 5 figures, 7 with 2")
}

// NDS Appendix D, equation D-4 (memory): Emin = 1.03 E (1 - 1.645 COV) / 1.66, COV = 0.25 for visually graded lumber,
// tabulated to 10,000 psi. A second way to every Emin in the table.
func TestEminFollowsFromE(t *testing.T) {
	for _, name := range nds.Names(nds.Supplement2018) {
		g, err := nds.Lookup(nds.Supplement2018, name)
		require.NoError(t, err)
		e, err := g.Uniform(nds.E)
		require.NoError(t, err)
		emin, err := g.Uniform(nds.Emin)
		require.NoError(t, err)
		want := math.Round(1.03*inPSI(e)*(1-1.645*0.25)/1.66/10_000) * 10_000
		assert.InEpsilon(t, want, inPSI(emin), 1e-9, name)
	}
}

// Missouri S&T CE 5260, Problem 4.17 (document) gives all of DFL #1 but the specific gravity.
func TestDouglasFirNumberOneOfAWorkedProblem(t *testing.T) {
	m := member(t, "DFL #1", "2x6", nds.Service{})
	for p, want := range map[nds.Property]float64{nds.Fb: 1000, nds.Ft: 675, nds.Fv: 180, nds.FcPerp: 625, nds.Fc: 1500, nds.E: 1_700_000, nds.Emin: 620_000} {
		v, err := m.Grade.Value(p, m.Section)
		require.NoError(t, err)
		assert.InEpsilon(t, want, inPSI(v), 1e-12, p.String())
	}
}

func TestLookup(t *testing.T) {
	for _, row := range []struct {
		says, name string
		edition    nds.Edition
		want, err  string
	}{
		{"a plain name", "DFL #2", nds.Supplement2018, "DFL #2", ""},
		{"case and spaces do not matter", "  spf   no. 2 ", nds.Supplement2018, "SPF #2", ""},
		{"a grade of two words", "DFL #1 & Btr", nds.Supplement2018, "DFL #1&Btr", ""},
		{"southern pine #3 is the row shared with Stud", "SP #3", nds.Supplement2018, "SP #3/Stud", ""},
		{"and so is its Stud", "SP Stud", nds.Tables2012, "SP #3/Stud", ""},
		{"Stud of other species is its own row", "HF stud", nds.Supplement2018, "HF Stud", ""},
		{"an unknown species", "OAK #2", nds.Supplement2018, "", "write species group and grade"},
		{"a species alone", "DFL", nds.Supplement2018, "", "write species group and grade"},
		{"a grade that the table does not have", "DFL #4", nds.Supplement2018, "", "write species group and grade"},
		{"an older edition holds less", "DFL Stud", nds.Tables2012, "", "does not hold it"},
		{"an unknown edition", "DFL #2", "1991", "", "known are [2012 2018 ibc-2018]"},
	} {
		t.Run(row.says, func(t *testing.T) {
			g, err := nds.Lookup(row.edition, row.name)
			if row.err != "" {
				requireAbsence(t, err, row.err)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, row.want, g.String())
			again, err := nds.Lookup(row.edition, g.String())
			require.NoError(t, err, "a name that is printed can be read")
			assert.Equal(t, g, again)
		})
	}
}

func TestWhatAnEditionDoesNotHoldIsAbsent(t *testing.T) {
	old, err := nds.Lookup(nds.Tables2012, "SP #2")
	require.NoError(t, err)
	ten, err := nds.ParseSection("2x10")
	require.NoError(t, err)
	fb, err := old.Value(nds.Fb, ten)
	require.NoError(t, err)
	assert.InEpsilon(t, 1050, inPSI(fb), 1e-12, "before June 2013")
	_, err = old.Value(nds.Fv, ten)
	requireAbsence(t, err, "does not hold it")

	pine, err := nds.Lookup(nds.Supplement2018, "SP #2")
	require.NoError(t, err)
	_, err = pine.Uniform(nds.Fb)
	requireAbsence(t, err, "not the same for every size")
	wide, err := nds.ParseSection("2x14")
	require.NoError(t, err)
	_, err = pine.Value(nds.Fb, wide)
	requireAbsence(t, err, "no values for this width")

	_, err = nds.Grade{}.Value(nds.Fb, ten)
	require.Error(t, err, "the zero grade holds nothing")
	_, err = nds.Grade{}.Uniform(nds.Fb)
	require.Error(t, err)
}

func FuzzLookup(f *testing.F) {
	for _, s := range []string{"DFL #2", "SP SS", "spf no. 2", "SP #3", "HF", "", "DFL  #1 & Btr", "\x00 #2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		g, err := nds.Lookup(nds.Supplement2018, name)
		if err != nil {
			requireAbsence(t, err, "")
			return
		}
		again, err := nds.Lookup(nds.Supplement2018, g.String())
		require.NoError(t, err)
		assert.Equal(t, g.String(), again.String())
	})
}

// Hem-fir of specific gravity 0.43 at 19 %: 0.43 / (1 + 0.43 x 0.009 x 19) = 0.400546, times 1.19 x 62.4 = 29.743 lb/ft3,
// which is 476.4 kg/m3. At 0 % it is the specific gravity itself. Worked by hand from the formula of the Supplement.
func TestDensityAndShearModulus(t *testing.T) {
	g, err := nds.Lookup(nds.Supplement2018, "HF #2")
	require.NoError(t, err)
	wet, err := g.Density(19)
	require.NoError(t, err)
	assert.InDelta(t, 476.4e-9, wet, 0.1e-9)
	dry, err := g.Density(0)
	require.NoError(t, err)
	assert.InDelta(t, 0.43*999.55e-9, dry, 0.01e-9)
	shear, err := g.ShearModulus()
	require.NoError(t, err)
	assert.InEpsilon(t, 81_250.0, inPSI(shear), 1e-12) // 1,300,000 / 16
	_, err = nds.Grade{}.Density(19)
	requireAbsence(t, err, "not held")
}
