package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

func rafter(run, rise, foot float64) Rafter {
	return Rafter{Axis: []Point{{}, {run, rise}}, Foot: foot, Stiffness: Stiffness{EA: 7e7, EI: 1.4e11}}
}

func down(l, q float64) []Load { return []Load{{From: 0, To: l, Z0: -q, Z1: -q}} }

// Three hinges by hand: the moment of one rafter about the head gives the tie.
func TestCoupleWithOneTieIsThreeHinges(t *testing.T) {
	const run, rise, q = 2500., 2000., 0.8
	length := math.Hypot(run, rise)
	w := q * length // load of one rafter
	rows := []struct {
		name string
		at   float64 // of the tie, as a part of the rafter
		want float64
	}{
		{"tie at the feet: W run / 2 rise", 0, w * run / 2 / rise},
		{"collar at a third: W run / 2 over what is left of the rise", 1. / 3, w * run / 2 / (rise * 2 / 3)},
		{"collar half-way up", 0.5, w * run / 2 / (rise / 2)},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			var c Couple
			at := r.at * length
			require.NoError(t, c.Set([2]Rafter{rafter(run, rise, 0), rafter(run, rise, 0)}, []Tie{{At: [2]float64{at, at}}}, CoupleOptions{}))
			require.True(t, c.Determinate())
			loads := [2][]Load{down(length, q), down(length, q)}
			f, err := c.Forces(loads)
			require.NoError(t, err)
			assert.InEpsilon(t, r.want, f.Ties[0], 1e-10)
			assert.InEpsilon(t, w, f.Feet[0].Z, 1e-10)
			assert.InEpsilon(t, w, f.Feet[1].Z, 1e-10)
			assert.InDelta(t, 0, f.Feet[0].U, 1e-9*w)
			assert.InEpsilon(t, -r.want, f.Heads[0].U, 1e-10)
			assert.InDelta(t, 0, f.Heads[0].Z, 1e-9*w)
			var d Diagram
			require.NoError(t, c.Diagram(&d, 0, loads[0], f))
			assert.InDelta(t, 0, d.At(length, Before).M, 1e-9*w*length)
			require.NoError(t, c.Rafters[0].Deflect(&d))
		})
	}
}

// A load of 1 N at u from a foot brings u / 2 run to the other foot, and so, by the moment of that half about the head, the tie
// u / 2 over its depth below the head: most at the ridge. On an eave it lifts the other foot, and presses the tie.
func TestTieUnderALoadThatMayStandAnywhere(t *testing.T) {
	const run, rise = 2500., 2000.
	length := math.Hypot(run, rise)
	rows := []struct {
		name string
		foot float64 // mm along the rafter
		at   float64 // of the tie, as a part of the way from foot to head
		want Reach
	}{
		{"tie at the feet", 0, 0, Reach{Largest: run / 2 / rise}},
		{"collar at a third", 0, 1. / 3, Reach{Largest: run / 2 / (rise * 2 / 3)}},
		{"eaves a fifth of the way beyond the feet", length / 5, 0, Reach{Largest: run / 2 / rise, Smallest: -run / 5 / 2 / rise}},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			var c Couple
			beyond := r.foot / length
			at := r.foot + r.at*length
			both := [2]Rafter{rafter(run*(1+beyond), rise*(1+beyond), r.foot), rafter(run*(1+beyond), rise*(1+beyond), r.foot)}
			require.NoError(t, c.Set(both, []Tie{{At: [2]float64{at, at}}}, CoupleOptions{}))
			for side := range 2 {
				reach, err := c.Reach(nil, side)
				require.NoError(t, err)
				require.Len(t, reach, 1)
				assert.InDelta(t, r.want.Largest, reach[0].Largest, 1e-9)
				assert.InDelta(t, r.want.Smallest, reach[0].Smallest, 1e-9)
			}
		})
	}
}

