// Package cutting makes the cutting and ordering lists of a document: how long each piece is between its cuts, how its
// ends are cut, what it weighs, and which stock lengths to order. It reads geometry as the document gives it and must
// not know statics, strengths or rules.
//
// The true length is that along the axis between the end cuts as framed. A piece that hangs on, or is fixed to, the
// side of another ends at that member's face, half its thickness short of the crossing of the two axes; the heads of a
// couple end at the faces of the ridge board between them; a level piece that sits on its support ends where its
// bearing ends; every other end is the end of the path. Sloping pieces are cut plumb, level and upright ones square,
// cranked ones on the mitre.
// The blank is the length from tip to tip, which the stock must hold.
package cutting

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/scantling/model"
)

// Lifting thresholds for one piece, kg: common practice after the guideline figures of the HSE (memory), no legal limits.
const (
	OneLifts = 25.0
	TwoLift  = 50.0
)

// Kerf is the width of a saw cut, mm, where the options do not say.
const Kerf = 4.0

// Options say what the document does not.
type Options struct {
	// Density is the mean density of a member's material, kg/mm3; 0 where it is not known. Rolled steel needs none.
	Density  func(*model.Member) float64
	Stock    []float64 // lengths that are sold, mm; none: those usual for the document's units
	Kerf     float64   // mm; 0: Kerf
	OneLifts float64   // kg; 0: OneLifts
	TwoLift  float64   // kg; 0: TwoLift
}

// Schedule is what is to be cut and ordered.
type Schedule struct {
	Units  model.Units
	Parts  []Part  // in the order of the document
	Orders []Order // by section and grade
	Left   []Left  // what is not on the lists, and why
}

// Part is one line of the cutting list: equal lengths of one mark.
type Part struct {
	Mark    string
	Stretch string // a, b ... of a cranked member; empty for a straight one
	Role    model.Role
	Section string // of one ply
	Grade   string
	Count   int     // of all pieces and plies
	Plies   int     // that one piece is made of
	Length  float64 // between the end cuts, mm
	Blank   float64 // from tip to tip, mm
	Ends    [2]End
	Seats   []Seat
	Backing model.Quantity // of a hip or valley: angle of its top's bevels to the level, radians
	Mass    model.Quantity // of one ply, kg
	Total   model.Quantity // of all, kg
	Lift    string         // caution; empty where one person lifts a piece
	Note    string

	toLength bool
}

// Name is the mark with its stretch.
func (p *Part) Name() string { return p.Mark + p.Stretch }

// Cut is how an end is cut.
type Cut string

// The cuts.
const (
	Square Cut = "square"
	Plumb  Cut = "plumb"
	Mitre  Cut = "mitre"
)

// End is the cut of one end.
type End struct {
	Cut     Cut
	Face    float64 // on the side of the piece, to a line square across, radians
	Bevel   float64 // tilt of the saw, to square, radians: the side cut of a jack or hip
	Edge    float64 // that side cut on the top edge, to the length, radians, as a framing square gives it; 0 without a bevel
	Left    bool    // the tip of a side cut lies on the left, looking from the first end to the second
	Against string  // mark of what it is cut against
	Short   float64 // how much shorter than the path, along the axis, mm; below 0 it is longer
}

// String is the cut in words: "plumb 35.0°, side cut 45.0° (39.3° on the edge), tip left".
func (e End) String() string {
	text := string(e.Cut)
	if e.Face > flat {
		text += " " + angle(e.Face)
	}
	if e.Bevel > flat {
		tip := "right"
		if e.Left {
			tip = "left"
		}
		text += ", side cut " + angle(e.Bevel) + " (" + angle(e.Edge) + " on the edge), tip " + tip
	}
	return text
}

// Seat is a birdsmouth: its place along the piece from the first cut, and its two cuts.
type Seat struct {
	On    string
	At    float64 // mm
	Depth float64 // square to the axis, mm
	Plumb float64 // of the heel, to a line square across, radians
	Level float64 // of the seat, to a line square across, radians
}

// Left is a member that is on no list.
type Left struct{ Mark, Reason string }

// flat is an angle that no saw is set to, radians: a twentieth of a degree.
const flat = 0.05 * math.Pi / 180

func angle(v float64) string { return strconv.FormatFloat(v*180/math.Pi, 'f', 1, 64) + "°" }

// Make lists what a document's new members are cut from.
func Make(doc *model.Document, o Options) *Schedule {
	if o.Kerf == 0 {
		o.Kerf = Kerf
	}
	if o.OneLifts == 0 {
		o.OneLifts = OneLifts
	}
	if o.TwoLift == 0 {
		o.TwoLift = TwoLift
	}
	if len(o.Stock) == 0 {
		o.Stock = Stock(doc.Units)
	}
	s := &Schedule{Units: doc.Units}
	for i := range doc.Members {
		m := &doc.Members[i]
		if why := notCut(m); why != "" {
			if why != built {
				s.Left = append(s.Left, Left{m.Mark, why})
			}
			continue
		}
		s.Parts = append(s.Parts, parts(doc, m, &o)...)
	}
	s.order(&o)
	return s
}

const built = "is built, not cut"

