package frame_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
)

// before holds the order to its promise: each piece once, before all that it rests on; of a couple both rafters before
// what either rests on.
func before(t testing.TB, f *frame.Frame) {
	t.Helper()
	place := make([]int, len(f.Pieces))
	for i := range place {
		place[i] = -1
	}
	for k, piece := range f.Order {
		require.Equal(t, -1, place[piece], "%s stands in the order twice", f.Name(piece))
		place[piece] = k
	}
	for i := range f.Supports {
		s := &f.Supports[i]
		if s.On < 0 || s.Against || place[s.On] < 0 || f.Member(s.Piece).Ground {
			continue
		}
		sources := []int32{s.Piece}
		if c := f.CoupleOf(s.Piece); c != nil {
			sources = c.Rafters[:]
		}
		for _, piece := range sources {
			require.Less(t, place[piece], place[s.On], "%s before %s", f.Name(piece), f.Name(s.On))
		}
	}
}

// rests is members that rest on each other by name alone: "A:B,C" is A on B and on C; with "!" it stands on the ground.
func rests(list ...string) string {
	var b strings.Builder
	for k, text := range list {
		mark, on, _ := strings.Cut(text, ":")
		if k > 0 {
			b.WriteString(",")
		}
		on, ground := strings.CutSuffix(on, "!")
		fmt.Fprintf(&b, `%q: {"role": "beam", "length": 1000, "ground": %t, "supports": [`, mark, ground)
		for j, name := range strings.FieldsFunc(on, func(r rune) bool { return r == ',' }) {
			if j > 0 {
				b.WriteString(",")
			}
			fmt.Fprintf(&b, `{"on": %q, "at": %d}`, name, j*1000)
		}
		b.WriteString("]}")
	}
	return b.String()
}

func TestCirclesAreNamedAndTheRestIsOrdered(t *testing.T) {
	for _, row := range []struct {
		say     string
		list    []string
		circles [][]string // each begun at its first mark in order of the alphabet
		ordered []string   // in order of the alphabet
	}{
		{"a chain has none", []string{"A:B", "B:C", "C:"}, nil, []string{"A", "B", "C"}},
		{"two on each other", []string{"A:B", "B:A"}, [][]string{{"A", "B"}}, nil},
		{"three round, as each rests on the next", []string{"A:C", "C:B", "B:A"}, [][]string{{"A", "C", "B"}}, nil},
		{"what rests on a circle and what lies under it are ordered", []string{"T:A", "A:B", "B:A,U", "U:W", "W:"}, [][]string{{"A", "B"}}, []string{"T", "U", "W"}},
		{"what lies under it and under others too", []string{"A:B", "B:A,U", "X:U", "U:W", "W:"}, [][]string{{"A", "B"}}, []string{"U", "W", "X"}},
		{"two circles apart", []string{"A:B", "B:A", "C:D", "D:E", "E:C", "F:"}, [][]string{{"A", "B"}, {"C", "D", "E"}}, []string{"F"}},
		{"one circle upon another", []string{"A:B", "B:A,M", "M:C", "C:D", "D:C"}, [][]string{{"A", "B"}, {"C", "D"}}, []string{"M"}},
		{"two circles through one member are one knot", []string{"A:B,C", "B:A", "C:A"}, [][]string{{"A", "B", "C"}}, nil},
		{"on itself: the support names no other", []string{"A:A", "B:A"}, nil, []string{"A", "B"}},
		{"what stands on the ground rests on nothing else", []string{"A:B", "B:A!"}, nil, []string{"A", "B"}},
		{"twice on one", []string{"A:B,B", "B:"}, nil, []string{"A", "B"}},
	} {
		t.Run(row.say, func(t *testing.T) {
			f := assemble(t, rests(row.list...))
			before(t, f)
			assert.Equal(t, row.circles, circles(f))
			assert.Equal(t, row.ordered, ordered(f))
			for _, c := range f.Circles {
				for k := range c {
					if len(row.circles) == 1 && len(row.circles[0]) == 3 && row.list[0] == "A:B,C" {
						continue // a knot has no one way round
					}
					assert.True(t, restsOn(f, c[k], c[(k+1)%len(c)]), "each rests on the next")
				}
			}
		})
	}
}

func restsOn(f *frame.Frame, member, on int32) bool {
	from, to := f.PiecesOf(member)
	for p := from; p < to; p++ {
		supports, _ := f.SupportsOf(p)
		for k := range supports {
			if s := &supports[k]; s.On >= 0 && f.Pieces[s.On].Member == on {
				return true
			}
		}
	}
	return false
}

// circles is the marks of each circle, turned so that the first in the alphabet leads.
func circles(f *frame.Frame) [][]string {
	var out [][]string
	for _, c := range f.Circles {
		var marks []string
		for _, m := range c {
			marks = append(marks, f.Document.Members[m].Mark)
		}
		first := slices.Index(marks, slices.Min(marks))
		out = append(out, slices.Concat(marks[first:], marks[:first]))
	}
	slices.SortFunc(out, slices.Compare[[]string])
	return out
}

func ordered(f *frame.Frame) []string {
	var out []string
	for _, piece := range f.Order {
		out = append(out, f.Name(piece))
	}
	slices.Sort(out)
	return out
}

