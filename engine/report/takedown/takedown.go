// Package takedown prints where the loads of a frame go, member by member: for an engineer to follow by hand, and for
// other programs. It does not know how the loads were taken down.
package takedown

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/statics"
)

// Sheet is a take-down with the model that it is of.
type Sheet struct {
	Model   finding.Model
	Listing statics.Listing
}

// Formats are the formats of a take-down.
var Formats = report.Formats[Sheet]{
	{Name: "csv", New: func(report.Options) report.Printer[Sheet] { return csvPrinter{} }},
	{Name: "json", New: func(report.Options) report.Printer[Sheet] { return jsonPrinter{} }},
	{Name: "text", New: func(report.Options) report.Printer[Sheet] { return textPrinter{} }},
}

// Alike are pieces of one member that carry the same and land in the same way; the first stands for all.
type Alike struct {
	statics.ListedPiece
	Names []string
}

// Title names the pieces: "R1#2", "9 pieces alike, R1#1 to R1#9", "5 pieces alike, R1#1, R1#3 to R1#6".
func (a Alike) Title() string {
	if len(a.Names) == 1 {
		return a.Names[0]
	}
	return fmt.Sprintf("%d pieces alike, %s", len(a.Names), report.Runs(a.Names))
}

// Group puts pieces that are alike together, in the order of the first of each. Figures count as the same when they
// agree to 0.001 N, 0.001 mm and 1 N mm.
func Group(m statics.ListedMember) []Alike {
	at := map[string]int{}
	var out []Alike
	for _, piece := range m.Pieces {
		key := keyOf(piece)
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, Alike{ListedPiece: piece})
		}
		out[i].Names = append(out[i].Names, piece.Piece)
	}
	return out
}

// Arrival is what one member brings to a piece, all its pieces together, N per case, downwards.
type Arrival struct {
	Mark     string
	Count    int // reactions
	Vertical []float64
}

// Arrivals lists what lands on each piece.
func Arrivals(l statics.Listing) map[string][]Arrival {
	out := map[string][]Arrival{}
	for _, m := range l.Members {
		for _, piece := range m.Pieces {
			for _, s := range piece.Supports {
				on := s.OnPiece
				if on == "" {
					on = s.On
				}
				out[on] = arrive(out[on], m.Mark, s.Vertical)
			}
		}
	}
	return out
}

// Landings puts together what each member brings to a ground member.
func Landings(a statics.Arrived) []Arrival {
	var out []Arrival
	for _, from := range a.From {
		mark, _, _ := strings.Cut(from.Piece, "#")
		out = arrive(out, mark, from.Vertical)
	}
	return out
}

// arrive adds a reaction of a member to what it has brought before.
func arrive(list []Arrival, mark string, vertical []float64) []Arrival {
	last := len(list) - 1
	if last < 0 || list[last].Mark != mark {
		list = append(list, Arrival{Mark: mark, Vertical: make([]float64, len(vertical))})
		last++
	}
	list[last].Count++
	for i, v := range vertical {
		list[last].Vertical[i] += v
	}
	return list
}

func keyOf(p statics.ListedPiece) string {
	var key []byte
	whole := func(quantum float64, values ...float64) {
		for _, v := range values {
			key = append(strconv.AppendFloat(key, math.Round(v/quantum)+0, 'f', 0, 64), ' ') // + 0: no "-0"
		}
		key = append(key, '|')
	}
	ranges := func(quantum float64, list []statics.Range) {
		for _, r := range list {
			whole(quantum, r.Max, r.Min)
			whole(1e-3, r.MaxAt, r.MinAt)
		}
		key = append(key, '|')
	}
	whole(1e-3, p.Length)
	whole(1e-3, p.Applied...)
	for _, s := range p.Supports {
		key = strconv.AppendQuote(key, s.On)
		whole(1e-3, s.At)
		whole(1e-3, s.Vertical...)
		whole(1e-3, s.Horizontal...)
		whole(1e-3, s.Across...)
	}
	ranges(1, p.Moment)
	ranges(1e-3, p.Shear)
	ranges(1e-3, p.Axial)
	ranges(1e-3, p.Deflection)
	whole(1e-3, p.Roller...)
	whole(1e-3, p.HeadPush...)
	return string(key) + p.Unsolved + "|" + p.NoStiff
}

// noise is the figure below which a force (N), a moment (N mm) or a length (mm) is nothing but rounding.
const noise = 1e-6

// clean is a figure without the noise.
func clean(v float64) float64 {
	if math.Abs(v) < noise {
		return 0
	}
	return v
}
