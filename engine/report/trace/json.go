package trace

import (
	"io"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// jsonPrinter prints every hop; kN and mm, keyed by case.
type jsonPrinter struct{}

type byCase map[string]report.Number

type jsonSheet struct {
	Member   string        `json:"member"`
	Role     string        `json:"role"`
	Drawings []string      `json:"drawings"`
	Pieces   []jsonPiece   `json:"pieces"`
	Hardest  string        `json:"hardest,omitempty"`
	Own      jsonForce     `json:"own"`
	Landed   jsonForce     `json:"landed"`
	Down     []jsonHop     `json:"down"`
	Up       []jsonHop     `json:"up"`
	Ground   []jsonArrival `json:"ground"`
	Notes    []string      `json:"notes"`
	Caution  string        `json:"caution"`
}

type jsonPiece struct {
	Piece    string        `json:"piece"`
	Supports []jsonSupport `json:"supports"`
	Unsolved string        `json:"unsolved,omitempty"`
}

type jsonSupport struct {
	On       string        `json:"on"`
	At       report.Number `json:"at"`
	Vertical byCase        `json:"vertical"`
}

type jsonForce struct {
	Cases byCase       `json:"cases"`
	Most  *jsonExtreme `json:"most,omitempty"`
	Lift  *jsonExtreme `json:"lift,omitempty"` // upwards
}

type jsonExtreme struct {
	Value report.Number `json:"value"`
	Under string        `json:"under"`
}

type jsonShare struct {
	Cases byCase        `json:"cases"`
	Most  report.Number `json:"most"`
}

type jsonHop struct {
	From     string         `json:"from"`
	To       string         `json:"to"`
	Way      Way            `json:"way"`
	Ground   bool           `json:"ground"`
	Places   int            `json:"places"`
	At       *report.Number `json:"at,omitempty"`
	Load     jsonForce      `json:"load"`
	Through  *jsonShare     `json:"through,omitempty"`
	Own      *jsonShare     `json:"own,omitempty"`
	Sideways byCase         `json:"sideways,omitempty"`
	Hardest  *jsonPlace     `json:"hardest,omitempty"`
}

type jsonPlace struct {
	Piece string        `json:"piece"`
	At    report.Number `json:"at"`
	Most  *jsonExtreme  `json:"most,omitempty"`
	Lift  *jsonExtreme  `json:"lift,omitempty"`
}

type jsonArrival struct {
	Member  string    `json:"member"`
	Total   jsonForce `json:"total"`
	Through jsonShare `json:"through"`
	Own     jsonShare `json:"own"`
}

func (jsonPrinter) Print(w io.Writer, s Sheet) error {
	k := keyed(s.Cases)
	out := jsonSheet{
		Member: s.Name, Role: s.Member.Role, Drawings: append([]string{}, s.Drawings...), Pieces: []jsonPiece{}, Hardest: s.Hardest,
		Own: k.force(s.Own), Landed: k.force(s.Landed), Down: k.hops(s.Down), Up: k.hops(s.Up), Ground: []jsonArrival{},
		Notes: append([]string{}, s.Notes...), Caution: finding.Caution,
	}
	for _, p := range s.Member.Pieces {
		piece := jsonPiece{Piece: p.Piece, Supports: []jsonSupport{}, Unsolved: p.Unsolved}
		for _, at := range p.Supports {
			piece.Supports = append(piece.Supports, jsonSupport{at.On, report.Number(at.At), k.cases(at.Vertical)})
		}
		out.Pieces = append(out.Pieces, piece)
	}
	for _, a := range s.Ground {
		out.Ground = append(out.Ground, jsonArrival{a.Mark, k.force(a.Total), *k.share(a.Through), *k.share(a.Own)})
	}
	return report.WriteJSON(w, out)
}

// keyed prints figures by the cases' names.
type keyed []string

func (k keyed) cases(values []float64) byCase {
	out := byCase{}
	for c, v := range values {
		out[k[c]] = report.KN(v)
	}
	return out
}

func (k keyed) force(f Force) jsonForce {
	out := jsonForce{Cases: k.cases(f.Cases), Most: extreme(f.Most)}
	if f.Least.Value < -small {
		out.Lift = extreme(Extreme{-f.Least.Value, f.Least.Under})
	}
	return out
}

func extreme(e Extreme) *jsonExtreme {
	if e.Under == "" {
		return nil
	}
	return &jsonExtreme{report.KN(e.Value), e.Under}
}

func (k keyed) share(s Share) *jsonShare {
	return &jsonShare{k.cases(s.Cases), report.KN(s.Most)}
}

func (k keyed) hops(hops []Hop) []jsonHop {
	out := []jsonHop{}
	for i := range hops {
		h := &hops[i]
		j := jsonHop{From: h.From, To: h.To, Way: h.Way, Ground: h.Ground, Places: h.Places, Load: k.force(h.Load)}
		if h.Places == 1 && h.At >= 0 {
			at := report.Number(h.At)
			j.At = &at
		}
		if h.Through.Cases != nil {
			j.Through, j.Own = k.share(h.Through), k.share(h.Own)
		}
		if pushes(h.Sideways) {
			j.Sideways = k.cases(h.Sideways)
		}
		if p := h.Hardest; p.Piece != "" {
			j.Hardest = &jsonPlace{Piece: p.Piece, At: report.Number(p.At), Most: extreme(p.Most)}
			if p.Least.Value < -small {
				j.Hardest.Lift = extreme(Extreme{-p.Least.Value, p.Least.Under})
			}
		}
		out = append(out, j)
	}
	return out
}
