package serve_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"github.com/creachadair/jrpc2"
	"github.com/creachadair/jrpc2/channel"

	"foredge/cmd/internal/serve"
	"foredge/lang/foretest"
)

// An editor speaks with a server, over pipes.
type editor struct {
	t      *testing.T
	client *jrpc2.Client
	told   chan map[string]any // what the server publishes
	ended  chan error
}

// open starts a server and an editor that counts as given.
func open(t *testing.T, encodings ...string) *editor {
	toServer, fromEditor := io.Pipe()
	toEditor, fromServer := io.Pipe()
	e := &editor{t: t, told: make(chan map[string]any, 1000), ended: make(chan error, 1)}
	go func() {
		_, err := serve.Serve(context.Background(), toServer, fromServer, "test")
		e.ended <- err
	}()
	e.client = jrpc2.NewClient(channel.LSP(toEditor, fromEditor), &jrpc2.ClientOptions{OnNotify: func(r *jrpc2.Request) {
		var p map[string]any
		r.UnmarshalParams(&p)
		e.told <- p
	}})
	t.Cleanup(func() { e.client.Close() })
	e.ask("initialize", map[string]any{"capabilities": map[string]any{"general": map[string]any{"positionEncodings": encodings}}})
	e.say("initialized", map[string]any{})
	return e
}

func (e *editor) ask(method string, params any) any {
	e.t.Helper()
	var out any
	foretest.Must(e.t, e.client.CallResult(context.Background(), method, params, &out))
	return out
}

func (e *editor) say(method string, params any) {
	e.t.Helper()
	foretest.Must(e.t, e.client.Notify(context.Background(), method, params))
}

func uri(path string) string { return "file://" + filepath.ToSlash(path) }

// edit opens a text, and show waits for what is told of it.
func (e *editor) edit(path, text string) {
	e.say("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": uri(path), "languageId": "foredge", "version": 1, "text": text}})
}

func (e *editor) diagnostics(path string) []any {
	for p := range e.told {
		if p["uri"] == uri(path) {
			return p["diagnostics"].([]any)
		}
	}
	return nil
}

// place is where | stands in a piece of a text that stands there once.
func place(text, marked string) map[string]any {
	before, after, _ := strings.Cut(marked, "|")
	i := strings.Index(text, before+after) + len(before)
	return map[string]any{"line": strings.Count(text[:i], "\n"), "character": i - strings.LastIndexByte(text[:i], '\n') - 1}
}

func (e *editor) at(method, path, text, marked string, more ...any) any {
	e.t.Helper()
	p := map[string]any{"textDocument": map[string]any{"uri": uri(path)}, "position": place(text, marked)}
	for i := 0; i < len(more); i += 2 {
		p[more[i].(string)] = more[i+1]
	}
	return e.ask(method, p)
}

func show(v any) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.Encode(v)
	return b.String()
}

func example(t *testing.T, name string) (path, text string) {
	path = filepath.Join(foretest.Root(t), "examples", name)
	return path, foretest.Read(t, path)
}

func TestHarbourLog(t *testing.T) {
	path, text := example(t, "harbour-log.fore")
	e := open(t, "utf-8")
	e.edit(path, text)
	for _, d := range e.diagnostics(path) {
		if d.(map[string]any)["severity"] == 1.0 {
			t.Errorf("an error: %s", show(d))
		}
	}
	for _, c := range []struct{ method, marked, has string }{
		{"textDocument/hover", "|width    = 148.2", "log.width = 148.2 mm"},
		{"textDocument/hover", "panel |front covers", "148.2 mm by"},
		{"textDocument/hover", "corner |head-foredge", "null"},
		{"textDocument/definition", "mirrors |front", `"line":23`},
		{"textDocument/definition", "without |title", `"line":28`},
		{"textDocument/references", "panel |front covers", `"line":35`},
		{"textDocument/documentHighlight", "notebook |log", `"line":23`},
		{"textDocument/completion", "mirrors |front", `"label":"front"`},
		{"textDocument/completion", "|web   = 4.45", `"label":"inset"`},
		{"textDocument/completion", "|engrave text", `"label":"engrave"`},
		{"textDocument/prepareRename", "panel |front covers", `"line":23`},
	} {
		if got := show(e.at(c.method, path, text, c.marked)); !strings.Contains(got, c.has) {
			t.Errorf("%s at %s: %s, want %s", c.method, c.marked, got, c.has)
		}
	}
	t.Log(show(e.at("textDocument/hover", path, text, "|web   = 4.45")), show(e.at("textDocument/rename", path, text, "panel |front covers", "newName", "lid")),
		show(e.at("textDocument/inlayHint", path, text, "panel |front covers", "range", map[string]any{"start": map[string]any{"line": 0, "character": 0}, "end": map[string]any{"line": 99, "character": 0}})))
}
