package draft

import "example.com/scantling/model"

// bay drafts a hipped roof with a bay before its south wall. The roof's plate crosses the bay's opening on a doubled
// beam, which spans from wall to wall, or is propped by a steel that is cranked to run up under the roof.
func (b *builder) bay() {
	r := b.hippedRoof()
	v := b.Bay
	west, east := b.snap(v.At), b.snap(v.At+v.Width)
	beam := b.double(b.section(model.RoleBeam, 0))
	joist := b.section(model.RoleRafter, 0)
	switch {
	case v.Width < 900 || v.Out < 400:
		b.wrong("bay", "it is too small", "give a width of at least "+b.length(900)+" and "+b.length(400)+" out")
	case west < 300 || east > b.Length-300:
		b.wrong("bay", "it leaves no wall beside it", "keep it "+b.length(300)+" clear of the corners")
	case v.Steel && (v.In < 300 || v.In > r.run-200):
		b.wrong("bay", "the steel's high end does not lie under the slope", "carry it "+b.length(300)+" to "+b.length(b.down(r.run-200))+" inside")
	}
	if len(b.problems) > 0 {
		return
	}
	const bearing = 100
	b.walls([][2]float64{{0, west}, {east, b.Length}})
	level := b.Height - beam.Depth/2 // of the plate beam's axis, its top being level with the walls
	bm := b.timber("BP1", model.RoleBeam, beam, b.point(west-bearing, 0, level), b.point(east+bearing, 0, level))
	bm.Restraint.Top = model.Hold{Said: true, Spacing: b.snap(b.Centres)}
	for i, at := range []float64{bearing / 2, east - west + 1.5*bearing} {
		s := b.seated(mark("WS", i, 2), bearing)
		s.At, s.Horizontal, s.Seat = model.Given(b.snap(at)), i == 0, b.padstone(215)
		if i == 1 && v.Steel {
			prop := b.seated("ST1", bearing)
			prop.At = model.Given(b.snap((east-west)/2 + bearing))
			bm.Supports = append(bm.Supports, prop)
		}
		bm.Supports = append(bm.Supports, s)
	}
	b.add(bm)
	start := -b.Wall / 2
	b.plateOn("WPS", []model.Support{
		{On: "WS1", Continuous: true, From: model.Given(0), To: model.Given(b.snap(west - bearing - start))},
		{On: "BP1", Continuous: true, From: model.Given(b.snap(west - bearing - start)), To: model.Given(b.snap(east + bearing - start))},
		{On: "WS2", Continuous: true, From: model.Given(b.snap(east + bearing - start)), To: model.Given(b.snap(b.Length + b.Wall))},
	}, b.point(start, 0, b.plateMid()), b.point(b.Length-start, 0, b.plateMid()))
	b.crown(r)
	b.hipsAndJacks(r)
	b.commons(r, "N", "WPN", strips(r.run, b.Length-r.run, b.Centres))
	b.commons(r, "S", "WPS", strips(r.run, b.Length-r.run, b.Centres))
	if v.Steel {
		b.bayOnSteel(joist, beam, west, east)
	} else {
		b.bayOnBeam(joist, level, west, east)
	}
	b.roofArea(rectangle(-b.Overhang, -b.Overhang, b.Length+b.Overhang, b.Width+b.Overhang))
	own := b.Loads
	own.Imposed = model.Quantity{}
	b.area(model.Area{ID: "bay roof", Kind: "roof", Covering: "membrane on boarding", Pitch: model.Given(0), Extent: rectangle(west, -v.Out, east, 0)},
		b.usual.roofDead, 0, own)
}

// bayOnBeam roofs the bay with joists from its front to the plate beam.
func (b *builder) bayOnBeam(joist *model.Section, level, west, east float64) {
	plate := b.plateSection()
	top := level - joist.Depth/2 - plate.Depth // of the bay's walls
	front := -b.Bay.Out
	b.wall("WB1", b.point(west, front, top), b.point(east, front, top))
	b.plate("WPB1", "WB1", b.point(west, front, top+plate.Depth/2), b.point(east, front, top+plate.Depth/2))
	runs := strips(west, east, b.Centres)
	for i, r := range runs {
		m := b.bayJoist(mark("BJ", i, len(runs)), joist, r, alongX, b.point(r.start, front, level), b.point(r.start, 0, level))
		m.Supports = []model.Support{b.onBayPlate("WPB1"), b.hung("BP1")}
		b.add(m)
	}
}

