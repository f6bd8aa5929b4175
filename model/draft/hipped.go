package draft

import (
	"fmt"
	"math"

	"example.com/scantling/model"
)

// roof is what the parts of a hipped roof share.
type roof struct {
	rafter *model.Section
	slope  *slope
	hip    *hip
	run    float64 // plan length of a rafter from plate to ridge
}

// hipped drafts a hipped roof over a rectangle.
func (b *builder) hipped() {
	r := b.hippedRoof()
	if len(b.problems) > 0 {
		return
	}
	b.walls([][2]float64{{0, b.Length}})
	b.plate("WPS", "WS", b.point(-b.Wall/2, 0, b.plateMid()), b.point(b.Length+b.Wall/2, 0, b.plateMid()))
	b.crown(r)
	b.hipsAndJacks(r)
	b.commons(r, "N", "WPN", strips(r.run, b.Length-r.run, b.Centres))
	b.commons(r, "S", "WPS", strips(r.run, b.Length-r.run, b.Centres))
	b.roofArea(rectangle(-b.Overhang, -b.Overhang, b.Length+b.Overhang, b.Width+b.Overhang))
}

// hippedRoof works out the slopes and refuses what makes no hipped roof.
func (b *builder) hippedRoof() *roof {
	r := &roof{run: b.Width / 2}
	if least := b.Width + 500; b.Length < least {
		b.wrong("length", b.length(b.Length)+" leaves no ridge over a width of "+b.length(b.Width), "give at least "+b.length(least))
	}
	r.rafter = b.section(model.RoleRafter, 0)
	r.slope, r.hip = b.hippedSlope(r.rafter)
	b.checkRun(r.slope, r.run)
	if first, _ := b.firstJack(r); math.IsInf(first, 1) {
		b.wrong("width", b.length(b.Width)+" leaves no room for a jack rafter", "make it wider, or the centres closer")
	}
	if post := b.section(model.RolePost, 0); post.Breadth() > b.Wall {
		b.wrong("section of post", post.Text+" is broader than the walls", "give a post of at most "+b.length(b.Wall))
	}
	b.checkPlate()
	return r
}

// checkRun refuses rafters that overhang more than their span holds, or that do not reach the plate's outer face.
func (b *builder) checkRun(s *slope, run float64) {
	switch {
	case b.Overhang < s.width/2-1e-6:
		b.wrong("overhang", b.length(b.Overhang)+" does not reach the outer face of the plate", "give at least "+b.length(s.width/2))
	case b.Overhang > 0.3*run:
		b.wrong("overhang", b.length(b.Overhang)+" is too long for a span of "+b.length(run)+" in plan", "give at most "+b.length(b.down(0.3*run)))
	}
}

func (b *builder) checkPlate() {
	if w := b.plateSection().Width; w > b.Wall+1e-6 {
		b.wrong("section of wall plate", "a plate "+b.length(w)+" wide stands over a wall of "+b.length(b.Wall), "give a narrower plate or a thicker wall")
	}
}

// walls adds the four outer walls, the south one in stretches, and the two inner ones that carry the ridge's posts.
func (b *builder) walls(south [][2]float64) {
	half, h := b.Wall/2, b.Height
	for i, s := range south {
		from, to := s[0], s[1]
		if i == 0 {
			from -= half
		}
		if i == len(south)-1 {
			to += half
		}
		b.wall(mark("WS", i, len(south)), b.point(from, 0, h), b.point(to, 0, h))
	}
	b.wall("WN", b.point(-half, b.Width, h), b.point(b.Length+half, b.Width, h))
	b.wall("WW", b.point(0, -half, h), b.point(0, b.Width+half, h))
	b.wall("WE", b.point(b.Length, -half, h), b.point(b.Length, b.Width+half, h))
	run := b.Width / 2
	b.wall("WX1", b.point(run, 0, h), b.point(run, b.Width, h))
	b.wall("WX2", b.point(b.Length-run, 0, h), b.point(b.Length-run, b.Width, h))
	b.plate("WPN", "WN", b.point(-half, b.Width, b.plateMid()), b.point(b.Length+half, b.Width, b.plateMid()))
	b.plate("WPW", "WW", b.point(0, -half, b.plateMid()), b.point(0, b.Width+half, b.plateMid()))
	b.plate("WPE", "WE", b.point(b.Length, -half, b.plateMid()), b.point(b.Length, b.Width+half, b.plateMid()))
}

