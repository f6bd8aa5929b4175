// Package us is the region of the United States: loads, spans and rules of the International Residential Code, strength by
// allowable stress after the National Design Specification, combinations of ASCE 7. It turns pieces and sites into what
// the calculators nds and irc ask for and their answers into facts; it must not know who asks, nor any other region.
package us

import (
	"context"
	"embed"
	"fmt"
	"io/fs"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/irc"
	"example.com/scantling/rules/vocabulary"
)

// edition names the rules that all answers are by, but spans that ask for another edition's design values.
const edition = "IRC 2018 and 2021, NDS 2018, ASCE 7-16"

// New is the region.
func New() region.Region { return us{} }

type us struct{}

// The facts, in the order of Describe.
const (
	bending = iota
	shear
	bearing
	compression
	tension
	combined
	deflection
	spanRatio
	spanAllowed
	liveLoad
	snowLoad
	deadLoad
	factCount
)

// Describe says what the region is.
func (us) Describe(context.Context) (*region.Description, error) {
	files, err := packFiles()
	if err != nil {
		return nil, err
	}
	return &region.Description{
		ID: "us", Title: "United States: one- and two-family houses", Edition: edition, Codes: Codes(), Contract: region.ContractVersion,
		Facts: facts(), Packs: files, Uses: uses(), Stock: stock(),
	}, nil
}

func facts() []vocabulary.Fact {
	fact := func(name string, d model.Dimension, text string, keys ...string) vocabulary.Fact {
		return vocabulary.Fact{Subject: vocabulary.Member, Name: name, Type: vocabulary.Number, Dimension: d, Text: text, Keys: append([]string{"section", "grade"}, keys...)}
	}
	return []vocabulary.Fact{
		bending:     fact("nds.bending", model.Plain, "bending stress over what is allowed (NDS 3.3), the worst place and combination", "restraint", "loads", "carries"),
		shear:       fact("nds.shear", model.Plain, "shear over what is allowed, of a notched end over what the notch leaves (NDS 3.4)", "supports.notch", "loads", "carries"),
		bearing:     fact("nds.bearing", model.Plain, "bearing stress of the wood over what is allowed, at the worst support or load that lands on it (NDS 3.10); masonry under it is not judged", "supports.bearing", "loads", "carries"),
		compression: fact("nds.compression", model.Plain, "push along the grain over what is allowed, buckling counted (NDS 3.6, 3.7); 0 without a push", "held", "restraint", "loads", "carries"),
		tension:     fact("nds.tension", model.Plain, "pull along the grain over what is allowed, cuts left out (NDS 3.8); 0 without a pull", "loads", "carries"),
		combined:    fact("nds.combined", model.Plain, "bending with a force along the grain, or in two directions (NDS 3.9); 0 without either", "held", "restraint", "loads", "carries"),
		deflection:  fact("nds.deflection", model.Plain, "sag under live load or snow over the limit of IRC R301.7, or that under wind", "loads", "carries"),
		spanRatio:   fact("irc.span", model.Plain, "span in plan over the longest that the method of the code's span tables allows", "centres", "carries", "path"),
		spanAllowed: fact("irc.span_allowed", model.Length, "longest span in plan by the method of the code's span tables, for the even load that it carries", "centres", "carries"),
		liveLoad:    fact("irc.live", model.Stress, "even live load, or roof live load, that this span is for", "centres", "carries", "areas.imposed", "areas.roof_imposed"),
		snowLoad:    fact("irc.snow", model.Stress, "even snow load that this span is for", "centres", "carries", "areas.snow"),
		deadLoad:    fact("irc.dead", model.Stress, "even dead load, its own weight counted, that this span is for", "centres", "carries", "areas.dead"),
	}
}

//go:embed pack
var pack embed.FS

// packFiles is the rule pack and the span tables that it reads.
func packFiles() ([]region.PackFile, error) {
	entries, err := fs.ReadDir(pack, "pack")
	if err != nil {
		return nil, err
	}
	var files []region.PackFile
	for _, e := range entries {
		data, err := pack.ReadFile("pack/" + e.Name())
		if err != nil {
			return nil, err
		}
		files = append(files, region.PackFile{Name: e.Name(), Data: data})
	}
	return files, nil
}

// Codes are those of the country, its states and the federal district (ISO 3166-2). They share the model codes; what a
// state or a town has amended is not known here.
func Codes() []string {
	all := []string{"US"}
	for _, state := range []string{
		"AL", "AK", "AZ", "AR", "CA", "CO", "CT", "DE", "FL", "GA", "HI", "ID", "IL", "IN", "IA", "KS", "KY", "LA", "ME", "MD", "MA", "MI", "MN", "MS", "MO",
		"MT", "NE", "NV", "NH", "NJ", "NM", "NY", "NC", "ND", "OH", "OK", "OR", "PA", "RI", "SC", "SD", "TN", "TX", "UT", "VT", "VA", "WA", "WV", "WI", "WY", "DC",
	} {
		all = append(all, "US-"+state)
	}
	return all
}

// stock is what yards commonly hold: common practice, no source.
func stock() []region.Stock {
	var lengths []float64
	for feet := 8; feet <= 20; feet += 2 {
		lengths = append(lengths, float64(feet)*irc.Foot)
	}
	var grades []string
	for _, species := range []string{"DFL", "HF", "SP", "SPF"} {
		for _, grade := range []string{"#2", "#1", "SS"} {
			grades = append(grades, species+" "+grade)
		}
	}
	var all []region.Stock
	for _, thickness := range []int{2, 4} {
		for _, width := range []int{4, 6, 8, 10, 12} {
			all = append(all, region.Stock{Section: fmt.Sprintf("%dx%d", thickness, width), Grades: grades, Lengths: lengths})
		}
	}
	return all
}
