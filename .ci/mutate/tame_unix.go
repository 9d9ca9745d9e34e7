//go:build unix

package main

import (
	"os/exec"
	"syscall"
	"time"
)

// tame sees to it that a program that goes wild takes nothing with it: it may
// have 4 GiB of memory, and its children end with it.
func tame(cmd *exec.Cmd) {
	cmd.Args = append([]string{"sh", "-c", `ulimit -v 4194304; exec "$0" "$@"`}, append([]string{cmd.Path}, cmd.Args[1:]...)...)
	if sh, err := exec.LookPath("sh"); err == nil {
		cmd.Path = sh
	}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	cmd.WaitDelay = 5 * time.Second
}
