package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"foredge/export"
	"foredge/lang/foretest"

	"golang.org/x/sys/unix"
)

// writing are the uses that write files.
func writing() []use {
	return slices.DeleteFunc(uses(), func(u use) bool { return !u.writes })
}

// program is the test's own program by the name under which it is foredge.
func program(t *testing.T) string {
	t.Helper()
	self, err := os.Executable()
	foretest.Must(t, err)
	path := filepath.Join(t.TempDir(), "foredge")
	foretest.Must(t, os.Symlink(self, path))
	return path
}

// child runs the program by itself. prepare may change how; limit is a shell's
// ulimit.
func child(t *testing.T, foredge, limit string, args []string, prepare func(*exec.Cmd)) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	t.Cleanup(stop)
	cmd := exec.CommandContext(ctx, foredge, args...)
	if limit != "" {
		cmd = exec.CommandContext(ctx, "sh", append([]string{"-c", limit + `; exec "$0" "$@"`, foredge}, args...)...)
	}
	var errs bytes.Buffer
	cmd.Stderr = &errs
	if prepare != nil {
		prepare(cmd)
	}
	return cmd, &errs
}

func ended(cmd *exec.Cmd, errs *bytes.Buffer) outcome {
	cmd.Run()
	return outcome{status: cmd.ProcessState.ExitCode(), stderr: errs.String()}
}

// struck runs the program and sends it a signal after a while.
func struck(t *testing.T, foredge string, args []string, signal syscall.Signal, after time.Duration) outcome {
	t.Helper()
	cmd, errs := child(t, foredge, "", args, nil)
	foretest.Must(t, cmd.Start())
	time.Sleep(after)
	cmd.Process.Signal(signal)
	cmd.Wait()
	return outcome{status: cmd.ProcessState.ExitCode(), stderr: errs.String()}
}

