package draw

import (
	"math"
	"sort"
	"unicode"

	"example.com/scantling/engine/report"
)

// labels names the members, those that call for something first; a label that finds no room is left out, so that the
// others can be read, and takes no room that is taken. The marks of those are unnamed, in the order of the frame.
func labels(f Frame, v View, width, height float64, room rooms) (out []Label, unnamed []string) {
	order := make([]int, len(f.Members))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return f.Members[order[a]].State.rank() < f.Members[order[b]].State.rank() })
	left := make([]bool, len(f.Members))
	for _, i := range order {
		m := f.Members[i]
		text := report.Clean(m.Mark)
		if m.State.rank() <= Unchecked.rank() {
			text += " " + m.State.Words()
		}
		wide := wideOf(text)
		at := places(m, v, wide)
		left[i] = len(at) > 0
		for _, at := range at {
			b := box{at[0] - apart, at[1] - textSize, at[0] + wide + apart, at[1] + 0.6}
			if b.left < 0 || b.right > width || b.top < 0 || b.bottom > height || !room.take(b) {
				continue
			}
			out = append(out, Label{i, at[0], at[1], m.State.Class(), text})
			left[i] = false
			break
		}
	}
	for i, m := range f.Members {
		if left[i] {
			unnamed = append(unnamed, report.Clean(m.Mark))
		}
	}
	return out, unnamed
}

// apart is half of what is left between two labels side by side, so that they read as two.
const apart = 0.4

// wideOf is the room that a text takes, by the widest of the fonts that a reader may have: marks are capitals and digits,
// and a W is as wide as two letters.
func wideOf(text string) float64 {
	wide := 0.0
	for _, r := range text {
		switch {
		case r == 'W' || r == 'M':
			wide += 0.95
		case unicode.IsUpper(r):
			wide += 0.69
		case r == ' ':
			wide += 0.29
		default:
			wide += 0.57
		}
	}
	return wide * textSize
}

// places are where a label may stand: beside the middle, then the thirds, of its middle piece, then of the outer ones.
func places(m Member, v View, wide float64) [][2]float64 {
	var out [][2]float64
	last := len(m.Pieces) - 1
	for _, i := range []int{last / 2, 0, last} {
		if i < 0 || len(m.Pieces[i].Axis) < 2 {
			continue
		}
		axis := m.Pieces[i].Axis
		x0, y0 := v.at(axis[0])
		x1, y1 := v.at(axis[len(axis)-1])
		for _, t := range []float64{0.5, 0.34, 0.66, 0.18, 0.82} {
			x, y := x0+(x1-x0)*t, y0+(y1-y0)*t
			if math.Abs(x1-x0) > math.Abs(y1-y0) { // lies: above, below
				out = append(out, [2]float64{x - wide/2, y - 0.8}, [2]float64{x - wide/2, y + textSize + 0.5})
			} else { // stands: right, left
				out = append(out, [2]float64{x + 0.9, y + textSize/3}, [2]float64{x - 0.9 - wide, y + textSize/3})
			}
		}
	}
	return out
}

// rooms remembers what is taken, by squares of the sheet.
type rooms map[[2]int][]box

const square = 10.0

// take keeps a box if nothing else stands there.
func (r rooms) take(b box) bool {
	var squares [][2]int
	for x := int(math.Floor(b.left / square)); x <= int(math.Floor(b.right/square)); x++ {
		for y := int(math.Floor(b.top / square)); y <= int(math.Floor(b.bottom/square)); y++ {
			for _, other := range r[[2]int{x, y}] {
				if b.left < other.right && other.left < b.right && b.top < other.bottom && other.top < b.bottom {
					return false
				}
			}
			squares = append(squares, [2]int{x, y})
		}
	}
	for _, s := range squares {
		r[s] = append(r[s], b)
	}
	return true
}
