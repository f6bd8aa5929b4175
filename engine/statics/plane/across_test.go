package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// across fills in what a load on one rafter of a couple, 0 or 1, does to rafter 0.
func across(t *testing.T, c *Couple, loaded int) *Influence {
	t.Helper()
	in := new(Influence)
	answer := func(dst []Load, at float64) ([]Load, error) {
		var loads [2][]Load
		loads[loaded] = []Load{Force(at, 0, -1)}
		f, err := c.Forces(loads)
		if err != nil {
			return dst, err
		}
		for i, push := range [2]Reaction{f.Feet[0], f.Heads[0]} {
			dst = append(dst, Force(c.Rafters[0].supports[i].At, push.U, push.Z))
		}
		return c.Pulls(dst, 0, f), nil
	}
	if loaded == 0 {
		require.NoError(t, c.Rafters[0].Influence(in, answer))
	} else {
		require.NoError(t, c.Rafters[0].InfluenceFrom(in, c.Way(loaded), answer))
	}
	return in
}

// Three hinges by hand: P on the ridge, which is where it is worst for the bare rafter, brings P d / (c + d) to that rafter's foot,
// c and d being the runs of the bare and of the loaded rafter. Its moment about the ridge is held by the thrust H = P c d / (c + d) over
// the depth of the tie below the ridge. Between foot and tie the rafter carries the foot's push alone, above it the thrust too:
// N = -(H cos + V sin), and bends by V times the tie's distance in plan from the foot. From an eave beyond the far foot, o in plan,
// everything is -o/d as much.
func TestRafterUnderALoadOnTheOther(t *testing.T) {
	const p = 1000.
	rows := []struct {
		name          string
		run, far      float64 // from foot to ridge
		rise          float64
		tie           float64 // level of the tie, as a part of the rise
		eaves         float64 // of the far rafter, as a part of its run
		foot, moment  float64 // largest
		most, mostTie float64 // pressure above and below the tie
		pulls         float64 // largest tension
	}{
		// H = 1000 * 4000 * 4000 / 8000 / 3000 = 666.67; N = 666.67 * 0.8 + 500 * 0.6 from end to end
		{name: "equal, tied at the feet: it is pressed and not bent", run: 4000, far: 4000, rise: 3000, foot: 500, most: 2500. / 3},
		// V = 1000 * 5 / 8 = 625; H = 625 * 3000 / 3000 = 625; N = 1250 / sqrt 2
		{name: "unequal, tied at the feet", run: 3000, far: 5000, rise: 3000, foot: 625, most: 1250 / math.Sqrt2},
		// V = 1000 * 3 / 8 = 375; H = 375 * 5000 / 3000 = 625; N = (625 * 5 + 375 * 3) / sqrt 34
		{name: "unequal, from the short rafter to the long one", run: 5000, far: 3000, rise: 3000, foot: 375, most: (625*5 + 375*3) / math.Sqrt(34)},
		// H = 500 * 4000 / 1500 = 1333.33; N = 1333.33 * 0.8 + 300 above, 300 below; M = 500 * 2000
		{name: "equal, a collar half-way up bends it", run: 4000, far: 4000, rise: 3000, tie: 0.5, foot: 500, moment: 1e6, most: 4100. / 3, mostTie: 300},
		// V = 625, H = 625 * 3000 / 2000 = 937.5; N = (937.5 + 625) / sqrt 2 above, 625 / sqrt 2 below; M = 625 * 1000
		{name: "unequal, a collar a third up", run: 3000, far: 5000, rise: 3000, tie: 1. / 3, foot: 625, moment: 625e3, most: 1562.5 / math.Sqrt2, mostTie: 625 / math.Sqrt2},
		{name: "from the far eave everything turns round", run: 4000, far: 4000, rise: 3000, eaves: 0.1, foot: 500, most: 2500. / 3, pulls: 250. / 3},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			length, far := math.Hypot(r.run, r.rise), math.Hypot(r.far, r.rise)
			bare, other := rafter(r.run, r.rise, 0), rafter(r.far*(1+r.eaves), r.rise*(1+r.eaves), far*r.eaves)
			bare.Stiffness.EA = 1e18 // no sag from being pressed
			var c Couple
			tie := Tie{At: [2]float64{r.tie * length, (r.eaves + r.tie) * far}}
			require.NoError(t, c.Set([2]Rafter{bare, other}, []Tie{tie}, CoupleOptions{}))
			in := across(t, &c, 1)
			e := Envelope{Moving: []Moving{{Influence: in, Weight: p}}}
			assert.InDelta(t, r.foot, p*in.Push(0).Up, 1e-8)
			assert.InDelta(t, -r.foot*r.eaves, p*in.Push(0).Down, 1e-8)
			assert.InDelta(t, -r.foot, p*in.Push(1).Down, 1e-8, "what holds the foot up presses the head down")
			high, low, err := e.Range(Moment, 0, length)
			require.NoError(t, err)
			assert.InDelta(t, r.moment, high.Value, 1e-6*r.run)
			assert.InDelta(t, 0, low.Value, 1e-6*r.run)
			high, low, err = e.Range(Axial, 0, length)
			require.NoError(t, err)
			assert.InDelta(t, -r.most, low.Value, 1e-8)
			assert.InDelta(t, r.pulls, high.Value, 1e-8)
			if r.tie > 0 {
				_, below, err := e.At(Axial, r.tie*length, Before)
				require.NoError(t, err)
				assert.InDelta(t, -r.mostTie, below.Value, 1e-8)
			}
			high, low, err = e.Range(Deflection, 0, length)
			require.NoError(t, err)
			if r.tie == 0 {
				assert.InDelta(t, 0, math.Max(high.Value, -low.Value), 1e-9, "what is not bent does not sag")
			} else { // M rises to the collar and falls to the ridge: the beam under a point square to it there that makes that M
				a := r.tie * length
				b := length - a
				f := r.moment * length / a / b
				x := a // the sag at the load: F a2 b2 / 3 E I L (handbooks, memory)
				d, _, err := e.At(Deflection, x, After)
				require.NoError(t, err)
				assert.InEpsilon(t, f*a*a*b*b/3/length/1.4e11, d.Value, 1e-9)
				assert.GreaterOrEqual(t, high.Value, d.Value)
			}
		})
	}
}

