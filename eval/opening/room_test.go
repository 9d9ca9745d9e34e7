package opening_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/opening"
	"foredge/lang/foretest"
)

// A passage is an opening with what goes through it.
type passage struct {
	opening          opening.Opening
	wire, pair, more float64
}

func (p passage) String() string {
	return fmt.Sprintf("%s %g by %g, radius %g, %g larger, for a wire of %g over %g", p.opening.Form, p.opening.Along,
		p.opening.Across, p.opening.Radius, p.more, p.wire, p.pair)
}

func (p passage) room() opening.Room { return p.opening.Room(p.wire, p.pair, p.more) }

// spare is how far the wires stay from the rim with their centre at a place, by
// the depth of the larger opening alone.
func (p passage) spare(along, across float64) float64 {
	larger, apart := p.opening.Eased(p.more), max(0, p.pair-p.wire)/2
	return min(larger.Depth(along-apart, across), larger.Depth(along+apart, across)) - p.wire/2
}

// passages are some through openings of a form: of one wire, of two, of wires
// nearly as thick as the opening is wide.
func passages(f opening.Form) []passage {
	var all []passage
	for _, o := range openings(f) {
		for _, w := range [][2]float64{{1, 1}, {0.4, 0.4}, {2.3, 2.3}, {0.9, 1.8}, {0.5, 2}, {0.3, 2.2}} {
			for _, more := range []float64{0, 0.6, -0.2} {
				if w[0] < min(o.Along, o.Across)+more {
					all = append(all, passage{o, w[0], w[1], more})
				}
			}
		}
	}
	return all
}

// A centre lies in the room if and only if discs as large as the wires lie in the
// opening.
func room(t *testing.T, f opening.Form) {
	for _, p := range passages(f) {
		r := p.room()
		// A pair may have less room across than a wire of its own, never more.
		most := p.opening.Eased(p.more).Across/2 - p.wire/2
		if r.Span() > most+1e-12 || p.pair == p.wire && r.Span() < most-1e-12 {
			t.Errorf("%v: the span is %g, and one wire may be off by %g", p, r.Span(), most)
		}
		in := 0
		points(p.opening, 400, func(x, y float64) {
			spare, reach := p.spare(x, y), r.Reach(y)
			if spare >= 0 {
				in++
			}
			if math.Abs(spare) > 1e-9 && (spare > 0) != (reach >= math.Abs(x)) {
				t.Fatalf("%v: (%g, %g) has %g to spare, and the reach there is %g", p, x, y, spare, reach)
			}
			if spare > 0 && math.Abs(y) > r.Span() {
				t.Fatalf("%v: (%g, %g) has %g to spare, but the span is %g", p, x, y, spare, r.Span())
			}
		})
		if in == 0 && r.Left() > 0.3 {
			t.Errorf("%v: none of the points is in, though %g is left", p, r.Left())
		}
	}
}

// What a centre lacks is nothing where it has as much to spare; and with the
// opening grown by what it lacks, it touches.
func lackOfRoom(t *testing.T, f opening.Form) {
	for _, p := range passages(f) {
		r := p.room()
		points(p.opening, 300, func(x, y float64) {
			lacks := r.Lacks(x, y)
			if spare := p.spare(x, y); spare > 0 && math.Abs(lacks+spare) > 1e-9 {
				t.Fatalf("%v: (%g, %g) has %g to spare, and lacks %g", p, x, y, spare, lacks)
			}
			foretest.Near(t, fmt.Sprintf("%v: what (%g, %g) lacks in a room grown by it", p, x, y), r.Grown(lacks).Lacks(x, y), 0, 1e-9)
			if grown := r.Grown(lacks + 1e-6); grown.Reach(y) < math.Abs(x) {
				t.Fatalf("%v: (%g, %g) lacks %g, but isn't reached with that", p, x, y, lacks)
			}
			if lacks > 0 && r.Grown(lacks-1e-6).Reach(y) > math.Abs(x) {
				t.Fatalf("%v: (%g, %g) lacks %g, but is reached with less", p, x, y, lacks)
			}
		})
	}
}

// Shrunk by what is left, and no more, the room still has its middle.
func roomLeft(t *testing.T, f opening.Form) {
	for _, p := range passages(f) {
		r := p.room()
		foretest.Near(t, fmt.Sprintf("%v: left", p), r.Left(), -r.Lacks(0, 0), 1e-12)
		if least := r.Grown(1e-9 - r.Left()); least.Reach(0) < 0 {
			t.Errorf("%v: nothing is left after %g", p, r.Left())
		}
		if none := r.Grown(-1e-9 - r.Left()); none.Reach(0) >= 0 {
			t.Errorf("%v: more than %g is left", p, r.Left())
		}
	}
}

// The play is how far the wires can move to each side from the middle, found by
// halving.
func play(t *testing.T, f opening.Form) {
	for _, p := range passages(f) {
		if p.more != 0 || p.spare(0, 0) < 0 {
			continue
		}
		farthest := func(at func(x float64) float64) float64 {
			low, high := 0.0, 10.0
			for range 50 {
				if mid := (low + high) / 2; at(mid) >= 0 {
					low = mid
				} else {
					high = mid
				}
			}
			return low
		}
		along, across := p.opening.Play(p.wire, p.pair)
		foretest.Near(t, p.String()+": play along", along, farthest(func(x float64) float64 { return p.spare(x, 0) }), 1e-9)
		one := passage{p.opening, p.wire, p.wire, 0}
		foretest.Near(t, p.String()+": play across", across, farthest(func(y float64) float64 { return one.spare(0, y) }), 1e-9)
	}
}

func evenReach(t *testing.T, f opening.Form) {
	for _, p := range passages(f) {
		r := p.room()
		same := true
		for share := 0.0; share < 1; share += 1.0 / 64 {
			same = same && r.Reach(share*r.Span()) == r.Reach(0)
		}
		if r.Even() != same && r.Left() > 0.1 {
			t.Errorf("%v: the reach is the same everywhere: %v, and said to be: %v", p, same, r.Even())
		}
	}
}

// The share of random discs that lie in a hexagon is that of the areas: the room
// is a hexagon too, smaller by the disc. The deviation of a share of n is
// sqrt(p (1 - p) / n).
func TestDiscsInHexagon(t *testing.T) {
	const n, disc = 400_000, 1.2
	o := opening.Opening{Form: opening.Hex, Across: 4}.Regular()
	r := rand.New(rand.NewPCG(8, 8))
	in := 0
	for range n {
		x, y := (r.Float64()-0.5)*o.Along, (r.Float64()-0.5)*o.Across
		inside := true
		for k := range 6 { // the flats' normals, the first square to the row
			sin, cos := math.Sincos(math.Pi/2 + float64(k)*math.Pi/3)
			inside = inside && x*cos+y*sin <= (o.Across-disc)/2
		}
		if inside != (o.Depth(x, y) >= disc/2) {
			t.Fatalf("a disc at (%g, %g) is inside: %v, depth %g", x, y, inside, o.Depth(x, y))
		}
		if inside {
			in++
		}
	}
	p := o.Eased(-disc).Area() / (o.Along * o.Across)
	foretest.Near(t, "share", float64(in)/n, p, 4*math.Sqrt(p*(1-p)/n))
	// A regular hexagon of the inradius r has the area 2√3 r².
	foretest.Near(t, "area", o.Area(), 2*math.Sqrt(3)*4, 1e-12)
}