// A rafter waits for what lands on its partner: the couple is solved as one.
func TestCirclesThroughCouples(t *testing.T) {
	wall := `, "WL": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 9000, 0]]}, "WR": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 9000, 0]]}`
	for _, row := range []struct {
		say     string
		members string
		circles [][]string
		ordered []string
	}{
		{"a beam that lies on one rafter and bears the other's foot",
			`"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WL"}, {"against": "R"}]},
			"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "B"}, {"against": "L"}]},
			"B": {"role": "beam", "path": [[8000, 0, 0], [0, 0, 0]], "supports": [{"on": "WR"}, {"on": "L"}]}` + wall,
			[][]string{{"B", "L", "R"}}, []string{"WL", "WR"}},
		{"a circle of one rafter leaves its partner unsolved, and what lies under that is ordered",
			`"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "X"}, {"against": "R"}]},
			"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WR"}, {"against": "L"}]},
			"X": {"role": "beam", "path": [[0, -500, 0], [0, 500, 0]], "supports": [{"on": "L"}, {"on": "WL"}]}` + wall,
			[][]string{{"L", "X"}}, []string{"R", "WL", "WR"}},
		{"what waits for a circle alone is not in it",
			`"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WL"}, {"against": "R"}]},
			"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WR"}, {"against": "L"}]},
			"X": {"role": "beam", "path": [[2000, 0, 1500], [2000, 500, 1500]], "supports": [{"on": "L"}, {"on": "Y"}]},
			"Y": {"role": "beam", "path": [[2000, 500, 1500], [3000, 500, 1500]], "supports": [{"on": "X"}]}` + wall,
			[][]string{{"X", "Y"}}, []string{"L", "R", "WL", "WR"}},
	} {
		t.Run(row.say, func(t *testing.T) {
			f := assemble(t, row.members)
			before(t, f)
			assert.Equal(t, row.circles, circles(f))
			assert.Equal(t, row.ordered, ordered(f))
		})
	}
}

// beams is a random floor: beams on beams and on two walls. Each rests on beams that come later, so that there is no
// circle, unless tangled.
func beams(r *rand.Rand, n int, tangled bool) *model.Document {
	doc := &model.Document{}
	for i := range n {
		x, y := float64(r.IntN(20))*500, float64(r.IntN(20))*500
		m := model.Member{Mark: fmt.Sprintf("B%d", i), Role: model.RoleBeam, Path: []model.Point{{X: x, Y: y}, {X: x + 500 + float64(r.IntN(9))*500, Y: y}}}
		if r.IntN(2) == 0 {
			m.Path[1] = model.Point{X: x, Y: y + 500 + float64(r.IntN(9))*500}
		}
		if r.IntN(4) == 0 {
			m.Repeat = model.Repeat{Count: 1 + r.IntN(5), Step: model.Point{X: 600 * float64(r.IntN(3)-1), Y: 600 * float64(r.IntN(3)-1)}}
		}
		for range 1 + r.IntN(3) {
			on := "W"
			switch {
			case tangled:
				on = fmt.Sprintf("B%d", r.IntN(n))
			case i+1 < n && r.IntN(5) > 0:
				on = fmt.Sprintf("B%d", i+1+r.IntN(n-i-1))
			}
			m.Supports = append(m.Supports, model.Support{On: on})
		}
		doc.Add(m)
	}
	doc.Add(model.Member{Mark: "W", Role: model.RoleWall, Ground: true, Path: []model.Point{{}, {X: 1e4}}})
	return doc
}

func TestRandomFramesAreOrdered(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 11))
	for k := range 300 {
		tangled := k%3 == 0
		f := frame.Assemble(beams(r, 1+r.IntN(40), tangled), frame.After)
		before(t, f)
		if !tangled {
			require.Len(t, f.Order, len(f.Pieces))
			require.Empty(t, f.Circles)
			continue
		}
		left := map[int32]bool{}
		for i := range f.Pieces {
			left[f.Pieces[i].Member] = true
		}
		in := map[int32]bool{}
		for _, c := range f.Circles {
			for _, m := range c {
				in[m] = true
			}
		}
		done := map[int32]bool{}
		for _, piece := range f.Order {
			done[piece] = true
		}
		for i := range f.Pieces {
			require.True(t, done[int32(i)] || in[f.Pieces[i].Member], "%s is neither ordered nor in a circle", f.Name(int32(i)))
		}
	}
}

// The order of the document is no part of the frame: written backwards it gives the same supports.
func TestWrittenBackwardsTheGraphIsTheSame(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	graph := func(doc *model.Document) map[string][]string {
		f := frame.Assemble(doc, frame.After)
		out := map[string][]string{}
		for i := range f.Pieces {
			supports, _ := f.SupportsOf(int32(i))
			name := f.Name(int32(i))
			out[name] = nil
			for k := range supports {
				s := &supports[k]
				out[name] = append(out[name], fmt.Sprintf("%s at %.4f on %.4f off %.4f past %.4f", on(f, s), s.At, s.OnAt, s.Offset, s.LandsPast))
			}
		}
		out["circles"] = nil
		for _, c := range f.Circles {
			marks := []string{}
			for _, m := range c {
				marks = append(marks, doc.Members[m].Mark)
			}
			slices.Sort(marks)
			out["circles"] = append(out["circles"], strings.Join(slices.Compact(marks), " "))
		}
		slices.Sort(out["circles"])
		return out
	}
	for k := range 100 {
		doc := beams(r, 1+r.IntN(30), k%2 == 0)
		back := &model.Document{}
		for i := len(doc.Members) - 1; i >= 0; i-- {
			back.Add(doc.Members[i])
		}
		require.Equal(t, graph(doc), graph(back))
	}
}
