package host_test

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"iter"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/testdata/regions/oakshire"
)

var background = context.Background()

// site is one that Oakshire knows everything about.
func site(t testing.TB) *region.Site {
	section, err := model.ParseSection("50x200", model.Metric)
	require.NoError(t, err)
	return &region.Site{Code: "XA-OAK", Sections: []region.Section{*section}, Grades: []region.GradeName{{Name: "H20"}, {Name: "H30"}}}
}

// joists is so many beams of that site.
func joists(n int) []kit.Beam {
	beams := make([]kit.Beam, n)
	for i := range beams {
		beams[i] = kit.Beam{Grade: int32(i % 2), Span: 2000 + float64(i%20)*100, Load: 0.4, Multiplicity: 1}
	}
	return beams
}

// batches is so many batches of so many beams.
func batches(s *region.Site, p *region.Preparation, count, size int) iter.Seq[*region.Batch] {
	beams := joists(size)
	return func(yield func(*region.Batch) bool) {
		for range count {
			if !yield(kit.Batch(s, p, beams, nil)) {
				return
			}
		}
	}
}

// run asks a client everything that a check of a model does, and returns the number of pieces answered.
func run(t testing.TB, c *host.Client, count, size int) (int, error) {
	s := site(t)
	p, err := c.Prepare(background, s)
	if err != nil {
		return 0, err
	}
	pieces := 0
	err = c.Derive(background, s, p, batches(s, p, count, size), func(b *region.Batch, d *region.Derived) error {
		pieces += len(d.ID)
		return nil
	})
	return pieces, err
}

// failure asserts that an error is a failure with that cause.
func failure(t *testing.T, err error, cause host.Cause) *host.Failure {
	t.Helper()
	var f *host.Failure
	require.ErrorAs(t, err, &f)
	require.Equal(t, cause, f.Cause, f.Error())
	return f
}

// leavesNothing runs a function and asserts that no process, folder, socket or goroutine of it is left.
func leavesNothing(t *testing.T, do func()) {
	t.Helper()
	temp, err := os.MkdirTemp("/tmp", "host") // short enough for sockets
	require.NoError(t, err)
	defer func() { _ = os.RemoveAll(temp) }()
	t.Setenv("TMPDIR", temp)
	goroutines, children := runtime.NumGoroutine(), offspring(t)
	do()
	assert.Equal(t, children, offspring(t), "processes are left")
	entries, err := os.ReadDir(temp)
	require.NoError(t, err)
	assert.Empty(t, entries, "files are left")
	if !comes(func() bool { return runtime.NumGoroutine() <= goroutines }) {
		stacks := make([]byte, 1<<20)
		assert.Fail(t, "goroutines are left", string(stacks[:runtime.Stack(stacks, true)]))
	}
}

// comes waits for something to become true, without a goroutine of its own.
func comes(condition func() bool) bool {
	for range 500 {
		if condition() {
			return true
		}
		time.Sleep(10 * time.Millisecond)
	}
	return false
}

// offspring is the processes whose parent or process group leads back to this one, zombies included.
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

func TestRegionAnswersFromItsOwnProcess(t *testing.T) {
	leavesNothing(t, func() {
		c := host.Start(background, host.Options{Shipped: "oakshire"})
		defer c.Close()
		d, err := c.Describe(background)
		require.NoError(t, err)
		assert.Equal(t, "oakshire", d.ID)
		pieces, err := run(t, c, 9, 50)
		require.NoError(t, err)
		assert.Equal(t, 450, pieces)
		span, err := c.Span(background, &region.SpanRequest{Use: "floor joist", Section: site(t).Sections[0], Grade: region.GradeName{Name: "H20"}, Centres: 400,
			Loads: []region.SpanLoad{{Action: model.Imposed, Value: 2e-3}}})
		require.NoError(t, err)
		assert.Equal(t, "deflection", span.Governs)
	})
}

