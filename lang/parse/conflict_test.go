package parse

import (
	"strings"
	"testing"

	"foredge/lang/source"
)

// Of two versions that version control has left the first is read, and each place is told
// once, whatever is written in them.
func TestConflicts(t *testing.T) {
	for _, c := range []struct {
		name, text string
		told       []int  // lines
		stmts      string // what is read, a statement a line
	}{
		{"one", "let a = 1\n<<<<<<< HEAD\nlet b = 2\n=======\nlet b = 3 }{\n>>>>>>> gulls\nlet c = 4\n", []int{2}, "let a = 1\nlet b = 2\nlet c = 4"},
		{"with what both came from", "<<<<<<< HEAD\nlet b = 2\n||||||| 1a2b3c\nlet b = 1\n=======\nlet b = 3\n>>>>>>> gulls\n", []int{1}, "let b = 2"},
		{"with other line ends", "<<<<<<< HEAD\r\nlet b = 2\r\n=======\r\nlet b = 3\r\n>>>>>>> gulls\r\n", []int{1}, "let b = 2"},
		{"two", "<<<<<<< a\n=======\nlet b = 3\n>>>>>>> b\n<<<<<<< a\nlet c = 1\n=======\n>>>>>>> b", []int{1, 5}, "let c = 1"},
		{"what is left", "let a = 1\n=======\nlet b = 2\n>>>>>>> gulls\n", []int{2, 4}, "let a = 1\nlet b = 2"},
		{"without an end", "<<<<<<<\nlet a = 1\n=======\nlet b = 2\n", []int{1, 3}, "let a = 1\nlet b = 2"},
		{"no mark", "let a = 1\n # =======\nlet b = \"<<<<<<< x\"\n", nil, "let a = 1\nlet b = \"<<<<<<< x\""},
		{"not at the beginning of a line, nor longer", " =======\n<<<<<<<< a\n", []int{1, 2}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := source.New("gull.fore", []byte(c.text))
			tree, diags := File(src)
			var read []string
			for _, s := range tree.Stmts {
				if text := s.Span().Text(); strings.HasPrefix(text, "let") {
					read = append(read, text)
				}
			}
			if got := strings.Join(read, "\n"); got != c.stmts {
				t.Errorf("read is %q, want %q", got, c.stmts)
			}
			if len(diags) != len(c.told) {
				t.Fatalf("told is %v", diags)
			}
			for i, line := range c.told {
				if at := src.LineNumber(diags[i].Span.Start); at != line || (diags[i].Code == codeConflict) == strings.HasPrefix(c.name, "not") {
					t.Errorf("line %d: %v", at, diags[i])
				}
			}
		})
	}
}

// Many marks without an end take no longer than the text is long.
func TestConflictsGrow(t *testing.T) {
	text := strings.Repeat("<<<<<<<\n=======\n", maxBytes/16)
	_, diags := File(source.New("gull.fore", []byte(text)))
	if len(diags) != maxErrors+1 || diags[maxErrors].Code != codeManyWrong {
		t.Errorf("%d are told", len(diags))
	}
}
