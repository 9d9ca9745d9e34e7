package layout

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/unit"
	"foredge/layout/geom"
	"foredge/layout/kerf"
	"foredge/layout/sheet"
	"foredge/layout/tour"
)

// edge is which of a part's shapes is cut round all of it, -1 if there is none or more than
// one closed cut frees something.
func (p *Part) edge() int {
	found := -1
	for i, s := range p.Shapes {
		if s.Op != Cut || s.Hole || open(s.Figure) {
			continue
		}
		if found >= 0 {
			return -1
		}
		found = i
	}
	return found
}

// open reports whether a figure is a line that doesn't come back to its start.
func open(f geom.Figure) bool {
	p, ok := f.(geom.Path)
	return ok && !p.Closed
}

// byKnife is a part that a knife cuts out by its box as it is wanted, without kerf. Of one
// whose edge isn't that box the edge is marked, to be cut afterwards.
func (p Part) byKnife() Part {
	i := p.edge()
	if i < 0 {
		return p
	}
	p.Knife = true
	p.Shapes = slices.Clone(p.Shapes)
	s := &p.Shapes[i]
	if _, plain := geom.Plain(s.Figure).(geom.Rect); plain {
		s.Figure = geom.Rect{Min: p.Bounds.Min, W: p.Bounds.Width(), H: p.Bounds.Height()}
		s.Run = ByHand
		return p
	}
	if wanted, err := kerf.Offset(s.Figure, -p.Kerf/2); err == nil {
		s.Figure = wanted
	}
	s.Op = Mark
	return p
}

// plain reports whether the edge of a part can be cut together with an equal one's: it is a
// bare rectangle, nothing is done beyond it and no other cut runs into it, it is none that is
// to keep bridges, and its kerf is stated.
func (p *Part) plain(way design.Way) bool {
	i := p.edge()
	if i < 0 || held(way, p.Bounds) || !p.Want.Present() {
		return false
	}
	edge, ok := geom.Plain(p.Shapes[i].Figure).(geom.Rect)
	if !ok {
		return false
	}
	for k, s := range p.Shapes {
		if k == i || s.Op == Guide {
			continue
		}
		if s.Op == Cut && open(s.Figure) || !edge.Bounds().Grow(geom.Tol).Holds(s.Figure.Bounds()) {
			return false
		}
	}
	return true
}

// together is a part whose edge is cut by lines of its sheet.
func (p Part) together() Part {
	p.Shapes[p.edge()].Run = Together
	return p
}

// held says whether a part of such a box is to keep bridges.
func held(way design.Way, box geom.Box) bool {
	below, asked := way.BridgeBelow.Get()
	return asked && way.Bridge.Present() && max(box.Width(), box.Height()) < below-geom.Tol
}

// Held is how many outlines of a part, drawn as it is wanted, keep bridges, and how broad each bridge is, in mm.
func (p *Part) Held() (outlines int, bridge float64) {
	if p.Of == nil || p.Of.Way.Knife.Yes {
		return 0, 0
	}
	for _, s := range p.Shapes {
		if s.Op == Cut && !s.Hole && !open(s.Figure) && held(p.Of.Way, s.Figure.Bounds()) {
			outlines++
		}
	}
	if outlines > 0 {
		bridge = p.Of.Way.Bridge.Or(0)
	}
	return outlines, bridge
}

// bridgesOf are the bridges that a way of cutting asks for, with a kerf in mm: as broad as is
// wanted between two cuts, for parts as small as they are wanted.
func bridgesOf(way design.Way, kerf float64) maybe.Of[tour.Bridges] {
	width, asked := way.Bridge.Get()
	below, small := way.BridgeBelow.Get()
	return maybe.If(tour.Bridges{Width: width + kerf, Below: below + kerf - geom.Tol}, asked && small && !way.Knife.Yes)
}

func (s Supply) bridges(kerf float64) maybe.Of[tour.Bridges] { return bridgesOf(s.Way, kerf) }

// bridges are those of a drawing: what was said of its sheet, or else by the stock of all its
// parts.
func (d *Drawing) bridges() maybe.Of[tour.Bridges] {
	if d.Bridges.Present() || !d.OneStock() {
		return d.Bridges
	}
	for _, p := range d.Parts {
		if p.Of != nil {
			return bridgesOf(p.Of.Way, p.Kerf)
		}
	}
	return maybe.Of[tour.Bridges]{}
}

