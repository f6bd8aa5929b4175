package finding

// Result is one run over one model.
type Result struct {
	Version    string // of the program
	Model      Model
	Region     Region
	Packs      []Pack
	Loosened   []Loosened
	Summary    Summary
	Balance    []Balance
	Findings   []Finding
	Signoffs   []Signoff // that lapsed or match nothing
	Notes      []string  // about the run as a whole: self-weight left out, no region
	Incomplete []string  // what failed, so that not everything could be checked, one line each
	AtLeast    Severity  // from which what could not be checked makes the run incomplete; "" is stop
	Since      *Since    // nil where it was held against no earlier result
}

// Model says which document was checked.
type Model struct {
	Title, File, SHA256 string
	Units               string // "metric" or "us"
	Pieces, Members     int
}

// Region says whose rules were applied; an empty ID means none.
type Region struct{ ID, Code, Edition string }

// Pack is a rule pack that was part of the run.
type Pack struct {
	ID, Edition, Title, SHA256 string
	Rules                      int
}

// Loosened is something that a house pack made less strict, or switched off.
type Loosened struct {
	Pack, Rule, What, From, To, Reason string
	Place                              Place
}

// Summary counts outcomes. Findings are counted by severity when not met; Unchecked counts whatever its severity.
type Summary struct {
	Stop, Ask, Note, Accepted, Unchecked int
	Met, NotApplicable                   int
	Complete                             bool
}

// Balance proves one load case: what was applied, what arrived at ground, what stopped short; N, downwards positive.
type Balance struct {
	Case                        string
	Applied, Ground, Unresolved float64
}
