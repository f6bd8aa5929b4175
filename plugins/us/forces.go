package us

import (
	"math"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/nds"
)

// noForces is why nothing can be said of the stresses along a piece.
const noForces = "no forces are known along it: it lies on its support, or how it stands is not known"

// tiny is a force that is none, N.
const tiny = 1e-3

// load is the forces of one station in one combination that a check reads, without their signs.
type load struct {
	axial, moment, side, shear float64
	combination                int32
	at                         float64
}

// covers tells whether a check of l makes one of o needless: no force of it is less. Where pull relieves bending, only an
// equal pull is no less.
func (l load) covers(o load, pulled bool) bool {
	if pulled && l.axial != o.axial && l.moment > 0 {
		return false
	}
	return l.axial >= o.axial && l.moment >= o.moment && l.side >= o.side && l.shear >= o.shear
}

// situation is what loads must share to be held against the same capacity.
type situation struct {
	fact     int
	duration nds.Duration
	stretch  float64
	sagging  bool
	pulled   bool
	cut      int // index into the piece's cuts; 0: whole
}

// front is the loads of a situation of which none covers another.
type front struct {
	situation
	loads []load
}

type fronts []front

func (f *fronts) add(s situation, l load) {
	for i := range *f {
		if (*f)[i].situation == s {
			(*f)[i].add(l)
			return
		}
	}
	*f = append(*f, front{s, []load{l}})
}

func (f *front) add(l load) {
	kept := f.loads[:0]
	for _, o := range f.loads {
		if o.covers(l, f.pulled) {
			return // nothing was left out before: l would have covered that, and o with it
		}
		if !l.covers(o, f.pulled) {
			kept = append(kept, o)
		}
	}
	f.loads = append(kept, l)
}

// forces checks bending, shear and forces along the grain, at every station and in every combination.
func (p *piece) forces() {
	judged := []int{bending, shear, compression, tension, combined}
	if p.stations.first == p.stations.last {
		for _, fact := range judged {
			p.put(fact, outcome{reason: noForces})
		}
		return
	}
	cuts := []cut{{whole: true}}
	var all fronts
	for r := p.stations.first; r < p.stations.last; r++ {
		at := 0
		if c := p.cutAt(r); !c.whole {
			at = len(cuts)
			cuts = append(cuts, c)
		}
		for c := range int(p.Combinations) {
			p.gather(&all, r, c, at)
		}
	}
	outcomes := map[int]*outcome{}
	for _, fact := range judged {
		o := nothing()
		outcomes[fact] = &o
	}
	for _, f := range all {
		for _, l := range f.loads {
			check, err := p.check(f.situation, l, cuts[f.cut])
			outcomes[f.fact].take(check, err, l.combination, -1, l.at)
		}
	}
	for _, fact := range judged {
		p.put(fact, *outcomes[fact])
	}
}

// gather adds the forces of a station in a combination to what is checked.
func (p *piece) gather(all *fronts, station, combination, cut int) {
	k := p.at(station, combination)
	n, v, m, side := p.Stations.N[k], math.Abs(p.Stations.V[k]), p.Stations.M[k], math.Abs(p.Stations.MomentOut[k])
	add := func(fact int, s situation, l load) {
		s.fact, s.duration, s.cut = fact, p.durations[combination], cut
		l.combination, l.at = int32(combination), p.Stations.At[station]
		all.add(s, l)
	}
	stretch, sagging, axial, bent := p.stretch(station), m >= 0, math.Abs(n), math.Abs(m)
	add(shear, situation{}, load{shear: v})
	add(bending, situation{stretch: stretch, sagging: sagging}, load{moment: bent})
	pulled := n > tiny
	switch {
	case pulled:
		add(tension, situation{}, load{axial: axial})
	case n < -tiny:
		add(compression, situation{stretch: stretch}, load{axial: axial})
	}
	if side > 0 || axial > tiny && bent > 0 {
		add(combined, situation{stretch: stretch, sagging: sagging, pulled: pulled}, load{axial: axial, moment: bent, side: side})
	}
}

