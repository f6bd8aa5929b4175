package eurocode

import (
	"context"
	"strings"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
	"example.com/scantling/plugins/region"
)

// Prepare turns a site into grades, implied loads, cases and combinations. A place whose factors are not sourced gets plain
// sums, so that its loads still go to the ground; Derive then says why it judges nothing.
func (eurocode) Prepare(_ context.Context, site *region.Site) (*region.Preparation, error) {
	choices, absent := choicesFor(site.Code)
	if absent != "" {
		return nil, absent
	}
	p := &region.Preparation{Cases: cases(site, choices)}
	for i := range site.Grades {
		g := known(&site.Grades[i])
		p.Grades = append(p.Grades, g.answer(site.Grades[i].Declared))
	}
	loads := implied(site, choices)
	p.Areas, p.Assumptions = loads.loads, loads.assumptions
	if p.Combinations, absent = combinations(site, p.Cases, choices); absent != "" {
		p.Combinations = plainSums(p.Cases)
	}
	p.Combinations = append(p.Combinations, persons(site.Movable, p.Areas, p.Cases, choices)...)
	return p, nil
}

// study is what holds for every piece of a site.
type study struct {
	site    *region.Site
	of      *region.Preparation
	choices *national.Choices
	grades  []grade
	absent  working.Absence // why nothing at the site can be judged

	durations                         []national.Duration // by combination
	strength, characteristic, lasting []int               // combinations of that state
	variable                          []bool              // by case
}

// study is that of a site and what was prepared for it.
func (e eurocode) study(site *region.Site, p *region.Preparation) *study {
	if s := e.last.Load(); s != nil && s.site == site && s.of == p {
		return s
	}
	s := newStudy(site, p)
	e.last.Store(s)
	return s
}

// newStudy works from what Prepare was asked and what it answered.
func newStudy(site *region.Site, p *region.Preparation) *study {
	s := &study{site: site, of: p}
	for i := range site.Grades {
		s.grades = append(s.grades, known(&site.Grades[i]))
	}
	for i := range p.Cases {
		s.variable = append(s.variable, !p.Cases[i].Permanent)
	}
	if s.choices, s.absent = choicesFor(site.Code); s.absent != "" {
		return s
	}
	if missing := implied(site, s.choices).missing; len(missing) > 0 {
		s.absent = working.Absence(clip(strings.Join(missing, "; ")))
	}
	for i, row := range p.Combinations {
		var duration national.Duration
		if row.Duration != "" && duration.UnmarshalText([]byte(row.Duration)) != nil {
			s.absent = "a combination has a duration that this region does not know"
		}
		s.durations = append(s.durations, duration)
		switch row.State {
		case region.Strength:
			s.strength = append(s.strength, i)
		case region.Characteristic:
			s.characteristic = append(s.characteristic, i)
		case region.QuasiPermanent:
			s.lasting = append(s.lasting, i)
		}
	}
	if len(s.strength) == 0 {
		s.absent = "what was prepared for the site holds no combination for strength"
		if _, absent := combinations(site, p.Cases, s.choices); absent != "" {
			s.absent = working.Absence("the factors of combination for "+site.Code+": ") + absent
		}
	}
	return s
}

// clip keeps a reason to a length that can be read.
func clip(text string) string {
	const most = 400
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + " ..."
}
