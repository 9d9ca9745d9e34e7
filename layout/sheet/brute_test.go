package sheet_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A rect is a part in whole millimetres, and whether it may be turned.
type rect struct {
	w, h int
	turn bool
}

// fitsIn reports whether all of some parts fit in a rectangle.
func fitsIn(rects []rect, w, h int) bool { return tray{w: w, h: h}.holds(rects) }

// A tray is a sheet or an offcut in whole units, with what is gone at its left upper corner.
type tray struct {
	w, h, goneW, goneH int
	area, price        float64 // price is 0 for an offcut
}

// holds reports whether all of some parts fit, by trying each part at each place.
func (t tray) holds(rects []rect) bool {
	w, h := t.w, t.h
	grid := make([]bool, w*h)
	cover(grid, w, 0, 0, t.goneW, t.goneH, true)
	var try func(i int) bool
	try = func(i int) bool {
		if i == len(rects) {
			return true
		}
		sizes := [][2]int{{rects[i].w, rects[i].h}}
		if rects[i].turn {
			sizes = append(sizes, [2]int{rects[i].h, rects[i].w})
		}
		for _, s := range sizes {
			for y := 0; y+s[1] <= h; y++ {
				for x := 0; x+s[0] <= w; x++ {
					if cover(grid, w, x, y, s[0], s[1], true) {
						if try(i + 1) {
							return true
						}
						cover(grid, w, x, y, s[0], s[1], false)
					}
				}
			}
		}
		return false
	}
	return try(0)
}

// cover marks a rectangle as taken, if it is free, or as free.
func cover(grid []bool, w, x, y, rw, rh int, take bool) bool {
	for j := y; j < y+rh; j++ {
		for i := x; i < x+rw; i++ {
			if grid[j*w+i] == take {
				return false
			}
		}
	}
	for j := y; j < y+rh; j++ {
		for i := x; i < x+rw; i++ {
			grid[j*w+i] = take
		}
	}
	return true
}

// fewest is the least number of rectangles that hold all parts.
func fewest(rects []rect, w, h int) int {
	best := len(rects)
	var bins [][]rect
	var try func(i int)
	try = func(i int) {
		if len(bins) >= best {
			return
		}
		if i == len(rects) {
			best = len(bins)
			return
		}
		for b := range bins {
			old := bins[b]
			if now := append(slices.Clip(old), rects[i]); fitsIn(now, w, h) {
				bins[b] = now
				try(i + 1)
				bins[b] = old
			}
		}
		bins = append(bins, []rect{rects[i]})
		try(i + 1)
		bins = bins[:len(bins)-1]
	}
	try(0)
	return best
}

// TestSmallJobs holds small jobs against all ways to lay them: the bounds hold, and the fewest sheets are nearly always found.
func TestSmallJobs(t *testing.T) {
	jobs, more, tight := foretest.Sample(300, 60), 0, 0
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 20))
		w, h := 6+r.IntN(4), 5+r.IntN(4)
		var rects []rect
		job := sheet.Job{Stocks: []sheet.Stock{{Name: "birch", Width: float64(w), Height: float64(h)}}}
		for i := range 2 + r.IntN(5) {
			p := rect{1 + r.IntN(w), 1 + r.IntN(h), r.IntN(2) == 0}
			rects = append(rects, p)
			part := sheet.Part{Name: fmt.Sprint(i), Width: float64(p.w), Height: float64(p.h), Count: 1}
			if p.turn {
				part.Turns = sheet.QuarterTurn
			}
			job.Parts = append(job.Parts, part)
		}
		want := fewest(rects, w, h)
		result, err := sheet.Lay(context.Background(), job, sheet.Options{Effort: 0.02, Seed: seed})
		foretest.Must(t, err)
		g := result.Groups[0]
		if g.LeastSheets > want || g.Sheets < want {
			t.Errorf("job %d: %d sheets, bound %d, and %d is the least", seed, g.Sheets, g.LeastSheets, want)
		}
		if g.Sheets > want {
			more++
		}
		if g.LeastSheets == want {
			tight++
		}
	}
	t.Logf("%d jobs: %d with more sheets than the least, %d with a bound that is reached", jobs, more, tight)
	if more*100 > jobs {
		t.Errorf("%d of %d jobs take more sheets than the least", more, jobs)
	}
}

// leasts are the fewest trays, the least area and the least price on which all parts lie, each for itself, by
// trying all ways to deal them out.
func leasts(rects []rect, trays []tray) (n int, area, price float64, ok bool) {
	n, area, price = len(trays)+1, math.Inf(1), math.Inf(1)
	dealt := make([][]rect, len(trays))
	var try func(i int)
	try = func(i int) {
		if i == len(rects) {
			its, a, p := 0, 0.0, 0.0
			for k, t := range trays {
				if len(dealt[k]) > 0 {
					its, a, p = its+1, a+t.area, p+t.price
				}
			}
			n, area, price, ok = min(n, its), min(area, a), min(price, p), true
			return
		}
		for k := range trays {
			old := dealt[k]
			if k > 0 && len(old) == 0 && trays[k] == trays[k-1] && len(dealt[k-1]) == 0 {
				continue // it is as the one before
			}
			if now := append(slices.Clip(old), rects[i]); trays[k].holds(now) {
				dealt[k] = now
				try(i + 1)
				dealt[k] = old
			}
		}
	}
	try(0)
	return n, area, price, ok
}

