package loadpath

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"example.com/scantling/engine"
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/report/trace"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// Without finds what changes when a member is taken out of the frame, with the load that it carries itself: what loses
// its hold, which reactions change, and which members then serve nothing.
func Without(r *engine.Run, mark string) (*trace.Removal, error) {
	pieces, err := named(r, mark)
	if err != nil {
		return nil, err
	}
	member := r.Down.Frame.Pieces[pieces[0]].Member
	doc := *r.Source.Document
	doc.Members = slices.Clone(doc.Members)
	doc.Members[member].Phase = model.Removed
	c := &removal{
		gone: member, worst: NewWorst(r), before: r.Down, after: r.Otherwise(&doc),
	}
	m := &doc.Members[member]
	out := &trace.Removal{Model: r.Model(), Cases: r.CaseIDs(), Mark: m.Mark, Role: string(m.Role),
		Own: c.worst.Force(applied(r.Down.Part(piecesOf(r, member), false))), Notes: r.Remarks()}
	if m.Section != nil {
		out.Section = m.Section.Text
	}
	if n := m.Pieces(); n > 1 {
		out.Notes = append(out.Notes, fmt.Sprintf("All %d pieces of %s are taken out together.", n, m.Mark))
	}
	out.Loose = c.loose()
	out.Stops = c.worst.Force(minus(downwards(c.after.Unresolved), downwards(c.before.Unresolved)))
	out.Changes = c.changes(out.Loose)
	out.Ground = c.ground()
	out.Idle = c.idle()
	return out, nil
}

// piecesOf is every piece of a member.
func piecesOf(r *engine.Run, member int32) []int32 {
	from, to := r.Down.Frame.PiecesOf(member)
	out := make([]int32, 0, to-from)
	for p := from; p < to; p++ {
		out = append(out, p)
	}
	return out
}

// removal compares the frame with and without a member. Members keep their numbers, pieces and supports do not.
type removal struct {
	gone          int32
	worst         Worst
	before, after *statics.TakeDown
}

// loose is the members that lose something that held them, and those that stand on what then falls.
func (c *removal) loose() []trace.Loose {
	f, g := c.before.Frame, c.after.Frame
	stood, stands := standing(c.before), standing(c.after)
	var out []trace.Loose
	for i := range f.Document.Members {
		member := int32(i)
		from, to := f.PiecesOf(member)
		if member == c.gone || from == to {
			continue
		}
		now, _ := g.PiecesOf(member)
		said := &f.Document.Members[i]
		loose := trace.Loose{Mark: said.Mark, Role: string(said.Role), Lost: c.lostByWord(said)}
		for p := from; p < to; p++ {
			q := now + p - from
			lost, held := c.lost(p, q)
			why := c.after.Unsolved(q)
			falls := why != "" && c.before.Unsolved(p) == ""
			follows := stood[p] && !stands[q] && why == ""
			if len(lost) == 0 && !falls && !follows {
				continue
			}
			loose.Pieces = append(loose.Pieces, f.Name(p))
			loose.Lost, loose.Held = join(loose.Lost, lost), join(loose.Held, held)
			if falls {
				loose.Falls = why
			} else if push := c.push(c.after, q); push.Value > c.push(c.before, p).Value+5 && push.Value > loose.Push.Value {
				loose.Push = push
			}
			loose.Follows = loose.Follows || follows
		}
		if len(loose.Pieces) > 0 || len(loose.Lost) > 0 {
			out = append(out, loose)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Rank() < out[b].Rank() })
	return out
}

// standing says of every piece whether it can be held up, and all that holds it can.
func standing(t *statics.TakeDown) []bool {
	f := t.Frame
	out := make([]bool, len(f.Pieces))
	for i := len(f.Order) - 1; i >= 0; i-- {
		piece := f.Order[i]
		out[piece] = t.Unsolved(piece) == ""
		supports, _ := f.SupportsOf(piece)
		for k := range supports {
			if supports[k].Holds() {
				out[piece] = out[piece] && out[supports[k].On]
			}
		}
	}
	return out
}

