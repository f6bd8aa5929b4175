package report

import (
	"cmp"
	"io"
	"net/url"
	"path"
	"path/filepath"
	"strings"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"

	"example.com/scantling/engine/finding"
)

// sarifPrinter prints SARIF 2.1.0, one run a model.
//
// Clauses are of SARIF 2.1.0 (OASIS, 2020). What is not met has the kind "fail" and a level; what could not be checked
// is "open": "there was insufficient information to decide whether a problem exists" (3.27.9), and not "review", which
// asks a person to judge what the tool has seen. A kind other than "fail" has the level "none" (3.27.10); the severity
// that it would have stands in its properties and its rule. Accepted findings keep their kind and carry a suppression.
// Against an earlier result every finding has a baseline state (3.27.24): new, updated where it got worse, or unchanged.
type sarifPrinter struct{ Options }

// fingerprint names how results are told apart from run to run: by the finding's id, which holds no line and no index.
const fingerprint = "scantlingFinding/v1"

// Print writes the log.
func (p sarifPrinter) Print(w io.Writer, run Run) error {
	log := sarifLog{Schema: "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
		Version: "2.1.0", Runs: []sarifRun{}}
	for _, r := range run.Results {
		log.Runs = append(log.Runs, p.run(r))
	}
	if len(run.Problems) > 0 || len(run.Results) == 0 {
		log.Runs = append(log.Runs, p.problems(run.Problems))
	}
	return WriteJSON(w, log)
}

// The library leaves out empty suppressions. SARIF wants them on all results of a run or on none (3.27.23), and an
// empty list says that nothing is suppressed; so the log is made of the library's parts with that one field kept.
type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		*sarif.Run
		Results []sarifResult `json:"results"`
	}
	sarifResult struct {
		*sarif.Result
		Suppressions []*sarif.Suppression `json:"suppressions"`
	}
)

func (p sarifPrinter) run(r *finding.Result) sarifRun {
	out := newRun(r.Version, r.Model.File)
	columns := p.columnsOf(r)
	out.WithColumnKind(columns.kind)
	invocation := sarif.NewInvocation().WithExecutionSuccessful(r.Summary.Complete)
	for _, reason := range r.Lacking() {
		notify(invocation, "error", reason)
	}
	for _, l := range r.Loosened {
		notify(invocation, "warning", "loosened: "+LoosenedWords(l))
	}
	for i := range r.Signoffs {
		notify(invocation, "warning", "sign-off of "+r.Signoffs[i].Rule+": "+SignoffWords(&r.Signoffs[i]))
	}
	for _, note := range r.Notes {
		notify(invocation, "note", note)
	}
	notify(invocation, "note", finding.Caution)
	out.Invocations = []*sarif.Invocation{invocation}
	head := headOf(r)
	properties := sarif.NewPropertyBag()
	properties.Add("model", head.Model).Add("region", head.Region).Add("packs", head.Packs).Add("loosened", head.Loosened).
		Add("summary", head.Summary).Add("balance", head.Balance).Add("caution", finding.Caution)
	if head.Since != nil {
		properties.Add("since", head.Since)
	}
	out.WithProperties(properties)

	rules := map[string]int{}
	for i := range r.Findings {
		f := &r.Findings[i]
		index, ok := rules[f.Rule]
		if !ok {
			index = len(rules)
			rules[f.Rule] = index
			out.Tool.Driver.Rules = append(out.Tool.Driver.Rules, ruleOf(f))
		}
		out.Results = append(out.Results, columns.result(f, index))
	}
	return out
}

// problems is a run that could not begin: what was wrong with its input.
func (p sarifPrinter) problems(problems []Problem) sarifRun {
	out := newRun("", "input")
	columns := columns{kind: codePoints}
	out.WithColumnKind(columns.kind)
	invocation := sarif.NewInvocation().WithExecutionSuccessful(len(problems) == 0)
	for _, problem := range problems {
		n := sarif.NewNotification().WithLevel("error").WithMessage(sarif.NewTextMessage(Clean(problemWords(problem))))
		if place := columns.location(problem.Place); place != nil {
			n.AddLocation(sarif.NewLocation().WithPhysicalLocation(place))
		}
		invocation.ToolConfigurationNotifications = append(invocation.ToolConfigurationNotifications, n)
	}
	notify(invocation, "note", finding.Caution)
	out.Invocations = []*sarif.Invocation{invocation}
	return out
}

func newRun(version, file string) sarifRun {
	run := sarifRun{Run: sarif.NewRun(), Results: []sarifResult{}}
	driver := sarif.NewToolComponent().WithName("scantling")
	if version != "" {
		driver.WithVersion(version)
	}
	run.WithTool(sarif.NewTool().WithDriver(driver))
	run.WithAutomationDetails(sarif.NewRunAutomationDetails().WithID("scantling/" + filepath.ToSlash(file) + "/"))
	return run
}

func notify(i *sarif.Invocation, level, text string) {
	i.ToolExecutionNotifications = append(i.ToolExecutionNotifications,
		sarif.NewNotification().WithLevel(level).WithMessage(sarif.NewTextMessage(Clean(text))))
}

func ruleOf(f *finding.Finding) *sarif.ReportingDescriptor {
	help := ""
	for _, part := range []struct{ label, text string }{{"Why", f.Why}, {"What to do", f.Action}, {"Source", f.Source}} {
		if part.text != "" {
			help += part.label + ": " + Clean(part.text) + "\n"
		}
	}
	title := Clean(cmp.Or(f.Title, f.Rule))
	rule := sarif.NewReportingDescriptor().WithID(f.Rule).
		WithShortDescription(sarif.NewMultiformatMessageString().WithText(title)).
		WithFullDescription(sarif.NewMultiformatMessageString().WithText(Clean(cmp.Or(f.Why, title)))).
		WithHelp(sarif.NewMultiformatMessageString().WithText(cmp.Or(help, title))).
		WithDefaultConfiguration(sarif.NewReportingConfiguration().WithLevel(level(f.Severity)))
	return rule.WithProperties(sarif.NewPropertyBag().Add("severity", string(f.Severity)).AddTag(f.Layer))
}

