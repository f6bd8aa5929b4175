package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// moving is an Envelope of nothing but a load that may stand anywhere on a member.
func moving(t *testing.T, m *Member, weight float64) *Envelope {
	t.Helper()
	in := new(Influence)
	require.NoError(t, m.Influence(in, m.Answer))
	return &Envelope{Moving: []Moving{{Influence: in, Lone: weight}}}
}

func TestMovingLoadOnOneSpan(t *testing.T) {
	const l, p = 4000., 1500.
	m, err := NewMember([]Point{{}, {U: l}}, ends(0, l), Stiffness{EI: 1e12})
	require.NoError(t, err)
	e := moving(t, m, p)
	high, low, err := e.Range(Moment, 0, l)
	require.NoError(t, err)
	assert.InEpsilon(t, p*l/4, high.Value, 1e-9)
	assert.InDelta(t, l/2, high.At, 1e-3)
	assert.Zero(t, low.Value)
	high, low, err = e.Range(Shear, 0, l)
	require.NoError(t, err)
	assert.InEpsilon(t, p, high.Value, 1e-9)
	assert.InEpsilon(t, -p, low.Value, 1e-9)
	for i := range 2 {
		assert.InEpsilon(t, 1, e.Moving[0].Influence.Push(i).Up, 1e-9)
		assert.Zero(t, e.Moving[0].Influence.Push(i).Down)
	}
	high, _, err = e.Range(Deflection, 0, l)
	require.NoError(t, err)
	assert.InEpsilon(t, p*l*l*l/48/1e12, high.Value, 1e-9)
}

// The tip of an overhang moves by P a2 (l + a)/3EI, the span behind it turning with it (handbooks, memory).
func TestMovingLoadOnAnOverhang(t *testing.T) {
	const l, over, p, ei = 3000., 800., 1500., 1e12
	m, err := NewMember([]Point{{}, {U: l + over}}, ends(0, l), Stiffness{EI: ei})
	require.NoError(t, err)
	e := moving(t, m, p)
	_, low, err := e.Range(Moment, 0, l+over)
	require.NoError(t, err)
	assert.InEpsilon(t, -p*over, low.Value, 1e-9)
	assert.InDelta(t, l, low.At, 1e-6)
	assert.InEpsilon(t, -over/l, e.Moving[0].Influence.Push(0).Down, 1e-9)
	assert.InEpsilon(t, (l+over)/l, e.Moving[0].Influence.Push(1).Up, 1e-9)
	high, _, err := e.Range(Deflection, l, l+over)
	require.NoError(t, err)
	assert.InEpsilon(t, p*over*over*(l+over)/3/ei, high.Value, 1e-9)
}

// A load at the tip of an overhang of 668 mm makes the tip sag by P a2 (l + a)/3EI, a little less than a load in the middle of the
// span of 3 m makes the span sag, P l3/48EI (handbooks, memory): of two such tops the higher counts.
func TestSagHasATopOnTheSpanAndOneAtTheTip(t *testing.T) {
	const l, over, p, ei = 3000., 668., 1500., 1e12
	tip, middle := p*over*over*(l+over)/3/ei, p*l*l*l/48/ei
	require.InEpsilon(t, 0.97, tip/middle, 1e-3)
	m, err := NewMember([]Point{{}, {U: over + l}}, ends(over, over+l), Stiffness{EI: ei})
	require.NoError(t, err)
	high, _, err := moving(t, m, p).Range(Deflection, 0, l+over)
	require.NoError(t, err)
	assert.InEpsilon(t, middle, high.Value, 1e-7)
}

// Two equal spans: hogging at the middle is PL/6 sqrt 3 with the load at L/sqrt 3,
// and under the load M = P a(L-a)(4L2 - a(L+a))/4L3 (Roark, memory), whose
// largest value tables give as 0.2074 PL.
func TestMovingLoadOnTwoSpans(t *testing.T) {
	const l, p = 3000., 1500.
	m, err := NewMember([]Point{{}, {U: 2 * l}}, ends(0, l, 2*l), Stiffness{EI: 1e12})
	require.NoError(t, err)
	e := moving(t, m, p)
	high, low, err := e.Range(Moment, 0, 2*l)
	require.NoError(t, err)
	assert.InEpsilon(t, -p*l/6/math.Sqrt(3), low.Value, 1e-9)
	assert.InDelta(t, l, low.At, 1e-3)
	assert.InDelta(t, l/math.Sqrt(3), e.Moving[0].Influence.Worst(Moment, l, Before, -1).Load, 1e-3)
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
	assert.InEpsilon(t, under(lo), high.Value, 1e-9)
	assert.InEpsilon(t, 0.2074*p*l, high.Value, 5e-4)
	assert.InDelta(t, lo, high.At, 1e-2)
}

