package disk

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"testing/synctest"

	"foredge/lang/foretest"
)

// A rename over a file that a program has open fails on Windows until it is closed:
// that is waited for, anything else is told at once.
func TestReplaceWaits(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		open, gone := errors.New("it is open"), errors.New("it is gone")
		isOpen := func(err error) bool { return errors.Is(err, open) }
		for _, c := range []struct {
			fails int
			with  error
			want  error
			tries int
		}{
			{0, nil, nil, 1}, {7, open, nil, 8}, {1000, open, open, tries + 1}, {1000, gone, gone, 1},
		} {
			n := 0
			err := replace(func(string, string) error {
				if n++; n <= c.fails {
					return c.with
				}
				return nil
			}, isOpen, "from", "to")
			if err != c.want || n != c.tries {
				t.Errorf("%d times %v: %v after %d tries", c.fails, c.with, err, n)
			}
		}
	})
}

// A file that somebody reads is replaced, and the reader has the old one whole.
func TestReplaceWhileRead(t *testing.T) {
	path := foretest.Write(t, filepath.Join(t.TempDir(), "a.svg"), "old")
	f, err := os.Open(path)
	foretest.Must(t, err)
	done := make(chan error, 1)
	go func() { done <- WriteSet(t.Context(), []File{{path, []byte("new")}}, Rules{}) }()
	data := make([]byte, 10)
	n, _ := f.Read(data)
	f.Close()
	if err := <-done; err != nil || foretest.Read(t, path) != "new" || string(data[:n]) != "old" && string(data[:n]) != "new" {
		t.Errorf("%v, and read was %q", err, data[:n])
	}
}
