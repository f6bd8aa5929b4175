// Package ec0 combines load cases as EN 1990 asks: rows of factors, each with its limit state and the load-duration class of
// its shortest action. It must not know effects, members or materials.
package ec0

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Action is what kind of load a case is.
type Action int

// The actions. Dead is permanent, the others are variable.
const (
	Dead Action = iota
	Imposed
	RoofImposed
	Snow
	Wind
)

// words name the actions in a combination, as the take-down names its cases, so that nobody has to know letters.
var words = [...]string{"dead", "imposed", "roof imposed", "snow", "wind"}

// Case is a load case: what one arrangement of one action does.
type Case struct {
	ID       string
	Action   Action
	Category string            // of use, where the action is imposed: "A" to "E", or a part of one as "A1"
	Duration national.Duration // load-duration class
	// Instead names cases that stand for one another: two with the same, not empty, word never act together (winds from two
	// sides, snow in two arrangements).
	Instead string
}

// Site is what the factors depend on beyond the country.
type Site struct {
	Altitude float64 // m above the sea, for the factors of snow
}

// State is the limit state and, in serviceability, the kind of combination.
type State int

// The states of EN 1990 6.4.3 and 6.5.3. Uplift is EQU: the permanent load at its least against what lifts or tips.
const (
	Strength State = iota
	Uplift
	Characteristic
	Frequent
	QuasiPermanent
)

var stateNames = [...]string{"strength", "uplift", "characteristic", "frequent", "quasi-permanent"}

// String is the name of the state.
func (s State) String() string { return stateNames[s] }

// Combination is one row of factors over the cases.
type Combination struct {
	ID       string // "1.35 G + 1.5 Q + 0.75 S": unique among the rows, the same for the same cases
	State    State
	Factors  []float64 // one for each case, in the order given; 0 where the case takes no part
	Duration national.Duration
	Clause   string
}

// Combine lists the combinations of the cases, in a fixed order: by state, then by the longest duration first, then as the
// cases were given. Every variable action leads in turn. What excludes each other is never combined: cases that stand for one
// another, and the maintenance load of a roof with snow or wind (EN 1991-1-1 3.3.2(1)). For each duration class there is a row
// of the cases that last at least as long, since k_mod makes fewer loads for longer a check of its own; and each variable case
// stands alone once, since the others may relieve it, as snow does the wind's suction.
func Combine(cases []Case, choices *national.Choices, site Site) ([]Combination, working.Absence) {
	factors, absent := readFactors(cases, choices, site)
	if absent != "" {
		return nil, absent
	}
	c := combiner{cases: cases, names: nameCases(cases), f: factors, seen: map[string]bool{}}
	sets := c.compatible()
	for state := Strength; state <= QuasiPermanent; state++ {
		for _, set := range sets {
			c.rows(state, set)
		}
	}
	return c.found, ""
}

// factors are the national values that the rows are made of.
type factors struct {
	gSup, gInf, gEqu, q, xi float64
	two                     bool // 6.10a and 6.10b in place of 6.10
	psi                     []national.Psi
}

func readFactors(cases []Case, choices *national.Choices, site Site) (f factors, absent working.Absence) {
	n := &choices.Combinations
	for _, want := range []struct {
		from *national.Value
		into *float64
	}{{&n.GammaGSup, &f.gSup}, {&n.GammaGInf, &f.gInf}, {&n.GammaGEquInf, &f.gEqu}, {&n.GammaQ, &f.q}} {
		if *want.into, absent = want.from.Get(); absent != "" {
			return f, absent
		}
	}
	expression, absent := n.Expression.Get()
	if absent != "" {
		return f, absent
	}
	if f.two = expression == "6.10a/b"; f.two {
		if f.xi, absent = n.Xi.Get(); absent != "" {
			return f, absent
		}
	} else if expression != "6.10" {
		return f, working.Absence(fmt.Sprintf("the expression %q is none of EN 1990: the national choices must say 6.10 or 6.10a/b", expression))
	}
	f.psi = make([]national.Psi, len(cases))
	for i, one := range cases {
		if one.Duration < national.Permanent || one.Duration > national.Instantaneous {
			return f, working.Absence(fmt.Sprintf("load case %q has no load-duration class", one.ID))
		}
		if one.Action == Dead {
			continue
		}
		if one.Action == Imposed && one.Category == "" {
			return f, working.Absence(fmt.Sprintf("load case %q states no category of use (EN 1991-1-1 Table 6.1)", one.ID))
		}
		if f.psi[i], absent = n.Psi.Get(psiName(one, site)); absent != "" {
			return f, absent
		}
	}
	return f, ""
}

// psiName is the row of EN 1990 Table A1.1 that a case belongs to.
func psiName(c Case, site Site) string {
	const highSnow = 1000 // m, EN 1990 Table A1.1
	switch {
	case c.Action == Wind:
		return "wind"
	case c.Action == RoofImposed:
		return "H"
	case c.Action == Snow && site.Altitude > highSnow:
		return "snow above 1000 m"
	case c.Action == Snow:
		return "snow"
	}
	return strings.TrimRight(c.Category, "0123456789") // A1 to A7 share the factors of A
}

// nameCases gives each case the word for its action, with its id behind it where several variable cases share the word.
func nameCases(cases []Case) []string {
	count := map[Action]int{}
	for _, c := range cases {
		count[c.Action]++
	}
	names := make([]string, len(cases))
	for i, c := range cases {
		word := words[c.Action]
		switch {
		case c.Action == Dead || count[c.Action] == 1:
			names[i] = word
		case strings.HasPrefix(c.ID, word):
			names[i] = c.ID
		default:
			names[i] = word + " (" + c.ID + ")"
		}
	}
	return names
}

