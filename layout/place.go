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

// A page is a sheet that is being filled.
type page struct {
	size   geom.Point
	offcut int      // which of the offcuts it is, -1 for a whole sheet
	gone   geom.Box // the corner that is gone; 0 by 0 if none is
	pieces []laid
	left   []Offcut    // what is left of it, the largest first
	knife  []sheet.Cut // by which a knife parts it, in their order
	blocks []block     // of parts that share cuts
	// outlined says that its pieces lie by their outlines, whose boxes may overlap.
	outlined bool
}

// place gives pieces of one stock their places, on its sheets and offcuts, or all on one
// page as large as they need where nothing says how large these are. What leaves no margin
// on a sheet lies there alone, and so does, on a page of its own, what may be larger. Where
// the grain wants it the sheets lie on the bed turned.
func place(ctx context.Context, pieces []laid, supply Supply, how Search) (pages []page, use *sheet.Group, err error) {
	if !supply.Known() {
		return []page{sideBySide(pieces, supply.Spacing)}, nil, nil
	}
	pages, use, err = onSheets(ctx, pieces, supply, false, how)
	var tooLarge SheetError
	if !errors.As(err, &tooLarge) {
		return pages, use, err
	}
	pages, use, again := onSheets(ctx, pieces, supply, true, how)
	if again != nil {
		return nil, nil, err
	}
	for i := range pages {
		pages[i] = pages[i].turned()
	}
	return pages, use, nil
}

// Fits gives a [SheetError] if one of the drawing's parts can lie on no sheet.
func (d *Drawing) Fits(supplies map[string]Supply) error {
	w := Wanted{Drawing: d}
	for _, p := range d.Parts {
		p.Copies = 1
		supply := supplies[p.Stock]
		if _, _, err := place(context.Background(), w.copies(0, p, supply.Way), supply, Search{Effort: -1}); err != nil {
			return supply.told(err, p, p.cutFrom(), Taken{})
		}
	}
	return nil
}

// onSheets is place where sheets, upright or turned, are known.
func onSheets(ctx context.Context, pieces []laid, supply Supply, turned bool, how Search) (pages []page, use *sheet.Group, err error) {
	size := supply.reached(supply.Sheet, turned)
	blade := supply.blade()
	var many []laid
	alone, area := 0, 0.0
	for _, l := range pieces {
		switch r := l.room(size, supply.Margin, blade); {
		case r == roomy || slices.ContainsFunc(supply.Offcuts, func(o Offcut) bool {
			return l.roomOn(o.in(supply.reached(o.Size, turned)), supply.Margin, blade)
		}):
			many = append(many, l)
		case r == tight:
			l.lie(geom.Point{}, !l.fits(size, false, 0, blade))
			rest := size.Sub(l.box().Max)
			l.lie(geom.Pt(beside(rest.X, blade), beside(rest.Y, blade)), l.at.Turn != 0)
			one := page{size: size, offcut: whole, pieces: []laid{l}}
			if supply.Way.Knife.Yes {
				one.knife = cutOut(size, l.box(), supply.Spacing)
			}
			pages = append(pages, one)
			alone, area = alone+1, area+l.w*l.h
		case r == thin:
			return nil, nil, &KnifeError{l.part, size, l.rest(size, blade), supply}
		case l.part.Oversize:
			pages = append(pages, sideBySide([]laid{l}, 0))
		default:
			return nil, nil, SheetError{l.part, l.w, l.h, size.X, size.Y, r == across}
		}
	}
	if n, limited := supply.Quantity.Get(); limited && alone > n {
		return nil, nil, &sheet.ShortError{Missing: alone - n}
	}
	laid, use, err := packed(ctx, many, supply, turned, alone, how)
	for i, p := range laid {
		its := Offcut{Size: supply.Sheet}
		if p.offcut != whole {
			its = supply.Offcuts[p.offcut]
			laid[i].gone, _ = its.in(supply.reached(its.Size, turned)).gone()
		}
		laid[i].left = append(laid[i].left, supply.beyond(its, turned)...)
	}
	if err == nil && alone > 0 {
		use = withAlone(use, alone, size, area, supply.Price)
	}
	return append(laid, pages...), use, err
}

// withAlone is what is used with so many sheets, each of a price, on which one piece lies.
func withAlone(use *sheet.Group, alone int, size geom.Point, pieces float64, price maybe.Of[float64]) *sheet.Group {
	all := sheet.Group{Cost: maybe.Is(0.0), LeastCost: maybe.Is(0.0)}
	if use != nil {
		all = *use
	}
	covered := all.Used*all.Area + pieces
	all.Sheets, all.LeastSheets = all.Sheets+alone, all.LeastSheets+alone
	all.Area, all.LeastArea = all.Area+float64(alone)*size.X*size.Y, all.LeastArea+float64(alone)*size.X*size.Y
	all.Used = covered / all.Area
	each, priced := price.Get()
	all.Cost, all.LeastCost = maybe.If(all.Cost.Or(0)+float64(alone)*each, priced), maybe.If(all.LeastCost.Or(0)+float64(alone)*each, priced)
	return &all
}

