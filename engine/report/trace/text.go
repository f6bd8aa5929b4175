package trace

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/takedown"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// textPrinter prints the way as an indented list, a hop under the one that it comes from.
type textPrinter struct{}

const (
	textWidth  = 80
	hopIndent  = 2
	deepest    = 12 // hops further away are set no further in
	lineIndent = 4  // of the lines under a hop
)

func (textPrinter) Print(w io.Writer, s Sheet) error {
	out := newSheet(w, s.Model, s.Cases)
	out.para(0, s.Model.Title)
	out.para(0, fmt.Sprintf("The way of the load of %s in %s. Forces in %s, downwards: a minus sign lifts. The first figure of a line is "+
		"the worst characteristic combination, which the text names; the figures by case stand under it.",
		s.Name, s.Model.File, out.unit()))
	out.gap()
	out.para(0, s.about())
	out.field("its own load", s.Own)
	if pushes(s.Landed.Cases) {
		out.field("rests on it", s.Landed)
	}
	out.pieces(s)
	out.heading("Down to ground")
	start := s.Member.Mark
	for _, hop := range tree(s.Down, start, upper, lower) {
		out.down(hop, start)
	}
	if len(s.Down) == 0 {
		out.para(hopIndent, "No way down is known.")
	}
	out.ground(s)
	out.heading("On " + s.Name + " rests")
	for _, hop := range tree(s.Up, start, lower, upper) {
		out.up(hop)
	}
	if len(s.Up) == 0 {
		out.para(hopIndent, "Nothing.")
	}
	out.end(s.Notes)
	return out.w.Flush()
}

// about is the member in a line.
func (s Sheet) about() string {
	m := s.Member
	text := s.Name + ": " + m.Role
	if size := strings.TrimSpace(m.Section + " " + m.Grade); size != "" {
		text += ", " + size
	}
	if n := len(m.Pieces); n > 1 {
		text += ", " + report.Counted(n, "piece")
	}
	if len(s.Drawings) > 0 {
		text += "; drawing " + strings.Join(s.Drawings, ", ")
	}
	return text
}

// sheet writes in the units of the document.
type sheet struct {
	w     *bufio.Writer
	units model.Units
	cases []string
}

func newSheet(w io.Writer, m finding.Model, cases []string) *sheet {
	return &sheet{bufio.NewWriter(w), report.Units(m), cases}
}

func (s *sheet) unit() string { return model.MeasureForce.Unit(s.units) }

