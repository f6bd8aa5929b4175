package pack

import (
	"fmt"
	"slices"

	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/vocabulary"
)

// Options say what a judgement keeps.
type Options struct {
	Matrix bool                 // the outcome of every rule on every row, for comparing two judgements
	Only   []vocabulary.Subject // the subjects that are judged; none: all

	// Touched says how rows differ from those of a run that is judged already: each is judged by the rules that can tell,
	// and by no others. With nil all rows are judged by all rules.
	Touched func(s vocabulary.Subject, row int32) vocabulary.Touch
}

// Verdict is a rule on a row where it is not met, or could not be checked.
type Verdict struct {
	Rule     *Rule
	Row      int32 // of the rule's subject
	Outcome  Outcome
	Reason   vocabulary.Reason // why it could not be checked
	Severity Severity
}

// Failure is a rule that ended in an error: the run cannot be complete.
type Failure struct {
	Rule    *Rule
	Row     int32 // where it failed; later rows were not judged by it
	Message string
}

// Error says which rule failed, and why.
func (f Failure) Error() string { return fmt.Sprintf("rule %s: %s", f.Rule.ID, f.Message) }

// Counts is how many rows had each outcome.
type Counts [Failed + 1]int

// Judgement is what came of a set on the facts of one run.
type Judgement struct {
	Set      *Set
	Facts    *vocabulary.Facts
	Verdicts []Verdict // by subject, then row, then rule
	Failures []Failure
	Counts   []Counts    // by the rule's place in Set.Rules
	Matrix   [][]Outcome // by the rule's place and the row; nil unless asked for

	replays map[*Rule]*replay
}

// Applied is whether any rule applied to anything.
func (j *Judgement) Applied() bool {
	for _, c := range j.Counts {
		if c[Met]+c[NotMet]+c[Unchecked]+c[Failed] > 0 {
			return true
		}
	}
	return false
}

// Judge judges facts by the rules of a set. The facts' book is the set's. It interns reasons in the facts, so two
// judgements of the same facts must not run at once.
func (s *Set) Judge(f *vocabulary.Facts, o Options) *Judgement {
	j := &Judgement{Set: s, Facts: f, Counts: make([]Counts, len(s.Rules)), replays: map[*Rule]*replay{}}
	if o.Matrix {
		j.Matrix = make([][]Outcome, len(s.Rules))
		for i, r := range s.Rules {
			j.Matrix[i] = make([]Outcome, f.Tables[r.Judges].Rows)
		}
	}
	binder := expression.NewBinder(f, nil)
	if o.Touched != nil { // where few rows are judged, most rules never are
		binder = binder.Lazily()
	}
	for _, subject := range vocabulary.Subjects() {
		if len(o.Only) > 0 && !slices.Contains(o.Only, subject) {
			continue
		}
		var rules []*bound
		for _, r := range s.Rules {
			if r.Judges == subject && f.Tables[subject].Rows > 0 {
				b := bind(binder, r)
				b.counts = &j.Counts[r.index]
				rules = append(rules, b)
			}
		}
		if len(rules) > 0 {
			p := &pass{judgement: j, table: &f.Tables[subject], run: &expression.Run{}, rules: rules}
			if o.Touched != nil {
				p.touched = func(row int32) vocabulary.Touch { return o.Touched(subject, row) }
				for _, r := range rules {
					p.far |= r.rule.reads & vocabulary.Far
				}
			}
			p.group(binder)
			p.judge()
		}
	}
	return j
}

// bound is a rule bound to the facts of one run.
type bound struct {
	rule       *Rule
	where      func(*expression.Run) bool // or nil
	require    func(*expression.Run) bool
	severities []boundGrade
	failed     bool
	counts     *Counts
}

type boundGrade struct {
	when func(*expression.Run) bool
	is   Severity
}

// everything is the touch of a row that was not judged before.
const everything = vocabulary.Changed | vocabulary.Answered | vocabulary.Seen | vocabulary.Far

