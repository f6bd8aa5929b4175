package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// meant is something that a demo is meant to show: why, and the findings that say so.
type meant struct {
	why   string
	found []string
}

// soundDemo is all that is left to find in the reading room, none of it by accident.
var soundDemo = []meant{
	{"one detail is still with the engineer, as on most jobs", []string{"BP1: ask paperwork/engineers-details-open"}},
	{"old rafters stand beside the new work, and nobody has opened them up", []string{
		"OR1: ask practice/unverified", "OR1: unchecked (ask) eurocode/can-be-judged"}},
	{"a post will be boxed in, and nobody has photographed it yet", []string{"P3: note paperwork/see-before-covered"}},
	{"three pieces are too heavy for one person", []string{
		"RB1: note practice/timber-lift", "RB2: note practice/timber-lift", "ST1: note practice/steel-lift"}},
	{"where most comes down is worth a look in any building", []string{"frame: note load-path/heaviest-on-walls"}},
}

// faults is what a hurried builder got wrong, each with the findings that name it. The mark is the one whose note tells
// the fault.
var faults = []struct {
	mark, what string
	found      []string
}{
	{"GJ1", "a joist bears 60 mm on a wall where 90 is needed", []string{
		"GJ1 on WX3: stop practice/bearing-on-masonry", "GJ1: unchecked (stop) eurocode/masonry-bearing"}},
	{"TR1", "an end of the trimmer rests on nothing", []string{
		"TR1: stop load-path/supports-needed", "TR1: unchecked (stop) eurocode/can-be-judged"}},
	{"J4W3", "a jack rafter names a hip that is not there", []string{
		"J4W3: stop load-path/names-exist", "J4W3: stop load-path/supports-needed", "J4W3: stop load-path/reaches-ground",
		"J4W3: unchecked (stop) eurocode/can-be-judged"}},
	{"J2S1", "a jack rafter stops short of its plate", []string{
		"J2S1 on WPS2: ask load-path/meets-in-plan", "J2S1 on WPS2: ask load-path/meets-in-level"}},
	{"P3", "a post stands off its beam", []string{"P3 on GB1: stop load-path/post-on-axis"}},
	{"H4", "the head of a hip is nailed to a board only, and the board to a post", []string{
		"H4: stop load-path/hip-head", "RD1 on P1: ask practice/fixing-stated"}},
	{"GJ3", "a joist is notched in the middle third", []string{"GJ3: stop practice/notch-place"}},
	{"GJ2", "holes of 70 mm are drilled through joists", []string{"GJ2: stop practice/hole-size"}},
	{"RS", "birdsmouths go deeper than a third", []string{"RS on WPS1: stop practice/birdsmouth"}},
	{"RB1", "the ridge beam is undersized", []string{
		"RB1: stop eurocode/bending", "RB1: stop eurocode/bearing", "RB1: stop practice/deeper-than-cut",
		"RB1: ask eurocode/deflection-at-once", "RB1: ask eurocode/deflection-in-the-end"}},
	{"H2", "a hip is shallower than the plumb cut of its jacks", []string{
		"H2: stop practice/deeper-than-cut", "H2: ask eurocode/deflection-at-once", "H2: ask eurocode/deflection-in-the-end"}},
	{"GT2", "the trimming joist of a stair opening is not doubled", []string{"GT2: ask practice/trimmer-doubled"}},
	{"GB1", "nothing says how two plies are joined", []string{"GB1: ask practice/plies-joined"}},
	{"J3E3", "a rafter has no grade", []string{"J3E3: stop practice/grade-stated", "J3E3: unchecked (stop) eurocode/can-be-judged"}},
	{"CJ3", "ceiling joists stand at 700 mm", []string{"CJ3: stop practice/centres"}},
	{"GJ4", "the deck of the gallery is 15 mm thick", []string{
		"GJ1: stop practice/deck-thickness", "GJ2: stop practice/deck-thickness", "GJ3: stop practice/deck-thickness",
		"GJ4: stop practice/deck-thickness", "GT1: stop practice/deck-thickness", "GT2: stop practice/deck-thickness"}},
	{"CJ1", "two ceiling joists are missing from a run", []string{"lobby ceiling: ask load-path/area-carried"}},
	{"RS1", "nothing says what the laps of rafters and ties hold", []string{"RS1: ask load-path/tie-joint-stated"}},
	{"RS2", "nor on the other side", []string{"RS2: ask load-path/tie-joint-stated"}},
	{"RS3", "the only tie is a collar just under the ridge", []string{
		"RS3: stop load-path/tie-low-enough"}},
	{"RS4", "nor does it help the rafter opposite", []string{
		"RS4: stop load-path/tie-low-enough"}},
	{"RS5", "rafters lean on each other and nothing takes the thrust", []string{"RS5: stop load-path/rafter-thrust"}},
	{"RS6", "nor from the other side", []string{"RS6: stop load-path/rafter-thrust"}},
	{"TB1", "a new load goes through old rafters", []string{
		"TB1: stop load-path/through-unverified", "OR1: stop load-path/more-load-on-unverified"}},
	{"RE", "two drawings give a rafter two depths", []string{"RE: ask paperwork/drawings-agree"}},
	{"P2", "a post's seat is still as engineer's details", []string{"P2: ask paperwork/engineers-details-open"}},
	{"WX1", "a post comes down over an opening without a lintel", []string{
		"WX1: ask load-path/opening-spanned", "P1 on WX1: ask load-path/load-over-opening", "P1: unchecked (stop) eurocode/masonry-bearing"}},
	{"ST1", "a steel's padstone is wider than the wall, and neither its weld nor its fire protection is stated", []string{
		"ST1 on WB3: ask practice/padstone-on-leaf", "ST1: unchecked (stop) eurocode/masonry-bearing",
		"ST1: ask practice/steel-weld", "ST1: ask practice/steel-protection"}},
	{"WPE", "a wall plate has no straps", []string{"WPE: ask practice/plate-straps"}},
	{"WPB2", "a plate whose joists lift in the wind has no straps", []string{"WPB2: ask practice/plate-straps"}},
	{"BJ2", "nothing holds the joists of a flat roof down", []string{
		"BJ2 on WPB2: ask load-path/uplift-stated"}}, // its other end hangs on ST1, which weighs enough
	{"BJ1", "timber in the wet is not treated", []string{"BJ1: ask practice/wet-timber-treated"}},
	{"PX1", "a post stands on a single joist", []string{"PX1 on GJ4: ask load-path/post-on-light-member"}},
	{"TH1", "two beams hang on each other", []string{
		"TH1: stop load-path/no-circle", "TH1: unchecked (stop) eurocode/can-be-judged"}},
	{"TH2", "the other of the two", []string{
		"TH2: stop load-path/no-circle", "TH2: unchecked (stop) eurocode/can-be-judged"}},
}

