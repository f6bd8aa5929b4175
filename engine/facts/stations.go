package facts

import (
	"math"
	"slices"

	"example.com/scantling/engine/statics"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/plugins/region"
)

// spans adds the stretches of the piece with their deflections.
func (w *batchWriter) spans(e *statics.Effects, piece int32) {
	s := &w.b.Spans
	for _, span := range w.stretches(e, piece) {
		s.From, s.To, s.Overhang = append(s.From, span.From), append(s.To, span.To), append(s.Overhang, span.Overhang)
		for k := range w.f.Source.Combinations {
			comb := &w.f.Source.Combinations[k]
			d := 0.0
			if u := w.unique[k]; u != k {
				d = s.Deflection[len(s.Deflection)-k+u]
			} else if comb.State != region.Strength && comb.State != region.Stability && e.NoStiff == "" {
				d, _ = e.Sag(comb, span)
			}
			s.Deflection = append(s.Deflection, d)
		}
		at := (span.From + span.To) / 2
		if span.Overhang { // its root is the end that a support holds
			at = span.From
			if span.From == 0 {
				at = span.To
			}
		}
		for c := range e.Cases {
			m := 0.0
			if v, ok := e.Cases[c].Full.Value(plane.Moment, at, plane.After); ok && e.Cases[c].Acts {
				m = v
			}
			if e.Weighs(&w.alone[c]) {
				m = math.Copysign(momentOf(e, &w.alone[c], span), m)
			}
			d, _ := e.Sag(&w.alone[c], span)
			s.CaseDeflect, s.CaseMoment = append(s.CaseDeflect, d), append(s.CaseMoment, m)
		}
		d, _ := e.Sag(&w.moving, span)
		s.MoveDeflect, s.MoveMoment = append(s.MoveDeflect, d), append(s.MoveMoment, momentOf(e, &w.moving, span))
	}
}

// momentOf is the largest size of the moment in a stretch in a combination, N mm; 0 where nothing acts.
func momentOf(e *statics.Effects, k *region.Combination, span plane.Span) float64 {
	hi, lo, _ := e.Range(k, plane.Moment, span.From, span.To)
	return max(math.Abs(hi.Value), math.Abs(lo.Value))
}

// stretches is the spans of a piece; of a couple's rafter that from its foot to its head; of a post its length.
func (w *batchWriter) stretches(e *statics.Effects, piece int32) []plane.Span {
	if len(e.Spans) > 0 || e.Bedded || len(e.Supports) == 0 {
		return e.Spans
	}
	length := w.fr.Shape(piece).Length
	var out []plane.Span
	at := []float64{}
	for _, i := range e.Supports {
		at = append(at, w.fr.Supports[i].At)
	}
	slices.Sort(at)
	if len(at) == 1 {
		return []plane.Span{{From: 0, To: length}}
	}
	if at[0] > 1 {
		out = append(out, plane.Span{From: 0, To: at[0], Overhang: true})
	}
	for i := 1; i < len(at); i++ {
		out = append(out, plane.Span{From: at[i-1], To: at[i]})
	}
	if last := at[len(at)-1]; length-last > 1 {
		out = append(out, plane.Span{From: last, To: length, Overhang: true})
	}
	return out
}

// stations adds the places where forces are given, with the forces of every combination there.
func (w *batchWriter) stations(e *statics.Effects, piece int32) {
	if e.Bedded || len(e.Supports) == 0 || e.Unsolved != "" {
		return
	}
	sh := w.fr.Shape(piece)
	length := sh.Length
	w.eccentric(piece)
	w.places = w.places[:0]
	mark := func(at float64, kind int32) {
		for _, side := range [2]plane.Side{plane.Before, plane.After} {
			if at <= 0 && side == plane.Before || at >= length && side == plane.After {
				continue
			}
			for _, q := range [3]plane.Quantity{plane.Moment, plane.Shear, plane.Axial} {
				w.mark(place{at, side, kind, q})
			}
		}
	}
	for _, i := range e.Supports {
		mark(min(max(0, w.fr.Supports[i].At), length), region.StationSupport)
	}
	for i := 1; i+1 < len(sh.S); i++ {
		mark(sh.S[i], region.StationKink)
	}
	d := w.fr.Member(piece).More()
	for _, n := range d.Notches {
		mark(min(max(0, n.At.Value), length), region.StationNotch)
	}
	for _, h := range d.Holes {
		mark(min(max(0, h.At.Value), length), region.StationHole)
	}
	switch {
	case !sh.Upright:
		w.extremes(e, piece)
	case slices.ContainsFunc(w.out, func(m float64) bool { return m != 0 }):
		mark((1-w.foot)*length, region.StationExtreme) // its head
	}
	spans := w.stretches(e, piece)
	for _, p := range w.places {
		w.station(e, p, spans)
	}
}

