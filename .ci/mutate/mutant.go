package main

import (
	"crypto/sha256"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// A key names a mutant by what it changes, not by where that stands, so that
// it stays the same when code is added above it.
type key struct {
	File     string // from the root of the repository, with slashes
	Function string // or the method, with its receiver's type; or the constant or variable
	Change   string // what becomes of what
	Line     string // the line of the source, without its indent
	Nth      int    // among those that are alike in all this, from 1
}

// fields are the columns by which files name a key.
func (k key) fields() []string {
	return []string{k.File, k.Function, k.Change, k.Line, fmt.Sprint(k.Nth)}
}

// keyOf reads what fields has written.
func keyOf(f []string) (key, error) {
	k := key{File: f[0], Function: f[1], Change: f[2], Line: f[3]}
	_, err := fmt.Sscan(f[4], &k.Nth)
	return k, err
}

// A mutant is the program with one place changed.
type mutant struct {
	key
	Package string // its folder, from the root
	At      int    // the number of the line
	edit
}

// An edit puts other text in the place of some bytes of a file.
type edit struct {
	start, end int
	text       string
}

// apply returns the source with the edit made.
func (e edit) apply(source []byte) []byte {
	return slices.Concat(source[:e.start], []byte(e.text), source[e.end:])
}

// mutantsOf lists the mutants of one file, in the order of the text.
func mutantsOf(name string, source []byte) ([]mutant, error) {
	files := token.NewFileSet()
	tree, err := parser.ParseFile(files, name, source, 0)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(string(source), "\n")
	var all []mutant
	seen := map[key]int{}
	for _, decl := range tree.Decls {
		for _, part := range parts(decl) {
			for _, c := range changes(files, source, part) {
				at := files.Position(files.File(decl.Pos()).Pos(c.start)).Line
				k := key{File: name, Function: part.name, Change: c.what, Line: clean(lines[at-1])}
				seen[k]++
				k.Nth = seen[k]
				all = append(all, mutant{key: k, Package: filepath.ToSlash(filepath.Dir(name)), At: at, edit: c.edit})
			}
		}
	}
	return all, nil
}

// A part is what a declaration names, and where behaviour stands in it.
type part struct {
	name    string
	node    ast.Node
	results *ast.FieldList // of a function
}

// parts lists the parts of a declaration: a function, or the constants and
// variables that are given a value.
func parts(decl ast.Decl) []part {
	switch d := decl.(type) {
	case *ast.FuncDecl:
		if d.Body != nil {
			return []part{{functionName(d), d.Body, d.Type.Results}}
		}
	case *ast.GenDecl:
		var all []part
		for _, spec := range d.Specs {
			if v, ok := spec.(*ast.ValueSpec); ok {
				for _, value := range v.Values {
					all = append(all, part{v.Names[0].Name, value, nil})
				}
			}
		}
		return all
	}
	return nil
}

// functionName is the name of a function, or of a method with its type.
func functionName(f *ast.FuncDecl) string {
	if f.Recv == nil || len(f.Recv.List) == 0 {
		return f.Name.Name
	}
	t := f.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		case *ast.Ident:
			return x.Name + "." + f.Name.Name
		default:
			return f.Name.Name
		}
	}
}

// clean makes a text fit for a column of a file.
func clean(s string) string { return strings.Join(strings.Fields(s), " ") }

// sample puts mutants into the order in which a seed draws them.
func sample(all []mutant, seed int) []mutant {
	rank := map[key]string{}
	for _, m := range all {
		sum := sha256.Sum256([]byte(fmt.Sprint(seed, "\t", strings.Join(m.fields(), "\t"))))
		rank[m.key] = string(sum[:])
	}
	drawn := slices.Clone(all)
	slices.SortFunc(drawn, func(a, b mutant) int { return strings.Compare(rank[a.key], rank[b.key]) })
	return drawn
}

// readMutants lists the mutants of packages.
func readMutants(root string, packages []*pkg) ([]mutant, error) {
	var all []mutant
	for _, p := range packages {
		for _, name := range p.GoFiles {
			path := filepath.Join(p.name(), name)
			source, err := os.ReadFile(filepath.Join(root, path))
			if err != nil {
				return nil, err
			}
			found, err := mutantsOf(filepath.ToSlash(path), source)
			if err != nil {
				return nil, err
			}
			all = append(all, found...)
		}
	}
	return all, nil
}