// unmended is what the hurried builder's version still shares with the sound one.
var unmended = []string{
	"BP1: ask paperwork/engineers-details-open", "OR1: ask practice/unverified", "OR1: unchecked (ask) eurocode/can-be-judged",
	"P3: note paperwork/see-before-covered", "RB2: note practice/timber-lift", "ST1: note practice/steel-lift",
	"frame: note load-path/heaviest-on-walls",
}

// porchDemo is all that is found in the porch.
var porchDemo = []meant{
	{"a joist is notched 2 in for a pipe, in the middle", []string{
		"DJ3: stop practice/notch-depth", "DJ3: stop practice/notch-place", "DJ3: stop us/notch-depth", "DJ3: stop us/bending"}},
	{"the portico's ridge is a board, and its roof is flatter than 3 in 12", []string{"PA1: stop us/low-slope", "PA2: stop us/low-slope"}},
	{"the porch's rafters are too long for the snow", []string{"RA2: stop us/span", "RA2: stop us/bending"}},
	{"the header bears 1 in on its west post", []string{
		"RH1 on RP1: stop practice/bearing-on-timber", "RH1 on RP1: stop us/bearing-on-wood"}},
	{"the deck's beam is out in the wet and no treatment is stated", []string{"DB1: ask practice/wet-timber-treated"}},
	{"what five hangers hold is not stated", []string{"DJ4 on LD1: ask practice/hanger-capacity"}},
	{"what the ledger's bolts hold is not stated", []string{"LD1 on HW: ask load-path/fixing-along-stated"}},
	{"one beam is too heavy for one person", []string{"DB1: note practice/timber-lift"}},
	{"where most comes down is worth a look in any building", []string{"frame: note load-path/heaviest-on-walls"}},
	{"what the region filled in is listed", []string{
		"frame: note paperwork/region-assumptions", "frame: note region/assumes", "frame: note region/assumes"}},
}

func TestSoundDemoShowsWhatItIsMeantTo(t *testing.T) {
	told, status := check(t, demo("quillmere.json"))
	assert.Zero(t, status, "nothing in it stops work, and all that could stop work was checked")
	assert.True(t, told.Summary.Complete)
	assert.ElementsMatch(t, lines(soundDemo), told.lines())
	assert.Greater(t, told.Summary.Met, 5000)
	for name, b := range told.Balance {
		assert.InEpsilon(t, b.Applied, b.Ground, 1e-9, name)
		assert.Zero(t, b.Unresolved, name)
	}
}

