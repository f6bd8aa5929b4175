package draw

import (
	"fmt"
	"io"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
)

// Trace asks where the load of one member goes, and what rests on it.
type Trace struct {
	Model finding.Model
	Frame Frame
	Mark  string
}

// Traces are the drawings of a trace; what is said of it in words and data is in report/trace.
var Traces = report.Formats[Trace]{
	{Name: "dot", New: func(report.Options) report.Printer[Trace] { return dotPrinter{} }},
	{Name: "svg", New: func(report.Options) report.Printer[Trace] { return tracedSVG{} }},
}

// member is the traced member; ok is false if the frame has none of that mark.
func (t Trace) member() (m Member, ok bool) {
	for _, m := range t.Frame.Members {
		if m.Mark == t.Mark {
			return m, true
		}
	}
	return Member{}, false
}

// allWords says what the figure of a hop is.
const allWords = "Each figure is all that passes there, from other members too."

// flowWords is a flow in a line: "B2 to PO1: dead 3.1 kN, snow 1.2 kN".
func flowWords(flow Flow, f Frame) string {
	text := flow.From + " to " + flow.To
	if len(flow.Hops) > 1 {
		text += fmt.Sprintf(" (%d places)", len(flow.Hops))
	}
	return text + ": " + loadWords(flow.Load, f)
}

func loadWords(load []float64, f Frame) string {
	var parts []string
	for i, v := range load {
		if v > 1e-3 || v < -1e-3 {
			parts = append(parts, report.CaseWords(f.Cases[i])+" "+model.Format(v, model.Force, f.Units))
		}
	}
	if len(parts) == 0 {
		return "no load"
	}
	return strings.Join(parts, ", ")
}

// tracedSVG draws the frame in space with the way of the load; numbers at the hops are those of the list underneath.
type tracedSVG struct{}

func (tracedSVG) Print(w io.Writer, t Trace) error {
	path := PathOf(t.Frame, t.Mark)
	d := Axonometric(t.Frame)
	d.Labels, d.Unnamed = nil, nil // only those that the path touches are named
	way := way{frame: t.Frame, view: d.View, met: map[string]bool{t.Mark: true}, pieces: map[string]Piece{}, taken: rooms{}}
	for _, m := range t.Frame.Members {
		for _, p := range m.Pieces {
			way.pieces[p.Name] = p
		}
	}
	over := Over{Faint: true}
	if m, ok := t.member(); ok {
		over.Picked, _ = pathOf(m, d.View)
	}
	over.Down = way.lit(path.Down, func(h Hop) string { return h.To })
	over.Up = way.lit(path.Up, func(h Hop) string { return h.From })
	way.name(&d)
	notes := way.list("Down to ground, the heavy line:", path.Down)
	way.name(&d)
	notes = append(notes, way.list("Resting on it, the broken line:", path.Up)...)
	way.name(&d)
	over.Bubbles = way.bubbles
	return write(w, "Load path of "+t.Mark+": "+t.Model.Title, t.Frame, d, over, append(notes, allWords))
}

// way gathers what is drawn of a load path.
type way struct {
	frame   Frame
	view    View
	pieces  map[string]Piece
	met     map[string]bool // marks that the path touches and that are still to be named
	bubbles []Bubble
	taken   rooms
}

// lit is the axes of the pieces at one end of the hops.
func (w *way) lit(hops []int, end func(Hop) string) string {
	var out strings.Builder
	seen := map[string]bool{}
	for _, i := range hops {
		if name := end(w.frame.Hops[i]); !seen[name] && len(w.pieces[name].Axis) > 1 {
			seen[name] = true
			out.WriteString(axisOf(w.pieces[name], w.view))
		}
	}
	return out.String()
}

// list numbers the flows and sets a bubble at the middle hop of each, beside the others.
func (w *way) list(title string, hops []int) []string {
	var notes []string
	for _, flow := range Flows(w.frame, hops) {
		for _, mark := range []string{flow.From, flow.To} {
			if _, named := w.met[mark]; !named {
				w.met[mark] = true
			}
		}
		x, y := w.beside(w.view.at(w.frame.Hops[flow.Hops[len(flow.Hops)/2]].At))
		w.bubbles = append(w.bubbles, Bubble{x, y, len(w.bubbles) + 1})
		notes = append(notes, fmt.Sprintf("%d  %s", len(w.bubbles), flowWords(flow, w.frame)))
	}
	if len(notes) == 0 {
		return nil
	}
	return append([]string{title}, notes...)
}

// beside is the free place for a bubble that is nearest to its own; its own where none is free.
func (w *way) beside(x, y float64) (float64, float64) {
	for away := 0.0; away <= 12; away += 1.5 {
		for _, side := range [][2]float64{{1, 0}, {0, -1}, {-1, 0}, {0, 1}, {1, -1}, {-1, -1}, {-1, 1}, {1, 1}} {
			if x, y := x+away*side[0], y+away*side[1]; w.taken.take(box{x - 2, y - 2, x + 2, y + 2}) {
				return x, y
			}
		}
	}
	return x, y
}

// name labels the members that the path has met since it was called last, before further bubbles take their room.
func (w *way) name(d *Drawing) {
	f := w.frame
	f.Members = nil
	for _, m := range w.frame.Members {
		if w.met[m.Mark] {
			w.met[m.Mark] = false
			f.Members = append(f.Members, m)
		}
	}
	written, left := labels(f, d.View, d.Width, d.Height, w.taken)
	d.Labels, d.Unnamed = append(d.Labels, written...), append(d.Unnamed, left...)
}