// Two ties share the thrust: wherever the load stands, what either takes stays within its reach.
func TestTiesThatShareKeepWithinTheirReach(t *testing.T) {
	const run, rise = 2500., 2000.
	length := math.Hypot(run, rise)
	var c Couple
	ties := []Tie{{At: [2]float64{0, 0}, EA: 5e7}, {At: [2]float64{length / 2, length / 2}, EA: 5e7}}
	require.NoError(t, c.Set([2]Rafter{rafter(run, rise, 0), rafter(run, rise, 0)}, ties, CoupleOptions{}))
	reach, err := c.Reach(nil, 0)
	require.NoError(t, err)
	most, least := [2]float64{}, [2]float64{}
	for i := range 2001 {
		f, err := c.Forces([2][]Load{{Force(length*float64(i)/2000, 0, -1)}, nil})
		require.NoError(t, err)
		for k, n := range f.Ties {
			most[k], least[k] = max(most[k], n), min(least[k], n)
		}
	}
	for k := range ties {
		assert.InDelta(t, most[k], reach[k].Largest, 1e-6)
		assert.GreaterOrEqual(t, reach[k].Largest, most[k]-1e-12)
		assert.InDelta(t, least[k], reach[k].Smallest, 1e-6)
	}
}

// Unequal: feet by moments about each other, tie by the moments of one half.
func TestUnequalCoupleWithEaves(t *testing.T) {
	var c Couple
	const rise = 1800.
	a, b := rafter(3000, 2200, 0), rafter(2000, 2000, 0)
	la, lb := math.Hypot(3000, 2200), math.Hypot(2000, 2000)
	a.Foot = la * 400 / 2200 // its eaves hang 400 below the plate
	b.Foot = lb * 200 / 2000
	require.NoError(t, c.Set([2]Rafter{a, b}, []Tie{{At: [2]float64{a.Foot, b.Foot}}}, CoupleOptions{Drift: 1}))
	loads := [2][]Load{append(down(la, 0.7), Load{From: a.Foot, To: la, U0: 0.2, U1: 0.2, Z0: -0.1, Z1: -0.1}), down(lb, 0.4)}
	f, err := c.Forces(loads)
	require.NoError(t, err)

	runA, runB := 3000*(1-400./2200), 2000*(1-200./2000) // from foot to head
	wa, wb := 0.7*la, 0.4*lb
	part := la - a.Foot
	hu, hz := 0.2*part, 0.1*part // the wind's pushes, at the middle of that part
	// About foot b (clockwise positive, u towards b): all that pushes down on a.
	foot := (wa*(runA+runB-(1500-3000*400./2200)) + hz*(runB+runA/2) + wb*(1000-2000*200./2000) - hu*rise/2) / (runA + runB)
	assert.InEpsilon(t, foot, f.Feet[0].Z, 1e-10)
	assert.InEpsilon(t, wa+wb+hz-foot, f.Feet[1].Z, 1e-10)
	assert.InEpsilon(t, hu, f.Feet[1].U, 1e-10, "held against drift: it pushes back towards the head")
	assert.Zero(t, f.Feet[0].U)
	tie := (foot*runA - wa*(runA-(1500-3000*400./2200)) - hz*runA/2 - hu*rise/2) / rise
	assert.InEpsilon(t, tie, f.Ties[0], 1e-10)
}

func TestRidgeBeamTakesTheThrustAway(t *testing.T) {
	var c Couple
	l := math.Hypot(2500, 2000)
	require.NoError(t, c.Set([2]Rafter{rafter(2500, 2000, 0), rafter(2500, 2000, 0)}, nil, CoupleOptions{HeadHeld: true}))
	f, err := c.Forces([2][]Load{down(l, 1), down(l, 1)})
	require.NoError(t, err)
	assert.InEpsilon(t, l, f.Ridge, 1e-10)
	assert.InEpsilon(t, l/2, f.Feet[0].Z, 1e-10)
	assert.InDelta(t, 0, f.Heads[1].U, 1e-9*l)
}

