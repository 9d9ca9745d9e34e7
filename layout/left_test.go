package layout

import (
	"slices"
	"testing"

	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// Of a sheet on which parts lie along two edges the rectangle between them is more than what is
// left round them all, and is told; of one on which they lie in a corner it is the other way.
func TestLeftIsTheMore(t *testing.T) {
	box := func(x, y, w, h float64) geom.Box { return geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+w, y+h)} }
	of := sheet.Stock{Width: 400, Height: 300}
	between := []geom.Box{box(45, 45, 355, 255)}
	if got := leftOf(between, []geom.Box{box(5, 5, 300, 40), box(5, 45, 40, 190)}, of); !slices.Equal(got, []Offcut{{Size: geom.Pt(355, 255)}}) {
		t.Errorf("along two edges: %v", got)
	}
	round := []geom.Box{box(0, 105, 400, 195), box(105, 0, 295, 105)}
	if got := leftOf(round, []geom.Box{box(5, 5, 100, 100)}, of); !slices.Equal(got, []Offcut{{geom.Pt(400, 300), geom.Pt(105, 105), sheet.LeftTop, nil}}) {
		t.Errorf("in a corner: %v", got)
	}
	// In the corner below at the right, with a hole between that is kept beside it.
	round = []geom.Box{box(0, 0, 400, 95), box(0, 95, 195, 205), box(200, 100, 90, 195)}
	if got := leftOf(round, []geom.Box{box(195, 95, 5, 200), box(290, 95, 105, 200), box(195, 95, 200, 5)}, of); !slices.Equal(got, []Offcut{{geom.Pt(400, 300), geom.Pt(205, 205), sheet.RightBottom, nil}, {Size: geom.Pt(90, 195)}}) {
		t.Errorf("with a hole: %v", got)
	}
}
