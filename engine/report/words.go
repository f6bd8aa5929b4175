package report

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

// SummaryWords counts the outcomes.
func SummaryWords(s finding.Summary) string {
	text := fmt.Sprintf("%d stop, %d ask, %d note, %d not checked, %d accepted; %d met, %d not applicable.",
		s.Stop, s.Ask, s.Note, s.Unchecked, s.Accepted, s.Met, s.NotApplicable)
	if !s.Complete {
		text += " The run is incomplete."
	}
	return text
}

// SinceWords says what an earlier result held already, and what is new against it.
func SinceWords(s *finding.Since) string {
	if !s.Known {
		return fmt.Sprintf("Since %s: it says nothing of this model under this name, so all %d are new.", s.File, s.New.Total())
	}
	b := s.Before
	text := fmt.Sprintf("Since %s: %d new or worse, listed here. %d stood before and stay: %d stop, %d ask, %d note, %d not checked, %d accepted.",
		s.File, s.New.Total(), b.Total(), b.Stop, b.Ask, b.Note, b.Unchecked, b.Accepted)
	switch {
	case s.Gone == 1:
		text += " 1 that stood then is gone."
	case s.Gone > 1:
		text += fmt.Sprintf(" %d that stood then are gone.", s.Gone)
	}
	return text
}

// CaseWords is a load case as people write it: "roof imposed".
func CaseWords(name string) string { return strings.ReplaceAll(Clean(name), "_", " ") }

// BalanceWords says of one load case what was applied and where it went.
func BalanceWords(b finding.Balance, u model.Units) string {
	text := fmt.Sprintf("%s: %s applied, %s at ground", CaseWords(b.Case),
		model.Format(b.Applied, model.Force, u), model.Format(b.Ground, model.Force, u))
	if b.Unresolved != 0 {
		text += ", " + model.Format(b.Unresolved, model.Force, u) + " unresolved"
	}
	return text
}

// RegionWords says whose rules were applied.
func RegionWords(r finding.Region) string {
	if r.ID == "" {
		if r.Code == "" {
			return "none; only the neutral packs were applied"
		}
		return "none serves " + r.Code + "; only the neutral packs were applied"
	}
	text := r.ID
	if r.Code != "" {
		text += " for " + r.Code
	}
	if r.Edition != "" {
		text += ", " + r.Edition
	}
	return text
}

// SignoffWords says who accepted what on whose authority, and whether that still counts.
func SignoffWords(s *finding.Signoff) string {
	text := "By " + s.Who
	if s.Authority != "" {
		text += " on the authority of " + s.Authority
	}
	for _, more := range []string{s.Reference, s.Date} {
		if more != "" {
			text += ", " + more
		}
	}
	if s.Until != "" {
		text += ", until " + s.Until
	}
	if s.Reason != "" {
		text += ": " + s.Reason
	}
	if s.Lapsed != "" {
		text += ". Lapsed: " + s.Lapsed
	}
	return text
}

// FigureLines is what was found, what is needed and by how much that differs, each with its label: as many as are known.
// A ratio that was found and may be 1 is said once, and of a note nothing.
func FigureLines(f *finding.Finding, u model.Units) [][2]string {
	var out [][2]string
	if f.Severity == finding.Note {
		return nil // nothing is needed: it tells, and its message has the figures
	}
	digits := model.UsualDigits
	if f.Found != nil && f.Required != nil {
		digits = model.Apart(f.Found.Value, f.Required.Value, f.Found.Dimension, u)
	}
	if f.Ratio == nil || f.Found == nil || f.Found.Value != *f.Ratio {
		out = figureLine(out, "found", "", f.Found, digits, u)
		out = figureLine(out, "needed", sides[f.Operator], f.Required, digits, u)
	}
	if f.Ratio != nil {
		out = append(out, [2]string{"ratio", ratioWords(f)})
	}
	return out
}