func TestSoundDemoIsTheBuildingAskedFor(t *testing.T) {
	doc := document(t, demo("quillmere.json"))
	pieces, roles := 0, map[string]int{}
	for _, m := range doc["members"].(map[string]any) {
		m := m.(map[string]any)
		n := 1
		if r, ok := m["repeat"].(map[string]any); ok {
			n = int(r["count"].(float64))
		}
		pieces += n
		roles[m["role"].(string)] += n
		path, ok := m["path"].([]any)
		assert.True(t, ok && len(path) >= 2, "every piece has real coordinates")
	}
	assert.GreaterOrEqual(t, pieces, 150)
	for role, least := range map[string]int{"rafter": 20, "jack rafter": 30, "hip rafter": 4, "valley rafter": 2, "ridge beam": 2, "ridge board": 1,
		"ceiling joist": 20, "floor joist": 8, "trimmer": 1, "beam": 3, "post": 3, "lintel": 1, "wall plate": 5, "wall": 10} {
		assert.GreaterOrEqual(t, roles[role], least, role)
	}
}

func TestEveryFaultIsCaughtByName(t *testing.T) {
	told, status := check(t, demo("quillmere-faulty.json"))
	assert.Equal(t, statusIncomplete, status, "with a member that hangs in the air, not everything could be checked")
	found := told.lines()
	expected := slices.Clone(unmended)
	marks := map[string]bool{}
	for _, f := range faults {
		marks[f.mark] = true
		expected = append(expected, f.found...)
		t.Run(f.what, func(t *testing.T) {
			for _, line := range f.found {
				assert.Contains(t, found, line)
			}
		})
	}
	assert.ElementsMatch(t, expected, found, "what is found and is no fault that the table tells fails too")
	for mark, m := range document(t, demo("quillmere-faulty.json"))["members"].(map[string]any) {
		note, _ := m.(map[string]any)["note"].(string)
		assert.Equal(t, strings.Contains(note, "fault:"), marks[mark], "%s: its note tells a fault, and the table holds it", mark)
	}
	assert.GreaterOrEqual(t, len(faults), 15)
}

func TestPorchShowsWhatItIsMeantTo(t *testing.T) {
	told, status := check(t, demo("larkrun-porch.json"))
	assert.Equal(t, statusFindings, status)
	assert.True(t, told.Summary.Complete)
	assert.ElementsMatch(t, lines(porchDemo), told.lines())
}

// result is what the tests read of a result in JSON.
type result struct {
	Summary struct {
		Stop, Ask, Note, Unchecked, Met int
		Complete                        bool
	}
	Loosened []struct{ Pack, Rule, Reason string }
	Balance  map[string]struct{ Applied, Ground, Unresolved float64 }
	Findings []struct {
		Rule, Outcome, Severity, Member, Message, Reason string
		Count                                            int
		Support                                          *struct{ On string }
	}
}

// lines is the findings as the tables write them: where, what must be done about it, the rule.
func (r *result) lines() []string {
	out := make([]string, len(r.Findings))
	for i, f := range r.Findings {
		where, what := f.Member, f.Severity
		if where == "" {
			where = "frame"
		}
		if f.Support != nil {
			where += " on " + f.Support.On
		}
		if f.Outcome == "unchecked" {
			what = "unchecked (" + what + ")"
		}
		out[i] = fmt.Sprintf("%s: %s %s", where, what, f.Rule)
	}
	return out
}

func lines(table []meant) []string {
	var out []string
	for _, m := range table {
		out = append(out, m.found...)
	}
	return out
}

// check runs the command as a user does and reads what it says.
func check(t *testing.T, args ...string) (*result, int) {
	t.Helper()
	out, status := command(t, append([]string{"check", "--format", "json"}, args...)...)
	told := &result{}
	require.NoError(t, json.Unmarshal([]byte(out), told), out)
	return told, status
}

// command runs the program with a home that has no settings.
func command(t *testing.T, args ...string) (string, int) {
	t.Helper()
	return commandOn(t, strings.NewReader(""), args...)
}

func commandOn(t *testing.T, in io.Reader, args ...string) (string, int) {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	var out, errs bytes.Buffer
	status := run(args, in, &out, &errs)
	require.Empty(t, errs.String())
	return out.String(), status
}

func demo(name string) string { return filepath.Join("..", "..", "testdata", name) }

// document is a model as plain JSON, for tests that take something out of it.
func document(t *testing.T, file string) map[string]any {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	doc := map[string]any{}
	require.NoError(t, json.Unmarshal(text, &doc))
	return doc
}
