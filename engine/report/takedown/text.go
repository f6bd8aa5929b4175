package takedown

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// textPrinter prints a take-down that can be followed by hand: for each member its own load, what lands on it, what
// holds it up, then moment, shear and deflection, a column a load case. Pieces that are alike stand once.
type textPrinter struct{}

// A table of 80 columns has room for five cases beside the words; further cases follow underneath.
const (
	wordsWidth  = 30
	caseWidth   = 10
	casesAcross = 5
	textWidth   = wordsWidth + caseWidth*casesAcross
)

func (textPrinter) Print(w io.Writer, s Sheet) error {
	out := &sheet{bufio.NewWriter(w), Figures{report.Units(s.Model)}, heads(s.Listing.Cases)}
	out.para(s.Model.Title)
	out.para("Take-down of " + s.Model.File + ". " + out.signs())
	for i, head := range out.cases {
		if name := report.CaseWords(s.Listing.Cases[i]); head != name {
			out.para(head + ": " + name)
		}
	}
	arrivals := Arrivals(s.Listing)
	for _, m := range s.Listing.Members {
		for _, alike := range Group(m) {
			out.member(m, alike, arrivals[alike.Piece])
		}
	}
	for _, g := range s.Listing.Ground {
		out.ground(g)
	}
	out.increases(s.Listing.Increases)
	out.balance(s.Listing)
	for _, note := range s.Listing.Notes {
		out.para(note)
	}
	fmt.Fprintln(out.w)
	out.para(finding.Caution)
	return out.w.Flush()
}

// sheet writes in the units of the document.
type sheet struct {
	w *bufio.Writer
	Figures
	cases []string
}

// row is a line of a table, a figure a case, with the place of each underneath where it has one.
type row struct {
	words string
	cells []string
	at    []string
}

func (s *sheet) signs() string {
	lengths := "places and deflections in mm"
	if s.Units == model.US {
		lengths = "places in feet and inches, deflections in inches"
	}
	return fmt.Sprintf("Forces in %s, moments in %s, %s. Reactions push up, sagging moments and tension are positive, deflections "+
		"go down. What is nothing in all the cases that stand side by side is left out.", model.MeasureForce.Unit(s.Units), model.MeasureMoment.Unit(s.Units), lengths)
}

func (s *sheet) member(m statics.ListedMember, a Alike, arrivals []Arrival) {
	about := m.Role
	for _, more := range []string{strings.TrimSpace(m.Section + " " + m.Grade), model.Format(a.Length, model.Length, s.Units) + " long"} {
		if more != "" {
			about += ", " + more
		}
	}
	title := m.Mark + ": " + about
	if len(m.Pieces) > 1 {
		title += "; " + a.Title()
	}
	fmt.Fprintln(s.w)
	s.para(title)
	rows := []row{{words: "own load", cells: s.forces(a.Applied)}}
	for _, from := range arrivals {
		rows = append(rows, row{words: arrivalWords(from), cells: s.forces(from.Vertical)})
	}
	for _, support := range a.Supports {
		at := fmt.Sprintf("%s at %s", support.On, s.Place(support.At))
		rows = append(rows, row{words: "held up by " + at, cells: s.forces(support.Vertical)})
		if pushes(support.Horizontal) {
			rows = append(rows, row{words: "pushed by " + at, cells: s.forces(support.Horizontal)})
		}
		if pushes(support.Across) {
			rows = append(rows, row{words: "pushed across by " + at, cells: s.forces(support.Across)})
		}
	}
	if pushes(a.HeadPush) {
		rows = append(rows, row{words: "pushed at its head by what it props", cells: s.forces(a.HeadPush)})
	}
	rows = append(rows, s.extremes("moment", a.Moment, s.Moment)...)
	rows = append(rows, s.extremes("shear", a.Shear, s.Force)...)
	rows = append(rows, s.extremes("axial force", a.Axial, s.Force)...)
	rows = append(rows, s.extremes("deflection", a.Deflection, s.Deflection)...)
	if len(a.Roller) > 0 {
		rows = append(rows, row{words: "its free end slides", cells: each(a.Roller, s.Deflection)})
	}
	s.table(rows)
	if a.Unsolved != "" {
		s.para("No reactions: " + a.Unsolved + ". Its load stops here and stands as unresolved.")
	}
	if a.NoStiff != "" {
		s.para("No deflection: " + a.NoStiff + ".")
	}
}

func (s *sheet) ground(g statics.Arrived) {
	fmt.Fprintln(s.w)
	s.para("Ground at " + g.Mark)
	var rows []row
	for _, from := range Landings(g) {
		rows = append(rows, row{words: arrivalWords(from), cells: s.forces(from.Vertical)})
	}
	rows = append(rows, row{words: "arrived in all", cells: s.forces(g.Total)})
	if pushes(g.X) {
		rows = append(rows, row{words: "pushed along x", cells: s.forces(g.X)})
	}
	if pushes(g.Y) {
		rows = append(rows, row{words: "pushed along y", cells: s.forces(g.Y)})
	}
	s.table(rows)
}

