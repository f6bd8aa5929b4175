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

var updatePicture = flag.Bool("update-picture", false, "draw the README's picture anew; look at it before it is committed")

// TestPictureIsCurrent holds the README's picture to what the program draws of the demo.
func TestPictureIsCurrent(t *testing.T) {
	file, err := filepath.Abs(filepath.FromSlash("../../testdata/pictures/quillmere.svg"))
	require.NoError(t, err)
	t.Chdir(filepath.FromSlash("../.."))
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	var drawn, errs bytes.Buffer
	require.Zero(t, run([]string{"trace", "testdata/quillmere.json", "P3", "--format", "svg"}, nil, &drawn, &errs), errs.String())
	if *updatePicture {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, drawn.Bytes(), 0o644))
	}
	shown, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, drawn.String(), string(shown), "run go test ./cmd/scantling -run Picture -update-picture, and look at it")
}
