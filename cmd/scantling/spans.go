package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// spanRequest is what spans asks for: the product of sections, grades and centres.
type spanRequest struct {
	use                       string
	sections, grades, centres []string
	loads                     []string
	limit                     float64
	edition, units            string
	service                   int
	brittle                   bool
}

// spanRow is one row of a span table.
type spanRow struct {
	section, grade string
	centres        float64
	span           *region.Span
}

func (a *app) spansCommand() *cobra.Command {
	var r spanRequest
	cmd := &cobra.Command{
		Use:   "spans",
		Short: "Print a span table from the region's own calculation",
		Long: "Spans asks the region for the longest span of a simple member, for every section with every grade at every spacing.\n" +
			"Bare numbers are mm and kN/m2; write a unit for others: --centres '16 in' --load imposed='40 psf'.\n\n" +
			"Exit status: 0 a span at least is given; 2 the call cannot be used; 3 none is, or the region failed.",
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return a.spans(cmd, r) },
	}
	f := cmd.Flags()
	f.StringVar(&r.use, "use", "", "floor joist, ceiling joist, rafter ...")
	f.StringSliceVar(&r.sections, "section", nil, "sections, with commas between")
	f.StringSliceVar(&r.grades, "grade", nil, "grades, with commas between")
	f.StringSliceVar(&r.centres, "centres", nil, "spacings, with commas between")
	f.StringArrayVar(&r.loads, "load", nil, "a load per area as action=value: dead, imposed, roof_imposed, snow; may be given more than once")
	f.Float64Var(&r.limit, "deflection", 0, "span over deflection under the variable load, such as 360")
	f.StringVar(&r.edition, "edition", "", "edition of the design values, where they differ")
	f.StringVar(&r.units, "units", "", "metric or us; a US region prints feet and inches without it")
	f.IntVar(&r.service, "service-class", 0, "1, 2 or 3")
	f.BoolVar(&r.brittle, "plaster", false, "a finish that cracks hangs beneath")
	f.StringVar(&a.flags.Format, "format", "", "text, json or csv")
	return cmd
}

func (a *app) spans(cmd *cobra.Command, r spanRequest) error {
	format := a.format("text")
	if !slices.Contains([]string{"text", "json", "csv"}, format) {
		return &report.UnknownFormat{Name: format, Known: []string{"csv", "json", "text"}}
	}
	if a.settings.Region == "" {
		return fmt.Errorf("spans needs --region: the calculation is a region's own")
	}
	units := model.Metric
	if r.units == "us" || r.units == "" && strings.HasPrefix(a.settings.Region, "US") {
		units = model.US
	}
	session, err := a.session()
	if err != nil {
		return err
	}
	defer session.Close()
	client, err := session.Region(cmd.Context(), a.settings.Region) // first: what a section is called depends on it
	if err != nil {
		return unusable{err}
	}
	requests, err := r.requests(a.settings.Region, units)
	if err != nil {
		return err
	}
	rows := make([]spanRow, len(requests))
	for i, q := range requests {
		span, err := client.Span(cmd.Context(), q)
		if err != nil {
			a.status = statusIncomplete
			span = &region.Span{Reason: err.Error()}
		}
		rows[i] = spanRow{q.Section.Text, q.Grade.Name, q.Centres, span}
	}
	if !slices.ContainsFunc(rows, func(r spanRow) bool { return r.span.Span > 0 }) {
		a.status = statusIncomplete // nothing of what was asked is answered
	}
	return a.print(func(w *bytes.Buffer) error {
		switch format {
		case "json":
			return spansJSON(w, r.use, rows, units)
		case "csv":
			return spansCSV(w, r.use, rows)
		}
		return spansText(w, r.use, rows, units)
	})
}

// requests is the product of what was asked for; all that is wrong with it is one error.
func (r *spanRequest) requests(code string, units model.Units) ([]*region.SpanRequest, error) {
	var wrong []string
	bad := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	if r.use == "" {
		bad("--use is not given: name a use, such as 'floor joist'")
	}
	for flag, list := range map[string][]string{"--section": r.sections, "--grade": r.grades, "--centres": r.centres, "--load": r.loads} {
		if len(list) == 0 {
			bad("%s is not given", flag)
		}
	}
	var sections []*model.Section
	for _, text := range r.sections {
		s, err := model.ParseSection(strings.TrimSpace(text), units)
		if err != nil {
			bad("--section: %v", err)
			continue
		}
		sections = append(sections, s)
	}
	var centres []float64
	for _, text := range r.centres {
		v, err := quantity(text, model.MeasureLength, units)
		if err != nil {
			bad("--centres: %v", err)
			continue
		}
		centres = append(centres, v)
	}
	var loads []region.SpanLoad
	for _, text := range r.loads {
		name, value, _ := strings.Cut(text, "=")
		v, err := quantity(value, model.MeasureAreaLoad, units)
		switch {
		case !slices.Contains(model.Actions, model.Action(name)):
			bad("--load: %q is no action; write dead, imposed, roof_imposed, snow or wind, as in dead=0.5", name)
		case err != nil:
			bad("--load %s: %v", name, err)
		}
		loads = append(loads, region.SpanLoad{Action: model.Action(name), Value: v})
	}
	if len(wrong) > 0 {
		return nil, sortedError(wrong)
	}
	var out []*region.SpanRequest
	for _, s := range sections {
		for _, g := range r.grades {
			for _, c := range centres {
				out = append(out, &region.SpanRequest{Code: code, Use: r.use, Section: *s,
					Grade: region.GradeName{Name: strings.TrimSpace(g), Steel: s.SteelByDefault}, Centres: c, Loads: loads,
					Limit: r.limit, Edition: r.edition, Service: r.service, Brittle: r.brittle})
			}
		}
	}
	return out, nil
}

