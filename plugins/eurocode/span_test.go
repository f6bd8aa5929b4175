package eurocode_test

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/eurocode/internal/reference"
	"example.com/scantling/plugins/region"
)

func request(use, section, grade string, centres float64, loads ...region.SpanLoad) *region.SpanRequest {
	parsed, err := model.ParseSection(section, model.Metric)
	if err != nil {
		panic(err)
	}
	return &region.SpanRequest{Code: "GB-ENG", Use: use, Section: *parsed, Grade: named(grade), Centres: centres, Loads: loads}
}

func on(action model.Action, kNPerM2 float64) region.SpanLoad {
	return region.SpanLoad{Action: action, Value: kNPerM2 * 1e-3}
}

func spanOf(t *testing.T, r *region.SpanRequest) *region.Span {
	t.Helper()
	s, err := eurocode.New().Span(context.Background(), r)
	require.NoError(t, err)
	return s
}

// A flat roof joist 47x195 C24 at 600 under dead 0.6 and snow 0.4 kN/m2. Its own weight is 420e-9 x 9.80665 x 9165 = 0.037748 N/mm:
// g = 0.397748, q = 0.24. An even load of q' bends a span by 5 q' l3 / (384 E I) + 1.2 q' l / (8 G A) of its length:
//
//	at once            q' = 0.637748                    1/300 at l = 5004.3
//	a person           q' = 0.397748 and 0.9 kN         1/300 at l = 4858.5
//	in the end         q' = 1.8 x 0.397748 + 0.24       1/150 at l = 5516.6 (psi_2 of snow is 0)
//	bending            1.35 g + 1.5 q = 0.89696 N/mm on 0.9 x 24 x 1.1 / 1.3 = 18.2769 N/mm2 at l = 6968.2
func TestSpanByHand(t *testing.T) {
	s := spanOf(t, request("flat roof joist", "47x195", "C24", 600, on(model.Dead, 0.6), on(model.Snow, 0.4)))
	assert.InDelta(t, 4858.5, s.Span, 0.5)
	assert.Equal(t, "deflection at once", s.Governs)
	assert.NotEmpty(t, s.Working)
}

func TestSpanSaysWhyThereIsNone(t *testing.T) {
	for _, row := range []struct {
		says   string
		change func(*region.SpanRequest)
		reason string
	}{
		{"a use that nobody knows", func(r *region.SpanRequest) { r.Use = "mast" }, "gives no spans for"},
		{"a grade that nobody knows", func(r *region.SpanRequest) { r.Grade = named("C99") }, "neither in EN 338"},
		{"no centres", func(r *region.SpanRequest) { r.Centres = 0 }, "centres are not stated"},
		{"a country that is not sourced", func(r *region.SpanRequest) { r.Code = "IE" }, "not sourced"},
		{"a place that is not served", func(r *region.SpanRequest) { r.Code = "XX" }, "no national choices"},
		{"no dead load", func(r *region.SpanRequest) { r.Loads = r.Loads[1:] }, "the dead load must be stated"},
		{"no load that comes and goes", func(r *region.SpanRequest) { r.Loads = r.Loads[:1] }, "the imposed load or the snow must be stated"},
		{"wind", func(r *region.SpanRequest) { r.Loads[1].Action = model.Wind }, "under wind"},
		{"a load that is no number", func(r *region.SpanRequest) { r.Loads[1].Value = math.NaN() }, "0 or more"},
		{"a load beyond all sense", func(r *region.SpanRequest) { r.Loads[1].Value = 1e6 }, "too large"},
	} {
		r := request("ceiling joist", "47x120", "C16", 400, on(model.Dead, 0.25), on(model.Imposed, 0.25))
		row.change(r)
		s := spanOf(t, r)
		assert.Zero(t, s.Span, row.says)
		assert.Contains(t, s.Reason, row.reason, row.says)
	}
}

// The spans of the 1992 tables come from another code (permissible stress, BS 5268, recalled), so that the ratio is no error: what
// is held is that most lie near one another and none lies far off.
func TestSpansBesideThoseOf1992(t *testing.T) {
	var ratios []float64
	governs := map[string]int{}
	for _, row := range reference.Rows(t, filepath.Join("..", "uk1992", "spans.csv")) {
		section := row["b"] + "x" + row["h"]
		r := request(row["member"]+" joist", section, row["cls"], reference.Number(t, row["spacing"]), on(model.Dead, reference.Number(t, row["dead_kNm2"])), on(model.Imposed, 0.25))
		if row["member"] == "floor" {
			r.Loads[1] = on(model.Imposed, 1.5)
		}
		s := spanOf(t, r)
		require.Positive(t, s.Span, "%v: %s", row, s.Reason)
		ratio := s.Span / (reference.Number(t, row["span_m"]) * 1e3)
		governs[row["member"]+": "+s.Governs]++
		ratios = append(ratios, ratio)
		assert.Greater(t, ratio, 0.65, "%v governed by %s", row, s.Governs)
		assert.Less(t, ratio, 1.35, "%v governed by %s", row, s.Governs)
	}
	slices.Sort(ratios)
	var words []string
	for name, n := range governs {
		words = append(words, fmt.Sprintf("%s %d", name, n))
	}
	slices.Sort(words)
	t.Logf("%d spans, EN 1995 over 1992: %.3f to %.3f, median %.3f; governed by %s", len(ratios), ratios[0], ratios[len(ratios)-1],
		ratios[len(ratios)/2], strings.Join(words, ", "))
	assert.InDelta(t, 1, ratios[len(ratios)/2], 0.15)
}
