// Package loadpath follows loads through a frame: the way of one member's load to the ground and all that rests on it, and
// what becomes of the frame without it. It knows neither rules nor how a path is printed.
package loadpath

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/report/trace"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// Trace follows the load of a member, or of one of its pieces by name, down to the ground, and all that rests on it
// upwards. The shares of each hop that come from the member are found by superposition.
func Trace(r *engine.Run, name string) (*trace.Sheet, error) {
	pieces, err := named(r, name)
	if err != nil {
		return nil, err
	}
	t := &tracer{
		run: r, down: r.Down, frame: r.Down.Frame, analyst: r.Down.NewAnalyst(), worst: NewWorst(r),
		through: r.Down.Part(pieces, true), own: r.Down.Part(pieces, false),
	}
	member := t.frame.Pieces[pieces[0]].Member
	s := &trace.Sheet{Model: r.Model(), Cases: r.CaseIDs(), Name: name, Member: r.Down.ListMember(t.analyst, member)}
	if len(pieces) < len(s.Member.Pieces) {
		from, _ := t.frame.PiecesOf(member)
		s.Member.Pieces = s.Member.Pieces[pieces[0]-from : pieces[0]-from+1]
	}
	for _, d := range r.Source.Document.Members[member].Drawings {
		s.Drawings = append(s.Drawings, d.ID)
	}
	s.Own = t.worst.Force(applied(t.own))
	landed := applied(t.through)
	for c, v := range applied(t.own) {
		landed[c] -= v
	}
	s.Landed = t.worst.Force(landed)
	s.Hardest = t.hardestOf(pieces)
	s.Down = t.walkDown(pieces)
	s.Up = t.walkUp(pieces)
	s.Ground = t.arrivals()
	s.Notes = t.notes(pieces)
	return s, nil
}

