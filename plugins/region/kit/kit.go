// Package kit is the conformance kit of the region contract: named checks that any author, in any language, can run
// against a region. It knows the contract and no region; that a region's figures are right it cannot tell.
//
// In Go, in the author's own tests:
//
//	report := kit.Run(ctx, host.Options{File: path, SHA256: digest})
//
// and from a terminal, whatever prints Report.Lines.
package kit

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
)

// Report is what the kit found.
type Report struct {
	Region  string
	Results []Result
}

// Result is one check: met when Problem and Skipped are empty.
type Result struct {
	Check   string // what conforms, in words
	Problem string
	Skipped string // why there was nothing to check
}

// Conforms says whether the region met every check that applied to it, and whether there was any.
func (r Report) Conforms() bool {
	met := 0
	for _, result := range r.Results {
		if result.Problem != "" {
			return false
		}
		if result.Skipped == "" {
			met++
		}
	}
	return met > 0
}

// Lines is the report as text, one line for each check and one that sums up.
func (r Report) Lines() []string {
	var lines []string
	met, failed, skipped := 0, 0, 0
	for _, result := range r.Results {
		switch {
		case result.Problem != "":
			failed++
			lines = append(lines, fmt.Sprintf("no    %s: %s", result.Check, strings.ReplaceAll(result.Problem, "\n", "; ")))
		case result.Skipped != "":
			skipped++
			lines = append(lines, fmt.Sprintf("-     %s: %s", result.Check, result.Skipped))
		default:
			met++
			lines = append(lines, "yes   "+result.Check)
		}
	}
	verdict := "conforms"
	if !r.Conforms() {
		verdict = "does not conform"
	}
	return append(lines, fmt.Sprintf("%s %s: %d checks met, %d not met, %d with nothing to check", r.Region, verdict, met, failed, skipped))
}

// Run runs every check against a region in its own process. It never hangs: each call has the options' deadlines.
func Run(ctx context.Context, o host.Options) Report {
	return RunWith(ctx, func() *host.Client { return host.Start(ctx, o) })
}

// RunWith runs every check against clients that open makes, two of them one after the other: for regions in process.
func RunWith(ctx context.Context, open func() *host.Client) Report {
	s := &subject{open: open, client: open()}
	defer func() { s.client.Close() }()
	var report Report
	for _, c := range checks {
		result := Result{Check: c.name}
		if s.description == nil && !c.first {
			result.Skipped = "the region does not describe itself"
		} else if s.preparation == nil && !c.first && !c.early {
			result.Skipped = "the region does not prepare a site"
		} else if err := c.run(ctx, s); errors.As(err, new(nothing)) {
			result.Skipped = err.Error()
		} else if err != nil {
			result.Problem = err.Error()
		}
		report.Results = append(report.Results, result)
		s.revive(ctx)
	}
	if s.description != nil {
		report.Region = s.description.ID
	} else {
		report.Region = "the region"
	}
	return report
}

// check is one entry of the kit.
type check struct {
	name  string
	first bool // runs before the region has described itself
	early bool // runs before the region has prepared a site
	run   func(context.Context, *subject) error
}

// nothing is the error of a check that had nothing to check.
type nothing string

func (n nothing) Error() string { return string(n) }

// subject is the region under test, with what the checks have learned of it.
type subject struct {
	open        func() *host.Client
	client      *host.Client
	description *region.Description
	site        *region.Site
	preparation *region.Preparation
	known       []pair // sections with grades that the region knows
	unknown     int32  // a grade that no region knows
}

// pair is a section and a grade by their indices in the site.
type pair struct{ section, grade int32 }

// revive opens a new client when a check has cost the region its life, so that the others can still be run.
func (s *subject) revive(ctx context.Context) {
	if s.description == nil {
		return
	}
	request := &region.SpanRequest{Code: s.description.Codes[0], Use: "is anybody there"}
	_, err := s.client.Span(ctx, request)
	var f *host.Failure
	if errors.As(err, &f) && (f.Cause == host.Died || f.Cause == host.Slow) {
		s.client.Close()
		s.client = s.open()
	}
}

// unknownGrade is a name that nobody gives to a grade.
const unknownGrade = "no such grade"

// stock makes the site that the checks ask about: what the region says is commonly held.
func (s *subject) stock() error {
	d := s.description
	units := model.Metric
	if strings.HasPrefix(d.Codes[0], "US") {
		units = model.US
	}
	site := &region.Site{Code: d.Codes[0], ServiceClass: 1, Roles: []string{string(model.RoleFloorJoist)},
		GroundSnow: model.Given(0.5e-3), Altitude: model.Given(50000), // 0.5 kN/m2, 50 m
		Areas: []region.Area{{Area: model.Area{ID: "floor", Kind: "floor", Loads: []model.AreaLoad{{Action: model.Dead, Value: 0.5e-3}}}}}}
	grades := map[string]int32{}
	for _, stock := range d.Stock {
		section, err := model.ParseSection(stock.Section, units)
		if err != nil {
			return fmt.Errorf("the stock's section %q cannot be read: %w", stock.Section, err)
		}
		site.Sections = append(site.Sections, *section)
		for _, name := range stock.Grades {
			if _, seen := grades[name]; !seen {
				grades[name] = int32(len(site.Grades))
				site.Grades = append(site.Grades, region.GradeName{Name: name, Steel: section.SteelByDefault})
			}
			s.known = append(s.known, pair{int32(len(site.Sections) - 1), grades[name]})
		}
	}
	if len(s.known) == 0 {
		return errors.New("it names no section with a grade as stock; without one nothing can be tried")
	}
	s.unknown = int32(len(site.Grades))
	site.Grades = append(site.Grades, region.GradeName{Name: unknownGrade})
	s.site = site
	return nil
}

// beams is n beams of what the region knows, of different spans, each loaded so.
func (s *subject) beams(n int, load float64) []Beam {
	beams := make([]Beam, n)
	for i := range beams {
		p := s.known[i%len(s.known)]
		beams[i] = Beam{Section: p.section, Grade: p.grade, Span: 1500 + 100*float64(i%29), Load: load, Multiplicity: 1}
	}
	return beams
}

// derive asks about batches and keeps the answers in the order of the batches.
func (s *subject) derive(ctx context.Context, batches ...*region.Batch) ([]*region.Derived, error) {
	answers := make([]*region.Derived, len(batches))
	err := s.client.Derive(ctx, s.site, s.preparation, func(yield func(*region.Batch) bool) {
		for _, b := range batches {
			if !yield(b) {
				return
			}
		}
	}, func(b *region.Batch, d *region.Derived) error {
		answers[b.Sequence] = d
		return nil
	})
	return answers, err
}

// judge asks about beams in one batch.
func (s *subject) judge(ctx context.Context, beams []Beam, ids []int32) (*region.Derived, error) {
	answers, err := s.derive(ctx, Batch(s.site, s.preparation, beams, ids))
	if err != nil {
		return nil, err
	}
	return answers[0], nil
}
