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

// tryLock locks an open file, unless another process has it locked.
func tryLock(f *os.File) error { return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) }

// private says whether a folder is this user's own and nobody else can enter it.
func private(info os.FileInfo) bool {
	of, known := info.Sys().(*syscall.Stat_t)
	return known && int(of.Uid) == os.Getuid() && info.Mode().Perm()&0o077 == 0
}
