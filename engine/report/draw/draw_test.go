package draw_test

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/engine/report/internal/sample"
	"example.com/scantling/model"
)

var update = flag.Bool("update", false, "write the golden files anew; look at them before they are committed")

func traced(t *testing.T, format, mark string) string {
	t.Helper()
	printer, err := draw.Traces.Printer(format, report.Options{})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, printer.Print(&out, draw.Trace{Model: finding.Model{Title: "Quillmere reading room"}, Frame: sample.Frame(), Mark: mark}))
	return out.String()
}

func drawn(t *testing.T, name string, f draw.Frame) string {
	t.Helper()
	printer, err := draw.Sheets.Printer(name, report.Options{})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, printer.Print(&out, draw.Framed{Model: finding.Model{Title: "Quillmere reading room"}, Frame: f}))
	return out.String()
}

func TestGolden(t *testing.T) {
	for name, got := range map[string]string{
		"plan.svg": drawn(t, "plan", sample.Frame()), "axonometric.svg": drawn(t, "axonometric", sample.Frame()),
		"trace.svg": traced(t, "svg", "RB1"), "trace.dot": traced(t, "dot", "RB1"),
	} {
		path := filepath.Join("testdata", name)
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), got, name)
	}
}

// The paths of a drawing are mm on paper; times the scale they are the frame.
func TestDrawingsAreToScale(t *testing.T) {
	box := draw.Frame{Members: []draw.Member{
		{Mark: "X", Pieces: []draw.Piece{{Name: "X", Axis: []model.Point{{}, {X: 6000}}}}},
		{Mark: "Y", Pieces: []draw.Piece{{Name: "Y", Axis: []model.Point{{}, {Y: 4000}}}}},
		{Mark: "Z", Pieces: []draw.Piece{{Name: "Z", Axis: []model.Point{{}, {Z: 3000}}}}},
	}}
	us := box
	us.Units = model.US
	for _, row := range []struct {
		name    string
		drawing draw.Drawing
		scale   float64
		words   string
		lengths []float64 // mm of X, Y, Z
	}{
		{"a plan, 6 m across 150 mm", draw.Plan(box), 50, "1:50", []float64{6000, 4000}},
		{"an isometric drawing keeps all three axes", draw.Axonometric(box), 75, "1:75", []float64{6000, 4000, 3000}},
		{"a plan in feet and inches", draw.Plan(us), 48, "1/4 in = 1 ft", []float64{6000, 4000}},
	} {
		assert.Equal(t, row.scale, row.drawing.View.Scale, row.name)
		assert.Equal(t, row.words, row.drawing.Scale, row.name)
		for _, line := range row.drawing.Lines {
			if line.Member < len(row.lengths) {
				assert.InDelta(t, row.lengths[line.Member], lengthOf(t, line.Path)*row.scale, 0.02*row.scale, row.name)
			}
		}
	}
}

var numbers = regexp.MustCompile(`-?[0-9.]+`)

func lengthOf(t *testing.T, path string) float64 {
	t.Helper()
	var v []float64
	for _, text := range numbers.FindAllString(path, -1) {
		n, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		v = append(v, n)
	}
	require.Len(t, v, 4)
	return math.Hypot(v[2]-v[0], v[3]-v[1])
}

func TestDimensionsSayWhatTheyMeasure(t *testing.T) {
	d := draw.Plan(sample.Frame())
	var texts []string
	for _, dimension := range d.Dimensions {
		texts = append(texts, dimension.Text)
		paper := math.Hypot(dimension.X2-dimension.X1, dimension.Y2-dimension.Y1)
		mm, err := strconv.ParseFloat(dimension.Text, 64)
		require.NoError(t, err)
		assert.InDelta(t, mm, paper*d.View.Scale, 0.1)
	}
	assert.Equal(t, []string{"7200", "4800"}, texts)
	var heights []string
	for _, level := range draw.Axonometric(sample.Frame()).Levels {
		heights = append(heights, level.Text)
	}
	assert.Equal(t, []string{"+2300", "+3850"}, heights, "levels that would stand on each other are left out")
}

func TestPathGoesDownToGroundAndUpToAllThatRests(t *testing.T) {
	f := sample.Frame()
	path := draw.PathOf(f, "PO1")
	var down, up []string
	for _, flow := range draw.Flows(f, path.Down) {
		down = append(down, flow.From+">"+flow.To)
	}
	for _, flow := range draw.Flows(f, path.Up) {
		up = append(up, flow.From+">"+flow.To)
	}
	assert.Equal(t, []string{"PO1>B1", "B1>W1", "B1>W2"}, down)
	assert.Equal(t, []string{"RB1>PO1", "R1>RB1", "R2>RB1"}, up)
	rafters := draw.Flows(f, path.Up)[1]
	assert.Len(t, rafters.Hops, 17)
	assert.Equal(t, []float64{17 * 900, 17 * 400}, rafters.Load)

	circle := draw.Frame{Cases: []string{"dead"}, Members: []draw.Member{
		{Mark: "A", Pieces: []draw.Piece{{Name: "A"}}}, {Mark: "B", Pieces: []draw.Piece{{Name: "B"}}}},
		Hops: []draw.Hop{{From: "A", To: "B", Load: []float64{1}}, {From: "B", To: "A", Load: []float64{1}}}}
	assert.Len(t, draw.PathOf(circle, "A").Down, 2)
	assert.Empty(t, draw.PathOf(f, "no such mark").Down)
}

