package layout_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
	"foredge/layout/sheet"
)

// A wayJob is a random job of one stock, and what must hold of it.
type wayJob struct {
	text                  string
	knife, shared, grain  bool
	bridge, below         float64
	kerf, spacing, margin float64
	sheet                 geom.Point
	offcuts               map[geom.Point]geom.Box // by size, the corner that is gone
	parts                 map[string]geom.Point   // sizes as they are wanted
	plain                 map[string]bool         // rectangles
	count                 int
}

func randomWay(r *rand.Rand) *wayJob {
	whole := func(low, high int) float64 { return float64(low + r.IntN(high-low+1)) }
	j := &wayJob{kerf: whole(0, 4) / 10, spacing: whole(0, 8), margin: whole(0, 6), sheet: geom.Pt(whole(200, 400), whole(160, 300)),
		offcuts: map[geom.Point]geom.Box{}, parts: map[string]geom.Point{}, plain: map[string]bool{}}
	var b strings.Builder
	fmt.Fprintf(&b, "laser bench { bed = 500 by 400; kerf = %v; quiet = small-part }\n", j.kerf)
	if j.knife = r.IntN(4) == 0; !j.knife {
		j.spacing++ // without any what lies side by side is cut along one line twice
	}
	fmt.Fprintf(&b, "stock ply { thick = 3 exact; size = %v by %v; spacing = %v; margin = %v\n", j.sheet.X, j.sheet.Y, j.spacing, j.margin)
	switch which := r.IntN(3); {
	case j.knife:
		b.WriteString("knife = yes\n")
	case which == 0:
		j.shared = true
		b.WriteString("shared-cuts = yes\n")
	case which == 1:
		j.shared, j.bridge, j.below = true, whole(3, 20)/10, whole(30, 60)
		fmt.Fprintf(&b, "shared-cuts = yes; bridge = %v; bridge-below = %v\n", j.bridge, j.below)
	default:
		j.bridge, j.below = whole(3, 20)/10, whole(30, 60)
		fmt.Fprintf(&b, "bridge = %v; bridge-below = %v\n", j.bridge, j.below)
	}
	if r.IntN(3) == 0 {
		j.grain = true
		b.WriteString("grain = along height\n")
	}
	var offcuts []string
	for range r.IntN(3) {
		size, gone := geom.Pt(whole(120, 200), whole(100, 150)), geom.Pt(whole(10, 90), whole(10, 80))
		at := r.IntN(4)
		box := geom.Box{Max: gone}
		if at%2 == 1 {
			box.Min.X, box.Max.X = size.X-gone.X, size.X
		}
		if at >= 2 {
			box.Min.Y, box.Max.Y = size.Y-gone.Y, size.Y
		}
		if _, twice := j.offcuts[size]; twice || size == j.sheet {
			continue
		}
		j.offcuts[size] = box
		offcuts = append(offcuts, fmt.Sprintf("%v by %v less %v by %v at %s", size.X, size.Y, gone.X, gone.Y, []string{"head-left", "head-right", "tail-left", "tail-right"}[at]))
	}
	if len(offcuts) > 0 {
		fmt.Fprintf(&b, "offcuts = %s\n", strings.Join(offcuts, ", "))
	}
	b.WriteString("}\n")
	var size geom.Point
	for i := range 1 + r.IntN(4) {
		if i == 0 || r.IntN(3) > 0 { // else as large as the one before
			size = geom.Pt(whole(16, 90), whole(16, 90))
		}
		name, copies := fmt.Sprint("p", i), 1+r.IntN(9)
		plain := r.IntN(4) > 0
		fmt.Fprintf(&b, "panel %s { width = %v; height = %v; copies = %d; quiet = knife-corners, broad-bridge\n", name, size.X, size.Y, copies)
		if !plain {
			b.WriteString("corners = radius 4\n")
		}
		if r.IntN(2) == 0 {
			fmt.Fprintf(&b, "cutout eye { shape = round 4; head = %v; spine = %v }\n", whole(3, int(size.Y)-7), whole(3, int(size.X)-7))
		}
		b.WriteString("}\n")
		for n := range copies {
			own := name
			if n > 0 {
				own = fmt.Sprintf("%s.%d", name, n+1)
			}
			j.parts[own], j.plain[own] = size, plain
		}
		j.count += copies
	}
	j.text = b.String()
	return j
}

// A straight is a straight piece that is run or cut by a knife, upright or level.
type straight struct {
	upright      bool
	at, from, to float64
}

