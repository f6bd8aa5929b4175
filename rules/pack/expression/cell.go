package expression

import (
	"example.com/scantling/rules/vocabulary"
)

// reach is the row that a path's steps lead to from its level.
type reach struct {
	level int
	steps []step
}

type step struct {
	link *vocabulary.Link
	none vocabulary.Reason
}

func (b *Binder) reach(p *path) reach {
	out := reach{level: p.level}
	for _, r := range p.steps {
		s := step{link: b.facts.Links[r.ID()], none: b.reason("there is none: %s", r.Text)}
		if s.link == nil {
			s.none = b.reason("nothing in this run says it: %s", r.Text)
		}
		out.steps = append(out.steps, s)
	}
	return out
}

// row follows the steps; a reason other than 0 says where they end.
func (w *reach) row(r *Run) (int32, vocabulary.Reason) {
	row := r.rows[w.level]
	for i := range w.steps {
		s := &w.steps[i]
		if s.link == nil {
			return 0, s.none
		}
		from := s.link.Start[row]
		if from == s.link.Start[row+1] {
			if s.link.Absent != nil && s.link.Absent[row] != 0 {
				return 0, s.link.Absent[row]
			}
			return 0, s.none
		}
		row = s.link.Rows[from]
	}
	return row, 0
}

// cell is where a fact of a path is read: its index in the column, or the reason why there is none.
type cell struct {
	reach    reach
	direct   bool // of the row that is judged
	which    int  // of a direct cell: 0 for the row, 1 for its document row
	document []int32
	absent   []vocabulary.Reason
	missing  vocabulary.Reason // the fact has no column
}

func (b *Binder) cell(p *path) (*cell, *vocabulary.Column) {
	c := &cell{reach: b.reach(p), direct: p.level == 0 && len(p.steps) == 0}
	column := b.facts.Column(p.fact)
	if column == nil {
		c.missing = b.facts.Missing(p.fact)
		return c, &vocabulary.Column{}
	}
	c.absent = column.Absent
	if column.Shared {
		if c.document = b.facts.Tables[p.fact.Subject].Document; c.document != nil {
			c.which = 1
		}
	}
	return c, column
}

// plain is whether the cell of every judged row holds a value, so that reading it needs no more than its index.
func (c *cell) plain() bool { return c.direct && c.missing == 0 && c.absent == nil }

func (c *cell) index(r *Run) (int32, vocabulary.Reason) {
	row, why := r.rows[0], vocabulary.Reason(0)
	if !c.direct {
		if row, why = c.reach.row(r); why != 0 {
			return 0, why
		}
	}
	if c.missing != 0 {
		return 0, c.missing
	}
	if c.document != nil {
		row = c.document[row]
	}
	if c.absent != nil && c.absent[row] != 0 {
		return 0, c.absent[row]
	}
	return row, 0
}
