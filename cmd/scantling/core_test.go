package main

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/plugins/region/wire"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

// subject is a region that the core is tested with: one that ships or one that is made up, and a model of its own.
type subject struct {
	id     string // of the region and of its pack
	create func() region.Region
	model  string // file
}

// Region has the region in this process, whatever code is asked for.
func (s subject) Region(context.Context, string) *host.Client {
	return host.InProcess(s.id, s.create(), host.Deadlines{})
}

// subjects are every region that ships, and ZZ-TEST.
func subjects(t *testing.T) []subject {
	demos := map[string]string{"eurocode": demo("quillmere.json"), "us": demo("larkrun-porch.json")}
	made := filepath.Join(t.TempDir(), "zz.json")
	require.NoError(t, os.WriteFile(made, []byte(zzDemo), 0o600))
	all := []subject{{"zz", func() region.Region { return zz{} }, made}}
	for _, s := range shipped {
		require.Contains(t, demos, s.name, "a region that ships has a model to be tested with")
		all = append(all, subject{s.name, s.serve, demos[s.name]})
	}
	return all
}

// TestCoreKnowsNoRegion holds everything that the core does with a region against every region there is. A made-up one
// passes what the real ones pass.
func TestCoreKnowsNoRegion(t *testing.T) {
	for _, s := range subjects(t) {
		t.Run(s.id, func(t *testing.T) {
			t.Run("it conforms to the contract", s.conforms)
			t.Run("equal calls give equal bytes", s.repeats)
			t.Run("what is alike is told once and arrives whole", s.tellsOnce)
			t.Run("what is applied arrives at the ground", s.balances)
			t.Run("every structural member has a strength outcome", s.judgesAll)
			t.Run("a house pack says millimetres and inches", s.takesHousePacks)
			t.Run("a finding is signed off", s.signsOff)
			t.Run("facts give the working", s.showsWorking)
			t.Run("without a region the neutral packs judge alone", s.judgesWithout)
			t.Run("an unknown grade is never met", s.doubtsUnknownGrades)
		})
	}
}

// conforms runs the kit, where it can against a process of the region's own: what keeps nonsense from a region is there.
func (s subject) conforms(t *testing.T) {
	found := kit.RunWith(context.Background(), func() *host.Client {
		if s.id == "zz" { // which no executable serves
			return s.Region(context.Background(), "")
		}
		return host.Start(context.Background(), host.Options{Shipped: s.id})
	})
	assert.True(t, found.Conforms(), strings.Join(found.Lines(), "\n"))
	for _, r := range found.Results {
		if r.Skipped != "it names none, so that any may" {
			assert.Empty(t, r.Skipped, r.Check)
		}
	}
}

// repeats runs the same call twice in this process, and where it can once in another.
func (s subject) repeats(t *testing.T) {
	for _, args := range [][]string{{"check", "--working", "--format", "json", s.model}, {"check", s.model}} {
		first, _, status := commandWith(t, s, args...)
		second, _, again := commandWith(t, s, args...)
		require.Equal(t, status, again)
		require.Equal(t, first, second)
		if s.id != "zz" { // which no executable serves
			remote, _, _ := commandWith(t, nil, args...)
			require.Equal(t, first, remote, "from a process of its own")
		}
	}
}

// tellsOnce holds every force that a region would be told against what is left of it after it has crossed.
func (s subject) tellsOnce(t *testing.T) {
	run := s.run(t, s.document(t))
	told, crossed := 0, 0
	for b := range run.Filled.Batches(run.Lists, nil, false) {
		b.Site, b.Preparation = run.Site, run.Preparation
		require.NoError(t, b.Check())
		m := wire.PackBatch(b)
		arrived, err := wire.UnpackBatch(m, run.Site, run.Preparation)
		require.NoError(t, err)
		assert.Equal(t, b.Contacts, arrived.Contacts)
		assert.Equal(t, b.Stations, arrived.Stations)
		assert.Equal(t, b.Spans, arrived.Spans)
		told, crossed = told+len(b.Stations.M), crossed+len(m.GetStations().GetM())
	}
	assert.NotZero(t, crossed)
	assert.LessOrEqual(t, crossed, told)
	t.Logf("%d of %d moments crossed", crossed, told)
}

