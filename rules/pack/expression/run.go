package expression

import (
	"math"

	"example.com/scantling/rules/vocabulary"
)

// Run is the state of evaluations over one set of facts. It belongs to one goroutine; what is bound does not.
type Run struct {
	Absent vocabulary.Reason // why the evaluation stopped; 0: it did not
	Spent  bool              // it stopped because it took too many steps

	judged  [2]int32                 // the row that is judged, and its document row
	rows    [maxPredicates + 1]int32 // the row that is judged, then the element of each predicate
	site    *node                    // where it stopped
	steps   int
	scratch []int32 // rows that filters have kept
}

// budget is the steps of one evaluation: elements of collections, each weighed by the size of what is asked of it.
const budget = 2_000_000

// Begin sets the row that is judged next and forgets how the last evaluation ended.
func (r *Run) Begin(row, document int32) {
	r.judged, r.rows[0] = [2]int32{row, document}, row
	r.Again()
}

// Again begins another evaluation on the same row.
func (r *Run) Again() {
	r.steps = budget
	if r.Absent != 0 {
		r.Absent, r.Spent, r.site = 0, false, nil
		r.scratch = r.scratch[:0]
	}
}

// Stopped names the fact or the part of an expression at which the evaluation stopped.
func (r *Run) Stopped() string {
	if r.site == nil {
		return ""
	}
	return r.site.String()
}

// StoppedFact is the fact that was absent, or nil where the evaluation stopped at something else.
func (r *Run) StoppedFact() *vocabulary.Fact {
	if r.site == nil || r.site.path == nil {
		return nil
	}
	return r.site.path.fact
}

func (r *Run) stop(reason vocabulary.Reason, at *node) {
	if r.Absent == 0 {
		r.Absent, r.site = reason, at
	}
}

// tolerance is the relative difference within which two numbers are equal.
const tolerance = 1e-9

func near(a, b float64) bool {
	d := math.Abs(a - b)
	return d <= tolerance*math.Abs(a) || d <= tolerance*math.Abs(b)
}

func finite(v float64) bool { return v-v == 0 }
