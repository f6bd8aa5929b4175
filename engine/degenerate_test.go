package engine_test

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/engine/loadpath"
	"example.com/scantling/engine/order"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/takedown"
	"example.com/scantling/engine/report/trace"
	"example.com/scantling/engine/report/works"
	"example.com/scantling/model/read"
)

// outputs is everything that a run prints, for a trace of the marks too. Each figure must be a number: encoding/json
// refuses others, where printers write null for them.
func outputs(t testing.TB, run *engine.Run, marks ...string) string {
	t.Helper()
	var out bytes.Buffer
	for _, v := range []any{run.Result, run.Down.List()} {
		_, err := json.Marshal(v)
		require.NoError(t, err)
	}
	results := report.Run{Results: []*finding.Result{run.Result}}
	print(t, &out, report.Checks, "json", results)
	print(t, &out, report.Checks, "text", results)
	sheet := takedown.Sheet{Model: run.Model(), Listing: *run.Down.List()}
	print(t, &out, takedown.Formats, "json", sheet)
	print(t, &out, takedown.Formats, "text", sheet)
	print(t, &out, works.Formats, "text", *order.Works(run))
	for _, mark := range marks {
		if from, to := run.Down.Frame.PiecesOf(int32(run.Source.Document.Index(mark))); from == to {
			continue
		}
		facts, err := run.Facts(mark, "")
		require.NoError(t, err)
		known, err := json.Marshal(facts.JSON())
		require.NoError(t, err, mark)
		out.Write(known)
		s, err := loadpath.Trace(run, mark)
		require.NoError(t, err)
		_, err = json.Marshal(s)
		require.NoError(t, err, mark)
		print(t, &out, trace.Formats, "json", *s)
		print(t, &out, trace.Formats, "text", *s)
		gone, err := loadpath.Without(run, mark)
		require.NoError(t, err)
		_, err = json.Marshal(gone)
		require.NoError(t, err, mark)
	}
	text := out.String()
	for _, none := range []string{"NaN", "+Inf", "-Inf"} { // as a text would show them
		require.NotContains(t, text, none)
	}
	return text
}

func print[T any](t testing.TB, out *bytes.Buffer, formats report.Formats[T], name string, v T) {
	t.Helper()
	p, err := formats.Printer(name, report.Options{})
	require.NoError(t, err)
	require.NoError(t, p.Print(out, v))
}

// members is a document of them, on four piers A to D at 0, 2, 4 and 6 m along x.
func members(text string) string {
	return `{"framing": 1, "title": "degenerate", "units": "metric",
	"grades": {"T": {"material": "timber", "E": 11000, "G": 690, "density": 420, "by": "declared"}, "N": {"material": "timber", "density": 420, "by": "declared"}},
	"areas": {"floor": {"kind": "floor", "dead": 0.5, "imposed": 1.5}},
	"members": {` + text + `,
	"A": {"role": "pier", "ground": true, "width": 200, "path": [[0, 0, -500], [0, 0, 0]]}, "B": {"role": "pier", "ground": true, "width": 200, "path": [[2000, 0, -500], [2000, 0, 0]]},
	"C": {"role": "pier", "ground": true, "width": 200, "path": [[4000, 0, -500], [4000, 0, 0]]}, "D": {"role": "pier", "ground": true, "width": 200, "path": [[6000, 0, -500], [6000, 0, 0]]}}}`
}

