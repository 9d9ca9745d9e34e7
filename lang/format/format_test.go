package format_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/lang/ast/asttest"
	"foredge/lang/foretest"
	"foredge/lang/format"
	"foredge/lang/parse"
	"foredge/lang/source"
)

func TestSource(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"blanks", "panel  front{width=100;height = 50}", "panel front { width = 100; height = 50 }\n"},
		{"depth", "panel p {\nregion r {\n\thead = 3 }\n}", "panel p {\n  region r {\n    head = 3\n  }\n}\n"},
		{"a line each for what holds lines", "panel p { width = 3\n height = 4; thick = 3 }", "panel p {\n  width = 3\n  height = 4; thick = 3\n}\n"},
		{"empty lines", "\n\nunits mm\n\n\n\nlet a = 3\npanel p {\n\n  width = 3\n\n}\n\n", "units mm\n\nlet a = 3\npanel p {\n  width = 3\n}\n"},
		{"signs", "let a=-3+ - b*(c -2)/max( a,b )\ncheck not( a<3 )and ( b=2)", "let a = -3 + -b * (c - 2) / max(a, b)\ncheck not (a < 3) and (b = 2)\n"},
		{"fractions stay fractions", "let a = 3/8 in\nlet b = 4 3/4in\nlet c = a / 2\nlet d = 1 / 16", "let a = 3/8 in\nlet b = 4 3/4 in\nlet c = a / 2\nlet d = 1 / 16\n"},
		{"units and per cent", "let a = 12mm\nlet b = 20%", "let a = 12 mm\nlet b = 20 %\n"},
		{"names and uncertainty", "a . b = 3±0.1\nc = 4 +/- 0.1", "a.b = 3 ± 0.1\nc = 4 +/- 0.1\n"},
		{"needless signs", "width = 3;\n;; height = 4 ; ; thick = 5;", "width = 3\nheight = 4; thick = 5\n"},
		{"columns stay", "width    = 3\nheight   = 4\nthick = 5", "width  = 3\nheight = 4\nthick = 5\n"},
		{"one alone is no column", "width    = 3\nheight = 4", "width = 3\nheight = 4\n"},
		{"columns of heads", "stock a like b     when x = 1\nstock abc          when x = 2 { thick = 3 }",
			"stock a like b when x = 1\nstock abc      when x = 2 { thick = 3 }\n"},
		{"comments in a column", "a = 1     # one\nbcd = 2\ne = 34    # two\n\nf = 1     # three", "a = 1   # one\nbcd = 2\ne = 34  # two\n\nf = 1  # three\n"},
		{"comments elsewhere", "# top\npanel p { # open\n# of width\nwidth = 3 # here\n  # last\n} # after\n  # end", "# top\npanel p {  # open\n  # of width\n  width = 3  # here\n  # last\n}  # after\n# end\n"},
		{"lists that go on", "a = 1,\n2,# two\n 3", "a = 1,\n    2,  # two\n    3\n"},
		{"too long a block", "region r { " + strings.Repeat("head = 3; ", 11) + "tail = 3 }",
			"region r {\n  " + strings.Repeat("head = 3; ", 11) + "tail = 3\n}\n"},
		{"too long a line", strings.Repeat("check width >= 3; ", 7) + "check width >= 4", strings.Repeat("check width >= 3\n", 7) + "check width >= 4\n"},
		{"ends of lines as they are", "a = 1\r\nb = 2\r\n", "a = 1\r\nb = 2\r\n"},
		{"nothing", "\n\n", ""},
		{"a comment alone", "   # gull", "# gull\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, diags := format.Source(source.New("gull.fore", []byte(c.in)))
			if len(diags) > 0 {
				t.Fatal(diags)
			}
			if got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
			laws(t, c.in)
		})
	}
}

var commentEnd = regexp.MustCompile(`( |\\t)*"( blank)?\n`)

// laws holds a text that can be read against what formatting promises. It reports
// whether it can be read.
func laws(t testing.TB, text string) bool {
	t.Helper()
	before := source.New("gull.fore", []byte(text))
	tree, diags := parse.File(before)
	if diags.HasErrors() {
		if out, told := format.Source(before); out != "" || !told.HasErrors() {
			t.Errorf("a text with errors became\n%s", out)
		}
		return false
	}
	once, _ := format.Source(before)
	after := source.New("gull.fore", []byte(once))
	again, diags := parse.File(after)
	if diags.HasErrors() {
		t.Fatalf("what came of\n%s\ncan't be read:\n%s\n%v", text, once, diags)
	}
	// Of a comment blanks at its end may go, and an empty line before it, as at the start
	// of a block.
	dump := func(s string) string { return commentEnd.ReplaceAllString(s, "\"\n") }
	if was, is := dump(asttest.Dump(tree)), dump(asttest.Dump(again)); was != is {
		t.Fatalf("the tree of\n%s\nchanged:\n%s", text, foretest.Difference([]byte(was), []byte(is)))
	}
	if twice, _ := format.Source(after); twice != once {
		t.Fatalf("formatting\n%s\ntwice:\n%s", text, foretest.Difference([]byte(once), []byte(twice)))
	}
	for i, line := range strings.Split(strings.TrimSuffix(strings.ReplaceAll(once, "\r\n", "\n"), "\n"), "\n") {
		if strings.TrimRight(line, " \t") != line || strings.HasPrefix(line, "\t") {
			t.Fatalf("line %d: %q", i+1, line)
		}
	}
	if strings.Contains(once, "\n\n\n") {
		t.Fatalf("two empty lines in\n%s", once)
	}
	return true
}

