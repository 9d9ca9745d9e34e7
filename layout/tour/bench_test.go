package tour

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// scattered are places on a bed of 1 m.
func scattered(n int) (places []geom.Point) {
	r := rand.New(rand.NewPCG(1, 2))
	for range n {
		places = append(places, geom.Pt(1000*r.Float64(), 1000*r.Float64()))
	}
	return places
}

// excess is by how many percent a plan over places, from the first and back to it, is
// longer than the Held-Karp bound.
func excess(places []geom.Point, plan *Plan) float64 {
	spots := make([]spot, len(places))
	for i, p := range places {
		spots[i] = spotOf(p)
	}
	return 100 * (plan.Travel*nano/heldKarp(spots, plan.Travel*nano, 300) - 1)
}

// One thousand shapes come within 2 % of the Held-Karp bound, ten thousand within 3 %.
func TestHeldKarp(t *testing.T) {
	for _, c := range []struct {
		n    int
		most float64
	}{{1000, 2}, {10_000, 3}} {
		if c.n > 1000 {
			foretest.Long(t, "the bound of 10,000 takes a minute of a busy machine")
		}
		places := scattered(c.n)
		home := maybe.Is(places[0])
		plan := order(t, dots(places[1:]), Options{From: home, To: home, Fixed: true})
		e := excess(places, plan)
		t.Logf("%d shapes: %.2f %% above the bound", c.n, e)
		if e < 0 || e > c.most {
			t.Errorf("%d shapes: %.2f %% above the bound, want at most %g", c.n, e, c.most)
		}
	}
}

// The bound of a square of four is its outline, and no bound is above an optimum.
func TestHeldKarpIsABound(t *testing.T) {
	square := []spot{{0, 0}, {1e6, 0}, {1e6, 1e6}, {0, 1e6}}
	foretest.Near(t, "square", heldKarp(square, 4e6, 100), 4e6, 1)
	for _, in := range tsplib(t) {
		spots := make([]spot, len(in.places))
		for i, p := range in.places {
			spots[i] = spot{p.X, p.Y}
		}
		// Rounding takes at most half off each of the n distances.
		bound, n := heldKarp(spots, 1.1*float64(in.optimum), 300), float64(len(spots))
		if bound > float64(in.optimum)+n/2 || bound < 0.97*float64(in.optimum) {
			t.Errorf("%s: bound %.1f, optimum %d", in.name, bound, in.optimum)
		}
	}
}

func planned(b *testing.B, items []Item, o Options) *Plan {
	plan, err := Order(context.Background(), items, o)
	foretest.Must(b, err)
	return plan
}

func BenchmarkOrder(b *testing.B) {
	for _, n := range []int{1000, 10_000} {
		places := scattered(n)
		items := dots(places[1:])
		home := maybe.Is(places[0])
		b.Run(fmt.Sprint("shapes=", n), func(b *testing.B) {
			var plan *Plan
			for b.Loop() {
				plan = planned(b, items, Options{From: home, To: home, Fixed: true})
			}
			b.StopTimer()
			b.ReportMetric(excess(places, plan), "%above-bound")
		})
	}
	for _, n := range []int{1000, 10_000} {
		items := boxes(n, 2, 1)
		home := maybe.Is(geom.Pt(0, 0))
		b.Run(fmt.Sprint("boxes=", n), func(b *testing.B) {
			var plan *Plan
			for b.Loop() {
				plan = planned(b, items, Options{From: home, To: home})
			}
			b.StopTimer()
			fixed := planned(b, items, Options{From: home, To: home, Fixed: true})
			b.ReportMetric(100*(1-plan.Travel/fixed.Travel), "%shorter-than-fixed")
		})
	}
}