// A load on the ridge is on both rafters: where neither has eaves and one tie takes the thrust, the far load is nowhere worse for forces
// and sag than the same load on the rafter itself, and where it is alike from end to end it is the one on the ridge.
func TestLoadOnTheOtherRafterIsNoWorseThanTheSameOnThis(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 29))
	for range 20 {
		rise := 1000 + 2000*rng.Float64()
		c := randomCouple(t, rng, rise, 0, 1)
		length := c.Rafters[0].axis.Length()
		here, there := across(t, c, 0), across(t, c, 1)
		both := Envelope{Moving: []Moving{{here, 0, 900}, {there, 0, 900}}}
		own := Envelope{Moving: []Moving{{here, 0, 900}}}
		for q := range quantities {
			high, low, err := both.Range(q, 0, length)
			require.NoError(t, err)
			highOwn, lowOwn, err := own.Range(q, 0, length)
			require.NoError(t, err)
			size := 1e-9 * math.Max(highOwn.Value, -lowOwn.Value)
			require.InDelta(t, highOwn.Value, high.Value, size+1e-9)
			require.InDelta(t, lowOwn.Value, low.Value, size+1e-9)
		}
		for i := range 11 {
			s := length * float64(i) / 10
			for _, q := range [3]Quantity{Axial, Shear, Moment} {
				at := there.Worst(q, s, After, -1)
				require.GreaterOrEqual(t, at.Value, here.Worst(q, s, After, -1).Value-1e-7)
			}
		}
	}
}

// randomCouple has up to so many ties that share the thrust, and eaves up to a part of the rafters.
func randomCouple(t *testing.T, rng *rand.Rand, rise, eaves float64, ties int) *Couple {
	t.Helper()
	var rafters [2]Rafter
	var lengths [2]float64
	for i := range rafters {
		rafters[i] = rafter(2000+2000*rng.Float64(), rise, 0)
		rafters[i].Stiffness.EI *= 1 + rng.Float64()
		lengths[i] = math.Hypot(rafters[i].Axis[1].U, rise)
		rafters[i].Foot = eaves * rng.Float64() * lengths[i]
	}
	list := make([]Tie, 0, ties)
	for i := range ties {
		part := func(r int) float64 {
			return rafters[r].Foot + (lengths[r]-rafters[r].Foot)*(0.3*float64(i)+0.2*rng.Float64())
		}
		list = append(list, Tie{At: [2]float64{part(0), part(1)}, EA: 5e7 * (1 + rng.Float64())})
	}
	c := new(Couple)
	require.NoError(t, c.Set(rafters, list, CoupleOptions{Drift: rng.IntN(2)}))
	return c
}

