//go:build unix

package disk

import (
	"os"
	"syscall"
)

// busy reports whether another program has a file open just now: none has one
// here so that it couldn't be replaced.
func busy(error) bool { return false }

// systemReason puts what only this system says into plain words, or "".
func systemReason(error) string { return "" }

// names is how many names a file has; 1 where the system doesn't say.
func names(f *os.File) int {
	info, err := f.Stat()
	if err != nil {
		return 1
	}
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return int(s.Nlink)
	}
	return 1
}
