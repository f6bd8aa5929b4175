package finding

import (
	"slices"
	"sort"
	"strings"
)

// Sort orders findings by severity, member in natural order, rule, and place: the same findings give the same order.
func Sort(findings []Finding) {
	sort.SliceStable(findings, func(i, j int) bool { return before(&findings[i], &findings[j]) })
}

func before(a, b *Finding) bool {
	if ra, rb := a.Severity.Rank(), b.Severity.Rank(); ra != rb {
		return ra < rb
	}
	if a.Member != b.Member {
		return Natural(a.Member, b.Member)
	}
	if a.Rule != b.Rule {
		return a.Rule < b.Rule
	}
	if a.ID != b.ID {
		return a.ID < b.ID
	}
	return a.Message < b.Message
}

// Natural orders marks as people do: B2 before B10.
func Natural(a, b string) bool {
	for a != "" && b != "" {
		da, db := digits(a), digits(b)
		if da > 0 && db > 0 {
			na, nb := strings.TrimLeft(a[:da], "0"), strings.TrimLeft(b[:db], "0")
			if len(na) != len(nb) {
				return len(na) < len(nb)
			}
			if na != nb {
				return na < nb
			}
			a, b = a[da:], b[db:]
			continue
		}
		if a[0] != b[0] {
			return a[0] < b[0]
		}
		a, b = a[1:], b[1:]
	}
	return len(a) < len(b)
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// Count fills the summary's numbers of findings, and whether the run is complete.
func Count(r *Result) {
	var t Tally
	for i := range r.Findings {
		t.Add(&r.Findings[i])
	}
	s := &r.Summary
	s.Stop, s.Ask, s.Note, s.Accepted, s.Unchecked = t.Stop, t.Ask, t.Note, t.Accepted, t.Unchecked
	s.Complete = len(r.Incomplete) == 0 && !slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Outcome == Unchecked && f.Severity == Stop })
}

// Status is the exit status of a result at a threshold: 0 nothing at or above it, 1 findings, 3 incomplete. What an
// earlier result held already does not count.
func (r *Result) Status(atLeast Severity) int {
	found := false
	incomplete := len(r.Incomplete) > 0
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Severity.Rank() > atLeast.Rank() || f.Standing == Before {
			continue
		}
		switch {
		case f.Outcome == Unchecked:
			incomplete = true
		case f.Signoff == nil || f.Signoff.Lapsed != "":
			found = true
		}
	}
	switch {
	case incomplete:
		return 3
	case found:
		return 1
	}
	return 0
}
