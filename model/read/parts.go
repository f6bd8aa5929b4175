package read

import (
	"fmt"
	"slices"
	"strings"

	"example.com/scantling/model"
)

// The objects within a document and within its members.

var siteTable = tableOf("site", "Where the building stands and what holds for all of it.", nil,
	in("region", "ISO 3166-2 code, such as GB-ENG; absent: no region's rules are applied", func(s *model.Site) *string { return &s.Region }, words),
	in("ground_snow", "snow load on the ground", func(s *model.Site) *model.Quantity { return &s.GroundSnow }, weight.optional()),
	in("altitude", "above sea level; a bare number is in metres (feet in a US document)", func(s *model.Site) *model.Quantity { return &s.Altitude }, altitude.optional()),
	in("service_class", "service class 1, 2 or 3", func(s *model.Site) *int { return &s.ServiceClass }, whole(1, 3)),
	in("snow_zone", "national snow zone", func(s *model.Site) *int { return &s.SnowZone }, whole(1, 20)),
	in("snow_drift", "how drift at abutments and valleys was dealt with", func(s *model.Site) *string { return &s.SnowDrift }, words),
	in("stage", "design, or building: open questions weigh more when building", func(s *model.Site) *string { return &s.Stage }, word("design", "building")),
	in("existing", "not relied on: the drawings say that old timbers are not to be leaned on", func(s *model.Site) *string { return &s.Existing }, word("not relied on", "relied on")),
	in("stability", "who has dealt with lateral stability where walls, braces or breasts go", func(s *model.Site) *string { return &s.Stability }, words),
	in("masonry_class", "execution control class of the masonry", func(s *model.Site) *int { return &s.MasonryClass }, whole(1, 5)),
	in("temporary_work", "who has dealt with temporary support", func(s *model.Site) *string { return &s.TemporaryWork }, words),
	in("note", "anything worth saying of the whole", func(s *model.Site) *string { return &s.Note }, words),
)

var drawingTable = tableOf("drawing", "One sheet that fixes members.", nil,
	in("title", "what the sheet shows", func(d *model.Drawing) *string { return &d.Title }, words),
	in("by", "who drew it", func(d *model.Drawing) *string { return &d.By }, words),
	in("revision", "its revision", func(d *model.Drawing) *string { return &d.Revision }, words),
)

var areaTable = tableOf("area", "A loaded surface that members carry a strip of.", func(_ *reader, a *model.Area, _ said[model.Area]) { sortLoads(a) },
	in("kind", "roof, ceiling, floor, loft or deck", func(a *model.Area) *string { return &a.Kind }, word("roof", "ceiling", "floor", "loft", "deck")),
	in("category", "use category, where the region asks for one", func(a *model.Area) *string { return &a.Category }, words),
	areaLoads(model.Dead, "weight, per area along the slope"),
	areaLoads(model.Imposed, "imposed load of a floor or ceiling, per area in plan"),
	areaLoads(model.RoofImposed, "imposed load of a roof, per area in plan"),
	areaLoads(model.Snow, "snow on the roof, per area in plan; several by name"),
	areaLoads(model.Wind, "wind, square to the slope, negative is suction; several by name"),
	in("covering", "what covers it", func(a *model.Area) *string { return &a.Covering }, words),
	in("finish", "what hangs beneath: plasterboard, plaster, none", func(a *model.Area) *string { return &a.Finish }, words),
	in("pitch", "its slope; serves members that do not slope with it", func(a *model.Area) *model.Quantity { return &a.Pitch }, slope.optional()),
	in("extent", "its outline in plan, points [x, y]", func(a *model.Area) *[]model.Point { return &a.Extent }, list(own[model.Point], planPoint, false)),
	in("dead_on", "what the weight is per area of: slope (the default) or plan", func(a *model.Area) *string { return &a.DeadOn }, word("slope", "plan")),
	in("self_weight", "whether members' own weight is added (the default) or included in the dead load", func(a *model.Area) *string { return &a.SelfWeight }, word("added", "included")),
	in("deck", "thickness of the deck", func(a *model.Area) *model.Quantity { return &a.Deck }, slight.optional()),
	in("point_load", "point load that may stand anywhere on the area in place of its imposed load", func(a *model.Area) *model.Quantity { return &a.PointLoad }, strength.optional()),
)

