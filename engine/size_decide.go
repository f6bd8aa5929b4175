package engine

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
)

// decide offers the options that no finding speaks against, and says what is against the others. That the region failed for all
// that are left is said once.
func (z *sizer) decide(out *sizing.Choice, failed error) {
	out.Kept, out.Tried = z.kept, len(z.tries)
	standing := z.standing()
	for _, f := range z.now.findings {
		if standing[f.ID] {
			out.Standing = append(out.Standing, failure(&f))
		}
	}
	out.Now = z.now.Option
	out.Now.Failing = z.failing(z.now, standing)
	for _, t := range z.tries {
		if t.err != nil {
			if t.err != failed {
				out.Incomplete = append(out.Incomplete, t.Section+" "+t.Grade+": "+t.err.Error())
			}
			continue
		}
		o := t.Option
		o.Failing, o.Notes = z.failing(t, standing), z.notes(t)
		if len(o.Failing) == 0 {
			out.Offered = append(out.Offered, o)
		} else {
			out.Refused = append(out.Refused, o)
		}
	}
	slices.SortStableFunc(out.Offered, byMass)
	slices.SortStableFunc(out.Refused, byMass)
	out.Incomplete = slices.Compact(out.Incomplete)
	for _, m := range []struct {
		merit   sizing.Merit
		measure func(*sizing.Option) model.Quantity
	}{
		{sizing.Lightest, func(o *sizing.Option) model.Quantity { return o.Mass }},
		{sizing.Cheapest, func(o *sizing.Option) model.Quantity { return o.Price }},
		{sizing.Shallowest, func(o *sizing.Option) model.Quantity { return model.Given(o.Depth) }},
	} {
		out.Below = append(out.Below, best(out, m.merit, m.measure)...)
	}
}

// best marks the offered option that has least of a measure, and finds the refused one with the next less.
func best(out *sizing.Choice, merit sizing.Merit, measure func(*sizing.Option) model.Quantity) []sizing.Below {
	least := -1
	for i := range out.Offered {
		if q := measure(&out.Offered[i]); q.Known && (least < 0 || q.Value < measure(&out.Offered[least]).Value-1e-9) {
			least = i
		}
	}
	if least < 0 {
		return nil
	}
	chosen := &out.Offered[least]
	chosen.Best = append(chosen.Best, merit)
	below := -1
	for i := range out.Refused {
		q := measure(&out.Refused[i])
		if !q.Known || q.Value >= measure(chosen).Value-1e-9 {
			continue
		}
		if below < 0 || q.Value > measure(&out.Refused[below]).Value {
			below = i
		}
	}
	if below < 0 {
		return nil
	}
	return []sizing.Below{{Merit: merit, Option: out.Refused[below]}}
}

// standing is the findings on the member that its size has nothing to do with: they are there as it is and at twice its
// size, with the same figures, and with every option. Nothing that fails for its strength stays the same.
func (z *sizer) standing() map[string]bool {
	out := map[string]bool{}
	twice := byID(z.doubled.findings)
	for i := range z.now.findings {
		f := &z.now.findings[i]
		if f.Member != z.place.Mark || !counts(f) {
			continue
		}
		if other := twice[f.ID]; other != nil && sameFinding(f, other) {
			out[f.ID] = true
		}
	}
	for _, t := range z.tries {
		has := byID(t.findings)
		for id := range out {
			if has[id] == nil && t.err == nil {
				delete(out, id)
			}
		}
	}
	return out
}

func byID(list []finding.Finding) map[string]*finding.Finding {
	out := make(map[string]*finding.Finding, len(list))
	for i := range list {
		out[list[i].ID] = &list[i]
	}
	return out
}

// counts says whether a finding speaks against an option: notes do not.
func counts(f *finding.Finding) bool { return f.Severity != finding.Note }

// sameFinding says whether two findings of one rule at one place say the same.
func sameFinding(a, b *finding.Finding) bool {
	if a.Outcome != b.Outcome || a.Reason != b.Reason || a.Severity != b.Severity {
		return false
	}
	if a.Found == nil && b.Found == nil {
		return finding.SameFacts(a, b)
	}
	return sameFigure(a.Found, b.Found) && sameFigure(a.Required, b.Required)
}

func sameFigure(a, b *finding.Figure) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(a.Value-b.Value) <= 1e-6*max(math.Abs(a.Value), math.Abs(b.Value))
}

// failing lists what speaks against an option: every finding on the member that its size decides, and on others every one
// that the member as it stands does not bring.
func (z *sizer) failing(t *try, standing map[string]bool) []sizing.Failure {
	type outcome struct {
		id string
		is finding.Outcome
	}
	before := map[outcome]bool{}
	for i := range z.now.findings {
		before[outcome{z.now.findings[i].ID, z.now.findings[i].Outcome}] = true
	}
	var out []sizing.Failure
	if t.stock != nil {
		length := z.base.Down.Frame.Shapes[z.member].Length
		if _, long := ordered(t.stock, length); !long {
			most := slices.Max(t.stock.Lengths)
			out = append(out, sizing.Failure{Rule: "stock", Title: "Length that is sold", Member: z.place.Mark, Outcome: finding.NotMet, Severity: finding.Stop,
				Message:  fmt.Sprintf("it is %s long, and the longest that is stocked is %s", z.base.Print(length, model.Length), z.base.Print(most, model.Length)),
				Found:    &finding.Figure{Value: most, Dimension: model.Length},
				Required: &finding.Figure{Value: length, Dimension: model.Length}})
		}
	}
	for i := range t.findings {
		f := &t.findings[i]
		own := f.Member == z.place.Mark
		if !counts(f) || own && standing[f.ID] {
			continue
		}
		if !own && before[outcome{f.ID, f.Outcome}] {
			continue
		}
		out = append(out, failure(f))
	}
	slices.SortStableFunc(out, func(a, b sizing.Failure) int {
		return cmp.Or(cmp.Compare(a.Severity.Rank(), b.Severity.Rank()), cmp.Compare(excess(b), excess(a)))
	})
	return out
}

// excess is by how much what was found is off what is required.
func excess(f sizing.Failure) float64 {
	if f.Found == nil || f.Required == nil || f.Required.Value == 0 {
		return 0
	}
	return math.Abs(math.Log(max(1e-9, f.Found.Value/f.Required.Value)))
}

func failure(f *finding.Finding) sizing.Failure {
	return sizing.Failure{Rule: f.Rule, Title: f.Title, Member: f.Member, Message: f.Message, Outcome: f.Outcome, Severity: f.Severity,
		Found: f.Found, Required: f.Required}
}

// notes lists what is noted of an option and not of the member as it stands.
func (z *sizer) notes(t *try) []string {
	before := byID(z.now.findings)
	var out []string
	for i := range t.findings {
		if f := &t.findings[i]; f.Severity == finding.Note && f.Outcome == finding.NotMet && f.Member == z.place.Mark && before[f.ID] == nil {
			out = append(out, f.Message)
		}
	}
	return out
}
