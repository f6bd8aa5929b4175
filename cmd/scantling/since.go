package main

import (
	"example.com/scantling/engine/baseline"
	"example.com/scantling/engine/report"
	"example.com/scantling/model/read"
	"example.com/scantling/rules/pack"
)

// earlier reads the result that --since names. One that cannot be read is a problem of the call: without it everything
// would seem new, or nothing.
func earlier(file string) (*baseline.Baseline, []report.Problem) {
	text, bad := read.File(file)
	if len(bad) > 0 {
		return nil, printable(bad)
	}
	b, wrong := baseline.Read(file, text.Text)
	var problems []report.Problem
	for _, p := range wrong {
		problems = append(problems, report.Problem{Place: p.Place, Message: "this is no earlier result: " + p.Message, Action: baseline.Fix})
	}
	return b, problems
}

// formerRules are the ids that rules had before, by the ids that they have.
func formerRules(set *pack.Set) map[string][]string {
	out := map[string][]string{}
	for _, r := range set.Rules {
		if len(r.Was) > 0 {
			out[r.ID] = r.Was
		}
	}
	return out
}
