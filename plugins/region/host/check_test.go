package host_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/rules/vocabulary"
	"example.com/scantling/testdata/regions/oakshire"
)

func TestDescriptionIsHeldToTheContract(t *testing.T) {
	for _, row := range []struct {
		what  string
		spoil func(*region.Description)
		says  string
	}{
		{"a sound one passes", func(*region.Description) {}, ""},
		{"an id of several words", func(d *region.Description) { d.ID = "Oak Shire" }, `the id "Oak Shire" is not a short lower-case word`},
		{"no title", func(d *region.Description) { d.Title = "" }, "the title is empty"},
		{"a title that colours the terminal", func(d *region.Description) { d.Title = "\x1b[31moak" }, "the title has characters that cannot be printed"},
		{"an endless edition", func(d *region.Description) { d.Edition = strings.Repeat("1", 2000) }, "the edition is 2000 bytes long"},
		{"another contract than it speaks", func(d *region.Description) { d.Contract = 2 }, "written for version 2 of the contract and speaks version 1"},
		{"no code", func(d *region.Description) { d.Codes = nil }, "it serves no code"},
		{"a code in lower case", func(d *region.Description) { d.Codes = []string{"xa-oak"} }, `the code "xa-oak" is malformed`},
		{"a code twice", func(d *region.Description) { d.Codes = []string{"XA", "XA"} }, `the code "XA" is malformed or given twice`},
		{"no fact", func(d *region.Description) { d.Facts = nil }, "it names no fact"},
		{"too many facts", func(d *region.Description) { d.Facts = make([]vocabulary.Fact, 300) }, "300 facts; at most 256"},
		{"a fact without a prefix", func(d *region.Description) { d.Facts[0].Name = "bending" }, `the fact "bending" is not a prefix and a name`},
		{"a fact without a text", func(d *region.Description) { d.Facts[0].Text = "" }, "the text of oak.bending is empty"},
		{"a fact twice", func(d *region.Description) { d.Facts[1].Name = d.Facts[0].Name }, "oak.bending is given twice"},
		{"a fact about supports", func(d *region.Description) { d.Facts[0].Subject = vocabulary.Support }, "oak.bending is not about a member"},
		{"a fact that is a text", func(d *region.Description) { d.Facts[0].Type = vocabulary.Text }, "oak.bending is neither a number nor a truth"},
		{"a truth with a dimension", func(d *region.Description) { d.Facts[4].Dimension = model.Length }, "oak.stocky is a truth with a dimension"},
		{"a dimension out of this world", func(d *region.Description) { d.Facts[0].Dimension.Length = 99 }, "oak.bending has a dimension with the exponent 99"},
		{"beside a fact that it does not have", func(d *region.Description) { d.Beside = []string{"oak.bark"} }, `"oak.bark" depends on what stands beside, and is none of its facts`},
		{"a pack outside its folder", func(d *region.Description) { d.Packs[0].Name = "../house.yaml" }, `the pack file "../house.yaml" is not a plain file name`},
		{"a pack twice", func(d *region.Description) { d.Packs = append(d.Packs, d.Packs[0]) }, "the pack file oakshire.yaml is given twice"},
		{"an empty pack", func(d *region.Description) { d.Packs[0].Data = nil }, "the pack file oakshire.yaml has 0 bytes"},
		{"a pack too large", func(d *region.Description) { d.Packs[0].Data = make([]byte, 2<<20) }, "the pack file oakshire.yaml has 2097152 bytes"},
		{"stock of no finite length", func(d *region.Description) { d.Stock[0].Lengths[0] = math.Inf(1) }, "a length in stock is +Inf"},
	} {
		t.Run(row.what, func(t *testing.T) {
			d, err := oakshire.New().Describe(background)
			require.NoError(t, err)
			row.spoil(d)
			holds(t, host.CheckDescription(d), row.says)
		})
	}
}

