package host

import (
	"cmp"
	"context"
	"errors"
	"iter"
	"sync"
	"sync/atomic"

	"example.com/scantling/plugins/region"
)

// Talk is one Derive that several goroutines share: what they ask travels together, and each gets its own answers. To open
// one costs the region as much as a small batch does.
type Talk struct {
	flight      *flight
	stream      stream
	site        *region.Site
	preparation *region.Preparation

	mu     sync.Mutex // one batch is sent at a time
	next   int32
	unsent error // what sending ended with

	askers sync.Map      // by sequence: the *asker
	ended  chan struct{} // closed when err is set: no more answers come
	err    error
}

// asker is one Ask.
type asker struct {
	each func(*region.Batch, *region.Derived)
	left atomic.Int32 // answers that are owed, and one while batches are being sent
	done chan struct{}
}

func (a *asker) settle() {
	if a.left.Add(-1) == 0 {
		close(a.done)
	}
}

// Talk opens one. It must be closed.
func (c *Client) Talk(ctx context.Context, site *region.Site, preparation *region.Preparation) (*Talk, error) {
	description, err := c.Describe(ctx)
	if err != nil {
		return nil, err
	}
	l, err := c.reach(ctx, "derive")
	if err != nil {
		return nil, err
	}
	t := &Talk{flight: newFlight(ctx, l, c.deadlines.Derive), site: site, preparation: preparation, ended: make(chan struct{})}
	if t.stream, err = l.derive(t.flight.ctx, site, preparation); err != nil {
		t.flight.end()
		return nil, c.settle(ctx, l, "derive", t.flight.limit, t.flight.cause(), err)
	}
	go func() {
		defer close(t.ended)
		err := t.flight.receive(t.stream, description, t.hand)
		cause := t.flight.cause()
		if err != nil {
			t.flight.cancel(err) // whoever sends may be waiting for room
		}
		t.mu.Lock()
		defer t.mu.Unlock()
		t.err = c.settle(ctx, l, "derive", t.flight.limit, cause, cmp.Or(t.unsent, err))
	}()
	return t, nil
}

// hand gives an answer to whoever asked.
func (t *Talk) hand(b *region.Batch, d *region.Derived) error {
	if a, ok := t.askers.LoadAndDelete(b.Sequence); ok {
		a := a.(*asker)
		a.each(b, d)
		a.settle()
	}
	return nil
}

// Ask sends batches and returns when all are answered, or none will be any more. It is Derive in all else.
func (t *Talk) Ask(batches iter.Seq[*region.Batch], each func(*region.Batch, *region.Derived)) error {
	a := &asker{each: each, done: make(chan struct{})}
	a.left.Add(1)
	var unfit error
	for b := range batches {
		more, err := t.put(a, b)
		if unfit = err; !more {
			break
		}
	}
	a.settle()
	select {
	case <-a.done: // also what was sent before one that was not fit
		return unfit
	case <-t.ended:
		return t.err
	}
}

// put sends a batch, and says whether there is a point in sending more. The error is of the batch.
func (t *Talk) put(a *asker, b *region.Batch) (more bool, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	b.Sequence, b.Site, b.Preparation = t.next, t.site, t.preparation
	t.next++
	a.left.Add(1)
	t.askers.Store(b.Sequence, a)
	more, err = t.flight.put(t.stream, b)
	var f *Failure
	if errors.As(err, &f) && f.Cause == Unfit {
		t.askers.Delete(b.Sequence)
		a.settle()
		return false, err
	}
	if err != nil {
		t.unsent = err
		t.flight.cancel(err)
	}
	return more, nil
}

// Close ends it when all is answered, with the error that ended it earlier.
func (t *Talk) Close() error {
	t.mu.Lock()
	err := t.flight.finish(t.stream)
	t.mu.Unlock()
	if err != nil {
		t.flight.cancel(err)
	}
	<-t.ended
	t.flight.end()
	return cmp.Or(t.err, err)
}
