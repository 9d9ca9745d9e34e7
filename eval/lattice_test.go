package eval_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// A wrap by the torsion model of Patrick Fenner, "Lattice Hinge Test Results", 2011,
// its numbers worked out by hand.
func TestWrap(t *testing.T) {
	s := sound(t, corpus(t, "wrap.fore"))
	near(t, s, "wrap.fold.links", 15, 0)
	near(t, s, "wrap.fold.bend", 14.32, 0.005)
	near(t, s, "wrap.fold.clearance", 0.558, 0.0005)
	near(t, s, "wrap.fold.width", 53.93, 0.005)
	near(t, s, "wrap.width", 220+53.93, 0.005)
	near(t, s, "wrap.fold.spine", 110, 1e-9)
}

// The unit of the file doesn't matter.
func TestWrapInInches(t *testing.T) {
	text := corpus(t, "wrap.fore")
	want := sound(t, text)
	same(t, "in inches", sound(t, `units in
let board = 3 / 25.4
panel wrap {
  thick = board
  width = 2 * 110 mm + fold.width; height = 16 cm
  lattice fold { spine = foredge; radius = 14 / 25.4; turn = 180 }
}`), want, 1e-6)
}

func board(lines string) string {
	return "panel wrap { thick = 3; width = 400; height = 120; lattice fold { " + lines + " } }"
}

// The hinge that Patrick Fenner works out in "Lattice Hinge Design: Minimum Bend
// Radius", 2012: 90°, 3 mm, a kerf of 0.2 mm need 23 links and bend to 44 mm. He gives
// no width there; 73.8 is by his formula of 2011.
func TestPublishedHinge(t *testing.T) {
	s := sound(t, "laser bench { kerf = 0.2 }\n"+board("turn = 90 deg"))
	near(t, s, "wrap.fold.links", 23, 0)
	near(t, s, "wrap.fold.clearance", 0.2, 1e-12)
	near(t, s, "wrap.fold.bend", 44, 0.1)
	near(t, s, "wrap.fold.bend", 43.93, 0.005)
	near(t, s, "wrap.fold.width", 73.8, 1e-9)
}

// The clearance needed at 22, 23 and 24 links of that hinge, worked out from the
// formula of 2011 beside this program; 22 need more than the kerf of 0.2.
func TestClearanceNeeded(t *testing.T) {
	for n, want := range map[int]float64{22: 0.20637, 23: 0.19773, 24: 0.18979} {
		s := sound(t, board(fmt.Sprintf("turn = 90 deg; links = %d", n)))
		near(t, s, "wrap.fold.clearance", want, 5e-6)
		// With the kerf known a slot is never narrower, and wider only if it must be.
		s = sound(t, "laser bench { kerf = 0.2 }\n"+board(fmt.Sprintf("turn = 90 deg; links = %d", n)))
		near(t, s, "wrap.fold.clearance", max(0.2, want), 5e-6)
	}
}

// What may be stated in place of the radius or beside it, and what follows.
func TestLatticeStated(t *testing.T) {
	for _, c := range []struct {
		lines string
		want  map[string]float64
	}{
		// The kerf's place taken by a stated clearance.
		{"turn = 90 deg; clearance = 0.2", map[string]float64{"links": 23, "clearance": 0.2}},
		// A radius beside it: the larger number of links counts.
		{"turn = 90 deg; clearance = 0.2; radius = 60", map[string]float64{"links": 32, "clearance": 0.2}},
		{"turn = 90 deg; clearance = 0.2; radius = 10", map[string]float64{"links": 23, "clearance": 0.2}},
		// More links than the radius asks for.
		{"turn = 180 deg; radius = 14; links = 20", map[string]float64{"links": 20, "bend": 60 / math.Pi}},
		// No link turns by more than 45°.
		{"turn = 180 deg; radius = 0", map[string]float64{"links": 4, "clearance": 3 * (math.Sqrt2 - 1)}},
		{"turn = 181 deg; clearance = 2", map[string]float64{"links": 5, "clearance": 2}},
		// A radius with a limit only is as small as that.
		{"turn = 180 deg; radius >= 14", map[string]float64{"links": 15, "radius": 14}},
		// Along the bend: 120 = rows * link + (rows - 1) * bridge + 2 * end.
		{"turn = 180 deg; radius = 14", map[string]float64{"rows": 8, "link": (120 - 9*3) / 8., "bridge": 3, "end": 3, "height": 120}},
		{"turn = 180 deg; radius = 14; rows = 9", map[string]float64{"rows": 9, "link": 10, "end": 3}},
		{"turn = 180 deg; radius = 14; bridge = 4", map[string]float64{"rows": 8, "link": (120 - 9*4) / 8., "bridge": 4, "end": 4}},
		{"turn = 180 deg; radius = 14; link = 12", map[string]float64{"rows": 7, "link": 12, "bridge": 3, "end": (120 - 7*12 - 6*3) / 2.}},
		{"turn = 180 deg; radius = 14; end = 7.5", map[string]float64{"rows": 8, "link": (105 - 7*3) / 8., "end": 7.5}},
		{"turn = 180 deg; radius = 14; height = 60", map[string]float64{"rows": 4, "head": 30, "tail": 30}},
		{"turn = 180 deg; radius = 14; head = 20", map[string]float64{"rows": 7, "tail": 0, "height": 100}},
		// 24 N/mm² allow no link shorter than 0.676125 * 2000 * 3 * 12° / 24 = 35.4 mm:
		// three rows instead of eight.
		{"turn = 180 deg; radius = 14; shear-modulus = 2000; allowed-shear = 24", map[string]float64{"rows": 3, "link": 36}},
	} {
		s := sound(t, board(c.lines))
		for name, want := range c.want {
			near(t, s, "wrap.fold."+name, want, 1e-6)
		}
		if t.Failed() {
			t.Fatalf("of %s", c.lines)
		}
	}
	// The stock's thickness and kerf, and its material's strength.
	s := sound(t, `material bright { shear-modulus = 2000; allowed-shear = 24 }
stock sheet { thick = 3; kerf = 0.2; material = bright }
laser bench { kerf = 0.1 }
panel wrap { width = 400; height = 120; lattice fold { turn = 90 deg } }`)
	near(t, s, "wrap.fold.links", 23, 0)
	near(t, s, "wrap.fold.rows", 8, 0) // a link of 11.6 is longer than the 11.5 that the stress asks
}

