package facts

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// areaRow is what a fact of an area is worked out from.
type areaRow struct {
	w        *work
	a        *model.Area
	carriers []int32 // pieces
	carried  float64 // plan area of all strips, mm2
	unknown  string  // mark of a member whose strip has no width or no length
}

// areas offers the facts of areas.
func (w *work) areas() {
	list := w.areaRows()
	offer(w, rows[areaRow]{vocabulary.Area, false, len(list), func(i int, _ *areaRow) *areaRow { return &list[i] }}, areaFacts)
	if r := w.Book.Relation(vocabulary.Area, "carriers"); r != nil {
		link := &vocabulary.Link{Start: []int32{0}}
		for i := range list {
			link.Rows = append(link.Rows, list[i].carriers...)
			link.Start = append(link.Start, int32(len(link.Rows)))
		}
		w.Links[r.ID()] = link
	}
}

func (w *work) areaRows() []areaRow {
	rows := make([]areaRow, len(w.doc.Areas))
	byID := map[string]*areaRow{}
	for i := range rows {
		rows[i].w, rows[i].a = w, &w.doc.Areas[i]
		byID[rows[i].a.ID] = &rows[i]
	}
	for i := range w.doc.Members {
		m, sh := &w.doc.Members[i], &w.frame.Shapes[i]
		from, to := w.frame.PiecesOf(int32(i))
		for k := range m.Carries {
			r := byID[m.Carries[k].Area]
			width := m.Carries[k].Width
			if !width.Known {
				width = m.Centres
			}
			if r == nil || from == to {
				continue
			}
			if !width.Known || !sh.Known {
				r.unknown = m.Mark
			}
			r.carried += width.Value * sh.Plan * float64(to-from)
			for p := from; p < to; p++ {
				r.carriers = append(r.carriers, p)
			}
		}
	}
	return rows
}

var areaFacts = []fill[areaRow]{
	{name: "id", text: func(r *areaRow) textValue { return txt(r.a.ID) }},
	{name: "kind", text: func(r *areaRow) textValue { return said(r.a.Kind) }},
	{name: "covering", text: func(r *areaRow) textValue { return said(r.a.Covering) }},
	{name: "pitch", number: func(r *areaRow) numberValue { return given(r.a.Pitch) }},
	{name: "deck", number: func(r *areaRow) numberValue { return given(r.a.Deck) }},
	{name: "extent_surface", number: func(r *areaRow) numberValue {
		if len(r.a.Extent) < 3 {
			return noNumber("the area states no extent")
		}
		return num(polygon(r.a.Extent))
	}},
	{name: "carried_surface", number: (*areaRow).surface},
	{name: "carried_ratio", number: func(r *areaRow) numberValue {
		extent := polygon(r.a.Extent)
		if extent == 0 {
			return noNumber("the area states no extent")
		}
		v := r.surface()
		v.v /= extent
		return v
	}},
	{name: "dead", number: areaLoad(model.Dead, 1)},
	{name: "imposed", number: areaLoad(model.Imposed, 1)},
	{name: "imposed_counted", number: func(r *areaRow) numberValue { return num(r.w.down.LoadOf(r.a, model.Imposed)) }},
	{name: "roof_imposed", number: areaLoad(model.RoofImposed, 1)},
	{name: "snow", number: areaLoad(model.Snow, 1)},
	{name: "wind_up", number: areaLoad(model.Wind, -1)},
	{name: "carriers_count", number: func(r *areaRow) numberValue { return num(float64(len(r.carriers))) }},
}

// surface is the plan area of all the strips that members carry.
func (r *areaRow) surface() numberValue {
	if r.unknown != "" {
		return noNumber("neither width nor centres, or no length, are stated of the strip that " + r.unknown + " carries")
	}
	return num(r.carried)
}

// areaLoad is the largest load of an action, in the sense of sign.
func areaLoad(a model.Action, sign float64) func(*areaRow) numberValue {
	return func(r *areaRow) numberValue {
		most, found := 0.0, false
		for _, l := range r.a.Loads {
			if l.Action == a {
				most, found = max(most, sign*l.Value), true
			}
		}
		if !found {
			return noNumber(unsaid)
		}
		return num(most)
	}
}

// polygon is the area of a polygon in plan, mm2.
func polygon(p []model.Point) float64 {
	sum := 0.0
	for i := range p {
		j := (i + 1) % len(p)
		sum += p[i].X*p[j].Y - p[j].X*p[i].Y
	}
	return math.Abs(sum) / 2
}

