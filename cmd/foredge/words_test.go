package main

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/unit"
)

// What a word opens in a design is a form of opening or of corners, and each form
// has its word, with as many sizes as the form takes.
func TestShapeWords(t *testing.T) {
	corners := word.Strings(word.CornerShapes()...)
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

// Each dimension has a word of its own and a kind that has it, and each kind a
// word and a place where it may stand.
func TestDimensionsAndKinds(t *testing.T) {
	had := map[dim.Name]bool{dim.Gap: true} // a row has it where it lists its gaps
	for i, name := range kind.Names() {
		k := kind.Find(name)
		if kind.ID(i+1).String() == "" {
			t.Errorf("kind %d has no line in the table of kinds", i+1)
		}
		if !k.Top && len(k.Within) == 0 {
			t.Errorf("a %s may stand nowhere", name)
		}
		for _, d := range k.Dims {
			had[d] = true
		}
	}
	words := map[string]dim.Name{}
	for d := dim.None + 1; d < dim.Number; d++ {
		other, twice := words[d.String()]
		switch {
		case d.String() == "":
			t.Errorf("dimension %d has no word", d)
		case twice:
			t.Errorf("dimensions %d and %d have the word %s", other, d, d)
		case !had[d]:
			t.Errorf("no kind has the dimension %s", d)
		}
		words[d.String()] = d
	}
}

// Each property is read: a value that is none of it is an error, at its line.
func TestPropertiesAreRead(t *testing.T) {
	for _, name := range kind.Names() {
		k := kind.Find(name)
		for _, p := range k.Props {
			if k.ID == kind.Stock && p == "material" {
				continue // any name is that of a material, perhaps of one that nobody knows
			}
			t.Run(name+"/"+p, func(t *testing.T) {
				const wrong = "nothing.of.this"
				design := name + " that" + edgeOf(k) + " { " + p + " = " + wrong + besides[k.ID] + " }\n"
				switch {
				case k.ID == kind.Case:
					design += "panel board { width = 99; height = 99 }\n"
				case k.ID == kind.Style: // read with the panels that are like it
					design += "panel front like that { width = 99; height = 99 }\n"
				case k.ID == kind.Pattern: // read for the rows that are like it
					design += "panel front { width = 99; height = 99; row holes on spine like that { count = 3 } }\n"
				case k.ID == kind.Make:
					design = "job day { make \"that.fore\" { " + p + " = " + wrong + " } }\n"
				case !k.Top:
					design = "panel front { width = 99; height = 99\n" + design + "}\n"
				}
				s := driver.NewSession(nil)
				if err := s.SetText("wrong.fore", []byte(design)); err != nil {
					t.Fatal(err)
				}
				for _, d := range s.Check(context.Background(), "wrong.fore").Diagnostics {
					if at := d.Span.Text(); d.Severity == diag.Error && (strings.Contains(at, wrong) || strings.Contains(wrong, at)) {
						return
					}
				}
				t.Errorf("nothing reads it: no error in\n%s", design)
			})
		}
	}
}

// besides is what must be stated for a kind's properties to be read.
var besides = map[kind.ID]string{kind.Case: "; turn-in = 15; lining = 2; lay = board"}

// edgeOf is the clause that a kind's declaration needs.
func edgeOf(k *kind.Kind) string {
	if k.Allows("on") {
		return " on spine"
	}
	return ""
}

// The designs of the corpus, the examples and the shelf have all that there is: each
// kind, dimension, property and form of opening, so that each is seen through every
// stage.
func TestDesignsHoldEveryWord(t *testing.T) {
	said := map[string]bool{}
	for _, pattern := range []string{"../../testdata/corpus/*.fore", "../../examples/*.fore", "../../eval/shelf/parts/*.fore"} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			t.Fatalf("%s: %v", pattern, err)
		}
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(string(data)) {
				line, _, _ = strings.Cut(line, "# ") // a colour has no blank there
				for _, w := range strings.FieldsFunc(line, func(c rune) bool { return strings.ContainsRune(" {}=;,()<>\n", c) }) {
					said[w] = true
					if i := strings.LastIndexByte(w, '.'); i >= 0 {
						said[w[i+1:]] = true
					}
				}
			}
		}
	}
	wants := func(w, what string) {
		if !said[w] {
			t.Errorf("no design has %s, %s", w, what)
		}
	}
	for _, name := range kind.Names() {
		wants(name, "a kind")
		k := kind.Find(name)
		for _, p := range k.Props {
			wants(p, "a property of a "+name)
		}
		for _, d := range k.Dims {
			wants(strings.TrimPrefix(d.String(), "hole."), "a dimension of a "+name)
		}
	}
	for _, f := range opening.Forms() {
		wants(f.String(), "a form of opening")
	}
	for _, u := range unit.Names() {
		wants(u, "a unit")
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
	for _, folder := range []string{".ci", ".ci/mutate", "examples", "testdata"} {
		if !listed[folder] {
			t.Errorf("%s is missing from the table of folders in DEVELOPERS.md", folder)
		}
		delete(listed, folder)
	}
	for folder := range listed {
		t.Errorf("DEVELOPERS.md lists the folder %s, which isn't there or is no package", folder)
	}
}

// What DEVELOPERS.md speaks of is there: files and folders by their path, tests,
// benchmarks and fuzz targets by their name.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	root := filepath.Join("..", "..")
	data, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	tests := map[string]bool{}
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		for _, m := range regexp.MustCompile(`(?m)^func (\w+)\(`).FindAllSubmatch(text, -1) {
			tests[string(m[1])] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, m := range regexp.MustCompile("`([^`\\s]+)`").FindAllStringSubmatch(string(data), -1) {
		switch code := m[1]; {
		case regexp.MustCompile(`^(Test|Fuzz|Benchmark)[A-Z]\w*$`).MatchString(code):
			n++
			if !tests[code] {
				t.Errorf("DEVELOPERS.md speaks of %s, which isn't there", code)
			}
		case regexp.MustCompile(`^(\.ci|cmd|lang|eval|layout|export|examples|testdata)(/[\w.-]+)*$`).MatchString(code):
			n++
			if _, err := os.Stat(filepath.Join(root, code)); err != nil {
				t.Errorf("DEVELOPERS.md speaks of %s, which isn't there", code)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d names were found", n)
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
