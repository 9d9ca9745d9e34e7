package disk

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

func write(t *testing.T, path, text string) string {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestReadErrors(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "title.svg"), "x")
	write(t, filepath.Join(dir, "shop", "case.fore"), "x")
	write(t, filepath.Join(dir, "big.fore"), strings.Repeat("#", 2<<20))
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o666); err != nil {
		t.Skip("no pipes here:", err)
	}
	if err := os.Symlink("loop", filepath.Join(dir, "loop")); err != nil {
		t.Skip("no links here:", err)
	}
	for _, test := range []struct{ name, code, message, help string }{
		{"titel.svg", "missing-file", `there is no file "titel.svg"`, `did you mean "title.svg"?`},
		{"TITLE.SVG", "missing-file", `there is no file "TITLE.SVG"`, `did you mean "title.svg"?`},
		{"anchor.png", "missing-file", `there is no file "anchor.png"`, ""},
		{"shop/cases.fore", "missing-file", `there is no file "shop/cases.fore"`, `did you mean "shop/case.fore"?`},
		{"shopp/case.fore", "missing-file", `there is no file "shopp/case.fore": its folder isn't there either`, "check the path"},
		{"title.svg/a.fore", "missing-file", `there is no file "title.svg/a.fore": "title.svg" is a file, not a folder`, ""},
		{"shop", "folder", `"shop" is a folder, not a file`, "name a file in it, such as shop/case.fore"},
		{"pipe", "no-file", `"pipe" is not an ordinary file`, ""},
		{"loop", "unreadable", `"loop" can't be read: its links lead in a circle`, ""},
		{"big.fore", "too-large", `"big.fore" is 2.0 MiB, and a design may have at most 1.0 MiB`, "a design is a short text: is this the right file?"},
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

func TestReadWithoutPermission(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser may read everything")
	}
	path := write(t, filepath.Join(t.TempDir(), "secret.fore"), "x")
	if err := os.Chmod(path, 0); err != nil {
		t.Fatal(err)
	}
	_, state, err := Read(path, "secret.fore", MaxDesign)
	if err == nil || err.Error() != `"secret.fore" can't be read: you don't have permission` {
		t.Errorf("got %v", err)
	}
	if state != Look(path) {
		t.Error("the state differs from that of a look")
	}
}

func TestReadLimit(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "a"), "12345")
	if data, state, err := Read(path, "a", 5); err != nil || string(data) != "12345" || state != Look(path) || state != StateOf(data) {
		t.Errorf("a file of just the limit: %q, %v", data, err)
	}
	if _, _, err := Read(path, "a", 4); err == nil {
		t.Error("a file of one byte more than the limit was read")
	}
	if data, err := ReadStream(strings.NewReader("12345"), "standard input", 5); err != nil || string(data) != "12345" {
		t.Errorf("a stream of just the limit: %q, %v", data, err)
	}
	if _, err := ReadStream(strings.NewReader("123456"), "standard input", 5); err == nil {
		t.Error("a stream of one byte more than the limit was read")
	}
}

func TestLook(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.fore")
	if s := Look(path); s.Kind != Missing {
		t.Errorf("nothing there: %v", s.Kind)
	}
	empty := Look(dir)
	write(t, path, "")
	if s := Look(path); s.Kind != Plain || !s.Empty {
		t.Errorf("an empty file: %+v", s)
	}
	one := Look(dir)
	if one == empty || one.Kind != Folder {
		t.Error("a folder with a new design looks as before")
	}
	write(t, path, "panel")
	write(t, filepath.Join(dir, "a.svg"), "x")
	write(t, filepath.Join(dir, ".hidden.fore"), "x")
	if Look(dir) != one {
		t.Error("a folder with the same designs looks different")
	}
	if s := Look(path); s != StateOf([]byte("panel")) {
		t.Errorf("a file: %+v", s)
	}
}

func TestWriteSet(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "out", "deep", "a.svg"), filepath.Join(dir, "out", "a.dxf")
	set := []File{{a, []byte("one")}, {b, []byte("two")}}
	if err := WriteSet(t.Context(), set); err != nil {
		t.Fatal(err)
	}
	wantTree(t, dir, "out/a.dxf=two", "out/deep/a.svg=one")

	// The same again touches nothing; one new file leaves the other alone.
	old := time.Now().Add(-time.Hour).Truncate(time.Second)
	for _, p := range []string{a, b} {
		if err := os.Chtimes(p, old, old); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chmod(b, 0o640); err != nil {
		t.Fatal(err)
	}
	set[1].Data = []byte("three")
	if err := WriteSet(t.Context(), set); err != nil {
		t.Fatal(err)
	}
	wantTree(t, dir, "out/a.dxf=three", "out/deep/a.svg=one")
	if info, _ := os.Stat(a); !info.ModTime().Equal(old) {
		t.Error("a file of the same bytes was written again")
	}
	if info, _ := os.Stat(b); info.ModTime().Equal(old) || info.Mode().Perm() != 0o640 {
		t.Errorf("the new file has time %v and permissions %v", info.ModTime(), info.Mode().Perm())
	}
}

