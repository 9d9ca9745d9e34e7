package sheet

import (
	"cmp"
	"context"
	"math"
	"slices"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// Lay lays the parts of a job on its stock, each group on its own. The error is a
// [*FitError] if a part is too large for every sheet that it may lie on, a [*ShortError] if there is
// too little stock, and an [*InputError] if a number means nothing. If the context
// ends the search early, the best result so far is given, whole, and no error.
func Lay(ctx context.Context, job Job, opts Options) (*Result, error) {
	groups, err := groupsOf(&job, opts)
	if err != nil {
		return nil, err
	}
	for _, g := range groups {
		if err := g.check(); err != nil {
			return nil, err
		}
	}
	result := &Result{}
	numbers := make([]int, len(job.Stocks))
	for _, g := range groups {
		g.lay(ctx)
		if len(g.best.rest) > 0 {
			return nil, g.short()
		}
		least := whole(cmp.Or(opts.LeastLeft, 50))
		group := g.summary()
		for _, l := range g.best.loads {
			stock := g.bins[l.bin].stock
			result.Sheets = append(result.Sheets, g.sheet(l, numbers[stock], least))
			numbers[stock]++
		}
		result.Groups = append(result.Groups, group)
		g.report(1)
	}
	result.Stopped = ctx.Err() != nil
	return result, nil
}

// groupsOf makes the groups of a job ready.
func groupsOf(job *Job, opts Options) ([]*group, error) {
	var groups []*group
	total := 0
	for i, p := range job.Parts {
		if err := checkPart(p); err != nil {
			return nil, err
		}
		if total += p.Count; total > most {
			return nil, &InputError{p.Name, "the number of all parts up to it", float64(total)}
		}
		if p.Count == 0 {
			continue
		}
		at := slices.IndexFunc(groups, func(g *group) bool { return g.name == p.Group })
		if at < 0 {
			at = len(groups)
			groups = append(groups, &group{job: job, name: p.Group, index: map[[3]int]int{}, equal: map[Part]int{}, members: map[int][]run{}, dealt: map[int]int{},
				r: random(opts.Seed), progress: opts.Progress})
		}
		groups[at].add(i, p)
	}
	for _, g := range groups {
		if err := g.addBins(); err != nil {
			return nil, err
		}
		parts := 0
		for i, q := range g.want {
			g.want[i].kind = g.kindOf(q.kind, 1, 1)
			parts += min(q.count, enoughOfOne)
		}
		smallest := never
		for _, q := range g.want {
			p := g.job.Parts[g.kinds[q.kind].part]
			smallest = min(smallest, whole(p.Width), whole(p.Height))
		}
		for _, b := range g.bins {
			b.tol = smallest * tolerance / 100
		}
		g.budget = int64(min(stepsAtMost, stepsAtLeast+stepsAPart*float64(parts)) * effort(opts))
		g.effort = effort(opts)
		g.patience = int((turnsAtLeast + turnsAPart*float64(parts)) * max(1, g.effort))
		g.least = g.bound()
	}
	return groups, nil
}

// add wants a part, together with those before it that are equal but for their names.
func (g *group) add(index int, p Part) {
	count := p.Count
	p.Name, p.Count = "", 0
	at, ok := g.equal[p]
	if !ok {
		at = len(g.want)
		g.equal[p] = at
		g.want = append(g.want, run{kind: index})
	}
	first := g.want[at].kind
	g.want[at].count += count
	g.members[first] = append(g.members[first], run{kind: index, count: count})
}

// deal gives the next of the parts that are equal to one, in the order of the job, and which copy of it.
func (g *group) deal(first int) (part, copy int) {
	for g.members[first][0].count == g.dealt[first] {
		g.members[first], g.dealt[first] = g.members[first][1:], 0
	}
	g.dealt[first]++
	return g.members[first][0].kind, g.dealt[first] - 1
}

// addBins adds the stock of a group. Where a whole sheet has no price all cost as their area.
func (g *group) addBins() error {
	priced := g.priced()
	for i, s := range g.job.Stocks {
		if s.Group != g.name {
			continue
		}
		b, err := newBin(i, s)
		if err != nil {
			return err
		}
		switch {
		case priced:
			b.value = int64(math.Round(s.Price.Or(0) * valuesPerMoney))
		case !s.Offcut:
			b.value = b.area
		}
		if b.left > 0 && b.w > 0 && b.h > 0 {
			g.bins = append(g.bins, b)
		}
	}
	return nil
}

// valuesPerMoney is how finely prices are told apart.
const valuesPerMoney = 1e4

// priced reports whether all whole sheets of the group have a price.
func (g *group) priced() bool {
	some := false
	for _, s := range g.job.Stocks {
		if s.Group == g.name {
			if !s.Price.Present() && !s.Offcut {
				return false
			}
			some = true
		}
	}
	return some
}

// check gives an error if a part has no room on any sheet.
func (g *group) check() error {
	for _, q := range g.want {
		if slices.ContainsFunc(g.bins, func(b *bin) bool { return b.fits(b.sizes[q.kind]) }) {
			continue
		}
		p := g.job.Parts[g.kinds[q.kind].part]
		e := &FitError{Part: p.Name, Width: p.Width, Height: p.Height, Group: p.Group}
		for _, b := range g.bins {
			w, h := mm(b.w-b.gap), mm(b.h-b.gap)
			if e.Turned = e.Turned || b.takes(whole(p.Height)+b.gap, whole(p.Width)+b.gap) || b.takes(whole(p.Width)+b.gap, whole(p.Height)+b.gap); w*h > e.Room.X*e.Room.Y {
				e.Room, e.Stock = geom.Pt(w, h), g.job.Stocks[b.stock].Name
			}
		}
		return e
	}
	return nil
}

func (g *group) short() error {
	e := &ShortError{Group: g.name, Part: g.job.Parts[g.kinds[g.best.rest[0].kind].part].Name}
	for _, q := range g.best.rest {
		e.Missing += q.count * g.kinds[q.kind].parts()
	}
	return e
}

// summary is how well the group was laid.
func (g *group) summary() Group {
	s := Group{Name: g.name, Sheets: len(g.best.loads), LeastSheets: g.least.sheets, LeastArea: float64(g.least.area), Used: g.used()}
	cost, priced := 0.0, g.priced()
	for _, l := range g.best.loads {
		stock := g.job.Stocks[g.bins[l.bin].stock]
		s.Area += stock.area()
		cost += stock.Price.Or(0)
	}
	s.LeastArea = min(s.LeastArea, s.Area)
	if priced {
		s.Cost = maybe.Is(cost)
		s.LeastCost = maybe.Is(min(cost, float64(g.least.value)/valuesPerMoney))
	}
	return s
}

// sheet is a load in the words of the job.
func (g *group) sheet(l load, number int, least int64) Sheet {
	b := g.bins[l.bin]
	s := Sheet{Stock: b.stock, Number: number, Reach: b.reach, Quarter: b.quarter}
	spots := slices.Clone(l.spots)
	slices.SortFunc(spots, func(a, b spot) int { return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.x, b.x)) })
	for _, at := range spots {
		first := len(s.Placements)
		for _, one := range g.parts(at, b.gap) {
			part, copy := g.deal(g.kinds[at.kind].part)
			s.Placements = append(s.Placements, placed(g.job.Parts[part], one, b.margin, part, copy))
		}
		s.Shared = append(s.Shared, g.sharedBy(at, b, first)...)
	}
	s.Used = g.partsArea(l) / g.job.Stocks[b.stock].area()
	for _, e := range empty(b.sheet(), g.taken(b, spots), least) {
		s.Left = append(s.Left, e.inMM())
	}
	for _, c := range l.cuts {
		at := mm(c.at+b.margin) - mm(b.gap)/2
		from, to := mm(c.from+b.margin), mm(c.to+b.margin)
		if c.upright {
			s.Cuts = append(s.Cuts, Cut{geom.Pt(at, from), geom.Pt(at, to)})
		} else {
			s.Cuts = append(s.Cuts, Cut{geom.Pt(from, at), geom.Pt(to, at)})
		}
	}
	return s
}

