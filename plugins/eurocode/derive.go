package eurocode

import (
	"context"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/working"
	"example.com/scantling/plugins/region"
)

// Derive judges strength: each fact of each piece once, under every combination that it belongs to.
func (e eurocode) Derive(ctx context.Context, b *region.Batch) (*region.Derived, error) {
	j := newJudge(b, e.study(b.Site, b.Preparation))
	for i := range b.Pieces.ID {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		j.piece(i)
	}
	return j.out, nil
}

// judge fills the answer to one batch. Its scratch is kept from piece to piece.
type judge struct {
	*study
	b       *region.Batch
	out     *region.Derived
	reasons map[working.Absence]int32
	sheet   working.Sheet

	bends, shears, pulls, pushes, both front
	presses                            []press
}

func newJudge(b *region.Batch, s *study) *judge {
	n := len(b.Pieces.ID) * factCount
	j := &judge{study: s, b: b, reasons: map[working.Absence]int32{"": 0}, out: &region.Derived{
		Sequence: b.Sequence, ID: b.Pieces.ID, Value: make([]float64, n), Reason: make([]int32, n), Reasons: region.Dictionary{""},
		Combination: make([]int32, n), Contact: make([]int32, n), At: make([]float64, n),
	}}
	for i := range n {
		j.out.Combination[i], j.out.Contact[i] = -1, -1
	}
	return j
}

// timberFacts and steelFacts are the facts that are numbers of the one or the other.
var (
	timberFacts = []int{timberBending, timberShear, timberBearing, timberNotch, timberTension, timberCompression, timberCombined, timberInstant,
		timberFinal, timberVibration}
	steelFacts = []int{steelBending, steelShear, steelBuckling, steelLateral, steelCombined, steelDeflection}
)

// piece judges one piece.
func (j *judge) piece(i int) {
	m := j.member(i)
	j.say(i, isBedded, m.bedded)
	j.say(i, isUpright, m.upright)
	j.say(i, isNotched, j.notched(&m))
	j.say(i, isPressed, j.pressed(&m))
	j.say(i, isFloor, m.floor)
	j.say(i, isOnMasonry, j.onMasonry(&m))
	if j.absent != "" {
		j.leave(i, j.absent, masonryBearing, isJudged)
		j.leave(i, j.absent, timberFacts...)
		j.leave(i, j.absent, steelFacts...)
		j.say(i, isTimber, m.grade != nil && m.grade.timber != nil)
		j.say(i, isSteel, m.grade != nil && m.grade.steel)
		return
	}
	j.masonry(&m)
	absent := m.unstated()
	if absent != "" {
		j.leave(i, absent, isJudged)
		j.leave(i, absent, timberFacts...)
		j.leave(i, absent, steelFacts...)
		return
	}
	switch {
	case m.grade.timber != nil:
		j.leave(i, "it is of timber", steelFacts...)
		j.say(i, isTimber, true)
		j.say(i, isJudged, true)
		j.timber(&m)
	case m.grade.steel:
		j.leave(i, "it is of steel", timberFacts...)
		j.say(i, isSteel, true)
		j.say(i, isJudged, true)
		j.steel(&m)
	default:
		j.leave(i, "it is neither of timber nor of steel: hold it against what its maker states", timberFacts...)
		j.leave(i, "it is neither of timber nor of steel: hold it against what its maker states", steelFacts...)
	}
}

// member is what the batch says of one piece, in the checks' terms.
type member struct {
	i       int
	role    model.Role
	section *region.Section // nil where not stated
	grade   *grade          // nil where not stated
	service int
	length  float64
	slope   float64
	bedded  bool
	upright bool
	floor   bool
	unmoved float64 // of what may stand anywhere along it, what the forces do not hold, N

	contacts, stations, spans, notches, holes rows
}

// rows are those of one piece in a group of the batch: from the first up to the last.
type rows struct{ from, to int }

