package us

import (
	"slices"
	"strconv"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/nds"
)

// durations are the load durations in words, the longest first (NDS Table 2.3.2).
var durations = []struct {
	name   string
	factor nds.Duration
}{
	{"permanent", nds.Permanent}, {"ten years", nds.TenYears}, {"two months", nds.TwoMonths}, {"seven days", nds.SevenDays}, {"ten minutes", nds.TenMinutes},
}

// durationOf is the factor of a duration in words. What is not one of the region's own counts as permanent, the lowest.
func durationOf(name string) nds.Duration {
	for _, d := range durations {
		if d.name == name {
			return d.factor
		}
	}
	return nds.Permanent
}

// cases are the default case of each action and one for each load that an area names. Use does not tell live loads
// apart: ASCE 7 gives all of them the same factors.
func cases(site *region.Site) []region.Case {
	var out []region.Case
	for _, action := range model.Actions {
		seen := map[string]bool{"": true}
		out = append(out, region.Case{ID: string(action), Action: action, Permanent: action == model.Dead})
		for i := range site.Areas {
			for _, l := range site.Areas[i].Loads {
				if l.Action == action && !seen[l.Name] {
					seen[l.Name] = true
					out = append(out, region.Case{ID: string(action) + ":" + l.Name, Action: action, Name: l.Name, Permanent: action == model.Dead})
				}
			}
		}
	}
	return out
}

// variant is one way in which an action may act: its unnamed loads, with those of one name where there are names,
// since loads of two names exclude each other.
type variant struct {
	word     string // as the take-down names its cases, with the name behind it
	cases    []int
	duration int // index into durations
}

// actions gives each variable action its word and its duration.
var actions = map[model.Action]variant{
	model.Imposed:     {word: "imposed", duration: 1},
	model.RoofImposed: {word: "roof imposed", duration: 3},
	model.Snow:        {word: "snow", duration: 2},
	model.Wind:        {word: "wind", duration: 4},
}

func variants(all []region.Case, action model.Action) []variant {
	kind, unnamed := actions[action], 0
	var out []variant
	for i, c := range all {
		switch {
		case c.Action != action:
		case c.Name == "":
			unnamed = i
		default:
			out = append(out, variant{kind.word + " (" + c.Name + ")", []int{unnamed, i}, kind.duration})
		}
	}
	if out == nil {
		out = []variant{{kind.word, []int{unnamed}, kind.duration}}
	}
	return out
}

// term is a variant with its factor in a combination.
type term struct {
	factor float64
	variant
}

// combinations are those of ASCE 7-16 2.4.1 for gravity and wind (memory). Each is judged with the load duration factor of its
// shortest load; since all the sums without that load stand beside it, with their own, nothing is judged too kindly
// where it does not act. A load that may stand anywhere is live load in place of the even one (ASCE 7-16 4.4, memory).
func combinations(all []region.Case, moves bool) []region.Combination {
	live, wind := variants(all, model.Imposed), variants(all, model.Wind)
	roof := append(variants(all, model.RoofImposed), variants(all, model.Snow)...)
	var out []region.Combination
	add := func(dead float64, terms ...term) { out = append(out, combine(all, dead, terms)) }
	add(1)
	for _, l := range live {
		add(1, term{1, l})
	}
	for _, r := range roof {
		add(1, term{1, r})
	}
	for _, l := range live {
		for _, r := range roof {
			add(1, term{0.75, l}, term{0.75, r})
		}
	}
	for _, w := range wind {
		add(1, term{0.6, w})
		for _, l := range live {
			for _, r := range roof {
				add(1, term{0.75, l}, term{0.75 * 0.6, w}, term{0.75, r})
			}
		}
		add(0.6, term{0.6, w})
	}
	if moves {
		k := combine(all, 1, nil)
		k.ID, k.Moving, k.Duration = "dead + imposed at a point", 1, durations[actions[model.Imposed].duration].name
		out = append(out, k)
	}
	return out
}

// moves says whether the document states a load that may stand anywhere: the region fills none in.
func moves(site *region.Site) bool {
	return site.Movable || slices.ContainsFunc(site.Areas, func(a region.Area) bool { return a.PointLoad.Value > 0 })
}

func combine(all []region.Case, dead float64, terms []term) region.Combination {
	k := region.Combination{State: region.Allowable, Factors: make([]float64, len(all))}
	for i, c := range all {
		if c.Permanent {
			k.Factors[i] = dead
		}
	}
	names, duration := []string{factored(dead, "dead")}, 0
	for _, t := range terms {
		for _, i := range t.cases {
			k.Factors[i] = t.factor
		}
		names = append(names, factored(t.factor, t.word))
		duration = max(duration, t.duration)
	}
	k.ID, k.Duration = strings.Join(names, " + "), durations[duration].name
	return k
}

func factored(factor float64, word string) string {
	if factor == 1 {
		return word
	}
	return strconv.FormatFloat(factor, 'g', 3, 64) + " " + word
}
