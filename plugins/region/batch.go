package region

import (
	"example.com/scantling/model"
)

// Batch is a set of pieces to be judged, in columns. Equal pieces stand in it once. Per-piece columns have one entry
// for each piece; the ragged ones (supports, stations ...) are addressed through start indices: those of piece i are
// Start[i] up to Start[i+1]. Tags say what a column holds beside plain numbers: words, indices, starts, or one entry for each
// combination or case of a row. Forces are given per combination: the entry of row r and combination c is r*Combinations+c.
type Batch struct {
	Sequence     int32
	Working      bool  // list the working too
	Combinations int32 // number of combinations, as Prepare gave them
	Cases        int32 // number of cases, as Prepare gave them

	// Site and Preparation are what Prepare was asked and what it answered. All batches of a run share them, so a
	// region may keep what it works out from them under their address.
	Site        *Site
	Preparation *Preparation

	Pieces   Pieces
	Contacts Contacts
	Stations Stations
	Spans    Spans
	Notches  Notches
	Holes    Holes
}

// MaxMessage is the size of the largest message that crosses the boundary, bytes. Batches are cut to stay below it.
const MaxMessage = 16 << 20

// Dictionary maps small numbers to text; entry 0 is the empty text.
type Dictionary []string

// Pieces is the columns of the batch with one entry per piece.
type Pieces struct {
	ID           []int32 // the host's own number for the piece; echoed back
	Multiplicity []int32 // how many equal pieces it stands for
	Words        Dictionary

	Role         []int32 `column:"word"`    // word
	Section      []int32 `column:"section"` // index into Site.Sections; -1 not stated
	Grade        []int32 `column:"grade"`   // index into Site.Grades; -1 not stated
	Service      []int32 // service class, 0 not stated
	Length       []float64
	Slope        []float64 // steepest slope of the axis, radians
	Centres      []float64 // 0 not stated
	Cranked      []bool
	Column       []bool // chiefly upright: judged as a compression member
	Repetitive   []bool // one of at least three equal members at even centres that a deck or battens join
	TopFull      []bool // top edge held along its length
	TopSpacing   []float64
	BottomFull   []bool
	BottomSpace  []float64
	HeldDepth    []float64 // spacing of holds against moving along the depth of a post; 0: full length; -1: full hold
	HeldWidth    []float64
	LoadAt       []int32 `column:"word"` // word: top, bottom, middle or empty
	PliesJoined  []int32 `column:"word"` // word; empty: not stated
	Brittle      []bool  // a finish that cracks hangs beneath it, or may
	Carries      []int32 `column:"word"` // word: kinds of area that it carries, with commas between
	Deck         []float64
	BlockingRows []int32
	Treated      []int32   `column:"word"` // word
	Condition    []int32   `column:"word"` // word
	Movable      []float64 // of what may stand anywhere along the piece, what the forces do not hold, N; 0: they hold all

	// Alike says which combinations do the same to the piece: the first before this one with the same entry in every column
	// that has one for each combination, counted from 1; 0: there is none. A region may judge only what differs.
	Alike []int32 `column:"combination"`

	ContactStart []int32 `column:"start=Contacts"` // len = pieces + 1, as all starts
	StationStart []int32 `column:"start=Stations"`
	SpanStart    []int32 `column:"start=Spans"`
	NotchStart   []int32 `column:"start=Notches"`
	HoleStart    []int32 `column:"start=Holes"`
}

