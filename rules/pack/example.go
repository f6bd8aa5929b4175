package pack

import (
	"fmt"
	"sort"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/vocabulary"
)

// exampleFacts turns an example's nested values into facts with one row of the subject that its rule judges.
func exampleFacts(book *vocabulary.Book, r *Rule, e *Example) (*vocabulary.Facts, problem.Problems) {
	b := &exampleBuilder{book: book, rule: r.text.id, facts: vocabulary.NewFacts(book)}
	b.silent = b.facts.Reason("the example does not say")
	// Bare keys are the subject's own facts, and so are those under its name.
	root := &exampleRow{subject: r.Judges, values: map[*vocabulary.Fact]*item{}, reached: map[*vocabulary.Relation][]*exampleRow{}}
	b.fill(root, e.facts, true)
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	b.lay(root)
	return b.facts, b.problems
}

// exampleRow is a row of a subject as an example gives it.
type exampleRow struct {
	subject vocabulary.Subject
	row     int32
	values  map[*vocabulary.Fact]*item
	reached map[*vocabulary.Relation][]*exampleRow
}

type exampleBuilder struct {
	book     *vocabulary.Book
	rule     string
	facts    *vocabulary.Facts
	silent   vocabulary.Reason
	problems problem.Problems
}

func (b *exampleBuilder) problem(at problem.Place, fix, format string, args ...any) {
	b.problems = append(b.problems, problem.Problem{Place: at, Rule: b.rule, Message: fmt.Sprintf(format, args...), Fix: fix})
}

// fill reads the values of a row.
func (b *exampleBuilder) fill(row *exampleRow, n *item, judged bool) {
	for _, e := range n.keys {
		name, value := e.key.text, e.value
		if f := b.book.Fact(row.subject, name); f != nil {
			b.value(row, f, e.key, value)
			continue
		}
		if r := b.book.Relation(row.subject, name); r != nil {
			b.relation(row, r, e.key, value)
			continue
		}
		switch {
		case judged && name == row.subject.String() && value.form == mapping:
			b.fill(row, value, false)
		case value.form == mapping && b.prefixed(row, name, value):
		default:
			b.problem(e.key.place, problem.DidYouMean(name, b.names(row.subject), "`scantling facts` lists what is known of a "+row.subject.String()),
				"%s is not known of the %s", name, row.subject)
		}
	}
}

// prefixed reads the facts of a region under its prefix: ec5: {bending: 0.9}.
func (b *exampleBuilder) prefixed(row *exampleRow, prefix string, n *item) bool {
	for _, f := range b.book.Facts(row.subject) {
		if strings.HasPrefix(f.Name, prefix+".") {
			for _, e := range n.keys {
				if f := b.book.Fact(row.subject, prefix+"."+e.key.text); f != nil {
					b.value(row, f, e.key, e.value)
				} else {
					b.problem(e.key.place, problem.DidYouMean(prefix+"."+e.key.text, b.names(row.subject), ""), "%s.%s is not known of the %s", prefix, e.key.text, row.subject)
				}
			}
			return true
		}
	}
	return false
}

func (b *exampleBuilder) names(s vocabulary.Subject) []string {
	var names []string
	for _, f := range b.book.Facts(s) {
		names = append(names, f.Name)
	}
	for _, r := range b.book.Relations(s) {
		names = append(names, r.Name)
	}
	return names
}

// value keeps the value of a fact, once it is known to be of its type.
func (b *exampleBuilder) value(row *exampleRow, f *vocabulary.Fact, key, n *item) {
	if row.values[f] != nil {
		b.problem(key.place, "leave one of them out", "%s is given twice", f.Name)
		return
	}
	row.values[f] = n
	if n.form == null {
		return
	}
	v := scalarConstant(n)
	ok := n.form == scalar
	switch f.Type {
	case vocabulary.Truth:
		ok = ok && n.truth
	case vocabulary.Number:
		ok = ok && v.Type.Kind <= 0 && (v.Type.Dimension == f.Dimension || v.Number == 0 && v.Type.Dimension == model.Plain)
		if _, err := model.ParseQuantity(n.text, f.Dimension); err == nil {
			ok = true
		}
	}
	if !ok {
		fix := map[vocabulary.Type]string{vocabulary.Truth: "write true or false", vocabulary.Text: "write a text"}[f.Type]
		if f.Type == vocabulary.Number {
			fix = "write a number"
			if form, dimensioned := exampleQuantities[f.Dimension]; dimensioned {
				fix = "write it with its unit, such as " + form
			}
		}
		b.problem(n.place, fix, "%s is a %s", f.Name, factType(f))
	} else if f.Type == vocabulary.Text {
		if wrong, fix := expression.Misspelt(f, n.text, false); wrong != "" {
			b.problem(n.place, fix, "%s", wrong)
		}
	}
}

