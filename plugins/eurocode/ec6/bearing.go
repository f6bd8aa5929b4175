package ec6

import (
	"cmp"
	"fmt"
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Wall is the leaf that a load stands on, mm.
type Wall struct {
	Strength           Strength
	Thickness          float64 // of the loaded leaf
	Height             float64 // from its foot to the level of the load
	EffectiveHeight    float64 // 0 is Height: held at head and foot, but not stiffened (5.5.1.2)
	EffectiveThickness float64 // 0 is Thickness (5.5.1.3)
}

// Bearing is a concentrated load on a wall. Along is the direction of the wall, across that of its thickness.
type Bearing struct {
	Wall  Wall
	Force float64 // N, pressing

	Length float64 // mm, of the loaded area along the wall
	Width  float64 // mm, of it across the wall

	// Before and After are the lengths of wall beyond the loaded area on its two sides, mm, to its ends or to openings.
	Before, After float64

	// Apart is how far equal loads stand from each other along the wall, middle to middle, mm; 0: it stands alone. The masonry
	// half-way to the next helps this one (6.1.3(2)); below, where they overlap, all of them add up in Beside.
	Apart float64

	Eccentricity float64 // mm, of the load from the wall's centre line, either sign; beyond a quarter of the thickness less of the wall counts

	// Beside is the largest other vertical load along the wall at mid-height within reach of this one, that of bearings whose
	// effective lengths overlap with this one's and the wall's own weight down to there included (6.1.3(5)), N/mm. Turn is what
	// that load, where it lands on the wall, turns it by to the same side as this one, N mm/mm.
	Beside, Turn float64

	part bool // the wall is only what of a thicker one is counted, to both sides of the load alike
}

// Padstone is a block under a bearing, mm.
type Padstone struct {
	Length, Width, Depth float64 // along the wall, across it, upright
}

// On gives the bearing beneath a padstone: the load spreads within it as 6.1.3(6) has it in what is solid, as far as its size allows.
func (b Bearing) On(stone Padstone) (Bearing, working.Absence) {
	switch {
	case !(stone.Length > 0 && stone.Width > 0 && stone.Depth > 0):
		return b, "the size of the padstone is not stated"
	case !(b.Wall.Thickness > 0):
		return b, "the thickness of the wall under the padstone is not stated"
	case stone.Width > b.Wall.Thickness:
		return b, "the padstone is wider than the leaf that it stands on"
	case stone.Length < b.Length || stone.Width < b.Width:
		return b, "the padstone is smaller than the bearing on it"
	}
	length := math.Min(stone.Length, b.Length+2*aside(stone.Depth))
	spread := (length - b.Length) / 2
	if overhang := (stone.Length - b.Length) / 2; overhang > b.Before || overhang > b.After {
		return b, "the padstone, centred under its load, reaches beyond the end of the wall or over an opening"
	}
	if b.Apart > 0 && stone.Length > b.Apart {
		return b, "the padstone is longer than its load stands from the next: make it shorter, or one spreader for all"
	}
	b.Length = length
	b.Before -= spread
	b.After -= spread
	b.Width = math.Min(stone.Width, b.Width+2*aside(stone.Depth))
	return b, ""
}

// Bearing is the worse of two: the stress beneath the load, 6.1.3, and the wall at mid-height below it, 6.1.2.
func (b *Bearing) Bearing(choices *national.Masonry, sheet *working.Sheet) working.Outcome {
	on, absent := b.counted(sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	outcome := working.Worst(on.Beneath(sheet), on.MidHeight(choices, sheet))
	if ratio, known := outcome.Ratio(); known {
		sheet.Step("ratio", ratio, "", "EN 1996-1-1 6.1.2, 6.1.3")
	}
	return outcome
}

// usable is why the bearing cannot be checked at all.
func (b *Bearing) usable() working.Absence {
	w := &b.Wall
	switch {
	case !(w.Strength.Fd > 0 && w.Strength.Fk > 0):
		return "the strength of the masonry is not known"
	case !(w.Thickness > 0):
		return "the thickness of the wall is not stated"
	case !(w.Height > 0):
		return "the height of the wall below the load is not stated"
	case !(b.Length > 0 && b.Width > 0):
		return "the area that the load stands on is not known: state the length of bearing"
	case b.Width > w.Thickness:
		return "the load stands on more than the thickness of the wall"
	case !(b.Apart >= 0):
		return "the load's distance from the next is below 0"
	case !(b.Before >= 0 && b.After >= 0):
		return "the load stands beyond the end of the wall"
	case !(math.Abs(b.Eccentricity) < w.Thickness/2):
		return "the middle of the load is on the face of the wall or beyond it: bring it onto the wall, or have the engineer look at it"
	}
	return ""
}

// counted is the bearing on so much of its wall as is counted, or why it cannot be checked at all. Within a quarter of the thickness
// from the middle, as far as 6.1.3(4) goes, that is the whole wall. Further out it is the leaf that lies to both sides of the load
// alike, t - 2e, the block of even stress on which 6.1.2.2 rests, with the load in its middle and all that stands beside it. What
// turned the wall pressed on its face at most, which is the leaf's too, but less far from the leaf's middle.
func (b *Bearing) counted(sheet *working.Sheet) (Bearing, working.Absence) {
	if absent := b.usable(); absent != "" {
		return *b, absent
	}
	on, w, off := *b, &b.Wall, math.Abs(b.Eccentricity)
	if off <= w.Thickness/4 {
		return on, ""
	}
	on.part, on.Eccentricity = true, 0
	on.Wall.Thickness, on.Wall.EffectiveThickness = w.Thickness-2*off, 0
	on.Width = math.Min(b.Width, on.Wall.Thickness)
	on.Turn = b.Turn - b.onFace()*off
	sheet.Step("t - 2e", on.Wall.Thickness, "mm", "EN 1996-1-1 6.1.3(4), 6.1.2.2: further than t/4 from the middle, only this much of the wall counted")
	return on, ""
}

// onFace is the least load beside the bearing that can turn the wall as it does, pressing on its face, N/mm.
func (b *Bearing) onFace() float64 { return math.Min(b.Beside, b.Turn/(b.Wall.Thickness/2)) }

// smallest is the cross-section in mm2 below which a wall counts as weaker, EN 1996-1-1 6.1.2.1(3).
const smallest = 0.1e6

// strength is f_d in N/mm2, less for a wall of small cross-section.
func (b *Bearing) strength(sheet *working.Sheet) float64 {
	area := (b.Before + b.Length + b.After) * b.Wall.Thickness
	if area >= smallest {
		return b.Wall.Strength.Fd
	}
	factor := 0.7 + 3*area*1e-6
	sheet.Step("small area factor", factor, "", "EN 1996-1-1 6.1.2.1(3)")
	return factor * b.Wall.Strength.Fd
}

// aside is how far to each side a load has spread so much further down, mm: at 60 degrees to the level, Figure 6.2.
func aside(height float64) float64 { return height / math.Tan(math.Pi/3) }

// effectiveLength is l_efm in mm: what the load has spread to at mid-height, within so much wall on its two sides. Loads near by
// do not shorten it: their effective lengths overlap, and the loads add up (6.1.3(5)).
func (b *Bearing) effectiveLength(before, after float64) float64 {
	spread := aside(b.Wall.Height / 2)
	return b.Length + math.Min(spread, before) + math.Min(spread, after)
}

// Beneath is demand over capacity of the masonry right under the load: 6.9 to 6.11.
func (b *Bearing) Beneath(sheet *working.Sheet) working.Outcome {
	on, absent := b.counted(nil)
	if absent != "" {
		return working.Missing(absent)
	}
	area := on.Length * on.Width
	beta := 1.0
	if on.Wall.Strength.Solid && !on.part { // a part of the wall ends at its face, beside the bearing
		beta = on.enhancement(area, sheet)
	}
	capacity := beta * area * on.strength(sheet)
	ratio := math.Max(b.Force, 0) / capacity
	sheet.Step("A_b", area, "mm2", "EN 1996-1-1 6.1.3(2)")
	sheet.Step("beta", beta, "", "EN 1996-1-1 6.11")
	sheet.Step("N_Rdc", capacity, "N", "EN 1996-1-1 6.10")
	sheet.Step("ratio 6.9", ratio, "", "EN 1996-1-1 6.9")
	return working.Found(ratio)
}

// enhancement is beta, 6.11.
func (b *Bearing) enhancement(area float64, sheet *working.Sheet) float64 {
	const mostLoaded = 0.45 // of A_b / A_ef
	before, after, height := b.Before, b.After, b.Wall.Height
	if b.Apart > 0 {
		half := math.Max(0, b.Apart-b.Length) / 2
		before, after = math.Min(before, half), math.Min(after, half)
	}
	end := math.Min(before, after)
	effective := b.effectiveLength(before, after) * b.Wall.Thickness
	loaded := math.Min(area/effective, mostLoaded)
	beta := (1 + 0.3*end/height) * (1.5 - 1.1*loaded)
	sheet.Step("a_1", end, "mm", "EN 1996-1-1 Figure 6.2")
	sheet.Step("A_ef", effective, "mm2", "EN 1996-1-1 Figure 6.2")
	sheet.Step("A_b/A_ef", loaded, "", "EN 1996-1-1 6.1.3(2)")
	return math.Max(1, min(beta, 1.25+end/(2*height), 1.5))
}

// MidHeight is demand over capacity of the wall at mid-height over the length that the load has spread to: 6.1.2 with Annex G.
// Half the eccentricity of the load is left there; the wall itself is out of plumb by its effective height over 450 (5.5.1.1).
// Load beside it that presses in the middle of the wall brings the sum in: where that would help, it is left out.
func (b *Bearing) MidHeight(choices *national.Masonry, sheet *working.Sheet) working.Outcome {
	on, absent := b.counted(nil)
	if absent != "" {
		return working.Missing(absent)
	}
	if choices == nil {
		return working.Missing("the national choices are not known: state the region of the site")
	}
	stiffness, absent := choices.KE.Get()
	if absent != "" {
		return working.Missing(absent)
	}
	creepFrom, absent := choices.CreepFrom.Get()
	if absent != "" {
		return working.Missing(absent)
	}
	const slenderest = 27 // 5.5.1.4(2)
	w := &on.Wall
	height, thickness := cmp.Or(w.EffectiveHeight, w.Height), cmp.Or(w.EffectiveThickness, w.Thickness)
	slender := height / thickness
	switch {
	case !(on.Beside >= 0 && on.Turn >= 0):
		return working.Missing("the load beside the bearing is below 0")
	case on.part && !(slender <= min(slenderest, creepFrom)):
		return working.Missing(working.Absence(fmt.Sprintf("it presses further than a quarter of the thickness from the middle of the wall, so that only %.0f mm of the wall is counted (EN 1996-1-1 6.1.3(4)), and the wall is more than %.0f times as high as that (5.5.1.4, 6.1.2.2): bring the load nearer to the middle (a bearing of half the thickness does), state the height between what holds the wall, or have the engineer look at it",
			w.Thickness, min(slenderest, creepFrom))))
	case !(slender > 0 && slender <= slenderest):
		return working.Missing("the wall is more than 27 times as high as it is thick, further than EN 1996-1-1 goes (5.5.1.4): have the engineer look at it, or state the height between what holds it")
	case slender > creepFrom:
		return working.Missing("the wall is so slender that creep adds to its eccentricity, and no creep factor of the country is sourced (EN 1996-1-1 6.1.2.2)")
	}
	length := on.effectiveLength(on.Before, on.After)
	full := w.Thickness * length * on.strength(nil)
	worst := middle{}
	for _, beside := range [3]middle{{}, {load: on.onFace() * length, turn: on.Turn * length}, {load: on.Beside * length, turn: on.Turn * length}} {
		at := on.middle(beside, slender, stiffness)
		if !(at.factor > 0) {
			return working.Missing("at mid-height the load falls out of the wall")
		}
		if worst.factor == 0 || at.load/at.factor > worst.load/worst.factor {
			worst = at
		}
	}
	capacity := worst.factor * full
	ratio := worst.load / capacity
	sheet.Step("l_efm", length, "mm", "EN 1996-1-1 Figure 6.2, 60 degrees")
	sheet.Step("n_beside", on.Beside, "N/mm", "EN 1996-1-1 6.1.3(5)")
	sheet.Step("h_ef/t_ef", slender, "", "EN 1996-1-1 5.5.1.4")
	sheet.Step("e_mk", worst.off, "mm", "EN 1996-1-1 6.6, 6.7")
	sheet.Step("Phi_m", worst.factor, "", "EN 1996-1-1 Annex G")
	sheet.Step("N_Ed,m", worst.load, "N", "EN 1996-1-1 6.1.2.1(1)")
	sheet.Step("N_Rd,m", capacity, "N", "EN 1996-1-1 6.2")
	sheet.Step("ratio 6.1", ratio, "", "EN 1996-1-1 6.1")
	return working.Found(ratio)
}

// middle is the wall at mid-height: its load, N, what turned that at the top, N mm, how far it is off the centre line, mm, and Phi_m.
type middle struct{ load, turn, off, factor float64 }

// middle is the bearing's own force with some load beside it.
func (b *Bearing) middle(beside middle, slender, stiffness float64) middle {
	w, force := &b.Wall, math.Max(b.Force, 0)
	m := middle{load: force + beside.load, turn: force*math.Abs(b.Eccentricity) + beside.turn}
	m.off = cmp.Or(w.EffectiveHeight, w.Height) / 450
	if m.load > 0 {
		m.off += m.turn / 2 / m.load
	}
	m.off = math.Max(m.off, 0.05*w.Thickness)
	m.factor = b.midFactor(m.off, slender, stiffness)
	return m
}

// midFactor is Phi_m, Annex G: G.1 to G.4, with E = K_E f_k.
func (b *Bearing) midFactor(off, slender, stiffness float64) float64 {
	relative := off / b.Wall.Thickness
	first := 1 - 2*relative
	lambda := slender / math.Sqrt(stiffness)
	bottom := 0.73 - 1.17*relative
	if first <= 0 || bottom <= 0 {
		return 0
	}
	u := math.Max((lambda-0.063)/bottom, 0)
	return first * math.Exp(-u*u/2)
}