// check holds a load against what the piece may carry in a situation.
func (p *piece) check(s situation, l load, c cut) (nds.Check, error) {
	m := p.member
	if !c.whole && s.fact != shear && s.fact != tension {
		m.Section = cutTo(m.Section, c.bending)
	}
	depth, breadth := p.buckling(s.stretch)
	switch s.fact {
	case bending:
		return m.Bending(nds.Bending{Moment: l.moment, Duration: s.duration, Bracing: p.edge(s.sagging, s.stretch)})
	case shear:
		if !c.whole && c.notch == nil {
			m.Section = cutTo(m.Section, c.shear)
		}
		return m.Shear(nds.Shear{Force: l.shear, Duration: s.duration, Notch: c.notch})
	case tension:
		return m.Tension(nds.Tension{Force: l.axial, Lost: c.lost, Duration: s.duration})
	case compression:
		return m.Compression(nds.Compression{Force: l.axial, AlongDepth: depth, AlongBreadth: breadth, Duration: s.duration})
	}
	if !s.pulled {
		l.axial = -l.axial
	}
	return m.Combined(nds.Combined{
		Axial: l.axial, Moment: l.moment, SideMoment: l.side, Duration: s.duration,
		Bracing: p.edge(s.sagging, s.stretch), AlongDepth: depth, AlongBreadth: breadth,
	})
}

// cut is what a notch or a hole leaves of the section. The zero cut with whole set is none.
type cut struct {
	whole          bool
	bending, shear float64       // depth that is left, mm
	lost           float64       // area that is gone, mm2
	notch          *nds.EndNotch // over a support
}

// cutAt is what is cut away at a station.
func (p *piece) cutAt(station int) cut {
	at, kind := p.Stations.At[station], p.Stations.Kind[station]
	depth, breadth := p.member.Section.Depth(), p.member.Section.Breadth()
	if kind&region.StationSupport != 0 {
		for r := p.contacts.first; r < p.contacts.last; r++ {
			if n := p.Contacts.NotchDepth[r]; n > 0 && !p.Contacts.Landing[r] && math.Abs(p.Contacts.At[r]-at) < near {
				left := math.Max(0, depth-n)
				return cut{bending: left, shear: left, lost: n * breadth, notch: p.endNotch(r)}
			}
		}
	}
	if kind&region.StationNotch != 0 {
		for r := int(p.Pieces.NotchStart[p.index]); r < int(p.Pieces.NotchStart[p.index+1]); r++ {
			if math.Abs(p.Notches.At[r]-at) < near {
				n := p.Notches.Depth[r]
				return cut{bending: math.Max(0, depth-n), shear: math.Max(0, depth-n), lost: n * breadth}
			}
		}
	}
	if kind&region.StationHole != 0 {
		for r := int(p.Pieces.HoleStart[p.index]); r < int(p.Pieces.HoleStart[p.index+1]); r++ {
			if math.Abs(p.Holes.At[r]-at) < near {
				return hole(depth, breadth, p.Holes.Diameter[r], p.Holes.FromTop[r])
			}
		}
	}
	return cut{whole: true}
}

// endNotch is a notch over a support as NDS 3.4.3.2 sees it: in the tension edge, but for one in the top of an end. The
// level seat of a sloping member runs out into its lower edge: a gradual change, for which what is left counts as a
// member of that depth (same clause; memory), and nil is answered.
func (p *piece) endNotch(contact int) *nds.EndNotch {
	top := p.word(p.Contacts.NotchFace[contact]) == "top"
	if !top && p.Pieces.Slope[p.index] > level {
		return nil
	}
	n := &nds.EndNotch{Depth: p.Contacts.NotchDepth[contact], Edge: nds.TensionEdge}
	at := p.Contacts.At[contact]
	if end := at < near || at > p.length-near; end && top {
		n.Edge = nds.CompressionEdge
		n.Reach = math.Max(0, p.Contacts.NotchX[contact]-p.Contacts.Length[contact]/2)
	}
	return n
}

// level is a slope that is none, radians: half an inch in a foot.
const level = 1.0 / 24

// hole is a section with a round hole through its breadth: the depths of plain rectangles that are as good in bending and
// in shear. fromTop is to the hole's middle, -1 on the centre line.
func hole(depth, breadth, diameter, fromTop float64) cut {
	off := 0.0
	if fromTop >= 0 {
		off = fromTop - depth/2
	}
	left := depth - diameter
	if left <= 0 || math.Abs(off)+diameter/2 > depth/2 {
		return cut{lost: depth * breadth} // through the edge: nothing is left, and checks have no finite answer
	}
	c := cut{shear: left, lost: diameter * breadth}
	// Second moment about the middle of what is left, over the depth to the farther edge (NDS 3.1.2: net section).
	shift := -diameter * off / left
	inertia := depth*depth*depth/12 - (diameter*diameter*diameter/12 + diameter*off*off) - left*shift*shift
	c.bending = math.Sqrt(6 * inertia / (depth/2 + math.Abs(shift)))
	return c
}