func (j *judge) member(i int) member {
	p := &j.b.Pieces
	m := member{
		i: i, role: model.Role(p.Words[p.Role[i]]), service: int(p.Service[i]), length: p.Length[i], slope: p.Slope[i], upright: p.Column[i],
		unmoved: p.Movable[i], contacts: between(p.ContactStart, i), stations: between(p.StationStart, i), spans: between(p.SpanStart, i),
		notches: between(p.NotchStart, i), holes: between(p.HoleStart, i),
	}
	if at := p.Section[i]; at >= 0 {
		m.section = &j.b.Site.Sections[at]
	}
	if at := p.Grade[i]; at >= 0 {
		m.grade = &j.grades[at]
	}
	m.floor = (m.role == model.RoleFloorJoist || p.Repetitive[i]) && p.Centres[i] > 0 && strings.Contains(p.Words[p.Carries[i]], "floor")
	m.bedded = m.spans.none() && m.stations.none() && j.supported(&m)
	return m
}

func between(starts []int32, i int) rows { return rows{int(starts[i]), int(starts[i+1])} }

func (r rows) none() bool { return r.from == r.to }

// supported says whether the piece has a support of its own.
func (j *judge) supported(m *member) bool {
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if !j.b.Contacts.Landing[r] {
			return true
		}
	}
	return false
}

// unstated is why nothing can be said of the piece's strength: what a builder has to add.
func (m *member) unstated() working.Absence {
	switch {
	case m.section == nil:
		return "the section is not stated"
	case m.grade == nil:
		return "the grade is not stated"
	case m.grade.absent != "":
		return m.grade.absent
	case m.grade.timber != nil && m.section.SteelByDefault:
		return "a rolled or hollow section names a grade of timber"
	case m.grade.timber != nil && (m.service < 1 || m.service > 3):
		return "the service class is not stated: 1 for heated rooms, 2 under a roof, 3 in the weather (EN 1995-1-1 2.3.1.3)"
	case m.unmoved > 0:
		return "a load may stand anywhere along it, and what that does is not worked out: ask the engineer for its worst place"
	}
	return ""
}

// say fills a truth.
func (j *judge) say(i, fact int, is bool) {
	if is {
		j.out.Value[i*factCount+fact] = 1
	}
}

// leave makes facts absent.
func (j *judge) leave(i int, reason working.Absence, absent ...int) {
	index, known := j.reasons[reason]
	if !known {
		index = int32(len(j.out.Reasons))
		j.reasons[reason] = index
		j.out.Reasons = append(j.out.Reasons, clip(string(reason)))
	}
	for _, fact := range absent {
		j.out.Reason[i*factCount+fact] = index
	}
}

// governing says what made a fact what it is.
type governing struct {
	combination int
	contact     int // of the piece; -1: none
	at          float64
}

var nothing = governing{-1, -1, 0}

// fill puts a fact down, with the working where it is asked for.
func (j *judge) fill(i, fact int, outcome working.Outcome, by governing, again func(*working.Sheet)) {
	ratio, known := outcome.Ratio()
	if !known {
		j.leave(i, outcome.Reason(), fact)
		return
	}
	k := i*factCount + fact
	j.out.Value[k], j.out.Combination[k], j.out.Contact[k], j.out.At[k] = ratio, int32(by.combination), int32(by.contact), by.at
	if !j.b.Working || again == nil {
		return
	}
	j.sheet.Steps = j.sheet.Steps[:0]
	again(&j.sheet)
	for _, step := range j.sheet.Steps {
		j.out.Working = append(j.out.Working,
			region.Step{Piece: int32(i), Fact: int32(fact), Symbol: step.Symbol, Value: step.Value, Unit: step.Unit, Clause: step.Clause})
	}
}

// judgeAll fills a fact with the worst of several demands; without any the demand is 0. One that cannot be judged leaves the
// fact absent: what was half done is not done.
func judgeAll[T any](j *judge, i, fact int, demands []T, check func(*T, *working.Sheet) working.Outcome, of func(*T) governing) {
	worst, by, at := working.Found(0), nothing, -1
	for k := range demands {
		outcome := check(&demands[k], nil)
		ratio, known := outcome.Ratio()
		if !known {
			j.fill(i, fact, outcome, nothing, nil)
			return
		}
		if most, _ := worst.Ratio(); at < 0 || ratio > most {
			worst, by, at = outcome, of(&demands[k]), k
		}
	}
	if at < 0 {
		j.fill(i, fact, worst, nothing, nil)
		return
	}
	j.fill(i, fact, worst, by, func(sheet *working.Sheet) { check(&demands[at], sheet) })
}
