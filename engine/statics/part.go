package statics

// Part is the take-down of what acts on some pieces alone: their own loads and, where landed is set, what all others
// bring to them. The frame is linear, so a reaction's part is the share of it that comes from those pieces, and the parts
// of all pieces' own loads add up to the whole. A piece that could not be solved in the whole passes nothing on here
// either.
func (t *TakeDown) Part(pieces []int32, landed bool) *TakeDown {
	p := newTakeDown(t.Input, t.own)
	p.whole, p.only = t, make(map[int32]bool, len(pieces))
	for _, piece := range pieces {
		p.only[piece] = true
	}
	if landed {
		for _, piece := range pieces {
			p.takeOver(piece)
		}
	}
	p.run()
	return p
}

// takeOver puts on a piece what other pieces bring to it in the whole.
func (t *TakeDown) takeOver(piece int32) {
	f := t.Frame
	items := append([]item(nil), t.whole.passed[piece]...)
	for _, i := range f.LandingsOn(piece) {
		s := &f.Supports[i]
		if s.Continuous || t.only[s.Piece] {
			continue
		}
		for c := range t.cases {
			if r := t.whole.Reaction(i, c); r != (Force{}) {
				at := max(0, s.OnAt)
				items = append(items, item{kase: int32(c), from: at, to: at, f0: r.minus()})
			}
		}
	}
	t.passed[piece] = items
	for i := range items {
		t.Applied[items[i].kase].add(items[i].resultant())
		t.scale[items[i].kase] += items[i].gross()
	}
}

// gross is the size of a load, of one that changes sign on its way both parts of it.
func (p *item) gross() float64 {
	if p.to <= p.from {
		return p.f0.size()
	}
	return (p.f0.size() + p.f1.size()) / 2 * (p.to - p.from)
}

// resultant is the whole of a load.
func (p *item) resultant() Force {
	if p.to <= p.from {
		return p.f0
	}
	h := (p.to - p.from) / 2
	return Force{(p.f0.X + p.f1.X) * h, (p.f0.Y + p.f1.Y) * h, (p.f0.Z + p.f1.Z) * h}
}
