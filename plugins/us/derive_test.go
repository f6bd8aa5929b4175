package us_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us"
)

// DFL #2 2x10 at 16 in over 14 ft, 40 + 10 psf, by hand with the values of the NDS Supplement 2018 (Fb 900, Fv 180,
// Fc_perp 625 psi, E 1,600,000 psi; S 21.39 in3, I 98.93 in4): w = 66.67 lb/ft, M = 1633.3 lb ft, fb = 916.3 psi against
// 900 x 1.1 (CF) x 1.15 (Cr) = 1138.5; V = 466.7 lb, fv = 50.45 psi; 207.4 psi on 1.5 x 1.5 in; 5 w l4 / 384 EI under 53.33
// lb/ft = 0.2912 in against 168 / 360 = 0.4667 in. Bending ends the span at sqrt(8 x 1138.5 x 21.39 / 5.5556) = 187.26
// in, 15 ft 7 in, which is the cell of R502.3.1(2).
func TestFloorJoist(t *testing.T) {
	facts, out := joist().derive(t)
	for name, want := range map[string]float64{
		"nds.bending": 916.3 / 1138.5, "nds.shear": 50.45 / 180, "nds.bearing": 207.4 / 625, "nds.deflection": 0.2912 / 0.46667,
		"irc.span": 168 / 187.26, "irc.span_allowed": 187.26 * inch, "irc.live": 40 * psf, "irc.dead": 10 * psf,
	} {
		assert.Empty(t, facts[name].reason, name)
		assert.InEpsilon(t, want, facts[name].value, 5e-4, name)
	}
	for _, name := range []string{"nds.compression", "nds.tension", "nds.combined", "irc.snow"} {
		assert.Equal(t, ratio{contact: -1}, facts[name], name)
	}
	assert.Equal(t, "dead + imposed", facts["nds.bending"].combination)
	assert.Equal(t, int32(0), facts["nds.bearing"].contact)
	symbols := map[string]bool{}
	for _, s := range out.Working {
		symbols[s.Symbol] = true
		assert.NotEmpty(t, s.Symbol)
	}
	for _, symbol := range []string{"Fb", "CD", "CF", "Cr", "fb", "Fb'", "Fv'", "Fc_perp'", "Delta_T", "L_b", "L_d"} {
		assert.Contains(t, symbols, symbol)
	}
}

// A porch rafter: SPF #2 2x6 at 24 in, 110.5 in in plan, slope 18.43 degrees, tail 12 in, 50 psf of snow and 10 of dead load.
// Fb' = 875 x 1.3 x 1.15 (Cr) x 1.15 (CD) = 1504.3 psi, w = 10 lb/in: sqrt(8 x 1504.3 x 7.5625 / 10) = 95.40 in by bending,
// and cbrt(384 x 1.4e6 x 20.797 / (5 x 8.333 x 180)) = 114.2 in by L/180 on the snow: the first counts.
func porchRafter() sketch {
	return sketch{role: "rafter", section: "2x6", grade: "SPF #2", span: 110.5 * inch, tail: 12 * inch, slope: math.Atan(4.0 / 12), centres: 24 * inch, service: 2,
		load: map[model.Action]float64{model.Dead: 10 * psf, model.RoofImposed: 20 * psf, model.Snow: 50 * psf}}
}

