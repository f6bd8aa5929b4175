// Package materials knows the strength classes of timber and steel by name, and reads the values that a document declares
// for what has no class. It must not know partial factors, loads or checks.
package materials

import (
	"fmt"
	"sync"

	"example.com/scantling/plugins/eurocode/working"
)

// Kind is what a piece of timber is made as; factors go by it.
type Kind int

// The kinds. Hardwood is also what a timber of no stated species counts as, since softwood has the bonuses.
const (
	Hardwood Kind = iota
	Softwood
	Glulam
	LVL
)

// kinds are the words for the kinds in data and declarations, "timber" being one of no stated species.
var kinds = map[string]Kind{"hardwood": Hardwood, "timber": Hardwood, "softwood": Softwood, "glulam": Glulam, "LVL": LVL}

// Timber is what a class or a declaration states of a timber: characteristic strengths and moduli in N/mm2, densities in
// kg/m3. A zero is a value that is not stated; what needs it is absent.
type Timber struct {
	Name string
	Kind Kind

	FmK     float64 // bending, edgewise
	FmFlatK float64 // bending, flatwise, of LVL; other kinds have one bending strength
	Ft0K    float64 // tension along the grain
	Ft90K   float64 // tension across the grain
	Fc0K    float64 // compression along the grain
	Fc90K   float64 // compression across the grain (of LVL: edgewise)
	FvK     float64 // shear

	E0Mean, E005, E90Mean float64
	GMean, G005           float64

	RhoK, RhoMean float64

	SizeExponent float64 // s of LVL, EN 1995-1-1 3.4

	Source string // the standard and table, or who declares the values
}

// FindTimber gives the class of this name from EN 338 or EN 14080.
func FindTimber(name string) (*Timber, working.Absence) {
	if found, ok := timbers()[name]; ok {
		return found, ""
	}
	return nil, working.Absence(fmt.Sprintf(
		"grade %s is neither in EN 338 nor in EN 14080; name a class or declare its values under grades", quoted(name)))
}

var timbers = sync.OnceValue(func() map[string]*Timber {
	byName := map[string]*Timber{}
	for _, row := range rows("data/timber.csv") {
		kind, ok := kinds[row.text("kind")]
		if !ok {
			panic("materials: timber.csv has a kind that is not known: " + row.text("kind"))
		}
		byName[row.text("name")] = &Timber{
			Name: row.text("name"), Kind: kind,
			FmK: row.number("fm_k"), Ft0K: row.number("ft0_k"), Ft90K: row.number("ft90_k"),
			Fc0K: row.number("fc0_k"), Fc90K: row.number("fc90_k"), FvK: row.number("fv_k"),
			E0Mean: row.number("E0_mean"), E005: row.number("E005"), E90Mean: row.number("E90_mean"),
			GMean: row.number("G_mean"), G005: row.number("G005"),
			RhoK: row.number("rho_k"), RhoMean: row.number("rho_mean"),
			Source: row.text("source"),
		}
	}
	return byName
})
