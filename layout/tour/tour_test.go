package tour

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout/geom"
)

func order(t testing.TB, items []Item, o Options) *Plan {
	t.Helper()
	plan, err := Order(context.Background(), items, o)
	foretest.Must(t, err)
	checkRuns(t, items, o, plan)
	return plan
}

// checkRuns holds a plan against its items by itself: each contour is there once and
// still itself, operations run in turn, parts are whole, travel adds up.
func checkRuns(t testing.TB, items []Item, o Options, plan *Plan) {
	t.Helper()
	type contour struct{ item, contour int }
	seen := map[contour]bool{}
	var travel float64
	at, moving := o.From.Get()
	for k, r := range plan.Runs {
		it := items[r.Item]
		if seen[contour{r.Item, r.Contour}] {
			t.Errorf("contour %d of item %d is run twice", r.Contour, r.Item)
		}
		seen[contour{r.Item, r.Contour}] = true
		if k > 0 && items[plan.Runs[k-1].Item].Op > it.Op {
			t.Errorf("run %d: %s after %s", k, it.Op, items[plan.Runs[k-1].Item].Op)
		}
		paths := r.Paths
		if it.Op == Engrave {
			if paths != nil {
				t.Errorf("run %d engraves paths", k)
			}
			p := it.Figure.Bounds().Center()
			paths = []geom.Path{{Start: p}}
		} else if _, ok := o.Bridges.Get(); !ok {
			sameContour(t, geom.Paths(it.Figure)[r.Contour], paths)
		}
		for _, p := range paths {
			if moving {
				travel += at.Distance(p.Start)
			}
			at, moving = p.End(), true
		}
	}
	if to, ok := o.To.Get(); ok && moving {
		travel += at.Distance(to)
	}
	foretest.Near(t, "travel", plan.Travel, travel, 1e-5*float64(len(plan.Runs)+1))
	want := 0
	for _, it := range items {
		if it.Op == Engrave {
			want++
			continue
		}
		for _, p := range geom.Paths(it.Figure) {
			if len(p.Segments) > 0 {
				want++
			}
		}
	}
	if len(seen) != want {
		t.Errorf("%d contours are run, want %d", len(seen), want)
	}
}

func sameContour(t testing.TB, want geom.Path, got []geom.Path) {
	t.Helper()
	if len(got) != 1 || got[0].Closed != want.Closed {
		t.Fatalf("a contour became %d paths", len(got))
	}
	g := got[0]
	foretest.Near(t, "length", geom.Length(g), geom.Length(want), 1e-5)
	if g.Closed {
		foretest.Near(t, "area", g.Area(), want.Area(), 1e-4*(1+math.Abs(want.Area())))
		foretest.Near(t, "gap at the end", g.End().Distance(g.Start), 0, 1e-9)
	}
	for p := range g.Pieces() {
		for _, s := range []float64{0, 0.5} {
			if d := distanceTo(want, p.At(s)); d > 1e-5 {
				t.Errorf("a contour has moved by %g mm", d)
			}
		}
	}
}

func distanceTo(path geom.Path, x geom.Point) float64 {
	d := math.Inf(1)
	for p := range path.Pieces() {
		d = min(d, p.Distance(x))
	}
	return d
}

// broken counts where something is cut after a figure that holds it, looked for in
// another way: by whether a place of the one lies inside the other's polygon.
func broken(items []Item, plan *Plan) (count int) {
	type cut struct {
		poly []geom.Point
		box  geom.Box
		path geom.Path
	}
	var done []cut
	for _, r := range plan.Runs {
		if items[r.Item].Op != Cut {
			continue
		}
		path := geom.Paths(items[r.Item].Figure)[r.Contour]
		c := cut{path.Flatten(0.01), path.Bounds(), path}
		for _, d := range done {
			if d.path.Closed && d.box.Holds(c.box) && inside(d.poly, c.poly[0].Lerp(c.poly[1], 0.37)) {
				count++
			}
		}
		done = append(done, c)
	}
	return count
}

// inside counts crossings of a ray (even-odd).
func inside(poly []geom.Point, x geom.Point) bool {
	odd := false
	for k := 1; k < len(poly); k++ {
		a, b := poly[k-1], poly[k]
		if (a.Y > x.Y) != (b.Y > x.Y) && x.X < a.X+(x.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			odd = !odd
		}
	}
	return odd
}

