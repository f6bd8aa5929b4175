package host

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strings"
	"sync"
	"time"
)

const (
	maxHandshake = 8 << 10                // bytes of the one line that a region may print
	keptStderr   = 4 << 10                // bytes of standard error that are kept for a failure's reason
	pipeDelay    = 200 * time.Millisecond // that grandchildren may hold the pipes open after the process has ended
)

// process is a region's process, as go-plugin's runner. Of standard output go-plugin sees the first line alone, of
// standard error nothing: it parses what it reads there, and a region must not be able to break it.
type process struct {
	command *exec.Cmd
	folder  string        // where the socket must be
	line    firstLine     // what it printed first
	errors  tail          // what it printed last to standard error
	ended   chan struct{} // closed when the process has been waited for

	mu     sync.Mutex
	alive  bool
	killed bool // it must not be started any more
}

// newProcess is a process that is not started yet. It has its own process group, so that it and its children can be
// killed together and a key press at the terminal ends the program first. Its standard input is a pipe that nothing is
// written to: when the program is gone, however that came about, the process sees its end.
func newProcess(path string, arguments []string, folder string) (*process, error) {
	p := &process{command: exec.Command(path, arguments...), folder: folder, ended: make(chan struct{})}
	p.line.reader, p.line.writer = io.Pipe()
	p.command.Dir = folder
	p.command.Stdout = &p.line
	p.command.Stderr = &p.errors
	p.command.WaitDelay = pipeDelay
	separate(p.command)
	_, err := p.command.StdinPipe()
	return p, err
}

// Start starts the process and a goroutine that waits for it, so that it never stays behind as a zombie.
func (p *process) Start(context.Context) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.killed {
		return errors.New("it was ended before it was started")
	}
	if err := p.command.Start(); err != nil {
		return err
	}
	p.alive = true
	go func() {
		_ = p.command.Wait()
		p.mu.Lock()
		p.alive = false
		killGroup(p.command.Process) // children that it left behind; its number is not in use again so soon
		p.mu.Unlock()
		p.line.end()
		close(p.ended)
	}()
	return nil
}

// Kill ends the process and its children without asking them.
func (p *process) Kill(context.Context) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.killed = true
	if p.alive {
		killGroup(p.command.Process)
	}
	return nil
}

// reap kills the process and waits for its end, so that nothing of it is left.
func (p *process) reap() {
	_ = p.Kill(context.Background())
	p.mu.Lock()
	alive := p.alive
	p.mu.Unlock()
	if alive {
		<-p.ended
	}
}

// Wait returns when the process has ended.
func (p *process) Wait(context.Context) error {
	<-p.ended
	return nil
}

// Stdout is the first line of standard output.
func (p *process) Stdout() io.ReadCloser { return p.line.reader }

// Stderr is empty.
func (p *process) Stderr() io.ReadCloser { return io.NopCloser(strings.NewReader("")) }

// Name is the path of the executable.
func (p *process) Name() string { return p.command.Path }

// ID is the process id, or empty before the start.
func (p *process) ID() string {
	if p.command.Process == nil {
		return ""
	}
	return fmt.Sprint(p.command.Process.Pid)
}

// Diagnose is empty: the handshake is explained by its own failures.
func (p *process) Diagnose(context.Context) string { return "" }

// PluginToHost is where to connect to. go-plugin asks for it once it has read the handshake, and connects only when
// there is nothing wrong with that.
func (p *process) PluginToHost(network, address string) (string, string, error) {
	if f := p.handshake(); f != nil {
		return "", "", f
	}
	return network, address, nil
}

// HostToPlugin is unused: the program serves nothing to regions.
func (p *process) HostToPlugin(network, address string) (string, string, error) {
	return network, address, nil
}

// firstLine passes the first line of a stream on to a reader, and forgets the rest.
type firstLine struct {
	reader *io.PipeReader
	writer *io.PipeWriter

	mu   sync.Mutex
	text []byte
	done bool
}

// Write takes everything and blocks on nothing but the reader of the one line.
func (f *firstLine) Write(data []byte) (int, error) {
	f.mu.Lock()
	if f.done {
		f.mu.Unlock()
		return len(data), nil
	}
	head, _, found := bytes.Cut(data, []byte("\n"))
	f.text = append(f.text, head[:min(len(head), maxHandshake-len(f.text))]...)
	f.done = found || len(f.text) >= maxHandshake
	done, text := f.done, f.text
	f.mu.Unlock()
	if done {
		_, _ = f.writer.Write(append(text[:len(text):len(text)], '\n'))
	}
	return len(data), nil
}

// String is what was read of the line so far.
func (f *firstLine) String() string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return string(f.text)
}

func (f *firstLine) end() { _ = f.writer.Close() }

// tail keeps the last bytes of a stream.
type tail struct {
	mu   sync.Mutex
	kept []byte
}

// Write keeps the end of what it was given.
func (t *tail) Write(data []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.kept = append(t.kept, data[max(0, len(data)-keptStderr):]...)
	if extra := len(t.kept) - keptStderr; extra > 0 {
		t.kept = append(t.kept[:0], t.kept[extra:]...)
	}
	return len(data), nil
}

// String is the line of a panic if there is one, or else the last line, safe to print.
func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	lines := strings.Split(strings.TrimSpace(string(t.kept)), "\n")
	for _, line := range lines {
		if strings.HasPrefix(line, "panic: ") || strings.HasPrefix(line, "fatal error: ") {
			return printable(line, 200)
		}
	}
	return printable(lines[len(lines)-1], 200)
}
