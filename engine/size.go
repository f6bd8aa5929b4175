package engine

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"runtime"
	"slices"
	"sync"

	"example.com/scantling/engine/facts"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/rules/pack"
)

// SizeOptions say what a member's place is tried with.
type SizeOptions struct {
	Options
	Stock []sizing.Stock // nil: what a yard in the region commonly has
	Any   bool           // other materials than the member's own too
}

// Size tries stocked sections, grades and centres in a member's place, and says which of them meet every rule there. The
// frame is checked once; for each option only what it touches is worked out anew. The error is of the packs or the call.
func (s *Session) Size(ctx context.Context, src *Source, mark string, o SizeOptions) (*sizing.Choice, error) {
	member := src.Document.Index(mark)
	if member < 0 {
		return nil, UnknownMember(src.Document, mark)
	}
	if err := sizable(&src.Document.Members[member]); err != nil {
		return nil, err
	}
	base, err := s.Check(ctx, src, o.Options)
	if err != nil {
		return nil, err
	}
	z := &sizer{base: base, member: member, place: src.Document.Members[member], any: o.Any}
	out := z.choice()
	if base.Preparation == nil {
		out.Incomplete = append(out.Incomplete, "without a region no strength can be checked, so that nothing can be offered")
		return out, nil
	}
	if err := z.gather(ctx, o.Stock); err != nil {
		out.Incomplete = append(out.Incomplete, err.Error())
		return out, nil
	}
	if len(z.tries) == 0 {
		out.Notes = append(out.Notes, "The stock holds nothing of the member's own material.")
	}
	failed := z.tryAll(ctx)
	if failed != nil {
		out.Incomplete = append(out.Incomplete, failed.Error())
	}
	z.decide(out, failed)
	return out, nil
}

// sizable says why a member has no size to choose.
func sizable(m *model.Member) error {
	switch {
	case m.Section == nil:
		return fmt.Errorf("%s states no section, so that there is nothing to choose another for", m.Mark)
	case m.Section.Shape == model.Layered:
		return fmt.Errorf("%s is a sandwich of layers, for which no stock is kept", m.Mark)
	case m.Phase != model.New:
		return fmt.Errorf("%s is %s: it is as large as it is", m.Mark, m.Phase)
	}
	return nil
}

// sizer is the state of one choice.
type sizer struct {
	base   *Run
	member int
	place  model.Member
	any    bool
	kept   string // why the centres stay

	lists   *facts.Lists // names of all options, so that the region is asked once
	site    *region.Site
	prep    *region.Preparation
	loaded  map[int32]bool // members whose supports or loads the swap may change, the member itself among them
	reached map[int32]bool // those, and what stands on the same walls
	taken   *facts.Base
	talk    *host.Talk
	tries   []*try
	now     *try
	doubled *try // the member at twice the size: what that does not mend is no matter of size
}

// try is an option in place.
type try struct {
	sizing.Option
	stock    *sizing.Stock
	doc      *model.Document
	findings []finding.Finding
	err      error
}

func (z *sizer) choice() *sizing.Choice {
	m := &z.place
	out := &sizing.Choice{Model: z.base.Model(), Region: z.base.Result.Region, Mark: m.Mark, Role: string(m.Role), Loosened: z.base.Result.Loosened, Incomplete: slices.Clone(z.base.incomplete)}
	out.Now = sizing.Option{Section: m.Section.Words(), Grade: m.Grade, Centres: m.Centres, Pieces: m.Pieces(), Depth: m.Section.Depth}
	return out
}

// gather lists the options, and asks the region once about all their grades and sections.
func (z *sizer) gather(ctx context.Context, stock []sizing.Stock) error {
	if stock == nil {
		stock = regionStock(z.base.Description.Stock)
	}
	z.now = z.option(z.place.Section, z.place.Grade, z.place.Centres.Value, nil)
	z.now.findings = z.base.Result.Findings
	z.weigh(z.base, z.now)
	z.doubled = z.option(double(z.place.Section), z.place.Grade, z.place.Centres.Value, nil)
	for i := range stock {
		if err := z.stocked(&stock[i]); err != nil {
			return err
		}
	}
	all := *z.base.Source.Document
	all.Members = slices.Clone(all.Members)
	for _, t := range append([]*try{z.doubled}, z.tries...) {
		all.Members = append(all.Members, t.doc.Members[z.member])
	}
	z.lists = facts.NewLists(&all)
	site := *z.base.Site
	site.Grades, site.Sections = z.lists.Grades, nil
	for _, s := range z.lists.Sections {
		site.Sections = append(site.Sections, *s)
	}
	z.site = &site
	prep, err := z.base.Client.Prepare(ctx, z.site)
	if err != nil {
		return err
	}
	if was := z.base.Preparation; !reflect.DeepEqual(prep.Cases, was.Cases) || !reflect.DeepEqual(prep.Combinations, was.Combinations) ||
		!reflect.DeepEqual(prep.Areas, was.Areas) {
		return errors.New("the region combines loads otherwise for other grades, so that options cannot be held against each other")
	}
	z.prep = prep
	z.reach()
	z.taken = facts.NewBase(z.base.Filled, z.lists, z.reachedPieces(), z.base.Description.Beside)
	z.ofOneKind()
	return nil
}

