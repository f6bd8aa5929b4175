package plane

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Rafter is one half of a couple, drawn from its lower end to the head with u
// growing towards the head; what hangs out beyond the foot comes first.
type Rafter struct {
	Axis      []Point
	Foot      float64 // place of the foot's support, mm along the axis
	Stiffness Stiffness
}

// Tie is an axial bar hinged to both rafters: a tie or a ceiling joist at the
// feet, a collar higher up.
type Tie struct {
	At [2]float64 // place on each rafter, mm along its axis
	EA float64    // N; zero is unknown, which is an error only when there is more than one way to carry the thrust
}

// Couple is two rafters that lean on each other at a hinge. Their feet carry
// vertical load only, but that one of them is held against drift; the ties alone
// take the thrust. Each rafter keeps its own plane coordinates, in which +u is
// towards the head, so those of the second run against those of the first; the
// two heads are one point, and levels differ by what the ties' and heads' z say.
// The zero Couple is ready for Set; one Couple serves one goroutine.
type Couple struct {
	// Rafters as Set made them, members on their foot (with the horizontal) and
	// their head: deflection is measured from the line through these two.
	Rafters [2]Member

	ties   []Tie
	shape  CoupleOptions
	answer [][6]float64 // the unknowns that balance a unit of each component on both rafters
	states [][]float64  // self-stresses: sizes of the unknowns
	course [][2]Diagram
	weight [2]weights
	slack  []float64 // flexibility of each tie on the weights' scale
	solver mat.Cholesky
	fault  error // why the flexibilities cannot be had
}

// CoupleOptions says how a couple is held.
type CoupleOptions struct {
	HeadHeld bool // a ridge beam carries vertical load at the head
	Drift    int  // the rafter, 0 or 1, whose foot is held against drift
}

// CoupleForces are the forces in a couple under one case.
type CoupleForces struct {
	Feet  [2]Reaction // push of each foot's support, in its rafter's coordinates
	Heads [2]Reaction // push on each head, by the other rafter and any ridge beam
	Ridge float64     // what of it the ridge beam pushes up, N
	Ties  []float64   // N, tension positive
}

// The unknowns of a couple; the ties follow, then the ridge beam.
const (
	headU = iota // the thrust at the head, pushing both rafters back
	headZ        // up on the first rafter, down on the second
	foot0
	foot1
	drift
	firstTie
)

// Set takes another couple in place of the one before. Everything wrong is
// returned at once: the kinds of Member.Set, ErrBeyond for a tie off a rafter,
// ErrMechanism when nothing takes the thrust. After an error the Couple holds
// nothing.
func (c *Couple) Set(rafters [2]Rafter, ties []Tie, o CoupleOptions) error {
	err := c.set(rafters, ties, o)
	if err != nil {
		*c = Couple{}
	}
	return err
}

func (c *Couple) set(rafters [2]Rafter, ties []Tie, o CoupleOptions) error {
	c.ties, c.shape, c.answer, c.states, c.fault = c.ties[:0], o, nil, nil, nil
	errs := c.setRafters(rafters)
	if o.Drift != 0 && o.Drift != 1 {
		errs = errors.Join(errs, &Error{Kind: ErrMismatch, Of: "rafter", Index: o.Drift, Text: "there are two, 0 and 1, one of whose feet is held against drift"})
	}
	if errs != nil {
		return errs
	}
	if err := c.setTies(ties); err != nil {
		return err
	}
	units := make([][6]float64, c.unknowns())
	for k := range units {
		units[k] = c.wrenchOf(k)
	}
	var stands bool
	if c.answer, c.states, stands = balance(units); !stands {
		return &Error{Kind: ErrMechanism, Text: "the feet spread: a tie must take the thrust, or a ridge beam hold the head"}
	}
	c.fault = c.soften()
	return nil
}

func (c *Couple) setRafters(rafters [2]Rafter) (errs error) {
	for i, r := range rafters {
		var a Axis
		err := a.Set(r.Axis)
		if err == nil {
			feet := []Support{{At: r.Foot, Horizontal: true}, {At: a.Length()}}
			err = c.Rafters[i].Set(r.Axis, feet, r.Stiffness)
		}
		if err != nil {
			errs = errors.Join(errs, fmt.Errorf("rafter %d: %w", i+1, err))
		}
	}
	return errs
}

func (c *Couple) setTies(ties []Tie) (errs error) {
	for i, t := range ties {
		if !finite(t.EA) || t.EA < 0 || !finite(t.At[0]) || !finite(t.At[1]) {
			errs = errors.Join(errs, &Error{Kind: ErrNotFinite, Of: "tie", Index: i, Text: "give its places in mm and EA in N, or zero where it is not known"})
			continue
		}
		off := false
		for r := range t.At {
			m := &c.Rafters[r]
			at, on := m.axis.onto(m.stations, t.At[r])
			if !on {
				errs = errors.Join(errs, &Error{Kind: ErrBeyond, Of: "tie", Index: i, At: t.At[r], Text: fmt.Sprintf("rafter %d is %g mm long", r+1, m.axis.Length())})
			}
			t.At[r], off = at, off || !on
		}
		if l, _ := c.line(t); !off && !(l > samePlace*c.Rafters[0].axis.Length()) {
			errs = errors.Join(errs, &Error{Kind: ErrLength, Of: "tie", Index: i, Text: "it joins the rafters where they meet"})
		}
		c.ties = append(c.ties, t)
	}
	return errs
}

