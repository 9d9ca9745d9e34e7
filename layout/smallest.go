package layout

import (
	"cmp"
	"context"
	"slices"

	"foredge/layout/nest"
)

// mostExchanged is for how many offcuts, and on how many of each, what lies on one by its outlines is tried.
const mostExchanged = 8

// onSmallest lays what lies on each offcut, those on the largest first, on the smallest of the unused ones that is found to hold
// it by its outlines.
func onSmallest(ctx context.Context, job nest.Job, trays []tray, stocks []nest.Stock, sheets []nest.Sheet) {
	used := map[int]bool{}
	for _, s := range sheets {
		used[s.Stock] = true
	}
	size := func(stock int) float64 {
		gone := trays[stock].way.Pieces[0].Gone
		return stocks[stock].Width*stocks[stock].Height - gone.X*gone.Y
	}
	whole := func(stock int) bool { return stocks[stock].Cost == 0 && len(trays[stock].way.Pieces) == 1 }
	bySize := func(a, b int) int { return cmp.Compare(size(a), size(b)) }
	var order, unused []int
	for i, s := range sheets {
		if whole(s.Stock) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return bySize(sheets[j].Stock, sheets[i].Stock) })
	for stock := range trays {
		if whole(stock) && !used[stock] {
			unused = append(unused, stock)
		}
	}
	slices.SortStableFunc(unused, bySize)
	for _, i := range order[:min(len(order), mostExchanged)] {
		s := &sheets[i]
		its, of := job, []int(nil)
		its.Parts, its.Steps = nil, job.Steps/mostExchanged
		for _, at := range s.Placements {
			its.Parts, of = append(its.Parts, job.Parts[at.Part]), append(of, at.Part)
		}
		for k, stock := range unused[:min(len(unused), mostExchanged)] {
			if size(stock) >= size(s.Stock) {
				break
			}
			found, err := nest.Sheets(ctx, its, []nest.Stock{stocks[stock]})
			if err != nil || found.Stopped {
				continue
			}
			fresh := found.Sheets[0]
			for j := range fresh.Placements {
				fresh.Placements[j].Part = of[fresh.Placements[j].Part]
			}
			unused[k] = s.Stock
			slices.SortStableFunc(unused, bySize)
			fresh.Stock, fresh.Number = stock, s.Number
			*s = fresh
			break
		}
	}
	slices.SortStableFunc(sheets, func(a, b nest.Sheet) int { return cmp.Compare(a.Stock, b.Stock) })
}
