package read_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model/read"
)

// frame puts one member's text, and more top-level keys, into a document.
func frame(member string) string { return `{"framing": 1, "members": {"B1": ` + member + `}}` }

// marked takes the sign » out of a text and says where it stood, counted apart from the reader: line and column.
func marked(t *testing.T, text string) (clean string, line, column int) {
	t.Helper()
	before, after, found := strings.Cut(text, "»")
	require.True(t, found, "the sample marks the place of its mistake")
	last := before[strings.LastIndex(before, "\n")+1:]
	return before + after, strings.Count(before, "\n") + 1, len([]rune(last)) + 1
}

func TestEveryMistakeHasItsPlaceAndItsRemedy(t *testing.T) {
	for _, c := range []struct {
		what    string
		text    string // » stands before the mistake
		message string
		fix     string
		pointer string
	}{
		// The document.
		{"an empty file", `»`, "the file is empty", `{"framing": 1`, ""},
		{"white space only", "»  \n ", "the file is empty", `{"framing": 1`, ""},
		{"another kind of document", `»[1, 2]`, "a list stands where an object (the document) is wanted", "{...}", ""},
		{"no JSON at all", "»<html>", "this is not JSON: '<'", "just before it", ""},
		{"bytes that are no text", "»\xff\xfe\x00", "these bytes are not JSON in UTF-8", "UTF-8", ""},
		{"a byte order mark", "»\xef\xbb\xbf{}", "byte order mark", "without one", ""},
		{"a document cut off", `{"framing": 1, "members": {"B1": {"role»`, "ends in the middle", "cut off", "/members/B1"},
		{"a missing comma", "{\"framing\": 1\n »\"members\": {}}", `this is not JSON: '"'`, "commas", ""},
		{"a comma too many", `{"framing": 1», }`, "a comma stands before a closing bracket", "last comma", ""},
		{"a comment", frame(`{"role": "beam" »// fine
			}`), "a comment is not JSON", "note", "/members/B1"},
		{"two documents", `{"framing": 1, "members": {"B1": {"role": "beam"}}} »{}`, "something follows the end", "one document", ""},
		{"no version", `»{"members": {"B1": {"role": "beam"}}}`, `"framing" is missing`, "version of the format: 1; a patch that says only what was built otherwise has none, and goes with its model", ""},
		{"another version", `{"framing": »2, "members": {"B1": {"role": "beam"}}}`, "version 2 of the format is not known here", "write 1", "/framing"},
		{"no members", `»{"framing": 1}`, `"members" is missing`, "marks", ""},
		{"empty members", `»{"framing": 1, "members": {}}`, "the document has no members", "at least one", "/members"},
		{"members in a list", `{"framing": 1, "members": »[{"role": "beam"}]}`, "a list stands where an object of members", "B1", "/members"},
		{"an unknown key at the top", `{"framing": 1, »"titel": "x", "members": {"B1": {"role": "beam"}}}`, `"titel" is no key of the document`, `write "title"`, "/titel"},
		{"unknown units", `{"framing": 1, "units": »"imperial", "members": {"B1": {"role": "beam"}}}`, `"imperial" is not known here`, `"metric" or "us"`, "/units"},
		{"a mark twice", "{\"framing\": 1, \"members\": {\"B1\": {\"role\": \"beam\"},\n»\"B1\": {\"role\": \"post\"}}}", `"B1" stands here twice`, "one of the two", "/members/B1"},
		{"an empty mark", `{"framing": 1, "members": {»"": {"role": "beam"}}}`, `"" is of no use as a mark`, "1 to 120", "/members/"},
		{"an area twice", `{"framing": 1, "areas": {"a": {"kind": "roof"}, »"a": {}}, "members": {"B1": {"role": "beam"}}}`, `"a" stands here twice`, "one of the two", "/areas/a"},
		// Members.
		{"no role", frame(`»{"section": "47x195"}`), `"role" is missing`, "rafter", "/members/B1"},
		{"a number for a role", frame(`{"role": »7}`), "a number stands where a name is wanted", "in quotes", "/members/B1/role"},
		{"an empty role", frame(`{"role": »""}`), "an empty text says nothing", "leave the key out", "/members/B1/role"},
		{"a key twice", frame(`{"role": "beam", »"role": "post"}`), `"role" stands here twice`, "one of the two", "/members/B1/role"},
		{"an escaped key twice", frame(`{"role": "beam", »"r\u006fle": "post"}`), `"role" stands here twice`, "one of the two", "/members/B1/role"},
		{"an unknown key", frame(`{"role": "beam", »"sektion": "47x195"}`), `"sektion" is no key of a member`, `write "section"`, "/members/B1/sektion"},
		{"an unknown key like no other", frame(`{"role": "beam", »"zzzzzz": {"a": [1]}}`), `"zzzzzz" is no key of a member`, "note", "/members/B1/zzzzzz"},
		{"null", frame(`{"role": "beam", "grade": »null}`), "null says nothing", "leave the key out", "/members/B1/grade"},
		{"a truth for a text", frame(`{"role": "beam", "grade": »true}`), "a truth stands where a name is wanted", "in quotes", "/members/B1/grade"},
		{"a text for a truth", frame(`{"role": "beam", "ground": »"yes"}`), "a text stands where true or false is wanted", "true or false", "/members/B1/ground"},
		{"an unknown section", frame(`{"role": "beam", "section": »"203x133x24 UB"}`), `"203x133x24 UB" is no section`, `"203x133x25 UB"`, "/members/B1/section"},
		{"a section without size", frame(`{"role": "beam", "section": »{"width": 47}}`), "this section says no size", `"width" and "depth"`, "/members/B1/section"},
		{"layers and sides", frame(`{"role": "beam", "section": »{"width": 47, "layers": [{"width": 47, "depth": 195}]}}`), "has its sides in them", "take the other keys out", "/members/B1/section"},
		{"a list of no layers", frame(`{"role": "beam", "section": »{"layers": []}}`), "no layers", "layers", "/members/B1/section"},
		{"bolts through nothing", frame(`{"role": "beam", "section": »{"width": 47, "depth": 195, "bolts": "M12"}}`), "bolts belong", "layers", "/members/B1/section"},
		{"a finish of timber", frame(`{"role": "beam", "section": »"47x195", "finish": "hot"}`), "is not a hollow section", "finish out", "/members/B1/section"},
		{"a flat nothing", frame(`»{"role": "beam", "flat": true}`), "flat and finish belong to a section", "section", "/members/B1"},
		{"a section of 6 m", frame(`{"role": "beam", "section": {"width": »6000, "depth": 195}}`), "6000 mm is out of bounds", "5000 mm", "/members/B1/section/width"},
		{"a path of one point", frame(`{"role": "beam", "path": »[[0, 0, 0]]}`), "a path of 1 points leads nowhere", "two or more", "/members/B1/path"},
		{"a path that stands still", frame(`{"role": "beam", "path": »[[0, 0, 0], [0, 0, 0]]}`), "points 1 and 2 of the path are the same", "differ", "/members/B1/path"},
		{"a path of two kilometres", frame(`{"role": "beam", "path": »[[0, 0, 0], [2000000, 0, 0]]}`), "the path is 2000 m long", "kilometre", "/members/B1/path"},
		{"a point in the plane", frame(`{"role": "beam", "path": [[0, 0, 0], »[1, 1]]}`), "a list of 2 stands where a point [x, y, z] is wanted", "[0, 0, 2400]", "/members/B1/path/1"},
		{"a point of four", frame(`{"role": "beam", "path": [[0, 0, 0], »[1, 1, 1, 1]]}`), "a list of 4 stands where a point", "[0, 0, 2400]", "/members/B1/path/1"},
		{"a text for a coordinate", frame(`{"role": "beam", "path": [[0, 0, 0], [1, 1, »"x"]]}`), `"x" is not a number with a unit`, "90 mm", "/members/B1/path/1/2"},
		{"a wrong unit", frame(`{"role": "beam", "centres": »"5.5 kN"}`), `"5.5 kN" is a force, where a length is wanted`, `"90 mm"`, "/members/B1/centres"},
		{"a length beyond a kilometre", frame(`{"role": "beam", "length": »1000001}`), "1000001 mm is out of bounds", "1000000 mm", "/members/B1/length"},
		{"a length of nothing", frame(`{"role": "beam", "length": »0}`), "0 mm is out of bounds", "1000000 mm", "/members/B1/length"},
		{"a pitch beyond upright", frame(`{"role": "beam", "pitch": »95}`), "95 degrees is out of bounds", "90 degrees", "/members/B1/pitch"},
		{"NaN", frame(`{"role": "beam", "length": »NaN}`), "NaN is no number", "leave the key out", ""},
		{"infinity", frame(`{"role": "beam", "length": »-Infinity}`), "-Infinity is no number", "leave the key out", ""},
		{"a number too large", frame(`{"role": "beam", "length": »1e999}`), "1e999 is too large a number", "a frame can have", "/members/B1/length"},
		{"a million pieces and one", frame(`{"role": "beam", "repeat": {"count": »1000001, "step": [400, 0, 0]}}`), "1000001 is out of bounds", "1 to 1000000", "/members/B1/repeat/count"},
		{"half a piece", frame(`{"role": "beam", "repeat": {"count": »2.5, "step": [400, 0, 0]}}`), "2.5 is out of bounds", "whole number", "/members/B1/repeat/count"},
		{"a run without a step", frame(`{"role": "beam", "repeat": »{"count": 2}}`), `"step" is missing`, "[x, y, z]", "/members/B1/repeat"},
		{"tiles that pull up", `{"framing": 1, "areas": {"tiles": {"kind": "roof", "dead": »-0.75, "wind": -0.6}}, "members": {}}`, "-0.75 kN/m2 is out of bounds", "0 kN/m2 to", "/areas/tiles/dead"},
		{"one of two snows that lifts", `{"framing": 1, "areas": {"tiles": {"kind": "roof", "snow": {"even": 0.6, "drift": »-1}}}, "members": {}}`, "-1 kN/m2 is out of bounds", "0 kN/m2 to", "/areas/tiles/snow/drift"},
		{"an unknown area", frame(`{"role": "beam", "carries": [»"tiles"]}`), `no area is called "tiles"`, `add "tiles"`, "/members/B1/carries/0"},
		{"a strip of an unknown area", frame(`{"role": "beam", "carries": »{"area": "tiles", "width": 300}}`), `no area is called "tiles"`, `add "tiles"`, "/members/B1/carries/0"},
		{"a strip of nothing", frame(`{"role": "beam", "carries": »{"width": 300}}`), `"area" is missing`, "id of the area", "/members/B1/carries"},
		{"an unknown phase", frame(`{"role": "beam", "phase": »"old"}`), `"old" is not known here`, `"new", "existing" or "removed"`, "/members/B1/phase"},
		{"a condition misspelt", frame(`{"role": "beam", "condition": »"unverifed"}`), `"unverifed" is not known here`, `"unverified"`, "/members/B1/condition"},
		{"service class 4", frame(`{"role": "beam", "service_class": »4}`), "4 is out of bounds", "1 to 3", "/members/B1/service_class"},
		{"a direction to nowhere", frame(`{"role": "post", "depth_along": »[0, 0]}`), "leads nowhere", "[1, 0]", "/members/B1/depth_along"},
		// Supports.
		{"one support, not a list", frame(`{"role": "beam", "supports": »{"on": "W1"}}`), "an object stands where a list is wanted", "[...]", "/members/B1/supports"},
		{"a support on nothing", frame(`{"role": "beam", "supports": [»{"bearing": 50}]}`), "does not say what it is on", `"against"`, "/members/B1/supports/0"},
		{"a support on and against", frame(`{"role": "beam", "supports": [»{"on": "A", "against": "B"}]}`), "not both", `"on" or "against"`, "/members/B1/supports/0"},
		{"a negative bearing", frame(`{"role": "beam", "supports": [{"on": "A", "bearing": »-5}]}`), "-5 mm is out of bounds", "0 mm to", "/members/B1/supports/0/bearing"},
		{"an unknown way of holding", frame(`{"role": "beam", "supports": [{"on": "A", "by": »"glue"}]}`), `"glue" is not known here`, `"hanger"`, "/members/B1/supports/0/by"},
		{"an unknown basis", frame(`{"role": "beam", "supports": [{"on": "A", "capacity": {"down": 5, "basis": »"safe"}}]}`), `"safe" is not known here`, `"safe working"`, "/members/B1/supports/0/capacity/basis"},
		{"a seat of two sides", frame(`{"role": "beam", "supports": [{"on": "A", "seat": {"size": »"440x140"}}]}`), `"440x140" is no size of a seat`, "440x140x215", "/members/B1/supports/0/seat/size"},
		{"a seat of six metres", frame(`{"role": "beam", "supports": [{"on": "A", "seat": {"size": »"6000x140x215"}}]}`), "a side of 6000 mm", "5000 mm", "/members/B1/supports/0/seat/size"},
		{"a support back to front", frame(`{"role": "beam", "supports": [»{"on": "A", "continuous": true, "from": 900, "to": 100}]}`), "ends before it begins", "greater", "/members/B1/supports/0"},
		// Loads.
		{"a load of no action", frame(`{"role": "beam", "loads": [»{"line": 2}]}`), `"action" is missing`, "dead", "/members/B1/loads/0"},
		{"an unknown action", frame(`{"role": "beam", "loads": [{"action": »"live", "line": 2}]}`), `"live" is not known here`, `"imposed"`, "/members/B1/loads/0/action"},
		{"point and line", frame(`{"role": "beam", "loads": [»{"action": "dead", "point": 2, "line": 2, "at": 5}]}`), "either a point load or a line load", "one of", "/members/B1/loads/0"},
		{"neither point nor line", frame(`{"role": "beam", "loads": [»{"action": "dead"}]}`), "either a point load or a line load", "one of", "/members/B1/loads/0"},
		{"a point load nowhere", frame(`{"role": "beam", "loads": [»{"action": "dead", "point": 2}]}`), "does not say where it stands", `"at"`, "/members/B1/loads/0"},
		{"a point load from here to there", frame(`{"role": "beam", "loads": [»{"action": "dead", "point": 2, "at": 1, "to": 5}]}`), "stands in one place", `"at"`, "/members/B1/loads/0"},
		{"a line load at a place", frame(`{"role": "beam", "loads": [»{"action": "dead", "line": 2, "at": 1}]}`), "from one place to another", `"from"`, "/members/B1/loads/0"},
		{"a line load back to front", frame(`{"role": "beam", "loads": [»{"action": "dead", "line": 2, "from": 5, "to": 5}]}`), "ends before it begins", "greater", "/members/B1/loads/0"},
		{"three figures of a line load", frame(`{"role": "beam", "loads": [{"action": "dead", "line": »[1, 2, 3]}]}`), "a list of 3 stands where two figures are wanted", "[first, last]", "/members/B1/loads/0/line"},
		// Elsewhere.
		{"an area of an unknown kind", `{"framing": 1, "areas": {"a": {"kind": »"wall"}}, "members": {"B1": {"role": "beam"}}}`, `"wall" is not known here`, `"roof"`, "/areas/a/kind"},
		{"a load of tonnes on a roof", `{"framing": 1, "areas": {"a": {"snow": »5000}}, "members": {"B1": {"role": "beam"}}}`, "5000 kN/m2 is out of bounds", "0 kN/m2 to 1000 kN/m2", "/areas/a/snow"},
		{"a named load without a name", `{"framing": 1, "areas": {"a": {"snow": {»"": 0.5}}}, "members": {"B1": {"role": "beam"}}}`, "of no use as the load's name", "1 to 120", "/areas/a/snow/"},
		{"a grade as heavy as lead thrice", `{"framing": 1, "grades": {"g": {"density": »35000}}, "members": {"B1": {"role": "beam"}}}`, "35000 kg/m3 is out of bounds", "kg/m3", "/grades/g/density"},
		{"a drawing's section that is none", frame(`{"role": "beam", "drawing": {"S-1": {"section": »"47y"}}}`), `"47y" is no section`, "47x195", "/members/B1/drawing/S-1/section"},
		{"a place after letters of two bytes", "{\"framing\": 1, \"title\": \"Größe\", »\"x\": 1, \"members\": {\"B1\": {\"role\": \"beam\"}}}", `"x" is no key`, "", "/x"},
	} {
		t.Run(c.what, func(t *testing.T) {
			text, line, column := marked(t, c.text)
			d, problems := read.Document([]byte(text), "roof.json")
			require.Nil(t, d, "a document with a problem is not given")
			require.Len(t, problems, 1, "%v", problems)
			p := problems[0]
			assert.Contains(t, p.Message, c.message)
			assert.Contains(t, p.Fix, c.fix)
			assert.Equal(t, c.pointer, p.Pointer)
			assert.Equal(t, fmt.Sprintf("%d:%d", line, column), fmt.Sprintf("%d:%d", p.Line, p.Column), "the place: %s", p.Error())
			assert.Equal(t, int64(strings.Index(c.text, "»")), p.Offset)
			if strings.HasPrefix(c.pointer, "/members/B1") {
				assert.Equal(t, "B1", p.Mark)
			}
			assert.Equal(t, fmt.Sprintf("roof.json:%d:%d: %s; %s", line, column, p.Message, p.Fix), p.Error())
		})
	}
}

