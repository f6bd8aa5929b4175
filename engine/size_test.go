package engine_test

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
	"example.com/scantling/model/draft"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/region"
)

// Each option, offered or refused, is put into the document and the whole is checked from scratch: the same rules fail at
// the same places, and what is offered fails none.
func TestOptionsAreThoseOfACheckFromScratch(t *testing.T) {
	timber := func(sections ...string) (out []sizing.Stock) {
		for _, s := range sections {
			out = append(out, sizing.Stock{Section: s, Grades: []string{"C16", "C24"}, Lengths: []float64{3000, 4200}})
		}
		return out
	}
	for _, row := range []struct {
		mark             string
		stock            []sizing.Stock
		offered, refused bool // whether there are any
	}{
		{"RN", timber("47x145"), true, true},
		{"GJ1", timber("47x95", "47x195"), true, true},
		{"GT2", timber("47x95", "47x220"), true, true},
		{"GB1", timber("47x170", "47x195"), true, true},
		{"P2", timber("47x95", "95x95"), true, true},
		{"RB1", []sizing.Stock{{Section: "115x225", Grades: []string{"GL24h"}}, {Section: "115x315", Grades: []string{"GL24h"}, Lengths: []float64{3000}},
			{Section: "140x315", Grades: []string{"GL24h"}, Lengths: []float64{6000}}}, true, true},
	} {
		t.Run(row.mark, func(t *testing.T) {
			t.Parallel()
			s := fixture.Served(t, "GB-ENG", eurocode.New())
			src := fixture.Demo(t)
			c, err := s.Size(context.Background(), src, row.mark, engine.SizeOptions{Stock: row.stock})
			require.NoError(t, err)
			require.Empty(t, c.Incomplete)
			assert.Equal(t, row.offered, len(c.Offered) > 0)
			assert.Equal(t, row.refused, len(c.Refused) > 0)
			fromScratch(t, s, src, c)
		})
	}
}

// Any member of any drafted roof or floor, with an option that is hardly right and one that is far too much.
func TestOptionsOfDraftsAreThoseOfACheckFromScratch(t *testing.T) {
	s := fixture.Served(t, "GB-ENG", eurocode.New())
	r := rand.New(rand.NewPCG(31, 4))
	tried := 0
	for i := range 14 {
		o := draftOptions(r, draft.Kinds[i%len(draft.Kinds)].Kind)
		o.Units = model.Metric
		d, err := draft.Make(o)
		require.NoError(t, err)
		d.Site.Region = "GB-ENG"
		src := fixture.Source(t, "draft.json", string(read.Write(d)))
		var marks []string
		for _, m := range src.Document.Members {
			if m.Section != nil {
				marks = append(marks, m.Mark)
			}
		}
		c, err := s.Size(context.Background(), src, marks[r.IntN(len(marks))], engine.SizeOptions{Any: true, Stock: []sizing.Stock{
			{Section: "50x150", Grades: []string{"C24"}}, {Section: "75x300", Grades: []string{"C24"}}}})
		require.NoError(t, err)
		require.Empty(t, c.Incomplete)
		fromScratch(t, s, src, c)
		tried += c.Tried
	}
	assert.Greater(t, tried, 10)
}

// fromScratch holds every option against a check of the whole with it in place.
func fromScratch(t *testing.T, s *engine.Session, src *engine.Source, c *sizing.Choice) {
	t.Helper()
	before := against(t, s, src, c.Mark, nil)
	standing := map[string]bool{}
	for _, f := range c.Standing {
		standing[f.Rule+" "+f.Member] = true
	}
	for _, o := range slices.Concat(c.Offered, c.Refused) {
		doc, err := engine.Swap(src.Document, c.Mark, o)
		require.NoError(t, err)
		want := against(t, s, fixture.Source(t, "swapped.json", string(read.Write(doc))), c.Mark, before)
		want = slices.DeleteFunc(want, func(line string) bool { return standing[strings.SplitN(line, ":", 2)[0]] })
		var got []string
		for _, f := range o.Failing {
			if f.Rule != "stock" {
				got = append(got, line(f.Rule, f.Member, f.Outcome, f.Message))
			}
		}
		slices.Sort(got)
		assert.ElementsMatch(t, want, slices.Compact(got), "%s of %s: %s %s at %.0f", c.Mark, src.Document.Title, o.Section, o.Grade, o.Centres.Value)
	}
}

