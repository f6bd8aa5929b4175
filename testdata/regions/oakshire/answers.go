package oakshire

import (
	"math"

	"example.com/scantling/plugins/region"
)

const facts = stocky + 1

// answers fills the reply to one batch.
type answers struct {
	batch    *region.Batch
	out      *region.Derived
	strength []int // combinations of that limit state
	service  []int
	reasons  map[string]int32
}

func newAnswers(b *region.Batch) *answers {
	n := len(b.Pieces.ID) * facts
	a := &answers{batch: b, reasons: map[string]int32{"": 0}, out: &region.Derived{
		Sequence: b.Sequence, ID: b.Pieces.ID, Value: make([]float64, n), Reason: make([]int32, n), Reasons: region.Dictionary{""},
		Combination: make([]int32, n), Contact: make([]int32, n), At: make([]float64, n),
	}}
	for i := range n {
		a.out.Combination[i], a.out.Contact[i] = -1, -1
	}
	for i, c := range b.Preparation.Combinations {
		switch c.State {
		case region.Strength:
			a.strength = append(a.strength, i)
		case region.Characteristic:
			a.service = append(a.service, i)
		}
	}
	return a
}

// worst keeps the largest value of a fact, with what governs it.
func (a *answers) worst(piece, fact int, value float64, combination, contact int, at float64) {
	k := piece*facts + fact
	if value > a.out.Value[k] || a.out.Combination[k] < 0 && fact != stocky {
		a.out.Value[k], a.out.Combination[k], a.out.Contact[k], a.out.At[k] = value, int32(combination), int32(contact), at
	}
}

// absent says why facts of a piece have no value.
func (a *answers) absent(piece int, reason string, absent ...int) {
	index, known := a.reasons[reason]
	if !known {
		index = int32(len(a.out.Reasons))
		a.reasons[reason] = index
		a.out.Reasons = append(a.out.Reasons, reason)
	}
	for _, fact := range absent {
		k := piece*facts + fact
		a.out.Value[k], a.out.Reason[k], a.out.Combination[k], a.out.Contact[k], a.out.At[k] = 0, index, -1, -1, 0
	}
}

func (a *answers) judge(i int) {
	p := &a.batch.Pieces
	if p.Section[i] < 0 {
		a.absent(i, "the section is not stated", bending, shear, bearing, deflection, stocky)
		return
	}
	section := &a.batch.Site.Sections[p.Section[i]]
	if !solid(section) {
		a.absent(i, "Oakshire judges rectangles of timber only", bending, shear, bearing, deflection, stocky)
		return
	}
	if section.Depth <= 4*section.Breadth() {
		a.out.Value[i*facts+stocky] = 1
	}
	if p.Grade[i] < 0 {
		a.absent(i, "the grade is not stated", bending, shear, bearing, deflection)
		return
	}
	g, reason := lookUp(&a.batch.Site.Grades[p.Grade[i]])
	if reason != "" {
		a.absent(i, reason, bending, shear, bearing, deflection)
		return
	}
	a.stresses(i, section, g)
	a.bearings(i, section, g)
	a.deflections(i)
}

func (a *answers) stresses(i int, section *region.Section, g grade) {
	s, n := &a.batch.Stations, int(a.batch.Combinations)
	w, _ := moduli(section)
	area := section.Breadth() * section.Depth
	first, last := a.batch.Pieces.StationStart[i], a.batch.Pieces.StationStart[i+1]
	if first == last {
		a.absent(i, "no forces are known", bending, shear)
		return
	}
	for r := int(first); r < int(last); r++ {
		for _, c := range a.strength {
			m, v := math.Abs(s.M[r*n+c]), math.Abs(s.V[r*n+c])
			bent := m / w / g.bending
			a.worst(i, bending, bent, c, -1, s.At[r])
			a.worst(i, shear, 1.5*v/area/g.shear, c, -1, s.At[r])
			if a.batch.Working && a.out.Value[i*facts+bending] == bent {
				a.show(i, bending, m, bent)
			}
		}
	}
}

// show lists the working of the governing moment.
func (a *answers) show(i, fact int, moment, ratio float64) {
	steps := a.out.Working
	for len(steps) > 0 && steps[len(steps)-1].Piece == int32(i) {
		steps = steps[:len(steps)-1]
	}
	a.out.Working = append(steps,
		region.Step{Piece: int32(i), Fact: int32(fact), Symbol: "M", Value: moment, Unit: "N mm", Clause: "Oakshire 1"},
		region.Step{Piece: int32(i), Fact: int32(fact), Symbol: "M / W / f", Value: ratio, Clause: "Oakshire 2"})
}

func (a *answers) bearings(i int, section *region.Section, g grade) {
	c, n := &a.batch.Contacts, int(a.batch.Combinations)
	first, last := int(a.batch.Pieces.ContactStart[i]), int(a.batch.Pieces.ContactStart[i+1])
	supports := 0
	for r := first; r < last; r++ {
		if c.Landing[r] {
			continue
		}
		supports++
		if c.Length[r] <= 0 {
			a.absent(i, "the length of a bearing is not stated", bearing)
			return
		}
		for _, k := range a.strength {
			a.worst(i, bearing, c.Down[r*n+k]/(c.Length[r]*section.Breadth())/g.bearing, k, r-first, c.At[r])
		}
	}
	if supports == 0 {
		a.absent(i, "it has no support", bearing)
	}
}

func (a *answers) deflections(i int) {
	s, n := &a.batch.Spans, int(a.batch.Combinations)
	first, last := int(a.batch.Pieces.SpanStart[i]), int(a.batch.Pieces.SpanStart[i+1])
	if first == last {
		a.absent(i, "it has no span", deflection)
		return
	}
	for r := first; r < last; r++ {
		length := s.To[r] - s.From[r]
		if length <= 0 {
			a.absent(i, "a span has no length", deflection)
			return
		}
		for _, k := range a.service {
			a.worst(i, deflection, math.Abs(s.Deflection[r*n+k])/(length/250), k, -1, s.From[r])
		}
	}
}
