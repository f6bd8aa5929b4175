package baseline_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/baseline"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
)

// printed is what the JSON format makes of results: the second way to what the package reads.
func printed(t testing.TB, run report.Run) []byte {
	t.Helper()
	printer, err := report.Checks.Printer("json", report.Options{})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, printer.Print(&out, run))
	return out.Bytes()
}

func resultOf(file string, findings ...finding.Finding) *finding.Result {
	return &finding.Result{Version: "1", Model: finding.Model{File: file}, Findings: findings}
}

// bearing is a finding for the tests to change: 60 mm where 90 mm is needed.
func bearing(change func(*finding.Finding)) finding.Finding {
	ratio := 1.5
	f := finding.Finding{ID: "practice/bearing B1 W1@0", Rule: "practice/bearing", Outcome: finding.NotMet, Severity: finding.Ask, Member: "B1", Count: 2,
		Ratio: &ratio, Found: length(60), Required: length(90)}
	change(&f)
	return f
}

func same(*finding.Finding) {}

func length(mm float64) *finding.Figure { return &finding.Figure{Value: mm, Dimension: model.Length} }

func TestEachFindingStandsToTheOneOfBefore(t *testing.T) {
	accepted := &finding.Signoff{Who: "the engineer"}
	unrated := func(mm float64) func(*finding.Finding) {
		return func(f *finding.Finding) { f.Ratio, f.Found = nil, length(mm) }
	}
	rated := func(ratio float64) func(*finding.Finding) {
		return func(f *finding.Finding) { f.Ratio = &ratio }
	}
	for _, row := range []struct {
		sentence     string
		before, then func(*finding.Finding)
		want         finding.Standing
		was          string
	}{
		{"the same finding stood before", same, same, finding.Before, ""},
		{"another message or place changes nothing", same, func(f *finding.Finding) { f.Message, f.Place.Line = "anew", 9 }, finding.Before, ""},
		{"one of the whole frame that says something else is worse", func(f *finding.Finding) { f.Member, f.Message = "", "no drawing for J1" },
			func(f *finding.Finding) { f.Member, f.Message = "", "no drawing for J1, J2" }, finding.Worse, "no drawing for J1"},
		{"another id is another finding", same, func(f *finding.Finding) { f.ID = "practice/bearing B2 W1@0" }, finding.New, ""},
		{"what could not be checked is not what is not met", func(f *finding.Finding) { f.Outcome = finding.Unchecked }, same, finding.New, ""},
		{"what was not met and cannot be checked any more is new", same, func(f *finding.Finding) { f.Outcome = finding.Unchecked }, finding.New, ""},
		{"a heavier severity is worse", same, func(f *finding.Finding) { f.Severity = finding.Stop }, finding.Worse, "ask"},
		{"a lighter severity is not", same, func(f *finding.Finding) { f.Severity = finding.Note }, finding.Before, ""},
		{"more pieces are worse", same, func(f *finding.Finding) { f.Count = 3 }, finding.Worse, "of 2 pieces"},
		{"fewer pieces are not", same, func(f *finding.Finding) { f.Count = 1 }, finding.Before, ""},
		{"a larger ratio is worse", same, rated(1.6), finding.Worse, "60 mm"},
		{"a ratio that an edit elsewhere moved by a few newtons is not", same, rated(1.5004), finding.Before, ""},
		{"a smaller ratio is not", same, rated(1.2), finding.Before, ""},
		{"without a ratio, further from what is needed is worse", unrated(60), unrated(50), finding.Worse, "60 mm"},
		{"without a ratio, nearer is not", unrated(60), unrated(80), finding.Before, ""},
		{"what it was is written out, however large", unrated(12345.6), unrated(23456), finding.Worse, "12346 mm"},
		{"and a ratio so that it is no 1", func(f *finding.Finding) { rated(1.004)(f); f.Found = nil }, func(f *finding.Finding) { rated(1.2)(f); f.Found = nil }, finding.Worse, "at a ratio of 1.004"},
		{"a word cannot be further", unrated(60), func(f *finding.Finding) { f.Ratio, f.Found = nil, &finding.Figure{Text: "none"} }, finding.Before, ""},
		{"an acceptance that is withdrawn is worse", func(f *finding.Finding) { f.Signoff = accepted }, same, finding.Worse, "accepted"},
		{"so is one that lapsed", func(f *finding.Finding) { f.Signoff = accepted },
			func(f *finding.Finding) { f.Signoff = &finding.Signoff{Lapsed: "its date has passed"} }, finding.Worse, "accepted"},
		{"what is accepted since stood before", same, func(f *finding.Finding) { f.Signoff = accepted }, finding.Before, ""},
		{"a lapsed acceptance of then covers nothing now", func(f *finding.Finding) { f.Signoff = &finding.Signoff{Lapsed: "changed"} }, same, finding.Before, ""},
		{"a rule under its old id is the same rule", func(f *finding.Finding) { f.ID, f.Rule = "house/seat B1 W1@0", "house/seat" }, same, finding.Before, ""},
	} {
		t.Run(row.sentence, func(t *testing.T) {
			b, problems := baseline.Read("old.json", printed(t, report.Run{Results: []*finding.Result{resultOf("roof.json", bearing(row.before))}}))
			require.Empty(t, problems)
			r := resultOf("./roof.json", bearing(row.then))
			b.Hold(r, map[string][]string{"practice/bearing": {"house/seat"}})
			assert.Equal(t, row.want, r.Findings[0].Standing)
			assert.Equal(t, row.was, r.Findings[0].Was)
			assert.True(t, r.Since.Known)
		})
	}
}