// details offers notches, holes and drawings: one row for each that the document lists.
func (w *work) details() {
	for i := range w.doc.Members {
		d := w.doc.Members[i].More()
		for k := range d.Notches {
			w.Rows.Notches = append(w.Rows.Notches, Place{int32(i), int32(k)})
		}
		for k := range d.Holes {
			w.Rows.Holes = append(w.Rows.Holes, Place{int32(i), int32(k)})
		}
		for k := range w.doc.Members[i].Drawings {
			w.Rows.Drawings = append(w.Rows.Drawings, Place{int32(i), int32(k)})
		}
	}
	w.Tables[vocabulary.Notch] = vocabulary.Table{Rows: len(w.Rows.Notches)}
	w.Tables[vocabulary.Hole] = vocabulary.Table{Rows: len(w.Rows.Holes)}
	w.Tables[vocabulary.Drawing] = vocabulary.Table{Rows: len(w.Rows.Drawings)}
	offer(w, rows[cutRow]{vocabulary.Notch, false, len(w.Rows.Notches), func(i int, r *cutRow) *cutRow { *r = w.cut(w.Rows.Notches[i]); return r }}, notchFacts)
	offer(w, rows[cutRow]{vocabulary.Hole, false, len(w.Rows.Holes), func(i int, r *cutRow) *cutRow { *r = w.cut(w.Rows.Holes[i]); return r }}, holeFacts)
	offer(w, rows[drawingRow]{vocabulary.Drawing, false, len(w.Rows.Drawings), func(i int, r *drawingRow) *drawingRow {
		p := w.Rows.Drawings[i]
		m := &w.doc.Members[p.Member]
		*r = drawingRow{w, m, &m.Drawings[p.Index]}
		return r
	}}, drawingFacts)
}

// cutRow is a notch or hole of a member.
type cutRow struct {
	w      *work
	member int32
	m      *model.Member
	notch  *model.Notch
	hole   *model.Hole
}

func (w *work) cut(p Place) cutRow {
	m := &w.doc.Members[p.Member]
	r := cutRow{w: w, member: p.Member, m: m}
	if d := m.More(); int(p.Index) < len(d.Notches) {
		r.notch = &d.Notches[p.Index]
	}
	if d := m.More(); int(p.Index) < len(d.Holes) {
		r.hole = &d.Holes[p.Index]
	}
	return r
}

var notchFacts = []fill[cutRow]{
	{name: "at", number: func(r *cutRow) numberValue { return given(r.notch.At) }},
	{name: "depth", number: func(r *cutRow) numberValue { return given(r.notch.Depth) }},
	{name: "length", number: func(r *cutRow) numberValue { return given(r.notch.Length) }},
	{name: "face", text: func(r *cutRow) textValue { return said(r.notch.Face.String()) }},
	{name: "span_part", number: func(r *cutRow) numberValue { return r.toSupport(r.notch.At, true) }},
	{name: "to_support", number: func(r *cutRow) numberValue { return r.toSupport(r.notch.At, false) }},
}

var holeFacts = []fill[cutRow]{
	{name: "at", number: func(r *cutRow) numberValue { return given(r.hole.At) }},
	{name: "diameter", number: func(r *cutRow) numberValue { return given(r.hole.Diameter) }},
	{name: "off_centre", number: func(r *cutRow) numberValue {
		if r.m.Section == nil {
			return noNumber("no section is stated")
		}
		half := r.m.Section.Depth / 2
		return num(math.Abs(r.hole.Edge.Or(half) - half)) // where the document says no edge it is on the centre line
	}},
	{name: "edge_clear", number: func(r *cutRow) numberValue {
		if r.m.Section == nil || !r.hole.Diameter.Known {
			return noNumber("the section or the hole's diameter is not stated")
		}
		centre := r.hole.Edge.Or(r.m.Section.Depth / 2)
		return num(min(centre, r.m.Section.Depth-centre) - r.hole.Diameter.Value/2)
	}},
	{name: "span_part", number: func(r *cutRow) numberValue { return r.toSupport(r.hole.At, true) }},
	{name: "to_support", number: func(r *cutRow) numberValue { return r.toSupport(r.hole.At, false) }},
}