// lost is what held a piece before and does not now, and the members that still hold it. p and q are the piece's numbers
// before and after.
func (c *removal) lost(p, q int32) (lost, held []string) {
	f, g := c.before.Frame, c.after.Frame
	was, _ := f.SupportsOf(p)
	is, _ := g.SupportsOf(q)
	for k := range is {
		if is[k].Holds() {
			held = join(held, []string{g.Member(is[k].On).Mark})
		}
	}
	for k := range was {
		s := &was[k]
		if s.On < 0 {
			continue
		}
		on := f.Pieces[s.On].Member
		still := slices.ContainsFunc(is, func(t frame.Support) bool {
			return t.On >= 0 && t.Document == s.Document && g.Pieces[t.On].Member == on
		})
		switch mark := f.Member(s.On).Mark; {
		case still:
		case s.Against:
			lost = join(lost, []string{"the head of " + mark + " to lean on"})
		default:
			lost = join(lost, []string{"the support on " + mark})
		}
	}
	if couple := f.CoupleOf(p); couple != nil {
		for _, tie := range couple.Ties {
			if tie.Piece >= 0 && f.Pieces[tie.Piece].Member == c.gone {
				lost = join(lost, []string{"the tie " + f.Member(tie.Piece).Mark})
			}
		}
	}
	return lost, held
}

// push is the largest push of a piece along its own direction on one support, N.
func (c *removal) push(t *statics.TakeDown, piece int32) trace.Extreme {
	var out trace.Extreme
	sh := t.Frame.Shape(piece)
	supports, from := t.Frame.SupportsOf(piece)
	for k := range supports {
		if !supports[k].Holds() {
			continue
		}
		cases := make([]float64, len(t.Cases))
		for i := range cases {
			r := t.Reaction(from+int32(k), i)
			cases[i] = r.X*sh.DirX + r.Y*sh.DirY
		}
		f := c.worst.Force(cases)
		f.Least.Value = -f.Least.Value
		for _, e := range []trace.Extreme{f.Most, f.Least} {
			if e.Value > out.Value {
				out = e
			}
		}
	}
	return out
}

// lostByWord is what a member loses that the document only names: straps, and lintels over openings.
func (c *removal) lostByWord(m *model.Member) []string {
	gone := c.before.Frame.Document.Members[c.gone].Mark
	var out []string
	for _, s := range m.More().Straps {
		if s.To == gone {
			out = join(out, []string{"the straps to " + gone})
		}
	}
	for _, o := range m.More().Openings {
		if o.Lintel == gone {
			out = join(out, []string{"the lintel over an opening"})
		}
	}
	return out
}

// passKey tells the places where load passes apart, in a way that outlasts the removal.
type passKey struct {
	from, to, document int32
	way                trace.Way
}

// bed stands in a passKey for all the beds of a member on another.
const bed = -2

// passing is what passes at one key.
type passing struct {
	places int
	at     float64
	cases  []float64
}

// passes is all that passes between members, with the keys in the order of the frame.
func passes(t *statics.TakeDown) (map[passKey]*passing, []passKey) {
	f := t.Frame
	out := map[passKey]*passing{}
	var order []passKey
	of := func(k passKey) *passing {
		p := out[k]
		if p == nil {
			p = &passing{at: -1, cases: make([]float64, len(t.Cases))}
			out[k] = p
			order = append(order, k)
		}
		p.places++
		return p
	}
	for i := range f.Supports {
		s := &f.Supports[i]
		if !s.Holds() {
			continue
		}
		key := passKey{f.Pieces[s.Piece].Member, f.Pieces[s.On].Member, s.Document, trace.Rests}
		if s.Continuous {
			key.document = bed
		}
		p := of(key)
		if p.places == 1 && !s.Continuous {
			p.at = s.At
		}
		for c := range p.cases {
			p.cases[c] += t.Reaction(int32(i), c).Z
		}
	}
	for i := range f.Couples {
		c := &f.Couples[i]
		for _, tie := range c.Ties {
			if tie.Piece < 0 || t.Tension(tie.Piece) == nil {
				continue
			}
			p := of(passKey{f.Pieces[c.Rafters[0]].Member, f.Pieces[tie.Piece].Member, -1, trace.Pulls})
			for k, v := range t.Tension(tie.Piece) {
				p.cases[k] += v
			}
		}
	}
	return out, order
}

