package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// sizeOf is what differences in a case's reactions are judged against, N.
func sizeOf(r []Reaction, loads []Load) float64 {
	size := 0.0
	for _, x := range r {
		size += math.Abs(x.U) + math.Abs(x.Z)
	}
	for _, l := range loads {
		if l.From == l.To {
			size += math.Abs(l.U0) + math.Abs(l.Z0)
		} else {
			size += (math.Abs(l.U0) + math.Abs(l.U1) + math.Abs(l.Z0) + math.Abs(l.Z1)) / 2 * (l.To - l.From)
		}
	}
	return size
}

func requireSame(t *testing.T, want, got []Reaction, size, length, tolerance float64) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		require.InDelta(t, want[i].U, got[i].U, tolerance*size)
		require.InDelta(t, want[i].Z, got[i].Z, tolerance*size)
		require.InDelta(t, want[i].Moment, got[i].Moment, tolerance*size*length)
	}
}

func TestLoadsAndReactionsBalance(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	worst := 0.0
	for range 500 {
		m, loads := randomMember(t, rng)
		var d Diagram
		r, err := m.Solve(&d, nil, loads)
		require.NoError(t, err)
		// Summed here from the ends of the trapezoids, apart from the package's way.
		var u, z, turn float64
		act := func(p Point, fu, fz, moment float64) {
			u, z, turn = u+fu, z+fz, turn+moment+fu*p.Z-fz*p.U
		}
		for i, x := range r {
			act(m.axis.At(m.supports[i].At), x.U, x.Z, x.Moment)
		}
		for _, l := range loads {
			if l.From == l.To {
				act(m.axis.At(l.From), l.U0, l.Z0, l.Moment)
				continue
			}
			// Simpson's rule is exact for a line times a line, kink by kink.
			edges := []float64{l.From}
			for _, k := range m.axis.Kinks() {
				if k > l.From && k < l.To {
					edges = append(edges, k)
				}
			}
			edges = append(edges, l.To)
			for e := range len(edges) - 1 {
				a, b := edges[e], edges[e+1]
				for _, g := range [...][2]float64{{a, 1. / 6}, {(a + b) / 2, 4. / 6}, {b, 1. / 6}} {
					f := (g[0] - l.From) / (l.To - l.From)
					w := g[1] * (b - a)
					act(m.axis.At(g[0]), w*(l.U0+f*(l.U1-l.U0)), w*(l.Z0+f*(l.Z1-l.Z0)), 0)
				}
			}
		}
		size, length := sizeOf(r, loads), m.axis.Length()
		off := math.Max(math.Max(math.Abs(u), math.Abs(z)), math.Abs(turn)/length) / size
		worst = math.Max(worst, off)
		require.Less(t, off, 1e-12)
	}
	t.Logf("500 members: worst imbalance %.1e of the loads", worst)
}

// The forces of an over-held member are the right ones when nothing that a
// support holds has moved.
func TestSupportsStayPut(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 4))
	worst := 0.0
	for range 500 {
		m, loads := randomMember(t, rng)
		var d Diagram
		_, err := m.Solve(&d, nil, loads)
		require.NoError(t, err)
		down, _ := d.Range(Deflection)
		moved := math.Max(math.Abs(down.Max.Value), math.Abs(down.Min.Value))
		for _, s := range m.supports {
			w, _ := d.Value(Deflection, s.At, After)
			u, _ := d.Value(Sway, s.At, After)
			z := -w
			if cos, sin := m.axis.Direction(s.At); m.axis.Straight() {
				z = (u*sin - w) / cos
			}
			off := math.Abs(z)
			if s.Horizontal {
				off = math.Max(off, math.Abs(u))
			}
			worst = math.Max(worst, off/moved)
			require.Less(t, off/moved, 1e-9)
		}
	}
	t.Logf("500 members: worst movement of a support %.1e of the deflection", worst)
}

func TestCasesAddUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		m, first := randomMember(t, rng)
		second := randomLoads(rng, m.axis.Length())
		both := append(append([]Load{}, first...), second...)
		var a, b, sum, whole Diagram
		ra, err := m.Solve(&a, nil, first)
		require.NoError(t, err)
		rb, err := m.Solve(&b, nil, second)
		require.NoError(t, err)
		rw, err := m.Solve(&whole, nil, both)
		require.NoError(t, err)
		for i := range ra {
			ra[i].U, ra[i].Z, ra[i].Moment = ra[i].U+rb[i].U, ra[i].Z+rb[i].Z, ra[i].Moment+rb[i].Moment
		}
		requireSame(t, rw, ra, sizeOf(rw, both), m.axis.Length(), 1e-9)
		require.NoError(t, sum.Combine(Part{&a, 1}, Part{&b, 1}))
		for q := range quantities {
			want, _ := whole.Range(q)
			got, known := sum.Range(q)
			require.True(t, known)
			near := 1e-8 * math.Max(math.Abs(want.Max.Value), math.Abs(want.Min.Value))
			require.InDelta(t, want.Max.Value, got.Max.Value, near)
			require.InDelta(t, want.Min.Value, got.Min.Value, near)
		}
	}
}

func TestMirroredMemberMirrors(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		m, loads := randomMember(t, rng)
		l, far := m.axis.Length(), m.axis.points[len(m.axis.points)-1].U
		var points []Point
		for i := len(m.axis.points) - 1; i >= 0; i-- {
			points = append(points, Point{far - m.axis.points[i].U, m.axis.points[i].Z})
		}
		var supports []Support
		for _, s := range m.supports {
			s.At = l - s.At
			supports = append(supports, s)
		}
		var turned []Load
		for _, p := range loads {
			if p.From == p.To {
				turned = append(turned, Load{From: l - p.From, To: l - p.From, U0: -p.U0, Z0: p.Z0, Moment: -p.Moment})
			} else {
				turned = append(turned, Load{From: l - p.To, To: l - p.From, U0: -p.U1, U1: -p.U0, Z0: p.Z1, Z1: p.Z0})
			}
		}
		o, err := NewMember(points, supports, m.stiffness)
		require.NoError(t, err)
		var d, e Diagram
		r, err := m.Solve(&d, nil, loads)
		require.NoError(t, err)
		mirrored, err := o.Solve(&e, nil, turned)
		require.NoError(t, err)
		size := sizeOf(r, loads)
		for i := range mirrored {
			mirrored[i].U, mirrored[i].Moment = -mirrored[i].U, -mirrored[i].Moment
		}
		requireSame(t, r, mirrored, size, l, 1e-9)
		a, _ := d.Range(Moment)
		b, _ := e.Range(Moment)
		require.InDelta(t, a.Max.Value, b.Max.Value, 1e-9*size*l)
		require.InDelta(t, a.Min.Value, b.Min.Value, 1e-9*size*l)
		v, _ := d.Range(Shear)
		w, _ := e.Range(Shear)
		require.InDelta(t, v.Max.Value, -w.Min.Value, 1e-9*size)
	}
}

// Lengths times a, loads per length times b: forces times ab, moments a2b,
// deflections a4b with EI kept and EA divided by a2.
func TestScaledMemberScales(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	const a, b = 3., 7.
	for range 100 {
		m, loads := randomMember(t, rng)
		var points []Point
		for _, p := range m.axis.points {
			points = append(points, Point{a * p.U, a * p.Z})
		}
		var supports []Support
		for _, s := range m.supports {
			s.At *= a
			supports = append(supports, s)
		}
		var scaled []Load
		for _, p := range loads {
			f := b
			if p.From == p.To {
				f *= a
			}
			scaled = append(scaled, Load{a * p.From, a * p.To, f * p.U0, f * p.U1, f * p.Z0, f * p.Z1, a * a * b * p.Moment})
		}
		o, err := NewMember(points, supports, Stiffness{EA: m.stiffness.EA / a / a, EI: m.stiffness.EI})
		require.NoError(t, err)
		var d, e Diagram
		_, err = m.Solve(&d, nil, loads)
		require.NoError(t, err)
		_, err = o.Solve(&e, nil, scaled)
		require.NoError(t, err)
		for q, factor := range [...]float64{Axial: a * b, Shear: a * b, Moment: a * a * b, Deflection: a * a * a * a * b} {
			x, _ := d.Range(Quantity(q))
			y, _ := e.Range(Quantity(q))
			near := 1e-8 * factor * math.Max(math.Abs(x.Max.Value), math.Abs(x.Min.Value))
			require.InDelta(t, factor*x.Max.Value, y.Max.Value, near)
			require.InDelta(t, factor*x.Min.Value, y.Min.Value, near)
		}
	}
}

