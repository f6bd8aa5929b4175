package plane

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Formulas from Roark's Formulas for Stress and Strain (table of shear, moment,
// slope and deflection formulas for straight beams) and the Steel Designers'
// Manual (bending moment and reaction tables), both from memory.
func TestHandbookBeams(t *testing.T) {
	const (
		l = 4000.
		q = 2.5   // N/mm down
		p = 6000. // N down
		k = 1e12  // EI
	)
	all := func(from, to float64) Load { return Load{From: from, To: to, Z0: -q, Z1: -q} }
	type place struct {
		q Quantity
		s float64
		v float64
	}
	const a, b = 1500., 2500.
	rows := []struct {
		name      string
		length    float64
		supports  []Support
		loads     []Load
		reactions []float64
		values    []place
	}{
		{
			"one span, spread: qL/2, qL2/8, 5qL4/384EI", l, ends(0, l), []Load{all(0, l)},
			[]float64{q * l / 2, q * l / 2},
			[]place{{Moment, l / 2, q * l * l / 8}, {Deflection, l / 2, 5 * q * math.Pow(l, 4) / 384 / k}},
		},
		{
			"one span, point at a: Pb/L, Pab/L, Pa2b2/3EIL", l, ends(0, l), []Load{Force(a, 0, -p)},
			[]float64{p * b / l, p * a / l},
			[]place{{Moment, a, p * a * b / l}, {Deflection, a, p * a * a * b * b / 3 / k / l}},
		},
		{
			"one span, triangle rising to the right: qL/6, qL2/9 sqrt 3", l, ends(0, l), []Load{{From: 0, To: l, Z1: -q}},
			[]float64{q * l / 6, q * l / 3},
			[]place{{Moment, l / math.Sqrt(3), q * l * l / 9 / math.Sqrt(3)}, {Deflection, 0.5193 * l, 0.006522 * q * math.Pow(l, 4) / k}},
		},
		{
			"one span, moment C at the left: C/L, sags to C", l, ends(0, l), []Load{{Moment: 5e6}},
			[]float64{-5e6 / l, 5e6 / l},
			[]place{{Moment, 0, 5e6}, {Deflection, l / 2, 5e6 * l * l / 16 / k}},
		},
		{
			"overhang b beyond a span a, point at the tip: -Pb/a, P(a+b)/a, Pb2(a+b)/3EI", l, ends(0, b), []Load{Force(l, 0, -p)},
			[]float64{-p * a / b, p * l / b},
			[]place{{Moment, b, -p * a}, {Deflection, l, p * a * a * l / 3 / k}},
		},
		{
			"cantilever, spread: qL4/8EI", l, []Support{{Fixed: true, Horizontal: true}}, []Load{all(0, l)},
			[]float64{q * l},
			[]place{{Moment, 0, -q * l * l / 2}, {Deflection, l, q * math.Pow(l, 4) / 8 / k}},
		},
		{
			"propped cantilever, spread: 5/8, 3/8, qL2/8, 9qL2/128, qL4/185EI", l, []Support{{Fixed: true, Horizontal: true}, {At: l}}, []Load{all(0, l)},
			[]float64{5 * q * l / 8, 3 * q * l / 8},
			[]place{{Moment, 0, -q * l * l / 8}, {Moment, 5 * l / 8, 9 * q * l * l / 128}, {Deflection, l * (1 - (1+math.Sqrt(33))/16), 0.0054161 * q * math.Pow(l, 4) / k}},
		},
		{
			"propped cantilever, point at mid-span: 11/16, 5/16, 3PL/16, 5PL/32", l, []Support{{Fixed: true, Horizontal: true}, {At: l}}, []Load{Force(l/2, 0, -p)},
			[]float64{11 * p / 16, 5 * p / 16},
			[]place{{Moment, 0, -3 * p * l / 16}, {Moment, l / 2, 5 * p * l / 32}, {Deflection, l / 2, 7 * p * math.Pow(l, 3) / 768 / k}},
		},
		{
			"fixed at both ends, spread: qL2/12, qL2/24, qL4/384EI", l, []Support{{Fixed: true, Horizontal: true}, {At: l, Fixed: true}}, []Load{all(0, l)},
			[]float64{q * l / 2, q * l / 2},
			[]place{{Moment, 0, -q * l * l / 12}, {Moment, l / 2, q * l * l / 24}, {Deflection, l / 2, q * math.Pow(l, 4) / 384 / k}},
		},
		{
			"fixed at both ends, point at a: Pab2/L2 and Pa2b/L2", l, []Support{{Fixed: true, Horizontal: true}, {At: l, Fixed: true}}, []Load{Force(a, 0, -p)},
			[]float64{p * b * b * (3*a + b) / math.Pow(l, 3), p * a * a * (a + 3*b) / math.Pow(l, 3)},
			[]place{{Moment, 0, -p * a * b * b / l / l}, {Moment, l, -p * a * a * b / l / l}, {Deflection, a, p * math.Pow(a*b, 3) / 3 / k / math.Pow(l, 3)}},
		},
		{
			"two equal spans, spread: 3/8, 10/8, 3/8, qL2/8", 2 * l, ends(0, l, 2*l), []Load{all(0, 2*l)},
			[]float64{3 * q * l / 8, 10 * q * l / 8, 3 * q * l / 8},
			[]place{{Moment, l, -q * l * l / 8}, {Moment, 3 * l / 8, 9 * q * l * l / 128}},
		},
		{
			"two equal spans, one loaded: 7/16, 10/16, -1/16, qL2/16", 2 * l, ends(0, l, 2*l), []Load{all(0, l)},
			[]float64{7 * q * l / 16, 10 * q * l / 16, -q * l / 16},
			[]place{{Moment, l, -q * l * l / 16}, {Moment, 7 * l / 16, 49 * q * l * l / 512}},
		},
		{
			"three equal spans, spread: 0.4, 1.1, 1.1, 0.4, qL2/10", 3 * l, ends(0, l, 2*l, 3*l), []Load{all(0, 3*l)},
			[]float64{0.4 * q * l, 1.1 * q * l, 1.1 * q * l, 0.4 * q * l},
			[]place{{Moment, l, -q * l * l / 10}, {Moment, 0.4 * l, 0.08 * q * l * l}, {Moment, 1.5 * l, 0.025 * q * l * l}},
		},
		{
			"four equal spans, spread: 11/28, 32/28, 26/28", 4 * l, ends(0, l, 2*l, 3*l, 4*l), []Load{all(0, 4*l)},
			[]float64{11 * q * l / 28, 32 * q * l / 28, 26 * q * l / 28, 32 * q * l / 28, 11 * q * l / 28},
			[]place{{Moment, l, -3 * q * l * l / 28}, {Moment, 2 * l, -q * l * l / 14}},
		},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			m, err := NewMember([]Point{{}, {U: r.length}}, r.supports, Stiffness{EI: k})
			require.NoError(t, err)
			var d Diagram
			got, err := m.Solve(&d, nil, r.loads)
			require.NoError(t, err)
			for i, want := range r.reactions {
				assert.InEpsilon(t, want, got[i].Z, 1e-10, "reaction %d", i)
			}
			for _, v := range r.values {
				tolerance := 1e-9
				if v.q == Deflection && (v.v*k/q/math.Pow(l, 4) < 0.0066) {
					tolerance = 1e-4 // coefficients printed to four figures
				}
				value, known := d.Value(v.q, v.s, After)
				require.True(t, known)
				assert.InEpsilon(t, v.v, value, tolerance, "quantity %d at %g", v.q, v.s)
			}
		})
	}
}

