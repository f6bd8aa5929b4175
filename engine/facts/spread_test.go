package facts

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// anyWall is a wall of some length and height with up to two openings.
func anyWall(r *rand.Rand) (m *model.Member, length, height float64) {
	length, height = 2000+4000*r.Float64(), 1000+2000*r.Float64()
	m = &model.Member{Role: model.RoleWall}
	at := 0.0
	for range r.IntN(3) {
		from := at + length*r.Float64()/3
		at = from + 900*r.Float64()
		m.Detail = appendOpening(m, model.Opening{From: model.Given(from), To: model.Given(at)})
	}
	return m, length, height
}

func appendOpening(m *model.Member, o model.Opening) *model.Detail {
	d := *m.More()
	d.Openings = append(d.Openings, o)
	return &d
}

func anyLoad(r *rand.Rand, length float64) (l statics.Pressing, foot float64) {
	l = statics.Pressing{From: length * r.Float64()}
	l.To = l.From
	if r.IntN(2) == 0 {
		l.To = l.From + (length-l.From)*r.Float64()
		l.First, l.Last = 30*r.Float64()-5, 30*r.Float64()-5
		if r.IntN(2) == 0 {
			l.Last = l.First
		}
		return l, 0
	}
	l.First = 20_000*r.Float64() - 3000
	return l, 300 * r.Float64()
}

// The sum by its definition at every place along the wall: what the profile says is never exceeded, and is reached.
func TestSpreadIsTheSumByItsDefinition(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		m, length, height := anyWall(r)
		w := newSpread(m, length, height, 1)
		for range 1 + r.IntN(6) {
			l, foot := anyLoad(r, length)
			w.put(l, foot, 0)
		}
		at := length * r.Float64()
		within, ok := w.reach(at, 100)
		if !ok {
			continue
		}
		w.look(at, 100)
		w.sum()
		p, aside := &w.loads[0], height/2/math.Sqrt(3)
		sum := func(x float64) float64 {
			total := 0.0
			for _, q := range p.pushes {
				if x >= q.from && x <= q.to {
					total += q.per
				}
			}
			for _, panel := range w.panels {
				if x < panel.from || x > panel.to {
					continue
				}
				from, to := max(panel.from, x-aside), min(panel.to, x+aside)
				for _, l := range p.lines {
					total += l.per * max(0, min(to, l.to)-max(from, l.from)) / (to - from)
				}
			}
			return total
		}
		most := 0.0
		for k := range 4001 {
			most = max(most, sum(within.from+(within.to-within.from)*float64(k)/4000))
		}
		got := p.most(within)
		require.GreaterOrEqual(t, got, most*(1-1e-9))
		for _, x := range p.at {
			if x >= within.from && x <= within.to {
				most = max(most, sum(x))
			}
		}
		require.InDelta(t, most, got, 1e-6*max(1, most))
	}
}

// All of each load arrives somewhere on the wall, and none of what lifts.
func TestSpreadLosesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		m, length, height := anyWall(r)
		w := newSpread(m, length, height, 1)
		if len(w.panels) == 0 {
			continue
		}
		l, foot := anyLoad(r, length)
		if l.To > l.From {
			l.Last = l.First
		}
		w.put(l, foot, 0)
		want := max(0, l.First)
		if l.To > l.From {
			want *= l.To - l.From
		}
		got := 0.0
		for _, of := range [2][]even{w.loads[0].pushes, w.loads[0].lines} {
			for _, e := range of {
				got += e.per * e.length()
			}
		}
		require.InDelta(t, want, got, 1e-6*max(1, want))
	}
}

func TestMoreOnAWallIsNeverLess(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		m, length, height := anyWall(r)
		at := length * r.Float64()
		loads := make([]func(*spread), 6)
		for k := range loads {
			l, foot := anyLoad(r, length)
			loads[k] = func(w *spread) { w.put(l, foot, 0) }
		}
		last := 0.0
		for n := range loads {
			w := newSpread(m, length, height, 1)
			within, ok := w.reach(at, 100)
			if !ok {
				break
			}
			w.look(at, 100)
			for _, put := range loads[:n+1] {
				put(w)
			}
			w.sum()
			most := w.loads[0].most(within)
			require.GreaterOrEqual(t, most, last*(1-1e-9))
			last = most
		}
	}
}

// An even load over all of a wall is that load everywhere, however it is cut.
func TestEvenLoadStaysEven(t *testing.T) {
	m := &model.Member{Role: model.RoleWall}
	w := newSpread(m, 5000, 2400, 1)
	for _, cut := range [][2]float64{{0, 1700}, {1700, 1900}, {1900, 5000}} {
		w.put(statics.Pressing{From: cut[0], To: cut[1], First: 7, Last: 7}, 0, 0)
	}
	for _, at := range []float64{0, 300, 1800, 2500, 5000} {
		w.look(at, 100)
	}
	w.sum()
	for _, at := range []float64{0, 300, 1800, 2500, 5000} {
		within, ok := w.reach(at, 100)
		require.True(t, ok)
		assert.InDelta(t, 7, w.loads[0].most(within), 1e-9)
	}
}

func BenchmarkSpreadOverAWall(b *testing.B) {
	m := &model.Member{Role: model.RoleWall}
	b.ReportAllocs()
	for b.Loop() {
		w := newSpread(m, 10_000, 2400, 1)
		for k := range 25 {
			w.look(400*float64(k), 47)
			w.put(statics.Pressing{From: 400 * float64(k), To: 400 * float64(k), First: 2000}, 47, 20)
		}
		w.sum()
	}
}
