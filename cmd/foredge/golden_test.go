package main

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"foredge/export"
	"foredge/lang/foretest"
)

// What the commands make of three designs of the corpus, to the last byte, so
// that every change of it is seen. With -update the files of testdata/golden are
// made anew; look at what is different then.
func TestGolden(t *testing.T) {
	golden, err := filepath.Abs("../../testdata/golden")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir("../../testdata/corpus")
	for _, name := range []string{"harbour-log", "joint-case", "hex-board"} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			foredge(t, "build", name+".fore", "-o", dir)
			made, err := os.ReadDir(dir)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range made {
				got, err := os.ReadFile(filepath.Join(dir, f.Name()))
				if err != nil {
					t.Fatal(err)
				}
				drawn, ours := export.Unmark(got) // the mark follows from the rest
				if !ours {
					t.Errorf("%s isn't marked as made by foredge", f.Name())
				}
				foretest.Golden(t, filepath.Join(golden, f.Name()), drawn)
			}
			kept, err := filepath.Glob(filepath.Join(golden, name+"*.[sd][vx][gf]"))
			if err != nil {
				t.Fatal(err)
			}
			if len(kept) != len(made) {
				t.Errorf("%d files were made, testdata/golden keeps %d of %s: %v", len(made), len(kept), name, made)
			}
			got := foredge(t, "solve", "--json", name+".fore")
			sameNumbers(t, foretest.GoldenFile(t, filepath.Join(golden, name+".json"), got), got)
		})
	}
}

// foredge runs a command that must go well, and gives what it prints.
func foredge(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(context.Background(), &terminal{stdout: &out, stderr: &errs}, args); status != done {
		t.Fatalf("foredge %v: status %d\n%s", args, status, errs.String())
	}
	return out.Bytes()
}

var numbers = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?(e[+-]?[0-9]+)?`)

// sameNumbers holds JSON against a golden file. The last
// digits of what was worked out differ between processors, so a number may be
// rounded to the next 1e-9.
func sameNumbers(t *testing.T, want, got []byte) {
	t.Helper()
	if a, b := numbers.ReplaceAll(want, []byte("#")), numbers.ReplaceAll(got, []byte("#")); !bytes.Equal(a, b) {
		t.Fatalf("the dimensions differ from the golden file%s", foretest.Difference(a, b))
	}
	a, b := numbers.FindAll(want, -1), numbers.FindAll(got, -1)
	for i := range a {
		x, errX := strconv.ParseFloat(string(a[i]), 64)
		y, errY := strconv.ParseFloat(string(b[i]), 64)
		if errX != nil || errY != nil || math.Abs(x-y) > 1.5e-9 {
			t.Errorf("number %d is %s, want %s", i+1, b[i], a[i])
		}
	}
}
