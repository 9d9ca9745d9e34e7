package main

import (
	"bytes"
	"context"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// What the commands make of two designs of the corpus, to the last byte, so
// that every change of it is seen. With -update the files of testdata/golden are
// made anew; look at what is different then.
func TestGolden(t *testing.T) {
	golden, err := filepath.Abs("../../testdata/golden")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir("../../testdata/corpus")
	for _, name := range []string{"harbour-log", "joint-case"} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			foredge(t, "build", name+".fore", "-o", dir)
			for _, ext := range []string{".svg", ".dxf"} {
				got, err := os.ReadFile(filepath.Join(dir, name+ext))
				if err != nil {
					t.Fatal(err)
				}
				if want := goldenFile(t, filepath.Join(golden, name+ext), got); !bytes.Equal(got, want) {
					t.Errorf("%s%s differs from the golden file%s", name, ext, difference(want, got))
				}
			}
			got := foredge(t, "solve", "--json", name+".fore")
			sameNumbers(t, goldenFile(t, filepath.Join(golden, name+".json"), got), got)
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

// goldenFile reads a golden file, after writing it if asked to.
func goldenFile(t *testing.T, path string, got []byte) []byte {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return want
}

// difference shows the first line in which two files differ.
func difference(want, got []byte) string {
	a, b := bytes.Split(want, []byte("\n")), bytes.Split(got, []byte("\n"))
	for i := range min(len(a), len(b)) {
		if !bytes.Equal(a[i], b[i]) {
			return " at line " + strconv.Itoa(i+1) + ":\n" + string(b[i]) + "\nwant\n" + string(a[i])
		}
	}
	return " in length"
}

var numbers = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?(e[+-]?[0-9]+)?`)

// sameNumbers holds JSON against a golden file. It carries full precision, of
// which the last digits differ between processors: numbers may differ by 1e-9.
func sameNumbers(t *testing.T, want, got []byte) {
	t.Helper()
	if a, b := numbers.ReplaceAll(want, []byte("#")), numbers.ReplaceAll(got, []byte("#")); !bytes.Equal(a, b) {
		t.Fatalf("the dimensions differ from the golden file%s", difference(a, b))
	}
	a, b := numbers.FindAll(want, -1), numbers.FindAll(got, -1)
	for i := range a {
		x, errX := strconv.ParseFloat(string(a[i]), 64)
		y, errY := strconv.ParseFloat(string(b[i]), 64)
		if errX != nil || errY != nil || math.Abs(x-y) > 1e-9 {
			t.Errorf("number %d is %s, want %s", i+1, b[i], a[i])
		}
	}
}