// balances holds every load case.
func (s subject) balances(t *testing.T) {
	out, _, status := commandWith(t, s, "takedown", "--format", "json", s.model)
	require.Equal(t, statusClean, status)
	var told struct {
		Imbalance  float64
		Applied    map[string]float64
		Ground     map[string]map[string]float64
		Unresolved map[string]float64
	}
	require.NoError(t, json.Unmarshal([]byte(out), &told))
	require.NotEmpty(t, told.Applied)
	assert.Less(t, told.Imbalance, 1e-9)
	for load, applied := range told.Applied {
		ground := told.Unresolved[load]
		for _, here := range told.Ground {
			ground += here[load]
		}
		assert.InDelta(t, applied, ground, 1e-6*math.Max(1, math.Abs(applied)), load)
	}
}

// judgesAll asks of every structural member that a rule of the region on strength is met or not met, or that what a maker
// states of it is held against its load, or that it is unchecked for a reason; and prints how many there are of each.
func (s subject) judgesAll(t *testing.T) {
	run := s.run(t, s.document(t))
	tally := map[string][]string{}
	for mark, o := range s.outcomes(t, run) {
		switch {
		case o.notMet > 0:
			tally["not met"] = append(tally["not met"], mark)
		case len(o.unchecked) > 0:
			tally["unchecked"] = append(tally["unchecked"], fmt.Sprintf("%s (%s)", mark, strings.Join(o.unchecked, "; ")))
			assert.NotContains(t, o.unchecked, "", mark)
		case o.met > 0 && !acts(run, mark):
			tally["met, with nothing that bends or presses it"] = append(tally["met, with nothing that bends or presses it"], mark)
		case o.met > 0:
			tally["met"] = append(tally["met"], mark)
		default:
			assert.Fail(t, "no strength outcome", mark)
		}
	}
	require.NotEmpty(t, tally["met"])
	for _, kind := range slices.Sorted(maps.Keys(tally)) {
		t.Logf("%s: %d %s", run.Result.Model.Title, len(tally[kind]), kind)
		if kind != "met" {
			slices.Sort(tally[kind])
			t.Logf("    %s", strings.Join(tally[kind], ", "))
		}
	}
}

// outcome is what came of the rules on the strength of a member.
type outcome struct {
	met, notMet int
	unchecked   []string // reasons
}

// outcomes is what came of each structural member.
func (s subject) outcomes(t *testing.T, run *engine.Run) map[string]*outcome {
	t.Helper()
	out := map[string]*outcome{}
	for piece := range run.Down.Frame.Pieces {
		row := int32(piece)
		structural, why := run.Filled.Truth(run.Filled.Book.Fact(vocabulary.Member, "is_structural"), row)
		require.Zero(t, why)
		if !structural {
			continue
		}
		mark := run.Down.Frame.Member(row).Mark
		if out[mark] == nil {
			out[mark] = &outcome{}
		}
		for i, rule := range run.Set.Rules {
			if rule.Judges != vocabulary.Member {
				continue
			}
			switch run.Judgement.Matrix[i][row] {
			case pack.Met:
				if figures(run, rule, row, isStrength) {
					out[mark].met++
				}
			case pack.NotMet:
				if rule.Pack.ID == s.id || figures(run, rule, row, isStrength) {
					out[mark].notMet++
				}
			}
		}
	}
	for _, f := range run.Result.Findings {
		if o := out[f.Member]; o != nil && f.Outcome == finding.Unchecked && f.Layer == s.id {
			o.unchecked = append(o.unchecked, f.Reason)
		}
	}
	return out
}

// figures says whether a rule has used a fact of some kind on a row.
func figures(run *engine.Run, rule *pack.Rule, row int32, kind func(*vocabulary.Fact) bool) bool {
	return slices.ContainsFunc(run.Judgement.Used(pack.Verdict{Rule: rule, Row: row}), func(u pack.Used) bool { return kind(u.Fact) })
}

