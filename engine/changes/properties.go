package changes

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// grading ranks the properties of one member as built against those as drawn.
type grading struct {
	keys, was, now []string
	lower, higher  []string
	unranked       string
}

// differs notes a key with its value as drawn and as built.
func (g *grading) differs(key, was, now string) {
	g.keys = append(g.keys, key)
	g.was = append(g.was, cmp.Or(was, "not stated"))
	g.now = append(g.now, cmp.Or(now, "not stated"))
}

// rank notes a property by how much more of it there is as built.
func (g *grading) rank(name string, more float64) {
	switch {
	case more < 0:
		g.lower = appendOnce(g.lower, name)
	case more > 0:
		g.higher = appendOnce(g.higher, name)
	}
}

// change is what the grading comes to.
func (g *grading) change() asbuilt.Change {
	return asbuilt.Change{What: asbuilt.Properties, Key: strings.Join(g.keys, ", "), Was: strings.Join(g.was, ", "), Now: strings.Join(g.now, ", "), Differs: g.words(),
		Lower: g.lower, Higher: g.higher, Unranked: g.unranked}
}

// words says of each key what it was and is.
func (g *grading) words() string {
	parts := make([]string, len(g.keys))
	for i, key := range g.keys {
		name, was, is := asbuilt.KeyWords(key), "was", "is"
		if strings.HasSuffix(name, "s") && !strings.HasSuffix(name, "ss") {
			was, is = "were", "are"
		}
		if g.was[i] == asDrawn {
			parts[i] = fmt.Sprintf("%s %s %s than drawn", name, is, g.now[i])
			continue
		}
		parts[i] = fmt.Sprintf("%s %s %s and %s %s", name, was, g.was[i], is, g.now[i])
	}
	return strings.Join(parts, "; ")
}

// asDrawn stands for a value that is told by what it is not any more.
const asDrawn = "as drawn"

// either notes a property of which nobody can say whether it is better: it counts as lower and as higher, so that it is
// asked about.
func (g *grading) either(name string) {
	g.rank(name, -1)
	g.rank(name, 1)
}

func appendOnce(list []string, name string) []string {
	if slices.Contains(list, name) {
		return list
	}
	return append(list, name)
}

// properties compares the member's size, grade, centres and state in one row, with whatever else of it differs.
func (p *pairing) properties(grade gradeHeld) {
	g := &grading{}
	var swap asbuilt.Change
	sized := p.size(g)
	p.grade(g, &swap, grade)
	p.centres(g)
	p.state(g)
	if p.level {
		g.differs("level", asDrawn, "higher or lower")
		g.either("level")
	}
	for _, k := range p.keys {
		was, now := valuesOf(p.df, p.bf, k, unitOf("members", k, p.drawn.Source.Document.Units))
		g.differs(k, was, now)
		g.either(strings.ReplaceAll(k, "_", " "))
	}
	if len(g.keys) == 0 {
		return
	}
	ch := g.change()
	ch.Swapped, ch.SwapUnknown = swap.Swapped, swap.SwapUnknown
	if ch.Swapped && !sized { // a swap is said by what it was and is, whole
		ch.Was, ch.Now = p.d.Section.Words()+" "+ch.Was, p.b.Section.Words()+" "+ch.Now
	}
	p.ratios(&ch, grade)
	paths := make([]string, 0, len(g.keys)+1)
	for _, k := range g.keys {
		paths = append(paths, "/"+k)
	}
	p.add(ch, append(paths, "")...)
}

