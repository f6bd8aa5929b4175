package wholefile_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/wholefile"
)

func TestAFileIsReplacedWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "report.html")
	for _, text := range []string{"first", "second"} {
		require.NoError(t, wholefile.Write(path, []byte(text)))
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, text, string(got))
	}
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 1, "nothing is left beside it")
}

func TestWhatCannotBeWrittenLeavesWhatWasThere(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "taken")
	require.NoError(t, os.MkdirAll(filepath.Join(folder, "inside"), 0o755))
	require.Error(t, wholefile.Write(folder, []byte("text")))
	require.Error(t, wholefile.Write(filepath.Join(dir, "missing", "file"), []byte("text")))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 1)
}