func TestAllMistakesAreToldAtOnceInOrder(t *testing.T) {
	_, problems := read.Document([]byte(`{
  "framing": 3,
  "members": {
    "B1": {"role": "beam", "length": "5 kN", "supports": [{"on": "W1", "bearing": -1}, {"bearing": true}], "grad": "C24"},
    "B2": {"section": "47y195", "repeat": {"count": NaN, "step": [1, 2, 3]}}
  }
}`), "roof.json")
	var got []string
	for _, p := range problems {
		got = append(got, fmt.Sprintf("%d:%d %s", p.Line, p.Column, p.Message))
	}
	assert.Equal(t, []string{
		`2:14 version 3 of the format is not known here`,
		`4:38 "5 kN" is a force, where a length is wanted`,
		`4:83 -1 mm is out of bounds for this length`,
		`4:88 this support does not say what it is on`,
		`4:100 a truth stands where a length is wanted`,
		`4:108 "grad" is no key of a member`,
		`5:11 "role" is missing`,
		`5:23 "47y195" is no section that is known here`,
		`5:53 NaN is no number`,
	}, got)
	assert.Len(t, strings.Split(problems.Error(), "\n"), len(problems))
	assert.Len(t, problems.Unwrap(), len(problems))
}

func TestManyProblemsAreCounted(t *testing.T) {
	var b strings.Builder
	for i := range 250 {
		fmt.Fprintf(&b, `, "B%d": {"roll": "beam"}`, i)
	}
	_, problems := read.Document([]byte(`{"framing": 1, "members": {"A": {"role": "beam"}`+b.String()+`}}`), "roof.json")
	require.Len(t, problems, 101)
	assert.Equal(t, "roof.json: 400 more problems; mend those above first", problems[100].Error())
}