func TestPreparationIsHeldToTheContract(t *testing.T) {
	for _, row := range []struct {
		what  string
		spoil func(*region.Preparation)
		says  string
	}{
		{"a sound one passes", func(*region.Preparation) {}, ""},
		{"a grade left out", func(p *region.Preparation) { p.Grades = p.Grades[1:] }, "it answers 1 grades and was asked about 2"},
		{"E that is not a number", func(p *region.Preparation) { p.Grades[0].E = math.NaN() }, "E of H20 is NaN"},
		{"a density below zero", func(p *region.Preparation) { p.Grades[0].Density = -1 }, "the density of H20 is -1"},
		{"an unknown G without a reason", func(p *region.Preparation) { p.Grades[0].G = 0 }, "something about H20 is unknown, without a reason"},
		{"a load on no area", func(p *region.Preparation) { p.Areas[0].Area = "cellar" }, `it loads the area "cellar", which the site does not have`},
		{"a load twice", func(p *region.Preparation) { p.Areas = append(p.Areas, p.Areas[0]) }, "it loads attic twice with imposed"},
		{"a load of no action", func(p *region.Preparation) { p.Areas[0].Action = "gravity" }, `names the action "gravity", which does not exist`},
		{"a load that lifts", func(p *region.Preparation) { p.Areas[0].Value = -1 }, "the load on attic is -1"},
		{"a load without its note", func(p *region.Preparation) { p.Areas[0].Note = "" }, "the note of the load on attic is empty"},
		{"no case", func(p *region.Preparation) { p.Cases = nil }, "it gives no load case"},
		{"a case twice", func(p *region.Preparation) { p.Cases[1].ID = "dead" }, "the case dead is given twice"},
		{"a case of no action", func(p *region.Preparation) { p.Cases[1].Action = "" }, `case imposed names the action ""`},
		{"no combination", func(p *region.Preparation) { p.Combinations = nil }, "it gives no combination"},
		{"a combination twice", func(p *region.Preparation) { p.Combinations[2] = p.Combinations[0] }, "the combination 1.3 dead is given twice for strength"},
		{"a factor too few", func(p *region.Preparation) { p.Combinations[0].Factors = p.Combinations[0].Factors[1:] }, "the combination 1.3 dead has 4 factors for 5 cases"},
		{"a factor that is infinite", func(p *region.Preparation) { p.Combinations[0].Factors[0] = math.Inf(-1) }, "a factor of 1.3 dead is -Inf"},
		{"a combination for nothing", func(p *region.Preparation) { p.Combinations[0].State = "" }, "the limit state of 1.3 dead is empty"},
		{"an assumption without words", func(p *region.Preparation) { p.Assumptions[0].Text = "" }, "an assumption is empty"},
		{"an assumption about nowhere", func(p *region.Preparation) { p.Assumptions[0].Pointer = "site" }, `points to "site", which is no JSON pointer`},
	} {
		t.Run(row.what, func(t *testing.T) {
			s := site(t)
			s.Areas = []region.Area{{Area: model.Area{ID: "attic", Kind: "floor"}}}
			p, err := oakshire.New().Prepare(background, s)
			require.NoError(t, err)
			row.spoil(p)
			holds(t, host.CheckPreparation(s, p), row.says)
		})
	}
}

