package irc

import (
	"math"
	"strconv"

	"example.com/scantling/plugins/us/nds"
)

// slack keeps a figure that is exactly a limit, but for the last bit, on the limit.
const slack = 1e-9

// Support is what a joist or rafter end bears on.
type Support string

// The supports that R502.6 and R802.6 tell apart.
const (
	Wood     Support = "wood"
	Metal    Support = "metal"
	Masonry  Support = "masonry"
	Concrete Support = "concrete"
)

// LeastBearing is the least length of bearing, mm: 1.5 in on wood or metal, 3 in on masonry or concrete (R502.6,
// memory; R802.6, document). A ribbon let into studs or an approved hanger serves instead.
func LeastBearing(on Support) (float64, Source, error) {
	s := Source{"R502.6, R802.6", Document}
	switch on {
	case Wood, Metal:
		return 1.5 * nds.Inch, s, nil
	case Masonry, Concrete:
		return 3 * nds.Inch, s, nil
	}
	return 0, s, &nds.Absence{What: "least bearing", Reason: "the code speaks of wood, metal, masonry and concrete, not of " + strconv.Quote(string(on))}
}

// LeastLap is how far joists that lap over a support overlap, mm (R502.6.1, memory).
const LeastLap = 3 * nds.Inch

// Cuts are the limits of notches and holes in sawn joists and rafters, mm. They say nothing about trusses, I-joists
// and laminated members, which are not to be cut but by their maker or designer (R502.8.2, R802.7.2, document).
type Cuts struct {
	NotchDepth  float64 // in the outer thirds of the span; none in the middle third
	NotchLength float64
	EndNotch    float64 // depth at the ends
	TensionSide bool    // whether the tension side may be notched away from the ends
	Hole        float64 // diameter
	HoleClear   float64 // from a hole to the top, the bottom, another hole or a notch
	Source      Source
}

// CutLimits gives the limits for an actual depth, mm, and a nominal thickness in inches (R502.8.1 and R802.7.1,
// document): notch d/6 deep and d/3 long, end notch d/4, hole d/3 and 2 in clear; from 4 in nominal thickness up no
// notch in the tension side except at the ends.
func CutLimits(depth float64, nominalThickness int) Cuts {
	return Cuts{
		NotchDepth: depth / 6, NotchLength: depth / 3, EndNotch: depth / 4, TensionSide: nominalThickness < 4,
		Hole: depth / 3, HoleClear: 2 * nds.Inch, Source: Source{"R502.8.1, R802.7.1", Document},
	}
}

// InMiddleThird tells whether a cut from one place to another, mm from a support, touches the middle third of the span
// (R502.8.1, document).
func InMiddleThird(from, to, span float64) bool {
	return to > span/3*(1+slack) && from < span*2/3*(1-slack)
}

// OverhangNotch tells whether the notch of a rafter over its outer support may stand although deeper than the limit:
// a nominal 4 in (3.5 in) remains and the overhang is at most 24 in; both in mm (R802.7.1 exception, document).
func OverhangNotch(remaining, overhang float64) bool {
	return remaining >= 3.5*nds.Inch*(1-slack) && overhang <= 24*nds.Inch*(1+slack)
}

// Nominal thicknesses in inches of the members at ridge, hip and valley (R802.3, since 2018 R802.4.2, document).
const (
	RidgeBoardThickness = 1
	HipValleyThickness  = 2
)

// CutEnd is the depth of a rafter's plumb cut, mm: the least depth of the ridge board (R802.3, document) and of the hip
// or valley rafter (memory) that it meets. The pitch is in radians, from 0 to below a right angle.
func CutEnd(rafterDepth, pitch float64) float64 { return rafterDepth / math.Cos(pitch) }

// AsBeams tells whether ridge, hips and valleys are to be designed as beams: under 3 in 12 (R802.3, document).
func AsBeams(pitch float64) bool { return math.Tan(pitch) < 3.0/12*(1-slack) }

// Part is a part of the house whose deflection R301.7 limits.
type Part string

// The parts of R301.7.
const (
	BareRafter      Part = "rafter over 3 in 12 without a ceiling on it"
	Floor           Part = "floor"
	BrittleCeiling  Part = "ceiling with a brittle finish"
	FlexibleCeiling Part = "ceiling with a flexible finish"
	Other           Part = "other structural member"
)

