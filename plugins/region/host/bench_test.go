package host_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/region/host"
)

// BenchmarkStart is a region started, asked what it is, and ended.
func BenchmarkStart(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		c := host.Start(context.Background(), host.Options{Shipped: "oakshire"})
		_, err := c.Describe(context.Background())
		require.NoError(b, err)
		c.Close()
	}
}
