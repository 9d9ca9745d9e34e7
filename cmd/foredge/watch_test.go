package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/watch/watchtest"
	"foredge/export"
	"foredge/lang/foretest"
)

// A log is a standard output that can be read while it is written.
type log struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *log) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *log) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

func eventually(t *testing.T, what string, ok func() bool) {
	t.Helper()
	for deadline := time.Now().Add(30 * time.Second); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
		if ok() {
			return
		}
	}
	t.Fatal("never came: " + what)
}

// clean builds a design from nothing and returns its files by name.
func clean(t *testing.T, design string) map[string][]byte {
	t.Helper()
	r := driver.NewSession(nil).Build(t.Context(), design, driver.Options{Encoders: export.CutFiles(export.Options{})})
	if !r.OK() {
		t.Fatalf("a clean build fails: %v %v", r.Err, r.Diagnostics)
	}
	files := map[string][]byte{}
	for _, f := range r.Files {
		files[filepath.Base(f.Path)] = f.Data
	}
	return files
}

// sameFiles reports whether a folder holds just these files.
func sameFiles(dir string, files map[string][]byte) bool {
	entries, _ := os.ReadDir(dir)
	for name, want := range files {
		if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !bytes.Equal(got, want) {
			return false
		}
	}
	return len(entries) == len(files)
}

// Two hundred saves of a design or of what it uses, in each way that programs
// save files, end in the files of a clean build. At no time is a file there
// that is not whole, and a broken save leaves the last good files.
func TestWatchSaves(t *testing.T) {
	saves := foretest.Sample(200, 20)
	design := func(i int) string {
		return fmt.Sprintf(`use "lib/bench.fore"
panel cover {
  width = %d; height = 180 + more     # %s
  corners = radius 5
  row wire on spine { hole = rect 4 by 4.5; pitch = 8.5; count = %d; inset = 4 }
}
`, 100+i, strings.Repeat("sawdust ", i), 8+i%12)
	}
	library := func(i int) string { return fmt.Sprintf("laser bench { kerf = 0.2 }\nlet more = %d mm\n", i) }

	for _, way := range watchtest.Ways() {
		t.Run(way.Name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			path, lib, out := filepath.Join(dir, "slip.fore"), filepath.Join(dir, "lib", "bench.fore"), filepath.Join(dir, "out")
			foretest.Must(t, os.Mkdir(filepath.Dir(lib), 0o777))
			foretest.Must(t, os.WriteFile(path, []byte(design(0)), 0o666))
			foretest.Must(t, os.WriteFile(lib, []byte(library(0)), 0o666))

			var stdout, stderr log
			ctx, stop := context.WithCancel(t.Context())
			ended := make(chan int)
			go func() {
				ended <- run(ctx, &terminal{stdout: &stdout, stderr: &stderr}, []string{"watch", path, "-o", out})
			}()
			eventually(t, "the first build", func() bool { return strings.Contains(stdout.String(), "watching") })

			for i := range saves {
				if i%5 == 4 {
					foretest.Must(t, way.Save(lib, []byte(library(i))))
				} else {
					foretest.Must(t, way.Save(path, []byte(design(i))))
				}
				wantWhole(t, out)
				if i%20 == 10 {
					want := clean(t, path)
					eventually(t, fmt.Sprintf("save %d", i), func() bool { return sameFiles(out, want) })
				}
				time.Sleep(time.Duration(i*17%71) * time.Millisecond) // so that saves meet a build at every point of it
			}
			want := clean(t, path)
			eventually(t, "the last save", func() bool { return sameFiles(out, want) })

			before := strings.Count(stdout.String(), "error")
			foretest.Must(t, way.Save(path, []byte(strings.Replace(design(saves), "width", "widht", 1))))
			eventually(t, "the broken save", func() bool {
				return strings.Count(stdout.String(), "error") > before && strings.Contains(stderr.String(), "widht")
			})
			if !sameFiles(out, want) {
				t.Error("a broken save touched the last good files")
			}
			stop()
			if status := <-ended; status != done {
				t.Errorf("ended with status %d", status)
			}
			t.Logf("%d builds, %d of them of a broken design", strings.Count(stdout.String(), "\n")-1, strings.Count(stdout.String(), "error"))
		})
	}
}

