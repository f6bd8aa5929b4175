package statics

import (
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/statics/plane"
)

// Listing is a take-down as people and other programs read it: every piece with its reactions and effects per load
// case. All slices over cases are in the order of Cases. N, mm, N mm; reactions up, sagging moments and tension
// positive, deflection down positive.
type Listing struct {
	Cases      []string
	Members    []ListedMember
	Ground     []Arrived
	Increases  []Increase // on what stood before the work; filled by whoever knows what stood
	Applied    []float64  // downwards
	Unresolved []float64  // stopped at members that could not be solved
	Imbalance  float64    // largest over cases and directions, relative to what was applied
	Notes      []string
}

// ListedMember is one mark.
type ListedMember struct {
	Mark, Role, Section, Grade string
	Pieces                     []ListedPiece
}

// ListedPiece is one piece.
type ListedPiece struct {
	Piece      string
	Length     float64
	Applied    []float64 // its own loads and weight, downwards
	Supports   []ListedSupport
	Moment     []Range
	Shear      []Range
	Axial      []Range
	Deflection []Range   // nil where the stiffness is not known
	Roller     []float64 // movement of a sliding end along the plan direction, mm; nil where none slides
	HeadPush   []float64 // what must hold a strut's head sideways, along its plan direction; nil for others
	Unsolved   string    // why there are no reactions
	NoStiff    string    // why there is no deflection
}

// ListedSupport is one support of a piece.
type ListedSupport struct {
	On         string // mark of what it rests on
	OnPiece    string
	At         float64
	Vertical   []float64 // up, on the member
	Horizontal []float64 // push of the support on the member along its plan direction; on an upright one along x
	Across     []float64 // likewise to the left of that direction, seen from above; on an upright one along y
}

// Range is the largest and the smallest value along a piece, and where.
type Range struct{ Max, MaxAt, Min, MinAt float64 }

// Arrived is what reached one ground member, and from where.
type Arrived struct {
	Mark  string
	Total []float64 // downwards
	X, Y  []float64 // level, along the axes of the plan
	From  []Landed
}

// Landed is one reaction on a ground member.
type Landed struct {
	Piece    string
	At       float64 // along the ground member's path; -1 unknown
	Vertical []float64
}

// List is the take-down as people read it, members in the order of the document.
func (t *TakeDown) List() *Listing {
	f := t.Frame
	l := &Listing{Imbalance: t.Imbalance()}
	for c := range t.Cases {
		l.Cases = append(l.Cases, t.Cases[c].ID)
		l.Applied = append(l.Applied, -t.Applied[c].Z)
		l.Unresolved = append(l.Unresolved, -t.Unresolved[c].Z)
	}
	if f.Document.Weightless {
		l.Notes = append(l.Notes, "The document leaves self-weight out.")
	}
	l.Notes = append(l.Notes, t.Lost()...)
	if props := t.props(); len(props) > 0 {
		l.Notes = append(l.Notes, "What holds these struts sideways at their heads is followed no further: "+strings.Join(props, ", ")+".")
	}
	if t.areasMove() {
		l.Notes = append(l.Notes, "Point loads that may stand anywhere on an area are judged in the members that carry the area and at their supports, and are passed on to nothing further.")
	}
	analyst := t.NewAnalyst()
	for i := range f.Document.Members {
		m := &f.Document.Members[i]
		from, to := f.PiecesOf(int32(i))
		if from == to {
			continue
		}
		if m.Ground {
			for piece := from; piece < to; piece++ {
				l.Ground = append(l.Ground, t.listGround(piece))
			}
			continue
		}
		l.Members = append(l.Members, t.ListMember(analyst, int32(i)))
	}
	return l
}

// ListMember is one member of the take-down, all its pieces.
func (t *TakeDown) ListMember(a *Analyst, member int32) ListedMember {
	m := &t.Frame.Document.Members[member]
	out := ListedMember{Mark: m.Mark, Role: string(m.Role), Grade: m.Grade}
	if m.Section != nil {
		out.Section = m.Section.Text
	}
	from, to := t.Frame.PiecesOf(member)
	for piece := from; piece < to; piece++ {
		out.Pieces = append(out.Pieces, t.listPiece(a, piece))
	}
	return out
}

// Lost says what ought to be counted and is not, one line for all members that the same holds for.
func (t *TakeDown) Lost() []string {
	marks := map[string][]string{}
	var order []string
	for _, r := range t.Remarks {
		if !r.Lost {
			continue
		}
		if marks[r.Text] == nil {
			order = append(order, r.Text)
		}
		marks[r.Text] = append(marks[r.Text], t.Frame.Document.Members[r.Member].Mark)
	}
	out := make([]string, len(order))
	for i, text := range order {
		out[i] = strings.Join(marks[text], ", ") + ": " + text
	}
	return out
}

