package page_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/engine/report/internal/sample"
	"example.com/scantling/engine/report/page"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// reading is a page with one of everything on it.
func reading() page.Page {
	ratio := 1.42
	f := sample.Frame()
	for i := range f.Members {
		if f.Members[i].Mark == "B1" {
			f.Members[i].Working = []finding.Step{
				{Fact: "ec3.bending", Symbol: "M_Ed", Value: 31.4, Unit: "kNm", Clause: "EN 1993-1-1 6.2.5"},
				{Fact: "ec3.bending", Symbol: "M_c,Rd", Value: 58.2, Unit: "kNm", Clause: "EN 1993-1-1 6.2.5"}}
		}
		if f.Members[i].State == draw.Clear && !f.Members[i].Ground {
			f.Members[i].Working = []finding.Step{{Fact: "ec5.deflection", Symbol: "w", Value: 6.9, Unit: "mm", Clause: "EN 1995-1-1 7.2"}}
		}
	}
	length := func(mm float64) *finding.Figure { return &finding.Figure{Value: mm, Dimension: model.Length} }
	at := func(line int) finding.Place { return finding.Place{File: "quillmere.json", Line: line, Column: 5} }
	return page.Page{
		Frame: f, Takedown: listing(f),
		Result: &finding.Result{
			Version: "1.0.0", Region: finding.Region{ID: "eurocode", Code: "GB-ENG", Edition: "EN 1995-1-1:2004+A2:2014 and its UK annex"},
			Model: finding.Model{Title: "Quillmere reading room: hipped roof and gabled wing", File: "quillmere.json", Units: "metric", Pieces: 58, Members: 13,
				SHA256: "9f2c0c1b5a3d4e6f708192a3b4c5d6e7f8091a2b3c4d5e6f708192a3b4c5d6e7"},
			Packs: []finding.Pack{{ID: "practice", Edition: "2026.1", Title: "Common practice in timber framing", SHA256: "5be1a90f2c", Rules: 42},
				{ID: "house", Edition: "3", Title: "Our own", SHA256: "77aa01c3de", Rules: 1}},
			Loosened: []finding.Loosened{{Pack: "house", Rule: "practice.least_bearing_masonry", What: "param", From: "90 mm", To: "75 mm", Reason: "padstones throughout"}},
			Summary:  finding.Summary{Stop: 1, Ask: 1, Note: 1, Accepted: 1, Unchecked: 2, Met: 210, NotApplicable: 800, Complete: true},
			Balance:  []finding.Balance{{Case: "dead", Applied: 59600, Ground: 59600}, {Case: "snow", Applied: 27200, Ground: 27200}},
			Findings: []finding.Finding{
				{ID: "1", Rule: "eurocode/bending", Title: "Bending strength", Outcome: finding.NotMet, Severity: finding.Stop, Member: "RB1", Piece: "RB1", Count: 1,
					Case: "1.35 dead + 1.5 snow", Message: "RB1 is asked for 42 per cent more than it can carry in bending", Action: "Put in the section that the engineer gives; do not load the ridge before.",
					Why: "A ridge beam that breaks takes both slopes with it.", Ratio: &ratio, Source: "EN 1995-1-1 6.1.6", Place: at(41), Drawing: "S-101",
					Found: &finding.Figure{Value: 20.9, Dimension: model.Stress}, Required: &finding.Figure{Value: 14.77, Dimension: model.Stress},
					Related: []finding.Related{{Mark: "PO1", Message: "props it in the middle"}},
					Working: []finding.Step{{Symbol: "k_mod", Value: 0.9, Clause: "EN 1995-1-1 3.1.3"}, {Symbol: "f_m,d", Value: 14.77, Unit: "N/mm2", Clause: "EN 1995-1-1 2.4.1"}}},
				{ID: "2", Rule: "practice/birdsmouth", Title: "Birdsmouth in a rafter", Outcome: finding.NotMet, Severity: finding.Ask, Member: "R1", Piece: "R1#1", Count: 17,
					Support: &finding.Support{On: "WP1"}, Message: "R1 is notched 54 mm deep over WP1; 49 mm is a third of its depth", Action: "Ask the engineer, or cut the seat shallower.",
					Found: length(54), Required: length(49), Source: "common practice, no source", Place: at(18), Drawing: "S-101"},
				{ID: "3", Rule: "eurocode/lateral", Title: "Lateral buckling", Outcome: finding.Unchecked, Severity: finding.Stop, Member: "B1", Piece: "B1", Count: 1,
					Message: "B1 could not be judged", Reason: "restraint: the document does not say", Action: "State how the top edge is held.", Source: "EN 1993-1-1 6.3.2", Place: at(60), Drawing: "S-102"},
				{ID: "5", Rule: "practice/post-foot", Title: "Foot of a post", Outcome: finding.NotMet, Severity: finding.Note, Member: "PO1", Piece: "PO1", Count: 1,
					Message: "PO1 stands on a beam: its foot is to be fixed against moving sideways", Source: "common practice, no source", Place: at(70), Drawing: "S-102"},
				{ID: "6", Rule: "practice/holes", Title: "Holes in a joist", Outcome: finding.NotMet, Severity: finding.Stop, Member: "J1", Piece: "J1#3", Count: 8,
					Message: "J1 has a hole of 40 mm outside the middle third", Action: "Move the hole.", Source: "common practice, no source", Place: at(80), Drawing: "S-102",
					Signoff: &finding.Signoff{Rule: "practice/holes", Mark: "J1", Who: "the site engineer", Authority: "the engineer of the job", Reference: "RFI 12", Date: "2026-02-03", Reason: "sleeved and doubled"}},
			},
			Signoffs: []finding.Signoff{{Rule: "practice/notch", Mark: "R2", Who: "the builder", Authority: "the site engineer", Date: "2025-11-20", Reason: "cut by hand", Lapsed: "the depth of R2 has changed since"}},
			Notes:    []string{"The width that R1 carries is taken as its centres."},
		},
		Against: &page.Against{File: "quillmere-as-built.json", Summary: "0 stop, 1 ask",
			Changes: []page.Change{{Member: "R1", Kind: "section", Drawn: "47x172 C24", Built: "47x147 C24", State: draw.Ask, Message: "shallower than drawn",
				Effect: "0.73 times as strong and 0.62 times as stiff as drawn", Evidence: "seen by site agent, 2026-04-03"}},
			Shifts: []page.Shifts{{Title: "What comes down at supports", Loads: []page.Shift{{Where: "R1 on WP1", Drawn: "1.2 kN", Built: "1.1 kN", More: "-0.1 kN", Percent: "-8.3 %"}}}}},
		Covered: []page.Covered{
			{Member: "RB1", What: "splice over the post, 8 bolts", Before: "the ceiling hides it", Drawing: "S-101"},
			{Member: "B1", What: "bearing on padstones, 150 mm", Before: "plaster hides it", Drawing: "S-102", Seen: "the site engineer, 2026-02-03, photograph 14"}},
		Signoffs:    []finding.Signoff{{Rule: "practice/holes", Mark: "J1", Who: "the site engineer", Authority: "the engineer of the job", Date: "2026-02-03", Reason: "sleeved and doubled"}},
		Assumptions: []page.Assumption{{Text: "Snow on the roof is not less than 0.4 kN/m2.", Source: "UK annex to EN 1991-1-3"}, {Text: "Service class 1.", Source: "site"}},
	}
}

