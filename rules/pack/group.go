package pack

import (
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/vocabulary"
)

// pass judges all rows of one subject. Rows are in the outer loop, since a row's facts stay near while rules go by; the
// text that most rules ask for first (the role, as a rule) says which rules a row needs at all.
type pass struct {
	touched   func(row int32) vocabulary.Touch // or nil
	far       vocabulary.Touch                 // Far where a rule looks so far, else nothing
	judgement *Judgement
	table     *vocabulary.Table
	run       *expression.Run
	rules     []*bound

	key      func(*expression.Run) string // nil: rules share no first test
	tests    []test                       // by rule
	programs map[string]*program
	all      *program // for rows whose key is absent
}

// lead is the test of a text that a rule's where begins with.
type lead struct {
	expression.Key
	texts map[string]bool // those that pass
}

// leadOf is a rule's lead, or nil.
func leadOf(where *expression.Expression) *lead {
	if where == nil {
		return nil
	}
	k, ok := where.Key()
	if !ok {
		return nil
	}
	texts := make(map[string]bool, len(k.Texts))
	for _, text := range k.Texts {
		texts[text] = true
	}
	return &lead{k, texts}
}

// test is a rule's first test of the key text, or none.
type test struct {
	texts map[string]bool // nil: the rule does not test it first
	rest  func(*expression.Run) bool
}

// program is the rules that rows with one key text need.
type program struct {
	steps []programStep
	rows  int // that took it
}

type programStep struct {
	rule  *bound
	where func(*expression.Run) bool // what is left of the rule's where, or nil
}

// maxPrograms bounds the programs of a pass; beyond it rows take all rules.
const maxPrograms = 512

// group finds the key of a pass.
func (p *pass) group(b *expression.Binder) {
	shared := map[string]int{}
	best := ""
	for _, r := range p.rules {
		if k := r.rule.lead; k != nil {
			if shared[k.Name]++; best == "" || shared[k.Name] > shared[best] {
				best = k.Name
			}
		}
	}
	p.tests = make([]test, len(p.rules))
	p.programs = map[string]*program{}
	p.all = &program{}
	for i, r := range p.rules {
		p.all.steps = append(p.all.steps, programStep{r, r.where})
		k := r.rule.lead
		if k == nil || k.Name != best {
			continue
		}
		p.tests[i].texts = k.texts
		if k.Rest != nil {
			p.tests[i].rest = b.Truth(k.Rest)
		}
		if p.key == nil {
			p.key = b.Text(k.Fact)
		}
	}
}

// program is the rules that a row with a key text needs.
func (p *pass) program(text string) *program {
	if known := p.programs[text]; known != nil {
		return known
	}
	if len(p.programs) == maxPrograms {
		return p.all
	}
	out := &program{}
	for i, r := range p.rules {
		switch t := p.tests[i]; {
		case t.texts == nil:
			out.steps = append(out.steps, programStep{r, r.where})
		case t.texts[text]:
			out.steps = append(out.steps, programStep{r, t.rest})
		}
	}
	p.programs[text] = out
	return out
}
