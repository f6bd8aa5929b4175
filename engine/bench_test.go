package engine_test

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/facts"
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

// largest adds the estate of a million pieces, which takes minutes and gigabytes.
var largest = flag.Bool("largest", false, "measure a million pieces too")

// estates runs a benchmark on estates of rising size, written out and as repeated rows.
func estates(b *testing.B, run func(b *testing.B, text []byte, pieces int)) {
	sizes := []int{1_000, 100_000}
	if *largest {
		sizes = append(sizes, 1_000_000)
	}
	for _, form := range []string{"written out", "repeated"} {
		for _, pieces := range sizes {
			b.Run(fmt.Sprintf("%s/%d", form, pieces), func(b *testing.B) {
				text := estate(pieces, form == "written out")
				runtime.GC()
				b.ReportAllocs()
				run(b, text, pieces)
			})
		}
	}
}

// perPiece reports time and memory for each piece; spent is the time of all rounds.
func perPiece(b *testing.B, spent time.Duration, pieces int, before, after *runtime.MemStats) {
	n := float64(b.N) * float64(pieces)
	b.ReportMetric(float64(spent.Nanoseconds())/n, "ns/piece")
	b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/n, "B/piece")
	b.ReportMetric(float64(after.Mallocs-before.Mallocs)/n, "allocs/piece")
}

// stage measures one stage on estates; prepare makes what it works on.
func stage[T any](b *testing.B, prepare func(b *testing.B, text []byte) T, work func(T)) {
	estates(b, func(b *testing.B, text []byte, pieces int) {
		in := prepare(b, text)
		runtime.GC()
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		for b.Loop() {
			work(in)
		}
		runtime.ReadMemStats(&after)
		perPiece(b, b.Elapsed(), pieces, &before, &after)
	})
}

func document(b *testing.B, text []byte) *model.Document {
	doc, problems := read.Document(text, "estate.json")
	require.Empty(b, problems)
	return doc
}

// taken is an estate that has been taken down without a region, with the packs that ship.
type taken struct {
	down *statics.TakeDown
	book *vocabulary.Book
	set  *pack.Set
}

func takenDown(b *testing.B, text []byte) *taken {
	doc := document(b, text)
	set, book, err := engine.NewSession(nil, nil).Rules(context.Background(), "")
	require.NoError(b, err)
	return &taken{statics.Run(input(frame.Assemble(doc, frame.After))), book, set}
}

// input gives timber and steel round figures, since no region is asked.
func input(f *frame.Frame) *statics.Input {
	doc := f.Document
	in := &statics.Input{Frame: f, Cases: statics.DefaultCases(doc), Materials: make([]statics.Material, len(doc.Members))}
	for i := range doc.Members {
		switch grade := doc.Members[i].Grade; {
		case grade == "S355":
			in.Materials[i] = statics.Material{E: 210_000, G: 81_000, Density: 7850e-9, Kind: "steel"}
		case grade != "":
			in.Materials[i] = statics.Material{E: 11_000, G: 690, Density: 420e-9, Kind: "timber"}
		}
	}
	return in
}

func (t *taken) fill() *facts.Filled {
	return facts.Fill(&facts.Source{Book: t.book, Down: t.down, Combinations: statics.DefaultCombinations(t.down.Cases)})
}

// BenchmarkPlainJSON is what encoding/json needs merely to decode the text: the yardstick of the others.
func BenchmarkPlainJSON(b *testing.B) {
	stage(b, func(_ *testing.B, text []byte) []byte { return text }, decode)
}

func decode(text []byte) {
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		panic(err)
	}
}

func BenchmarkRead(b *testing.B) {
	stage(b, func(_ *testing.B, text []byte) []byte { return text }, func(text []byte) { read.Document(text, "estate.json") })
}

func BenchmarkFrame(b *testing.B) {
	stage(b, document, func(doc *model.Document) { frame.Assemble(doc, frame.After) })
}

func BenchmarkStatics(b *testing.B) {
	prepare := func(b *testing.B, text []byte) *statics.Input {
		return input(frame.Assemble(document(b, text), frame.After))
	}
	stage(b, prepare, func(in *statics.Input) { statics.Run(in) })
}

// BenchmarkFacts works out every fact that a rule of the packs can ask for.
func BenchmarkFacts(b *testing.B) {
	stage(b, takenDown, func(t *taken) { t.fill() })
}

// BenchmarkJudge judges facts that are there. It reports the time of a rule on a row, all rows of all subjects counted.
func BenchmarkJudge(b *testing.B) {
	estates(b, func(b *testing.B, text []byte, pieces int) {
		t := takenDown(b, text)
		f := t.fill()
		judged := 0
		for _, r := range t.set.Rules {
			judged += f.Tables[r.Judges].Rows
		}
		t.set.Judge(f.Facts, pack.Options{})
		for b.Loop() {
			t.set.Judge(f.Facts, pack.Options{})
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(pieces), "ns/piece")
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(judged), "ns/rule")
	})
}

// BenchmarkCheck is a whole check without a region, from the text to the findings, beside what encoding/json needs merely
// to decode that text.
func BenchmarkCheck(b *testing.B) {
	estates(b, func(b *testing.B, text []byte, pieces int) {
		session := engine.NewSession(nil, nil)
		_, _, err := session.Rules(context.Background(), "")
		require.NoError(b, err)
		var plain, whole time.Duration
		var spent runtime.MemStats
		for b.Loop() {
			start := time.Now()
			decode(text)
			plain += time.Since(start)
			runtime.GC()
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start = time.Now()
			src := &engine.Source{Document: document(b, text), Text: text, File: "estate.json"}
			src.Document.Site.Region = ""
			run, err := session.Check(context.Background(), src, engine.Options{})
			whole += time.Since(start)
			require.NoError(b, err)
			require.NotEmpty(b, run.Result.Findings)
			runtime.ReadMemStats(&after)
			spent.TotalAlloc += after.TotalAlloc - before.TotalAlloc
			spent.Mallocs += after.Mallocs - before.Mallocs
			src, run = nil, nil
			runtime.GC()
		}
		perPiece(b, whole, pieces, &runtime.MemStats{}, &spent)
		b.ReportMetric(float64(whole)/float64(plain), "x-JSON")
	})
}
