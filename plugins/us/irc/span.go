package irc

import (
	"fmt"
	"math"

	"example.com/scantling/plugins/us/nds"
)

// Use is what a joist or rafter does. The zero value is none.
type Use string

// The uses that the code has span tables for.
const (
	FloorSleeping  Use = "floor joist of sleeping rooms"
	FloorOther     Use = "floor joist"
	CeilingEmpty   Use = "ceiling joist without storage"
	CeilingStorage Use = "ceiling joist with limited storage"
	RafterOpen     Use = "rafter"
	RafterAttached Use = "rafter with ceiling attached"
)

// Request asks for one span. A member is a single piece of a repetitive set, held along its compression edge, dry.
type Request struct {
	Use     Use
	Section nds.Section
	Grade   nds.Grade
	Spacing float64 // centre to centre, mm
	Live    float64 // floor, attic or roof live load, N/mm2; of a rafter 0 where snow alone is asked for
	Snow    float64 // ground snow load of a rafter, N/mm2, at its full value
	Dead    float64 // N/mm2, self-weight within it; of a rafter on the horizontal projection
	Limit   float64 // deflection under live or snow load: span / Limit
}

// Governs names what ends a span.
type Governs string

// What may govern.
const (
	Bending    Governs = "bending"
	Deflection Governs = "deflection"
)

// Span is the allowable clear span, of a rafter its horizontal projection.
type Span struct {
	Length  float64 // unrounded, mm, before the cap
	Governs Governs
	Capped  bool // over 26 ft: the printed tables end there
	Source  Source
	Steps   []nds.Step
}

// MostSpan is where the span tables end, mm: a longer span is a note in them.
const MostSpan = 26 * Foot

// Printed is the span as the tables print it, to the nearest inch: "12 ft 8 in", or "over 26 ft".
func (s Span) Printed() string {
	if s.Capped {
		return "over 26 ft"
	}
	inches := int(math.Round(s.Length / nds.Inch))
	return fmt.Sprintf("%d ft %d in", inches/12, inches%12)
}

// Allowable works out a span by bending and by deflection and takes the shorter (method: reproduced). Of a rafter with
// both live load and snow each is taken alone, and the shorter span counts. Shear and bearing do not govern in the
// range of the tables and are not looked at here. What cannot be had is an *nds.Absence.
func Allowable(r Request) (Span, error) {
	if err := r.refuse(); err != nil {
		return Span{}, err
	}
	var shortest Span
	for _, l := range r.loadings() {
		s, err := r.span(l)
		if err != nil {
			return Span{}, err
		}
		if shortest.Steps == nil || s.Length < shortest.Length {
			shortest = s
		}
	}
	return shortest, nil
}

// loading is one variable load with the duration factor that goes with it.
type loading struct {
	symbol   string
	load     float64 // N/mm2
	duration nds.Duration
}

func (r Request) loadings() []loading {
	if !r.Use.rafter() {
		return []loading{{"live", r.Live, nds.TenYears}}
	}
	var ls []loading
	if r.Live > 0 {
		ls = append(ls, loading{"live", r.Live, nds.SevenDays})
	}
	if r.Snow > 0 {
		ls = append(ls, loading{"snow", r.Snow, nds.TwoMonths})
	}
	return ls
}

func (r Request) span(l loading) (Span, error) {
	steps := []nds.Step{
		{Symbol: l.symbol, Value: l.load, Unit: "N/mm2", Clause: r.clause()},
		{Symbol: "dead", Value: r.Dead, Unit: "N/mm2", Clause: r.clause(), Text: "includes the member's own weight"},
		{Symbol: "s", Value: r.Spacing, Unit: "mm"},
	}
	put := func(symbol string, v float64, unit, clause, text string) float64 {
		steps = append(steps, nds.Step{Symbol: symbol, Value: v, Unit: unit, Clause: clause, Text: text})
		return v
	}
	m := nds.Member{Section: r.Section, Grade: r.Grade, Service: nds.Service{Repetitive: true}}
	fb, working, err := m.Adjusted(nds.Fb, l.duration)
	if err != nil {
		return Span{}, err
	}
	steps = append(steps, working...)
	e, working, err := m.Adjusted(nds.E, l.duration)
	if err != nil {
		return Span{}, err
	}
	steps = append(steps, working...)
	w := put("w", (l.load+r.Dead)*r.Spacing, "N/mm", "", "")
	v := put("w_"+l.symbol, l.load*r.Spacing, "N/mm", "", "the deflection is limited under this load alone")
	s := put("S", r.Section.Modulus(), "mm3", "", "")
	i := put("I", r.Section.Inertia(), "mm4", "", "")
	bent := put("L_b", math.Sqrt(8*fb*s/w), "mm", "NDS 3.3.1", "M = w L^2 / 8")
	sag := put("L_d", math.Cbrt(384*e*i/(5*v*r.Limit)), "mm", "R301.7", fmt.Sprintf("5 w L^4 / (384 E I) = L / %g", r.Limit))
	span := Span{Length: math.Min(bent, sag), Governs: Deflection, Source: Source{r.clause(), Reproduced}, Steps: steps}
	if bent < sag {
		span.Governs = Bending
	}
	span.Capped = span.Length > MostSpan
	return span, nil
}

func (r Request) clause() string {
	switch r.Use {
	case FloorSleeping, FloorOther:
		return "R502.3.1"
	case CeilingEmpty, CeilingStorage:
		return "R802.5.1"
	}
	return "R802.4.1"
}

func (u Use) rafter() bool { return u == RafterOpen || u == RafterAttached }

// refuse finds what makes a request unanswerable.
func (r Request) refuse() error {
	no := func(reason string) error { return &nds.Absence{What: "span", Reason: reason} }
	above := func(v float64) bool { return v > 0 && !math.IsInf(v, 0) }
	switch r.Use {
	case FloorSleeping, FloorOther, CeilingEmpty, CeilingStorage:
		if r.Snow != 0 {
			return no("floor and ceiling joists carry no snow by this method")
		}
		if !above(r.Live) {
			return no("the live load must be stated and above zero")
		}
	case RafterOpen, RafterAttached:
		if !(r.Live >= 0 && r.Snow >= 0) || !above(r.Live+r.Snow) {
			return no("the roof live load or the ground snow load must be stated and above zero")
		}
	default:
		return no(fmt.Sprintf("the code has no span table for the use %q", r.Use))
	}
	switch {
	case !(r.Dead >= 0) || math.IsInf(r.Dead, 0):
		return no("the dead load must be stated, zero or more")
	case !above(r.Limit):
		return no("the deflection limit must be stated and above zero, such as 360 for L/360")
	case !above(r.Spacing) || r.Spacing > nds.MostRepetitiveSpacing*(1+1e-9):
		return no("the spacing must be above zero and at most 24 in, or the repetitive factor does not hold")
	case r.Section.Plies != 1 || r.Section.Flat || r.Section.NominalThickness != 2:
		return no("the tables are for single members of 2 in nominal thickness, on edge")
	}
	return nil
}
