package facts

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// memberRow is what a document fact of a member is worked out from.
type memberRow struct {
	w     *work
	index int32
	m     *model.Member
	d     *model.Detail
	sh    *frame.Shape
}

// documentMembers offers the facts that all pieces of a member share.
func (w *work) documentMembers() {
	offer(w, rows[memberRow]{vocabulary.Member, true, len(w.doc.Members), func(i int, r *memberRow) *memberRow {
		*r = memberRow{w: w, index: int32(i), m: &w.doc.Members[i], d: w.doc.Members[i].More(), sh: &w.frame.Shapes[i]}
		return r
	}}, memberFacts)
}

var memberFacts = []fill[memberRow]{
	{name: "id", text: func(r *memberRow) textValue { return txt(r.m.Mark) }},
	{name: "role", text: func(r *memberRow) textValue { return txt(string(r.m.Role)) }},
	{name: "material", text: (*memberRow).material},
	{name: "grade", text: func(r *memberRow) textValue { return said(r.m.Grade) }},
	{name: "section", text: section(func(s *model.Section) textValue { return txt(s.Text) })},
	{name: "shape", text: section(func(s *model.Section) textValue { return txt(shapeNames[s.Shape]) })},
	{name: "finish", text: section(func(s *model.Section) textValue { return said(s.Finish) })},
	{name: "width", number: dimension(func(s *model.Section) float64 { return s.Width })},
	{name: "breadth", number: dimension((*model.Section).Breadth)},
	{name: "depth", number: dimension(func(s *model.Section) float64 { return s.Depth })},
	{name: "plies", number: func(r *memberRow) numberValue {
		if r.m.Section == nil {
			return noNumber("no section is stated")
		}
		return num(float64(max(1, r.m.Section.Plies)))
	}},
	{name: "load_lifts", truth: func(r *memberRow) truthValue {
		return yes(slices.ContainsFunc(r.m.Loads, func(l model.Load) bool {
			return l.Action != model.Wind && min(l.Point, l.First, l.Last) < 0
		}))
	}},
	{name: "plies_unequal", truth: func(r *memberRow) truthValue {
		s := r.m.Section
		return yes(s != nil && (s.UnequalPlies || s.Shape == model.Layered && unequalTimbers(r.w, s)))
	}},
	{name: "plies_joined", text: func(r *memberRow) textValue {
		if r.d.PliesJoined == "" && r.m.Section != nil {
			return said(r.m.Section.Bolts)
		}
		return done(r.d.PliesJoined)
	}},
	{name: "length", number: known(func(r *memberRow) float64 { return r.sh.Length })},
	{name: "slope", number: known(func(r *memberRow) float64 { return r.sh.Slope })},
	{name: "kinks", number: known(func(r *memberRow) float64 { return float64(r.sh.Kinks) })},
	{name: "kinks_in_plan", number: known(func(r *memberRow) float64 { return float64(r.sh.KinksPlan) })},
	{name: "kinks_without_joint", number: known((*memberRow).kinksWithoutJoint)},
	{name: "joints", number: func(r *memberRow) numberValue { return num(float64(len(r.d.Joints))) }},
	{name: "joint_capacity", number: (*memberRow).jointCapacity},
	{name: "weld", text: (*memberRow).weld},
	{name: "centres", number: func(r *memberRow) numberValue { return given(r.m.Centres) }},
	{name: "strip_ratio", number: (*memberRow).stripRatio},
	{name: "step", number: (*memberRow).step},
	{name: "pieces", number: func(r *memberRow) numberValue { return num(float64(r.m.Pieces())) }},
	{name: "is_ground", truth: func(r *memberRow) truthValue { return yes(r.m.Ground) }},
	{name: "is_structural", truth: func(r *memberRow) truthValue { return yes(!r.m.Ground && structural(r.m.Role)) }},
	{name: "phase", text: func(r *memberRow) textValue { return txt(r.m.Phase.String()) }},
	{name: "condition", text: func(r *memberRow) textValue { return said(r.m.Condition) }},
	{name: "is_unverified", truth: func(r *memberRow) truthValue { return yes(r.m.Condition == "unverified") }},
	{name: "service_class", number: func(r *memberRow) numberValue {
		if c := serviceClass(r.w.doc, r.m); c > 0 {
			return num(float64(c))
		}
		return noNumber(unsaid)
	}},
	{name: "treated", text: func(r *memberRow) textValue { return done(r.d.Treated) }},
	{name: "fire_protection", text: func(r *memberRow) textValue { return done(r.d.Fire) }},
	{name: "corrosion_protection", text: func(r *memberRow) textValue { return done(r.d.Corrosion) }},
	{name: "end_fixing", text: (*memberRow).endFixing},
	{name: "restraint_top", text: func(r *memberRow) textValue { return txt(holdName(r.m.Restraint.Top)) }},
	{name: "restraint_bottom", text: func(r *memberRow) textValue { return txt(holdName(r.m.Restraint.Bottom)) }},
	{name: "edge_held_every", number: func(r *memberRow) numberValue {
		switch h := r.m.Restraint.Top; {
		case !h.Said:
			return noNumber("the top edge is held at the supports only")
		case h.Full:
			return num(0)
		default:
			return num(h.Spacing)
		}
	}},
	{name: "depth_to_breadth", number: dimension(func(s *model.Section) float64 {
		if s.Breadth() == 0 {
			return 0
		}
		return s.Depth / s.Breadth()
	})},
	{name: "blocking_rows", number: func(r *memberRow) numberValue { return num(float64(r.blockingRows())) }},
	{name: "straps", number: func(r *memberRow) numberValue { return num(float64(len(r.d.Straps))) }},
	{name: "stage", text: func(r *memberRow) textValue { return said(r.w.doc.Site.Stage) }},
	{name: "old_not_relied_on", truth: func(r *memberRow) truthValue { return yes(r.w.doc.Site.Existing == "not relied on") }},
	{name: "corner_tie_capacity", number: (*memberRow).cornerTie},
	{name: "strap_spacing", number: func(r *memberRow) numberValue {
		return widestSpacing("lateral", r.w.tiedTo(r.m.Mark), r.d.Straps)
	}},
	{name: "holding_down_spacing", number: func(r *memberRow) numberValue { return widestSpacing("holding down", r.d.Straps) }},
	{name: "notch_count", number: func(r *memberRow) numberValue { return num(float64(len(r.d.Notches))) }},
	{name: "hole_count", number: func(r *memberRow) numberValue { return num(float64(len(r.d.Holes))) }},
	{name: "notched_both_faces", truth: func(r *memberRow) truthValue {
		top := slices.ContainsFunc(r.d.Notches, func(n model.Notch) bool { return n.Face != model.Bottom })
		bottom := slices.ContainsFunc(r.d.Notches, func(n model.Notch) bool { return n.Face == model.Bottom })
		return yes(top && bottom)
	}},
	{name: "least_gap", number: (*memberRow).leastGap},
	{name: "least_hole_spacing", number: (*memberRow).leastHoleSpacing},
	{name: "deck", number: (*memberRow).deck},
	{name: "carries_kind", text: (*memberRow).carriesKind},
	{name: "carries_brittle", truth: (*memberRow).carriesBrittle},
	{name: "covering", text: func(r *memberRow) textValue {
		for _, a := range r.areas() {
			if a.Covering != "" {
				return txt(a.Covering)
			}
		}
		return noText(unsaid)
	}},
	{name: "covered_by", text: func(r *memberRow) textValue { return said(r.m.CoveredBy) }},
	{name: "seen_by", text: func(r *memberRow) textValue {
		if r.d.Seen == nil {
			return noText(unsaid)
		}
		return said(r.d.Seen.By)
	}},
	{name: "seen_photo", text: func(r *memberRow) textValue {
		if r.d.Seen == nil {
			return noText(unsaid)
		}
		return said(r.d.Seen.Photo)
	}},
	{name: "drawing", text: func(r *memberRow) textValue {
		var ids []string
		for _, d := range r.m.Drawings {
			ids = append(ids, d.ID)
		}
		return said(strings.Join(ids, ", "))
	}},
	{name: "drawings_named", number: func(r *memberRow) numberValue { return num(float64(len(r.m.Drawings))) }},
	{name: "is_open", truth: func(r *memberRow) truthValue {
		return yes(slices.ContainsFunc(r.m.Drawings, func(d model.DrawingRef) bool { return d.To != "" }))
	}},
	{name: "piece_mass", number: func(r *memberRow) numberValue {
		mass, why := r.w.down.Mass(r.index)
		if why != "" {
			return noNumber(why)
		}
		return num(mass)
	}},
	{name: "is_tied", truth: func(r *memberRow) truthValue { return yes(len(r.m.Ties) > 0) }},
	{name: "tie_capacity", number: (*memberRow).tieCapacity},
	{name: "stated_total", number: func(r *memberRow) numberValue {
		return r.stated(func(s *model.Stated) model.Quantity { return s.TotalLoad })
	}},
	{name: "stated_line", number: func(r *memberRow) numberValue {
		return r.stated(func(s *model.Stated) model.Quantity { return s.LineLoad })
	}},
	{name: "stated_moment", number: func(r *memberRow) numberValue {
		return r.stated(func(s *model.Stated) model.Quantity { return s.Moment })
	}},
	{name: "stated_by", text: func(r *memberRow) textValue {
		if r.d.Stated == nil {
			return noText(unsaid)
		}
		return said(r.d.Stated.By)
	}},
	{name: "stiffness_known", truth: func(r *memberRow) truthValue { return yes(r.w.down.Stiffness(r.index).EI > 0) }},
	{name: "density_known", truth: func(r *memberRow) truthValue {
		_, why := r.w.down.Mass(r.index)
		return yes(why == "")
	}},
	{name: "openings", number: func(r *memberRow) numberValue { return num(float64(len(r.d.Openings))) }},
	{name: "openings_bare", number: func(r *memberRow) numberValue { return num(float64(len(r.bareOpenings()))) }},
	{name: "bare_opening_from", number: firstBare(func(o *model.Opening) model.Quantity { return o.From })},
	{name: "bare_opening_to", number: firstBare(func(o *model.Opening) model.Quantity { return o.To })},
	{name: "wall_height", number: func(r *memberRow) numberValue { return given(r.d.Height) }},
	{name: "wall_width", number: func(r *memberRow) numberValue { return given(r.m.Width) }},
	{name: "section_assumed", truth: func(r *memberRow) truthValue { return yes(r.m.Section != nil && r.m.Section.Nominal != "") }},
	{name: "plumb_cut", number: func(r *memberRow) numberValue {
		switch {
		case r.m.Section == nil || r.m.Section.Depth == 0:
			return noNumber("no section is stated whose depth is known")
		case !r.sh.Known:
			return noNumber(noAxis)
		case r.sh.Upright:
			return noNumber("it stands upright")
		}
		return num(plumbCut(r.m, r.sh))
	}},
}

