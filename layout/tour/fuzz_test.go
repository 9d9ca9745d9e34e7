package tour

import (
	"context"
	"encoding/binary"
	"math"
	"testing"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// FuzzOrder reads items off bytes: an operation, a part and a form each, with sizes that
// may be anything.
func FuzzOrder(f *testing.F) {
	f.Add([]byte{}, uint8(0))
	f.Add([]byte("a gull, a tern and a knot sat on the harbour wall and watched the tide"), uint8(3))
	f.Add(make([]byte, 200), uint8(255))
	f.Fuzz(func(t *testing.T, data []byte, how uint8) {
		var items []Item
		next := func() float64 {
			if len(data) < 2 {
				data = nil
				return 0
			}
			v := binary.LittleEndian.Uint16(data)
			data = data[2:]
			if v == 0xFFFF {
				return math.Inf(1)
			}
			return float64(v) / 64
		}
		for len(data) > 0 && len(items) < 60 {
			b := data[0]
			data = data[1:]
			it := Item{Op: Op(b & 3), Part: int(b >> 2 & 3), Parting: b&64 != 0}
			x, y, w, h := next(), next(), next(), next()
			p := geom.Pt(x, y)
			switch b >> 4 & 3 {
			case 0:
				it.Figure = geom.Rect{Min: p, W: w, H: h}
			case 1:
				it.Figure = geom.Circle{Center: p, R: w}
			case 2:
				it.Figure = geom.NewPath(p).Line(geom.Pt(w, h)).Line(geom.Pt(h, x)).Open()
			default:
				it.Figure = geom.Outline{
					geom.NewPath(p).Line(geom.Pt(w, h)).Cubic(geom.Pt(h, x), geom.Pt(y, w), geom.Pt(x, h)).Close(),
					geom.Polygon(p, geom.Pt(x+w, y), geom.Pt(x, y+h)),
				}
			}
			items = append(items, it)
		}
		o := Options{Steps: maybe.Is(100.0), Fixed: how&1 != 0, From: maybe.If(geom.Pt(1, 1), how&2 != 0)}
		o.Spread = maybe.If(5.0, how&4 != 0)
		o.Bridges = maybe.If(Bridges{Width: 0.5, Below: 100, Count: maybe.Is(int(how >> 5))}, how&8 != 0)
		plan, err := Order(context.Background(), items, o)
		if err != nil {
			return
		}
		if !(plan.Travel >= 0) || !o.Spread.Present() && plan.Travel > plan.Given+1e-5*float64(len(items)+1) {
			t.Errorf("travel %v, as given %v", plan.Travel, plan.Given)
		}
		seen := map[[2]int]bool{}
		for k, r := range plan.Runs {
			if seen[[2]int{r.Item, r.Contour}] {
				t.Errorf("contour %d of item %d is run twice", r.Contour, r.Item)
			}
			seen[[2]int{r.Item, r.Contour}] = true
			if k > 0 && items[plan.Runs[k-1].Item].Op > items[r.Item].Op {
				t.Error("operations are mixed")
			}
		}
	})
}
