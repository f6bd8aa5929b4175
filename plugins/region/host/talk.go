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
	client      *Client
	flight      *flight
	stream      stream
	site        *region.Site
	preparation *region.Preparation

	mu     sync.Mutex // one batch is sent at a time
	next   int32
	closed bool
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

// Talk opens one. It must be closed, and it fails when the context ends. An error is a *Failure, as all errors of a Talk are.
func (c *Client) Talk(ctx context.Context, site *region.Site, preparation *region.Preparation) (*Talk, error) {
	description, err := c.Describe(ctx)
	if err != nil {
		return nil, err
	}
	l, err := c.reach(ctx, "derive")
	if err != nil {
		return nil, err
	}
	t := &Talk{client: c, flight: newFlight(ctx, l, c.deadlines.Derive), site: site, preparation: preparation, ended: make(chan struct{})}
	if t.stream, err = l.derive(t.flight.ctx, site, preparation); err != nil {
		t.flight.end()
		return nil, c.settle(ctx, l, "derive", t.flight.limit, t.flight.cause(), err)
	}
	t.flight.touch() // the region owes nothing until it is asked
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

// Ask sends batches and returns when all are answered, or none will be any more: then with the error that ended the Talk. A
// batch that is not fit to be sent, or one after Close, is an error of this Ask alone. It is Derive in all else.
func (t *Talk) Ask(batches iter.Seq[*region.Batch], each func(*region.Batch, *region.Derived)) error {
	a := &asker{each: each, done: make(chan struct{})}
	a.left.Add(1)
	var refused error
	for b := range batches {
		more, err := t.put(a, b)
		if refused = err; !more {
			break
		}
	}
	a.settle()
	select {
	case <-a.done: // also what was sent before one that was refused
	case <-t.ended:
		if a.left.Load() > 0 {
			return t.err
		}
	}
	return refused
}

// put sends a batch, and says whether there is a point in sending more. The error is of the batch, which was not sent.
func (t *Talk) put(a *asker, b *region.Batch) (more bool, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.closed {
		return false, &Failure{Region: t.client.name, During: "derive", Cause: Cancelled, Reason: "nothing more can be asked: the talk has been closed"}
	}
	b.Sequence, b.Site, b.Preparation = t.next, t.site, t.preparation
	t.next++
	a.left.Add(1)
	t.askers.Store(b.Sequence, a)
	more, err = t.flight.put(t.stream, b)
	var f *Failure
	if errors.As(err, &f) && f.Cause == Unfit {
		t.askers.Delete(b.Sequence)
		a.settle()
		f.Region, f.During = t.client.name, "derive"
		return false, f
	}
	if err != nil {
		t.unsent = err
		t.flight.cancel(err)
	}
	return more, nil
}

// Close ends it when all that was sent is answered, with the error that ended it earlier.
func (t *Talk) Close() error {
	t.close()
	<-t.ended
	t.flight.end()
	return t.err
}

// close says once that nothing more is sent.
func (t *Talk) close() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.closed {
		return
	}
	t.closed = true
	if err := t.flight.finish(t.stream); err != nil {
		t.unsent = cmp.Or(t.unsent, err)
		t.flight.cancel(err)
	}
}
