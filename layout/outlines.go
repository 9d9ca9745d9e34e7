package layout

import (
	"context"
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/nest"
	"foredge/layout/sheet"
)

// outlineSteps is how many places are tried, at full effort, for pieces that are laid by
// their outline: some seconds.
const outlineSteps = 5e6

// bulky is the share of its rectangle from which on nothing is gained by a piece's outline.
const bulky = 0.85

// leastLeft is how wide and high in mm what is told as left over is at the least.
const leastLeft = 50

// mostOutlines is how many pieces are laid by their outlines at once: the memory for it
// grows with the square.
const mostOutlines = 500

// outline is what is cut round all of a piece, about its own origin; not ok if several cuts
// are.
func (l *laid) outline() (fig geom.Figure, ok bool) {
	for _, s := range l.drawn.Shapes {
		if s.Op != Cut || s.Hole {
			continue
		}
		b := s.Figure.Bounds()
		if b.Min.Distance(l.origin) < geom.Tol && math.Abs(b.Width()-l.w) < geom.Tol && math.Abs(b.Height()-l.h) < geom.Tol {
			return geom.Shift(l.origin.Mul(-1)).Apply(s.Figure), true
		}
	}
	return nil, false
}

// Covered is how much of a sheet its parts cover, in mm²: the boxes round what is cut of them, or
// what is within their outlines where they lie by these.
func (s *Sheet) Covered() (sum float64) {
	for _, p := range s.Outer.Parts {
		if p.Common {
			continue
		}
		box := p.Footprint()
		its := box.Width() * box.Height()
		if i := p.edge(); s.outlined && i >= 0 {
			if b := p.Shapes[i].Figure.Bounds(); b.Grow(geom.Tol).Holds(box) {
				its = math.Abs(geom.Area(p.Shapes[i].Figure))
			}
		}
		sum += its
	}
	return sum
}

// below is what is left of a piece of a sheet below all that lies on it, so high.
func below(o Offcut, free float64) Offcut {
	high := o.Size.Y
	if o.Corner == sheet.LeftTop || o.Corner == sheet.RightTop {
		o.Gone.Y -= high - free
	} else if o.Gone.Y >= free {
		o.Size.X, o.Gone = o.Size.X-o.Gone.X, geom.Point{}
	}
	if o.Size.Y = free; min(o.Gone.X, o.Gone.Y) <= 0 {
		o.Gone = geom.Point{}
	}
	return o
}

// slim says that something may be gained by the outline of a piece.
func (l *laid) slim() bool { return l.area() < bulky*l.w*l.h }

// area is that of a piece in mm², by its outline.
func (l *laid) area() float64 {
	if fig, ok := l.outline(); ok {
		return math.Abs(geom.Area(fig))
	}
	return l.w * l.h
}

// byOutline lays pieces by their outlines, if that takes fewer whole sheets than so many. Of
// those that have none their rectangle counts.
func byOutline(ctx context.Context, pieces []laid, job sheet.Job, supply Supply, alone alone, fewer int, effort float64) ([]page, bool) {
	if len(pieces) > mostOutlines || effort <= 0 || !slices.ContainsFunc(pieces, func(l laid) bool { return l.slim() }) {
		return nil, false
	}
	out := nest.Job{Spacing: supply.Spacing, Margin: supply.Margin, Steps: int(outlineSteps * effort)}
	for i := range pieces {
		l := &pieces[i]
		part := nest.Part{Outline: geom.Rect{W: l.w, H: l.h}, Copies: 1, Turns: []float64{0, 180}}
		if l.turns {
			part.Turns = []float64{0, 90, 180, 270}
		}
		if fig, ok := l.outline(); ok {
			part.Outline = fig
		}
		out.Parts = append(out.Parts, part)
	}
	trays, stocks := traysOf(job, 0, fewer-1)
	found, err := nest.Sheets(ctx, out, stocks)
	if err != nil && len(trays) > len(job.Stocks) { // pieces that lie turned may hold them
		trays, stocks = traysOf(job, 1, fewer-1)
		found, err = nest.Sheets(ctx, out, stocks)
	}
	if err != nil || found.Stopped {
		return nil, false
	}
	onSmallest(ctx, out, trays, stocks, found.Sheets)
	result := &sheet.Result{}
	used := map[[3]int]bool{} // which piece of which sheet
	for _, s := range found.Sheets {
		t := trays[s.Stock]
		used[[3]int{t.stock, s.Number, t.piece}] = true
		result.Sheets = append(result.Sheets, sheet.Sheet{Stock: t.stock, Number: s.Number, Piece: t.way.Pieces[t.piece], Quarter: t.way.Quarter, Placements: s.Placements})
	}
	if wholeSheets(result) >= fewer {
		return nil, false
	}
	for _, t := range trays {
		if len(t.way.Cuts) == 0 || t.piece > 0 {
			continue
		}
		for number := range most(result, t.stock) {
			saw := sheet.Sawing{Stock: t.stock, Number: number, Cuts: t.way.Cuts}
			for k, p := range t.way.Pieces {
				if !used[[3]int{t.stock, number, k}] {
					saw.Rest = append(saw.Rest, p)
				}
			}
			result.Sawn = append(result.Sawn, saw)
		}
	}
	pages := make([]page, len(result.Sheets))
	for i, s := range result.Sheets {
		p := pageOf(s, job.Stocks[s.Stock], pieces)
		p.left, p.outlined = nil, true
		if free := s.Height() - found.Sheets[i].Reach; free >= leastLeft {
			p.left = []Offcut{below(offcutOf(s.Piece), free)}
		}
		alone.number(&p, s.Stock, s.Number)
		pages[i] = p
	}
	supply.saw(pages, result, alone)
	return pages, true
}

// most is how many sheets of a stock a result takes.
func most(r *sheet.Result, stock int) (n int) {
	for _, s := range r.Sheets {
		if s.Stock == stock {
			n = max(n, s.Number+1)
		}
	}
	return n
}

// A tray is a piece of a stock, in a way in which that comes onto the bed.
type tray struct {
	stock, piece int
	way          sheet.Way
}

// traysOf are the pieces of all stocks of a job, of those that are sawn in the first way or the second, and
// of no more sheets than are allowed: else each would be of a sheet of its own.
func traysOf(job sheet.Job, way, allowed int) (trays []tray, stocks []nest.Stock) {
	for i, s := range job.Stocks {
		ways := sheet.Ways(s)
		if len(ways) == 0 {
			continue
		}
		its := ways[min(way, len(ways)-1)]
		for k, p := range its.Pieces {
			one := nest.Stock{Width: p.Width(), Height: p.Height(), Count: s.Count.Or(0), Cost: 1 / float64(len(its.Pieces))}
			if n, limited := s.Count.Get(); limited && n == 0 {
				one.Width, one.Height, one.Count = 1, 1, 1 // there is none: too small for anything
			}
			if s.Offcut {
				one.Cost = 0
			} else if len(its.Pieces) > 1 && allowed < mostOutlines && (one.Count == 0 || one.Count > allowed) {
				one.Count = allowed
			}
			if gone, ok := offcutOf(p).gone(); ok {
				one.Gone = []geom.Figure{geom.Rect{Min: gone.Min, W: gone.Width(), H: gone.Height()}}
			}
			trays, stocks = append(trays, tray{i, k, its}), append(stocks, one)
		}
	}
	return trays, stocks
}
