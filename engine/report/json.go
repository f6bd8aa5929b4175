package report

import (
	"encoding/json"
	"io"

	"example.com/scantling/engine/finding"
)

// jsonPrinter prints one object for one model, and {"results": [...], "problems": [...], "caution"} for several. Input
// that cannot be used is {"problems": [...], "caution"}. Values are in mm, kN, kNm, N/mm2 and degrees, always.
type jsonPrinter struct{ Options }

func (p jsonPrinter) Print(w io.Writer, run Run) error {
	switch {
	case !run.list() && len(run.Results) == 1:
		return WriteJSON(w, resultOf(run.Results[0], p.Working))
	case !run.List && len(run.Results) == 0:
		return WriteJSON(w, jsonProblems{problemsOf(run.Problems), finding.Caution})
	}
	list := jsonList{Results: []jsonResult{}, Problems: problemsOf(run.Problems), Caution: finding.Caution}
	for _, r := range run.Results {
		list.Results = append(list.Results, resultOf(r, p.Working))
	}
	return WriteJSON(w, list)
}

// WriteJSON writes a value over several lines, letters such as < as they are, and a line break at the end.
func WriteJSON(w io.Writer, v any) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(v)
}

type jsonList struct {
	Results  []jsonResult  `json:"results"`
	Problems []jsonProblem `json:"problems"`
	Caution  string        `json:"caution"`
}

type jsonProblems struct {
	Problems []jsonProblem `json:"problems"`
	Caution  string        `json:"caution"`
}

type jsonProblem struct {
	Message  string     `json:"message"`
	Action   string     `json:"action"`
	Location *jsonPlace `json:"location"`
}

// jsonHead is what a result says of itself, and jsonTail what it sums up; between them stand the findings.
type jsonHead struct {
	Tool     jsonTool       `json:"tool"`
	Model    jsonModel      `json:"model"`
	Region   jsonRegion     `json:"region"`
	Packs    []jsonPack     `json:"packs"`
	Loosened []jsonLoosened `json:"loosened"`
	Summary  jsonSummary    `json:"summary"`
	// Balance is keyed by load case.
	Balance map[string]jsonBalance `json:"balance"`
	Since   *jsonSince             `json:"since,omitempty"`
}

type jsonTail struct {
	Signoffs   []jsonSignoff `json:"signoffs"` // that lapsed or match nothing
	Notes      []string      `json:"notes"`
	Incomplete []string      `json:"incomplete"`
	Caution    string        `json:"caution"`
}

type jsonResult struct {
	jsonHead
	Findings []jsonFinding `json:"findings"`
	jsonTail
}

type jsonTool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Result  int    `json:"result"` // version of this format
}

type jsonModel struct {
	Title  string `json:"title"`
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
}

type jsonRegion struct {
	ID      *string `json:"id"`
	Code    *string `json:"code"`
	Edition *string `json:"edition"`
}

type jsonPack struct {
	ID      string `json:"id"`
	Edition string `json:"edition"`
	SHA256  string `json:"sha256"`
}

type jsonLoosened struct {
	Pack     string     `json:"pack"`
	Rule     string     `json:"rule"`
	What     string     `json:"what"`
	From     string     `json:"from"`
	To       string     `json:"to"`
	Reason   string     `json:"reason"`
	Location *jsonPlace `json:"location"`
}

type jsonSummary struct {
	Stop          int  `json:"stop"`
	Ask           int  `json:"ask"`
	Note          int  `json:"note"`
	Accepted      int  `json:"accepted"`
	Unchecked     int  `json:"unchecked"`
	Met           int  `json:"met"`
	NotApplicable int  `json:"not_applicable"`
	Complete      bool `json:"complete"`
}

type jsonBalance struct {
	Applied    Number `json:"applied"`
	Ground     Number `json:"ground"`
	Unresolved Number `json:"unresolved"`
}

// jsonSince says what came of holding a result against an earlier one. Its findings say each how they stand to it.
type jsonSince struct {
	File   string    `json:"file"`
	SHA256 string    `json:"sha256"`
	Known  bool      `json:"known"` // false: the earlier result does not name this model
	New    jsonTally `json:"new"`   // and what got worse
	Before jsonTally `json:"before"`
	Gone   int       `json:"gone"`
}

type jsonTally struct {
	Stop      int `json:"stop"`
	Ask       int `json:"ask"`
	Note      int `json:"note"`
	Accepted  int `json:"accepted"`
	Unchecked int `json:"unchecked"`
}

type jsonFinding struct {
	ID       string        `json:"id"`
	Rule     string        `json:"rule"`
	Layer    string        `json:"layer"`
	Outcome  string        `json:"outcome"`
	Severity string        `json:"severity"`
	Member   *string       `json:"member"`
	Piece    *string       `json:"piece"`
	Count    int           `json:"count"`
	Support  *jsonSupport  `json:"support"`
	Case     *string       `json:"case"`
	Message  string        `json:"message"`
	Action   string        `json:"action"`
	Found    *Figure       `json:"found"`
	Required *Figure       `json:"required"`
	Ratio    *Number       `json:"ratio,omitempty"`
	Reason   *string       `json:"reason"`
	Related  []jsonRelated `json:"related"`
	Source   string        `json:"source"`
	Location *jsonPlace    `json:"location"`
	Drawing  *string       `json:"drawing"`
	Signoff  *jsonSignoff  `json:"signoff"`
	Since    string        `json:"since,omitempty"` // new, worse or before, where there is an earlier result
	Was      string        `json:"was,omitempty"`   // of worse: what it was
	Working  []jsonStep    `json:"working,omitempty"`
}