func TestRafterUnderSnow(t *testing.T) {
	facts, _ := porchRafter().derive(t)
	assert.InEpsilon(t, 95.40*inch, facts["irc.span_allowed"].value, 2e-4)
	assert.InEpsilon(t, 110.5/95.40, facts["irc.span"].value, 2e-4)
	assert.InEpsilon(t, 50*psf, facts["irc.snow"].value, 1e-9)
	assert.InEpsilon(t, 20*psf, facts["irc.live"].value, 1e-9)
	assert.InEpsilon(t, 10*psf, facts["irc.dead"].value, 1e-9)
	assert.Equal(t, "dead + snow", facts["nds.bending"].combination)
	// The tail's dead load relieves the span by little: w = 10 lb/in, first reaction 552.5 - 1.667 x 144 / 221 = 551.4 lb,
	// M = 551.4^2 / 20 = 15,202 lb in; on 7.5625 in3 2010 psi against 1504.3.
	assert.InEpsilon(t, 2010.2/1504.3, facts["nds.bending"].value, 5e-4)
	// The first support, at the end, takes 551.4 lb on 2.25 in2, 245.1 psi, at 18.43 degrees to square. Fc' = 1150 x 1.1 x 1.15
	// = 1454.8 and Fc_perp = 425 psi: 1454.8 x 425 / (1454.8 x 0.9 + 425 x 0.1) = 457.4 psi (Hankinson, sin2 of 71.57 degrees = 0.9).
	assert.InEpsilon(t, 245.1/457.4, facts["nds.bearing"].value, 1e-3)
	assert.Equal(t, int32(0), facts["nds.bearing"].contact)
	// With 3 in there the second governs: 10 x (55.25 + 12) + 10 x 144 / 221 = 679.0 lb, 301.8 psi. Its edge lies 12.65 in from
	// the end, so Cb = (1.5 + 0.375) / 1.5 and Fc_perp' = 531.25: 567.3 psi at that angle.
	longer, _ := porchRafter().derive(t, func(b *region.Batch) { b.Contacts.Length[0] = 3 * inch })
	assert.InEpsilon(t, 301.8/567.3, longer["nds.bearing"].value, 1e-3)
	assert.Equal(t, int32(1), longer["nds.bearing"].contact)
}

// Below 3 in 12 a bare rafter may sag no more than L/240 (R301.7): cbrt(384 x 1.6e6 x 20.797 / (5 x 3.333 x 240)) = 147.3 in
// under 20 psf at 24 in, and 162.1 in by L/180.
func TestLowSlopeTightensTheLimit(t *testing.T) {
	s := sketch{role: "rafter", section: "2x6", grade: "DFL #2", span: 10 * foot, centres: 24 * inch,
		load: map[model.Action]float64{model.Dead: 1 * psf, model.RoofImposed: 20 * psf}}
	s.slope = math.Atan(3.0 / 12)
	low, _ := s.derive(t)
	assert.InEpsilon(t, 147.3*inch, low["irc.span_allowed"].value, 5e-4)
	s.slope = math.Atan(3.5 / 12)
	steep, _ := s.derive(t)
	assert.InEpsilon(t, 162.1*inch, steep["irc.span_allowed"].value, 5e-4)
	attached, _ := s.derive(t, func(b *region.Batch) { b.Pieces.Words[3] = "roof, ceiling" })
	assert.InEpsilon(t, 147.3*inch, attached["irc.span_allowed"].value, 5e-4)
}

// A 4x4 of DFL #2, 8 ft long, ends held: le/d = 27.43, FcE = 0.822 x 580,000 / 752.3 = 633.7 psi, Fc* = 1350 x 1.15 = 1552.5,
// CP = 0.3659, so 6959 lb for load of ten years. Dead load alone: Fc* = 1397.3, CP = 0.4002, 6849 lb, which governs here.
func TestPost(t *testing.T) {
	post := sketch{role: "post", section: "4x4", grade: "DFL #2", span: 8 * foot, column: true, axial: -3424.6 * pound}
	facts, _ := post.derive(t)
	assert.InEpsilon(t, 0.5, facts["nds.compression"].value, 1e-3)
	assert.Equal(t, "dead", facts["nds.compression"].combination)
	assert.Zero(t, facts["nds.deflection"].value)
	// Held at mid height both ways it is much stronger: le/d = 13.71, FcE = 2534.9, CP = 0.8501 and 14,551 lb.
	held, _ := post.derive(t, func(b *region.Batch) { b.Pieces.HeldDepth[0], b.Pieces.HeldWidth[0] = 4*foot, 4*foot })
	assert.InEpsilon(t, 3424.6/14551, held["nds.compression"].value, 1e-3)
	// A moment about the other axis is judged with the push, and only there.
	bent, _ := post.derive(t, func(b *region.Batch) { b.Stations.MomentOut[0] = 1000 * pound * inch })
	assert.Greater(t, bent["nds.combined"].value, 0.2)
	assert.Zero(t, bent["nds.bending"].value)
}

