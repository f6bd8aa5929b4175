package draft

import (
	"slices"

	"example.com/scantling/model"
)

// floor drafts joists along y between two walls, with doubled joists and trimmers around a stair opening.
func (b *builder) floor() {
	joist := b.section(model.RoleFloorJoist, 0)
	trim := b.double(joist)
	half, o := trim.Breadth()/2, b.Opening
	west, east := b.snap(o.At-half), b.snap(o.At+o.Width+half) // of the trimming joists' axes
	south, north := b.snap(o.Clear-half), b.snap(o.Clear+o.Run+half)
	against := o.Clear == 0
	switch {
	case o.Width < 400 || o.Run < 400:
		b.wrong("opening", "a stair opening of "+b.length(o.Width)+" by "+b.length(o.Run)+" is too small", "give at least "+b.length(400)+" each way")
	case west < b.Centres/2+half || east > b.Length-b.Centres/2-half:
		b.wrong("opening", "it leaves no room for a trimming joist beside a wall", "keep it "+b.length(b.Centres/2+2*half)+" clear of the walls at the joists' sides")
	case north > b.Width-joist.Depth-500 || !against && south < joist.Depth+500:
		b.wrong("opening", "the joists that its trimmer carries would be too short", "leave at least "+b.length(joist.Depth+500+half)+" between it and the wall that they run to")
	}
	if len(b.problems) > 0 {
		return
	}
	wall, h := b.Wall/2, b.Height
	b.wall("W1", b.point(-wall, 0, h), b.point(b.Length+wall, 0, h))
	b.wall("W2", b.point(-wall, b.Width, h), b.point(b.Length+wall, b.Width, h))
	z := h + joist.Depth/2
	runs := b.beside(0, west, east, b.Length)
	for i, r := range runs {
		m := b.joist(mark("J", i, len(runs)), joist, b.point(r.start, 0, z), b.point(r.start, b.Width, z))
		b.repeated(&m, r, alongX)
		m.Carries = b.carry("floor", r.strip)
		m.Supports = []model.Support{b.seated("W1", b.bearing()), b.seated("W2", b.bearing())}
		b.add(m)
	}
	for i, x := range []float64{west, east} {
		m := b.joist(mark("TJ", i, 2), trim, b.point(x, 0, z), b.point(x, b.Width, z))
		m.Carries = b.carry("floor", b.Centres/2)
		m.Supports = []model.Support{b.seated("W1", b.bearing()), b.seated("W2", b.bearing())}
		m.Detail.Note = "trimming joist of the stair opening"
		b.add(m)
	}
	between := evenly(west, east, b.Centres)
	b.trimmed("N", joist, trim, between, b.point(west, north, z), b.point(east, north, z), "W2", b.Width)
	if !against {
		b.trimmed("S", joist, trim, between, b.point(west, south, z), b.point(east, south, z), "W1", 0)
	}
	b.area(model.Area{ID: "floor", Kind: "floor", Category: "A", Deck: model.Given(b.snap(b.usual.deck)), Covering: b.Covering,
		Extent: b.floorExtent(west, east, south, north, against)}, b.usual.floorDead, b.usual.floorImposed, b.Loads)
}

// beside lays pieces from two trimming members outwards over a stretch, half a strip being the trimming members' own.
func (b *builder) beside(from, west, east, to float64) []run {
	left := strips(from, west-b.Centres/2, b.Centres)
	for i := range left { // mirrored, so that the narrow strip lies at the far end
		r := &left[i]
		r.start = from + west - b.Centres/2 - r.start - float64(r.count-1)*r.step
	}
	slices.Reverse(left)
	return append(left, strips(east+b.Centres/2, to, b.Centres)...)
}

// trimmed adds a trimmer and the joists from it to a wall.
func (b *builder) trimmed(side string, joist, trim *model.Section, r run, from, to model.Point, wall string, y float64) {
	t := b.joist("T"+side, trim, from, to)
	t.Role = model.RoleTrimmer
	t.Supports = []model.Support{b.hung("TJ1"), b.hung("TJ2")}
	t.Detail = nil
	b.add(t)
	m := b.joist("J"+side, joist, b.point(r.start, from.Y, from.Z), b.point(r.start, y, from.Z))
	b.repeated(&m, r, alongX)
	m.Carries = b.carry("floor", r.strip)
	m.Supports = []model.Support{b.hung("T" + side), b.seated(wall, b.bearing())}
	b.add(m)
}

// joist is a member of a floor, with the strutting that its span asks for: a row beyond 2.5 m, two beyond 4.5 m
// (common practice, no source).
func (b *builder) joist(name string, s *model.Section, from, to model.Point) model.Member {
	m := b.timber(name, model.RoleFloorJoist, s, from, to)
	m.Restraint.Top = model.Hold{Said: true, Full: true}
	m.Detail = &model.Detail{}
	span := to.Y - from.Y
	if span < 0 {
		span = -span
	}
	switch {
	case span > 4500:
		m.Detail.Blocking = []model.Blocking{{Kind: "solid", At: model.Given(b.snap(span / 3))}, {Kind: "solid", At: model.Given(b.snap(2 * span / 3))}}
	case span > 2500:
		m.Detail.Blocking = []model.Blocking{{Kind: "solid", At: model.Given(b.snap(span / 2))}}
	}
	return m
}

// bearing is that of joists on the walls.
func (b *builder) bearing() float64 { return min(b.Wall, 90) }

// floorExtent is the outline without the opening; one that touches no wall is cut out along a slit.
func (b *builder) floorExtent(west, east, south, north float64, against bool) []model.Point {
	l, w := b.Length, b.Width
	if against {
		return []model.Point{{X: 0, Y: 0}, {X: west, Y: 0}, {X: west, Y: north}, {X: east, Y: north}, {X: east, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
	}
	return []model.Point{{X: 0, Y: 0}, {X: west, Y: 0}, {X: west, Y: north}, {X: east, Y: north}, {X: east, Y: south}, {X: west, Y: south},
		{X: west, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
}