// notCut says why a member is on no list; empty for one that is.
func notCut(m *model.Member) string {
	switch {
	case m.Phase == model.Existing:
		return "it stands already"
	case m.Phase == model.Removed:
		return "it is taken out"
	case m.Role == model.RoleWall || m.Role == model.RolePier || m.Role == model.RoleFoundation:
		return built
	case m.Section == nil:
		return "no section is stated"
	case len(m.Path) < 2 && !(m.Length.Value > 0):
		return "it has neither a path nor a length"
	}
	return ""
}

// parts are the lines of one member: one, or one for each stretch of a cranked member.
func parts(doc *model.Document, m *model.Member, o *Options) []Part {
	path := m.Path
	if len(path) < 2 {
		sin, cos := math.Sincos(m.Pitch.Or(0))
		path = []model.Point{{}, {X: m.Length.Value * cos, Z: m.Length.Value * sin}}
	}
	path = withoutStraightPoints(path)
	var out []Part
	along := 0.0
	for i := 0; i+1 < len(path); i++ {
		p := Part{Mark: m.Mark, Role: m.Role, Section: plySection(m.Section), Grade: m.Grade, Plies: max(1, m.Section.Plies),
			Count: m.Pieces() * max(1, m.Section.Plies), toLength: toLength(doc, m)}
		if len(path) > 2 {
			p.Stretch = stretchName(i)
		}
		st := newStretch(path[i], path[i+1])
		p.Ends[0] = st.end(doc, m, 0, i == 0, path, i)
		p.Ends[1] = st.end(doc, m, 1, i+2 == len(path), path, i)
		p.Length = st.length - p.Ends[0].Short - p.Ends[1].Short
		p.Blank = p.Length + st.tip(m.Section, p.Ends[0]) + st.tip(m.Section, p.Ends[1])
		p.Seats = st.seats(doc, m, along, p.Ends[0].Short)
		p.Backing = st.backing(doc, m)
		p.weigh(m, o)
		out = append(out, p)
		along += st.length
	}
	return out
}

func stretchName(i int) string {
	name := string(rune('a' + i%26))
	if i >= 26 {
		name += strconv.Itoa(i / 26)
	}
	return " " + name
}

// withoutStraightPoints leaves out points that the axis passes straight through: no joint is there.
func withoutStraightPoints(path []model.Point) []model.Point {
	out := path[:1:1]
	for i := 1; i+1 < len(path); i++ {
		if bend(out[len(out)-1], path[i], path[i+1]) > flat {
			out = append(out, path[i])
		}
	}
	return append(out, path[len(path)-1])
}

// weigh fills in what a ply weighs, and who can lift it.
func (p *Part) weigh(m *model.Member, o *Options) {
	s := m.Section
	perMM := s.Mass
	if perMM == 0 && o.Density != nil {
		perMM = s.Area * o.Density(m)
	}
	if !(perMM > 0) {
		p.Note = "its weight is not known: the density of its grade is not stated"
		return
	}
	mass := perMM / float64(p.Plies) * p.Length
	p.Mass, p.Total = model.Given(mass), model.Given(mass*float64(p.Count))
	switch {
	case mass > o.TwoLift:
		p.Lift = "more than two people: plan the lift"
	case mass > o.OneLifts:
		p.Lift = "two people"
	}
}

// plySection is the notation of one ply.
func plySection(s *model.Section) string {
	if s.Text == "" {
		if s.Flat {
			return number(s.Depth/float64(max(1, s.Plies))) + "x" + number(s.Width)
		}
		return number(s.Width) + "x" + number(s.Depth)
	}
	if _, after, found := strings.Cut(s.Text, "/"); found && s.Plies > 1 {
		return strings.TrimSpace(after)
	}
	return s.Text
}

func number(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

// toLength says whether a member is made to its length and not cut from stock: steel, concrete and sandwiches.
func toLength(doc *model.Document, m *model.Member) bool {
	if m.Section.SteelByDefault || m.Section.Shape == model.Layered {
		return true
	}
	material := m.Material
	for i := range doc.Grades {
		if doc.Grades[i].Name == m.Grade {
			material = doc.Grades[i].Material
		}
	}
	return material == "steel" || material == "concrete"
}

// order groups the parts by section and grade, and plans the stock for each group.
func (s *Schedule) order(o *Options) {
	type group struct{ section, grade string }
	index := map[group]int{}
	pieces := [][]Piece{}
	for i := range s.Parts {
		p := &s.Parts[i]
		g := group{p.Section, p.Grade}
		k, seen := index[g]
		if !seen {
			k = len(s.Orders)
			index[g] = k
			s.Orders = append(s.Orders, Order{Section: p.Section, Grade: p.Grade})
			pieces = append(pieces, nil)
		}
		s.Orders[k].add(p)
		if p.toLength {
			s.Orders[k].Long = append(s.Orders[k].Long, Long{p.Name(), p.Blank, p.Count, "made to length"})
			continue
		}
		for range p.Count {
			pieces[k] = append(pieces[k], Piece{p.Name(), p.Blank})
		}
	}
	for k := range s.Orders {
		s.Orders[k].plan(pieces[k], o.Stock, o.Kerf)
	}
	slices.SortStableFunc(s.Orders, func(a, b Order) int {
		return cmp.Or(cmp.Compare(a.Section, b.Section), cmp.Compare(a.Grade, b.Grade))
	})
}