// The foot of a post presses end grain: 3435.5 lb on 3.5 x 3 in are 327.2 psi against Fc* = 1397.3 psi.
func TestPostFoot(t *testing.T) {
	post := sketch{role: "post", section: "4x4", grade: "DFL #2", span: 8 * foot, column: true}
	facts, _ := post.derive(t, func(b *region.Batch) {
		b.Contacts.Length[0], b.Contacts.Width[0] = 3*inch, 3.5*inch
		b.Contacts.Down[0] = 3435.5 * pound
	})
	assert.InEpsilon(t, 327.19/1397.25, facts["nds.bearing"].value, 1e-4)
}

// A quarter notched out of an end leaves 2/3 b dn Fv' (dn / d)2 = 2/3 x 1.5 x 6.9375 x 180 x 0.5625 = 702.4 lb.
func TestEndNotch(t *testing.T) {
	notched, _ := joist().derive(t, func(b *region.Batch) { b.Contacts.NotchDepth[0] = 9.25 / 4 * inch })
	assert.InEpsilon(t, 466.67/702.4, notched["nds.shear"].value, 1e-3)
}

// The seat cut of a rafter is gradual: 1.2 in out of 5.5 leave 4.3 in, sheared by 1.5 V / (b dn).
func TestSeatCut(t *testing.T) {
	whole, _ := porchRafter().derive(t)
	cut, _ := porchRafter().derive(t, func(b *region.Batch) { b.Contacts.NotchDepth[1] = 1.2 * inch })
	assert.InEpsilon(t, whole["nds.shear"].value*5.5/4.3, cut["nds.shear"].value, 1e-9)
}

// A short tail is covered by its span; one of half the span is judged by itself, over twice its length.
func TestTails(t *testing.T) {
	sagging := func(tail float64) answer {
		s := porchRafter()
		s.tail = tail
		facts, _ := s.derive(t, func(b *region.Batch) {
			for i := range b.Cases {
				b.Spans.CaseDeflect[b.Cases+i] = 25 // mm
			}
		})
		return facts
	}
	span, _ := porchRafter().derive(t)
	assert.Equal(t, span["nds.deflection"].value, sagging(30 * inch)["nds.deflection"].value)
	axis := 55 * inch / math.Cos(math.Atan(4.0/12))
	// 25 mm of each case in D + Lr and D + S; 0.75 of two in others is more: 37.5 mm.
	assert.InEpsilon(t, 37.5/(2*axis/180), sagging(55 * inch)["nds.deflection"].value, 1e-9)
}

// A hole of 3 in on the centre line leaves S (1 - (3 / 9.25)^3) for bending, and of 2 in high off the line less.
func TestHole(t *testing.T) {
	whole, _ := joist().derive(t)
	drill := func(diameter, fromTop float64) answer {
		facts, _ := joist().derive(t, func(b *region.Batch) {
			b.Pieces.HoleStart[1] = 1
			b.Holes = region.Holes{At: []float64{7 * foot}, Diameter: []float64{diameter}, FromTop: []float64{fromTop}}
			b.Stations.Kind[1] |= region.StationHole
		})
		return facts
	}
	assert.InEpsilon(t, whole["nds.bending"].value/(1-math.Pow(3/9.25, 3)), drill(3*inch, -1)["nds.bending"].value, 1e-9)
	assert.InEpsilon(t, drill(2*inch, -1)["nds.bending"].value, drill(2*inch, 4.625*inch)["nds.bending"].value, 1e-9)
	assert.Greater(t, drill(2*inch, 3*inch)["nds.bending"].value, drill(2*inch, -1)["nds.bending"].value)
	assert.NotEmpty(t, drill(2*inch, 0.5*inch)["nds.bending"].reason, "a hole through the edge")
	notch, _ := joist().derive(t, func(b *region.Batch) {
		b.Pieces.NotchStart[1] = 1
		b.Notches = region.Notches{At: []float64{7 * foot}, Depth: []float64{1.25 * inch}, Length: []float64{50}, Bottom: []bool{false}}
		b.Stations.Kind[1] |= region.StationNotch
	})
	assert.InEpsilon(t, whole["nds.bending"].value*math.Pow(9.25/8, 2), notch["nds.bending"].value, 1e-9)
}

