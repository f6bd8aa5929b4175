package pack

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/vocabulary"
)

// Figure is a quantity that a finding names, in internal units.
type Figure struct {
	Value     float64
	Dimension model.Dimension
	Counts    bool // a number of things
}

// Account is what a verdict says in words and figures.
type Account struct {
	Message  string
	Action   string // what to do, or ""
	Found    *Figure
	Required *Figure
	Operator string  // that must hold from Found to Required: "<=", ">=", "<", ">", "==" or "!="; empty where no comparison says
	Ratio    float64 // demand over capacity; 0 where it makes no sense
	Reason   string  // why the rule could not be checked, or ""
}

// Used is a fact that a rule used on a row.
type Used struct {
	Fact  *vocabulary.Fact
	Path  string // as the rule reaches it
	Value string // rounded to six significant digits in internal units; of an absent fact its reason in brackets
}

// replay is a rule bound once more, to say what came of it: verdicts are few, so only their words are worked out.
type replay struct {
	run   *expression.Run
	table *vocabulary.Table

	where, require  func(*expression.Run) bool // traced
	trace           *expression.Trace
	found, need     func(*expression.Run) float64
	foundOf, needOf model.Dimension
	counts          bool   // found and need are numbers of things
	operator        string // from found to need
	parts           []replayPart
	binder          *expression.Binder
	printed         map[*expression.Expression]func(*expression.Run, printing) string
}

// replayPart is a condition that require joins by and.
type replayPart struct {
	holds       func(*expression.Run) bool
	comparison  bool
	found, need func(*expression.Run) float64
	dimension   model.Dimension
	counts      bool
	operator    string
}

func (j *Judgement) replay(r *Rule) *replay {
	if known := j.replays[r]; known != nil {
		return known
	}
	trace := expression.NewTrace()
	traced, plain := expression.NewBinder(j.Facts, trace), expression.NewBinder(j.Facts, nil)
	p := &replay{run: &expression.Run{}, table: &j.Facts.Tables[r.Judges], trace: trace, binder: plain}
	p.printed = map[*expression.Expression]func(*expression.Run, printing) string{}
	if r.where != nil {
		p.where = traced.Truth(r.where)
	}
	p.require = traced.Truth(r.require)
	if r.found != nil {
		p.found, p.foundOf = plain.Number(r.found), r.found.Type.Dimension
		p.counts = r.found.Counts()
	}
	if r.need != nil {
		p.need, p.needOf = plain.Number(r.need), r.need.Type.Dimension
		p.operator = r.require.Against(r.need)
	}
	for _, x := range r.require.Conjuncts() {
		part := replayPart{holds: plain.Truth(x)}
		if c, ok := x.Comparison(); ok {
			part.comparison, part.operator = true, c.Operator
			part.found, part.need = plain.Number(c.Found), plain.Number(c.Need)
			part.dimension, part.counts = c.Found.Type.Dimension, c.Found.Counts()
			if c.Found.Type.Free {
				part.dimension = c.Need.Type.Dimension
			}
		}
		p.parts = append(p.parts, part)
	}
	j.replays[r] = p
	return p
}

func (p *replay) begin(row int32) {
	document := row
	if p.table.Document != nil {
		document = p.table.Document[row]
	}
	p.run.Begin(row, document)
}

// number evaluates a number; false: it is not known.
func (p *replay) number(f func(*expression.Run) float64) (float64, bool) {
	p.run.Again()
	v := f(p.run)
	return v, p.run.Absent == 0 && v-v == 0
}

// printing is how quantities are written: in what units, and with how many significant digits.
type printing struct {
	units  model.Units
	digits int
}

func (p printing) text(value float64, d model.Dimension) string {
	return model.FormatTo(p.digits, value, d, p.units)
}

// Account says what a verdict means, with quantities in some units: with as many digits as tell what was found from what
// is required.
func (j *Judgement) Account(v Verdict, u model.Units) Account {
	p := j.replay(v.Rule)
	p.begin(v.Row)
	out := Account{Action: v.Rule.Do}
	if v.Outcome == Unchecked {
		name, fact := p.stopped()
		out.Reason = j.Facts.Explain(v.Reason)
		switch {
		case fact == nil:
			out.Message = fmt.Sprintf("%s: not checked, because %s has no answer: %s", v.Rule.Title, name, out.Reason)
		default:
			out.Message = fmt.Sprintf("%s: not checked, because %s (%s) is not known: %s", v.Rule.Title, name, fact.Text, out.Reason)
			if fact.Origin == vocabulary.FromDocument && fact.Type != vocabulary.Truth {
				out.Reason = brief(fact) + " is not known: " + out.Reason
			}
		}
		p.figures(v, &out)
		return out
	}
	p.figures(v, &out)
	how := printing{u, model.UsualDigits}
	if out.Found != nil && out.Required != nil {
		how.digits = model.Apart(out.Found.Value, out.Required.Value, out.Found.Dimension, u)
	}
	out.Message = v.Rule.say.Fill(func(x *expression.Expression) string { return p.print(x, how) })
	return out
}

