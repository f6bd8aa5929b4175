package engine

import (
	"math"
	"slices"

	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
)

// Swap is a document with an option in a member's place, as Size tries it:
//
//   - The underside stays on its seats, so that the axis rises with the depth. A member that hangs from all its supports
//     keeps its top instead, and one that stands upright, or has no path, keeps its axis.
//   - Where the centres change, the first and the last piece stay where they are, and as few pieces stand evenly between
//     them as keep the spacing within what was asked. Strips of areas change with the spacing.
func Swap(doc *model.Document, mark string, o sizing.Option) (*model.Document, error) {
	i := doc.Index(mark)
	if i < 0 {
		return nil, UnknownMember(doc, mark)
	}
	out := *doc
	out.Members = slices.Clone(doc.Members)
	m := &out.Members[i]
	section := m.Section
	if o.Section != m.Section.Words() {
		parsed, err := model.ParseSection(trimFlat(o.Section), doc.Units)
		if err != nil {
			return nil, err
		}
		section = inPlaceOf(m.Section, parsed)
	}
	*m = swapped(m, section, o.Grade, o.Centres.Value)
	return &out, nil
}

// sameCentres is by how much two spacings may differ and still be one, mm.
const sameCentres = 0.5

func trimFlat(text string) string {
	if len(text) > 5 && text[len(text)-5:] == " flat" {
		return text[:len(text)-5]
	}
	return text
}

// inPlaceOf lays a section down, and gives it the finish, as the one that it replaces has them.
func inPlaceOf(old, section *model.Section) *model.Section {
	if old.Flat {
		section = model.Flat(section)
	}
	if section.Finish == "" && old.Finish != "" {
		if finished, err := model.Finished(section, old.Finish); err == nil {
			section = finished
		}
	}
	return section
}

// swapped is a member with another section, grade and spacing.
func swapped(old *model.Member, section *model.Section, grade string, centres float64) model.Member {
	m := *old
	m.Section, m.Grade = section, grade
	m.Path = shiftedAxis(old, section.Depth-old.Section.Depth)
	if centres > 0 && old.Repeat.Count > 1 && math.Abs(centres-old.Centres.Value) > sameCentres {
		gaps := old.Repeat.Count - 1
		needed := max(1, int(math.Ceil(float64(gaps)*old.Centres.Value/centres-1e-6)))
		part := float64(gaps) / float64(needed)
		step := old.Repeat.Step
		m.Repeat = model.Repeat{Count: needed + 1, Step: model.Point{X: step.X * part, Y: step.Y * part, Z: step.Z * part}}
		m.Centres = model.Given(old.Centres.Value * part)
		m.Carries = slices.Clone(old.Carries)
		for i := range m.Carries {
			if w := &m.Carries[i].Width; w.Known {
				w.Value *= part
			}
		}
	}
	return m
}

// shiftedAxis is the member's path when its depth grows by so much.
func shiftedAxis(m *model.Member, deeper float64) []model.Point {
	if deeper == 0 || len(m.Path) < 2 {
		return m.Path
	}
	first, last := m.Path[0], m.Path[len(m.Path)-1]
	run := math.Hypot(last.X-first.X, last.Y-first.Y)
	if run < 1 {
		return m.Path
	}
	rise := deeper / 2 * math.Hypot(run, last.Z-first.Z) / run // of an axis that slopes, measured upright
	if hangs(m) {
		rise = -rise
	}
	path := slices.Clone(m.Path)
	for i := range path {
		path[i].Z += rise
	}
	return path
}

// hangs says whether a member hangs from all its supports.
func hangs(m *model.Member) bool {
	return len(m.Supports) > 0 && !slices.ContainsFunc(m.Supports, func(s model.Support) bool { return s.By != "hanger" })
}

// spacings are the centres that are tried: those that houses commonly have, and the member's own. They stay as they are
// where something depends on where the pieces stand.
func (z *sizer) spacings() []float64 {
	m := &z.place
	own := []float64{m.Centres.Value}
	f := z.base.Down.Frame
	from, to := f.PiecesOf(int32(z.member))
	switch {
	case m.Repeat.Count < 2 || !m.Centres.Known:
		return own
	case len(m.Loads) > 0:
		z.kept = "it has loads of its own, which are stated for each piece"
	case len(m.Ties) > 0 || f.CoupleOf(from) != nil:
		z.kept = "its pieces are paired with others"
	}
	for p := from; p < to && z.kept == ""; p++ {
		if len(f.LandingsOn(p)) > 0 {
			z.kept = "others rest on its pieces"
		}
	}
	for i := range f.Couples {
		for _, tie := range f.Couples[i].Ties {
			if tie.Piece >= from && tie.Piece < to {
				z.kept = "its pieces tie rafters"
			}
		}
	}
	if z.kept != "" {
		return own
	}
	common := []float64{300, 400, 450, 600} // common practice, no source
	if z.base.Source.Document.Units == model.US {
		common = []float64{12 * 25.4, 16 * 25.4, 19.2 * 25.4, 24 * 25.4}
	}
	out := own
	counts := []int{m.Pieces()}
	for _, c := range common {
		if n := swapped(m, m.Section, m.Grade, c).Repeat.Count; !slices.Contains(counts, n) {
			out, counts = append(out, c), append(counts, n)
		}
	}
	return out
}

// double is a section of twice the width and depth.
func double(s *model.Section) *model.Section {
	d := *s
	d.Text = "twice " + s.Text
	for _, p := range []*float64{&d.Width, &d.Depth, &d.Wall, &d.Web, &d.Flange, &d.Root} {
		*p *= 2
	}
	for _, p := range []*float64{&d.Area, &d.Mass} {
		*p *= 4
	}
	for _, p := range []*float64{&d.Wy, &d.Wz, &d.Wply, &d.Wplz} {
		*p *= 8
	}
	for _, p := range []*float64{&d.Iy, &d.Iz, &d.It} {
		*p *= 16
	}
	d.Iw *= 64
	return &d
}