// Wet lumber: CM 1 on Fb here (900 x 1.1 is below 1150 psi), 0.97 on Fv, 0.67 on Fc_perp, 0.9 on E (NDS Table 4A; memory).
func TestWetAndIncised(t *testing.T) {
	dry, _ := joist().derive(t)
	s := joist()
	s.service = 3
	wet, _ := s.derive(t)
	for name, factor := range map[string]float64{"nds.bending": 1, "nds.shear": 0.97, "nds.bearing": 0.67, "nds.deflection": 0.9} {
		assert.InEpsilon(t, dry[name].value/factor, wet[name].value, 1e-9, name)
	}
	assert.Contains(t, wet["irc.span"].reason, "dry")
	incised, _ := joist().derive(t, func(b *region.Batch) { b.Pieces.Words[4] = "Incised, pressure treated" })
	assert.InEpsilon(t, dry["nds.bending"].value/0.8, incised["nds.bending"].value, 1e-9)
	plain, _ := joist().derive(t, func(b *region.Batch) { b.Pieces.Words[4] = "pressure treated, not incised" })
	assert.Equal(t, dry["nds.bending"].value, plain["nds.bending"].value)
}

// The edge that a moment presses is what must be held: sagging presses the top, hogging the bottom.
func TestHeldEdge(t *testing.T) {
	sagging, _ := joist().derive(t)
	hog := func(b *region.Batch) {
		for i := range b.Stations.M {
			b.Stations.M[i] = -b.Stations.M[i]
		}
	}
	hogging, _ := joist().derive(t, hog)
	assert.Greater(t, hogging["nds.bending"].value, 1.5*sagging["nds.bending"].value)
	closer, _ := joist().derive(t, hog, func(b *region.Batch) { b.Pieces.BottomSpace[0] = 2 * foot })
	assert.Less(t, closer["nds.bending"].value, hogging["nds.bending"].value)
	full, _ := joist().derive(t, hog, func(b *region.Batch) { b.Pieces.BottomFull[0] = true })
	assert.InEpsilon(t, sagging["nds.bending"].value, full["nds.bending"].value, 1e-12)
}

// Wider than 24 in apart, or fewer than three, there is no repetitive factor, and no span table.
func TestRepetitive(t *testing.T) {
	set, _ := joist().derive(t)
	alone, _ := joist().derive(t, func(b *region.Batch) { b.Pieces.Repetitive[0] = false })
	assert.InEpsilon(t, set["nds.bending"].value*1.15, alone["nds.bending"].value, 1e-9)
	assert.Contains(t, alone["irc.span"].reason, "at least three")
}

// Pull with bending: half of Ft' in tension adds to bending (NDS 3.9.1).
func TestPullWithBending(t *testing.T) {
	s := joist()
	s.axial = 0.5 * 575 * 1.1 * 0.9 * 13.875 * pound
	facts, _ := s.derive(t)
	assert.InEpsilon(t, 0.5, facts["nds.tension"].value, 1e-9) // dead load alone, CD 0.9
	assert.InEpsilon(t, 0.5*0.9+facts["nds.bending"].value, facts["nds.combined"].value, 1e-9)
	assert.Equal(t, "dead + imposed", facts["nds.combined"].combination)
}

func TestWhatCannotBeJudgedHasAReason(t *testing.T) {
	with := func(section, grade string) sketch {
		s := joist()
		s.section, s.grade = section, grade
		return s
	}
	for _, row := range []struct {
		says, reason string
		of           sketch
		change       func(*region.Batch)
		facts        []string
	}{
		{says: "steel", reason: "steel is not covered by this region yet; ask the engineer", of: with("W8x18", "A992")},
		{says: "a timber that is no dimension lumber", reason: "dimension lumber", of: with("6x6", "DFL #2")},
		{says: "a board", reason: "dimension lumber", of: with("1x8", "SPF #2")},
		{says: "a ripped size", reason: "graded again", of: with("1.5x6.9 in", "SPF #2")},
		{says: "an unknown grade", reason: "write species group and grade", of: with("2x8", "C24")},
		{says: "a grade of the document's own", reason: "the maker's or the engineer's", of: joist(), change: func(b *region.Batch) {
			b.Site.Grades[0].Declared = &model.Grade{Name: "old pine", Material: "timber"}
		}},
		{says: "no section", reason: "the section is not stated", of: joist(), change: func(b *region.Batch) { b.Pieces.Section[0] = -1 }},
		{says: "no grade", reason: "the grade is not stated", of: joist(), change: func(b *region.Batch) { b.Pieces.Grade[0] = -1 }},
		{says: "treatment against fire", reason: "treater", of: joist(), change: func(b *region.Batch) { b.Pieces.Words[4] = "fire retardant" }},
		{says: "no bearing", reason: "state the bearing", of: joist(), facts: []string{"nds.bearing"}, change: func(b *region.Batch) { b.Contacts.Length[1] = 0 }},
		{says: "no stiffness", reason: "could not be worked out", of: joist(), facts: []string{"nds.deflection"}, change: func(b *region.Batch) { clear(b.Spans.CaseDeflect) }},
		{says: "a member that lies on its support", reason: "no forces are known", of: joist(), facts: []string{"nds.bending", "nds.shear", "nds.compression", "nds.tension", "nds.combined", "nds.deflection", "irc.span"},
			change: func(b *region.Batch) {
				b.Pieces.StationStart[1], b.Pieces.SpanStart[1] = 0, 0
				b.Stations, b.Spans = region.Stations{}, region.Spans{}
			}},
	} {
		t.Run(row.says, func(t *testing.T) {
			var change []func(*region.Batch)
			if row.change != nil {
				change = append(change, row.change)
			}
			facts, _ := row.of.derive(t, change...)
			if row.facts == nil {
				for name := range facts {
					row.facts = append(row.facts, name)
				}
			}
			for _, name := range row.facts {
				assert.Contains(t, facts[name].reason, row.reason, name)
			}
		})
	}
}

