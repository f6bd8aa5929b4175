package region

import (
	"slices"

	"example.com/scantling/model"
)

// Gap is an area that states loads of an action by name, but not of every name that areas give that action: under a case of
// one of those names none acts on it.
type Gap struct {
	Area  *Area
	Names []string // in alphabetical order
}

// Gaps of an action, in the order of the areas. What an area states without a name acts in every case and leaves no gap.
func (s *Site) Gaps(action model.Action) (out []Gap) {
	named := func(a *Area) (names []string) {
		for _, l := range a.Loads {
			if l.Action == action && l.Name != "" {
				names = append(names, l.Name)
			}
		}
		return names
	}
	var all []string
	for i := range s.Areas {
		all = append(all, named(&s.Areas[i])...)
	}
	slices.Sort(all)
	all = slices.Compact(all)
	for i := range s.Areas {
		area := &s.Areas[i]
		own := named(area)
		lacks := slices.DeleteFunc(slices.Clone(all), func(name string) bool { return slices.Contains(own, name) })
		if len(own) > 0 && len(lacks) > 0 {
			out = append(out, Gap{area, lacks})
		}
	}
	return out
}
