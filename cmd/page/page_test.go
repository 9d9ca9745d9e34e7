package main

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"foredge/cmd/internal/browsertest"
	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/lang/foretest"
)

// built waits until the page has shown what became of its last text.
const built = `document.body.dataset.built`

// A page that is shown, what it asked for and what it said at its console.
type shownPage struct {
	*browsertest.Browser
	t      *testing.T
	server *httptest.Server

	mu        sync.Mutex
	asked     []string // of the server
	elsewhere []string // addresses of requests to any other
	said      []string
	workers   []string // their sessions
}

// show writes the page and opens it.
func show(t *testing.T) *shownPage {
	t.Helper()
	p := &shownPage{t: t}
	p.Browser = browsertest.Start(t, p.seen)
	folder := t.TempDir()
	foretest.Must(t, write(context.Background(), folder))
	p.server = httptest.NewServer(http.FileServer(http.Dir(folder)))
	t.Cleanup(p.server.Close)
	p.Call("Target.setAutoAttach", map[string]any{"autoAttach": true, "waitForDebuggerOnStart": false, "flatten": true}, nil)
	p.Size(1280, 900, "light")
	p.Call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": `globalThis.blobs = new Map();
		const make = URL.createObjectURL;
		URL.createObjectURL = (blob) => { const address = make.call(URL, blob); blobs.set(address, blob); return address; }`}, nil)
	p.Open(p.server.URL + "/")
	p.Until("the first drawing", built)
	p.mu.Lock()
	workers := slices.Clone(p.workers)
	p.mu.Unlock()
	if len(workers) != 1 {
		t.Fatalf("the page has %d workers", len(workers))
	}
	p.CallIn(workers[0], "Runtime.enable", nil, nil) // tells what was said before, too
	p.CallIn(workers[0], "Network.enable", nil, nil)
	return p
}

func (p *shownPage) seen(_, method string, params json.RawMessage) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch method {
	case "Runtime.exceptionThrown", "Runtime.consoleAPICalled", "Log.entryAdded":
		p.said = append(p.said, string(params))
	case "Network.requestWillBeSent":
		var r struct{ Request struct{ URL string } }
		foretest.Must(p.t, json.Unmarshal(params, &r))
		own := p.server != nil && strings.HasPrefix(r.Request.URL, p.server.URL)
		if !own && !strings.HasPrefix(r.Request.URL, "blob:") {
			p.elsewhere = append(p.elsewhere, r.Request.URL)
		}
	case "Target.attachedToTarget":
		var a struct {
			SessionID  string
			TargetInfo struct{ Type string }
		}
		foretest.Must(p.t, json.Unmarshal(params, &a))
		if a.TargetInfo.Type == "worker" {
			p.workers = append(p.workers, a.SessionID)
		}
	}
}

// choose has the page build a design and waits until it is shown.
func (p *shownPage) choose(name string) {
	p.t.Helper()
	p.after(fmt.Sprintf(`const list = document.getElementById("designs"); list.value = %q; list.dispatchEvent(new Event("change"))`, name))
}

// after waits for what a script has the page build.
func (p *shownPage) after(script string) {
	p.t.Helper()
	var before int
	p.Run(`Number(document.body.dataset.built)`, &before)
	p.Run("{"+script+"}", nil)
	p.Until("the design", fmt.Sprintf(`%s > %d`, built, before))
}

// offered gives what is in the files that the page offers, by their names.
func (p *shownPage) offered() (files map[string]string) {
	p.t.Helper()
	p.Run(`(async () => Object.fromEntries(await Promise.all([...document.querySelectorAll("#downloads a")].map(
		async (a) => [a.download, await blobs.get(a.href).text()]))))()`, &files)
	return files
}

// saved has the page save one of the files that it offers, and gives what is in it. A
// browser asks its person before it saves very many.
func (p *shownPage) saved(name string) string {
	p.t.Helper()
	folder := p.t.TempDir()
	p.CallIn("", "Browser.setDownloadBehavior", map[string]any{"behavior": "allow", "downloadPath": folder}, nil)
	p.Call("Runtime.evaluate", map[string]any{"userGesture": true, "expression": fmt.Sprintf(`document.querySelector('a[download=%q]').click()`, name)}, nil)
	for range 500 {
		if _, err := os.Stat(filepath.Join(folder, name)); err == nil {
			return foretest.Read(p.t, filepath.Join(folder, name))
		}
		time.Sleep(20 * time.Millisecond)
	}
	return ""
}

// text gives what an element shows.
func (p *shownPage) text(id string) (text string) {
	p.t.Helper()
	p.Run(fmt.Sprintf(`document.getElementById(%q).innerText`, id), &text)
	return text
}

// keep puts a picture of the page into the folder that FOREDGE_PICTURES names.
func (p *shownPage) keep(name string) {
	if folder := os.Getenv("FOREDGE_PICTURES"); folder != "" {
		foretest.Must(p.t, os.WriteFile(filepath.Join(folder, name+".png"), p.Picture(), 0o666))
	}
}

// silent checks that the page asked nobody but its server, and said nothing: a request to
// a server that is stopped is said, too.
func (p *shownPage) silent() {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, said := range p.said {
		p.t.Errorf("at the console: %s", said)
	}
	for _, address := range p.elsewhere {
		p.t.Errorf("a request to %s", address)
	}
}

// The page builds every example to the bytes that the command writes, with its server
// stopped once it is loaded.
func TestExamplesInChromium(t *testing.T) {
	p := show(t)
	p.server.Close()
	root := foretest.Root(t)
	designs, err := filepath.Glob(filepath.Join(root, "examples", "*.fore"))
	foretest.Must(t, err)
	compared := 0
	for _, design := range designs {
		name := filepath.Base(design)
		want := driver.NewSession(nil).Build(t.Context(), design, driver.Options{Encoders: export.CutFiles(export.Options{})})
		if want.Shared {
			continue
		}
		p.choose(name)
		got := p.offered()
		if len(got) != len(want.Files) || len(got) == 0 {
			t.Errorf("%s: %d files, want %d; %s %s", name, len(got), len(want.Files), p.text("state"), p.text("notes"))
		}
		for _, f := range want.Files {
			if got[filepath.Base(f.Path)] != string(f.Data) {
				t.Errorf("%s differs from what the command writes%s", filepath.Base(f.Path), foretest.Difference(f.Data, []byte(got[filepath.Base(f.Path)])))
			}
			compared++
		}
		if name == "gull-sketchbook.fore" {
			for _, f := range want.Files {
				if p.saved(filepath.Base(f.Path)) != string(f.Data) {
					t.Errorf("%s isn't saved as the command writes it", filepath.Base(f.Path))
				}
			}
		}
	}
	if compared < 40 {
		t.Errorf("only %d files were compared", compared)
	}
	p.silent()
}

// The page at two widths, light and dark: nothing sticks out sideways, and texts keep
// their contrast.
func TestPictures(t *testing.T) {
	p := show(t)
	for _, scheme := range []string{"light", "dark"} {
		for _, width := range []int{360, 1280} {
			p.Size(width, 900, scheme)
			for _, what := range []string{"right", "wrong"} {
				p.choose("harbour-log.fore")
				if what == "wrong" {
					p.after(typed("count = 24", "count = 24; wep = 4\n    pitch = 9,2") + typed("head = 40", "head = 190"))
				}
				var over int
				p.Run(`document.documentElement.scrollWidth - document.documentElement.clientWidth`, &over)
				if over > 0 {
					t.Errorf("%d px wide, the page is %d px wider than the window", width, over)
				}
				p.keep(fmt.Sprintf("%s-%d-%s", what, width, scheme))
				if what == "wrong" {
					p.after(`document.getElementById("restore").click()`)
				}
			}
		}
	}
	p.silent()
}

// typed is a script that types one text in place of another into the editor.
func typed(was, is string) string {
	return fmt.Sprintf(`{ const t = document.getElementById("text"); const at = t.value.indexOf(%[1]q);
		t.focus(); t.setSelectionRange(at, at + %[1]q.length); document.execCommand("insertText", false, %[2]q); }`, was, is)
}

// What is built for browsers passes the vetter.
func TestVetForBrowsers(t *testing.T) {
	foretest.Long(t, "compiles everything for browsers")
	cmd := exec.Command("go", "vet", "./cmd/page")
	cmd.Dir = foretest.Root(t)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	foretest.Output(t, cmd)
}