func straights(p geom.Path) (all []straight) {
	from := p.Start
	for _, s := range p.Segments {
		if a, b := from, s.End; s.Kind == geom.LineTo && (math.Abs(a.X-b.X) < 1e-9 || math.Abs(a.Y-b.Y) < 1e-9) {
			l := straight{false, a.Y, min(a.X, b.X), max(a.X, b.X)}
			if math.Abs(a.X-b.X) < 1e-9 {
				l = straight{true, a.X, min(a.Y, b.Y), max(a.Y, b.Y)}
			}
			if l.to-l.from > 1e-9 {
				all = append(all, l)
			}
		}
		from = s.End
	}
	return all
}

// lacks is how much of a stretch isn't covered by straight pieces.
func (l straight) lacks(all []straight) float64 {
	free := []straight{l}
	for _, a := range all {
		if a.upright != l.upright || math.Abs(a.at-l.at) > 1e-6 {
			continue
		}
		var left []straight
		for _, f := range free {
			left = append(left, straight{f.upright, f.at, f.from, min(f.to, a.from)}, straight{f.upright, f.at, max(f.from, a.to), f.to})
		}
		free = slices.DeleteFunc(left, func(f straight) bool { return f.to-f.from < 1e-7 })
	}
	sum := 0.0
	for _, f := range free {
		sum += f.to - f.from
	}
	return sum
}

// edges are the four of a box.
func edges(b geom.Box) [4]straight {
	return [4]straight{{false, b.Min.Y, b.Min.X, b.Max.X}, {false, b.Max.Y, b.Min.X, b.Max.X}, {true, b.Min.X, b.Min.Y, b.Max.Y}, {true, b.Max.X, b.Min.Y, b.Max.Y}}
}

// Random jobs with each way of cutting out, held against what a maker may expect of it, by
// the definitions alone: every part once, its grain and its size kept, clear of edges, of each
// other and of the corner of an offcut that is gone; each cut once, openings before what frees
// them; a knife's cuts from edge to edge and none through a part. GEOS says beside that no two
// boards overlap.
func TestWaysOnRandomJobs(t *testing.T) {
	type asked struct {
		Boxes [][4]float64
		Gone  [4]float64
	}
	var all []asked
	var texts []string
	ways := map[string]int{}
	for seed := range uint64(foretest.Sample(400, 60)) {
		j := randomWay(rand.New(rand.NewPCG(seed, 3)))
		d := mustSolve(t, j.text)
		wanted := drawn(t, j.text)
		cut, _ := wanted.Kerfed()
		out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: cut}}, layout.Supplies(d, wanted), layout.Search{Effort: 0.01})
		if err != nil {
			t.Fatalf("%v\n%s", err, j.text)
		}
		found := 0
		for i := range out.Sheets {
			c := &wayCheck{t: t, j: j, s: &out.Sheets[i]}
			c.check()
			found += len(c.boxes)
			a := asked{}
			for _, name := range c.names {
				b := c.boxes[name]
				a.Boxes = append(a.Boxes, [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y})
			}
			a.Gone = [4]float64{c.gone.Min.X, c.gone.Min.Y, c.gone.Max.X, c.gone.Max.Y}
			all, texts = append(all, a), append(texts, j.text)
			if c.blocks > 0 {
				ways["shared"]++
			}
			if c.bridged > 0 {
				ways["bridged"]++
			}
			if len(out.Sheets[i].Knife) > 0 {
				ways["knife"]++
			}
			if c.gone != (geom.Box{}) {
				ways["gone"]++
			}
		}
		if found != j.count {
			t.Errorf("%d of %d parts lie somewhere\n%s", found, j.count, j.text)
		}
		if t.Failed() {
			t.Fatalf("seed %d:\n%s", seed, j.text)
		}
	}
	for _, way := range []string{"shared", "bridged", "knife", "gone"} {
		if ways[way] < foretest.Sample(40, 6) {
			t.Errorf("only %d sheets are %s: %v", ways[way], way, ways)
		}
	}
	var overlaps []float64
	geos.Ask(t, `
answer = []
for s in data:
    boards = [box(*b) for b in s['Boxes']] + ([box(*s['Gone'])] if s['Gone'] != [0, 0, 0, 0] else [])
    answer.append(max([a.intersection(b).area for i, a in enumerate(boards) for b in boards[:i]], default=0))
`, all, &overlaps)
	for i, o := range overlaps {
		if o > 1e-4 {
			t.Errorf("by GEOS %g mm² of boards overlap\n%s", o, texts[i])
		}
	}
}

