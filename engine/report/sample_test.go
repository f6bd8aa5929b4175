package report_test

import (
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
)

// source is the document that the places of the sample point into. Line 4 holds a letter outside the basic plane and a
// mark that combines before the place that is pointed at.
const source = "{\n  \"title\": \"Quillmere reading room\",\n  \"members\": {\n" +
	"    \"B\U0001F332e\u0301\": {\"supports\": [{\"on\": \"W1\", \"bearing\": 60}]},\n" +
	"    \"B3\": {},\n    \"R1\": {}\n  }\n}\n"

const file = "models/quillmere reading.json"

func place(line, column int, pointer string) finding.Place {
	return finding.Place{File: file, Line: line, Column: column, Pointer: pointer, Offset: -1}
}

// sample holds one of everything that a result can say.
func sample() *finding.Result {
	ratio := 1.5
	return &finding.Result{
		Version: "1.0.0",
		Model: finding.Model{Title: "Quillmere reading room: hipped roof and gabled wing", File: file,
			SHA256: "9f2c0c1b5a3d4e6f708192a3b4c5d6e7f8091a2b3c4d5e6f708192a3b4c5d6e7", Units: "metric", Pieces: 214, Members: 31},
		Region: finding.Region{ID: "eurocode", Code: "GB-ENG", Edition: "EN 1995-1-1:2004+A2:2014 with the UK annex"},
		Packs: []finding.Pack{
			{ID: "practice", Edition: "2026.1", Title: "Common practice", SHA256: "aa11", Rules: 42},
			{ID: "house", Edition: "3", Title: "Our own", SHA256: "bb22", Rules: 1},
		},
		Loosened: []finding.Loosened{{Pack: "house", Rule: "practice.least_bearing_masonry", What: "param",
			From: "90 mm", To: "75 mm", Reason: "padstones throughout", Place: finding.Place{File: "house.yaml", Line: 7, Column: 3}}},
		Summary: finding.Summary{Stop: 1, Ask: 1, Note: 1, Accepted: 1, Unchecked: 3, Met: 210, NotApplicable: 800},
		Balance: []finding.Balance{{Case: "dead", Applied: 41200, Ground: 41200}, {Case: "snow", Applied: 12000, Ground: 9000, Unresolved: 3000}},
		Findings: []finding.Finding{
			{
				ID: "practice/bearing-on-masonry B\U0001F332e\u0301 W1 0", Rule: "practice/bearing-on-masonry", Layer: "practice",
				Title: "Timber bearing on masonry", Outcome: finding.NotMet, Severity: finding.Stop, Subject: "support",
				Member: "B\U0001F332e\u0301", Piece: "B\U0001F332e\u0301#3", Count: 4, Support: &finding.Support{On: "W1", At: 0, Index: 0}, Case: "dead + snow",
				Message: "B\U0001F332e\u0301 bears 60 mm on W1; 90 mm is needed",
				Action:  "Lengthen the bearing, or set a padstone or plate and ask the engineer.",
				Why:     "Short bearings crush, and a joist can pull off when the wall moves.",
				Found:   &finding.Figure{Value: 60, Dimension: model.Length}, Required: &finding.Figure{Value: 90, Dimension: model.Length},
				Operator: ">=", Ratio: &ratio, Source: "common practice, no source", Drawing: "S-101",
				Place:   place(4, 28, "/members/B\U0001F332e\u0301/supports/0"),
				Related: []finding.Related{{Mark: "W1", Message: "the wall that it bears on", Place: place(5, 5, "/members/W1")}},
				Working: []finding.Step{{Fact: "bearing", Symbol: "b", Value: 60, Unit: "mm", Clause: "as drawn"}},
			},
			{
				ID: "eurocode/reaction B3 W1 3600", Rule: "eurocode/uplift", Layer: "eurocode", Title: "Uplift at a support",
				Outcome: finding.NotMet, Severity: finding.Ask, Member: "B3", Piece: "B3", Count: 1,
				Support: &finding.Support{On: "W1", At: 3600, Index: 1}, Case: "0.9 dead + 1.5 wind",
				Message: "B3 lifts off W1 by 2.35 kN and no strap is stated", Action: "Ask the engineer for the strap, then state it.",
				Found: &finding.Figure{Value: -2350, Dimension: model.Force}, Required: &finding.Figure{Text: "held down"},
				Source: "EN 1990:2002 6.4.1(1)a", Drawing: "S-101, S-102", Place: place(5, 5, "/members/B3"),
				Signoff: &finding.Signoff{Rule: "eurocode/uplift", Mark: "B3", Reason: "strap seen", Who: "the builder", Authority: "site engineer",
					Date: "2026-02-03", Until: "2026-03-01", Lapsed: "the section of B3 has changed since"},
			},
			unchecked("B3", 1, finding.Stop, "no grade is stated"),
			unchecked("R1", 9, finding.Stop, "no grade is stated"),
			{
				ID: "practice/rafter-tie R1", Rule: "practice/rafter-tie", Layer: "practice", Title: "Rafter feet tied", Outcome: finding.Unchecked,
				Severity: finding.Ask, Member: "R1", Piece: "R1#1", Count: 9, Message: "the tie of R1 could not be judged", Action: "State `tied_by` for the couple.",
				Reason: "tied_by: the document does not say", Source: "common practice, no source", Place: place(6, 5, "/members/R1"),
			},
			{
				ID: "practice/spacing R1", Rule: "practice/spacing", Layer: "practice", Title: "Spacing", Outcome: finding.NotMet,
				Severity: finding.Note, Member: "R1", Piece: "R1#1", Count: 9, Message: "the area width of R1 is taken as its centres, 400 mm",
				Source: "common practice, no source", Place: place(6, 5, "/members/R1"),
			},
			{
				ID: "practice/notch B3 1200", Rule: "practice/notch", Layer: "practice", Title: "Notch in a beam", Outcome: finding.NotMet,
				Severity: finding.Stop, Member: "B3", Piece: "B3", Count: 1, Message: "B3 is notched 40 mm deep at 1200 mm", Action: "Make the beam good.",
				Source: "common practice, no source", Place: place(5, 5, "/members/B3"),
				Signoff: &finding.Signoff{Rule: "practice/notch", Mark: "B3", Reason: "plated both sides", Who: "the site engineer", Authority: "the engineer of the job",
					Reference: "RFI 12", Date: "2026-02-03"},
			},
		},
		Signoffs: []finding.Signoff{{Rule: "practice/holes", Mark: "J9", Reason: "sleeved", Who: "the builder", Authority: "site engineer",
			Date: "2025-11-20", Lapsed: "no such finding any more"}},
		Notes:      []string{"Self-weight is left out: the document says so."},
		Incomplete: []string{"rule our-firm/long-joists: it takes too many steps; any goes over too many elements"},
	}
}

