package nds

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Section is a dressed piece of dimension lumber, or several of them side by side. Widths and thicknesses are those
// of one ply; Flat lays the wide face level, so that the thickness becomes the depth that bends.
type Section struct {
	Thickness, Width               float64 // dressed, mm
	NominalThickness, NominalWidth int     // inches
	Plies                          int
	Flat                           bool
}

// dressed gives the dressed size in inches of each nominal one, dry (NDS Supplement Table 1A; memory; 2 in and the
// widths to 12 in reproduce the span cells).
var dressed = map[int]float64{2: 1.5, 3: 2.5, 4: 3.5, 5: 4.5, 6: 5.5, 8: 7.25, 10: 9.25, 12: 11.25, 14: 13.25, 16: 15.25}

// maxPlies keeps a slip of the pen from becoming a section.
const maxPlies = 20

// ParseSection reads nominal lumber notation: "2x10", "3/2x10" for three plies. Anything else is an *Absence.
func ParseSection(notation string) (Section, error) {
	plies, size := 1, strings.TrimSpace(notation)
	if head, tail, ok := strings.Cut(size, "/"); ok {
		n, err := strconv.Atoi(head)
		if err != nil || n < 1 || n > maxPlies {
			return Section{}, absent("section "+strconv.Quote(notation), "plies must be a whole number from 1 to %d", maxPlies)
		}
		plies, size = n, tail
	}
	thick, wide, ok := strings.Cut(size, "x")
	t, errT := strconv.Atoi(thick)
	d, errD := strconv.Atoi(wide)
	if !ok || errT != nil || errD != nil {
		return Section{}, absent("section "+strconv.Quote(notation), "write nominal inches, thickness x width, such as 2x10 or 2/2x10")
	}
	return NominalSection(t, d, plies)
}

// NominalSection gives the section of a nominal size in inches.
func NominalSection(thickness, width, plies int) (Section, error) {
	what := fmt.Sprintf("section %dx%d", thickness, width)
	if thickness < 2 || thickness > 4 {
		return Section{}, absent(what, "only dimension lumber is held, 2 to 4 in nominal thickness (NDS Supplement Tables 4A, 4B)")
	}
	if _, ok := dressed[width]; !ok || width < thickness {
		return Section{}, absent(what, "no such nominal width; known are 2, 3, 4, 5, 6, 8, 10, 12, 14 and 16 in, not below the thickness")
	}
	if plies < 1 || plies > maxPlies {
		return Section{}, absent(what, "plies must be from 1 to %d", maxPlies)
	}
	return Section{
		Thickness: dressed[thickness] * Inch, Width: dressed[width] * Inch,
		NominalThickness: thickness, NominalWidth: width, Plies: plies,
	}, nil
}

// DressedSection finds the nominal size whose dressed thickness and width are given in mm, within half a millimetre.
// A ripped or planed piece has no grade of its own and is an *Absence.
func DressedSection(thickness, width float64, plies int) (Section, error) {
	t, d := nominal(thickness), nominal(width)
	if t == 0 || d == 0 {
		return Section{}, absent(fmt.Sprintf("section %.1fx%.1f mm", thickness, width),
			"not a dressed size of dimension lumber, 2 to 4 in nominal thickness; a ripped or planed piece must be graded again")
	}
	return NominalSection(t, d, plies)
}

func nominal(mm float64) int {
	for n, inches := range dressed {
		if math.Abs(mm-inches*Inch) <= 0.5 {
			return n
		}
	}
	return 0
}

// String writes the section as it is read.
func (s Section) String() string {
	size := fmt.Sprintf("%dx%d", s.NominalThickness, s.NominalWidth)
	if s.Plies > 1 {
		size = fmt.Sprintf("%d/%s", s.Plies, size)
	}
	return size
}

// Depth is the size in the direction of the load, mm.
func (s Section) Depth() float64 {
	if s.Flat {
		return s.Thickness
	}
	return s.Width
}

// PlyBreadth is the breadth of one ply, mm; Breadth that of all plies.
func (s Section) PlyBreadth() float64 {
	if s.Flat {
		return s.Width
	}
	return s.Thickness
}

// Breadth is the breadth of all plies together, mm.
func (s Section) Breadth() float64 { return float64(s.Plies) * s.PlyBreadth() }

// Area is the gross area of all plies, mm2.
func (s Section) Area() float64 { return s.Breadth() * s.Depth() }

// Modulus is the section modulus of all plies for bending along the depth, mm3.
func (s Section) Modulus() float64 { return s.Breadth() * s.Depth() * s.Depth() / 6 }

// Inertia is the second moment of area of all plies for bending along the depth, mm4.
func (s Section) Inertia() float64 { return s.Modulus() * s.Depth() / 2 }

// sideModulus is the section modulus for bending along the breadth, mm3; plies bend each for itself.
func (s Section) sideModulus() float64 { return s.Area() * s.PlyBreadth() / 6 }