var gradeTable = tableOf("grade", "A grade that the document itself declares.", nil,
	in("material", "timber, glulam, LVL, steel", func(g *model.Grade) *string { return &g.Material }, words),
	in("E", "mean modulus of elasticity", func(g *model.Grade) *model.Quantity { return &g.E }, stress.optional()),
	in("G", "mean shear modulus", func(g *model.Grade) *model.Quantity { return &g.G }, stress.optional()),
	in("density", "mean density", func(g *model.Grade) *model.Quantity { return &g.Density }, density.optional()),
	in("region", "what a region's rules read, as numbers by name", func(g *model.Grade) *[]model.Named { return &g.Region },
		named("a property's name", value[model.Named]{
			read:  func(r *reader, n *model.Named) { noMeasure.into(r, &n.Value) },
			write: func(w *writer, n *model.Named) { w.number(n.Value) },
			form:  noMeasure.form,
		}, func(n *model.Named) *string { return &n.Name })),
	in("by", "whose declaration it is", func(g *model.Grade) *string { return &g.By }, words),
)

var repeatTable = tableOf("repeat", "A run of equal pieces.", nil,
	must(in("count", "number of pieces", func(r *model.Repeat) *int { return &r.Count }, whole(1, mostRepeats))),
	must(in("step", "from each piece to the next, [x, y, z]", func(r *model.Repeat) *model.Point { return &r.Step }, spacePoint)),
)

var carryTable = tableOf("carries", "A strip of an area.", nil,
	must(in("area", "id of the area", func(c *model.Carry) *string { return &c.Area }, name)),
	in("width", "in plan, square to the member; absent: the centres", func(c *model.Carry) *model.Quantity { return &c.Width }, extent.optional()),
)

// carryValue is an area's id, or a strip of it.
var carryValue = shorthand(carryTable, func(c *model.Carry) *string { return &c.Area }, func(c *model.Carry) bool { return !c.Width.Known })

var tieTable = tableOf("tied_by", "What takes the thrust of a couple.", nil,
	must(in("on", "mark of the tie", func(t *model.TiedBy) *string { return &t.On }, name)),
	in("at", "along the rafter; found from the geometry when both have paths", func(t *model.TiedBy) *model.Quantity { return &t.At }, along.optional()),
	in("capacity", "what the lap is stated to hold", func(t *model.TiedBy) **model.Capacity { return &t.Capacity }, capacityValue),
)

// tieValue is the mark of a tie, or more of it.
var tieValue = shorthand(tieTable, func(t *model.TiedBy) *string { return &t.On }, func(t *model.TiedBy) bool { return !t.At.Known && t.Capacity == nil })

// shorthand is an object that may be written as the one name that it is about.
func shorthand[T any](o *table[T], about func(*T) *string, only func(*T) bool) value[T] {
	return value[T]{
		read: func(r *reader, t *T) {
			if r.peek() == '"' {
				name.read(r, about(t))
				return
			}
			o.read(r, t)
		},
		write: func(w *writer, t *T) {
			if only(t) {
				w.string(*about(t))
				return
			}
			o.write(w, t)
		},
		form: &Form{Kind: Either, Choices: []*Form{{Kind: Text}, o.form}},
	}
}

var capacityTable = tableOf("capacity", "What a connection is stated to hold.", nil,
	in("down", "downward", func(c *model.Capacity) *model.Quantity { return &c.Down }, strength.optional()),
	in("up", "upward", func(c *model.Capacity) *model.Quantity { return &c.Up }, strength.optional()),
	in("along", "along the member", func(c *model.Capacity) *model.Quantity { return &c.Along }, strength.optional()),
	in("basis", "which load it is held against; absent: it stays unchecked", func(c *model.Capacity) *string { return &c.Basis }, word("safe working", "characteristic", "design")),
	in("by", "whose statement it is", func(c *model.Capacity) *string { return &c.By }, name),
)

var capacityValue = optional(func(r *reader) *model.Capacity { return r.capacities.one() }, capacityTable.object(nil))

