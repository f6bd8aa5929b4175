package host_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/testdata/regions/oakshire"
)

// BenchmarkStart is a region started, asked what it is, and ended.
func BenchmarkStart(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		c := host.Start(background, host.Options{Shipped: "oakshire"})
		_, err := c.Describe(background)
		require.NoError(b, err)
		c.Close()
	}
}

// BenchmarkDerive is eight batches of 5,000 pieces, each with three stations and ten combinations, by both ways.
func BenchmarkDerive(b *testing.B) {
	const count, size = 8, 5000
	for _, way := range []struct {
		name string
		open func() *host.Client
	}{
		{"in process", func() *host.Client { return host.InProcess("oakshire", oakshire.New(), host.Deadlines{}) }},
		{"out of process", func() *host.Client { return host.Start(background, host.Options{Shipped: "oakshire"}) }},
	} {
		b.Run(way.name, func(b *testing.B) {
			c := way.open()
			defer c.Close()
			s := site(b)
			p, err := c.Prepare(background, s)
			require.NoError(b, err)
			batch := kit.Batch(s, p, joists(size), nil)
			b.ReportAllocs()
			for b.Loop() {
				pieces := 0
				require.NoError(b, c.Derive(background, s, p, func(yield func(*region.Batch) bool) {
					for range count {
						same := *batch
						if !yield(&same) {
							return
						}
					}
				}, func(_ *region.Batch, d *region.Derived) error {
					pieces += len(d.ID)
					return nil
				}))
				require.Equal(b, count*size, pieces)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/(count*size), "ns/piece")
		})
	}
}
