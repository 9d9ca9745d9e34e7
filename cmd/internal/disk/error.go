package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"

	"foredge/lang/diag"
)

// An Error says in a maker's words why a file can't be used. Message is one
// sentence without a full stop; Hint says what to do next and may be empty.
type Error struct {
	Code    diag.Code // the kind of trouble: missing-file
	Message string
	Hint    string
	Err     error  // what the system said; may be nil
	Near    string // a file of the same folder that may be meant; "" for none
}

func (e *Error) Error() string { return e.Message }

// Help says what to do next; it may be empty.
func (e *Error) Help() string { return e.Hint }

// Nearest is Near.
func (e *Error) Nearest() string { return e.Near }

func (e *Error) Unwrap() error { return e.Err }

// Lost says that what a command found didn't arrive on standard output.
func Lost(err error) *Error {
	return &Error{Code: "cannot-write", Message: "not all that was found could be written to standard output: " + reason(err),
		Hint: "make room, or send it elsewhere, and call the command again", Err: err}
}

// Gone says that a file which was written isn't there any more.
func Gone(path string) *Error {
	return &Error{Code: "cannot-write", Message: fmt.Sprintf("%q was written and is not there any more", path),
		Hint: "see what else is at work in that folder, and call the command again"}
}

// reason puts what the system says about a file into plain words.
func reason(err error) string {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return "you don't have permission"
	case errors.Is(err, fs.ErrNotExist):
		return "it is not there"
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return "the disk is full"
	case errors.Is(err, syscall.EPIPE):
		return "what reads it has ended"
	case errors.Is(err, syscall.EFBIG):
		return "the file would be larger than the system lets it be"
	case errors.Is(err, syscall.EIO):
		return "the disk or the device has failed"
	case errors.Is(err, syscall.EROFS):
		return "the disk can only be read"
	case errors.Is(err, syscall.EMFILE), errors.Is(err, syscall.ENFILE):
		return "too many files are open"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "the name is too long"
	case errors.Is(err, syscall.ENOTDIR):
		return "part of the path is a file, not a folder"
	case errors.Is(err, syscall.ELOOP):
		return "its links lead in a circle"
	}
	if said := systemReason(err); said != "" {
		return said
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	var le *os.LinkError
	if errors.As(err, &le) {
		return le.Err.Error()
	}
	return err.Error()
}

// Size writes a number of bytes for a person: 2.0 MiB.
func Size(n int64) string {
	switch {
	case n >= 1<<20:
		return fmt.Sprintf("%.1f MiB", float64(n)/(1<<20))
	case n >= 1<<10:
		return fmt.Sprintf("%.1f KiB", float64(n)/(1<<10))
	}
	return fmt.Sprintf("%d bytes", n)
}

// Sizes writes a number of bytes and the most that there may be, by the byte where they
// would look alike otherwise.
func Sizes(n, most int64) (is, limit string) {
	if is, limit = Size(n), Size(most); is == limit {
		return fmt.Sprintf("%d bytes", n), fmt.Sprintf("%d bytes", most)
	}
	return is, limit
}
