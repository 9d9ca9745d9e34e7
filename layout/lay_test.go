package layout_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/diag/diagtest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// sheets are sheets of one size.
func sheets(w, h float64) layout.Supply {
	return layout.Supply{Sheet: geom.Pt(w, h), Bed: geom.Pt(w, h), Margin: 5, Spacing: 10}
}

func kerfed(t *testing.T, text string) *layout.Drawing {
	t.Helper()
	d, diags := drawn(t, text).Kerfed()
	if diags.HasErrors() {
		t.Fatal(diagtest.Text(diags))
	}
	return d
}

// Parts lie apart and inside their sheets, each as often as it is wanted and where
// [layout.On] says.
func TestLay(t *testing.T) {
	sizes := map[string]layout.Supply{"": sheets(300, 200)}
	var all []layout.Wanted
	want := map[string]bool{}
	for i := range 40 {
		text := fmt.Sprintf("panel p { width = %d; height = %d }\npanel q { width = 50; height = 30; copies = 2 }", 20+i*37%160, 15+i*53%120)
		all = append(all, layout.Wanted{Name: fmt.Sprint(i), Drawing: kerfed(t, "laser l { kerf = 0.2 }\n"+text)})
		for _, name := range []string{"p", "q", "q.2"} {
			want[fmt.Sprintf("%d.%s", i, name)] = true
		}
	}
	out, err := layout.Lay(t.Context(), all, sizes, layout.Search{Effort: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	where := map[string]layout.On{}
	for i, its := range out.On {
		for _, o := range its {
			if !strings.HasPrefix(o.Part, fmt.Sprint(i)+".") {
				t.Errorf("%s is said to be of drawing %d", o.Part, i)
			}
			where[o.Part] = o
		}
	}
	for n, s := range out.Sheets {
		if want := fmt.Sprintf("%d parts on 300 by 200 mm", len(s.Outer.Parts)); s.Outer.Desc != want {
			t.Errorf("a sheet is described as %q, want %q", s.Outer.Desc, want)
		}
		for k, p := range s.Outer.Parts {
			if !want[p.Name] {
				t.Errorf("%s lies on a sheet twice or is not wanted", p.Name)
			}
			delete(want, p.Name)
			if o := where[p.Name]; o.Sheet != n || o.Place != k+1 || o.At.Distance(cutOf(p).Min) > 1e-9 {
				t.Errorf("%s is said to lie at %v, and lies on sheet %d at %v", p.Name, o, n, cutOf(p).Min)
			}
			if !(geom.Box{Max: geom.Pt(300, 200)}).Grow(-5 + 1e-9).Holds(cutOf(p)) {
				t.Errorf("%s leaves the sheet", p.Name)
			}
			for _, q := range s.Outer.Parts[:k] {
				if d := apart(cutOf(p), cutOf(q)); d < layout.Spacing-1e-9 {
					t.Errorf("%s and %s are %.3f mm apart", p.Name, q.Name, d)
				}
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("%v lie nowhere", want)
	}
}

// cutOf is the box of all that is cut of a part.
func cutOf(p layout.Part) geom.Box {
	box := geom.EmptyBox()
	for _, s := range p.Shapes {
		if s.Op == layout.Cut {
			box = box.Union(s.Figure.Bounds())
		}
	}
	return box
}

func apart(p, q geom.Box) float64 {
	return max(p.Min.X-q.Max.X, q.Min.X-p.Max.X, p.Min.Y-q.Max.Y, q.Min.Y-p.Max.Y)
}

// What leaves a margin lies with others; what leaves none lies alone, and what is larger
// by a hair, as it is cut, nowhere.
func TestLargestOnASheet(t *testing.T) {
	sizes := map[string]layout.Supply{"": sheets(300, 200)}
	for _, c := range []struct {
		text   string
		sheets int
		err    string
	}{
		{"panel p { width = 290; height = 190 }", 1, ""},
		{"panel p { width = 190; height = 290 }", 1, ""}, // turned
		{"panel p { width = 290.01; height = 20 }\npanel q { width = 20; height = 20 }", 2, ""},
		{"panel p { width = 300; height = 200 }", 1, ""},
		{"laser l { kerf = 0.2 }\npanel p { width = 300; height = 200 }", 0, "p, 300.2 by 200.2 mm as it is cut, is too large for a sheet of 300 by 200 mm"},
		{"laser l { kerf = 0.2 }\npanel p { width = 300; height = 200; quiet = too-large }", 1, ""},
		{"panel p { width = 140; height = 90 }\npanel q { width = 140; height = 90 }", 1, ""},      // 5 + 140 + 10 + 140 + 5
		{"panel p { width = 140; height = 190 }\npanel q { width = 140.01; height = 190 }", 2, ""}, // wider by a hair
	} {
		d := kerfed(t, c.text)
		out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: d}}, sizes, layout.Search{Effort: 0.01})
		var large layout.SheetError
		switch {
		case err == nil && c.err == "":
			if len(out.Sheets) != c.sheets {
				t.Errorf("%s: %d sheets, want %d", c.text, len(out.Sheets), c.sheets)
			}
		case !errors.As(err, &large) || err.Error() != c.err:
			t.Errorf("%s: %v, want %q", c.text, err, c.err)
		}
		if fits := d.Fits(sizes); (fits == nil) != (err == nil) {
			t.Errorf("%s: fits %v, laid %v", c.text, fits, err)
		}
	}
}

// A sheet whose grain runs along its height lies on a bed that is wider than high turned,
// if the parts ask for it: all of them turned with it.
func TestSheetTurnedForItsGrain(t *testing.T) {
	text := "laser l { bed = 400 by 300; kerf = 0 }\nstock ply { size = 290 by 600; grain = along height }\n" +
		"panel p { width = 120; height = 350; stock = ply }\npanel q { width = 50; height = 60; stock = ply; copies = 2 }"
	d, _ := solved(text)
	drawing, _ := layout.Draw(d)
	out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: drawing}}, layout.Supplies(d, drawing), layout.Search{Effort: 0.01})
	if err != nil || len(out.Sheets) != 1 {
		t.Fatal(err)
	}
	size := out.Sheets[0].Outer.Size
	if size.X > 400 || size.Y > 290 {
		t.Errorf("the sheet is %v", size)
	}
	for _, p := range out.Sheets[0].Outer.Parts {
		if b := p.Bounds; !(geom.Box{Max: size}).Holds(b) || (p.Name == "p" && b.Width() != 350) || (p.Name != "p" && b.Width() != 60) {
			t.Errorf("%s lies at %v", p.Name, b)
		}
	}
}

