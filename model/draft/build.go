package draft

import (
	"fmt"
	"math"
	"reflect"
	"strconv"

	"example.com/scantling/model"
)

// builder is a model in the making.
type builder struct {
	Options
	usual    *usual
	doc      *model.Document
	problems Problems
}

// begin opens the document.
func (b *builder) begin() {
	title := b.Title
	if title == "" {
		title = "Starter model: " + string(b.Kind)
	}
	site := model.Site{Region: b.Region, ServiceClass: b.ServiceClass}
	if site.ServiceClass == 0 {
		site.ServiceClass = ServiceClass(b.Kind)
		site.Note = fmt.Sprintf("service class %d is taken as usual for a %s: mend it where the timber is drier or wetter", site.ServiceClass, b.covers())
	}
	b.doc = &model.Document{
		Title: title, Units: b.Units, Site: site,
		Drawings: []model.Drawing{{ID: "D-1", Title: "Framing plan, to be drawn"}},
	}
}

// covers says what a kind is in respect of damp.
func (b *builder) covers() string {
	if b.Kind == Floor {
		return "floor inside the insulation"
	}
	return "cold roof"
}

// snap rounds a length to the grid of the units, in the same arithmetic as a document is read with, so that it can be
// written as a short number.
func (b *builder) snap(v float64) float64 {
	if b.Units == model.US {
		return math.Round(v/b.usual.grid) / 1000 * inch
	}
	return math.Round(v*10) / 10
}

// down rounds down to what a rule shows: 1 mm or 1/16 in.
func (b *builder) down(v float64) float64 {
	if b.Units == model.US {
		return math.Floor(v/inch*16+1e-6) / 16 * inch
	}
	return math.Floor(v + 1e-6)
}

// turn is an angle to a millionth of a degree, written as short as lengths are.
func (b *builder) turn(v float64) model.Quantity {
	return model.Given(math.Round(v*180/math.Pi*1e6) / 1e6 * model.MeasureAngle.Size(b.Units))
}

func (b *builder) point(x, y, z float64) model.Point {
	return model.Point{X: b.snap(x), Y: b.snap(y), Z: b.snap(z)}
}

// section is what the options say of a role, else the first usual section that is at least so deep, mm.
func (b *builder) section(role model.Role, depth float64) *model.Section {
	texts := b.usual.sections[role]
	chosen := b.Sections[role]
	if chosen != "" {
		texts = []string{chosen}
	}
	var last *model.Section
	for _, text := range texts {
		s, err := model.ParseSection(text, b.Units)
		if err != nil {
			b.wrong("section of "+string(role), err.Error(), "give a section that is known")
			return model.NewRectangle(47, 145, 1)
		}
		if last = s; s.Depth >= depth-1e-6 {
			return s
		}
	}
	fix := "choose one, a flatter pitch or shallower rafters"
	if chosen != "" {
		fix = "give at least that depth"
	}
	b.wrong("section of "+string(role), "what is cut against it is "+b.length(math.Ceil(depth))+" deep along the plumb cut, more than "+last.Text, fix)
	return last
}

// double is two plies of a section.
func (b *builder) double(s *model.Section) *model.Section {
	if s.Plies > 1 {
		return s
	}
	d, err := model.ParseSection("2/"+s.Text, b.Units)
	if err != nil {
		b.wrong("section", err.Error(), "give a section of one ply")
		return s
	}
	return d
}

// grade is what the options say of a role, or the usual.
func (b *builder) grade(role model.Role) string {
	if g := b.Grades[role]; g != "" {
		return g
	}
	if g := b.usual.grades[role]; g != "" && b.Sections[role] == "" {
		return g
	}
	return b.Grade
}

// add puts a member into the document. Marks are the drafts' own, so that none is there twice.
func (b *builder) add(m model.Member) {
	m.Offset = -1
	if m.Detail != nil && reflect.ValueOf(*m.Detail).IsZero() {
		m.Detail = nil
	}
	b.doc.Add(m)
}

// timber is a member of a role with its grade and axis.
func (b *builder) timber(mark string, role model.Role, s *model.Section, path ...model.Point) model.Member {
	return model.Member{Mark: mark, Role: role, Section: s, Grade: b.grade(role), Path: path}
}

// wall adds a wall on the ground; its path is the top.
func (b *builder) wall(mark string, path ...model.Point) {
	least := math.Inf(1)
	for _, p := range path {
		least = min(least, p.Z)
	}
	b.add(model.Member{Mark: mark, Role: model.RoleWall, Material: b.WallMaterial, Width: model.Given(b.snap(b.Wall)), Path: path, Ground: true,
		Detail: &model.Detail{Height: model.Given(least), Weight: model.Given(b.wallWeight())}})
}

// wallWeight is the weight of a wall per area of its face, N/mm2: blockwork of 21 kN/m3, or studs with their lining at
// 0.5 kN/m2 (common practice, no source).
func (b *builder) wallWeight() float64 {
	if b.WallMaterial == "timber" {
		return b.load(0.5e-3)
	}
	return b.load(21e-6 * b.Wall)
}

// load rounds an area load to what its units show: 0.05 kN/m2, or 1 psf.
func (b *builder) load(v float64) float64 {
	if b.Units == model.US {
		return math.Round(v/psf) * model.MeasureAreaLoad.Size(model.US)
	}
	return math.Round(v*1e3*20) / 20 * model.MeasureAreaLoad.Size(model.Metric)
}

// plate adds a wall plate along a path, bedded on one wall.
func (b *builder) plate(mark, on string, from, to model.Point) {
	b.plateOn(mark, []model.Support{{On: on, Continuous: true}}, from, to)
}

