//go:build unix

package host

import (
	"os"
	"os/exec"
	"syscall"
)

// loopbackNetwork is empty: regions listen on unix sockets.
const loopbackNetwork = ""

func separate(c *exec.Cmd) { c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }

// killGroup kills the process with all its children, stopped ones included.
func killGroup(p *os.Process) { _ = syscall.Kill(-p.Pid, syscall.SIGKILL) }