var notchTable = tableOf("notch", "Material cut from an edge.", nil,
	in("at", "to its middle, along the axis; a support's notch is at the support", func(n *model.Notch) *model.Quantity { return &n.At }, along.optional()),
	in("depth", "square to the axis", func(n *model.Notch) *model.Quantity { return &n.Depth }, slight.optional()),
	in("length", "along the axis", func(n *model.Notch) *model.Quantity { return &n.Length }, slight.optional()),
	in("face", "top or bottom", func(n *model.Notch) *model.Edge { return &n.Face }, edgeChoice),
	in("slope", "of a tapered cut: run to rise", func(n *model.Notch) *model.Quantity { return &n.Slope }, plain.optional()),
	in("to_reaction", "from the notch's corner to the line of the reaction", func(n *model.Notch) *model.Quantity { return &n.ToReaction }, slight.optional()),
)

var seatTable = tableOf("seat", "A padstone, plate, packer or block between a member and what it rests on.", nil,
	in("kind", "padstone, plate, packer, block", func(s *model.Seat) *string { return &s.Kind }, name),
	field[model.Seat]{
		key: "size", doc: `along the wall x across x high, such as "440x140x215"`, form: &Form{Kind: Text},
		read: readSize,
		write: func(w *writer, s *model.Seat) {
			w.string(sizeText(w.units, s.Along.Value, s.Across.Value, s.High.Value))
		},
		empty: func(s *model.Seat) bool { return !s.Along.Known },
	},
	in("material", "what it is made of", func(s *model.Seat) *string { return &s.Material }, name),
	in("strength", "compressive strength", func(s *model.Seat) *model.Quantity { return &s.Strength }, stress.optional()),
)

// sizeText writes sides (mm) in the units of the document, or, where no such number gives exactly that side, in mm.
func sizeText(u model.Units, sides ...float64) string {
	written, mm := make([]string, len(sides)), make([]string, len(sides))
	exact := true
	for i, side := range sides {
		v, ok := exactly(side, model.MeasureLength.Size(u))
		written[i], mm[i], exact = printNumber(v), printNumber(side), exact && ok
	}
	if !exact {
		return strings.Join(mm, "x") + " mm"
	}
	return strings.Join(written, "x")
}

// readSize reads "440x140x215", in the document's units or with a unit at the end.
func readSize(r *reader, s *model.Seat) {
	raw, offset, ok := r.text("a size", `"440x140x215"`)
	if !ok {
		return
	}
	text := string(raw)
	body, unit := text, ""
	for _, u := range []string{"mm", "in"} {
		if cut, found := strings.CutSuffix(text, u); found {
			body, unit = strings.TrimSpace(cut), " "+u
		}
	}
	if unit == "" {
		unit = " " + side.measure.Unit(r.units)
	}
	parts := strings.Split(strings.ReplaceAll(body, "×", "x"), "x")
	if len(parts) != 3 {
		r.problem(offset, fmt.Sprintf("%q is no size of a seat", clip(text)), `write along the wall x across x high, such as "440x140x215"`)
		return
	}
	for i, to := range []*model.Quantity{&s.Along, &s.Across, &s.High} {
		v, err := model.ParseQuantity(parts[i]+unit, model.Length)
		if err != nil {
			r.textProblem(offset, err)
			return
		}
		if v < side.low || v > side.high {
			r.problem(offset, fmt.Sprintf("%q has a side of %g mm", clip(text), v), fmt.Sprintf("write sides up to %g mm", side.high))
			return
		}
		*to = model.Given(v)
	}
}

var supportTable = tableOf("support", "One place where a member is held.", checkSupport,
	in("on", "mark of what it rests on", func(s *model.Support) *string { return &s.On }, name),
	in("against", "mark of the opposing rafter that its head leans on", func(s *model.Support) *string { return &s.Against }, name),
	in("at", "along the axis from its first point; found from the geometry when both have paths", func(s *model.Support) *model.Quantity { return &s.At }, along.optional()),
	in("bearing", "length of bearing", func(s *model.Support) *model.Quantity { return &s.Bearing }, slight.optional()),
	in("notch", "the cut at the support", func(s *model.Support) **model.Notch { return &s.Notch },
		optional(func(r *reader) *model.Notch { return r.notches.one() }, notchTable.object(nil))),
	in("by", "how it is held", func(s *model.Support) *string { return &s.By }, word("seat", "hanger", "bolted", "welded", "nailed")),
	in("capacity", "what the connection is stated to hold", func(s *model.Support) **model.Capacity { return &s.Capacity }, capacityValue),
	in("holds", "vertical (the default), or horizontal push too", func(s *model.Support) *bool { return &s.Horizontal },
		choice(option[bool]{"vertical", false}, option[bool]{"horizontal", true})),
	in("fixed", "true: it holds rotation; by which bolts or welds, end_fixing of the member says", func(s *model.Support) *bool { return &s.Fixed }, truth),
	in("seat", "what lies between the two", func(s *model.Support) **model.Seat { return &s.Seat },
		optional(func(r *reader) *model.Seat { return r.seats.one() }, seatTable.object(nil))),
	in("continuous", "true: bedded along its length", func(s *model.Support) *bool { return &s.Continuous }, truth),
	in("from", "where a continuous support begins, along the axis", func(s *model.Support) *model.Quantity { return &s.From }, along.optional()),
	in("to", "where a continuous support ends, along the axis", func(s *model.Support) *model.Quantity { return &s.To }, along.optional()),
	in("level", "level of a support that has no geometry to say it", func(s *model.Support) *model.Quantity { return &s.Level }, place.optional()),
)

