package host

import (
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"sync"
	"time"

	"example.com/scantling/plugins/region"
)

// inFlight is how many batches may be owed at once: enough to keep both processes busy, few enough to bound memory.
const inFlight = 4

// flight is one stream of batches with the answers that are owed for them.
type flight struct {
	ctx    context.Context
	cancel context.CancelCauseFunc
	link   link
	limit  time.Duration
	window chan struct{} // one entry for each batch that is owed

	mu       sync.Mutex
	owed     map[int32]*region.Batch
	finished bool        // no more batches will be sent
	watch    *time.Timer // runs while something is owed
}

// callerError wraps an error of the caller's own, so that it is not taken for the region's.
type callerError struct{ error }

func newFlight(ctx context.Context, l link, limit time.Duration) *flight {
	f := &flight{link: l, limit: limit, window: make(chan struct{}, inFlight), owed: map[int32]*region.Batch{}}
	f.ctx, f.cancel = context.WithCancelCause(ctx)
	f.watch = time.AfterFunc(limit, func() { f.cancel(errSlow) })
	return f
}

func (f *flight) end() {
	f.watch.Stop()
	f.cancel(nil)
}

// cause is why the flight was broken off, nil while it was not.
func (f *flight) cause() error { return context.Cause(f.ctx) }

func (f *flight) run(site *region.Site, preparation *region.Preparation, d *region.Description, batches iter.Seq[*region.Batch],
	each func(*region.Batch, *region.Derived) error) error {
	s, err := f.link.derive(f.ctx, site, preparation)
	if err != nil {
		return err
	}
	f.touch()
	received := make(chan error, 1)
	go func() {
		err := f.receive(s, d, each)
		if err != nil {
			f.cancel(err) // the sender may be waiting for room
		}
		received <- err
	}()
	sent := f.send(s, site, preparation, batches)
	if sent != nil {
		f.cancel(sent)
		<-received
		return sent
	}
	return <-received
}

// send draws batches until there are no more, or the flight is broken off.
func (f *flight) send(s stream, site *region.Site, preparation *region.Preparation, batches iter.Seq[*region.Batch]) error {
	sequence := int32(0)
	for b := range batches {
		b.Sequence, b.Site, b.Preparation = sequence, site, preparation
		sequence++
		if more, err := f.put(s, b); !more {
			return err
		}
	}
	return f.finish(s)
}

// put sends one batch as soon as there is room for it, and says whether there is a point in sending more.
func (f *flight) put(s stream, b *region.Batch) (more bool, err error) {
	if err := b.Check(); err != nil {
		return false, &Failure{Cause: Unfit, Reason: fmt.Sprintf("batch %d is not fit to be sent: %v", b.Sequence, err), Err: err, Fix: "report this as a fault of scantling"}
	}
	select {
	case f.window <- struct{}{}:
	case <-f.ctx.Done():
		return false, nil
	}
	f.owe(b)
	if err := s.send(b); errors.Is(err, io.EOF) {
		return false, nil // the receiver learns why
	} else if err != nil {
		return false, err
	}
	return true, nil
}

// finish says that no more batches will be sent.
func (f *flight) finish(s stream) error {
	f.mu.Lock()
	f.finished = true
	f.mu.Unlock()
	f.touch()
	if err := s.finish(); err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	return nil
}

// receive takes answers until the region ends the stream.
func (f *flight) receive(s stream, d *region.Description, each func(*region.Batch, *region.Derived) error) error {
	for {
		answer, err := s.receive()
		if errors.Is(err, io.EOF) {
			return f.settled()
		}
		if err != nil {
			return err
		}
		b := f.paid(answer.Sequence)
		if b == nil {
			return malformed(fmt.Errorf("it answers batch %d, which it does not owe", answer.Sequence))
		}
		if err := CheckDerived(d, b, answer); err != nil {
			return malformed(err)
		}
		if err := each(b, answer); err != nil {
			return callerError{err}
		}
		<-f.window
	}
}

func (f *flight) owe(b *region.Batch) {
	f.mu.Lock()
	f.owed[b.Sequence] = b
	first := len(f.owed) == 1
	f.mu.Unlock()
	if first {
		f.touch()
	}
}

func (f *flight) paid(sequence int32) *region.Batch {
	f.mu.Lock()
	b := f.owed[sequence]
	delete(f.owed, sequence)
	f.mu.Unlock()
	f.touch()
	return b
}

// touch starts the watch anew when something is owed, the end of the stream included, and stops it otherwise.
func (f *flight) touch() {
	f.mu.Lock()
	defer f.mu.Unlock()
	if len(f.owed) > 0 || f.finished {
		f.watch.Reset(f.limit)
	} else {
		f.watch.Stop()
	}
}

// settled is the error of a stream that the region ended too early, or nil.
func (f *flight) settled() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if len(f.owed) > 0 || !f.finished {
		return malformed(fmt.Errorf("it ended the stream while it owed %d batches", len(f.owed)))
	}
	return nil
}