// listing is a take-down of the sample's figures; it is here to be looked at.
func listing(f draw.Frame) statics.Listing {
	l := statics.Listing{Cases: f.Cases, Applied: []float64{59600, 27200}, Unresolved: []float64{0, 0}}
	for _, m := range f.Members {
		if m.Ground {
			l.Ground = append(l.Ground, statics.Arrived{Mark: m.Mark, Total: make([]float64, len(f.Cases))})
			continue
		}
		listed := statics.ListedMember{Mark: m.Mark, Role: m.Role, Section: m.Section, Grade: m.Grade}
		for _, p := range m.Pieces {
			listed.Pieces = append(listed.Pieces, statics.ListedPiece{Piece: p.Name, Length: 3000, Applied: []float64{1800, 800},
				Moment: []statics.Range{{Max: 675e3, MaxAt: 1500}, {Max: 300e3, MaxAt: 1500}}, Shear: []statics.Range{{Max: 900, Min: -900}, {Max: 400, Min: -400}},
				Axial: []statics.Range{{}, {}}, Deflection: []statics.Range{{Max: 4.25}, {Max: 1.9}}})
		}
		l.Members = append(l.Members, listed)
	}
	for _, hop := range f.Hops {
		mark, _, _ := strings.Cut(hop.From, "#")
		for i := range l.Members {
			for j := range l.Members[i].Pieces {
				if piece := &l.Members[i].Pieces[j]; l.Members[i].Mark == mark && piece.Piece == hop.From {
					piece.Supports = append(piece.Supports, statics.ListedSupport{On: hop.To, OnPiece: hop.To, Vertical: hop.Load, Horizontal: make([]float64, len(hop.Load))})
				}
			}
		}
		for i := range l.Ground {
			if l.Ground[i].Mark == hop.To {
				l.Ground[i].From = append(l.Ground[i].From, statics.Landed{Piece: hop.From, Vertical: hop.Load})
				for c, v := range hop.Load {
					l.Ground[i].Total[c] += v
				}
			}
		}
	}
	return l
}

