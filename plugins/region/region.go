// Package region is the contract between the program and a region: a set of rules that a country or state applies.
// It holds the types that cross the boundary and nothing of any one region; how they cross it is the business of
// region/serve (for authors) and region/host (for the program).
//
// All numbers are in mm, N, N/mm2, kg and radians. Pushes down on a support and sagging moments are positive,
// tension is positive.
package region

import (
	"context"

	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// ContractVersion is the version of the contract that this package describes.
const ContractVersion = 1

// Region is what an author writes. Every method must be safe to call from several goroutines at once, and must
// return when its context ends.
type Region interface {
	// Describe says what the region is. It must not depend on anything but the region itself.
	Describe(context.Context) (*Description, error)
	// Prepare turns a site and the names in a model into properties, implied loads, cases and combinations.
	Prepare(context.Context, *Site) (*Preparation, error)
	// Derive judges strength: for every piece of the batch and every fact of the region's vocabulary one value or
	// one reason of absence. Nothing may be left out. The batch has passed its Check, and must not be changed.
	Derive(context.Context, *Batch) (*Derived, error)
	// Span is the longest span that the region's own calculation allows.
	Span(context.Context, *SpanRequest) (*Span, error)
}

// Description says what a region is.
type Description struct {
	ID       string   // "eurocode"
	Title    string   // in words
	Edition  string   // of its rules
	Codes    []string // ISO 3166-2 codes served, such as "GB-ENG"
	Contract int      // ContractVersion that it was written for
	Facts    []vocabulary.Fact

	// Beside names the facts that depend on what else stands on the walls under a piece: on CaseBeside, CaseTurn and
	// BesideUnknown of its contacts. They must not depend on stations, which are left out where nothing else of a piece has
	// changed and only these facts are wanted. With none named, any fact may depend on it, and all is told again.
	Beside []string

	Packs []PackFile
	Uses  []string // uses that Span knows: "floor joist", "rafter" ...
	Stock []Stock  // what a yard in that region commonly has
}

// PackFile is one file of a rule pack: the pack itself or a table beside it.
type PackFile struct {
	Name string
	Data []byte
}

// Stock is a section and grade that is commonly held.
type Stock struct {
	Section string
	Grades  []string
	Lengths []float64 // mm
}

// Site is what Prepare is asked about. Lists are in the order of the document; other messages index into them.
type Site struct {
	Code         string
	GroundSnow   model.Quantity // N/mm2
	Altitude     model.Quantity // mm
	SnowZone     int
	ServiceClass int
	MasonryClass int
	Weightless   bool
	Grades       []GradeName
	Sections     []Section
	Areas        []Area
	Roles        []string // roles in use
	Movable      bool     // a member states a person of its own (movable_load)
}

// GradeName is a grade that members name, with what the document declares of it.
type GradeName struct {
	Name     string
	Declared *model.Grade // nil when the document does not declare it
	Steel    bool         // a rolled or hollow section names it
}

// Section is a section in use, as the document gives it.
type Section = model.Section

// Area is a loaded area as the document gives it. A load that is absent from it may be filled in by the region.
type Area struct {
	model.Area
	Slope float64 // of the area: its stated pitch, or the slope of what carries it; radians, 0 when level or unknown
}

// Preparation is the region's answer to Prepare.
type Preparation struct {
	Grades       []Grade    // one for each of Site.Grades
	Areas        []AreaLoad // loads that the site implies
	Cases        []Case
	Combinations []Combination
	Assumptions  []Assumption
}

// Grade is what a region knows of a grade. A zero E, G or Density is unknown, for the reason given.
type Grade struct {
	Material string  // timber, glulam, LVL, steel ...; empty when the grade is unknown
	E, G     float64 // short-term mean, N/mm2
	Density  float64 // mean, kg/mm3
	Reason   string  // why something is unknown, and what to do
}

// AreaLoad is a load on an area that the region fills in.
type AreaLoad struct {
	Area   string
	Action model.Action
	Value  float64 // N/mm2
	Point  float64 // load that may stand anywhere on the area in place of the even one, N; 0: none
	Shared bool    // a deck spreads Point over equal members in a run (Pieces.Repetitive): none of them bears it alone
	Note   string  // why, with its source
}

// Case is a load case: an action, or one of several that an action has.
type Case struct {
	ID        string // the action's name for its default case
	Action    model.Action
	Name      string // which of the action's named loads; empty: the unnamed ones
	Category  string
	Kind      string // which kind of area it comes from, where the category depends on it (floor, loft, roof); empty: all
	Permanent bool
}

// LimitState is what a combination is for.
type LimitState string

// The limit states that the core reads; a region may add its own.
const (
	Strength       LimitState = "strength"
	Stability      LimitState = "stability" // loss of equilibrium: uplift, overturning
	Characteristic LimitState = "characteristic"
	QuasiPermanent LimitState = "quasi-permanent"
	Allowable      LimitState = "allowable" // allowable stress: serves as strength and as characteristic
)

// Combination is one row of factors over the cases. A variable case's factor is applied where it makes things worse
// and left out where it helps. Moving is the factor of the one load that may stand anywhere on a piece: of AreaLoad.Point of
// what it carries, or of the person that the document gives it. The forces, reactions and deflections of the combination hold
// it where it is worst for each of them.
type Combination struct {
	ID       string // readable: "1.35 dead + 1.5 imposed"
	State    LimitState
	Factors  []float64 // by case
	Moving   float64   // 0: no such load is there
	Duration string    // class of its shortest action, in the region's words
}

// Assumption is something that the region filled in because the model does not say.
type Assumption struct {
	Text    string
	Pointer string // JSON pointer of what could state it; empty: the site
}
