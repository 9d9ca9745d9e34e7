package layout

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sort"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// A Wasteful is how parts of a stock lie that each take a whole sheet, though two would lie on
// one, or all on fewer, if the stock said less of how far they are to stay apart.
type Wasteful struct {
	Parts int // that lie alone; 0 where none do for this
	// Margin and Spacing, in mm, are with which they would lie so; absent where the
	// stock's own does.
	Margin, Spacing maybe.Of[float64]
	Tight           bool // they leave no margin
	// Sheets is how many are taken, 0 where it is only said that two of the parts would lie on one;
	// Fewer is how many would be, 0 where offcuts would do.
	Sheets, Fewer int
}

// ample is a margin and a spacing, in mm, with which nobody is short of room on a sheet
// (common practice, no source).
const ample = 20

// leastMargin is the least margin or spacing in mm that is named to a maker (common practice, no source).
const leastMargin = 1

// wasteful looks for parts that lie alone though less margin or spacing would let two of
// them lie on a sheet, or all of the pieces on fewer.
func wasteful(ctx context.Context, pieces []laid, pages []page, supply Supply) Wasteful {
	var alone []page
	for _, p := range pages {
		if p.offcut == whole && p.sawn == nil && p.number != noSheet && len(p.pieces) == 1 {
			alone = append(alone, p)
		}
	}
	if w := pairs(alone, supply); w.Parts > 0 {
		return w
	}
	if len(alone) == 0 || len(pages) == 1 || supply.Quiet.Has("lies-alone") {
		return Wasteful{}
	}
	return crowded(ctx, pieces, alone, supply.taken(pages).Sheets, supply)
}

// mostCrowded is up to how many pieces the largest margin or spacing is sought that would do; of more only
// the least is tried.
const mostCrowded = 500

// crowded looks for the largest margin, or else spacing, or else both, with which pieces of which some lie alone
// take fewer sheets.
func crowded(ctx context.Context, pieces []laid, alone []page, sheets int, supply Supply) (w Wasteful) {
	fewer := func(margin, spacing float64) bool {
		its := supply
		its.Margin, its.Spacing = margin, spacing
		pages, _, err := place(ctx, slices.Clone(pieces), its, Search{Effort: -1, KeepBest: true})
		n := its.taken(pages).Sheets
		if err == nil && n < sheets {
			w.Fewer = n
		}
		return err == nil && n < sheets && ctx.Err() == nil
	}
	margin, spacing := supply.Margin, supply.Spacing
	leastSpacing := min(leastMargin, spacing)
	if supply.Way.Knife.Yes {
		leastSpacing = spacing // so wide is its cut
	}
	least := min(max(leastMargin, supply.blade()/2), margin)
	if least == margin && leastSpacing == spacing || !fewer(least, leastSpacing) {
		return Wasteful{}
	}
	steps := 0 // from the least to what is stated
	if len(pieces) <= mostCrowded {
		steps = 2 * int(max(margin, spacing))
	}
	// at is a length so many steps above the least.
	at := func(least, stated float64, k int) float64 {
		return min(stated, max(least, math.Floor(2*(least+(stated-least)*float64(k)/float64(max(1, steps))))/2))
	}
	for _, try := range []func(k int) (margin, spacing float64){
		func(k int) (float64, float64) { return at(least, margin, k), spacing },
		func(k int) (float64, float64) { return margin, at(leastSpacing, spacing, k) },
		func(k int) (float64, float64) { return at(least, margin, k), at(leastSpacing, spacing, k) },
	} {
		m, s := try(0)
		if (m != margin || s != spacing) && fewer(m, s) {
			k := sort.Search(steps, func(k int) bool { return !fewer(try(k + 1)) })
			m, s = try(k)
			fewer(m, s)
			w.Parts, w.Sheets = len(alone), sheets
			w.Margin, w.Spacing = maybe.If(m, m < margin), maybe.If(s, s < spacing)
			w.Tight = !slices.ContainsFunc(alone, func(p page) bool { return p.pieces[0].needs(p.size) >= margin-geom.Tol })
			return w
		}
	}
	return Wasteful{}
}

// pairs looks for parts that lie alone though half of a large margin or spacing would let two of them lie on a
// sheet, or a smaller margin than one that none of them leaves.
func pairs(alone []page, supply Supply) (w Wasteful) {
	margin, spacing := less(supply.Margin, sheetMargin), less(supply.Spacing, Spacing)
	for i := 1; i < len(alone); i++ {
		a, b, size := alone[i-1].pieces[0], alone[i].pieces[0], alone[i].size
		two := func(margin, spacing float64) bool { return fit(a, b, size, margin, spacing) }
		tight := max(a.needs(size), b.needs(size))
		its := Wasteful{Parts: w.Parts + 1}
		switch trial := math.Floor(2*tight) / 2; {
		case two(supply.Margin, supply.Spacing): // the search has found no better
			continue
		case two(margin, supply.Spacing):
			its.Margin = maybe.Is(margin)
		case two(supply.Margin, spacing):
			its.Spacing = maybe.Is(spacing)
		case two(margin, spacing):
			its.Margin, its.Spacing = maybe.Is(margin), maybe.Is(spacing)
		case trial < supply.Margin && trial >= leastMargin && two(trial, supply.Spacing):
			its.Margin, its.Tight = maybe.Is(trial), true
		default:
			continue
		}
		if w.Parts > 0 {
			its.Margin, its.Spacing, its.Tight = w.Margin, w.Spacing, w.Tight
		} else {
			its.Parts++
		}
		w = its
	}
	return w
}

