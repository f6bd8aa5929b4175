package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Bearing is a force across the grain on one contact of the piece.
type Bearing struct {
	Duration national.Duration
	Force    float64 // N, pressing
	Length   float64 // mm, of contact along the grain
	Width    float64 // mm, of contact across the grain; 0 is all plies

	// Before and After are the lengths of timber beyond the contact on its two sides, mm: to the end of the piece.
	Before, After float64
	// Gap is the clear length to the nearest other contact along the grain, mm. 0 is not known: nothing is then added to the
	// contact and k_c,90 is 1.
	Gap float64

	Continuous bool    // the contact is part of a continuous support, as a sole plate's; else of a discrete one
	Slope      float64 // radians, of the piece against the level: the force then runs at an angle of pi/2 - slope to the grain
}

// Bearing is demand over capacity in compression across the grain: 6.3 and 6.4, at a slope with 6.16.
func (p *Piece) Bearing(in *Bearing, sheet *working.Sheet) working.Outcome {
	basic, absent := p.basic(in.Duration, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	width := p.plies() * p.Breadth
	if in.Width > 0 {
		width = math.Min(width, in.Width)
	}
	switch {
	case p.Grade.Fc90K == 0:
		return working.Missing(p.unstated("fc90_k"))
	case !(in.Length > 0):
		return working.Missing("the length of bearing is not stated")
	case !(in.Width >= 0 && in.Before >= 0 && in.After >= 0 && in.Gap >= 0 && in.Slope >= 0 && in.Slope < math.Pi/2):
		return working.Missing("the bearing has a size below 0, or stands on an upright piece")
	}
	length := in.Length + p.beyond(in, in.Before) + p.beyond(in, in.After)
	kc90 := p.kc90(in)
	strength := basic * p.Grade.Fc90K
	stress := math.Max(in.Force, 0) / (width * length)
	sheet.Step("l_ef", length, "mm", "EN 1995-1-1 6.1.5(1)")
	sheet.Step("b", width, "mm", "the breadth that is pressed")
	sheet.Step("k_c,90", kc90, "", "EN 1995-1-1 6.1.5(2) to (4)")
	sheet.Step("f_c,90,k", p.Grade.Fc90K, "N/mm2", p.Grade.Source)
	sheet.Step("f_c,90,d", strength, "N/mm2", "EN 1995-1-1 2.14")
	capacity, clause := kc90*strength, "EN 1995-1-1 6.3"
	if in.Slope > 0 {
		if p.Grade.Fc0K == 0 {
			return working.Missing(p.unstated("fc0_k"))
		}
		along := basic * p.Grade.Fc0K
		sin, cos := math.Cos(in.Slope), math.Sin(in.Slope) // of the angle between force and grain
		capacity, clause = along/(along/capacity*sin*sin+cos*cos), "EN 1995-1-1 6.16"
		sheet.Step("f_c,0,k", p.Grade.Fc0K, "N/mm2", p.Grade.Source)
		sheet.Step("f_c,0,d", along, "N/mm2", "EN 1995-1-1 2.14")
		sheet.Step("f_c,alpha,d", capacity, "N/mm2", "EN 1995-1-1 6.16")
	}
	ratio := stress / capacity
	sheet.Step("sigma_c,90,d", stress, "N/mm2", "EN 1995-1-1 6.4")
	sheet.Step("ratio", ratio, "", clause)
	return working.Found(ratio)
}

// beyond is what one side adds to the contact: at most 30 mm (15 mm for LVL on edge, as its makers declare), the timber there,
// the contact itself and half the gap.
func (p *Piece) beyond(in *Bearing, timber float64) float64 {
	most := 30.0
	if p.Grade.Kind == materials.LVL {
		most = 15
	}
	return min(most, timber, in.Length, in.Gap/2)
}

// kc90 is k_c,90: more than 1 only for softwood with the next contact at least two depths away.
func (p *Piece) kc90(in *Bearing) float64 {
	const longest = 400 // mm, of a discrete support of glulam
	if in.Gap < 2*p.Depth || in.Gap == 0 {
		return 1
	}
	switch p.Grade.Kind {
	case materials.Softwood:
		if in.Continuous {
			return 1.25
		}
		return 1.5
	case materials.Glulam:
		if in.Continuous {
			return 1.5
		}
		if in.Length <= longest {
			return 1.75
		}
	}
	return 1
}