// A wayCheck looks at one sheet.
type wayCheck struct {
	t      *testing.T
	j      *wayJob
	s      *layout.Sheet
	names  []string
	boxes  map[string]geom.Box // of the boards as they are wanted
	gone   geom.Box
	lines  []straight // what is run of cuts
	blocks int        // of parts that share cuts

	bridged int
}

func (c *wayCheck) fail(format string, args ...any) { c.t.Errorf(format, args...) }

func (c *wayCheck) check() {
	size := c.s.Outer.Size
	if c.s.Offcut {
		c.gone = c.j.offcuts[size]
		if c.gone != c.s.Gone {
			c.fail("of the offcut of %v is gone %v, and it says %v", size, c.gone, c.s.Gone)
		}
	} else if size != c.j.sheet {
		c.fail("a sheet of %v", size)
	}
	c.boxes = map[string]geom.Box{}
	var together []geom.Box
	for _, p := range c.s.Outer.Parts {
		if p.Common {
			if strings.HasPrefix(p.Name, "shared") {
				c.blocks++
				together = append(together, p.Footprint())
			}
			continue
		}
		want, known := c.j.parts[p.Name]
		if _, twice := c.boxes[p.Name]; twice || !known {
			c.fail("%s isn't wanted so often", p.Name)
		}
		b := p.Bounds
		got := geom.Pt(b.Width(), b.Height())
		if turned := geom.Pt(got.Y, got.X); got.Distance(want) > 1e-6 && (c.j.grain || turned.Distance(want) > 1e-6) {
			c.fail("%s is %v and wanted %v", p.Name, got, want)
		}
		c.names, c.boxes[p.Name] = append(c.names, p.Name), b
	}
	grow, least := c.j.kerf/2, c.j.spacing
	if c.j.knife {
		grow = 0
	}
	inBlock := func(b geom.Box) int {
		return slices.IndexFunc(together, func(t geom.Box) bool { return t.Grow(1e-6).Holds(b) })
	}
	for i, name := range c.names {
		b := c.boxes[name].Grow(grow)
		if !(geom.Box{Max: size}).Grow(1e-6 - c.j.margin).Holds(b) {
			c.fail("%s at %v is too near to the edge", name, b)
		}
		if c.gone != (geom.Box{}) && apart(b, c.gone) < c.j.margin-1e-6 {
			c.fail("%s at %v is too near to the corner that is gone", name, b)
		}
		for _, other := range c.names[:i] {
			o, want := c.boxes[other].Grow(grow), least
			if k := inBlock(b); k >= 0 && k == inBlock(o) {
				want = 0 // the edges of the boards are then a kerf apart
			}
			if apart(b, o) < want-1e-6 {
				c.fail("%s and %s are %g apart", name, other, apart(b, o))
			}
		}
	}
	c.run()
	if c.j.knife {
		c.knife()
	}
}

// run follows the laser.
func (c *wayCheck) run() {
	d := c.s.Outer.Sequenced(context.Background(), 1)
	holes := map[string]int{} // that aren't cut yet
	for _, p := range d.Parts {
		for _, s := range p.Shapes {
			if s.Op == layout.Cut && s.Hole {
				holes[p.Name]++
			}
			if s.Run == layout.Together && !c.j.plain[p.Name] {
				c.fail("%s has round corners, and lines between boards cut it", s.ID)
			}
		}
	}
	own := map[string]bool{} // whose edges are run by themselves
	for _, run := range d.Sequence.Plan.Runs {
		at := d.Sequence.Shapes[run.Item]
		p := &d.Parts[at.Part]
		s := &p.Shapes[at.Shape]
		if s.Op != layout.Cut {
			continue
		}
		if s.Run == layout.Parting && !d.Sequence.Items[run.Item].Parting {
			c.fail("%s may come before what it parts is cut", s.ID)
		}
		own[p.Name] = own[p.Name] || !s.Hole
		if s.Hole {
			holes[p.Name]--
			continue
		}
		if c.j.knife {
			c.fail("%s is run, and a knife cuts it", s.ID)
		}
		c.edge(p, s, run.Paths, holes)
	}
	c.cutRound(own)
}