func ends(at ...float64) (s []Support) {
	for i, x := range at {
		s = append(s, Support{At: x, Horizontal: i == 0})
	}
	return s
}

func TestExtremesAreSolvedWhereTheHandbookPutsThem(t *testing.T) {
	const l, q, k = 4000., 2.5, 1e12
	m, err := NewMember([]Point{{}, {U: l}}, ends(0, l), Stiffness{EI: k})
	require.NoError(t, err)
	var d Diagram
	_, err = m.Solve(&d, nil, []Load{{From: 0, To: l, Z1: -q}})
	require.NoError(t, err)
	moment, _ := d.Range(Moment)
	assert.InDelta(t, l/math.Sqrt(3), moment.Max.At, 1e-6)
	assert.Equal(t, Extreme{}, moment.Min, "of the two noughts the smallest place")
	shear, _ := d.Range(Shear)
	assert.Equal(t, 0., shear.Max.At)
	assert.InEpsilon(t, -q*l/3, shear.Min.Value, 1e-12)
	assert.Equal(t, Before, shear.Min.Side)
	// Roark, partial linear load over the whole span: x = L sqrt(1 - sqrt(8/15)).
	down, known := d.Range(Deflection)
	require.True(t, known)
	assert.InDelta(t, l*math.Sqrt(1-math.Sqrt(8./15)), down.Max.At, 1e-6)

	_, err = m.Solve(&d, nil, []Load{Force(1000, 0, -1000), Force(3000, 0, -1000)})
	require.NoError(t, err)
	moment, _ = d.Range(Moment)
	assert.InDelta(t, 1000, moment.Max.At, 1e-9, "constant between the loads: the smallest place")
	shear, _ = d.Range(Shear)
	assert.InDelta(t, 3000, shear.Min.At, 1e-9)
}

