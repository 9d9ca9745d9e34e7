package sheet

import (
	"cmp"
	"math"
	"slices"
)

// bounds are what no plan goes below.
type bounds struct {
	sheets int
	area   int64 // mm²
	value  int64 // as bins count it
}

// bound works the bounds out: by the area that parts take with the least spacing, and by how many sheets there must be.
func (g *group) bound() bounds {
	items, total := g.smallest()
	var b bounds
	b.sheets = max(g.sheetsByArea(total), g.sheetsBySides(items))
	b.area = g.cheapest(total, b.sheets, func(b *bin) int64 { return int64(g.job.Stocks[b.stock].area()) })
	b.value = g.cheapest(total, b.sheets, func(b *bin) int64 { return b.value })
	return b
}

// An item is a part, so many times, as small as it may be taken for a bound.
type item struct {
	size
	count int
}

// smallest are the parts with the least spacing, which plain parts that can share a cut don't need, and
// their area.
func (g *group) smallest() (items []item, total int64) {
	gap := int64(math.MaxInt64)
	for _, b := range g.bins {
		gap = min(gap, b.boundGap())
	}
	for _, q := range g.want {
		part := g.kinds[q.kind].part
		p := g.job.Parts[part]
		own := gap
		if g.shares(part) {
			own = 0
		}
		z := size{w: never, h: never, tw: never, th: never}
		for _, b := range g.bins {
			s := sizeOn(p, g.job.Stocks[b.stock], own)
			z = size{min(z.w, s.w), min(z.h, s.h), min(z.tw, s.tw), min(z.th, s.th)}
		}
		if whole(p.Width) == whole(p.Height) && z.w == never {
			z.w, z.h = z.tw, z.th
		}
		items = append(items, item{z, q.count})
		total += (whole(p.Width) + own) / unit * ((whole(p.Height) + own) / unit) * int64(q.count)
	}
	return items, total
}

// sheetsByArea is on how many sheets the parts could lie if they could be poured.
func (g *group) sheetsByArea(total int64) (n int) {
	rooms := slices.Clone(g.bins)
	slices.SortStableFunc(rooms, func(a, b *bin) int { return cmp.Compare(b.bound(), a.bound()) })
	for _, b := range rooms {
		if total <= 0 {
			break
		}
		k := min(int64(b.left), (total+b.bound()-1)/b.bound())
		n += int(k)
		total -= k * b.bound()
	}
	return n
}

// bound is the room of a bin, uncut, rounded up.
func (b *bin) bound() int64 {
	r := b.uncut
	return max(1, (r.w/unit+1)*(r.h/unit+1)-min(r.goneW, r.w)/unit*(min(r.goneH, r.h)/unit))
}

// mostThresholds is how many thresholds a side is tried with.
const mostThresholds = 24

// sheetsBySides is how many sheets the parts need by their sides: parts wider than what a threshold leaves count as
// wide as the sheet, as nothing that counts has room beside them, and what is below it counts nothing.
// S. Martello, D. Vigo, "Exact Solution of the Two-Dimensional Finite Bin Packing Problem", Management Science, 1998;
// as dual feasible functions: S. P. Fekete, J. Schepers, "A General Framework for Bounds for Higher-Dimensional
// Orthogonal Packing Problems", Mathematical Methods of Operations Research, 2004.
func (g *group) sheetsBySides(items []item) int {
	var w, h int64
	for _, b := range g.bins {
		w, h = max(w, b.uncut.w), max(h, b.uncut.h)
	}
	most := 0
	ws, hs := thresholds(items, w), thresholds(items, h)
	for _, e := range ws {
		for _, f := range hs {
			var sum int64
			for _, it := range items {
				least := int64(math.MaxInt64)
				for _, z := range [2][2]int64{{it.w, it.h}, {it.tw, it.th}} {
					if z[0] <= w && z[1] <= h {
						least = min(least, counted(z[0], w, e)/unit*(counted(z[1], h, f)/unit))
					}
				}
				if least < math.MaxInt64 {
					sum += least * int64(it.count)
				}
			}
			full := (w/unit + 1) * (h/unit + 1)
			most = max(most, int((sum+full-1)/full))
		}
	}
	return most
}

func counted(x, whole, threshold int64) int64 {
	switch {
	case x > whole-threshold:
		return whole
	case x < threshold:
		return 0
	}
	return x
}

// thresholds are 0 and some of the sides up to half of the whole.
func thresholds(items []item, whole int64) []int64 {
	all := []int64{0, whole / 2}
	for _, it := range items {
		for _, x := range []int64{it.w, it.h, it.tw, it.th, whole - it.w, whole - it.h, whole - it.tw, whole - it.th} {
			if x > 0 && x <= whole/2 {
				all = append(all, x)
			}
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	if n := len(all); n > mostThresholds {
		some := make([]int64, mostThresholds)
		for i := range some {
			some[i] = all[i*(n-1)/(mostThresholds-1)]
		}
		all = some
	}
	return all
}

// mostNodes is how many cases are looked at for the cheapest sheets that cover an area.
const mostNodes = 20_000

// cheapest is the least that sheets with room for an area cost, which are no fewer than so many.
func (g *group) cheapest(total int64, sheets int, value func(*bin) int64) int64 {
	bins := slices.Clone(g.bins)
	slices.SortStableFunc(bins, func(a, b *bin) int { return cmp.Compare(value(a), value(b)) })
	var byNumber int64
	for _, b := range bins {
		k := min(sheets, b.left)
		byNumber += int64(k) * value(b)
		sheets -= k
	}
	slices.SortStableFunc(bins, func(a, b *bin) int {
		return cmp.Compare(float64(value(a))/float64(a.bound()), float64(value(b))/float64(b.bound()))
	})
	c := cover{bins: bins, value: value, best: math.MaxInt64}
	c.look(0, total, 0)
	byArea := c.best
	if c.nodes > mostNodes || byArea == math.MaxInt64 {
		byArea = c.poured(0, total)
	}
	return max(byNumber, byArea)
}

// A cover looks for the cheapest sheets with room for an area by branch and bound.
type cover struct {
	bins  []*bin
	value func(*bin) int64
	best  int64
	nodes int
}

func (c *cover) look(i int, total, spent int64) {
	if c.nodes++; c.nodes > mostNodes {
		return
	}
	if total <= 0 {
		c.best = min(c.best, spent)
		return
	}
	if i == len(c.bins) || spent+c.poured(i, total) >= c.best {
		return
	}
	b := c.bins[i]
	most := min(int64(b.left), (total+b.bound()-1)/b.bound())
	for k := most; k >= 0 && c.nodes <= mostNodes; k-- {
		c.look(i+1, total-k*b.bound(), spent+k*c.value(b))
	}
}

// poured is what the area costs if sheets can be bought by their area.
func (c *cover) poured(i int, total int64) int64 {
	sum := int64(0)
	for _, b := range c.bins[i:] {
		if total <= 0 {
			break
		}
		k := min(int64(b.left), total/b.bound())
		sum += k * c.value(b)
		total -= k * b.bound()
		if total > 0 && k < int64(b.left) {
			// Part of one more; rounded down, so that it stays a bound.
			return sum + int64(float64(c.value(b))*(float64(total)/float64(b.bound())))
		}
	}
	return sum
}