// Determinate tells that equilibrium alone gives the forces.
func (c *Couple) Determinate() bool { return len(c.states) == 0 }

// Forces under one case; each rafter's loads are in its own coordinates. With
// one way to carry the thrust they come from equilibrium (three hinges); with
// more by the force method, for which EA and EI of rafters and ties are needed.
func (c *Couple) Forces(loads [2][]Load) (CoupleForces, error) {
	var sum [6]float64
	var errs error
	size := 0.0
	for r := range loads {
		m := &c.Rafters[r]
		if err := m.take(loads[r]); err != nil {
			errs = errors.Join(errs, fmt.Errorf("rafter %d: %w", r+1, err))
			continue
		}
		for i := range m.loads {
			w, s := m.axis.resultant(&m.loads[i])
			for k := range w {
				sum[3*r+k] -= w[k]
			}
			size += s
		}
	}
	if errs != nil {
		return CoupleForces{}, errs
	}
	if !finite(size) {
		return CoupleForces{}, &Error{Kind: ErrNotFinite, Text: "the loads are too large to add up"}
	}
	x := make([]float64, len(c.answer))
	for k := range x {
		for i, w := range sum {
			x[k] += c.answer[k][i] * w
		}
	}
	if err := c.close(x, loads); err != nil {
		return CoupleForces{}, err
	}
	for _, v := range x {
		if !finite(v) {
			return CoupleForces{}, &Error{Kind: ErrNotFinite, Text: "the forces are too large to be numbers"}
		}
	}
	return c.forces(x), nil
}

// Diagram fills d for one rafter, 0 or 1, under its loads and the forces of that
// case; Rafters[rafter].Deflect then adds the deflection. Errors are those of
// Member.Diagram.
func (c *Couple) Diagram(d *Diagram, rafter int, loads []Load, f CoupleForces) error {
	if rafter != 0 && rafter != 1 {
		return &Error{Kind: ErrMismatch, Of: "rafter", Index: rafter, Text: "there are two, 0 and 1"}
	}
	if len(f.Ties) != len(c.ties) {
		return &Error{Kind: ErrMismatch, Text: fmt.Sprintf("forces of %d ties for a couple of %d", len(f.Ties), len(c.ties))}
	}
	m := &c.Rafters[rafter]
	return m.Diagram(d, c.acting(nil, rafter, loads, f), []Reaction{f.Feet[rafter], f.Heads[rafter]})
}

// acting appends to dst the loads of a rafter and the pulls of the ties on it.
func (c *Couple) acting(dst []Load, rafter int, loads []Load, f CoupleForces) []Load {
	dst = append(dst, loads...)
	for i, pull := range f.Ties {
		_, e := c.line(c.ties[i])
		if rafter == 1 {
			e.Z = -e.Z
		}
		dst = append(dst, Force(c.ties[i].At[rafter], pull*e.U, pull*e.Z))
	}
	return dst
}

func (c *Couple) unknowns() int {
	n := firstTie + len(c.ties)
	if c.shape.HeadHeld {
		n++
	}
	return n
}

// line is a tie's length and its direction from the first rafter to the second,
// in the coordinates of the first.
func (c *Couple) line(t Tie) (length float64, e Point) {
	var d [2]Point // from the head
	for r := range d {
		a := &c.Rafters[r].axis
		p, head := a.At(t.At[r]), a.At(a.Length())
		d[r] = Point{p.U - head.U, p.Z - head.Z}
	}
	u, z := -d[1].U-d[0].U, d[1].Z-d[0].Z
	length = math.Hypot(u, z)
	if length == 0 {
		return 0, Point{}
	}
	return length, Point{u / length, z / length}
}

// forces gives the unknowns their places.
func (c *Couple) forces(x []float64) CoupleForces {
	f := CoupleForces{Ties: append([]float64(nil), x[firstTie:firstTie+len(c.ties)]...)}
	f.Feet = [2]Reaction{{Z: x[foot0]}, {Z: x[foot1]}}
	f.Feet[c.shape.Drift].U = x[drift]
	if c.shape.HeadHeld {
		f.Ridge = x[firstTie+len(c.ties)]
	}
	f.Heads = [2]Reaction{{U: -x[headU], Z: x[headZ] + f.Ridge}, {U: -x[headU], Z: -x[headZ]}}
	return f
}

// wrenchOf is what one unit of an unknown does to both rafters.
func (c *Couple) wrenchOf(k int) (w [6]float64) {
	x := make([]float64, c.unknowns())
	x[k] = 1
	f := c.forces(x)
	for r := range c.Rafters {
		m := &c.Rafters[r]
		acting := c.acting(nil, r, nil, f)
		for i, push := range [2]Reaction{f.Feet[r], f.Heads[r]} {
			acting = append(acting, Force(m.supports[i].At, push.U, push.Z))
		}
		for i := range acting {
			one, _ := m.axis.resultant(&acting[i])
			for j := range one {
				w[3*r+j] += one[j]
			}
		}
	}
	return w
}

