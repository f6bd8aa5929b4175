package facts_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/facts"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// What a region is told of a piece, column by column, against elementary statics. Forces: N in tension, V and M sagging positive.

// asked is the one batch of a document.
func asked(t *testing.T, f *facts.Filled) *region.Batch {
	t.Helper()
	lists := facts.NewLists(f.Source.Down.Frame.Document)
	var out *region.Batch
	for b := range f.Batches(lists, nil, false) {
		require.Nil(t, out, "more than one batch")
		out = b
	}
	require.NotNil(t, out)
	site := &region.Site{Grades: lists.Grades}
	for _, s := range lists.Sections {
		site.Sections = append(site.Sections, *s)
	}
	out.Site, out.Preparation = site, &region.Preparation{Cases: f.Source.Down.Cases, Combinations: f.Source.Combinations}
	require.NoError(t, out.Check())
	return out
}

// rowOfPiece is the row of a batch that a piece is judged in.
func rowOfPiece(t *testing.T, f *facts.Filled, b *region.Batch, name string) int {
	t.Helper()
	class := f.Classes.Of[pieceNamed(t, f, name)]
	for i, id := range b.Pieces.ID {
		if id == class {
			return i
		}
	}
	require.Fail(t, name+" is not in the batch")
	return -1
}

// station is one row of stations.
type station struct {
	at   float64
	span int32
	kind int32
	n    []float64
	v, m []float64
	out  []float64
}

func stationsOf(b *region.Batch, row int) []station {
	var list []station
	for r := int(b.Pieces.StationStart[row]); r < int(b.Pieces.StationStart[row+1]); r++ {
		of := func(column []float64) []float64 { return column[r*int(b.Combinations) : (r+1)*int(b.Combinations)] }
		s := &b.Stations
		list = append(list, station{s.At[r], s.Span[r], s.Kind[r], of(s.N), of(s.V), of(s.M), of(s.MomentOut)})
	}
	return list
}

// concurrent says whether a station at a place tells these forces, in a combination.
func concurrent(list []station, combination int, at, n, v, m float64) bool {
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-6*max(1, math.Abs(a)) }
	for _, s := range list {
		if math.Abs(s.at-at) < 1e-6 && near(n, s.n[combination]) && near(v, s.v[combination]) && near(m, s.m[combination]) {
			return true
		}
	}
	return false
}

