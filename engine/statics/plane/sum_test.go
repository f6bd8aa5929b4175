package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The largest of all 2^k sums of arrangements, each solved by itself, is what an
// Envelope must find.
func TestEnvelopeIsTheWorstOfAllArrangements(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 7))
	for range 60 {
		m, loads := randomMember(t, rng)
		permanent := new(Diagram)
		_, err := m.Solve(permanent, nil, loads)
		require.NoError(t, err)
		e := Envelope{Permanent: []Part{{permanent, 1.35}}}
		for range 1 + rng.IntN(4) {
			d := new(Diagram)
			_, err := m.Solve(d, nil, randomLoads(rng, m.axis.Length()))
			require.NoError(t, err)
			e.Variable = append(e.Variable, Part{d, 3 * (rng.Float64() - 0.3)})
		}
		for q := range quantities {
			want := Range{Max: Extreme{Value: math.Inf(-1)}, Min: Extreme{Value: math.Inf(1)}}
			for set := range 1 << len(e.Variable) {
				parts := append([]Part{}, e.Permanent...)
				for i, p := range e.Variable {
					if set>>i&1 == 1 {
						parts = append(parts, p)
					}
				}
				var d Diagram
				require.NoError(t, d.Combine(parts...))
				r, known := d.Range(q)
				require.True(t, known)
				if r.Max.Value > want.Max.Value {
					want.Max = r.Max
				}
				if r.Min.Value < want.Min.Value {
					want.Min = r.Min
				}
			}
			largest, smallest, err := e.Range(q, 0, m.axis.Length())
			require.NoError(t, err)
			high, low := e.peak(q, largest, 1), e.peak(q, smallest, -1)
			near := 1e-9 * math.Max(math.Abs(want.Max.Value), math.Abs(want.Min.Value))
			require.InDelta(t, want.Max.Value, high.Value, near)
			require.InDelta(t, want.Min.Value, low.Value, near)
			requireConcurrent(t, &e, q, high, near)
			requireConcurrent(t, &e, q, low, near)
			again, _, err := e.At(q, high.At, high.Side)
			require.NoError(t, err)
			require.InDelta(t, high.Value, again.Value, 2e-6*math.Abs(high.Value)+near)
		}
	}
}

// requireConcurrent holds the forces of a peak against the sum of what is on.
func requireConcurrent(t *testing.T, e *Envelope, q Quantity, p Peak, near float64) {
	t.Helper()
	parts := append([]Part{}, e.Permanent...)
	for i, on := range p.On {
		if on {
			parts = append(parts, e.Variable[i])
		}
	}
	var d Diagram
	require.NoError(t, d.Combine(parts...))
	f := d.At(p.At, p.Side)
	r, _ := d.Range(Moment)
	require.InDelta(t, f.M, p.Forces.M, 1e-9*math.Max(math.Abs(r.Max.Value), math.Abs(r.Min.Value)))
	v, _ := d.Value(q, p.At, p.Side)
	require.InDelta(t, p.Value, v, 2e-6*math.Abs(p.Value)+near)
}

// Two equal spans: the loaded span alone sags 49/512, both hog 1/8 (Steel
// Designers' Manual, memory).
func TestArrangementsOfTwoSpans(t *testing.T) {
	const l = 3000.
	m, err := NewMember([]Point{{}, {U: 2 * l}}, ends(0, l, 2*l), Stiffness{EI: 1e12})
	require.NoError(t, err)
	var always, first, second Diagram
	_, err = m.Solve(&always, nil, nil)
	require.NoError(t, err)
	one, err := m.Solve(&first, nil, []Load{{From: 0, To: l, Z0: -1, Z1: -1}})
	require.NoError(t, err)
	other, err := m.Solve(&second, nil, []Load{{From: l, To: 2 * l, Z0: -1, Z1: -1}})
	require.NoError(t, err)
	e := Envelope{Permanent: []Part{{&always, 1}}, Variable: []Part{{&first, 1}, {&second, 1}}}
	largest, smallest, err := e.Range(Moment, 0, 2*l)
	require.NoError(t, err)
	high, low := e.peak(Moment, largest, 1), e.peak(Moment, smallest, -1)
	assert.InEpsilon(t, 49*l*l/512, high.Value, 1e-9)
	assert.InDelta(t, 7*l/16, high.At, 1e-6)
	assert.Equal(t, []bool{true, false}, high.On)
	assert.InEpsilon(t, -l*l/8, low.Value, 1e-9)
	assert.Equal(t, []bool{true, true}, low.On)
	assert.InDelta(t, low.Value, low.Forces.M, 1e-6)
	most, least := Unfavourable(0, one[0].Z, other[0].Z)
	assert.InEpsilon(t, 7*l/16, most, 1e-9)
	assert.InEpsilon(t, -l/16, least, 1e-9)
}

func TestSumsThatDoNotBelongTogether(t *testing.T) {
	a, err := NewMember([]Point{{}, {U: 1000}}, ends(0, 1000), Stiffness{})
	require.NoError(t, err)
	b, err := NewMember([]Point{{}, {U: 2000}}, ends(0, 2000), Stiffness{})
	require.NoError(t, err)
	var da, db, sum Diagram
	_, err = a.Solve(&da, nil, []Load{Force(500, 0, -1)})
	require.NoError(t, err)
	_, err = b.Solve(&db, nil, []Load{Force(500, 0, -1)})
	require.NoError(t, err)
	assert.ErrorIs(t, sum.Combine(Part{&da, 1}, Part{&db, 1}), ErrMismatch)
	assert.ErrorIs(t, sum.Combine(), ErrMismatch)
	assert.ErrorIs(t, sum.Combine(Part{&da, math.NaN()}), ErrNotFinite)
	assert.ErrorIs(t, sum.Combine(Part{new(Diagram), 1}), ErrMismatch)
	e := Envelope{Permanent: []Part{{&da, 1}}}
	_, _, err = e.Range(Deflection, 0, 1000)
	assert.ErrorIs(t, err, ErrStiffness, "without EI there is no deflection to envelope")
	_, _, err = e.Range(Moment, 900, 100)
	assert.ErrorIs(t, err, ErrMismatch)
}
