package facts

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// pieceRow is what a fact of a piece is worked out from.
type pieceRow struct {
	w        *work
	piece    int32
	m        *model.Member
	sh       *frame.Shape
	supports []frame.Support
	first    int32     // index of the first support
	at       []float64 // places that hold it, in order, mm
	s        *summary
}

// pieces offers the facts that each piece has of its own.
func (w *work) pieces() {
	offer(w, rows[pieceRow]{vocabulary.Member, false, len(w.frame.Pieces), func(i int, r *pieceRow) *pieceRow {
		piece := int32(i)
		*r = pieceRow{w: w, piece: piece, m: w.frame.Member(piece), sh: w.frame.Shape(piece), s: &w.summary[w.Classes.Of[i]]}
		r.supports, r.first = w.frame.SupportsOf(piece)
		r.at = w.heldAt[w.heldFrom[i]:w.heldFrom[i+1]]
		return r
	}}, slices.Concat(pieceFacts, bedFacts))
}

// holdPlaces lists the places that hold each piece.
func (w *work) holdPlaces() {
	f := w.frame
	w.heldAt, w.heldFrom = make([]float64, 0, len(f.Supports)), make([]int32, len(f.Pieces)+1)
	for i := range f.Pieces {
		supports, _ := f.SupportsOf(int32(i))
		for k := range supports {
			if s := &supports[k]; s.Holds() || s.Against && s.On >= 0 {
				w.heldAt = append(w.heldAt, s.At)
			}
		}
		slices.Sort(w.heldAt[w.heldFrom[i]:])
		w.heldFrom[i+1] = int32(len(w.heldAt))
	}
}

// stretches calls yield with every stretch between neighbouring places of support, and the overhangs.
func (r *pieceRow) stretches(yield func(from, to float64, overhang bool)) {
	if len(r.at) == 0 || !r.sh.Known {
		return
	}
	if r.at[0] > 1 {
		yield(0, r.at[0], true)
	}
	for i := 1; i < len(r.at); i++ {
		if r.at[i]-r.at[i-1] > 1 {
			yield(r.at[i-1], r.at[i], false)
		}
	}
	if last := r.at[len(r.at)-1]; r.sh.Length-last > 1 {
		yield(last, r.sh.Length, true)
	}
}

// spanning is a number of the spans, absent where there are none.
func spanning(of func(r *pieceRow, spans []float64) float64) func(*pieceRow) numberValue {
	return func(r *pieceRow) numberValue {
		spans := r.spanLengths()
		if len(spans) == 0 {
			return noNumber("it does not span between two supports")
		}
		return num(of(r, spans))
	}
}

// spanLengths is the stretches between neighbouring places of support, mm. What stands upright spans nothing.
func (r *pieceRow) spanLengths() []float64 {
	var spans []float64
	if !r.sh.Upright {
		r.stretches(func(from, to float64, overhang bool) {
			if !overhang {
				spans = append(spans, to-from)
			}
		})
	}
	return spans
}

func (r *pieceRow) overhangs() (longest, ratio float64) {
	if r.sh.Upright {
		return 0, 0
	}
	back := func(i, j int) float64 {
		if i < 0 || j >= len(r.at) || i >= j {
			return 0
		}
		return r.at[j] - r.at[i]
	}
	n := len(r.at)
	r.stretches(func(from, to float64, overhang bool) {
		if !overhang {
			return
		}
		behind := back(n-2, n-1)
		if from == 0 {
			behind = back(0, 1)
		}
		longest = max(longest, to-from)
		if behind > 0 {
			ratio = max(ratio, (to-from)/behind)
		}
	})
	return longest, ratio
}

