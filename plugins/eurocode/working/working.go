// Package working holds what every calculation of the region hands back: a ratio or the reason why there is none, and on
// request the lines that an engineer would write. It must not know any code of practice.
package working

import "math"

// Step is one line of a calculation: the symbol, its value in the named unit, and the clause that it comes from.
type Step struct {
	Symbol string
	Value  float64
	Unit   string // "", "mm", "N", "N/mm2", "N mm" ...
	Clause string // with its standard, "EN 1995-1-1 6.3.3(3)"
}

// Sheet collects the steps in the order in which they are worked. A nil Sheet collects nothing and costs nothing, so that a
// check writes its steps without asking whether anybody reads them.
type Sheet struct {
	Steps []Step
}

// Step adds a line.
func (s *Sheet) Step(symbol string, value float64, unit, clause string) {
	if s == nil {
		return
	}
	s.Steps = append(s.Steps, Step{symbol, value, unit, clause})
}

// Absence says why a value is not there, in words that the reader can act on. The empty Absence means that nothing is absent.
type Absence string

// Error makes an Absence an error, for callers that carry it as one.
func (a Absence) Error() string { return string(a) }

// nothing is the reason of an Outcome that nobody filled in.
const nothing Absence = "nothing was calculated"

// notFinite is the reason of a ratio that came out as no number.
const notFinite Absence = "the calculation gave no finite number: look for a size or a strength of zero"

// Outcome is a ratio of demand to capacity, or the reason of its absence. The zero Outcome is absent: unknown is never a pass.
type Outcome struct {
	ratio  float64
	known  bool
	reason Absence
}

// Found is the outcome with this ratio; one that is negative or not finite is absent.
func Found(ratio float64) Outcome {
	if math.IsNaN(ratio) || math.IsInf(ratio, 0) || ratio < 0 {
		return Outcome{reason: notFinite}
	}
	return Outcome{ratio: ratio, known: true}
}

// Missing is the outcome that is absent for this reason.
func Missing(reason Absence) Outcome {
	if reason == "" {
		reason = nothing
	}
	return Outcome{reason: reason}
}

// Ratio is demand over capacity, and whether it is known.
func (o Outcome) Ratio() (ratio float64, known bool) { return o.ratio, o.known }

// Reason is why the ratio is absent; empty when it is known.
func (o Outcome) Reason() Absence {
	if o.known {
		return ""
	}
	if o.reason == "" {
		return nothing
	}
	return o.reason
}

// Worst is the larger of two ratios, absent as soon as one of them is: a check that was half done is not done.
func Worst(a, b Outcome) Outcome {
	switch {
	case !a.known:
		return a
	case !b.known:
		return b
	case b.ratio > a.ratio:
		return b
	}
	return a
}
