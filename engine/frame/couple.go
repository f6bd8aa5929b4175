package frame

import (
	"cmp"
	"math"
	"slices"

	"example.com/scantling/model"
)

// Couple is two opposing rafters in one upright plane, with what ties them.
type Couple struct {
	Rafters [2]int32 // pieces
	Heads   [2]int32 // supports: the head of each
	Ties    []CoupleTie

	ordered bool // one of the rafters stands in the order
}

// CoupleTie is one tie of a couple.
type CoupleTie struct {
	Piece int32      // of the tie; -1 when what is named does not stand
	At    [2]float64 // along each rafter, mm
	Named [2]int32   // index in each rafter's list of ties; -1 where that rafter does not name it
}

// CoupleOf is the couple that a piece is a rafter of, or nil.
func (f *Frame) CoupleOf(piece int32) *Couple {
	if f.couple == nil || f.couple[piece] < 0 {
		return nil
	}
	return &f.Couples[f.couple[piece]]
}

// CouplesTiedBy is the couples that a piece ties, as indices into Couples.
func (f *Frame) CouplesTiedBy(piece int32) []int32 { return f.tied[piece] }

// Other is the rafter that a rafter of the couple leans on.
func (c *Couple) Other(piece int32) int32 {
	if c.Rafters[0] == piece {
		return c.Rafters[1]
	}
	return c.Rafters[0]
}

// Parts is the rafters of the couple and what stands of its ties.
func (c *Couple) Parts() []int32 {
	out := slices.Clone(c.Rafters[:])
	for _, tie := range c.Ties {
		if tie.Piece >= 0 {
			out = append(out, tie.Piece)
		}
	}
	return out
}

// pairCouples finds the opposing rafter of every head that leans. A piece is of one couple at most, and what stands on
// the ground of none.
func (f *Frame) pairCouples() {
	for i := range f.Supports {
		s := &f.Supports[i]
		if !s.Against || s.On >= 0 {
			continue
		}
		m := f.Member(s.Piece)
		if m.Ground || f.CoupleOf(s.Piece) != nil {
			s.Problem = NoPartner
			continue
		}
		target := f.Document.Index(m.Supports[s.Document].Against)
		switch {
		case target < 0:
			s.Problem = NamesNoMark
			continue
		case target == int(f.Pieces[s.Piece].Member):
			s.Problem = NamesItself
			continue
		case f.first[target] == f.first[target+1]:
			s.Problem = NamesGone
			continue
		}
		other, head := f.opposing(int32(i), int32(target))
		if other < 0 {
			s.Problem = NoPartner
			continue
		}
		o := &f.Supports[head]
		s.On, o.On, o.Problem = other, s.Piece, Sound
		s.OnAt, o.OnAt = o.At, s.At
		s.Placed, o.Placed = f.Shape(s.Piece).Placed, f.Shape(other).Placed
		f.addCouple(s.Piece, other, int32(i), head)
	}
}

func (f *Frame) addCouple(a, b, headA, headB int32) {
	if f.couple == nil {
		f.couple = make([]int32, len(f.Pieces))
		for i := range f.couple {
			f.couple[i] = -1
		}
	}
	f.couple[a], f.couple[b] = int32(len(f.Couples)), int32(len(f.Couples))
	c := Couple{Rafters: [2]int32{a, b}, Heads: [2]int32{headA, headB}}
	f.Couples = append(f.Couples, c)
	f.findTies(&f.Couples[len(f.Couples)-1])
	if f.tied == nil {
		f.tied = map[int32][]int32{}
	}
	for _, t := range f.Couples[len(f.Couples)-1].Ties {
		if t.Piece >= 0 {
			f.tied[t.Piece] = append(f.tied[t.Piece], f.couple[a])
		}
	}
}

// opposing is the piece of the target whose leaning head meets this one in the same upright plane, and that head.
func (f *Frame) opposing(head, target int32) (piece, support int32) {
	s := &f.Supports[head]
	mine, sh := f.Point(s.Piece, s.At), f.Shape(s.Piece)
	x, y := sh.towards(s.At)
	best, bestSupport, bestGap := int32(-1), int32(-1), math.Inf(1)
	for k := f.first[target]; k < f.first[target+1]; k++ {
		if f.Member(k).Ground || f.CoupleOf(k) != nil {
			continue
		}
		supports, from := f.SupportsOf(k)
		for j := range supports {
			o := &supports[j]
			if !o.Against || o.On >= 0 || f.Document.Index(f.Member(k).Supports[o.Document].Against) != int(f.Pieces[s.Piece].Member) {
				continue
			}
			theirs, their := f.Point(k, o.At), f.Shape(k)
			if !sh.Placed || !their.Placed { // no geometry: the pieces pair in order
				if f.Pieces[k].Index == f.Pieces[s.Piece].Index && facing(sh, s.At, their, o.At) {
					return k, from + int32(j)
				}
				continue
			}
			side := math.Abs((theirs.X-mine.X)*y - (theirs.Y-mine.Y)*x)
			gap := norm(sub(theirs, mine))
			theirX, theirY := their.towards(o.At)
			if side > coupleSide || gap > coupleGap || x*theirX+y*theirY > opposed {
				continue
			}
			if gap < bestGap {
				best, bestSupport, bestGap = k, from+int32(j), gap
			}
		}
	}
	return best, bestSupport
}

