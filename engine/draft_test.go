package engine_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
	"example.com/scantling/model/draft"
	"example.com/scantling/model/read"
)

// draftOptions are dimensions that a builder might give, with connections that are stated to hold plenty: what they
// hold is no matter of geometry.
func draftOptions(r *rand.Rand, k draft.Kind) draft.Options {
	strong := func(v float64) *model.Capacity {
		return &model.Capacity{Down: model.Given(v), Up: model.Given(v), Along: model.Given(v), Basis: "safe working", By: "test"}
	}
	o := draft.Options{Kind: k, Hanger: strong(1e5), Clip: strong(1e5), Lap: strong(1e5), Bolts: strong(1e6)}
	step := 50.0
	if r.IntN(3) == 0 {
		o.Units, step = model.US, 6*25.4
	}
	between := func(low, high float64) float64 { return math.Round((low+r.Float64()*(high-low))/step) * step }
	o.Width = between(3600, 8000)
	o.Length = o.Width + between(1000, 6000)
	o.Pitch = (15 + r.Float64()*33) * math.Pi / 180
	o.Centres = []float64{300, 400, 450, 600}[r.IntN(4)]
	o.Overhang = between(150, 450)
	o.Ridge = draft.Ridge(r.IntN(2))
	o.Loads.Snow = model.Given(0.6e-3)
	switch k {
	case draft.LeanTo:
		o.Width, o.Pitch, o.Overhang = between(1500, 4000), (5+r.Float64()*30)*math.Pi/180, between(150, 300)
	case draft.Floor:
		o.Loads = draft.Loads{}
		o.Opening = draft.Opening{Width: between(700, 1200), Run: between(800, 1000)}
		if o.Width >= 4500 && r.IntN(2) == 0 {
			o.Opening.Clear = 1200
		}
	case draft.Dormer:
		o.Ridge, o.Width, o.Pitch = draft.Beam, between(5000, 8000), (38+r.Float64()*8)*math.Pi/180
		o.Length = o.Width + between(3200, 6000)
	case draft.Bay:
		o.Bay = draft.Projection{Steel: r.IntN(2) == 0, Width: between(1200, 2400)}
	}
	return o
}

func TestDraftsHaveNoFindingOfGeometryOrLoadPath(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped: one check after another, with nothing beside it")
	}
	session := engine.NewSession(nil, nil)
	defer session.Close()
	r := rand.New(rand.NewPCG(200, 7))
	for i := range 200 {
		o := draftOptions(r, draft.Kinds[i%len(draft.Kinds)].Kind)
		d, err := draft.Make(o)
		require.NoError(t, err, "%+v", o)
		placedSoundly(t, o, d)
		declareGrades(d)
		text := read.Write(d)
		again, problems := read.Document(text, "draft")
		require.Empty(t, problems)
		run, err := session.Check(context.Background(), &engine.Source{Document: again, Text: text, File: "draft"}, engine.Options{})
		require.NoError(t, err)
		for _, f := range run.Result.Findings {
			if strings.HasPrefix(f.Rule, "load-path/") && !slices.Contains(listings, f.Rule) {
				t.Errorf("%s %s of %+v: %s", f.Rule, f.Member, o, f.Message)
			}
		}
		if t.Failed() {
			return
		}
	}
}

// declareGrades gives every grade a stiffness and a density, as a region would: rounded values of C24 and of steel.
func declareGrades(d *model.Document) {
	seen := map[string]bool{"": true}
	for _, m := range d.Members {
		if seen[m.Grade] {
			continue
		}
		seen[m.Grade] = true
		g := model.Grade{Name: m.Grade, Material: "timber", E: model.Given(11000), G: model.Given(690), Density: model.Given(420e-9), By: "test"}
		if m.Section.SteelByDefault {
			g = model.Grade{Name: m.Grade, Material: "steel", E: model.Given(210000), G: model.Given(81000), Density: model.Given(7850e-9), By: "test"}
		}
		d.Grades = append(d.Grades, g)
	}
}

// listings are rules that list what a reader is to know, of any model.
var listings = []string{"load-path/heaviest-on-walls"}

// placedSoundly holds every support against the geometry.
func placedSoundly(t *testing.T, o draft.Options, d *model.Document) {
	t.Helper()
	f := frame.Assemble(d, frame.After)
	assert.Empty(t, f.Circles)
	assert.Len(t, f.Order, len(f.Pieces), "%+v", o)
	for i := range f.Supports {
		s := &f.Supports[i]
		where := f.Name(s.Piece)
		assert.Equal(t, frame.Sound, s.Problem, "%s of %+v", where, o)
		assert.True(t, s.Placed || s.Document < 0, "%s of %+v", where, o)
		assert.LessOrEqual(t, s.Offset, 25.0, "offset of %s on %s of %+v", where, f.Name(s.On), o)
		assert.LessOrEqual(t, s.Level, 0.2, "level of %s on %s of %+v", where, f.Name(s.On), o)
		assert.LessOrEqual(t, s.BeyondEnd, 0.2, "end of %s of %+v", where, o)
		assert.LessOrEqual(t, s.LandsPast, 1.0, "landing of %s on %s of %+v", where, f.Name(s.On), o)
	}
	for piece := range f.Pieces {
		assert.True(t, grounded(f, int32(piece), 0), "%s reaches the ground, of %+v", f.Name(int32(piece)), o)
	}
}

// grounded walks every support of a piece down.
func grounded(f *frame.Frame, piece int32, depth int) bool {
	if f.Member(piece).Ground {
		return true
	}
	supports, _ := f.SupportsOf(piece)
	some := false
	for i := range supports {
		if supports[i].Against {
			continue
		}
		if depth > 20 || !supports[i].Holds() || !grounded(f, supports[i].On, depth+1) {
			return false
		}
		some = true
	}
	return some
}
