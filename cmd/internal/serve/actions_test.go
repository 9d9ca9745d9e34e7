package serve_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/lang/source"
)

// apply makes the edits of an action in a text.
func apply(t *testing.T, text string, edits []any) string {
	t.Helper()
	f := source.New("", []byte(text))
	for _, e := range edits {
		e := e.(map[string]any)
		at := func(which string) int {
			p := e["range"].(map[string]any)[which].(map[string]any)
			_, start := f.Line(int(p["line"].(float64)) + 1)
			if int(p["line"].(float64)) >= f.LineNumber(len(text)) && p["character"] == 0.0 && start == 0 {
				return len(text)
			}
			return start + int(p["character"].(float64))
		}
		text = text[:at("start")] + e["newText"].(string) + text[at("end"):]
	}
	return text
}

// panelOf is a panel with some lines in a region of it, and read a notebook with some
// readings of its row.
func panelOf(lines string) string {
	return "panel front { width = 100; height = 50; thick = 3; region r { head = 5; height = 20; spine = 5; foredge = 5; " + lines + " } }\n"
}

func read(readings string) string {
	return "notebook log { accuracy = 0.05; width = 148.2; height = 212; row wire on spine { inset = 4; " + readings + "; pitch = 8.474; run = 194.9 } }\npanel front covers log { thick = 3 }\n"
}

