package wire_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/opening"
	"foredge/eval/wire"
	"foredge/lang/foretest"
)

// The simulation turns a board about the ring step by step and looks for
// contact. It shares nothing with the formulas: rectangles are four points, the
// wire is the band between two circles, and sizes are found by halving.

type point struct{ x, y float64 }

// A block is a rectangle in the section, turned and shifted.
type block [4]point

// place puts the rectangle s0..s1 along the board and n0..n1 off the axis at
// the angle phi.
func place(s0, s1, n0, n1, phi float64) block {
	sin, cos := math.Sincos(phi)
	at := func(s, n float64) point { return point{s*cos - n*sin, s*sin + n*cos} }
	return block{at(s0, n0), at(s1, n0), at(s1, n1), at(s0, n1)}
}

// nearest and farthest are distances from the axis.
func (b block) nearest() float64 {
	least, inside := math.Inf(1), true
	for i, p := range b {
		q := b[(i+1)%4]
		ex, ey := q.x-p.x, q.y-p.y
		if ex*-p.y-ey*-p.x < 0 {
			inside = false
		}
		t := 0.0
		if l := ex*ex + ey*ey; l > 0 {
			t = min(1, max(0, (-p.x*ex-p.y*ey)/l))
		}
		least = min(least, math.Hypot(p.x+t*ex, p.y+t*ey))
	}
	if inside {
		return 0
	}
	return least
}

func (b block) farthest() float64 {
	most := 0.0
	for _, p := range b {
		most = max(most, math.Hypot(p.x, p.y))
	}
	return most
}

const touch = 1e-9

// inWire reports whether the rectangle has a point within the wire's band.
func (b block) inWire(w wire.Wire) bool {
	return b.nearest() < w.Inside/2+w.Thick-touch && b.farthest() > w.Inside/2+touch
}

// overlaps looks for a line that separates two rectangles.
func (b block) overlaps(c block) bool {
	for _, r := range []block{b, c} {
		for i := range 2 {
			ax, ay := r[i+1].x-r[i].x, r[i+1].y-r[i].y
			l := math.Hypot(ax, ay)
			if l == 0 {
				return false
			}
			lo1, hi1 := b.span(ax/l, ay/l)
			lo2, hi2 := c.span(ax/l, ay/l)
			if hi1 <= lo2+touch || hi2 <= lo1+touch {
				return false
			}
		}
	}
	return true
}

