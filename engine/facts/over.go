package facts

import (
	"slices"

	"example.com/scantling/rules/vocabulary"
)

// rowsThen is the rows of a base by the rows of pieces and supports here, -1: none; nil where they are the same.
type rowsThen struct{ pieces, supports []int32 }

// remember finds the rows of the base.
func (w *work) remember() {
	b := w.Source.Base.work
	if len(w.frame.Pieces) == len(b.frame.Pieces) && len(w.frame.Supports) == len(b.frame.Supports) {
		return
	}
	w.then = rowsThen{make([]int32, len(w.frame.Pieces)), make([]int32, len(w.frame.Supports))}
	for i := range w.frame.Pieces {
		then := w.there(int32(i))
		w.then.pieces[i] = then
		own, first := w.frame.SupportsOf(int32(i))
		for k := range own {
			w.then.supports[first+int32(k)] = -1
		}
		if then < 0 {
			continue
		}
		if before, firstThen := b.frame.SupportsOf(then); len(before) == len(own) {
			for k := range own {
				w.then.supports[first+int32(k)] = firstThen + int32(k)
			}
		}
	}
}

// columnBefore is the base's column of a fact of pieces or supports, with the rows that are to be worked out anew; nil where
// there is none to start from.
func (w *work) columnBefore(fact *vocabulary.Fact, shared bool) (was *vocabulary.Column, anew []int32) {
	if w.changed == nil {
		return nil, nil
	}
	switch fact.Subject {
	case vocabulary.Member:
		anew = w.changed.pieces
		if shared {
			anew = w.changed.members
		}
	case vocabulary.Support:
		anew = w.changed.supports
		if shared {
			anew = w.changed.said
		}
	default:
		return nil, nil
	}
	return w.Source.Base.Columns[fact.ID()], anew
}

// columnOver is a column of the base with some rows worked out anew. It is the base's own while no row differs.
func columnOver[C any](w *work, r *rows[C], f *fill[C], was *vocabulary.Column, anew []int32) *vocabulary.Column {
	c, own := was, false
	if then := w.then.of(r.subject, r.shared); then != nil {
		c, own = arranged(was, then), true
	}
	one := vocabulary.Column{Numbers: make([]float64, 1), Texts: make([]string, 1), Truths: make([]bool, 1)}
	scratch := new(C)
	for _, i := range anew {
		absent := w.Reason(f.put(&one, 0, r.at(int(i), scratch)))
		if !own && sameRow(c, i, &one, absent) {
			continue
		}
		if !own {
			c, own = cloned(was), true
		}
		if absent != 0 && c.Absent == nil {
			c.Absent = make([]vocabulary.Reason, r.n)
		}
		if c.Absent != nil {
			c.Absent[i] = absent
		}
		switch {
		case c.Numbers != nil:
			c.Numbers[i] = one.Numbers[0]
		case c.Texts != nil:
			c.Texts[i] = one.Texts[0]
		default:
			c.Truths[i] = one.Truths[0]
		}
	}
	return c
}

// of is the rows of the base for a column; nil where they are the same.
func (t *rowsThen) of(s vocabulary.Subject, shared bool) []int32 {
	switch {
	case shared:
		return nil
	case s == vocabulary.Member:
		return t.pieces
	}
	return t.supports
}

// sameRow says whether a row of a column is the value, or the reason of its absence, that stands alone in another.
func sameRow(c *vocabulary.Column, row int32, one *vocabulary.Column, absent vocabulary.Reason) bool {
	switch {
	case c.Absent != nil && c.Absent[row] != absent, c.Absent == nil && absent != 0:
		return false
	case c.Numbers != nil:
		return c.Numbers[row] == one.Numbers[0]
	case c.Texts != nil:
		return c.Texts[row] == one.Texts[0]
	}
	return c.Truths[row] == one.Truths[0]
}

func cloned(c *vocabulary.Column) *vocabulary.Column {
	return &vocabulary.Column{Shared: c.Shared, Numbers: slices.Clone(c.Numbers), Texts: slices.Clone(c.Texts), Truths: slices.Clone(c.Truths),
		Absent: slices.Clone(c.Absent)}
}

// arranged is a column with its rows elsewhere; those of -1 are left empty.
func arranged(c *vocabulary.Column, from []int32) *vocabulary.Column {
	return &vocabulary.Column{Shared: c.Shared, Numbers: taken(c.Numbers, from), Texts: taken(c.Texts, from), Truths: taken(c.Truths, from),
		Absent: taken(c.Absent, from)}
}

func taken[T any](list []T, from []int32) []T {
	if list == nil {
		return nil
	}
	out := make([]T, len(from))
	for i, k := range from {
		if k >= 0 {
			out[i] = list[k]
		}
	}
	return out
}
