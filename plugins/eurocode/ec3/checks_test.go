package ec3_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/eurocode/ec3"
	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// beam is a 203x133x25 UB in S275.
func beam(t testing.TB) ec3.Piece {
	return ec3.Piece{Section: named(t, "203x133x25"), Grade: steel(t, "S275", materials.Rolled), Choices: choices(t, "GB-ENG")}
}

// tube is a 100x100x8 SHS in S355, cold formed.
func tube(t testing.TB) ec3.Piece {
	return ec3.Piece{Section: complete(t, ec3.Section{Shape: ec3.RHS, H: 100, B: 100, Tw: 8}), Grade: steel(t, "S355", materials.ColdHollow), Choices: choices(t, "GB-ENG")}
}

// A hot finished 100x100x8 SHS in S355, from the tables' rounded figures: A = 28.8 cm2, W_pl = 98.2 cm3, i = 3.73 cm. Each
// resistance is derived here from its clause: 6.13 W_pl f_y, 6.18 with A_v = A/2, 6.49 with curve a over 2.5 m.
func TestHollowSectionBeam(t *testing.T) {
	piece := ec3.Piece{Section: named(t, "100x100x8"), Grade: steel(t, "S355", materials.HotHollow), Choices: choices(t, "GB-ENG")}
	const moment, shear, push = 15e6, 60e3, 200e3
	assert.InEpsilon(t, moment/(98.2e3*355), ratio(t, piece.Bending(&ec3.Forces{My: moment}, nil)), 0.003)
	assert.InEpsilon(t, shear/(28.8e2/2*355/math.Sqrt(3)), ratio(t, piece.Shear(&ec3.Forces{Vz: shear}, nil)), 0.003)

	slender := 2500 / 37.3 / (math.Pi * math.Sqrt(210000.0/355))
	phi := 0.5 * (1 + 0.21*(slender-0.2) + slender*slender)
	chi := 1 / (phi + math.Sqrt(phi*phi-slender*slender))
	held := ec3.Held{BucklingY: 2500, BucklingZ: 2500}
	assert.InEpsilon(t, push/(chi*28.8e2*355), ratio(t, piece.Buckling(&ec3.Forces{N: -push}, &held, nil)), 0.003)

	// It does not turn over: no restraint need be stated, and the capacity is that of the section.
	assert.InEpsilon(t, moment/(98.2e3*355), ratio(t, piece.Lateral(&ec3.Forces{My: moment}, &ec3.Held{}, nil)), 0.003)
}

// The country's curves by depth over breadth show in phi_LT: b up to 2, c beyond (UK NA.2.17).
func TestTheCurveGoesByDepthOverBreadth(t *testing.T) {
	for name, alpha := range map[string]float64{"152x152x23": 0.34, "203x133x25": 0.34, "254x102x22": 0.49} {
		piece := beam(t)
		piece.Section = named(t, name)
		var sheet working.Sheet
		ratio(t, piece.Lateral(&ec3.Forces{My: 1}, &ec3.Held{LateralLength: 4000, Moment: ec3.ConstantMoment}, &sheet))
		l := step(t, &sheet, "lambda_LT")
		assert.InDelta(t, 0.5*(1+alpha*(l-0.4)+0.75*l*l), step(t, &sheet, "phi_LT"), 1e-12, name)
	}
}

// A cold formed tube of the same size buckles by curve c in place of a (EN 1993-1-1 Table 6.2).
func TestColdFormedTubesBuckleSooner(t *testing.T) {
	cold := tube(t)
	hotSection := *cold.Section
	hotSection.Hot = true
	hot := cold
	hot.Section = &hotSection
	held := ec3.Held{BucklingY: 3000, BucklingZ: 3000}
	assert.Greater(t, ratio(t, cold.Buckling(&ec3.Forces{N: -1e5}, &held, nil)), 1.05*ratio(t, hot.Buckling(&ec3.Forces{N: -1e5}, &held, nil)))
}