// Two ties, or a ridge beam besides a tie, against the frame by direct stiffness.
func TestOverTiedCoupleAgreesWithDirectStiffness(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	worst := 0.0
	for n := range 100 {
		a, b := rafter(2000+2000*rng.Float64(), 2000, 0), rafter(2000+2000*rng.Float64(), 2000+500*rng.Float64(), 0)
		b.Stiffness.EI *= 1 + rng.Float64()
		lengths := [2]float64{math.Hypot(a.Axis[1].U, a.Axis[1].Z), math.Hypot(b.Axis[1].U, b.Axis[1].Z)}
		a.Foot, b.Foot = 0.2*rng.Float64()*lengths[0], 0.2*rng.Float64()*lengths[1]
		var ties []Tie
		for i := range 1 + rng.IntN(3) {
			low := 0.3 * float64(i)
			ties = append(ties, Tie{At: [2]float64{(low + 0.2*rng.Float64()) * lengths[0], (low + 0.2*rng.Float64()) * lengths[1]}, EA: 5e7 * (1 + rng.Float64())})
		}
		o := CoupleOptions{Drift: rng.IntN(2), HeadHeld: len(ties) == 1 || rng.IntN(2) == 0}
		var c Couple
		require.NoError(t, c.Set([2]Rafter{a, b}, ties, o))
		require.False(t, c.Determinate())
		loads := [2][]Load{randomLoads(rng, lengths[0]), randomLoads(rng, lengths[1])}
		f, err := c.Forces(loads)
		require.NoError(t, err)
		e := coupleError(t, &c, loads, f)
		worst = math.Max(worst, e)
		require.Less(t, e, 1e-6, "couple %d: where pieces are short the stiffness matrix loses that much", n)
	}
	t.Logf("100 couples: worst relative error %.1e", worst)
}

func coupleError(t *testing.T, c *Couple, loads [2][]Load, f CoupleForces) float64 {
	var g [2]meshed
	var d [2]Diagram
	n := 0
	for r := range g {
		require.NoError(t, c.Diagram(&d[r], r, loads[r], f))
		g[r] = mesh(&c.Rafters[r], &d[r], loads[r], n, false)
		n += 3 * len(g[r].at)
	}
	// The second rafter turned about, its head on the first one's.
	head, other := g[0].points[len(g[0].at)-1], g[1].points[len(g[1].at)-1]
	for i := range g[1].points {
		p := &g[1].points[i]
		p.U, p.Z = head.U+other.U-p.U, p.Z+head.Z-other.Z
		g[1].nodal[i][0], g[1].nodal[i][2] = -g[1].nodal[i][0], -g[1].nodal[i][2]
	}
	last := [2]int{len(g[0].at) - 1, len(g[1].at) - 1}
	held := []int{g[1].dofs[last[1]][0], g[1].dofs[last[1]][1]} // no longer used
	g[1].dofs[last[1]][0], g[1].dofs[last[1]][1] = g[0].dofs[last[0]][0], g[0].dofs[last[0]][1]

	k, load := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for r := range g {
		g[r].assemble(k, load)
	}
	var ends [][2][3]int
	for _, tie := range c.ties {
		i, j := g[0].node(tie.At[0]), g[1].node(tie.At[1])
		p, q := g[0].points[i], g[1].points[j]
		l := math.Hypot(q.U-p.U, q.Z-p.Z)
		e := [4]float64{-(q.U - p.U) / l, -(q.Z - p.Z) / l, (q.U - p.U) / l, (q.Z - p.Z) / l}
		dofs := [4]int{g[0].dofs[i][0], g[0].dofs[i][1], g[1].dofs[j][0], g[1].dofs[j][1]}
		for x := range dofs {
			for y := range dofs {
				if dofs[x] <= dofs[y] {
					k.SetSym(dofs[x], dofs[y], k.At(dofs[x], dofs[y])+tie.EA/l*e[x]*e[y])
				}
			}
		}
		ends = append(ends, [2][3]int{g[0].dofs[i], g[1].dofs[j]})
	}
	feet := [2][3]int{}
	for r := range g {
		feet[r] = g[r].dofs[g[r].node(c.Rafters[r].supports[0].At)]
		held = append(held, feet[r][1])
	}
	held = append(held, feet[c.shape.Drift][0])
	ridge := g[0].dofs[last[0]][1]
	if c.shape.HeadHeld {
		held = append(held, ridge)
	}
	u, push := displacements(t, k, load, held)

	size := 0.0
	var off []float64
	for r := range feet {
		size += math.Abs(push[feet[r][1]])
		off = append(off, f.Feet[r].Z-push[feet[r][1]])
	}
	drift := push[feet[c.shape.Drift][0]]
	if c.shape.Drift == 1 {
		drift = -drift
	}
	off = append(off, f.Feet[c.shape.Drift].U-drift)
	if c.shape.HeadHeld {
		off = append(off, f.Ridge-push[ridge])
	}
	for i, tie := range c.ties {
		p, q := g[0].points[g[0].node(tie.At[0])], g[1].points[g[1].node(tie.At[1])]
		l := math.Hypot(q.U-p.U, q.Z-p.Z)
		longer := ((u.AtVec(ends[i][1][0])-u.AtVec(ends[i][0][0]))*(q.U-p.U) + (u.AtVec(ends[i][1][1])-u.AtVec(ends[i][0][1]))*(q.Z-p.Z)) / l
		size += math.Abs(f.Ties[i])
		off = append(off, f.Ties[i]-tie.EA/l*longer)
	}
	worst := 0.0
	for _, o := range off {
		worst = math.Max(worst, math.Abs(o)/size)
	}
	return worst
}