// toSupport is the distance from a place of the member's first piece to the nearer support of its span, or that
// distance over the span.
func (r cutRow) toSupport(at model.Quantity, part bool) numberValue {
	if !at.Known {
		return noNumber("its place is not stated")
	}
	from, to := r.w.frame.PiecesOf(r.member)
	if from == to {
		return noNumber("the member does not stand after the work")
	}
	supports, _ := r.w.frame.SupportsOf(from)
	before, after := math.Inf(-1), math.Inf(1)
	for k := range supports {
		if s := &supports[k]; s.Holds() || s.Against {
			if s.At <= at.Value {
				before = max(before, s.At)
			}
			if s.At >= at.Value {
				after = min(after, s.At)
			}
		}
	}
	near := min(at.Value-before, after-at.Value)
	switch {
	case math.IsInf(near, 1):
		return noNumber("the member has no supports to measure from")
	case !part:
		return num(near)
	case math.IsInf(before, -1) || math.IsInf(after, 1):
		return noNumber("it is in an overhang, not in a span")
	case after == before:
		return num(0)
	}
	return num(near / (after - before))
}

// drawingRow is what one drawing states of a member.
type drawingRow struct {
	w *work
	m *model.Member
	d *model.DrawingRef
}

var drawingFacts = []fill[drawingRow]{
	{name: "id", text: func(r *drawingRow) textValue { return txt(r.d.ID) }},
	{name: "title", text: listedDrawing(func(d *model.Drawing) string { return d.Title })},
	{name: "revision", text: listedDrawing(func(d *model.Drawing) string { return d.Revision })},
	{name: "is_listed", truth: func(r *drawingRow) truthValue { return yes(r.w.doc.Drawing(r.d.ID) != nil) }},
	{name: "states_section", text: func(r *drawingRow) textValue { return said(r.d.Section) }},
	{name: "states_grade", text: func(r *drawingRow) textValue { return said(r.d.Grade) }},
	{name: "section_differs", truth: func(r *drawingRow) truthValue {
		if r.d.Section == "" {
			return yes(false)
		}
		s, err := model.ParseSection(r.d.Section, r.w.doc.Units)
		if err != nil || r.m.Section == nil {
			return yes(r.m.Section == nil || r.d.Section != r.m.Section.Text)
		}
		mine := r.m.Section
		a, b := min(mine.Width, mine.Depth), max(mine.Width, mine.Depth) // laid flat or not
		return yes(s.Shape != mine.Shape || max(1, s.Plies) != max(1, mine.Plies) || s.Wall != mine.Wall ||
			math.Abs(min(s.Width, s.Depth)-a) > 0.5 || math.Abs(max(s.Width, s.Depth)-b) > 0.5)
	}},
	{name: "grade_differs", truth: func(r *drawingRow) truthValue { return yes(r.d.Grade != "" && r.d.Grade != r.m.Grade) }},
	{name: "centres_differ", truth: func(r *drawingRow) truthValue {
		return yes(r.d.Centres.Known && math.Abs(r.d.Centres.Value-r.m.Centres.Value) > 0.5)
	}},
}

func listedDrawing(of func(*model.Drawing) string) func(*drawingRow) textValue {
	return func(r *drawingRow) textValue {
		d := r.w.doc.Drawing(r.d.ID)
		if d == nil {
			return noText("the document does not list the drawing")
		}
		return said(of(d))
	}
}

// groundRow is a member that stands on the ground, with what has arrived.
type groundRow struct {
	w       *work
	piece   int32
	m       *model.Member
	load    numberValue
	before  numberValue
	from    *frame.Support // heaviest; nil: nothing lands
	heavier numberValue
}

// grounds offers the facts of what stands on the ground.
func (w *work) grounds() {
	for i := range w.frame.Pieces {
		if w.frame.Member(int32(i)).Ground {
			w.Rows.Grounds = append(w.Rows.Grounds, int32(i))
		}
	}
	w.Tables[vocabulary.Ground] = vocabulary.Table{Rows: len(w.Rows.Grounds)}
	offer(w, rows[groundRow]{vocabulary.Ground, false, len(w.Rows.Grounds), func(i int, _ *groundRow) *groundRow { return &w.landed[i] }}, groundFacts)
}

// land works out what has arrived at everything that stands on the ground.
func (w *work) land() {
	w.workOut(ofReactions)
	w.landed = make([]groundRow, len(w.Rows.Grounds))
	for i, piece := range w.Rows.Grounds {
		w.landed[i] = w.groundRow(piece)
	}
}

