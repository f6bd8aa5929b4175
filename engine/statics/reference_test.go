package statics_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// referenceCase is a model document with the answers that another program, or a closed form, gives for it. The source
// of each is in its method; see testdata/reference/README.md.
type referenceCase struct {
	ID, Title, Method string
	Model             json.RawMessage
	Expect            map[string]expectedMember
	Ground            map[string]map[string]float64
}

type expectedMember struct {
	Supports []struct {
		On                   string
		Vertical, Horizontal map[string]float64
	}
	Moment, Shear, Axial, Deflection map[string]expectedMost
}

type expectedMost struct {
	Most float64  // the larger in magnitude of the largest and the smallest value
	At   *float64 // only compared where the extreme is unique
}

// TestReferenceCases holds the take-down against 75 models solved by other means: a flexibility solution at 40 digits,
// a separate stiffness solver, closed forms, a grillage. Reactions and moments to 1e-6, deflections to 1e-4, or 1e-3
// where the tabulated properties of a named steel section enter.
func TestReferenceCases(t *testing.T) {
	data, err := os.ReadFile(filepath.FromSlash("../../testdata/reference/statics/cases.json"))
	require.NoError(t, err)
	var cases []referenceCase
	require.NoError(t, json.Unmarshal(data, &cases))
	require.Len(t, cases, 75)
	worst := map[string]float64{}
	for _, c := range cases {
		t.Run(c.ID, func(t *testing.T) {
			doc, problems := read.Document(c.Model, c.ID)
			require.Empty(t, problems)
			down := statics.Run(input(doc))
			l := down.List()
			assert.Less(t, l.Imbalance, 1e-9)
			for mark, want := range c.Expect {
				compareMember(t, down, l, mark, want, worst)
			}
			for mark, want := range c.Ground {
				for kase, load := range want {
					within(t, worst, "ground", load, groundOf(l, mark, kase)/1000, 1e-6, mark)
				}
			}
		})
	}
	t.Logf("worst relative differences: %v", worst)
}

func compareMember(t *testing.T, down *statics.TakeDown, l *statics.Listing, mark string, want expectedMember, worst map[string]float64) {
	t.Helper()
	piece := pieceOf(t, l, mark)
	require.Empty(t, piece.Unsolved, mark)
	for i, s := range want.Supports {
		require.Less(t, i, len(piece.Supports), mark)
		got := piece.Supports[i]
		assert.Equal(t, s.On, got.On)
		for kase, v := range s.Vertical {
			within(t, worst, "reaction", v, got.Vertical[caseIndex(t, l, kase)]/1000, 1e-6, mark+" on "+s.On+" "+kase)
		}
		for kase, v := range s.Horizontal {
			within(t, worst, "horizontal", v, got.Horizontal[caseIndex(t, l, kase)]/1000, 1e-6, mark+" on "+s.On+" "+kase)
		}
	}
	deflection := 1e-4
	if strings.ContainsAny(down.Frame.Document.Member(mark).Section.Text, "USWP") {
		deflection = 1e-3
	}
	e := down.NewAnalyst().Effects(pieceIndex(down, mark))
	for _, q := range []struct {
		name   string
		of     plane.Quantity
		want   map[string]expectedMost
		got    []statics.Range
		factor float64
		tol    float64
	}{
		{"moment", plane.Moment, want.Moment, piece.Moment, 1e-6, 1e-6}, {"shear", plane.Shear, want.Shear, piece.Shear, 1e-3, 1e-6},
		{"axial", plane.Axial, want.Axial, piece.Axial, 1e-3, 1e-6}, {"deflection", plane.Deflection, want.Deflection, piece.Deflection, 1, deflection},
	} {
		for kase, v := range q.want {
			require.NotNil(t, q.got, "%s of %s", q.name, mark)
			c := caseIndex(t, l, kase)
			r := q.got[c]
			most, at := r.Max, r.MaxAt
			if math.Abs(r.Min) > math.Abs(r.Max) {
				most, at = r.Min, r.MinAt
			}
			most *= q.factor
			if v.At == nil {
				within(t, worst, q.name, math.Abs(v.Most), math.Abs(most), q.tol, mark+" "+kase)
				continue
			}
			// The reference took its extremes from 240 elements: at the place that it names, the value must be its own;
			// the solved extreme may only be a little larger.
			d := &e.Cases[c].Full
			there := math.Inf(1)
			for _, side := range []plane.Side{plane.Before, plane.After} {
				for _, s := range []float64{*v.At - 1e-5, *v.At, *v.At + 1e-5} { // kinks are rounded to 1e-6 mm
					if got, ok := d.Value(q.of, s, side); ok && math.Abs(math.Abs(got*q.factor)-math.Abs(v.Most)) < math.Abs(there-math.Abs(v.Most)) {
						there = math.Abs(got * q.factor)
					}
				}
			}
			within(t, worst, q.name, math.Abs(v.Most), there, q.tol, mark+" "+kase)
			assert.GreaterOrEqual(t, math.Abs(most), math.Abs(v.Most)*(1-q.tol), "%s of %s", q.name, mark)
			assert.LessOrEqual(t, math.Abs(most), math.Abs(v.Most)*1.001, "%s of %s", q.name, mark)
			// A diagram that is flat near its extreme has its place anywhere along the flat.
			if nearby, ok := d.Value(q.of, *v.At, plane.After); ok && math.Abs(nearby*q.factor) < math.Abs(most)*(1-1e-6) && q.name == "moment" {
				assert.InDelta(t, *v.At, at, piece.Length/240, "place of the %s of %s in %s", q.name, mark, kase)
			}
		}
	}
}

