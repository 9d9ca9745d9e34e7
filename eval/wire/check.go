package wire

import (
	"math"

	"foredge/eval/opening"
)

// A Limit is what keeps a cover from being thicker.
type Limit uint8

const (
	Free    Limit = iota // nothing: used where the question has no answer
	Closing              // the ring can't close round the book
	Turning              // the strips of board and book don't pass each other
	Opening              // the hole is too small for the wire
)

// A Case is a cover on a wire.
type Case struct {
	Wire  Wire
	Book  Book
	Hole  opening.Opening
	Inset float64 // from the board's edge to the near side of its hole, mm
}

// An Answer says how a cover fares on its wire.
type Answer struct {
	Closes bool // the ring closes round the book, all edges inside
	Turns  bool // the cover turns right round, to lie back to back
	Passes bool // the wire goes through the hole on the whole way

	Stack float64 // thickness of the closed book, mm
	Chord float64 // width of the ring at its outermost faces; NaN if it has none

	Along, Across float64 // the least sizes of the hole; +Inf if there are none

	LargestBoard float64 // in place of this one, hole and inset as they are; NaN if there is none
	LargestTurns float64 // the thickest board for turning alone, whatever its hole; NaN if there is none
	LeastInside  float64 // the least inside diameter with which this cover turns

	// Margin is how much thicker each board could be, below 0 if it is too thick
	// already; -Inf if not even the thinnest board would do.
	Margin float64
	Limit  Limit // what limits the board's thickness

	Lead float64 // a coil's lead angle in degrees
	Step float64 // how far a coil moves the cover along the edge in a whole turn, mm
}

// Closes reports whether the ring closes round the book with all edges inside.
func (c Case) Closes() bool {
	return max(c.Inset, c.Book.Reach) <= c.Wire.Chord(c.Book.Stack())+slack
}

// Turns reports whether the cover turns right round, to lie back to back.
func (c Case) Turns() bool {
	return c.Inset+c.Book.Reach <= c.Wire.Chord(c.Book.Stack())+slack
}

// Passes reports whether the wire goes through the hole on the whole way.
func (c Case) Passes() bool { return c.Wire.Passes(c.Hole, c.Book) }

// LargestLeaves is the thickest block of leaves that the wire takes with these boards,
// holes and insets. NaN if none.
func (c Case) LargestLeaves() float64 { return c.Wire.LargestLeaves(c.Book, c.Inset, c.Hole) }

// Check answers whether a cover closes, turns right round and lets its wire
// through, and what the limits are.
func Check(c Case) Answer {
	w, b := c.Wire, c.Book
	a := Answer{Stack: b.Stack(), Chord: w.Chord(b.Stack()),
		LargestBoard: w.LargestBoard(b, c.Inset, c.Hole), LargestTurns: w.LargestTurning(b, c.Inset),
		Lead: w.Lead(), Step: w.Step(360)}
	a.Along, a.Across = w.Least(c.Hole, b)
	a.LeastInside = w.LeastInside(b, c.Inset)
	a.Closes, a.Turns, a.Passes = c.Closes(), c.Turns(), c.Passes()
	switch {
	case math.IsNaN(a.LargestTurns):
		a.Limit = Turning
		if math.IsNaN(positive(w.LargestStack(max(c.Inset, b.Reach), 0) - b.Leaves)) {
			a.Limit = Closing
		}
	case math.IsNaN(a.LargestBoard), a.LargestBoard < a.LargestTurns:
		a.Limit = Opening
	default:
		a.Limit = Turning
	}
	a.Margin = a.LargestBoard - b.Board
	if math.IsNaN(a.Margin) {
		a.Margin = math.Inf(-1)
	}
	return a
}