// props are the marks of the struts whose heads push sideways, in the order of the document.
func (t *TakeDown) props() (marks []string) {
	for i := range t.Frame.Document.Members {
		from, to := t.Frame.PiecesOf(int32(i))
		for piece := from; piece < to; piece++ {
			if slices.ContainsFunc(t.headPush[piece], func(f Force) bool { return f.size() > least }) {
				marks = append(marks, t.Frame.Document.Members[i].Mark)
				break
			}
		}
	}
	return marks
}

func (t *TakeDown) listPiece(a *Analyst, piece int32) ListedPiece {
	f := t.Frame
	sh := f.Shape(piece)
	e := a.Effects(piece)
	out := ListedPiece{Piece: f.Name(piece), Length: sh.Length, Unsolved: e.Unsolved, NoStiff: e.NoStiff,
		Applied: make([]float64, t.cases)}
	for _, o := range t.ownOf(piece) {
		out.Applied[o.kase] -= total(sh, &o.load).Z
	}
	x, y := sh.DirX, sh.DirY
	if x == 0 && y == 0 {
		x = 1
	}
	supports, from := f.SupportsOf(piece)
	for k := range supports {
		s := &supports[k]
		if s.Against {
			continue
		}
		on := ListedSupport{At: s.At, Vertical: make([]float64, t.cases), Horizontal: make([]float64, t.cases), Across: make([]float64, t.cases)}
		if s.On >= 0 {
			on.On, on.OnPiece = f.Member(s.On).Mark, f.Name(s.On)
		} else {
			on.On = f.Member(piece).Supports[s.Document].On
		}
		for c := range t.cases {
			r := t.Reaction(from+int32(k), c)
			on.Vertical[c] = r.Z
			on.Horizontal[c], on.Across[c] = r.X*x+r.Y*y, r.Y*x-r.X*y
		}
		out.Supports = append(out.Supports, on)
	}
	for _, push := range t.headPush[piece] {
		out.HeadPush = append(out.HeadPush, push.X*sh.DirX+push.Y*sh.DirY)
	}
	if e.Unsolved == "" && !e.Bedded && len(e.Supports) > 0 {
		out.Moment = e.ranges(plane.Moment)
		out.Shear = e.ranges(plane.Shear)
		out.Axial = e.ranges(plane.Axial)
		if e.NoStiff == "" {
			out.Deflection = e.ranges(plane.Deflection)
		}
		out.Roller = t.roller(piece, e)
	}
	return out
}

// ranges is the largest and the smallest value of a quantity in each case, all of the case's load on the piece.
func (e *Effects) ranges(q plane.Quantity) []Range {
	out := make([]Range, len(e.Cases))
	for c := range e.Cases {
		if !e.Cases[c].Acts {
			continue
		}
		if r, ok := e.Cases[c].Full.Range(q); ok {
			out[c] = Range{r.Max.Value, r.Max.At, r.Min.Value, r.Min.At}
		}
	}
	return out
}

// roller is how far the sliding end of a cranked piece moves in each case, mm; nil where none slides.
func (t *TakeDown) roller(piece int32, e *Effects) []float64 {
	sh := t.Frame.Shape(piece)
	if sh.Kinks == 0 || t.Frame.Member(piece).Thrust || e.NoStiff != "" {
		return nil
	}
	out := make([]float64, len(e.Cases))
	for c := range e.Cases {
		if !e.Cases[c].Acts {
			continue
		}
		for _, i := range e.Supports {
			if v, ok := e.Cases[c].Full.Value(plane.Sway, t.Frame.Supports[i].At, plane.After); ok && math.Abs(v) > math.Abs(out[c]) {
				out[c] = v
			}
		}
	}
	return out
}

func (t *TakeDown) listGround(piece int32) Arrived {
	f := t.Frame
	out := Arrived{Mark: f.Name(piece), Total: make([]float64, t.cases), X: make([]float64, t.cases), Y: make([]float64, t.cases)}
	for c := range t.cases {
		arrived := t.ArrivedAt(piece, c)
		out.Total[c], out.X[c], out.Y[c] = -arrived.Z, arrived.X, arrived.Y
	}
	own := Landed{Piece: f.Name(piece), At: -1, Vertical: make([]float64, t.cases)}
	weighs := false
	for _, o := range t.ownOf(piece) {
		own.Vertical[o.kase] -= total(f.Shape(piece), &o.load).Z
		weighs = true
	}
	if weighs {
		out.From = append(out.From, own)
	}
	for _, i := range f.LandingsOn(piece) {
		s := &f.Supports[i]
		landed := Landed{Piece: f.Name(s.Piece), At: s.OnAt, Vertical: make([]float64, t.cases)}
		for c := range t.cases {
			landed.Vertical[c] = t.Reaction(i, c).Z
		}
		out.From = append(out.From, landed)
	}
	return out
}
