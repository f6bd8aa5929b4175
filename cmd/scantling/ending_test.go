//go:build unix

package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestHoweverItEndsNothingIsLeft ends the command, with a region running, in each way in which people and systems do, and
// holds that its folder for temporary files is empty then.
func TestHoweverItEndsNothingIsLeft(t *testing.T) {
	model := filepath.Join(t.TempDir(), "roof.json")
	save(t, model)
	for _, row := range []struct {
		how    string
		signal os.Signal // while it watches; nil: the reader goes
		status int
	}{
		{"interrupted", os.Interrupt, statusClean},
		{"asked to end", syscall.SIGTERM, statusClean},
		{"its terminal is closed", syscall.SIGHUP, statusClean},
		{"killed", syscall.SIGKILL, -1},
		{"nobody reads on", nil, statusUnusable},
	} {
		t.Run(row.how, func(t *testing.T) {
			if row.signal == syscall.SIGHUP { // a signal that is caught here is not ignored there, even under nohup
				caught := make(chan os.Signal, 1)
				signal.Notify(caught, syscall.SIGHUP)
				defer signal.Stop(caught)
			}
			temp := shortFolder(t)
			c := scantling(t, temp, "check", "--watch", model)
			out, err := c.StdoutPipe()
			require.NoError(t, err)
			var errs bytes.Buffer
			c.Stderr = &errs
			require.NoError(t, c.Start())
			lines := bufio.NewScanner(out)
			for lines.Scan() && !strings.Contains(lines.Text(), "Waiting for a save") {
			}
			require.NotEmpty(t, entries(t, temp), "the region's folder")
			if row.signal != nil {
				require.NoError(t, c.Process.Signal(row.signal))
			} else {
				require.NoError(t, out.Close())
				save(t, model)
			}
			_ = c.Wait()
			assert.Equal(t, row.status, c.ProcessState.ExitCode())
			assert.Empty(t, errs.String())
			assert.Eventually(t, func() bool { return len(entries(t, temp)) == 0 }, time.Minute, 10*time.Millisecond)
		})
	}
}

// save writes the demo, another title each time.
func save(t *testing.T, model string) {
	t.Helper()
	text, err := os.ReadFile(demo("quillmere.json"))
	require.NoError(t, err)
	title := fmt.Sprintf(`"title": "Saved at %d: `, time.Now().UnixNano())
	require.NoError(t, os.WriteFile(model, bytes.Replace(text, []byte(`"title": "`), []byte(title), 1), 0o600))
}

// scantling is the command in a process of its own.
func scantling(t *testing.T, temp string, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	c := exec.Command(self, args...)
	c.Args[0] = "scantling" // as which TestMain knows it
	c.Env = append(os.Environ(), "TMPDIR="+temp, "XDG_CONFIG_HOME="+filepath.Join(temp, "no such home"))
	return c
}

// shortFolder is a folder whose path leaves room for a socket's.
func shortFolder(t *testing.T) string {
	t.Helper()
	temp, err := os.MkdirTemp("/tmp", "end")
	require.NoError(t, err)
	t.Cleanup(func() { _ = os.RemoveAll(temp) })
	return temp
}

func entries(t *testing.T, folder string) []os.DirEntry {
	t.Helper()
	all, err := os.ReadDir(folder)
	require.NoError(t, err)
	return all
}
