package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"example.com/scantling/engine/report"
)

// patience is how long work goes on before its progress is shown.
const patience = time.Second

// progress shows how far long work has come, and goes without a trace. A nil progress shows nothing.
type progress struct {
	mu    sync.Mutex
	doing string
	done  int
	of    int // fewer than 2: how far it is cannot be said, only that it goes on

	stop    chan struct{}
	stopped chan struct{}
	ended   sync.Once
}

// progress begins to show long work: on a terminal only, and never in CI, where nobody watches.
func (a *app) progress() *progress {
	f, ok := a.err.(*os.File)
	if !ok || os.Getenv("CI") != "" || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return showProgress(f, patience)
}

func showProgress(out io.Writer, after time.Duration) *progress {
	p := &progress{stop: make(chan struct{}), stopped: make(chan struct{})}
	go p.show(out, after)
	return p
}

// at says what is being done, and how many of how many are done.
func (p *progress) at(doing string, done, of int) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.doing, p.done, p.of = shortName(doing), done, of
}

// end takes the progress off the screen. It may be called twice.
func (p *progress) end() {
	if p == nil {
		return
	}
	p.ended.Do(func() { close(p.stop) })
	<-p.stopped
}

// show draws until the end. It draws alone, so that nothing is drawn once end has returned.
func (p *progress) show(out io.Writer, after time.Duration) {
	defer close(p.stopped)
	next := time.NewTimer(after)
	defer next.Stop()
	var bar *progressbar.ProgressBar
	drawn := -1
	for {
		select {
		case <-p.stop:
			if bar != nil {
				_ = bar.Clear() // nothing is lost where a terminal has gone
			}
			return
		case <-next.C:
		}
		p.mu.Lock()
		doing, done, of := p.doing, p.done, p.of
		p.mu.Unlock()
		if bar == nil || of != drawn {
			bar, drawn = newBar(out, of), of
		}
		bar.Describe(doing)
		_ = bar.Set(done)
		next.Reset(100 * time.Millisecond)
	}
}

// newBar is a bar where there are several things to do, and else a sign that the work goes on.
func newBar(out io.Writer, of int) *progressbar.ProgressBar {
	if of < 2 {
		return progressbar.NewOptions(-1, progressbar.OptionSetWriter(out), progressbar.OptionSetSpinnerChangeInterval(0),
			progressbar.OptionSetElapsedTime(true))
	}
	return progressbar.NewOptions(of, progressbar.OptionSetWriter(out), progressbar.OptionSetWidth(24), progressbar.OptionShowCount(),
		progressbar.OptionSetPredictTime(true))
}

// shortName is the last part of a path, cut so that a line of progress fits a terminal.
func shortName(path string) string {
	name := []rune(report.Clean(filepath.Base(path)))
	if len(name) > 30 {
		return fmt.Sprintf("%s...", string(name[:27]))
	}
	return string(name)
}