// stocked adds the options of one entry of the stock: each grade, number of plies and spacing.
func (z *sizer) stocked(s *sizing.Stock) error {
	grades := s.Grades
	if len(grades) == 0 {
		grades = []string{z.place.Grade}
	}
	for plies := 1; plies <= max(1, z.place.Section.Plies); plies++ {
		text := s.Section
		if plies > 1 {
			text = fmt.Sprintf("%d/%s", plies, s.Section)
		}
		section, err := model.ParseSection(text, z.base.Source.Document.Units)
		if err != nil {
			return fmt.Errorf("stock: %w", err)
		}
		section = inPlaceOf(z.place.Section, section)
		for _, grade := range grades {
			for _, centres := range z.spacings() {
				z.tries = append(z.tries, z.option(section, grade, centres, s))
			}
		}
	}
	return nil
}

// option is the document with an option in the member's place.
func (z *sizer) option(section *model.Section, grade string, centres float64, stock *sizing.Stock) *try {
	t := &try{stock: stock, Option: sizing.Option{Section: section.Words(), Grade: grade, Depth: section.Depth}}
	m := swapped(&z.place, section, grade, centres)
	t.Centres, t.Pieces = m.Centres, m.Pieces()
	doc := *z.base.Source.Document
	doc.Members = slices.Clone(doc.Members)
	doc.Members[z.member] = m
	t.doc = &doc
	return t
}

// ofOneKind leaves out options of another material, unless any will do.
func (z *sizer) ofOneKind() {
	if z.any {
		return
	}
	kinds := map[string]string{}
	for i, name := range z.lists.Grades {
		kinds[name.Name] = z.prep.Grades[i].Material
	}
	own := kinds[z.place.Grade]
	z.tries = slices.DeleteFunc(z.tries, func(t *try) bool { return kinds[t.Grade] != own })
}

// reach finds the members that the swap reaches: what meets the member (what it rests on, what rests on it, what it is
// paired with), and everything that the load of either goes down through; and what else stands on the walls on its way.
func (z *sizer) reach() {
	f := z.base.Down.Frame
	z.loaded = map[int32]bool{int32(z.member): true}
	see := func(piece int32) { z.loaded[f.Pieces[piece].Member] = true }
	var down func(piece int32)
	seen := map[int32]bool{}
	down = func(piece int32) {
		if seen[piece] {
			return
		}
		seen[piece] = true
		supports, _ := f.SupportsOf(piece)
		for k := range supports {
			if on := supports[k].On; on >= 0 {
				see(on)
				down(on)
			}
		}
		if c := f.CoupleOf(piece); c != nil {
			for _, part := range c.Parts() {
				see(part)
				down(part)
			}
		}
	}
	from, to := f.PiecesOf(int32(z.member))
	for p := from; p < to; p++ {
		down(p)
		for _, i := range f.LandingsOn(p) { // where it lands may change, and so what its other supports carry
			see(f.Supports[i].Piece)
			down(f.Supports[i].Piece)
		}
	}
	for i := range f.Couples {
		for _, tie := range f.Couples[i].Ties {
			if tie.Piece >= 0 && f.Pieces[tie.Piece].Member == int32(z.member) {
				for _, rafter := range f.Couples[i].Rafters {
					see(rafter)
					down(rafter)
				}
			}
		}
	}
	for z.reachCouples(f) {
	}
	z.reached = maps.Clone(z.loaded)
	for i := range f.Supports {
		if s := &f.Supports[i]; s.On >= 0 && z.loaded[f.Pieces[s.On].Member] && f.Member(s.On).Role == model.RoleWall {
			z.reached[f.Pieces[s.Piece].Member] = true
		}
	}
}

// reachCouples reaches all of each couple of which it has reached a part, since they are solved as one; it says whether that
// was more.
func (z *sizer) reachCouples(f *frame.Frame) (more bool) {
	for i := range f.Couples {
		parts := f.Couples[i].Parts()
		member := func(piece int32) int32 { return f.Pieces[piece].Member }
		if !slices.ContainsFunc(parts, func(piece int32) bool { return z.loaded[member(piece)] }) {
			continue
		}
		for _, piece := range parts {
			more = more || !z.loaded[member(piece)]
			z.loaded[member(piece)] = true
		}
	}
	return more
}

// reachedPieces are the pieces of the base that the swap reaches.
func (z *sizer) reachedPieces() []int32 {
	var out []int32
	for i, p := range z.base.Down.Frame.Pieces {
		if z.reached[p.Member] {
			out = append(out, int32(i))
		}
	}
	return out
}

