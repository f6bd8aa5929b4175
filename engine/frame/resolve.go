package frame

import (
	"math"

	"example.com/scantling/model"
)

// resolve makes the supports of every piece, piece by piece.
func (f *Frame) resolve() {
	for i := range f.Pieces {
		piece := int32(i)
		f.Pieces[i].support = int32(len(f.Supports))
		m := f.Member(piece)
		for k := range m.Supports {
			s := Support{Piece: piece, Document: int32(k), On: -1, OnAt: -1}
			f.place(&s, m, &m.Supports[k])
			f.Supports = append(f.Supports, s)
		}
	}
}

// place fills a support from what the document says and what the geometry shows.
func (f *Frame) place(s *Support, m *model.Member, said *model.Support) {
	sh := f.Shape(s.Piece)
	if said.Against != "" {
		s.Against = true
		s.At = said.At.Or(headOf(sh))
		return // the partner is found once every piece is there
	}
	target := f.Document.Index(said.On)
	switch {
	case target < 0:
		s.Problem = NamesNoMark
	case int(f.Pieces[s.Piece].Member) == target:
		s.Problem = NamesItself
	case f.first[target] == f.first[target+1]:
		s.Problem = NamesGone
	}
	if s.Problem != Sound {
		s.At = said.At.Or(endFor(sh, m, int(s.Document)))
		return
	}
	on := &f.Shapes[target]
	s.On = f.first[target]
	s.Continuous = said.Continuous
	if !sh.Placed || !on.Placed {
		f.placeBlind(s, m, said, sh)
		return
	}
	s.On = f.nearestPiece(s, int32(target), said)
	s.Placed = true
	mine, theirs := f.offset(s.Piece), f.offset(s.On)
	if s.Continuous {
		f.bed(s, said, sh, on, mine, theirs)
		return
	}
	var met meeting
	if said.At.Known {
		s.At = said.At.Value
		met, s.LandsPast = nearest(on, theirs, add(sh.At(s.At), mine))
		s.BeyondEnd = max(0, -s.At, s.At-sh.Length)
	} else {
		met = meet(sh, mine, on, theirs, f.prefersEnd(m, int(s.Document)))
		s.At = met.s
		_, s.LandsPast = nearest(on, theirs, add(sh.At(s.At), mine))
	}
	s.OnAt = met.t
	s.Eccentric = met.distance
	target32 := &f.Document.Members[target]
	s.Offset = max(0, met.distance-halfBreadth(target32, on))
	s.Level = f.levelOff(m, sh, s.At, target32, on, met, said)
}

// placeBlind places a support without the geometry of both: where the document says, or at the default end.
func (f *Frame) placeBlind(s *Support, m *model.Member, said *model.Support, sh *Shape) {
	switch {
	case said.At.Known:
		s.At = said.At.Value
		if sh.Known {
			s.BeyondEnd = max(0, -s.At, s.At-sh.Length)
		}
	case s.Continuous:
	case sh.Known && (sh.Upright || len(m.Supports) <= 2):
		s.At = endFor(sh, m, int(s.Document))
	default:
		s.Problem = NoPlace
	}
	if s.Continuous {
		s.From, s.To = said.From.Or(0), said.To.Or(sh.Length)
		s.At = (s.From + s.To) / 2
	}
}

// bed finds the stretch of a piece that lies on a continuous support: what the document says of it, as far as something is
// there. Where the two do not run along each other that is no more than the breadth of what carries it.
func (f *Frame) bed(s *Support, said *model.Support, sh, on *Shape, mine, theirs model.Point) {
	from, to, ok := overlap(sh, mine, on, theirs)
	switch {
	case ok:
	case sh.Upright:
		from, to = 0, sh.Length
	default:
		met, half := meet(sh, mine, on, theirs, false), halfBreadth(f.Member(s.On), on)
		if met.distance > half { // it lies clear of what it names
			half = 0
		}
		from, to = max(0, met.s-half), min(sh.Length, met.s+half)
	}
	s.From, s.To = min(max(said.From.Or(from), from), to), min(max(said.To.Or(to), from), to)
	s.At = (s.From + s.To) / 2
	met, past := nearest(on, theirs, add(sh.At(s.At), mine))
	target := f.Member(s.On)
	s.OnAt, s.Eccentric, s.LandsPast = met.t, met.distance, past
	s.Offset = max(0, met.distance-halfBreadth(target, on))
	s.Level = f.levelOff(f.Member(s.Piece), sh, s.At, target, on, met, said)
}

