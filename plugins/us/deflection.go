package us

import (
	"math"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/us/irc"
	"example.com/scantling/plugins/us/nds"
)

// steep is a slope of 3 in 12, radians: rafters above it may sag more (R301.7).
var steep = math.Atan(3.0 / 12)

// limit is n of the limit span / n of R301.7 for the piece: the strictest of what it carries.
func (p *piece) limit() float64 {
	all, i := &p.Pieces, p.index
	carries := strings.Split(p.word(all.Carries[i]), ",")
	parts := []irc.Part{}
	if all.Brittle[i] {
		parts = append(parts, irc.BrittleCeiling)
	}
	for _, kind := range carries {
		switch strings.TrimSpace(kind) {
		case "floor", "deck", "loft":
			parts = append(parts, irc.Floor)
		case "ceiling":
			parts = append(parts, irc.FlexibleCeiling)
		}
	}
	switch p.role {
	case model.RoleFloorJoist:
		parts = append(parts, irc.Floor)
	case model.RoleCeilingJoist:
		parts = append(parts, irc.FlexibleCeiling)
	case model.RoleRafter, model.RoleJackRafter, model.RoleHipRafter, model.RoleValleyRafter:
		if all.Slope[i] > steep*(1+slack) {
			parts = append(parts, irc.BareRafter)
			break
		}
		parts = append(parts, irc.Other)
	default:
		parts = append(parts, irc.Other)
	}
	strictest := 0.0
	for _, part := range parts {
		if n, err := irc.DeflectionLimit(part); err == nil {
			strictest = math.Max(strictest, n)
		}
	}
	return strictest
}

// deflection checks the sag under variable load alone, as R301.7 has it: live loads and snow as each combination has them
// together, wind by itself. What each case does at its own worst is added up, to the safe side.
func (p *piece) deflection() outcome {
	o := nothing()
	if p.column {
		return o // a post does not sag
	}
	if p.spans.first == p.spans.last {
		return outcome{reason: noForces}
	}
	if p.bends() && !p.sags() {
		return outcome{reason: "deflection: it could not be worked out; state what its section and grade leave open"}
	}
	n := p.limit()
	for r := p.spans.first; r < p.spans.last; r++ {
		length := p.Spans.To[r] - p.Spans.From[r]
		if p.Spans.Overhang[r] {
			if p.followsSpan(r) {
				continue
			}
			length *= 2 // R301.7: the span of a cantilever is twice its length (memory)
		}
		worst, sag := 0, 0.0
		for k := range int(p.Combinations) {
			if v := p.variable(r, k); v > sag {
				worst, sag = k, v
			}
		}
		check, err := p.member.Deflection(nds.Deflection{ShortTerm: sag, Limit: length / n})
		o.take(check, err, int32(worst), -1, p.Spans.From[r])
	}
	return o
}

// followsSpan tells whether an overhang is so short that the check of the span behind it serves: up to a third of that span,
// even load bends it down by less of twice its length than it bends the span of its own (r2 (4 + 3 r) / 48 against 5 / 384, r
// the one over the other). That its tip lifts when the span is loaded is no sag.
func (p *piece) followsSpan(overhang int) bool {
	for r := p.contacts.first; r < p.contacts.last; r++ {
		if at := p.Contacts.At[r]; p.Contacts.Landing[r] && at >= p.Spans.From[overhang]-near && at <= p.Spans.To[overhang]+near {
			return false
		}
	}
	behind := 0.0
	for _, r := range []int{overhang - 1, overhang + 1} {
		if r >= p.spans.first && r < p.spans.last && !p.Spans.Overhang[r] {
			behind = p.Spans.To[r] - p.Spans.From[r]
		}
	}
	return 3*(p.Spans.To[overhang]-p.Spans.From[overhang]) <= behind
}

// variable is what a stretch sags by under the live loads and snow of a combination, or under its wind if that is more, mm.
func (p *piece) variable(span, combination int) float64 {
	gravity, wind := p.Preparation.Combinations[combination].Moving*p.Spans.MoveDeflect[span], 0.0
	for i, c := range p.Preparation.Cases {
		sag := p.Preparation.Combinations[combination].Factors[i] * math.Abs(p.Spans.CaseDeflect[span*int(p.Cases)+i])
		switch {
		case c.Permanent:
		case c.Action == model.Wind:
			wind += sag
		default:
			gravity += sag
		}
	}
	return math.Max(gravity, wind)
}

// bends tells whether a moment is known along the piece; sags whether a deflection is.
func (p *piece) bends() bool {
	for k := p.stations.first * int(p.Combinations); k < p.stations.last*int(p.Combinations); k++ {
		if math.Abs(p.Stations.M[k]) > tiny {
			return true
		}
	}
	return false
}

func (p *piece) sags() bool {
	for k := p.spans.first * int(p.Cases); k < p.spans.last*int(p.Cases); k++ {
		if p.Spans.CaseDeflect[k] != 0 {
			return true
		}
	}
	return false
}
