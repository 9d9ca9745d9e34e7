package layout_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"foredge/lang/diag/diagtest"
	"foredge/layout"
	"foredge/layout/geom"
)

const twoFaced = `
laser bench { kerf = 0.3; bed = 400 by 300 }
stock board { thick = 3 }
panel front {
  stock = board; width = 150; height = 210; corner head-foredge = radius 6
  row wire on spine { count = 20; hole = rect 4 by 4; pitch = 8; inset = 4 }
  region title { spine = 20; width = 60; head = 30; height = 20; engrave text "Outside" }
  region owner { face = inside; spine = 20; width = 60; head = 100; height = 20; mark frame; engrave text "Inside" }
}
panel back mirrors front { without title }
panel plain { stock = board; width = 100; height = 100 }
panel strip { stock = board; width = 20; height = 120 }
panel tag { stock = board; width = 34; height = 8 }
`

// Marks of the inside are drawn as the board lies when it was turned about an
// axis from head to tail: what was 20 to 80 mm from a spine at the left is as far
// from a spine at the right. The turned board lies where the jig's corner is, 20
// mm from both edges of the page, and lettering is not reversed.
func TestInside(t *testing.T) {
	d, diags := solved(twoFaced)
	if d == nil {
		t.Fatal(diagtest.Text(diags))
	}
	faces, diags := layout.Inside(d)
	if diags.HasErrors() || len(faces) != 2 {
		t.Fatalf("%d faces: %s", len(faces), diagtest.Text(diags))
	}
	outer, _ := layout.Draw(d)
	for _, p := range outer.Parts {
		for _, s := range p.Shapes {
			if strings.Contains(s.ID, "owner") {
				t.Errorf("%s is drawn on the outside", s.ID)
			}
		}
	}
	for i, want := range []geom.Box{
		{Min: geom.Pt(20+150-80, 20+100), Max: geom.Pt(20+150-20, 20+120)}, // front: its spine lies at the right now
		{Min: geom.Pt(20+20, 20+100), Max: geom.Pt(20+80, 20+120)},         // back: at the left
	} {
		cut, diags := faces[i].Drawing.ForLaser()
		if len(diags) > 0 {
			t.Error(diagtest.Text(diags))
		}
		if cut.Size.Distance(geom.Pt(150.2+40, 210.2+40)) > 1e-9 {
			t.Errorf("the page of %s is %v", faces[i].Panel, cut.Size)
		}
		board := geom.EmptyBox()
		for _, s := range cut.Parts[0].Shapes {
			switch b := s.Figure.Bounds(); {
			case s.Op == layout.Guide:
				board = board.Union(b)
			case s.Op == layout.Cut || s.Op == layout.Score:
				t.Errorf("%s is cut", s.ID)
			case strings.HasSuffix(s.ID, ".1") && (b.Min.Distance(want.Min) > 1e-6 || b.Max.Distance(want.Max) > 1e-6):
				t.Errorf("the frame of %s lies from %v to %v, want %v", faces[i].Panel, b.Min, b.Max, want)
			case !want.Grow(1e-6).Holds(b):
				t.Errorf("%s leaves its region", s.ID)
			}
		}
		if board.Min.Distance(geom.Pt(20, 20)) > 1e-6 || board.Max.Distance(geom.Pt(170, 230)) > 1e-6 {
			t.Errorf("the board of %s lies from %v to %v", faces[i].Panel, board.Min, board.Max)
		}
	}
}

// What would go through the board can't be on its inside.
func TestInsideIsNotCut(t *testing.T) {
	d, diags := solved(`panel p { width = 100; height = 100; thick = 1
  region r { face = inside; width = 80; height = 30; cut text "HO" } }`)
	if d == nil {
		t.Fatal(diagtest.Text(diags))
	}
	if _, diags := layout.Inside(d); !diags.HasErrors() {
		t.Error("letters that are cut were put on the inside")
	}
}