var pieceFacts = []fill[pieceRow]{
	{name: "piece", text: func(r *pieceRow) textValue { return txt(r.w.frame.Name(r.piece)) }},
	{name: "span", number: spanning(func(_ *pieceRow, s []float64) float64 { return slices.Max(s) })},
	{name: "shortest_span", number: spanning(func(_ *pieceRow, s []float64) float64 { return slices.Min(s) })},
	{name: "spans", number: func(r *pieceRow) numberValue { return num(float64(len(r.spanLengths()))) }},
	{name: "span_in_plan", number: (*pieceRow).spanInPlan},
	{name: "overhang", number: func(r *pieceRow) numberValue { l, _ := r.overhangs(); return num(l) }},
	{name: "overhang_ratio", number: func(r *pieceRow) numberValue { _, q := r.overhangs(); return num(q) }},
	{name: "supports_needed", number: func(r *pieceRow) numberValue { return num(float64(r.needs())) }},
	{name: "supports_found", number: func(r *pieceRow) numberValue { return num(float64(len(r.at))) }},
	{name: "is_solved", truth: func(r *pieceRow) truthValue { return yes(r.w.down.Unsolved(r.piece) == "") }},
	{name: "unsolved", text: func(r *pieceRow) textValue { return txt(r.w.down.Unsolved(r.piece)) }},
	{name: "left_out", text: func(r *pieceRow) textValue { return txt(r.w.leftOut[r.w.frame.Pieces[r.piece].Member]) }},
	{name: "not_passed_on", text: func(r *pieceRow) textValue { return txt(r.w.stays[r.w.frame.Pieces[r.piece].Member]) }},
	{name: "reaches_ground", truth: func(r *pieceRow) truthValue { return yes(r.w.walks.reaches[r.piece]) }},
	{name: "last_reached", text: func(r *pieceRow) textValue {
		if r.w.walks.reaches[r.piece] {
			return txt("")
		}
		last, _ := r.w.walks.shortOf(r.w.frame, r.piece)
		return txt(r.w.frame.Name(last))
	}},
	{name: "missing_under", text: func(r *pieceRow) textValue {
		if r.w.walks.reaches[r.piece] {
			return txt("")
		}
		_, missing := r.w.walks.shortOf(r.w.frame, r.piece)
		return txt(missing)
	}},
	{name: "in_circle", truth: func(r *pieceRow) truthValue { return yes(r.w.walks.inCircle[r.piece] > 0) }},
	{name: "circle", text: func(r *pieceRow) textValue {
		k := r.w.walks.inCircle[r.piece]
		if k == 0 {
			return txt("")
		}
		return txt(r.circle(r.w.frame.Circles[k-1]))
	}},
	{name: "serves_nothing", truth: (*pieceRow).servesNothing},
	{name: "names_nothing", text: (*pieceRow).namesNothing},
	{name: "path_through_unverified", text: func(r *pieceRow) textValue {
		if m := r.w.walks.unverified[r.piece]; m >= 0 {
			return txt(r.w.doc.Members[m].Mark)
		}
		return txt("")
	}},
	{name: "load_increase", number: func(r *pieceRow) numberValue { more, _, why := r.increase(); return numberValue{more, why} }},
	{name: "load_increase_ratio", number: func(r *pieceRow) numberValue {
		more, before, why := r.increase()
		switch {
		case why != "":
			return noNumber(why)
		case more <= 0:
			return num(0)
		case before <= 0:
			return noNumber("nothing rested on it before")
		}
		return num(more / before)
	}},
	{name: "carried_by_it", number: func(r *pieceRow) numberValue {
		return num(float64(len(r.landingPieces(func(*model.Member) bool { return true }))))
	}},
	{name: "posts_on_it", number: func(r *pieceRow) numberValue {
		return num(float64(len(r.landingPieces(func(m *model.Member) bool { return isPost(m.Role) }))))
	}},
	{name: "trims_opening", truth: func(r *pieceRow) truthValue {
		trims := r.m.Role == model.RoleTrimmer
		r.landings(func(s *frame.Support, m *model.Member) {
			trims = trims || m.Role == model.RoleTrimmer && r.m.Role != model.RoleWall && r.m.Role != model.RoleWallPlate
		})
		return yes(trims && !r.m.Ground)
	}},
	{name: "deepest_plumb_cut", number: (*pieceRow).deepestPlumbCut},
	{name: "stands_on_joists", truth: func(r *pieceRow) truthValue {
		for k := range r.supports {
			if s := &r.supports[k]; s.Holds() && isJoist(r.w.frame.Member(s.On).Role) {
				return yes(true)
			}
		}
		return yes(false)
	}},
	{name: "tie_ratio", needs: ofReactions, number: (*pieceRow).tieRatio},
	{name: "leans", truth: (*pieceRow).leans},
	{name: "is_propped", truth: (*pieceRow).isPropped},
	{name: "hip_head_held", truth: func(r *pieceRow) truthValue {
		held, found := headHeld(r.w.frame, r.piece, topEnd(r.w.frame, r.piece))
		if !found {
			return noTruth(noHead)
		}
		return yes(held)
	}},
	{name: "tie_rise_ratio", number: (*pieceRow).tieRise},
	{name: "end_gap", number: (*pieceRow).endGap},

	{name: "tie_force", needs: ofReactions, number: solved(func(s *summary) numberValue { return s.tieForce })},
	{name: "thrust", needs: ofReactions, number: solved(func(s *summary) numberValue { return num(s.thrust) })},
	{name: "head_push", needs: ofReactions, number: solved(func(s *summary) numberValue { return num(s.headPush) })},
	{name: "head_push_taken", truth: func(r *pieceRow) truthValue { return yes(len(r.headStraps()) > 0) }},
	{name: "head_push_capacity", number: (*pieceRow).headCapacity},
	{name: "head_push_ratio", number: (*pieceRow).headPushRatio},
	{name: "thrust_taken", truth: func(r *pieceRow) truthValue { return yes(r.thrustTaken()) }},
	{name: "foot_thrust", needs: ofReactions, number: solved(func(s *summary) numberValue { return s.footThrust })},
	{name: "corner_tie_ratio", needs: ofReactions, number: (*pieceRow).cornerTieRatio},
	{name: "roller_movement", needs: ofBends, number: solved(func(s *summary) numberValue { return s.roller })},
	{name: "kink_moment", needs: ofBends, number: solved(func(s *summary) numberValue { return s.kinkMoment })},
	{name: "kink_axial", needs: ofBends, number: solved(func(s *summary) numberValue { return s.kinkAxial })},
	{name: "kink_shear", needs: ofBends, number: solved(func(s *summary) numberValue { return s.kinkShear })},
	{name: "moment", needs: ofForces, number: solved(func(s *summary) numberValue { return s.moment })},
	{name: "shear", needs: ofForces, number: solved(func(s *summary) numberValue { return s.shear })},
	{name: "tension", needs: ofForces, number: solved(func(s *summary) numberValue { return s.tension })},
	{name: "compression", needs: ofForces, number: solved(func(s *summary) numberValue { return s.compression })},
	{name: "deflection", needs: ofDeflection, number: solved(func(s *summary) numberValue { return s.deflection })},
	{name: "deflection_ratio", needs: ofDeflection, number: solved(func(s *summary) numberValue { return s.deflectionRatio })},
	{name: "total_load", needs: ofReactions, number: solved(func(s *summary) numberValue { return s.total })},
	{name: "line_load", needs: ofReactions, number: func(r *pieceRow) numberValue {
		v := solved(func(s *summary) numberValue { return s.total })(r)
		if v.why == "" && r.sh.Length > 0 {
			v.v /= r.sh.Length
		}
		return v
	}},
}

