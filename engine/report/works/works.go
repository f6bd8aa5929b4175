// Package works prints in what order a frame goes up, and what must be seen and photographed before it is taken out,
// loaded or hidden. It does not know how the order was found.
package works

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// Sheet is the order of works of one model.
type Sheet struct {
	Model  finding.Model
	Steps  []Step
	Points []Point
	Notes  []string
}

// Step is what goes on together.
type Step struct {
	Title string
	Lifts [][]string // marks, each lift in natural order; what rests on another of the step stands in a later lift
	With  []string   // small parts that belong to it: padstones, plates
}

// Point is a hold point: work waits until someone has seen it.
type Point struct {
	Step         int // that it follows, from 1
	Member, Role string
	Pieces       int
	Before       string   // what waits: "plasterboard", "it is taken out"
	In           []string // marks that must be in place first
	See          []string // what to look at and photograph
	Drawing      string
	Seen         string // who saw it, when, which photograph; empty while nobody has
}

// Marks are the marks of a step, none before what it rests on.
func (s Step) Marks() []string { return slices.Concat(s.Lifts...) }

// What is all that is to be seen, in a line.
func (p Point) What() string { return strings.Join(p.See, "; ") }

// Formats are the formats of an order of works.
var Formats = report.Formats[Sheet]{
	{Name: "json", New: func(report.Options) report.Printer[Sheet] { return jsonPrinter{} }},
	{Name: "text", New: func(report.Options) report.Printer[Sheet] { return textPrinter{} }},
}

type textPrinter struct{}

const textWidth = 80

func (textPrinter) Print(w io.Writer, s Sheet) error {
	out := &sheet{bufio.NewWriter(w)}
	out.block("", s.Model.Title)
	out.block("", "Order of works of "+s.Model.File+". Nothing goes in before all that it rests on.")
	at := 0
	for i, step := range s.Steps {
		fmt.Fprintln(out.w)
		out.block(fmt.Sprintf("%2d  ", i+1), step.Title+": "+lifts(step))
		for _, with := range step.With {
			out.block("    - ", with)
		}
		for ; at < len(s.Points) && s.Points[at].Step == i+1; at++ {
			out.point(s.Points[at])
		}
	}
	fmt.Fprintln(out.w)
	for _, note := range s.Notes {
		out.block("", note)
	}
	if len(s.Points) > 0 {
		out.block("", Photographs)
	}
	out.block("", finding.Caution)
	return out.w.Flush()
}

// lifts is the marks of a step in words.
func lifts(s Step) string {
	words := make([]string, len(s.Lifts))
	for i, marks := range s.Lifts {
		words[i] = report.Runs(marks)
	}
	return strings.Join(words, "; then ")
}

// Photographs says how evidence is taken.
const Photographs = "Photograph each thing to be seen, with its mark and a tape in the picture, and write down who saw it and when."

type sheet struct{ w *bufio.Writer }

// point prints a hold point with a box to tick.
func (s *sheet) point(p Point) {
	box := "[ ]"
	if p.Seen != "" {
		box = "[x]"
	}
	name := p.Member
	if p.Pieces > 1 {
		name += ", " + report.Counted(p.Pieces, "piece")
	}
	s.block("    "+box+" ", fmt.Sprintf("Hold. See %s (%s) before %s", name, p.Role, p.Before))
	const under = "          "
	if len(p.In) > 0 {
		s.block(under+"in first: ", report.Runs(p.In))
	}
	for _, see := range p.See {
		s.block(under+"- ", see)
	}
	if p.Drawing != "" {
		s.block(under, "drawing "+p.Drawing)
	}
	if p.Seen != "" {
		s.block(under, "seen: "+p.Seen)
	}
}

// block prints text behind a lead, further lines as far in as the first.
func (s *sheet) block(lead, text string) {
	for _, line := range report.Wrap(text, textWidth-len(lead)) {
		fmt.Fprintln(s.w, lead+line)
		lead = strings.Repeat(" ", len(lead))
	}
}

type jsonPrinter struct{}

type jsonSheet struct {
	Steps   []jsonStep  `json:"steps"`
	Points  []jsonPoint `json:"hold_points"`
	Notes   []string    `json:"notes"`
	Caution string      `json:"caution"`
}

type jsonStep struct {
	Step    int      `json:"step"`
	Title   string   `json:"title"`
	Members []string `json:"members"`
	With    []string `json:"with"`
}

type jsonPoint struct {
	Step    int      `json:"step"`
	Member  string   `json:"member"`
	Pieces  int      `json:"pieces"`
	Before  string   `json:"before"`
	In      []string `json:"in"`
	See     []string `json:"see"`
	Drawing string   `json:"drawing,omitempty"`
	Seen    string   `json:"seen,omitempty"`
}

func (jsonPrinter) Print(w io.Writer, s Sheet) error {
	out := jsonSheet{Steps: []jsonStep{}, Points: []jsonPoint{}, Notes: append([]string{}, s.Notes...), Caution: finding.Caution}
	for i, step := range s.Steps {
		out.Steps = append(out.Steps, jsonStep{i + 1, step.Title, append([]string{}, step.Marks()...), append([]string{}, step.With...)})
	}
	for _, p := range s.Points {
		out.Points = append(out.Points, jsonPoint{p.Step, p.Member, p.Pieces, p.Before, append([]string{}, p.In...), append([]string{}, p.See...), p.Drawing, p.Seen})
	}
	return report.WriteJSON(w, out)
}