// soften draws the self-stresses and factorises their flexibilities.
func (c *Couple) soften() error {
	n := len(c.states)
	if n == 0 {
		return nil
	}
	ei := c.Rafters[0].stiffness.EI
	c.slack = c.slack[:0]
	for r := range c.Rafters {
		k := c.Rafters[r].stiffness
		if k.EI == 0 || k.EA == 0 {
			return &Error{Kind: ErrStiffness, Of: "rafter", Index: r, Text: "the thrust has more than one way: EI and EA are needed"}
		}
		c.weight[r] = weights{m: ei / k.EI, n: ei / k.EA}
	}
	for i, t := range c.ties {
		if t.EA == 0 {
			return &Error{Kind: ErrStiffness, Of: "tie", Index: i, Text: "the thrust has more than one way: EA is needed"}
		}
		l, _ := c.line(t)
		c.slack = append(c.slack, ei*l/t.EA)
	}
	c.course = make([][2]Diagram, n)
	for i, x := range c.states {
		if err := c.drawState(&c.course[i], x, [2][]Load{}); err != nil {
			return err
		}
		own := math.Sqrt(c.work(i, i))
		for k := range x {
			x[k] /= own
		}
		if err := c.drawState(&c.course[i], x, [2][]Load{}); err != nil {
			return err
		}
	}
	f := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			f.SetSym(i, j, c.work(i, j))
		}
	}
	return factorise(&c.solver, f)
}

func (c *Couple) work(i, j int) float64 {
	return c.workWith(i, &c.course[j], c.states[j])
}

// workWith is the work of a self-stress on what a set of forces does.
func (c *Couple) workWith(state int, d *[2]Diagram, x []float64) float64 {
	sum := 0.0
	for r := range d {
		sum += work(&c.course[state][r], &d[r], c.weight[r])
	}
	for i, slack := range c.slack {
		sum += slack * c.states[state][firstTie+i] * x[firstTie+i]
	}
	return sum
}

func (c *Couple) drawState(d *[2]Diagram, x []float64, loads [2][]Load) error {
	f := c.forces(x)
	for r := range d {
		if err := c.Diagram(&d[r], r, loads[r], f); err != nil {
			return err
		}
	}
	return nil
}

// close adds to x what makes the open displacements nought.
func (c *Couple) close(x []float64, loads [2][]Load) error {
	n := len(c.states)
	if n == 0 {
		return nil
	}
	if c.fault != nil {
		return c.fault
	}
	var d [2]Diagram
	open, closing := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for range 2 { // the second pass takes out the rounding of the first
		if err := c.drawState(&d, x, loads); err != nil {
			return err
		}
		for i := range n {
			open.SetVec(i, -c.workWith(i, &d, x))
		}
		if err := c.solver.SolveVecTo(closing, open); err != nil {
			return &Error{Kind: ErrCondition, Text: err.Error()}
		}
		for i, s := range c.states {
			for k := range x {
				x[k] += closing.AtVec(i) * s[k]
			}
		}
	}
	return nil
}

// balance finds, for a unit of each of six components, one set of sizes of the
// units that adds up to it (answer, by unit and component), and the sets that add
// up to nothing, by Gauss-Jordan elimination with full pivoting. It is false
// when the units cannot make every sum.
func balance(units [][6]float64) (answer [][6]float64, states [][]float64, stands bool) {
	const rows = 6
	n := len(units)
	a := make([][]float64, rows) // the units, and beside them the six components
	for i := range a {
		a[i] = make([]float64, n+rows)
		for k := range units {
			a[i][k] = units[k][i]
		}
		a[i][n+i] = 1
	}
	settledBy := make([]int, n) // the row that settles each unit, from one
	for row := range a {
		best, at, unit := independent, -1, -1
		for i := row; i < rows; i++ {
			for k := range n {
				if v := math.Abs(a[i][k]); settledBy[k] == 0 && v > best {
					best, at, unit = v, i, k
				}
			}
		}
		if at < 0 {
			return nil, nil, false
		}
		a[row], a[at] = a[at], a[row]
		settledBy[unit] = row + 1
		lead := a[row][unit]
		for k := range a[row] {
			a[row][k] /= lead
		}
		for i := range a {
			if f := a[i][unit]; i != row && f != 0 {
				for k := range a[i] {
					a[i][k] -= f * a[row][k]
				}
			}
		}
	}
	answer = make([][6]float64, n)
	for k, row := range settledBy {
		if row > 0 {
			copy(answer[k][:], a[row-1][n:])
			continue
		}
		s := make([]float64, n)
		s[k] = 1
		for j, row := range settledBy {
			if row > 0 {
				s[j] = -a[row-1][k]
			}
		}
		states = append(states, s)
	}
	return answer, states, true
}
