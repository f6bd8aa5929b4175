package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Layer is one kind of upright layer in a sandwich: timber, or a steel plate.
type Layer struct {
	Timber  *materials.Timber // nil for a plate
	Plate   *materials.Steel  // nil for timber
	Breadth float64           // mm, of one
	Depth   float64           // mm
	Count   int               // 0 is one
}

// Layered is a beam of upright timbers and steel plates bolted together at one mid-depth, so that all bend alike.
type Layered struct {
	Layers       []Layer
	Choices      *national.Choices
	ServiceClass int
	Psi2         float64 // quasi-permanent part of the action with the largest stress; 1 for permanent load (2.3.2.2(2))
}

// Bending is demand over capacity of the worst layer. All have one curvature, so a layer carries the moment in proportion to
// its E I; it is worked with the moduli at first and, since timber creeps and plates do not, in the end (2.2.2(1), 2.10).
func (l *Layered) Bending(in *Bending, sheet *working.Sheet) working.Outcome {
	switch {
	case l.Choices == nil:
		return working.Missing("the national choices are not known: state the region of the site")
	case len(l.Layers) == 0:
		return working.Missing("the beam has no layers")
	case in.Mz != 0:
		return working.Missing("a layered beam is worked for bending in its depth only: have the engineer work what bends it sideways")
	case !in.Lateral.Full:
		return working.Missing("a layered beam is worked only with its compression edge held along its whole length: state the restraint, or ask the engineer")
	case !(l.Psi2 >= 0 && l.Psi2 <= 1):
		return working.Missing("psi_2 lies between 0 and 1")
	}
	creep, absent := Kdef(l.ServiceClass, false)
	if absent != "" {
		return working.Missing(absent)
	}
	worst := 0.0
	for _, when := range [...]struct {
		name  string
		creep float64
	}{{"at first", 0}, {"in the end", l.Psi2 * creep}} {
		total, absent := l.rigidity(when.creep)
		if absent != "" {
			return working.Missing(absent)
		}
		if sheet != nil {
			sheet.Step("EI "+when.name, total, "N mm2", "EN 1995-1-1 2.2.2(1), 2.10")
		}
		for i := range l.Layers {
			ratio, absent := l.layer(i, math.Abs(in.My)/total, when.creep, in.Duration, sheet)
			if absent != "" {
				return working.Missing(absent)
			}
			worst = max(worst, ratio)
		}
	}
	sheet.Step("ratio", worst, "", "EN 1995-1-1 6.11; EN 1993-1-1 6.2.5")
	return working.Found(worst)
}

// rigidity is the sum of E I in N mm2, that of timber divided by 1 + creep.
func (l *Layered) rigidity(creep float64) (total float64, absent working.Absence) {
	for i := range l.Layers {
		one := &l.Layers[i]
		modulus, absent := one.modulus(creep)
		if absent != "" {
			return 0, absent
		}
		if !(one.Breadth > 0 && one.Depth > 0) {
			return 0, "a layer has no breadth or no depth"
		}
		total += modulus * float64(max(one.Count, 1)) * one.Breadth * one.Depth * one.Depth * one.Depth / 12
	}
	return total, ""
}

func (l *Layer) modulus(creep float64) (float64, working.Absence) {
	switch {
	case l.Plate != nil && l.Timber != nil, l.Plate == nil && l.Timber == nil:
		return 0, "a layer is neither a timber nor a plate of a known grade"
	case l.Plate != nil:
		return materials.SteelE, ""
	case l.Timber.E0Mean == 0:
		return 0, working.Absence("grade " + l.Timber.Name + " states no E: add it to the grade's values")
	}
	return l.Timber.E0Mean / (1 + creep), ""
}

// layer is the stress of one layer over its strength at this curvature in 1/mm.
func (l *Layered) layer(i int, curvature, creep float64, duration national.Duration, sheet *working.Sheet) (ratio float64, absent working.Absence) {
	one := &l.Layers[i]
	modulus, absent := one.modulus(creep)
	if absent != "" {
		return 0, absent
	}
	stress := modulus * curvature * one.Depth / 2
	var strength float64
	if one.Plate != nil {
		fy, source, absent := one.Plate.Yield(one.Breadth)
		if absent != "" {
			return 0, absent
		}
		gamma, absent := l.Choices.Steel.GammaM0.Get()
		if absent != "" {
			return 0, absent
		}
		strength = fy / gamma
		sheet.Step("f_y", fy, "N/mm2", source)
	} else {
		timber := Piece{Grade: one.Timber, Choices: &l.Choices.Timber, Breadth: one.Breadth, Depth: one.Depth, ServiceClass: l.ServiceClass}
		basic, absent := timber.basic(duration, sheet)
		if absent != "" {
			return 0, absent
		}
		size, absent := Kh(one.Timber, one.Depth)
		if absent != "" {
			return 0, absent
		}
		if one.Timber.FmK == 0 {
			return 0, timber.unstated("fm_k")
		}
		strength = basic * size * one.Timber.FmK
		sheet.Step("k_h", size, "", "EN 1995-1-1 3.2(3), 3.3(3), 3.4(3)")
	}
	sheet.Step("f_d", strength, "N/mm2", "EN 1995-1-1 2.14; EN 1993-1-1 6.2.1")
	sheet.Step("sigma_d", stress, "N/mm2", "statics, E times curvature times half the depth")
	return stress / strength, ""
}
