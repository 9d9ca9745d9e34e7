package lettering

import (
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

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