func (w *work) groundRow(piece int32) groundRow {
	r := groundRow{w: w, piece: piece, m: w.frame.Member(piece)}
	byCase := make([]float64, len(w.down.Cases))
	for c := range byCase {
		byCase[c] = -w.down.ArrivedAt(piece, c).Z
	}
	r.load = w.worstOf(w.service, byCase)
	r.before = noNumber("nothing stood before the work")
	if b := w.Source.Before; b != nil {
		from, to := b.Frame.PiecesOf(w.frame.Pieces[piece].Member)
		if k := from + w.frame.Pieces[piece].Index; k < to {
			for c := range byCase {
				byCase[c] = -b.ArrivedAt(k, c).Z
			}
			r.before = w.worstOf(w.service, byCase)
		}
	}
	r.heavier = num(0)
	for _, i := range w.frame.LandingsOn(piece) {
		s := &w.frame.Supports[i]
		_, first := w.frame.SupportsOf(s.Piece)
		v := w.summary[w.Classes.Of[s.Piece]].supports[i-first].service
		if v.why == "" && (r.from == nil || v.v > r.heavier.v) && !s.Continuous {
			r.from, r.heavier = s, v
		}
	}
	return r
}

var groundFacts = []fill[groundRow]{
	{name: "id", needs: ofArrivals, text: func(r *groundRow) textValue { return txt(r.m.Mark) }},
	{name: "role", needs: ofArrivals, text: func(r *groundRow) textValue { return txt(string(r.m.Role)) }},
	{name: "load", needs: ofArrivals, number: func(r *groundRow) numberValue { return r.load }},
	{name: "heaviest", needs: ofArrivals, number: func(r *groundRow) numberValue { return r.heavier }},
	{name: "heaviest_from", needs: ofArrivals, text: func(r *groundRow) textValue {
		if r.from == nil {
			return noText("nothing lands on it at one place")
		}
		return txt(r.w.frame.Name(r.from.Piece))
	}},
	{name: "heaviest_at", needs: ofArrivals, number: func(r *groundRow) numberValue {
		if r.from == nil || r.from.OnAt < 0 {
			return noNumber("its place is not known")
		}
		return num(r.from.OnAt)
	}},
	{name: "heaviest_on", needs: ofArrivals, text: func(r *groundRow) textValue {
		if r.from == nil {
			return noText("nothing lands on it at one place")
		}
		if r.from.Document >= 0 {
			if seat := r.w.frame.Member(r.from.Piece).Supports[r.from.Document].Seat; seat != nil && seat.Kind != "" {
				return txt(seat.Kind)
			}
		}
		return txt("nothing stated")
	}},
	{name: "footing", needs: ofArrivals, text: func(r *groundRow) textValue { return said(r.m.More().Footing) }},
	{name: "load_before", needs: ofArrivals, number: func(r *groundRow) numberValue { return r.before }},
	{name: "load_ratio", needs: ofArrivals, number: func(r *groundRow) numberValue {
		switch {
		case r.load.why != "":
			return r.load
		case r.before.why != "":
			return r.before
		case r.before.v <= 0:
			return noNumber("nothing rested on it before")
		}
		return num(r.load.v / r.before.v)
	}},
}

// whole offers the facts of the whole frame.
func (w *work) whole() {
	offer(w, rows[work]{vocabulary.Frame, false, 1, func(int, *work) *work { return w }}, frameFacts)
}

