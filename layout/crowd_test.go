package layout

import (
	"testing"

	"foredge/layout/geom"
)

// Only stretches of two parts that run beside each other within the width of cut are cut twice.
func TestTwice(t *testing.T) {
	at := func(name string, x, y, w, h float64) Part {
		return Part{Name: name, Kerf: 0.2, Shapes: []Shape{{Op: Cut, Figure: geom.Rect{Min: geom.Pt(x, y), W: w, H: h}}}}
	}
	together := at("c", 100, 0, 100, 50)
	together.Shapes[0].Run = Together
	disc := Part{Name: "d", Kerf: 0.2, Shapes: []Shape{{Op: Cut, Figure: geom.Circle{Center: geom.Pt(150, 25), R: 50}}}}
	a := at("a", 0, 0, 100, 50)
	for _, test := range []struct {
		what  string
		parts []Part
		want  Twice
	}{
		{"side by side", []Part{a, at("b", 100, 0, 100, 50)}, Twice{1, "a", "b"}},
		{"one above the other, beside a third", []Part{a, at("b", 100, 0, 100, 50), at("c", 0, 50, 100, 50)}, Twice{2, "a", "b"}},
		{"within the width of cut", []Part{a, at("b", 100.19, 0, 100, 50)}, Twice{1, "a", "b"}},
		{"a width of cut apart", []Part{a, at("b", 100.2, 0, 100, 50)}, Twice{}},
		{"corner at corner", []Part{a, at("b", 100, 50, 100, 50)}, Twice{}},
		{"in one line, apart", []Part{a, at("b", 110, 0, 100, 50)}, Twice{}},
		{"cut together", []Part{a, together}, Twice{}},
		{"a disc at an edge", []Part{a, disc}, Twice{}},
	} {
		var got Twice
		got.addTwice(&Sheet{Outer: &Drawing{Parts: test.parts}})
		if got != test.want {
			t.Errorf("%s: %+v, not %+v", test.what, got, test.want)
		}
	}
}
