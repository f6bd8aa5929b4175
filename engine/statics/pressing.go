package statics

// Pressing is a load that presses on a piece from above in one case: evenly rising from From to To, or at one place.
type Pressing struct {
	Case     int
	Support  int32   // whose push it is; -1: stated for the piece itself, or passed on by what lies along it
	From, To float64 // along the piece, mm; equal of a point; below 0 where neither a path nor the document tells

	// First and Last are the push down at From and at To, N/mm; of a point First is the whole, N, and Last nothing. What
	// lifts is below 0.
	First, Last float64
}

// Pressing is what presses on a piece besides its own weight, in the order of its loads, what lands, and what is passed on.
func (t *TakeDown) Pressing(piece int32) []Pressing {
	out := t.pressingOwn(piece, false)
	for _, i := range t.Frame.LandingsOn(piece) {
		s := &t.Frame.Supports[i]
		if s.Continuous {
			continue // comes through passed
		}
		for c := range t.cases {
			if z := t.Reaction(i, c).Z; z != 0 {
				out = append(out, Pressing{c, i, s.OnAt, s.OnAt, z, 0})
			}
		}
	}
	for _, p := range t.passed[piece] {
		out = append(out, Pressing{int(p.kase), -1, p.from, max(p.from, p.to), -p.f0.Z, -p.f1.Z})
	}
	return out
}

// Weight is what a piece itself weighs, as it presses on what is under it.
func (t *TakeDown) Weight(piece int32) []Pressing { return t.pressingOwn(piece, true) }

// pressingOwn is a piece's own loads: what it weighs, or the rest.
func (t *TakeDown) pressingOwn(piece int32, weight bool) []Pressing {
	var out []Pressing
	for _, o := range t.ownOf(piece) {
		if l := &o.load; o.weight == weight {
			out = append(out, Pressing{int(o.kase), -1, l.From, max(l.From, l.To), -l.Z0, -l.Z1})
		}
	}
	return out
}

// Within is the push down of a load between two places of its piece, N.
func (p *Pressing) Within(from, to float64) float64 {
	if p.To <= p.From {
		if p.From < from || p.From > to {
			return 0
		}
		return p.First
	}
	a, b := max(from, p.From), min(to, p.To)
	if b <= a {
		return 0
	}
	at := func(s float64) float64 { return p.First + (s-p.From)/(p.To-p.From)*(p.Last-p.First) }
	return (at(a) + at(b)) / 2 * (b - a)
}
