package draw

import (
	"math"
	"sort"
	"strings"

	"example.com/scantling/engine/report"
	"example.com/scantling/model"
)

// Drawing is a frame on paper. Lengths are mm on paper.
type Drawing struct {
	Name          string // "Plan", "Axonometric"
	Width, Height float64
	View          View
	Scale         string
	Walls         []string // outlines of walls, as SVG paths
	Lines         []Line
	Labels        []Label
	Dimensions    []Dimension
	Levels        []Level
	Bar           Bar
	Undrawn       int      // pieces without an axis
	Unnamed       []string // marks of members that are drawn and found no room for it
}

// Line is the axes of all the pieces of a member, as one SVG path.
type Line struct {
	Member int // index in Frame.Members
	Class  string
	Path   string
	Title  string
}

// Label is a member's mark, with its state where that calls for something.
type Label struct {
	Member int // index in Frame.Members
	X, Y   float64
	Class  string
	Text   string
}

// The sheet: A4 upright less the page's margins, and room around the frame for dimensions.
const (
	sheetWidth  = 180.0
	sheetHeight = 200.0
	marginLeft  = 24.0
	marginTop   = 8.0
	marginRight = 8.0
	textSize    = 2.3
)

// Plan draws the frame from above.
func Plan(f Frame) Drawing {
	d, extent := begin(f, "Plan", plan, 26)
	d.Walls = walls(f, d.View)
	d.Dimensions = dimensions(f, d.View, extent)
	d.Labels, d.Unnamed = labels(f, d.View, d.Width, d.Height, d.written())
	return d
}

// Axonometric draws the frame in space, with levels.
func Axonometric(f Frame) Drawing {
	d, extent := begin(f, "Axonometric", axonometric, 16)
	d.Levels = levels(f, d.View, extent)
	d.Labels, d.Unnamed = labels(f, d.View, d.Width, d.Height, d.written())
	return d
}

// UnnamedWords says whose marks found no room; nothing where all did.
func (d Drawing) UnnamedWords() string {
	if len(d.Unnamed) == 0 {
		return ""
	}
	return report.Counted(len(d.Unnamed), "mark") + " found no room on this drawing: " + report.Runs(d.Unnamed) + "."
}

// begin draws what both drawings have; foot is the room under the frame, for dimensions and the scale bar.
func begin(f Frame, name string, v View, foot float64) (Drawing, box) {
	v, extent := v.fit(f, sheetWidth-marginLeft-marginRight, sheetHeight-marginTop-foot, marginLeft, marginTop)
	d := Drawing{
		Name: name, View: v, Scale: v.ScaleWords(f.Units), Width: sheetWidth,
		Height: extent.bottom + foot, Bar: bar(f.Units, v, extent.left, extent.bottom+foot-5.5),
	}
	for i, m := range f.Members {
		path, missing := pathOf(m, v)
		d.Undrawn += missing
		if path != "" {
			d.Lines = append(d.Lines, Line{i, classOf(m), path, titleOf(m)})
		}
	}
	// What calls for something is drawn last, on top of the rest.
	sort.SliceStable(d.Lines, func(a, b int) bool {
		return f.Members[d.Lines[a].Member].State.rank() > f.Members[d.Lines[b].Member].State.rank()
	})
	return d, extent
}

// written is the room that dimensions and levels take.
func (d Drawing) written() rooms {
	room := rooms{}
	for _, line := range d.Dimensions {
		room.take(box{math.Min(line.X1, line.X2) - 3.2, math.Min(line.Y1, line.Y2) - 3.2, math.Max(line.X1, line.X2) + 1, math.Max(line.Y1, line.Y2) + 1})
	}
	for _, level := range d.Levels {
		room.take(box{level.X - 16, level.Y - 3, level.X + 5, level.Y + 1})
	}
	return room
}

// pathOf is the axes of a member; a piece that stands upright in the view is a square with its diagonals.
func pathOf(m Member, v View) (path string, missing int) {
	var out strings.Builder
	for _, p := range m.Pieces {
		if len(p.Axis) < 2 {
			missing++
			continue
		}
		out.WriteString(axisOf(p, v))
	}
	return out.String(), missing
}

func axisOf(p Piece, v View) string {
	var out strings.Builder
	x0, y0 := v.at(p.Axis[0])
	length := 0.0
	for i, point := range p.Axis {
		x, y := v.at(point)
		length += math.Hypot(x-x0, y-y0)
		command := "L"
		if i == 0 {
			command = "M"
		}
		out.WriteString(command + pair(x, y))
	}
	if length < 0.2 {
		const half = 1.1
		corner := "M" + pair(x0-half, y0-half)
		return corner + "h2.2v2.2h-2.2z" + corner + "l2.2 2.2m0-2.2l-2.2 2.2"
	}
	return out.String()
}

func classOf(m Member) string {
	class := "m " + m.State.Class()
	if m.Ground {
		class += " ground"
	}
	return class
}

func titleOf(m Member) string {
	parts := []string{m.Mark, m.Role}
	if size := strings.TrimSpace(m.Section + " " + m.Grade); size != "" {
		parts = append(parts, size)
	}
	return report.Clean(strings.Join(append(parts, m.State.Words()), ", "))
}

// walls outlines what has a width, in plan.
func walls(f Frame, v View) []string {
	var out []string
	for _, m := range f.Members {
		if m.Width <= 0 {
			continue
		}
		for _, p := range m.Pieces {
			for i := 1; i < len(p.Axis); i++ {
				if path := band(p.Axis[i-1], p.Axis[i], m.Width, v); path != "" {
					out = append(out, path)
				}
			}
		}
	}
	return out
}

func band(a, b model.Point, width float64, v View) string {
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	if length == 0 {
		return ""
	}
	sideX, sideY := -(b.Y-a.Y)/length*width/2, (b.X-a.X)/length*width/2
	path := ""
	for i, corner := range []model.Point{
		{X: a.X + sideX, Y: a.Y + sideY}, {X: b.X + sideX, Y: b.Y + sideY},
		{X: b.X - sideX, Y: b.Y - sideY}, {X: a.X - sideX, Y: a.Y - sideY},
	} {
		x, y := v.at(corner)
		path += string("MLLL"[i]) + pair(x, y)
	}
	return path + "z"
}
