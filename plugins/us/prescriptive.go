package us

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/us/irc"
	"example.com/scantling/plugins/us/nds"
)

// evenLoads are the combinations from which the even load of a member is read back: permanent load alone, and with each
// way in which one action may act at its full value. -1: there is none.
type evenLoads struct {
	dead             int
	live, roof, snow []int
}

func findEvenLoads(p *region.Preparation) evenLoads {
	e := evenLoads{dead: -1}
	for k, c := range p.Combinations {
		var acting []model.Action
		whole := true
		for i, factor := range c.Factors {
			if factor == 0 {
				continue
			}
			whole = whole && factor == 1
			if !p.Cases[i].Permanent && !slices.Contains(acting, p.Cases[i].Action) {
				acting = append(acting, p.Cases[i].Action)
			}
		}
		switch {
		case !whole || len(acting) > 1:
		case len(acting) == 0:
			e.dead = k
		case acting[0] == model.Imposed:
			e.live = append(e.live, k)
		case acting[0] == model.RoofImposed:
			e.roof = append(e.roof, k)
		case acting[0] == model.Snow:
			e.snow = append(e.snow, k)
		}
	}
	return e
}

// prescriptive works out the longest span by the method of the code's tables, where the piece is one that they are for.
func (p *piece) prescriptive() {
	facts := []int{spanRatio, spanAllowed, liveLoad, snowLoad, deadLoad}
	span, request, reason := p.spanRequest()
	var allowed irc.Span
	if reason == "" {
		var err error
		if allowed, err = irc.Allowable(request); err != nil {
			reason = err.Error()
		}
	}
	if reason != "" {
		for _, fact := range facts {
			p.put(fact, outcome{reason: reason})
		}
		return
	}
	for _, found := range []struct {
		fact  int
		value float64
		steps []nds.Step
	}{
		{spanRatio, span / allowed.Length, nil}, {spanAllowed, allowed.Length, allowed.Steps},
		{liveLoad, request.Live, nil}, {snowLoad, request.Snow, nil}, {deadLoad, request.Dead, nil},
	} {
		o := nothing()
		o.value, o.steps = found.value, found.steps
		p.put(found.fact, o)
	}
}

// mostOverhang is how far the tail of a rafter may hang over for its span to count as simple, mm in plan (R802.7.1.1 speaks
// of the same 24 in; memory).
const mostOverhang = 24 * nds.Inch

// spanRequest is what the method of the span tables is asked, with the span in plan, mm, or the reason why the tables do
// not serve the piece.
func (p *piece) spanRequest() (span float64, r irc.Request, reason string) {
	all, i := &p.Pieces, p.index
	main, tails, reason := p.simple()
	switch {
	case p.role != model.RoleFloorJoist && p.role != model.RoleCeilingJoist && p.role != model.RoleRafter:
		return 0, r, "the code has span tables for floor joists, ceiling joists and rafters only"
	case reason != "":
		return 0, r, reason
	case p.member.Service.Wet:
		return 0, r, "the span tables are for lumber that stays dry"
	case p.member.Service.Incised:
		return 0, r, "the span tables are not for incised lumber"
	case all.Centres[i] <= 0:
		return 0, r, "the centres are not stated"
	case !p.member.Service.Repetitive:
		return 0, r, "the span tables are for at least three equal members at even centres of at most 24 in"
	case all.NotchStart[i+1] > all.NotchStart[i]:
		return 0, r, "the span tables are for members without notches in the span"
	case p.even.dead < 0:
		return 0, r, "no combination shows the permanent load alone"
	case p.role != model.RoleRafter && tails != [2]float64{}:
		return 0, r, "the span tables of joists are for simple spans; cantilevers are not covered"
	case max(tails[0], tails[1]) > mostOverhang*(1+slack):
		return 0, r, "the span tables are for rafters whose tail hangs over by at most 24 in"
	}
	even, reason := p.evenLoad(main, tails)
	if reason != "" {
		return 0, r, reason
	}
	r = irc.Request{
		Section: p.member.Section, Grade: p.member.Grade, Spacing: all.Centres[i], Limit: p.limit(),
		Live: even.live / all.Centres[i], Snow: even.snow / all.Centres[i], Dead: even.dead / all.Centres[i],
	}
	if reason = p.use(&r, even); reason != "" {
		return 0, r, reason
	}
	return even.span, r, inScope(r)
}