// A block is parts that share cuts: the box round what is cut of them, and the lines that part
// them, each from edge to edge of all that is there. Where the last row is shorter than the others
// the corners of what is there are given, clockwise.
type block struct {
	box     geom.Box
	corners []geom.Point
	lines   []sheet.Cut
}

// outline is what goes round all parts of a block.
func (b *block) outline() geom.Figure {
	if b.corners == nil {
		return geom.Rect{Min: b.box.Min, W: b.box.Width(), H: b.box.Height()}
	}
	return geom.Polygon(b.corners...)
}

// shorten gives a block with such parts its corners where its last row is shorter.
func (b *block) shorten(parts []geom.Box) {
	hull, last := b.box, geom.EmptyBox()
	for _, p := range parts {
		switch {
		case last.Empty() || p.Min.Y > last.Min.Y+geom.Tol:
			last = p
		case p.Min.Y > last.Min.Y-geom.Tol:
			last = last.Union(p)
		}
	}
	if end := last.Max.X; end < hull.Max.X-geom.Tol {
		b.corners = []geom.Point{hull.Min, geom.Pt(hull.Max.X, hull.Min.Y), geom.Pt(hull.Max.X, last.Min.Y), geom.Pt(end, last.Min.Y), geom.Pt(end, hull.Max.Y), geom.Pt(hull.Min.X, hull.Max.Y)}
	}
}

// add adds a piece of a line that parts a block, and joins it to what is there of that line.
func (b *block) add(s sheet.Cut) {
	near := func(v, edge float64) float64 {
		if math.Abs(v-edge) < geom.Tol {
			return edge
		}
		return v
	}
	snap := func(p geom.Point) geom.Point {
		return geom.Pt(near(near(p.X, b.box.Min.X), b.box.Max.X), near(near(p.Y, b.box.Min.Y), b.box.Max.Y))
	}
	s.From, s.To = snap(s.From), snap(s.To)
	for i := range b.lines {
		c := &b.lines[i]
		upright := s.From.X == s.To.X
		if upright != (c.From.X == c.To.X) || upright && math.Abs(s.From.X-c.From.X) > geom.Tol || !upright && math.Abs(s.From.Y-c.From.Y) > geom.Tol {
			continue
		}
		c.From, c.To = geom.Pt(min(c.From.X, s.From.X), min(c.From.Y, s.From.Y)), geom.Pt(max(c.To.X, s.To.X), max(c.To.Y, s.To.Y))
		return
	}
	b.lines = append(b.lines, s)
}

// blocksOf joins what parts at such boxes share, two and two, to blocks.
func blocksOf(shared []sheet.Shared, boxes []geom.Box) (blocks []block) {
	of := make([]int, len(boxes)) // the least of those that a part hangs together with
	for i := range of {
		of[i] = i
	}
	for again := true; again; {
		again = false
		for _, s := range shared {
			if least := min(of[s.A], of[s.B]); of[s.A] != least || of[s.B] != least {
				of[s.A], of[s.B], again = least, least, true
			}
		}
	}
	number := map[int]int{}
	for _, s := range shared {
		if _, known := number[of[s.A]]; !known {
			number[of[s.A]] = len(blocks)
			blocks = append(blocks, block{box: geom.EmptyBox()})
		}
	}
	parts := make([][]geom.Box, len(blocks))
	for i, b := range boxes {
		if n, ok := number[of[i]]; ok {
			blocks[n].box = blocks[n].box.Union(b)
			parts[n] = append(parts[n], b)
		}
	}
	for i := range blocks {
		blocks[i].shorten(parts[i])
	}
	for _, s := range shared {
		blocks[number[of[s.A]]].add(s.Cut)
	}
	return blocks
}