func checkSupport(r *reader, s *model.Support, seen said[model.Support]) {
	on, against := seen.has("on"), seen.has("against")
	switch {
	case on && against:
		r.problem(seen.offset, "a support is on something or against a rafter, not both", `keep "on" or "against"`)
	case !on && !against:
		r.problem(seen.offset, "this support does not say what it is on", `add "on" with a mark, or "against" with that of the opposing rafter`)
	case s.From.Known && s.To.Known && s.From.Value >= s.To.Value:
		r.problem(seen.offset, "this support ends before it begins", `let "to" be greater than "from"`)
	}
}

var loadTable = tableOf("load", "A load of the member itself, vertical and down.", checkLoad,
	must(in("action", "dead, imposed, roof_imposed, snow or wind", func(l *model.Load) *model.Action { return &l.Action }, choice(actionOptions()...))),
	in("case", "name of a case of the action; absent: the default case", func(l *model.Load) *string { return &l.Case }, name),
	in("phase", "new (the default), existing or removed", func(l *model.Load) *model.Phase { return &l.Phase }, phaseChoice),
	field[model.Load]{
		key: "point", doc: "a point load", form: force.form,
		read:  func(r *reader, l *model.Load) { l.IsPoint = true; force.into(r, &l.Point) },
		write: func(w *writer, l *model.Load) { w.amount(l.Point, force.measure) },
		empty: func(l *model.Load) bool { return !l.IsPoint },
	},
	field[model.Load]{
		key: "at", doc: "where a point load stands, along the axis", form: along.form,
		read:  func(r *reader, l *model.Load) { along.into(r, &l.At) },
		write: func(w *writer, l *model.Load) { w.amount(l.At, along.measure) },
		empty: func(l *model.Load) bool { return !l.IsPoint || l.Movable && l.At == 0 },
	},
	field[model.Load]{
		key: "line", doc: "load per length: one figure, or [first, last]",
		form: &Form{Kind: Either, Choices: []*Form{lineLoad.form, {Kind: List, Items: lineLoad.form, Least: 2, Most: 2}}},
		read: readLine,
		write: func(w *writer, l *model.Load) {
			if l.First == l.Last {
				w.amount(l.First, lineLoad.measure)
				return
			}
			w.begin('[', false)
			w.item()
			w.amount(l.First, lineLoad.measure)
			w.item()
			w.amount(l.Last, lineLoad.measure)
			w.end(']')
		},
		empty: func(l *model.Load) bool { return l.IsPoint },
	},
	in("from", "where a line load begins, along the axis; absent: at the first point", func(l *model.Load) *model.Quantity { return &l.From }, along.optional()),
	in("to", "where a line load ends, along the axis; absent: at the last point", func(l *model.Load) *model.Quantity { return &l.To }, along.optional()),
	in("per", "what a line load is per length of: length (the default) or plan", func(l *model.Load) *bool { return &l.PerPlan },
		choice(option[bool]{"length", false}, option[bool]{"plan", true})),
	in("movable", "true: it may stand anywhere along the member, and is judged where that is worst: in the member and at its supports, and passed on to nothing further", func(l *model.Load) *bool { return &l.Movable }, truth),
)

