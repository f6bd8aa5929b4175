package ec6_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/eurocode/ec6"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

func gb(t testing.TB) *national.Masonry {
	t.Helper()
	c, absent := national.For("GB-ENG")
	require.Empty(t, absent)
	return &c.Masonry
}

func step(t testing.TB, sheet *working.Sheet, symbol string) float64 {
	t.Helper()
	var found []float64
	for _, s := range sheet.Steps {
		if s.Symbol == symbol {
			found = append(found, s.Value)
		}
	}
	require.Len(t, found, 1, "%s in %v", symbol, sheet.Steps)
	return found[0]
}

func ratio(t testing.TB, o working.Outcome) float64 {
	t.Helper()
	r, known := o.Ratio()
	require.True(t, known, o.Reason())
	return r
}

// blocks is dense aggregate concrete of 7.3 N/mm2 in M4, ordinary work.
var blocks = ec6.Masonry{Unit: "aggregate concrete", Group: 1, UnitStrength: 7.3, Mortar: 4, Category: 2, Execution: 2}

func strength(t testing.TB, m ec6.Masonry) ec6.Strength {
	t.Helper()
	s, absent := m.Strength(gb(t), nil)
	require.Empty(t, absent)
	return s
}

// bearing is a steel beam of 133 mm flange, 100 mm onto a 140 mm wall of blocks 2.3 m high, 600 mm from its end.
func bearing(t testing.TB) ec6.Bearing {
	return ec6.Bearing{Wall: ec6.Wall{Strength: strength(t, blocks), Thickness: 140, Height: 2300},
		Force: 30e3, Length: 133, Width: 100, Before: 600, After: 3000, Eccentricity: 20}
}

func TestStrength(t *testing.T) {
	for name, row := range map[string]struct {
		change func(*ec6.Masonry)
		fk, fd float64
	}{
		"3.2: 0.75 x 7.3^0.7 x 4^0.3, over 3.0": {
			func(*ec6.Masonry) {}, 0.75 * math.Pow(7.3, 0.7) * math.Pow(4, 0.3), 0.75 * math.Pow(7.3, 0.7) * math.Pow(4, 0.3) / 3.0},
		"clay of group 2, better control": {
			func(m *ec6.Masonry) { m.Unit, m.Group, m.UnitStrength, m.Category, m.Execution = "clay", 2, 20, 1, 1 },
			0.40 * math.Pow(20, 0.7) * math.Pow(4, 0.3), 0.40 * math.Pow(20, 0.7) * math.Pow(4, 0.3) / 2.3},
		"a joint along the wall takes a fifth (3.6.1.2(6))": {
			func(m *ec6.Masonry) { m.Jointed, m.Category = true, 1 },
			0.6 * math.Pow(7.3, 0.7) * math.Pow(4, 0.3), 0.6 * math.Pow(7.3, 0.7) * math.Pow(4, 0.3) / 2.7},
		"mortar counts up to twice the unit (3.6.1.2(2))": {
			func(m *ec6.Masonry) { m.UnitStrength, m.Mortar, m.Execution = 2.9, 12, 1 },
			0.75 * math.Pow(2.9, 0.7) * math.Pow(5.8, 0.3), 0.75 * math.Pow(2.9, 0.7) * math.Pow(5.8, 0.3) / 2.6},
		"and up to 20, units up to 75": {
			func(m *ec6.Masonry) { m.UnitStrength, m.Mortar = 100, 30 },
			0.75 * math.Pow(75, 0.7) * math.Pow(20, 0.3), 0.75 * math.Pow(75, 0.7) * math.Pow(20, 0.3) / 3.0},
	} {
		t.Run(name, func(t *testing.T) {
			m := blocks
			row.change(&m)
			got := strength(t, m)
			assert.InDelta(t, row.fk, got.Fk, 1e-9)
			assert.InDelta(t, row.fd, got.Fd, 1e-9)
			assert.Equal(t, m.Group == 1, got.Solid)
		})
	}
}

