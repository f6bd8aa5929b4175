package host

import (
	"context"
	"errors"
	"fmt"
	"io"
	"sync"

	"example.com/scantling/plugins/region"
)

// InProcess is a client of a region that lives in this process: for tests, and to measure what the boundary costs.
// Deadlines, checks and recovered panics are the same; code that never returns is left behind on its goroutine.
func InProcess(name string, r region.Region, deadlines Deadlines) *Client {
	started := make(chan struct{})
	close(started)
	return &Client{name: name, deadlines: deadlines.filled(), started: started, stop: func() {}, link: &local{region: r}}
}

// local reaches a region by calling it.
type local struct{ region region.Region }

func (l *local) Describe(ctx context.Context) (*region.Description, error) {
	return guarded(ctx, func() (*region.Description, error) { return l.region.Describe(ctx) })
}

func (l *local) Prepare(ctx context.Context, site *region.Site) (*region.Preparation, error) {
	return guarded(ctx, func() (*region.Preparation, error) { return l.region.Prepare(ctx, site) })
}

func (l *local) Span(ctx context.Context, request *region.SpanRequest) (*region.Span, error) {
	return guarded(ctx, func() (*region.Span, error) { return l.region.Span(ctx, request) })
}

func (l *local) derive(ctx context.Context, _ *region.Site, _ *region.Preparation) (stream, error) {
	return &localStream{ctx: ctx, region: l.region, answers: make(chan answer, inFlight)}, nil
}

func (l *local) explain(err error) *Failure {
	var p panicked
	if errors.As(err, &p) {
		return &Failure{Cause: Panicked, Reason: "its code panicked: " + printable(err.Error(), 600), Err: err, Fix: fixAuthor}
	}
	return &Failure{Cause: Refused, Reason: printable(err.Error(), 600), Err: err}
}

func (l *local) kill()  {}
func (l *local) close() {}

// localStream judges each batch on a goroutine of its own.
type localStream struct {
	ctx     context.Context
	region  region.Region
	running sync.WaitGroup
	answers chan answer
}

type answer struct {
	derived *region.Derived
	err     error
}

func (s *localStream) send(b *region.Batch) error {
	s.running.Go(func() {
		derived, err := guarded(s.ctx, func() (*region.Derived, error) { return s.region.Derive(s.ctx, b) })
		s.answers <- answer{derived, err}
	})
	return nil
}

func (s *localStream) finish() error {
	go func() {
		s.running.Wait()
		close(s.answers)
	}()
	return nil
}

func (s *localStream) receive() (*region.Derived, error) {
	select {
	case a, open := <-s.answers:
		if !open {
			return nil, io.EOF
		}
		return a.derived, a.err
	case <-s.ctx.Done():
		return nil, s.ctx.Err()
	}
}

// panicked is what a region's code panicked with.
type panicked struct{ value any }

func (p panicked) Error() string { return fmt.Sprint(p.value) }

// guarded calls a region, recovers its panics, and stops waiting when the context ends.
func guarded[T any](ctx context.Context, call func() (*T, error)) (*T, error) {
	type result struct {
		value *T
		err   error
	}
	done := make(chan result, 1)
	go func() {
		var r result
		defer func() {
			if p := recover(); p != nil {
				r = result{err: panicked{p}}
			} else if r.value == nil && r.err == nil {
				r.err = errors.New("it answered nothing")
			}
			done <- r
		}()
		r.value, r.err = call()
	}()
	select {
	case r := <-done:
		return r.value, r.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}
