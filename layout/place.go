package layout

import (
	"cmp"
	"context"
	"errors"
	"foredge/eval/maybe"
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// Spacing is the distance between what is cut of parts that lie side by side, in mm.
const Spacing = 10

// sheetMargin is how far parts stay from the sheet's edges, in mm.
const sheetMargin = Spacing / 2

// A page is what lies on the bed at once, while it is being filled: a sheet, or a piece of one.
type page struct {
	size   geom.Point
	offcut int  // which of the offcuts it is, whole for a sheet
	turn   bool // it lies on the bed turned by a quarter
	// outlined says that its pieces lie by their outlines, whose boxes may overlap.
	outlined bool
	number   int      // which of the sheets, from 0
	sawn     *Sawn    // from what it is sawn; nil if it isn't
	gone     geom.Box // the corner that is gone; 0 by 0 if none is
	pieces   []laid
	left     []Offcut // what is left of it, the largest first
	// rest is what is left of the sheet from which it is sawn, told once.
	rest   []Offcut
	knife  []sheet.Cut // by which a knife parts it, in their order
	blocks []block     // of parts that share cuts
}

// Sawn says of what something is a piece: of a sheet or an offcut that is larger than the bed.
type Sawn struct {
	// Number is which sheet of its stock, of those that are taken, from 1; of an offcut 0.
	Number int
	Size   geom.Point // of it, in mm
	Piece  geom.Box   // in mm from its left upper corner
	// Cuts are those of the saw, each from edge to edge of what it divides, in their order, from there
	// too.
	Cuts []sheet.Cut
	// Turned says that the piece is turned by a quarter clockwise.
	Turned bool
	Wood   string // that the sheet is of, as a [Supply] has it
	offcut int    // which of the offcuts it is
}

// place gives pieces of one stock their places, on its sheets and offcuts, or all on one
// page as large as they need where nothing says how large these are. What leaves no margin
// on a sheet lies there alone, and so does, on a page of its own, what may be larger. A sheet that goes
// onto the bed only turned lies so, and a larger one is sawn.
func place(ctx context.Context, pieces []laid, supply Supply, how Search) (pages []page, use *sheet.Group, err error) {
	if !supply.Known() {
		return []page{sideBySide(pieces, supply.Spacing)}, nil, nil
	}
	if !slices.ContainsFunc(pieces, func(l laid) bool { return !l.turns }) {
		supply = supply.across()
	}
	alone, many, err := supply.alone(pieces)
	if err != nil {
		return nil, nil, err
	}
	if n, limited := supply.Quantity.Get(); limited && alone.sheets > n {
		return nil, nil, &sheet.ShortError{Missing: alone.beyond(n) + leftOver(ctx, many, supply, alone.upTo(n), how)}
	}
	pages, err = packed(ctx, many, supply, alone, how)
	if len(pages) == 0 && err != nil {
		return nil, nil, err
	}
	pages = append(pages, alone.pages...)
	if alone.taken+len(many) > 0 {
		use = supply.group(pages, many, alone)
	}
	for i := range pages {
		if s := pages[i].sawn; pages[i].turn {
			if s != nil {
				s.Turned = true
			}
			pages[i] = pages[i].turned()
		}
	}
	return pages, use, err
}

// wholeOf is how many sheets pages take that are no offcuts.
func wholeOf(pages []page) (n int) {
	for _, p := range pages {
		if p.offcut == whole {
			n = max(n, p.number+1)
		}
	}
	return n
}

// Fits gives an error of [Lay] if one of the drawing's parts can lie on no sheet, and on no offcut that is there.
func (d *Drawing) Fits(supplies map[string]Supply) error {
	w := Wanted{Drawing: d}
	for _, p := range d.Parts {
		p.Copies = 1
		supply := supplies[p.Stock]
		if _, _, err := placed(context.Background(), w.copies(0, p, supply.Way), supply, p.cutFrom(), Taken{}, Search{Effort: -1}); err != nil {
			var few *StockError
			if errors.As(err, &few) {
				few.More = maybe.Of[int]{} // that is of one part alone, and others are to be cut with it
			}
			return err
		}
	}
	return nil
}

// whole is the number of the offcut that is none, and noSheet that of a sheet of what lies on none.
const (
	whole   = -1
	noSheet = -1
)

// inReadingOrder sorts a page's pieces row by row from the head, and from the left, as they lie
// or, with quarter, as they will once the page is turned. What is as high as another but for a
// hair is in its row.
func (p page) inReadingOrder(quarter bool) {
	corner := func(l laid) geom.Point {
		b := l.box()
		if quarter {
			return geom.Pt(-b.Max.Y, b.Min.X)
		}
		return b.Min
	}
	row := func(l laid) float64 { return math.Round(corner(l).Y / inARow) }
	slices.SortStableFunc(p.pieces, func(a, b laid) int {
		return cmp.Or(cmp.Compare(row(a), row(b)), cmp.Compare(corner(a).X, corner(b).X))
	})
}

// inARow is by how much in mm two of a row may begin lower than one another.
const inARow = 1

// turned is a page turned by a quarter clockwise.
func (p page) turned() page {
	out := p
	out.size, out.pieces, out.blocks = geom.Pt(p.size.Y, p.size.X), nil, nil
	over := func(q geom.Point) geom.Point { return geom.Pt(p.size.Y-q.Y, q.X) }
	box := func(b geom.Box) geom.Box {
		return geom.Box{Min: over(geom.Pt(b.Min.X, b.Max.Y)), Max: over(geom.Pt(b.Max.X, b.Min.Y))}
	}
	for _, l := range p.pieces {
		l.at.Turn = math.Mod(l.at.Turn+90, 360)
		l.at.At = over(l.at.At)
		out.pieces = append(out.pieces, l)
	}
	if p.gone != (geom.Box{}) {
		out.gone = box(p.gone)
	}
	out.knife = turnedCuts(p.knife, over)
	for _, b := range p.blocks {
		turned := block{box: box(b.box), lines: turnedCuts(b.lines, over)}
		for _, c := range b.corners {
			turned.corners = append(turned.corners, over(c))
		}
		out.blocks = append(out.blocks, turned)
	}
	return out
}

// packed lays pieces on as few sheets as is found, beside those that are taken for pieces alone, and
// on offcuts where that costs least. Pieces are turned only if that takes fewer.
func packed(ctx context.Context, pieces []laid, supply Supply, alone alone, how Search) ([]page, error) {
	if len(pieces) == 0 {
		alone.leave(nil, nil)
		return nil, nil
	}
	job := supply.job(pieces, alone)
	turns, sizes := false, supply.sizes()
	for i := range pieces {
		l := &pieces[i]
		if slices.ContainsFunc(sizes, func(size geom.Point) bool { return l.fits(size, false, supply.Margin, supply.blade()) }) {
			turns = turns || l.turns
		} else if l.turns {
			job.Parts[i].Turns = sheet.QuarterTurn
		}
	}
	opts := sheet.Options{Effort: how.Effort, LeastLeft: leastLeft, Progress: how.Progress}
	result, err := sheet.Lay(ctx, job, opts)
	if turns && (err != nil || len(result.Sheets) > 1 || len(job.Stocks) > 1 && wholeSheets(result) > 0) {
		again, failed := sheet.Lay(ctx, freely(job, pieces), opts)
		if failed == nil && (err != nil || fewer(again, result)) {
			result, err = again, nil
			upright(ctx, job, result, how.Effort)
		} else if err != nil {
			job = freely(job, pieces)
			err = lessMissing(err, failed)
		}
	}
	most := math.MaxInt
	if err == nil {
		most = wholeSheets(result)
	}
	if !supply.Way.Knife.Yes && (err != nil || most > 1) {
		if pages, ok := byOutline(ctx, pieces, job, supply, alone, most, how.Effort); ok {
			return pages, how.ended(ctx)
		}
	}
	var none *sheet.FitError
	if errors.As(err, &none) { // each would fit, if there were a sheet
		err = &sheet.ShortError{Missing: missing(ctx, job, opts)}
	}
	if err != nil {
		return nil, err
	}
	pages := make([]page, len(result.Sheets))
	for i, s := range result.Sheets {
		pages[i] = pageOf(s, job.Stocks[s.Stock], pieces)
		alone.number(&pages[i], s.Stock, s.Number)
	}
	supply.saw(pages, result, alone)
	inTheirOrder(pages, pieces)
	return pages, how.ended(ctx)
}

// lessMissing is, of two errors of a job, the one by which fewer parts are left over.
func lessMissing(a, b error) error {
	var its, other *sheet.ShortError
	if errors.As(b, &other) && (!errors.As(a, &its) || other.Missing < its.Missing) {
		return b
	}
	return a
}

// missing counts the parts that are left over where some have room on nothing that is there.
func missing(ctx context.Context, job sheet.Job, opts sheet.Options) (n int) {
	for {
		_, err := sheet.Lay(ctx, job, opts)
		var none *sheet.FitError
		var short *sheet.ShortError
		switch {
		case errors.As(err, &short):
			return n + short.Missing
		case !errors.As(err, &none):
			return n
		}
		its := job.Parts[slices.IndexFunc(job.Parts, func(p sheet.Part) bool { return p.Name == none.Part })]
		all := len(job.Parts)
		job.Parts = slices.DeleteFunc(slices.Clone(job.Parts), func(p sheet.Part) bool {
			return p.Width == its.Width && p.Height == its.Height && p.Turns == its.Turns
		})
		n += all - len(job.Parts)
	}
}

// leftOver counts the pieces for which there is no room beside those that lie alone, as there are too few sheets for these.
func leftOver(ctx context.Context, pieces []laid, supply Supply, alone alone, how Search) int {
	var short *sheet.ShortError
	if _, err := packed(ctx, pieces, supply, alone, how); errors.As(err, &short) {
		return short.Missing
	}
	return 0
}

// job is what is to be laid: as drawn, on sheets, offcuts and what is left of sheets that were begun.
func (s Supply) job(pieces []laid, alone alone) sheet.Job {
	sheets := s.stock(Offcut{Size: s.Sheet})
	sheets.Price, sheets.Name = s.Price, pieces[0].part.Stock
	if n, limited := s.Quantity.Get(); limited {
		sheets.Count = maybe.Is(max(0, n-alone.sheets))
	}
	job := sheet.Job{Stocks: []sheet.Stock{sheets}}
	for _, o := range s.Offcuts {
		job.Stocks = append(job.Stocks, s.stock(o))
	}
	for _, r := range alone.rest {
		job.Stocks = append(job.Stocks, s.stock(offcutOf(r.Piece)))
	}
	for i := range job.Stocks[1:] {
		job.Stocks[i+1].Count, job.Stocks[i+1].Offcut = maybe.Is(1), true
	}
	for _, l := range pieces {
		job.Parts = append(job.Parts, sheet.Part{Name: l.part.Name, Width: l.w, Height: l.h, Count: 1, Plain: l.plain})
	}
	return job
}

// freely is a job in which what may be turned is turned.
func freely(job sheet.Job, pieces []laid) sheet.Job {
	job.Parts = slices.Clone(job.Parts)
	for i, l := range pieces {
		if l.turns {
			job.Parts[i].Turns = sheet.QuarterTurn
		}
	}
	return job
}

// pageOf is a sheet of a result with its pieces in reading order.
func pageOf(s sheet.Sheet, of sheet.Stock, pieces []laid) page {
	of.Width, of.Height, of.Gone, of.Corner = s.Width(), s.Height(), s.Gone, s.Piece.Corner
	p := page{size: geom.Pt(of.Width, of.Height), offcut: s.Stock - 1, knife: s.Cuts, turn: s.Quarter}
	p.gone, _ = offcutOf(s.Piece).gone()
	var boxes []geom.Box
	for _, at := range s.Placements {
		l := pieces[at.Part]
		l.at = at
		p.pieces = append(p.pieces, l)
		boxes = append(boxes, l.box())
	}
	p.blocks = blocksOf(s.Shared, boxes)
	for _, b := range p.blocks {
		for i := range p.pieces {
			p.pieces[i].together = p.pieces[i].together || b.box.Grow(geom.Tol).Holds(boxes[i])
		}
	}
	p.left = leftOf(s.Left, boxes, of)
	p.inReadingOrder(p.turn)
	return p
}

// wholeSheets is how many of a result's sheets are no offcuts.
func wholeSheets(r *sheet.Result) (n int) {
	for _, s := range r.Sheets {
		if s.Stock == 0 {
			n = max(n, s.Number+1)
		}
	}
	return n
}

// piecesOf is how many sheets and offcuts a result takes.
func piecesOf(r *sheet.Result) (n int) {
	seen := map[[2]int]bool{}
	for _, s := range r.Sheets {
		seen[[2]int{s.Stock, s.Number}] = true
	}
	return len(seen)
}

// fewer reports whether one way of laying takes fewer whole sheets than another, which all cost
// the same, or as many and fewer offcuts, or those in fewer pieces.
func fewer(a, b *sheet.Result) bool {
	return cmp.Or(cmp.Compare(wholeSheets(a), wholeSheets(b)), cmp.Compare(piecesOf(a), piecesOf(b)), cmp.Compare(len(a.Sheets), len(b.Sheets))) < 0
}

// inTheirOrder gives pieces of one size, which may lie in each other's places, these in
// the order in which they were asked for: what belongs together lies together, and what is
// drawn on one changes no other's place.
func inTheirOrder(pages []page, pieces []laid) {
	type like struct {
		w, h         float64 // whole millionths of a mm
		turns, plain bool
	}
	likeOf := func(l laid) like { return like{math.Round(l.w * 1e6), math.Round(l.h * 1e6), l.turns, l.plain} }
	next := map[like][]int{}
	for i, l := range pieces {
		k := likeOf(l)
		next[k] = append(next[k], i)
	}
	for _, p := range pages {
		for i, l := range p.pieces {
			k := likeOf(l)
			p.pieces[i] = pieces[next[k][0]]
			p.pieces[i].at, p.pieces[i].together, next[k] = l.at, l.together, next[k][1:]
		}
	}
}

// sideBySide lays pieces in one row, on a page that is as large.
func sideBySide(pieces []laid, spacing float64) (p page) {
	p.offcut, p.number = whole, noSheet
	x := 0.0
	for _, l := range pieces {
		l.at.At = geom.Pt(x, 0)
		p.pieces = append(p.pieces, l)
		p.size = geom.Pt(x+l.w, max(p.size.Y, l.h))
		x = p.size.X + spacing
	}
	return p
}

// lie puts the left upper corner of a piece at a place, turned by a quarter or not.
func (l *laid) lie(corner geom.Point, turned bool) {
	l.at.Turn, l.at.At = 0, corner
	if turned {
		l.at.Turn, l.at.At = 90, corner.Add(geom.Pt(l.h, 0))
	}
}

// A room says how a piece lies on a sheet.
type room uint8

const (
	none   room = iota
	across      // turned it would fit, and mustn't be turned
	thin        // it fits, but leaves less of it than a knife can take off along a line on it
	tight       // it fits, but without a margin
	roomy
)

// room is how a piece lies on a sheet; blade is the width of the cut of a knife that cuts it out, else 0.
func (l *laid) room(size geom.Point, margin, blade float64) room {
	switch {
	case l.fits(size, false, margin, blade), l.turns && l.fits(size, true, margin, blade):
		return roomy
	case l.fits(size, false, 0, blade), l.turns && l.fits(size, true, 0, blade):
		return tight
	case l.fits(size, false, 0, 0), l.turns && l.fits(size, true, 0, 0):
		return thin
	case l.fits(size, true, 0, 0):
		return across
	}
	return none
}

// roomOn reports whether a piece leaves a margin on an offcut, beside the corner that is gone.
func (l *laid) roomOn(o Offcut, margin, blade float64) bool {
	if l.room(o.Size, margin, blade) != roomy {
		return false
	}
	return o.Gone == geom.Point{} || l.room(geom.Pt(o.Size.X-o.Gone.X, o.Size.Y), margin, blade) == roomy || l.room(geom.Pt(o.Size.X, o.Size.Y-o.Gone.Y), margin, blade) == roomy
}

// fits reports whether a piece, turned by a quarter or not, leaves a margin on a sheet, and
// the line along which a blade takes off what is left is on it.
func (l *laid) fits(size geom.Point, turned bool, margin, blade float64) bool {
	w, h := l.w, l.h
	if turned {
		w, h = h, w
	}
	for _, rest := range [2]float64{size.X - 2*margin - w, size.Y - 2*margin - h} {
		if rest < -geom.Tol || margin == 0 && rest > geom.Tol && rest < blade/2-geom.Tol {
			return false
		}
	}
	return true
}
