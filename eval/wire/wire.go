package wire

import (
	"math"

	"foredge/eval/opening"
)

// A Wire is what binds: a ring, a loop or a coil, stiff and closed.
type Wire struct {
	Inside float64 // inside diameter D of the ring, mm
	Thick  float64 // thickness d of the wire, mm
	// Over is how far all the wires that share a hole reach along the edge: over
	// both wires of a twin loop. 0, or anything below Thick, means one wire.
	Over float64
	// Pitch is how far a coil climbs along the edge in one turn; 0 for a ring or
	// a loop.
	Pitch float64
}

// A Book is what the wire holds, seen from one of its boards.
type Book struct {
	Board  float64 // thickness T of the board that is asked about, mm
	Boards int     // how many such boards: 2 for a pair of covers, 1 for one
	Leaves float64 // thickness L of all that lies beside or between the boards, mm
	// Reach is the largest inset, edge to near side of the hole, of what else is
	// on the wire: the leaves and the other board; 0 if there is nothing else.
	Reach float64
}

// Alone is a board with nothing else on the wire: it lies squarely across it.
func Alone(thick float64) Book { return Book{Board: thick, Boards: 1} }

// Stack is the thickness S of the closed book.
func (b Book) Stack() float64 { return b.Leaves + float64(b.boards())*b.Board }

// Inner is the distance c of the board's inner face from the axis of the ring
// with the book closed; below 0 if the axis runs within the board.
func (b Book) Inner() float64 { return b.Stack()/2 - b.Board }

func (b Book) boards() int { return max(1, b.Boards) }

// Mean is the diameter of the wire's centre line.
func (w Wire) Mean() float64 { return w.Inside + w.Thick }

// Lead is a coil's lead angle in degrees, between the wire and a plane square
// to the edge: atan(P / (π (D + d))). 0 for a ring or a loop.
func (w Wire) Lead() float64 {
	return math.Atan2(w.Pitch, math.Pi*w.Mean()) * 180 / math.Pi
}

// Step is how far a coil moves a cover along the edge while it turns by the
// angle (degrees): the cover follows the helix.
func (w Wire) Step(angle float64) float64 { return w.Pitch * angle / 360 }

// Chord is the width of the ring at the outermost faces of a stack:
// sqrt(D² - S²). NaN if the stack is thicker than the ring is wide.
func (w Wire) Chord(stack float64) float64 {
	return math.Sqrt(w.Inside*w.Inside - stack*stack)
}

// Across is the least opening across the edge, for holes with straight sides
// or, but for coils and twin loops, of any form:
//
//	sqrt((R+d)² - max(0, c)²) - sqrt(R² - (S/2)²)
//
// A board that lies square across the wire needs least, so that what the closed
// book needs is enough on the whole way round. +Inf if the ring can't close
// round the book.
func (w Wire) Across(b Book) float64 {
	outer, c := w.Inside/2+w.Thick, max(0, b.Inner())
	need := math.Sqrt(outer*outer-c*c) - w.Chord(b.Stack())/2
	if math.IsNaN(need) {
		return math.Inf(1)
	}
	return need
}

// Along is the least opening along the edge: the wire's thickness, over both
// wires for a loop, and for a coil what it climbs within the board on top of
// that. +Inf if the ring can't close round the book.
func (w Wire) Along(b Book) float64 {
	if w.Pitch == 0 {
		return max(w.Thick, w.Over)
	}
	if math.IsNaN(w.Chord(b.Stack())) {
		return math.Inf(1)
	}
	return w.climb(b.Stack()/2) + w.climb(-b.Inner()) + max(0, w.Over-w.Thick)
}

// climb is how far along the edge a coil reaches on its way from the point that
// is level with the axis to a face at height a, wire included: the most of
//
//	kθ + sqrt(r² - max(0, m sin θ - a)²),   k = P/2π, m = (D+d)/2, r = d/2
//
// The most lies above the face, where the ball that sweeps the wire still dips
// through it: the root of k sqrt(r² - z²) = z m cos θ with z = m sin θ - a.
func (w Wire) climb(a float64) float64 {
	k, m, r := w.Pitch/(2*math.Pi), w.Mean()/2, w.Thick/2
	lo, hi := asin(a/m), asin((a+r)/m)
	at := func(t float64) (slope, y float64) {
		z := m*math.Sin(t) - a
		rest := math.Sqrt(max(0, r*r-z*z))
		return k*rest - z*m*math.Cos(t), k*t + rest
	}
	for range 60 {
		mid := (lo + hi) / 2
		if slope, _ := at(mid); slope > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	_, y := at(lo)
	return y
}

func asin(x float64) float64 { return math.Asin(min(1, max(-1, x))) }

// LargestInset is the largest distance from edge to hole with which the board
// turns right round: sqrt(D² - S²) - reach. A board alone may have the whole
// chord. NaN if there is none.
func (w Wire) LargestInset(b Book) float64 { return positive(w.Chord(b.Stack()) - b.Reach) }

// LargestPair is the largest inset if everything on the wire has the same:
// half the chord.
func (w Wire) LargestPair(b Book) float64 { return w.Chord(b.Stack()) / 2 }

// LargestStack is the thickest stack in which a board of the given inset turns
// right round beside things that reach as far as reach: sqrt(D² - (inset +
// reach)²). NaN if not even the thinnest turns.
func (w Wire) LargestStack(inset, reach float64) float64 { return w.Chord(inset + reach) }

// LargestLeaves is the thickest block of leaves with which b's boards turn right
// round and through whose hole the wire still goes: the closed book's outermost
// board lies the farther from the axis, and needs the larger hole, the thicker its
// leaves are. NaN if not even without leaves.
func (w Wire) LargestLeaves(b Book, inset float64, hole opening.Opening) float64 {
	turns := positive(w.LargestStack(inset, b.Reach) - float64(b.boards())*b.Board)
	if math.IsNaN(turns) {
		return turns
	}
	return largest(turns, func(leaves float64) bool { b.Leaves = leaves; return w.Passes(hole, b) })
}

// LeastInside is the least inside diameter with which a cover of the given inset
// turns right round: sqrt(S² + (inset + reach)²).
func (w Wire) LeastInside(b Book, inset float64) float64 {
	return math.Hypot(b.Stack(), inset+b.Reach)
}

// LargestBoard is the thickest board that turns right round in place of b's
// boards and through whose hole the wire still goes: the lesser of what turning
// and what the hole allows. NaN if not even the thinnest does.
func (w Wire) LargestBoard(b Book, inset float64, hole opening.Opening) float64 {
	turns := w.LargestTurning(b, inset)
	if math.IsNaN(turns) {
		return turns
	}
	return largest(turns, func(thick float64) bool { b.Board = thick; return w.Passes(hole, b) })
}

// LargestTurning is the thickest board that turns right round in place of b's
// boards, whatever its hole. NaN if not even the thinnest does.
func (w Wire) LargestTurning(b Book, inset float64) float64 {
	return positive(w.LargestStack(inset, b.Reach)-b.Leaves) / float64(b.boards())
}

// largest is the largest thickness up to most for which ok holds, which must hold
// below it and not above; NaN if it holds nowhere.
func largest(most float64, ok func(float64) bool) float64 {
	if ok(most) {
		return most
	}
	if !ok(0) {
		return math.NaN()
	}
	lo, hi := 0.0, most
	for range 50 {
		mid := (lo + hi) / 2
		if ok(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

func positive(x float64) float64 {
	if x >= 0 {
		return x
	}
	return math.NaN()
}
