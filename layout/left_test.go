package layout

import (
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/eval/design"
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

// What is left beside a part that lies alone is told: of a board that a knife cuts what its cuts leave, one after the
// other, each with its width taken off, and so is what it is cut from; else pieces that find room beside the part and each other.
func TestLeftBesideOneAlone(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	whole := func(low, high int) float64 { return float64(low + r.IntN(high-low+1)) }
	for range 500 {
		supply := Supply{Bed: geom.Pt(900, 900), Margin: whole(0, 300), Spacing: whole(0, 4), Way: design.Way{Knife: design.Asked{Yes: r.IntN(2) == 0}}}
		size := geom.Pt(whole(60, 600), whole(60, 600))
		l := laid{w: whole(5, int(size.X)), h: whole(5, int(size.Y))}
		at := geom.Pt(whole(0, 1)*300, whole(0, 1)*300) // of a sheet that the knife cuts up, or a whole one
		p := supply.aloneOn(l, sheet.Piece{Box: geom.Box{Min: at, Max: at.Add(size)}})
		its := p.pieces[0].box()
		if !(geom.Box{Max: size}).Grow(geom.Tol).Holds(its) {
			continue // no knife could cut it out
		}
		var got, want []geom.Point
		for _, o := range p.left {
			got = append(got, o.Size)
		}
		if !supply.Way.Knife.Yes {
			sum := l.w * l.h
			for _, o := range p.left {
				sum += o.Size.X*o.Size.Y - o.Gone.X*o.Gone.Y
			}
			beside := max(its.Min.X, size.X-its.Max.X, its.Min.Y, size.Y-its.Max.Y)
			if sum > size.X*size.Y+geom.Tol || (len(p.left) > 0) != (beside >= leastLeft) {
				t.Fatalf("%v alone on %v leaves %v", its, size, p.left)
			}
			continue
		}
		pieces := []geom.Box{{Max: size}}
		for _, c := range p.knife {
			swath := geom.Box{Min: c.From, Max: c.To}.Grow(supply.Spacing / 2)
			i := slices.IndexFunc(pieces, func(b geom.Box) bool { return b.Grow(geom.Tol).Holds(geom.Box{Min: c.From, Max: c.To}) })
			one, two := pieces[i], pieces[i]
			if c.From.X == c.To.X {
				one.Max.X, two.Min.X = swath.Min.X, swath.Max.X
			} else {
				one.Max.Y, two.Min.Y = swath.Min.Y, swath.Max.Y
			}
			pieces = append(slices.Delete(pieces, i, i+1), one, two)
		}
		for _, b := range pieces {
			if at.X > 0 {
				b.Min.X = max(b.Min.X, supply.Spacing)
			}
			if at.Y > 0 {
				b.Min.Y = max(b.Min.Y, supply.Spacing)
			}
			if b.Max.Distance(its.Max) > geom.Tol && min(b.Width(), b.Height()) >= leastLeft {
				want = append(want, geom.Pt(b.Width(), b.Height()))
			}
		}
		same := func(a, b geom.Point) bool { return a.Distance(b) < 1e-5 }
		for _, w := range want {
			if !slices.ContainsFunc(got, func(g geom.Point) bool { return same(g, w) }) {
				t.Fatalf("%v alone on %v leaves %v, told are %v", its, size, want, got)
			}
		}
		if len(got) != len(want) {
			t.Fatalf("%v alone on %v leaves %v, told are %v", its, size, want, got)
		}
	}
}
