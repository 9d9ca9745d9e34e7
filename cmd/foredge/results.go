package main

import (
	"io"

	"foredge/cmd/internal/disk"
)

// results is standard output or error, to which commands write what they found. It
// keeps in mind whether all of it arrived: on a full disk, or where nobody reads any
// more, a command must not end as if it had told.
type results struct {
	w    io.Writer
	lost func() // called when something doesn't arrive
	err  error  // the first
}

func (r *results) Write(p []byte) (int, error) {
	if r.err != nil {
		return 0, r.err
	}
	n, err := r.w.Write(p)
	if r.err = err; err != nil && r.lost != nil {
		r.lost()
	}
	return n, err
}

// arrived gives the status of a command whose own is status.
func (r *results) arrived(t *terminal, status int) int {
	if r.err == nil {
		return status
	}
	return t.fail(disk.Lost(r.err))
}
