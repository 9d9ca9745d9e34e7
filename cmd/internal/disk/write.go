package disk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"syscall"
	"time"

	"foredge/lang/lookalike"
	"foredge/lang/spell"
)

// A File is a file to be written.
type File struct {
	Path string
	Data []byte
}

// A pending file lies complete beside its target and waits to take its place.
type pending struct {
	shown  string // what messages call it
	target string // where links lead
	temp   string
	data   []byte
	old    []byte // what the target held
	had    bool   // there was a target
	perm   fs.FileMode
}

// Rules say how files may be written.
type Rules struct {
	// Ours says of the bytes of a file whether it may be replaced. If it is nil any
	// may.
	Ours func(data []byte) bool
	// Refuse, if it isn't nil, says of one that is ours why it must not be replaced all
	// the same. Messages call it shown.
	Refuse func(shown string, data []byte) error
	// Sweep removes first what programs that were killed have left in the folders.
	// One that died while it wrote is swept after without it.
	Sweep bool
	// Held, if it isn't nil, has the folder of all files, which is not made anew where
	// it has gone.
	Held *Hold
}

// still gives an error if the folder that is held has gone.
func (r Rules) still() error {
	if r.Held == nil {
		return nil
	}
	return r.Held.Still()
}

// WriteSet writes files so that all of them are there as given, or, after an
// error, all are as they were. Each is written beside its target, forced to
// the disk and renamed into place; one that already holds the same bytes is
// left alone, its time of change included. Missing folders are made. Once the
// first file has been renamed the call no longer heeds ctx.
//
// Of two programs that write into one folder the second waits for the first, so
// that sets never mix (but on a disk that knows no locks).
//
// A program that dies between two renames leaves some files new and some old,
// each of them complete.
func WriteSet(ctx context.Context, files []File, rules Rules) (err error) {
	if err := ctx.Err(); err != nil {
		return err
	}
	todo := make([]*pending, len(files))
	same, known := true, folders{}
	for i, f := range files {
		p, err := known.lookAt(f.Path)
		if err != nil {
			return err
		}
		p.data = f.Data
		todo[i] = &p
		same = same && p.same()
	}
	if err := rules.still(); err != nil || same {
		return err
	}
	release, err := takeAll(ctx, todo, rules.Sweep)
	defer release()
	if err != nil {
		return err
	}
	// It may have gone meanwhile, and what was made in its place goes again.
	if err := rules.still(); err != nil {
		return err
	}
	if todo, err = needed(todo, rules); err != nil {
		return err
	}
	defer func() {
		for _, p := range todo {
			if p.temp != "" {
				os.Remove(p.temp)
			}
		}
	}()
	if err := writeTemps(todo); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := commitAll(todo); err != nil {
		return err
	}
	return rules.still()
}

// Refused gives the error with which [WriteSet] would refuse files for what stands in
// their places now. It writes nothing.
func Refused(files []File, rules Rules) error {
	all, known := make([]*pending, len(files)), folders{}
	for i, f := range files {
		p, err := known.lookAt(f.Path)
		if err != nil {
			return err
		}
		p.data = f.Data
		all[i] = &p
	}
	_, err := needed(all, rules)
	return err
}

// takeAll holds the folders that files go into, and returns what lets go of them.
func takeAll(ctx context.Context, files []*pending, sweep bool) (release func(), err error) {
	var held []*Hold
	release = func() {
		for _, h := range slices.Backward(held) {
			h.Release()
		}
	}
	first := map[string]*pending{} // of each folder
	for _, p := range files {
		if folder := filepath.Dir(p.target); first[folder] == nil {
			first[folder] = p
		}
	}
	// All programs take several in one order, so that none waits for another that
	// waits for it.
	for _, folder := range slices.Sorted(maps.Keys(first)) {
		h, err := take(ctx, folder, writing)
		if err != nil {
			return release, writeError(first[folder].shown, err)
		}
		held = append(held, h)
		if sweep || h.stale {
			h.sweep()
		}
	}
	return release, nil
}

// same reports whether a file is there already with the bytes it is to have.
func (p *pending) same() bool {
	info, err := os.Stat(p.target)
	if err != nil || info.Size() != int64(len(p.data)) {
		return false
	}
	old, err := os.ReadFile(p.target)
	return err == nil && bytes.Equal(old, p.data)
}

// needed finds out what stands where files are to go, and leaves out those that
// are there already. It refuses to replace what isn't ours.
func needed(all []*pending, rules Rules) (todo []*pending, err error) {
	var others []string
	var refused error
	known := folders{}
	for _, p := range all {
		now, err := known.lookAt(p.shown)
		if err != nil {
			return nil, err
		}
		if p.had, p.perm = now.had, now.perm; p.had {
			if p.old, err = os.ReadFile(p.target); err != nil {
				return nil, writeError(p.shown, err)
			}
			if bytes.Equal(p.old, p.data) {
				continue
			}
			switch {
			case rules.Ours != nil && !rules.Ours(p.old):
				others = append(others, fmt.Sprintf("%q", p.shown))
			case rules.Refuse != nil && refused == nil:
				refused = rules.Refuse(p.shown, p.old)
			}
		}
		todo = append(todo, p)
	}
	if len(others) > 0 {
		return nil, NotOurs(others...)
	}
	return todo, refused
}