// nested makes random parts with openings in openings, slits in both, marks and
// engravings, all in random order.
func nested(r *rand.Rand) (items []Item) {
	var fill func(box geom.Box, part, depth int)
	fill = func(box geom.Box, part, depth int) {
		nx, ny := 1+r.IntN(3), 1+r.IntN(2)
		w, h := box.Width()/float64(nx), box.Height()/float64(ny)
		for i := range nx * ny {
			if r.IntN(4) == 0 || w < 3 || h < 3 {
				continue
			}
			at := box.Min.Add(geom.Pt(w*(float64(i%nx)+0.1), h*(float64(i/nx)+0.1)))
			in := geom.Box{Min: at, Max: at.Add(geom.Pt(0.8*w, 0.8*h))}
			it := Item{Op: Cut, Part: part}
			switch r.IntN(4) {
			case 0:
				it.Figure = geom.Circle{Center: in.Center(), R: 0.5 * math.Min(in.Width(), in.Height())}
				in = geom.Box{Min: in.Center(), Max: in.Center()}.Grow(0.6 * it.Figure.(geom.Circle).R)
			case 1:
				it.Figure = geom.NewPath(in.Min).Line(in.Max).Open()
				items = append(items, it)
				continue
			case 2:
				it.Figure = geom.Polygon(in.Min, geom.Pt(in.Max.X, in.Min.Y), in.Max, geom.Pt(in.Min.X, in.Max.Y))
			default:
				it.Figure = geom.Rect{Min: in.Min, W: in.Width(), H: in.Height()}
			}
			items = append(items, it)
			if r.IntN(5) == 0 {
				part = r.IntN(4) // a part within another's opening
			}
			if depth < 4 {
				fill(in, part, depth+1)
			}
		}
	}
	fill(geom.Box{Max: geom.Pt(300, 200)}, r.IntN(4), 0)
	for range r.IntN(6) {
		at := geom.Pt(r.Float64()*300, r.Float64()*200)
		items = append(items, Item{Op: Op(r.IntN(3)), Part: r.IntN(4), Figure: geom.CenterRect(at, 5, 8)})
	}
	r.Shuffle(len(items), func(i, j int) { items[i], items[j] = items[j], items[i] })
	return items
}

// What lies in a figure is cut before it, on 500 random sheets; the travel is never
// longer than as given, and of cuts with free entries never longer than with fixed ones.
func TestPrecedence(t *testing.T) {
	most := 0
	for seed := range foretest.Sample(500, 60) {
		r := rand.New(rand.NewPCG(uint64(seed), 7))
		items := nested(r)
		o := Options{Steps: maybe.Is(1000.0), From: maybe.If(geom.Pt(0, 0), r.IntN(2) == 0)}
		o.To = maybe.If(geom.Pt(10, 5), r.IntN(2) == 0)
		free, freeCuts := order(t, items, o), order(t, cutsOf(items), o)
		o.Fixed = true
		fixed, fixedCuts := order(t, items, o), order(t, cutsOf(items), o)
		for name, plan := range map[string]*Plan{"free": free, "fixed": fixed} {
			if n := broken(items, plan); n > 0 {
				t.Errorf("seed %d, %s: %d figures are cut after what holds them", seed, name, n)
			}
			if plan.Travel > plan.Given+1e-6 {
				t.Errorf("seed %d, %s: travel %.3f, as given %.3f", seed, name, plan.Travel, plan.Given)
			}
		}
		if freeCuts.Travel > fixedCuts.Travel+1e-6 {
			t.Errorf("seed %d: free entries %.3f, fixed %.3f", seed, freeCuts.Travel, fixedCuts.Travel)
		}
		most = max(most, len(items))
		if t.Failed() {
			return
		}
	}
	if most < 30 {
		t.Errorf("the largest sheet had only %d items", most)
	}
}

// cutsOf are the items that are cut.
func cutsOf(items []Item) (cuts []Item) {
	for _, it := range items {
		if it.Op == Cut {
			cuts = append(cuts, it)
		}
	}
	return cuts
}

