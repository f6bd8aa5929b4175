//go:build unix

package engine_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
	"example.com/scantling/testdata/regions/faulty"
	"example.com/scantling/testdata/regions/oakshire"
)

// TestMain makes the test binary serve Oakshire, sound and with every fault, from processes of its own.
func TestMain(m *testing.M) {
	host.ServeIfAsked(faulty.Around(oakshire.New))
	os.Exit(m.Run())
}

// ofProcess is where a test's session finds regions: one that this binary serves, whatever code is asked for.
type ofProcess host.Options

func (s ofProcess) Region(ctx context.Context, _ string) *host.Client {
	return host.Start(ctx, host.Options(s))
}

// short is deadlines that a region which hangs is given.
const short = 100 * time.Millisecond

// loft is a document of Oakshire in which the neutral packs find something.
func loft(t testing.TB) *engine.Source {
	t.Helper()
	file := filepath.Join("testdata", "loft.json")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	return fixture.Source(t, file, string(text))
}

// checkedWith is one run of a document with a session of its own.
func checkedWith(t testing.TB, regions engine.Regions, src *engine.Source, house ...*pack.Pack) *engine.Run {
	t.Helper()
	session := engine.NewSession(regions, house)
	defer session.Close()
	run, err := session.Check(context.Background(), src, engine.Options{Working: true})
	require.NoError(t, err)
	return run
}

// neutral is what the packs that ship have found.
func neutral(run *engine.Run) []finding.Finding {
	var out []finding.Finding
	for _, f := range run.Result.Findings {
		switch f.Layer {
		case "load-path", "practice", "paperwork":
			out = append(out, f)
		}
	}
	return out
}

func TestFailingRegionLeavesTheRestJudged(t *testing.T) {
	sound, without := checkedWith(t, ofProcess{Shipped: "sound"}, loft(t)), checkedWith(t, nil, loft(t))
	require.Equal(t, 1, sound.Result.Status(finding.Stop), "%v", sound.Result.Incomplete)
	require.NotEmpty(t, neutral(sound))
	require.NotEmpty(t, neutral(without))
	for _, row := range []struct {
		region    string
		deadlines host.Deadlines
		because   string
	}{
		{"start: exits", host.Deadlines{}, `start: its process ended (exit status 3); the last it said was "no licence found"`},
		{"start: hangs", host.Deadlines{Start: short}, "start: it did not answer within 100ms and was ended"},
		{"start: garbage", host.Deadlines{}, `start: it printed "Welcome!" instead of saying where to connect`},
		{"start: newer", host.Deadlines{}, "start: the region speaks version 7 of the contract and scantling speaks 1: upgrade scantling"},
		{"start: older", host.Deadlines{}, "start: the region speaks version 0 of the contract and scantling speaks 1: upgrade the region"},
		{"describe: exits", host.Deadlines{}, "describe: its process ended (exit status 7)"},
		{"describe: killed", host.Deadlines{}, "describe: its process ended (signal: killed)"},
		{"describe: stopped", host.Deadlines{Describe: short}, "describe: it did not answer within 100ms and was ended"},
		{"describe: hangs", host.Deadlines{Describe: short}, "describe: it did not answer within 100ms and was ended"},
		{"describe: panics", host.Deadlines{}, "describe: its code panicked: out of timber"},
		{"describe: refuses", host.Deadlines{}, "describe: not today"},
		{"describe: garbage", host.Deadlines{}, "describe: its answer breaks the contract: the text of oak.bending is empty"},
		{"describe: contract", host.Deadlines{}, "describe: its answer breaks the contract: it says that it was written for version 2 of the contract and speaks version 1"},
		{"describe: pack", host.Deadlines{}, "describe: its answer breaks the contract: worse.yaml:1:1: the pack has no edition"},
		{"prepare: exits", host.Deadlines{}, "prepare: its process ended (exit status 7)"},
		{"prepare: killed", host.Deadlines{}, "prepare: its process ended (signal: killed)"},
		{"prepare: stopped", host.Deadlines{Prepare: short}, "prepare: it did not answer within 100ms and was ended"},
		{"prepare: hangs", host.Deadlines{Prepare: short}, "prepare: it did not answer within 100ms and was ended"},
		{"prepare: panics", host.Deadlines{}, "prepare: its code panicked: out of timber"},
		{"prepare: refuses", host.Deadlines{}, "prepare: not today"},
		{"prepare: garbage", host.Deadlines{}, "prepare: its answer breaks the contract: the case dead is given twice"},
		{"derive: exits", host.Deadlines{}, "derive: its process ended (exit status 7)"},
		{"derive: killed", host.Deadlines{}, "derive: its process ended (signal: killed)"},
		{"derive: stopped", host.Deadlines{Derive: short}, "derive: it did not answer within 100ms and was ended"},
		{"derive: hangs", host.Deadlines{Derive: short}, "derive: it did not answer within 100ms and was ended"},
		{"derive: panics", host.Deadlines{}, "derive: its code panicked: out of timber"},
		{"derive: refuses", host.Deadlines{}, "derive: not today"},
		{"derive: garbage", host.Deadlines{}, "derive: its answer breaks the contract: oak.bending of piece 0 is NaN"},
		{"derive: too few", host.Deadlines{}, "derive: its answer breaks the contract: it answers "},
		{"derive: doubled", host.Deadlines{}, "derive: its answer breaks the contract: it answers piece 0 in the place of piece"},
		{"derive: another batch", host.Deadlines{}, "which it does not owe"},
	} {
		t.Run(row.region, func(t *testing.T) {
			faulty.LeavesNothing(t, func() {
				run := checkedWith(t, ofProcess{Shipped: row.region, Deadlines: row.deadlines}, loft(t))
				assert.Equal(t, 3, run.Result.Status(finding.Stop))
				assert.False(t, run.Result.Summary.Complete)
				require.Len(t, run.Result.Incomplete, 1)
				assert.Contains(t, run.Result.Incomplete[0], "region "+row.region+", ")
				assert.Contains(t, run.Result.Incomplete[0], row.because)
				assert.NotContains(t, run.Result.Incomplete[0], "\x1b")
				owedNothing(t, run, row.because, "B1", "J1", "J2")

				rest := without
				if strings.HasPrefix(row.region, "derive") { // until then it has done its part
					rest = sound
				}
				assert.Equal(t, neutral(rest), neutral(run), "what the other packs find is as it was")
			})
		})
	}
}

