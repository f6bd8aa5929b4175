package model

import "strings"

// Role is what a member does in the frame. Regions and house packs may add roles.
type Role string

// The roles that the program knows by name.
const (
	RoleRafter       Role = "rafter"
	RoleJackRafter   Role = "jack rafter"
	RoleHipRafter    Role = "hip rafter"
	RoleValleyRafter Role = "valley rafter"
	RoleRidgeBeam    Role = "ridge beam"
	RoleRidgeBoard   Role = "ridge board"
	RolePurlin       Role = "purlin"
	RoleCollar       Role = "collar"
	RoleTie          Role = "tie"
	RoleStrut        Role = "strut"
	RoleCeilingJoist Role = "ceiling joist"
	RoleFloorJoist   Role = "floor joist"
	RoleTrimmer      Role = "trimmer"
	RoleBeam         Role = "beam"
	RoleLintel       Role = "lintel"
	RolePost         Role = "post"
	RoleStud         Role = "stud"
	RoleWallPlate    Role = "wall plate"
	RoleSolePlate    Role = "sole plate"
	RoleWall         Role = "wall"
	RolePier         Role = "pier"
	RoleFoundation   Role = "foundation"
)

// Roles lists the known roles in the order in which they are printed.
var Roles = []Role{RoleRafter, RoleJackRafter, RoleHipRafter, RoleValleyRafter, RoleRidgeBeam, RoleRidgeBoard, RolePurlin, RoleCollar, RoleTie, RoleStrut,
	RoleCeilingJoist, RoleFloorJoist, RoleTrimmer, RoleBeam, RoleLintel, RolePost, RoleStud, RoleWallPlate, RoleSolePlate, RoleWall, RolePier, RoleFoundation}

// Phase says whether a member or load is new, stays, or goes.
type Phase uint8

// The phases of a member or load.
const (
	New Phase = iota
	Existing
	Removed
)

// String is the phase as a document writes it.
func (p Phase) String() string { return [...]string{"new", "existing", "removed"}[p] }

// Member is one mark of the frame: one piece, or a run of equal pieces. What few members say stands in Detail.
type Member struct {
	Mark     string
	Role     Role
	Section  *Section // nil when not stated; equal sections of a document share one value
	Grade    string
	Material string  // of walls, piers and foundations (masonry, concrete, ground ...)
	Path     []Point // structural axis, two or more points; empty when Length and Pitch stand in
	Length   Quantity
	Pitch    Quantity // radians
	Centres  Quantity
	Repeat   Repeat
	Carries  []Carry
	Supports []Support
	Loads    []Load
	Ties     []TiedBy
	Ground   bool // stands on the ground: what reaches it has arrived
	Thrust   bool // both ends of a cranked member are held sideways

	Width     Quantity // of a wall or pier, mm
	Phase     Phase
	Condition string // "unverified": nobody has vouched for this existing member
	Service   int    // service class, 0: the site's
	Restraint Restraint
	LoadAt    Edge // edge that load acts on; NoEdge: the compression edge
	Drawings  []DrawingRef
	CoveredBy string
	Detail    *Detail // nil when the document says none of it

	// Offset is the place of the member's value in the source, bytes from its start; -1 when it was not read from text.
	Offset int64
}

// More is the member's detail, or an empty one: it never is nil.
func (m *Member) More() *Detail {
	if m.Detail == nil {
		return &noDetail
	}
	return m.Detail
}

var noDetail Detail

// Pieces is how many pieces the member stands for, at least 1.
func (m *Member) Pieces() int { return max(1, m.Repeat.Count) }

// InRun says whether the member is one of at least three equal ones at even centres that a deck or battens join.
func (m *Member) InRun() bool {
	return m.Repeat.Count >= 3 && m.Centres.Known && m.Centres.Value <= 610 && len(m.Carries) > 0
}

// Detail is what only some members say.
type Detail struct {
	DepthAlong   Quantity // of a post that is not square: angle in plan of its depth, radians from x
	Held         Held
	Notches      []Notch
	Holes        []Hole
	Joints       []Joint
	PliesJoined  string // how the plies of a built-up member are joined
	Straps       []Strap
	Blocking     []Blocking
	Packer       Quantity // thickness of packing under its ends, mm
	Treated      string
	Fire         string // fire protection
	Corrosion    string // corrosion protection
	EndFixing    string // how the ends of a steel are fixed
	Weld         string // the weld or bolted detail at a crank or splice
	Stated       *Stated
	Seen         *Seen
	Height       Quantity // of a wall, mm
	Weight       Quantity // of a wall, per area of its face, N/mm2
	Masonry      *Masonry
	Openings     []Opening
	Footing      string // what is known of a wall's or pier's footing
	Deck         Quantity
	Note         string
	Price        Quantity // per metre, in the firm's own currency
	MovableLoad  Quantity // a person in place of the imposed load, N; judged where that is worst, not passed on
	BraceRemoved bool     // taking this member out takes lateral stability with it
}

// Repeat is a run of equal pieces: Count of them, each a Step from the one before. The zero value is one piece.
type Repeat struct {
	Count int
	Step  Point // mm
}

