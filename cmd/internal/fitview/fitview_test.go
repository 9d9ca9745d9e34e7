package fitview

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"foredge/eval/evaltest"
	"foredge/eval/fit"
	"foredge/lang/foretest"
)

func read(t testing.TB, name string, text []byte) *fit.Report {
	t.Helper()
	s, _ := evaltest.Solve(string(text), evaltest.Shelved{})
	return fit.Of(s)
}

// designs are those in testdata: a well-measured notebook, rows on three edges
// with a blunder and a hole that is too tight, a pad in inches, a notebook that
// wants a reading, one of which nothing is checked, a stock.
func designs(t testing.TB) map[string][]byte {
	t.Helper()
	paths, err := filepath.Glob("testdata/*.fore")
	if err != nil || len(paths) < 6 {
		t.Fatalf("%d designs, %v", len(paths), err)
	}
	all := map[string][]byte{}
	for _, p := range paths {
		if all[strings.TrimSuffix(filepath.Base(p), ".fore")], err = os.ReadFile(p); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

func TestGolden(t *testing.T) {
	for name, text := range designs(t) {
		r := read(t, name+".fore", text)
		var b bytes.Buffer
		if err := WriteText(&b, r, true); err != nil {
			t.Fatal(err)
		}
		foretest.Golden(t, filepath.Join("testdata", name+".txt"), b.Bytes())
	}
}

// What a person reads is no wider than a page, in a maker's words, with at most
// three sentences of advice.
func TestReadable(t *testing.T) {
	words := regexp.MustCompile(`(?i)\brank|matri|singular|residual|constraint|variable|covarian|eigen|token|parser|\bAST\b|NaN|\bInf\b|%!`)
	for name, text := range designs(t) {
		var b bytes.Buffer
		if err := WriteText(&b, read(t, name, text), true); err != nil {
			t.Fatal(err)
		}
		if w := words.FindString(b.String()); w != "" {
			t.Errorf("%s: %q is no word of a maker's", name, w)
		}
		for line := range strings.Lines(b.String()) {
			line = strings.TrimSuffix(line, "\n")
			if utf8.RuneCountInString(line) > columns || strings.TrimRight(line, " ") != line {
				t.Errorf("%s: too wide, or blanks at its end: %q", name, line)
			}
		}
		for _, n := range read(t, name, text).Notebooks {
			if a := (&page{notebook: &n}).advice(); len(a) > most {
				t.Errorf("%s: %d sentences of advice", name, len(a))
			}
		}
		if strings.Contains(b.String(), glue) {
			t.Errorf("%s: a glued blank is left", name)
		}
	}
}

// What to do next comes before all else, and the table only where it is asked for,
// after the same text.
func TestAdviceIsFirst(t *testing.T) {
	for name, text := range designs(t) {
		r := read(t, name, text)
		var plain, full bytes.Buffer
		foretest.Must(t, WriteText(&plain, r, false), WriteText(&full, r, true))
		advised := false
		for i := range r.Notebooks {
			advised = advised || len((&page{notebook: &r.Notebooks[i]}).advice()) > 0
		}
		if strings.HasPrefix(plain.String(), "> ") != advised || strings.Contains(plain.String(), "\n\n> ") {
			t.Errorf("%s: advice is not first:\n%s", name, plain.String())
		}
		if len(r.Notebooks) != 1 || len(r.Notebooks[0].Readings) == 0 {
			continue
		}
		before, _, _ := strings.Cut(plain.String(), "\nWith --table")
		if !strings.HasPrefix(full.String(), before+"\nreading ") {
			t.Errorf("%s: the table is not after the rest:\n%s", name, full.String())
		}
	}
}

// Every reading stands in the drawing, each row's holes too.
func TestDrawingHoldsReadings(t *testing.T) {
	for name, text := range designs(t) {
		var b bytes.Buffer
		r := read(t, name, text)
		if err := WriteText(&b, r, false); err != nil {
			t.Fatal(err)
		}
		drawing := b.String()
		if strings.Contains(drawing, "\nreading ") {
			t.Errorf("%s: there is a table", name)
		}
		for _, n := range r.Notebooks[:1] {
			for _, x := range n.Readings {
				p := &page{notebook: &n}
				if !n.Stock && !strings.HasPrefix(x.Name, "cord.gap") && !strings.Contains(drawing, p.plain(x.Read)) {
					t.Errorf("%s: %s (%s) is not in the drawing", name, x.Name, p.plain(x.Read))
				}
			}
		}
	}
}

// The data says what the report says, is valid JSON, and the same each time.
func TestJSON(t *testing.T) {
	for name, text := range designs(t) {
		r := read(t, name, text)
		var a, b bytes.Buffer
		if err := WriteJSON(&a, name, r); err != nil {
			t.Fatal(err)
		}
		if err := WriteJSON(&b, name, read(t, name, text)); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: not the same twice", name)
		}
		var back struct {
			Unit      string
			Notebooks []struct {
				Name     string
				Readings []struct {
					Name     string
					Read     float64
					Adjusted *float64
				}
				Rows []struct {
					Covers []struct{ Probability *float64 }
				}
			}
		}
		if err := json.Unmarshal(a.Bytes(), &back); err != nil {
			t.Fatal(err)
		}
		if back.Unit != "mm" || len(back.Notebooks) != len(r.Notebooks) {
			t.Errorf("%s: %+v", name, back)
		}
		for i, n := range back.Notebooks {
			for j, x := range n.Readings {
				want := r.Notebooks[i].Readings[j]
				if x.Name != want.Name || !same(x.Read, want.Read) || !same(*x.Adjusted, want.Adjusted) {
					t.Errorf("%s: %+v, want %+v", name, x, want)
				}
			}
			for j, row := range n.Rows {
				for k, c := range row.Covers {
					want := r.Notebooks[i].Rows[j].Covers[k]
					if (c.Probability == nil) != (want.Missing != "") || c.Probability != nil && !same(*c.Probability, want.Probability.Or(-1)) {
						t.Errorf("%s: %+v, want %+v", name, c, want)
					}
				}
			}
		}
	}
}

// same reports whether a number is that of which data has it to 1e-9.
func same(written, of float64) bool { return math.Abs(written-of) <= 0.51e-9 }

// A broken design is shown as far as it goes, and one without a notebook in one
// line.
func TestLittleToShow(t *testing.T) {
	for _, text := range []string{"", "panel p { width = 1 }", "notebook n { }", "notebook n { row r on spine { hole = ",
		"notebook n { accuracy = 1; row r on edge { count = 3 }\n row s on spine { count = -1; first = 3 } }\npanel p covers n"} {
		var b bytes.Buffer
		r := read(t, "x.fore", []byte(text))
		if err := WriteText(&b, r, false); err != nil || b.Len() == 0 {
			t.Errorf("%q: %v", text, err)
		}
		if err := WriteJSON(&b, "x", r); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// TestChances holds how probabilities are written, which the 99 % that are asked for never
// are before they are reached.
func TestChances(t *testing.T) {
	for p, want := range map[float64]string{
		1: "more than 99.99 %", 0.99936: "99.94 %", 0.989963: "98.99 %", 0.98004: "98.00 %", 0.97: "97.0 %", 0.00001: "less than 0.01 %",
	} {
		if got := Percent(p); got != want {
			t.Errorf("%v is written %q, and should be %q", p, got, want)
		}
	}
}
