package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPreCommitHook holds the hook that other repositories name: it has the keys that pre-commit needs
// (https://pre-commit.com/#creating-new-hooks: id, name, entry, language), and runs as it stands.
func TestPreCommitHook(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", ".pre-commit-hooks.yaml"))
	require.NoError(t, err)
	var hooks []struct {
		ID, Name, Description, Entry, Language, Files string
		Args                                          []string
		PassFilenames                                 bool `yaml:"pass_filenames"`
	}
	require.NoError(t, yaml.UnmarshalWithOptions(text, &hooks, yaml.Strict()))
	require.Len(t, hooks, 1)
	h := hooks[0]
	assert.Equal(t, "scantling", h.ID)
	assert.NotEmpty(t, h.Name)
	assert.Equal(t, "golang", h.Language, "the language that builds the hook from its source")
	assert.False(t, h.PassFilenames, "one process for the whole repository")
	files, err := regexp.Compile(h.Files)
	require.NoError(t, err)
	for _, name := range []string{"frames/roof.json", "frames/roof.signoffs.json", "scantling.yaml", "rules/spans.csv"} {
		assert.True(t, files.MatchString(name), name)
	}

	demo, err := os.ReadFile(filepath.Join("..", "..", "testdata", "quillmere-faulty.json"))
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	require.NoError(t, os.MkdirAll("frames", 0o755))
	require.NoError(t, os.WriteFile("frames/roof.json", demo, 0o644))
	require.NoError(t, os.WriteFile("package.json", []byte(`{"name": "not a frame"}`), 0o644))
	command := append(strings.Fields(h.Entry), h.Args...)
	require.Equal(t, "scantling", command[0])
	var out, errs bytes.Buffer
	assert.Equal(t, statusIncomplete, run(command[1:], strings.NewReader(""), &out, &errs))
	assert.Empty(t, errs.String())
	assert.Regexp(t, `(?m)^frames/roof\.json:\d+:\d+: stop: `, out.String())
	assert.NotContains(t, out.String(), "package.json")
}
