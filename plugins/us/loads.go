package us

import (
	"fmt"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/irc"
)

// impliedLoads fills in what the areas of a site do not state: live load by R301.5, roof live load by R301.6, snow as the
// ground snow of the site. What an area states, for one action and all its names, is left alone.
func impliedLoads(site *region.Site) []region.AreaLoad {
	var out []region.AreaLoad
	for i := range site.Areas {
		a := &site.Areas[i]
		add := func(action model.Action, value float64, note string) {
			if value > 0 && !states(a, action) {
				out = append(out, region.AreaLoad{Area: a.ID, Action: action, Value: value, Note: note})
			}
		}
		if place, why := placeOf(a); place != "" {
			if q, err := irc.LiveLoad(place); err == nil {
				add(model.Imposed, q, fmt.Sprintf("live load of %.0f psf: %s (IRC R301.5); %s", q/irc.PSF, place, why))
			}
		}
		if a.Kind == "roof" {
			// The area that one member carries is not known: the least of R301.6, which gives the most load, is taken.
			if q, err := irc.RoofLiveLoad(a.Slope, 0); err == nil {
				add(model.RoofImposed, q, fmt.Sprintf("roof live load of %.0f psf by the pitch, for up to 200 ft2 carried by a member (IRC R301.6)", q/irc.PSF))
			}
			add(model.Snow, site.GroundSnow.Value, "the ground snow of the site in full, as the span tables of the IRC take it; no drift, no sliding")
		}
	}
	return out
}

// missingLoads is what neither the areas state nor the region can fill in: the first, and how many more. Without it nothing can
// be judged.
func missingLoads(site *region.Site) string {
	var out []string
	for i := range site.Areas {
		a := &site.Areas[i]
		if !states(a, model.Dead) {
			out = append(out, fmt.Sprintf("the dead load of the area %s is not stated: state it, 0 where there is none", a.ID))
		}
		if a.Kind == "" && !states(a, model.Imposed) && !states(a, model.RoofImposed) && !states(a, model.Snow) {
			out = append(out, fmt.Sprintf("what the area %s bears is not known: say under its kind what it is (roof, ceiling, floor, loft, deck), or state its imposed load, 0 where there is none", a.ID))
		}
		if a.Kind == "roof" && !states(a, model.Snow) && !site.GroundSnow.Known {
			out = append(out, fmt.Sprintf("the snow on area %s is not known: state it, or ground_snow of the site, 0 where none falls", a.ID))
		}
	}
	switch len(out) {
	case 0:
		return ""
	case 1:
		return out[0]
	}
	return fmt.Sprintf("%s; and %d more", out[0], len(out)-1)
}

// placeOf is what R301.5 calls an area, and how that was found: by the area's category in the words of the code, else
// by its kind.
func placeOf(a *region.Area) (place irc.Place, why string) {
	for _, p := range []irc.Place{irc.SleepingRoom, irc.OtherRoom, irc.Stairs, irc.Deck, irc.EmptyAttic, irc.StorageAttic, irc.HabitableLoft} {
		if a.Category == string(p) {
			return p, "by its category"
		}
	}
	why = "state the load or the category if it is another"
	if a.Category != "" {
		why = fmt.Sprintf("its category %q is none of the code's, so its kind decides", a.Category)
	}
	switch a.Kind {
	case "floor":
		return irc.OtherRoom, why
	case "deck":
		return irc.Deck, why
	case "ceiling":
		return irc.EmptyAttic, why
	case "loft":
		return irc.StorageAttic, why
	}
	return "", ""
}

func states(a *region.Area, action model.Action) bool {
	for _, l := range a.Loads {
		if l.Action == action {
			return true
		}
	}
	return false
}