// stopped is what kept the rule from being checked, as the rule names it, and the fact where it is one.
func (p *replay) stopped() (name string, fact *vocabulary.Fact) {
	p.run.Again()
	if p.where == nil || p.where(p.run) {
		p.run.Again()
		p.require(p.run)
	}
	return p.run.Stopped(), p.run.StoppedFact()
}

// brief is what a fact is, without what its text explains or lists behind that.
func brief(f *vocabulary.Fact) string {
	text, _, _ := strings.Cut(f.Text, ":")
	text, _, _ = strings.Cut(text, ";")
	return text
}

// print writes an expression's value for a reader.
func (p *replay) print(x *expression.Expression, how printing) string {
	f := p.printed[x]
	if f == nil {
		switch x.Type.Kind {
		case expression.Number:
			number := p.binder.Number(x)
			f = func(r *expression.Run, how printing) string { return how.text(number(r), x.Type.Dimension) }
		case expression.Text:
			text, shown := p.binder.Text(x), func(text string) string { return text }
			if fact := x.Fact(); fact != nil && fact.Words.Joined {
				shown = few
			}
			f = func(r *expression.Run, _ printing) string { return shown(text(r)) }
		default:
			truth := p.binder.Truth(x)
			f = func(r *expression.Run, _ printing) string { return map[bool]string{true: "yes", false: "no"}[truth(r)] }
		}
		p.printed[x] = f
	}
	p.run.Again()
	text := f(p.run, how)
	if p.run.Absent != 0 {
		return "(not known)"
	}
	return text
}

// mostNamed is how many of a list a message names.
const mostNamed = 10

// few is a list with commas between, its first few where it is long.
func few(list string) string {
	names := strings.Split(list, ", ")
	if len(names) <= mostNamed+1 {
		return list
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:mostNamed], ", "), len(names)-mostNamed)
}

// figures fills in what was found and what is required: from found and need, or from the comparison that is not met.
func (p *replay) figures(v Verdict, out *Account) {
	if p.found != nil || p.need != nil {
		if p.found != nil {
			if value, ok := p.number(p.found); ok {
				out.Found = &Figure{value, p.foundOf, p.counts}
			}
		}
		if p.need != nil {
			if value, ok := p.number(p.need); ok {
				out.Required = &Figure{value, p.needOf, p.counts}
			}
			out.Operator = p.operator
		}
		return
	}
	for _, part := range p.parts {
		p.run.Again()
		if part.holds(p.run) {
			continue
		}
		if !part.comparison {
			return
		}
		found, foundKnown := p.number(part.found)
		need, needKnown := p.number(part.need)
		if foundKnown {
			out.Found = &Figure{found, part.dimension, part.counts}
		}
		if needKnown {
			out.Required = &Figure{need, part.dimension, part.counts}
		}
		out.Operator = part.operator
		if foundKnown && needKnown && v.Outcome == NotMet {
			out.Ratio = ratio(found, need, part.operator)
		}
		return
	}
}

// ratio is demand over capacity: what is found is the demand where it must stay below, and the capacity where it must
// reach.
func ratio(found, need float64, operator string) float64 {
	if found <= 0 || need <= 0 {
		return 0
	}
	r := 0.0
	switch operator {
	case "<", "<=":
		r = found / need
	case ">", ">=":
		r = need / found
	}
	if math.IsInf(r, 0) {
		return 0
	}
	return r
}

// Used lists the facts that where and require used on the row of a verdict, in order, each once.
func (j *Judgement) Used(v Verdict) []Used {
	p := j.replay(v.Rule)
	p.begin(v.Row)
	p.trace.Forget()
	if p.where == nil || p.where(p.run) {
		p.run.Again()
		p.require(p.run)
	}
	out := make([]Used, 0, len(p.trace.Touched))
	for _, t := range p.trace.Touched {
		out = append(out, Used{Fact: t.Fact, Path: t.Path, Value: j.value(t)})
	}
	return out
}

// value is a touched fact as a digest takes it.
func (j *Judgement) value(t expression.Touch) string {
	absent := func(r vocabulary.Reason) string { return "(" + j.Facts.Explain(r) + ")" }
	if t.Missing != 0 {
		return absent(t.Missing)
	}
	switch t.Fact.Type {
	case vocabulary.Text:
		v, why := j.Facts.Text(t.Fact, t.Row)
		if why != 0 {
			return absent(why)
		}
		return strconv.Quote(v)
	case vocabulary.Truth:
		v, why := j.Facts.Truth(t.Fact, t.Row)
		if why != 0 {
			return absent(why)
		}
		return strconv.FormatBool(v)
	}
	v, why := j.Facts.Number(t.Fact, t.Row)
	if why != 0 {
		return absent(why)
	}
	return strconv.FormatFloat(v+0, 'g', 6, 64) // + 0 takes the sign off a zero
}
