package eurocode

import (
	"iter"
	"math"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/ec3"
	"example.com/scantling/plugins/eurocode/ec5"
	"example.com/scantling/plugins/eurocode/working"
)

// bow is how far one span bends under one combination, with the moment that its shear deflection goes by.
type bow struct {
	span        int // row of the batch's spans
	combination int
	stretch
	deflection, moment               float64 // characteristic
	lastingDeflection, lastingMoment float64 // quasi-permanent
	variable                         float64 // under the variable actions alone
}

func (j *judge) bowGoverning(b *bow) governing {
	s := &j.b.Spans
	at := (s.From[b.span] + s.To[b.span]) / 2
	if b.overhang {
		at = s.To[b.span]
		if s.From[b.span] == 0 {
			at = 0
		}
	}
	return governing{b.combination, -1, at}
}

// bending is the spans of a piece whose deflection can be seen: an overhang no longer than the piece is deep is the end of it.
func (j *judge) bending(m *member) iter.Seq[int] {
	return func(yield func(int) bool) {
		for r := m.spans.from; r < m.spans.to; r++ {
			if s := j.stretch(m, r); s.length <= 0 || s.overhang && s.length <= m.section.Depth {
				continue
			}
			if !yield(r) {
				return
			}
		}
	}
}

// bows gives each span under the combination that bends it most, counting the shear of the timber: flexibility is what a moment
// of 1 N mm adds by shear, mm.
func (j *judge) bows(m *member, flexibility float64) []bow {
	s, count := &j.b.Spans, int(j.b.Combinations)
	var out []bow
	for r := range j.bending(m) {
		b := bow{span: r, combination: -1, stretch: j.stretch(m, r)}
		most := -1.0
		for _, c := range j.characteristic {
			w, moment := s.Deflection[r*count+c], j.midMoment(m, r, c)
			if total := w + flexibility*moment; total > most {
				most, b.combination, b.deflection, b.moment = total, c, w, moment
			}
		}
		most = -1
		for _, c := range j.lasting {
			w, moment := s.Deflection[r*count+c], j.midMoment(m, r, c)
			if total := w + flexibility*moment; total > most {
				most, b.lastingDeflection, b.lastingMoment = total, w, moment
			}
		}
		if b.combination >= 0 {
			b.variable = j.variableBow(r, b.combination)
			out = append(out, b)
		}
	}
	return out
}

// midMoment is the size of the moment in the middle of a span above the line between the moments at its ends, N mm: that of the
// cases that act and of what may stand anywhere, with what the supports of a continuous piece take added.
func (j *judge) midMoment(m *member, span, combination int) float64 {
	s, cases := &j.b.Spans, int(j.b.Cases)
	row := &j.b.Preparation.Combinations[combination]
	var up, down float64
	for c, factor := range row.Factors {
		moment := factor * s.CaseMoment[span*cases+c]
		switch {
		case !j.variable[c]:
			up, down = up+moment, down+moment
		case moment > 0:
			up += moment
		default:
			down += moment
		}
	}
	return max(math.Abs(up), math.Abs(down)) + row.Moving*s.MoveMoment[span] + j.endMoment(m, span, combination)
}

// endMoment is the mean size of the moments at the two ends of a span, N mm.
func (j *judge) endMoment(m *member, span, combination int) float64 {
	if m.spans.to-m.spans.from < 2 || j.b.Spans.Overhang[span] {
		return 0
	}
	s, count := &j.b.Stations, int(j.b.Combinations)
	var ends [2]float64
	for r := m.stations.from; r < m.stations.to; r++ {
		for e, at := range [2]float64{j.b.Spans.From[span], j.b.Spans.To[span]} {
			if math.Abs(s.At[r]-at) < 1 {
				ends[e] = max(ends[e], math.Abs(s.M[r*count+combination]))
			}
		}
	}
	return (ends[0] + ends[1]) / 2
}

// variableBow is the deflection of a span under the variable actions of a combination alone, mm. A case bends the way that its
// moment goes.
func (j *judge) variableBow(span, combination int) float64 {
	s, cases := &j.b.Spans, int(j.b.Cases)
	row := &j.b.Preparation.Combinations[combination]
	var up, down float64
	for c, factor := range row.Factors {
		if !j.variable[c] {
			continue
		}
		if w := factor * s.CaseDeflect[span*cases+c]; s.CaseMoment[span*cases+c] < 0 {
			down += w
		} else {
			up += w
		}
	}
	return max(up, down) + row.Moving*s.MoveDeflect[span]
}

// instantLimit is the n of span / n for the deflection at once where the country sets none: the least of EN 1995-1-1 Table 7.2,
// and for a cantilever half of it.
const (
	instantLimit           = 300
	instantLimitCantilever = 150
)

