package nds

import (
	"fmt"
	"math"
)

// Check is one comparison of demand with capacity: the outcome and how it was reached.
type Check struct {
	Name   string  // what was checked, in words
	Clause string  // the clause of the NDS that asks for it
	Ratio  float64 // demand over capacity, finite, 1 or less is met
	Steps  []Step  // the working, in the order in which it is read
}

// Step is one line of the working.
type Step struct {
	Symbol string  // as the NDS writes it, in plain letters: Fb, CF, Fb*, le
	Value  float64 // in Unit
	Unit   string  // mm, mm2, mm3, mm4, N, N/mm, N mm, N/mm2, or empty for a bare number
	Clause string
	Text   string // what the reader would otherwise have to ask; often empty
}

// Absence says that a value or a check cannot be had, and why. It is never a pass and never a fail.
type Absence struct {
	What   string // the value or check that is absent
	Reason string // why, and what to state or change
}

func (a *Absence) Error() string { return a.What + ": " + a.Reason }

func absent(what, reason string, args ...any) *Absence {
	return &Absence{What: what, Reason: fmt.Sprintf(reason, args...)}
}

// working collects steps; set returns the value so that a line of arithmetic and its record are one line of code.
type working struct {
	steps []Step
	quiet bool // keep none
}

func (w *working) set(symbol string, value float64, unit, clause, text string) float64 {
	if !w.quiet {
		w.steps = append(w.steps, Step{symbol, value, unit, clause, text})
	}
	return value
}

// check closes the working. A ratio that is not finite is no verdict.
func (w working) check(name, clause string, ratio float64) (Check, error) {
	if math.IsNaN(ratio) || math.IsInf(ratio, 0) {
		return Check{}, absent(name, "the figures given do not lead to a finite ratio")
	}
	return Check{Name: name, Clause: clause, Ratio: ratio, Steps: w.steps}, nil
}

// finite refuses what arithmetic cannot carry to a verdict.
func finite(what string, values ...float64) error {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return absent(what, "a figure given is not a finite number")
		}
	}
	return nil
}

// positive refuses lengths and limits that have not been stated.
func positive(what, name string, v float64) error {
	if !(v > 0) || math.IsInf(v, 0) {
		return absent(what, "%s must be stated and above zero", name)
	}
	return nil
}
