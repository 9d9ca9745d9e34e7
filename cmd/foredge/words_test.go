package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval/kind"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/unit"
)

// What a word opens in a design is a form of opening or of corners, and each form
// has its word, with as many sizes as the form takes.
func TestShapeWords(t *testing.T) {
	corners := word.Strings(word.Radius, word.Chamfer)
	for _, w := range ast.ShapeWords() {
		if _, ok := opening.Find(w.Word); !ok && !slices.Contains(corners, w.Word) {
			t.Errorf("%s opens a shape (lang/ast), but is no form in the list of eval/opening", w.Word)
		}
	}
	for _, f := range opening.Forms() {
		w, ok := ast.FindShape(f.String())
		switch {
		case !ok:
			t.Errorf("%s is a form of opening, but no word that opens a shape (lang/ast)", f)
		case w.Sizes != len(f.Sizes()) || w.Radius != f.Corners():
			t.Errorf("%s is read with %d sizes (a radius: %v), but has %d (%v)", f, w.Sizes, w.Radius, len(f.Sizes()), f.Corners())
		}
	}
}

// The reference speaks of every word of the language that stands in a table of
// the program.
func TestReferenceNamesWords(t *testing.T) {
	data, err := os.ReadFile(referencePath)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.ReplaceAll(string(data), "\n", " ")
	named := codeWords(text)
	lacks := func(w, what string) {
		if !named[w] {
			t.Errorf("the reference doesn't name %s, %s", w, what)
		}
	}
	for _, name := range kind.Names() {
		if !strings.Contains(text, "**"+name+"**") && name != kind.Orders.String() {
			t.Errorf("the reference doesn't say what a %s is, after **%s**", name, name)
		}
		k := kind.Find(name)
		for _, d := range k.Dims {
			lacks(d.String(), "a dimension of a "+name)
		}
		for _, p := range k.Props {
			lacks(p, "a property of a "+name)
		}
	}
	for _, f := range opening.Forms() {
		lacks(f.String(), "a form of opening")
	}
	for _, u := range unit.Names() {
		lacks(u, "a unit")
	}
	for _, list := range [][]string{
		word.Strings(word.Edges()...), word.Strings(word.Corners()...), word.Strings(word.Sides()...), word.Strings(word.Operations()...),
		word.Strings(word.Fits()...), word.Strings(word.OfText()...), word.Strings(word.OfArt()...), word.Strings(word.Curves()...),
		word.Strings(word.Mirrors()...), word.Strings(word.Shades()...), word.Strings(word.Recesses()...), word.Strings(word.Grains()...),
		word.Strings(word.Bindings()...), word.Strings(word.LineFonts()...),
	} {
		for _, w := range list {
			lacks(w, "a word that can be chosen")
		}
	}
}

// The reference names each option of a mark. What there is, the program says of
// one that there isn't.
func TestReferenceNamesOptions(t *testing.T) {
	data, err := os.ReadFile(referencePath)
	if err != nil {
		t.Fatal(err)
	}
	named := codeWords(string(data))
	for _, mark := range []string{"engrave text \"A\"", "inlay text \"A\"", "engrave art \"gull.svg\"", "inlay art \"gull.svg\"", "mark frame"} {
		s := driver.NewSession(nil)
		design := "stock oak { thick = 1 }\npanel front { width = 99; height = 99; region r { width = 50; height = 50; " + mark + " { wrong-one = 1 } } }\n"
		for name, text := range map[string]string{"options.fore": design, "gull.svg": "<svg xmlns='http://www.w3.org/2000/svg'/>"} {
			if err := s.SetText(name, []byte(text)); err != nil {
				t.Fatal(err)
			}
		}
		options := 0
		for _, d := range s.Check(context.Background(), "options.fore").Diagnostics {
			list, ok := strings.CutPrefix(d.Help, "its braces may hold ")
			if !ok {
				continue
			}
			for _, o := range strings.FieldsFunc(strings.ReplaceAll(list, " or ", ", "), func(c rune) bool { return c == ',' || c == ' ' }) {
				options++
				if !named[o] {
					t.Errorf("the reference doesn't name %s, an option of %s", o, mark)
				}
			}
		}
		if options == 0 {
			t.Errorf("nothing lists the options of %s", mark)
		}
	}
}

// codeWords are the words of all that stands between backticks in a text.
func codeWords(text string) map[string]bool {
	words := map[string]bool{}
	for i, code := range strings.Split(text, "`") {
		if i%2 == 0 {
			continue
		}
		for _, w := range strings.FieldsFunc(code, func(c rune) bool { return strings.ContainsRune(" {}=;,()\"±", c) }) {
			words[w] = true
		}
	}
	return words
}

// A row of the table of folders, for each package.
func TestDevelopersNamesEachPackage(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	listed := folders(string(data))
	for _, p := range listPackages(t) {
		if !listed[p.name()] {
			t.Errorf("%s is missing from the table of folders in DEVELOPERS.md", p.name())
		}
		delete(listed, p.name())
	}
	for _, folder := range []string{"examples", "testdata"} {
		if !listed[folder] {
			t.Errorf("%s is missing from the table of folders in DEVELOPERS.md", folder)
		}
		delete(listed, folder)
	}
	for folder := range listed {
		t.Errorf("DEVELOPERS.md lists the folder %s, which isn't there or is no package", folder)
	}
}

// folders are those that the first column of the table of folders names: one in a
// row, or several.
func folders(text string) map[string]bool {
	all := map[string]bool{}
	_, table, _ := strings.Cut(text, "| folder | what it does | never |\n")
	for line := range strings.Lines(table) {
		if !strings.HasPrefix(line, "|") {
			break
		}
		if first, _, ok := strings.Cut(strings.TrimPrefix(line, "|"), "|"); ok && strings.Contains(first, "`") {
			for i, code := range strings.Split(first, "`") {
				if i%2 == 1 {
					all[code] = true
				}
			}
		}
	}
	return all
}