func (b block) span(ax, ay float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range b {
		v := p.x*ax + p.y*ay
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}

// pulled is how far out the side of a hole next to the edge can be, of a board
// between n0 and n1, before the wire stops it.
func pulled(w wire.Wire, n0, n1 float64) float64 {
	lo, hi := 0.0, w.Inside
	if place(lo, lo, n0, n1, 0).farthest() > w.Inside/2+touch {
		return math.NaN()
	}
	for range 40 {
		mid := (lo + hi) / 2
		if place(mid, mid, n0, n1, 0).farthest() <= w.Inside/2 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// A turn is a cover that is turned from lying on its book to lying back to
// back: half a turn about the axis of the ring, across to the other side, half
// a turn more, the book following by the cover's thickness.
type turn struct {
	w             wire.Wire
	board, leaves float64
	boards        int
	inset, reach  float64
	across        float64
}

// free turns the cover right round and reports whether it touches nothing.
func (t turn) free() bool {
	s := t.leaves + float64(t.boards)*t.board
	c := s/2 - t.board
	var out float64 // where the rest of the book lies, pulled out
	if c > -s/2 {
		out = pulled(t.w, -s/2, c)
	}
	atRest, far := pulled(t.w, c, s/2), 4*t.w.Inside
	pose := func(phi, n, down, p float64) bool {
		if math.IsNaN(p) || math.IsNaN(out) {
			return false
		}
		strip := place(p-t.inset, p, n, n+t.board, phi)
		body := place(p+t.across, far, n, n+t.board, phi)
		if strip.inWire(t.w) || body.inWire(t.w) {
			return false
		}
		if c <= -s/2 {
			return true // nothing else is on the wire
		}
		rest := place(out-t.reach, out, -s/2+down, c+down, 0)
		return !rest.inWire(t.w) && !strip.overlaps(rest)
	}
	const step = 3.0
	for deg := 0.0; deg <= 180; deg += step {
		phi := deg * math.Pi / 180
		// The way back on the other side is the same way mirrored, walked here as
		// it is: the board's inner face is now the outer one.
		if !pose(phi, c, 0, atRest) || !pose(phi+math.Pi, -s/2, t.board, atRest) {
			return false
		}
	}
	for i := 0; i <= 12; i++ {
		f := float64(i) / 12
		n := c + (-s/2-c)*f
		if !pose(math.Pi, n, t.board*f, pulled(t.w, n, n+t.board)) {
			return false
		}
	}
	return true
}

// largest and least find by halving where ok changes.
func largest(most float64, ok func(float64) bool) float64 {
	lo, hi := 0.0, most
	for hi-lo > 1e-3 {
		if mid := (lo + hi) / 2; ok(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

func least(most float64, ok func(float64) bool) float64 {
	return most - largest(most, func(x float64) bool { return ok(most - x) })
}

// For 2,000 random covers on rings, the largest inset, the least opening across
// and the thickest board that turn without contact, against the formulas.
func TestTurnsAsSimulated(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 7))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	const within = 0.01
	worst, limited := 0.0, map[int]int{}
	for i := range foretest.Sample(2000, 200) {
		w := wire.Wire{Inside: between(6, 40), Thick: between(0.6, 3)}
		b := wire.Book{Board: between(0.4, 6), Boards: 1 + r.IntN(2)}
		if b.Board > w.Inside*0.45 {
			b.Board = w.Inside * 0.45
		}
		alone := i%5 == 0
		if alone {
			b.Boards = 1
		} else {
			b.Leaves = between(0, 0.97) * (w.Inside - float64(b.Boards)*b.Board)
			b.Reach = between(0, 0.9) * w.Chord(b.Stack())
		}
		limited[b.Boards]++
		sim := turn{w: w, board: b.Board, leaves: b.Leaves, boards: b.Boards, reach: b.Reach, across: 2 * w.Inside}
		compare := func(what string, got, want float64) {
			t.Helper()
			if d := math.Abs(got - want); !(d <= within) {
				t.Fatalf("case %d, %+v in %+v: %s is %.5f by the formula, %.5f by the simulation", i, b, w, what, want, got)
			} else {
				worst = max(worst, d)
			}
		}
		inset := w.LargestInset(b)
		compare("the largest inset", largest(w.Inside, func(e float64) bool { sim.inset = e; return sim.free() }), inset)
		if alone {
			compare("the thickest board alone", largest(w.Inside, func(x float64) bool {
				s := sim
				s.inset, s.board = inset, x
				return s.free()
			}), w.LargestTurning(b, inset))
		}
		sim.inset = between(0, 1) * inset
		compare("the least opening across", least(2*w.Inside, func(x float64) bool { sim.across = x; return sim.free() }), w.Across(b))
		if i%4 == 1 {
			sim.across = 2 * w.Inside
			compare("the thickest board", largest(w.Inside, func(x float64) bool { sim.board = x; return sim.free() }),
				w.LargestTurning(b, sim.inset))
			h := opening.Opening{Along: 2 * w.Thick, Across: w.Thick + between(0.05, 4)}
			want := w.LargestBoard(b, sim.inset, h)
			sim.across = h.Across
			got := largest(w.Inside, func(x float64) bool { sim.board = x; return sim.free() })
			if math.IsNaN(want) {
				want = 0
			}
			compare("the thickest board that the hole lets turn", got, want)
		}
	}
	if fewest := foretest.Sample(400, 40); limited[1] < fewest || limited[2] < fewest {
		t.Errorf("the cases are lopsided: %v", limited)
	}
	t.Logf("largest difference %.6f mm", worst)
}

// plate is the distance from a point to a plate between the heights z0 and z1,
// beyond a hole with its middle at (x, y).
func plate(h opening.Opening, x, y, z0, z1 float64, p [3]float64) float64 {
	// side is the distance to the rim, square to the hole's axis; below 0 over the
	// plate.
	side := rounded(h, p[0]-x, p[1]-y)
	if h.Form == opening.Hex {
		side = hexagon(h.Across, p[0]-x, p[1]-y)
	}
	return math.Hypot(max(0, side), max(0, z0-p[2], p[2]-z1))
}

// rounded is the distance to the rim of a rectangle with round corners, slots and
// circles among them.
func rounded(h opening.Opening, x, y float64) float64 {
	a, b, q := h.Across/2, h.Along/2, h.Radius
	switch h.Form {
	case opening.Round:
		a, q = b, b
	case opening.Slot:
		q = min(a, b)
	default:
		q = min(q, a, b)
	}
	u, v := math.Abs(x), math.Abs(y)
	if u > a-q && v > b-q {
		return q - math.Hypot(u-(a-q), v-(b-q))
	}
	return min(a-u, b-v)
}

// hexagon is the distance to the nearest of six lines, half the size across the
// flats from the middle. Two of them run along y.
func hexagon(flats, x, y float64) float64 {
	least := math.Inf(1)
	for k := range 6 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 3)
		least = min(least, flats/2-x*cos-y*sin)
	}
	return least
}

// room finds by steps that get smaller where the hole must lie for a wire made
// of many balls to stay farthest from the plate, and how far that is.
func room(w wire.Wire, b wire.Book, h opening.Opening) float64 {
	const balls = 240
	m, r := w.Mean()/2, w.Thick/2
	z1 := b.Stack() / 2
	z0 := z1 - b.Board
	t0, t1 := math.Asin(max(-1, (z0-r)/m)), math.Asin(min(1, (z1+r)/m))
	var all [][3]float64
	for i := 0; i <= balls; i++ {
		t := t0 + (t1-t0)*float64(i)/balls
		p := [3]float64{m * math.Cos(t), w.Pitch * t / (2 * math.Pi), m * math.Sin(t)}
		half := max(0, w.Over-w.Thick) / 2
		all = append(all, [3]float64{p[0], p[1] - half, p[2]}, [3]float64{p[0], p[1] + half, p[2]})
	}
	at := func(x, y float64) float64 {
		d := math.Inf(1)
		for _, p := range all {
			d = min(d, plate(h, x, y, z0, z1, p))
		}
		return d - r
	}
	mid := (t0 + t1) / 2
	x, y := m*math.Cos(mid), w.Pitch*mid/(2*math.Pi)
	best := at(x, y)
	for step := 1.0; step > 2e-4; {
		moved := false
		for k := range 16 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 8)
			if d := at(x+step*cos, y+step*sin); d > best+1e-9 {
				x, y, best, moved = x+step*cos, y+step*sin, d, true
				break
			}
		}
		if !moved {
			step /= 2
		}
	}
	return best
}

