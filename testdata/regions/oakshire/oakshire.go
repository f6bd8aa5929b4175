// Package oakshire is the region of a country that does not exist: two grades of timber, four actions, five facts. It
// serves to test what runs regions, and shows an author how little one needs. All its figures are made up.
package oakshire

import (
	"context"
	_ "embed"
	"fmt"
	"math"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

//go:embed pack.yaml
var pack []byte

// New is the region.
func New() region.Region { return oakshire{} }

type oakshire struct{}

// grade is what Oakshire knows of a grade of timber.
type grade struct {
	bending, shear, bearing float64 // strengths, N/mm2
	e, g                    float64 // N/mm2
	density                 float64 // kg/mm3
}

var grades = map[string]grade{
	"H20": {bending: 20, shear: 3, bearing: 2.4, e: 9500, g: 590, density: 420e-9},
	"H30": {bending: 30, shear: 4, bearing: 2.7, e: 12000, g: 750, density: 460e-9},
}

// The facts, in the order of Describe.
const (
	bending = iota
	shear
	bearing
	deflection
	stocky
)

// Describe says what Oakshire is.
func (oakshire) Describe(context.Context) (*region.Description, error) {
	ratio := func(name, text string) vocabulary.Fact {
		return vocabulary.Fact{Subject: vocabulary.Member, Name: name, Type: vocabulary.Number, Text: text, Keys: []string{"section", "grade"}}
	}
	return &region.Description{
		ID: "oakshire", Title: "Oakshire, a country that does not exist", Edition: "1", Codes: []string{"XA-OAK"}, Contract: region.ContractVersion,
		Facts: []vocabulary.Fact{
			bending:    ratio("oak.bending", "bending stress over strength"),
			shear:      ratio("oak.shear", "shear stress over strength"),
			bearing:    ratio("oak.bearing", "bearing stress over strength, worst support"),
			deflection: ratio("oak.deflection", "deflection over a 250th of the span"),
			stocky:     {Subject: vocabulary.Member, Name: "oak.stocky", Type: vocabulary.Truth, Text: "the depth is at most four times the width", Keys: []string{"section"}},
		},
		Beside: []string{"oak.bearing"}, // which follows from its contacts alone
		Packs:  []region.PackFile{{Name: "oakshire.yaml", Data: pack}},
		Uses:   []string{"floor joist"},
		Stock:  []region.Stock{{Section: "50x200", Grades: []string{"H20", "H30"}, Lengths: []float64{3600, 4800}}},
	}, nil
}

var variable = []model.Action{model.Imposed, model.RoofImposed, model.Snow, model.Wind}

// Prepare knows dead load and each variable action alone beside it.
func (oakshire) Prepare(_ context.Context, site *region.Site) (*region.Preparation, error) {
	p := &region.Preparation{Cases: []region.Case{{ID: "dead", Action: model.Dead, Permanent: true}}}
	for _, a := range variable {
		p.Cases = append(p.Cases, region.Case{ID: string(a), Action: a})
	}
	p.Combinations = append(p.Combinations, combine("1.3 dead", region.Strength, 1.3, 0, 0), combine("dead", region.Characteristic, 1, 0, 0))
	for i, a := range variable {
		p.Combinations = append(p.Combinations,
			combine(fmt.Sprintf("1.3 dead + 1.5 %s", a), region.Strength, 1.3, 1.5, i+1),
			combine(fmt.Sprintf("dead + %s", a), region.Characteristic, 1, 1, i+1))
	}
	for _, name := range site.Grades {
		p.Grades = append(p.Grades, properties(&name))
	}
	for i := range site.Areas {
		if area := &site.Areas[i]; area.Kind == "floor" && !states(area, model.Imposed) {
			p.Areas = append(p.Areas, region.AreaLoad{Area: area.ID, Action: model.Imposed, Value: 1.5e-3, Note: "floors of Oakshire carry 1.5 kN/m2"})
			p.Assumptions = append(p.Assumptions, region.Assumption{Text: "the floor " + area.ID + " carries 1.5 kN/m2", Pointer: "/areas/" + area.ID})
		}
	}
	return p, nil
}

func combine(id string, state region.LimitState, dead, other float64, at int) region.Combination {
	factors := make([]float64, 1+len(variable))
	factors[at] = other
	factors[0] = dead
	return region.Combination{ID: id, State: state, Factors: factors, Duration: "any"}
}

func properties(name *region.GradeName) region.Grade {
	g, reason := lookUp(name)
	if reason != "" {
		return region.Grade{Reason: reason}
	}
	return region.Grade{Material: "timber", E: g.e, G: g.g, Density: g.density}
}

func lookUp(name *region.GradeName) (grade, string) {
	g, known := grades[name.Name]
	if !known {
		return grade{}, fmt.Sprintf("Oakshire knows no grade %q; it knows H20 and H30", name.Name)
	}
	return g, ""
}

func states(area *region.Area, action model.Action) bool {
	for _, l := range area.Loads {
		if l.Action == action {
			return true
		}
	}
	return false
}

// Derive judges rectangles of solid timber.
func (oakshire) Derive(ctx context.Context, b *region.Batch) (*region.Derived, error) {
	a := newAnswers(b)
	for i := range b.Pieces.ID {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		a.judge(i)
	}
	return a.out, nil
}

// Span is the longest floor joist under a load per area that bending and deflection allow.
func (oakshire) Span(_ context.Context, r *region.SpanRequest) (*region.Span, error) {
	g, reason := lookUp(&r.Grade)
	load := 0.0
	for _, l := range r.Loads {
		load += l.Value * r.Centres
	}
	switch {
	case reason != "":
		return &region.Span{Reason: reason}, nil
	case r.Use != "floor joist":
		return &region.Span{Reason: fmt.Sprintf("Oakshire has no spans for the use %q", r.Use)}, nil
	case !solid(&r.Section):
		return &region.Span{Reason: "Oakshire judges rectangles of timber only"}, nil
	case !(load > 0) || math.IsInf(load, 1):
		return &region.Span{Reason: "a span needs centres and a load"}, nil
	}
	limit := r.Limit
	if limit == 0 {
		limit = 250
	}
	w, i := moduli(&r.Section)
	bend := math.Sqrt(8 * w * g.bending / (1.5 * load)) // M = q l2 / 8
	bow := math.Cbrt(384 * g.e * i / (5 * load * limit))
	if bow < bend {
		return &region.Span{Span: bow, Governs: "deflection"}, nil
	}
	return &region.Span{Span: bend, Governs: "bending"}, nil
}

func solid(s *region.Section) bool {
	return s.Shape == model.Rectangle && s.Width > 0 && s.Depth > 0
}

// moduli are the section modulus and the second moment of area, mm3 and mm4.
func moduli(s *region.Section) (float64, float64) {
	b, d := s.Breadth(), s.Depth
	return b * d * d / 6, b * d * d * d / 12
}