// 6.1.3 by hand. The wall below spreads the load at 60 degrees: 1150 / tan 60 = 664 mm, more than the 600 mm to the end.
func TestBeneathABeam(t *testing.T) {
	b := bearing(t)
	fd := 0.75 * math.Pow(7.3, 0.7) * math.Pow(4, 0.3) / 3
	spread := 1150 / math.Sqrt(3)
	loaded := 133 * 100 / ((133 + 600 + spread) * 140)
	beta := (1 + 0.3*600/2300) * (1.5 - 1.1*loaded)
	limit := math.Min(1.25+600/4600.0, 1.5)
	var sheet working.Sheet
	got := ratio(t, b.Beneath(&sheet))
	assert.InDelta(t, (133+600+spread)*140, step(t, &sheet, "A_ef"), 1e-6)
	assert.InDelta(t, math.Min(beta, limit), step(t, &sheet, "beta"), 1e-12)
	assert.InDelta(t, 30e3/(math.Min(beta, limit)*133*100*fd), got, 1e-9)
}

func TestEnhancement(t *testing.T) {
	for name, row := range map[string]struct {
		change func(*ec6.Bearing)
		beta   float64
	}{
		"at the very end of a wall at most 1.25": {
			func(b *ec6.Bearing) { b.Before, b.Length, b.Width = 0, 50, 50 }, 1.25},
		"far from the end at most 1.5": {
			func(b *ec6.Bearing) { b.Before, b.Length, b.Width = 2900, 50, 50 }, 1.5},
		"a load over all of a pier is helped by nothing": {
			func(b *ec6.Bearing) { b.Before, b.After, b.Length, b.Width = 0, 0, 440, 140 }, 1.005}, // 1.5 - 1.1 x 0.45
		"units with voids have no help at all (6.1.3)": {
			func(b *ec6.Bearing) { b.Wall.Strength.Solid = false }, 1},
	} {
		t.Run(name, func(t *testing.T) {
			b := bearing(t)
			row.change(&b)
			var sheet working.Sheet
			ratio(t, b.Beneath(&sheet))
			assert.InDelta(t, row.beta, step(t, &sheet, "beta"), 1e-9)
		})
	}
}

// Two bearings of 30 kN on 133 mm of a long wall, 400 mm apart, by hand after 6.1.3(5) and Figure 6.2 (read). Each spreads over l_efm =
// 133 + 2 x 1150 / tan 60 = 1460.9 mm; 400 mm apart the two lengths overlap, and where they do the wall carries both: 2 x 30000 /
// 1460.9 = 41.07 N/mm, beside 5 N/mm of its own. N_Ed,m = 30000 + (20.535 + 5) x 1460.9 = 67305 N. Each is 20 mm off the centre
// line, to the same side, of which half is left at mid-height: e_mk = 2300 / 450 + 60000 x 10 / 67305 = 14.03 mm (6.6).
//
// The other reading, to end each length half-way to the next load and not to sum, has no place for a neighbour of another size,
// nor for what comes from a wall above. In a long row of equal loads the sum is never less than that: at 400 mm centres four
// lengths of 1460.9 mm overlap somewhere within each, 4 x 30000 / 1460.9 = 82.1 N/mm, where 30000 / 400 is 75.
func TestBearingsWhoseEffectiveLengthsOverlap(t *testing.T) {
	b := bearing(t)
	b.Before, b.After, b.Apart = 3000, 3000, 400
	length := 133 + 2300/math.Sqrt(3)
	b.Beside, b.Turn = 30e3/length+5, 30e3/length*20
	off := 2300/450.0 + 2*30e3*10/(2*30e3+5*length)
	var sheet working.Sheet
	got := ratio(t, b.MidHeight(gb(t), &sheet))
	assert.InDelta(t, 67305, step(t, &sheet, "N_Ed,m"), 5)
	assert.InDelta(t, 1460.9, step(t, &sheet, "l_efm"), 0.1)
	assert.InDelta(t, off, step(t, &sheet, "e_mk"), 1e-9)
	assert.InDelta(t, 14.03, off, 0.01)
	assert.InDelta(t, (41.07+5)*length/(step(t, &sheet, "Phi_m")*140*length*b.Wall.Strength.Fd), got, 1e-3*got)

	// What helps beneath the load is the masonry half-way to the next: (400 - 133) / 2 = 133.5 mm on either side.
	sheet = working.Sheet{}
	ratio(t, b.Beneath(&sheet))
	assert.InDelta(t, 133.5, step(t, &sheet, "a_1"), 1e-9)
	assert.InDelta(t, 400*140, step(t, &sheet, "A_ef"), 1e-9)
}

