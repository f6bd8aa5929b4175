// Package size prints what could stand in a member's place, and how near to its limit each member is, for people who
// order and for other programs. It does not know how options are tried.
package size

import (
	"strings"

	"example.com/scantling/engine/report"
	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
)

// Choices are the formats of a choice for one member.
var Choices = report.Formats[*sizing.Choice]{
	{Name: "json", New: func(report.Options) report.Printer[*sizing.Choice] { return choiceJSON{} }},
	{Name: "text", New: func(o report.Options) report.Printer[*sizing.Choice] { return choiceText{o} }},
}

// Rankings are the formats of a ranking of all members.
var Rankings = report.Formats[*sizing.Ranking]{
	{Name: "json", New: func(report.Options) report.Printer[*sizing.Ranking] { return rankingJSON{} }},
	{Name: "text", New: func(o report.Options) report.Printer[*sizing.Ranking] { return rankingText{o} }},
}

// shownEachWay is how many of the tightest and of the slackest members are listed.
const shownEachWay = 10

// name is an option in a few words: "47x195 C24 at 400 mm, 9 pieces".
func name(o *sizing.Option, u model.Units) string {
	text := strings.TrimSpace(o.Section + " " + o.Grade)
	if o.Pieces > 1 && o.Centres.Known {
		text += " at " + model.Format(o.Centres.Value, model.Length, u)
	}
	if o.Pieces > 1 {
		text += ", " + report.Counted(o.Pieces, "piece")
	}
	return text
}

// why is a failure in a line, in the words of its rule.
func why(f *sizing.Failure) string { return f.Message + " [" + f.Rule + "]" }
