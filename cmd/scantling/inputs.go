package main

import (
	"crypto/sha256"
	"fmt"

	"example.com/scantling/engine"
	"example.com/scantling/engine/baseline"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/signoff"
)

// inputCall says what a call is to read.
type inputCall struct {
	models []string // files, folders, or - for the standard input
	built  string   // the frame as built, judged instead of the one model
	since  string   // an earlier result
}

// inputs are what was read.
type inputs struct {
	sources  []*engine.Source
	drawn    *engine.Source      // the model that the one source was built from; nil without --built
	signed   [][]finding.Signoff // by source
	since    *baseline.Baseline  // nil without --since
	problems []report.Problem    // of what could not be used
	list     bool                // more than one model was asked for
}

// usable says what keeps a call from being followed.
func (c *inputCall) usable() error {
	if c.built != "" && len(c.models) != 1 {
		return unusablef("--built is the frame as built of one model, and %d are given", len(c.models))
	}
	return nil
}

// gather reads all that a call names. Problems are those of models; an earlier result that cannot be used leaves nothing
// to judge against.
func (a *app) gather(c inputCall) (*inputs, error) {
	in := &inputs{}
	if c.since != "" {
		if in.since, in.problems = earlier(c.since); len(in.problems) > 0 {
			return in, nil
		}
	}
	if c.built == "" {
		in.sources, in.problems, in.list = a.models(c.models)
	} else {
		in.sources, in.drawn, in.problems = a.builtOn(c.models[0], c.built)
	}
	for _, src := range in.sources {
		model := src.File
		if c.built != "" { // what was accepted was accepted of the model; it lapses where the frame as built differs
			model = c.models[0]
		}
		signed, err := signoff.Load(signoff.Path(model))
		if err != nil {
			return nil, unusable{err}
		}
		in.signed = append(in.signed, signed)
	}
	return in, nil
}

// builtOn reads the one model, and what was built instead.
func (a *app) builtOn(model, built string) (sources []*engine.Source, drawn *engine.Source, problems []report.Problem) {
	if drawn, problems = a.one(model); problems != nil {
		return nil, nil, problems
	}
	src, problems := a.built(drawn, built)
	if problems != nil {
		return nil, nil, problems
	}
	return []*engine.Source{src}, drawn, nil
}

// digest changes when anything changes that was read.
func (in *inputs) digest() string {
	h := sha256.New()
	for i, src := range in.sources {
		fmt.Fprintf(h, "%q %d %s%+v\n", src.File, len(src.Text), src.Text, in.signed[i])
	}
	if in.drawn != nil {
		fmt.Fprintf(h, "drawn %d %s\n", len(in.drawn.Text), in.drawn.Text)
	}
	fmt.Fprintf(h, "%+v\n", in.problems)
	if in.since != nil {
		fmt.Fprintf(h, "%s\n", in.since.Digest())
	}
	return string(h.Sum(nil))
}
