package main

import (
	"context"
	"fmt"
	"math"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// zz is a made-up region of a few lines: one grade of timber, one fact, one rule. What holds for it holds for any.
type zz struct{}

const (
	zzStrength = 10.0 // bending, N/mm2
	zzPack     = `
pack: zz
format: 1
edition: "1"
title: Bending in a country that does not exist
rules:
  - id: bending
    title: Bending
    judges: member
    where: is_structural
    require: zz.bending <= 1
    severity: stop
    say: "{piece} is bent to {zz.bending}"
    do: Use a deeper section, or ask the engineer.
    source: made up for tests
    why: A made-up country needs a made-up rule.
    examples:
      - met:     {piece: B1, is_structural: true, zz.bending: 0.8}
      - not_met: {piece: B1, is_structural: true, zz.bending: 1.2}
`
	zzDemo = `{
  "framing": 1, "title": "A floor in a country that does not exist", "units": "metric", "site": {"region": "ZZ-TEST"},
  "areas": {"floor": {"kind": "floor", "deck": 22, "dead": 0.5, "imposed": 2}},
  "members": {
    "B1": {"role": "beam", "section": "100x250", "grade": "Z", "path": [[0, 2000, 2375], [3600, 2000, 2375]],
      "supports": [{"on": "P1", "bearing": 100}, {"on": "W2", "bearing": 100}], "restraint": {"top": 400}},
    "J1": {"role": "floor joist", "section": "50x150", "grade": "Z", "centres": 400, "path": [[400, 0, 2425], [400, 2000, 2425]],
      "repeat": {"count": 8, "step": [400, 0, 0]}, "carries": ["floor"], "supports": [{"on": "W1", "bearing": 60}, {"on": "B1", "bearing": 50, "by": "hanger"}]},
    "P1": {"role": "post", "section": "100x100", "grade": "Z", "path": [[0, 2000, 0], [0, 2000, 2250]], "supports": [{"on": "F1", "bearing": 100}]},
    "F1": {"role": "foundation", "material": "concrete", "width": 600, "path": [[-300, 2000, 0], [300, 2000, 0]], "ground": true},
    "W1": {"role": "wall", "material": "masonry", "width": 215, "path": [[0, 0, 2350], [3600, 0, 2350]], "ground": true},
    "W2": {"role": "wall", "material": "masonry", "width": 215, "path": [[3600, 0, 2250], [3600, 4000, 2250]], "ground": true}
  }
}`
)

func (zz) Describe(context.Context) (*region.Description, error) {
	return &region.Description{
		ID: "zz", Title: "A country that does not exist", Edition: "1", Codes: []string{"ZZ-TEST"}, Contract: region.ContractVersion,
		Facts: []vocabulary.Fact{{Subject: vocabulary.Member, Name: "zz.bending", Type: vocabulary.Number, Text: "bending stress over strength",
			Keys: []string{"section", "grade"}}},
		Packs: []region.PackFile{{Name: "zz.yaml", Data: []byte(zzPack)}},
		Uses:  []string{"floor joist"}, Stock: []region.Stock{{Section: "50x150", Grades: []string{"Z"}, Lengths: []float64{4200}}},
	}, nil
}

func (zz) Prepare(_ context.Context, site *region.Site) (*region.Preparation, error) {
	p := &region.Preparation{Cases: []region.Case{{ID: "dead", Action: model.Dead, Permanent: true}}}
	for _, a := range model.Actions {
		if a != model.Dead {
			p.Cases = append(p.Cases, region.Case{ID: string(a), Action: a})
		}
	}
	for _, state := range []region.LimitState{region.Strength, region.Characteristic} {
		for k := range p.Cases { // dead load alone, and each other case beside it
			factors := make([]float64, len(p.Cases))
			factors[0], factors[k] = 1, 1
			p.Combinations = append(p.Combinations, region.Combination{ID: "with " + p.Cases[k].ID, State: state, Factors: factors})
		}
	}
	for _, g := range site.Grades {
		if g.Name == "Z" {
			p.Grades = append(p.Grades, region.Grade{Material: "timber", E: 10000, G: 600, Density: 450e-9})
		} else {
			p.Grades = append(p.Grades, region.Grade{Reason: fmt.Sprintf("no grade is called %q here; Z is one", g.Name)})
		}
	}
	return p, nil
}

func (zz) Derive(_ context.Context, b *region.Batch) (*region.Derived, error) {
	if err := b.Check(); err != nil {
		return nil, err
	}
	n := len(b.Pieces.ID)
	d := &region.Derived{Sequence: b.Sequence, ID: b.Pieces.ID, Value: make([]float64, n), Reason: make([]int32, n), Combination: make([]int32, n),
		Contact: make([]int32, n), At: make([]float64, n), Reasons: region.Dictionary{"", "its section or grade is not known here"}}
	for i := range n {
		d.Combination[i], d.Contact[i] = -1, -1
		section, grade := b.Pieces.Section[i], b.Pieces.Grade[i]
		if section < 0 || grade < 0 || b.Preparation.Grades[grade].E == 0 || b.Site.Sections[section].Wy == 0 {
			d.Reason[i] = 1
			continue
		}
		for row := b.Pieces.StationStart[i]; row < b.Pieces.StationStart[i+1]; row++ {
			for c := range b.Combinations {
				ratio := math.Abs(b.Stations.M[row*b.Combinations+c]) / b.Site.Sections[section].Wy / zzStrength
				if ratio > d.Value[i] {
					d.Value[i], d.Combination[i], d.At[i] = ratio, c, b.Stations.At[row]
				}
			}
		}
		if b.Working {
			d.Working = append(d.Working, region.Step{Piece: int32(i), Symbol: "M / W / f", Value: d.Value[i], Clause: "ZZ 1"})
		}
	}
	return d, nil
}

func (zz) Span(_ context.Context, r *region.SpanRequest) (*region.Span, error) {
	load := 0.0
	for _, l := range r.Loads {
		load += l.Value * r.Centres
	}
	if r.Use != "floor joist" || r.Grade.Name != "Z" || r.Section.Wy == 0 || !(load > 0) || math.IsInf(load, 0) {
		return &region.Span{Reason: "there are spans for floor joists of Z alone, under a load"}, nil
	}
	return &region.Span{Span: math.Sqrt(8 * r.Section.Wy * zzStrength / load), Governs: "bending"}, nil // M = q l2 / 8
}
