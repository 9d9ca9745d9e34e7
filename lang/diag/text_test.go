package diag

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/lang/source"
)

const design = "units mm\n" +
	"panel front {\n" +
	"\twidth = 12 mn   # not a unit\n" +
	"\t\theight = 210; height = 211\n" +
	"  region 見出し { engrave text \"見出し\" fnt = \"Go\" }\n" +
	"  cafe\u0301 = 3 mn\n" +
	"  title = \"\x1b[31mred\u202e\"\n" +
	"}\n"

// sample returns diagnostics of many forms about one design.
func sample() List {
	src := source.New("harbour.fore", []byte(design))
	at := func(s string) source.Span {
		i := strings.Index(design, s)
		return source.Span{File: src, Start: i, End: i + len(s)}
	}
	long := source.New("long.fore", []byte(strings.Repeat("x = 1; ", 100)+"width = 12 mn; "+strings.Repeat("y = 2; ", 100)))
	end := len(design)
	var l List
	l.Errorf("unknown-unit", at("mn"), "mn is no unit").WithHelp("did you mean mm?")
	l.Errorf("clash", at("height = 211"), "height must be 210 mm and 211 mm").
		Note(at("height = 210"), "it is stated here, and misses by 1 mm").
		Note(at("panel front"), "both speak of this panel").
		Note(source.Span{}, "and of the stock").
		WithHelp("take one of the two lines out")
	l.Warnf("unknown-name", at("fnt"), "fnt is not known")
	l.Errorf("unknown-unit", source.Span{File: src, Start: strings.Index(design, "3 mn") + 2, End: strings.Index(design, "3 mn") + 4}, "mn is no unit")
	l.Warnf("look", at("title"), "the text \x1b[31mred is odd")
	l.Infof("kerf", source.Span{}, "no kerf is stated; 0 is taken")
	l.Errorf("open", source.Span{File: src, Start: end, End: end}, "the file ends here")
	l.Errorf("block", source.Span{File: src, Start: strings.Index(design, "panel"), End: end - 1}, "a place of several lines is marked on the first")
	l.Errorf("value", source.Span{File: src, Start: 5, End: 5}, "a place without length")
	l.Errorf("unknown-unit", source.Span{File: long, Start: 711, End: 713}, "mn is no unit")
	return l
}

func TestWriteText(t *testing.T) {
	for name, opts := range map[string]TextOptions{
		"all.txt":   {},
		"color.txt": {Color: true},
		"three.txt": {Max: 3},
	} {
		var b bytes.Buffer
		if err := WriteText(&b, sample(), opts); err != nil {
			t.Fatal(err)
		}
		foretest.Golden(t, filepath.Join("testdata", name), b.Bytes())
		if !opts.Color && strings.ContainsAny(b.String(), "\x1b\u202e\t") {
			t.Errorf("%s has characters that disturb a terminal", name)
		}
	}
}

// The mark stands below what is marked, whatever stands before it.
func TestMarkStandsBelow(t *testing.T) {
	for _, c := range []struct{ before, marked, after string }{
		{"  width = 12 ", "mn", ""},
		{"", "mn", " x"},
		{"\t", "mn", ""},
		{"a\tb\t", "mn", "\tx"},
		{"é ", "mn", ""},
		{"\u00a0", "mn", ""},
		{strings.Repeat("abc ", 500), "mn", " " + strings.Repeat("abc ", 500)},
		{strings.Repeat("\t", 30), "mn", ""},
	} {
		line := c.before + c.marked + c.after
		shown, from, to := layOut(line, len(c.before), len(c.before)+len(c.marked))
		cells := []rune(shown) // in these lines each character takes one column
		if from < 0 || to > len(cells) || string(cells[from:to]) != c.marked {
			t.Errorf("%.40q: %d-%d is marked of %q", line, from, to, shown)
		}
		if len(cells) > lineWidth+5 && c.before[0] != '\t' {
			t.Errorf("%.40q is shown %d wide", line, len(cells))
		}
	}
}