// Dead load of 2 N/mm on the left half of 4 m, and 1.5 kN that may stand anywhere. The dead load alone is worst 1500 mm
// along (R = 3000 N, M = 2.25 kNm) and the other in the middle (1.5 kNm); both together, to the left of the middle, make
// 3000 x - x2 + 1500 x (4000 - x)/4000 = 4500 x - 1.375 x2, worst at x = 1636.36: 3.681818 kNm.
func TestMovingLoadIsWorstBetweenTheOthersPlaces(t *testing.T) {
	const l = 4000.
	m, err := NewMember([]Point{{}, {U: l}}, ends(0, l), Stiffness{})
	require.NoError(t, err)
	e := moving(t, m, 1500)
	d := new(Diagram)
	_, err = m.Solve(d, nil, []Load{{From: 0, To: l / 2, Z0: -2, Z1: -2}})
	require.NoError(t, err)
	e.Permanent = []Part{{d, 1}}
	high, _, err := e.Range(Moment, 0, l)
	require.NoError(t, err)
	assert.InDelta(t, 4500.*4500/4/1.375, high.Value, 1)
	assert.InDelta(t, 4500/2/1.375, high.At, 0.01)
	assert.InDelta(t, high.Value, e.peak(Moment, high, 1).Forces.M, 1)
}

// Wherever the load is put on a member, straight or cranked, with overhangs, continuous or held at its ends, and whichever
// arrangements are there, what is found is not less; and it is reached.
func TestMovingLoadIsNotExceededAtAnyPlace(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 19))
	const places = 2000
	for n := range 9 {
		m, loads := randomMember(t, rng)
		if n%3 == 0 { // gravity alone, as on most members
			for i := range loads {
				loads[i].U0, loads[i].U1, loads[i].Moment = 0, 0, 0
				loads[i].Z0, loads[i].Z1 = -math.Abs(loads[i].Z0), -math.Abs(loads[i].Z1)
			}
		}
		l := m.axis.Length()
		permanent, variable := new(Diagram), new(Diagram)
		_, err := m.Solve(permanent, nil, loads)
		require.NoError(t, err)
		_, err = m.Solve(variable, nil, randomLoads(rng, l))
		require.NoError(t, err)
		e := Envelope{Permanent: []Part{{permanent, 1.35}}, Variable: []Part{{variable, 1.05}}, Moving: []Moving{{new(Influence), 0, 500 + 3000*rng.Float64()}}}
		require.NoError(t, m.Influence(e.Moving[0].Influence, m.Answer))
		still := Envelope{Permanent: append([]Part{}, e.Permanent...), Variable: e.Variable}
		still.Permanent = append(still.Permanent, Part{new(Diagram), e.Moving[0].Lone})
		d := still.Permanent[1].Diagram
		var tried [quantities][2]float64
		for q := range tried {
			tried[q] = [2]float64{math.Inf(-1), math.Inf(1)}
		}
		var pushes, sways [][2]float64
		var r []Reaction
		for i := range places + 1 {
			r, err = m.Solve(d, r[:0], []Load{Force(l*float64(i)/places, 0, -1)})
			require.NoError(t, err)
			for q := range quantities {
				high, low, err := still.Range(q, 0, l)
				require.NoError(t, err)
				tried[q][0], tried[q][1] = math.Max(tried[q][0], high.Value), math.Min(tried[q][1], low.Value)
			}
			if pushes == nil {
				pushes, sways = make([][2]float64, len(r)), make([][2]float64, len(r))
			}
			for j := range r {
				sway, _ := d.Value(Sway, m.supports[j].At, After)
				sways[j][0], sways[j][1] = math.Max(sways[j][0], sway), math.Min(sways[j][1], sway)
				pushes[j][0], pushes[j][1] = math.Max(pushes[j][0], r[j].Z), math.Min(pushes[j][1], r[j].Z)
			}
		}
		for q := range quantities {
			high, low, err := e.Range(q, 0, l)
			require.NoError(t, err)
			size := math.Max(math.Abs(high.Value), math.Abs(low.Value))
			slack := 1e-9 * size
			if q > Moment {
				slack = 1e-4 * size // which Bends sounds for
			}
			require.GreaterOrEqual(t, high.Value, tried[q][0]-slack, "member %d quantity %d", n, q)
			require.LessOrEqual(t, low.Value, tried[q][1]+slack, "member %d quantity %d", n, q)
			if q > Moment {
				continue // a bound: the two need not be worst at one place
			}
			require.InDelta(t, tried[q][0], high.Value, 4e-3*size, "member %d quantity %d is not reached", n, q)
			require.InDelta(t, tried[q][1], low.Value, 4e-3*size, "member %d quantity %d is not reached", n, q)
			for _, p := range [2]struct {
				Extreme
				sense float64
			}{{high, 1}, {low, -1}} {
				at := e.Moving[0].Influence.Worst(q, p.At, p.Side, p.sense)
				unit := -1.0
				if at.Value == 0 {
					unit = 0 // it is best left away
				}
				_, err = m.Solve(d, nil, []Load{Force(beside(at, l), 0, unit)})
				require.NoError(t, err)
				top, bottom, err := still.At(q, p.At, p.Side)
				require.NoError(t, err)
				if p.sense < 0 {
					top = bottom
				}
				require.InDelta(t, p.Value, top.Value, 1e-4*size, "member %d quantity %d at %g with the load at %g", n, q, p.At, at.Load)
			}
		}
		for j := range pushes {
			push := e.Moving[0].Influence.Push(j)
			up, down := push.Up, push.Down
			require.InDelta(t, pushes[j][0], up, 1e-3)
			require.GreaterOrEqual(t, up, pushes[j][0]-1e-9)
			require.InDelta(t, pushes[j][1], down, 1e-3)
			require.LessOrEqual(t, down, pushes[j][1]+1e-9)
			up, down, err = e.Moving[0].Influence.BendsAt(Sway, m.supports[j].At, After)
			require.NoError(t, err)
			size := math.Max(up, -down)
			require.InDelta(t, sways[j][0], up, 1e-3*size+1e-15)
			require.GreaterOrEqual(t, up, sways[j][0]-1e-7*size-1e-15)
			require.InDelta(t, sways[j][1], down, 1e-3*size+1e-15)
			require.LessOrEqual(t, down, sways[j][1]+1e-7*size+1e-15)
		}
	}
}

