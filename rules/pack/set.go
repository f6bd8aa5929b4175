package pack

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"

	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/vocabulary"
)

// Set is packs put in layers and compiled against a vocabulary. It is not changed by judging.
type Set struct {
	Book     *vocabulary.Book
	Packs    []*Pack    // in the order of their layers
	Rules    []*Rule    // those that judge, in the order of their packs
	Off      []*Rule    // those that a later pack has switched off
	Params   []*Param   // of all packs
	Loosened []Loosened // what later packs have made less strict, in order

	byID  map[string]*Rule // by id and by old ids
	first map[string]*Pack
	names map[*Pack]expression.Names
}

// Rule is a rule of a set, as its layers have left it.
type Rule struct {
	ID                          string // pack/id
	Pack                        *Pack
	Title, Say, Do, Source, Why string
	Judges                      vocabulary.Subject
	Severity                    Severity // the gravest, where it depends
	Was                         []string // old ids, as pack/id
	Keys                        []string // document keys that feed it
	Examples                    []*Example
	Changes                     []Step // what later packs have changed of it
	Place                       problem.Place

	index      int
	lead       *lead // nil: its where begins with no test of a text
	text       *ruleText
	where      *expression.Expression // or nil
	require    *expression.Expression
	found      *expression.Expression // or nil
	need       *expression.Expression // or nil
	say        *expression.Template
	severities []graded
	reads      vocabulary.Touch // what must differ for it to come to another verdict
}

// Weight is the rule's severity in words; "up to" the gravest where it depends.
func (r *Rule) Weight() string {
	if len(r.text.severity) > 1 {
		return "up to " + r.Severity.String()
	}
	return r.Severity.String()
}

// graded is an entry of a rule's severities; when is nil in the last.
type graded struct {
	when *expression.Expression
	is   Severity
}

// Param is a param of a set, as its layers have left it.
type Param struct {
	Pack    *Pack
	Name    string
	Text    string
	Safe    Safe
	Value   expression.Constant
	Written string // its value as the last pack wrote it
	Changes []Step

	bound *expression.Param
	place problem.Place
}

// Step is one change that a later pack makes.
type Step struct {
	Pack             *Pack
	From, To, Reason string
	Place            problem.Place
}

// Loosened is one change that makes a set less strict.
type Loosened struct {
	What             string // "param", "severity" or "off"
	Pack             string // the pack that changes it
	Rule             string // pack/id, of a severity and of off
	Param            string // pack.name, of a param
	From, To, Reason string
	Place            problem.Place
}

// Compile puts packs in layers and checks all of it against a vocabulary. The error is Problems: all of them, those of
// reading the packs included.
func Compile(book *vocabulary.Book, packs ...*Pack) (*Set, error) {
	s, c := compile(book, packs)
	if len(c.problems) > 0 {
		return nil, c.problems.Sorted()
	}
	return s, nil
}

// compile compiles what can be compiled; the set is whole only where there are no problems.
func compile(book *vocabulary.Book, packs []*Pack) (*Set, *compiler) {
	s := &Set{Book: book, byID: map[string]*Rule{}, first: map[string]*Pack{}, names: map[*Pack]expression.Names{}}
	s.Packs = append(s.Packs, packs...)
	sort.SliceStable(s.Packs, func(i, j int) bool { return s.Packs[i].Layer < s.Packs[j].Layer })
	c := &compiler{set: s, params: map[string]*Param{}}
	for _, p := range s.Packs {
		c.problems = append(c.problems, p.problems...)
		c.add(p)
	}
	for _, p := range s.Packs {
		c.needs(p)
	}
	for _, p := range s.Packs {
		c.override(p)
	}
	for _, p := range s.Packs {
		s.names[p] = c.names(p)
	}
	c.compileRules()
	rules := s.Rules
	s.Rules = nil
	for _, r := range rules {
		if slices.Contains(s.Off, r) {
			continue
		}
		r.index, r.lead = len(s.Rules), leadOf(r.where)
		s.Rules = append(s.Rules, r)
	}
	return s, c
}

// Rule is a rule by its id (pack/id), by an old id, or by its bare id where one pack alone has it; nil: there is none.
func (s *Set) Rule(id string) *Rule {
	if r := s.byID[id]; r != nil || strings.Contains(id, "/") {
		return r
	}
	var found *Rule
	for name, r := range s.byID {
		if _, bare, _ := strings.Cut(name, "/"); bare == id {
			if found != nil && found != r {
				return nil
			}
			found = r
		}
	}
	return found
}

