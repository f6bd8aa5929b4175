package report

import (
	"encoding/json"
	"io"

	"example.com/scantling/engine/finding"
)

// linesOfJSON prints one object a line: each finding of a model, then what closes that model (everything of a result but
// its findings); at the end one {"problem": ...} for each input that could not be used, with the caution on a line of
// its own when no model closed.
type linesOfJSON struct{ Options }

func (p linesOfJSON) Print(w io.Writer, run Run) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	for _, r := range run.Results {
		for i := range r.Findings {
			if err := encoder.Encode(findingOf(&r.Findings[i], p.Working)); err != nil {
				return err
			}
		}
		if err := encoder.Encode(closing{headOf(r), tailOf(r)}); err != nil {
			return err
		}
	}
	for _, problem := range problemsOf(run.Problems) {
		if err := encoder.Encode(map[string]jsonProblem{"problem": problem}); err != nil {
			return err
		}
	}
	if len(run.Results) == 0 {
		return encoder.Encode(map[string]string{"caution": finding.Caution})
	}
	return nil
}

type closing struct {
	jsonHead
	jsonTail
}
