package model

import "slices"

// Gravity is standard gravity in m/s2 (ISO 80000-3): a mass of 1 kg weighs 9.80665 N.
const Gravity = 9.80665

// Units says how bare numbers in a document are read, and in which units text is printed.
type Units uint8

// The two systems that a document may be written in.
const (
	Metric Units = iota // mm, kN, kN/m, kN/m2, N/mm2, kg, degrees
	US                  // in, lb, lb/ft, psf, psi, degrees
)

// Quantity is a number that a document may leave out; Value is in internal units and 0 when not Known.
type Quantity struct {
	Value float64
	Known bool
}

// Given is a known quantity of v, in internal units.
func Given(v float64) Quantity { return Quantity{Value: v, Known: true} }

// Or is the quantity's value, or v where the document left it out.
func (q Quantity) Or(v float64) float64 {
	if q.Known {
		return q.Value
	}
	return v
}

// Flag is a truth that a document may leave out.
type Flag uint8

// What a document can say of a truth.
const (
	Unsaid Flag = iota
	No
	Yes
)

// Point is a place in space, mm; Z is up.
type Point struct{ X, Y, Z float64 }

// Document is one framing model. Its slices are in the order of the document; marks are unique. Members' own slices
// (paths, supports, loads ...) share document-wide arrays when the document was read, so copy before appending.
type Document struct {
	Title      string
	Units      Units
	Weightless bool // "self_weight": false, for studies and reference cases
	Site       Site
	Drawings   []Drawing
	Areas      []Area
	Grades     []Grade
	Members    []Member

	marks map[string]int32
}

// Index is the place of a mark in Members, or -1.
func (d *Document) Index(mark string) int {
	if d.marks == nil {
		d.marks = make(map[string]int32, len(d.Members))
		for i := range d.Members {
			d.marks[d.Members[i].Mark] = int32(i)
		}
	}
	if i, ok := d.marks[mark]; ok {
		return int(i)
	}
	return -1
}

// Add appends a member; it is false, and nothing is added, when its mark is taken.
func (d *Document) Add(m Member) bool {
	if d.Index(m.Mark) >= 0 {
		return false
	}
	d.marks[m.Mark] = int32(len(d.Members))
	d.Members = append(d.Members, m)
	return true
}

// Grow makes room for so many more members.
func (d *Document) Grow(members int) {
	d.Members = slices.Grow(d.Members, members)
	marks := make(map[string]int32, len(d.Members)+members)
	for i := range d.Members {
		marks[d.Members[i].Mark] = int32(i)
	}
	d.marks = marks
}

// Member is the member of that mark, or nil.
func (d *Document) Member(mark string) *Member {
	if i := d.Index(mark); i >= 0 {
		return &d.Members[i]
	}
	return nil
}

// Area is the area of that id, or nil. Models name few areas: a scan is enough.
func (d *Document) Area(id string) *Area {
	for i := range d.Areas {
		if d.Areas[i].ID == id {
			return &d.Areas[i]
		}
	}
	return nil
}

// Drawing is the drawing of that id, or nil.
func (d *Document) Drawing(id string) *Drawing {
	for i := range d.Drawings {
		if d.Drawings[i].ID == id {
			return &d.Drawings[i]
		}
	}
	return nil
}

// Site is where the building stands and what holds for all of it.
type Site struct {
	Region        string   // ISO 3166-2 code; absent: no region's rules are applied
	GroundSnow    Quantity // N/mm2
	Altitude      Quantity // mm above sea level
	ServiceClass  int      // 1, 2 or 3; 0 when not stated
	SnowZone      int      // national snow zone; 0 when not stated
	SnowDrift     string   // how drift at abutments and valleys was dealt with
	Stage         string   // "design" or "building": open questions weigh more when building
	Existing      string   // "not relied on": the drawings say that old timbers are not to be leaned on
	Stability     string   // who has dealt with lateral stability where walls, braces or breasts go
	MasonryClass  int      // execution control class of the masonry; 0 when not stated
	TemporaryWork string   // who has dealt with temporary support
	Note          string   // anything worth saying of the whole
}

// Drawing is one sheet that fixes members.
type Drawing struct {
	ID, Title, By, Revision string
}

// Action is a kind of load. Several load cases may belong to one action.
type Action string

// The actions that a document can name.
const (
	Dead        Action = "dead"
	Imposed     Action = "imposed"
	RoofImposed Action = "roof_imposed"
	Snow        Action = "snow"
	Wind        Action = "wind"
)

// Actions lists the actions in the order in which they are printed.
var Actions = []Action{Dead, Imposed, RoofImposed, Snow, Wind}

// Area is a loaded surface that members carry a strip of.
type Area struct {
	ID         string
	Kind       string     // roof, ceiling, floor, loft, deck
	Category   string     // use category, where the region asks for one
	Loads      []AreaLoad // per slope area for dead (see DeadOn) and wind, per plan area for the rest
	Covering   string
	Finish     string   // what hangs beneath: plasterboard, plaster, none
	Pitch      Quantity // radians; serves members that do not slope with the area
	Extent     []Point  // polygon in plan (Z ignored), mm
	DeadOn     string   // "slope" (default) or "plan"
	SelfWeight string   // "added" (default) or "included" in the dead load
	Deck       Quantity // thickness of the deck, mm
	PointLoad  Quantity // movable point load, N
}

// AreaLoad is a load per area, N/mm2. Name tells several winds or snows of one area apart; it is empty for the only one.
type AreaLoad struct {
	Action Action
	Name   string
	Value  float64
}

// Grade is a grade that the document itself declares: an engineered product, or an old timber that an engineer graded.
type Grade struct {
	Name     string
	Material string   // timber, glulam, LVL, steel
	E, G     Quantity // mean moduli, N/mm2
	Density  Quantity // mean density, kg/mm3
	Region   []Named  // what a region's rules read, in the order of the document; bare numbers as written
	By       string   // whose declaration it is
}

// Named is a number with a name that only a region understands.
type Named struct {
	Name  string
	Value float64
}