func TestBothWaysToARegionAnswerAlike(t *testing.T) {
	remote := host.Start(background, host.Options{Shipped: "oakshire"})
	defer remote.Close()
	local := host.InProcess("oakshire", oakshire.New(), host.Deadlines{})
	defer local.Close()
	var answers [2][]*region.Derived
	for i, c := range []*host.Client{remote, local} {
		s := site(t)
		s.Areas = []region.Area{{Area: model.Area{ID: "attic", Kind: "floor"}, Slope: 0.1}}
		p, err := c.Prepare(background, s)
		require.NoError(t, err)
		answers[i] = make([]*region.Derived, 3)
		working := func(yield func(*region.Batch) bool) {
			for b := range batches(s, p, 3, 7) {
				b.Working = true
				if !yield(b) {
					return
				}
			}
		}
		require.NoError(t, c.Derive(background, s, p, working, func(b *region.Batch, d *region.Derived) error {
			answers[i][b.Sequence] = d
			return nil
		}))
	}
	assert.Equal(t, answers[1], answers[0])
	assert.NotEmpty(t, answers[0][0].Working)
}

func TestStartingFails(t *testing.T) {
	for _, row := range []struct {
		region string
		cause  host.Cause
		reason string
	}{
		{"dead", host.Unstartable, `its process ended (exit status 3); the last it said was "no licence found"`},
		{"unknown to this program", host.Unstartable, `no region \"unknown to this program\" ships with this program`},
		{"silent", host.Slow, "it did not answer within 400ms and was ended"},
		{"chatty", host.Unstartable, `it printed "Welcome to Oakshire!" instead of saying where to connect`},
		{"endless", host.Unstartable, `it printed "xxxxxxx`},
		{"newer", host.Version, "the region speaks version 7 of the contract and scantling speaks 1: upgrade scantling"},
		{"older", host.Version, "the region speaks version 0 of the contract and scantling speaks 1: upgrade the region"},
		{"unnumbered", host.Unstartable, `it says that it speaks version "one" of the contract`},
		{"othercore", host.Unstartable, "it speaks version 9 of go-plugin's handshake and scantling speaks 1"},
		{"netrpc", host.Unstartable, `it speaks "netrpc" instead of grpc`},
		{"tcp", host.Unstartable, `it listens on "tcp" instead of a unix socket`},
		{"elsewhere", host.Unstartable, `its socket "/run/other.sock" is not in the folder that it was given`},
		{"open", host.Unstartable, "it sent no certificate"},
	} {
		t.Run(row.region, func(t *testing.T) {
			leavesNothing(t, func() {
				deadlines := host.Deadlines{}
				if row.cause == host.Slow {
					deadlines.Start = 400 * time.Millisecond
				}
				c := host.Start(background, host.Options{Shipped: row.region, Deadlines: deadlines})
				defer c.Close()
				_, err := c.Describe(background)
				f := failure(t, err, row.cause)
				assert.Contains(t, f.Reason, row.reason)
				assert.Equal(t, row.region, f.Region)
				assert.Equal(t, "start", f.During)
				_, again := c.Prepare(background, site(t))
				assert.Same(t, f, again, "every further call fails alike")
			})
		})
	}
}

// TestAStartIsSlowHoweverShortItsDeadline has a deadline pass while everything of the start is still under way, as the
// usual one does on a machine that is starved.
func TestAStartIsSlowHoweverShortItsDeadline(t *testing.T) {
	for _, deadline := range []time.Duration{time.Nanosecond, time.Millisecond, 2 * time.Millisecond, 5 * time.Millisecond, 10 * time.Millisecond} {
		for range 10 {
			c := host.Start(background, host.Options{Shipped: "silent", Deadlines: host.Deadlines{Start: deadline}})
			_, err := c.Describe(background)
			c.Close()
			failure(t, err, host.Slow)
		}
	}
}

func TestVersionErrorNamesTheSideToUpgrade(t *testing.T) {
	c := host.Start(background, host.Options{Shipped: "newer"})
	defer c.Close()
	_, err := c.Describe(background)
	var v *host.VersionError
	require.ErrorAs(t, err, &v)
	assert.Equal(t, &host.VersionError{Region: 7, Program: []int{region.ContractVersion}}, v)
	assert.Equal(t, "scantling", v.Upgrade())
}

