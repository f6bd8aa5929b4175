package takedown_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/takedown"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

var update = flag.Bool("update", false, "write the golden files anew; read them before they are committed")

// sample is a beam of 4 m on a wall and a post, with 0.25 kN/m of its own and four joists that land on it a metre apart
// from 0.5 m; the figures follow from w L / 2, w L^2 / 8 and the sum of the point loads.
func sample() takedown.Sheet {
	joist := func(i int) statics.ListedPiece {
		return statics.ListedPiece{
			Piece: fmt.Sprintf("J1#%d", i), Length: 3000, Applied: []float64{600, 900},
			Supports: []statics.ListedSupport{
				{On: "W2", OnPiece: "W2", At: 0, Vertical: []float64{300, 450}, Horizontal: []float64{0, 0}},
				{On: "B1", OnPiece: "B1", At: 3000, Vertical: []float64{300, 450}, Horizontal: []float64{0, 0}},
			},
			Moment: []statics.Range{{Max: 225e3, MaxAt: 1500}, {Max: 337.5e3, MaxAt: 1500}},
			Shear:  []statics.Range{{Max: 300, Min: -300, MinAt: 3000}, {Max: 450, Min: -450, MinAt: 3000}},
			Axial:  []statics.Range{{Max: -2.8e-14}, {}}, NoStiff: "the grade of J1 is not stated",
		}
	}
	odd := joist(4)
	odd.Applied, odd.Supports[0].Vertical[0], odd.Supports[1].Vertical[0] = []float64{700, 900}, 350, 350
	return takedown.Sheet{
		Model: finding.Model{Title: "Loft over the reading room", File: "loft.json", Units: "metric"},
		Listing: statics.Listing{
			Cases: []string{"dead", "imposed"},
			Members: []statics.ListedMember{
				{Mark: "J1", Role: "floor joist", Section: "47x195", Pieces: []statics.ListedPiece{joist(1), joist(2), joist(3), odd}},
				{Mark: "B1", Role: "beam", Section: "2/47x195", Grade: "C24", Pieces: []statics.ListedPiece{{
					Piece: "B1", Length: 4000, Applied: []float64{1000, 0},
					Supports: []statics.ListedSupport{
						{On: "W1", OnPiece: "W1", At: 0, Vertical: []float64{1118.75, 900}, Horizontal: []float64{0, 0}},
						{On: "PO1", OnPiece: "PO1", At: 4000, Vertical: []float64{1131.25, 900}, Horizontal: []float64{12, 0}, Across: []float64{-2.8e-14, 40}},
					},
					Moment: []statics.Range{{Max: 1112.5e3, MaxAt: 2000}, {Max: 900e3, MaxAt: 1500}},
					Shear:  []statics.Range{{Max: 1118.75, Min: -1131.25, MinAt: 4000}, {Max: 900, Min: -900, MinAt: 4000}},
					Axial:  []statics.Range{{Max: 0, Min: -12, MinAt: 0}, {}}, Deflection: []statics.Range{{Max: 2.125, MaxAt: 2000}, {Max: 1.5, MaxAt: 2000}},
				}}},
				{Mark: "PO1", Role: "post", Section: "100x100", Grade: "C24", Pieces: []statics.ListedPiece{{
					Piece: "PO1", Length: 2300, Applied: []float64{0, 0}, Unsolved: "nothing is said of what it stands on"}}},
			},
			Ground: []statics.Arrived{
				{Mark: "W1", Total: []float64{1118.75, 900}, X: []float64{-2.8e-14, 0}, Y: []float64{0, 0}, From: []statics.Landed{{Piece: "B1", At: 400, Vertical: []float64{1118.75, 900}}}},
				{Mark: "W2", Total: []float64{1250, 1800}, X: []float64{0, 12}, Y: []float64{0, -40}, From: []statics.Landed{
					{Piece: "J1#1", At: 500, Vertical: []float64{300, 450}}, {Piece: "J1#2", At: 1500, Vertical: []float64{300, 450}},
					{Piece: "J1#3", At: 2500, Vertical: []float64{300, 450}}, {Piece: "J1#4", At: 3500, Vertical: []float64{350, 450}}}},
			},
			Applied: []float64{3500, 3600}, Unresolved: []float64{1131.25, 900}, Imbalance: 2.5e-16,
			Notes: []string{"Self-weight is left out: the document says so."},
		},
	}
}