// against is what speaks against a frame, from scratch: all findings on the member, and those on others that were not
// there before. With before nil it is those on others.
func against(t *testing.T, s *engine.Session, src *engine.Source, mark string, before []string) []string {
	t.Helper()
	r, err := s.Check(context.Background(), src, engine.Options{})
	require.NoError(t, err)
	var out []string
	for _, f := range r.Result.Findings {
		switch id := f.ID + string(f.Outcome); {
		case f.Severity == finding.Note:
		case before == nil && f.Member != mark:
			out = append(out, id)
		case before != nil && (f.Member == mark || !slices.Contains(before, id)):
			out = append(out, line(f.Rule, f.Member, f.Outcome, f.Message))
		}
	}
	slices.Sort(out)
	if before == nil && out == nil {
		return []string{}
	}
	return slices.Compact(out)
}

func line(rule, member string, outcome finding.Outcome, message string) string {
	return fmt.Sprintf("%s %s: %s: %s", rule, member, outcome, message)
}

// The run is 9 pieces at 400 mm, 3200 mm from the first to the last: at most 600 mm apart are 7 pieces at 533 mm, which
// carry strips as wide.
func TestCentresKeepTheRun(t *testing.T) {
	src := fixture.Demo(t)
	doc, err := engine.Swap(src.Document, "RN", sizing.Option{Section: "47x145", Grade: "C24", Centres: model.Given(600)})
	require.NoError(t, err)
	m := doc.Member("RN")
	assert.Equal(t, 7, m.Repeat.Count)
	assert.InDelta(t, 3200, m.Repeat.Step.X*6, 1e-9)
	assert.InDelta(t, 3200.0/6, m.Centres.Value, 1e-9)
	assert.InDelta(t, 3200.0/6, m.Carries[0].Width.Value, 1e-9)
	assert.Equal(t, 9, src.Document.Member("RN").Repeat.Count, "the document itself stays as it is")
}

// A joist on seats keeps its underside: 50 mm deeper lifts the axis by 25 mm. A rafter at 35 degrees lifts it upright by
// 25 mm over the cosine.
func TestUndersideStaysOnItsSeats(t *testing.T) {
	src := fixture.Demo(t)
	doc, err := engine.Swap(src.Document, "GJ1", sizing.Option{Section: "47x245", Grade: "C24"})
	require.NoError(t, err)
	assert.InDelta(t, src.Document.Member("GJ1").Path[0].Z+25, doc.Member("GJ1").Path[0].Z, 1e-9)
	doc, err = engine.Swap(src.Document, "RN", sizing.Option{Section: "47x195", Grade: "C24"})
	require.NoError(t, err)
	assert.InDelta(t, src.Document.Member("RN").Path[0].Z+25/math.Cos(35*math.Pi/180), doc.Member("RN").Path[0].Z, 0.01)
}

func TestMarksOfTheChoice(t *testing.T) {
	c, err := fixture.Served(t, "GB-ENG", eurocode.New()).Size(context.Background(), fixture.Demo(t), "GJ1", engine.SizeOptions{Stock: []sizing.Stock{
		{Section: "47x120", Grades: []string{"C16"}, Price: model.Given(1)},
		{Section: "47x195", Grades: []string{"C16"}, Price: model.Given(4), Lengths: []float64{3000}},
		{Section: "75x145", Grades: []string{"C16"}, Price: model.Given(5)},
	}})
	require.NoError(t, err)
	require.Len(t, c.Offered, 2)
	assert.Equal(t, []sizing.Merit{sizing.Lightest, sizing.Cheapest}, c.Offered[0].Best)
	assert.Equal(t, []sizing.Merit{sizing.Shallowest}, c.Offered[1].Best)
	assert.InDelta(t, 4*3.0, c.Offered[0].Price.Value, 1e-9, "a piece of 2.4 m is cut from one of 3 m")
	require.Len(t, c.Refused, 1)
	require.NotEmpty(t, c.Below)
	assert.Equal(t, "47x120", c.Below[0].Option.Section)
	assert.Contains(t, c.Below[0].Option.Failing[0].Rule, "eurocode/")
	assert.NotNil(t, c.Below[0].Option.Failing[0].Found)
}

