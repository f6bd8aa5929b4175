package host

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/hashicorp/go-plugin"

	"example.com/scantling/plugins/region"
)

// The fields of the line with which a region says where to connect.
const (
	fieldCore = iota
	fieldContract
	fieldNetwork
	fieldAddress
	fieldProtocol
	fieldCertificate
	fields
)

// handshake is what is wrong with the first line that the process printed, or nil.
func (p *process) handshake() *Failure {
	line := p.line.String()
	parts := strings.Split(strings.TrimSpace(line), "|")
	if _, err := strconv.Atoi(parts[fieldCore]); err != nil || len(parts) <= fieldProtocol {
		return &Failure{Cause: Unstartable, Reason: fmt.Sprintf("it printed %q instead of saying where to connect", printable(line, 120)),
			Fix: "a region prints nothing to standard output; its author must use standard error"}
	}
	if parts[fieldCore] != strconv.Itoa(plugin.CoreProtocolVersion) {
		return unstartable(fmt.Errorf("it speaks version %s of go-plugin's handshake and scantling speaks %d", printable(parts[fieldCore], 10), plugin.CoreProtocolVersion),
			"build the region with the go-plugin that its contract names")
	}
	contract, err := strconv.Atoi(parts[fieldContract])
	if err != nil {
		return unstartable(fmt.Errorf("it says that it speaks version %q of the contract", printable(parts[fieldContract], 20)), fixAuthor)
	}
	if contract != region.ContractVersion {
		e := &VersionError{Region: contract, Program: []int{region.ContractVersion}}
		return &Failure{Cause: Version, Reason: e.Error(), Err: e}
	}
	network, address := parts[fieldNetwork], parts[fieldAddress]
	switch {
	case parts[fieldProtocol] != string(plugin.ProtocolGRPC):
		return unstartable(fmt.Errorf("it speaks %q instead of grpc", printable(parts[fieldProtocol], 20)), fixAuthor)
	case network != "unix" && network != loopbackNetwork:
		return unstartable(fmt.Errorf("it listens on %q instead of a unix socket", printable(network, 20)), fixAuthor)
	case network == "unix" && filepath.Dir(filepath.Dir(filepath.Clean(address))) != p.folder:
		return unstartable(fmt.Errorf("its socket %q is not in the folder that it was given", printable(address, 200)), fixAuthor)
	case len(parts) < fields || parts[fieldCertificate] == "":
		return unstartable(errors.New("it sent no certificate"), fixAuthor)
	}
	return nil
}

// explainStart turns what starting the process ended with into a failure.
func (p *process) explainStart(err error, within time.Duration) *Failure {
	var f *Failure
	switch {
	case err == nil:
		return nil
	case errors.As(err, &f):
		return f
	case errors.Is(err, errSlow):
		return slow(within)
	case errors.Is(err, context.Canceled):
		return &Failure{Cause: Cancelled, Reason: "the run was given up", Err: err}
	case errors.Is(err, os.ErrPermission):
		return unstartable(err, "the folder for temporary files may not allow programs to run: set TMPDIR to one that does")
	}
	if p.line.String() != "" {
		if f := p.handshake(); f != nil {
			return f
		}
	}
	if how := p.ending(shortly); how != "" {
		return unstartable(errors.New(how), fixAuthor)
	}
	return unstartable(err, fixAuthor)
}

// shortly is how long a process whose connection failed may take to be seen ended.
const shortly = 2 * pipeDelay

// ending says how the process ended, with the last of what it printed; it waits a little for that, because a connection
// breaks before its process is seen to be gone. It is empty while the process runs, and when it was never started.
func (p *process) ending(patience time.Duration) string {
	if p.ID() == "" {
		return ""
	}
	select {
	case <-p.ended:
	case <-time.After(patience):
		return ""
	}
	how := "its process ended (" + p.command.ProcessState.String() + ")"
	if last := p.errors.String(); last != "" {
		how += fmt.Sprintf("; the last it said was %q", last)
	}
	return how
}

func unstartable(err error, fix string) *Failure {
	return &Failure{Cause: Unstartable, Reason: printable(err.Error(), 600), Err: err, Fix: fix}
}
