package us

import (
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/nds"
)

// outcome is one fact of one piece while its checks run: the worst ratio so far, or what could not be worked out.
type outcome struct {
	known       bool
	value       float64
	reason      string
	combination int32
	contact     int32
	at          float64
	steps       []nds.Step
}

// nothing is the outcome of a fact for which there is nothing to check.
func nothing() outcome { return outcome{known: true, combination: -1, contact: -1} }

// take keeps a check if it is the worst so far. A check that cannot be made leaves the fact without a value, whatever
// the others say.
func (o *outcome) take(c nds.Check, err error, combination, contact int32, at float64) {
	switch {
	case o.reason != "":
	case err != nil:
		*o = outcome{reason: err.Error()}
	case !o.known || o.combination < 0 || c.Ratio > o.value:
		*o = outcome{true, c.Ratio, "", combination, contact, at, c.Steps}
	}
}

// absent leaves the fact without a value.
func (o *outcome) absent(reason string) { *o = outcome{reason: reason} }

// answers fills the reply to a batch.
type answers struct {
	out     *region.Derived
	working bool
	reasons map[string]int32
}

func newAnswers(b *region.Batch) *answers {
	n := len(b.Pieces.ID) * factCount
	return &answers{working: b.Working, reasons: map[string]int32{"": 0}, out: &region.Derived{
		Sequence: b.Sequence, ID: b.Pieces.ID, Value: make([]float64, n), Reason: make([]int32, n), Reasons: region.Dictionary{""},
		Combination: make([]int32, n), Contact: make([]int32, n), At: make([]float64, n),
	}}
}

// put writes down what came of a fact of a piece.
func (a *answers) put(piece, fact int, o outcome) {
	k := piece*factCount + fact
	a.out.Combination[k], a.out.Contact[k] = -1, -1
	if !o.known {
		a.out.Reason[k] = a.reason(o.reason)
		return
	}
	a.out.Value[k], a.out.Combination[k], a.out.Contact[k], a.out.At[k] = o.value, o.combination, o.contact, o.at
	if a.working {
		for _, s := range o.steps {
			a.out.Working = append(a.out.Working, region.Step{Piece: int32(piece), Fact: int32(fact), Symbol: s.Symbol, Value: s.Value, Unit: s.Unit, Clause: s.Clause})
		}
	}
}

func (a *answers) reason(text string) int32 {
	i, known := a.reasons[text]
	if !known {
		i = int32(len(a.out.Reasons))
		a.reasons[text] = i
		a.out.Reasons = append(a.out.Reasons, text)
	}
	return i
}