// force prints N in kN or lb, as fine as a builder needs it.
func (s *sheet) force(v float64) string {
	decimals := 2
	if s.units == model.US {
		decimals = 0
	}
	text := strconv.FormatFloat(v/model.MeasureForce.Size(s.units), 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

func (s *sheet) gap() { fmt.Fprintln(s.w) }

func (s *sheet) heading(text string) {
	s.gap()
	s.para(0, text)
}

func (s *sheet) para(indent int, text string) {
	for _, line := range report.Wrap(text, textWidth-indent) {
		fmt.Fprintln(s.w, strings.Repeat(" ", indent)+line)
	}
}

// item is a paragraph whose further lines are set in.
func (s *sheet) item(indent int, text string) {
	lead := strings.Repeat(" ", indent)
	for _, line := range report.Wrap(text, textWidth-indent-2) {
		fmt.Fprintln(s.w, lead+line)
		lead = strings.Repeat(" ", indent+2)
	}
}

func (s *sheet) field(label string, f Force) {
	s.item(hopIndent, fmt.Sprintf("%-13s %s", label+":", s.most(f)+s.byCase(f.Cases, " (", ")")))
}

// pieces lists the pieces of a run, those that are alike together, with what each rests on.
func (s *sheet) pieces(t Sheet) {
	if len(t.Member.Pieces) < 2 {
		return
	}
	for _, alike := range takedown.Group(t.Member) {
		title := alike.Title()
		for _, name := range alike.Names {
			if name == t.Hardest {
				title += " (" + name + " presses hardest)"
			}
		}
		s.item(hopIndent, title)
		if alike.Unsolved != "" {
			s.item(hopIndent+lineIndent, "passes nothing on: "+alike.Unsolved)
			continue
		}
		for _, p := range alike.Supports {
			s.item(hopIndent+lineIndent, s.support(p))
		}
	}
}

func (s *sheet) support(p statics.ListedSupport) string {
	return fmt.Sprintf("on %s at %s: %s", p.On, s.place(p.At), strings.TrimSpace(s.byCase(p.Vertical, "", "")))
}

func (s *sheet) down(h step, start string) {
	text := s.hopWords(h.Hop) + ": " + s.most(h.Load) + s.share(h.Hop.Load, h.Through, h.Own, start)
	if h.again {
		text += "; on from " + h.To + " as above"
	}
	s.hop(h, text)
}

func (s *sheet) up(h step) {
	text := s.hopWords(h.Hop) + ": " + s.most(h.Load)
	if h.again {
		text += "; what rests on " + h.From + " stands above"
	}
	s.hop(h, text)
}

// hop prints a line and what belongs under it.
func (s *sheet) hop(h step, text string) {
	indent := hopIndent * (1 + min(h.depth, deepest))
	s.item(indent, text)
	under := indent + lineIndent
	if more := s.byCase(h.Load.Cases, "", ""); more != "" {
		s.para(under, more)
	}
	if h.Load.Least.Value < -small {
		s.para(under, fmt.Sprintf("lifts by up to %s under %s", s.force(-h.Load.Least.Value), h.Load.Least.Under))
	}
	if more := s.byCase(h.Sideways, "pushes sideways too: ", ""); more != "" && len(h.Through.Cases) > 0 {
		s.para(under, more)
	}
	if more := s.hardest(h.Hop); more != "" {
		s.para(under, more)
	}
}

// hopWords names the two ends of a hop: "J1 on B1, 9 places".
func (s *sheet) hopWords(h *Hop) string {
	text := h.From + " " + string(h.Way) + " " + h.To
	if h.Way == Rests {
		text = h.From + " on " + h.To
	}
	switch {
	case h.Places > 1:
		text += fmt.Sprintf(", %d places", h.Places)
	case h.At >= 0:
		text += " at " + s.place(h.At)
	}
	return text
}

// hardest is what the hardest place takes, where the line above does not say it.
func (s *sheet) hardest(h *Hop) string {
	p := h.Hardest
	if p.Piece == "" {
		return ""
	}
	if h.Places == 1 {
		if p.Most.Value <= h.Load.Most.Value*1.005+small {
			return ""
		}
		return fmt.Sprintf("up to %s with variable load at its worst places, under %s", s.force(p.Most.Value), p.Most.Under)
	}
	text := fmt.Sprintf("most at %s: %s under %s", p.Piece, s.force(p.Most.Value), p.Most.Under)
	if p.Least.Value < -small {
		text += fmt.Sprintf("; one place lifts by up to %s under %s", s.force(-p.Least.Value), p.Least.Under)
	}
	return text
}

// share says how much of a load comes through a member, and how much of that is its own.
func (s *sheet) share(load Force, through, own Share, mark string) string {
	all := load.Most.Value
	switch {
	case len(through.Cases) == 0 || math.Abs(all) < small && math.Abs(through.Most) < small:
		return ""
	case math.Abs(through.Most) < small:
		return fmt.Sprintf(", nothing of it through %s in that combination", mark)
	case through.Most < 0:
		return fmt.Sprintf(", %s less because of %s", s.force(-through.Most), mark)
	}
	text := fmt.Sprintf(", %s of it through %s", s.force(through.Most), mark)
	switch part := through.Most / all; {
	case all <= 0:
	case math.Abs(part-1) < 5e-4:
		text = ", all of it through " + mark
	case part > 1:
		text += ", less what others take off"
	case part < 0.005:
		text += " (less than 1%)"
	default:
		text += " (" + model.FormatPercent(part) + "%)"
	}
	if math.Abs(own.Most) > small && math.Abs(own.Most-through.Most) > small {
		text += fmt.Sprintf(", %s its own", s.force(own.Most))
	}
	return text
}

func (s *sheet) ground(t Sheet) {
	if len(t.Ground) == 0 {
		return
	}
	s.heading("At ground")
	for _, a := range t.Ground {
		s.item(hopIndent, a.Mark+": "+s.most(a.Total)+s.share(a.Total, a.Through, a.Own, t.Member.Mark))
		if more := s.byCase(a.Total.Cases, "", ""); more != "" {
			s.para(hopIndent+lineIndent, more)
		}
	}
}

func (s *sheet) end(notes []string) {
	s.gap()
	for _, note := range notes {
		s.para(0, note)
	}
	s.para(0, finding.Caution)
}

// most is the worst of a load with its combination.
func (s *sheet) most(f Force) string {
	if f.Most.Under == "" {
		return "no load"
	}
	return s.force(f.Most.Value) + " under " + f.Most.Under
}

// byCase is the figures of the cases that load; nothing where none does.
func (s *sheet) byCase(values []float64, before, after string) string {
	var parts []string
	for c, v := range values {
		if math.Abs(v) > small {
			parts = append(parts, report.CaseWords(s.cases[c])+" "+s.force(v))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return before + strings.Join(parts, ", ") + after
}

func (s *sheet) place(mm float64) string { return model.Format(mm, model.Length, s.units) }

// small is what is not worth a figure, N.
const small = 5

func pushes(values []float64) bool {
	for _, v := range values {
		if math.Abs(v) > small {
			return true
		}
	}
	return false
}
