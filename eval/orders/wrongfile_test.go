package orders

import (
	"strings"
	"testing"
)

// What is no table, or written in a way that can't be read, is told as that.
func TestWrongFile(t *testing.T) {
	wide := func(mark, text string, order []int) string {
		out := mark
		for _, c := range []byte(text) {
			four := []byte{0, 0, 0, 0}
			four[order[0]] = c
			out += string(four)
		}
		return out
	}
	for name, test := range map[string]struct{ data, want string }{
		"UTF-32, small end first": {wide("\xff\xfe\x00\x00", "name\nAda\n", []int{0}), "this table is written in UTF-32, which can't be read; save it as UTF-8"},
		"UTF-32, large end first": {wide("\x00\x00\xfe\xff", "name\nAda\n", []int{3}), "this table is written in UTF-32, which can't be read; save it as UTF-8"},
		"zeros":                   {strings.Repeat("\x00", 5000), "this is no table of text: much of it is zeros"},
	} {
		table, diags := Read("o.csv", []byte(test.data), Options{Columns: []Column{text("name")}})
		if table != nil || len(diags) != 1 || !strings.Contains(diags[0].Message+"; "+diags[0].Help, test.want) {
			t.Errorf("%s: %s, want %s", name, told(diags), test.want)
		}
	}
}