// EN 1993-1-1 Table 5.2, with epsilon = 1 for S235. The limits are tried from both sides.
func TestClasses(t *testing.T) {
	i := func(outstand, web float64) ec3.Section { // c/t_f and c/t_w without a root
		return ec3.Section{Shape: ec3.ISection, H: 10*web + 20, B: 2*10*outstand + 10, Tw: 10, Tf: 10}
	}
	for name, row := range map[string]struct {
		section ec3.Section
		forces  ec3.Forces
		class   float64
	}{
		"flange 9":                          {i(9, 20), ec3.Forces{My: 1}, 1},
		"flange 9.1":                        {i(9.1, 20), ec3.Forces{My: 1}, 2},
		"flange 10.1":                       {i(10.1, 20), ec3.Forces{My: 1}, 3},
		"web bent, 72":                      {i(5, 72), ec3.Forces{My: 1}, 1},
		"web bent, 72.1":                    {i(5, 72.1), ec3.Forces{My: 1}, 2},
		"web bent, 83.1":                    {i(5, 83.1), ec3.Forces{My: 1}, 3},
		"web squeezed all over, 33":         {i(5, 33), ec3.Forces{My: 1, N: -1e9}, 1},
		"web squeezed all over, 33.1":       {i(5, 33.1), ec3.Forces{My: 1, N: -1e9}, 2},
		"web squeezed all over, 38.1":       {i(5, 38.1), ec3.Forces{My: 1, N: -1e9}, 3},
		"tension does not count against it": {i(5, 72), ec3.Forces{My: 1, N: 1e9}, 1},
		"round tube 50":                     {ec3.Section{Shape: ec3.CHS, H: 500, Tw: 10}, ec3.Forces{My: 1}, 1},
		"round tube 51":                     {ec3.Section{Shape: ec3.CHS, H: 510, Tw: 10}, ec3.Forces{My: 1}, 2},
		"round tube 71":                     {ec3.Section{Shape: ec3.CHS, H: 710, Tw: 10}, ec3.Forces{My: 1}, 3},
		"box flange 33 (36 wide)":           {ec3.Section{Shape: ec3.RHS, H: 360, B: 360, Tw: 10}, ec3.Forces{My: 1}, 1},
		"box flange 37":                     {ec3.Section{Shape: ec3.RHS, H: 360, B: 400, Tw: 10}, ec3.Forces{My: 1}, 2},
		"box flange 41":                     {ec3.Section{Shape: ec3.RHS, H: 360, B: 440, Tw: 10}, ec3.Forces{My: 1}, 3},
		"channel, toe 9 from the root":      {ec3.Section{Shape: ec3.Channel, H: 200, B: 100, Tw: 10, Tf: 10}, ec3.Forces{My: 1}, 1},
		"channel, toe 9.1 from the root ":   {ec3.Section{Shape: ec3.Channel, H: 200, B: 101, Tw: 10, Tf: 10}, ec3.Forces{My: 1}, 2},
	} {
		t.Run(name, func(t *testing.T) {
			section, absent := row.section.Complete()
			require.Empty(t, absent)
			piece := ec3.Piece{Section: &section, Grade: steel(t, "S235", materials.Rolled), Choices: choices(t, "GB-ENG")}
			var sheet working.Sheet
			piece.Bending(&row.forces, &sheet)
			assert.Equal(t, row.class, step(t, &sheet, "class"))
		})
	}
}

// Annex B by hand for a 203x203x46 UC in S355 over 3 m under 300 kN and 40 kNm, method 2, factors of moment 1.
func TestColumnThatBends(t *testing.T) {
	piece := ec3.Piece{Section: named(t, "203x203x46"), Grade: steel(t, "S355", materials.Rolled), Choices: choices(t, "GB-ENG")}
	forces := ec3.Forces{N: -300e3, My: 40e6, Mz: 5e6}
	held := ec3.Held{BucklingY: 3000, BucklingZ: 3000, LateralLength: 3000, Moment: ec3.ConstantMoment}
	var sheet, push, turn working.Sheet
	got := ratio(t, piece.Combined(&forces, &held, ec3.Moments{}, &sheet))
	ratio(t, piece.Buckling(&forces, &held, &push))
	ratio(t, piece.Lateral(&forces, &held, &turn))

	s := piece.Section
	ny, nz := 300e3/step(t, &push, "N_b,y,Rd"), 300e3/step(t, &push, "N_b,z,Rd")
	y, z := step(t, &push, "lambda_y"), step(t, &push, "lambda_z")
	kyy := min(1+(y-0.2)*ny, 1+0.8*ny)
	kzz := min(1+(2*z-0.6)*nz, 1+1.4*nz)
	kzy := max(1-0.1*z/0.75*nz, 1-0.1/0.75*nz)
	mb, mz := step(t, &turn, "M_b,Rd"), s.Wplz*355
	assert.InDelta(t, ny+kyy*40e6/mb+0.6*kzz*5e6/mz, step(t, &sheet, "ratio 6.61"), 1e-9)
	assert.InDelta(t, nz+kzy*40e6/mb+kzz*5e6/mz, step(t, &sheet, "ratio 6.62"), 1e-9)
	assert.InDelta(t, 300e3/(s.A*355)+40e6/(s.Wply*355)+5e6/mz, step(t, &sheet, "ratio 6.2"), 1e-9)
	assert.InDelta(t, step(t, &sheet, "ratio 6.62"), got, 1e-12)
}