// size ranks the section; it is true where that differs.
func (p *pairing) size(g *grading) bool {
	p.account("section", "flat", "finish")
	d, b := p.d.Section, p.b.Section
	if d == nil && b == nil || d != nil && b != nil && sameSection(d, b) {
		return false
	}
	g.differs("section", d.Words(), b.Words())
	switch {
	case d == nil || b == nil:
		g.unranked = "the section is not stated " + sideWithout(d == nil)
		return true
	case d.Shape == model.Layered || b.Shape == model.Layered:
		g.either("section")
		return true
	case d.Shape != b.Shape:
		g.rank("area", change(d.Area, b.Area))
		g.rank("section modulus", change(d.Wy, b.Wy))
	}
	g.rank("width", change(d.Width, b.Width))
	g.rank("depth", change(d.Depth, b.Depth))
	g.rank("plies", change(float64(max(1, d.Plies)), float64(max(1, b.Plies))))
	g.rank("wall", change(d.Wall, b.Wall))
	g.rank("web", change(d.Web, b.Web))
	g.rank("flange", change(d.Flange, b.Flange))
	if d.Finish != b.Finish {
		p.finish(g)
	}
	if len(g.lower)+len(g.higher) == 0 {
		g.either("section")
	}
	return true
}

// sideWithout is which of the two documents leaves something out.
func sideWithout(drawn bool) string {
	if drawn {
		return "as drawn"
	}
	return "as built"
}

// finish ranks a hollow section that is formed otherwise by its figures, where nothing else of it differs.
func (p *pairing) finish(g *grading) {
	d, b := p.d.Section, p.b.Section
	g.differs("finish", d.Finish, b.Finish)
	if len(g.lower)+len(g.higher) > 0 {
		g.either("finish")
		return
	}
	for _, figure := range [][2]float64{{d.Area, b.Area}, {d.Iy, b.Iy}, {d.Wy, b.Wy}} {
		g.rank("finish", change(figure[0], figure[1]))
	}
}

func sameSection(a, b *model.Section) bool {
	x, y := *a, *b
	x.Text, y.Text, x.Nominal, y.Nominal, x.Layers, y.Layers = "", "", "", "", nil, nil
	x.Plies, y.Plies = max(1, x.Plies), max(1, y.Plies)
	for _, q := range [][2]*float64{{&x.Width, &y.Width}, {&x.Depth, &y.Depth}, {&x.Area, &y.Area}, {&x.Iy, &y.Iy}, {&x.Iz, &y.Iz},
		{&x.Wy, &y.Wy}, {&x.Wz, &y.Wz}, {&x.Wply, &y.Wply}, {&x.Wplz, &y.Wplz}, {&x.It, &y.It}, {&x.Iw, &y.Iw}, {&x.Mass, &y.Mass},
		{&x.Wall, &y.Wall}, {&x.Web, &y.Web}, {&x.Flange, &y.Flange}, {&x.Root, &y.Root}} {
		if change(*q[0], *q[1]) != 0 {
			return false
		}
		*q[1] = *q[0]
	}
	return slices.Equal(a.Layers, b.Layers) && fmt.Sprint(x) == fmt.Sprint(y)
}

// change is by how much the second is more than the first, 0 within rounding.
func change(d, b float64) float64 {
	if math.Abs(b-d) <= 1e-6*max(math.Abs(d), math.Abs(b)) {
		return 0
	}
	return b - d
}

// grade ranks the grade: what the region knows of both, and whether it is another material, species or product at all.
func (p *pairing) grade(g *grading, ch *asbuilt.Change, held gradeHeld) {
	if !p.has("grade", "material") && !slices.Contains(g.keys, "section") {
		return
	}
	differs := p.has("grade", "material")
	p.account("grade", "material")
	if differs {
		g.differs("grade", cmp.Or(p.d.Grade, p.d.Material), cmp.Or(p.b.Grade, p.b.Material))
	}
	kinds := [2]string{materialOf(p.drawn, p.di), materialOf(p.built, p.bi)}
	switch {
	case kinds[0] == "" || kinds[1] == "":
		if differs {
			ch.SwapUnknown = "neither a grade nor a section shows what it is made of"
			g.unranked = ch.SwapUnknown
		}
		return
	case kinds[0] != kinds[1]:
		ch.Swapped = true
		return
	case !differs:
		return
	case p.d.Grade == "" || p.b.Grade == "":
		g.unranked = "the grade is not stated " + sideWithout(p.d.Grade == "")
		return
	case family(p.d.Grade) != family(p.b.Grade):
		ch.Swapped = true
		return
	case held.why != "":
		g.unranked = held.why
		return
	}
	dm, bm := p.drawn.Down.Materials[p.di], p.built.Down.Materials[p.bi]
	if dm.E == 0 || bm.E == 0 || dm.Density == 0 || bm.Density == 0 {
		g.unranked = "the stiffness or density of one of the grades is not known"
		return
	}
	g.rank("grade", change(dm.E, bm.E))
	g.rank("grade", change(dm.Density, bm.Density))
	for _, r := range held.ratios {
		g.rank("grade", change(1, r))
	}
	if len(g.lower)+len(g.higher) == 0 {
		g.either("grade")
	}
}

