package us

import (
	"fmt"

	"example.com/scantling/model"
	"example.com/scantling/plugins/us/nds"
)

// lumber is a section as the NDS sees it, or why it is none that this region judges.
func lumber(s *model.Section) (nds.Section, string) {
	switch {
	case s.SteelByDefault:
		return nds.Section{}, noSteel
	case s.UnequalPlies:
		return nds.Section{}, "its plies are unequal; ask the engineer"
	case s.Shape == model.Layered:
		return nds.Section{}, "a sandwich of timber and steel is not covered by this region; ask the engineer"
	case s.Shape != model.Rectangle:
		return nds.Section{}, fmt.Sprintf("%s is no sawn rectangle, and this region judges no other timber", s.Text)
	}
	plies := max(1, s.Plies)
	thickness, width, flat := s.Width, s.Depth, false
	if s.Flat { // the depth is then that of all plies, which lie on each other
		thickness, width, flat = s.Depth/float64(plies), s.Width, true
	} else if plies == 1 && thickness > width {
		thickness, width, flat = width, thickness, true
	}
	out, err := nds.DressedSection(thickness, width, plies)
	if err != nil {
		return nds.Section{}, err.Error()
	}
	out.Flat = flat
	return out, ""
}

// face is the breadth of a section that bears on what is beneath it, mm.
func face(s nds.Section) float64 {
	if s.Flat {
		return s.PlyBreadth()
	}
	return s.Breadth()
}

// cutTo is a section of which a cut leaves so much depth, mm. Factors by size stay those of the whole piece.
func cutTo(s nds.Section, depth float64) nds.Section {
	if s.Flat {
		s.Thickness = depth
	} else {
		s.Width = depth
	}
	return s
}
