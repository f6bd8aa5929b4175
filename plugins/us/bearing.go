package us

import (
	"fmt"
	"math"

	"example.com/scantling/plugins/us/nds"
)

// bearings checks every place where the piece bears on something or something bears on it. What hangs or is bolted is
// held by its fixing, whose capacity is another matter, unless a length of bearing is stated.
func (p *piece) bearings() outcome {
	o := nothing()
	c := &p.Contacts
	for r := p.contacts.first; r < p.contacts.last; r++ {
		if !p.bears(r) {
			continue
		}
		if c.Length[r] <= 0 || c.Width[r] <= 0 {
			o.absent(fmt.Sprintf("bearing: how long and how wide it bears at %.0f mm from its first end is not known; state the bearing there", c.At[r]))
			return o
		}
		for k := range int(p.Combinations) {
			if down := c.Down[p.at(r, k)]; p.worst(r, k) {
				check, err := p.bearingOf(r, down, p.durations[k])
				o.take(check, err, int32(k), int32(r-p.contacts.first), c.At[r])
			}
		}
	}
	return o
}

// bears tells whether wood presses on something at a contact.
func (p *piece) bears(contact int) bool {
	c := &p.Contacts
	pressed := false
	for k := range int(p.Combinations) {
		pressed = pressed || c.Down[p.at(contact, k)] > tiny
	}
	bedded := p.stations.first == p.stations.last && !c.Landing[contact]
	if !pressed || bedded {
		return false
	}
	switch p.word(c.By[contact]) {
	case "hanger":
		return !c.Landing[contact] && c.Length[contact] > 0
	case "bolted", "welded", "nailed", "lapped": // an implied support is the lap of a tie
		return c.Length[contact] > 0
	}
	return true
}

// worst tells whether no other combination of the same duration, with a lower place in the list where equal, presses
// harder on a contact.
func (p *piece) worst(contact, combination int) bool {
	down := p.Contacts.Down[p.at(contact, combination)]
	for k := range int(p.Combinations) {
		other := p.Contacts.Down[p.at(contact, k)]
		if p.durations[k] == p.durations[combination] && (other > down || other == down && k < combination) {
			return false
		}
	}
	return true
}

func (p *piece) bearingOf(contact int, down float64, d nds.Duration) (nds.Check, error) {
	c := &p.Contacts
	if p.column && (c.At[contact] < near || c.At[contact] > p.length-near) {
		return p.member.EndBearing(nds.EndBearing{Force: down, Area: c.Length[contact] * c.Width[contact], Duration: d})
	}
	b := nds.Bearing{Force: down, Length: c.Length[contact], Width: math.Min(c.Width[contact], face(p.member.Section)), FromEnd: math.Max(0, c.ToEnd[contact]), Duration: d}
	if !p.Pieces.Cranked[p.index] && !p.column {
		b.Tilt = p.Pieces.Slope[p.index] // a seat cut is level; of a cranked piece the slope there is not known, and 0 is the safe side
	}
	return p.member.Bearing(b)
}
