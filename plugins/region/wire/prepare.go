package wire

import (
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// PackPreparation is the message of a preparation.
func PackPreparation(p *region.Preparation) *Preparation {
	m := &Preparation{}
	for _, g := range p.Grades {
		m.Grades = append(m.Grades, &Grade{Material: g.Material, E: g.E, G: g.G, Density: g.Density, Reason: g.Reason})
	}
	for _, l := range p.Areas {
		m.Areas = append(m.Areas, &AreaLoad{Area: l.Area, Action: string(l.Action), Value: l.Value, Point: l.Point, Shared: l.Shared, Note: l.Note})
	}
	for _, c := range p.Cases {
		m.Cases = append(m.Cases, &Case{Id: c.ID, Action: string(c.Action), Name: c.Name, Category: c.Category, Kind: c.Kind, Permanent: c.Permanent})
	}
	for _, c := range p.Combinations {
		m.Combinations = append(m.Combinations, &Combination{Id: c.ID, State: string(c.State), Factors: c.Factors, Moving: c.Moving, Duration: c.Duration})
	}
	for _, a := range p.Assumptions {
		m.Assumptions = append(m.Assumptions, &Assumption{Text: a.Text, Pointer: a.Pointer})
	}
	return m
}

// UnpackPreparation is the preparation of a message. It is not checked.
func UnpackPreparation(m *Preparation) *region.Preparation {
	p := &region.Preparation{}
	for _, g := range m.GetGrades() {
		p.Grades = append(p.Grades, region.Grade{Material: g.GetMaterial(), E: g.GetE(), G: g.GetG(), Density: g.GetDensity(), Reason: g.GetReason()})
	}
	for _, l := range m.GetAreas() {
		p.Areas = append(p.Areas, region.AreaLoad{Area: l.GetArea(), Action: model.Action(l.GetAction()), Value: l.GetValue(), Point: l.GetPoint(), Shared: l.GetShared(), Note: l.GetNote()})
	}
	for _, c := range m.GetCases() {
		p.Cases = append(p.Cases, region.Case{ID: c.GetId(), Action: model.Action(c.GetAction()), Name: c.GetName(), Category: c.GetCategory(), Kind: c.GetKind(), Permanent: c.GetPermanent()})
	}
	for _, c := range m.GetCombinations() {
		p.Combinations = append(p.Combinations, region.Combination{ID: c.GetId(), State: region.LimitState(c.GetState()), Factors: c.GetFactors(), Moving: c.GetMoving(), Duration: c.GetDuration()})
	}
	for _, a := range m.GetAssumptions() {
		p.Assumptions = append(p.Assumptions, region.Assumption{Text: a.GetText(), Pointer: a.GetPointer()})
	}
	return p
}
