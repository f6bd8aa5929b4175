package report

import (
	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

// Run is all that one call has found.
type Run struct {
	Results  []*finding.Result // one a model, in the order of the call
	Problems []Problem         // input that could not be used
	// List says that a folder, a stream or several models were asked for. JSON then prints a list, even of one, so that
	// the shape depends on the call and not on how many files a folder holds today.
	List bool
}

// Problem is input that cannot be used: where, what is wrong, what to do.
type Problem struct {
	Place           finding.Place
	Message, Action string
}

// list tells whether there is more to print than one result.
func (r Run) list() bool {
	return r.List || len(r.Results) > 1 || len(r.Results) == 1 && len(r.Problems) > 0
}

// Accepted tells whether someone has accepted the finding and that still counts.
func Accepted(f *finding.Finding) bool { return f.Signoff != nil && f.Signoff.Lapsed == "" }

// Units are those that a model's document is written in.
func Units(m finding.Model) model.Units {
	if m.Units == "us" {
		return model.US
	}
	return model.Metric
}
