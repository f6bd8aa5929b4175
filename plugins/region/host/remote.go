package host

import (
	"context"
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/wire"
)

// remote reaches a region in its own process.
type remote struct {
	folder  folder // holds the socket and, if it is not ours, the executable
	process *process
	plugin  *plugin.Client
	calls   wire.RegionClient
	sweep   sync.WaitGroup // of what other programs left behind
}

// connect starts the process and connects to it. It returns when the process is killed.
func (r *remote) connect() error {
	protocol, err := r.plugin.Client()
	if err != nil {
		return err
	}
	calls, err := protocol.Dispense(wire.Service)
	if err != nil {
		return err
	}
	r.calls = calls.(wire.RegionClient)
	return nil
}

// Describe asks what the region is.
func (r *remote) Describe(ctx context.Context) (*region.Description, error) {
	m, err := r.calls.Describe(ctx, &wire.DescribeRequest{})
	if err != nil {
		return nil, err
	}
	d, err := wire.UnpackDescription(m)
	if err != nil {
		return nil, malformed(err)
	}
	return d, nil
}

// Prepare asks what the region makes of a site.
func (r *remote) Prepare(ctx context.Context, site *region.Site) (*region.Preparation, error) {
	m, err := r.calls.Prepare(ctx, wire.PackSite(site))
	if err != nil {
		return nil, err
	}
	return wire.UnpackPreparation(m), nil
}

// Span asks for the longest span.
func (r *remote) Span(ctx context.Context, request *region.SpanRequest) (*region.Span, error) {
	m, err := r.calls.Span(ctx, wire.PackSpanRequest(request))
	if err != nil {
		return nil, err
	}
	return wire.UnpackSpan(m), nil
}

func (r *remote) derive(ctx context.Context, site *region.Site, preparation *region.Preparation) (stream, error) {
	s, err := r.calls.Derive(ctx)
	if err != nil {
		return nil, err
	}
	start := &wire.Start{Site: wire.PackSite(site), Preparation: wire.PackPreparation(preparation)}
	if err := s.Send(&wire.DeriveRequest{Of: &wire.DeriveRequest_Start{Start: start}}); errors.Is(err, io.EOF) {
		_, err = s.Recv() // which knows why
		return nil, err
	} else if err != nil {
		return nil, err
	}
	return remoteStream{s}, nil
}

// explain sorts what gRPC says. A process that has ended explains any error better than gRPC can.
func (r *remote) explain(err error) *Failure {
	s := status.Convert(err)
	message := printable(s.Message(), 600)
	switch s.Code() {
	case codes.Aborted:
		return &Failure{Cause: Panicked, Reason: "its code panicked: " + message, Err: err, Fix: fixAuthor}
	case codes.FailedPrecondition, codes.InvalidArgument, codes.NotFound, codes.OutOfRange:
		return &Failure{Cause: Refused, Reason: message, Err: err}
	case codes.ResourceExhausted:
		return &Failure{Cause: Oversize, Reason: fmt.Sprintf("a message is larger than %d MiB: %s", region.MaxMessage>>20, message), Err: err, Fix: fixAuthor}
	case codes.Unimplemented:
		return malformed(fmt.Errorf("it does not serve a call of the contract: %s", message))
	}
	patience := shortly
	if s.Code() == codes.Unavailable { // the connection is gone, and so most likely is the process
		patience = 5 * shortly
	}
	if how := r.process.ending(patience); how != "" {
		return &Failure{Cause: Died, Reason: how, Err: err, Fix: fixAuthor}
	}
	if s.Code() == codes.Unknown { // what languages with exceptions make of one
		return &Failure{Cause: Refused, Reason: message, Err: err}
	}
	return malformed(errors.New(message))
}

// cutOff says whether a call ended as calls do whose deadline has passed.
func cutOff(err error) bool {
	code := status.Code(err)
	return code == codes.DeadlineExceeded || code == codes.Canceled
}

func (r *remote) kill() { _ = r.process.Kill(context.Background()) }

// close kills the process by its number before it lets go-plugin clean up, which would otherwise ask the process to
// end and wait for that, for ever if it is stopped.
func (r *remote) close() {
	if r.plugin != nil {
		r.process.reap()
		cleaned := make(chan struct{})
		go func() {
			r.plugin.Kill()
			close(cleaned)
		}()
		select {
		case <-cleaned:
		case <-time.After(5 * time.Second): // nothing is known that would make it wait; Close must not hang on it
		}
	}
	r.sweep.Wait()
	r.folder.remove()
}

// remoteStream is a stream of batches over gRPC.
type remoteStream struct {
	grpc.BidiStreamingClient[wire.DeriveRequest, wire.Derived]
}

func (s remoteStream) send(b *region.Batch) error {
	return s.Send(&wire.DeriveRequest{Of: &wire.DeriveRequest_Batch{Batch: wire.PackBatch(b)}})
}

func (s remoteStream) finish() error { return s.CloseSend() }

func (s remoteStream) receive() (*region.Derived, error) {
	m, err := s.Recv()
	if err != nil {
		return nil, err
	}
	return wire.UnpackDerived(m), nil
}

// asked is the region as go-plugin knows it on this side.
type asked struct{ plugin.NetRPCUnsupportedPlugin }

// GRPCServer is the region's side, which the program has no use for.
func (asked) GRPCServer(*plugin.GRPCBroker, *grpc.Server) error {
	return errors.New("the program calls and does not serve")
}

// GRPCClient is the region's calls over a connection.
func (asked) GRPCClient(_ context.Context, _ *plugin.GRPCBroker, connection *grpc.ClientConn) (any, error) {
	return wire.NewRegionClient(connection), nil
}
