package model

import (
	"fmt"
	"strings"
)

// Dimension is a quantity's kind: the exponents of force, length, mass and angle. The zero value is a plain number.
type Dimension struct{ Force, Length, Mass, Angle int8 }

// The dimensions that a framing model and its rules name.
var (
	Plain     = Dimension{}
	Length    = Dimension{Length: 1}
	Surface   = Dimension{Length: 2}
	Modulus   = Dimension{Length: 3} // section modulus
	Inertia   = Dimension{Length: 4} // second moment of area
	Warping   = Dimension{Length: 6}
	Force     = Dimension{Force: 1}
	Moment    = Dimension{Force: 1, Length: 1}
	LineLoad  = Dimension{Force: 1, Length: -1}
	Stress    = Dimension{Force: 1, Length: -2} // area loads too
	Stiffness = Dimension{Force: 1, Length: 2}  // E times I
	Mass      = Dimension{Mass: 1}
	LineMass  = Dimension{Mass: 1, Length: -1}
	Density   = Dimension{Mass: 1, Length: -3}
	Angle     = Dimension{Angle: 1}
)

var dimensionNames = map[Dimension]string{
	Plain: "number", Length: "length", Surface: "area", Modulus: "section modulus", Inertia: "second moment of area",
	Warping: "warping constant", Force: "force", Moment: "moment", LineLoad: "force per length", Stress: "force per area",
	Stiffness: "bending stiffness", Mass: "mass", LineMass: "mass per length", Density: "density", Angle: "angle",
}

// Times is the dimension of a product.
func (d Dimension) Times(e Dimension) Dimension {
	return Dimension{d.Force + e.Force, d.Length + e.Length, d.Mass + e.Mass, d.Angle + e.Angle}
}

// Over is the dimension of a quotient.
func (d Dimension) Over(e Dimension) Dimension {
	return Dimension{d.Force - e.Force, d.Length - e.Length, d.Mass - e.Mass, d.Angle - e.Angle}
}

// Power is the dimension of a whole power.
func (d Dimension) Power(n int8) Dimension {
	return Dimension{d.Force * n, d.Length * n, d.Mass * n, d.Angle * n}
}

// String names the dimension in a reader's words: "length", "force per area", or exponents where no word exists.
func (d Dimension) String() string {
	if name, ok := dimensionNames[d]; ok {
		return name
	}
	var parts []string
	for _, p := range []struct {
		unit string
		exp  int8
	}{{"N", d.Force}, {"mm", d.Length}, {"kg", d.Mass}, {"rad", d.Angle}} {
		switch {
		case p.exp == 1:
			parts = append(parts, p.unit)
		case p.exp != 0:
			parts = append(parts, fmt.Sprintf("%s^%d", p.unit, p.exp))
		}
	}
	return strings.Join(parts, " ")
}

// Phrase is the dimension with its article: "a length", "an angle".
func (d Dimension) Phrase() string {
	name := d.String()
	if name != "" && strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}
