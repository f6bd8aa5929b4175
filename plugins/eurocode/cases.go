package eurocode

import (
	"fmt"
	"slices"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/ec0"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
	"example.com/scantling/plugins/region"
)

// storage is the row of the durations for imposed loads of lofts.
const storage = "storage"

var actionOf = map[model.Action]ec0.Action{
	model.Dead: ec0.Dead, model.Imposed: ec0.Imposed, model.RoofImposed: ec0.RoofImposed, model.Snow: ec0.Snow, model.Wind: ec0.Wind,
}

var stateOf = map[ec0.State]region.LimitState{
	ec0.Strength: region.Strength, ec0.Uplift: region.Stability, ec0.Characteristic: region.Characteristic, ec0.QuasiPermanent: region.QuasiPermanent,
}

// cases lists the load cases: one for each action, since a member may state any of them for itself; of what people and things
// weigh one more for ceilings and lofts beside floors, since they last differently; and one for each named load.
func cases(site *region.Site, choices *national.Choices) []region.Case {
	var out []region.Case
	add := func(k region.Case) {
		if !slices.ContainsFunc(out, func(o region.Case) bool { return o.ID == k.ID }) {
			out = append(out, k)
		}
	}
	floors, above := false, []string(nil)
	for i := range site.Areas {
		switch kind := site.Areas[i].Kind; kind {
		case "floor", "deck":
			floors = true
		case "ceiling", "loft":
			if !slices.Contains(above, kind) {
				above = append(above, kind)
			}
		}
	}
	slices.Sort(above)
	for _, action := range model.Actions {
		k := region.Case{ID: string(action), Action: action, Permanent: action == model.Dead}
		if action == model.Imposed {
			k.Category = worstCategory(site, choices)
			if !floors && len(above) > 0 {
				k.Category = loftCategory
			}
		}
		add(k)
		if action == model.Imposed && floors {
			for _, kind := range above {
				add(region.Case{ID: fmt.Sprintf("%s (%s)", action, kind), Action: action, Category: loftCategory, Kind: kind})
			}
		}
		for i := range site.Areas {
			for _, load := range site.Areas[i].Loads {
				if load.Action == action && load.Name != "" {
					add(region.Case{ID: string(action) + ":" + load.Name, Action: action, Name: load.Name, Category: k.Category, Permanent: k.Permanent})
				}
			}
		}
	}
	return out
}

// loftCategory marks the light storage of lofts and ceilings: the factors of dwellings, the duration of storage.
const loftCategory = "A, storage"

// worstCategory is the category of use of the floors: of several that with the largest lasting part, since their loads share
// one case.
func worstCategory(site *region.Site, choices *national.Choices) string {
	worst, most := "A", -1.0
	for i := range site.Areas {
		area := &site.Areas[i]
		if area.Kind != "floor" && area.Kind != "deck" || area.Category == "" {
			continue
		}
		letter := strings.ToUpper(area.Category[:1])
		psi, absent := choices.Combinations.Psi.Get(letter)
		if absent != "" {
			return letter // combining says what is not sourced
		}
		if psi.Psi2 > most {
			worst, most = letter, psi.Psi2
		}
	}
	return worst
}

// combinations are the rows of factors over the cases. Winds of several names exclude each other, and so do snows; what the
// document states without a name acts with any of them, since it is all that is known where no names are.
func combinations(site *region.Site, cases []region.Case, choices *national.Choices) ([]region.Combination, working.Absence) {
	var list []ec0.Case
	var at []int // by case of the list: among all
	for i, k := range cases {
		if goesWith(cases, i) != nil {
			continue
		}
		class := string(k.Action)
		category, lasting, _ := strings.Cut(k.Category, ", ")
		if lasting != "" {
			class = lasting
		}
		duration, absent := choices.Durations.Get(class)
		if absent != "" {
			return nil, absent
		}
		one := ec0.Case{ID: shortName(&k), Action: actionOf[k.Action], Category: category, Duration: duration}
		if k.Action == model.Wind || k.Action == model.Snow {
			one.Instead = string(k.Action)
		}
		list, at = append(list, one), append(at, i)
	}
	rows, absent := ec0.Combine(list, choices, ec0.Site{Altitude: site.Altitude.Value / 1e3})
	if absent != "" {
		return nil, absent
	}
	var out []region.Combination
	for _, row := range rows {
		if state, used := stateOf[row.State]; used {
			out = append(out, region.Combination{ID: row.ID, State: state, Factors: over(cases, at, row.Factors), Duration: row.Duration.String()})
		}
	}
	return out, ""
}

// goesWith is the named cases that an unnamed wind or snow acts with, each in turn; nil where it stands for itself.
func goesWith(cases []region.Case, i int) (named []int) {
	k := &cases[i]
	if k.Name != "" || k.Action != model.Wind && k.Action != model.Snow {
		return nil
	}
	for j := range cases {
		if cases[j].Action == k.Action && cases[j].Name != "" {
			named = append(named, j)
		}
	}
	return named
}

// over spreads factors of some of the cases, whose places among all are given, over all.
func over(cases []region.Case, at []int, factors []float64) []float64 {
	out := make([]float64, len(cases))
	for j, i := range at {
		out[i] = factors[j]
	}
	for i := range cases {
		for _, j := range goesWith(cases, i) {
			out[i] = max(out[i], out[j])
		}
	}
	return out
}

// shortName tells the cases of one action apart in the name of a combination: imposed (floor), imposed (ceiling), wind (west).
func shortName(k *region.Case) string {
	switch {
	case k.Name != "":
		return k.Name
	case k.Kind != "":
		return k.Kind
	case k.Action == model.Imposed:
		return "floor"
	}
	return string(k.Action)
}

// plainSums are unfactored sums for a place whose factors are not sourced: they take loads to the ground and judge nothing.
func plainSums(cases []region.Case) []region.Combination {
	var out []region.Combination
	row := func(id string, takes func(k *region.Case) bool) {
		factors := make([]float64, len(cases))
		for i := range cases {
			if cases[i].Permanent || takes(&cases[i]) {
				factors[i] = 1
			}
		}
		out = append(out, region.Combination{ID: id, State: region.Characteristic, Factors: factors})
	}
	row("dead", func(*region.Case) bool { return false })
	for i := range cases {
		if !cases[i].Permanent {
			row("dead + "+strings.ReplaceAll(cases[i].ID, "_", " "), func(k *region.Case) bool {
				unnamed := k.Action == cases[i].Action && k.Name == "" && (k.Action == model.Wind || k.Action == model.Snow)
				return k == &cases[i] || unnamed
			})
		}
	}
	return out
}
