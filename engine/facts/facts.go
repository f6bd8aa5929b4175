// Package facts fills the vocabulary's columns from a document, its frame, its take-down and a region's answers. It
// does not know what rules make of the facts.
package facts

import (
	"slices"
	"sync"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// Source is everything that facts are taken from.
type Source struct {
	Book         *vocabulary.Book
	Down         *statics.TakeDown
	Before       *statics.TakeDown // what stood before the work; nil where nothing did
	Combinations []region.Combination
	Assumptions  int    // what the region filled in
	Served       bool   // a region's rules are part of the run
	NoRegion     string // why its facts are absent, where it is not
}

// Filled is the facts of a run with what reads them back.
type Filled struct {
	*vocabulary.Facts
	Source  *Source
	Classes Classes
	Rows    Rows

	governs   []int32    // by class and fact of the region: the combination that governs, -1: none
	answering sync.Mutex // a region's answers come on another goroutine than its batches are made on
}

// Classes are the pieces that are equal in every respect that strength depends on: each class is judged once.
type Classes struct {
	Of    []int32 // class of each piece
	First []int32 // a piece of each class
	Count []int32 // pieces of each class

	start, rows []int32 // pieces by class
}

// Rows is the pieces of a class.
func (c *Classes) Rows(class int32) []int32 { return c.rows[c.start[class]:c.start[class+1]] }

// sort lists the pieces by class.
func (c *Classes) sort() {
	c.start, c.rows = make([]int32, len(c.First)+1), make([]int32, len(c.Of))
	for class, n := range c.Count {
		c.start[class+1] = c.start[class] + n
	}
	next := slices.Clone(c.start)
	for piece, class := range c.Of {
		c.rows[next[class]] = int32(piece)
		next[class]++
	}
}

// Rows says what a row of each subject stands for.
type Rows struct {
	Supports []int32 // by row of a support: index into Frame.Supports
	Notches  []Place // by row of a notch
	Holes    []Place // by row of a hole
	Drawings []Place // by row of a drawing
	Grounds  []int32 // by row of a ground: piece
}

// Place is a member and an index in one of its lists.
type Place struct{ Member, Index int32 }

// Fill takes the facts of a run. Facts of a region are left absent until FillRegion.
func Fill(src *Source) *Filled {
	f := &Filled{Facts: vocabulary.NewFacts(src.Book), Source: src}
	w := newWork(f)
	w.tables()
	w.documentMembers()
	w.documentSupports()
	w.pieces()
	w.supports()
	w.areas()
	w.details()
	w.grounds()
	w.frame()
	w.links()
	return f
}

// work is the state of one filling.
type work struct {
	*Filled
	frame_  *frame.Frame
	down    *statics.TakeDown
	doc     *model.Document
	walks   walks
	summary []summary // by class
	strong  []int     // combinations for strength
	service []int     // characteristic combinations
	steady  []int     // combinations for uplift: strength and loss of equilibrium
	reasons map[string]vocabulary.Reason
	unique  []int // by combination: the first that acts alike on the piece that is worked out

	strapsTo map[string][]model.Strap // by the mark that they tie to
}

func newWork(f *Filled) *work {
	src := f.Source
	w := &work{Filled: f, frame_: src.Down.Frame, down: src.Down, doc: src.Down.Frame.Document, reasons: map[string]vocabulary.Reason{}}
	for i := range src.Combinations {
		switch src.Combinations[i].State {
		case region.Strength:
			w.strong, w.steady = append(w.strong, i), append(w.steady, i)
		case region.Stability:
			w.steady = append(w.steady, i)
		case region.Characteristic:
			w.service = append(w.service, i)
		case region.Allowable:
			w.strong, w.steady, w.service = append(w.strong, i), append(w.steady, i), append(w.service, i)
		}
	}
	if len(w.steady) == 0 {
		w.steady = w.service
	}
	w.walks = walk(w.frame_)
	return w
}

// tables sets the rows of every subject.
func (w *work) tables() {
	f := w.frame_
	members := make([]int32, len(f.Pieces))
	for i := range f.Pieces {
		members[i] = f.Pieces[i].Member
	}
	w.Tables[vocabulary.Member] = vocabulary.Table{Rows: len(f.Pieces), Document: members}

	// A support's document row counts the supports of all members in the order of the document; implied ones share a
	// last row that says nothing.
	start := make([]int32, len(w.doc.Members)+1)
	for i := range w.doc.Members {
		start[i+1] = start[i] + int32(len(w.doc.Members[i].Supports))
	}
	implied := start[len(w.doc.Members)]
	said := make([]int32, len(f.Supports))
	w.Rows.Supports = make([]int32, len(f.Supports))
	for i := range f.Supports {
		w.Rows.Supports[i] = int32(i)
		said[i] = implied
		if d := f.Supports[i].Document; d >= 0 {
			said[i] = start[f.Pieces[f.Supports[i].Piece].Member] + d
		}
	}
	w.Tables[vocabulary.Support] = vocabulary.Table{Rows: len(f.Supports), Document: said}
	w.Tables[vocabulary.Area] = vocabulary.Table{Rows: len(w.doc.Areas)}
	w.Tables[vocabulary.Frame] = vocabulary.Table{Rows: 1}
}

// text, number and truth make a value, or its absence with a reason.
type textValue struct {
	v   string
	why string
}

type numberValue struct {
	v   float64
	why string
}

type truthValue struct {
	v   bool
	why string
}

func txt(v string) textValue          { return textValue{v: v} }
func num(v float64) numberValue       { return numberValue{v: v} }
func yes(v bool) truthValue           { return truthValue{v: v} }
func noText(why string) textValue     { return textValue{why: why} }
func noNumber(why string) numberValue { return numberValue{why: why} }
func noTruth(why string) truthValue   { return truthValue{why: why} }

// unsaid is the reason of every absence that only the document can mend.
const unsaid = "the document does not say"

// said is a text of the document, absent when empty.
func said(v string) textValue {
	if v == "" {
		return noText(unsaid)
	}
	return txt(v)
}

// given is a quantity of the document.
func given(q model.Quantity) numberValue {
	if !q.Known {
		return noNumber(unsaid)
	}
	return num(q.Value)
}

// fill is how one fact is worked out from a row's context: exactly one of the three is set.
type fill[C any] struct {
	name   string
	text   func(C) textValue
	number func(C) numberValue
	truth  func(C) truthValue
}

// column fills one fact for n rows. Facts that the book lacks are passed over, so that a book can be a part of the whole.
func column[C any](w *work, subject vocabulary.Subject, shared bool, n int, f fill[C], at func(int) C) {
	fact := w.Book.Fact(subject, f.name)
	if fact == nil {
		return
	}
	c := &vocabulary.Column{Shared: shared}
	leave := func(i int, why string) {
		if c.Absent == nil {
			c.Absent = make([]vocabulary.Reason, n)
		}
		c.Absent[i] = w.reason(why)
	}
	switch {
	case f.text != nil:
		c.Texts = make([]string, n)
		for i := range n {
			if v := f.text(at(i)); v.why != "" {
				leave(i, v.why)
			} else {
				c.Texts[i] = v.v
			}
		}
	case f.number != nil:
		c.Numbers = make([]float64, n)
		for i := range n {
			if v := f.number(at(i)); v.why != "" {
				leave(i, v.why)
			} else {
				c.Numbers[i] = v.v
			}
		}
	default:
		c.Truths = make([]bool, n)
		for i := range n {
			if v := f.truth(at(i)); v.why != "" {
				leave(i, v.why)
			} else {
				c.Truths[i] = v.v
			}
		}
	}
	w.Columns[fact.ID()] = c
}

// columns fills a list of facts.
func columns[C any](w *work, subject vocabulary.Subject, shared bool, n int, list []fill[C], at func(int) C) {
	for _, f := range list {
		column(w, subject, shared, n, f, at)
	}
}

func (w *work) reason(why string) vocabulary.Reason {
	r, ok := w.reasons[why]
	if !ok {
		r = w.Facts.Reason(why)
		w.reasons[why] = r
	}
	return r
}
