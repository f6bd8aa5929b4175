package handover

import (
	"strings"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/compare"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/engine/report/page"
)

// states are what a page draws of verdicts.
var states = map[asbuilt.Verdict]draw.State{
	asbuilt.Stop: draw.Stop, asbuilt.Unchecked: draw.Unchecked, asbuilt.Ask: draw.Ask, asbuilt.Note: draw.Noted, asbuilt.None: draw.Clear,
}

// Against is what a page shows of a comparison: the changes, the gravest first, and the loads that are others.
func Against(c *asbuilt.Comparison) *page.Against {
	u := report.Units(c.Result.Model)
	out := &page.Against{File: c.Built.Model.File, Summary: report.SummaryWords(c.Result.Summary)}
	told := compare.Tell(c)
	for _, verdict := range asbuilt.Verdicts {
		for _, t := range told {
			if t.Verdict == verdict {
				out.Changes = append(out.Changes, changeOf(t))
			}
		}
	}
	for _, shifts := range []struct {
		title string
		list  []asbuilt.Shift
	}{{"What comes down at supports, in the worst characteristic combination", c.KnockOn.Reactions}, {"What arrives at the ground, likewise", c.KnockOn.Ground}} {
		if len(shifts.list) == 0 {
			continue
		}
		s := page.Shifts{Title: shifts.title}
		for _, load := range compare.Shifts(shifts.list, u) {
			s.Loads = append(s.Loads, page.Shift(load))
		}
		out.Shifts = append(out.Shifts, s)
	}
	return out
}

func changeOf(t compare.Told) page.Change {
	kind := t.Heading
	if t.Broken {
		kind = "rule " + t.Rules
	}
	return page.Change{
		Member: t.Subject, Kind: kind, Drawn: t.Drawn, Built: t.Built, State: states[t.Verdict], Message: sentences(t.Said),
		Effect: sentences([]string{t.Ratios, t.Breaks, t.Do}), Evidence: t.Evidence,
	}
}

// sentences puts texts one behind another, each ended.
func sentences(texts []string) string {
	var out strings.Builder
	for _, text := range texts {
		if text == "" {
			continue
		}
		if out.Len() > 0 {
			out.WriteByte(' ')
		}
		out.WriteString(text)
		if !strings.HasSuffix(text, ".") {
			out.WriteByte('.')
		}
	}
	return out.String()
}
