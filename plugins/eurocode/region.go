// Package eurocode is the region that judges by the Eurocodes with the national choices of its countries: it turns what a model
// says into the calculators' terms, and what they find into the contract's. It must not know the program that asks, nor how a
// model is read.
package eurocode

import (
	"context"
	_ "embed"
	"slices"
	"sync/atomic"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
	"example.com/scantling/plugins/region"
)

// Codes are the codes that the region serves: ISO 3166, and EU for the values that the EN texts recommend.
var Codes = []string{"GB-ENG", "GB-SCT", "GB-WLS", "GB-NIR", "IE", "EU"}

// recommended is what national calls the choices of the code EU.
const recommended = "recommended"

//go:embed eurocode.yaml
var pack []byte

// New is the region.
func New() region.Region { return eurocode{last: &atomic.Pointer[study]{}} }

// eurocode keeps what it worked out last of a site: the batches of a run share theirs.
type eurocode struct{ last *atomic.Pointer[study] }

// Describe says what the region is.
func (eurocode) Describe(context.Context) (*region.Description, error) {
	return &region.Description{
		ID:    "eurocode",
		Title: "Eurocodes for timber, steel and masonry in houses",
		Edition: "EN 1990:2002, EN 1991-1-1:2002, EN 1991-1-3:2003, EN 1993-1-1:2005, EN 1995-1-1:2004 with A2:2014, EN 1996-1-1:2005; " +
			"UK National Annexes recalled, in part read in public texts; Ireland: none sourced",
		Codes:    slices.Clone(Codes),
		Contract: region.ContractVersion,
		Facts:    slices.Clone(facts),
		Beside:   []string{facts[masonryBearing].Name},
		Packs:    []region.PackFile{{Name: "eurocode.yaml", Data: pack}},
		Uses:     usesOfSpans(),
		Stock:    stock(),
	}, nil
}

// choicesFor is what holds in the place of a code.
func choicesFor(code string) (*national.Choices, working.Absence) {
	if code == "EU" {
		code = recommended
	}
	return national.For(code)
}
