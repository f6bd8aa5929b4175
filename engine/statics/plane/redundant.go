package plane

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// redundants solves what equilibrium leaves open by the force method.
type redundants struct {
	states  []selfStress
	factors mat.Cholesky
	size    []float64 // what each state is divided by to make its flexibility one
	weight  weights
	open    mat.VecDense
	closing mat.VecDense
	trouble error // why the flexibilities cannot be had
	unit    []Reaction
}

// selfStress is a set of pushes in balance by themselves: a hold and the at most
// three before it that can do its work. Keeping to near neighbours keeps the
// flexibilities banded and well conditioned.
type selfStress struct {
	hold    [4]int
	push    [4]float64
	n       int
	diagram Diagram
}

// weights are what a product of moments and a product of axial forces count for:
// 1/EI and 1/EA on a common scale.
type weights struct{ m, n float64 }

func (r *redundants) reset() {
	r.states, r.trouble = r.states[:0], nil
}

// find resolves every hold that is over-held and factorises the flexibilities.
// What it lacks is kept for the first case that asks.
func (r *redundants) find(m *Member) {
	if len(m.holds) == m.primary.n {
		return
	}
	for k := range m.holds {
		var near basis
		for j := k - 1; j >= 0 && near.n < 3; j-- {
			near.add(j, m.holds[j].wrench)
		}
		if probe := near; probe.add(k, m.holds[k].wrench) {
			continue
		}
		factor, _ := near.resolve(m.holds[k].wrench)
		s := r.next()
		s.hold[0], s.push[0], s.n = k, 1, 1
		for i := range near.n {
			s.hold[s.n], s.push[s.n] = near.index[i], -factor[i]
			s.n++
		}
		r.unit = r.unit[:0]
		for range m.supports {
			r.unit = append(r.unit, Reaction{})
		}
		for i := range s.n {
			m.push(r.unit, s.hold[i], s.push[i])
		}
		m.draw(&s.diagram, nil, r.unit)
	}
	n := len(r.states)
	if n == 0 {
		return
	}
	if r.weight, r.trouble = m.stiffness.weigh(r.states); r.trouble != nil {
		return
	}
	f := mat.NewSymDense(n, nil)
	r.size = r.size[:0]
	for i := range r.states {
		r.size = append(r.size, math.Sqrt(work(&r.states[i].diagram, &r.states[i].diagram, r.weight)))
		for j := range i + 1 {
			f.SetSym(i, j, work(&r.states[i].diagram, &r.states[j].diagram, r.weight)/(r.size[i]*r.size[j]))
		}
	}
	r.trouble = factorise(&r.factors, f)
}

// close adds to the reactions what makes the displacements at the over-held
// supports nought.
func (r *redundants) close(m *Member, reactions []Reaction) error {
	if len(r.states) == 0 || len(m.loads) == 0 {
		return nil
	}
	if r.trouble != nil {
		return r.trouble
	}
	n := len(r.states)
	r.open.Reset()
	r.open.ReuseAsVec(n)
	r.closing.Reset()
	r.closing.ReuseAsVec(n)
	// Twice: the second pass takes out the rounding that the first, which starts
	// from a member on few supports with large moments, leaves behind.
	for range 2 {
		m.draw(&m.trial, m.loads, reactions)
		for i := range r.states {
			r.open.SetVec(i, -work(&r.states[i].diagram, &m.trial, r.weight)/r.size[i])
		}
		if err := r.factors.SolveVecTo(&r.closing, &r.open); err != nil {
			return &Error{Kind: ErrCondition, Text: err.Error()}
		}
		for i := range r.states {
			s := &r.states[i]
			for j := range s.n {
				m.push(reactions, s.hold[j], s.push[j]*r.closing.AtVec(i)/r.size[i])
			}
		}
	}
	return nil
}

// next is another state, in the memory of an old one where there is one.
func (r *redundants) next() *selfStress {
	if n := len(r.states); n < cap(r.states) {
		r.states = r.states[:n+1]
	} else {
		r.states = append(r.states, selfStress{})
	}
	return &r.states[len(r.states)-1]
}

// weigh says what moments and axial forces count for in these states, or which
// stiffness is missing. Only their ratio matters to the redundants.
func (k Stiffness) weigh(states []selfStress) (weights, error) {
	var bends, pulls bool
	for i := range states {
		for j := range states[i].diagram.segments {
			g := &states[i].diagram.segments[j]
			h := g.to - g.from
			bends = bends || g.of[Moment].bound(h) > negligible*states[i].diagram.floor[Moment]/snap
			pulls = pulls || g.of[Axial].bound(h) > negligible*states[i].diagram.floor[Axial]/snap
		}
	}
	switch {
	case bends && k.EI == 0:
		return weights{}, &Error{Kind: ErrStiffness, Text: "there are more supports than equilibrium can settle: EI is needed"}
	case pulls && k.EA == 0:
		return weights{}, &Error{Kind: ErrStiffness, Text: "there are more supports than equilibrium can settle: EA is needed"}
	case !bends:
		return weights{n: 1}, nil
	case !pulls:
		return weights{m: 1}, nil
	}
	return weights{m: 1, n: k.EI / k.EA}, nil
}

// factorise splits a flexibility matrix with ones on its diagonal.
func factorise(c *mat.Cholesky, f *mat.SymDense) error {
	const worst = 1e13
	for i := range f.SymmetricDim() {
		for j := range i + 1 {
			if !finite(f.At(i, j)) {
				return &Error{Kind: ErrNotFinite, Text: "the stiffness or the lengths are too far apart"}
			}
		}
	}
	if !c.Factorize(f) || c.Cond() > worst {
		return &Error{Kind: ErrCondition, Text: fmt.Sprintf("%d more holds than equilibrium needs, some too close together: make one of them", f.SymmetricDim())}
	}
	return nil
}

// work is the integral along the axis of the moments of a times those of b, and
// the axial forces likewise, each with its weight. All breaks of a are breaks of
// b, and a carries no spread load: its moments are straight between its breaks
// and its axial forces constant.
func work(a, b *Diagram, w weights) float64 {
	sum, j := 0.0, 0
	for i := range b.segments {
		g := &b.segments[i]
		for j < len(a.segments)-1 && a.segments[j].to <= g.from {
			j++
		}
		s := &a.segments[j]
		x := g.from - s.from
		h := g.to - g.from
		m0, m1, n := s.of[Moment].at(x), s.of[Moment][1], s.of[Axial][0]
		bend, pull, power := 0.0, 0.0, h
		for k := range 4 {
			bend += g.of[Moment][k] * power * (m0/float64(k+1) + m1*h/float64(k+2))
			pull += g.of[Axial][k] * power * n / float64(k+1)
			power *= h
		}
		sum += w.m*bend + w.n*pull
	}
	return sum
}