func TestWhatHasNoSizeToChoose(t *testing.T) {
	s := fixture.Served(t, "GB-ENG", eurocode.New())
	for _, row := range []struct{ name, mark, says string }{
		{"a mark that is not there", "XX1", "no member XX1"},
		{"a wall", "WX1", "states no section"},
		{"what stood before the work", "OR1", "states no section"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := s.Size(context.Background(), fixture.Demo(t), row.mark, engine.SizeOptions{})
			require.ErrorContains(t, err, row.says)
		})
	}
	neutral := engine.NewSession(nil, nil)
	defer neutral.Close()
	c, err := neutral.Size(context.Background(), fixture.Demo(t), "GJ1", engine.SizeOptions{})
	require.NoError(t, err)
	assert.Empty(t, c.Offered, "nothing is offered that nobody has checked")
	assert.NotEmpty(t, c.Incomplete)
}

// unwilling is a region that answers no batch.
type unwilling struct{ region.Region }

func (unwilling) Derive(context.Context, *region.Batch) (*region.Derived, error) {
	return nil, errors.New("not today")
}

func TestARegionThatFailsOffersNothingAndIsSaidOnce(t *testing.T) {
	c, err := fixture.Served(t, "GB-ENG", unwilling{eurocode.New()}).Size(context.Background(), fixture.Demo(t), "GJ1", engine.SizeOptions{})
	require.NoError(t, err)
	assert.Empty(t, c.Offered)
	assert.Equal(t, []string{"region region, derive: not today"}, c.Incomplete)
}

func TestRankingIsByTheWorstRatio(t *testing.T) {
	r, err := fixture.Served(t, "GB-ENG", eurocode.New()).Rank(context.Background(), fixture.Demo(t), engine.Options{})
	require.NoError(t, err)
	require.Greater(t, len(r.Members), 20)
	assert.True(t, slices.IsSortedFunc(r.Members, func(a, b sizing.Ranked) int { return -cmp.Compare(a.Use, b.Use) }))
	for _, m := range r.Members {
		assert.NotEmpty(t, m.Governs)
		assert.Positive(t, m.Use)
	}
}

// A beam bears on a wall whose strength is just enough. Heavier joists beside it are too much for the wall, though nothing of the
// beam itself changes: what else stands on a wall is part of what its bearings are held against.
func TestSizeReachesWhatStandsOnTheSameWall(t *testing.T) {
	wall := func(mark string, y int, loads string) string {
		return fmt.Sprintf(`%q: {"role": "wall", "material": "masonry", "width": 100, "height": 2400, "weight": 2, "ground": true, "path": [[0, %[2]d, 2400], [4000, %[2]d, 2400]],
			"masonry": {"unit": "concrete", "group": 1, "strength": 7.3, "mortar": 4, "class": "II", "leaf": "solid"}%[3]s}`, mark, y, loads)
	}
	const supports = `"supports": [{"on": "W1", "bearing": 100, "by": "seat"}, {"on": "W2", "bearing": 100, "by": "seat"}]`
	src := fixture.Source(t, "wall.json", `{"framing": 1, "title": "joists beside a beam", "site": {"region": "GB-ENG", "service_class": 1},
		"areas": {"floor": {"kind": "floor", "dead": 0.5, "imposed": 1.5}}, "members": {`+wall("W1", 0, `, "loads": [{"action": "dead", "line": 47.62}]`)+`, `+wall("W2", 4000, "")+`,
		"J": {"role": "floor joist", "section": "47x195", "grade": "C24", "centres": 400, "path": [[200, 0, 2497.5], [200, 4000, 2497.5]], "repeat": {"count": 5, "step": [400, 0, 0]},
			"carries": ["floor"], "restraint": {"top": "full"}, `+supports+`},
		"B": {"role": "beam", "section": "203x133x25 UB", "grade": "S275", "path": [[2200, 0, 2501.6], [2200, 4000, 2501.6]], "restraint": {"top": "full"}, `+supports+`,
			"loads": [{"action": "imposed", "line": 3}]}}}`)
	s := fixture.Served(t, "GB-ENG", eurocode.New())
	c, err := s.Size(context.Background(), src, "J", engine.SizeOptions{Stock: []sizing.Stock{{Section: "75x220", Grades: []string{"C24"}, Lengths: []float64{4800}}}})
	require.NoError(t, err)
	found := false
	for _, o := range slices.Concat(c.Offered, c.Refused) {
		for _, f := range o.Failing {
			found = found || f.Rule == "eurocode/masonry-bearing" && f.Member == "B"
		}
	}
	assert.True(t, found, "%+v", c)
}

