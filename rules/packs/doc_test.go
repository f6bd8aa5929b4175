package packs_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
)

var update = flag.Bool("update", false, "write the packs' documentation anew")

// TestDocumentationIsCurrent holds the README beside each pack, which is made of the pack itself, to the pack as it is.
func TestDocumentationIsCurrent(t *testing.T) {
	set := compile(t)
	for _, p := range set.Packs {
		t.Run(p.ID, func(t *testing.T) {
			file := filepath.Join(p.ID, "README.md")
			text := set.Doc(p, model.Metric)
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
			}
			was, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, text, string(was), "run go test ./rules/packs -update, and read the difference")
		})
	}
}
