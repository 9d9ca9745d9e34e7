package sheet_test

import (
	"slices"
	"testing"

	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// What a knife leaves is what its cuts leave, which lay has replayed: here with margins that are left as
// strips, and with none.
func TestLeftByTheKnife(t *testing.T) {
	for _, margin := range []float64{0, 2, 60, 90} {
		for _, width := range []float64{0, 3} {
			for corner := range sheet.Corner(5) {
				s := sheet.Stock{Name: "board", Width: 500, Height: 350, Margin: margin, Knife: maybe.Is(width)}
				if corner < 4 {
					s.Gone, s.Corner = geom.Pt(130, 80), corner
				}
				lay(t, sheet.Job{Stocks: []sheet.Stock{s}, Parts: []sheet.Part{{Name: "log", Width: 160, Height: 90, Count: 2}, {Name: "tag", Width: 70, Height: 50, Count: 3}}}, 0.1)
			}
		}
	}
	// The cut below the smaller part goes on to the edge: upright at 300, level at 100, and at the width's end of both.
	s := sheet.Stock{Name: "board", Width: 500, Height: 350, Knife: maybe.Is(0.0)}
	its := lay(t, sheet.Job{Stocks: []sheet.Stock{s}, Parts: []sheet.Part{{Name: "log", Width: 300, Height: 200, Count: 1}, {Name: "tag", Width: 100, Height: 100, Count: 1}}}, 0.1).Sheets[0]
	var sizes []geom.Point
	for _, l := range its.Left {
		sizes = append(sizes, geom.Pt(l.Width(), l.Height()))
	}
	if want := []geom.Point{{X: 500, Y: 150}, {X: 200, Y: 100}, {X: 100, Y: 100}}; !slices.Equal(sizes, want) {
		t.Errorf("left are %v of %v, cut at %v", sizes, its.Placements, its.Cuts)
	}
}
