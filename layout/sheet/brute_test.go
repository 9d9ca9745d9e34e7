package sheet_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/sheet"
)

// A rect is a part in whole millimetres, and whether it may be turned.
type rect struct {
	w, h int
	turn bool
}

// fitsIn reports whether all of some parts fit in a rectangle, by trying each part at each place.
func fitsIn(rects []rect, w, h int) bool {
	grid := make([]bool, w*h)
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