func TestTooManyPiecesAreRefused(t *testing.T) {
	var b strings.Builder
	for i := range 6 {
		fmt.Fprintf(&b, `, "B%d": {"role": "beam", "repeat": {"count": 1000000, "step": [400, 0, 0]}}`, i)
	}
	_, problems := read.Document([]byte(`{"framing": 1, "members": {"A": {"role": "beam"}`+b.String()+`}}`), "roof.json")
	require.Len(t, problems, 1, "told once")
	assert.Equal(t, "B4", problems[0].Mark)
	assert.Contains(t, problems[0].Message, "more than 5000000 pieces")
}

// A support that names no member is a fact of the frame, which rules judge; it is no mistake of reading.
func TestUnknownMarksAreNoMistakes(t *testing.T) {
	d, problems := read.Document([]byte(frame(`{"role": "rafter", "supports": [{"on": "NOWHERE"}, {"against": "R9"}], "tied_by": "T9", "drawing": "S-9",
		"openings": [{"from": 0, "to": 900, "lintel": "L9"}], "straps": [{"to": "W9"}]}`)), "roof.json")
	require.Empty(t, problems)
	assert.Equal(t, "NOWHERE", d.Members[0].Supports[0].On)
	assert.Equal(t, "R9", d.Members[0].Supports[1].Against)
}

