package tour

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// An instance is places with a known optimum.
type instance struct {
	name                    string
	optimum, inTurn, greedy int
	places                  []geom.Point
}

func tsplib(t testing.TB) (all []instance) {
	for line := range strings.Lines(foretest.Read(t, "testdata/tsplib.txt")) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		words := strings.Fields(line)
		in := instance{name: words[0]}
		fmt.Sscan(words[1], &in.optimum)
		fmt.Sscan(words[2], &in.inTurn)
		fmt.Sscan(words[3], &in.greedy)
		for _, w := range words[4:] {
			var p geom.Point
			fmt.Sscanf(w, "%f,%f", &p.X, &p.Y)
			in.places = append(in.places, p)
		}
		all = append(all, in)
	}
	return all
}

// rounded is the length of a closed tour with distances as TSPLIB rounds them.
func (in *instance) rounded(order []int) (sum int) {
	for k, i := range order {
		p, q := in.places[i], in.places[order[(k+1)%len(order)]]
		sum += int(p.Distance(q) + 0.5)
	}
	return sum
}

// dots are places as marks that are entered there, if entries are fixed.
func dots(places []geom.Point) (items []Item) {
	for _, p := range places {
		items = append(items, Item{Op: Mark, Figure: geom.Rect{Min: p, W: 0.01, H: 0.01}})
	}
	return items
}

// Published tours: berlin52 exactly, the others within 2 %.
func TestPublished(t *testing.T) {
	for _, in := range tsplib(t) {
		n := len(in.places)
		turn := make([]int, n)
		for i := range turn {
			turn[i] = i
		}
		if got := in.rounded(turn); got != in.inTurn {
			t.Errorf("%s: 1, 2, ... n is %d, want %d: a place is wrong", in.name, got, in.inTurn)
		}
		if got := in.rounded(in.alwaysNearest()); got != in.greedy {
			t.Errorf("%s: always the nearest is %d, want %d: a place is wrong", in.name, got, in.greedy)
		}
		home := maybe.Is(in.places[0])
		plan, err := Order(context.Background(), dots(in.places[1:]), Options{From: home, To: home, Fixed: true})
		foretest.Must(t, err)
		order := []int{0}
		for _, r := range plan.Runs {
			order = append(order, r.Item+1)
		}
		got := in.rounded(order)
		t.Logf("%s: %d, optimum %d", in.name, got, in.optimum)
		if got < in.optimum || float64(got) > 1.02*float64(in.optimum) || in.name == "berlin52" && got != in.optimum {
			t.Errorf("%s: %d, optimum %d", in.name, got, in.optimum)
		}
	}
}

func (in *instance) alwaysNearest() []int {
	seen := make([]bool, len(in.places))
	order := []int{0}
	seen[0] = true
	for len(order) < len(in.places) {
		here, best, least := order[len(order)-1], -1, math.Inf(1)
		for i, p := range in.places {
			if d := math.Floor(p.Distance(in.places[here]) + 0.5); !seen[i] && d < least {
				best, least = i, d
			}
		}
		seen[best] = true
		order = append(order, best)
	}
	return order
}
