package eurocode

import (
	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/ec3"
	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/working"
	"example.com/scantling/plugins/region"
)

// steel judges a piece of steel.
func (j *judge) steel(m *member) {
	piece, absent := j.steelPiece(m)
	if absent != "" {
		j.leave(m.i, absent, steelFacts...)
		return
	}
	if m.stations.none() && !m.bedded {
		j.leave(m.i, noForces, steelBending, steelShear, steelBuckling, steelLateral, steelCombined)
	} else {
		j.gather(m, false)
		j.steelSection(m, &piece)
	}
	j.steelDeflection(m)
}

// steelPiece is the piece in the calculator's terms.
func (j *judge) steelPiece(m *member) (piece ec3.Piece, absent working.Absence) {
	if !m.notches.none() || !m.holes.none() {
		return piece, "notches and holes in steel are not worked here: ask the engineer"
	}
	section, absent := steelSectionOf(m.section)
	if absent != "" {
		return piece, absent
	}
	form := materials.Rolled
	switch section.Shape {
	case ec3.RHS, ec3.CHS:
		form = materials.ColdHollow
		if section.Hot {
			form = materials.HotHollow
		}
	}
	named, absent := materials.FindSteel(m.grade.name, form)
	return ec3.Piece{Section: &section, Grade: named, Choices: &j.choices.Steel, Count: m.section.Plies}, absent
}

// steelSectionOf is a section of the model in the calculator's terms: its outline, and the printed properties of one.
func steelSectionOf(s *region.Section) (ec3.Section, working.Absence) {
	n := float64(max(s.Plies, 1))
	out := ec3.Section{H: s.Depth, B: s.Width, Tw: s.Web, Tf: s.Flange, R: s.Root,
		A: s.Area / n, Iy: s.Iy / n, Iz: s.Iz / n, Wely: s.Wy / n, Welz: s.Wz / n, Wply: s.Wply / n, Wplz: s.Wplz / n, It: s.It / n, Iw: s.Iw / n}
	switch s.Shape {
	case model.ISection:
		out.Shape = ec3.ISection
	case model.Channel:
		out.Shape = ec3.Channel
	case model.SquareHollow, model.RectangularHollow:
		if s.Finish == "" { // the printed properties are those of the hot finished; by its outline it counts as formed cold
			out = ec3.Section{H: s.Depth, B: s.Width}
		}
		out.Shape, out.Tw, out.Hot = ec3.RHS, s.Wall, s.Finish == "hot"
	case model.CircularHollow:
		out.Shape, out.Tw, out.Hot = ec3.CHS, s.Wall, s.Finish == "hot"
	default:
		return out, "only rolled and hollow sections of steel are worked here: have the engineer work this one"
	}
	if s.Flat && (s.Shape == model.ISection || s.Shape == model.Channel) {
		return out, "a rolled section that is laid down bends about its weak axis, which is not worked here: ask the engineer"
	}
	return out.Complete()
}

// steelSection judges the fronts.
func (j *judge) steelSection(m *member, piece *ec3.Piece) {
	forces := func(p *point, sheet *working.Sheet) ec3.Forces {
		sheet.Step("M_y,Ed", p.m, "N mm", "EN 1990 6.4.3.2")
		sheet.Step("V_z,Ed", p.v, "N", "EN 1990 6.4.3.2")
		sheet.Step("N_Ed", p.n, "N", "EN 1990 6.4.3.2")
		return ec3.Forces{My: p.m, Mz: p.out, Vz: p.v, N: p.n}
	}
	judgeAll(j, m.i, steelBending, j.bends, func(p *point, sheet *working.Sheet) working.Outcome {
		in := forces(p, sheet)
		return piece.Bending(&in, sheet)
	}, (*point).governing)
	judgeAll(j, m.i, steelShear, j.shears, func(p *point, sheet *working.Sheet) working.Outcome {
		in := forces(p, sheet)
		return piece.Shear(&in, sheet)
	}, (*point).governing)
	judgeAll(j, m.i, steelBuckling, j.pushes, func(p *point, sheet *working.Sheet) working.Outcome {
		in, held := forces(p, sheet), j.held(m, p)
		return piece.Buckling(&in, &held, sheet)
	}, (*point).governing)
	judgeAll(j, m.i, steelLateral, j.bends, func(p *point, sheet *working.Sheet) working.Outcome {
		in, held := forces(p, sheet), j.held(m, p)
		return piece.Lateral(&in, &held, sheet)
	}, (*point).governing)
	both := append(j.both[:len(j.both):len(j.both)], j.bends...)
	judgeAll(j, m.i, steelCombined, both, func(p *point, sheet *working.Sheet) working.Outcome {
		in, held := forces(p, sheet), j.held(m, p)
		return piece.Combined(&in, &held, ec3.Moments{}, sheet)
	}, (*point).governing)
}