// Load beside a bearing presses in the middle of the wall. In the most slender wall, under a load as far off its middle as all of it counts,
// that brings the sum in more than it adds, and the bearing alone counts. By hand, h / t = 27, e = t / 4, on l_efm = 133 + 3780 / tan
// 60 = 2315.4 mm: alone e_mk = 8.4 + 17.5 = 25.9 mm, u = (27 / sqrt(1000) - 0.063) / (0.73 - 1.17 x 0.185) = 1.5399, Phi_m = 0.63 exp(-u2
// / 2) = 0.19250 and 30000 / Phi_m = 155.85 kN; with 0.5 N/mm beside it e_mk = 25.25 mm, Phi_m = 0.2002 and 31158 / Phi_m = 155.6 kN.
func TestLoadBesideThatWouldHelpIsLeftOut(t *testing.T) {
	b := bearing(t)
	b.Wall.Height, b.Before, b.After, b.Eccentricity = 27*140, 3000, 3000, 35
	alone := ratio(t, b.MidHeight(gb(t), nil))
	b.Beside = 0.5
	var sheet working.Sheet
	assert.Equal(t, alone, ratio(t, b.MidHeight(gb(t), &sheet)))
	assert.InDelta(t, 30e3, step(t, &sheet, "N_Ed,m"), 1e-9)
	assert.InDelta(t, 0.19250, step(t, &sheet, "Phi_m"), 1e-4)
}

// offMiddle is a beam of 133 mm flange that bears 100 mm on a wall of 215 mm of blocks, 2.4 m high, 600 mm from its end.
func offMiddle(t testing.TB) ec6.Bearing {
	return ec6.Bearing{Wall: ec6.Wall{Strength: strength(t, blocks), Thickness: 215, Height: 2400},
		Force: 12e3, Length: 133, Width: 100, Before: 600, After: 3000, Eccentricity: 57.5, Beside: 9, Turn: 3 * 107.5}
}

// 100 mm of bearing on a wall of 215 mm by hand: e = (215 - 100) / 2 = 57.5 mm is more than 215 / 4 = 53.75 mm (6.1.3(4), read), and
// t - 2e = 100 mm is counted, as in phi_i = 1 - 2e/t (6.1.2.2, read).
//
//	beneath     beta = 1: N_Rdc = 133 x 100 x 1.5236 = 20264 N: 12000 / 20264 = 0.5922
//	mid-height  l_efm = 133 + 600 + 1200 / tan 60 = 1425.8 mm; h / t = 24
//	            12000 N and 9 N/mm beside it, of which 3 N/mm are at the face of the wall, 50 mm from the middle of the 100: N_Ed,m =
//	            24832 N; e_mk = 2400 / 450 + 3 x 50 x 1425.8 / 2 / 24832 = 9.640 mm
//	            u = 22 / (23 - 37 x 0.0964) = 1.1320; Phi_m = (1 - 0.1928) exp(-0.6407) = 0.4253
//	            N_Rd,m = 0.4253 x 100 x 1425.8 x 1.5236 = 92.39 kN: 0.2688
func TestFurtherThanAQuarterFromTheMiddle(t *testing.T) {
	b := offMiddle(t)
	var sheet working.Sheet
	got := ratio(t, b.Bearing(gb(t), &sheet))
	assert.Equal(t, 100.0, step(t, &sheet, "t - 2e"))
	assert.Equal(t, 1.0, step(t, &sheet, "beta"))
	assert.InDelta(t, 20264, step(t, &sheet, "N_Rdc"), 1)
	assert.InDelta(t, 0.5922, got, 1e-4)
	assert.InDelta(t, 24, step(t, &sheet, "h_ef/t_ef"), 1e-12)
	assert.InDelta(t, 24832, step(t, &sheet, "N_Ed,m"), 1)
	assert.InDelta(t, 9.640, step(t, &sheet, "e_mk"), 1e-3)
	assert.InEpsilon(t, 0.2688, step(t, &sheet, "ratio 6.1"), 0.01)
	assert.Equal(t, step(t, &sheet, "ratio 6.9"), ratio(t, b.Beneath(nil)))
	assert.Equal(t, step(t, &sheet, "ratio 6.1"), ratio(t, b.MidHeight(gb(t), nil)))

	other := b
	other.Eccentricity = -57.5
	assert.Equal(t, got, ratio(t, other.Bearing(gb(t), nil)), "to the other side")
	stone, absent := b.On(ec6.Padstone{Length: 440, Width: 215, Depth: 280})
	require.Empty(t, absent)
	sheet = working.Sheet{}
	ratio(t, stone.Bearing(gb(t), &sheet))
	assert.Equal(t, 440*100.0, step(t, &sheet, "A_b"), "of a stone as wide as the wall so much is counted as lies about the load")
}

