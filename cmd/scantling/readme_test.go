package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestReadme runs every command that the README shows, in order, in a folder that holds what a clone holds, and holds the
// output against what is shown. A line of three dots stands for any lines; lines that the README shows must follow each
// other. Files that a session makes are there for the commands after it.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, copyDemo(filepath.Join("..", "..", "testdata"), filepath.Join(dir, "testdata")))
	for name, content := range shownFiles(string(text)) {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644))
	}
	t.Chdir(dir)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, ".config"))
	sessions := shownCommands(string(text))
	require.Greater(t, len(sessions), 5, "the README shows commands")
	for _, s := range sessions {
		t.Run(s.command, func(t *testing.T) {
			var out bytes.Buffer
			run(arguments(t, s.command), strings.NewReader(""), &out, &out)
			assertShown(t, s.output, out.String())
		})
	}
}

// session is a command that the README shows, with the output under it.
type session struct{ command, output string }

var block = regexp.MustCompile("(?ms)^```console\n(.*?)^```$")

// shownCommands are the commands of the blocks marked console that run the program: lines that start with a dollar sign.
// Those that run Go's own tests are for CI, which runs them as they are.
func shownCommands(text string) []session {
	var out []session
	for _, b := range block.FindAllStringSubmatch(text, -1) {
		for _, part := range strings.Split("\n"+b[1], "\n$ ")[1:] {
			command, output, _ := strings.Cut(part, "\n")
			if rest, ok := strings.CutPrefix(command, "go run ./cmd/scantling "); ok {
				command = "scantling " + rest
			}
			if strings.HasPrefix(command, "scantling ") {
				out = append(out, session{command, output})
			}
		}
	}
	return out
}

var fileBlock = regexp.MustCompile("(?ms)^`([a-z./-]+)`:\n\n```(?:yaml|json)\n(.*?)^```$")

// shownFiles are the files that the README shows: their name in a line of its own, then a block.
func shownFiles(text string) map[string]string {
	out := map[string]string{}
	for _, b := range fileBlock.FindAllStringSubmatch(text, -1) {
		out[b[1]] = b[2]
	}
	return out
}

// arguments splits a command as a shell does, quotes included; nothing else of a shell's is used in the README.
func arguments(t *testing.T, command string) []string {
	t.Helper()
	var out []string
	var word strings.Builder
	quoted, some := false, false
	for _, r := range command {
		switch {
		case r == '\'':
			quoted, some = !quoted, true
		case r == ' ' && !quoted:
			if some {
				out = append(out, word.String())
			}
			word.Reset()
			some = false
		default:
			word.WriteRune(r)
			some = true
		}
	}
	require.False(t, quoted, "an open quote in %s", command)
	if some {
		out = append(out, word.String())
	}
	require.Equal(t, "scantling", out[0])
	return out[1:]
}

// assertShown holds an output against what is shown of it.
func assertShown(t *testing.T, shown, output string) {
	t.Helper()
	rest := output
	for i, part := range regexp.MustCompile(`(?m)^\.\.\.\n`).Split(shown, -1) {
		part = strings.TrimRight(part, "\n")
		if part == "" {
			continue
		}
		at := strings.Index(rest, part)
		if !assert.GreaterOrEqual(t, at, 0, "not in the output:\n%s\n\nthe output is:\n%s", part, output) {
			return
		}
		if i == 0 {
			assert.Zero(t, at, "the output begins otherwise:\n%s", output)
		}
		rest = rest[at+len(part):]
	}
}
