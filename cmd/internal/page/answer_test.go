package page_test

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/page"
	"foredge/export"
	"foredge/lang/foretest"
)

// build builds a text that is saved nowhere, beside other files.
func build(t *testing.T, text string, others ...string) page.Answer {
	t.Helper()
	t.Chdir(t.TempDir())
	for i := 0; i < len(others); i += 2 {
		foretest.Write(t, others[i], others[i+1])
	}
	s := driver.NewSession(nil)
	foretest.Must(t, s.SetText("gull.fore", []byte(text)))
	a, files := page.Build(t.Context(), s, "gull.fore")
	if len(files) != len(a.Files) {
		t.Errorf("%d files are named and %d given", len(a.Files), len(files))
	}
	return a
}

// What is built is what the session builds for the command.
func TestBuild(t *testing.T) {
	t.Chdir(filepath.Join(foretest.Root(t), "examples"))
	a, files := page.Build(t.Context(), driver.NewSession(nil), "harbour-log.fore")
	want := driver.NewSession(nil).Build(t.Context(), "harbour-log.fore", driver.Options{Encoders: export.CutFiles(export.Options{})})
	if len(files) != 2 || len(want.Files) != 2 || string(files[0].Data) != string(want.Files[0].Data) || string(files[1].Data) != string(want.Files[1].Data) {
		t.Errorf("%d files, want the %d of the command", len(files), len(want.Files))
	}
	if got := strings.Join(a.Files, " "); got != "harbour-log.svg harbour-log.dxf" {
		t.Errorf("the files are %s", got)
	}
	if got := strings.Join(a.Reads, " "); got != "harbour-log.fore shop.fore" {
		t.Errorf("it was read from %s", got)
	}
	if !strings.Contains(a.Sizes, "148.2") {
		t.Errorf("the sizes are\n%s", a.Sizes)
	}
}

// Places are those that a browser counts, also behind characters that it takes for two.
func TestPlaces(t *testing.T) {
	text := "foredge 1 # 🐦 é\npanel front {\n  width = 100; height = 80; gull = wdth # 🐦\n}\n"
	a := build(t, text)
	units := utf16.Encode([]rune(text))
	found := 0
	for _, n := range a.Notes {
		if n.At == nil || n.At.File != "gull.fore" {
			continue
		}
		if got := string(utf16.Decode(units[n.At.From:n.At.To])); n.At.Line != 3 || got != "gull" && got != "wdth" {
			t.Errorf("line %d, %q: %s", n.At.Line, got, n.Message)
		}
		if n.Means == "" || n.Help == "" {
			t.Errorf("%s: it says not what %s means, or what to do", n.Message, n.Code)
		}
		found++
		for _, fix := range n.Fixes {
			if got := string(utf16.Decode(units[fix.At.From:fix.At.To])); got != fix.Was || fix.Text != "width" {
				t.Errorf("the fix writes %s in place of %q, which is said to be %q", fix.Text, got, fix.Was)
			}
		}
	}
	if found == 0 || len(a.Files) > 0 || len(a.Reads) != 1 {
		t.Errorf("of a wrong design: %d notes in it, files %v, read from %v", found, a.Files, a.Reads)
	}
}

// What is wrong in another file is told there; one that isn't there with the name of one
// that is.
func TestOtherFiles(t *testing.T) {
	a := build(t, "foredge 1\nuse \"parts/shop.fore\"\n", "parts/shop.fore", "foredge 1\nlaser { kerf = 0.2 mn }\n")
	if len(a.Notes) == 0 || a.Notes[0].At == nil || filepath.ToSlash(a.Notes[0].At.File) != "parts/shop.fore" || a.Notes[0].At.Line != 2 {
		t.Errorf("the notes are %+v", a.Notes)
	}
	a = build(t, "foredge 1\nuse \"shp.fore\"\n", "shop.fore", "foredge 1\n")
	if len(a.Notes) == 0 || !strings.Contains(a.Notes[0].Help, `did you mean "shop.fore"?`) {
		t.Errorf("the notes are %+v", a.Notes)
	}
	t.Chdir(t.TempDir())
	a, _ = page.Build(t.Context(), driver.NewSession(nil), "tern.fore")
	if len(a.Notes) != 1 || a.Notes[0].Code != "missing-file" || a.Notes[0].At != nil {
		t.Errorf("of a design that isn't there: %+v", a.Notes)
	}
}

func TestLayOut(t *testing.T) {
	if got, ok := page.LayOut("a.fore", "foredge 1\npanel a{\nwidth=3\n}"); !ok || got != "foredge 1\npanel a {\n  width = 3\n}\n" {
		t.Errorf("laid out: %q, %v", got, ok)
	}
	if got, ok := page.LayOut("a.fore", "panel {{{"); ok {
		t.Errorf("a text that can't be read is laid out: %q", got)
	}
}
