package region_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/testdata/regions/oakshire"
)

// beams is a well-formed batch of four pieces with ten combinations and five cases.
func beams(t testing.TB) *region.Batch {
	section, err := model.ParseSection("50x200", model.Metric)
	require.NoError(t, err)
	site := &region.Site{Sections: []region.Section{*section}, Grades: []region.GradeName{{Name: "H20"}}}
	p, err := oakshire.New().Prepare(t.Context(), site)
	require.NoError(t, err)
	return kit.Batch(site, p, make([]kit.Beam, 4), nil)
}

func TestBatchIsHeldToItsForm(t *testing.T) {
	for _, row := range []struct {
		what  string
		spoil func(*region.Batch)
		says  string
	}{
		{"a sound one passes", func(*region.Batch) {}, ""},
		{"ids need not rise", func(b *region.Batch) { b.Pieces.ID = []int32{9, 3, 7, 1} }, ""},
		{"an id twice", func(b *region.Batch) { b.Pieces.ID = []int32{9, 3, 9, 1} }, "piece 9 is given twice"},
		{"no site", func(b *region.Batch) { b.Site = nil }, "a batch needs its site"},
		{"other combinations than prepared", func(b *region.Batch) { b.Combinations = 3 }, "5 cases and 3 combinations instead of the 5 and 10"},
		{"a column too long", func(b *region.Batch) { b.Pieces.Slope = make([]float64, 5) }, "Pieces.Slope has 5 entries instead of 4"},
		{"forces of too few combinations", func(b *region.Batch) { b.Contacts.Down = b.Contacts.Down[:8] }, "Contacts.Down has 8 entries instead of 80"},
		{"deflections of too few cases", func(b *region.Batch) { b.Spans.CaseDeflect = b.Spans.CaseDeflect[:4] }, "Spans.CaseDeflect has 4 entries instead of 20"},
		{"starts that fall", func(b *region.Batch) { b.Pieces.ContactStart[2] = 0 }, "Pieces.ContactStart[2] is 0 after 2"},
		{"starts that end too early", func(b *region.Batch) { b.Pieces.StationStart[4] = 9 }, "Pieces.StationStart runs from 0 to 9 instead of 0 to 12"},
		{"a word below zero", func(b *region.Batch) { b.Contacts.By[0] = -1 }, "Contacts.By[0] is -1, and there are 10"},
		{"a section that the site does not have", func(b *region.Batch) { b.Pieces.Section[3] = 1 }, "Pieces.Section[3] is 1, and there are 1"},
		{"a section that is not stated passes", func(b *region.Batch) { b.Pieces.Section[3] = -1 }, ""},
		{"a moment that is not a number", func(b *region.Batch) { b.Stations.M[7] = math.NaN() }, "Stations.M[7] is NaN"},
		{"a reaction without end", func(b *region.Batch) { b.Contacts.Up[7] = math.Inf(1) }, "Contacts.Up[7] is +Inf"},
	} {
		t.Run(row.what, func(t *testing.T) {
			b := beams(t)
			row.spoil(b)
			if row.says == "" {
				assert.NoError(t, b.Check())
			} else {
				assert.ErrorContains(t, b.Check(), row.says)
			}
		})
	}
}

func BenchmarkBatchCheck(b *testing.B) {
	batch := beams(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := batch.Check(); err != nil {
			b.Fatal(err)
		}
	}
}
