package disk

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// A Stream is a file that is written bit by bit beside its target, which it
// replaces as a whole when it is done. Its folder must be there.
type Stream struct {
	p pending
	f *os.File
	w *bufio.Writer
}

// Create begins a file. The error is an [*Error] or that of ctx.
func Create(ctx context.Context, path string) (*Stream, error) {
	p, err := folders{}.lookAt(path)
	if err != nil {
		return nil, err
	}
	folder := filepath.Dir(p.target)
	if _, err := os.Stat(folder); err != nil {
		return nil, writeError(path, err)
	}
	// What isn't locked yet may be swept away by the one that has the folder.
	h, err := take(ctx, folder, writing)
	if err != nil {
		return nil, writeError(path, err)
	}
	defer h.Release()
	s := &Stream{p: p}
	if s.f, err = s.p.createTemp(); err != nil {
		return nil, writeError(path, err)
	}
	keep(s.f)
	s.p.temp = s.f.Name()
	s.w = bufio.NewWriter(s.f)
	return s, nil
}

// Write writes what comes next; errors are told by Commit.
func (s *Stream) Write(data []byte) (int, error) {
	s.w.Write(data)
	return len(data), nil
}

// Text gives what was written so far.
func (s *Stream) Text() ([]byte, error) {
	err := s.w.Flush()
	if err != nil {
		return nil, writeError(s.p.shown, err)
	}
	data, err := os.ReadFile(s.p.temp)
	if err != nil {
		return nil, writeError(s.p.shown, err)
	}
	return data, nil
}

// Commit puts the file into its place, unless one with the same bytes is there
// already: that is left alone. The error is an [*Error].
func (s *Stream) Commit() error {
	err := s.w.Flush()
	if err == nil && s.p.had {
		if same, _ := equal(s.f, s.p.target); same {
			s.Close()
			return nil
		}
		err = s.f.Chmod(s.p.perm)
	}
	if err == nil {
		err = s.f.Sync()
	}
	if err == nil {
		// Closed it is no longer locked, and may be swept away before it has its place.
		var h *Hold
		if h, err = take(context.Background(), filepath.Dir(s.p.target), writing); err == nil {
			defer h.Release()
		}
	}
	if err = errors.Join(err, s.f.Close()); err == nil {
		err = s.p.commit()
	}
	if err != nil {
		s.Close()
		return writeError(s.p.shown, err)
	}
	return nil
}

// Close gives a file up that wasn't committed.
func (s *Stream) Close() {
	s.f.Close()
	if s.p.temp != "" {
		os.Remove(s.p.temp)
		s.p.temp = ""
	}
}

// equal says whether a file that was just written holds what another one does.
func equal(f *os.File, path string) (bool, error) {
	g, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer g.Close()
	a, b := io.NewSectionReader(f, 0, 1<<62), bufio.NewReader(g)
	one, two := make([]byte, 1<<15), make([]byte, 1<<15)
	for {
		n, errA := io.ReadFull(a, one)
		m, errB := io.ReadFull(b, two)
		if !bytes.Equal(one[:n], two[:m]) {
			return false, nil
		}
		if errA != nil || errB != nil {
			end := func(err error) bool { return err == io.EOF || err == io.ErrUnexpectedEOF }
			return end(errA) && end(errB), nil
		}
	}
}

// folders are where links lead, of the folders that files are looked for in at one time.
type folders map[string]string

// lookAt finds out where a file is to go and what stands there.
func (known folders) lookAt(path string) (pending, error) {
	p := pending{shown: path, target: path, perm: 0o666}
	real, err := known.follow(path)
	if err != nil {
		return p, writeError(path, err)
	}
	p.target = real
	info, err := os.Stat(real)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return p, nil
	case err != nil:
		return p, writeError(path, err)
	case info.IsDir():
		return p, &Error{Code: "cannot-write", Message: fmt.Sprintf("%q can't be written: a folder of that name is there", path),
			Hint: "rename the folder, or choose another with -o"}
	case !info.Mode().IsRegular():
		return p, &Error{Code: "cannot-write", Message: fmt.Sprintf("%q can't be written: it is not an ordinary file", path),
			Hint: "remove it, or choose another folder with -o"}
	}
	p.had, p.perm = true, info.Mode().Perm()
	return p, nil
}

// real is where links lead that a folder is reached by, if it is there.
func (known folders) real(dir string) (string, bool) {
	if at, ok := known[dir]; ok {
		return at, true
	}
	at, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return "", false
	}
	known[dir] = at
	return at, true
}

// follow gives the path that links lead to, also where nothing is there yet: a
// link stays a link. Nothing is made in a folder that a link speaks of and that
// isn't there: it may be a disk's that isn't in.
func (known folders) follow(path string) (string, error) {
	for range 40 { // as many links as a system follows
		to, err := os.Readlink(path)
		if err != nil { // no link
			if dir, ok := known.real(filepath.Dir(path)); ok {
				return filepath.Join(dir, filepath.Base(path)), nil
			}
			return path, nil
		}
		if real, err := filepath.EvalSymlinks(path); err == nil {
			return real, nil
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		if _, err := os.Stat(filepath.Dir(to)); err != nil {
			return "", fmt.Errorf("it is a link to %q, and that folder isn't there", filepath.Dir(to))
		}
		path = to
	}
	return "", syscall.ELOOP
}
