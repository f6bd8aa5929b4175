package changes

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// sameSpot is how far apart two places may be and still be one, mm.
const sameSpot = 0.5

// held is a support of a member as drawn with that as built; an index of -1 is one that is not there.
type held struct{ d, b int }

// matched pairs the supports of a member: first those that rest on the same mark, then what is left over, in order.
func (p *pairing) matched() []held {
	taken := make([]bool, len(p.b.Supports))
	out := make([]held, len(p.d.Supports))
	same := func(i, j int) bool {
		return !taken[j] && p.d.Supports[i].On == p.b.Supports[j].On && p.d.Supports[i].Against == p.b.Supports[j].Against
	}
	for i := range out {
		out[i] = held{i, -1}
		if i < len(taken) && same(i, i) {
			out[i].b, taken[i] = i, true
		}
	}
	for _, match := range []func(i, j int) bool{same, func(_, j int) bool { return !taken[j] }} {
		for i := range out {
			for j := 0; j < len(taken) && out[i].b < 0; j++ {
				if match(i, j) {
					out[i].b, taken[j] = j, true
				}
			}
		}
	}
	for j := range taken {
		if !taken[j] {
			out = append(out, held{-1, j})
		}
	}
	return out
}

// places finds which supports and ends of the member stand elsewhere than drawn. Where only its run changed, the first
// piece speaks for all.
func (p *pairing) places() {
	c := p.comparing
	d, b := c.drawn.Down.Frame, c.built.Down.Frame
	df, dt := d.PiecesOf(int32(p.di))
	bf, bt := b.PiecesOf(int32(p.bi))
	pieces := min(dt-df, bt-bf)
	if p.has("repeat") {
		pieces = min(pieces, 1)
	}
	furthest, lifted := 0.0, false
	for _, h := range p.matched() {
		if h.d < 0 || h.b < 0 {
			continue
		}
		most, at, up := 0.0, 0.0, false
		for k := range pieces {
			s, t := supportOf(d, df+k, h.d), supportOf(b, bf+k, h.b)
			if s == nil || t == nil || s.Continuous || t.Continuous || s.Problem != frame.Sound || t.Problem != frame.Sound {
				continue
			}
			far, level := apart(d, df+k, s.At, b, bf+k, t.At)
			if far > most {
				most, at, up = far, t.At, level
			}
		}
		if most <= sameSpot {
			continue
		}
		if up {
			lifted = true
			continue
		}
		furthest = max(furthest, most)
		on := p.b.Supports[h.b].On + p.b.Supports[h.b].Against
		ch := asbuilt.Change{What: asbuilt.Support, Key: fmt.Sprintf("supports/%d", h.b), Moved: asbuilt.Known(most),
			Was: "support on " + p.d.Supports[h.d].On + p.d.Supports[h.d].Against, Now: "support on " + on + ", " + p.length(model.Given(most)) + " from there",
			Support: &finding.Support{On: on, At: at, Index: h.b}}
		p.add(ch, fmt.Sprintf("/supports/%d/at", h.b), "/path")
		p.carrierMoved(&c.changes[len(c.changes)-1], on)
	}
	p.ends(furthest, lifted)
}

// carrierMoved puts a support that moved, of a member which is as drawn itself, to what it rests on: that was built
// elsewhere, and whoever saw that saw this.
func (p *pairing) carrierMoved(ch *asbuilt.Change, on string) {
	was, is := p.drawn.Source.Document.Member(on), p.built.Source.Document.Member(on)
	patched := p.built.Source.IsPatch()
	switch {
	case patched && ch.Place.File == p.built.Source.File:
		return // the patch says it of the member
	case !patched && (p.has("path", "length", "pitch", "supports") || was == nil || is == nil || slices.Equal(was.Path, is.Path)):
		return
	}
	ch.Place = p.place(read.Pointer("members", on, "path"), read.Pointer("members", on))
	if was != nil && is != nil {
		ch.Evidence = evidence(was, is)
	}
}

// ends finds how far the ends of the member's axis moved where no support says as much, and whether all of it stands
// higher or lower.
func (p *pairing) ends(furthest float64, lifted bool) {
	p.level = lifted
	if !p.has("path", "length", "pitch") {
		return
	}
	d, b := p.drawn.Down.Frame, p.built.Down.Frame
	ds, bs := &d.Shapes[p.di], &b.Shapes[p.bi]
	if !ds.Known || !bs.Known || !ds.Placed || !bs.Placed {
		return // its keys stay, and are asked about
	}
	most := 0.0
	for _, end := range [2][2]float64{{0, 0}, {ds.Length, bs.Length}} {
		far, level := between(ds.At(end[0]), bs.At(end[1]))
		p.level = p.level || level && far > sameSpot
		if !level {
			most = max(most, far)
		}
	}
	if len(ds.Points) == len(bs.Points) && (most > sameSpot || p.level || furthest > 0) && p.sameBends(ds, bs) {
		p.account("path", "length", "pitch")
	}
	if most > furthest+sameSpot {
		p.add(asbuilt.Change{What: asbuilt.Support, Key: "path", Moved: asbuilt.Known(most), Was: "end as drawn", Now: "end " + p.length(model.Given(most)) + " from there", About: "end"}, "/path")
	}
}