func pieceIndex(down *statics.TakeDown, mark string) int32 {
	from, _ := down.Frame.PiecesOf(int32(down.Frame.Document.Index(mark)))
	return from
}

func within(t *testing.T, worst map[string]float64, name string, want, got, tolerance float64, what string) {
	t.Helper()
	scale := max(math.Abs(want), 1e-3) // a newton, a millimetre's thousandth
	diff := math.Abs(want-got) / scale
	worst[name] = max(worst[name], diff)
	assert.LessOrEqual(t, diff, tolerance, "%s of %s: want %v, got %v", name, what, want, got)
}

func pieceOf(t *testing.T, l *statics.Listing, mark string) statics.ListedPiece {
	t.Helper()
	for _, m := range l.Members {
		if m.Mark == mark {
			require.Len(t, m.Pieces, 1)
			return m.Pieces[0]
		}
	}
	require.Fail(t, "no member "+mark)
	return statics.ListedPiece{}
}

func caseIndex(t *testing.T, l *statics.Listing, id string) int {
	t.Helper()
	for i, c := range l.Cases {
		if c == id {
			return i
		}
	}
	require.Fail(t, "no case "+id)
	return -1
}

func groundOf(l *statics.Listing, mark, kase string) float64 {
	for _, g := range l.Ground {
		if g.Mark == mark {
			for i, c := range l.Cases {
				if c == kase {
					return g.Total[i]
				}
			}
		}
	}
	return math.NaN()
}

// input gives every timber grade the modulus of C24 (EN 338:2016) and steel that of EN 1993-1-1 3.2.6, which is all
// that the reference cases use.
func input(doc *model.Document) *statics.Input {
	in := &statics.Input{Frame: frame.Assemble(doc, frame.After), Cases: statics.DefaultCases(doc)}
	for i := range doc.Members {
		m := statics.Material{Kind: "timber", E: 11000, G: 690, Density: 420e-9}
		if strings.HasPrefix(doc.Members[i].Grade, "S") {
			m = statics.Material{Kind: "steel", E: 210000, G: 81000, Density: 7850e-9}
		}
		in.Materials = append(in.Materials, m)
	}
	return in
}
