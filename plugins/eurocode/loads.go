package eurocode

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/ec1"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
	"example.com/scantling/plugins/region"
)

// domestic is the category of use that a floor without one is taken for (EN 1991-1-1 Table 6.1, UK NA Table NA.2).
const domestic = "A1"

// loader fills in what areas do not state.
type loader struct {
	site        *region.Site
	choices     *national.Choices
	loads       []region.AreaLoad
	assumptions []region.Assumption
	missing     []string // loads that neither the document nor the region gives
}

// implied is the loads that the site implies, what was assumed for them, and what is missing.
func implied(site *region.Site, choices *national.Choices) *loader {
	l := &loader{site: site, choices: choices}
	for i := range site.Areas {
		switch area := &site.Areas[i]; area.Kind {
		case "roof":
			l.roof(area)
		case "ceiling", "loft":
			l.ceiling(area)
		case "floor", "deck":
			l.floor(area)
		case "":
			l.unnamed(area)
			l.dead(area)
		}
	}
	l.overall()
	return l
}

func (l *loader) floor(area *region.Area) {
	category := area.Category
	if category == "" {
		category = domestic
		l.assume(areaPointer(area), "the floor %s is taken for the floor of a dwelling (category A)", area.ID)
	}
	load, absent := ec1.Floor(l.choices, useOf(category), nil)
	stated, said := stated(area, model.Imposed)
	switch {
	case absent != "" && !said:
		l.miss("the imposed load of the area %s is not stated, and for its use there is none to fill in: state it (%s)", area.ID, absent)
	case absent == "":
		source := l.choices.Loads.Floors[useOf(category)].Source
		l.give(area, model.Imposed, load, stated, said, fmt.Sprintf("imposed load of a floor of category %s, %s", category, source))
	}
	l.dead(area)
}

// useOf is the row of the table of floors that a category of use stands for: A is that of dwellings.
func useOf(category string) string {
	if strings.EqualFold(category, "A") {
		return domestic
	}
	return category
}

// unnamed is an area of which nobody says what it is. What people or weather bring to it is only known where it is stated.
func (l *loader) unnamed(area *region.Area) {
	for _, action := range []model.Action{model.Imposed, model.RoofImposed, model.Snow} {
		if _, said := stated(area, action); said {
			l.assume(areaPointer(area), "%s does not say what it is (roof, ceiling, floor, loft, deck): no load is filled in for it", area.ID)
			return
		}
	}
	l.miss("what the area %s bears is not known: say under its kind what it is (roof, ceiling, floor, loft, deck), or state its imposed load, 0 where there is none", area.ID)
}

func (l *loader) ceiling(area *region.Area) {
	load, absent := ec1.Ceiling(l.choices, nil)
	stated, said := stated(area, model.Imposed)
	switch {
	case absent != "" && !said:
		l.miss("the imposed load of the area %s is not stated: %s", area.ID, absent)
	case absent == "":
		l.give(area, model.Imposed, load, stated, said, "imposed load of a ceiling or loft, "+l.choices.Loads.Ceiling.Source)
	}
	l.dead(area)
}

func (l *loader) roof(area *region.Area) {
	load, absent := ec1.Roof(l.choices, area.Slope, nil)
	value, said := stated(area, model.RoofImposed)
	switch {
	case absent != "" && !said:
		l.miss("the imposed load of area %s is not stated: %s", area.ID, absent)
	case absent == "":
		l.give(area, model.RoofImposed, load, value, said, fmt.Sprintf("maintenance load of a roof at %.0f degrees, %s", area.Slope*180/math.Pi, l.choices.Loads.Roof.Source))
	}
	if _, said := stated(area, model.Snow); !said {
		l.snow(area)
	}
	l.dead(area)
}

func (l *loader) snow(area *region.Area) {
	ground, how, absent := groundSnow(l.site, l.choices)
	if absent != "" {
		l.miss("the snow on area %s is not known: %s", area.ID, absent)
		return
	}
	snow, absent := ec1.Snow(l.choices, ec1.SnowOn{Pitch: area.Slope}, ground, nil)
	if absent != "" {
		l.miss("the snow on area %s is not known: %s", area.ID, absent)
		return
	}
	l.loads = append(l.loads, region.AreaLoad{Area: area.ID, Action: model.Snow, Value: snow,
		Note: fmt.Sprintf("snow of %.2f kN/m2 %s, times mu_1 for %.0f degrees without drift (EN 1991-1-3 5.3)", ground*1e3, how, area.Slope*180/math.Pi)})
	l.assume(areaPointer(area), "snow on area %s is %.2f kN/m2 without drift, from %.2f kN/m2 %s", area.ID, snow*1e3, ground*1e3, how)
}

