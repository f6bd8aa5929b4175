// Package ec3 checks pieces of structural steel against EN 1993-1-1: each check takes forces and gives demand over capacity,
// with the working on request. It must not know where the forces come from, nor any table of sections.
package ec3

import (
	"math"

	"example.com/scantling/plugins/eurocode/working"
)

// Shape is the outline of a section.
type Shape int

// The shapes. RHS holds square ones too.
const (
	NoShape Shape = iota
	ISection
	Channel
	RHS
	CHS
)

// Section is a steel section: its outline in mm, and its properties in mm, mm2, mm3, mm4 and mm6. A property left at 0 is
// worked from the outline by Complete.
type Section struct {
	Shape Shape
	H, B  float64 // depth and breadth; of a CHS the diameter is H
	Tw    float64 // web, or the wall of a hollow section
	Tf    float64 // flange
	R     float64 // root radius of an open section
	Hot   bool    // a hollow section finished hot; else it counts as formed cold

	A          float64
	Iy, Iz     float64
	Wely, Welz float64
	Wply, Wplz float64
	It, Iw     float64
}

// hollow says that the section is closed and does not warp.
func (s *Section) hollow() bool { return s.Shape == RHS || s.Shape == CHS }

// thickest is the thickness in mm that decides the yield strength.
func (s *Section) thickest() float64 { return math.Max(s.Tw, s.Tf) }

// Complete gives the section with every property that was left at 0 worked from its outline: fillets and rounded corners
// counted as the product standards do (EN 10365, EN 10210-2, EN 10219-2). What cannot be is absent.
func (s Section) Complete() (Section, working.Absence) {
	if absent := s.drawn(); absent != "" {
		return s, absent
	}
	var worked Section
	switch s.Shape {
	case ISection:
		worked = s.rolledI()
	case Channel:
		worked = s.channel()
	case RHS:
		worked = s.rectangle()
	case CHS:
		worked = s.circle()
	}
	for _, p := range []struct {
		given  *float64
		worked float64
	}{
		{&s.A, worked.A}, {&s.Iy, worked.Iy}, {&s.Iz, worked.Iz}, {&s.Wely, worked.Wely}, {&s.Welz, worked.Welz},
		{&s.Wply, worked.Wply}, {&s.Wplz, worked.Wplz}, {&s.It, worked.It}, {&s.Iw, worked.Iw},
	} {
		if *p.given == 0 {
			*p.given = p.worked
		}
	}
	return s, ""
}

// drawn is why the outline is no section.
func (s *Section) drawn() working.Absence {
	ok := s.H > 0 && s.Tw > 0 && !math.IsInf(s.H+s.B, 0)
	switch s.Shape {
	case ISection:
		ok = ok && s.R >= 0 && s.Tf > 0 && s.B > s.Tw+2*s.R && s.H > 2*(s.Tf+s.R)
	case Channel:
		ok = ok && s.R >= 0 && s.Tf > 0 && s.B > s.Tw+s.R && s.H > 2*(s.Tf+s.R)
	case RHS:
		ok = ok && s.B > 0 && math.Min(s.H, s.B) > 2*s.corner()
	case CHS:
		ok = ok && s.H > 2*s.Tw
	default:
		return "the shape of the steel section is not known: use the trade notation, or state an I, a channel or a hollow section"
	}
	if !ok {
		return "the sizes of the steel section do not fit one another: look at depth, breadth and thicknesses again"
	}
	return ""
}

// rolledI works a doubly symmetric I section with fillets. The torsion constant is that of El Darwish and Johnston, which
// EN 10365 uses; the warping constant takes the flanges by themselves.
func (s *Section) rolledI() Section {
	h, b, tw, tf, r := s.H, s.B, s.Tw, s.Tf, s.R
	web := h - 2*tf
	fillets := (4 - math.Pi) * r * r
	at := h/2 - tf - fillet.centroid*r       // of a fillet, from the y axis
	across := tw/2 + fillet.centroid*r       // and from the z axis
	own := 4 * fillet.second * r * r * r * r // of the four about axes through their centroids
	w := Section{
		A:    2*b*tf + web*tw + fillets,
		Iy:   (b*h*h*h-(b-tw)*web*web*web)/12 + fillets*at*at + own,
		Iz:   (2*tf*b*b*b+web*tw*tw*tw)/12 + fillets*across*across + own,
		Wply: b*tf*(h-tf) + tw*web*web/4 + fillets*at,
		Wplz: tf*b*b/2 + web*tw*tw/4 + fillets*across,
	}
	w.Wely, w.Welz = 2*w.Iy/h, 2*w.Iz/b
	alpha := -0.042 + 0.2204*tw/tf + 0.1355*r/tf - 0.0865*r*tw/(tf*tf) - 0.0725*tw*tw/(tf*tf)
	d := ((tf+r)*(tf+r) + (r+0.25*tw)*tw) / (2*r + tf)
	w.It = 2.0/3*b*tf*tf*tf + web*tw*tw*tw/3 + 2*alpha*d*d*d*d - 0.42*tf*tf*tf*tf
	w.Iw = tf * b * b * b / 24 * (h - tf) * (h - tf)
	return w
}

// fillet is the spandrel between a square corner and a quarter circle of radius 1: area 1 - pi/4, its centroid from the sides,
// and its second moment about an axis through the centroid parallel to a side.
var fillet = struct{ area, centroid, second float64 }{
	area:     1 - math.Pi/4,
	centroid: (10 - 3*math.Pi) / (12 - 3*math.Pi),
	second:   1.0/3 - math.Pi/16 - 1/(3*(12-3*math.Pi)),
}

