package serve_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"foredge/eval/kind"
	"foredge/lang/ast"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// npm runs a script under node with packages that FOREDGE_NPM names the node_modules of.
func npm(t *testing.T, script string, args ...string) []byte {
	t.Helper()
	node := foretest.Program(t, "node", "nodejs")
	folder := os.Getenv("FOREDGE_NPM")
	if folder == "" {
		foretest.Missing(t, "npm's packages for editors (FOREDGE_NPM names their node_modules)")
	}
	cmd := exec.Command(node, append([]string{script}, args...)...)
	cmd.Env = append(os.Environ(), "NODE_PATH="+folder)
	return foretest.Output(t, cmd)
}

// A stretch of a line with its scope.
type stretch struct {
	line, from, to int
	scope          string
}

func (s *stretch) UnmarshalJSON(b []byte) error {
	return json.Unmarshal(b, &[]any{&s.line, &s.from, &s.to, &s.scope})
}

// The grammar for editors, as npm's vscode-textmate reads it, tells apart what the parser
// tells apart in every example: comments, texts, numbers and their units, words of
// statements, kinds, what is declared, functions.
func TestGrammarAsParser(t *testing.T) {
	root := foretest.Root(t)
	files, err := filepath.Glob(filepath.Join(root, "examples", "*.fore"))
	foretest.Must(t, err)
	examples := len(files)
	more, err := filepath.Glob(filepath.Join(root, "testdata", "corpus", "*.fore"))
	foretest.Must(t, err)
	files = append(files, more...)
	var coloured map[string][]stretch
	foretest.Must(t, json.Unmarshal(npm(t, "testdata/textmate.js", append([]string{filepath.Join(root, "examples/editors/foredge.tmLanguage.json")}, files...)...), &coloured))
	compared := 0
	for _, file := range files {
		src := source.New(file, []byte(foretest.Read(t, file)))
		tree, diags := parse.File(src)
		if diags.HasErrors() {
			continue
		}
		at := map[[2]int]string{}
		for _, s := range coloured[file] {
			for c := s.from; c < s.to; c++ {
				at[[2]int{s.line, c}] = s.scope
			}
		}
		for offset, want := range meanings(tree) {
			line := src.LineNumber(offset)
			text, start := src.Line(line)
			column := len(utf16.Encode([]rune(text[:offset-start])))
			if got := at[[2]int{line - 1, column}]; !strings.HasPrefix(got, want) {
				t.Errorf("%s:%d:%d: %q is coloured as %q, want %s", filepath.Base(file), line, column+1, strings.TrimSpace(text[offset-start:]), got, want)
			}
			compared++
		}
	}
	if compared < 2000 {
		t.Errorf("only %d places were compared", compared)
	}
	for _, file := range files[:examples] {
		var golden bytes.Buffer
		for _, s := range coloured[file] {
			fmt.Fprintf(&golden, "%d:%d-%d %s\n", s.line+1, s.from+1, s.to+1, s.scope)
		}
		foretest.Golden(t, "testdata/scopes/"+strings.TrimSuffix(filepath.Base(file), ".fore")+".txt", golden.Bytes())
	}
}

// meanings says what stands at places of a text, by the beginning of a scope.
func meanings(tree *ast.File) map[int]string {
	out := map[int]string{}
	for _, tok := range parse.Tokens(tree.Source) {
		switch tok.Kind {
		case parse.Comment:
			out[tok.Start] = "comment"
		case parse.Text:
			out[tok.Start] = "string"
		case parse.Number:
			if !strings.HasSuffix(tree.Source.Text()[:tok.Start], ".") { // part of a name, as in pane.2.3
				out[tok.Start] = "constant.numeric"
			}
		}
	}
	ast.Walk(&ast.Block{Stmts: tree.Stmts}, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Decl:
			out[n.Kind.At.Start] = "storage.type"
			if n.Name.Name != "" {
				out[n.Name.At.Start] = "entity.name.type"
			}
			for _, c := range n.Clauses {
				out[c.Word.At.Start] = "keyword.control"
			}
		case *ast.Let:
			out[n.Span().Start] = "keyword.control"
			out[n.Name.At.Start] = "variable.other.constant"
		case *ast.Prefer, *ast.Check, *ast.Use, *ast.Units, *ast.Without, *ast.Version:
			out[n.Span().Start] = "keyword.control"
		case *ast.Mark:
			out[n.Verb.At.Start] = "keyword.other.mark"
		case *ast.Call:
			out[n.Func.At.Start] = "support.function"
		case *ast.Name:
			if out[n.Span().Start] == "" {
				out[n.Span().Start] = ""
			}
		case *ast.Indexed:
			delete(out, n.Index.At.Start)
		case *ast.Number:
			if n.Unit != "" {
				out[n.Span().End-len(n.Unit)] = "keyword.other.unit"
			}
		}
		return true
	})
	for offset, want := range out {
		if want == "" {
			delete(out, offset)
		}
	}
	return out
}

// The words of the grammar are those of the language.
func TestGrammarHasAllWords(t *testing.T) {
	text := foretest.Read(t, filepath.Join(foretest.Root(t), "examples/editors/foredge.tmLanguage.json"))
	for what, words := range map[string][]string{"a kind": kind.Names(), "a unit": unit.Names()} {
		for _, w := range words {
			if !regexp.MustCompile(`[(|:"]` + regexp.QuoteMeta(w) + `[)|(]`).MatchString(text) {
				t.Errorf("%s is missing: %s", what, w)
			}
		}
	}
	for _, k := range kind.Names() {
		for _, c := range kind.Find(k).Clauses {
			if !slices.Contains([]string{"on", "like", "mirrors", "covers", "when"}, c) {
				t.Errorf("a clause of %s that the grammar doesn't know: %s", k, c)
			}
		}
	}
}