func TestEveryStateHasALineOfItsOwnAndAWord(t *testing.T) {
	rule := regexp.MustCompile(`(?m)^\.m\.?(\w*) \{([^}]*)\}`)
	lines, words := map[string]string{}, map[string]bool{}
	for _, match := range rule.FindAllStringSubmatch(draw.Style(), -1) {
		if match[1] == "ground" {
			continue
		}
		width := regexp.MustCompile(`stroke-width: ([.0-9]+)`).FindStringSubmatch(match[2])[1]
		dash := regexp.MustCompile(`stroke-dasharray: ([^;]*)`).FindString(match[2])
		key := width + " " + dash
		assert.Empty(t, lines[key], "%s and %s are drawn alike but for colour", lines[key], match[1])
		lines[key] = match[1]
	}
	assert.Len(t, lines, len(draw.States))
	for _, s := range draw.States {
		assert.False(t, words[s.Words()])
		words[s.Words()] = true
	}
}

// WCAG 2.2: 4.5 to 1 for text (1.4.3), 3 to 1 for what must be seen (1.4.11), on white paper.
func TestColoursContrast(t *testing.T) {
	for _, match := range regexp.MustCompile(`(?m)^(\.m[.\w]*|\.labels \.?\w+|\.\w+ text[^{]*) \{[^}]*?(?:stroke|fill): (#[0-9a-f]{6})`).FindAllStringSubmatch(draw.Style(), -1) {
		least := 4.5
		if strings.HasPrefix(match[1], ".m") {
			least = 3
		}
		assert.GreaterOrEqual(t, contrast(t, match[2]), least, match[1])
	}
}

// contrast is (1.05) / (L + 0.05), L the relative luminance of WCAG 2.2.
func contrast(t *testing.T, colour string) float64 {
	t.Helper()
	luminance := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		require.NoError(t, err)
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		luminance += weight * c
	}
	return 1.05 / (luminance + 0.05)
}

func TestStateOfTakesTheHeaviest(t *testing.T) {
	stop := finding.Finding{Outcome: finding.NotMet, Severity: finding.Stop}
	note := finding.Finding{Outcome: finding.NotMet, Severity: finding.Note}
	open := finding.Finding{Outcome: finding.Unchecked, Severity: finding.Note}
	signed := stop
	signed.Signoff = &finding.Signoff{Who: "the engineer"}
	lapsed := stop
	lapsed.Signoff = &finding.Signoff{Who: "the engineer", Lapsed: "changed"}
	for _, row := range []struct {
		name     string
		findings []finding.Finding
		judged   bool
		want     draw.State
	}{
		{"no rule applied: not judged", nil, false, draw.Unjudged},
		{"judged, and nothing found", nil, true, draw.Clear},
		{"a stop among notes", []finding.Finding{note, stop, open}, true, draw.Stop},
		{"what could not be checked outweighs a note", []finding.Finding{note, open}, true, draw.Unchecked},
		{"an accepted stop is accepted", []finding.Finding{signed}, true, draw.Accepted},
		{"a lapsed sign-off counts for nothing", []finding.Finding{lapsed}, true, draw.Stop},
	} {
		assert.Equal(t, row.want, draw.StateOf(row.findings, row.judged), row.name)
	}
}

func TestHostileMarksAreText(t *testing.T) {
	hostile := "</title><script>alert(1)</script>\"\\\n]; x -> y [\x00\x1b"
	f := sample.Frame()
	for i, m := range f.Members {
		if m.Mark == "RB1" {
			f.Members[i].Mark, f.Members[i].Role, f.Members[i].Section = hostile, hostile, hostile
		}
	}
	f.Cases[0] = hostile
	for _, format := range draw.Traces.Names() {
		printer, err := draw.Traces.Printer(format, report.Options{})
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, printer.Print(&out, draw.Trace{Model: finding.Model{Title: hostile}, Frame: f, Mark: hostile}), format)
		assert.NotContains(t, out.String(), "\x1b", format)
		switch format {
		case "svg":
			assert.NotContains(t, out.String(), "<script")
			wellFormed(t, out.String())
		case "dot":
			for _, line := range strings.Split(out.String(), "\n") {
				bare := regexp.MustCompile(`"(\\.|[^"\\])*"`).ReplaceAllString(line, "")
				assert.NotContains(t, bare, `"`, "a string ends early")
				assert.NotContains(t, bare, "alert")
			}
		}
	}
	wellFormed(t, drawn(t, "plan", f))
	wellFormed(t, drawn(t, "axonometric", f))
}

