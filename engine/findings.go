package engine

import (
	"fmt"
	"math"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

// Version is the program's, printed in every result.
const Version = "0.1.0"

// group is the verdicts of one rule that make one finding: those of a member's pieces with the same outcome at the same
// support.
type group struct {
	verdicts []pack.Verdict
}

type groupKey struct {
	rule    *pack.Rule
	outcome pack.Outcome
	member  int32
	support int32 // index in the member's list; -1: not of a support; -2: an implied one
	row     int32 // of other subjects
}

// mostWeighed bounds how many pieces of one group are held against each other for the worst.
const mostWeighed = 200

// verdicts turns what was not met or not checked into findings.
func (r *Run) verdicts() []finding.Finding {
	groups := map[groupKey]*group{}
	var order []groupKey
	for _, v := range r.Judgement.Verdicts {
		k := r.key(v)
		g := groups[k]
		if g == nil {
			g = &group{}
			groups[k] = g
			order = append(order, k)
		}
		g.verdicts = append(g.verdicts, v)
	}
	out := make([]finding.Finding, 0, len(order))
	for _, k := range order {
		out = append(out, r.finding(k, groups[k].verdicts))
	}
	return out
}

// key says which finding a verdict belongs to.
func (r *Run) key(v pack.Verdict) groupKey {
	k := groupKey{rule: v.Rule, outcome: v.Outcome, member: -1, support: -1, row: -1}
	f := r.Down.Frame
	switch v.Rule.Judges {
	case vocabulary.Member:
		k.member = f.Pieces[v.Row].Member
	case vocabulary.Support:
		s := &f.Supports[v.Row]
		k.member, k.support = f.Pieces[s.Piece].Member, s.Document
		if s.Document < 0 {
			k.support = -2
		}
	case vocabulary.Ground:
		k.member = f.Pieces[r.Filled.Rows.Grounds[v.Row]].Member
	default:
		k.row = v.Row
	}
	return k
}

// finding is one group's, told by its worst piece.
func (r *Run) finding(k groupKey, verdicts []pack.Verdict) finding.Finding {
	worst, account := verdicts[0], r.Judgement.Account(verdicts[0], r.Source.Document.Units)
	for _, v := range verdicts[1:min(len(verdicts), mostWeighed)] {
		if a := r.Judgement.Account(v, r.Source.Document.Units); weight(a) > weight(account)*(1+1e-9) {
			worst, account = v, a
		}
	}
	f := Said(r.Judgement, worst, account)
	f.Count = len(verdicts)
	if k.member >= 0 {
		f.Measures = measures(&r.Down.Frame.Document.Members[k.member])
	}
	r.locate(&f, k, worst.Row)
	f.ID = f.Identity()
	return f
}

// Said is a verdict as a finding that does not yet say where it stands.
func Said(j *pack.Judgement, v pack.Verdict, account pack.Account) finding.Finding {
	f := finding.Finding{
		Rule: v.Rule.ID, Layer: v.Rule.Pack.ID, Title: v.Rule.Title, Outcome: finding.NotMet, Severity: severity(v.Severity),
		Subject: v.Rule.Judges.String(), Count: 1, Message: account.Message, Action: account.Action, Why: v.Rule.Why,
		Source: v.Rule.Source, Reason: account.Reason,
	}
	if v.Outcome != pack.NotMet {
		f.Outcome = finding.Unchecked
		f.Message = fmt.Sprintf("%s: not checked, because %s", v.Rule.Title, account.Reason)
	} else {
		f.Found, f.Required, f.Operator = figure(account.Found), figure(account.Required), account.Operator
		if account.Ratio != 0 && finite(account.Ratio) && !counted(account.Required) {
			ratio := account.Ratio
			f.Ratio = &ratio
		}
	}
	for _, u := range j.Used(v) {
		f.Used = append(f.Used, finding.Used{Name: u.Path, Value: u.Value})
	}
	return f
}

// weight orders the pieces of a group: the largest demand over capacity, or what is furthest from what is required.
func weight(a pack.Account) float64 {
	if a.Ratio > 0 {
		return a.Ratio
	}
	if a.Found != nil && a.Required != nil {
		return math.Abs(a.Found.Value - a.Required.Value)
	}
	return 0
}

// counted says whether what is required is a number of things, of which a ratio says nothing.
func counted(f *pack.Figure) bool { return f != nil && f.Counts }

// locate says where a finding stands: its piece, support, place in the text and drawing.
func (r *Run) locate(f *finding.Finding, k groupKey, row int32) {
	fr := r.Down.Frame
	switch k.rule.Judges {
	case vocabulary.Member:
		f.Piece = fr.Name(row)
		f.Place = r.Source.MemberPlace(int(k.member), "")
		r.govern(f, k.rule, row)
	case vocabulary.Support:
		s := &fr.Supports[row]
		f.Piece = fr.Name(s.Piece)
		f.Support = &finding.Support{At: s.At, Index: int(max(0, s.Document))}
		path := ""
		if s.Document >= 0 {
			said := fr.Document.Members[k.member].Supports[s.Document]
			f.Support.On = said.On + said.Against
			path = fmt.Sprintf("/supports/%d", s.Document)
		}
		if s.On >= 0 {
			f.Support.On = fr.Member(s.On).Mark
			f.Related = append(f.Related, finding.Related{Mark: f.Support.On, Message: "what it rests on",
				Place: r.Source.MemberPlace(int(fr.Pieces[s.On].Member), "")})
		}
		f.Place = r.Source.MemberPlace(int(k.member), path)
	case vocabulary.Ground:
		f.Piece = fr.Name(r.Filled.Rows.Grounds[row])
		f.Place = r.Source.MemberPlace(int(k.member), "")
	case vocabulary.Area:
		a := &fr.Document.Areas[row]
		f.Member = a.ID
		f.Place = r.Source.Place(read.Pointer("areas", a.ID))
	default:
		f.Place = r.Source.Place("")
	}
	if k.member >= 0 {
		m := &fr.Document.Members[k.member]
		f.Member = m.Mark
		if len(m.Drawings) > 0 {
			f.Drawing = m.Drawings[0].ID
		}
	}
}

// govern names the combination that makes a region's fact what it is, and adds its working.
func (r *Run) govern(f *finding.Finding, rule *pack.Rule, row int32) {
	if r.Description == nil {
		return
	}
	class := r.Filled.Classes.Of[row]
	for i := range r.Description.Facts {
		name := r.Description.Facts[i].Name
		if !uses(f.Used, name) {
			continue
		}
		if c := r.Filled.Governing(i, len(r.Description.Facts), row); c >= 0 && int(c) < len(r.Combinations) {
			f.Case = r.Combinations[c].ID
		}
		for _, s := range r.Working[class] {
			if int(s.Fact) == i {
				f.Working = append(f.Working, finding.Step{Fact: name, Symbol: s.Symbol, Clause: s.Clause, Value: s.Value, Unit: s.Unit})
			}
		}
	}
}

func uses(used []finding.Used, name string) bool {
	for _, u := range used {
		if u.Name == name || strings.HasSuffix(u.Name, "."+name) {
			return true
		}
	}
	return false
}

// regionFindings are what a region assumed. That none is part of a run, and how much was assumed, the paperwork pack says.
func (r *Run) regionFindings() []finding.Finding {
	var out []finding.Finding
	add := func(rule, mark, message, action, why string, severity finding.Severity, place finding.Place) {
		f := finding.Finding{Rule: rule, Layer: "engine", Outcome: finding.NotMet, Severity: severity, Subject: "frame", Member: mark,
			Count: 1, Message: message, Action: action, Why: why, Source: "common practice, no source", Place: place}
		f.ID = f.Identity()
		out = append(out, f)
	}
	if r.Preparation != nil {
		for i, a := range r.Preparation.Assumptions {
			pointer := a.Pointer
			if pointer == "" {
				pointer = "/site"
			}
			add("region/assumes", fmt.Sprintf("assumption %d", i+1), a.Text, "State it in the model where it is not right for this site.",
				"What nobody states, the region fills in; someone who knows the site should read it.", finding.Note, r.Source.Place(pointer))
			out[len(out)-1].Member = ""
		}
	}
	return out
}

// Print prints a quantity in the document's units.
func (r *Run) Print(v float64, d model.Dimension) string {
	return model.Format(v, d, r.Source.Document.Units)
}

func severity(s pack.Severity) finding.Severity { return finding.Severity(s.String()) }

func figure(f *pack.Figure) *finding.Figure {
	if f == nil || !finite(f.Value) {
		return nil
	}
	return &finding.Figure{Value: f.Value, Dimension: f.Dimension, Counts: f.Counts}
}