func TestTubeThatBendsUnderAPush(t *testing.T) {
	piece := tube(t)
	forces := ec3.Forces{N: -100e3, My: 8e6}
	held := ec3.Held{BucklingY: 2500, BucklingZ: 2500}
	var sheet, push working.Sheet
	ratio(t, piece.Combined(&forces, &held, ec3.Moments{Cmy: 0.9}, &sheet))
	ratio(t, piece.Buckling(&forces, &held, &push))
	n := 100e3 / step(t, &push, "N_b,y,Rd")
	kyy := 0.9 * min(1+(step(t, &push, "lambda_y")-0.2)*n, 1+0.8*n)
	capacity := piece.Section.Wply * 355
	assert.InDelta(t, n+kyy*8e6/capacity, step(t, &sheet, "ratio 6.61"), 1e-9)
	assert.InDelta(t, n+0.6*kyy*8e6/capacity, step(t, &sheet, "ratio 6.62"), 1e-9) // a tube does not turn over
}

func TestTieThatBends(t *testing.T) {
	piece := beam(t)
	held := ec3.Held{Full: true}
	got := ratio(t, piece.Combined(&ec3.Forces{N: 100e3, My: 20e6}, &held, ec3.Moments{}, nil))
	assert.InDelta(t, 100e3/(piece.Section.A*275)+20e6/(piece.Section.Wply*275), got, 1e-9)
	assert.Zero(t, ratio(t, piece.Buckling(&ec3.Forces{N: 100e3}, &held, nil)))
}

func TestDeflect(t *testing.T) {
	c := choices(t, "GB-ENG")
	for name, row := range map[string]struct {
		in   ec3.Deflection
		want float64
	}{
		"under plaster, span / 360 of the imposed load":   {ec3.Deflection{Span: 3600, Brittle: true, Variable: 8, Total: 8}, 0.8},
		"elsewhere span / 200 (UK NA.2.23)":               {ec3.Deflection{Span: 3600, Variable: 9, Total: 9}, 0.5},
		"a cantilever, length / 180":                      {ec3.Deflection{Span: 1800, Cantilever: true, Variable: -5}, 0.5},
		"all load, span / 200 (common practice)":          {ec3.Deflection{Span: 3600, Brittle: true, Variable: 2, Total: 13.5}, 0.75},
		"a limit stated takes the place of the country's": {ec3.Deflection{Span: 3600, Variable: 5, Total: 5, VariableLimit: 500, TotalLimit: 250}, 5.0 * 500 / 3600},
	} {
		t.Run(name, func(t *testing.T) { assert.InDelta(t, row.want, ratio(t, ec3.Deflect(&row.in, c, nil)), 1e-12) })
	}
	assert.NotEmpty(t, ec3.Deflect(&ec3.Deflection{Span: 1}, choices(t, "recommended"), nil).Reason()) // the EN sets no limit
	assert.NotEmpty(t, ec3.Deflect(&ec3.Deflection{}, c, nil).Reason())
	assert.NotEmpty(t, ec3.Deflect(&ec3.Deflection{Span: 1}, nil, nil).Reason())
}

