//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package main

import "os"

// columns is how wide the terminal is that a file is, 0 as it can't be asked
// here; ok is false if it is none.
func columns(f *os.File) (n int, ok bool) {
	info, err := f.Stat()
	return 0, err == nil && info.Mode()&os.ModeCharDevice != 0
}