// solved is a number of the effects, absent where the piece could not be solved.
func solved(of func(*summary) numberValue) func(*pieceRow) numberValue {
	return func(r *pieceRow) numberValue {
		if why := r.w.down.Unsolved(r.piece); why != "" {
			return noNumber("its reactions could not be worked out: " + why)
		}
		return of(r.s)
	}
}

// needs is how many supports the piece's role asks for.
func (r *pieceRow) needs() int {
	if r.m.Ground {
		return 0
	}
	for k := range r.supports {
		if d := r.supports[k].Document; d >= 0 && (r.m.Supports[d].Fixed || r.m.Supports[d].Continuous) {
			return 1
		}
	}
	switch r.m.Role {
	case model.RolePost, model.RoleStud, model.RoleStrut, model.RoleWall, model.RolePier, model.RoleWallPlate, model.RoleSolePlate:
		return 1
	case model.RoleRidgeBoard, model.RoleFoundation:
		return 0
	}
	if r.sh.Upright {
		return 1
	}
	return 2
}

func (r *pieceRow) spanInPlan() numberValue {
	longest := 0.0
	r.stretches(func(from, to float64, overhang bool) {
		if !overhang {
			a, b := r.sh.At(from), r.sh.At(to)
			longest = max(longest, math.Hypot(b.X-a.X, b.Y-a.Y))
		}
	})
	if longest == 0 {
		return noNumber("it does not span between two supports")
	}
	return num(longest)
}

func (r *pieceRow) circle(members []int32) string {
	marks := make([]string, 0, len(members)+1)
	for _, m := range members {
		marks = append(marks, r.w.doc.Members[m].Mark)
	}
	return strings.Join(append(marks, marks[0]), " on ")
}

// landings calls yield with every support of another piece that lands on this one.
func (r *pieceRow) landings(yield func(*frame.Support, *model.Member)) {
	for _, i := range r.w.frame.LandingsOn(r.piece) {
		s := &r.w.frame.Supports[i]
		yield(s, r.w.frame.Member(s.Piece))
	}
}