// TestBoundsHold holds bounds of small jobs, with offcuts, prices, a margin and sheets that are larger than the bed,
// against all ways to lay them, also such as no saw makes: nothing is better than a bound, and no result than what is possible.
func TestBoundsHold(t *testing.T) {
	const scale = 40 // mm, so that little hangs over
	jobs, sawn, turned, reached := foretest.Sample(400, 80), 0, 0, 0
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 41))
		margin, gap := r.IntN(2), r.IntN(3)
		w, h := 5+r.IntN(6), 4+r.IntN(5)
		bedW, bedH := 3+r.IntN(8), 3+r.IntN(8)
		near := gap
		if w > bedW && w > bedH || h > bedW && h > bedH || w > bedW && h > bedW || w > bedH && h > bedH {
			near = min(gap, 2*margin) // parts on both sides of a saw's line are two margins apart
		}
		stock := func(w, h int) (sheet.Stock, tray) {
			s := sheet.Stock{Width: float64(w) * scale, Height: float64(h) * scale, Margin: float64(margin) * scale, Spacing: float64(gap) * scale, Bed: maybe.Is(geom.Pt(float64(bedW)*scale, float64(bedH)*scale))}
			return s, tray{w: w - 2*margin + near, h: h - 2*margin + near}
		}
		whole, its := stock(w, h)
		its.area, its.price = whole.Width*whole.Height, float64(1+r.IntN(9))
		whole.Price = maybe.Is(its.price)
		job := sheet.Job{Stocks: []sheet.Stock{whole}}
		var rects []rect
		var trays []tray
		for i := range 1 + r.IntN(4) {
			p := rect{1 + r.IntN(4), 1 + r.IntN(4), r.IntN(2) == 0}
			part := sheet.Part{Name: fmt.Sprint(i), Width: float64(p.w) * scale, Height: float64(p.h) * scale, Count: 1}
			if p.turn {
				part.Turns = sheet.QuarterTurn
			}
			job.Parts = append(job.Parts, part)
			rects, trays = append(rects, rect{p.w + near, p.h + near, p.turn}), append(trays, its)
		}
		for range r.IntN(3) { // no larger than a sheet, so that none is sawn where that isn't
			o, its := stock(2+r.IntN(w-1), 2+r.IntN(h-1))
			o.Offcut, o.Count = true, maybe.Is(1)
			if r.IntN(2) == 0 && its.w > 1 && its.h > 1 {
				its.goneW, its.goneH = 1+r.IntN(its.w-1), 1+r.IntN(its.h-1)
				o.Gone, o.Corner = geom.Pt(float64(its.goneW)*scale, float64(its.goneH)*scale), sheet.Corner(r.IntN(4))
			}
			its.area = o.Width*o.Height - o.Gone.X*o.Gone.Y
			job.Stocks, trays = append(job.Stocks, o), append(trays, its)
		}
		result, err := sheet.Lay(context.Background(), job, sheet.Options{Effort: 0.002, Seed: seed})
		if err != nil {
			continue // a part is too large
		}
		for _, wrong := range check(job, result) {
			t.Errorf("job %d: %s", seed, wrong)
		}
		n, area, price, ok := leasts(rects, trays)
		g := result.Groups[0]
		least, err := sheet.Least(job)
		foretest.Must(t, err)
		if !ok || least[0].LeastSheets > n || g.LeastSheets > n || g.Sheets < n || g.LeastArea > area+1e-9 || least[0].LeastArea > area+1e-9 || g.Area < area-1e-9 || g.LeastCost.Or(0) > price+1e-9 || least[0].LeastCost.Or(0) > price+1e-9 || g.Cost.Or(0) < price-1e-9 {
			t.Errorf("job %d: %+v, bound %+v, and at the least it's %d, %g mm² for %g", seed, g, least[0], n, area, price)
		}
		if len(result.Sawn) > 0 {
			sawn++
		}
		for _, s := range result.Sheets {
			if s.Quarter {
				turned++
			}
		}
		if g.LeastSheets == n {
			reached++
		}
	}
	t.Logf("%d jobs: %d with sheets that are sawn, %d pieces turned, %d with a bound that is reached", jobs, sawn, turned, reached)
	if sawn == 0 || turned == 0 {
		t.Error("no sheet is sawn or turned")
	}
}

// TestSmallStrips holds small strips against all ways to lay them.
func TestSmallStrips(t *testing.T) {
	strips, longer := foretest.Sample(300, 60), 0
	for seed := range uint64(strips) {
		r := rand.New(rand.NewPCG(seed, 21))
		w := 5 + r.IntN(4)
		var rects []rect
		var parts []sheet.Part
		for i := range 2 + r.IntN(4) {
			p := rect{1 + r.IntN(w), 1 + r.IntN(5), r.IntN(2) == 0}
			rects = append(rects, p)
			part := sheet.Part{Name: fmt.Sprint(i), Width: float64(p.w), Height: float64(p.h), Count: 1}
			if p.turn {
				part.Turns = sheet.QuarterTurn
			}
			parts = append(parts, part)
		}
		band, err := sheet.Strip(context.Background(), parts, float64(w), 0, sheet.Options{Effort: 0.0005, Seed: seed})
		foretest.Must(t, err)
		want := 1
		for !fitsIn(rects, w, want) {
			want++
		}
		if band.Length < float64(want)-eps || band.Least > float64(want)+eps {
			t.Errorf("strip %d: %g long, bound %g, and %d is the least", seed, band.Length, band.Least, want)
		}
		if band.Length > float64(want)+eps {
			longer++
		}
	}
	t.Logf("%d strips, %d longer than the least", strips, longer)
	if longer*50 > strips {
		t.Errorf("%d of %d strips are longer than the least", longer, strips)
	}
}
