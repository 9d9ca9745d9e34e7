//go:build !js

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"foredge/cmd/internal/browsertest"
	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/page"
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
	elsewhere []string // addresses of requests to any other
	said      []string
	workers   []string // their sessions
}

// show writes the page and opens it. undo names files that the server hands out as
// compressed by itself, for the browser to undo.
func show(t *testing.T, undo ...string) *shownPage {
	t.Helper()
	p := &shownPage{t: t}
	p.Browser = browsertest.Start(t, p.seen)
	folder := t.TempDir()
	foretest.Must(t, write(context.Background(), folder))
	files := http.FileServer(http.Dir(folder))
	p.server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if slices.Contains(undo, r.URL.Path) {
			w.Header().Set("Content-Encoding", "gzip")
		}
		files.ServeHTTP(w, r)
	}))
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
		if !own && !strings.HasPrefix(r.Request.URL, "blob:") && !strings.HasPrefix(r.Request.URL, "data:") { // those are in the page
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
	p.after(fmt.Sprintf(`const list = document.getElementById("designs"); list.value = %q; list.dispatchEvent(new Event("change"))`, "examples/"+name))
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

// What the page needs to start is as small as DEVELOPERS.md says: what isn't needed
// isn't linked.
func TestSize(t *testing.T) {
	foretest.Long(t, "builds the compiler for browsers")
	folder := t.TempDir()
	foretest.Must(t, write(t.Context(), folder))
	size := 0
	for name, text := range foretest.Contents(t, folder) {
		if name != "licences.txt" && name != "reference.txt" { // read only when they are opened
			size += len(text)
		}
	}
	const most = 10 << 20
	if size > most {
		t.Errorf("the page has %.1f MiB, want at most %.1f", float64(size)/(1<<20), float64(most)/(1<<20))
	}
	t.Logf("%.2f MiB", float64(size)/(1<<20))
}

// A folder of other files is left alone.
func TestOtherFolder(t *testing.T) {
	folder := t.TempDir()
	foretest.Write(t, filepath.Join(folder, "index.html"), "a page of gulls")
	if err := write(t.Context(), folder); err == nil || !strings.Contains(err.Error(), "other files") {
		t.Errorf("the error is %v", err)
	}
	if got := foretest.Contents(t, folder); len(got) != 1 || got["index.html"] != "a page of gulls" {
		t.Errorf("the folder holds %d files", len(got))
	}
}

// The page lets no script in it send anything to another server.
func TestNothingLeaves(t *testing.T) {
	var asked atomic.Int32
	other := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		asked.Add(1)
		w.Header().Set("Access-Control-Allow-Origin", "*")
	}))
	defer other.Close()
	p := show(t, "/compiler.gz")
	p.silent()
	var refused []bool
	p.Run(fmt.Sprintf(`(async () => {
		const address = %q;
		const image = new Promise((told) => { const i = new Image(); i.onload = () => told(false); i.onerror = () => told(true); i.src = address; });
		const fetched = fetch(address).then(() => false, () => true);
		navigator.sendBeacon(address, "text");
		const script = document.createElement("script");
		script.textContent = "globalThis.ran = true";
		document.body.append(script);
		return [await image, await fetched, globalThis.ran === undefined];
	})()`, other.URL), &refused)
	if !slices.Equal(refused, []bool{true, true, true}) || asked.Load() > 0 {
		t.Errorf("another server was asked %d times; refused were a picture, a request, a script in the page: %v", asked.Load(), refused)
	}
}

// open gives files, or a folder, to one of the page's inputs, and waits until what they
// hold is built.
func (p *shownPage) open(id string, paths ...string) {
	p.t.Helper()
	var input struct{ Result struct{ ObjectID string } }
	p.Call("Runtime.evaluate", map[string]any{"expression": fmt.Sprintf(`document.getElementById(%q)`, id)}, &input)
	p.Run(fmt.Sprintf(`document.getElementById(%q).value = ""`, id), nil) // as its button does
	var before int
	p.Run(`Number(document.body.dataset.built)`, &before)
	p.Call("DOM.setFileInputFiles", map[string]any{"objectId": input.Result.ObjectID, "files": paths}, nil)
	p.Until("the design", fmt.Sprintf(`%s > %d`, built, before))
}

