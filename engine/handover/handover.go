// Package handover puts together all that the page of a check shows to the building authority and the engineer. It does not
// know how the page looks.
package handover

import (
	"fmt"
	"slices"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/order"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/engine/report/page"
	"example.com/scantling/model"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

// Page is all that the page of a checked run shows. Who compares it with what was built sets Against.
func Page(r *engine.Run) *page.Page {
	result := *r.Result
	p := &page.Page{Result: &result, Frame: Drawn(r), Takedown: *r.Listing()}
	if shown, all := work(r, p.Frame.Members); shown < all {
		result.Notes = append(slices.Clone(result.Notes), fmt.Sprintf("Working is shown for %d of %d members, those with the gravest findings "+
			"first; `scantling facts MODEL MARK` gives that of any other.", shown, all))
	}
	for _, point := range order.Works(r).Points {
		p.Covered = append(p.Covered, page.Covered{Member: point.Member, What: point.What(), Before: point.Before, Drawing: point.Drawing, Seen: point.Seen})
	}
	for i := range r.Result.Findings {
		if s := r.Result.Findings[i].Signoff; s != nil && s.Lapsed == "" && !slices.Contains(p.Signoffs, *s) {
			p.Signoffs = append(p.Signoffs, *s)
		}
	}
	if r.Preparation != nil {
		for _, a := range r.Preparation.Assumptions {
			p.Assumptions = append(p.Assumptions, page.Assumption{Text: a.Text, Source: r.Description.ID + " " + r.Description.Edition})
		}
	}
	return p
}

// Drawn is the frame as lines in space with the loads that pass between its pieces. Of a run that was not judged no
// member has a state.
func Drawn(r *engine.Run) draw.Frame {
	f := r.Down.Frame
	out := draw.Frame{Units: f.Document.Units, Cases: r.CaseIDs()}
	judged, found := judged(r), foundOn(r)
	for i := range f.Document.Members {
		from, to := f.PiecesOf(int32(i))
		if from == to {
			continue
		}
		m := &f.Document.Members[i]
		d := draw.Member{Mark: m.Mark, Role: string(m.Role), Grade: m.Grade, Ground: m.Ground, State: draw.StateOf(found[m.Mark], judged[i])}
		if m.Section != nil {
			d.Section = m.Section.Text
		}
		if m.Role == model.RoleWall || m.Role == model.RolePier || m.Role == model.RoleFoundation {
			d.Width = m.Width.Value
		}
		for _, ref := range m.Drawings {
			d.Drawings = append(d.Drawings, ref.ID)
		}
		for piece := from; piece < to; piece++ {
			d.Pieces = append(d.Pieces, draw.Piece{Name: f.Name(piece), Axis: axis(f, piece)})
		}
		out.Members = append(out.Members, d)
	}
	for i := range f.Supports {
		if s := &f.Supports[i]; s.Holds() {
			out.Hops = append(out.Hops, draw.Hop{From: f.Name(s.Piece), To: f.Name(s.On), At: meets(f, s), Load: passes(r, int32(i))})
		}
	}
	return out
}

// axis is the axis of a piece in space; nil where the document gives no path.
func axis(f *frame.Frame, piece int32) []model.Point {
	sh := f.Shape(piece)
	if !sh.Placed {
		return nil
	}
	out := make([]model.Point, len(sh.S))
	for i, s := range sh.S {
		out[i] = f.Point(piece, s)
	}
	return out
}

// meets is the place of a support in space, by whichever of the two pieces has one.
func meets(f *frame.Frame, s *frame.Support) model.Point {
	switch {
	case f.Shape(s.Piece).Placed:
		return f.Point(s.Piece, s.At)
	case f.Shape(s.On).Placed:
		return f.Point(s.On, max(0, s.OnAt))
	}
	return model.Point{}
}

// passes is what goes down through a support in each case, N.
func passes(r *engine.Run, support int32) []float64 {
	out := make([]float64, len(r.Down.Cases))
	for c := range out {
		out[c] = r.Down.Reaction(support, c).Z
	}
	return out
}

// foundOn is the findings by mark.
func foundOn(r *engine.Run) map[string][]finding.Finding {
	out := map[string][]finding.Finding{}
	if r.Result != nil {
		for _, f := range r.Result.Findings {
			out[f.Member] = append(out[f.Member], f)
		}
	}
	return out
}

// judged says of each member whether any rule about members or supports applied to it. Without the matrix of outcomes
// only what was found tells.
func judged(r *engine.Run) []bool {
	f := r.Down.Frame
	out := make([]bool, len(f.Document.Members))
	if r.Judgement == nil || r.Judgement.Matrix == nil {
		return out
	}
	for i, rule := range r.Set.Rules {
		for row, outcome := range r.Judgement.Matrix[i] {
			if outcome == pack.NotApplicable {
				continue
			}
			switch rule.Judges {
			case vocabulary.Member:
				out[f.Pieces[row].Member] = true
			case vocabulary.Support:
				out[f.Pieces[f.Supports[row].Piece].Member] = true
			}
		}
	}
	return out
}

// mostWorking bounds the lines of working on a page, which would otherwise outgrow what a browser opens.
const mostWorking = 20000

// work gives members the region's working of their worst piece, the gravest first, as long as the page has room. It
// returns how many have theirs, of how many that have any.
func work(r *engine.Run, members []draw.Member) (shown, all int) {
	order := make([]int, len(members))
	for i := range order {
		order[i] = i
	}
	grave := func(i int) int { return slices.Index(draw.States, members[i].State) }
	slices.SortStableFunc(order, func(a, b int) int { return grave(a) - grave(b) })
	lines := 0
	for _, i := range order {
		steps := workingOf(r, int32(r.Source.Document.Index(members[i].Mark)))
		if len(steps) == 0 {
			continue
		}
		all++
		if lines += len(steps); lines <= mostWorking {
			members[i].Working = steps
			shown++
		}
	}
	return shown, all
}

// workingOf is the region's working for the worst piece of a member, each part under its fact with what it is worked under.
func workingOf(r *engine.Run, member int32) []finding.Step {
	if len(r.Working) == 0 {
		return nil
	}
	var out []finding.Step
	piece := r.WorstPiece(member)
	for _, s := range r.Working[r.Filled.Classes.Of[piece]] {
		of := r.Description.Facts[s.Fact].Name
		if c := r.Filled.Governing(int(s.Fact), len(r.Description.Facts), piece); c >= 0 && int(c) < len(r.Combinations) {
			of += " under " + r.Combinations[c].ID
		}
		out = append(out, finding.Step{Fact: of, Symbol: s.Symbol, Value: s.Value, Unit: s.Unit, Clause: s.Clause})
	}
	return out
}
