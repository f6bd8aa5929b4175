package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var updateDocumentation = flag.Bool("update-documentation", false, "write the documentation of the regions' packs anew; read it before it is committed")

// TestRegionsPacksAreDocumented holds the README beside the pack of each region that ships, which is made of the pack
// itself, to the pack as it is. Those of the neutral packs are held beside them.
func TestRegionsPacksAreDocumented(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	for _, c := range []struct{ code, pack, folder string }{
		{"GB-ENG", "eurocode", "../../plugins/eurocode"},
		{"US", "us", "../../plugins/us/pack"},
	} {
		var printed, errs bytes.Buffer
		require.Zero(t, run([]string{"pack", "doc", c.pack, "--region", c.code}, nil, &printed, &errs), errs.String())
		file := filepath.Join(filepath.FromSlash(c.folder), "README.md")
		if *updateDocumentation {
			require.NoError(t, os.WriteFile(file, printed.Bytes(), 0o644))
		}
		was, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, printed.String(), string(was), "run go test ./cmd/scantling -run Documented -update-documentation, and read the difference")
	}
}
