package engine

import (
	"fmt"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// Told is every fact of one piece, as those who write rules look them up.
type Told struct {
	Member, Piece string
	Facts         []ToldFact
	Working       map[string][]finding.Step // by the region's fact
	WorkingOrder  []string
}

// ToldFact is one fact: a number, a text, a truth, or why it is absent.
type ToldFact struct {
	Name      string
	Number    float64
	Dimension model.Dimension
	Counts    bool // a number of things, which has no unit
	Text      *string
	Truth     *bool
	Case      string // combination that governs a region's fact
	Absent    string
}

// Facts lists the facts of a member's worst piece (the one with the largest of its region's ratios), or of a named piece,
// and those of its supports as supports[0].bearing and so on.
func (r *Run) Facts(mark, piece string) (*Told, error) {
	doc := r.Source.Document
	i := doc.Index(mark)
	if i < 0 {
		return nil, UnknownMember(doc, mark)
	}
	from, to := r.Down.Frame.PiecesOf(int32(i))
	if from == to {
		return nil, fmt.Errorf("%s does not stand after the work", mark)
	}
	row := r.WorstPiece(int32(i))
	if piece != "" {
		row = -1
		for p := from; p < to; p++ {
			if r.Down.Frame.Name(p) == piece {
				row = p
			}
		}
		if row < 0 {
			return nil, fmt.Errorf("%s has no piece %s; its pieces run from %s to %s", mark, piece, r.Down.Frame.Name(from), r.Down.Frame.Name(to-1))
		}
	}
	t := &Told{Member: mark, Piece: r.Down.Frame.Name(row), Working: map[string][]finding.Step{}}
	for _, f := range r.Filled.Book.Facts(vocabulary.Member) {
		t.Facts = append(t.Facts, r.tell(f, row, f.Name))
	}
	supports, first := r.Down.Frame.SupportsOf(row)
	for k := range supports {
		if supports[k].Against {
			continue
		}
		for _, f := range r.Filled.Book.Facts(vocabulary.Support) {
			t.Facts = append(t.Facts, r.tell(f, first+int32(k), fmt.Sprintf("supports[%d].%s", k, f.Name)))
		}
	}
	r.tellWorking(t, row)
	return t, nil
}

// WorstPiece is the piece of a member with the largest ratio of the region's, or its first.
func (r *Run) WorstPiece(member int32) int32 {
	from, to := r.Down.Frame.PiecesOf(member)
	best, worst := from, -1.0
	if r.Description == nil {
		return best
	}
	for p := from; p < to; p++ {
		for i := range r.Description.Facts {
			f := r.Filled.Book.Fact(vocabulary.Member, r.Description.Facts[i].Name)
			if f == nil || f.Type != vocabulary.Number || f.Dimension != model.Plain {
				continue
			}
			if v, why := r.Filled.Number(f, p); why == 0 && v > worst {
				best, worst = p, v
			}
		}
	}
	return best
}

func (r *Run) tell(f *vocabulary.Fact, row int32, name string) ToldFact {
	out := ToldFact{Name: name, Dimension: f.Dimension, Counts: f.Counts}
	var why vocabulary.Reason
	switch f.Type {
	case vocabulary.Text:
		var v string
		if v, why = r.Filled.Text(f, row); why == 0 {
			out.Text = &v
		}
	case vocabulary.Truth:
		var v bool
		if v, why = r.Filled.Truth(f, row); why == 0 {
			out.Truth = &v
		}
	default:
		out.Number, why = r.Filled.Number(f, row)
		if f.Origin == vocabulary.FromRegion && f.Subject == vocabulary.Member {
			out.Case = r.governing(f.Name, row)
		}
	}
	if why != 0 {
		out.Absent = r.Filled.Explain(why)
	}
	return out
}

// governing is the combination that makes a region's fact of a piece what it is, or empty.
func (r *Run) governing(name string, row int32) string {
	if r.Description == nil {
		return ""
	}
	for i := range r.Description.Facts {
		if c := r.Filled.Governing(i, len(r.Description.Facts), row); r.Description.Facts[i].Name == name && c >= 0 && int(c) < len(r.Combinations) {
			return r.Combinations[c].ID
		}
	}
	return ""
}

func (r *Run) tellWorking(t *Told, row int32) {
	if r.Description == nil {
		return
	}
	for _, s := range r.Working[r.Filled.Classes.Of[row]] {
		name := r.Description.Facts[s.Fact].Name
		if t.Working[name] == nil {
			t.WorkingOrder = append(t.WorkingOrder, name)
		}
		t.Working[name] = append(t.Working[name], finding.Step{Fact: name, Symbol: s.Symbol, Value: s.Value, Unit: s.Unit, Clause: s.Clause})
	}
}

// JSON is the facts as design section 11 lays them out.
func (t *Told) JSON() any {
	type value struct {
		Value  any    `json:"value,omitempty"`
		Unit   string `json:"unit,omitempty"`
		Case   string `json:"case,omitempty"`
		Piece  string `json:"piece,omitempty"`
		Absent string `json:"absent,omitempty"`
	}
	type step struct {
		Symbol string  `json:"symbol"`
		Value  float64 `json:"value"`
		Unit   string  `json:"unit"`
		Clause string  `json:"clause"`
	}
	facts := map[string]value{}
	for _, f := range t.Facts {
		switch {
		case f.Absent != "":
			facts[f.Name] = value{Absent: f.Absent}
		case f.Text != nil:
			facts[f.Name] = value{Value: *f.Text, Unit: "text"}
		case f.Truth != nil:
			facts[f.Name] = value{Value: *f.Truth, Unit: "truth"}
		default:
			figure := finding.Figure{Value: f.Number, Dimension: f.Dimension, Counts: f.Counts}
			v, unit := figure.Restated()
			facts[f.Name] = value{Value: v, Unit: unit, Case: f.Case}
			if f.Case != "" {
				w := facts[f.Name]
				w.Piece = t.Piece
				facts[f.Name] = w
			}
		}
	}
	working := map[string][]step{}
	for name, steps := range t.Working {
		for _, s := range steps {
			value, unit := s.Restated()
			working[name] = append(working[name], step{s.Symbol, value, unit, s.Clause})
		}
	}
	return map[string]any{"member": t.Member, "piece": t.Piece, "facts": facts, "working": working, "caution": finding.Caution}
}

// UnknownMember is the error of a mark that a document does not have, with one that it has and that may be meant.
func UnknownMember(doc *model.Document, mark string) error {
	var near []string
	for i := range doc.Members {
		if m := doc.Members[i].Mark; strings.EqualFold(m, mark) || strings.HasPrefix(m, mark) || strings.HasPrefix(mark, m) {
			near = append(near, m)
		}
	}
	if len(near) == 0 {
		return fmt.Errorf("the model has no member %s; `scantling takedown` lists the marks", mark)
	}
	finding.SortMarks(near)
	return fmt.Errorf("the model has no member %s; did you mean %s?", mark, near[0])
}
