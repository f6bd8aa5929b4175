package model

import (
	"fmt"
	"math"
	"strconv"
)

// steelDensity is 7850 kg/m3 in kg/mm3 (EN 1991-1-1 Table A.4 gives 77 to 78.5 kN/m3; section tables use 7850).
const steelDensity = 7850e-9

// NewRectangle is a solid rectangle of so many equal plies side by side, mm. Plies share the load upright; about the
// upright axis their stiffnesses add up singly, for no joint between them is assumed.
func NewRectangle(width, depth float64, plies int) *Section {
	s := &Section{
		Shape: Rectangle, Width: width, Depth: depth, Plies: 1,
		Area: width * depth,
		Iy:   width * cube(depth) / 12, Iz: depth * cube(width) / 12,
		Wy: width * square(depth) / 6, Wz: depth * square(width) / 6,
		Wply: width * square(depth) / 4, Wplz: depth * square(width) / 4,
		It: rectangleTorsion(width, depth),
	}
	s.multiply(plies)
	return s
}

// NewLayered is a sandwich of vertical layers bolted together. Its stiffness and weight depend on the layers'
// grades, so that its own properties stay unknown.
func NewLayered(layers []Layer) *Section {
	s := &Section{Shape: Layered, Plies: 1, Layers: layers}
	for i, l := range layers {
		s.Width += l.Width
		s.Depth = max(s.Depth, l.Depth)
		for _, k := range layers[:i] {
			if k.Grade == l.Grade && (k.Width != l.Width || k.Depth != l.Depth) {
				s.UnequalPlies = true
			}
		}
	}
	return s
}

// Flat is the section laid down: turned by a quarter, so that width and depth are exchanged. Depth then is that of
// all plies, which lie on each other and still bend singly.
func Flat(s *Section) *Section {
	f := *s
	f.Flat = !s.Flat
	if s.Flat {
		f.Width, f.Depth = s.Depth/float64(max(1, s.Plies)), s.Width
	} else {
		f.Width, f.Depth = s.Depth, s.Breadth()
	}
	f.Iy, f.Iz = s.Iz, s.Iy
	f.Wy, f.Wz = s.Wz, s.Wy
	f.Wply, f.Wplz = s.Wplz, s.Wply
	return &f
}

// Finished is a hollow section of the other finish: "hot" (EN 10210) or "cold" (EN 10219), whose corners differ.
// An error is a *TextError.
func Finished(s *Section, finish string) (*Section, error) {
	switch s.Shape {
	case SquareHollow, RectangularHollow, CircularHollow:
	default:
		return nil, &TextError{fmt.Sprintf("%q is not a hollow section, so that it has no finish", s.Text), "leave the finish out"}
	}
	if finish != "hot" && finish != "cold" {
		return nil, &TextError{fmt.Sprintf("%q is no finish", finish), `write "hot" or "cold"`}
	}
	if s.Shape == CircularHollow {
		f := *s
		f.Finish = finish
		return &f, nil
	}
	f, err := hollow(s.Text, s.Depth, s.Width, s.Wall, finish)
	if err != nil {
		return nil, err
	}
	f.Text = s.Text
	f.multiply(s.Plies)
	return f, nil
}

// multiply puts n equal plies side by side. Everything adds up singly.
func (s *Section) multiply(n int) {
	n = max(1, n)
	s.Plies = n
	for _, p := range []*float64{&s.Area, &s.Iy, &s.Iz, &s.Wy, &s.Wz, &s.Wply, &s.Wplz, &s.It, &s.Iw, &s.Mass} {
		*p *= float64(n)
	}
}

// rectangleTorsion is Saint-Venant's constant of a solid rectangle (the usual two-term formula, within 0.5 %).
func rectangleTorsion(width, depth float64) float64 {
	long, short := max(width, depth), min(width, depth)
	ratio := short / long
	return long * cube(short) * (1.0/3 - 0.21*ratio*(1-ratio*ratio*ratio*ratio/12))
}

// corner is what a square corner has more than a rounded one of radius r: its area, the distance of its centroid
// from the sides, and its second moment about that centroid (EN 10219-2 Annex B, A_xi, h_xi, I_xi).
func corner(r float64) (area, distance, inertia float64) {
	return (1 - math.Pi/4) * square(r), (10 - 3*math.Pi) / (12 - 3*math.Pi) * r, (1.0/3 - math.Pi/16 - 1/(3*(12-3*math.Pi))) * square(square(r))
}