var baselineStates = map[finding.Standing]string{finding.New: "new", finding.Worse: "updated", finding.Before: "unchanged"}

func level(s finding.Severity) string {
	switch s {
	case finding.Stop:
		return "error"
	case finding.Ask:
		return "warning"
	}
	return "note"
}

// columns says in what the columns of a run are counted, and counts them.
type columns struct {
	kind string
	text map[string][]byte // by file
}

// The two that SARIF knows for run.columnKind.
const (
	codePoints = "unicodeCodePoints"
	utf16Units = "utf16CodeUnits"
)

// columnsOf counts in UTF-16 code units if the text of every file is at hand: most readers expect these.
func (p sarifPrinter) columnsOf(r *finding.Result) columns {
	if p.Text == nil {
		return columns{kind: codePoints}
	}
	texts := map[string][]byte{}
	add := func(place finding.Place) bool {
		if _, ok := texts[place.File]; !ok && place.Line > 0 {
			texts[place.File] = p.Text(place.File)
			return texts[place.File] != nil
		}
		return true
	}
	for i := range r.Findings {
		if !add(r.Findings[i].Place) {
			return columns{kind: codePoints}
		}
		for _, related := range r.Findings[i].Related {
			if !add(related.Place) {
				return columns{kind: codePoints}
			}
		}
	}
	return columns{utf16Units, texts}
}

func (c columns) result(f *finding.Finding, rule int) sarifResult {
	out := sarif.NewResult().WithRuleID(f.Rule).WithRuleIndex(rule)
	out.PartialFingerprints = map[string]string{fingerprint: f.ID}
	text := f.Message
	if f.Outcome == finding.Unchecked {
		out.WithKind("open").WithLevel("none")
		text = "Not checked, " + f.Reason + ": " + f.Message
	} else {
		out.WithKind("fail").WithLevel(level(f.Severity))
	}
	out.WithMessage(sarif.NewTextMessage(Clean(text)))
	if state, ok := baselineStates[f.Standing]; ok {
		out.WithBaselineState(state)
	}
	if f.Count > 1 {
		out.WithOccurrenceCount(f.Count)
	}
	location := sarif.NewLocation()
	if place := c.location(f.Place); place != nil {
		location.WithPhysicalLocation(place)
	}
	if f.Member != "" {
		location.LogicalLocations = append(location.LogicalLocations, logical(f.Member, f.Place.Pointer))
	}
	if location.PhysicalLocation != nil || len(location.LogicalLocations) > 0 {
		out.Locations = append(out.Locations, location)
	}
	for i, related := range f.Related {
		at := sarif.NewLocation().WithID(i).WithMessage(sarif.NewTextMessage(Clean(related.Message)))
		if place := c.location(related.Place); place != nil {
			at.WithPhysicalLocation(place)
		}
		if related.Mark != "" {
			at.LogicalLocations = append(at.LogicalLocations, logical(related.Mark, related.Place.Pointer))
		}
		out.RelatedLocations = append(out.RelatedLocations, at)
	}
	properties := sarif.NewPropertyBag()
	full := findingOf(f, false)
	properties.Add("severity", full.Severity).Add("piece", full.Piece).Add("case", full.Case).Add("found", full.Found).
		Add("required", full.Required).Add("ratio", full.Ratio).Add("drawing", full.Drawing)
	out.WithProperties(properties)
	return sarifResult{out, suppressions(f)}
}

func (c columns) location(p finding.Place) *sarif.PhysicalLocation {
	if p.File == "" {
		return nil
	}
	artifact := sarif.NewArtifactLocation().WithURI(uriOf(p.File))
	if !filepath.IsAbs(p.File) {
		artifact.WithURIBaseID("%SRCROOT%")
	}
	out := sarif.NewPhysicalLocation().WithArtifactLocation(artifact)
	if p.Line > 0 {
		region := sarif.NewRegion().WithStartLine(p.Line)
		if p.Column > 0 && c.kind == utf16Units {
			region.WithStartColumn(utf16Column(c.text[p.File], p.Line, p.Column))
		} else if p.Column > 0 {
			region.WithStartColumn(p.Column)
		}
		out.WithRegion(region)
	}
	return out
}

// logical names a member; its place within the document is a JSON pointer.
func logical(mark, pointer string) *sarif.LogicalLocation {
	out := sarif.NewLogicalLocation().WithName(mark).WithKind("object")
	if pointer != "" {
		out.WithFullyQualifiedName(pointer)
	}
	return out
}

// suppressions are what someone accepted; it stands outside the model, in the file of sign-offs.
func suppressions(f *finding.Finding) []*sarif.Suppression {
	if !Accepted(f) {
		return []*sarif.Suppression{}
	}
	return []*sarif.Suppression{sarif.NewSuppression().WithKind("external").WithStatus("accepted").
		WithJustification(Clean(SignoffWords(f.Signoff)))}
}

// uriOf escapes a path; a relative one stays relative, an absolute one is a file URI.
func uriOf(file string) string {
	slashed := filepath.ToSlash(file)
	if filepath.IsAbs(file) {
		return (&url.URL{Scheme: "file", Path: path.Join("/", slashed)}).String()
	}
	// A colon in the first segment would read as a scheme; URL.String guards it with "./".
	return strings.ReplaceAll((&url.URL{Path: path.Clean(slashed)}).String(), ";", "%3B")
}