// NotOurs refuses to replace files, given as they are shown.
func NotOurs(shown ...string) *Error {
	is, them := "is there already and isn't", "it"
	if len(shown) > 1 {
		is, them = "are there already and aren't", "them"
	}
	return &Error{Code: "not-ours", Message: fmt.Sprintf("%s %s as foredge made %s", spell.And(shown), is, them),
		Hint: fmt.Sprintf("build into another folder with -o, rename %s, or write --force to replace %s", them, them)}
}

// writeTemps makes the files beside their targets. Forcing to the disk is most of
// the time: they wait together, as far as so many may be open.
func writeTemps(todo []*pending) error {
	errs := make([]error, len(todo))
	var wg sync.WaitGroup
	for i, p := range todo {
		wg.Go(func() { errs[i] = p.writeTemp(p.data) })
	}
	wg.Wait()
	for i, p := range todo {
		if errors.Is(errs[i], syscall.EMFILE) || errors.Is(errs[i], syscall.ENFILE) {
			errs[i] = p.writeTemp(p.data)
		}
		if errs[i] != nil {
			return writeError(p.shown, errs[i])
		}
	}
	return nil
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
			return writeError(p.shown, err)
		}
	}
	return nil
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

func (p *pending) commit() error {
	if err := replace(os.Rename, busy, p.temp, p.target); err != nil {
		return err
	}
	p.temp = ""
	return nil
}

// tries is how often a rename is tried again.
const tries = 50

// replace renames a file over another. Where that can't be done while a program
// has the other open, as on Windows, it tries again for a second.
func replace(rename func(from, to string) error, busy func(error) bool, from, to string) error {
	for n := 0; ; n++ {
		err := rename(from, to)
		if err == nil || !busy(err) || n == tries {
			return err
		}
		time.Sleep(time.Second / tries)
	}
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
func makeFolder(path string) (made []string, err error) {
	var missing []string
	for dir := path; ; dir = filepath.Dir(dir) {
		if _, err := os.Stat(dir); !errors.Is(err, fs.ErrNotExist) || dir == filepath.Dir(dir) {
			break
		}
		missing = append([]string{dir}, missing...)
	}
	for _, dir := range missing {
		switch err := os.Mkdir(dir, 0o777); {
		case err == nil:
			made = append(made, dir)
		case !errors.Is(err, fs.ErrExist):
			return made, err
		}
	}
	return made, nil
}

// writeError says why a file can't be written. What says so itself, and the end
// of a context, stay as they are.
func writeError(path string, err error) error {
	var told *Error
	if errors.As(err, &told) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	e := &Error{Code: "cannot-write", Message: fmt.Sprintf("%q can't be written: %s", path, reason(err)), Err: err}
	if errors.Is(err, fs.ErrPermission) {
		e.Hint = "choose another folder with -o"
	}
	return e
}

// CheckSet is [CheckSets] for one set.
func CheckSet(files []File, inputs []Input) error { return CheckSets([][]File{files}, inputs)[0] }

// CheckSets refuses files of which two have one name, also where only some disks
// take them for one ([lookalike.Key]), and one that is also among the inputs. It
// returns an error, or nil, for each set: of two files with one name both sets have
// one. The names come in the form in which a maker is told.
func CheckSets(sets [][]File, inputs []Input) []error {
	type owner struct {
		path string
		set  int
	}
	errs := make([]error, len(sets))
	tell := func(set int, err error) {
		if errs[set] == nil {
			errs[set] = err
		}
	}
	seen, guarded := map[string]owner{}, Guard(inputs)
	for i, files := range sets {
		for _, f := range files {
			abs, err := filepath.Abs(f.Path)
			if err != nil {
				tell(i, writeError(f.Path, err))
				continue
			}
			key := lookalike.Key(abs)
			if other, ok := seen[key]; ok {
				err := sameOutput(other.path, f.Path)
				tell(other.set, err)
				tell(i, err)
				continue
			}
			seen[key] = owner{f.Path, i}
			if err := guarded.Check(f.Path); err != nil {
				tell(i, err)
			}
		}
	}
	return errs
}

func sameOutput(one, two string) *Error {
	message := fmt.Sprintf("two files would be written as %q", two)
	if one != two {
		message = fmt.Sprintf("two files would be written as %q and %q, which many disks take for one name", one, two)
	}
	return &Error{Code: "same-output", Message: message, Hint: "rename one of the two, or build them into different folders with -o"}
}