// hollow is a square or rectangular hollow section by EN 10219-2 Annex B (cold) or EN 10210-2 Annex B (hot). Where the
// finish is not said its size is that of the tables that the notation is known from, which are hot finished; a cold formed
// one holds up to a tenth less, so packs ask which it is, and regions take the buckling curve of cold formed ones.
func hollow(text string, depth, width, wall float64, finish string) (*Section, error) {
	if err := withinSides(text, depth, width, wall); err != nil {
		return nil, err
	}
	outer, inner := cornerRadii(wall, finish)
	if 2*outer > min(depth, width) || 2*(wall+inner) > min(depth, width) {
		return nil, &TextError{fmt.Sprintf("%q has a wall too thick for its sides", text), "write depth x width x wall, mm"}
	}
	shape := RectangularHollow
	if depth == width {
		shape = SquareHollow
	}
	s := &Section{Shape: shape, Width: width, Depth: depth, Plies: 1, Wall: wall, Root: outer, Finish: finish, SteelByDefault: true}
	outerArea, _, _ := corner(outer)
	innerArea, _, _ := corner(inner)
	s.Area = 2*wall*(width+depth-2*wall) - 4*outerArea + 4*innerArea
	s.Iy, s.Wply = hollowBending(depth, width, wall, outer, inner)
	s.Iz, s.Wplz = hollowBending(width, depth, wall, outer, inner)
	s.Wy, s.Wz = 2*s.Iy/depth, 2*s.Iz/width
	mean := (outer + inner) / 2
	perimeter := 2*(width-wall+depth-wall) - 2*mean*(4-math.Pi)
	enclosed := (width-wall)*(depth-wall) - square(mean)*(4-math.Pi)
	s.It = cube(wall)*perimeter/3 + 4*square(enclosed)*wall/perimeter
	s.Mass = s.Area * steelDensity
	if finish != "cold" {
		kind := " RHS"
		if shape == SquareHollow {
			kind = " SHS"
		}
		if row, printed := hollowRows()[trimmed(depth)+"x"+trimmed(width)+"x"+trimmed(wall)+kind]; printed {
			row.print(s)
		}
	}
	return s, nil
}