var shapeNames = map[model.Shape]string{
	model.Rectangle: "rectangle", model.SquareHollow: "hollow", model.RectangularHollow: "hollow", model.CircularHollow: "hollow",
	model.ISection: "i", model.Channel: "channel", model.Layered: "layered", model.Properties: "properties",
}

// section makes a text of the section, absent where none is stated.
func section(of func(*model.Section) textValue) func(*memberRow) textValue {
	return func(r *memberRow) textValue {
		if r.m.Section == nil {
			return noText("no section is stated")
		}
		return of(r.m.Section)
	}
}

// dimension makes a number of the section, absent where it is not known.
func dimension(of func(*model.Section) float64) func(*memberRow) numberValue {
	return func(r *memberRow) numberValue {
		if r.m.Section == nil {
			return noNumber("no section is stated")
		}
		if v := of(r.m.Section); v > 0 {
			return num(v)
		}
		return noNumber("the section does not give it")
	}
}

// known makes a number of the axis, absent where there is none.
func known(of func(*memberRow) float64) func(*memberRow) numberValue {
	return func(r *memberRow) numberValue {
		if !r.sh.Known {
			return noNumber(noAxis)
		}
		return num(of(r))
	}
}

const noAxis = "it has neither a path nor a length"

func (r *memberRow) material() textValue {
	switch {
	case r.m.Material != "":
		return txt(r.m.Material)
	case r.w.down.Materials[r.index].Kind != "":
		return txt(r.w.down.Materials[r.index].Kind)
	case r.m.Section != nil && r.m.Section.SteelByDefault:
		return txt("steel")
	case r.m.Section != nil && r.m.Section.Shape == model.Rectangle:
		return txt("timber")
	}
	return noText("neither a material nor a section shows what it is made of")
}

