package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/testdata/regions/elsewhere"
)

// TestRegionOfSomebodyElseServesTheDemo builds a region in a module of its own and has it serve the code of the demo's
// site: once from the command line, once from the user's own settings, as `region pin` prints them.
func TestRegionOfSomebodyElseServesTheDemo(t *testing.T) {
	pinned := elsewhere.Pinned(t, elsewhere.Oakshire(t, elsewhere.Module(t)))
	text, err := os.ReadFile(demo("quillmere.json"))
	require.NoError(t, err)
	model := filepath.Join(t.TempDir(), "quillmere.json")
	require.NoError(t, os.WriteFile(model, bytes.ReplaceAll(text, []byte(`"C24"`), []byte(`"H20"`)), 0o600))
	home := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", home)
	said := func(args ...string) string {
		var out, errs bytes.Buffer
		run(args, strings.NewReader(""), &out, &errs)
		require.Empty(t, errs.String())
		return out.String()
	}
	judged := func(args ...string) *whole {
		told := &whole{}
		require.NoError(t, json.Unmarshal([]byte(said(append([]string{"check", "--format", "json"}, args...)...)), told))
		for _, why := range told.Incomplete {
			require.Contains(t, why, " could not be checked on ", "nothing failed")
		}
		require.NotNil(t, told.Region.ID)
		return told
	}

	ours := judged(model)
	assert.Equal(t, "eurocode", *ours.Region.ID)
	assert.Empty(t, ours.of("oakshire"))
	theirs := judged("--region-file", pinned.File, "--sha256", pinned.SHA256, model)
	assert.Equal(t, "oakshire", *theirs.Region.ID)
	assert.Empty(t, theirs.of("eurocode"))
	var reasons []any
	for _, f := range theirs.of("oakshire") { // what is of H20 is strong enough
		assert.Equal(t, "unchecked", f["outcome"], f["id"])
		reasons = append(reasons, f["reason"])
	}
	assert.Contains(t, reasons, `Oakshire knows no grade "GL24h"; it knows H20 and H30`)
	assert.NotEqual(t, ours.Findings, theirs.Findings)
	working := said("facts", "--region-file", pinned.File, "--sha256", pinned.SHA256, model, "RN")
	assert.Regexp(t, `(?m)^  oak\.bending: 0\.[0-9]+ under 1\.3 dead \+ 1\.5 `, working)
	assert.Contains(t, working, "Oakshire 2")

	entry := said("region", "pin", pinned.File)
	settings := "regions:\n" + strings.Replace(entry, "codes: []", "codes: [GB-ENG]", 1)
	require.NoError(t, os.MkdirAll(filepath.Join(home, "scantling"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(home, "scantling", "scantling.yaml"), []byte(settings), 0o600))
	assert.Equal(t, theirs, judged(model), "the user's settings do the same")
	assert.Equal(t, "us", *judged(demo("larkrun-porch.json")).Region.ID, "codes that it was not pinned for are served as before")
	assert.Contains(t, said("region", "list"), pinned.File+" pinned    GB-ENG")

	require.NoError(t, os.WriteFile(pinned.File, []byte("another"), 0o600))
	changed := &whole{}
	require.NoError(t, json.Unmarshal([]byte(said("check", "--format", "json", model)), changed))
	require.Len(t, changed.Incomplete, 1, "what changed since it was pinned is not run")
	assert.Contains(t, changed.Incomplete[0], pinned.SHA256+" was pinned")
}

func TestRegionCheckPrintsTheKitsReport(t *testing.T) {
	for _, row := range []struct {
		name       string
		executable func(*testing.T) string
		says       string
		status     int
	}{
		{"in Go", func(t *testing.T) string { return elsewhere.Oakshire(t, elsewhere.Module(t)) },
			"oakshire conforms: 22 checks met, 0 not met, 0 with nothing to check\n", statusClean},
		{"in JavaScript", func(t *testing.T) string { return elsewhere.Brackwater(t) },
			"brackwater conforms: 21 checks met, 0 not met, 1 with nothing to check\n", statusClean},
		{"no region", func(*testing.T) string { return demo("quillmere.json") },
			"the region does not conform: 0 checks met, 1 not met, 21 with nothing to check\n", statusFindings},
	} {
		t.Run(row.name, func(t *testing.T) {
			out, status := command(t, "region", "check", row.executable(t))
			assert.Equal(t, row.status, status)
			assert.True(t, strings.HasSuffix(out, "\n"+row.says), out)
			assert.Equal(t, 23, strings.Count(out, "\n"), "a line for each check and one that sums up")
		})
	}
}