// A person's own files are opened, built and shown beside the examples: a design with a
// picture of dots, and a file that it uses.
func TestOwnFiles(t *testing.T) {
	p := show(t)
	p.server.Close()
	folder := t.TempDir()
	root := foretest.Root(t)
	var picture bytes.Buffer
	gray := image.NewGray(image.Rect(0, 0, 8, 8))
	for i := range gray.Pix {
		gray.Pix[i] = uint8(i * 4)
	}
	foretest.Must(t, png.Encode(&picture, gray))
	text := strings.Replace(foretest.Read(t, filepath.Join(root, "examples", "harbour-log.fore")), `engrave text "Harbour Log" { font = "Go Bold"; fit = shrink }`, `engrave art "sea.png"`, 1)
	paths := []string{
		foretest.Write(t, filepath.Join(folder, "my-log.fore"), strings.ReplaceAll(text, "\n", "\r\n")),
		foretest.Write(t, filepath.Join(folder, "sea.png"), picture.String()),
		foretest.Write(t, filepath.Join(folder, "shop.fore"), foretest.Read(t, filepath.Join(root, "examples", "shop.fore"))),
	}
	want := driver.NewSession(nil).Build(t.Context(), paths[0], driver.Options{Encoders: export.CutFiles(export.Options{})})
	if len(want.Files) != 2 {
		t.Fatalf("the command makes %d files: %v", len(want.Files), want.Diagnostics)
	}
	p.open("files", paths...)
	got := p.offered()
	for _, f := range want.Files {
		if name := filepath.Base(f.Path); got[name] != string(f.Data) {
			t.Errorf("%s differs from what the command writes%s\n%s", name, foretest.Difference(f.Data, []byte(got[name])), p.text("notes"))
		}
	}
	var dots bool
	p.Run(`(() => { const i = document.querySelector(".scroll image"); return i !== null && i.getBoundingClientRect().width > 20 })()`, &dots)
	if !dots {
		t.Error("the picture of dots isn't shown")
	}
	p.Keep("own")
	p.silent()
}

// Of wrong designs the page is told what the command is told, to the letter: the
// compiler reads its files from memory as it reads those of a disk.
func TestWrongDesignsInChromium(t *testing.T) {
	p := show(t)
	folder := filepath.Join(t.TempDir(), "examples") // as the folder of the page is called
	foretest.Must(t, os.CopyFS(folder, os.DirFS(filepath.Join(foretest.Root(t), "testdata", "errors", "meaning"))))
	t.Chdir(folder)
	files := map[string][]byte{}
	var designs []string
	foretest.Must(t, filepath.WalkDir(".", func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if filepath.Ext(name) == disk.DesignExt && !strings.Contains(name, "/") && len(files)%3 == 0 {
			designs = append(designs, name)
		}
		files[name], err = os.ReadFile(name)
		return err
	}))
	given, err := json.Marshal(files)
	foretest.Must(t, err)
	asked, err := json.Marshal(designs)
	foretest.Must(t, err)
	var got map[string]page.Answer
	p.Run(fmt.Sprintf(`(async () => {
		const files = Object.entries(%s).map(([name, text]) => ({ name: "examples/" + name, bytes: Uint8Array.from(atob(text), (c) => c.charCodeAt(0)) }));
		const { Compiler } = await import("./compiler.js");
		globalThis.other = await Compiler.fetched(() => files, () => {});
		globalThis.answers = {};
		(async () => {
			for (const name of %s) answers[name] = (await other.ask({ build: name, folder: "examples" })).answer;
			answers.all = true;
		})();
	})()`, given, asked), nil)
	p.Until("all answers", `answers.all`)
	p.Run(`(delete answers.all, answers)`, &got)
	told := 0
	for _, name := range designs {
		want, _ := page.Build(t.Context(), driver.NewSession(nil), name)
		a, err := json.MarshalIndent(want, "", " ")
		foretest.Must(t, err)
		b, err := json.MarshalIndent(got[name], "", " ")
		foretest.Must(t, err)
		if !bytes.Equal(a, b) {
			t.Errorf("%s: the page is told otherwise than the command%s", name, foretest.Difference(a, b))
		}
		told += len(want.Notes)
	}
	if told < 100 {
		t.Errorf("only %d notes were compared", told)
	}
	p.silent()
}

// What is built for browsers passes the vetter.
func TestVetForBrowsers(t *testing.T) {
	foretest.Long(t, "compiles everything for browsers")
	cmd := exec.Command("go", "vet", "./cmd/page", "./cmd/internal/page", "./cmd/internal/driver", "./export")
	cmd.Dir = foretest.Root(t)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	foretest.Output(t, cmd)
}