func unchecked(mark string, count int, severity finding.Severity, reason string) finding.Finding {
	return finding.Finding{
		ID: "eurocode/bending " + mark, Rule: "eurocode/bending", Layer: "eurocode", Title: "Bending strength", Outcome: finding.Unchecked,
		Severity: severity, Member: mark, Piece: mark + "#1", Count: count, Message: "the bending of " + mark + " could not be judged",
		Action: "State the grade that is stamped on the timber.", Why: "A member that is not strong enough breaks.", Reason: reason,
		Source: "EN 1995-1-1 6.1.6", Place: place(6, 5, "/members/"+mark), Drawing: "S-101",
	}
}

// clean is a frame with nothing to say of it.
func clean() *finding.Result {
	return &finding.Result{
		Version: "1.0.0", Model: finding.Model{Title: "Shed", File: "shed.json", SHA256: "00ff", Units: "us", Pieces: 9, Members: 1},
		Packs: []finding.Pack{{ID: "practice", Edition: "2026.1", Rules: 1}}, Summary: finding.Summary{Met: 3, NotApplicable: 4, Complete: true},
		Balance: []finding.Balance{{Case: "dead", Applied: 4448.2216152605, Ground: 4448.2216152605}},
	}
}

func problem() report.Problem {
	return report.Problem{Place: finding.Place{File: "bad.json", Line: 3, Column: 12, Pointer: "/members/B1", Offset: 40},
		Message: `"sectoin" is no key of a member`, Action: `write "section"`}
}
