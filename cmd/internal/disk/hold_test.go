package disk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"foredge/lang/foretest"
)

// While one has a folder another waits, and says whom it waits for when that lasts.
func TestFolderIsHeld(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.svg")
	h, err := take(t.Context(), dir, writing)
	foretest.Must(t, err)
	ctx, stop := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer stop()
	if err := WriteSet(ctx, []File{{path, []byte("new")}}, Rules{}); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("written while another has the folder: %v", err)
	}
	go func() {
		time.Sleep(50 * time.Millisecond)
		h.Release()
	}()
	foretest.Must(t, WriteSet(t.Context(), []File{{path, []byte("new")}}, Rules{}))
	wantTree(t, dir, "a.svg=new")
	var told *Error
	if err := error(busyFolder("cut")); !errors.As(err, &told) || told.Code != "folder-busy" || !strings.Contains(told.Message, `"cut" for 30 s`) {
		t.Errorf("got %v", err)
	}
}

// What a program that was killed has left is swept by the next, what one at work
// has there stays.
func TestSweep(t *testing.T) {
	dir := t.TempDir()
	dead := func() {
		foretest.Write(t, filepath.Join(dir, TempPrefix+"a.svg-dead"), "half")
		foretest.Write(t, filepath.Join(dir, TempPrefix+atWork), "")
	}
	dead()
	foretest.Write(t, filepath.Join(dir, ".other"), "x")
	s, err := Create(t.Context(), filepath.Join(dir, "made.csv"))
	foretest.Must(t, err)
	defer s.Close()
	fmt.Fprint(s, "a,b\n")
	foretest.Must(t, WriteSet(t.Context(), []File{{filepath.Join(dir, "a.svg"), []byte("one")}}, Rules{Sweep: true}))
	foretest.Must(t, s.Commit())
	wantTree(t, dir, ".other=x", "a.svg=one", "made.csv=a,b\n")

	// One that died while it had the folder is swept after without being asked.
	dead()
	foretest.Write(t, filepath.Join(dir, TempPrefix+writing), "")
	foretest.Must(t, WriteSet(t.Context(), []File{{filepath.Join(dir, "a.svg"), []byte("two")}}, Rules{}))
	wantTree(t, dir, ".other=x", "a.svg=two", "made.csv=a,b\n")

	dead()
	h, err := HoldFolder(t.Context(), dir)
	foretest.Must(t, err)
	if _, err := os.Stat(filepath.Join(dir, TempPrefix+atWork)); err != nil {
		t.Error("a batch at work has no file that says so")
	}
	foretest.Must(t, WriteSet(t.Context(), []File{{filepath.Join(dir, "a.svg"), []byte("three")}}, Rules{Sweep: true}))
	if _, err := os.Stat(h.path); err != nil {
		t.Error("the file of a batch at work was swept away")
	}
	h.Release()
	wantTree(t, dir, ".other=x", "a.svg=three", "made.csv=a,b\n")
}

// A folder that a batch made for nothing goes again.
func TestHoldLeavesNoFolder(t *testing.T) {
	dir := t.TempDir()
	h, err := HoldFolder(t.Context(), filepath.Join(dir, "new", "deep"))
	foretest.Must(t, err)
	h.Release()
	if entries, _ := os.ReadDir(dir); len(entries) > 0 {
		t.Errorf("%v is left", entries)
	}
}

// Sets that many write at once never mix, nor does a folder that comes and goes
// make one fail.
func TestSetsNeverMix(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "cut")
	names := []string{"a.svg", "a.dxf", "a.png"}
	for round := range foretest.Sample(40, 10) {
		var wg sync.WaitGroup
		for i := range 8 {
			wg.Go(func() {
				var set []File
				for _, n := range names {
					set = append(set, File{filepath.Join(dir, n), []byte(fmt.Sprint(round, " ", i))})
				}
				if err := WriteSet(t.Context(), set, Rules{Sweep: i%2 == 0}); err != nil {
					t.Error(err)
				}
			})
		}
		wg.Wait()
		first := foretest.Read(t, filepath.Join(dir, names[0]))
		wantTree(t, dir, "a.dxf="+first, "a.png="+first, "a.svg="+first)
		if round%3 == 0 {
			foretest.Must(t, os.RemoveAll(dir))
		}
	}
}

