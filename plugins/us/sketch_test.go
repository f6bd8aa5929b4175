package us_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us"
)

// US units in the internal ones, written out here so that the tests do not lean on what they test.
const (
	inch  = 25.4
	foot  = 304.8
	pound = 4.4482216152605 // N
	psi   = pound / (inch * inch)
	psf   = psi / 144
)

// sketch is a straight joist, rafter or post of which a test knows the forces by statics: even load on one span and on a
// tail beyond its second support. Lengths of span and tail are in plan.
type sketch struct {
	role, section, grade string
	span, tail, slope    float64
	centres              float64
	load                 map[model.Action]float64 // N/mm2 in plan
	service              int32
	axial                float64 // in every combination, N
	column               bool
}

// joist is the floor joist that the hand calculations start from: DFL #2 2x10 at 16 in over 14 ft, 40 and 10 psf.
func joist() sketch {
	return sketch{role: "floor joist", section: "2x10", grade: "DFL #2", span: 14 * foot, centres: 16 * inch, service: 1,
		load: map[model.Action]float64{model.Dead: 10 * psf, model.Imposed: 40 * psf}}
}

// ratio is a fact of the answer, with what governs it.
type ratio struct {
	value       float64
	reason      string
	combination string
	contact     int32
}

type answer map[string]ratio

// derive asks the region about a sketch, changed by a test where it likes.
func (s sketch) derive(t testing.TB, change ...func(*region.Batch)) (answer, *region.Derived) {
	t.Helper()
	preparation, b, d := s.ask(t)
	for _, c := range change {
		c(b)
	}
	require.NoError(t, b.Check())
	out, err := us.New().Derive(context.Background(), b)
	require.NoError(t, err)
	facts := answer{}
	for i, f := range d.Facts {
		r := ratio{value: out.Value[i], reason: out.Reasons[out.Reason[i]], contact: out.Contact[i]}
		if k := out.Combination[i]; k >= 0 {
			r.combination = preparation.Combinations[k].ID
		}
		facts[f.Name] = r
	}
	return facts, out
}

// ask prepares what the region is asked about a sketch.
func (s sketch) ask(t testing.TB) (*region.Preparation, *region.Batch, *region.Description) {
	t.Helper()
	section, err := model.ParseSection(s.section, model.US)
	require.NoError(t, err)
	site := &region.Site{Code: "US", Sections: []region.Section{*section}, Grades: []region.GradeName{{Name: s.grade, Steel: section.SteelByDefault}}}
	preparation, err := us.New().Prepare(context.Background(), site)
	require.NoError(t, err)
	d, err := us.New().Describe(context.Background())
	require.NoError(t, err)
	return preparation, s.batch(site, preparation), d
}

