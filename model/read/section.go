package read

import (
	"fmt"

	"example.com/scantling/model"
)

// sectionKey tells equal sections of a document apart from others, so that they share one value. Text is that of
// notation which a member turns or finishes in its own way.
type sectionKey struct {
	text   string
	given  givenSection
	flat   bool
	finish string
}

// givenSection is a section that an object gives by numbers.
type givenSection struct {
	Width, Depth                   float64
	Plies                          int
	Area, Iy, Iz, Wy, Wz, Wply, It float64
	Mass                           float64
	Nominal, Bolts                 string
}

// sectionDraft is a section's object as it is read.
type sectionDraft struct {
	givenSection
	Layers []model.Layer
}

var layerTable = tableOf("layer", "One vertical layer of a sandwich of timbers and plates.", nil,
	must(in("width", "thickness of the layer, level", func(l *model.Layer) *float64 { return &l.Width }, side.bare())),
	must(in("depth", "depth of the layer, upright", func(l *model.Layer) *float64 { return &l.Depth }, side.bare())),
	in("grade", "grade of the layer; absent: that of the member", func(l *model.Layer) *string { return &l.Grade }, name),
)

var sectionTable = tableOf("section", "A section given by its sides, by its properties, or by its layers.", checkSection,
	in("width", "width of one ply, level", func(s *sectionDraft) *float64 { return &s.Width }, side.bare()),
	in("depth", "depth, upright", func(s *sectionDraft) *float64 { return &s.Depth }, side.bare()),
	in("plies", "number of equal plies side by side", func(s *sectionDraft) *int { return &s.Plies }, whole(1, 20)),
	in("nominal", "the nominal size that it is called by", func(s *sectionDraft) *string { return &s.Nominal }, words),
	in("area", "area of the whole section", func(s *sectionDraft) *float64 { return &s.Area }, surface.bare()),
	in("iy", "second moment of area for bending in the vertical plane", func(s *sectionDraft) *float64 { return &s.Iy }, inertia.bare()),
	in("iz", "second moment of area for bending sideways", func(s *sectionDraft) *float64 { return &s.Iz }, inertia.bare()),
	in("wy", "elastic section modulus for bending in the vertical plane", func(s *sectionDraft) *float64 { return &s.Wy }, modulus.bare()),
	in("wz", "elastic section modulus for bending sideways", func(s *sectionDraft) *float64 { return &s.Wz }, modulus.bare()),
	in("wply", "plastic section modulus for bending in the vertical plane", func(s *sectionDraft) *float64 { return &s.Wply }, modulus.bare()),
	in("it", "torsion constant", func(s *sectionDraft) *float64 { return &s.It }, inertia.bare()),
	in("mass", "mass per length", func(s *sectionDraft) *float64 { return &s.Mass }, lineMass.bare()),
	in("layers", "vertical layers from one side to the other", func(s *sectionDraft) *[]model.Layer { return &s.Layers },
		list(own[model.Layer], layerTable.object(nil), false)),
	in("bolts", "what holds the layers together", func(s *sectionDraft) *string { return &s.Bolts }, words),
)

// checkSection holds the three ways to give a section apart.
func checkSection(r *reader, s *sectionDraft, seen said[sectionDraft]) {
	rectangle := seen.has("width") && seen.has("depth")
	switch {
	case seen.has("layers"):
		if len(s.Layers) == 0 {
			r.problem(seen.offset, "this section has no layers", `write "layers": [{"width": 47, "depth": 195}, ...]`)
		}
		if !seen.only("layers", "bolts", "nominal") {
			r.problem(seen.offset, "a section with layers has its sides in them", "take the other keys out")
		}
	case seen.has("bolts"):
		r.problem(seen.offset, "bolts belong to a section with layers", `write "layers", or take "bolts" out`)
	case !rectangle && !seen.has("area") && !seen.has("iy"):
		r.problem(seen.offset, "this section says no size", `write "width" and "depth", or "area" and "iy", or "layers"`)
	}
}

