package baseline

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"

	"example.com/scantling/engine/finding"
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

// Read reads what the JSON format printed for one model or for several. The error says everything that keeps it from
// being an earlier result; file is its name in it.
func Read(file string, text []byte) (*Baseline, error) {
	var d document
	if err := json.Unmarshal(text, &d); err != nil {
		return nil, unreadable(file, text, err)
	}
	b := &Baseline{file: file, digest: digestOf(text), documents: map[string][]entry{}}
	results := []result{d.result}
	switch {
	case d.Results != nil:
		results = *d.Results
	case d.Tool == nil && d.Problems != nil:
		return nil, refused(file, "it lists what was wrong with the input of its call, and no findings")
	}
	var wrong []error
	for i := range results {
		if err := b.add(&results[i]); err != nil {
			wrong = append(wrong, refused(file, err.Error()))
		}
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	return b, nil
}

// add takes in one result.
func (b *Baseline) add(r *result) error {
	name := "a result without a model"
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
		text := strconv.FormatFloat(v, 'g', 4, 64)
		if e.Found.Unit != "ratio" {
			text += " " + e.Found.Unit
		}
		return text
	}
	return "at a ratio of " + strconv.FormatFloat(*e.Ratio, 'f', 2, 64)
}

// unreadable says where a text stops being JSON of the form that is read.
func unreadable(file string, text []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return refused(place(file, text, syntax.Offset), "it is no JSON: "+syntax.Error())
	case errors.As(err, &kind):
		return refused(place(file, text, kind.Offset), fmt.Sprintf("%s is a JSON %s", kind.Field, kind.Value))
	}
	return refused(file, err.Error())
}

// place is file:line:column of an offset, which counts the bytes that were read.
func place(file string, text []byte, offset int64) string {
	read := text[:max(0, min(offset-1, int64(len(text))))]
	line := bytes.Count(read, []byte("\n"))
	column := len(read) - (bytes.LastIndexByte(read, '\n') + 1)
	return fmt.Sprintf("%s:%d:%d", file, line+1, column+1)
}

func refused(place, why string) error {
	return fmt.Errorf("%s: this is no earlier result: %s; make one with `scantling check --format json`", place, why)
}
