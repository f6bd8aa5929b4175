package compare

import (
	"fmt"
	"slices"
	"strings"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
)

// Told is a change in words.
type Told struct {
	Subject, Heading string // what it is of, and what differs
	Drawn, Built     string
	Verdict          asbuilt.Verdict
	Broken           bool     // a rule that was met as drawn and is not as built
	Said             []string // by the rules that mind it, or by the built frame's finding
	Ratios, Breaks   string   // strength and stiffness, where no rule has said them; rules that it breaks
	Do, Rules        string
	Evidence, Place  string
}

// Tell tells every change that is listed, and then the rules that were met as drawn and are not as built.
func Tell(c *asbuilt.Comparison) []Told {
	found, messages := foundOn(c), builtMessages(c)
	var out, rules []Told
	for i := range c.Changes {
		switch ch := &c.Changes[i]; {
		case ch.What == asbuilt.Rule:
			rules = append(rules, tellRule(ch, messages))
		case shown(ch):
			out = append(out, tell(ch, found))
		}
	}
	return append(out, rules...)
}

// Shifted is a load that is another as built, in words.
type Shifted struct{ Where, Drawn, Built, More, Percent string }

// Shifts tells loads at supports or at the ground in the units of the document.
func Shifts(list []asbuilt.Shift, u model.Units) []Shifted {
	out := make([]Shifted, len(list))
	for i := range list {
		out[i] = shiftWords(&list[i], u)
	}
	return out
}

// foundOn is what the rules on changes found, by the ids of the findings.
func foundOn(c *asbuilt.Comparison) map[string]*finding.Finding {
	out := map[string]*finding.Finding{}
	for i := range c.Result.Findings {
		out[c.Result.Findings[i].ID] = &c.Result.Findings[i]
	}
	return out
}

// gravestFirst are the findings of some ids that there are, the gravest first.
func gravestFirst(ids []string, found map[string]*finding.Finding) []*finding.Finding {
	var out []*finding.Finding
	for _, id := range ids {
		if f := found[id]; f != nil {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(a, b *finding.Finding) int { return a.Severity.Rank() - b.Severity.Rank() })
	return out
}

func tell(c *asbuilt.Change, found map[string]*finding.Finding) Told {
	out := Told{Subject: subject(c), Heading: heading(c), Drawn: c.Was, Built: c.Now, Verdict: c.Verdict, Evidence: c.Evidence, Place: report.PlaceWords(c.Place)}
	unchecked := map[string]bool{}
	for _, f := range gravestFirst(c.Findings, found) {
		out.Rules = join(out.Rules, ", ", f.Rule)
		said := f.Message
		if f.Outcome == finding.Unchecked {
			if unchecked[f.Reason] {
				continue // several rules lack the same: the gravest of them has said so
			}
			unchecked[f.Reason] = true
			said = fmt.Sprintf("Not checked (would be %s), because %s", f.Severity, f.Reason)
		}
		out.Said, out.Do = append(out.Said, said), join(out.Do, " ", f.Action)
	}
	if (c.Verdict == asbuilt.Note || len(c.Findings) == 0) && c.Strength.Known && c.Stiffness.Known {
		out.Ratios = strings.TrimPrefix(c.Ratios(), "it is ")
	}
	if c.RulesWorse > 0 {
		out.Breaks = fmt.Sprintf("%s on it, or on what it meets, met as drawn and not as built", report.Counted(c.RulesWorse, "rule"))
	}
	if out.Evidence == "" {
		out.Evidence = "none: nobody is said to have seen it"
	}
	return out
}

// tellRule tells a rule that was met as drawn and is not as built.
func tellRule(c *asbuilt.Change, messages map[string]string) Told {
	out := Told{Subject: subject(c), Heading: heading(c), Drawn: outcome(c.Was), Built: outcome(c.Now), Verdict: c.Verdict, Broken: true, Rules: c.Rule, Place: report.PlaceWords(c.Place)}
	on := ""
	if c.Support != nil {
		on = c.Support.On
	}
	if said := messages[c.Rule+" "+c.Mark+" "+on]; said != "" {
		out.Said = []string{said}
	}
	return out
}

// builtMessages is what the built frame's findings say, by rule, mark and support.
func builtMessages(c *asbuilt.Comparison) map[string]string {
	out := map[string]string{}
	for i := range c.KnockOn.Rules {
		r := &c.KnockOn.Rules[i]
		out[r.Rule+" "+r.Mark+" "+r.On] = r.Message
	}
	return out
}

func shiftWords(s *asbuilt.Shift, u model.Units) Shifted {
	out := Shifted{Where: s.Mark, Drawn: force(s.Drawn, u), Built: force(s.Built, u), More: "-", Percent: percent(s.Drawn, s.Built)}
	if s.On != "" {
		out.Where += " on " + s.On
	}
	if s.Nth > 0 {
		out.Where += fmt.Sprintf(" (support %d)", s.Nth+1)
	}
	if s.Drawn.Known && s.Built.Known {
		out.More = model.Format(s.Built.Value-s.Drawn.Value, model.Force, u)
		if s.Built.Value > s.Drawn.Value {
			out.More = "+" + out.More
		}
	}
	return out
}

func force(w asbuilt.Worked, u model.Units) string {
	if !w.Known {
		return orDash(w.Why)
	}
	return model.Format(w.Value, model.Force, u)
}

// orDash is a short reason, or a dash.
func orDash(why string) string {
	if why == "" || len(why) > 12 {
		return "-"
	}
	return why
}

// join puts a text behind another, once.
func join(list, with, text string) string {
	switch {
	case text == "" || strings.Contains(list, text):
		return list
	case list == "":
		return text
	}
	return list + with + text
}