// beam is M, 4 m along x from A to C, of the declared grade, with what more says.
func beam(more string) string {
	return members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "path": [[0, 0, 112.5], [4000, 0, 112.5]], ` + more + `}`)
}

const onBoth = `"supports": [{"on": "A", "at": 0}, {"on": "C", "at": 4000}]`

// What a frame that makes no sense gets: a finding with the mark, or a reason with it; never a figure that is none. Where
// it makes sense after all, it is worked out.
func TestDegenerateFrames(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped: one check after another, with nothing beside it")
	}
	session := engine.NewSession(nil, nil)
	defer session.Close()
	for _, row := range []struct {
		say  string
		text string
		mark string
		rule string // that is not met, or unchecked, for the mark; empty: none is asked for
		why  string // within the reason why it is unsolved; empty: it is solved
	}{
		{"two beams on each other", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}, {"on": "N"}]},
			"N": {"role": "beam", "section": "75x225", "grade": "T", "path": [[4000, 0, 0], [0, 0, 0]], "supports": [{"on": "C"}, {"on": "M"}]}`), "M", "load-path/no-circle", "hop by hop"},
		{"three in a ring (a reciprocal frame)", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}, {"on": "N", "at": 3000}]},
			"N": {"role": "beam", "section": "75x225", "grade": "T", "path": [[4000, 0, 0], [3000, -3000, 0]], "supports": [{"on": "C"}, {"on": "O", "at": 3000}]},
			"O": {"role": "beam", "section": "75x225", "grade": "T", "path": [[2000, 0, 0], [3000, -3000, 0]], "supports": [{"on": "B"}, {"on": "M", "at": 100}]}`), "M", "load-path/no-circle", "hop by hop"},
		{"a beam on one pier swings", beam(`"supports": [{"on": "B", "at": 2100}]`), "M", "load-path/supports-needed", "swings"},
		{"a beam balanced on one pier weighs on it, and is stopped all the same", beam(`"supports": [{"on": "B"}]`), "M", "load-path/supports-needed", ""},
		{"a beam on one pier that holds its rotation stands", beam(`"supports": [{"on": "A", "at": 0, "fixed": true}]`), "M", "", ""},
		{"a cranked beam on one pier swings", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "path": [[0, 0, 0], [2000, 0, 0], [4000, 0, 1000]], "supports": [{"on": "A"}]}`), "M", "load-path/supports-needed", "swings"},
		{"a strut that lies level would swing", members(`"M": {"role": "strut", "section": "75x100", "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}]}`), "M", "", "swing"},
		{"a cranked strut whose head is level with its foot would swing", members(`"M": {"role": "strut", "section": "75x100", "grade": "T", "path": [[0, 0, 0], [2000, 0, 1000], [4000, 0, 0]], "supports": [{"on": "A"}]}`), "M", "", "level"},
		{"a post that lies down swings on its one support", members(`"M": {"role": "post", "section": "100x100", "grade": "T", "path": [[0, 0, 0], [2400, 0, 0]], "supports": [{"on": "A"}]}`), "M", "", "swings"},
		{"a post on nothing", members(`"M": {"role": "post", "section": "100x100", "grade": "T", "path": [[1000, 0, 0], [1000, 0, 2400]]}`), "M", "load-path/supports-needed", "nothing holds it up"},
		{"two supports in one place", beam(`"supports": [{"on": "A", "at": 1000}, {"on": "B", "at": 1000}]`), "M", "load-path/solved", "two supports in one place"},
		{"twice on one pier, found in one place", beam(`"supports": [{"on": "A"}, {"on": "A"}]`), "M", "load-path/solved", "two supports in one place"},
		{"two supports a hair apart", beam(`"supports": [{"on": "A", "at": 1000}, {"on": "B", "at": 1000.01}]`), "M", "load-path/solved", "two supports in one place"},
		{"two supports closer than it is deep", beam(`"supports": [{"on": "A", "at": 1000}, {"on": "B", "at": 1100}]`), "M", "load-path/supports-apart", ""},
		{"a support beyond the end", beam(`"supports": [{"on": "A", "at": 0}, {"on": "C", "at": 4100}]`), "M", "load-path/place-on-member", "4100 mm"},
		{"a support far beyond the end", beam(`"supports": [{"on": "A", "at": 0}, {"on": "C", "at": 1000000}]`), "M", "load-path/place-on-member", "beyond the end"},
		{"a support on nothing that the model has", beam(`"supports": [{"on": "A"}, {"on": "Z"}]`), "M", "load-path/names-exist", "swings"},
		{"a support on itself", beam(`"supports": [{"on": "A"}, {"on": "M"}]`), "M", "load-path/reaches-ground", "swings"},
		{"a tenth of a millimetre long", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "path": [[0, 0, 0], [0.1, 0, 0]], ` + `"supports": [{"on": "A", "at": 0}, {"on": "B", "at": 0.1}]}`), "M", "load-path/solved", "two supports in one place"},
		{"neither path nor length", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "supports": [{"on": "A", "at": 0}, {"on": "C", "at": 4000}]}`), "M", "load-path/solved", "neither a path nor a length"},
		{"three supports and no path to find them on", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "length": 4000, "supports": [{"on": "A"}, {"on": "B"}, {"on": "C"}]}`), "M", "load-path/supports-needed", "nothing holds it up"},
		{"a kilometre of beam", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "path": [[0, 0, 0], [999999, 0, 0]], "supports": [{"on": "A", "at": 0}, {"on": "C", "at": 999999}]}`), "M", "load-path/meets-in-plan", ""},
		{"a beam of a hair's breadth", members(`"M": {"role": "beam", "section": {"width": 0.001, "depth": 0.001}, "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], ` + onBoth + `}`), "M", "", ""},
		{"five metres square", members(`"M": {"role": "beam", "section": {"width": 5000, "depth": 5000}, "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], ` + onBoth + `}`), "M", "load-path/supports-apart", ""},
		{"the most that a load may be", beam(onBoth + `, "loads": [{"action": "dead", "point": 100000, "at": 2000}, {"action": "imposed", "line": 100000}]`), "M", "", ""},
		{"as much upwards", beam(onBoth + `, "loads": [{"action": "dead", "point": -100000, "at": 2000}, {"action": "imposed", "line": -100000}]`), "M", "load-path/uplift-stated", ""},
		{"a load that turns its sign and sums to nothing", beam(onBoth + `, "loads": [{"action": "imposed", "line": [10, -10]}]`), "M", "load-path/uplift-stated", ""},
		{"no load at all", beam(onBoth + `, "loads": [{"action": "imposed", "line": 0}]`), "M", "", ""},
		{"a point load beyond the end is left out, and said to be", beam(onBoth + `, "loads": [{"action": "imposed", "point": 1, "at": 5000}]`), "M", "", ""},
		{"a line load that begins beyond the end", beam(onBoth + `, "loads": [{"action": "imposed", "line": 1, "from": 5000, "to": 6000}]`), "M", "", ""},
		{"a line load that runs on beyond it", beam(onBoth + `, "loads": [{"action": "imposed", "line": 1, "from": 3000, "to": 6000}]`), "M", "", ""},
		{"three supports and a stiffness that nobody knows", members(`"M": {"role": "beam", "section": "75x225", "grade": "N", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}, {"on": "B"}, {"on": "C"}]}`), "M", "load-path/solved", "stiffness is not known"},
		{"a section of no area known, stiff enough", members(`"M": {"role": "beam", "section": {"iy": 10000000}, "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}, {"on": "B"}, {"on": "C"}], "loads": [{"action": "imposed", "line": 1}]}`), "M", "", ""},
		{"an area and no stiffness, on three", members(`"M": {"role": "beam", "section": {"area": 10000}, "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}, {"on": "B"}, {"on": "C"}]}`), "M", "load-path/solved", "stiffness is not known"},
		{"a run of one", beam(`"repeat": {"count": 1, "step": [0, 400, 0]}, ` + onBoth), "M", "", ""},
		{"a run whose pieces are all in one place", beam(`"repeat": {"count": 3, "step": [0, 0, 0]}, ` + onBoth), "M", "", ""},
		{"a long run", beam(`"repeat": {"count": 3000, "step": [0, 0.01, 0]}, ` + onBoth), "M", "", ""},
		{"a run that walks off its piers", beam(`"repeat": {"count": 3, "step": [0, 100000, 0]}, ` + onBoth), "M", "load-path/meets-in-plan", ""},
		{"a beam that stands upright in the air on two piers", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "path": [[0, 0, 0], [0, 0, 4000]], "supports": [{"on": "A"}, {"on": "B"}]}`), "M", "load-path/meets-in-plan", ""},
		{"a path that goes out and back the same way", members(`"M": {"role": "beam", "section": "75x225", "grade": "T", "path": [[0, 0, 0], [4000, 0, 0], [0, 0, 0]], "supports": [{"on": "A", "at": 0}, {"on": "A", "at": 8000}]}`), "M", "load-path/bend-in-plan", ""},
		{"a couple without a rise", members(`"M": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[0, 0, 0], [2000, 0, 0]], "supports": [{"on": "A"}, {"against": "N"}], "tied_by": ["T"]},
			"N": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[4000, 0, 0], [2000, 0, 0]], "supports": [{"on": "C"}, {"against": "M"}], "tied_by": ["T"]},
			"T": {"role": "tie", "section": "47x147", "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}, {"on": "C"}]}`), "M", "load-path/solved", "feet spread"},
		{"a couple that sags: its heads are looked for at the upper ends", members(`"M": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[0, 0, 1000], [2000, 0, 0]], "supports": [{"on": "A", "at": 0}, {"against": "N"}]},
			"N": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[4000, 0, 1000], [2000, 0, 0]], "supports": [{"on": "C", "at": 0}, {"against": "M"}]}`), "M", "load-path/supports-needed", "swings"},
		{"a couple that sags, its heads said to be below, pulls inwards", members(`"M": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[0, 0, 1000], [2000, 0, 0]], "supports": [{"on": "A", "at": 0}, {"against": "N", "at": 2236}]},
			"N": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[4000, 0, 1000], [2000, 0, 0]], "supports": [{"on": "C", "at": 0}, {"against": "M", "at": 2236}]}`), "M", "load-path/rafter-thrust", ""},
		{"a couple tied at its heads", members(`"M": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[0, 0, 0], [2000, 0, 1500]], "supports": [{"on": "A"}, {"against": "N"}], "tied_by": [{"on": "T", "at": 2500}]},
			"N": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[4000, 0, 0], [2000, 0, 1500]], "supports": [{"on": "C"}, {"against": "M"}], "tied_by": [{"on": "T", "at": 2500}]},
			"T": {"role": "collar", "section": "47x147", "grade": "T", "path": [[1900, 0, 1500], [2100, 0, 1500]]}`), "M", "load-path/solved", "where they meet"},
		{"a rafter that leans on nobody", members(`"M": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[0, 0, 0], [2000, 0, 1500]], "supports": [{"on": "A"}, {"against": "N"}]}`), "M", "load-path/names-exist", "swings"},
		{"a couple without a length", members(`"M": {"role": "rafter", "section": "47x147", "grade": "T", "supports": [{"on": "A", "at": 0}, {"against": "N"}]},
			"N": {"role": "rafter", "section": "47x147", "grade": "T", "supports": [{"on": "C", "at": 0}, {"against": "M"}]}`), "M", "load-path/solved", "no slope to lean with"},
		{"two uprights lean on nobody, and stand", members(`"M": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[0, 0, 0], [0, 0, 1500]], "supports": [{"on": "A"}, {"against": "N"}]},
			"N": {"role": "rafter", "section": "47x147", "grade": "T", "path": [[50, 0, 0], [50, 0, 1500]], "supports": [{"on": "A"}, {"against": "M"}]}`), "M", "", ""},
		{"a ridge board alone", members(`"M": {"role": "ridge board", "section": "25x195", "grade": "T", "path": [[0, 0, 1500], [4000, 0, 1500]]}`), "M", "load-path/reaches-ground", "nothing holds it up"},
		{"a plate bedded on what it does not lie over", members(`"M": {"role": "wall plate", "section": "47x97", "flat": true, "grade": "T", "path": [[0, 5000, 0], [4000, 5000, 0]], "supports": [{"on": "A", "continuous": true}]}`), "M", "load-path/meets-in-plan", ""},
		{"bedded from further on than to", members(`"M": {"role": "wall plate", "section": "47x97", "flat": true, "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "W", "continuous": true, "from": 3900}]},
			"W": {"role": "wall", "ground": true, "width": 100, "path": [[0, 0, 0], [1000, 0, 0]]}`), "M", "", ""},
		{"carries an area that stands upright", strings.Replace(beam(onBoth+`, "carries": [{"area": "floor", "width": 600}]`), `"kind": "floor"`, `"kind": "floor", "pitch": 90`, 1), "M", "", ""},
		{"carries a strip a kilometre wide", beam(onBoth + `, "carries": [{"area": "floor", "width": 1000000}]`), "M", "", ""},
		{"cuts deeper than it is", beam(onBoth + `, "notches": [{"at": 2000, "depth": 5000, "face": "top"}], "holes": [{"at": 1000, "diameter": 5000}]`), "M", "", ""},
		{"a notch at its end deeper than it is", beam(`"supports": [{"on": "A", "at": 0, "bearing": 0, "notch": {"depth": 300, "face": "bottom"}}, {"on": "C", "at": 4000, "bearing": 5000}]`), "M", "", ""},
		{"far out on a survey's grid", strings.NewReplacer("[0, 0,", "[9000000000, 0,", "[2000, 0,", "[9000002000, 0,", "[4000, 0,", "[9000004000, 0,", "[6000, 0,", "[9000006000, 0,").Replace(beam(onBoth)), "M", "", ""},
		{"everything gone", members(`"M": {"role": "beam", "phase": "removed", "section": "75x225", "grade": "T", "path": [[0, 0, 0], [4000, 0, 0]], ` + onBoth + `}`), "A", "", ""},
	} {
		t.Run(row.say, func(t *testing.T) {
			src := fixture.Source(t, "degenerate.json", row.text)
			run, err := session.Check(context.Background(), src, engine.Options{})
			require.NoError(t, err)
			outputs(t, run, row.mark)
			assert.Less(t, run.Down.Imbalance(), 1e-9)
			from, _ := run.Down.Frame.PiecesOf(int32(src.Document.Index(row.mark)))
			if row.why == "" {
				assert.Empty(t, run.Down.Unsolved(from))
			} else {
				assert.Contains(t, run.Down.Unsolved(from), row.why)
			}
			var rules []string
			for _, f := range run.Result.Findings {
				if f.Member == row.mark {
					rules = append(rules, f.Rule)
				}
			}
			if row.rule != "" {
				assert.Contains(t, rules, row.rule)
			}
			for c := range run.Down.Cases {
				z := run.Down.Applied[c].Z - run.Down.Arrived[c].Z - run.Down.Unresolved[c].Z
				assert.LessOrEqual(t, math.Abs(z), 1e-9*math.Abs(run.Down.Applied[c].Z)+1e-6, "what has not arrived is said to have stopped")
			}
			if row.why != "" {
				notMet := slices.ContainsFunc(run.Result.Findings, func(f finding.Finding) bool {
					return f.Member == row.mark && f.Outcome == finding.NotMet && f.Severity == finding.Stop
				})
				assert.True(t, notMet, "what is not solved stops the job: %v", rules)
			}
		})
	}
}

// What a model says that cannot be is refused when it is read, with the mark.
func TestWhatCannotBeIsRefused(t *testing.T) {
	for say, text := range map[string]string{
		"a path of two equal points":   `"path": [[0, 0, 0], [0, 0, 0]]`,
		"a point twice in a row":       `"path": [[0, 0, 0], [4000, 0, 0], [4000, 0, 0]]`,
		"a path of one point":          `"path": [[0, 0, 0]]`,
		"no length":                    `"length": 0`,
		"a run of nothing":             `"length": 1000, "repeat": {"count": 0, "step": [0, 400, 0]}`,
		"more pieces than can be held": `"length": 1000, "repeat": {"count": 1000001, "step": [0, 400, 0]}`,
		"a section of no width":        `"length": 1000, "section": "0x195"`,
		"a place before the start":     `"length": 1000, "supports": [{"on": "A", "at": -1}]`,
	} {
		t.Run(say, func(t *testing.T) {
			_, problems := read.Document([]byte(members(`"M": {"role": "beam", `+text+`}`)), "degenerate.json")
			require.Len(t, problems, 1)
			assert.Equal(t, "M", problems[0].Mark)
		})
	}
}
