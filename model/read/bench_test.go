package read_test

import (
	"encoding/json"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// largeModel is a document of n explicit members of about 1 kB each, like those of the reference cases: indented, each
// with a path, two supports, loads and a strip of an area.
func largeModel(n int) []byte {
	var b strings.Builder
	b.WriteString(`{"framing": 1, "title": "many", "units": "metric", "areas": {"tiles": {"kind": "roof", "dead": 0.75, "snow": 0.4}}, "members": {`)
	b.WriteString("\n" + `"W1": {"role": "wall", "material": "masonry", "width": 140, "path": [[0, 0, 2400], [4000, 0, 2400]], "ground": true}`)
	for i := range n {
		x := 400.5 * float64(i)
		fmt.Fprintf(&b, `,
  "R%d": {
    "role": "rafter",
    "section": "47x195",
    "grade": "C24",
    "centres": 400,
    "path": [
      [%.4f, 0.0, 2400.125],
      [%.4f, 3012.0625, 4200.25]
    ],
    "carries": ["tiles"],
    "restraint": {"top": "full", "bottom": 1200},
    "supports": [
      {"on": "W1", "at": 0, "bearing": 100, "notch": {"depth": 22.5, "face": "bottom"}, "by": "seat"},
      {"on": "RB%d", "at": 3508.0625, "bearing": 47, "by": "hanger", "capacity": {"down": 4.5, "basis": "characteristic", "by": "maker"}}
    ],
    "loads": [
      {"action": "dead", "line": 0.3125, "from": 0, "to": 3508.0625, "per": "plan"},
      {"action": "snow", "line": [0.225, 0.5], "from": 500.5, "to": 2500.75, "per": "plan"},
      {"action": "imposed", "point": 0.9, "at": 1754.03125}
    ],
    "drawing": ["S-101", {"S-102": {"section": "47x195", "centres": 400}}],
    "treated": "preservative, use class 2",
    "covered_by": "plasterboard and insulation"
  }`, i, x, x, i%100)
	}
	b.WriteString("\n}}\n")
	return []byte(b.String())
}

// BenchmarkDocument reads many members; BenchmarkPlainJSON decodes the same bytes with encoding/json.
func BenchmarkDocument(b *testing.B) {
	for _, n := range []int{10_000, 100_000} {
		src := largeModel(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(src)))
			var d *model.Document
			for b.Loop() {
				var problems read.Problems
				d, problems = read.Document(src, "many.json")
				require.Empty(b, problems)
			}
			b.ReportMetric(float64(len(src))/float64(n), "text-B/member")
			b.ReportMetric(held(func() any { d, _ := read.Document(src, ""); return d })/float64(n), "held-B/member")
			require.Len(b, d.Members, n+1)
		})
	}
}

// held is the memory that a value keeps, in bytes.
func held(build func() any) float64 {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	v := build()
	runtime.GC()
	runtime.ReadMemStats(&after)
	runtime.KeepAlive(v)
	return float64(after.HeapAlloc) - float64(before.HeapAlloc)
}

func BenchmarkPlainJSON(b *testing.B) {
	for _, n := range []int{10_000, 100_000} {
		src := largeModel(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(src)))
			for b.Loop() {
				var v any
				require.NoError(b, json.Unmarshal(src, &v))
			}
		})
	}
}