// The load moves from the middle of the wall to its face. Beyond a quarter of the thickness the ratio is at least that of phi_i at
// the top of the wall, 1 - 2e/t (6.1.2.2), and of the whole wall at mid-height with half of the eccentricity left (6.1.2).
func TestFurtherFromTheMiddleNeverLowersARatio(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	further := 0
	for range 400 {
		b := offMiddle(t)
		b.Wall.Thickness = 100 + 300*r.Float64()
		b.Wall.Height = b.Wall.Thickness * (3 + 24*r.Float64())
		b.Wall.Strength.Solid = r.IntN(4) > 0
		b.Before, b.After = 1500*r.Float64(), 3000*r.Float64()
		b.Length, b.Width = 40+400*r.Float64(), b.Wall.Thickness*r.Float64()
		b.Force *= r.Float64()
		b.Apart = (b.Length + 600*r.Float64()) * float64(r.IntN(2))
		b.Beside = 40 * r.Float64() * float64(r.IntN(2))
		b.Turn = b.Beside * b.Wall.Thickness / 2 * r.Float64() * float64(r.IntN(2))
		quarter, last, known := b.Wall.Thickness/4, 0.0, true
		for _, off := range []float64{0, 0.3, 0.7, 0.99, 1, 1 + 1e-12, 1.001, 1.05, 1.1, 1.2, 1.4, 1.6, 1.8, 1.95} {
			b.Eccentricity = off * quarter
			outcome := b.Bearing(gb(t), nil)
			now, can := outcome.Ratio()
			require.False(t, can && !known, "%+v", b)
			if known = can; !can {
				continue
			}
			require.GreaterOrEqual(t, now, last*(1-1e-9), "%+v", b)
			if last = now; off <= 1 {
				continue
			}
			further++
			w, fd := &b.Wall, b.Wall.Strength.Fd
			require.GreaterOrEqual(t, now*1.0001, b.Force/((1-2*b.Eccentricity/w.Thickness)*w.Thickness*b.Length*fd))
			spread := w.Height / 2 / math.Sqrt(3)
			length := b.Length + math.Min(spread, b.Before) + math.Min(spread, b.After)
			load := b.Force + b.Beside*length
			e := math.Max(w.Height/450+(b.Force*b.Eccentricity+b.Turn*length)/2/load, 0.05*w.Thickness) / w.Thickness
			u := math.Max(0, (w.Height/w.Thickness-2)/(23-37*e))
			require.GreaterOrEqual(t, now*1.02, load/((1-2*e)*math.Exp(-u*u/2)*w.Thickness*length*fd), "%+v", b)
		}
	}
	require.Greater(t, further, 500)
}

