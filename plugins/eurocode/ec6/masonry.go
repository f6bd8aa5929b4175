// Package ec6 checks masonry under concentrated loads against EN 1996-1-1: the stress beneath a bearing and the wall at
// mid-height below it. It must not know what lands on the wall, nor walls under wind.
package ec6

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Masonry is what a wall is built of, with general purpose mortar.
type Masonry struct {
	Unit         string  // "clay", "calcium silicate", "aggregate concrete", "AAC"
	Group        int     // of the units, 1 to 4
	UnitStrength float64 // f_b, normalised mean compressive strength of the units, N/mm2
	Mortar       float64 // f_m, compressive strength of the mortar, N/mm2
	Category     int     // of the units: 1 or 2 for I or II
	Execution    int     // class of execution control, 1 or 2
	Jointed      bool    // a mortar joint runs through the wall along its length
}

// MortarStrength reads the name of a mortar, "M4" being of 4 N/mm2 (EN 998-2).
func MortarStrength(name string) (float64, working.Absence) {
	if figure, ok := strings.CutPrefix(name, "M"); ok {
		if strength, err := strconv.ParseFloat(figure, 64); err == nil && strength > 0 && !math.IsInf(strength, 0) {
			return strength, ""
		}
	}
	return 0, working.Absence(fmt.Sprintf("the mortar %.40q is not known: name it by its strength, as M4", name))
}

// Strength is the strength of a masonry in compression, N/mm2.
type Strength struct {
	Fk    float64 // characteristic
	Fd    float64 // design
	Solid bool    // the units are of group 1, so that a concentrated load is helped by what surrounds it (6.1.3)
}

// Strength works f_k = K f_b^a f_m^b, EN 1996-1-1 3.1 and 3.2, and f_d.
func (m *Masonry) Strength(choices *national.Masonry, sheet *working.Sheet) (s Strength, absent working.Absence) {
	const strongestUnit, strongestMortar = 75, 20 // N/mm2, 3.6.1.2(2)
	if choices == nil {
		return s, "the national choices are not known: state the region of the site"
	}
	if !(m.UnitStrength > 0 && m.Mortar > 0) {
		return s, "the strength of the masonry's units or of its mortar is not stated"
	}
	units, ok := choices.K[m.Unit]
	if !ok {
		return s, working.Absence(fmt.Sprintf("the national choices give no sourced K for masonry of %.40q", m.Unit))
	}
	k, absent := units.Get(strconv.Itoa(m.Group))
	if absent != "" {
		return s, absent
	}
	a, absent := choices.PowerUnit.Get()
	if absent != "" {
		return s, absent
	}
	b, absent := choices.PowerMortar.Get()
	if absent != "" {
		return s, absent
	}
	partial, absent := m.partial(choices)
	if absent != "" {
		return s, absent
	}
	gamma, absent := partial.Get()
	if absent != "" {
		return s, absent
	}
	if m.Jointed {
		k *= 0.8 // 3.6.1.2(6)
	}
	unit := math.Min(m.UnitStrength, strongestUnit)
	mortar := min(m.Mortar, strongestMortar, 2*unit)
	s = Strength{Fk: k * math.Pow(unit, a) * math.Pow(mortar, b), Solid: m.Group == 1}
	s.Fd = s.Fk / gamma
	sheet.Step("K", k, "", units[strconv.Itoa(m.Group)].Source)
	sheet.Step("f_b", unit, "N/mm2", "EN 1996-1-1 3.6.1.2(2)")
	sheet.Step("f_m", mortar, "N/mm2", "EN 1996-1-1 3.6.1.2(2)")
	sheet.Step("f_k", s.Fk, "N/mm2", "EN 1996-1-1 3.1, 3.2")
	sheet.Step("gamma_M", gamma, "", partial.Source)
	sheet.Step("f_d", s.Fd, "N/mm2", "EN 1996-1-1 2.4.1")
	return s, ""
}

// partial is gamma_M by the category of the units and the class of execution control.
func (m *Masonry) partial(choices *national.Masonry) (*national.Value, working.Absence) {
	switch [2]int{m.Category, m.Execution} {
	case [2]int{1, 1}:
		return &choices.GammaMI1, ""
	case [2]int{1, 2}:
		return &choices.GammaMI2, ""
	case [2]int{2, 1}:
		return &choices.GammaMII1, ""
	case [2]int{2, 2}:
		return &choices.GammaMII2, ""
	}
	return nil, "the category of the masonry units (I or II) or the class of execution control (1 or 2) is not stated"
}