func TestWriteThroughLink(t *testing.T) {
	dir := t.TempDir()
	target := write(t, filepath.Join(dir, "real", "a.svg"), "old")
	link := filepath.Join(dir, "a.svg")
	if err := os.Symlink(target, link); err != nil {
		t.Skip("no links here:", err)
	}
	if err := WriteSet(t.Context(), []File{{link, []byte("new")}}); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link is a file now")
	}
	wantTree(t, dir, "a.svg=new", "real/a.svg=new")
}

// Whatever fails, at whichever file, the folder is as it was.
func TestWriteSetFailsWhole(t *testing.T) {
	for name, bad := range map[string]string{
		"a folder in the way": "folder",
		"a file in the way":   "b.dxf/c.svg",
		"a name too long":     strings.Repeat("x", 300) + ".svg",
		"a nearly long name":  strings.Repeat("x", 250) + ".svg", // too long for its temporary file
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			write(t, filepath.Join(dir, "a.svg"), "old")
			write(t, filepath.Join(dir, "b.dxf"), "old")
			write(t, filepath.Join(dir, "folder", "x"), "x")
			err := WriteSet(t.Context(), []File{
				{filepath.Join(dir, "a.svg"), []byte("new")},
				{filepath.Join(dir, "new", "b.svg"), []byte("new")},
				{filepath.Join(dir, bad), []byte("new")},
			})
			var e *Error
			if !errors.As(err, &e) || e.Code != "cannot-write" || !strings.Contains(e.Message, "can't be written") {
				t.Errorf("got %v", err)
			}
			wantTree(t, dir, "a.svg=old", "b.dxf=old", "folder/x=x")
			if _, err := os.Stat(filepath.Join(dir, "new")); err == nil {
				t.Error("a folder that was made for the set is still there")
			}
		})
	}
}

// A rename that fails late takes back those before it.
func TestCommitTakesBack(t *testing.T) {
	dir := t.TempDir()
	kept := write(t, filepath.Join(dir, "a.svg"), "old")
	write(t, filepath.Join(dir, "folder", "x"), "x")
	todo := []*pending{
		{target: kept, data: []byte("new"), had: true, old: []byte("old"), perm: 0o600},
		{target: filepath.Join(dir, "b.svg"), data: []byte("new")},
		{target: filepath.Join(dir, "folder"), data: []byte("new")}, // can't be replaced
	}
	for _, p := range todo {
		if err := p.writeTemp(p.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := commitAll(todo); err == nil {
		t.Error("a folder was replaced by a file")
	}
	os.Remove(todo[2].temp)
	wantTree(t, dir, "a.svg=old", "folder/x=x")
}

func TestWriteSetCancelled(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := WriteSet(ctx, []File{{filepath.Join(dir, "a.svg"), nil}}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	wantTree(t, dir)
}

func TestCheckSet(t *testing.T) {
	dir := t.TempDir()
	in := write(t, filepath.Join(dir, "art.svg"), "x")
	linked := filepath.Join(dir, "linked.svg")
	if err := os.Link(in, linked); err != nil {
		t.Skip("no hard links here:", err)
	}
	inputs := []Input{{Path: in}, {Path: filepath.Join(dir, "missing.fore")}}
	for _, test := range []struct {
		names []string
		code  string
	}{
		{[]string{"a.svg", "a.dxf", "missing.svg"}, ""},
		{[]string{"a.svg", "b.svg", "./a.svg"}, "same-output"},
		{[]string{"a-front.svg", "a-Front.svg"}, "same-output"},
		{[]string{"b.svg", "art.svg"}, "overwrites-input"},
		{[]string{"linked.svg"}, "overwrites-input"},
	} {
		var set []File
		for _, n := range test.names {
			set = append(set, File{Path: dir + "/" + n})
		}
		err := CheckSet(set, inputs)
		var e *Error
		if errors.As(err, &e); (err == nil) != (test.code == "") || err != nil && string(e.Code) != test.code {
			t.Errorf("%v: got %v, want %q", test.names, err, test.code)
		}
	}
}

// wantTree checks that a folder holds just the given files, as path=content.
func wantTree(t *testing.T, dir string, want ...string) {
	t.Helper()
	var got []string
	filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		rel, _ := filepath.Rel(dir, path)
		got = append(got, filepath.ToSlash(rel)+"="+string(data))
		return err
	})
	if !slices.Equal(got, want) {
		t.Errorf("files are %q, want %q", got, want)
	}
}

func BenchmarkWriteSet(b *testing.B) {
	dir := b.TempDir()
	for i := 0; b.Loop(); i++ {
		data := bytes.Repeat([]byte{byte(i)}, 20_000)
		err := WriteSet(b.Context(), []File{{filepath.Join(dir, "a.svg"), data}, {filepath.Join(dir, "a.dxf"), data}})
		if err != nil {
			b.Fatal(err)
		}
	}
}
