package disk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const (
	// TempPrefix begins the names of files that are there only while something is
	// being written.
	TempPrefix = ".foredge-"
	writing    = "lock"  // held while files take their places
	atWork     = "batch" // held as long as a batch lasts
)

// patience is how long others may take with a folder before that is told, and
// between is how long to wait before the next look.
const (
	patience = 30 * time.Second
	between  = 3 * time.Millisecond
)

// errHeld says that another program holds a file.
var errHeld = errors.New("another foredge holds it")

// A Hold keeps other programs of ours out of a folder. It is a file there that
// is locked as long as the program lives, so that none has to clear up after
// one that was killed.
type Hold struct {
	f    *os.File
	path string
	// stale says that a program died which had the folder; alone that no other
	// can have it, which a disk without locks can't promise.
	stale, alone bool
	made         []string // folders for it, outermost first
}

// HoldFolder keeps other batches out of a folder, which is made if it is
// missing, and sweeps it. Single files can still be written there. The error is
// an [*Error] or that of ctx.
func HoldFolder(ctx context.Context, folder string) (*Hold, error) {
	h, err := take(ctx, folder, atWork)
	if err != nil {
		return nil, writeError(folder, err)
	}
	lock, err := take(ctx, folder, writing)
	if err != nil {
		h.Release()
		return nil, writeError(folder, err)
	}
	defer lock.Release()
	lock.sweep()
	return h, nil
}

// Still gives an error if the folder is no longer the one that was held: somebody has
// moved or removed it, whatever lies at its path now.
func (h *Hold) Still() error {
	was, err := h.f.Stat()
	now, gone := os.Lstat(h.path)
	if err == nil && gone == nil && os.SameFile(was, now) {
		return nil
	}
	return &Error{Code: "cannot-write", Message: fmt.Sprintf("the folder %q was moved or removed while it was written into", filepath.Dir(h.path)),
		Hint: "put it back, or choose another folder with -o, and call the command again", Err: gone}
}

// Release lets others have the folder. One that was made for it goes again if
// nothing was put into it.
func (h *Hold) Release() {
	release(h.f, h.path)
	removeEmpty(h.made)
}

func removeEmpty(folders []string) {
	for _, folder := range slices.Backward(folders) {
		os.Remove(folder) // fails if there is anything in it
	}
}

// take waits for a folder, which is made if it is missing.
func take(ctx context.Context, folder, what string) (*Hold, error) {
	path := filepath.Join(folder, TempPrefix+what)
	limit := time.NewTimer(patience)
	defer limit.Stop()
	var made []string
	h, err := func() (*Hold, error) {
		for gone := 0; ; {
			more, err := makeFolder(folder)
			if made = append(made, more...); err != nil {
				return nil, err
			}
			h, err := tryHold(path)
			switch {
			case err == nil:
				return h, nil
			case errors.Is(err, fs.ErrNotExist) && gone < 3:
				gone++ // another has removed the folder that it had made
				continue
			case !errors.Is(err, errHeld):
				return nil, err
			}
			select {
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-limit.C:
				return nil, busyFolder(folder)
			case <-time.After(between):
			}
		}
	}()
	if err != nil {
		removeEmpty(made)
		return nil, err
	}
	h.made = made
	return h, nil
}

func busyFolder(folder string) *Error {
	return &Error{Code: "folder-busy",
		Message: fmt.Sprintf("another foredge has been at work in the folder %q for %g s", folder, patience.Seconds()),
		Hint:    "wait until it has ended, or choose another folder with -o"}
}

// sweep removes what programs that were killed have left in a folder. It must be
// called by the one that holds the folder for writing: what is being written
// there at the time is then locked itself.
func (h *Hold) sweep() {
	if !h.alone {
		return
	}
	entries, _ := os.ReadDir(filepath.Dir(h.path)) // what can't be listed can't be swept
	for _, e := range entries {
		path := filepath.Join(filepath.Dir(h.path), e.Name())
		if strings.HasPrefix(e.Name(), TempPrefix) && e.Type().IsRegular() && path != h.path {
			removeDead(path)
		}
	}
}
