package facts

import (
	"iter"
	"math"
	"slices"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// Lists are the names that a run and its region share: indices of a batch refer to them.
type Lists struct {
	Sections  []*model.Section
	Grades    []region.GradeName
	sectionOf map[*model.Section]int32
	gradeOf   map[string]int32
}

// NewLists collects the sections and grades that a document uses, in its order.
func NewLists(doc *model.Document) *Lists {
	l := &Lists{sectionOf: map[*model.Section]int32{}, gradeOf: map[string]int32{}}
	grade := func(name string, steel bool) {
		if name == "" {
			return
		}
		i, ok := l.gradeOf[name]
		if !ok {
			i = int32(len(l.Grades))
			l.gradeOf[name] = i
			g := region.GradeName{Name: name}
			for k := range doc.Grades {
				if doc.Grades[k].Name == name {
					g.Declared = &doc.Grades[k]
				}
			}
			l.Grades = append(l.Grades, g)
		}
		l.Grades[i].Steel = l.Grades[i].Steel || steel
	}
	for i := range doc.Members {
		m := &doc.Members[i]
		if s := m.Section; s != nil {
			if _, ok := l.sectionOf[s]; !ok {
				l.sectionOf[s] = int32(len(l.Sections))
				l.Sections = append(l.Sections, s)
			}
			for _, layer := range s.Layers {
				grade(layer.Grade, false)
			}
		}
		grade(m.Grade, m.Section != nil && m.Section.SteelByDefault)
	}
	return l
}

// Grade is the index of a grade's name, or -1.
func (l *Lists) Grade(name string) int32 { return indexIn(l.gradeOf, name) }

func indexIn[K comparable](m map[K]int32, k K) int32 {
	if i, ok := m[k]; ok {
		return i
	}
	return -1
}

// firstBytes is about how large the first batch grows, so that the region has something to do early; each later one may
// be twice as large, up to batchBytes. That is far below what may cross the boundary: the region works on one batch while
// the next is made, and neither side holds much.
const (
	firstBytes = 128 << 10
	batchBytes = 1 << 20
)

// Batches is the classes of pieces that a region can judge, in columns: those of only, or all where it is nil. It must
// be drawn before the facts are judged. A piece too large to cross the boundary is left out, its facts absent.
func (f *Filled) Batches(l *Lists, only func(class int32) bool, working bool) iter.Seq[*region.Batch] {
	return func(yield func(*region.Batch) bool) {
		w := newBatchWriter(f, l, working)
		if f.base != nil {
			w.full = batchBytes // others are tried meanwhile
		}
		w.room = f.roomOver(w.full)
		for class, piece := range f.Classes.First {
			if f.recalled(int32(class)) >= 0 || f.judged(piece) != "" || only != nil && !only(int32(class)) {
				continue
			}
			w.piece(int32(class), piece)
			if w.bytes() > region.MaxMessage {
				w.dropLast()
				f.leaveClass(int32(class), "more meets at it than can be told to a region at once: divide it into shorter members")
			}
			if w.bytes() >= w.full && !yield(w.take()) {
				return
			}
		}
		if w.b != nil && len(w.b.Pieces.ID) > 0 {
			yield(w.take())
		}
	}
}

// leaveClass makes a region's facts absent for the pieces of a class.
func (f *Filled) leaveClass(class int32, reason string) {
	f.answering.Lock()
	defer f.answering.Unlock()
	why := f.Reason(reason)
	for _, fact := range f.Book.Facts(vocabulary.Member) {
		c := f.Columns[fact.ID()]
		if fact.Origin != vocabulary.FromRegion || c == nil {
			continue
		}
		for _, row := range f.Classes.Rows(class) {
			c.Absent[row] = why
		}
	}
}

// judged is why a region is not asked about a piece, or empty.
func (f *Filled) judged(piece int32) string {
	t := f.Source.Down
	m := t.Frame.Member(piece)
	switch {
	case m.Ground:
		return "it stands on the ground"
	case m.Section == nil:
		return "no section is stated"
	case t.Unsolved(piece) != "":
		return "its reactions could not be worked out: " + t.Unsolved(piece)
	}
	return ""
}

// FillRegion makes the columns of a region's facts, absent until Take fills them.
func (f *Filled) FillRegion(facts []vocabulary.Fact) {
	rows := f.Tables[vocabulary.Member].Rows
	reasons := make([]vocabulary.Reason, rows)
	for i := range reasons {
		if why := f.judged(int32(i)); why != "" {
			reasons[i] = f.Reason(why)
		} else {
			reasons[i] = f.Reason("the region has not answered")
		}
	}
	f.governs = make([]int32, len(f.Classes.First)*len(facts))
	for i := range f.governs {
		f.governs[i] = -1
	}
	for i := range facts {
		fact := f.Book.Fact(facts[i].Subject, facts[i].Name)
		if fact == nil || fact.Subject != vocabulary.Member {
			continue
		}
		c := &vocabulary.Column{Absent: slices.Clone(reasons)}
		switch fact.Type {
		case vocabulary.Truth:
			c.Truths = make([]bool, rows)
		default:
			c.Numbers = make([]float64, rows)
		}
		f.Columns[fact.ID()] = c
	}
}

// LeaveRegion makes all of a region's facts absent, for a reason: also those that it has answered, since how many it got
// through before it failed is chance.
func (f *Filled) LeaveRegion(facts []vocabulary.Fact, reason string) {
	f.governs = nil
	for i := range facts {
		if fact := f.Book.Fact(facts[i].Subject, facts[i].Name); fact != nil {
			f.Leave(fact, reason)
		}
	}
}

// Take fills a region's facts from its answer to a batch: every piece of a class gets the class's value.
func (f *Filled) Take(facts []vocabulary.Fact, out *region.Derived) {
	f.answering.Lock()
	defer f.answering.Unlock()
	reasons := make([]vocabulary.Reason, len(out.Reasons))
	for i, r := range out.Reasons {
		reasons[i] = f.Reason(r)
	}
	for k := range facts {
		fact := f.Book.Fact(facts[k].Subject, facts[k].Name)
		if fact == nil || f.Columns[fact.ID()] == nil {
			continue
		}
		c := f.Columns[fact.ID()]
		for i, class := range out.ID {
			j := i*len(facts) + k
			f.governs[int(class)*len(facts)+k] = out.Combination[j]
			for _, row := range f.Classes.Rows(class) {
				switch {
				case out.Reason[j] != 0:
					c.Absent[row] = reasons[out.Reason[j]]
				case fact.Type == vocabulary.Truth:
					c.Absent[row], c.Truths[row] = 0, out.Value[j] != 0
				default:
					c.Absent[row], c.Numbers[row] = 0, out.Value[j]
				}
			}
		}
	}
}

// Governing is the combination that makes a region's fact of a piece what it is, or -1. Facts count as Describe gave them.
func (f *Filled) Governing(fact, facts int, piece int32) int32 {
	if f.governs == nil {
		return -1
	}
	return f.governs[int(f.Classes.Of[piece])*facts+fact]
}

// batchWriter appends pieces to a batch.
type batchWriter struct {
	f       *Filled
	t       *statics.TakeDown
	fr      *frame.Frame
	l       *Lists
	working bool
	analyst *statics.Analyst
	alone   []region.Combination   // each case by itself
	moving  region.Combination     // what may stand anywhere, by itself
	beside  *statics.Analyst       // of what lands on the piece
	pushes  map[int32][]plane.Push // of its supports by what may stand anywhere on it, for 1 N, by class
	b       *region.Batch          // nil before its first piece
	full    int                    // bytes at which the batch is handed on
	room    int                    // numbers of each kind of force that a batch has room for before it grows; 0: few pieces are told
	words   map[string]int32
	text    int // bytes of the words
	places  []place
	unique  []int // by combination: the first with the same effect on this piece
	high    []plane.Forces
	low     []plane.Forces
	foot    float64   // part of that moment at the first point of the piece ...
	up      float64   // ... and its growth per mm: it is whole at the head and nothing at the foot
	out     []float64 // by combination: moment at the head of an upright piece, from what lands beside its axis
}

// place is a station before its forces are known.
type place struct {
	at   float64
	side plane.Side
	kind int32
	of   plane.Quantity
}

func newBatchWriter(f *Filled, l *Lists, working bool) *batchWriter {
	t := f.Source.Down
	w := &batchWriter{f: f, t: t, fr: t.Frame, l: l, working: working, analyst: t.NewAnalyst(), full: firstBytes}
	for c := range t.Cases {
		k := region.Combination{State: region.Characteristic, Factors: make([]float64, len(t.Cases))}
		k.Factors[c] = 1
		w.alone = append(w.alone, k)
	}
	w.moving = region.Combination{State: region.Characteristic, Factors: make([]float64, len(t.Cases)), Moving: 1}
	w.beside, w.pushes = t.NewAnalyst(), map[int32][]plane.Push{}
	return w
}

func (w *batchWriter) fresh() {
	w.b = &region.Batch{Working: w.working, Combinations: int32(len(w.f.Source.Combinations)), Cases: int32(len(w.t.Cases))}
	p := &w.b.Pieces
	p.Words = region.Dictionary{""}
	w.words, w.text = map[string]int32{"": 0}, 0
	p.ContactStart, p.StationStart, p.SpanStart = []int32{0}, []int32{0}, []int32{0}
	p.NotchStart, p.HoleStart = []int32{0}, []int32{0}
	s, room := &w.b.Stations, w.room // what a batch mostly is: four numbers of eight bytes a combination
	s.N, s.V, s.M, s.MomentOut = make([]float64, 0, room), make([]float64, 0, room), make([]float64, 0, room), make([]float64, 0, room)
	c := &w.b.Contacts
	c.Down, c.Up, c.Along = make([]float64, 0, room/3), make([]float64, 0, room/3), make([]float64, 0, room/3)
}

func (w *batchWriter) take() *region.Batch {
	b := w.b
	w.full, w.b = min(2*w.full, batchBytes), nil
	if w.room > 0 {
		w.room = roomFor(w.full)
	}
	return b
}

// roomFor is how many numbers there are of each kind in a batch of so many bytes.
func roomFor(bytes int) int { return bytes * 5 / 4 / 32 }

// roomOver is how many there may be in the first batch: over a base in which much is alike, about what is left to tell.
func (f *Filled) roomOver(bytes int) int {
	if f.base == nil {
		return roomFor(bytes)
	}
	const stations = 20 // of a piece that is told for the first time
	left := 0
	for class, alike := range f.base {
		if alike >= 0 {
			continue
		}
		if told := f.toldBefore(int32(class)); told != nil {
			left += len(told.Stations.N)
		} else {
			left += stations * len(f.Source.Combinations)
		}
	}
	return min(left, roomFor(bytes))
}

// bytes is what the batch takes on the wire, a little more rather than less.
func (w *batchWriter) bytes() int {
	b, combinations, cases := w.b, len(w.f.Source.Combinations), len(w.t.Cases)
	return w.text + len(b.Pieces.ID)*200 + len(b.Contacts.At)*(220+24*combinations+16*cases) + len(b.Stations.At)*(20+32*combinations) +
		len(b.Spans.From)*(46+8*combinations+16*cases) + len(b.Notches.At)*30 + len(b.Holes.At)*30
}

// dropLast takes the piece that was added last out of the batch.
func (w *batchWriter) dropLast() {
	kept := w.b.Pieces.ID[:len(w.b.Pieces.ID)-1]
	w.fresh()
	for _, class := range kept {
		w.piece(class, w.f.Classes.First[class])
	}
}

func (w *batchWriter) word(s string) int32 {
	if i, ok := w.words[s]; ok {
		return i
	}
	i := int32(len(w.b.Pieces.Words))
	w.b.Pieces.Words = append(w.b.Pieces.Words, s)
	w.words[s] = i
	w.text += len(s) + 8
	return i
}

// one is a batch of one class.
func (w *batchWriter) one(class int32) *region.Batch {
	w.piece(class, w.f.Classes.First[class])
	return w.take()
}

// piece adds one class. What acts inside it is worked out, or was before.
func (w *batchWriter) piece(class, piece int32) {
	if w.b == nil {
		w.fresh()
	}
	w.document(class, piece)
	w.contacts(piece)
	if told := w.f.toldBefore(class); told != nil {
		w.repeat(told)
	} else {
		e := w.analyst.Effects(piece)
		w.unique = e.Alike(w.f.Source.Combinations)
		w.b.Pieces.Movable = append(w.b.Pieces.Movable, w.f.work.unmoved(e))
		w.reactions(e, piece)
		w.spans(e, piece)
		w.stations(e, piece)
	}
	p := &w.b.Pieces
	p.ContactStart = append(p.ContactStart, int32(len(w.b.Contacts.At)))
	p.SpanStart = append(p.SpanStart, int32(len(w.b.Spans.From)))
	p.StationStart = append(p.StationStart, int32(len(w.b.Stations.At)))
	p.NotchStart = append(p.NotchStart, int32(len(w.b.Notches.At)))
	p.HoleStart = append(p.HoleStart, int32(len(w.b.Holes.At)))
}

// document adds what the document and the frame say of a piece.
func (w *batchWriter) document(class, piece int32) {
	p := &w.b.Pieces
	m, d, sh := w.fr.Member(piece), w.fr.Member(piece).More(), w.fr.Shape(piece)
	row := memberRow{w: w.f.work, index: w.fr.Pieces[piece].Member, m: m, d: d, sh: sh}
	p.ID = append(p.ID, class)
	p.Multiplicity = append(p.Multiplicity, w.f.Classes.Count[class])
	p.Role = append(p.Role, w.word(string(m.Role)))
	p.Section = append(p.Section, indexIn(w.l.sectionOf, m.Section))
	p.Grade = append(p.Grade, w.l.Grade(m.Grade))
	p.Service = append(p.Service, int32(serviceClass(w.fr.Document, m)))
	p.Length = append(p.Length, sh.Length)
	p.Slope = append(p.Slope, sh.Slope)
	p.Centres = append(p.Centres, m.Centres.Value)
	p.Cranked = append(p.Cranked, sh.Kinks > 0)
	p.Column = append(p.Column, sh.Upright || isPost(m.Role))
	p.Repetitive = append(p.Repetitive, m.InRun())
	p.TopFull = append(p.TopFull, m.Restraint.Top.Full)
	p.TopSpacing = append(p.TopSpacing, m.Restraint.Top.Spacing)
	p.BottomFull = append(p.BottomFull, m.Restraint.Bottom.Full)
	p.BottomSpace = append(p.BottomSpace, m.Restraint.Bottom.Spacing)
	p.HeldDepth = append(p.HeldDepth, heldSpacing(d.Held.Depth))
	p.HeldWidth = append(p.HeldWidth, heldSpacing(d.Held.Width))
	p.LoadAt = append(p.LoadAt, w.word(m.LoadAt.String()))
	p.PliesJoined = append(p.PliesJoined, w.word(d.PliesJoined))
	p.Brittle = append(p.Brittle, row.carriesBrittle().v)
	p.Carries = append(p.Carries, w.word(row.carriesKind().v))
	p.Deck = append(p.Deck, row.deck().v)
	p.BlockingRows = append(p.BlockingRows, int32(len(d.Blocking)))
	p.Treated = append(p.Treated, w.word(d.Treated))
	p.Condition = append(p.Condition, w.word(m.Condition))
	for _, n := range d.Notches {
		c := &w.b.Notches
		c.At, c.Depth = append(c.At, n.At.Value), append(c.Depth, n.Depth.Value)
		c.Length, c.Bottom = append(c.Length, n.Length.Value), append(c.Bottom, n.Face == model.Bottom)
	}
	for _, h := range d.Holes {
		c := &w.b.Holes
		c.At, c.Diameter, c.FromTop = append(c.At, h.At.Value), append(c.Diameter, h.Diameter.Value), append(c.FromTop, h.Edge.Or(-1))
	}
}

// repeat adds what acts inside a piece as it was told before of one in which the same acts.
func (w *batchWriter) repeat(told *region.Batch) {
	w.b.Pieces.Movable = append(w.b.Pieces.Movable, told.Pieces.Movable...)
	c, s, at := &w.b.Contacts, &w.b.Spans, &w.b.Stations
	c.Down, c.Up, c.Along = append(c.Down, told.Contacts.Down...), append(c.Up, told.Contacts.Up...), append(c.Along, told.Contacts.Along...)
	s.From, s.To, s.Overhang = append(s.From, told.Spans.From...), append(s.To, told.Spans.To...), append(s.Overhang, told.Spans.Overhang...)
	s.Deflection, s.CaseDeflect = append(s.Deflection, told.Spans.Deflection...), append(s.CaseDeflect, told.Spans.CaseDeflect...)
	s.CaseMoment = append(s.CaseMoment, told.Spans.CaseMoment...)
	s.MoveDeflect, s.MoveMoment = append(s.MoveDeflect, told.Spans.MoveDeflect...), append(s.MoveMoment, told.Spans.MoveMoment...)
	at.At, at.Span, at.Kind = append(at.At, told.Stations.At...), append(at.Span, told.Stations.Span...), append(at.Kind, told.Stations.Kind...)
	at.N, at.V, at.M = append(at.N, told.Stations.N...), append(at.V, told.Stations.V...), append(at.M, told.Stations.M...)
	at.MomentOut = append(at.MomentOut, told.Stations.MomentOut...)
}

// heldSpacing is a hold as the contract says it: 0 is held at the ends only, -1 along the whole.
func heldSpacing(h model.Hold) float64 {
	switch {
	case h.Full:
		return -1
	case h.Said:
		return h.Spacing
	}
	return 0
}

// meetings is the piece's own supports that hold it, then what lands on it.
func (w *batchWriter) meetings(piece int32) iter.Seq2[int32, bool] {
	return func(yield func(support int32, landing bool) bool) {
		supports, from := w.fr.SupportsOf(piece)
		for k := range supports {
			if supports[k].Holds() && !yield(from+int32(k), false) {
				return
			}
		}
		upright := w.fr.Shape(piece).Upright
		for _, i := range w.fr.LandingsOn(piece) {
			if s := &w.fr.Supports[i]; !s.Continuous && s.OnAt >= 0 && !upright && !yield(i, true) {
				return
			}
		}
	}
}

// contacts adds the places where the piece meets others.
func (w *batchWriter) contacts(piece int32) {
	var own []float64
	for i, landing := range w.meetings(piece) {
		if !landing {
			own = append(own, w.fr.Supports[i].At)
		}
	}
	for i, landing := range w.meetings(piece) {
		w.contact(piece, i, landing, own)
	}
}

// contact adds one place where the piece meets another.
func (w *batchWriter) contact(piece, support int32, landing bool, own []float64) {
	c := &w.b.Contacts
	s := &w.fr.Supports[support]
	sh := w.fr.Shape(piece)
	var row restRow
	w.f.work.rest(&row, support)
	said := &model.Support{By: "lapped"} // an implied support is the lap of a tie or a board
	if s.Document >= 0 {
		said = &row.m.Supports[s.Document]
	}
	at, number := s.At, s.Document
	under := kindOf(w.f.work, w.fr.Pieces[s.On].Member)
	length, width, _ := row.contact()
	if landing {
		at, number = s.OnAt, -1
		under = kindOf(w.f.work, w.fr.Pieces[s.Piece].Member)
		length, width = landingFace(&row, length, width)
	}
	c.At, c.Landing, c.Support = append(c.At, at), append(c.Landing, landing), append(c.Support, number)
	c.Length, c.Width = append(c.Length, length), append(c.Width, width)
	c.Underside, c.By = append(c.Underside, w.word(under)), append(c.By, w.word(said.By))
	seat := said.Seat
	if seat == nil {
		seat = &model.Seat{}
	}
	c.SeatKind = append(c.SeatKind, w.word(seat.Kind))
	c.SeatAlong, c.SeatAcross = append(c.SeatAlong, seat.Along.Value), append(c.SeatAcross, seat.Across.Value)
	c.SeatHigh, c.SeatStress = append(c.SeatHigh, seat.High.Value), append(c.SeatStress, seat.Strength.Value)
	w.wall(&row, landing)
	c.ToEnd = append(c.ToEnd, max(0, min(at, sh.Length-at)-length/2))
	next := math.Inf(1)
	for _, o := range own {
		if d := math.Abs(o - at); d > 1 {
			next = min(next, d)
		}
	}
	if math.IsInf(next, 1) {
		next = -1
	}
	c.ToNext = append(c.ToNext, next)
	off := s.Eccentric
	if !landing && row.on.Role == model.RoleWall {
		off = w.f.work.offCentre(support)
	}
	c.Eccentric = append(c.Eccentric, off)
	notch := said.Notch
	if notch == nil || landing {
		notch = &model.Notch{}
	}
	c.NotchDepth, c.NotchFace = append(c.NotchDepth, notch.Depth.Value), append(c.NotchFace, w.word(notch.Face.String()))
	c.NotchSlope, c.NotchX = append(c.NotchSlope, notch.Slope.Value), append(c.NotchX, notch.ToReaction.Or(length/2))
}

// reactions adds what is pushed at each place where the piece meets another, in every combination.
func (w *batchWriter) reactions(e *statics.Effects, piece int32) {
	c := &w.b.Contacts
	for i, landing := range w.meetings(piece) {
		index := -1 // among the supports of the effects
		if !landing {
			index = slices.Index(e.Supports, i)
		}
		for k := range w.f.Source.Combinations {
			comb := &w.f.Source.Combinations[k]
			var down, up, along float64
			if index >= 0 {
				hi, lo, a := e.Reaction(comb, index)
				down, up, along = hi, -lo, math.Abs(a)
				if !e.Moves() { // what may stand anywhere may all come down here
					down += w.t.Moving(w.fr.Pieces[piece].Member, comb)
				}
			} else {
				down, up, along = w.press(comb, i)
				along = math.Abs(along)
			}
			c.Down, c.Up, c.Along = append(c.Down, max(0, down)), append(c.Up, max(0, up)), append(c.Along, along)
		}
	}
}

// press is a support's reaction in a combination by its cases, with what may stand anywhere on its piece where that is worst.
func (w *batchWriter) press(k *region.Combination, support int32) (down, up, along float64) {
	down, up, along = w.f.work.caseReaction(k, support)
	piece := w.fr.Supports[support].Piece
	weight := w.t.Moving(w.fr.Pieces[piece].Member, k)
	if weight == 0 {
		return down, up, along
	}
	class := w.f.Classes.Of[piece]
	pushes, known := w.pushes[class]
	if !known {
		pushes = w.beside.Pushes(w.f.Classes.First[class])
		w.pushes[class] = pushes
	}
	_, first := w.fr.SupportsOf(piece)
	p := pushes[support-first]
	return down + weight*p.Up, up - weight*p.Down, along + weight*p.Along
}

// landingFace is the contact of what lands on a piece, along and across the piece that carries it.
func landingFace(r *restRow, length, width float64) (along, across float64) {
	if r.sh.Upright {
		return length, width
	}
	// What crosses the piece bears over its own breadth along it, and over its length of bearing across it.
	cross := math.Abs(r.sh.DirX*r.onSh.DirX + r.sh.DirY*r.onSh.DirY)
	if cross < math.Sqrt2/2 {
		if b := r.onBreadth(); b > 0 {
			length = min(length, b)
		}
		return width, length
	}
	return length, width
}

// wall adds what is known of a masonry wall that a contact stands on.
func (w *batchWriter) wall(r *restRow, landing bool) {
	c, on := &w.b.Contacts, r.on
	masonry := on.More().Masonry
	if masonry == nil || landing {
		masonry = &model.Masonry{}
	}
	width, height, weight, near, far := 0.0, 0.0, 0.0, -1.0, -1.0
	var beside alongside
	if !landing && (on.Role == model.RoleWall || on.Role == model.RolePier) {
		width, height, weight = on.Width.Value, on.More().Height.Value, on.More().Weight.Value
		near, far = w.f.work.roomAlong(r.index)
		beside = w.f.work.beside(r.index)
	}
	for k := range w.t.Cases {
		load, turn := 0.0, 0.0
		if beside.load != nil {
			load, turn = beside.load[k], beside.turn[k]
		}
		c.CaseBeside, c.CaseTurn = append(c.CaseBeside, load), append(c.CaseTurn, turn)
	}
	c.WallWeight, c.WallLeaf = append(c.WallWeight, weight), append(c.WallLeaf, w.word(masonry.Leaf))
	c.AlongWall, c.BesideUnknown = append(c.AlongWall, !landing && r.alongIt()), append(c.BesideUnknown, w.word(beside.why))
	c.WallWidth, c.WallHeight = append(c.WallWidth, width), append(c.WallHeight, height)
	c.WallUnit, c.WallGroup = append(c.WallUnit, w.word(masonry.Unit)), append(c.WallGroup, int32(masonry.Group))
	c.WallUnitF, c.WallMortar = append(c.WallUnitF, masonry.Strength.Value), append(c.WallMortar, masonry.Mortar.Value)
	c.WallClass, c.ToWallEnd = append(c.WallClass, w.word(masonry.Class)), append(c.ToWallEnd, near)
	c.ToWallFar = append(c.ToWallFar, far)
}

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

// eccentric works out the moment that what lands beside the axis of an upright piece brings to its head, per combination:
// each push down times its distance in plan, all taken to one side. It dies out
// towards the foot.
func (w *batchWriter) eccentric(piece int32) {
	sh := w.fr.Shape(piece)
	if !sh.Upright {
		w.out = nil
		return
	}
	w.foot, w.up = 0, 1/sh.Length
	if sh.Points[0].Z > sh.Points[len(sh.Points)-1].Z {
		w.foot, w.up = 1, -1/sh.Length
	}
	w.out = make([]float64, len(w.f.Source.Combinations))
	for _, i := range w.fr.LandingsOn(piece) {
		if e := w.fr.Supports[i].Eccentric; e > 0 {
			for k := range w.out {
				down, _, _ := w.press(&w.f.Source.Combinations[k], i)
				w.out[k] += e * max(0, down)
			}
		}
	}
}
