//go:build unix

package disk

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// tryHold makes and locks a file, or takes over one whose program has died. The
// error is errHeld while another program has it.
func tryHold(path string) (*Hold, error) {
	h := &Hold{path: path, alone: true}
	var err error
	if h.f, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666); errors.Is(err, fs.ErrExist) {
		h.stale = true
		h.f, err = os.OpenFile(path, os.O_RDONLY, 0)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, errHeld // it was let go just now
		}
	}
	if err != nil {
		return nil, err
	}
	switch err := lock(h.f); {
	case errors.Is(err, errHeld):
		h.f.Close()
		return nil, err
	case err != nil:
		h.alone = false // a disk without locks
		return h, nil
	}
	if !liesAt(h.f, path) {
		h.f.Close()
		return nil, errHeld
	}
	return h, nil
}

// liesAt reports whether a file that is locked is still the one at a path: whoever had it may
// have removed it, and another made its own there, between our opening and locking it.
func liesAt(f *os.File, path string) bool {
	mine, err := f.Stat()
	there, lerr := os.Lstat(path)
	return err == nil && lerr == nil && os.SameFile(mine, there)
}

func lock(f *os.File) error {
	for {
		switch err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err {
		case syscall.EINTR:
		case syscall.EWOULDBLOCK:
			return errHeld
		default:
			return err
		}
	}
}

// release removes a file before it lets go of it, so that what others find is
// never what has just been let go.
func release(f *os.File, path string) {
	os.Remove(path)
	f.Close()
}

// keep locks a file that lies there for long, so that none sweeps it away.
func keep(f *os.File) { lock(f) }

// removeDead removes a file that no living program has locked.
func removeDead(path string) {
	f, err := os.Open(path)
	if err != nil {
		return
	}
	defer f.Close()
	if lock(f) == nil && liesAt(f, path) {
		os.Remove(path)
	}
}
