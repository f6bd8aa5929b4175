package read

import (
	"fmt"
	"math"

	"example.com/scantling/model"
)

// Bounds of runs of equal pieces.
const (
	mostRepeats = 1_000_000
	mostPieces  = 5_000_000
)

// memberDraft is a member as it is read: what belongs to its section, and what only some members say, is put in its
// place at the end.
type memberDraft struct {
	model.Member
	more          model.Detail
	detailed      bool
	flat          bool
	finish        string
	sectionOffset int64
}

func draftOfMember(m *model.Member) *memberDraft {
	d := &memberDraft{Member: *m, more: *m.More()}
	if m.Section != nil {
		d.flat = m.Section.Flat
		d.finish = m.Section.Finish
	}
	return d
}

// members reads all members. The array grows by what the source still holds, so that it seldom moves.
func (r *reader) members(d *model.Document) {
	if r.peek() != '{' {
		r.wrongKind("an object of members by their marks", `{"B1": {...}}`)
		return
	}
	start := r.enter()
	var draft memberDraft
	for r.peek() == '"' {
		mark, offset, ok := r.id("a mark")
		if !ok {
			continue
		}
		r.mark = mark
		draft = memberDraft{Member: model.Member{Mark: mark, Offset: r.next()}}
		memberTable.read(r, &draft)
		r.grow(d, start)
		if !d.Add(draft.Member) {
			r.twice(mark, offset)
		}
	}
	r.mark = ""
	r.enter()
}

// grow makes room for the next members: as many as the rest of the source will hold if it goes on like this, within
// what the size of the source makes likely.
func (r *reader) grow(d *model.Document, start int64) {
	n := len(d.Members)
	if n < cap(d.Members) {
		return
	}
	each := float64(r.dec.InputOffset()-start) / float64(n+1)
	rest := float64(int64(len(r.src))-r.dec.InputOffset()) / each
	const likely = 512 // bytes of source for each member
	d.Grow(1 + min(int(rest*1.02), max(7*n, len(r.src)/likely)))
}

var pathPoints = list(func(r *reader) *arena[model.Point] { return &r.points }, spacePoint, false)

