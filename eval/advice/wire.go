package advice

import (
	"fmt"
	"math"

	"foredge/eval/opening"
	"foredge/eval/outcome"
	"foredge/eval/wire"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/unit"
)

// wires warns of covers that their wire doesn't suit. Panels of one size on one
// wire that silence the same are told once.
func (a *adviser) wires() {
	told, turns := map[string]bool{}, map[string]bool{}
	for _, b := range a.bound {
		// Six digits: a pair's sizes may differ by rounding.
		key := fmt.Sprintf("%s %.6v %v", b.Binding, b.Case, outcome.Quiet(a.Solution, b.On))
		if b.NoBoard() && !told[key] {
			told[key] = true
			a.barePassing(b)
		}
		turning, known := turns[key]
		if !known {
			turning = b.Missing == "" && b.Case.Closes() && b.Case.Turns()
			turns[key] = turning
		}
		if turning {
			key += fmt.Sprintf(" %v %.6v", b.Holes >= leastRow, b.Pitch) // what binders ask besides
		}
		if b.Missing != "" || told[key] {
			continue
		}
		told[key] = true
		if turning {
			a.trades(b)
		}
		closes, passes := b.Case.Closes(), b.Case.Passes()
		if turning && passes {
			continue
		}
		answer := wire.Check(b.Case) // takes long, and is seldom needed
		quiet := outcome.Quiet(a.Solution, b.On)
		switch {
		case !closes && !quiet.Has("wire-close"):
			a.closing(b, answer)
		case closes && !turning && !quiet.Has("wire-turn"):
			a.turning(b, answer)
		}
		switch {
		case !closes: // what a larger ring lets through isn't told beside
			a.barePassing(b)
		case !passes && !quiet.Has("wire-tight"):
			a.passing(b, answer, "through "+exactly(b, b.Case.Book.Board)+" of board")
		}
	}
}

// atMost and atLeast write a length rounded to the safe side.
func atMost(b outcome.BoundRow, mm float64) string { return rounded(b, mm, math.Floor, 1e-6) }

func atLeast(b outcome.BoundRow, mm float64) string { return rounded(b, mm, math.Ceil, -1e-6) }

func rounded(b outcome.BoundRow, mm float64, to func(float64) float64, by float64) string {
	step := 0.01
	if b.Unit.Imperial() {
		step = 0.001 * unit.Inch.Size
	}
	return unit.FormatLength(to(mm/step+by)*step, b.Unit)
}

func exactly(b outcome.BoundRow, mm float64) string { return unit.FormatLength(mm, b.Unit) }

// book says how thick the closed book is, and what it is made of.
func book(b outcome.BoundRow, a wire.Answer) string {
	k := b.Case.Book
	boards := "one board"
	if k.Boards > 1 {
		boards = "two boards"
	}
	boards += " of " + exactly(b, k.Board)
	if b.LeavesKnown {
		boards = exactly(b, k.Leaves) + " of leaves and " + boards
	} else {
		boards += ", leaves not counted"
	}
	return fmt.Sprintf("%s thick (%s)", exactly(b, a.Stack), boards)
}

func (a *adviser) closing(b outcome.BoundRow, answer wire.Answer) {
	d := a.diags.Warnf("wire-close", b.At, "%s can't close round this book: the ring is %s inside, the closed book is %s, and its edges reach %s in from the wire",
		b.Binding, exactly(b, b.Case.Wire.Inside), book(b, answer), exactly(b, math.Max(b.Case.Inset, b.Case.Book.Reach)))
	d.Note(b.RingAt, "%s is declared here", b.Binding)
	remedy(b, d, answer)
}

