package sheet

import (
	"cmp"
	"slices"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// A Piece is what lies on the bed at once: a whole sheet, or what is sawn from one that is
// larger than the bed, in mm from the sheet's left upper corner.
type Piece struct {
	geom.Box
	// Gone is what is missing of it at a corner; 0 by 0 where nothing is.
	Gone   geom.Point
	Corner Corner
}

// A Sawing says how a sheet becomes pieces.
type Sawing struct {
	Stock, Number int
	Cuts          []Cut // each from edge to edge of what it divides, in their order
	// Rest are pieces on which nothing lies, of what a knife cuts up less the width of its cuts.
	Rest []Piece
}

// Overhang is by how much in mm a sheet may be larger than the bed before it is sawn (common
// practice, no source).
const Overhang = 5

// A way is how a sheet comes onto the bed: as it is, or sawn along the lines of a grid, first
// upright, then each column level.
type way struct {
	quarter bool    // its pieces lie on the bed turned by a quarter
	xs, ys  []int64 // the lines, with the edges of the sheet
	rooms   []*room // column by column, each from above
}

// A room is a piece of a sheet as a search sees it. What parts may take begins at the margins, and is
// larger by a spacing to the right and below.
type room struct {
	*bin
	col, row       int
	x, y           int64 // of its left upper corner on the sheet
	sheetW, sheetH int64
	w, h           int64
	goneW, goneH   int64
	area           int64 // that parts can take
}

// newRoom is what parts can take of a box of a sheet.
func (b *bin) newRoom(at box) *room {
	c := b.cutGone(at)
	r := &room{bin: b, x: c.x0, y: c.y0, sheetW: c.x1 - c.x0, sheetH: c.y1 - c.y0, goneW: c.goneW, goneH: c.goneH}
	r.w, r.h = r.sheetW-2*b.margin+b.gap, r.sheetH-2*b.margin+b.gap
	r.area = max(0, r.w/unit) * max(0, r.h/unit)
	r.area = max(1, r.area-min(r.goneW, r.w)/unit*(min(r.goneH, r.h)/unit))
	return r
}

// besideKnife reports whether the knife's line along what is gone of the room would lie beside the
// sheet, as for a whole one it mustn't.
func (r *room) besideKnife() bool {
	return r.knife && (r.goneW > 0 && 2*r.goneW < r.gap || r.goneH > 0 && 2*r.goneH < r.gap)
}

// A cutBox is a box of a sheet with what is gone of it at a corner.
type cutBox struct {
	box
	goneW, goneH int64
}

// cutGone says what is gone of a box of the sheet. Where that is all of a side, the box of a part of a
// sheet ends there.
func (b *bin) cutGone(at box) cutBox {
	if !at.meets(b.gone) {
		return cutBox{box: at}
	}
	w, h := min(at.x1, b.gone.x1)-max(at.x0, b.gone.x0), min(at.y1, b.gone.y1)-max(at.y0, b.gone.y0)
	all, high := w == at.x1-at.x0, h == at.y1-at.y0
	switch {
	case at == b.all() || !all && !high:
		return cutBox{at, w, h}
	case all && b.bottom():
		at.y1 -= h
	case all:
		at.y0 += h
	case b.right():
		at.x1 -= w
	default:
		at.x0 += w
	}
	return cutBox{box: at}
}

// pieceOf is a box of a sheet in the words of a job.
func (b *bin) pieceOf(at box) Piece {
	c := b.cutGone(at)
	return Piece{c.inMM(), geom.Pt(mm(c.goneW), mm(c.goneH)), b.corner}
}

// piece is the room in the words of a job.
func (b *room) piece() Piece {
	return Piece{box{b.x, b.y, b.x + b.sheetW, b.y + b.sheetH}.inMM(), geom.Pt(mm(b.goneW), mm(b.goneH)), b.corner}
}

// all is the sheet.
func (b *bin) all() box { return box{0, 0, b.wide, b.high} }

func (b *bin) right() bool  { return b.corner == RightTop || b.corner == RightBottom }
func (b *bin) bottom() bool { return b.corner == LeftBottom || b.corner == RightBottom }

// mostSteps is in how many columns and rows a sheet is sawn at the most; what is beyond is left whole.
const mostSteps = 32

// mostWays is how many ways to saw a sheet are tried.
const mostWays = 16

// waysOn are the ways in which a sheet comes onto a bed, for parts of such sizes, those first that
// take the largest pieces and leave the parts upright.
func (b *bin) waysOn(s Stock, sizes []size) (ways []way) {
	bedW, bedH := s.bed()
	bed, its := geom.Pt(mm(bedW), mm(bedH)), geom.Pt(s.Width, s.Height)
	if ok, turned := OnBed(its, bed, b.knife); ok && turned {
		return b.plain(bedW, bedH)[1:]
	} else if ok {
		return b.plain(bedW, bedH)[:1]
	}
	b.sawn = true
	for _, quarter := range []bool{false, true} {
		w, h := bedW, bedH
		if quarter {
			w, h = h, w
		}
		if quarter && w == h {
			break
		}
		for _, x := range b.steps(b.wide, w, sizes, func(s size) [2]int64 { return [2]int64{s.w, s.tw} }) {
			for _, y := range b.steps(b.high, h, sizes, func(s size) [2]int64 { return [2]int64{s.h, s.th} }) {
				if its := b.way(quarter, x, y, w, h); len(its.rooms) > 0 {
					ways = append(ways, its)
				}
			}
		}
	}
	// Those with the fewest pieces first.
	slices.SortStableFunc(ways, func(a, b way) int { return cmp.Compare(len(a.rooms), len(b.rooms)) })
	if len(ways) > mostWays {
		ways = append(b.plain(bedW, bedH), ways[:mostWays-2]...)
		ways = slices.DeleteFunc(ways, func(w way) bool { return len(w.rooms) == 0 })
	}
	return ways
}

// plain are the two ways that take pieces as large as the bed, upright and turned.
func (b *bin) plain(bedW, bedH int64) []way {
	return []way{b.way(false, bedW, bedH, bedW, bedH), b.way(true, bedH, bedW, bedH, bedW)}
}

// steps are how far apart lines may lie along one side of a sheet, for a bed that reaches so far: as it
// reaches, equally, and as far as several of the sizes that take most need.
func (b *bin) steps(all, reach int64, sizes []size, of func(size) [2]int64) []int64 {
	if all <= reach {
		return []int64{reach}
	}
	n := (all + reach - 1) / reach
	some := []int64{reach, upTo((all+n-1)/n, reach)}
	for _, s := range sizes[:min(len(sizes), mostSized)] {
		for _, its := range of(s) {
			if k := (reach - 2*b.margin + b.gap) / its; k > 0 {
				some = append(some, upTo(2*b.margin-b.gap+k*its, reach))
			}
		}
	}
	var kept []int64
	for _, a := range some {
		if !slices.Contains(kept, a) {
			kept = append(kept, a)
		}
	}
	return kept
}

// upTo is a length rounded up to whole millimetres, by which one saws, up to a limit.
func upTo(x, limit int64) int64 { return min((x+unitsPerMM-1)/unitsPerMM*unitsPerMM, limit) }

// mostSized is for how many sizes of parts a sheet is sawn.
const mostSized = 2

// way is the way with lines so far apart for a bed that reaches so far.
func (b *bin) way(quarter bool, stepX, stepY, bedW, bedH int64) way {
	over := whole(hangs(b.knife))
	w := way{quarter: quarter, xs: lines(b.wide, stepX, bedW, over), ys: lines(b.high, stepY, bedH, over)}
	if len(w.xs)+len(w.ys) > 4 { // what is sawn at all is sawn for the bed both ways
		over = whole(finest)
		w.xs, w.ys = lines(b.wide, stepX, bedW, over), lines(b.high, stepY, bedH, over)
	}
	for col := range len(w.xs) - 1 {
		for row := range len(w.ys) - 1 {
			x, y := w.xs[col], w.ys[row]
			wide, high := w.xs[col+1]-x, w.ys[row+1]-y
			if wide > bedW+over || high > bedH+over {
				continue // what is left whole
			}
			r := b.newRoom(box{x, y, x + min(wide, bedW), y + min(high, bedH)})
			least := int64(0)
			if len(w.xs)+len(w.ys) > 4 { // a piece that has nothing within its margins is left
				least = b.gap
			}
			if r.w > least && r.h > least && !r.besideKnife() {
				r.col, r.row = col, row
				w.rooms = append(w.rooms, r)
			}
		}
	}
	return w
}

// lines are where a side is sawn, with both its ends; the last piece may hang over by so much.
func lines(all, step, reach, over int64) []int64 {
	at := []int64{0}
	for x := step; x < all && len(at) <= mostSteps; x += step {
		if all-(x-step) <= reach+over && step == reach {
			break // the rest may hang over
		}
		at = append(at, x)
	}
	return append(at, all)
}

// sawing is what becomes of a sheet that isn't left whole; ok says that it isn't.
func (l *load) sawing(b *bin, w way, number int) (s Sawing, ok bool) {
	cols, rows := len(w.xs)-1, len(w.ys)-1
	if cols == 1 && rows == 1 {
		return s, false
	}
	s = Sawing{Stock: b.stock, Number: number}
	used := make([][]bool, cols)
	for i := range used {
		used[i] = make([]bool, rows)
	}
	for _, p := range l.pieces {
		used[p.room.col][p.room.row] = true
	}
	rest := func(at box) {
		if b.knife {
			if at = behind(at, at.x0, at.y0, b.gap); at.x0 >= at.x1 || at.y0 >= at.y1 {
				return
			}
		}
		if c := b.pieceOf(at); c.Width() > 0 && c.Height() > 0 {
			s.Rest = append(s.Rest, c)
		}
	}
	// What isn't used stays together as far as it can: columns that follow each other, and what does in a
	// column.
	from := 0
	for col := range cols {
		if slices.Contains(used[col], true) {
			if from < col {
				rest(box{w.xs[from], 0, w.xs[col], b.high})
			}
			from = col + 1
		}
	}
	if from < cols {
		rest(box{w.xs[from], 0, b.wide, b.high})
	}
	for col := 1; col < cols; col++ {
		if slices.Contains(used[col-1], true) || slices.Contains(used[col], true) {
			x := mm(w.xs[col])
			s.Cuts = append(s.Cuts, Cut{geom.Pt(x, 0), geom.Pt(x, mm(b.high))})
		}
	}
	for col, its := range used {
		if !slices.Contains(its, true) {
			continue
		}
		x0, x1, from := w.xs[col], w.xs[col+1], 0
		for row, is := range append(its[:rows:rows], true) {
			if is && from < row {
				rest(box{x0, w.ys[from], x1, w.ys[row]})
			}
			if row > 0 && row < rows && (is || its[row-1]) {
				y := mm(w.ys[row])
				s.Cuts = append(s.Cuts, Cut{geom.Pt(mm(x0), y), geom.Pt(mm(x1), y)})
			}
			if is {
				from = row + 1
			}
		}
	}
	return s, true
}

// A Way is how a sheet comes onto the bed: whole, or sawn into pieces by cuts from edge to edge, in their
// order. With Quarter they lie turned by a quarter.
type Way struct {
	Quarter bool
	Cuts    []Cut
	Pieces  []Piece

	bin *bin
	way way
}

// Saw is how the sheet is sawn where only some of its pieces are wanted: those that aren't stay together as
// far as they can, and are what is left.
func (w *Way) Saw(wanted []bool) (cuts []Cut, rest []Piece) {
	l := load{}
	for i, r := range w.way.rooms {
		if wanted[i] {
			l.pieces = append(l.pieces, filled{room: r})
		}
	}
	saw, _ := l.sawing(w.bin, w.way, 0)
	return saw.Cuts, saw.Rest
}

// Ways are the ways in which a sheet comes onto its bed, of one that is sawn those that take pieces as large
// as the bed. Pieces stand column by column, each from above.
func Ways(s Stock) (all []Way) {
	knife := whole(s.Knife.Or(0))
	s.Margin, s.Spacing, s.Knife = 0, 0, maybe.If(0.0, s.Knife.Present())
	b, err := newBin(0, s, nil)
	if err != nil {
		return nil
	}
	ways := b.ways
	if b.sawn {
		ways = b.plain(s.bed())
	}
	b.gap = knife // by which it is cut up
	for _, w := range ways {
		l := load{}
		for _, r := range w.rooms {
			l.pieces = append(l.pieces, filled{room: r})
		}
		its := Way{Quarter: w.quarter, bin: b, way: w}
		for _, r := range w.rooms {
			its.Pieces = append(its.Pieces, r.piece())
		}
		saw, _ := l.sawing(b, w, 0)
		its.Cuts = saw.Cuts
		all = append(all, its)
	}
	return all
}

// bed is what the laser reaches, in units.
func (s Stock) bed() (w, h int64) {
	bed := s.Bed.Or(geom.Pt(s.Width, s.Height))
	return whole(min(bed.X, largest)), whole(min(bed.Y, largest))
}

// hangs is by how much a sheet may hang over. What a knife cuts up may not: the laser marks no line beyond
// the bed, and what is flush with the bed's edge would keep what hangs over.
func hangs(knife bool) float64 {
	if knife {
		return finest
	}
	return Overhang
}

// finest is how much in mm nobody cuts off by hand (common practice, no source).
const finest = 0.1

// OnBed reports whether a sheet lies on a bed, and whether it must be turned by a quarter for that. A few
// millimetres of it may hang over, where neither way does without and no knife cuts it.
func OnBed(size, bed geom.Point, knife bool) (ok, turned bool) {
	within := func(over float64, w, h float64) bool { return w <= bed.X+over && h <= bed.Y+over }
	for _, over := range []float64{0, hangs(knife)} {
		if within(over, size.X, size.Y) {
			return true, false
		}
		if within(over, size.Y, size.X) {
			return true, true
		}
	}
	return false, false
}
