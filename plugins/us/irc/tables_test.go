package irc_test

import (
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/us/irc"
	"example.com/scantling/plugins/us/nds"
)

var update = flag.Bool("update", false, "write the span tables anew")

const tableFolder = "../pack"

// The span tables that ship are the method's own, cell by cell, and nothing else lies beside them.
func TestTablesAreCurrent(t *testing.T) {
	want := map[string]bool{}
	for _, c := range irc.Cases() {
		path := filepath.Join(tableFolder, c.ID+".csv")
		want[path] = true
		text := table(t, c)
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		}
		got, err := os.ReadFile(path)
		require.NoError(t, err, "go generate writes it")
		assert.True(t, text == string(got), "%s is not what the design values give; go generate writes it anew", path)
	}
	files, err := filepath.Glob(filepath.Join(tableFolder, "*.csv"))
	require.NoError(t, err)
	for _, path := range files {
		assert.True(t, want[path], "%s is no table of ours", path)
	}
}

// table writes one span table as a rule pack reads it: spans to the nearest inch, as the code prints them, in mm. An
// exact half goes down, and a span over 26 ft is written as 26 ft. Loads and spacings are looked up to the safe side.
func table(t testing.TB, c irc.Case) string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "# %s of IRC 2018 and 2021: %s, live load %g psf, ground snow %g psf, deflection L/%g. Recomputed from the design values of the NDS Supplement 2018;"+
		" where the printed code differs, the code governs.\n", c.Table, c.Use, c.Live/irc.PSF, c.Snow/irc.PSF, c.Limit)
	b.WriteString("# Spans to the nearest inch; over 26 ft written as 26 ft. Left out: the notes of the table; shear and bearing are not looked at.\n")
	b.WriteString("dead [kN/m2] next up,spacing [mm] next up,grade text exact,section text exact,span [mm]\n")
	for _, dead := range c.Dead {
		for _, spacing := range irc.TableSpacings() {
			for _, name := range irc.TableGrades() {
				g, err := nds.Lookup(nds.Supplement2018, name)
				require.NoError(t, err)
				for _, section := range c.Sections {
					s, err := nds.ParseSection(section)
					require.NoError(t, err)
					span, err := irc.Allowable(irc.Request{Use: c.Use, Section: s, Grade: g, Spacing: spacing, Live: c.Live, Snow: c.Snow, Dead: dead, Limit: c.Limit})
					require.NoError(t, err)
					inches := math.Min(math.Ceil(span.Length/nds.Inch-0.5-1e-6), 26*12)
					fmt.Fprintf(&b, "%s,%s,%s,%s,%s\n", pressure(dead), length(spacing), name, section, length(math.Round(inches*254)/10))
				}
			}
		}
	}
	return b.String()
}

func pressure(v float64) string { return strconv.FormatFloat(v*1000, 'g', 10, 64) }

func length(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// The cells that documents print of IRC 2015 and 2018, whose design values the tables share, are in the files.
func TestTablesHoldThePublishedCells(t *testing.T) {
	type key struct {
		use                     irc.Use
		limit                   float64
		live, snow, dead        string
		spacing, grade, section string
	}
	written := map[key]float64{}
	for _, c := range irc.Cases() {
		file, err := os.Open(filepath.Join(tableFolder, c.ID+".csv"))
		require.NoError(t, err)
		defer file.Close()
		r := csv.NewReader(file)
		r.Comment = '#'
		records, err := r.ReadAll()
		require.NoError(t, err)
		for _, rec := range records[1:] {
			span, err := strconv.ParseFloat(rec[4], 64)
			require.NoError(t, err)
			k := key{c.Use, c.Limit, pressure(c.Live), pressure(c.Snow), rec[0], rec[1], rec[2], rec[3]}
			_, twice := written[k]
			require.False(t, twice, k)
			written[k] = span
		}
	}
	found := 0
	for _, c := range published(t) {
		if c.origin == "memory" || c.request.Grade.Edition != nds.Supplement2018 {
			continue
		}
		r := c.request
		k := key{r.Use, r.Limit, pressure(r.Live), pressure(r.Snow), pressure(r.Dead), length(math.Round(r.Spacing*100) / 100),
			strings.TrimSuffix(r.Grade.String(), "/Stud"), r.Section.String()}
		span, ok := written[k]
		require.True(t, ok, k)
		assert.InDelta(t, c.span*inch, span, 0.051, c.key)
		found++
	}
	assert.Equal(t, 90+68, found, "the IRC 2018 page and the reprint of 2015")
}