// plateOn adds a wall plate that is bedded on several members in turn.
func (b *builder) plateOn(mark string, beds []model.Support, from, to model.Point) {
	s := b.plateSection()
	m := b.timber(mark, model.RoleWallPlate, s, from, to)
	for i := range beds {
		beds[i].Bearing, beds[i].By, beds[i].Horizontal = model.Given(s.Width), "seat", true
	}
	m.Supports = beds
	m.Restraint.Top = model.Hold{Said: true, Full: true}
	m.Detail = &model.Detail{Straps: []model.Strap{{Kind: "holding down", To: beds[0].On, Centres: model.Given(b.snap(b.strapCentres()))}}}
	b.add(m)
}

// strapCentres is at most two metres: common practice.
func (b *builder) strapCentres() float64 {
	if b.Units == model.US {
		return 72 * inch
	}
	return 1800
}

func (b *builder) plateSection() *model.Section {
	return model.Flat(b.section(model.RoleWallPlate, 0))
}

// plateTop is the level of a plate's top on the walls, and plateMid that of its axis, mm.
func (b *builder) plateTop() float64 { return b.Height + b.plateSection().Depth }
func (b *builder) plateMid() float64 { return b.Height + b.plateSection().Depth/2 }

// hung is the support of a member that hangs on another.
func (b *builder) hung(on string) model.Support {
	bearing := 45.0
	if b.Units == model.US {
		bearing = 1.5 * inch
	}
	return model.Support{On: on, Bearing: model.Given(b.down(bearing)), By: "hanger", Capacity: b.Hanger}
}

// seated is the support of a member that sits on another.
func (b *builder) seated(on string, bearing float64) model.Support {
	return model.Support{On: on, Bearing: model.Given(b.down(bearing)), By: "seat"}
}

// padstone is a padstone as wide as the wall; stud walls have none.
func (b *builder) padstone(along float64) *model.Seat {
	if b.WallMaterial == "timber" {
		return nil
	}
	return &model.Seat{Kind: "padstone", Along: model.Given(b.down(along)), Across: model.Given(b.snap(b.Wall)), High: model.Given(b.down(140))}
}

// area adds an area with the loads that are known, zero being one that is not.
func (b *builder) area(a model.Area, dead, imposed float64, own Loads) {
	put := func(action model.Action, q model.Quantity, usual float64) {
		if q.Known || usual != 0 {
			a.Loads = append(a.Loads, model.AreaLoad{Action: action, Value: q.Or(b.load(usual))})
		}
	}
	a.Extent = b.outline(a.Extent)
	put(model.Dead, own.Dead, dead)
	put(model.Imposed, own.Imposed, imposed)
	put(model.RoofImposed, own.RoofImposed, 0)
	put(model.Snow, own.Snow, 0)
	put(model.Wind, own.Wind, 0)
	b.doc.Areas = append(b.doc.Areas, a)
}

// roofArea adds the area of the main roof.
func (b *builder) roofArea(extent []model.Point) {
	own := b.Loads
	own.Imposed = model.Quantity{}
	covering := b.Covering
	if covering == "" {
		covering = b.usual.covering
	}
	b.area(model.Area{ID: "roof", Kind: "roof", Covering: covering, Pitch: b.turn(b.Pitch), Extent: extent}, b.usual.roofDead, 0, own)
}

// carry is a strip of an area.
func (b *builder) carry(area string, width float64) []model.Carry {
	return []model.Carry{{Area: area, Width: model.Given(b.snap(width))}}
}

// run is equal pieces side by side, each with a strip of the same width.
type run struct {
	start float64 // of the first piece
	count int
	step  float64 // 0 of a single piece
	strip float64
}

// strips lays pieces over a stretch, each in the middle of the strip that it carries: whole centres first, and a
// narrower strip for what is left.
func strips(from, to, centres float64) []run {
	const sliver = 20 // mm that need no piece of their own
	n := int((to-from)/centres + 1e-9)
	rest := to - from - float64(n)*centres
	var out []run
	if n > 0 {
		out = append(out, run{from + centres/2, n, centres, centres})
	}
	if rest > sliver || n == 0 && rest > 0 {
		out = append(out, run{to - rest/2, 1, 0, rest})
	}
	return out
}

// evenly lays pieces over a stretch in equal strips of at most the centres.
func evenly(from, to, centres float64) run {
	n := int(math.Ceil((to-from)/centres - 1e-9))
	strip := (to - from) / float64(max(1, n))
	return run{from + strip/2, max(1, n), strip, strip}
}

// repeated makes a member stand for a run along x or y.
func (b *builder) repeated(m *model.Member, r run, along model.Point) {
	m.Centres = model.Given(b.snap(b.Centres))
	if r.count > 1 {
		step := b.snap(r.step)
		m.Centres = model.Given(step)
		m.Repeat = model.Repeat{Count: r.count, Step: model.Point{X: along.X * step, Y: along.Y * step}}
	}
}

var alongX, alongY = model.Point{X: 1}, model.Point{Y: 1}

// mark numbers a mark where there are several.
func mark(name string, i, n int) string {
	if n == 1 {
		return name
	}
	return name + strconv.Itoa(i+1)
}

func rectangle(x0, y0, x1, y1 float64) []model.Point {
	return []model.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// outline is an outline in plan on the grid of the units.
func (b *builder) outline(points []model.Point) []model.Point {
	for i, p := range points {
		points[i] = b.point(p.X, p.Y, 0)
	}
	return points
}
