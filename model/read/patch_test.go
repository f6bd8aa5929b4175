package read_test

import (
	"encoding/json"
	"strings"
	"testing"

	jsonpatch "github.com/evanphx/json-patch/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model/read"
)

const drawn = `{
  "framing": 1,
  "members": {
    "B1": {"role": "beam", "section": "47x195", "grade": "C24"},
    "B2": {
      "role": "beam",
      "supports": [{"on": "W1"}]
    },
    "B3": {"role": "beam"}
  }
}
`

// The examples of RFC 7396, Appendix A.
func TestMergeFollowsTheExamplesOfRFC7396(t *testing.T) {
	for _, c := range []struct{ base, patch, result string }{
		{`{"a":"b"}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"b"}`, `{"b":"c"}`, `{"a":"b","b":"c"}`},
		{`{"a":"b"}`, `{"a":null}`, `{}`},
		{`{"a":"b","b":"c"}`, `{"a":null}`, `{"b":"c"}`},
		{`{"a":["b"]}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"c"}`, `{"a":["b"]}`, `{"a":["b"]}`},
		{`{"a":{"b":"c"}}`, `{"a":{"b":"d","c":null}}`, `{"a":{"b":"d"}}`},
		{`{"a":[{"b":"c"}]}`, `{"a":[1]}`, `{"a":[1]}`},
		{`["a","b"]`, `["c","d"]`, `["c","d"]`},
		{`{"a":"b"}`, `["c"]`, `["c"]`},
		{`{"a":"foo"}`, `null`, `null`},
		{`{"a":"foo"}`, `"bar"`, `"bar"`},
		{`{"e":null}`, `{"a":1}`, `{"e":null,"a":1}`},
		{`[1,2]`, `{"a":"b","c":null}`, `{"a":"b"}`},
		{`{}`, `{"a":{"bb":{"ccc":null}}}`, `{"a":{"bb":{}}}`},
	} {
		assert.Equal(t, c.result, string(read.Merge([]byte(c.base), []byte(c.patch))), "%s patched with %s", c.base, c.patch)
	}
}

func TestAPatchChangesOnlyWhatItNames(t *testing.T) {
	p, problems := read.Patch(read.Source{Name: "roof.json", Text: []byte(drawn)},
		read.Source{Name: "built.json", Text: []byte(`{"members": {"B4": {"role": "post"}, "B1": {"section": "47x170", "grade": null}, "B3": null}}`)})
	require.Empty(t, problems)
	assert.Equal(t, `{
  "framing": 1,
  "members": {
    "B1": {"role": "beam", "section": "47x170"},
    "B2": {
      "role": "beam",
      "supports": [{"on": "W1"}]
    },
    "B4": {"role": "post"}
  }
}`, string(p.Text), "the layout and the order stay")
	var marks []string
	for _, m := range p.Document.Members {
		marks = append(marks, m.Mark)
	}
	assert.Equal(t, []string{"B1", "B2", "B4"}, marks)

	name, place := p.Origin(p.Document.Member("B2").Offset)
	assert.Equal(t, "roof.json", name)
	assert.Equal(t, read.Place{Line: 5, Column: 11, Offset: int64(strings.Index(drawn, `"B2"`) + 6)}, place)
	name, place = p.Origin(p.Document.Member("B4").Offset)
	assert.Equal(t, "built.json", name)
	assert.Equal(t, 1, place.Line)
	assert.Equal(t, 20, place.Column)
}

func TestProblemsOfAPatchStandWhereTheyComeFrom(t *testing.T) {
	base := read.Source{Name: "roof.json", Text: []byte(drawn)}
	for _, c := range []struct {
		what  string
		patch string
		base  string
		is    []string
	}{
		{"a wrong value", `{"members": {"B1": {"section": "47y"}}}`, drawn, []string{`built.json:1:32: "47y" is no section`}},
		{"an unknown key", "{\"members\": {\"B9\": {\"role\": \"post\",\n \"x\": 1}}}", drawn, []string{`built.json:2:2: "x" is no key`}},
		{"a key that must not go", `{"members": {"B1": {"role": null}}}`, drawn, []string{`built.json:1:20: "role" is missing`}},
		{"a key twice", `{"members": {"B1": {"grade": "C16", "grade": "C24"}}}`, drawn, []string{`built.json:1:37: "grade" stands here twice`}},
		{"a patch that is broken", `{"members": `, drawn, []string{`built.json:1:13: the file ends`}},
		{"a patch that is a list", `[1]`, drawn, []string{`built.json:1:1: a list stands where an object is wanted`}},
		{"a document that is broken", `{}`, `{"framing"`, []string{`roof.json:1:11: the file ends`}},
		{"a problem of the document", `{"members": {"B1": {"grade": "C16"}}}`, strings.Replace(drawn, `"B3": {"role": "beam"}`, `"B3": {"role": 3}`, 1), []string{`roof.json:9:20: a number stands`}},
		{"both", `{"members": {"B1": {"grade": 16}}}`, strings.Replace(drawn, `"B3": {"role": "beam"}`, `"B3": {"role": 3}`, 1), []string{`built.json:1:30: a number stands`, `roof.json:9:20: a number stands`}},
	} {
		t.Run(c.what, func(t *testing.T) {
			p, problems := read.Patch(read.Source{Name: base.Name, Text: []byte(c.base)}, read.Source{Name: "built.json", Text: []byte(c.patch)})
			require.Nil(t, p)
			require.Len(t, problems, len(c.is), "%v", problems)
			for i, text := range c.is {
				assert.Contains(t, problems[i].Error(), text)
			}
		})
	}
}