// Bad input of any size ends in one clear line, soon: the bounds are loose enough for a busy machine.
func TestHostileInputEndsInOneLine(t *testing.T) {
	for what, text := range map[string][]byte{
		"ten megabytes of nothing":     bytes.Repeat([]byte{0}, 10<<20),
		"ten megabytes of letters":     bytes.Repeat([]byte("x"), 10<<20),
		"a million brackets":           bytes.Repeat([]byte("["), 1<<20),
		"a million objects in another": []byte(`{"framing": 1, "members": {"B1": {"note": ` + strings.Repeat(`{"a":`, 1<<20)),
		"a text without an end":        []byte(`{"framing": 1, "title": "` + strings.Repeat("a", 10<<20)),
		"a long number":                []byte(frame(`{"role": "beam", "length": ` + strings.Repeat("9", 1<<20) + `}`)),
		"a long section":               []byte(frame(`{"role": "beam", "section": "` + strings.Repeat("9", 1<<19) + `"}`)),
		"a long quantity":              []byte(frame(`{"role": "beam", "length": "` + strings.Repeat("9 ft ", 1<<17) + `"}`)),
		"a long key":                   []byte(frame(`{"role": "beam", "` + strings.Repeat("k", 1<<20) + `": 1}`)),
	} {
		t.Run(what, func(t *testing.T) {
			done := make(chan read.Problems, 1)
			go func() {
				_, problems := read.Document(text, "roof.json")
				done <- problems
			}()
			select {
			case problems := <-done:
				require.Len(t, problems, 1)
				assert.Less(t, len(problems[0].Error()), 400)
			case <-time.After(time.Minute):
				t.Fatal("reading does not end")
			}
		})
	}
}

