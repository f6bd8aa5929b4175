// Package facts fills the vocabulary's columns from a document, its frame, its take-down and a region's answers. It
// does not know what rules make of the facts.
package facts

import (
	"strings"
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

	// Base is the facts of a document that differs from this one in one member; nil: none. Same is the piece there that a
	// piece here is surely the same as, in itself, in its loads, in all that it meets and in what stands beside it on walls;
	// -1: it must be looked at. Inside is likewise the piece that it is surely the same as in all but what stands beside it.
	Base    *Base
	Differs int32
	Same    []int32
	Inside  []int32
}

// Filled is the facts of a run with what reads them back.
type Filled struct {
	*vocabulary.Facts
	Source  *Source
	Classes Classes
	Rows    Rows

	work      *work
	signed    signatures
	base      []int32          // by class: the class of Source.Base that it is alike to, -1: none; nil without a base
	signs     map[int32]uint64 // by piece that is looked at: the signature of what acts inside it
	within    []int32          // likewise: the class that is alike in all that acts inside its pieces
	governs   []int32          // by class and fact of the region: the combination that governs, -1: none
	answering sync.Mutex       // a region's answers come on another goroutine than its batches are made on
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

// Fill makes the facts of a run ready: a column is worked out when it is first asked for. Facts of a region are left
// absent until FillRegion.
func Fill(src *Source) *Filled {
	f := &Filled{Facts: vocabulary.NewFacts(src.Book), Source: src}
	if src.Base != nil {
		f.TakeReasons(src.Base.Facts)
	}
	w := newWork(f)
	f.work = w
	f.Facts.Source = w.column
	w.tables()
	w.classify()
	w.documentMembers()
	w.documentSupports()
	w.pieces()
	w.supports()
	w.areas()
	w.details()
	w.grounds()
	w.whole()
	w.links()
	return f
}

// work is what facts are worked out from.
type work struct {
	*Filled
	frame    *frame.Frame
	down     *statics.TakeDown
	doc      *model.Document
	walks    walks
	strong   []int   // combinations for strength
	service  []int   // characteristic combinations
	steady   []int   // combinations for uplift: strength and loss of equilibrium
	lightest float64 // least factor of permanent load in the combinations for uplift: what holds down counts with no more
	moves    bool    // some have a factor for what may stand anywhere in place of the imposed load

	changed  *changed  // rows whose own facts may differ from the base; nil: not known yet, or without a base
	then     rowsThen  // rows of the base
	said     int       // rows of supports in the document, that of implied ones counted
	summary  []summary // by class
	worked   [effects]bool
	sources  []func() *vocabulary.Column // by Fact.ID
	heldAt   []float64                   // places that hold pieces, in order along each, mm
	heldFrom []int32                     // by piece: its first place; one more at the end
	landed   []groundRow
	strapsTo map[string][]model.Strap // by the mark that they tie to
	leftOut  map[int32]string         // by member: loads that are not counted
	stays    map[int32]string         // by member: loads that are passed on to nothing
	stood    map[int32]*stood         // by masonry wall that something stands on
}

func newWork(f *Filled) *work {
	src := f.Source
	w := &work{Filled: f, frame: src.Down.Frame, down: src.Down, doc: src.Down.Frame.Document, sources: make([]func() *vocabulary.Column, len(f.Columns))}
	for i := range src.Combinations {
		w.moves = w.moves || src.Combinations[i].Moving > 0
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
	w.lightest = 1
	for _, k := range w.steady {
		for c, factor := range src.Combinations[k].Factors {
			if w.down.Cases[c].Permanent {
				w.lightest = min(w.lightest, factor)
			}
		}
	}
	w.walks = walk(w.frame)
	w.doc.Index("") // columns are worked out side by side: what is made on first use is made now
	w.tieStraps()
	w.gatherLeftOut()
	w.holdPlaces()
	w.standOn()
	return w
}

// tables sets the rows of every subject.
func (w *work) tables() {
	f := w.frame
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
	w.said = int(implied) + 1
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

// done is what a document says was done about something: to say that it is none is to say that nothing was.
func done(v string) textValue {
	if strings.EqualFold(strings.TrimSpace(v), "none") {
		return noText("the document says that there is none")
	}
	return said(v)
}

// given is a quantity of the document.
func given(q model.Quantity) numberValue {
	if !q.Known {
		return noNumber(unsaid)
	}
	return num(q.Value)
}
