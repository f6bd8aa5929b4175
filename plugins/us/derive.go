package us

import (
	"context"
	"math"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/nds"
)

// Derive judges sawn lumber by the NDS, and joists and rafters by the method of the code's span tables as well.
func (us) Derive(ctx context.Context, b *region.Batch) (*region.Derived, error) {
	j := newJudge(b)
	for i := range b.Pieces.ID {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		j.judge(i)
	}
	return j.answers.out, nil
}

// judge is what all pieces of a batch share.
type judge struct {
	*region.Batch
	answers   *answers
	missing   string         // loads of the site that nobody states; empty when there are none
	durations []nds.Duration // by combination
	sections  []known[nds.Section]
	grades    []known[nds.Grade]
	even      evenLoads
}

// known is something, or the reason why it is not known.
type known[T any] struct {
	value  T
	reason string
}

func newJudge(b *region.Batch) *judge {
	j := &judge{Batch: b, answers: newAnswers(b), missing: missingLoads(b.Site), even: findEvenLoads(b.Preparation)}
	for _, k := range b.Preparation.Combinations {
		j.durations = append(j.durations, durationOf(k.Duration))
	}
	for i := range b.Site.Sections {
		s, reason := lumber(&b.Site.Sections[i])
		j.sections = append(j.sections, known[nds.Section]{s, reason})
	}
	for i := range b.Site.Grades {
		g, reason := lookUp(&b.Site.Grades[i], nds.Supplement2018)
		j.grades = append(j.grades, known[nds.Grade]{g, reason})
	}
	return j
}

func (j *judge) judge(i int) {
	p, reason := j.piece(i)
	if reason != "" {
		for fact := range factCount {
			j.answers.put(i, fact, outcome{reason: reason})
		}
		return
	}
	p.forces()
	p.put(bearing, p.bearings())
	p.put(deflection, p.deflection())
	p.prescriptive()
}

// piece is one piece of lumber with its place in the batch.
type piece struct {
	*judge
	index  int
	member nds.Member
	role   model.Role
	column bool
	length float64
	// rows of the batch that are the piece's
	contacts, stations, spans rows
}

// rows are the rows from first up to last.
type rows struct{ first, last int }

func rowsOf(starts []int32, i int) rows { return rows{int(starts[i]), int(starts[i+1])} }

// piece gathers what is known of a piece, or the reason why nothing of it can be judged.
func (j *judge) piece(i int) (piece, string) {
	all := &j.Pieces
	if j.missing != "" {
		return piece{}, j.missing
	}
	if all.Movable[i] > 0 {
		return piece{}, "a load may stand anywhere along it, and what that does is not worked out: ask the engineer for its worst place"
	}
	if all.Section[i] < 0 {
		return piece{}, "the section is not stated"
	}
	section := j.sections[all.Section[i]]
	if section.reason != "" {
		return piece{}, section.reason
	}
	if all.Grade[i] < 0 {
		return piece{}, "the grade is not stated"
	}
	grade := j.grades[all.Grade[i]]
	if grade.reason != "" {
		return piece{}, grade.reason
	}
	treated := strings.ToLower(j.word(all.Treated[i]))
	if strings.Contains(treated, "fire") {
		return piece{}, "the design values of lumber treated against fire are the treater's to state (NDS 2.3.4)"
	}
	return piece{
		judge: j, index: i, role: model.Role(j.word(all.Role[i])), column: all.Column[i], length: all.Length[i],
		member: nds.Member{Section: section.value, Grade: grade.value, Quiet: !j.Working, Service: nds.Service{
			Wet:        all.Service[i] == 3,
			Incised:    strings.Contains(treated, "incised") && !strings.Contains(treated, "not incised") && !strings.Contains(treated, "unincised"),
			Repetitive: all.Repetitive[i] && all.Centres[i] > 0 && all.Centres[i] <= nds.MostRepetitiveSpacing*(1+slack),
		}},
		contacts: rowsOf(all.ContactStart, i), stations: rowsOf(all.StationStart, i), spans: rowsOf(all.SpanStart, i),
	}, ""
}

// slack keeps a figure that is exactly a limit, but for the last bits, on the limit.
const slack = 1e-9

// near is how close two places along a piece must be to be the same, mm.
const near = 1.0

func (j *judge) word(i int32) string {
	if int(i) < len(j.Pieces.Words) {
		return j.Pieces.Words[i]
	}
	return ""
}

func (p *piece) put(fact int, o outcome) { p.answers.put(p.index, fact, o) }

// at is the entry of a row in a combination.
func (p *piece) at(row, combination int) int { return row*int(p.Combinations) + combination }

// stretch is the length of the span that a station stands in, mm: of a post, and where no span is given, the piece's.
func (p *piece) stretch(station int) float64 {
	span := p.spans.first + int(p.Stations.Span[station])
	if p.column || p.Stations.Span[station] < 0 || span >= p.spans.last {
		return p.length
	}
	return p.Spans.To[span] - p.Spans.From[span]
}

// edge is how the edge that a moment presses is held, over a stretch between supports.
func (p *piece) edge(sagging bool, stretch float64) nds.Bracing {
	all, i := &p.Pieces, p.index
	if p.column {
		return between(all.HeldWidth[i], stretch)
	}
	if sagging {
		return held(all.TopFull[i], all.TopSpacing[i], stretch)
	}
	return held(all.BottomFull[i], all.BottomSpace[i], stretch)
}

// buckling is how the piece is held against buckling along its depth and along its breadth. An edge that is held holds
// a joist or rafter against moving along its breadth.
func (p *piece) buckling(stretch float64) (depth, breadth nds.Bracing) {
	all, i := &p.Pieces, p.index
	depth = between(all.HeldDepth[i], stretch)
	breadth = between(all.HeldWidth[i], stretch)
	if p.column {
		return depth, breadth
	}
	for _, b := range []nds.Bracing{p.edge(true, stretch), p.edge(false, stretch)} {
		if b.Full || !breadth.Full && b.Length < breadth.Length {
			breadth = b
		}
	}
	return depth, breadth
}

// between reads the spacing of holds of a post: 0 none but at the ends, -1 along the whole.
func between(spacing, stretch float64) nds.Bracing { return held(spacing < 0, spacing, stretch) }

func held(full bool, spacing, stretch float64) nds.Bracing {
	if full {
		return nds.Bracing{Full: true}
	}
	if spacing > 0 {
		stretch = math.Min(spacing, stretch)
	}
	return nds.Bracing{Length: stretch}
}
