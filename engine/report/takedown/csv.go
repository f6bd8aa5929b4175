package takedown

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/statics"
)

// csvPrinter prints one figure a row, every piece, in kN, kNm and mm; the last row is the caution. A text that a
// spreadsheet would take for a formula gets an apostrophe in front.
type csvPrinter struct{}

func (csvPrinter) Print(w io.Writer, s Sheet) error {
	out := &table{csv.NewWriter(w), s.Listing.Cases}
	out.row("member", "piece", "what", "on", "at_mm", "case", "value", "unit")
	for _, m := range s.Listing.Members {
		for _, p := range m.Pieces {
			out.piece(m.Mark, p)
		}
	}
	for _, g := range s.Listing.Ground {
		out.forces(g.Mark, "", "arrived at ground", "", "", g.Total)
		if pushes(g.X) || pushes(g.Y) {
			out.forces(g.Mark, "", "arrived at ground, along x", "", "", g.X)
			out.forces(g.Mark, "", "arrived at ground, along y", "", "", g.Y)
		}
	}
	for _, i := range s.Listing.Increases {
		mark, _, _ := strings.Cut(i.Piece, "#")
		out.forces(mark, i.Piece, "load before the work", "", "", i.Before)
		out.forces(mark, i.Piece, "load after the work", "", "", i.After)
	}
	out.forces("", "", "applied", "", "", s.Listing.Applied)
	out.forces("", "", "unresolved", "", "", s.Listing.Unresolved)
	for _, note := range s.Listing.Notes {
		out.row("", "", "note", "", "", "", note, "")
	}
	out.row("", "", "caution", "", "", "", finding.Caution, "")
	out.w.Flush()
	return out.w.Error()
}

// table writes rows; its writer keeps the first error.
type table struct {
	w     *csv.Writer
	cases []string
}

func (t *table) piece(mark string, p statics.ListedPiece) {
	t.forces(mark, p.Piece, "own load", "", "", p.Applied)
	for _, s := range p.Supports {
		t.forces(mark, p.Piece, "reaction up", s.On, digits(s.At), s.Vertical)
		t.forces(mark, p.Piece, "push along", s.On, digits(s.At), s.Horizontal)
		if pushes(s.Across) {
			t.forces(mark, p.Piece, "push across", s.On, digits(s.At), s.Across)
		}
	}
	t.ranges(mark, p.Piece, "moment", p.Moment, 1e6, "kNm")
	t.ranges(mark, p.Piece, "shear", p.Shear, 1e3, "kN")
	t.ranges(mark, p.Piece, "axial", p.Axial, 1e3, "kN")
	t.ranges(mark, p.Piece, "deflection", p.Deflection, 1, "mm")
	if len(p.HeadPush) > 0 {
		t.forces(mark, p.Piece, "push at its head", "", "", p.HeadPush)
	}
	for i, v := range p.Roller {
		t.row(mark, p.Piece, "free end slides", "", "", t.cases[i], digits(clean(v)), "mm")
	}
	if p.Unsolved != "" {
		t.row(mark, p.Piece, "unsolved", "", "", "", p.Unsolved, "")
	}
	if p.NoStiff != "" {
		t.row(mark, p.Piece, "no deflection", "", "", "", p.NoStiff, "")
	}
}

func (t *table) forces(mark, piece, what, on, at string, forces []float64) {
	for i, v := range forces {
		t.row(mark, piece, what, on, at, t.cases[i], digits(clean(v)/1e3), "kN")
	}
}

func (t *table) ranges(mark, piece, what string, list []statics.Range, size float64, unit string) {
	for i, r := range list {
		t.row(mark, piece, what+", largest", "", digits(r.MaxAt), t.cases[i], digits(clean(r.Max)/size), unit)
		t.row(mark, piece, what+", smallest", "", digits(r.MinAt), t.cases[i], digits(clean(r.Min)/size), unit)
	}
}

// row writes a row; the columns of figures (at and value) are numbers or our own words.
func (t *table) row(cells ...string) {
	for i, cell := range cells {
		cell = report.Clean(cell)
		if _, err := strconv.ParseFloat(cell, 64); err != nil && cell != "" && strings.ContainsRune("=+-@", rune(cell[0])) {
			cell = "'" + cell
		}
		cells[i] = cell
	}
	_ = t.w.Write(cells) // kept and given by Error
}

// digits prints ten significant digits, as JSON does.
func digits(v float64) string {
	text, err := report.Number(v).MarshalJSON()
	if err != nil || string(text) == "null" {
		return ""
	}
	return string(text)
}
