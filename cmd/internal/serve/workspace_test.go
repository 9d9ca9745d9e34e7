package serve_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// openIn starts a server and an editor that has a folder open.
func openIn(t *testing.T, folder string) *editor {
	e := open(t, "utf-8")
	e.say("workspace/didChangeWorkspaceFolders", map[string]any{"event": map[string]any{"added": []any{map[string]any{"uri": uri(folder), "name": "bench"}}, "removed": []any{}}})
	return e
}

const (
	shopText = "laser bench { kerf = 0.2; bed = 600 by 400 }\npattern twin-loop-3 { pitch = 10; hole = round 5 }\n"
	tideText = "use \"../shop.fore\"\nuse bindings\npanel a { width = 100; height = 120; thick = 3; row wire on spine like twin-loop-3 { inset = 5; count = 9 } }\n"
)

// A name is looked for and changed in all designs of the folders that are open, in those
// that aren't open and in texts that aren't saved.
func TestWorkspace(t *testing.T) {
	dir := t.TempDir()
	shop, tide, gull := filepath.Join(dir, "shop.fore"), filepath.Join(dir, "tides", "tide.fore"), filepath.Join(dir, "gull.fore")
	foretest.Must(t, os.MkdirAll(filepath.Join(dir, ".git"), 0o777), os.Mkdir(filepath.Join(dir, "tides"), 0o777))
	foretest.Write(t, shop, shopText)
	foretest.Write(t, tide, tideText)
	foretest.Write(t, filepath.Join(dir, ".git", "gull.fore"), tideText)
	e := openIn(t, dir)
	defer e.leave()
	e.edit(shop, shopText)
	e.diagnostics(shop)
	e.edit(gull, strings.Replace(tideText, "../", "", 1)) // was never saved
	e.diagnostics(gull)

	got := e.at("textDocument/references", shop, shopText, "pattern |twin-loop-3", "context", map[string]any{"includeDeclaration": true})
	if n := len(got.([]any)); n != 3 {
		t.Errorf("%d references: %s", n, show(got))
	}
	if got := e.at("textDocument/references", shop, shopText, "pattern |twin-loop-3", "context", map[string]any{"includeDeclaration": false}); len(got.([]any)) != 2 {
		t.Errorf("without the declaration: %s", show(got))
	}
	for from, text := range map[string]string{shop: shopText, gull: strings.Replace(tideText, "../", "", 1)} {
		edits := e.at("textDocument/rename", from, text, "|twin-loop-3", "newName", "loops").(map[string]any)["changes"].(map[string]any)
		if len(edits) != 3 || edits[uri(shop)] == nil || edits[uri(tide)] == nil || edits[uri(gull)] == nil {
			t.Errorf("from %s: %s", from, show(edits))
		}
	}
	// Where the shelf's pattern would come in its place, a design keeps it from being given.
	foretest.Write(t, tide, strings.Replace(tideText, "row wire", "row other on head like twin-loop-2 { inset = 5; count = 3 } row wire", 1))
	p := map[string]any{"textDocument": map[string]any{"uri": uri(shop)}, "position": place(shopText, "pattern |twin-loop-3"), "newName": "twin-loop-2"}
	if err := e.client.CallResult(t.Context(), "textDocument/rename", p, nil); err == nil || !strings.Contains(err.Error(), "tide.fore") {
		t.Errorf("it is refused with %v", err)
	}
}

// What was wrong in a used file is told until it is mended, in an editor too that doesn't
// tell of files which others change; and it is named as the design does.
func TestStaleFiles(t *testing.T) {
	dir := t.TempDir()
	shop, tide := filepath.Join(dir, "shop.fore"), filepath.Join(dir, "tide.fore")
	text := strings.Replace(tideText, "../", "", 1)
	e := open(t, "utf-8")
	defer e.leave()
	e.edit(tide, text)
	if got := show(e.diagnostics(tide)); !strings.Contains(got, `\"shop.fore\"`) || strings.Contains(got, dir) {
		t.Errorf("a missing file: %s", got)
	}
	for _, c := range []struct{ kerf, has string }{{"-1", "kerf"}, {"0.2", ""}} {
		foretest.Write(t, shop, strings.Replace(shopText, "0.2", c.kerf, 1))
		e.say("textDocument/didSave", map[string]any{"textDocument": map[string]any{"uri": uri(tide)}})
		told := ""
		for p := range e.told {
			if all := p["diagnostics"].([]any); p["uri"] == uri(shop) && len(all) > 0 {
				told = show(all)
			} else if p["uri"] != uri(tide) && p["uri"] != uri(shop) {
				continue
			}
			if p["uri"] == uri(tide) == (c.has == "") || told != "" {
				break
			}
		}
		if !strings.Contains(told, c.has) || (told == "") != (c.has == "") {
			t.Errorf("with kerf %s: %s", c.kerf, told)
		}
	}
}

// A hover shows how far readings leave a value open as it is shown elsewhere.
func TestHoverShowsWithin(t *testing.T) {
	path, text := example(t, "harbour-log.fore")
	e := open(t, "utf-8")
	defer e.leave()
	e.edit(path, text)
	if got := show(e.at("textDocument/hover", path, text, "|width    = 148.2")); !strings.Contains(got, "log.width = 148.2 mm ± 0.0") || strings.Contains(got, "(u ") {
		t.Errorf("hover: %s", got)
	}
}
