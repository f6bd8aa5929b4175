package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/engine/report/takedown"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// view is the page as the template needs it: texts that are ready to print.
type view struct {
	Page
	Policy     string
	Style      template.CSS
	Script     template.JS
	Caution    string
	Region     string
	Summary    string
	Counts     string
	Drawings   []draw.Drawing
	Legend     []draw.Legend
	Undrawn    int
	First      []first
	Groups     []items
	Loosened   []string
	Lapsed     []string
	Accepted   []string
	Sheaves    [][]group // the take-down
	Ground     []grounded
	Balance    []balanced
	Unresolved bool
	Units      units
	Working    []worked
	Quiet      bool // some of it is of members about which nothing is to be done
	Data       data
}

// first is one thing to do before anything else.
type first struct {
	State, Words  string
	Subject, What string
	Do            string
	ID            int
	Places        int
}

// More is the number of places behind the one that is named.
func (f first) More() int { return f.Places - 1 }

// items are findings under one heading.
type items struct {
	Title, Hint string
	Items       []item
}

// item is one finding, or several that could not be checked for the same reason.
type item struct {
	*finding.Finding
	ID                     int
	State, Words           string
	Subject, Place, Pieces string
	Figures                [][2]string // what was found, needed
	Members                []int
	For                    string // marks, where there are several
	SignedOff              string
	Steps                  []step
}

// step is a line of working. Of is the fact that it and those after it work out, where several are.
type step struct{ Of, Symbol, Value, Clause string }

// worked is the working of a member. Calls says that something is to be done about the member.
type worked struct {
	Member int
	Mark   string
	Calls  bool
	Steps  []step
}

// group is one row group of the take-down: pieces that are alike, of one member or of several.
type group struct {
	Members []int
	Marks   []string
	About   string
	Alike   string // which pieces of the one member
	Why     string // there are no reactions, or no deflection
	Cases   []caseRow
}

// sheaf is how many row groups make one table: a browser lays out only those tables that are looked at.
const sheaf = 100

// caseRow is a load case of a row group; acts says that it brings the pieces anything that is worth a figure.
type caseRow struct {
	Case, Own, Lands, Reactions, Moment, Shear, Deflection string
	acts                                                   bool
}

type grounded struct {
	Mark  string
	Cases [][3]string // case, from, total
}

type balanced struct{ Case, Applied, Ground, Unresolved string }

type units struct{ Force, Moment, Length string }

func viewOf(p Page) view {
	u := report.Units(p.Result.Model)
	v := view{
		Page: p, Policy: read().policy, Style: template.CSS(read().style), Script: template.JS(read().script), Caution: finding.Caution,
		Region: report.RegionWords(p.Result.Region), Summary: report.SummaryWords(p.Result.Summary),
		Drawings: []draw.Drawing{draw.Plan(p.Frame), draw.Axonometric(p.Frame)}, Legend: draw.LegendOf(p.Frame),
		Units: units{model.MeasureForce.Unit(u), model.MeasureMoment.Unit(u), model.MeasureLength.Unit(u)},
	}
	v.Counts = report.Counted(p.Result.Model.Members, "member") + ", " + report.Counted(p.Result.Model.Pieces, "piece")
	v.Undrawn = v.Drawings[0].Undrawn
	marks := map[string]int{}
	for i, m := range p.Frame.Members {
		marks[m.Mark] = i
	}
	v.findings(marks, u)
	for _, l := range p.Result.Loosened {
		v.Loosened = append(v.Loosened, report.LoosenedWords(l))
	}
	for i := range p.Result.Signoffs {
		v.Lapsed = append(v.Lapsed, signed(&p.Result.Signoffs[i]))
	}
	for i := range p.Signoffs {
		v.Accepted = append(v.Accepted, signed(&p.Signoffs[i]))
	}
	v.takedown(marks, takedown.Figures{Units: u})
	for i, m := range p.Frame.Members {
		if len(m.Working) > 0 {
			calls := m.State == draw.Stop || m.State == draw.Ask || m.State == draw.Unchecked
			v.Working = append(v.Working, worked{i, m.Mark, calls, stepsOf(m.Working, u)})
			v.Quiet = v.Quiet || !calls
		}
	}
	v.Data = dataOf(p.Frame, v.Drawings, v.Groups, v.Working)
	return v
}

func signed(s *finding.Signoff) string {
	return s.Rule + " of " + s.Mark + ". " + report.SignoffWords(s)
}