// simple is the row of the piece's one span between supports, with the lengths in plan that hang over before and behind it.
func (p *piece) simple() (main int, tails [2]float64, reason string) {
	if p.column || p.Pieces.Cranked[p.index] {
		return 0, tails, "the span tables are for straight joists and rafters"
	}
	main = -1
	cos := math.Cos(p.Pieces.Slope[p.index])
	for r := p.spans.first; r < p.spans.last; r++ {
		switch {
		case !p.Spans.Overhang[r] && main >= 0:
			return 0, tails, "the span tables are for simple spans; this member runs over more than two supports"
		case !p.Spans.Overhang[r]:
			main = r
		case main < 0:
			tails[0] = (p.Spans.To[r] - p.Spans.From[r]) * cos
		default:
			tails[1] = (p.Spans.To[r] - p.Spans.From[r]) * cos
		}
	}
	if main < 0 || p.stations.first == p.stations.last {
		return 0, tails, noForces
	}
	for r := p.contacts.first; r < p.contacts.last; r++ {
		if p.Contacts.Landing[r] {
			return 0, tails, "the span tables are for even loads; another member lands on this one"
		}
	}
	return main, tails, ""
}

// none is a load that is none, N/mm.
const none = 1e-6

// even is the even load of a span per length in plan, N/mm, and the span in plan, mm.
type even struct{ span, dead, live, roof, snow float64 }

// evenLoad reads the even load back from the forces: shear falls by the load along the span, and the largest moment must
// be the one that an even load gives, or it is not even.
func (p *piece) evenLoad(main int, tails [2]float64) (even, string) {
	cos := math.Cos(p.Pieces.Slope[p.index])
	e := even{span: (p.Spans.To[main] - p.Spans.From[main]) * cos}
	if !(e.span > 0) {
		return e, "its span has no length in plan"
	}
	fall, ok := p.shearFall(main, p.even.dead)
	if !ok {
		return e, noForces
	}
	e.dead = fall / (cos * e.span)
	// A tail makes the shear beyond its support larger where its own variable load counts against the span.
	whole := cos * (e.span + (tails[0]*tails[0]+tails[1]*tails[1])/(2*e.span))
	for _, a := range []struct {
		combinations []int
		into         *float64
	}{{p.even.live, &e.live}, {p.even.roof, &e.roof}, {p.even.snow, &e.snow}} {
		for _, k := range a.combinations {
			with, _ := p.shearFall(main, k)
			load := (with - fall) / whole
			if load < none {
				load = 0
			}
			*a.into = math.Max(*a.into, load)
			if !p.isEven(main, k, e.dead, load, e.span, tails) {
				return e, "the span tables are for even loads; its load is not"
			}
		}
	}
	if !p.isEven(main, p.even.dead, e.dead, 0, e.span, tails) {
		return e, "the span tables are for even loads; its dead load is not"
	}
	return e, ""
}

// shearFall is by how much the shear falls over the span in a combination, each end at its worst, N.
func (p *piece) shearFall(main, combination int) (float64, bool) {
	first, last := math.Inf(-1), math.Inf(1)
	for r := p.stations.first; r < p.stations.last; r++ {
		if p.spans.first+int(p.Stations.Span[r]) != main {
			continue
		}
		v := p.Stations.V[p.at(r, combination)]
		if math.Abs(p.Stations.At[r]-p.Spans.From[main]) < near {
			first = math.Max(first, v)
		}
		if math.Abs(p.Stations.At[r]-p.Spans.To[main]) < near {
			last = math.Min(last, v)
		}
	}
	fall := first - last
	return fall, !math.IsInf(fall, 0)
}

