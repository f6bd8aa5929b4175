package pack

import (
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/pack/table"
	"example.com/scantling/rules/vocabulary"
)

// Problems are all that is wrong with packs, as an error.
type Problems = problem.Problems

// Layer is where a pack comes from. Packs are put in this order.
type Layer uint8

// The layers.
const (
	Region Layer = iota
	Shipped
	House
)

// String is the layer in a reader's words.
func (l Layer) String() string { return [...]string{"region", "shipped", "house"}[l] }

// Severity is how much a rule that is not met weighs.
type Severity uint8

// The severities, the gravest last.
const (
	Note Severity = iota
	Ask
	Stop
)

// String is the severity as a pack writes it.
func (s Severity) String() string { return [...]string{"note", "ask", "stop"}[s] }

var severities = map[string]Severity{"note": Note, "ask": Ask, "stop": Stop}

// Outcome is what came of a rule on one row.
type Outcome uint8

// The outcomes. Unchecked is never met.
const (
	NotApplicable Outcome = iota
	Met
	NotMet
	Unchecked
	Failed // the rule ended in an error
)

// String is the outcome as a pack writes it.
func (o Outcome) String() string {
	return [...]string{"not_applicable", "met", "not_met", "unchecked", "failed"}[o]
}

var outcomes = map[string]Outcome{"met": Met, "not_met": NotMet, "unchecked": Unchecked, "not_applicable": NotApplicable}

// Safe says which way a param may be set without loosening.
type Safe uint8

// The ways.
const (
	AnyChangeLoosens Safe = iota
	Higher
	Lower
)

var safes = map[string]Safe{"higher": Higher, "lower": Lower}

// Pack is a pack as it was read. It is not changed by the sets that it becomes part of.
type Pack struct {
	ID, Edition, Title string
	Layer              Layer
	File               string // as problems name it
	SHA256             string // of the pack's file and its tables, in hexadecimal

	place    problem.Place
	needs    []need
	params   []param
	defines  map[string]*expression.Source
	tables   map[string]*table.Table
	about    map[string]tableText
	rules    []*ruleText
	set      []setting
	change   []change
	off      []switching
	problems problem.Problems
}

// need is a pack that must be there, of an edition where one is said.
type need struct {
	pack, edition string
	place         problem.Place
}

type param struct {
	name, text string
	safe       Safe
	value      expression.Constant
	written    string
	place      problem.Place
}

type tableText struct {
	text  string
	place problem.Place
}

// setting sets a param of another pack.
type setting struct {
	pack, param, reason string
	value               expression.Constant
	written             string
	place               problem.Place
}

// change changes the severity of another pack's rule.
type change struct {
	rule, reason string
	severity     Severity
	place        problem.Place
}

// switching switches another pack's rule off.
type switching struct {
	rule, reason string
	place        problem.Place
}

// ruleText is a rule as it was read.
type ruleText struct {
	id, title, do, source, why string
	judges                     vocabulary.Subject
	where, require             *expression.Source
	found, need                *expression.Source
	say                        *expression.Source
	severity                   []gradeText
	was, keys                  []string
	examples                   []*Example
	place                      problem.Place
}

// gradeText is an entry of a rule's severities; when is nil in the last.
type gradeText struct {
	when *expression.Source
	is   Severity
}

// Example is one of a rule's own tests.
type Example struct {
	Outcome Outcome
	Text    string // what it shows
	Place   problem.Place

	facts *item
}
