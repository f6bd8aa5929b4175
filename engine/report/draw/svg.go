package draw

import (
	_ "embed"
	"html/template"
	"io"
	"sync"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

//go:embed drawing.svg
var drawingSource string

//go:embed drawing.css
var drawingStyle string

// Style is how the drawings look, for a page that holds them.
func Style() string { return drawingStyle }

// Templates holds "drawing", which draws a Drawing as an SVG element without its style, and "sheet", which makes a file
// of it. All text is escaped by html/template. Each call reads them anew, so that others can build on theirs.
func Templates() *template.Template {
	return template.Must(template.New("draw").Funcs(template.FuncMap{
		"add": func(a, b float64) float64 { return a + b },
		"num": num,
	}).Parse(drawingSource))
}

// own is the templates of this package, read when the first sheet is printed: most runs draw nothing.
var own = sync.OnceValue(Templates)

// Sheet is a drawing as a file of its own.
type Sheet struct {
	Title   string
	Drawing Drawing
	Legend  []Legend
	Notes   []Note
	Over    Over
	Height  float64 // with the legend and the notes
	Style   template.CSS
}

// Note is a line of text under a drawing.
type Note struct {
	Y    float64
	Text string
}

// Over is what lies on top of a drawing: the way of a load.
type Over struct {
	Faint            bool // the rest stands back
	Picked, Down, Up string
	Bubbles          []Bubble
}

// Bubble is a number beside a place that a list explains.
type Bubble struct {
	X, Y   float64
	Number int
}

// Legend is one state with its line.
type Legend struct {
	Class, Words string
	Count        int
	Y            float64
}

// LegendOf counts the members of a frame by state; states without a member are left out.
func LegendOf(f Frame) []Legend {
	var out []Legend
	for _, s := range States {
		count := 0
		for _, m := range f.Members {
			if m.State == s {
				count++
			}
		}
		if count > 0 {
			out = append(out, Legend{Class: s.Class(), Words: s.Words(), Count: count})
		}
	}
	return out
}

// write makes a file of a drawing, with its legend and notes underneath, whose marks found no room, and the caution.
func write(w io.Writer, title string, f Frame, d Drawing, over Over, notes []string) error {
	s := Sheet{Title: report.Clean(title), Drawing: d, Over: over, Legend: LegendOf(f), Style: template.CSS(drawingStyle)}
	if over.Faint {
		s.Legend = nil
	}
	y := d.Height + 4
	for i := range s.Legend {
		s.Legend[i].Y = y
		y += 4
	}
	y += 4
	if unnamed := d.UnnamedWords(); unnamed != "" {
		notes = append(notes, unnamed)
	}
	for _, note := range append(notes, finding.Caution) {
		for _, line := range report.Wrap(note, 130) {
			s.Notes = append(s.Notes, Note{y, line})
			y += 3.4
		}
	}
	s.Height = y + 3
	return own().ExecuteTemplate(w, "sheet", s)
}