// edge looks at what is run round parts, while so many openings of each aren't cut.
func (c *wayCheck) edge(p *layout.Part, s *layout.Shape, paths []geom.Path, holes map[string]int) {
	box := s.Figure.Bounds().Grow(1e-6)
	for name, n := range holes {
		if n > 0 && (name == p.Name || p.Common && box.Meets(c.boxes[name])) && s.Run != layout.Parting {
			c.fail("%s is run before what is cut in %s", s.ID, name)
		}
		if n > 0 && s.Run == layout.Parting && c.boxes[name].Grow(c.j.kerf/2+1e-6).Meets(s.Figure.Bounds()) {
			c.fail("%s is run before what is cut in %s beside it", s.ID, name)
		}
	}
	if small := c.j.below > 0 && !p.Common && max(p.Bounds.Width(), p.Bounds.Height()) < c.j.below; small != (len(paths) > 1) && !p.Common {
		if room := c.length(s.Figure) / 8; !small || room > c.j.bridge+c.j.kerf {
			c.fail("%s, %v, is run in %d", s.ID, p.Bounds, len(paths))
		}
	} else if small {
		c.bridged++
		for k := range paths {
			next := paths[(k+1)%len(paths)]
			if neck := paths[k].End().Distance(next.Start) - c.j.kerf; c.j.plain[p.Name] && math.Abs(neck-c.j.bridge) > 1e-6 {
				c.fail("a bridge of %s is %g wide", p.Name, neck)
			}
		}
	}
	for _, path := range paths {
		for _, l := range straights(path) {
			if long := l.to - l.from; l.lacks(c.lines) < long-1e-6 {
				c.fail("%s is cut twice along %v", s.ID, l)
			}
			c.lines = append(c.lines, l)
		}
	}
}

// cutRound sees that all of each part's edge is cut, but for bridges.
func (c *wayCheck) cutRound(own map[string]bool) {
	if c.j.knife {
		for _, p := range c.s.Outer.Parts {
			for _, s := range p.Shapes {
				if b := s.Figure.Bounds(); strings.HasSuffix(s.ID, "outline") && b.Min.Distance(p.Bounds.Min)+b.Max.Distance(p.Bounds.Max) > 1e-6 {
					c.fail("%s is drawn at %v, and a knife cuts it as it is wanted, %v", s.ID, b, p.Bounds)
				}
			}
		}
		return
	}
	for _, name := range c.names {
		if b := c.boxes[name]; c.j.below > 0 && max(b.Width(), b.Height()) < c.j.below && !own[name] {
			c.fail("%s is to keep bridges, and its edge isn't run by itself", name)
		}
		if !c.j.plain[name] {
			continue
		}
		lacks := 0.0
		for _, e := range edges(c.boxes[name].Grow(c.j.kerf / 2)) {
			lacks += e.lacks(c.lines)
		}
		held := 0.0
		if b := c.boxes[name]; c.j.below > 0 && max(b.Width(), b.Height()) < c.j.below {
			held = 2 * (c.j.bridge + c.j.kerf)
		}
		if lacks > held+1e-5 {
			c.fail("of the edge of %s %g mm are cut by nothing", name, lacks)
		}
	}
}

func (c *wayCheck) length(f geom.Figure) (sum float64) {
	for _, p := range geom.Paths(f) {
		sum += geom.Length(p)
	}
	return sum
}

// knife cuts a sheet in the order of the cuts.
func (c *wayCheck) knife() {
	width := c.j.spacing
	pieces := []geom.Box{{Max: c.s.Outer.Size}}
	var cuts []straight
	for _, k := range c.s.Knife {
		cut := straight{k.From.X == k.To.X, k.From.Y, k.From.X, k.To.X}
		if cut.upright {
			cut = straight{true, k.From.X, k.From.Y, k.To.Y}
		}
		for _, side := range []float64{-width / 2, width / 2} {
			cuts = append(cuts, straight{cut.upright, cut.at + side, cut.from, cut.to})
		}
		swath := geom.Box{Min: geom.Pt(cut.from, cut.at-width/2), Max: geom.Pt(cut.to, cut.at+width/2)}
		if cut.upright {
			swath = geom.Box{Min: geom.Pt(cut.at-width/2, cut.from), Max: geom.Pt(cut.at+width/2, cut.to)}
		}
		for name, b := range c.boxes {
			if apart(swath, b) < -1e-6 {
				c.fail("the knife's cut %v runs through %s", cut, name)
			}
		}
		if c.gone != (geom.Box{}) {
			continue // the pieces of such an offcut are no rectangles: layout/sheet follows them
		}
		k := slices.IndexFunc(pieces, func(p geom.Box) bool {
			ends := [2]float64{p.Min.X, p.Max.X}
			low, high := p.Min.Y, p.Max.Y
			if cut.upright {
				ends, low, high = [2]float64{p.Min.Y, p.Max.Y}, p.Min.X, p.Max.X
			}
			return math.Abs(cut.from-ends[0]) < 1e-5 && math.Abs(cut.to-ends[1]) < 1e-5 && cut.at > low-1e-5 && cut.at < high+1e-5
		})
		if k < 0 {
			c.fail("the knife's cut %v goes from edge to edge of nothing", cut)
			return
		}
		one, two := pieces[k], pieces[k]
		if cut.upright {
			one.Max.X, two.Min.X = swath.Min.X, swath.Max.X
		} else {
			one.Max.Y, two.Min.Y = swath.Min.Y, swath.Max.Y
		}
		pieces = append(slices.Delete(pieces, k, k+1), one, two)
	}
	outer := edges(geom.Box{Max: c.s.Outer.Size})
	cuts = append(cuts, outer[:]...)
	if c.gone != (geom.Box{}) {
		round := edges(c.gone)
		cuts = append(cuts, round[:]...)
	}
	for name, b := range c.boxes {
		for _, e := range edges(b) {
			if e.lacks(cuts) > 1e-5 {
				c.fail("the edge %v of %s is cut by nothing", e, name)
			}
		}
	}
}