// quick is a folder in memory, where there is one: forcing hundreds of files to a disk
// takes minutes, and tries nothing here.
func quick(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("/dev/shm", "foredge-test-")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// open lets everybody get at a folder, with the program in it.
func open(t *testing.T, dir, program string) string {
	t.Helper()
	path := filepath.Join(dir, "foredge")
	real, err := filepath.EvalSymlinks(program)
	foretest.Must(t, err, os.Chmod(dir, 0o755))
	if os.Link(real, path) != nil {
		data, err := os.ReadFile(real)
		foretest.Must(t, err, os.WriteFile(path, data, 0o755))
	}
	foretest.Must(t, os.Chmod(path, 0o755))
	return path
}

// small mounts a disk of so many bytes; only root may, and not in every container.
func small(t *testing.T, bytes int) string {
	t.Helper()
	dir := t.TempDir()
	if err := unix.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", bytes)); err != nil {
		foretest.Missing(t, "root, which may mount a small disk ("+err.Error()+")")
	}
	t.Cleanup(func() {
		if err := unix.Unmount(dir, unix.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// Files on a disk that has less room than they take: all of a set or none of it.
func TestFaultOfFullDisk(t *testing.T) {
	dir := quick(t)
	layBench(t, dir)
	const size = 256 << 10
	disk := small(t, size)
	all := writing()
	failed := 0
	for i := range faults(t) {
		u := all[i%len(all)]
		room := i * 7919 % (96 << 10)
		what := fmt.Sprintf("foredge %s, with %d bytes of room", u.args, room)
		ballast := filepath.Join(disk, "ballast")
		foretest.Must(t, os.WriteFile(ballast, make([]byte, size-room-8192), 0o666))
		out := filepath.Join(disk, "out")
		o := call(io.Discard, u.with(dir, out))
		o.wantOneLine(t, what, `can't be written: the disk is full`)
		if o.status != done {
			failed++
		}
		if wantWholeFiles(t, what, out) {
			t.Errorf("%s: temporary files are left", what)
		}
		foretest.Must(t, os.Remove(ballast))
		if i < len(all) {
			wantRight(t, what, u, dir, out)
		}
		foretest.Must(t, os.RemoveAll(out))
	}
	if failed < faults(t)/5 {
		t.Errorf("only %d ran out of room: this tries little", failed)
	}
}

// Sheets that would be set aside for new ones for which there is no room stay.
func TestFaultOfFullDiskSetsNothingAside(t *testing.T) {
	dir := quick(t)
	layBench(t, dir)
	const size = 512 << 10
	disk := small(t, size)
	out, first := filepath.Join(disk, "out"), filepath.Join(dir, "first")
	resume := use{args: "batch DIR/tag.fore -o OUT --together --resume"}
	for _, o := range []string{out, first} {
		if got := call(io.Discard, resume.with(dir, o)); got.status != done {
			t.Fatal(got.stderr)
		}
	}
	foretest.Write(t, filepath.Join(dir, "tag.fore"), strings.Replace(benchFiles["tag.fore"], "width = 80", "width = 90", 1))
	ballast := filepath.Join(disk, "ballast")
	f, err := os.Create(ballast)
	foretest.Must(t, err)
	for block := make([]byte, 1024); err == nil; {
		_, err = f.Write(block)
	}
	f.Close()
	o := call(io.Discard, resume.with(dir, out))
	if o.status == done {
		t.Fatal("there was room")
	}
	o.wantOneLine(t, "on a full disk", "can't be written: the disk is full")
	if strings.Contains(o.stderr, "moved to") {
		t.Errorf("told of what was moved back:\n%s", o.stderr)
	}
	wantSameFolder(t, "on a full disk", out, first)
	foretest.Must(t, os.Remove(ballast))
	if o = call(io.Discard, resume.with(dir, out)); o.status != done || !strings.Contains(o.stderr, "set-aside") {
		t.Errorf("with room again: status %d\n%s", o.status, o.stderr)
	}
}

// The program's own standard output: a full device, and a pipe that nobody reads.
func TestFaultOfDevices(t *testing.T) {
	dir := quick(t)
	layBench(t, dir)
	foredge := program(t)
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		foretest.Missing(t, "/dev/full")
	}
	defer full.Close()
	read, write, err := os.Pipe()
	foretest.Must(t, err)
	read.Close()
	defer write.Close()
	all := uses()
	each(t, faults(t), func(i int) {
		u := all[i/2%len(all)]
		to, reason := full, "the disk is full"
		if i%2 == 1 {
			to, reason = write, "what reads it has ended"
		}
		what := fmt.Sprintf("foredge %s, into %s", u.args, to.Name())
		o := ended(child(t, foredge, "", u.with(dir, filepath.Join(dir, fmt.Sprint("out", i))), func(c *exec.Cmd) { c.Stdout = to }))
		if o.status != misuse {
			t.Errorf("%s: status %d", what, o.status)
		}
		o.wantOneLine(t, what, "could be written to standard output: "+reason)
	})
}

// each does n things, two at a time.
func each(t *testing.T, n int, do func(i int)) {
	t.Helper()
	var wg sync.WaitGroup
	room := make(chan bool, 2)
	for i := range n {
		room <- true
		wg.Go(func() {
			do(i)
			<-room
		})
	}
	wg.Wait()
}

// A folder that may only be read. As root nothing is forbidden, so the program is
// somebody else there.
func TestFaultOfReadOnlyFolder(t *testing.T) {
	dir := quick(t)
	layBench(t, dir)
	foredge := program(t)
	all := writing()
	foredge = open(t, dir, foredge)
	each(t, faults(t), func(i int) {
		u := all[i%len(all)]
		out := filepath.Join(dir, fmt.Sprint("out", i))
		foretest.Must(t, os.Mkdir(out, 0o555))
		to := out
		if i%3 == 0 {
			to = filepath.Join(out, "new", "deep")
		}
		o := ended(child(t, foredge, "", u.with(dir, to), asNobody))
		what := "foredge " + u.args + ", into a folder that may only be read"
		if o.status != misuse {
			t.Errorf("%s: status %d", what, o.status)
		}
		o.wantOneLine(t, what, `can't be written: you don't have permission`)
		if entries, _ := os.ReadDir(out); len(entries) > 0 {
			t.Errorf("%s: %v is there", what, entries)
		}
	})
}

// A folder that goes at any moment, and one in whose place a file stands then.
func TestFaultOfVanishingFolder(t *testing.T) {
	dir := quick(t)
	layBench(t, dir)
	all := writing()
	rnd := rand.New(rand.NewPCG(13, 4))
	for i := range faults(t) {
		u := all[i%len(all)]
		out := filepath.Join(dir, fmt.Sprint("out", i), "cut")
		foretest.Must(t, os.MkdirAll(out, 0o777))
		after := time.Duration(rnd.IntN(12000)) * time.Microsecond
		gone := make(chan bool)
		go func() {
			defer close(gone)
			time.Sleep(after)
			os.Rename(filepath.Dir(out), filepath.Dir(out)+"-away")
			if i%2 == 0 {
				os.WriteFile(filepath.Dir(out), nil, 0o666)
			}
		}()
		o := call(io.Discard, u.with(dir, out))
		<-gone
		what := fmt.Sprintf("foredge %s, into a folder that goes after %v", u.args, after)
		o.wantOneLine(t, what, `can't be written: (it is not there|part of the path is a file, not a folder)|was moved or removed while it was written into|was written and is not there any more|can't be read|there already, from an earlier batch`)
		wantWholeFiles(t, what, filepath.Join(filepath.Dir(out)+"-away", "cut"))
		os.RemoveAll(filepath.Dir(out))
		os.RemoveAll(filepath.Dir(out) + "-away")
	}
}

// With 32 files open at the most every command does what it does otherwise, and with
// fewer it says what it lacks.
func TestFaultOfFewFiles(t *testing.T) {
	dir := quick(t)
	layBench(t, dir)
	foredge := program(t)
	all := uses()
	each(t, faults(t), func(i int) {
		u := all[i%len(all)]
		out := filepath.Join(dir, fmt.Sprint("out", i))
		files := 32
		if i >= 2*len(all) {
			files = 8 + i%24
		}
		what := fmt.Sprintf("foredge %s, with %d files open at the most", u.args, files)
		o := ended(child(t, foredge, fmt.Sprintf("ulimit -n %d", files), u.with(dir, out), nil))
		if files == 32 && o.status != done {
			t.Errorf("%s: status %d\n%s", what, o.status, o.stderr)
		}
		if files >= 12 {
			o.wantOneLine(t, what, "too many files are open")
		}
		if u.writes {
			wantWholeFiles(t, what, out)
		}
	})
}

// Files that may not be as large as they would be.
func TestFaultOfFileSize(t *testing.T) {
	dir := quick(t)
	layBench(t, dir)
	foredge := program(t)
	all := writing()
	failed := make([]bool, faults(t))
	each(t, len(failed), func(i int) {
		u := all[i%len(all)]
		out := filepath.Join(dir, fmt.Sprint("out", i))
		what := fmt.Sprintf("foredge %s, with files of %d KiB at the most", u.args, i%4/2)
		o := ended(child(t, foredge, fmt.Sprintf("ulimit -f %d", i%4), u.with(dir, out), nil)) // of 512 bytes, in sh
		failed[i] = o.status != done
		o.wantOneLine(t, what, "the file would be larger than the system lets it be")
		if wantWholeFiles(t, what, out) {
			t.Errorf("%s: temporary files are left", what)
		}
	})
	if !slices.Contains(failed, true) {
		t.Error("no file was too large")
	}
}

// Signals at any moment, of each kind that ends a program: what is there is whole,
// and the next run leaves all as if nothing had been.
func TestFaultOfSignals(t *testing.T) {
	dir := quick(t)
	layBench(t, dir)
	var many strings.Builder
	many.WriteString("name\n")
	for i := range 12 {
		fmt.Fprintf(&many, "Ada Quill %d\n", i)
	}
	foretest.Write(t, filepath.Join(dir, "orders.csv"), many.String())
	foredge := program(t)
	all := []use{writing()[0], writing()[1], writing()[5], writing()[6], writing()[7]}
	clean, took := make([]string, len(all)), make([]time.Duration, len(all))
	for i, u := range all {
		clean[i] = filepath.Join(dir, fmt.Sprint("clean", i))
		start := time.Now()
		if o := ended(child(t, foredge, "", u.with(dir, clean[i]), nil)); o.status != done {
			t.Fatalf("foredge %s: status %d\n%s", u.args, o.status, o.stderr)
		}
		took[i] = time.Since(start)
	}
	signals := []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGKILL}
	n := faults(t)
	moments := make([]time.Duration, n)
	rnd := rand.New(rand.NewPCG(13, 2))
	for i := range moments {
		moments[i] = time.Duration(rnd.Int64N(int64(took[i%len(all)]) * 6 / 5))
	}
	stopped := make([]bool, n)
	each(t, n, func(i int) {
		k := i % len(all)
		u, signal := all[k], signals[i/len(all)%len(signals)]
		out := filepath.Join(dir, fmt.Sprint("out", i))
		// What took so long above may be done sooner now: then half as long is tried.
		for moment, tries := moments[i], 0; !stopped[i] && tries < 4; moment, tries = moment/2, tries+1 {
			what := fmt.Sprintf("foredge %s, %v after %v", u.args, signal, moment)
			o := struck(t, foredge, u.with(dir, out), signal, moment)
			stopped[i] = o.status != done
			if o.status >= 0 { // not before it heeds signals, and not by SIGKILL
				o.wantOneLine(t, what, "stopped before it was done")
				if wantWholeFiles(t, what, out) {
					t.Errorf("%s: temporary files are left", what)
				}
			}
			wantWholeFiles(t, what, out)
			args := u.with(dir, out)
			if args[0] == "batch" && !slices.Contains(args, "--resume") {
				args = append(args, "--resume")
			}
			if o := call(io.Discard, args); o.status != done {
				t.Errorf("%s, run again: status %d\n%s", what, o.status, o.stderr)
			}
			wantSameFolder(t, what, out, clean[k])
			os.RemoveAll(out)
		}
	})
	// A watch never ends by itself: a signal ends it as it should end.
	each(t, n/4, func(i int) {
		signal := signals[i%len(signals)]
		out := filepath.Join(dir, fmt.Sprint("watched", i))
		what := fmt.Sprintf("foredge watch, %v after %v", signal, moments[i])
		o := struck(t, foredge, []string{"watch", filepath.Join(dir, "slip.fore"), "-o", out}, signal, moments[i])
		if o.status != done && o.status != -1 { // -1: before it heeds signals, or SIGKILL
			t.Errorf("%s: status %d\n%s", what, o.status, o.stderr)
		}
		wantWholeFiles(t, what, out)
		if o := call(io.Discard, all[0].with(dir, out)); o.status != done {
			t.Errorf("%s, then built: status %d\n%s", what, o.status, o.stderr)
		}
		wantSameFolder(t, what, out, clean[0])
	})
	if count := len(slices.DeleteFunc(stopped, func(b bool) bool { return !b })); count < n/4 {
		t.Errorf("only %d of %d were stopped: this tries little", count, n)
	}
}

// Forty builds and batches into one folder at once: every file belongs to the whole
// set of one run.
func TestManyIntoOneFolder(t *testing.T) {
	dir := quick(t)
	const designs = 8
	var want [designs]map[string][]byte
	for i := range designs {
		at := filepath.Join(dir, fmt.Sprint(i))
		layBench(t, at)
		foretest.Write(t, filepath.Join(at, "slip.fore"), fmt.Sprintf("laser bench { kerf = 0.2; quiet = caution }\npanel front { thick = 3; width = %d; height = 150 }\n", 100+i))
		foretest.Write(t, filepath.Join(at, "tag.fore"), strings.Replace(benchFiles["tag.fore"], "width = 80", fmt.Sprintf("width = %d", 80+i), 1))
		alone := filepath.Join(at, "alone")
		for _, args := range [][]string{{"build", filepath.Join(at, "slip.fore"), "-o", alone}, {"batch", filepath.Join(at, "tag.fore"), "-o", alone}} {
			if o := call(io.Discard, args); o.status != done {
				t.Fatalf("%v: %s", args, o.stderr)
			}
		}
		want[i] = map[string][]byte{}
		entries, _ := os.ReadDir(alone)
		for _, e := range entries {
			want[i][e.Name()], _ = os.ReadFile(filepath.Join(alone, e.Name()))
		}
	}
	foredge := program(t)
	for round := range foretest.Sample(50, 4) {
		out := filepath.Join(dir, fmt.Sprint("cut", round))
		var wg sync.WaitGroup
		for i := range 40 {
			wg.Go(func() {
				at := filepath.Join(dir, fmt.Sprint(i%designs))
				args := []string{"build", filepath.Join(at, "slip.fore"), "-o", out}
				if i%4 == 3 {
					args = []string{"batch", filepath.Join(at, "tag.fore"), "-o", out, "--resume"}
				}
				var o outcome
				if i >= 36 { // some as programs of their own
					o = ended(child(t, foredge, "", args, nil))
				} else {
					o = call(io.Discard, args)
				}
				if o.status != done {
					t.Errorf("round %d: foredge %v: status %d\n%s", round, args, o.status, o.stderr)
				}
			})
		}
		wg.Wait()
		wantOneRun(t, out, want[:], func(name string) bool { return strings.HasPrefix(name, "slip") })
		wantOneRun(t, out, want[:], func(name string) bool { return !strings.HasPrefix(name, "slip") })
		if wantWholeFiles(t, fmt.Sprint("round ", round), out) {
			t.Errorf("round %d: temporary files are left", round)
		}
	}
}

// wantOneRun checks that those files of a folder that are chosen are all of one run.
func wantOneRun(t *testing.T, out string, want []map[string][]byte, chosen func(string) bool) {
	t.Helper()
	is := func(run map[string][]byte) bool {
		for name, data := range run {
			if !chosen(name) || strings.HasPrefix(name, "made.") { // the lists name the design by its path
				continue
			}
			if got, err := os.ReadFile(filepath.Join(out, name)); err != nil || !bytes.Equal(got, data) {
				return false
			}
		}
		return true
	}
	if !slices.ContainsFunc(want, is) {
		t.Errorf("%s: the files aren't of one run", out)
	}
	entries, _ := os.ReadDir(out)
	for _, e := range entries {
		if data, _ := os.ReadFile(filepath.Join(out, e.Name())); filepath.Ext(e.Name()) == ".svg" && !export.Ours(data) {
			t.Errorf("%s is not whole", e.Name())
		}
	}
}

// A watch tells of a folder that it can't read, and doesn't say that what it knew
// there is gone.
func TestWatchTellsOfAnUnreadableFolder(t *testing.T) {
	dir := quick(t)
	foredge := open(t, dir, program(t))
	shop := filepath.Join(dir, "shop")
	foretest.Write(t, filepath.Join(shop, "slip.fore"), slipDesign)
	foretest.Must(t, os.Chmod(shop, 0o755), os.Mkdir(filepath.Join(dir, "out"), 0o755), os.Chmod(filepath.Join(dir, "out"), 0o777))
	var shown log
	cmd, _ := child(t, foredge, "", []string{"watch", shop, "-o", filepath.Join(dir, "out")}, func(c *exec.Cmd) {
		c.Stdout = &shown
		asNobody(c)
	})
	cmd.Stderr = &shown
	foretest.Must(t, cmd.Start())
	eventually(t, "the first build", func() bool { return strings.Contains(shown.String(), "watching") })
	foretest.Must(t, os.Chmod(shop, 0))
	eventually(t, "the error", func() bool { return strings.Contains(shown.String(), "can't be read: you don't have permission") })
	foretest.Must(t, os.Chmod(shop, 0o755))
	foretest.Write(t, filepath.Join(shop, "slip.fore"), strings.Replace(slipDesign, "100", "101", 1))
	eventually(t, "the next build", func() bool { return strings.Count(shown.String(), "built ") == 2 })
	cmd.Process.Signal(syscall.SIGINT)
	if cmd.Wait(); cmd.ProcessState.ExitCode() != done || strings.Contains(shown.String(), "is gone") {
		t.Errorf("ended with %d and told\n%s", cmd.ProcessState.ExitCode(), &shown)
	}
}

// asNobody has a program run as somebody to whom things are forbidden.
func asNobody(c *exec.Cmd) {
	if os.Geteuid() == 0 {
		const nobody = 65534
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
}
