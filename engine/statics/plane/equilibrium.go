package plane

import "math"

// wrench is a plane set of forces: U, Z, and the clockwise moment about the
// axis' first point divided by the axis' length, so that all three are forces.
type wrench [3]float64

func dot(a, b *wrench) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (w *wrench) add(v *wrench, factor float64) {
	for i := range w {
		w[i] += factor * v[i]
	}
}

// part is one component of a support's push on the member.
type part uint8

const (
	pushU part = iota
	pushZ
	turn
)

// wrenchOf is the unit push of a part at s. The unit of a turn is one N times the length.
func (a *Axis) wrenchOf(p part, s float64) wrench {
	at, l := a.At(s), a.Length()
	u, z := (at.U-a.points[0].U)/l, (at.Z-a.points[0].Z)/l
	switch p {
	case pushU:
		return wrench{1, 0, z}
	case pushZ:
		return wrench{0, 1, -u}
	}
	return wrench{0, 0, 1}
}

// resultant of a load whose places are already clamped to the axis, and the sum
// of its magnitudes (moments over the length), against which rounding is judged.
func (a *Axis) resultant(l *Load) (w wrench, size float64) {
	if l.From == l.To {
		u, z := a.wrenchOf(pushU, l.From), a.wrenchOf(pushZ, l.From)
		w.add(&u, l.U0)
		w.add(&z, l.Z0)
		m := l.Moment / a.Length()
		w[2] += m
		return w, math.Abs(l.U0) + math.Abs(l.Z0) + math.Abs(m)
	}
	for i, d := range a.dir {
		from, to := math.Max(l.From, a.at[i]), math.Min(l.To, a.at[i+1])
		if from >= to {
			continue
		}
		h := to - from
		u0, z0 := l.intensity(from)
		u1, z1 := l.intensity(to)
		mid, lever := (from+to)/2, h*h/12/a.Length()
		atMidU, atMidZ := a.wrenchOf(pushU, mid), a.wrenchOf(pushZ, mid)
		w.add(&atMidU, (u0+u1)/2*h)
		w.add(&atMidZ, (z0+z1)/2*h)
		// The slope of the trapezoid turns about its middle.
		w[2] += lever * ((u1-u0)*d.Z - (z1-z0)*d.U)
		size += (math.Abs(u0) + math.Abs(u1) + math.Abs(z0) + math.Abs(z1)) / 2 * h
	}
	return w, size
}

// intensity of a spread load at s, N/mm.
func (l *Load) intensity(s float64) (u, z float64) {
	t := (s - l.From) / (l.To - l.From)
	return l.U0 + t*(l.U1-l.U0), l.Z0 + t*(l.Z1-l.Z0)
}

// independent is the part of a unit push, square to those already chosen, below
// which it adds nothing new.
const independent = 1e-9

// basis is up to three independent wrenches, and an orthonormal basis of what
// they span: w[j] = sum over i of q[i] r[i][j].
type basis struct {
	n     int
	index [3]int // the caller's number of each
	q     [3]wrench
	r     [3][3]float64
}

// add takes w in unless it depends on what is there.
func (b *basis) add(index int, w wrench) bool {
	if b.n == len(b.q) {
		return false
	}
	size := math.Sqrt(dot(&w, &w))
	var along [3]float64
	for range 2 { // twice is enough: the second pass removes what rounding left
		for i := range b.n {
			c := dot(&b.q[i], &w)
			along[i] += c
			w.add(&b.q[i], -c)
		}
	}
	rest := math.Sqrt(dot(&w, &w))
	if !(rest > independent*size) {
		return false
	}
	for i := range w {
		w[i] /= rest
	}
	for i := range b.n {
		b.r[i][b.n] = along[i]
	}
	b.q[b.n], b.r[b.n][b.n], b.index[b.n] = w, rest, index
	b.n++
	return true
}

// resolve gives w as factors of the wrenches taken in, and what is left over.
func (b *basis) resolve(w wrench) (factor [3]float64, rest wrench) {
	for i := range b.n {
		factor[i] = dot(&b.q[i], &w)
		w.add(&b.q[i], -factor[i])
	}
	for i := b.n - 1; i >= 0; i-- {
		for j := i + 1; j < b.n; j++ {
			factor[i] -= b.r[i][j] * factor[j]
		}
		factor[i] /= b.r[i][i]
	}
	return factor, w
}

// movement is the small rigid movement (along U, along Z, anticlockwise turn
// times length) whose work with each wrench taken in is given.
func (b *basis) movement(work [3]float64) (move wrench) {
	for i := range b.n {
		for j := range i {
			work[i] -= b.r[j][i] * work[j]
		}
		work[i] /= b.r[i][i]
		move.add(&b.q[i], work[i])
	}
	move[2] = -move[2]
	return move
}
