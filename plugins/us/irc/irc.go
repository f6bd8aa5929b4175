// Package irc works out the prescriptive spans of the International Residential Code for sawn joists and rafters, by
// the method that reproduces its tables, and holds the code's rules on bearing, cuts, ridges and ties as figures and
// small functions. It must not know models, statics or findings; design values come from package nds.
//
// Everything that crosses the package boundary is in mm, N/mm2 and radians. The figures of the code are in inches and
// pounds and are kept exact: 1 psf is nds.PSI / 144.
//
// How a rule is known is said beside it: Document was read in a document, Reproduced was established by recomputing
// published cells, Memory was recalled and not read.
package irc

import "example.com/scantling/plugins/us/nds"

// PSF is one pound per square foot in N/mm2.
const PSF = nds.PSI / 144

// Foot is one foot in mm.
const Foot = 12 * nds.Inch

// Known says how a rule or figure is known.
type Known string

// The ways in which something is known, the surest first.
const (
	Document   Known = "document"
	Reproduced Known = "reproduced" // by recomputing published cells
	Memory     Known = "memory"
)

// Source is the clause that asks for something, and how that is known.
type Source struct {
	Clause string
	Known  Known
}