func (j *judge) timberDeflection(m *member, piece *ec5.Piece) {
	switch {
	case m.bedded:
		j.leave(m.i, "it is bedded along what carries it", timberInstant, timberFinal)
		return
	case m.upright:
		j.leave(m.i, "it stands upright", timberInstant, timberFinal)
		return
	case m.spans.none():
		j.leave(m.i, "it has no span", timberInstant, timberFinal)
		return
	case piece.Grade.E0Mean == 0:
		j.leave(m.i, working.Absence("grade "+piece.Grade.Name+" states no E: add it under grades"), timberInstant, timberFinal)
		return
	}
	flexibility, absent := piece.ShearDeflection(1)
	if absent != "" {
		j.leave(m.i, absent, timberInstant, timberFinal)
		return
	}
	all := j.bows(m, flexibility)
	of := func(b *bow) governing { return j.bowGoverning(b) }
	judgeAll(j, m.i, timberInstant, all, func(b *bow, sheet *working.Sheet) working.Outcome {
		in := j.timberBow(m, b)
		in.Limit = j.instantLimit(b)
		return piece.DeflectionInstant(&in, sheet)
	}, of)
	judgeAll(j, m.i, timberFinal, all, func(b *bow, sheet *working.Sheet) working.Outcome {
		in := j.timberBow(m, b)
		return piece.DeflectionFinal(&in, sheet)
	}, of)
}

func (j *judge) timberBow(m *member, b *bow) ec5.Deflection {
	return ec5.Deflection{Span: b.length, Cantilever: b.overhang, Characteristic: b.deflection, QuasiPermanent: b.lastingDeflection,
		ShearCharacteristic: b.moment, ShearQuasiPermanent: b.lastingMoment, Plastered: j.finished(m)}
}

// finished says that a finish that cracks may hang on the piece: one that it carries itself, or that of what lands on it, of which
// the region is told nothing.
func (j *judge) finished(m *member) bool {
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if j.b.Contacts.Landing[r] {
			return true
		}
	}
	return j.b.Pieces.Brittle[m.i]
}

// instantLimit is the region's own limit where the country sets none; else 0, so that the country's counts.
func (j *judge) instantLimit(b *bow) float64 {
	t := &j.choices.Timber
	switch {
	case b.overhang && t.InstantCantilever.Source == "":
		return instantLimitCantilever
	case !b.overhang && t.Instant.Source == "":
		return instantLimit
	}
	return 0
}

// deckModulus is the modulus of a floor deck in N/mm2 by its thickness in mm: particle board for floors, the least of EN 12369-1
// (memory). The model states what the deck is made of in words only.
func deckModulus(thickness float64) float64 {
	switch {
	case thickness <= 20:
		return 2900
	case thickness <= 25:
		return 2700
	}
	return 2100
}

func (j *judge) timberVibration(m *member, piece *ec5.Piece) {
	p := &j.b.Pieces
	switch {
	case !m.floor:
		j.leave(m.i, "it is none of a run under a floor that people walk on", timberVibration)
		return
	case p.Deck[m.i] <= 0:
		j.leave(m.i, "the thickness of the deck is not stated: state it with the area", timberVibration)
		return
	}
	var spans []bow
	for r := m.spans.from; r < m.spans.to; r++ {
		if !j.b.Spans.Overhang[r] {
			spans = append(spans, bow{span: r, combination: -1, stretch: j.stretch(m, r)})
		}
	}
	if len(spans) == 0 {
		j.leave(m.i, "it has no span", timberVibration)
		return
	}
	deck := deckModulus(p.Deck[m.i]) * math.Pow(p.Deck[m.i], 3) / 12
	judgeAll(j, m.i, timberVibration, spans, func(b *bow, sheet *working.Sheet) working.Outcome {
		return piece.Vibration(&ec5.Floor{Span: b.length, Centres: p.Centres[m.i], Mass: j.floorMass(m, b), DeckRigidity: deck,
			Strutted: p.BlockingRows[m.i] > 0, Continuous: len(spans) > 1}, sheet)
	}, j.bowGoverning)
}

// floorMass is the mass of the floor in kg/mm2 by its dead load: what an even load of the same moment weighs.
func (j *judge) floorMass(m *member, b *bow) float64 {
	cases, load := int(j.b.Cases), 0.0
	for c := range cases {
		if !j.variable[c] {
			load += 8 * j.b.Spans.CaseMoment[b.span*cases+c] / (b.length * b.length)
		}
	}
	if centres := j.b.Pieces.Centres[m.i]; centres > 0 {
		return load / centres / model.Gravity
	}
	return 0
}

func (j *judge) steelDeflection(m *member) {
	switch {
	case m.bedded:
		j.leave(m.i, "it is bedded along what carries it", steelDeflection)
		return
	case m.upright:
		j.leave(m.i, "it stands upright", steelDeflection)
		return
	case m.spans.none():
		j.leave(m.i, "it has no span", steelDeflection)
		return
	}
	judgeAll(j, m.i, steelDeflection, j.steelBows(m), func(b *bow, sheet *working.Sheet) working.Outcome {
		return ec3.Deflect(&ec3.Deflection{Span: b.length, Cantilever: b.overhang, Brittle: j.finished(m), Variable: b.variable,
			Total: b.deflection}, &j.choices.Steel, sheet)
	}, j.bowGoverning)
}

// steelBows gives each span under every characteristic combination: which governs depends on both limits.
func (j *judge) steelBows(m *member) []bow {
	count := int(j.b.Combinations)
	var out []bow
	for r := range j.bending(m) {
		for _, c := range j.characteristic {
			out = append(out, bow{span: r, combination: c, stretch: j.stretch(m, r), deflection: j.b.Spans.Deflection[r*count+c], variable: j.variableBow(r, c)})
		}
	}
	return out
}