func TestBatchOfASimpleBeam(t *testing.T) {
	// As in the table of the simple beam: 1 N/mm dead, 2 imposed over 4 m.
	f := run(t, four("4000", `{"on": "W1", "bearing": 100, "by": "seat"}, {"on": "W2", "bearing": 60}`, full), limitStates...)
	b := asked(t, f)
	require.Equal(t, []int32{f.Classes.Of[pieceNamed(t, f, "B")]}, b.Pieces.ID) // the walls stand on the ground
	p, c, s := &b.Pieces, &b.Contacts, &b.Spans
	assert.Equal(t, int32(1), p.Multiplicity[0])
	assert.Equal(t, "beam", p.Words[p.Role[0]])
	assert.Equal(t, "C24", b.Site.Grades[p.Grade[0]].Name)
	assert.Equal(t, "100x200", b.Site.Sections[p.Section[0]].Text)
	assert.Equal(t, []float64{4000}, p.Length)
	assert.False(t, p.Column[0] || p.Cranked[0] || p.Repetitive[0])

	assert.Equal(t, []float64{0, 4000}, c.At)
	assert.Equal(t, []bool{false, false}, c.Landing)
	assert.Equal(t, []int32{0, 1}, c.Support)
	assert.Equal(t, []float64{100, 60}, c.Length)
	assert.Equal(t, []float64{100, 100}, c.Width)
	assert.Equal(t, []float64{0, 0}, c.ToEnd) // both lie at an end
	assert.Equal(t, []float64{4000, 4000}, c.ToNext)
	assert.Equal(t, "masonry", p.Words[c.Underside[0]])
	assert.Equal(t, []string{"seat", ""}, []string{p.Words[c.By[0]], p.Words[c.By[1]]})
	down := []float64{1.35 * 2000, 4.35 * 2000, 3.9 * 2000, 3 * 2000}
	assert.InDeltaSlice(t, append(down, down...), c.Down, 1e-6)
	assert.InDeltaSlice(t, make([]float64, 8), c.Up, 1e-6)
	assert.InDeltaSlice(t, make([]float64, 8), c.Along, 1e-6)

	assert.Equal(t, []float64{0}, s.From)
	assert.Equal(t, []float64{4000}, s.To)
	sag := func(q float64) float64 {
		return 5 * q * math.Pow(4000, 4) / (384 * 11000 * 100 * math.Pow(200, 3) / 12)
	}
	assert.InDeltaSlice(t, []float64{0, 0, 0, sag(3)}, s.Deflection, 1e-6) // in use only
	assert.InDeltaSlice(t, []float64{sag(1), sag(2)}, s.CaseDeflect, 1e-6)
	assert.InDeltaSlice(t, []float64{2e6, 4e6}, s.CaseMoment, 1e-6)

	// At every station the forces are those of one load: V = q (2000 - x), M = q x (4000 - x) / 2.
	list := stationsOf(b, 0)
	places := map[float64]int32{}
	for _, at := range list {
		places[at.at] |= at.kind
		for k := range limitStates {
			q := at.m[k] / (at.at * (4000 - at.at) / 2)
			if at.at == 0 || at.at == 4000 {
				q = at.v[k] / (2000 - at.at)
				assert.InDelta(t, 0, at.m[k], 1e-6)
			}
			assert.InDelta(t, q*(2000-at.at), at.v[k], 1e-6)
			assert.Zero(t, at.n[k])
			assert.Equal(t, int32(0), at.span)
		}
	}
	assert.Equal(t, map[float64]int32{0: region.StationSupport, 2000: region.StationExtreme, 4000: region.StationSupport}, kinds(places))
	assert.True(t, concurrent(list, 1, 2000, 0, 0, 8.7e6), "the largest moment")
	assert.True(t, concurrent(list, 1, 0, 0, 8700, 0), "the largest shear")
}

// kinds leaves out that an extreme may fall on a support.
func kinds(places map[float64]int32) map[float64]int32 {
	for at, kind := range places {
		if kind&region.StationSupport != 0 {
			places[at] = region.StationSupport
		}
	}
	return places
}

