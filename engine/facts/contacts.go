package facts

import (
	"iter"
	"math"
	"slices"

	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// meetings is the piece's own supports that hold it, then what lands on it.
func (w *batchWriter) meetings(piece int32) iter.Seq2[int32, bool] {
	return func(yield func(support int32, landing bool) bool) {
		supports, from := w.fr.SupportsOf(piece)
		for k := range supports {
			if supports[k].Holds() && !yield(from+int32(k), false) {
				return
			}
		}
		upright := w.fr.Shape(piece).Upright
		for _, i := range w.fr.LandingsOn(piece) {
			if s := &w.fr.Supports[i]; !s.Continuous && s.OnAt >= 0 && !upright && !yield(i, true) {
				return
			}
		}
	}
}

// contacts adds the places where the piece meets others.
func (w *batchWriter) contacts(piece int32) {
	var own []float64
	for i, landing := range w.meetings(piece) {
		if !landing {
			own = append(own, w.fr.Supports[i].At)
		}
	}
	for i, landing := range w.meetings(piece) {
		w.contact(piece, i, landing, own)
	}
}

// contact adds one place where the piece meets another.
func (w *batchWriter) contact(piece, support int32, landing bool, own []float64) {
	c := &w.b.Contacts
	s := &w.fr.Supports[support]
	sh := w.fr.Shape(piece)
	var row restRow
	w.f.work.rest(&row, support)
	said := &model.Support{By: "lapped"} // an implied support is the lap of a tie or a board
	if s.Document >= 0 {
		said = &row.m.Supports[s.Document]
	}
	at, number, by := s.At, s.Document, said.By
	under := kindOf(w.f.work, w.fr.Pieces[s.On].Member)
	length, width, _ := row.contact()
	if landing {
		at, number, by = s.OnAt, -1, row.pressesAs(said.By)
		under = kindOf(w.f.work, w.fr.Pieces[s.Piece].Member)
		length, width = landingFace(&row, length, width)
	}
	c.At, c.Landing, c.Support = append(c.At, at), append(c.Landing, landing), append(c.Support, number)
	c.Length, c.Width = append(c.Length, length), append(c.Width, width)
	c.Underside, c.By = append(c.Underside, w.word(under)), append(c.By, w.word(by))
	seat := said.Seat
	if seat == nil {
		seat = &model.Seat{}
	}
	c.SeatKind = append(c.SeatKind, w.word(seat.Kind))
	c.SeatAlong, c.SeatAcross = append(c.SeatAlong, seat.Along.Value), append(c.SeatAcross, seat.Across.Value)
	c.SeatHigh, c.SeatStress = append(c.SeatHigh, seat.High.Value), append(c.SeatStress, seat.Strength.Value)
	w.wall(&row, landing)
	c.ToEnd = append(c.ToEnd, max(0, min(at, sh.Length-at)-length/2))
	next := math.Inf(1)
	for _, o := range own {
		if d := math.Abs(o - at); d > 1 {
			next = min(next, d)
		}
	}
	if math.IsInf(next, 1) {
		next = -1
	}
	c.ToNext = append(c.ToNext, next)
	off := s.Eccentric
	if !landing && row.on.Role == model.RoleWall {
		off = w.f.work.offCentre(support)
	}
	c.Eccentric = append(c.Eccentric, off)
	notch := said.Notch
	if notch == nil || landing {
		notch = &model.Notch{}
	}
	c.NotchDepth, c.NotchFace = append(c.NotchDepth, notch.Depth.Value), append(c.NotchFace, w.word(notch.Face.String()))
	c.NotchSlope, c.NotchX = append(c.NotchSlope, notch.Slope.Value), append(c.NotchX, notch.ToReaction.Or(length/2))
}

// reactions adds what is pushed at each place where the piece meets another, in every combination.
func (w *batchWriter) reactions(e *statics.Effects, piece int32) {
	c := &w.b.Contacts
	for i, landing := range w.meetings(piece) {
		index := -1 // among the supports of the effects
		if !landing {
			index = slices.Index(e.Supports, i)
		}
		for k := range w.f.Source.Combinations {
			comb := &w.f.Source.Combinations[k]
			var down, up, along float64
			if index >= 0 {
				hi, lo, a := e.Reaction(comb, index)
				down, up, along = hi, -lo, math.Abs(a)
				if !e.Moves() { // what may stand anywhere may all come down here
					down += w.t.Moving(w.fr.Pieces[piece].Member, comb)
				}
			} else {
				down, up, along = w.press(comb, i)
				along = math.Abs(along)
			}
			c.Down, c.Up, c.Along = append(c.Down, max(0, down)), append(c.Up, max(0, up)), append(c.Along, along)
		}
	}
}

// press is a support's reaction in a combination by its cases, with what may stand anywhere on its piece, or on a rafter that leans on
// that, where it is worst.
func (w *batchWriter) press(k *region.Combination, support int32) (down, up, along float64) {
	down, up, along = w.f.work.caseReaction(k, support)
	piece := w.fr.Supports[support].Piece
	if !w.t.Roams(piece) {
		return down, up, along
	}
	class := w.f.Classes.Of[piece]
	roaming, known := w.roaming[class]
	if !known {
		roaming = w.beside.Roaming(w.f.Classes.First[class])
		w.roaming[class] = roaming
	}
	_, first := w.fr.SupportsOf(piece)
	p := roaming.Push(k, int(support-first))
	return down + p.Up, up - p.Down, along + p.Along
}

// pressesAs is how what lands on a piece is held to it: the foot of an upright member stands on it, whatever fixes it there.
func (r *restRow) pressesAs(by string) string {
	const foot = 1 // mm
	if r.sh.Upright && r.sh.At(r.s.At).Z-min(r.sh.Points[0].Z, r.sh.Points[len(r.sh.Points)-1].Z) < foot {
		return "seat"
	}
	return by
}

// landingFace is the contact of what lands on a piece, along and across the piece that carries it.
func landingFace(r *restRow, length, width float64) (along, across float64) {
	if r.sh.Upright {
		return length, width
	}
	// What crosses the piece bears over its own breadth along it, and over its length of bearing across it.
	cross := math.Abs(r.sh.DirX*r.onSh.DirX + r.sh.DirY*r.onSh.DirY)
	if cross < math.Sqrt2/2 {
		if b := r.onBreadth(); b > 0 {
			length = min(length, b)
		}
		return width, length
	}
	return length, width
}

// wall adds what is known of a masonry wall that a contact stands on.
func (w *batchWriter) wall(r *restRow, landing bool) {
	c, on := &w.b.Contacts, r.on
	masonry := on.More().Masonry
	if masonry == nil || landing {
		masonry = &model.Masonry{}
	}
	width, height, weight, near, far := 0.0, 0.0, 0.0, -1.0, -1.0
	var beside alongside
	if !landing && (on.Role == model.RoleWall || on.Role == model.RolePier) {
		width, height, weight = on.Width.Value, on.More().Height.Value, on.More().Weight.Value
		near, far = w.f.work.roomAlong(r.index)
		beside = w.f.work.beside(r.index)
	}
	for k := range w.t.Cases {
		load, turn := 0.0, 0.0
		if beside.load != nil {
			load, turn = beside.load[k], beside.turn[k]
		}
		c.CaseBeside, c.CaseTurn = append(c.CaseBeside, load), append(c.CaseTurn, turn)
	}
	c.WallWeight, c.WallLeaf = append(c.WallWeight, weight), append(c.WallLeaf, w.word(masonry.Leaf))
	c.AlongWall, c.BesideUnknown = append(c.AlongWall, !landing && r.alongIt()), append(c.BesideUnknown, w.word(beside.why))
	c.WallWidth, c.WallHeight = append(c.WallWidth, width), append(c.WallHeight, height)
	c.WallUnit, c.WallGroup = append(c.WallUnit, w.word(masonry.Unit)), append(c.WallGroup, int32(masonry.Group))
	c.WallUnitF, c.WallMortar = append(c.WallUnitF, masonry.Strength.Value), append(c.WallMortar, masonry.Mortar.Value)
	c.WallClass, c.ToWallEnd = append(c.WallClass, w.word(masonry.Class)), append(c.ToWallEnd, near)
	c.ToWallFar = append(c.ToWallFar, far)
}