// wantWhole checks that the files that are there are whole.
func wantWhole(t *testing.T, out string) {
	t.Helper()
	for name, end := range map[string]string{"slip.svg": "</svg>\n", "slip.dxf": "EOF\n"} {
		if data, err := os.ReadFile(filepath.Join(out, name)); err != nil || !bytes.HasSuffix(data, []byte(end)) {
			t.Fatalf("%s is not whole: %d bytes, %v", name, len(data), err)
		}
	}
}

// Each build of which there is something to tell stands below the time of day at
// which it began, a blank line after the one before it.
func TestWatchTellsTheTime(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "slip.fore")
	save := func(text string) {
		t.Helper()
		foretest.Must(t, os.WriteFile(path, []byte(text), 0o666))
	}
	const good = "laser bench { kerf = 0.2; quiet = caution }\npanel cover { width = 100; height = 80 }\n"
	save(good)
	var out log // both streams, as on a terminal
	minute := time.Date(2031, 5, 4, 9, 59, 0, 0, time.UTC)
	clock := func() time.Time {
		minute = minute.Add(time.Minute)
		return minute
	}
	b := newBench(&terminal{stdout: &out, stderr: &out}, []string{path}, driver.Options{Encoders: export.CutFiles(export.Options{})[:1]}, false, clock)
	b.build(t.Context(), nil)
	b.build(t.Context(), []string{filepath.Join(dir, "another.fore")}) // nothing to tell
	save(strings.Replace(good, "100", "100; widht = 3", 1))
	b.build(t.Context(), []string{path})
	save(good)
	b.build(t.Context(), []string{path})

	got := regexp.MustCompile(`in [0-9.e+]+ ms`).ReplaceAllString(strings.ReplaceAll(out.String(), dir+string(filepath.Separator), ""), "in a moment")
	got = regexp.MustCompile(`(?s)slip.fore:2.*?\n(slip.fore has)`).ReplaceAllString(got, "(told)\n$1")
	want := `10:00:00
built slip.svg in a moment

10:02:00
(told)
slip.fore has an error; its files stay as they were

10:03:00
built slip.svg in a moment
`
	if got != want {
		t.Errorf("the screen shows\n%s\nwant\n%s\nall of it:\n%s", got, want, out.String())
	}
}

// watched runs a watch until the test ends and gives what it shows. It ends in time.
func watched(t *testing.T, args ...string) (out *log) {
	t.Helper()
	out = &log{}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan int)
	go func() { ended <- run(ctx, &terminal{stdout: out, stderr: out}, append([]string{"watch"}, args...)) }()
	t.Cleanup(func() {
		stop()
		select {
		case status := <-ended:
			if status != done {
				t.Errorf("ended with status %d", status)
			}
		case <-time.After(5 * time.Second):
			t.Error("it doesn't end")
		}
	})
	eventually(t, "the first build", func() bool { return strings.Contains(out.String(), "watching") })
	return out
}

const slipDesign = "laser bench { kerf = 0.2; quiet = caution }\npanel cover { width = 100; height = 80 }\n"