var exampleQuantities = map[model.Dimension]string{
	model.Length: "100 mm or 4 in", model.Force: "2.5 kN", model.Stress: "0.6 kN/m2", model.LineLoad: "1.2 kN/m", model.Moment: "3 kNm",
	model.Angle: "30 deg", model.Mass: "25 kg", model.Surface: "2 m2",
}

// factType is a fact's type as a message names it.
func factType(f *vocabulary.Fact) string {
	if f.Type == vocabulary.Number {
		return dimensionName(f.Dimension)
	}
	return f.Type.String()
}

// relation reads the rows that a row reaches.
func (b *exampleBuilder) relation(row *exampleRow, r *vocabulary.Relation, key, n *item) {
	if _, twice := row.reached[r]; twice {
		b.problem(key.place, "leave one of them out", "%s is given twice", r.Name)
		return
	}
	entries := []*item{n}
	switch {
	case n.form == null:
		entries = nil
	case r.Many && n.form == list:
		entries = n.items
	case r.Many:
		b.problem(n.place, "write a list: "+r.Name+": [{...}, {...}]", "%s is a collection", r.Name)
		return
	}
	row.reached[r] = []*exampleRow{}
	for _, i := range entries {
		if i.form != mapping {
			b.problem(i.place, "write its facts: {id: W1}", "%s reaches a %s, which is a mapping of facts", r.Name, r.To)
			continue
		}
		to := &exampleRow{subject: r.To, values: map[*vocabulary.Fact]*item{}, reached: map[*vocabulary.Relation][]*exampleRow{}}
		b.fill(to, i, false)
		row.reached[r] = append(row.reached[r], to)
	}
}

// lay gives rows their numbers and lays values and relations out in columns.
func (b *exampleBuilder) lay(root *exampleRow) {
	var rows []*exampleRow
	var number func(*exampleRow)
	number = func(row *exampleRow) {
		row.row = int32(b.facts.Tables[row.subject].Rows)
		b.facts.Tables[row.subject].Rows++
		rows = append(rows, row)
		for _, r := range b.book.Relations(row.subject) {
			for _, to := range row.reached[r] {
				number(to)
			}
		}
	}
	number(root)
	for _, s := range vocabulary.Subjects() {
		for _, f := range b.book.Facts(s) {
			b.facts.Leave(f, "the example does not say")
		}
		for _, r := range b.book.Relations(s) {
			link := &vocabulary.Link{Start: []int32{0}}
			for _, row := range rows {
				if row.subject != s {
					continue
				}
				for _, to := range row.reached[r] {
					link.Rows = append(link.Rows, to.row)
				}
				link.Start = append(link.Start, int32(len(link.Rows)))
				link.Absent = append(link.Absent, b.silent)
			}
			b.facts.Links[r.ID()] = link
		}
	}
	sort.SliceStable(rows, func(i, j int) bool { return rows[i].row < rows[j].row })
	for _, row := range rows {
		for f, n := range row.values {
			if n.form != null {
				b.set(row, f, n)
			}
		}
	}
}

// set puts one value into its column.
func (b *exampleBuilder) set(row *exampleRow, f *vocabulary.Fact, n *item) {
	c := b.facts.Columns[f.ID()]
	if c == nil {
		size := b.facts.Tables[f.Subject].Rows
		c = &vocabulary.Column{Absent: make([]vocabulary.Reason, size)}
		switch f.Type {
		case vocabulary.Number:
			c.Numbers = make([]float64, size)
		case vocabulary.Text:
			c.Texts = make([]string, size)
		default:
			c.Truths = make([]bool, size)
		}
		for i := range c.Absent {
			c.Absent[i] = b.silent
		}
		b.facts.Columns[f.ID()] = c
	}
	c.Absent[row.row] = 0
	switch f.Type {
	case vocabulary.Number:
		v, err := model.ParseQuantity(n.text, f.Dimension)
		if err != nil {
			v = scalarConstant(n).Number
		}
		c.Numbers[row.row] = v
	case vocabulary.Text:
		c.Texts[row.row] = n.text
	default:
		c.Truths[row.row] = n.text == "true"
	}
}
