package plane

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestAgreesWithCalculiX runs a general finite-element solver (CalculiX 2.20,
// Debian package calculix-ccx) on shear-rigid U1 beam elements, which are exact
// at their nodes, with supports as springs of 1e12 N/mm and fixed turns as boundary conditions.
// It prints seven figures.
func TestAgreesWithCalculiX(t *testing.T) {
	solver, err := exec.LookPath("ccx")
	if err != nil {
		t.Skip("ccx is not on PATH: install calculix-ccx to compare with it")
	}
	const tolerance = 2e-6
	dir := t.TempDir()
	run, cranked, continuous := 0, 0, 0
	worst, worstMove := 0.0, 0.0
	check := func(name string, m *Member, loads []Load) {
		var d Diagram
		r, err := m.Solve(&d, nil, loads)
		require.NoError(t, err, name)
		loads = m.loads // as they were taken, so that both have the same nodes
		g := mesh(m, &d, loads, 0, true)
		want := runDeck(t, solver, dir, m, &g)
		run++
		if !m.axis.Straight() {
			cranked++
		}
		if len(m.supports) > 2 {
			continuous++
		}
		size, moved := 0.0, 0.0
		for i := range r {
			size += math.Abs(r[i].Z) + math.Abs(r[i].U)
		}
		for _, u := range want {
			moved = math.Max(moved, math.Hypot(u[0], u[1]))
		}
		for i, s := range m.supports {
			u := want[g.node(s.At)]
			e := math.Abs(-springs*u[1]-r[i].Z) / size
			if s.Horizontal {
				e = math.Max(e, math.Abs(-springs*u[0]-r[i].U)/size)
			}
			worst = math.Max(worst, e)
			require.LessOrEqual(t, e, tolerance, "%s support %d", name, i)
		}
		for i, s := range g.at {
			down, sway := moves(m, s, want[i][0], want[i][1])
			gotDown, _ := d.Value(Deflection, s, After)
			gotSway, _ := d.Value(Sway, s, After)
			e := math.Max(math.Abs(down-gotDown), math.Abs(sway-gotSway)) / moved
			worstMove = math.Max(worstMove, e)
			require.LessOrEqual(t, e, tolerance, "%s at %g", name, s)
		}
	}

	for _, c := range readReference(t) {
		if len(c.Model.Members) == 0 || !strings.Contains("four-span crank-1 crank-2 crank-3 crank-thrust-4 slope-eaves random-02 random-06 random-09 two-uneq b-c303 b-c404", c.ID) {
			continue
		}
		for _, member := range c.Model.Members {
			if member.Ground {
				continue
			}
			axis, err := NewAxis(member.points()...)
			require.NoError(t, err)
			m, err := NewMember(member.points(), member.held(&axis), member.stiffness(t))
			require.NoError(t, err)
			for action, loads := range member.cases(t) {
				check(c.ID+" "+action, m, loads)
			}
		}
	}
	rng := rand.New(rand.NewPCG(3, 5))
	for n := range 15 {
		m, loads := randomMember(t, rng)
		check(fmt.Sprint("random member ", n), m, loads)
	}
	require.GreaterOrEqual(t, run, 20)
	require.Greater(t, cranked, 5)
	require.Greater(t, continuous, 5)
	t.Logf("%d runs (%d cranked, %d on three supports or more): worst relative error of reactions %.1e, of movements %.1e", run, cranked, continuous, worst, worstMove)
}

const springs = 1e12 // N/mm

// runDeck gives the six displacements of every node.
func runDeck(t *testing.T, solver, dir string, m *Member, g *meshed) [][6]float64 {
	var b bytes.Buffer
	fmt.Fprintln(&b, "*NODE,NSET=NALL")
	for i, p := range g.points {
		fmt.Fprintf(&b, "%d,%.12g,%.12g,0.\n", i+1, p.U, p.Z)
	}
	fmt.Fprintln(&b, "*ELEMENT,TYPE=U1,ELSET=EB")
	for i := range len(g.at) - 1 {
		fmt.Fprintf(&b, "%d,%d,%d\n", i+1, i+1, i+2)
	}
	fmt.Fprintln(&b, "*USER ELEMENT,TYPE=U1,NODES=2,INTEGRATION POINTS=2,MAXDOF=6")
	next := len(g.at)
	spring := func(node, dof int, stiffness float64) {
		fmt.Fprintf(&b, "*ELEMENT,TYPE=SPRING1,ELSET=S%d\n%d,%d\n*SPRING,ELSET=S%d\n%d\n%.6E\n", next, next, node, next, dof, stiffness)
		next++
	}
	for _, s := range m.supports {
		n := g.node(s.At) + 1
		spring(n, 2, springs)
		if s.Horizontal {
			spring(n, 1, springs)
		}
	}
	fmt.Fprintln(&b, "*MATERIAL,NAME=MAT\n*ELASTIC\n1.,0.")
	for i := range len(g.at) - 1 {
		c, s, _ := g.direction(i)
		fmt.Fprintf(&b, "*ELSET,ELSET=M%d\n%d,\n*BEAM SECTION,ELSET=M%d,MATERIAL=MAT,SECTION=GENERAL\n%.12g,%.12g,0.,%.12g,1.E6\n%.15g,%.15g,0.\n", i, i+1, i, m.stiffness.EA, m.stiffness.EI, m.stiffness.EI, -s, c)
	}
	fmt.Fprintln(&b, "*BOUNDARY\nNALL,3,5")
	for _, s := range m.supports {
		if s.Fixed {
			fmt.Fprintf(&b, "%d,6,6\n", g.node(s.At)+1)
		}
	}
	fmt.Fprintln(&b, "*STEP\n*STATIC\n*CLOAD")
	for i, f := range g.nodal {
		for c, dof := range [3]int{1, 2, 6} {
			fmt.Fprintf(&b, "%d,%d,%.12g\n", i+1, dof, f[c])
		}
	}
	fmt.Fprintln(&b, "*NODE PRINT,NSET=NALL\nU\n*END STEP")

	name := filepath.Join(dir, "deck")
	require.NoError(t, os.WriteFile(name+".inp", b.Bytes(), 0o600))
	cmd := exec.Command(solver, "deck")
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "OMP_NUM_THREADS=1")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	text, err := os.ReadFile(name + ".dat")
	require.NoError(t, err)
	u := make([][6]float64, len(g.at))
	read := 0
	for _, line := range strings.Split(string(text), "\n") {
		f := strings.Fields(line)
		if len(f) != 7 {
			continue
		}
		n, err := strconv.Atoi(f[0])
		if err != nil {
			continue
		}
		for i := range u[n-1] {
			u[n-1][i], err = strconv.ParseFloat(f[i+1], 64)
			require.NoError(t, err)
		}
		read++
	}
	require.Equal(t, len(g.at), read, "ccx printed other nodes than it was given: %s", text)
	return u
}
