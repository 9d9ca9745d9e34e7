package source

import (
	"strings"
	"testing"
	"unicode/utf8"
)

const text = "units mm\r\n\n  größe = 3 # é\nlast"

// Positions agree with those counted by splitting the text into lines.
func TestPosition(t *testing.T) {
	f := New("a.fore", []byte("\xef\xbb\xbf"+text))
	if f.Text() != text {
		t.Fatalf("the text is %q", f.Text())
	}
	if f.Mark() != "\ufeff" || New("b.fore", []byte(text)).Mark() != "" {
		t.Errorf("the marks are %q and %q", f.Mark(), New("b.fore", []byte(text)).Mark())
	}
	for at := 0; at <= len(text); at++ {
		if at < len(text) && !utf8.RuneStart(text[at]) {
			continue
		}
		before := strings.Split(text[:at], "\n")
		want := Position{len(before), utf8.RuneCountInString(before[len(before)-1]) + 1}
		if got := f.Position(at); got != want {
			t.Errorf("Position(%d) = %v, want %v", at, got, want)
		}
		if got := f.LineNumber(at); got != want.Line {
			t.Errorf("LineNumber(%d) = %d, want %d", at, got, want.Line)
		}
	}
	for _, at := range []int{-1, len(text) + 5} {
		if got, want := f.Position(at), f.Position(max(0, min(at, len(text)))); got != want {
			t.Errorf("Position(%d) = %v, want that of the nearer end, %v", at, got, want)
		}
		if got, want := f.LineNumber(at), f.Position(at).Line; got != want {
			t.Errorf("LineNumber(%d) = %d, want %d", at, got, want)
		}
	}
}

func TestLine(t *testing.T) {
	f := New("a.fore", []byte(text))
	for n, want := range map[int]string{0: "", 1: "units mm", 2: "", 3: "  größe = 3 # é", 4: "last", 5: ""} {
		got, start := f.Line(n)
		if got != want {
			t.Errorf("line %d is %q, want %q", n, got, want)
		}
		if want != "" && f.Text()[start:start+len(want)] != want {
			t.Errorf("line %d does not start at %d", n, start)
		}
	}
	if line, start := New("e", nil).Line(1); line != "" || start != 0 {
		t.Errorf("an empty file has the line %q at %d", line, start)
	}
}

func TestSpan(t *testing.T) {
	f := New("a.fore", []byte(text))
	a, b := Span{f, 0, 5}, Span{f, 6, 8}
	if got := a.To(b); got != (Span{f, 0, 8}) || b.To(a) != got || a.To(Span{}) != a || (Span{}).To(b) != b {
		t.Errorf("%v to %v is %v", a, b, got)
	}
	if !a.Before(b) || b.Before(a) || a.Before(a) || !(Span{}).Before(a) {
		t.Error("spans are not ordered by place")
	}
	if got := (Span{f, 13, 20}).String(); got != "a.fore:3:3" {
		t.Errorf("the place is %s", got)
	}
	if got := (Span{f, 13, 20}).Text(); got != "größe" {
		t.Errorf("the text is %q", got)
	}
	if got := (Span{f, 30, 99}).Text(); got != text[30:] {
		t.Errorf("the text over the end is %q", got)
	}
}