// A cache gives what a search gives, of one sheet after another, of sheets that differ in
// what is marked alone, and of a search that was cut short before.
func TestCache(t *testing.T) {
	var kept Cache
	var sheets [][]Item
	for seed := range 2 * holds {
		sheets = append(sheets, nested(rand.New(rand.NewPCG(uint64(seed), 7))))
	}
	name := Item{Op: Engrave, Figure: geom.Rect{Min: geom.Pt(3, 4), W: 20, H: 5}}
	ended, end := context.WithCancel(context.Background())
	end()
	for seed, items := range slices.Concat(sheets, sheets) {
		named := append(slices.Clone(items), name)
		named[len(items)].Figure = geom.Rect{Min: geom.Pt(float64(seed), 4), W: 20, H: 5}
		for _, o := range []Options{{Steps: maybe.Is(50.0)}, {Steps: maybe.Is(50.0), Corners: true}, {Steps: maybe.Is(50.0), Fixed: true}} {
			if _, err := kept.Order(ended, items, o); err != nil {
				t.Fatal(err)
			}
			for _, items := range [][]Item{items, named, items} {
				got, err := kept.Order(context.Background(), items, o)
				if err != nil {
					t.Fatal(err)
				}
				if want := order(t, items, o); !reflect.DeepEqual(got, want) {
					t.Fatalf("sheet %d: kept %.3f mm, searched %.3f mm", seed, got.Travel, want.Travel)
				}
			}
		}
	}
	if all, kept := reflect.TypeFor[Options]().NumField(), reflect.TypeFor[asked]().NumField(); kept != all-1 { // but for Progress
		t.Errorf("of %d options a cache looks at %d", all, kept)
	}
	all := []Item{{Op: Cut, Part: 1, Figure: geom.Rect{W: 3, H: 2}}}
	for _, other := range []Item{{Op: Cut, Part: 2, Figure: all[0].Figure}, {Op: Score, Part: 1, Figure: all[0].Figure},
		{Op: Cut, Part: 1, Figure: geom.Rect{W: 3, H: 1}}, {Op: Cut, Part: 1, Figure: all[0].Figure, Parting: true}} {
		if sameItem(all[0], other) {
			t.Errorf("%+v is taken for %+v", other, all[0])
		}
	}
	if !sameItem(all[0], all[0]) {
		t.Error("an item isn't the same as itself")
	}
	if len(kept.plans) != holds {
		t.Errorf("%d plans are kept, want %d", len(kept.plans), holds)
	}
}

// Parts stay whole, unless each holds something of the other.
func TestPartsWhole(t *testing.T) {
	rect := func(x, y, w, h float64, part int) Item {
		return Item{Op: Cut, Part: part, Figure: geom.Rect{Min: geom.Pt(x, y), W: w, H: h}}
	}
	for _, c := range []struct {
		name  string
		items []Item
		want  int // changes from one part to another
	}{
		{"apart", []Item{rect(0, 0, 50, 50, 1), rect(60, 0, 50, 50, 2), rect(5, 5, 40, 5, 1), rect(65, 5, 40, 5, 2), rect(40, 40, 5, 5, 1)}, 1},
		{"one in the other", []Item{rect(0, 0, 50, 50, 1), rect(5, 5, 40, 40, 1), rect(10, 10, 20, 20, 2), rect(12, 12, 2, 2, 2)}, 1},
		{"each in the other", []Item{rect(0, 0, 50, 50, 1), rect(5, 5, 40, 40, 2), rect(100, 0, 50, 50, 2), rect(105, 5, 40, 40, 1)}, 3},
	} {
		plan := order(t, c.items, Options{})
		changes := 0
		for k := 1; k < len(plan.Runs); k++ {
			if c.items[plan.Runs[k].Item].Part != c.items[plan.Runs[k-1].Item].Part {
				changes++
			}
		}
		if n := broken(c.items, plan); n > 0 || changes > c.want {
			t.Errorf("%s: %d changes of part, want %d; %d broken", c.name, changes, c.want, n)
		}
	}
}

// boxes are squares of 20 mm scattered on a bed, each in a place of 30 mm of its own, of
// which one in so many is taken.
func boxes(n, sparse int, seed uint64) (items []Item) {
	r := rand.New(rand.NewPCG(seed, 3))
	taken := map[[2]int]bool{}
	side := int(math.Ceil(math.Sqrt(float64(n * sparse))))
	for len(items) < n {
		c := [2]int{r.IntN(side), r.IntN(side)}
		if taken[c] {
			continue
		}
		taken[c] = true
		at := geom.Pt(float64(c[0])*30+8*r.Float64(), float64(c[1])*30+8*r.Float64())
		items = append(items, Item{Op: Cut, Figure: geom.Rect{Min: at, W: 20, H: 20}})
	}
	return items
}

