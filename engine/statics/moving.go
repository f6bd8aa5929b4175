package statics

import (
	"math"
	"slices"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// mover is a load that may stand anywhere along a member. It is judged in that member, of a couple's rafter in the one that
// leans on it too, at their supports and in what ties them (Draw), where it is worst for each thing that is asked, and belongs
// to no balance: it is passed on to nothing further.
type mover struct {
	kase   int32 // the case that a load of the document belongs to; instead for what stands there in place of the imposed load
	weight float64
	stated bool // the document gives it to the member itself, not to an area that it carries
}

// instead is the case of what acts in place of the imposed load: Combination.Moving is its factor.
const instead = -1

// weigh is the part of a combination in the weight of a load, N.
func (m *mover) weigh(k *region.Combination) float64 {
	if m.kase == instead {
		return m.weight * k.Moving
	}
	return m.weight * k.Factors[m.kase]
}

// Moving is what may stand anywhere along a member in a combination, all of it in one place, N.
func (t *TakeDown) Moving(member int32, k *region.Combination) float64 {
	sum := 0.0
	for i := range t.own.movers[member] {
		sum += t.own.movers[member][i].weigh(k)
	}
	return sum
}

// Movers is what may stand anywhere along a member by case, N, the last that in place of the imposed load; nil: nothing.
func (t *TakeDown) Movers(member int32) []float64 {
	movers := t.own.movers[member]
	if movers == nil {
		return nil
	}
	out := make([]float64, t.cases+1)
	for _, m := range movers {
		if m.kase == instead {
			out[t.cases] += m.weight
		} else {
			out[m.kase] += m.weight
		}
	}
	return out
}

// moversOn is what may stand anywhere on a piece.
func (t *TakeDown) moversOn(piece int32) []mover { return t.own.movers[t.Frame.Pieces[piece].Member] }

// MovingAbout is what may stand anywhere on a piece and on the other rafter of its couple in a combination, N: no more of it comes down at
// one support within a span.
func (t *TakeDown) MovingAbout(piece int32, k *region.Combination) float64 {
	sum := t.Moving(t.Frame.Pieces[piece].Member, k)
	if c := t.Frame.CoupleOf(piece); c != nil {
		sum += t.Moving(t.Frame.Pieces[c.Other(piece)].Member, k)
	}
	return sum
}

// Roams says whether anything may stand anywhere on a piece, or on the other rafter of its couple.
func (t *TakeDown) Roams(piece int32) bool {
	if len(t.moversOn(piece)) > 0 {
		return true
	}
	c := t.Frame.CoupleOf(piece)
	return c != nil && len(t.moversOn(c.Other(piece))) > 0
}

// areasMove says whether the area of some member has a load that may stand anywhere.
func (t *TakeDown) areasMove() bool {
	for _, movers := range t.own.movers {
		if slices.ContainsFunc(movers, func(m mover) bool { return !m.stated }) {
			return true
		}
	}
	return false
}

// heaviest is the heaviest of some that stands in place of the imposed load, N.
func heaviest(movers []mover) float64 {
	most := 0.0
	for i := range movers {
		if movers[i].kase == instead {
			most = max(most, movers[i].weight)
		}
	}
	return most
}

func (o *ownLoads) move(member int32, m mover) {
	if m.weight == 0 {
		return
	}
	if o.movers == nil {
		o.movers = map[int32][]mover{}
	}
	o.movers[member] = append(o.movers[member], m)
}

// stand notes the heaviest of those that may stand on a member in place of its imposed load: the person that the document
// gives it, or the point loads of the areas that it carries.
func (in *Input) stand(o *ownLoads, i int32, m *model.Member) {
	own := math.Abs(m.More().MovableLoad.Value)
	heaviest := mover{instead, own, own > 0}
	for k := range m.Carries {
		area := in.Frame.Document.Area(m.Carries[k].Area)
		if area == nil {
			continue
		}
		if weight := in.pointOn(area, m); weight > heaviest.weight {
			heaviest = mover{instead, weight, false}
		}
	}
	if heaviest.stated {
		o.stays(i, "the person that may stand anywhere on it")
	}
	o.move(i, heaviest)
}

// stays remarks that a load is passed on to nothing.
func (o *ownLoads) stays(member int32, what string) {
	o.notes = append(o.notes, Remark{Member: member, Lost: true, Stays: true,
		Text: what + " is judged in the member and at its supports, and passed on to nothing further"})
}

// pointOn is the point load of an area that one piece of a member must bear: the region's, else what the document states.
func (in *Input) pointOn(area *model.Area, m *model.Member) float64 {
	weight, said := 0.0, false
	for _, l := range in.Implied {
		if l.Area != area.ID || l.Point == 0 {
			continue
		}
		said = true
		if deck := area.Deck.Value + m.More().Deck.Value; !l.Shared || deck == 0 || !m.InRun() {
			weight = max(weight, l.Point)
		}
	}
	if !said {
		return area.PointLoad.Value
	}
	return weight
}