// changes are the loads that pass elsewhere in the frame and change, the largest change first. What passes to and from
// the member itself ends with it, and what falls passes nothing on.
func (c *removal) changes(loose []trace.Loose) []trace.Change {
	doc := c.before.Frame.Document
	ends := map[int32]bool{c.gone: true}
	for _, l := range loose {
		if l.Falls != "" {
			ends[int32(doc.Index(l.Mark))] = true
		}
	}
	was, order := passes(c.before)
	is, more := passes(c.after)
	for _, k := range more {
		if was[k] == nil {
			order = append(order, k)
		}
	}
	none := &passing{at: -1, cases: make([]float64, len(c.before.Cases))}
	var out []trace.Change
	for _, k := range order {
		if ends[k.from] || k.to == c.gone {
			continue
		}
		a, b := was[k], is[k]
		if a == nil {
			a = none
		}
		if b == nil {
			b = none
		}
		if !differ(a.cases, b.cases) {
			continue
		}
		change := trace.Change{From: doc.Members[k.from].Mark, To: doc.Members[k.to].Mark, Way: k.way, Ground: doc.Members[k.to].Ground,
			Places: max(a.places, b.places), At: max(a.at, b.at), Before: c.worst.Force(a.cases), After: c.worst.Force(b.cases)}
		if change.Places > 1 {
			change.At = -1
		}
		out = append(out, change)
	}
	largestFirst(out)
	return out
}

// ground is what arrives at each ground member before and after, where that changes.
func (c *removal) ground() []trace.Change {
	arrived := func(t *statics.TakeDown, member int32) []float64 {
		out := make([]float64, len(t.Cases))
		from, to := t.Frame.PiecesOf(member)
		for p := from; p < to; p++ {
			for k := range out {
				out[k] -= t.ArrivedAt(p, k).Z
			}
		}
		return out
	}
	var out []trace.Change
	for i := range c.before.Frame.Document.Members {
		m := &c.before.Frame.Document.Members[i]
		a, b := arrived(c.before, int32(i)), arrived(c.after, int32(i))
		if m.Ground && int32(i) != c.gone && differ(a, b) {
			out = append(out, trace.Change{To: m.Mark, Ground: true, At: -1, Before: c.worst.Force(a), After: c.worst.Force(b)})
		}
	}
	largestFirst(out)
	return out
}

func largestFirst(list []trace.Change) {
	sort.SliceStable(list, func(i, j int) bool { return list[i].Size() > list[j].Size()*(1+1e-9) })
}

// idle is the members that then serve nothing: all that rested on them is gone or serves nothing itself, they carry no
// area and no load of their own, and nothing else of the document leans on them. Walls and what stands on the ground
// enclose and bear soil, and are never idle.
func (c *removal) idle() []trace.Idle {
	f := c.before.Frame
	useless := map[int32]bool{c.gone: true}
	used := c.named()
	served := func(member int32) (marks []string, needed bool) {
		from, to := f.PiecesOf(member)
		for p := from; p < to; p++ {
			for _, i := range f.LandingsOn(p) {
				on := f.Pieces[f.Supports[i].Piece].Member
				if !useless[on] {
					return nil, true
				}
				marks = join(marks, []string{f.Document.Members[on].Mark})
			}
		}
		return marks, false
	}
	var out []trace.Idle
	for again := true; again; {
		again = false
		for i := range f.Document.Members {
			m := &f.Document.Members[i]
			if useless[int32(i)] || used[m.Mark] || m.Ground || m.Role == model.RoleWall || len(m.Carries)+len(m.Loads) > 0 ||
				m.More().MovableLoad.Known {
				continue
			}
			if marks, needed := served(int32(i)); !needed && len(marks) > 0 {
				useless[int32(i)] = true
				out = append(out, trace.Idle{Mark: m.Mark, Role: string(m.Role), Served: marks})
				again = true
			}
		}
	}
	return out
}

// named is the marks that other members use without resting on them: ties, what straps hold to, lintels, opposing
// rafters. What only the member that goes uses is not among them.
func (c *removal) named() map[string]bool {
	out := map[string]bool{}
	for i := range c.before.Frame.Document.Members {
		m := &c.before.Frame.Document.Members[i]
		if int32(i) == c.gone || !frame.After.Stands(m.Phase) {
			continue
		}
		for _, t := range m.Ties {
			out[t.On] = true
		}
		for _, s := range m.More().Straps {
			out[s.To] = true
		}
		for _, o := range m.More().Openings {
			out[o.Lintel] = true
		}
		for k := range m.Supports {
			out[m.Supports[k].Against] = true
		}
	}
	return out
}

// differ says whether two loads differ by a newton in any case.
func differ(a, b []float64) bool {
	for c := range a {
		if math.Abs(a[c]-b[c]) > 1 {
			return true
		}
	}
	return false
}

func minus(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for c := range a {
		if out[c] = a[c] - b[c]; math.Abs(out[c]) < 1e-6 {
			out[c] = 0
		}
	}
	return out
}

// join adds texts that are not there yet.
func join(list, more []string) []string {
	for _, text := range more {
		if text = strings.TrimSpace(text); text != "" && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}