// crown adds the posts, and the ridge beam on them or the ridge board between the couples.
func (b *builder) crown(r *roof) {
	s, run := r.slope, r.run
	post := b.section(model.RolePost, 0)
	axis := s.axis(run)
	under := axis - r.hip.plumb()/2 // the hips stand on the posts
	if b.Ridge == Beam {
		ridge := b.section(model.RoleRidgeBeam, max(s.plumb(), r.hip.plumb()))
		// Its top is where the rafters' tops meet its faces.
		z := axis + s.plumb()/2 - ridge.Breadth()/2*s.tan - ridge.Depth/2
		under = z - ridge.Depth/2
		m := b.timber("RB1", model.RoleRidgeBeam, ridge, b.point(run-post.Breadth()/2, run, z), b.point(b.Length-run+post.Breadth()/2, run, z))
		m.Supports = []model.Support{b.seated("P1", post.Breadth()), b.seated("P2", post.Breadth())}
		m.Restraint.Top = model.Hold{Said: true, Spacing: b.snap(b.Centres)}
		b.add(m)
	} else {
		b.board(s, b.point(run, run, 0), b.point(b.Length-run, run, 0), run)
	}
	for i, x := range []float64{run, b.Length - run} {
		m := b.timber(mark("P", i, 2), model.RolePost, post, b.point(x, run, b.Height), b.point(x, run, under))
		foot := b.seated(mark("WX", i, 2), post.Breadth())
		foot.Horizontal, foot.Seat = true, b.padstone(215)
		m.Supports = []model.Support{foot}
		b.add(m)
	}
}

// board adds a ridge board, which carries nothing: the couples hold it.
func (b *builder) board(s *slope, from, to model.Point, run float64) {
	board := b.section(model.RoleRidgeBoard, s.plumb())
	z := s.axis(run) + s.plumb()/2 - board.Breadth()/2*s.tan - board.Depth/2
	from.Z, to.Z = b.snap(z), b.snap(z)
	m := b.timber("RB1", model.RoleRidgeBoard, board, from, to)
	m.Restraint.Top = model.Hold{Said: true, Spacing: b.snap(b.Centres)}
	m.Detail = &model.Detail{Note: "carries nothing: the couples lean on it and hold it up"}
	b.add(m)
}

// commons adds the rafters between the ridge's ends on one side, N or S, on a plate.
func (b *builder) commons(r *roof, side, plate string, runs []run) {
	for i, run := range runs {
		b.common(r, mark("R"+side, i, len(runs)), mark("R"+opposite(side), i, len(runs)), mark("CJ", i, len(runs)), plate, side, run)
	}
}

func opposite(side string) string {
	if side == "N" {
		return "S"
	}
	return "N"
}

// common adds one run of rafters. On a board the run leans on the opposing one, and ceiling joists tie the feet.
func (b *builder) common(r *roof, name, other, tie, plate, side string, run run) {
	y0, sign := 0.0, 1.0
	if side == "N" {
		y0, sign = b.Width, -1
	}
	m := b.timber(name, model.RoleRafter, r.rafter,
		b.point(run.start, y0-sign*b.Overhang, r.slope.axis(-b.Overhang)), b.point(run.start, y0+sign*r.run, r.slope.axis(r.run)))
	b.repeated(&m, run, alongX)
	m.Carries = b.carry("roof", run.strip)
	m.Restraint.Top = model.Hold{Said: true, Full: true}
	foot := b.foot(r.slope, plate, b.Overhang)
	if b.Ridge == Beam {
		m.Supports = []model.Support{foot, b.hung("RB1")}
	} else {
		m.Supports = []model.Support{foot, {Against: other}}
		m.Ties = []model.TiedBy{{On: tie, Capacity: b.Lap}}
		if side == "S" {
			b.tie(tie, run)
		}
	}
	b.add(m)
}

// tie adds the ceiling joists beside one run of couples.
func (b *builder) tie(name string, run run) {
	s := b.section(model.RoleCeilingJoist, 0)
	z := b.plateTop() + s.Depth/2
	m := b.timber(name, model.RoleCeilingJoist, s, b.point(run.start, 0, z), b.point(run.start, b.Width, z))
	b.repeated(&m, run, alongX)
	m.Carries = b.carry("ceiling", run.strip)
	m.Supports = []model.Support{b.seated("WPS", b.plateSection().Width), b.seated("WPN", b.plateSection().Width)}
	m.Restraint.Bottom = model.Hold{Said: true, Full: true}
	b.add(m)
	b.ceiling(run)
}