func TestAnswerIsHeldToTheContract(t *testing.T) {
	for _, row := range []struct {
		what  string
		spoil func(*region.Derived)
		says  string
	}{
		{"a sound one passes", func(*region.Derived) {}, ""},
		{"another sequence", func(d *region.Derived) { d.Sequence = 3 }, "it answers batch 3 instead of 0"},
		{"a piece left out", func(d *region.Derived) { d.ID = d.ID[1:] }, "it answers 2 pieces and was asked about 3"},
		{"a piece twice", func(d *region.Derived) { d.ID = []int32{0, 0, 2} }, "it answers piece 0 in the place of piece 1"},
		{"a piece too many", func(d *region.Derived) { d.ID = append(slices.Clone(d.ID), 3) }, "it answers 4 pieces and was asked about 3"},
		{"a value left out", func(d *region.Derived) { d.Value = d.Value[1:] }, "it gives 14 values instead of 15"},
		{"a column left out", func(d *region.Derived) { d.Contact = nil }, "it gives 0 contacts instead of 15"},
		{"a value that is not a number", func(d *region.Derived) { d.Value[0] = math.NaN() }, "oak.bending of piece 0 is NaN"},
		{"a value that is infinite", func(d *region.Derived) { d.Value[6] = math.Inf(1) }, "oak.shear of piece 1 is +Inf"},
		{"half a truth", func(d *region.Derived) { d.Value[4] = 0.5 }, "oak.stocky of piece 0 is a truth of 0.5"},
		{"a reason without words", func(d *region.Derived) { d.Reason[0] = 1; d.Reasons = append(d.Reasons, "") }, `reason 1 is ""`},
		{"a reason that is not listed", func(d *region.Derived) { d.Reason[0] = 9 }, "oak.bending of piece 0 is absent for reason 9, and there are 1"},
		{"a reason below zero", func(d *region.Derived) { d.Reason[0] = -1 }, "absent for reason -1"},
		{"a reason that rings the bell", func(d *region.Derived) { d.Reason[0] = 1; d.Reasons = append(d.Reasons, "no\a") }, "a reason has characters that cannot be printed"},
		{"no reasons at all", func(d *region.Derived) { d.Reasons = nil }, "it lists no reasons"},
		{"a combination that does not exist", func(d *region.Derived) { d.Combination[0] = 10 }, "governed by combination 10, and there are 10"},
		{"a contact of another piece", func(d *region.Derived) { d.Contact[2] = 2 }, "governed by contact 2, and it has 2"},
		{"a place that is not a number", func(d *region.Derived) { d.At[0] = math.NaN() }, "oak.bending of piece 0 is governed at NaN"},
		{"working that nobody asked for", func(d *region.Derived) { d.Working = []region.Step{{Symbol: "M"}} }, "it lists 1 steps of working that were not asked for"},
		{"working of no piece", func(d *region.Derived) { d.Working = []region.Step{{Symbol: "M", Piece: 7}} }, "a step of working is about piece 7 and fact 0"},
		{"working without a symbol", func(d *region.Derived) { d.Working = []region.Step{{}} }, "the symbol of a step is empty"},
		{"working that is infinite", func(d *region.Derived) { d.Working = []region.Step{{Symbol: "M", Value: math.Inf(1)}} }, "M is +Inf"},
	} {
		t.Run(row.what, func(t *testing.T) {
			s := site(t)
			p, err := oakshire.New().Prepare(background, s)
			require.NoError(t, err)
			d, err := oakshire.New().Describe(background)
			require.NoError(t, err)
			for b := range batches(s, p, 1, 3) {
				answer, err := oakshire.New().Derive(background, b)
				require.NoError(t, err)
				row.spoil(answer)
				holds(t, host.CheckDerived(d, b, answer), row.says)
			}
		})
	}
}

func TestSpanIsHeldToTheContract(t *testing.T) {
	for _, row := range []struct {
		what string
		span region.Span
		says string
	}{
		{"a span and what governs it", region.Span{Span: 3000, Governs: "bending"}, ""},
		{"no span and the reason", region.Span{Reason: "the grade is unknown"}, ""},
		{"neither", region.Span{}, "the reason why there is no span is empty"},
		{"a span that nothing governs", region.Span{Span: 3000}, "what governs the span is empty"},
		{"both", region.Span{Span: 3000, Governs: "bending", Reason: "none"}, "a span of 3000 mm and a reason why there is none"},
		{"a span below zero", region.Span{Span: -1, Reason: "none"}, "the span is -1"},
		{"a span without end", region.Span{Span: math.Inf(1), Governs: "nothing"}, "the span is +Inf"},
		{"a note without words", region.Span{Span: 1, Governs: "bending", Notes: []string{""}}, "a note is empty"},
	} {
		t.Run(row.what, func(t *testing.T) { holds(t, host.CheckSpan(&row.span), row.says) })
	}
}

func holds(t *testing.T, err error, says string) {
	t.Helper()
	if says == "" {
		assert.NoError(t, err)
		return
	}
	assert.ErrorContains(t, err, says)
}

func TestComplaintsAreAllCollectedUpToALimit(t *testing.T) {
	d := &region.Description{Facts: make([]vocabulary.Fact, 200)}
	err := host.CheckDescription(d)
	require.Error(t, err)
	assert.Len(t, strings.Split(err.Error(), "\n"), 20)
}

func BenchmarkCheckDerived(b *testing.B) {
	s := site(b)
	p, err := oakshire.New().Prepare(background, s)
	require.NoError(b, err)
	d, err := oakshire.New().Describe(background)
	require.NoError(b, err)
	batch := kit.Batch(s, p, joists(10_000), nil)
	answer, err := oakshire.New().Derive(background, batch)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		if err := host.CheckDerived(d, batch, answer); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/10_000, "ns/piece")
}
