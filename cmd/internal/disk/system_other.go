//go:build !unix && !windows

package disk

import (
	"errors"
	"io/fs"
	"os"
)

// Where there are neither locks nor other programs, as in a browser's page, a file
// that is there is all that holds a folder.

func tryHold(path string) (*Hold, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return nil, errHeld
	}
	if err != nil {
		return nil, err
	}
	return &Hold{f: f, path: path}, nil
}

func release(f *os.File, path string) {
	f.Close()
	os.Remove(path)
}

func keep(*os.File) {}

func removeDead(string) {}

func busy(error) bool { return false }

func systemReason(error) string { return "" }

func names(*os.File) int { return 1 }
