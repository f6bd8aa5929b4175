package kit

import (
	"slices"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// Beam is a simply supported floor joist with an even load, for synthetic batches.
type Beam struct {
	Section, Grade int32   // indices into the site; -1: not stated
	Span           float64 // mm
	Load           float64 // of the permanent case, N/mm; every other downward case has twice that, wind pulls with half
	Multiplicity   int32
	Beside         float64 // of each case on the masonry walls that it then stands on, N/mm, 10 mm off their middle; 0: it stands on timber
}

// Batch is the batch of some beams. Their ids are ids, or their order when that is nil. Moments, shears, reactions and
// deflections are those of q l / 2, q l2 / 8 and 5 q l4 / 384 EI.
func Batch(site *region.Site, preparation *region.Preparation, beams []Beam, ids []int32) *region.Batch {
	b := &region.Batch{Site: site, Preparation: preparation, Cases: int32(len(preparation.Cases)), Combinations: int32(len(preparation.Combinations))}
	b.Pieces.Words = region.Dictionary{"", string(model.RoleFloorJoist), "timber", "seat", "top", "floor", "masonry", "concrete", "I", "solid"}
	for i, beam := range beams {
		id := int32(i)
		if ids != nil {
			id = ids[i]
		}
		addPiece(b, beam, id)
		addSupports(b, beam)
		addSpan(b, beam)
	}
	closeStarts(b)
	return b
}

// The words of a batch of beams.
const (
	wordNone int32 = iota
	wordJoist
	wordTimber
	wordSeat
	wordTop
	wordFloor
	wordMasonry
	wordConcrete
	wordCategory
	wordSolid
)

func addPiece(b *region.Batch, beam Beam, id int32) {
	p := &b.Pieces
	closeStarts(b)
	p.ID = append(p.ID, id)
	p.Multiplicity = append(p.Multiplicity, beam.Multiplicity)
	p.Role = append(p.Role, wordJoist)
	p.Section = append(p.Section, beam.Section)
	p.Grade = append(p.Grade, beam.Grade)
	p.Service = append(p.Service, 1)
	p.Length = append(p.Length, beam.Span)
	p.Centres = append(p.Centres, 400)
	p.LoadAt = append(p.LoadAt, wordTop)
	p.Carries = append(p.Carries, wordFloor)
	for _, column := range []*[]float64{&p.Slope, &p.TopSpacing, &p.BottomSpace, &p.HeldDepth, &p.HeldWidth, &p.Deck, &p.Movable} {
		*column = append(*column, 0)
	}
	for _, column := range []*[]int32{&p.PliesJoined, &p.BlockingRows, &p.Treated, &p.Condition} {
		*column = append(*column, 0)
	}
	for _, column := range []*[]bool{&p.Cranked, &p.Column, &p.BottomFull, &p.Brittle} {
		*column = append(*column, false)
	}
	p.Repetitive = append(p.Repetitive, true)
	p.TopFull = append(p.TopFull, true)
}

// closeStarts notes where the rows of the next piece begin.
func closeStarts(b *region.Batch) {
	p := &b.Pieces
	p.ContactStart = append(p.ContactStart, int32(len(b.Contacts.At)))
	p.StationStart = append(p.StationStart, int32(len(b.Stations.At)))
	p.SpanStart = append(p.SpanStart, int32(len(b.Spans.From)))
	p.NotchStart = append(p.NotchStart, int32(len(b.Notches.At)))
	p.HoleStart = append(p.HoleStart, int32(len(b.Holes.At)))
}

func addSupports(b *region.Batch, beam Beam) {
	c := &b.Contacts
	width := 0.0
	if beam.Section >= 0 {
		width = b.Site.Sections[beam.Section].Breadth()
	}
	for end := range 2 {
		c.At = append(c.At, float64(end)*beam.Span)
		c.Landing = append(c.Landing, false)
		c.Support = append(c.Support, int32(end))
		c.Width = append(c.Width, width)
		c.AlongWall = append(c.AlongWall, false)
		c.By = append(c.By, wordSeat)
		addGround(b, beam)
		for _, column := range []*[]float64{&c.SeatAlong, &c.SeatAcross, &c.SeatHigh, &c.SeatStress, &c.ToEnd, &c.Eccentric, &c.NotchDepth, &c.NotchSlope, &c.NotchX} {
			*column = append(*column, 0)
		}
		for _, column := range []*[]int32{&c.SeatKind, &c.NotchFace, &c.BesideUnknown} {
			*column = append(*column, wordNone)
		}
		for _, q := range combined(b.Preparation, beam.Load) {
			c.Down = append(c.Down, q*beam.Span/2)
			c.Up = append(c.Up, 0)
			c.Along = append(c.Along, 0)
		}
	}
}

// ground is what a beam stands on, mm and N/mm2.
type ground struct {
	bearing                                 float64
	under                                   int32
	width, height, weight, strength, mortar float64
	unit, group, category, leaf             int32
	toEnd                                   float64
}

var (
	onTimber = ground{bearing: 50, under: wordTimber, toEnd: -1}
	onBlocks = ground{bearing: 100, under: wordMasonry, width: 140, height: 2400, weight: 2.8e-3, strength: 7.3, mortar: 4,
		unit: wordConcrete, group: 1, category: wordCategory, leaf: wordSolid, toEnd: 1500}
)

func addGround(b *region.Batch, beam Beam) {
	c, g := &b.Contacts, &onTimber
	if beam.Beside > 0 {
		g = &onBlocks
	}
	c.Length, c.Underside = append(c.Length, g.bearing), append(c.Underside, g.under)
	c.WallWidth, c.WallHeight, c.WallWeight = append(c.WallWidth, g.width), append(c.WallHeight, g.height), append(c.WallWeight, g.weight)
	c.WallUnitF, c.WallMortar = append(c.WallUnitF, g.strength), append(c.WallMortar, g.mortar)
	c.WallUnit, c.WallGroup = append(c.WallUnit, g.unit), append(c.WallGroup, g.group)
	c.WallClass, c.WallLeaf = append(c.WallClass, g.category), append(c.WallLeaf, g.leaf)
	c.ToWallEnd, c.ToWallFar = append(c.ToWallEnd, g.toEnd), append(c.ToWallFar, g.toEnd)
	c.ToNext = append(c.ToNext, beam.Span-g.bearing)
	for range b.Preparation.Cases {
		c.CaseBeside, c.CaseTurn = append(c.CaseBeside, beam.Beside), append(c.CaseTurn, 10*beam.Beside)
	}
}

func addSpan(b *region.Batch, beam Beam) {
	s, l := &b.Stations, beam.Span
	loads := combined(b.Preparation, beam.Load)
	for k, q := range loads {
		b.Pieces.Alike = append(b.Pieces.Alike, int32(slices.Index(loads[:k], q))+1)
	}
	for i, at := range []float64{0, l / 2, l} {
		s.At = append(s.At, at)
		s.Span = append(s.Span, 0)
		s.Kind = append(s.Kind, [...]int32{region.StationSupport, region.StationExtreme, region.StationSupport}[i])
		for _, q := range loads {
			s.N = append(s.N, 0)
			s.V = append(s.V, q*(l/2-at))
			s.M = append(s.M, q*at*(l-at)/2)
			s.MomentOut = append(s.MomentOut, 0)
		}
	}
	soft := softness(b, beam)
	b.Spans.From = append(b.Spans.From, 0)
	b.Spans.To = append(b.Spans.To, l)
	b.Spans.Overhang = append(b.Spans.Overhang, false)
	for _, q := range loads {
		b.Spans.Deflection = append(b.Spans.Deflection, q*soft)
	}
	for _, k := range b.Preparation.Cases {
		q := caseLoad(k, beam.Load)
		b.Spans.CaseDeflect = append(b.Spans.CaseDeflect, q*soft)
		b.Spans.CaseMoment = append(b.Spans.CaseMoment, q*l*l/8)
	}
	b.Spans.MoveDeflect, b.Spans.MoveMoment = append(b.Spans.MoveDeflect, 0), append(b.Spans.MoveMoment, 0)
}

// softness is the deflection under a load of 1 N/mm, mm; 0 where section or grade are unknown.
func softness(b *region.Batch, beam Beam) float64 {
	if beam.Section < 0 || beam.Grade < 0 {
		return 0
	}
	stiffness := b.Preparation.Grades[beam.Grade].E * b.Site.Sections[beam.Section].Iy
	if stiffness <= 0 {
		return 0
	}
	return 5 * beam.Span * beam.Span * beam.Span * beam.Span / (384 * stiffness)
}

func caseLoad(k region.Case, permanent float64) float64 {
	switch {
	case k.Permanent:
		return permanent
	case k.Action == model.Wind:
		return -permanent / 2
	}
	return 2 * permanent
}

// combined is the load of each combination, N/mm; variable cases that help are left out.
func combined(p *region.Preparation, permanent float64) []float64 {
	loads := make([]float64, len(p.Combinations))
	for i, combination := range p.Combinations {
		for j, k := range p.Cases {
			if q := caseLoad(k, permanent); q > 0 {
				loads[i] += combination.Factors[j] * q
			}
		}
	}
	return loads
}
