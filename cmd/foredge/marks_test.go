package main

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	parser "foredge/lang/parse"
	"foredge/lang/source"
)

// The reference says of each of its sentences what tries it, in comments that
// aren't seen where it is read:
//
//	<!-- tried: row-pitch, script/fit_tells, TestCovariance -->
//	<!-- untried: why it can't be -->
//
// A mark speaks for the sentences before it in the same paragraph, list item or
// row of a table, back to the mark before. Its names are those of designs in
// testdata/rules, of scripts in testdata/script, and of tests where only such
// can show it; layout.TestInlay tells one from others of the name by its folder.
// Tables that are made from data have tests of their own (TestReferenceTables).

// untriedShare is the largest share of sentences that may go untried.
const untriedShare = 0.04

var mark = regexp.MustCompile(`<!-- (tried|untried): (.*?) -->`)

// A passage is what one mark can stand in: a paragraph, list item or row.
type passage struct{ section, text string }

// passages are those of the reference, without headings, blocks of code, heads
// of tables and tables that are made from data.
func passages(text string) (all []passage) {
	section, made, code, open := "", false, false, false
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		begins := !open
		open = false
		switch {
		case strings.HasPrefix(line, "```"):
			code = !code
		case strings.HasPrefix(line, "<!-- made from"), line == "<!-- end -->":
			made = strings.HasPrefix(line, "<!-- made from")
		case code, made, strings.TrimSpace(line) == "":
		case strings.HasPrefix(line, "#"):
			section = strings.TrimLeft(line, "# ")
		case strings.HasPrefix(line, "|"):
			head := i+1 < len(lines) && strings.HasPrefix(lines[i+1], "|--")
			if !head && !strings.HasPrefix(line, "|--") {
				all = append(all, passage{section, line})
			}
		default:
			open = true
			if begins || regexp.MustCompile(`^(- |\d+\. )`).MatchString(line) {
				all = append(all, passage{section, line})
			} else {
				all[len(all)-1].text += " " + strings.TrimSpace(line)
			}
		}
	}
	return all
}

// sentences counts those of a text: what ends in a full stop, and a rest without.
func sentences(text string) int {
	text = strings.Trim(regexp.MustCompile("`[^`]*`|\\]\\([^)]*\\)").ReplaceAllString(text, "x"), " |-")
	ends := len(regexp.MustCompile(`[.!?][)"*]*(\s+|$)`).FindAllString(text, -1))
	if text != "" && !strings.HasSuffix(strings.TrimRight(text, `)"* `), ".") {
		ends++
	}
	return ends
}

func readReference(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(referencePath)
	foretest.Must(t, err)
	return string(data)
}

// Each sentence of the reference carries a mark, each name in a mark is there,
// and each design that tries a rule is named.
func TestReferenceIsTried(t *testing.T) {
	text := readReference(t)
	if m := regexp.MustCompile(`(?m)^\s*<!-- (tried|untried).*`).FindString(text); m != "" {
		t.Errorf("a mark that begins a line ends its paragraph: %s", m)
	}
	tests := testFunctions(t)
	lacking, named := map[string][]string{}, map[string]bool{}
	count := map[string]int{}
	for _, p := range passages(text) {
		rest := p.text
		for _, m := range mark.FindAllStringSubmatchIndex(p.text, -1) {
			start := len(p.text) - len(rest)
			kind, names := p.text[m[2]:m[3]], p.text[m[4]:m[5]]
			n := sentences(p.text[start:m[0]])
			rest = p.text[m[1]:]
			count[kind] += n
			if n == 0 {
				t.Errorf("%s: nothing stands before the mark of %s", p.section, names)
			}
			if kind == "untried" {
				continue
			}
			for name := range strings.SplitSeq(names, ", ") {
				named[name] = true
				if !isThere(name, tests) {
					t.Errorf("%s: there is no %s, or there are several, in the mark after %s", p.section, name, p.text[start:m[0]])
				}
			}
		}
		if n := sentences(rest); n > 0 {
			count["unmarked"] += n
			lacking[p.section] = append(lacking[p.section], rest)
		}
	}
	for section, rests := range lacking {
		t.Errorf("%s: no mark says what tries this (see the top of marks_test.go):\n\t%s", section, strings.Join(rests, "\n\t"))
	}
	all := count["tried"] + count["untried"] + count["unmarked"]
	t.Logf("of %d sentences %d are tried, %d can't be, %d have no mark", all, count["tried"], count["untried"], count["unmarked"])
	if share := float64(count["untried"]) / float64(all); share > untriedShare {
		t.Errorf("%.1f %% of the sentences are said to go untried, more than %.0f %%", 100*share, 100*untriedShare)
	}
	for _, name := range ruleNames(t) {
		if !named[name] {
			t.Errorf("no mark of the reference names testdata/rules/%s", name)
		}
	}
}

