package layout_test

import (
	"reflect"
	"slices"
	"testing"

	"foredge/eval/maybe"
	"foredge/layout"
	"foredge/layout/geom"
)

// Slim parts lie by their outlines where that takes fewer sheets: as far from each other and
// from the edges as all do, each as often as it is wanted.
func TestByOutline(t *testing.T) {
	text := "laser l { kerf = 0.2 }\npanel a { width = 100; height = 100; copies = 9; corner head-foredge = chamfer 95 }\n" +
		"panel b { width = 90; height = 70; copies = 4; corner tail-spine = chamfer 65 }\npanel c { width = 60; height = 40; copies = 3 }"
	lay := func(effort float64) *layout.Laid {
		out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: kerfed(t, text)}}, map[string]layout.Supply{"": sheets(300, 250)}, layout.Search{Effort: effort})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	boxes, out := lay(-1), lay(0.1) // the first only constructs, by rectangles
	if len(out.Sheets) >= len(boxes.Sheets) {
		t.Errorf("%d sheets by outlines, %d by rectangles", len(out.Sheets), len(boxes.Sheets))
	}
	parts := 0
	for _, s := range out.Sheets {
		var edges []*geom.Boundary
		for _, p := range s.Outer.Parts {
			parts++
			if !(geom.Box{Max: s.Outer.Size}).Grow(-5 + 1e-5).Holds(cutOf(p)) {
				t.Errorf("%s leaves its sheet", p.Name)
			}
			b := geom.NewBoundary(p.Shapes[len(p.Shapes)-1].Figure)
			for i, other := range edges {
				if d := b.Clearance(other); d < layout.Spacing-1e-5 {
					t.Errorf("%s and %s are %.4f mm apart", p.Name, s.Outer.Parts[i].Name, d)
				}
			}
			edges = append(edges, b)
		}
	}
	if parts != 16 {
		t.Errorf("%d parts lie on sheets", parts)
	}
	if again := lay(0.1); !reflect.DeepEqual(again.On, out.On) {
		t.Error("laid again, parts lie elsewhere")
	}
}

// Of offcuts on which parts lie by their outlines the smallest are begun, in whatever order they are stated.
func TestByOutlineOnTheSmallest(t *testing.T) {
	text := "laser l { kerf = 0.2 }\npanel a { width = 100; height = 100; copies = 4; corner head-foredge = chamfer 95 }"
	for _, order := range [][]float64{{150, 145, 140}, {140, 145, 150}, {145, 150, 140}} {
		supply := sheets(300, 250)
		supply.Quantity = maybe.Is(0)
		for _, side := range order {
			supply.Offcuts = append(supply.Offcuts, layout.Offcut{Size: geom.Pt(side, side)})
		}
		sides := slices.Sorted(slices.Values(order))
		out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: kerfed(t, text)}}, map[string]layout.Supply{"": supply}, layout.Search{Effort: 0.1})
		if err != nil {
			t.Error(order, err)
			continue
		}
		var on []float64
		for _, s := range out.Sheets {
			on = append(on, s.Outer.Size.X)
		}
		if slices.Sort(on); !slices.Equal(on, sides[:2]) {
			t.Errorf("of %v they lie on %v", order, on)
		}
	}
}

// Where parts lie by their outlines what is below all of them is left, and no more is told.
func TestLeftBelowOutlines(t *testing.T) {
	text := "laser l { kerf = 0.2 }\npanel a { width = 100; height = 100; copies = 7; corner head-foredge = chamfer 95 }"
	out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: kerfed(t, text)}}, map[string]layout.Supply{"": sheets(300, 170)}, layout.Search{Effort: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	var want []layout.Offcut
	for _, s := range out.Sheets {
		reach := 0.0
		for _, p := range s.Outer.Parts {
			reach = max(reach, cutOf(p).Max.Y)
		}
		if free := 170 - reach; free >= 50 {
			want = append(want, layout.Offcut{Size: geom.Pt(300, free)})
		}
	}
	got := out.Stocks[0].Left
	if len(want) == 0 || !slices.EqualFunc(got, want, func(a, b layout.Offcut) bool { return a.Size.Distance(b.Size) < 1e-5 && a.Gone == b.Gone }) {
		t.Errorf("left over are %v, told are %v", want, got)
	}
}
