package eurocode

import "example.com/scantling/rules/vocabulary"

// The facts, in the order of Describe.
const (
	timberBending = iota
	timberShear
	timberBearing
	timberNotch
	timberTension
	timberCompression
	timberCombined
	timberInstant
	timberFinal
	timberVibration
	steelBending
	steelShear
	steelBuckling
	steelLateral
	steelCombined
	steelDeflection
	masonryBearing
	isJudged
	isTimber
	isSteel
	isBedded
	isUpright
	isNotched
	isPressed
	isFloor
	isOnMasonry
	factCount
)

var facts = []vocabulary.Fact{
	timberBending:     ratio("ec5.bending", "timber in bending, with lateral stability: demand over capacity (EN 1995-1-1 6.1.6, 6.3.3)", "section", "grade", "restraint", "load_at"),
	timberShear:       ratio("ec5.shear", "timber in shear: demand over capacity (EN 1995-1-1 6.1.7)", "section", "grade"),
	timberBearing:     ratio("ec5.bearing", "timber pressed across the grain, at its supports and under what lands on it: demand over capacity (EN 1995-1-1 6.1.5)", "section", "grade", "supports.bearing"),
	timberNotch:       ratio("ec5.notch", "timber in shear at a notched end: demand over capacity (EN 1995-1-1 6.5.2)", "section", "grade", "supports.notch"),
	timberTension:     ratio("ec5.tension", "timber in tension along the grain: demand over capacity (EN 1995-1-1 6.1.2)", "section", "grade"),
	timberCompression: ratio("ec5.compression", "timber in compression along the grain, with buckling: demand over capacity (EN 1995-1-1 6.3.2)", "section", "grade", "held"),
	timberCombined:    ratio("ec5.combined", "timber in bending with a force along it: demand over capacity (EN 1995-1-1 6.2, 6.3)", "section", "grade", "restraint", "held"),
	timberInstant:     ratio("ec5.deflection_instant", "deflection of timber at once, as a part of its limit (EN 1995-1-1 7.2)", "section", "grade"),
	timberFinal:       ratio("ec5.deflection_final", "deflection of timber in the end, with creep, as a part of its limit (EN 1995-1-1 2.2.3, 7.2)", "section", "grade", "areas.finish"),
	timberVibration:   ratio("ec5.vibration", "floor of timber joists: the worst of frequency, deflection under 1 kN and velocity, each as a part of its limit (EN 1995-1-1 7.3.3)", "section", "grade", "centres", "areas.deck", "blocking"),
	steelBending:      ratio("ec3.bending", "steel section in bending: demand over capacity (EN 1993-1-1 6.2.5, 6.2.8)", "section", "grade"),
	steelShear:        ratio("ec3.shear", "steel in shear: demand over capacity (EN 1993-1-1 6.2.6)", "section", "grade"),
	steelBuckling:     ratio("ec3.buckling", "steel in compression, with buckling: demand over capacity (EN 1993-1-1 6.3.1)", "section", "grade", "held"),
	steelLateral:      ratio("ec3.lateral", "steel that may turn over sideways under bending: demand over capacity (EN 1993-1-1 6.3.2)", "section", "grade", "restraint", "load_at"),
	steelCombined:     ratio("ec3.combined", "steel in bending with a force along it: demand over capacity (EN 1993-1-1 6.2.1, 6.3.3)", "section", "grade", "restraint", "held"),
	steelDeflection:   ratio("ec3.deflection", "deflection of steel under variable and under all actions, as a part of its limits (EN 1993-1-1 7.2.1)", "section", "grade", "areas.finish"),
	masonryBearing:    ratio("ec6.bearing", "masonry under a bearing, and the wall at mid-height below it: demand over capacity (EN 1996-1-1 6.1.2, 6.1.3)", "supports.bearing", "supports.seat", "masonry"),
	isJudged:          truth("ec0.judged", "the region can judge the strength of this piece; absent where something it needs is not stated or not known", "section", "grade", "service_class"),
	isTimber:          truth("ec5.timber", "a timber of which section, grade and service class are known"),
	isSteel:           truth("ec3.steel", "a steel of which section and grade are known"),
	isBedded:          truth("ec0.bedded", "it lies along what carries it, so that nothing bends it", "supports.continuous"),
	isUpright:         truth("ec0.upright", "it stands upright, as a post does", "path"),
	isNotched:         truth("ec5.notched", "its end is notched at a support", "supports.notch"),
	isPressed:         truth("ec5.pressed", "something presses it across its length, at a seat or a landing", "supports.by"),
	isFloor:           truth("ec5.floor", "a floor joist, or one of a run of other members, under a floor that people walk on", "role", "carries", "centres"),
	isOnMasonry:       truth("ec6.on_masonry", "it brings a load to masonry at one place", "supports.on"),
}

func ratio(name, text string, keys ...string) vocabulary.Fact {
	return vocabulary.Fact{Subject: vocabulary.Member, Name: name, Type: vocabulary.Number, Origin: vocabulary.FromRegion, Text: text, Keys: keys}
}

func truth(name, text string, keys ...string) vocabulary.Fact {
	return vocabulary.Fact{Subject: vocabulary.Member, Name: name, Type: vocabulary.Truth, Origin: vocabulary.FromRegion, Text: text, Keys: keys}
}
