package lettering

import (
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"foredge/eval/word"
	"foredge/layout/geom"

	"golang.org/x/image/font/gofont/goregular"
)

// Whatever is set lies inside its box, and whatever can't be set says why.
func FuzzFit(f *testing.F) {
	f.Add("Harbour Log", 100.0, 24.0, 8.0, uint8(0))
	f.Add("two\nlines", 3.0, 50.0, 0.0, uint8(1))
	f.Add("\u0301a\u200d\ufb01", 30.0, 5.0, 4.0, uint8(2))
	f.Add("日本", 30.0, 5.0, 4.0, uint8(3))
	f.Fuzz(func(t *testing.T, s string, w, h, cap float64, choice uint8) {
		if len(s) > 60 || !(w < 1e4 && h < 1e4 && cap < 1e4) {
			t.Skip()
		}
		font := load(t, Names()[int(choice)%len(Names())])
		o, got, err := fit(font, s, w, h, cap, Mode(choice/12%2), Align(choice/24%3))
		if err != nil {
			if msg := err.Error(); msg == "" || strings.Contains(msg, "panic") {
				t.Errorf("%q: %q", s, msg)
			}
			return
		}
		if b := o.Bounds(); !b.Empty() && !(geom.Box{Max: geom.Pt(w, h)}).Holds(b) {
			t.Errorf("%q in %g × %g: ink at %v", s, w, h, b)
		}
		if math.IsNaN(got) || math.IsInf(got, 0) {
			t.Errorf("%q: cap %g", s, got)
		}
	})
}

// So it is with all that a style can ask for, in single lines too, and bridges
// leave no counter in what is cut.
func FuzzStyle(f *testing.F) {
	f.Add("Harbour Log", 100.0, 24.0, 8.0, 0.5, 0.0, uint16(0))
	f.Add("notes on tides and birds", 40.0, 30.0, 0.0, 0.0, 12.0, uint16(1))
	f.Add("Saltmarsh Covers", 60.0, 60.0, 5.0, 1.0, 20.0, uint16(2))
	f.Add("é́Þß ½", 60.0, 60.0, 5.0, -1.0, 0.0, uint16(13))
	f.Fuzz(func(t *testing.T, s string, w, h, cap, space, radius float64, choice uint16) {
		if len(s) > 40 || !(w > 0 && h > 0 && w < 1e3 && h < 1e3 && cap >= 0 && cap < 1e3 && math.Abs(space) < 1e3 && radius >= 0 && radius < 1e4) {
			t.Skip()
		}
		names := append(word.Strings(word.LineFonts()...), Names()...)
		font := load(t, names[int(choice)%len(names)])
		choice /= uint16(len(names))
		st := Style{Mode: Mode(choice % 2), Cap: cap, Align: Align(choice / 2 % 4), Space: space, Wrap: choice/8%2 == 1,
			Curve: Curve(choice / 16 % 3), Radius: radius, Inside: choice/48%2 == 1}
		b, err := Fit(font, s, w, h, st)
		if err != nil {
			if msg := err.Error(); msg == "" || strings.Contains(msg, "panic") {
				t.Errorf("%q: %q", s, msg)
			}
			return
		}
		if ink := b.Outline.Bounds(); !ink.Empty() && !(geom.Box{Max: geom.Pt(w, h)}).Holds(ink) {
			t.Errorf("%q in %g × %g, %+v: ink at %v", s, w, h, st, ink)
		}
		if font.Single() || b.Cap < 2 || len(s) > 12 {
			return
		}
		cut, err := Stencil(b.Outline, b.Cap/8, 0)
		for _, p := range cut {
			if err == nil && !p.Clockwise() {
				t.Errorf("%q with capitals of %g: a counter falls out", s, b.Cap)
			}
		}
	})
}

// A damaged font is refused or set, but never brings the program down.
func FuzzParse(f *testing.F) {
	f.Add(100, byte(0), 40)
	f.Add(5000, byte(255), 3)
	f.Add(12, byte(7), 200)
	f.Fuzz(func(t *testing.T, at int, with byte, length int) {
		data := slices.Clone(goregular.TTF)
		if at < 0 || length < 0 || at+length > len(data) || length > 1000 {
			t.Skip()
		}
		for i := range length {
			data[at+i] = with
		}
		font, err := Parse("damaged.ttf", data)
		if err != nil {
			return
		}
		for _, s := range []string{"Harbour", "Åfi½"} {
			if l, err := font.Text(s, 10); err == nil && math.IsNaN(l.Advance) {
				t.Error("no advance")
			}
		}
	})
}

// One font serves several goroutines.
func TestAtOnce(t *testing.T) {
	want, err := load(t, "Go Medium").Text("Harbour Log", 8)
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for _, s := range []string{"Harbour Log", "Weather", "日"} {
				l, err := load(t, "Go Medium").Text(s, 8)
				if s == "Harbour Log" && (err != nil || l.Ink != want.Ink) {
					t.Errorf("%v, %v", l.Ink, err)
				}
			}
		})
	}
	all.Wait()
}
