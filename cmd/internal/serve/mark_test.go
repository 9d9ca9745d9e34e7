package serve_test

import (
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// A byte-order mark that an editor sends is part of the text by which it counts.
func TestByteOrderMark(t *testing.T) {
	for _, c := range []struct {
		encoding string
		mark     int
	}{{"utf-16", 1}, {"utf-32", 1}, {"utf-8", 3}} {
		t.Run(c.encoding, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "gull.fore")
			e := open(t, c.encoding)
			e.edit(path, "\ufeffpanel a { widht = 10 }\npanel b { height = 3 }\n")
			told := show(e.diagnostics(path))
			if want := show(map[string]any{"line": 0, "character": c.mark + 10}); !strings.Contains(told, strings.TrimSpace(want)) {
				t.Errorf("told of %s, not at %s", told, want)
			}
			replace := func(version, line, from, to int, text string) {
				e.change(path, version, map[string]any{"text": text, "range": map[string]any{
					"start": map[string]any{"line": line, "character": from}, "end": map[string]any{"line": line, "character": to}}})
			}
			symbols := func() string {
				return show(e.ask("textDocument/documentSymbol", map[string]any{"textDocument": map[string]any{"uri": uri(path)}}))
			}
			replace(2, 0, c.mark+10, c.mark+15, "width")
			if told := show(e.versioned(path, 2)); strings.Contains(told, "unknown") {
				t.Errorf("after the change: %s", told)
			}
			replace(3, 1, 6, 7, "tern")          // the mark is in the first line alone
			replace(4, 0, 0, c.mark+5, "region") // and may be taken out
			if got := symbols(); !strings.Contains(got, "tern") || !strings.Contains(got, `"character":7`) || !strings.Contains(got, "region") {
				t.Errorf("the things are %s", got)
			}
			e.leave()
		})
	}
}

// The mark of a file on the disk, which no editor has sent, isn't counted.
func TestByteOrderMarkOnDisk(t *testing.T) {
	dir := t.TempDir()
	foretest.Write(t, filepath.Join(dir, "lib.fore"), "\ufefflet gull = 100\n")
	path, text := filepath.Join(dir, "a.fore"), "use \"lib.fore\"\npanel a { width = gull; height = 10; thick = 3 }\n"
	e := open(t)
	e.edit(path, text)
	if got := show(e.at("textDocument/definition", path, text, "width = |gull")); !strings.Contains(got, `"start":{"character":4,"line":0}`) {
		t.Errorf("it is said to be at %s", got)
	}
	e.leave()
}
