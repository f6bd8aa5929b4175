package read

import (
	"math"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"

	"example.com/scantling/model"
)

// Write is a document as JSON in the document's units: reading it gives an equal document.
func Write(d *model.Document) []byte {
	w := &writer{units: d.Units}
	documentTable.writeTall(w, &documentDraft{Document: d})
	return append(w.out, '\n')
}

// writer lays JSON out so that people can read it: what is named has a line of its own, short things share one.
type writer struct {
	out   []byte
	units model.Units
	open  []layout
}

// layout is how one open object or list is laid out.
type layout struct {
	tall  bool // each item on a line of its own
	began bool
}

// begin opens an object or list. Within what shares a line nothing is tall.
func (w *writer) begin(bracket byte, tall bool) {
	if n := len(w.open); n > 0 && !w.open[n-1].tall {
		tall = false
	}
	w.out = append(w.out, bracket)
	w.open = append(w.open, layout{tall: tall})
}

func (w *writer) end(bracket byte) {
	last := w.open[len(w.open)-1]
	w.open = w.open[:len(w.open)-1]
	if last.tall && last.began {
		w.newLine()
	}
	w.out = append(w.out, bracket)
}

// item begins an element of a list.
func (w *writer) item() {
	l := &w.open[len(w.open)-1]
	if l.began {
		w.out = append(w.out, ',')
	}
	switch {
	case l.tall:
		w.newLine()
	case l.began:
		w.out = append(w.out, ' ')
	}
	l.began = true
}

func (w *writer) newLine() {
	w.out = append(w.out, '\n')
	for _, l := range w.open {
		if l.tall {
			w.out = append(w.out, ' ', ' ')
		}
	}
}

// key begins a member of an object.
func (w *writer) key(k string) {
	w.item()
	w.string(k)
	w.out = append(w.out, ':', ' ')
}

func (w *writer) string(s string) {
	// Text that is not UTF-8 cannot come from a document; it is written with replacement characters.
	w.out, _ = jsontext.AppendQuote(w.out, s)
}

func (w *writer) truth(b bool) { w.out = strconv.AppendBool(w.out, b) }

func (w *writer) number(v float64) { w.out = appendNumber(w.out, v) }

// amount writes a value (internal units) as a bare number of the document's units, or, where no such number gives
// exactly that value when it is read, as a text in the internal unit.
func (w *writer) amount(v float64, m model.Measure) {
	if written, ok := exactly(v, m.Size(w.units)); ok {
		w.number(written)
		return
	}
	w.string(printNumber(v) + " " + internalUnits[m.Dimension])
}

// exactly is the shortest number that gives v when it is multiplied by size.
func exactly(v, size float64) (float64, bool) {
	near := v / size
	for digits := 14; digits <= 17; digits++ {
		short, err := strconv.ParseFloat(strconv.FormatFloat(near, 'g', digits, 64), 64)
		if err == nil && short*size == v {
			return short, true
		}
	}
	for _, n := range []float64{math.Nextafter(near, math.Inf(1)), math.Nextafter(near, math.Inf(-1))} {
		if n*size == v {
			return n, true
		}
	}
	return 0, false
}

// internalUnits are the units whose size is exactly one internal unit.
var internalUnits = map[model.Dimension]string{
	model.Force: "N", model.Moment: "Nmm", model.LineLoad: "N/mm", model.Length: "mm", model.Surface: "mm2", model.Modulus: "mm3",
	model.Inertia: "mm4", model.Stress: "N/mm2", model.LineMass: "kg/mm", model.Density: "kg/mm3", model.Angle: "rad",
}

// appendNumber writes a number of common size without an exponent.
func appendNumber(out []byte, v float64) []byte {
	if size := math.Abs(v); size != 0 && (size < 1e-6 || size >= 1e15) {
		return strconv.AppendFloat(out, v, 'g', -1, 64)
	}
	return strconv.AppendFloat(out, v, 'f', -1, 64)
}
