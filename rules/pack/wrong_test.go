package pack

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/vocabulary"
)

var update = flag.Bool("update", false, "write the golden files")

// TestWrongPacks holds the words of every mistake: read a golden file before accepting it.
func TestWrongPacks(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	practice, err := Open("testdata/practice.yaml", Shipped)
	require.NoError(t, err)
	files, err := filepath.Glob("testdata/wrong/*.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 20)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			packs := []*Pack{practice}
			p, _ := Open(file, House)
			require.NotNil(t, p)
			err := Vet(book, append(packs, p)...)
			require.Error(t, err)
			_, compileErr := Compile(book, append(packs, p)...)
			if compileErr != nil { // what only Vet says keeps no run from starting
				for _, one := range compileErr.(Problems) {
					require.Contains(t, err.(Problems), one)
				}
			}
			golden := strings.TrimSuffix(file, ".yaml") + ".golden"
			if *update {
				require.NoError(t, os.WriteFile(golden, []byte(err.Error()+"\n"), 0o644))
			}
			want, readErr := os.ReadFile(golden)
			require.NoError(t, readErr)
			require.Equal(t, string(want), err.Error()+"\n")
		})
	}
}
