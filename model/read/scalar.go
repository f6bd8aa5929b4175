package read

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/scantling/model"
)

// longestText bounds a note, in bytes.
const longestText = 10_000

// words is a text for people.
var words = value[string]{
	read: func(r *reader, s *string) {
		if text, _, ok := r.text("a text", "it in quotes"); ok {
			*s = string(text)
		}
	},
	write: func(w *writer, s *string) { w.string(*s) },
	empty: func(s *string) bool { return *s == "" },
	form:  &Form{Kind: Text},
}

// name is a text that comes many times, kept once.
var name = nameOf[string]()

func nameOf[S ~string](known ...string) value[S] {
	return value[S]{
		read: func(r *reader, s *S) {
			text, offset, ok := r.text("a name", "it in quotes")
			switch {
			case !ok:
			case len(text) == 0:
				r.problem(offset, "an empty text says nothing", "leave the key out, or name what is meant")
			default:
				*s = S(r.intern(text))
			}
		},
		write: func(w *writer, s *S) { w.string(string(*s)) },
		empty: func(s *S) bool { return *s == "" },
		form:  &Form{Kind: Text, Values: known},
	}
}

// text reads a text; the bytes hold until the next read.
func (r *reader) text(wanted, example string) (text []byte, offset int64, ok bool) {
	if r.peek() != '"' {
		r.wrongKind(wanted, example)
		return nil, 0, false
	}
	raw, ok := r.scalar()
	if !ok {
		return nil, 0, false
	}
	offset = r.dec.InputOffset() - int64(len(raw))
	text = unquote(raw)
	if len(text) > longestText {
		r.problem(offset, fmt.Sprintf("this text has %d bytes", len(text)), fmt.Sprintf("keep texts below %d bytes", longestText))
		return nil, 0, false
	}
	return text, offset, true
}

// option is one of a few texts, each standing for a value of V. The first stands for the zero value where zero is
// true, and is then not written.
type option[V comparable] struct {
	text  string
	value V
}

// choice is a text out of a few.
func choice[V comparable](options ...option[V]) value[V] {
	texts := make([]string, len(options))
	for i, o := range options {
		texts[i] = o.text
	}
	var zero V
	return value[V]{
		read: func(r *reader, v *V) {
			text, offset, ok := r.text("a word", strconv.Quote(texts[0]))
			if !ok {
				return
			}
			for _, o := range options {
				if o.text == string(text) {
					*v = o.value
					return
				}
			}
			r.problem(offset, fmt.Sprintf("%q is not known here", clip(string(text))), "write "+oneOf(texts))
		},
		write: func(w *writer, v *V) {
			for _, o := range options {
				if o.value == *v {
					w.string(o.text)
					return
				}
			}
		},
		empty: func(v *V) bool { return *v == zero },
		form:  &Form{Kind: Choice, Values: texts},
	}
}

// word is a choice that the document keeps as the text itself.
func word(texts ...string) value[string] {
	options := make([]option[string], len(texts))
	for i, t := range texts {
		options[i] = option[string]{t, t}
	}
	return choice(options...)
}

func oneOf(texts []string) string {
	quoted := make([]string, len(texts))
	for i, t := range texts {
		quoted[i] = strconv.Quote(t)
	}
	if len(quoted) == 1 {
		return quoted[0]
	}
	return strings.Join(quoted[:len(quoted)-1], ", ") + " or " + quoted[len(quoted)-1]
}

// truth is true or false; false is as good as absent.
var truth = value[bool]{
	read: func(r *reader, b *bool) {
		kind := r.peek()
		if kind != 't' && kind != 'f' {
			r.wrongKind("true or false", "true or false")
			return
		}
		r.skip()
		*b = kind == 't'
	},
	write: func(w *writer, b *bool) { w.truth(*b) },
	empty: func(b *bool) bool { return !*b },
	form:  &Form{Kind: Truth},
}

// whole is a whole number from low to high; 0 is absent.
func whole(low, high int) value[int] {
	return value[int]{
		read: func(r *reader, n *int) {
			v, offset, ok := r.number("a whole number", strconv.Itoa(low))
			if !ok {
				return
			}
			if v != math.Trunc(v) || v < float64(low) || v > float64(high) {
				r.problem(offset, fmt.Sprintf("%s is out of bounds", printNumber(v)), fmt.Sprintf("write a whole number from %d to %d", low, high))
				return
			}
			*n = int(v)
		},
		write: func(w *writer, n *int) { w.number(float64(*n)) },
		empty: func(n *int) bool { return *n == 0 },
		form:  &Form{Kind: Whole, Low: float64(low), High: float64(high)},
	}
}

