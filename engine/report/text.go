package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

// textPrinter prints for a builder who reads from the top: what stops the work, what to ask the engineer, what could
// not be checked and why, then the rest. It fits 80 columns; symbols never stand for words.
type textPrinter struct{ Options }

func (p textPrinter) Print(w io.Writer, run Run) error {
	out := &page{w: bufio.NewWriter(w), colour: p.Colour}
	for i, r := range run.Results {
		if i > 0 {
			out.gap()
			out.line(strings.Repeat("-", pageWidth))
			out.gap()
		}
		p.result(out, r)
	}
	for _, problem := range run.Problems {
		out.gap()
		words := problemWords(problem)
		if problem.Place.File != "" {
			words = position(problem.Place) + ": " + words
		}
		out.para(0, words)
	}
	out.gap()
	out.para(0, finding.Caution)
	return out.w.Flush()
}

func (p textPrinter) result(out *page, r *finding.Result) {
	units := Units(r.Model)
	head(out, r)
	groups := Group(Listed(r.Findings))
	number := 0
	for _, g := range []struct {
		title, colour string
		findings      []*finding.Finding
	}{
		{"STOP: do not build, load or cover until this is put right", red, groups.Stop},
		{"ASK: put these to the engineer", yellow, groups.Ask},
	} {
		if len(g.findings) == 0 {
			continue
		}
		out.heading(fmt.Sprintf("%s (%d)", g.title, len(g.findings)), g.colour)
		for _, same := range Alike(g.findings) {
			number++
			if len(same) >= manyAlike && !p.Working {
				p.together(out, number, same, units)
				continue
			}
			for i, f := range same {
				p.whole(out, number+i, f, units)
			}
			number += len(same) - 1
		}
	}
	if len(groups.Unchecked) > 0 {
		out.heading(fmt.Sprintf("NOT CHECKED: unknown is no pass (%d)", len(groups.Unchecked)), magenta)
		for _, same := range Alike(groups.Unchecked) {
			number++
			unchecked(out, number, same)
		}
	}
	if len(groups.Note) > 0 {
		out.heading(fmt.Sprintf("NOTE (%d)", len(groups.Note)), "")
		for _, f := range groups.Note {
			out.item(fmt.Sprintf("%s%s [%s]%s%s", messageOf(f), countWords(f), f.Rule, wasWords(f), lapsedWords(f)))
		}
	}
	if len(groups.Accepted) > 0 {
		out.heading(fmt.Sprintf("ACCEPTED and signed for (%d)", len(groups.Accepted)), "")
		for _, f := range groups.Accepted {
			out.item(fmt.Sprintf("%s [%s]. %s", messageOf(f), f.Rule, SignoffWords(f.Signoff)))
		}
	}
	tail(out, r, units)
}

func head(out *page, r *finding.Result) {
	out.bold(cmp.Or(r.Model.Title, "Untitled frame"))
	out.field("file", 0, r.Model.File)
	out.field("digest", 0, r.Model.SHA256)
	out.field("frame", 0, fmt.Sprintf("%s, %s", Counted(r.Model.Members, "member"), Counted(r.Model.Pieces, "piece")))
	out.field("region", 0, RegionWords(r.Region))
	for i, p := range r.Packs {
		label := ""
		if i == 0 {
			label = "packs"
		}
		out.field(label, 0, fmt.Sprintf("%s %s, %s", p.ID, p.Edition, Counted(p.Rules, "rule")))
	}
	if lacking := r.Lacking(); len(lacking) > 0 {
		out.heading("INCOMPLETE: not everything was checked that should have been", red)
		for _, reason := range lacking {
			out.item(reason)
		}
	}
}

// whole prints all that is known of a finding.
func (p textPrinter) whole(out *page, number int, f *finding.Finding, u model.Units) {
	out.numbered(number, f.Where()+": "+cmp.Or(f.Title, f.Rule))
	out.para(indent, f.Message)
	for _, figure := range FigureLines(f, u) {
		out.field(figure[0], indent, figure[1])
	}
	out.field("why", indent, f.Why)
	out.field("do", indent, f.Action)
	out.field("pieces", indent, PiecesWords(f))
	out.field("case", indent, f.Case)
	for _, related := range f.Related {
		out.field("see", indent, related.Mark+": "+related.Message)
	}
	out.field("drawing", indent, f.Drawing)
	out.field("source", indent, f.Source)
	out.field("rule", indent, f.Rule)
	out.field("place", indent, PlaceWords(f.Place))
	out.field("before", indent, f.Was)
	if f.Signoff != nil {
		out.field("lapsed", indent, SignoffWords(f.Signoff))
	}
	if p.Working {
		working(out, f.Working, u)
	}
	out.gap()
}

