package main

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A support that is taken out is found, and the rest of the report is still there.
func TestTakingASupportOutIsFound(t *testing.T) {
	cases := []struct{ what, out, found string }{
		{"a ridge beam loses the post under its end", "members/RB2/supports/1", "RB2: stop load-path/supports-needed"},
		{"a hip loses its head", "members/H3/supports/1", "H3: stop load-path/supports-needed"},
		{"a post stands on nothing", "members/P3/supports/0", "P3: stop load-path/reaches-ground"},
		{"a floor beam loses its wall", "members/GB1/supports/1", "GB1: stop load-path/supports-needed"},
		{"a cranked steel loses the wall over the lintel", "members/ST1/supports/1", "ST1: stop load-path/supports-needed"},
		{"a couple loses its tie", "members/RS1/tied_by", "RS1: stop load-path/rafter-thrust"},
		{"a lintel loses its wall", "members/L1/supports/0", "L1: stop load-path/supports-needed"},
	}
	var documents []map[string]any
	for _, c := range cases {
		documents = append(documents, without(t, "quillmere.json", c.out))
	}
	results, status := checkAll(t, documents)
	assert.Equal(t, statusIncomplete, status, "what rests on nothing cannot be checked further")
	for i, c := range cases {
		t.Run(c.what, func(t *testing.T) {
			found := results[i].lines()
			assert.Contains(t, found, c.found)
			for _, line := range []string{"BP1: ask paperwork/engineers-details-open", "OR1: ask practice/unverified", "P3: note paperwork/see-before-covered"} {
				assert.Contains(t, found, line, "the rest of the report")
			}
			assert.Greater(t, results[i].Summary.Met, 5000, "the rest is still checked")
		})
	}
}

// What the model does not say is never taken as met: the rule that needs it says that it could not be checked.
func TestWhatTheModelLacksIsUnchecked(t *testing.T) {
	cases := []struct{ lacks, out, found string }{
		{"the length of a bearing", "members/GJ1/supports/0/bearing", "GJ1 on WX3: unchecked (stop) practice/bearing-on-masonry"},
		{"the load that a hanger's figure is meant for", "members/TR1/supports/0/capacity/basis", "TR1 on GT1: unchecked (stop) load-path/connection-holds"},
		{"the load that a lap's figure is meant for", "members/RS1/tied_by/0/capacity/basis", "RS1: unchecked (stop) load-path/tie-joint-holds"},
		{"the strength of a wall's blocks", "members/WX3/masonry/strength", "GB1: unchecked (stop) eurocode/masonry-bearing"},
		{"a grade", "members/RN/grade", "RN: unchecked (stop) eurocode/can-be-judged"},
		{"the width of the leaf under a padstone", "members/WX3/width", "GB1 on WX3: unchecked (ask) practice/padstone-on-leaf"},
	}
	documents := []map[string]any{document(t, demo("quillmere.json"))}
	for _, c := range cases {
		documents = append(documents, without(t, "quillmere.json", c.out))
	}
	results, _ := checkAll(t, documents)
	for i, c := range cases {
		t.Run(c.lacks, func(t *testing.T) {
			assert.NotContains(t, results[0].lines(), c.found)
			assert.Contains(t, results[i+1].lines(), c.found)
			if strings.Contains(c.found, "(stop)") {
				assert.False(t, results[i+1].Summary.Complete)
			}
		})
	}
}

// A firm's own YAML file changes what is found in a metric document and in a US one, and says what it loosens.
func TestHousePackChangesTheFindingsOfBothDemos(t *testing.T) {
	pack := filepath.Join("..", "..", "testdata", "house", "house.yaml")
	for _, c := range []struct {
		demo string
		more []string
	}{
		{"quillmere.json", []string{
			"GJ1 on WX2: stop practice/bearing-on-masonry", "GJ1 on WX3: stop practice/bearing-on-masonry", "GJ2 on WX2: stop practice/bearing-on-masonry",
			"GJ3 on WX2: stop practice/bearing-on-masonry", "GJ3 on WX3: stop practice/bearing-on-masonry", "GJ4 on WX2: stop practice/bearing-on-masonry",
			"GT1 on WX2: stop practice/bearing-on-masonry", "GT1 on WX3: stop practice/bearing-on-masonry",
			"GT2 on WX2: stop practice/bearing-on-masonry", "GT2 on WX3: stop practice/bearing-on-masonry",
			"SR1: ask house/stout-ridge", "WPE: note house/fits-our-lorry", "WPN: note house/fits-our-lorry", "WPW: note house/fits-our-lorry"}},
		{"larkrun-porch.json", []string{
			"DB1: note house/fits-our-lorry", "LD1: note house/fits-our-lorry", "LR1: note house/fits-our-lorry", "RH1: note house/fits-our-lorry"}},
	} {
		t.Run(c.demo, func(t *testing.T) {
			bare, _ := check(t, demo(c.demo))
			told, _ := check(t, "--pack", pack, demo(c.demo))
			assert.ElementsMatch(t, append(bare.lines(), c.more...), told.lines())
			assert.Empty(t, bare.Loosened)
			require.Len(t, told.Loosened, 2)
			assert.Equal(t, "load-path.longest_cantilever", told.Loosened[0].Rule)
			assert.Equal(t, "practice/nominal-size", told.Loosened[1].Rule)
		})
	}
}

// checkAll checks documents in one run, from the standard input.
func checkAll(t *testing.T, documents []map[string]any) ([]*result, int) {
	t.Helper()
	var in bytes.Buffer
	for _, d := range documents {
		require.NoError(t, json.NewEncoder(&in).Encode(d))
	}
	out, status := commandOn(t, &in, "check", "--format", "json", "-")
	var told struct{ Results []*result }
	require.NoError(t, json.Unmarshal([]byte(out), &told), out)
	require.Len(t, told.Results, len(documents))
	return told.Results, status
}

// without is a demo without what a pointer names.
func without(t *testing.T, name, pointer string) map[string]any {
	t.Helper()
	doc := document(t, demo(name))
	take(t, doc, strings.Split(pointer, "/"))
	return doc
}

// take takes one thing out of a document, and what is left of it.
func take(t *testing.T, at any, path []string) any {
	t.Helper()
	switch at := at.(type) {
	case map[string]any:
		require.Contains(t, at, path[0])
		if len(path) == 1 {
			delete(at, path[0])
		} else {
			at[path[0]] = take(t, at[path[0]], path[1:])
		}
		return at
	case []any:
		i, err := strconv.Atoi(path[0])
		require.NoError(t, err)
		require.Less(t, i, len(at))
		if len(path) == 1 {
			return slices.Delete(at, i, i+1)
		}
		at[i] = take(t, at[i], path[1:])
		return at
	}
	require.Fail(t, "nothing is there", "%v", path)
	return nil
}