func TestBatchOfABeamWithAnOverhang(t *testing.T) {
	// As in the table of the overhang: dead 0.1 and imposed 2 over 5 m, the second wall at 4 m.
	f := run(t, four("5000", `{"on": "W1", "bearing": 100}, {"on": "W2", "bearing": 100}`, `{"action": "dead", "line": 0.1}, {"action": "imposed", "line": 2}`), limitStates...)
	b := asked(t, f)
	c, s := &b.Contacts, &b.Spans
	assert.InDeltaSlice(t, []float64{
		1.35 * 187.5, 1.35*187.5 + 6000, 0.9*187.5 + 6000, 187.5 + 4000,
		1.35 * 312.5, 1.35*312.5 + 1.5*6250, 0.9*312.5 + 1.5*6250, 312.5 + 6250}, c.Down, 1e-6)
	assert.InDeltaSlice(t, []float64{0, 375 - 1.35*187.5, 206.25, 62.5, 0, 0, 0, 0}, c.Up, 1e-6)
	assert.Equal(t, []float64{0, 950}, c.ToEnd)
	assert.Equal(t, []float64{4000, 4000}, c.ToNext)

	assert.Equal(t, []float64{0, 4000}, s.From)
	assert.Equal(t, []float64{4000, 5000}, s.To)
	assert.Equal(t, []bool{false, true}, s.Overhang)
	const rigid = 11000.0 * 100 * 200 * 200 * 200 / 12
	// The imposed case alone bends the span most without the overhang, 5 q l^4 / (384 E I); its tip most without it too, upwards
	// by q l^3 a / (24 E I). The dead load bends both at once.
	assert.InDelta(t, 5*2*math.Pow(4000, 4)/(384*rigid), s.CaseDeflect[1], 1e-6)
	assert.InDelta(t, 2*math.Pow(4000, 3)*1000/(24*rigid), s.CaseDeflect[3], 1e-6)
	assert.InDelta(t, 0.1*1000*(math.Pow(4000, 3)-4*4000*1000*1000-3*math.Pow(1000, 3))/(24*rigid), s.CaseDeflect[2], 1e-6)
	assert.InDeltaSlice(t, []float64{187.5*2000 - 0.05*4e6, 3.5e6, -0.05e6, -1e6}, s.CaseMoment, 1e-3)

	list := stationsOf(b, 0)
	// Over W2 the hogging moment comes of the overhang's load: just before with V = -212.5 dead and -250 imposed, just after with
	// all of the overhang, 100 and 2000.
	hog := -(1.35*0.05e6 + 1.5*1e6)
	assert.True(t, concurrent(list, 1, 4000, 0, -1.35*212.5-1.5*250, hog), "before the support")
	assert.True(t, concurrent(list, 1, 4000, 0, 1.35*100+1.5*2000, hog), "after the support")
	// The largest shear just before W2 comes of both stretches, -4000 and -250.
	assert.True(t, concurrent(list, 1, 4000, 0, -1.35*212.5-1.5*4250, hog), "shear before the support")
	// The largest sagging moment lies where the shear of the span's load is nothing.
	at := 6253.125 / (2 * 1.5675)
	assert.True(t, concurrent(list, 1, at, 0, 0, 6253.125*6253.125/(4*1.5675)), "the largest moment")
	for _, x := range list {
		assert.Equal(t, x.at >= 4000 && x.span == 1 || x.at <= 4000 && x.span == 0, true, "the span of %g", x.at)
	}
}

func TestBatchTellsTheLargestShearBetweenLoads(t *testing.T) {
	// 9 kN down at 2 m and 6 up at 2.5 m of 3 m: 9 / 3 - 6 * 0.5 / 3 = 2 kN at the first support and 1 at the last, but 7 between
	// the two loads, where no moment is an extreme: 4 kN m at the first load, 0.5 at the second.
	f := run(t, frameOf(leaves+`, "B": {"role": "beam", "section": "100x200", "path": [[1000, 0, 100], [1000, 4000, 100]], "supports": [{"on": "W1", "at": 500}, {"on": "W2", "at": 3500}],
		"loads": [{"action": "dead", "point": 9, "at": 2500}, {"action": "dead", "point": -6, "at": 3000}]}`), "strength 1 dead")
	most := 0.0
	for _, s := range stationsOf(asked(t, f), 0) {
		most = max(most, math.Abs(s.v[0]))
	}
	assert.InDelta(t, 7000, most, 1e-6)
	hold(t, f, []want{{"B.shear", 7000}, {"B.moment", 4e6}})
}

func TestBatchTellsTheLargestPushAlongBetweenTies(t *testing.T) {
	// A collar half-way up takes 6666.67 N: below it only what is upright presses along the rafter, at most 5000 * 0.6 at the foot;
	// above it the collar's pull does too, and most of all just above it.
	f := run(t, couple(`, "tied_by": ["HC"]`, `, "tied_by": ["HC"]`, ""), "strength 1 dead")
	row := rowOfPiece(t, f, asked(t, f), "R1")
	least := 0.0
	for _, s := range stationsOf(asked(t, f), row) {
		least = min(least, s.n[0])
	}
	// Upright at the collar 5000 - 2500 are left, so that along the rafter 2500 * 0.6 + 6666.67 * 0.8 press.
	assert.InDelta(t, -(2500*0.6 + 20000.0/3*0.8), least, 1e-6)
}