// What may stand anywhere along a member and is in none of its forces is never passed over.
func TestLoadThatMovesAlongIsNotPassedOver(t *testing.T) {
	got, _ := joist().derive(t, func(b *region.Batch) { b.Pieces.Movable[0] = 300 * pound })
	assert.Contains(t, got["nds.bending"].reason, "may stand anywhere")
}

// Snow or weight that nobody states is not taken for none: until it is stated, nothing at the site is judged.
func TestLoadsThatNobodyStatesAreNotTakenForNone(t *testing.T) {
	dead := model.AreaLoad{Action: model.Dead, Value: 10 * psf}
	for _, c := range []struct {
		does   string
		site   region.Site
		reason string
	}{
		{"a roof without a dead load", region.Site{GroundSnow: model.Given(30 * psf), Areas: []region.Area{{Area: model.Area{ID: "tiles", Kind: "roof"}}}},
			"the dead load of the area tiles is not stated: state it, 0 where there is none"},
		{"a roof where the ground snow is not known", region.Site{Areas: []region.Area{{Area: model.Area{ID: "tiles", Kind: "roof", Loads: []model.AreaLoad{dead}}}}},
			"the snow on area tiles is not known: state it, or ground_snow of the site, 0 where none falls"},
		{"both", region.Site{Areas: []region.Area{{Area: model.Area{ID: "tiles", Kind: "roof"}}}},
			"the dead load of the area tiles is not stated: state it, 0 where there is none; and 1 more"},
		{"an area of which nobody says what it is", region.Site{Areas: []region.Area{{Area: model.Area{ID: "boards", Loads: []model.AreaLoad{dead}}}}},
			"what the area boards bears is not known: say under its kind what it is (roof, ceiling, floor, loft, deck), or state its imposed load, 0 where there is none"},
		{"one whose imposed load is stated", region.Site{Areas: []region.Area{{Area: model.Area{ID: "boards", Loads: []model.AreaLoad{dead, {Action: model.Imposed}}}}}}, ""},
		{"a roof with both stated", region.Site{GroundSnow: model.Given(0), Areas: []region.Area{{Area: model.Area{ID: "tiles", Kind: "roof", Loads: []model.AreaLoad{dead}}}}}, ""},
	} {
		got, _ := joist().derive(t, func(b *region.Batch) {
			site := *b.Site
			site.GroundSnow, site.Areas = c.site.GroundSnow, c.site.Areas
			b.Site = &site
		})
		assert.Equal(t, c.reason, got["nds.bending"].reason, c.does)
	}
}