// TestRegionThatDiesLateLeavesNothingHalfJudged has a region die after it has answered for some of the members: which ones
// it got through is chance, and a reader could not tell.
func TestRegionThatDiesLateLeavesNothingHalfJudged(t *testing.T) {
	src := manyJoists(t)
	faulty.LeavesNothing(t, func() {
		session := engine.NewSession(ofProcess{Shipped: "derive: killed later"}, nil)
		defer session.Close()
		run, err := session.Check(context.Background(), src, engine.Options{Working: true})
		require.NoError(t, err)
		assert.Equal(t, 3, run.Result.Status(finding.Stop))
		because := "derive: its process ended (signal: killed)"
		owedNothing(t, run, because, "J1", "J2", "J1500")

		again, err := session.Check(context.Background(), loft(t), engine.Options{})
		require.NoError(t, err)
		require.Len(t, again.Result.Incomplete, 1)
		assert.Contains(t, again.Result.Incomplete[0], because, "a model after it is told the same, at once")
	})
	batches := 0
	run := checkedWith(t, ofProcess{Shipped: "sound"}, src)
	for range run.Filled.Batches(run.Lists, nil, true) {
		batches++
	}
	assert.Greater(t, batches, faulty.Later, "there are batches enough for some to be answered first")
}

func TestExecutableThatDiffersFromItsDigestIsNotRun(t *testing.T) {
	ran := filepath.Join(t.TempDir(), "ran")
	file := filepath.Join(t.TempDir(), "region")
	require.NoError(t, os.WriteFile(file, []byte("#!/bin/sh\ntouch "+ran+"\n"), 0o700))
	pinned := strings.Repeat("ab", 32)
	faulty.LeavesNothing(t, func() {
		run := checkedWith(t, ofProcess{File: file, SHA256: pinned}, loft(t))
		assert.Equal(t, 3, run.Result.Status(finding.Stop))
		require.Len(t, run.Result.Incomplete, 1)
		assert.Contains(t, run.Result.Incomplete[0], ", and "+pinned+" was pinned")
		assert.Equal(t, neutral(checkedWith(t, nil, loft(t))), neutral(run))
		assert.NoFileExists(t, ran)
	})
}

