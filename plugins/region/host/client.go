// Package host runs regions for the program and trusts nothing that they send: every call has a deadline, every answer
// is checked, and whatever goes wrong becomes one kind of value, a Failure. It knows no region, and nothing of what the
// program makes of the answers.
//
// A Client is all that the program needs:
//
//	client := host.Start(ctx, host.Options{Shipped: "eurocode"})    // returns at once; the process starts meanwhile
//	client := host.Start(ctx, host.Options{File: path, SHA256: sum}) // someone else's executable
//	client := host.InProcess("oakshire", oakshire.New(), host.Deadlines{}) // no process: for tests and benchmarks
//	defer client.Close()
//
// and then Describe, Prepare, Derive and Span, or a Talk where several goroutines ask at once. A program that ships regions
// calls ServeIfAsked first thing in main.
package host

import (
	"context"
	"errors"
	"iter"
	"sync"
	"time"

	"example.com/scantling/plugins/region"
)

// Deadlines bound what the program waits for. A zero entry stands for the default.
type Deadlines struct {
	Start    time.Duration // until the process answers at all; 10 s
	Describe time.Duration // 5 s
	Prepare  time.Duration // 10 s
	Derive   time.Duration // between two answers while a batch is owed; 30 s
	Span     time.Duration // 10 s
}

func (d Deadlines) filled() Deadlines {
	for _, entry := range []struct {
		value    *time.Duration
		fallback time.Duration
	}{{&d.Start, 10 * time.Second}, {&d.Describe, 5 * time.Second}, {&d.Prepare, 10 * time.Second}, {&d.Derive, 30 * time.Second}, {&d.Span, 10 * time.Second}} {
		if *entry.value <= 0 {
			*entry.value = entry.fallback
		}
	}
	return d
}

// Client is a region that can be asked. Its methods may be called from several goroutines at once; every error that
// they return is a *Failure, except the caller's own out of Derive. Once a region has died or was ended for being slow,
// every further call returns that failure at once.
type Client struct {
	name      string
	deadlines Deadlines
	started   chan struct{} // closed when link or broken is set
	stop      context.CancelFunc
	link      link

	mu          sync.Mutex
	broken      *Failure
	description *region.Description
}

// link is a way to reach a region: in its own process, or in this one.
type link interface {
	Describe(context.Context) (*region.Description, error)
	Prepare(context.Context, *region.Site) (*region.Preparation, error)
	Span(context.Context, *region.SpanRequest) (*region.Span, error)
	derive(context.Context, *region.Site, *region.Preparation) (stream, error)
	explain(error) *Failure // an error of the above, in the program's words
	kill()                  // end it at once
	close()                 // end it and give back all that it held
}

// stream carries batches to a region and answers back, in any order. Receive returns io.EOF after the last one.
type stream interface {
	send(*region.Batch) error
	finish() error
	receive() (*region.Derived, error)
}

// Describe is what the region says of itself. It is asked once.
func (c *Client) Describe(ctx context.Context) (*region.Description, error) {
	c.mu.Lock()
	known := c.description
	c.mu.Unlock()
	if known != nil {
		return known, nil
	}
	d, err := call(ctx, c, "describe", c.deadlines.Describe, link.Describe, CheckDescription)
	if err == nil {
		c.mu.Lock()
		c.description = d
		c.mu.Unlock()
	}
	return d, err
}

// Prepare is what the region makes of a site and of the names in a model.
func (c *Client) Prepare(ctx context.Context, site *region.Site) (*region.Preparation, error) {
	ask := func(l link, ctx context.Context) (*region.Preparation, error) { return l.Prepare(ctx, site) }
	return call(ctx, c, "prepare", c.deadlines.Prepare, ask, func(p *region.Preparation) error { return CheckPreparation(site, p) })
}

// Span is the longest span that the region allows.
func (c *Client) Span(ctx context.Context, request *region.SpanRequest) (*region.Span, error) {
	ask := func(l link, ctx context.Context) (*region.Span, error) { return l.Span(ctx, request) }
	return call(ctx, c, "span", c.deadlines.Span, ask, CheckSpan)
}