// addCommon adds what is run for several parts of a sheet: the lines of cuts that they share
// with what goes round them, and, as marks, those along which a knife cuts.
func (s *Sheet) addCommon(p page) {
	if len(p.blocks) == 0 && len(p.knife) == 0 {
		return
	}
	taken := map[string]bool{}
	for _, part := range s.Outer.Parts {
		taken[part.Name] = true
	}
	number := 1 // up to which all names of shared cuts are taken
	for _, b := range p.blocks {
		part := p.common("shared", taken, &number)
		for i, c := range b.lines {
			part.Shapes = append(part.Shapes, Shape{ID: fmt.Sprintf("%s.%d", part.Name, i+1), Op: Cut, Run: Parting, Figure: lineOfCut(c), At: part.At})
		}
		part.Shapes = append(part.Shapes, Shape{ID: part.Name + ".outline", Op: Cut, Figure: b.outline(), At: part.At})
		s.Outer.Parts = append(s.Outer.Parts, part)
	}
	if len(p.knife) == 0 {
		return
	}
	number = 1
	part := p.common("knife", taken, &number)
	for i, c := range p.knife {
		part.Shapes = append(part.Shapes, Shape{ID: fmt.Sprintf("%s.%d", part.Name, i+1), Op: Mark, Figure: lineOfCut(c), At: part.At})
	}
	s.Outer.Parts = append(s.Outer.Parts, part)
}

// common is an empty part for what is run for several, with the first name after a number that none
// has.
func (p page) common(name string, taken map[string]bool, number *int) Part {
	of := &p.pieces[0].part
	free := name
	for taken[free] {
		*number++
		free = fmt.Sprintf("%s-%d", name, *number)
	}
	taken[free] = true
	return Part{Name: free, Common: true, Kerf: of.Kerf, Stock: of.Stock, Of: of.Of, Thick: of.Thick, At: of.At}
}

func lineOfCut(c sheet.Cut) geom.Path {
	return geom.Path{Start: c.From, Segments: []geom.Segment{{End: c.To}}}
}

func turnedCuts(cuts []sheet.Cut, over func(geom.Point) geom.Point) (all []sheet.Cut) {
	for _, c := range cuts {
		a, b := over(c.From), over(c.To)
		if a.X > b.X || a.Y > b.Y {
			a, b = b, a
		}
		all = append(all, sheet.Cut{From: a, To: b})
	}
	return all
}

// blade is how wide the knife cuts that parts a stock, 0 where none does.
func (s Supply) blade() float64 {
	if s.Way.Knife.Yes {
		return s.Spacing
	}
	return 0
}

// beside is how far from one edge a piece lies alone that leaves such a rest: in the middle,
// or flush where a knife with such a blade can take the rest off on one side only.
func beside(rest, blade float64) float64 {
	if rest < blade {
		return 0
	}
	return rest / 2
}

// rest is what a piece leaves of a sheet's width or height of which a blade takes off more than
// half its own width.
func (l *laid) rest(size geom.Point, blade float64) float64 {
	w, h := l.w, l.h
	if !l.fits(size, false, 0, 0) {
		w, h = h, w
	}
	for _, rest := range [2]float64{size.X - w, size.Y - h} {
		if rest > geom.Tol && rest < blade/2 {
			return rest
		}
	}
	return 0
}

// A KnifeError says that a knife can't cut out a part, as what it would take off beside it is so
// narrow that the line of its cut lies off the sheet.
type KnifeError struct {
	Part   Part
	Size   geom.Point // of the sheet
	Rest   float64    // mm
	Supply Supply
}

func (e *KnifeError) Error() string {
	return fmt.Sprintf("%s leaves a strip of %.4g mm of a sheet of %s mm, and a knife's cut %.4g mm wide would take it off along a line beside the sheet",
		e.Part.Name, e.Rest, by(e.Size.X, e.Size.Y), e.Supply.Spacing)
}

// cutOut are the cuts, so wide, by which a knife takes a box out of the middle of a sheet.
func cutOut(size geom.Point, b geom.Box, width float64) (cuts []sheet.Cut) {
	low, high := 0.0, size.X // of what is left between the upright ones
	if x := b.Min.X - width/2; b.Min.X > geom.Tol {
		cuts, low = append(cuts, sheet.Cut{From: geom.Pt(x, 0), To: geom.Pt(x, size.Y)}), b.Min.X
	}
	if x := b.Max.X + width/2; b.Max.X < size.X-geom.Tol {
		cuts, high = append(cuts, sheet.Cut{From: geom.Pt(x, 0), To: geom.Pt(x, size.Y)}), b.Max.X
	}
	if y := b.Min.Y - width/2; b.Min.Y > geom.Tol {
		cuts = append(cuts, sheet.Cut{From: geom.Pt(low, y), To: geom.Pt(high, y)})
	}
	if y := b.Max.Y + width/2; b.Max.Y < size.Y-geom.Tol {
		cuts = append(cuts, sheet.Cut{From: geom.Pt(low, y), To: geom.Pt(high, y)})
	}
	return cuts
}