// ruleless is Oakshire without its rules: it works out strength, and nothing holds it against anything.
type ruleless struct{ region.Region }

func (r ruleless) Describe(ctx context.Context) (*region.Description, error) {
	d, err := r.Region.Describe(ctx)
	if err == nil {
		d.Packs = nil
	}
	return d, err
}

func (r ruleless) client(context.Context, string) *host.Client {
	return host.InProcess("ruleless", r, host.Deadlines{})
}

// within is where a session finds a region of this process.
type within func(context.Context, string) *host.Client

func (w within) Region(ctx context.Context, code string) *host.Client { return w(ctx, code) }

func TestARegionWithoutRulesServesNobodyAlone(t *testing.T) {
	run := checkedWith(t, within(ruleless{oakshire.New()}.client), loft(t))
	var stops []string
	for _, f := range run.Result.Findings {
		if f.Severity == finding.Stop {
			stops = append(stops, f.Rule)
		}
	}
	assert.Contains(t, stops, "paperwork/region-served")
	run = checkedWith(t, within(func(context.Context, string) *host.Client {
		return host.InProcess("oakshire", oakshire.New(), host.Deadlines{})
	}), loft(t))
	for _, f := range run.Result.Findings {
		assert.NotEqual(t, "paperwork/region-served", f.Rule)
	}
}

func TestHousePackAndTheWordsOfARegion(t *testing.T) {
	house := func(condition string) *pack.Pack {
		file := filepath.Join(t.TempDir(), "house.yaml")
		require.NoError(t, os.WriteFile(file, []byte(fmt.Sprintf(`
pack: ours
format: 1
edition: "1"
title: Ours
rules:
  - id: rule
    title: A rule of ours
    judges: member
    where: role == "floor joist"
    require: %s
    severity: ask
    say: "{piece} is not as we like it"
    do: Change it.
    source: house practice, no source
    why: We like it so.
    examples:
      - not_applicable: {role: beam}
`, condition)), 0o600))
		p, err := pack.Open(file, pack.House)
		require.NoError(t, err)
		return p
	}
	ours := func(run *engine.Run) (found int) {
		for _, f := range run.Result.Findings {
			if f.Layer == "ours" {
				found++
			}
		}
		return found
	}
	regional, plain := house("oak.bending <= 0.001"), house("depth <= mm(150)")

	assert.Equal(t, 2, ours(checkedWith(t, ofProcess{Shipped: "sound"}, loft(t), regional)), "J1 and J2, by the region's figure")

	run := checkedWith(t, ofProcess{Shipped: "start: exits"}, loft(t), regional)
	assert.Equal(t, 3, run.Result.Status(finding.Stop))
	assert.Len(t, run.Result.Incomplete, 2)
	assert.Contains(t, strings.Join(run.Result.Incomplete, "; "), "house packs are left out, because the region whose words they use failed")

	run = checkedWith(t, ofProcess{Shipped: "start: exits"}, loft(t), plain)
	assert.Len(t, run.Result.Incomplete, 1)
	assert.Equal(t, 2, ours(run), "a house pack that needs no region judges without it")

	run = checkedWith(t, ofProcess{Shipped: "describe: pack"}, loft(t), plain)
	assert.Len(t, run.Result.Incomplete, 1)
	assert.Equal(t, 2, ours(run), "nor is it held against a house pack that a region's own cannot be read")

	session := engine.NewSession(ofProcess{Shipped: "sound"}, []*pack.Pack{house("oak.splitting <= 1")})
	defer session.Close()
	for range 2 {
		_, err := session.Check(context.Background(), loft(t), engine.Options{})
		var problems pack.Problems
		require.ErrorAs(t, err, &problems, "a word that a sound region does not have is the house pack's own mistake")
	}
}