func TestNonsenseOnTheSocketIsAFailure(t *testing.T) {
	leavesNothing(t, func() {
		c := host.Start(background, host.Options{Shipped: "frames", Deadlines: host.Deadlines{Describe: time.Second}})
		defer c.Close()
		_, err := c.Describe(background)
		var f *host.Failure
		require.ErrorAs(t, err, &f)
		assert.Contains(t, []host.Cause{host.Malformed, host.Slow}, f.Cause, f.Error())
	})
}

func TestNoiseDoesNoHarm(t *testing.T) {
	leavesNothing(t, func() {
		c := host.Start(background, host.Options{Shipped: "noisy"})
		defer c.Close()
		pieces, err := run(t, c, 3, 10)
		require.NoError(t, err)
		assert.Equal(t, 30, pieces)
	})
}

func TestNoEnvironmentIsInherited(t *testing.T) {
	t.Setenv("SECRET_OF_THE_USER", "1")
	c := host.Start(background, host.Options{Shipped: "environment"})
	defer c.Close()
	_, err := c.Describe(background)
	f := failure(t, err, host.Refused)
	given := strings.Fields(f.Reason)
	slices.Sort(given)
	assert.Equal(t, []string{"PLUGIN_CLIENT_CERT", "PLUGIN_MAX_PORT", "PLUGIN_MIN_PORT", "PLUGIN_PROTOCOL_VERSIONS", "PLUGIN_UNIX_SOCKET_DIR", "SCANTLING_REGION"}, given)
}

func TestRunningFails(t *testing.T) {
	for _, row := range []struct {
		region string
		cause  host.Cause
		reason string
		ended  bool // the region cannot be asked again
	}{
		{"panics", host.Panicked, "its code panicked: out of [2J oak", false},
		{"refuses", host.Refused, "no oak today", false},
		{"exits", host.Died, "its process ended (exit status 7)", true},
		{"crashes", host.Died, `its process ended (exit status 2); the last it said was "panic: a goroutine of mine"`, true},
		{"hangs", host.Slow, "it did not answer within 500ms and was ended", true},
		{"stops", host.Slow, "it did not answer within 500ms and was ended", true},
		{"misnumbers", host.Malformed, "which it does not owe", false},
		{"shortens", host.Malformed, "it gives 49 values instead of 50", false},
		{"inflates", host.Oversize, "a message is larger than 16 MiB", false},
	} {
		t.Run(row.region, func(t *testing.T) {
			leavesNothing(t, func() {
				deadlines := host.Deadlines{}
				if row.cause == host.Slow {
					deadlines.Derive = 500 * time.Millisecond
				}
				c := host.Start(background, host.Options{Shipped: row.region, Deadlines: deadlines})
				defer c.Close()
				_, err := run(t, c, 8, 10)
				f := failure(t, err, row.cause)
				assert.Contains(t, f.Reason, row.reason)
				assert.NotContains(t, f.Error(), "\x1b", "nothing of a region's making reaches a terminal unseen")
				_, again := c.Span(background, &region.SpanRequest{})
				if row.ended {
					assert.Same(t, f, again)
				} else {
					assert.NoError(t, again)
				}
			})
		})
	}
}

func TestKilledRegionIsAFailureAtOnce(t *testing.T) {
	leavesNothing(t, func() {
		c := host.Start(background, host.Options{Shipped: "oakshire"})
		defer c.Close()
		s := site(t)
		p, err := c.Prepare(background, s)
		require.NoError(t, err)
		answered := 0
		err = c.Derive(background, s, p, batches(s, p, 1000, 10), func(*region.Batch, *region.Derived) error {
			if answered++; answered == 20 {
				for _, child := range offspring(t) {
					pid, _ := strconv.Atoi(child)
					require.NoError(t, syscall.Kill(pid, syscall.SIGKILL))
				}
			}
			return nil
		})
		f := failure(t, err, host.Died)
		assert.Equal(t, "its process ended (signal: killed)", f.Reason)
		assert.GreaterOrEqual(t, answered, 20)
		assert.Less(t, answered, 1000)
	})
}

