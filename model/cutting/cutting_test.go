package cutting

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/model/draft"
	"example.com/scantling/model/read"
)

const c24 = 420e-9 // kg/mm3: mean density of C24 by EN 338

func timber(*model.Member) float64 { return c24 }

// ends is a document with every kind of end cut.
func ends(t testing.TB) *model.Document {
	text, err := os.ReadFile("testdata/ends.json")
	require.NoError(t, err)
	d, problems := read.Document(text, "ends.json")
	require.Empty(t, problems)
	return d
}

// Each expected length is worked out by hand from the document's own figures.
func TestTrueLengthsFromTheEndsThatHoldThem(t *testing.T) {
	parts := byName(Make(ends(t), Options{Density: timber}))
	pitch := math.Atan2(5790.5-4005, 2550)
	for _, c := range []struct {
		what, name string
		length     float64
		cuts       [2]Cut
	}{
		{"a common rafter ends at the face of a ridge beam 90 broad", "RN", (2550 - 45) / math.Cos(pitch), [2]Cut{Plumb, Plumb}},
		{"a jack ends at the face of a hip 63 thick that crosses at 45 degrees", "J1S1", (750 - 31.5*math.Sqrt2) / math.Cos(pitch), [2]Cut{Plumb, Plumb}},
		{"a jack between valley and hip is cut back at both ends", "J6S2", (1200 - 2*31.5*math.Sqrt2) / math.Cos(pitch), [2]Cut{Plumb, Plumb}},
		{"a joist that bears 90 on walls of 140 reaches 20 past their centre lines", "GJ1", 2400 + 2*20, [2]Cut{Square, Square}},
		{"a joist from a hanger on a doubled trimmer to a seat on a wall", "GJ4", 1500 - 47 + 20, [2]Cut{Square, Square}},
		{"a post is as long as its path", "P1", 1619, [2]Cut{Square, Square}},
		{"a couple's rafter ends at the face of a board 38 thick", "RS1", (1500 - 19) / math.Cos(math.Atan2(3657.1-2398.5, 1500)), [2]Cut{Plumb, Plumb}},
		{"a wall plate runs from end to end", "WPN", 8500, [2]Cut{Square, Square}},
		{"the level part of a cranked steel ends on the mitre", "ST1 a", 1200 + 50, [2]Cut{Square, Mitre}},
		{"its sloping part goes on from there", "ST1 b", math.Hypot(1200, 840.2), [2]Cut{Mitre, Plumb}},
	} {
		p, ok := parts[c.name]
		require.True(t, ok, c.what)
		assert.InDelta(t, c.length, p.Length, 0.05, c.what) // the document rounds levels to 0.1 mm
		assert.Equal(t, c.cuts, [2]Cut{p.Ends[0].Cut, p.Ends[1].Cut}, c.what)
		assert.GreaterOrEqual(t, p.Blank, p.Length-1e-9, c.what)
	}
	steel := parts["ST1 a"]
	assert.InDelta(t, math.Atan2(840.2, 1200)/2, steel.Ends[1].Face, 1e-9, "the mitre halves the bend")
	rafter := parts["RN"]
	assert.InDelta(t, rafter.Length+145*math.Tan(pitch), rafter.Blank, 0.02, "two plumb cuts: the tips are a depth times the slope apart")
	require.Len(t, rafter.Seats, 1)
	assert.InDelta(t, 150/math.Cos(pitch), rafter.Seats[0].At, 0.02, "the seat is where the axis crosses the plate")
}

func TestPliesAreCutAndCountedSingly(t *testing.T) {
	parts := byName(Make(ends(t), Options{Density: timber}))
	p := parts["GT1"]
	assert.Equal(t, "47x195", p.Section)
	assert.Equal(t, 2, p.Count)
	assert.InDelta(t, 47*195*c24*p.Length, p.Mass.Value, 1e-9)
	assert.InDelta(t, 2*p.Mass.Value, p.Total.Value, 1e-9)
	assert.Equal(t, 9, parts["RN"].Count)
}

func TestWhatIsNotCutIsSaid(t *testing.T) {
	s := Make(ends(t), Options{})
	assert.Contains(t, s.Left, Left{"OR1", "it stands already"})
	for _, l := range s.Left {
		assert.NotEqual(t, "WN", l.Mark, "walls are built: nobody looks for them on a cutting list")
	}
	for _, p := range s.Parts {
		if p.Mark == "RN" {
			assert.False(t, p.Mass.Known)
			assert.Contains(t, p.Note, "its weight is not known")
		}
	}
}

func TestLiftingCautions(t *testing.T) {
	m := &model.Member{Section: model.NewRectangle(100, 200, 1)}
	for _, c := range []struct {
		what   string
		length float64
		want   string
	}{
		{"25 kg is one person's lift", 25 / (100 * 200 * c24), ""},
		{"a little more is two people's", 25.1 / (100 * 200 * c24), "two people"},
		{"50 kg still is", 50 / (100 * 200 * c24), "two people"},
		{"more is to be planned", 50.1 / (100 * 200 * c24), "more than two people: plan the lift"},
	} {
		p := Part{Plies: 1, Count: 1, Length: math.Floor(c.length*1e6) / 1e6}
		p.weigh(m, &Options{Density: timber, OneLifts: OneLifts, TwoLift: TwoLift})
		assert.Equal(t, c.want, p.Lift, c.what)
	}
}

