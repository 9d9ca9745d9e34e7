package opening_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"unicode/utf8"

	"foredge/eval/opening"
	"foredge/lang/foretest"
)

// A feature is something that every form must have, and what must hold of it.
type feature struct {
	name  string
	holds func(t *testing.T, f opening.Form)
}

// Every form has every feature. What is told is the form's word and the
// feature's name.
func TestEveryFormHasEveryFeature(t *testing.T) {
	features := []feature{
		{"word", word}, {"stated sizes", statedSizes}, {"sign", sign}, {"corners", corners}, {"jaws", jaws},
		{"sizes that follow", sizesThatFollow}, {"span and growth", spanAndGrowth}, {"extent", extent},
		{"symmetry and concavity", symmetry}, {"middle line", middleLine}, {"depth", depth}, {"area", area}, {"ease", ease},
		{"square corners", squareCorners}, {"room", room}, {"lack of room", lackOfRoom}, {"room left", roomLeft}, {"play", play},
		{"even reach", evenReach},
	}
	for _, f := range opening.Forms() {
		for _, x := range features {
			t.Run(f.String()+"/"+x.name, func(t *testing.T) { x.holds(t, f) })
		}
	}
}

// openings are some of a form: long ones, wide ones, and those with every kind of
// corner that it may have.
func openings(f opening.Form) []opening.Opening {
	var all []opening.Opening
	for _, size := range [][2]float64{{4, 4}, {3, 5}, {6, 2.5}} {
		radii := []float64{0}
		if f.Corners() {
			radii = []float64{0, 0.1, 0.9, 2}
		}
		for _, radius := range radii {
			all = append(all, opening.Opening{Form: f, Along: size[0], Across: size[1], Radius: radius}.Regular())
		}
	}
	return all
}

// points are some within a rectangle half as large again as the opening, always
// the same ones.
func points(o opening.Opening, n int, do func(along, across float64)) {
	r := rand.New(rand.NewPCG(6, 6))
	for range n {
		do((r.Float64()-0.5)*1.5*o.Along, (r.Float64()-0.5)*1.5*o.Across)
	}
}

func word(t *testing.T, f opening.Form) {
	if f.String() == "" {
		t.Error("no word states it")
	}
	if found, ok := opening.Find(f.String()); !ok || found != f {
		t.Errorf("%q finds %q", f, found)
	}
	if found, ok := opening.Find(f.String() + "x"); ok {
		t.Errorf("%q with an x finds %q", f, found)
	}
}

func statedSizes(t *testing.T, f opening.Form) {
	sizes := f.Sizes()
	if n := len(sizes); n == 0 || n > 2 || n == 2 && sizes[0] == sizes[1] {
		t.Fatalf("it states the sizes %v", sizes)
	}
	adjective, measure, single := f.Single()
	tied, factor, why, ok := f.Tied()
	if one := len(sizes) == 1; ok != one || single != one {
		t.Fatalf("it states %v; a size follows: %v, it is spoken of by one: %v", sizes, ok, single)
	}
	if ok && (tied == sizes[0] || !(factor > 0) || why == "" || adjective == "" || measure == "") {
		t.Errorf("%v follows by %g, because %q; it is %q, a size of it %q", tied, factor, why, adjective, measure)
	}
	for _, size := range []opening.Size{opening.Along, opening.Across} {
		if f.Ties(size) != (ok && size == tied) {
			t.Errorf("it ties %v: %v", size, f.Ties(size))
		}
	}
}

func sign(t *testing.T, f opening.Form) {
	if utf8.RuneCountInString(f.Sign()) != 2 {
		t.Errorf("%q are not two letters", f.Sign())
	}
}

// A radius changes what it is stated of, and nothing else.
func corners(t *testing.T, f opening.Form) {
	plain := opening.Opening{Form: f, Along: 4, Across: 4}.Regular()
	with := plain
	with.Radius = 1
	if changes := with.Area() != plain.Area(); changes != f.Corners() {
		t.Errorf("a radius changes it: %v, and may be stated: %v", changes, f.Corners())
	}
}

// Jaws with a flat of 0.2 mm read an opening too small if it has no straight side
// to lie against, neither along nor across.
func jaws(t *testing.T, f opening.Form) {
	const flat = 0.2
	straight := false
	for _, o := range openings(f) {
		straight = straight || o.Depth(o.Along/2-1e-9, flat/2) >= 0 || o.Depth(flat/2, o.Across/2-1e-9) >= 0
	}
	if f.JawsReadLow() == straight {
		t.Errorf("some have a straight side: %v, and jaws read it low: %v", straight, f.JawsReadLow())
	}
}

func sizesThatFollow(t *testing.T, f opening.Form) {
	o := opening.Opening{Form: f, Along: 3, Across: 5, Radius: 0.5}
	regular := o.Regular()
	tied, factor, _, ok := f.Tied()
	switch {
	case !ok && regular != o:
		t.Errorf("%+v becomes %+v, and nothing follows", o, regular)
	case ok && tied == opening.Along:
		foretest.Near(t, "along", regular.Along, 5*factor, 1e-12)
		foretest.Near(t, "what is stated", regular.Stated(), 5, 0)
	case ok:
		foretest.Near(t, "across", regular.Across, 3*factor, 1e-12)
		foretest.Near(t, "what is stated", regular.Stated(), 3, 0)
	}
}