func TestCouplesThatCannotStand(t *testing.T) {
	good := [2]Rafter{rafter(2500, 2000, 0), rafter(2500, 2000, 0)}
	var c Couple
	assert.ErrorIs(t, c.Set(good, nil, CoupleOptions{}), ErrMechanism, "the feet spread")
	assert.ErrorIs(t, c.Set(good, []Tie{{At: [2]float64{0, 9999}}}, CoupleOptions{}), ErrBeyond)
	head := math.Hypot(2500, 2000)
	assert.ErrorIs(t, c.Set(good, []Tie{{At: [2]float64{head, head}}}, CoupleOptions{}), ErrLength)
	assert.ErrorIs(t, c.Set(good, []Tie{{}}, CoupleOptions{Drift: 2}), ErrMismatch)
	assert.ErrorIs(t, c.Set([2]Rafter{good[0], {}}, []Tie{{}}, CoupleOptions{}), ErrLength)
	assert.ErrorIs(t, c.Set(good, []Tie{{EA: math.NaN()}}, CoupleOptions{}), ErrNotFinite)

	two := []Tie{{EA: 1e8}, {At: [2]float64{1500, 1500}}}
	require.NoError(t, c.Set(good, two, CoupleOptions{}))
	_, err := c.Forces([2][]Load{})
	assert.ErrorIs(t, err, ErrStiffness, "two ties share by their stiffness")
	require.NoError(t, c.Set(good, two[:1], CoupleOptions{}))
	_, err = c.Forces([2][]Load{down(9999, 1), nil})
	assert.ErrorIs(t, err, ErrBeyond)
	assert.ErrorIs(t, c.Diagram(new(Diagram), 2, nil, CoupleForces{Ties: []float64{0}}), ErrMismatch)
	assert.ErrorIs(t, c.Diagram(new(Diagram), 0, nil, CoupleForces{}), ErrMismatch)
	_, err = new(Couple).Forces([2][]Load{})
	assert.ErrorIs(t, err, ErrMechanism, "a couple that was never set")
}
