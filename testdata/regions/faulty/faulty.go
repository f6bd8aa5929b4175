//go:build unix

// Package faulty is regions that let the program down, each in one way, around a sound one. It serves to test what the
// program makes of them, and knows neither the program nor the region that it spoils.
package faulty

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"os"
	"syscall"
	"time"

	"example.com/scantling/plugins/region"
)

// Around is a region for every fault, and "sound" for none, by names such as "derive: killed".
func Around(sound func() region.Region) map[string]func() region.Region {
	out := maps.Clone(starting)
	out["sound"] = sound
	for call, one := range map[string]func(fault) spoiled{
		"describe": func(f fault) spoiled { return spoiled{describe: f} },
		"prepare":  func(f fault) spoiled { return spoiled{prepare: f} },
		"derive":   func(f fault) spoiled { return spoiled{derive: f} },
	} {
		for name, f := range calling {
			out[call+": "+name] = with(sound, one(f))
		}
	}
	for name, s := range answering {
		out[name] = with(sound, s)
	}
	out["derive: killed later"] = with(sound, spoiled{derived: func(d *region.Derived) {
		if d.Sequence >= Later {
			_ = signalled(syscall.SIGKILL)()
		}
	}})
	return out
}

// Later is the batch that "derive: killed later" dies of. At most four are owed at once, so that by then at least one
// answer has been taken.
const Later = 4

// starting is faults of a process before it serves anything.
var starting = map[string]func() region.Region{
	"start: exits":   func() region.Region { fmt.Fprintln(os.Stderr, "no licence found"); os.Exit(3); return nil },
	"start: hangs":   func() region.Region { wait(); return nil },
	"start: garbage": prints("Welcome!"),
	"start: newer":   prints("1|7|unix|/socket|grpc|certificate"),
	"start: older":   prints("1|0|unix|/socket|grpc|certificate"),
}

// calling is faults that any call can have.
var calling = map[string]fault{
	"exits":   func() error { os.Exit(7); return nil },
	"killed":  signalled(syscall.SIGKILL),
	"stopped": signalled(syscall.SIGSTOP),
	"hangs":   func() error { select {} },
	"panics":  func() error { panic("out of timber") },
	"refuses": func() error { return errors.New("not today") },
}

// answering is answers that break the contract.
var answering = map[string]spoiled{
	"describe: garbage":  {description: func(d *region.Description) { d.Facts[0].Text = "" }},
	"describe: contract": {description: func(d *region.Description) { d.Contract++ }},
	"describe: pack": {description: func(d *region.Description) {
		d.Packs = append(d.Packs, region.PackFile{Name: "worse.yaml", Data: []byte("pack: worse\nformat: 1\nrules:\n  - id: \x1b[2J\n")})
	}},
	"prepare: garbage":      {preparation: func(p *region.Preparation) { p.Cases = append(p.Cases, p.Cases[0]) }},
	"derive: garbage":       {derived: func(d *region.Derived) { d.Value[0], d.Reason[0] = math.NaN(), 0 }},
	"derive: too few":       {derived: func(d *region.Derived) { d.ID, d.Value = d.ID[1:], d.Value[1:] }},
	"derive: doubled":       {derived: func(d *region.Derived) { d.ID = append(d.ID[:len(d.ID)-1:len(d.ID)-1], d.ID[0]) }},
	"derive: another batch": {derived: func(d *region.Derived) { d.Sequence += 5 }},
}

// fault is what happens in place of an answer.
type fault func() error

// spoiled is a region with faults in its calls, or in what it answers.
type spoiled struct {
	region.Region
	describe, prepare, derive fault
	description               func(*region.Description)
	preparation               func(*region.Preparation)
	derived                   func(*region.Derived)
}

func with(sound func() region.Region, s spoiled) func() region.Region {
	return func() region.Region {
		s.Region = sound()
		return s
	}
}

// Describe is the sound region's, spoiled.
func (s spoiled) Describe(ctx context.Context) (*region.Description, error) {
	d, err := s.Region.Describe(ctx)
	return spoil(d, err, s.describe, s.description)
}

// Prepare is the sound region's, spoiled.
func (s spoiled) Prepare(ctx context.Context, site *region.Site) (*region.Preparation, error) {
	p, err := s.Region.Prepare(ctx, site)
	return spoil(p, err, s.prepare, s.preparation)
}

// Derive is the sound region's, spoiled.
func (s spoiled) Derive(ctx context.Context, b *region.Batch) (*region.Derived, error) {
	d, err := s.Region.Derive(ctx, b)
	return spoil(d, err, s.derive, s.derived)
}

func spoil[T any](answer *T, err error, f fault, change func(*T)) (*T, error) {
	if err == nil && f != nil {
		err = f()
	}
	if err != nil {
		return nil, err
	}
	if change != nil {
		change(answer)
	}
	return answer, nil
}

// prints is a process that prints a line and waits.
func prints(line string) func() region.Region {
	return func() region.Region {
		fmt.Println(line)
		wait()
		return nil
	}
}

// wait waits until the process is killed. An empty select would end it in a build without C, where Go sees a deadlock.
func wait() {
	for {
		time.Sleep(time.Hour)
	}
}

// signalled sends the process itself a signal, which may come a little later.
func signalled(s syscall.Signal) fault {
	return func() error {
		_ = syscall.Kill(os.Getpid(), s)
		select {}
	}
}
