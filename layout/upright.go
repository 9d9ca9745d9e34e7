package layout

import (
	"context"
	"math"
	"slices"

	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// mostUpright is about how often a result's sheets are laid anew to turn fewer pieces.
const mostUpright = 64

// upright lays each sheet of a result anew where pieces lie turned on it that could lie as they are drawn: with as few
// of them turned as is found. The job is the one in which these aren't turned.
func upright(ctx context.Context, job sheet.Job, result *sheet.Result, effort float64) {
	if effort == 0 {
		effort = 1
	}
	tries := max(1, mostUpright/len(result.Sheets))
	for i := range result.Sheets {
		u := uprightSheet{ctx: ctx, job: job, sheet: &result.Sheets[i], effort: effort / 20, tries: tries}
		u.lay()
	}
}

// An uprightSheet is one sheet whose pieces are laid anew.
type uprightSheet struct {
	ctx    context.Context
	job    sheet.Job
	sheet  *sheet.Sheet
	effort float64
	tries  int
}

// sizeOf is how large a part is, so that those that may lie in each other's places are equal.
func (u *uprightSheet) sizeOf(part int) geom.Point {
	p := u.job.Parts[part]
	return geom.Pt(math.Round(p.Width*1e6), math.Round(p.Height*1e6))
}

// lay takes sizes in turn, and lets as few of each be turned as have to be.
func (u *uprightSheet) lay() {
	turned, sizes := map[geom.Point]int{}, []geom.Point(nil)
	for _, at := range u.sheet.Placements {
		if at.Turn != 0 && u.job.Parts[at.Part].Turns == sheet.AsDrawn {
			size := u.sizeOf(at.Part)
			if turned[size]++; turned[size] == 1 {
				sizes = append(sizes, size)
			}
		}
	}
	if len(sizes) == 0 || u.sheet.Quarter || u.try(nil) {
		return // one that lies on the bed turned has them upright there
	}
	for _, size := range sizes {
		was := turned[size]
		for n := range was {
			if turned[size] = n; u.try(turned) {
				break
			}
			turned[size] = was
		}
	}
}

// try lays the sheet with so many of each size that may be turned.
func (u *uprightSheet) try(turned map[geom.Point]int) bool {
	if u.tries--; u.tries < 0 || u.ctx.Err() != nil {
		return false
	}
	one, piece := u.job.Stocks[u.sheet.Stock], u.sheet.Piece
	one.Count, one.Bed = maybe.Is(1), maybe.Of[geom.Point]{}
	one.Width, one.Height, one.Gone, one.Corner = piece.Width(), piece.Height(), piece.Gone, piece.Corner
	its := sheet.Job{Stocks: []sheet.Stock{one}}
	parts := make([]int, len(u.sheet.Placements))
	for i, at := range u.sheet.Placements {
		parts[i] = at.Part
	}
	slices.Sort(parts)
	met := map[geom.Point]int{}
	for _, part := range parts {
		p := u.job.Parts[part]
		if size := u.sizeOf(part); p.Turns == sheet.AsDrawn && met[size] < turned[size] {
			p.Turns = sheet.QuarterTurn
			met[size]++
		}
		its.Parts = append(its.Parts, p)
	}
	again, err := sheet.Lay(u.ctx, its, sheet.Options{Effort: u.effort, LeastLeft: leastLeft})
	if err != nil || again.Stopped {
		return false
	}
	fresh := again.Sheets[0]
	if sharedOn(&fresh) < sharedOn(u.sheet)-geom.Tol { // a cut that is spared counts more
		return false
	}
	for i := range fresh.Placements {
		fresh.Placements[i].Part = parts[fresh.Placements[i].Part]
	}
	fresh.Stock, fresh.Number, fresh.Piece = u.sheet.Stock, u.sheet.Number, piece
	*u.sheet = fresh
	return true
}

// sharedOn is how long the cuts are that parts of a sheet share, in mm.
func sharedOn(s *sheet.Sheet) (length float64) {
	for _, c := range s.Shared {
		length += c.From.Distance(c.To)
	}
	return length
}
