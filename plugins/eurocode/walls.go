package eurocode

import (
	"fmt"
	"slices"

	"example.com/scantling/plugins/eurocode/ec6"
	"example.com/scantling/plugins/eurocode/working"
)

// unitOf is the national table's word for a wall's units.
var unitOf = map[string]string{"clay": "clay", "concrete": "aggregate concrete", "aac": "AAC", "calcium silicate": "calcium silicate"}

// density is the most that a wall of some units weighs, N/mm3, for walls that do not state their weight.
type density struct {
	value  float64
	source string
}

// densities are the upper ends of what is given for each kind of unit. EN 1991-1-1 leaves made units to EN 771.
var densities = map[string]density{
	"clay":             {23e-6, "23 kN/m3: the heaviest cement mortar of EN 1991-1-1 Table A.1 (read); no common brick is heavier (memory)"},
	"concrete":         {24e-6, "24 kN/m3: concrete of normal weight, EN 1991-1-1 Table A.1"},
	"calcium silicate": {22e-6, "22 kN/m3: units of EN 771-2 (memory)"},
	"aac":              {10e-6, "10 kN/m3: units of EN 771-4, up to 1000 kg/m3 (memory)"},
	"stone":            {30e-6, "30 kN/m3: granite, EN 1991-1-1 Table A.2"},
}

const (
	thickestLeaf  = 240 // mm: what is thicker and does not say of how many leaves it is may be two; common practice, no source
	thickestBrick = 150 // mm: clay that is thicker is laid with a joint along the wall; common practice, no source
)

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

// masonry judges the walls under the piece's bearings, whatever the piece is made of. What else stands on a wall is not worst
// where the piece presses most, so that every combination is looked at, of those that load the wall alike the first.
func (j *judge) masonry(m *member) {
	if !j.onMasonry(m) {
		j.leave(m.i, "it brings no load to masonry at one place", masonryBearing)
		return
	}
	type load struct{ force, beside, turn float64 }
	var all []press
	for r := m.contacts.from; r < m.contacts.to; r++ {
		if !j.onto(m, r) {
			continue
		}
		var seen []load
		for _, k := range j.strength {
			p := press{r, j.push(r, k), k, j.durations[k]}
			beside, turn := j.besideOn(&p, nil)
			if l := (load{p.force, beside, turn}); !slices.Contains(seen, l) {
				seen, all = append(seen, l), append(all, p)
			}
		}
	}
	judgeAll(j, m.i, masonryBearing, all, func(p *press, sheet *working.Sheet) working.Outcome {
		sheet.Step("N_Edc", p.force, "N", "EN 1990 6.4.3.2")
		on, absent := j.bearingOn(m, p, sheet)
		if absent != "" {
			return working.Missing(absent)
		}
		if on.Eccentricity != 0 {
			sheet.Step("e", on.Eccentricity, "mm", "the length of bearing on the wall, and where its axis is")
		}
		return on.Bearing(&j.choices.Masonry, sheet)
	}, j.governedBy(m))
}

// bearingOn is the load on the wall, beneath a padstone or plate where there is one.
func (j *judge) bearingOn(m *member, p *press, sheet *working.Sheet) (on ec6.Bearing, absent working.Absence) {
	c, r := &j.b.Contacts, p.row
	words := j.b.Pieces.Words
	switch {
	case c.WallUnitF[r] == 0 || c.WallMortar[r] == 0 || words[c.WallUnit[r]] == "":
		return on, "the masonry under its support is not stated: state the wall's units, their strength and the mortar"
	case c.Length[r] <= 0:
		return on, j.lengthUnstated(r)
	case words[c.BesideUnknown[r]] != "":
		return on, working.Absence(words[c.BesideUnknown[r]])
	case c.ToWallEnd[r] < 0 || c.ToWallFar[r] < c.ToWallEnd[r]:
		return on, "it is not known how far along the wall the load stands: give the wall and the member a path"
	}
	if on.Wall, absent = j.leafUnder(r, sheet); absent != "" {
		return on, absent
	}
	along, across := c.Width[r], c.Length[r]
	if c.AlongWall[r] {
		along, across = across, along
	} else {
		on.Apart = j.b.Pieces.Centres[m.i]
	}
	on.Force, on.Width, on.Eccentricity = p.force, min(across, on.Wall.Thickness), c.Eccentric[r]
	on.Length = along/2 + min(along/2, c.ToWallEnd[r]) // what of it stands on the wall
	on.Before = max(0, c.ToWallEnd[r]-along/2)
	on.After = max(0, c.ToWallFar[r]-along/2)
	on.Beside, on.Turn = j.besideOn(p, sheet)
	switch words[c.SeatKind[r]] {
	case "padstone", "plate":
		return on.On(ec6.Padstone{Length: c.SeatAlong[r], Width: c.SeatAcross[r], Depth: c.SeatHigh[r]})
	}
	return on, ""
}

