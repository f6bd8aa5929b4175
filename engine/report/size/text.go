package size

import (
	"fmt"
	"io"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
)

// choiceText prints what is offered, lightest first, with why the next one down fails, then what was refused and why.
type choiceText struct{ report.Options }

func (p choiceText) Print(w io.Writer, c *sizing.Choice) error {
	s := report.NewSheet(w, p.Options)
	u := report.Units(c.Model)
	s.Title(fmt.Sprintf("%s: what could stand in its place", c.Mark))
	s.Field("model", c.Model.File)
	s.Field("region", report.RegionWords(c.Region))
	s.Field("member", c.Role+", now "+name(&c.Now, u))
	if c.Now.Use.Known {
		s.Field("used", fmt.Sprintf("%s %% (%s)", model.FormatPercent(c.Now.Use.Value), c.Now.Governs))
	}
	for i := range c.Now.Failing {
		s.Field("fails now", why(&c.Now.Failing[i]))
	}
	s.Field("tried", report.Counted(c.Tried, "option")+", each held against every rule, here and everywhere below")
	if c.Kept != "" {
		s.Field("centres", "left as they are: "+c.Kept)
	}
	for _, note := range c.Notes {
		s.Field("note", note)
	}
	if len(c.Incomplete) > 0 {
		s.Heading("INCOMPLETE: not everything was checked that should have been", finding.Stop)
		for _, line := range c.Incomplete {
			s.Item(line)
		}
	}
	if len(c.Standing) > 0 {
		s.Heading("OPEN WHATEVER IS CHOSEN: no size mends this", finding.Ask)
		for i := range c.Standing {
			s.Item(why(&c.Standing[i]))
		}
	}
	offered(s, c, u)
	for i := range c.Below {
		b := &c.Below[i]
		if i == 0 {
			s.Heading("WHY NOT LESS", "")
		}
		s.Para(fmt.Sprintf("%s: the next one down is %s. It fails:", strings.ToUpper(string(b.Merit[:1]))+string(b.Merit[1:]), name(&b.Option, u)))
		for k := range b.Option.Failing {
			s.Item(why(&b.Option.Failing[k]))
		}
	}
	refused(s, c, u)
	s.Loosened(c.Loosened)
	return s.Close()
}

func offered(s *report.Sheet, c *sizing.Choice, u model.Units) {
	if len(c.Offered) == 0 {
		s.Heading("NOTHING in the stock meets every rule here", finding.Stop)
		return
	}
	notes := noted(c, u)
	heading := "MEETS EVERY RULE"
	if len(notes) > 0 {
		heading += " THAT STOPS OR ASKS"
	}
	s.Heading(fmt.Sprintf("%s (%d), lightest first", heading, len(c.Offered)), "")
	priced := false
	for i := range c.Offered {
		priced = priced || c.Offered[i].Price.Known
	}
	head := fmt.Sprintf("  %-34s%9s%10s%8s", "", "depth", "all", "used")
	if priced {
		head += fmt.Sprintf("%9s", "price")
	}
	s.Line(head)
	for i := range c.Offered {
		o := &c.Offered[i]
		line := fmt.Sprintf("  %-34s%9s%10s%7s%%", name(o, u), model.Format(o.Depth, model.Length, u), quantity(o.Mass, model.Mass, u), model.FormatPercent(o.Use.Value))
		if priced {
			line += fmt.Sprintf("%9s", price(o.Price))
		}
		if len(o.Best) > 0 {
			merits := make([]string, len(o.Best))
			for k, m := range o.Best {
				merits[k] = string(m)
			}
			s.Line(line)
			s.Line("      " + strings.Join(merits, ", "))
			continue
		}
		s.Line(line)
	}
	s.Gap()
	s.Para("'All' is what all pieces weigh; 'used' is the most that any piece uses of what it may.")
	if len(notes) > 0 {
		s.Heading("NOTED of what would do, and not of what stands there now", finding.Note)
		for _, note := range notes {
			s.Item(note)
		}
	}
}

// noted is each note on what is offered, once, with the options that it is about.
func noted(c *sizing.Choice, u model.Units) []string {
	var order []string
	about := map[string][]string{}
	for i := range c.Offered {
		o := &c.Offered[i]
		for _, note := range o.Notes {
			if about[note] == nil {
				order = append(order, note)
			}
			about[note] = append(about[note], name(o, u))
		}
	}
	for i, note := range order {
		order[i] = strings.Join(about[note], ", ") + ": " + note
	}
	return order
}

func refused(s *report.Sheet, c *sizing.Choice, u model.Units) {
	if len(c.Refused) == 0 {
		return
	}
	s.Heading(fmt.Sprintf("DOES NOT DO (%d), lightest first, with what it fails worst", len(c.Refused)), "")
	for i := range c.Refused {
		o := &c.Refused[i]
		text := name(o, u) + ": " + why(&o.Failing[0])
		if more := len(o.Failing) - 1; more > 0 {
			text += fmt.Sprintf(", and %d more", more)
		}
		s.Item(text)
	}
}

func quantity(q model.Quantity, d model.Dimension, u model.Units) string {
	if !q.Known {
		return "-"
	}
	return model.Format(q.Value, d, u)
}

func price(q model.Quantity) string {
	if !q.Known {
		return "-"
	}
	return fmt.Sprintf("%.2f", q.Value)
}

// rankingText prints the members on the edge and those that could be less.
type rankingText struct{ report.Options }

func (p rankingText) Print(w io.Writer, r *sizing.Ranking) error {
	s := report.NewSheet(w, p.Options)
	s.Title("How near to its limit each member is")
	s.Field("model", r.Model.File)
	s.Field("region", report.RegionWords(r.Region))
	s.Field("ranked", fmt.Sprintf("%s by the worst piece; %d in which nothing works, or of which the region judges nothing", report.Counted(len(r.Members), "member"), r.Unranked))
	if len(r.Incomplete) > 0 {
		s.Heading("INCOMPLETE: not everything was checked that should have been", finding.Stop)
		for _, line := range r.Incomplete {
			s.Item(line)
		}
	}
	tight := r.Members[:min(shownEachWay, len(r.Members))]
	rows(s, "TIGHTEST: the most used first", tight)
	if slack := slackest(r); len(slack) > 0 {
		rows(s, "SLACKEST: the least used first; `scantling size MODEL MARK` says what would do", slack)
	}
	s.Loosened(r.Loosened)
	return s.Close()
}

// slackest is the least used members, the least used first; none that stands among the tightest.
func slackest(r *sizing.Ranking) []sizing.Ranked {
	var out []sizing.Ranked
	for i := len(r.Members) - 1; i >= shownEachWay && len(out) < shownEachWay; i-- {
		out = append(out, r.Members[i])
	}
	return out
}

func rows(s *report.Sheet, title string, list []sizing.Ranked) {
	if len(list) == 0 {
		return
	}
	s.Heading(title, "")
	for i := range list {
		m := &list[i]
		s.Item(fmt.Sprintf("%3s %% %s (%s %s %s): %s", model.FormatPercent(m.Use), m.Piece, m.Role, m.Section, m.Grade, m.Governs))
	}
}