// byCode is a region for each code, of this binary.
type byCode map[string]string

func (b byCode) Region(ctx context.Context, code string) *host.Client {
	if name, served := b[code]; served {
		return host.Start(ctx, host.Options{Shipped: name})
	}
	return nil
}

func TestSessionKeepsRegionsApart(t *testing.T) {
	regions := byCode{"XA-OAK": "sound", "XA-BAD": "derive: refuses"}
	session := engine.NewSession(regions, nil)
	defer session.Close()
	want := map[string]*finding.Result{}
	for _, code := range []string{"XA-OAK", "XA-BAD", "XA-NONE"} {
		alone := engine.NewSession(regions, nil)
		run, err := alone.Check(context.Background(), loft(t), engine.Options{Region: code})
		require.NoError(t, err)
		alone.Close()
		want[code] = run.Result
	}
	for _, code := range []string{"XA-BAD", "XA-OAK", "XA-NONE", "XA-BAD", "XA-NONE", "XA-OAK"} {
		run, err := session.Check(context.Background(), loft(t), engine.Options{Region: code})
		require.NoError(t, err)
		assert.Equal(t, want[code], run.Result, code)
	}
	assert.Equal(t, []int{1, 3}, []int{want["XA-OAK"].Status(finding.Stop), want["XA-BAD"].Status(finding.Stop)})
}

func TestCheckThatIsGivenUpEndsItsRegion(t *testing.T) {
	faulty.LeavesNothing(t, func() {
		ctx, giveUp := context.WithTimeout(context.Background(), short)
		defer giveUp()
		session := engine.NewSession(ofProcess{Shipped: "derive: stopped"}, nil)
		defer session.Close()
		run, err := session.Check(ctx, loft(t), engine.Options{})
		require.NoError(t, err)
		assert.Equal(t, 3, run.Result.Status(finding.Stop))
	})
}

// manyJoists is a document of joists no two of which are alike.
func manyJoists(t *testing.T) *engine.Source {
	t.Helper()
	var b strings.Builder
	b.WriteString(`{"framing": 1, "title": "Joists", "units": "metric", "site": {"region": "XA-OAK"}, "members": {
  "W1": {"role": "wall", "material": "masonry", "width": 215, "ground": true},
  "W2": {"role": "wall", "material": "masonry", "width": 215, "ground": true}`)
	for i := range 1500 {
		fmt.Fprintf(&b, `,
  "J%d": {"role": "floor joist", "section": "50x200", "grade": "H20", "length": %d, "supports": [{"on": "W1", "bearing": 100}, {"on": "W2", "bearing": 100}]}`, i+1, 1000+i)
	}
	b.WriteString("}}")
	return fixture.Source(t, "joists.json", b.String())
}

// owedNothing asserts that every fact of a region which failed is absent for that reason, and that no rule which needs one
// is met.
func owedNothing(t *testing.T, run *engine.Run, because string, marks ...string) {
	t.Helper()
	if run.Description == nil {
		for _, f := range run.Filled.Book.Facts(vocabulary.Member) {
			assert.NotEqual(t, vocabulary.FromRegion, f.Origin, "%s is a word of a region that did not say so", f.Name)
		}
		return
	}
	for _, mark := range marks {
		told, err := run.Facts(mark, "")
		require.NoError(t, err)
		assert.Empty(t, told.Working)
		regional := 0
		for _, f := range told.Facts {
			if strings.HasPrefix(f.Name, "oak.") {
				regional++
				assert.Contains(t, f.Absent, because, "%s of %s", f.Name, mark)
				assert.Empty(t, f.Case)
			}
		}
		assert.Equal(t, len(run.Description.Facts), regional)
	}
	unchecked := 0
	for _, f := range run.Result.Findings {
		if f.Layer == "oakshire" {
			unchecked++
			assert.Equal(t, finding.Unchecked, f.Outcome, f.ID)
			assert.Contains(t, f.Reason, because)
			assert.Empty(t, f.Case)
			assert.Empty(t, f.Working)
		}
	}
	assert.Positive(t, unchecked)
}