// isThere reports whether what a mark names is there, and only once.
func isThere(name string, tests map[string]int) bool {
	if strings.Contains(name, "Test") {
		return tests[name] == 1
	}
	paths := []string{"rules/" + name + ".fore", "rules/" + name + ".txtar"}
	if strings.HasPrefix(name, "script/") {
		paths = []string{name + ".txtar"}
	}
	return slices.ContainsFunc(paths, func(p string) bool {
		_, err := os.Stat(filepath.Join("../../testdata", filepath.FromSlash(p)))
		return err == nil
	})
}

// ruleNames are the designs that try rules.
func ruleNames(t *testing.T) (names []string) {
	t.Helper()
	entries, err := os.ReadDir("../../testdata/rules")
	foretest.Must(t, err)
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), filepath.Ext(e.Name())))
	}
	return names
}

// testFunctions says of each name of a test, alone and after its folder, how
// many of that name there are.
func testFunctions(t *testing.T) map[string]int {
	t.Helper()
	found := map[string]int{}
	for _, p := range listPackages(t) {
		for _, name := range slices.Concat(p.TestGoFiles, p.XTestGoFiles) {
			data, err := os.ReadFile(filepath.Join(p.Dir, name))
			foretest.Must(t, err)
			for _, m := range regexp.MustCompile(`(?m)^func (Test\w+)\(t \*testing`).FindAllSubmatch(data, -1) {
				found[string(m[1])]++
				found[p.name()+"."+string(m[1])]++
			}
		}
	}
	return found
}

// Each block of code in the reference is a design that can be built, beside the
// files that it may name; and what stands in a sentence as a whole thing with
// its braces can be read.
func TestReferenceCompiles(t *testing.T) {
	text := readReference(t)
	folder := t.TempDir()
	for name, data := range map[string]string{
		"orders.csv": "number,name,initials,copies\n1,Ada,A,2\n",
		"shop.fore":  "let page = 148\n",
	} {
		foretest.Must(t, os.WriteFile(filepath.Join(folder, name), []byte(data), 0o666))
	}
	blocks := regexp.MustCompile("(?ms)^```\\w*\n(.*?)^```").FindAllStringSubmatch(text, -1)
	if len(blocks) < 2 {
		t.Errorf("the reference has %d blocks of code", len(blocks))
	}
	for _, b := range blocks {
		path := filepath.Join(folder, "design.fore")
		foretest.Must(t, os.WriteFile(path, []byte(b[1]), 0o666))
		r := driver.NewSession(nil).Check(context.Background(), path)
		foretest.Must(t, r.Err)
		r.Diagnostics = slices.DeleteFunc(r.Diagnostics, func(d *diag.Diagnostic) bool { return d.Severity != diag.Error })
		if len(r.Diagnostics) > 0 {
			t.Errorf("this block of the reference is wrong:\n%s%s", b[1], diagtest.Text(r.Diagnostics))
		}
	}
	for _, m := range regexp.MustCompile("`([a-z]+ [^`]*\\{[^`]*\\})`").FindAllStringSubmatch(text, -1) {
		inside := strings.NewReplacer("{ ... }", "{ }", "\n", " ").Replace(m[1])
		if _, diags := parser.File(source.New("reference", []byte(inside))); diags.HasErrors() {
			t.Errorf("this can't be read:\n%s", diagtest.Text(diags))
		}
	}
}
