package working_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/plugins/eurocode/working"
)

func TestOutcome(t *testing.T) {
	for name, row := range map[string]struct {
		outcome working.Outcome
		ratio   float64
		reason  working.Absence
	}{
		"the zero outcome is absent":                     {working.Outcome{}, 0, "nothing was calculated"},
		"a ratio is known":                               {working.Found(0.61), 0.61, ""},
		"a ratio of nothing over something is known":     {working.Found(0), 0, ""},
		"infinity is no verdict":                         {working.Found(math.Inf(1)), 0, "the calculation gave no finite number: look for a size or a strength of zero"},
		"what is not a number is no verdict":             {working.Found(math.NaN()), 0, "the calculation gave no finite number: look for a size or a strength of zero"},
		"a negative ratio is no verdict":                 {working.Found(-0.5), 0, "the calculation gave no finite number: look for a size or a strength of zero"},
		"a reason is kept":                               {working.Missing("no grade"), 0, "no grade"},
		"an empty reason does not turn into a pass":      {working.Missing(""), 0, "nothing was calculated"},
		"of two ratios the larger governs":               {working.Worst(working.Found(0.4), working.Found(0.9)), 0.9, ""},
		"a missing half makes the whole missing":         {working.Worst(working.Found(0.4), working.Missing("no fv_k")), 0, "no fv_k"},
		"a missing first half makes the whole missing":   {working.Worst(working.Missing("no fm_k"), working.Found(0.4)), 0, "no fm_k"},
		"the larger governs when it stands on the first": {working.Worst(working.Found(1.2), working.Found(0.9)), 1.2, ""},
	} {
		t.Run(name, func(t *testing.T) {
			ratio, known := row.outcome.Ratio()
			assert.Equal(t, row.ratio, ratio)
			assert.Equal(t, row.reason == "", known)
			assert.Equal(t, row.reason, row.outcome.Reason())
		})
	}
}

func TestSheet(t *testing.T) {
	var none *working.Sheet
	none.Step("k_mod", 0.8, "", "EN 1995-1-1 3.1.3") // must not panic

	var sheet working.Sheet
	sheet.Step("k_mod", 0.8, "", "EN 1995-1-1 3.1.3")
	sheet.Step("f_m,d", 14.8, "N/mm2", "EN 1995-1-1 2.14")
	assert.Equal(t, []working.Step{{"k_mod", 0.8, "", "EN 1995-1-1 3.1.3"}, {"f_m,d", 14.8, "N/mm2", "EN 1995-1-1 2.14"}}, sheet.Steps)
}