// materialOf is what a member is made of, in the words of its facts; empty where it is not known.
func materialOf(r side, member int) string {
	from, to := r.Down.Frame.PiecesOf(int32(member))
	if from == to {
		return ""
	}
	kind, why := r.Filled.Text(r.Filled.Book.Fact(vocabulary.Member, "material"), from)
	if why != 0 {
		return ""
	}
	return kind
}

// family is the letters that a grade's name begins with: grades of one species or product share them, as C16 and C24 do,
// GL24h and GL28h, S275 and S355, DFL #1 and DFL #2.
func family(grade string) string {
	if i := strings.IndexFunc(grade, func(r rune) bool { return !unicode.IsLetter(r) && r != '-' }); i >= 0 {
		return grade[:i]
	}
	return grade
}

// centres ranks the spacing of a run and the number of its pieces.
func (p *pairing) centres(g *grading) {
	d, b := p.d.Centres, p.b.Centres
	if p.has("centres") {
		p.account("centres")
		g.differs("centres", p.length(d), p.length(b))
		switch {
		case !d.Known || !b.Known:
			g.either("centres")
		default:
			g.rank("centres", change(b.Value, d.Value))
			p.strips(b.Value / d.Value)
		}
	}
	if !p.has("repeat") {
		return
	}
	p.account("repeat")
	dn, bn := p.d.Pieces(), p.b.Pieces()
	if dn != bn && !slices.Contains(g.keys, "centres") {
		g.differs("repeat", fmt.Sprintf("%d pieces", dn), fmt.Sprintf("%d pieces", bn))
	}
	spacing := func(m *model.Member) float64 {
		return math.Hypot(math.Hypot(m.Repeat.Step.X, m.Repeat.Step.Y), m.Repeat.Step.Z)
	}
	run := func(m *model.Member) float64 { return spacing(m) * float64(m.Pieces()-1) }
	switch covered := run(p.b) - run(p.d); {
	case dn != bn && change(spacing(p.d), spacing(p.b)) == 0:
		g.rank("pieces", float64(bn-dn))
	case math.Abs(covered) > spacing(p.b)/2:
		g.differs("repeat", "a run of "+p.length(model.Given(run(p.d))), "a run of "+p.length(model.Given(run(p.b))))
		g.rank("length of the run", covered)
	case !slices.Contains(g.keys, "centres"):
		g.differs("repeat", "spaced as drawn", "spaced otherwise")
		g.rank("spacing", change(spacing(p.b), spacing(p.d)))
	}
}

// strips accounts for the strips that the member carries where they are narrower or wider in the measure of its centres.
func (p *pairing) strips(part float64) {
	if len(p.d.Carries) != len(p.b.Carries) {
		return
	}
	for i := range p.d.Carries {
		d, b := p.d.Carries[i], p.b.Carries[i]
		if d.Area != b.Area || math.Abs(b.Width.Or(p.b.Centres.Value)-part*d.Width.Or(p.d.Centres.Value)) > sameSpot {
			return
		}
	}
	p.account("carries")
}

