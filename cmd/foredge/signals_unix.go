//go:build unix

package main

import (
	"os"
	"syscall"
)

// writeSignals are the signals that come with an error of the write which they are about:
// that is told.
func writeSignals() []os.Signal { return []os.Signal{syscall.SIGPIPE, syscall.SIGXFSZ} }