// findings sets out the findings by what a reader does with them.
func (v *view) findings(marks map[string]int, u model.Units) {
	sorted := report.Group(v.Result.Findings)
	id := 0
	add := func(title, hint string, state draw.State, sets [][]*finding.Finding) {
		if len(sets) == 0 {
			return
		}
		g := items{Title: title, Hint: hint}
		for _, set := range sets {
			g.Items = append(g.Items, itemOf(id, state, set, marks, u))
			id++
		}
		v.Groups = append(v.Groups, g)
	}
	add("Stop", "Do not build, load or cover until this is put right.", draw.Stop, single(sorted.Stop))
	add("Ask", "Put these to the engineer.", draw.Ask, single(sorted.Ask))
	add("Not checked", "Unknown is no pass. Supply what is missing, then check again.", draw.Unchecked, report.Alike(sorted.Unchecked))
	add("Note", "Good to know.", draw.Noted, single(sorted.Note))
	add("Accepted", "Someone has accepted these and signed for it.", draw.Accepted, single(sorted.Accepted))
	v.First = firstOf(v.Groups)
}

// firstOf is what to do before anything else: what stops the work, what could not be checked and would stop it, and what
// to ask, each action once.
func firstOf(groups []items) []first {
	type key struct{ state, rule, action string }
	at := map[key]int{}
	var out []first
	for _, g := range groups {
		for _, i := range g.Items {
			if i.State == draw.Accepted.Class() || i.Severity != finding.Stop && i.State != draw.Ask.Class() {
				continue
			}
			do := cmp.Or(i.Action, i.Message)
			k := key{i.State, i.Rule, do}
			n, ok := at[k]
			if !ok {
				n = len(out)
				at[k] = n
				out = append(out, first{State: i.State, Words: i.Words, Subject: i.Subject, What: cmp.Or(i.Title, i.Rule), Do: do, ID: i.ID})
			}
			out[n].Places++
		}
	}
	order := []string{draw.Stop.Class(), draw.Unchecked.Class(), draw.Ask.Class()}
	slices.SortStableFunc(out, func(a, b first) int { return slices.Index(order, a.State) - slices.Index(order, b.State) })
	return out
}

func single(findings []*finding.Finding) [][]*finding.Finding {
	var out [][]*finding.Finding
	for _, f := range findings {
		out = append(out, []*finding.Finding{f})
	}
	return out
}

func itemOf(id int, state draw.State, set []*finding.Finding, marks map[string]int, u model.Units) item {
	f := set[0]
	i := item{
		Finding: f, ID: id, State: state.Class(), Words: state.Words(), Subject: f.Where(),
		Place: report.PlaceWords(f.Place), Pieces: report.PiecesWords(f), Steps: stepsOf(f.Working, u),
	}
	if state == draw.Unchecked {
		i.Words += ", would be " + string(f.Severity)
	}
	i.Figures = report.FigureLines(f, u)
	if f.Signoff != nil {
		i.SignedOff = report.SignoffWords(f.Signoff)
	}
	var names []string
	for _, one := range set {
		names = append(names, one.Where())
		if member, ok := marks[one.Member]; ok {
			i.Members = append(i.Members, member)
		}
	}
	if len(set) > 1 {
		i.Subject = fmt.Sprintf("%d places", len(set))
		i.For = strings.Join(names, ", ")
	}
	return i
}

func stepsOf(steps []finding.Step, u model.Units) []step {
	var out []step
	several := slices.ContainsFunc(steps, func(s finding.Step) bool { return s.Fact != steps[0].Fact })
	for i, s := range steps {
		of := ""
		if several && (i == 0 || s.Fact != steps[i-1].Fact) {
			of = s.Fact
		}
		out = append(out, step{of, s.Symbol, report.StepWords(s, u), s.Clause})
	}
	return out
}

