package changes

import (
	"cmp"
	"slices"
	"strings"

	"example.com/scantling/engine"
	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

// judge has the rules on changes judge every change, and puts the findings together.
func (c *comparing) judge(o engine.Options) *finding.Result {
	joined := joinFacts(c.drawn.Filled.Facts, c.built.Filled.Facts)
	c.fill(joined)
	j := c.built.Set.Judge(joined, pack.Options{Only: []vocabulary.Subject{vocabulary.Change}})
	out := c.result(j)
	for i := range c.changes {
		c.changes[i].Verdict = asbuilt.None
	}
	for _, v := range j.Verdicts {
		ch := &c.changes[v.Row]
		f := engine.Said(j, v, j.Account(v, c.built.Source.Document.Units))
		f.Member, f.Support, f.Place = ch.Mark, ch.Support, ch.Place
		if built := c.rows[v.Row].built; built >= 0 {
			if m := &c.built.Source.Document.Members[built]; len(m.Drawings) > 0 {
				f.Drawing = m.Drawings[0].ID
			}
		}
		f.ID = strings.TrimRight(f.Identity()+" "+ch.About, " ")
		if ch.Evidence != "" {
			f.Related = append(f.Related, finding.Related{Mark: ch.Mark, Message: ch.Evidence, Place: ch.Place})
		}
		ch.Findings = append(ch.Findings, f.ID)
		ch.Verdict = ch.Verdict.Graver(verdictOf(&f))
		out.Findings = append(out.Findings, f)
	}
	c.passOn()
	finding.Sort(out.Findings)
	out.Signoffs = finding.Apply(out.Findings, o.Signed, o.Today)
	finding.Count(out)
	return out
}

func verdictOf(f *finding.Finding) asbuilt.Verdict {
	if f.Outcome == finding.Unchecked && f.Severity != finding.Note {
		return asbuilt.Unchecked
	}
	return asbuilt.Verdict(f.Severity)
}

// passOn gives a change of properties that no rule names itself, but that rules are worse for, the verdict on those.
func (c *comparing) passOn() {
	for i := range c.changes {
		if ch := &c.changes[i]; ch.What == asbuilt.Properties && ch.Verdict == asbuilt.None && ch.RulesWorse > 0 {
			ch.Verdict = asbuilt.Stop
		}
	}
}

// result is what the findings of the comparison stand in.
func (c *comparing) result(j *pack.Judgement) *finding.Result {
	out := *c.built.Result
	out.Summary, out.Findings, out.Packs, out.Signoffs = finding.Summary{}, nil, nil, nil
	rules := map[*pack.Pack]int{}
	for _, r := range j.Set.Rules {
		if r.Judges == vocabulary.Change {
			rules[r.Pack]++
		}
	}
	for _, p := range j.Set.Packs {
		if rules[p] > 0 {
			out.Packs = append(out.Packs, finding.Pack{ID: p.ID, Edition: p.Edition, Title: p.Title, SHA256: p.SHA256, Rules: rules[p]})
		}
	}
	out.Incomplete = nil
	for _, side := range []struct {
		name string
		run  *engine.Run
	}{{"as drawn", c.drawn.Run}, {"as built", c.built.Run}} {
		for _, why := range side.run.Incomplete() {
			out.Incomplete = append(out.Incomplete, side.name+": "+why)
		}
		for _, f := range side.run.Judgement.Failures {
			out.Incomplete = append(out.Incomplete, side.name+": "+f.Error())
		}
	}
	for _, f := range j.Failures {
		out.Incomplete = append(out.Incomplete, f.Error())
	}
	for i := range j.Counts {
		out.Summary.Met += j.Counts[i][pack.Met]
		out.Summary.NotApplicable += j.Counts[i][pack.NotApplicable]
	}
	return &out
}

// fill makes a row of every change.
func (c *comparing) fill(f *vocabulary.Facts) {
	n := len(c.changes)
	f.Tables[vocabulary.Change] = vocabulary.Table{Rows: n}
	for _, fact := range f.Book.Facts(vocabulary.Change) {
		get, known := changeFacts[fact.Name]
		if !known {
			continue
		}
		col := &vocabulary.Column{Absent: make([]vocabulary.Reason, n)}
		switch fact.Type {
		case vocabulary.Number:
			col.Numbers = make([]float64, n)
		case vocabulary.Text:
			col.Texts = make([]string, n)
		default:
			col.Truths = make([]bool, n)
		}
		for i := range c.changes {
			v, why := get(&c.changes[i])
			switch v := v.(type) {
			case float64:
				col.Numbers[i] = v
			case string:
				col.Texts[i] = v
			case bool:
				col.Truths[i] = v
			}
			if why != "" {
				col.Absent[i] = f.Reason(why)
			}
		}
		f.Columns[fact.ID()] = col
	}
	shift := int32(len(c.drawn.Down.Frame.Pieces))
	c.link(f, "drawn", "it was not drawn", func(p pairOf) (int32, bool) { return firstPiece(c.drawn, p.drawn) })
	c.link(f, "built", "it is not built", func(p pairOf) (int32, bool) {
		row, there := firstPiece(c.built, p.built)
		return row + shift, there
	})
}

// link fills a relation from changes to members.
func (c *comparing) link(f *vocabulary.Facts, name, none string, row func(pairOf) (int32, bool)) {
	l := &vocabulary.Link{Start: []int32{0}, Absent: make([]vocabulary.Reason, len(c.changes))}
	for i := range c.changes {
		if at, there := row(c.rows[i]); there {
			l.Rows = append(l.Rows, at)
		} else {
			l.Absent[i] = f.Reason(none)
		}
		l.Start = append(l.Start, int32(len(l.Rows)))
	}
	f.Links[f.Book.Relation(vocabulary.Change, name).ID()] = l
}

func firstPiece(r side, member int32) (row int32, there bool) {
	if member < 0 {
		return 0, false
	}
	from, to := r.Down.Frame.PiecesOf(member)
	return from, from < to
}

// changeFacts is where each fact of a change comes from: its value, or why it is absent.
var changeFacts = map[string]func(*asbuilt.Change) (any, string){
	"what": func(c *asbuilt.Change) (any, string) { return string(c.What), "" },
	"id":   func(c *asbuilt.Change) (any, string) { return c.Mark, "" },
	"key": func(c *asbuilt.Change) (any, string) {
		return told(strings.ReplaceAll(c.Key, "_", " "), "no key of the document differs")
	},
	"difference": func(c *asbuilt.Change) (any, string) { return told(c.Differs, "no property of it changed") },
	"was":        func(c *asbuilt.Change) (any, string) { return told(c.Was, "nothing of it was drawn") },
	"now":        func(c *asbuilt.Change) (any, string) { return told(c.Now, "nothing of it is built") },
	"lower":      func(c *asbuilt.Change) (any, string) { return ranked(c, len(c.Lower)) },
	"higher":     func(c *asbuilt.Change) (any, string) { return ranked(c, len(c.Higher)) },
	"lower_names": func(c *asbuilt.Change) (any, string) {
		return told(strings.Join(without(c.Lower, c.Higher), ", "), "nothing is known to be worse")
	},
	"higher_names": func(c *asbuilt.Change) (any, string) {
		return told(strings.Join(without(c.Higher, c.Lower), ", "), "nothing is known to be better")
	},
	"ranking":          func(c *asbuilt.Change) (any, string) { return told(ranking(c), "no property of it can be ranked") },
	"strength_ratio":   func(c *asbuilt.Change) (any, string) { return figureFact(c.Strength) },
	"stiffness_ratio":  func(c *asbuilt.Change) (any, string) { return figureFact(c.Stiffness) },
	"material_differs": func(c *asbuilt.Change) (any, string) { return c.Swapped, c.SwapUnknown },
	"moved":            func(c *asbuilt.Change) (any, string) { return figureFact(c.Moved) },
	"bearing_less":     func(c *asbuilt.Change) (any, string) { return figureFact(c.BearingLess) },
	"notch_more":       func(c *asbuilt.Change) (any, string) { return figureFact(c.NotchMore) },
	"load_ratio":       func(c *asbuilt.Change) (any, string) { return figureFact(c.LoadRatio) },
	"load_more":        func(c *asbuilt.Change) (any, string) { return figureFact(c.LoadMore) },
	"rule":             func(c *asbuilt.Change) (any, string) { return told(c.Rule, "it is no rule that changed") },
	"outcome_drawn":    func(c *asbuilt.Change) (any, string) { return told(c.OutcomeDrawn, "it is no rule that changed") },
	"outcome_built":    func(c *asbuilt.Change) (any, string) { return told(c.OutcomeBuilt, "it is no rule that changed") },
	"rule_notes":       func(c *asbuilt.Change) (any, string) { return c.RuleNotes, "" },
	"rules_worse":      func(c *asbuilt.Change) (any, string) { return float64(c.RulesWorse), "" },
	"evidence":         func(c *asbuilt.Change) (any, string) { return told(c.Evidence, "nobody is said to have seen it") },
	"on_existing":      func(c *asbuilt.Change) (any, string) { return c.OnExisting, "" },
}

// ranking says what is worse, what is better, of what nobody can say, and how strong and stiff that makes it.
func ranking(c *asbuilt.Change) string {
	worse, better := without(c.Lower, c.Higher), without(c.Higher, c.Lower)
	var parts []string
	for _, part := range []struct {
		words string
		names []string
	}{{"Worse: ", worse}, {"Better: ", better}, {"Nobody can say whether better or worse: ", without(c.Lower, worse)}} {
		if len(part.names) > 0 {
			parts = append(parts, part.words+strings.Join(part.names, ", "))
		}
	}
	if ratios := c.Ratios(); ratios != "" {
		parts = append(parts, "I"+ratios[1:])
	}
	return strings.Join(parts, ". ")
}

// without is the names of a list that another does not have.
func without(list, other []string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(name string) bool { return slices.Contains(other, name) })
}

func told(text, why string) (any, string) {
	if text == "" {
		return text, why
	}
	return text, ""
}

func ranked(c *asbuilt.Change, n int) (any, string) {
	if c.What != asbuilt.Properties {
		return 0.0, "no property of it changed"
	}
	return float64(n), c.Unranked
}

func figureFact(w asbuilt.Worked) (any, string) {
	if w.Known {
		return w.Value, ""
	}
	return 0.0, cmp.Or(w.Why, "it is no figure of this kind of change")
}