func TestStoppedRegionCanBeClosed(t *testing.T) {
	leavesNothing(t, func() {
		c := host.Start(background, host.Options{Shipped: "oakshire"})
		_, err := c.Describe(background)
		require.NoError(t, err)
		for _, child := range offspring(t) {
			pid, _ := strconv.Atoi(child)
			require.NoError(t, syscall.Kill(pid, syscall.SIGSTOP))
		}
		c.Close()
		_, err = c.Describe(background)
		require.NoError(t, err, "what is known is known")
		_, err = c.Span(background, &region.SpanRequest{})
		failure(t, err, host.Cancelled)
	})
}

func TestChildrenOfARegionEndWithIt(t *testing.T) {
	leavesNothing(t, func() {
		c := host.Start(background, host.Options{Shipped: "breeds"})
		_, err := c.Describe(background)
		require.NoError(t, err)
		require.NotEmpty(t, sleepers(t), "the region has a child")
		c.Close()
		assert.True(t, comes(func() bool { return len(sleepers(t)) == 0 }))
	})
}

// sleepers is the processes that the region "breeds" has started: it is their group's leader and ran here.
func sleepers(t *testing.T) []string {
	t.Helper()
	var found []string
	commands, err := filepath.Glob("/proc/[0-9]*/cmdline")
	require.NoError(t, err)
	for _, path := range commands {
		command, _ := os.ReadFile(path)
		folder, _ := os.Readlink(filepath.Join(filepath.Dir(path), "cwd"))
		if bytes.HasPrefix(command, []byte("/bin/sleep\x001000")) && strings.HasPrefix(folder, os.TempDir()) {
			found = append(found, path)
		}
	}
	return found
}

// The program's side of the handshake without a program: nothing holds this process but its standard input.
func TestRegionEndsWhenTheProgramIsGone(t *testing.T) {
	self, err := os.Executable()
	require.NoError(t, err)
	program, err := os.ReadFile(self)
	require.NoError(t, err)
	for _, row := range []struct {
		what  string
		other string // a file in its folder that the program did not put there
	}{
		{"it takes its folder with it", ""},
		{"it leaves what is not the program's", "notes"},
	} {
		t.Run(row.what, func(t *testing.T) {
			folder, err := os.MkdirTemp("/tmp", "host")
			require.NoError(t, err)
			defer func() { _ = os.RemoveAll(folder) }()
			sockets, executable := filepath.Join(folder, "sockets"), filepath.Join(folder, "region")
			require.NoError(t, os.Mkdir(sockets, 0o700))
			require.NoError(t, os.WriteFile(executable, program, 0o700))
			if row.other != "" {
				require.NoError(t, os.WriteFile(filepath.Join(folder, row.other), nil, 0o600))
			}
			child := exec.Command(executable, "serve-region", "oakshire")
			child.Env = []string{"SCANTLING_REGION=contract", "PLUGIN_PROTOCOL_VERSIONS=1", "PLUGIN_UNIX_SOCKET_DIR=" + sockets}
			stdin, err := child.StdinPipe()
			require.NoError(t, err)
			stdout, err := child.StdoutPipe()
			require.NoError(t, err)
			require.NoError(t, child.Start())
			defer func() { _ = child.Process.Kill() }()
			line, err := bufio.NewReader(stdout).ReadString('\n')
			require.NoError(t, err)
			assert.True(t, strings.HasPrefix(line, "1|1|unix|"+sockets), line)
			require.NoError(t, stdin.Close())
			ended := make(chan error, 1)
			go func() { ended <- child.Wait() }()
			select {
			case err := <-ended:
				assert.NoError(t, err)
			case <-time.After(time.Minute):
				assert.Fail(t, "it lives on without its program")
			}
			left, _ := filepath.Glob(filepath.Join(folder, "*"))
			if row.other != "" {
				assert.Equal(t, []string{filepath.Join(folder, row.other)}, left)
			} else {
				assert.NoDirExists(t, folder)
			}
		})
	}
}

