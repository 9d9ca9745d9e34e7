package parse

import (
	"strings"
	"testing"

	"foredge/lang/ast"
	"foredge/lang/ast/asttest"
	"foredge/lang/source"
)

// seed adds all designs of the test data, right and wrong, and some texts
// that no design file would hold.
func seed(f *testing.F) {
	for _, src := range designs(f, corpus, valid, wrong) {
		f.Add(src.Text())
	}
	for _, s := range []string{
		"", "\n", "#", "{", "}", "(", "\"", "\\", ".", "a.", "a.1.", "5 1/", "1/2/3", "a=\"\\", "gap 3", "±", "\xef\xbb\xbf", "\x00", "\xff",
		"a b {{{}", "a b # c\n{ # d\n} # e", "a = 1,\n# c\n2", "a = 1,\n\n\n", "prefer weight weight", "let", "when when when", "mark mark mark",
		strings.Repeat("(", 100), strings.Repeat("a b{", 100), strings.Repeat("-", 100) + "1", "x = " + strings.Repeat("not ", 100),
		"check " + strings.Repeat("a <= ", 50) + "b", "a\r\nb\rc", "use \"\u202e\"", "é-è = ½", "a = 1 # c\r\n# d\r\n\r\n# e",
		"+000", "0\"0;", "+ +", "a = +", "/ /", "1 1/1 1/1", "a.b.1.2.c", "1mm-", "a b on c.d.", "let a = b = c", "a = b {", "gap 1/2 = 3",
	} {
		f.Add(s)
	}
}

// Whatever the text, scanning ends, and its tokens and comments stand in
// order, without overlap, with nothing but blanks between them.
func FuzzLex(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		src := source.New("fuzz.fore", []byte(text))
		p := &parser{src: src, text: src.Text()}
		if !p.checkText() {
			return
		}
		p.scan()
		checkTokens(t, p)
	})
}

func checkTokens(t testing.TB, p *parser) {
	t.Helper()
	text, last, next := p.text, 0, 0
	blank := func(end int) {
		for next < len(p.comments) && int(p.comments[next].start) < end {
			c := p.comments[next]
			if int(c.start) < last || c.end <= c.start {
				t.Fatalf("a comment at %d-%d, after %d", c.start, c.end, last)
			}
			if between := text[last:c.start]; strings.Trim(between, " \t\r\n\u00a0") != "" && onlyBlank(between) != "" {
				t.Fatalf("%q was left out", between)
			}
			last = int(c.end)
			next++
		}
		if end < last || onlyBlank(text[last:end]) != "" {
			t.Fatalf("%q was left out", text[last:max(last, end)])
		}
	}
	for i, tok := range p.toks {
		if tok.kind == eol {
			if i == 0 || p.toks[i-1].kind == eol {
				t.Fatalf("an empty line has an end at %d", tok.start)
			}
		}
		blank(int(tok.start))
		last = int(tok.end)
		if (tok.kind == eof) != (i == len(p.toks)-1) || tok.kind != eof && tok.end <= tok.start {
			t.Fatalf("token %d of %d is %+v", i, len(p.toks), tok)
		}
	}
}

// onlyBlank returns what is no blank of a stretch of text.
func onlyBlank(s string) string { return strings.Join(strings.Fields(s), "") }

// Whatever the text, reading it ends with a sound tree, and what can't be
// read has been reported: a broken part never goes with an empty list.
func FuzzParse(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		src := source.New("fuzz.fore", []byte(text))
		file, diags := File(src)
		checkTree(t, file)
		broken := false
		asttest.Walk(file, func(n ast.Node) bool {
			switch n.(type) {
			case *ast.BadStmt, *ast.BadExpr:
				broken = true
			}
			return true
		})
		if broken && !diags.HasErrors() {
			t.Fatal("a part is broken and no error was reported")
		}
		lines := map[int]bool{}
		for _, d := range diags {
			if d.Message == "" || d.Code == "" || d.Help == "" && d.Code != codeCharacter && d.Code != codeSyntax {
				t.Fatalf("%v: the message %q (%s) has the hint %q", d.Span, d.Message, d.Code, d.Help)
			}
			line := src.Position(d.Span.Start).Line
			if lines[line] && d.Code != codeManyWrong {
				t.Fatalf("line %d has two errors", line)
			}
			lines[line] = true
		}
		asttest.Dump(file)
	})
}