func TestExtremesAreNotExceededAnywhere(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 13))
	for range 100 {
		m, loads := randomMember(t, rng)
		var d Diagram
		_, err := m.Solve(&d, nil, loads)
		require.NoError(t, err)
		for q := range quantities {
			r, _ := d.Range(q)
			slack := 1e-9 * math.Max(math.Abs(r.Max.Value), math.Abs(r.Min.Value))
			for i := range 1001 {
				v, _ := d.Value(q, m.axis.Length()*float64(i)/1000, After)
				if v > r.Max.Value+slack || v < r.Min.Value-slack {
					t.Fatalf("quantity %d is %g, outside %+v", q, v, r)
				}
			}
			for _, x := range [...]Extreme{r.Max, r.Min} {
				v, _ := d.Value(q, x.At, x.Side)
				require.InDelta(t, x.Value, v, 2e-6*math.Abs(x.Value)+slack)
			}
		}
	}
}

// Short spans, kinks and overhangs beside long ones must not spoil the balance
// or leave a support hanging.
func TestTinySpansBesideLongOnes(t *testing.T) {
	for _, tiny := range []float64{0.1, 1, 10} {
		m, err := NewMember([]Point{{}, {2000, 0}, {2000 + tiny, tiny / 2}, {6000, 0}},
			[]Support{{At: tiny, Horizontal: true}, {At: 2 * tiny}, {At: 3000}, {At: 3000 + tiny}, {At: 5900}}, Stiffness{EA: 1e8, EI: 3e11})
		require.NoError(t, err)
		loads := []Load{{From: 0, To: 5990, Z0: -1, Z1: -1}}
		var d Diagram
		r, err := m.Solve(&d, nil, loads)
		require.NoError(t, err)
		sum := 0.0
		for _, x := range r {
			sum += x.Z
		}
		require.InDelta(t, 5990, sum, 1e-9*sizeOf(r, loads))
		down, _ := d.Range(Deflection)
		for _, s := range m.supports {
			w, _ := d.Value(Deflection, s.At, After)
			require.InDelta(t, 0, w/down.Max.Value, 1e-6, "tiny %g", tiny)
		}
	}
}

func TestManySpans(t *testing.T) {
	const n, l = 60, 1000.
	var at []float64
	for i := range n + 1 {
		at = append(at, l*float64(i))
	}
	m, err := NewMember([]Point{{}, {U: n * l}}, ends(at...), Stiffness{EI: 1e11})
	require.NoError(t, err)
	r, err := m.Reactions(nil, []Load{{From: 0, To: n * l, Z0: -1, Z1: -1}})
	require.NoError(t, err)
	// An endless row by the three-moment equation: M1 + 4 M2 + M3 = -qL2/2 is met
	// by -qL2/12 (1 - (sqrt 3 - 2)^i), so the first support carries
	// qL (1/2 - (3 - sqrt 3)/12) and one far from the ends its own bay.
	require.InEpsilon(t, l*(0.5-(3-math.Sqrt(3))/12), r[0].Z, 1e-9)
	require.InEpsilon(t, l, r[n/2].Z, 1e-9)
}
