package changes

import (
	"fmt"
	"slices"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

// judged is what a rule judges, named in a way that holds for two documents.
type judged struct {
	rule     *pack.Rule
	mark, on string // on is what a support rests on
	nth      int    // of several supports on the same
}

// outcome is what came of a rule on all the pieces that a name stands for: the gravest counts.
type outcome struct {
	pack.Outcome
	row int32 // where
}

var gravity = [...]int{pack.NotApplicable: 0, pack.Met: 1, pack.Unchecked: 2, pack.NotMet: 3, pack.Failed: 4}

// names names the rows of a subject.
func (r side) names(s vocabulary.Subject) []judged {
	f := r.Down.Frame
	out := make([]judged, r.Filled.Tables[s].Rows)
	for i := range out {
		n := &out[i]
		switch s {
		case vocabulary.Member:
			n.mark = f.Member(int32(i)).Mark
		case vocabulary.Support:
			n.mark, n.on, n.nth = r.supportName(int32(i))
		case vocabulary.Ground:
			n.mark = f.Member(r.Filled.Rows.Grounds[i]).Mark
		case vocabulary.Area:
			n.mark = "area " + f.Document.Areas[i].ID
		default:
			n.mark = "frame"
		}
	}
	return out
}

// supportName is the mark of a support's member, the mark that it rests on, and which it is of several on that one.
func (r side) supportName(row int32) (mark, on string, nth int) {
	f := r.Down.Frame
	s := &f.Supports[row]
	m := f.Member(s.Piece)
	if s.Document < 0 {
		return m.Mark, "what it leans on", 0
	}
	said := &m.Supports[s.Document]
	for k := range s.Document {
		if m.Supports[k].On == said.On && m.Supports[k].Against == said.Against {
			nth++
		}
	}
	return m.Mark, said.On + said.Against, nth
}

// outcomes is what came of every rule, by what it judged.
func (r side) outcomes() map[judged]outcome {
	out := map[judged]outcome{}
	names := map[vocabulary.Subject][]judged{}
	for i, rule := range r.Set.Rules {
		if names[rule.Judges] == nil {
			names[rule.Judges] = r.names(rule.Judges)
		}
		for row, o := range r.Judgement.Matrix[i] {
			k := names[rule.Judges][row]
			k.rule = rule
			if was, known := out[k]; !known || gravity[o] > gravity[was.Outcome] {
				out[k] = outcome{o, int32(row)}
			}
		}
	}
	return out
}

// at is a rule on a row of what it judges.
type at struct {
	rule *pack.Rule
	row  int32
}

// notes is where rules tell no more than a note.
func (r side) notes() map[at]bool {
	out := map[at]bool{}
	for _, v := range r.Judgement.Verdicts {
		out[at{v.Rule, v.Row}] = v.Severity == pack.Note
	}
	return out
}

// rules finds the rules that were met as drawn and are not met, or not checked, as built. Rules are those of one set,
// since both frames were judged by the same region.
func (c *comparing) rules() {
	c.outcomes = [2]map[judged]outcome{c.drawn.outcomes(), c.built.outcomes()}
	notes := c.built.notes()
	worse := map[string]int{}
	var found []asbuilt.Change
	for k, o := range c.outcomes[0] {
		b, there := c.outcomes[1][k]
		if !there || o.Outcome != pack.Met || gravity[b.Outcome] <= gravity[pack.Met] {
			continue
		}
		ch := asbuilt.Change{What: asbuilt.Rule, Mark: k.mark, Rule: k.rule.ID, Was: o.String(), Now: b.String(), OutcomeDrawn: o.String(), OutcomeBuilt: b.String(), RuleNotes: notes[at{k.rule, b.row}],
			About: fmt.Sprintf("%s %s %d", k.rule.ID, k.on, k.nth)}
		if k.on != "" {
			ch.Support = &finding.Support{On: k.on, At: c.built.Down.Frame.Supports[b.row].At, Index: int(max(0, c.built.Down.Frame.Supports[b.row].Document))}
		}
		ch.Place = c.built.Source.Place("")
		if bi := c.built.Source.Document.Index(k.mark); bi >= 0 {
			ch.Place = c.built.Source.MemberPlace(bi, "")
		}
		found = append(found, ch)
		if !ch.RuleNotes {
			worse[k.mark]++
		}
	}
	slices.SortFunc(found, func(a, b asbuilt.Change) int { return natural(a.Mark, b.Mark, a.About, b.About) })
	for _, ch := range found {
		c.add(ch, c.drawn.Source.Document.Index(ch.Mark), c.built.Source.Document.Index(ch.Mark))
	}
	c.blame(worse)
}

// blame counts for each member with changed properties the rules that are worse on it, and on what it rests on and what
// rests on it where those are as drawn.
func (c *comparing) blame(worse map[string]int) {
	changed := map[string]bool{}
	for i := range c.changes {
		if c.changes[i].What == asbuilt.Properties {
			changed[c.changes[i].Mark] = true
		}
	}
	f := c.built.Down.Frame
	for i := range c.changes {
		ch := &c.changes[i]
		if ch.What != asbuilt.Properties || c.rows[i].built < 0 {
			continue
		}
		met := map[string]bool{ch.Mark: true}
		from, to := f.PiecesOf(c.rows[i].built)
		for p := from; p < to; p++ {
			supports, _ := f.SupportsOf(p)
			for k := range supports {
				if on := supports[k].On; on >= 0 && !changed[f.Member(on).Mark] {
					met[f.Member(on).Mark] = true
				}
			}
			for _, s := range f.LandingsOn(p) {
				if m := f.Member(f.Supports[s].Piece).Mark; !changed[m] {
					met[m] = true
				}
			}
		}
		for mark := range met {
			ch.RulesWorse += worse[mark]
		}
	}
}
