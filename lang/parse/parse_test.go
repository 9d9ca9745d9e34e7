package parse

import (
	"fmt"
	"strings"
	"testing"

	"foredge/lang/ast/asttest"
	"foredge/lang/diag"
	"foredge/lang/foretest"
	"foredge/lang/source"
)

// TestComments shows which statement owns a comment, in the form of asttest.Dump:
// ^ before it, > after it, { after its opening brace, } at its end.
func TestComments(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"above and at the end of the line", "# a\n\n# b\nx = 1 # c\ny = 2\n", `^ "# a"
^ "# b" blank
(x = 1)
> "# c"
(y = 2)
`},
		{"in a block", "panel p { # a\n  # b\n  x = 1 # c\n\n  # d\n} # e\n# f\n", `(decl panel p)
  { "# a"
  ^ "# b"
  (x = 1)
  > "# c"
  } "# d" blank
> "# e"
} "# f"
`},
		{"blocks on one line", "panel p { region r { x = 1; y = 2 } } # a\n", `(decl panel p)
  (decl region r)
    (x = 1)
    (y = 2)
> "# a"
`},
		{"several on one line", "x = 1; y = 2; # a\n", `(x = 1)
(y = 2)
> "# a"
`},
		{"inside a list", "x = 1, # a\n  # b\n  2 # c\n", `^ "# a"
^ "# b"
(x = (list 1 2))
> "# c"
`},
		{"empty block", "panel p { # a\n # b\n}", `(decl panel p)
  { "# a"
  } "# b"
`},
		{"last statement before the brace", "panel p {\n x = 1 } # a\n", `(decl panel p)
  (x = 1)
> "# a"
`},
		{"only comments", "# a\n\n# b", `} "# a"
} "# b" blank
`},
		{"after a statement that ends in a brace's line", "mark frame { x = 1 # a\n}\n", `(mark mark frame)
  (x = 1)
  > "# a"
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			file, diags := File(source.New("t.fore", []byte(c.text)))
			for _, d := range diags {
				t.Errorf("%v: %s", d.Span, d.Message)
			}
			checkTree(t, file)
			if got := asttest.Dump(file); got != c.want {
				t.Errorf("got\n%swant\n%s", got, c.want)
			}
		})
	}
}

// The comments of a block that is too deep to be read belong to it, and none is
// lost or handed to the file.
func TestCommentsTooDeep(t *testing.T) {
	text := strings.Repeat("a b {\n", maxNesting) + "c d { # deep\n# deeper\n}\n" + strings.Repeat("}\n", maxNesting)
	file, _ := File(source.New("t.fore", []byte(text)))
	checkTree(t, file)
	if dump := asttest.Dump(file); len(file.Comments.End) > 0 || !strings.Contains(dump, `} "# deep"`) || !strings.Contains(dump, `} "# deeper"`) {
		t.Errorf("the file has %d comments:\n%s", len(file.Comments.End), dump)
	}
}

// A broken part leaves the rest of the tree whole.
func TestRecovery(t *testing.T) {
	const text = `units mm
panel front {
  width 140
  height = 210
  region title {
    head = = 3
    tail = 4
  }
  thick = 3 mn
}
panel back mirror front { width = 3 }
let board = 2.5
`
	const want = `(units mm)
(decl panel front)
  (bad)
  (height = 210)
  (decl region title)
    (head = BAD)
    (tail = 4)
  (thick = BAD)
(decl panel back)
  (width = 3)