// Coils and twin loops in holes of every form, in space: the least sizes by the
// formulas leave room for the wire's balls, and 0.01 mm less does not.
func TestCoilsAsSimulated(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 8))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	const within = 0.01
	forms := opening.Forms()
	for i := range foretest.Sample(120, 24) {
		w := wire.Wire{Inside: between(8, 30), Thick: between(0.8, 2.5)}
		if i%3 == 2 {
			w.Over = w.Thick * between(2, 3)
		} else {
			w.Pitch = between(3, 9)
		}
		b := wire.Book{Board: between(1, 4), Boards: 1}
		if i%2 == 0 {
			b.Boards, b.Leaves = 2, between(0, 0.5)*(w.Inside-2*b.Board)
		}
		along, across := w.Along(b), w.Across(b)
		h := opening.Opening{Form: forms[i/6%len(forms)], Along: along + between(0, 2), Radius: between(0, 1)}
		if h.Form == opening.Rect && i%2 == 0 {
			h.Radius = 0
		}
		la, lx := w.Least(h, b)
		if la < along-1e-9 || lx < across-1e-9 {
			t.Fatalf("case %d: least %g by %g is less than the wire's own %g by %g", i, la, lx, along, across)
		}
		_, _, _, tied := h.Form.Tied()
		h.Across = lx
		if tied {
			h.Along = la
		}
		if got := room(w, b, h); got < -within/2 {
			t.Errorf("case %d, %+v, %+v, %+v: the least hole is too small by %.4f", i, w, b, h, -got)
		}
		if !w.Passes(h, b) {
			t.Errorf("case %d: the least hole lets the wire not pass", i)
		}
		less := h.Wider(-within)
		// Where the wire is nearest in the middle of a side, half of what is taken
		// off shows; a rounded end shows less.
		if got := room(w, b, less); got > -1e-4 && !(!tied && h.Along > la+within) {
			t.Errorf("case %d, %+v, %+v, %+v: %.2f mm less than the least leaves room of %.5f", i, w, b, h, within, got)
		}
		if h.Form == opening.Rect && h.Radius == 0 {
			less = opening.Opening{Along: along - within, Across: across + 5}
			if got := room(w, b, less); got > -1e-4 {
				t.Errorf("case %d: %.2f mm less along than the least leaves room of %.5f", i, within, got)
			}
			less.Along = along
			if got := room(w, b, less); got < -within/2 {
				t.Errorf("case %d: the least along is too small by %.4f", i, -got)
			}
		}
	}
}