// A jig's opening, once the laser has taken its kerf, is 0.2 mm wider and higher
// than the board, from a corner 20 mm from the page's edges, with a notch for a finger
// in two sides, smaller in those shorter than 36 mm.
func TestJig(t *testing.T) {
	d, diags := solved(twoFaced)
	if d == nil {
		t.Fatal(diagtest.Text(diags))
	}
	faces, diags := layout.Jig(d)
	if diags.HasErrors() || len(faces) != 5 {
		t.Fatalf("%d jigs: %s", len(faces), diagtest.Text(diags))
	}
	for i, c := range []struct{ size, finger geom.Point }{ // how far the notches reach at the right and the foot
		{geom.Pt(150, 210), geom.Pt(9, 9)}, {geom.Pt(150, 210), geom.Pt(9, 9)}, {geom.Pt(100, 100), geom.Pt(9, 9)},
		{geom.Pt(20, 120), geom.Pt(9, 5)}, {geom.Pt(34, 8), geom.Pt(2, 8.5)},
	} {
		size, finger := c.size, c.finger
		cut, diags := faces[i].Drawing.ForLaser()
		if len(diags) > 0 {
			t.Error(diagtest.Text(diags))
		}
		for _, s := range cut.Parts[0].Shapes {
			b := s.Figure.Bounds()
			if s.Hole {
				b = b.Grow(0.15) // what the laser takes beside its path
				if b.Min.Distance(geom.Pt(20, 20)) > 1e-6 || b.Max.Distance(geom.Pt(20.2, 20.2).Add(finger).Add(size)) > 1e-6 {
					t.Errorf("%s lies from %v to %v", s.ID, b.Min, b.Max)
				}
				if a := math.Abs(geom.Area(s.Figure)); math.Abs(a-wantOpening(size, finger, 0.15)) > 0.05 {
					t.Errorf("%s has %.3f mm², want %.3f", s.ID, a, wantOpening(size, finger, 0.15))
				}
			} else if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > cut.Size.X || b.Max.Y > cut.Size.Y {
				t.Errorf("%s leaves the page", s.ID)
			}
		}
	}
}

// wantOpening is the area of an opening drawn narrower by half a kerf: its
// rectangle, and two discs as far as they lie beyond its sides, their rims nearer
// by as much. Slivers where rims meet sides are below 0.05 mm².
func wantOpening(size, finger geom.Point, by float64) float64 {
	area := (size.X + 0.2 - 2*by) * (size.Y + 0.2 - 2*by)
	for _, r := range []float64{finger.X - by, finger.Y - by} {
		area += r*r*math.Acos(-by/r) + by*math.Sqrt(r*r-by*by)
	}
	return area
}

