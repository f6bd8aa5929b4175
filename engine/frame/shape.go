package frame

import (
	"math"

	"example.com/scantling/model"
)

// Shape is the geometry of a member's axis. Distances s run along it from its first point, mm.
type Shape struct {
	Points     []model.Point
	S          []float64 // of each point
	Length     float64   // along the axis
	Plan       float64   // developed length in plan
	Slope      float64   // steepest slope to the level, radians
	Upright    bool      // its plan length is next to nothing
	Placed     bool      // the document gives a path; otherwise length and pitch stand in
	Known      bool      // it has a length at all
	Kinks      int       // bends seen along the axis
	KinksPlan  int       // bends seen in plan
	DirX, DirY float64   // unit direction in plan from first to last point; zero when upright

	faces bool // what it leans on tells which way it looks, though it has no path
}

const (
	straight  = 1e-4 // a change of direction below this many radians is no kink: 0.1 mm in a metre
	uprightAt = 0.02 // plan length over length below which a member stands upright
	nearby    = 1.0  // mm: places closer than this are one
)

// shapes works out the shape of every member. Points and distances share two arrays.
func shapes(doc *model.Document) []Shape {
	n := 0
	for i := range doc.Members {
		n += max(2, len(doc.Members[i].Path))
	}
	out := make([]Shape, len(doc.Members))
	distances := make([]float64, 0, n)
	var standIns []model.Point
	for i := range doc.Members {
		m := &doc.Members[i]
		sh := &out[i]
		sh.Points = m.Path
		sh.Placed = len(m.Path) >= 2
		if !sh.Placed {
			if !m.Length.Known || !(m.Length.Value > 0) {
				continue
			}
			if standIns == nil {
				standIns = make([]model.Point, 0, 64)
			}
			pitch := m.Pitch.Or(0)
			sin, cos := math.Sincos(pitch)
			standIns = append(standIns, model.Point{}, model.Point{X: m.Length.Value * cos, Z: m.Length.Value * sin})
			sh.Points = standIns[len(standIns)-2 : len(standIns) : len(standIns)]
		}
		from := len(distances)
		distances = sh.measure(distances)
		sh.S = distances[from:len(distances):len(distances)]
	}
	return out
}

// measure fills the shape from its points, appending their distances.
func (sh *Shape) measure(distances []float64) []float64 {
	distances = append(distances, 0)
	var last model.Point
	for i := 1; i < len(sh.Points); i++ {
		d := sub(sh.Points[i], sh.Points[i-1])
		plan := math.Hypot(d.X, d.Y)
		length := math.Hypot(plan, d.Z)
		sh.Plan += plan
		sh.Length += length
		distances = append(distances, sh.Length)
		if length > 0 {
			sh.Slope = max(sh.Slope, math.Atan2(math.Abs(d.Z), plan))
		}
		if i > 1 {
			if bend(last, d) > straight {
				sh.Kinks++
			}
			flat, flatLast := model.Point{X: d.X, Y: d.Y}, model.Point{X: last.X, Y: last.Y}
			if bend(flatLast, flat) > straight {
				sh.KinksPlan++
			}
		}
		last = d
	}
	sh.Known = sh.Length > 0
	sh.Upright = sh.Plan < uprightAt*sh.Length
	if !sh.Upright {
		d := sub(sh.Points[len(sh.Points)-1], sh.Points[0])
		if h := math.Hypot(d.X, d.Y); h > 0 {
			sh.DirX, sh.DirY = d.X/h, d.Y/h
		}
	}
	return distances
}

// bend is the angle between two directions, 0 where either has no length.
func bend(a, b model.Point) float64 {
	na, nb := norm(a), norm(b)
	if na == 0 || nb == 0 {
		return 0
	}
	cross := norm(model.Point{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X})
	return math.Atan2(cross, a.X*b.X+a.Y*b.Y+a.Z*b.Z)
}

// At is the point at s; before the start and beyond the end the first and last stretches run on. A member without an
// axis has all its places at the origin.
func (sh *Shape) At(s float64) model.Point {
	if len(sh.Points) == 0 {
		return model.Point{}
	}
	i := sh.segment(s)
	a, b := sh.Points[i], sh.Points[i+1]
	t := (s - sh.S[i]) / (sh.S[i+1] - sh.S[i])
	if sh.S[i+1] == sh.S[i] {
		t = 0
	}
	return model.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y), Z: a.Z + t*(b.Z-a.Z)}
}

// segment is the index of the stretch that holds s.
func (sh *Shape) segment(s float64) int {
	for i := 1; i < len(sh.S)-1; i++ {
		if s < sh.S[i] {
			return i - 1
		}
	}
	return len(sh.S) - 2
}

// SlopeAt is the cosine and sine of the slope of the stretch that holds s: cos is at least 0, sin is positive upwards.
func (sh *Shape) SlopeAt(s float64) (cos, sin float64) {
	if len(sh.Points) == 0 {
		return 1, 0
	}
	i := sh.segment(s)
	d := sub(sh.Points[i+1], sh.Points[i])
	plan := math.Hypot(d.X, d.Y)
	l := math.Hypot(plan, d.Z)
	if l == 0 {
		return 1, 0
	}
	return plan / l, d.Z / l
}

// Direction is the unit direction in plan of the stretch that holds s; zero when it stands upright.
func (sh *Shape) Direction(s float64) (x, y float64) {
	if len(sh.Points) == 0 {
		return 0, 0
	}
	i := sh.segment(s)
	d := sub(sh.Points[i+1], sh.Points[i])
	plan := math.Hypot(d.X, d.Y)
	if plan < 1e-9 {
		return 0, 0
	}
	return d.X / plan, d.Y / plan
}

// towards is the unit direction in plan of the whole axis towards the end that s is nearer to.
func (sh *Shape) towards(s float64) (x, y float64) {
	if s < sh.Length/2 {
		return -sh.DirX, -sh.DirY
	}
	return sh.DirX, sh.DirY
}

// turn lays the axis of a member without a path so that its end near s points along a unit direction in plan.
func (sh *Shape) turn(s, x, y float64) {
	if s < sh.Length/2 {
		x, y = -x, -y
	}
	sh.Points = []model.Point{{}, {X: sh.Plan * x, Y: sh.Plan * y, Z: sh.Points[1].Z}}
	sh.DirX, sh.DirY = x, y
}

func add(a, b model.Point) model.Point { return model.Point{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }
func sub(a, b model.Point) model.Point { return model.Point{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }
func norm(a model.Point) float64       { return math.Sqrt(a.X*a.X + a.Y*a.Y + a.Z*a.Z) }