// messageOf is a finding's message behind what it is about, unless it begins with the mark of that and goes on to say what
// it rests on.
func messageOf(f *finding.Finding) string {
	if strings.HasPrefix(f.Message, f.Member+" ") && (f.Support == nil || strings.Contains(f.Message, " "+f.Support.On)) {
		return f.Message
	}
	return f.Where() + ": " + f.Message
}

// manyAlike is how many findings of one rule are told together, so that a reader sees one thing to do and not a wall.
const manyAlike = 3

// together prints what one rule found on several members: each with its message and place, and once why and what to do.
func (p textPrinter) together(out *page, number int, same []*finding.Finding, u model.Units) {
	first := same[0]
	out.numbered(number, fmt.Sprintf("%s (%d)", cmp.Or(first.Title, first.Rule), len(same)))
	for _, f := range same {
		text := messageOf(f) + countWords(f)
		if f.Drawing != "" {
			text += "; drawing " + f.Drawing
		}
		out.point(text + wasWords(f) + " [" + PlaceWords(f.Place) + "]")
		if f.Signoff != nil {
			out.point(SignoffWords(f.Signoff))
		}
	}
	out.field("why", indent, first.Why)
	out.field("do", indent, first.Action)
	out.field("source", indent, first.Source)
	out.field("rule", indent, first.Rule)
	out.gap()
}

// lapsedWords says that a finding was signed for and why that no longer counts; nothing where nobody signed.
func lapsedWords(f *finding.Finding) string {
	if f.Signoff == nil || Accepted(f) {
		return ""
	}
	return " (" + SignoffWords(f.Signoff) + ")"
}

// unchecked prints what could not be checked for one and the same reason, all members together.
func unchecked(out *page, number int, same []*finding.Finding) {
	first := same[0]
	out.numbered(number, cmp.Or(first.Title, first.Rule)+" (would be "+string(first.Severity)+")")
	subjects := make([]string, len(same))
	for i, f := range same {
		subjects[i] = f.Where() + countWords(f) + wasWords(f) + lapsedWords(f)
	}
	out.field("for", indent, strings.Join(subjects, ", "))
	out.field("because", indent, first.Reason)
	out.field("do", indent, first.Action)
	out.field("source", indent, first.Source)
	out.field("rule", indent, first.Rule)
	out.field("place", indent, PlaceWords(first.Place))
	out.gap()
}

func working(out *page, steps []finding.Step, u model.Units) {
	for i, s := range steps {
		label := ""
		if i == 0 {
			label = "working"
		}
		text := s.Symbol + " = " + StepWords(s, u)
		if s.Clause != "" {
			text += " (" + s.Clause + ")"
		}
		out.field(label, indent, text)
	}
}

func tail(out *page, r *finding.Result, u model.Units) {
	out.loosened(r.Loosened)
	if len(r.Signoffs) > 0 {
		out.heading("SIGN-OFFS that no longer count", yellow)
		for i := range r.Signoffs {
			s := &r.Signoffs[i]
			out.item(s.Rule + " of " + s.Mark + ": " + SignoffWords(s))
		}
	}
	if len(r.Notes) > 0 {
		out.heading("OF THE RUN", "")
		for _, note := range r.Notes {
			out.item(note)
		}
	}
	out.heading("SUMMARY", "")
	out.para(0, SummaryWords(r.Summary))
	if r.Since != nil {
		out.para(0, SinceWords(r.Since))
	}
	for i, b := range r.Balance {
		label := ""
		if i == 0 {
			label = "balance"
		}
		out.field(label, 0, BalanceWords(b, u))
	}
}

// loosened lists what house packs made less strict.
func (out *page) loosened(list []finding.Loosened) {
	if len(list) == 0 {
		return
	}
	out.heading("LOOSENED by house packs", yellow)
	for _, l := range list {
		out.item(LoosenedWords(l))
	}
}
