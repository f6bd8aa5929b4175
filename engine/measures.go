package engine

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

// measures are a member's size, place, supports and cuts as the document gives them, to six significant digits. Whoever
// accepts a finding accepts it of the member that stands there: these must not change under the sign-off.
func measures(m *model.Member) []finding.Used {
	out := []finding.Used{
		{Name: "path", Value: pointsText(m.Path)},
		{Name: "length, pitch, centres, width", Value: amounts(m.Length, m.Pitch, m.Centres, m.Width)},
		{Name: "repeat", Value: strconv.Itoa(m.Repeat.Count) + " " + pointsText([]model.Point{m.Repeat.Step})},
	}
	if s := m.Section; s != nil {
		out = append(out, finding.Used{Name: "section", Value: fmt.Sprintf("%s %d %s", s.Text, s.Plies,
			digits(s.Width, s.Depth, s.Wall, s.Web, s.Flange, s.Area, s.Iy, s.Iz))})
	}
	for i := range m.Supports {
		s := &m.Supports[i]
		value := s.On + s.Against + " " + amounts(s.At, s.Bearing, s.From, s.To, s.Level)
		if s.Notch != nil {
			value += " notch " + cut(s.Notch)
		}
		if s.Seat != nil {
			value += " seat " + amounts(s.Seat.Along, s.Seat.Across, s.Seat.High)
		}
		out = append(out, finding.Used{Name: "support", Value: value})
	}
	for i := range m.More().Notches {
		out = append(out, finding.Used{Name: "notch", Value: cut(&m.More().Notches[i])})
	}
	for _, h := range m.More().Holes {
		out = append(out, finding.Used{Name: "hole", Value: amounts(h.At, h.Diameter, h.Edge)})
	}
	return out
}

func cut(n *model.Notch) string {
	return n.Face.String() + " " + amounts(n.At, n.Depth, n.Length, n.Slope, n.ToReaction)
}

// pointsText is points to a tenth of a millimetre.
func pointsText(points []model.Point) string {
	parts := make([]string, len(points))
	for i, p := range points {
		parts[i] = fmt.Sprintf("%.1f %.1f %.1f", p.X, p.Y, p.Z)
	}
	return strings.Join(parts, "; ")
}

func amounts(list ...model.Quantity) string {
	parts := make([]string, len(list))
	for i, q := range list {
		parts[i] = "-"
		if q.Known {
			parts[i] = digits(q.Value)
		}
	}
	return strings.Join(parts, " ")
}

// digits are values to six significant digits.
func digits(values ...float64) string {
	parts := make([]string, len(values))
	for i, v := range values {
		parts[i] = strconv.FormatFloat(v, 'g', 6, 64)
	}
	return strings.Join(parts, " ")
}