func readLine(r *reader, l *model.Load) {
	if r.peek() != '[' {
		lineLoad.into(r, &l.First)
		l.Last = l.First
		return
	}
	offset := r.enter() - 1
	n := 0
	for k := r.peek(); k != ']' && k != 0; k = r.peek() {
		switch n {
		case 0:
			lineLoad.into(r, &l.First)
		case 1:
			lineLoad.into(r, &l.Last)
		default:
			r.skip()
		}
		n++
	}
	r.enter()
	if n != 2 {
		r.problem(offset, fmt.Sprintf("a list of %d stands where two figures are wanted", n), "write [first, last]")
	}
}

func checkLoad(r *reader, l *model.Load, seen said[model.Load]) {
	point, line := seen.has("point"), seen.has("line")
	from, to := seen.has("from"), seen.has("to")
	switch {
	case point == line:
		r.problem(seen.offset, "a load is either a point load or a line load", `write one of "point" and "line"`)
	case point && l.Movable && l.Point < 0:
		r.problem(seen.offset, "a load that may stand anywhere lifts", "a movable load weighs down: let \"point\" be positive")
	case point && !l.Movable && !seen.has("at"):
		r.problem(seen.offset, "this point load does not say where it stands", `add "at", from the first point of the path`)
	case point && (from || to || l.PerPlan):
		r.problem(seen.offset, "a point load stands in one place", `use "at"; "from", "to" and "per" belong to a line load`)
	case line && (seen.has("at") || l.Movable):
		r.problem(seen.offset, "a line load reaches from one place to another", `use "from" and "to"; "at" and "movable" belong to a point load`)
	case l.From.Known && l.To.Known && l.From.Value >= l.To.Value:
		r.problem(seen.offset, "this load ends before it begins", `let "to" be greater than "from"`)
	}
}

var phaseChoice = choice(option[model.Phase]{"new", model.New}, option[model.Phase]{"existing", model.Existing}, option[model.Phase]{"removed", model.Removed})

var edgeChoice = choice(option[model.Edge]{"top", model.Top}, option[model.Edge]{"bottom", model.Bottom}, option[model.Edge]{"middle", model.Middle})

// holdValue is "full", or the spacing of what holds an edge.
var holdValue = value[model.Hold]{
	read: func(r *reader, h *model.Hold) {
		if r.peek() == '"' {
			text, offset, ok := r.text("", "")
			if !ok {
				return
			}
			if string(text) == "full" {
				*h = model.Hold{Said: true, Full: true}
				return
			}
			v, ok := extent.parse(r, string(text), offset)
			if ok && extent.within(r, v, offset) {
				*h = model.Hold{Said: true, Spacing: v}
			}
			return
		}
		if v, ok := extent.read(r); ok {
			*h = model.Hold{Said: true, Spacing: v}
		}
	},
	write: func(w *writer, h *model.Hold) {
		if h.Full {
			w.string("full")
			return
		}
		w.amount(h.Spacing, extent.measure)
	},
	empty: func(h *model.Hold) bool { return !h.Said },
	form:  &Form{Kind: Either, Choices: []*Form{{Kind: Choice, Values: []string{"full"}}, extent.form}},
}

var restraintTable = tableOf("restraint", "How the two edges are held sideways.", nil,
	in("top", `"full", or the spacing of what holds the top edge`, func(s *model.Restraint) *model.Hold { return &s.Top }, holdValue),
	in("bottom", `"full", or the spacing of what holds the bottom edge`, func(s *model.Restraint) *model.Hold { return &s.Bottom }, holdValue),
)

var restraintValue = value[model.Restraint]{
	read: func(r *reader, s *model.Restraint) {
		if r.peek() == '{' {
			restraintTable.read(r, s)
			return
		}
		holdValue.read(r, &s.Top)
	},
	write: func(w *writer, s *model.Restraint) {
		if !s.Bottom.Said {
			holdValue.write(w, &s.Top)
			return
		}
		restraintTable.write(w, s)
	},
	empty: func(s *model.Restraint) bool { return !s.Top.Said && !s.Bottom.Said },
	form:  &Form{Kind: Either, Choices: append([]*Form{restraintTable.form}, holdValue.form.Choices...)},
}

var heldTable = tableOf("held", "How a post is held against moving along its depth and its width.", nil,
	in("depth", `"full", or the spacing of what holds it along its depth`, func(h *model.Held) *model.Hold { return &h.Depth }, holdValue),
	in("width", `"full", or the spacing of what holds it along its width`, func(h *model.Held) *model.Hold { return &h.Width }, holdValue),
)