// Derive sends the batches, a few at a time, and hands each answer to each, together with its batch; answers may come
// in another order than batches. It numbers the batches and fills in their site and preparation. Batches are drawn on
// the caller's goroutine; each runs on another, never twice at once, and has returned for the last time when Derive
// returns. An error of each ends the call and is returned as it is. What each has been given before a failure is sound.
func (c *Client) Derive(ctx context.Context, site *region.Site, preparation *region.Preparation, batches iter.Seq[*region.Batch],
	each func(*region.Batch, *region.Derived) error) error {
	description, err := c.Describe(ctx)
	if err != nil {
		return err
	}
	l, err := c.reach(ctx, "derive")
	if err != nil {
		return err
	}
	f := newFlight(ctx, l, c.deadlines.Derive)
	defer f.end()
	err = f.run(site, preparation, description, batches, each)
	var own callerError
	if errors.As(err, &own) {
		return own.error
	}
	return c.settle(ctx, l, "derive", f.limit, f.cause(), err)
}

// Reject is the failure of a region whose description keeps to the contract and is of no use all the same: its packs
// cannot be read, say.
func (c *Client) Reject(err error) *Failure {
	f := malformed(err)
	f.Region, f.During = c.name, "describe"
	return f
}

// Close ends the region's process and gives back all that it held. It does not wait for the region's consent. Further
// calls fail.
func (c *Client) Close() {
	c.stop()
	<-c.started
	c.mu.Lock()
	if c.broken == nil {
		c.broken = &Failure{Region: c.name, During: "close", Cause: Cancelled, Reason: "the region has been closed", Err: context.Canceled}
	}
	l := c.link
	c.link = nil
	c.mu.Unlock()
	if l != nil {
		l.close()
	}
}

// reach waits for the region to have started.
func (c *Client) reach(ctx context.Context, during string) (link, error) {
	select {
	case <-c.started:
	case <-ctx.Done():
		return nil, &Failure{Region: c.name, During: during, Cause: Cancelled, Reason: "the run was given up", Err: ctx.Err()}
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.broken != nil {
		return nil, c.broken
	}
	return c.link, nil
}

// call asks one question with a deadline and checks the answer.
func call[T any](ctx context.Context, c *Client, during string, limit time.Duration, ask func(link, context.Context) (T, error), check func(T) error) (T, error) {
	var none T
	l, err := c.reach(ctx, during)
	if err != nil {
		return none, err
	}
	limited, cancel := context.WithTimeoutCause(ctx, limit, errSlow)
	defer cancel()
	answer, err := ask(l, limited)
	if cutOff(err) { // the region's side knows the deadline too, and may see it pass a little before this one
		select {
		case <-limited.Done():
		case <-time.After(shortly):
		}
	}
	if err == nil {
		if err = check(answer); err == nil {
			return answer, nil
		}
		err = malformed(err)
	}
	return none, c.settle(ctx, l, during, limit, context.Cause(limited), err)
}

var errSlow = errors.New("the region did not answer in time")

const fixAuthor = "tell the region's author, who can run the conformance kit"

// settle turns an error into a failure, and ends a region that must not be asked again.
func (c *Client) settle(ctx context.Context, l link, during string, limit time.Duration, cause, err error) error {
	if err == nil {
		return nil
	}
	var f *Failure
	switch {
	case errors.As(err, &f):
	case ctx.Err() != nil:
		f = &Failure{Cause: Cancelled, Reason: "the run was given up", Err: ctx.Err()}
	case errors.Is(cause, errSlow):
		f = slow(limit)
	default:
		f = l.explain(err)
	}
	f.Region, f.During = c.name, during
	if f.Cause != Slow && f.Cause != Died {
		return f
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.broken != nil { // another call saw it first, or the caller closed the client
		return c.broken
	}
	c.broken = f
	l.kill()
	return f
}

// slow is the failure of a region that let its deadline pass.
func slow(limit time.Duration) *Failure {
	return &Failure{Cause: Slow, Reason: "it did not answer within " + limit.String() + " and was ended", Err: errSlow,
		Fix: "run it again; if it stays slow, tell the region's author"}
}

// malformed is the failure of a region whose answer breaks the contract.
func malformed(err error) *Failure {
	return &Failure{Cause: Malformed, Reason: "its answer breaks the contract: " + printable(err.Error(), 600), Err: err,
		Fix: fixAuthor}
}
