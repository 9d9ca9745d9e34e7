//go:build unix

package view

import (
	"os/exec"
	"syscall"
)

// apart keeps a command from what ends this program: Ctrl-C goes to all of a
// terminal's group.
func apart(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true} }