// quantity reads a number in the units of the call, or a text with its own unit.
func quantity(text string, m model.Measure, units model.Units) (float64, error) {
	text = strings.TrimSpace(text)
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		return v * m.Size(units), nil
	}
	return model.ParseQuantity(text, m.Dimension)
}

func spansText(w *bytes.Buffer, use string, rows []spanRow, units model.Units) error {
	fmt.Fprintf(w, "Longest spans: %s\n\n%-12s %-10s %-12s %-14s %s\n", use, "section", "grade", "centres", "span", "governs")
	for _, r := range rows {
		span, governs := model.Format(r.span.Span, model.Length, units), r.span.Governs
		if r.span.Span == 0 {
			span, governs = "none", "see below"
		}
		fmt.Fprintf(w, "%-12s %-10s %-12s %-14s %s\n", r.section, r.grade, model.Format(r.centres, model.Length, units), span, governs)
	}
	for _, note := range spanNotes(rows, units) {
		fmt.Fprintln(w)
		for _, line := range report.Wrap(note, 80) {
			fmt.Fprintln(w, line)
		}
	}
	fmt.Fprintln(w)
	for _, line := range report.Wrap(finding.Caution, 80) {
		fmt.Fprintln(w, line)
	}
	return nil
}

// spanNotes is the notes of all rows, and why some have no span, each once. One that is not of every span says of which.
func spanNotes(rows []spanRow, units model.Units) []string {
	var out []string
	of := map[string][]string{}
	spans := 0
	for _, r := range rows {
		notes := r.span.Notes
		if r.span.Span == 0 {
			notes = []string{"none: " + r.span.Reason}
		} else {
			spans++
		}
		for _, n := range notes {
			if of[n] == nil {
				out = append(out, n)
			}
			of[n] = append(of[n], fmt.Sprintf("%s %s at %s", r.section, r.grade, model.Format(r.centres, model.Length, units)))
		}
	}
	for i, n := range out {
		if len(of[n]) != spans || strings.HasPrefix(n, "none: ") {
			out[i] = strings.Join(of[n], ", ") + ": " + n
		}
	}
	return out
}

func spansJSON(w *bytes.Buffer, use string, rows []spanRow, units model.Units) error {
	type figure struct {
		Value float64 `json:"value"`
		Unit  string  `json:"unit"`
	}
	type row struct {
		Use     string   `json:"use"`
		Section string   `json:"section"`
		Grade   string   `json:"grade"`
		Centres figure   `json:"centres"`
		Span    *figure  `json:"span"`
		Printed string   `json:"printed,omitempty"`
		Governs string   `json:"governs,omitempty"`
		Reason  string   `json:"reason,omitempty"`
		Notes   []string `json:"notes,omitempty"`
	}
	out := struct {
		Rows    []row  `json:"rows"`
		Caution string `json:"caution"`
	}{Rows: []row{}, Caution: finding.Caution}
	for _, r := range rows {
		line := row{Use: use, Section: r.section, Grade: r.grade, Centres: figure{r.centres, "mm"}, Governs: r.span.Governs, Reason: r.span.Reason, Notes: r.span.Notes}
		if r.span.Span > 0 {
			line.Span = &figure{r.span.Span, "mm"}
			line.Printed = model.Format(r.span.Span, model.Length, units)
		}
		out.Rows = append(out.Rows, line)
	}
	return report.WriteJSON(w, out)
}

func spansCSV(w *bytes.Buffer, use string, rows []spanRow) error {
	c := csv.NewWriter(w)
	_ = c.Write([]string{"use", "section", "grade", "centres [mm]", "span [mm]", "governs", "why none"})
	for _, r := range rows {
		span := ""
		if r.span.Span > 0 {
			span = fmt.Sprintf("%.1f", r.span.Span)
		}
		_ = c.Write([]string{use, r.section, r.grade, fmt.Sprintf("%.6g", r.centres), span, r.span.Governs, r.span.Reason})
	}
	_ = c.Write([]string{"# " + finding.Caution})
	c.Flush()
	return c.Error()
}
