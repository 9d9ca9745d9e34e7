//go:build !unix

package main

import "os"

// writeSignals are none: here a write only has its error.
func writeSignals() []os.Signal { return nil }