// increases are the members that stood before the work and carry more after it.
func (s *sheet) increases(list []statics.Increase) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintln(s.w)
	s.para("More than before the work")
	var rows []row
	for _, i := range list {
		more, share := make([]float64, len(i.After)), make([]string, len(i.After))
		for c := range more {
			more[c] = i.After[c] - i.Before[c]
			share[c] = "-"
			if ratio, known := i.Ratio(c); known {
				share[c] = strconv.FormatFloat(100*ratio, 'f', 0, 64)
			}
		}
		rows = append(rows, row{words: i.Piece + ": before", cells: s.forces(i.Before)}, row{words: "after", cells: s.forces(i.After)},
			row{words: "more", cells: s.forces(more)}, row{words: "more, in per cent", cells: share})
	}
	s.table(rows)
}

func (s *sheet) balance(l statics.Listing) {
	fmt.Fprintln(s.w)
	s.para("Balance")
	arrived := make([]float64, len(l.Cases))
	for _, g := range l.Ground {
		for i, v := range g.Total {
			arrived[i] += v
		}
	}
	rows := []row{{words: "applied", cells: s.forces(l.Applied)}, {words: "arrived at ground", cells: s.forces(arrived)}}
	if pushes(l.Unresolved) {
		rows = append(rows, row{words: "unresolved", cells: s.forces(l.Unresolved)})
	}
	s.table(rows)
	s.para(fmt.Sprintf("The largest imbalance, of any case and direction, is %s of what was applied.",
		strconv.FormatFloat(l.Imbalance, 'g', 2, 64)))
}

// table prints the rows, five cases at a time. A row that has nothing in those is left out of them.
func (s *sheet) table(rows []row) {
	some := false
	for first := 0; first < len(s.cases); first += casesAcross {
		last := min(first+casesAcross, len(s.cases))
		shown := slices.DeleteFunc(slices.Clone(rows), func(r row) bool { return len(r.cells) == 0 || nothing(r.cells[first:last]) })
		if len(shown) == 0 {
			continue
		}
		some = true
		s.line(left(nil, "", wordsWidth), s.cases[first:last])
		for _, r := range shown {
			lines := report.Wrap(r.words, wordsWidth-2)
			for i, words := range lines {
				start, cells := left([]byte("  "), words, wordsWidth-2), r.cells[first:last]
				if i < len(lines)-1 {
					cells = nil
				}
				s.line(start, cells)
			}
			if r.at != nil {
				s.line(left([]byte("  "), "  at", wordsWidth-2), r.at[first:last])
			}
		}
	}
	if !some {
		fmt.Fprintln(s.w, "  nothing in any case")
	}
}

// nothing says whether all cells are noughts.
func nothing(cells []string) bool {
	return !slices.ContainsFunc(cells, func(cell string) bool { return strings.Trim(cell, "-0.") != "" })
}

// line prints cells after the words of their row.
func (s *sheet) line(words []byte, cells []string) {
	for _, cell := range cells {
		words = append(spaces(words, caseWidth-utf8.RuneCountInString(cell)), cell...)
	}
	_, _ = s.w.Write(bytes.TrimRight(words, " "))
	_ = s.w.WriteByte('\n')
}

// left appends a text and fills up its width.
func left(line []byte, text string, width int) []byte {
	line = slices.Grow(line, textWidth)
	return spaces(append(line, text...), width-utf8.RuneCountInString(text))
}

func spaces(line []byte, n int) []byte {
	for range n {
		line = append(line, ' ')
	}
	return line
}

func (s *sheet) para(text string) {
	for _, line := range report.Wrap(text, textWidth) {
		fmt.Fprintln(s.w, line)
	}
}

// extremes are the largest and the smallest value, each with its place where it is any.
func (s *sheet) extremes(what string, list []statics.Range, print func(float64) string) []row {
	if len(list) == 0 {
		return nil
	}
	largest, smallest := row{words: what + ", largest"}, row{words: what + ", smallest"}
	for _, r := range list {
		s.extreme(&largest, print(r.Max), r.MaxAt)
		s.extreme(&smallest, print(r.Min), r.MinAt)
	}
	return []row{largest, smallest}
}

func (s *sheet) extreme(r *row, value string, at float64) {
	place := ""
	if !nothing([]string{value}) {
		place = s.Place(at)
	}
	r.cells, r.at = append(r.cells, value), append(r.at, place)
}

func (s *sheet) forces(values []float64) []string { return each(values, s.Force) }

func each(values []float64, print func(float64) string) []string {
	cells := make([]string, len(values))
	for i, v := range values {
		cells[i] = print(v)
	}
	return cells
}

func arrivalWords(a Arrival) string {
	if a.Count == 1 {
		return "from " + a.Mark
	}
	return fmt.Sprintf("from %s (%d places)", a.Mark, a.Count)
}

// pushes tells whether any of the forces (N) is more than rounding.
func pushes(forces []float64) bool {
	for _, v := range forces {
		if v > 1e-3 || v < -1e-3 {
			return true
		}
	}
	return false
}

// heads are what stands above the columns: the names of the cases, or their numbers where one of them is too long.
func heads(cases []string) []string {
	heads := make([]string, len(cases))
	long := false
	for i, name := range cases {
		heads[i] = report.CaseWords(name)
		long = long || utf8.RuneCountInString(heads[i]) >= caseWidth
	}
	if long {
		for i := range heads {
			heads[i] = fmt.Sprintf("case %d", i+1)
		}
	}
	return heads
}