type combiner struct {
	cases []Case
	names []string
	f     factors
	seen  map[string]bool
	found []Combination
}

// compatible lists the sets of variable cases that act together, each as the places of its cases: the empty set, then for
// each duration class every case of that class alone and the largest sets of cases that last at least as long.
func (c *combiner) compatible() [][]int {
	sets := [][]int{nil}
	add := func(set []int) {
		if !slices.ContainsFunc(sets, func(known []int) bool { return slices.Equal(known, set) }) {
			sets = append(sets, set)
		}
	}
	for _, shortest := range national.Durations {
		var candidates []int
		for i, one := range c.cases {
			if one.Action == Dead || one.Duration > shortest {
				continue
			}
			candidates = append(candidates, i)
			if one.Duration == shortest {
				add([]int{i})
			}
		}
		for _, set := range c.largest(nil, candidates) {
			add(set)
		}
	}
	return sets
}

// largest lists the sets that hold taken and to which none of the candidates can be added any more. A candidate that goes
// with all the others is taken at once; only one in a conflict branches, so that the work grows with the conflicts alone.
func (c *combiner) largest(taken, candidates []int) [][]int {
	for at, i := range candidates {
		rest := slices.Delete(slices.Clone(candidates), at, at+1)
		var beside []int
		for _, j := range rest {
			if !c.exclude(i, j) {
				beside = append(beside, j)
			}
		}
		if len(beside) == len(rest) {
			continue
		}
		with := c.largest(append(slices.Clone(taken), i), beside)
		for _, set := range c.largest(taken, rest) {
			if slices.ContainsFunc(set, func(j int) bool { return c.exclude(i, j) }) {
				with = append(with, set) // otherwise i could still be added to it
			}
		}
		return with
	}
	set := append(slices.Clone(taken), candidates...)
	slices.Sort(set)
	return [][]int{set}
}

func (c *combiner) exclude(i, j int) bool {
	a, b := c.cases[i], c.cases[j]
	if a.Instead != "" && a.Instead == b.Instead {
		return true
	}
	maintenance := func(one, other Case) bool {
		return one.Action == RoofImposed && (other.Action == Snow || other.Action == Wind)
	}
	return maintenance(a, b) || maintenance(b, a)
}

// rows adds the combinations of one state over one set of variable cases.
func (c *combiner) rows(state State, set []int) {
	f := &c.f
	lead := func(clause string, permanent, gamma float64, first, others func(national.Psi) float64) {
		if len(set) == 0 {
			c.add(state, clause, permanent, nil)
			return
		}
		for _, leading := range set {
			c.add(state, clause, permanent, func(i int) float64 {
				switch {
				case !slices.Contains(set, i):
					return 0
				case i == leading:
					return gamma * first(f.psi[i])
				}
				return gamma * others(f.psi[i])
			})
		}
	}
	whole := func(national.Psi) float64 { return 1 }
	psi0 := func(p national.Psi) float64 { return p.Psi0 }
	psi1 := func(p national.Psi) float64 { return p.Psi1 }
	psi2 := func(p national.Psi) float64 { return p.Psi2 }
	switch state {
	case Strength:
		if f.two {
			lead("EN 1990 6.4.3.2, 6.10a", f.gSup, f.q, psi0, psi0)
			lead("EN 1990 6.4.3.2, 6.10b", f.xi*f.gSup, f.q, whole, psi0)
		} else {
			lead("EN 1990 6.4.3.2, 6.10", f.gSup, f.q, whole, psi0)
		}
		if len(set) > 0 {
			lead("EN 1990 6.4.3.2, 6.10, permanent load favourable", f.gInf, f.q, whole, psi0)
		}
	case Uplift:
		if len(set) > 0 {
			lead("EN 1990 6.4.2, EQU", f.gEqu, f.q, whole, psi0)
		}
	case Characteristic:
		lead("EN 1990 6.5.3, 6.14", 1, 1, whole, psi0)
	case Frequent:
		lead("EN 1990 6.5.3, 6.15", 1, 1, psi1, psi2)
	case QuasiPermanent:
		lead("EN 1990 6.5.3, 6.16", 1, 1, psi2, psi2)
	}
}

// add adds a row unless one of the same state and factors stands already.
func (c *combiner) add(state State, clause string, permanent float64, variable func(i int) float64) {
	row := Combination{State: state, Clause: clause, Factors: make([]float64, len(c.cases)), Duration: national.Permanent}
	for i, one := range c.cases {
		if one.Action == Dead {
			row.Factors[i] = permanent
		} else if variable != nil {
			row.Factors[i] = variable(i)
		}
		if row.Factors[i] != 0 {
			row.Duration = max(row.Duration, one.Duration)
		}
	}
	row.ID = c.id(state, row.Factors)
	if row.ID == "" || c.seen[row.ID] {
		return
	}
	c.seen[row.ID] = true
	c.found = append(c.found, row)
}

// id words a row: the permanent actions as one, since they share a factor, then the variable ones as given; behind the name
// of the state where that is not one that the factors show.
func (c *combiner) id(state State, factors []float64) string {
	var permanent, variable []string
	for i, factor := range factors {
		if factor == 0 {
			continue
		}
		name := c.names[i]
		if factor != 1 || state == Strength || state == Uplift {
			name = strconv.FormatFloat(factor, 'g', 4, 64) + " " + name
		}
		switch {
		case c.cases[i].Action != Dead:
			variable = append(variable, name)
		case permanent == nil:
			permanent = append(permanent, name)
		}
	}
	words := strings.Join(append(permanent, variable...), " + ")
	if words != "" && (state == Uplift || state == Frequent || state == QuasiPermanent) {
		words = state.String() + " " + words
	}
	return words
}