// groundSnow is the snow on the ground in N/mm2: as stated, or by the national formula.
func groundSnow(site *region.Site, choices *national.Choices) (ground float64, how string, absent working.Absence) {
	if site.GroundSnow.Known {
		return site.GroundSnow.Value, "on the ground as stated", ""
	}
	if !site.Altitude.Known {
		return 0, "", "state ground_snow of the site, or its snow_zone and altitude"
	}
	ground, absent = ec1.GroundSnow(choices, float64(site.SnowZone), site.Altitude.Value/1e3, nil)
	return ground, fmt.Sprintf("on the ground by zone %d and altitude", site.SnowZone), absent
}

// give adds a load with the movable point load that may stand in its place. One that the area states itself stays.
func (l *loader) give(area *region.Area, action model.Action, load ec1.Load, stated float64, said bool, note string) {
	if said {
		if stated < load.Area*(1-1e-9) {
			l.assume(areaPointer(area), "%s is stated to carry %.2f kN/m2, and that counts, though it is less than the %.2f kN/m2 of %s", area.ID, stated*1e3, load.Area*1e3, note)
		}
		load.Area = stated
	} else {
		l.assume(areaPointer(area), "%s carries %.2f kN/m2: %s", area.ID, load.Area*1e3, note)
	}
	if area.PointLoad.Known {
		load.Point = area.PointLoad.Value
	}
	l.loads = append(l.loads, region.AreaLoad{Area: area.ID, Action: action, Value: load.Area, Point: load.Point,
		Shared: area.Kind == "floor" || area.Kind == "deck", Note: note}) // common practice after BS 6399-1 (memory)
}

func (l *loader) dead(area *region.Area) {
	if _, said := stated(area, model.Dead); !said {
		l.miss("the dead load of the area %s is not stated: state it, 0 where there is none", area.ID)
	}
}

// overall is what is assumed of the site as a whole.
func (l *loader) overall() {
	var still []string // roofs that state no wind
	wind := false
	for i := range l.site.Areas {
		area := &l.site.Areas[i]
		_, said := stated(area, model.Wind)
		if area.Kind == "roof" && !said {
			still = append(still, area.ID)
		}
		wind = wind || said
	}
	switch {
	case len(still) > 0 && wind:
		l.assume("/areas", "%s: no wind is stated, so that nothing of it is checked for uplift or wind", strings.Join(still, ", "))
	case len(still) > 0:
		l.assume("/areas", "no roof states a wind: nothing is checked for uplift or wind")
	}
	l.directions()
	l.finishes()
	if l.site.MasonryClass == 0 && slices.Contains(l.site.Roles, string(model.RoleWall)) {
		l.assume("/site/masonry_class", "masonry is taken for built under execution class 2, the weaker one")
	}
}

// directions says which areas state a wind or snow of some names and not of all: of the others nothing acts on them.
func (l *loader) directions() {
	for _, action := range []model.Action{model.Wind, model.Snow} {
		for _, gap := range l.site.Gaps(action) {
			l.assume(areaPointer(gap.Area), "%s states no %s of the name %s: none acts on it while that acts elsewhere", gap.Area.ID, action, strings.Join(gap.Names, ", "))
		}
	}
}

// finishes says which areas leave open what hangs beneath them: the stricter limit of deflection then counts.
func (l *loader) finishes() {
	for i := range l.site.Areas {
		if area := &l.site.Areas[i]; area.Finish == "" {
			l.assume(areaPointer(area), "plaster or plasterboard is taken to hang beneath %s, whose finish is not stated: the stricter limits of deflection count", area.ID)
		}
	}
}

func (l *loader) assume(pointer, format string, args ...any) {
	l.assumptions = append(l.assumptions, region.Assumption{Text: fmt.Sprintf(format, args...), Pointer: pointer})
}

func (l *loader) miss(format string, args ...any) {
	l.missing = append(l.missing, fmt.Sprintf(format, args...))
}

// stated is the largest load of an action that the area states, N/mm2.
func stated(area *region.Area, action model.Action) (load float64, said bool) {
	for _, one := range area.Loads {
		if one.Action == action {
			load, said = max(load, one.Value), true
		}
	}
	return load, said
}

func areaPointer(area *region.Area) string {
	return "/areas/" + strings.NewReplacer("~", "~0", "/", "~1").Replace(area.ID)
}
