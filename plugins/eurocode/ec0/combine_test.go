package ec0_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/eurocode/ec0"
	"example.com/scantling/plugins/eurocode/internal/reference"
	"example.com/scantling/plugins/eurocode/national"
)

func choices(t testing.TB, code string) *national.Choices {
	t.Helper()
	c, absent := national.For(code)
	require.Empty(t, absent)
	return c
}

var (
	dead  = ec0.Case{ID: "dead", Action: ec0.Dead, Duration: national.Permanent}
	floor = ec0.Case{ID: "imposed", Action: ec0.Imposed, Category: "A1", Duration: national.MediumTerm}
	loft  = ec0.Case{ID: "loft", Action: ec0.Imposed, Category: "E", Duration: national.LongTerm}
	roof  = ec0.Case{ID: "roof_imposed", Action: ec0.RoofImposed, Duration: national.ShortTerm}
	snow  = ec0.Case{ID: "snow", Action: ec0.Snow, Duration: national.ShortTerm}
	wind  = ec0.Case{ID: "wind", Action: ec0.Wind, Duration: national.Instantaneous}
)

func combine(t testing.TB, code string, cases ...ec0.Case) []ec0.Combination {
	t.Helper()
	rows, absent := ec0.Combine(cases, choices(t, code), ec0.Site{})
	require.Empty(t, absent)
	return rows
}

func ids(rows []ec0.Combination, state ec0.State) []string {
	var found []string
	for _, row := range rows {
		if row.State == state {
			found = append(found, row.ID)
		}
	}
	return found
}

// Worked by hand from EN 1990 6.4.3.2, 6.5.3 and the factors of the UK annex.
func TestCombineFloorAndSnow(t *testing.T) {
	rows := combine(t, "GB-ENG", dead, floor, snow)
	assert.Equal(t, []string{
		"1.35 dead",
		"1.35 dead + 1.5 imposed",
		"1 dead + 1.5 imposed",
		"1.35 dead + 1.5 snow",
		"1 dead + 1.5 snow",
		"1.35 dead + 1.5 imposed + 0.75 snow",
		"1.35 dead + 1.05 imposed + 1.5 snow",
		"1 dead + 1.5 imposed + 0.75 snow",
		"1 dead + 1.05 imposed + 1.5 snow",
	}, ids(rows, ec0.Strength))
	assert.Equal(t, []string{"dead", "dead + imposed", "dead + snow", "dead + imposed + 0.5 snow", "dead + 0.7 imposed + snow"}, ids(rows, ec0.Characteristic))
	assert.Equal(t, []string{"frequent dead", "frequent dead + 0.5 imposed", "frequent dead + 0.2 snow", "frequent dead + 0.3 imposed + 0.2 snow"}, ids(rows, ec0.Frequent))
	assert.Equal(t, []string{"quasi-permanent dead", "quasi-permanent dead + 0.3 imposed"}, ids(rows, ec0.QuasiPermanent))
	assert.Equal(t, []string{"uplift 0.9 dead + 1.5 imposed", "uplift 0.9 dead + 1.5 snow", "uplift 0.9 dead + 1.5 imposed + 0.75 snow", "uplift 0.9 dead + 1.05 imposed + 1.5 snow"}, ids(rows, ec0.Uplift))
}

func TestCombineOtherSets(t *testing.T) {
	secondWind := wind
	secondWind.ID = "wind from the left"
	first, second := wind, secondWind
	first.Instead, second.Instead = "wind", "wind"
	for name, row := range map[string]struct {
		code  string
		cases []ec0.Case
		state ec0.State
		want  []string
	}{
		"a roof takes snow and wind together, but no maintenance load with either": {
			"GB-ENG", []ec0.Case{dead, roof, snow, wind}, ec0.Characteristic,
			[]string{"dead", "dead + roof imposed", "dead + snow", "dead + wind", "dead + snow + 0.5 wind", "dead + 0.5 snow + wind"}},
		"two winds stand for one another and are told apart by their ids": {
			"GB-ENG", []ec0.Case{dead, first, second}, ec0.Strength,
			[]string{"1.35 dead", "1.35 dead + 1.5 wind", "1 dead + 1.5 wind",
				"1.35 dead + 1.5 wind from the left", "1 dead + 1.5 wind from the left"}},
		"two dead cases share a factor and a name": {
			"GB-ENG", []ec0.Case{dead, {ID: "self-weight", Duration: national.Permanent}, floor}, ec0.Characteristic,
			[]string{"dead", "dead + imposed"}},
		"stored goods last longer than a floor's load and have rows without it": {
			"GB-ENG", []ec0.Case{dead, floor, loft}, ec0.Characteristic,
			[]string{"dead", "dead + imposed (loft)", "dead + imposed", "dead + imposed + imposed (loft)", "dead + 0.7 imposed + imposed (loft)"}},
		"nothing but dead load": {
			"GB-ENG", []ec0.Case{dead}, ec0.Strength, []string{"1.35 dead"}},
		"wind alone under the values that the EN recommends": {
			"recommended", []ec0.Case{dead, floor, wind}, ec0.Characteristic,
			[]string{"dead", "dead + imposed", "dead + wind", "dead + imposed + 0.6 wind", "dead + 0.7 imposed + wind"}},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, row.want, ids(combine(t, row.code, row.cases...), row.state))
		})
	}
}