var memberTable = tableOf("a member", "One mark of the frame: one piece, or a run of equal pieces.", checkMember,
	must(in("role", "what it does in the frame, such as rafter, beam or post; regions and house packs may add roles",
		func(m *memberDraft) *model.Role { return &m.Role }, nameOf[model.Role](roleNames()...))),
	field[memberDraft]{
		key: "section", doc: `trade notation ("47x195", "2/47x195", "100x100x8 SHS", "203x133x25 UB", "W8x18"; "2x8" in a US document), or an object`,
		form: &Form{Kind: Either, Choices: []*Form{{Kind: Notation}, sectionTable.form}},
		read: func(r *reader, m *memberDraft) {
			m.sectionOffset = r.next()
			readSection(r, &m.Section)
		},
		write: func(w *writer, m *memberDraft) { writeSection(w, m.Section) },
		empty: func(m *memberDraft) bool { return m.Section == nil },
	},
	in("flat", "true lays the section down", func(m *memberDraft) *bool { return &m.flat }, truth),
	in("finish", "of a hollow section: hot or cold; say which, since a cold formed one holds less", func(m *memberDraft) *string { return &m.finish }, word("cold", "hot")),
	in("grade", "a grade that the region knows, or one under grades", func(m *memberDraft) *string { return &m.Grade }, name),
	in("material", "of walls, piers and foundations: masonry, concrete, ground, timber, steel", func(m *memberDraft) *string { return &m.Material }, name),
	in("path", "structural axis: two or more points [x, y, z], z up", func(m *memberDraft) *[]model.Point { return &m.Path }, pathPoints),
	in("length", "length of the axis, where there is no path", func(m *memberDraft) *model.Quantity { return &m.Length }, extent.optional()),
	in("pitch", "slope of the axis, where there is no path", func(m *memberDraft) *model.Quantity { return &m.Pitch }, slope.optional()),
	in("centres", "spacing of repeated members", func(m *memberDraft) *model.Quantity { return &m.Centres }, extent.optional()),
	in("repeat", "a run of equal pieces", func(m *memberDraft) *model.Repeat { return &m.Repeat },
		repeatTable.object(func(r *model.Repeat) bool { return *r == model.Repeat{} })),
	in("carries", "area ids, each with the width in plan where it is not the centres", func(m *memberDraft) *[]model.Carry { return &m.Carries },
		list(func(r *reader) *arena[model.Carry] { return &r.carries }, carryValue, true)),
	in("supports", "what it rests on", func(m *memberDraft) *[]model.Support { return &m.Supports },
		list(func(r *reader) *arena[model.Support] { return &r.supports }, supportTable.object(nil), false)),
	in("loads", "loads of its own, vertical and down", func(m *memberDraft) *[]model.Load { return &m.Loads },
		list(func(r *reader) *arena[model.Load] { return &r.loads }, loadTable.object(nil), false)),
	in("tied_by", "ties or ceiling joists that take the thrust of a couple", func(m *memberDraft) *[]model.TiedBy { return &m.Ties },
		list(func(r *reader) *arena[model.TiedBy] { return &r.ties }, tieValue, true)),
	in("ground", "true: it stands on the ground, and what reaches it has arrived", func(m *memberDraft) *bool { return &m.Ground }, truth),
	in("thrust", "true: both ends of a cranked member are held sideways; say at its supports what holds them", func(m *memberDraft) *bool { return &m.Thrust }, truth),
	in("width", "of a wall or pier; of a wall of two leaves that of the leaf that carries", func(m *memberDraft) *model.Quantity { return &m.Width }, extent.optional()),
	in("phase", "new (the default), existing or removed", func(m *memberDraft) *model.Phase { return &m.Phase }, phaseChoice),
	in("condition", "unverified: nobody has vouched for this existing member", func(m *memberDraft) *string { return &m.Condition }, word("unverified", "verified")),
	in("service_class", "service class 1, 2 or 3, where it is not the site's", func(m *memberDraft) *int { return &m.Service }, whole(1, 3)),
	in("restraint", `how the edges are held sideways: {"top": "full", "bottom": 1200}; a bare value is the top`, func(m *memberDraft) *model.Restraint { return &m.Restraint }, restraintValue),
	in("load_at", "the edge that load acts on; absent: the compression edge", func(m *memberDraft) *model.Edge { return &m.LoadAt }, edgeChoice),
	in("drawing", "the drawing that fixes it, or several with what each states", func(m *memberDraft) *[]model.DrawingRef { return &m.Drawings }, drawingRefs),
	in("covered_by", "what will hide it", func(m *memberDraft) *string { return &m.CoveredBy }, name),

	detail("held", "how a post is held sideways along its depth and its width", func(d *model.Detail) *model.Held { return &d.Held },
		heldTable.object(func(h *model.Held) bool { return *h == model.Held{} })),
	detail("depth_along", "direction in plan of a post's depth: [x, y], or an angle from x", func(d *model.Detail) *model.Quantity { return &d.DepthAlong }, direction),
	detail("notches", "cuts into an edge", func(d *model.Detail) *[]model.Notch { return &d.Notches }, list(own[model.Notch], notchTable.object(nil), false)),
	detail("holes", "round holes through the width", func(d *model.Detail) *[]model.Hole { return &d.Holes }, list(own[model.Hole], holeTable.object(nil), false)),
	detail("joints", "connections within it, at cranks and splices", func(d *model.Detail) *[]model.Joint { return &d.Joints }, list(own[model.Joint], jointTable.object(nil), false)),
	detail("plies_joined", "how the plies of a built-up member are joined", func(d *model.Detail) *string { return &d.PliesJoined }, name),
	detail("straps", "straps that tie it down or sideways", func(d *model.Detail) *[]model.Strap { return &d.Straps }, list(own[model.Strap], strapTable.object(nil), false)),
	detail("blocking", "rows of strutting, or blocks", func(d *model.Detail) *[]model.Blocking { return &d.Blocking }, list(own[model.Blocking], blockingTable.object(nil), false)),
	detail("packer", "thickness of packing under its ends", func(d *model.Detail) *model.Quantity { return &d.Packer }, slight.optional()),
	detail("treated", "preservative treatment", func(d *model.Detail) *string { return &d.Treated }, name),
	detail("fire_protection", "what protects it from fire", func(d *model.Detail) *string { return &d.Fire }, name),
	detail("corrosion_protection", "what protects it from corrosion", func(d *model.Detail) *string { return &d.Corrosion }, name),
	detail("end_fixing", "how the ends of a steel are fixed", func(d *model.Detail) *string { return &d.EndFixing }, name),
	detail("weld", "the weld or bolted detail at a crank or splice", func(d *model.Detail) *string { return &d.Weld }, name),
	detail("stated", "what a maker or engineer states for the whole member", func(d *model.Detail) **model.Stated { return &d.Stated }, optional(fresh[model.Stated], statedTable.object(nil))),
	detail("seen", "who has looked at it", func(d *model.Detail) **model.Seen { return &d.Seen }, optional(fresh[model.Seen], seenTable.object(nil))),
	detail("height", "of a wall", func(d *model.Detail) *model.Quantity { return &d.Height }, extent.optional()),
	detail("weight", "of a wall, per area of its face", func(d *model.Detail) *model.Quantity { return &d.Weight }, weight.optional()),
	detail("masonry", "a wall's units and mortar", func(d *model.Detail) **model.Masonry { return &d.Masonry }, optional(fresh[model.Masonry], masonryTable.object(nil))),
	detail("openings", "gaps in a wall along its path", func(d *model.Detail) *[]model.Opening { return &d.Openings }, list(own[model.Opening], openingTable.object(nil), false)),
	detail("footing", "what is known of a wall's or pier's footing", func(d *model.Detail) *string { return &d.Footing }, name),
	detail("deck", "thickness of the deck on it", func(d *model.Detail) *model.Quantity { return &d.Deck }, slight.optional()),
	detail("movable_load", "a person, in place of the imposed load, who may stand anywhere along the member: judged in the member and at its supports where that is worst, and passed on to nothing further", func(d *model.Detail) *model.Quantity { return &d.MovableLoad }, strength.optional()),
	detail("brace_removed", "true: taking it out takes lateral stability with it", func(d *model.Detail) *bool { return &d.BraceRemoved }, truth),
	detail("note", "anything worth saying", func(d *model.Detail) *string { return &d.Note }, words),
	detail("price", "per metre, in the firm's own currency", func(d *model.Detail) *model.Quantity { return &d.Price }, money.optional()),
)