// designs are all texts of the tree.
func designs(t testing.TB) map[string]string {
	out := map[string]string{}
	for _, folder := range []string{"examples", "testdata", "eval/shelf"} {
		err := filepath.WalkDir(filepath.Join(foretest.Root(t), folder), func(path string, d os.DirEntry, err error) error {
			if err == nil && filepath.Ext(path) == ".fore" {
				out[path] = foretest.Read(t, path)
			}
			return err
		})
		foretest.Must(t, err)
	}
	return out
}

func TestLaws(t *testing.T) {
	read := 0
	for _, text := range designs(t) {
		if laws(t, text) {
			read++
		}
	}
	if read < 500 {
		t.Errorf("only %d designs could be read", read)
	}
}

// All designs of the tree are formatted but those that try how texts may be written.
func TestTreeIsFormatted(t *testing.T) {
	for path, text := range designs(t) {
		if !strings.Contains(path, "/examples/") && !strings.Contains(path, "/shelf/") && !strings.Contains(path, "/corpus/") {
			continue
		}
		if out, diags := format.Source(source.New(path, []byte(text))); !diags.HasErrors() && out != text {
			t.Errorf("%s isn't formatted: run foredge fmt on it", path)
		}
	}
}

// What stands between the tokens of designs is changed at random.
func TestLawsOfMutants(t *testing.T) {
	var texts []string
	for path, text := range designs(t) {
		if len(text) < 4000 && !strings.Contains(path, "errors") {
			texts = append(texts, text)
		}
	}
	between := []string{"", " ", "  ", "      ", "\t", "\n", "\n\n", "\n\n\n", "\r\n", ";", " ; ", "\n;\n", " # gull\n", "\n# tern\n", "\n\n# knot\n\n", "{", "}", ","}
	rnd := rand.New(rand.NewPCG(15, 1))
	read := 0
	for range foretest.Sample(10_000, 500) {
		text := texts[rnd.IntN(len(texts))]
		var b strings.Builder
		last := 0
		n := 1 + rnd.IntN(6)
		tokens := parse.Tokens(source.New("gull.fore", []byte(text)))
		for _, tok := range tokens {
			if rnd.IntN(len(tokens)) < n {
				b.WriteString(text[last:tok.Start] + between[rnd.IntN(len(between))])
				last = tok.Start
			}
		}
		b.WriteString(text[last:])
		if laws(t, b.String()) {
			read++
		}
	}
	t.Logf("%d could be read", read)
	if read < foretest.Sample(2000, 100) {
		t.Errorf("only %d could be read", read)
	}
}

// Texts are made at random from what the grammar allows.
func TestLawsOfGenerated(t *testing.T) {
	read := 0
	for seed := range uint64(foretest.Sample(10_000, 500)) {
		g := generator{rand.New(rand.NewPCG(seed, 15))}
		if laws(t, g.block(3)) {
			read++
		}
	}
	if read < foretest.Sample(8000, 400) {
		t.Errorf("only %d could be read", read)
	}
}

type generator struct{ *rand.Rand }

func (g generator) of(words ...string) string { return words[g.IntN(len(words))] }

// blank is what may stand between two tokens of a line.
func (g generator) blank() string { return g.of(" ", " ", "  ", "    ", "\t", "          ") }

func (g generator) block(depth int) string {
	var b strings.Builder
	for range g.IntN(6) {
		b.WriteString(g.of("", "", "  ", "\t") + g.stmt(depth) + g.of("\n", "\n", "\n", "; ", ";\n", "  # gull\n", "     # tern\n", "\n\n", "\n\n\n# knot\n"))
	}
	return b.String()
}

func (g generator) stmt(depth int) string {
	s := g.blank
	name := func() string { return g.of("width", "head", "a", "gull-wing", "first", "x9") }
	switch g.IntN(8) {
	case 0:
		return "let" + s() + name() + s() + "=" + s() + g.sum(3)
	case 1:
		return "check" + s() + g.sum(2) + s() + ">=" + g.sum(2)
	case 2:
		return "prefer" + s() + name() + "=" + g.sum(2) + s() + "weight" + s() + "2"
	case 3, 4:
		if depth > 0 {
			open := g.of("{", " {", "   {") + g.of("", " ", "\n", "\n\n", " # open\n")
			return g.of("panel", "region", "row") + s() + name() + open + g.block(depth-1) + g.of("}", " }", "\n}", "\n# last\n  }")
		}
	case 5:
		return name() + s() + "=" + g.sum(2) + ",\n" + s() + g.sum(2) + "," + g.sum(1)
	}
	return name() + s() + g.of("=", ">=", "<=") + s() + g.sum(3)
}

func (g generator) sum(depth int) string {
	s := func() string { return g.of("", " ", "  ") }
	if depth == 0 {
		return g.of("3", "3 mm", "12mm", "3/8 in", "4 3/4 in", "20%", "gull.width", "a", "-2", "max(a,3)", "sqrt( 2 )", "(3)")
	}
	return g.sum(depth-1) + s() + g.of("+ ", "- ", "* ", " / ") + s() + g.sum(depth-1)
}

func FuzzSource(f *testing.F) {
	for _, text := range designs(f) {
		f.Add(text)
	}
	for _, text := range []string{"", ";", "a=1;;", "{", "a = 1,\n# c\n2", "a b { # c\n}# d", "a b{c d{}\n}", "a = 3/8", "a = b/8", "a = - -3", "\xef\xbb\xbfa = 1"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { laws(t, text) })
}

func ExampleSource() {
	text, _ := format.Source(source.New("gull.fore", []byte("panel front{width=148;height=210}")))
	fmt.Print(text)
	// Output: panel front { width = 148; height = 210 }
}
