package shelf_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/eval/shelf"
)

// A testFunc is a test as it is written.
type testFunc struct {
	doc, body string
}

// tests reads the tests of the packages that the ledger names, by PACKAGE.TEST.
func tests(t *testing.T, packages ...string) map[string]testFunc {
	t.Helper()
	all := map[string]testFunc{}
	for _, dir := range packages {
		files, err := filepath.Glob(filepath.Join("../..", dir, "*_test.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range files {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, path, data, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range file.Decls {
				if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil && strings.HasPrefix(f.Name.Name, "Test") && f.Body != nil {
					all[dir+"."+f.Name.Name] = testFunc{f.Doc.Text(), string(data[set.Position(f.Body.Pos()).Offset:set.Position(f.Body.End()).Offset])}
				}
			}
		}
	}
	return all
}

// Each source that the ledger names stands among the sources with its author,
// title, place and year, or with the word that one of them isn't known; and none
// stands there idle.
func TestSourcesAreNamed(t *testing.T) {
	sources, used := publishedSources(t), map[string]bool{}
	for _, f := range facts(t) {
		if f.source == "worked out from the rule" || strings.HasPrefix(f.source, "from memory") || strings.HasPrefix(f.source, "common practice") {
			if f.mark == "source" || f.mark == "conflict" {
				t.Errorf("%s is marked %s and names no source", f.id, f.mark)
			}
			continue
		}
		for _, name := range strings.Split(f.source, "; ") {
			if _, ok := sources[name]; !ok {
				t.Errorf("%s: nothing says which source %q is", f.id, name)
			}
			used[name] = true
		}
	}
	for _, w := range shelf.Words() {
		for _, name := range strings.Split(w.Source, "; ") {
			used[name] = true
		}
	}
	for name, s := range sources {
		if s.author == "" || s.title == "" || s.where == "" || s.year == "" {
			t.Errorf("%s: author, title, place and year, or that they aren't known: %+v", name, s)
		}
		if !used[name] {
			t.Errorf("no fact and no word comes from %s", name)
		}
	}
}

// Every fact of the trade is asserted by a test that is there and speaks of it,
// or says why it can't be. What comes from memory or is common practice is
// asserted only as what the shelf says.
func TestLedger(t *testing.T) {
	written := tests(t, "eval/shelf", "eval", "eval/advice", "layout", "layout/advise")
	form := regexp.MustCompile(`^([a-z/]+)\.(Test\w+)(?: "(.+)")?$`)
	seen, byTable := map[string]bool{}, map[string]int{}
	for _, f := range facts(t) {
		table, name, ok := strings.Cut(f.id, "/")
		if !ok || name == "" || f.fact == "" || f.source == "" || seen[f.id] {
			t.Errorf("%q: a fact needs an id of its own, words and a source", f.id)
		}
		seen[f.id] = true
		byTable[table]++
		weak := f.mark == "memory" || f.mark == "practice"
		if !weak && f.mark != "source" && f.mark != "calc" && f.mark != "conflict" {
			t.Errorf("%s: the mark %q is unknown", f.id, f.mark)
		}
		if reason, none := strings.CutPrefix(f.test, "none: "); none {
			if len(reason) < 15 {
				t.Errorf("%s: %q is no reason", f.id, reason)
			}
			continue
		}
		m := form.FindStringSubmatch(f.test)
		if m == nil {
			t.Errorf("%s: %q names no test", f.id, f.test)
			continue
		}
		test, there := written[m[1]+"."+m[2]]
		if !there {
			t.Errorf("%s: there is no test %s in %s", f.id, m[2], m[1])
			continue
		}
		if weak != (m[2] == "TestAsTheShelfSays") {
			t.Errorf("%s is marked %s and must not be asserted by %s", f.id, f.mark, m[2])
		}
		// A test that takes its facts from the ledger asserts all of its own; any
		// other must speak of this one.
		mention := m[3]
		if mention == "" {
			mention = f.id
		}
		if !strings.Contains(test.body, `factsOf(t, "`+m[2]+`")`) && !strings.Contains(test.doc+test.body, mention) {
			t.Errorf("%s: %s doesn't speak of %q", f.id, m[2], mention)
		}
	}
	for table, least := range map[string]int{"1.1": 10, "1.2": 44, "1.3": 12, "1.4": 8, "1.5": 2, "2": 25, "2.1": 11, "2.2": 10, "3": 50, "3.1": 16,
		"3.2": 13, "3.3": 13, "3.4": 49, "3.5": 6, "4.1": 40, "4.2": 11, "4.3": 4, "4.4": 14, "4.5": 14, "4.6": 7, "6": 14} {
		if byTable[table] < least {
			t.Errorf("table %s has only %d facts", table, byTable[table])
		}
	}
}