// The wall at mid-height by G.1 with E = 1000 f_k in the other form of its exponent, u = (h/t - 2) / (23 - 37 e/t), whose rounded
// figures differ by less than 1 %.
func TestWallAtMidHeight(t *testing.T) {
	b := bearing(t)
	b.Beside = 12
	length := 133 + 600 + 1150/math.Sqrt(3)
	load := 30e3 + 12*length
	off := 2300/450.0 + 30e3*10/load
	require.Greater(t, off, 0.05*140)
	u := (2300/140.0 - 2) / (23 - 37*off/140)
	phi := (1 - 2*off/140) * math.Exp(-u*u/2)
	fd := 0.75 * math.Pow(7.3, 0.7) * math.Pow(4, 0.3) / 3
	var sheet working.Sheet
	got := ratio(t, b.MidHeight(gb(t), &sheet))
	assert.InDelta(t, off, step(t, &sheet, "e_mk"), 1e-9)
	assert.InEpsilon(t, phi, step(t, &sheet, "Phi_m"), 0.01)
	assert.InEpsilon(t, load/(phi*140*length*fd), got, 0.01)

	b.Force = 0 // nothing but the wall: the least eccentricity is a twentieth of the thickness
	b.Wall.EffectiveHeight = 1725
	sheet = working.Sheet{}
	ratio(t, b.MidHeight(gb(t), &sheet))
	assert.InDelta(t, 7.0, step(t, &sheet, "e_mk"), 1e-9)
}

func TestAPierOfSmallAreaIsWeaker(t *testing.T) {
	b := bearing(t)
	b.Before, b.After = 100, 107 // 340 x 140 = 0.0476 m2
	var sheet working.Sheet
	got := ratio(t, b.Beneath(&sheet))
	factor := 0.7 + 3*0.0476
	assert.InDelta(t, factor, step(t, &sheet, "small area factor"), 1e-9)
	assert.InDelta(t, 30e3/(step(t, &sheet, "beta")*13300*b.Wall.Strength.Fd*factor), got, 1e-9)
}

// The load spreads in a stone at 60 degrees to the level (6.1.3(6) and Figure 6.2, read): 2 / tan 60 = 1.1547 of its height.
func TestPadstone(t *testing.T) {
	for name, row := range map[string]struct {
		stone                 ec6.Padstone
		length, width, before float64
	}{
		"a stone of 440 x 140 x 280 is used whole: 133 + 323 > 440": {ec6.Padstone{Length: 440, Width: 140, Depth: 280}, 440, 140, 446.5},
		"of one of 215 high 133 + 248 mm press on the wall":         {ec6.Padstone{Length: 440, Width: 140, Depth: 215}, 381.26, 140, 475.87},
		"of a long thin one 133 + 75":                               {ec6.Padstone{Length: 800, Width: 140, Depth: 65}, 208.06, 140, 562.47},
		"across the wall too":                                       {ec6.Padstone{Length: 200, Width: 140, Depth: 10}, 144.55, 111.55, 594.23},
	} {
		t.Run(name, func(t *testing.T) {
			got, absent := bearing(t).On(row.stone)
			require.Empty(t, absent)
			assert.InDelta(t, row.length, got.Length, 0.005)
			assert.InDelta(t, row.width, got.Width, 0.005)
			assert.InDelta(t, row.before, got.Before, 0.005)
		})
	}
}

// The stone under the beam lessens the stress beneath it. By hand: A_b = 440 x 140 all across the wall, so that A_b / A_ef is
// 440 / (440 + 446.5 + 664) and beta (1 + 0.3 x 446.5 / 2300)(1.5 - 1.1 x 0.284) = 1.26.
func TestBeamOnAPadstone(t *testing.T) {
	bare := bearing(t)
	on, absent := bare.On(ec6.Padstone{Length: 440, Width: 140, Depth: 280})
	require.Empty(t, absent)
	var sheet working.Sheet
	got := ratio(t, on.Beneath(&sheet))
	spread := 1150 / math.Sqrt(3)
	beta := (1 + 0.3*446.5/2300) * (1.5 - 1.1*440/(440+446.5+spread))
	assert.InDelta(t, beta, step(t, &sheet, "beta"), 1e-9)
	assert.InDelta(t, 30e3/(beta*440*140*bare.Wall.Strength.Fd), got, 1e-9)
	assert.Less(t, got, ratio(t, bare.Beneath(nil))/3)
}

func TestBearingIsTheWorseOfBoth(t *testing.T) {
	b := bearing(t)
	var sheet working.Sheet
	got := ratio(t, b.Bearing(gb(t), &sheet))
	assert.Equal(t, max(ratio(t, b.Beneath(nil)), ratio(t, b.MidHeight(gb(t), nil))), got)
	assert.Equal(t, got, step(t, &sheet, "ratio"))
	for _, s := range sheet.Steps {
		assert.NotEmpty(t, s.Clause, s.Symbol)
	}
}

func TestProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		b := bearing(t)
		b.Before, b.After, b.Eccentricity = 2000*r.Float64(), 2000*r.Float64(), 35*(2*r.Float64()-1)
		b.Wall.Height = 1500 + 1500*r.Float64()
		beneath := ratio(t, b.Beneath(nil))
		whole := ratio(t, b.Bearing(gb(t), nil))
		require.GreaterOrEqual(t, whole, beneath)

		heavier := b
		heavier.Force *= 2
		require.InEpsilon(t, 2*beneath, ratio(t, heavier.Beneath(nil)), 1e-9)
		require.Greater(t, ratio(t, heavier.MidHeight(gb(t), nil)), ratio(t, b.MidHeight(gb(t), nil)))

		wider := b
		wider.Width = 140
		require.Less(t, ratio(t, wider.Beneath(nil)), beneath)
		b.Apart = 200 + 600*r.Float64()
		b.Beside = 40 * r.Float64()
		b.Turn = b.Beside * 70 * r.Float64()
		slim := b
		slim.Wall.Height = 140 * (20 + 7*r.Float64())
		for _, b := range []ec6.Bearing{b, slim} {
			busier, more := b, 40*r.Float64()*r.Float64()
			busier.Beside += more
			busier.Turn += more * 70 * r.Float64() * float64(r.IntN(2))
			require.GreaterOrEqual(t, ratio(t, busier.Bearing(gb(t), nil)), ratio(t, b.Bearing(gb(t), nil))*(1-1e-9), "%+v", b)
		}
		b.Apart, b.Beside, b.Turn = 0, 0, 0
		whole = ratio(t, b.Bearing(gb(t), nil))
		further := b
		further.Before += 100
		further.After += 100
		require.LessOrEqual(t, ratio(t, further.Bearing(gb(t), nil)), whole*(1+1e-9))
	}
}

func TestMortarStrength(t *testing.T) {
	for name, want := range map[string]float64{"M2": 2, "M4": 4, "M12": 12, "M2.5": 2.5} {
		got, absent := ec6.MortarStrength(name)
		assert.Empty(t, absent)
		assert.Equal(t, want, got)
	}
	for _, name := range []string{"", "M", "4", "M0", "M-4", "lime", "MInf", "MNaN"} {
		_, absent := ec6.MortarStrength(name)
		assert.Contains(t, string(absent), "name it by its strength", name)
	}
}

func TestMasonryThatIsNotKnown(t *testing.T) {
	ireland, absent := national.For("IE")
	require.Empty(t, absent)
	for name, row := range map[string]struct {
		change  func(*ec6.Masonry)
		choices *national.Masonry
		says    string
	}{
		"no country":                     {func(*ec6.Masonry) {}, nil, "state the region"},
		"a country not sourced":          {func(*ec6.Masonry) {}, &ireland.Masonry, `no sourced K for masonry of "aggregate concrete"`},
		"no strength":                    {func(m *ec6.Masonry) { m.UnitStrength = 0 }, gb(t), "strength of the masonry's units"},
		"units that are not listed":      {func(m *ec6.Masonry) { m.Unit = "rubble" }, gb(t), `"rubble"`},
		"a group that is not listed":     {func(m *ec6.Masonry) { m.Group = 4 }, gb(t), `no value for "4"`},
		"no class of execution":          {func(m *ec6.Masonry) { m.Execution = 0 }, gb(t), "class of execution control"},
		"a category that there is not":   {func(m *ec6.Masonry) { m.Category = 3 }, gb(t), "category of the masonry units"},
		"a strength that is no number":   {func(m *ec6.Masonry) { m.Mortar = math.NaN() }, gb(t), "not stated"},
		"a name as long as a whole page": {func(m *ec6.Masonry) { m.Unit = string(make([]byte, 5000)) }, gb(t), "no sourced K"},
	} {
		t.Run(name, func(t *testing.T) {
			m := blocks
			row.change(&m)
			_, absent := m.Strength(row.choices, nil)
			assert.Contains(t, string(absent), row.says)
			assert.Less(t, len(absent), 400)
		})
	}
}

