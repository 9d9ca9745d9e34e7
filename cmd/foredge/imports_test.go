package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
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
}

// name is the package's path in the repository.
func (p pkg) name() string { return strings.TrimPrefix(strings.TrimPrefix(p.ImportPath, module), "/") }

// listPackages lists the packages of the repository.
func listPackages(t *testing.T) []pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Dir,Imports,TestImports,XTestImports,GoFiles", "./...")
	cmd.Dir = "../.."
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []pkg
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p pkg
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	if len(all) < 10 {
		t.Fatalf("only %d packages were listed", len(all))
	}
	return all
}

// below reports whether a package is folder or lies below it.
func below(name, folder string) bool {
	return name == folder || strings.HasPrefix(name, folder+"/")
}

func anyBelow(name string, folders []string) bool {
	return slices.ContainsFunc(folders, func(f string) bool { return below(name, f) })
}

// directions says what of ours each folder may import. A folder's own packages
// may import each other.
var directions = map[string][]string{
	"lang":   {"lang"},
	"eval":   {"eval", "lang"},
	"layout": {"layout", "eval", "lang/source", "lang/diag", "lang/unit"},
	"export": {"export", "layout"},
	"cmd":    {"cmd", "lang", "eval", "layout", "export"},
}

// anyTest is what the helpers of tests may import wherever they stand.
const anyTest = "lang/foretest"

// outside says where each outside library may be imported, tests aside.
var outside = map[string][]string{
	"github.com/alecthomas/participle":       {"lang/parse"},
	"gonum.org/v1/gonum":                     {"eval/solve"},
	"github.com/fsnotify/fsnotify":           {"cmd/internal/watch"},
	"github.com/tdewolff/canvas":             {"export/png"},
	"github.com/go-text/typesetting":         {"layout/lettering"},
	"github.com/benoitkugler/textprocessing": {"layout/lettering"},
	"golang.org/x/text":                      {"layout/lettering", "eval/orders"},
	"golang.org/x/image":                     {"layout/lettering", "layout/internal", "export/png"},
	"golang.org/x/sys":                       {"cmd/foredge"},
}

// forTests are libraries that only tests may import.
var forTests = []string{"pgregory.net/rapid", "github.com/rogpeppe/go-internal", "github.com/google/go-cmp"}

// alone are the packages that import no outside library at all.
var alone = []string{"layout/geom", "lang/source", "lang/unit", "lang/numeral", "eval/relation", "eval/opening", "eval/wire"}

// files are the packages of the standard library by which a program gets at
// files, processes and the network; only commands may.
var files = []string{"os", "os/exec", "io/ioutil", "syscall", "net", "net/http"}

// unwanted are packages that nothing may import: until there is a live page,
// nothing listens and nothing is fetched.
var unwanted = []string{"net", "net/http", "unsafe", "plugin"}

// violations lists what is wrong with a package's imports.
func violations(p pkg) []string {
	var wrong []string
	name := p.name()
	top, _, _ := strings.Cut(name, "/")
	helper := strings.HasSuffix(name, "test") || slices.Contains(p.Imports, "testing") // of tests
	for _, imp := range p.Imports {
		own, ours := strings.CutPrefix(imp, module+"/")
		first, _, _ := strings.Cut(imp, "/")
		switch {
		case ours:
			if !anyBelow(own, directions[top]) && !(helper && own == anyTest) {
				wrong = append(wrong, name+" must not import "+own)
			}
			if strings.HasSuffix(own, "test") && !helper {
				wrong = append(wrong, name+" must not import "+own+", which is for tests")
			}
		case strings.Contains(first, "."): // a library
			i := slices.IndexFunc(keys(outside), func(lib string) bool { return below(imp, lib) || strings.HasPrefix(imp, lib) })
			switch {
			case i < 0:
				if helper && anyBelow(imp, forTests) {
					continue
				}
				wrong = append(wrong, name+" imports "+imp+", a library that no rule names")
			case !anyBelow(name, outside[keys(outside)[i]]) || slices.Contains(alone, name):
				wrong = append(wrong, name+" must not import "+imp)
			}
		default:
			if slices.Contains(unwanted, imp) || slices.Contains(files, imp) && top != "cmd" && !helper {
				wrong = append(wrong, name+" must not import "+imp)
			}
		}
	}
	return wrong
}

