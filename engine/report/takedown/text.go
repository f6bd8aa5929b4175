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
		if head != s.Listing.Cases[i] {
			out.para(head + ": " + s.Listing.Cases[i])
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

// row is a line of a table, a figure a case; nil means that there is none.
type row struct {
	words string
	cells []string
}

func (s *sheet) signs() string {
	lengths := "places and deflections in mm"
	if s.Units == model.US {
		lengths = "places in feet and inches, deflections in inches"
	}
	return fmt.Sprintf("Forces in %s, moments in %s, %s. Reactions push up, sagging moments and tension are positive, deflections "+
		"go down.", model.MeasureForce.Unit(s.Units), model.MeasureMoment.Unit(s.Units), lengths)
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
	rows := []row{{"own load", s.forces(a.Applied)}}
	for _, from := range arrivals {
		rows = append(rows, row{arrivalWords(from), s.forces(from.Vertical)})
	}
	for _, support := range a.Supports {
		at := fmt.Sprintf("%s at %s", support.On, s.Place(support.At))
		rows = append(rows, row{"held up by " + at, s.forces(support.Vertical)})
		if pushes(support.Horizontal) {
			rows = append(rows, row{"pushed by " + at, s.forces(support.Horizontal)})
		}
		if pushes(support.Across) {
			rows = append(rows, row{"pushed across by " + at, s.forces(support.Across)})
		}
	}
	if pushes(a.HeadPush) {
		rows = append(rows, row{"pushed at its head by what it props", s.forces(a.HeadPush)})
	}
	rows = append(rows, s.extremes("moment", a.Moment, s.Moment)...)
	rows = append(rows, s.extremes("shear", a.Shear, s.Force)...)
	if acts(a.Axial) {
		rows = append(rows, s.extremes("axial force", a.Axial, s.Force)...)
	}
	rows = append(rows, s.extremes("deflection", a.Deflection, s.Deflection)...)
	if len(a.Roller) > 0 {
		rows = append(rows, row{"its free end slides", each(a.Roller, s.Deflection)})
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
		rows = append(rows, row{arrivalWords(from), s.forces(from.Vertical)})
	}
	rows = append(rows, row{"arrived in all", s.forces(g.Total)})
	if pushes(g.X) {
		rows = append(rows, row{"pushed along x", s.forces(g.X)})
	}
	if pushes(g.Y) {
		rows = append(rows, row{"pushed along y", s.forces(g.Y)})
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
		rows = append(rows, row{i.Piece + ": before", s.forces(i.Before)}, row{"after", s.forces(i.After)},
			row{"more", s.forces(more)}, row{"more, in per cent", share})
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
	rows := []row{{"applied", s.forces(l.Applied)}, {"arrived at ground", s.forces(arrived)}}
	if pushes(l.Unresolved) {
		rows = append(rows, row{"unresolved", s.forces(l.Unresolved)})
	}
	s.table(rows)
	s.para(fmt.Sprintf("The largest imbalance, of any case and direction, is %s of what was applied.",
		strconv.FormatFloat(l.Imbalance, 'g', 2, 64)))
}

// table prints the rows, five cases at a time.
func (s *sheet) table(rows []row) {
	for first := 0; first < len(s.cases); first += casesAcross {
		last := min(first+casesAcross, len(s.cases))
		s.line(left(nil, "", wordsWidth), s.cases[first:last])
		for _, r := range rows {
			if len(r.cells) == 0 {
				continue
			}
			lines := report.Wrap(r.words, wordsWidth-2)
			for i, words := range lines {
				start, cells := left([]byte("  "), words, wordsWidth-2), r.cells[first:last]
				if i < len(lines)-1 {
					cells = nil
				}
				s.line(start, cells)
			}
		}
	}
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

// extremes are the largest and the smallest value with their places; the smallest is left out where it is nothing.
func (s *sheet) extremes(what string, list []statics.Range, print func(float64) string) []row {
	if len(list) == 0 {
		return nil
	}
	var most, mostAt, least, leastAt []string
	some := false
	for _, r := range list {
		most, mostAt = append(most, print(r.Max)), append(mostAt, s.Place(r.MaxAt))
		least, leastAt = append(least, print(r.Min)), append(leastAt, s.Place(r.MinAt))
		some = some || print(r.Min) != print(0)
	}
	rows := []row{{what + ", largest", most}, {"  at", mostAt}}
	if some {
		rows = append(rows, row{what + ", smallest", least}, row{"  at", leastAt})
	}
	return rows
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

func acts(list []statics.Range) bool {
	for _, r := range list {
		if pushes([]float64{r.Max, r.Min}) {
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
		heads[i] = report.Clean(name)
		long = long || utf8.RuneCountInString(heads[i]) >= caseWidth
	}
	if long {
		for i := range heads {
			heads[i] = fmt.Sprintf("case %d", i+1)
		}
	}
	return heads
}
