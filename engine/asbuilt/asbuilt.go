// Package asbuilt is what differs between a frame as drawn and as built: every change with what the rules make of it, and
// what the changes do to everything else. It does not know how differences are found or judged, or how they are printed.
package asbuilt

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

// Comparison is a frame as built held against the frame as drawn.
type Comparison struct {
	Drawn, Built *finding.Result // of each frame checked by itself
	Changes      []Change        // by member in natural order
	KnockOn      KnockOn
	Result       *finding.Result // of the rules on changes; a finding stands where its change was made
}

// Change is one difference between drawn and built. Lengths are in mm, forces in N.
type Change struct {
	What    What
	Mark    string // the member; "area tiles", "site" and their like for what is no member
	Key     string // document keys that differ, with commas between
	Was     string // empty: not drawn
	Now     string // empty: not built
	Differs string // of properties: each with what it was and is, in words
	Support *finding.Support
	About   string // tells it from other changes of its kind on the member

	Lower, Higher []string // properties that are lower, and that are higher; one that cannot be ranked stands in both
	Unranked      string   // why it cannot be told which are lower
	Strength      Worked   // bending strength of a metre's width or of the member, built over drawn
	Stiffness     Worked   // bending stiffness, likewise
	Swapped       bool     // another material, species or product
	SwapUnknown   string   // why that cannot be told

	Moved       Worked
	BearingLess Worked
	NotchMore   Worked
	LoadRatio   Worked // built over drawn
	LoadMore    Worked // characteristic

	Rule                       string
	RuleNotes                  bool // the rule is a note as built
	OutcomeDrawn, OutcomeBuilt string
	RulesWorse                 int // rules on it, or on what it meets, that were met as drawn and are not as built; without notes
	OnExisting                 bool

	Evidence string // who saw it, when, which photograph
	Verdict  Verdict
	Findings []string // ids of what the rules found on it
	Place    finding.Place
}

// What is the kind of a change.
type What string

// The kinds, as rule packs name them.
const (
	Properties What = "properties"
	Support    What = "support"
	Bearing    What = "bearing"
	Notch      What = "notch"
	Connection What = "connection"
	Seat       What = "seat"
	Restraint  What = "restraint"
	Missing    What = "missing"
	Extra      What = "extra"
	Load       What = "load"
	Rule       What = "rule"
)

// Worked is a figure in internal units that was worked out, or why it was not.
type Worked struct {
	model.Quantity
	Why string
}

// Known is a figure that was worked out.
func Known(v float64) Worked { return Worked{Quantity: model.Given(v)} }

// Unknown is a figure that was not worked out.
func Unknown(why string) Worked { return Worked{Why: why} }

// nouns are the words for document keys that are none.
var nouns = map[string]string{"repeat": "run", "treated": "treatment", "flat": "laid flat"}

// KeyWords names document keys, with commas between, for a reader.
func KeyWords(keys string) string {
	names := strings.Split(keys, ", ")
	for i, key := range names {
		names[i] = cmp.Or(nouns[key], strings.ReplaceAll(key, "_", " "))
	}
	return strings.Join(names, ", ")
}

// Ratios says how strong and stiff the change makes the member against what was drawn, or why that is not known; nothing
// of what is neither strong nor stiff, and of what is as strong and stiff as it was.
func (c *Change) Ratios() string {
	strong, stiff := c.Strength, c.Stiffness
	switch {
	case strong.Known && stiff.Known && math.Abs(strong.Value-1)+math.Abs(stiff.Value-1) < 1e-9:
		return ""
	case strong.Known && stiff.Known:
		return fmt.Sprintf("it is %s times as strong and %s times as stiff as drawn", model.FormatRatio(strong.Value), model.FormatRatio(stiff.Value))
	case strong.Known:
		return fmt.Sprintf("it is %s times as strong as drawn; how stiff is not known: %s", model.FormatRatio(strong.Value), stiff.Why)
	case stiff.Known:
		return fmt.Sprintf("it is %s times as stiff as drawn; how strong is not known: %s", model.FormatRatio(stiff.Value), strong.Why)
	case strong.Why != "":
		return "it is not known how strong and stiff that makes it: " + strong.Why
	}
	return ""
}

// Verdict is what the rules make of a change: the gravest finding on it.
type Verdict string

// The verdicts.
const (
	Stop      Verdict = "stop"
	Unchecked Verdict = "unchecked" // a rule that would stop or ask could not be checked
	Ask       Verdict = "ask"
	Note      Verdict = "note"
	None      Verdict = "none" // no rule has anything against it
)

// Verdicts lists the verdicts, the gravest first.
var Verdicts = []Verdict{Stop, Unchecked, Ask, Note, None}

// Graver is the graver of two verdicts.
func (v Verdict) Graver(w Verdict) Verdict {
	return Verdicts[min(slices.Index(Verdicts, v), slices.Index(Verdicts, w))]
}

// KnockOn is what the changes do to the rest: everything here is worked out, nothing is judged.
type KnockOn struct {
	Reactions []Shift     // at supports: the worst piece of a run
	Ground    []Shift     // what arrives there
	Phase     []Staged    // on what stood before the work
	Rules     []RuleShift // outcomes that are another
}

// Shift is a load as drawn and as built, N, in the worst characteristic combination, downwards.
type Shift struct {
	Mark, On     string // On is empty at the ground
	Nth          int    // of several supports on the same, from 0
	Drawn, Built Worked
}

// Staged is the load on something that stood before the work: before it, after it as drawn and as built, N, in the worst
// characteristic combination.
type Staged struct {
	Mark                 string
	Before, Drawn, Built Worked
}

// RuleShift is a rule whose outcome is another as built than as drawn. Outcomes are in a pack's own words.
type RuleShift struct {
	Rule, Title  string
	Mark, On     string
	Drawn, Built string
	Message      string // what the built frame's finding says, where there is one
}
