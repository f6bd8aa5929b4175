package draw

import (
	"fmt"
	"math"
	"strconv"

	"example.com/scantling/model"
)

// View is how space comes on paper: paper x = X . Right + Shift[0], paper y (downwards) = Shift[1] - X . Up, mm.
type View struct {
	Right, Up [3]float64 // paper mm per mm
	Shift     [2]float64
	Scale     float64 // 1 to Scale
}

// at puts a point on paper.
func (v View) at(p model.Point) (x, y float64) {
	return v.Shift[0] + p.X*v.Right[0] + p.Y*v.Right[1] + p.Z*v.Right[2],
		v.Shift[1] - p.X*v.Up[0] - p.Y*v.Up[1] - p.Z*v.Up[2]
}

// The two views, at full size. The axonometric is an isometric drawing: lengths along each of the three axes are to
// scale, as drawing offices make them.
var (
	plan        = View{Right: [3]float64{1, 0, 0}, Up: [3]float64{0, 1, 0}}
	axonometric = View{Right: [3]float64{math.Sqrt(3) / 2, -math.Sqrt(3) / 2, 0}, Up: [3]float64{0.5, 0.5, 1}}
)

// Scales that drawing offices use: those of ISO 5455 with 1:25, 1:75, 1:150 and 1:250 between, and eighths of an inch to
// the foot; the largest only fit a frame that is no building.
var (
	metricScales = []float64{5, 10, 20, 25, 50, 75, 100, 150, 200, 250, 500, 1000, 2000, 5000, 10000, 20000, 50000, 100000}
	usScales     = []float64{12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 768, 1536, 3072, 6144, 12288, 24576, 49152, 98304}
	usWords      = map[float64]string{12: "1 in = 1 ft", 16: "3/4 in = 1 ft", 24: "1/2 in = 1 ft", 32: "3/8 in = 1 ft", 48: "1/4 in = 1 ft",
		64: "3/16 in = 1 ft", 96: "1/8 in = 1 ft", 128: "3/32 in = 1 ft", 192: "1/16 in = 1 ft"}
)

// box is the extent of what is drawn, on paper.
type box struct{ left, top, right, bottom float64 }

func (b *box) add(x, y float64) {
	b.left, b.right = math.Min(b.left, x), math.Max(b.right, x)
	b.top, b.bottom = math.Min(b.top, y), math.Max(b.bottom, y)
}

// fit scales and shifts a view so that a frame fits into a width and a height (paper mm) behind a margin.
func (v View) fit(f Frame, width, height, left, top float64) (View, box) {
	full, any := extent(f, v)
	if !any {
		return v, box{left, top, left + width, top + height}
	}
	need := math.Max((full.right-full.left)/width, (full.bottom-full.top)/height)
	v.Scale = scaleFor(need, f.Units)
	for i := range 3 {
		v.Right[i] /= v.Scale
		v.Up[i] /= v.Scale
	}
	v.Shift = [2]float64{left - full.left/v.Scale, top - full.top/v.Scale}
	return v, box{left, top, left + (full.right-full.left)/v.Scale, top + (full.bottom-full.top)/v.Scale}
}

func extent(f Frame, v View) (b box, any bool) {
	b = box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, m := range f.Members {
		for _, p := range m.Pieces {
			for _, point := range p.Axis {
				b.add(v.at(point))
				any = true
			}
		}
	}
	return b, any
}

func scaleFor(need float64, u model.Units) float64 {
	scales := metricScales
	if u == model.US {
		scales = usScales
	}
	for _, s := range scales {
		if s >= need {
			return s
		}
	}
	return need
}

// ScaleWords is the scale as a title block gives it.
func (v View) ScaleWords(u model.Units) string {
	if v.Scale == 0 {
		return "not to scale"
	}
	if words, ok := usWords[v.Scale]; ok && u == model.US {
		return words
	}
	return "1:" + strconv.FormatFloat(v.Scale, 'f', -1, 64)
}

// num prints a paper coordinate to a hundredth of a millimetre.
func num(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}

func pair(x, y float64) string { return fmt.Sprintf("%s %s", num(x), num(y)) }
