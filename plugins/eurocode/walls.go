package eurocode

import (
	"math"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/ec6"
	"example.com/scantling/plugins/eurocode/working"
)

// ownWeight is what masonry weighs, N/mm3: 20 kN/m3, common practice, no source. The wall's own weight is not among what the
// region is told.
const ownWeight = 20e-6

// unitOf is the national table's word for a wall's units.
var unitOf = map[string]string{"clay": "clay", "concrete": "aggregate concrete", "aac": "AAC", "calcium silicate": "calcium silicate"}

// onto says that a contact brings a load to masonry at one place. What a hanger built into a wall needs, its maker says.
func (j *judge) onto(m *member, row int) bool {
	c, words := &j.b.Contacts, j.b.Pieces.Words
	return !m.bedded && !c.Landing[row] && words[c.Underside[row]] == "masonry" && words[c.By[row]] != "hanger"
}

func (j *judge) onMasonry(m *member) bool {
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if j.onto(m, r) {
			return true
		}
	}
	return false
}

// masonry judges the walls under the piece's bearings, whatever the piece is made of.
func (j *judge) masonry(m *member) {
	if !j.onMasonry(m) {
		j.leave(m.i, "it brings no load to masonry at one place", masonryBearing)
		return
	}
	c := &j.b.Contacts
	var all []press
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if !j.onto(m, r) {
			continue
		}
		worst := press{row: r, combination: -1}
		for _, p := range j.pushesOn(m, r) {
			if worst.combination < 0 || p.force > worst.force {
				worst = p
			}
		}
		all = append(all, worst)
	}
	judgeAll(j, m.i, masonryBearing, all, func(p *press, sheet *working.Sheet) working.Outcome {
		sheet.Step("N_Edc", p.force, "N", "EN 1990 6.4.3.2")
		on, absent := j.bearingOn(m, p, sheet)
		if absent != "" {
			return working.Missing(absent)
		}
		if c.Eccentric[p.row] != 0 {
			sheet.Step("e", c.Eccentric[p.row], "mm", "geometry")
		}
		return on.Bearing(&j.choices.Masonry, sheet)
	}, j.governedBy(m))
}

// bearingOn is the load on the wall, beneath a padstone or plate where there is one.
func (j *judge) bearingOn(m *member, p *press, sheet *working.Sheet) (on ec6.Bearing, absent working.Absence) {
	c, r := &j.b.Contacts, p.row
	words := j.b.Pieces.Words
	built := ec6.Masonry{Unit: unitOf[words[c.WallUnit[r]]], Group: int(c.WallGroup[r]), UnitStrength: c.WallUnitF[r], Mortar: c.WallMortar[r],
		Category: 2, Execution: max(j.site.MasonryClass, 0)}
	if words[c.WallClass[r]] == "I" {
		built.Category = 1
	}
	if built.Execution == 0 {
		built.Execution = 2
	}
	switch {
	case c.WallUnitF[r] == 0 || c.WallMortar[r] == 0 || words[c.WallUnit[r]] == "":
		return on, "the masonry under its support is not stated: state the wall's units, their strength and the mortar"
	case c.Length[r] <= 0:
		return on, j.lengthUnstated(r)
	case c.ToWallEnd[r] < 0:
		return on, "it is not known how far along the wall the load stands: give the wall and the member a path"
	}
	if built.Unit == "" {
		built.Unit = words[c.WallUnit[r]]
	}
	strength, absent := built.Strength(&j.choices.Masonry, sheet)
	if absent != "" {
		return on, absent
	}
	along, across := c.Width[r], c.Length[r]
	if m.role == model.RoleLintel { // lies in the wall
		along, across = across, along
	}
	beyond := max(0, c.ToWallEnd[r]-along/2)
	if centres := j.b.Pieces.Centres[m.i]; centres > along {
		beyond = min(beyond, (centres-along)/2)
	}
	on = ec6.Bearing{
		Wall:  ec6.Wall{Strength: strength, Thickness: c.WallWidth[r], Height: c.WallHeight[r]},
		Force: p.force, Length: along, Width: min(across, c.WallWidth[r]), Before: beyond, After: beyond, Eccentricity: math.Abs(c.Eccentric[r]),
	}
	gamma, absent := j.choices.Combinations.GammaGSup.Get()
	if absent != "" {
		return on, absent
	}
	on.Beside = gamma * ownWeight * c.WallWidth[r] * c.WallHeight[r] / 2
	switch words[c.SeatKind[r]] {
	case "padstone", "plate":
		return on.On(ec6.Padstone{Length: c.SeatAlong[r], Width: c.SeatAcross[r], Depth: c.SeatHigh[r]})
	}
	return on, ""
}
