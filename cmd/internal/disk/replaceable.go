package disk

import (
	"errors"
	"fmt"
	"os"
)

// Replaceable gives an error for a file that is there and must not be replaced by another
// under its name: one that may only be read, and one that has a second name (a hard link),
// under which the old text would stay. The error is an [*Error].
func Replaceable(path string) error {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return nil // [WriteSet] says what there is to say
	}
	several := false
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err == nil {
		several = names(f) > 1
		err = f.Close()
	}
	switch {
	case errors.Is(err, os.ErrPermission), err == nil && info.Mode().Perm()&0o200 == 0: // root may write all
		return &Error{Code: "cannot-write", Message: fmt.Sprintf("%q may only be read, and is left as it is", path),
			Hint: "allow it to be written, or name a copy of it", Err: err}
	case err != nil:
		return writeError(path, err)
	case several:
		return &Error{Code: "cannot-write", Message: fmt.Sprintf("%q has a second name (a hard link), under which the old text would stay, and is left as it is", path),
			Hint: "remove the other name or make it a copy, or lay the text out in your editor"}
	}
	return nil
}
