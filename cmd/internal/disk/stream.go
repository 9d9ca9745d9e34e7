package disk

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// A Stream is a file that is written bit by bit beside its target, which it
// replaces as a whole when it is done. Its folder must be there.
type Stream struct {
	p pending
	f *os.File
	w *bufio.Writer
}

// Create begins a file. The error is an [*Error].
func Create(path string) (*Stream, error) {
	p, err := lookAt(path)
	if err != nil {
		return nil, err
	}
	s := &Stream{p: p}
	if s.f, err = s.p.createTemp(); err != nil {
		return nil, writeError(path, err)
	}
	s.p.temp = s.f.Name()
	s.w = bufio.NewWriter(s.f)
	return s, nil
}

// Write writes what comes next; errors are told by Commit.
func (s *Stream) Write(data []byte) (int, error) {
	s.w.Write(data)
	return len(data), nil
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
	if err = errors.Join(err, s.f.Close()); err == nil {
		err = s.p.commit()
	}
	if err != nil {
		s.Close()
		return writeError(s.p.target, err)
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

// lookAt finds out where a file is to go and what stands there.
func lookAt(path string) (pending, error) {
	target := path
	if real, err := filepath.EvalSymlinks(target); err == nil {
		target = real // a link stays a link
	}
	p := pending{target: target, perm: 0o666}
	info, err := os.Stat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return p, nil
	case err != nil:
		return p, writeError(path, err)
	case info.IsDir():
		return p, &Error{Code: "cannot-write", Message: fmt.Sprintf("%q can't be written: a folder of that name is there", path)}
	case !info.Mode().IsRegular():
		return p, &Error{Code: "cannot-write", Message: fmt.Sprintf("%q can't be written: it is not an ordinary file", path)}
	}
	p.had, p.perm = true, info.Mode().Perm()
	return p, nil
}
