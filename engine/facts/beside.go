package facts

import (
	"fmt"
	"sync"

	"example.com/scantling/model"
)

// stood is what stands on a masonry wall.
type stood struct {
	once sync.Once
	why  string // why it is not known
	wall *spread
}

// standOn makes room for every masonry wall that something stands on at one place; what stands there is worked out when it is
// first asked for.
func (w *work) standOn() {
	w.stood = map[int32]*stood{}
	for i := range w.frame.Supports {
		s := &w.frame.Supports[i]
		if !s.Holds() || s.Continuous || w.stood[s.On] != nil {
			continue
		}
		if m := w.frame.Member(s.On); m.Role == model.RoleWall && kindOf(w, w.frame.Pieces[s.On].Member) == "masonry" {
			w.stood[s.On] = &stood{}
		}
	}
}

// alongside is the most that the wall under a support carries per length at mid-height besides that support's own push, within
// the reach of that push: by case, N/mm, and how that turns the wall out of its plane, N mm/mm. There is none where it stands on
// no masonry wall or the wall's height is not stated. why says that it cannot be told, or that nothing under the support
// carries it down.
type alongside struct {
	load, turn []float64
	why        string
}

// beside works out what stands beside a support. What comes from a wall above spreads from where it lands only.
func (w *work) beside(support int32) alongside {
	s := &w.frame.Supports[support]
	if !s.Holds() || s.Continuous {
		return alongside{}
	}
	m := w.frame.Member(s.On)
	if m.Role == model.RolePier {
		return alongside{why: "it stands on the pier " + m.Mark + ", which states a width and no length: draw the pier as a wall of that length"}
	}
	on := w.stood[s.On]
	if on == nil || !s.Placed {
		return alongside{}
	}
	on.once.Do(func() { w.stand(s.On, on) })
	switch o := openingAt(m, s.OnAt); {
	case on.why != "":
		return alongside{why: on.why}
	case o != nil:
		return alongside{why: fmt.Sprintf("it stands over the opening from %.0f to %.0f mm along %s: let it rest on the lintel there, and the lintel on the wall",
			o.From.Value, o.To.Value, m.Mark)}
	case on.wall == nil:
		return alongside{}
	}
	reach, ok := on.wall.reach(s.OnAt, w.foot(support))
	if !ok {
		return alongside{why: "nothing of " + m.Mark + " is left between its openings where it stands"}
	}
	cases, off := len(w.down.Cases), w.offCentre(support)
	out := alongside{load: make([]float64, cases), turn: make([]float64, cases)}
	for c := range cases {
		mine := max(0, w.down.Reaction(support, c).Z) / reach.length()
		out.load[c] = without(on.wall.loads[c].most(reach), mine)
		out.turn[c] = without(on.wall.turns[c].most(reach), mine*off)
	}
	return out
}

// without is what is left of a sum without one of its parts; rounding leaves nothing.
func without(all, part float64) float64 {
	if rest := all - part; rest > 1e-9*all {
		return rest
	}
	return 0
}

// offCentre is how far from the middle of the leaf a support presses on a wall, mm, at least: what crosses the wall bears from one
// face of it. A length of bearing that is not stated counts as half the thickness; a hanger presses at the face.
func (w *work) offCentre(support int32) float64 {
	var r restRow
	w.rest(&r, support)
	thickness := r.on.Width.Or(0)
	if r.s.Continuous || r.s.Document < 0 || r.alongIt() {
		return r.s.Eccentric
	}
	if r.m.Supports[r.s.Document].By == "hanger" {
		return max(r.s.Eccentric, thickness/2)
	}
	bearing, _, why := r.contact()
	if why != "" {
		bearing = thickness / 2
	}
	return max(r.s.Eccentric, (thickness-bearing)/2)
}

// roomAlong is how far a wall runs on from a support on its two sides, to its ends or openings, mm: the shorter way first. Both are
// -1 where the place is not known, and 0 over an opening.
func (w *work) roomAlong(support int32) (near, far float64) {
	s := &w.frame.Supports[support]
	if s.On < 0 || s.OnAt < 0 || !s.Placed || w.frame.Member(s.On).Role != model.RoleWall {
		return -1, -1
	}
	for _, p := range panelsOf(w.frame.Member(s.On), w.frame.Shape(s.On).Length) {
		if s.OnAt >= p.from && s.OnAt <= p.to {
			return min(s.OnAt-p.from, p.to-s.OnAt), max(s.OnAt-p.from, p.to-s.OnAt)
		}
	}
	return 0, 0
}

// foot is the length along a wall that a support presses on, mm, through a padstone as through the wall; 0 where it is not stated.
func (w *work) foot(support int32) float64 {
	var r restRow
	w.rest(&r, support)
	length := r.footAlong().v
	if r.s.Document < 0 {
		return length
	}
	if seat := r.m.Supports[r.s.Document].Seat; seat != nil && (seat.Kind == "padstone" || seat.Kind == "plate") {
		return max(length, min(seat.Along.Value, length+2*spreadOver(seat.High.Value)))
	}
	return length
}

// stand works out what stands on a wall.
func (w *work) stand(piece int32, on *stood) {
	m, sh := w.frame.Member(piece), w.frame.Shape(piece)
	height := m.More().Height.Or(0)
	if on.why = w.untold(piece); on.why != "" || !(height > 0) || !sh.Known {
		return
	}
	on.wall = newSpread(m, sh.Length, height, len(w.down.Cases))
	for _, i := range w.frame.LandingsOn(piece) {
		if s := &w.frame.Supports[i]; !s.Continuous {
			on.wall.look(s.OnAt, w.foot(i))
		}
	}
	along := 0.0 // how far off the middle what lies along the wall presses, at most
	for _, i := range w.frame.LandingsOn(piece) {
		if w.frame.Supports[i].Continuous {
			along = max(along, w.offCentre(i))
		}
	}
	for _, l := range w.down.Pressing(piece) {
		if l.Support >= 0 {
			on.wall.put(l, w.foot(l.Support), w.offCentre(l.Support))
		} else {
			on.wall.put(l, 0, along)
		}
	}
	on.wall.sum()
}

// untold is why what stands on a wall is not known, or empty.
func (w *work) untold(piece int32) string {
	f := w.frame
	wall := f.Member(piece).Mark
	if lost := w.leftOut[f.Pieces[piece].Member]; lost != "" {
		return "the load on " + wall + " is not known: " + lost
	}
	for _, i := range f.LandingsOn(piece) {
		s := &f.Supports[i]
		name := f.Name(s.Piece)
		switch why := w.down.Unsolved(s.Piece); {
		case why != "":
			return fmt.Sprintf("the load on %s is not known: what %s brings to it could not be worked out: %s", wall, name, why)
		case !s.Placed || s.OnAt < 0:
			return fmt.Sprintf("the load on %s is not known: nobody says where along it %s stands; give both a path", wall, name)
		case s.Continuous:
			if above := w.untold(s.Piece); above != "" {
				return above
			}
		}
	}
	return ""
}