func TestSteelAndWhatIsTooLongAreOrderedToLength(t *testing.T) {
	s := Make(ends(t), Options{})
	long := map[string]string{}
	for _, o := range s.Orders {
		for _, l := range o.Long {
			long[l.Mark] = l.Do
		}
	}
	assert.Equal(t, "made to length", long["ST1 a"])
	assert.Equal(t, "made to length", long["L1"], "a precast lintel")
	assert.Contains(t, long["WPN"], "splice", "8.5 m of plate")
}

func TestPlansCutEveryPieceOnceAndOverfillNoBar(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 300 {
		stock := Stock(model.Units(r.IntN(2)))
		longest := stock[len(stock)-1]
		pieces := make([]Piece, 1+r.IntN(60))
		for i := range pieces {
			pieces[i] = Piece{"P" + strconv.Itoa(i), math.Round(100 + r.Float64()*(longest-100))}
			if i > 0 && r.IntN(2) == 0 {
				pieces[i].Length = pieces[i-1].Length
			}
		}
		kerf := float64(r.IntN(6))
		bars := Plan(pieces, stock, kerf)
		cut := map[string]int{}
		total := 0.0
		for _, b := range bars {
			need := -kerf
			for _, p := range b.Pieces {
				cut[p.Mark]++
				need += p.Length + kerf
			}
			assert.LessOrEqual(t, need, b.Length+1e-6, "no bar is overfull")
			assert.InDelta(t, max(0, b.Length-need-kerf), b.Offcut, 1e-6)
			assert.Contains(t, stock, b.Length)
			total += b.Length
		}
		assert.Len(t, cut, len(pieces))
		for mark, n := range cut {
			assert.Equal(t, 1, n, mark)
		}
		assert.GreaterOrEqual(t, total, Bound(pieces, stock)-1e-6, "no plan beats the bound")
		assert.LessOrEqual(t, total, naive(pieces, stock, kerf)+1e-6, "never worse than first-fit")
	}
}

// naive is first-fit in the order given into the longest stock, each bar then shortened: the length ordered.
func naive(pieces []Piece, stock []float64, kerf float64) float64 {
	longest := stock[len(stock)-1]
	var used []float64
	for _, p := range pieces {
		placed := false
		for i := range used {
			if used[i]+kerf+p.Length <= longest {
				used[i] += kerf + p.Length
				placed = true
				break
			}
		}
		if !placed {
			used = append(used, p.Length)
		}
	}
	total := 0.0
	for _, u := range used {
		for _, l := range stock {
			if l >= u {
				total += l
				break
			}
		}
	}
	return total
}

// The least is found by trying every way to share bars: small enough to be sure.
func TestPlansOfFewPiecesAgainstEveryWayToCutThem(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	worse := 0
	for range 60 {
		stock := Stock(model.Metric)
		pieces := make([]Piece, 2+r.IntN(5))
		for i := range pieces {
			pieces[i] = Piece{strconv.Itoa(i), math.Round(300 + r.Float64()*4000)}
		}
		got := 0.0
		for _, b := range Plan(pieces, stock, 4) {
			got += b.Length
		}
		best := least(pieces, nil, stock, 4)
		assert.GreaterOrEqual(t, got, best-1e-6)
		assert.LessOrEqual(t, Bound(pieces, stock), best+1e-6, "the bound is one")
		assert.LessOrEqual(t, got, best*1.25)
		if got > best+1e-6 {
			worse++
		}
	}
	assert.Less(t, worse, 10, "most small plans cost no more than the best")
}

// least tries each piece in each open bar and in a new one.
func least(pieces []Piece, used []float64, stock []float64, kerf float64) float64 {
	if len(pieces) == 0 {
		total := 0.0
		for _, u := range used {
			fits := math.Inf(1)
			for _, l := range stock {
				if l >= u-1e-6 {
					fits = min(fits, l)
				}
			}
			total += fits
		}
		return total
	}
	best := math.Inf(1)
	for i := range used {
		used[i] += kerf + pieces[0].Length
		if used[i] <= stock[len(stock)-1] {
			best = min(best, least(pieces[1:], used, stock, kerf))
		}
		used[i] -= kerf + pieces[0].Length
	}
	return min(best, least(pieces[1:], append(used[:len(used):len(used)], pieces[0].Length), stock, kerf))
}

func TestListsOfDraftsAddUp(t *testing.T) {
	for _, k := range draft.Kinds {
		d, err := draft.Make(draft.Options{Kind: k.Kind})
		require.NoError(t, err)
		s := Make(d, Options{Density: timber})
		count, ordered := 0, 0
		for _, p := range s.Parts {
			assert.Greater(t, p.Length, 0.0, "%s of %s", p.Name(), k.Kind)
			assert.Less(t, p.Blank, p.Length+2*630, "%s of %s", p.Name(), k.Kind)
			count += p.Count
		}
		for _, o := range s.Orders {
			n := 0
			for _, b := range o.Bars {
				n += len(b.Pieces)
			}
			for _, l := range o.Long {
				n += l.Count
			}
			assert.Equal(t, o.Pieces, n, "%s %s of %s", o.Section, o.Grade, k.Kind)
			assert.GreaterOrEqual(t, o.Ordered, o.Bound)
			ordered += n
		}
		assert.Equal(t, count, ordered)
	}
}

func BenchmarkPlanOfTenThousandPieces(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	pieces := make([]Piece, 10000)
	for i := range pieces {
		pieces[i] = Piece{"P", math.Round(300 + r.Float64()*4000)}
	}
	b.ReportAllocs()
	for b.Loop() {
		Plan(pieces, Stock(model.Metric), Kerf)
	}
}