func bind(b *expression.Binder, r *Rule) *bound {
	out := &bound{rule: r, require: b.Later(r.require)}
	if r.where != nil {
		out.where = b.Truth(r.where)
	}
	if len(r.severities) > 1 {
		for _, g := range r.severities {
			grade := boundGrade{is: g.is}
			if g.when != nil {
				grade.when = b.Later(g.when)
			}
			out.severities = append(out.severities, grade)
		}
	}
	return out
}

// severity is the first entry that holds on the row; the gravest where one cannot be known.
func (b *bound) severity(run *expression.Run) Severity {
	for _, g := range b.severities {
		if g.when == nil {
			return g.is
		}
		run.Again()
		held := g.when(run)
		if run.Absent != 0 {
			break
		}
		if held {
			return g.is
		}
	}
	return b.rule.Severity
}

// judge judges every row. A panic inside a rule is an error of the run that names the rule; the other rules go on.
func (p *pass) judge() {
	row, step := int32(0), 0
	for int(row) < p.table.Rows {
		row, step = p.rows(row, step)
	}
	// What a program leaves out does not apply.
	for _, program := range p.programs {
		runs := map[*bound]bool{}
		for _, s := range program.steps {
			runs[s.rule] = true
		}
		for _, r := range p.rules {
			if !runs[r] {
				p.judgement.Counts[r.rule.index][NotApplicable] += program.rows
			}
		}
	}
}

// rows judges from a row and a step of its program on, and returns where to go on after a panic.
func (p *pass) rows(row int32, first int) (next int32, step int) {
	var current *bound
	next, step = row, first
	defer func() {
		if panicked := recover(); panicked != nil {
			if current == nil {
				panic(panicked)
			}
			p.fail(current, next, fmt.Sprintf("it ended in an internal error: %v", panicked))
			step++
		}
	}()
	last, program := "", p.all
	known := false
	for ; int(next) < p.table.Rows; next, step = next+1, 0 {
		touch := everything
		if p.touched != nil {
			if touch = p.touched(next) | p.far; touch == 0 {
				continue
			}
		}
		document := next
		if p.table.Document != nil {
			document = p.table.Document[next]
		}
		p.run.Begin(next, document)
		if p.key != nil {
			text := p.key(p.run)
			if p.run.Absent != 0 {
				program, known = p.all, false
				p.run.Again()
			} else if !known || text != last {
				program, last, known = p.program(text), text, true
			}
		}
		if step == 0 {
			program.rows++
		}
		for ; step < len(program.steps); step++ {
			s := &program.steps[step]
			if s.rule.rule.reads&touch == 0 {
				continue
			}
			current = s.rule
			p.rule(s, next)
		}
		current = nil
	}
	return next, step
}

// rule judges one row by one rule.
func (p *pass) rule(s *programStep, row int32) {
	run, b := p.run, s.rule
	run.Again()
	outcome := NotApplicable
	switch {
	case b.failed:
		outcome = Failed
	case s.where != nil && !s.where(run):
	case b.require(run):
		outcome = Met
	default:
		outcome = NotMet
	}
	if run.Absent != 0 {
		outcome = Unchecked
	}
	if outcome == Unchecked && run.Spent {
		p.fail(b, row, "it takes too many steps; "+run.Stopped()+" goes over too many elements")
		return
	}
	b.counts[outcome]++
	j := p.judgement
	if j.Matrix != nil {
		j.Matrix[b.rule.index][row] = outcome
	}
	if outcome == NotMet || outcome == Unchecked {
		reason := run.Absent
		severity := b.severity(run)
		j.Verdicts = append(j.Verdicts, Verdict{Rule: b.rule, Row: row, Outcome: outcome, Reason: reason, Severity: severity})
	}
}

// fail takes a rule out of the run.
func (p *pass) fail(b *bound, row int32, message string) {
	b.failed = true
	j := p.judgement
	j.Failures = append(j.Failures, Failure{Rule: b.rule, Row: row, Message: message})
	j.Counts[b.rule.index][Failed]++
	if j.Matrix != nil {
		j.Matrix[b.rule.index][row] = Failed
	}
}