// detail is a key of what only some members say.
func detail[V any](key, doc string, at func(*model.Detail) *V, v value[V]) field[memberDraft] {
	f := in(key, doc, func(m *memberDraft) *V { return at(&m.more) }, v)
	f.read = func(r *reader, m *memberDraft) {
		v.read(r, at(&m.more))
		m.detailed = m.detailed || !v.empty(at(&m.more))
	}
	return f
}

func roleNames() []string {
	names := make([]string, len(model.Roles))
	for i, role := range model.Roles {
		names[i] = string(role)
	}
	return names
}

// checkMember judges what a member says as a whole.
func checkMember(r *reader, m *memberDraft, seen said[memberDraft]) {
	r.checkPath(m, seen)
	if m.detailed {
		m.Detail = r.details.one()
		*m.Detail = m.more
	}
	if n := m.Pieces(); r.pieces <= mostPieces {
		if r.pieces += n; r.pieces > mostPieces {
			r.problem(seen.offset, fmt.Sprintf("the document has more than %d pieces with this member", mostPieces), "split the model, or mend the count of a repeat")
		}
	}
	if m.Section != nil && (m.flat || m.finish != "") {
		s, err := r.placed(m.Section, m.flat, m.finish)
		if err != nil {
			r.textProblemAt(m.sectionOffset, string(r.dec.StackPointer())+"/section", err)
			return
		}
		m.Section = s
	}
	if m.Section == nil && (m.flat || m.finish != "") && !seen.has("section") {
		r.problem(seen.offset, "flat and finish belong to a section", `add "section"`)
	}
}

// checkPath makes sure that an axis leads somewhere, and not too far.
func (r *reader) checkPath(m *memberDraft, seen said[memberDraft]) {
	if !seen.has("path") {
		return
	}
	wrong := pathFault(m.Path)
	if wrong == "" {
		return
	}
	path := Places{src: r.src}
	offset := m.Offset + path.find(r.src[m.Offset:r.dec.InputOffset()], "/path")
	r.problemAt(offset, string(r.dec.StackPointer())+"/path", wrong, "give two or more points that differ, [x, y, z] each, over less than a kilometre")
}

// pathFault says what is wrong with an axis; empty when nothing is.
func pathFault(path []model.Point) string {
	if len(path) < 2 {
		return fmt.Sprintf("a path of %d points leads nowhere", len(path))
	}
	length := 0.0
	for i, p := range path[1:] {
		q := path[i]
		if p == q {
			return fmt.Sprintf("points %d and %d of the path are the same", i+1, i+2)
		}
		length += math.Hypot(math.Hypot(p.X-q.X, p.Y-q.Y), p.Z-q.Z)
	}
	if length > longest {
		return fmt.Sprintf("the path is %.0f m long", length/1000)
	}
	return ""
}

// direction is a direction in plan: [x, y], or an angle from x.
var direction = value[model.Quantity]{
	read: func(r *reader, q *model.Quantity) {
		if r.peek() != '[' {
			if v, ok := turn.read(r); ok {
				*q = model.Given(v)
			}
			return
		}
		offset := r.next()
		var p model.Point
		planPoint.read(r, &p)
		if p.X == 0 && p.Y == 0 {
			r.problem(offset, "a direction [0, 0] leads nowhere", "write for example [1, 0]")
			return
		}
		*q = model.Given(math.Atan2(p.Y, p.X))
	},
	write: func(w *writer, q *model.Quantity) { w.amount(q.Value, turn.measure) },
	empty: func(q *model.Quantity) bool { return !q.Known },
	form:  &Form{Kind: Either, Choices: []*Form{planPoint.form, turn.form}},
}
