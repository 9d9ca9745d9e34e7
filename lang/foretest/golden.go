package foretest

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew; look at what has changed then")

// Update reports whether the test was run with -update, and so should write
// its golden files anew.
func Update() bool { return *update }

// Golden holds what a test got against a golden file, to the byte. With
// -update it writes the file first.
func Golden(t testing.TB, path string, got []byte) {
	t.Helper()
	if want := GoldenFile(t, path, got); !bytes.Equal(got, want) {
		t.Errorf("this differs from %s%s\nif it is right, run the test with -update and look at the file", path, Difference(want, got))
	}
}

// GoldenFile returns the content of a golden file, for tests that compare it by
// a rule of their own. With -update it writes the file first.
func GoldenFile(t testing.TB, path string, got []byte) []byte {
	t.Helper()
	if Update() {
		Must(t, os.MkdirAll(filepath.Dir(path), 0o777))
		Must(t, os.WriteFile(path, got, 0o666))
	}
	want, err := os.ReadFile(path)
	Must(t, err)
	return want
}

// Difference shows the first line in which two texts differ.
func Difference(want, got []byte) string {
	a, b := bytes.Split(want, []byte("\n")), bytes.Split(got, []byte("\n"))
	for i := range min(len(a), len(b)) {
		if !bytes.Equal(a[i], b[i]) {
			return " at line " + strconv.Itoa(i+1) + ":\n" + string(b[i]) + "\nwant\n" + string(a[i])
		}
	}
	return " in length: " + strconv.Itoa(len(b)) + " lines, want " + strconv.Itoa(len(a))
}