func TestWhatIsNewIsCountedApart(t *testing.T) {
	gone := bearing(func(f *finding.Finding) { f.ID = "practice/bearing B9 W1@0" })
	open := bearing(func(f *finding.Finding) {
		f.ID, f.Outcome, f.Severity = "practice/notch B1", finding.Unchecked, finding.Stop
	})
	b, problems := baseline.Read("old.json", printed(t, report.Run{Results: []*finding.Result{resultOf("roof.json", bearing(same), gone, open)}}))
	require.Empty(t, problems)

	r := resultOf("roof.json", bearing(func(f *finding.Finding) { f.ID, f.Severity = "practice/bearing B4 W1@0", finding.Stop }), bearing(same), open)
	require.Equal(t, 3, r.Status(finding.Stop), "without an earlier result, what is unchecked counts")
	b.Hold(r, nil)
	assert.Equal(t, &finding.Since{File: "old.json", SHA256: r.Since.SHA256, Known: true,
		New: finding.Tally{Stop: 1}, Before: finding.Tally{Ask: 1, Unchecked: 1}, Gone: 1}, r.Since)
	assert.Len(t, r.Since.SHA256, 64)
	assert.Equal(t, 1, r.Status(finding.Stop))

	r = resultOf("roof.json", bearing(same), open)
	b.Hold(r, nil)
	assert.Equal(t, 0, r.Status(finding.Note), "all of it stood before")
	r.Incomplete = []string{"the region died"}
	assert.Equal(t, 3, r.Status(finding.Stop), "a run that is incomplete is so, whatever stood before")
}

func TestTwoFindingsOfOneIDAreHeldOneByOne(t *testing.T) {
	near, far := bearing(same), bearing(func(f *finding.Finding) { ratio := 3.0; f.Ratio = &ratio })
	b, problems := baseline.Read("old.json", printed(t, report.Run{Results: []*finding.Result{resultOf("roof.json", near, far)}}))
	require.Empty(t, problems)
	r := resultOf("roof.json", far, near, near)
	b.Hold(r, nil)
	assert.Equal(t, []finding.Standing{finding.Before, finding.Before, finding.New},
		[]finding.Standing{r.Findings[0].Standing, r.Findings[1].Standing, r.Findings[2].Standing})
	assert.Zero(t, r.Since.Gone)
}

func TestDocumentsAreMatchedByTheirFile(t *testing.T) {
	b, problems := baseline.Read("old.json", printed(t, report.Run{List: true, Results: []*finding.Result{
		resultOf("a/roof.json", bearing(same)), resultOf("floor.json")}}))
	require.Empty(t, problems)
	for file, want := range map[string]struct {
		known    bool
		standing finding.Standing
	}{
		"a/roof.json":        {true, finding.Before},
		"./a/../a/roof.json": {true, finding.Before},
		"floor.json":         {true, finding.New},
		"b/roof.json":        {false, finding.New},
		"roof.json":          {false, finding.New},
	} {
		r := resultOf(file, bearing(same))
		b.Hold(r, nil)
		assert.Equal(t, want.known, r.Since.Known, file)
		assert.Equal(t, want.standing, r.Findings[0].Standing, file)
	}
}

