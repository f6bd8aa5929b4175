package changes

import "example.com/scantling/rules/vocabulary"

// joinFacts puts the facts of two runs over one book into one set: the second's rows follow the first's, subject by subject.
// Changes are left out; they belong to neither.
func joinFacts(a, b *vocabulary.Facts) *vocabulary.Facts {
	out := vocabulary.NewFacts(a.Book)
	var shift [2][]int32 // by side and subject: rows that come before
	for _, s := range vocabulary.Subjects() {
		shift[0], shift[1] = append(shift[0], 0), append(shift[1], int32(a.Tables[s].Rows))
	}
	for _, s := range vocabulary.Subjects() {
		out.Tables[s] = vocabulary.Table{Rows: a.Tables[s].Rows + b.Tables[s].Rows}
		if s == vocabulary.Change {
			out.Tables[s].Rows = 0
			continue
		}
		for _, f := range a.Book.Facts(s) {
			out.Columns[f.ID()] = joinColumn(out, f, a, b)
		}
		for _, r := range a.Book.Relations(s) {
			l := &vocabulary.Link{Start: []int32{0}}
			for side, from := range [2]*vocabulary.Facts{a, b} {
				joinLink(out, l, from, r, shift[side])
			}
			out.Links[r.ID()] = l
		}
	}
	return out
}

// joinColumn is one fact of both sides, a value for each row.
func joinColumn(out *vocabulary.Facts, f *vocabulary.Fact, a, b *vocabulary.Facts) *vocabulary.Column {
	c := &vocabulary.Column{}
	for _, from := range [2]*vocabulary.Facts{a, b} {
		for row := range int32(from.Tables[f.Subject].Rows) {
			var why vocabulary.Reason
			switch f.Type {
			case vocabulary.Number:
				var v float64
				v, why = from.Number(f, row)
				c.Numbers = append(c.Numbers, v)
			case vocabulary.Text:
				var v string
				v, why = from.Text(f, row)
				c.Texts = append(c.Texts, v)
			default:
				var v bool
				v, why = from.Truth(f, row)
				c.Truths = append(c.Truths, v)
			}
			if why != 0 {
				why = out.Reason(from.Explain(why))
			}
			c.Absent = append(c.Absent, why)
		}
	}
	return c
}

// joinLink appends one side of a relation.
func joinLink(out *vocabulary.Facts, l *vocabulary.Link, from *vocabulary.Facts, r *vocabulary.Relation, shift []int32) {
	old := from.Links[r.ID()]
	for row := range int32(from.Tables[r.From].Rows) {
		var why vocabulary.Reason
		if old != nil {
			for _, to := range old.Reached(row) {
				l.Rows = append(l.Rows, to+shift[r.To])
			}
			if old.Absent != nil && old.Absent[row] != 0 {
				why = out.Reason(from.Explain(old.Absent[row]))
			}
		}
		l.Start = append(l.Start, int32(len(l.Rows)))
		l.Absent = append(l.Absent, why)
	}
}
