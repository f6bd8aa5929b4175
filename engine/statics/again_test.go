package statics_test

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// A load is put on one member of the reading room, or its run is spaced otherwise, and the frame is taken down again from
// what is finished: every reaction, every ground load and every sum is that of a take-down from scratch.
func TestAgainIsTheSameAsFromScratch(t *testing.T) {
	text, err := os.ReadFile("../../testdata/quillmere.json")
	require.NoError(t, err)
	doc, problems := read.Document(text, "quillmere.json")
	require.Empty(t, problems)
	input := func(doc *model.Document) *statics.Input {
		in := &statics.Input{Frame: frame.Assemble(doc, frame.After), Cases: statics.DefaultCases(doc), Materials: make([]statics.Material, len(doc.Members))}
		for i := range in.Materials {
			in.Materials[i] = statics.Material{E: 11000, G: 690, Density: 420e-9}
		}
		return in
	}
	base := statics.Run(input(doc))
	for _, row := range []struct {
		name, mark string
		change     func(*model.Member)
	}{
		{"a rafter of a run over two beds and a ridge beam", "RN", loaded},
		{"a joist beside a stair", "GJ4", loaded},
		{"a rafter of a couple, with its tie", "RS1", loaded},
		{"a tie of couples", "SC1", loaded},
		{"a bedded plate over a lintel", "WPN", loaded},
		{"a cranked steel", "ST1", loaded},
		{"a wall on a wall", "WX2U", loaded},
		{"a run with other spacing", "RN", func(m *model.Member) {
			m.Repeat = model.Repeat{Count: 5, Step: model.Point{X: 800}}
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			other := *doc
			other.Members = slices.Clone(doc.Members)
			row.change(&other.Members[doc.Index(row.mark)])
			in := input(&other)
			want, got := statics.Run(input(&other)), base.Again(in, sameAs(base.Frame, in.Frame, int32(doc.Index(row.mark))))
			for i := range in.Frame.Supports {
				for c := range in.Cases {
					sameForce(t, want.Reaction(int32(i), c), got.Reaction(int32(i), c))
				}
			}
			for p := range in.Frame.Pieces {
				for c := range in.Cases {
					sameForce(t, want.ArrivedAt(int32(p), c), got.ArrivedAt(int32(p), c))
				}
				assert.InDeltaSlice(t, want.Tension(int32(p)), got.Tension(int32(p)), 1e-6)
			}
			for c := range in.Cases {
				sameForce(t, want.Applied[c], got.Applied[c])
				sameForce(t, want.Arrived[c], got.Arrived[c])
			}
			assert.Less(t, got.Imbalance(), 1e-9)
			a, b := want.NewAnalyst(), got.NewAnalyst()
			for p := range in.Frame.Pieces {
				x, y := a.Effects(int32(p)), b.Effects(int32(p))
				for c := range x.Cases {
					assert.Equal(t, x.Cases[c].Acts, y.Cases[c].Acts, in.Frame.Name(int32(p)))
				}
			}
		})
	}
}

func loaded(m *model.Member) {
	m.Loads = append(slices.Clone(m.Loads), model.Load{Action: model.Dead, IsPoint: true, Point: 1000, At: 500})
}

// sameAs is the piece of the one frame that each piece of the other is the same as: all but a member and its couples, and
// what they rest on, hop by hop.
func sameAs(base, f *frame.Frame, member int32) []int32 {
	differs := map[int32]bool{}
	var down func(piece int32)
	down = func(piece int32) {
		m := f.Pieces[piece].Member
		if differs[m] {
			return
		}
		differs[m] = true
		from, to := f.PiecesOf(m)
		for p := from; p < to; p++ {
			supports, _ := f.SupportsOf(p)
			for k := range supports {
				if on := supports[k].On; on >= 0 {
					down(on)
				}
			}
			for i := range f.Couples {
				c := &f.Couples[i]
				in := c.Rafters[0] == p || c.Rafters[1] == p
				for _, tie := range c.Ties {
					in = in || tie.Piece == p
				}
				if !in {
					continue
				}
				down(c.Rafters[0])
				down(c.Rafters[1])
				for _, tie := range c.Ties {
					if tie.Piece >= 0 {
						down(tie.Piece)
					}
				}
			}
		}
	}
	from, _ := f.PiecesOf(member)
	down(from)
	out := make([]int32, len(f.Pieces))
	for i, p := range f.Pieces {
		out[i] = -1
		if !differs[p.Member] {
			first, _ := base.PiecesOf(p.Member)
			out[i] = first + p.Index
		}
	}
	return out
}

func sameForce(t *testing.T, want, got statics.Force) {
	t.Helper()
	assert.InDelta(t, want.X, got.X, 1e-6)
	assert.InDelta(t, want.Y, got.Y, 1e-6)
	assert.InDelta(t, want.Z, got.Z, 1e-6)
}
