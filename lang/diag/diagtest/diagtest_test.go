package diagtest

import (
	"fmt"
	"strings"
	"testing"

	"foredge/lang/diag"
	"foredge/lang/source"
)

// A recorder is a test that only notes what is reported to it.
type recorder struct {
	testing.TB
	got []string
}

func (r *recorder) Helper() {}

func (r *recorder) Errorf(format string, args ...any) {
	first, _, _ := strings.Cut(fmt.Sprintf(format, args...), ":")
	r.got = append(r.got, first)
}

func TestCheck(t *testing.T) {
	const text = `width = 12 mn # error: no unit | below
a = "# error: in a text is an expectation too"
# error below: missing
b = "unclosed
c = 1 # error: one | error: two | warning: three
# error file: is too long
d = 2
`
	src := source.New("t.fore", []byte(text))
	type found struct {
		line     int
		severity diag.Severity
		message  string
		help     string
	}
	all := []found{
		{1, diag.Error, "mn is no unit", ""},
		{1, diag.Error, "x", "it goes below"},
		{2, diag.Error, "in a text is an expectation too\"", ""},
		{4, diag.Error, "a \" is missing", ""},
		{5, diag.Error, "one", ""},
		{5, diag.Error, "two", ""},
		{5, diag.Warning, "three", ""},
		{0, diag.Error, "it is too long", ""},
		{7, diag.Info, "notes need not be expected", ""},
	}
	check := func(l []found) []string {
		var list diag.List
		for _, f := range l {
			d := &diag.Diagnostic{Severity: f.severity, Message: f.message, Help: f.help}
			if f.line > 0 {
				_, start := src.Line(f.line)
				d.Span = source.Span{File: src, Start: start, End: start + 1}
			}
			list = append(list, d)
		}
		r := &recorder{TB: t}
		Check(r, src, list)
		return r.got
	}
	if got := check(all); len(got) > 0 {
		t.Errorf("all are expected, and it says %q", got)
	}
	for i, f := range all {
		without := append(append([]found{}, all[:i]...), all[i+1:]...)
		want := "[missing]"
		if f.severity == diag.Info {
			want = "[]"
		}
		if got := check(without); fmt.Sprint(got) != want {
			t.Errorf("without %q it says %q", f.message, got)
		}
	}
	for _, f := range []found{
		{1, diag.Error, "mn is no unit", ""}, // once more than expected
		{3, diag.Error, "missing", ""},
		{7, diag.Error, "something else", ""},
		{7, diag.Warning, "something else", ""},
		{0, diag.Error, "something else", ""},
	} {
		if got := check(append(append([]found{}, all...), f)); fmt.Sprint(got) != "[not expected]" {
			t.Errorf("with %q on line %d it says %q", f.message, f.line, got)
		}
	}
	wrongSeverity := append([]found{}, all...)
	wrongSeverity[6].severity = diag.Error
	if got := check(wrongSeverity); len(got) != 2 {
		t.Errorf("an error for a warning: %q", got)
	}
}
