// Package sizing is what could stand in a member's place: the options that meet the rules there, and why the others do
// not. It does not know how options are tried or printed.
package sizing

import (
	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

// Stock is a section and the grades that a yard has it in.
type Stock struct {
	Section string         // trade notation
	Grades  []string       // empty: the member's own
	Lengths []float64      // mm; empty: any
	Price   model.Quantity // per metre, in the firm's own currency
}

// Option is one section, grade and spacing in the member's place.
type Option struct {
	Section, Grade string
	Centres        model.Quantity // mm
	Pieces         int
	Depth          float64        // in place, mm
	Mass           model.Quantity // of all pieces, kg
	Price          model.Quantity // of all pieces, each from the shortest stock length that reaches
	Use            model.Quantity // largest of the region's ratios, demand over capacity
	Governs        string         // what that is the ratio of
	Failing        []Failure      // gravest first; none: it meets every rule that its size decides
	Notes          []string       // notes that it has and the member as it stands has not
	Best           []Merit
}

// Merit is what an option is the best in.
type Merit string

// The merits.
const (
	Lightest   Merit = "lightest"
	Cheapest   Merit = "cheapest"
	Shallowest Merit = "shallowest"
)

// Failure is a rule that an option does not meet, or that could not be checked, in its place or elsewhere.
type Failure struct {
	Rule, Title     string
	Member          string // where: the member itself, or another that it makes worse
	Message         string
	Outcome         finding.Outcome
	Severity        finding.Severity
	Found, Required *finding.Figure
}

// Below is the next option down by a merit, which fails.
type Below struct {
	Merit  Merit
	Option Option
}

// Choice is what could stand in a member's place.
type Choice struct {
	Model      finding.Model
	Region     finding.Region
	Mark, Role string
	Now        Option
	Offered    []Option // lightest first
	Refused    []Option // lightest first
	Below      []Below
	Standing   []Failure // of the member, whatever its size
	Notes      []string
	Loosened   []finding.Loosened // by house packs, in what it was held against
	Incomplete []string
	Tried      int
	Kept       string // why the centres stay as they are, or empty
}

// Ranking is how near to its limit each member is.
type Ranking struct {
	Model      finding.Model
	Region     finding.Region
	Members    []Ranked // the most used first
	Unranked   int      // members with a section in which nothing works, or of which the region judges nothing
	Loosened   []finding.Loosened
	Incomplete []string
}

// Ranked is one member by its worst piece.
type Ranked struct {
	Mark, Role, Section, Grade string
	Piece                      string
	Use                        float64 // demand over capacity
	Governs                    string  // what that is the ratio of
	Case                       string  // combination
}