// Scattered boxes of 20 mm that may be entered anywhere take at least a fifth less. How
// much there is to save hangs on how far apart they are: where one place in three is
// taken it is 17 to 22 %, and a search of 20 times the steps finds 1 % more.
func TestFreeEntries(t *testing.T) {
	for _, c := range []struct {
		n, sparse int
		share     float64
	}{{50, 2, 0.8}, {200, 2, 0.8}, {200, 3, 0.8}, {50, 3, 0.84}} {
		items := boxes(c.n, c.sparse, 1)
		home := Options{From: maybe.Is(geom.Pt(0, 0)), To: maybe.Is(geom.Pt(0, 0))}
		free := order(t, items, home)
		home.Fixed = true
		fixed := order(t, items, home)
		t.Logf("%d boxes in %d places each: fixed %.0f mm, free %.0f mm, %.1f %% less", c.n, c.sparse, fixed.Travel, free.Travel, 100*(1-free.Travel/fixed.Travel))
		if free.Travel > c.share*fixed.Travel {
			t.Errorf("%d boxes: fixed %.0f mm, free %.0f mm", c.n, fixed.Travel, free.Travel)
		}
	}
}

// Where a corner is as near, it is the corner.
func TestCornersWhereEqual(t *testing.T) {
	items := []Item{
		{Op: Cut, Figure: geom.Rect{Min: geom.Pt(10, 10), W: 20, H: 20}},
		{Op: Cut, Figure: geom.Rect{Min: geom.Pt(40, 10), W: 20, H: 20}},
		{Op: Cut, Figure: geom.Rect{Min: geom.Pt(70, 10), W: 20, H: 20}},
	}
	o := Options{From: maybe.Is(geom.Pt(0, 10)), To: maybe.Is(geom.Pt(100, 10))}
	plan := order(t, items, o)
	foretest.Near(t, "travel", plan.Travel, 100, 1e-6)
	for _, r := range plan.Runs {
		p := r.Paths[0].Start
		box := items[r.Item].Figure.Bounds()
		if (p.X != box.Min.X && p.X != box.Max.X) || p.Y != 10 {
			t.Errorf("item %d is entered at %v", r.Item, p)
		}
	}
}

// Small problems come out as short as trying everything.
func TestBruteForce(t *testing.T) {
	for seed := range foretest.Sample(200, 40) {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		n := 2 + r.IntN(6)
		p := &problem{nodes: make([]node, n), fromLeaf: -1, toLeaf: -1}
		place := func() spot { return spot{float64(r.IntN(1e8)), float64(r.IntN(1e8))} }
		for i := range p.nodes {
			a := place()
			p.nodes[i] = node{ends: [2]spot{a, a}}
			if r.IntN(3) == 0 {
				p.nodes[i].ends[1] = place()
				p.nodes[i].oneWay = r.IntN(2) == 0
			}
		}
		if r.IntN(2) == 0 {
			a := place()
			p.from = &a
		}
		if r.IntN(2) == 0 {
			a := place()
			p.to = &a
		}
		var pairs [][2]int32
		for i := range n {
			for j := range i {
				if seed%3 == 0 && r.IntN(4) == 0 {
					pairs = append(pairs, [2]int32{int32(j), int32(i)})
				}
			}
		}
		p.after = bound(n, pairs)
		b := &budget{ctx: context.Background(), left: 50_000}
		got := newSearch(p, solveBound(p, true, b), b)
		if want := tryAll(p); got.total() > want+float64(2*n) {
			t.Errorf("seed %d, %d nodes: %.0f, the best is %.0f", seed, n, got.total(), want)
		}
		for i, later := range p.after {
			for _, j := range later {
				if got.at[i] > got.at[j] {
					t.Errorf("seed %d: %d comes after %d", seed, i, j)
				}
			}
		}
	}
}

func tryAll(p *problem) float64 {
	best := math.Inf(1)
	used := make([]bool, len(p.nodes))
	missing := make([]int, len(p.nodes))
	for _, later := range p.after {
		for _, j := range later {
			missing[j]++
		}
	}
	var visit func(at *spot, sum float64, count int)
	visit = func(at *spot, sum float64, count int) {
		if count == len(p.nodes) {
			if p.to != nil {
				sum += away(*at, *p.to)
			}
			best = min(best, sum)
			return
		}
		for i := range p.nodes {
			if used[i] || missing[i] > 0 {
				continue
			}
			used[i] = true
			for side := range 2 {
				if side == 1 && p.nodes[i].oneWay {
					continue
				}
				d := 0.0
				if at != nil {
					d = away(*at, p.nodes[i].ends[side])
				}
				if p.after != nil {
					for _, j := range p.after[i] {
						missing[j]--
					}
				}
				visit(&p.nodes[i].ends[1-side], sum+d, count+1)
				if p.after != nil {
					for _, j := range p.after[i] {
						missing[j]++
					}
				}
			}
			used[i] = false
		}
	}
	visit(p.from, 0, 0)
	return best
}

