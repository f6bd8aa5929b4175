// Package ec5 checks pieces of timber against EN 1995-1-1: each check takes forces and gives demand over capacity, with the
// working on request. It must not know where the forces come from, nor steel and masonry beyond the layers of a sandwich.
package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Piece is the timber that a check is about: one section, or several plies of it side by side. The y axis is the one about
// which it bends under load in its depth, z the other; plies share the load and slide on one another.
type Piece struct {
	Grade   *materials.Timber
	Choices *national.Timber

	Breadth float64 // mm, of one ply
	Depth   float64 // mm
	Plies   int     // 0 is one

	ServiceClass int // 1 to 3, EN 1995-1-1 2.3.1.3

	// Sharing is true for one of several equal members at like spacing with a deck or battens that pass load between them, so
	// that k_sys counts (6.6); not for a trimmer or a post by itself.
	Sharing bool
}

// plies is the number of plies as a factor.
func (p *Piece) plies() float64 { return float64(max(p.Plies, 1)) }

// area is the cross-section in mm2.
func (p *Piece) area() float64 { return p.plies() * p.Breadth * p.Depth }

// moduli are the elastic section moduli in mm3; about z each ply bends by itself.
func (p *Piece) moduli() (y, z float64) {
	n, b, h := p.plies(), p.Breadth, p.Depth
	return n * b * h * h / 6, n * h * b * b / 6
}

// Rigidity is E I about the y axis in N mm2, with the mean modulus.
func (p *Piece) Rigidity() float64 {
	return p.Grade.E0Mean * p.plies() * p.Breadth * p.Depth * p.Depth * p.Depth / 12
}

// usable is why the piece cannot be checked at all.
func (p *Piece) usable() working.Absence {
	switch {
	case p.Grade == nil:
		return "the grade is not known: name a class or declare its values under grades"
	case p.Choices == nil:
		return "the national choices are not known: state the region of the site"
	case !(p.Breadth > 0 && p.Depth > 0), math.IsInf(p.Breadth*p.Depth, 0):
		return "the section has no breadth or no depth that is a number above 0"
	case p.ServiceClass < 1 || p.ServiceClass > 3:
		return "the service class is not stated: 1 for heated rooms, 2 under a roof, 3 in the weather (EN 1995-1-1 2.3.1.3)"
	}
	return ""
}

// unstated is the reason of a strength or modulus that the grade leaves out. It is worded only when it is needed.
func (p *Piece) unstated(value string) working.Absence {
	return working.Absence("grade " + p.Grade.Name + " states no " + value + ": add it to the grade's values for this region")
}
