package frame

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/model"
)

// axis is a shape through points.
func axis(points ...model.Point) *Shape {
	sh := &Shape{Points: points}
	sh.S = sh.measure(nil)
	return sh
}

// moves are places of the whole model: at its own origin, and far out on a survey's grid.
var moves = map[string]model.Point{"": {}, ", far from the origin": {X: 1e7, Y: -1e7, Z: 1e7}}

func moved(sh *Shape, by model.Point) *Shape {
	points := make([]model.Point, len(sh.Points))
	for i, p := range sh.Points {
		points[i] = add(p, by)
	}
	return axis(points...)
}

func TestMeet(t *testing.T) {
	type p = model.Point
	level := axis(p{}, p{X: 4000})
	for _, row := range []struct {
		say             string
		a, b            *Shape
		last            bool
		s, t            float64
		distance, level float64
	}{
		{"two lines cross within both", level, axis(p{X: 1000, Y: -1000}, p{X: 1000, Y: 3000}), false, 1000, 1000, 0, 0},
		{"one ends on the other", level, axis(p{X: 4000, Y: -500}, p{X: 4000, Y: 500}), false, 4000, 500, 0, 0},
		{"one stops 30 mm short of the other", level, axis(p{X: 4030, Y: -500}, p{X: 4030, Y: 500}), false, 4000, 500, 30, 0},
		// 3-4-5: at y = 2000 half of the 5 m are behind and x is 1500.
		{"a skew line is met along its own length", axis(p{}, p{X: 3000, Y: 4000}), axis(p{Y: 2000}, p{X: 5000, Y: 2000}), false, 2500, 1500, 0, 0},
		// 3-4-5 upright: at x = 1500 it is 2000 up, 100 above the other.
		{"a slope is met along the slope", axis(p{}, p{X: 3000, Z: 4000}), axis(p{X: 1500, Y: -500, Z: 1900}, p{X: 1500, Y: 500, Z: 1900}), false, 2500, 500, 0, 100},
		{"of a common stretch the first end", level, axis(p{X: 1000}, p{X: 3000}), false, 1000, 0, 0, 0},
		{"of a common stretch the last end", level, axis(p{X: 1000}, p{X: 3000}), true, 3000, 2000, 0, 0},
		{"of a common stretch drawn the other way the first end of the first axis", level, axis(p{X: 3000}, p{X: 1000}), false, 1000, 2000, 0, 0},
		{"wholly over the other its own first end", axis(p{X: 1000}, p{X: 3000}), level, false, 0, 1000, 0, 0},
		{"wholly over the other its own last end", axis(p{X: 1000}, p{X: 3000}), level, true, 2000, 3000, 0, 0},
		{"side by side the first ends", level, axis(p{Y: 200}, p{X: 4000, Y: 200}), false, 0, 0, 200, 0},
		{"side by side the last ends", level, axis(p{Y: 200}, p{X: 4000, Y: 200}), true, 4000, 4000, 200, 0},
		{"a post meets a beam with its foot", axis(p{X: 1000}, p{X: 1000, Z: 2400}), level, false, 0, 1000, 0, 0},
		{"a post drawn from its head down meets it with its last end", axis(p{X: 1000, Z: 2400}, p{X: 1000}), level, false, 2400, 1000, 0, 0},
		{"a beam meets a post at its head", axis(p{Z: 2400}, p{X: 3000, Z: 2400}), axis(p{X: 3000}, p{X: 3000, Z: 2400}), false, 3000, 2400, 0, 0},
		{"a post stands on the head of another", axis(p{Z: 2400}, p{Z: 4800}), axis(p{}, p{Z: 2400}), false, 0, 2400, 0, 0},
		// The lower run is 2900 below, the upper 100 above; to the upper place it is 4000 + 3000 + 2000 along.
		{"of two places over each other the nearer in level",
			axis(p{X: 2000, Y: -500, Z: 2900}, p{X: 2000, Y: 500, Z: 2900}), axis(p{}, p{X: 4000}, p{X: 4000, Z: 3000}, p{Z: 3000}), false, 500, 9000, 0, -100},
		{"nearer in plan beats nearer in level", axis(p{X: 2000, Y: 300}, p{X: 2000, Y: 2000, Z: 500}), axis(p{Y: 1990}, p{X: 4000, Y: 1990, Z: 0}), false,
			// 1690 of the 1700 in plan, so 1690/1700 of the slope's length, and 500 times that in level.
			1690.0 / 1700 * 1772.00451467, 2000, 0, 500 * 1690.0 / 1700},
	} {
		for where, by := range moves {
			t.Run(row.say+where, func(t *testing.T) {
				m := meet(moved(row.a, by), model.Point{}, moved(row.b, by), model.Point{}, row.last)
				assert.InDelta(t, row.s, m.s, 1e-5)
				assert.InDelta(t, row.t, m.t, 1e-5)
				assert.InDelta(t, row.distance, m.distance, 1e-5)
				assert.InDelta(t, row.level, m.level, 1e-5)
			})
		}
	}
}

