package resolve

import (
	"fmt"
	"strings"
	"testing"

	"foredge/eval/dim"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// memory is a set of files in memory.
type memory map[string]*source.File

func (m memory) Use(_ *source.File, path string) (*source.File, error) {
	if f, ok := m[path]; ok {
		return f, nil
	}
	return nil, fmt.Errorf("there is no file %q", path)
}
func (m memory) Read(*source.File, string) ([]byte, error) { return nil, fmt.Errorf("no file") }

// resolveText resolves the first of several files, given as name and text.
func resolveText(t *testing.T, files ...string) (*Info, diag.List, *source.File) {
	t.Helper()
	m := memory{}
	for i := 0; i < len(files); i += 2 {
		m[files[i]] = source.New(files[i], []byte(files[i+1]))
	}
	src := m[files[0]]
	tree, ds := parse.File(src)
	if ds.HasErrors() {
		t.Fatalf("the test's own text can't be read: %v", ds[0].Message)
	}
	info, ds := Resolve(tree, m)
	return info, ds, src
}

// lines lists what each thing states, as TEXT or TEXT<ORIGIN for inherited
// lines.
func lines(info *Info, path string) string {
	var out []string
	for _, l := range find(info, path).Lines {
		s := l.Stmt.Span().Text()
		if l.From != nil {
			s += " <" + l.From.Path()
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

func find(info *Info, path string) *Thing {
	parts := strings.Split(path, ".")
	for _, t := range info.Main.Things {
		if t.Name != parts[0] {
			continue
		}
		for _, p := range parts[1:] {
			t = t.members[p].thing
		}
		return t
	}
	return nil
}

func TestInheritance(t *testing.T) {
	info, ds, _ := resolveText(t, "a.fore", `
pattern holes { pitch = 8; hole = round 4; inset = 5 }
panel front {
  width = 100; height = 200
  height >= 150
  prefer width = 99
  corner head-spine = radius 3
  row wire on spine like holes { pitch = 9; count = 3 }
  region title { head = 10; engrave text "A" }
}
panel back mirrors front {
  width = 120
  corner head-spine = radius 5
  height >= 160
  without title
}
panel third like back { row wire { count = 4 } }
`)
	if len(ds) > 0 {
		t.Fatal(ds[0].Message)
	}
	for _, c := range []struct{ path, want string }{
		{"front.wire", "hole = round 4 <holes; inset = 5 <holes; pitch = 9; count = 3"},
		{"back", "height = 200 <front; height >= 150 <front; width = 120; corner head-spine = radius 5; height >= 160"},
		{"back.wire", "hole = round 4 <holes; inset = 5 <holes; pitch = 9 <front.wire; count = 3 <front.wire"},
		{"third.wire", "hole = round 4 <holes; inset = 5 <holes; pitch = 9 <front.wire; count = 4"},
	} {
		if got := lines(info, c.path); got != c.want {
			t.Errorf("%s states\n%s, want\n%s", c.path, got, c.want)
		}
	}
	if find(info, "back.title") != nil || find(info, "third.title") != nil {
		t.Error("without title leaves the title in")
	}
	for path, want := range map[string]bool{"front": false, "back": true, "third": true} {
		if got := find(info, path).Mirrored; got != want {
			t.Errorf("%s mirrored: %v", path, got)
		}
	}
	if edge := find(info, "third.wire").Edge; edge != word.Spine {
		t.Errorf("an inherited row runs on %q", edge)
	}
}

// Inherited lines speak of the new thing's dimensions; other names keep the
// scope in which they were written.
func TestScopes(t *testing.T) {
	info, ds, _ := resolveText(t, "a.fore", `
use "shop.fore"
let edge = 4
panel front {
  let board = 3
  width = shop-width + board + edge
  region title { width = front.width; head = height; tail = edge }
}
panel gift like front { let board = 9; region title { foredge = board } }
`, "shop.fore", `
units in
let shop-width = 5
let edge = 99
`)
	if len(ds) > 0 {
		t.Fatal(ds[0].Message)
	}
	meaning := func(path string, line int, name string) string {
		l := find(info, path).Lines[line]
		got := ""
		ast.Walk(l.Stmt, func(n ast.Node) bool {
			if nm, ok := n.(*ast.Name); ok && nm.Dotted() == name {
				sym, problem := l.Scope.Lookup(nm)
				switch {
				case problem != nil:
					got = problem.Message
				case sym.Let != nil:
					got = "let " + sym.Let.Path() + " of " + sym.Let.File.Source.Name()
				default:
					got = sym.Thing.Path() + "." + sym.Dim.String()
				}
			}
			return true
		})
		return got
	}
	for _, c := range []struct {
		path string
		line int
		name string
		want string
	}{
		{"front", 0, "width", "front.width"},
		{"gift", 0, "width", "gift.width"},
		{"gift", 0, "board", "let gift.board of a.fore"},
		{"gift", 0, "edge", "let edge of a.fore"},
		{"gift", 0, "shop-width", "let shop-width of shop.fore"},
		{"gift.title", 0, "width", "gift.title.width"},
		{"gift.title", 0, "front.width", "front.width"},
		{"gift.title", 1, "height", "gift.title.height"},
		{"gift.title", 3, "board", "let gift.board of a.fore"},
	} {
		if got := meaning(c.path, c.line, c.name); got != c.want {
			t.Errorf("%s in line %d of %s means %q, want %q", c.name, c.line, c.path, got, c.want)
		}
	}
}

func TestCoverBringsRows(t *testing.T) {
	info, ds, _ := resolveText(t, "a.fore", `
notebook log { row wire on spine { count = 3 }; row cord on head { count = 2 } }
panel front covers log { row wire { hole = round 4 }; without cord }
panel back mirrors front
`)
	if len(ds) > 0 {
		t.Fatal(ds[0].Message)
	}
	for _, p := range []string{"front", "back"} {
		wire := find(info, p+".wire")
		if wire == nil || wire.CoverOf != find(info, "log.wire") || wire.Edge != word.Spine {
			t.Errorf("%s.wire does not lie on log.wire", p)
		}
		if find(info, p+".cord") != nil {
			t.Errorf("%s has the row that was left out", p)
		}
	}
}

func TestErrors(t *testing.T) {
	for name, text := range map[string]string{
		"twice":      "panel a { }\npanel a { } # error: there are two things called \"a\" in this file",
		"kind":       "pannel a { } # error: there is no kind of thing called \"pannel\"",
		"misplaced":  "row a { } # error: a row can't be on its own\npanel b { panel c { } } # error: a panel can't go in a panel",
		"like cycle": "panel a like b\npanel b like a # error: would be like itself",
		"self":       "panel a like a # error: a would be like itself",
		"without":    "panel a { }\npanel b like a {\n  without title # error: there is nothing called \"title\" here to leave out\n}",
		"units late": "panel a { }\nunits mm # error: units must be the first line",
		"units two":  "units mm\nunits mm # error: this file has already stated its units",
		"clause":     "panel a on head { } # error: a panel can't have `on`",
		"edge":       "panel a { row w on spin { } } # error: there is no edge called \"spin\"",
		"use":        "use \"none.fore\" # error: there is no file",
		"no shelf":   "use bindngs # error: the shelf has no part called \"bindngs\"",
		"covers":     "panel a { }\npanel b covers a # error: a is not a notebook",
	} {
		t.Run(name, func(t *testing.T) {
			_, ds, src := resolveText(t, "a.fore", text)
			ds.Sort()
			diagtest.Check(t, src, ds)
		})
	}
}

func TestUseCycle(t *testing.T) {
	_, ds, _ := resolveText(t, "a.fore", `use "b.fore"`, "b.fore", `use "c.fore"`, "c.fore", `use "a.fore"`)
	if len(ds) != 1 || !strings.Contains(ds[0].Message, `"a.fore" is being read already`) {
		t.Fatalf("got %v", ds)
	}
	if at := ds[0].Span.File.Name(); at != "c.fore" {
		t.Errorf("reported in %s", at)
	}
}

func TestUseDepth(t *testing.T) {
	var files []string
	for i := 0; i < MaxUseDepth+3; i++ {
		files = append(files, fmt.Sprintf("f%d.fore", i), fmt.Sprintf("use \"f%d.fore\"", i+1))
	}
	_, ds, _ := resolveText(t, append(files, fmt.Sprintf("f%d.fore", MaxUseDepth+3), "")...)
	if len(ds) != 1 || ds[0].Code != "use-depth" {
		t.Fatalf("got %v", ds)
	}
}

func TestOwnNameWins(t *testing.T) {
	info, ds, _ := resolveText(t, "a.fore", "use \"b.fore\"\nuse \"c.fore\"\nlet x = 1\nlet z = y",
		"b.fore", "let x = 2\nlet y = 3", "c.fore", "let y = 4")
	if len(ds) > 0 {
		t.Fatal(ds[0].Message)
	}
	name := func(s string) *ast.Name { return &ast.Name{Parts: []ast.Ident{{Name: s}}} }
	sym, problem := info.Main.Scope().Lookup(name("x"))
	if problem != nil || sym.Let.File != info.Main {
		t.Error("the file's own x does not win")
	}
	if _, problem = info.Main.Scope().Lookup(name("y")); problem == nil || problem.Code != "two-meanings" {
		t.Errorf("y of two files: %v", problem)
	}
}

// A name means what its place wants: a value, what a line is about, or a thing.
func TestPlaces(t *testing.T) {
	info, ds, _ := resolveText(t, "a.fore", `
use "shop.fore"
use materials
notebook log { row cord on spine { } }
panel front covers log { row cord { } ; cutout c { } }
panel back { cutout c { } ; row pins on head { gaps = 3, 4 } }
binding wire { ring = 3 }
`, "shop.fore", "let ease = 1\nlet pitch = 9\nlet head = 4\nmaterial mdf { }")
	if len(ds) > 0 {
		t.Fatal(ds[0].Message)
	}
	for _, c := range []struct {
		in, name string
		value    string // in an expression
		subject  string // alone, as what the line is about
		thing    string // where a thing is to be named
	}{
		{"front", "ease", "hidden-let", "front.ease", "let ease"},
		{"front.c", "ease", "hidden-let", "front.ease", "let ease"},
		{"back", "ease", "let ease", "back.ease", "let ease"},
		{"back.c", "ease", "let ease", "let ease", "let ease"},
		{"front.c", "head", "hidden-let", "front.c.head", "let head"},
		{"front.c", "tail", "front.c.tail", "front.c.tail", "front.c.tail"},
		{"front.cord", "pitch", "hidden-let", "front.cord.pitch", "let pitch"},
		{"back.pins", "pitch", "let pitch", "back.pins.pitch", "let pitch"},
		{"log.cord", "wire", "log.cord.wire", "log.cord.wire", "thing wire"},
		{"front.cord", "wire", "thing wire", "front.cord.wire", "thing wire"},
		{"back.pins", "over-head", "back.over-head", "back.over-head", "back.over-head"},
		{"back.pins", "mdf", "thing mdf", "thing mdf", "thing mdf"},
		{"back.pins", "greyboard", "thing greyboard", "thing greyboard", "thing greyboard"},
		{"back.pins", "slate", "unknown-name", "unknown-name", "unknown-name"},
	} {
		n := &ast.Name{Parts: []ast.Ident{{Name: c.name}}}
		s := find(info, c.in).Scope()
		for i, look := range []func(*ast.Name) (Symbol, *diag.Diagnostic){s.Lookup, s.Subject, func(n *ast.Name) (Symbol, *diag.Diagnostic) { return s.LookupThing(n) }} {
			sym, problem := look(n)
			got := ""
			switch {
			case problem != nil:
				got = string(problem.Code)
			case sym.Let != nil:
				got = "let " + sym.Let.Path()
			case sym.Dim != dim.None:
				got = sym.Thing.Path() + "." + sym.Dim.String()
			default:
				got = "thing " + sym.Thing.Path()
			}
			if want := []string{c.value, c.subject, c.thing}[i]; got != want {
				t.Errorf("%s in %s, looked up in way %d, means %q, want %q", c.name, c.in, i, got, want)
			}
		}
	}
	n := &ast.Name{Parts: []ast.Ident{{Name: "mdf"}}}
	if sym, _ := info.Main.Scope().LookupThing(n); sym.Thing == nil || sym.Thing.File.Shelf {
		t.Error("the shelf's mdf is meant, not the shop's")
	}
}

// The dimension that hides a named value has a full name only in what is made.
func TestHiddenLetHelp(t *testing.T) {
	info, ds, _ := resolveText(t, "a.fore", `
let head = 3
panel front { cutout c { } }
style look { cutout c { } }
region imprint { }
panel back { region title like imprint { } }
`)
	if len(ds) > 0 {
		t.Fatal(ds[0].Message)
	}
	for in, want := range map[string]string{"front.c": "write front.c.head for the dimension; else give", "look.c": "give", "imprint": "give"} {
		n := &ast.Name{Parts: []ast.Ident{{Name: "head"}}}
		_, problem := find(info, in).Scope().Lookup(n)
		if problem == nil || problem.Help != want+" the named value another name, as in let own-head = 3" {
			t.Errorf("head in %s: %+v", in, problem)
		}
	}
}

// The own name of a thing in its clauses means one further out.
func TestOwnNameFurtherOut(t *testing.T) {
	info, ds, _ := resolveText(t, "a.fore", `
use "shop.fore"
material cork like cork { kerf = 0.2 }
panel front { region cork like cork { } }
`, "shop.fore", "material cork { least-web = 4 }")
	if len(ds) != 1 || ds[0].Code != "clause-target" { // the region's is a material
		t.Fatalf("told %v", ds)
	}
	if got := lines(info, "cork"); got != "least-web = 4 <cork; kerf = 0.2" {
		t.Errorf("cork states %s", got)
	}
}