// A general merge-patch library gives the same document; it loses the order of keys, so that values are compared.
func FuzzMerge(f *testing.F) {
	f.Add([]byte(drawn), []byte(`{"members": {"B1": {"section": "47x170", "grade": null}, "B3": null}}`))
	f.Add([]byte(`{"a": [1], "b": {"c": {}}}`), []byte(`{"a": {"x": {"y": null, "z": 1}}, "b": {"c": {"d": null}}}`))
	f.Fuzz(func(t *testing.T, base, patch []byte) {
		var b, p map[string]any
		if json.Unmarshal(base, &b) != nil || json.Unmarshal(patch, &p) != nil || b == nil || p == nil {
			return
		}
		// A key that is there twice is refused by Patch, and libraries differ on it; what comes from here has none.
		base, _ = json.Marshal(b)
		patch, _ = json.Marshal(p)
		want, err := jsonpatch.MergePatch(base, patch)
		require.NoError(t, err)
		got := read.Merge(base, patch)
		require.JSONEq(t, string(want), string(got))
	})
}

func TestPlacesAreFoundWithinAMember(t *testing.T) {
	text := "{\"framing\": 1, \"members\": {\n  \"Größe/1\": {\"role\": \"beam\"},\n  \"B2\": {\"role\": \"ü\", \"supports\": [\n    {\"on\": \"W1\"}, {\"on\": \"W2\", \"bearing\": 90}]}}}"
	d := mustRead(t, text)
	places := read.NewPlaces([]byte(text))
	b2 := d.Member("B2")
	for _, c := range []struct {
		path  string
		at    string // what stands there
		place read.Place
	}{
		{"", `{"role"`, read.Place{Line: 3, Column: 9}},
		{"/supports", "[\n", read.Place{Line: 3, Column: 35}},
		{"/supports/0", `{"on": "W1"`, read.Place{Line: 4, Column: 5}},
		{"/supports/1/bearing", "90", read.Place{Line: 4, Column: 43}},
		{"/supports/1/notch/depth", `{"on": "W2"`, read.Place{Line: 4, Column: 19}},
		{"/supports/7/bearing", "[\n", read.Place{Line: 3, Column: 35}},
		{"/supports/x", "[\n", read.Place{Line: 3, Column: 35}},
		{"/grade", `{"role"`, read.Place{Line: 3, Column: 9}},
		{"/role/deeper", `"ü"`, read.Place{Line: 3, Column: 18}},
	} {
		t.Run(c.path, func(t *testing.T) {
			place := places.Member(b2.Offset, c.path)
			assert.True(t, strings.HasPrefix(text[place.Offset:], c.at), text[place.Offset:])
			assert.Equal(t, c.place, read.Place{Line: place.Line, Column: place.Column})
		})
	}
	assert.Equal(t, places.Member(b2.Offset, "/supports/1"), places.Pointer("/members/B2/supports/1"))
	assert.Equal(t, 2, places.Pointer("/members/Größe~11").Line)
	assert.Equal(t, read.Place{}, places.Member(-1, ""), "a member that was not read from text has no place")
	assert.Equal(t, read.Place{Line: 1, Column: 1}, read.NewPlaces(nil).Pointer("/members"))
}

// A generated document may stand on one line of many megabytes: places found one after the other, in any order, are
// those found alone.
func TestPlacesOnOneLongLineDoNotDependOnWhatWasAskedBefore(t *testing.T) {
	text := `{"framing": 1, "members": {"äö": {"role": "beam"}, "β2": {"role": "rafter"}, "ü3": {"role": "post"}}}`
	pointers := []string{"/members/ü3/role", "/members/äö", "/members/β2/role", "/members/β2", "/members/ü3", "/framing", "/members/ü3/role"}
	shared := read.NewPlaces([]byte(text))
	for _, p := range pointers {
		assert.Equal(t, read.NewPlaces([]byte(text)).Pointer(p), shared.Pointer(p), p)
	}
	assert.Equal(t, 43, shared.Pointer("/members/äö/role").Column, "characters, not bytes, are counted")
}
