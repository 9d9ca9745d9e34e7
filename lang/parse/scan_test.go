package parse

import (
	"strings"
	"testing"

	"foredge/lang/source"
)

// TestScan shows how texts are cut up: tokens divided by blanks, a line end
// as ↵.
func TestScan(t *testing.T) {
	names := map[kind]string{eol: "↵", within: "±"}
	for _, c := range []struct{ text, want string }{
		{"width = 140", "width = 140"},
		{"width-gap", "width-gap"},
		{"width - gap", "width - gap"},
		{"width -gap", "width - gap"},
		{"width- gap", "width - gap"},
		{"a--b", "a - - b"},
		{"twin-loop-3", "twin-loop-3"},
		{"head-spine.x", "head-spine . x"},
		{"Größe größe-ß ширина 幅 é", "Größe größe-ß ширина 幅 é"},
		{"cafe\u0301-au", "cafe\u0301-au"}, // an accent as a character of its own
		{"x²", "x ?²"},
		{"12 12.5 .5 0.5", "12 12.5 .5 0.5"},
		{"12mm 4 3/4in 20%", "12 mm 4 3 / 4 in 20 %"},
		{"a.5", "a . 5"},
		{"a.gap.3.4", "a . gap . 3 . 4"},
		{"1.5.x", "1.5 . x"},
		{"a+.5", "a + .5"},
		{"148.2±0.05 148.2 +/- 0.05", "148.2 ± 0.05 148.2 ± 0.05"},
		{"3<=a<=5>=b!=c<d>e=f", "3 <= a <= 5 >= b != c < d > e = f"},
		{"(a,b);{c}", "( a , b ) ; { c }"},
		{"a*b/c+d-e", "a * b / c + d-e"},
		{`"a # b" # c`, `"a # b"`},
		{`"a \" b" "c\\" d`, `"a \" b" "c\\" d`},
		{"a\n\n\n# c\n  b\n", "a ↵ b ↵"},
		{"\n\n a", "a"},
		{"a\r\nb", "a ↵ b"},
		{"a\u00a0=\u20093", "a = 3"}, // blanks of text programs
	} {
		src := source.New("t.fore", []byte(c.text))
		p := &parser{src: src, text: src.Text()}
		p.scan()
		checkTokens(t, p)
		var got []string
		for _, tok := range p.toks[:len(p.toks)-1] {
			switch name := names[tok.kind]; {
			case name != "":
				got = append(got, name)
			case tok.kind == bad:
				got = append(got, "?"+tok.text(p))
			default:
				got = append(got, tok.text(p))
			}
		}
		if g := strings.Join(got, " "); g != c.want {
			t.Errorf("%q is cut into %s, want %s", c.text, g, c.want)
		}
	}
}

// The lexer that package participle knows gives the same tokens as scan.
func TestDefinition(t *testing.T) {
	lex, err := definition{}.Lex("t.fore", strings.NewReader("panel front { # c\n width = 3; a = \"b\" § }"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for {
		tok, err := lex.Next()
		if err != nil {
			t.Fatal(err)
		}
		if tok.EOF() {
			break
		}
		got = append(got, tok.Value)
	}
	if g := strings.Join(got, "|"); g != "panel|front|{|\n|width|=|3|;|a|=|\"b\"|§|}" {
		t.Errorf("got %q", g)
	}
}
