package layout

import (
	"context"
	"math"

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
	use := sheet.Group{Sheets: len(result.Sheets), LeastSheets: 1, LeastArea: area}
	for i, s := range result.Sheets {
		if pages[i].offcut = s.Stock - 1; pages[i].offcut == whole {
			fewer--
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
		pages[i].inReadingOrder()
	}
	use.Used = area / use.Area
	return pages, &use, fewer > 0
}
