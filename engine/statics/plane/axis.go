package plane

import (
	"errors"
	"fmt"
	"math"
)

// straightness is the sine of the bend below which a point along the axis is no kink.
const straightness = 1e-6

// Axis is the line of a member through two or more points. Points in line with
// their neighbours are dropped, so that a kink is a true change of direction.
// The zero Axis has no length; Set fills it.
type Axis struct {
	points []Point
	at     []float64 // distance of each point along the axis, mm
	dir    []Point   // unit direction of each piece
}

// NewAxis is an Axis through the points.
func NewAxis(points ...Point) (Axis, error) {
	var a Axis
	err := a.Set(points)
	return a, err
}

// Set draws the axis anew through the points and keeps its own copy of them.
// Errors are of kind ErrNotFinite and ErrLength, all of them joined.
func (a *Axis) Set(points []Point) error {
	a.points, a.at, a.dir = a.points[:0], a.at[:0], a.dir[:0]
	if len(points) < 2 {
		return &Error{Kind: ErrLength, Text: fmt.Sprintf("an axis needs two points, it has %d", len(points))}
	}
	var errs []error
	for i, p := range points {
		if !finite(p.U) || !finite(p.Z) {
			errs = append(errs, &Error{Kind: ErrNotFinite, Of: "point", Index: i, Text: "give both coordinates in mm"})
		} else if i > 0 && p == points[i-1] {
			errs = append(errs, &Error{Kind: ErrLength, Of: "point", Index: i, Text: "it is the same as the point before it"})
		}
	}
	if errs != nil {
		return errors.Join(errs...)
	}
	a.points = append(a.points, points[0])
	a.at = append(a.at, 0)
	for _, p := range points[1:] {
		a.extend(p)
	}
	if l := a.Length(); !finite(l) || l <= 0 {
		return &Error{Kind: ErrNotFinite, Text: "the points are too far apart or too close to measure"}
	}
	return nil
}

func (a *Axis) extend(p Point) {
	d := towards(a.points[len(a.points)-1], p)
	if n := len(a.dir); n > 0 {
		last := a.dir[n-1]
		if math.Abs(last.U*d.Z-last.Z*d.U) < straightness && last.U*d.U+last.Z*d.Z > 0 {
			a.points, a.at, a.dir = a.points[:n], a.at[:n], a.dir[:n-1]
			d = towards(a.points[n-1], p)
		}
	}
	from := a.points[len(a.points)-1]
	a.at = append(a.at, a.at[len(a.at)-1]+math.Hypot(p.U-from.U, p.Z-from.Z))
	a.points = append(a.points, p)
	a.dir = append(a.dir, d)
}

// Length along the axis, mm.
func (a *Axis) Length() float64 {
	if len(a.at) == 0 {
		return 0
	}
	return a.at[len(a.at)-1]
}

// At is the point at s mm along the axis, clamped to the ends.
func (a *Axis) At(s float64) Point {
	if len(a.dir) == 0 {
		return Point{}
	}
	s = math.Max(0, math.Min(s, a.Length()))
	i := a.piece(s)
	x := s - a.at[i]
	return Point{a.points[i].U + a.dir[i].U*x, a.points[i].Z + a.dir[i].Z*x}
}

// Direction is the cosine and sine of the slope just after s, at the end just before it.
func (a *Axis) Direction(s float64) (cos, sin float64) {
	if len(a.dir) == 0 {
		return 1, 0
	}
	d := a.dir[a.piece(s)]
	return d.U, d.Z
}

// Kinks are the places of the changes of direction, mm along the axis. The
// slice belongs to the Axis.
func (a *Axis) Kinks() []float64 {
	if len(a.at) < 3 {
		return nil
	}
	return a.at[1 : len(a.at)-1]
}

// Straight tells that the axis has no kink.
func (a *Axis) Straight() bool { return len(a.dir) < 2 }

// piece is the index of the straight piece just after s.
func (a *Axis) piece(s float64) int {
	i := 0
	for i < len(a.dir)-1 && s >= a.at[i+1] {
		i++
	}
	return i
}

// onto moves a place that is past an end, or off one of the stations, by no more
// than rounding onto it, so that no sliver stays between; false: it is off the
// axis. The stations are in order, the ends among them.
func (a *Axis) onto(stations []float64, s float64) (float64, bool) {
	slack := samePlace * a.Length()
	for _, at := range stations {
		if math.Abs(s-at) <= slack {
			return at, true
		}
	}
	return s, s > 0 && s < a.Length()
}

func towards(p, q Point) Point {
	l := math.Hypot(q.U-p.U, q.Z-p.Z)
	return Point{(q.U - p.U) / l, (q.Z - p.Z) / l}
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
