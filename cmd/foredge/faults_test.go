package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"foredge/export"
	"foredge/lang/foretest"
)

// The harness of faults: every command against disks, pipes and folders that fail.
// Each fault is tried 200 times; FOREDGE_FAULTS asks for another number.

// faults is how often each fault is tried.
func faults(t *testing.T) int {
	t.Helper()
	if text := os.Getenv("FOREDGE_FAULTS"); text != "" {
		n, err := strconv.Atoi(text)
		foretest.Must(t, err)
		return n
	}
	return foretest.Sample(200, 30)
}

// benchFiles is what the commands of the harness work on.
var benchFiles = map[string]string{
	"slip.fore": `laser bench { kerf = 0.2; quiet = caution }
notebook log { accuracy = 0.02; width = 100; height = 150; row wire on spine { hole = rect 4 by 4.5; pitch = 8.5; count = 8; inset = 4; first = 20 } }
panel front covers log { thick = 3 }
panel back covers log { thick = 3 }
`,
	"tag.fore": `laser bench { kerf = 0.2; quiet = caution; bed = 300 by 200 }
orders "orders.csv" { name = text }
panel tag { thick = 3; width = 80; height = 30; region r { width = 60; height = 9; engrave text order.name { cap = 4; fit = shrink } } }
`,
	"orders.csv": "name\nAda\nBo\nCy\nDee\nEd\n",
}

// layBench puts the files of the harness into a folder.
func layBench(t *testing.T, dir string) {
	t.Helper()
	for name, text := range benchFiles {
		foretest.Write(t, filepath.Join(dir, name), text)
	}
}

// A use is one way to call the program; DIR stands for the folder of the files and
// OUT for that into which it writes.
type use struct {
	args   string
	writes bool // files
}

func uses() []use {
	return []use{
		{"build DIR/slip.fore -o OUT", true},
		{"build DIR/slip.fore -o OUT --each --as svg,dxf,png", true},
		{"build DIR/slip.fore -o OUT --dxf r12,inches --json", true},
		{"proof --card DIR/slip.fore -o OUT", true},
		{"proof --jig DIR/slip.fore -o OUT", true},
		{"batch DIR/tag.fore -o OUT", true},
		{"batch DIR/tag.fore -o OUT --together --json", true},
		{"batch DIR/tag.fore -o OUT --resume", true},
		{"batch DIR/tag.fore --check", false},
		{"check DIR/slip.fore", false},
		{"check --json DIR/slip.fore", false},
		{"solve DIR/slip.fore", false},
		{"solve --json DIR/slip.fore", false},
		{"fit DIR/slip.fore", false},
		{"shelf", false},
		{"shelf ply", false},
		{"version --licences", false},
		{"help", false},
		{"help thin-web", false},
	}
}

func (u use) with(dir, out string) []string {
	return strings.Fields(strings.NewReplacer("DIR", dir, "OUT", out).Replace(u.args))
}

// An outcome is what became of a call.
type outcome struct {
	status int
	stdout string
	stderr string
}

// call runs a command within the test. What it prints goes to stdout too.
func call(stdout io.Writer, args []string) outcome {
	var out, errs bytes.Buffer
	status := run(context.Background(), &terminal{stdin: strings.NewReader(""), stdout: io.MultiWriter(&out, stdout), stderr: &errs, width: func() int { return 80 }}, args)
	return outcome{status, out.String(), errs.String()}
}

// errorLine is the line of an error, as a person reads it or as data.
var errorLine = regexp.MustCompile(`(?m)^(\S.*: )?error: .*$|"severity": "error"(.*\n)*?.*"message": .*$`)

// wantOneLine checks that a call which failed says so with status 2 in one clear
// line, in which reason stands, and that one that went well tells no error.
func (o outcome) wantOneLine(t *testing.T, what, reason string) {
	t.Helper()
	lines := errorLine.FindAllString(o.stderr, -1)
	switch {
	case o.status == done && len(lines) > 0,
		o.status != done && (o.status != misuse || len(lines) != 1 || !regexp.MustCompile(reason).MatchString(lines[0])),
		strings.Contains(o.stderr, "goroutine") || strings.Contains(o.stderr, "syscall") || strings.Contains(o.stderr, "0x"):
		t.Errorf("%s: status %d, want one line with %q:\n%s", what, o.status, reason, o.stderr)
	}
}

