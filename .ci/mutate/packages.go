package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
)

const module = "foredge"

// A pkg is what go list says of a package.
type pkg struct {
	ImportPath   string
	Dir          string
	Imports      []string
	TestImports  []string
	XTestImports []string
	GoFiles      []string
	TestGoFiles  []string
	XTestGoFiles []string
}

// name is the package's folder, from the root of the repository.
func (p *pkg) name() string { return strings.TrimPrefix(p.ImportPath, module+"/") }

func (p *pkg) tested() bool { return len(p.TestGoFiles)+len(p.XTestGoFiles) > 0 }

// helper reports whether a package only helps tests.
func (p *pkg) helper() bool {
	return strings.HasSuffix(p.ImportPath, "test") || slices.Contains(p.Imports, "testing")
}

// listPackages lists the packages of the repository by their import paths.
func listPackages(root string) (map[string]*pkg, error) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Dir,Imports,TestImports,XTestImports,GoFiles,TestGoFiles,XTestGoFiles", "./...")
	cmd.Dir, cmd.Stderr = root, os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	all := map[string]*pkg{}
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p pkg
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all[p.ImportPath] = &p
	}
}

// above lists the packages whose tests run code of p, p itself left out.
func above(all map[string]*pkg, p *pkg) []*pkg {
	users := map[string]bool{p.ImportPath: true}
	for grown := true; grown; {
		grown = false
		for path, q := range all {
			if !users[path] && slices.ContainsFunc(q.Imports, func(i string) bool { return users[i] }) {
				users[path], grown = true, true
			}
		}
	}
	var out []*pkg
	for path, q := range all {
		if path == p.ImportPath || !q.tested() {
			continue
		}
		if users[path] || slices.ContainsFunc(slices.Concat(q.TestImports, q.XTestImports), func(i string) bool { return users[i] }) {
			out = append(out, q)
		}
	}
	return out
}
