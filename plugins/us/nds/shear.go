package nds

import "math"

// Shear is the shear force of a member at a support or elsewhere.
type Shear struct {
	Force    float64 // N; its sign is not read
	Duration Duration
	Near     *NearSupport // load that may be left out; nil: none is
	Notch    *EndNotch    // nil: none
}

// NearSupport describes the load of a single span that bears on the opposite edge to the support, so that what acts
// within the depth of the support may be left out of the shear there (NDS 3.4.3.1a).
type NearSupport struct {
	Span    float64 // mm
	Uniform float64 // N/mm over the whole span
	Points  []PointLoad
}

// PointLoad is a load, N, at a distance from the face of the support, mm.
type PointLoad struct{ Load, At float64 }

// EndNotch is a cut at the end of a member over its bearing.
type EndNotch struct {
	Depth float64 // of the cut, mm
	Edge  Edge
	Reach float64 // from the inner edge of the support to the end of the cut, mm; read for the compression edge only
}

// Edge names the edge that is cut.
type Edge int

// The zero Edge says nothing, and the check of a notch is then absent.
const (
	TensionEdge     Edge = iota + 1 // the lower edge of a simple span
	CompressionEdge                 // the upper
)

// Shear checks the shear parallel to grain, or the shear that a notched end may carry (NDS 3.4). How deep a notch may
// be at all is not judged here (NDS 4.4.3; IRC R502.8.1).
func (m Member) Shear(s Shear) (Check, error) {
	const name = "shear"
	if err := finite(name, s.Force); err != nil {
		return Check{}, err
	}
	w := m.begin()
	v := w.set("V", math.Abs(s.Force), "N", "", "")
	if s.Near != nil {
		left, err := s.Near.leftOut(m.Section.Depth())
		if err != nil {
			return Check{}, err
		}
		w.set("V_near", left, "N", "NDS 3.4.3.1(a)", "share of the reaction from load within the depth of the supports")
		v = w.set("V", math.Max(v-left, 0), "N", "NDS 3.4.3.1(a)", "")
	}
	fv, err := m.adjusted(&w, Fv, s.Duration)
	if err != nil {
		return Check{}, err
	}
	if s.Notch != nil {
		capacity, err := m.notched(&w, *s.Notch, fv)
		if err != nil {
			return Check{}, err
		}
		return w.check("shear at a notched end", "NDS 3.4.3.2", v/capacity)
	}
	w.set("b", m.Section.Breadth(), "mm", "", "")
	w.set("d", m.Section.Depth(), "mm", "", "")
	stress := w.set("fv", 1.5*v/m.Section.Area(), "N/mm2", "NDS 3.4.2 (3.4-2)", "")
	return w.check(name, "NDS 3.4.1", stress/fv)
}

// notched is the shear V'r that the end may carry, N.
func (m Member) notched(w *working, n EndNotch, fv float64) (float64, error) {
	const what = "shear at a notched end"
	d, b := m.Section.Depth(), m.Section.Breadth()
	if !(n.Depth > 0 && n.Depth < d) {
		return 0, absent(what, "the notch must be deeper than 0 and shallower than the member's %g mm", d)
	}
	w.set("d", d, "mm", "", "")
	dn := w.set("dn", d-n.Depth, "mm", "NDS 3.4.3.2", "depth that remains")
	switch n.Edge {
	case TensionEdge:
		return w.set("V'r", 2.0/3*fv*b*dn*(dn/d)*(dn/d), "N", "NDS 3.4.3.2(a) (3.4-3)", ""), nil
	case CompressionEdge:
		if !(n.Reach >= 0) || math.IsInf(n.Reach, 0) {
			return 0, absent(what, "the reach of the cut past the support must be stated, 0 or more")
		}
		e := w.set("e", n.Reach, "mm", "NDS 3.4.3.2(e)", "")
		if e > dn {
			return w.set("V'r", 2.0/3*fv*b*dn, "N", "NDS 3.4.3.2(e)", "the cut reaches further than dn: dn is the depth"), nil
		}
		return w.set("V'r", 2.0/3*fv*b*(d-(d-dn)/dn*e), "N", "NDS 3.4.3.2(e) (3.4-5)", ""), nil
	}
	return 0, absent(what, "the edge that is cut must be stated")
}

// leftOut is the part of the reaction at a support, N, that comes from uniform load within d of either support, and
// from point loads within d of this one, of which x/d stays. Point loads near the far support are kept: to the safe side.
func (n NearSupport) leftOut(d float64) (float64, error) {
	const what = "shear near a support"
	if err := positive(what, "the span", n.Span); err != nil {
		return 0, err
	}
	if n.Span < 2*d {
		return 0, absent(what, "the span is shorter than twice the depth, so that no load lies beyond d of both supports")
	}
	if !(n.Uniform >= 0) || math.IsInf(n.Uniform, 0) {
		return 0, absent(what, "uniform load must be 0 or more, downward")
	}
	left := n.Uniform * d
	for _, p := range n.Points {
		if !(p.Load >= 0) || !(p.At >= 0 && p.At <= n.Span) || math.IsInf(p.Load, 0) {
			return 0, absent(what, "point loads must be 0 or more, downward, and lie in the span")
		}
		if p.At < d {
			left += p.Load * (1 - p.At/d) * (1 - p.At/n.Span)
		}
	}
	return left, nil
}
