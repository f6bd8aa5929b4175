package eurocode

import (
	"fmt"
	"strconv"

	"example.com/scantling/plugins/eurocode/ec0"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/region"
)

// persons are the combinations in which a person stands on the member: the point load of EN 1991-1-1 6.3.1.2(4), 6.3.4.2, or one
// that the document gives the member itself, in place of the imposed load. They are there where a load that was filled in
// has one or a member states one.
func persons(stated bool, loads []region.AreaLoad, cases []region.Case, choices *national.Choices) []region.Combination {
	heavy := stated
	for i := range loads {
		heavy = heavy || loads[i].Point > 0
	}
	if !heavy {
		return nil
	}
	row := func(id string, state region.LimitState, permanent, moving float64) region.Combination {
		out := region.Combination{ID: id, State: state, Factors: make([]float64, len(cases)), Moving: moving, Duration: national.ShortTerm.String()}
		for i := range cases {
			if cases[i].Permanent {
				out.Factors[i] = permanent
			}
		}
		return out
	}
	var out []region.Combination
	variable, absent := choices.Combinations.GammaQ.Get()
	factored := func(state region.LimitState, prefix string, of *national.Value) {
		if permanent, unknown := of.Get(); unknown == "" && absent == "" {
			g := strconv.FormatFloat(permanent, 'g', 4, 64)
			out = append(out, row(fmt.Sprintf("%s%s dead + %g person", prefix, g, variable), state, permanent, variable))
		}
	}
	factored(region.Strength, "", &choices.Combinations.GammaGSup)
	factored(region.Stability, ec0.Uplift.String()+" ", &choices.Combinations.GammaGEquInf)
	return append(out, row("dead + person", region.Characteristic, 1, 1))
}