func TestNearest(t *testing.T) {
	type p = model.Point
	level := axis(p{}, p{X: 4000})
	corner := axis(p{}, p{X: 4000}, p{X: 4000, Y: 3000})
	for _, row := range []struct {
		say                        string
		on                         *Shape
		p                          model.Point
		t, distance, level, beyond float64
	}{
		{"beside the middle", level, p{X: 1500, Y: 200, Z: 50}, 1500, 200, 50, 0},
		{"on the end", level, p{X: 4000}, 4000, 0, 0, 0},
		{"300 before the start", level, p{X: -300}, 0, 300, 0, 300},
		{"50 beyond the end", level, p{X: 4050}, 4000, 50, 0, 50},
		{"300 beyond the end and 400 aside, 500 off (3-4-5)", level, p{X: 4300, Y: 400}, 4000, 500, 0, 300},
		{"at a corner nothing is past the end", corner, p{X: 4300, Y: -400}, 4000, 500, 0, 0},
		{"beside the second stretch", corner, p{X: 3900, Y: 1000}, 5000, 100, 0, 0},
		{"beyond the end of the second stretch", corner, p{X: 4000, Y: 3200}, 7000, 200, 0, 200},
		{"over a post: its head", axis(p{}, p{Z: 2400}), p{X: 30, Z: 2500}, 2400, 30, 100, 0},
		{"at the foot of a post: its foot", axis(p{}, p{Z: 2400}), p{X: 30, Z: -100}, 0, 30, -100, 0},
	} {
		for where, by := range moves {
			t.Run(row.say+where, func(t *testing.T) {
				m, past := nearest(row.on, by, add(row.p, by))
				assert.InDelta(t, row.t, m.t, 1e-5)
				assert.InDelta(t, row.distance, m.distance, 1e-5)
				assert.InDelta(t, row.level, m.level, 1e-5)
				assert.InDelta(t, row.beyond, past, 1e-5)
			})
		}
	}
}

func TestOverlap(t *testing.T) {
	type p = model.Point
	level := axis(p{}, p{X: 4000})
	bent := axis(p{}, p{X: 3000}, p{X: 3000, Y: 2000})
	for _, row := range []struct {
		say      string
		a, b     *Shape
		from, to float64
		none     bool
	}{
		{"the common part", level, axis(p{X: 1000}, p{X: 6000}), 1000, 4000, false},
		{"the whole, on a longer one", level, axis(p{X: -500}, p{X: 6000}), 0, 4000, false},
		{"the other drawn the other way", level, axis(p{X: 6000}, p{X: 1000}), 1000, 4000, false},
		{"itself drawn the other way: 4000 - 4000 to 4000 - 1000", axis(p{X: 4000}, p{}), axis(p{X: 1000}, p{X: 6000}), 0, 3000, false},
		{"round a corner that both have", bent, axis(p{X: -500}, p{X: 3000}, p{X: 3000, Y: 5000}), 0, 5000, false},
		{"up to a corner that only one has", bent, axis(p{X: -500}, p{X: 6000}), 0, 3000, false},
		{"the stretch past the corner alone", bent, axis(p{X: 3000, Y: 500}, p{X: 3000, Y: 9000}), 3500, 5000, false},
		{"a slope over a level (3-4-5): half the plan is half the length", axis(p{}, p{X: 3000, Z: 4000}), axis(p{X: 1500}, p{X: 3000}), 2500, 5000, false},
		{"two degrees apart still run together", level, axis(p{}, p{X: 4000, Y: 140}), 0, 4000, false},
		{"four degrees apart do not", level, axis(p{}, p{X: 4000, Y: 280}), 0, 0, true},
		{"crossing", level, axis(p{X: 2000, Y: -500}, p{X: 2000, Y: 500}), 0, 0, true},
		{"one after the other", level, axis(p{X: 4000}, p{X: 8000}), 0, 0, true},
		{"a post on a beam", axis(p{X: 1000}, p{X: 1000, Z: 2400}), level, 0, 0, true},
	} {
		for where, by := range moves {
			t.Run(row.say+where, func(t *testing.T) {
				from, to, ok := overlap(moved(row.a, by), model.Point{}, moved(row.b, by), model.Point{})
				assert.Equal(t, !row.none, ok)
				if ok {
					assert.InDelta(t, row.from, from, 1e-5)
					assert.InDelta(t, row.to, to, 1e-5)
				}
			})
		}
	}
}

func TestShape(t *testing.T) {
	type p = model.Point
	crank := axis(p{}, p{X: 1200}, p{X: 2600, Z: 700})
	assert.InDelta(t, 1200+1565.2475842, crank.Length, 1e-6, "1400 and 700 make 1565.2")
	assert.InDelta(t, 2600, crank.Plan, 1e-9)
	assert.InDelta(t, 0.4636476, crank.Slope, 1e-6, "the steepest stretch: atan 1/2")
	assert.Equal(t, 1, crank.Kinks)
	assert.Zero(t, crank.KinksPlan)
	assert.Equal(t, p{X: -100}, crank.At(-100), "before the start the first stretch runs on")
	assert.InDelta(t, 2600+1400.0/10, crank.At(crank.Length*1.0+156.52475842).X, 1e-6, "beyond the end the last one does")
	cos, sin := crank.SlopeAt(2000)
	assert.InDelta(t, 0.8944272, cos, 1e-6)
	assert.InDelta(t, 0.4472136, sin, 1e-6)

	bent := axis(p{}, p{X: 3000}, p{X: 3000, Y: 2000})
	assert.Equal(t, 1, bent.KinksPlan)
	x, y := bent.Direction(4000)
	assert.Equal(t, [2]float64{0, 1}, [2]float64{x, y})

	straight := axis(p{}, p{X: 1000}, p{X: 4000})
	assert.Zero(t, straight.Kinks, "a point in line is no kink")

	assert.True(t, axis(p{}, p{X: 40, Z: 2400}).Upright, "40 mm out of plumb in 2.4 m")
	assert.False(t, axis(p{}, p{X: 60, Z: 2400}).Upright, "60 mm is a lean")

	nothing := axis(p{X: 5}, p{X: 5})
	assert.False(t, nothing.Known)
	assert.Equal(t, p{X: 5}, nothing.At(10), "of no length every place is one")
}
