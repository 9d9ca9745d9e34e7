package disk

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// A stream takes its place as a whole, leaves what is the same alone, and leaves
// nothing behind when it is given up.
func TestStream(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "list.csv")
	write := func(text []byte, commit bool) {
		t.Helper()
		s, err := Create(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		for len(text) > 0 {
			n := min(1000, len(text))
			fmt.Fprintf(s, "%s", text[:n])
			text = text[n:]
		}
		if commit {
			if err := s.Commit(); err != nil {
				t.Fatal(err)
			}
		}
	}
	read := func() string {
		data, _ := os.ReadFile(path)
		return string(data)
	}
	long := bytes.Repeat([]byte("0123456789abcdef"), 1<<14)
	write(long, false)
	if read() != "" {
		t.Error("what was given up is there")
	}
	write(long, true)
	if read() != string(long) {
		t.Fatal("it isn't what was written")
	}
	old := time.Now().Add(-time.Hour).Truncate(time.Second)
	if err := errors.Join(os.Chmod(path, 0o640), os.Chtimes(path, old, old)); err != nil {
		t.Fatal(err)
	}
	write(long, true)
	if info, _ := os.Stat(path); !info.ModTime().Equal(old) {
		t.Error("what was the same is written again")
	}
	for _, other := range [][]byte{long[:len(long)-1], append(bytes.Clone(long), '!'), append([]byte("!"), long[1:]...), nil} {
		write(other, true)
		if read() != string(other) {
			t.Errorf("%d bytes are there in place of %d", len(read()), len(other))
		}
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o640 {
		t.Errorf("it may be read as %v", info.Mode())
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 1 {
		t.Errorf("%v are left", entries)
	}
	// What can't take its place is told, and gone.
	taken := filepath.Join(dir, "taken")
	if s, err := Create(t.Context(), taken); err != nil {
		t.Error(err)
	} else {
		os.MkdirAll(filepath.Join(taken, "in"), 0o777)
		var told *Error
		if err := s.Commit(); !errors.As(err, &told) {
			t.Errorf("over a folder: %v", err)
		}
		os.RemoveAll(taken)
		if entries, _ := os.ReadDir(dir); len(entries) != 1 {
			t.Errorf("%v are left", entries)
		}
	}
	if _, err := Create(t.Context(), dir); err == nil {
		t.Error("a folder is written over")
	}
	if _, err := Create(t.Context(), filepath.Join(dir, "none", "x")); err == nil {
		t.Error("a file is made in a folder that isn't there")
	}
}
