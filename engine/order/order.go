// Package order puts the work on a frame in order: what goes in before what, and what must be seen and photographed before
// it is taken out, loaded or hidden. It does not know how the order is printed.
package order

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/loadpath"
	"example.com/scantling/engine/report/works"
	"example.com/scantling/model"
)

// stages is the order in which a site puts members in where the load path leaves a choice (common practice, no source).
// Roles that no stage names come with the posts and beams.
var stages = []struct {
	title string
	roles []model.Role
}{
	{"Foundations", []model.Role{model.RoleFoundation}},
	{"Walls and piers", []model.Role{model.RoleWall, model.RolePier}},
	{"Lintels", []model.Role{model.RoleLintel}},
	{"Posts and beams", []model.Role{model.RolePost, model.RoleStud, model.RoleBeam}},
	{"Floor joists and trimmers", []model.Role{model.RoleFloorJoist, model.RoleTrimmer}},
	{"Wall plates", []model.Role{model.RoleWallPlate, model.RoleSolePlate}},
	{"Ridge, hips, valleys, purlins and their struts", []model.Role{model.RoleRidgeBeam, model.RoleRidgeBoard, model.RoleHipRafter, model.RoleValleyRafter, model.RolePurlin, model.RoleStrut}},
	{"Rafters, ceiling joists, ties and collars", []model.Role{model.RoleRafter, model.RoleJackRafter, model.RoleCeilingJoist, model.RoleTie, model.RoleCollar}},
}

func stageOf(role model.Role) int {
	for i := range stages {
		if slices.Contains(stages[i].roles, role) {
			return i
		}
	}
	return 3
}

// Works is the order in which the frame goes up, with its hold points: before something is taken out, before new load
// stands on what nobody has vouched for, and before something is hidden.
func Works(r *engine.Run) *works.Sheet {
	w := &planner{run: r, frame: r.Down.Frame, doc: r.Source.Document, stepOf: map[int32]int{}, liftOf: map[int32]int{}}
	w.takeOut()
	w.build()
	w.release()
	w.cover()
	return &works.Sheet{Model: r.Model(), Steps: w.steps, Points: w.points(), Notes: r.Remarks()}
}

// planner is the work of one order.
type planner struct {
	run    *engine.Run
	frame  *frame.Frame
	doc    *model.Document
	steps  []works.Step
	stepOf map[int32]int // by member, from 1
	liftOf map[int32]int // by member, from 0 in its step
	props, // removed members under which something is held up meanwhile
	removed,
	covered []int32
}

// step adds what goes on together. Of the members, one that rests on another comes a lift after it; they are given so
// that none stands before what it rests on, or all in one lift.
func (w *planner) step(title string, members []int32, with ...string) {
	s := works.Step{Title: title, With: with}
	for _, m := range members {
		for lift := w.liftOf[m]; lift >= len(s.Lifts); {
			s.Lifts = append(s.Lifts, nil)
		}
		s.Lifts[w.liftOf[m]] = append(s.Lifts[w.liftOf[m]], w.doc.Members[m].Mark)
		w.stepOf[m] = len(w.steps) + 1
	}
	for _, marks := range s.Lifts {
		finding.SortMarks(marks)
	}
	w.steps = append(w.steps, s)
}

// takeOut begins with what goes: props first, where something stays that rests on it.
func (w *planner) takeOut() {
	var props []int32
	for i := range w.doc.Members {
		if w.doc.Members[i].Phase != model.Removed {
			continue
		}
		w.removed = append(w.removed, int32(i))
		if len(w.stays(int32(i))) > 0 {
			props = append(props, int32(i))
		}
	}
	if len(w.removed) == 0 {
		return
	}
	if len(props) > 0 {
		who := "who designs and places them is not stated: ask"
		if t := w.doc.Site.TemporaryWork; t != "" {
			who = "dealt with by " + t
		}
		w.step("Temporary support of what rests on", props, who)
		w.props = props
	}
	w.step("Take out", w.removed)
}

// stays is the members that rest on one that goes, and stand when the work is done.
func (w *planner) stays(member int32) []int32 {
	if w.run.Before == nil {
		return nil
	}
	f := w.run.Before.Frame
	var out []int32
	from, to := f.PiecesOf(member)
	for p := from; p < to; p++ {
		for _, i := range f.LandingsOn(p) {
			on := f.Pieces[f.Supports[i].Piece].Member
			if frame.After.Stands(w.doc.Members[on].Phase) && !slices.Contains(out, on) {
				out = append(out, on)
			}
		}
	}
	return out
}