var drawingRefTable = tableOf("drawing of a member", "What one drawing states of a member.", nil,
	field[model.DrawingRef]{
		key: "section", doc: "the section that this drawing states", form: &Form{Kind: Notation},
		read: func(r *reader, d *model.DrawingRef) {
			raw, offset, ok := r.text("a section", `"47x147"`)
			if !ok {
				return
			}
			d.Section = r.intern(raw)
			if _, err := r.section(d.Section); err != nil {
				r.textProblem(offset, err)
			}
		},
		write: func(w *writer, d *model.DrawingRef) { w.string(d.Section) },
		empty: func(d *model.DrawingRef) bool { return d.Section == "" },
	},
	in("grade", "the grade that this drawing states", func(d *model.DrawingRef) *string { return &d.Grade }, name),
	in("centres", "the spacing that this drawing states", func(d *model.DrawingRef) *model.Quantity { return &d.Centres }, extent.optional()),
	in("to", "engineer: left to the engineer's details, still open", func(d *model.DrawingRef) *string { return &d.To }, word("engineer")),
)

// mostDrawings bounds the drawings that one member names with what they state.
const mostDrawings = 200

// drawingRefs is a drawing's id, an object of ids with what each states, or a list of either.
var drawingRefs = value[[]model.DrawingRef]{
	read: func(r *reader, refs *[]model.DrawingRef) {
		a := &r.drawings
		start := len(a.chunk)
		if r.peek() == '[' {
			r.enter()
			for k := r.peek(); k != ']' && k != 0; k = r.peek() {
				start = r.drawingRef(start)
			}
			r.enter()
		} else {
			start = r.drawingRef(start)
		}
		if len(a.chunk) > start {
			*refs = a.list(start)
		}
	},
	write: writeDrawingRefs,
	empty: func(refs *[]model.DrawingRef) bool { return len(*refs) == 0 },
	form: func() *Form {
		stated := &Form{Kind: Map, Name: "a drawing's id", Items: drawingRefTable.form}
		one := []*Form{{Kind: Text}, stated}
		return &Form{Kind: Either, Choices: append(one, &Form{Kind: List, Items: &Form{Kind: Either, Choices: one}})}
	}(),
}

// drawingRef adds a drawing, or several from one object, to the list that began at start.
func (r *reader) drawingRef(start int) int {
	a := &r.drawings
	switch r.peek() {
	case '"':
		start = a.extend(start)
		name.read(r, &a.chunk[len(a.chunk)-1].ID)
	case '{':
		r.enter()
		for r.peek() == '"' {
			id, offset, ok := r.id("a drawing's id")
			if !ok {
				continue
			}
			known := a.chunk[start:]
			if slices.ContainsFunc(known, func(d model.DrawingRef) bool { return d.ID == id }) {
				r.duplicate(id, offset)
				continue
			}
			if len(known) >= mostDrawings {
				r.skip()
				r.problem(offset, fmt.Sprintf("more than %d drawings fix one member", mostDrawings), "keep those that state something of it")
				continue
			}
			start = a.extend(start)
			last := &a.chunk[len(a.chunk)-1]
			last.ID = id
			drawingRefTable.read(r, last)
		}
		r.enter()
	default:
		r.wrongKind("a drawing", `"S-101", or {"S-101": {"section": "47x147"}}`)
	}
	return start
}

func writeDrawingRefs(w *writer, refs *[]model.DrawingRef) {
	one := func(d *model.DrawingRef) {
		if *d == (model.DrawingRef{ID: d.ID}) {
			w.string(d.ID)
			return
		}
		w.begin('{', false)
		w.key(d.ID)
		drawingRefTable.write(w, d)
		w.end('}')
	}
	if len(*refs) == 1 {
		one(&(*refs)[0])
		return
	}
	w.begin('[', false)
	for i := range *refs {
		w.item()
		one(&(*refs)[i])
	}
	w.end(']')
}

var holeTable = tableOf("hole", "A round hole through the width.", nil,
	in("at", "to its middle, along the axis", func(h *model.Hole) *model.Quantity { return &h.At }, along.optional()),
	in("diameter", "its diameter", func(h *model.Hole) *model.Quantity { return &h.Diameter }, side.optional()),
	in("edge", "from the top edge to its centre; absent: on the centre line", func(h *model.Hole) *model.Quantity { return &h.Edge }, slight.optional()),
)

