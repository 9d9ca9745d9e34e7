package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/lang/foretest"
)

// A shape is a hole, and the rule by which a round wire lies inside it, written
// out for each form by itself.
type shape struct {
	name   string
	hole   opening.Opening
	pair   float64 // over both wires of a loop, 0 for a single one
	inside func(x, y, wire, wider float64) bool
}

func shapes() []shape {
	rect := func(x, y, along, across float64) bool { return math.Abs(x) <= along/2 && math.Abs(y) <= across/2 }
	// stadium is all within r of a straight line of the given length.
	stadium := func(x, y, length, r float64) bool {
		return r >= 0 && math.Hypot(math.Max(0, math.Abs(x)-length/2), y) <= r
	}
	// hexagon is all that six lines leave on the middle's side, two of them along the row.
	hexagon := func(x, y, flats float64) bool {
		for k := range 6 {
			sin, cos := math.Sincos(math.Pi/2 + float64(k)*math.Pi/3)
			if x*cos+y*sin > flats/2 {
				return false
			}
		}
		return true
	}
	return []shape{
		{"rect", opening.Opening{Form: opening.Rect, Along: 1.30, Across: 1.34}, 0, func(x, y, w, g float64) bool {
			return rect(x, y, 1.30+g-w, 1.34+g-w)
		}},
		{"round", opening.Opening{Form: opening.Round, Along: 1.33, Across: 1.33}, 0, func(x, y, w, g float64) bool {
			return math.Hypot(x, y) <= (1.33+g-w)/2
		}},
		{"slot along", opening.Opening{Form: opening.Slot, Along: 1.36, Across: 1.29}, 0, func(x, y, w, g float64) bool {
			return stadium(x, y, 0.07, (1.29+g-w)/2)
		}},
		{"slot across", opening.Opening{Form: opening.Slot, Along: 1.28, Across: 1.40}, 0, func(x, y, w, g float64) bool {
			return stadium(y, x, 0.12, (1.28+g-w)/2)
		}},
		{"rounded rect", opening.Opening{Form: opening.Rect, Along: 1.34, Across: 1.32, Radius: 0.58}, 0, func(x, y, w, g float64) bool {
			r := math.Max(0, 0.58+g/2-w/2)
			a, b := (1.34+g-w)/2, (1.32+g-w)/2
			return rect(x, y, 2*a, 2*b) && (math.Abs(x) <= a-r || math.Abs(y) <= b-r ||
				math.Hypot(math.Abs(x)-(a-r), math.Abs(y)-(b-r)) <= r)
		}},
		{"loop in a slot", opening.Opening{Form: opening.Slot, Along: 2.36, Across: 1.40}, 2, func(x, y, w, g float64) bool {
			r := (1.40 + g - w) / 2
			return stadium(x-0.5, y, 0.96, r) && stadium(x+0.5, y, 0.96, r)
		}},
		{"hex", hex(1.31), 0, func(x, y, w, g float64) bool {
			return hexagon(x, y, 1.31+g-w)
		}},
		{"loop in a hex", hex(2.20), 2, func(x, y, w, g float64) bool {
			return hexagon(x-0.5, y, 2.20+g-w) && hexagon(x+0.5, y, 2.20+g-w)
		}},
	}
}

func hex(flats float64) opening.Opening {
	return opening.Opening{Form: opening.Hex, Across: flats}.Regular()
}

// Deviations made of independent causes, in mm: how much each of the four moves
// with each cause.
func causes() map[string][4][]float64 {
	return map[string][4][]float64{
		"apart":       {{0.06, 0, 0, 0, 0}, {0.04, 0.07, 0, 0, 0}, {0, 0, 0.08, 0, 0}, {0, 0, 0, 0.01, 0}},
		"shared":      {{0.06, 0, 0, 0.02, 0}, {-0.03, 0.06, 0.01, 0.02, 0}, {0.03, 0, 0.05, 0, 0}, {0, 0.004, 0, 0.012, 0.01}},
		"one cause":   {{0.05}, {0.09}, {0.04}, {0.01}},
		"room sure":   {{0.07, 0}, {0.02, 0.08}, {0.05, 0.03}, {0, 0}},
		"room unsure": {{0.002, 0, 0}, {0.002, 0.004, 0}, {0, 0.003, 0}, {0, 0, 0.05}},
		"sure across": {{0.07, 0}, {0.1, 0.05}, {0, 0}, {0, 0.03}},
	}
}

func covarianceOf(a [4][]float64) [][]float64 {
	cov := make([][]float64, 4)
	for i := range cov {
		cov[i] = make([]float64, 4)
		for j := range cov[i] {
			for k := range a[i] {
				cov[i][j] += a[i][k] * a[j][k]
			}
		}
	}
	return cov
}

