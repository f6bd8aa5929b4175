package finding_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

func TestFiguresAreRestatedAsTheTradeWritesThem(t *testing.T) {
	for _, c := range []struct {
		what   string
		figure finding.Figure
		value  float64
		unit   string
	}{
		{"a moment of 1.1962e6 Nmm is 1.1962 kNm", finding.Figure{Value: 1.1962e6, Dimension: model.Moment}, 1.1962, "kNm"},
		{"a force is in kN", finding.Figure{Value: 2350, Dimension: model.Force}, 2.35, "kN"},
		{"demand over capacity is a ratio", finding.Figure{Value: 0.61}, 0.61, "ratio"},
		{"two supports are two", finding.Figure{Value: 2, Counts: true}, 2, ""},
		{"a word has no unit", finding.Figure{Text: "none"}, 0, ""},
	} {
		t.Run(c.what, func(t *testing.T) {
			value, unit := c.figure.Restated()
			assert.InDelta(t, c.value, value, 1e-12)
			assert.Equal(t, c.unit, unit)
		})
	}
	for _, c := range []struct {
		value, want float64
		unit, says  string
	}{
		{1.1962e6, 1.1962, "N mm", "kNm"}, {4870, 4.87, "N", "kN"}, {14.8, 14.8, "N/mm2", "N/mm2"}, {195, 195, "mm", "mm"}, {0.8, 0.8, "", ""},
	} {
		value, unit := finding.Step{Value: c.value, Unit: c.unit}.Restated()
		assert.InDelta(t, c.want, value, 1e-12, c.unit)
		assert.Equal(t, c.says, unit)
	}
}
