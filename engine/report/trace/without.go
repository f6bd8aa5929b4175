package trace

import (
	"fmt"
	"io"
	"math"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// Removal is what changes when a member is taken out.
type Removal struct {
	Model               finding.Model
	Cases               []string
	Mark, Role, Section string
	Own                 Force // what it carries itself, which goes with it
	Loose               []Loose
	Stops               Force // what then reaches nothing
	Changes             []Change
	Ground              []Change
	Idle                []Idle
	Notes               []string
}

// Loose is a member that loses something that held it, or stands on what falls.
type Loose struct {
	Mark, Role string
	Pieces     []string
	Lost       []string // what held it: "the support on PO1"
	Held       []string // marks that still hold it
	Push       Extreme  // how hard the hardest piece then pushes sideways, where that grows
	Falls      string   // why it can no longer be held up; empty where it can
	Follows    bool     // its way to the ground now ends in the air
}

// Rank orders what falls before what stands on it, and that before what is still held.
func (l Loose) Rank() int {
	switch {
	case l.Falls != "":
		return 0
	case l.Follows:
		return 1
	}
	return 2
}

// Change is a load that changes: between two members, or without From what arrives at a ground member.
type Change struct {
	From, To      string
	Way           Way
	Ground        bool
	Places        int
	At            float64 // along From, mm; -1 of several places
	Before, After Force
}

// Size is by how much it changes at worst, N.
func (c Change) Size() float64 {
	return max(math.Abs(c.After.Most.Value-c.Before.Most.Value), math.Abs(c.After.Least.Value-c.Before.Least.Value))
}

// Idle is a member that would serve nothing.
type Idle struct {
	Mark, Role string
	Served     []string // all that it held up
}

// Removals are the formats of a removal.
var Removals = report.Formats[Removal]{
	{Name: "json", New: func(report.Options) report.Printer[Removal] { return removalJSON{} }},
	{Name: "text", New: func(report.Options) report.Printer[Removal] { return removalText{} }},
}

type removalText struct{}

func (removalText) Print(w io.Writer, r Removal) error {
	out := newSheet(w, r.Model, r.Cases)
	out.para(0, r.Model.Title)
	out.para(0, fmt.Sprintf("What changes in %s without %s (%s). Forces in %s, downwards, of the worst characteristic combination: a minus "+
		"sign lifts.", r.Model.File, r.Mark, strings.TrimSpace(r.Role+" "+r.Section), out.unit()))
	if pushes(r.Own.Cases) {
		out.gap()
		out.para(0, fmt.Sprintf("What %s carries itself is left out with it: %s%s. Whatever takes that over must be checked.",
			r.Mark, out.most(r.Own), out.byCase(r.Own.Cases, " (", ")")))
	}
	out.heading("What loses its hold")
	out.loosened(r.Loose)
	if pushes(r.Stops.Cases) {
		out.para(hopIndent, "Load that would then reach nothing: "+out.most(r.Stops)+". It is counted nowhere below.")
	}
	out.changes("Loads of what still stands that change, the largest first", "None.", r.Changes)
	out.changes("At ground", "Nothing changes.", r.Ground)
	out.heading("Members that would then serve nothing")
	for _, i := range r.Idle {
		out.item(hopIndent, fmt.Sprintf("%s (%s): it holds up %s alone", i.Mark, i.Role, strings.Join(i.Served, ", ")))
	}
	if len(r.Idle) == 0 {
		out.para(hopIndent, "None.")
	}
	out.end(r.Notes)
	return out.w.Flush()
}

// loosened prints what falls, then in a line all that stands on it, then what is still held. Members to which the same
// happens stand together.
func (s *sheet) loosened(list []Loose) {
	if len(list) == 0 {
		s.para(hopIndent, "Nothing.")
	}
	names := map[string][]string{}
	var order []string
	for _, l := range list {
		text := s.loose(l)
		if names[text] == nil {
			order = append(order, text)
		}
		names[text] = append(names[text], l.names())
	}
	for _, text := range order {
		s.item(hopIndent, strings.Join(names[text], ", ")+": "+text)
	}
}

// names is the pieces that are concerned, or the mark where it is only named.
func (l Loose) names() string {
	if len(l.Pieces) < 2 {
		return l.Mark
	}
	return report.Runs(l.Pieces)
}

// loose says what happens to a member.
func (s *sheet) loose(l Loose) string {
	var parts []string
	for _, lost := range l.Lost {
		parts = append(parts, "without "+lost)
	}
	switch {
	case l.Falls != "":
		parts = append(parts, "cannot stand: "+l.Falls)
	case l.Follows && len(l.Lost) == 0:
		parts = append(parts, "on what then falls")
	case l.Follows:
		parts = append(parts, "and on what then falls")
	case len(l.Held) > 0:
		parts = append(parts, "still held by "+strings.Join(l.Held, ", "))
	}
	if l.Push.Value > small {
		push := "pushes sideways with up to " + s.force(l.Push.Value)
		if len(l.Pieces) > 1 {
			push += " a piece"
		}
		parts = append(parts, push+" under "+l.Push.Under)
	}
	return strings.Join(parts, ", ")
}

func (s *sheet) changes(title, none string, list []Change) {
	s.heading(title)
	for _, c := range list {
		name := c.To
		if c.From != "" {
			name = s.hopWords(&Hop{From: c.From, To: c.To, Way: c.Way, Places: c.Places, At: c.At})
		}
		text := fmt.Sprintf("%s: %s before, %s after", name, s.force(c.Before.Most.Value), s.force(c.After.Most.Value))
		if before := c.Before.Most.Value; before > small {
			text += fmt.Sprintf(" (%+.0f%%)", 100*(c.After.Most.Value/before-1))
		}
		if c.After.Least.Value < -small || c.Before.Least.Value < -small {
			text += fmt.Sprintf("; lifts by %s before, %s after", s.lift(c.Before), s.lift(c.After))
		}
		s.item(hopIndent, text)
	}
	if len(list) == 0 {
		s.para(hopIndent, none)
	}
}

func (s *sheet) lift(f Force) string { return s.force(max(0, -f.Least.Value)) }

// removalJSON prints in kN and mm.
type removalJSON struct{}

type jsonRemoval struct {
	Without string       `json:"without"`
	Own     jsonForce    `json:"own"`
	Loose   []jsonLoose  `json:"loose"`
	Stops   jsonForce    `json:"stops"`
	Changes []jsonChange `json:"changes"`
	Ground  []jsonChange `json:"ground"`
	Idle    []jsonIdle   `json:"idle"`
	Notes   []string     `json:"notes"`
	Caution string       `json:"caution"`
}

type jsonLoose struct {
	Member  string       `json:"member"`
	Pieces  []string     `json:"pieces"`
	Lost    []string     `json:"lost"`
	Held    []string     `json:"held"`
	Push    *jsonExtreme `json:"push,omitempty"`
	Falls   string       `json:"falls,omitempty"`
	Reaches bool         `json:"reaches_ground"`
}

type jsonChange struct {
	From   string         `json:"from,omitempty"`
	To     string         `json:"to"`
	Way    Way            `json:"way,omitempty"`
	Places int            `json:"places,omitempty"`
	At     *report.Number `json:"at,omitempty"`
	Before jsonForce      `json:"before"`
	After  jsonForce      `json:"after"`
}

type jsonIdle struct {
	Member string   `json:"member"`
	Served []string `json:"served"`
}

func (removalJSON) Print(w io.Writer, r Removal) error {
	k := keyed(r.Cases)
	out := jsonRemoval{Without: r.Mark, Own: k.force(r.Own), Loose: []jsonLoose{}, Stops: k.force(r.Stops), Changes: k.changes(r.Changes),
		Ground: k.changes(r.Ground), Idle: []jsonIdle{}, Notes: append([]string{}, r.Notes...), Caution: finding.Caution}
	for _, l := range r.Loose {
		out.Loose = append(out.Loose, jsonLoose{l.Mark, append([]string{}, l.Pieces...), append([]string{}, l.Lost...),
			append([]string{}, l.Held...), extreme(l.Push), l.Falls, l.Falls == "" && !l.Follows})
	}
	for _, i := range r.Idle {
		out.Idle = append(out.Idle, jsonIdle{i.Mark, i.Served})
	}
	return report.WriteJSON(w, out)
}

func (k keyed) changes(list []Change) []jsonChange {
	out := []jsonChange{}
	for _, c := range list {
		j := jsonChange{From: c.From, To: c.To, Way: c.Way, Places: c.Places, Before: k.force(c.Before), After: k.force(c.After)}
		if c.At >= 0 {
			at := report.Number(c.At)
			j.At = &at
		}
		out = append(out, j)
	}
	return out
}
