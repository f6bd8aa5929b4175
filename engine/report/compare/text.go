package compare

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
)

// textPrinter prints for a builder and an inspector who walk the frame together: every change with what the rules say of
// it, the evidence, then the rules that no longer hold, then the loads that are others.
type textPrinter struct{ report.Options }

func (p textPrinter) Print(w io.Writer, c *asbuilt.Comparison) error {
	out := &sheet{Sheet: report.NewSheet(w, p.Options), units: report.Units(c.Result.Model), found: foundOn(c)}
	out.head(c)
	for _, group := range []struct {
		verdict  asbuilt.Verdict
		title    string
		severity finding.Severity
	}{
		{asbuilt.Stop, "STOP: do not load or cover until the engineer has decided", finding.Stop},
		{asbuilt.Unchecked, "NOT CHECKED: unknown is no pass", finding.Stop},
		{asbuilt.Ask, "ASK: put these changes to the engineer", finding.Ask},
		{asbuilt.Note, "NOTE: no worse by calculation; the engineer to confirm", ""},
		{asbuilt.None, "NO OBJECTION by any rule", ""},
	} {
		out.changes(c, group.title, group.severity, func(ch *asbuilt.Change) bool {
			return ch.Verdict == group.verdict && ch.What != asbuilt.Rule && shown(ch)
		})
	}
	out.rules(c)
	out.knockOn(&c.KnockOn)
	out.Loosened(c.Result.Loosened)
	out.tail(c)
	return out.Close()
}

// sheet writes in the units of the document.
type sheet struct {
	*report.Sheet
	units  model.Units
	found  map[string]*finding.Finding
	number int
}

func (s *sheet) head(c *asbuilt.Comparison) {
	s.Title(c.Built.Model.Title)
	s.Field("drawn", c.Drawn.Model.File)
	s.Field("built", c.Built.Model.File)
	s.Field("region", report.RegionWords(c.Result.Region))
	if lacking := c.Result.Lacking(); len(lacking) > 0 {
		s.Heading("INCOMPLETE: not everything was checked that should have been", finding.Stop)
		for _, why := range lacking {
			s.Item(why)
		}
	}
	for i := range c.Changes {
		if shown(&c.Changes[i]) {
			return
		}
	}
	s.Gap()
	s.Para("Nothing differs between what was drawn and what is built.")
}

// changes prints a group of changes, each with what the rules found on it.
func (s *sheet) changes(c *asbuilt.Comparison, title string, severity finding.Severity, in func(*asbuilt.Change) bool) {
	n := 0
	for i := range c.Changes {
		if in(&c.Changes[i]) {
			n++
		}
	}
	if n == 0 {
		return
	}
	s.Heading(fmt.Sprintf("%s (%d)", title, n), severity)
	for i := range c.Changes {
		if in(&c.Changes[i]) {
			s.change(&c.Changes[i])
		}
	}
}

func (s *sheet) change(c *asbuilt.Change) {
	told := tell(c, s.found)
	s.number++
	s.Numbered(s.number, told.Subject+": "+told.Heading)
	for _, said := range told.Said {
		s.EntryPara(said)
	}
	if len(c.Findings) == 0 {
		s.EntryField("drawn", told.Drawn)
		s.EntryField("built", told.Built)
		s.EntryField("lower", strings.Join(c.Lower, ", "))
		s.EntryField("higher", strings.Join(c.Higher, ", "))
	}
	s.EntryField("ratios", told.Ratios)
	if told.Breaks != "" {
		s.EntryField("breaks", told.Breaks+": see below")
	}
	s.EntryField("do", told.Do)
	s.EntryField("evidence", told.Evidence)
	s.EntryField("rule", told.Rules)
	s.EntryField("place", told.Place)
	s.Gap()
}

// rules prints the rules that were met as drawn and are not as built, with what the built frame's findings say: those
// that stop the work, then those that are notes.
func (s *sheet) rules(c *asbuilt.Comparison) {
	var stops, notes []Told
	messages := builtMessages(c)
	for i := range c.Changes {
		switch told := tellRule(&c.Changes[i], messages); {
		case c.Changes[i].What != asbuilt.Rule:
		case c.Changes[i].RuleNotes:
			notes = append(notes, told)
		default:
			stops = append(stops, told)
		}
	}
	s.broken(stops, finding.Stop)
	s.broken(notes, finding.Note)
}

