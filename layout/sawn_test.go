package layout_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// onSheet is where a part lies on the sheet from which its page is sawn, before this was turned: worked
// out anew from what is told of the page.
func onSheet(s layout.Sheet, box geom.Box) geom.Box {
	if s.Sawn == nil {
		return box
	}
	if s.Sawn.Turned {
		// What was at (x, y) of a piece so high lies at (high - y, x).
		high := s.Sawn.Piece.Height()
		box = geom.Box{Min: geom.Pt(box.Min.Y, high-box.Max.X), Max: geom.Pt(box.Max.Y, high-box.Min.X)}
	}
	return geom.Box{Min: box.Min.Add(s.Sawn.Piece.Min), Max: box.Max.Add(s.Sawn.Piece.Min)}
}

// mirrored holds what lies on the inside of a page, cut without a kerf, against its outside, and says how
// many marks there are.
func mirrored(t *testing.T, s layout.Sheet) (marks int) {
	if s.Inside == nil {
		return 0
	}
	boards := map[string]geom.Box{}
	for _, p := range s.Outer.Parts {
		boards[p.Name] = p.Bounds
	}
	over := geom.MirrorX(s.Inside.Size.X / 2)
	for _, p := range s.Inside.Parts {
		for _, x := range p.Shapes {
			b, board := over.Apply(x.Figure).Bounds(), boards[p.Name]
			if x.Op == layout.Guide && (b.Min.Distance(board.Min) > geom.Tol || b.Max.Distance(board.Max) > geom.Tol) || !board.Grow(geom.Tol).Holds(b) {
				t.Errorf("%s lies at %v turned over, and its board at %v", x.ID, b, board)
			}
			marks++
		}
	}
	return marks
}

// A trial is a design whose sheets and offcuts may be larger than the bed, and what there is of its stock.
type trial struct {
	text   string
	grain  string
	size   geom.Point // of a sheet
	bed    geom.Point
	copies int
	supply layout.Supply
	fail   func(format string, args ...any)
}

// trialOf is a trial at random.
func trialOf(t *testing.T, seed uint64) (c trial, wanted layout.Wanted) {
	r := rand.New(rand.NewPCG(seed, 16))
	between := func(low, high int) float64 { return float64(low + r.IntN(high-low+1)) }
	c.bed = geom.Pt(between(200, 400), between(150, 300))
	c.size = geom.Pt(between(120, 900), between(120, 900))
	c.grain = []string{"", "; grain = along width", "; grain = along height"}[r.IntN(3)]
	way := []string{"", "; knife = yes", "; shared-cuts = yes"}[max(0, r.IntN(6)-3)]
	c.text = fmt.Sprintf("laser l { bed = %g by %g; kerf = 0 }\nstock ply { thick = 3 exact; size = %g by %g%s; margin = %d; spacing = %d%s }\n", c.bed.X, c.bed.Y, c.size.X, c.size.Y, c.grain, r.IntN(8), r.IntN(14), way)
	for i := range 1 + r.IntN(3) {
		n := 1 + r.IntN(6)
		c.copies += n
		c.text += fmt.Sprintf("panel p%d { stock = ply; width = %g; height = %g; copies = %d\n  region r { face = inside; head = 5; height = 10; spine = 5; foredge = 5; mark frame } }\n", i, between(20, 110), between(20, 110), n)
	}
	d, dr := mustSolve(t, c.text), kerfed(t, c.text)
	faces, _ := layout.Inside(d)
	c.supply = layout.Supplies(d, dr)["ply"]
	for range r.IntN(3) {
		o := layout.Offcut{Size: geom.Pt(between(100, 700), between(100, 700)), Corner: sheet.Corner(r.IntN(4))}
		if r.IntN(2) == 0 {
			o.Gone = geom.Pt(between(20, 90), between(20, 90))
		}
		c.supply.Offcuts = append(c.supply.Offcuts, o)
	}
	if r.IntN(3) == 0 {
		c.supply.Quantity = maybe.Is(r.IntN(2))
	}
	c.fail = func(format string, args ...any) {
		t.Helper()
		t.Errorf("job %d: %s\n%s%v", seed, fmt.Sprintf(format, args...), c.text, c.supply.Offcuts)
	}
	return c, layout.Wanted{Drawing: dr, Faces: faces}
}

// overlap reports whether two boxes have more than an edge in common.
func overlap(a, b geom.Box) bool {
	return min(a.Max.X, b.Max.X)-max(a.Min.X, b.Min.X) > geom.Tol && min(a.Max.Y, b.Max.Y)-max(a.Min.Y, b.Min.Y) > geom.Tol
}

// within reports whether a box lies on a page that begins at its left upper corner.
func within(b geom.Box, size geom.Point, by float64) bool {
	return geom.Box{Max: size}.Grow(by + geom.Tol).Holds(b)
}

