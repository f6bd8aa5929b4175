package baseline

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"unicode/utf8"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

// form is the version of the JSON result that is read.
const form = 1

// result is what is read of one result, and document of all that a call prints: one result, or a list of them.
type result struct {
	Tool *struct {
		Name   string `json:"name"`
		Result int    `json:"result"`
	} `json:"tool"`
	Model struct {
		File string `json:"file"`
	} `json:"model"`
	Findings *[]entry `json:"findings"`
}

type document struct {
	result
	Results  *[]result         `json:"results"`
	Problems []json.RawMessage `json:"problems"`
}

// Read reads what the JSON format printed for one model or for several; file is its name in problems, and with any
// problem there is no baseline.
func Read(file string, text []byte) (*Baseline, []Problem) {
	var d document
	if err := json.Unmarshal(text, &d); err != nil {
		return nil, []Problem{unreadable(file, text, err)}
	}
	b := &Baseline{file: file, digest: digestOf(text), documents: map[string][]entry{}}
	results := []result{d.result}
	switch {
	case d.Results != nil:
		results = *d.Results
	case d.Tool == nil && d.Problems != nil:
		return nil, []Problem{problem(file, "it lists what was wrong with the input of its call, and no findings")}
	}
	var wrong []Problem
	for i := range results {
		if err := b.add(&results[i]); err != nil {
			wrong = append(wrong, problem(file, err.Error()))
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return b, nil
}

// add takes in one result.
func (b *Baseline) add(r *result) error {
	name := "it"
	if r.Model.File != "" {
		name = "the result of " + strconv.Quote(r.Model.File)
	}
	key := documentKey(r.Model.File)
	_, twice := b.documents[key]
	switch {
	case r.Tool == nil || r.Tool.Name != "scantling":
		return fmt.Errorf("%s does not say that this program made it", name)
	case r.Tool.Result != form:
		return fmt.Errorf("%s is of version %d of the format, and version %d is read", name, r.Tool.Result, form)
	case r.Model.File == "":
		return fmt.Errorf("%s names no file", name)
	case r.Findings == nil:
		return fmt.Errorf("%s has no findings, not even an empty list", name)
	case twice:
		return fmt.Errorf("%s stands in it twice", name)
	}
	for i := range *r.Findings {
		if err := (*r.Findings)[i].check(); err != nil {
			return fmt.Errorf("%s: finding %d: %w", name, i+1, err)
		}
	}
	b.documents[key] = *r.Findings
	return nil
}

// check says what keeps an entry from being held against anything.
func (e *entry) check() error {
	switch finding.Outcome(e.Outcome) {
	case finding.NotMet, finding.Unchecked:
	default:
		return fmt.Errorf("outcome %q is not known", e.Outcome)
	}
	switch finding.Severity(e.Severity) {
	case finding.Stop, finding.Ask, finding.Note:
	default:
		return fmt.Errorf("severity %q is not known", e.Severity)
	}
	if e.ID == "" || e.Count < 1 {
		return errors.New("it has no id, or no count of pieces")
	}
	return nil
}

// figure is a number with its unit, or a word, as the JSON format prints it.
type figure struct {
	Value any    `json:"value"`
	Unit  string `json:"unit"`
}

// number is the figure's value, where it is one.
func (f *figure) number() (float64, bool) {
	if f == nil {
		return 0, false
	}
	v, ok := f.Value.(float64)
	return v, ok
}

// gap is how far what was found was from what was needed, in the unit that it was found in.
func (e *entry) gap() (float64, bool) {
	found, ok := e.Found.number()
	required, also := e.Required.number()
	if !ok || !also || e.Found.Unit != e.Required.Unit {
		return 0, false
	}
	return math.Abs(found - required), true
}

// figures is what was found, in words.
func (e *entry) figures() string {
	if v, ok := e.Found.number(); ok {
		text := model.Format(v, model.Plain, model.Metric)
		if e.Found.Unit != "ratio" {
			text += " " + e.Found.Unit
		}
		return text
	}
	return "at a ratio of " + model.FormatRatio(*e.Ratio)
}

// Problem is why a file is no earlier result.
type Problem struct {
	Place   finding.Place
	Message string
}

// Fix is what to do about every problem.
const Fix = "make one with `scantling check --format json`"

// Error is the problem with its place.
func (p Problem) Error() string {
	place := p.Place.File
	if p.Place.Line > 0 {
		place = fmt.Sprintf("%s:%d:%d", place, p.Place.Line, p.Place.Column)
	}
	return place + ": this is no earlier result: " + p.Message + "; " + Fix
}

func problem(file, message string) Problem {
	return Problem{finding.Place{File: file, Offset: -1}, message}
}

// unreadable says where a text stops being JSON of the form that is read.
func unreadable(file string, text []byte, err error) Problem {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return Problem{place(file, text, syntax.Offset), "it is no JSON: " + syntax.Error()}
	case errors.As(err, &kind):
		return Problem{place(file, text, kind.Offset), fmt.Sprintf("%s is a JSON %s", kind.Field, kind.Value)}
	}
	return problem(file, err.Error())
}

// place is where the last byte stands that was read; offset counts the bytes.
func place(file string, text []byte, offset int64) finding.Place {
	last := max(0, min(offset-1, int64(len(text))))
	read := text[:last]
	column := utf8.RuneCount(read[bytes.LastIndexByte(read, '\n')+1:])
	return finding.Place{File: file, Line: bytes.Count(read, []byte("\n")) + 1, Column: column + 1, Offset: last}
}
