package driver

import (
	"io"
	"os"
	"path/filepath"
	"sync"

	"foredge/cmd/internal/disk"
	"foredge/lang/source"
	"foredge/layout"
)

// Stdin is the name by which a command's reader asks for standard input, and
// StdinName what messages call it.
const (
	Stdin     = "-"
	StdinName = "stdin"
)

// A Session is what lasts from one build to the next. Its methods may be
// called at the same time.
type Session struct {
	readStdin func() ([]byte, error)

	drawer layout.Drawer
	from   Source // nil for the disk
	near   bool   // see NameFromFolder

	mu      sync.Mutex
	unsaved map[string][]byte // by absolute path
	written map[string]bool   // folders
	made    map[string]made   // by path
}

// NewSession starts a session. stdin is read once, when a design named "-" is
// opened for the first time.
func NewSession(stdin io.Reader) *Session {
	return &Session{
		readStdin: sync.OnceValues(func() ([]byte, error) {
			return disk.ReadStream(stdin, "standard input", disk.MaxDesign)
		}),
		unsaved: map[string][]byte{},
		written: map[string]bool{},
		made:    map[string]made{},
	}
}

// A Source reads what lies at an absolute path, at most limit bytes, where that is not
// the disk. shown is what messages call it. The error is a [*disk.Error].
type Source func(abs, shown string, limit int64) ([]byte, error)

// ReadFrom makes the session read all files from elsewhere, such as a revision of the
// version control. It comes before the first design is opened.
func (s *Session) ReadFrom(from Source) { s.from = from }

// NameFromFolder makes messages name files as seen from the folder of the design that is
// opened, however a command names that: as one says who runs it there. It comes before
// the first design is opened.
func (s *Session) NameFromFolder() { s.near = true }

// shown is what messages call a design that a command names.
func (s *Session) shown(name string) string {
	if s.near {
		return filepath.Base(name)
	}
	return filepath.Clean(name)
}

// Drawer draws the session's designs.
func (s *Session) Drawer() *layout.Drawer { return &s.drawer }

// SetText makes the session read text in place of what is saved at a path.
func (s *Session) SetText(path string, text []byte) error {
	abs, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.unsaved[abs] = text
	return nil
}

// DropText makes the session read what is saved at a path again.
func (s *Session) DropText(path string) error {
	abs, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.unsaved, abs)
	return nil
}

func (s *Session) text(abs string) ([]byte, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	data, ok := s.unsaved[abs]
	return data, ok
}

// Open reads the design that a command names, "-" being standard input, and
// returns it with a reader for the files that it brings in. The reader is
// there also when the design can't be read, for its inputs; the error is then
// a [*disk.Error].
func (s *Session) Open(name string) (*Reader, *source.File, error) {
	r := &Reader{
		session: s,
		states:  map[string]disk.State{},
		designs: map[string]*source.File{},
		paths:   map[*source.File]string{},
		shelf:   map[string]*source.File{},
	}
	if name == Stdin {
		folder, err := os.Getwd()
		if err != nil {
			return r, nil, &disk.Error{Code: "missing-folder", Message: "the folder that the command runs in is gone", Err: err}
		}
		r.setRoot(folder)
		data, err := s.readStdin()
		if err != nil {
			return r, nil, err
		}
		file := source.New(StdinName, data)
		r.paths[file] = filepath.Join(folder, StdinName)
		return r, file, nil
	}
	abs, err := filepath.Abs(name)
	if err != nil {
		return r, nil, &disk.Error{Code: "missing-folder", Message: "the folder that the command runs in is gone", Err: err}
	}
	r.setRoot(filepath.Dir(abs))
	data, err := r.read(abs, abs, s.shown(name), disk.MaxDesign)
	if err != nil {
		return r, nil, err
	}
	return r, r.add(abs, real(abs), s.shown(name), data), nil
}

// real follows links as far as the path exists.
func real(abs string) string {
	if p, err := filepath.EvalSymlinks(abs); err == nil {
		return p
	}
	return abs
}
