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
			result.Sheets = append(result.Sheets, g.sheets(l, numbers[stock], least)...)
			if s, sawn := l.sawing(g.bins[l.bin], g.bins[l.bin].ways[l.way], numbers[stock]); sawn {
				result.Sawn = append(result.Sawn, s)
			}
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
			groups = append(groups, &group{job: job, name: p.Group, index: map[[4]int]int{}, equal: map[Part]int{}, members: map[int][]run{}, dealt: map[int]int{},
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
			g.want[i].kind = g.kindOf(q.kind, 1, 1, 1)
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
	p.Width, p.Height = mm(whole(p.Width)), mm(whole(p.Height)) // what is drawn elsewhere differs by a hair
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
	parts := g.mostTaken()
	for i, s := range g.job.Stocks {
		if s.Group != g.name {
			continue
		}
		b, err := newBin(i, s, parts)
		if err != nil {
			return err
		}
		switch {
		case priced:
			b.value = valueOf(s.Price.Or(0))
		case !s.Offcut:
			b.value = b.area
		}
		if b.left > 0 && len(b.rooms(0)) > 0 {
			g.bins = append(g.bins, b)
		}
	}
	return nil
}

// mostTaken are the wanted parts that take most, the first first.
func (g *group) mostTaken() (parts []Part) {
	runs := slices.Clone(g.want)
	area := func(q run) float64 {
		p := g.job.Parts[q.kind]
		return float64(p.Width*p.Height) * float64(q.count)
	}
	slices.SortStableFunc(runs, func(a, b run) int { return cmp.Compare(area(b), area(a)) })
	for _, q := range runs[:min(len(runs), mostSized)] {
		parts = append(parts, g.job.Parts[q.kind])
	}
	return parts
}

// valuesPerMoney is how finely prices are told apart.
const valuesPerMoney = 1e4

func valueOf(price float64) int64 { return int64(math.Round(price * valuesPerMoney)) }

// priced reports whether all whole sheets of the group have a price. One of nothing is none: offcuts
// still go before them.
func (g *group) priced() bool {
	some := false
	for _, s := range g.job.Stocks {
		if s.Group == g.name {
			if valueOf(s.Price.Or(0)) == 0 && !s.Offcut {
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
			r := slices.MaxFunc(b.ways[0].rooms, func(x, y *room) int { return cmp.Compare(x.area, y.area) })
			w, h := mm(r.w-b.gap), mm(r.h-b.gap)
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
		e.Missing += q.count * g.kinds[q.kind].parts
	}
	return e
}

// Least says of each group of a job below what nothing holds its parts; what else a [Group] has is left
// out.
func Least(job Job) ([]Group, error) {
	groups, err := groupsOf(&job, Options{})
	if err != nil {
		return nil, err
	}
	var all []Group
	for _, g := range groups {
		all = append(all, Group{Name: g.name, LeastSheets: g.least.sheets, LeastArea: float64(g.least.area), LeastCost: maybe.If(float64(g.least.value)/valuesPerMoney, g.priced())})
	}
	return all, nil
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

// sheets are the pieces of a load in the words of the job.
func (g *group) sheets(l load, number int, least int64) (all []Sheet) {
	b := g.bins[l.bin]
	for i := range l.pieces {
		s := g.sheet(&l.pieces[i], least)
		s.Stock, s.Number, s.Quarter = b.stock, number, b.ways[l.way].quarter
		all = append(all, s)
	}
	return all
}

// sheet is a piece with what lies on it.
func (g *group) sheet(l *filled, least int64) Sheet {
	b := l.room
	s := Sheet{Piece: b.piece()}
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
	s.Used = g.partsArea(l.runs) / (float64(s.Piece.Width()*s.Piece.Height()) - float64(s.Gone.X*s.Gone.Y))
	for _, e := range b.left(spots, l.cuts, least, math.MaxInt) {
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

// partsArea is the area of parts in mm². The conversions keep products from being fused with sums, which
// rounds otherwise on some machines.
func (g *group) partsArea(runs []run) (sum float64) {
	for _, q := range runs {
		k := g.kinds[q.kind]
		p := g.job.Parts[k.part]
		sum += float64(float64(p.Width*p.Height) * float64(q.count*k.parts))
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
	return all[:g.kinds[at.kind].parts]
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
func (g *group) sharedBy(at spot, b *room, first int) (all []Shared) {
	cols, rows, w, h := g.lattice(at, b.gap)
	end := first + g.kinds[at.kind].parts
	for row := range rows {
		for col := range cols {
			i := first + row*cols + col
			x, y := at.x+b.margin+int64(col)*w, at.y+b.margin+int64(row)*h
			if col+1 < cols && i+1 < end {
				all = append(all, Shared{i, i + 1, Cut{geom.Pt(mm(x+w), mm(y)), geom.Pt(mm(x+w), mm(y+h))}})
			}
			if row+1 < rows && i+cols < end {
				all = append(all, Shared{i, i + cols, Cut{geom.Pt(mm(x), mm(y+h)), geom.Pt(mm(x+w), mm(y+h))}})
			}
		}
	}
	return all
}