// Parts in rows lie apart, inside the sheet, each once and in order.
func TestRows(t *testing.T) {
	rows := layout.NewRows(func(string) geom.Point { return geom.Pt(300, 200) })
	var sheets []layout.Sheet
	want := 0
	for i := range 40 {
		d, diags := solved(fmt.Sprintf("panel p { width = %d; height = %d }\npanel q { width = 50; height = 30 }", 20+i*37%160, 15+i*53%120))
		if d == nil {
			t.Fatal(diagtest.Text(diags))
		}
		drawing, _ := layout.Draw(d)
		if err := rows.Fits(drawing); err != nil {
			t.Fatal(err)
		}
		planned := rows.Where([]string{fmt.Sprint(i)}, drawing, nil)
		on, full := rows.Add(fmt.Sprint(i), drawing, nil)
		if !slices.Equal(planned, on) {
			t.Errorf("order %d lies on %v, and was to lie on %v", i, on, planned)
		}
		sheets = append(sheets, full...)
		want += 2
		if len(on) == 0 || on[0].Sheet < len(sheets)-len(full) || on[len(on)-1].Sheet != len(sheets)+1 {
			t.Errorf("order %d lies on sheets %v while %d are full", i, on, len(sheets))
		}
	}
	sheets = append(sheets, rows.Rest()...)
	got := 0
	for _, s := range sheets {
		s := s.Outer
		if want := fmt.Sprintf("%d parts on 300 by 200 mm", len(s.Parts)); s.Desc != want {
			t.Errorf("a sheet is described as %q, want %q", s.Desc, want)
		}
		for i, p := range s.Parts {
			if order, _, _ := strings.Cut(p.Name, "."); order != fmt.Sprint(got/2) {
				t.Errorf("%s is part %d", p.Name, got)
			}
			got++
			if !(geom.Box{Max: geom.Pt(300, 200)}).Grow(-5 + 1e-9).Holds(p.Bounds) {
				t.Errorf("%s leaves the sheet", p.Name)
			}
			for _, q := range s.Parts[:i] {
				apart := max(p.Bounds.Min.X-q.Bounds.Max.X, q.Bounds.Min.X-p.Bounds.Max.X, p.Bounds.Min.Y-q.Bounds.Max.Y, q.Bounds.Min.Y-p.Bounds.Max.Y)
				if apart < layout.Spacing-1e-9 {
					t.Errorf("%s and %s are %.3f mm apart", p.Name, q.Name, apart)
				}
			}
		}
	}
	if got != want || rows.Rest() != nil {
		t.Errorf("%d parts lie on sheets, want %d", got, want)
	}
	big, _ := solved("panel p { width = 291; height = 20 }")
	drawing, _ := layout.Draw(big)
	if rows.Fits(drawing) == nil {
		t.Error("a part that is too wide fits")
	}
}

// Parts stay 5 mm from a sheet's edges and begin right there: what is larger by a
// hair fits in neither direction, and what just fits beside another lies in its
// row.
func TestSheetMargin(t *testing.T) {
	newRows := func() *layout.Rows { return layout.NewRows(func(string) geom.Point { return geom.Pt(300, 200) }) }
	panel := func(w, h float64) *layout.Drawing {
		return drawn(t, fmt.Sprintf("panel p { width = %v; height = %v }", w, h))
	}
	for size, fits := range map[geom.Point]bool{{X: 290, Y: 190}: true, {X: 290.01, Y: 20}: false, {X: 20, Y: 190.01}: false} {
		err := newRows().Fits(panel(size.X, size.Y))
		if (err == nil) != fits {
			t.Errorf("%v on 300 by 200: %v", size, err)
		}
		if err != nil && !strings.HasSuffix(err.Error(), "is too large for a sheet of 300 by 200 mm with 5 mm left free at its edges") {
			t.Error(err)
		}
	}
	for _, c := range []struct {
		w, h   float64 // of the second of two
		at     geom.Point
		sheets int
	}{
		{140, 90, geom.Pt(155, 5), 1},    // 5 + 140 + 10 + 140 + 5
		{140.01, 90, geom.Pt(5, 105), 1}, // 5 + 90 + 10 + 90 + 5
		{140.01, 90.01, geom.Pt(5, 5), 2},
	} {
		rows := newRows()
		_, sheets := rows.Add("1", panel(140, 90), nil)
		_, more := rows.Add("2", panel(c.w, c.h), nil)
		sheets = slices.Concat(sheets, more, rows.Rest())
		if len(sheets) != c.sheets {
			t.Errorf("%v by %v: %d sheets, want %d", c.w, c.h, len(sheets), c.sheets)
			continue
		}
		first := sheets[0].Outer.Parts[0].Bounds.Min
		parts := sheets[len(sheets)-1].Outer.Parts
		second := parts[len(parts)-1].Bounds.Min
		if first.Distance(geom.Pt(5, 5)) > 1e-9 || second.Distance(c.at) > 1e-9 {
			t.Errorf("%v by %v: the parts lie at %v and %v, want 5,5 and %v", c.w, c.h, first, second, c.at)
		}
	}
}

