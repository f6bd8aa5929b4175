package main

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
)

// where is a region that ships, reached in one of two ways.
type where struct {
	name string
	open func() *host.Client
}

var bothWays = []where{
	{"in process", func() *host.Client { return host.InProcess("eurocode", eurocode.New(), host.Deadlines{}) }},
	{"out of process", func() *host.Client { return host.Start(context.Background(), host.Options{Shipped: "eurocode"}) }},
}

// Region makes a way one of finding regions.
func (w where) Region(context.Context, string) *host.Client { return w.open() }

// BenchmarkBoundary is the judging of 10,000 pieces, no two alike, by the region itself and by the region in a process of
// its own: what reaches it has been worked out before. The share is what is left of the region's own throughput.
func BenchmarkBoundary(b *testing.B) {
	const blocks, each = 100, 100
	text := street(blocks, each)
	doc, problems := read.Document(text, "street.json")
	require.Empty(b, problems)
	session := engine.NewSession(bothWays[0], nil)
	defer session.Close()
	run, err := session.Check(b.Context(), &engine.Source{Document: doc, Text: text, File: "street.json"}, engine.Options{})
	require.NoError(b, err)
	require.Empty(b, run.Incomplete())
	var batches []*region.Batch
	for batch := range run.Filled.Batches(run.Lists, nil, false) {
		batches = append(batches, batch)
	}
	own := 0.0
	for _, way := range bothWays {
		b.Run(way.name, func(b *testing.B) {
			client := way.open()
			defer client.Close()
			_, err := client.Prepare(b.Context(), run.Site)
			require.NoError(b, err)
			b.ReportAllocs()
			for b.Loop() {
				pieces := 0
				require.NoError(b, client.Derive(b.Context(), run.Site, run.Preparation, func(yield func(*region.Batch) bool) {
					for _, batch := range batches {
						same := *batch
						if !yield(&same) {
							return
						}
					}
				}, func(_ *region.Batch, d *region.Derived) error {
					pieces += len(d.ID)
					return nil
				}))
				require.GreaterOrEqual(b, pieces, blocks*each)
			}
			spent := b.Elapsed().Seconds() / float64(b.N)
			b.ReportMetric(spent*1e6/(blocks*each), "us/piece")
			if own == 0 {
				own = spent
			}
			b.ReportMetric(own/spent, "share")
		})
	}
}

// street is floors of joists, each floor between walls of its own and each joist under a load of its own.
func street(blocks, each int) []byte {
	var b bytes.Buffer
	b.WriteString(`{"framing": 1, "title": "A street", "units": "metric",
"site": {"region": "GB-ENG", "ground_snow": 0.5, "altitude": 60, "service_class": 1, "stage": "design"},
"areas": {"floor": {"kind": "floor", "category": "A", "dead": 0.5, "imposed": 1.5}},
"members": {`)
	for i := range blocks {
		x, long := 10_000*i, 400*(each+1)
		for k, at := range []int{0, 3600, 6000} {
			fmt.Fprintf(&b, `"W%d-%d": {"role": "wall", "material": "masonry", "width": 140, "ground": true, "path": [[%d,0,2300],[%d,%d,2300]]},`+"\n", i, k, x+at, x+at, long)
		}
		for j := range each {
			y, n := 400*(j+1), i*each+j
			end, more := 3600, ""
			if j%3 == 0 { // over a second span
				end, more = 6000, fmt.Sprintf(`, {"on": "W%d-2", "bearing": 90}`, i)
			}
			fmt.Fprintf(&b, `"J%d": {"role": "floor joist", "section": "47x220", "grade": "C24", "centres": 400, "path": [[%d,%d,2400],[%d,%d,2400]],
"carries": [{"area": "floor", "width": 400}], "restraint": {"top": "full"},
"loads": [{"action": "imposed", "point": 0.5, "at": %.1f}],
"supports": [{"on": "W%d-0", "bearing": 90}, {"on": "W%d-1", "bearing": 90}%s]},`+"\n", n, x, y, x+end, y, 800+float64(n)/5, i, i, more)
		}
	}
	b.Truncate(b.Len() - 2)
	b.WriteString("}}")
	return b.Bytes()
}