func TestContextEndsARegion(t *testing.T) {
	leavesNothing(t, func() {
		ctx, cancel := context.WithCancel(background)
		c := host.Start(ctx, host.Options{Shipped: "oakshire"})
		defer c.Close()
		_, err := c.Describe(background)
		require.NoError(t, err)
		cancel()
		assert.True(t, comes(func() bool { return len(offspring(t)) == 0 }))
	})
}

func TestStartingClearsUpAfterAProgramThatWasKilled(t *testing.T) {
	leavesNothing(t, func() {
		left := filepath.Join(os.Getenv("TMPDIR"), "scantling-region-1", "sockets")
		require.NoError(t, os.MkdirAll(left, 0o700))
		c := host.Start(background, host.Options{Shipped: "oakshire"})
		defer c.Close()
		_, err := c.Describe(background)
		require.NoError(t, err)
	})
}

func TestClosingWhileStartingLeavesNothing(t *testing.T) {
	leavesNothing(t, func() {
		for _, name := range []string{"oakshire", "silent"} {
			c := host.Start(background, host.Options{Shipped: name})
			c.Close()
			_, err := c.Describe(background)
			failure(t, err, host.Cancelled)
		}
	})
}

func TestCallerGivesUp(t *testing.T) {
	for _, name := range []string{"oakshire", "hangs"} {
		t.Run(name, func(t *testing.T) {
			c := host.Start(background, host.Options{Shipped: name})
			defer c.Close()
			s := site(t)
			p, err := c.Prepare(background, s)
			require.NoError(t, err)
			ctx, cancel := context.WithCancel(background)
			endless := func(yield func(*region.Batch) bool) {
				for b := range batches(s, p, 1_000_000, 5) {
					if b.Sequence == 0 {
						cancel()
					}
					if !yield(b) {
						return
					}
				}
			}
			err = c.Derive(ctx, s, p, endless, func(*region.Batch, *region.Derived) error { return nil })
			f := failure(t, err, host.Cancelled)
			assert.ErrorIs(t, f, context.Canceled)
			_, err = c.Span(background, &region.SpanRequest{})
			assert.NoError(t, err, "the region itself is as well as before")
		})
	}
}

func TestErrorOfTheCallerIsReturnedAsItIs(t *testing.T) {
	own := errors.New("my own trouble")
	for name, c := range map[string]*host.Client{"in its process": host.Start(background, host.Options{Shipped: "oakshire"}), "in this one": host.InProcess("oakshire", oakshire.New(), host.Deadlines{})} {
		t.Run(name, func(t *testing.T) {
			defer c.Close()
			s := site(t)
			p, err := c.Prepare(background, s)
			require.NoError(t, err)
			assert.Equal(t, own, c.Derive(background, s, p, batches(s, p, 100, 5), func(*region.Batch, *region.Derived) error { return own }))
		})
	}
}

func TestBatchThatBreaksTheContractIsNotSent(t *testing.T) {
	c := host.InProcess("oakshire", oakshire.New(), host.Deadlines{})
	s := site(t)
	p, err := c.Prepare(background, s)
	require.NoError(t, err)
	spoiled := func(yield func(*region.Batch) bool) {
		for b := range batches(s, p, 1, 5) {
			b.Stations.M = b.Stations.M[1:]
			yield(b)
		}
	}
	err = c.Derive(background, s, p, spoiled, func(*region.Batch, *region.Derived) error { return nil })
	assert.Contains(t, failure(t, err, host.Unfit).Reason, "Stations.M has 149 entries instead of 150")
}

