// Package trace prints the way of one member's load: hop by hop to the ground, all that rests on the member, and what
// changes when it is taken out. It does not know how the way was found.
package trace

import (
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/statics"
)

// Sheet is the way of the load of one member, or of one piece of it.
type Sheet struct {
	Model    finding.Model
	Cases    []string
	Name     string // mark or piece
	Member   statics.ListedMember
	Drawings []string
	Hardest  string // of several pieces the one that presses hardest on one support
	Own      Force  // weight, and what it carries itself
	Landed   Force  // what rests on it
	Down     []Hop  // from the member to ground, in the order of the way
	Up       []Hop  // all that rests on it, from the member upwards
	Ground   []Arrival
	Notes    []string
}

// Force is a load in every case and in the worst characteristic combinations.
type Force struct {
	Cases []float64 // N, downwards, all of the case in place
	Most  Extreme   // a variable case counts where it makes it larger
	Least Extreme   // upwards where negative; a variable case counts where it makes it smaller
}

// Extreme is a load in one combination.
type Extreme struct {
	Value float64 // N
	Under string  // combination
}

// Share is the part of a Force that comes from the traced member, by superposition. It is negative where the member
// takes load off.
type Share struct {
	Cases []float64 // N
	Most  float64   // N, in the combination of the Force's Most and with the same cases
}

// Way is how load passes.
type Way string

// The ways.
const (
	Rests Way = "rests on"
	Leans Way = "leans on"   // heads of a couple: the load is the push between them
	Pulls Way = "is tied by" // the load is the pull in the tie
)

// Hop is the load from one member to another, all pieces on the way together.
type Hop struct {
	From, To string // marks
	Way      Way
	Ground   bool      // To stands on the ground
	Places   int       // supports
	At       float64   // along From, mm, of the only place; -1 of several or of a bed
	Load     Force     // all that passes there, from other members too
	Through  Share     // what acts on the traced member: its own load and what rests on it
	Own      Share     // its own load alone
	Sideways []float64 // N, size of the push that passes there too
	Hardest  Place     // the place that takes most, with variable load on some spans only where that is worse
}

// Place is one support of one piece.
type Place struct {
	Piece       string
	At          float64 // along the piece, mm
	Most, Least Extreme
}

// Arrival is what reaches one ground member.
type Arrival struct {
	Mark         string
	Total        Force
	Through, Own Share
}

// Formats are the formats of a trace as text and data; package draw makes its graph and its drawing.
var Formats = report.Formats[Sheet]{
	{Name: "json", New: func(report.Options) report.Printer[Sheet] { return jsonPrinter{} }},
	{Name: "text", New: func(report.Options) report.Printer[Sheet] { return textPrinter{} }},
}

// step is one hop of a way that is set out as a tree.
type step struct {
	*Hop
	depth int
	again bool // what follows stands above already
}

// tree sets hops out depth first from a member; each stands once. near and far are the ends of a hop as seen from there.
func tree(hops []Hop, start string, near, far func(*Hop) string) []step {
	from := map[string][]*Hop{}
	for i := range hops {
		from[near(&hops[i])] = append(from[near(&hops[i])], &hops[i])
	}
	var out []step
	told := map[string]bool{}
	var tell func(mark string, depth int)
	tell = func(mark string, depth int) {
		told[mark] = true
		for _, hop := range from[mark] {
			next := far(hop)
			again := told[next] && len(from[next]) > 0
			out = append(out, step{hop, depth, again})
			if !told[next] {
				tell(next, depth+1)
			}
		}
	}
	tell(start, 0)
	return out
}

func lower(h *Hop) string { return h.To }
func upper(h *Hop) string { return h.From }
