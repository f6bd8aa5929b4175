// Package draft writes starter models: from a few dimensions it sets out a roof or a floor piece by piece, with true
// lengths, seats and supports that agree with each other. It knows geometry and the trade's habits of setting out, and
// nothing of loads' effects, strengths or rules: what it writes is to be checked like any other model.
//
// Plans are measured over the centre lines of the walls, x along the length from the south-west corner, y along the
// width. The axes of rafters, jacks and hips of one roof lie in one pitched plane, so that a hip that is deeper than
// its jacks stands proud above and below by the same.
package draft

import (
	"math"
	"slices"
	"strconv"

	"example.com/scantling/model"
)

// Kind is what is drafted.
type Kind string

// The kinds of starter model.
const (
	Hipped Kind = "hipped"
	Gabled Kind = "gabled"
	LeanTo Kind = "lean-to"
	Floor  Kind = "floor"
	Dormer Kind = "dormer"
	Bay    Kind = "bay"
)

// Kinds lists the kinds in the order in which they are printed, each with what it gives.
var Kinds = []struct {
	Kind Kind
	Text string
}{
	{Hipped, "hipped roof of one pitch over a rectangle"},
	{Gabled, "gabled roof between two gable walls"},
	{LeanTo, "lean-to roof against a wall"},
	{Floor, "joisted floor with a stair opening"},
	{Dormer, "hipped roof with a flat-topped dormer in its south slope"},
	{Bay, "hipped roof with a flat-roofed bay on a plate beam or a cranked steel"},
}

// Ridge is what the heads of the rafters meet at.
type Ridge uint8

// A ridge beam carries the heads; a board is only nailed between couples, whose feet the ceiling joists tie.
const (
	Beam Ridge = iota
	Board
)

// Options are the few dimensions that a starter model is made from. What is left zero takes a usual value of the
// units' trade. Lengths are in mm, the pitch in radians, loads in N/mm2.
type Options struct {
	Kind   Kind
	Title  string
	Units  model.Units
	Region string // ISO 3166-2 code; none: no region's rules will be applied

	ServiceClass int // 1, 2 or 3; 0 takes that of the kind, and the document says so

	Length, Width float64 // over the centre lines of the walls; the length is along the ridge or across the joists
	Height        float64 // of the top of the walls
	Pitch         float64 // of the main roof
	Centres       float64
	Overhang      float64 // of the rafters in plan, from the centre line of the plate
	Wall          float64 // thickness of the walls
	WallMaterial  string  // masonry or timber
	Ridge         Ridge

	Sections map[model.Role]string // trade notation, where the usual section does not suit
	Grades   map[model.Role]string
	Grade    string // of timber, where Grades does not say

	Loads    Loads
	Covering string

	Hanger *model.Capacity // what is stated of every hanger; nil: the check will ask
	Clip   *model.Capacity // of every rafter's fixing to its plate
	Lap    *model.Capacity // of every lap of rafter and ceiling joist
	Bolts  *model.Capacity // of a ledger's fixing to its wall, as a whole

	Opening Opening // of a floor
	Dormer  Recess
	Bay     Projection
}

// Loads are those of the roof or floor; what is not known is left out of the model, for the region to fill in.
type Loads struct{ Dead, Imposed, RoofImposed, Snow, Wind model.Quantity }

// Opening is a stair opening, clear of its trimming, mm.
type Opening struct {
	At    float64 // from the west wall to its near edge
	Clear float64 // from the south wall to its near edge; 0: it lies against the wall
	Width float64 // across the joists
	Run   float64 // along the joists
}

// Recess is where a dormer stands in the south slope, mm.
type Recess struct {
	At    float64 // from the west wall to its nearer cheek
	Width float64 // between the trimming rafters
	Depth float64 // in plan, from the south wall to where its roof meets the slope
	Pitch float64 // of its own roof, radians
}

// Projection is a bay before the south wall, mm.
type Projection struct {
	At    float64 // from the west wall to its nearer side wall
	Width float64 // between its side walls
	Out   float64 // how far its front stands before the south wall
	Steel bool    // the plate beam is propped by a steel that is cranked to run up under the roof
	In    float64 // how far inside the steel's high end is carried
}

