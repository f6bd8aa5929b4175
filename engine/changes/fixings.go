package changes

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
)

// fixing is a connection, seat or restraint that differs; an empty text is one that is not there.
func (p *pairing) fixing(what asbuilt.What, was, now string, where *finding.Support, paths ...string) {
	if was == now {
		return
	}
	p.add(asbuilt.Change{What: what, Key: strings.TrimPrefix(paths[len(paths)-1], "/"), Was: was, Now: now, Support: where, About: cmp.Or(was, now)}, paths...)
}

// part is one of a list of small parts: those of one kind are held against each other.
type part struct {
	what        asbuilt.What
	kind, words string
}

// fixings compares what holds the member together and sideways.
func (p *pairing) fixings() {
	d, b := p.d.More(), p.b.More()
	for _, list := range []struct {
		key  string
		d, b []part
	}{
		{"straps", p.straps(d.Straps), p.straps(b.Straps)},
		{"blocking", p.blocking(d.Blocking), p.blocking(b.Blocking)},
		{"joints", p.joints(d.Joints), p.joints(b.Joints)},
		{"tied_by", p.ties(p.d.Ties), p.ties(p.b.Ties)},
		{"restraint", p.edges(p.d.Restraint), p.edges(p.b.Restraint)},
		{"held", p.holds(d.Held), p.holds(b.Held)},
		{"plies_joined", text(asbuilt.Connection, "plies joined by ", d.PliesJoined), text(asbuilt.Connection, "plies joined by ", b.PliesJoined)},
		{"end_fixing", text(asbuilt.Connection, "ends fixed by ", d.EndFixing), text(asbuilt.Connection, "ends fixed by ", b.EndFixing)},
		{"weld", text(asbuilt.Connection, "", d.Weld), text(asbuilt.Connection, "", b.Weld)},
	} {
		if p.has(list.key) {
			p.account(list.key)
			p.parts(list.key, list.d, list.b)
		}
	}
}

// parts compares two lists: what is in both is left, what is of one kind differs, and the rest was left out or added.
func (p *pairing) parts(key string, d, b []part) {
	d, b = slices.Clone(d), slices.Clone(b)
	take := func(same func(x, y part) bool, pair func(x, y part)) {
		for i := 0; i < len(d); i++ {
			if j := slices.IndexFunc(b, func(y part) bool { return same(d[i], y) }); j >= 0 {
				pair(d[i], b[j])
				d, b = slices.Delete(d, i, i+1), slices.Delete(b, j, j+1)
				i--
			}
		}
	}
	path := "/" + key
	take(func(x, y part) bool { return x == y }, func(part, part) {})
	take(func(x, y part) bool { return x.what == y.what && x.kind == y.kind }, func(x, y part) { p.fixing(x.what, x.words, y.words, nil, path) })
	for _, x := range d {
		p.fixing(x.what, x.words, "", nil, path)
	}
	for _, y := range b {
		p.fixing(y.what, "", y.words, nil, path)
	}
}

func text(what asbuilt.What, lead, words string) []part {
	if words == "" {
		return nil
	}
	return []part{{what, lead, lead + words}}
}

func (p *pairing) straps(list []model.Strap) (out []part) {
	for _, s := range list {
		what := asbuilt.Restraint
		if s.Kind == "holding down" {
			what = asbuilt.Connection
		}
		words := s.Kind + " strap"
		if s.To != "" {
			words += " to " + s.To
		}
		if s.At.Known {
			words += " at " + p.length(s.At)
		}
		if s.Centres.Known {
			words += " at centres of " + p.length(s.Centres)
		}
		if s.Size != "" {
			words += ", " + s.Size
		}
		out = append(out, part{what, s.Kind + " " + s.To, words + p.capacityWords(s.Capacity)})
	}
	return out
}

func (p *pairing) blocking(list []model.Blocking) (out []part) {
	for _, b := range list {
		words := strings.TrimSpace(b.Kind + " blocking")
		if b.At.Known {
			words += " at " + p.length(b.At)
		}
		out = append(out, part{asbuilt.Restraint, "blocking", words})
	}
	return out
}

func (p *pairing) joints(list []model.Joint) (out []part) {
	for _, j := range list {
		words := strings.TrimSpace(j.Kind + " joint at " + p.length(j.At))
		if j.Detail != "" {
			words += ", " + j.Detail
		}
		if j.Capacity.Known {
			words += ", " + model.Format(j.Capacity.Value, model.Moment, p.units())
		}
		out = append(out, part{asbuilt.Connection, "joint", words})
	}
	return out
}

