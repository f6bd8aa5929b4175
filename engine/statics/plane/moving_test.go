package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMovingLoadOnOneSpan(t *testing.T) {
	const l, p = 4000., 1500.
	m, err := NewMember([]Point{{}, {U: l}}, ends(0, l), Stiffness{})
	require.NoError(t, err)
	w, err := m.Move(0, -p, 0, l)
	require.NoError(t, err)
	assert.InEpsilon(t, p*l/4, w.Moment.Max.Value, 1e-9)
	assert.InDelta(t, l/2, w.Moment.Max.Load, 1e-3)
	assert.InDelta(t, l/2, w.Moment.Max.At, 1e-3)
	assert.InEpsilon(t, p, w.Shear.Max.Value, 1e-9)
	assert.InDelta(t, 0, w.Shear.Max.Load, 1e-6)
	assert.InEpsilon(t, -p, w.Shear.Min.Value, 1e-9)
	assert.InEpsilon(t, p, w.Reactions[0].Max.Value, 1e-9)
	assert.InEpsilon(t, p, w.Reactions[1].Max.Value, 1e-9)
	assert.InDelta(t, l, w.Reactions[1].Max.Load, 1e-6)
}

func TestMovingLoadOnAnOverhang(t *testing.T) {
	const l, over, p = 3000., 800., 1500.
	m, err := NewMember([]Point{{}, {U: l + over}}, ends(0, l), Stiffness{})
	require.NoError(t, err)
	w, err := m.Move(0, -p, 0, l+over)
	require.NoError(t, err)
	assert.InEpsilon(t, -p*over, w.Moment.Min.Value, 1e-9)
	assert.InDelta(t, l+over, w.Moment.Min.Load, 1e-6)
	assert.InDelta(t, l, w.Moment.Min.At, 1e-6)
	assert.InEpsilon(t, -p*over/l, w.Reactions[0].Min.Value, 1e-9)
	assert.InEpsilon(t, p*(l+over)/l, w.Reactions[1].Max.Value, 1e-9)
}

// Two equal spans: hogging at the middle is PL/6 sqrt 3 with the load at L/sqrt 3,
// and under the load M = P a(L-a)(4L2 - a(L+a))/4L3 (Roark, memory), whose
// largest value tables give as 0.2074 PL.
func TestMovingLoadOnTwoSpans(t *testing.T) {
	const l, p = 3000., 1500.
	m, err := NewMember([]Point{{}, {U: 2 * l}}, ends(0, l, 2*l), Stiffness{EI: 1e12})
	require.NoError(t, err)
	w, err := m.Move(0, -p, 0, 2*l)
	require.NoError(t, err)
	assert.InEpsilon(t, -p*l/6/math.Sqrt(3), w.Moment.Min.Value, 1e-9)
	assert.InDelta(t, l/math.Sqrt(3), w.Moment.Min.Load, 1e-3)
	under := func(a float64) float64 { return p * a * (l - a) * (4*l*l - a*(l+a)) / 4 / l / l / l }
	lo, hi := 0., l
	for hi-lo > 1e-7 { // golden enough: the curve has one top
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if under(a) < under(b) {
			lo = a
		} else {
			hi = b
		}
	}
	assert.InEpsilon(t, under(lo), w.Moment.Max.Value, 1e-9)
	assert.InEpsilon(t, 0.2074*p*l, w.Moment.Max.Value, 5e-4)
	assert.InDelta(t, lo, w.Moment.Max.Load, 1e-2)
}

func TestMovingLoadIsNotExceededAtAnyPlace(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 19))
	for n := range 40 {
		m, _ := randomMember(t, rng)
		l := m.axis.Length()
		w, err := m.Move(0, -1000, 0, l)
		require.NoError(t, err)
		var d Diagram
		var r []Reaction
		for i := range 301 {
			r, err = m.Solve(&d, r[:0], []Load{Force(l*float64(i)/300, 0, -1000)})
			require.NoError(t, err)
			for _, c := range [...]struct {
				q    Quantity
				over MovingRange
			}{{Moment, w.Moment}, {Shear, w.Shear}} {
				got, _ := d.Range(c.q)
				slack := 1e-8 * math.Max(math.Abs(c.over.Max.Value), math.Abs(c.over.Min.Value))
				if got.Max.Value > c.over.Max.Value+slack || got.Min.Value < c.over.Min.Value-slack {
					t.Fatalf("member %d quantity %d at %d: %+v outside %+v", n, c.q, i, got, c.over)
				}
			}
			for j := range r {
				if r[j].Z > w.Reactions[j].Max.Value+1e-5 || r[j].Z < w.Reactions[j].Min.Value-1e-5 {
					t.Fatalf("member %d support %d at %d: %g outside %+v", n, j, i, r[j].Z, w.Reactions[j])
				}
			}
		}
		// And each is reached, with the load put where it says.
		for _, p := range [...]MovingPeak{w.Moment.Max, w.Moment.Min} {
			_, err = m.Solve(&d, nil, []Load{Force(p.Load, 0, -1000)})
			require.NoError(t, err)
			v, _ := d.Value(Moment, p.At, p.Side)
			near := 2e-6 * math.Max(math.Abs(w.Moment.Max.Value), math.Abs(w.Moment.Min.Value))
			require.InDelta(t, p.Value, v, near, "member %d: %+v", n, p)
		}
	}
}

func TestMovingLoadOffTheMember(t *testing.T) {
	m, err := NewMember([]Point{{}, {U: 1000}}, ends(0, 1000), Stiffness{})
	require.NoError(t, err)
	for _, w := range [][2]float64{{-10, 500}, {0, 1100}, {600, 400}, {math.NaN(), 1}} {
		_, err = m.Move(0, -1, w[0], w[1])
		assert.ErrorIs(t, err, ErrBeyond)
	}
	_, err = m.Move(math.Inf(1), -1, 0, 1000)
	assert.ErrorIs(t, err, ErrNotFinite)
}
