package facts

import (
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// supportRow is what a document fact of a support is worked out from. said is nil for implied supports.
type supportRow struct {
	m    *model.Member
	said *model.Support
}

// documentSupports offers the facts that the same support of all pieces of a member share.
func (w *work) documentSupports() {
	var list []supportRow
	for i := range w.doc.Members {
		m := &w.doc.Members[i]
		for k := range m.Supports {
			list = append(list, supportRow{m, &m.Supports[k]})
		}
	}
	list = append(list, supportRow{&model.Member{}, nil})
	offer(w, rows[supportRow]{vocabulary.Support, true, len(list), func(i int, _ *supportRow) *supportRow { return &list[i] }}, supportFacts)
}

const implied = "the support is implied, not stated"

var supportFacts = []fill[supportRow]{
	{name: "bearing", number: func(r *supportRow) numberValue {
		if r.said == nil {
			return noNumber(implied)
		}
		return given(r.said.Bearing)
	}},
	{name: "by", text: func(r *supportRow) textValue {
		if r.said == nil {
			return noText(implied)
		}
		return said(r.said.By)
	}},
	{name: "is_continuous", truth: func(r *supportRow) truthValue { return yes(r.said != nil && r.said.Continuous) }},
	{name: "is_fixed", truth: func(r *supportRow) truthValue { return yes(r.said != nil && r.said.Fixed) }},
	{name: "holds_horizontal", truth: func(r *supportRow) truthValue { return yes(r.said != nil && (r.said.Horizontal || r.said.Fixed)) }},
	{name: "names", text: func(r *supportRow) textValue {
		switch {
		case r.said == nil:
			return noText(implied)
		case r.said.Against != "":
			return txt(r.said.Against)
		}
		return said(r.said.On)
	}},
	{name: "seat", text: seatText(func(s *model.Seat) string { return s.Kind })},
	{name: "seat_along", number: seatSize(func(s *model.Seat) model.Quantity { return s.Along })},
	{name: "seat_across", number: seatSize(func(s *model.Seat) model.Quantity { return s.Across })},
	{name: "seat_high", number: seatSize(func(s *model.Seat) model.Quantity { return s.High })},
	{name: "is_notched", truth: func(r *supportRow) truthValue { return yes(r.said != nil && r.said.Notch != nil) }},
	{name: "notch_depth", number: notchNumber(func(m *model.Member, n *model.Notch) numberValue { return given(n.Depth) })},
	{name: "notch_face", text: func(r *supportRow) textValue {
		if r.said == nil || r.said.Notch == nil {
			return noText("it is not notched there")
		}
		return said(r.said.Notch.Face.String())
	}},
	{name: "notch_ratio", number: notchNumber(func(m *model.Member, n *model.Notch) numberValue {
		if m.Section == nil || m.Section.Depth == 0 {
			return noNumber("no section is stated")
		}
		return scaled(n.Depth, 1/m.Section.Depth)
	})},
	{name: "depth_left", number: notchNumber(func(m *model.Member, n *model.Notch) numberValue {
		if m.Section == nil || m.Section.Depth == 0 {
			return noNumber("no section is stated")
		}
		if !n.Depth.Known {
			return noNumber(unsaid)
		}
		return num(m.Section.Depth - n.Depth.Value)
	})},
	{name: "uplift_taken", number: func(r *supportRow) numberValue {
		c, why := r.holdingDown()
		if why != "" {
			return noNumber(why)
		}
		return num(c.Up.Value)
	}},
	{name: "capacity_down", number: capacity(func(c *model.Capacity) model.Quantity { return c.Down })},
	{name: "capacity_along", number: capacity(func(c *model.Capacity) model.Quantity { return c.Along })},
	{name: "capacity_basis", text: func(r *supportRow) textValue {
		if r.said == nil || r.said.Capacity == nil {
			return noText("no capacity is stated")
		}
		return said(r.said.Capacity.Basis)
	}},
}

// holdingDown is the best stated capacity against pull up at a support: its own, or that of a holding-down strap there.
func (r supportRow) holdingDown() (*model.Capacity, string) {
	if r.said == nil {
		return nil, implied
	}
	var best *model.Capacity
	if c := r.said.Capacity; c != nil && c.Up.Known {
		best = c
	}
	for i := range r.m.More().Straps {
		s := &r.m.More().Straps[i]
		if holdsDown(s, r.said.On) && s.Capacity != nil && s.Capacity.Up.Known && (best == nil || s.Capacity.Up.Value > best.Up.Value) {
			best = s.Capacity
		}
	}
	if best == nil {
		return nil, "no holding-down of stated capacity is declared"
	}
	return best, ""
}

// holdsDown says whether a strap holds a member down where it rests on a mark.
func holdsDown(s *model.Strap, on string) bool {
	return s.Kind == "holding down" && (s.To == "" || s.To == on)
}

func scaled(q model.Quantity, k float64) numberValue {
	if !q.Known {
		return noNumber(unsaid)
	}
	return num(q.Value * k)
}

func seatText(of func(*model.Seat) string) func(*supportRow) textValue {
	return func(r *supportRow) textValue {
		if r.said == nil || r.said.Seat == nil {
			return noText("no seat is stated")
		}
		return said(of(r.said.Seat))
	}
}

func seatSize(of func(*model.Seat) model.Quantity) func(*supportRow) numberValue {
	return func(r *supportRow) numberValue {
		if r.said == nil || r.said.Seat == nil {
			return noNumber("no seat is stated")
		}
		return given(of(r.said.Seat))
	}
}

func notchNumber(of func(*model.Member, *model.Notch) numberValue) func(*supportRow) numberValue {
	return func(r *supportRow) numberValue {
		if r.said == nil || r.said.Notch == nil {
			return noNumber("it is not notched there")
		}
		return of(r.m, r.said.Notch)
	}
}

func capacity(of func(*model.Capacity) model.Quantity) func(*supportRow) numberValue {
	return func(r *supportRow) numberValue {
		if r.said == nil || r.said.Capacity == nil {
			return noNumber("no capacity is stated")
		}
		return given(of(r.said.Capacity))
	}
}
