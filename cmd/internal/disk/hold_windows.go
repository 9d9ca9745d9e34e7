package disk

import (
	"os"
	"syscall"
)

// tryHold opens a file that nobody else may open meanwhile. The error is errHeld
// while another program has it.
func tryHold(path string) (*Hold, error) {
	_, before := os.Lstat(path)
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	const hidden = 0x2 // FILE_ATTRIBUTE_HIDDEN
	handle, err := syscall.CreateFile(name, syscall.GENERIC_READ|syscall.GENERIC_WRITE, 0, nil, syscall.OPEN_ALWAYS, hidden, 0)
	switch {
	case err == sharingViolation, err == deletePending && before == nil:
		return nil, errHeld
	case err != nil:
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return &Hold{f: os.NewFile(uintptr(handle), path), path: path, stale: before == nil, alone: true}, nil
}

// release removes a file once it has let go of it; one that another program has
// taken by then stays.
func release(f *os.File, path string) {
	f.Close()
	os.Remove(path)
}

// keep has nothing to do: a file that is open can't be removed.
func keep(*os.File) {}

// removeDead removes a file that no living program has open.
func removeDead(path string) { os.Remove(path) }
