// Package serve is what the author of a region needs beside the contract: it turns a Region into a process that the
// program can talk to. It does not know any region, nor what the program does with the answers.
//
// The whole main of a region:
//
//	func main() { serve.Region(myregion.New()) }
//
// Print nothing to standard output: the first line there tells the program where to connect. Standard error is free;
// its last lines are shown if the region dies.
package serve

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"sync"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/wire"
)

// Region serves r until the program that started this process lets go of it. Panics of r are recovered and answered as
// errors, except those of goroutines that r starts itself. Run by hand, it says that it is not meant to be, and exits.
func Region(r region.Region) {
	go endWithHost()
	provider, err := mutualTLS()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	plugin.Serve(&plugin.ServeConfig{
		TLSProvider:      provider,
		HandshakeConfig:  wire.Handshake,
		VersionedPlugins: wire.Versions(served{region: r}),
		Logger:           hclog.New(&hclog.LoggerOptions{Name: "region", Level: hclog.Error, Output: os.Stderr}),
		GRPCServer: func(options []grpc.ServerOption) *grpc.Server {
			return grpc.NewServer(append(options,
				grpc.MaxRecvMsgSize(region.MaxMessage), grpc.MaxSendMsgSize(region.MaxMessage),
				grpc.InitialWindowSize(wire.Window), grpc.InitialConnWindowSize(wire.Window))...)
		},
	})
}

// endWithHost ends the process when its standard input ends: the program holds the other end of that pipe, and may be
// killed without a chance to say goodbye or to clear up. Started by hand with another input, the process stays.
func endWithHost() {
	if info, err := os.Stdin.Stat(); err != nil || info.Mode()&os.ModeNamedPipe == 0 {
		return
	}
	_, _ = io.Copy(io.Discard, os.Stdin)
	if os.Getenv(wire.Handshake.MagicCookieKey) == wire.Handshake.MagicCookieValue {
		clearUp(os.Getenv(plugin.EnvUnixSocketDir))
	}
	os.Exit(0)
}

// clearUp removes what the program made for this process alone: the folder for sockets, and the folder around it with the
// copy of this executable. A folder that holds anything else stays.
func clearUp(sockets string) {
	entries, err := os.ReadDir(sockets)
	if err != nil {
		return
	}
	for _, e := range entries {
		if e.Type()&os.ModeSocket != 0 {
			_ = os.Remove(filepath.Join(sockets, e.Name()))
		}
	}
	around := filepath.Dir(sockets)
	if self, err := os.Executable(); err == nil && filepath.Dir(self) == around {
		_ = os.Remove(self)
	}
	_ = os.Remove(sockets)
	_ = os.Remove(around)
}

// served is the region as go-plugin knows it.
type served struct {
	plugin.NetRPCUnsupportedPlugin
	region region.Region
}

// GRPCServer registers the region's service.
func (s served) GRPCServer(_ *plugin.GRPCBroker, server *grpc.Server) error {
	wire.RegisterRegionServer(server, &service{region: s.region})
	return nil
}

// GRPCClient is the program's side, which a region has no use for.
func (served) GRPCClient(context.Context, *plugin.GRPCBroker, *grpc.ClientConn) (any, error) {
	return nil, errors.New("a region serves and does not call")
}

// service answers the calls of the contract.
type service struct {
	wire.UnimplementedRegionServer
	region region.Region
}

// Describe answers what the region is.
func (s *service) Describe(ctx context.Context, _ *wire.DescribeRequest) (*wire.Description, error) {
	d, err := guarded(func() (*region.Description, error) { return s.region.Describe(ctx) })
	if err != nil {
		return nil, err
	}
	return wire.PackDescription(d), nil
}

// Prepare answers what the region makes of a site.
func (s *service) Prepare(ctx context.Context, m *wire.Site) (*wire.Preparation, error) {
	p, err := guarded(func() (*region.Preparation, error) { return s.region.Prepare(ctx, wire.UnpackSite(m)) })
	if err != nil {
		return nil, err
	}
	return wire.PackPreparation(p), nil
}

