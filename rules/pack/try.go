package pack

import (
	"fmt"
	"sort"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/pack/table"
	"example.com/scantling/rules/vocabulary"
)

// Vet reads packs as Compile does and goes on to what a run does not need: examples that can be read, one met and one not
// met for each rule, and nothing that the packs name and never use. The error is Problems.
func Vet(book *vocabulary.Book, packs ...*Pack) error {
	s, c := compile(book, packs)
	if len(c.problems) == 0 {
		c.unused()
	}
	for _, r := range allRules(s) {
		given := map[Outcome]bool{}
		for _, e := range r.Examples {
			given[e.Outcome] = true
			_, problems := exampleFacts(book, r, e)
			c.problems = append(c.problems, problems...)
		}
		for _, outcome := range []Outcome{Met, NotMet} {
			if !given[outcome] {
				c.problems = append(c.problems, problem.Problem{
					Place: r.Place, Rule: r.text.id, Message: fmt.Sprintf("the rule has no example that is %s", outcome),
					Fix: fmt.Sprintf("add - %s: {...} with facts, and run `scantling pack try`", outcome),
				})
			}
		}
	}
	return c.problems.Sorted().Err()
}

// allRules is the rules of a set, those switched off included, in the order of their packs.
func allRules(s *Set) []*Rule {
	rules := append(append([]*Rule(nil), s.Rules...), s.Off...)
	at := map[*Pack]int{}
	for i, p := range s.Packs {
		at[p] = i
	}
	sort.SliceStable(rules, func(i, j int) bool {
		a, b := rules[i], rules[j]
		return at[a.Pack] < at[b.Pack] || a.Pack == b.Pack && a.Place.Line < b.Place.Line
	})
	return rules
}

// expressions are all expressions of a rule.
func (r *Rule) expressions() []*expression.Expression {
	out := []*expression.Expression{r.where, r.require, r.found, r.need}
	for _, g := range r.severities {
		out = append(out, g.when)
	}
	if r.say != nil {
		out = append(out, r.say.Expressions()...)
	}
	kept := out[:0]
	for _, x := range out {
		if x != nil {
			kept = append(kept, x)
		}
	}
	return kept
}

// unused says which params, definitions and tables no rule names.
func (c *compiler) unused() {
	params, sources, tables := map[*expression.Param]bool{}, map[*expression.Source]bool{}, map[*table.Table]bool{}
	for _, r := range allRules(c.set) {
		for _, x := range r.expressions() {
			for _, p := range x.Params() {
				params[p] = true
			}
			for _, s := range x.Sources() {
				sources[s] = true
			}
			for _, t := range x.Tables() {
				tables[t] = true
			}
		}
	}
	for _, p := range c.set.Params {
		if !params[p.bound] {
			c.problem(p.place, nil, "leave it out, or name it in a rule", "no rule uses the param %s", p.Name)
		}
	}
	for _, p := range c.set.Packs {
		for _, name := range sortedKeys(p.defines) {
			if !sources[p.defines[name]] {
				c.problem(p.defines[name].Place, nil, "leave it out, or name it in a rule", "no rule uses the definition %s", name)
			}
		}
		for _, name := range sortedKeys(p.tables) {
			if !tables[p.tables[name]] {
				c.problem(p.about[name].place, nil, "leave it out, or name it in a rule", "no rule uses the table %s", name)
			}
		}
	}
}

// Trial is what came of a pack's own examples.
type Trial struct {
	Passed    int
	Failed    []Miss
	Unreached []Unreached
}

// Miss is an example that did not end as it says.
type Miss struct {
	Rule    *Rule
	Example *Example
	Got     Outcome
	Why     string // the message or the reason that came of it
}

// Error is the miss in one line.
func (m Miss) Error() string {
	s := fmt.Sprintf("%s: rule %s: the example says %s and is %s", m.Example.Place, m.Rule.ID, m.Example.Outcome, m.Got)
	if m.Why != "" {
		s += ": " + m.Why
	}
	return s
}