// batch is the sketch as one piece. Variable load acts on span and tail wherever that makes a force larger.
func (s sketch) batch(site *region.Site, p *region.Preparation) *region.Batch {
	cos := math.Cos(s.slope)
	b := &region.Batch{Working: true, Site: site, Preparation: p, Cases: int32(len(p.Cases)), Combinations: int32(len(p.Combinations))}
	length := (s.span + s.tail) / cos
	b.Pieces = region.Pieces{
		ID: []int32{0}, Multiplicity: []int32{1}, Words: region.Dictionary{"", s.role, "seat", "", ""},
		Role: []int32{1}, Section: []int32{0}, Grade: []int32{0}, Service: []int32{s.service}, Length: []float64{length}, Slope: []float64{s.slope},
		Centres: []float64{s.centres}, Cranked: []bool{false}, Column: []bool{s.column}, Repetitive: []bool{s.centres > 0},
		TopFull: []bool{true}, TopSpacing: []float64{0}, BottomFull: []bool{false}, BottomSpace: []float64{0}, HeldDepth: []float64{0}, HeldWidth: []float64{0},
		LoadAt: []int32{0}, PliesJoined: []int32{0}, Brittle: []bool{false}, Carries: []int32{3}, Deck: []float64{0}, BlockingRows: []int32{0}, Treated: []int32{4}, Condition: []int32{0}, Movable: []float64{0}, Alike: make([]int32, len(p.Combinations)),
		ContactStart: []int32{0, 2}, StationStart: []int32{0, 4}, SpanStart: []int32{0, 1}, NotchStart: []int32{0, 0}, HoleStart: []int32{0, 0},
	}
	two := func(a, b float64) []float64 { return []float64{a, b} }
	none := two(0, 0)
	b.Contacts = region.Contacts{
		At: two(0, s.span/cos), Landing: []bool{false, false}, Support: []int32{0, 1}, Length: two(1.5*inch, 1.5*inch), Width: two(100, 100),
		Underside: []int32{0, 0}, By: []int32{2, 2}, SeatKind: []int32{0, 0}, SeatAlong: none, SeatAcross: none, SeatHigh: none, SeatStress: none,
		WallWidth: none, WallHeight: none, WallWeight: none, WallLeaf: []int32{0, 0}, AlongWall: []bool{false, false}, BesideUnknown: []int32{0, 0},
		CaseBeside: make([]float64, 2*len(p.Cases)), CaseTurn: make([]float64, 2*len(p.Cases)), WallUnit: []int32{0, 0}, WallGroup: []int32{0, 0}, WallUnitF: none, WallMortar: none, WallClass: []int32{0, 0},
		ToWallEnd: two(-1, -1), ToWallFar: two(-1, -1), ToEnd: two(0, s.tail/cos), ToNext: none, Eccentric: none,
		NotchDepth: two(0, 0), NotchFace: []int32{0, 0}, NotchSlope: none, NotchX: none,
	}
	b.Stations = region.Stations{At: []float64{0, s.span / cos / 2, s.span / cos, s.span / cos}, Span: []int32{0, 0, 0, 1},
		Kind: []int32{region.StationSupport, region.StationExtreme, region.StationSupport, region.StationSupport}}
	b.Spans = region.Spans{From: []float64{0}, To: []float64{s.span / cos}, Overhang: []bool{false}}
	if s.tail > 0 {
		b.Pieces.SpanStart[1] = 2
		b.Spans = region.Spans{From: two(0, s.span/cos), To: two(s.span/cos, length), Overhang: []bool{false, true}}
	}
	s.forces(b)
	s.sag(b)
	return b
}

// loads are the permanent and the variable load of a combination, N/mm in plan.
func (s sketch) loads(p *region.Preparation, k region.Combination) (dead, variable float64) {
	for i, c := range p.Cases {
		if w := k.Factors[i] * s.load[c.Action] * max(s.centres, 1); c.Permanent {
			dead += w
		} else {
			variable += w
		}
	}
	return dead, variable
}

func (s sketch) forces(b *region.Batch) {
	cos, l, a := math.Cos(s.slope), s.span, s.tail
	n := len(b.Preparation.Combinations)
	c, st := &b.Contacts, &b.Stations
	c.Down, c.Up, c.Along = make([]float64, 2*n), make([]float64, 2*n), make([]float64, 2*n)
	st.N, st.V, st.M, st.MomentOut = make([]float64, 4*n), make([]float64, 4*n), make([]float64, 4*n), make([]float64, 4*n)
	for k, combination := range b.Preparation.Combinations {
		dead, variable := s.loads(b.Preparation, combination)
		w := dead + variable
		first := w*l/2 - dead*a*a/(2*l)   // reaction at the first support, nothing variable on the tail
		second := w*l/2 + w*a + w*a*a/2/l // at the second, all loaded
		root := w * a * a / 2
		c.Down[k], c.Down[n+k] = first, second
		st.V[k], st.V[2*n+k], st.V[3*n+k] = first*cos, -(w*l/2+root/l)*cos, w*a*cos
		st.M[2*n+k], st.M[3*n+k] = -root, -root
		if w > 0 {
			st.M[n+k] = first * first / (2 * w)
		}
		for r := range 4 {
			st.N[r*n+k] = s.axial
		}
	}
}

// sag fills the deflections: 5 M l2 / 48 EI of the span; the tail's are left at 0.
func (s sketch) sag(b *region.Batch) {
	rows, cases := len(b.Spans.From), len(b.Preparation.Cases)
	sp := &b.Spans
	sp.Deflection = make([]float64, rows*len(b.Preparation.Combinations))
	sp.CaseDeflect, sp.CaseMoment = make([]float64, rows*cases), make([]float64, rows*cases)
	sp.MoveDeflect, sp.MoveMoment = make([]float64, rows), make([]float64, rows)
	e := b.Preparation.Grades[0].E
	for i, c := range b.Preparation.Cases {
		if e > 0 {
			m := s.load[c.Action] * max(s.centres, 1) * s.span * s.span / 8
			axis := s.span / math.Cos(s.slope)
			sp.CaseMoment[i], sp.CaseDeflect[i] = m, 5*m*axis*axis/(48*e*b.Site.Sections[0].Iy)
		}
	}
}