func TestBatchOfACouple(t *testing.T) {
	// As couple has it: 5000 N at the foot and a tie of 3333.33 N. Along the rafter 5000 * 0.6 + 3333.33 * 0.8 = 5666.67 of
	// compression at the foot, 3000 less at the head; across it 5000 * 0.8 - 3333.33 * 0.6 = 2000; in the middle 0.8 * 5000^2 / 8.
	f := run(t, couple(`, "tied_by": ["CJ"]`, "", ""), "strength 1.35 dead", "characteristic 1 dead")
	b := asked(t, f)
	row := rowOfPiece(t, f, b, "R1")
	assert.InDelta(t, slope, b.Pieces.Slope[row], 1e-9)
	rafter := stationsOf(b, row)
	const h = 10000.0 / 3
	foot := -(5000*0.6 + h*0.8)
	assert.True(t, concurrent(rafter, 0, 0, 1.35*foot, 1.35*2000, 0), "the foot")
	assert.True(t, concurrent(rafter, 0, 2500, 1.35*(foot+1500), 0, 1.35*2.5e6), "the middle")
	assert.True(t, concurrent(rafter, 1, 5000, foot+3000, -2000, 0), "the head")
	at := int(b.Pieces.SpanStart[row])
	assert.Equal(t, []float64{0, 5000}, []float64{b.Spans.From[at], b.Spans.To[at]})
	// The two rafters mirror each other: they are judged once.
	assert.Equal(t, row, rowOfPiece(t, f, b, "R2"))
	assert.Equal(t, int32(2), b.Pieces.Multiplicity[row])
	tie := rowOfPiece(t, f, b, "CJ")
	for _, s := range stationsOf(b, tie) {
		assert.InDelta(t, 1.35*h, s.n[0], 1e-6)
	}
}