// TestAResultHeldAgainstAnEarlierOneIsAnEarlierResultToo holds that nothing is lost where each run's output becomes the
// next one's baseline.
func TestAResultHeldAgainstAnEarlierOneIsAnEarlierResultToo(t *testing.T) {
	first := printed(t, report.Run{Results: []*finding.Result{resultOf("roof.json", bearing(same))}})
	b, problems := baseline.Read("old.json", first)
	require.Empty(t, problems)
	r := resultOf("roof.json", bearing(same))
	b.Hold(r, nil)
	again, problems := baseline.Read("newer.json", printed(t, report.Run{Results: []*finding.Result{r}}))
	require.Empty(t, problems)
	again.Hold(r, nil)
	assert.Equal(t, finding.Before, r.Findings[0].Standing)
}

func TestWhatIsNoEarlierResultIsRefused(t *testing.T) {
	good := string(printed(t, report.Run{Results: []*finding.Result{resultOf("roof.json", bearing(same))}}))
	for _, row := range []struct{ sentence, text, want string }{
		{"nothing at all", "", "old.json:1:1: this is no earlier result: it is no JSON"},
		{"half a file", "{\n  \"tool\": {", "old.json:2:11"},
		{"a model", `{"framing": 1, "members": {}}`, "does not say that this program made it"},
		{"a list of problems", `{"problems": [{"message": "no"}], "caution": ""}`, "it lists what was wrong"},
		{"another form", `{"tool": {"name": "scantling", "result": 2}}`, "version 2 of the format, and version 1 is read"},
		{"no file", `{"tool": {"name": "scantling", "result": 1}, "model": {}, "findings": []}`, "names no file"},
		{"no findings", `{"tool": {"name": "scantling", "result": 1}, "model": {"file": "a.json"}}`, `"a.json" has no findings`},
		{"a model twice", `{"results": [` + good + `, ` + good + `]}`, `"roof.json" stands in it twice`},
		{"several broken ones, each told", `{"results": [{}, {"tool": {"name": "scantling", "result": 7}, "model": {"file": "b.json"}}]}`, `"b.json" is of version 7`},
		{"an outcome nobody knows", `{"tool": {"name": "scantling", "result": 1}, "model": {"file": "a.json"}, "findings": [{"id": "x", "outcome": "fine"}]}`,
			`finding 1: outcome "fine" is not known`},
		{"a severity nobody knows", `{"tool": {"name": "scantling", "result": 1}, "model": {"file": "a.json"}, "findings": [{"id": "x", "outcome": "not_met"}]}`,
			`severity "" is not known`},
		{"a finding without an id", `{"tool": {"name": "scantling", "result": 1}, "model": {"file": "a.json"}, "findings": [{"outcome": "not_met", "severity": "ask", "count": 1}]}`,
			"it has no id"},
		{"findings that are a word", `{"tool": {"name": "scantling", "result": 1}, "findings": "none"}`, "findings is a JSON string"},
		{"more behind the end", good + "{}", "it is no JSON"},
	} {
		t.Run(row.sentence, func(t *testing.T) {
			b, problems := baseline.Read("old.json", []byte(row.text))
			assert.Nil(t, b)
			require.NotEmpty(t, problems)
			last := problems[len(problems)-1]
			require.ErrorContains(t, last, row.want)
			assert.ErrorContains(t, last, "make one with `scantling check --format json`")
		})
	}
}

func FuzzRead(f *testing.F) {
	f.Add(printed(f, report.Run{Results: []*finding.Result{resultOf("roof.json", bearing(same))}}))
	f.Add([]byte(`{"results": [], "problems": []}`))
	f.Add([]byte(`{"tool": {"name": "scantling", "result": 1}, "model": {"file": "roof.json"}, "findings": [{"id": "practice/bearing B1 W1@0", "outcome": "not_met", "severity": "ask", "count": 1, "ratio": 1}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		b, problems := baseline.Read("old.json", text)
		if len(problems) > 0 {
			return
		}
		r := resultOf("roof.json", bearing(same), bearing(same))
		b.Hold(r, nil)
		require.Equal(t, 2, r.Since.New.Total()+r.Since.Before.Total(), "every finding is counted")
		require.True(t, json.Valid(text))
	})
}
