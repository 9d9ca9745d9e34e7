package foretest

import (
	"os"
	"path/filepath"
	"testing"
)

// Must ends the test at the first error.
func Must(t testing.TB, errs ...error) {
	t.Helper()
	for _, err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
}

// Read returns the text of a file.
func Read(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	Must(t, err)
	return string(data)
}

// Write writes a file, and the folders that it lies in. It returns the path.
func Write(t testing.TB, path, text string) string {
	t.Helper()
	Must(t, os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, []byte(text), 0o666))
	return path
}

// Contents returns the files of a folder by their names; none if it isn't
// there.
func Contents(t testing.TB, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if !os.IsNotExist(err) {
		Must(t, err)
	}
	all := map[string]string{}
	for _, e := range entries {
		if !e.IsDir() {
			all[e.Name()] = Read(t, filepath.Join(dir, e.Name()))
		}
	}
	return all
}

// Root is the folder of the repository, above the one that the test runs in.
func Root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	Must(t, err)
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		above := filepath.Dir(dir)
		if above == dir {
			t.Fatal("the test doesn't run inside the repository")
		}
		dir = above
	}
}

// Corpus returns the text of a design of testdata/corpus, named without
// ".fore".
func Corpus(t testing.TB, name string) string {
	t.Helper()
	return Read(t, filepath.Join(Root(t), "testdata", "corpus", name+".fore"))
}