// same is the piece of the base that each piece of a frame is the same as; -1 of the members that are left out.
func (z *sizer) same(f *frame.Frame, but map[int32]bool) []int32 {
	b := z.base.Down.Frame
	out := make([]int32, len(f.Pieces))
	for i := range f.Pieces {
		p := f.Pieces[i]
		from, _ := b.PiecesOf(p.Member)
		out[i] = from + p.Index
		if but[p.Member] {
			out[i] = -1
		}
	}
	return out
}

// tryAll tries every option, as many at a time as there are processors. The error is the region's.
func (z *sizer) tryAll(ctx context.Context) error {
	var err error
	if z.talk, err = z.base.Client.Talk(ctx, z.site, z.prep); err != nil {
		return err
	}
	queue := make(chan *try)
	var workers sync.WaitGroup
	for range max(1, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for t := range queue {
				z.try(t)
			}
		})
	}
	for _, t := range append([]*try{z.doubled}, z.tries...) {
		queue <- t
	}
	close(queue)
	workers.Wait()
	return z.talk.Close()
}

// try checks the frame with one option in place, taking over from the base what it does not touch.
func (z *sizer) try(t *try) {
	b := z.base
	r := &Run{Source: &Source{Document: t.doc, File: b.Source.File}, Code: b.Code, Lists: z.lists, Description: b.Description, Site: z.site,
		Preparation: z.prep, Before: b.Before, Set: b.Set, Client: b.Client}
	fr := frame.Assemble(t.doc, frame.After)
	inside := z.same(fr, z.loaded)
	r.Down = b.Down.Again(r.input(fr), inside)
	src := &facts.Source{Book: b.Filled.Book, Down: r.Down, Before: r.Before, Combinations: r.Combinations, Served: true,
		Assumptions: b.Filled.Source.Assumptions, Base: z.taken, Differs: int32(z.member), Same: z.same(fr, z.reached), Inside: inside}
	r.Filled = facts.Fill(src)
	if t.err = r.deriveOver(z.talk); t.err != nil {
		return
	}
	r.Judgement = r.Set.Judge(r.Filled.Facts, pack.Options{Touched: r.Filled.Touched()})
	t.findings = r.verdicts()
	for _, f := range r.Judgement.Failures {
		t.err = errors.Join(t.err, f)
	}
	z.weigh(r, t)
}

// deriveOver has the region judge the classes that are not taken over.
func (r *Run) deriveOver(talk *host.Talk) error {
	r.Filled.FillRegion(r.Description.Facts)
	r.Filled.Recall(r.Description.Facts)
	return talk.Ask(r.Filled.Batches(r.Lists, nil, false), func(_ *region.Batch, out *region.Derived) {
		r.Filled.Take(r.Description.Facts, out)
	})
}

// weigh notes what an option weighs, costs and uses.
func (z *sizer) weigh(r *Run, t *try) {
	if mass, why := r.Down.Mass(int32(z.member)); why == "" {
		t.Mass = model.Given(mass * float64(t.Pieces))
	}
	length := r.Down.Frame.Shapes[z.member].Length
	if t.stock != nil && t.stock.Price.Known {
		if order, ok := ordered(t.stock, length); ok {
			t.Price = model.Given(t.stock.Price.Value * order / 1000 * float64(t.Pieces) * float64(max(1, t.doc.Members[z.member].Section.Plies)))
		}
	}
	if use := r.use(z.member); use.Piece != "" {
		t.Use, t.Governs = model.Given(use.Use), use.Governs
	}
}

// ordered is the shortest stock length that a piece can be cut from, mm; the piece's own where any length is had.
func ordered(s *sizing.Stock, length float64) (float64, bool) {
	if len(s.Lengths) == 0 {
		return length, true
	}
	best := math.Inf(1)
	for _, l := range s.Lengths {
		if l >= length-1 && l < best {
			best = l
		}
	}
	return best, !math.IsInf(best, 1)
}

func regionStock(list []region.Stock) []sizing.Stock {
	out := make([]sizing.Stock, len(list))
	for i, s := range list {
		out[i] = sizing.Stock{Section: s.Section, Grades: s.Grades, Lengths: s.Lengths}
	}
	return out
}

// byMass orders options by what they weigh, then by depth and name; what has no known mass comes last.
func byMass(a, b sizing.Option) int {
	weight := func(o sizing.Option) float64 {
		if !o.Mass.Known {
			return math.Inf(1)
		}
		return o.Mass.Value
	}
	return cmp.Or(cmp.Compare(weight(a), weight(b)), cmp.Compare(a.Depth, b.Depth), cmp.Compare(a.Section, b.Section), cmp.Compare(a.Grade, b.Grade),
		cmp.Compare(b.Centres.Value, a.Centres.Value))
}
