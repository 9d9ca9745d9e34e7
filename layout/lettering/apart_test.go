package lettering

import (
	"math"
	"testing"
)

// Letters that are moved apart stay kerned, ligatures come apart, and a line begins at
// the left whatever its first letter is: by what the same font makes of them unmoved.
func TestApart(t *testing.T) {
	f, err := Load("DejaVu Sans")
	if err != nil {
		t.Fatal(err)
	}
	advance := func(s string) float64 {
		l, err := f.Text(s, 10)
		if err != nil {
			t.Fatal(err)
		}
		return l.Advance
	}
	if advance("AV") > advance("A")+advance("V")-0.1 {
		t.Fatal("this font doesn't kern, so nothing is tried")
	}
	for text, want := range map[string]float64{
		"AV": advance("AV") + 1 + 2,
		"fi": advance("f") + advance("i") + 1 + 2,
	} {
		l, err := f.Apart(text, 10, []float64{1, 2})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(l.Advance-want) > 1e-9 {
			t.Errorf("%s apart is %g long, want %g", text, l.Advance, want)
		}
	}
	// What is moved is the ink, not the pen alone.
	near, _ := f.Apart("AV", 10, nil)
	far, _ := f.Apart("AV", 10, []float64{3, 0})
	if math.Abs(far.Ink.Width()-near.Ink.Width()-3) > 1e-9 {
		t.Errorf("3 mm between them make them %g wide from %g", far.Ink.Width(), near.Ink.Width())
	}
	// The Latin letter stands at the right of the Hebrew ones that the text begins with
	// (Unicode Standard Annex #9 with a paragraph from left to right).
	mixed, err := f.Apart("\u05d0\u05d1 I", 10, nil)
	if err != nil {
		t.Fatal(err)
	}
	own, _ := f.Text("I", 10)
	last := mixed.Outline[0].Bounds()
	for _, p := range mixed.Outline {
		if b := p.Bounds(); b.Max.X > last.Max.X {
			last = b
		}
	}
	if math.Abs(last.Width()-own.Ink.Width()) > 1e-6 || math.Abs(last.Height()-own.Ink.Height()) > 1e-6 {
		t.Errorf("what stands at the right is %g by %g, want an I of %g by %g", last.Width(), last.Height(), own.Ink.Width(), own.Ink.Height())
	}
}

// Letters that are spread round a circle keep their space at their heads and feet as on the
// baseline, measured between their inks, and none are joined to a ligature.
func TestSpreadLettersStayApart(t *testing.T) {
	for _, c := range []struct {
		font, text string
		parts      int // outlines, with dots and counters
		style      Style
	}{
		{"Go Regular", "IIIIIIIIII", 10, Style{Cap: 20, Radius: 15, Space: 2, Inside: true}},
		{"Go Regular", "MMMMMM", 6, Style{Cap: 20, Radius: 12, Space: 2, Inside: true}},
		{"Go Regular", "MMIIIM", 6, Style{Cap: 20, Radius: 12, Inside: true}},
		{"Go Regular", "W W W W W W", 6, Style{Cap: 20, Radius: 12, Space: 0.5, Inside: true}},
		{"Go Regular", "WW IIII", 6, Style{Radius: 14, Inside: true}},
		{"Go Regular", "yyyyyyyy", 8, Style{Cap: 20, Radius: 9, Space: 1}},
		{"DejaVu Sans", "fjfj", 6, Style{Cap: 6}},
		{"DejaVu Sans", "fifi", 6, Style{Cap: 6}},
	} {
		f, err := Load(c.font)
		if err != nil {
			t.Fatal(err)
		}
		c.style.Curve, c.style.Align = Circle, Spread
		b, err := Fit(f, c.text, 80, 40, c.style)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if len(b.Outline) != c.parts {
			t.Errorf("%s: %d outlines, want %d", c.text, len(b.Outline), c.parts)
			continue
		}
		if c.parts > len([]rune(c.text)) {
			continue // dots lie near their letters
		}
		for i, p := range b.Outline {
			for _, q := range b.Outline[:i] {
				for _, x := range p.Flatten(1e-3) {
					for _, y := range q.Flatten(1e-3) {
						if d := x.Distance(y); d < c.style.Space {
							t.Fatalf("%s: two letters are %.3f apart, want %g or more", c.text, d, c.style.Space)
						}
					}
				}
			}
		}
	}
}
