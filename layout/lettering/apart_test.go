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