// What is worked out agrees with a million simulated rows within four standard
// errors, for every form of hole and every pattern of common causes, and so
// does the simulation that rows of unequal gaps rest on.
func TestClearsAgainstSimulation(t *testing.T) {
	const wire, holes = 1.0, 3
	rows := foretest.Sample(1_000_000, 20_000)
	n := float64(rows)
	t.Parallel()
	for name, a := range causes() {
		rng := rand.New(rand.NewPCG(9, 9))
		inside := make([]int, len(shapes()))
		z := make([]float64, len(a[0]))
		for range rows {
			for i := range z {
				z[i] = rng.NormFloat64()
			}
			var d [4]float64
			for i := range d {
				for k, c := range a[i] {
					d[i] += c * z[k]
				}
			}
			for i, s := range shapes() {
				clear := true
				for k := range holes { // all of them, not just the ends
					x := d[atFirst] + (d[atLast]-d[atFirst])*float64(k)/(holes-1)
					clear = clear && s.inside(x, d[across], wire, 2*d[room])
				}
				if clear {
					inside[i]++
				}
			}
		}
		cov := covarianceOf(a)
		for i, s := range shapes() {
			p := deviationsOf(cov).clears(s.hole.Room(wire, s.pair, 0))
			got := float64(inside[i]) / n
			if err := math.Sqrt(p * (1 - p) / n); math.Abs(got-p) > 4*err+1e-6 {
				t.Errorf("%s, %s: worked out %.6f, simulated %.6f, %.1f standard errors apart", s.name, name, p, got, math.Abs(got-p)/err)
			}
			q, err := simulate(cov[:4], s.hole.Room(wire, s.pair, 0))(0)
			if both := math.Hypot(err, math.Sqrt(p*(1-p)/n)); math.Abs(q-got) > 4*both+1e-6 {
				t.Errorf("%s, %s: simulated %.6f here and %.6f there", s.name, name, q, got)
			}
		}
	}
}

// A hole that is larger never clears less surely, and all that is worked out is
// a probability.
func TestWiderIsSurer(t *testing.T) {
	t.Parallel()
	names := []string{"shared", "apart", "one cause"}
	for _, name := range names[:foretest.Sample(len(names), 1)] {
		cov := covarianceOf(causes()[name])
		for _, s := range shapes() {
			simulated := simulate(cov, s.hole.Room(1, s.pair, 0))
			last, lastSimulated := 0.0, 0.0
			for more := -0.6; more < 1; more += 0.2 {
				p := deviationsOf(cov).clears(s.hole.Room(1, s.pair, more))
				q, err := simulated(more)
				if !(p >= last-1e-7 && p <= 1+1e-7) || q < lastSimulated {
					t.Fatalf("%s, %s: %.8f after %.8f, simulated %.6f after %.6f", s.name, name, p, last, q, lastSimulated)
				}
				if math.Abs(p-q) > 5*math.Max(err, 1e-5) && math.Abs(p-q) > 5*math.Sqrt(p*(1-p)/draws) {
					t.Errorf("%s, %s, %.2f wider: %.6f, simulated %.6f", s.name, name, more, p, q)
				}
				last, lastSimulated = p, q
			}
			if last < 0.99 {
				t.Errorf("%s, %s: not sure of a hole twice as wide", s.name, name)
			}
		}
	}
}

// Where nothing is unsure, a wire that fits fits.
func TestNothingUnsure(t *testing.T) {
	for _, s := range shapes() {
		e := deviationsOf(covarianceOf([4][]float64{{0}, {0}, {0}, {0}}))
		if p := e.clears(s.hole.Room(1, s.pair, 0)); p != 1 {
			t.Errorf("%s: %g", s.name, p)
		}
		pair := s.pair
		if pair > 0 {
			pair += 0.5
		}
		if p := e.clears(s.hole.Room(1.5, pair, 0)); p != 0 {
			t.Errorf("%s with a wire too thick: %g", s.name, p)
		}
	}
}

// The least ease is enough and one step less is not, for every form of hole; also
// where a pair has no room along the row yet, though one wire has some across, and
// where hardly anything is unsure.
func TestLeastEaseOfEveryForm(t *testing.T) {
	for _, f := range opening.Forms() {
		for _, c := range []struct{ along, across, pair, unsure float64 }{{1.2, 1.4, 1, 1}, {2.2, 2.2, 2, 1}, {2, 1.8, 2.6, 1}, {2, 1.8, 2.6, 0.01}} {
			spread := causes()["room sure"]
			for i := range spread {
				for k := range spread[i] {
					spread[i][k] *= c.unsure
				}
			}
			d := deviationsOf(covarianceOf(spread))
			hole := opening.Opening{Form: f, Along: c.along, Across: c.across}.Regular()
			probability := func(more float64) (float64, float64) { return d.clears(hole.Room(1, c.pair, more)), 0 }
			at := Clearance{Ease: maybe.Is(0.1), Step: 0.01}
			at.findLeast(hole.Room(1, c.pair, 0).Left(), math.Inf(1), probability)
			more, ok := at.More99.Get()
			enough, _ := probability(more)
			less, _ := probability(more - at.Step)
			if !ok || enough < wanted || less >= wanted || math.Abs(at.Ease99.Or(0)-more-0.1) > 1e-12 {
				t.Errorf("%s %g by %g for %g: %+v, with it %.6f, with a step less %.6f", f, hole.Along, hole.Across, c.pair, at, enough, less)
			}
		}
	}
}

func BenchmarkClears(b *testing.B) {
	for _, s := range shapes() {
		b.Run(s.name, func(b *testing.B) {
			e := deviationsOf(covarianceOf(causes()["shared"]))
			for b.Loop() {
				e.clears(s.hole.Room(1, s.pair, 0))
			}
		})
	}
}
