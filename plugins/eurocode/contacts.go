package eurocode

import (
	"fmt"
	"math"

	"example.com/scantling/plugins/eurocode/ec5"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// press is a push on one contact of a piece in one combination.
type press struct {
	row         int // of the batch's contacts
	force       float64
	combination int
	duration    national.Duration
}

// push is the push on a contact in a combination, N.
func (j *judge) push(row, combination int) float64 {
	return j.b.Contacts.Down[row*int(j.b.Combinations)+combination]
}

// pushesOn are the largest pushes on a contact, one for each duration class.
func (j *judge) pushesOn(row int) []press {
	j.presses = j.presses[:0]
	var most [national.Instantaneous + 1]int
	for k := range most {
		most[k] = -1
	}
	for _, combination := range j.strength {
		d := j.durations[combination]
		if at := most[d]; at < 0 || j.push(row, combination) > j.push(row, at) {
			most[d] = combination
		}
	}
	for d, combination := range most {
		if combination >= 0 {
			j.presses = append(j.presses, press{row, j.push(row, combination), combination, national.Duration(d)})
		}
	}
	return j.presses
}

func (j *judge) governedBy(m *member) func(*press) governing {
	return func(p *press) governing {
		return governing{p.combination, p.row - m.contacts.from, j.b.Contacts.At[p.row]}
	}
}

// crushes says that a contact presses the piece across its length: a seat, a bearing that is nailed down, or a hanger that holds it
// from below; not bolts, nails alone and laps, nor what hangs beside it, nor the foot of a post. A support that the piece does not
// list is the lap of a tie.
func (j *judge) crushes(m *member, row int) bool {
	c := &j.b.Contacts
	if m.upright || !c.Landing[row] && (m.bedded || c.Support[row] < 0) {
		return false
	}
	switch by := j.b.Pieces.Words[c.By[row]]; by {
	case "bolted", "welded", "lapped":
		return false
	case "nailed":
		return c.Length[row] > 0 && (!c.Landing[row] || c.Width[row] > 0)
	case "hanger":
		return !c.Landing[row]
	}
	return true
}

func (j *judge) pressed(m *member) bool {
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if j.crushes(m, r) {
			return true
		}
	}
	return false
}

// timberBearing judges every contact that presses the piece across its grain.
func (j *judge) timberBearing(m *member, piece *ec5.Piece) {
	if !j.pressed(m) {
		j.leave(m.i, "nothing presses it across the grain", timberBearing)
		return
	}
	c := &j.b.Contacts
	var all []press
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if !j.crushes(m, r) {
			continue
		}
		for _, p := range j.pushesOn(r) {
			if p.force > 0 {
				all = append(all, p)
			}
		}
	}
	judgeAll(j, m.i, timberBearing, all, func(p *press, sheet *working.Sheet) working.Outcome {
		r := p.row
		if c.Length[r] <= 0 {
			return working.Missing(j.lengthUnstated(r))
		}
		in := ec5.Bearing{Duration: p.duration, Force: p.force, Length: c.Length[r], Width: c.Width[r], Slope: m.slope, Continuous: m.bedded,
			Before: max(0, c.At[r]-c.Length[r]/2), After: max(0, m.length-c.At[r]-c.Length[r]/2), Gap: j.gap(m, r)}
		sheet.Step("F_c,90,d", p.force, "N", "EN 1990 6.4.3.2")
		sheet.Step("l", in.Length, "mm", "as stated")
		return piece.Bearing(&in, sheet)
	}, j.governedBy(m))
}

func (j *judge) lengthUnstated(row int) working.Absence {
	c := &j.b.Contacts
	if c.Landing[row] {
		return working.Absence(fmt.Sprintf("what lands on it %.0f mm along states no length of bearing", c.At[row]))
	}
	return working.Absence(fmt.Sprintf("no length of bearing is stated for its support %.0f mm along", c.At[row]))
}

// gap is the clear length from a contact to the nearest other one, mm; what carries a bedded piece does not count. A single
// contact has the rest of the piece.
func (j *judge) gap(m *member, row int) float64 {
	c := &j.b.Contacts
	nearest := m.length
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if r == row || m.bedded && !c.Landing[r] {
			continue
		}
		nearest = min(nearest, math.Abs(c.At[r]-c.At[row])-(c.Length[r]+c.Length[row])/2)
	}
	return max(nearest, 0)
}

func (j *judge) notched(m *member) bool {
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if j.b.Contacts.NotchDepth[r] > 0 {
			return true
		}
	}
	return false
}

// timberNotch judges the ends that are notched at a support, under the shear beside the notch.
func (j *judge) timberNotch(m *member, piece *ec5.Piece) {
	if !j.notched(m) {
		j.leave(m.i, "it is not notched at a support", timberNotch)
		return
	}
	c := &j.b.Contacts
	var all []press
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if c.NotchDepth[r] > 0 {
			all = append(all, j.shearsAt(m, r)...)
		}
	}
	judgeAll(j, m.i, timberNotch, all, func(p *press, sheet *working.Sheet) working.Outcome {
		r := p.row
		in := ec5.Notch{Duration: p.duration, V: p.force, Cut: c.NotchDepth[r], ToReaction: c.NotchX[r], Slope: c.NotchSlope[r],
			Top: j.b.Pieces.Words[c.NotchFace[r]] == "top"}
		sheet.Step("V_d", p.force, "N", "EN 1990 6.4.3.2")
		return piece.Notch(&in, sheet)
	}, j.governedBy(m))
}

// shearsAt are the largest shears of a piece beside a support, one for each duration class.
func (j *judge) shearsAt(m *member, row int) []press {
	const beside = 1 // mm
	s, count := &j.b.Stations, int(j.b.Combinations)
	var most [national.Instantaneous + 1]press
	for r := m.stations.from; r < m.stations.to; r++ {
		if math.Abs(s.At[r]-j.b.Contacts.At[row]) > beside {
			continue
		}
		for _, c := range j.strength {
			p := &most[j.durations[c]]
			if v := math.Abs(s.V[r*count+c]); v > p.force {
				*p = press{row, v, c, j.durations[c]}
			}
		}
	}
	var out []press
	for _, p := range most {
		if p.force > 0 {
			out = append(out, p)
		}
	}
	return out
}
