package us

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/irc"
)

// The uses that Span knows.
const (
	useFloor   = "floor joist"
	useCeiling = "ceiling joist"
	useRafter  = "rafter"
)

func uses() []string { return []string{useFloor, useCeiling, useRafter} }

// Span is the longest span by the method of the code's span tables. Without a limit that of the code holds: L/360 of
// floors, L/240 of ceilings, L/180 of rafters, L/360 of what a brittle finish hangs from. A rafter with the ceiling attached
// asks for L/240.
func (us) Span(_ context.Context, r *region.SpanRequest) (*region.Span, error) {
	request, reason := spanOf(r)
	if reason != "" {
		return &region.Span{Reason: reason}, nil
	}
	s, err := irc.Allowable(request)
	if err != nil {
		return &region.Span{Reason: err.Error()}, nil
	}
	out := &region.Span{Span: s.Length, Governs: string(s.Governs), Notes: []string{
		s.Printed() + " as the tables round it",
		fmt.Sprintf("by the method that reproduces the tables of %s; where the printed code differs, the code governs", s.Source.Clause),
		"shear and bearing are not looked at; dead load includes the member's own weight",
	}}
	if s.Capped {
		out.Notes = append(out.Notes, "the printed tables end at 26 ft")
	}
	if r.Use == useRafter {
		out.Notes = append(out.Notes, "the span is in plan; snow is the ground snow in full, and local snow loads decide")
	}
	for _, step := range s.Steps {
		out.Working = append(out.Working, region.Step{Symbol: step.Symbol, Value: step.Value, Unit: step.Unit, Clause: step.Clause})
	}
	return out, nil
}

// spanOf turns a request into what the method asks for, or says why it cannot.
func spanOf(r *region.SpanRequest) (q irc.Request, reason string) {
	values, err := irc.DesignValues(cmp.Or(r.Edition, "2021"))
	if err != nil {
		return q, err.Error()
	}
	if q.Grade, reason = lookUp(&r.Grade, values); reason != "" {
		return q, reason
	}
	if q.Section, reason = lumber(&r.Section); reason != "" {
		return q, reason
	}
	if r.Service == 3 {
		return q, "the span tables are for lumber that stays dry"
	}
	q.Spacing = r.Centres
	loads := map[model.Action]float64{}
	for _, l := range r.Loads {
		loads[l.Action] += l.Value
	}
	if reason = loadSpan(&q, r.Use, loads); reason != "" {
		return q, reason
	}
	if r.Brittle && r.Use != useFloor {
		q.Limit = 360 // R301.7
	}
	if r.Limit > 0 {
		q.Limit = r.Limit
	}
	return q, ""
}

// loadSpan sets use, loads and the code's limit of deflection.
func loadSpan(q *irc.Request, use string, loads map[model.Action]float64) string {
	taken := []model.Action{model.Dead, model.Imposed}
	switch use {
	case useFloor:
		q.Use, q.Limit = irc.FloorOther, 360
	case useCeiling:
		q.Use, q.Limit = irc.CeilingEmpty, 240
		if loads[model.Imposed] > 10*irc.PSF*(1+slack) {
			q.Use = irc.CeilingStorage
		}
	case useRafter:
		q.Use, q.Limit = irc.RafterOpen, 180
		taken = []model.Action{model.Dead, model.RoofImposed, model.Snow}
	default:
		return fmt.Sprintf("the code has no span table for the use %q; it has them for %s", use, strings.Join(uses(), ", "))
	}
	if _, stated := loads[model.Dead]; !stated {
		return "the dead load must be stated, the member's own weight within it"
	}
	for _, action := range model.Actions {
		if _, stated := loads[action]; !stated {
			continue
		}
		found := false
		for _, t := range taken {
			found = found || t == action
		}
		if !found {
			return fmt.Sprintf("the span tables for a %s take no %s load", use, action)
		}
	}
	q.Dead, q.Snow = loads[model.Dead], loads[model.Snow]
	q.Live = loads[model.Imposed] + loads[model.RoofImposed]
	return ""
}
