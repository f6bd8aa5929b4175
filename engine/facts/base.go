package facts

import (
	"slices"

	"example.com/scantling/rules/vocabulary"
)

// A base is the facts of a document that differs a little from the one at hand. What was worked out of its classes, and
// what the region answered on them, holds for every class here that is signed alike: a signature holds all that either
// depends on.

// classifyOver groups equal pieces. What is the same as in the base is put where it was there, without a signature; the
// members that the rest belongs to, and those that differ, are signed anew.
func (w *work) classifyOver() {
	b := w.Source.Base
	members := slices.Clone(b.signed.members)
	s := newSigner(w, b.signed.seed, members)
	done := make([]bool, len(members))
	sign := func(piece int32) {
		if m := w.frame.Pieces[piece].Member; !done[m] {
			done[m] = true
			members[m] = signed{s.member(m), s.other(m)}
		}
	}
	for piece, same := range w.Source.Same {
		if same < 0 {
			sign(int32(piece))
		}
	}
	c := &w.Classes
	c.Of = make([]int32, len(w.frame.Pieces))
	alike, seen := map[int32]int32{}, map[uint64]int32{}
	for i, same := range w.Source.Same {
		piece, was, known := int32(i), int32(-1), same >= 0
		signature := uint64(0)
		if known {
			was = b.Classes.Of[same]
		} else {
			signature = s.piece(piece)
			was, known = b.signed.classes[signature]
		}
		var class int32
		var there bool
		if known {
			if class, there = alike[was]; !there {
				class = c.begin(piece)
				alike[was] = class
				w.base = append(w.base, was)
			}
		} else if class, there = seen[signature]; !there {
			class = c.begin(piece)
			seen[signature] = class
			w.base = append(w.base, -1)
		}
		c.put(piece, class)
	}
	c.sort()
	w.summary = make([]summary, len(c.First))
	w.want()
}

// want marks the rows that a rule on what is not the same can reach: those pieces, what they rest on, what lands on them,
// and the supports between. Columns of pieces and supports are worked out there and nowhere else.
func (w *work) want() {
	f := w.frame
	pieces, supports := make([]bool, len(f.Pieces)), make([]bool, len(f.Supports))
	for i, same := range w.Source.Same {
		if same >= 0 {
			continue
		}
		piece := int32(i)
		pieces[piece] = true
		own, from := f.SupportsOf(piece)
		for k := range own {
			supports[from+int32(k)] = true
			if on := own[k].On; on >= 0 {
				pieces[on] = true
			}
		}
		for _, landing := range f.LandingsOn(piece) {
			supports[landing] = true
			pieces[f.Supports[landing].Piece] = true
		}
	}
	for i, beside := range w.Source.Beside {
		if s := &f.Supports[i]; beside {
			supports[i], pieces[s.Piece] = true, true
			if s.On >= 0 {
				pieces[s.On] = true
			}
		}
	}
	members := make([]bool, len(w.doc.Members))
	for i, yes := range pieces {
		if yes {
			members[f.Pieces[i].Member] = true
		}
	}
	rows := 1 // the last stands for supports that are implied
	for i := range w.doc.Members {
		rows += len(w.doc.Members[i].Supports)
	}
	said := make([]bool, rows)
	for i, yes := range supports {
		if yes {
			said[w.Tables[vocabulary.Support].Document[i]] = true
		}
	}
	most := max(len(pieces), len(supports), rows)
	w.wanted = &wanted{indices(pieces), indices(members), indices(supports), indices(said), slices.Repeat([]vocabulary.Reason{w.Reason(asBefore)}, most)}
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

// wanted is the rows of pieces and of supports that can matter, and the rows of the document that they share.
type wanted struct {
	pieces, members, supports, said []int32
	absent                          []vocabulary.Reason // that of asBefore, for as many rows as any column has
}

// of is the rows of a subject's column that can matter, where those are not all.
func (w *wanted) of(s vocabulary.Subject, shared bool) (rows []int32, part bool) {
	switch {
	case w == nil:
	case s == vocabulary.Member && shared:
		return w.members, true
	case s == vocabulary.Member:
		return w.pieces, true
	case s == vocabulary.Support && shared:
		return w.said, true
	case s == vocabulary.Support:
		return w.supports, true
	}
	return nil, false
}

// partial works out some rows of a column; the others are absent.
func partial[C any](w *work, r *rows[C], f *fill[C], c *vocabulary.Column, wanted []int32) {
	c.Absent = slices.Clone(w.wanted.absent[:r.n])
	scratch := new(C)
	for _, i := range wanted {
		c.Absent[i] = 0
		if why := f.put(c, int(i), r.at(int(i), scratch)); why != "" {
			c.Absent[i] = w.Reason(why)
		}
	}
}

// asBefore is why a fact is absent where nothing that can reach it has changed.
const asBefore = "it is as before, and was not looked at again"

// recalled is the class of the base that a class is alike to, or -1.
func (f *Filled) recalled(class int32) int32 {
	if f.base == nil {
		return -1
	}
	return f.base[class]
}

// summaryOf is what a part of the base's summaries says of a class, or nil where it must be worked out.
func (w *work) summaryOf(part effect, class int32) *summary {
	alike := w.recalled(class)
	if alike < 0 || !w.Source.Base.work.worked[part] {
		return nil
	}
	return &w.Source.Base.work.summary[alike]
}

// take copies a part of a summary.
func (s *summary) take(part effect, from *summary) {
	switch part {
	case ofReactions:
		s.supports, s.total, s.thrust, s.headPush = from.supports, from.total, from.thrust, from.headPush
		s.tieForce, s.draws, s.footThrust = from.tieForce, from.draws, from.footThrust
	case ofForces:
		s.moment, s.shear, s.tension, s.compression = from.moment, from.shear, from.tension, from.compression
	case ofDeflection:
		s.deflection, s.deflectionRatio = from.deflection, from.deflectionRatio
	case ofBends:
		s.roller, s.kinkMoment, s.kinkAxial, s.kinkShear = from.roller, from.kinkMoment, from.kinkAxial, from.kinkShear
	}
}

// Recall fills a region's facts of the classes that are taken over from the base. It comes after FillRegion.
func (f *Filled) Recall(facts []vocabulary.Fact) {
	b := f.Source.Base
	for k := range facts {
		fact := f.Book.Fact(facts[k].Subject, facts[k].Name)
		if fact == nil || f.Columns[fact.ID()] == nil || b.Columns[fact.ID()] == nil {
			continue
		}
		c, from := f.Columns[fact.ID()], b.Columns[fact.ID()]
		for class, alike := range f.base {
			if alike < 0 {
				continue
			}
			f.governs[class*len(facts)+k] = b.governs[int(alike)*len(facts)+k]
			row := b.Classes.First[alike]
			for _, to := range f.Classes.Rows(int32(class)) {
				switch {
				case from.Absent[row] != 0:
					c.Absent[to] = f.Reason(b.Explain(from.Absent[row]))
				case fact.Type == vocabulary.Truth:
					c.Absent[to], c.Truths[to] = 0, from.Truths[row]
				default:
					c.Absent[to], c.Numbers[to] = 0, from.Numbers[row]
				}
			}
		}
	}
}
