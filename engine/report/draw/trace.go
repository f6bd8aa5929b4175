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

// Traces are the formats of a trace.
var Traces = report.Formats[Trace]{
	{Name: "dot", New: func(report.Options) report.Printer[Trace] { return dotPrinter{} }},
	{Name: "json", New: func(report.Options) report.Printer[Trace] { return tracedJSON{} }},
	{Name: "svg", New: func(report.Options) report.Printer[Trace] { return tracedSVG{} }},
	{Name: "text", New: func(report.Options) report.Printer[Trace] { return tracedText{} }},
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

// tracedText prints the hops a line each, in the units of the document.
type tracedText struct{}

func (tracedText) Print(w io.Writer, t Trace) error {
	path := PathOf(t.Frame, t.Mark)
	var out strings.Builder
	para := func(lead, text string) {
		for _, line := range report.Wrap(text, 80-len(lead)) {
			fmt.Fprintf(&out, "%s%s\n", lead, line)
			lead = strings.Repeat(" ", len(lead))
		}
	}
	m, ok := t.member()
	if !ok {
		para("", "There is no member "+t.Mark+".")
	} else {
		para("", titleOf(m))
	}
	list := func(title, none string, hops []int) {
		fmt.Fprintln(&out)
		para("", title)
		for i, flow := range Flows(t.Frame, hops) {
			para(fmt.Sprintf("%4d  ", i+1), flowWords(flow, t.Frame))
		}
		if len(hops) == 0 {
			para("      ", none)
		}
	}
	list("Its load goes down by:", "nothing that is stated", path.Down)
	list("On it rest:", "nothing", path.Up)
	fmt.Fprintln(&out)
	para("", allWords)
	fmt.Fprintln(&out)
	para("", finding.Caution)
	_, err := io.WriteString(w, out.String())
	return err
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
			parts = append(parts, f.Cases[i]+" "+model.Format(v, model.Force, f.Units))
		}
	}
	if len(parts) == 0 {
		return "no load"
	}
	return strings.Join(parts, ", ")
}

// tracedJSON prints the hops of members in kN.
type tracedJSON struct{}

type jsonFlow struct {
	From  string                   `json:"from"`
	To    string                   `json:"to"`
	Count int                      `json:"count"`
	Load  map[string]report.Number `json:"load"`
}

func (tracedJSON) Print(w io.Writer, t Trace) error {
	path := PathOf(t.Frame, t.Mark)
	flows := func(hops []int) []jsonFlow {
		out := []jsonFlow{}
		for _, flow := range Flows(t.Frame, hops) {
			load := map[string]report.Number{}
			for i, v := range flow.Load {
				load[t.Frame.Cases[i]] = report.KN(v)
			}
			out = append(out, jsonFlow{flow.From, flow.To, len(flow.Hops), load})
		}
		return out
	}
	return report.WriteJSON(w, struct {
		Member  string     `json:"member"`
		Down    []jsonFlow `json:"down"`
		Up      []jsonFlow `json:"up"`
		Caution string     `json:"caution"`
	}{t.Mark, flows(path.Down), flows(path.Up), finding.Caution})
}

// tracedSVG draws the frame in space with the way of the load; numbers at the hops are those of the list underneath.
type tracedSVG struct{}

func (tracedSVG) Print(w io.Writer, t Trace) error {
	path := PathOf(t.Frame, t.Mark)
	d := Axonometric(t.Frame)
	way := way{frame: t.Frame, view: d.View, involved: map[string]bool{t.Mark: true}, pieces: map[string]Piece{}, taken: rooms{}}
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
	notes := way.list("Down to ground, the heavy line:", path.Down)
	notes = append(notes, way.list("Resting on it, the broken line:", path.Up)...)
	over.Bubbles = way.bubbles
	d.Labels = labels(way.of(), d.View, d.Width, d.Height, way.taken)
	return write(w, "Load path of "+t.Mark+": "+t.Model.Title, t.Frame, d, over, append(notes, allWords, finding.Caution))
}

// way gathers what is drawn of a load path.
type way struct {
	frame    Frame
	view     View
	pieces   map[string]Piece
	involved map[string]bool // marks
	bubbles  []Bubble
	taken    rooms
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
		w.involved[flow.From], w.involved[flow.To] = true, true
		x, y := w.view.at(w.frame.Hops[flow.Hops[len(flow.Hops)/2]].At)
		for tries := 0; tries < 6 && !w.taken.take(box{x - 2, y - 2, x + 2, y + 2}); tries++ {
			x += 1.5
		}
		w.bubbles = append(w.bubbles, Bubble{x, y, len(w.bubbles) + 1})
		notes = append(notes, fmt.Sprintf("%d  %s", len(w.bubbles), flowWords(flow, w.frame)))
	}
	if len(notes) == 0 {
		return nil
	}
	return append([]string{title}, notes...)
}

// of is the frame of those members alone that the path touches.
func (w *way) of() Frame {
	out := w.frame
	out.Members = nil
	for _, m := range w.frame.Members {
		if w.involved[m.Mark] {
			out.Members = append(out.Members, m)
		}
	}
	return out
}
