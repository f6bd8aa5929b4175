package draft

import (
	"fmt"
	"math"
	"strings"

	"example.com/scantling/model"
)

// Problem is one thing that keeps options from making a model.
type Problem struct {
	Option  string // what it is about, in words
	Message string
	Fix     string // what to do
}

// Error is the problem in one line.
func (p Problem) Error() string { return p.Option + ": " + p.Message + "; " + p.Fix }

// Problems are all of them.
type Problems []Problem

// Error is one line per problem.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

func (b *builder) wrong(option, message, fix string) {
	b.problems = append(b.problems, Problem{option, message, fix})
}

// within refuses a length outside what is sensible, mm.
func (b *builder) within(option string, v, least, most float64) {
	if v >= least && v <= most {
		return
	}
	b.wrong(option, b.length(v)+" is out of range", "give "+b.length(least)+" to "+b.length(most))
}

// angle refuses an angle outside so many degrees.
func (b *builder) angle(option string, v, least, most float64) {
	if d := v * 180 / math.Pi; d >= least-1e-9 && d <= most+1e-9 {
		return
	}
	b.wrong(option, model.Format(v, model.Angle, b.Units)+" is out of range", fmt.Sprintf("give %g to %g degrees", least, most))
}

// length is a length in words of the units.
func (b *builder) length(v float64) string { return model.Format(v, model.Length, b.Units) }

func kindNames() string {
	names := make([]string, len(Kinds))
	for i, k := range Kinds {
		names[i] = string(k.Kind)
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
