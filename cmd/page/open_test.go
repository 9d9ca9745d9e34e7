//go:build !js

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// A person's files are apart from the examples: neither are read for the other.
func TestApartFromExamples(t *testing.T) {
	p := show(t)
	folder := t.TempDir()
	root := foretest.Root(t)
	log := foretest.Write(t, filepath.Join(folder, "my-log.fore"), foretest.Read(t, filepath.Join(root, "examples", "harbour-log.fore")))
	before := p.offered()["harbour-log.svg"]
	p.open("files", log)
	p.wants("alone", "notes", `there is no file "shop.fore"`, "Open it, too")
	if n := len(p.offered()); n != 0 {
		t.Errorf("%d files are made of what isn't there", n)
	}
	shop := strings.Replace(foretest.Read(t, filepath.Join(root, "examples", "shop.fore")), "kerf", "kerb", 1)
	p.open("files", foretest.Write(t, filepath.Join(folder, "shop.fore"), shop))
	p.wants("with a shop of its own", "state", "my-log.fore")
	p.wants("with a shop of its own", "notes", "did you mean kerf?")
	p.choose("harbour-log.fore")
	if p.offered()["harbour-log.svg"] != before || before == "" {
		t.Errorf("the example is built with a person's shop: %s", p.text("notes"))
	}
	p.silent()
}

// A folder is opened with what lies in folders of it, and nothing that is hidden.
func TestOpenFolder(t *testing.T) {
	p := show(t)
	folder := filepath.Join(t.TempDir(), "tide")
	const design = "foredge 1\nuse \"parts/bench.fore\"\npanel cover { width = 100; height = 80; thick = 3 }\n"
	for name, text := range map[string]string{
		"tide.fore": design, "parts/bench.fore": "foredge 1\nlaser bench { kerf = 0.2 }\n",
		".git/old.fore": design, "tide.log": "none of a design's",
	} {
		writeAt(t, filepath.Join(folder, name), text)
	}
	p.open("folder", folder)
	p.wants("a folder", "state", "tide/tide.fore: no errors")
	if got := p.offered()["tide.svg"]; !strings.Contains(got, `width="100.2`) {
		t.Errorf("the kerf isn't that of the folder's bench: %.300s %s", got, p.text("notes"))
	}
	var listed string
	p.Run(`[...document.querySelectorAll("#designs optgroup:first-child option, #texts option")].map((o) => o.text).join(" ")`, &listed)
	if listed != "tide/tide tide/parts/bench tide/tide.fore tide/parts/bench.fore" {
		t.Errorf("listed are %q", listed)
	}
	p.silent()
}

// What isn't UTF-8 is told as the command tells it, and stays as it is.
func TestForeignText(t *testing.T) {
	p := show(t)
	folder := t.TempDir()
	p.open("files", foretest.Write(t, filepath.Join(folder, "gull.fore"), "foredge 1\npanel cover { width = 100; height = 80 } # M\xf6we\n"))
	p.wants("Latin-1", "state", "1 error")
	p.wants("Latin-1", "notes", "UTF-8", "encoding")
	var kept []bool
	p.Run(`[document.getElementById("text").readOnly, document.getElementById("lay-out").disabled]`, &kept)
	if len(kept) != 2 || !kept[0] || !kept[1] {
		t.Errorf("it can be edited: %v", kept)
	}
	var saved []int
	p.Run(`(async () => [...new Uint8Array(await blobs.get(document.getElementById("save").href).arrayBuffer())].filter((b) => b > 127))()`, &saved)
	if len(saved) != 1 || saved[0] != 0xf6 {
		t.Errorf("saved are %v", saved)
	}
	p.silent()
}

// A text that isn't saved is replaced by a file of its name only if a person says so.
func TestOpenOverUnsaved(t *testing.T) {
	p := show(t)
	folder := t.TempDir()
	const design = "foredge 1\nlaser bench { kerf = 0.2 }\npanel cover { width = 100; height = 80; thick = 3 }\n"
	gull := foretest.Write(t, filepath.Join(folder, "gull.fore"), design)
	p.open("files", gull)
	for _, answer := range []bool{false, true} {
		p.after(typed("width = 100", "width = 90"))
		p.Run(fmt.Sprintf(`globalThis.asked = []; globalThis.confirm = (what) => { asked.push(what); return %v; }`, answer), nil)
		p.open("files", gull)
		var asked []string
		p.Run(`asked`, &asked)
		var text string
		p.Run(`document.getElementById("text").value`, &text)
		want := strings.Replace(design, "100", "90", 1)
		if answer {
			want = design
		}
		if len(asked) != 1 || !strings.Contains(asked[0], "gull.fore") || text != want {
			t.Errorf("asked %q and told %v, it holds\n%s", asked, answer, text)
		}
		if !answer {
			p.after(`document.getElementById("restore").click()`)
		}
	}
	p.Run(`globalThis.asked = []`, nil)
	p.open("files", gull) // nothing is lost now
	var asked []string
	p.Run(`asked`, &asked)
	if len(asked) > 0 {
		t.Errorf("asked %q", asked)
	}
	p.silent()
}

// wants checks what an element shows.
func (p *shownPage) wants(what, id string, all ...string) {
	p.t.Helper()
	for _, want := range all {
		if got := p.text(id); !strings.Contains(got, want) {
			p.t.Errorf("%s: %s says %q, want %q", what, id, got, want)
		}
	}
}

// writeAt writes a file and the folders above it.
func writeAt(t *testing.T, path, text string) {
	t.Helper()
	foretest.Must(t, os.MkdirAll(filepath.Dir(path), 0o777))
	foretest.Write(t, path, text)
}
