package size_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/size"
	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
)

var update = flag.Bool("update", false, "write the golden files anew; read them before they are committed")

// choice offers two options, refuses one, and has something open that no size mends.
func choice() *sizing.Choice {
	bent := sizing.Failure{Rule: "eurocode/bending", Title: "Timber in bending", Member: "J1", Outcome: finding.NotMet, Severity: finding.Stop,
		Message: "J1 is bent to 1.11 of what its timber takes; 1 is the most", Found: &finding.Figure{Value: 1.11}, Required: &finding.Figure{Value: 1}}
	option := func(section string, depth, mass, use, price float64, best ...sizing.Merit) sizing.Option {
		return sizing.Option{Section: section, Grade: "C16", Centres: model.Given(400), Pieces: 7, Depth: depth, Mass: model.Given(mass), Price: model.Given(price),
			Use: model.Given(use), Governs: "deflection of timber, as a part of its limit", Best: best}
	}
	thin := option("47x120", 120, 30, 1.48, 60)
	thin.Failing = []sizing.Failure{bent, {Rule: "practice/x", Title: "x", Message: "x is not met", Outcome: finding.NotMet, Severity: finding.Ask}}
	short := option("47x145", 145, 43, 0.86, 70, sizing.Lightest, sizing.Cheapest)
	short.Notes = []string{"At W1 J1 differs by 50 mm in depth from what bears beside it"}
	return &sizing.Choice{Model: finding.Model{File: "loft.json", Units: "metric"}, Region: finding.Region{ID: "eurocode", Code: "GB-ENG"}, Mark: "J1", Role: "floor joist",
		Now: option("47x195", 195, 64, 0.3, 0), Offered: []sizing.Option{short, option("75x120", 120, 56, 0.94, 90, sizing.Shallowest)},
		Refused: []sizing.Option{thin}, Below: []sizing.Below{{Merit: sizing.Lightest, Option: thin}}, Tried: 3, Kept: "others rest on its pieces",
		Loosened: []finding.Loosened{{Pack: "house", Rule: "practice/x", What: "off", From: "ask", To: "off", Reason: "our yard"}},
		Standing: []sizing.Failure{{Rule: "paperwork/open", Message: "J1 is still as engineer's details", Severity: finding.Ask}}}
}

func ranking() *sizing.Ranking {
	r := &sizing.Ranking{Model: finding.Model{File: "loft.json"}, Region: finding.Region{ID: "eurocode"}, Unranked: 2}
	for i := range 14 {
		mark := "B" + string(rune('A'+i))
		r.Members = append(r.Members, sizing.Ranked{Mark: mark, Piece: mark, Role: "beam", Section: "47x195", Grade: "C24", Use: 0.95 - float64(i)*0.05, Governs: "timber in bending", Case: "G + Q"})
	}
	return r
}

func TestGolden(t *testing.T) {
	for _, row := range []struct {
		file string
		out  string
	}{
		{"choice.txt", chosen(t, "text", choice())}, {"choice.json", chosen(t, "json", choice())},
		{"ranking.txt", ranked(t, "text", ranking())}, {"ranking.json", ranked(t, "json", ranking())},
	} {
		t.Run(row.file, func(t *testing.T) {
			file := filepath.Join("testdata", row.file)
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(row.out), 0o644))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), row.out)
		})
	}
}

func TestTextFitsEightyColumnsAndCarriesTheCaution(t *testing.T) {
	for _, out := range []string{chosen(t, "text", choice()), ranked(t, "text", ranking())} {
		for _, line := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
		}
		assert.Contains(t, strings.Join(strings.Fields(out), " "), finding.Caution)
	}
}

func TestAFigureThatIsAWordStaysOne(t *testing.T) {
	c := choice()
	c.Standing[0].Required = &finding.Figure{Text: "held down"}
	assert.Contains(t, strings.Join(strings.Fields(chosen(t, "json", c)), " "), `"required": { "value": "held down", "unit": "" }`)
}

func TestNothingOfferedIsSaid(t *testing.T) {
	c := choice()
	c.Offered, c.Below = nil, nil
	assert.Contains(t, chosen(t, "text", c), "NOTHING in the stock meets every rule here")
	assert.Contains(t, chosen(t, "json", c), `"offered": []`)
}

func chosen(t *testing.T, format string, c *sizing.Choice) string {
	t.Helper()
	p, err := size.Choices.Printer(format, report.Options{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, p.Print(&b, c))
	return b.String()
}

func ranked(t *testing.T, format string, r *sizing.Ranking) string {
	t.Helper()
	p, err := size.Rankings.Printer(format, report.Options{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, p.Print(&b, r))
	return b.String()
}