// big is a page of that many pieces, each a member and a third of them with a finding.
func big(pieces int) page.Page {
	f := sample.Big(pieces)
	p := page.Page{Frame: f, Takedown: listing(draw.Frame{Cases: f.Cases, Members: f.Members}), Result: &finding.Result{Version: "1.0.0",
		Model: finding.Model{Title: "A very large floor", File: "floor.json", Units: "metric", Pieces: len(f.Members), Members: len(f.Members)}}}
	for i := range f.Hops { // the quick way: hop 2n and 2n+1 are of joist n
		piece := &p.Takedown.Members[i/2].Pieces[0]
		piece.Supports = append(piece.Supports, statics.ListedSupport{On: f.Hops[i].To, OnPiece: f.Hops[i].To, Vertical: f.Hops[i].Load, Horizontal: []float64{0, 0}})
	}
	for i, m := range f.Members {
		found := finding.Finding{ID: fmt.Sprint(i), Rule: "practice/span", Title: "Span of a joist", Outcome: finding.NotMet, Member: m.Mark, Piece: m.Mark, Count: 1,
			Message: m.Mark + " spans 4000 mm", Action: "Ask the engineer.", Source: "common practice, no source"}
		switch m.State {
		case draw.Stop:
			found.Severity = finding.Stop
		case draw.Ask:
			found.Severity = finding.Ask
		case draw.Noted:
			found.Severity = finding.Note
		case draw.Unchecked:
			found.Outcome, found.Reason = finding.Unchecked, "the grade is not stated"
		default:
			continue
		}
		p.Result.Findings = append(p.Result.Findings, found)
	}
	return p
}

func html(t *testing.T, p page.Page) string {
	t.Helper()
	printer, err := page.Formats.Printer("html", report.Options{})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, printer.Print(&out, p))
	return out.String()
}

// What a browser would tell too, for machines without one.
func TestPageStandsAlone(t *testing.T) {
	text := html(t, reading())
	assert.Equal(t, text, html(t, reading()), "the same page gives the same bytes")
	for _, address := range regexp.MustCompile(`(?i)(?:src|href|action)\s*=\s*"([^"]*)"|url\(([^)]*)\)|@import`).FindAllStringSubmatch(text, -1) {
		assert.True(t, strings.HasPrefix(address[1], "#"), "%s reaches out of the page", address[0])
	}
	for _, element := range []string{"style", "script"} {
		content := regexp.MustCompile(`(?s)<` + element + `>(.*?)</` + element + `>`).FindStringSubmatch(text)
		sum := sha256.Sum256([]byte(content[1]))
		assert.Contains(t, strings.ReplaceAll(text, "&#43;", "+"), "sha256-"+base64.StdEncoding.EncodeToString(sum[:]), "the policy allows this %s and no other", element)
	}
	assert.NotContains(t, text, `http-equiv="refresh"`)
	assert.NotContains(t, text, "ZgotmplZ", "html/template refused something")
	watched := reading()
	watched.Refresh = 2
	assert.Contains(t, html(t, watched), `<meta http-equiv="refresh" content="2">`)
}

func TestPageOfNothingSaysSo(t *testing.T) {
	text := html(t, page.Page{Result: &finding.Result{}})
	for _, want := range []string{"Untitled frame", "That is no approval", "Nothing was found", "names nothing that will be covered", "Nobody has signed anything off",
		"The run is incomplete", "no design, no approval"} {
		assert.Contains(t, text, want)
	}
}

func TestMembersThatAreAlikeStandTogether(t *testing.T) {
	text := html(t, big(1000))
	assert.Contains(t, text, "250 members alike: J1 to J250")
	assert.Contains(t, text, "stop</span> <a href=\"#finding-0\">J4</a> and 90 more, <b>Span of a joist</b>: Ask the engineer.")
}

