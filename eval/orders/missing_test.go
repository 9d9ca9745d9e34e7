package orders

import (
	"strings"
	"testing"
)

// A column that the table lacks is said to be one of those that nothing is declared for.
func TestMissingColumn(t *testing.T) {
	for _, test := range []struct{ header, want string }{
		{"number,Text (line 1)", `as in motto = text from "Text (line 1)"`},
		{"number,Wording,Note", `by its heading: motto = text from "..."`},
		{"number", "add it to the table, or give it a default"},
	} {
		_, diags := Read("orders.csv", []byte(test.header+"\n1,2,3\n"), Options{Columns: []Column{text("number"), text("motto")}})
		if got := told(diags); !strings.Contains(got, test.want) {
			t.Errorf("%s: told %s, want %s", test.header, got, test.want)
		}
	}
}

// Right names are not odd in any other way either.
func TestRightNamesAreNotOdd(t *testing.T) {
	for _, name := range strings.Split(rightNames, "|") {
		for _, form := range []string{"%", "% & Ann", "%’s", "Ann “%” Bo", "Ann (%)", "„%“", "% 5\"", "%!", "%-Ann"} {
			text := strings.ReplaceAll(form, "%", name)
			for _, o := range Odd(text) {
				if !o.Look {
					t.Errorf("%q: %s", text, o)
				}
			}
			if clean, changes := Clean(text); clean != text {
				t.Errorf("%q is cleaned to %q: %s", text, clean, changes)
			}
		}
	}
}
