package tour

import (
	"slices"
	"testing"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// With heat spread no neighbour comes right after its neighbour where that can be had.
func TestSpread(t *testing.T) {
	var row []Item
	for i := range 40 {
		row = append(row, Item{Op: Cut, Figure: geom.Rect{Min: geom.Pt(float64(i%10)*8, float64(i/10)*8), W: 6, H: 6}})
	}
	o := Options{Spread: maybe.Is(3.0)}
	plan := order(t, row, o)
	near := 0
	for k := 1; k < len(plan.Runs); k++ {
		a, b := row[plan.Runs[k-1].Item].Figure, row[plan.Runs[k].Item].Figure
		if geom.Distance(a, b) <= 3 {
			near++
		}
	}
	plain := order(t, row, Options{})
	t.Logf("travel %.0f mm apart, %.0f mm else", plan.Travel, plain.Travel)
	if near != 0 || plan.Neighbours != near {
		t.Errorf("%d neighbours run one after another, told %d", near, plan.Neighbours)
	}
	// A hundred others that are as near as that change nothing about it.
	var dense []Item
	for i := range 900 {
		dense = append(dense, Item{Op: Cut, Figure: geom.Rect{Min: geom.Pt(float64(i%30)*4, float64(i/30)*4), W: 2, H: 2}})
	}
	plan = order(t, dense, Options{Spread: maybe.Is(25.0)})
	if near := apartBy(dense, plan); near[0] <= 25 || plan.Neighbours != 0 {
		t.Errorf("among many two that are run one after another lie %.1f mm apart, told %d", near[0], plan.Neighbours)
	}
	// What can't be kept apart is kept as far apart as it can be: of a row of five, where all
	// heat one another, no two neighbours are run one after another (2 4 1 5 3 is such an order).
	plan = order(t, row[:5], Options{Spread: maybe.Is(100.0)})
	if near := apartBy(row, plan); near[0] < 10-1e-9 || plan.Neighbours != 4 {
		t.Errorf("where all are near two that are run one after another lie %.1f mm apart, told %d", near[0], plan.Neighbours)
	}
	// Where the heat spreads farther than that, no two are run nearer to one another for it.
	var holes []Item
	for i := range 5 {
		holes = append(holes, Item{Op: Cut, Figure: geom.Circle{Center: geom.Pt(float64(i)*10, 0), R: 2}})
	}
	for _, spread := range []float64{16, 17, 20, 26, 30, 60} {
		plan = order(t, holes, Options{Spread: maybe.Is(spread)})
		if near := apartBy(holes, plan); near[0] < 16-1e-9 {
			t.Errorf("with heat that spreads %g mm two that are run one after another lie %.1f mm apart", spread, near[0])
		}
	}
	// Two alone can't be kept apart.
	if plan := order(t, row[:2], o); plan.Neighbours != 1 {
		t.Errorf("two alone: %d", plan.Neighbours)
	}
}

// apartBy is how far apart any two items that are run one after another lie, the nearest first.
func apartBy(items []Item, p *Plan) []float64 {
	var all []float64
	for k := 1; k < len(p.Runs); k++ {
		all = append(all, geom.Distance(items[p.Runs[k-1].Item].Figure, items[p.Runs[k].Item].Figure))
	}
	slices.Sort(all)
	return all
}
