package plane

import (
	"encoding/binary"
	"math"
	"testing"
)

// numbersFrom reads a fuzzer's bytes as numbers: small ones, raw floats and the
// values that break things.
type numbersFrom []byte

func (n *numbersFrom) byte() byte {
	if len(*n) == 0 {
		return 0
	}
	b := (*n)[0]
	*n = (*n)[1:]
	return b
}

func (n *numbersFrom) float() float64 {
	switch kind := n.byte(); {
	case kind < 200:
		return (float64(kind) - 60) * 50 * (1 + float64(n.byte())/512)
	case kind < 230:
		return float64(int8(n.byte()))
	case kind < 240 && len(*n) >= 8:
		v := math.Float64frombits(binary.LittleEndian.Uint64(*n))
		*n = (*n)[8:]
		return v
	case kind < 244:
		return math.NaN()
	case kind < 248:
		return math.Inf(1)
	case kind < 252:
		return 1e300
	}
	return 1e-300
}

func FuzzMember(f *testing.F) {
	f.Add([]byte{2, 60, 0, 60, 0, 140, 0, 60, 0, 2, 60, 0, 1, 140, 0, 0, 1, 0, 60, 0, 140, 0, 0, 0, 0, 50, 0, 50, 0})
	f.Add([]byte{3, 60, 0, 60, 0, 140, 9, 80, 0, 180, 0, 60, 0, 3, 60, 0, 3, 100, 0, 1, 140, 3, 2, 1, 1, 80, 80, 7, 7, 7, 7, 90, 90})
	f.Add([]byte("4a scattered seed of letters, so that most figures are in range"))
	f.Fuzz(func(t *testing.T, data []byte) {
		n := numbersFrom(data)
		var axis []Point
		for range n.byte() % 6 {
			axis = append(axis, Point{n.float(), n.float()})
		}
		var supports []Support
		for range n.byte() % 6 {
			at, how := n.float(), n.byte()
			supports = append(supports, Support{At: at, Horizontal: how&1 != 0, Fixed: how&2 != 0})
		}
		var k Stiffness
		if n.byte()%4 > 0 {
			k = Stiffness{EA: 1e8, EI: 1e11}
		} else {
			k = Stiffness{EA: n.float(), EI: n.float()}
		}
		var loads []Load
		for range n.byte() % 5 {
			l := Load{From: n.float()}
			l.To = l.From
			if n.byte()%2 == 0 {
				l.To = n.float()
				l.U1, l.Z1 = n.float(), n.float()
			} else {
				l.Moment = n.float()
			}
			l.U0, l.Z0 = n.float(), n.float()
			loads = append(loads, l)
		}
		var m Member
		if m.Set(axis, supports, k) != nil {
			return
		}
		var d Diagram
		r, err := m.Solve(&d, nil, loads)
		if err != nil {
			return
		}
		for _, x := range r {
			mustBeFinite(t, x.U, x.Z, x.Moment)
		}
		for q := range quantities {
			x, known := d.Range(q)
			if !known {
				continue
			}
			mustBeFinite(t, x.Max.Value, x.Max.At, x.Min.Value, x.Min.At)
			for _, s := range d.Breaks() {
				v, _ := d.Value(q, s, Before)
				mustBeFinite(t, v)
			}
			e := Envelope{Permanent: []Part{{&d, 1}}, Variable: []Part{{&d, -0.5}}}
			high, low, err := e.Range(q, 0, m.Axis().Length())
			if err == nil {
				mustBeFinite(t, high.Value, low.Value, e.peak(q, high, 1).Forces.M, e.peak(q, low, -1).Forces.M)
			}
		}
		var in Influence
		if m.Influence(&in, m.Answer) == nil {
			e := Envelope{Permanent: []Part{{&d, 1}}, Moving: []Moving{{&in, 0, 1000}}}
			for q := range quantities {
				if high, low, err := e.Range(q, 0, m.Axis().Length()); err == nil {
					mustBeFinite(t, high.Value, low.Value)
				}
			}
		}
	})
}

func FuzzCouple(f *testing.F) {
	f.Add([]byte{110, 0, 100, 0, 60, 0, 110, 0, 100, 0, 60, 0, 0, 1, 60, 0, 60, 0, 60, 50, 0, 50, 0})
	f.Add([]byte("a couple made of the letters of a line"))
	f.Fuzz(func(t *testing.T, data []byte) {
		n := numbersFrom(data)
		var rafters [2]Rafter
		for i := range rafters {
			rafters[i] = Rafter{Axis: []Point{{}, {n.float(), n.float()}}, Foot: n.float(), Stiffness: Stiffness{EA: 1e8, EI: 1e11}}
		}
		how := n.byte()
		var ties []Tie
		for range n.byte() % 4 {
			ties = append(ties, Tie{At: [2]float64{n.float(), n.float()}, EA: n.float()})
		}
		var c Couple
		if c.Set(rafters, ties, CoupleOptions{HeadHeld: how&1 != 0, Drift: int(how >> 1 & 1)}) != nil {
			return
		}
		loads := [2][]Load{{Force(n.float(), n.float(), n.float())}, {Force(n.float(), n.float(), n.float())}}
		forces, err := c.Forces(loads)
		if err != nil {
			return
		}
		for r := range loads {
			mustBeFinite(t, forces.Feet[r].Z, forces.Feet[r].U, forces.Heads[r].U, forces.Heads[r].Z)
			var d Diagram
			if c.Diagram(&d, r, loads[r], forces) == nil {
				x, _ := d.Range(Moment)
				mustBeFinite(t, x.Max.Value, x.Min.Value)
			}
		}
		for _, p := range forces.Ties {
			mustBeFinite(t, p)
		}
	})
}

func mustBeFinite(t *testing.T, values ...float64) {
	t.Helper()
	for _, v := range values {
		if !finite(v) {
			t.Fatalf("%g came out without an error", v)
		}
	}
}
