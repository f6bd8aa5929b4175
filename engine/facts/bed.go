package facts

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// bare is the stretches of a piece bedded along its length that have nothing under them, each from the edge of a bed to the next;
// before the first and beyond the last there is none. bedded is false of a piece that lies along nothing.
func (r *pieceRow) bare() (list []stretch, bedded bool) {
	var beds []stretch
	for k := range r.supports {
		s := &r.supports[k]
		switch {
		case !s.Holds():
		case s.Continuous:
			beds, bedded = append(beds, stretch{s.From, s.To}), true
		case s.Document >= 0:
			half := r.m.Supports[s.Document].Bearing.Value / 2
			beds = append(beds, stretch{s.At - half, s.At + half})
		}
	}
	if !bedded || !r.sh.Known {
		return nil, false
	}
	slices.SortFunc(beds, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	edge, reached := math.Inf(-1), 0.0
	for _, b := range beds {
		if b.from > reached+sameBed {
			list = append(list, stretch{edge, b.from})
		}
		reached = max(reached, b.to)
		edge = reached
	}
	if r.sh.Length > reached+sameBed {
		list = append(list, stretch{edge, math.Inf(1)})
	}
	return list, true
}

// sameBed is how near in mm two beds are one, and how far a load may lie past its bed by rounding.
const sameBed = 1

// offBed is what comes down on a piece where no bed lies under it.
type offBed struct {
	pieces []string // that land there, by their places
	at, by float64  // where that is furthest past a bed, and by how much, mm; by is 0 where nothing comes down
	load   []float64
}

// offBed looks for what comes down beside the beds of a piece. The weight of a plate hangs on its stiffness for as long as
// nothing rests on it; that of a wall wants something under every part of it.
func (r *pieceRow) offBed() (o offBed, bedded bool) {
	bare, bedded := r.bare()
	if !bedded {
		return o, false
	}
	o.load = make([]float64, len(r.w.down.Cases))
	if len(bare) == 0 {
		return o, true
	}
	type landing struct {
		at   float64
		name string
	}
	var landings []landing
	for _, i := range r.w.frame.LandingsOn(r.piece) {
		s := &r.w.frame.Supports[i]
		if s.OnAt < 0 {
			continue // it is not solved for want of that place
		}
		from, to := s.OnAt, s.OnAt
		if s.Continuous && s.Placed {
			from, to = r.w.frame.Under(i, s.From), r.w.frame.Under(i, s.To)
		}
		if at, off := o.look(bare, min(from, to), max(from, to)); off {
			landings = append(landings, landing{at, r.w.frame.Name(s.Piece)})
		}
	}
	slices.SortFunc(landings, func(a, b landing) int {
		return cmp.Or(cmp.Compare(a.at, b.at), strings.Compare(a.name, b.name))
	})
	for _, l := range landings {
		if !slices.Contains(o.pieces, l.name) {
			o.pieces = append(o.pieces, l.name)
		}
	}
	pressing := r.w.down.Pressing(r.piece)
	if r.m.Role == model.RoleWall {
		pressing = append(pressing, r.w.down.Weight(r.piece)...)
	}
	own := false
	for i := range pressing {
		p := &pressing[i]
		if _, off := o.look(bare, p.From, p.To); off {
			own = own || p.Support < 0
			o.count(bare, p)
		}
	}
	if own && len(o.pieces) == 0 {
		o.pieces = append(o.pieces, "its own load")
	}
	return o, true
}

// look takes in a load between two places of a piece: where it is furthest past a bed, if it is past one at all.
func (o *offBed) look(bare []stretch, from, to float64) (at float64, off bool) {
	furthest := float64(sameBed)
	for _, b := range bare {
		lo, hi := max(from, b.from), min(to, b.to)
		if hi < lo {
			continue
		}
		for _, s := range [3]float64{lo, min(max((b.from+b.to)/2, lo), hi), hi} {
			if past := min(s-b.from, b.to-s); past > furthest {
				furthest, at, off = past, s, true
			}
		}
	}
	if off && furthest > o.by {
		o.by, o.at = furthest, at
	}
	return at, off
}

// count adds what a load presses with where nothing lies under it.
func (o *offBed) count(bare []stretch, p *statics.Pressing) {
	for _, b := range bare {
		o.load[p.Case] += p.Within(b.from, b.to)
	}
}

const noBed = "it lies along nothing"

var bedFacts = []fill[pieceRow]{
	{name: "off_bed", text: func(r *pieceRow) textValue {
		o, bedded := r.offBed()
		if !bedded {
			return noText(noBed)
		}
		return txt(strings.Join(o.pieces, ", "))
	}},
	{name: "off_bed_by", number: func(r *pieceRow) numberValue {
		o, bedded := r.offBed()
		if !bedded {
			return noNumber(noBed)
		}
		return num(o.by)
	}},
	{name: "off_bed_at", number: func(r *pieceRow) numberValue {
		switch o, bedded := r.offBed(); {
		case !bedded:
			return noNumber(noBed)
		case o.by == 0:
			return noNumber("all that comes down on it has its bed under it")
		default:
			return num(o.at)
		}
	}},
	{name: "off_bed_load", number: (*pieceRow).offBedLoad},
}

// offBedLoad is the most that comes down there in any characteristic combination.
func (r *pieceRow) offBedLoad() numberValue {
	o, bedded := r.offBed()
	switch {
	case !bedded:
		return noNumber(noBed)
	case len(r.w.service) == 0:
		return noNumber(noCombinations)
	}
	for _, i := range r.w.frame.LandingsOn(r.piece) {
		if why := r.w.down.Unsolved(r.w.frame.Supports[i].Piece); why != "" {
			return noNumber("what lands on it could not be worked out: " + why)
		}
	}
	most := 0.0
	for _, k := range r.w.service {
		most = math.Max(most, r.w.sum(&r.w.Source.Combinations[k], func(kase int) float64 { return o.load[kase] }))
	}
	return num(most)
}
