package loadpath

import (
	"math"
	"slices"

	"example.com/scantling/engine"
	"example.com/scantling/engine/report/trace"
	"example.com/scantling/plugins/region"
)

// Worst finds the worst characteristic combination of a load.
type Worst struct {
	permanent    []bool
	combinations []*region.Combination
}

// NewWorst is of the cases and combinations of a run.
func NewWorst(r *engine.Run) Worst {
	w := Worst{permanent: make([]bool, len(r.Down.Cases))}
	for c := range r.Down.Cases {
		w.permanent[c] = r.Down.Cases[c].Permanent
	}
	for i := range r.Combinations {
		if s := r.Combinations[i].State; s == region.Characteristic || s == region.Allowable {
			w.combinations = append(w.combinations, &r.Combinations[i])
		}
	}
	return w
}

// Force is a load with its extremes.
func (w Worst) Force(cases []float64) trace.Force {
	return trace.Force{Cases: cases, Most: w.extreme(cases, 1), Least: w.extreme(cases, -1)}
}

// extreme is the largest, or with sign -1 the smallest, value in any combination. Of combinations that say the same the
// plainest is named.
func (w Worst) extreme(cases []float64, sign float64) trace.Extreme {
	var out trace.Extreme
	if !slices.ContainsFunc(cases, func(v float64) bool { return v != 0 }) {
		return out
	}
	idle := 0
	for _, k := range w.combinations {
		v := w.sum(k, cases, cases, sign)
		spare := w.spare(k, cases, sign)
		gain := sign * (v - out.Value)
		same := math.Abs(gain) <= 1e-9*math.Abs(v)
		if out.Under == "" || gain > 0 && !same || same && spare < idle {
			out, idle = trace.Extreme{Value: v, Under: k.ID}, spare
		}
	}
	return out
}

// sum is a combination of a part of a load; which of the variable cases count, the whole load decides.
func (w Worst) sum(k *region.Combination, whole, part []float64, sign float64) float64 {
	v := 0.0
	for c, factor := range k.Factors {
		if w.permanent[c] || sign*factor*whole[c] > 0 {
			v += factor * part[c]
		}
	}
	return v
}

// spare counts the cases of a combination that do not count.
func (w Worst) spare(k *region.Combination, cases []float64, sign float64) int {
	n := 0
	for c, factor := range k.Factors {
		if factor != 0 && !w.permanent[c] && sign*factor*cases[c] <= 0 {
			n++
		}
	}
	return n
}

// share is a part of a load, at the worst of the whole.
func (w Worst) share(whole trace.Force, part []float64) trace.Share {
	s := trace.Share{Cases: part}
	for _, k := range w.combinations {
		if k.ID == whole.Most.Under {
			s.Most = w.sum(k, whole.Cases, part, 1)
		}
	}
	return s
}