func trimmed(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// cornerRadii are the outer and inner radii for calculation, mm (EN 10219-2, EN 10210-2).
func cornerRadii(wall float64, finish string) (outer, inner float64) {
	switch {
	case finish != "cold":
		return 1.5 * wall, wall
	case wall <= 6:
		return 2 * wall, wall
	case wall <= 10:
		return 2.5 * wall, 1.5 * wall
	}
	return 3 * wall, 2 * wall
}

// hollowBending is the second moment and the plastic modulus of a hollow section that is h high and b wide.
func hollowBending(h, b, wall, outer, inner float64) (second, plastic float64) {
	hi, bi := h-2*wall, b-2*wall
	second = b*cube(h)/12 - bi*cube(hi)/12
	plastic = b*square(h)/4 - bi*square(hi)/4
	for _, c := range []struct{ radius, half, sign float64 }{{outer, h / 2, -1}, {inner, hi / 2, 1}} {
		area, distance, own := corner(c.radius)
		second += c.sign * 4 * (own + area*square(c.half-distance))
		plastic += c.sign * 4 * area * (c.half - distance)
	}
	return second, plastic
}

// tube is a circular hollow section.
func tube(text string, diameter, wall float64) (*Section, error) {
	if err := withinSides(text, diameter, wall); err != nil {
		return nil, err
	}
	if 2*wall >= diameter {
		return nil, &TextError{fmt.Sprintf("%q has a wall too thick for its diameter", text), "write diameter x wall, mm"}
	}
	inside := diameter - 2*wall
	s := &Section{Shape: CircularHollow, Width: diameter, Depth: diameter, Plies: 1, Wall: wall, SteelByDefault: true}
	s.Area = math.Pi / 4 * (square(diameter) - square(inside))
	s.Iy = math.Pi / 64 * (square(square(diameter)) - square(square(inside)))
	s.Iz, s.It = s.Iy, 2*s.Iy
	s.Wy = 2 * s.Iy / diameter
	s.Wz = s.Wy
	s.Wply = (cube(diameter) - cube(inside)) / 6
	s.Wplz = s.Wply
	s.Mass = s.Area * steelDensity
	return s, nil
}

// iSection is a doubly symmetric rolled section with root fillets, from its sizes in mm.
func iSection(h, b, web, flange, root float64) *Section {
	s := &Section{Shape: ISection, Width: b, Depth: h, Plies: 1, Web: web, Flange: flange, Root: root, SteelByDefault: true}
	fillet, distance, own := corner(root)
	hi := h - 2*flange
	s.Area = 2*b*flange + hi*web + 4*fillet
	s.Iy = (b*cube(h)-(b-web)*cube(hi))/12 + 4*(own+fillet*square(hi/2-distance))
	s.Iz = (2*flange*cube(b)+hi*cube(web))/12 + 4*(own+fillet*square(web/2+distance))
	s.Wy, s.Wz = 2*s.Iy/h, 2*s.Iz/b
	s.Wply = b*flange*(h-flange) + web*square(hi)/4 + 4*fillet*(hi/2-distance)
	s.Wplz = flange*square(b)/2 + hi*square(web)/4 + 4*fillet*(web/2+distance)
	// Torsion: El Darwish and Johnston 1965, as section tables print it (memory).
	junction := -0.042 + 0.2204*web/flange + 0.1355*root/flange - 0.0865*web*root/square(flange) - 0.0725*square(web/flange)
	circle := (square(flange+root) + (root+web/4)*web) / (2*root + flange)
	s.It = 2*b*cube(flange)/3 + hi*cube(web)/3 + 2*junction*square(square(circle)) - 0.42*square(square(flange))
	s.Iw = s.Iz * square(h-flange) / 4
	s.Mass = s.Area * steelDensity
	return s
}

// channel is a rolled section with parallel flanges and root fillets, from its sizes in mm. Wz is the smaller of the
// two, at the flange tips.
func channel(h, b, web, flange, root float64) *Section {
	s := &Section{Shape: Channel, Width: b, Depth: h, Plies: 1, Web: web, Flange: flange, Root: root, SteelByDefault: true}
	fillet, distance, own := corner(root)
	hi := h - 2*flange
	s.Area = 2*b*flange + hi*web + 2*fillet
	s.Iy = (b*cube(h)-(b-web)*cube(hi))/12 + 2*(own+fillet*square(hi/2-distance))
	s.Wy = 2 * s.Iy / h
	s.Wply = b*flange*(h-flange) + web*square(hi)/4 + 2*fillet*(hi/2-distance)
	centroid := (2*b*flange*b/2 + hi*web*web/2 + 2*fillet*(web+distance)) / s.Area // from the web's back
	s.Iz = 2*flange*b*(square(b)/12+square(b/2-centroid)) + hi*web*(square(web)/12+square(web/2-centroid)) +
		2*(own+fillet*square(web+distance-centroid))
	s.Wz = s.Iz / (b - centroid)
	s.Wplz = channelPlastic(s.Area, centroid, h, b, web, flange)
	junction := -0.0908 + 0.2621*web/flange + 0.1231*root/flange - 0.0752*web*root/square(flange) - 0.0945*square(web/flange)
	circle := 2 * (3*root + web + flange - math.Sqrt(2*(2*root+web)*(2*root+flange)))
	s.It = 2*b*cube(flange)/3 + hi*cube(web)/3 + 2*junction*square(square(circle)) - 0.42*square(square(flange))
	lever := square(h - flange)
	s.Iw = lever / 4 * (s.Iz - s.Area*square(centroid-web/2)*(lever*s.Area/(4*s.Iy)-1))
	s.Mass = s.Area * steelDensity
	return s
}

// channelPlastic is the plastic modulus about the upright axis that halves the area: it lies in the web, or else in
// the flanges beyond the fillets.
func channelPlastic(area, centroid, h, b, web, flange float64) float64 {
	if axis := area / (2 * h); axis <= web {
		return area*(centroid-axis) + h*square(axis)
	}
	axis := b - area/(4*flange)
	return area*(axis-centroid) + 2*flange*square(b-axis)
}

func square(v float64) float64 { return v * v }
func cube(v float64) float64   { return v * v * v }
