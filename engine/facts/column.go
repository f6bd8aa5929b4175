package facts

import (
	"runtime"
	"sync"
	"sync/atomic"

	"example.com/scantling/rules/vocabulary"
)

// fill is how one fact is worked out from a row: exactly one of the three is set.
type fill[C any] struct {
	name   string
	needs  effect // what must have been worked out of the classes before
	text   func(*C) textValue
	number func(*C) numberValue
	truth  func(*C) truthValue
}

// rows is what the facts of one subject are worked out from: at gives row i, in the scratch or where it stands anyway.
type rows[C any] struct {
	subject vocabulary.Subject
	shared  bool // one row for each document row
	n       int
	at      func(i int, scratch *C) *C
}

// offer says how the facts of a list are worked out. Facts that the book lacks are passed over, so that a book can be a
// part of the whole.
func offer[C any](w *work, r rows[C], list []fill[C]) {
	for i := range list {
		if fact := w.Book.Fact(r.subject, list[i].name); fact != nil {
			w.sources[fact.ID()] = func() *vocabulary.Column { return column(w, &r, &list[i], fact) }
		}
	}
}

// column is the column of a fact that is asked for, or nil where nothing here works it out.
func (w *work) column(fact *vocabulary.Fact) *vocabulary.Column {
	source := w.sources[fact.ID()]
	if source == nil {
		return nil
	}
	return source()
}

// rowsAtATime is how many rows of a column one goroutine takes at a time.
const rowsAtATime = 8192

func column[C any](w *work, r *rows[C], f *fill[C], fact *vocabulary.Fact) *vocabulary.Column {
	w.workOut(f.needs)
	if was, rows := w.columnBefore(fact, r.shared); was != nil {
		return columnOver(w, r, f, was, rows)
	}
	c := &vocabulary.Column{Shared: r.shared}
	switch {
	case f.text != nil:
		c.Texts = make([]string, r.n)
	case f.number != nil:
		c.Numbers = make([]float64, r.n)
	default:
		c.Truths = make([]bool, r.n)
	}
	left := make([]absences, parts(r.n, rowsAtATime))
	inParts(r.n, rowsAtATime, func() func(part, from, to int) {
		scratch := new(C)
		return func(part, from, to int) {
			out := absences{from: from, to: to}
			for i := from; i < to; i++ {
				if why := f.put(c, i, r.at(i, scratch)); why != "" {
					out.leave(i, why)
				}
			}
			left[part] = out
		}
	})
	for i := range left {
		left[i].settle(w, c, r.n)
	}
	return c
}

// put works out one row, and says why it is absent.
func (f *fill[C]) put(c *vocabulary.Column, i int, row *C) (why string) {
	switch {
	case f.text != nil:
		v := f.text(row)
		c.Texts[i], why = v.v, v.why
	case f.number != nil:
		v := f.number(row)
		c.Numbers[i], why = v.v, v.why
	default:
		v := f.truth(row)
		c.Truths[i], why = v.v, v.why
	}
	return why
}

// absences are those of a part of a column, with reasons numbered as they came. Reasons are interned part by part when
// all are there, so that their order does not depend on which goroutine was first.
type absences struct {
	from, to int
	of       []int32 // by row of the part: index into whys plus one; nil: none is absent
	whys     []string
	known    map[string]int32
	last     int32
}

func (a *absences) leave(i int, why string) {
	if a.of == nil {
		a.of, a.known = make([]int32, a.to-a.from), map[string]int32{}
	}
	if a.last == 0 || a.whys[a.last-1] != why {
		k, ok := a.known[why]
		if !ok {
			a.whys = append(a.whys, why)
			k = int32(len(a.whys))
			a.known[why] = k
		}
		a.last = k
	}
	a.of[i-a.from] = a.last
}

func (a *absences) settle(w *work, c *vocabulary.Column, n int) {
	if a.of == nil {
		return
	}
	if c.Absent == nil {
		c.Absent = make([]vocabulary.Reason, n)
	}
	reasons := make([]vocabulary.Reason, len(a.whys)+1)
	for i, why := range a.whys {
		reasons[i+1] = w.Reason(why)
	}
	for i, k := range a.of {
		c.Absent[a.from+i] = reasons[k]
	}
}

// parts is how many parts of a size n things make.
func parts(n, size int) int { return (n + size - 1) / size }

// inParts works on n things part by part, on several goroutines where there are several parts. Each goroutine asks once
// for what it works with. What is made must not depend on the order in which parts are taken.
func inParts(n, size int, worker func() func(part, from, to int)) {
	total := parts(n, size)
	if total <= 1 {
		if n > 0 {
			worker()(0, 0, n)
		}
		return
	}
	var next atomic.Int32
	var all sync.WaitGroup
	for range min(total, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			work := worker()
			for part := int(next.Add(1)) - 1; part < total; part = int(next.Add(1)) - 1 {
				work(part, part*size, min(n, (part+1)*size))
			}
		})
	}
	all.Wait()
}
