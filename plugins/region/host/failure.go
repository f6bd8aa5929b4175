package host

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Failure is any way in which a region lets the program down. Every error of a Client is one, so that the program can
// leave out what the region owed, for the reason given, and call the run incomplete.
type Failure struct {
	Region string // as the user knows it: an id or a path
	During string // start, describe, prepare, derive or span
	Cause  Cause
	Reason string // one line
	Fix    string // what to do about it
	Err    error  // what lies beneath; may be nil
}

// Cause sorts failures.
type Cause uint8

// The causes of failure.
const (
	Unstartable Cause = iota // the executable cannot be run, or does not speak the contract at all
	Version                  // it speaks another version of the contract; Err is a *VersionError
	Digest                   // it differs from its digest; Err is a *DigestError
	Died                     // its process has ended
	Slow                     // it did not answer in time, and was ended
	Malformed                // its answer breaks the contract
	Refused                  // it answered with an error of its own
	Panicked                 // its code panicked
	Oversize                 // a message is larger than region.MaxMessage
	Unfit                    // what it was to be sent breaks the contract: a fault of the program
	Cancelled                // the caller gave up, or closed the client
)

// Error is the failure in one line.
func (f *Failure) Error() string {
	text := fmt.Sprintf("region %s, %s: %s", f.Region, f.During, f.Reason)
	if f.Fix != "" {
		text += "; " + f.Fix
	}
	return text
}

// Unwrap is what lies beneath the failure.
func (f *Failure) Unwrap() error { return f.Err }

// VersionError says that region and program speak different versions of the contract.
type VersionError struct {
	Region  int   // version that the region offers
	Program []int // versions that the program speaks, rising
}

// Upgrade is the side to upgrade: "region" or "scantling".
func (e *VersionError) Upgrade() string {
	if e.Region > e.Program[len(e.Program)-1] {
		return "scantling"
	}
	return "region"
}

// Error names both versions and the side to upgrade.
func (e *VersionError) Error() string {
	return fmt.Sprintf("the region speaks version %d of the contract and scantling speaks %s: upgrade %s",
		e.Region, strings.Trim(fmt.Sprint(e.Program), "[]"), map[string]string{"region": "the region", "scantling": "scantling"}[e.Upgrade()])
}

// DigestError says that an executable is not the one that was pinned.
type DigestError struct {
	Want, Got string // SHA-256 in hexadecimal
}

// Error names both digests.
func (e *DigestError) Error() string {
	return fmt.Sprintf("its SHA-256 is %s, and %s was pinned", e.Got, e.Want)
}

// printable is text of a region's making, made safe to print: one line, no control characters, at most limit bytes.
func printable(text string, limit int) string {
	text = strings.ToValidUTF8(text, "?")
	text = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, text)
	text = strings.Join(strings.Fields(text), " ")
	if len(text) <= limit {
		return text
	}
	for limit > 0 && !utf8.RuneStart(text[limit]) {
		limit--
	}
	return text[:limit] + " ..."
}