// leftOf are the pieces that are left of a sheet beside what lies on it: the rectangles of a
// result, or where as much is left so, all but the corner in which the parts lie.
func leftOf(rectangles, boxes []geom.Box, of sheet.Stock) (left []Offcut) {
	sum := 0.0
	for _, b := range rectangles {
		left = append(left, Offcut{Size: geom.Pt(b.Width(), b.Height())})
		sum += b.Width() * b.Height()
	}
	if of.Gone != (geom.Point{}) || of.Knife.Present() || len(boxes) == 0 {
		return left
	}
	hull := geom.EmptyBox()
	for _, b := range boxes {
		hull = hull.Union(b)
	}
	size := geom.Pt(of.Width, of.Height)
	for _, whole := range []Offcut{{size, hull.Max, sheet.LeftTop, nil}, {size, geom.Pt(size.X-hull.Min.X, hull.Max.Y), sheet.RightTop, nil},
		{size, geom.Pt(hull.Max.X, size.Y-hull.Min.Y), sheet.LeftBottom, nil}, {size, size.Sub(hull.Min), sheet.RightBottom, nil}} {
		gone := whole.Gone
		if min(size.X-gone.X, size.Y-gone.Y) < leastLeft {
			continue
		}
		taken, _ := whole.gone()
		these, its := []Offcut{whole}, size.X*size.Y-gone.X*gone.Y
		for _, b := range rectangles {
			if taken.Grow(geom.Tol).Holds(b) {
				these, its = append(these, Offcut{Size: geom.Pt(b.Width(), b.Height())}), its+b.Width()*b.Height()
			}
		}
		if its >= sum-geom.Tol {
			left, sum = these, math.Nextafter(its, math.Inf(1))
		}
	}
	return left
}

// grain is along which size of a page the grain of its pieces runs, as these lie; 0 if none has
// one.
func (p page) grain() word.Grain {
	for _, l := range p.pieces {
		switch its := l.part.Grain; {
		case its == 0:
		case math.Mod(l.at.Turn, 180) == 0:
			return its
		case its == word.AlongHeight:
			return word.AlongWidth
		default:
			return word.AlongHeight
		}
	}
	return 0
}

// CornerGone says at which corner of a sheet lies what is gone of it; not ok if nothing is.
func CornerGone(gone geom.Box) (at word.SheetCorner, ok bool) {
	switch {
	case gone == geom.Box{}:
		return 0, false
	case gone.Min.X < geom.Tol && gone.Min.Y < geom.Tol:
		return word.HeadLeft, true
	case gone.Min.Y < geom.Tol:
		return word.HeadRight, true
	case gone.Min.X < geom.Tol:
		return word.TailLeft, true
	}
	return word.TailRight, true
}

// TurnedOver is where what is gone of a sheet, so wide in mm, lies when the sheet is turned
// over like a page; 0 by 0 where nothing is.
func TurnedOver(gone geom.Box, width float64) geom.Box {
	if gone == (geom.Box{}) {
		return gone
	}
	return geom.Box{Min: geom.Pt(width-gone.Max.X, gone.Min.Y), Max: geom.Pt(width-gone.Min.X, gone.Max.Y)}
}

// millimetres writes lengths as descriptions of drawings do.
func millimetres(mm float64) string { return unit.FormatNumber(mm, 2) }

// KnifeOrder says of the cuts of a knife where each lies, in their order.
func KnifeOrder(cuts []sheet.Cut, length func(mm float64) string) []string {
	said := make([]string, len(cuts))
	for i, c := range cuts {
		if c.From.X == c.To.X {
			said[i] = fmt.Sprintf("upright at %s, from %s to %s", length(c.From.X), length(c.From.Y), length(c.To.Y))
		} else {
			said[i] = fmt.Sprintf("level at %s, from %s to %s", length(c.From.Y), length(c.From.X), length(c.To.X))
		}
	}
	return said
}
