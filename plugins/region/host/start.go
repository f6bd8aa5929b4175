package host

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"github.com/hashicorp/go-plugin/runner"
	"google.golang.org/grpc"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/serve"
	"example.com/scantling/plugins/region/wire"
)

// Options say which region to start: one that ships with the program, or someone else's executable.
type Options struct {
	Shipped   string // name of a region that ServeIfAsked knows; it is served by this same executable
	File      string // path of an executable, when Shipped is empty
	SHA256    string // its digest in hexadecimal; never left out
	Name      string // what failures call the region; Shipped or File when empty
	Deadlines Deadlines
}

// askedToServe is the argument that makes the program serve one of its own regions.
const askedToServe = "serve-region"

// ServeIfAsked serves one of the regions that ship, and does not return, when this process was started for that.
// Otherwise it returns at once. Programs that start shipped regions call it first in main, and tests that do in
// TestMain.
func ServeIfAsked(shipped map[string]func() region.Region) {
	if len(os.Args) != 3 || os.Args[1] != askedToServe || os.Getenv(wire.Handshake.MagicCookieKey) != wire.Handshake.MagicCookieValue {
		return
	}
	create, known := shipped[os.Args[2]]
	if !known {
		fmt.Fprintf(os.Stderr, "no region %q ships with this program\n", os.Args[2])
		os.Exit(1)
	}
	serve.Region(create())
	os.Exit(0)
}

// Start starts a region's process and returns at once; the first call waits for it, and gets the failure if there was
// one. The process ends with the context, with Close, and when this program ends however it may.
func Start(ctx context.Context, o Options) *Client {
	ctx, stop := context.WithCancel(ctx)
	c := &Client{name: o.name(), deadlines: o.Deadlines.filled(), started: make(chan struct{}), stop: stop}
	go func() {
		defer close(c.started)
		l, failure := launch(ctx, o, c.deadlines.Start)
		if failure != nil {
			failure.Region, failure.During = c.name, "start"
			c.broken = failure
			return
		}
		c.link = l
		context.AfterFunc(ctx, l.kill)
	}()
	return c
}

func (o Options) name() string {
	for _, name := range []string{o.Name, o.Shipped} {
		if name != "" {
			return name
		}
	}
	return o.File
}

// executable is what to run, and with which arguments.
func (o Options) executable(folder string) (string, []string, *Failure) {
	if o.Shipped == "" {
		path, failure := pinned(o.File, o.SHA256, folder)
		return path, nil, failure
	}
	path, err := os.Executable()
	if err != nil {
		return "", nil, unstartable(err, "")
	}
	return path, []string{askedToServe, o.Shipped}, nil
}

// launch starts a process and connects to it. When it fails, nothing is left behind.
func launch(ctx context.Context, o Options, within time.Duration) (*remote, *Failure) {
	ctx, cancel := context.WithTimeoutCause(ctx, within, errSlow)
	defer cancel()
	folder, err := newFolder(shortTemp())
	if err != nil {
		return nil, unstartable(err, "set TMPDIR to a folder that can be written to")
	}
	r := &remote{folder: folder}
	failure := r.start(ctx, o, within)
	if failure != nil {
		r.close()
		return nil, failure
	}
	return r, nil
}

func (r *remote) start(ctx context.Context, o Options, within time.Duration) *Failure {
	path, arguments, failure := o.executable(r.folder.path)
	if failure != nil {
		return failure
	}
	var err error
	if r.process, err = newProcess(path, arguments, r.folder.path); err != nil {
		return unstartable(err, "")
	}
	identity, certificate, err := mutualTLS()
	if err != nil {
		return unstartable(err, "")
	}
	r.plugin = plugin.NewClient(&plugin.ClientConfig{
		HandshakeConfig:  wire.Handshake,
		VersionedPlugins: wire.Versions(asked{}),
		RunnerFunc: func(_ hclog.Logger, spec *exec.Cmd, _ string) (runner.Runner, error) {
			// What the handshake needs, and nothing else.
			r.process.command.Env = append(spec.Env, wire.CertificateVariable+"="+certificate)
			return r.process, nil
		},
		TLSConfig:        identity,
		SkipHostEnv:      true,
		AllowedProtocols: []plugin.Protocol{plugin.ProtocolGRPC},
		StartTimeout:     within + time.Hour, // ours ends it, and knows why
		Logger:           hclog.NewNullLogger(),
		UnixSocketConfig: &plugin.UnixSocketConfig{TempDir: r.folder.path},
		GRPCDialOptions: []grpc.DialOption{
			grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(region.MaxMessage), grpc.MaxCallSendMsgSize(region.MaxMessage)),
			grpc.WithInitialWindowSize(wire.Window), grpc.WithInitialConnWindowSize(wire.Window),
		},
	})
	connected := make(chan error, 1)
	go func() { connected <- r.connect() }()
	r.sweep.Go(func() { removeAbandoned(filepath.Dir(r.folder.path)) }) // a full folder must not hold up the start
	select {
	case err = <-connected:
		if err != nil && ctx.Err() != nil {
			err = context.Cause(ctx)
		}
	case <-ctx.Done():
		_ = r.process.Kill(ctx) // which makes connect return
		<-connected
		err = context.Cause(ctx)
	}
	return r.process.explainStart(err, within)
}

// pinned copies an executable into the folder and checks that the copy, which is what will run, has the digest.
func pinned(file, digest, folder string) (string, *Failure) {
	want, err := hex.DecodeString(strings.TrimSpace(digest))
	if err != nil || len(want) != sha256.Size {
		return "", &Failure{Cause: Digest, Reason: fmt.Sprintf("%q is not a SHA-256 in hexadecimal", printable(digest, 80)), Err: &DigestError{Want: digest},
			Fix: "pin the region with the digest that its author publishes"}
	}
	path := filepath.Join(folder, "region"+filepath.Ext(file))
	if err := copyExecutable(file, path); err != nil {
		return "", unstartable(err, "give the path of the region's executable")
	}
	secure := &plugin.SecureConfig{Checksum: want, Hash: sha256.New()}
	same, err := secure.Check(path)
	if err != nil {
		return "", unstartable(err, "")
	}
	if !same {
		e := &DigestError{Want: hex.EncodeToString(want), Got: hex.EncodeToString(secure.Hash.Sum(nil))}
		return "", &Failure{Cause: Digest, Reason: e.Error(), Err: e, Fix: "find out why the file changed before you pin it anew"}
	}
	return path, nil
}

// copyExecutable copies a file so that only this user can read and run the copy. No process may be forked while the
// copy is open for writing: the child would hold it open, and running it would fail as busy.
func copyExecutable(from, to string) error {
	source, err := os.Open(from)
	if err != nil {
		return err
	}
	defer func() { _ = source.Close() }()
	if info, err := source.Stat(); err != nil {
		return err
	} else if !info.Mode().IsRegular() {
		return fmt.Errorf("%s is not a file", from)
	}
	syscall.ForkLock.RLock()
	defer syscall.ForkLock.RUnlock()
	target, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o700)
	if err != nil {
		return err
	}
	_, err = io.Copy(target, source)
	return errors.Join(err, target.Close())
}

// shortTemp is the folder for temporary files, unless the path of a socket in it would be longer than systems allow.
func shortTemp() string {
	const longest = 37 // 104 bytes on the strictest system, less what go-plugin and we add
	if temp := os.TempDir(); len(temp) <= longest {
		return temp
	}
	if info, err := os.Stat("/tmp"); err == nil && info.IsDir() {
		return "/tmp"
	}
	return os.TempDir()
}
