package draw

import (
	"math"
	"sort"
	"strings"

	"example.com/scantling/model"
)

// Dimension is a dimension line with a stroke at each end, the figure above it. An upright one reads from the right.
type Dimension struct {
	X1, Y1, X2, Y2 float64
	Text           string
	TextX, TextY   float64
	Upright        bool
}

// Level is a level mark: how high something lies.
type Level struct {
	X, Y float64
	Text string
}

// Bar is a scale bar: it stays true on a screen, where the stated scale does not.
type Bar struct {
	X, Y  float64
	Steps []Step
	Unit  string
}

// Step is one part of a scale bar, and what stands at its start.
type Step struct {
	X, Width float64
	Text     string
	Filled   bool
	Last     bool
}

// Distances on paper: of the first line of dimensions from the frame, between lines, and the least length of one that
// still holds a figure.
const (
	dimensionOff  = 7.0
	dimensionStep = 6.0
	dimensionMin  = 7.0
)

// dimensions are a chain through what the frame stands on, and the whole, below and to the left of the frame.
func dimensions(f Frame, v View, extent box) []Dimension {
	if v.Scale == 0 {
		return nil
	}
	var xs, ys []float64 // paper
	for _, m := range f.Members {
		if !m.Ground {
			continue
		}
		for _, p := range m.Pieces {
			for _, point := range p.Axis {
				x, y := v.at(point)
				xs, ys = append(xs, x), append(ys, y)
			}
		}
	}
	across := chain(xs, extent.left, extent.right)
	down := chain(ys, extent.top, extent.bottom)
	var out []Dimension
	for line, stops := range lines(across) {
		y := extent.bottom + dimensionOff + float64(line)*dimensionStep
		for i := 1; i < len(stops); i++ {
			a, b := stops[i-1], stops[i]
			out = append(out, Dimension{a, y, b, y, figure(b-a, f, v), (a + b) / 2, y - 0.9, false})
		}
	}
	for line, stops := range lines(down) {
		x := extent.left - dimensionOff - float64(line)*dimensionStep
		for i := 1; i < len(stops); i++ {
			a, b := stops[i-1], stops[i]
			out = append(out, Dimension{x, a, x, b, figure(b-a, f, v), x - 0.9, (a + b) / 2, true})
		}
	}
	return out
}

// lines are the chain and the whole, or the whole alone.
func lines(stops []float64) [][]float64 {
	switch {
	case len(stops) < 2:
		return nil
	case len(stops) == 2:
		return [][]float64{stops}
	}
	return [][]float64{stops, {stops[0], stops[len(stops)-1]}}
}

// chain sorts the stops between two ends and drops those that leave no room for a figure.
func chain(stops []float64, from, to float64) []float64 {
	if to-from < 0.5 {
		return nil
	}
	sort.Float64s(stops)
	out := []float64{from}
	for _, s := range stops {
		if s-out[len(out)-1] >= dimensionMin && to-s >= dimensionMin {
			out = append(out, s)
		}
	}
	return append(out, to)
}

// figure is a length on paper as it is in the frame. Figures without a unit are millimetres, as drawings have them.
func figure(paper float64, f Frame, v View) string {
	return strings.TrimSuffix(model.Format(math.Round(paper*v.Scale*10)/10, model.Length, f.Units), " mm")
}

// levels are the heights of what lies level, on the upright at the left-hand corner.
func levels(f Frame, v View, extent box) []Level {
	if v.Scale == 0 {
		return nil
	}
	heights := map[float64]bool{}
	corner := model.Point{X: math.Inf(1), Y: math.Inf(-1)}
	for _, m := range f.Members {
		for _, p := range m.Pieces {
			for i, point := range p.Axis {
				corner.X, corner.Y = math.Min(corner.X, point.X), math.Max(corner.Y, point.Y)
				if i > 0 && point.Z == p.Axis[i-1].Z {
					heights[point.Z] = true
				}
			}
		}
	}
	var sorted []float64
	for z := range heights {
		sorted = append(sorted, z)
	}
	sort.Float64s(sorted)
	var out []Level
	for _, z := range sorted {
		_, y := v.at(model.Point{X: corner.X, Y: corner.Y, Z: z})
		if len(out) > 0 && out[len(out)-1].Y-y < textSize*1.6 {
			continue
		}
		sign := ""
		if z > 0 {
			sign = "+"
		}
		out = append(out, Level{extent.left - 5, y, sign + marked(strings.TrimSuffix(model.Format(z, model.Length, f.Units), " mm"))})
	}
	return out
}

// marked writes feet and inches with their marks, which take less room: 12' 11 13/16".
func marked(length string) string {
	if inches, found := strings.CutSuffix(length, " in"); found {
		length = inches + `"`
	}
	return strings.Replace(length, " ft", "'", 1)
}

// bar is four steps of a round length, 30 to 80 mm long on paper.
func bar(u model.Units, v View, x, y float64) Bar {
	if v.Scale == 0 {
		return Bar{}
	}
	unit, name := 1000.0, "m"
	if u == model.US {
		unit, name = 304.8, "ft"
	}
	step := 0.01
	for _, round := range []float64{0.05, 0.1, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000} {
		step = round
		if step*unit/v.Scale >= 8 {
			break
		}
	}
	out := Bar{X: x, Y: y, Unit: name}
	for i := range 5 {
		width := step * unit / v.Scale
		out.Steps = append(out.Steps, Step{out.X + float64(i)*width, width, num(step * float64(i)), i%2 == 0, i == 4})
	}
	return out
}
