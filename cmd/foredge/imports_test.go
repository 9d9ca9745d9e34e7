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
	TestGoFiles  []string
	XTestGoFiles []string
}

// name is the package's path in the repository.
func (p pkg) name() string { return strings.TrimPrefix(strings.TrimPrefix(p.ImportPath, module), "/") }

// listPackages lists the packages of the repository.
func listPackages(t *testing.T) []pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Dir,Imports,TestImports,XTestImports,GoFiles,TestGoFiles,XTestGoFiles", "./...")
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
	"gonum.org/v1/gonum":                     {"eval/solve", "eval/compile"},
	"github.com/fsnotify/fsnotify":           {"cmd/internal/watch"},
	"github.com/tdewolff/canvas":             {"export/png"},
	"github.com/go-text/typesetting":         {"layout/lettering"},
	"github.com/benoitkugler/textprocessing": {"layout/lettering"},
	"golang.org/x/text":                      {"layout/lettering", "layout/art", "eval/orders", "lang/lookalike"},
	"golang.org/x/image":                     {"layout/lettering", "layout/art", "layout/internal", "export/png"},
	"github.com/go-fonts/dejavu":             {"layout/lettering"},
	"golang.org/x/sys":                       {"cmd/foredge"},
	"github.com/aymanbagabas/go-udiff":       {"cmd/foredge"},
	"github.com/spf13/cobra":                 {"cmd/foredge"},
	"github.com/creachadair/jrpc2":           {"cmd/internal/serve"},
	"github.com/tdewolff/parse":              {"layout/art"},
}

// forTests are libraries that only tests may import.
var forTests = []string{"pgregory.net/rapid", "github.com/rogpeppe/go-internal", "github.com/google/go-cmp", "github.com/mozillazg/go-unidecode", "github.com/santhosh-tekuri/jsonschema"}

// alone are the packages that import no outside library at all.
var alone = []string{"layout/geom", "layout/nest", "layout/sheet", "layout/tour", "layout/motion", "lang/source", "lang/unit", "lang/numeral", "lang/version", "eval/relation", "eval/opening", "eval/wire"}

// files are the packages of the standard library by which a program gets at
// files, processes and the network; only commands may.
var files = []string{"os", "os/exec", "io/ioutil", "syscall", "net", "net/http"}

// unwanted are packages that nothing may import; listens is the one exception, which
// serves the live page on this machine: nothing else listens, and nothing is fetched.
var unwanted = []string{"net", "net/http", "unsafe", "plugin"}

var listens = map[string][]string{"cmd/internal/view": {"net", "net/http"}}

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
			if slices.Contains(unwanted, imp) && !slices.Contains(listens[name], imp) || slices.Contains(files, imp) && top != "cmd" && !helper {
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

// order lists the packages of eval, the lowest first: each may import only those
// before it. First what a design is made of, then what its text means, then the
// numbers, then what came out.
var order = []string{
	"eval/maybe", "eval/word", "eval/opening", "eval/wire", "eval/design", "eval/dim", "eval/kind", "eval/relation", "eval/caliper", "eval/orders",
	"eval/shelf", "eval/material", "eval/resolve", "eval/mention", "eval/columns", "eval/model", "eval/expr", "eval/compile",
	"eval/solve/sparse", "eval/solve/graph", "eval/solve/linear", "eval/solve/lsq", "eval/solve/root", "eval/solve/plan", "eval/solve/optimize",
	"eval/solve/must", "eval/solve/adjust", "eval/solve/level", "eval/solve", "eval/solve/solvetest",
	"eval/solution", "eval/outcome", "eval/tell", "eval/advice", "eval", "eval/evaltest", "eval/fit",
}

// compiled is the last package of the order that works on the syntax tree of a
// design; seesTree lists those after it that see one all the same, and why.
const compiled = "eval/compile"

var seesTree = map[string]string{
	"eval":          "it hands the tree of a design on to resolve",
	"eval/evaltest": "it parses the designs of tests",
	"eval/fit":      "it reads the patterns of the shelf, which no design need use",
}

// climbs lists what is wrong with the imports of a package by the order.
func climbs(p pkg) []string {
	place := slices.Index(order, p.name())
	if place < 0 {
		return []string{p.name() + " has no place in the order of eval's packages"}
	}
	var wrong []string
	for _, imp := range p.Imports {
		own, ours := strings.CutPrefix(imp, module+"/")
		switch {
		case !ours:
		case below(own, "eval") && slices.Index(order, own) >= place:
			wrong = append(wrong, p.name()+" must not import "+own+", which is above it")
		case (own == "lang/ast" || own == "lang/parse") && place > slices.Index(order, compiled) && seesTree[p.name()] == "":
			wrong = append(wrong, p.name()+" must not import "+own+": after "+compiled+" nothing sees the syntax tree")
		}
	}
	return wrong
}

// No arrow between the packages of eval runs back up, and after compiling
// nothing sees the syntax tree.
func TestOrderOfEval(t *testing.T) {
	found := map[string]pkg{}
	for _, p := range listPackages(t) {
		if !below(p.name(), "eval") {
			continue
		}
		found[p.name()] = p
		for _, wrong := range climbs(p) {
			t.Error(wrong)
		}
	}
	for i, name := range order {
		if _, ok := found[name]; !ok || slices.Index(order, name) != i {
			t.Errorf("%s stands in the order of eval's packages but isn't one, or twice", name)
		}
	}
	for name, why := range seesTree {
		if !slices.ContainsFunc(found[name].Imports, func(imp string) bool {
			return strings.HasPrefix(imp, module+"/lang/ast") || imp == module+"/lang/parse"
		}) {
			t.Errorf("%s may see the syntax tree (%s), but doesn't", name, why)
		}
	}
	// The rules themselves, tried on imports that break them.
	for _, test := range []struct {
		name, imports string
		wrong         bool
	}{
		{"eval/kind", "foredge/eval/dim", false},
		{"eval/dim", "foredge/eval/kind", true},
		{"eval/model", "foredge/eval/compile", true},
		{"eval/solve", "foredge/eval/tell", true},
		{"eval/solve/linear", "foredge/eval/solve", true},
		{"eval/expr", "foredge/lang/ast", false},
		{"eval/outcome", "foredge/lang/ast", true},
		{"eval/solution", "foredge/lang/parse", true},
		{"eval/fit", "foredge/lang/ast", false},
		{"eval/novelty", "fmt", true},
	} {
		p := pkg{ImportPath: module + "/" + test.name, Imports: []string{test.imports}}
		if got := climbs(p); (len(got) > 0) != test.wrong {
			t.Errorf("%s importing %s: %v", test.name, test.imports, got)
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
		{"layout/nest", "foredge/layout/sheet", false},
		{"layout/nest", "gonum.org/v1/gonum/optimize/convex/lp", true},
		{"export/svg", "foredge/eval", true},
		{"export/svg", "foredge/lang/source", true},
		{"export/svg", "foredge/layout/geom", false},
		{"export/svg", "foredge/export/exporttest", true},
		{"export/svg", "foredge/lang/foretest", true},
		{"export/exporttest", "foredge/lang/foretest", false},
		{"export/exporttest", "foredge/lang/source", true},
		{"cmd/foredge", "os", false},
		{"cmd/foredge", "net/http", true},
		{"cmd/internal/view", "net/http", false},
		{"cmd/internal/serve", "net", true},
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
