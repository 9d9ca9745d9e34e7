package watch

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"foredge/cmd/internal/disk"
	"foredge/lang/foretest"
)

func inputs(paths ...string) []disk.Input {
	var all []disk.Input
	for _, p := range paths {
		all = append(all, disk.Input{Path: p, State: disk.Look(p)})
	}
	return all
}

// Each way in which the files of a design change on a real disk is told by an
// event: the watcher never looks by itself here.
func TestEvents(t *testing.T) {
	type step func(t *testing.T, dir string)
	for _, test := range []struct {
		name   string
		change []step // each but an empty one must be found
	}{
		{"written in place", []step{
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "2") },
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "3") },
		}},
		{"saved by renaming", []step{
			func(t *testing.T, dir string) {
				foretest.Write(t, dir+"/sub/a.tmp", "2")
				foretest.Must(t, os.Rename(dir+"/sub/a.tmp", dir+"/sub/a.fore"))
			},
			func(t *testing.T, dir string) {
				foretest.Write(t, dir+"/sub/a.tmp", "3")
				foretest.Must(t, os.Rename(dir+"/sub/a.tmp", dir+"/sub/a.fore"))
			},
		}},
		{"backup, then new", []step{
			func(t *testing.T, dir string) {
				foretest.Must(t, os.Rename(dir+"/sub/a.fore", dir+"/sub/a.fore~"))
				foretest.Write(t, dir+"/sub/a.fore", "2")
				foretest.Must(t, os.Remove(dir+"/sub/a.fore~"))
			},
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "3") },
		}},
		{"deleted and made again", []step{
			func(t *testing.T, dir string) { foretest.Must(t, os.Remove(dir+"/sub/a.fore")) },
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "2") },
		}},
		{"a missing file comes", []step{
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/missing.svg", "2") },
		}},
		{"a file in missing folders comes", []step{
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/gone/for/good.fore", "2") },
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/gone/for/good.fore", "3") },
		}},
		{"folder renamed away and back", []step{
			func(t *testing.T, dir string) { foretest.Must(t, os.Rename(dir+"/sub", dir+"/away")) },
			func(t *testing.T, dir string) { foretest.Must(t, os.Rename(dir+"/away", dir+"/sub")) },
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "2") },
		}},
		{"folder renamed away and back at once", []step{
			func(t *testing.T, dir string) {
				foretest.Must(t, os.Rename(dir+"/sub", dir+"/away"), os.Rename(dir+"/away", dir+"/sub"))
				foretest.Write(t, dir+"/sub/a.fore", "2")
			},
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "3") },
		}},
		{"folder removed and made again", []step{
			func(t *testing.T, dir string) { foretest.Must(t, os.RemoveAll(dir+"/sub")) },
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "2") },
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "3") },
		}},
		{"folder replaced by another at once", []step{
			func(t *testing.T, dir string) {
				foretest.Write(t, dir+"/other/a.fore", "2")
				foretest.Must(t, os.Rename(dir+"/sub", dir+"/old"), os.Rename(dir+"/other", dir+"/sub"))
			},
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/sub/a.fore", "3") },
		}},
		{"what a link leads to is written", []step{
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/far/real.fore", "2") },
		}},
		{"a link is turned elsewhere", []step{
			func(t *testing.T, dir string) {
				foretest.Write(t, dir+"/far/else.fore", "2")
				foretest.Must(t, os.Remove(dir+"/sub/link.fore"), os.Symlink("../far/else.fore", dir+"/sub/link.fore"))
			},
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/far/else.fore", "3") },
		}},
		{"a design comes into a watched folder", []step{
			func(t *testing.T, dir string) { foretest.Write(t, dir+"/all/new.fore", "2") },
			func(t *testing.T, dir string) { foretest.Must(t, os.Remove(dir+"/all/new.fore")) },
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			foretest.Write(t, dir+"/sub/a.fore", "1")
			foretest.Write(t, dir+"/far/real.fore", "1")
			foretest.Write(t, dir+"/all/one.fore", "1")
			foretest.Must(t, os.Symlink("../far/real.fore", dir+"/sub/link.fore"))
			paths := []string{dir + "/sub/a.fore", dir + "/sub/missing.svg", dir + "/gone/for/good.fore", dir + "/sub/link.fore", dir + "/all"}
			w := New(Options{Every: time.Hour, Notice: func(m string) { t.Error(m) }})
			defer w.Close()
			follow := func() {
				w.Follow(inputs(paths...))
				w.settle.take() // forget what Follow itself asks to look at
			}
			follow()
			for i, change := range test.change {
				change(t, dir)
				ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
				changed, err := w.Next(ctx)
				cancel()
				if err != nil || len(changed) == 0 {
					t.Fatalf("step %d was not found: %v", i+1, err)
				}
				follow()
			}
		})
	}
}