// What isn't ours stays, each of it by name, and nothing else of the set is written.
func TestNotOurs(t *testing.T) {
	dir := t.TempDir()
	svg, dxf := foretest.Write(t, filepath.Join(dir, "a.svg"), "drawn"), foretest.Write(t, filepath.Join(dir, "a.dxf"), "ours, old")
	png := foretest.Write(t, filepath.Join(dir, "a.png"), "painted")
	set := []File{{svg, []byte("ours")}, {dxf, []byte("ours")}, {png, []byte("ours")}, {filepath.Join(dir, "b.svg"), []byte("ours")}}
	rules := Rules{Ours: func(data []byte) bool { return bytes.HasPrefix(data, []byte("ours")) }}
	err := WriteSet(t.Context(), set, rules)
	var e *Error
	if !errors.As(err, &e) || e.Code != "not-ours" || e.Message != fmt.Sprintf("%q and %q are there already and aren't as foredge made them", svg, png) || !strings.Contains(e.Hint, "--force") {
		t.Errorf("got %v", err)
	}
	wantTree(t, dir, "a.dxf=ours, old", "a.png=painted", "a.svg=drawn")
	foretest.Must(t, WriteSet(t.Context(), set, Rules{}))
	wantTree(t, dir, "a.dxf=ours", "a.png=ours", "a.svg=ours", "b.svg=ours")
}

// A link stays one also where nothing is yet at its end; nothing is made where
// not even a folder is.
func TestDanglingLink(t *testing.T) {
	dir := t.TempDir()
	foretest.Must(t, os.Mkdir(filepath.Join(dir, "far"), 0o777))
	for link, to := range map[string]string{"a.svg": "b.svg", "b.svg": "far/c.svg", "lost.svg": "unplugged/a.svg", "round.svg": "round.svg"} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			foretest.Missing(t, "a disk with symbolic links ("+err.Error()+")")
		}
	}
	foretest.Must(t, WriteSet(t.Context(), []File{{filepath.Join(dir, "a.svg"), []byte("new")}}, Rules{}))
	for _, link := range []string{"a.svg", "b.svg"} {
		if info, err := os.Lstat(filepath.Join(dir, link)); err != nil || info.Mode()&os.ModeSymlink == 0 {
			t.Errorf("%s is no link any more", link)
		}
	}
	if got := foretest.Read(t, filepath.Join(dir, "far", "c.svg")); got != "new" {
		t.Errorf("at its end is %q", got)
	}
	for link, want := range map[string]string{"lost.svg": "that folder isn't there", "round.svg": "lead in a circle"} {
		err := WriteSet(t.Context(), []File{{filepath.Join(dir, link), []byte("new")}}, Rules{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", link, err)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "unplugged")); err == nil {
		t.Error("a folder was made that only a link speaks of")
	}
}

// A folder that is held and moved away is not made anew, whatever lies in its place.
func TestHeldFolderGoes(t *testing.T) {
	top := t.TempDir()
	dir, away := filepath.Join(top, "cut"), filepath.Join(top, "away")
	h, err := HoldFolder(t.Context(), dir)
	foretest.Must(t, err)
	defer h.Release()
	rules := Rules{Held: h}
	foretest.Must(t, WriteSet(t.Context(), []File{{filepath.Join(dir, "a.svg"), []byte("1")}}, rules), os.Rename(dir, away))
	for _, again := range []bool{false, true} {
		if again {
			foretest.Must(t, os.Mkdir(dir, 0o777))
		}
		err := WriteSet(t.Context(), []File{{filepath.Join(dir, "b.svg"), []byte("2")}}, rules)
		if err == nil || !strings.Contains(err.Error(), "was moved or removed while it was written into") {
			t.Errorf("written into a folder that has gone: %v", err)
		}
		if entries, err := os.ReadDir(dir); again && len(entries) > 0 || !again && err == nil {
			t.Errorf("in its place there are %v", entries)
		}
	}
}

// Sizes that look alike are told by the byte.
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		n         int64
		is, limit string
	}{{1<<20 + 1, "1048577 bytes", "1048576 bytes"}, {2 << 20, "2.0 MiB", "1.0 MiB"}} {
		if is, limit := Sizes(c.n, 1<<20); is != c.is || limit != c.limit {
			t.Errorf("%d bytes are %s of %s, want %s of %s", c.n, is, limit, c.is, c.limit)
		}
	}
}
