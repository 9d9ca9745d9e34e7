package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// The hook of the editors' guide lets in what is staged if that is good, whatever lies in
// the folder, and whatever the files are called.
func TestPreCommitHook(t *testing.T) {
	r := newRepository(t)
	t.Setenv("TMPDIR", t.TempDir())
	guide := foretest.Read(t, filepath.Join(foretest.Root(t), "examples", "editors", "README.md"))
	_, hook, ok := strings.Cut(guide, "```sh\n")
	hook, _, closed := strings.Cut(hook, "```")
	if !ok || !closed || !strings.HasPrefix(hook, "#!/bin/sh\n") {
		t.Fatalf("the guide has no hook:\n%s", guide)
	}
	const good = "panel front { width = 100; height = 80; thick = 3 }\n"
	path := filepath.Join(r.dir, ".git", "hooks", "pre-commit")
	foretest.Must(t, os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, []byte(hook), 0o777))
	for _, c := range []struct {
		what   string
		change func()
		says   string // "" for what is let in
	}{
		{"names with a blank and an umlaut", func() {
			r.write("my möwe.fore", good)
			r.write("ruff.fore", "use \"covers/shop.fore\"\npanel front { width = 100; height = 80; stock = birch }\n")
			r.git("add", "-A")
		}, ""},
		{"staged right, since made wrong", func() {
			r.write("tern.fore", good)
			r.git("add", "-A")
			r.write("tern.fore", "panel {\n")
		}, ""},
		{"staged wrong, since put right", func() {
			r.write("tern.fore", strings.Replace(good, "height", "hieght", 1))
			r.git("add", "-A")
			r.write("tern.fore", good)
		}, "did you mean height?"},
		{"renamed and made wrong", func() {
			r.git("mv", "tern.fore", "knot.fore")
			r.write("knot.fore", strings.Replace(good, "width = 100", "width = 1OO", 1))
			r.git("add", "-A")
		}, "knot.fore:1"},
		{"laid out otherwise", func() { r.write("knot.fore", "let  a=3\n"); r.git("add", "-A") }, "knot.fore\n"},
		{"an ending in capitals", func() { r.write("UP.FORE", "let  a=3\n"); r.git("add", "-A") }, "UP.FORE\n"},
		{"a used file that spoils others", func() {
			shop := foretest.Read(t, filepath.Join(r.dir, "covers/shop.fore"))
			r.write("covers/shop.fore", strings.Replace(shop, "stock birch ", "stock brich ", 1))
			r.git("add", "-A")
		}, "ruff.fore:2"},
		{"a design that is gone", func() { r.git("rm", "-q", "covers/harbour-log.fore") }, ""},
	} {
		c.change()
		out, status := r.run("git", "commit", "-q", "-m", c.what)
		if (status == 0) != (c.says == "") || !strings.Contains(out, c.says) {
			t.Errorf("%s: git ends with %d\n%s", c.what, status, out)
		}
		if status != 0 {
			r.git("reset", "-q", "--hard")
		}
	}
	if left, err := os.ReadDir(os.Getenv("TMPDIR")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
}