// Folders further up are not watched. When one of them is replaced a look finds
// that, and from then on events tell of the new files.
func TestFolderFurtherUp(t *testing.T) {
	dir := t.TempDir()
	path := dir + "/top/sub/a.fore"
	foretest.Write(t, path, "1")
	foretest.Write(t, dir+"/other/sub/a.fore", "1")
	w := New(Options{Every: time.Hour})
	defer w.Close()
	w.Follow(inputs(path))
	w.settle.take()
	foretest.Must(t, os.Rename(dir+"/top", dir+"/old"), os.Rename(dir+"/other", dir+"/top"))
	w.look()
	foretest.Write(t, path, "2")
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	if changed, err := w.Next(ctx); err != nil || len(changed) != 1 {
		t.Errorf("got %v, %v", changed, err)
	}
}

// What is no change of an input starts no build.
func TestNoChange(t *testing.T) {
	dir := t.TempDir()
	path := dir + "/a.fore"
	foretest.Write(t, path, "1")
	w := New(Options{Every: 20 * time.Millisecond})
	defer w.Close()
	w.Follow(inputs(path, dir))
	foretest.Must(t, os.Chmod(path, 0o600), os.Chtimes(path, time.Now(), time.Now()))
	foretest.Write(t, dir+"/a.svg", "an output")
	foretest.Write(t, dir+"/.#a.fore", "an editor's own")
	ctx, cancel := context.WithTimeout(t.Context(), 400*time.Millisecond)
	defer cancel()
	if changed, err := w.Next(ctx); err == nil {
		t.Errorf("found a change of %v", changed)
	}
}

// A file that is saved again with what it held is told, whichever way it is watched,
// and once.
func TestSavedAgain(t *testing.T) {
	for _, poll := range []bool{false, true} {
		dir := t.TempDir()
		path := foretest.Write(t, dir+"/a.fore", "1")
		foretest.Must(t, os.Chtimes(path, time.Now(), time.Now().Add(-time.Hour)))
		w := New(Options{Poll: poll, Every: 20 * time.Millisecond})
		defer w.Close()
		w.Follow(inputs(path, dir))
		foretest.Write(t, path, "1")
		ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
		defer cancel()
		if changed, err := w.Next(ctx); err != nil || !slices.Equal(changed, []string{path}) {
			t.Errorf("poll %v: got %v, %v", poll, changed, err)
		}
		w.Follow(inputs(path, dir))
		once, stop := context.WithTimeout(t.Context(), 400*time.Millisecond)
		defer stop()
		if changed, err := w.Next(once); err == nil {
			t.Errorf("poll %v: told again of %v", poll, changed)
		}
	}
}

// What changes while a build runs is found though it was told of before Follow.
func TestChangeDuringBuild(t *testing.T) {
	dir := t.TempDir()
	path := dir + "/a.fore"
	foretest.Write(t, path, "1")
	w := New(Options{Every: time.Hour})
	defer w.Close()
	read := inputs(path)
	foretest.Write(t, path, "2")
	w.Follow(read)
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	if changed, err := w.Next(ctx); err != nil || !slices.Equal(changed, []string{path}) {
		t.Errorf("got %v, %v", changed, err)
	}
}

func TestLostEvents(t *testing.T) {
	dir := t.TempDir()
	foretest.Write(t, dir+"/a.fore", "1")
	w := New(Options{Every: time.Hour})
	defer w.Close()
	w.Follow([]disk.Input{{Path: dir + "/a.fore", State: disk.StateOf([]byte("0"))}})
	w.settle.take() // forget what Follow asks to look at
	w.events.mu.Lock()
	w.events.all = true
	w.events.mu.Unlock()
	w.events.ring()
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	if changed, err := w.Next(ctx); err != nil || len(changed) != 1 {
		t.Errorf("got %v, %v", changed, err)
	}
}