// Both faces of covers that lie together on sheets: turned over like a page as a
// whole, every hole and edge of the inside's file lies on that of the sheet's own
// file, and every mark of the inside on its board. Parts of other stocks lie on
// sheets of their own.
func TestRowsOfBothFaces(t *testing.T) {
	const w, h = 400, 300
	rows := layout.NewRows(func(stock string) geom.Point {
		if stock == "veneer" {
			return geom.Pt(150, 100)
		}
		return geom.Pt(w, h)
	})
	var sheets []layout.Sheet
	faced := map[int]bool{}
	for i := range 7 {
		d, diags := solved(twoFaced + "stock veneer { thick = 1; size = 150 by 100; kerf = 0.1 }\npanel leaf { width = 60; height = 40; stock = veneer }\n")
		if d == nil {
			t.Fatal(diagtest.Text(diags))
		}
		drawing, _ := layout.Draw(d)
		faces, _ := layout.Inside(d)
		on, full := rows.Add(fmt.Sprint(i), drawing, faces)
		for _, o := range on {
			faced[o.Sheet] = faced[o.Sheet] || o.Inside
		}
		sheets = append(sheets, full...)
	}
	sheets = append(sheets, rows.Rest()...)
	compared, marks, leaves := 0, 0, 0
	for _, s := range sheets {
		if faced[s.Number] != (s.Inside != nil) {
			t.Errorf("sheet %d has an inside: %v, and the orders say %v", s.Number, s.Inside != nil, faced[s.Number])
		}
		want := map[string]geom.Figure{}
		boards := map[string]geom.Box{}
		for _, p := range s.Outer.Parts {
			if p.Stock == "veneer" {
				leaves++
			}
			if (p.Stock == "veneer") != (s.Outer.Size.X == 150) {
				t.Errorf("%s of %q lies on a sheet %g mm wide", p.Name, p.Stock, s.Outer.Size.X)
			}
			says := fmt.Sprintf("%d parts on %g by %g mm of %s", len(s.Outer.Parts), s.Outer.Size.X, s.Outer.Size.Y, p.Stock)
			if len(s.Outer.Parts) == 1 {
				says = strings.Replace(says, "1 parts", "1 part", 1)
			}
			if p.Stock == "" {
				says = strings.TrimSuffix(says, " of ")
			}
			if s.Outer.Desc != says {
				t.Errorf("a sheet is described as %q, want %q", s.Outer.Desc, says)
			}
			boards[p.Name] = p.Bounds
			for _, x := range p.Shapes {
				if x.Op == layout.Cut {
					want[x.ID] = x.Figure
				}
			}
		}
		if s.Inside == nil {
			continue
		}
		over := geom.MirrorX(s.Inside.Size.X / 2)
		for _, p := range s.Inside.Parts {
			found := 0
			for _, x := range p.Shapes {
				turned := over.Apply(x.Figure)
				if x.Op != layout.Guide {
					marks++
					if !boards[p.Name].Grow(1e-9).Holds(turned.Bounds()) {
						t.Errorf("%s leaves its board", x.ID)
					}
					continue
				}
				found++
				compared++
				// The same area in the same place: where the two differ has no area.
				a, b := want[x.ID], turned
				if a == nil || a.Bounds().Min.Distance(b.Bounds().Min) > 1e-9 || a.Bounds().Max.Distance(b.Bounds().Max) > 1e-9 ||
					math.Abs(math.Abs(geom.Area(a))-math.Abs(geom.Area(b))) > 1e-9 {
					t.Errorf("%s doesn't lie on its hole or edge", x.ID)
				}
			}
			if found != 21 { // 20 holes and the edge
				t.Errorf("%s has %d guides", p.Name, found)
			}
		}
	}
	if compared != 7*2*21 || marks < 7*2*2 || leaves != 7 {
		t.Errorf("%d guides, %d marks and %d leaves were looked at", compared, marks, leaves)
	}
}