// A write that failed is tried again until it goes well, with no save, and told once.
func TestWatchTriesWritingAgain(t *testing.T) {
	for name, fault := range map[string]struct {
		make, mend func(t *testing.T, out string)
		told       string
	}{
		"a file in place of the folder": {
			func(t *testing.T, out string) { foretest.Write(t, out, "x") },
			func(t *testing.T, out string) { foretest.Must(t, os.Remove(out)) }, "part of the path is a file"},
		"a link to a folder that comes back": {
			func(t *testing.T, out string) { foretest.Must(t, os.Symlink(out+"-disk", out)) },
			func(t *testing.T, out string) { foretest.Must(t, os.Mkdir(out+"-disk", 0o777)) }, "can't be written"},
		"a drawing by hand": {
			func(t *testing.T, out string) { foretest.Write(t, filepath.Join(out, "slip.svg"), "<svg/>") },
			func(t *testing.T, out string) { foretest.Must(t, os.Remove(filepath.Join(out, "slip.svg"))) }, "isn't as foredge made it"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			out := filepath.Join(dir, "out")
			path := foretest.Write(t, filepath.Join(dir, "slip.fore"), slipDesign)
			fault.make(t, out)
			shown := watched(t, path, "-o", out)
			eventually(t, "the error", func() bool { return strings.Contains(shown.String(), fault.told) })
			foretest.Write(t, path, slipDesign) // the same once more
			time.Sleep(1500 * time.Millisecond)
			if n := strings.Count(shown.String(), "error: "); n != 1 {
				t.Errorf("told %d times:\n%s", n, shown)
			}
			fault.mend(t, out)
			want := clean(t, path)
			eventually(t, "the files", func() bool { return sameFiles(out, want) })
			eventually(t, "the news", func() bool { return strings.Contains(shown.String(), "built ") })
		})
	}
}

// What stands in the way of two designs is gone once one of them is: the other is
// then written though it hasn't changed.
func TestWatchTriesAgainAfterAClash(t *testing.T) {
	dir := t.TempDir()
	one, two := foretest.Write(t, filepath.Join(dir, "a", "slip.fore"), slipDesign), foretest.Write(t, filepath.Join(dir, "b", "slip.fore"), slipDesign)
	out := filepath.Join(dir, "out")
	shown := watched(t, filepath.Dir(one), filepath.Dir(two), "-o", out)
	eventually(t, "the clash", func() bool { return strings.Contains(shown.String(), "two files would be written") })
	want := clean(t, one)
	foretest.Must(t, os.Remove(two))
	eventually(t, "the files", func() bool { return sameFiles(out, want) })
}

// A save of the same text writes again what is gone; without one, what a maker has
// removed stays away. What isn't foredge's in its place is refused.
func TestWatchWritesAgainWhatIsGone(t *testing.T) {
	for _, poll := range []bool{false, true} {
		t.Run(fmt.Sprint("poll ", poll), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			out := filepath.Join(dir, "out")
			path := foretest.Write(t, filepath.Join(dir, "slip.fore"), slipDesign)
			args := []string{path, "-o", out}
			if poll {
				args = append(args, "--poll")
			}
			shown := watched(t, args...)
			want := clean(t, path)
			for i, lose := range []func() error{
				func() error { return os.Remove(filepath.Join(out, "slip.dxf")) },
				func() error { return os.RemoveAll(out) },
				func() error { // an older one of ours
					older := foretest.Write(t, filepath.Join(dir, "old", "slip.fore"), strings.Replace(slipDesign, "100", "90", 1))
					return os.WriteFile(filepath.Join(out, "slip.svg"), clean(t, older)["slip.svg"], 0o666)
				},
			} {
				foretest.Must(t, lose())
				time.Sleep(700 * time.Millisecond)
				if sameFiles(out, want) {
					t.Errorf("%d: the files came back by themselves", i)
				}
				foretest.Write(t, path, slipDesign)
				eventually(t, fmt.Sprint("the files, ", i), func() bool { return sameFiles(out, want) })
			}
			if strings.Contains(shown.String(), "error") {
				t.Errorf("an error is told:\n%s", shown)
			}
			built := strings.Count(shown.String(), "built ")
			foretest.Write(t, path, slipDesign) // nothing is gone
			foretest.Write(t, filepath.Join(out, "slip.svg"), "<svg/>")
			time.Sleep(700 * time.Millisecond)
			foretest.Write(t, path, slipDesign)
			eventually(t, "the refusal", func() bool {
				return strings.Contains(shown.String(), "slip.svg\" is there already and isn't as foredge made it")
			})
			if data, _ := os.ReadFile(filepath.Join(out, "slip.svg")); string(data) != "<svg/>" {
				t.Errorf("what isn't ours was replaced")
			}
			if n := strings.Count(shown.String(), "built "); n != built {
				t.Errorf("%d builds are told of, of which there is nothing to tell:\n%s", n-built, shown)
			}
		})
	}
}

