package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

// BenchmarkRecheck is the demo checked once more with everything warm: what a save costs beyond the quiet that is waited
// for.
func BenchmarkRecheck(b *testing.B) {
	b.Setenv("XDG_CONFIG_HOME", b.TempDir())
	model := filepath.Join(b.TempDir(), "demo.json")
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "quillmere.json"))
	require.NoError(b, err)
	a := &app{in: strings.NewReader(""), settings: settings{AtLeast: "stop"}}
	call := checking{inputCall: inputCall{models: []string{model}}, output: "-"}
	w := &watcher{app: a, call: call.inputCall, do: a.checkTask(call)}
	require.NoError(b, w.open())
	defer w.close()
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, os.WriteFile(model, text, 0o644))
		in, err := w.gather(w.call)
		require.NoError(b, err)
		var out bytes.Buffer
		_, err = w.do(b.Context(), w.session, in, &out)
		require.NoError(b, err)
	}
}

// await waits until a file that a running command writes matches a pattern so many times: await FILE PATTERN TIMES.
func await(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) != 3 {
		ts.Fatalf("usage: await FILE PATTERN TIMES")
	}
	times, err := strconv.Atoi(args[2])
	ts.Check(err)
	pattern := regexp.MustCompile("(?m)" + args[1])
	for end := time.Now().Add(15 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		text, _ := os.ReadFile(ts.MkAbs(args[0])) // it may not be there yet
		if len(pattern.FindAll(text, times)) == times {
			return
		}
	}
	ts.Fatalf("%s does not match %q %d times:\n%s", args[0], args[1], times, ts.ReadFile(args[0]))
}
