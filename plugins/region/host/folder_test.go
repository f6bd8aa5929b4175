//go:build unix

package host

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// This process is killed while it has a folder, when the variable names where; another then finds that folder.
const folderIn = "SCANTLING_TEST_FOLDER_IN"

func TestFolderOfAKilledProgramIsRemovedByTheNext(t *testing.T) {
	if in := os.Getenv(folderIn); in != "" {
		f, err := newFolder(in)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(f.path, "region"), nil, 0o700))
		fmt.Println(f.path)
		select {}
	}
	in := t.TempDir()
	program := exec.Command(os.Args[0], "-test.run=^"+t.Name()+"$")
	program.Env = append(os.Environ(), folderIn+"="+in)
	stdout, err := program.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, program.Start())
	path, err := bufio.NewReader(stdout).ReadString('\n')
	require.NoError(t, err)
	path = path[:len(path)-1]
	removeAbandoned(in)
	assert.FileExists(t, filepath.Join(path, "region"), "its program lives")
	require.NoError(t, program.Process.Kill())
	_ = program.Wait()
	assert.DirExists(t, path, "nobody has cleared up")
	removeAbandoned(in)
	assert.NoDirExists(t, path)
}

func TestNothingElseIsTakenForAnAbandonedFolder(t *testing.T) {
	in := t.TempDir()
	made := func(name string, mode os.FileMode) string {
		path := filepath.Join(in, name)
		require.NoError(t, os.Mkdir(path, mode))
		require.NoError(t, os.Chmod(path, mode))
		return path
	}
	elsewhere := made("elsewhere", 0o700)
	link := filepath.Join(in, folderName+"3")
	require.NoError(t, os.Symlink(elsewhere, link))
	file := filepath.Join(in, folderName+"4")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	mine, err := newFolder(in)
	require.NoError(t, err)
	defer mine.remove()
	stays := []string{elsewhere, link, mine.path, made("scantling-1", 0o700), made(folderName+"2", 0o755), made(folderName+"notes", 0o700), file}
	goes := made(folderName+"1", 0o700)
	removeAbandoned(in)
	for _, path := range stays {
		_, err := os.Lstat(path)
		assert.NoError(t, err)
	}
	assert.NoDirExists(t, goes)
}