// isStrength is a region's ratio of demand over capacity, or what a maker states that the member carries.
func isStrength(f *vocabulary.Fact) bool {
	ratio := f.Origin == vocabulary.FromRegion && f.Type == vocabulary.Number && f.Dimension == model.Plain
	return ratio || f.Name == "stated_total" || f.Name == "stated_line"
}

func (s subject) takesHousePacks(t *testing.T) {
	house := filepath.Join(t.TempDir(), "house.yaml")
	rule := func(id, judges, where, require string) string {
		return fmt.Sprintf("  - {id: %s, title: T, judges: %s, where: %q, require: %q, severity: ask, say: S, do: D, source: house, why: W, examples: []}\n",
			id, judges, where, require)
	}
	require.NoError(t, os.WriteFile(house, []byte("pack: house\nformat: 1\nedition: \"1\"\ntitle: House\nrules:\n"+
		rule("inch", "frame", "true", "inch(1) == mm(25.4) and inch(3.5) < mm(89)")+
		rule("deep", "member", "is_structural and known(depth)", "depth >= inch(1) and depth >= mm(25)")+
		rule("shallow", "member", "is_structural and known(depth)", "depth <= inch(1) or depth <= mm(26)")), 0o600))
	bare, _ := checkWith(t, s, s.model)
	told, status := checkWith(t, s, "--pack", house, s.model)
	require.NotEqual(t, statusUnusable, status)
	assert.Equal(t, bare.Findings, told.of("not house"))
	require.NotEmpty(t, told.of("house"))
	for _, f := range told.of("house") {
		assert.Equal(t, "house/shallow", f["rule"])
		assert.Equal(t, "not_met", f["outcome"])
	}
	_, status = checkWith(t, s, "--pack", demo("house/house.yaml"), s.model)
	assert.NotEqual(t, statusUnusable, status, "the sample reads the same for every region")
}

func (s subject) signsOff(t *testing.T) {
	file := filepath.Join(t.TempDir(), "model.json")
	text, err := os.ReadFile(s.model)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, text, 0o600))
	before, _ := checkWith(t, s, file)
	i := slices.IndexFunc(before.Findings, func(f map[string]any) bool { return f["outcome"] == "not_met" && f["member"] != nil })
	require.GreaterOrEqual(t, i, 0, "something is found on a member")
	rule, mark := before.Findings[i]["rule"].(string), before.Findings[i]["member"].(string)
	_, errs, status := commandWith(t, s, "signoff", file, "--rule", rule, "--mark", mark, "--who", "the engineer", "--authority", "engineer",
		"--reason", "looked at on site")
	require.Equal(t, statusClean, status, errs)
	after, _ := checkWith(t, s, file)
	require.Len(t, after.Findings, len(before.Findings), "nothing is hidden")
	accepted := 0
	for _, f := range after.Findings {
		if f["signoff"] == nil {
			continue
		}
		accepted++
		assert.Equal(t, []any{rule, mark}, []any{f["rule"], f["member"]})
	}
	assert.Positive(t, accepted)
}

// showsWorking asks every member that the region has judged, and the command one of them.
func (s subject) showsWorking(t *testing.T) {
	run, asked := s.run(t, s.document(t)), false
	for mark, o := range s.outcomes(t, run) {
		if o.met+o.notMet == 0 || stated(run, mark) || !acts(run, mark) {
			continue // a maker's figure has no working of ours, and nothing has none
		}
		told, err := run.Facts(mark, "")
		require.NoError(t, err)
		assert.NotEmpty(t, told.Working, mark)
		for name, steps := range told.Working {
			assert.True(t, slices.ContainsFunc(told.Facts, func(f engine.ToldFact) bool { return f.Name == name && f.Absent == "" }), "%s of %s", name, mark)
			for _, step := range steps {
				assert.NotEmpty(t, step.Symbol, "%s of %s", name, mark)
			}
		}
		if !asked {
			asked = true
			out, _, _ := commandWith(t, s, "facts", s.model, mark)
			first := told.WorkingOrder[0]
			of := told.Facts[slices.IndexFunc(told.Facts, func(f engine.ToldFact) bool { return f.Name == first })].Case
			if of != "" {
				of = " under " + of
			}
			assert.Contains(t, strings.Join(strings.Fields(out), " "), "Working of "+first+of, "lines may be wrapped")
		}
	}
	assert.True(t, asked)
}