func spanAndGrowth(t *testing.T, f opening.Form) {
	_, _, _, tied := f.Tied()
	for _, want := range [][2]float64{{2, 2}, {1, 3}, {3, 1}} {
		o := opening.Opening{Form: f, Along: 9, Across: 9}.Spanning(want[0], want[1])
		long, wide := o.Along-want[0], o.Across-want[1]
		if long < -1e-12 || wide < -1e-12 || min(long, wide) > 1e-12 || !tied && max(long, wide) > 0 {
			t.Errorf("the least that spans %v is %+v", want, o)
		}
		if o != o.Regular() {
			t.Errorf("%+v is not regular", o)
		}
		wider := o.Wider(0.5)
		if wider != wider.Regular() || !(wider.Across > o.Across) {
			t.Errorf("%+v becomes %+v", o, wider)
		}
		points(o, 200, func(along, across float64) {
			if wider.Depth(along, across) < o.Depth(along, across)-1e-12 {
				t.Fatalf("%+v is less deep at (%g, %g) than %+v", wider, along, across, o)
			}
		})
		if longer := o.Lengthened(7); tied && longer != o || !tied && (longer.Along != 7 || longer.Across != o.Across) || o.Lengthened(0.5) != o {
			t.Errorf("%+v becomes %+v", o, longer)
		}
	}
}

// The rim meets both axes where the sizes say.
func extent(t *testing.T, f opening.Form) {
	for _, o := range openings(f) {
		foretest.Near(t, fmt.Sprintf("%+v: depth at the end along", o), o.Depth(o.Along/2, 0), 0, 1e-12)
		foretest.Near(t, fmt.Sprintf("%+v: depth at the end across", o), o.Depth(0, o.Across/2), 0, 1e-12)
		points(o, 500, func(along, across float64) {
			if (math.Abs(along) > o.Along/2 || math.Abs(across) > o.Across/2) && o.Depth(along, across) >= 0 {
				t.Fatalf("%+v holds (%g, %g)", o, along, across)
			}
		})
	}
}

func symmetry(t *testing.T, f opening.Form) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, o := range openings(f) {
		points(o, 500, func(x, y float64) {
			d := o.Depth(x, y)
			if d != o.Depth(-x, y) || d != o.Depth(x, -y) {
				t.Fatalf("%+v at (%g, %g) is not symmetric", o, x, y)
			}
			u, v, share := (r.Float64()-0.5)*6, (r.Float64()-0.5)*6, r.Float64()
			if between := o.Depth(x+share*(u-x), y+share*(v-y)); between < d+share*(o.Depth(u, v)-d)-1e-12 {
				t.Fatalf("%+v is not concave between (%g, %g) and (%g, %g)", o, x, y, u, v)
			}
		})
	}
}

func middleLine(t *testing.T, f opening.Form) {
	for _, o := range openings(f) {
		for y := -0.5; y <= 0.5; y += 0.05 {
			foretest.Near(t, fmt.Sprintf("%+v: depth %g across", o, y), o.Depth(0, y*o.Across), min(o.Along/2, o.Across*(0.5-math.Abs(y))), 1e-12)
		}
	}
}

// A circle whose radius is the depth lies inside and touches the rim.
func depth(t *testing.T, f opening.Form) {
	for _, o := range openings(f) {
		points(o, 200, func(x, y float64) {
			d := o.Depth(x, y)
			if d <= 0 {
				return
			}
			least := math.Inf(1)
			for k := range 3600 {
				sin, cos := math.Sincos(float64(k) * math.Pi / 1800)
				least = min(least, o.Depth(x+d*cos, y+d*sin))
			}
			if least < -1e-9 || least > 1e-5 {
				t.Fatalf("%+v at (%g, %g): a circle of its depth %g comes to %g from the rim", o, x, y, d, least)
			}
		})
	}
}

// The area is the sum of narrow strips whose ends are found by halving.
func area(t *testing.T, f opening.Form) {
	const strips = 4000
	for _, o := range openings(f) {
		sum := 0.0
		for i := range strips {
			x := (float64(i) + 0.5) / strips * o.Along / 2
			low, high := 0.0, o.Across
			for range 40 {
				if mid := (low + high) / 2; o.Depth(x, mid) >= 0 {
					low = mid
				} else {
					high = mid
				}
			}
			sum += low
		}
		foretest.Near(t, fmt.Sprintf("area of %+v", o), o.Area(), 4*sum*o.Along/2/strips, 1e-4)
	}
}

// Ease moves the rim by half of it everywhere, so that the middle and all that is
// in the opening lie deeper by so much.
func ease(t *testing.T, f opening.Form) {
	for _, o := range openings(f) {
		for _, e := range []float64{0.4, 0.01, -0.3} {
			eased := o.Eased(e)
			foretest.Near(t, fmt.Sprintf("depth of the middle of %+v, eased by %g", o, e), eased.Depth(0, 0), o.Depth(0, 0)+e/2, 1e-12)
			points(o, 500, func(x, y float64) {
				if d := o.Depth(x, y); d > max(0, -e/2) && math.Abs(eased.Depth(x, y)-d-e/2) > 1e-12 {
					t.Fatalf("%+v, eased by %g: the depth at (%g, %g) is %g, and was %g", o, e, x, y, eased.Depth(x, y), d)
				}
			})
			regular := eased.Regular()
			foretest.Near(t, "along as it follows", regular.Along, eased.Along, 1e-12)
			foretest.Near(t, "across as it follows", regular.Across, eased.Across, 1e-12)
		}
	}
}

func squareCorners(t *testing.T, f opening.Form) {
	for _, o := range openings(f) {
		if corner := math.Abs(o.Depth(o.Along/2, o.Across/2)) < 1e-12; corner != o.Square() {
			t.Errorf("%+v: its corner is in it: %v, it is square: %v", o, corner, o.Square())
		}
	}
}