// nearestPiece is the piece of a run that a support is nearest to; of pieces equally near the first or, for the last of
// several supports, the last along this piece. The run's step tells which to look at, so that a long run costs no more
// than a short one.
func (f *Frame) nearestPiece(s *Support, target int32, said *model.Support) int32 {
	from, to := f.first[target], f.first[target+1]
	if to-from == 1 {
		return from
	}
	sh, on := f.Shape(s.Piece), &f.Shapes[target]
	mine := f.offset(s.Piece)
	last := f.prefersEnd(f.Member(s.Piece), int(s.Document))
	places := sh.Points
	gap := func(k int32) meeting { return meet(sh, mine, on, f.offset(k), last) }
	if said.At.Known {
		places = []model.Point{sh.At(said.At.Value)}
		gap = func(k int32) meeting {
			m, _ := nearest(on, f.offset(k), add(places[0], mine))
			return m
		}
	}
	best, bestGap := from, gap(from)
	for _, p := range places {
		for i := range len(on.Points) - 1 {
			k := stepsTo(on, i, f.Document.Members[target].Repeat.Step, add(p, mine))
			for _, near := range [3]float64{math.Floor(k), math.Ceil(k), math.Round(k)} {
				j := from + int32(min(float64(to-from-1), max(0, near)))
				if g := gap(j); g.better(bestGap, last) {
					best, bestGap = j, g
				}
			}
		}
	}
	return best
}

// stepsTo is how many steps a run's first piece is moved until the line of one of its stretches passes a point in plan.
// Pieces that lie in line with the step, or stand upright, are counted along the step; of an upright step, by level.
func stepsTo(sh *Shape, stretch int, step, p model.Point) float64 {
	a, b := sh.Points[stretch], sh.Points[stretch+1]
	d, u := sub(p, a), sub(b, a)
	size := step.X*step.X + step.Y*step.Y
	if across := step.X*u.Y - step.Y*u.X; math.Abs(across) > inLine*math.Sqrt(size)*math.Hypot(u.X, u.Y) {
		return (d.X*u.Y - d.Y*u.X) / across
	}
	switch {
	case size > 0:
		return (d.X*step.X + d.Y*step.Y) / size
	case step.Z != 0:
		return d.Z / step.Z
	}
	return 0
}

// inLine is the sine of the angle between a run's pieces and its step below which they lie one after the other.
const inLine = 0.01

// prefersEnd says which end of a piece a support stands at where geometry leaves both: the first of its supports is at
// the start, the last of several at the end.
func (f *Frame) prefersEnd(m *model.Member, index int) bool {
	return index > 0 && index == len(m.Supports)-1
}

// endFor is the end of a piece where a support stands when nobody says: of two, one at each.
func endFor(sh *Shape, m *model.Member, index int) float64 {
	if sh.Upright || index == 0 || !sh.Known {
		return 0
	}
	return sh.Length
}

// headOf is the end of a sloping piece that is higher, mm along it.
func headOf(sh *Shape) float64 {
	if sh.Known && sh.Points[0].Z > sh.Points[len(sh.Points)-1].Z {
		return 0
	}
	return sh.Length
}

// levelOff is the difference of level at a meeting less what the two bodies make up. Hangers and flush framing are
// exempt, since they hold a member beside another; so is bare ground.
func (f *Frame) levelOff(m *model.Member, sh *Shape, at float64, on *model.Member, target *Shape, met meeting, said *model.Support) float64 {
	switch said.By {
	case "hanger", "bolted", "welded", "nailed":
		return 0
	}
	level := met.level
	if m.Role == model.RoleWall { // its path is its top; it stands on its underside
		level -= m.More().Height.Value
	}
	gap := math.Abs(level)
	gap -= halfUpright(m, sh, at) + halfUpright(on, target, met.t)
	if said.Seat != nil {
		gap -= said.Seat.High.Value
	}
	gap -= m.More().Packer.Value
	return max(0, gap)
}

// halfUpright is half a member's depth measured upright at s; 0 of walls, whose path is their top, and of posts.
func halfUpright(m *model.Member, sh *Shape, s float64) float64 {
	if m.Section == nil || sh.Upright || m.Role == model.RoleWall {
		return 0
	}
	cos, _ := sh.SlopeAt(s)
	if cos < uprightAt {
		return 0
	}
	return m.Section.Depth / 2 / cos
}

// halfBreadth is half the width in plan of a member's body.
func halfBreadth(m *model.Member, sh *Shape) float64 {
	switch {
	case m.Width.Known:
		return m.Width.Value / 2
	case m.Section == nil:
		return 0
	case sh.Upright:
		return max(m.Section.Breadth(), m.Section.Depth) / 2
	}
	return m.Section.Breadth() / 2
}
