package statics

import (
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// DefaultCombinations are plain sums for runs without a region: everything together, the permanent load with each variable case
// alone, and with what may stand anywhere in place of the imposed load. They serve for uplift and for what arrives at the
// ground, never for strength.
func DefaultCombinations(cases []region.Case) []region.Combination {
	var out []region.Combination
	add := func(names []string, use func(c *region.Case) bool) {
		k := region.Combination{ID: strings.Join(names, " + "), State: region.Characteristic, Factors: make([]float64, len(cases))}
		for i := range cases {
			if use(&cases[i]) {
				k.Factors[i] = 1
			}
		}
		out = append(out, k)
	}
	var permanent []string
	for i := range cases {
		if cases[i].Permanent {
			permanent = append(permanent, cases[i].ID)
		}
	}
	if len(permanent) > 0 {
		add(permanent, func(c *region.Case) bool { return c.Permanent })
	}
	var gravity []string
	for i := range cases {
		c := &cases[i]
		if c.Permanent {
			continue
		}
		add(append(permanent[:len(permanent):len(permanent)], c.ID), func(o *region.Case) bool {
			unnamed := o.Action == c.Action && o.Name == "" && (o.Action == model.Wind || o.Action == model.Snow) // all that is known elsewhere
			return o.Permanent || o == c || unnamed
		})
		if c.Action != model.Wind && c.Action != model.RoofImposed {
			gravity = append(gravity, c.ID)
		}
	}
	if len(gravity) > 1 {
		add(append(permanent[:len(permanent):len(permanent)], gravity...), func(c *region.Case) bool {
			return c.Permanent || c.Action != model.Wind && c.Action != model.RoofImposed
		})
	}
	add(append(permanent[:len(permanent):len(permanent)], "a person"), func(c *region.Case) bool { return c.Permanent })
	out[len(out)-1].Moving = 1
	return out
}