// A rafter rests on the end of a beam that runs on beneath it, and on a ridge that it loads nearly as much as that holds. A
// shallower beam meets the rafter further down, so that more of it comes to the ridge.
func TestSizeReachesWhatElseCarriesWhatRestsOnTheMember(t *testing.T) {
	wall := func(mark string, x0, y0, x1, y1, top float64) string {
		return fmt.Sprintf(`%q: {"role": "wall", "material": "masonry", "width": 140, "ground": true, "path": [[%g, %g, %g], [%g, %g, %[4]g]]}`, mark, x0, y0, top, x1, y1)
	}
	src := fixture.Source(t, "ridge.json", `{"framing": 1, "title": "a rafter on the end of a beam", "site": {"region": "GB-ENG", "service_class": 1}, "members": {
		`+wall("W1", -300, -3000, 300, -3000, 2400)+`, `+wall("W2", -300, 500, 300, 500, 2400)+`, `+wall("W3", -1500, 2200, -1500, 2600, 3915)+`, `+wall("W4", 1500, 2200, 1500, 2600, 3915)+`,
		"B": {"role": "beam", "section": "90x315", "grade": "GL24h", "path": [[0, -3000, 2557.5], [0, 500, 2557.5]], "restraint": {"top": "full"},
			"supports": [{"on": "W1", "bearing": 140, "by": "seat"}, {"on": "W2", "bearing": 140, "by": "seat"}]},
		"RB": {"role": "ridge beam", "section": "75x225", "grade": "C24", "path": [[-1500, 2400, 4027.5], [1500, 2400, 4027.5]], "restraint": {"top": "full"},
			"supports": [{"on": "W3", "bearing": 140, "by": "seat"}, {"on": "W4", "bearing": 140, "by": "seat"}]},
		"R": {"role": "rafter", "section": "75x300", "grade": "C24", "path": [[0, 0, 2347.5], [0, 2400, 4027.5]], "restraint": {"top": "full"},
			"loads": [{"action": "imposed", "line": 5.6}], "supports": [{"on": "B", "bearing": 90, "by": "seat"}, {"on": "RB", "bearing": 75, "by": "seat"}]}}}`)
	s := fixture.Served(t, "GB-ENG", eurocode.New())
	c, err := s.Size(context.Background(), src, "B", engine.SizeOptions{Stock: []sizing.Stock{{Section: "115x225", Grades: []string{"GL24h"}}}})
	require.NoError(t, err)
	fromScratch(t, s, src, c)
	found := false
	for _, o := range c.Refused {
		found = found || slices.ContainsFunc(o.Failing, func(f sizing.Failure) bool { return f.Member == "RB" && f.Rule == "eurocode/bending" })
	}
	assert.True(t, found, "%+v", c.Refused)
}