var frameFacts = []fill[work]{
	{name: "title", text: func(w *work) textValue { return said(w.doc.Title) }},
	{name: "region", text: func(w *work) textValue { return said(w.doc.Site.Region) }},
	{name: "region_served", truth: func(w *work) truthValue { return yes(w.Source.Served) }},
	{name: "imbalance", number: func(w *work) numberValue { return num(w.down.Imbalance()) }},
	{name: "unresolved", number: func(w *work) numberValue {
		sum := 0.0
		for c := range w.down.Cases {
			sum += math.Abs(w.down.Unresolved[c].Z)
		}
		return num(sum)
	}},
	{name: "unsolved_members", number: func(w *work) numberValue {
		marks := map[int32]bool{}
		for i := range w.frame.Pieces {
			if w.down.Unsolved(int32(i)) != "" {
				marks[w.frame.Pieces[i].Member] = true
			}
		}
		return num(float64(len(marks)))
	}},
	{name: "members", number: func(w *work) numberValue { return num(float64(len(w.doc.Members))) }},
	{name: "pieces", number: func(w *work) numberValue { return num(float64(len(w.frame.Pieces))) }},
	{name: "stage", text: func(w *work) textValue { return said(w.doc.Site.Stage) }},
	{name: "existing", text: func(w *work) textValue { return said(w.doc.Site.Existing) }},
	{name: "is_weightless", truth: func(w *work) truthValue { return yes(w.doc.Weightless) }},
	{name: "snow_drift", text: func(w *work) textValue { return said(w.doc.Site.SnowDrift) }},
	{name: "has_snow", truth: func(w *work) truthValue {
		for i := range w.down.Cases {
			if w.down.Cases[i].Action == model.Snow && w.down.Applied[i].Z != 0 {
				return yes(true)
			}
		}
		return yes(false)
	}},
	{name: "has_valley", truth: anyMember(func(m *model.Member) bool { return stays(m) && m.Role == model.RoleValleyRafter })},
	{name: "has_abutment", truth: func(w *work) truthValue { return yes(w.hasAbutment()) }},
	{name: "removes_stability", truth: anyMember(removesStability)},
	{name: "stability", text: func(w *work) textValue { return said(w.doc.Site.Stability) }},
	{name: "temporary_works", text: func(w *work) textValue { return said(w.doc.Site.TemporaryWork) }},
	{name: "region_assumptions", number: func(w *work) numberValue { return num(float64(w.Source.Assumptions)) }},
	{name: "removed", text: func(w *work) textValue { return txt(w.marks(removesStability)) }},
	{name: "undrawn", text: func(w *work) textValue {
		return txt(w.marks(func(m *model.Member) bool { return m.Phase == model.New && len(m.Drawings) == 0 }))
	}},
	{name: "mixed_grades", text: func(w *work) textValue { return txt(w.mixedGrades()) }},
	{name: "heaviest_on_each", needs: ofArrivals, text: func(w *work) textValue { return txt(w.heaviestOnEach()) }},
	{name: "has_brace", truth: anyMember(func(m *model.Member) bool {
		return stays(m) && (m.Role == roleBrace || isRafter(m.Role) && hasLateralStrap(m))
	})},
	{name: "has_roof", truth: anyMember(func(m *model.Member) bool { return stays(m) && isRafter(m.Role) })},
}

// hasAbutment says whether the roof leans against a wall that goes on above it: a rafter hangs on the face of a wall, or on a
// ledger that is fixed along one.
func (w *work) hasAbutment() bool {
	onWall := func(mark string) bool {
		on := w.doc.Member(mark)
		return on != nil && on.Role == model.RoleWall
	}
	ledger := func(m *model.Member) bool {
		return m != nil && m.Role != model.RoleWallPlate && m.Role != model.RoleSolePlate && slices.ContainsFunc(m.Supports, func(s model.Support) bool {
			return s.Continuous && isHung(s.By) && onWall(s.On)
		})
	}
	for i := range w.doc.Members {
		m := &w.doc.Members[i]
		if stays(m) && isRafter(m.Role) && slices.ContainsFunc(m.Supports, func(s model.Support) bool {
			return s.By == "hanger" && onWall(s.On) || ledger(w.doc.Member(s.On))
		}) {
			return true
		}
	}
	return false
}

// marks lists the marks of some members, with commas between.
func (w *work) marks(of func(*model.Member) bool) string {
	var out []string
	for i := range w.doc.Members {
		if m := &w.doc.Members[i]; of(m) {
			out = append(out, m.Mark)
		}
	}
	return strings.Join(out, ", ")
}

// mixedGrades lists the roles and sections of which some members differ in grade from the rest.
func (w *work) mixedGrades() string {
	type set struct {
		role    model.Role
		section string
	}
	grades := map[set]map[string]int{}
	var order []set
	for i := range w.doc.Members {
		m := &w.doc.Members[i]
		if m.Ground || m.Section == nil || m.Grade == "" || m.Phase != model.New || !structural(m.Role) {
			continue
		}
		k := set{m.Role, m.Section.Text}
		if grades[k] == nil {
			grades[k] = map[string]int{}
			order = append(order, k)
		}
		grades[k][m.Grade] += m.Pieces()
	}
	var out []string
	for _, k := range order {
		if len(grades[k]) < 2 {
			continue
		}
		names := slices.Sorted(maps.Keys(grades[k]))
		for i, n := range names {
			names[i] = fmt.Sprintf("%d %s", grades[k][n], n)
		}
		out = append(out, fmt.Sprintf("%s %s: %s", k.role, k.section, strings.Join(names, " and ")))
	}
	return strings.Join(out, "; ")
}