// acts says whether the region gives a ratio above nothing for some piece of a member, or its maker states what it carries.
func acts(run *engine.Run, mark string) bool {
	from, to := run.Down.Frame.PiecesOf(int32(run.Source.Document.Index(mark)))
	for _, f := range run.Description.Facts {
		fact := run.Filled.Book.Fact(vocabulary.Member, f.Name)
		for row := from; row < to && isStrength(fact); row++ {
			if v, why := run.Filled.Number(fact, row); why == 0 && v > 0 {
				return true
			}
		}
	}
	return stated(run, mark)
}

// stated says whether a maker or engineer states what a member carries.
func stated(run *engine.Run, mark string) bool {
	doc := run.Source.Document
	return doc.Members[doc.Index(mark)].More().Stated != nil
}

func (s subject) judgesWithout(t *testing.T) {
	doc := s.document(t)
	delete(doc["site"].(map[string]any), "region")
	run := judgedBy(t, nobody{}, doc)
	assert.Empty(t, run.Result.Region.ID)
	assert.Empty(t, run.Result.Incomplete, "that is no failure")
	asked := 0
	for _, f := range run.Result.Findings {
		assert.NotEqual(t, s.id, f.Layer)
		if f.Rule == "paperwork/region-named" {
			asked++
			assert.Equal(t, finding.Ask, f.Severity)
		}
	}
	assert.Equal(t, 1, asked)
}

// doubtsUnknownGrades gives every member a grade that nobody knows: then nothing that the grade feeds has a figure.
func (s subject) doubtsUnknownGrades(t *testing.T) {
	doc := s.document(t)
	for _, m := range doc["members"].(map[string]any) {
		if m := m.(map[string]any); m["grade"] != nil {
			m["grade"] = "no such grade"
		}
	}
	run := s.run(t, doc)
	assert.Equal(t, 3, run.Result.Status(finding.Stop))
	fed := func(f *vocabulary.Fact) bool {
		return f.Origin == vocabulary.FromRegion && f.Type == vocabulary.Number && slices.Contains(f.Keys, "grade")
	}
	for i, rule := range run.Set.Rules {
		for row, o := range run.Judgement.Matrix[i] {
			if o == pack.Met && rule.Judges == vocabulary.Member && run.Down.Frame.Member(int32(row)).Grade == "no such grade" {
				assert.False(t, figures(run, rule, int32(row), fed), "%s is met by %s", rule.ID, run.Down.Frame.Name(int32(row)))
			}
		}
	}
	for mark, o := range s.outcomes(t, run) {
		if run.Source.Document.Members[run.Source.Document.Index(mark)].Grade == "no such grade" && !stated(run, mark) {
			assert.NotEmpty(t, o.unchecked, mark)
		}
	}
}

func (s subject) document(t *testing.T) map[string]any { return document(t, s.model) }

// run checks a document with the region.
func (s subject) run(t *testing.T, doc map[string]any) *engine.Run { return judgedBy(t, s, doc) }

// judgedBy checks a document and keeps what came of every rule on every row.
func judgedBy(t *testing.T, regions engine.Regions, doc map[string]any) *engine.Run {
	t.Helper()
	text, err := json.Marshal(doc)
	require.NoError(t, err)
	d, problems := read.Document(text, "model")
	require.Empty(t, problems)
	session := engine.NewSession(regions, nil)
	defer session.Close()
	run, err := session.Check(context.Background(), &engine.Source{Document: d, Text: text, File: "model"}, engine.Options{Matrix: true, Working: true})
	require.NoError(t, err)
	return run
}
