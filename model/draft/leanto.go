package draft

import "example.com/scantling/model"

// leanTo drafts rafters from a plate up to a ledger on the face of a higher wall.
func (b *builder) leanTo() {
	rafter := b.section(model.RoleRafter, 0)
	p := b.plateSection()
	s := b.newSlope(b.Pitch, rafter.Depth, p.Width, b.plateTop(), rafter.Depth)
	ledger := b.section(model.RoleBeam, s.plumb())
	if ledger.Breadth() > 50 {
		b.wrong("section of beam", "a ledger "+b.length(ledger.Breadth())+" thick stands too far off the wall that it is bolted to", "give one of at most "+b.length(50))
	}
	half := b.Wall / 2
	run := b.snap(b.Width - half - ledger.Breadth()/2) // to the ledger's axis
	b.checkRun(s, run)
	b.checkPlate()
	z := s.axis(run) + s.plumb()/2 - ledger.Breadth()/2*s.tan - ledger.Depth/2
	b.wall("W1", b.point(0, 0, b.Height), b.point(b.Length, 0, b.Height))
	b.wall("W2", b.point(0, b.Width, z+ledger.Depth), b.point(b.Length, b.Width, z+ledger.Depth))
	b.doc.Member("W2").Detail.Note = "where it stands already, say so: phase existing, and who has vouched for it"
	b.plate("WP1", "W1", b.point(0, 0, b.plateMid()), b.point(b.Length, 0, b.plateMid()))
	m := b.timber("LB1", model.RoleBeam, ledger, b.point(0, run, z), b.point(b.Length, run, z))
	m.Supports = []model.Support{{On: "W2", Continuous: true, Bearing: model.Given(b.down(ledger.Breadth())), By: "bolted", Horizontal: true, Capacity: b.Bolts}}
	m.Restraint.Top = model.Hold{Said: true, Spacing: b.snap(b.Centres)}
	b.add(m)
	runs := strips(0, b.Length, b.Centres)
	for i, r := range runs {
		m := b.timber(mark("R", i, len(runs)), model.RoleRafter, rafter, b.point(r.start, -b.Overhang, s.axis(-b.Overhang)), b.point(r.start, run, s.axis(run)))
		b.repeated(&m, r, alongX)
		m.Carries = b.carry("roof", r.strip)
		m.Supports = []model.Support{b.foot(s, "WP1", b.Overhang), b.hung("LB1")}
		m.Restraint.Top = model.Hold{Said: true, Full: true}
		b.add(m)
	}
	b.roofArea(rectangle(0, -b.Overhang, b.Length, run))
}
