//go:build unix

package disk

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"foredge/lang/foretest"
)

func TestReadErrors(t *testing.T) {
	dir := t.TempDir()
	foretest.Write(t, filepath.Join(dir, "title.svg"), "x")
	foretest.Write(t, filepath.Join(dir, "shop", "case.fore"), "x")
	foretest.Write(t, filepath.Join(dir, "shop", "~$log.fore"), "x") // says who has log.fore open
	foretest.Write(t, filepath.Join(dir, "big.fore"), strings.Repeat("#", 2<<20))
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("loop", filepath.Join(dir, "loop")); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct{ name, code, message, help string }{
		{"titel.svg", "missing-file", `there is no file "titel.svg"`, `did you mean "title.svg"?`},
		{"TITLE.SVG", "missing-file", `there is no file "TITLE.SVG"`, `did you mean "title.svg"?`},
		{"TITLE.svg", "missing-file", `there is no file "TITLE.svg"`, `did you mean "title.svg"?`},
		{"title.png", "missing-file", `there is no file "title.png"`, `did you mean "title.svg"?`},
		{"gull.svg", "missing-file", `there is no file "gull.svg"`, ""},
		{"shop/log.fore", "missing-file", `there is no file "shop/log.fore"`, ""}, // far from case, but for the ending
		{"anchor.png", "missing-file", `there is no file "anchor.png"`, ""},
		{"shop/cases.fore", "missing-file", `there is no file "shop/cases.fore"`, `did you mean "shop/case.fore"?`},
		{"shopp/case.fore", "missing-file", `there is no file "shopp/case.fore": its folder isn't there either`, "check the path"},
		{"title.svg/a.fore", "missing-file", `there is no file "title.svg/a.fore": "title.svg" is a file, not a folder`, ""},
		{"shop", "folder", `"shop" is a folder, not a file`, "name a file in it, such as shop/case.fore"},
		{"pipe", "no-file", `"pipe" is not an ordinary file`, ""},
		{"loop", "unreadable", `"loop" can't be read: its links lead in a circle`, ""},
		{"big.fore", "file-too-large", `"big.fore" is 2.0 MiB, and a design may have at most 1.0 MiB`, "a design is a short text: is this the right file?"},
	} {
		path := filepath.Join(dir, test.name)
		data, state, err := Read(path, test.name, MaxDesign)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%s: got %d bytes and error %v, want a message", test.name, len(data), err)
			continue
		}
		if string(e.Code) != test.code || e.Error() != test.message || e.Help() != test.help {
			t.Errorf("%s:\n got %s: %s (%s)\nwant %s: %s (%s)", test.name, e.Code, e.Error(), e.Help(), test.code, test.message, test.help)
		}
		if looked := Look(path); looked != state {
			t.Errorf("%s: a watcher would see a change at once: read %v, looked %v", test.name, state.Kind, looked.Kind)
		}
	}
}

// Who has opened what a dead program left must not remove what another has put there since.
func TestAFileThatAnotherReplaced(t *testing.T) {
	path := filepath.Join(t.TempDir(), TempPrefix+atWork)
	left, err := os.Create(path)
	foretest.Must(t, err)
	defer left.Close()
	if !liesAt(left, path) {
		t.Error("the file isn't known at its own path")
	}
	foretest.Must(t, os.Remove(path))
	if liesAt(left, path) {
		t.Error("a file that was removed is known at its path")
	}
	other, err := os.Create(path)
	foretest.Must(t, err)
	defer other.Close()
	if liesAt(left, path) {
		t.Error("another file is taken for it")
	}
}
