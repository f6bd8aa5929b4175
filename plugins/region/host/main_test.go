package host_test

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"encoding/base64"
	"errors"
	"fmt"
	"math/big"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/testdata/regions/oakshire"
)

// The test binary is the program: it serves its own regions, sound and faulty ones.
func TestMain(m *testing.M) {
	host.ServeIfAsked(regions)
	os.Exit(m.Run())
}

var regions = map[string]func() region.Region{
	"oakshire": oakshire.New,

	// Faults of the process, before anything is served.
	"dead":       func() region.Region { fmt.Fprintln(os.Stderr, "no licence found"); os.Exit(3); return nil },
	"silent":     func() region.Region { wait(); return nil },
	"chatty":     func() region.Region { fmt.Println("Welcome to Oakshire!"); return oakshire.New() },
	"endless":    func() region.Region { fmt.Print(strings.Repeat("x", 1<<20)); wait(); return nil },
	"newer":      prints("1|7|unix|/socket|grpc|certificate"),
	"older":      prints("1|0|unix|/socket|grpc|certificate"),
	"unnumbered": prints("1|one|unix|/socket|grpc|certificate"),
	"othercore":  prints("9|1|unix|/socket|grpc|certificate"),
	"netrpc":     prints("1|1|unix|/socket|netrpc|certificate"),
	"tcp":        prints("1|1|tcp|127.0.0.1:1|grpc|certificate"),
	"elsewhere":  prints("1|1|unix|/run/other.sock|grpc|certificate"),
	"open":       func() region.Region { return prints("1|1|unix|" + socket() + "|grpc|")() },
	"frames":     garbageFrames,

	// Noise that must do no harm.
	"noisy": func() region.Region {
		fmt.Fprintln(os.Stderr, `{"@message":1,"@level":[],"@timestamp":{}}`)
		fmt.Fprintln(os.Stderr, strings.Repeat("\x00\xff\x1b[31m", 1<<16))
		return faulty{describe: func() error {
			for range 64 {
				_, _ = syscall.Write(1, []byte(strings.Repeat("1|9|unix|", 1<<10)+"\n"))
				_, _ = syscall.Write(2, []byte(`{"@message":1}`+"\n"))
				fmt.Println(strings.Repeat("y", 1<<10))
			}
			return nil
		}}
	},
	"environment": func() region.Region {
		return faulty{describe: func() error { return errors.New(strings.Join(names(os.Environ()), " ")) }}
	},

	// Faults of the author's code.
	"panics": func() region.Region { return faulty{describe: func() error { panic("out of\x1b[2J oak") }} },
	"refuses": func() region.Region {
		return faulty{derive: func(*region.Derived) error { return errors.New("no oak today") }}
	},
	"exits": func() region.Region { return faulty{derive: func(*region.Derived) error { os.Exit(7); return nil }} },
	"crashes": func() region.Region {
		return faulty{derive: func(*region.Derived) error { go panic("a goroutine of mine"); select {} }}
	},
	"hangs": func() region.Region { return faulty{derive: func(*region.Derived) error { select {} }} },
	"stops": func() region.Region {
		return faulty{derive: func(*region.Derived) error {
			_ = syscall.Kill(os.Getpid(), syscall.SIGSTOP)
			select {} // the signal may come a little later
		}}
	},
	"misnumbers": func() region.Region {
		return faulty{derive: func(d *region.Derived) error { d.Sequence += 5; return nil }}
	},
	"shortens": func() region.Region {
		return faulty{derive: func(d *region.Derived) error { d.Value = d.Value[1:]; return nil }}
	},
	"inflates": func() region.Region {
		return faulty{derive: func(d *region.Derived) error {
			d.Reasons = append(d.Reasons, strings.Repeat("z", region.MaxMessage))
			return nil
		}}
	},
	"breeds": func() region.Region {
		return faulty{describe: func() error { return exec.Command("/bin/sleep", "1000").Start() }}
	},
}

// faulty is Oakshire with a fault in its description or its answers.
type faulty struct {
	describe func() error
	derive   func(*region.Derived) error
}

func (f faulty) Describe(ctx context.Context) (*region.Description, error) {
	if f.describe != nil {
		if err := f.describe(); err != nil {
			return nil, err
		}
	}
	return oakshire.New().Describe(ctx)
}

func (f faulty) Prepare(ctx context.Context, s *region.Site) (*region.Preparation, error) {
	return oakshire.New().Prepare(ctx, s)
}

func (f faulty) Derive(ctx context.Context, b *region.Batch) (*region.Derived, error) {
	d, err := oakshire.New().Derive(ctx, b)
	if err == nil && f.derive != nil {
		err = f.derive(d)
	}
	return d, err
}

func (f faulty) Span(ctx context.Context, r *region.SpanRequest) (*region.Span, error) {
	return oakshire.New().Span(ctx, r)
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

// socket is a path in the folder that the process was given.
func socket() string { return filepath.Join(os.Getenv("PLUGIN_UNIX_SOCKET_DIR"), "socket") }

// garbageFrames says the right things, and then talks nonsense to whoever connects.
func garbageFrames() region.Region {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		panic(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(1)}
	der, err := x509.CreateCertificate(rand.Reader, template, template, key.Public(), key)
	if err != nil {
		panic(err)
	}
	listener, err := net.Listen("unix", socket())
	if err != nil {
		panic(err)
	}
	fmt.Printf("1|1|unix|%s|grpc|%s\n", socket(), base64.RawStdEncoding.EncodeToString(der))
	for {
		connection, err := listener.Accept()
		if err != nil {
			panic(err)
		}
		_, _ = connection.Write([]byte(strings.Repeat("\x16\x03\x01\xff\xff nonsense", 4096)))
	}
}

func names(environment []string) []string {
	var out []string
	for _, entry := range environment {
		name, _, _ := strings.Cut(entry, "=")
		out = append(out, name)
	}
	return out
}
