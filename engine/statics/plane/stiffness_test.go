package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// The second way: a plane frame by direct stiffness, written from the textbook
// element matrices (Przemieniecki, Theory of Matrix Structural Analysis, memory)
// and sharing nothing with the force method but the places of the nodes.
type meshed struct {
	at     []float64 // of the nodes along the axis
	points []Point
	dofs   [][3]int // u, z, anticlockwise turn of each node
	nodal  [][3]float64
	k      Stiffness
}

// mesh puts a node at every break of the diagram, and half-way between on
// request, its dofs numbered from first.
func mesh(m *Member, d *Diagram, loads []Load, first int, halves bool) meshed {
	g := meshed{k: m.stiffness}
	for i, s := range d.Breaks() {
		if halves && i > 0 {
			g.at = append(g.at, (g.at[len(g.at)-1]+s)/2)
		}
		g.at = append(g.at, s)
	}
	for i, s := range g.at {
		g.points = append(g.points, m.axis.At(s))
		g.dofs = append(g.dofs, [3]int{first + 3*i, first + 3*i + 1, first + 3*i + 2})
	}
	g.nodal = make([][3]float64, len(g.at))
	for _, l := range loads {
		if l.From == l.To {
			n := g.node(l.From)
			g.nodal[n][0] += l.U0
			g.nodal[n][1] += l.Z0
			g.nodal[n][2] -= l.Moment
			continue
		}
		for i := range len(g.at) - 1 {
			mid := (g.at[i] + g.at[i+1]) / 2
			if mid > l.From && mid < l.To {
				g.spread(i, l)
			}
		}
	}
	return g
}

func (g *meshed) node(at float64) int {
	best := 0
	for i, s := range g.at {
		if math.Abs(s-at) < math.Abs(g.at[best]-at) {
			best = i
		}
	}
	return best
}

// spread adds the consistent nodal forces of a trapezoid over one element.
func (g *meshed) spread(i int, l Load) {
	share := func(s float64) (u, z float64) {
		t := (s - l.From) / (l.To - l.From)
		return l.U0*(1-t) + l.U1*t, l.Z0*(1-t) + l.Z1*t
	}
	c, s, h := g.direction(i)
	u0, z0 := share(g.at[i])
	u1, z1 := share(g.at[i+1])
	a0, a1 := u0*c+z0*s, u1*c+z1*s
	q0, q1 := z0*c-u0*s, z1*c-u1*s
	force := func(n int, a, q, turn float64) {
		g.nodal[n][0] += a*c - q*s
		g.nodal[n][1] += a*s + q*c
		g.nodal[n][2] += turn
	}
	force(i, h*(2*a0+a1)/6, h*(7*q0+3*q1)/20, h*h*(3*q0+2*q1)/60)
	force(i+1, h*(a0+2*a1)/6, h*(3*q0+7*q1)/20, -h*h*(2*q0+3*q1)/60)
}

func (g *meshed) direction(i int) (c, s, h float64) {
	p, q := g.points[i], g.points[i+1]
	h = math.Hypot(q.U-p.U, q.Z-p.Z)
	return (q.U - p.U) / h, (q.Z - p.Z) / h, h
}

// assemble adds elements and nodal forces to the whole.
func (g *meshed) assemble(k *mat.SymDense, f *mat.VecDense) {
	for i := range len(g.at) - 1 {
		c, s, h := g.direction(i)
		ea, b := g.k.EA/h, g.k.EI/(h*h*h)
		local := [6][6]float64{
			{ea, 0, 0, -ea, 0, 0},
			{0, 12 * b, 6 * b * h, 0, -12 * b, 6 * b * h},
			{0, 6 * b * h, 4 * b * h * h, 0, -6 * b * h, 2 * b * h * h},
			{-ea, 0, 0, ea, 0, 0},
			{0, -12 * b, -6 * b * h, 0, 12 * b, -6 * b * h},
			{0, 6 * b * h, 2 * b * h * h, 0, -6 * b * h, 4 * b * h * h},
		}
		turn := mat.NewDense(6, 6, nil)
		for e := range 2 {
			turn.Set(3*e, 3*e, c)
			turn.Set(3*e, 3*e+1, s)
			turn.Set(3*e+1, 3*e, -s)
			turn.Set(3*e+1, 3*e+1, c)
			turn.Set(3*e+2, 3*e+2, 1)
		}
		l := mat.NewDense(6, 6, nil)
		for r := range local {
			l.SetRow(r, local[r][:])
		}
		var whole mat.Dense
		whole.Product(turn.T(), l, turn)
		dofs := append(append([]int{}, g.dofs[i][:]...), g.dofs[i+1][:]...)
		for r, dr := range dofs {
			for q, dq := range dofs {
				if dr <= dq {
					k.SetSym(dr, dq, k.At(dr, dq)+whole.At(r, q))
				}
			}
		}
	}
	for i, n := range g.nodal {
		for c, v := range n {
			f.SetVec(g.dofs[i][c], f.AtVec(g.dofs[i][c])+v)
		}
	}
}