// Parts of one size lie in the order in which they are wanted, as a sheet is read on the bed,
// however it is turned for that.
func TestTurnedSheetInOrder(t *testing.T) {
	for _, size := range []string{"600 by 390", "390 by 600"} {
		text := "laser l { bed = 600 by 400; kerf = 0 }\nstock ply { size = " + size + "; grain = along height }\n"
		for _, name := range []string{"a", "b", "c", "d", "e", "f", "g"} {
			text += "panel " + name + " { width = 100; height = 80; stock = ply }\n"
		}
		d, _ := solved(text)
		drawing, _ := layout.Draw(d)
		out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: drawing}}, layout.Supplies(d, drawing), layout.Search{Effort: 0.01})
		if err != nil || len(out.Sheets) != 1 {
			t.Fatal(err)
		}
		if w := out.Sheets[0].Outer.Size.X; w != 600 {
			t.Errorf("a sheet of %s is %g mm wide on the bed", size, w)
		}
		for i, on := range out.On[0] {
			if on.Place != i+1 {
				t.Errorf("of a sheet of %s, %s is number %d, at %v", size, on.Part, on.Place, on.At)
			}
		}
	}
}

// A drawing that can be cut as it stands is left so.
func TestFitsAsDrawn(t *testing.T) {
	for text, want := range map[string]bool{
		"panel p { width = 100; height = 100 }\npanel q { width = 100; height = 100 }":                                                                     true,
		"laser l { bed = 210 by 100 }\npanel p { width = 100; height = 100 }\npanel q { width = 100; height = 100 }":                                       true,
		"laser l { bed = 209 by 100 }\npanel p { width = 100; height = 100 }\npanel q { width = 100; height = 100 }":                                       false,
		"panel p { width = 100; height = 100; copies = 2 }":                                                                                                false,
		"stock a { thick = 3 }\nstock b { thick = 2 }\npanel p { width = 100; height = 100; stock = a }\npanel q { width = 100; height = 100; stock = b }": false,
		"stock a { thick = 3; size = 100 by 100 }\npanel p { width = 100; height = 100; stock = a }":                                                       true,
		"stock a { thick = 3; size = 100 by 100 }\nlaser l { kerf = 0.2 }\npanel p { width = 100; height = 100; stock = a; quiet = too-large }\n":          false,
		"laser l { bed = 600 by 400 }\nstock a { thick = 3; size = 700 by 900 }\npanel p { width = 500; height = 300; stock = a }":                         false, // it is sawn first
		"laser l { bed = 600 by 400 }\nstock a { thick = 3; size = 605 by 400 }\npanel p { width = 500; height = 300; stock = a }":                         true,
	} {
		var d *design.Design
		d, diags := solved(text)
		if d == nil {
			t.Fatal(diagtest.Text(diags))
		}
		drawing, _ := layout.Draw(d)
		cut, _ := drawing.Kerfed()
		if got := cut.FitsAsDrawn(layout.Supplies(d, drawing)); got != want {
			t.Errorf("%s\nfits as drawn: %v", text, got)
		}
	}
}