type jsonSupport struct {
	On    string `json:"on"`
	At    Number `json:"at"` // mm
	Index int    `json:"index"`
}

type jsonRelated struct {
	Member   string     `json:"member"`
	Message  string     `json:"message"`
	Location *jsonPlace `json:"location"`
}

type jsonPlace struct {
	File    string `json:"file"`
	Line    int    `json:"line"`   // from 1; 0 unknown
	Column  int    `json:"column"` // from 1, in code points; 0 unknown
	Pointer string `json:"pointer"`
}

type jsonSignoff struct {
	Rule      string  `json:"rule"`
	Member    string  `json:"member"`
	Reason    string  `json:"reason"`
	Who       string  `json:"who"`
	Authority string  `json:"authority"`
	Reference string  `json:"reference"`
	Date      string  `json:"date"`
	Until     *string `json:"until"`
	Lapsed    *string `json:"lapsed"`
}

type jsonStep struct {
	Fact   string `json:"fact"`
	Symbol string `json:"symbol"`
	Value  Number `json:"value"`
	Unit   string `json:"unit"`
	Clause string `json:"clause"`
}

func resultOf(r *finding.Result, working bool) jsonResult {
	out := jsonResult{jsonHead: headOf(r), Findings: []jsonFinding{}, jsonTail: tailOf(r)}
	for i := range r.Findings {
		out.Findings = append(out.Findings, findingOf(&r.Findings[i], working))
	}
	return out
}

func headOf(r *finding.Result) jsonHead {
	head := jsonHead{
		Tool:     jsonTool{"scantling", r.Version, 1},
		Model:    jsonModel{r.Model.Title, r.Model.File, r.Model.SHA256},
		Region:   jsonRegion{said(r.Region.ID), said(r.Region.Code), said(r.Region.Edition)},
		Packs:    []jsonPack{},
		Loosened: []jsonLoosened{},
		Summary:  jsonSummary(r.Summary),
		Balance:  map[string]jsonBalance{},
	}
	for _, p := range r.Packs {
		head.Packs = append(head.Packs, jsonPack{p.ID, p.Edition, p.SHA256})
	}
	for _, l := range r.Loosened {
		head.Loosened = append(head.Loosened, jsonLoosened{l.Pack, l.Rule, l.What, l.From, l.To, l.Reason, placeOf(l.Place)})
	}
	for _, b := range r.Balance {
		head.Balance[b.Case] = jsonBalance{KN(b.Applied), KN(b.Ground), KN(b.Unresolved)}
	}
	if s := r.Since; s != nil {
		head.Since = &jsonSince{s.File, s.SHA256, s.Known, jsonTally(s.New), jsonTally(s.Before), s.Gone}
	}
	return head
}

func tailOf(r *finding.Result) jsonTail {
	tail := jsonTail{[]jsonSignoff{}, append([]string{}, r.Notes...), append([]string{}, r.Lacking()...), finding.Caution}
	for i := range r.Signoffs {
		tail.Signoffs = append(tail.Signoffs, *signoffOf(&r.Signoffs[i]))
	}
	return tail
}

func findingOf(f *finding.Finding, working bool) jsonFinding {
	out := jsonFinding{
		ID: f.ID, Rule: f.Rule, Layer: f.Layer, Outcome: string(f.Outcome), Severity: string(f.Severity),
		Member: said(f.Member), Piece: said(f.Piece), Count: f.Count, Case: said(f.Case),
		Message: f.Message, Action: f.Action, Found: FigureOf(f.Found), Required: FigureOf(f.Required),
		Reason: said(f.Reason), Related: []jsonRelated{}, Source: f.Source, Location: placeOf(f.Place),
		Drawing: said(f.Drawing), Signoff: signoffOf(f.Signoff), Since: string(f.Standing), Was: f.Was,
	}
	if f.Support != nil {
		out.Support = &jsonSupport{f.Support.On, Number(f.Support.At), f.Support.Index}
	}
	if f.Ratio != nil {
		ratio := Number(*f.Ratio)
		out.Ratio = &ratio
	}
	for _, r := range f.Related {
		out.Related = append(out.Related, jsonRelated{r.Mark, r.Message, placeOf(r.Place)})
	}
	if working {
		for _, s := range f.Working {
			value, unit := s.Restated()
			out.Working = append(out.Working, jsonStep{s.Fact, s.Symbol, Number(value), unit, s.Clause})
		}
	}
	return out
}

func problemsOf(problems []Problem) []jsonProblem {
	out := []jsonProblem{}
	for _, p := range problems {
		out = append(out, jsonProblem{p.Message, p.Action, placeOf(p.Place)})
	}
	return out
}

func placeOf(p finding.Place) *jsonPlace {
	if p.File == "" && p.Line == 0 && p.Pointer == "" {
		return nil
	}
	return &jsonPlace{p.File, p.Line, p.Column, p.Pointer}
}

func signoffOf(s *finding.Signoff) *jsonSignoff {
	if s == nil {
		return nil
	}
	return &jsonSignoff{s.Rule, s.Mark, s.Reason, s.Who, s.Authority, s.Reference, s.Date, said(s.Until), said(s.Lapsed)}
}

// KN is a force (N) as JSON prints it.
func KN(force float64) Number { return Number(force / 1000) }

// said is null for a text that is not there.
func said(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}