// Carry is a strip of an area that a member carries.
type Carry struct {
	Area  string
	Width Quantity // in plan, square to the member; defaults to Centres, mm
}

// Support is one place where a member is held.
type Support struct {
	On         string   // mark of what it rests on; empty for Against
	Against    string   // mark of the opposing rafter that its head leans on
	At         Quantity // along the axis from its first point, mm
	Bearing    Quantity // length of bearing, mm
	Notch      *Notch
	By         string // seat, hanger, bolted, welded, nailed; empty: not stated
	Capacity   *Capacity
	Horizontal bool // "holds": "horizontal": takes the horizontal push too
	Fixed      bool // holds rotation
	Seat       *Seat
	Continuous bool
	From, To   Quantity // along the axis, of a continuous support, mm
	Level      Quantity // of a support that has no geometry to say it, mm
}

// Seat is a padstone, plate, packer or block between a member and what it rests on. Along the wall x across x high, mm.
type Seat struct {
	Kind                string
	Along, Across, High Quantity
	Material            string
	Strength            Quantity // N/mm2
}

// Capacity is what a connection is stated to hold, N.
type Capacity struct {
	Down, Up, Along Quantity
	Basis           string // "safe working", "characteristic" or "design"; empty: unchecked
	By              string
}

// TiedBy names what takes the thrust of a couple, with the capacity of its lap.
type TiedBy struct {
	On       string
	At       Quantity // along the rafter, mm; found from the geometry when both have paths
	Capacity *Capacity
}

// Load is a load of the member itself, vertical and down.
type Load struct {
	Action      Action
	Case        string // name of a case of the action; empty: the default case
	Phase       Phase
	IsPoint     bool
	Point       float64  // N
	At          float64  // along the axis, mm
	First, Last float64  // N/mm, line load at From and To
	From, To    Quantity // along the axis, mm; the whole member when not stated
	PerPlan     bool     // First and Last are per plan length
	Movable     bool     // it may stand anywhere along the member: judged where that is worst, not passed on
}

// Edge is the top or the bottom edge of a member.
type Edge uint8

// Edges of a member.
const (
	NoEdge Edge = iota
	Top
	Bottom
	Middle
)

// String is the edge as a document writes it.
func (e Edge) String() string { return [...]string{"", "top", "bottom", "middle"}[e] }

// Hold says how an edge is held sideways. The zero value is: at supports only.
type Hold struct {
	Said    bool
	Full    bool
	Spacing float64 // mm, when not Full
}

// Restraint is how the two edges are held sideways.
type Restraint struct{ Top, Bottom Hold }

// Held is how a post is held against moving along its depth and along its width.
type Held struct{ Depth, Width Hold }

// Notch is material cut from an edge. A notch of a member says At; the notch of a support sits there.
type Notch struct {
	At         Quantity // to its middle, mm
	Depth      Quantity // square to the axis, mm
	Length     Quantity // mm
	Face       Edge
	Slope      Quantity // of a tapered cut: run to rise, plain
	ToReaction Quantity // from the notch's corner to the line of the reaction, mm
}

// Hole is a round hole through the width.
type Hole struct {
	At       Quantity // mm
	Diameter Quantity // mm
	Edge     Quantity // from the top edge to the hole's centre, mm; the centre line when not stated
}

// Joint is a connection within a member: at a crank or a splice.
type Joint struct {
	At       Quantity // mm
	Kind     string   // rigid or hinge
	Detail   string   // the weld or bolts
	Capacity Quantity // moment that it is stated to hold, N mm
}

// Strap ties a member down or sideways.
type Strap struct {
	Kind     string // "lateral" or "holding down"
	To       string // mark of what it ties to
	At       Quantity
	Centres  Quantity
	Size     string
	Capacity *Capacity
}

// Blocking is a row of solid or herringbone strutting, or a block under a post.
type Blocking struct {
	Kind string
	At   Quantity
}

// Stated is what a maker or engineer states for the whole member.
type Stated struct {
	TotalLoad, LineLoad, Moment Quantity // N, N/mm, N mm
	By                          string
}

// Seen is evidence that a person has looked at something.
type Seen struct{ By, Date, Photo string }

// String is who saw it, when, and which photograph shows it: as much as is stated.
func (s Seen) String() string {
	parts := make([]string, 0, 3)
	for _, part := range []string{s.By, s.Date} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	if s.Photo != "" {
		parts = append(parts, "photograph "+s.Photo)
	}
	return strings.Join(parts, ", ")
}

// DrawingRef names the drawing that fixes a member, with what that drawing states of it.
type DrawingRef struct {
	ID      string
	To      string // "engineer": still open
	Section string // as that drawing writes it
	Grade   string
	Centres Quantity
}

// Masonry describes a wall's units and mortar.
type Masonry struct {
	Unit     string // clay, concrete, aac, stone
	Group    int
	Strength Quantity // normalised mean compressive strength of the unit, N/mm2
	Mortar   Quantity // compressive strength of the mortar, N/mm2
	Class    string   // category of the units: I or II
	Leaf     string   // solid, cavity, inner
}

// Opening is a gap in a wall along its path, with the lintel over it.
type Opening struct {
	From, To Quantity // along the wall's path, mm
	Lintel   string
}
