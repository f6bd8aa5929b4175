//go:build unix

package faulty

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// LeavesNothing runs a function and asserts that no process, zombies included, and no file, socket or goroutine of it is
// left. Processes are looked for in /proc, where there is one.
func LeavesNothing(t *testing.T, do func()) {
	t.Helper()
	temp, err := os.MkdirTemp("/tmp", "left") // short enough for sockets
	require.NoError(t, err)
	defer func() { _ = os.RemoveAll(temp) }()
	defer t.Setenv("TMPDIR", os.TempDir())
	t.Setenv("TMPDIR", temp)
	goroutines, children := runtime.NumGoroutine(), offspring(t)
	do()
	assert.Equal(t, children, offspring(t), "processes are left")
	entries, err := os.ReadDir(temp)
	require.NoError(t, err)
	assert.Empty(t, entries, "files are left")
	for range 500 {
		if runtime.NumGoroutine() <= goroutines {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	stacks := make([]byte, 1<<20)
	assert.Fail(t, "goroutines are left", string(stacks[:runtime.Stack(stacks, true)]))
}

// offspring is the processes whose parent is this one, zombies included.
func offspring(t *testing.T) []string {
	t.Helper()
	var found []string
	stats, err := filepath.Glob("/proc/[0-9]*/stat")
	require.NoError(t, err)
	for _, path := range stats {
		stat, err := os.ReadFile(path)
		if err != nil {
			continue // it has ended meanwhile
		}
		rest := stat[bytes.LastIndexByte(stat, ')')+1:]
		if parent := strings.Fields(string(rest))[1]; parent == strconv.Itoa(os.Getpid()) {
			found = append(found, filepath.Base(filepath.Dir(path)))
		}
	}
	return found
}
