// Package frame places a document's members in space: it expands them into pieces, finds where each piece rests, and
// orders the pieces so that what rests on something comes before it. It knows geometry and nothing of loads,
// strengths or rules; what does not fit together is recorded on the support that it concerns, never an error.
package frame

import (
	"strconv"

	"example.com/scantling/model"
)

// Stage says which members stand.
type Stage uint8

// The two stages of a job. After is what stands when the work is done, Before is what stood when it began.
const (
	After Stage = iota
	Before
)

// Frame is a document placed in space. Indices of pieces, supports and members are int32 and refer to the slices here
// and to Document.Members.
type Frame struct {
	Document *model.Document
	Stage    Stage
	Shapes   []Shape // by member
	Pieces   []Piece // in the order of their members
	Supports []Support
	Order    []int32   // pieces, each before all that it rests on; pieces in a circle are left out
	Circles  [][]int32 // members that rest on themselves, hop by hop

	first        []int32           // first piece of each member; one more at the end
	landingStart []int32           // by piece
	landings     []int32           // supports
	couple       []int32           // by piece: index into Couples, or -1
	tied         map[int32][]int32 // by tie: indices into Couples
	Couples      []Couple
}

// Piece is one physical length of a member.
type Piece struct {
	Member  int32
	Index   int32 // in its run, from 0
	support int32 // first of its supports
}

// Support is one place where a piece is held, resolved in space.
type Support struct {
	Piece      int32
	Document   int32   // index in the member's list of supports; -1 where it is implied
	On         int32   // piece that it rests on; -1 when there is none
	At         float64 // along the piece, mm
	OnAt       float64 // along what it rests on, mm; -1 where geometry does not tell
	Offset     float64 // how far in plan the axis passes the body of what it rests on, mm; 0 when within it
	Eccentric  float64 // distance in plan of the two axes, mm
	Level      float64 // difference of level less half of both depths, seat and packer, mm; 0 when they meet
	BeyondEnd  float64 // how far At lies beyond the piece's end, mm
	LandsPast  float64 // how far the place lies beyond the end of what it rests on, mm
	From, To   float64 // the stretch of the piece that is bedded, of a continuous support, mm
	Continuous bool
	Against    bool // the head of a couple: On is the opposing rafter, and nothing is carried upright
	Placed     bool // geometry of both was there to hold it against
	Problem    Problem
}

// Problem says why a support does not hold.
type Problem uint8

// What can be wrong with a support.
const (
	Sound       Problem = iota
	NamesNoMark         // the model has no such mark
	NamesGone           // what it names does not stand at this stage
	NoPlace             // neither the document nor the geometry says where it is
	NamesItself
	NoPartner // no opposing rafter in the same upright plane
)

// Assemble places a document. It never fails: what does not fit is recorded where it was found.
func Assemble(doc *model.Document, stage Stage) *Frame {
	f := &Frame{Document: doc, Stage: stage}
	f.Shapes = shapes(doc)
	f.expand()
	f.resolve()
	f.pairCouples()
	f.hangTies()
	f.bedRidgeBoards()
	f.index()
	f.sort()
	return f
}

// Stands says whether a phase is part of the stage.
func (s Stage) Stands(p model.Phase) bool {
	if s == Before {
		return p != model.New
	}
	return p != model.Removed
}

// Member is the member that a piece belongs to.
func (f *Frame) Member(piece int32) *model.Member { return &f.Document.Members[f.Pieces[piece].Member] }

// Shape is the shape of a piece, before its place in the run moves it.
func (f *Frame) Shape(piece int32) *Shape { return &f.Shapes[f.Pieces[piece].Member] }

// PiecesOf is the range of pieces that a member stands for; it is empty at a stage where the member does not stand.
func (f *Frame) PiecesOf(member int32) (from, to int32) { return f.first[member], f.first[member+1] }

// SupportsOf is a piece's supports, and the index of the first.
func (f *Frame) SupportsOf(piece int32) ([]Support, int32) {
	a, b := f.Pieces[piece].support, int32(len(f.Supports))
	if int(piece)+1 < len(f.Pieces) {
		b = f.Pieces[piece+1].support
	}
	return f.Supports[a:b], a
}

// LandingsOn is the supports of other pieces that land on a piece.
func (f *Frame) LandingsOn(piece int32) []int32 {
	return f.landings[f.landingStart[piece]:f.landingStart[piece+1]]
}

// Name is a piece's mark, with its number in the run where the mark stands for several.
func (f *Frame) Name(piece int32) string {
	p := f.Pieces[piece]
	m := &f.Document.Members[p.Member]
	if m.Pieces() == 1 {
		return m.Mark
	}
	return m.Mark + "#" + strconv.Itoa(int(p.Index)+1)
}

// Point is the place in space of s along a piece, mm.
func (f *Frame) Point(piece int32, s float64) model.Point {
	return add(f.Shape(piece).At(s), f.offset(piece))
}

// Under is the place along what carries a support that lies beneath s of the piece, mm.
func (f *Frame) Under(support int32, s float64) float64 {
	sp := &f.Supports[support]
	if !sp.Placed {
		return max(0, sp.OnAt)
	}
	met, _ := nearest(f.Shape(sp.On), f.offset(sp.On), f.Point(sp.Piece, s))
	return met.t
}

// offset is how far a piece of a run is moved from the first.
func (f *Frame) offset(piece int32) model.Point {
	p := f.Pieces[piece]
	step := f.Document.Members[p.Member].Repeat.Step
	k := float64(p.Index)
	return model.Point{X: step.X * k, Y: step.Y * k, Z: step.Z * k}
}

// expand makes the pieces of every member that stands.
func (f *Frame) expand() {
	doc := f.Document
	total, supports := 0, 0
	for i := range doc.Members {
		m := &doc.Members[i]
		if f.Stage.Stands(m.Phase) {
			total += m.Pieces()
			supports += m.Pieces() * len(m.Supports)
		}
	}
	f.Pieces = make([]Piece, 0, total)
	f.Supports = make([]Support, 0, supports)
	f.first = make([]int32, len(doc.Members)+1)
	for i := range doc.Members {
		f.first[i] = int32(len(f.Pieces))
		m := &doc.Members[i]
		if !f.Stage.Stands(m.Phase) {
			continue
		}
		for k := range m.Pieces() {
			f.Pieces = append(f.Pieces, Piece{Member: int32(i), Index: int32(k)})
		}
	}
	f.first[len(doc.Members)] = int32(len(f.Pieces))
}

// index collects what lands on each piece.
func (f *Frame) index() {
	f.landingStart = make([]int32, len(f.Pieces)+1)
	n := 0
	for i := range f.Supports {
		if s := &f.Supports[i]; s.carries() {
			f.landingStart[s.On+1]++
			n++
		}
	}
	for i := range f.Pieces {
		f.landingStart[i+1] += f.landingStart[i]
	}
	f.landings = make([]int32, n)
	next := append([]int32(nil), f.landingStart...)
	for i := range f.Supports {
		if s := &f.Supports[i]; s.carries() {
			f.landings[next[s.On]] = int32(i)
			next[s.On]++
		}
	}
}

// carries says whether load goes down through the support.
func (s *Support) carries() bool { return s.On >= 0 && !s.Against }

// Holds says whether the support holds its piece upright.
func (s *Support) Holds() bool { return s.carries() && s.Problem == Sound }