var jointTable = tableOf("joint", "A connection within a member, at a crank or a splice.", nil,
	in("at", "along the axis", func(j *model.Joint) *model.Quantity { return &j.At }, along.optional()),
	in("kind", "rigid or hinge; absent: nobody knows, and a member with it between its ends is not worked out", func(j *model.Joint) *string { return &j.Kind }, word("rigid", "hinge")),
	in("detail", "the weld or bolts", func(j *model.Joint) *string { return &j.Detail }, words),
	in("capacity", "moment that it is stated to hold", func(j *model.Joint) *model.Quantity { return &j.Capacity }, moment.optional()),
)

var strapTable = tableOf("strap", "A strap that ties a member down or sideways.", nil,
	in("kind", "lateral or holding down", func(s *model.Strap) *string { return &s.Kind }, word("lateral", "holding down")),
	in("to", "mark of what it ties to", func(s *model.Strap) *string { return &s.To }, name),
	in("at", "along the axis", func(s *model.Strap) *model.Quantity { return &s.At }, along.optional()),
	in("centres", "spacing of several", func(s *model.Strap) *model.Quantity { return &s.Centres }, extent.optional()),
	in("size", "its width x thickness, length, or name", func(s *model.Strap) *string { return &s.Size }, words),
	in("capacity", "what it is stated to hold", func(s *model.Strap) **model.Capacity { return &s.Capacity }, capacityValue),
)

var blockingTable = tableOf("blocking", "A row of strutting, or a block under a post.", nil,
	in("kind", "solid, herringbone or block", func(b *model.Blocking) *string { return &b.Kind }, word("solid", "herringbone", "block")),
	in("at", "along the axis", func(b *model.Blocking) *model.Quantity { return &b.At }, along.optional()),
)

var statedTable = tableOf("stated", "What a maker or engineer states for the whole member.", nil,
	in("total_load", "the whole load that it may carry", func(s *model.Stated) *model.Quantity { return &s.TotalLoad }, strength.optional()),
	in("line_load", "the load per length that it may carry", func(s *model.Stated) *model.Quantity { return &s.LineLoad }, lineLoad.optional()),
	in("moment", "the moment that it may carry", func(s *model.Stated) *model.Quantity { return &s.Moment }, moment.optional()),
	in("by", "whose statement it is", func(s *model.Stated) *string { return &s.By }, words),
)

var seenTable = tableOf("seen", "Evidence that a person has looked at something.", nil,
	in("by", "who saw it", func(s *model.Seen) *string { return &s.By }, words),
	in("date", "when, as year-month-day", func(s *model.Seen) *string { return &s.Date }, words),
	in("photo", "which photograph", func(s *model.Seen) *string { return &s.Photo }, words),
)

var masonryTable = tableOf("masonry", "A wall's units and mortar.", nil,
	in("unit", "clay, concrete, aac or stone", func(m *model.Masonry) *string { return &m.Unit }, word("clay", "concrete", "aac", "stone")),
	in("group", "group of the units, 1 to 4", func(m *model.Masonry) *int { return &m.Group }, whole(1, 4)),
	in("strength", "normalised mean compressive strength of the unit", func(m *model.Masonry) *model.Quantity { return &m.Strength }, stress.optional()),
	in("mortar", "compressive strength of the mortar", func(m *model.Masonry) *model.Quantity { return &m.Mortar }, stress.optional()),
	in("class", "category of the units: I or II", func(m *model.Masonry) *string { return &m.Class }, word("I", "II")),
	in("leaf", "solid, or inner where the wall is the inner leaf of two; cavity where nobody has said which leaf carries", func(m *model.Masonry) *string { return &m.Leaf }, word("solid", "cavity", "inner")),
)

var openingTable = tableOf("opening", "A gap in a wall along its path.", nil,
	must(in("from", "where it begins, along the wall's path", func(o *model.Opening) *model.Quantity { return &o.From }, along.optional())),
	must(in("to", "where it ends, along the wall's path", func(o *model.Opening) *model.Quantity { return &o.To }, along.optional())),
	in("lintel", "mark of the lintel over it", func(o *model.Opening) *string { return &o.Lintel }, name),
)