// checks are all checks of one piece, each with its forces times by.
var checks = map[string]func(p *ec3.Piece, by float64) working.Outcome{
	"bending": func(p *ec3.Piece, by float64) working.Outcome {
		return p.Bending(&ec3.Forces{My: 5e6 * by, Mz: 1e6 * by}, nil)
	},
	"shear": func(p *ec3.Piece, by float64) working.Outcome { return p.Shear(&ec3.Forces{Vz: 1e4 * by}, nil) },
	"lateral": func(p *ec3.Piece, by float64) working.Outcome {
		return p.Lateral(&ec3.Forces{My: 5e6 * by}, &held, nil)
	},
	"buckling": func(p *ec3.Piece, by float64) working.Outcome {
		return p.Buckling(&ec3.Forces{N: -2e4 * by}, &held, nil)
	},
	"tie that bends": func(p *ec3.Piece, by float64) working.Outcome {
		return p.Combined(&ec3.Forces{N: 2e4 * by, My: 5e6 * by}, &held, ec3.Moments{}, nil)
	},
}

var held = ec3.Held{BucklingY: 3000, BucklingZ: 2000, LateralLength: 3000, Moment: ec3.UniformLoad, LoadAbove: 100}

func TestRatiosGoWithTheLoadAndTheCount(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, name := range []string{"203x133x25", "152x152x23", "254x146x31", "150x100x8", "120x120x5"} {
		section := named(t, name)
		form := materials.Rolled
		if section.Shape == ec3.RHS {
			form = materials.HotHollow
		}
		piece := ec3.Piece{Section: section, Grade: steel(t, "S275", form), Choices: choices(t, "GB-ENG")}
		double := piece
		double.Count = 2
		for check, run := range checks {
			by := 0.1 + r.Float64()
			one := ratio(t, run(&piece, 1))
			assert.InEpsilon(t, by*one, ratio(t, run(&piece, by)), 1e-9, "%s of %s", check, name)
			assert.InEpsilon(t, one/2, ratio(t, run(&double, 1)), 1e-9, "%s of two %s", check, name)
			assert.False(t, isKnown(run(&piece, math.NaN())), "%s of %s", check, name)
		}
	}
}

func isKnown(o working.Outcome) bool { _, known := o.Ratio(); return known }

// A longer piece is never better, and more restraint never worse.
func TestLongerPiecesAreNeverBetter(t *testing.T) {
	piece := beam(t)
	lastPush, lastTurn, lastBoth := 0.0, 0.0, 0.0
	for length := 300.0; length < 12000; length *= 1.1 {
		h := ec3.Held{BucklingY: length, BucklingZ: length, LateralLength: length, Moment: ec3.UniformLoad, LoadAbove: 100}
		push := ratio(t, piece.Buckling(&ec3.Forces{N: -1e5}, &h, nil))
		turn := ratio(t, piece.Lateral(&ec3.Forces{My: 2e7}, &h, nil))
		both := ratio(t, piece.Combined(&ec3.Forces{N: -1e5, My: 2e7}, &h, ec3.Moments{}, nil))
		require.GreaterOrEqual(t, push, lastPush*(1-1e-9))
		require.GreaterOrEqual(t, turn, lastTurn*(1-1e-9))
		require.GreaterOrEqual(t, both, lastBoth*(1-1e-9))
		require.GreaterOrEqual(t, both, max(push, turn))
		lastPush, lastTurn, lastBoth = push, turn, both
	}
}

func TestMoreShearIsNeverBetterForBending(t *testing.T) {
	for _, piece := range []ec3.Piece{beam(t), tube(t)} {
		last := 0.0
		for shear := 0.0; ; shear += 5e3 {
			outcome := piece.Bending(&ec3.Forces{My: 5e6, Vz: shear}, nil)
			if !isKnown(outcome) {
				assert.Contains(t, outcome.Reason(), "no moment capacity is left")
				break
			}
			require.GreaterOrEqual(t, ratio(t, outcome), last)
			last = ratio(t, outcome)
		}
	}
}

