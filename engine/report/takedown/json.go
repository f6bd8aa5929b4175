package takedown

import (
	"io"
	"math"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/statics"
)

// jsonPrinter prints every piece; kN, kNm and mm, keyed by case. A case without any push is left out of "horizontal" (along the
// member in plan), "across" (to the left of that) and "ground_push" (on a ground member, along the axes of the plan), one without
// load that stopped short out of "unresolved".
type jsonPrinter struct{}

type (
	byCase[T any] map[string]T
	number        = report.Number
)

type jsonSheet struct {
	Members    map[string]jsonMember       `json:"members"`
	Ground     map[string]byCase[number]   `json:"ground"`
	GroundPush map[string]byCase[jsonPush] `json:"ground_push"`
	Increases  []jsonIncrease              `json:"increases,omitempty"`
	Applied    byCase[number]              `json:"applied"`
	Unresolved byCase[number]              `json:"unresolved"`
	Imbalance  number                      `json:"imbalance"`
	Notes      []string                    `json:"notes"`
	Caution    string                      `json:"caution"`
}

// jsonIncrease is a piece that stood before the work and carries more after it. Where nothing acted on it before, no case of
// per_cent is known.
type jsonIncrease struct {
	Piece   string         `json:"piece"`
	Before  byCase[number] `json:"before"`
	After   byCase[number] `json:"after"`
	PerCent byCase[number] `json:"per_cent"`
}

type jsonMember struct {
	Pieces []jsonPiece `json:"pieces"`
}

type jsonPiece struct {
	Piece      string            `json:"piece"`
	Supports   []jsonSupport     `json:"supports"`
	Moment     byCase[jsonRange] `json:"moment"`
	Shear      byCase[jsonRange] `json:"shear"`
	Axial      byCase[jsonRange] `json:"axial"`
	Deflection byCase[jsonRange] `json:"deflection"`
	Roller     byCase[number]    `json:"roller,omitempty"`    // movement of the end that slides, along the plan direction, mm
	HeadPush   byCase[number]    `json:"head_push,omitempty"` // on a strut's head by what it props, along its plan direction
	// Why there are no reactions, or no deflection.
	Unsolved     string `json:"unsolved,omitempty"`
	NoDeflection string `json:"no_deflection,omitempty"`
}

type jsonSupport struct {
	On         string         `json:"on"`
	At         number         `json:"at"`
	Vertical   byCase[number] `json:"vertical"`
	Horizontal byCase[number] `json:"horizontal"`
	Across     byCase[number] `json:"across,omitempty"`
}

// jsonPush is a level force along the axes of the plan.
type jsonPush struct {
	X number `json:"x"`
	Y number `json:"y"`
}

type jsonRange struct {
	Max   number `json:"max"`
	MaxAt number `json:"max_at"`
	Min   number `json:"min"`
	MinAt number `json:"min_at"`
}

func (jsonPrinter) Print(w io.Writer, s Sheet) error {
	l := s.Listing
	out := jsonSheet{
		Members: map[string]jsonMember{}, Ground: map[string]byCase[number]{}, GroundPush: map[string]byCase[jsonPush]{},
		Applied: every(l.Cases, l.Applied), Unresolved: some(l.Cases, l.Unresolved),
		Imbalance: number(l.Imbalance), Notes: append([]string{}, l.Notes...), Caution: finding.Caution,
	}
	for _, m := range l.Members {
		pieces := []jsonPiece{}
		for _, p := range m.Pieces {
			pieces = append(pieces, pieceOf(l.Cases, p))
		}
		out.Members[m.Mark] = jsonMember{pieces}
	}
	for _, g := range l.Ground {
		out.Ground[g.Mark] = every(l.Cases, g.Total)
		for c, name := range l.Cases {
			if !pushes([]float64{g.X[c], g.Y[c]}) {
				continue
			}
			if out.GroundPush[g.Mark] == nil {
				out.GroundPush[g.Mark] = byCase[jsonPush]{}
			}
			out.GroundPush[g.Mark][name] = jsonPush{report.KN(clean(g.X[c])), report.KN(clean(g.Y[c]))}
		}
	}
	for _, i := range l.Increases {
		more := jsonIncrease{i.Piece, every(l.Cases, i.Before), every(l.Cases, i.After), byCase[number]{}}
		for c, name := range l.Cases {
			if ratio, known := i.Ratio(c); known {
				more.PerCent[name] = number(100 * ratio)
			}
		}
		out.Increases = append(out.Increases, more)
	}
	return report.WriteJSON(w, out)
}

func pieceOf(cases []string, p statics.ListedPiece) jsonPiece {
	out := jsonPiece{
		Piece: p.Piece, Supports: []jsonSupport{},
		Moment: ranges(cases, p.Moment, 1e6), Shear: ranges(cases, p.Shear, 1e3), Axial: ranges(cases, p.Axial, 1e3),
		Deflection: ranges(cases, p.Deflection, 1), Unsolved: p.Unsolved, NoDeflection: p.NoStiff,
	}
	if len(p.HeadPush) > 0 {
		out.HeadPush = some(cases, p.HeadPush)
	}
	for i, v := range p.Roller {
		if i == 0 {
			out.Roller = byCase[number]{}
		}
		out.Roller[cases[i]] = number(clean(v))
	}
	for _, s := range p.Supports {
		out.Supports = append(out.Supports, jsonSupport{s.On, number(s.At), every(cases, s.Vertical), some(cases, s.Horizontal), some(cases, s.Across)})
	}
	return out
}

// every keys forces (N) by case, in kN.
func every(cases []string, forces []float64) byCase[number] {
	out := byCase[number]{}
	for i, v := range forces {
		out[cases[i]] = report.KN(clean(v))
	}
	return out
}

// some leaves out what is nothing but rounding: less than a thousandth of a newton.
func some(cases []string, forces []float64) byCase[number] {
	out := every(cases, forces)
	for i, v := range forces {
		if math.Abs(v) < 1e-3 {
			delete(out, cases[i])
		}
	}
	return out
}

func ranges(cases []string, list []statics.Range, unit float64) byCase[jsonRange] {
	out := byCase[jsonRange]{}
	for i, r := range list {
		out[cases[i]] = jsonRange{number(clean(r.Max) / unit), number(r.MaxAt), number(clean(r.Min) / unit), number(r.MinAt)}
	}
	return out
}