// EN 1990 6.10a and 6.10b with xi = 0.925: 0.925 x 1.35 = 1.249 (reference: factors.md, 'Actions, UK').
func TestCombineWithTheTwoExpressions(t *testing.T) {
	two := *choices(t, "GB-ENG")
	two.Combinations.Expression.Value = "6.10a/b"
	rows, absent := ec0.Combine([]ec0.Case{dead, floor}, &two, ec0.Site{})
	require.Empty(t, absent)
	assert.Equal(t, []string{"1.35 dead", "1.249 dead", "1.35 dead + 1.05 imposed", "1.249 dead + 1.5 imposed", "1 dead + 1.5 imposed"}, ids(rows, ec0.Strength))
}

func TestSnowHighUpHasItsOwnFactors(t *testing.T) {
	rows, absent := ec0.Combine([]ec0.Case{dead, snow}, choices(t, "GB-SCT"), ec0.Site{Altitude: 1001})
	require.Empty(t, absent)
	assert.Equal(t, []string{"quasi-permanent dead", "quasi-permanent dead + 0.2 snow"}, ids(rows, ec0.QuasiPermanent))
}

func TestTheShortestActionGivesTheDuration(t *testing.T) {
	for _, row := range combine(t, "GB-ENG", dead, floor, snow, wind) {
		want := national.Permanent
		for mark, duration := range map[string]national.Duration{"imposed": national.MediumTerm, "snow": national.ShortTerm, "wind": national.Instantaneous} {
			if strings.Contains(row.ID, mark) {
				want = max(want, duration)
			}
		}
		assert.Equal(t, want, row.Duration, row.ID)
	}
}

func TestWhatIsNotKnownIsAbsent(t *testing.T) {
	for name, row := range map[string]struct {
		code  string
		cases []ec0.Case
		says  string
	}{
		"a country of which nothing is sourced": {"IE", []ec0.Case{dead}, "not sourced: the national choices for IE give no source for combinations.gamma_G_sup"},
		"a category that no annex has":          {"GB-ENG", []ec0.Case{{ID: "x", Action: ec0.Imposed, Category: "Z", Duration: national.MediumTerm}}, `no value for "Z"`},
		"a floor without a category":            {"GB-ENG", []ec0.Case{{ID: "x", Action: ec0.Imposed, Duration: national.MediumTerm}}, `"x" states no category`},
		"a case without a duration":             {"GB-ENG", []ec0.Case{{ID: "x"}}, `"x" has no load-duration class`},
	} {
		t.Run(name, func(t *testing.T) {
			rows, absent := ec0.Combine(row.cases, choices(t, row.code), ec0.Site{})
			assert.Nil(t, rows)
			assert.Contains(t, string(absent), row.says)
		})
	}
}

// Example EC0-COMB-1: Steel Buildings in Europe, Multi-storey steel buildings Part 4, example A.2, read in a public text. The
// roof beam's two governing rows are the gravity load with snow and the least permanent load with the wind's suction.
func TestRoofBeamOfTheMultiStoreyGuide(t *testing.T) {
	example := reference.Find(t, "EC0-COMB-1")
	in := func(name string) float64 { return example.In(t, name) }

	line := []float64{in("self_kN_m") + in("G_area")*in("spacing"), in("snow") * in("spacing"), in("wind") * in("spacing")}
	for at, name := range []string{"Gk", "Qs", "Qw"} {
		example.Agrees(t, name, line[at])
	}
	most, least := math.Inf(-1), math.Inf(1)
	for _, row := range combine(t, "GB-ENG", dead, snow, wind) {
		if row.State != ec0.Strength {
			continue
		}
		sum := 0.0
		for at, factor := range row.Factors {
			sum += factor * line[at]
		}
		most, least = max(most, sum), min(least, sum)
	}
	moment := in("L") * in("L") / 8
	for name, got := range map[string]float64{"c1": most, "c2": least, "M1": most * moment, "M2": least * moment} {
		example.Agrees(t, name, got)
	}
}

// Whatever the cases, the rows keep the rules that they are made by; the second way is to ask each row by itself.
func TestRowsKeepTheirRules(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	pool := []ec0.Case{floor, loft, roof, snow, wind}
	for range 200 {
		cases := []ec0.Case{dead}
		for i := range random.IntN(6) {
			c := pool[random.IntN(len(pool))]
			c.ID = fmt.Sprintf("%s %d", c.ID, i)
			if random.IntN(2) == 0 {
				c.Instead = fmt.Sprint(c.Action)
			}
			cases = append(cases, c)
		}
		rows := combine(t, "GB-ENG", cases...)
		seen := map[string]bool{}
		leads := map[int]bool{}
		for _, row := range rows {
			require.False(t, seen[row.ID], "%s stands twice", row.ID)
			seen[row.ID] = true
			require.Len(t, row.Factors, len(cases))
			require.Positive(t, row.Factors[0], "the permanent load is always there")
			for i, a := range row.Factors {
				if row.State == ec0.Strength && a == 1.5 {
					leads[i] = true
				}
				for j, b := range row.Factors[:i] {
					if a == 0 || b == 0 {
						continue
					}
					require.False(t, cases[i].Instead != "" && cases[i].Instead == cases[j].Instead, row.ID)
					one, other := cases[i].Action, cases[j].Action
					require.False(t, one == ec0.RoofImposed && (other == ec0.Snow || other == ec0.Wind), row.ID)
					require.False(t, other == ec0.RoofImposed && (one == ec0.Snow || one == ec0.Wind), row.ID)
				}
			}
		}
		require.Len(t, leads, len(cases)-1, "every variable case leads somewhere: %v", cases)
	}
}