// takedown sets out the take-down, a row a load case, so that it fits an upright page however many cases there are.
// Members that are alike in all that is printed stand together.
func (v *view) takedown(marks map[string]int, figures takedown.Figures) {
	l := v.Takedown
	arrivals := takedown.Arrivals(l)
	at := map[string]int{}
	var groups []group
	for _, m := range l.Members {
		for _, alike := range takedown.Group(m) {
			g := groupOf(l.Cases, m, alike, arrivals[alike.Piece], figures)
			key := fmt.Sprintf("%q %q %d %v", g.About, g.Why, len(alike.Names), g.Cases)
			i, ok := at[key]
			if !ok || len(m.Pieces) != len(alike.Names) {
				i = len(groups)
				at[key] = i
				groups = append(groups, g)
			}
			groups[i].Marks = append(groups[i].Marks, m.Mark)
			if member, ok := marks[m.Mark]; ok {
				groups[i].Members = append(groups[i].Members, member)
			}
		}
	}
	for set := range slices.Chunk(groups, sheaf) {
		v.Sheaves = append(v.Sheaves, set)
	}
	for _, g := range l.Ground {
		row := grounded{Mark: g.Mark}
		landings := takedown.Landings(g)
		for c, name := range l.Cases {
			pushed := pushes(c, figures, push{g.X, " along x"}, push{g.Y, " along y"})
			if c > 0 && figures.Force(g.Total[c]) == figures.Force(0) && pushed == "" {
				continue
			}
			var from []string
			for _, a := range landings {
				from = append(from, a.Mark+" "+figures.Force(a.Vertical[c]))
			}
			if pushed != "" {
				from = append(from, "pushed "+pushed)
			}
			row.Cases = append(row.Cases, [3]string{report.CaseWords(name), strings.Join(from, "; "), figures.Force(g.Total[c])})
		}
		v.Ground = append(v.Ground, row)
	}
	for _, b := range v.Result.Balance {
		v.Balance = append(v.Balance, balanced{report.CaseWords(b.Case), figures.Force(b.Applied), figures.Force(b.Ground), figures.Force(b.Unresolved)})
		v.Unresolved = v.Unresolved || b.Unresolved != 0
	}
}

func groupOf(cases []string, m statics.ListedMember, alike takedown.Alike, arrivals []takedown.Arrival, figures takedown.Figures) group {
	g := group{About: strings.TrimSpace(m.Role + " " + m.Section + " " + m.Grade)}
	if len(m.Pieces) > 1 {
		g.Alike = alike.Title()
	}
	for _, why := range []string{alike.Unsolved, alike.NoStiff} {
		if why != "" {
			g.Why = strings.TrimPrefix(g.Why+"; "+why, "; ")
		}
	}
	idle := caseRow{}
	for c, name := range cases {
		if row := rowOf(c, report.CaseWords(name), alike.ListedPiece, arrivals, figures); row.acts {
			g.Cases = append(g.Cases, row)
		} else if c == 0 {
			idle = row
		}
	}
	if len(g.Cases) == 0 {
		g.Cases = []caseRow{idle}
	}
	return g
}

// Names are the marks of a row group: one, or the number and all of them in short.
func (g group) Names() string {
	if len(g.Marks) == 1 {
		return g.Marks[0]
	}
	return fmt.Sprintf("%d members alike: %s", len(g.Marks), report.Runs(g.Marks))
}

func rowOf(c int, name string, p statics.ListedPiece, arrivals []takedown.Arrival, figures takedown.Figures) caseRow {
	row := caseRow{Case: name, Moment: extremes(p.Moment, c, figures.Moment), Shear: extremes(p.Shear, c, figures.Force),
		Deflection: extremes(p.Deflection, c, figures.Deflection)}
	if c < len(p.Applied) {
		row.Own = figures.Force(p.Applied[c])
	}
	lands := 0.0
	for _, a := range arrivals {
		lands += a.Vertical[c]
	}
	row.Lands = figures.Force(lands)
	none := figures.Force(0)
	row.acts = row.Lands != none || row.Own != none && row.Own != ""
	var reactions []string
	for _, s := range p.Supports {
		row.acts = row.acts || figures.Force(s.Vertical[c]) != none
		text := s.On + " " + figures.Force(s.Vertical[c])
		if pushed := pushes(c, figures, push{s.Horizontal, ""}, push{s.Across, " across"}); pushed != "" {
			row.acts = true
			text += " (pushes " + pushed + ")"
		}
		reactions = append(reactions, text)
	}
	if pushed := pushes(c, figures, push{p.HeadPush, ""}); pushed != "" {
		row.acts = true
		reactions = append(reactions, "what holds its head (pushes "+pushed+")")
	}
	row.Reactions = strings.Join(reactions, "; ")
	return row
}

// push is a level force per case, and which way it acts.
type push struct {
	force []float64
	way   string
}

// pushes are the level forces of a case that are any.
func pushes(c int, figures takedown.Figures, list ...push) string {
	var out []string
	for _, p := range list {
		if c < len(p.force) && p.force[c] != 0 && figures.Force(p.force[c]) != figures.Force(0) {
			out = append(out, figures.Force(p.force[c])+p.way)
		}
	}
	return strings.Join(out, ", ")
}

// extremes are the largest and the smallest value, the one that is nothing left out.
func extremes(list []statics.Range, c int, print func(float64) string) string {
	if c >= len(list) {
		return ""
	}
	most, least, none := print(list[c].Max), print(list[c].Min), print(0)
	switch {
	case least == none:
		return most
	case most == none:
		return least
	}
	return most + ", " + least
}