const (
	coupleSide = 100   // mm: rafters lap past each other or stand either side of a board's joint
	coupleGap  = 250   // mm between heads: a board, at most a beam, is between them
	opposed    = -0.99 // cosine of the angle in plan between two that lean on each other: within eight degrees
)

// facing turns what has no path so that two that lean on each other do so in space, and says whether they then do. What
// has no slope leans nowhere, whichever way it is turned.
func facing(a *Shape, atA float64, b *Shape, atB float64) bool {
	ax, ay := a.towards(atA)
	bx, by := b.towards(atB)
	slopes := ax*ax+ay*ay > 0 && bx*bx+by*by > 0
	switch {
	case slopes && ax*bx+ay*by <= opposed:
	case slopes && !b.Placed && !b.faces:
		b.turn(atB, -ax, -ay)
	case slopes && !a.Placed && !a.faces:
		a.turn(atA, -bx, -by)
	case slopes:
		return false
	}
	a.faces, b.faces = true, true
	return true
}

// findTies finds where the ties that either rafter names meet the two rafters.
func (f *Frame) findTies(c *Couple) {
	for side, rafter := range c.Rafters {
		for k := range f.Member(rafter).Ties {
			named := &f.Member(rafter).Ties[k]
			tie := f.tiePiece(rafter, named.On)
			at := f.tieAt(rafter, tie, named)
			found := false
			for i := range c.Ties {
				if c.Ties[i].Piece == tie && c.Ties[i].Named[side] < 0 {
					c.Ties[i].At[side], c.Ties[i].Named[side] = at, int32(k)
					found = true
					break
				}
			}
			if !found {
				t := CoupleTie{Piece: tie, Named: [2]int32{-1, -1}}
				t.At[side], t.Named[side] = at, int32(k)
				other := c.Rafters[1-side]
				t.At[1-side] = f.tieAt(other, tie, &model.TiedBy{On: named.On})
				c.Ties = append(c.Ties, t)
			}
		}
	}
}

// tiePiece is the piece of a run of ties that lies nearest to a rafter's plane; -1 where the mark does not stand.
func (f *Frame) tiePiece(rafter int32, mark string) int32 {
	target := f.Document.Index(mark)
	if target < 0 || f.first[target] == f.first[target+1] {
		return -1
	}
	from, to := f.first[target], f.first[target+1]
	if !f.Shapes[target].Placed || !f.Shape(rafter).Placed {
		return min(from+f.Pieces[rafter].Index, to-1)
	}
	sh := f.Shape(rafter)
	foot := f.Point(rafter, 0)
	best, bestSide := from, math.Inf(1)
	for k := from; k < to; k++ {
		p := f.Point(k, 0)
		if side := math.Abs((p.X-foot.X)*sh.DirY - (p.Y-foot.Y)*sh.DirX); side < bestSide {
			best, bestSide = k, side
		}
	}
	return best
}

// tieAt is where a tie meets a rafter: where the document says, else where the rafter passes the tie's level, else the
// rafter's foot.
func (f *Frame) tieAt(rafter, tie int32, named *model.TiedBy) float64 {
	sh := f.Shape(rafter)
	if named.At.Known {
		return min(max(0, named.At.Value), sh.Length)
	}
	foot := 0.0
	if headOf(sh) == 0 {
		foot = sh.Length
	}
	for _, s := range f.supportsAt(rafter) {
		if s.carries() {
			foot = s.At
			break
		}
	}
	if tie < 0 || !f.Shape(tie).Placed || !sh.Placed {
		return foot
	}
	level := f.Point(tie, 0).Z
	a, b := f.Point(rafter, 0), f.Point(rafter, sh.Length)
	if a.Z == b.Z {
		return foot
	}
	s := (level - a.Z) / (b.Z - a.Z) * sh.Length
	if math.Abs(s-foot) < tieAtFoot { // a joist nailed beside the foot ties at the foot
		return foot
	}
	return min(max(0, s), sh.Length)
}

const tieAtFoot = 300 // mm along the rafter

func (f *Frame) supportsAt(piece int32) []Support {
	s, _ := f.SupportsOf(piece)
	return s
}