// ServiceClass is what the trade expects of a kind where nothing is said: a floor lies inside the insulation, and a drafted roof
// is a cold one (common practice, no source).
func ServiceClass(k Kind) int {
	if k == Floor {
		return 1
	}
	return 2
}

// Make drafts a model. The error, if any, is of type Problems: everything that keeps the options from making a roof or
// floor, in one go.
func Make(o Options) (*model.Document, error) {
	b := &builder{Options: o}
	b.fill()
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	b.begin()
	switch o.Kind {
	case Hipped:
		b.hipped()
	case Gabled:
		b.gabled()
	case LeanTo:
		b.leanTo()
	case Floor:
		b.floor()
	case Dormer:
		b.dormer()
	case Bay:
		b.bay()
	}
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	return b.doc, nil
}

func known(k Kind) bool {
	return slices.ContainsFunc(Kinds, func(each struct {
		Kind Kind
		Text string
	}) bool {
		return each.Kind == k
	})
}

// fill puts usual values in place of zeros and says what cannot be.
func (b *builder) fill() {
	if !known(b.Kind) {
		b.wrong("kind", "no starter model is called \""+string(b.Kind)+"\"", "write "+kindNames())
		return
	}
	u := usualOf(b.Units)
	d := u.plans[b.Kind]
	set(&b.Length, d.length)
	set(&b.Width, d.width)
	set(&b.Pitch, d.pitch)
	set(&b.Height, u.height)
	set(&b.Centres, u.centres)
	set(&b.Overhang, u.overhang)
	set(&b.Wall, u.wall)
	b.usual = u
	if b.WallMaterial == "" {
		b.WallMaterial = u.wallMaterial
	}
	if b.Grade == "" {
		b.Grade = u.grade
	}
	b.within("length", b.Length, 1200, 30000)
	b.within("width", b.Width, 1200, 30000)
	b.within("height", b.Height, 300, 15000)
	b.within("centres", b.Centres, 200, 700)
	b.within("wall", b.Wall, 50, 600)
	if b.Kind != Floor {
		b.within("overhang", b.Overhang, 1, 1500)
		least, most := 10.0, 60.0
		if b.Kind == LeanTo {
			least, most = 3, 45
		}
		b.angle("pitch", b.Pitch, least, most)
	}
	if b.ServiceClass < 0 || b.ServiceClass > 3 {
		b.wrong("service class", strconv.Itoa(b.ServiceClass)+" is none", "write 1 inside the insulation, 2 in a cold roof or another covered place, 3 in the weather")
	}
	if b.WallMaterial != "masonry" && b.WallMaterial != "timber" {
		b.wrong("wall material", "walls of \""+b.WallMaterial+"\" are not drafted", "write masonry or timber")
	}
	switch b.Kind {
	case Floor:
		set(&b.Opening.Width, u.opening.Width)
		set(&b.Opening.Run, u.opening.Run)
		set(&b.Opening.At, (b.Length-b.Opening.Width)/2)
	case Dormer:
		set(&b.Dormer.Width, u.dormer.Width)
		set(&b.Dormer.At, (b.Length-b.Dormer.Width)/2)
		set(&b.Dormer.Depth, b.snap(0.8*b.Width/2))
		set(&b.Dormer.Pitch, 5*math.Pi/180)
		b.angle("dormer pitch", b.Dormer.Pitch, 2, 30)
	case Bay:
		set(&b.Bay.Width, u.bay.Width)
		set(&b.Bay.At, u.bay.At)
		set(&b.Bay.Out, u.bay.Out)
		set(&b.Bay.In, b.snap(b.Width/4))
	}
	for _, v := range []float64{b.Opening.At, b.Opening.Clear, b.Opening.Width, b.Opening.Run, b.Dormer.At, b.Dormer.Width, b.Dormer.Depth,
		b.Bay.At, b.Bay.Width, b.Bay.Out, b.Bay.In} {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
			b.wrong(string(b.Kind), "a dimension of it is negative or no number", "give lengths above 0")
			break
		}
	}
}

func set(v *float64, usual float64) {
	if *v == 0 {
		*v = usual
	}
}
