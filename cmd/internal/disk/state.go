package disk

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// DesignExt is how the name of a design file ends.
const DesignExt = ".fore"

// A Kind says what stands at a path.
type Kind uint8

const (
	Missing    Kind = iota // nothing
	Plain                  // an ordinary file that can be read
	Folder                 // a folder
	Unreadable             // something that can't be read
	Special                // a pipe, a device...: never opened
)

// A State is what stood at a path when it was looked at. Two equal states mean
// that a build would read the same. For a folder the hash is that of the names
// of the design files in it.
type State struct {
	Kind  Kind
	Empty bool // a file of no bytes
	Hash  [sha256.Size]byte
}

// StateOf returns the state of a file that holds the given bytes.
func StateOf(data []byte) State {
	return State{Kind: Plain, Empty: len(data) == 0, Hash: sha256.Sum256(data)}
}

// An Input is a path that a build read or looked for, with the state in which
// it found it.
type Input struct {
	Path  string // absolute and clean, links not followed
	State State
}

// Look takes the state of a path.
func Look(path string) State {
	info, err := os.Stat(path)
	if err != nil {
		return stateOfError(err)
	}
	switch {
	case info.IsDir():
		return lookFolder(path)
	case !info.Mode().IsRegular():
		return State{Kind: Special}
	}
	f, err := os.Open(path)
	if err != nil {
		return stateOfError(err)
	}
	defer f.Close()
	hash := sha256.New()
	n, err := io.Copy(hash, io.LimitReader(f, MaxInput+1))
	if err != nil {
		return State{Kind: Unreadable}
	}
	if n > MaxInput {
		return tooLarge(info.Size())
	}
	s := State{Kind: Plain, Empty: n == 0}
	hash.Sum(s.Hash[:0])
	return s
}

// tooLarge is the state of a file that no build would read: its size must do.
func tooLarge(size int64) State {
	s := State{Kind: Unreadable}
	binary.LittleEndian.PutUint64(s.Hash[:], uint64(size))
	return s
}

func lookFolder(path string) State {
	names, err := Designs(path)
	if err != nil {
		return stateOfError(err)
	}
	s := StateOf([]byte(strings.Join(names, "\x00")))
	s.Kind = Folder
	return s
}

func stateOfError(err error) State {
	// A path through a file (ENOTDIR) is as absent as one that isn't there.
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		return State{Kind: Missing}
	}
	return State{Kind: Unreadable}
}

// Designs lists the names of the design files that lie directly in a folder,
// sorted. What editors and offices use for their own ends is left out ([hidden]).
func Designs(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if name := e.Name(); !e.IsDir() && IsDesign(name) {
			names = append(names, name)
		}
	}
	return names, nil
}

// IsDesign reports whether a file is a design by its name or path: its ending may be in
// letters of either case.
func IsDesign(name string) bool {
	return strings.EqualFold(filepath.Ext(name), DesignExt) && !hidden(filepath.Base(name))
}

// hidden reports whether programs use files of that name for their own ends: those
// that begin with a point, and those that say who has a document open, ~$gull.fore
// (common practice, no source).
func hidden(name string) bool { return name[0] == '.' || strings.HasPrefix(name, "~$") }

// ListDesigns is [Designs] with an [*Error] for a maker.
func ListDesigns(folder string) ([]string, error) {
	names, err := Designs(folder)
	if err != nil {
		e := FolderUnread(folder, err)
		e.Hint += "; what was known in it is watched meanwhile"
		return nil, e
	}
	return names, nil
}

// FolderUnread is the error of a folder that can't be read.
func FolderUnread(folder string, err error) *Error {
	return &Error{Code: "unreadable", Message: fmt.Sprintf("the folder %q can't be read: %s", folder, reason(err)),
		Hint: "ask for the right to read it", Err: err}
}