func TestBearingsThatAreNotKnown(t *testing.T) {
	recommended, absent := national.For("recommended")
	require.Empty(t, absent)
	for name, row := range map[string]struct {
		change  func(*ec6.Bearing)
		choices *national.Masonry
		says    string
	}{
		"no strength":                     {func(b *ec6.Bearing) { b.Wall.Strength = ec6.Strength{} }, gb(t), "strength of the masonry is not known"},
		"no thickness":                    {func(b *ec6.Bearing) { b.Wall.Thickness = 0 }, gb(t), "thickness of the wall"},
		"no height":                       {func(b *ec6.Bearing) { b.Wall.Height = 0 }, gb(t), "height of the wall"},
		"no length of bearing":            {func(b *ec6.Bearing) { b.Length = 0 }, gb(t), "state the length of bearing"},
		"wider than the wall":             {func(b *ec6.Bearing) { b.Width = 150 }, gb(t), "more than the thickness"},
		"beyond the end of the wall":      {func(b *ec6.Bearing) { b.Before = -1 }, gb(t), "beyond the end"},
		"too little of the wall counted":  {func(b *ec6.Bearing) { b.Eccentricity = -36 }, gb(t), "only 68 mm of the wall is counted (EN 1996-1-1 6.1.3(4)), and the wall is more than 27 times"},
		"at the face":                     {func(b *ec6.Bearing) { b.Eccentricity = 70 }, gb(t), "on the face of the wall"},
		"a wall too slender":              {func(b *ec6.Bearing) { b.Wall.EffectiveHeight = 3900 }, gb(t), "27 times as high"},
		"a wall that creeps":              {func(*ec6.Bearing) {}, &recommended.Masonry, "no creep factor"},
		"a neighbour nearer than none":    {func(b *ec6.Bearing) { b.Apart = -1 }, gb(t), "distance from the next"},
		"a load beside that lifts":        {func(b *ec6.Bearing) { b.Beside = -1 }, gb(t), "below 0"},
		"no country":                      {func(*ec6.Bearing) {}, nil, "state the region"},
		"a force that is no number":       {func(b *ec6.Bearing) { b.Force = math.NaN() }, gb(t), "no finite number"},
		"an eccentricity that is none":    {func(b *ec6.Bearing) { b.Eccentricity = math.NaN() }, gb(t), "on the face"},
		"what turns the other way":        {func(b *ec6.Bearing) { b.Turn = -1 }, gb(t), "below 0"},
		"a load beside that is no number": {func(b *ec6.Bearing) { b.Beside = math.NaN() }, gb(t), "below 0"},
	} {
		t.Run(name, func(t *testing.T) {
			b := bearing(t)
			row.change(&b)
			assert.Contains(t, string(b.Bearing(row.choices, nil).Reason()), row.says)
		})
	}
	for name, stone := range map[string]ec6.Padstone{
		"no size is stated":               {},
		"it is wider than the leaf":       {Length: 440, Width: 215, Depth: 215},
		"it is smaller than the bearing":  {Length: 100, Width: 140, Depth: 215},
		"it reaches off the wall's end":   {Length: 1400, Width: 140, Depth: 215},
		"it reaches to the next load":     {Length: 810, Width: 140, Depth: 215},
		"a length of it that is a figure": {Length: math.NaN(), Width: 140, Depth: 215},
	} {
		t.Run("a padstone: "+name, func(t *testing.T) {
			b := bearing(t)
			b.Apart = 800
			_, absent := b.On(stone)
			assert.NotEmpty(t, absent)
		})
	}
	b := bearing(t)
	b.Wall.Thickness = 0
	_, absent = b.On(ec6.Padstone{Length: 440, Width: 140, Depth: 215})
	assert.Equal(t, "the thickness of the wall under the padstone is not stated", string(absent))
}

func TestChecksDoNotAllocate(t *testing.T) {
	b, choices := bearing(t), gb(t)
	off := offMiddle(t)
	require.Zero(t, testing.AllocsPerRun(100, func() { b.Bearing(choices, nil); off.Bearing(choices, nil) }))
}

func BenchmarkBearing(b *testing.B) {
	load, choices := bearing(b), gb(b)
	b.ReportAllocs()
	for b.Loop() {
		load.Bearing(choices, nil)
	}
}