// Contacts is every place where a piece meets another: its own supports, and what lands on it.
type Contacts struct {
	At         []float64 // along the piece's axis, mm
	Landing    []bool    // something lands on the piece here; otherwise the piece's own support
	Support    []int32   // index in the member's list of supports; -1 for landings
	Length     []float64 // along the piece, mm; 0 not stated
	Width      []float64 // across the piece, mm; 0 not stated
	Underside  []int32   `column:"word"` // word: material of what it meets (timber, masonry, steel ...)
	By         []int32   `column:"word"` // word: seat, hanger, bolted ...
	SeatKind   []int32   `column:"word"` // word
	SeatAlong  []float64
	SeatAcross []float64
	SeatHigh   []float64
	SeatStress []float64 // strength of the seat's material, N/mm2; 0 not stated
	WallWidth  []float64 // leaf that it stands on, mm; 0: no wall
	WallHeight []float64
	WallWeight []float64 // per area of its face, N/mm2; 0 not stated
	WallLeaf   []int32   `column:"word"` // word: solid, cavity, inner; empty: not stated
	WallUnit   []int32   `column:"word"` // word: clay, concrete, aac ...
	WallGroup  []int32
	WallUnitF  []float64 // normalised unit strength, N/mm2
	WallMortar []float64 // N/mm2
	WallClass  []int32   `column:"word"` // word: category of units
	ToWallEnd  []float64 // along the wall to the nearer of its ends or edges of openings, mm; -1 unknown
	ToWallFar  []float64 // the other way along the wall to the same, mm; -1 unknown
	AlongWall  []bool    // Length lies along the wall and Width across it, as of a beam in line with it; otherwise the other way round

	// CaseBeside is the most that the masonry wall carries per length at the middle of its height besides what this contact
	// brings and the wall's own weight, per case, N/mm: within reach of this contact, every load spread at 60 degrees to the
	// level between the wall's ends and openings. CaseTurn is the most that the same turns the wall out of its plane where it
	// lands on it, all to one side, N mm/mm. BesideUnknown says why these, or what carries the contact down, are not known.
	CaseBeside    []float64 `column:"case"`
	CaseTurn      []float64 `column:"case"`
	BesideUnknown []int32   `column:"word"` // word: a reason; empty: known

	ToEnd      []float64 // from the contact's edge to the nearer end of the piece, mm
	ToNext     []float64 // to the next contact along the piece, mm; -1 none
	Eccentric  []float64 // of the reaction to the middle of the leaf, mm, on a wall that it crosses at least by what the length of bearing tells; 0 when central or unknown
	NotchDepth []float64 // of an end notch here; 0 none
	NotchFace  []int32   `column:"word"` // word: top, bottom
	NotchSlope []float64 // run to rise of a taper; 0 square
	NotchX     []float64 // from the notch's corner to the line of the reaction, mm
	Down       []float64 `column:"combination"` // largest push down, per combination, N
	Up         []float64 `column:"combination"` // largest pull up, per combination, N (positive)
	Along      []float64 `column:"combination"` // push sideways that goes with Down, per combination, N
}

// Stations is the places along a piece at which forces are given: exact extremes, both sides of supports,
// notches, holes and kinks. Forces at a station are concurrent.
type Stations struct {
	At        []float64 // mm
	Span      []int32   // index in the piece's spans
	Kind      []int32   // bits: see Station constants
	N, V, M   []float64 `column:"combination"` // per combination: N, N, N mm
	MomentOut []float64 `column:"combination"` // about the other axis (eccentric posts), per combination, N mm
}

// What a station marks; several may hold.
const (
	StationExtreme int32 = 1 << iota
	StationSupport
	StationKink
	StationNotch
	StationHole
)

// Spans is the stretches between supports, overhangs included.
type Spans struct {
	From, To    []float64 // mm
	Overhang    []bool
	Deflection  []float64 `column:"combination"` // per combination: largest of the stretch from the mean short-term stiffness, bending only, mm
	CaseDeflect []float64 `column:"case"`        // per case: the same, of each case alone at its own worst, mm
	CaseMoment  []float64 `column:"case"`        // per case: moment at mid-span (at the root of an overhang), for shear deflection, N mm
	MoveDeflect []float64 // of the load that may stand anywhere, alone and with the factor 1: largest of the stretch, of an overhang down, mm
	MoveMoment  []float64 // likewise the largest size of the moment in the stretch, N mm
}

// Notches is the notches away from supports.
type Notches struct {
	At, Depth, Length []float64
	Bottom            []bool
}

// Holes is the round holes.
type Holes struct {
	At, Diameter, FromTop []float64 // FromTop to the centre; -1: on the centre line
}

// Derived is the region's answer to a batch. Facts are those of the region's vocabulary in the order of Describe:
// the entry of piece i and fact f is i*len(facts)+f.
type Derived struct {
	Sequence    int32
	ID          []int32   // echoes Pieces.ID
	Value       []float64 // numbers; truths are 0 or 1; ignored where Reason is set
	Reason      []int32   // index into Reasons; 0: present
	Reasons     Dictionary
	Combination []int32 // combination that governs; -1 none
	Contact     []int32 // contact of the piece that governs, from 0; -1 none
	At          []float64
	Working     []Step // only when asked
}

// Step is one line of working, in the order in which an engineer would write it.
type Step struct {
	Piece  int32 // index in the batch
	Fact   int32 // index in the region's vocabulary
	Symbol string
	Value  float64
	Unit   string // internal unit, or empty
	Clause string
}

// SpanRequest asks for the longest span of a simple member.
type SpanRequest struct {
	Code    string
	Use     string
	Section model.Section
	Grade   GradeName
	Centres float64 // mm
	Loads   []SpanLoad
	Limit   float64 // span over deflection, of the variable load; 0: the region's own
	Edition string  // of the design values, where editions differ; empty: the current
	Service int
	Brittle bool
}

// SpanLoad is a load per area.
type SpanLoad struct {
	Action model.Action
	Value  float64 // N/mm2
}

// Span is the answer: the longest span, what governs it, and how it was found.
type Span struct {
	Span    float64 // mm, unrounded; 0 when none
	Governs string
	Reason  string // why there is none
	Notes   []string
	Working []Step
}
