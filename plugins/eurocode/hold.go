package eurocode

import (
	"math"

	"example.com/scantling/plugins/eurocode/ec3"
	"example.com/scantling/plugins/eurocode/ec5"
)

// fullyHeld stands for a length over which nothing can buckle, mm.
const fullyHeld = 1

// stretch is the span that a point lies in.
type stretch struct {
	length   float64
	overhang bool
}

func (j *judge) stretch(m *member, span int) stretch {
	if span < 0 {
		return stretch{length: m.length}
	}
	s := &j.b.Spans
	return stretch{math.Abs(s.To[span] - s.From[span]), s.Overhang[span]}
}

// edge is how the edge in compression is held: along its length, or every so many mm; 0 at the supports only.
func (j *judge) edge(m *member, sagging bool) (full bool, spacing float64) {
	p := &j.b.Pieces
	if sagging {
		return p.TopFull[m.i], p.TopSpacing[m.i]
	}
	return p.BottomFull[m.i], p.BottomSpace[m.i]
}

// lateral is how a timber is held against turning over at a point.
func (j *judge) lateral(m *member, p *point) ec5.Lateral {
	sagging := p.m > 0
	full, spacing := j.edge(m, sagging)
	if full {
		return ec5.Lateral{Full: true}
	}
	s := j.stretch(m, p.span)
	l := ec5.Lateral{Length: s.length, LoadAt: j.loadEdge(m, sagging)}
	switch {
	case spacing > 0 && spacing < s.length:
		l.Length = spacing
	case s.overhang:
		l.Ratio = ec5.RatioCantileverTip
	case j.freeEnds(m, p.span):
		l.Ratio = ec5.RatioUniform
	}
	return l
}

// loadEdge is the edge that the load acts on, as the check sees it.
func (j *judge) loadEdge(m *member, sagging bool) ec5.Edge {
	switch p := &j.b.Pieces; p.Words[p.LoadAt[m.i]] {
	case "middle":
		return ec5.MidDepth
	case "top":
		if !sagging {
			return ec5.TensionEdge
		}
	case "bottom":
		if sagging {
			return ec5.TensionEdge
		}
	}
	return ec5.CompressionEdge
}

// freeEnds says that a span is the only one of its piece, so that its ends bear no moment.
func (j *judge) freeEnds(m *member, span int) bool {
	return span >= 0 && m.spans.to-m.spans.from == 1
}

// buckling gives the effective lengths about the strong and the weak axis, mm: of an upright piece between its stated holds, of
// another its span and the spacing of what holds an edge.
func (j *judge) buckling(m *member, span int) (y, z float64) {
	p := &j.b.Pieces
	if m.upright {
		return holdLength(p.HeldDepth[m.i], m.length), holdLength(p.HeldWidth[m.i], m.length)
	}
	y = j.stretch(m, span).length
	z = y
	if p.TopFull[m.i] || p.BottomFull[m.i] {
		return y, fullyHeld
	}
	for _, spacing := range []float64{p.TopSpacing[m.i], p.BottomSpace[m.i]} {
		if spacing > 0 {
			z = min(z, spacing)
		}
	}
	return y, z
}

// holdLength is the length between holds: spacing 0 is the whole length, below 0 a hold along it.
func holdLength(spacing, length float64) float64 {
	switch {
	case spacing < 0:
		return fullyHeld
	case spacing == 0:
		return length
	}
	return min(spacing, length)
}

// held is how a steel is held at a point. Between stated holds the moment counts as constant, which is the worst without load
// between them; over a whole span as that of an even load. A cantilever whose compression flange nobody holds stays unknown.
func (j *judge) held(m *member, p *point) ec3.Held {
	sagging := p.m > 0
	full, spacing := j.edge(m, sagging)
	h := ec3.Held{Full: full}
	h.BucklingY, h.BucklingZ = j.buckling(m, p.span)
	s := j.stretch(m, p.span)
	switch {
	case full:
	case spacing > 0 && spacing < s.length:
		h.LateralLength, h.Moment = spacing, ec3.ConstantMoment
	case s.overhang:
	case j.freeEnds(m, p.span):
		h.LateralLength, h.Moment = s.length, ec3.UniformLoad
		switch j.loadEdge(m, sagging) {
		case ec5.CompressionEdge:
			h.LoadAbove = m.section.Depth / 2
		case ec5.TensionEdge:
			h.LoadAbove = -m.section.Depth / 2
		}
	default:
		h.LateralLength, h.Moment = s.length, ec3.ConstantMoment
	}
	return h
}