func printed(t *testing.T, format string, s takedown.Sheet) string {
	t.Helper()
	printer, err := takedown.Formats.Printer(format, report.Options{})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, printer.Print(&out, s))
	return out.String()
}

func TestGolden(t *testing.T) {
	us := sample()
	us.Model.Units = "us"
	long := sample()
	long.Listing.Cases[1] = "imposed, span 1 of the gallery"
	for name, got := range map[string]string{
		"loft.txt": printed(t, "text", sample()), "loft.json": printed(t, "json", sample()), "loft.csv": printed(t, "csv", sample()),
		"loft-us.txt": printed(t, "text", us), "loft-long.txt": printed(t, "text", long),
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

func TestPiecesThatAreAlikeStandOnce(t *testing.T) {
	groups := takedown.Group(sample().Listing.Members[0])
	require.Len(t, groups, 2)
	assert.Equal(t, "3 pieces alike, J1#1 to J1#3", groups[0].Title())
	assert.Equal(t, "J1#4", groups[1].Title())
	spread := takedown.Alike{Names: []string{"R1#1", "R1#3", "R1#4", "R1#6", "R1#7", "R1#8"}}
	assert.Equal(t, "6 pieces alike, R1#1, R1#3, R1#4, R1#6 to R1#8", spread.Title())
}

// What the table says must add up by itself: a reader follows it by hand.
func TestTheTableAddsUp(t *testing.T) {
	l := sample().Listing
	arrivals := takedown.Arrivals(l)
	for _, m := range l.Members {
		for _, p := range m.Pieces {
			if p.Unsolved != "" {
				continue
			}
			for i := range l.Cases {
				down, up := p.Applied[i], 0.0
				for _, a := range arrivals[p.Piece] {
					down += a.Vertical[i]
				}
				for _, s := range p.Supports {
					up += s.Vertical[i]
				}
				assert.InDelta(t, down, up, 1e-9, "%s, %s", p.Piece, l.Cases[i])
			}
		}
	}
}

func TestJSONIsKeyedAsOtherProgramsExpect(t *testing.T) {
	var got struct {
		Members map[string]struct {
			Pieces []struct {
				Supports []struct {
					On                   string
					At                   float64
					Vertical, Horizontal map[string]float64
				}
				Moment map[string]map[string]float64
			}
		}
		Ground              map[string]map[string]float64
		Applied, Unresolved map[string]float64
	}
	require.NoError(t, json.Unmarshal([]byte(printed(t, "json", sample())), &got))
	beam := got.Members["B1"].Pieces[0]
	assert.Equal(t, map[string]float64{"dead": 1.11875, "imposed": 0.9}, beam.Supports[0].Vertical)
	assert.Empty(t, beam.Supports[0].Horizontal)
	assert.Equal(t, map[string]float64{"dead": 0.012}, beam.Supports[1].Horizontal)
	assert.Equal(t, map[string]float64{"max": 1.1125, "max_at": 2000, "min": 0, "min_at": 0}, beam.Moment["dead"])
	assert.Equal(t, map[string]float64{"dead": 1.25, "imposed": 1.8}, got.Ground["W2"])
	assert.Equal(t, map[string]float64{"dead": 3.5, "imposed": 3.6}, got.Applied)
}

func TestCSVIsNoFormula(t *testing.T) {
	s := sample()
	s.Listing.Members[1].Mark = `=HYPERLINK("x")`
	rows, err := csv.NewReader(strings.NewReader(printed(t, "csv", s))).ReadAll()
	require.NoError(t, err)
	seen := false
	for _, row := range rows {
		assert.NotContains(t, "=@", string(append([]byte(row[0]), ' ')[0]))
		seen = seen || row[0] == `'=HYPERLINK("x")`
	}
	assert.True(t, seen)
	assert.Contains(t, rows[len(rows)-1][6], "aid to checking")
}

func TestTextFitsEightyColumns(t *testing.T) {
	s := sample()
	for i := 3; i < 12; i++ {
		s.Listing.Cases = append(s.Listing.Cases, fmt.Sprintf("snow, drift against gable %d", i))
	}
	pad := func(v []float64) []float64 { return append(v, make([]float64, len(s.Listing.Cases)-len(v))...) }
	s.Listing.Members = s.Listing.Members[:1]
	for i := range s.Listing.Members[0].Pieces {
		p := &s.Listing.Members[0].Pieces[i]
		p.Applied, p.Moment, p.Shear, p.Axial = pad(p.Applied), nil, nil, nil
		for j := range p.Supports {
			s := &p.Supports[j]
			s.Vertical, s.Horizontal, s.Across = pad(s.Vertical), pad(s.Horizontal), pad(s.Across)
		}
	}
	s.Listing.Ground, s.Listing.Applied, s.Listing.Unresolved = nil, pad(s.Listing.Applied), pad(nil)
	for _, line := range strings.Split(printed(t, "text", s), "\n") {
		assert.LessOrEqual(t, len(line), 80, line)
	}
}

// A row stands where one of the cases beside each other has a figure, its place under that figure alone.
func TestWhatIsNothingIsLeftOut(t *testing.T) {
	none := make([]float64, 7)
	s := takedown.Sheet{Listing: statics.Listing{Cases: []string{"a", "b", "c", "d", "e", "f", "g"}, Applied: none, Unresolved: none, Members: []statics.ListedMember{
		{Mark: "B1", Role: "beam", Pieces: []statics.ListedPiece{{Piece: "B1", Length: 2000, Applied: []float64{0, 0, 4000, 0, 0, 0, 0}, Supports: []statics.ListedSupport{
			{On: "W1", Vertical: []float64{0, 0, 2000, 0, 0, 0, 0}}}, Moment: []statics.Range{{}, {}, {Max: 2e6, MaxAt: 1000}, {}, {}, {}, {Min: -1e6, MinAt: 500}}}}},
		{Mark: "B2", Role: "beam", Pieces: []statics.ListedPiece{{Piece: "B2", Length: 2000, Applied: none, Shear: make([]statics.Range, 7)}}}}}}
	text := printed(t, "text", s)
	_, text, _ = strings.Cut(text, "B1: beam")
	text, _, _ = strings.Cut(text, "Balance")
	assert.Equal(t, `, 2000 mm long
                                       a         b         c         d         e
  own load                         0.000     0.000     4.000     0.000     0.000
  held up by W1 at 0               0.000     0.000     2.000     0.000     0.000
  moment, largest                  0.000     0.000     2.000     0.000     0.000
    at                                                  1000
                                       f         g
  moment, smallest                 0.000    -1.000
    at                                         500

B2: beam, 2000 mm long
  nothing in any case

`, text)
}

func TestPlacesInFeetAndInches(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		u    model.Units
		want string
	}{
		{2413, model.Metric, "2413"}, {0, model.US, `0.0"`}, {152.4, model.US, `6.0"`}, {304.79, model.US, `1' 0.0"`},
		{2438.4, model.US, `8' 0.0"`}, {2413, model.US, `7' 11.0"`}, {-457.2, model.US, `-1' 6.0"`}, {-1e-12, model.US, `0.0"`},
	} {
		assert.Equal(t, c.want, takedown.Figures{Units: c.u}.Place(c.mm))
	}
}

// A strut's head is pushed as its foot is, the other way; a cranked beam's free end slides.
func TestWhatMovesAndPushesSidewaysIsPrinted(t *testing.T) {
	s := sample()
	beam := &s.Listing.Members[1].Pieces[0]
	beam.HeadPush, beam.Roller = []float64{-2500, 0}, []float64{3.25, 0}
	text := printed(t, "text", s)
	assert.Regexp(t, `pushed at its head by what\n +it props +-2\.500 +0\.000\n`, text)
	assert.Regexp(t, `its free end slides +3\.25 +0\.00\n`, text)
	rows := printed(t, "csv", s)
	assert.Contains(t, rows, "B1,B1,push at its head,,,dead,-2.5,kN\n")
	assert.Contains(t, rows, "B1,B1,free end slides,,,dead,3.25,mm\n")
	var out struct {
		Members map[string]struct {
			Pieces []struct {
				HeadPush, Roller map[string]float64
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(strings.ReplaceAll(printed(t, "json", s), "head_push", "HeadPush")), &out))
	assert.Equal(t, map[string]float64{"dead": -2.5}, out.Members["B1"].Pieces[0].HeadPush)
	assert.Equal(t, map[string]float64{"dead": 3.25, "imposed": 0}, out.Members["B1"].Pieces[0].Roller)
}