// channel works a channel of parallel flanges. The moduli about z are those of the thinner side, the toes.
func (s *Section) channel() Section {
	h, b, tw, tf, r := s.H, s.B, s.Tw, s.Tf, s.R
	web := h - 2*tf
	fillets := 2 * fillet.area * r * r
	at := h/2 - tf - fillet.centroid*r
	from := tw + fillet.centroid*r // of a fillet, from the back
	own := 2 * fillet.second * r * r * r * r
	w := Section{
		A:    2*b*tf + web*tw + fillets,
		Iy:   (b*h*h*h-(b-tw)*web*web*web)/12 + fillets*at*at + own,
		Wply: b*tf*(h-tf) + tw*web*web/4 + fillets*at,
	}
	back := (b*b*tf + web*tw*tw/2 + fillets*from) / w.A // of the centroid, from the back
	w.Iz = (2*tf*b*b*b+web*tw*tw*tw)/3 + fillets*from*from + own - w.A*back*back
	w.Wely, w.Welz = 2*w.Iy/h, w.Iz/(b-back)
	w.Wplz = s.channelPlastic()
	alpha := -0.0908 + 0.2621*tw/tf + 0.1231*r/tf - 0.0752*r*tw/(tf*tf) - 0.0945*tw*tw/(tf*tf)
	d := 2 * ((3*r + tw + tf) - math.Sqrt(2*(2*r+tw)*(2*r+tf)))
	w.It = 2.0/3*b*tf*tf*tf + web*tw*tw*tw/3 + 2*alpha*d*d*d*d - 0.42*tf*tf*tf*tf
	depth, eccentric := h-tf, back-tw/2 // between the flanges' centre lines; of the centroid from the web's
	w.Iw = depth * depth / 4 * (w.Iz - w.A*eccentric*eccentric*(depth*depth*w.A/(4*w.Iy)-1))
	return w
}

// channelPlastic is W_pl,z of a channel without its fillets, which is on the safe side: the first moment of the area about the
// line that halves it.
func (s *Section) channelPlastic() float64 {
	h, b, tw, tf := s.H, s.B, s.Tw, s.Tf
	area := 2*b*tf + (h-2*tf)*tw
	first := func(line float64) float64 { // of what lies beyond the line, and on this side, about it
		if line <= tw {
			return h*line*line/2 + (h-2*tf)*(tw-line)*(tw-line)/2 + tf*(b-line)*(b-line)
		}
		return tf*(b-line)*(b-line) + tf*line*line + (h-2*tf)*tw*(line-tw/2)
	}
	if line := area / 2 / h; line <= tw {
		return first(line)
	}
	return first(b - area/4/tf)
}

// corner is the outer radius of a hollow section's corner in mm: EN 10210-2 hot, EN 10219-2 cold.
func (s *Section) corner() float64 {
	outer, _ := s.corners()
	return outer
}

func (s *Section) corners() (outer, inner float64) {
	t := s.Tw
	switch {
	case s.Hot:
		return 1.5 * t, 1.0 * t
	case t <= 6:
		return 2.0 * t, 1.0 * t
	case t <= 10:
		return 2.5 * t, 1.5 * t
	}
	return 3.0 * t, 2.0 * t
}

// rectangle works a rectangular hollow section by the formulas of EN 10210-2 Annex B and EN 10219-2 Annex B.
func (s *Section) rectangle() Section {
	t := s.Tw
	outer, inner := s.corners()
	iy, wply := hollowAbout(s.H, s.B, t, outer, inner)
	iz, wplz := hollowAbout(s.B, s.H, t, outer, inner)
	w := Section{Iy: iy, Iz: iz, Wply: wply, Wplz: wplz, Wely: 2 * iy / s.H, Welz: 2 * iz / s.B}
	w.A = 2*t*(s.B+s.H-2*t) - (4-math.Pi)*(outer*outer-inner*inner)
	middle := (outer + inner) / 2
	around := 2*((s.B-t)+(s.H-t)) - 2*middle*(4-math.Pi)
	within := (s.B-t)*(s.H-t) - middle*middle*(4-math.Pi)
	w.It = t*t*t*around/3 + 2*(2*within*t/around)*within
	return w
}

// hollowAbout is I and W_pl about the axis square to the depth h.
func hollowAbout(h, b, t, outer, inner float64) (second, plastic float64) {
	second = (b*h*h*h - (b-2*t)*math.Pow(h-2*t, 3)) / 12
	plastic = (b*h*h - (b-2*t)*(h-2*t)*(h-2*t)) / 4
	for _, corner := range []struct{ r, side, sign float64 }{{outer, h / 2, -1}, {inner, h/2 - t, 1}} {
		at := corner.side - fillet.centroid*corner.r
		area := fillet.area * corner.r * corner.r
		second += corner.sign * 4 * (fillet.second*math.Pow(corner.r, 4) + area*at*at)
		plastic += corner.sign * 4 * area * at
	}
	return second, plastic
}

// circle works a circular hollow section.
func (s *Section) circle() Section {
	d, bore := s.H, s.H-2*s.Tw
	second := math.Pi / 64 * (math.Pow(d, 4) - math.Pow(bore, 4))
	plastic := (math.Pow(d, 3) - math.Pow(bore, 3)) / 6
	return Section{A: math.Pi / 4 * (d*d - bore*bore), Iy: second, Iz: second, It: 2 * second,
		Wely: 2 * second / d, Welz: 2 * second / d, Wply: plastic, Wplz: plastic}
}