// named is the pieces of a mark, or the one piece of that name.
func named(r *engine.Run, name string) ([]int32, error) {
	doc, f := r.Source.Document, r.Down.Frame
	mark := name
	i := doc.Index(mark)
	if i < 0 {
		if cut := strings.LastIndexByte(name, '#'); cut > 0 {
			mark = name[:cut]
			i = doc.Index(mark)
		}
	}
	if i < 0 {
		return nil, engine.UnknownMember(doc, name)
	}
	from, to := f.PiecesOf(int32(i))
	if from == to {
		return nil, fmt.Errorf("%s does not stand after the work", mark)
	}
	var out []int32
	for p := from; p < to; p++ {
		if name == mark || f.Name(p) == name {
			out = append(out, p)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s has no piece %s; its pieces run from %s to %s", mark, name, f.Name(from), f.Name(to-1))
	}
	return out, nil
}

// tracer is the work of one trace.
type tracer struct {
	run          *engine.Run
	frame        *frame.Frame
	down         *statics.TakeDown
	through, own *statics.TakeDown // parts
	analyst      *statics.Analyst
	worst        Worst
}

// hopKey says which supports make one hop.
type hopKey struct {
	from, to int32 // members
	way      trace.Way
}

// hops gathers the supports of hops in the order of the first of each.
type hops struct {
	list []gathered
	at   map[hopKey]int
}

type gathered struct {
	hopKey
	supports []int32 // of Rests and Leans
	ties     []int32 // pieces, of Pulls
}

func (h *hops) of(k hopKey) *gathered {
	if h.at == nil {
		h.at = map[hopKey]int{}
	}
	i, ok := h.at[k]
	if !ok {
		i = len(h.list)
		h.at[k] = i
		h.list = append(h.list, gathered{hopKey: k})
	}
	return &h.list[i]
}

// walkDown follows the load of pieces hop by hop. Where load acts, only hops that take some of it are on the way.
func (t *tracer) walkDown(pieces []int32) []trace.Hop {
	loaded := slices.ContainsFunc(t.through.Applied, func(f statics.Force) bool { return f != statics.Force{} })
	f := t.frame
	var found hops
	seen, tied := map[int32]bool{}, map[*frame.Couple]bool{}
	for _, p := range pieces {
		seen[p] = true
	}
	reach := func(queue []int32, piece int32) []int32 {
		if seen[piece] {
			return queue
		}
		seen[piece] = true
		return append(queue, piece)
	}
	for queue := slices.Clone(pieces); len(queue) > 0; queue = queue[1:] {
		piece := queue[0]
		supports, first := f.SupportsOf(piece)
		for k := range supports {
			s, i := &supports[k], first+int32(k)
			if s.On < 0 || loaded && !t.takes(i) {
				continue
			}
			key := hopKey{f.Pieces[piece].Member, f.Pieces[s.On].Member, trace.Rests}
			if s.Against {
				key.way = trace.Leans
				if _, back := found.at[hopKey{key.to, key.from, trace.Leans}]; back {
					continue // the same contact, seen from the other side
				}
			}
			g := found.of(key)
			g.supports = append(g.supports, i)
			queue = reach(queue, s.On)
		}
		if c := f.CoupleOf(piece); c != nil && !tied[c] {
			tied[c] = true
			for _, tie := range c.Ties {
				if tie.Piece >= 0 && t.down.Tension(tie.Piece) != nil {
					g := found.of(hopKey{f.Pieces[piece].Member, f.Pieces[tie.Piece].Member, trace.Pulls})
					g.ties = append(g.ties, tie.Piece)
				}
			}
		}
	}
	return t.tell(&found, true)
}

// takes says whether a support takes any of the traced load.
func (t *tracer) takes(support int32) bool {
	for c := range t.down.Cases {
		r := t.through.Reaction(support, c)
		if math.Abs(r.X)+math.Abs(r.Y)+math.Abs(r.Z) > 1e-3 {
			return true
		}
	}
	return false
}

// walkUp finds all that rests on pieces.
func (t *tracer) walkUp(pieces []int32) []trace.Hop {
	f := t.frame
	ties := map[int32][]*frame.Couple{}
	for i := range f.Couples {
		for _, tie := range f.Couples[i].Ties {
			if tie.Piece >= 0 {
				ties[tie.Piece] = append(ties[tie.Piece], &f.Couples[i])
			}
		}
	}
	var found hops
	seen := map[int32]bool{}
	for _, p := range pieces {
		seen[p] = true
	}
	for queue := slices.Clone(pieces); len(queue) > 0; queue = queue[1:] {
		piece := queue[0]
		for _, i := range f.LandingsOn(piece) {
			from := f.Supports[i].Piece
			g := found.of(hopKey{f.Pieces[from].Member, f.Pieces[piece].Member, trace.Rests})
			g.supports = append(g.supports, i)
			if !seen[from] {
				seen[from] = true
				queue = append(queue, from)
			}
		}
		for _, c := range ties[piece] {
			if t.down.Tension(piece) != nil {
				g := found.of(hopKey{f.Pieces[c.Rafters[0]].Member, f.Pieces[piece].Member, trace.Pulls})
				g.ties = append(g.ties, piece)
			}
		}
	}
	return t.tell(&found, false)
}

// tell turns what was gathered into hops.
func (t *tracer) tell(found *hops, shares bool) []trace.Hop {
	doc := t.frame.Document
	var out []trace.Hop
	for i := range found.list {
		g := &found.list[i]
		h := trace.Hop{From: doc.Members[g.from].Mark, To: doc.Members[g.to].Mark, Way: g.way, Ground: doc.Members[g.to].Ground,
			Places: len(g.supports) + len(g.ties), At: -1, Load: t.worst.Force(t.load(t.down, g))}
		if shares {
			h.Through = t.worst.share(h.Load, t.load(t.through, g))
			h.Own = t.worst.share(h.Load, t.load(t.own, g))
		}
		if g.way == trace.Rests {
			t.describe(&h, g.supports)
		}
		out = append(out, h)
	}
	return out
}

// load is what passes at a hop in each case, N: down where it rests, the push where heads lean, the pull in a tie.
func (t *tracer) load(d *statics.TakeDown, g *gathered) []float64 {
	out := make([]float64, len(d.Cases))
	for c := range out {
		for _, i := range g.supports {
			f := d.Reaction(i, c)
			if g.way == trace.Leans {
				out[c] += t.push(i, f)
				continue
			}
			out[c] += f.Z
		}
		for _, tie := range g.ties {
			if pull := d.Tension(tie); pull != nil {
				out[c] += pull[c]
			}
		}
	}
	return out
}

// push is how hard a head pushes towards its partner.
func (t *tracer) push(head int32, f statics.Force) float64 {
	s := &t.frame.Supports[head]
	sh := t.frame.Shape(s.Piece)
	along := f.X*sh.DirX + f.Y*sh.DirY
	if s.At > sh.Length/2 {
		return -along
	}
	return along
}

// describe adds where a hop lands, what pushes sideways there, and what the hardest place takes.
func (t *tracer) describe(h *trace.Hop, supports []int32) {
	if s := &t.frame.Supports[supports[0]]; len(supports) == 1 && !s.Continuous {
		h.At = s.At
	}
	for c := range t.down.Cases {
		var sum statics.Force
		for _, i := range supports {
			f := t.down.Reaction(i, c)
			sum.X, sum.Y = sum.X+f.X, sum.Y+f.Y
		}
		h.Sideways = append(h.Sideways, math.Hypot(sum.X, sum.Y))
	}
	for _, i := range supports {
		p := t.place(i)
		if p.Piece != "" && (h.Hardest.Piece == "" || p.Most.Value > h.Hardest.Most.Value*(1+1e-9)) {
			p.Least = pick(p.Least, h.Hardest.Least)
			h.Hardest = p
			continue
		}
		h.Hardest.Least = pick(h.Hardest.Least, p.Least)
	}
}

// pick is the smaller of two.
func pick(a, b trace.Extreme) trace.Extreme {
	if b.Value < a.Value {
		return b
	}
	return a
}

// place is what one support takes at worst, variable load standing on some spans only where that is worse. It is empty
// for a bed, which has no one place.
func (t *tracer) place(support int32) trace.Place {
	s := &t.frame.Supports[support]
	if s.Continuous {
		return trace.Place{}
	}
	out := trace.Place{Piece: t.frame.Name(s.Piece), At: s.At}
	e := t.analyst.Effects(s.Piece)
	if k := slices.Index(e.Supports, support); k >= 0 && e.Unsolved == "" && !e.Bedded {
		for _, c := range t.worst.combinations {
			most, least, _ := e.Reaction(c, k)
			if out.Most.Under == "" || most > out.Most.Value*(1+1e-9) {
				out.Most = trace.Extreme{Value: most, Under: c.ID}
			}
			if least < out.Least.Value {
				out.Least = trace.Extreme{Value: least, Under: c.ID}
			}
		}
		return out
	}
	down := make([]float64, len(t.down.Cases))
	for c := range down {
		down[c] = t.down.Reaction(support, c).Z
	}
	f := t.worst.Force(down)
	out.Most, out.Least = f.Most, f.Least
	return out
}

// hardestOf is the piece of several that presses hardest on one of its supports.
func (t *tracer) hardestOf(pieces []int32) string {
	if len(pieces) < 2 {
		return ""
	}
	best, most := "", 0.0
	for _, piece := range pieces {
		supports, first := t.frame.SupportsOf(piece)
		for k := range supports {
			if !supports[k].Holds() {
				continue
			}
			if p := t.place(first + int32(k)); p.Most.Value > most*(1+1e-6) {
				best, most = p.Piece, p.Most.Value
			}
		}
	}
	return best
}

// arrivals are the ground members that the traced load reaches, in natural order.
func (t *tracer) arrivals() []trace.Arrival {
	var out []trace.Arrival
	for i := range t.frame.Document.Members {
		from, to := t.frame.PiecesOf(int32(i))
		if from == to || !t.frame.Document.Members[i].Ground {
			continue
		}
		arrived := func(d *statics.TakeDown) []float64 {
			v := make([]float64, len(d.Cases))
			for p := from; p < to; p++ {
				for c := range v {
					v[c] -= d.ArrivedAt(p, c).Z
				}
			}
			return v
		}
		through := arrived(t.through)
		if !slices.ContainsFunc(through, func(v float64) bool { return math.Abs(v) > 1e-3 }) {
			continue
		}
		a := trace.Arrival{Mark: t.frame.Document.Members[i].Mark, Total: t.worst.Force(arrived(t.down))}
		a.Through, a.Own = t.worst.share(a.Total, through), t.worst.share(a.Total, arrived(t.own))
		out = append(out, a)
	}
	sort.SliceStable(out, func(i, j int) bool { return finding.Natural(out[i].Mark, out[j].Mark) })
	return out
}

// notes say what of the way a reader would otherwise miss.
func (t *tracer) notes(pieces []int32) []string {
	var out []string
	for c, f := range t.through.Unresolved {
		if math.Abs(f.Z) > 0.5 {
			out = append(out, fmt.Sprintf("Of %s, %s does not reach the ground: it stops at a member that could not be solved.",
				t.down.Cases[c].ID, t.run.Print(-f.Z, model.Force)))
		}
	}
	told := map[string]bool{}
	for i := range t.frame.Pieces {
		why := t.through.Unsolved(int32(i))
		mark := t.frame.Member(int32(i)).Mark
		if why != "" && !told[mark] && slices.ContainsFunc(t.through.Applied, func(f statics.Force) bool { return f != statics.Force{} }) &&
			(slices.Contains(pieces, int32(i)) || t.lands(int32(i))) {
			told[mark] = true
			out = append(out, mark+" passes nothing on: "+why+".")
		}
	}
	for _, piece := range pieces {
		if push := t.down.HeadPush(piece); push != nil {
			for c, f := range push {
				if size := math.Hypot(f.X, f.Y); size > 0.5 {
					out = append(out, fmt.Sprintf("The head of %s must be held sideways against %s of %s.", t.frame.Name(piece),
						t.run.Print(size, model.Force), t.down.Cases[c].ID))
				}
			}
		}
	}
	return append(out, t.run.Remarks()...)
}

// lands says whether any of the traced load comes to a piece.
func (t *tracer) lands(piece int32) bool {
	return slices.ContainsFunc(t.frame.LandingsOn(piece), t.takes)
}

// applied is what acts in a part, N downwards.
func applied(t *statics.TakeDown) []float64 { return downwards(t.Applied) }

// downwards is what forces do downwards, N.
func downwards(forces []statics.Force) []float64 {
	out := make([]float64, len(forces))
	for c, f := range forces {
		out[c] = -f.Z
	}
	return out
}
