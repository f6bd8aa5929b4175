package us

import (
	"fmt"
	"strings"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/nds"
)

// noSteel is why a steel member has no verdict.
const noSteel = "steel is not covered by this region yet; ask the engineer"

// moisture is the content at which lumber is weighed, per cent: the most of lumber that counts as dry (NDS 4.1.4).
const moisture = 19

// steels are the structural steels that a US document may name: E 29,000 ksi, G 11,200 ksi, 490 lb/ft3 (AISC 360;
// memory). Their strengths are not held.
var steels = []string{"A36", "A992", "A500"}

var steel = region.Grade{Material: "steel", E: 29e6 * nds.PSI, G: 11.2e6 * nds.PSI, Density: 490 * 0.45359237 / (304.8 * 304.8 * 304.8)}

// properties is what the region knows of a grade that members name. A document's own declaration goes first.
func properties(name *region.GradeName) region.Grade {
	if name.Declared != nil {
		return declared(name)
	}
	if isSteel(name) {
		return steel
	}
	if name.Steel {
		return region.Grade{Reason: fmt.Sprintf("no steel %q is known here; write one of %s", name.Name, strings.Join(steels, ", "))}
	}
	g, err := nds.Lookup(nds.Supplement2018, name.Name)
	if err != nil {
		return region.Grade{Reason: err.Error()}
	}
	out := region.Grade{Material: "timber"}
	for _, p := range []struct {
		into *float64
		get  func() (float64, error)
	}{
		{&out.E, func() (float64, error) { return g.Uniform(nds.E) }},
		{&out.G, g.ShearModulus},
		{&out.Density, func() (float64, error) { return g.Density(moisture) }},
	} {
		if *p.into, err = p.get(); err != nil {
			out.Reason = err.Error()
		}
	}
	return out
}

// declared is a grade of the document's own.
func declared(name *region.GradeName) region.Grade {
	d := name.Declared
	g := region.Grade{Material: d.Material, E: d.E.Value, G: d.G.Value, Density: d.Density.Value}
	if g.G == 0 && g.Material != steel.Material {
		g.G = g.E / 16 // as of sawn lumber
	}
	if g.Material == "" || g.E <= 0 || g.G <= 0 || g.Density <= 0 {
		g.Reason = fmt.Sprintf("the document declares %q without its material, E, G or density; state them under grades", name.Name)
	}
	return g
}

func isSteel(name *region.GradeName) bool {
	first, _, _ := strings.Cut(strings.TrimPrefix(strings.ToUpper(strings.TrimSpace(name.Name)), "ASTM "), " ")
	for _, s := range steels {
		if first == s {
			return true
		}
	}
	return false
}

// lookUp is the lumber grade of a name, or why strength cannot be judged with it.
func lookUp(name *region.GradeName, edition nds.Edition) (nds.Grade, string) {
	switch {
	case name.Steel || isSteel(name) || name.Declared != nil && name.Declared.Material == steel.Material:
		return nds.Grade{}, noSteel
	case name.Declared != nil:
		return nds.Grade{}, fmt.Sprintf("%q is declared by the document: its strength is the maker's or the engineer's to state, and this region has no rule for it", name.Name)
	}
	g, err := nds.Lookup(edition, name.Name)
	if err != nil {
		return nds.Grade{}, err.Error()
	}
	return g, ""
}
