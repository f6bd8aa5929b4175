package changes

import (
	"cmp"
	"math"
	"slices"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

// A load that differs by less than these counts as the same.
const (
	leastShift = 10.0  // N
	leastPart  = 0.005 // of the load
)

func shifted(d, b asbuilt.Worked) bool {
	if !d.Known || !b.Known {
		return d.Known != b.Known
	}
	more := math.Abs(b.Value - d.Value)
	return more > leastShift && more > leastPart*math.Max(math.Abs(d.Value), math.Abs(b.Value))
}

// loads makes a change of every load on the ground, and on what stays from before the work, that has grown.
func (c *comparing) loads() {
	grown := func(mark string, d, b asbuilt.Worked) {
		if !d.Known || !b.Known || b.Value-d.Value < 1 {
			return
		}
		ch := asbuilt.Change{What: asbuilt.Load, Mark: mark, Was: c.built.Print(d.Value, model.Force), Now: c.built.Print(b.Value, model.Force),
			LoadMore: asbuilt.Known(b.Value - d.Value), LoadRatio: asbuilt.Unknown("nothing rested on it as drawn"), OnExisting: true}
		if d.Value > 0 {
			ch.LoadRatio = asbuilt.Known(b.Value / d.Value)
		}
		di, bi := c.drawn.Source.Document.Index(mark), c.built.Source.Document.Index(mark)
		ch.Place = c.built.Source.MemberPlace(bi, "")
		c.add(ch, di, bi)
	}
	drawn, built := c.drawn.arrived(), c.built.arrived()
	for _, mark := range built.order {
		if d, there := drawn.loads[mark]; there {
			grown(mark, d, built.loads[mark])
		}
	}
	for i := range c.built.Source.Document.Members {
		m := &c.built.Source.Document.Members[i]
		k := c.drawn.Source.Document.Index(m.Mark)
		if m.Phase == model.Existing && !m.Ground && k >= 0 {
			grown(m.Mark, c.drawn.borne(k), c.built.borne(i))
		}
	}
}

// arrivals is what arrives at every member on the ground, by mark.
type arrivals struct {
	order []string
	loads map[string]asbuilt.Worked
}

func (r side) arrived() arrivals {
	out := arrivals{loads: map[string]asbuilt.Worked{}}
	load := r.Filled.Book.Fact(vocabulary.Ground, "load")
	for row, piece := range r.Filled.Rows.Grounds {
		mark := r.Down.Frame.Member(piece).Mark
		before, there := out.loads[mark]
		if !there {
			out.order = append(out.order, mark)
		}
		v := r.number(load, int32(row))
		if there && (!before.Known || v.Known && v.Value < before.Value) {
			v = before
		}
		out.loads[mark] = v
	}
	return out
}

// borne is the load that a member carries and passes on, its own weight counted: the worst of its pieces.
func (r side) borne(member int) asbuilt.Worked {
	load := r.Filled.Book.Fact(vocabulary.Member, "total_load")
	from, to := r.Down.Frame.PiecesOf(int32(member))
	out := asbuilt.Unknown("it does not stand")
	for row := from; row < to; row++ {
		v := r.number(load, row)
		if !v.Known {
			return v
		}
		v.Value = r.Filled.Borne(row)
		if !out.Known || v.Value > out.Value {
			out = v
		}
	}
	return out
}

// number is a fact of a row, or why it is absent.
func (r side) number(f *vocabulary.Fact, row int32) asbuilt.Worked {
	v, why := r.Filled.Number(f, row)
	if why != 0 {
		return asbuilt.Unknown(r.Filled.Explain(why))
	}
	return asbuilt.Known(v)
}

// knockOn lists what is another as built than as drawn, all the way down.
func (c *comparing) knockOn() asbuilt.KnockOn {
	var out asbuilt.KnockOn
	none := asbuilt.Unknown("not there")
	drawn, built := c.drawn.pushes(), c.built.pushes()
	for k, b := range built {
		d, there := drawn[k]
		if !there {
			d = none
		}
		if shifted(d, b) {
			out.Reactions = append(out.Reactions, asbuilt.Shift{Mark: k.mark, On: k.on, Nth: k.nth, Drawn: d, Built: b})
		}
	}
	for k, d := range drawn {
		if _, there := built[k]; !there {
			out.Reactions = append(out.Reactions, asbuilt.Shift{Mark: k.mark, On: k.on, Nth: k.nth, Drawn: d, Built: none})
		}
	}
	dg, bg := c.drawn.arrived(), c.built.arrived()
	for _, mark := range bg.order {
		d, there := dg.loads[mark]
		if !there {
			d = none
		}
		if shifted(d, bg.loads[mark]) {
			out.Ground = append(out.Ground, asbuilt.Shift{Mark: mark, Drawn: d, Built: bg.loads[mark]})
		}
	}
	for _, mark := range dg.order {
		if _, there := bg.loads[mark]; !there {
			out.Ground = append(out.Ground, asbuilt.Shift{Mark: mark, Drawn: dg.loads[mark], Built: none})
		}
	}
	out.Phase = c.staged()
	out.Rules = c.ruleShifts()
	order := func(a, b asbuilt.Shift) int { return cmp.Or(natural(a.Mark, b.Mark, a.On, b.On), a.Nth-b.Nth) }
	slices.SortStableFunc(out.Reactions, order)
	slices.SortStableFunc(out.Ground, order)
	return out
}

// pushes is the push down at every support, the worst of the pieces of a run.
func (r side) pushes() map[judged]asbuilt.Worked {
	out := map[judged]asbuilt.Worked{}
	push := r.Filled.Book.Fact(vocabulary.Support, "reaction_service")
	for i, k := range r.names(vocabulary.Support) {
		if r.Down.Frame.Supports[i].Against {
			continue
		}
		v := r.number(push, int32(i))
		if was, there := out[k]; !there || !was.Known || v.Known && v.Value > was.Value {
			out[k] = v
		}
	}
	return out
}

// staged lists what stood before the work and carries another load after it.
func (c *comparing) staged() []asbuilt.Staged {
	var out []asbuilt.Staged
	keep := func(s asbuilt.Staged) {
		if shifted(s.Before, s.Drawn) || shifted(s.Before, s.Built) {
			out = append(out, s)
		}
	}
	before := c.drawn.Filled.Book.Fact(vocabulary.Ground, "load_before")
	load := c.drawn.Filled.Book.Fact(vocabulary.Ground, "load")
	built := map[string]int32{}
	for row, piece := range c.built.Filled.Rows.Grounds {
		built[c.built.Down.Frame.Name(piece)] = int32(row)
	}
	for row, piece := range c.drawn.Filled.Rows.Grounds {
		name := c.drawn.Down.Frame.Name(piece)
		b, there := built[name]
		if v := c.drawn.number(before, int32(row)); v.Known && there {
			keep(asbuilt.Staged{Mark: name, Before: v, Drawn: c.drawn.number(load, int32(row)), Built: c.built.number(load, b)})
		}
	}
	for i := range c.drawn.Source.Document.Members {
		m := &c.drawn.Source.Document.Members[i]
		k := c.built.Source.Document.Index(m.Mark)
		if m.Phase != model.Existing || m.Ground || k < 0 {
			continue
		}
		was, more := c.drawn.increase(i)
		_, moreBuilt := c.built.increase(k)
		if more.Known && moreBuilt.Known {
			keep(asbuilt.Staged{Mark: m.Mark, Before: was, Drawn: asbuilt.Known(was.Value + more.Value), Built: asbuilt.Known(was.Value + moreBuilt.Value)})
		}
	}
	slices.SortStableFunc(out, func(a, b asbuilt.Staged) int { return natural(a.Mark, b.Mark) })
	return out
}

// increase is what rested on a member before the work and how much more does after it: the worst of its pieces.
func (r side) increase(member int) (before, more asbuilt.Worked) {
	amount, ratio := r.Filled.Book.Fact(vocabulary.Member, "load_increase"), r.Filled.Book.Fact(vocabulary.Member, "load_increase_ratio")
	before, more = asbuilt.Known(0), asbuilt.Unknown("it does not stand")
	from, to := r.Down.Frame.PiecesOf(int32(member))
	for row := from; row < to; row++ {
		v := r.number(amount, row)
		if !v.Known || more.Known && v.Value <= more.Value {
			continue
		}
		before, more = asbuilt.Known(0), v
		if q := r.number(ratio, row); q.Known && q.Value != 0 {
			before = asbuilt.Known(v.Value / q.Value)
		}
	}
	return before, more
}

// ruleShifts lists the rules whose outcome is another on what stands both as drawn and as built.
func (c *comparing) ruleShifts() []asbuilt.RuleShift {
	var out []asbuilt.RuleShift
	said := map[string]string{}
	for i := range c.built.Result.Findings {
		f := &c.built.Result.Findings[i]
		key := f.Rule + " " + f.Member
		if f.Support != nil {
			key += " " + f.Support.On
		}
		said[key] = f.Message
	}
	for k, d := range c.outcomes[0] {
		b, there := c.outcomes[1][k]
		if !there || d.Outcome == b.Outcome {
			continue
		}
		mark := k.mark
		out = append(out, asbuilt.RuleShift{Rule: k.rule.ID, Title: k.rule.Title, Mark: mark, On: k.on, Drawn: d.String(), Built: b.String()})
		if gravity[b.Outcome] > gravity[pack.Met] {
			if mark == "frame" {
				mark = ""
			}
			key := k.rule.ID + " " + mark
			if k.on != "" {
				key += " " + k.on
			}
			out[len(out)-1].Message = said[key]
		}
	}
	slices.SortStableFunc(out, func(a, b asbuilt.RuleShift) int { return natural(a.Mark, b.Mark, a.Rule, b.Rule, a.On, b.On) })
	return out
}

// natural orders by pairs of texts, the first that differs counting, as people order marks.
func natural(pairs ...string) int {
	for i := 0; i+1 < len(pairs); i += 2 {
		switch a, b := pairs[i], pairs[i+1]; {
		case a == b:
		case finding.Natural(a, b):
			return -1
		default:
			return 1
		}
	}
	return 0
}