func TestFilesThatCannotBeReadSayWhy(t *testing.T) {
	folder := t.TempDir()
	_, problems := read.File(filepath.Join(folder, "none.json"))
	require.Len(t, problems, 1)
	assert.Contains(t, problems.Error(), "none.json: there is no such file")
	_, problems = read.File(folder)
	require.Len(t, problems, 1)
	assert.Contains(t, problems.Error(), "this is a folder")
	path := filepath.Join(folder, "roof.json")
	require.NoError(t, os.WriteFile(path, []byte(frame(`{"role": "beam"}`)), 0o600))
	src, problems := read.File(path)
	require.Empty(t, problems)
	assert.Equal(t, path, src.Name)
	_, problems = read.From(failing{}, "-")
	require.Len(t, problems, 1)
	assert.Contains(t, problems.Error(), "-: the text cannot be read: the pipe is broken")
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, fmt.Errorf("the pipe is broken") }

// Past the place where a file stops being JSON, three letters in a row are no number gone wrong.
func TestNothingIsReadPastWhereItStopsBeingJSON(t *testing.T) {
	_, problems := read.Document([]byte(`{"framing": 1, "members": {"B1": {"length": NaN, "role" beam NaN}}}`), "x.json")
	require.Len(t, problems, 2)
	assert.Contains(t, problems[0].Message, "NaN is no number")
	assert.Contains(t, problems[1].Message, "this is not JSON")
}
