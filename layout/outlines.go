package layout

import (
	"cmp"
	"context"
	"math"
	"slices"

	"foredge/eval/maybe"
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

// below is what is left of a sheet below all that lies on it, so high.
func below(s sheet.Stock, free float64) Offcut {
	o := Offcut{geom.Pt(s.Width, s.Height), s.Gone, s.Corner}
	if s.Corner == sheet.LeftTop || s.Corner == sheet.RightTop {
		o.Gone.Y -= s.Height - free
	} else if o.Gone.Y >= free {
		o.Size.X, o.Gone = s.Width-s.Gone.X, geom.Point{}
	}
	if o.Size.Y = free; min(o.Gone.X, o.Gone.Y) <= 0 {
		o.Gone = geom.Point{}
	}
	return o
}

// byOutline lays pieces by their outlines, if that takes fewer whole sheets than so many. Of
// those that have none their rectangle counts.
func byOutline(ctx context.Context, pieces []laid, job sheet.Job, fewer int, effort float64) ([]page, *sheet.Group, bool) {
	if len(pieces) > mostOutlines || effort <= 0 {
		return nil, nil, false
	}
	supply := job.Stocks[0]
	out := nest.Job{Spacing: supply.Spacing, Margin: supply.Margin, Steps: int(outlineSteps * effort)}
	area, slim := 0.0, false
	for i := range pieces {
		l := &pieces[i]
		part := nest.Part{Outline: geom.Rect{W: l.w, H: l.h}, Copies: 1, Turns: []float64{0, 180}}
		if l.turns {
			part.Turns = []float64{0, 90, 180, 270}
		}
		if fig, ok := l.outline(); ok {
			part.Outline = fig
		}
		its := math.Abs(geom.Area(part.Outline))
		area += its
		slim = slim || its < bulky*l.w*l.h
		out.Parts = append(out.Parts, part)
	}
	if !slim {
		return nil, nil, false
	}
	var stocks []nest.Stock
	for _, s := range job.Stocks {
		one := nest.Stock{Width: s.Width, Height: s.Height, Count: s.Count.Or(0), Cost: 1}
		if n, limited := s.Count.Get(); limited && n == 0 {
			one.Width, one.Height, one.Count = 1, 1, 1 // there is none: too small for anything
		}
		if s.Offcut {
			one.Cost = 0
		}
		if gone, ok := (Offcut{geom.Pt(s.Width, s.Height), s.Gone, s.Corner}).gone(); ok {
			one.Gone = []geom.Figure{geom.Rect{Min: gone.Min, W: gone.Width(), H: gone.Height()}}
		}
		stocks = append(stocks, one)
	}
	result, err := nest.Sheets(ctx, out, stocks)
	if err != nil || result.Stopped {
		return nil, nil, false
	}
	pages := make([]page, len(result.Sheets))
	use := leastOf(job.Stocks, area)
	use.Sheets = len(result.Sheets)
	sheets := 0
	for i, s := range result.Sheets {
		if pages[i].offcut = s.Stock - 1; pages[i].offcut == whole {
			sheets++
		}
		its := job.Stocks[s.Stock]
		pages[i].size = geom.Pt(its.Width, its.Height)
		use.Area += its.Width * its.Height
		if free := its.Height - s.Reach; free > leastLeft {
			pages[i].left = []Offcut{below(its, free)}
		}
		for _, at := range s.Placements {
			l := pieces[at.Part]
			l.at = at
			pages[i].pieces = append(pages[i].pieces, l)
		}
		pages[i].outlined = true
		pages[i].inReadingOrder()
	}
	use.Used = area / use.Area
	if price, ok := supply.Price.Get(); ok {
		use.Cost = maybe.Is(price * float64(sheets))
	}
	return pages, &use, sheets < fewer
}

// leastOf is the least of stocks, whole sheets and then offcuts, that holds parts of an area in mm², each
// measure for itself.
func leastOf(stocks []sheet.Stock, area float64) sheet.Group {
	least := sheet.Group{LeastArea: area}
	sizeOf := func(s sheet.Stock) float64 { return s.Width*s.Height - s.Gone.X*s.Gone.Y }
	largest := slices.Clone(stocks)
	slices.SortStableFunc(largest, func(a, b sheet.Stock) int { return cmp.Compare(sizeOf(b), sizeOf(a)) })
	pieces, offcuts := area, 0.0 // pieces is what these don't hold
	for _, s := range largest {
		n := min(s.Count.Or(math.MaxInt), int(math.Ceil(pieces/sizeOf(s)-geom.Tol)))
		if n > 0 {
			least.LeastSheets, pieces = least.LeastSheets+n, pieces-float64(n)*sizeOf(s)
		}
		if s.Offcut {
			offcuts += sizeOf(s)
		}
	}
	least.LeastSheets = max(least.LeastSheets, 1)
	if price, ok := stocks[0].Price.Get(); ok {
		least.LeastCost = maybe.Is(price * max(0, math.Ceil((area-offcuts)/sizeOf(stocks[0])-geom.Tol)))
	}
	return least
}