// build puts in what is new: of the members that have all they rest on, those of the earliest stage first, until there
// are no more of that stage. Members that rest on each other in a circle come last.
func (w *planner) build() {
	waits := make([]int, len(w.doc.Members))
	above := make([][]int32, len(w.doc.Members))
	ready := make([][]int32, len(stages))
	left := 0
	for i := range w.doc.Members {
		if !w.isNew(int32(i)) {
			continue
		}
		left++
		for _, on := range w.restsOn(int32(i)) {
			if w.isNew(on) {
				waits[i]++
				above[on] = append(above[on], int32(i))
			}
		}
		if waits[i] == 0 {
			s := stageOf(w.doc.Members[i].Role)
			ready[s] = append(ready[s], int32(i))
		}
	}
	for s := 0; s < len(stages); {
		if len(ready[s]) == 0 {
			s++
			continue
		}
		var placed []int32
		for ; len(ready[s]) > 0; ready[s] = ready[s][1:] {
			m := ready[s][0]
			placed = append(placed, m)
			for _, up := range above[m] {
				if waits[up]--; waits[up] == 0 {
					at := stageOf(w.doc.Members[up].Role)
					ready[at] = append(ready[at], up)
				}
			}
		}
		left -= len(placed)
		w.lift(placed)
		w.step(stages[s].title, placed, w.seatsOn(placed)...)
		s = 0
	}
	if left > 0 {
		var rest []int32
		for i := range w.doc.Members {
			if w.isNew(int32(i)) && waits[i] > 0 {
				rest = append(rest, int32(i))
			}
		}
		w.step("Order not known, because they rest on each other or on one that does", rest)
	}
}

// lift puts each of the members that go in next a lift above those of them that it rests on, which come before it. What
// it rests on besides stands already, in a step of its own.
func (w *planner) lift(next []int32) {
	for _, m := range next {
		for _, on := range w.restsOn(m) {
			if w.isNew(on) && w.stepOf[on] == 0 {
				w.liftOf[m] = max(w.liftOf[m], w.liftOf[on]+1)
			}
		}
	}
}

func (w *planner) isNew(member int32) bool {
	from, to := w.frame.PiecesOf(member)
	return from < to && w.doc.Members[member].Phase == model.New
}

// restsOn is the members that one rests on. A ridge board goes up with the rafters that later hold it.
func (w *planner) restsOn(member int32) []int32 {
	if w.doc.Members[member].Role == model.RoleRidgeBoard {
		return nil
	}
	var out []int32
	from, to := w.frame.PiecesOf(member)
	for p := from; p < to; p++ {
		supports, _ := w.frame.SupportsOf(p)
		for k := range supports {
			if s := &supports[k]; s.Holds() {
				if on := w.frame.Pieces[s.On].Member; !slices.Contains(out, on) {
					out = append(out, on)
				}
			}
		}
	}
	return out
}

// seatsOn is the padstones and plates that must stand on some members before anything comes on them.
func (w *planner) seatsOn(members []int32) []string {
	on := map[string]bool{}
	for _, m := range members {
		on[w.doc.Members[m].Mark] = true
	}
	var out []string
	for i := range w.doc.Members {
		m := &w.doc.Members[i]
		if !frame.After.Stands(m.Phase) {
			continue
		}
		for k := range m.Supports {
			if s := &m.Supports[k]; s.Seat != nil && on[s.On] {
				out = append(out, w.seat(s.Seat)+" on "+s.On+" under "+m.Mark)
			}
		}
	}
	return out
}

// release takes the props away, once all is in that carries in place of what went.
func (w *planner) release() {
	if len(w.props) == 0 {
		return
	}
	s := works.Step{Title: "Take the temporary support away from", Lifts: [][]string{nil}}
	var in []string
	for _, member := range w.props {
		for _, up := range w.stays(member) {
			if mark := w.doc.Members[up].Mark; !slices.Contains(s.Lifts[0], mark) {
				s.Lifts[0] = append(s.Lifts[0], mark)
				in = append(in, w.newUnder(up)...)
			}
		}
	}
	finding.SortMarks(s.Lifts[0])
	finding.SortMarks(in)
	if len(in) > 0 {
		s.With = []string{"once these carry them, packed tight: " + strings.Join(slices.Compact(in), ", ")}
	}
	w.steps = append(w.steps, s)
}

// newUnder is the marks of what is new of all that a member rests on.
func (w *planner) newUnder(member int32) []string {
	var out []string
	for _, on := range w.restsOn(member) {
		if w.isNew(on) {
			out = append(out, w.doc.Members[on].Mark)
		}
	}
	return out
}

// cover ends with what hides.
func (w *planner) cover() {
	by := map[string][]int32{}
	var order []string
	for i := range w.doc.Members {
		from, to := w.frame.PiecesOf(int32(i))
		cover := w.doc.Members[i].CoveredBy
		if from == to || cover == "" {
			continue
		}
		w.covered = append(w.covered, int32(i))
		if by[cover] == nil {
			order = append(order, cover)
		}
		by[cover] = append(by[cover], int32(i))
	}
	for _, cover := range order {
		var marks []string
		for _, m := range by[cover] {
			marks = append(marks, w.doc.Members[m].Mark)
		}
		finding.SortMarks(marks)
		w.steps = append(w.steps, works.Step{Title: "Cover with " + cover, Lifts: [][]string{marks}})
	}
}

