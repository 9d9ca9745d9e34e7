package tour

import (
	"context"
	"errors"
	"math"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// An Op is what the laser does. Operations run in the order of the constants, which
// are those of layout.Op.
type Op uint8

const (
	Engrave Op = iota // filled: its figure is run as a whole
	Mark
	Score
	Cut
)

func (o Op) String() string { return [...]string{"engrave", "mark", "score", "cut"}[min(o, Cut)] }

// An Item is a figure to be run. Items of one part are run one after another, and so
// are the contours of one item, unless something of another must come between them.
type Item struct {
	Op     Op
	Part   int
	Figure geom.Figure
	// Parting says that an open cut parts what a closed one holds: it comes after all
	// else that lies in that.
	Parting bool
}

// Options say how the order is to be. The zero value asks for the shortest travel from
// anywhere to anywhere.
type Options struct {
	// From and To are where the head comes from and goes to at the end.
	From, To maybe.Of[geom.Point]
	// Fixed has closed figures entered where they start.
	Fixed bool
	// Corners has them entered only where two of their lines or curves meet, and circles
	// where they start, so that no figure gets a line more than it has.
	Corners bool
	// Spread is the distance in mm within which one cut heats another: no cut is to come
	// right after one as near as that, where that can be had.
	Spread maybe.Of[float64]
	// Bridges are necks to be left.
	Bridges maybe.Of[Bridges]
	// Steps is how many steps a search with fixed entries may take for each contour, 900 if
	// absent; with free entries it is up to 2.3 times as many.
	Steps maybe.Of[float64]
	// Progress, if not nil, is called now and then.
	Progress func(Progress)
}

// A Progress is how far a search has come: the steps taken, and the travel in mm of
// the best plan so far of what has been looked at, which is the cuts first.
type Progress struct {
	Steps  int64
	Travel float64
}

// A Run is one contour to be run.
type Run struct {
	// Item is its index in the items, Contour that among [geom.Paths] of the figure.
	Item, Contour int
	// Paths are the contour from where it is entered to where it is left: one, or as many
	// as it has bridges. There are none of what is engraved: Contour is then 0 and stands
	// for the figure.
	Paths []geom.Path
}

// A Plan is an order.
type Plan struct {
	Runs []Run
	// Travel is how far the head moves with the beam off, in mm.
	Travel float64
	// Given is the same for the order given, entered where the figures start: the
	// operations in turn, of each the parts in the order in which they first come, of
	// each the items. Mended says that this had an outline before what it holds, and was
	// changed as little as possible.
	Given  float64
	Mended bool
	// Neighbours is how often a cut comes right after one within Spread.
	Neighbours int

	ends, givenEnds [2]spot // where the first run is entered and the last one left
	steps           int64
}

// farthest is how far from the origin a figure may lie, in mm.
const farthest = 1e6

var (
	errFar    = errors.New("a figure isn't finite, or lies more than 1 km from the origin")
	errOp     = errors.New("an item has no operation that a laser runs")
	errSpread = errors.New("a distance for heat or bridges isn't a number of 0 or more")
)

// usualSteps is how many steps are taken for each contour unless it is told.
const usualSteps = 900

// Order puts items into the order in which they are to be run. Figures with nothing to
// run are left out. The error says that an item or option can't be used; it isn't one
// that the context has ended.
func Order(ctx context.Context, items []Item, o Options) (*Plan, error) {
	return (*Cache)(nil).Order(ctx, items, o)
}

// ordered is the order of items, the cuts' by a search of its own: what else there is is
// run before them, and leads to where they begin. So the order of the cuts doesn't depend
// on it, and is the same on each of many covers with names of their own.
func ordered(ctx context.Context, items []Item, o Options, orderCuts func(context.Context, []Item, Options) *Plan) *Plan {
	var before, cuts []Item
	var beforeAt, cutsAt []int
	for i := range items {
		if items[i].Op == Cut {
			cuts, cutsAt = append(cuts, items[i]), append(cutsAt, i)
		} else {
			before, beforeAt = append(before, items[i]), append(beforeAt, i)
		}
	}
	if len(cuts) == 0 {
		return searched(ctx, items, o)
	}
	late, early := o, o
	late.From = maybe.Of[geom.Point]{}
	if len(before) == 0 {
		late.From = o.From
		return orderCuts(ctx, cuts, late)
	}
	second := orderCuts(ctx, cuts, late)
	if len(second.Runs) == 0 {
		return searched(ctx, items, o)
	}
	early.To = maybe.Is(second.ends[0].point())
	if o.Progress != nil {
		early.Progress = func(p Progress) {
			o.Progress(Progress{Steps: second.steps + p.Steps, Travel: second.Travel + p.Travel})
		}
	}
	first := searched(ctx, before, early)
	if len(first.Runs) == 0 {
		return searched(ctx, items, o)
	}
	plan := first.then(second, beforeAt, cutsAt)
	if plan.Travel > plan.Given && o.Spread.Or(0) == 0 {
		return searched(ctx, items, o)
	}
	return plan
}

// then is one plan and another after it that begins where the first was led to. The numbers
// of their items are given among all items.
func (p *Plan) then(q *Plan, first, second []int) *Plan {
	// What led the first plan as it was given ends where the second now begins.
	given := p.Given - away(p.givenEnds[1], q.ends[0])/nano + away(p.givenEnds[1], q.givenEnds[0])/nano
	all := &Plan{
		Runs: make([]Run, 0, len(p.Runs)+len(q.Runs)), Travel: p.Travel + q.Travel, Given: given + q.Given,
		Mended: p.Mended || q.Mended, Neighbours: p.Neighbours + q.Neighbours,
		ends: [2]spot{p.ends[0], q.ends[1]}, givenEnds: [2]spot{p.givenEnds[0], q.givenEnds[1]}, steps: p.steps + q.steps,
	}
	for _, r := range p.Runs {
		r.Item = first[r.Item]
		all.Runs = append(all.Runs, r)
	}
	for _, r := range q.Runs {
		r.Item = second[r.Item]
		all.Runs = append(all.Runs, r)
	}
	return all
}

// searched is the order of items by one search.
func searched(ctx context.Context, items []Item, o Options) *Plan {
	t := newTour(ctx, items, o)
	t.given()
	plan := &Plan{Given: t.travel(), Mended: t.mended, givenEnds: t.ends()}
	t.best = t.save()
	t.search()
	t.load(t.best)
	plan.Travel, plan.ends, plan.steps = t.travel(), t.ends(), t.budget.used
	plan.Neighbours = t.close()
	plan.Runs = make([]Run, len(t.order))
	for k, i := range t.order {
		l := &t.leaves[i]
		plan.Runs[k] = Run{Item: l.item, Contour: l.contour, Paths: l.paths()}
	}
	return plan
}

func check(items []Item, o Options) error {
	for i := range items {
		if items[i].Op > Cut {
			return errOp
		}
		if items[i].Figure == nil {
			continue
		}
		if !near(items[i].Figure) {
			return errFar
		}
	}
	for _, p := range []maybe.Of[geom.Point]{o.From, o.To} {
		if p, ok := p.Get(); ok && !within(p) {
			return errFar
		}
	}
	b := o.Bridges.Or(Bridges{})
	for _, d := range []float64{o.Spread.Or(0), b.Width, b.Below} {
		if !(d >= 0 && d <= farthest) {
			return errSpread
		}
	}
	return nil
}

// near says whether all that a figure is given by lies within what can be run.
func near(f geom.Figure) bool {
	switch f.(type) {
	case geom.Rect, geom.Circle:
		b := f.Bounds()
		return within(b.Min) && within(b.Max)
	}
	for _, p := range geom.Paths(f) {
		for i := range p.Segments {
			if s := &p.Segments[i]; !(within(s.End) && within(s.Center) && within(s.C1) && within(s.C2)) {
				return false
			}
		}
		if len(p.Segments) > 0 && !within(p.Start) {
			return false
		}
	}
	return true
}

func within(p geom.Point) bool { return math.Abs(p.X) <= farthest && math.Abs(p.Y) <= farthest }

// hollow says whether a figure has nothing to run.
func hollow(f geom.Figure) bool {
	for _, p := range geom.Paths(f) {
		if len(p.Segments) > 0 {
			return false
		}
	}
	return true
}