// Nearest is the id of a rule that a misspelt one was most likely meant to be, or "".
func (s *Set) Nearest(id string) string { return problem.Nearest(id, s.ids()) }

func (s *Set) ids() []string {
	var ids []string
	for id := range s.byID {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	return ids
}

// IsOff is whether a later pack has switched the rule off.
func (s *Set) IsOff(r *Rule) bool { return slices.Contains(s.Off, r) }

// compiler gathers a set.
type compiler struct {
	set      *Set
	params   map[string]*Param // by pack.name
	size     int               // parts of all expressions of the pack that is compiled
	problems problem.Problems
}

// maxSize bounds the parts of all expressions of a pack, definitions put in: a hundred times what packs need, and still
// compiled within a moment.
const maxSize = 50_000

func (c *compiler) problem(at problem.Place, related *problem.Place, fix, format string, args ...any) {
	c.problems = append(c.problems, problem.Problem{Place: at, Related: related, Message: fmt.Sprintf(format, args...), Fix: fix})
}

// add registers a pack, its rules and its params.
func (c *compiler) add(p *Pack) {
	s := c.set
	if first := s.first[p.ID]; first != nil {
		c.problem(p.place, &first.place, "give each its own id", "two packs are called %s", p.ID)
		return
	}
	s.first[p.ID] = p
	for _, t := range p.rules {
		r := &Rule{
			ID: p.ID + "/" + t.id, Pack: p, Title: t.title, Do: t.do, Source: t.source, Why: t.why, Judges: t.judges,
			Examples: t.examples, Place: t.place, text: t,
		}
		if t.say != nil {
			r.Say = t.say.Text
		}
		for _, g := range t.severity {
			r.Severity = max(r.Severity, g.is)
		}
		c.register(r, r.ID)
		for _, old := range t.was {
			if !strings.Contains(old, "/") {
				old = p.ID + "/" + old
			}
			r.Was = append(r.Was, old)
		}
		s.Rules = append(s.Rules, r)
	}
	for i := range p.params {
		q := &p.params[i]
		param := &Param{Pack: p, Name: q.name, Text: q.text, Safe: q.safe, Value: q.value, Written: q.written, place: q.place}
		param.bound = &expression.Param{Name: q.name, Value: q.value, Place: q.place}
		s.Params = append(s.Params, param)
		if c.params[p.ID+"."+q.name] == nil {
			c.params[p.ID+"."+q.name] = param
		}
	}
}

// register gives a rule an id that nothing else has.
func (c *compiler) register(r *Rule, id string) {
	if first := c.set.byID[id]; first != nil {
		c.problem(r.Place, &first.Place, "give each its own id", "two rules are called %s", id)
		return
	}
	c.set.byID[id] = r
}

// needs holds a pack to what it says it needs, and registers its rules' old ids, which current ids go before.
func (c *compiler) needs(p *Pack) {
	for _, n := range p.needs {
		other := c.set.first[n.pack]
		switch {
		case other == nil:
			c.problem(n.place, nil, problem.DidYouMean(n.pack, c.packIDs(), "add it to the packs of this run"), "the pack %s is needed and is not there", n.pack)
		case n.edition != "" && n.edition != other.Edition:
			c.problem(n.place, &other.place, "use that edition, or see that the rules go with this one and change needs",
				"edition %s of %s is needed, and edition %s is there", n.edition, n.pack, other.Edition)
		}
	}
	for _, r := range c.set.Rules {
		if r.Pack == p {
			for _, old := range r.Was {
				c.register(r, old)
			}
		}
	}
}

func (c *compiler) packIDs() []string {
	var ids []string
	for id := range c.set.first {
		ids = append(ids, id)
	}
	return ids
}

// names is what a pack's expressions can name: its own params, definitions and tables, and the params of packs it needs.
func (c *compiler) names(p *Pack) expression.Names {
	names := expression.Names{Params: map[string]*expression.Param{}, Defines: p.defines, Tables: p.tables}
	taken := map[string]problem.Place{}
	claim := func(name string, at problem.Place) {
		if other, twice := taken[name]; twice {
			c.problem(at, &other, "rename one of them", "two things of the pack are called %s", name)
		}
		taken[name] = at
		if expression.Reserved(name) {
			c.problem(at, nil, "rename it", "%s is a function", name)
		}
		for _, subject := range judged {
			if c.set.Book.Fact(subject, name) != nil || c.set.Book.Relation(subject, name) != nil {
				c.problem(at, nil, "rename it", "%s is a word of the vocabulary already: of the %s", name, subject)
				break
			}
		}
	}
	for i := range p.params {
		name := p.params[i].name
		claim(name, p.params[i].place)
		if q := c.params[p.ID+"."+name]; q != nil {
			names.Params[name] = q.bound
		}
	}
	for _, name := range sortedKeys(p.defines) {
		claim(name, p.defines[name].Place)
	}
	for _, name := range sortedKeys(p.tables) {
		claim(name, p.about[name].place)
	}
	for _, n := range p.needs {
		for _, q := range c.set.Params {
			if q.Pack.ID == n.pack {
				names.Params[n.pack+"."+q.Name] = q.bound
			}
		}
	}
	return names
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// compileRules checks the rules of all packs, pack beside pack: what packs share is settled by now.
func (c *compiler) compileRules() {
	parts := make([]compiler, len(c.set.Packs))
	var all sync.WaitGroup
	for i, p := range c.set.Packs {
		all.Go(func() {
			parts[i].set = c.set
			for _, r := range c.set.Rules {
				if r.Pack == p {
					parts[i].compileRule(r)
				}
			}
		})
	}
	all.Wait()
	for i := range parts {
		c.problems = append(c.problems, parts[i].problems...)
	}
}

// compileRule checks all expressions of a rule.
func (c *compiler) compileRule(r *Rule) {
	names, t := c.set.names[r.Pack], r.text
	if c.size > maxSize {
		return // said where the size was passed
	}
	check := func(src *expression.Source, key string, kind expression.Kind) *expression.Expression {
		if src == nil {
			return nil
		}
		x, size, problems := expression.Check(src, c.set.Book, r.Judges, names)
		if c.size += size; c.size > maxSize {
			problems = append(problems, problem.Problem{
				Place: src.Place, Message: fmt.Sprintf("with definitions put in, the expressions of the pack have more than %d parts", maxSize),
				Fix: "split the pack, and name less under define",
			})
		}
		if x != nil && x.Type.Kind != kind {
			problems = problem.Problems{{
				Place: src.Place, Message: fmt.Sprintf("%s is a %s, and this is a %s", key, kind, typeName(x.Type)),
				Fix: map[expression.Kind]string{expression.Truth: "write a condition, such as bearing >= mm(90)", expression.Number: "write a quantity"}[kind], Expression: src.Text,
			}}
		}
		c.fromRule(t.id, problems)
		return x
	}
	r.where = check(t.where, "where", expression.Truth)
	r.require = check(t.require, "require", expression.Truth)
	r.found = check(t.found, "found", expression.Number)
	r.need = check(t.need, "need", expression.Number)
	for _, g := range t.severity {
		r.severities = append(r.severities, graded{check(g.when, "when", expression.Truth), g.is})
	}
	if t.say != nil {
		say, problems := expression.CheckTemplate(t.say, c.set.Book, r.Judges, names)
		c.fromRule(t.id, problems)
		r.say = say
	}
	r.reads = readsOf(r)
	r.Keys = t.keys
	if r.Keys == nil {
		r.Keys = keysOf(r)
	}
}

// fromRule takes in what is wrong with a rule. The value of a param is wrong where it is set, once for all rules.
func (c *compiler) fromRule(id string, problems problem.Problems) {
	ofParam := func(p problem.Problem) bool {
		return slices.ContainsFunc(c.set.Params, func(q *Param) bool { return q.bound.Place == p.Place })
	}
	for _, p := range problems {
		if !ofParam(p) {
			p.Rule = id
		}
		c.problems = append(c.problems, p)
	}
}

// readsOf is what must differ for a rule to come to another verdict.
func readsOf(r *Rule) vocabulary.Touch {
	out := vocabulary.Changed
	look := func(x *expression.Expression) {
		if x == nil {
			return
		}
		switch reach := x.Reach(); {
		case reach > 2:
			out |= vocabulary.Far
		case reach > 0:
			out |= vocabulary.Seen
		}
		for _, fact := range x.Facts() {
			if fact.Origin == vocabulary.FromRegion {
				out |= vocabulary.Answered
			}
		}
	}
	look(r.where)
	look(r.require)
	for _, g := range r.severities {
		look(g.when)
	}
	return out
}

// keysOf is the document keys of the facts that a rule tests.
func keysOf(r *Rule) []string {
	var keys []string
	for _, x := range []*expression.Expression{r.where, r.require} {
		if x == nil {
			continue
		}
		for _, f := range x.Facts() {
			keys = append(keys, f.Keys...)
		}
	}
	sort.Strings(keys)
	return slices.Compact(keys)
}
