package sheet

import "slices"

// A kind is what is laid as one: a part, or a block of equal parts whose cuts fall
// together.
type kind struct {
	part int
	// cols and rows are how many parts stand side by side and one above the other, as drawn.
	cols, rows int
	// parts are so many, row by row as they lie: fewer may be missing at the end than stand in a row or a column.
	parts int
	area  int64 // of its parts
}

// kindOf gives the index of a kind, made if it is new.
func (g *group) kindOf(part, cols, rows, parts int) int {
	key := [4]int{part, cols, rows, parts}
	if i, ok := g.index[key]; ok {
		return i
	}
	p := g.job.Parts[part]
	w, h := whole(p.Width), whole(p.Height)
	g.kinds = append(g.kinds, kind{part, cols, rows, parts, w / unit * (h / unit) * int64(parts)})
	p.Width, p.Height = mm(w*int64(cols)), mm(h*int64(rows))
	for _, b := range g.bins {
		s := sizeOn(p, g.job.Stocks[b.stock], b.gap)
		if cols*rows > 1 && (!b.shared || b.knife) {
			s = size{never, never, never, never}
		}
		b.sizes = append(b.sizes, s)
	}
	g.index[key] = len(g.kinds) - 1
	return len(g.kinds) - 1
}

// shares reports whether parts of a kind may be cut together.
func (g *group) shares(part int) bool {
	return g.job.Parts[part].Plain && slices.ContainsFunc(g.bins, func(b *bin) bool { return b.shared && !b.knife })
}

// largestShares is how many parts a block may have at the most.
const largestShares = 20_000

// blocks divides so many equal parts into blocks no wider and higher than cols and rows.
func (g *group) blocks(part, count, cols, rows int) (runs []run) {
	if n := count / (cols * rows); n > 0 {
		runs = append(runs, run{kind: g.kindOf(part, cols, rows, cols*rows), count: n})
		count -= n * cols * rows
	}
	if count > 0 {
		cols, rows = g.blockOf(part, count, cols, rows)
		runs = append(runs, run{kind: g.kindOf(part, cols, rows, count), count: 1})
	}
	return runs
}

// blockOf is how many parts stand side by side and one above the other in the block of so many that spares most,
// no wider and higher than cols and rows; 0 by 0 where no bin has room for one.
func (g *group) blockOf(part, count, cols, rows int) (c, r int) {
	most := int64(-1)
	for wide := 1; wide <= cols; wide++ {
		high := (count + wide - 1) / wide
		if high > rows || wide*high-count >= high || !g.fitsBlock(part, wide, high) { // as high with fewer side by side
			continue
		}
		if n := g.savedBy(kind{part: part, cols: wide, rows: high, parts: count}); n > most {
			c, r, most = wide, high, n
		}
	}
	return c, r
}

// grid is how many parts of a kind fit in a bin side by side and one above the other, as drawn.
func (g *group) grid(part int) (cols, rows int) {
	cols, rows = 1, 1
	p := g.job.Parts[part]
	for _, b := range g.bins {
		if !b.shared || b.knife {
			continue
		}
		s := sizeOn(p, g.job.Stocks[b.stock], b.gap)
		w, h := whole(p.Width), whole(p.Height)
		for i := range b.ways {
			for _, r := range b.ways[i].rooms {
				if s.w <= r.w && s.h <= r.h {
					cols, rows = max(cols, int((r.w-b.gap)/w)), max(rows, int((r.h-b.gap)/h))
				}
				if s.tw <= r.w && s.th <= r.h {
					cols, rows = max(cols, int((r.h-b.gap)/w)), max(rows, int((r.w-b.gap)/h))
				}
			}
		}
	}
	return cols, rows
}

// fitsBlock reports whether some bin has room for a block.
func (g *group) fitsBlock(part, cols, rows int) bool {
	p := g.job.Parts[part]
	p.Width, p.Height = mm(whole(p.Width)*int64(cols)), mm(whole(p.Height)*int64(rows))
	return slices.ContainsFunc(g.bins, func(b *bin) bool {
		return (cols*rows == 1 || b.shared && !b.knife) && b.fits(sizeOn(p, g.job.Stocks[b.stock], b.gap))
	})
}

// together are blocks of so many equal parts: one if that has room, or else as large as fit, up to a limit.
func (g *group) together(part, count, limit int) []run {
	cols, rows := g.grid(part)
	most := min(limit, largestShares)
	if count <= most {
		if c, r := g.blockOf(part, count, cols, rows); c > 0 {
			return g.blocks(part, count, c, r)
		}
	}
	for cols*rows > min(count, most) || !g.fitsBlock(part, cols, rows) {
		if cols == 1 && rows == 1 {
			break
		}
		if cols > rows {
			cols--
		} else {
			rows--
		}
	}
	return g.blocks(part, count, cols, rows)
}