// number reads a bare number.
func (r *reader) number(wanted, example string) (v float64, offset int64, ok bool) {
	if r.peek() != '0' {
		r.wrongKind(wanted, example)
		return 0, 0, false
	}
	raw, ok := r.scalar()
	if !ok {
		return 0, 0, false
	}
	offset = r.dec.InputOffset() - int64(len(raw))
	v, err := parseNumber(raw)
	if err != nil {
		r.problem(offset, fmt.Sprintf("%s is too large a number", clip(string(raw))), "write a number that a frame can have")
		return 0, 0, false
	}
	return v, offset, true
}

// powers of ten that a float64 holds exactly.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// parseNumber reads a JSON number. Up to fifteen digits without an exponent the quotient of two exact floats is the
// nearest float, and needs no general parser.
func parseNumber(raw []byte) (float64, error) {
	digits, negative := raw, false
	if raw[0] == '-' {
		digits, negative = raw[1:], true
	}
	if len(digits) > 15 {
		return strconv.ParseFloat(string(raw), 64)
	}
	mantissa, point := int64(0), -1
	for i, c := range digits {
		switch {
		case c >= '0' && c <= '9':
			mantissa = 10*mantissa + int64(c-'0')
		case c == '.':
			point = i
		default:
			return strconv.ParseFloat(string(raw), 64)
		}
	}
	v := float64(mantissa)
	if point >= 0 {
		v /= powers[len(digits)-point-1]
	}
	if negative {
		v = -v
	}
	return v, nil
}

// amount is a quantity: a number in the document's units, or a text with its unit. Bounds are in internal units, and
// what lies outside them is a slip of the pen.
type amount struct {
	measure   model.Measure
	low, high float64
	size      [2]float64 // of the unit of a bare number, by the document's units
	form      *Form
}

func amountOf(m model.Measure, low, high float64) amount {
	return amount{m, low, high, [2]float64{model.Metric: m.Size(model.Metric), model.US: m.Size(model.US)}, &Form{Kind: Amount, Measure: &m, Low: low, High: high}}
}

// Bounds of what a house can have, in internal units.
const (
	farthest    = 1e10 // mm: coordinates may be those of a national survey grid
	longest     = 1e6  // mm: a kilometre
	deepest     = 5000 // mm: a side of a section, a bearing, a notch
	smallest    = 1e-3 // mm: what is called a size is not nothing
	mostForce   = 1e8  // N
	mostLine    = 1e5  // N/mm
	mostArea    = 1    // N/mm2
	mostMoment  = 1e12 // N mm
	mostStress  = 1e6  // N/mm2: above the stiffest material there is
	mostDensity = 3e-5 // kg/mm3: above the densest metal there is
	mostAngle   = math.Pi / 2
	fullTurn    = 2 * math.Pi
)

// The amounts of a document.
var (
	place     = amountOf(model.MeasureLength, -farthest, farthest) // a coordinate
	along     = amountOf(model.MeasureLength, 0, longest)          // a distance along an axis
	extent    = amountOf(model.MeasureLength, smallest, longest)   // a length that is not nothing
	side      = amountOf(model.MeasureLength, smallest, deepest)   // of a section, a seat
	slight    = amountOf(model.MeasureLength, 0, deepest)          // a bearing, a depth of cut
	altitude  = amountOf(model.MeasureAltitude, -5e5, 9e6)         // between the lowest shore and the highest peak
	slope     = amountOf(model.MeasureAngle, -mostAngle, mostAngle)
	turn      = amountOf(model.MeasureAngle, -fullTurn, fullTurn)
	force     = amountOf(model.MeasureForce, -mostForce, mostForce)
	strength  = amountOf(model.MeasureForce, 0, mostForce) // what a connection holds
	lineLoad  = amountOf(model.MeasureLineLoad, -mostLine, mostLine)
	areaLoad  = amountOf(model.MeasureAreaLoad, -mostArea, mostArea)
	weight    = amountOf(model.MeasureAreaLoad, 0, mostArea)
	moment    = amountOf(model.MeasureMoment, 0, mostMoment)
	stress    = amountOf(model.MeasureStress, 1e-6, mostStress)
	density   = amountOf(model.MeasureDensity, 1e-9, mostDensity)
	lineMass  = amountOf(model.MeasureLineMass, 1e-9, 10)
	surface   = amountOf(model.MeasureSurface, smallest, 2.5e7)
	modulus   = amountOf(model.MeasureModulus, smallest, 2.5e10)
	inertia   = amountOf(model.MeasureInertia, smallest, 6e13)
	plain     = amountOf(model.MeasureNumber, 0, 1e3)
	money     = amountOf(model.MeasureNumber, 0, 1e9)
	noMeasure = amountOf(model.MeasureNumber, -1e12, 1e12) // a number that only a region understands
)

