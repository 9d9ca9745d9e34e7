package tour

import (
	"context"
	"slices"
	"sync"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// A Cache keeps the orders of cuts that were found, so that covers which differ in their
// names alone have their cuts put in order once. The zero value is an empty one, nil one
// that keeps nothing. Several goroutines may use it; none may change the figures that it was
// given, nor the plans that it gives.
type Cache struct {
	mu    sync.Mutex
	plans []keptPlan // the last used first
}

// A keptPlan is a plan and what was asked for it.
type keptPlan struct {
	items []Item
	asked asked
	plan  *Plan
}

// asked is what [Options] say of a plan.
type asked struct {
	from, to       maybe.Of[geom.Point]
	fixed, corners bool
	spread, steps  maybe.Of[float64]
	bridges        maybe.Of[Bridges]
}

func (o *Options) asked() asked {
	return asked{o.From, o.To, o.Fixed, o.Corners, o.Spread, o.Steps, o.Bridges}
}

const (
	// holds is how many plans a cache holds.
	holds = 16
	// mostKept is how many items a plan may have to be kept.
	mostKept = 4096
)

// Order is what the function [Order] gives of the same items and options.
func (c *Cache) Order(ctx context.Context, items []Item, o Options) (*Plan, error) {
	if err := check(items, o); err != nil {
		return nil, err
	}
	if c == nil {
		return ordered(ctx, items, o, searched), nil
	}
	return ordered(ctx, items, o, c.searched), nil
}

// searched is what the function of that name gives. A plan is kept if its search came to
// its end.
func (c *Cache) searched(ctx context.Context, items []Item, o Options) *Plan {
	if plan := c.find(items, o.asked()); plan != nil {
		return plan
	}
	plan := searched(ctx, items, o)
	if ctx.Err() == nil && len(items) <= mostKept {
		c.keep(keptPlan{items, o.asked(), plan})
	}
	return plan
}

func (c *Cache) find(items []Item, a asked) *Plan {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i, k := range c.plans {
		if k.asked == a && slices.EqualFunc(k.items, items, sameItem) {
			copy(c.plans[1:i+1], c.plans[:i])
			c.plans[0] = k
			return k.plan
		}
	}
	return nil
}

func (c *Cache) keep(k keptPlan) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.plans = slices.Insert(c.plans, 0, k)
	if len(c.plans) > holds {
		c.plans = slices.Delete(c.plans, holds, len(c.plans))
	}
}

// sameItem says whether two items are the same to the last bit.
func sameItem(a, b Item) bool {
	return a.Op == b.Op && a.Part == b.Part && a.Parting == b.Parting && geom.Same(a.Figure, b.Figure)
}