// A square of side t about a point, turned.
func square(x, y, t, turn float64) [4][2]float64 {
	sin, cos := math.Sincos(turn)
	var out [4][2]float64
	for i, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		u, v := c[0]*t/2, c[1]*t/2
		out[i] = [2]float64{x + u*cos - v*sin, y + u*sin + v*cos}
	}
	return out
}

// gap is how far two squares are apart along the best of their sides' normals:
// below 0 they overlap (the separating axis theorem).
func gap(a, b [4][2]float64) float64 {
	best := math.Inf(-1)
	for _, s := range [2][4][2]float64{a, b} {
		for i := range 4 {
			j := (i + 1) % 4
			n := [2]float64{s[j][1] - s[i][1], s[i][0] - s[j][0]}
			size := math.Hypot(n[0], n[1])
			loA, hiA, loB, hiB := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
			for k := range 4 {
				pa := (a[k][0]*n[0] + a[k][1]*n[1]) / size
				pb := (b[k][0]*n[0] + b[k][1]*n[1]) / size
				loA, hiA, loB, hiB = min(loA, pa), max(hiA, pa), min(loB, pb), max(hiB, pb)
			}
			best = max(best, loB-hiA, loA-hiB)
		}
	}
	return best
}

// contact bends two neighbouring links step by step, each turned the other way
// from the bridge between them and about its own axis, until they touch; it is
// found without the model's formula. Nothing touches up to 45° if it returns that.
func contact(t, clearance float64) float64 {
	touch := func(turn float64) bool {
		return gap(square(0, 0, t, turn), square(t+clearance, 0, t, -turn)) <= 0
	}
	const step, last = 0.02 * math.Pi / 180, math.Pi / 4
	for turn := step; turn < last; turn += step {
		if !touch(turn) {
			continue
		}
		low, high := turn-step, turn
		for range 60 {
			if mid := (low + high) / 2; touch(mid) {
				high = mid
			} else {
				low = mid
			}
		}
		return high
	}
	return last
}

// Bent to its turn, links of thickness t touch with their inner corners, and then
// n·t = radius × turn.
func TestLinksTouchAtTheTurn(t *testing.T) {
	for _, c := range []struct{ thick, radius, turn float64 }{{3, 14, 180}, {3, 44, 90}, {4, 25, 180}, {2, 8, 90}, {6, 60, 120}, {1.5, 12, 360}} {
		s := sound(t, fmt.Sprintf("panel wrap { thick = %v; width = 900; height = 120; lattice fold { radius = %v; turn = %v deg } }", c.thick, c.radius, c.turn))
		n, clearance, bend := number(t, s, "wrap.fold.links"), number(t, s, "wrap.fold.clearance"), number(t, s, "wrap.fold.bend")
		turn := n * contact(c.thick, clearance)
		if math.Abs(turn*180/math.Pi-c.turn) > 1e-6 {
			t.Errorf("links of %v touch after %v deg, not %v", c.thick, turn*180/math.Pi, c.turn)
		}
		if math.Abs(n*c.thick-bend*turn) > 1e-6 || bend < c.radius {
			t.Errorf("%v links of %v, bent by %v to a radius of %v", n, c.thick, turn, bend)
		}
		// The corners that touch are those on the inside, the links leaning inwards.
		left, right := square(0, 0, c.thick, turn/n), square(c.thick+clearance, 0, c.thick, -turn/n)
		if d := math.Hypot(left[1][0]-right[0][0], left[1][1]-right[0][1]); d > 1e-6 || left[1][1] >= 0 {
			t.Errorf("the inner corners are %v apart", d)
		}
	}
}

