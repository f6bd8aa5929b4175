package eurocode_test

import (
	"context"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/kit"
)

// stockSite is a dwelling of everything that the region calls stock.
func stockSite(t testing.TB) (*region.Site, *region.Preparation, []kit.Beam) {
	t.Helper()
	d, err := eurocode.New().Describe(context.Background())
	require.NoError(t, err)
	site := &region.Site{Code: "GB-ENG", ServiceClass: 1, GroundSnow: model.Given(0.5e-3), Areas: []region.Area{
		{Area: model.Area{ID: "floor", Kind: "floor"}}, {Area: model.Area{ID: "ceiling", Kind: "ceiling"}}, {Area: model.Area{ID: "roof", Kind: "roof"}, Slope: 0.6}}}
	var beams []kit.Beam
	for _, stock := range d.Stock {
		section, err := model.ParseSection(stock.Section, model.Metric)
		require.NoError(t, err)
		site.Sections = append(site.Sections, *section)
		for _, grade := range stock.Grades {
			site.Grades = append(site.Grades, region.GradeName{Name: grade, Steel: section.SteelByDefault})
			beams = append(beams, kit.Beam{Section: int32(len(site.Sections) - 1), Grade: int32(len(site.Grades) - 1), Multiplicity: 1})
		}
	}
	p, err := eurocode.New().Prepare(context.Background(), site)
	require.NoError(t, err)
	return site, p, beams
}

func BenchmarkPrepare(b *testing.B) {
	site, _, _ := stockSite(b)
	b.ReportAllocs()
	for b.Loop() {
		_, err := eurocode.New().Prepare(context.Background(), site)
		require.NoError(b, err)
	}
}

func BenchmarkDerive(b *testing.B) {
	for _, n := range []int{200, 2000} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			site, preparation, stock := stockSite(b)
			beams := make([]kit.Beam, n)
			for i := range beams {
				beams[i] = stock[i%len(stock)]
				beams[i].Span, beams[i].Load = 1500+float64(i), 0.2
			}
			batch := kit.Batch(site, preparation, beams, nil)
			b.ReportAllocs()
			for b.Loop() {
				_, err := eurocode.New().Derive(context.Background(), batch)
				require.NoError(b, err)
			}
			b.ReportMetric(float64(len(preparation.Combinations)), "combinations")
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "us/piece")
		})
	}
}
