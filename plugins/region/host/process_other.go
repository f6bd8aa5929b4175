//go:build !unix

package host

import (
	"errors"
	"os"
	"os/exec"
)

// loopbackNetwork is the network that go-plugin uses where there are no unix sockets.
const loopbackNetwork = "tcp"

func separate(*exec.Cmd) {}

func killGroup(p *os.Process) { _ = p.Kill() }

func tryLock(*os.File) error { return errors.ErrUnsupported }

func private(os.FileInfo) bool { return false }
