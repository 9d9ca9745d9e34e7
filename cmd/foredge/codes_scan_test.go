package main

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/diag"
)

// A report is a place in the source that tells a code, or hands it on to what
// does.
type report struct {
	code     diag.Code
	severity diag.Severity
	sure     bool   // the severity is plain from the call
	at       string // file and line
}

// reports finds every code that the source tells. Each is a constant of type
// diag.Code: a string handed to whatever takes a code, or stored where one
// belongs. Codes that are only compared or asked for tell nothing.
func reports(t *testing.T) []report {
	c := &checker{fset: token.NewFileSet(), ours: map[string]pkg{}, done: map[string]*types.Package{},
		info: types.Info{Types: map[ast.Expr]types.TypeAndValue{}}}
	for _, p := range listPackages(t) {
		if p.name() != registry {
			c.ours[p.ImportPath] = p
		}
	}
	for path := range c.ours {
		if _, err := c.Import(path); err != nil {
			t.Fatal(err)
		}
	}
	var all []report
	for _, f := range c.files {
		all = append(all, c.reportsOf(f)...)
	}
	return all
}

// registry is the package of the entries, whose codes tell nothing.
const registry = "lang/diag/codes"

// A checker finds the types in our packages, by their source. Packages of
// others are taken to be empty: what comes from them has no type then, which no
// code does.
type checker struct {
	fset  *token.FileSet
	ours  map[string]pkg
	done  map[string]*types.Package
	files []*ast.File
	info  types.Info
}

func (c *checker) Import(path string) (*types.Package, error) {
	if p, ok := c.done[path]; ok {
		return p, nil
	}
	p, ok := c.ours[path]
	if !ok {
		empty := types.NewPackage(path, filepath.Base(path))
		empty.MarkComplete()
		c.done[path] = empty
		return empty, nil
	}
	var files []*ast.File
	for _, name := range p.GoFiles {
		f, err := parser.ParseFile(c.fset, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	conf := types.Config{Importer: c, Error: func(error) {}}
	c.done[path], _ = conf.Check(path, c.fset, files, &c.info)
	c.files = append(c.files, files...)
	return c.done[path], nil
}

// severities says how a call tells its code, by what the function is called.
var severities = map[string]diag.Severity{"Errorf": diag.Error, "Fail": diag.Error, "fail": diag.Error,
	"Warnf": diag.Warning, "warn": diag.Warning, "Infof": diag.Info}

// reportsOf finds the codes that a file tells.
func (c *checker) reportsOf(f *ast.File) []report {
	var all []report
	passed := map[ast.Expr]report{} // arguments of calls whose severity is plain
	silent := map[ast.Expr]bool{}   // codes that are compared or asked for
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			name := calledName(n)
			severity, sure := severities[name]
			for _, arg := range n.Args {
				silent[arg] = name == "Has"
				passed[arg] = report{severity: severity, sure: sure}
			}
		case *ast.BinaryExpr:
			if n.Op == token.EQL || n.Op == token.NEQ {
				silent[n.X], silent[n.Y] = true, true
			}
		case *ast.BasicLit, *ast.Ident:
			e := n.(ast.Expr)
			tv := c.info.Types[e]
			if tv.Value == nil || tv.Value.Kind() != constant.String || silent[e] || !isCode(tv.Type) {
				return true
			}
			if code := diag.Code(constant.StringVal(tv.Value)); code != "" {
				r := passed[e]
				at := c.fset.Position(e.Pos())
				r.code, r.at = code, fmt.Sprintf("%s:%d", filepath.Join(filepath.Base(filepath.Dir(at.Filename)), filepath.Base(at.Filename)), at.Line)
				all = append(all, r)
			}
		}
		return true
	})
	return all
}

// isCode reports whether a type is diag.Code.
func isCode(t types.Type) bool {
	return t != nil && strings.HasSuffix(t.String(), "foredge/lang/diag.Code")
}

// calledName is the last part of what a call names.
func calledName(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.SelectorExpr:
		return f.Sel.Name
	case *ast.Ident:
		return f.Name
	}
	return ""
}
