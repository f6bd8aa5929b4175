package draw

import (
	"io"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// Framed is a frame with the model that it is of.
type Framed struct {
	Model finding.Model
	Frame Frame
}

// Sheets are the drawings as files of their own, by name.
var Sheets = report.Formats[Framed]{
	{Name: "axonometric", New: func(report.Options) report.Printer[Framed] { return sheet{Axonometric} }},
	{Name: "plan", New: func(report.Options) report.Printer[Framed] { return sheet{Plan} }},
}

type sheet struct{ draw func(Frame) Drawing }

func (s sheet) Print(w io.Writer, f Framed) error {
	d := s.draw(f.Frame)
	return write(w, d.Name+": "+f.Model.Title, f.Frame, d, Over{}, nil)
}
