package model

// Shape is the form of a cross-section.
type Shape uint8

// The forms that section notation can describe.
const (
	Rectangle Shape = iota
	SquareHollow
	RectangularHollow
	CircularHollow
	ISection // UB, UC, W
	Channel
	Layered    // timber and steel plates side by side
	Properties // given by numbers only
)

// Section is a cross-section in place: axis y is level (bending in the vertical plane), z is upright. Lengths in mm;
// a property that is 0 is not known.
type Section struct {
	Text   string // as the document writes it
	Shape  Shape
	Width  float64 // of one ply, or overall width; level, mm
	Depth  float64 // upright, mm
	Plies  int     // at least 1
	Wall   float64 // wall thickness of a hollow section, mm
	Web    float64 // mm
	Flange float64 // mm
	Root   float64 // root radius, or outer corner radius of a hollow section, mm
	Flat   bool    // laid down: Width and Depth are already exchanged
	Finish string  // "hot" or "cold", of a hollow section; empty: not said

	Area           float64 // mm2
	Iy, Iz         float64 // mm4
	Wy, Wz         float64 // elastic, mm3
	Wply, Wplz     float64 // plastic, mm3
	It             float64 // torsion constant, mm4
	Iw             float64 // warping constant, mm6
	Mass           float64 // kg/mm, where the section itself fixes it (steel); 0: area times the grade's density
	Layers         []Layer
	Bolts          string // what holds the layers together, as the document writes it
	Nominal        string // the nominal name it was called by, where that differs from its size
	UnequalPlies   bool   // an object gave plies of different size
	SteelByDefault bool   // a rolled or hollow section: a bare grade is looked up among steels
}

// Layer is one vertical layer of a sandwich.
type Layer struct {
	Width, Depth float64 // mm
	Grade        string
}

// Words is the section in trade notation, as the document writes it, with "flat" where it lies on its side; empty of none.
func (s *Section) Words() string {
	switch {
	case s == nil:
		return ""
	case s.Flat:
		return s.Text + " flat"
	}
	return s.Text
}

// Breadth is the width of all plies together, mm. Plies that are laid down lie on each other.
func (s *Section) Breadth() float64 {
	if s.Plies > 1 && !s.Flat {
		return s.Width * float64(s.Plies)
	}
	return s.Width
}
