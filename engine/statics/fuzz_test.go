package statics_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
)

// sketch draws a frame out of bytes: few members on a coarse grid, so that they meet, coincide, and rest on each other in
// every way that a document can say, and in some that reading refuses.
type sketch []byte

func (s *sketch) next() int {
	if len(*s) == 0 {
		return 0
	}
	b := (*s)[0]
	*s = (*s)[1:]
	return int(b)
}

// one of n.
func (s *sketch) of(n int) int { return s.next() % n }

// some is true once in n.
func (s *sketch) some(n int) bool { return s.of(n) == n-1 }

func (s *sketch) length() float64 {
	if s.some(16) {
		return [...]float64{0, 1e-3, 1e6, -500, 0.5, 1e9, 999.9999999, 7}[s.of(8)]
	}
	return float64(s.of(13)) * 250
}

func (s *sketch) quantity() model.Quantity {
	if s.some(2) {
		return model.Given(s.length())
	}
	return model.Quantity{}
}

func (s *sketch) point() model.Point {
	return model.Point{X: float64(s.of(9)) * 500, Y: float64(s.of(3)) * 500, Z: float64(s.of(5)) * 500}
}

func (s *sketch) load() model.Load {
	l := model.Load{Action: model.Actions[s.of(len(model.Actions))], IsPoint: s.some(2), PerPlan: s.some(3), Movable: s.some(8), Phase: model.Phase(s.of(8) % 3)}
	if l.IsPoint {
		l.Point, l.At = float64(s.of(9)-3)*500, s.length()
		return l
	}
	l.First = float64(s.of(9)-3) / 2
	l.Last = l.First
	if s.some(3) {
		l.Last = float64(s.of(9) - 3)
	}
	l.From, l.To = s.quantity(), s.quantity()
	return l
}

func (s *sketch) support(marks int) model.Support {
	u := model.Support{On: mark(s.of(marks + 1)), At: s.quantity(), Horizontal: s.some(4), Fixed: s.some(6)}
	switch s.of(8) {
	case 5:
		u.By = "hanger"
	case 6:
		u.Continuous, u.From, u.To = true, s.quantity(), s.quantity()
	case 7:
		u.On, u.Against = "", u.On
	}
	return u
}

func mark(i int) string { return fmt.Sprintf("M%d", i) }

var sketchedSections = []*model.Section{
	nil, model.NewRectangle(47, 195, 1), model.NewRectangle(47, 97, 2), model.Flat(model.NewRectangle(47, 97, 1)),
	{Text: "by its second moment", Shape: model.Properties, Iy: 1e7, Plies: 1},
	{Text: "by its area", Shape: model.Properties, Area: 9165, Plies: 1},
	model.NewLayered([]model.Layer{{Width: 47, Depth: 195, Grade: "C24"}, {Width: 10, Depth: 180, Grade: "unheard of"}}),
}

func (s *sketch) member(i, marks int) model.Member {
	m := model.Member{Mark: mark(i), Role: model.Roles[s.of(len(model.Roles))], Section: sketchedSections[s.of(len(sketchedSections))], Ground: s.some(3), Thrust: s.some(6),
		Phase: model.Phase(s.of(9) % 3)}
	switch s.of(9) {
	case 0:
		m.Length, m.Pitch = s.quantity(), model.Given(float64(s.of(5)-2)*math.Pi/4)
	case 1:
		m.Path = []model.Point{s.point(), s.point(), s.point()}
	case 2:
		m.Path = []model.Point{s.point(), s.point(), s.point(), s.point()}
	case 3: // a post
		p := s.point()
		m.Path = []model.Point{p, {X: p.X, Y: p.Y, Z: p.Z + 500*float64(1+s.of(4))}}
	case 4: // a slope across the span
		p := s.point()
		m.Path = []model.Point{p, {X: p.X + 2000, Y: p.Y, Z: p.Z + 1000}}
	case 5: // and its opposite
		p := s.point()
		m.Path = []model.Point{p, {X: p.X - 2000, Y: p.Y, Z: p.Z + 1000}}
	default:
		m.Path = []model.Point{s.point(), s.point()}
	}
	if s.some(4) {
		m.Repeat = model.Repeat{Count: s.of(4), Step: model.Point{X: float64(s.of(5)-2) * 500, Y: float64(s.of(3)-1) * 500, Z: float64(s.of(5)/4) * 500}}
	}
	for range s.of(4) {
		m.Supports = append(m.Supports, s.support(marks))
	}
	for range s.of(3) {
		m.Loads = append(m.Loads, s.load())
	}
	if s.some(3) {
		m.Carries = []model.Carry{{Area: [...]string{"roof", "wall", "none"}[s.of(3)], Width: s.quantity()}}
		m.Centres = s.quantity()
	}
	for range s.of(8) / 6 {
		m.Ties = append(m.Ties, model.TiedBy{On: mark(s.of(marks + 1)), At: s.quantity()})
	}
	if s.some(5) {
		m.Detail = &model.Detail{Height: s.quantity(), Weight: model.Given(2e-3), Packer: s.quantity()}
	}
	return m
}

func (s *sketch) document() *model.Document {
	doc := &model.Document{Weightless: s.some(2), Areas: []model.Area{
		{ID: "roof", Kind: "roof", Loads: []model.AreaLoad{{Action: model.Dead, Value: 75e-5}, {Action: model.Snow, Value: 6e-4}, {Action: model.Wind, Value: -6e-4}}},
		{ID: "wall", Kind: "roof", Pitch: model.Given(math.Pi / 2), Loads: []model.AreaLoad{{Action: model.Dead, Value: 5e-4}, {Action: model.Wind, Name: "side", Value: 8e-4}}},
	}}
	n := 1 + s.of(9)
	for i := range n {
		doc.Add(s.member(i, n))
	}
	if n > 2 && s.some(2) {
		s.couple(&doc.Members[0], &doc.Members[1], n)
	}
	return doc
}

