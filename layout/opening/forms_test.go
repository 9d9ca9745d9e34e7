package opening_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	form "foredge/eval/opening"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
	"foredge/layout/kerf"
	"foredge/layout/opening"
)

// sample is openings of every form that there is, each as large as its form lets
// it be: of a form of which one size follows from the other, only that is taken.
func sample(t testing.TB) []form.Opening {
	t.Helper()
	var all []form.Opening
	for _, f := range form.Forms() {
		for _, size := range [][2]float64{{9, 6}, {5, 12}} {
			o := form.Opening{Form: f, Along: size[0], Across: size[1]}
			if tied, factor, _, ok := f.Tied(); ok && tied == form.Along {
				o.Along = factor * o.Across
			} else if ok {
				o.Across = factor * o.Along
			}
			all = append(all, o)
			if f.Corners() {
				o.Radius = 1.75
				all = append(all, o)
				o.Radius = min(o.Along, o.Across) / 2
				all = append(all, o)
			}
		}
	}
	return all
}

// wrongly tells what is wrong, as Printf does.
type wrongly = func(format string, args ...any)

// A feature is what every form of opening must have. It tells what is wrong with
// an opening, or is silent.
type feature struct {
	name string
	of   func(o form.Opening, wrong wrongly)
}

// same reports whether two areas differ by no more than a thousand-millionth.
func same(got, want float64) bool { return math.Abs(got-want) <= 1e-9*math.Abs(want) }

// both is an opening in a place, lying and upright.
func both(o form.Opening) []opening.Placed {
	at := geom.Pt(31.7, 19.3)
	return []opening.Placed{{Opening: o, At: at}, {Opening: o, At: at, Upright: true}}
}

// depth is how deep a place of the drawing lies in an opening, by its numbers.
func depth(p opening.Placed, x geom.Point) float64 {
	d := x.Sub(p.At)
	if p.Upright {
		d.X, d.Y = d.Y, d.X
	}
	return p.Depth(d.X, d.Y)
}

func features() []feature {
	return []feature{
		{"the area of its figure", func(o form.Opening, wrong wrongly) {
			for _, p := range both(o) {
				if got := geom.Area(p.Figure()); !same(got, o.Area()) {
					wrong("%.9g mm², not %.9g", got, o.Area())
				}
			}
		}},
		{"the bounds of its figure", func(o form.Opening, wrong wrongly) {
			for i, p := range both(o) {
				w, h := o.Along, o.Across
				if i == 1 {
					w, h = h, w
				}
				if b := p.Figure().Bounds(); !near(b, geom.CenterRect(p.At, w, h).Bounds()) {
					wrong("from %v to %v about %v", b.Min, b.Max, p.At)
				}
			}
		}},
		{"what lies inside it", func(o form.Opening, wrong wrongly) {
			for _, p := range both(o) {
				edge := geom.NewBoundary(p.Figure())
				grid(edge.Box.Grow(1), func(x geom.Point) {
					d := depth(p, x)
					if in := edge.Contains(x); math.Abs(d) > 1e-6 && in != (d > 0) {
						wrong("that %v lies inside is %v, but its depth is %g", x, in, d)
					}
				})
			}
		}},
		{"its kerf", func(o form.Opening, wrong wrongly) {
			const width = 0.3
			for _, p := range both(o) {
				got, err := kerf.Offset(p.Figure(), -width/2)
				if err != nil {
					wrong("%v", err)
					continue
				}
				p.Opening = o.Eased(-width)
				if a := math.Abs(geom.Area(got)); !same(a, p.Area()) || !near(got.Bounds(), p.Figure().Bounds()) {
					wrong("%.9g mm² in %v, not %.9g in %v", a, got.Bounds(), p.Area(), p.Figure().Bounds())
				}
			}
		}},
		{"its neck", necks},
	}
}