// beside is the place of a load, moved off the section by what a solver still tells apart.
func beside(at Standing, length float64) float64 {
	if at.before {
		return math.Max(0, at.Load-1e-5*length)
	}
	return math.Min(length, at.Load+1e-5*length)
}

// The load of a member that is not solved by its supports alone: a rafter of a couple, whose answers its partner and ties
// give. 1 kN in the middle of a rafter of 4 m run by 3 m rise, tied at the feet: moments about the head give the far foot
// 250 N, which the tie's pull balances, 250 x 4000 / 3000 = 333.3 N; the rafter spans from foot to head: PL/4 in plan.
func TestMovingLoadOnACouple(t *testing.T) {
	rafter := Rafter{Axis: []Point{{}, {4000, 3000}}, Stiffness: Stiffness{EA: 1e8, EI: 1e11}}
	var c Couple
	require.NoError(t, c.Set([2]Rafter{rafter, rafter}, []Tie{{EA: 1e8}}, CoupleOptions{}))
	var in Influence
	require.NoError(t, c.Rafters[0].Influence(&in, func(dst []Load, at float64) ([]Load, error) {
		f, err := c.Forces([2][]Load{{Force(at, 0, -1)}})
		if err != nil {
			return dst, err
		}
		dst = append(dst, Force(0, f.Feet[0].U, f.Feet[0].Z), Force(5000, f.Heads[0].U, f.Heads[0].Z))
		return c.Pulls(dst, 0, f), nil
	}))
	e := Envelope{Moving: []Moving{{&in, 0, 1000}}}
	high, _, err := e.Range(Moment, 0, 5000)
	require.NoError(t, err)
	assert.InEpsilon(t, 1000*4000/4, high.Value, 1e-9)
	assert.InDelta(t, 2500, high.At, 1e-3)
	_, low, err := e.Range(Axial, 0, 5000)
	require.NoError(t, err)
	assert.InEpsilon(t, -500/0.6, low.Value, 1e-9) // on the ridge: each rafter carries half, at sin = 0.6
	assert.InEpsilon(t, 1, in.Push(0).Up, 1e-9)
	assert.Zero(t, in.Push(0).Sideways, "the tie takes the thrust")
}
