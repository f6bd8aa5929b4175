package pack

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/pack/schema"
)

// asJSON is a YAML file as a JSON Schema validator reads it.
func asJSON(t *testing.T, data []byte) any {
	converted, err := yaml.YAMLToJSON(data)
	require.NoError(t, err)
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(converted))
	require.NoError(t, err)
	return v
}

func packSchema(t *testing.T) *jsonschema.Schema {
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Pack))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("pack.json", document))
	s, err := c.Compile("pack.json")
	require.NoError(t, err)
	return s
}

func TestTheSchemaHasTheKeysThatAreRead(t *testing.T) {
	var s struct {
		Properties map[string]json.RawMessage
		Defs       map[string]struct{ Properties map[string]json.RawMessage } `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(schema.Pack, &s))
	var named struct {
		AdditionalProperties struct{ Properties map[string]json.RawMessage }
	}
	keys := func(m map[string]json.RawMessage) []string { return slices.Sorted(maps.Keys(m)) }
	sorted := func(list []string) []string { return slices.Sorted(slices.Values(list)) }
	require.Equal(t, sorted(packKeys), keys(s.Properties))
	require.Equal(t, sorted(ruleKeys), keys(s.Defs["rule"].Properties))
	require.Equal(t, sorted(exampleKeys), keys(s.Defs["example"].Properties))
	require.NoError(t, json.Unmarshal(s.Properties["params"], &named))
	require.Equal(t, sorted(paramKeys), keys(named.AdditionalProperties.Properties))
	named.AdditionalProperties.Properties = nil
	require.NoError(t, json.Unmarshal(s.Properties["tables"], &named))
	require.Equal(t, sorted(tableKeys), keys(named.AdditionalProperties.Properties))
}

func TestTheSchemaTakesWhatVetsClean(t *testing.T) {
	s := packSchema(t)
	starter, err := Starter("house")
	require.NoError(t, err)
	require.NoError(t, s.Validate(asJSON(t, []byte(starter))))
	for _, file := range []string{"testdata/practice.yaml", "testdata/house.yaml"} {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, s.Validate(asJSON(t, data)), file)
	}
}

func TestTheSchemaRefusesMistakesOfForm(t *testing.T) {
	s := packSchema(t)
	for _, name := range []string{"unknown-key", "severity-and-subject", "examples", "header"} {
		data, err := os.ReadFile(filepath.Join("testdata/wrong", name+".yaml"))
		require.NoError(t, err)
		require.Error(t, s.Validate(asJSON(t, data)), name)
	}
}
