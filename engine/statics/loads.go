package statics

import (
	"fmt"
	"math"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics/plane"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// Input is what a take-down works from.
type Input struct {
	Frame     *frame.Frame
	Cases     []region.Case
	Materials []Material          // by member
	Grades    map[string]Material // by name, for the layers of sandwiches
	Implied   []region.AreaLoad   // loads that the region fills in
}

// Material is what is known of a member's grade: mean moduli in N/mm2 and mean density in kg/mm3. 0 is unknown.
type Material struct {
	E, G, Density float64
	Kind          string // timber, steel ...
	Reason        string // why something is unknown
}

// DefaultCases is one case for each action that the document names, and one for each named load, as a run without a
// region has them. The default case of an action has the action's name.
func DefaultCases(doc *model.Document) []region.Case {
	type key struct {
		action model.Action
		name   string
	}
	seen := map[key]bool{}
	var named []key
	use := func(a model.Action, name string) {
		k := key{a, name}
		if !seen[k] {
			seen[k] = true
			named = append(named, k)
		}
	}
	if !doc.Weightless {
		use(model.Dead, "")
	}
	for i := range doc.Areas {
		for _, l := range doc.Areas[i].Loads {
			use(l.Action, l.Name)
		}
	}
	for i := range doc.Members {
		for _, l := range doc.Members[i].Loads {
			use(l.Action, l.Case)
		}
	}
	var out []region.Case
	for _, a := range model.Actions {
		for _, k := range named {
			if k.action == a {
				out = append(out, region.Case{ID: CaseID(a, k.name), Action: a, Name: k.name, Permanent: a == model.Dead})
			}
		}
	}
	return out
}

// CaseID is the name of an action's case: the action itself for the unnamed loads.
func CaseID(a model.Action, name string) string {
	if name == "" {
		return string(a)
	}
	return string(a) + ":" + name
}

// own is the loads of one member itself: what it weighs, carries and is said to bear. Loads are in the member's own
// upright plane, by case.
type own struct {
	kase   int32
	weight bool // it is what the member weighs
	load   plane.Load
}

// ownLoads works out every member's loads. What could not be worked out is said in notes, by member.
type ownLoads struct {
	start []int32 // by member; one more at the end
	items []own
	notes []Remark

	movers map[int32][]mover // by member
}

// Remark is something about a member that a reader of the take-down should know.
type Remark struct {
	Member int32
	Text   string
	Lost   bool // something that ought to be counted is not
	Weight bool // what is lost is its own weight, for want of a section or grade
	Stays  bool // what is lost is lost to what carries the member: there it is counted
}

// LeftOut says whether a load that the document gives the member is not counted.
func (r *Remark) LeftOut() bool { return r.Lost && !r.Weight && !r.Stays }

func (o *ownLoads) of(member int32) []own { return o.items[o.start[member]:o.start[member+1]] }

func (in *Input) ownLoads() *ownLoads {
	doc := in.Frame.Document
	o := &ownLoads{start: make([]int32, len(doc.Members)+1), items: make([]own, 0, 3*len(doc.Members))}
	dead := in.caseOf(model.Dead, "", "")
	for i := range doc.Members {
		m, sh := &doc.Members[i], &in.Frame.Shapes[i]
		o.start[i] = int32(len(o.items))
		if !in.Frame.Stage.Stands(m.Phase) {
			continue
		}
		if !sh.Known {
			if len(m.Loads)+len(m.Carries) > 0 {
				o.remark(int32(i), true, "its loads are left out: it has neither a path nor a length")
			}
			continue
		}
		if !doc.Weightless && dead >= 0 {
			in.weigh(o, int32(i), m, sh, dead)
			for k := o.start[i]; int(k) < len(o.items); k++ {
				o.items[k].weight = true
			}
		}
		for k := range m.Carries {
			in.carry(o, int32(i), m, sh, &m.Carries[k])
		}
		for k := range m.Loads {
			in.bear(o, int32(i), m, sh, &m.Loads[k])
		}
		in.stand(o, int32(i), m)
	}
	o.start[len(doc.Members)] = int32(len(o.items))
	return o
}

func (o *ownLoads) remark(member int32, lost bool, format string, args ...any) {
	o.notes = append(o.notes, Remark{Member: member, Lost: lost, Text: fmt.Sprintf(format, args...)})
}

func (o *ownLoads) line(kase int32, from, to, z0, z1 float64) {
	if to > from && (z0 != 0 || z1 != 0) {
		o.items = append(o.items, own{kase: kase, load: plane.Load{From: from, To: to, Z0: z0, Z1: z1}})
	}
}

// weigh adds a member's own weight.
func (in *Input) weigh(o *ownLoads, i int32, m *model.Member, sh *frame.Shape, dead int32) {
	detail := m.More()
	if m.Section == nil {
		switch {
		case detail.Weight.Known && detail.Height.Known:
			o.line(dead, 0, sh.Length, -detail.Weight.Value*detail.Height.Value, -detail.Weight.Value*detail.Height.Value)
		case m.Role == model.RoleWall && !m.Ground:
			o.remark(i, true, "the weight of the wall is left out: its height and its weight per area of its face must be stated")
		}
		return
	}
	if in.inDeadLoad(m) {
		return
	}
	perMM, why := in.massPerMM(i, m)
	if why != "" {
		o.notes = append(o.notes, Remark{Member: i, Text: "its own weight is not counted: " + why, Lost: true, Weight: true})
		return
	}
	w := -perMM * model.Gravity
	o.line(dead, 0, sh.Length, w, w)
}

// inDeadLoad says whether an area that the member carries has the weight of its framing in its dead load.
func (in *Input) inDeadLoad(m *model.Member) bool {
	for k := range m.Carries {
		if a := in.Frame.Document.Area(m.Carries[k].Area); a != nil && a.SelfWeight == "included" {
			return true
		}
	}
	return false
}

// massPerMM is a member's mass per length in kg/mm, or why it is not known.
func (in *Input) massPerMM(i int32, m *model.Member) (float64, string) {
	s := m.Section
	switch {
	case s.Mass > 0:
		return s.Mass, ""
	case s.Shape == model.Layered:
		sum := 0.0
		for _, l := range s.Layers {
			g := in.Grades[l.Grade]
			if g.Density <= 0 {
				return 0, fmt.Sprintf("the density of the layer of %s is not known", l.Grade)
			}
			sum += l.Width * l.Depth * g.Density
		}
		return sum, ""
	case in.Materials[i].Density > 0 && s.Area > 0:
		return s.Area * in.Materials[i].Density, ""
	case s.Area <= 0:
		return 0, "the section's area is not known"
	case m.Grade == "":
		return 0, "no grade is stated, so its density is not known"
	case in.Materials[i].Reason != "":
		return 0, in.Materials[i].Reason
	}
	return 0, fmt.Sprintf("the density of %s is not known without a region", m.Grade)
}

// Mass is the mass of one piece of a member in kg, or why it is not known.
func (in *Input) Mass(member int32) (float64, string) {
	m, sh := &in.Frame.Document.Members[member], &in.Frame.Shapes[member]
	if m.Section == nil {
		return 0, "no section is stated"
	}
	if !sh.Known {
		return 0, "its length is not known"
	}
	perMM, why := in.massPerMM(member, m)
	return perMM * sh.Length, why
}

// carry adds a strip of an area. Dead load and wind go by the area's slope, the rest by its plan.
func (in *Input) carry(o *ownLoads, i int32, m *model.Member, sh *frame.Shape, c *model.Carry) {
	area := in.Frame.Document.Area(c.Area)
	if area == nil {
		return
	}
	width := c.Width
	if !width.Known {
		width = m.Centres
	}
	if !width.Known {
		o.remark(i, true, "what it carries of %s is left out: neither a width nor centres are stated", c.Area)
		return
	}
	if !c.Width.Known {
		o.remark(i, false, "carries a strip of %s as wide as its centres", c.Area)
	}
	if sh.Upright {
		o.remark(i, true, "what it carries of %s is left out: it stands upright", c.Area)
		return
	}
	if area.Pitch.Known && math.Cos(area.Pitch.Value) < 1e-6 {
		o.remark(i, true, "what it carries of %[1]s is left out: %[1]s stands upright, so that a width in plan says nothing of it", c.Area)
		return
	}
	for _, l := range in.areaLoads(area) {
		kase := in.caseOf(l.Action, l.Name, area.Kind)
		if kase < 0 {
			o.remark(i, true, "%s on %s is left out: the region has no load case for it", l.Action, c.Area)
			continue
		}
		for k := 0; k+1 < len(sh.S); k++ {
			from, to := sh.S[k], sh.S[k+1]
			cos, sin := sh.SlopeAt((from + to) / 2)
			in.strip(o, kase, area, l, width.Value, from, to, cos, sin)
		}
	}
}

// strip adds one load of an area over one straight stretch of a member.
func (in *Input) strip(o *ownLoads, kase int32, area *model.Area, l model.AreaLoad, width, from, to, cos, sin float64) {
	if cos < 1e-6 {
		return // no plan under an upright stretch
	}
	slope := cos // of the area, as its cosine
	along := true
	if area.Pitch.Known {
		slope = math.Cos(area.Pitch.Value)
		along = math.Abs(math.Acos(min(1, cos))-area.Pitch.Value) < sameSlope
	}
	switch {
	case l.Action == model.Wind && along:
		// Normal to the slope in the member's own plane; per length of slope, which is the member's length.
		q := l.Value * width
		if to > from && q != 0 {
			load := plane.Load{From: from, To: to, Z0: -q * cos, Z1: -q * cos, U0: q * sin, U1: q * sin}
			o.items = append(o.items, own{kase: kase, load: load})
		}
	case l.Action == model.Wind:
		// Across the slope: the upright part over the plan. The level part goes into the covering, to either side.
		q := -l.Value * width * cos
		o.line(kase, from, to, q, q)
	case l.Action == model.Dead && area.DeadOn != "plan":
		q := -l.Value * width / slope * cos
		o.line(kase, from, to, q, q)
	default:
		q := -l.Value * width * cos
		o.line(kase, from, to, q, q)
	}
}

// sameSlope is how far a member's slope may differ from its area's and still lie in it, radians.
const sameSlope = 0.02

// areaLoads is an area's loads with what the region fills in.
func (in *Input) areaLoads(area *model.Area) []model.AreaLoad {
	out := area.Loads
	for _, implied := range in.Implied {
		if implied.Area != area.ID || implied.Value == 0 {
			continue
		}
		said := false
		for _, l := range area.Loads {
			said = said || l.Action == implied.Action
		}
		if !said {
			out = append(out[:len(out):len(out)], model.AreaLoad{Action: implied.Action, Value: implied.Value})
		}
	}
	return out
}

// LoadOf is the largest load of an action that an area counts with, N/mm2: as stated or as the region fills it in.
func (in *Input) LoadOf(area *model.Area, action model.Action) float64 {
	most := 0.0
	for _, l := range in.areaLoads(area) {
		if l.Action == action {
			most = max(most, l.Value)
		}
	}
	return most
}

// bear adds a load that the document gives the member itself. One that may stand anywhere is set aside.
func (in *Input) bear(o *ownLoads, i int32, m *model.Member, sh *frame.Shape, l *model.Load) {
	if !in.Frame.Stage.Stands(l.Phase) {
		return
	}
	kase := in.caseOf(l.Action, l.Case, "")
	if kase < 0 {
		o.remark(i, true, "a load of %s is left out: there is no load case for it", CaseID(l.Action, l.Case))
		return
	}
	if l.Movable {
		o.move(i, mover{kase, math.Abs(l.Point), true})
		o.stays(i, fmt.Sprintf("its load of %s that may stand anywhere", CaseID(l.Action, l.Case)))
		return
	}
	if l.IsPoint {
		at := l.At
		if at < 0 || at > sh.Length {
			if d := max(-at, at-sh.Length); d > 1 {
				o.remark(i, true, "a load of %s is left out: it stands %.0f mm beyond the end", l.Action, d)
				return
			}
			at = min(max(0, at), sh.Length)
		}
		o.items = append(o.items, own{kase: kase, load: plane.Force(at, 0, -l.Point)})
		return
	}
	from, to := max(0, l.From.Or(0)), min(l.To.Or(sh.Length), sh.Length)
	start, end := l.From.Or(0), l.To.Or(sh.Length)
	if end <= start {
		return
	}
	if d := max(-start, end-sh.Length); d > 1 {
		o.remark(i, true, "part of a load of %s is left out: it runs %.0f mm beyond the end", l.Action, d)
	}
	at := func(s float64) float64 { return l.First + (l.Last-l.First)*(s-start)/(end-start) }
	for k := 0; k+1 < len(sh.S); k++ {
		a, b := max(from, sh.S[k]), min(to, sh.S[k+1])
		if b <= a {
			continue
		}
		per := 1.0
		if l.PerPlan {
			per, _ = sh.SlopeAt((a + b) / 2)
		}
		o.line(kase, a, b, -at(a)*per, -at(b)*per)
	}
}

// caseOf is the case that a load belongs to: that of its kind of area where there is one, else the action's; -1 when
// there is none.
func (in *Input) caseOf(a model.Action, name, kind string) int32 {
	general := int32(-1)
	for i := range in.Cases {
		c := &in.Cases[i]
		if c.Action != a || c.Name != name {
			continue
		}
		if c.Kind == kind && kind != "" {
			return int32(i)
		}
		if c.Kind == "" {
			general = int32(i)
		}
	}
	return general
}