// bareOpenings is the openings over which no lintel is named that stands after the work, along the wall. A mark that the model lacks
// is another fact's.
func (r *memberRow) bareOpenings() []model.Opening {
	var out []model.Opening
	for _, o := range r.d.Openings {
		lintel := r.w.doc.Index(o.Lintel)
		if o.Lintel == "" || lintel == int(r.index) || lintel >= 0 && r.w.doc.Members[lintel].Phase == model.Removed {
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, func(a, b model.Opening) int { return cmp.Compare(a.From.Value, b.From.Value) })
	return out
}

// firstBare is a measure of the first of those.
func firstBare(of func(*model.Opening) model.Quantity) func(*memberRow) numberValue {
	return func(r *memberRow) numberValue {
		bare := r.bareOpenings()
		if len(bare) == 0 {
			return noNumber("it has no opening over which no lintel is named")
		}
		return given(of(&bare[0]))
	}
}

func (r *memberRow) kinksWithoutJoint() float64 {
	n := 0
	for i := 1; i+1 < len(r.sh.S); i++ {
		at := r.sh.S[i]
		if !slices.ContainsFunc(r.d.Joints, func(j model.Joint) bool { return math.Abs(j.At.Value-at) < 10 }) {
			n++
		}
	}
	return float64(min(n, r.sh.Kinks))
}

// step is the spacing in plan that the run's step gives, square to the member.
// stripRatio looks at what the extent of no area holds to account.
func (r *memberRow) stripRatio() numberValue {
	if !r.m.Centres.Known || r.m.Centres.Value <= 0 {
		return noNumber("its centres are not stated")
	}
	least := math.Inf(1)
	for i := range r.m.Carries {
		c := &r.m.Carries[i]
		if area := r.w.doc.Area(c.Area); c.Width.Known && area != nil && len(area.Extent) < 3 {
			least = min(least, c.Width.Value/r.m.Centres.Value)
		}
	}
	if math.IsInf(least, 1) {
		return noNumber("it carries no strip of stated width of an area without an extent")
	}
	return num(least)
}

// spacing is the centres of a run as the document states them, else the distance from piece to piece; 0 of a single member.
func (r *memberRow) spacing() float64 {
	if r.m.Centres.Known {
		return r.m.Centres.Value
	}
	return r.step().v
}

func (r *memberRow) step() numberValue {
	if r.m.Repeat.Count < 2 {
		return noNumber("it is a single piece")
	}
	s := r.m.Repeat.Step
	if r.sh.Upright || !r.sh.Known {
		return num(math.Hypot(s.X, s.Y))
	}
	return num(math.Abs(s.X*r.sh.DirY - s.Y*r.sh.DirX))
}

func (r *memberRow) endFixing() textValue {
	if r.d.EndFixing != "" {
		return done(r.d.EndFixing)
	}
	var by []string
	for _, s := range r.m.Supports {
		switch {
		case s.By == "seat":
			return noText("it is said to be laid on what carries it, and not how it is fixed there")
		case s.By != "":
			by = append(by, s.By)
		case s.Against == "":
			return noText(unsaid)
		}
	}
	return said(strings.Join(by, ", "))
}

// jointCapacity is the least moment that a joint of the member is stated to hold.
func (r *memberRow) jointCapacity() numberValue {
	least := noNumber("no joint of it is stated to hold a moment")
	for _, j := range r.d.Joints {
		if j.Capacity.Known && (least.why != "" || j.Capacity.Value < least.v) {
			least = num(j.Capacity.Value)
		}
	}
	return least
}

// weld is the weld or bolted detail of the member's cranks and splices; of several joints each has to state its own, where
// the member does not state one for all.
func (r *memberRow) weld() textValue {
	details := make([]string, 0, len(r.d.Joints))
	if r.d.Weld != "" {
		return done(r.d.Weld)
	}
	for _, j := range r.d.Joints {
		switch {
		case done(j.Detail).why != "":
			return noText("the weld or bolted detail of one of its joints is not stated")
		case !slices.Contains(details, j.Detail):
			details = append(details, j.Detail)
		}
	}
	return said(strings.Join(details, "; "))
}

// blockingRows counts the rows of strutting that a member has within its spans. Blocks that pass a load on are none, nor is
// what closes the gaps over a support; two rows in one place are one.
func (r *memberRow) blockingRows() int {
	n, taken := 0, r.supportPlaces()
	for _, b := range r.d.Blocking {
		switch {
		case b.Kind == "block":
		case !b.At.Known:
			n++
		case !slices.ContainsFunc(taken, func(at float64) bool { return math.Abs(at-b.At.Value) < oneRow }):
			taken = append(taken, b.At.Value)
			n++
		}
	}
	return n
}

// oneRow is the distance within which blocks stand in one row, staggered ones too, mm (common practice, no source).
const oneRow = 150.0

// supportPlaces is where along the axis the first piece of the member is held.
func (r *memberRow) supportPlaces() (out []float64) {
	first, end := r.w.frame.PiecesOf(r.index)
	if first == end {
		return nil
	}
	supports, _ := r.w.frame.SupportsOf(first)
	for k := range supports {
		if supports[k].Holds() {
			out = append(out, supports[k].At)
		}
	}
	return out
}

// widestSpacing is the widest centres of the straps of one kind.
func widestSpacing(kind string, lists ...[]model.Strap) numberValue {
	widest, found := 0.0, false
	for _, straps := range lists {
		for _, s := range straps {
			if s.Kind == kind && s.Centres.Known {
				widest, found = max(widest, s.Centres.Value), true
			}
		}
	}
	if !found {
		return noNumber("no " + kind + " straps are stated with their centres")
	}
	return num(widest)
}

// tieStraps lists the straps of members by the mark that they tie to.
func (w *work) tieStraps() {
	w.strapsTo = map[string][]model.Strap{}
	for i := range w.doc.Members {
		for _, s := range w.doc.Members[i].More().Straps {
			if s.To != "" {
				w.strapsTo[s.To] = append(w.strapsTo[s.To], s)
			}
		}
	}
}

// tiedTo is the straps of other members that are tied to a mark.
func (w *work) tiedTo(mark string) []model.Strap { return w.strapsTo[mark] }

// unequalTimbers says whether the timber layers of a sandwich differ in size or grade.
func unequalTimbers(w *work, s *model.Section) bool {
	var first *model.Layer
	for i := range s.Layers {
		l := &s.Layers[i]
		if isSteelGrade(w, l.Grade) {
			continue
		}
		if first != nil && *first != *l {
			return true
		}
		first = l
	}
	return false
}

// isSteelGrade says whether a grade is known for steel or, where nobody knows it, is called like one: S275.
func isSteelGrade(w *work, grade string) bool {
	if kind := w.down.Grades[grade].Kind; kind != "" {
		return kind == "steel"
	}
	return len(grade) == 4 && grade[0] == 'S' && grade[1] >= '0' && grade[1] <= '9'
}

// cornerTie is the lesser of the stated capacities, along the hip in plan, of its angle tie and its corner joint.
func (r *memberRow) cornerTie() numberValue {
	tie := r.tieCapacity()
	if tie.why != "" {
		return noNumber("no angle tie of stated capacity is declared")
	}
	joint := math.Inf(1)
	for _, s := range r.d.Straps {
		if s.Capacity != nil && s.Capacity.Along.Known {
			joint = min(joint, s.Capacity.Along.Value)
		}
	}
	if math.IsInf(joint, 1) {
		return noNumber("no corner joint of stated capacity is declared")
	}
	return num(min(tie.v, joint))
}

func (r *memberRow) leastGap() numberValue {
	least := math.Inf(1)
	for _, n := range r.d.Notches {
		for _, h := range r.d.Holes {
			if !n.At.Known || !n.Length.Known || !h.At.Known || !h.Diameter.Known {
				return noNumber("the place or size of a notch or hole is not stated")
			}
			least = min(least, math.Abs(n.At.Value-h.At.Value)-n.Length.Value/2-h.Diameter.Value/2)
		}
	}
	if math.IsInf(least, 1) {
		return noNumber("it has no notch beside a hole")
	}
	return num(max(0, least))
}

func (r *memberRow) leastHoleSpacing() numberValue {
	least := math.Inf(1)
	for i, a := range r.d.Holes {
		for _, b := range r.d.Holes[i+1:] {
			if !a.At.Known || !b.At.Known || !a.Diameter.Known || !b.Diameter.Known {
				return noNumber("the place or size of a hole is not stated")
			}
			if d := max(a.Diameter.Value, b.Diameter.Value); d > 0 {
				least = min(least, math.Abs(a.At.Value-b.At.Value)/d)
			}
		}
	}
	if math.IsInf(least, 1) {
		return noNumber("it has no two holes")
	}
	return num(least)
}

// areas is what the member carries a strip of.
func (r *memberRow) areas() []*model.Area {
	var out []*model.Area
	for k := range r.m.Carries {
		if a := r.w.doc.Area(r.m.Carries[k].Area); a != nil {
			out = append(out, a)
		}
	}
	return out
}

func (r *memberRow) deck() numberValue {
	if r.d.Deck.Known {
		return num(r.d.Deck.Value)
	}
	for _, a := range r.areas() {
		if a.Deck.Known {
			return num(a.Deck.Value)
		}
	}
	return noNumber("the area that it carries states no deck")
}

func (r *memberRow) carriesKind() textValue {
	var kinds []string
	for _, a := range r.areas() {
		if !slices.Contains(kinds, a.Kind) {
			kinds = append(kinds, a.Kind)
		}
	}
	return txt(strings.Join(kinds, ", "))
}

func (r *memberRow) carriesBrittle() truthValue {
	if r.w.isBrittle(r.m.CoveredBy) {
		return yes(true)
	}
	areas := r.areas()
	for _, a := range areas {
		if r.w.isBrittle(a.Finish) {
			return yes(true)
		}
	}
	for _, a := range areas {
		if a.Finish == "" {
			return noTruth("the area that it carries does not say what hangs beneath it")
		}
	}
	return yes(false)
}

// mayCarryBrittle is carriesBrittle for a region, whose limits are stricter where it is true: so it is where nobody says.
func (r *memberRow) mayCarryBrittle() bool {
	brittle := r.carriesBrittle()
	return brittle.v || brittle.why != ""
}

// isBrittle says whether a finish cracks. What a document in US units calls gypsum board or drywall is a flexible finish there (IRC
// R301.7); elsewhere it is another word for plasterboard.
func (w *work) isBrittle(finish string) bool {
	words := []string{"plaster", "stucco"}
	if w.doc.Units != model.US {
		words = append(words, "gypsum", "drywall")
	}
	finish = strings.ToLower(finish)
	return slices.ContainsFunc(words, func(word string) bool { return strings.Contains(finish, word) })
}

func (r *memberRow) tieCapacity() numberValue {
	if len(r.m.Ties) == 0 {
		return noNumber("nothing ties it")
	}
	least := math.Inf(1)
	for _, t := range r.m.Ties {
		if t.Capacity == nil || !t.Capacity.Along.Known {
			return noNumber("the lap of its tie has no stated capacity")
		}
		least = min(least, t.Capacity.Along.Value)
	}
	return num(least)
}

func (r *memberRow) stated(of func(*model.Stated) model.Quantity) numberValue {
	if r.d.Stated == nil {
		return noNumber("no maker's or engineer's figure is stated")
	}
	return given(of(r.d.Stated))
}

func holdName(h model.Hold) string {
	switch {
	case !h.Said:
		return "ends"
	case h.Full:
		return "full"
	}
	return "spaced"
}

func serviceClass(doc *model.Document, m *model.Member) int {
	if m.Service > 0 {
		return m.Service
	}
	return doc.Site.ServiceClass
}

// structural says whether a role carries load between supports or down: walls and boards are left out.
func structural(r model.Role) bool {
	switch r {
	case model.RoleWall, model.RolePier, model.RoleFoundation, model.RoleRidgeBoard, model.RoleWallPlate, model.RoleSolePlate:
		return false
	}
	return true
}

// roleBrace is what keeps a roof or a wall from leaning; it carries nothing, and the model has no rules for it.
const roleBrace model.Role = "brace"

func removesStability(m *model.Member) bool {
	return m.Phase == model.Removed && (m.Role == model.RoleWall || m.Role == model.RolePier || m.Role == roleBrace || m.More().BraceRemoved)
}

// plumbCut is the depth of the upright cut at the head of a member that slopes, mm; 0 where there is none.
func plumbCut(m *model.Member, sh *frame.Shape) float64 {
	if m.Section == nil || !sh.Known || sh.Upright {
		return 0
	}
	return m.Section.Depth / math.Cos(sh.Slope)
}

// kindOf is a member's material where it is known.
func kindOf(w *work, member int32) string {
	r := memberRow{w: w, index: member, m: &w.doc.Members[member]}
	return r.material().v
}