// couple makes two members lean on each other, tied by whatever they happen to name.
func (s *sketch) couple(a, b *model.Member, marks int) {
	apex, run := s.point(), a.Repeat
	apex.Z += 2000
	for k, m := range []*model.Member{a, b} {
		out := float64(1+s.of(6)) * 500 * float64(1-2*k)
		m.Path = []model.Point{{X: apex.X - out, Y: apex.Y, Z: apex.Z - 250*float64(s.of(9))}, apex}
		if s.some(6) {
			m.Path = nil
			m.Length, m.Pitch = s.quantity(), model.Given(float64(s.of(5)-2)*math.Pi/8)
		}
		if s.some(4) {
			slices.Reverse(m.Path)
		}
		m.Role, m.Ground, m.Phase, m.Repeat = model.RoleRafter, s.some(12), model.New, run
		m.Supports = []model.Support{{On: mark(2 + s.of(marks-2))}, {Against: mark(1 - k)}}
		if s.some(4) {
			m.Supports[0] = s.support(marks)
		}
		if s.some(6) {
			m.Supports = append(m.Supports, s.support(marks))
		}
	}
}

func (s *sketch) input(doc *model.Document, stage frame.Stage) *statics.Input {
	in := &statics.Input{Frame: frame.Assemble(doc, stage), Cases: statics.DefaultCases(doc), Grades: map[string]statics.Material{"C24": {E: 11000, Density: 420e-9}}}
	for range doc.Members {
		in.Materials = append(in.Materials, [...]statics.Material{{E: 11000, G: 690, Density: 420e-9}, {}, {E: 210000, Density: 7850e-9}}[s.of(3)])
	}
	return in
}

// FuzzTakeDown holds whatever frame to what every take-down promises: it comes to an end, every figure is a number, and
// what was applied has arrived, is held or is said to have stopped.
func FuzzTakeDown(f *testing.F) {
	f.Add([]byte("a beam on two walls, and a post on the beam"))
	f.Add([]byte{0, 3, 15, 1, 1, 1, 1, 8, 0, 0, 0, 8, 0, 0, 0, 2, 1, 0, 0, 0, 0, 2, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 8})
	f.Add([]byte{1, 4, 0, 1, 0, 1, 0, 4, 0, 0, 0, 0, 2, 2, 0, 0, 0, 0, 1, 0, 0, 0, 7, 1, 1, 1, 4, 0, 1, 0, 1, 0, 5, 8, 0, 0, 0, 2, 3, 0, 0, 0, 0, 0, 0, 0, 0, 7})
	f.Fuzz(func(t *testing.T, data []byte) {
		s := sketch(data)
		doc := s.document()
		for _, stage := range []frame.Stage{frame.After, frame.Before} {
			sound(t, statics.Run(s.input(doc, stage)))
		}
	})
}

// What the fuzz target holds for few bytes, many seeded frames hold in every run of the tests.
func TestRandomFramesAreSound(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	solved, coupled := 0, 0
	for range 6000 {
		data := make([]byte, 40+r.IntN(400))
		for i := range data {
			data[i] = byte(r.Uint32())
		}
		s := sketch(data)
		down := statics.Run(s.input(s.document(), frame.After))
		sound(t, down)
		for i := range down.Frame.Pieces {
			if down.Unsolved(int32(i)) == "" && !down.Frame.Member(int32(i)).Ground {
				solved++
				if down.Frame.CoupleOf(int32(i)) != nil {
					coupled++
				}
			}
		}
	}
	assert.Greater(t, solved, 2000, "frames that fall apart prove nothing")
	assert.Greater(t, coupled, 50)
}

// sound holds a take-down, its parts and its effects to those promises.
func sound(t testing.TB, down *statics.TakeDown) {
	t.Helper()
	balanced(t, down)
	_, err := json.Marshal(down.List()) // refuses what is not finite
	require.NoError(t, err)
	a, combinations := down.NewAnalyst(), statics.DefaultCombinations(down.Cases)
	for i := range down.Frame.Pieces {
		piece := int32(i)
		balanced(t, down.Part([]int32{piece}, true))
		e := a.Effects(piece)
		for k := range combinations {
			for support := range e.Supports {
				if e.Unsolved == "" && len(e.Supports) > 0 && !e.Bedded {
					largest, smallest, along := e.Reaction(&combinations[k], support)
					finite(t, largest, smallest, along)
				}
			}
			for _, q := range []plane.Quantity{plane.Moment, plane.Shear, plane.Axial, plane.Deflection} {
				if largest, smallest, ok := e.Range(&combinations[k], q, 0, down.Frame.Shape(piece).Length); ok {
					finite(t, largest.Value, smallest.Value, largest.At, smallest.At)
				}
			}
		}
	}
}

func balanced(t testing.TB, down *statics.TakeDown) {
	t.Helper()
	imbalance := down.Imbalance()
	finite(t, imbalance)
	require.Less(t, imbalance, 1e-6)
	for c := range down.Cases {
		for _, f := range []statics.Force{down.Applied[c], down.Arrived[c], down.Unresolved[c], down.Held[c]} {
			finite(t, f.X, f.Y, f.Z)
		}
		for i := range down.Frame.Supports {
			f := down.Reaction(int32(i), c)
			finite(t, f.X, f.Y, f.Z)
		}
	}
}

func finite(t testing.TB, values ...float64) {
	t.Helper()
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			require.Fail(t, fmt.Sprintf("%g came out", v))
		}
	}
}