func (s *sheet) broken(rules []Told, severity finding.Severity) {
	if len(rules) == 0 {
		return
	}
	s.Heading(fmt.Sprintf("RULES that were met as drawn and are not as built: %s (%d)", severity, len(rules)), severity)
	for _, told := range rules {
		s.number++
		s.Numbered(s.number, told.Subject+": "+told.Heading)
		for _, said := range told.Said {
			s.EntryPara(said)
		}
		s.EntryField("place", told.Place)
		s.Gap()
	}
}

// knockOn prints the loads and outcomes that are others.
func (s *sheet) knockOn(k *asbuilt.KnockOn) {
	loads, others := len(k.Reactions)+len(k.Ground)+len(k.Phase), otherRules(k.Rules)
	if loads+len(others) == 0 {
		return
	}
	s.Heading("KNOCK-ON: what the changes do to the rest", "")
	if loads > 0 {
		s.Para("Loads are characteristic, in the worst combination, downwards; of a run the piece that brings most.")
	}
	s.shifts("What comes down at supports", k.Reactions)
	s.shifts("What arrives at the ground", k.Ground)
	if len(k.Phase) > 0 {
		s.Gap()
		s.Para("On what stood before the work")
		s.row("", "before", "as drawn", "as built", "since before")
		for i := range k.Phase {
			p := &k.Phase[i]
			s.row(p.Mark, s.force(p.Before), s.force(p.Drawn), s.force(p.Built), percent(p.Before, p.Built))
		}
	}
	if len(others) > 0 {
		s.Gap()
		s.Para("Other rules that come out otherwise")
		for i := range others {
			r := &others[i]
			text := fmt.Sprintf("%s: %s [%s]: %s as drawn, %s as built", (&finding.Finding{Member: r.Mark,
				Support: &finding.Support{On: r.On}}).Where(), r.Title, r.Rule, outcome(r.Drawn), outcome(r.Built))
			if r.Message != "" {
				text += ". " + r.Message
			}
			s.Item(text)
		}
	}
}

// otherRules leaves out the rules that were met as drawn and are not as built, which stand above, and those that are now
// met for the first time.
func otherRules(list []asbuilt.RuleShift) []asbuilt.RuleShift {
	var out []asbuilt.RuleShift
	for _, r := range list {
		broken := r.Drawn == "met" && r.Built != "not_applicable"
		if !broken && !(r.Drawn == "not_applicable" && r.Built == "met") {
			out = append(out, r)
		}
	}
	return out
}

func (s *sheet) shifts(title string, list []asbuilt.Shift) {
	if len(list) == 0 {
		return
	}
	s.Gap()
	s.Para(title)
	s.row("", "as drawn", "as built", "more", "per cent")
	for i := range list {
		r := shiftWords(&list[i], s.units)
		s.row(r.Where, r.Drawn, r.Built, r.More, r.Percent)
	}
}

// row is a line of a table of 80 columns.
func (s *sheet) row(name string, cells ...string) {
	const width = 22
	if utf8.RuneCountInString(name) > width {
		for _, words := range report.Wrap(name, 76) {
			s.Line("  " + words)
		}
		name = ""
	}
	line := fmt.Sprintf("  %-*s", width, name)
	for _, c := range cells {
		line += fmt.Sprintf("%14s", c)
	}
	s.Line(strings.TrimRight(line, " "))
}

func (s *sheet) force(w asbuilt.Worked) string { return force(w, s.units) }

func (s *sheet) tail(c *asbuilt.Comparison) {
	s.Heading("SUMMARY", "")
	s.Field("changes", report.SummaryWords(c.Result.Summary))
	s.Field("as drawn", report.SummaryWords(c.Drawn.Summary))
	s.Field("as built", report.SummaryWords(c.Built.Summary))
	s.Gap()
	s.Para("`scantling check MODEL --built BUILT` lists what is found in the built frame by itself.")
	for _, n := range c.Result.Notes {
		s.Item(n)
	}
}
