package plane

import (
	"errors"
	"fmt"
)

// Kinds of error; test for them with errors.Is. What is returned wraps one of
// them in an *Error that says where.
var (
	ErrNotFinite  = errors.New("not a finite number")
	ErrLength     = errors.New("zero length")
	ErrLoad       = errors.New("load cannot be read")
	ErrBeyond     = errors.New("beyond the end of the member")
	ErrCoincident = errors.New("two supports in one place")
	ErrMechanism  = errors.New("mechanism")
	ErrDrift      = errors.New("nothing holds the member against drift")
	ErrStiffness  = errors.New("stiffness is not known")
	ErrCondition  = errors.New("too badly conditioned to be solved")
	ErrMismatch   = errors.New("lists that do not belong together")
)

// Error is one thing that stands in the way of a solution.
type Error struct {
	Kind  error   // one of the Err values
	Of    string  // "point", "support", "load", "reaction", "tie" or "rafter"; empty: the whole
	Index int     // which one, from zero, in the caller's order
	At    float64 // place along the axis, mm, where that means something
	Text  string  // what is wrong and what would help
}

func (e *Error) Error() string {
	if e.Of == "" {
		return fmt.Sprintf("%v: %s", e.Kind, e.Text)
	}
	return fmt.Sprintf("%s %d: %v: %s", e.Of, e.Index+1, e.Kind, e.Text)
}

// Unwrap gives the kind.
func (e *Error) Unwrap() error { return e.Kind }
