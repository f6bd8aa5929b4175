// Package compare prints what differs between a frame as drawn and as built, for the builder and the inspector, and for
// other programs. It does not know how differences are found or judged.
package compare

import (
	"fmt"
	"math"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
)

// Formats are the formats of a comparison.
var Formats = report.Formats[*asbuilt.Comparison]{
	{Name: "json", New: func(report.Options) report.Printer[*asbuilt.Comparison] { return jsonPrinter{} }},
	{Name: "text", New: func(o report.Options) report.Printer[*asbuilt.Comparison] { return textPrinter{o} }},
}

// shown says whether a change is listed: a load that no rule minds stands in the knock-on alone.
func shown(c *asbuilt.Change) bool {
	return c.What != asbuilt.Load || c.Verdict != asbuilt.None
}

// heading says in a word or two what differs.
func heading(c *asbuilt.Change) string {
	switch c.What {
	case asbuilt.Properties:
		return asbuilt.KeyWords(c.Key)
	case asbuilt.Missing:
		return "not built"
	case asbuilt.Extra:
		return "not drawn"
	case asbuilt.Support:
		return "support or end moved"
	case asbuilt.Notch:
		if c.Key == "holes" {
			return "hole"
		}
	case asbuilt.Rule:
		return fmt.Sprintf("%s: %s as drawn, %s as built", c.Rule, outcome(c.Was), outcome(c.Now))
	}
	return string(c.What)
}

// subject is the member, and the support that a change is of.
func subject(c *asbuilt.Change) string {
	return (&finding.Finding{Member: c.Mark, Support: c.Support}).Where()
}

// outcome is a rule's outcome in words.
func outcome(o string) string {
	switch o {
	case "not_met":
		return "not met"
	case "unchecked":
		return "not checked"
	case "not_applicable":
		return "not applicable"
	}
	return o
}

// percent is by how much of the first the second is more; a dash where that makes no sense.
func percent(d, b asbuilt.Worked) string {
	part, ok := part(d, b)
	if !ok {
		return "-"
	}
	return fmt.Sprintf("%+.1f %%", part*100)
}

// part is by what part of the first the second is more.
func part(d, b asbuilt.Worked) (float64, bool) {
	if !d.Known || !b.Known || math.Abs(d.Value) < 1 {
		return 0, false
	}
	return (b.Value - d.Value) / math.Abs(d.Value), true
}
