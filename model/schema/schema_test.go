package schema_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model/read"
	"example.com/scantling/model/schema"
)

var update = flag.Bool("update", false, "write the schema anew")

func TestTheSchemaIsCurrent(t *testing.T) {
	built := schema.Build()
	if *update {
		require.NoError(t, os.WriteFile("framing.schema.json", built, 0o644))
		return
	}
	assert.Equal(t, string(built), string(schema.Text()), "run go test ./model/schema -update")
}

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Build()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	require.NoError(t, c.AddResource("framing.schema.json", parsed))
	s, err := c.Compile("framing.schema.json")
	require.NoError(t, err, "the schema is itself sound: it holds against its meta-schema")
	return s
}

func validate(t *testing.T, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	instance, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	return s.Validate(instance)
}

func TestReferenceCasesValidate(t *testing.T) {
	src, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "statics", "cases.json"))
	require.NoError(t, err)
	var cases []struct {
		ID    string          `json:"id"`
		Model json.RawMessage `json:"model"`
	}
	require.NoError(t, json.Unmarshal(src, &cases))
	require.Len(t, cases, 75)
	s := compiled(t)
	for _, c := range cases {
		assert.NoError(t, validate(t, s, c.Model), c.ID)
		d, problems := read.Document(c.Model, c.ID)
		require.Empty(t, problems, c.ID)
		assert.NoError(t, validate(t, s, read.Write(d)), "what is written validates too: %s", c.ID)
	}
}

// What the schema refuses, reading refuses too: they are made of one table.
func TestWrongDocumentsAreRefusedByBoth(t *testing.T) {
	s := compiled(t)
	for what, text := range map[string]string{
		"another version":           `{"framing": 2, "members": {"A": {"role": "beam"}}}`,
		"no version":                `{"members": {"A": {"role": "beam"}}}`,
		"no members":                `{"framing": 1}`,
		"no role":                   `{"framing": 1, "members": {"A": {"section": "47x195"}}}`,
		"an unknown key":            `{"framing": 1, "members": {"A": {"role": "beam", "sektion": "47x195"}}}`,
		"a number for a text":       `{"framing": 1, "members": {"A": {"role": 7}}}`,
		"an unknown action":         `{"framing": 1, "members": {"A": {"role": "beam", "loads": [{"action": "live", "line": 1}]}}}`,
		"a negative bearing":        `{"framing": 1, "members": {"A": {"role": "beam", "supports": [{"on": "B", "bearing": -5}]}}}`,
		"a point of two":            `{"framing": 1, "members": {"A": {"role": "beam", "path": [[0, 0], [1, 1, 1]]}}}`,
		"a count of none":           `{"framing": 1, "members": {"A": {"role": "beam", "repeat": {"count": 0, "step": [1, 0, 0]}}}}`,
		"a service class of four":   `{"framing": 1, "site": {"service_class": 4}, "members": {"A": {"role": "beam"}}}`,
		"an unknown way of holding": `{"framing": 1, "members": {"A": {"role": "beam", "supports": [{"on": "B", "by": "glued"}]}}}`,
	} {
		t.Run(what, func(t *testing.T) {
			assert.Error(t, validate(t, s, []byte(text)))
			_, problems := read.Document([]byte(text), "a.json")
			assert.NotEmpty(t, problems)
		})
	}
}
