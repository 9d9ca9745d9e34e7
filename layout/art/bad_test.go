package art_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/layout/art"
)

// Each broken or hostile file in testdata/bad gets the message that
// messages.txt expects of it, on its line, with what to do.
func TestBadFiles(t *testing.T) {
	table, err := os.ReadFile("testdata/bad/messages.txt")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	for line := range strings.Lines(string(table)) {
		name, message, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		want[name] = message
	}
	files, err := filepath.Glob("testdata/bad/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 30 || len(files) != len(want) {
		t.Errorf("%d files, %d messages", len(files), len(want))
	}
	for _, file := range files {
		name := filepath.Base(file)
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, err = art.Parse(name, data)
		bad, ok := err.(*art.Error)
		switch {
		case !ok:
			t.Errorf("%s: read without an error", name)
		case want[name] == "" || !strings.HasPrefix(err.Error(), name) || !strings.Contains(err.Error(), want[name]):
			t.Errorf("%s: got %q, want %q", name, err, want[name])
		case bad.Advice == "":
			t.Errorf("%s: nothing tells what to do about %q", name, err)
		}
	}
}