func keys(m map[string][]string) []string {
	var all []string
	for k := range m {
		all = append(all, k)
	}
	slices.Sort(all)
	return all
}

func TestImports(t *testing.T) {
	for _, p := range listPackages(t) {
		for _, v := range violations(p) {
			t.Error(v)
		}
		for _, imp := range slices.Concat(p.TestImports, p.XTestImports) {
			if below(imp, module+"/cmd") && !below(p.name(), "cmd") {
				t.Errorf("a test of %s must not import %s", p.name(), imp)
			}
		}
	}
}

// The rules themselves, tried on imports that break them.
func TestImportRules(t *testing.T) {
	for _, test := range []struct {
		name, imports string
		wrong         bool
	}{
		{"lang/parse", "foredge/lang/ast", false},
		{"lang/parse", "foredge/eval/kind", true},
		{"lang/parse", "github.com/alecthomas/participle/v2", false},
		{"lang/ast", "github.com/alecthomas/participle/v2/lexer", true},
		{"eval", "gonum.org/v1/gonum/mat", true},
		{"eval/solve", "gonum.org/v1/gonum/mat", false},
		{"eval", "os", true},
		{"layout", "foredge/lang/ast", true},
		{"layout", "foredge/lang/diag", false},
		{"layout/geom", "github.com/tdewolff/canvas", true},
		{"layout/lettering", "github.com/tdewolff/canvas", true},
		{"export/svg", "foredge/eval", true},
		{"export/svg", "foredge/lang/source", true},
		{"export/svg", "foredge/layout/geom", false},
		{"export/svg", "foredge/export/exporttest", true},
		{"export/svg", "foredge/lang/foretest", true},
		{"export/exporttest", "foredge/lang/foretest", false},
		{"export/exporttest", "foredge/lang/source", true},
		{"cmd/foredge", "os", false},
		{"cmd/foredge", "net/http", true},
		{"cmd/foredge", "github.com/fsnotify/fsnotify", true},
		{"cmd/foredge", "github.com/example/new", true},
	} {
		p := pkg{ImportPath: module + "/" + test.name, Imports: []string{test.imports}}
		if got := violations(p); (len(got) > 0) != test.wrong {
			t.Errorf("%s importing %s: %v", test.name, test.imports, got)
		}
	}
}

// Each package says what it is for in a file that a newcomer finds.
func TestEachPackageHasDoc(t *testing.T) {
	for _, p := range listPackages(t) {
		if len(p.GoFiles) > 0 && !slices.Contains(p.GoFiles, "doc.go") {
			t.Errorf("%s has no doc.go", p.name())
		}
	}
}

// The top of the repository holds what it should and nothing else.
func TestTopLevel(t *testing.T) {
	allowed := []string{"cmd", "lang", "eval", "layout", "export", "examples", "testdata", "go.mod", "go.sum",
		"README.md", "DEVELOPERS.md", ".ci", ".gitignore", ".git"}
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	ignored := ignoredNames(t)
	for _, e := range entries {
		if !slices.Contains(allowed, e.Name()) && !ignored(e.Name()) {
			t.Errorf("%s should not be at the top of the repository", e.Name())
		}
	}
}

// ignoredNames reads which names at the top git leaves out.
func ignoredNames(t *testing.T) func(string) bool {
	data, err := os.ReadFile("../../.gitignore")
	if err != nil {
		t.Fatal(err)
	}
	return func(name string) bool {
		for _, pattern := range strings.Fields(string(data)) {
			if ok, _ := filepath.Match(strings.Trim(pattern, "/"), name); ok {
				return true
			}
		}
		return false
	}
}
