package draft

import "example.com/scantling/model"

// dormer drafts a hipped roof with a flat-topped dormer: its roof runs from a front wall on the south plate to a header
// between two doubled rafters, and its cheeks stand on these.
func (b *builder) dormer() {
	r := b.hippedRoof()
	d := b.Dormer
	trim := b.double(r.rafter)
	half := trim.Breadth() / 2
	west, east := b.snap(d.At-half), b.snap(d.At+d.Width+half)
	s := r.slope
	header := b.snap(d.Depth)
	// The dormer's rafters meet the header where the main roof's axis passes it, and fall towards the front.
	low := b.newSlope(d.Pitch, r.rafter.Depth, b.plateSection().Width, 0, r.rafter.Depth)
	front := s.axis(header) - header*low.tan - low.zero // level of the front wall's top
	switch {
	case b.Ridge == Board:
		b.wrong("ridge", "a dormer cuts through couples that lean on each other", "draft it with a ridge beam")
	case d.Width < 600:
		b.wrong("dormer", "it is only "+b.length(d.Width)+" wide", "give at least "+b.length(600))
	case west < r.run+b.Centres/2 || east > b.Length-r.run-b.Centres/2:
		b.wrong("dormer", "it runs into the hips", "keep its cheeks "+b.length(r.run+b.Centres/2+2*half)+" from the end walls, narrow it or lengthen the roof")
	case header > r.run-max(500, r.rafter.Depth):
		b.wrong("dormer", "its roof meets the slope too near the ridge", "give a depth of at most "+b.length(b.down(r.run-max(500, r.rafter.Depth))))
	case front-b.plateTop() < 600:
		b.wrong("dormer", "its front would be only "+b.length(front-b.plateTop())+" high", "give more depth or a steeper main roof")
	}
	if len(b.problems) > 0 {
		return
	}
	b.walls([][2]float64{{0, b.Length}})
	b.plate("WPS", "WS", b.point(-b.Wall/2, 0, b.plateMid()), b.point(b.Length+b.Wall/2, 0, b.plateMid()))
	b.crown(r)
	b.hipsAndJacks(r)
	b.commons(r, "N", "WPN", strips(r.run, b.Length-r.run, b.Centres))
	b.commons(r, "S", "WPS", b.beside(r.run, west, east, b.Length-r.run))
	b.trimmingRafters(r, trim, west, east)
	between := evenly(west, east, b.Centres)
	b.header(r, trim, between, b.point(west, header, s.axis(header)), b.point(east, header, s.axis(header)))
	b.dormerFront(r, low, between, west, east, header, front)
	for i, x := range []float64{west, east} {
		b.cheek(mark("CK", i, 2), mark("TR", i, 2), r, x, front, low.tan)
	}
	o := b.Overhang
	b.roofArea([]model.Point{{X: -o, Y: -o}, {X: west, Y: -o}, {X: west, Y: header}, {X: east, Y: header}, {X: east, Y: -o}, {X: b.Length + o, Y: -o},
		{X: b.Length + o, Y: b.Width + o}, {X: -o, Y: b.Width + o}})
	own := b.Loads
	own.Imposed = model.Quantity{}
	b.area(model.Area{ID: "dormer roof", Kind: "roof", Covering: "membrane on boarding", Pitch: b.turn(d.Pitch), Extent: rectangle(west, -o, east, header)},
		b.usual.roofDead, 0, own)
}

// trimmingRafters adds the doubled rafters at the dormer's sides, with half a strip each.
func (b *builder) trimmingRafters(r *roof, s *model.Section, west, east float64) {
	for i, x := range []float64{west, east} {
		m := b.timber(mark("TR", i, 2), model.RoleRafter, s, b.point(x, -b.Overhang, r.slope.axis(-b.Overhang)), b.point(x, r.run, r.slope.axis(r.run)))
		m.Carries = b.carry("roof", b.Centres/2)
		m.Supports = []model.Support{b.foot(r.slope, "WPS", b.Overhang), b.hung("RB1")}
		m.Restraint.Top = model.Hold{Said: true, Full: true}
		m.Detail = &model.Detail{Note: "trimming rafter of the dormer"}
		b.add(m)
	}
}

// header adds the header between the trimming rafters, and the rafters from it up to the ridge.
func (b *builder) header(r *roof, s *model.Section, between run, from, to model.Point) {
	h := b.timber("HD1", model.RoleTrimmer, s, from, to)
	h.Grade = b.grade(model.RoleRafter)
	h.Supports = []model.Support{b.hung("TR1"), b.hung("TR2")}
	h.Restraint.Top = model.Hold{Said: true, Spacing: b.snap(between.step)}
	b.add(h)
	m := b.timber("RT", model.RoleRafter, r.rafter, b.point(between.start, from.Y, from.Z), b.point(between.start, r.run, r.slope.axis(r.run)))
	b.repeated(&m, between, alongX)
	m.Carries = b.carry("roof", between.strip)
	m.Supports = []model.Support{b.hung("HD1"), b.hung("RB1")}
	m.Supports[0].Horizontal = true
	m.Restraint.Top = model.Hold{Said: true, Full: true}
	b.add(m)
}

// dormerFront adds the front wall on the south plate, and the dormer's rafters from it to the header.
func (b *builder) dormerFront(r *roof, low *slope, between run, west, east, header, top float64) {
	b.add(model.Member{Mark: "DF", Role: model.RoleWall, Material: "timber", Width: model.Given(low.width),
		Path:     []model.Point{b.point(west, 0, top), b.point(east, 0, top)},
		Supports: []model.Support{{On: "WPS", Continuous: true, Bearing: model.Given(low.width), By: "seat", Horizontal: true}},
		Detail:   &model.Detail{Height: model.Given(b.snap(top - b.plateTop())), Weight: model.Given(b.load(0.5e-3)), Note: "studs, with the window"}})
	low.zero += top
	m := b.timber("DR", model.RoleRafter, r.rafter, b.point(between.start, -b.Overhang, low.axis(-b.Overhang)), b.point(between.start, header, low.axis(header)))
	b.repeated(&m, between, alongX)
	m.Carries = b.carry("dormer roof", between.strip)
	m.Supports = []model.Support{b.foot(low, "DF", b.Overhang), b.hung("HD1")}
	m.Restraint.Top = model.Hold{Said: true, Full: true}
	b.add(m)
}

// cheek adds the wall between the dormer's roof and the trimming rafter that it stands on: a triangle, whose mean
// height is half of that at the front.
func (b *builder) cheek(name, on string, r *roof, x, front, rise float64) {
	s := r.slope
	height := front - s.axis(0) - s.plumb()/2
	length := height / (s.tan - rise)
	b.add(model.Member{Mark: name, Role: model.RoleWall, Material: "timber", Width: model.Given(b.snap(r.rafter.Breadth())),
		Path:     []model.Point{b.point(x, 0, front), b.point(x, length, front+length*rise)},
		Supports: []model.Support{{On: on, Continuous: true, Bearing: model.Given(b.snap(r.rafter.Breadth())), By: "seat", Horizontal: true}},
		Detail:   &model.Detail{Height: model.Given(b.snap(height / 2)), Weight: model.Given(b.load(0.5e-3)), Note: "dormer cheek, of triangular shape: its mean height is stated"}})
}
