package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"
	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWatchEndsCleanly holds, within this process and so under the race detector, that a watch of the demo checks again on
// a save, and leaves neither a goroutine nor a region's process behind. How long a save took is logged.
func TestWatchEndsCleanly(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	model := filepath.Join(t.TempDir(), "demo.json")
	copyModel := func(name string) {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(model, text, 0o644))
	}
	copyModel("quillmere-faulty.json")
	goroutines := runtime.NumGoroutine()

	var out screen
	a := &app{in: strings.NewReader(""), out: &out, err: &out}
	root := a.root()
	root.SetArgs([]string{"check", "--watch", model})
	ctx, interrupt := context.WithCancel(t.Context())
	ended := make(chan error)
	go func() { ended <- root.ExecuteContext(ctx) }()
	out.shows(t, "status 3. Waiting for a save", 1)
	assert.Len(t, children(t), 1, "the region's process")
	saved := time.Now()
	copyModel("quillmere.json")
	out.shows(t, "status 0. Waiting for a save", 1)
	t.Logf("the demo was checked %d ms after the save, %d ms of it spent waiting for quiet", time.Since(saved).Milliseconds(), quiet.Milliseconds())
	copyModel("quillmere-faulty.json")
	out.shows(t, "status 3. Waiting for a save", 2)

	interrupt()
	require.NoError(t, <-ended)
	assert.Equal(t, statusIncomplete, a.status, "the last one")
	assert.Empty(t, children(t), "no process is left")
	for end := time.Now().Add(time.Minute); runtime.NumGoroutine() > goroutines && time.Now().Before(end); {
		time.Sleep(time.Millisecond) // those that are ending
	}
	assert.LessOrEqual(t, runtime.NumGoroutine(), goroutines, "no goroutine is left")
}

// children are the processes that this one has started and that still run; Linux alone says.
func children(t *testing.T) []string {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Skip("skipped: processes are counted in /proc")
	}
	tasks, err := filepath.Glob("/proc/self/task/*/children")
	require.NoError(t, err)
	var all []string
	for _, file := range tasks {
		text, _ := os.ReadFile(file) // a thread may have ended
		all = append(all, strings.Fields(string(text))...)
	}
	return all
}

func TestWatchReadsWhatItTouches(t *testing.T) {
	dir := t.TempDir()
	in := func(path string) string { return filepath.Join(dir, filepath.FromSlash(path)) }
	r := &reading{files: []string{in("jobs/roof.json"), in("jobs/roof.signoffs.json")}, folders: []string{in("frames")},
		settings: []string{in("scantling.yaml"), in("rules/house.yaml")}, packs: []string{in("rules")}}
	for _, row := range []struct {
		sentence, path string
		read, settings bool
	}{
		{"a model", "jobs/roof.json", true, false},
		{"its sign-offs", "jobs/roof.signoffs.json", true, false},
		{"not what an editor keeps beside it", "jobs/.roof.json.swp", false, false},
		{"nor another model beside it", "jobs/floor.json", false, false},
		{"but every model in a folder", "frames/deep/floor.json", true, false},
		{"and a folder in it", "frames/deep", true, false},
		{"not a page in it", "frames/report.html", false, false},
		{"settings", "scantling.yaml", true, true},
		{"a house pack", "rules/house.yaml", true, true},
		{"a table of it", "rules/tables/spans.csv", true, true},
		{"a folder that holds a model, which may be put in its place whole", "jobs", true, true},
		{"nothing else", "elsewhere/roof.json", false, false},
		{"nor what begins alike", "frames2/floor.json", false, false},
	} {
		read, settings := r.touches(in(row.path))
		assert.Equal(t, row.read, read, row.sentence)
		assert.Equal(t, row.settings, settings, row.sentence)
	}
}

// TestAFolderThatIsReplacedIsStillWatched holds that a model is followed through the loss of its whole folder.
func TestAFolderThatIsReplacedIsStillWatched(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	model := filepath.Join(dir, "roof.json")
	notes, err := fsnotify.NewWatcher()
	require.NoError(t, err)
	defer notes.Close()
	r := &reading{files: []string{model}}
	touched := func(what string, do func()) {
		require.NoError(t, r.follow(notes))
		do()
		_, ok := r.wait(t.Context(), notes)
		assert.True(t, ok, what)
	}
	touched("a folder appears", func() { require.NoError(t, os.Mkdir(dir, 0o755)) })
	assert.Equal(t, []string{filepath.Dir(dir)}, notes.WatchList())
	touched("a model appears in it", func() { require.NoError(t, os.WriteFile(model, nil, 0o644)) })
	assert.Equal(t, []string{dir}, notes.WatchList())
	touched("the folder is moved away", func() { require.NoError(t, os.Rename(dir, dir+".old")) })
	require.NoError(t, os.Mkdir(dir, 0o755))
	touched("another stands in its place", func() { require.NoError(t, os.WriteFile(model, nil, 0o644)) })
	touched("and that is removed", func() { require.NoError(t, os.RemoveAll(dir)) })

	ended, end := context.WithCancel(t.Context())
	end()
	_, ok := r.wait(ended, notes)
	assert.False(t, ok)
}

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
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		text, _ := os.ReadFile(ts.MkAbs(args[0])) // it may not be there yet
		if len(pattern.FindAll(text, times)) == times {
			return
		}
	}
	ts.Fatalf("%s does not match %q %d times:\n%s", args[0], args[1], times, ts.ReadFile(args[0]))
}