func TestCasesThatBringNothingAreLeftOut(t *testing.T) {
	p := page.Page{Result: &finding.Result{}, Takedown: statics.Listing{Cases: []string{"dead", "roof_imposed", "wind"}, Members: []statics.ListedMember{
		{Mark: "B1", Pieces: []statics.ListedPiece{{Piece: "B1", Applied: []float64{1800, 0, 0}, Supports: []statics.ListedSupport{
			{On: "W1", Vertical: []float64{900, 250, 0}, Horizontal: []float64{0, 0, 0}}}}}},
		{Mark: "B2", Pieces: []statics.ListedPiece{{Piece: "B2", Applied: []float64{0, 0, 0}}}}}}}
	rows := regexp.MustCompile(`rowgroup" rowspan="(\d)">(B\d)`).FindAllStringSubmatch(html(t, p), -1)
	require.Len(t, rows, 2)
	assert.Equal(t, []string{"2", "B1"}, rows[0][1:], "dead, and what else rests on it")
	assert.Equal(t, []string{"1", "B2"}, rows[1][1:], "one row, so that it is there")
	assert.Contains(t, html(t, p), "<td>roof imposed</td>")
}

// Wind on a gable pushes across the joists that hold it, and so does the wall that it arrives at.
func TestPushesAreShownWhicheverWayTheyAct(t *testing.T) {
	text := html(t, page.Page{Result: &finding.Result{}, Takedown: statics.Listing{Cases: []string{"dead", "wind", "snow"}, Members: []statics.ListedMember{
		{Mark: "B1", Pieces: []statics.ListedPiece{{Piece: "B1", Applied: []float64{1800, 0, 0}, Supports: []statics.ListedSupport{
			{On: "W1", Vertical: []float64{900, 0, 0}, Horizontal: []float64{0, -250, 0}, Across: []float64{0, 1250, 0}},
			{On: "W2", Vertical: []float64{900, 0, 0}, Horizontal: []float64{0, 0, 0}, Across: []float64{0, 1250, 0}}}}}},
		{Mark: "ST1", Pieces: []statics.ListedPiece{{Piece: "ST1", Applied: []float64{0, 0, 0}, HeadPush: []float64{0, 0, 400}}}}},
		Ground: []statics.Arrived{{Mark: "W1", Total: []float64{900, 0, 0}, X: []float64{0, 250, 0}, Y: []float64{0, 1250, 0}}}}})
	for _, want := range []string{"<td>W1 0.900; W2 0.900</td>", "<td>W1 0.000 (pushes -0.250, 1.250 across); W2 0.000 (pushes 1.250 across)</td>",
		"<td>snow</td><td class=\"figure\">0.000</td><td class=\"figure\">0.000</td><td>what holds its head (pushes 0.400)</td>",
		"<td>wind</td><td>pushed 0.250 along x, 1.250 along y</td>"} {
		assert.Contains(t, text, want)
	}
}

func TestWhatIsNotCheckedIsSaidOnce(t *testing.T) {
	text := html(t, reading())
	assert.Contains(t, text, "<b>Because</b> restraint: the document does not say")
	assert.NotContains(t, text, "B1 could not be judged", "the reason says so")
}

func TestWorkingSaysWhatItWorksOut(t *testing.T) {
	p := reading()
	for i := range p.Frame.Members {
		p.Frame.Members[i].Working = nil
	}
	p.Frame.Members[0].Working = []finding.Step{{Fact: "ec5.bending", Symbol: "M_y,d", Value: 7.1888e6, Unit: "N mm"}, {Fact: "ec5.bending", Symbol: "k_mod", Value: 0.9},
		{Fact: "ec5.shear", Symbol: "V_d", Value: 1137.8, Unit: "N"}}
	text := html(t, p)
	assert.Equal(t, 1, strings.Count(text, `colspan="3">ec5.bending<`))
	assert.Equal(t, 1, strings.Count(text, `colspan="3">ec5.shear<`))
	assert.Contains(t, text, "7.1888 kNm")
	assert.Contains(t, text, "1.1378 kN")
}

func BenchmarkPage(b *testing.B) {
	p := big(10000)
	printer, err := page.Formats.Printer("html", report.Options{})
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, printer.Print(io.Discard, p))
	}
}
