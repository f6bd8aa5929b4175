package eurocode

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/region"
)

// aPerson ends the names of the combinations in which a person stands on the member: the movable point load of EN 1991-1-1
// 6.3.1.2(4), 6.3.4.2, or one that the document gives the member itself, in place of the imposed load. Their factors are those of the permanent load; what the person does is added
// piece by piece, since he stands where it is worst and is not passed on.
const aPerson = " person"

// persons are the combinations with a person, where a load that was filled in has one or a member states one of its own.
func persons(stated bool, loads []region.AreaLoad, cases []region.Case, choices *national.Choices) []region.Combination {
	heavy := stated
	for i := range loads {
		heavy = heavy || loads[i].Point > 0
	}
	permanent, absent := choices.Combinations.GammaGSup.Get()
	if !heavy || absent != "" {
		return nil
	}
	variable, absent := choices.Combinations.GammaQ.Get()
	if absent != "" {
		return nil
	}
	row := func(id string, state region.LimitState, factor float64) region.Combination {
		out := region.Combination{ID: id, State: state, Factors: make([]float64, len(cases)), Duration: national.ShortTerm.String()}
		for i := range cases {
			if cases[i].Permanent {
				out.Factors[i] = factor
			}
		}
		return out
	}
	g := strconv.FormatFloat(permanent, 'g', 4, 64)
	return []region.Combination{
		row(fmt.Sprintf("%s G + %g%s", g, variable, aPerson), region.Strength, permanent),
		row("G +"+aPerson, region.Characteristic, 1),
	}
}

// standing is the weight in N of the person that the combinations with one put on a piece, without its partial factor.
func (j *judge) standing(m *member) float64 {
	if m.upright || m.bedded {
		return 0
	}
	p := &j.b.Pieces
	shared := p.Repetitive[m.i] && p.Deck[m.i] > 0 // the deck spreads it over the joists (common practice after BS 6399-1, memory)
	weight := m.movable
	for kind := range strings.SplitSeq(p.Words[p.Carries[m.i]], ",") {
		if !shared || kind != "floor" && kind != "deck" {
			weight = max(weight, j.points[strings.TrimSpace(kind)])
		}
	}
	return weight
}

// stand adds a weight in N, square to the piece, to a point: that of a person standing where it is worst for it. A continuous piece is taken for a row of
// single spans, which is on the safe side.
func (j *judge) stand(p *point, weight float64) {
	if p.span < 0 || weight == 0 {
		return
	}
	from, to := j.b.Spans.From[p.span], j.b.Spans.To[p.span]
	length := to - from
	before, after := p.at-from, to-p.at
	if length <= 0 || before < 0 || after < 0 {
		return
	}
	if j.b.Spans.Overhang[p.span] {
		arm := after
		if from == 0 {
			arm = before
		}
		p.m -= weight * arm
		p.v += math.Copysign(weight, p.v)
		return
	}
	p.m += weight * before * after / length
	p.v += math.Copysign(weight*max(before, after)/length, p.v)
}
