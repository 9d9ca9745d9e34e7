package codes

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/lang/diag"
)

// Each entry says what a maker wants to know.
func TestEntries(t *testing.T) {
	form := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	all := All()
	for i, e := range all {
		if !form.MatchString(string(e.Code)) {
			t.Errorf("%q is no code: lower case with hyphens", e.Code)
		}
		if i > 0 && all[i-1].Code == e.Code {
			t.Errorf("%s has two entries", e.Code)
		}
		for what, text := range map[string]string{"what it means": e.Means, "what to do": e.Do} {
			if text == "" || !strings.HasSuffix(text, ".") || strings.Contains(text, "\n") || strings.Contains(text, "|") {
				t.Errorf("%s: %s is no whole sentence: %q", e.Code, what, text)
			}
		}
		if (e.Example == "") == (e.Test == "") {
			t.Errorf("%s wants an example, or a test where no design alone raises it", e.Code)
		}
		if e.Example != "" && (!strings.HasPrefix(e.Example, "\n") || !strings.HasSuffix(e.Example, "\n") || strings.Contains(e.Example, "\t")) {
			t.Errorf("the example of %s doesn't stand in lines of its own", e.Code)
		}
		if e.Quiet && slices.Contains(e.Severities(), diag.Error) && e.Code != "too-large" {
			t.Errorf("%s is an error, and none but too-large can be silenced", e.Code)
		}
		if !slices.IsSorted(e.Severities()) {
			t.Errorf("%s: severities stand in the order of their weight", e.Code)
		}
	}
}

func TestFind(t *testing.T) {
	if e, ok := Find("thin-web"); !ok || e.Code != "thin-web" || !Silenceable("thin-web") {
		t.Errorf("thin-web: %v, %v", e, ok)
	}
	if _, ok := Find("thick-web"); ok || Silenceable("thick-web") || Silenceable("overlap") {
		t.Error("what is no warning can be silenced")
	}
	if words := Quiet(); !slices.IsSorted(words) || !slices.Contains(words, "thin-web") || slices.Contains(words, "overlap") {
		t.Errorf("quiet takes %v", words)
	}
	if got, want := Silence("thin-web", "panel"), "; quiet = thin-web in the panel silences this"; got != want || Silence("overlap", "panel") != "" {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestFiles(t *testing.T) {
	got := Entry{Example: "\nuse \"a.fore\"\n# --\n-- a.fore --\nlet x = 3\n-- b.csv --\n"}.Files()
	want := []File{{"example.fore", "use \"a.fore\"\n# --\n"}, {"a.fore", "let x = 3\n"}, {"b.csv", ""}}
	if !slices.Equal(got, want) || len(Entry{}.Files()) > 0 {
		t.Errorf("got %q, want %q", got, want)
	}
}
