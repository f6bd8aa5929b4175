package engine

import (
	"cmp"
	"context"
	"math"
	"slices"

	"example.com/scantling/engine/facts"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

type material = statics.Material

// Options say what a run is to do.
type Options struct {
	Region  string // code that beats the document's own
	Default string // code of a document that names none
	Working bool   // keep the region's working
	Matrix  bool   // keep the outcome of every rule on every row
	Last    bool   // the region is asked nothing after this run: it may end while what it said is judged
	Signed  []finding.Signoff
	Today   string // ISO date that sign-offs are held against
}

// code is the code of the region that a document is judged by, or empty.
func (o *Options) code(src *Source) string {
	return cmp.Or(o.Region, src.Document.Site.Region, o.Default)
}

// Run is everything that came of one document.
type Run struct {
	Source       *Source
	Code         string
	Down         *statics.TakeDown
	Before       *statics.TakeDown // nil where nothing stood before the work
	Filled       *facts.Filled
	Lists        *facts.Lists
	Description  *region.Description // nil without a region
	Site         *region.Site
	Preparation  *region.Preparation // nil without a region
	Combinations []region.Combination
	Set          *pack.Set
	Judgement    *pack.Judgement
	Working      map[int32][]region.Step // by class
	Result       *finding.Result
	Client       *host.Client // nil without a region

	incomplete []string
	notes      []string
}

// Check takes a document through to its findings. The error is of the packs: nothing could be judged.
func (s *Session) Check(ctx context.Context, src *Source, o Options) (*Run, error) {
	r, err := s.derived(ctx, src, o)
	if err != nil {
		return nil, err
	}
	if o.Last {
		s.release(r.Code)
	}
	r.Judgement = r.Set.Judge(r.Filled.Facts, pack.Options{Matrix: o.Matrix})
	r.Result = r.result(o)
	return r, nil
}

// derived takes a document as far as its facts, while its rules are compiled. Rules that cannot be used make a region one
// that failed: then all is done again without it.
func (s *Session) derived(ctx context.Context, src *Source, o Options) (*Run, error) {
	v := s.opening(ctx, o.code(src))
	if v.rules.book == nil {
		if err := v.opened(); err != nil {
			return nil, err
		}
	}
	described := v.description
	r := s.filled(ctx, v, src, o)
	if err := v.opened(); err != nil {
		return nil, err
	}
	if v.description != described {
		r = s.filled(ctx, v, src, o)
	}
	r.Set = v.rules.set
	if v.rules.dropped != "" {
		r.incomplete = append(r.incomplete, v.rules.dropped)
	}
	return r, nil
}

func (s *Session) filled(ctx context.Context, v *served, src *Source, o Options) *Run {
	r := s.takenDown(ctx, src, o)
	r.fill(v.rules.book, len(s.house) > 0)
	r.derive(ctx, o.Working)
	return r
}

// TakeDown takes a document's loads to the ground, with the cases and combinations of its region.
func (s *Session) TakeDown(ctx context.Context, src *Source, o Options) *Run {
	r := s.takenDown(ctx, src, o)
	if o.Last {
		s.release(r.Code)
	}
	return r
}

func (s *Session) takenDown(ctx context.Context, src *Source, o Options) *Run {
	r := &Run{Source: src, Code: o.code(src), Lists: facts.NewLists(src.Document)}
	s.start(ctx, r.Code) // and meanwhile
	fr := frame.Assemble(src.Document, frame.After)
	r.prepare(ctx, s.describe(ctx, r.Code), fr)
	r.Down = statics.Run(r.input(fr))
	if hasBefore(src.Document) {
		r.Before = statics.Run(r.input(frame.Assemble(src.Document, frame.Before)))
	}
	return r
}

// prepare asks the region about the site. Without one, or where it fails, cases are those that the document names and
// combinations are plain sums.
func (r *Run) prepare(ctx context.Context, v *served, fr *frame.Frame) {
	r.Site = r.site(fr)
	switch {
	case v.client == nil:
		if r.Code == "" {
			r.notes = append(r.notes, "The document names no region: only the neutral packs judge it.")
		}
	case v.failure != nil:
		r.fail(v.failure)
	default:
		r.Description, r.Client = v.description, v.client
		p, err := v.client.Prepare(ctx, r.Site)
		if err != nil {
			r.fail(err)
			break
		}
		r.Preparation = p
	}
}

// Incomplete is why the run is incomplete, one line each.
func (r *Run) Incomplete() []string { return r.incomplete }

// CaseIDs is the names of the run's load cases.
func (r *Run) CaseIDs() []string {
	out := make([]string, len(r.Down.Cases))
	for c := range r.Down.Cases {
		out[c] = r.Down.Cases[c].ID
	}
	return out
}

// Remarks are what every output of a take-down says of the run as a whole.
func (r *Run) Remarks() []string {
	var out []string
	if r.Source.Document.Weightless {
		out = append(out, weightless)
	}
	for _, why := range r.incomplete {
		out = append(out, "Incomplete: "+why)
	}
	return out
}

const weightless = "The document leaves self-weight out: every load here is without it."

// fail records that a region let the run down.
func (r *Run) fail(err error) {
	r.incomplete = append(r.incomplete, err.Error())
}

// input is what statics works from.
func (r *Run) input(fr *frame.Frame) *statics.Input {
	doc := r.Source.Document
	in := &statics.Input{Frame: fr}
	if p := r.Preparation; p != nil {
		in.Cases, in.Implied = p.Cases, p.Areas
		in.Materials, in.Grades = materials(doc, r.Lists.Grades, p.Grades, "")
		r.Combinations = p.Combinations
		return in
	}
	in.Cases = statics.DefaultCases(doc)
	in.Materials, in.Grades = materials(doc, r.Lists.Grades, nil, "without a region nothing is known of its grade")
	r.Combinations = statics.DefaultCombinations(in.Cases)
	return in
}

// Otherwise takes the loads of an altered document down, with the cases and materials of the run. Its members must be the
// run's own, in the same order.
func (r *Run) Otherwise(doc *model.Document) *statics.TakeDown {
	return statics.Run(r.input(frame.Assemble(doc, frame.After)))
}

// site is what the region is asked about.
func (r *Run) site(fr *frame.Frame) *region.Site {
	doc := r.Source.Document
	s := &region.Site{
		Code: r.Code, GroundSnow: doc.Site.GroundSnow, Altitude: doc.Site.Altitude, SnowZone: doc.Site.SnowZone,
		ServiceClass: doc.Site.ServiceClass, MasonryClass: doc.Site.MasonryClass, Weightless: doc.Weightless, Grades: r.Lists.Grades,
	}
	for _, sec := range r.Lists.Sections {
		s.Sections = append(s.Sections, *sec)
	}
	for i := range doc.Areas {
		s.Areas = append(s.Areas, region.Area{Area: doc.Areas[i], Slope: areaSlope(fr, &doc.Areas[i])})
	}
	seen := map[model.Role]bool{}
	for i := range doc.Members {
		s.Movable = s.Movable || doc.Members[i].More().MovableLoad.Value != 0
		if role := doc.Members[i].Role; !seen[role] {
			seen[role] = true
			s.Roles = append(s.Roles, string(role))
		}
	}
	return s
}

// areaSlope is an area's stated pitch, or the slope of the first member that carries it and slopes, radians.
func areaSlope(fr *frame.Frame, a *model.Area) float64 {
	if a.Pitch.Known {
		return a.Pitch.Value
	}
	for i := range fr.Document.Members {
		for _, c := range fr.Document.Members[i].Carries {
			if c.Area == a.ID && fr.Shapes[i].Known && fr.Shapes[i].Slope > 0 && !fr.Shapes[i].Upright {
				return fr.Shapes[i].Slope
			}
		}
	}
	return 0
}

// Listing is the take-down as people read it, with what has become more on what stood before the work.
func (r *Run) Listing() *statics.Listing {
	l := r.Down.List()
	l.Increases = r.Down.Increases(r.Before)
	if b := r.Before; b != nil && slices.ContainsFunc(b.Unresolved, func(f statics.Force) bool { return math.Abs(f.Z) > 1e-3 }) {
		l.Notes = append(l.Notes, "Before the work some load stopped at members that could not be solved: what has become more is taken for more than it is.")
	}
	return l
}

// hasBefore says whether something stood before the work that the work changes.
func hasBefore(doc *model.Document) bool {
	for i := range doc.Members {
		if doc.Members[i].Phase != model.New {
			return true
		}
		for _, l := range doc.Members[i].Loads {
			if l.Phase != model.New {
				return true
			}
		}
	}
	return false
}

// fill takes the facts. A region that brings no rules serves only with those of a house.
func (r *Run) fill(book *vocabulary.Book, house bool) {
	src := &facts.Source{Book: book, Down: r.Down, Before: r.Before, Combinations: r.Combinations, Served: r.Preparation != nil && (house || len(r.Description.Packs) > 0)}
	if r.Preparation != nil {
		src.Assumptions = len(r.Preparation.Assumptions)
	}
	r.Filled = facts.Fill(src)
}

// derive has the region judge strength.
func (r *Run) derive(ctx context.Context, working bool) {
	if r.Description == nil {
		return
	}
	if r.Preparation == nil {
		r.Filled.LeaveRegion(r.Description.Facts, "the region failed: "+r.incomplete[len(r.incomplete)-1])
		return
	}
	r.Filled.FillRegion(r.Description.Facts)
	r.Working = map[int32][]region.Step{}
	err := r.Client.Derive(ctx, r.Site, r.Preparation, r.Filled.Batches(r.Lists, nil, working), func(b *region.Batch, out *region.Derived) error {
		r.Filled.Take(r.Description.Facts, out)
		for _, step := range out.Working {
			class := out.ID[step.Piece]
			r.Working[class] = append(r.Working[class], step)
		}
		return nil
	})
	if err != nil {
		r.fail(err)
		r.Filled.LeaveRegion(r.Description.Facts, "the region failed: "+err.Error())
		r.Working = nil
	}
}

// Model says which document the run is about.
func (r *Run) Model() finding.Model {
	doc := r.Source.Document
	m := finding.Model{Title: doc.Title, File: r.Source.File, SHA256: r.Source.Digest(), Units: "metric",
		Members: len(doc.Members), Pieces: len(r.Down.Frame.Pieces)}
	if doc.Units == model.US {
		m.Units = "us"
	}
	return m
}

// result puts the findings and what they rest on together.
func (r *Run) result(o Options) *finding.Result {
	doc := r.Source.Document
	out := &finding.Result{Version: Version, Model: r.Model(), Notes: r.notes, Incomplete: r.incomplete}
	if r.Description != nil {
		out.Region = finding.Region{ID: r.Description.ID, Code: r.Code, Edition: r.Description.Edition}
	}
	for _, p := range r.Set.Packs {
		if p.ID == "changes" {
			continue
		}
		out.Packs = append(out.Packs, finding.Pack{ID: p.ID, Edition: p.Edition, Title: p.Title, SHA256: p.SHA256, Rules: r.rulesOf(p)})
	}
	for _, l := range r.Set.Loosened {
		out.Loosened = append(out.Loosened, finding.Loosened{Pack: l.Pack, Rule: l.Rule + l.Param, What: l.What, From: l.From, To: l.To,
			Reason: l.Reason, Place: finding.Place{File: l.Place.File, Line: l.Place.Line, Column: l.Place.Column, Offset: -1}})
	}
	for c := range r.Down.Cases {
		out.Balance = append(out.Balance, finding.Balance{Case: r.Down.Cases[c].ID, Applied: -r.Down.Applied[c].Z,
			Ground: -r.Down.Arrived[c].Z, Unresolved: -r.Down.Unresolved[c].Z})
	}
	if doc.Weightless {
		out.Notes = append(out.Notes, weightless)
	}
	out.Notes = append(out.Notes, r.Down.Lost()...)
	out.Findings = append(r.verdicts(), r.regionFindings()...)
	r.summarise(out)
	finding.Sort(out.Findings)
	out.Signoffs = finding.Apply(out.Findings, o.Signed, o.Today)
	finding.Count(out)
	return out
}

func (r *Run) rulesOf(p *pack.Pack) int {
	n := 0
	for _, rule := range r.Set.Rules {
		if rule.Pack == p {
			n++
		}
	}
	return n
}

// summarise counts what was met and what did not apply, and takes in rules that ended in an error.
func (r *Run) summarise(out *finding.Result) {
	for i := range r.Judgement.Counts {
		out.Summary.Met += r.Judgement.Counts[i][pack.Met]
		out.Summary.NotApplicable += r.Judgement.Counts[i][pack.NotApplicable]
	}
	for _, f := range r.Judgement.Failures {
		out.Incomplete = append(out.Incomplete, f.Error())
	}
	if !r.Judgement.Applied() {
		out.Incomplete = append(out.Incomplete, "no rule applied to anything: nothing has been checked")
	}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
