package pack

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// packFiles is every YAML file of ours that a parser can be tried on.
func packFiles(t *testing.T) []string {
	var files []string
	require.NoError(t, filepath.WalkDir("../..", func(path string, _ fs.DirEntry, err error) error {
		if filepath.Ext(path) == ".yaml" {
			files = append(files, path)
		}
		return err
	}))
	return files
}

// TestBothParsersReadTheSame holds every item of every pack, with its place, to what the parser of house packs makes of
// it; and of the packs that ship, and of the regions', that the quicker parser can read them.
func TestBothParsersReadTheSame(t *testing.T) {
	quickly := map[string]bool{}
	for _, file := range packFiles(t) {
		t.Run(file, func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			careful, problems := parseYAML(file, data, House)
			quick, told := parseYAML(file, data, Shipped)
			require.Equal(t, problems, told)
			if careful != nil {
				alike(t, careful, quick)
			}
			quickly[file] = newYAMLFile(file, data).quick(data) != nil
		})
	}
	for _, file := range []string{"../../rules/packs/changes/changes.yaml", "../../rules/packs/load-path/load-path.yaml",
		"../../rules/packs/paperwork/paperwork.yaml", "../../rules/packs/practice/practice.yaml", "../../plugins/eurocode/eurocode.yaml", "../../plugins/us/pack/us.yaml"} {
		require.True(t, quickly[file], file)
	}
}

// alike holds two items and all below them against each other.
func alike(t *testing.T, want, got *item) {
	t.Helper()
	a, b := *want, *got
	a.keys, b.keys, a.items, b.items, a.file, b.file = nil, nil, nil, nil, nil, nil
	require.Equal(t, a, b)
	require.Len(t, got.keys, len(want.keys), "at %v", want.place)
	for i := range want.keys {
		alike(t, want.keys[i].key, got.keys[i].key)
		alike(t, want.keys[i].value, got.keys[i].value)
	}
	require.Len(t, got.items, len(want.items), "at %v", want.place)
	for i := range want.items {
		alike(t, want.items[i], got.items[i])
	}
}

func TestWhatTheQuickParserLeavesToTheOther(t *testing.T) {
	for name, text := range map[string]string{
		"nothing":          "",
		"no YAML":          "a: [1, 2",
		"a tab":            "a:\n\tb: 1",
		"an anchor":        "a: &x 1",
		"an alias":         "a: &x 1\nb: *x",
		"a merge":          "a: &x {b: 1}\nc: {<<: *x}",
		"a tag":            "a: !!str 1",
		"a key of no word": "? [a, b]\n: 1",
		"a key of nothing": "~: 1",
		"a number that older editions read otherwise": "a: 012",
		"a number with a mark":                        "a: 1_000",
		"no word":                                     ".inf",
		"no number":                                   "a: .inf",
		"a date":                                      "a: 2001-01-01",
		"two documents":                               "a: 1\n---\nb: 2",
		"a broken second":                             "a: 1\n---\nb: [",
	} {
		t.Run(name, func(t *testing.T) { require.Nil(t, newYAMLFile("x.yaml", []byte(text)).quick([]byte(text))) })
	}
}
