package facts

import (
	"strings"

	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
)

// walks are what is found by following the load path down and up, by piece.
type walks struct {
	reaches    []bool  // every way down ends on a ground member
	inCircle   []int32 // index into Frame.Circles plus one; 0: in none
	unverified []int32 // member that nobody has vouched for, on the way down; -1: none
	tied       []bool  // named as a tie by a couple
}

// walk follows the load path once, from the ground up.
func walk(f *frame.Frame) walks {
	n := len(f.Pieces)
	w := walks{reaches: make([]bool, n), inCircle: make([]int32, n), unverified: make([]int32, n), tied: make([]bool, n)}
	for i := range w.unverified {
		w.unverified[i] = -1
	}
	members := map[int32]int32{}
	for k, circle := range f.Circles {
		for _, m := range circle {
			members[m] = int32(k) + 1
		}
	}
	for i := range f.Pieces {
		w.inCircle[i] = members[f.Pieces[i].Member]
	}
	for i := range f.Couples {
		for _, t := range f.Couples[i].Ties {
			if t.Piece >= 0 {
				w.tied[t.Piece] = true
			}
		}
	}
	for i := len(f.Order) - 1; i >= 0; i-- {
		w.settle(f, f.Order[i])
	}
	return w
}

// settle works out one piece, all that it rests on being settled.
func (w *walks) settle(f *frame.Frame, piece int32) {
	if f.Member(piece).Ground {
		w.reaches[piece] = true
		return
	}
	supports, _ := f.SupportsOf(piece)
	held, all := false, true
	for k := range supports {
		s := &supports[k]
		if s.Against {
			continue
		}
		if !s.Holds() {
			all = false
			continue
		}
		held = true
		all = all && w.reaches[s.On]
		if w.unverified[piece] < 0 {
			switch {
			case f.Member(s.On).Condition == "unverified":
				w.unverified[piece] = f.Pieces[s.On].Member
			case w.unverified[s.On] >= 0:
				w.unverified[piece] = w.unverified[s.On]
			}
		}
	}
	w.reaches[piece] = held && all
}

// asIn says whether what is found of a piece is what is found of one in another frame; of a circle nothing is taken for it.
func (w *walks) asIn(o *walks, piece, there int32) bool {
	return w.reaches[piece] == o.reaches[there] && w.inCircle[piece] == 0 && o.inCircle[there] == 0 &&
		w.unverified[piece] == o.unverified[there] && w.tied[piece] == o.tied[there]
}

// shortOf follows the way down from a piece to where it ends short of the ground: the last piece reached, and what is
// missing under it.
func (w *walks) shortOf(f *frame.Frame, piece int32) (last int32, missing string) {
	seen := map[int32]bool{}
	for {
		seen[piece] = true
		supports, _ := f.SupportsOf(piece)
		next := int32(-1)
		var bad []string
		held := false
		for k := range supports {
			s := &supports[k]
			switch {
			case s.Against:
			case !s.Holds():
				bad = append(bad, problemText(f, s))
			case !w.reaches[s.On] && !seen[s.On]:
				next = s.On
				held = true
			default:
				held = true
			}
		}
		switch {
		case len(bad) > 0:
			return piece, strings.Join(bad, "; ")
		case !held:
			return piece, "no support is stated"
		case next < 0:
			return piece, "it rests, hop by hop, on itself"
		}
		piece = next
	}
}

// problemText says why a support does not hold.
func problemText(f *frame.Frame, s *frame.Support) string {
	m := f.Member(s.Piece)
	name := ""
	if s.Document >= 0 {
		name = m.Supports[s.Document].On + m.Supports[s.Document].Against
	}
	switch s.Problem {
	case frame.NamesNoMark:
		return "the model has no member " + name
	case frame.NamesGone:
		return name + " does not stand after the work"
	case frame.NamesItself:
		return "it names itself"
	case frame.NoPlace:
		return "the place of its support on " + name + " is not stated"
	case frame.NoPartner:
		return "no piece of " + name + " meets its head in the same upright plane"
	}
	return ""
}

const noHead = "no support at its head is stated"

// headHeld says whether a piece that slopes is held up by more than a ridge board at the places that count as its head.
func headHeld(f *frame.Frame, piece int32, isHead func(at float64) bool) (held, found bool) {
	supports, _ := f.SupportsOf(piece)
	for k := range supports {
		s := &supports[k]
		if !isHead(s.At) {
			continue
		}
		found = true
		if s.Holds() && !restsOnBoard(f, s.On) {
			held = true
		}
	}
	return held, found
}

// restsOnBoard says whether what carries a head is a ridge board: it spans nothing.
func restsOnBoard(f *frame.Frame, on int32) bool { return f.Member(on).Role == model.RoleRidgeBoard }

// isHead says whether a place is in the upper half of a piece that slopes.
func isHead(sh *frame.Shape, at float64) bool {
	if !slopes(sh) {
		return false
	}
	a, b := sh.Points[0].Z, sh.Points[len(sh.Points)-1].Z
	return (b > a) == (at > sh.Length/2)
}

// topEnd says which places are at the upper end of a piece that slopes: within one and a half of its depths, where a bearing and a
// plumb cut put them (common practice, no source). Further down something may prop it, and its head stands free all the same.
func topEnd(f *frame.Frame, piece int32) func(at float64) bool {
	sh, reach := f.Shape(piece), 300.0 // mm, where no section is stated
	if s := f.Member(piece).Section; s != nil {
		reach = 1.5 * s.Depth
	}
	return func(at float64) bool { return isHead(sh, at) && min(at, sh.Length-at) <= reach }
}

func slopes(sh *frame.Shape) bool {
	return sh.Known && !sh.Upright && sh.Points[len(sh.Points)-1].Z != sh.Points[0].Z && sh.Slope > 0.01
}