// Unreached is a part of a rule that none of its examples reaches.
type Unreached struct {
	Rule *Rule
	Part problem.Problem // with the expression and a caret at the part
}

// Try judges every example of a set's rules, those switched off included, each as the only row of its run. Params are as
// the layers have set them.
func (s *Set) Try(u model.Units) (Trial, error) {
	var t Trial
	traces := map[*Rule]*expression.Trace{}
	err := s.WalkExamples(func(w Walked) {
		got, why := s.tryOne(w.Rule, w.Facts, u)
		if got == w.Example.Outcome {
			t.Passed++
		} else {
			t.Failed = append(t.Failed, Miss{w.Rule, w.Example, got, why})
		}
		if traces[w.Rule] == nil {
			traces[w.Rule] = expression.NewTrace()
		}
		cover(w.Rule, w.Facts, traces[w.Rule])
	})
	for _, r := range allRules(s) {
		trace := traces[r]
		if trace == nil {
			trace = expression.NewTrace()
		}
		t.Unreached = append(t.Unreached, unreached(r, trace)...)
	}
	return t, err
}

// Walked is an example of a rule as facts, with what the rule holds against them.
type Walked struct {
	Rule        *Rule
	Example     *Example
	Facts       *vocabulary.Facts
	Expressions []*expression.Expression
	Names       expression.Names // what the expressions can name beside the vocabulary
}

// WalkExamples visits every example of every rule, those switched off included. It returns Problems of examples that
// cannot be read.
func (s *Set) WalkExamples(visit func(Walked)) error {
	var problems problem.Problems
	for _, r := range allRules(s) {
		for _, e := range r.Examples {
			f, wrong := exampleFacts(s.Book, r, e)
			if len(wrong) > 0 {
				problems = append(problems, wrong...)
				continue
			}
			visit(Walked{r, e, f, r.expressions(), s.names[r.Pack]})
		}
	}
	return problems.Sorted().Err()
}

// tryOne judges facts by one rule and says what came of it.
func (s *Set) tryOne(r *Rule, f *vocabulary.Facts, u model.Units) (Outcome, string) {
	alone := *r
	alone.index = 0
	one := &Set{Book: s.Book, Packs: s.Packs, Rules: []*Rule{&alone}}
	j := one.Judge(f, Options{Matrix: true})
	why := ""
	for _, failure := range j.Failures {
		why = failure.Message
	}
	for _, v := range j.Verdicts {
		// Rows that the example reaches may be of the judged subject too; the first is the one that is judged.
		if v.Row == 0 {
			why = j.Account(v, u).Message
		}
	}
	return j.Matrix[0][0], why
}

// cover runs a rule's expressions once more with a trace.
func cover(r *Rule, f *vocabulary.Facts, trace *expression.Trace) {
	b, run := expression.NewBinder(f, trace), &expression.Run{}
	run.Begin(0, 0)
	if r.where != nil && !b.Truth(r.where)(run) {
		return
	}
	trace.Reach(r.require)
	run.Again()
	b.Truth(r.require)(run)
}

// unreached lists the parts of a rule that a trace has not reached.
func unreached(r *Rule, trace *expression.Trace) []Unreached {
	var out []Unreached
	part := func(src *expression.Source, at int, message string) {
		out = append(out, Unreached{r, problem.Problem{
			Place: src.Character(at), Rule: r.ID, Message: message, Fix: "add an example that comes here", Expression: src.Text, Caret: at,
		}})
	}
	if !trace.Reached(r.require) {
		part(r.require.Source, 0, "no example gets past where")
		return out
	}
	for _, x := range []*expression.Expression{r.where, r.require} {
		if x == nil {
			continue
		}
		for _, b := range trace.Unreached(x) {
			part(b.Source, b.At, fmt.Sprintf("no example reaches this part of %s", b.Text))
		}
	}
	return out
}