// Wherever loads are put on the two rafters of a couple, whichever ties share the thrust, one of each pair of lone weights on
// one rafter at a time and the others on both at once: what is found in the first rafter is not less than what direct solutions
// for the loads there give, and it is reached.
func TestLoadsOnBothRaftersAreNotExceededAtAnyPlace(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 31))
	const places = 400
	for n := range 8 {
		c := randomCouple(t, rng, 1500+1500*rng.Float64(), 0.2, 1+n%3)
		length := c.Rafters[0].axis.Length()
		e := Envelope{Moving: []Moving{{across(t, c, 0), 1000 * rng.Float64(), 500 + 1000*rng.Float64()}, {across(t, c, 1), 1000 * rng.Float64(), 500 + 1000*rng.Float64()}}}
		still := randomLoads(rng, length)
		drawn := func(loads [2][]Load) *Diagram {
			f, err := c.Forces(loads)
			require.NoError(t, err)
			d := new(Diagram)
			require.NoError(t, c.Diagram(d, 0, loads[0], f))
			require.NoError(t, c.Rafters[0].Deflect(d))
			return d
		}
		e.Permanent = []Part{{drawn([2][]Load{still, nil}), 1}}
		if n%2 == 0 {
			e.Moving[0].Lone, e.Moving[1].Weight = 0, 0
		}
		// By the place on each rafter: all that a load of 1 N there does at sections along the first.
		type section struct {
			at   float64
			side Side
		}
		var sections []section
		for _, at := range e.Permanent[0].Diagram.Breaks() {
			sections = append(sections, section{at, Before}, section{at, After})
		}
		for k := range 81 {
			sections = append(sections, section{length * float64(k) / 80, After})
		}
		var unit [2][places + 1][][quantities]float64
		for r := range unit {
			for i := range unit[r] {
				var loads [2][]Load
				loads[r] = []Load{Force(c.Rafters[r].axis.Length()*float64(i)/places, 0, -1)}
				d := drawn(loads)
				unit[r][i] = make([][quantities]float64, len(sections))
				for k, s := range sections {
					for q := range quantities {
						unit[r][i][k][q], _ = d.Value(q, s.at, s.side)
					}
				}
			}
		}
		for q := range quantities {
			high, low, err := e.Range(q, 0, length)
			require.NoError(t, err)
			top, bottom := math.Inf(-1), math.Inf(1)
			for k, s := range sections {
				base, _ := e.Permanent[0].Diagram.Value(q, s.at, s.side)
				var most, least [2]float64
				for r := range unit {
					for i := range unit[r] {
						most[r], least[r] = math.Max(most[r], unit[r][i][k][q]), math.Min(least[r], unit[r][i][k][q])
					}
				}
				m := e.Moving
				top = math.Max(top, base+m[0].Weight*most[0]+m[1].Weight*most[1]+math.Max(m[0].Lone*most[0], m[1].Lone*most[1]))
				bottom = math.Min(bottom, base+m[0].Weight*least[0]+m[1].Weight*least[1]+math.Min(m[0].Lone*least[0], m[1].Lone*least[1]))
			}
			size := math.Max(math.Abs(high.Value), math.Abs(low.Value)) + 1e-9
			require.GreaterOrEqual(t, high.Value, top-1e-4*size, "couple %d quantity %d", n, q)
			require.LessOrEqual(t, low.Value, bottom+1e-4*size, "couple %d quantity %d", n, q)
			if q > Moment {
				continue // a bound: they need not be worst at one place
			}
			require.InDelta(t, top, high.Value, 2e-2*size, "couple %d quantity %d is not reached", n, q)
			require.InDelta(t, bottom, low.Value, 2e-2*size, "couple %d quantity %d is not reached", n, q)
			peak, trough, err := e.At(q, high.At, high.Side)
			require.NoError(t, err)
			require.InDelta(t, high.Value, peak.Value, 1e-6*size)
			require.InDelta(t, peak.Value, peak.Forces.of(q), 1e-6*size)
			require.LessOrEqual(t, trough.Value, peak.Value)
		}
	}
}
