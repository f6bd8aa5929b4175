package national

import (
	"fmt"
	"slices"
)

// Duration is the load-duration class of an action, EN 1995-1-1 Table 2.1. The zero Duration is not a class. A longer one is
// the smaller number, so that the shortest of a combination is the largest.
type Duration int

// The classes.
const (
	Permanent Duration = iota + 1
	LongTerm
	MediumTerm
	ShortTerm
	Instantaneous
)

// Durations lists the classes, the longest first.
var Durations = []Duration{Permanent, LongTerm, MediumTerm, ShortTerm, Instantaneous}

var durationNames = []string{"", "permanent", "long-term", "medium-term", "short-term", "instantaneous"}

// String is the name of the class in the standard.
func (d Duration) String() string {
	if d < Permanent || d > Instantaneous {
		return "no duration class"
	}
	return durationNames[d]
}

// UnmarshalText reads the name of a class.
func (d *Duration) UnmarshalText(text []byte) error {
	i := slices.Index(durationNames, string(text))
	if i < int(Permanent) {
		return fmt.Errorf("%q is no load-duration class; say one of %v", text, Durations)
	}
	*d = Duration(i)
	return nil
}
