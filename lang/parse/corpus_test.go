package parse

import (
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/ast"
	"foredge/lang/ast/asttest"
	"foredge/lang/foretest"
	"foredge/lang/source"
)

const (
	corpus = "../../testdata/corpus"        // designs that build
	valid  = "testdata"                     // well written, whatever they mean
	wrong  = "../../testdata/errors/syntax" // designs that expect errors
)

// designs returns the text of all design files in the folders, by their names.
func designs(t testing.TB, folders ...string) map[string]*source.File {
	t.Helper()
	out := map[string]*source.File{}
	for _, folder := range folders {
		files, err := filepath.Glob(folder + "/*.fore")
		if err != nil || len(files) == 0 {
			t.Fatalf("no designs in %s: %v", folder, err)
		}
		for _, f := range files {
			out[filepath.Base(f)] = source.New(filepath.Base(f), []byte(foretest.Read(t, f)))
		}
	}
	return out
}

// The designs of the corpus are read without a complaint, and their trees are as
// the golden files say.
func TestCorpus(t *testing.T) {
	for name, src := range designs(t, corpus, valid) {
		t.Run(name, func(t *testing.T) {
			file, diags := File(src)
			for _, d := range diags {
				t.Errorf("%v: %s", d.Span, d.Message)
			}
			checkTree(t, file)
			golden := filepath.Join("testdata", strings.TrimSuffix(name, ".fore")+".tree")
			foretest.Golden(t, golden, []byte(asttest.Dump(file)))
		})
	}
}

// checkTree tests what holds for every tree: spans lie within those above
// them and never reach over a statement's line end, and each comment of the
// text has exactly one owner.
func checkTree(t testing.TB, f *ast.File) {
	t.Helper()
	text := f.Source.Text()
	var walk func(n ast.Node)
	walk = func(n ast.Node) {
		s := n.Span()
		if s.File != f.Source || s.Start < 0 || s.End < s.Start || s.End > len(text) {
			t.Fatalf("%T has the place %d-%d of %d", n, s.Start, s.End, len(text))
		}
		if st, ok := n.(ast.Stmt); ok {
			got := s.Text()
			if got == "" || strings.TrimRight(got, " \t\r\n") != got {
				t.Fatalf("%T is %q: empty, or reaches over its end", st, got)
			}
		}
		ast.Children(n, func(c ast.Node) {
			if in := c.Span(); in.Start < s.Start || in.End > s.End {
				t.Fatalf("%T %d-%d %q does not lie within %T %d-%d %q", c, in.Start, in.End, in.Text(), n, s.Start, s.End, s.Text())
			}
			walk(c)
		})
	}
	last := 0
	for _, s := range f.Stmts {
		if s.Span().Start < last {
			t.Fatalf("statements overlap at %v", s.Span())
		}
		last = s.Span().End
		walk(s)
	}

	owners := map[int]int{}
	own := func(lists ...[]ast.Comment) {
		for _, l := range lists {
			for _, c := range l {
				owners[c.At.Start]++
				if !strings.HasPrefix(c.At.Text(), "#") && !strings.Contains(text, markFirst) && !strings.Contains(text, markSecond) &&
					!strings.Contains(text, markEnd) && !strings.Contains(text, markBase) || strings.ContainsAny(c.At.Text(), "\n") {
					t.Fatalf("a comment is %q", c.At.Text())
				}
			}
		}
	}
	own(f.Comments.Before, f.Comments.Suffix, f.Comments.Open, f.Comments.End)
	asttest.Walk(f, func(n ast.Node) bool {
		if s, ok := n.(ast.Stmt); ok {
			c := s.Comment()
			own(c.Before, c.Suffix, c.Open, c.End)
		}
		return true
	})
	for at, n := range owners {
		if n != 1 {
			t.Fatalf("the comment at %d has %d owners", at, n)
		}
	}
	p := &parser{src: f.Source, text: text}
	if p.checkText() {
		p.scan()
		if len(owners) != len(p.comments) {
			t.Fatalf("%d of %d comments have an owner", len(owners), len(p.comments))
		}
	}
}
