package cutting

import (
	"math"

	"example.com/scantling/model"
)

// crossing is where the line of a piece passes the axis of another member, seen in plan.
type crossing struct {
	mark    string
	ahead   float64 // from the point asked about, along the direction asked about, mm
	past    float64 // how far beyond the end of the other's axis, mm
	sin     float64 // of the angle between the two
	half    float64 // half the breadth of the other, mm
	level   float64 // of the other's axis there, mm
	left    bool    // the other's face runs on to the left, looking along the direction asked about
	beside  bool    // the piece is held at its side
	bearing float64 // length of bearing on its top, mm
}

const (
	parallel = 0.05 // sine of an angle below which two axes run along each other
	endReach = 60.0 // mm beyond a member's body that an end may lie from it and still belong to it
	pastEnd  = 300.0
	boardGap = 250.0 // mm in level between the heads of a couple and the board between them
)

// meeting is what holds a piece at an end, or nil. out is the direction in plan away from the piece.
func meeting(doc *model.Document, m *model.Member, end model.Point, outX, outY float64, which int) *crossing {
	var best *crossing
	for i := range m.Supports {
		s := &m.Supports[i]
		var c crossing
		ok := false
		switch {
		case s.Against != "":
			c, ok = board(doc, end, outX, outY)
		case !s.Continuous:
			if c, ok = cross(doc.Member(s.On), end, outX, outY); ok {
				c.mark, c.bearing = s.On, s.Bearing.Value
				c.beside = beside(s, m, doc.Member(s.On), end.Z-c.level)
			}
		}
		if !ok || math.Abs(c.ahead) > c.half/c.sin+endReach || c.past > pastEnd {
			continue
		}
		if best == nil || math.Abs(c.ahead) < math.Abs(best.ahead) {
			found := c
			best = &found
		}
	}
	return best
}

// beside says whether a support holds the side of a piece's end, and not its underside: in a hanger, or fixed to a
// member whose depth it overlaps.
func beside(s *model.Support, m, on *model.Member, level float64) bool {
	switch s.By {
	case "hanger":
		return true
	case "bolted", "welded", "nailed":
		depth := m.Section.Depth / 2
		if on.Section != nil {
			depth += on.Section.Depth / 2
		}
		return math.Abs(level) < depth-1
	}
	return false
}

// board is the ridge board between the heads of a couple.
func board(doc *model.Document, head model.Point, outX, outY float64) (crossing, bool) {
	for i := range doc.Members {
		if m := &doc.Members[i]; m.Role == model.RoleRidgeBoard {
			c, ok := cross(m, head, outX, outY)
			if ok && math.Abs(c.ahead) < boardGap && math.Abs(c.level-head.Z) < boardGap && c.past < pastEnd {
				c.mark, c.beside = m.Mark, true
				return c, true
			}
		}
	}
	return crossing{}, false
}

// cross is where a line in plan, from p in the unit direction (dx, dy), passes a member's axis: of several stretches
// and pieces, within their length rather than past it, and nearer rather than further.
func cross(on *model.Member, p model.Point, dx, dy float64) (crossing, bool) {
	best, found := crossing{past: math.Inf(1)}, false
	if on == nil {
		return best, false
	}
	for i := 0; i+1 < len(on.Path); i++ {
		a, b := on.Path[i], on.Path[i+1]
		vx, vy := b.X-a.X, b.Y-a.Y
		l := math.Hypot(vx, vy)
		if l < 1 {
			continue
		}
		vx, vy = vx/l, vy/l
		det := dx*vy - dy*vx
		if math.Abs(det) < parallel {
			continue
		}
		ahead := func(k float64) (t, u float64) {
			qx, qy := a.X+k*on.Repeat.Step.X-p.X, a.Y+k*on.Repeat.Step.Y-p.Y
			return (qx*vy - qy*vx) / det, (qx*dy - qy*dx) / det
		}
		for _, k := range candidates(on, ahead) {
			t, u := ahead(k)
			c := crossing{ahead: t, past: max(0, -u, u-l), sin: math.Abs(det), half: halfBreadth(on), left: det*(dx*vx+dy*vy) > 0,
				level: a.Z + k*on.Repeat.Step.Z + (b.Z-a.Z)*min(1, max(0, u/l))}
			if !found || c.past < best.past-1 || c.past < best.past+1 && math.Abs(c.ahead) < math.Abs(best.ahead) {
				best, found = c, true
			}
		}
	}
	return best, found
}

// candidates are the pieces of a run that a line may pass: those next to where its start lies.
func candidates(on *model.Member, ahead func(k float64) (t, u float64)) []float64 {
	last := float64(on.Pieces() - 1)
	if last == 0 {
		return []float64{0}
	}
	t0, u0 := ahead(0)
	t1, u1 := ahead(1)
	k := 0.0
	switch {
	case math.Abs(t1-t0) > 1e-6:
		k = -t0 / (t1 - t0)
	case math.Abs(u1-u0) > 1e-6:
		k = -u0 / (u1 - u0)
	}
	k = min(last, max(0, k))
	return []float64{math.Floor(k), math.Ceil(k)}
}

// halfBreadth is half the width in plan of a member's body.
func halfBreadth(m *model.Member) float64 {
	switch {
	case m.Width.Known:
		return m.Width.Value / 2
	case m.Section == nil:
		return 0
	}
	return m.Section.Breadth() / 2
}