// necks puts openings into all sides of a board, open by necks of every width.
func necks(o form.Opening, wrong wrongly) {
	board := geom.Rect{Min: geom.Pt(3, 5), W: 60, H: 50}
	for side := opening.Upper; side <= opening.Left; side++ {
		for _, turned := range []bool{false, true} {
			for _, part := range []float64{0.02, 0.3, 0.5, 0.7, 0.95, 1} {
				n := opening.Notch{Opening: o, Side: side, At: 28.5, Near: 2.5, Turned: turned}
				n.Neck = part * n.Wide()
				neck(n, board, func(format string, args ...any) {
					wrong("a neck of %.3g on side %d, turned %v: %s", n.Neck, side, turned, fmt.Sprintf(format, args...))
				})
			}
		}
	}
}

// neck holds a notch against the opening and the neck that it is made of.
func neck(n opening.Notch, board geom.Rect, wrong wrongly) {
	p, middle, run := placed(n, board.Bounds())
	half := run.Mul(n.Neck / 2)
	box := geom.EmptyBox()
	for _, x := range []geom.Point{middle.Sub(half), middle.Add(half), p.At.Sub(half), p.At.Add(half)} {
		box = box.Union(geom.Box{Min: x, Max: x})
	}
	fig := n.Figure(board.Bounds())
	if !fig.Closed || !geom.NewBoundary(fig).Simple() {
		wrong("this is no closed line that keeps off itself: %v", fig)
		return
	}
	// What of the neck lies outside the opening, strip by strip. The opening is
	// convex, so from its middle line out its rim is met once.
	want := p.Area()
	const strips = 500
	for i := range strips {
		beside := half.Mul(2*(float64(i)+0.5)/strips - 1)
		from, to := p.At.Add(beside), middle.Add(beside)
		lo, hi := 0.0, 1.0
		for range 40 {
			if mid := (lo + hi) / 2; depth(p, from.Lerp(to, mid)) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		want += (1 - lo) * from.Distance(to) * n.Neck / strips
	}
	if got := math.Abs(fig.Area()); math.Abs(got-want) > 1e-4*want {
		wrong("%.6f mm², not %.6f", got, want)
	}
	edge, lost := opening.WithNotches(board, []opening.Notch{n})
	bounds := geom.NewBoundary(edge)
	if len(lost) > 0 || len(geom.Paths(edge)) != 1 || !bounds.Simple() {
		wrong("the board's outline is %v, %d lost", edge, len(lost))
		return
	}
	if got := geom.Area(edge); !same(got, board.W*board.H-math.Abs(fig.Area())) {
		wrong("%.9g mm² of the board are left", got)
	}
	grid(box.Union(p.Figure().Bounds()).Grow(1), func(x geom.Point) {
		open := max(depth(p, x), inside(box, x))
		onBoard := inside(board.Bounds(), x)
		if math.Abs(open) > 1e-6 && math.Abs(onBoard) > 1e-6 && bounds.Contains(x) != (open < 0 && onBoard > 0) {
			wrong("that %v is board is %v", x, bounds.Contains(x))
		}
	})
}

// placed is a notch's opening in its place on a board, with the middle of the
// neck's mouth and the direction of the side.
func placed(n opening.Notch, board geom.Box) (p opening.Placed, middle, run geom.Point) {
	p = opening.Placed{Opening: n.Opening, Upright: n.Turned == n.Side.Level()}
	w, h := p.Size()
	switch n.Side {
	case opening.Upper:
		middle = geom.Pt(n.At, board.Min.Y)
		p.At = middle.Add(geom.Pt(0, n.Near+h/2))
	case opening.Lower:
		middle = geom.Pt(n.At, board.Max.Y)
		p.At = middle.Sub(geom.Pt(0, n.Near+h/2))
	case opening.Left:
		middle = geom.Pt(board.Min.X, n.At)
		p.At = middle.Add(geom.Pt(n.Near+w/2, 0))
	case opening.Right:
		middle = geom.Pt(board.Max.X, n.At)
		p.At = middle.Sub(geom.Pt(n.Near+w/2, 0))
	}
	if n.Side.Level() {
		return p, middle, geom.Pt(1, 0)
	}
	return p, middle, geom.Pt(0, 1)
}

// inside is how deep a place lies in a box, below 0 outside.
func inside(b geom.Box, x geom.Point) float64 {
	return min(x.X-b.Min.X, b.Max.X-x.X, x.Y-b.Min.Y, b.Max.Y-x.Y)
}

func near(a, b geom.Box) bool { return max(a.Min.Distance(b.Min), a.Max.Distance(b.Max)) < 1e-9 }

// grid goes over a box in steps that hit no corner of the samples.
func grid(b geom.Box, at func(geom.Point)) {
	for x := b.Min.X; x < b.Max.X; x += 0.5137 {
		for y := b.Min.Y; y < b.Max.Y; y += 0.4973 {
			at(geom.Pt(x, y))
		}
	}
}

// Every form has every feature. What fails names the form and what it lacks.
func TestEveryFormHasEveryFeature(t *testing.T) {
	for _, o := range sample(t) {
		for _, f := range features() {
			t.Run(fmt.Sprintf("%s/%s", o.Form, f.name), func(t *testing.T) {
				told := 0
				f.of(o, func(format string, args ...any) {
					if told++; told < 4 {
						t.Errorf("a %s hole of %.4g by %.4g mm, corners %.4g: %s is wrong: %s", o.Form, o.Along, o.Across, o.Radius, f.name, fmt.Sprintf(format, args...))
					}
				})
			})
		}
	}
}

// A radius is at most half of the smaller size.
func TestFitted(t *testing.T) {
	for _, c := range []struct {
		radius, want float64
		ok           bool
	}{{0, 0, true}, {2, 2, true}, {3, 3, true}, {3 + 1e-7, 3, true}, {3.01, 0, false}} {
		o, ok := opening.Fitted(form.Opening{Along: 9, Across: 6, Radius: c.radius})
		if ok != c.ok || o.Radius != c.want {
			t.Errorf("a radius of %g becomes %g, fits %v", c.radius, o.Radius, ok)
		}
	}
}

// GEOS grows boards with an opening of every form in each side, and shrinks the
// closed openings, by half a kerf with corners left sharp.
func TestKerfAgainstGEOS(t *testing.T) {
	const fine, width = 1e-5, 0.3
	type job struct {
		Name        string
		Figure, Got []geom.Point
		By          float64
	}
	var jobs []job
	add := func(name string, fig geom.Figure, by float64) {
		got, err := kerf.Offset(fig, by)
		if err != nil || len(geom.Paths(got)) != 1 {
			t.Errorf("%s: %v", name, err)
			return
		}
		jobs = append(jobs, job{name, geom.Paths(fig)[0].Flatten(fine), geom.Paths(got)[0].Flatten(fine), by})
	}
	board := geom.Rect{W: 60, H: 50}
	for _, o := range sample(t) {
		name := fmt.Sprintf("%s of %.4g by %.4g, corners %.4g", o.Form, o.Along, o.Across, o.Radius)
		for _, p := range both(o) {
			add(name, p.Figure(), -width/2)
		}
		for _, turned := range []bool{false, true} {
			for _, neck := range []float64{0.4, 0.8, 1} {
				var notches []opening.Notch
				for side := opening.Upper; side <= opening.Left; side++ {
					n := opening.Notch{Opening: o, Side: side, At: 25, Near: 2.5, Turned: turned}
					n.Neck = neck * n.Wide()
					notches = append(notches, n)
				}
				edge, lost := opening.WithNotches(board, notches)
				if len(lost) > 0 {
					t.Errorf("%s: %d notches lost", name, len(lost))
				}
				add(fmt.Sprintf("%s, a neck of %g, turned %v", name, neck, turned), edge, width/2)
			}
		}
	}
	var miss []float64
	geos.Ask(t, `
polygon = lambda ring: Polygon([(p["X"], p["Y"]) for p in ring])
answer = [polygon(j["Got"]).symmetric_difference(polygon(j["Figure"]).buffer(j["By"], join_style=2, mitre_limit=10)).area for j in data]
`, jobs, &miss)
	for i, m := range miss {
		if m > 0.005 {
			t.Errorf("%s: GEOS differs by %.6f mm²", jobs[i].Name, m)
		}
	}
	t.Logf("%d figures, at most %.6f mm² off", len(miss), slices.Max(miss))
}
