package lettering

import (
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"

	"golang.org/x/image/font/gofont/goregular"
)

func load(t testing.TB, name string) *Font {
	t.Helper()
	f, err := Load(name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// sample holds every letter and digit, and what titles hold besides.
const sample = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,;:!?&()-–—'\"“”‘’ÄÖÜäöüßÅåÆæØøÉéÈèÇçÑñŁłŠšŽž½€@#%*+/=§°"

func TestLoad(t *testing.T) {
	if len(Names()) != 20 || !slices.Contains(Names(), Default) {
		t.Errorf("fonts %v", Names())
	}
	for _, name := range Names() {
		f := load(t, name)
		again, _ := Load(strings.ToLower(name))
		if f != again || f.Name() != name {
			t.Errorf("%s isn't kept", name)
		}
	}
	_, err := Load("Go Slab")
	if _, ok := err.(UnknownFontError); !ok {
		t.Errorf("an unknown font: %v", err)
	}
	for _, data := range [][]byte{nil, []byte("not a font"), make([]byte, 4096)} {
		_, err := Parse("broken.ttf", data)
		if _, ok := err.(UnreadableFontError); !ok {
			t.Errorf("a broken font: %v", err)
		}
	}
}

func TestCapitals(t *testing.T) {
	for _, name := range Names() {
		f := load(t, name)
		for _, cap := range []float64{1, 8, 250} {
			l, err := f.Text("H", cap)
			if err != nil {
				t.Fatal(err)
			}
			foretest.Near(t, name+" cap height", l.Ink.Height(), cap, 1e-9*cap)
			foretest.Near(t, name+" baseline", l.Ink.Max.Y, 0, 1e-9*cap)
		}
		// An E is as high, an O a little higher, a p reaches below.
		e, _ := f.Text("E", 10)
		o, _ := f.Text("O", 10)
		p, _ := f.Text("p", 10)
		foretest.Near(t, name+" E", e.Ink.Height(), 10, 0.01)
		if o.Ink.Height() < 10 || o.Ink.Height() > 10.6 {
			t.Errorf("%s: an O %g high", name, o.Ink.Height())
		}
		if p.Ink.Max.Y < 1 && !strings.Contains(name, "Smallcaps") {
			t.Errorf("%s: a p reaches %g below the baseline", name, p.Ink.Max.Y)
		}
	}
}

// A font that doesn't say how far apart its lines stand has them 1.2 em apart
// (common practice, no source): Go Regular, of 2048 units to the em, with all that
// it says of that taken out (OpenType specification, tables hhea and OS/2). How high
// its capitals are is measured, whatever it says of them.
func TestLinesOfFontWithoutHeights(t *testing.T) {
	mute := slices.Clone(goregular.TTF)
	for i := range int(binary.BigEndian.Uint16(mute[4:])) {
		entry := mute[12+16*i:]
		table := mute[binary.BigEndian.Uint32(entry[8:]):]
		switch string(entry[:4]) {
		case "hhea":
			clear(table[4:10])
		case "OS/2":
			clear(table[68:78])
			binary.BigEndian.PutUint16(table[88:], 1000)
		}
	}
	f, err := Parse("mute.ttf", mute)
	if err != nil {
		t.Fatal(err)
	}
	o, _, err := fit(f, "H\nH", 100, 100, 10, Shrink, Left)
	if err != nil || len(o) != 2 {
		t.Fatalf("%d letters, %v", len(o), err)
	}
	foretest.Near(t, "a capital of 10 mm", o[0].Bounds().Height(), 10, 1e-9)
	apart := math.Abs(o[0].Bounds().Max.Y - o[1].Bounds().Max.Y)
	foretest.Near(t, "the distance of two lines in capitals", apart/10, 1.2*2048/f.cap, 1e-9)
}

func TestRefuses(t *testing.T) {
	f := load(t, "Go Bold")
	for _, tt := range []struct{ text, want string }{
		{"a\tb", "the text holds a tab, which can't be drawn; use spaces"},
		{"a\nb", "the text holds a line break, which can't be drawn here"},
		{"a\x00b", "the text holds a control character (U+0000), which can't be drawn"},
		{"a\u0007", "the text holds a control character (U+0007), which can't be drawn"},
		{"a\u2028b", "the text holds a line break, which can't be drawn here"},
		{"log 日", `the font "Go Bold" has no “日” (U+65E5); no built-in font has it`},
		{"\u0e01", `the font "Go Bold" has no “ก” (U+0E01); no built-in font has it`},
	} {
		_, err := f.Text(tt.text, 5)
		if err == nil || err.Error() != tt.want {
			t.Errorf("%q:\n got %v\nwant %s", tt.text, err, tt.want)
		}
	}
	var m MissingError
	if _, _, err := fit(f, "two\nlines 日", 10, 10, 0, Fill, Left); !errors.As(err, &m) || m.Char != '日' || m.Fonts[0] != "Go Bold" {
		t.Errorf("fit: %v", err)
	}
	for _, size := range []float64{0, -1, math.NaN()} {
		if _, _, err := fit(f, "A", size, 10, 0, Fill, Left); err == nil {
			t.Errorf("a box %g wide has room", size)
		}
	}
}

// sound checks what an outline promises: closed, apart, material clockwise and
// counters the other way by turns.
func sound(t *testing.T, what string, o geom.Outline) {
	t.Helper()
	if !geom.NewBoundary(o).Simple() {
		t.Errorf("%s: paths cross", what)
	}
	for i, p := range o {
		if !p.Closed || p.End() != p.Start {
			t.Errorf("%s: path %d isn't closed", what, i)
		}
		depth := 0
		for j, q := range o {
			if i != j && geom.NewBoundary(q).Contains(p.Start) {
				depth++
			}
		}
		if p.Clockwise() != (depth%2 == 0) {
			t.Errorf("%s: path %d inside %d others runs clockwise: %v", what, i, depth, p.Clockwise())
		}
	}
}

func TestText(t *testing.T) {
	for _, name := range Names() {
		f := load(t, name)
		for _, s := range []string{"Harbour Log", "Ålesund 1923", "“Wind & tide” – 7½", "AVATAR fi ffl To. L'T"} {
			l, err := f.Text(s, 9)
			if err != nil {
				t.Fatalf("%s %q: %v", name, s, err)
			}
			sound(t, name+" "+s, l.Outline)
			if l.Ink != l.Outline.Bounds() || l.Cap != 9 {
				t.Errorf("%s %q: %+v", name, s, l.Ink)
			}
			again, _ := f.Text(s, 9)
			if !slices.EqualFunc(l.Outline, again.Outline, func(a, b geom.Path) bool { return a.String() == b.String() }) {
				t.Errorf("%s %q: set twice differently", name, s)
			}
		}
		for _, r := range sample {
			l, err := f.Text(string(r), 10)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			sound(t, name+" "+string(r), l.Outline)
		}
	}
	blank, err := load(t, Default).Text("   ", 5)
	if err != nil || len(blank.Outline) != 0 || !blank.Ink.Empty() || blank.Advance <= 0 {
		t.Errorf("blanks: %+v, %v", blank, err)
	}
}

// Letters pushed over one another are united: no edge is left inside.
func TestUnite(t *testing.T) {
	f := load(t, "Go Bold")
	square := func(x, y, w, h float64) geom.Path { return geom.Paths(geom.Rect{Min: geom.Pt(x, y), W: w, H: h})[0] }
	for _, tt := range []struct {
		name  string
		o     geom.Outline
		paths int
		area  float64
	}{
		{"apart", geom.Outline{square(0, 0, 2, 2), square(5, 0, 2, 2)}, 2, 8},
		{"across", geom.Outline{square(0, 0, 4, 2), square(1, -1, 2, 4)}, 1, 12},
		{"across, run both ways", geom.Outline{square(0, 0, 4, 2).Reverse(), square(1, -1, 2, 4).Reverse()}, 1, 12},
		{"one in the other", geom.Outline{square(0, 0, 4, 4), square(1, 1, 2, 2)}, 1, 16},
		{"a counter", geom.Outline{square(0, 0, 4, 4), square(1, 1, 2, 2).Reverse()}, 2, 12},
		{"a counter of anticlockwise material", geom.Outline{square(0, 0, 4, 4).Reverse(), square(1, 1, 2, 2)}, 2, 12},
		{"side by side", geom.Outline{square(0, 0, 2, 2), square(2, 0, 2, 2)}, 1, 8},
		{"twice the same", geom.Outline{square(0, 0, 2, 2), square(0, 0, 2, 2)}, 1, 4},
		{"a ring of four bars", geom.Outline{square(0, 0, 6, 1), square(0, 5, 6, 1), square(0, 0, 1, 6), square(5, 0, 1, 6)}, 2, 20},
	} {
		got := outlineOf(unite([]placed{{glyph: glyph{outline: tt.o}}}))
		if len(got) != tt.paths {
			t.Errorf("%s: %d paths", tt.name, len(got))
		}
		foretest.Near(t, tt.name, geom.Area(got), tt.area, 1e-9)
		sound(t, tt.name, got)
	}
	// Two letters at half their distance.
	a, _ := f.Text("O", 10)
	b := a.Outline.Move(geom.Pt(4, 0)).(geom.Outline)
	got := outlineOf(unite([]placed{{glyph: glyph{outline: a.Outline, clean: true}}, {glyph: glyph{outline: b, clean: true}}}))
	sound(t, "two letters", got)
	// The area by counting points of a grid.
	both, count := geom.NewBoundary(got), 0
	one, two := geom.NewBoundary(a.Outline), geom.NewBoundary(b)
	for i := range 160 {
		for j := range 120 {
			p := geom.Pt(-1+float64(i)*0.1013, -11+float64(j)*0.1013)
			if in := one.Contains(p) || two.Contains(p); in != both.Contains(p) {
				count++
			}
		}
	}
	if count > 0 {
		t.Errorf("%d points of a grid differ", count)
	}
}

// Outlines nearer than a micron, or in large letters than a ten-thousandth of their
// size, are met: two slanted lines side by side, as far apart across as stated.
func TestTouches(t *testing.T) {
	for _, c := range []struct {
		size, apart float64
		want        bool
	}{{10, 0, true}, {10, 0.0005, true}, {10, 0.0014, false}, {1, 0.0005, true}, {1, 0.0014, false}, {100, 0.005, true}, {100, 0.014, false}} {
		line := geom.Line(geom.Pt(0, 0), geom.Pt(c.size, c.size))
		beside := geom.Line(geom.Pt(c.apart*math.Sqrt2, 0), geom.Pt(c.size+c.apart*math.Sqrt2, c.size))
		if got := touches([]geom.Piece{line}, []geom.Piece{beside}); got != c.want {
			t.Errorf("%g mm long, %g mm apart: met %v", c.size, c.apart, got)
		}
	}
}

func TestFit(t *testing.T) {
	for _, name := range []string{"Go Regular", "Go Bold Italic", "Go Mono", "Go Smallcaps"} {
		f := load(t, name)
		for _, s := range []string{"Harbour Log", "x", "ÄgÅy", "gypq", "first line\nsecond, longer line\nAÅ", "a\n\nb", "—", "."} {
			for _, box := range []geom.Point{{X: 103.2, Y: 24}, {X: 10, Y: 60}, {X: 3, Y: 3}, {X: 500, Y: 2}} {
				for _, mode := range []Mode{Shrink, Fill} {
					for _, align := range []Align{Center, Left, Right} {
						for _, cap := range []float64{0, 1.5, 80} {
							o, got, err := fit(f, s, box.X, box.Y, cap, mode, align)
							if err != nil {
								t.Fatal(err)
							}
							b := o.Bounds()
							if !(geom.Box{Max: box}).Holds(b) {
								t.Fatalf("%q in %v: ink at %v", s, box, b)
							}
							tight := b.Width() > box.X-2e-8 || b.Height() > box.Y-2e-8
							if asked := mode == Shrink && cap > 0; asked && got > cap || !tight && (!asked || got < cap) {
								t.Errorf("%q in %v, cap %g, mode %d: cap %g, ink %v", s, box, cap, mode, got, b)
							}
							switch align {
							case Center:
								foretest.Near(t, "centre", b.Center().X, box.X/2, 1e-8)
							case Left:
								foretest.Near(t, "left", b.Min.X, 0, 1e-8)
							case Right:
								foretest.Near(t, "right", b.Max.X, box.X, 1e-8)
							}
						}
					}
				}
			}
		}
	}
}

// Capitals are centred whatever hangs below, unless there is no room for it.
func TestFitCentresCapitals(t *testing.T) {
	f := load(t, "Go Bold")
	for _, s := range []string{"HIE", "Hgy", "HÄE"} {
		o, cap, err := fit(f, s, 200, 40, 10, Shrink, Center)
		if err != nil || cap != 10 {
			t.Fatal(cap, err)
		}
		var h geom.Box // the H is the leftmost letter
		for _, p := range o {
			if b := p.Bounds(); h == (geom.Box{}) || b.Min.X < h.Min.X {
				h = b
			}
		}
		foretest.Near(t, s+" top", h.Min.Y, 15, 1e-9)
		foretest.Near(t, s+" foot", h.Max.Y, 25, 1e-9)
	}
	o, _, err := fit(f, "Hgy", 200, 12, 10, Shrink, Center)
	if err != nil {
		t.Fatal(err)
	}
	foretest.Near(t, "shifted up", o.Bounds().Max.Y, 12, 1e-8)
	if o, cap, err := fit(f, " \n ", 10, 10, 4, Shrink, Center); o != nil || cap != 4 || err != nil {
		t.Errorf("blanks: %v %g %v", o, cap, err)
	}
	one, _, _ := fit(f, "a\r\nb", 10, 10, 2, Shrink, Left)
	two, _, _ := fit(f, "a\nb", 10, 10, 2, Shrink, Left)
	if one.Bounds() != two.Bounds() {
		t.Error("line breaks of two kinds differ")
	}
}

// fit is Fit of straight lines.
func fit(f *Font, s string, w, h, cap float64, mode Mode, align Align) (geom.Outline, float64, error) {
	b, err := Fit(f, s, w, h, Style{Cap: cap, Mode: mode, Align: align})
	return b.Outline, b.Cap, err
}

// Each built-in font leads to the bold and the italic one of its family, where there is
// one.
func TestFace(t *testing.T) {
	for _, c := range []struct {
		name         string
		bold, italic bool
		want         string
	}{
		{"Go Regular", true, false, "Go Bold"}, {"go regular", false, true, "go Italic"}, {"Go Regular", true, true, "Go Bold Italic"},
		{"Go Medium", true, false, "Go Bold"}, {"Go Medium", false, true, "Go Medium Italic"}, {"Go Italic", true, false, "Go Bold Italic"},
		{"Go Mono", true, true, "Go Mono Bold Italic"}, {"Go Smallcaps", false, true, "Go Smallcaps Italic"},
		{"DejaVu Sans", false, true, "DejaVu Sans Oblique"}, {"DejaVu Sans", true, true, "DejaVu Sans Bold Oblique"},
		{"DejaVu Sans Mono", true, false, "DejaVu Sans Mono Bold"}, {"DejaVu Sans Mono Bold", false, true, "DejaVu Sans Mono Bold Oblique"},
		{"DejaVu Sans Oblique", true, true, "DejaVu Sans Bold Oblique"},
	} {
		got := Face(c.name, c.bold, c.italic)
		if _, err := Load(got); err != nil || got != c.want {
			t.Errorf("%s, bold %v, italic %v: %s, want %s; %v", c.name, c.bold, c.italic, got, c.want, err)
		}
	}
	for _, name := range Names() {
		for _, more := range [][2]bool{{true, false}, {false, true}, {true, true}} {
			got := Face(name, more[0], more[1])
			if _, err := Load(got); err != nil && !(more[0] && strings.HasPrefix(name, "Go Smallcaps")) {
				t.Errorf("%s, bold %v, italic %v: %v", name, more[0], more[1], err)
			}
		}
	}
}