// page looks at a page: it lies on the bed, and its parts on it, beside what is gone and what else is cut
// from the same sheet.
func (c *trial) page(n int, s layout.Sheet, taken map[string][]geom.Box) (parts int) {
	if s.Outer.Size.X > c.bed.X+geom.Tol || s.Outer.Size.Y > c.bed.Y+geom.Tol {
		c.fail("a page of %v is larger than the bed", s.Outer.Size)
	}
	whole, name := s.Outer.Size, fmt.Sprint("page ", n)
	if s.Sawn != nil {
		whole = s.Sawn.Size
		if name = fmt.Sprint("sheet ", s.Sawn.Number); s.Offcut {
			name = fmt.Sprint("offcut ", whole)
		} else if s.Sawn.Number != s.Number || whole != c.size {
			c.fail("a piece of %v, sheet %d, is of sheet %d of %v", c.size, s.Number, s.Sawn.Number, whole)
		}
	}
	for _, cut := range s.Knife {
		if !within(geom.Box{Min: cut.From, Max: cut.To}, s.Outer.Size, 0) {
			c.fail("the knife cuts at %v, beyond a page of %v", cut, s.Outer.Size)
		}
	}
	for _, p := range s.Outer.Parts {
		if p.Common {
			continue
		}
		parts++
		b := p.Bounds // no kerf is cut
		at := onSheet(s, b)
		if !within(b, s.Outer.Size, 0) || !within(at, whole, 0) {
			c.fail("%s at %v leaves its page of %v, or at %v its sheet of %v", p.Name, b, s.Outer.Size, at, whole)
		}
		if s.Gone != (geom.Box{}) && overlap(b, s.Gone) {
			c.fail("%s at %v lies on what is gone, %v", p.Name, b, s.Gone)
		}
		for _, other := range taken[name] {
			if overlap(at, other) {
				c.fail("%s lies at %v of %s, where another does", p.Name, at, name)
			}
		}
		taken[name] = append(taken[name], at)
	}
	return parts
}

// use looks at what is told of the stock.
func (c *trial) use(out *layout.Laid) {
	u := out.Stocks[0]
	if n, limited := c.supply.Quantity.Get(); limited && out.Taken["ply"].Sheets > n {
		c.fail("%d sheets of %d", out.Taken["ply"].Sheets, n)
	}
	if u.LeastSheets > u.Sheets || u.LeastSheets < 1 || u.LeastArea > u.Area+1 || u.Used > 1 {
		c.fail("%+v", u.Group)
	}
	left := 0.0
	for _, o := range u.Left[:len(u.Left)-u.Untouched] {
		left += o.Size.X*o.Size.Y - o.Gone.X*o.Gone.Y
	}
	if left > u.Area*(1-u.Used)+1 {
		c.fail("%g mm² are left of %g, of which %g is used", left, u.Area, u.Used)
	}
}

// Sheets and offcuts of any size lie on the bed, turned or sawn if they must: each part once and by its
// grain, beside what is gone, and no place of a sheet is taken twice. Quantities count whole sheets, and no
// bound is above what is taken.
func TestTurnedAndSawn(t *testing.T) {
	sawn, turned, pieces, gones, short, insides := 0, 0, 0, 0, 0, 0
	jobs := foretest.Sample(300, 60)
	for seed := range uint64(jobs) {
		c, wanted := trialOf(t, seed)
		out, err := layout.Lay(t.Context(), []layout.Wanted{wanted}, map[string]layout.Supply{"ply": c.supply}, layout.Search{Effort: 0.002})
		var few *layout.StockError
		var beside *layout.KnifeError
		if errors.As(err, &few) || errors.As(err, &beside) {
			short++
			continue
		}
		foretest.Must(t, err)
		found := 0
		taken := map[string][]geom.Box{}
		for n, s := range out.Sheets {
			insides += mirrored(t, s)
			found += c.page(n, s, taken)
			if s.Sawn != nil {
				sawn++
				if s.Sawn.Turned {
					pieces++
				}
			}
			if s.Gone != (geom.Box{}) {
				gones++
			}
		}
		if found != c.copies {
			c.fail("%d parts of %d", found, c.copies)
		}
		for i, o := range out.On[0] {
			quarter := math.Mod(o.Turned, 180) != 0
			if quarter {
				turned++
			}
			if g := out.Sheets[o.Sheet].Grain; c.grain != "" && (g.String() == "width") != (c.grain == "; grain = along width") != quarter {
				c.fail("part %d is turned by %g on a sheet whose grain runs along the %s", i, o.Turned, g)
			}
		}
		c.use(out)
	}
	t.Logf("%d jobs: %d pieces, %d of them turned, %d parts turned, %d pages with a corner that is gone, %d with too few sheets", jobs, sawn, pieces, turned, gones, short)
	if sawn == 0 || pieces == 0 || turned == 0 || gones == 0 || short == 0 || insides == 0 {
		t.Error("something isn't tried")
	}
}

