package facts

import (
	"math"
	"slices"

	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// restRow is what a fact of one support of a piece is worked out from.
type restRow struct {
	w     *work
	index int32
	s     *frame.Support
	m     *model.Member
	sh    *frame.Shape
	on    *model.Member // nil where there is none
	onSh  *frame.Shape
}

// supports offers the facts that each support of a piece has of its own.
func (w *work) supports() {
	offer(w, rows[restRow]{vocabulary.Support, false, len(w.frame.Supports), func(i int, r *restRow) *restRow {
		w.rest(r, int32(i))
		return r
	}}, restFacts)
}

// rest makes the row of a support.
func (w *work) rest(r *restRow, support int32) {
	f := w.frame
	s := &f.Supports[support]
	*r = restRow{w: w, index: support, s: s, m: f.Member(s.Piece), sh: f.Shape(s.Piece)}
	if s.On >= 0 {
		r.on, r.onSh = f.Member(s.On), f.Shape(s.On)
	}
}

// sum is the reactions of the support.
func (r *restRow) sum() *supportSummary {
	_, first := r.w.frame.SupportsOf(r.s.Piece)
	return &r.w.summary[r.w.Classes.Of[r.s.Piece]].supports[r.index-first]
}

var restFacts = []fill[restRow]{
	{name: "at", number: func(r *restRow) numberValue {
		if r.s.Problem == frame.NoPlace {
			return noNumber(noPlace)
		}
		return num(r.s.At)
	}},
	{name: "index", number: func(r *restRow) numberValue {
		if r.s.Document < 0 {
			return noNumber(implied)
		}
		return num(float64(r.s.Document))
	}},
	{name: "is_end", truth: (*restRow).isEnd},
	{name: "is_foot", truth: func(r *restRow) truthValue { lowest, _ := r.outermost(); return yes(lowest) }},
	{name: "is_head", truth: func(r *restRow) truthValue { _, highest := r.outermost(); return yes(highest) }},
	{name: "exists", truth: func(r *restRow) truthValue { return yes(r.exists()) }},
	{name: "support_offset", number: placed(func(r *restRow) float64 { return r.s.Offset })},
	{name: "level_offset", number: placed(func(r *restRow) float64 { return r.s.Level })},
	{name: "beyond_end", number: func(r *restRow) numberValue {
		switch {
		case r.s.Problem == frame.NoPlace:
			return noNumber(noPlace)
		case !r.sh.Known:
			return noNumber(noAxis)
		}
		return num(max(0, -r.s.At, r.s.At-r.sh.Length))
	}},
	{name: "lands_beyond", number: placed(func(r *restRow) float64 { return r.s.LandsPast })},
	{name: "eccentricity", number: placed(func(r *restRow) float64 { return r.s.Eccentric })},
	{name: "eccentricity_ratio", number: func(r *restRow) numberValue {
		b := r.onBreadth()
		if !r.s.Placed || b == 0 {
			return noNumber("the breadth of what carries it, or the place of the two, is not known")
		}
		return num(r.s.Eccentric / b)
	}},
	{name: "off_bearing", number: (*restRow).offBearing},
	{name: "notch_seat", number: (*restRow).notchSeat},
	{name: "reaction", needs: ofReactions, number: sum(func(s *supportSummary) numberValue { return s.down })},
	{name: "reaction_service", needs: ofReactions, number: sum(func(s *supportSummary) numberValue { return s.service })},
	{name: "uplift", needs: ofReactions, number: sum(func(s *supportSummary) numberValue { return s.uplift })},
	{name: "push", needs: ofReactions, number: sum(func(s *supportSummary) numberValue { return s.push })},
	{name: "push_ratio", needs: ofReactions, number: (*restRow).pushRatio},
	{name: "push_taken", truth: (*restRow).pushTaken},
	{name: "is_seated", truth: (*restRow).isSeated},
	{name: "leans", truth: func(r *restRow) truthValue { return yes(r.s.Against) }},
	{name: "hangs", truth: func(r *restRow) truthValue { return yes(r.hangs()) }},
	{name: "foot_along", number: (*restRow).footAlong},
	{name: "uplift_ratio", needs: ofReactions, number: (*restRow).upliftRatio},
	{name: "uplift_below_ratio", needs: ofReactions, number: (*restRow).upliftBelowRatio},
	{name: "weight_below", number: (*restRow).weightBelow},
	{name: "capacity_ratio", needs: ofReactions, number: (*restRow).capacityRatio},
	{name: "bearing_stress", needs: ofReactions, number: (*restRow).bearingStress},
	{name: "over_opening", truth: func(r *restRow) truthValue {
		o, why := r.opening()
		return truthValue{o != nil, why}
	}},
	{name: "opening_lintel", text: func(r *restRow) textValue {
		o, why := r.opening()
		if o == nil {
			return textValue{why: why}
		}
		return txt(o.Lintel)
	}},
	{name: "to_opening", number: func(r *restRow) numberValue {
		if _, why := r.opening(); why != "" {
			return noNumber(why)
		}
		_, d := r.w.alongWall(r.index)
		if math.IsInf(d, 1) {
			return noNumber("no opening is stated in what carries it")
		}
		return num(d)
	}},
	{name: "to_wall_end", number: func(r *restRow) numberValue {
		d, _ := r.w.alongWall(r.index)
		if d < 0 {
			return noNumber("its place along a wall is not known")
		}
		return num(d)
	}},
	{name: "new_load", needs: ofReactions, number: (*restRow).newLoad},
	{name: "depth_step", number: (*restRow).depthStep},
	{name: "contact_length", number: func(r *restRow) numberValue { l, _, why := r.contact(); return numberValue{l, why} }},
	{name: "contact_width", number: func(r *restRow) numberValue { _, b, why := r.contact(); return numberValue{b, why} }},
}

// placed is a number that needs the geometry of both.
func placed(of func(*restRow) float64) func(*restRow) numberValue {
	return func(r *restRow) numberValue {
		switch {
		case r.s.Problem != frame.Sound:
			return noNumber(problemText(r.w.frame, r.s))
		case !r.s.Placed:
			return noNumber("the two have no paths to hold against each other")
		}
		return num(of(r))
	}
}

// sum is a number of the reactions, absent where the piece could not be solved.
func sum(of func(*supportSummary) numberValue) func(*restRow) numberValue {
	return func(r *restRow) numberValue {
		if why := r.w.down.Unsolved(r.s.Piece); why != "" {
			return noNumber("the reactions of " + r.m.Mark + " could not be worked out: " + why)
		}
		return of(r.sum())
	}
}

const noPlace = "neither the document nor the geometry says where it is"

// exists says whether what the document names is there, wherever it may be.
func (r *restRow) exists() bool { return r.s.Problem == frame.Sound || r.s.Problem == frame.NoPlace }

func (r *restRow) isEnd() truthValue {
	if r.s.Problem == frame.NoPlace {
		return noTruth(noPlace)
	}
	supports, _ := r.w.frame.SupportsOf(r.s.Piece)
	first, last := true, true
	for k := range supports {
		if supports[k].Problem != frame.NoPlace {
			first = first && supports[k].At >= r.s.At
			last = last && supports[k].At <= r.s.At
		}
	}
	return yes(first || last)
}

// outermost says whether the support is the lowest and whether it is the highest of a member that slopes. The only one
// counts by the half of the member that it is in.
func (r *restRow) outermost() (lowest, highest bool) {
	if !slopes(r.sh) || r.s.Problem == frame.NoPlace {
		return false, false
	}
	supports, first := r.w.frame.SupportsOf(r.s.Piece)
	z, alone := r.sh.At(r.s.At).Z, true
	lowest, highest = true, true
	for k := range supports {
		if first+int32(k) == r.index || supports[k].Problem == frame.NoPlace {
			continue
		}
		other := r.sh.At(supports[k].At).Z
		lowest, highest, alone = lowest && z <= other, highest && z >= other, false
	}
	if alone {
		highest = isHead(r.sh, r.s.At)
		lowest = !highest
	}
	return lowest, highest
}

// onBreadth is the breadth of what carries the member, mm; 0 unknown.
func (r *restRow) onBreadth() float64 {
	switch {
	case r.on == nil:
		return 0
	case r.on.Width.Known:
		return r.on.Width.Value
	case r.on.Section != nil:
		return r.on.Section.Breadth()
	}
	return 0
}

// footAcross is the width of an upright member's foot, measured across what carries it, mm: its depth runs along the
// direction that the document gives, else along what carries it.
func (r *restRow) footAcross() (across, along float64) {
	if r.m.Section == nil {
		return 0, 0
	}
	across, along = r.m.Section.Breadth(), r.m.Section.Depth
	turn := r.m.More().DepthAlong
	if !turn.Known || r.onSh == nil || r.onSh.Upright {
		return across, along
	}
	x, y := r.onSh.DirX, r.onSh.DirY
	sin, cos := math.Sincos(turn.Value)
	if math.Abs(cos*x+sin*y) < math.Sqrt2/2 {
		return along, across
	}
	return across, along
}

// offBearing is how much of an upright member's foot stands past the face of what carries it.
func (r *restRow) offBearing() numberValue {
	b := r.onBreadth()
	across, along := r.footAcross()
	past := func(foot float64) float64 { return min(foot, max(0, r.s.Eccentric+foot/2-b/2)) }
	switch {
	case !r.s.Placed:
		return noNumber("the two have no paths to hold against each other")
	case !r.sh.Upright && !isPost(r.m.Role):
		return noNumber("it does not stand on its foot")
	case b == 0 || across == 0:
		return noNumber("the breadth of the foot, or of what carries it, is not known")
	case r.sh.Upright && !r.m.More().DepthAlong.Known && past(across) != past(along):
		return noNumber("which way the depth of " + r.m.Mark + " lies is not stated, and turned it would stand past the face by another length: state depth_along")
	}
	return num(past(across))
}

// notchSeat is the level seat that a birdsmouth leaves: its depth over the sine of the slope.
func (r *restRow) notchSeat() numberValue {
	if r.s.Document < 0 {
		return noNumber(implied)
	}
	n := r.m.Supports[r.s.Document].Notch
	if n == nil || !n.Depth.Known {
		return noNumber("it is not notched there")
	}
	_, sin := r.sh.SlopeAt(r.s.At)
	if math.Abs(sin) < 0.02 {
		return noNumber("it lies level")
	}
	return num(n.Depth.Value / math.Abs(sin))
}

// pushTaken says whether something declared resists a push sideways at this support or further down: a support or
// connection that holds it, a lateral strap, a tie. That a member thrusts says that it pushes, not what holds it.
func (r *restRow) pushTaken() truthValue {
	return yes(r.w.holdsPush(r.index, map[int32]bool{}))
}

func (w *work) holdsPush(support int32, seen map[int32]bool) bool {
	s := &w.frame.Supports[support]
	m := w.frame.Member(s.Piece)
	if s.Document >= 0 {
		said := &m.Supports[s.Document]
		if said.Horizontal || said.Fixed || said.Capacity != nil && said.Capacity.Along.Known {
			return true
		}
	}
	if hasLateralStrap(m) {
		return true
	}
	if s.On < 0 || seen[s.On] {
		return false
	}
	seen[s.On] = true
	on := w.frame.Member(s.On)
	if hasLateralStrap(on) || slices.ContainsFunc(w.tiedTo(on.Mark), func(s model.Strap) bool { return s.Kind == "lateral" }) {
		return true
	}
	below, first := w.frame.SupportsOf(s.On)
	for k := range below {
		if w.holdsPush(first+int32(k), seen) {
			return true
		}
	}
	return false
}

func hasLateralStrap(m *model.Member) bool {
	return slices.ContainsFunc(m.More().Straps, func(s model.Strap) bool { return s.Kind == "lateral" })
}

// isSeated says whether the member rests on its bearing there: what it names is there, and it neither lies along it nor
// hangs beside it nor leans.
func (r *restRow) isSeated() truthValue {
	return yes(r.exists() && !r.s.Continuous && !r.s.Against && r.s.Document >= 0 && !isHung(r.m.Supports[r.s.Document].By) && !r.hangs())
}

// hangs says whether an upright member is held at its upper end and nowhere below.
func (r *restRow) hangs() bool {
	if !r.sh.Upright || !r.exists() {
		return false
	}
	middle := (r.sh.Points[0].Z + r.sh.Points[len(r.sh.Points)-1].Z) / 2
	supports, _ := r.w.frame.SupportsOf(r.s.Piece)
	return !slices.ContainsFunc(supports, func(s frame.Support) bool { return s.Holds() && r.sh.At(s.At).Z <= middle })
}

// isHung says whether a fixing holds a member beside what carries it.
func isHung(by string) bool {
	return by == "hanger" || by == "bolted" || by == "welded" || by == "nailed"
}

// footAlong is the length along a wall that the member's end covers on its seat.
func (r *restRow) footAlong() numberValue {
	length, width, why := r.contact()
	if why != "" {
		return noNumber(why)
	}
	if r.alongIt() {
		return num(length)
	}
	return num(width)
}

// alongIt says whether the length of a contact lies along what carries it, as that of a post's foot does.
func (r *restRow) alongIt() bool { return r.sh.Upright || !r.crosses() }

// crosses says whether two members meet at more than half a right angle in plan.
func (r *restRow) crosses() bool {
	return math.Abs(r.sh.DirX*r.onSh.DirX+r.sh.DirY*r.onSh.DirY) < math.Sqrt2/2
}

// capacityRatio is the push down in the combination that the capacity's basis belongs to, over the capacity.
func (r *restRow) capacityRatio() numberValue {
	if r.s.Document < 0 {
		return noNumber(implied)
	}
	c := r.m.Supports[r.s.Document].Capacity
	if c == nil || !c.Down.Known || c.Down.Value <= 0 {
		return noNumber("no capacity is stated")
	}
	return r.overCapacity(c.Basis, c.Down.Value, func(s *supportSummary) (strength, service numberValue) { return s.down, s.service })
}

// overCapacity is a reaction in the combination that a capacity's basis belongs to, over the capacity; of gives the reaction for
// strength and in use.
func (r *restRow) overCapacity(basis string, capacity float64, of func(*supportSummary) (strength, service numberValue)) numberValue {
	if why := r.w.down.Unsolved(r.s.Piece); why != "" {
		return noNumber("the reactions could not be worked out: " + why)
	}
	switch use, why := r.w.basis(basis); {
	case why != "":
		return noNumber(why)
	case len(use) == 0:
		return noNumber(noCombinations)
	}
	ratio, service := of(r.sum())
	if basis == "safe working" {
		ratio = service
	}
	if ratio.why == "" {
		if capacity <= 0 {
			return noNumber("the stated capacity is nothing")
		}
		ratio.v /= capacity
	}
	return ratio
}

// pushRatio is the push sideways in the combination that the capacity's basis belongs to, over the capacity along.
func (r *restRow) pushRatio() numberValue {
	if r.s.Document < 0 {
		return noNumber(implied)
	}
	c := r.m.Supports[r.s.Document].Capacity
	if c == nil || !c.Along.Known || c.Along.Value <= 0 {
		return noNumber("no capacity along is stated")
	}
	return r.overCapacity(c.Basis, c.Along.Value, func(s *supportSummary) (strength, service numberValue) { return s.push, s.pushService })
}

// upliftRatio is the net pull up in the combination that the capacity's basis belongs to, over the capacity.
func (r *restRow) upliftRatio() numberValue {
	row := supportRow{m: r.m}
	if r.s.Document >= 0 {
		row.said = &r.m.Supports[r.s.Document]
	}
	c, why := row.holdingDown()
	if why != "" {
		return noNumber(why)
	}
	return r.overCapacity(c.Basis, c.Up.Value, bothUplifts)
}

func bothUplifts(s *supportSummary) (strength, service numberValue) { return s.uplift, s.upliftService }

// upliftBelowRatio is the net pull up that a plate passes on, over what holds the plate down on the length that the member
// stands for: the plate's straps by their centres, or the fixing of its bed by its length, the stronger of the two.
func (r *restRow) upliftBelowRatio() numberValue {
	if r.on == nil || r.on.Role != model.RoleWallPlate && r.on.Role != model.RoleSolePlate {
		return noNumber("it rests on no plate that passes a pull on")
	}
	holds, why := r.heldPerLength()
	switch {
	case why != "":
		return noNumber(why)
	case !r.m.Centres.Known:
		return noNumber("on which length of " + r.on.Mark + " it pulls is not known: its centres are not stated")
	}
	return r.overCapacity(holds.Basis, holds.Up.Value*r.m.Centres.Value, bothUplifts)
}

// heldPerLength is the capacity, up and per mm, of what holds the plate under a member down where the member stands.
func (r *restRow) heldPerLength() (best model.Capacity, why string) {
	why = "nothing is stated that holds " + r.on.Mark + " down"
	take := func(c *model.Capacity, length model.Quantity) {
		switch {
		case c == nil || !c.Up.Known:
			why = "what holds " + r.on.Mark + " down is not stated to hold so much"
		case !length.Known || length.Value <= 0:
			why = "the centres of what holds " + r.on.Mark + " down are not stated"
		case c.Up.Value/length.Value > best.Up.Value:
			best = *c
			best.Up = model.Given(c.Up.Value / length.Value)
		}
	}
	straps := r.on.More().Straps
	beds, _ := r.w.frame.SupportsOf(r.s.On)
	for k := range beds {
		b := &beds[k]
		if b.Document < 0 || !b.Continuous || !b.Holds() || r.s.OnAt < b.From-sameBed || r.s.OnAt > b.To+sameBed {
			continue
		}
		said := &r.on.Supports[b.Document]
		if c := said.Capacity; c != nil && c.Up.Known {
			take(c, model.Given(b.To-b.From))
		}
		for i := range straps {
			if holdsDown(&straps[i], said.On) {
				take(straps[i].Capacity, straps[i].Centres)
			}
		}
	}
	if best.Up.Known {
		return best, ""
	}
	return best, why
}

// weightBelow is the least permanent weight of what the holding-down there is fixed to, on the length that it holds, as it counts
// against uplift: of a wall the wall's own, of a plate that of the lightest under it, of any other member its share of the
// permanent load that rests there.
func (r *restRow) weightBelow() numberValue {
	if r.s.Document < 0 {
		return noNumber(implied)
	}
	straps := r.m.More().Straps
	for i := range straps {
		if !holdsDown(&straps[i], r.m.Supports[r.s.Document].On) {
			continue
		}
		if r.s.On < 0 {
			return noNumber("what the holding-down is fixed to is not in the model")
		}
		length := straps[i].Centres
		if !length.Known {
			length = r.m.Centres
		}
		return r.w.weightOf(r.s.On, length)
	}
	if c := r.m.Supports[r.s.Document].Capacity; c != nil && c.Up.Known && r.s.On >= 0 {
		return r.w.weightOf(r.s.On, r.m.Centres) // the fixing itself holds it to what it rests on
	}
	return noNumber("no holding-down strap there says what it is fixed to")
}

// weightOf is the permanent weight that a length of a piece holds down with.
func (w *work) weightOf(piece int32, length model.Quantity) numberValue {
	m := w.frame.Member(piece)
	if m.Role == model.RoleWallPlate || m.Role == model.RoleSolePlate {
		if w.walks.inCircle[piece] > 0 {
			return noNumber(m.Mark + ", which the holding-down is fixed to, rests, hop by hop, on itself")
		}
		least := numberValue{math.Inf(1), ""}
		supports, _ := w.frame.SupportsOf(piece)
		for k := range supports {
			if !supports[k].Holds() {
				continue
			}
			below := w.weightOf(supports[k].On, length)
			if below.why != "" {
				return below
			}
			least.v = min(least.v, below.v)
		}
		if !math.IsInf(least.v, 1) {
			return least
		}
	}
	if m.Role == model.RoleWall || m.Ground {
		d := m.More()
		switch {
		case !d.Weight.Known || !d.Height.Known:
			return noNumber("the weight or the height of " + m.Mark + ", which the holding-down is fixed to, is not stated")
		case !length.Known:
			return noNumber("neither the centres of the straps nor those of the member are stated")
		}
		return num(w.lightest * d.Weight.Value * d.Height.Value * length.Value)
	}
	permanent := 0.0
	for c := range w.down.Cases {
		if w.down.Cases[c].Permanent {
			permanent += w.down.LoadOn(piece, c)
		}
	}
	return num(w.lightest * max(0, permanent) / float64(max(1, len(w.frame.LandingsOn(piece)))))
}

// contact is the length and width of the two faces that meet: along the member, and across it; of an upright member's
// foot along what carries it, and across.
func (r *restRow) contact() (length, width float64, why string) {
	switch {
	case r.on == nil:
		return 0, 0, problemText(r.w.frame, r.s)
	case r.m.Section == nil:
		return 0, 0, "what meets there has no stated section"
	case r.sh.Upright:
		across, along := r.footAcross()
		if on := r.onBreadth(); on > 0 {
			across = overlap(across, on, r.s.Eccentric)
		}
		return along, across, ""
	case r.s.Document < 0:
		return 0, 0, implied
	}
	said := &r.m.Supports[r.s.Document]
	if !said.Bearing.Known {
		return 0, 0, "no length of bearing is stated"
	}
	length, width = said.Bearing.Value, r.m.Section.Breadth()
	switch {
	case isHung(said.By):
	case r.onSh.Upright && r.on.Section != nil:
		face := max(r.on.Section.Breadth(), r.on.Section.Depth)
		length, width = min(length, face), min(width, face)
	case r.onSh.Known && !r.onSh.Upright && r.sh.Known && r.crosses():
		if on := r.faceAcross(said); on > 0 {
			sine := math.Abs(r.sh.DirX*r.onSh.DirY - r.sh.DirY*r.onSh.DirX)
			length = min(length, on/sine)
		}
	}
	return length, width, ""
}

// overlap is how much of a width lies on another whose middle is so far off, mm.
func overlap(width, other, off float64) float64 {
	return max(0, min(off+width/2, other/2)-max(off-width/2, -other/2))
}

// faceAcross is the width across what carries a member of the face that it rests on: that of the seat between the two,
// else its own; 0 unknown.
func (r *restRow) faceAcross(said *model.Support) float64 {
	if said.Seat != nil && said.Seat.Across.Known {
		return said.Seat.Across.Value
	}
	return r.onBreadth()
}

func (r *restRow) bearingStress() numberValue {
	l, b, why := r.contact()
	if why != "" {
		return noNumber(why)
	}
	if l*b == 0 {
		return noNumber("nothing of the two is in contact")
	}
	v := sum(func(s *supportSummary) numberValue { return s.down })(r)
	v.v /= l * b
	return v
}

// opening is the opening in the wall that the support stands over, or nil; why says that its place is not known.
func (r *restRow) opening() (o *model.Opening, why string) {
	if r.on == nil || r.on.Role != model.RoleWall || len(r.on.More().Openings) == 0 {
		return nil, ""
	}
	if r.s.OnAt < 0 || !r.s.Placed {
		return nil, "its place along the wall, which has openings, is not known"
	}
	return openingAt(r.on, r.s.OnAt), ""
}

// alongWall is the distance along what carries a support from its place to the nearer end, -1 where it is not known,
// and to the nearest edge of an opening, +Inf where there is none.
func (w *work) alongWall(support int32) (end, opening float64) {
	s := &w.frame.Supports[support]
	opening = math.Inf(1)
	if s.On < 0 || s.OnAt < 0 || !s.Placed {
		return -1, opening
	}
	m, sh := w.frame.Member(s.On), w.frame.Shape(s.On)
	if m.Role != model.RoleWall && m.Role != model.RoleFoundation {
		return -1, opening
	}
	end = max(0, min(s.OnAt, sh.Length-s.OnAt))
	for _, o := range m.More().Openings {
		if s.OnAt > o.From.Value && s.OnAt < o.To.Value {
			return end, 0
		}
		opening = min(opening, math.Abs(s.OnAt-o.From.Value), math.Abs(s.OnAt-o.To.Value))
	}
	return end, opening
}

// newLoad is what arrives there after the work and did not before, characteristic: all that a new member brings, and what
// one that stood there brings more.
func (r *restRow) newLoad() numberValue {
	if r.w.Source.Before == nil {
		return noNumber("nothing stood before the work")
	}
	after := sum(func(s *supportSummary) numberValue { return s.service })(r)
	before := r.before()
	if r.m.Phase == model.New || after.why != "" || before < 0 {
		return after
	}
	then := &work{Filled: r.w.Filled, down: r.w.Source.Before, frame: r.w.Source.Before.Frame}
	if why := then.down.Unsolved(then.frame.Supports[before].Piece); why != "" {
		return noNumber("the reactions of " + r.m.Mark + " before the work could not be worked out: " + why)
	}
	most := 0.0
	for _, k := range r.w.service {
		comb := &r.w.Source.Combinations[k]
		now, _, _ := r.w.caseReaction(comb, r.index)
		was, _, _ := then.caseReaction(comb, before)
		most = max(most, now-was+max(0, r.w.down.MovingAbout(r.s.Piece, comb)-then.down.MovingAbout(then.frame.Supports[before].Piece, comb)))
	}
	return num(most)
}

// before is the same support in the frame as it stood before the work; -1 where there is none.
func (r *restRow) before() int32 {
	b, p := r.w.Source.Before.Frame, r.w.frame.Pieces[r.s.Piece]
	from, to := b.PiecesOf(p.Member)
	if from+p.Index >= to || r.s.Document < 0 {
		return -1
	}
	supports, first := b.SupportsOf(from + p.Index)
	for k := range supports {
		if supports[k].Document == r.s.Document {
			return first + int32(k)
		}
	}
	return -1
}

// depthStep is the most that the member's depth differs from another that bears on the same member beside it, packers
// counted.
func (r *restRow) depthStep() numberValue {
	switch {
	case r.on == nil:
		return noNumber(problemText(r.w.frame, r.s))
	case r.m.Section == nil:
		return noNumber("no section is stated")
	case !r.s.Placed:
		return noNumber("its place on what carries it is not known")
	}
	mine := r.m.Section.Depth + r.m.More().Packer.Value
	worst := 0.0
	for _, i := range r.w.frame.LandingsOn(r.s.On) {
		o := &r.w.frame.Supports[i]
		m := r.w.frame.Member(o.Piece)
		if m == r.m || !isLevel(m.Role) || !isLevel(r.m.Role) || m.Section == nil || !o.Placed || math.Abs(o.OnAt-r.s.OnAt) > sharedPlace ||
			math.Abs(r.w.frame.Point(o.Piece, o.At).Z-r.w.frame.Point(r.s.Piece, r.s.At).Z) > sharedLevel {
			continue
		}
		worst = max(worst, math.Abs(mine-m.Section.Depth-m.More().Packer.Value))
	}
	return num(worst)
}

func isLevel(role model.Role) bool {
	return isJoist(role) || role == model.RoleTrimmer || role == model.RoleBeam
}

// sharedLevel is how near in level two axes must be to belong to one floor, mm.
const sharedLevel = 60

// sharedPlace is how near two supports must be to share a place, mm: neighbours at common centres.
const sharedPlace = 700
