package report

import "example.com/scantling/engine/finding"

// Groups are findings by what a reader does with them; each keeps the order of the result.
type Groups struct{ Stop, Ask, Unchecked, Note, Accepted []*finding.Finding }

// Listed are the findings that a reader has to look at: all but those that an earlier result held already, which are
// counted instead.
func Listed(findings []finding.Finding) []finding.Finding {
	var out []finding.Finding
	for i := range findings {
		if findings[i].Standing != finding.Before {
			out = append(out, findings[i])
		}
	}
	return out
}

// Group sorts findings by what a reader does with them.
func Group(findings []finding.Finding) Groups {
	var g Groups
	for i := range findings {
		f := &findings[i]
		switch {
		case Accepted(f):
			g.Accepted = append(g.Accepted, f)
		case f.Outcome == finding.Unchecked:
			g.Unchecked = append(g.Unchecked, f)
		case f.Severity == finding.Stop:
			g.Stop = append(g.Stop, f)
		case f.Severity == finding.Ask:
			g.Ask = append(g.Ask, f)
		default:
			g.Note = append(g.Note, f)
		}
	}
	return g
}

// Alike puts together what the same rule found, or could not check for the same reason, in the order of the first of each.
func Alike(findings []*finding.Finding) [][]*finding.Finding {
	type key struct {
		rule, reason, action string
		severity             finding.Severity
	}
	at := map[key]int{}
	var out [][]*finding.Finding
	for _, f := range findings {
		k := key{f.Rule, f.Reason, f.Action, f.Severity}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], f)
	}
	return out
}
