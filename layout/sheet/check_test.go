package sheet_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// eps is what the checker forgives, in mm: a sum of rounded sizes.
const eps = 2e-6

// A checker holds a result against its job, by the definitions alone; it shares
// nothing with the package but the types.
type checker struct {
	job    sheet.Job
	result *sheet.Result
	wrong  []string
}

func check(job sheet.Job, result *sheet.Result) []string {
	c := &checker{job: job, result: result}
	c.counts()
	for i := range result.Sheets {
		c.sheet(i)
	}
	c.sawn()
	c.bounds()
	return c.wrong
}

func (c *checker) fail(format string, args ...any) {
	c.wrong = append(c.wrong, fmt.Sprintf(format, args...))
}

// counts checks that each part lies as often as it was asked for, and that no more stock was used than there is.
func (c *checker) counts() {
	seen := map[[2]int]int{}
	pieces := map[[2]int]int{}
	for _, s := range c.result.Sheets {
		pieces[[2]int{s.Stock, s.Number}]++
		if most, ok := c.job.Stocks[s.Stock].Count.Get(); ok && s.Number >= most {
			c.fail("piece %d of stock %d, of which there are %d", s.Number, s.Stock, most)
		}
		if len(s.Placements) == 0 {
			c.fail("a sheet of stock %d with nothing on it", s.Stock)
		}
		for _, p := range s.Placements {
			seen[[2]int{p.Part, p.Copy}]++
		}
	}
	sawn := map[[2]int]bool{}
	for _, s := range c.result.Sawn {
		sawn[[2]int{s.Stock, s.Number}] = true
	}
	for k, n := range pieces {
		if n != 1 && !sawn[k] {
			c.fail("sheet %d of stock %d is used %d times", k[1], k[0], n)
		}
	}
	total := 0
	for i, p := range c.job.Parts {
		total += p.Count
		for copy := range p.Count {
			if n := seen[[2]int{i, copy}]; n != 1 {
				c.fail("copy %d of part %d lies %d times", copy, i, n)
			}
		}
	}
	if len(seen) > total {
		c.fail("%d placements for %d parts", len(seen), total)
	}
}

// box is what a placement takes, by its transform.
func (c *checker) box(p sheet.Placement) geom.Box {
	part := c.job.Parts[p.Part]
	t := p.Transform()
	b := geom.EmptyBox()
	for _, q := range []geom.Point{{}, geom.Pt(part.Width, 0), geom.Pt(0, part.Height), geom.Pt(part.Width, part.Height)} {
		at := t.Point(q)
		b = b.Union(geom.Box{Min: at, Max: at})
	}
	return b
}