// Each hint that names what to write offers it: the title, and the text that comes of it.
// What is then told no longer has the code.
func TestCodeActions(t *testing.T) {
	const row = "row w on spine { count = 5; hole = round 3; pitch = 8; inset = 4 }"
	for _, c := range []struct {
		name, code, text string
		want             [][2]string // titles and pieces of the texts
	}{
		{"did you mean", "unknown-name", "panel front { width = 100; hieght = 50; thick = 3 }\n", [][2]string{{"write height for hieght", "height = 50"}}},
		{"a name of the maker's", "unknown-name", "let kerfs = 3\npanel front { width = 100 + kerff; height = 50; thick = 3 }\n", [][2]string{{"write kerfs for kerff", "100 + kerfs;"}}},
		{"a decimal comma", "number", "panel front { width = 105,1; height = 50; thick = 3 }\n",
			[][2]string{{"write 105.1 for 105,1", "width = 105.1;"}, {"write 105, 1 for 105,1", "width = 105, 1;"}}},
		{"a comma of thousands", "number", "panel front { width = 1,250; height = 50; thick = 3 }\n",
			[][2]string{{"write 1.250 for 1,250", "= 1.250;"}, {"write 1250 for 1,250", "= 1250;"}, {"write 1, 250 for 1,250", "= 1, 250;"}}},
		{"a unit", "unknown-unit", "panel front { width = 105 millimetres; height = 50; thick = 3 }\n", [][2]string{{"write mm for millimetres", "105 mm;"}}},
		{"a sign of others", "character", "panel front { width == 105; height = 50; thick = 3 }\n", [][2]string{{"write = for ==", "width = 105;"}}},
		{"a typeset sign", "character", "panel front { width = 105 × 2; height = 50; thick = 3 }\n", [][2]string{{"write * for ×", "105 * 2;"}}},
		{"a pattern of the shelf", "unknown-name", "foredge 1\nunits mm\n\npanel front { width = 100; height = 200; thick = 3; row w on spine like twin-loop-3 { inset = 4 } }\n",
			[][2]string{{"write use bindings at the top", "units mm\nuse bindings\n\npanel"}}},
		{"a material of the shelf", "unknown-name", "stock s { material = birch-ply; thick = 3 }\npanel front { width = 100; height = 50; stock = s }\n",
			[][2]string{{"write use materials at the top", "use materials\nstock s"}}},
		{"a size that hides the shelf's", "like-cycle", "notebook a5 like a5 { thick = 3 }\npanel front { width = 100; height = 50; thick = 3 }\n",
			[][2]string{{"write use papers at the top", "use papers\nnotebook"}}},
		{"an implied count", "implied-count", "notebook log {\n  accuracy = 0.05; width = 105.2; height = 148.3\n  row wire on spine { hole = rect 4 by 4; first = 5; pitch = 8.4; run = 92.4; inset = 4 }\n}\npanel front covers log { thick = 3 }\n",
			[][2]string{{"write count = 12 in row wire", "inset = 4; count = 12 }"}}},
		{"what is open", "open", "panel front {\n  width = 100\n  thick = 3\n}\n", [][2]string{{"begin a line that states height in panel front", "  thick = 3\n  height =\n}"}}},
		{"what is open in a row", "open", "panel front { width = 100; height = 90; thick = 3; " + strings.Replace(row, "; inset = 4", "", 1) + " }\n",
			[][2]string{{"begin a line that states inset in row w", "pitch = 8; inset =  }"}}},
		{"what is open without braces", "open", "panel front { width = 100; height = 90; thick = 3\n  region title }\n", [][2]string{{"begin a line that states height in region title", "region title { height =  }"}, {"begin a line that states width in region title", "region title { width =  }"}}},
		{"one of a list", "not-listed", "orders \"orders.csv\" { motif = one of \"gull\", \"tern\" }\npanel front { width = 100; height = 50; thick = 3\n region a when order.motif = \"gul\" { width = 10; height = 10; mark frame } }\n",
			[][2]string{{`write "gull" for "gul"`, `= "gull" {`}}},
		{"a word of another trade", "unknown-name", "panel front { width = 100; height = 50; thickness = 3 }\n", [][2]string{{"write thick for thickness", " thick = 3"}}},
		{"curly quotes", "character", panelOf("engrave text “Gull”"), [][2]string{{"write \"Gull\" for “Gull”", "text \"Gull\" }"}}},
		{"one curly quote", "character", panelOf("engrave text “Gull"), [][2]string{{"write \" for “", "text \"Gull }"}}},
		{"a file beside", "use", "use \"other.fore\"\npanel front { width = 100; height = 50; thick = 3 }\n", [][2]string{{"write \"others.fore\" for \"other.fore\"", "use \"others.fore\""}}},
		{"a fraction with a hyphen", "dashed-fraction", "panel front { width = 7-3/8 in; height = 50; thick = 3 }\n",
			[][2]string{{"write 7 3/8 in for", "= 7 3/8 in;"}, {"write 7 - 3/8 in for", "= 7 - 3/8 in;"}}},
		{"a form of everyday speech", "syntax", panelOf("} cutout c { head = 30; spine = 5; shape = circle 4"), [][2]string{{"write round for circle", "shape = round 4"}}},
		{"one with other sizes", "syntax", panelOf("} cutout c { head = 30; spine = 5; shape = square 4"), nil},
		{"no dimension for a stock", "unknown-name", "panel front { width = 100; height = 50; stock = brich }\n", nil},
		{"a stock", "unknown-name", "stock birch { thick = 3 }\npanel front { width = 100; height = 50; stock = brich }\n", [][2]string{{"write birch for brich", "stock = birch"}}},
		{"an implied value", "readings", read("count = 24; hole = rect 4 by 4 exact; first = 5; last = 8.1; web = 4.75"),
			[][2]string{{"write 4.474 mm for 4.75", "web = 4.474 mm"}}},
		{"what a column holds", "column-kind", "orders \"orders.csv\" { motif = txt }\npanel front { width = 100; height = 50; thick = 3 }\n", [][2]string{{"write text for txt", "motif = text }"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			foretest.Write(t, filepath.Join(dir, "orders.csv"), "motif\ngull\n")
			foretest.Write(t, filepath.Join(dir, "others.fore"), "foredge 1\n")
			path := filepath.Join(dir, "gull.fore")
			e := open(t, "utf-8")
			defer e.leave()
			e.edit(path, c.text)
			e.diagnostics(path)
			whole := map[string]any{"start": map[string]any{"line": 0, "character": 0}, "end": map[string]any{"line": 99, "character": 0}}
			answer := e.ask("textDocument/codeAction", map[string]any{"textDocument": map[string]any{"uri": uri(path)}, "range": whole, "context": map[string]any{"diagnostics": []any{}}})
			var got []string
			version := 1
			for _, a := range answer.([]any) {
				a := a.(map[string]any)
				title := a["title"].(string)
				told := a["diagnostics"].([]any)[0].(map[string]any)["code"]
				if told != c.code {
					continue
				}
				got = append(got, title)
				i := slices.IndexFunc(c.want, func(w [2]string) bool { return strings.HasPrefix(title, w[0]) })
				if i < 0 {
					continue
				}
				text := apply(t, c.text, a["edit"].(map[string]any)["changes"].(map[string]any)[uri(path)].([]any))
				if !strings.Contains(text, c.want[i][1]) {
					t.Errorf("%s makes\n%s", title, text)
				}
				version++
				e.change(path, version, map[string]any{"text": text})
				for _, d := range e.versioned(path, version) {
					if d.(map[string]any)["code"] == c.code {
						t.Errorf("after %s it is still told: %s", title, show(d))
					}
				}
			}
			if len(got) != len(c.want) {
				t.Errorf("offered are %q", got)
			}
		})
	}
}