// sameBends says whether the points between the ends moved no further than the ends did.
func (p *pairing) sameBends(d, b *frame.Shape) bool {
	last := len(d.Points) - 1
	first, _ := between(d.Points[0], b.Points[0])
	other, _ := between(d.Points[last], b.Points[last])
	for i := 1; i < last; i++ {
		if far, _ := between(d.Points[i], b.Points[i]); far > max(first, other)+sameSpot {
			return false
		}
	}
	return true
}

// supportOf is the support of a piece that its document lists at an index.
func supportOf(f *frame.Frame, piece int32, index int) *frame.Support {
	supports, _ := f.SupportsOf(piece)
	for k := range supports {
		if supports[k].Document == int32(index) {
			return &supports[k]
		}
	}
	return nil
}

// apart is the distance between two places along a piece as drawn and as built; level says that they differ upright only.
func apart(d *frame.Frame, dp int32, ds float64, b *frame.Frame, bp int32, bs float64) (far float64, level bool) {
	if !d.Shape(dp).Placed || !b.Shape(bp).Placed {
		return math.Abs(ds - bs), false
	}
	return between(d.Point(dp, ds), b.Point(bp, bs))
}

func between(a, b model.Point) (far float64, level bool) {
	plan := math.Hypot(a.X-b.X, a.Y-b.Y)
	return math.Hypot(plan, a.Z-b.Z), plan <= sameSpot
}

// supports compares bearings, seats, connections and the notches at the supports.
func (p *pairing) supports() {
	if !p.has("supports") {
		return
	}
	p.account("supports")
	for _, h := range p.matched() {
		var d, b *model.Support
		path, where := "/supports", &finding.Support{Index: max(h.b, 0)}
		if h.d >= 0 {
			d = &p.d.Supports[h.d]
			where.On, where.At = d.On+d.Against, d.At.Value
		}
		if h.b >= 0 {
			b = &p.b.Supports[h.b]
			where.On, where.At = b.On+b.Against, b.At.Value
			path = fmt.Sprintf("/supports/%d", h.b)
		}
		p.fixing(asbuilt.Connection, p.connection(d), p.connection(b), where, path+"/by", path+"/capacity", path)
		if d == nil || b == nil {
			continue
		}
		p.fixing(asbuilt.Seat, seatWords(d.Seat, p.units()), seatWords(b.Seat, p.units()), where, path+"/seat", path)
		if d.Bearing != b.Bearing {
			p.bearing(d.Bearing, b.Bearing, where, path)
		}
		p.notch("supports/notch", d.Notch, b.Notch, where, path+"/notch", path)
	}
}

func (p *pairing) bearing(d, b model.Quantity, where *finding.Support, path string) {
	ch := asbuilt.Change{What: asbuilt.Bearing, Key: "supports/bearing", Was: p.length(d), Now: p.length(b), Support: where}
	switch {
	case !b.Known:
		ch.BearingLess = asbuilt.Unknown("the bearing as built is not stated")
	case !d.Known:
		ch.BearingLess = asbuilt.Unknown("no bearing was drawn to hold it against")
	default:
		ch.BearingLess = asbuilt.Known(d.Value - b.Value)
	}
	p.add(ch, path+"/bearing", path)
}

// connection is how a support holds, in words; empty where there is none.
func (p *pairing) connection(s *model.Support) string {
	if s == nil {
		return ""
	}
	words := cmp.Or(s.By, "support") + " on " + s.On
	if s.Against != "" {
		words = "head against " + s.Against
	}
	if s.Continuous {
		words += ", bedded"
		if s.From.Known || s.To.Known {
			words += fmt.Sprintf(" from %s to %s", p.length(s.From), p.length(s.To))
		}
	}
	if s.Horizontal {
		words += ", held sideways"
	}
	if s.Fixed {
		words += ", held against turning"
	}
	return words + p.capacityWords(s.Capacity)
}

func (p *pairing) capacityWords(c *model.Capacity) string {
	if c == nil {
		return ""
	}
	words := ""
	for _, way := range []struct {
		q    model.Quantity
		name string
	}{{c.Down, "down"}, {c.Up, "up"}, {c.Along, "along"}} {
		if way.q.Known {
			words += fmt.Sprintf(", %s %s", model.Format(way.q.Value, model.Force, p.units()), way.name)
		}
	}
	if c.Basis != "" {
		words += " (" + c.Basis + ")"
	}
	return words
}

func seatWords(s *model.Seat, u model.Units) string {
	if s == nil {
		return ""
	}
	words := cmp.Or(s.Kind, "seat")
	var sizes []string
	for _, q := range []model.Quantity{s.Along, s.Across, s.High} {
		if q.Known {
			sizes = append(sizes, model.Format(q.Value, model.Length, u))
		}
	}
	if len(sizes) > 0 {
		words += " " + strings.Join(sizes, " x ")
	}
	if s.Material != "" {
		words += " of " + s.Material
	}
	if s.Strength.Known {
		words += ", " + model.Format(s.Strength.Value, model.Stress, u)
	}
	return words
}

func (p *pairing) units() model.Units { return p.built.Source.Document.Units }

// length is a length in words; empty where none is stated.
func (p *pairing) length(q model.Quantity) string {
	if !q.Known {
		return ""
	}
	return model.Format(q.Value, model.Length, p.units())
}
