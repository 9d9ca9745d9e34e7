package kerf

import (
	"errors"
	"math"
	"testing"

	"foredge/layout/geom"
)

// teeth is an outline of n teeth with a hole, at a place; wide tells one from another.
func teeth(n int, wide float64, at geom.Point) geom.Outline {
	b := geom.NewPath(at.Add(geom.Pt(0, 40)))
	for i := range n {
		x := float64(i) * wide
		b = b.Line(at.Add(geom.Pt(x, 0))).Cubic(at.Add(geom.Pt(x+wide/3, 3)), at.Add(geom.Pt(x+wide/2, 9)), at.Add(geom.Pt(x+wide*0.9, 12)))
	}
	b = b.Line(at.Add(geom.Pt(float64(n)*wide, 40)))
	return geom.Outline{b.Close(), geom.NewPath(at.Add(geom.Pt(2, 30))).Line(at.Add(geom.Pt(2, 35))).Line(at.Add(geom.Pt(9, 35))).Close()}
}

// A memo gives of many equal figures, and of ones that are nearly equal, what each
// comes to by itself.
func TestMemo(t *testing.T) {
	var m Memo
	for i := range 400 {
		at := geom.Pt(float64(i)*211.7, float64(i%7)*50.3)
		wide := 6.0
		if i%10 == 3 {
			wide += 1e-5
		}
		fig := teeth(10, wide, at)
		want, err := Offset(fig, 0.1)
		got, gotErr := m.Offset(fig, 0.1)
		if err != nil || gotErr != nil {
			t.Fatal(err, gotErr)
		}
		a, b := want.(geom.Outline), got.(geom.Outline)
		if len(a) != len(b) {
			t.Fatalf("figure %d has %d paths, want %d", i, len(b), len(a))
		}
		for k := range a {
			if len(a[k].Segments) != len(b[k].Segments) {
				t.Fatalf("figure %d: path %d has %d segments, want %d", i, k, len(b[k].Segments), len(a[k].Segments))
			}
			for j := range a[k].Segments {
				if d := a[k].Segments[j].End.Distance(b[k].Segments[j].End); d > 1e-8 {
					t.Fatalf("figure %d: segment %d of path %d ends %g mm off", i, j, k, d)
				}
			}
		}
	}
	if m.seen <= little || len(m.young) == 0 {
		t.Fatal("the memo has kept nothing")
	}
}

// What vanishes is told where it lies, also if it was known before.
func TestMemoTellsWhere(t *testing.T) {
	m := Memo{seen: little}
	narrow := func(x float64) geom.Outline {
		return geom.Outline{geom.NewPath(geom.Pt(x, 0)).Line(geom.Pt(x+0.1, 0)).Line(geom.Pt(x+0.1, 5)).Line(geom.Pt(x, 5)).Close()}
	}
	for _, x := range []float64{0, 70} {
		_, err := m.Offset(narrow(x), -0.1)
		var gone VanishError
		if !errors.As(err, &gone) || math.Abs(gone.Bounds.Min.X-x) > 1e-6 {
			t.Errorf("at %g: %v", x, err)
		}
	}
}
