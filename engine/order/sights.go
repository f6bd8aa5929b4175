package order

import (
	"fmt"
	"slices"
	"strings"

	"example.com/scantling/model"
)

// sights is what to look at on a member before it is hidden, each as the document states it: its bearings, fixings,
// cuts, straps, joints, plies and protection, and what is fixed to it.
func (w *planner) sights(member int32) []string {
	m := &w.doc.Members[member]
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if m.Section != nil {
		add("size and grade: %s", strings.TrimSpace(m.Section.Text+" "+m.Grade))
	}
	for i := range m.Supports {
		out = append(out, w.held(&m.Supports[i])...)
	}
	for i := range m.Ties {
		add("lap with %s%s", m.Ties[i].On, by(m.Ties[i].Capacity))
	}
	d := m.More()
	if d.PliesJoined != "" {
		add("plies: %s", d.PliesJoined)
	}
	if d.EndFixing != "" {
		add("fixing at its ends: %s", d.EndFixing)
	}
	if d.Weld != "" {
		add("joint at its crank or splice: %s", d.Weld)
	}
	for _, j := range d.Joints {
		add("%s", strings.TrimSuffix(strings.TrimSpace(j.Kind+" joint")+w.at(j.At)+": "+j.Detail, ": "))
	}
	for _, s := range d.Straps {
		text := strings.TrimSpace(s.Kind + " straps")
		if s.To != "" {
			text += " to " + s.To
		}
		if s.Size != "" {
			text += ": " + s.Size
		}
		if s.Centres.Known {
			text += ", at " + w.length(s.Centres) + " centres"
		}
		out = append(out, text)
	}
	for _, b := range d.Blocking {
		add("%s%s", blocking[b.Kind], w.at(b.At))
	}
	if d.Packer.Known {
		add("packing of %s under its ends", w.length(d.Packer))
	}
	if n := len(d.Notches) + len(d.Holes); n > 0 {
		add("%s where stated, and no others", cuts(n))
	}
	for _, p := range []struct{ what, said string }{
		{"treatment, also of cut ends", d.Treated}, {"fire protection", d.Fire}, {"corrosion protection", d.Corrosion},
	} {
		if p.said != "" {
			add("%s: %s", p.what, p.said)
		}
	}
	return append(out, w.fixedTo(member)...)
}

// held is how one support holds: the fixing or the bearing, what lies between, and the cut.
func (w *planner) held(s *model.Support) []string {
	if s.Against != "" {
		return []string{"head tight against " + s.Against}
	}
	on := s.On + by(s.Capacity)
	text := ""
	switch s.By {
	case "hanger":
		text = "hanger on " + on + ", every fixing in"
	case "bolted":
		text = "bolts to " + on + ", with washers and tight"
	case "welded":
		text = "welds to " + on
	case "nailed":
		text = "nails to " + on
	}
	if text == "" || s.Bearing.Known && s.By != "hanger" {
		bearing := "bearing on " + s.On
		switch {
		case s.Continuous:
			bearing = "bed on " + s.On + " along its whole length"
		case s.Bearing.Known:
			bearing += ": " + w.length(s.Bearing)
		default:
			bearing += ": its length is not stated, measure it"
		}
		text = strings.TrimSuffix(bearing+"; "+text, "; ")
		if s.By == "seat" || s.By == "" {
			text += by(s.Capacity)
		}
	}
	out := []string{text}
	if s.Seat != nil {
		out = append(out, w.seat(s.Seat)+" on "+s.On)
	}
	if n := s.Notch; n != nil && n.Depth.Known {
		out = append(out, "cut over "+s.On+": "+w.length(n.Depth)+" deep")
	}
	return out
}

// fixings are the kinds of support that are hidden with what they are fixed to, as a list of them is headed.
var fixings = []struct{ by, words string }{
	{"hanger", "hangers on it"}, {"bolted", "bolted to it"}, {"welded", "welded to it"}, {"nailed", "nailed to it"},
}

// fixedTo is what hangs on a member or is bolted, welded or nailed to it.
func (w *planner) fixedTo(member int32) []string {
	var out []string
	for _, kind := range fixings {
		var names []string
		for _, on := range w.landsOn(member) {
			n := 0
			for _, s := range on.supports {
				if s.By == kind.by {
					n++
				}
			}
			switch {
			case n > 1:
				names = append(names, fmt.Sprintf("%d of %s", n, w.doc.Members[on.member].Mark))
			case n == 1:
				names = append(names, w.doc.Members[on.member].Mark)
			}
		}
		if len(names) > 0 {
			out = append(out, kind.words+": "+strings.Join(names, ", "))
		}
	}
	return out
}

// landing is a member that rests on another, with the supports that do.
type landing struct {
	member   int32
	supports []*model.Support
}

// landsOn is what rests on a member as the document states it, in the order of the document.
func (w *planner) landsOn(member int32) []landing {
	var out []landing
	from, to := w.frame.PiecesOf(member)
	for p := from; p < to; p++ {
		for _, i := range w.frame.LandingsOn(p) {
			s := &w.frame.Supports[i]
			if s.Document < 0 {
				continue
			}
			by := w.frame.Pieces[s.Piece].Member
			k := slices.IndexFunc(out, func(l landing) bool { return l.member == by })
			if k < 0 {
				k = len(out)
				out = append(out, landing{member: by})
			}
			out[k].supports = append(out[k].supports, &w.frame.Member(s.Piece).Supports[s.Document])
		}
	}
	slices.SortFunc(out, func(a, b landing) int { return int(a.member - b.member) })
	return out
}

func cuts(n int) string {
	if n == 1 {
		return "1 notch or hole"
	}
	return fmt.Sprintf("%d notches and holes", n)
}

// seat is a padstone or plate in words.
func (w *planner) seat(s *model.Seat) string {
	text := s.Kind
	if text == "" {
		text = "seat"
	}
	if s.Material != "" {
		text = s.Material + " " + text
	}
	if s.Along.Known && s.Across.Known && s.High.Known {
		text += fmt.Sprintf(", %s along x %s across x %s high", w.length(s.Along), w.length(s.Across), w.length(s.High))
	}
	return text
}

// blocking is each kind of blocking in words.
var blocking = map[string]string{"": "blocking", "solid": "solid blocking", "herringbone": "herringbone strutting", "block": "block"}

// at is where along a member something is, where that is stated.
func (w *planner) at(q model.Quantity) string {
	if !q.Known {
		return ""
	}
	return " at " + w.length(q)
}

func (w *planner) length(q model.Quantity) string { return w.run.Print(q.Value, model.Length) }

// by is who states what a connection holds, in brackets.
func by(c *model.Capacity) string {
	if c == nil || c.By == "" {
		return ""
	}
	return " (" + c.By + ")"
}
