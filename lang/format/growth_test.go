package format

import (
	"strings"
	"testing"

	"foredge/lang/parse"
	"foredge/lang/source"
)

// Twice as long a text takes twice as many looks, whatever makes it long.
func TestGrowth(t *testing.T) {
	looks := func(text string) int {
		src := source.New("gull.fore", []byte(text))
		file, diags := parse.File(src)
		if diags.HasErrors() {
			t.Fatal(diags)
		}
		f := newFormatter(src, file)
		f.format(src)
		return f.looked
	}
	for name, text := range map[string]func(n int) string{
		"statements in a line": func(n int) string { return strings.Repeat("let a = 1; ", n) },
		"values of a list":     func(n int) string { return "let a = " + strings.Repeat("1, ", n) + "1" },
		"values in lines":      func(n int) string { return "a = " + strings.Repeat("1,\n", n) + "1" },
		"comments":             func(n int) string { return strings.Repeat("# aaa\n", n) },
		"comments at ends":     func(n int) string { return strings.Repeat("a = 1  # aaa\n", n) },
		"blocks in a line":     func(n int) string { return strings.Repeat("row a { b = 1 } ; ", n) },
		"blocks with a tail":   func(n int) string { return strings.Repeat("row a { b = 1 } ", n) },
		"blocks in a block":    func(n int) string { return "panel p { " + strings.Repeat("row a { b = 1 }; ", n) + "}" },
		"columns":              func(n int) string { return strings.Repeat("a    = 1\nabc  = 1\n", n) },
		"empty lines":          func(n int) string { return strings.Repeat("a = 1\n\n\n", n) },
		"signs":                func(n int) string { return "a = 1" + strings.Repeat(";", n) },
	} {
		t.Run(name, func(t *testing.T) {
			one, two := looks(text(500)), looks(text(1000))
			if one < 500 || two > 2*one+one/5 {
				t.Errorf("%d looks, and %d at twice as much", one, two)
			}
		})
	}
}