// section builds what the object gives.
func (s *sectionDraft) section(units model.Units) *model.Section {
	g := s.givenSection
	var built *model.Section
	switch {
	case len(s.Layers) > 0:
		built = model.NewLayered(s.Layers)
		built.Text, built.Bolts = "layers", g.Bolts
	case g.Area+g.Iy+g.Iz+g.Wy+g.Wz+g.Wply+g.It+g.Mass > 0:
		built = &model.Section{Text: "given by properties", Shape: model.Properties, Width: g.Width, Depth: g.Depth, Plies: max(1, g.Plies),
			Area: g.Area, Iy: g.Iy, Iz: g.Iz, Wy: g.Wy, Wz: g.Wz, Wply: g.Wply, It: g.It, Mass: g.Mass}
	default:
		built = model.NewRectangle(g.Width, g.Depth, g.Plies)
		built.Text = rectangleText(built, units)
	}
	built.Nominal = g.Nominal
	return built
}

// rectangleText is the notation of a rectangle.
func rectangleText(s *model.Section, units model.Units) string {
	unit, size := "", 1.0
	if units == model.US {
		unit, size = " in", model.MeasureLength.Size(units)
	}
	text := printNumber(s.Width/size) + "x" + printNumber(s.Depth/size) + unit
	if s.Plies > 1 {
		text = fmt.Sprintf("%d/%s", s.Plies, text)
	}
	return text
}

// draftOf is the object that gives a section.
func draftOf(s *model.Section) *sectionDraft {
	d := &sectionDraft{Layers: s.Layers}
	d.Nominal, d.Bolts = s.Nominal, s.Bolts
	switch s.Shape {
	case model.Layered:
		return d
	case model.Properties:
		d.Area, d.Iy, d.Iz, d.Wy, d.Wz, d.Wply, d.It, d.Mass = s.Area, s.Iy, s.Iz, s.Wy, s.Wz, s.Wply, s.It, s.Mass
	}
	d.Width, d.Depth = s.Width, s.Depth
	if s.Plies > 1 {
		d.Plies = s.Plies
	}
	return d
}

// readSection reads notation or an object; equal sections come out as one.
func readSection(r *reader, to **model.Section) {
	switch r.peek() {
	case '"':
		raw, offset, ok := r.text("", "")
		if !ok {
			return
		}
		s, err := r.section(r.intern(raw))
		if err != nil {
			r.textProblem(offset, err)
			return
		}
		*to = s
	case '{':
		var d sectionDraft
		before := r.noted()
		sectionTable.read(r, &d)
		if r.noted() > before {
			return
		}
		key := sectionKey{given: d.givenSection}
		if shared, known := r.sections[key]; known && len(d.Layers) == 0 {
			*to = shared
			return
		}
		*to = d.section(r.units)
		if len(d.Layers) == 0 {
			r.sections[key] = *to
		}
	default:
		r.wrongKind("a section", `"47x195"`)
	}
}

// section is the one copy of a section in notation.
func (r *reader) section(text string) (*model.Section, error) {
	if s, known := r.notations[text]; known {
		return s, nil
	}
	s, err := model.ParseSection(text, r.units)
	if err == nil {
		r.notations[text] = s
	}
	return s, err
}

// placed is the section as the member uses it: of another finish, or laid down.
func (r *reader) placed(s *model.Section, flat bool, finish string) (*model.Section, error) {
	key := sectionKey{text: s.Text, given: draftOf(s).givenSection, flat: flat, finish: finish}
	if shared, known := r.sections[key]; known && s.Shape != model.Layered {
		return shared, nil
	}
	used := s
	if finish != "" {
		var err error
		if used, err = model.Finished(s, finish); err != nil {
			return nil, err
		}
	}
	if flat {
		used = model.Flat(used)
	}
	r.sections[key] = used
	return used, nil
}

// writeSection writes notation where reading it gives the same section, and an object otherwise.
func writeSection(w *writer, s *model.Section) {
	if s.Flat {
		s = model.Flat(s)
	}
	if read, err := model.ParseSection(s.Text, w.units); err == nil && sameSides(read, s) {
		w.string(s.Text)
		return
	}
	sectionTable.write(w, draftOf(s))
}

func sameSides(a, b *model.Section) bool {
	return a.Shape == b.Shape && a.Width == b.Width && a.Depth == b.Depth && a.Plies == b.Plies && a.Wall == b.Wall && a.Nominal == b.Nominal && a.Area > 0
}