func (a *adviser) turning(b outcome.BoundRow, answer wire.Answer) {
	d := a.diags.Warnf("wire-turn", b.At, "%s can't turn right round on %s: half way, the %s from its edge to the holes must pass what else is on the ring, which is %s inside",
		b.Panel, b.Binding, exactly(b, b.Case.Inset), exactly(b, b.Case.Wire.Inside))
	need := "and the board's edge needs " + exactly(b, b.Case.Inset)
	if k := b.Case.Book; k.Reach > 0 {
		need = fmt.Sprintf("and its edge and theirs need %s + %s", exactly(b, b.Case.Inset), exactly(b, k.Reach))
	}
	d.Note(b.RingAt, "the closed book is %s; it leaves %s across the ring, %s", book(b, answer), exactly(b, answer.Chord), need)
	remedy(b, d, answer)
}

// What is less is no advice: nobody makes such boards, or holes that near to the
// edge (common practice, no source).
const leastBoard, leastInset = 0.2, 1.0

// remedy says what would let a cover turn.
func remedy(b outcome.BoundRow, d *diag.Diagnostic, answer wire.Answer) {
	ring := "a ring of at least " + atLeast(b, answer.LeastInside) + " inside"
	if answer.LargestTurns > leastBoard {
		ring += fmt.Sprintf(", or boards of at most %s", atMost(b, answer.LargestTurns))
	}
	if inset := b.LargestInset(); inset > leastInset {
		ring += fmt.Sprintf(", or holes at most %s from the edge", atMost(b, inset))
		if b.Covers {
			ring += " (an over-spine below 0 sets the board back)"
		}
	}
	d.WithHelp("it takes %s%s%s", ring, asBinders(b, answer), codes.Silence(d.Code, "panel"))
}

// barePassing warns of holes that are too small for the wire whatever the board, where nothing
// says how thick that is or the ring doesn't close round the book.
func (a *adviser) barePassing(b outcome.BoundRow) {
	b.Case.Book.Board, b.Case.Book.Leaves, b.Case.Book.Boards = nearly, 0, 1
	if b.Case.Passes() || outcome.Quiet(a.Solution, b.On).Has("wire-tight") {
		return
	}
	a.passing(b, wire.Check(b.Case), "through the thinnest board")
}

// passing warns of holes that are too small for the wire through a board.
func (a *adviser) passing(b outcome.BoundRow, answer wire.Answer, through string) {
	hole, w := b.Case.Hole, b.Case.Wire
	is := fmt.Sprintf("%s along and %s across", exactly(b, hole.Along), exactly(b, hole.Across))
	need := fmt.Sprintf("%s along and %s across", atLeast(b, math.Max(answer.Along, 0)), atLeast(b, answer.Across))
	if adjective, measure, ok := hole.Form.Single(); ok {
		least := opening.Opening{Form: hole.Form, Along: answer.Along, Across: answer.Across}
		is, need = adjective+", "+exactly(b, hole.Stated())+" "+measure, atLeast(b, least.Stated())+" "+measure
	}
	what := exactly(b, w.Thick) + " of wire"
	switch {
	case w.Pitch > 0:
		what += fmt.Sprintf(", which climbs at %s degrees,", unit.FormatNumber(answer.Lead, 1))
	case w.Over > w.Thick:
		what = exactly(b, w.Over) + " of paired wires, each " + exactly(b, w.Thick) + " thick,"
	}
	d := a.diags.Warnf("wire-tight", b.HoleAt, "the holes of %s are too small for %s: they are %s, and %s %s needs more",
		b.Name, b.Binding, is, what, through)
	d.Note(b.RingAt, "%s is declared here", b.Binding)
	silence := codes.Silence(d.Code, "panel")
	if math.IsInf(answer.Across, 1) {
		d.WithHelp("no hole of this form will do: take a larger ring or thinner boards%s", silence)
		return
	}
	help := "make them at least " + need + ", with the play that you want on top"
	if answer.LargestBoard > leastBoard {
		help += fmt.Sprintf("; these holes let the wire turn in boards of at most %s", atMost(b, answer.LargestBoard))
	}
	d.WithHelp("%s%s", help, silence)
}
