package pack

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/vocabulary"
)

// tablePack is a pack with one table in a file.
func tablePack(file string) string {
	return "pack: house\nformat: 1\nedition: \"1\"\ntitle: t\nparams: {a: {value: 1, text: t}}\ntables:\n  decks: {file: " + file + "}\n"
}

func TestTablesAreOpenedInThePacksOwnFolderOnly(t *testing.T) {
	folder, outside := t.TempDir(), t.TempDir()
	const csv = "thick [mm] exact, centres [mm]\n18, 450\n"
	for _, d := range []string{folder, outside} {
		require.NoError(t, os.WriteFile(filepath.Join(d, "decks.csv"), []byte(csv), 0o600))
	}
	require.NoError(t, os.Symlink(filepath.Join(outside, "decks.csv"), filepath.Join(folder, "link.csv")))
	require.NoError(t, os.Mkdir(filepath.Join(folder, "sub.csv"), 0o700))
	for _, row := range []struct{ file, says string }{
		{"decks.csv", ""},
		{"link.csv", "link.csv: the file cannot be opened"},
		{"../decks.csv", "a table is a file in the pack's own folder"},
		{filepath.Join(outside, "decks.csv"), "a table is a file in the pack's own folder"},
		{"missing.csv", "missing.csv: the file cannot be opened"},
		{"sub.csv", "sub.csv: this is a folder"},
	} {
		file := filepath.Join(folder, "house.yaml")
		require.NoError(t, os.WriteFile(file, []byte(tablePack(row.file)), 0o600))
		p, err := Open(file, House)
		if row.says == "" {
			require.NoError(t, err)
			require.Equal(t, "house", p.ID)
			continue
		}
		require.ErrorContains(t, err, row.says)
	}
	_, err := Open(filepath.Join(folder, "nothing.yaml"), House)
	require.ErrorContains(t, err, "nothing.yaml: the file cannot be opened")
	require.Equal(t, 1, strings.Count(err.Error(), "nothing.yaml"), "the file is named once")
}

func TestTheDigestCoversThePackAndItsTables(t *testing.T) {
	digest := func(csv string) string {
		files := fstest.MapFS{"a/house.yaml": {Data: []byte(tablePack("decks.csv"))}, "a/decks.csv": {Data: []byte(csv)}}
		p, err := Read(files, "a/house.yaml", House)
		require.NoError(t, err)
		return p.SHA256
	}
	require.Len(t, digest("a exact, b\n1, 2\n"), 64)
	require.NotEqual(t, digest("a exact, b\n1, 2\n"), digest("a exact, b\n1, 3\n"))
}

func TestScalarsAreReadAsTheyAreMeant(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	p, err := Parse([]byte(`pack: house
format: 1
edition: 2026.10
title: "quoted: title"
params:
  long: {value: 13 ft 6 in, text: t}
  quoted: {value: "5", text: t}
  ratio: {value: 1/3, text: t}
  share: {value: 5 %, text: t}
  word: {value: C24, text: t}
  yes_: {value: true, text: t}
  quoted_yes: {value: "true", text: t}
  list: {value: [50 mm, 2 in], text: t}
`), "house.yaml", House)
	require.NoError(t, err)
	s, err := Compile(book, p)
	require.NoError(t, err)
	require.Equal(t, "2026.10", p.Edition, "an edition keeps its zeros")
	got := map[string]any{}
	for _, q := range s.Params {
		got[q.Name] = []any{q.Value.Type.String(), q.Value.Number, q.Value.Text, q.Value.Truth, len(q.Value.List)}
	}
	require.Equal(t, map[string]any{
		"long": []any{"length", 13.5 * 304.8, "", false, 0}, "quoted": []any{"plain number", 5.0, "", false, 0},
		"ratio": []any{"plain number", 1.0 / 3, "", false, 0}, "share": []any{"plain number", 0.05, "", false, 0},
		"word": []any{"text", 0.0, "C24", false, 0}, "yes_": []any{"truth", 0.0, "", true, 0},
		"quoted_yes": []any{"text", 0.0, "true", false, 0}, "list": []any{"list of lengths", 0.0, "", false, 2},
	}, got)
}