func TestWhatIsNotKnownIsAbsent(t *testing.T) {
	thin := complete(t, ec3.Section{Shape: ec3.RHS, H: 300, B: 300, Tw: 3})
	channel := complete(t, ec3.Section{Shape: ec3.Channel, H: 150, B: 75, Tw: 5.5, Tf: 10, R: 12})
	push, bend := &ec3.Forces{N: -1e3}, &ec3.Forces{My: 1e6}
	none := &ec3.Held{}
	ireland, absent := national.For("IE")
	require.Empty(t, absent)
	for name, row := range map[string]struct {
		change func(*ec3.Piece)
		check  func(*ec3.Piece) working.Outcome
		says   string
	}{
		"no section":              {func(p *ec3.Piece) { p.Section = nil }, func(p *ec3.Piece) working.Outcome { return p.Bending(bend, nil) }, "section is not known"},
		"no grade":                {func(p *ec3.Piece) { p.Grade = nil }, func(p *ec3.Piece) working.Outcome { return p.Shear(bend, nil) }, "name S275 or S355"},
		"no country":              {func(p *ec3.Piece) { p.Choices = nil }, func(p *ec3.Piece) working.Outcome { return p.Bending(bend, nil) }, "state the region"},
		"a country not sourced":   {func(p *ec3.Piece) { p.Choices = &ireland.Steel }, func(p *ec3.Piece) working.Outcome { return p.Bending(bend, nil) }, "no source for steel.gamma_M0"},
		"properties not complete": {func(p *ec3.Piece) { p.Section = &ec3.Section{Shape: ec3.ISection, H: 200} }, func(p *ec3.Piece) working.Outcome { return p.Bending(bend, nil) }, "not complete"},
		"a class 4 tube bent":     {func(p *ec3.Piece) { p.Section = thin }, func(p *ec3.Piece) working.Outcome { return p.Bending(bend, nil) }, "class 4"},
		"a class 4 tube squeezed": {func(p *ec3.Piece) { p.Section = thin }, func(p *ec3.Piece) working.Outcome { return p.Buckling(push, none, nil) }, "class 4"},
		"a web that buckles":      {func(p *ec3.Piece) { p.Section = thin }, func(p *ec3.Piece) working.Outcome { return p.Shear(bend, nil) }, "buckles in shear"},
		"a channel pushed":        {func(p *ec3.Piece) { p.Section = channel }, func(p *ec3.Piece) working.Outcome { return p.Buckling(push, none, nil) }, "channel in compression also twists"},
		"no buckling length":      {func(*ec3.Piece) {}, func(p *ec3.Piece) working.Outcome { return p.Buckling(push, none, nil) }, "state how it is held"},
		"no restraint":            {func(*ec3.Piece) {}, func(p *ec3.Piece) working.Outcome { return p.Lateral(bend, none, nil) }, "state the restraint"},
		"no shape of the moment":  {func(*ec3.Piece) {}, func(p *ec3.Piece) working.Outcome { return p.Lateral(bend, &ec3.Held{LateralLength: 3000}, nil) }, "shape of the moment"},
		"no restraint, combined":  {func(*ec3.Piece) {}, func(p *ec3.Piece) working.Outcome { return p.Combined(bend, none, ec3.Moments{}, nil) }, "state the restraint"},
		"a factor out of its bond": {func(*ec3.Piece) {}, func(p *ec3.Piece) working.Outcome {
			return p.Combined(push, &ec3.Held{BucklingY: 1, BucklingZ: 1}, ec3.Moments{Cmy: 0.2}, nil)
		}, "outside 0.4 to 1"},
	} {
		t.Run(name, func(t *testing.T) {
			piece := beam(t)
			row.change(&piece)
			outcome := row.check(&piece)
			assert.False(t, isKnown(outcome))
			assert.Contains(t, string(outcome.Reason()), row.says)
		})
	}
}

func TestChecksDoNotAllocate(t *testing.T) {
	piece := beam(t)
	for name, check := range checks {
		require.Zero(t, testing.AllocsPerRun(100, func() { check(&piece, 1) }), name)
	}
	require.Zero(t, testing.AllocsPerRun(100, func() { column(&piece) }), "column")
}

func column(p *ec3.Piece) working.Outcome {
	return p.Combined(&ec3.Forces{N: -2e4, My: 5e6, Mz: 1e5, Vz: 1e4}, &held, ec3.Moments{}, nil)
}

func BenchmarkChecks(b *testing.B) {
	piece := beam(b)
	for _, name := range []string{"bending", "shear", "lateral", "buckling"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				checks[name](&piece, 1)
			}
		})
	}
	b.Run("combined", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			column(&piece)
		}
	})
}
