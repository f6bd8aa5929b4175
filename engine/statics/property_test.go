package statics_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// demo is the reading room, read anew so that a test may change it.
func demo(t testing.TB) *model.Document {
	t.Helper()
	src, err := os.ReadFile(filepath.FromSlash("../../testdata/quillmere.json"))
	require.NoError(t, err)
	doc, problems := read.Document(src, "quillmere.json")
	require.Empty(t, problems)
	return doc
}

// reactions is every support's reaction, by member, piece, support and case.
func reactions(down *statics.TakeDown) map[string]statics.Force {
	out := map[string]statics.Force{}
	for i := range down.Frame.Supports {
		s := &down.Frame.Supports[i]
		_, first := down.Frame.SupportsOf(s.Piece)
		for c := range down.Cases {
			out[fmt.Sprintf("%s %d %s", down.Frame.Name(s.Piece), int32(i)-first, down.Cases[c].ID)] = down.Reaction(int32(i), c)
		}
	}
	return out
}

// same compares reactions after a turn of the model in plan by an angle, mirrored first where mirror is -1, times scale.
func same(t *testing.T, want, got map[string]statics.Force, angle, mirror, scale float64) {
	t.Helper()
	require.Equal(t, len(want), len(got))
	sin, cos := math.Sincos(angle)
	for k, w := range want {
		x, y := w.X, w.Y*mirror
		e := statics.Force{X: (x*cos - y*sin) * scale, Y: (x*sin + y*cos) * scale, Z: w.Z * scale}
		g := got[k]
		size := 1 + math.Abs(w.Z*scale)
		if math.Abs(e.X-g.X) > 1e-6*size || math.Abs(e.Y-g.Y) > 1e-6*size || math.Abs(e.Z-g.Z) > 1e-6*size {
			t.Fatalf("%s: want %v, got %v", k, e, g)
		}
	}
}

// change moves every point of a document.
func change(doc *model.Document, move func(model.Point) model.Point) {
	for i := range doc.Members {
		m := &doc.Members[i]
		for k := range m.Path {
			m.Path[k] = move(m.Path[k])
		}
		m.Repeat.Step = move(m.Repeat.Step)
		if d := m.Detail; d != nil && d.DepthAlong.Known {
			p := move(model.Point{X: math.Cos(d.DepthAlong.Value), Y: math.Sin(d.DepthAlong.Value)})
			d.DepthAlong.Value = math.Atan2(p.Y, p.X)
		}
	}
}

func TestTurningTheModelInPlanChangesNothing(t *testing.T) {
	want := reactions(statics.Run(input(demo(t))))
	for _, angle := range []float64{0.3, math.Pi / 2, 2.5} {
		doc := demo(t)
		sin, cos := math.Sincos(angle)
		change(doc, func(p model.Point) model.Point {
			return model.Point{X: p.X*cos - p.Y*sin, Y: p.X*sin + p.Y*cos, Z: p.Z}
		})
		same(t, want, reactions(statics.Run(input(doc))), angle, 1, 1)
	}
}

func TestMirroringTheModelMirrorsTheReactions(t *testing.T) {
	doc := demo(t)
	change(doc, func(p model.Point) model.Point { return model.Point{X: p.X, Y: -p.Y, Z: p.Z} })
	same(t, reactions(statics.Run(input(demo(t)))), reactions(statics.Run(input(doc))), 0, -1, 1)
}

func TestOrderOfMembersChangesNothing(t *testing.T) {
	want := reactions(statics.Run(input(demo(t))))
	r := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		doc := demo(t)
		members := append([]model.Member(nil), doc.Members...)
		r.Shuffle(len(members), func(i, j int) { members[i], members[j] = members[j], members[i] })
		shuffled := model.Document{Title: doc.Title, Site: doc.Site, Areas: doc.Areas, Grades: doc.Grades}
		for _, m := range members {
			shuffled.Add(m)
		}
		down := statics.Run(input(&shuffled))
		assert.Less(t, down.Imbalance(), 1e-12)
		same(t, want, reactions(down), 0, 1, 1)
	}
}

func TestLoadsScaleAndAddUp(t *testing.T) {
	scaled := func(dead, rest float64) map[string]statics.Force {
		doc := demo(t)
		doc.Weightless = true
		for i := range doc.Areas {
			for k := range doc.Areas[i].Loads {
				l := &doc.Areas[i].Loads[k]
				if l.Action == model.Dead {
					l.Value *= dead
				} else {
					l.Value *= rest
				}
			}
		}
		for i := range doc.Members {
			for k := range doc.Members[i].Loads {
				l := &doc.Members[i].Loads[k]
				f := rest
				if l.Action == model.Dead {
					f = dead
				}
				l.Point, l.First, l.Last = l.Point*f, l.First*f, l.Last*f
			}
		}
		return reactions(statics.Run(input(doc)))
	}
	whole := scaled(1, 1)
	same(t, whole, scaled(3, 3), 0, 1, 3)
	deadOnly, restOnly := scaled(1, 0), scaled(0, 1)
	for k, w := range whole {
		sum := deadOnly[k]
		sum.X, sum.Y, sum.Z = sum.X+restOnly[k].X, sum.Y+restOnly[k].Y, sum.Z+restOnly[k].Z
		assert.InDelta(t, w.Z, sum.Z, 1e-6*(1+math.Abs(w.Z)), k)
	}
}

// TestBalance holds in all three directions, for the demos with their faults too: what was applied has arrived, is held,
// or is said to have stopped.
func TestBalance(t *testing.T) {
	for _, name := range []string{"quillmere.json", "quillmere-faulty.json", "larkrun-porch.json"} {
		src, err := os.ReadFile(filepath.Join("..", "..", "testdata", name))
		require.NoError(t, err)
		doc, problems := read.Document(src, name)
		require.Empty(t, problems)
		for _, stage := range []frame.Stage{frame.After, frame.Before} {
			in := input(doc)
			in.Frame = frame.Assemble(doc, stage)
			assert.Less(t, statics.Run(in).Imbalance(), 1e-9, name)
		}
	}
}