// While it is watched a design may change the names of all its panels; files of
// another design are refused then as well.
func TestWatchKnowsItsFiles(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	path := foretest.Write(t, filepath.Join(dir, "slip.fore"), slipDesign)
	lid := strings.Replace(slipDesign, "cover", "lid", 1)
	shown := watched(t, path, "-o", out)
	foretest.Write(t, path, lid)
	want := clean(t, path)
	eventually(t, "the files", func() bool { return sameFiles(out, want) })
	stern := strings.Replace(slipDesign, "cover", "stern", 1)
	other := foretest.Write(t, filepath.Join(dir, "b", "slip.fore"), stern)
	for name, data := range clean(t, other) {
		foretest.Must(t, os.WriteFile(filepath.Join(out, name), data, 0o666))
	}
	foretest.Write(t, path, lid)
	eventually(t, "the refusal", func() bool {
		return strings.Contains(shown.String(), "was made of another design: that one has stern, and this one has lid")
	})
}

// A clash is told under the designs whose file it is; others are written.
func TestWatchTellsAClashWhereItIs(t *testing.T) {
	dir := t.TempDir()
	one, two := foretest.Write(t, filepath.Join(dir, "a", "slip.fore"), slipDesign), foretest.Write(t, filepath.Join(dir, "b", "slip.fore"), slipDesign)
	tern := foretest.Write(t, filepath.Join(dir, "b", "tern.fore"), slipDesign)
	out := filepath.Join(dir, "out")
	shown := watched(t, filepath.Dir(one), filepath.Dir(two), "-o", out)
	for _, design := range []string{one, two} {
		if !strings.Contains(shown.String(), design+" has an error") {
			t.Errorf("nothing is told of %s", design)
		}
	}
	if want := clean(t, tern); strings.Contains(shown.String(), tern+" has an error") || !sameFiles(out, want) {
		t.Errorf("tern.fore suffers for the others:\n%s", shown)
	}
}

// A watch whose lines nobody reads any more ends.
func TestWatchEndsWithItsReader(t *testing.T) {
	path := foretest.Write(t, filepath.Join(t.TempDir(), "slip.fore"), slipDesign)
	var errs bytes.Buffer
	status := run(t.Context(), &terminal{stdout: &fullDisk{}, stderr: &errs}, []string{"watch", path})
	if status != misuse || strings.Count(errs.String(), "the disk is full") != 1 {
		t.Errorf("status %d\n%s", status, errs.String())
	}
}

// Nothing in the name of a file can disturb a terminal.
func TestNamesAreEscaped(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no such names on Windows")
	}
	dir := t.TempDir()
	t.Chdir(dir)
	const name = "gu\x1b[31mll\nerror: \u202eno.fore"
	foretest.Write(t, name, slipDesign)
	foretest.Write(t, "\x1bbad.fore", "panel cover { widht = 100; height = 80 }\n")
	all := "" // that is printed
	for _, args := range [][]string{{"build", name}, {"build", "\x1bbad.fore"}, {"check", name}, {"check", "\x1bbad.fore"}, {"solve", name}, {"solve", "--all", name},
		{"solve", "--json", name}, {"fit", name}, {"check", "--json", "\x1bbad.fore"}, {"build", "\x1bmissing.fore"}} {
		var out bytes.Buffer
		run(t.Context(), &terminal{stdout: &out, stderr: &out}, args)
		if out.Len() == 0 {
			t.Errorf("%q prints nothing", args)
		}
		if strings.Contains(out.String(), "\x1b") {
			t.Errorf("%q prints what steers a terminal", args)
		}
		if !slices.Contains(args, "--json") { // there a text is data
			all += out.String()
		}
	}
	shown := watched(t, name, "\x1bbad.fore", "-o", "out")
	all += shown.String()
	for _, c := range []string{"\x1b", "\nerror: \u202e", "\u202e"} {
		if strings.Contains(all, c) {
			t.Errorf("%q is printed:\n%q", c, all)
		}
	}
	if want := `gu\x1b[31mll\nerror: \u202eno.svg`; !strings.Contains(all, want) {
		t.Errorf("%s is not printed:\n%s", want, all)
	}
}