// hangTies gives a tie or collar that names no support of its own the two rafters that it joins: its weight and what
// it carries hang from them.
func (f *Frame) hangTies() {
	var extra []Support
	for i := range f.Couples {
		c := &f.Couples[i]
		for _, t := range c.Ties {
			if t.Piece < 0 || len(f.Member(t.Piece).Supports) > 0 || f.Member(t.Piece).Ground {
				continue
			}
			sh := f.Shape(t.Piece)
			if !sh.Known {
				continue
			}
			ends := [2]float64{0, sh.Length}
			if sh.Placed && norm(sub(f.Point(t.Piece, 0), f.Point(c.Rafters[0], t.At[0]))) >
				norm(sub(f.Point(t.Piece, sh.Length), f.Point(c.Rafters[0], t.At[0]))) {
				ends[0], ends[1] = ends[1], ends[0]
			}
			for side, rafter := range c.Rafters {
				extra = append(extra, Support{Piece: t.Piece, Document: -1, On: rafter, At: ends[side], OnAt: t.At[side],
					Placed: sh.Placed && f.Shape(rafter).Placed})
			}
		}
	}
	f.insert(extra)
}

// bedRidgeBoards lays a ridge board that names no support on the heads of the couples that meet along it: a board
// carries no load between them, so each pair takes the weight of the length nearest to it, half on either rafter.
func (f *Frame) bedRidgeBoards() {
	var extra []Support
	for i := range f.Pieces {
		piece := int32(i)
		m, sh := f.Member(piece), f.Shape(piece)
		if m.Role != model.RoleRidgeBoard || len(m.Supports) > 0 || !sh.Placed {
			continue
		}
		heads := f.headsAlong(piece)
		for k, h := range heads {
			from, to := 0.0, sh.Length
			if k > 0 {
				from = (heads[k-1].at + h.at) / 2
			}
			if k+1 < len(heads) {
				to = (h.at + heads[k+1].at) / 2
			}
			half := (from + to) / 2
			for side, stretch := range [2][2]float64{{from, half}, {half, to}} {
				extra = append(extra, Support{Piece: piece, Document: -1, On: h.couple.Rafters[side], At: h.at,
					OnAt: f.Supports[h.couple.Heads[side]].At, From: stretch[0], To: stretch[1], Continuous: true, Placed: true})
			}
		}
	}
	f.insert(extra)
}

// LeanAcross is the rafters that lean against each other across a ridge board, whether it rests on their heads or on supports of its
// own: what is cut against it and does not land on it.
func (f *Frame) LeanAcross(board int32) []int32 {
	if f.Member(board).Role != model.RoleRidgeBoard || !f.Shape(board).Placed {
		return nil
	}
	var out []int32
	for _, h := range f.headsAlong(board) {
		out = append(out, h.couple.Rafters[:]...)
	}
	return out
}

// head is where a couple meets along a ridge board.
type head struct {
	at     float64 // along the board, mm
	couple *Couple
}

// headsAlong is the couples that meet along a board, in order.
func (f *Frame) headsAlong(board int32) []head {
	var heads []head
	for k := range f.Couples {
		c := &f.Couples[k]
		if !f.Shape(c.Rafters[0]).Placed {
			continue
		}
		p := f.Point(c.Rafters[0], f.Supports[c.Heads[0]].At)
		met, past := nearest(f.Shape(board), f.offset(board), p)
		if met.distance < coupleGap && past < coupleGap && math.Abs(met.level) < coupleGap {
			heads = append(heads, head{met.t, c})
		}
	}
	slices.SortStableFunc(heads, func(a, b head) int { return cmp.Compare(a.at, b.at) })
	return heads
}

// insert adds implied supports, keeping those of one piece together.
func (f *Frame) insert(extra []Support) {
	if len(extra) == 0 {
		return
	}
	slices.SortStableFunc(extra, func(a, b Support) int { return cmp.Compare(a.Piece, b.Piece) })
	out := make([]Support, 0, len(f.Supports)+len(extra))
	moved := make([]int32, len(f.Supports))
	for i := range f.Pieces {
		own, from := f.SupportsOf(int32(i))
		start := int32(len(out))
		for k := range own {
			moved[from+int32(k)] = int32(len(out))
			out = append(out, own[k])
		}
		for len(extra) > 0 && extra[0].Piece == int32(i) {
			out = append(out, extra[0])
			extra = extra[1:]
		}
		f.Pieces[i].support = start // SupportsOf has read the old start of this piece and of the next
	}
	f.Supports = out
	for i := range f.Couples {
		for side := range f.Couples[i].Heads {
			f.Couples[i].Heads[side] = moved[f.Couples[i].Heads[side]]
		}
	}
}