func TestBatchOverTheLargestMessageIsAFailure(t *testing.T) {
	c := host.Start(background, host.Options{Shipped: "oakshire"})
	defer c.Close()
	_, err := run(t, c, 1, 60_000)
	failure(t, err, host.Oversize)
	pieces, err := run(t, c, 1, 10)
	require.NoError(t, err)
	assert.Equal(t, 10, pieces)
}

func TestInProcessFaultsAreFailuresToo(t *testing.T) {
	for _, row := range []struct {
		what   string
		region faulty
		cause  host.Cause
	}{
		{"it panics", faulty{derive: func(*region.Derived) error { panic("oak") }}, host.Panicked},
		{"it refuses", faulty{derive: func(*region.Derived) error { return errors.New("no") }}, host.Refused},
		{"it hangs", faulty{derive: func(*region.Derived) error { select {} }}, host.Slow},
		{"it leaves out a value", faulty{derive: func(d *region.Derived) error { d.Value = d.Value[1:]; return nil }}, host.Malformed},
	} {
		t.Run(row.what, func(t *testing.T) {
			deadlines := host.Deadlines{}
			if row.cause == host.Slow {
				deadlines.Derive = 300 * time.Millisecond
			}
			c := host.InProcess("faulty", row.region, deadlines)
			defer c.Close()
			_, err := run(t, c, 8, 10)
			failure(t, err, row.cause)
		})
	}
}

// external writes an executable and returns its path and digest.
func external(t *testing.T, content []byte) (string, string) {
	path := filepath.Join(t.TempDir(), "a-region")
	require.NoError(t, os.WriteFile(path, content, 0o600)) // the copy is made runnable, not this
	sum := sha256.Sum256(content)
	return path, hex.EncodeToString(sum[:])
}

func TestExecutableIsHeldToItsDigest(t *testing.T) {
	script := []byte("#!/bin/sh\necho '1|9|unix|/socket|grpc|certificate'\ncat >/dev/null\n")
	path, digest := external(t, script)
	other := strings.Repeat("ab", 32)
	for _, row := range []struct {
		what   string
		o      host.Options
		cause  host.Cause
		reason string
	}{
		{"the right digest lets it run", host.Options{File: path, SHA256: strings.ToUpper(digest)}, host.Version, "speaks version 9"},
		{"another digest does not", host.Options{File: path, SHA256: other}, host.Digest, fmt.Sprintf("its SHA-256 is %s, and %s was pinned", digest, other)},
		{"no digest does not", host.Options{File: path}, host.Digest, `"" is not a SHA-256 in hexadecimal`},
		{"half a digest does not", host.Options{File: path, SHA256: digest[:32]}, host.Digest, "is not a SHA-256 in hexadecimal"},
		{"no file is no region", host.Options{File: path + "x", SHA256: digest}, host.Unstartable, "no such file"},
		{"a folder is no region", host.Options{File: filepath.Dir(path), SHA256: digest}, host.Unstartable, "is not a file"},
	} {
		t.Run(row.what, func(t *testing.T) {
			leavesNothing(t, func() {
				c := host.Start(background, row.o)
				defer c.Close()
				_, err := c.Describe(background)
				assert.Contains(t, failure(t, err, row.cause).Reason, row.reason)
			})
		})
	}
}

func TestWhatIsNoProgramIsAFailure(t *testing.T) {
	for _, row := range []struct {
		what    string
		content string
		reason  string
	}{
		{"an empty file", "", "exec format error"},
		{"bytes of no kind", "\x00\x01\x02", "exec format error"},
		{"a script of an interpreter that is not there", "#!/no/such/interpreter\n", "no such file or directory"},
		{"a script that ends at once", "#!/bin/sh\nexit 0\n", "its process ended (exit status 0)"},
	} {
		t.Run(row.what, func(t *testing.T) {
			path, digest := external(t, []byte(row.content))
			leavesNothing(t, func() {
				c := host.Start(background, host.Options{File: path, SHA256: digest})
				defer c.Close()
				_, err := c.Describe(background)
				assert.Contains(t, failure(t, err, host.Unstartable).Reason, row.reason)
			})
		})
	}
}
