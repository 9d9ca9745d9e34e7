package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foredge/eval/kind"
	"foredge/eval/opening"
)

// elsewhere are folders in which a word of ours means something of another
// language: of SVG.
var elsewhere = []string{"layout/art", "export/svg", "export/exporttest"}

// What kind a thing or what form an opening is, its type or its enumeration
// says: outside the package that knows the words nothing compares them.
func TestNobodyComparesWords(t *testing.T) {
	forms := make([]string, 0, len(opening.Forms()))
	for _, f := range opening.Forms() {
		forms = append(forms, f.String())
	}
	seen := 0
	eachSource(t, func(name string, file *ast.File, at func(ast.Node) string) {
		folder := filepath.ToSlash(filepath.Dir(name))
		if slices.Contains(elsewhere, folder) {
			return
		}
		seen++
		ast.Inspect(file, func(n ast.Node) bool {
			for _, e := range compared(n) {
				lit, ok := e.(*ast.BasicLit)
				if !ok || lit.Kind != token.STRING {
					continue
				}
				word, _ := strconv.Unquote(lit.Value)
				if slices.Contains(kind.Names(), word) && folder != "eval/kind" && !isProperty(folder, word) {
					t.Errorf("%s compares with the name of the kind %s", at(n), word)
				}
				if slices.Contains(forms, word) && folder != "eval/opening" && folder != "lang/ast" {
					t.Errorf("%s compares with the name of the form %s", at(n), word)
				}
			}
			return true
		})
	})
	if seen < 100 {
		t.Fatalf("only %d files were read", seen)
	}
}

// isProperty says of the words that are a kind's name and that of a property
// too, whether a folder decodes properties.
func isProperty(folder, word string) bool {
	switch folder {
	case "eval/compile":
		return slices.Contains([]string{"stock", "material", "binding"}, word)
	case "lang/parse":
		return word == "gap" || word == "orders" // which has a title in place of a name
	}
	return false
}

// compared are the values with which a node compares something.
func compared(n ast.Node) []ast.Expr {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		if n.Op == token.EQL || n.Op == token.NEQ {
			return []ast.Expr{n.X, n.Y}
		}
	case *ast.CaseClause:
		return n.List
	}
	return nil
}

// eachSource parses every Go file of the program, tests aside.
func eachSource(t *testing.T, do func(name string, file *ast.File, at func(ast.Node) string)) {
	t.Helper()
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && strings.HasPrefix(d.Name(), "."):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(root, path)
		do(name, file, func(n ast.Node) string { return name + ":" + strconv.Itoa(set.Position(n.Pos()).Line) })
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
