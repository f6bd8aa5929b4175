package compare

import (
	"io"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// jsonPrinter prints the result of the rules on changes as a check prints its own, with the changes, the knock-on and
// what the two frames come to by themselves beside it. Forces are in kN, lengths in mm.
type jsonPrinter struct{}

type jsonComparison struct {
	report.Object
	Drawn   jsonFrame    `json:"drawn"`
	Built   jsonFrame    `json:"built"`
	Changes []jsonChange `json:"changes"`
	KnockOn jsonKnockOn  `json:"knock_on"`
}

// jsonFrame is one of the two frames, checked by itself.
type jsonFrame struct {
	File      string `json:"file"`
	SHA256    string `json:"sha256"`
	Stop      int    `json:"stop"`
	Ask       int    `json:"ask"`
	Note      int    `json:"note"`
	Unchecked int    `json:"unchecked"`
	Complete  bool   `json:"complete"`
}

type jsonChange struct {
	What        string           `json:"what"`
	ID          string           `json:"id"`
	Key         *string          `json:"key"`
	Was         *string          `json:"was"`
	Now         *string          `json:"now"`
	On          *string          `json:"on"` // what a support is on
	Lower       []string         `json:"lower"`
	Higher      []string         `json:"higher"`
	Unranked    *string          `json:"unranked"` // why it cannot be told which are lower
	Strength    *report.Number   `json:"strength_ratio"`
	Stiffness   *report.Number   `json:"stiffness_ratio"`
	Swapped     *bool            `json:"material_differs"` // null: not known
	Moved       *report.Number   `json:"moved"`
	BearingLess *report.Number   `json:"bearing_less"`
	NotchMore   *report.Number   `json:"notch_more"`
	LoadRatio   *report.Number   `json:"load_ratio"`
	LoadMore    *report.Number   `json:"load_more"`
	Rule        *string          `json:"rule"`
	RulesWorse  int              `json:"rules_worse"`
	Evidence    *string          `json:"evidence"`
	Verdict     string           `json:"verdict"`
	Findings    []string         `json:"findings"`
	Location    *report.Location `json:"location"`
}

type jsonKnockOn struct {
	Reactions []jsonShift     `json:"reactions"`
	Ground    []jsonShift     `json:"ground"`
	Phase     []jsonStaged    `json:"phase"`
	Rules     []jsonRuleShift `json:"rules"`
}

type jsonShift struct {
	Member  string         `json:"member"`
	On      *string        `json:"on"`
	Nth     int            `json:"nth"` // of several supports on the same, from 0
	Drawn   *report.Number `json:"drawn"`
	Built   *report.Number `json:"built"`
	More    *report.Number `json:"more"`
	Percent *report.Number `json:"percent"`
}

type jsonStaged struct {
	Member  string         `json:"member"`
	Before  *report.Number `json:"before"`
	Drawn   *report.Number `json:"drawn"`
	Built   *report.Number `json:"built"`
	Percent *report.Number `json:"percent"` // built, more than before
}

type jsonRuleShift struct {
	Member  string  `json:"member"`
	On      *string `json:"on"`
	Rule    string  `json:"rule"`
	Drawn   string  `json:"drawn"`
	Built   string  `json:"built"`
	Message *string `json:"message"`
}

func (jsonPrinter) Print(w io.Writer, c *asbuilt.Comparison) error {
	out := jsonComparison{Object: report.ObjectOf(c.Result, false), Drawn: frameOf(c.Drawn), Built: frameOf(c.Built), Changes: []jsonChange{},
		KnockOn: jsonKnockOn{Reactions: shifts(c.KnockOn.Reactions), Ground: shifts(c.KnockOn.Ground), Phase: []jsonStaged{}, Rules: []jsonRuleShift{}}}
	for i := range c.Changes {
		if shown(&c.Changes[i]) {
			out.Changes = append(out.Changes, changeOf(&c.Changes[i]))
		}
	}
	for i := range c.KnockOn.Phase {
		p := &c.KnockOn.Phase[i]
		out.KnockOn.Phase = append(out.KnockOn.Phase, jsonStaged{p.Mark, kN(p.Before), kN(p.Drawn), kN(p.Built), perCent(p.Before, p.Built)})
	}
	for i := range c.KnockOn.Rules {
		r := &c.KnockOn.Rules[i]
		out.KnockOn.Rules = append(out.KnockOn.Rules, jsonRuleShift{r.Mark, said(r.On), r.Rule, r.Drawn, r.Built, said(r.Message)})
	}
	return report.WriteJSON(w, out)
}

func frameOf(r *finding.Result) jsonFrame {
	s := r.Summary
	return jsonFrame{r.Model.File, r.Model.SHA256, s.Stop, s.Ask, s.Note, s.Unchecked, s.Complete}
}

func changeOf(c *asbuilt.Change) jsonChange {
	out := jsonChange{
		What: string(c.What), ID: c.Mark, Key: said(c.Key), Was: said(c.Was), Now: said(c.Now),
		Lower: append([]string{}, c.Lower...), Higher: append([]string{}, c.Higher...), Unranked: said(c.Unranked),
		Strength: number(c.Strength), Stiffness: number(c.Stiffness),
		Moved: number(c.Moved), BearingLess: number(c.BearingLess), NotchMore: number(c.NotchMore),
		LoadRatio: number(c.LoadRatio), LoadMore: kN(c.LoadMore), Rule: said(c.Rule), RulesWorse: c.RulesWorse,
		Evidence: said(c.Evidence), Verdict: string(c.Verdict), Findings: append([]string{}, c.Findings...),
		Location: report.LocationOf(c.Place),
	}
	if c.SwapUnknown == "" {
		out.Swapped = &c.Swapped
	}
	if c.Support != nil {
		out.On = said(c.Support.On)
	}
	return out
}

func shifts(list []asbuilt.Shift) []jsonShift {
	out := []jsonShift{}
	for i := range list {
		s := &list[i]
		j := jsonShift{Member: s.Mark, On: said(s.On), Nth: s.Nth, Drawn: kN(s.Drawn), Built: kN(s.Built), Percent: perCent(s.Drawn, s.Built)}
		if s.Drawn.Known && s.Built.Known {
			j.More = kN(asbuilt.Known(s.Built.Value - s.Drawn.Value))
		}
		out = append(out, j)
	}
	return out
}

func number(w asbuilt.Worked) *report.Number {
	if !w.Known {
		return nil
	}
	n := report.Number(w.Value)
	return &n
}

func kN(w asbuilt.Worked) *report.Number {
	if !w.Known {
		return nil
	}
	n := report.KN(w.Value)
	return &n
}

func perCent(d, b asbuilt.Worked) *report.Number {
	p, ok := part(d, b)
	if !ok {
		return nil
	}
	n := report.Number(p * 100)
	return &n
}

func said(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}
