package ec5_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/eurocode/ec5"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// checks are all checks of one piece, each with its forces times by.
var checks = map[string]func(p *ec5.Piece, by float64) working.Outcome{
	"bending": func(p *ec5.Piece, by float64) working.Outcome {
		return p.Bending(&ec5.Bending{Duration: national.MediumTerm, My: 2e6 * by, Mz: 1e5 * by, Lateral: ec5.Lateral{Length: 1500}}, nil)
	},
	"shear": func(p *ec5.Piece, by float64) working.Outcome {
		return p.Shear(&ec5.Shear{Duration: national.MediumTerm, Vz: 3e3 * by, Vy: 1e3 * by}, nil)
	},
	"bearing": func(p *ec5.Piece, by float64) working.Outcome {
		return p.Bearing(&ec5.Bearing{Duration: national.MediumTerm, Force: 3e3 * by, Length: 60, After: 900, Gap: 900, Slope: 0.4}, nil)
	},
	"notch": func(p *ec5.Piece, by float64) working.Outcome {
		return p.Notch(&ec5.Notch{Duration: national.MediumTerm, V: 3e3 * by, Cut: 20, ToReaction: 30}, nil)
	},
	"tension": func(p *ec5.Piece, by float64) working.Outcome {
		return p.Tension(&ec5.Axial{Duration: national.MediumTerm, N: 9e3 * by, Length: 3000}, nil)
	},
	"compression": func(p *ec5.Piece, by float64) working.Outcome {
		return p.Compression(&ec5.Axial{Duration: national.MediumTerm, N: -9e3 * by, BucklingY: 2500, BucklingZ: 1200}, nil)
	},
	"deflection": func(p *ec5.Piece, by float64) working.Outcome {
		return p.DeflectionFinal(&ec5.Deflection{Span: 3000, Characteristic: 6e10 / p.Rigidity() * by, QuasiPermanent: 3e10 / p.Rigidity() * by,
			ShearCharacteristic: 1e6 * by, ShearQuasiPermanent: 5e5 * by}, nil)
	},
}

func random(r *rand.Rand, t *testing.T) ec5.Piece {
	grades := []string{"C16", "C24", "D30", "GL28h", "GL24c"}
	return ec5.Piece{Grade: grade(t, grades[r.IntN(len(grades))]), Choices: &gb(t).Timber,
		Breadth: 35 + 100*r.Float64(), Depth: 90 + 300*r.Float64(), Plies: r.IntN(4), ServiceClass: 1 + r.IntN(3), Sharing: r.IntN(2) == 0}
}

func TestRatiosGoWithTheLoad(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for name, check := range checks {
		for range 100 {
			piece := random(r, t)
			by := 0.1 + 5*r.Float64()
			require.InEpsilon(t, by*ratio(t, check(&piece, 1)), ratio(t, check(&piece, by)), 1e-9, "%s of %+v", name, piece)
		}
	}
}

// A second ply halves every ratio; a wider piece is never worse. A deeper one may be: it turns over sooner, and past 150 mm
// loses k_h, which the squared depth outweighs.
func TestMoreTimberIsNeverWorse(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for name, check := range checks {
		for range 100 {
			piece := random(r, t)
			before := ratio(t, check(&piece, 1))

			doubled := piece
			doubled.Plies = 2 * max(piece.Plies, 1)
			require.InEpsilon(t, before/2, ratio(t, check(&doubled, 1)), 1e-9, "%s of %+v", name, piece)

			wider := piece
			wider.Breadth *= 1 + 0.2*r.Float64()
			require.LessOrEqual(t, ratio(t, check(&wider, 1)), before*(1+1e-9), "%s of %+v", name, piece)
		}
	}
	for range 100 {
		piece := random(r, t)
		deeper := piece
		deeper.Depth *= 1.1
		held := ec5.Bending{Duration: national.ShortTerm, My: 2e6, Lateral: ec5.Lateral{Full: true}}
		require.Less(t, ratio(t, deeper.Bending(&held, nil)), ratio(t, piece.Bending(&held, nil)))
	}
}

func TestLongerMembersBuckleSooner(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 100 {
		piece := random(r, t)
		last := 0.0
		for length := 100.0; length < 8000; length *= 1.2 {
			got := ratio(t, piece.Compression(&ec5.Axial{Duration: national.MediumTerm, N: -1e4, BucklingY: length, BucklingZ: length}, nil))
			require.GreaterOrEqual(t, got, last*(1-1e-9))
			last = got
		}
	}
}