// landingPieces is the different pieces that land on the piece.
func (r *pieceRow) landingPieces(count func(*model.Member) bool) map[int32]bool {
	out := map[int32]bool{}
	r.landings(func(s *frame.Support, m *model.Member) {
		if count(m) {
			out[s.Piece] = true
		}
	})
	return out
}

// servesNothing says whether the frame would not miss the piece.
func (r *pieceRow) servesNothing() truthValue {
	m := r.m
	switch {
	case m.Ground, len(m.Carries) > 0, len(m.Loads) > 0, r.w.walks.tied[r.piece], r.w.frame.CoupleOf(r.piece) != nil:
		return yes(false)
	case m.Role == model.RoleRidgeBoard, m.Role == model.RoleWall && m.More().Weight.Known:
		return yes(false)
	case len(r.w.frame.LandingsOn(r.piece)) > 0, len(m.More().Straps) > 0, len(r.w.tiedTo(m.Mark)) > 0:
		return yes(false)
	}
	return yes(true)
}

func (r *pieceRow) namesNothing() textValue {
	var marks []string
	for k := range r.supports {
		if r.supports[k].Problem == frame.NamesNoMark {
			said := r.m.Supports[r.supports[k].Document]
			marks = append(marks, said.On+said.Against)
		}
	}
	name := func(mark string) {
		if mark != "" && r.w.doc.Index(mark) < 0 {
			marks = append(marks, mark)
		}
	}
	for _, t := range r.m.Ties {
		name(t.On)
	}
	for _, s := range r.m.More().Straps {
		name(s.To)
	}
	for _, o := range r.m.More().Openings {
		name(o.Lintel)
	}
	return txt(strings.Join(marks, ", "))
}

// deepestPlumbCut is that of the rafters that are cut against the piece: those that land on it, and those that lean on each other
// across it.
func (r *pieceRow) deepestPlumbCut() numberValue {
	deepest := 0.0
	cut := func(piece int32) {
		switch m := r.w.frame.Member(piece); m.Role {
		case model.RoleRafter, model.RoleJackRafter, model.RoleHipRafter, model.RoleValleyRafter:
			deepest = max(deepest, plumbCut(m, r.w.frame.Shape(piece)))
		}
	}
	r.landings(func(s *frame.Support, _ *model.Member) { cut(s.Piece) })
	for _, piece := range r.w.frame.LeanAcross(r.piece) {
		cut(piece)
	}
	if deepest == 0 {
		return noNumber("no rafter whose depth is known is cut against it")
	}
	return num(deepest)
}