// Polling, with a clock that jumps: every time here is exact.
func TestPoll(t *testing.T) {
	dir := t.TempDir()
	a, b := dir+"/a.fore", dir+"/b.svg"
	for _, test := range []struct {
		name   string
		change func(t *testing.T)
		want   []string
		after  time.Duration // at the latest
		before time.Duration // not before
	}{
		{"a change", func(t *testing.T) { foretest.Write(t, a, "2") }, []string{a}, 700 * ms, 0},
		{"two", func(t *testing.T) { foretest.Write(t, a, "2"); foretest.Write(t, b, "2") }, []string{a, b}, 700 * ms, 0},
		{"a file is gone", func(t *testing.T) { foretest.Must(t, os.Remove(a)) }, []string{a}, 1100 * ms, 0},
		{"a file is empty", func(t *testing.T) { foretest.Write(t, b, "") }, []string{b}, 1100 * ms, 0},
		{"gone for a moment", func(t *testing.T) {
			foretest.Must(t, os.Remove(a))
			time.Sleep(800 * ms)
			foretest.Write(t, a, "2")
		}, []string{a}, 1500 * ms, 800 * ms},
		{"written in pieces", func(t *testing.T) {
			for i := range 4 {
				foretest.Write(t, a, strings.Repeat("2", i+1))
				time.Sleep(250 * ms)
			}
		}, []string{a}, 2000 * ms, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			foretest.Write(t, a, "1")
			foretest.Write(t, b, "1")
			synctest.Test(t, func(t *testing.T) {
				w := New(Options{Poll: true})
				defer w.Close()
				w.Follow(inputs(a, b))
				go test.change(t)
				start := time.Now()
				ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
				defer cancel()
				changed, err := w.Next(ctx)
				if err != nil || !slices.Equal(changed, test.want) || time.Since(start) > test.after || time.Since(start) < test.before {
					t.Errorf("got %v, %v after %v; want %v", changed, err, time.Since(start), test.want)
				}
				synctest.Wait()
				time.Sleep(2 * time.Second) // let the change end
			})
		})
	}
}

// A file that is never at rest is built all the same, now and then.
func TestPollNeverAtRest(t *testing.T) {
	path := t.TempDir() + "/a.fore"
	foretest.Write(t, path, "0")
	synctest.Test(t, func(t *testing.T) {
		w := New(Options{Poll: true})
		defer w.Close()
		w.Follow(inputs(path))
		ctx, cancel := context.WithTimeout(t.Context(), 5*time.Second)
		defer cancel()
		done := make(chan bool)
		go func() {
			defer close(done)
			for i := 0; ctx.Err() == nil; i++ {
				foretest.Write(t, path, fmt.Sprint("n", i))
				time.Sleep(100 * ms)
			}
		}()
		if changed, err := w.Next(ctx); err != nil || len(changed) != 1 {
			t.Errorf("got %v, %v", changed, err)
		}
		cancel()
		<-done
	})
}

// Where the system can't watch, the watcher says so once and looks instead.
func TestFallBack(t *testing.T) {
	path := t.TempDir() + "/a.fore"
	foretest.Write(t, path, "1")
	for _, err := range []error{syscall.ENOSPC, syscall.EMFILE, errors.New("other")} {
		var notices []string
		w := New(Options{Quiet: ms, Notice: func(m string) { notices = append(notices, m) }})
		w.Follow(inputs(path))
		w.fallBack(err)
		w.setTimes()
		foretest.Write(t, path, err.Error())
		ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
		changed, nerr := w.Next(ctx)
		cancel()
		if nerr != nil || len(changed) != 1 {
			t.Errorf("%v: got %v, %v", err, changed, nerr)
		}
		if len(notices) != 1 || !strings.Contains(notices[0], "looking at the files every 0.3 s instead") {
			t.Errorf("%v: told %q", err, notices)
		}
		foretest.Must(t, w.Close())
	}
}
