package facts

import (
	"encoding/binary"
	"hash/maphash"
	"math"
	"slices"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// Classes are the pieces that are equal in every respect that strength depends on, whatever their members are called:
// each class is judged once.
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

// piecesAtATime is how many pieces one goroutine signs at a time.
const piecesAtATime = 4096

// classify groups equal pieces. Signatures of 64 bits stand for the pieces themselves: among a million, two that differ
// have the same with a chance of one in forty million.
func (w *work) classify() {
	if w.Source.Base != nil {
		w.classifyOver()
		return
	}
	seed := maphash.MakeSeed()
	members := make([]signed, len(w.doc.Members))
	inParts(len(members), piecesAtATime, func() func(_, from, to int) {
		s := newSigner(w, seed, nil)
		return func(_, from, to int) {
			for i := from; i < to; i++ {
				members[i] = signed{s.member(int32(i)), s.other(int32(i))}
			}
		}
	})
	pieces := make([]uint64, len(w.frame.Pieces))
	inParts(len(pieces), piecesAtATime, func() func(_, from, to int) {
		s := newSigner(w, seed, members)
		return func(_, from, to int) {
			for i := from; i < to; i++ {
				_, pieces[i] = s.piece(int32(i))
			}
		}
	})
	seen := map[uint64]int32{}
	w.Classes.Of = make([]int32, len(pieces))
	for i, signature := range pieces {
		class, ok := seen[signature]
		if !ok {
			class = w.Classes.begin(int32(i))
			seen[signature] = class
		}
		w.Classes.put(int32(i), class)
	}
	w.Classes.sort()
	w.summary = make([]summary, len(w.Classes.First))
	w.Filled.signed = signatures{seed, seen, members}
}

// begin makes a class of a first piece.
func (c *Classes) begin(piece int32) int32 {
	c.First, c.Count = append(c.First, piece), append(c.Count, 0)
	return int32(len(c.First) - 1)
}

// put adds a piece to a class.
func (c *Classes) put(piece, class int32) {
	c.Of[piece] = class
	c.Count[class]++
}

// signatures find a class by the signature of its pieces.
type signatures struct {
	seed    maphash.Seed
	classes map[uint64]int32
	members []signed
}

// signed is the signatures of a member: of what its pieces share, and of what others see of it.
type signed struct{ own, seen uint64 }

// signer makes the signatures of members and pieces.
type signer struct {
	w       *work
	members []signed
	analyst *statics.Analyst
	hash    maphash.Hash
	rest    restRow
}

func newSigner(w *work, seed maphash.Seed, members []signed) *signer {
	s := &signer{w: w, members: members, analyst: w.down.NewAnalyst()}
	s.hash.SetSeed(seed)
	return s
}

// Grains are what numbers are rounded to before they are held against each other, so that rounding does not part
// equals: below the sixth digit of anything that a report prints. They are odd, so that no round figure falls between two.
const (
	grainLength = 0.97e-4 // mm
	grainForce  = 0.97e-3 // N
	grainLine   = 0.97e-6 // N/mm
	grainRatio  = 0.97e-9
)

func (s *signer) number(grain float64, values ...float64) {
	var b [8]byte
	for _, v := range values {
		binary.LittleEndian.PutUint64(b[:], math.Float64bits(math.Round(v/grain)+0)) // a negative zero is a zero
		s.hash.Write(b[:])
	}
}

func (s *signer) whole(values ...int) {
	var b [8]byte
	for _, v := range values {
		binary.LittleEndian.PutUint64(b[:], uint64(v))
		s.hash.Write(b[:])
	}
}

func (s *signer) truth(values ...bool) {
	for _, v := range values {
		if v {
			s.hash.WriteByte(1)
		} else {
			s.hash.WriteByte(0)
		}
	}
}

// text ends each text, so that two do not run into each other.
func (s *signer) text(values ...string) {
	for _, v := range values {
		s.hash.WriteString(v)
		s.hash.WriteByte(0xff)
	}
}

func (s *signer) quantity(grain float64, values ...model.Quantity) {
	for _, q := range values {
		s.truth(q.Known)
		s.number(grain, q.Value)
	}
}

func (s *signer) hold(values ...model.Hold) {
	for _, h := range values {
		s.truth(h.Said, h.Full)
		s.number(grainLength, h.Spacing)
	}
}

func (s *signer) seat(seat *model.Seat) {
	if s.truth(seat != nil); seat != nil {
		s.text(seat.Kind)
		s.quantity(grainLength, seat.Along, seat.Across, seat.High)
		s.quantity(grainRatio, seat.Strength)
	}
}

// member signs what all pieces of a member share.
func (s *signer) member(i int32) uint64 {
	w := s.w
	row := memberRow{w: w, index: i, m: &w.doc.Members[i], d: w.doc.Members[i].More(), sh: &w.frame.Shapes[i]}
	m, d := row.m, row.d
	s.hash.Reset()
	s.text(string(m.Role), m.Grade, m.Condition, d.PliesJoined, d.Treated, row.carriesKind().v, m.LoadAt.String())
	maphash.WriteComparable(&s.hash, m.Section) // equal sections of a document are one
	stiffness := w.down.Stiffness(i)
	s.number(1, stiffness.EA, stiffness.EI)
	s.truth(m.Thrust, m.Ground, m.InRun(), row.mayCarryBrittle())
	s.whole(serviceClass(w.doc, m), row.blockingRows(), len(d.Notches), len(d.Holes))
	s.number(grainLength, row.spacing(), row.deck().v)
	s.movers(i)
	s.hold(m.Restraint.Top, m.Restraint.Bottom, d.Held.Depth, d.Held.Width)
	for k := range d.Notches {
		n := &d.Notches[k]
		s.quantity(grainLength, n.At, n.Depth, n.Length)
		s.text(n.Face.String())
	}
	for k := range d.Holes {
		s.quantity(grainLength, d.Holes[k].At, d.Holes[k].Diameter, d.Holes[k].Edge)
	}
	for k := range m.Supports {
		said := &m.Supports[k]
		s.text(said.By)
		s.truth(said.Horizontal, said.Fixed, said.Notch != nil)
		s.seat(said.Seat)
		if n := said.Notch; n != nil {
			s.quantity(grainLength, n.Depth, n.ToReaction)
			s.quantity(grainRatio, n.Slope)
			s.text(n.Face.String())
		}
	}
	s.shape(row.sh)
	return s.hash.Sum64()
}

func (s *signer) shape(sh *frame.Shape) {
	s.truth(sh.Known, sh.Upright)
	s.whole(sh.Kinks, sh.KinksPlan, len(sh.S))
	s.number(grainLength, sh.Length)
	s.number(grainLength, sh.S...)
	for k := 1; k < len(sh.S); k++ {
		at := (sh.S[k-1] + sh.S[k]) / 2
		cos, sin := sh.SlopeAt(at)
		x, y := sh.Direction(at)
		s.number(grainRatio, cos, sin, x*sh.DirX+y*sh.DirY, x*sh.DirY-y*sh.DirX)
	}
}

// other signs what a piece sees of a member that it meets.
func (s *signer) other(i int32) uint64 {
	m := &s.w.doc.Members[i]
	s.hash.Reset()
	s.text(string(m.Role), kindOf(s.w, i))
	s.quantity(grainLength, m.Width, m.More().Height)
	s.quantity(grainLine, m.More().Weight)
	if masonry := m.More().Masonry; masonry != nil {
		s.text(masonry.Unit, masonry.Class)
		s.whole(masonry.Group)
		s.text(masonry.Leaf)
		s.quantity(grainRatio, masonry.Strength, masonry.Mortar)
	}
	return s.hash.Sum64()
}

// piece signs a piece: first all but what stands beside it on walls, on which nothing depends that acts inside it, then the
// whole. What stands on the ground and rests on nothing is told apart by nothing.
func (s *signer) piece(piece int32) (inside, whole uint64) {
	w, f := s.w, s.w.frame
	s.hash.Reset()
	supports, from := f.SupportsOf(piece)
	if f.Member(piece).Ground && len(supports) == 0 {
		return s.hash.Sum64(), s.all(s.hash.Sum64(), piece)
	}
	sh := f.Shape(piece)
	s.whole(int(s.members[f.Pieces[piece].Member].own), len(supports))
	s.text(w.down.Unsolved(piece))
	for k := range supports {
		s.support(from+int32(k), sh)
	}
	for _, i := range f.LandingsOn(piece) {
		switch l := &f.Supports[i]; {
		case sh.Upright: // it counts by how far it stands from the axis
			s.number(grainLength, l.Eccentric)
			s.reactions(i, f.Shape(l.Piece))
			s.moving(l.Piece)
		case !l.Continuous && l.OnAt >= 0:
			s.landing(i)
		}
	}
	for kase, loads := range s.analyst.Acting(piece) {
		for i := range loads {
			l := &loads[i]
			s.whole(kase)
			s.number(grainLength, l.From, l.To)
			if l.To > l.From {
				s.number(grainLine, l.U0, l.U1, l.Z0, l.Z1)
			} else {
				s.number(grainForce, l.U0, l.Z0, l.Moment)
			}
		}
	}
	if c := f.CoupleOf(piece); c != nil {
		for _, t := range c.Ties {
			if s.truth(t.Piece >= 0); t.Piece >= 0 {
				s.number(grainForce, w.down.Tension(t.Piece)...)
				for _, i := range f.CouplesTiedBy(t.Piece) {
					if other := &f.Couples[i]; other != c {
						s.leaning(other)
					}
				}
			}
		}
		s.leaning(c)
	}
	for _, i := range f.CouplesTiedBy(piece) {
		s.leaning(&f.Couples[i])
	}
	inside = s.hash.Sum64()
	return inside, s.all(inside, piece)
}

// all signs a piece by what acts inside it and by what stands beside it on walls.
func (s *signer) all(inside uint64, piece int32) uint64 {
	s.hash.Reset()
	s.whole(int(inside))
	supports, from := s.w.frame.SupportsOf(piece)
	for k := range supports {
		if supports[k].On >= 0 {
			beside := s.w.beside(from + int32(k))
			s.text(beside.why)
			s.number(grainLine, beside.load...)
			s.number(grainForce, beside.turn...)
		}
	}
	return s.hash.Sum64()
}

// support signs one of a piece's own supports.
func (s *signer) support(i int32, sh *frame.Shape) {
	w := s.w
	p := &w.frame.Supports[i]
	s.whole(int(p.Document), int(p.Problem))
	s.truth(p.Continuous, p.Against, p.Placed, p.On >= 0)
	s.number(grainLength, p.At, p.Eccentric, p.From, p.To)
	s.reactions(i, sh)
	if p.On < 0 {
		return
	}
	s.whole(int(s.members[w.frame.Pieces[p.On].Member].seen))
	w.rest(&s.rest, i)
	length, width, _ := s.rest.contact()
	end, opening := w.alongWall(i)
	s.number(grainLength, length, width, end, opening)
	near, far := w.roomAlong(i)
	s.number(grainLength, near, far)
	s.truth(s.rest.alongIt())
}

// landing signs what lands on a piece.
func (s *signer) landing(i int32) {
	w := s.w
	p := &w.frame.Supports[i]
	w.rest(&s.rest, i)
	length, width, _ := s.rest.contact()
	length, width = landingFace(&s.rest, length, width)
	s.whole(int(s.members[w.frame.Pieces[p.Piece].Member].seen))
	s.number(grainLength, p.OnAt, p.Eccentric, length, width)
	if p.Document >= 0 {
		said := &s.rest.m.Supports[p.Document]
		s.text(s.rest.pressesAs(said.By))
		s.seat(said.Seat)
	}
	s.reactions(i, s.rest.sh)
	s.moving(p.Piece)
}

// movers signs what may stand anywhere along a member.
func (s *signer) movers(member int32) {
	movers := s.w.down.Movers(member)
	s.whole(len(movers))
	s.number(grainForce, movers...)
}

// moving signs what loads that may stand anywhere on a piece, or on a rafter that leans on it, bring to its supports.
func (s *signer) moving(piece int32) {
	f := s.w.frame
	if !s.w.down.Roams(piece) {
		return
	}
	if c := f.CoupleOf(piece); c != nil {
		s.leaning(c)
	}
	s.whole(int(s.members[f.Pieces[piece].Member].own))
	supports, _ := f.SupportsOf(piece)
	for k := range supports {
		s.number(grainLength, supports[k].At)
	}
}

// leaning signs what loads that may stand anywhere on the rafters of a couple bring to its parts.
func (s *signer) leaning(c *frame.Couple) {
	f := s.w.frame
	own := func(piece int32) int { return int(s.members[f.Pieces[piece].Member].own) }
	if s.w.down.Movers(f.Pieces[c.Rafters[0]].Member) == nil && s.w.down.Movers(f.Pieces[c.Rafters[1]].Member) == nil {
		return
	}
	for _, rafter := range c.Rafters {
		s.whole(own(rafter))
		supports, _ := f.SupportsOf(rafter)
		for k := range supports {
			s.number(grainLength, supports[k].At)
		}
	}
	for _, t := range c.Ties {
		if s.truth(t.Piece >= 0); t.Piece >= 0 {
			s.whole(own(t.Piece))
			s.number(grainLength, t.At[:]...)
		}
	}
}

// reactions signs the push of a support, along the piece and across it.
func (s *signer) reactions(support int32, sh *frame.Shape) {
	for kase := range s.w.down.Cases {
		r := s.w.down.Reaction(support, kase)
		if sh.Upright {
			s.number(grainForce, r.X, r.Y, r.Z)
		} else {
			s.number(grainForce, r.X*sh.DirX+r.Y*sh.DirY, r.Y*sh.DirX-r.X*sh.DirY, r.Z)
		}
	}
}