// apart is by how much two boxes are kept apart in the direction in which they are farther.
func apart(a, b geom.Box) float64 {
	return max(a.Min.X-b.Max.X, b.Min.X-a.Max.X, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
}

// gone is the corner that a stock lacks.
func gone(s sheet.Stock) (geom.Box, bool) {
	b := geom.Box{Max: s.Gone}
	switch s.Corner {
	case sheet.RightTop:
		b = geom.Box{Min: geom.Pt(s.Width-s.Gone.X, 0), Max: geom.Pt(s.Width, s.Gone.Y)}
	case sheet.LeftBottom:
		b = geom.Box{Min: geom.Pt(0, s.Height-s.Gone.Y), Max: geom.Pt(s.Gone.X, s.Height)}
	case sheet.RightBottom:
		b = geom.Box{Min: geom.Pt(s.Width-s.Gone.X, s.Height-s.Gone.Y), Max: geom.Pt(s.Width, s.Height)}
	}
	return b, s.Gone.X > 0 && s.Gone.Y > 0
}

// stock is what a piece is cut from, as if it were a sheet.
func (c *checker) stock(s sheet.Sheet) sheet.Stock {
	stock := c.job.Stocks[s.Stock]
	stock.Width, stock.Height, stock.Gone, stock.Corner = s.Width(), s.Height(), s.Gone, s.Piece.Corner
	return stock
}

// sawn saws the sheets that are sawn, cut by cut, and checks that pieces and what is left are what comes
// of it.
func (c *checker) sawn() {
	for _, saw := range c.result.Sawn {
		stock := c.job.Stocks[saw.Stock]
		missing, lacks := gone(stock)
		parts := []geom.Box{{Max: geom.Pt(stock.Width, stock.Height)}}
		for _, cut := range saw.Cuts {
			found := false
			for i, p := range parts {
				one, two := p, p
				switch {
				case cut.From.X == cut.To.X && math.Abs(cut.From.Y-p.Min.Y) < eps && math.Abs(cut.To.Y-p.Max.Y) < eps && cut.From.X > p.Min.X && cut.From.X < p.Max.X:
					one.Max.X, two.Min.X = cut.From.X, cut.From.X
				case cut.From.Y == cut.To.Y && math.Abs(cut.From.X-p.Min.X) < eps && math.Abs(cut.To.X-p.Max.X) < eps && cut.From.Y > p.Min.Y && cut.From.Y < p.Max.Y:
					one.Max.Y, two.Min.Y = cut.From.Y, cut.From.Y
				default:
					continue
				}
				parts, found = append(append(parts[:i:i], parts[i+1:]...), one, two), true
				break
			}
			if !found {
				c.fail("the saw's cut %v goes from edge to edge of nothing", cut)
			}
		}
		var all []geom.Box
		for _, s := range c.result.Sheets {
			if s.Stock == saw.Stock && s.Number == saw.Number {
				all = append(all, s.Box)
			}
		}
		for _, r := range saw.Rest {
			all = append(all, r.Box)
		}
		for i, a := range all {
			within := false
			for _, p := range parts {
				if i >= len(all)-len(saw.Rest) {
					p = narrowed(p, p.Min, stock)
				}
				if lacks {
					p = trim(p, missing)
				}
				within = within || p.Grow(eps).Holds(a)
			}
			if !within {
				c.fail("%v of a sheet of stock %d isn't sawn from it", a, saw.Stock)
			}
			for _, b := range all[:i] {
				if apart(a, b) < -eps {
					c.fail("%v and %v are sawn from one place", a, b)
				}
			}
		}
		nothing := 0 // pieces of which nothing is there
		for _, p := range parts {
			left := narrowed(p, p.Min, stock)
			if min(left.Width(), left.Height()) < eps || lacks && (missing.Grow(eps).Holds(p) || missing.Grow(eps).Holds(left)) {
				nothing++
			}
		}
		if len(all) < len(parts)-nothing {
			c.fail("a sheet of stock %d falls into %d, of which %d are told", saw.Stock, len(parts)-nothing, len(all))
		}
	}
}

func (c *checker) sheet(index int) {
	s := c.result.Sheets[index]
	if of := c.job.Stocks[s.Stock]; !(geom.Box{Max: geom.Pt(of.Width, of.Height)}).Grow(eps).Holds(s.Box) {
		c.fail("sheet %d: %v isn't on its stock", index, s.Piece)
	} else if missing, lacks := gone(of); lacks {
		its, _ := gone(c.stock(s))
		if both := (geom.Box{Min: its.Min.Add(s.Min), Max: its.Max.Add(s.Min)}); apart(s.Box, missing) < -eps && (s.Gone == geom.Point{} || both.Min.Distance(geom.Pt(max(missing.Min.X, s.Min.X), max(missing.Min.Y, s.Min.Y))) > eps || both.Max.Distance(geom.Pt(min(missing.Max.X, s.Max.X), min(missing.Max.Y, s.Max.Y))) > eps) {
			c.fail("sheet %d: of %v %v at %d is gone, of the whole %v", index, s.Box, s.Gone, s.Piece.Corner, missing)
		}
	}
	stock := c.stock(s)
	missing, lacks := gone(stock)
	var boxes []geom.Box
	hull := geom.EmptyBox()
	area := 0.0
	for _, p := range s.Placements {
		part := c.job.Parts[p.Part]
		b := c.box(p)
		boxes = append(boxes, b)
		hull = hull.Union(b)
		area += part.Width * part.Height
		if part.Group != stock.Group {
			c.fail("%s lies on %s", part.Group, stock.Group)
		}
		c.turn(p, part, stock)
		m := stock.Margin - eps
		if b.Min.X < m || b.Min.Y < m || b.Max.X > stock.Width-m || b.Max.Y > stock.Height-m {
			c.fail("sheet %d: %v of part %d is beyond the margin", index, b, p.Part)
		}
		if lacks && apart(b, missing) < m {
			c.fail("sheet %d: %v of part %d is in the corner that is gone %v", index, b, p.Part, missing)
		}
		c.register(p, part, stock)
	}
	if bed, ok := stock.Bed.Get(); ok && (s.Quarter && (s.Width() > bed.Y+eps || s.Height() > bed.X+eps) || !s.Quarter && (s.Width() > bed.X+eps || s.Height() > bed.Y+eps)) {
		c.fail("sheet %d: the piece %v is more than the bed %v", index, s.Piece, bed)
	}
	c.spacing(index, boxes)
	full := stock.Width*stock.Height - stock.Gone.X*stock.Gone.Y
	if math.Abs(s.Used-area/full) > 1e-3 {
		c.fail("sheet %d: %g used, told %g", index, area/full, s.Used)
	}
	c.left(index, boxes)
	if _, ok := stock.Knife.Get(); ok {
		c.knife(index, boxes)
	} else if len(s.Cuts) > 0 {
		c.fail("sheet %d has cuts of a knife", index)
	}
}

// turn checks that a part lies as it and the grain allow.
func (c *checker) turn(p sheet.Placement, part sheet.Part, stock sheet.Stock) {
	switch {
	case p.Turn != 0 && p.Turn != 90 && p.Turn != 180 && p.Turn != 270,
		part.Turns == sheet.AsDrawn && p.Turn != 0, part.Turns == sheet.HalfTurn && p.Turn != 0 && p.Turn != 180:
		c.fail("part %d is turned by %g", p.Part, p.Turn)
	}
	if part.Grain == sheet.NoGrain || stock.Grain == sheet.NoGrain {
		return
	}
	along := part.Grain == sheet.AlongWidth // as it lies: along X
	if p.Turn == 90 || p.Turn == 270 {
		along = !along
	}
	if along != (stock.Grain == sheet.AlongWidth) {
		c.fail("part %d lies across the grain", p.Part)
	}
}

// register checks that a point of the part meets itself from the inside, when part and sheet are turned over.
func (c *checker) register(p sheet.Placement, part sheet.Part, stock sheet.Stock) {
	for _, q := range []geom.Point{geom.Pt(0, 0), geom.Pt(part.Width/3, part.Height/5), geom.Pt(part.Width, part.Height/2)} {
		outside := p.Transform().Point(q)
		inside := p.Inside(stock.Width, part.Width).Transform().Point(geom.Pt(part.Width-q.X, q.Y))
		if outside.Distance(geom.Pt(stock.Width-inside.X, inside.Y)) > 1e-9 {
			c.fail("part %d is out of register: %v outside, %v inside", p.Part, outside, inside)
		}
	}
}

// spacing checks the distance of each two parts; those whose cuts fall together may touch.
func (c *checker) spacing(index int, boxes []geom.Box) {
	s := c.result.Sheets[index]
	stock := c.job.Stocks[s.Stock]
	least := stock.Spacing
	if kerf, ok := stock.Knife.Get(); ok {
		least = kerf
	}
	touching := map[[2]int]bool{}
	for _, sh := range s.Shared {
		a, b := s.Placements[sh.A], s.Placements[sh.B]
		part, other := c.job.Parts[a.Part], c.job.Parts[b.Part]
		if math.Abs(part.Width-other.Width) > eps || math.Abs(part.Height-other.Height) > eps || !other.Plain || a.Turn != b.Turn || !part.Plain || !stock.Shared {
			c.fail("sheet %d: %d and %d can't share a cut", index, sh.A, sh.B)
		}
		touching[[2]int{min(sh.A, sh.B), max(sh.A, sh.B)}] = true
		// The line is a whole side of both.
		for _, box := range []geom.Box{boxes[sh.A], boxes[sh.B]} {
			upright := sh.From.X == sh.To.X
			onSide := math.Abs(sh.From.X-box.Min.X) < eps || math.Abs(sh.From.X-box.Max.X) < eps
			whole := math.Abs(sh.From.Y-box.Min.Y) < eps && math.Abs(sh.To.Y-box.Max.Y) < eps
			if !upright {
				onSide = math.Abs(sh.From.Y-box.Min.Y) < eps || math.Abs(sh.From.Y-box.Max.Y) < eps
				whole = math.Abs(sh.From.X-box.Min.X) < eps && math.Abs(sh.To.X-box.Max.X) < eps
			}
			if !onSide || !whole {
				c.fail("sheet %d: %v isn't a side of %v", index, sh, box)
			}
		}
	}
	block := blocksOf(len(boxes), s.Shared)
	for i, a := range boxes {
		for j, b := range boxes[:i] {
			d := apart(a, b)
			want := least
			if block[i] == block[j] {
				want = 0 // within a block those that meet at a corner share no side
			}
			if d < want-eps {
				c.fail("sheet %d: %v and %v of parts %d and %d are %g apart", index, a, b, s.Placements[i].Part, s.Placements[j].Part, d)
			}
			if touching[[2]int{j, i}] && math.Abs(d) > eps {
				c.fail("sheet %d: %d and %d share a cut and are %g apart", index, i, j, d)
			}
		}
	}
}

// blocksOf names for each part one of those that it hangs together with by shared cuts.
func blocksOf(n int, shared []sheet.Shared) []int {
	block := make([]int, n)
	for i := range block {
		block[i] = i
	}
	for changed := true; changed; {
		changed = false
		for _, s := range shared {
			if m := min(block[s.A], block[s.B]); block[s.A] != m || block[s.B] != m {
				block[s.A], block[s.B], changed = m, m, true
			}
		}
	}
	return block
}

// left checks that what is left is free.
func (c *checker) left(index int, boxes []geom.Box) {
	s := c.result.Sheets[index]
	stock := c.stock(s)
	if missing, ok := gone(stock); ok {
		boxes = append(boxes[:len(boxes):len(boxes)], missing)
	}
	whole := geom.Box{Max: geom.Pt(stock.Width, stock.Height)}
	last := math.Inf(1)
	for i, l := range s.Left {
		if !whole.Grow(eps).Holds(l) {
			c.fail("sheet %d: what is left %v is not on it", index, l)
		}
		for _, b := range append(boxes[:len(boxes):len(boxes)], s.Left[:i]...) {
			if apart(l, b) < -eps {
				c.fail("sheet %d: what is left %v isn't free of %v", index, l, b)
			}
		}
		if a := l.Width() * l.Height(); a > last+1+(l.Width()+l.Height())/100 { // areas count in hundredths of a mm
			c.fail("sheet %d: %v is larger than the one before", index, l)
		} else {
			last = a
		}
	}
}

// bounds checks that what is told of a group adds up and isn't below its bounds.
func (c *checker) bounds() {
	for _, g := range c.result.Groups {
		sheets, area, cost, parts := 0, 0.0, 0.0, 0.0
		seen := map[[2]int]bool{}
		for _, s := range c.result.Sheets {
			stock := c.job.Stocks[s.Stock]
			if stock.Group != g.Name {
				continue
			}
			if k := [2]int{s.Stock, s.Number}; !seen[k] {
				seen[k] = true
				sheets++
				area += stock.Width*stock.Height - stock.Gone.X*stock.Gone.Y
				cost += stock.Price.Or(0)
			}
			for _, p := range s.Placements {
				parts += c.job.Parts[p.Part].Width * c.job.Parts[p.Part].Height
			}
		}
		if g.Sheets != sheets || g.LeastSheets > sheets || math.Abs(g.Area-area) > float64(sheets) || g.LeastArea > area+float64(sheets) {
			c.fail("group %q: %+v, and there are %d sheets of %g mm²", g.Name, g, sheets, area)
		}
		if told, ok := g.Cost.Get(); ok && (math.Abs(told-cost) > 1e-6 || g.LeastCost.Or(0) > cost+1e-6) {
			c.fail("group %q: %+v, and it costs %g", g.Name, g, cost)
		}
		if math.Abs(g.Used-parts/area) > 1e-3 {
			c.fail("group %q: %g used, told %g", g.Name, parts/area, g.Used)
		}
	}
}

// knife makes the cuts one after the other: each divides one piece from edge to edge, and each part is a piece in the end.
func (c *checker) knife(index int, boxes []geom.Box) {
	s := c.result.Sheets[index]
	stock := c.stock(s)
	kerf := stock.Knife.Or(0)
	// A piece with a corner gone is two boxes; a first cut divides it, so it is followed as a box of which a
	// part may lie where nothing is.
	pieces := []geom.Box{{Max: geom.Pt(stock.Width, stock.Height)}}
	missing, lacks := gone(stock)
	for _, cut := range s.Cuts {
		upright := cut.From.X == cut.To.X
		found := false
		if line := (geom.Box{Min: cut.From, Max: cut.To}); lacks && apart(line, missing) < -eps {
			c.fail("sheet %d: the cut %v goes through what is missing", index, cut)
		}
		for i, p := range pieces {
			from, to := p.Min.Y, p.Max.Y
			at, low, high := cut.From.X, p.Min.X, p.Max.X
			a, b := cut.From.Y, cut.To.Y
			if !upright {
				from, to = p.Min.X, p.Max.X
				at, low, high = cut.From.Y, p.Min.Y, p.Max.Y
				a, b = cut.From.X, cut.To.X
			}
			if at < low-eps || at > high+eps || b < from+eps || a > to-eps {
				continue // its line isn't on the piece
			}
			edges := math.Abs(a-from) < eps && math.Abs(b-to) < eps
			if !edges && lacks { // one end may be where the corner is gone
				g0, g1 := missing.Min.Y, missing.Max.Y
				if !upright {
					g0, g1 = missing.Min.X, missing.Max.X
				}
				across := at >= missing.Min.X-eps && at <= missing.Max.X+eps
				if !upright {
					across = at >= missing.Min.Y-eps && at <= missing.Max.Y+eps
				}
				edges = across && (math.Abs(a-from) < eps || math.Abs(a-g1) < eps) && (math.Abs(b-to) < eps || math.Abs(b-g0) < eps)
			}
			if !edges {
				continue
			}
			found = true
			one, two := p, p
			if upright {
				one.Max.X, two.Min.X = at-kerf/2, at+kerf/2
			} else {
				one.Max.Y, two.Min.Y = at-kerf/2, at+kerf/2
			}
			if lacks {
				one, two = trim(one, missing), trim(two, missing)
			}
			pieces = append(append(pieces[:i:i], pieces[i+1:]...), one, two)
			break
		}
		if !found {
			c.fail("sheet %d: the cut %v goes from edge to edge of no piece", index, cut)
			return
		}
	}
	for i, b := range boxes {
		is := false
		for _, p := range pieces {
			is = is || p.Min.Distance(b.Min) < 4*eps && p.Max.Distance(b.Max) < 4*eps
		}
		if !is {
			c.fail("sheet %d: part %d at %v isn't cut out", index, s.Placements[i].Part, b)
		}
	}
	c.leftByKnife(index, boxes, pieces)
}

// leftByKnife checks that what is told as left of a sheet is pieces that its cuts leave, each once, and all of
// these that are large enough.
func (c *checker) leftByKnife(index int, boxes, pieces []geom.Box) {
	s := c.result.Sheets[index]
	told := 0
	for _, p := range pieces {
		if edge := narrowed(geom.Box{Max: geom.Pt(s.Width(), s.Height())}, s.Min, c.job.Stocks[s.Stock]); !edge.Holds(p) {
			p.Min = geom.Pt(max(p.Min.X, edge.Min.X), max(p.Min.Y, edge.Min.Y))
		}
		if slices.ContainsFunc(boxes, func(b geom.Box) bool { return apart(p, b) < -eps }) {
			continue
		}
		if missing, lacks := gone(c.stock(s)); lacks && apart(p, missing) < -eps { // cut from a corner that is no rectangle
			c.fail("sheet %d: the knife leaves %v with a corner missing", index, p)
		}
		if slices.ContainsFunc(s.Left, func(l geom.Box) bool { return p.Min.Distance(l.Min) < 4*eps && p.Max.Distance(l.Max) < 4*eps }) {
			told++
		} else if min(p.Width(), p.Height()) > leastLeft+4*eps {
			c.fail("sheet %d: the knife leaves %v, which isn't told", index, p)
		}
	}
	if told != len(s.Left) {
		c.fail("sheet %d: of %d pieces that are told as left the knife leaves %d: %v", index, len(s.Left), told, s.Left)
	}
}

// narrowed is what is there of a box that begins at such a place of a sheet, behind the cuts of a knife, if it is one that cuts
// the sheet up.
func narrowed(b geom.Box, at geom.Point, s sheet.Stock) geom.Box {
	if at.X > 0 {
		b.Min.X += s.Knife.Or(0)
	}
	if at.Y > 0 {
		b.Min.Y += s.Knife.Or(0)
	}
	return b
}

// leastLeft is the least width and height in mm of what is told as left over, where nothing else is asked for.
const leastLeft = 50

// trim takes what is missing off a piece that it leaves a rectangle.
func trim(p, missing geom.Box) geom.Box {
	if apart(p, missing) > -eps {
		return p
	}
	if missing.Min.X < p.Min.X+eps && missing.Max.X > p.Max.X-eps {
		if missing.Min.Y < p.Min.Y+eps {
			p.Min.Y = missing.Max.Y
		} else {
			p.Max.Y = missing.Min.Y
		}
	} else if missing.Min.Y < p.Min.Y+eps && missing.Max.Y > p.Max.Y-eps {
		if missing.Min.X < p.Min.X+eps {
			p.Min.X = missing.Max.X
		} else {
			p.Max.X = missing.Min.X
		}
	}
	return p
}

// randomJob is a job that a shop might have, or a little worse.
func randomJob(r *rand.Rand) sheet.Job {
	var job sheet.Job
	pick := func(low, high float64) float64 {
		v := low + r.Float64()*(high-low)
		switch r.IntN(3) {
		case 0:
			return math.Round(v)
		case 1:
			return math.Round(v*10) / 10
		}
		return v
	}
	groups := 1 + r.IntN(2)
	for g := range groups {
		name := []string{"birch", "board"}[g]
		spacing, margin := pick(0, 6), pick(0, 8)
		w, h := pick(300, 900), pick(300, 700)
		grain := sheet.Grain(r.IntN(3))
		priced := r.IntN(2) == 0
		knife := r.IntN(4) == 0
		shared := r.IntN(3) == 0
		for i := range 1 + r.IntN(4) {
			s := sheet.Stock{Name: fmt.Sprint(name, i), Group: name, Width: w, Height: h, Spacing: spacing, Margin: margin, Grain: grain, Shared: shared}
			if i > 0 {
				s.Width, s.Height = pick(80, w), pick(80, h)
				s.Count = maybe.Is(1 + r.IntN(4))
				s.Offcut = r.IntN(2) == 0
				if r.IntN(2) == 0 {
					s.Gone, s.Corner = geom.Pt(pick(10, s.Width*.8), pick(10, s.Height*.8)), sheet.Corner(r.IntN(4))
				}
				if r.IntN(5) == 0 {
					s.Grain, s.Spacing = sheet.Grain(r.IntN(3)), pick(0, 10)
				}
			}
			if priced {
				s.Price = maybe.Is(math.Round(s.Width*s.Height/100) / 100)
			}
			if knife {
				s.Knife = maybe.Is([]float64{0, 0.5, 4}[r.IntN(3)])
			}
			if r.IntN(3) == 0 {
				s.Bed = maybe.Is(geom.Pt(max(280, pick(100, 900)), max(280, pick(100, 900))))
			}
			job.Stocks = append(job.Stocks, s)
		}
		for i := range 1 + r.IntN(8) {
			p := sheet.Part{Name: fmt.Sprint("gull", i), Group: name, Width: pick(8, 180), Height: pick(8, 180), Count: 1 + r.IntN(1+r.IntN(25)),
				Turns: sheet.Turns(r.IntN(3)), Plain: r.IntN(2) == 0}
			if p.Turns == sheet.QuarterTurn {
				p.Grain = sheet.Grain(r.IntN(3))
			} else {
				p.Grain = []sheet.Grain{sheet.NoGrain, grain}[r.IntN(2)]
			}
			job.Parts = append(job.Parts, p)
		}
	}
	return job
}