func wellFormed(t *testing.T, text string) {
	t.Helper()
	decoder := xml.NewDecoder(strings.NewReader(text))
	for {
		_, err := decoder.Token()
		if err == io.EOF {
			return
		}
		require.NoError(t, err)
	}
}

func TestAFrameWithoutDrawingsIsListedAndNotDrawn(t *testing.T) {
	f := draw.Frame{Members: []draw.Member{{Mark: "R1", Pieces: []draw.Piece{{Name: "R1"}}}}}
	d := draw.Plan(f)
	assert.Equal(t, 1, d.Undrawn)
	assert.Empty(t, d.Lines)
	assert.Equal(t, "not to scale", d.Scale)
	wellFormed(t, drawn(t, "plan", f))
}

// Widths in em of Liberation Sans and Arial, by their metrics: W 0.94, digits 0.56, other capitals 0.61 to 0.78.
func TestLabelsOfWallsAndTheirPlatesStandApart(t *testing.T) {
	wall := func(mark string, x float64) draw.Member {
		return draw.Member{Mark: mark, Role: "wall", Pieces: []draw.Piece{{Name: mark, Axis: []model.Point{{X: x}, {X: x, Y: 4800}}}}}
	}
	d := draw.Plan(draw.Frame{Members: []draw.Member{wall("WW", 0), wall("WPW", 0), wall("WE", 8400), wall("WPE", 8400)}})
	require.Len(t, d.Labels, 4, "all of them find room")
	const size = 2.3 // of the text, mm on the sheet
	em := map[rune]float64{'W': 0.94, 'P': 0.67, 'E': 0.67}
	for i, a := range d.Labels {
		right := a.X
		for _, r := range a.Text {
			right += em[r] * size
		}
		for j, b := range d.Labels {
			if i != j && math.Abs(a.Y-b.Y) < size && b.X > a.X {
				assert.Greater(t, b.X, right+0.3, "%s runs into %s", a.Text, b.Text)
			}
		}
	}
}

// Forty members lie on each other: as many marks as have a place beside them are written, and the drawing says whose are not.
func TestMarksThatFindNoRoomAreNamed(t *testing.T) {
	var f draw.Frame
	for i := range 40 {
		mark := fmt.Sprintf("LONG-MARK-%d", i+1)
		f.Members = append(f.Members, draw.Member{Mark: mark, Pieces: []draw.Piece{{Name: mark, Axis: []model.Point{{X: 0}, {X: 300}}}}})
	}
	f.Members = append(f.Members, draw.Member{Mark: "NOWHERE", Pieces: []draw.Piece{{Name: "NOWHERE"}}}, draw.Member{Mark: "FAR", Pieces: []draw.Piece{{Name: "FAR", Axis: []model.Point{{Y: 9000}, {X: 9000, Y: 9000}}}}})
	d := draw.Plan(f)
	assert.Equal(t, len(f.Members), len(d.Labels)+len(d.Unnamed)+1, "each is written or named, but for the one that is not drawn")
	require.NotEmpty(t, d.Unnamed)
	assert.NotContains(t, d.Unnamed, "NOWHERE")
	assert.NotContains(t, d.Unnamed, "FAR")
	first := strings.TrimPrefix(d.Unnamed[0], "LONG-MARK-")
	want := fmt.Sprintf("%d marks found no room on this drawing: LONG-MARK-%s to LONG-MARK-40.", len(d.Unnamed), first)
	assert.Equal(t, want, d.UnnamedWords())
	text := drawn(t, "plan", f)
	assert.Contains(t, strings.Join(strings.Fields(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(text, " ")), " "), want)
	assert.Empty(t, draw.Plan(draw.Frame{Members: f.Members[41:]}).UnnamedWords())
}

// The member that the way is of has its mark, and no number of the list stands on another.
func TestNumbersOfAWayStandApart(t *testing.T) {
	for _, mark := range []string{"RB1", "B1", "PO1"} {
		text := traced(t, "svg", mark)
		assert.Regexp(t, `<g class="labels"><text [^>]*>`+mark+`( \w+)*</text>`, text)
		at := regexp.MustCompile(`<circle cx="([0-9.]+)" cy="([0-9.]+)" r="1.9"/>`).FindAllStringSubmatch(text, -1)
		require.NotEmpty(t, at)
		for i, a := range at {
			for _, b := range at[:i] {
				assert.GreaterOrEqual(t, math.Hypot(number(t, a[1])-number(t, b[1]), number(t, a[2])-number(t, b[2])), 2*1.9, "%s: %v and %v", mark, a, b)
			}
		}
	}
}

func number(t *testing.T, text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

func BenchmarkPlan(b *testing.B) {
	f := sample.Big(10000)
	b.ReportAllocs()
	for b.Loop() {
		draw.Plan(f)
	}
}
