package driver

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"foredge/cmd/internal/disk"
	"foredge/lang/foretest"
)

// tree makes files in a new folder, each given as path=content, and returns
// the folder.
func tree(t *testing.T, files ...string) string {
	t.Helper()
	dir := t.TempDir()
	for _, f := range files {
		name, text, _ := strings.Cut(f, "=")
		foretest.Write(t, filepath.Join(dir, name), text)
	}
	return dir
}

func TestPaths(t *testing.T) {
	dir := tree(t, "above.fore=a", "shop/.git/HEAD=x", "shop/lib/bits.fore=b", "shop/jobs/log.fore=c",
		"shop/jobs/art/anchor.svg=d")
	links := map[string]string{
		"shop/jobs/out.fore":    "../../above.fore",
		"shop/jobs/in.fore":     "../lib/bits.fore",
		"shop/jobs/outside":     "../..",
		"shop/jobs/nowhere.svg": "gone.svg",
	}
	for name, to := range links {
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			foretest.Missing(t, "a disk with symbolic links ("+err.Error()+")")
		}
	}
	s := NewSession(strings.NewReader(""))
	design := filepath.Join(dir, "shop", "jobs", "log.fore")
	for _, test := range []struct{ name, text, message string }{
		{"art/anchor.svg", "d", ""},
		{"./art/../art/anchor.svg", "d", ""},
		{"../lib/bits.fore", "b", ""},
		{"in.fore", "b", ""},
		{"../../above.fore", "", `"../../above.fore" leads above the design's root folder "shop"`},
		{"../../shop/jobs/log.fore", "c", ""},
		{"out.fore", "", `"out.fore" is a link that leads out of the design's root folder "shop"`},
		{"outside/above.fore", "", `"outside/above.fore" is a link that leads out of the design's root folder "shop"`},
		{"/etc/hostname", "", `"/etc/hostname" is not below the design's folder: it starts at the top of the disk`},
		{`c:\art.svg`, "", `"c:\\art.svg" is not below the design's folder: it starts at the top of the disk`},
		{`art\anchor.svg`, "", `the folders in "art\\anchor.svg" are separated by \`},
		{"~/art.svg", "", `"~/art.svg" starts at a home folder`},
		{"http://x/y.svg", "", `"http://x/y.svg" is an address, and only files can be read`},
		{"", "", "no file is named"},
		{"a\x00b", "", `the file name "a\x00b" has a character in it that can't be seen`},
		{"art", "", "is a folder, not a file"},
		{"art/ankor.svg", "", `there is no file`},
		{"nowhere.svg", "", `there is no file`},
	} {
		r, file, err := s.Open(design)
		if err != nil {
			t.Fatal(err)
		}
		for how, read := range map[string]func() (string, error){
			"read": func() (string, error) { data, err := r.Read(file, test.name); return string(data), err },
			"use": func() (string, error) {
				f, err := r.Use(file, test.name)
				if err != nil {
					return "", err
				}
				return f.Text(), nil
			},
		} {
			text, err := read()
			if test.message == "" {
				if err != nil || text != test.text {
					t.Errorf("%s %q: got %q, %v; want %q", how, test.name, text, err, test.text)
				}
				continue
			}
			var e *disk.Error
			if !errors.As(err, &e) || !strings.Contains(e.Message, test.message) {
				t.Errorf("%s %q: got %q, %v\nwant %s", how, test.name, text, err, test.message)
			}
		}
		for _, in := range r.Inputs() {
			if in.State != disk.Look(in.Path) {
				t.Errorf("%q: a watcher would see a change of %s at once", test.name, in.Path)
			}
		}
	}
}

// Without a repository the root is the design's own folder.
func TestRootIsOwnFolder(t *testing.T) {
	dir := tree(t, "lib.fore=a", "jobs/log.fore=b")
	r, file, err := NewSession(nil).Open(filepath.Join(dir, "jobs", "log.fore"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(dir), ".git")); err == nil {
		foretest.Missing(t, "a folder for temporary files outside of any repository")
	}
	if _, err := r.Use(file, "../lib.fore"); err == nil || !strings.Contains(err.Error(), "above") {
		t.Errorf("got %v", err)
	}
}

func TestInputs(t *testing.T) {
	dir := tree(t, "log.fore=\ufeffuse", "lib/a.fore=a", "lib/b.fore=b", "lib/art.svg=c")
	r, file, err := NewSession(nil).Open(filepath.Join(dir, "log.fore"))
	if err != nil {
		t.Fatal(err)
	}
	a, err := r.Use(file, "lib/a.fore")
	if err != nil {
		t.Fatal(err)
	}
	if b, err := r.Use(a, "b.fore"); err != nil || b.Text() != "b" {
		t.Fatalf("b from a: %v", err)
	}
	again, err := r.Use(a, "../lib/./a.fore")
	if err != nil || again != a {
		t.Error("a file by another path is not the same file")
	}
	own, err := r.Use(a, "../log.fore")
	if err != nil || own != file {
		t.Error("the design itself, used, is not the same file")
	}
	if _, err := r.Read(a, "art.svg"); err != nil {
		t.Error(err)
	}
	if _, err := r.Read(a, "gone.svg"); err == nil {
		t.Error("a missing file was read")
	}
	if !strings.HasSuffix(filepath.ToSlash(a.Name()), "/lib/a.fore") {
		t.Errorf("a is called %q", a.Name())
	}
	var got []string
	for _, in := range r.Inputs() {
		rel, _ := filepath.Rel(dir, in.Path)
		got = append(got, filepath.ToSlash(rel))
		if in.State != disk.Look(in.Path) {
			t.Errorf("%s: recorded otherwise than it is", rel)
		}
	}
	if want := "lib/a.fore lib/art.svg lib/b.fore lib/gone.svg log.fore"; strings.Join(got, " ") != want {
		t.Errorf("inputs %v, want %s", got, want)
	}
}