// whole is the number of the offcut that is none.
const whole = -1

// inReadingOrder sorts a page's pieces row by row from the head, and from the left. What
// is as high as another but for a hair is in its row.
func (p page) inReadingOrder() {
	row := func(l laid) float64 { return math.Round(l.box().Min.Y / inARow) }
	slices.SortStableFunc(p.pieces, func(a, b laid) int {
		return cmp.Or(cmp.Compare(row(a), row(b)), cmp.Compare(a.box().Min.X, b.box().Min.X))
	})
}

// inARow is by how much in mm two of a row may begin lower than one another.
const inARow = 1

// turned is a page turned by a quarter clockwise.
func (p page) turned() page {
	out := page{size: geom.Pt(p.size.Y, p.size.X), offcut: p.offcut, left: p.left, outlined: p.outlined}
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
		out.blocks = append(out.blocks, block{box(b.box), turnedCuts(b.lines, over)})
	}
	return out
}

// packed lays pieces on as few sheets as is found, of which so many are used already, and
// on offcuts where that costs least. Pieces are turned only if that takes fewer.
func packed(ctx context.Context, pieces []laid, supply Supply, turned bool, used int, how Search) ([]page, *sheet.Group, error) {
	if len(pieces) == 0 {
		return nil, nil, nil
	}
	size := supply.reached(supply.Sheet, turned)
	sheets := sheet.Stock{Width: size.X, Height: size.Y, Margin: supply.Margin, Spacing: supply.Spacing, Price: supply.Price}
	if n, limited := supply.Quantity.Get(); limited {
		sheets.Count = maybe.Is(max(0, n-used))
	}
	sheets.Name = pieces[0].part.Stock
	job := sheet.Job{Stocks: []sheet.Stock{sheets}}
	for _, o := range supply.Offcuts {
		o = o.in(supply.reached(o.Size, turned))
		job.Stocks = append(job.Stocks, sheet.Stock{Width: o.Size.X, Height: o.Size.Y, Gone: o.Gone, Corner: o.Corner, Margin: supply.Margin, Spacing: supply.Spacing, Count: maybe.Is(1), Offcut: true})
	}
	for i := range job.Stocks {
		job.Stocks[i].Shared = supply.Way.Shared.Yes
		job.Stocks[i].Knife = maybe.If(supply.Spacing, supply.Way.Knife.Yes)
	}
	turns := false
	for _, l := range pieces {
		part := sheet.Part{Name: l.part.Name, Width: l.w, Height: l.h, Count: 1, Plain: l.plain}
		if l.fits(size, false, supply.Margin, supply.blade()) {
			turns = turns || l.turns
		} else if l.turns {
			part.Turns = sheet.QuarterTurn
		}
		job.Parts = append(job.Parts, part)
	}
	result, err := sheet.Lay(ctx, job, sheet.Options{Effort: how.Effort, LeastLeft: leastLeft, Progress: how.Progress})
	if turns && (err != nil || len(result.Sheets) > 1 || len(job.Stocks) > 1 && wholeSheets(result) > 0) {
		for i, l := range pieces {
			if l.turns {
				job.Parts[i].Turns = sheet.QuarterTurn
			}
		}
		again, failed := sheet.Lay(ctx, job, sheet.Options{Effort: how.Effort, LeastLeft: leastLeft, Progress: how.Progress})
		if failed == nil && (err != nil || fewer(again, result)) {
			result, err = again, nil
		}
	}
	most := math.MaxInt
	if err == nil {
		most = wholeSheets(result)
	}
	if !supply.Way.Knife.Yes && (err != nil || most > 1) {
		if pages, use, ok := byOutline(ctx, pieces, job, most, how.Effort); ok {
			return pages, use, how.ended(ctx)
		}
	}
	var none *sheet.FitError
	if errors.As(err, &none) { // each would fit, if there were a sheet
		err = &sheet.ShortError{Missing: len(pieces)}
	}
	if err != nil {
		return nil, nil, err
	}
	pages := make([]page, len(result.Sheets))
	for i, s := range result.Sheets {
		pages[i] = pageOf(s, job.Stocks[s.Stock], pieces)
	}
	inTheirOrder(pages, pieces)
	return pages, &result.Groups[0], how.ended(ctx)
}

// pageOf is a sheet of a result with its pieces in reading order.
func pageOf(s sheet.Sheet, of sheet.Stock, pieces []laid) page {
	p := page{size: geom.Pt(of.Width, of.Height), offcut: s.Stock - 1, knife: s.Cuts}
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
	p.inReadingOrder()
	return p
}

// wholeSheets is how many of a result's sheets are no offcuts.
func wholeSheets(r *sheet.Result) (n int) {
	for _, s := range r.Sheets {
		if s.Stock == 0 {
			n++
		}
	}
	return n
}

// fewer reports whether one way of laying takes fewer whole sheets than another, which all cost
// the same, or as many and fewer offcuts.
func fewer(a, b *sheet.Result) bool {
	return cmp.Or(cmp.Compare(wholeSheets(a), wholeSheets(b)), cmp.Compare(len(a.Sheets), len(b.Sheets))) < 0
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
	p.offcut = whole
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