// How many more sheets would do is told, and it is so: with as many there are enough, and with one less
// there weren't found enough.
func TestHowManyMore(t *testing.T) {
	for _, c := range []struct {
		stock    string
		quantity int
		more     int
	}{
		{"size = 600 by 400", 1, 2}, // four on each
		{"size = 600 by 400", 0, 3},
		{"size = 600 by 400; offcuts = 300 by 200", 1, 2},
		{"size = 1200 by 400", 1, 1},             // eight on each, in two pieces
		{"size = 600 by 190; margin = 10", 2, 8}, // one on each, as it leaves no margin
	} {
		text := fmt.Sprintf("laser l { bed = 600 by 400; kerf = 0 }\nstock ply { thick = 3 exact; %s; quantity = %d }\npanel p { stock = ply; width = 280; height = 180; copies = 10 }", c.stock, c.quantity)
		d, dr := mustSolve(t, text), drawn(t, text)
		lay := func(quantity int) error {
			supplies := layout.Supplies(d, dr)
			its := supplies["ply"]
			its.Quantity = maybe.Is(quantity)
			supplies["ply"] = its
			_, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: dr}}, supplies, layout.Search{Effort: 0.01})
			return err
		}
		var few *layout.StockError
		if !errors.As(lay(c.quantity), &few) || few.Line.Text() != fmt.Sprint(c.quantity) {
			t.Errorf("%s: %+v", text, few)
			continue
		}
		more, known := few.More.Get()
		if !known || lay(c.quantity+more) != nil || lay(c.quantity+more-1) == nil {
			t.Errorf("%s: %d more (%v)", text, more, known)
		}
		if more != c.more {
			t.Errorf("%s: %d more, want %d", text, more, c.more)
		}
	}
}

// How many parts are left over is no more than on the sheets that would hold them.
func TestHowManyAreLeftOver(t *testing.T) {
	for _, c := range []struct {
		stock, panels string
		left          int
	}{
		{"size = 600 by 400; quantity = 1", "panel p { stock = ply; width = 280; height = 180; copies = 10 }", 6},
		{"size = 600 by 400; quantity = 0; offcuts = 200 by 200, 100 by 300", "panel a { stock = ply; width = 180; height = 180 }\npanel b { stock = ply; width = 95; height = 280 }", 1},
		{"size = 600 by 400; quantity = 1; offcuts = 200 by 200", "panel a { stock = ply; width = 180; height = 180 }\npanel b { stock = ply; width = 580; height = 380; copies = 3 }", 2},
	} {
		text := fmt.Sprintf("laser l { bed = 600 by 400; kerf = 0 }\nstock ply { thick = 3 exact; %s }\n%s", c.stock, c.panels)
		_, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: drawn(t, text)}}, layout.Supplies(mustSolve(t, text), drawn(t, text)), layout.Search{Effort: 0.01})
		var few *layout.StockError
		if !errors.As(err, &few) || few.Missing != c.left {
			t.Errorf("%s: %v, want %d left over", text, err, c.left)
		}
	}
}

// What parts far from rectangles take by their rectangles is held against a bound that holds however they
// lie: by their outlines they take less. Pieces of sheets that are sawn hold them too.
func TestBoundByOutline(t *testing.T) {
	for _, c := range []struct {
		bed, size     string
		copies, least int // sheets by outlines
	}{
		{"290 by 400", "235 by 190", 2, 1}, {"240 by 190", "235 by 190", 2, 1}, {"240 by 120", "235 by 190", 2, 2}, {"130 by 190", "235 by 190", 2, 1},
		{"235 by 190", "470 by 190", 4, 1}, {"190 by 235", "470 by 190", 4, 1},
	} {
		bed := c.bed
		text := "laser bench { bed = " + bed + "; kerf = 0 }\n" + `stock ply { thick = 2; size = 120 by 180 }
stock cloth { size = SIZE; spacing = 2 }
stock paper { size = 120 by 190 }
panel front { width = 100; height = 150; stock = ply; copies = 2 }
panel back { width = 100; height = 150; stock = ply; copies = 2 }
panel strip { width = 26; height = 150; stock = ply; copies = 2 }
gap joint { width = 7 }
case cover { lay = back, joint, strip, joint, front; bound = half; turn-in = 15; mitre = 4
  corner-reach = 12; spine-reach = 5; overlap = 3; spine-stock = cloth; covering-stock = paper }`
		text = strings.NewReplacer("SIZE", c.size, "copies = 2", fmt.Sprint("copies = ", c.copies)).Replace(text)
		d, dr := mustSolve(t, text), drawn(t, text)
		lay := func(effort float64) layout.Use {
			out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: dr}}, layout.Supplies(d, dr), layout.Search{Effort: effort})
			foretest.Must(t, err)
			for _, s := range out.Sheets {
				for _, p := range s.Outer.Parts {
					if b := cutOf(p); !(geom.Box{Max: s.Outer.Size}).Grow(geom.Tol).Holds(b) {
						t.Errorf("%s: %s at %v leaves its page of %v", bed, p.Name, b, s.Outer.Size)
					}
				}
			}
			for _, u := range out.Stocks {
				if u.Stock == "cloth" {
					return u
				}
			}
			t.Fatal("no cloth")
			return layout.Use{}
		}
		boxes, outlines := lay(-1), lay(0.1)
		if outlines.Sheets != c.least || boxes.LeastSheets > outlines.Sheets || boxes.LeastArea > outlines.Area {
			t.Errorf("%s: by rectangles %+v, by outlines %+v", bed, boxes.Group, outlines.Group)
		}
	}
}