func TestOpenMissing(t *testing.T) {
	dir := tree(t, "log.fore=x")
	r, _, err := NewSession(nil).Open(filepath.Join(dir, "lgo.fore"))
	var e *disk.Error
	if !errors.As(err, &e) || !strings.Contains(e.Hint, `log.fore`) {
		t.Errorf("got %v", err)
	}
	if in := r.Inputs(); len(in) != 1 || in[0].State.Kind != disk.Missing {
		t.Errorf("the file that was looked for is not among the inputs: %v", in)
	}
}

func TestUnsavedText(t *testing.T) {
	dir := tree(t, "log.fore=saved", "lib.fore=saved")
	s := NewSession(nil)
	log, lib, fresh := filepath.Join(dir, "log.fore"), filepath.Join(dir, "lib.fore"), filepath.Join(dir, "new.fore")
	for _, p := range []string{log, lib, fresh} {
		if err := s.SetText(p, []byte("unsaved")); err != nil {
			t.Fatal(err)
		}
	}
	check := func(want string) {
		t.Helper()
		r, file, err := s.Open(log)
		if err != nil || file.Text() != want {
			t.Fatalf("the design: %v, %v", file, err)
		}
		if f, err := r.Use(file, "lib.fore"); err != nil || f.Text() != want {
			t.Errorf("the used design: %v", err)
		}
	}
	check("unsaved")
	if r, file, err := s.Open(fresh); err != nil || file.Text() != "unsaved" {
		t.Errorf("a design that was never saved: %v, %v", r, err)
	}
	s.DropText(log)
	s.DropText(lib)
	check("saved")
}

func TestStdin(t *testing.T) {
	dir := tree(t, "lib.fore=b")
	t.Chdir(dir)
	s := NewSession(strings.NewReader("panel"))
	for range 2 { // it can be opened again, as a second command's file may be
		r, file, err := s.Open(Stdin)
		if err != nil || file.Text() != "panel" || file.Name() != "stdin" {
			t.Fatalf("got %v, %v", file, err)
		}
		if f, err := r.Use(file, "lib.fore"); err != nil || f.Text() != "b" || f.Name() != "lib.fore" {
			t.Errorf("use from standard input: %v", err)
		}
	}
	big := NewSession(strings.NewReader(strings.Repeat("#", disk.MaxDesign+1)))
	if _, _, err := big.Open(Stdin); err == nil {
		t.Error("too much on standard input was read")
	}
}

func TestNaming(t *testing.T) {
	for _, test := range []struct {
		naming               Naming
		design, suffix, want string
	}{
		{Naming{}, "shop/log.fore", "", "shop/log.svg"},
		{Naming{}, "shop/log.fore", "-front", "shop/log-front.svg"},
		{Naming{Folder: "out"}, "shop/log.fore", "", "out/log.svg"},
		{Naming{Folder: "out"}, "-", "", "out/stdin.svg"},
		{Naming{}, "-", "", "stdin.svg"},
		{Naming{}, "shop/log.txt", "", "shop/log.txt.svg"},
		{Naming{}, ".fore", "", ".fore.svg"},
	} {
		if got := filepath.ToSlash(test.naming.Path(test.design, test.suffix, ".svg")); got != test.want {
			t.Errorf("%+v %s: got %s, want %s", test.naming, test.design, got, test.want)
		}
	}
}

func TestGuard(t *testing.T) {
	if err := Guard("building log.fore", func() {}); err != nil {
		t.Error(err)
	}
	err := Guard("building log.fore", func() { panic("assignment to entry in nil map") })
	var e *InternalError
	if !errors.As(err, &e) || strings.Contains(err.Error(), "nil map") || !strings.Contains(err.Error(), "building log.fore") ||
		!strings.Contains(e.Trace, "TestGuard") {
		t.Errorf("got %v", err)
	}
}

// Without the folder that a command runs in no design can be found.
func TestOpenWithoutFolder(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("elsewhere a folder can't be removed while something runs in it, or is still found")
	}
	dir := t.TempDir()
	t.Chdir(dir)
	if err := os.Remove(dir); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"log.fore", Stdin} {
		_, _, err := NewSession(nil).Open(name)
		var e *disk.Error
		if !errors.As(err, &e) || e.Code != "missing-folder" {
			t.Errorf("%s: got %v", name, err)
		}
	}
}