// leafUnder is the leaf that a contact stands on. Of a cavity wall what the other leaf adds to its effective thickness (5.5.1.3)
// is not counted.
func (j *judge) leafUnder(row int, sheet *working.Sheet) (wall ec6.Wall, absent working.Absence) {
	c, words := &j.b.Contacts, j.b.Pieces.Words
	unit, thickness := words[c.WallUnit[row]], c.WallWidth[row]
	switch leaf := words[c.WallLeaf[row]]; {
	case leaf == "cavity":
		return wall, "it stands on a cavity wall, and nobody says which leaf carries it: state the leaf as inner, and its own width, height and weight"
	case leaf == "" && thickness > thickestLeaf:
		return wall, working.Absence(fmt.Sprintf("the wall is %.0f mm thick, and nobody says whether that is one leaf: state its leaf, solid or inner, and the width of that leaf", thickness))
	case leaf == "inner":
		sheet.Step("t_ef", thickness, "mm", "EN 1996-1-1 5.5.1.3, of the inner leaf alone")
	}
	built := ec6.Masonry{Unit: unitOf[unit], Group: int(c.WallGroup[row]), UnitStrength: c.WallUnitF[row], Mortar: c.WallMortar[row],
		Category: 2, Execution: max(j.site.MasonryClass, 0), Jointed: unit == "clay" && thickness > thickestBrick}
	if words[c.WallClass[row]] == "I" {
		built.Category = 1
	}
	if built.Execution == 0 {
		built.Execution = 2
	}
	if built.Unit == "" {
		built.Unit = unit
	}
	strength, absent := built.Strength(&j.choices.Masonry, sheet)
	return ec6.Wall{Strength: strength, Thickness: thickness, Height: c.WallHeight[row]}, absent
}

// besideOn is what the wall carries at mid-height besides a push, with its own weight down to there, in the push's combination,
// N/mm, and how that turns it, N mm/mm.
func (j *judge) besideOn(p *press, sheet *working.Sheet) (load, turn float64) {
	c, r, cases := &j.b.Contacts, p.row, int(j.b.Cases)
	weight, source := c.WallWeight[r], "as stated"
	if weight == 0 {
		d := densities[j.b.Pieces.Words[c.WallUnit[r]]]
		weight, source = d.value*c.WallWidth[r], "not stated: "+d.source
	}
	sheet.Step("g_wall", weight, "N/mm2", source)
	permanent := 0.0
	for k, factor := range j.b.Preparation.Combinations[p.combination].Factors {
		load += max(0, factor*c.CaseBeside[r*cases+k])
		turn += max(0, factor*c.CaseTurn[r*cases+k])
		if !j.variable[k] {
			permanent = max(permanent, factor)
		}
	}
	own := permanent * weight * c.WallHeight[r] / 2
	sheet.Step("n_other", load, "N/mm", "what else stands on the wall, spread at 60 degrees")
	sheet.Step("m_other", turn, "N", "how far from its middle that lands on it")
	sheet.Step("n_own", own, "N/mm", "EN 1990 6.4.3.2")
	return load + own, turn
}
