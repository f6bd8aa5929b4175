package pack

import (
	"fmt"
	"slices"
	"strings"

	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/problem"
)

// override applies what a pack changes of packs before it.
func (c *compiler) override(p *Pack) {
	for _, o := range p.set {
		c.setParam(p, o)
	}
	for _, o := range p.change {
		if r := c.target(p, o.rule, o.place); r != nil {
			from := r.Weight()
			if o.severity < r.Severity {
				c.loosen(Loosened{What: "severity", Pack: p.ID, Rule: r.ID, From: from, To: o.severity.String(), Reason: o.reason, Place: o.place})
			}
			r.Changes = append(r.Changes, Step{Pack: p, From: from, To: o.severity.String(), Reason: o.reason, Place: o.place})
			r.Severity = o.severity
			r.text = withSeverity(r.text, o.severity)
		}
	}
	for _, o := range p.off {
		r := c.target(p, o.rule, o.place)
		if r == nil || c.set.IsOff(r) {
			continue
		}
		c.loosen(Loosened{What: "off", Pack: p.ID, Rule: r.ID, From: r.Weight(), To: "off", Reason: o.reason, Place: o.place})
		r.Changes = append(r.Changes, Step{Pack: p, From: r.Weight(), To: "off", Reason: o.reason, Place: o.place})
		c.set.Off = append(c.set.Off, r)
	}
}

// withSeverity is a rule's text with one severity; the pack that it was read from keeps its own.
func withSeverity(t *ruleText, s Severity) *ruleText {
	changed := *t
	changed.severity = []gradeText{{is: s}}
	return &changed
}

func (c *compiler) loosen(l Loosened) { c.set.Loosened = append(c.set.Loosened, l) }

// target is the rule that a change names, or nil with a problem.
func (c *compiler) target(p *Pack, id string, at problem.Place) *Rule {
	r := c.set.byID[id]
	switch {
	case r == nil:
		fix := problem.DidYouMean(id, c.set.ids(), "name it as pack/rule")
		if near := c.set.Rule(id); near != nil {
			fix = "write " + near.ID
		}
		var related *problem.Place
		pack, _, _ := strings.Cut(id, "/")
		if other := c.set.first[pack]; other != nil {
			related = &other.place
		}
		c.problem(at, related, fix, "there is no rule %s", id)
	case r.Pack == p:
		c.problem(at, &r.Place, "change the rule itself", "the rule %s is the pack's own", r.ID)
		return nil
	case slices.Index(c.set.Packs, r.Pack) > slices.Index(c.set.Packs, p):
		c.problem(at, &r.Place, "a pack changes packs before it: region, shipped, house", "the rule %s comes later", r.ID)
		return nil
	}
	return r
}

func (c *compiler) setParam(p *Pack, o setting) {
	name := o.pack + "." + o.param
	q := c.params[name]
	switch {
	case c.set.first[o.pack] == nil:
		c.problem(o.place, nil, problem.DidYouMean(o.pack, c.packIDs(), "add it to the packs of this run"), "there is no pack %s", o.pack)
		return
	case q == nil:
		var names []string
		for _, other := range c.set.Params {
			if other.Pack.ID == o.pack {
				names = append(names, other.Name)
			}
		}
		c.problem(o.place, &c.set.first[o.pack].place, problem.DidYouMean(o.param, names, "it has "+strings.Join(names, ", ")), "the pack %s has no param %s", o.pack, o.param)
		return
	case q.Pack == p:
		c.problem(o.place, &q.place, "change the param itself", "the param %s is the pack's own", name)
		return
	case slices.Index(c.set.Packs, q.Pack) > slices.Index(c.set.Packs, p):
		c.problem(o.place, &q.place, "a pack changes packs before it: region, shipped, house", "the param %s comes later", name)
		return
	case !sameType(o.value.Type, q.Value.Type):
		c.problem(o.place, &q.place, fmt.Sprintf("write a %s, such as %s", typeName(q.Value.Type), q.Written),
			"the param %s is a %s, and this sets it to a %s", name, typeName(q.Value.Type), typeName(o.value.Type))
		return
	}
	if loosens(q, o.value) {
		c.loosen(Loosened{What: "param", Pack: p.ID, Param: name, From: q.Written, To: o.written, Reason: o.reason, Place: o.place})
	}
	q.Changes = append(q.Changes, Step{Pack: p, From: q.Written, To: o.written, Reason: o.reason, Place: o.place})
	q.Value, q.Written = o.value, o.written
	q.bound.Value, q.bound.Place = o.value, o.place
}

func sameType(a, b expression.Type) bool {
	return a.Kind == b.Kind && a.Dimension == b.Dimension && a.Of == b.Of
}

func typeName(t expression.Type) string {
	if t.Kind == expression.Number {
		return dimensionName(t.Dimension)
	}
	return t.String()
}

// loosens is whether a value makes a param less strict. Without a safe side every change does.
func loosens(q *Param, v expression.Constant) bool {
	switch q.Safe {
	case Higher:
		return v.Number < q.Value.Number
	case Lower:
		return v.Number > q.Value.Number
	}
	return !sameValue(v, q.Value)
}

func sameValue(a, b expression.Constant) bool {
	return a.Number == b.Number && a.Text == b.Text && a.Truth == b.Truth && slices.EqualFunc(a.List, b.List, sameValue)
}