// displacements with some dofs held, and the pushes on those.
func displacements(t testing.TB, k *mat.SymDense, f *mat.VecDense, held []int) (u *mat.VecDense, push map[int]float64) {
	n := k.SymmetricDim()
	fixed := map[int]bool{}
	for _, h := range held {
		fixed[h] = true
	}
	a, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	scale := make([]float64, n) // a diagonal of ones: lengths and turns differ by decades
	for i := range n {
		scale[i] = 1
		if d := k.At(i, i); d > 0 {
			scale[i] /= math.Sqrt(d)
		}
	}
	for i := range n {
		for j := range n {
			if fixed[i] || fixed[j] {
				continue
			}
			a.Set(i, j, k.At(i, j)*scale[i]*scale[j])
		}
		if fixed[i] {
			a.Set(i, i, 1)
		} else {
			b.SetVec(i, f.AtVec(i)*scale[i])
		}
	}
	u = mat.NewVecDense(n, nil)
	var lu mat.LU
	lu.Factorize(a)
	require.NoError(t, lu.SolveVecTo(u, false, b))
	for i := range n {
		u.SetVec(i, u.AtVec(i)*scale[i])
	}
	push = map[int]float64{}
	for _, h := range held {
		r := -f.AtVec(h)
		for j := range n {
			r += k.At(h, j) * u.AtVec(j)
		}
		push[h] = r
	}
	return u, push
}

// byStiffness gives reactions and the displacements of the nodes of one member.
func byStiffness(t testing.TB, m *Member, d *Diagram, loads []Load) ([]Reaction, meshed, *mat.VecDense) {
	g := mesh(m, d, loads, 0, false)
	n := 3 * len(g.at)
	k, f := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	g.assemble(k, f)
	var held []int
	for _, s := range m.supports {
		dof := g.dofs[g.node(s.At)]
		held = append(held, dof[1])
		if s.Horizontal {
			held = append(held, dof[0])
		}
		if s.Fixed {
			held = append(held, dof[2])
		}
	}
	u, push := displacements(t, k, f, held)
	var r []Reaction
	for _, s := range m.supports {
		dof := g.dofs[g.node(s.At)]
		r = append(r, Reaction{U: push[dof[0]], Z: push[dof[1]], Moment: -push[dof[2]]})
	}
	return r, g, u
}

func TestForceMethodAgreesWithDirectStiffness(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	worst, worstMove, determinate := 0.0, 0.0, 0
	for n := range 400 {
		m, loads := randomMember(t, rng)
		if m.Determinate() {
			determinate++
		}
		var d Diagram
		r, err := m.Solve(&d, nil, loads)
		require.NoError(t, err)
		want, g, u := byStiffness(t, m, &d, loads)
		size, moved := 0.0, 0.0
		for i := range want {
			size += math.Abs(want[i].Z) + math.Abs(want[i].U)
		}
		for i := range g.at {
			moved = math.Max(moved, math.Hypot(u.AtVec(g.dofs[i][0]), u.AtVec(g.dofs[i][1])))
		}
		for i := range want {
			e := math.Max(math.Abs(want[i].Z-r[i].Z), math.Abs(want[i].U-r[i].U))
			e = math.Max(e, math.Abs(want[i].Moment-r[i].Moment)/m.axis.Length()) / size
			worst = math.Max(worst, e)
			require.Less(t, e, 1e-7, "member %d support %d: %+v and %+v", n, i, want[i], r[i])
		}
		for i, s := range g.at {
			down, sway := moves(m, s, u.AtVec(g.dofs[i][0]), u.AtVec(g.dofs[i][1]))
			gotDown, _ := d.Value(Deflection, s, After)
			gotSway, _ := d.Value(Sway, s, After)
			e := math.Max(math.Abs(down-gotDown), math.Abs(sway-gotSway)) / moved
			worstMove = math.Max(worstMove, e)
			require.Less(t, e, 1e-6, "member %d at %g", n, s)
		}
	}
	// The error is the stiffness matrix's: TestSupportsStayPut is sharper.
	require.Greater(t, determinate, 20, "closed forms are among them")
	t.Logf("400 members, %d determinate: worst relative error of reactions %.1e, of movements %.1e", determinate, worst, worstMove)
}

// moves turns a displacement into the package's deflection and sway.
func moves(m *Member, s, u, z float64) (down, sway float64) {
	if !m.axis.Straight() {
		return -z, u
	}
	cos, sin := m.axis.Direction(s)
	return u*sin - z*cos, u
}

// randomMember is straight or cranked, on two to five supports of which one or
// more hold the horizontal and some hold the turn, with a handful of loads.
func randomMember(t testing.TB, rng *rand.Rand) (*Member, []Load) {
	points := []Point{{}}
	for range 1 + rng.IntN(4) {
		last := points[len(points)-1]
		points = append(points, Point{last.U + 500 + 2000*rng.Float64(), last.Z + 2000*(rng.Float64()-0.5)})
	}
	a, err := NewAxis(points...)
	require.NoError(t, err)
	n := 2 + rng.IntN(4)
	var supports []Support
	for i := range n {
		at := a.Length() * (float64(i) + 0.1 + 0.8*rng.Float64()) / float64(n)
		supports = append(supports, Support{At: at, Horizontal: rng.IntN(4) == 0, Fixed: rng.IntN(6) == 0})
	}
	supports[rng.IntN(n)].Horizontal = true
	rng.Shuffle(n, func(i, j int) { supports[i], supports[j] = supports[j], supports[i] })
	depth := 100 + 200*rng.Float64()
	ea := 11000 * 50 * depth
	m, err := NewMember(points, supports, Stiffness{EA: ea, EI: ea * depth * depth / 12})
	require.NoError(t, err)
	return m, randomLoads(rng, a.Length())
}

func randomLoads(rng *rand.Rand, length float64) (loads []Load) {
	some := func() float64 { return 4 * (rng.Float64() - 0.5) }
	for range 1 + rng.IntN(4) {
		if a, b := rng.Float64()*length, rng.Float64()*length; rng.IntN(2) == 0 {
			loads = append(loads, Load{From: math.Min(a, b), To: math.Max(a, b), U0: some(), U1: some(), Z0: some(), Z1: some()})
		} else {
			loads = append(loads, Load{From: a, To: a, U0: 1000 * some(), Z0: 1000 * some(), Moment: 1e6 * some()})
		}
	}
	return loads
}