// endGap is the clear distance between neighbouring supports that are nearest: each bearing lies around its place, within
// the member.
func (r *pieceRow) endGap() numberValue {
	if len(r.at) < 2 {
		return noNumber("it has fewer than two supports")
	}
	faces := make([][2]float64, 0, len(r.at))
	for k := range r.supports {
		s := &r.supports[k]
		if !s.Holds() {
			continue
		}
		if s.Document < 0 || !r.m.Supports[s.Document].Bearing.Known {
			return noNumber("the length of bearing is not stated at all of its supports")
		}
		half := r.m.Supports[s.Document].Bearing.Value / 2
		middle := max(half, min(s.At, r.sh.Length-half))
		faces = append(faces, [2]float64{middle - half, middle + half})
	}
	slices.SortFunc(faces, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	least := math.Inf(1)
	for i := 1; i < len(faces); i++ {
		least = min(least, faces[i][0]-faces[i-1][1])
	}
	if math.IsInf(least, 1) {
		return noNumber("it has fewer than two supports that it bears on")
	}
	return num(max(0, least))
}

// increase is how much more rests on the piece after the work than before, in the characteristic combination in which
// that is most, and what rested on it in the same.
func (r *pieceRow) increase() (more, before float64, why string) {
	b := r.w.Source.Before
	if b == nil || r.m.Phase == model.New && !r.m.Ground {
		return 0, 0, "nothing of it stood before the work"
	}
	from, to := b.Frame.PiecesOf(r.w.frame.Pieces[r.piece].Member)
	k := from + r.w.frame.Pieces[r.piece].Index
	if k >= to {
		return 0, 0, "nothing of it stood before the work"
	}
	if len(r.w.service) == 0 {
		return 0, 0, noCombinations
	}
	after, then := make([]float64, len(r.w.down.Cases)), make([]float64, len(r.w.down.Cases))
	for c := range after {
		after[c], then[c] = r.w.down.LoadOn(r.piece, c), b.LoadOn(k, c)
	}
	more = math.Inf(-1)
	for _, c := range r.w.service {
		comb := &r.w.Source.Combinations[c]
		member := r.w.frame.Pieces[r.piece].Member
		was := r.w.sum(comb, func(kase int) float64 { return then[kase] }) + b.Moving(member, comb)
		if grown := r.w.sum(comb, func(kase int) float64 { return after[kase] }) + r.w.down.Moving(member, comb) - was; grown > more {
			more, before = grown, was
		}
	}
	return more, before, ""
}

// isPropped says whether something other than a ridge board holds the head up. What stands on that one support alone is
// not propped by it, however high it is: it leans all the same.
func (r *pieceRow) isPropped() truthValue {
	held, _ := headHeld(r.w.frame, r.piece, func(at float64) bool { return isHead(r.sh, at) })
	holding := 0
	for k := range r.supports {
		if r.supports[k].Holds() {
			holding++
		}
	}
	return yes(held && holding > 1)
}

// leans says whether the head leans on an opposing rafter or on a ridge board.
func (r *pieceRow) leans() truthValue {
	if !slopes(r.sh) || r.m.Ground {
		return yes(false)
	}
	for k := range r.supports {
		s := &r.supports[k]
		if s.Against || s.Holds() && restsOnBoard(r.w.frame, s.On) {
			return yes(true)
		}
	}
	return yes(false)
}

// tieRise is the height of the lowest tie above the foot over the rise of the rafter above its foot.
func (r *pieceRow) tieRise() numberValue {
	c := r.w.frame.CoupleOf(r.piece)
	if c == nil {
		return noNumber("it is no rafter of a couple")
	}
	side := 0
	if c.Rafters[1] == r.piece {
		side = 1
	}
	foot := math.Inf(1)
	for k := range r.supports {
		if r.supports[k].Holds() {
			foot = min(foot, r.sh.At(r.supports[k].At).Z)
		}
	}
	head := r.sh.At(r.w.frame.Supports[c.Heads[side]].At).Z
	lowest := math.Inf(1)
	for _, t := range c.Ties {
		if t.Piece >= 0 {
			lowest = min(lowest, (r.sh.At(t.At[side]).Z-foot)/(head-foot))
		}
	}
	if math.IsInf(lowest, 0) || math.IsNaN(lowest) {
		return noNumber("nothing ties it")
	}
	return num(lowest)
}

// thrustTaken says whether something declared resists what the piece pushes sideways.
func (r *pieceRow) thrustTaken() bool {
	for k := range r.supports {
		s := &r.supports[k]
		if s.Document >= 0 && r.m.Supports[s.Document].Horizontal && s.Holds() {
			return true
		}
	}
	return false
}

// tieRatio is the tension in a tie over the capacity of its lap, in the combination that the capacity's basis belongs to:
// the worst of the rafter's laps.
func (r *pieceRow) tieRatio() numberValue {
	c := r.w.frame.CoupleOf(r.piece)
	if c == nil || len(r.m.Ties) == 0 {
		return noNumber("nothing ties it")
	}
	side := 0
	if c.Rafters[1] == r.piece {
		side = 1
	}
	worst := 0.0
	for i, t := range c.Ties {
		if t.Named[side] < 0 {
			continue
		}
		lap := r.m.Ties[t.Named[side]].Capacity
		switch {
		case t.Piece < 0:
			return noNumber("a tie that it names does not stand")
		case lap == nil || !lap.Along.Known:
			return noNumber("the lap of its tie has no stated capacity")
		case lap.Along.Value <= 0:
			return noNumber("the stated capacity is nothing")
		}
		use, why := r.w.basis(lap.Basis)
		if why != "" {
			return noNumber(why)
		}
		force := r.w.tension(use, t.Piece, &r.s.draws[i])
		if force.why != "" {
			return force
		}
		worst = max(worst, force.v/lap.Along.Value)
	}
	return num(worst)
}

// cornerTieRatio is what a hip pushes at its foot over the stated capacity of its angle tie or its corner joint, each in the
// combination that its basis belongs to: the worse of them.
func (r *pieceRow) cornerTieRatio() numberValue {
	row := memberRow{m: r.m, d: r.m.More()}
	if all := row.cornerTie(); all.why != "" {
		return all
	}
	if why := r.w.down.Unsolved(r.piece); why != "" {
		return noNumber("its reactions could not be worked out: " + why)
	}
	worst := num(0)
	hold := func(c *model.Capacity) {
		if c == nil || !c.Along.Known || worst.why != "" {
			return
		}
		_, why := r.w.basis(c.Basis)
		thrust := r.s.footThrust
		if c.Basis == "safe working" {
			thrust = r.s.footThrustService
		}
		switch {
		case why != "":
			worst = noNumber(why)
		case thrust.why != "":
			worst = thrust
		case c.Along.Value <= 0:
			worst = noNumber("the stated capacity is nothing")
		default:
			worst.v = max(worst.v, thrust.v/c.Along.Value)
		}
	}
	for i := range r.m.Ties {
		hold(r.m.Ties[i].Capacity)
	}
	for i := range row.d.Straps {
		hold(row.d.Straps[i].Capacity)
	}
	return worst
}

// headStraps is the lateral straps that hold the head of the piece sideways: those said to be elsewhere do not.
func (r *pieceRow) headStraps() (out []*model.Strap) {
	atHead := topEnd(r.w.frame, r.piece)
	straps := r.m.More().Straps
	for i := range straps {
		if s := &straps[i]; s.Kind == "lateral" && (!s.At.Known || atHead(s.At.Value)) {
			out = append(out, s)
		}
	}
	return out
}

// headCapacity is what the straps at its head are stated to hold, together.
func (r *pieceRow) headCapacity() numberValue {
	straps := r.headStraps()
	if len(straps) == 0 {
		return noNumber("no strap holds its head sideways")
	}
	sum := noNumber("what the strap at its head holds is not stated")
	for _, s := range straps {
		if s.Capacity != nil && s.Capacity.Along.Known {
			sum = num(sum.v + s.Capacity.Along.Value)
		}
	}
	return sum
}

// headPushRatio is the push at the head, in the combination that the basis of the straps' capacities belongs to, over those.
func (r *pieceRow) headPushRatio() numberValue {
	holds := r.headCapacity()
	if holds.why != "" {
		return holds
	}
	if why := r.w.down.Unsolved(r.piece); why != "" {
		return noNumber("its reactions could not be worked out: " + why)
	}
	basis, first := "", true
	for _, s := range r.headStraps() {
		switch {
		case s.Capacity == nil || !s.Capacity.Along.Known:
			continue
		case !first && s.Capacity.Basis != basis:
			return noNumber("the capacities of the straps at its head are of more than one basis, and add up to none")
		}
		basis, first = s.Capacity.Basis, false
	}
	switch use, why := r.w.basis(basis); {
	case why != "":
		return noNumber(why)
	case len(use) == 0:
		return noNumber(noCombinations)
	case holds.v <= 0:
		return noNumber("the stated capacity is nothing")
	default:
		return num(r.w.headPush(use, r.piece) / holds.v)
	}
}

// basis is the combinations that a stated capacity is held against, by its basis; why says that there are none.
func (w *work) basis(basis string) (combinations []int, why string) {
	switch basis {
	case "safe working":
		return w.service, ""
	case "design":
		return w.strong, ""
	case "characteristic":
		return nil, "a characteristic capacity needs the region's own factor on connections; ask for the design or the safe working capacity"
	}
	return nil, "the stated capacity has no basis: safe working, characteristic or design"
}

func isJoist(role model.Role) bool {
	return role == model.RoleFloorJoist || role == model.RoleCeilingJoist
}

func isPost(role model.Role) bool {
	return role == model.RolePost || role == model.RoleStud || role == model.RoleStrut
}

// isColumn says whether a piece stands rather than spans: it is upright, or a post that no path shows to lie flatter than
// half upright.
func isColumn(role model.Role, sh *frame.Shape) bool {
	return sh.Upright || isPost(role) && !(sh.Known && sh.Slope < math.Pi/4)
}

// gatherLeftOut words, member by member, which loads are not counted, and which are passed on to nothing.
func (w *work) gatherLeftOut() {
	w.leftOut, w.stays = map[int32]string{}, map[int32]string{}
	add := func(to map[int32]string, r *statics.Remark) {
		if said := to[r.Member]; said != "" {
			to[r.Member] = said + "; " + r.Text
		} else {
			to[r.Member] = r.Text
		}
	}
	for i := range w.down.Remarks {
		switch r := &w.down.Remarks[i]; {
		case r.LeftOut():
			add(w.leftOut, r)
		case r.Stays:
			add(w.stays, r)
		}
	}
}