// The columns of wide letters and of marks on letters, by the table of
// Unicode Standard Annex 11 (W and F are wide) and the general category Mn.
func TestWidth(t *testing.T) {
	for r, want := range map[rune]int{
		'a': 1, 'é': 1, '±': 1, 'Я': 1, '\u0301': 0, '見': 2, 'あ': 2, '한': 2, 'Ａ': 2, '📐': 2, '‘': 1, '½': 1, '\u200d': 0,
	} {
		if got := width(r); got != want {
			t.Errorf("%q (%04X) is %d wide, want %d", r, r, got, want)
		}
	}
}

// A message is told in one line, as programs that read places take them, also where its
// text has several.
func TestTextInOneLine(t *testing.T) {
	var l List
	l.Errorf("check", source.Span{}, "too narrow\nfor the ring")
	var b bytes.Buffer
	if err := WriteText(&b, l, TextOptions{}); err != nil {
		t.Fatal(err)
	}
	if got, want := b.String(), "error: too narrow for the ring [check]\n"; got != want {
		t.Errorf("told as %q, want %q", got, want)
	}
}

func TestWriteJSON(t *testing.T) {
	var b bytes.Buffer
	if err := WriteJSON(&b, sample()); err != nil {
		t.Fatal(err)
	}
	foretest.Golden(t, filepath.Join("testdata", "all.json"), b.Bytes())

	// Its fields, read back by another reader than our types.
	var list struct {
		Schema      int
		Diagnostics []map[string]any
	}
	if err := json.Unmarshal(b.Bytes(), &list); err != nil || list.Schema != 1 {
		t.Fatal(err, list.Schema)
	}
	got := list.Diagnostics
	at := func(v any) map[string]any { return v.(map[string]any)["at"].(map[string]any) }
	d, place := got[0], at(got[0])
	for field, want := range map[string]any{
		"severity": "error", "code": "unknown-unit", "message": "mn is no unit", "help": "did you mean mm?",
	} {
		if d[field] != want {
			t.Errorf("%s is %v, want %v", field, d[field], want)
		}
	}
	for field, want := range map[string]any{"file": "harbour.fore", "line": 3.0, "column": 13.0, "end-line": 3.0, "end-column": 15.0} {
		if place[field] != want {
			t.Errorf("%s is %v, want %v", field, place[field], want)
		}
	}
	if notes := got[1]["notes"].([]any); len(notes) != 3 || at(notes[0])["line"] != 4.0 {
		t.Errorf("the notes are %v", notes)
	}

	b.Reset()
	if err := WriteJSON(&b, nil); err != nil || b.String() != "{\n  \"schema\": 1,\n  \"diagnostics\": []\n}\n" {
		t.Errorf("an empty list is %q, %v", b.String(), err)
	}
}

func TestAtMost(t *testing.T) {
	var l List
	l.Warnf("w", source.Span{}, "1")
	l.Errorf("e", source.Span{}, "2")
	l.Warnf("w", source.Span{}, "3")
	l.Errorf("e", source.Span{}, "4")
	for n, want := range map[int]string{0: "1234", 1: "2", 2: "24", 3: "124", 4: "1234", 9: "1234"} {
		got := ""
		for _, d := range l.atMost(n) {
			got += d.Message
		}
		if got != want {
			t.Errorf("of %d are shown %s, want %s", n, got, want)
		}
	}
}

func TestSort(t *testing.T) {
	a, b := source.New("a.fore", []byte("x\ny")), source.New("b.fore", []byte("x"))
	var l List
	l.Warnf("w", source.Span{File: b, End: 1}, "5")
	l.Errorf("e", source.Span{File: a, Start: 2, End: 3}, "4")
	l.Warnf("w", source.Span{File: a, End: 1}, "3")
	l.Errorf("e", source.Span{File: a, End: 1}, "2")
	l.Errorf("e", source.Span{File: a, End: 1}, "2")
	l.Errorf("e", source.Span{}, "1")
	l.Sort()
	got := ""
	for _, d := range l {
		got += d.Message
	}
	if got != "12345" {
		t.Errorf("the order is %s", got)
	}
}