// wantWholeFiles checks that each file that stands in a folder under its name is
// whole, and returns whether anything is there that is still being written.
func wantWholeFiles(t *testing.T, what, dir string) (leftOver bool) {
	t.Helper()
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		whole := true
		switch ext := filepath.Ext(e.Name()); {
		case strings.HasPrefix(e.Name(), ".foredge-"):
			leftOver = true
			continue
		case slices.Contains([]string{".svg", ".dxf", ".png"}, ext):
			whole = export.Ours(data)
		case ext == ".json":
			whole = bytes.HasSuffix(data, []byte("\n}\n"))
		case ext == ".csv" || ext == ".txt":
			whole = bytes.HasSuffix(data, []byte("\n"))
		}
		if err != nil || !whole {
			t.Errorf("%s: %s is not whole: %d bytes, %v", what, e.Name(), len(data), err)
		}
	}
	return leftOver
}

// wantRight runs a command once more, with nothing in its way: then all is as if
// nothing had been.
func wantRight(t *testing.T, what string, u use, dir, out string) {
	t.Helper()
	args := u.with(dir, out)
	if args[0] == "batch" && !slices.Contains(args, "--check") && !slices.Contains(args, "--resume") {
		args = append(args, "--resume")
	}
	if o := call(io.Discard, args); o.status != done {
		t.Errorf("%s, run again: status %d\n%s", what, o.status, o.stderr)
	}
	if u.writes && wantWholeFiles(t, what, out) {
		t.Errorf("%s, run again: temporary files are left", what)
	}
	clean := filepath.Join(t.TempDir(), "clean")
	if o := call(io.Discard, u.with(dir, clean)); o.status != done {
		t.Fatalf("%s: status %d\n%s", u.args, o.status, o.stderr)
	}
	wantSameFolder(t, what, out, clean)
}

func wantSameFolder(t *testing.T, what, got, want string) {
	t.Helper()
	have, _ := os.ReadDir(got)
	should, _ := os.ReadDir(want)
	if len(have) != len(should) {
		t.Errorf("%s: %v are there, want %v", what, have, should)
	}
	for _, e := range should {
		a, _ := os.ReadFile(filepath.Join(got, e.Name()))
		if b, err := os.ReadFile(filepath.Join(want, e.Name())); err != nil || !bytes.Equal(a, b) {
			t.Errorf("%s: %s differs from that of an undisturbed run", what, e.Name())
		}
	}
}

// The first signal ends a command also while it works something out or waits for
// what never comes.
func TestFirstSignalEndsACommand(t *testing.T) {
	dir := t.TempDir()
	layBench(t, dir)
	for _, args := range []string{"build - -o OUT", "check -", "solve -", "fit -", "proof --card - -o OUT", "batch - -o OUT", "batch - --check"} {
		never, end := io.Pipe()
		ctx, stop := context.WithTimeout(context.Background(), 20*time.Millisecond)
		var errs bytes.Buffer
		start := time.Now()
		status := run(ctx, &terminal{stdin: never, stdout: io.Discard, stderr: &errs, width: func() int { return 80 }},
			use{args: args}.with(dir, filepath.Join(dir, "out")))
		if took := time.Since(start); status != misuse || strings.Count(errs.String(), "error: ") != 1 || took > 5*time.Second {
			t.Errorf("foredge %s: status %d after %v, told\n%s", args, status, took, errs.String())
		}
		stop()
		end.Close()
	}
}

// Standard output that takes so many bytes and no more, on a full disk or where
// nobody reads any more.
func TestFaultOfOutput(t *testing.T) {
	dir := t.TempDir()
	layBench(t, dir)
	all := uses()
	said := map[string]int{}
	for _, u := range all {
		said[u.args] = len(call(io.Discard, u.with(dir, filepath.Join(dir, fmt.Sprint("said", len(said))))).stdout)
	}
	for i := range faults(t) {
		u := all[i%len(all)]
		out := filepath.Join(dir, fmt.Sprint("out", i))
		room := i * 7919 % said[u.args]
		what := fmt.Sprintf("foredge %s, with %d bytes of room", u.args, room)
		o := call(&fullDisk{room}, u.with(dir, out))
		if o.status != misuse {
			t.Errorf("%s: status %d", what, o.status)
		}
		o.wantOneLine(t, what, "could be written to standard output: the disk is full")
		if u.writes {
			if wantWholeFiles(t, what, out) {
				t.Errorf("%s: temporary files are left", what)
			}
			if i < len(all) {
				wantRight(t, what, u, dir, out)
			}
			os.RemoveAll(out)
		}
	}
}