func TestSpansAndTheirDeflections(t *testing.T) {
	m, err := NewMember([]Point{{}, {U: 6000}}, ends(1000, 5000), Stiffness{EI: 1e12})
	require.NoError(t, err)
	require.Equal(t, []Span{{0, 1000, true}, {1000, 5000, false}, {5000, 6000, true}}, m.Spans())
	var d Diagram
	_, err = m.Solve(&d, nil, []Load{{From: 1000, To: 5000, Z0: -1, Z1: -1}})
	require.NoError(t, err)
	slope := 1 * math.Pow(4000, 3) / 24 / 1e12 // of a simple beam at its end, Roark (memory)
	tip, _ := d.Within(Deflection, 0, 1000)
	assert.InEpsilon(t, -slope*1000, tip.Min.Value, 1e-9)
	assert.Equal(t, 0., tip.Min.At)
	span, _ := d.Within(Deflection, 1000, 5000)
	assert.InEpsilon(t, 5*math.Pow(4000, 4)/384/1e12, span.Max.Value, 1e-9)
	assert.InDelta(t, 3000, span.Max.At, 1e-6)
	_, known := d.Value(Sway, 0, After)
	assert.False(t, known, "without EA the sideways movement is not known")
}

// A bent cantilever: height h, arm a, load P down at the tip. By unit load
// (textbook): tip down Pa3/3EI + Pa2h/EI + Ph/EA, sideways Pah2/2EI.
func TestCrankedCantilever(t *testing.T) {
	const h, a, p, ei, ea = 3000., 2000., 1500., 2e12, 4e8
	m, err := NewMember([]Point{{}, {Z: h}, {U: a, Z: h}}, []Support{{Horizontal: true, Fixed: true}}, Stiffness{EI: ei, EA: ea})
	require.NoError(t, err)
	var d Diagram
	r, err := m.Solve(&d, nil, []Load{Force(h+a, 0, -p)})
	require.NoError(t, err)
	assert.InEpsilon(t, p, r[0].Z, 1e-12)
	assert.InEpsilon(t, -p*a, r[0].Moment, 1e-12)
	down, _ := d.Value(Deflection, h+a, Before)
	assert.InEpsilon(t, p*a*a*a/3/ei+p*a*a*h/ei+p*h/ea, down, 1e-9)
	sway, _ := d.Value(Sway, h+a, Before)
	assert.InEpsilon(t, p*a*h*h/2/ei, sway, 1e-9)
	assert.InEpsilon(t, -p, d.At(0, After).N, 1e-12)
}

// A symmetric gable frame on pin and roller spreads; held at both feet it
// thrusts by the movement over the flexibility: here a two-bar triangle whose
// members only carry a load at the apex, H = P L / 4h when axially stiff.
func TestRollerMovesOutAndPinsThrust(t *testing.T) {
	const half, h, p = 2500., 2000., 3000.
	points := []Point{{}, {half, h}, {2 * half, 0}}
	side := math.Hypot(half, h)
	free, err := NewMember(points, []Support{{Horizontal: true}, {At: 2 * side}}, Stiffness{EI: 1e12, EA: 1e9})
	require.NoError(t, err)
	var d Diagram
	_, err = free.Solve(&d, nil, []Load{Force(side, 0, -p)})
	require.NoError(t, err)
	out, _ := d.Value(Sway, 2*side, Before)
	// Unit load at the roller: M = Pu/2 and m = z, N = -(P/2) sin and n = cos on both sides.
	assert.InEpsilon(t, p*half*h*side/3/1e12-p*h*half/side/1e9, out, 1e-9)
	require.True(t, free.Determinate())

	pinned, err := NewMember(points, []Support{{Horizontal: true}, {At: 2 * side, Horizontal: true}}, Stiffness{EI: 1, EA: 1e12})
	require.NoError(t, err)
	require.False(t, pinned.Determinate())
	r, err := pinned.Reactions(nil, []Load{Force(side, 0, -p)})
	require.NoError(t, err)
	assert.InEpsilon(t, p*half/2/h, r[0].U, 1e-9)
	assert.InEpsilon(t, -p*half/2/h, r[1].U, 1e-9)
}
