package facts

import (
	"slices"

	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// touched is how each row differs from the base for the rules that judge it.
type touched struct{ pieces, supports, areas []vocabulary.Touch }

// Touched says how rows differ from the base for the rules that judge them. From then on facts of the others are those of
// the base. It comes after the region has answered.
func (f *Filled) Touched() func(s vocabulary.Subject, row int32) vocabulary.Touch {
	w := f.work
	t := &touched{make([]vocabulary.Touch, len(w.frame.Pieces)), make([]vocabulary.Touch, len(w.frame.Supports)), make([]vocabulary.Touch, len(w.doc.Areas))}
	w.remember()
	w.meets(t)
	w.otherwise(t)
	w.answered(t)
	w.seen(t)
	w.change(t)
	return func(s vocabulary.Subject, row int32) vocabulary.Touch {
		switch s {
		case vocabulary.Member:
			return t.pieces[row]
		case vocabulary.Support:
			return t.supports[row]
		case vocabulary.Area:
			return t.areas[row]
		}
		return vocabulary.Changed | vocabulary.Seen
	}
}

// there is the piece of the base that has a piece's place in its run, or -1.
func (w *work) there(piece int32) int32 {
	p := w.frame.Pieces[piece]
	from, to := w.Source.Base.work.frame.PiecesOf(p.Member)
	if from+p.Index >= to {
		return -1
	}
	return from + p.Index
}

// meets touches the pieces of the member that differs, all that they meet or met, and the supports beside theirs, whose
// rules hold its size against that of their own.
func (w *work) meets(t *touched) {
	f, b := w.frame, w.Source.Base.work.frame
	met := func(old *frame.Frame, touch func(piece int32), under func(piece int32)) {
		from, to := old.PiecesOf(w.Source.Differs)
		for piece := from; piece < to; piece++ {
			touch(piece)
			supports, _ := old.SupportsOf(piece)
			for k := range supports {
				if on := supports[k].On; on >= 0 {
					touch(on)
					under(on)
				}
			}
			for _, i := range old.LandingsOn(piece) {
				touch(old.Supports[i].Piece)
			}
		}
		mine := func(piece int32) bool { return piece >= from && piece < to }
		for i := range old.Pieces {
			if slices.ContainsFunc(old.LeanAcross(int32(i)), mine) { // a ridge board that it is cut against
				touch(int32(i))
				under(int32(i))
			}
		}
		for i := range old.Couples {
			parts := old.Couples[i].Parts()
			if slices.ContainsFunc(parts, mine) {
				for _, piece := range parts {
					touch(piece)
				}
			}
		}
	}
	here := func(then int32) (piece int32, ok bool) {
		p := b.Pieces[then]
		from, to := f.PiecesOf(p.Member)
		return from + p.Index, from+p.Index < to
	}
	touch := func(piece int32) { t.pieces[piece] |= vocabulary.Changed }
	looked := map[int32]bool{}
	under := func(piece int32) {
		if looked[piece] {
			return
		}
		looked[piece] = true
		for _, i := range f.LandingsOn(piece) {
			t.supports[i] |= vocabulary.Seen
			if now, was, ok := w.restsThen(i); !ok || now.depthStep() != was.depthStep() {
				t.supports[i] |= vocabulary.Changed
			}
		}
	}
	met(f, touch, under)
	met(b, func(then int32) {
		if piece, ok := here(then); ok {
			touch(piece)
		}
	}, func(then int32) {
		if piece, ok := here(then); ok {
			under(piece)
		}
	})
}

// otherwise touches what is loaded, held or led down otherwise than in the base, and supports whose holding-down is fixed to
// something of another weight.
func (w *work) otherwise(t *touched) {
	for i := range w.frame.Pieces {
		piece, then := int32(i), w.there(int32(i))
		if then < 0 || !w.goesDownAsBefore(piece, then) || w.Source.Inside[i] < 0 && !w.asBefore(piece, then) {
			t.pieces[i] |= vocabulary.Changed
		}
	}
	for i, touch := range t.pieces {
		if touch != 0 {
			w.heldDownTo(int32(i), t, map[int32]bool{})
		}
	}
}

// goesDownAsBefore says whether the way down from a piece is that of the base.
func (w *work) goesDownAsBefore(piece, then int32) bool {
	b := w.Source.Base.work
	if !w.walks.asIn(&b.walks, piece, then) {
		return false
	}
	if w.walks.reaches[piece] {
		return true
	}
	last, missing := w.walks.shortOf(w.frame, piece)
	lastThen, missingThen := b.walks.shortOf(b.frame, then)
	return w.frame.Name(last) == b.frame.Name(lastThen) && missing == missingThen
}

// asBefore says whether the same acts in a piece, on it and from it as in the base.
func (w *work) asBefore(piece, then int32) bool {
	b := w.Source.Base.work
	if w.signs[piece] != b.signs[then] {
		return false
	}
	own, first := w.frame.SupportsOf(piece)
	before, firstThen := b.frame.SupportsOf(then)
	lands, landed := w.frame.LandingsOn(piece), b.frame.LandingsOn(then)
	if len(own) != len(before) || len(lands) != len(landed) {
		return false
	}
	for k := range own {
		if !w.pushedAsBefore(first+int32(k), firstThen+int32(k)) {
			return false
		}
	}
	for k := range lands {
		if !w.pushedAsBefore(lands[k], landed[k]) {
			return false
		}
	}
	return true
}

// pushedAsBefore says whether a support pushes its piece as one of the base does, in every case.
func (w *work) pushedAsBefore(support, then int32) bool {
	for c := range w.down.Cases {
		if w.down.Reaction(support, c) != w.Source.Base.Source.Down.Reaction(then, c) {
			return false
		}
	}
	return true
}

// restsThen is a support, and the same one in the base; not ok where there is none.
func (w *work) restsThen(support int32) (now, was restRow, ok bool) {
	b, piece := w.Source.Base.work, w.frame.Supports[support].Piece
	w.rest(&now, support)
	then := w.there(piece)
	if then < 0 {
		return now, was, false
	}
	own, first := w.frame.SupportsOf(piece)
	before, firstThen := b.frame.SupportsOf(then)
	if len(own) != len(before) {
		return now, was, false
	}
	b.rest(&was, firstThen+support-first)
	return now, was, true
}

// heldDownTo touches the supports on a piece, and on the plates on it, that are held down to another weight than in the base.
func (w *work) heldDownTo(piece int32, t *touched, seen map[int32]bool) {
	if seen[piece] {
		return
	}
	seen[piece] = true
	for _, i := range w.frame.LandingsOn(piece) {
		s := &w.frame.Supports[i]
		if now, was, ok := w.restsThen(i); !ok || now.weightBelow() != was.weightBelow() {
			t.supports[i] |= vocabulary.Changed
		}
		if role := w.frame.Member(s.Piece).Role; role == model.RoleWallPlate || role == model.RoleSolePlate {
			w.heldDownTo(s.Piece, t, seen)
		}
	}
}

// answered touches the pieces on which the region answers otherwise than in the base.
func (w *work) answered(t *touched) {
	var facts []*vocabulary.Fact
	for _, fact := range w.Book.Facts(vocabulary.Member) {
		if fact.Origin == vocabulary.FromRegion {
			facts = append(facts, fact)
		}
	}
	for class, alike := range w.base {
		if alike >= 0 {
			continue
		}
		for _, piece := range w.Classes.Rows(int32(class)) {
			if then := w.there(piece); then < 0 || !w.answersAsBefore(facts, piece, then) {
				t.pieces[piece] |= vocabulary.Answered
			}
		}
	}
}

func (w *work) answersAsBefore(facts []*vocabulary.Fact, piece, then int32) bool {
	b := w.Source.Base
	for _, fact := range facts {
		now, was := w.Columns[fact.ID()], b.Columns[fact.ID()]
		switch {
		case now == nil || was == nil:
			if now != was {
				return false
			}
		case w.Explain(now.Absent[piece]) != b.Explain(was.Absent[then]):
			return false
		case now.Absent[piece] != 0:
		case fact.Type == vocabulary.Truth:
			if now.Truths[piece] != was.Truths[then] {
				return false
			}
		case now.Numbers[piece] != was.Numbers[then]:
			return false
		}
	}
	return true
}

// seen touches what sees a touched row: a support its piece, a piece its supports and what lands on it, and either the
// other by two such steps; an area what carries it.
func (w *work) seen(t *touched) {
	own := func() {
		for i := range w.frame.Supports {
			t.supports[i] |= t.pieces[w.frame.Supports[i].Piece]
		}
	}
	own()
	for i, touch := range t.supports {
		if s := &w.frame.Supports[i]; touch&^vocabulary.Answered != 0 {
			t.pieces[s.Piece] |= vocabulary.Seen
			if s.On >= 0 {
				t.pieces[s.On] |= vocabulary.Seen
			}
		}
	}
	own()
	for i := range t.areas {
		for _, piece := range w.carriers(i) {
			if t.pieces[piece]&vocabulary.Changed != 0 {
				t.areas[i] = vocabulary.Changed | vocabulary.Seen
			}
		}
	}
}

// carriers is the pieces that carry an area, where the vocabulary has them.
func (w *work) carriers(area int) []int32 {
	if r := w.Book.Relation(vocabulary.Area, "carriers"); r != nil {
		return w.Links[r.ID()].Reached(int32(area))
	}
	return nil
}

// changed is the rows of pieces and supports whose own facts may differ from the base, and the rows of the document that
// those share.
type changed struct{ pieces, members, supports, said []int32 }

// change lists the rows whose facts are to be worked out anew.
func (w *work) change(t *touched) {
	members, said := make([]bool, len(w.doc.Members)), make([]bool, w.said)
	w.changed = &changed{}
	for i, touch := range t.pieces {
		if touch&vocabulary.Changed != 0 {
			w.changed.pieces = append(w.changed.pieces, int32(i))
			members[w.frame.Pieces[i].Member] = true
		}
	}
	for i, touch := range t.supports {
		if touch&vocabulary.Changed != 0 {
			w.changed.supports = append(w.changed.supports, int32(i))
			said[w.Tables[vocabulary.Support].Document[i]] = true
		}
	}
	w.changed.members, w.changed.said = indices(members), indices(said)
}

func indices(of []bool) []int32 {
	var out []int32
	for i, yes := range of {
		if yes {
			out = append(out, int32(i))
		}
	}
	return out
}