// Under a moment and a push the combined check is never kinder than either alone; a moment of nothing leaves compression.
func TestCombinedIsNeverKinderThanItsParts(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		piece := random(r, t)
		bending := ec5.Bending{Duration: national.MediumTerm, My: 2e6 * r.Float64(), Mz: 2e5 * r.Float64(), Lateral: ec5.Lateral{Length: 2000}}
		axial := ec5.Axial{Duration: national.MediumTerm, N: 2e4 * (r.Float64() - 0.5), BucklingY: 2000, BucklingZ: 2000}
		got := ratio(t, piece.Combined(&ec5.Combined{Bending: bending, Axial: axial}, nil))
		require.GreaterOrEqual(t, got*(1+1e-9), ratio(t, piece.Bending(&bending, nil)))
		require.GreaterOrEqual(t, got*(1+1e-9), ratio(t, piece.Tension(&axial, nil)))
		require.GreaterOrEqual(t, got*(1+1e-9), ratio(t, piece.Compression(&axial, nil)))

		idle := ec5.Combined{Bending: ec5.Bending{Duration: national.MediumTerm}, Axial: axial}
		require.InDelta(t, max(ratio(t, piece.Compression(&axial, nil)), ratio(t, piece.Tension(&axial, nil))), ratio(t, piece.Combined(&idle, nil)), 1e-9)
	}
}

// Whatever bytes arrive as numbers, a check gives a finite ratio or a reason, and what is no number never passes.
func FuzzChecks(f *testing.F) {
	f.Add(47.0, 195.0, 2, 1, 1.0)
	f.Add(math.Inf(1), 195.0, -3, 7, math.NaN())
	f.Fuzz(func(t *testing.T, breadth, depth float64, plies, class int, by float64) {
		piece := ec5.Piece{Grade: grade(t, "C24"), Choices: &gb(t).Timber, Breadth: breadth, Depth: depth, Plies: plies, ServiceClass: class}
		for name, check := range checks {
			got, known := check(&piece, by).Ratio()
			if !known {
				require.NotEmpty(t, check(&piece, by).Reason(), name)
				continue
			}
			require.False(t, math.IsNaN(got) || math.IsInf(got, 0) || math.IsNaN(by), fmt.Sprintf("%s gives %g", name, got))
		}
	})
}

// None of the hot checks allocates while nobody asks for the working; it runs before the benchmarks, which report the same.
func TestChecksDoNotAllocate(t *testing.T) {
	piece := joist(t)
	for name, check := range checks {
		require.Zero(t, testing.AllocsPerRun(100, func() { check(&piece, 1) }), name)
	}
	require.Zero(t, testing.AllocsPerRun(100, func() { combined(&piece) }), "combined")
}

func combined(p *ec5.Piece) working.Outcome {
	return p.Combined(&ec5.Combined{
		Bending: ec5.Bending{Duration: national.MediumTerm, My: 2e6, Mz: 1e5, Lateral: ec5.Lateral{Length: 1500}},
		Axial:   ec5.Axial{N: -9e3, BucklingY: 2500, BucklingZ: 1200}}, nil)
}

func BenchmarkChecks(b *testing.B) {
	piece := joist(b)
	for _, name := range []string{"bending", "shear", "bearing", "notch", "tension", "compression", "deflection"} {
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
			combined(&piece)
		}
	})
	b.Run("bending with its working", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			piece.Bending(&ec5.Bending{Duration: national.MediumTerm, My: 2e6, Lateral: ec5.Lateral{Length: 1500}}, &working.Sheet{})
		}
	})
}

// A floor of unknown width is held against the worst of any width, and the widest comes near to it.
func TestVibrationOfAFloorOfUnknownWidth(t *testing.T) {
	piece := ec5.Piece{Grade: grade(t, "C24"), Choices: &gb(t).Timber, Breadth: 47, Depth: 195, ServiceClass: 1}
	speed := func(width, mass float64) float64 {
		var sheet working.Sheet
		ratio(t, piece.Vibration(&ec5.Floor{Span: 3600, Width: width, Centres: 400, Mass: mass * 1e-6, DeckRigidity: 2.4e6}, &sheet))
		return step(t, &sheet, "v")
	}
	for _, mass := range []float64{15, 30, 60, 150} {
		unknown := speed(0, mass)
		for _, width := range []float64{400, 2000, 5000, 20000, 1e6} {
			assert.LessOrEqual(t, speed(width, mass), unknown*(1+1e-9), "%g kg/m2, %g mm", mass, width)
		}
	}
	assert.InEpsilon(t, speed(0, 60), speed(1e7, 60), 1e-3)
}