// Both faces of covers that lie together on sheets: turned over like a page as a
// whole, every hole and edge of the inside's file lies on that of the sheet's own
// file, and every mark of the inside on its board, also where parts are turned. Parts of
// other stocks lie on sheets of their own.
func TestSheetsOfBothFaces(t *testing.T) {
	knife, shared := sheets(400, 300), sheets(400, 300)
	knife.Way.Knife.Yes, shared.Way.Shared.Yes = true, true
	for _, size := range []layout.Supply{sheets(400, 300), sheets(400, 165), knife, shared} {
		var all []layout.Wanted
		for i := range 7 {
			text := twoFaced + "stock veneer { thick = 1; size = 150 by 100; kerf = 0.3 }\npanel leaf { width = 60; height = 40; stock = veneer }\n"
			d, diags := solved(text)
			if d == nil {
				t.Fatal(diagtest.Text(diags))
			}
			faces, _ := layout.Inside(d)
			all = append(all, layout.Wanted{Name: fmt.Sprint(i), Drawing: kerfed(t, text), Faces: faces})
		}
		out, err := layout.Lay(t.Context(), all, map[string]layout.Supply{"": size, "board": size, "veneer": sheets(150, 100)}, layout.Search{Effort: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		faced, turned := map[int]bool{}, 0
		for _, its := range out.On {
			for _, o := range its {
				faced[o.Sheet] = faced[o.Sheet] || o.Inside
				if o.Turned != 0 {
					turned++
				}
			}
		}
		if turned == 0 && size.Sheet.Y < 200 {
			t.Errorf("%v: no part is turned", size)
		}
		compared, marks, leaves := 0, 0, 0
		for n, s := range out.Sheets {
			if faced[n] != (s.Inside != nil) {
				t.Errorf("sheet %d has an inside: %v, and the orders say %v", n, s.Inside != nil, faced[n])
			}
			for _, p := range s.Outer.Parts {
				if p.Common {
					continue
				}
				if p.Stock == "veneer" {
					leaves++
				}
				if p.Stock != s.Stock || (p.Stock == "veneer") != (s.Outer.Size.X == 150) {
					t.Errorf("%s of %q lies on a sheet of %q, %g mm wide", p.Name, p.Stock, s.Stock, s.Outer.Size.X)
				}
			}
			c, m := registered(t, s)
			compared, marks = compared+c, marks+m
		}
		if compared != 7*2*21 || marks < 7*2*2 || leaves != 7 {
			t.Errorf("%d guides, %d marks and %d leaves were looked at", compared, marks, leaves)
		}
	}
}

// registered holds what lies on the inside of a sheet against its outside, cut with a
// kerf of 0.3 mm.
func registered(t *testing.T, s layout.Sheet) (compared, marks int) {
	if s.Inside == nil {
		return 0, 0
	}
	want := map[string]geom.Figure{}
	boards := map[string]geom.Box{}
	for _, p := range s.Outer.Parts {
		boards[p.Name] = cutOf(p)
		for _, x := range p.Shapes {
			if x.Op == layout.Cut || p.Knife && x.Op == layout.Mark {
				want[x.ID] = x.Figure
			}
		}
		if p.Knife {
			boards[p.Name] = p.Bounds
		}
	}
	over := geom.MirrorX(s.Inside.Size.X / 2)
	for _, p := range s.Inside.Parts {
		found := 0
		for _, x := range p.Shapes {
			turned := over.Apply(x.Figure)
			if x.Op != layout.Guide {
				marks++
				if !boards[p.Name].Holds(turned.Bounds()) {
					t.Errorf("%s leaves its board", x.ID)
				}
				continue
			}
			found++
			compared++
			a, b := want[x.ID].Bounds(), turned.Bounds()
			grown := (a.Width() - b.Width()) / 2
			by := 0.15
			if s.Knife != nil && strings.HasSuffix(x.ID, ".outline") {
				by = 0 // as it is wanted
			}
			if math.Abs(math.Abs(grown)-by) > 1e-9 || b.Grow(grown).Min.Distance(a.Min) > 1e-9 || b.Grow(grown).Max.Distance(a.Max) > 1e-9 {
				t.Errorf("%s doesn't lie on its hole or edge: %v on %v", x.ID, b, a)
			}
		}
		if found != 21 { // 20 holes and the edge
			t.Errorf("%s has %d guides", p.Name, found)
		}
	}
	return compared, marks
}

// A corner that is gone lies on the other side of the inside, which is turned over like a
// page, and keeps its height; no knife goes there.
func TestInsideOfWhatIsGone(t *testing.T) {
	for _, c := range []struct {
		corner          sheet.Corner
		outside, inside string
	}{
		{sheet.LeftTop, "head-left", "head-right"},
		{sheet.RightTop, "head-right", "head-left"},
		{sheet.LeftBottom, "tail-left", "tail-right"},
		{sheet.RightBottom, "tail-right", "tail-left"},
	} {
		for _, knife := range []bool{false, true} {
			d, diags := solved(twoFaced)
			if d == nil {
				t.Fatal(diagtest.Text(diags))
			}
			faces, _ := layout.Inside(d)
			supply := sheets(400, 400)
			supply.Quantity, supply.Way.Knife.Yes = maybe.Is(0), knife
			supply.Offcuts = []layout.Offcut{{Size: geom.Pt(400, 400), Gone: geom.Pt(60, 50), Corner: c.corner}}
			out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: kerfed(t, twoFaced), Faces: faces}}, map[string]layout.Supply{"board": supply}, layout.Search{Effort: 0.01})
			if err != nil || len(out.Sheets) != 1 {
				t.Fatal(out, err)
			}
			s := out.Sheets[0]
			registered(t, s)
			gone := ", of which 60 by 50 mm are gone at "
			if want := "2 parts on 400 by 400 mm of board, on an offcut of 400 by 400 mm, turned over like a page, inner side up" + gone + c.inside; s.Inside.Desc != want {
				t.Errorf("the inside is said to be %q, want %q", s.Inside.Desc, want)
			}
			if !strings.Contains(s.Outer.Desc, gone+c.outside) || strings.Contains(s.Outer.Desc, "by a knife") != knife {
				t.Errorf("with a knife %v: the outside is said to be %q", knife, s.Outer.Desc)
			}
			turned := layout.TurnedOver(s.Gone, s.Inside.Size.X)
			if over := geom.MirrorX(200).Apply(geom.Rect{Min: s.Gone.Min, W: 60, H: 50}).Bounds(); over != turned {
				t.Errorf("what is gone lies at %v turned over, want %v", turned, over)
			}
			for _, p := range s.Inside.Parts {
				if b := p.Bounds; min(b.Max.X, turned.Max.X)-max(b.Min.X, turned.Min.X) > 0 && min(b.Max.Y, turned.Max.Y)-max(b.Min.Y, turned.Min.Y) > 0 {
					t.Errorf("%s lies on what is gone", p.Name)
				}
			}
		}
	}
}

// More effort takes no more sheets, and of some jobs fewer.
func TestEffort(t *testing.T) {
	fewer := 0
	for seed := range 12 {
		var text strings.Builder
		for i := range 14 {
			fmt.Fprintf(&text, "panel p%d { width = %d; height = %d }\n", i, 30+(seed*17+i*53)%110, 30+(seed*29+i*71)%110)
		}
		d := kerfed(t, text.String())
		on := func(effort float64) int {
			out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: d}}, map[string]layout.Supply{"": sheets(300, 200)}, layout.Search{Effort: effort})
			if err != nil {
				t.Fatal(err)
			}
			return len(out.Sheets)
		}
		little, much := on(-1), on(0.02)
		if much > little {
			t.Errorf("job %d takes %d sheets, and %d with more effort", seed, little, much)
		} else if much < little {
			fewer++
		}
	}
	if fewer == 0 {
		t.Error("more effort never takes fewer sheets")
	}
}
