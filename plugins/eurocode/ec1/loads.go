// Package ec1 says what a house is loaded with under EN 1991: imposed loads by use, and snow from the ground to the roof.
// Loads come out in N/mm2 and N; it must not know how they are combined or carried, and wind it leaves to the document.
package ec1

import (
	"fmt"
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Factors from the units of the data files.
const (
	kNPerM2 = 1e-3 // to N/mm2
	kN      = 1e3  // to N
)

// Load is an imposed load: an area load in N/mm2 on plan, or in its place a point load in N, never both at once.
type Load struct {
	Area  float64
	Point float64
}

// Floor is the load of a floor by its category of use, EN 1991-1-1 6.3.1.2.
func Floor(choices *national.Choices, category string, sheet *working.Sheet) (Load, working.Absence) {
	imposed, absent := choices.Loads.Floors.Get(category)
	if absent != "" {
		return Load{}, absent
	}
	return load(imposed, choices.Loads.Floors[category].Source, sheet), ""
}

// Ceiling is the load of a ceiling or loft that is reached for upkeep and light storage.
func Ceiling(choices *national.Choices, sheet *working.Sheet) (Load, working.Absence) {
	imposed, absent := choices.Loads.Ceiling.Get()
	if absent != "" {
		return Load{}, absent
	}
	return load(imposed, choices.Loads.Ceiling.Source, sheet), ""
}

// Roof is the load of a roof of category H, walked on for maintenance only, by its pitch in radians (EN 1991-1-1 6.3.4.2 with
// the annex). It acts on plan and never with snow or wind (3.3.2(1)).
func Roof(choices *national.Choices, pitch float64, sheet *working.Sheet) (Load, working.Absence) {
	if absent := checkPitch(pitch); absent != "" {
		return Load{}, absent
	}
	roof, absent := choices.Loads.Roof.Get()
	if absent != "" {
		return Load{}, absent
	}
	imposed := roof.Imposed
	imposed.Area *= falling(pitch*180/math.Pi, roof.FullTo, roof.NoneFrom)
	return load(imposed, choices.Loads.Roof.Source, sheet), ""
}

// Partitions is the area load in N/mm2 that stands for movable partitions of this self-weight in N/mm, EN 1991-1-1 6.3.1.2(8).
func Partitions(line float64) (area float64, absent working.Absence) {
	for _, step := range []struct{ to, area float64 }{{1, 0.5}, {2, 0.8}, {3, 1.2}} { // kN/m = N/mm; kN/m2
		if line > 0 && line <= step.to {
			return step.area * kNPerM2, ""
		}
	}
	return 0, working.Absence(fmt.Sprintf("a partition of %g kN/m is no movable partition of EN 1991-1-1 6.3.1.2(8): state it as a line load", line))
}

func load(imposed national.Imposed, source string, sheet *working.Sheet) Load {
	sheet.Step("q_k", imposed.Area*kNPerM2, "N/mm2", source)
	sheet.Step("Q_k", imposed.Point*kN, "N", source)
	return Load{imposed.Area * kNPerM2, imposed.Point * kN}
}

// falling is 1 up to full, 0 from none on, and straight in between.
func falling(at, full, none float64) float64 {
	switch {
	case at <= full:
		return 1
	case at >= none:
		return 0
	}
	return (none - at) / (none - full)
}

func checkPitch(pitch float64) working.Absence {
	if !(pitch >= 0 && pitch < math.Pi/2) {
		return "the pitch of a roof must lie between level and upright"
	}
	return ""
}
