package draw

import (
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
)

// Frame is a frame as lines in space, with the loads that pass between them.
type Frame struct {
	Units   model.Units
	Cases   []string
	Members []Member
	Hops    []Hop
}

// Member is one mark.
type Member struct {
	Mark, Role, Section, Grade string
	Drawings                   []string
	State                      State
	Ground                     bool
	Width                      float64 // of a wall or pier in plan, mm; 0 unknown
	Pieces                     []Piece
	Working                    []finding.Step
}

// Piece is one member of a run: its axis, mm, two or more points. Without an axis it is listed and not drawn.
type Piece struct {
	Name string
	Axis []model.Point
}

// Hop is the load that one piece puts on another.
type Hop struct {
	From, To string      // pieces
	At       model.Point // where it lands, mm
	Load     []float64   // N, downwards, in the order of Frame.Cases
}

// State is what is known of a member, the heaviest of its findings.
type State string

// The states. The zero value is a member that no rule has judged.
const (
	Unjudged  State = ""
	Stop      State = "stop"
	Ask       State = "ask"
	Unchecked State = "unchecked"
	Noted     State = "note"
	Accepted  State = "accepted"
	Clear     State = "clear"
)

// States lists the states, those that call for something first.
var States = []State{Stop, Ask, Unchecked, Unjudged, Noted, Accepted, Clear}

// Words is the state for a reader.
func (s State) Words() string {
	switch s {
	case Unjudged:
		return "not judged"
	case Unchecked:
		return "not checked"
	case Clear:
		return "nothing found"
	}
	return string(s)
}

// Class is the state as a class of a style sheet.
func (s State) Class() string {
	if s == Unjudged {
		return "unjudged"
	}
	return string(s)
}

// rank orders states, 0 the heaviest.
func (s State) rank() int {
	for i, state := range States {
		if state == s {
			return i
		}
	}
	return len(States)
}

// StateOf is the state that findings put a member in; judged tells whether any rule applied to it.
func StateOf(findings []finding.Finding, judged bool) State {
	state := Unjudged
	if judged {
		state = Clear
	}
	for i := range findings {
		if s := stateOf(&findings[i]); s.rank() < state.rank() || state == Unjudged {
			state = s
		}
	}
	return state
}

func stateOf(f *finding.Finding) State {
	switch {
	case report.Accepted(f):
		return Accepted
	case f.Outcome == finding.Unchecked:
		return Unchecked
	case f.Severity == finding.Stop:
		return Stop
	case f.Severity == finding.Ask:
		return Ask
	}
	return Noted
}