// points is the hold points in the order of the steps that they follow.
func (w *planner) points() []works.Point {
	var out []works.Point
	for _, m := range w.removed {
		out = append(out, w.propped(m))
	}
	for i := range w.doc.Members {
		if w.opensUp(int32(i)) {
			out = append(out, w.opened(int32(i)))
		}
	}
	for _, m := range w.covered {
		out = append(out, w.hidden(m))
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].Step != out[j].Step {
			return out[i].Step < out[j].Step
		}
		return finding.Natural(out[i].Member, out[j].Member)
	})
	return out
}

// opensUp says whether new work rests on a member that stays and that nobody has vouched for.
func (w *planner) opensUp(member int32) bool {
	if w.doc.Members[member].Phase != model.Existing || w.doc.Members[member].Condition != "unverified" {
		return false
	}
	return slices.ContainsFunc(w.landsOn(member), func(on landing) bool { return w.isNew(on.member) })
}

// point is a hold point of a member with all that every kind of point says.
func (w *planner) point(member int32, before string) works.Point {
	m := &w.doc.Members[member]
	p := works.Point{Member: m.Mark, Role: string(m.Role), Pieces: m.Pieces(), Before: before, Step: max(1, w.stepOf[member])}
	if len(m.Drawings) > 0 {
		p.Drawing = m.Drawings[0].ID
	}
	if s := m.More().Seen; s != nil {
		p.Seen = s.String()
	}
	return p
}

// propped is the hold point of what goes: the props under all that stays.
func (w *planner) propped(member int32) works.Point {
	p := w.point(member, "it is taken out")
	p.Step = max(1, p.Step-1) // it waits on the step before its own
	for _, up := range w.stays(member) {
		m := &w.doc.Members[up]
		p.See = append(p.See, "props or needles under "+m.Mark+w.brings(up, member))
	}
	if w.doc.Members[member].More().BraceRemoved {
		p.See = append(p.See, "what braces the building in its place")
	}
	if len(p.See) == 0 {
		p.See = []string{"that nothing rests on it"}
	}
	p.Seen = "" // evidence of a member that goes says nothing of its props
	return p
}

// brings says how much load, in the worst characteristic combination, a member brought to another before the work;
// nothing where none is known.
func (w *planner) brings(from, to int32) string {
	t := w.run.Before
	cases := make([]float64, len(t.Cases))
	a, b := t.Frame.PiecesOf(to)
	for p := a; p < b; p++ {
		for _, i := range t.Frame.LandingsOn(p) {
			if t.Frame.Pieces[t.Frame.Supports[i].Piece].Member == from {
				for c := range cases {
					cases[c] += t.Reaction(i, c).Z
				}
			}
		}
	}
	most := loadpath.NewWorst(w.run).Force(cases).Most
	if most.Value <= 0 {
		return ""
	}
	return fmt.Sprintf(", which brought %s to it under %s", w.run.Print(most.Value, model.Force), most.Under)
}

// opened is the hold point of what is there: it is opened up before anything new stands on it.
func (w *planner) opened(member int32) works.Point {
	p := w.point(member, "anything new stands on it")
	p.See = append([]string{"what it is: size, grade or species, soundness, and how it is fixed at both ends"}, w.sights(member)...)
	return p
}

// hidden is the hold point of what will be covered. It waits for what is fixed to the member and hidden with it.
func (w *planner) hidden(member int32) works.Point {
	p := w.point(member, "it is hidden by "+w.doc.Members[member].CoveredBy)
	p.In, p.See = w.under(member), w.sights(member)
	for _, on := range w.landsOn(member) {
		p.Step = max(p.Step, w.stepOf[on.member])
	}
	return p
}

// under is all that a member rests on, hop by hop, from the ground up.
func (w *planner) under(member int32) []string {
	var out []int32
	queue := []int32{member}
	for ; len(queue) > 0; queue = queue[1:] {
		for _, on := range w.restsOn(queue[0]) {
			if on != member && !slices.Contains(out, on) {
				out = append(out, on)
				queue = append(queue, on)
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		if a, b := w.stepOf[out[i]], w.stepOf[out[j]]; a != b {
			return a < b
		}
		if a, b := w.liftOf[out[i]], w.liftOf[out[j]]; a != b {
			return a < b
		}
		return finding.Natural(w.doc.Members[out[i]].Mark, w.doc.Members[out[j]].Mark)
	})
	marks := make([]string, len(out))
	for i, m := range out {
		marks[i] = w.doc.Members[m].Mark
	}
	return marks
}