func TestSpanTablesServeSimpleEvenSpansOnly(t *testing.T) {
	for _, row := range []struct {
		says, reason string
		of           func(*sketch)
		change       func(*region.Batch)
	}{
		{says: "a beam", reason: "floor joists, ceiling joists and rafters only", of: func(s *sketch) { s.role = "beam" }},
		{says: "a cantilever", reason: "cantilevers are not covered", of: func(s *sketch) { s.tail = 12 * inch }},
		{says: "a rafter with a long tail", reason: "at most 24 in", of: func(s *sketch) { *s = porchRafter(); s.tail = 30 * inch }},
		{says: "no centres", reason: "the centres are not stated", change: func(b *region.Batch) { b.Pieces.Centres[0] = 0 }},
		{says: "a load at mid span", reason: "its load is not", change: func(b *region.Batch) {
			for k := range b.Preparation.Combinations {
				b.Stations.M[len(b.Preparation.Combinations)+k] *= 1.3
			}
		}},
		{says: "a member that lands on it", reason: "another member lands", change: func(b *region.Batch) { b.Contacts.Landing[1] = true }},
		{says: "no live load", reason: "must be stated and above zero", of: func(s *sketch) { delete(s.load, model.Imposed) }},
		{says: "a hotel floor", reason: "end at live load 40 psf", of: func(s *sketch) { s.load[model.Imposed] = 60 * psf }},
		{says: "snow on a floor", reason: "a roof's load too", of: func(s *sketch) { s.load[model.Snow] = 30 * psf }},
		{says: "deep snow", reason: "ground snow 70 psf", of: func(s *sketch) { *s = porchRafter(); s.load[model.Snow] = 90 * psf }},
		{says: "a size beyond the tables", reason: "do not list 2x14", of: func(s *sketch) { s.section = "2x14" }},
		{says: "two plies", reason: "do not list 2/2x10", of: func(s *sketch) { s.section = "2/2x10" }},
		{says: "a grade beyond the tables", reason: "do not list DFL Stud", of: func(s *sketch) { s.section, s.grade = "2x6", "DFL Stud" }},
		{says: "a member over three supports", reason: "more than two supports", change: func(b *region.Batch) {
			b.Pieces.SpanStart[1] = 2
			b.Spans.From, b.Spans.To, b.Spans.Overhang = append(b.Spans.From, 4267), append(b.Spans.To, 8000), append(b.Spans.Overhang, false)
			b.Spans.Deflection = append(b.Spans.Deflection, b.Spans.Deflection...)
			b.Spans.CaseDeflect, b.Spans.CaseMoment = append(b.Spans.CaseDeflect, b.Spans.CaseDeflect...), append(b.Spans.CaseMoment, b.Spans.CaseMoment...)
			b.Spans.MoveDeflect, b.Spans.MoveMoment = append(b.Spans.MoveDeflect, 0), append(b.Spans.MoveMoment, 0)
		}},
	} {
		t.Run(row.says, func(t *testing.T) {
			s := joist()
			if row.of != nil {
				row.of(&s)
			}
			var change []func(*region.Batch)
			if row.change != nil {
				change = append(change, row.change)
			}
			facts, _ := s.derive(t, change...)
			for _, name := range []string{"irc.span", "irc.span_allowed", "irc.live", "irc.snow", "irc.dead"} {
				assert.Contains(t, facts[name].reason, row.reason, name)
			}
			assert.Empty(t, facts["nds.shear"].reason, "the calculation still stands")
		})
	}
}

// Hangers and bolts hold by their own capacity; a stated length of bearing in a hanger is checked all the same.
func TestWhatHangsDoesNotBear(t *testing.T) {
	by := func(word string, length float64) ratio {
		facts, _ := joist().derive(t, func(b *region.Batch) {
			b.Pieces.Words[2] = word
			b.Contacts.Length[0], b.Contacts.Length[1] = length, length
		})
		return facts["nds.bearing"]
	}
	assert.Equal(t, ratio{contact: -1}, by("lapped", 0))
	assert.Equal(t, ratio{contact: -1}, by("bolted", 0))
	assert.Equal(t, ratio{contact: -1}, by("hanger", 0))
	assert.Positive(t, by("hanger", 38.1).value)
	assert.NotEmpty(t, by("seat", 0).reason)
}

// A rafter with a force along the grain is the dearest piece: every station and combination is a check of its own.
func BenchmarkDeriveRafter(b *testing.B) {
	s := porchRafter()
	s.axial = -500
	_, batch, _ := s.ask(b)
	batch.Working = false
	b.ReportAllocs()
	for b.Loop() {
		if _, err := us.New().Derive(context.Background(), batch); err != nil {
			b.Fatal(err)
		}
	}
}
