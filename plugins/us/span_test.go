package us_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us"
)

func spanRequest(t *testing.T, use, section, grade string, centres float64, loads ...region.SpanLoad) *region.SpanRequest {
	t.Helper()
	s, err := model.ParseSection(section, model.US)
	require.NoError(t, err)
	return &region.SpanRequest{Code: "US", Use: use, Section: *s, Grade: region.GradeName{Name: grade}, Centres: centres * inch, Loads: loads, Service: 1}
}

func load(action model.Action, pounds float64) region.SpanLoad {
	return region.SpanLoad{Action: action, Value: pounds * psf}
}

func span(t *testing.T, r *region.SpanRequest) *region.Span {
	t.Helper()
	s, err := us.New().Span(context.Background(), r)
	require.NoError(t, err)
	return s
}

// Published cells, in feet and inches, through the whole of Span. The sub-package irc holds every cell of the reference file.
func TestSpanReproducesPublishedCells(t *testing.T) {
	for _, row := range []struct {
		use, section, grade, edition string
		centres, limit               float64
		loads                        []region.SpanLoad
		feet, inches                 float64
		governs                      string
		source                       string
	}{
		{"ceiling joist", "2x4", "DFL SS", "2018", 19.2, 0, []region.SpanLoad{load(model.Imposed, 20), load(model.Dead, 10)}, 8, 11, "deflection", "IRC 2018, printed page 405 (document)"},
		{"ceiling joist", "2x6", "DFL #1", "IRC 2018", 19.2, 0, []region.SpanLoad{load(model.Imposed, 20), load(model.Dead, 10)}, 12, 6, "bending", "IRC 2018, printed page 405 (document)"},
		{"floor joist", "2x10", "DFL #2", "", 16, 0, []region.SpanLoad{load(model.Imposed, 40), load(model.Dead, 10)}, 15, 7, "bending", "IRC 2021 R502.3.1(2) (memory)"},
		{"rafter", "2x8", "SPF #2", "2021", 19.2, 0, []region.SpanLoad{load(model.RoofImposed, 20), load(model.Dead, 10)}, 16, 7, "bending", "IRC 2021 R802.4.1(1) (memory)"},
		{"ceiling joist", "2x8", "SPF #2", "2021", 16, 240, []region.SpanLoad{load(model.Imposed, 20), load(model.Dead, 10)}, 16, 3, "bending", "IRC 2021 R802.5.1(2) (memory)"},
	} {
		t.Run(row.source, func(t *testing.T) {
			r := spanRequest(t, row.use, row.section, row.grade, row.centres, row.loads...)
			r.Edition, r.Limit = row.edition, row.limit
			s := span(t, r)
			assert.Empty(t, s.Reason)
			assert.InDelta(t, 12*row.feet+row.inches, s.Span/inch, 0.51)
			assert.Equal(t, row.governs, s.Governs)
			assert.NotEmpty(t, s.Working)
			assert.NotEmpty(t, s.Notes)
		})
	}
}

// SPF #2 2x8 at 16 in, 40 + 10 psf: cbrt(384 x 1,400,000 x 47.635 / (5 x 4.444 x 360)) = 147.38 in, 12 ft 3 in, which is the
// printed cell of R502.3.1(2) (memory).
func TestSpanOfTheCommonFloor(t *testing.T) {
	s := span(t, spanRequest(t, "floor joist", "2x8", "SPF #2", 16, load(model.Imposed, 40), load(model.Dead, 10)))
	assert.InDelta(t, 147.38*inch, s.Span, 0.3)
	assert.Contains(t, s.Notes[0], "12 ft 3 in")
	assert.Equal(t, "deflection", s.Governs)
}

func TestSpanTakesTheCodesLimitUnlessAsked(t *testing.T) {
	r := spanRequest(t, "rafter", "2x6", "SPF SS", 12, load(model.RoofImposed, 20), load(model.Dead, 10))
	open := span(t, r).Span
	r.Limit = 240
	attached := span(t, r).Span
	r.Limit, r.Brittle = 0, true
	brittle := span(t, r).Span
	assert.Greater(t, open, attached)
	assert.Greater(t, attached, brittle)
	floor := spanRequest(t, "floor joist", "2x8", "SPF #2", 16, load(model.Imposed, 40), load(model.Dead, 10))
	loose := *floor
	loose.Limit = 300
	assert.Greater(t, span(t, &loose).Span, span(t, floor).Span)
}

// Southern pine before June 2013 was stronger: the tables of 2012 allow more.
func TestEditionPicksTheDesignValues(t *testing.T) {
	r := spanRequest(t, "floor joist", "2x10", "SP #2", 16, load(model.Imposed, 40), load(model.Dead, 10))
	now := span(t, r).Span
	r.Edition = "2012"
	assert.Greater(t, span(t, r).Span, now)
}

func TestSpanSaysWhyThereIsNone(t *testing.T) {
	joist := func(change func(*region.SpanRequest)) *region.SpanRequest {
		r := spanRequest(t, "floor joist", "2x8", "SPF #2", 16, load(model.Imposed, 40), load(model.Dead, 10))
		change(r)
		return r
	}
	for _, row := range []struct {
		says, reason string
		of           *region.SpanRequest
	}{
		{"an unknown use", "no span table for the use", joist(func(r *region.SpanRequest) { r.Use = "header" })},
		{"an unknown grade", "write species group", joist(func(r *region.SpanRequest) { r.Grade.Name = "C24" })},
		{"steel", "steel is not covered", joist(func(r *region.SpanRequest) { r.Grade.Name = "A36" })},
		{"an edition that is not held", "2024", joist(func(r *region.SpanRequest) { r.Edition = "2024" })},
		{"wet lumber", "stays dry", joist(func(r *region.SpanRequest) { r.Service = 3 })},
		{"no dead load", "dead load must be stated", joist(func(r *region.SpanRequest) { r.Loads = r.Loads[:1] })},
		{"snow on a floor", "no snow load", joist(func(r *region.SpanRequest) { r.Loads = append(r.Loads, load(model.Snow, 30)) })},
		{"wide centres", "at most 24 in", joist(func(r *region.SpanRequest) { r.Centres = 32 * inch })},
		{"no centres", "above zero", joist(func(r *region.SpanRequest) { r.Centres = 0 })},
		{"a thick member", "2 in nominal thickness", joist(func(r *region.SpanRequest) { r.Section = spanRequest(t, "", "4x8", "", 1).Section })},
		{"a live load on a rafter", "no imposed load", joist(func(r *region.SpanRequest) { r.Use = "rafter" })},
	} {
		t.Run(row.says, func(t *testing.T) {
			s := span(t, row.of)
			assert.Zero(t, s.Span)
			assert.Contains(t, s.Reason, row.reason)
		})
	}
}
