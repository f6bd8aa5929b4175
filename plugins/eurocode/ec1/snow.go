package ec1

import (
	"fmt"
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// SnowOn is what snow needs to know of a roof.
type SnowOn struct {
	Pitch float64 // radians
	Held  bool    // snow cannot slide off: guards, a parapet, an abutment below (EN 1991-1-3 5.3.2(2))
}

// Shape is mu_1, the shape coefficient of a mono- or duopitch roof without drift: EN 1991-1-3 5.3, Table 5.2.
func (r SnowOn) Shape(sheet *working.Sheet) (mu float64, absent working.Absence) {
	const (
		flat        = 0.8
		slides, off = 30, 60 // degrees
	)
	if absent := checkPitch(r.Pitch); absent != "" {
		return 0, absent
	}
	mu = flat
	if !r.Held {
		mu *= falling(r.Pitch*180/math.Pi, slides, off)
	}
	sheet.Step("mu_1", mu, "", "EN 1991-1-3 Table 5.2")
	return mu, ""
}

// Snow is the load on a roof in N/mm2 on plan: EN 1991-1-3 5.1, s = mu_1 C_e C_t s_k, with the snow on the ground in N/mm2.
func Snow(choices *national.Choices, on SnowOn, ground float64, sheet *working.Sheet) (load float64, absent working.Absence) {
	if !(ground >= 0) {
		return 0, "the snow on the ground must be stated as a load of 0 or more"
	}
	sheet.Step("s_k", ground, "N/mm2", "EN 1991-1-3 4.1")
	mu, absent := on.Shape(sheet)
	if absent != "" {
		return 0, absent
	}
	exposure, absent := choices.Snow.Exposure.Get()
	if absent != "" {
		return 0, absent
	}
	thermal, absent := choices.Snow.Thermal.Get()
	if absent != "" {
		return 0, absent
	}
	sheet.Step("C_e", exposure, "", choices.Snow.Exposure.Source)
	sheet.Step("C_t", thermal, "", choices.Snow.Thermal.Source)
	load = mu * exposure * thermal * ground
	sheet.Step("s", load, "N/mm2", "EN 1991-1-3 5.1")
	return load, ""
}

// GroundSnow is the snow on the ground in N/mm2 by the zone of the national map and the altitude in m.
func GroundSnow(choices *national.Choices, zone, altitude float64, sheet *working.Sheet) (ground float64, absent working.Absence) {
	formula, absent := choices.Snow.Ground.Get()
	if absent != "" {
		return 0, absent
	}
	if !(zone > 0) {
		return 0, "the snow zone of the site is not stated: read it from the map of the national annex, or state the snow on the ground"
	}
	if !(altitude >= 0 && altitude <= formula.UpTo) {
		return 0, working.Absence(fmt.Sprintf("the snow formula holds from 0 to %g m above the sea: have the ground snow stated for this site", formula.UpTo))
	}
	ground = (formula.Base + formula.PerZone*zone + (altitude-formula.From)/formula.Rise) * kNPerM2
	if ground <= 0 {
		return 0, "the snow formula gives no load for this zone and altitude: look at both again"
	}
	sheet.Step("Z", zone, "", choices.Snow.Ground.Source)
	sheet.Step("A", altitude, "m", choices.Snow.Ground.Source)
	sheet.Step("s_k", ground, "N/mm2", choices.Snow.Ground.Source)
	return ground, ""
}
