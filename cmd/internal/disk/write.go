package disk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
)

// A File is a file to be written.
type File struct {
	Path string
	Data []byte
}

// A pending file lies complete beside its target and waits to take its place.
type pending struct {
	target string // where links lead
	temp   string
	data   []byte
	old    []byte // what the target held
	had    bool   // there was a target
	perm   fs.FileMode
}

// WriteSet writes files so that all of them are there as given, or, after an
// error, all are as they were. Each is written beside its target, forced to
// the disk and renamed into place; one that already holds the same bytes is
// left alone, its time of change included. Missing folders are made. Once the
// first file has been renamed the call no longer heeds ctx.
//
// A program that dies between two renames leaves some files new and some old,
// each of them complete.
func WriteSet(ctx context.Context, files []File) (err error) {
	if err := ctx.Err(); err != nil {
		return err
	}
	var made []string // folders, outermost first
	defer func() {
		if err != nil {
			for i := len(made) - 1; i >= 0; i-- {
				os.Remove(made[i]) // only if empty
			}
		}
	}()
	var todo []*pending
	for _, f := range files {
		p, err := prepare(f)
		if err != nil {
			return err
		}
		if p != nil {
			todo = append(todo, p)
		}
	}
	for _, p := range todo {
		folders, err := makeFolder(filepath.Dir(p.target))
		made = append(made, folders...)
		if err != nil {
			return writeError(p.target, err)
		}
	}
	defer func() {
		for _, p := range todo {
			if p.temp != "" {
				os.Remove(p.temp)
			}
		}
	}()
	// Forcing to the disk is most of the time: let the files wait together.
	errs := make([]error, len(todo))
	var wg sync.WaitGroup
	for i, p := range todo {
		wg.Go(func() { errs[i] = p.writeTemp(p.data) })
	}
	wg.Wait()
	for i, p := range todo {
		if errs[i] != nil {
			return writeError(p.target, errs[i])
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return commitAll(todo)
}

// commitAll renames all files into place. After an error those that were
// renamed are as before.
func commitAll(todo []*pending) error {
	for i, p := range todo {
		if err := p.commit(); err != nil {
			for _, q := range todo[:i] {
				if uerr := q.undo(); uerr != nil {
					err = errors.Join(err, uerr)
				}
			}
			return writeError(p.target, err)
		}
	}
	return nil
}

// prepare finds out what stands where f is to go; nil if just that.
func prepare(f File) (*pending, error) {
	p, err := lookAt(f.Path)
	if err != nil {
		return nil, err
	}
	p.data = f.Data
	if !p.had {
		return &p, nil
	}
	if p.old, err = os.ReadFile(p.target); err != nil {
		return nil, writeError(f.Path, err)
	}
	if bytes.Equal(p.old, f.Data) {
		return nil, nil
	}
	return &p, nil
}

// writeTemp makes a complete file of data beside the target.
func (p *pending) writeTemp(data []byte) error {
	f, err := p.createTemp()
	if err != nil {
		return err
	}
	p.temp = f.Name()
	_, err = f.Write(data)
	if err == nil && p.had {
		err = f.Chmod(p.perm)
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// createTemp opens a new hidden file with the permissions that a new file has
// here (os.CreateTemp would make it the owner's alone).
func (p *pending) createTemp() (*os.File, error) {
	for try := 0; ; try++ {
		name := fmt.Sprintf("%s%s-%s", TempPrefix, filepath.Base(p.target), strconv.FormatUint(uint64(rand.Uint32()), 36))
		f, err := os.OpenFile(filepath.Join(filepath.Dir(p.target), name), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		if err == nil || !errors.Is(err, fs.ErrExist) || try == 100 {
			return f, err
		}
	}
}

// TempPrefix begins the names of files that are still being written.
const TempPrefix = ".foredge-"

func (p *pending) commit() error {
	if err := os.Rename(p.temp, p.target); err != nil {
		return err
	}
	p.temp = ""
	return nil
}

// undo puts back what was there before commit.
func (p *pending) undo() error {
	if !p.had {
		return os.Remove(p.target)
	}
	if err := p.writeTemp(p.old); err != nil {
		return err
	}
	return p.commit()
}

// makeFolder makes a folder and those above it, and returns those that it
// made, outermost first.
func makeFolder(path string) ([]string, error) {
	var missing []string
	for dir := path; ; dir = filepath.Dir(dir) {
		if _, err := os.Stat(dir); !errors.Is(err, fs.ErrNotExist) || dir == filepath.Dir(dir) {
			break
		}
		missing = append([]string{dir}, missing...)
	}
	for i, dir := range missing {
		if err := os.Mkdir(dir, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
			return missing[:i], err
		}
	}
	return missing, nil
}

func writeError(path string, err error) *Error {
	e := &Error{Code: "cannot-write", Message: fmt.Sprintf("%q can't be written: %s", path, reason(err)), Err: err}
	if errors.Is(err, fs.ErrPermission) {
		e.Hint = "choose another folder with -o"
	}
	return e
}

// CheckSet refuses a set of files of which two have one name, also where only
// capitals tell them apart (many memory sticks don't), and one that is also
// among the inputs. The names come in the form in which a maker is told.
func CheckSet(files []File, inputs []Input) error {
	seen, guarded := map[string]string{}, Guard(inputs)
	for _, f := range files {
		abs, err := filepath.Abs(f.Path)
		if err != nil {
			return writeError(f.Path, err)
		}
		key := strings.ToLower(abs)
		if other, ok := seen[key]; ok {
			message := fmt.Sprintf("two files would be written as %q", f.Path)
			if other != f.Path {
				message = fmt.Sprintf("two files would be written as %q and %q, which many disks take for one name", other, f.Path)
			}
			return &Error{Code: "same-output", Message: message, Hint: "rename one of the two, or build them into different folders with -o"}
		}
		seen[key] = f.Path
		if err := guarded.Check(f.Path); err != nil {
			return err
		}
	}
	return nil
}