// Where all parts lie in one corner of a sheet, all the rest of it is one piece with that
// corner gone, as a stock states it; where no such piece is larger than rectangles, these are
// told.
func TestLeftWithACorner(t *testing.T) {
	for _, c := range []struct {
		stock, parts string
		want         []layout.Offcut
	}{
		// 5 + 100, 5 + 80
		{"size = 300 by 200", "panel p { width = 100; height = 80 }", []layout.Offcut{{Size: geom.Pt(300, 200), Gone: geom.Pt(105, 85)}}},
		// Below a part that reaches across there is no corner.
		{"size = 300 by 200", "panel p { width = 290; height = 80 }", []layout.Offcut{{Size: geom.Pt(300, 115)}}},
		// A leg of less than 50 mm isn't worth keeping.
		{"size = 300 by 200", "panel p { width = 250; height = 80 }", []layout.Offcut{{Size: geom.Pt(300, 115)}}},
		// What a knife leaves is rectangles.
		{"size = 300 by 200; knife = yes; margin = 0", "panel p { width = 100; height = 80 }", []layout.Offcut{{Size: geom.Pt(200, 200)}, {Size: geom.Pt(100, 120)}}},
		// Beyond the bed too.
		{"size = 700 by 200", "panel p { width = 100; height = 80 }", []layout.Offcut{{Size: geom.Pt(600, 200), Gone: geom.Pt(105, 85)}, {Size: geom.Pt(100, 200)}}},
		// An offcut that isn't used stays what it is.
		{"size = 300 by 200; offcuts = 90 by 80 less 20 by 30 at tail-right", "panel p { width = 100; height = 80 }",
			[]layout.Offcut{{Size: geom.Pt(300, 200), Gone: geom.Pt(105, 85)}, {geom.Pt(90, 80), geom.Pt(20, 30), sheet.RightBottom, nil}}},
	} {
		text := "laser l { bed = 600 by 400; kerf = 0 }\nstock ply { thick = 3 exact; " + c.stock + " }\n" + c.parts
		d, dr := mustSolve(t, text), drawn(t, text)
		out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: dr}}, layout.Supplies(d, dr), layout.Search{Effort: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		got := slices.Clone(out.Stocks[0].Left)
		for i := range got {
			got[i].Of = nil // of which sheet it is a piece
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s\nleft are %v, want %v", text, got, c.want)
		}
	}
}

// A stretch of a bed that is shorter than an offcut takes of the corner that is gone what lies
// beyond it.
func TestGoneBeyondTheBed(t *testing.T) {
	text := "laser l { bed = 200 by 150; kerf = 0 }\nstock ply { thick = 3 exact; margin = 0; offcuts = 260 by 150 less 100 by 60 at head-right }\npanel p { width = 200; height = 90 }"
	d, dr := mustSolve(t, text), drawn(t, text)
	out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: dr}}, layout.Supplies(d, dr), layout.Search{Effort: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	s := out.Sheets[0]
	if want := geom.Pt(160, 0); !s.Offcut || s.Gone.Min != want || s.Gone.Max != geom.Pt(200, 60) || cutOf(s.Outer.Parts[0]).Min != geom.Pt(0, 60) {
		t.Errorf("gone is %v, and the board lies at %v", s.Gone, cutOf(s.Outer.Parts[0]))
	}
	if left := out.Stocks[0].Left; !slices.Equal(left, []layout.Offcut{{Size: geom.Pt(60, 90)}, {Size: geom.Pt(160, 60)}}) && !slices.Equal(left, []layout.Offcut{{Size: geom.Pt(160, 60)}, {Size: geom.Pt(60, 90)}}) {
		t.Errorf("left are %v", left)
	}
}
