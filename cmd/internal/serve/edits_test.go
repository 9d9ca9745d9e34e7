package serve_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/foretest"
)

// An edit puts a text in place of a stretch, by bytes.
type edit struct {
	from, to int
	text     string
}

// edits makes random ones, such as people make: letters, words, lines, taken out, doubled
// and put in.
func randomEdit(rnd *rand.Rand, text string) edit {
	whole := func(i int) int {
		for i > 0 && i < len(text) && !utf8.RuneStart(text[i]) {
			i--
		}
		return i
	}
	from := whole(rnd.IntN(len(text) + 1))
	switch rnd.IntN(4) {
	case 0:
		return edit{from, whole(min(len(text), from+rnd.IntN(6))), ""}
	case 1: // a line out
		start := strings.LastIndexByte(text[:from], '\n') + 1
		end := len(text)
		if i := strings.IndexByte(text[from:], '\n'); i >= 0 {
			end = from + i + 1
		}
		return edit{start, end, ""}
	case 2: // something from elsewhere
		other := whole(rnd.IntN(len(text) + 1))
		return edit{from, from, text[other:whole(min(len(text), other+rnd.IntN(30)))]}
	}
	return edit{from, from, []string{" ", "\n", "3", "}", "{", "=", "é", "🐦", "head", "# gull\n", ".", "\"", "row a on head { }\n"}[rnd.IntN(13)]}
}

// position is that of a byte offset, by characters.
func position(text string, at int) map[string]any {
	start := strings.LastIndexByte(text[:at], '\n') + 1
	return map[string]any{"line": strings.Count(text[:at], "\n"), "character": utf8.RuneCountInString(text[start:at])}
}

// told is what a checker tells of a text, in lines that can be compared.
func told(l diag.List, of string) []string {
	var out []string
	for _, d := range l {
		if d.Span.File != nil && d.Span.File.Name() != of {
			continue
		}
		line, column := 1, 1
		if d.Span.File != nil {
			at := d.Span.File.Position(d.Span.Start)
			line, column = at.Line, at.Column
		}
		out = append(out, fmt.Sprintf("%d:%d %s %s", line, column, d.Code, d.Message))
	}
	slices.Sort(out)
	return out
}

func served(all []any) []string {
	var out []string
	for _, d := range all {
		d := d.(map[string]any)
		at := d["range"].(map[string]any)["start"].(map[string]any)
		code, _ := d["code"].(string)
		out = append(out, fmt.Sprintf("%v:%v %s %s", at["line"].(float64)+1, at["character"].(float64)+1, code, d["message"]))
	}
	slices.Sort(out)
	return out
}

// After each of many random edits, told as stretches that change, the server tells what
// `foredge check` tells of the same text. Editors that go leave nothing running.
func TestEditsAsCheck(t *testing.T) {
	before := runtime.NumGoroutine()
	rnd := rand.New(rand.NewPCG(15, 2))
	var took []time.Duration
	for _, name := range []string{"harbour-log.fore", "coil-almanac.fore", "shop-range.fore", "watch-house.fore"} {
		path, text := example(t, name)
		first := text
		e := open(t, "utf-32")
		e.edit(path, text)
		e.versioned(path, 1)
		for version := 2; version < 2+foretest.Sample(250, 40); version++ {
			if len(text) < 100 || rnd.IntN(12) == 0 {
				// Back to a whole text, so that not all is broken for ever.
				e.change(path, version, map[string]any{"text": first})
				text = first
			} else {
				ed := randomEdit(rnd, text)
				e.change(path, version, map[string]any{"range": map[string]any{"start": position(text, ed.from), "end": position(text, ed.to)}, "text": ed.text})
				text = text[:ed.from] + ed.text + text[ed.to:]
			}
			began := time.Now()
			got := served(e.versioned(path, version))
			took = append(took, time.Since(began))
			s := driver.NewSession(nil)
			s.NameFromFolder() // as one who runs check there
			foretest.Must(t, s.SetText(path, []byte(text)))
			want := told(s.Check(context.Background(), path).Diagnostics, name)
			for i, line := range got { // notes without a place and hints follow the message
				if j := strings.IndexByte(line, '\n'); j >= 0 {
					got[i] = line[:j]
				}
			}
			if !slices.Equal(got, want) {
				t.Fatalf("%s, version %d: the server tells\n%s\ncheck tells\n%s\nof\n%s", name, version, strings.Join(got, "\n"), strings.Join(want, "\n"), text)
			}
		}
		e.leave()
	}
	slices.Sort(took)
	t.Logf("from a change to what is told of it: half within %v, 95 of 100 within %v", took[len(took)/2], took[len(took)*95/100])
	for range 100 {
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Errorf("%d goroutines, %d before", runtime.NumGoroutine(), before)
}

func (e *editor) change(path string, version int, change map[string]any) {
	e.t.Helper()
	e.say("textDocument/didChange", map[string]any{"textDocument": map[string]any{"uri": uri(path), "version": version}, "contentChanges": []any{change}})
}

// versioned waits for what is told of a version of a text.
func (e *editor) versioned(path string, version int) []any {
	for p := range e.told {
		if p["uri"] == uri(path) && p["version"] == float64(version) {
			return p["diagnostics"].([]any)
		}
	}
	return nil
}

// leave says goodbye as an editor does.
func (e *editor) leave() {
	e.t.Helper()
	e.ask("shutdown", nil)
	e.say("exit", nil)
	if err := <-e.ended; err != nil {
		e.t.Errorf("the server ended with %v", err)
	}
	e.client.Close()
}

// Texts with errors are answered elsewhere; one whose design is broken has its names
// all the same.
func TestAnswersBesideErrors(t *testing.T) {
	path := filepath.Join(t.TempDir(), "gull.fore")
	text := "let margin = 3\npanel front { width = 100; height = margin * 20; thick = 3 }\npanel back like front { hieght = 4 }\nregion {\n"
	e := open(t)
	e.edit(path, text)
	if n := len(e.diagnostics(path)); n < 2 {
		t.Errorf("%d diagnostics", n)
	}
	for method, has := range map[string]string{
		"textDocument/definition": `"line":0`, "textDocument/hover": "let margin = 3", "textDocument/references": `"line":1`,
	} {
		if got := show(e.at(method, path, text, "height = |margin")); !strings.Contains(got, has) {
			t.Errorf("%s: %s", method, got)
		}
	}
	e.leave()
}