func (p *pairing) ties(list []model.TiedBy) (out []part) {
	for _, t := range list {
		words := "tie " + t.On
		if t.At.Known {
			words += " at " + p.length(t.At)
		}
		out = append(out, part{asbuilt.Connection, "tie " + t.On, words + p.capacityWords(t.Capacity)})
	}
	return out
}

func (p *pairing) edges(r model.Restraint) []part {
	return append(p.hold("top edge held", r.Top), p.hold("bottom edge held", r.Bottom)...)
}

func (p *pairing) holds(h model.Held) []part {
	return append(p.hold("held along its depth", h.Depth), p.hold("held along its width", h.Width)...)
}

func (p *pairing) hold(name string, h model.Hold) []part {
	switch {
	case h.Full:
		return []part{{asbuilt.Restraint, name, name + " along its length"}}
	case h.Said:
		return []part{{asbuilt.Restraint, name, name + " every " + model.Format(h.Spacing, model.Length, p.units())}}
	}
	return nil
}

// cuts compares the notches and holes along the member. One within 50 mm of where it was drawn is the same one.
func (p *pairing) cuts() {
	d, b := p.d.More(), p.b.More()
	if p.has("notches") {
		p.account("notches")
		for i := range b.Notches {
			n := &b.Notches[i]
			drawn := nearestCut(d.Notches, n.At, func(o *model.Notch) model.Quantity { return o.At })
			p.notch("notches", drawn, n, nil, fmt.Sprintf("/notches/%d", i), "/notches")
		}
		if len(b.Notches) == 0 {
			p.notch("notches", &d.Notches[0], nil, nil, "/notches", "")
		}
	}
	if !p.has("holes") {
		return
	}
	p.account("holes")
	for i := range b.Holes {
		h := &b.Holes[i]
		drawn := nearestCut(d.Holes, h.At, func(o *model.Hole) model.Quantity { return o.At })
		ch := asbuilt.Change{What: asbuilt.Notch, Key: "holes", Now: "hole of " + p.length(h.Diameter), NotchMore: more(model.Given(0), h.Diameter),
			About: fmt.Sprintf("hole at %.0f", h.At.Value)}
		if drawn != nil {
			if *drawn == *h {
				continue
			}
			ch.Was, ch.NotchMore = "hole of "+p.length(drawn.Diameter), more(drawn.Diameter, h.Diameter)
		}
		p.add(ch, fmt.Sprintf("/holes/%d", i), "/holes")
	}
}

// nearestCut is the cut of a list that is within 50 mm of a place, or nil.
func nearestCut[T any](list []T, at model.Quantity, place func(*T) model.Quantity) *T {
	for i := range list {
		if o := place(&list[i]); o.Known == at.Known && math.Abs(o.Value-at.Value) <= 50 {
			return &list[i]
		}
	}
	return nil
}

// notch compares a notch as drawn and as built; nil is none.
func (p *pairing) notch(key string, d, b *model.Notch, where *finding.Support, paths ...string) {
	if d == nil && b == nil || d != nil && b != nil && *d == *b {
		return
	}
	none := &model.Notch{Depth: model.Given(0)}
	ch := asbuilt.Change{What: asbuilt.Notch, Key: key, Support: where}
	if d != nil {
		ch.Was = p.length(d.Depth)
	} else {
		d = none
	}
	if b != nil {
		ch.Now = p.length(b.Depth)
		ch.About = fmt.Sprintf("notch at %.0f", b.At.Value)
	} else {
		b = none
	}
	ch.NotchMore = more(d.Depth, b.Depth)
	switch {
	case b == none:
	case d != none && d.Face != b.Face: // another edge is cut
		ch.NotchMore = more(none.Depth, b.Depth)
	case d != none && b.Length.Value > d.Length.Value:
		p.keys = append(p.keys, "length of a notch")
	}
	p.add(ch, paths...)
}

func more(d, b model.Quantity) asbuilt.Worked {
	switch {
	case !b.Known:
		return asbuilt.Unknown("how deep the cut is as built is not stated")
	case !d.Known:
		return asbuilt.Unknown("how deep the cut was drawn is not stated")
	}
	return asbuilt.Known(b.Value - d.Value)
}
