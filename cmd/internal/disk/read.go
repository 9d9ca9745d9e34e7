package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

const (
	// MaxDesign is the most bytes that a design file may have.
	MaxDesign = 1 << 20
	// MaxInput is the most bytes that any other file may have: artwork, a font,
	// a table of orders.
	MaxInput = 64 << 20
)

// Read reads a whole file of at most limit bytes. Messages call it shown. The
// state is what was read, also when that is an error, which is then an
// [*Error].
func Read(path, shown string, limit int64) ([]byte, State, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, stateOfError(err), readError(path, shown, err)
	}
	switch {
	case info.IsDir():
		return nil, lookFolder(path), folderError(path, shown)
	case !info.Mode().IsRegular():
		return nil, State{Kind: Special}, &Error{
			Code: "no-file", Message: fmt.Sprintf("%q is not an ordinary file", shown)}
	case info.Size() > limit:
		return nil, Look(path), sizeError(shown, info.Size(), limit)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, stateOfError(err), readError(path, shown, err)
	}
	defer f.Close()
	data, err := readAll(f, info.Size(), limit)
	switch {
	case err != nil:
		return nil, State{Kind: Unreadable}, readError(path, shown, err)
	case int64(len(data)) > limit: // it grew since
		return nil, Look(path), sizeError(shown, int64(len(data)), limit)
	}
	return data, StateOf(data), nil
}

// ReadStream reads all of a stream such as standard input, as [Read] does.
func ReadStream(r io.Reader, shown string, limit int64) ([]byte, error) {
	data, err := readAll(r, 0, limit)
	switch {
	case err != nil:
		return nil, &Error{Code: "unreadable", Message: fmt.Sprintf("%s can't be read: %s", shown, reason(err)), Err: err}
	case int64(len(data)) > limit:
		return nil, &Error{Code: "file-too-large",
			Message: fmt.Sprintf("%s is larger than %s, the most that may be read from it", shown, Size(limit))}
	}
	return data, nil
}

// readAll reads up to one byte more than the limit, by which a caller sees
// that there was too much.
func readAll(r io.Reader, size, limit int64) ([]byte, error) {
	buf := make([]byte, 0, min(size, limit)+512)
	lr := io.LimitReader(r, limit+1)
	for {
		n, err := lr.Read(buf[len(buf):cap(buf)])
		buf = buf[:len(buf)+n]
		if err == io.EOF {
			return buf, nil
		}
		if err != nil {
			return nil, err
		}
		if len(buf) == cap(buf) {
			buf = append(buf, 0)[:len(buf)]
		}
	}
}

func sizeError(shown string, size, limit int64) *Error {
	is, most := Sizes(size, limit)
	e := &Error{Code: "file-too-large", Message: fmt.Sprintf("%q is %s, and at most %s can be read", shown, is, most)}
	if limit == MaxDesign {
		e.Message = fmt.Sprintf("%q is %s, and a design may have at most %s", shown, is, most)
		e.Hint = "a design is a short text: is this the right file?"
	}
	return e
}

func folderError(path, shown string) *Error {
	e := &Error{Code: "folder", Message: fmt.Sprintf("%q is a folder, not a file", shown), Err: syscall.EISDIR}
	if names, err := Designs(path); err == nil && len(names) > 0 {
		e.Hint = fmt.Sprintf("name a file in it, such as %s", filepath.Join(shown, names[0]))
	}
	return e
}

func readError(path, shown string, err error) *Error {
	if !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR) {
		e := &Error{Code: "unreadable", Message: fmt.Sprintf("%q can't be read: %s", shown, reason(err)), Err: err}
		if errors.Is(err, fs.ErrPermission) {
			e.Hint = "ask for the right to read it, or copy it to a folder of your own"
		}
		return e
	}
	e := &Error{Code: "missing-file", Message: fmt.Sprintf("there is no file %q", shown), Err: err}
	folder := filepath.Dir(path)
	info, ferr := os.Stat(folder)
	switch {
	case ferr != nil:
		e.Message = fmt.Sprintf("there is no file %q: its folder isn't there either", shown)
		e.Hint = "check the path"
	case !info.IsDir():
		e.Message = fmt.Sprintf("there is no file %q: %q is a file, not a folder", shown, filepath.Dir(shown))
	default:
		if near := nearest(folder, filepath.Base(path)); near != "" {
			e.Near, e.Hint = near, fmt.Sprintf("did you mean %q?", filepath.Join(filepath.Dir(shown), near))
		}
	}
	return e
}
