package model

import (
	"math"
	"strings"
)

// The inch, the pound and standard gravity are exact by definition (international yard and pound, 1959; ISO 80000-3),
// so the pound-force is too.
const (
	inch      = 25.4                // mm
	foot      = 12 * inch           // mm
	poundMass = 0.45359237          // kg
	pound     = poundMass * Gravity // N
)

// unit is a name with its dimension and its size in internal units.
type unit struct {
	dimension Dimension
	size      float64
}

func (u unit) times(v unit) unit { return unit{u.dimension.Times(v.dimension), u.size * v.size} }
func (u unit) over(v unit) unit  { return unit{u.dimension.Over(v.dimension), u.size / v.size} }

func (u unit) power(n int8) unit {
	return unit{u.dimension.Power(n), math.Pow(u.size, float64(n))}
}

// atoms are the units that have a name of their own. A pound is a force or a mass: what is wanted decides.
var atoms = map[string][]unit{
	"mm": {{Length, 1}}, "cm": {{Length, 10}}, "m": {{Length, 1e3}}, "km": {{Length, 1e6}},
	"in": {{Length, inch}}, "inch": {{Length, inch}}, "inches": {{Length, inch}}, `"`: {{Length, inch}},
	"ft": {{Length, foot}}, "foot": {{Length, foot}}, "feet": {{Length, foot}}, "'": {{Length, foot}},
	"N": {{Force, 1}}, "kN": {{Force, 1e3}}, "MN": {{Force, 1e6}},
	"lb": {{Force, pound}, {Mass, poundMass}}, "lbs": {{Force, pound}, {Mass, poundMass}}, "lbf": {{Force, pound}},
	"kip": {{Force, 1e3 * pound}}, "kips": {{Force, 1e3 * pound}},
	"kg": {{Mass, 1}}, "g": {{Mass, 1e-3}}, "t": {{Mass, 1e3}},
	"rad": {{Angle, 1}}, "deg": {{Angle, math.Pi / 180}}, "degree": {{Angle, math.Pi / 180}},
	"degrees": {{Angle, math.Pi / 180}}, "°": {{Angle, math.Pi / 180}},
	"Pa": {{Stress, 1e-6}}, "kPa": {{Stress, 1e-3}}, "MPa": {{Stress, 1}}, "GPa": {{Stress, 1e3}},
	"psf": {{Stress, pound / (foot * foot)}}, "psi": {{Stress, pound / (inch * inch)}}, "ksi": {{Stress, 1e3 * pound / (inch * inch)}},
	"plf": {{LineLoad, pound / foot}}, "pcf": {{Density, poundMass / (foot * foot * foot)}},
	"kNm": {{Moment, 1e6}}, "Nm": {{Moment, 1e3}}, "Nmm": {{Moment, 1}},
	"%": {{Plain, 0.01}}, "": {{Plain, 1}},
}

// parseUnit reads a unit such as "kN/m2", "lb ft" or "mm4". The readings are more than one where a name is
// ambiguous, and none where a name is unknown.
func parseUnit(text string) []unit {
	readings := []unit{{Plain, 1}}
	for i, side := range strings.Split(text, "/") {
		if i > 0 && strings.TrimSpace(side) == "" {
			return nil
		}
		for _, factor := range strings.FieldsFunc(side, isTimes) {
			named := parseFactor(factor)
			var next []unit
			for _, r := range readings {
				for _, n := range named {
					if i == 0 {
						next = append(next, r.times(n))
					} else {
						next = append(next, r.over(n))
					}
				}
			}
			readings = next
			if len(readings) > 16 {
				return nil
			}
		}
	}
	return readings
}

// parseFactor reads one name with its power: "mm2", "mm^2", "mm²", "in4".
func parseFactor(text string) []unit {
	power := int8(1)
	for suffix, n := range map[string]int8{"2": 2, "3": 3, "4": 4, "6": 6, "²": 2, "³": 3, "⁴": 4} {
		if name, cut := strings.CutSuffix(text, suffix); cut {
			text, power = strings.TrimSuffix(name, "^"), n
			break
		}
	}
	named := atoms[text]
	if power == 1 {
		return named
	}
	raised := make([]unit, len(named))
	for i, n := range named {
		raised[i] = n.power(power)
	}
	return raised
}

func isTimes(r rune) bool { return r == ' ' || r == '·' || r == '*' || r == '-' || r == '\u00a0' }
