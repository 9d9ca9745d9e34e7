package driver_test

import (
	"context"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/ast"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// otherValues take the place of what a line states; a value that can't be one is told.
var otherValues = []string{"0", "-1", "0.001", "1e3", "1000000", "\"x\"", "most", "yes", "5, 5.1", "2 * 3", "30 %", "45 deg", "3 by 4", "nothing", "9 exact", "1 in"}

// notSaid is what no message may say: a number that is none.
var notSaid = regexp.MustCompile(`\b(NaN|[+-]?Inf)\b|%!`)

// Whatever a line of a design states, however often, nothing fails and nothing is told that
// can't be read: of each kind of thing each line that stands in a rule or an example is left
// out, stated twice, and stated with other values.
func TestLinesOtherwise(t *testing.T) {
	tried := map[string]bool{}
	root := foretest.Root(t)
	var files []string
	for _, folder := range []string{"examples", "testdata/rules", "testdata/corpus"} {
		found, err := filepath.Glob(filepath.Join(root, filepath.FromSlash(folder), "*.fore"))
		foretest.Must(t, err)
		files = append(files, found...)
	}
	n := 0
	for i, path := range files {
		if testing.Short() && i%20 > 0 {
			continue
		}
		text := foretest.Read(t, path)
		tree, _ := parse.File(source.New(path, []byte(text)))
		visit := func(node ast.Node) bool {
			var kind string
			var body *ast.Block
			switch d := node.(type) {
			case *ast.Decl:
				kind, body = d.Kind.Name, d.Body
			case *ast.Mark:
				kind, body = d.Verb.Name+" "+d.What.Name, d.Body
			}
			if body == nil {
				return true
			}
			for _, stmt := range body.Stmts {
				at := stmt.Span()
				said := text[at.Start:at.End]
				key := kind + " " + strings.TrimSpace(strings.Split(said, "=")[0])
				if _, decl := stmt.(*ast.Decl); decl || len(key) > 60 {
					key = kind + " " + strings.Fields(said)[0]
				}
				if tried[key] {
					continue
				}
				tried[key] = true
				others := []string{"", said + "; " + said}
				if r, ok := stmt.(*ast.Relation); ok && len(r.Rest) == 1 {
					v := r.Rest[0].Value.Span()
					for _, other := range otherValues {
						one := text[at.Start:v.Start] + other
						others = append(others, one, said+"; "+one)
					}
				}
				for _, other := range others {
					n++
					tryOtherwise(t, path, text[:at.Start]+other+text[at.End:], key+": "+other)
				}
			}
			return true
		}
		for _, stmt := range tree.Stmts {
			ast.Walk(stmt, visit)
		}
	}
	t.Logf("%d lines of %d kinds", n, len(tried))
}

// tryOtherwise checks a text in place of a design, and draws it.
func tryOtherwise(t *testing.T, path, text, what string) {
	t.Helper()
	session := driver.NewSession(nil)
	foretest.Must(t, session.SetText(path, []byte(text)))
	r := session.Check(context.Background(), path)
	if r.Err != nil {
		t.Errorf("%s, %s: %v", filepath.Base(path), what, r.Err)
	}
	for _, d := range r.Diagnostics {
		said := []string{d.Message, d.Help}
		for _, n := range d.Notes {
			said = append(said, n.Message)
		}
		if i := slices.IndexFunc(said, notSaid.MatchString); i >= 0 {
			t.Errorf("%s, %s: told %q", filepath.Base(path), what, said[i])
		}
	}
}
