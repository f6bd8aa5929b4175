package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
)

func TestFiguresSayOnWhichSideOfWhatIsNeededTheyMustBe(t *testing.T) {
	mm := func(v float64) *finding.Figure { return &finding.Figure{Value: v, Dimension: model.Length} }
	plain := func(v float64) *finding.Figure { return &finding.Figure{Value: v} }
	ratio := func(v float64) *float64 { return &v }
	for _, row := range []struct {
		says string
		of   finding.Finding
		want [][2]string
	}{
		{"what must stay below", finding.Finding{Found: mm(60), Required: mm(5), Operator: "<=", Ratio: ratio(12)},
			[][2]string{{"found", "60 mm"}, {"needed", "at most 5 mm"}, {"ratio", "12.00 of what it may be"}}},
		{"what must be reached", finding.Finding{Found: mm(60), Required: mm(90), Operator: ">=", Ratio: ratio(1.5)},
			[][2]string{{"found", "60 mm"}, {"needed", "at least 90 mm"}, {"ratio", "1.50 times as much is needed"}}},
		{"what no comparison says", finding.Finding{Found: mm(60), Required: mm(90)}, [][2]string{{"found", "60 mm"}, {"needed", "90 mm"}}},
		{"what rounds to the limit and fails", finding.Finding{Found: mm(2000.3), Required: mm(2000), Operator: "<=", Ratio: ratio(2000.3 / 2000)},
			[][2]string{{"found", "2000.3 mm"}, {"needed", "at most 2000 mm"}, {"ratio", "1.0002 of what it may be"}}},
		{"a ratio that may be 1, once", finding.Finding{Found: plain(1.397), Required: plain(1), Operator: "<=", Ratio: ratio(1.397)},
			[][2]string{{"ratio", "1.40 of what it may be"}}},
		{"a word", finding.Finding{Required: &finding.Figure{Text: "held down"}}, [][2]string{{"needed", "held down"}}},
		{"a note, which needs nothing", finding.Finding{Severity: finding.Note, Found: mm(60), Required: mm(5), Operator: "<=", Ratio: ratio(12)}, nil},
		{"nothing", finding.Finding{}, nil},
	} {
		t.Run(row.says, func(t *testing.T) {
			assert.Equal(t, row.want, report.FigureLines(&row.of, model.Metric))
		})
	}
}

func TestStepsArePrintedWithoutAnExponent(t *testing.T) {
	for want, s := range map[string]finding.Step{
		"297860 mm3":   {Value: 297862.5, Unit: "mm3"},
		"29042000 mm4": {Value: 29041593.75, Unit: "mm4"},
		"0.000012346":  {Value: 1.23456e-5},
		"0.8":          {Value: 0.8},
		"2.4419 kNm":   {Value: 2441912, Unit: "N mm"},
	} {
		assert.Equal(t, want, report.StepWords(s, model.Metric))
	}
}
