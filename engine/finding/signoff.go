package finding

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
)

// Digest is what a sign-off covers: the member as the document measures it, and the facts that the rule used, to six
// significant digits. It changes exactly when one of them does.
func Digest(f *Finding) string { return digest(f.Measures, f.Used) }

// SameFacts says whether two findings used facts that are the same to six significant digits.
func SameFacts(a, b *Finding) bool { return digest(a.Used) == digest(b.Used) }

func digest(lists ...[]Used) string {
	var b strings.Builder
	for _, u := range slices.Concat(lists...) {
		fmt.Fprintf(&b, "%q=%q\n", u.Name, u.Value)
	}
	sum := sha256.Sum256([]byte(b.String()))
	return hex.EncodeToString(sum[:16])
}

// Apply marks the findings that someone has accepted. What lapsed is kept on its finding with the reason; what matches
// nothing is returned. Nothing that is unchecked is ever accepted. today is an ISO date.
func Apply(findings []Finding, signed []Signoff, today string) (idle []Signoff) {
	byID := map[string][]int{}
	for i := range findings {
		byID[findings[i].Rule+" "+findings[i].Member] = append(byID[findings[i].Rule+" "+findings[i].Member], i)
	}
	for _, s := range signed {
		matched := false
		for _, i := range byID[s.Rule+" "+s.Mark] {
			f := &findings[i]
			if s.Finding != "" && s.Finding != f.ID {
				continue
			}
			matched = true
			entry := s
			switch {
			case f.Outcome == Unchecked:
				entry.Lapsed = "a sign-off does not cure what could not be checked"
			case s.Digest != Digest(f):
				entry.Lapsed = "what it covered has changed"
			case s.Until != "" && today > s.Until:
				entry.Lapsed = "its date has passed: " + s.Until
			}
			if f.Signoff == nil || f.Signoff.Lapsed != "" {
				f.Signoff = &entry
			}
		}
		if !matched {
			s.Lapsed = "nothing is found any more that it accepts"
			idle = append(idle, s)
		}
	}
	return idle
}
