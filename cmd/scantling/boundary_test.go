package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"testing"
	"time"

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

// BenchmarkSize tries what the region's yards stock in a member's place, with the region in either way. "times" is how many
// options are tried while the whole frame is checked once, all being warm.
func BenchmarkSize(b *testing.B) {
	text, err := os.ReadFile(demo("quillmere.json"))
	require.NoError(b, err)
	doc, problems := read.Document(text, "quillmere.json")
	require.Empty(b, problems)
	src := &engine.Source{Document: doc, Text: text, File: "quillmere.json"}
	for _, way := range bothWays {
		b.Run(way.name, func(b *testing.B) {
			session := engine.NewSession(way, nil)
			defer session.Close()
			for _, mark := range []string{"GJ1", "GT2", "TR1", "GB1", "P1", "P2", "RN", "RB1"} {
				b.Run(mark, func(b *testing.B) { triedAgainstWhole(b, session, src, mark) })
			}
		})
	}
}

func triedAgainstWhole(b *testing.B, session *engine.Session, src *engine.Source, mark string) {
	b.ReportAllocs()
	var checks, sizes time.Duration
	tried := 0
	for b.Loop() {
		started := time.Now()
		_, err := session.Check(b.Context(), src, engine.Options{})
		require.NoError(b, err)
		whole := time.Since(started)
		started = time.Now()
		choice, err := session.Size(b.Context(), src, mark, engine.SizeOptions{})
		require.NoError(b, err)
		checks += whole
		sizes += time.Since(started) - whole // Size checks the frame once itself
		tried = choice.Tried
	}
	option := sizes.Seconds() / float64(tried)
	b.ReportMetric(float64(tried), "options")
	b.ReportMetric(option/float64(b.N)*1e3, "ms/option")
	b.ReportMetric(checks.Seconds()/option, "times")
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
