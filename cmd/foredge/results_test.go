package main

import (
	"bytes"
	"context"
	"io"
	"strings"
	"syscall"
	"testing"
)

// A fullDisk takes so many bytes and no more.
type fullDisk struct{ room int }

func (f *fullDisk) Write(p []byte) (int, error) {
	n := min(len(p), f.room)
	f.room -= n
	if n < len(p) {
		return n, syscall.ENOSPC
	}
	return n, nil
}

// Whatever a command writes to standard output, it ends with 2 and says so once if
// not all of it arrives, on a full disk or where nobody reads any more.
func TestResultsThatDoNotArrive(t *testing.T) {
	const design = "laser bench { kerf = 0 }\nnotebook log { width = 100 exact; height = 150 exact }\npanel front covers log { thick = 3 }\n"
	for _, args := range []string{"solve -", "solve --all -", "solve --json -", "check -", "check --json -", "fit -", "fit --json -", "shelf", "shelf ply",
		"help", "help build", "help codes", "help clash", "version", "build -h"} {
		for _, room := range []int{0, 10} {
			var stderr bytes.Buffer
			status := run(context.Background(), &terminal{stdin: strings.NewReader(design), stdout: &fullDisk{room}, stderr: &stderr,
				width: func() int { return 80 }}, strings.Fields(args))
			if status != misuse || strings.Count(stderr.String(), "the disk is full") != 1 {
				t.Errorf("foredge %s, %d bytes of room: status %d, told\n%s", args, room, status, stderr.String())
			}
		}
		var stderr bytes.Buffer
		if status := run(context.Background(), &terminal{stdin: strings.NewReader(design), stdout: io.Discard, stderr: &stderr,
			width: func() int { return 80 }}, strings.Fields(args)); status != done {
			t.Errorf("foredge %s: status %d, told\n%s", args, status, stderr.String())
		}
	}
}
