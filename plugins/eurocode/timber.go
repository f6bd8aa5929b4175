package eurocode

import (
	"math"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/ec5"
	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/working"
)

// timber judges a piece of timber.
func (j *judge) timber(m *member) {
	if m.section.Shape == model.Layered {
		j.layered(m)
		return
	}
	piece, absent := j.timberPiece(m)
	if absent != "" {
		j.leave(m.i, absent, timberFacts...)
		return
	}
	j.timberBearing(m, &piece)
	j.timberNotch(m, &piece)
	if m.stations.none() && !m.bedded {
		j.leave(m.i, noForces, timberBending, timberShear, timberTension, timberCompression, timberCombined)
	} else {
		j.gather(m, true)
		j.timberSection(m, &piece)
	}
	j.timberDeflection(m, &piece)
	j.timberVibration(m, &piece)
}

// noForces is the reason of a piece for which the program gives no forces.
const noForces working.Absence = "no forces inside it are known: look at its supports and its loads"

// timberPiece is the piece in the calculator's terms.
func (j *judge) timberPiece(m *member) (piece ec5.Piece, absent working.Absence) {
	s := m.section
	if s.Shape != model.Rectangle {
		return piece, "only rectangles of timber are worked here: write the section as breadth x depth"
	}
	piece = ec5.Piece{Grade: m.grade.timber, Choices: &j.choices.Timber, Breadth: s.Width, Depth: s.Depth, Plies: s.Plies,
		ServiceClass: m.service, Sharing: j.b.Pieces.Repetitive[m.i] && !m.upright}
	if s.Flat && s.Plies > 1 { // plies that lie on one another bend singly
		piece.Depth /= float64(s.Plies)
	}
	return piece, ""
}

// timberSection judges the fronts.
func (j *judge) timberSection(m *member, piece *ec5.Piece) {
	bending := func(p *point) ec5.Bending {
		return ec5.Bending{Duration: p.duration, My: p.m, Mz: p.out, Lateral: j.lateral(m, p)}
	}
	axial := func(p *point, at *ec5.Piece) ec5.Axial {
		a := ec5.Axial{Duration: p.duration, N: p.n, Length: m.length}
		a.BucklingY, a.BucklingZ = j.buckling(m, p.span)
		if p.weakened >= 0 {
			a.Net = at.Breadth * at.Depth * float64(max(at.Plies, 1))
		}
		return a
	}
	judgeAll(j, m.i, timberBending, j.bends, func(p *point, sheet *working.Sheet) working.Outcome {
		left := j.left(m, piece, p, forBending)
		sheet.Step("M_y,d", p.m, "N mm", "EN 1990 6.4.3.2")
		in := bending(p)
		return left.Bending(&in, sheet)
	}, (*point).governing)
	judgeAll(j, m.i, timberShear, j.shears, func(p *point, sheet *working.Sheet) working.Outcome {
		left := j.left(m, piece, p, forShear)
		sheet.Step("V_d", p.v, "N", "EN 1990 6.4.3.2")
		return left.Shear(&ec5.Shear{Duration: p.duration, Vz: p.v}, sheet)
	}, (*point).governing)
	judgeAll(j, m.i, timberTension, j.pulls, func(p *point, sheet *working.Sheet) working.Outcome {
		left := j.left(m, piece, p, forShear)
		in := axial(p, &left)
		sheet.Step("N_d", p.n, "N", "EN 1990 6.4.3.2")
		return piece.Tension(&in, sheet)
	}, (*point).governing)
	judgeAll(j, m.i, timberCompression, j.pushes, func(p *point, sheet *working.Sheet) working.Outcome {
		left := j.left(m, piece, p, forShear)
		in := axial(p, &left)
		sheet.Step("N_d", p.n, "N", "EN 1990 6.4.3.2")
		return piece.Compression(&in, sheet)
	}, (*point).governing)
	// Where no force runs along the piece, both together is bending alone.
	both := append(j.both[:len(j.both):len(j.both)], j.bends...)
	judgeAll(j, m.i, timberCombined, both, func(p *point, sheet *working.Sheet) working.Outcome {
		left := j.left(m, piece, p, forBending)
		net := j.left(m, piece, p, forShear)
		sheet.Step("M_y,d", p.m, "N mm", "EN 1990 6.4.3.2")
		sheet.Step("N_d", p.n, "N", "EN 1990 6.4.3.2")
		return left.Combined(&ec5.Combined{Bending: bending(p), Axial: axial(p, &net)}, sheet)
	}, (*point).governing)
}

// purpose is what a weakened section is looked at for.
type purpose int

const (
	forBending purpose = iota
	forShear           // and for forces along the piece
)

// left is the piece as notches and holes leave it at a point. Of a hole on the middle the outer fibres keep most of the modulus.
func (j *judge) left(m *member, piece *ec5.Piece, p *point, why purpose) ec5.Piece {
	out := *piece
	if p.weakened < 0 {
		return out
	}
	n, h := &j.b.Notches, &j.b.Holes
	for r := m.notches.from; r < m.notches.to; r++ {
		if math.Abs(n.At[r]-p.at) <= n.Length[r]/2+1 {
			out.Depth = min(out.Depth, piece.Depth-n.Depth[r])
		}
	}
	for r := m.holes.from; r < m.holes.to; r++ {
		if math.Abs(h.At[r]-p.at) > 1 {
			continue
		}
		d, whole := h.Diameter[r], piece.Depth
		depth := whole - d
		if why == forBending && (h.FromTop[r] < 0 || math.Abs(h.FromTop[r]-whole/2) < 1) {
			depth = math.Sqrt(max(whole*whole*whole-d*d*d, 0) / whole)
		}
		out.Depth = min(out.Depth, depth)
	}
	return out
}

// layered judges a sandwich of timbers and steel plates in bending; the rest of it is the engineer's.
func (j *judge) layered(m *member) {
	j.leave(m.i, "a sandwich of timber and steel is worked for bending only: have the engineer work the rest", timberFacts...)
	beam := ec5.Layered{Choices: j.choices, ServiceClass: m.service, Psi2: 1}
	for _, layer := range m.section.Layers {
		one := ec5.Layer{Breadth: layer.Width, Depth: layer.Depth}
		for k := range j.grades {
			if g := &j.grades[k]; g.name == layer.Grade {
				one.Timber = g.timber
				if g.steel {
					one.Plate, _ = materials.FindSteel(g.name, materials.Rolled)
				}
			}
		}
		beam.Layers = append(beam.Layers, one)
	}
	j.gather(m, true)
	j.out.Reason[m.i*factCount+timberBending] = 0
	judgeAll(j, m.i, timberBending, j.bends, func(p *point, sheet *working.Sheet) working.Outcome {
		sheet.Step("M_y,d", p.m, "N mm", "EN 1990 6.4.3.2")
		return beam.Bending(&ec5.Bending{Duration: p.duration, My: p.m, Mz: p.out, Lateral: j.lateral(m, p)}, sheet)
	}, (*point).governing)
}