// read gives the value in internal units.
func (a *amount) read(r *reader) (v float64, ok bool) {
	var offset int64
	switch r.peek() {
	case '0':
		v, offset, ok = r.number("", "")
		v *= a.size[r.units]
	case '"':
		var text []byte
		if text, offset, ok = r.text("", ""); ok {
			v, ok = a.parse(r, string(text), offset)
		}
	default:
		r.wrongKind(a.measure.Dimension.Phrase(), "a number, or "+a.measure.Example())
	}
	if !ok {
		return 0, false
	}
	return v, a.within(r, v, offset)
}

// within holds a value against the bounds.
func (a *amount) within(r *reader, v float64, offset int64) bool {
	if v < a.low || v > a.high {
		r.problem(offset, fmt.Sprintf("%s is out of bounds for this %s", a.print(v, r.units), a.measure.Dimension),
			fmt.Sprintf("write %s to %s", a.print(a.low, r.units), a.print(a.high, r.units)))
		return false
	}
	return true
}

// print writes a value in the unit of a bare number, to nine digits.
func (a *amount) print(v float64, u model.Units) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(v/a.size[u], 'g', 9, 64), 64)
	if err != nil {
		short = v / a.size[u]
	}
	return strings.TrimRight(printNumber(short)+" "+a.measure.Unit(u), " ")
}

func (a *amount) parse(r *reader, text string, offset int64) (float64, bool) {
	v, err := model.ParseQuantity(text, a.measure.Dimension)
	if err != nil {
		r.textProblem(offset, err)
		return 0, false
	}
	return v, true
}

// textProblem notes what is wrong with a text.
func (r *reader) textProblem(offset int64, err error) {
	r.textProblemAt(offset, string(r.dec.StackPointer()), err)
}

func (r *reader) textProblemAt(offset int64, pointer string, err error) {
	message, fix := err.Error(), ""
	var wrong *model.TextError
	if errors.As(err, &wrong) {
		message, fix = wrong.Message, wrong.Fix
	}
	r.problemAt(offset, pointer, message, fix)
}

// optional is the amount as a quantity that may be absent.
func (a amount) optional() value[model.Quantity] {
	return value[model.Quantity]{
		read: func(r *reader, q *model.Quantity) {
			if v, ok := a.read(r); ok {
				*q = model.Given(v)
			}
		},
		write: func(w *writer, q *model.Quantity) { w.amount(q.Value, a.measure) },
		empty: func(q *model.Quantity) bool { return !q.Known },
		form:  a.form,
	}
}

// into puts the value, when it is of use, in its place.
func (a *amount) into(r *reader, f *float64) {
	if v, ok := a.read(r); ok {
		*f = v
	}
}

// bare is the amount as a number; 0 is as good as absent.
func (a amount) bare() value[float64] {
	return value[float64]{
		read:  a.into,
		write: func(w *writer, f *float64) { w.amount(*f, a.measure) },
		empty: func(f *float64) bool { return *f == 0 },
		form:  a.form,
	}
}

// The points of a document.
var (
	spacePoint = point(3)
	planPoint  = point(2)
)

// point is a place in space, or in plan where only two numbers are needed.
func point(least int) value[model.Point] {
	wanted, example := "a point [x, y, z]", "[0, 0, 2400]"
	if least == 2 {
		wanted, example = "a point [x, y]", "[0, 2400]"
	}
	return value[model.Point]{
		read: func(r *reader, p *model.Point) {
			if r.peek() != '[' {
				r.wrongKind(wanted, example)
				return
			}
			offset := r.enter() - 1
			n := 0
			for k := r.peek(); k != ']' && k != 0; k = r.peek() {
				if n > 2 {
					r.skip()
					n++
					continue
				}
				if v, ok := place.read(r); ok {
					switch n {
					case 0:
						p.X = v
					case 1:
						p.Y = v
					case 2:
						p.Z = v
					}
				}
				n++
			}
			r.enter()
			if n < least || n > 3 {
				r.problem(offset, fmt.Sprintf("a list of %d stands where %s is wanted", n, wanted), "write for example "+example)
			}
		},
		write: func(w *writer, p *model.Point) {
			w.begin('[', false)
			for _, v := range []float64{p.X, p.Y, p.Z}[:max(least, 2)] {
				w.item()
				w.amount(v, place.measure)
			}
			w.end(']')
		},
		empty: func(p *model.Point) bool { return *p == model.Point{} },
		form:  &Form{Kind: List, Items: place.form, Least: least, Most: 3},
	}
}

// printNumber writes a number without an exponent where it is of common size.
func printNumber(v float64) string { return string(appendNumber(nil, v)) }

// texts of actions, in their order.
func actionOptions() []option[model.Action] {
	options := make([]option[model.Action], len(model.Actions))
	for i, a := range model.Actions {
		options[i] = option[model.Action]{string(a), a}
	}
	return options
}