// partsArea is the area of a sheet's parts in mm². The conversions keep products from being fused with sums, which
// rounds otherwise on some machines.
func (g *group) partsArea(l load) (sum float64) {
	for _, q := range l.runs {
		k := g.kinds[q.kind]
		p := g.job.Parts[k.part]
		sum += float64(float64(p.Width*p.Height) * float64(q.count*k.parts()))
	}
	return sum
}

// area is that of a sheet in mm².
func (s Stock) area() float64 { return float64(s.Width*s.Height) - float64(s.Gone.X*s.Gone.Y) }

// parts are the spots of the parts of a block, row by row.
func (g *group) parts(at spot, gap int64) (all []spot) {
	cols, rows, w, h := g.lattice(at, gap)
	for row := range rows {
		for col := range cols {
			all = append(all, spot{at.kind, at.turned, at.x + int64(col)*w, at.y + int64(row)*h, w, h})
		}
	}
	return all
}

// lattice is how many parts of a block stand side by side and one above the other as it lies, and how large they are.
func (g *group) lattice(at spot, gap int64) (cols, rows int, w, h int64) {
	k := g.kinds[at.kind]
	cols, rows = k.cols, k.rows
	if at.turned {
		cols, rows = rows, cols
	}
	return cols, rows, (at.w - gap) / int64(cols), (at.h - gap) / int64(rows)
}

// sharedBy are the cuts that the parts of a block share; first is the placement of its first part.
func (g *group) sharedBy(at spot, b *bin, first int) (all []Shared) {
	cols, rows, w, h := g.lattice(at, b.gap)
	for row := range rows {
		for col := range cols {
			i := first + row*cols + col
			x, y := at.x+b.margin+int64(col)*w, at.y+b.margin+int64(row)*h
			if col+1 < cols {
				all = append(all, Shared{i, i + 1, Cut{geom.Pt(mm(x+w), mm(y)), geom.Pt(mm(x+w), mm(y+h))}})
			}
			if row+1 < rows {
				all = append(all, Shared{i, i + cols, Cut{geom.Pt(mm(x), mm(y+h)), geom.Pt(mm(x+w), mm(y+h))}})
			}
		}
	}
	return all
}