// A plan is the same however often it is made, and whole when it is ended early.
func TestSameAndEnded(t *testing.T) {
	items := nested(rand.New(rand.NewPCG(5, 7)))
	first := fmt.Sprint(order(t, items, Options{}).Runs)
	if again := fmt.Sprint(order(t, items, Options{}).Runs); again != first {
		t.Error("the second plan is another one")
	}
	ctx, cancel := context.WithCancel(context.Background())
	many := boxes(600, 3, 4)
	calls := 0
	plan, err := Order(ctx, many, Options{Progress: func(p Progress) {
		calls++
		if p.Travel <= 0 || p.Steps <= 0 {
			t.Errorf("progress %+v", p)
		}
		cancel()
	}})
	foretest.Must(t, err)
	checkRuns(t, many, Options{}, plan)
	if calls == 0 || plan.Travel > plan.Given {
		t.Errorf("%d calls of progress, travel %.0f of %.0f", calls, plan.Travel, plan.Given)
	}
	cancel()
	plan, err = Order(ctx, many, Options{})
	foretest.Must(t, err)
	checkRuns(t, many, Options{}, plan)
}

func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	box := geom.Rect{W: 1, H: 1}
	for name, c := range map[string]struct {
		item Item
		o    Options
	}{
		"place":   {Item{Op: Cut, Figure: geom.Rect{Min: geom.Pt(nan, 0), W: 1, H: 1}}, Options{}},
		"size":    {Item{Op: Cut, Figure: geom.Rect{W: inf, H: 1}}, Options{}},
		"far":     {Item{Op: Cut, Figure: geom.Rect{Min: geom.Pt(2e6, 0), W: 1, H: 1}}, Options{}},
		"op":      {Item{Op: Cut + 1, Figure: box}, Options{}},
		"from":    {Item{Op: Cut, Figure: box}, Options{From: maybe.Is(geom.Pt(nan, 0))}},
		"spread":  {Item{Op: Cut, Figure: box}, Options{Spread: maybe.Is(-1.0)}},
		"bridges": {Item{Op: Cut, Figure: box}, Options{Bridges: maybe.Is(Bridges{Width: nan})}},
	} {
		if _, err := Order(context.Background(), []Item{c.item}, c.o); err == nil {
			t.Errorf("%s passes", name)
		}
	}
	for name, items := range map[string][]Item{
		"nothing": nil, "no figure": {{Op: Cut}}, "an empty one": {{Op: Engrave, Figure: geom.Outline{{}}}},
	} {
		if plan, err := Order(context.Background(), items, Options{}); err != nil || len(plan.Runs) != 0 || plan.Travel != 0 {
			t.Errorf("%s: %v, %v", name, plan, err)
		}
	}
}

// Rings in one another, and strips that all cross: what binds them is found without
// looking at every pair, and the smaller comes first.
func TestCrowds(t *testing.T) {
	var rings, strips []Item
	for i := range 400 {
		rings = append(rings, Item{Op: Cut, Figure: geom.Circle{R: 201 - 0.5*float64(i)}})
	}
	for i := range 200 {
		at := float64(i)
		strips = append(strips,
			Item{Op: Cut, Figure: geom.Rect{Min: geom.Pt(2*at, 0), W: 0.5, H: 500 - at}},
			Item{Op: Cut, Figure: geom.Rect{Min: geom.Pt(0, 2*at), W: 500 + at, H: 0.5}})
	}
	plan := order(t, rings, Options{})
	for k, r := range plan.Runs {
		if r.Item != len(rings)-1-k {
			t.Fatalf("ring %d is run as number %d", r.Item, k)
		}
	}
	if !plan.Mended {
		t.Error("the rings were given from outside in")
	}
	leaves := newTour(context.Background(), strips, Options{})
	for i, later := range leaves.after {
		if len(later) > mostCrossed {
			t.Errorf("strip %d is bound to %d", i, len(later))
		}
	}
	order(t, strips, Options{Steps: maybe.Is(1.0)})
}
