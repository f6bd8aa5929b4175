package size

import (
	"io"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
)

// choiceJSON prints a choice; lengths in mm, masses in kg.
type choiceJSON struct{}

type jsonOption struct {
	Section string         `json:"section"`
	Grade   string         `json:"grade"`
	Centres *report.Number `json:"centres"`
	Pieces  int            `json:"pieces"`
	Depth   report.Number  `json:"depth"`
	Mass    *report.Number `json:"mass"`  // of all pieces
	Price   *report.Number `json:"price"` // of all pieces
	Ratio   *report.Number `json:"ratio"` // demand over capacity
	Governs string         `json:"governs"`
	Best    []string       `json:"best"`
	Failing []jsonFailure  `json:"failing"`
	Notes   []string       `json:"notes"`
}

type jsonFailure struct {
	Rule     string         `json:"rule"`
	Member   string         `json:"member"`
	Outcome  string         `json:"outcome"`
	Severity string         `json:"severity"`
	Message  string         `json:"message"`
	Found    *report.Figure `json:"found"`
	Required *report.Figure `json:"required"`
}

type jsonBelow struct {
	Best   string     `json:"best"`
	Option jsonOption `json:"option"`
}

type jsonChoice struct {
	Member     string        `json:"member"`
	Role       string        `json:"role"`
	File       string        `json:"file"`
	Region     string        `json:"region"`
	Tried      int           `json:"tried"`
	Centres    string        `json:"centres_kept"` // why, or empty
	Now        jsonOption    `json:"now"`
	Offered    []jsonOption  `json:"offered"`
	Refused    []jsonOption  `json:"refused"`
	NextDown   []jsonBelow   `json:"next_down"`
	Standing   []jsonFailure `json:"standing"`
	Notes      []string      `json:"notes"`
	Loosened   []string      `json:"loosened"`
	Incomplete []string      `json:"incomplete"`
	Caution    string        `json:"caution"`
}

func (choiceJSON) Print(w io.Writer, c *sizing.Choice) error {
	out := jsonChoice{Member: c.Mark, Role: c.Role, File: c.Model.File, Region: c.Region.ID, Tried: c.Tried, Centres: c.Kept, Now: optionOf(&c.Now),
		Offered: options(c.Offered), Refused: options(c.Refused), NextDown: []jsonBelow{}, Standing: failures(c.Standing),
		Notes: append([]string{}, c.Notes...), Loosened: loosened(c.Loosened), Incomplete: append([]string{}, c.Incomplete...), Caution: finding.Caution}
	for i := range c.Below {
		out.NextDown = append(out.NextDown, jsonBelow{string(c.Below[i].Merit), optionOf(&c.Below[i].Option)})
	}
	return report.WriteJSON(w, out)
}

func loosened(list []finding.Loosened) []string {
	out := make([]string, len(list))
	for i, l := range list {
		out[i] = report.LoosenedWords(l)
	}
	return out
}

func options(list []sizing.Option) []jsonOption {
	out := make([]jsonOption, len(list))
	for i := range list {
		out[i] = optionOf(&list[i])
	}
	return out
}

func optionOf(o *sizing.Option) jsonOption {
	out := jsonOption{Section: o.Section, Grade: o.Grade, Centres: number(o.Centres), Pieces: o.Pieces, Depth: report.Number(o.Depth), Mass: number(o.Mass),
		Price: number(o.Price), Ratio: number(o.Use), Governs: o.Governs, Best: []string{}, Failing: failures(o.Failing), Notes: append([]string{}, o.Notes...)}
	for _, m := range o.Best {
		out.Best = append(out.Best, string(m))
	}
	return out
}

func failures(list []sizing.Failure) []jsonFailure {
	out := make([]jsonFailure, len(list))
	for i := range list {
		f := &list[i]
		out[i] = jsonFailure{f.Rule, f.Member, string(f.Outcome), string(f.Severity), f.Message, report.FigureOf(f.Found), report.FigureOf(f.Required)}
	}
	return out
}

func number(q model.Quantity) *report.Number {
	if !q.Known {
		return nil
	}
	n := report.Number(q.Value)
	return &n
}

// rankingJSON prints all members, the most used first, and the marks of those on the edge and those with most to spare.
type rankingJSON struct{}

type jsonRanked struct {
	Member  string        `json:"member"`
	Role    string        `json:"role"`
	Section string        `json:"section"`
	Grade   string        `json:"grade"`
	Piece   string        `json:"piece"`
	Ratio   report.Number `json:"ratio"`
	Governs string        `json:"governs"`
	Case    string        `json:"case"`
}

type jsonRanking struct {
	File       string       `json:"file"`
	Region     string       `json:"region"`
	Members    []jsonRanked `json:"members"`
	Tightest   []string     `json:"tightest"`
	Slackest   []string     `json:"slackest"`
	Unranked   int          `json:"unranked"`
	Loosened   []string     `json:"loosened"`
	Incomplete []string     `json:"incomplete"`
	Caution    string       `json:"caution"`
}

func (rankingJSON) Print(w io.Writer, r *sizing.Ranking) error {
	out := jsonRanking{File: r.Model.File, Region: r.Region.ID, Members: []jsonRanked{}, Tightest: []string{}, Slackest: []string{}, Unranked: r.Unranked, Loosened: loosened(r.Loosened),
		Incomplete: append([]string{}, r.Incomplete...), Caution: finding.Caution}
	for i := range r.Members {
		m := &r.Members[i]
		out.Members = append(out.Members, jsonRanked{m.Mark, m.Role, m.Section, m.Grade, m.Piece, report.Number(m.Use), m.Governs, m.Case})
		if i < shownEachWay {
			out.Tightest = append(out.Tightest, m.Mark)
		}
	}
	for _, m := range slackest(r) {
		out.Slackest = append(out.Slackest, m.Mark)
	}
	return report.WriteJSON(w, out)
}
