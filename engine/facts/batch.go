package facts

import (
	"iter"
	"slices"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

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

// batchWriter appends pieces to a batch.
type batchWriter struct {
	f       *Filled
	t       *statics.TakeDown
	fr      *frame.Frame
	l       *Lists
	working bool
	bare    bool // stations are left out
	analyst *statics.Analyst
	alone   []region.Combination      // each case by itself
	moving  region.Combination        // what may stand anywhere, by itself
	beside  *statics.Analyst          // of what lands on the piece
	roaming map[int32]statics.Roaming // what may stand anywhere on that, by class
	b       *region.Batch             // nil before its first piece
	full    int                       // bytes at which the batch is handed on
	room    room                      // of a batch before it grows
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
	w.beside, w.roaming = t.NewAnalyst(), map[int32]statics.Roaming{}
	return w
}

func (w *batchWriter) fresh() {
	w.b = &region.Batch{Working: w.working, Combinations: int32(len(w.f.Source.Combinations)), Cases: int32(len(w.t.Cases))}
	p := &w.b.Pieces
	p.Words = region.Dictionary{""}
	w.words, w.text = map[string]int32{"": 0}, 0
	p.ContactStart, p.StationStart, p.SpanStart = []int32{0}, []int32{0}, []int32{0}
	p.NotchStart, p.HoleStart = []int32{0}, []int32{0}
	s, c, r := &w.b.Stations, &w.b.Contacts, w.room
	s.N, s.V, s.M, s.MomentOut = make([]float64, 0, r.stations), make([]float64, 0, r.stations), make([]float64, 0, r.stations), make([]float64, 0, r.stations)
	c.Down, c.Up, c.Along = make([]float64, 0, r.contacts), make([]float64, 0, r.contacts), make([]float64, 0, r.contacts)
	w.b.Spans.Deflection = make([]float64, 0, r.spans)
}

func (w *batchWriter) take() *region.Batch {
	b := w.b
	w.full, w.b = min(2*w.full, batchBytes), nil
	if w.room != (room{}) {
		w.room = roomFor(w.full)
	}
	return b
}

// room is how many numbers per combination a batch has room for, of each kind. A batch is mostly these; where few pieces are told
// there is none.
type room struct{ stations, contacts, spans int }

// roomFor is about how many there are in a batch of so many bytes: four of eight bytes a station, a third as many contacts.
func roomFor(bytes int) room {
	stations := bytes * 5 / 4 / 32
	return room{stations, stations / 3, stations / 10}
}

// roomOver is how many there may be in the first batch: over a base in which much is alike, about what is left to tell.
func (f *Filled) roomOver(bytes int) room {
	most := roomFor(bytes)
	if f.base == nil {
		return most
	}
	var left room
	for class, alike := range f.base {
		if alike >= 0 {
			continue
		}
		if told := f.toldBefore(int32(class)); told != nil {
			left.add(len(told.Stations.N), len(told.Contacts.Down), len(told.Spans.Deflection))
		} else { // of a piece that is told for the first time
			n := len(f.Source.Combinations)
			left.add(20*n, 4*n, n)
		}
	}
	return room{min(left.stations, most.stations), min(left.contacts, most.contacts), min(left.spans, most.spans)}
}

func (r *room) add(stations, contacts, spans int) {
	r.stations, r.contacts, r.spans = r.stations+stations, r.contacts+contacts, r.spans+spans
}

// bytes is what the batch takes on the wire, a little more rather than less.
func (w *batchWriter) bytes() int {
	b, combinations, cases := w.b, len(w.f.Source.Combinations), len(w.t.Cases)
	return w.text + len(b.Pieces.ID)*(200+2*combinations) + len(b.Contacts.At)*(220+24*combinations+16*cases) + len(b.Stations.At)*(20+32*combinations) +
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
		if !w.bare {
			w.stations(e, piece)
		}
		w.alike()
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
	p.Centres = append(p.Centres, row.spacing())
	p.Cranked = append(p.Cranked, sh.Kinks > 0)
	p.Column = append(p.Column, isColumn(m.Role, sh))
	p.Repetitive = append(p.Repetitive, m.InRun())
	p.TopFull = append(p.TopFull, m.Restraint.Top.Full)
	p.TopSpacing = append(p.TopSpacing, m.Restraint.Top.Spacing)
	p.BottomFull = append(p.BottomFull, m.Restraint.Bottom.Full)
	p.BottomSpace = append(p.BottomSpace, m.Restraint.Bottom.Spacing)
	p.HeldDepth = append(p.HeldDepth, heldSpacing(d.Held.Depth))
	p.HeldWidth = append(p.HeldWidth, heldSpacing(d.Held.Width))
	p.LoadAt = append(p.LoadAt, w.word(m.LoadAt.String()))
	p.PliesJoined = append(p.PliesJoined, w.word(d.PliesJoined))
	p.Brittle = append(p.Brittle, row.mayCarryBrittle())
	p.Carries = append(p.Carries, w.word(row.carriesKind().v))
	p.Deck = append(p.Deck, row.deck().v)
	p.BlockingRows = append(p.BlockingRows, int32(row.blockingRows()))
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
	w.b.Pieces.Movable, w.b.Pieces.Alike = append(w.b.Pieces.Movable, told.Pieces.Movable...), append(w.b.Pieces.Alike, told.Pieces.Alike...)
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

// alike adds which combinations are told the same of the piece that was added last. Those that act alike inside it may still
// differ in what other pieces bring.
func (w *batchWriter) alike() {
	p, c, s := &w.b.Pieces, &w.b.Contacts, &w.b.Stations
	n := len(w.unique)
	told := [...][]float64{
		c.Down[int(lastOf(p.ContactStart))*n:], c.Up[int(lastOf(p.ContactStart))*n:], c.Along[int(lastOf(p.ContactStart))*n:],
		s.MomentOut[int(lastOf(p.StationStart))*n:],
	}
	for k, u := range w.unique {
		like := int32(0)
		if u != k && !slices.ContainsFunc(told[:], func(column []float64) bool { return !sameEntries(column, n, k, u) }) {
			like = int32(u) + 1
		}
		p.Alike = append(p.Alike, like)
	}
}

func lastOf(starts []int32) int32 { return starts[len(starts)-1] }

// sameEntries says whether two entries of every row of n are the same.
func sameEntries(column []float64, n, a, b int) bool {
	for ; len(column) > 0; column = column[n:] {
		if column[a] != column[b] {
			return false
		}
	}
	return true
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