// DeflectionLimit is n of the limit span / n under live, snow or wind load (R301.7, memory; 360, 240 and 180 of floors,
// ceilings and rafters also in table titles, document).
func DeflectionLimit(p Part) (float64, error) {
	switch p {
	case BareRafter:
		return 180, nil
	case Floor, BrittleCeiling:
		return 360, nil
	case FlexibleCeiling, Other:
		return 240, nil
	}
	return 0, &nds.Absence{What: "deflection limit", Reason: "R301.7 does not speak of " + strconv.Quote(string(p))}
}

// Place is a place whose live load R301.5 fixes.
type Place string

// The places of R301.5.
const (
	SleepingRoom  Place = "sleeping room"
	OtherRoom     Place = "other room"
	Stairs        Place = "stairs"
	Deck          Place = "deck"
	EmptyAttic    Place = "attic without storage"
	StorageAttic  Place = "attic with limited storage"
	HabitableLoft Place = "habitable attic or attic with a fixed stair"
)

// LiveLoad is the least uniform live load of a place, N/mm2 (R301.5, memory; rooms and attics also in table titles,
// document).
func LiveLoad(p Place) (float64, error) {
	switch p {
	case SleepingRoom, HabitableLoft:
		return 30 * PSF, nil
	case OtherRoom, Stairs, Deck:
		return 40 * PSF, nil
	case EmptyAttic:
		return 10 * PSF, nil
	case StorageAttic:
		return 20 * PSF, nil
	}
	return 0, &nds.Absence{What: "live load", Reason: "R301.5 does not speak of " + strconv.Quote(string(p))}
}

// RoofLiveLoad is the least roof live load on the horizontal projection, N/mm2, for a pitch in radians and the area
// that the member carries, mm2 (R301.6, memory): 20, 16, 12 psf up to 200, up to 600 and over 600 ft2 under 4 in 12;
// 16, 14, 12 under 12 in 12; 12 from there.
func RoofLiveLoad(pitch, area float64) (float64, error) {
	if !(pitch >= 0 && pitch < math.Pi/2) || !(area >= 0) {
		return 0, &nds.Absence{What: "roof live load", Reason: "the pitch must be from level to below upright, the area zero or more"}
	}
	size := 0
	if area > 200*Foot*Foot*(1+slack) {
		size = 1
	}
	if area > 600*Foot*Foot*(1+slack) {
		size = 2
	}
	switch rise := math.Tan(pitch); {
	case rise < 4.0/12*(1-slack):
		return [...]float64{20, 16, 12}[size] * PSF, nil
	case rise < 1-slack:
		return [...]float64{16, 14, 12}[size] * PSF, nil
	}
	return 12 * PSF, nil
}

// LateralSupport is what R802.8 asks of rafters and ceiling joists, by nominal depth over nominal thickness (memory).
type LateralSupport struct {
	AtBearings bool    // held against turning at the supports
	Bridging   float64 // most spacing of bridging or blocking, mm; 0: none is asked for
}

// RoofLateralSupport: over 5, held at the bearings; over 6, bridged at 8 ft or less as well (R802.8, memory).
func RoofLateralSupport(s nds.Section) LateralSupport {
	ratio := float64(s.NominalWidth) / float64(s.NominalThickness)
	l := LateralSupport{AtBearings: ratio > 5}
	if ratio > 6 {
		l.Bridging = 8 * Foot
	}
	return l
}

// FloorLateralSupport: floor joists are held at every support, and bridged at 8 ft or less when deeper than a nominal
// 12 in (R502.7, R502.7.1, memory).
func FloorLateralSupport(s nds.Section) LateralSupport {
	l := LateralSupport{AtBearings: true}
	if s.NominalWidth > 12 {
		l.Bridging = 8 * Foot
	}
	return l
}

// Purlins that shorten the span of rafters: as deep as the rafter, on braces of at least 2x4, unbraced over at most
// 8 ft, at 45 degrees or steeper (R802.4.5, document), at most 4 ft apart (memory).
const (
	MostPurlinBraceLength  = 8 * Foot
	MostPurlinBraceSpacing = 4 * Foot
	LeastPurlinBracePitch  = math.Pi / 4 // radians from the horizontal
)
