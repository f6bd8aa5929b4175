package finding

// Standing says how a finding stands to an earlier result of the same document; empty where there is none to hold it
// against.
type Standing string

// Standings.
const (
	New    Standing = "new"    // not found then
	Worse  Standing = "worse"  // found then, and worse now
	Before Standing = "before" // found then as it is now, or worse
)

// Since says which earlier result a result was held against, and what came of it.
type Since struct {
	File, SHA256 string // of the earlier result
	Known        bool   // it holds a result of this document
	New, Before  Tally  // New counts what got worse too
	Gone         int    // findings of then that are found no more
}

// Tally counts findings by what a reader does with them: those that are not met by severity, unless someone has
// accepted them, and those that are not checked.
type Tally struct{ Stop, Ask, Note, Accepted, Unchecked int }

// Add counts a finding.
func (t *Tally) Add(f *Finding) {
	switch {
	case f.Outcome == Unchecked:
		t.Unchecked++
	case f.Signoff != nil && f.Signoff.Lapsed == "":
		t.Accepted++
	case f.Severity == Stop:
		t.Stop++
	case f.Severity == Ask:
		t.Ask++
	default:
		t.Note++
	}
}

// Total is how many were counted.
func (t Tally) Total() int { return t.Stop + t.Ask + t.Note + t.Accepted + t.Unchecked }
