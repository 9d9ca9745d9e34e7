package diag_test

import (
	"fmt"
	"strings"
	"testing"

	"foredge/lang/diag"
	"foredge/lang/source"
)

// Of very many notes the first and the last are shown, and how many lie between.
func TestManyNotes(t *testing.T) {
	for n, want := range map[int]string{60: "", 61: "and 1 more here", 800: "and 740 more here"} {
		var l diag.List
		d := l.Errorf("clash", source.Span{}, "these lines can't all hold")
		for i := range n {
			d.Note(source.Span{}, "line %d", i)
		}
		var b strings.Builder
		if err := diag.WriteText(&b, l, diag.TextOptions{}); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		if strings.Contains(text, "more here") != (want != "") || !strings.Contains(text, want) || strings.Count(text, "  line ") != min(n, 60) {
			t.Errorf("of %d notes: %d are shown, want %q in\n%s", n, strings.Count(text, "  line "), want, text)
		}
		if last := fmt.Sprintf("  line %d\n", n-1); !strings.HasSuffix(text, last) {
			t.Errorf("of %d notes the last isn't shown", n)
		}
	}
}