// Span answers the longest span.
func (s *service) Span(ctx context.Context, m *wire.SpanRequest) (*wire.SpanAnswer, error) {
	a, err := guarded(func() (*region.Span, error) { return s.region.Span(ctx, wire.UnpackSpanRequest(m)) })
	if err != nil {
		return nil, err
	}
	return wire.PackSpan(a), nil
}

// Derive judges the batches of one stream, as many at once as there are processors. The first error ends it at once: the
// program may be waiting for that answer before it sends more.
func (s *service) Derive(stream grpc.BidiStreamingServer[wire.DeriveRequest, wire.Derived]) error {
	first, err := stream.Recv()
	if err != nil {
		return err
	}
	start := first.GetStart()
	if start.GetSite() == nil || start.GetPreparation() == nil {
		return status.Error(codes.InvalidArgument, "the first message of a stream is its start")
	}
	site, preparation := wire.UnpackSite(start.GetSite()), wire.UnpackPreparation(start.GetPreparation())
	judged := newJudging(stream)
	all := make(chan error, 1)
	go func() {
		all <- judged.each(func(b *wire.Batch) (*wire.Derived, error) { return s.derive(stream.Context(), b, site, preparation) })
	}()
	select {
	case err := <-all:
		return err
	case <-judged.failed:
		return judged.err
	}
}

func (s *service) derive(ctx context.Context, m *wire.Batch, site *region.Site, preparation *region.Preparation) (*wire.Derived, error) {
	b, err := wire.UnpackBatch(m, site, preparation)
	if err != nil {
		return nil, status.Error(codes.InvalidArgument, err.Error())
	}
	d, err := guarded(func() (*region.Derived, error) { return s.region.Derive(ctx, b) })
	if err != nil {
		return nil, err
	}
	return wire.PackDerived(d), nil
}

// judging is the batches of one stream that are being judged.
type judging struct {
	stream  grpc.BidiStreamingServer[wire.DeriveRequest, wire.Derived]
	room    chan struct{}
	running sync.WaitGroup

	mu     sync.Mutex    // one answer at a time, and none after an error
	failed chan struct{} // closed when err is set
	err    error         // the first
}

func newJudging(stream grpc.BidiStreamingServer[wire.DeriveRequest, wire.Derived]) *judging {
	return &judging{stream: stream, room: make(chan struct{}, runtime.GOMAXPROCS(0)), failed: make(chan struct{})}
}

// each judges batches until the program has sent its last one, and returns when all are answered.
func (j *judging) each(judge func(*wire.Batch) (*wire.Derived, error)) error {
	for {
		m, err := j.stream.Recv()
		if err != nil {
			j.running.Wait()
			if errors.Is(err, io.EOF) {
				return j.err
			}
			return err
		}
		j.room <- struct{}{}
		j.running.Go(func() { j.one(m.GetBatch(), judge) })
	}
}

// one judges a batch and answers it.
func (j *judging) one(b *wire.Batch, judge func(*wire.Batch) (*wire.Derived, error)) {
	defer func() { <-j.room }()
	answer, err := judge(b)
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.err != nil {
		return
	}
	if err == nil {
		err = j.stream.Send(answer)
	}
	if err != nil {
		j.err = err
		close(j.failed)
	}
}

// guarded calls the author's code and turns its panics, and answers of nothing, into errors.
func guarded[T any](call func() (*T, error)) (answer *T, err error) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(os.Stderr, "panic: %v\n%s", p, debug.Stack())
			answer, err = nil, status.Errorf(codes.Aborted, "%v", p)
		}
	}()
	answer, err = call()
	switch {
	case err != nil:
		return nil, status.Error(codes.FailedPrecondition, err.Error())
	case answer == nil:
		return nil, status.Error(codes.FailedPrecondition, "it answered nothing")
	}
	return answer, nil
}