// extremes marks where the moment, shear and axial force of each combination are largest and smallest in each span.
func (w *batchWriter) extremes(e *statics.Effects, piece int32) {
	quantities := []plane.Quantity{plane.Moment, plane.Shear}
	if hasAxial(e, w.fr.Shape(piece).Length) {
		quantities = append(quantities, plane.Axial)
	}
	for k := range w.f.Source.Combinations {
		comb := &w.f.Source.Combinations[k]
		if w.unique[k] != k || comb.State != region.Strength && comb.State != region.Allowable {
			continue
		}
		for _, span := range w.stretches(e, piece) {
			for _, q := range quantities {
				if hi, lo, ok := e.Range(comb, q, span.From, span.To); ok {
					w.mark(place{hi.At, hi.Side, region.StationExtreme, q})
					w.mark(place{lo.At, lo.Side, region.StationExtreme, q})
				}
			}
		}
	}
}

// hasAxial says whether anything presses or pulls along a piece.
func hasAxial(e *statics.Effects, length float64) bool {
	if e.Moves() || e.Draws() {
		return true
	}
	for c := range e.Cases {
		if !e.Cases[c].Acts {
			continue
		}
		if r, ok := e.Cases[c].Full.Within(plane.Axial, 0, length); ok && (r.Max.Value != 0 || r.Min.Value != 0) {
			return true
		}
	}
	return false
}

// mark adds a place once; what it marks adds up.
func (w *batchWriter) mark(p place) {
	for i := range w.places {
		q := &w.places[i]
		if math.Abs(q.at-p.at) < 1e-6 && q.side == p.side && q.of == p.of {
			q.kind |= p.kind
			return
		}
	}
	w.places = append(w.places, p)
}

// station adds a place with the forces that make one quantity largest, and those that make it smallest where they
// differ.
func (w *batchWriter) station(e *statics.Effects, p place, spans []plane.Span) {
	acting := e.Forces(p.at, p.side)
	w.high, w.low = w.high[:0], w.low[:0]
	differ, acts := false, false
	for k := range w.f.Source.Combinations {
		if u := w.unique[k]; u != k {
			w.high, w.low = append(w.high, w.high[u]), append(w.low, w.low[u])
			continue
		}
		comb := &w.f.Source.Combinations[k]
		hi, lo := e.Together(comb, acting, p.of, 1), e.Together(comb, acting, p.of, -1)
		w.high, w.low = append(w.high, hi), append(w.low, lo)
		acts = acts || hi != (plane.Forces{}) || lo != (plane.Forces{})
		differ = differ || hi != lo
	}
	if !acts {
		return
	}
	w.row(p, spans, w.high)
	if differ {
		w.row(p, spans, w.low)
	}
}

// row adds a place with its forces. Where it is known already with the same forces, what it marks adds up.
func (w *batchWriter) row(p place, spans []plane.Span, forces []plane.Forces) {
	s := &w.b.Stations
	span := int32(0)
	for i, sp := range spans {
		if p.at >= sp.From-1e-9 && p.at <= sp.To+1e-9 {
			span = int32(i)
			if p.side == plane.Before || p.at < sp.To-1e-9 {
				break
			}
		}
	}
	for r := int(lastOf(w.b.Pieces.StationStart)); r < len(s.At); r++ {
		if s.At[r] == p.at && s.Span[r] == span && w.same(r, forces) {
			s.Kind[r] |= p.kind
			return
		}
	}
	s.At, s.Span, s.Kind = append(s.At, p.at), append(s.Span, span), append(s.Kind, p.kind)
	for k, f := range forces {
		s.N, s.V, s.M = append(s.N, f.N), append(s.V, f.V), append(s.M, f.M)
		out := 0.0
		if w.out != nil {
			out = w.out[k] * (w.foot + w.up*p.at)
		}
		s.MomentOut = append(s.MomentOut, out)
	}
}

// same says whether a station's forces are those in every combination.
func (w *batchWriter) same(station int, forces []plane.Forces) bool {
	s, first := &w.b.Stations, station*len(forces)
	for k, f := range forces {
		if s.M[first+k] != f.M || s.V[first+k] != f.V || s.N[first+k] != f.N {
			return false
		}
	}
	return true
}
