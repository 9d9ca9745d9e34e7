package driver

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// A reader keeps no more than it may, and one file whatever its size.
func TestKept(t *testing.T) {
	var k kept
	half := make([]byte, mostKept/2)
	k.add("a", half)
	k.add("b", half)
	k.add("c", half[:1])
	for path, want := range map[string]bool{"a": false, "b": true, "c": true, "d": false} {
		if _, ok := k.find(path); ok != want {
			t.Errorf("%s is kept: %v", path, ok)
		}
	}
	k.add("d", make([]byte, mostKept+1))
	if _, ok := k.find("d"); !ok || len(k.files) != 1 || k.bytes != mostKept+1 {
		t.Errorf("%d files of %d bytes are kept", len(k.files), k.bytes)
	}
}

// A file that had to be let go is the same when it is read again, or that is an
// error: an order is not made of other files than it was checked with.
func TestReadAgain(t *testing.T) {
	dir := tree(t, "log.fore=let a = 3", "gull.svg=first")
	r, design, err := NewSession(nil).Open(filepath.Join(dir, "log.fore"))
	foretest.Must(t, err)
	for _, c := range []struct{ text, wrong string }{{"first", ""}, {"first", ""}, {"second", "has changed since"}} {
		foretest.Must(t, os.WriteFile(filepath.Join(dir, "gull.svg"), []byte(c.text), 0o666))
		r.kept = kept{}
		data, err := r.Read(design, "gull.svg")
		if c.wrong == "" && (err != nil || string(data) != c.text) || c.wrong != "" && (err == nil || !strings.Contains(err.Error(), c.wrong)) {
			t.Errorf("%s: %q, %v", c.text, data, err)
		}
	}
}