(let board 2.5)
`
	file, diags := File(source.New("t.fore", []byte(text)))
	checkTree(t, file)
	if got := asttest.Dump(file); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	var lines []int
	for _, d := range diags {
		lines = append(lines, file.Source.Position(d.Span.Start).Line)
	}
	if fmt.Sprint(lines) != "[3 6 9 11]" {
		t.Errorf("errors on the lines %v", lines)
	}
}

// What is beyond a limit, or no text at all, is refused at once with one
// clear error.
func TestLimits(t *testing.T) {
	nested := strings.Repeat("a b {\n", 64) + strings.Repeat("}\n", 64)
	brackets := "x = " + strings.Repeat("(", 64) + "1" + strings.Repeat(")", 64)
	for _, c := range []struct {
		name, text, want string
		code             diag.Code
	}{
		{"1 MiB", strings.Repeat("# 345678901234\n\n", 1<<16), "", ""},
		{"more than 1 MiB", strings.Repeat("# 345678901234\n\n", 1<<16) + "\n", "1.0 MiB long; a design file has at most 1 MiB", "file-too-large"},
		{"2 MiB", strings.Repeat("x = 1\n", 2<<20/6+1), "2.0 MiB long", "file-too-large"},
		{"64 blocks", nested, "", ""},
		{"65 blocks", "a b {\n" + nested + "}", "blocks are nested more than 64 deep", "too-deep"},
		{"100,000 blocks", strings.Repeat("a b {", 100_000), "blocks are nested more than 64 deep", "too-deep"},
		{"100,000 braces", strings.Repeat("{", 100_000), "nothing stands before this {", "syntax"},
		{"64 brackets", brackets, "", ""},
		{"65 brackets", "x = (" + brackets[4:] + ")", "brackets are nested more than 64 deep", "too-deep"},
		{"100,000 brackets", "x = " + strings.Repeat("(", 100_000) + "1" + strings.Repeat(")", 100_000), "more than 64 deep", "too-deep"},
		{"100,000 open brackets", strings.Repeat("(", 100_000), "more than 64 deep", "too-deep"},
		{"100,000 calls", "x = " + strings.Repeat("max(", 100_000), "more than 64 deep", "too-deep"},
		{"100,000 signs", "x = " + strings.Repeat("- ", 100_000) + "1", "more than 64 deep", "too-deep"},
		{"100,000 nots", "check " + strings.Repeat("not ", 100_000) + "a", "more than 64 deep", "too-deep"},
		{"1,000 terms", "x = 1" + strings.Repeat("+1", 1000), "", ""},
		{"100,000 terms", "x = 1" + strings.Repeat("+1", 100_000), "more than 1000 parts", "too-long"},
		{"terms of both sides", "x" + strings.Repeat("+1", 600) + " >= 1" + strings.Repeat("+1", 600), "more than 1000 parts", "too-long"},
		{"100,000 comparisons", "check a" + strings.Repeat("<a", 100_000), "more than 1000 parts", "too-long"},
		{"64 parts of a name", "x = a" + strings.Repeat(".a", 63), "", ""},
		{"100,000 parts of a name", "x = a" + strings.Repeat(".a", 100_000), "more than 64 parts", "too-deep"},
		{"100,000 parts of a thing's name", "row a like a" + strings.Repeat(".a", 100_000), "more than 64 parts", "too-deep"},
		{"a name of 256 letters", strings.Repeat("a", 256) + " = 3", "", ""},
		{"a name of 100,000 letters", strings.Repeat("a", 100_000) + " = 3", "is longer than 256 letters", "too-long"},
		{"a long list", "x = 1" + strings.Repeat(", 1", 100_000), "", ""},
		{"a zero byte", "x = 1\n\x00", "not a text file", "encoding"},
		{"UTF-16", "\xff\xfex\x00=\x001\x00", "not a UTF-8 text file", "encoding"},
		{"not UTF-8", "x = 1 # caf\xe9", "the byte E9 is no character", "encoding"},
		{"nothing", "", "", ""},
		{"only a byte-order mark", "\xef\xbb\xbf", "", ""},
		{"a huge number", "x = " + strings.Repeat("9", 1000), "is too large", "number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			file, diags := File(source.New("t.fore", []byte(c.text)))
			checkTree(t, file)
			switch {
			case c.want == "" && len(diags) == 0:
			case c.want == "" || len(diags) != 1 || !strings.Contains(diags[0].Message, c.want):
				for _, d := range diags[:min(len(diags), 5)] {
					t.Errorf("%d: %s", d.Span.Start, d.Message)
				}
				t.Errorf("%d errors, want %q", len(diags), c.want)
			case diags[0].Code != c.code:
				t.Errorf("the code is %s", diags[0].Code)
			case diags[0].Help == "" || len(diags[0].Message) > 200:
				t.Errorf("the error is %q (%q)", diags[0].Message, diags[0].Help)
			}
		})
	}
}

// Whatever a long file holds, it takes no more time than its length
// warrants: none of these ends if something is looked at again and again.
func TestLongFiles(t *testing.T) {
	for _, unit := range []string{
		"a b{}", "a b{", "}", "{", "{}", "x=1;", "x=1\n", "§", "a ", "a.", "a,", "a=", "=", "1 ", "1/", "\"a\" ", "\"", "(", ")", "#\n", "# ", "\n",
		"a b on c ", "a b when c ", "a b\n{", "a=1,\n", "a.a.a.a.a.a,\n", "mark frame{}", "let a=", "prefer a=1 weight ", "check a else ", "not ", "-", "- ",
		"x=rect 1 by 2,", "gap 1 ", "corner a ", "a b{\n}\n", "a b {\n  c d {\n}\n", "a b{# c\n}# d\n", "x = 3 mn;", "x = 3 mn\n", "é", "_", "a-", "\\", "4 3/4 ", "x=(1\n",
	} {
		text := strings.Repeat(unit, maxBytes/foretest.Sample(4, 40)/len(unit))
		file, _ := File(source.New("t.fore", []byte(text)))
		if file == nil {
			t.Errorf("%q gives no tree", unit)
		}
	}
}

// A file full of errors shows many, but not without end.
func TestManyErrors(t *testing.T) {
	file, diags := File(source.New("t.fore", []byte(strings.Repeat("width 3\n", 100_000))))
	if n := len(diags); n != maxErrors+1 || diags[n-1].Code != "too-many-errors" {
		t.Errorf("%d errors", n)
	}
	if len(file.Stmts) != 100_000 {
		t.Errorf("%d statements", len(file.Stmts))
	}
}

// Line ends and a byte-order mark make no difference to the tree.
func TestLineEnds(t *testing.T) {
	for name, src := range designs(t, corpus, valid) {
		want, _ := File(src)
		text := "\xef\xbb\xbf" + strings.ReplaceAll(src.Text(), "\n", "\r\n")
		got, diags := File(source.New(name, []byte(text)))
		if len(diags) > 0 {
			t.Errorf("%v: %s", diags[0].Span, diags[0].Message)
		}
		checkTree(t, got)
		if asttest.Dump(got) != asttest.Dump(want) {
			t.Errorf("%s is read otherwise with CRLF", name)
		}
	}
}

// No message holds a word of our trade that a maker doesn't use.
func TestMakersWords(t *testing.T) {
	for _, src := range designs(t, wrong) {
		_, diags := File(src)
		for _, d := range diags {
			for _, w := range []string{"token", "parse", "AST", "identifier", "expression", "statement ", "operand", "EOF", "EOL", "syntax", "literal", "lexer", "unexpected", "grammar"} {
				if strings.Contains(d.Message, w) || strings.Contains(d.Help, w) {
					t.Errorf("%v: %q (%q) says %q", d.Span, d.Message, d.Help, w)
				}
			}
		}
	}
}

// The grammar of what statements open with, as package participle has it:
// a change of it is to be seen in a golden file.
func TestGrammar(t *testing.T) {
	got := theGrammar().decl.String() + "\n" // any production shows all of them
	foretest.Golden(t, "testdata/heads.ebnf", []byte(got))
}
