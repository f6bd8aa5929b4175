package draft

import (
	"math"

	"example.com/scantling/model"
)

// slope is a pitched plane of rafters on plates: where their axes lie, and how their feet are cut. The heel of every
// foot is cut at the outer face of the plate, and the seat runs inwards from there.
type slope struct {
	pitch float64
	tan   float64
	depth float64 // of the rafters
	width float64 // of the plate
	top   float64 // of the plate
	notch float64 // depth of the birdsmouth, square to the axis
	seat  float64 // length of the seat
	zero  float64 // level of the axis over the centre line of the plate
}

// axis is the level of the rafters' axis so far in from the centre line of the plate.
func (s *slope) axis(in float64) float64 { return s.zero + in*s.tan }

// plumb is the length of a rafter's plumb cut.
func (s *slope) plumb() float64 { return s.upright(s.depth) }

// newSlope seats rafters of a depth on a plate: as deep as a third of the rafter and the width of the plate allow, and
// no deeper than most.
func (b *builder) newSlope(pitch, depth, width, top, most float64) *slope {
	sin, cos := math.Sincos(pitch)
	s := &slope{pitch: pitch, tan: sin / cos, depth: depth, width: width, top: top}
	s.notch = b.down(min(depth/3, width*sin, most))
	s.seat = s.notch / sin
	s.zero = top + (width/2-s.seat)*s.tan + depth/2/cos
	if s.seat < b.usual.least {
		b.wrong("section of rafter", "a cut of a third of "+b.length(depth)+" leaves a seat of "+b.length(max(0, s.seat))+" at this pitch; "+
			b.length(b.usual.least)+" is the least", "give deeper rafters, shallower hips or a flatter pitch")
	}
	return s
}

// foot is the support of a rafter's foot on a plate; the rafter starts so far out from the plate's centre line.
func (b *builder) foot(s *slope, on string, out float64) model.Support {
	f := b.seated(on, min(s.seat, s.width))
	f.Notch = &model.Notch{Depth: model.Given(s.notch), Face: model.Bottom}
	f.Horizontal, f.Capacity = true, b.Clip
	if s.seat < s.width/2 { // the axis crosses the plate's inside of the seat: say where it really sits
		f.At = model.Given(b.snap((out - s.width/2 + s.seat/2) / math.Cos(s.pitch)))
	}
	return f
}

// hip is a hip of a roof of one pitch: in plan it halves the corner, so that it runs √2 for each 1 of the rafters.
type hip struct {
	section *model.Section
	pitch   float64
	notch   float64
	seat    float64
}

// plumb is the length of a hip's plumb cut.
func (h *hip) plumb() float64 { return h.section.Depth / math.Cos(h.pitch) }

// hippedSlope chooses the hips of a roof and seats rafters and hips, so that neither is cut by more than a third.
func (b *builder) hippedSlope(rafter *model.Section) (*slope, *hip) {
	p := b.plateSection()
	cos := math.Cos(b.Pitch)
	h := &hip{pitch: math.Atan(math.Tan(b.Pitch) / math.Sqrt2)}
	cosHip, sinHip := math.Cos(h.pitch), math.Sin(h.pitch)
	h.section = b.section(model.RoleHipRafter, rafter.Depth/cos)
	// The hip's axis lies in the rafters' plane: what it is deeper goes half upwards and half into the plate.
	most := rafter.Depth/2 - h.section.Depth/6*cos/cosHip
	s := b.newSlope(b.Pitch, rafter.Depth, p.Width, b.plateTop(), most)
	h.notch = b.down(h.section.Depth/2 - cosHip*(s.plumb()/2-s.seat*s.tan))
	h.seat = h.notch / sinHip
	return s, h
}

// hipFoot is the support of a hip's foot on the corner of the plates.
func (b *builder) hipFoot(s *slope, h *hip, on string) model.Support {
	f := b.seated(on, min(h.seat, s.width))
	f.Notch = &model.Notch{Depth: model.Given(h.notch), Face: model.Bottom}
	f.Horizontal, f.Capacity = true, b.Clip
	// Where the underside meets the plate's top, measured in from the plates' centre lines.
	if inner := (s.top + h.plumb()/2 - s.zero) / s.tan; inner < 0 {
		f.At = model.Given(b.snap((b.Overhang + (inner-s.width/2)/2) * math.Sqrt2 / math.Cos(h.pitch)))
	}
	return f
}

// upright is a depth square to the slope, measured upright.
func (s *slope) upright(depth float64) float64 { return depth / math.Cos(s.pitch) }
