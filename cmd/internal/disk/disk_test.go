package disk

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"foredge/lang/foretest"
)

func TestReadLimit(t *testing.T) {
	path := foretest.Write(t, filepath.Join(t.TempDir(), "a"), "12345")
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
	foretest.Write(t, path, "")
	if s := Look(path); s.Kind != Plain || !s.Empty {
		t.Errorf("an empty file: %+v", s)
	}
	one := Look(dir)
	if one == empty || one.Kind != Folder {
		t.Error("a folder with a new design looks as before")
	}
	foretest.Write(t, path, "panel")
	foretest.Write(t, filepath.Join(dir, "a.svg"), "x")
	foretest.Write(t, filepath.Join(dir, ".hidden.fore"), "x")
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
	if err := WriteSet(t.Context(), set, Rules{}); err != nil {
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
	if err := WriteSet(t.Context(), set, Rules{}); err != nil {
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
	target := foretest.Write(t, filepath.Join(dir, "real", "a.svg"), "old")
	link := filepath.Join(dir, "a.svg")
	if err := os.Symlink(target, link); err != nil {
		foretest.Missing(t, "a disk with symbolic links ("+err.Error()+")")
	}
	if err := WriteSet(t.Context(), []File{{link, []byte("new")}}, Rules{}); err != nil {
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
			foretest.Write(t, filepath.Join(dir, "a.svg"), "old")
			foretest.Write(t, filepath.Join(dir, "b.dxf"), "old")
			foretest.Write(t, filepath.Join(dir, "folder", "x"), "x")
			err := WriteSet(t.Context(), []File{
				{filepath.Join(dir, "a.svg"), []byte("new")},
				{filepath.Join(dir, "new", "b.svg"), []byte("new")},
				{filepath.Join(dir, bad), []byte("new")},
			}, Rules{})
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
	kept := foretest.Write(t, filepath.Join(dir, "a.svg"), "old")
	foretest.Write(t, filepath.Join(dir, "folder", "x"), "x")
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
	if err := WriteSet(ctx, []File{{filepath.Join(dir, "a.svg"), nil}}, Rules{}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	wantTree(t, dir)
}

func TestCheckSet(t *testing.T) {
	dir := t.TempDir()
	in := foretest.Write(t, filepath.Join(dir, "art.svg"), "x")
	linked := filepath.Join(dir, "linked.svg")
	if err := os.Link(in, linked); err != nil {
		foretest.Missing(t, "a disk with hard links ("+err.Error()+")")
	}
	inputs := []Input{{Path: in}, {Path: filepath.Join(dir, "missing.fore")}}
	for _, test := range []struct {
		names []string
		code  string
	}{
		{[]string{"a.svg", "a.dxf", "missing.svg"}, ""},
		{[]string{"a.svg", "b.svg", "./a.svg"}, "same-output"},
		{[]string{"a-front.svg", "a-Front.svg"}, "same-output"},
		{[]string{"caf\u00e9.svg", "cafe\u0301.svg"}, "same-output"},
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

// Of several sets those have an error whose file it is, and no others.
func TestCheckSets(t *testing.T) {
	dir := t.TempDir()
	in := foretest.Write(t, filepath.Join(dir, "art.svg"), "x")
	set := func(names ...string) (files []File) {
		for _, n := range names {
			files = append(files, File{Path: dir + "/" + n})
		}
		return files
	}
	errs := CheckSets([][]File{set("a.svg", "a.dxf"), set("b.svg"), set("art.svg"), set("c.svg", "A.dxf"), nil}, []Input{{Path: in}})
	var codes []string
	for _, err := range errs {
		code := ""
		if e := (*Error)(nil); errors.As(err, &e) {
			code = string(e.Code)
		}
		codes = append(codes, code)
	}
	if want := []string{"same-output", "", "overwrites-input", "same-output", ""}; !slices.Equal(codes, want) {
		t.Errorf("the sets have %q, want %q", codes, want)
	}
}

// What editors and offices use for their own ends is no design.
func TestDesigns(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"gull.fore", "~$gull.fore", ".#gull.fore", ".gull.fore", "~gull.fore", "gull.svg"} {
		foretest.Write(t, filepath.Join(dir, name), "x")
	}
	foretest.Must(t, os.Mkdir(filepath.Join(dir, "tern.fore"), 0o777))
	if names, err := Designs(dir); err != nil || !slices.Equal(names, []string{"gull.fore", "~gull.fore"}) {
		t.Errorf("designs are %q (%v)", names, err)
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
		err := WriteSet(b.Context(), []File{{filepath.Join(dir, "a.svg"), data}, {filepath.Join(dir, "a.dxf"), data}}, Rules{})
		if err != nil {
			b.Fatal(err)
		}
	}
}