// sides is on which side of what is needed must be what is found.
var sides = map[string]string{"<": "less than ", "<=": "at most ", ">": "more than ", ">=": "at least ", "!=": "anything but "}

// figureLine adds a figure's line, where there is one.
func figureLine(out [][2]string, label, side string, f *finding.Figure, digits int, u model.Units) [][2]string {
	switch {
	case f == nil:
		return out
	case f.Text != "":
		return append(out, [2]string{label, f.Text})
	}
	return append(out, [2]string{label, side + model.FormatTo(digits, f.Value, f.Dimension, u)})
}

// ratioWords is demand over capacity: of what must stay below, as much as there is of what may be; of what must be
// reached, how many times as much it takes.
func ratioWords(f *finding.Finding) string {
	if strings.HasPrefix(f.Operator, ">") {
		return model.FormatRatio(*f.Ratio) + " times as much is needed"
	}
	return model.FormatRatio(*f.Ratio) + " of what it may be"
}

// StepWords is the figure of a line of working in the units of the document, to five places and without an exponent.
func StepWords(s finding.Step, u model.Units) string {
	value, unit := model.Restate(s.Value, s.Unit, u)
	if short, err := strconv.ParseFloat(strconv.FormatFloat(value, 'g', 5, 64), 64); err == nil {
		value = short
	}
	return strings.TrimSpace(strconv.FormatFloat(value, 'f', -1, 64) + " " + unit)
}

// LoosenedWords says what a house pack made less strict, and why.
func LoosenedWords(l finding.Loosened) string {
	var text string
	switch l.What {
	case "off":
		text = fmt.Sprintf("%s switches %s off, which was %s", l.Pack, l.Rule, l.From)
	case "severity":
		text = fmt.Sprintf("%s makes %s %s, which was %s", l.Pack, l.Rule, l.To, l.From)
	default:
		text = fmt.Sprintf("%s sets %s to %s, which was %s", l.Pack, l.Rule, l.To, l.From)
	}
	if l.Reason != "" {
		text += ": " + l.Reason
	}
	return text
}

// Counted is a number with its noun: "1 piece", "4 pieces".
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// PiecesWords says for how many pieces a finding holds and which is the worst; nothing for a single piece.
func PiecesWords(f *finding.Finding) string {
	if f.Count < 2 {
		return ""
	}
	return fmt.Sprintf("%d, the worst is %s", f.Count, f.Piece)
}

// countWords is the number of pieces, behind a text that names their member; nothing for a single piece.
func countWords(f *finding.Finding) string {
	if f.Count < 2 {
		return ""
	}
	return fmt.Sprintf(" (%d pieces)", f.Count)
}

// wasWords says what a finding that got worse was before, behind a text; nothing for any other.
func wasWords(f *finding.Finding) string {
	if f.Was == "" {
		return ""
	}
	return " (before: " + f.Was + ")"
}

// PlaceWords is a place for a reader to go to.
func PlaceWords(p finding.Place) string {
	if p.Line == 0 {
		return strings.TrimSpace(p.File + " " + p.Pointer)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Runs shortens a list of names: those that follow each other by number become "J1#1 to J1#9".
func Runs(names []string) string {
	var parts []string
	for i := 0; i < len(names); {
		last := i
		for last+1 < len(names) && follows(names[last], names[last+1]) {
			last++
		}
		switch {
		case last > i+1:
			parts = append(parts, names[i]+" to "+names[last])
		case last == i+1:
			parts = append(parts, names[i], names[last])
		default:
			parts = append(parts, names[i])
		}
		i = last + 1
	}
	return strings.Join(parts, ", ")
}

// follows tells whether b is a with the number at its end one higher.
func follows(a, b string) bool {
	stem := strings.TrimRight(a, "0123456789")
	n, err := strconv.Atoi(a[len(stem):])
	return err == nil && b == stem+strconv.Itoa(n+1)
}
