package statics

import (
	"slices"

	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/plugins/region"
)

// Draw is what the loads that may stand anywhere on the rafters of a couple bring to a piece that ties it. Of what stands
// there in place of the imposed load (a person) one stands on one rafter; loads of the document's own cases are on all of
// theirs at once.
type Draw []drawn

// drawn is what may stand on one rafter, and the tension that 1 N of it brings.
type drawn struct {
	movers []mover
	reach  plane.Reach
}

// Range is the largest tension in a combination, N, and the smallest, which is below 0 where the tie is pressed. Neither counts
// where it helps.
func (d Draw) Range(k *region.Combination) (largest, smallest float64) {
	var most, least float64 // of a person
	for i := range d {
		for j := range d[i].movers {
			m := &d[i].movers[j]
			a, b := m.weigh(k)*d[i].reach.Largest, m.weigh(k)*d[i].reach.Smallest
			a, b = max(a, b, 0), min(a, b, 0)
			if m.kase == instead {
				most, least = max(most, a), min(least, b)
			} else {
				largest, smallest = largest+a, smallest+b
			}
		}
	}
	return largest + most, smallest + least
}

// Instead is the heaviest that may stand on one of the rafters in place of the imposed load, N.
func (d Draw) Instead() float64 {
	most := 0.0
	for i := range d {
		most = max(most, heaviest(d[i].movers))
	}
	return most
}

// Draw works out what may stand anywhere on the rafters that a piece ties; nil for what ties none. Couples whose rafters stand
// apart draw nothing. It leaves the analyst's effects as they are. Errors are those of the plane solver.
func (a *Analyst) Draw(piece int32) (Draw, error) {
	t := a.t
	if t.only != nil || t.tension[piece] == nil {
		return nil, nil
	}
	var out Draw
	for _, i := range t.Frame.CouplesTiedBy(piece) {
		c := &t.Frame.Couples[i]
		var movers [2][]mover
		for k, rafter := range c.Rafters {
			movers[k] = t.own.movers[t.Frame.Pieces[rafter].Member]
		}
		if len(movers[0])+len(movers[1]) == 0 {
			continue
		}
		l := a.w.lean(c)
		at := slices.Index(l.ties, piece)
		if l.why != "" || at < 0 {
			continue
		}
		for k := range movers {
			if len(movers[k]) == 0 {
				continue
			}
			reach, err := a.w.pair.Reach(nil, k)
			if err != nil {
				return nil, err
			}
			out = append(out, drawn{movers[k], reach[at]})
		}
	}
	return out, nil
}

// tie draws the piece under 1 N of tension, where what may stand anywhere on the rafters that it ties draws it.
func (a *Analyst) tie(piece int32) error {
	e, w := &a.effects, a.w
	drawn, err := a.Draw(piece)
	if err != nil || len(drawn) == 0 {
		return err
	}
	e.drawn = drawn
	pull := appendTension(nil, a.t.Frame.Shape(piece), 1)
	e.unit.Reactions = append(e.unit.Reactions[:0], make([]plane.Reaction, len(e.Supports))...)
	if a.solvesAlone(piece) {
		reactions, err := w.member.Reactions(e.unit.Reactions[:0], pull)
		if err != nil {
			return err
		}
		e.unit.Reactions = reactions
	}
	e.unit.Diagram = a.diagram()
	return a.draw(e.unit.Diagram, pull, e.unit.Reactions)
}

// drawing is the factors of the unit of tension in a combination.
func (e *Effects) drawing(k *region.Combination) (factors [2]float64) {
	if len(e.drawn) > 0 {
		factors[0], factors[1] = e.drawn.Range(k)
	}
	return factors
}

// Draws says whether what may stand anywhere on rafters that the piece ties is among what acts inside it.
func (e *Effects) Draws() bool { return len(e.drawn) > 0 }

// Drawn is the heaviest that may stand on a rafter that the piece ties in place of the imposed load, N.
func (e *Effects) Drawn() float64 { return e.drawn.Instead() }
