package disk

import (
	"context"
	"os"
	"path/filepath"
)

// Remove takes a file away if what it holds, read while no other program writes into its
// folder, may go. It reports whether the file has gone; why it hasn't doesn't matter to
// those who call it.
func Remove(ctx context.Context, path string, may func(data []byte) bool) bool {
	look := func() bool {
		data, _, err := Read(path, path, MaxInput)
		return err == nil && may(data)
	}
	if !look() {
		return false
	}
	hold, err := take(ctx, filepath.Dir(path), writing)
	if err != nil {
		return false
	}
	defer hold.Release()
	return look() && os.Remove(path) == nil
}
