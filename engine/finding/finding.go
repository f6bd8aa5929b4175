// Package finding is the one type for what a run has found, with its order and what people have accepted. It does not
// know how findings are come by or how they are printed.
package finding

import (
	"fmt"
	"math"
	"strings"

	"example.com/scantling/model"
)

// Outcome is what a rule makes of a subject.
type Outcome string

// The outcomes that a finding can have. What is met, or does not apply, is counted and makes no finding.
const (
	NotMet    Outcome = "not_met"
	Unchecked Outcome = "unchecked"
)

// Severity says who must act.
type Severity string

// Severities, heaviest first.
const (
	Stop Severity = "stop" // do not build or cover
	Ask  Severity = "ask"  // ask the engineer
	Note Severity = "note"
)

// Rank orders severities: 0 is the heaviest.
func (s Severity) Rank() int {
	switch s {
	case Stop:
		return 0
	case Ask:
		return 1
	}
	return 2
}

// Caution is carried by every output of every format.
const Caution = "This is an aid to checking. It is no design, no approval and no warranty: local codes, the building " +
	"authority and a licensed or chartered engineer decide. Do not cut, load or cover on the strength of it. Existing " +
	"work must be inspected, heavy pieces need a planned lift, and temporary works (propping) are not covered."

// Figure is a number with its dimension, in internal units.
type Figure struct {
	Value     float64
	Dimension model.Dimension
	Counts    bool   // a number of things, which has no unit
	Text      string // instead of a number, where what was found is a word
}

// Restated is the figure as JSON prints it, with its unit: a number of things, and a word, has none.
func (f *Figure) Restated() (value float64, unit string) {
	if f.Counts || f.Text != "" {
		return f.Value, ""
	}
	return model.Figure(f.Value, f.Dimension)
}

// Place is where in a document something stands. Line and Column count from 1, Column in characters.
type Place struct {
	File         string
	Line, Column int
	Pointer      string // JSON pointer
	Offset       int64  // bytes from the start of the file; -1 unknown
}

// Support names one support of a member.
type Support struct {
	On    string
	At    float64 // mm along the member's axis
	Index int     // in the member's list
}

// Related is something else that belongs to a finding: what a load lands on, the other of two.
type Related struct {
	Mark    string
	Message string
	Place   Place
}

// Finding is one thing that is not met or could not be checked. Pieces of one member with the same outcome are one
// finding; Piece is the worst of them.
type Finding struct {
	ID       string // stable: rule, mark, support target and rounded place; never an index or a line
	Rule     string // "practice/bearing-on-masonry"
	Layer    string // the pack that the rule stands in
	Title    string // of the rule
	Outcome  Outcome
	Severity Severity
	Subject  string // member, support, area, frame, change, ground
	Member   string
	Piece    string
	Count    int // pieces that it holds for
	Support  *Support
	Case     string // combination or case that governs
	Message  string
	Action   string // what to do
	Why      string
	Found    *Figure
	Required *Figure
	Operator string   // that must hold from Found to Required, as rules write it; empty where no comparison says
	Ratio    *float64 // demand over capacity
	Reason   string   // of Unchecked
	Related  []Related
	Source   string
	Place    Place
	Drawing  string
	Signoff  *Signoff
	Standing Standing // to an earlier result
	Was      string   // of Worse: what it was then
	Used     []Used   // the facts that the rule used, for sign-offs
	Measures []Used   // the member's own measures, as the document gives them, for sign-offs
	Working  []Step
}

// Where says what the finding is about: the member, and the support of it.
func (f *Finding) Where() string {
	name := f.Member
	if name == "" {
		name = f.Subject
	}
	if name == "" {
		name = "frame"
	}
	if f.Support != nil && f.Support.On != "" {
		name += " on " + f.Support.On
	}
	return name
}

// Identity is what the finding's ID is to be: rule, mark, support target and rounded place. It holds while other parts of
// the document are edited.
func (f *Finding) Identity() string {
	parts := []string{f.Rule}
	if f.Member != "" {
		parts = append(parts, f.Member)
	}
	if f.Support != nil {
		parts = append(parts, fmt.Sprintf("%s@%.0f", f.Support.On, math.Round(f.Support.At/10)*10))
	}
	return strings.Join(parts, " ")
}

// Used is a fact that a rule used, as text that keeps six significant digits.
type Used struct{ Name, Value string }

// Step is one line of working.
type Step struct {
	Fact, Symbol, Clause string
	Value                float64
	Unit                 string
}

// Restated is the step's figure as JSON prints it: forces in kN, moments in kNm, and its unit.
func (s Step) Restated() (value float64, unit string) {
	return model.Restate(s.Value, s.Unit, model.Metric)
}

// Signoff is what someone accepted, and on what authority. Lapsed says why it no longer counts.
type Signoff struct {
	Rule, Mark, Reason, Who, Authority, Reference, Date, Until string
	Finding                                                    string // id; empty: every finding of the rule on the mark
	Digest                                                     string
	Lapsed                                                     string
}