// heaviestOnEach lists the largest single reaction on each ground member, the heaviest first.
func (w *work) heaviestOnEach() string {
	var list []groundRow
	for _, r := range w.landed {
		if r.from != nil && r.heavier.why == "" && r.heavier.v > 0 {
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(a, b groundRow) int { return cmp.Compare(b.heavier.v, a.heavier.v) })
	out := make([]string, len(list))
	for i, r := range list {
		under := "nothing stated under it"
		if r.from.Document >= 0 {
			if seat := w.frame.Member(r.from.Piece).Supports[r.from.Document].Seat; seat != nil && seat.Kind != "" {
				under = "on a " + seat.Kind
			}
		}
		out[i] = fmt.Sprintf("%s %s from %s, %s", r.m.Mark, model.Format(r.heavier.v, model.Force, w.doc.Units), w.frame.Name(r.from.Piece), under)
	}
	return strings.Join(out, "; ")
}

func anyMember(is func(*model.Member) bool) func(*work) truthValue {
	return func(w *work) truthValue {
		for i := range w.doc.Members {
			if is(&w.doc.Members[i]) {
				return yes(true)
			}
		}
		return yes(false)
	}
}

// stays says whether a member stands after the work.
func stays(m *model.Member) bool { return m.Phase != model.Removed }

func isRafter(r model.Role) bool { return r == model.RoleRafter || r == model.RoleJackRafter }

// links fills the relations between subjects.
func (w *work) links() {
	f := w.frame
	pieces := len(f.Pieces)
	w.many(vocabulary.Member, "supports", pieces, func(i int32, add func(int32)) {
		supports, from := f.SupportsOf(i)
		for k := range supports {
			if !supports[k].Against {
				add(from + int32(k))
			}
		}
	})
	w.many(vocabulary.Member, "landings", pieces, func(i int32, add func(int32)) {
		for _, s := range f.LandingsOn(i) {
			add(s)
		}
	})
	w.places("notches", w.Rows.Notches)
	w.places("holes", w.Rows.Holes)
	w.places("drawings", w.Rows.Drawings)
	w.many(vocabulary.Support, "member", len(f.Supports), func(i int32, add func(int32)) { add(f.Supports[i].Piece) })
	w.many(vocabulary.Frame, "grounds", 1, func(_ int32, add func(int32)) {
		for i := range w.Rows.Grounds {
			add(int32(i))
		}
	})
	w.on()
}

// many fills a relation row by row.
func (w *work) many(from vocabulary.Subject, name string, rows int, reach func(int32, func(int32))) {
	r := w.Book.Relation(from, name)
	if r == nil {
		return
	}
	link := &vocabulary.Link{Start: make([]int32, 1, rows+1)}
	for i := range rows {
		reach(int32(i), func(row int32) { link.Rows = append(link.Rows, row) })
		link.Start = append(link.Start, int32(len(link.Rows)))
	}
	w.Links[r.ID()] = link
}

// places fills a relation from pieces to what their member lists; the list is in the order of the members.
func (w *work) places(name string, list []Place) {
	first := make([]int32, len(w.doc.Members)+1)
	for _, p := range list {
		first[p.Member+1]++
	}
	for i := range w.doc.Members {
		first[i+1] += first[i]
	}
	w.many(vocabulary.Member, name, len(w.frame.Pieces), func(i int32, add func(int32)) {
		m := w.frame.Pieces[i].Member
		for k := first[m]; k < first[m+1]; k++ {
			add(k)
		}
	})
}

// on fills what each support rests on, with the reason where it rests on nothing.
func (w *work) on() {
	r := w.Book.Relation(vocabulary.Support, "on")
	if r == nil {
		return
	}
	n := len(w.frame.Supports)
	link := &vocabulary.Link{Start: make([]int32, 1, n+1), Absent: make([]vocabulary.Reason, n)}
	for i := range w.frame.Supports {
		s := &w.frame.Supports[i]
		if s.On >= 0 {
			link.Rows = append(link.Rows, s.On)
		} else {
			why := problemText(w.frame, s)
			if why == "" {
				why = "it rests on nothing"
			}
			link.Absent[i] = w.Reason(why)
		}
		link.Start = append(link.Start, int32(len(link.Rows)))
	}
	w.Links[r.ID()] = link
}
