package us

import (
	"context"
	"fmt"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// Prepare answers with the properties of the grades, the loads that the code gives the areas, and the combinations.
func (us) Prepare(_ context.Context, site *region.Site) (*region.Preparation, error) {
	p := &region.Preparation{Areas: impliedLoads(site), Cases: cases(site), Assumptions: assumptions(site)}
	for i := range site.Grades {
		p.Grades = append(p.Grades, properties(&site.Grades[i]))
	}
	p.Combinations = combinations(p.Cases, moves(site))
	return p, nil
}

// assumptions are what the region takes for granted because the model does not say.
func assumptions(site *region.Site) []region.Assumption {
	out := []region.Assumption{{Text: "the model codes without local amendments; lumber at ordinary temperature, not incised unless treated says so," +
		" of shear modulus E/16, weighed at 19 % moisture (NDS Supplement 3.1.3)"}}
	add := func(text, pointer string) { out = append(out, region.Assumption{Text: text, Pointer: pointer}) }
	if site.ServiceClass == 0 {
		add("lumber that stays dry, 19 % moisture or less: no service class is stated", "/site/service_class")
	}
	var still []string // roofs that state no wind
	wind := false
	for i := range site.Areas {
		a := &site.Areas[i]
		wind = wind || states(a, model.Wind)
		switch {
		case a.Kind == "":
			add(a.ID+" does not say what it is (roof, ceiling, floor, loft, deck): no load is filled in for it", "/areas")
		case a.Kind == "roof" && !states(a, model.Wind):
			still = append(still, a.ID)
		}
	}
	switch {
	case len(still) > 0 && wind:
		add("no wind on "+strings.Join(still, ", ")+": none is stated there, and the region works none out", "/areas")
	case len(still) > 0:
		add("no wind: the areas state none, and the region works none out", "/areas")
	}
	if wind {
		add("wind as the document states it, at strength level (ASCE 7-10 and later): combinations take 0.6 of it", "/areas")
	}
	for _, action := range model.Actions {
		for _, gap := range site.Gaps(action) {
			add(fmt.Sprintf("%s states no %s of the name %s: none of that acts on it while it acts elsewhere", gap.Area.ID, action, strings.Join(gap.Names, ", ")), "/areas")
		}
	}
	return out
}
