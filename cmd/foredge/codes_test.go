package main

import (
	"context"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
)

// Every code that the source tells has an entry in the register, which says
// how it is told; and every entry is of a code that is told.
func TestCodesAreRegistered(t *testing.T) {
	told := map[diag.Code]bool{}
	for _, r := range reports(t) {
		told[r.code] = true
		e, ok := codes.Find(r.code)
		switch {
		case !ok:
			t.Errorf("%s tells %q, which has no entry in %s", r.at, r.code, registry)
		case r.sure && !slices.Contains(e.Severities(), r.severity):
			t.Errorf("%s tells %q with the severity %s, which its entry in %s doesn't have", r.at, r.code, r.severity, registry)
		}
	}
	if len(told) < 100 {
		t.Errorf("only %d codes were found in the source", len(told))
	}
	for _, e := range codes.All() {
		if !told[e.Code] {
			t.Errorf("nothing tells %q, which has an entry in %s", e.Code, registry)
		}
	}
}

// What an entry names as raising its code, where no design alone can, is there
// and speaks of the code.
func TestCodesAreRaised(t *testing.T) {
	for _, e := range codes.All() {
		if e.Test == "" {
			continue
		}
		text, err := testText(e.Test)
		if err != nil {
			t.Errorf("%s is raised by %s: %v", e.Code, e.Test, err)
			continue
		}
		named := []string{`"` + string(e.Code) + `"`, "[" + string(e.Code) + "]", `\[` + string(e.Code) + `\]`}
		if !slices.ContainsFunc(named, func(n string) bool { return strings.Contains(text, n) }) {
			t.Errorf("%s is said to be raised by %s, which doesn't speak of it", e.Code, e.Test)
		}
	}
}

// testText is the text of a script, or of the function of a test.
func testText(name string) (string, error) {
	root := filepath.Join("..", "..")
	if strings.HasSuffix(name, ".txtar") {
		data, err := os.ReadFile(filepath.Join(root, name))
		return string(data), err
	}
	folder, test, _ := strings.Cut(name, ".")
	files, err := filepath.Glob(filepath.Join(root, folder, "*_test.go"))
	if err != nil {
		return "", err
	}
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			return "", err
		}
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, path, data, 0)
		if err != nil {
			return "", err
		}
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Name.Name == test {
				return string(data[fset.Position(fn.Pos()).Offset:fset.Position(fn.End()).Offset]), nil
			}
		}
	}
	return "", fmt.Errorf("there is no such test")
}

// What quiet takes is what the register says can be silenced, and what it
// silences is no longer told.
func TestQuietTakesCodes(t *testing.T) {
	for _, e := range codes.All() {
		s := driver.NewSession(nil)
		design := "laser bench { quiet = " + string(e.Code) + " }\npanel front { width = 120; height = 180 }\n"
		if err := s.SetText("quiet.fore", []byte(design)); err != nil {
			t.Fatal(err)
		}
		r := s.Check(context.Background(), "quiet.fore")
		refused := slices.ContainsFunc(r.Diagnostics, func(d *diag.Diagnostic) bool { return d.Code == "quiet" })
		switch {
		case e.Quiet && refused:
			t.Errorf("quiet refuses %s, which can be silenced by %s", e.Code, registry)
		case !e.Quiet && !refused:
			t.Errorf("quiet takes %s, which can't be silenced by %s", e.Code, registry)
		}
		if e.Quiet {
			staysQuiet(t, e)
		}
	}
}

// staysQuiet holds that an example whose laser silences its code isn't told it.
func staysQuiet(t *testing.T, e codes.Entry) {
	t.Helper()
	quiet := "quiet = " + string(e.Code)
	if !strings.Contains(e.Example, "laser bench {") {
		e.Example = "laser bench { " + quiet + " }\n" + strings.TrimPrefix(e.Example, "\n")
	} else {
		e.Example = strings.Replace(e.Example, "laser bench {", "laser bench { "+quiet+";", 1)
	}
	r := driver.Example(context.Background(), e)
	for _, d := range r.Diagnostics {
		if d.Code == e.Code || d.Severity == diag.Error {
			t.Errorf("%s in the laser, and yet: %s", quiet, d.Message)
		}
	}
}