// ceiling adds the area under the ties, or lengthens it by one more run of them.
func (b *builder) ceiling(r run) {
	west, east := r.start-r.strip/2, r.start+float64(r.count-1)*r.step+r.strip/2
	if a := b.doc.Area("ceiling"); a != nil {
		west, east = min(west, a.Extent[0].X), max(east, a.Extent[1].X)
		a.Extent = b.outline(rectangle(west, 0, east, b.Width))
		return
	}
	b.area(model.Area{ID: "ceiling", Kind: "ceiling", Finish: "plasterboard", Extent: rectangle(west, 0, east, b.Width)},
		b.usual.ceilingDead, b.usual.ceilingImposed, Loads{})
}

// corner turns what is set out from the south-west corner to one of the four: u runs along the south or north wall,
// v along the west or east one.
type corner struct {
	number       int
	east, north  bool
	along, aside string // plates of the long and of the short side
}

var corners = []corner{{1, false, false, "WPS", "WPW"}, {2, true, false, "WPS", "WPE"}, {3, true, true, "WPN", "WPE"}, {4, false, true, "WPN", "WPW"}}

func (b *builder) at(c corner, u, v, z float64) model.Point {
	if c.east {
		u = b.Length - u
	}
	if c.north {
		v = b.Width - v
	}
	return b.point(u, v, z)
}

// firstJack is the shortest jack's distance from the corner and how many there are on a side of a hip. They stand half
// a strip from the ridge's end and go down by centres; what is too short to be a rafter is left to the hip.
func (b *builder) firstJack(r *roof) (first float64, n int) {
	least := max(1.2*r.slope.depth, 200, b.Overhang)
	first = math.Inf(1)
	for a := r.run - b.Centres/2; a >= least; a -= b.Centres {
		first = a
		n++
	}
	return first, n
}

// hipsAndJacks adds the hips, and the jacks on both sides of each.
func (b *builder) hipsAndJacks(r *roof) {
	o, s := b.Overhang, r.slope
	first, n := b.firstJack(r)
	edge := first - b.Centres/2 + o // of the first strip, from the eave's corner
	head := "RB1"
	if b.Ridge == Board {
		head = ""
	}
	for i, c := range corners {
		m := b.timber(mark("H", i, 4), model.RoleHipRafter, r.hip.section, b.at(c, -o, -o, s.axis(-o)), b.at(c, r.run, r.run, s.axis(r.run)))
		if edge > 0 {
			// The corner outside the first strips, twice half a square, spread over the hip.
			m.Carries = b.carry("roof", edge*edge/((r.run+o)*math.Sqrt2))
			m.Detail = &model.Detail{Note: "its strip stands for the corner of the eaves, outside the first jacks"}
		}
		m.Supports = []model.Support{b.hipFoot(s, r.hip, c.along), b.hipHead(head, c)}
		m.Restraint.Top = model.Hold{Said: true, Spacing: b.snap(b.Centres)}
		b.add(m)
		for k := range n {
			a := first + float64(k)*b.Centres
			b.jack(r, fmt.Sprintf("J%d%s%d", c.number, side(c.along), k+1), c.along, m.Mark, b.at(c, a, -o, s.axis(-o)), b.at(c, a, a, s.axis(a)))
			b.jack(r, fmt.Sprintf("J%d%s%d", c.number, side(c.aside), k+1), c.aside, m.Mark, b.at(c, -o, a, s.axis(-o)), b.at(c, a, a, s.axis(a)))
		}
	}
}

func side(plate string) string { return plate[len(plate)-1:] }

// hipHead hangs a hip on the ridge beam, or stands it on the post at the end of a ridge board.
func (b *builder) hipHead(ridge string, c corner) model.Support {
	if ridge != "" {
		return b.hung(ridge)
	}
	post := "P1"
	if c.east {
		post = "P2"
	}
	return b.seated(post, b.section(model.RolePost, 0).Breadth()/2)
}

// jack adds one jack rafter from a plate to a hip.
func (b *builder) jack(r *roof, name, plate, on string, foot, head model.Point) {
	m := b.timber(name, model.RoleJackRafter, r.rafter, foot, head)
	m.Grade = b.grade(model.RoleRafter)
	m.Centres = model.Given(b.snap(b.Centres))
	m.Carries = b.carry("roof", b.Centres)
	m.Supports = []model.Support{b.foot(r.slope, plate, b.Overhang), b.hung(on)}
	m.Restraint.Top = model.Hold{Said: true, Full: true}
	b.add(m)
}