// state ranks condition, service class and what protects the member.
func (p *pairing) state(g *grading) {
	if p.has("condition") {
		g.differs("condition", p.d.Condition, p.b.Condition)
		switch {
		case p.b.Condition == "unverified":
			g.rank("condition", -1)
		case p.d.Condition == "unverified" && p.b.Condition == "":
			g.rank("condition", 1)
		default:
			g.either("condition")
		}
	}
	if p.has("service_class") {
		d, b := p.serviceClasses()
		g.differs("service_class", class(d), class(b))
		if d == 0 || b == 0 {
			g.either("service class")
		} else {
			g.rank("service class", float64(d-b))
		}
	}
	d, b := p.d.More(), p.b.More()
	for _, t := range []struct{ key, name, d, b string }{
		{"treated", "treatment", d.Treated, b.Treated},
		{"fire_protection", "fire protection", d.Fire, b.Fire},
		{"corrosion_protection", "corrosion protection", d.Corrosion, b.Corrosion},
	} {
		if !p.has(t.key) {
			continue
		}
		was, is := cmp.Or(t.d, "none"), cmp.Or(t.b, "none")
		g.differs(t.key, was, is)
		switch {
		case strings.EqualFold(is, "none"):
			g.rank(t.name, -1)
		case strings.EqualFold(was, "none"):
			g.rank(t.name, 1)
		default:
			g.either(t.name)
		}
	}
	p.account("condition", "service_class", "treated", "fire_protection", "corrosion_protection")
}

// serviceClasses is where the member stands as drawn and as built: its own service class, or else the site's; 0 where neither is
// stated.
func (p *pairing) serviceClasses() (drawn, built int) {
	return cmp.Or(p.d.Service, p.drawn.Source.Document.Site.ServiceClass), cmp.Or(p.b.Service, p.built.Source.Document.Site.ServiceClass)
}

func class(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// ratios works out strength and stiffness as built over those as drawn: of a metre's width where both say their centres,
// else of the member.
func (p *pairing) ratios(ch *asbuilt.Change, held gradeHeld) {
	d, b := p.d.Section, p.b.Section
	drawn, built := p.serviceClasses()
	switch {
	case ch.Swapped || ch.SwapUnknown != "":
		ch.Strength = asbuilt.Unknown("the figures of one material say nothing of another")
		ch.Stiffness = ch.Strength
		return
	case d == nil || b == nil:
		ch.Strength = asbuilt.Unknown("no section is stated")
		ch.Stiffness = ch.Strength
		return
	case p.b.Condition == "unverified" || p.d.Condition == "unverified":
		ch.Strength = asbuilt.Unknown("nobody has vouched for the old timber")
		ch.Stiffness = ch.Strength
		return
	case drawn != built:
		ch.Strength = asbuilt.Unknown("what damp takes off it is for the region's rules to say")
		ch.Stiffness = ch.Strength
		return
	}
	closer := 1.0
	if p.d.Centres.Value > 0 && p.b.Centres.Value > 0 {
		closer = p.d.Centres.Value / p.b.Centres.Value
	}
	ch.Strength, ch.Stiffness = asbuilt.Unknown("the section modulus is not known"), asbuilt.Unknown("the stiffness is not known")
	dm, bm := p.drawn.Down.Materials[p.di], p.built.Down.Materials[p.bi]
	stiffer := 1.0
	if p.d.Grade != p.b.Grade {
		stiffer = bm.E / dm.E
	}
	if v := b.Iy / d.Iy * stiffer * closer; v > 0 && !math.IsInf(v, 0) {
		ch.Stiffness = asbuilt.Known(v)
	}
	v := b.Wy / d.Wy * closer
	switch {
	case !(v > 0) || math.IsInf(v, 0):
	case p.d.Grade == p.b.Grade:
		ch.Strength = asbuilt.Known(v)
	case held.bending.Known:
		ch.Strength = asbuilt.Known(v * held.bending.Value)
	default:
		ch.Strength = held.bending
	}
}
