package facts

import (
	"slices"
	"sync"

	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// Base is the facts of a document from which others differ a little. What was worked out of its classes, and what the region
// answered on them, holds for every class there that is signed alike: a signature holds all that either depends on. What
// acts inside a piece holds where no more than the load beside it on a wall is another.
type Base struct {
	*Filled
	inside map[uint64]int32               // class by the signature of what acts inside its pieces
	told   map[int32]func() *region.Batch // by class: what the region is told of it
	beside []string                       // the region's facts that depend on what stands beside; none: any may
}

// NewBase is a base for documents that differ in some of the pieces. Lists name the sections and grades of all of them;
// beside the region's facts that depend on what stands beside a piece, as its description does.
func NewBase(f *Filled, l *Lists, pieces []int32, beside []string) *Base {
	b := &Base{Filled: f, inside: map[uint64]int32{}, told: map[int32]func() *region.Batch{}, beside: beside}
	f.signs = map[int32]uint64{}
	s := newSigner(f.work, f.signed.seed, f.signed.members)
	for _, piece := range pieces {
		class := f.Classes.Of[piece]
		inside, _ := s.piece(piece)
		f.signs[piece], b.inside[inside] = inside, class
		if b.told[class] == nil && f.judged(piece) == "" {
			b.told[class] = sync.OnceValue(func() *region.Batch {
				w := newBatchWriter(f, l, false)
				w.bare = len(beside) > 0
				return w.one(class)
			})
		}
	}
	return b
}

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
	w.signs = map[int32]uint64{}
	for i, same := range w.Source.Same {
		piece, was, known := int32(i), int32(-1), same >= 0
		inside, signature := uint64(0), uint64(0)
		if known {
			was = b.Classes.Of[same]
		} else {
			if then := w.Source.Inside[i]; then >= 0 {
				inside = b.signs[then]
				signature = s.all(inside, piece)
			} else {
				inside, signature = s.piece(piece)
			}
			w.signs[piece] = inside
			was, known = b.signed.classes[signature]
		}
		var class int32
		var there bool
		if known {
			if class, there = alike[was]; !there {
				class = c.begin(piece)
				alike[was] = class
				w.base, w.within = append(w.base, was), append(w.within, was)
			}
		} else if class, there = seen[signature]; !there {
			class = c.begin(piece)
			seen[signature] = class
			within, ok := b.inside[inside]
			if !ok {
				within = -1
			}
			w.base, w.within = append(w.base, -1), append(w.within, within)
		}
		c.put(piece, class)
	}
	c.sort()
	w.summary = make([]summary, len(c.First))
}

// recalled is the class of the base that a class is alike to, or -1.
func (f *Filled) recalled(class int32) int32 {
	if f.base == nil {
		return -1
	}
	return f.base[class]
}

// summaryOf is what a part of the base's summaries says of a class, or nil where it must be worked out.
func (w *work) summaryOf(part effect, class int32) *summary {
	if w.within == nil || w.within[class] < 0 || !w.Source.Base.work.worked[part] {
		return nil
	}
	return &w.Source.Base.work.summary[w.within[class]]
}

// toldBefore is what the region was told of a class of the base in which the same acts inside a piece as in a class, or nil.
func (f *Filled) toldBefore(class int32) *region.Batch {
	if f.within == nil || f.within[class] < 0 {
		return nil
	}
	if told := f.Source.Base.told[f.within[class]]; told != nil {
		return told()
	}
	return nil
}

// besideOnly says whether no more of a class differs from the base than what stands beside its pieces, and the region has said
// which of its facts depend on that.
func (f *Filled) besideOnly(class int32) bool {
	return f.within != nil && f.base[class] < 0 && f.within[class] >= 0 && len(f.Source.Base.beside) > 0
}

// dependsOnBeside says whether a fact of the region is one that must be judged anew for such a class.
func (f *Filled) dependsOnBeside(fact *vocabulary.Fact) bool {
	return slices.Contains(f.Source.Base.beside, fact.Name)
}

// take copies a part of a summary.
func (s *summary) take(part effect, from *summary) {
	switch part {
	case ofReactions:
		s.supports, s.total, s.thrust, s.headPush = from.supports, from.total, from.thrust, from.headPush
		s.tieForce, s.draws, s.footThrust, s.footThrustService = from.tieForce, from.draws, from.footThrust, from.footThrustService
	case ofForces:
		s.moment, s.shear, s.tension, s.compression = from.moment, from.shear, from.tension, from.compression
	case ofDeflection:
		s.deflection, s.deflectionRatio = from.deflection, from.deflectionRatio
	case ofBends:
		s.roller, s.kinkMoment, s.kinkAxial, s.kinkShear = from.roller, from.kinkMoment, from.kinkAxial, from.kinkShear
	}
}

// Recall fills a region's facts of the classes that are taken over from the base, and of those in which only what stands beside
// is another the facts that do not depend on it. It comes after FillRegion.
func (f *Filled) Recall(facts []vocabulary.Fact) {
	b := f.Source.Base
	for k := range facts {
		fact := f.Book.Fact(facts[k].Subject, facts[k].Name)
		if fact == nil || f.Columns[fact.ID()] == nil || b.Columns[fact.ID()] == nil {
			continue
		}
		c, from, depends := f.Columns[fact.ID()], b.Columns[fact.ID()], f.dependsOnBeside(fact)
		for class, alike := range f.base {
			if f.besideOnly(int32(class)) && !depends {
				alike = f.within[class]
			}
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