// isEven tells whether the largest moment of the span is that of an even permanent load on span and tails with an even
// variable load on the span, N/mm in plan; within a hundredth, since the stations need not stand exactly at the largest.
func (p *piece) isEven(main, combination int, dead, variable, span float64, tails [2]float64) bool {
	most, scale := 0.0, 0.0
	for r := p.stations.first; r < p.stations.last; r++ {
		if p.spans.first+int(p.Stations.Span[r]) == main {
			most = math.Max(most, p.Stations.M[p.at(r, combination)])
			scale = math.Max(scale, math.Abs(p.Stations.M[p.at(r, combination)]))
		}
	}
	w := dead + variable
	if w <= 0 {
		return scale <= tiny*span
	}
	left, right := dead*tails[0]*tails[0]/2, dead*tails[1]*tails[1]/2
	start := w*span/2 + (left-right)/span
	want := start*start/(2*w) - left
	return math.Abs(most-want) <= 0.01*want
}

// use sets the use that the method knows, or says why the piece's loads are those of none.
func (p *piece) use(r *irc.Request, e even) string {
	joist := p.role != model.RoleRafter
	switch {
	case !joist && e.live > 0:
		return "the span tables of rafters are for roof live load and snow; this one carries other live load too"
	case joist && (e.roof > 0 || e.snow > 0):
		return "the span tables of joists are for live load; this one carries a roof's load too"
	case !joist && r.Limit > 180:
		r.Use, r.Live = irc.RafterAttached, e.roof/r.Spacing
	case !joist:
		r.Use, r.Live = irc.RafterOpen, e.roof/r.Spacing
	case p.role == model.RoleFloorJoist:
		r.Use = irc.FloorOther
	case r.Live <= 10*irc.PSF*(1+slack):
		r.Use = irc.CeilingEmpty
	default:
		r.Use = irc.CeilingStorage
	}
	return ""
}

// spanTables are the code's tables and tableGrades the grades in them, gathered once.
var (
	spanTables  = sync.OnceValue(irc.Cases)
	tableGrades = sync.OnceValue(func() map[string]bool {
		listed := map[string]bool{}
		for _, name := range irc.TableGrades() {
			if g, err := nds.Lookup(nds.Supplement2018, name); err == nil {
				listed[g.String()] = true
			}
		}
		return listed
	})
)

// inScope says why a span is outside what the code's tables cover: their loads, sections and grades. The spacing and the
// rest the method sees to itself.
func inScope(r irc.Request) string {
	if !tableGrades()[r.Grade.String()] {
		return fmt.Sprintf("the span tables do not list %s", r.Grade)
	}
	family := map[irc.Use]bool{r.Use: true}
	if r.Use == irc.FloorOther {
		family[irc.FloorSleeping] = true
	}
	sections, live, snow, dead := false, 0.0, 0.0, 0.0
	for _, c := range spanTables() {
		if !family[c.Use] {
			continue
		}
		sections = sections || slices.Contains(c.Sections, r.Section.String())
		live, snow, dead = math.Max(live, c.Live), math.Max(snow, c.Snow), math.Max(dead, c.Dead[len(c.Dead)-1])
	}
	over := func(v, most float64) bool { return v > most*(1+slack) }
	switch {
	case !sections:
		return fmt.Sprintf("the span tables for a %s do not list %s", r.Use, r.Section)
	case over(r.Live, live) || over(r.Snow, snow) || over(r.Dead, dead):
		return fmt.Sprintf("the span tables for a %s end at live load %.0f psf, ground snow %.0f psf and dead load %.0f psf", r.Use, live/irc.PSF, snow/irc.PSF, dead/irc.PSF)
	}
	return ""
}