// bayOnSteel props the plate beam with a cranked steel, and roofs the bay with joists from its side walls to the steel.
func (b *builder) bayOnSteel(joist, beam *model.Section, west, east float64) {
	steel := b.steel()
	plate := b.plateSection()
	middle, out, in := b.snap((west+east)/2), b.Bay.Out, b.Bay.In
	s := b.newSlope(b.Pitch, joist.Depth, plate.Width, 0, joist.Depth)
	level := b.Height - beam.Depth - steel.Depth/2
	top := level - joist.Depth/2 - plate.Depth // of the side walls
	high := level + in*s.tan
	const packing = 10 // mm: the plate between the steel's high end and its wall
	b.wall("WB3", b.point(middle-220, -out, level-steel.Depth/2), b.point(middle+220, -out, level-steel.Depth/2))
	b.wall("WI1", b.point(middle-600, in, high-s.upright(steel.Depth)/2-packing), b.point(middle+600, in, high-s.upright(steel.Depth)/2-packing))
	m := model.Member{Mark: "ST1", Role: model.RoleBeam, Section: steel, Grade: b.Grades["steel"],
		Path: []model.Point{b.point(middle, -out, level), b.point(middle, 0, level), b.point(middle, in, high)}}
	if m.Grade == "" {
		m.Grade = b.usual.steelGrade
	}
	low, far := b.seated("WB3", 100), b.seated("WI1", 100)
	low.By, low.Horizontal, low.Seat = "bolted", true, b.padstone(440)
	far.Seat = &model.Seat{Kind: "plate", Along: model.Given(200), Across: model.Given(b.down(min(b.Wall, 100))), High: model.Given(packing)}
	m.Supports = []model.Support{low, far}
	m.Restraint.Top = model.Hold{Said: true, Spacing: b.snap(b.Centres)}
	m.Detail = &model.Detail{Joints: []model.Joint{{At: model.Given(b.snap(out)), Kind: "rigid"}}}
	b.add(m)
	r := strips(-out, 0, b.Centres)
	for i, x := range []float64{west, east} {
		name := mark("WB", i, 2)
		b.wall(name, b.point(x, -out-b.Wall/2, top), b.point(x, 0, top))
		b.plate("WP"+name[1:], name, b.point(x, -out-b.Wall/2, top+plate.Depth/2), b.point(x, 0, top+plate.Depth/2))
		for k, each := range r {
			j := b.bayJoist(mark(mark("BJ", i, 2)+"-", k, len(r)), joist, each, alongY, b.point(x, each.start, level), b.point(middle, each.start, level))
			j.Supports = []model.Support{b.onBayPlate("WP" + name[1:]), b.hung("ST1")}
			b.add(j)
		}
	}
}

// bayJoist is a level rafter of the bay's roof.
func (b *builder) bayJoist(name string, s *model.Section, r run, along model.Point, from, to model.Point) model.Member {
	m := b.timber(name, model.RoleRafter, s, from, to)
	b.repeated(&m, r, along)
	m.Carries = b.carry("bay roof", r.strip)
	m.Restraint.Top = model.Hold{Said: true, Full: true}
	return m
}

func (b *builder) onBayPlate(on string) model.Support {
	s := b.seated(on, min(b.plateSection().Width, 90))
	s.Capacity = b.Clip
	return s
}

// steel is the section of the cranked steel.
func (b *builder) steel() *model.Section {
	text := b.Sections["steel"]
	if text == "" {
		text = b.usual.steel
	}
	s, err := model.ParseSection(text, b.Units)
	if err != nil {
		b.wrong("section of steel", err.Error(), "give a section that is known")
		return model.NewRectangle(100, 100, 1)
	}
	return s
}
