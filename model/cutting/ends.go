package cutting

import (
	"math"

	"example.com/scantling/model"
)

// stretch is one straight length of an axis.
type stretch struct {
	from, to model.Point
	plan     float64 // mm
	length   float64 // mm
	slope    float64 // to the level, radians, never below 0
	x, y     float64 // unit direction in plan, from first to last; zero when upright
}

func newStretch(from, to model.Point) stretch {
	st := stretch{from: from, to: to, plan: math.Hypot(to.X-from.X, to.Y-from.Y)}
	rise := to.Z - from.Z
	st.length = math.Hypot(st.plan, rise)
	st.slope = math.Atan2(math.Abs(rise), st.plan)
	if st.upright() {
		return st
	}
	st.x, st.y = (to.X-from.X)/st.plan, (to.Y-from.Y)/st.plan
	return st
}

// upright is of posts: within a degree or so of the plumb line.
func (st *stretch) upright() bool { return st.plan < 0.02*st.length }

// end works out the cut at the first (0) or last (1) end of a stretch. An inner end, at a crank, is a mitre.
func (st *stretch) end(doc *model.Document, m *model.Member, which int, outer bool, path []model.Point, i int) End {
	if !outer {
		return End{Cut: Mitre, Face: bend(path[i-1+which], path[i+which], path[i+1+which]) / 2}
	}
	if st.upright() {
		return End{Cut: Square}
	}
	e := End{Cut: Square}
	if st.slope > flat {
		e.Cut, e.Face = Plumb, st.slope
	}
	at, outX, outY := st.from, -st.x, -st.y
	if which == 1 {
		at, outX, outY = st.to, st.x, st.y
	}
	c := meeting(doc, m, at, outX, outY, which)
	if c == nil {
		return e
	}
	cos := math.Cos(st.slope)
	switch {
	case c.beside:
		e.Against = c.mark
		e.Short = (c.half/c.sin - c.ahead) / cos
		if skew := math.Acos(min(1, c.sin)); skew > flat {
			e.Bevel, e.Left = skew, c.left == (which == 1)
			e.Edge = math.Atan(cos * c.sin / math.Sqrt(max(1e-12, 1-c.sin*c.sin)))
		}
	case c.bearing > 0 && st.slope < flat:
		e.Short = c.half/c.sin - c.ahead - c.bearing
	}
	return e
}

// tip is how far the longest point of an end lies beyond the axis's cut, mm.
func (st *stretch) tip(s *model.Section, e End) float64 {
	tip := s.Depth / 2 * math.Tan(e.Face)
	if e.Bevel > 0 {
		tip += s.Breadth() / float64(max(1, s.Plies)) / 2 * math.Tan(e.Bevel) / math.Cos(st.slope)
	}
	return tip
}

// seats are the birdsmouths of the supports on the stretch; along is where it begins on the member's axis, and short
// how much its first end is cut back.
func (st *stretch) seats(doc *model.Document, m *model.Member, along, short float64) []Seat {
	if st.slope < flat || st.upright() {
		return nil
	}
	var out []Seat
	for i := range m.Supports {
		s := &m.Supports[i]
		if s.Notch == nil || !s.Notch.Depth.Known {
			continue
		}
		at := s.At.Value - along
		if !s.At.Known {
			c, ok := cross(doc.Member(s.On), st.from, st.x, st.y)
			if !ok {
				continue
			}
			at = c.ahead / math.Cos(st.slope)
		}
		if at < 0 || at > st.length {
			continue
		}
		out = append(out, Seat{On: s.On, At: at - short, Depth: s.Notch.Depth.Value, Plumb: st.slope, Level: math.Pi/2 - st.slope})
	}
	return out
}

// backing is the angle of the bevels along the top of a hip or valley, to the level: that of the roof planes where they
// meet, worked out from the eave that the foot rests on.
func (st *stretch) backing(doc *model.Document, m *model.Member) model.Quantity {
	if m.Role != model.RoleHipRafter && m.Role != model.RoleValleyRafter || st.upright() {
		return model.Quantity{}
	}
	for i := range m.Supports {
		on := doc.Member(m.Supports[i].On)
		if on == nil || on.Role != model.RoleWallPlate {
			continue
		}
		if c, ok := cross(on, st.from, st.x, st.y); ok && c.sin < 0.999 {
			return model.Given(math.Atan(math.Sin(st.slope) * math.Sqrt(1-c.sin*c.sin) / c.sin))
		}
	}
	return model.Quantity{}
}

// bend is the angle by which an axis turns at its middle point.
func bend(a, b, c model.Point) float64 {
	u, v := model.Point{X: b.X - a.X, Y: b.Y - a.Y, Z: b.Z - a.Z}, model.Point{X: c.X - b.X, Y: c.Y - b.Y, Z: c.Z - b.Z}
	x, y, z := u.Y*v.Z-u.Z*v.Y, u.Z*v.X-u.X*v.Z, u.X*v.Y-u.Y*v.X
	return math.Atan2(math.Sqrt(x*x+y*y+z*z), u.X*v.X+u.Y*v.Y+u.Z*v.Z)
}