func TestTiesOfUnequalPullAreToldApart(t *testing.T) {
	// Two couples and a run of two ties; only the rafters of the second couple carry 1 N/mm more.
	pair := func(mark, y, line string) string {
		return `, "` + mark + `1": {"role": "rafter", "section": "50x150", "path": [[0, ` + y + `, 0], [4000, ` + y + `, 3000]], "tied_by": ["CJ"], "supports": [{"on": "W1"}, {"against": "` + mark + `2"}], "loads": [{"action": "dead", "line": ` + line + `}]},
		"` + mark + `2": {"role": "rafter", "section": "50x150", "path": [[8000, ` + y + `, 0], [4000, ` + y + `, 3000]], "tied_by": ["CJ"], "supports": [{"on": "W2"}, {"against": "` + mark + `1"}], "loads": [{"action": "dead", "line": ` + line + `}]}`
	}
	f := run(t, frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 900, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 900, 0]]},
	"CJ": {"role": "ceiling joist", "section": "47x147", "path": [[0, 0, 0], [8000, 0, 0]], "repeat": {"count": 2, "step": [0, 400, 0]}, "supports": [{"on": "W1"}, {"on": "W2"}]}`+
		pair("A", "0", "1")+pair("B", "400", "2")), "strength 1 dead")
	hold(t, f, []want{{"CJ#1.tension", 10000.0 / 3}, {"CJ#2.tension", 20000.0 / 3}})
}

func TestBatchOfAPostOffAxis(t *testing.T) {
	// A beam of 10 N/mm over 4 m lands 30 beside the axis of a post of 3 m: 20 kN, at 1.35 with 0.81e6 N mm at the head that die out
	// towards the foot.
	f := run(t, frameOf(leaves+`, "F": {"role": "foundation", "material": "concrete", "width": 300, "ground": true, "path": [[0, 2000, -3000], [6000, 2000, -3000]]},
	"P": {"role": "post", "section": "100x100", "grade": "C24", "path": [[5000, 2030, -3000], [5000, 2030, 0]], "supports": [{"on": "F"}], "held": {"depth": 1500, "width": "full"}},
	"B": {"role": "beam", "section": "100x200", "path": [[1000, 2000, 100], [5000, 2000, 100]], "supports": [{"on": "F", "at": 0}, {"on": "P", "at": 4000, "bearing": 80}], "loads": [{"action": "dead", "line": 10}]}`),
		"strength 1.35 dead", "characteristic 1 dead")
	b := asked(t, f)
	row := rowOfPiece(t, f, b, "P")
	assert.True(t, b.Pieces.Column[row])
	assert.Equal(t, 1500.0, b.Pieces.HeldDepth[row])
	assert.Equal(t, -1.0, b.Pieces.HeldWidth[row])
	list := stationsOf(b, row)
	require.NotEmpty(t, list)
	for _, s := range list {
		assert.InDelta(t, -27000, s.n[0], 1e-6, "at %g", s.at)
		assert.InDelta(t, 27000*30*s.at/3000, s.out[0], 1e-6, "at %g", s.at)
	}
	assert.True(t, slices.ContainsFunc(list, func(s station) bool { return s.at == 3000 && s.out[0] > 0 }), "its head must be told, where the moment is")
	at := int(b.Pieces.ContactStart[row])
	assert.Equal(t, []float64{0, 100, 100, 30}, []float64{b.Contacts.At[at], b.Contacts.Length[at], b.Contacts.Width[at], b.Contacts.Eccentric[at]})
	assert.Equal(t, "concrete", b.Pieces.Words[b.Contacts.Underside[at]])
}

func TestBatchOfCutEnds(t *testing.T) {
	// A notched end without and with a stated distance to the reaction, a notch and two holes away from the supports.
	f := run(t, frameOf(leaves+`, "B": {"role": "beam", "section": "100x200", "path": [[1000, 0, 100], [1000, 4000, 100]],
		"supports": [{"on": "W1", "bearing": 80, "notch": {"depth": 30, "face": "bottom", "slope": 4}}, {"on": "W2", "bearing": 60, "notch": {"depth": 20, "face": "top", "to_reaction": 55}}],
		"notches": [{"at": 500, "depth": 25, "length": 60, "face": "bottom"}], "holes": [{"at": 1000, "diameter": 40, "edge": 70}, {"at": 1500, "diameter": 30}], "loads": [{"action": "dead", "line": 1}]}`), "strength 1 dead")
	b := asked(t, f)
	c, p := &b.Contacts, &b.Pieces
	assert.Equal(t, []float64{30, 20}, c.NotchDepth)
	assert.Equal(t, []string{"bottom", "top"}, []string{p.Words[c.NotchFace[0]], p.Words[c.NotchFace[1]]})
	assert.Equal(t, []float64{4, 0}, c.NotchSlope)
	assert.Equal(t, []float64{40, 55}, c.NotchX) // half the bearing where nothing is stated
	assert.Equal(t, []float64{500, 25, 60}, []float64{b.Notches.At[0], b.Notches.Depth[0], b.Notches.Length[0]})
	assert.True(t, b.Notches.Bottom[0])
	assert.Equal(t, []float64{70, -1}, b.Holes.FromTop)
	assert.Equal(t, []float64{40, 30}, b.Holes.Diameter)
	// V = 2000 - x, M = x (4000 - x) / 2 at each cut.
	list := stationsOf(b, 0)
	for _, cut := range []struct {
		at   float64
		kind int32
	}{{500, region.StationNotch}, {1000, region.StationHole}, {1500, region.StationHole}} {
		assert.True(t, concurrent(list, 0, cut.at, 0, 2000-cut.at, cut.at*(4000-cut.at)/2), "at %g", cut.at)
		for _, s := range list {
			if s.at == cut.at {
				assert.Equal(t, cut.kind, s.kind)
			}
		}
	}
}

func TestBatchOfABeamOnMasonry(t *testing.T) {
	// The beam stands 900 from the end of a wall of 140 on a padstone, and on a beam that crosses under it: there it lands.
	f := run(t, frameOf(`"W1": {"role": "wall", "material": "masonry", "width": 140, "height": 2400, "ground": true, "path": [[0, 0, 0], [6000, 0, 0]], "masonry": {"unit": "clay", "group": 1, "strength": 20, "mortar": 4, "class": "II"}},
	"W2": {"role": "wall", "material": "masonry", "width": 140, "ground": true, "path": [[0, 4000, -200], [6000, 4000, -200]]},
	"S": {"role": "beam", "section": "203x133x25 UB", "grade": "S275", "path": [[0, 4000, 0], [6000, 4000, 0]], "supports": [{"on": "W2", "at": 0, "bearing": 150}, {"on": "W2", "at": 6000, "bearing": 150}]},
	"B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[900, 0, 300], [900, 4000, 300]], "supports": [{"on": "W1", "bearing": 120, "by": "seat", "seat": {"kind": "padstone", "size": "440x140x215", "strength": 15}},
		{"on": "S", "bearing": 133, "by": "bolted"}], "loads": [{"action": "dead", "line": 2}]}`), "strength 1.5 dead")
	b := asked(t, f)
	c, p := &b.Contacts, &b.Pieces
	at := int(p.ContactStart[rowOfPiece(t, f, b, "B")])
	assert.Equal(t, []string{"padstone", "seat", "masonry", "clay", "II"},
		[]string{p.Words[c.SeatKind[at]], p.Words[c.By[at]], p.Words[c.Underside[at]], p.Words[c.WallUnit[at]], p.Words[c.WallClass[at]]})
	assert.Equal(t, []float64{440, 140, 215, 15}, []float64{c.SeatAlong[at], c.SeatAcross[at], c.SeatHigh[at], c.SeatStress[at]})
	assert.Equal(t, []float64{140, 2400, 20, 4, 900}, []float64{c.WallWidth[at], c.WallHeight[at], c.WallUnitF[at], c.WallMortar[at], c.ToWallEnd[at]})
	assert.Equal(t, int32(1), c.WallGroup[at])
	assert.Equal(t, []float64{120, 100}, []float64{c.Length[at], c.Width[at]})
	assert.Equal(t, []float64{0, -1}, []float64{c.WallWidth[at+1], c.ToWallEnd[at+1]}) // steel is no wall
	assert.Equal(t, "steel", p.Words[c.Underside[at+1]])
	// What the steel is told of the same place: timber lands on it 900 from its end, 100 along it and 133 across, with 6000 N.
	steel := int(p.ContactStart[rowOfPiece(t, f, b, "S")])
	landing := steel + 2
	assert.Equal(t, []bool{false, false, true}, c.Landing[steel:landing+1])
	assert.Equal(t, int32(-1), c.Support[landing])
	assert.Equal(t, []float64{900, 100, 133, 900 - 50}, []float64{c.At[landing], c.Length[landing], c.Width[landing], c.ToEnd[landing]})
	assert.Equal(t, "timber", p.Words[c.Underside[landing]])
	assert.InDelta(t, 6000, c.Down[landing], 1e-6)
	assert.Equal(t, model.Quantity{}, f.Source.Down.Frame.Document.Member("W2").More().Height) // not stated:
	assert.Equal(t, 0.0, c.WallHeight[steel])
}

// What is called a stud and lies flat spans: it is told as a beam is, not as what stands upright.
func TestAStudThatLiesFlatIsNoColumn(t *testing.T) {
	for _, row := range []struct {
		role, end string
		column    bool
	}{{"beam", "[0, 4000, 0]", false}, {"stud", "[0, 4000, 0]", false}, {"strut", "[0, 4000, 3900]", false}, {"strut", "[0, 4000, 4100]", true}, {"beam", "[0, 4000, 4100]", false}} {
		f := run(t, frameOf(leaves+`, "S": {"role": "`+row.role+`", "section": "47x195", "grade": "C24", "path": [[0, 0, 0], `+row.end+`], "supports": [{"on": "W1", "bearing": 90}, {"on": "W2", "bearing": 90}],
			"loads": [{"action": "dead", "line": 1}]}`), "strength 1 dead")
		b := asked(t, f)
		assert.Equal(t, row.column, b.Pieces.Column[rowOfPiece(t, f, b, "S")], "%s to %s", row.role, row.end)
	}
}

// A run whose centres nobody states stands at its step; a single joist has none.
func TestARunWithoutCentresStandsAtItsStep(t *testing.T) {
	for says, want := range map[string]float64{`"centres": 350, "repeat": {"count": 4, "step": [400, 0, 0]}`: 350, `"repeat": {"count": 4, "step": [400, 0, 0]}`: 400, `"note": "alone"`: 0} {
		f := run(t, frameOf(leaves+`, "J": {"role": "floor joist", "section": "47x195", "grade": "C24", "path": [[500, 0, 97.5], [500, 4000, 97.5]], `+says+`,
			"supports": [{"on": "W1", "bearing": 90}, {"on": "W2", "bearing": 90}], "loads": [{"action": "dead", "line": 1}]}`), "strength 1 dead")
		assert.Equal(t, want, asked(t, f).Pieces.Centres[0], says)
	}
}

// A post stands on its foot, however it is fixed there, and presses what it stands on; a joist beside a beam hangs on its bolts.
func TestAPostPressesWhatItStandsOnHoweverItIsFixed(t *testing.T) {
	for _, by := range []string{"nailed", "bolted", "seat"} {
		f := run(t, frameOf(leaves+`, "B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[0, 0, 100], [0, 4000, 100]], "supports": [{"on": "W1", "bearing": 90}, {"on": "W2", "bearing": 90}]},
			"P": {"role": "post", "section": "90x90", "grade": "C24", "path": [[0, 1000, 200], [0, 1000, 2600]], "supports": [{"on": "B", "by": "`+by+`"}], "loads": [{"action": "dead", "point": 5, "at": 2400}]},
			"J": {"role": "floor joist", "section": "47x195", "grade": "C24", "path": [[50, 3000, 100], [2000, 3000, 100]], "supports": [{"on": "B", "by": "bolted"}, {"on": "P2", "at": 1950}], "loads": [{"action": "dead", "line": 1}]},
			"P2": {"role": "post", "ground": true, "section": "90x90", "path": [[2000, 3000, -2000], [2000, 3000, 2.5]]}`), "strength 1 dead")
		b := asked(t, f)
		c, words := &b.Contacts, b.Pieces.Words
		at := int(b.Pieces.ContactStart[rowOfPiece(t, f, b, "B")]) + 2
		assert.Equal(t, []string{"seat", "bolted"}, []string{words[c.By[at]], words[c.By[at+1]]}, by)
		assert.Equal(t, []float64{90, 90}, []float64{c.Length[at], c.Width[at]}, by)
	}
}

func TestEqualPiecesAreJudgedOnce(t *testing.T) {
	// Six joists on two beams that are held alike: all are equal. On a wall they stand ever further from its end, and the outer two,
	// 500 from either end, are a pair.
	joists := func(on string) string {
		return frameOf(leaves + `, "B1": {"role": "beam", "section": "100x200", "path": [[0, 0, 0], [6000, 0, 0]], "supports": [{"on": "W1", "at": 0}, {"on": "W1", "at": 6000}]},
		"B2": {"role": "beam", "section": "100x200", "path": [[0, 4000, 0], [6000, 4000, 0]], "supports": [{"on": "W2", "at": 0}, {"on": "W2", "at": 6000}]},
		"J": {"role": "floor joist", "section": "47x195", "centres": 400, "path": [[500, 0, 97.5], [500, 4000, 97.5]], "repeat": {"count": 6, "step": [1000, 0, 0]}, "supports": [{"on": "` + on + `1", "bearing": 45}, {"on": "` + on + `2", "bearing": 45}], "loads": [{"action": "dead", "line": 1}]}`)
	}
	f := run(t, joists("B"), "strength 1 dead")
	b := asked(t, f)
	assert.Equal(t, int32(6), b.Pieces.Multiplicity[rowOfPiece(t, f, b, "J#1")])
	f = run(t, joists("W"), "strength 1 dead")
	b = asked(t, f)
	assert.Equal(t, int32(2), b.Pieces.Multiplicity[rowOfPiece(t, f, b, "J#1")])
	assert.Equal(t, rowOfPiece(t, f, b, "J#1"), rowOfPiece(t, f, b, "J#6"))
	assert.NotEqual(t, rowOfPiece(t, f, b, "J#1"), rowOfPiece(t, f, b, "J#2"))
}
