package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"example.com/scantling/engine"
)

// A save is many events: the file is emptied, written in parts, or renamed into its place. What follows an event within
// quiet belongs to it, for as long as patientFor.
const (
	quiet      = 20 * time.Millisecond
	patientFor = 200 * time.Millisecond
)

// task is what is done again on every save: it prints to w, or writes a file of its own. It is sound if every region did
// its part; one that did not is started anew the next time.
type task func(ctx context.Context, session *engine.Session, in *inputs, w *bytes.Buffer) (sound bool, err error)

// watcher does a task again whenever something changes that it reads. What is costly to begin stays: regions run on, and
// rules stay compiled.
type watcher struct {
	*app
	cmd   *cobra.Command
	call  inputCall
	do    task
	notes *fsnotify.Watcher

	session *engine.Session
	from    string // the settings of regions that the session was made with
	packs   string // digests of its house packs
	stale   bool   // settings or packs have been touched since the session was last made to fit them
	seen    string // digest of all that was read for what is shown; empty where that is an error
}

// watch does a task now and after every save, until it is interrupted. The status is the last one.
func (a *app) watch(cmd *cobra.Command, call inputCall, do task) error {
	if slices.Contains(call.models, "-") {
		return unusablef("the standard input cannot be watched; name a file or a folder")
	}
	notes, err := fsnotify.NewWatcher()
	if err != nil {
		return unusable{fmt.Errorf("saves cannot be watched for: %w", err)}
	}
	defer notes.Close()
	w := &watcher{app: a, cmd: cmd, call: call, do: do, notes: notes, stale: true}
	defer w.close()
	return w.run(cmd.Context())
}

func (w *watcher) run(ctx context.Context) error {
	for first := true; ; first = false {
		var gone error
		began, status := time.Now(), w.status
		reading, out, err := w.again(ctx)
		switch {
		case ctx.Err() != nil:
			w.status = status // the check was broken off
			return nil
		case reading == nil:
			return unusable{fmt.Errorf("saves cannot be watched for: %w", err)}
		case err != nil:
			w.seen, w.status = "", statusUnusable
			gone = w.show(first, began, func(b *bytes.Buffer) { fmt.Fprintf(b, "scantling: %v\n", err) })
		case out != nil:
			gone = w.show(first, began, func(b *bytes.Buffer) { b.Write(out.Bytes()) })
		}
		if gone != nil {
			return gone
		}
		settings, ok := reading.wait(ctx, w.notes)
		if !ok {
			return nil
		}
		w.stale = w.stale || settings
	}
}

// again reads everything anew and does the task. Nothing comes out of it if what was read has not changed. The watch is
// set before anything is read, so that no save is missed; without a reading, that could not be done.
func (w *watcher) again(ctx context.Context) (*reading, *bytes.Buffer, error) {
	var err error
	if w.stale {
		err = w.configure(w.cmd)
	}
	reading := w.reading()
	if err := reading.follow(w.notes); err != nil {
		return nil, nil, err
	}
	if err == nil && (w.stale || w.session == nil) {
		err = w.open()
	}
	if err != nil {
		return reading, nil, err
	}
	w.stale = false
	in, err := w.gather(w.call)
	if err != nil {
		return reading, nil, err
	}
	digest := fmt.Sprintf("%s %s %+v", in.digest(), w.packs, w.settings)
	if digest == w.seen {
		return reading, nil, nil
	}
	w.seen = digest
	var out bytes.Buffer
	sound, err := w.do(ctx, w.session, in, &out)
	if !sound {
		w.close()
	}
	return reading, &out, err
}

// open makes the session fit the settings, and keeps of it what still holds.
func (w *watcher) open() error {
	house, err := w.house()
	if err != nil {
		return err
	}
	regions, err := w.settings.regions()
	if err != nil {
		return err
	}
	from, packs := fmt.Sprintf("%+v", *regions), ""
	for _, p := range house {
		packs += p.File + " " + p.SHA256 + "\n"
	}
	switch {
	case w.session == nil || from != w.from:
		w.close()
		w.session = engine.NewSession(regions, house)
	case packs != w.packs:
		w.session.Replace(house)
	}
	w.from, w.packs = from, packs
	return nil
}

func (w *watcher) close() {
	if w.session != nil {
		w.session.Close()
		w.session = nil
	}
}

// show prints, in place of what was there on a terminal. What machines read comes alone. Where nothing can be printed
// any more, nobody watches.
func (w *watcher) show(first bool, began time.Time, print func(*bytes.Buffer)) error {
	var b bytes.Buffer
	worded := slices.Contains([]string{"text", "lines"}, w.format("text"))
	switch {
	case w.redraws():
		b.WriteString("\x1b[H\x1b[2J\x1b[3J") // cursor home, clear the screen (ECMA-48), and what has scrolled off it
	case worded && !first:
		b.WriteString("\n" + strings.Repeat("=", 80) + "\n\n")
	}
	print(&b)
	if worded {
		fmt.Fprintf(&b, "\n%s, in %d ms: status %d. Waiting for a save; Ctrl-C ends.\n",
			time.Now().Format(time.TimeOnly), time.Since(began).Milliseconds(), w.status)
	}
	_, err := w.out.Write(b.Bytes())
	return err
}

// redraws says whether the output is a screen that can be cleared.
func (a *app) redraws() bool {
	f, ok := a.out.(*os.File)
	return ok && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd()))
}

// wait waits for a save of something that is read, and for the quiet after it; it says whether settings or rules may have
// changed. It is not ok once the watch has ended.
func (r *reading) wait(ctx context.Context, notes *fsnotify.Watcher) (settings, ok bool) {
	var settled, last <-chan time.Time
	for {
		select {
		case <-ctx.Done():
			return false, false
		case <-settled:
			return settings, true
		case <-last:
			return settings, true
		case err := <-notes.Errors:
			if errors.Is(err, fsnotify.ErrEventOverflow) { // events were lost: anything may have changed
				return true, true
			}
		case e, open := <-notes.Events:
			if !open {
				return false, false
			}
			read, both := r.touches(e.Name)
			if !read || e.Op == fsnotify.Chmod {
				continue
			}
			settings = settings || both
			settled = time.After(quiet)
			if last == nil {
				last = time.After(patientFor)
			}
		}
	}
}
