package watch

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"

	"github.com/fsnotify/fsnotify"

	"foredge/cmd/internal/disk"
)

// events has the system watch folders and keeps what it tells until it is
// taken.
type events struct {
	system *fsnotify.Watcher
	wake   chan struct{} // holds a value while there is something to take
	done   chan struct{} // closed when the draining goroutine has ended

	watched map[string]fs.FileInfo // folders as they were when the watching began; of the caller's goroutine

	mu sync.Mutex
	// wanted says which input an event's path is about, above which paths are
	// folders on the way to one. Both are in lower case, since on some systems
	// names come in other capitals than asked for; that too much may match does
	// no harm.
	wanted map[string][]string
	above  map[string]bool
	// inside says which input a design in that folder is about: the folder.
	inside map[string][]string
	// What came:
	touched map[string]bool // true: more than its rights or times
	folders bool            // a folder on the way to an input came or went
	all     bool            // events were lost
}

func newEvents() (*events, error) {
	system, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	e := &events{
		system:  system,
		wake:    make(chan struct{}, 1),
		done:    make(chan struct{}),
		watched: map[string]fs.FileInfo{},
		touched: map[string]bool{},
	}
	go e.drain()
	return e, nil
}

func (e *events) close() error {
	err := e.system.Close()
	<-e.done
	return err
}

// drain takes events and errors from the system until it is closed. It must
// never wait for anything else: the system's channels are not buffered, and
// its Add waits for them.
func (e *events) drain() {
	defer close(e.done)
	for {
		select {
		case ev, ok := <-e.system.Events:
			if !ok {
				return
			}
			e.note(ev)
		case err, ok := <-e.system.Errors:
			if !ok {
				return
			}
			if err != nil { // lost events above all; whatever it was, look at everything
				e.mu.Lock()
				e.all = true
				e.mu.Unlock()
				e.ring()
			}
		}
	}
}

// note keeps an event that concerns an input. The kind of event is hardly heeded:
// a save may come as any of them, and what is in the file decides.
func (e *events) note(ev fsnotify.Event) {
	if ev.Name == "" {
		return
	}
	name := strings.ToLower(filepath.Clean(ev.Name))
	e.mu.Lock()
	inputs, above := e.wanted[name], e.above[name]
	if disk.IsDesign(name) {
		inputs = slices.Concat(inputs, e.inside[filepath.Dir(name)])
	}
	for _, in := range inputs {
		e.touched[in] = e.touched[in] || ev.Op != fsnotify.Chmod
	}
	e.folders = e.folders || above
	e.mu.Unlock()
	if len(inputs) > 0 || above {
		e.ring()
	}
}

func (e *events) ring() {
	select {
	case e.wake <- struct{}{}:
	default:
	}
}

// take returns the inputs that were touched since it was last called, true for those
// that may have been saved, whether a folder on the way to one came or went, and whether events were lost.
func (e *events) take() (touched map[string]bool, folders, all bool) {
	e.mu.Lock()
	defer e.mu.Unlock()
	touched, folders, all = e.touched, e.folders, e.all
	e.touched, e.folders, e.all = map[string]bool{}, false, false
	return touched, folders, all
}

// arrange makes the system watch the folders of the inputs, or where one is
// missing the nearest above it, and of what they link to. It reports whether the
// folders are others than before, also one that has only kept its name. An
// error means that the system can't watch.
func (e *events) arrange(inputs []disk.Input) (changed bool, err error) {
	folders := map[string]fs.FileInfo{}
	wanted, inside, above := map[string][]string{}, map[string][]string{}, map[string]bool{}
	for _, in := range inputs {
		for _, place := range places(in.Path) {
			if folder, info := nearestFolder(filepath.Dir(place)); folder != "" {
				folders[folder] = info
			}
			key := strings.ToLower(place)
			wanted[key] = append(wanted[key], in.Path)
			// Any of the folders above may come, if it is missing, or go.
			for dir := filepath.Dir(key); !above[dir]; dir = filepath.Dir(dir) {
				above[dir] = true
			}
		}
		if in.State.Kind == disk.Folder {
			if folder, info := nearestFolder(in.Path); folder != "" {
				folders[folder] = info
				key := strings.ToLower(folder)
				inside[key] = append(inside[key], in.Path)
			}
		}
	}
	e.mu.Lock()
	e.wanted, e.inside, e.above = wanted, inside, above
	e.mu.Unlock()

	for folder, info := range e.watched {
		now, ok := folders[folder]
		if !ok || !os.SameFile(info, now) {
			e.system.Remove(folder) // it may have gone by itself
			delete(e.watched, folder)
			changed = true
		}
	}
	live := map[string]bool{}
	for _, folder := range e.system.WatchList() {
		live[folder] = true
	}
	for folder, info := range folders {
		if _, ok := e.watched[folder]; ok && live[folder] {
			continue
		}
		switch err := e.system.Add(folder); {
		case err == nil:
			e.watched[folder] = info
			changed = true
		case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
			e.ring() // it went just now: look again
			e.mu.Lock()
			e.folders = true
			e.mu.Unlock()
		case errors.Is(err, fs.ErrPermission):
			// Only looking can tell.
		default:
			return false, err
		}
	}
	return changed, nil
}

// places returns the paths that a change of an input may be told under: its
// own with the folder's links followed, since the system knows a folder by one
// name only, and where it is a link, that to which it leads, and so on.
func places(path string) []string {
	var all []string
	for range 40 { // as many links as a system follows
		if dir, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
			path = filepath.Join(dir, filepath.Base(path))
		}
		all = append(all, path)
		to, err := os.Readlink(path)
		if err != nil {
			break
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return all
}

// nearestFolder returns the folder of that path or, where there is none, the
// nearest above it.
func nearestFolder(path string) (string, fs.FileInfo) {
	for {
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			if real, err := filepath.EvalSymlinks(path); err == nil {
				return real, info
			}
		}
		if path == filepath.Dir(path) {
			return "", nil
		}
		path = filepath.Dir(path)
	}
}

// plain says in a maker's words why the system can't watch.
func plain(err error) string {
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return "this system lets no more folders be watched (on Linux fs.inotify.max_user_watches says how many)"
	case errors.Is(err, syscall.EMFILE), errors.Is(err, syscall.ENFILE):
		return "this system lets no more programs watch or no more files be open (on Linux see fs.inotify.max_user_instances and ulimit -n)"
	}
	return "this system can't tell when files change"
}