// A bent lattice as a whole: the axes of its links in a chain that turns by one
// share at each, every link twisted from the bridge on one side to the bridge on
// the other. Nowhere do neighbours overlap, and nothing comes nearer to the middle
// of the bend than the radius; only where a link turns by its most, 45°, does the
// model's arc of inner faces promise 4 % too much.
func TestBentLattice(t *testing.T) {
	for _, c := range []struct{ thick, radius, turn, kerf float64 }{{3, 14, 180, 0}, {3, 44, 90, 0.2}, {3, 20, 180, 0.2}, {4, 0, 90, 0.15}, {2, 30, 270, 0}, {6, 10, 180, 0.3}} {
		s := sound(t, fmt.Sprintf("laser bench { kerf = %v }\npanel wrap { thick = %v; width = 900; height = 120; lattice fold { radius = %v; turn = %v deg } }",
			c.kerf, c.thick, c.radius, c.turn))
		n, bend := int(number(t, s, "wrap.fold.links")), number(t, s, "wrap.fold.bend")
		step := c.thick + number(t, s, "wrap.fold.clearance")
		share := c.turn * math.Pi / 180 / float64(n)
		// Axes lie on a circle; link i stands at angle i * share about its middle.
		ring := step / 2 / math.Sin(share/2)
		at := func(i int, twist float64) [4][2]float64 {
			sin, cos := math.Sincos(float64(i) * share)
			return square(ring*sin, ring*cos, c.thick, -float64(i)*share+twist)
		}
		nearest := math.Inf(1)
		for along := -1.0; along <= 1; along += 0.05 {
			// From one bridge to the next a link turns from its left to its right
			// neighbour, the next link the other way.
			twist := along * share / 2
			for i := range n {
				a := at(i, twist*float64(1-2*(i%2)))
				if i+1 < n {
					if g := gap(a, at(i+1, -twist*float64(1-2*(i%2)))); g < -1e-9 {
						t.Errorf("%+v: links %d and %d overlap by %v", c, i, i+1, -g)
					}
				}
				for k := range 4 {
					p, q := a[k], a[(k+1)%4]
					for f := 0.0; f <= 1; f += 0.1 {
						nearest = min(nearest, math.Hypot(p[0]+f*(q[0]-p[0]), p[1]+f*(q[1]-p[1])))
					}
				}
			}
		}
		if share > 0.65 {
			nearest *= 1.04
		}
		if nearest < bend || bend < c.radius {
			t.Errorf("%+v: material comes within %v of the middle, stated are %v, asked %v", c, nearest, bend, c.radius)
		}
	}
}

// Random lattices: as few links as reach the radius, no link beyond 45°, slots no
// narrower than the kerf and opened only as far as the links need, the sums of
// width and height, and links that don't touch before the turn.
func TestRandomLattices(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 6))
	between := func(low, high float64) float64 { return math.Round((low+rng.Float64()*(high-low))*1e3) / 1e3 }
	for range 300 {
		thick, radius, turn, kerf, height := between(0.6, 10), between(0, 80), between(5, 360), between(0, 0.4), between(60, 400)
		text := fmt.Sprintf("laser bench { kerf = %v }\npanel wrap { thick = %v; width = 2000; height = %v; lattice fold { radius = %v; turn = %v deg } }",
			kerf, thick, height, radius, turn)
		s := sound(t, text)
		of := func(name string) float64 { return number(t, s, "wrap.fold."+name) }
		n, k, radians := of("links"), of("clearance"), turn*math.Pi/180
		if n != math.Trunc(n) || n*thick/radians < radius-1e-6 || turn/n > 45+1e-9 {
			t.Errorf("%s\n%v links are too few", text, n)
		}
		if fewer := n - 1; fewer > 0 && fewer*thick/radians >= radius+1e-6 && turn/fewer <= 45 {
			t.Errorf("%s\n%v links are more than it takes", text, n)
		}
		turns := contact(thick, k)
		if k < kerf-1e-9 || turns < radians/n-1e-9 {
			t.Errorf("%s\na clearance of %v lets a link turn by %v, not %v", text, k, turns, radians/n)
		}
		if k > kerf+1e-9 && math.Abs(turns-radians/n) > 1e-6 {
			t.Errorf("%s\nslots of %v are opened further than they must be", text, k)
		}
		rows := of("rows")
		if d := n*thick + k*(n+1) - of("width"); math.Abs(d) > 1e-6 {
			t.Errorf("%s\nthe width is %v off", text, d)
		}
		if d := rows*of("link") + (rows-1)*of("bridge") + 2*of("end") - height; math.Abs(d) > 1e-6 || of("height") != height {
			t.Errorf("%s\nthe height is %v off", text, d)
		}
		if l := of("link"); l > 4*thick+1e-6 || rows != math.Trunc(rows) {
			t.Errorf("%s\n%v rows of links of %v", text, rows, l)
		}
		if t.Failed() {
			return
		}
	}
}
