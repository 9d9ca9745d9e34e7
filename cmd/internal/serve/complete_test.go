package serve_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// What is offered in quotes takes the place of what stands between them, and nothing else
// is offered there.
func TestCompletion(t *testing.T) {
	dir := t.TempDir()
	foretest.Must(t, os.MkdirAll(filepath.Join(dir, "covers", "parts"), 0o777))
	for _, name := range []string{"shop.fore", "orders.csv", "gull.svg", "covers/tide.fore", "covers/parts/bench.fore", "covers/parts/note.txt", "covers/.tern.fore"} {
		foretest.Write(t, filepath.Join(dir, filepath.FromSlash(name)), "")
	}
	path := filepath.Join(dir, "covers", "log.fore")
	const panel = "notebook log { width = 100; height = 150; accuracy = 0.1; row wire on spine { count = 5; hole = round 4; pitch = 20; inset = 5 } }\n" +
		"panel front covers log { thick = 3; region title { head = 5; height = 20; spine = 20; foredge = 5 } }\npanel back like front {\n"
	for _, c := range []struct {
		name, text string // the place is |
		want       []string
		not        []string
		only       bool
		becomes    string // the line, by the last of want
	}{
		{"a folder above", `use "../|"`, []string{"../covers/", "../shop.fore"}, nil, true, `use "../shop.fore"`},
		{"within a name", `use "../sh|"`, []string{"../covers/", "../shop.fore"}, nil, true, `use "../shop.fore"`},
		{"a folder below", `use "parts/|"`, []string{"parts/bench.fore"}, nil, true, `use "parts/bench.fore"`},
		{"beside, not itself", `use "|"`, []string{"parts/", "tide.fore"}, nil, true, `use "tide.fore"`},
		{"without quotes", `use |`, []string{"bindings", `"tide.fore"`}, []string{`"log.fore"`}, false, ""},
		{"not closed", `use "..|`, []string{"parts/", "tide.fore"}, nil, true, `use "tide.fore`},
		{"above the root", `use "/|"`, nil, nil, true, ""},
		{"a job", `job day { |`, []string{"make"}, nil, true, ""},
		{"a job on several lines", "job day {\n  make \"tide.fore\"\n  ma|\n}", []string{"make"}, nil, true, ""},
		{"what a job makes", `job day { make |`, []string{`"tide.fore"`}, []string{`"log.fore"`, "width"}, false, ""},
		{"what a job makes, in quotes", `job day { make "parts/|" }`, []string{"parts/bench.fore"}, nil, true, `job day { make "parts/bench.fore" }`},
		{"how often", `job day { make "tide.fore" { | } }`, []string{"copies"}, nil, true, ""},
		{"a number of copies", `job day { make "tide.fore" { copies = | } }`, nil, nil, true, ""},
		{"behind a design", `job day { make "tide.fore" | }`, nil, nil, true, ""},
		{"behind a job", "job day { make \"tide.fore\" }\n|", []string{"panel", "stock", "job"}, []string{"make", "copies"}, false, ""},
		{"a table", `orders "../|" { name = text }`, []string{"../covers/", "../orders.csv"}, nil, true, `orders "../orders.csv" { name = text }`},
		{"a drawing", panel + `region r { width = 9; engrave art "../|"`, []string{"../covers/", "../gull.svg"}, nil, true, `region r { width = 9; engrave art "../gull.svg"`},
		{"what may be left out", panel + `without |`, []string{"wire", "title"}, []string{"width", "front"}, true, ""},
		{"a font in quotes", panel + `region r { engrave text "Gull" { font = "Go |" } }`, []string{"Go Bold"}, []string{"width", `"Go Bold"`}, false, `region r { engrave text "Gull" { font = "Go Bold" } }`},
		{"a font", panel + `region r { engrave text "Gull" { font = | } }`, []string{`"Go Bold"`, "stroke"}, []string{"width"}, false, ""},
		{"how a stock is cut", `stock ply { kn|`, []string{"knife", "shared-cuts", "bridge", "bridge-below"}, nil, false, ""},
		{"whether it is", `stock ply { shared-cuts = |`, []string{"yes", "no"}, []string{"max"}, false, ""},
		{"a corner of an offcut", `stock ply { offcuts = 310 by 200 less 80 by 60 at |`, []string{"head-left", "head-right", "tail-left", "tail-right"}, []string{"mm"}, false, ""},
		{"the text of a check", panel + `check width >= 5 else "|"`, nil, nil, true, ""},
		{"a text", panel + `region r { engrave text "w|" }`, nil, nil, true, ""},
		{"behind a text", panel + `region r { engrave text "w" { ca|`, []string{"engrave"}, nil, false, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			before, after, _ := strings.Cut(c.text, "|")
			text := before + after + "\n"
			e := open(t, "utf-8")
			defer e.leave()
			e.edit(path, text)
			line := before[strings.LastIndexByte(before, '\n')+1:]
			at := map[string]any{"line": strings.Count(before, "\n"), "character": len(line)}
			answer := e.ask("textDocument/completion", map[string]any{"textDocument": map[string]any{"uri": uri(path)}, "position": at})
			var got []string
			written := ""
			for _, item := range answer.([]any) {
				item := item.(map[string]any)
				got = append(got, item["label"].(string))
				if edit, ok := item["textEdit"]; ok && len(c.want) > 0 && item["label"] == c.want[len(c.want)-1] {
					whole := apply(t, text, []any{edit})
					written = strings.Split(whole, "\n")[strings.Count(before, "\n")]
				}
			}
			for _, w := range c.want {
				if !slices.Contains(got, w) {
					t.Errorf("%q is not among %q", w, got)
				}
			}
			for _, w := range c.not {
				if slices.Contains(got, w) {
					t.Errorf("%q is among %q", w, got)
				}
			}
			if c.only && len(got) != len(c.want) || written != c.becomes {
				t.Errorf("offered are %q, which makes %q", got, written)
			}
		})
	}
}