// less is half of what a stock states, and no more than is ample, where that is still no less
// than the usual; else what it states.
func less(stated, usual float64) float64 {
	if trial := min(stated/2, ample); trial >= usual {
		return trial
	}
	return stated
}

// needs is the largest margin in mm that a piece, as it lies, can leave on a sheet.
func (l *laid) needs(size geom.Point) float64 {
	box := l.box()
	return min(size.X-box.Width(), size.Y-box.Height()) / 2
}

// fit reports whether two pieces, as they lie or turned if they may be, find room side by side or
// one above the other.
func fit(a, b laid, size geom.Point, margin, spacing float64) bool {
	room := size.Sub(geom.Pt(2*margin-geom.Tol, 2*margin-geom.Tol))
	for _, x := range a.ways() {
		for _, y := range b.ways() {
			if x.X+spacing+y.X <= room.X && max(x.Y, y.Y) <= room.Y || x.Y+spacing+y.Y <= room.Y && max(x.X, y.X) <= room.X {
				return true
			}
		}
	}
	return false
}

// ways are the sizes of a piece as it lies and, if it may be turned, turned by a quarter.
func (l *laid) ways() []geom.Point {
	box := l.box()
	as := geom.Pt(box.Width(), box.Height())
	if l.turns {
		return []geom.Point{as, geom.Pt(as.Y, as.X)}
	}
	return []geom.Point{as}
}

// A Twice is how often edges of two parts of a stock lie on one line, which the laser cuts for
// each of them; A and B are the first two of which it is so.
type Twice struct {
	Times int
	A, B  string
}

// stretch is a straight piece of an edge, upright or level.
type stretch struct {
	part         int
	level        bool
	at, from, to float64
}

// leastTwice is how long in mm a stretch is that counts as cut twice.
const leastTwice = 1

// addTwice adds the lines that are cut twice on a sheet: those of two parts that lie within
// the width of the cut. Parts that share cuts have one edge, which goes round them.
func (t *Twice) addTwice(s *Sheet) {
	var all []stretch
	for i, p := range s.Outer.Parts {
		if k := p.edge(); k >= 0 && p.Shapes[k].Runs() {
			all = append(all, stretches(p.Shapes[k].Figure, i)...)
		}
	}
	slices.SortStableFunc(all, func(a, b stretch) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.part, b.part)) })
	seen := map[[2]int]bool{}
	first := [2]int{len(s.Outer.Parts), 0}
	var on [2]stretch // those of the first two, as long as they run beside each other
	for i, a := range all {
		for _, b := range all[i+1:] {
			p, q := &s.Outer.Parts[a.part], &s.Outer.Parts[b.part]
			if b.at-a.at > geom.Tol && b.at-a.at >= min(p.Kerf, q.Kerf)-geom.Tol {
				break
			}
			pair := [2]int{min(a.part, b.part), max(a.part, b.part)}
			if a.part == b.part || a.level != b.level || min(a.to, b.to)-max(a.from, b.from) < leastTwice || seen[pair] {
				continue
			}
			if seen[pair] = true; slices.Compare(pair[:], first[:]) < 0 {
				from, to := max(a.from, b.from), min(a.to, b.to)
				first, on = pair, [2]stretch{{a.part, a.level, a.at, from, to}, {b.part, b.level, b.at, from, to}}
				if a.part > b.part {
					on[0], on[1] = on[1], on[0]
				}
			}
		}
	}
	if t.Times == 0 && len(seen) > 0 {
		t.A, t.B = s.edged(on[0]), s.edged(on[1])
	}
	t.Times += len(seen)
}

// edged is the part whose edge a stretch is: of the outline of parts that share cuts the first of these that it
// goes along.
func (s *Sheet) edged(a stretch) string {
	of := &s.Outer.Parts[a.part]
	if !of.Common {
		return of.Name
	}
	round := of.Shapes[of.edge()].Figure.Bounds().Grow(geom.Tol)
	along := func(b stretch) bool {
		return b.level == a.level && math.Abs(b.at-a.at) <= geom.Tol && min(a.to, b.to)-max(a.from, b.from) >= leastTwice
	}
	for i := range s.Outer.Parts {
		p := &s.Outer.Parts[i]
		if k := p.edge(); k >= 0 && p.Shapes[k].Run == Together {
			if f := p.Shapes[k].Figure; round.Holds(f.Bounds()) && slices.ContainsFunc(stretches(f, i), along) {
				return p.Name
			}
		}
	}
	return of.Name
}

// stretches are the straight pieces of a figure that are upright or level.
func stretches(f geom.Figure, part int) (all []stretch) {
	for _, path := range geom.Paths(f) {
		from := path.Start
		for _, s := range path.Segments {
			if s.Kind == geom.LineTo && math.Abs(from.X-s.End.X) < geom.Tol {
				all = append(all, stretch{part, false, from.X, min(from.Y, s.End.Y), max(from.Y, s.End.Y)})
			} else if s.Kind == geom.LineTo && math.Abs(from.Y-s.End.Y) < geom.Tol {
				all = append(all, stretch{part, true, from.Y, min(from.X, s.End.X), max(from.X, s.End.X)})
			}
			from = s.End
		}
	}
	return all
}
