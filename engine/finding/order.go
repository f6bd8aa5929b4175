package finding

import (
	"fmt"
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

// SortMarks puts marks in that order.
func SortMarks(marks []string) {
	sort.Slice(marks, func(i, j int) bool { return Natural(marks[i], marks[j]) })
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
	s.Complete = len(r.Lacking()) == 0
}

// Lacking is why the run is incomplete, one line each: what failed, then every rule that could not be checked and would
// be at the result's threshold or above it, with its reason. It is empty exactly where the run is complete.
func (r *Result) Lacking() []string {
	if r.AtLeast == "" {
		return r.lacking(Stop)
	}
	return r.lacking(r.AtLeast)
}

func (r *Result) lacking(atLeast Severity) []string {
	type why struct{ rule, reason string }
	var order []why
	where := map[why][]string{}
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Outcome != Unchecked || f.Severity.Rank() > atLeast.Rank() || f.Standing == Before {
			continue
		}
		if slices.ContainsFunc(r.Incomplete, func(failed string) bool { return strings.Contains(f.Reason, failed) }) {
			continue // what failed is told once, and not of every rule that it took away
		}
		w := why{f.Rule, f.Reason}
		if where[w] == nil {
			order = append(order, w)
		}
		where[w] = append(where[w], f.Where())
	}
	out := slices.Clone(r.Incomplete)
	for _, w := range order {
		out = append(out, fmt.Sprintf("%s could not be checked on %s: %s", w.rule, several(where[w]), w.reason))
	}
	return out
}

// several lists the first few of what may be many.
func several(names []string) string {
	const most = 5
	names = slices.Compact(names)
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// Status is the exit status of a result at a threshold: 0 nothing at or above it, 1 findings, 3 incomplete. What an
// earlier result held already does not count.
func (r *Result) Status(atLeast Severity) int {
	found := false
	for i := range r.Findings {
		f := &r.Findings[i]
		found = found || f.Outcome == NotMet && f.Severity.Rank() <= atLeast.Rank() && f.Standing != Before &&
			(f.Signoff == nil || f.Signoff.Lapsed != "")
	}
	switch {
	case len(r.lacking(atLeast)) > 0:
		return 3
	case found:
		return 1
	}
	return 0
}
