package draft

import "example.com/scantling/model"

// gabled drafts a gabled roof: a ridge beam from gable to gable, or couples on a board.
func (b *builder) gabled() {
	r := &roof{run: b.Width / 2, rafter: b.section(model.RoleRafter, 0)}
	p := b.plateSection()
	r.slope = b.newSlope(b.Pitch, r.rafter.Depth, p.Width, b.plateTop(), r.rafter.Depth)
	b.checkRun(r.slope, r.run)
	b.checkPlate()
	half, s := b.Wall/2, r.slope
	for _, side := range []string{"S", "N"} {
		y := 0.0
		if side == "N" {
			y = b.Width
		}
		b.wall("W"+side, b.point(-half, y, b.Height), b.point(b.Length+half, y, b.Height))
		b.plate("WP"+side, "W"+side, b.point(-half, y, b.plateMid()), b.point(b.Length+half, y, b.plateMid()))
	}
	peak := s.axis(r.run) - s.plumb()/2
	if b.Ridge == Beam {
		ridge := b.section(model.RoleRidgeBeam, s.plumb())
		z := s.axis(r.run) + s.plumb()/2 - ridge.Breadth()/2*s.tan - ridge.Depth/2
		peak = z - ridge.Depth/2
		m := b.timber("RB1", model.RoleRidgeBeam, ridge, b.point(-half, r.run, z), b.point(b.Length+half, r.run, z))
		for _, on := range []string{"WG1", "WG2"} {
			sup := b.seated(on, b.Wall)
			sup.Horizontal, sup.Seat = true, b.padstone(215)
			m.Supports = append(m.Supports, sup)
		}
		m.Restraint.Top = model.Hold{Said: true, Spacing: b.snap(b.Centres)}
		b.add(m)
	} else {
		b.board(s, b.point(half, r.run, 0), b.point(b.Length-half, r.run, 0), r.run)
	}
	runs := strips(0, b.Length, b.Centres)
	for i, x := range []float64{0, b.Length} {
		name := mark("WG", i, 2)
		b.wall(name, b.point(x, -half, b.Height), b.point(x, r.run, peak), b.point(x, b.Width+half, b.Height))
		b.doc.Member(name).Detail.Straps = []model.Strap{{Kind: "lateral", To: mark("RS", 0, len(runs)), Centres: model.Given(b.snap(b.strapCentres()))}}
	}
	b.commons(r, "S", "WPS", runs)
	b.commons(r, "N", "WPN", runs)
	b.roofArea(rectangle(0, -b.Overhang, b.Length, b.Width+b.Overhang))
}
