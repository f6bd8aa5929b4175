package expression

import (
	"example.com/scantling/model"
	"example.com/scantling/rules/pack/table"
	"example.com/scantling/rules/vocabulary"
)

// figure is a look-up of a number in a table.
func (b *Binder) figure(n *node) func(*Run) float64 {
	place, t, column := b.place(n), n.table, n.column
	empty := b.reason("the table %s has no value there", t.Name)
	return func(r *Run) float64 {
		var c table.Cursor
		if !place(r, &c) {
			return 0
		}
		v, miss := t.Figure(&c, column)
		if miss != table.Hit {
			r.stop(empty, n)
		}
		return v
	}
}

// word is a look-up of a text in a table.
func (b *Binder) word(n *node) func(*Run) string {
	place, t, column := b.place(n), n.table, n.column
	empty := b.reason("the table %s has no value there", t.Name)
	return func(r *Run) string {
		var c table.Cursor
		if !place(r, &c) {
			return ""
		}
		s, miss := t.Word(&c, column)
		if miss != table.Hit {
			r.stop(empty, n)
		}
		return s
	}
}

// place puts a cursor at the keys of a look-up; false: the run was stopped.
func (b *Binder) place(n *node) func(*Run, *table.Cursor) bool {
	t := n.table
	numbers, texts := make([]func(*Run) float64, len(n.args)), make([]func(*Run) string, len(n.args))
	outside := make([][4]vocabulary.Reason, len(n.args))
	for i, key := range t.Keys {
		if key.IsText {
			texts[i] = b.text(n.args[i])
			outside[i][table.NotListed] = b.reason("%s is not listed in the table %s", key.Name, t.Name)
			continue
		}
		numbers[i] = b.number(n.args[i])
		least, most := t.Range(i)
		outside[i][table.NotListed] = b.reason("%s is not listed in the table %s", key.Name, t.Name)
		outside[i][table.TooLow] = b.reason("%s is below the table %s, which begins at %s", key.Name, t.Name, model.Format(least, key.Dimension, model.Metric))
		outside[i][table.TooHigh] = b.reason("%s is above the table %s, which ends at %s", key.Name, t.Name, model.Format(most, key.Dimension, model.Metric))
	}
	strict := b.strict
	// All keys are read before the first is looked up, as the arguments of any function are.
	return func(r *Run, c *table.Cursor) bool {
		missed := vocabulary.Reason(0)
		for i := range numbers {
			var miss table.Miss
			if texts[i] != nil {
				s := texts[i](r)
				if r.Absent != 0 {
					return false
				}
				miss = t.Text(c, i, s)
			} else {
				v := numbers[i](r)
				if r.Absent == 0 && !finite(v) {
					r.stop(strict, n)
				}
				if r.Absent != 0 {
					return false
				}
				miss = t.Number(c, i, v)
			}
			if miss != table.Hit && missed == 0 {
				missed = outside[i][miss]
			}
		}
		if missed != 0 {
			r.stop(missed, n)
		}
		return missed == 0
	}
}
