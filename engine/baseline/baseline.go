// Package baseline holds a result against an earlier one, so that an old model can be brought under checking: what was
// found before is set apart from what is new or has got worse. It reads what the JSON format prints, and knows neither
// how findings are come by nor how they are printed.
package baseline

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"example.com/scantling/engine/finding"
)

// noticeable is how much further a figure must be from what is needed to count as worse, as a part of itself: an edit
// elsewhere moves a few newtons through a whole frame. It is held against the earlier result and not against the run
// before, so that small steps add up. No source.
const noticeable = 0.01

// Baseline is what an earlier call found, document by document.
type Baseline struct {
	file, digest string
	documents    map[string][]entry // by the document's file
}

// Digest is the SHA-256 of the text that was read, in hexadecimal.
func (b *Baseline) Digest() string { return b.digest }

// entry is what is known of an earlier finding.
type entry struct {
	ID       string   `json:"id"`
	Outcome  string   `json:"outcome"`
	Severity string   `json:"severity"`
	Count    int      `json:"count"`
	Message  string   `json:"message"`
	Ratio    *float64 `json:"ratio"`
	Found    *figure  `json:"found"`
	Required *figure  `json:"required"`
	Signoff  *struct {
		Lapsed *string `json:"lapsed"`
	} `json:"signoff"`
}

// Hold sets the standing of every finding of a result, and says in the result what came of it. A finding is the same as
// an earlier one if id and outcome are. It is worse if its severity is heavier, if more pieces have it, if it is further
// from what is needed, or if someone had accepted it and that no longer counts; of the frame as a whole, where many
// members hide behind one finding, if it says anything else. was names the earlier ids of rules.
// Documents are told apart by their file as it was named in the call: one that the earlier result does not name is new
// as a whole.
func (b *Baseline) Hold(r *finding.Result, was map[string][]string) {
	entries, known := b.documents[documentKey(r.Model.File)]
	since := &finding.Since{File: b.file, SHA256: b.digest, Known: known, Gone: len(entries)}
	left := byIdentity(entries)
	for i := range r.Findings {
		f := &r.Findings[i]
		f.Standing, f.Was = finding.New, ""
		if e := left.take(f, was[f.Rule]); e != nil {
			f.Standing, f.Was = standing(e, f)
			since.Gone--
		}
		if f.Standing == finding.Before {
			since.Before.Add(f)
		} else {
			since.New.Add(f)
		}
	}
	r.Since = since
}

// documentKey names a document by its file, however its path was spelled.
func documentKey(file string) string { return filepath.ToSlash(filepath.Clean(file)) }

// identity is what makes two findings the same.
type identity struct{ id, outcome string }

// remaining is the entries that no finding has been held against yet.
type remaining map[identity][]*entry

func byIdentity(entries []entry) remaining {
	left := remaining{}
	for i := range entries {
		e := &entries[i]
		k := identity{e.ID, e.Outcome}
		left[k] = append(left[k], e)
	}
	return left
}

// take takes out the entry that a finding is to be held against, nil if there is none. Of several, as where a member
// has two supports at one place, the first that the finding is no worse than.
func (left remaining) take(f *finding.Finding, was []string) *entry {
	for _, id := range formerIDs(f, was) {
		k := identity{id, string(f.Outcome)}
		entries := left[k]
		if len(entries) == 0 {
			continue
		}
		nth := 0
		for i, e := range entries {
			if s, _ := standing(e, f); s == finding.Before {
				nth = i
				break
			}
		}
		taken := entries[nth]
		left[k] = append(entries[:nth], entries[nth+1:]...)
		return taken
	}
	return nil
}

// formerIDs is the finding's id and those that it had under earlier ids of its rule, which an id begins with.
func formerIDs(f *finding.Finding, was []string) []string {
	ids := []string{f.ID}
	if rest, ok := strings.CutPrefix(f.ID, f.Rule); ok {
		for _, rule := range was {
			ids = append(ids, rule+rest)
		}
	}
	return ids
}

// standing is how a finding stands to the same one of before; what is worse comes with what it was.
func standing(e *entry, f *finding.Finding) (finding.Standing, string) {
	accepted := e.Signoff != nil && e.Signoff.Lapsed == nil
	switch {
	case f.Severity.Rank() < finding.Severity(e.Severity).Rank():
		return finding.Worse, e.Severity
	case accepted && (f.Signoff == nil || f.Signoff.Lapsed != ""):
		return finding.Worse, "accepted"
	case f.Count > e.Count:
		return finding.Worse, fmt.Sprintf("of %d pieces", e.Count)
	case f.Member == "" && f.Message != e.Message:
		return finding.Worse, e.Message
	case further(e, f):
		return finding.Worse, e.figures()
	}
	return finding.Before, ""
}

// further says whether a finding is noticeably further from what is needed than it was.
func further(e *entry, f *finding.Finding) bool {
	if e.Ratio != nil && f.Ratio != nil {
		return *f.Ratio > *e.Ratio*(1+noticeable)
	}
	then, ok := e.gap()
	if !ok || f.Found == nil || f.Required == nil || f.Found.Text != "" || f.Required.Text != "" {
		return false
	}
	found, unit := f.Found.Restated()
	required, _ := f.Required.Restated()
	return unit == e.Found.Unit && math.Abs(found-required) > then+noticeable*math.Max(then, math.Abs(required))
}

func digestOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
